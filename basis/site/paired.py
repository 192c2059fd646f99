"""Words of a drawing in both unit systems within one text: what differs stands between signs that no text of a project holds, so that words may be joined,
measured and broken before the drawing tells the two apart. A page shows the system that its reader chose.
"""
from __future__ import annotations

import re

FIRST, THEN, END = "\ue000", "\ue001", "\ue002"
SI, US = "si", "us"
PAIR = re.compile(f"{FIRST}([^{END}]*){THEN}([^{END}]*){END}")


def paired(si: str, us: str) -> str:
    """A text in SI and in US customary units; plain where they agree."""
    return si if si == us else f"{FIRST}{si}{THEN}{us}{END}"


def told(value, number=None, unit: bool = True) -> str:
    """A plain value, or one number of a value, as a drawing writes it."""
    return paired(*(value.shown(value.number if number is None else number, system, unit) for system in (SI, US)))


def unit_of(value) -> str:
    """The unit of a value as a drawing writes it."""
    return paired(value.unit_text(SI), value.unit_text(US))


def sides(text: str) -> tuple[str, ...]:
    """The text in each system; once where they agree."""
    return (PAIR.sub(r"\1", text), PAIR.sub(r"\2", text)) if FIRST in text else (text,)


def longest(text: str) -> int:
    """Characters of the longer side."""
    return max(map(len, sides(text)))


def as_spans(svg: str) -> str:
    """Each pair of a drawing as two spans, of which the style sheet shows one."""
    return PAIR.sub(lambda found: "".join(f'<tspan class="{system}">{words}</tspan>' for system, words in zip((SI, US), found.groups()) if words), svg)
