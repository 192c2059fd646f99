"""Lines of YAML as a person would write them: texts quoted only where they must be, comments and long values folded to a width."""

from __future__ import annotations

import json
import re
import textwrap

WIDTH = 110
UNBROKEN = "\u00a0"  # a space at which a comment is not folded
_PLAIN = re.compile(r"[^\s!&*\-?|>%@`\"'#{}\[\],:][^#{}\[\],]*|-[0-9][^#{}\[\],]*")
_COMMENTED = re.compile(r"^( *)#(?=[^\s#]|  )")


def scalar(text: str) -> str:
    """A text as it stands in YAML, plain or in quotes; a list of numbers, or what is in quotes, as it is."""
    if text[:1] + text[-1:] in ("[]", '""'):
        return text
    return text if _PLAIN.fullmatch(text) and ": " not in text and not text.endswith(":") else json.dumps(text, ensure_ascii=False)


def flow(pairs: dict[str, str]) -> str:
    """A mapping on one line."""
    return "{" + ", ".join(f"{key}: {scalar(text)}" for key, text in pairs.items()) + "}"


def key_lines(key: str, text: str | dict, indent: str = "") -> list[str]:
    """A key with its text, or with a mapping of texts; folded where it would be too wide."""
    line = f"{indent}{key}: {flow(text) if isinstance(text, dict) else scalar(text)}"
    if len(line) < WIDTH:
        return [line]
    if isinstance(text, dict):
        return [f"{indent}{key}:", *(line for name, part in text.items() for line in key_lines(name, part, f"{indent}  "))]
    if text.startswith("["):
        return textwrap.wrap(line, WIDTH - 1, subsequent_indent=" " * (len(indent) + len(key) + 3))
    return [f"{indent}{key}: >-", *textwrap.wrap(text, WIDTH - 1, initial_indent=f"{indent}  ", subsequent_indent=f"{indent}  ", break_on_hyphens=False)]


def row(pairs: dict[str, str], indent: str = "  ") -> list[str]:
    """An entry of a list in braces, over as many lines as it needs."""
    parts = [f"{key}: {scalar(text)}" for key, text in pairs.items()]
    lines, line = [], f"{indent}- {{"
    for place, part in enumerate(parts):
        part += ", " if place < len(parts) - 1 else "}"
        if len(line) + len(part) >= WIDTH and line.strip() not in ("", "- {"):
            lines.append(line.rstrip())
            line = f"{indent}   "
        line += part
    return [*lines, line]


def prose(text: str, indent: str = "") -> list[str]:
    """A comment."""
    lines = textwrap.wrap(text, WIDTH - 1, initial_indent=f"{indent}# ", subsequent_indent=f"{indent}# ", break_on_hyphens=False, break_long_words=False)
    return [line.replace(UNBROKEN, " ") for line in lines]


def remarked(lines: list[str], remark: str, indent: str = "") -> list[str]:
    """The lines of a key with a remark: behind it, or above where there is no room."""
    if not remark:
        return lines
    if len(lines) == 1 and len(lines[0]) + len(remark) + 4 < WIDTH:
        return [f"{lines[0]}  # {remark}"]
    return [*prose(f"({remark[:1].upper()}{remark[1:]}.)", indent), *lines]


def commented(lines: list[str]) -> list[str]:
    """Lines that are not in force until the # is taken away: it stands in the first column, close to the text; prose stays as it is."""
    return [f"#{line}" if line else "#" for line in lines]


def in_force(text: str) -> str:
    """The text with the # of every commented line taken away, once."""
    return "\n".join(_COMMENTED.sub(r"\1", line) for line in text.split("\n"))
