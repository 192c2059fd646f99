"""One YAML file as nodes that know their line, or faults. Refuses what no project needs: aliases, tags, deep nesting.

Values stay text: what a scalar means is decided by the Term it belongs to, so `no`, `12:30` and `010` keep their letters.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import yaml

from basis.language.faults import Fault
from basis.reading.folder import reason

MAX_BYTES = 2_000_000
MAX_DEPTH = 12
SPOKEN = {"scalar": "one value stands", "sequence": "a list stands", "mapping": "keys with values stand"}
EXPECTED = {"scalar": "one value", "sequence": "a list, each entry beginning with `-`", "mapping": "keys with values, such as `id: north_1`"}
_ODD = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff]")  # what an escape in quotes can smuggle into a text
_LONELY = re.compile(r"\s*(?:- )?([A-Za-z_]\w*)(?::(?=\S)|\s+[^\s:#][^:#]*$)")  # a word at the beginning of a line that should have been a key
_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True)
class Node:
    """A scalar, mapping or sequence with its place. `data` is text, pairs of (key, Node), or Nodes."""

    kind: str
    data: object
    file: str
    line: int

    def mapping(self, faults: list) -> tuple:
        """Pairs of (key, Node); a fault and nothing when it is no mapping."""
        return self.data if self.is_a("mapping", faults) else ()

    def sequence(self, faults: list) -> tuple:
        """Nodes of a list; a fault and nothing when it is no list."""
        return self.data if self.is_a("sequence", faults) else ()

    def text(self, faults: list) -> str | None:
        """The scalar's text; a fault and None when it is no scalar."""
        return self.data if self.is_a("scalar", faults) else None

    def fault(self, faults: list, what: str, expected: str = "", nearest: str = "", help: str = "") -> None:
        """Add a fault at its line."""
        faults.append(Fault(self.file, self.line, what, expected, nearest, help))

    def is_a(self, kind: str, faults: list) -> bool:
        """Whether it is a scalar, a sequence or a mapping; a fault when not."""
        if self.kind != kind:
            self.fault(faults, f"{SPOKEN[self.kind]} here", EXPECTED[kind])
        return self.kind == kind


def read_nodes(path: Path, shown: str, faults: list) -> Node | None:
    """The top mapping of the file, or None after adding its faults."""
    text = _text_of(path, shown, faults)
    if text is None:
        return None
    root, found = _nodes_of(text, shown)
    faults += found
    return root


@lru_cache(maxsize=256)  # while somebody edits, one file of a project changes and the others do not
def _nodes_of(text: str, shown: str) -> tuple[Node | None, tuple[Fault, ...]]:
    """The top mapping of a text, or None, and its faults."""
    faults: list[Fault] = []
    try:
        root = None if _refused(text, shown, faults) else _top(yaml.compose(text, Loader=_Loader), text, shown, faults)
        return root, tuple(faults)
    except yaml.MarkedYAMLError as trouble:
        return None, (*faults, _syntax_fault(trouble, text, shown))
    except yaml.reader.ReaderError as trouble:
        line = text.count("\n", 0, trouble.position) + 1
        return None, (*faults, Fault(shown, line, f"a character that YAML does not allow (number {trouble.character})", "plain text"))


def _top(root, text: str, shown: str, faults: list) -> Node | None:
    if root is None and text.strip():  # comments only, as `basis new` writes it where every key is optional: it gives nothing yet
        return Node("mapping", (), shown, 1)
    if root is None:
        faults.append(Fault(shown, 1, "the file is empty", "keys with values, or a comment that says why there are none"))
    elif not isinstance(root, yaml.MappingNode):
        faults.append(Fault(shown, root.start_mark.line + 1, "the file does not hold keys with values", "lines such as `altitude: 60 m`"))
    else:
        return _node(root, shown, faults)
    return None


def _text_of(path: Path, shown: str, faults: list) -> str | None:
    try:
        size, raw = path.stat().st_size, b""
        if size > MAX_BYTES:
            faults.append(Fault(shown, 0, f"is {size / 1e6:.1f} MB", f"at most {MAX_BYTES / 1e6:.0f} MB of project text"))
            return None
        raw = path.read_bytes()
        return raw.decode("utf-8-sig")
    except OSError as refused:
        faults.append(Fault(shown, 0, f"cannot be read: {reason(refused)}", "a file that you may read"))
        return None
    except UnicodeDecodeError as trouble:
        faults.append(Fault(shown, raw.count(b"\n", 0, trouble.start) + 1, "is not UTF-8 text", "the file saved as UTF-8"))
        return None


def _refused(text: str, shown: str, faults: list) -> bool:
    """Whether the stream of events holds something that is not accepted; found without building anything."""
    depth = documents = 0
    for event in yaml.parse(text, Loader=_Loader):
        line = event.start_mark.line + 1
        depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
        documents += isinstance(event, yaml.DocumentStartEvent)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            faults.append(Fault(shown, line, f"anchor or alias '{event.anchor}'", "the values written out"))
            return True
        if getattr(event, "tag", None) not in (None, "!"):
            faults.append(Fault(shown, line, f"tag '{event.tag}'", "plain text, numbers with units, lists and keys"))
            return True
        if depth > MAX_DEPTH or documents > 1:
            what = f"nesting deeper than {MAX_DEPTH}" if depth > MAX_DEPTH else "a second document"
            faults.append(Fault(shown, line, what, "keys and lists of items"))
            return True
    return False


def _syntax_fault(trouble: yaml.MarkedYAMLError, text: str, shown: str) -> Fault:
    lines = text.splitlines()
    marks = [mark.line + 1 for mark in (trouble.problem_mark, trouble.context_mark) if mark]
    line = next((line for line in marks if line <= len(lines)), 0)  # at the end of the text, where it began says more
    if 0 < line <= len(lines) and "\t" in lines[line - 1][: len(lines[line - 1]) - len(lines[line - 1].lstrip())]:
        return Fault(shown, line, "a tab in the indentation", "spaces")
    if any(word in (trouble.context or "") for word in ("flow", "quoted")) and trouble.context_mark.line < trouble.problem_mark.line:
        until = f"line {line} does not fit in" if line == trouble.problem_mark.line + 1 else "the file ends first"
        return Fault(shown, trouble.context_mark.line + 1, f"a bracket or a quote that begins here is not closed: {until}", "its other half")
    for place in (line, _before(lines, line)):
        if place and (key := _LONELY.match(lines[place - 1])):
            return Fault(shown, place, f"no colon with a space behind it after '{key[1]}'", f"`{key[1]}: ` and its value")
    return Fault(shown, line, f"YAML cannot be read: {trouble.problem}",
                 "`key: value` lines, keys that belong together under one another; quote a text that holds `: ` or `#`")


def _before(lines: list[str], line: int) -> int:
    """The last line above that is neither blank nor a comment; nought where there is none."""
    return next((place for place in range(line - 1, 0, -1) if lines[place - 1].strip() and not lines[place - 1].lstrip().startswith("#")), 0)


def _node(node, shown: str, faults: list, line: int = 0) -> Node:
    """The node with the line of its key, so that a fault points at the word that a person searches for."""
    line = line or node.start_mark.line + 1
    if isinstance(node, yaml.ScalarNode):
        if odd := _ODD.search(node.value):
            faults.append(Fault(shown, line, f"a text holds the character number {ord(odd.group())}", "letters, digits and signs that can be printed"))
        return Node("scalar", _ODD.sub("?", node.value) if odd else node.value, shown, line)
    if isinstance(node, yaml.SequenceNode):
        return Node("sequence", tuple(_node(entry, shown, faults) for entry in node.value), shown, line)
    pairs: dict[str, Node] = {}
    for key_node, value in node.value:
        key_line = key_node.start_mark.line + 1
        if not isinstance(key_node, yaml.ScalarNode):
            faults.append(Fault(shown, key_line, "a list or keys stand where a key is expected", "a word before the colon"))
            continue
        key = _ODD.sub("?", key_node.value)
        if key in pairs:
            faults.append(Fault(shown, key_line, f"key '{key}' stands twice", "one place", f"line {pairs[key].line}"))
            continue
        pairs[key] = _node(value, shown, faults, key_line)
    return Node("mapping", tuple(pairs.items()), shown, line)
