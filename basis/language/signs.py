"""Which parts of a symbol are slanted and which upright: the same in tables, in prose and in formulas.

After ISO 80000-1 and -2 (from memory): slanted are signs of quantities and variables, in a subscript too; upright are words, abbreviations, numbers, the
difference Δ and the sum Σ before a sign, and primes. Characteristic numbers of two letters, such as Re, are slanted (ISO 80000-11, from memory).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from html import escape
from string import ascii_lowercase, ascii_uppercase

Part = tuple[str, bool]  # a stretch of a symbol, and whether it is slanted

_MATH_ITALIC = {ord(letter): chr(0x1D434 + place) for place, letter in enumerate(ascii_uppercase + ascii_lowercase)} | {ord("h"): "ℎ"}
_PARTS = re.compile(r"[ΔΣ](?=\w)|[A-Z][a-z]$|[A-Za-z]{2,}|[^\W\d_][\u0300-\u036f]*|(?:[\W\d](?![\u0300-\u036f]))+|.")
_SIGN = re.compile(r"[A-Z][a-z]$|[^\W\d_][\u0300-\u036f]*$")
_GREEK = re.compile("[Α-ΓΕ-ΡΤ-Ωα-ω]$")  # of a subscript; Δ and Σ stand for a difference and a sum there
# Quantities that name another one by a Latin letter in its subscript: flows by volume and mass (ISO 80000-4), heat capacities at constant pressure and
# volume (ISO 80000-5), levels of power and pressure (ISO 80000-8); from memory.
_NAMED_BY_QUANTITY = frozenset(("q_V", "q_m", "c_p", "c_V", "L_W", "L_p"))


@cache  # as many as there are symbols
def parts(symbol: str) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """The stem and the subscript of a symbol such as "ΔU_n,max" in parts."""
    stem, _, below = symbol.partition("_")
    return _joined((part, bool(_SIGN.match(part)) and (part == stem or part not in "ΔΣ")) for part in _PARTS.findall(stem)), _below(stem, below)


def _below(stem: str, below: str) -> tuple[Part, ...]:
    first, *rest = re.split("(,)", below)
    start = (first, bool(_GREEK.match(first)) or f"{stem}_{first}" in _NAMED_BY_QUANTITY)
    return _joined((start, *((part, bool(_GREEK.match(part))) for part in rest)))


def _joined(found: Iterable[Part]) -> tuple[Part, ...]:
    """Neighbours that are upright as one part."""
    kept: list[Part] = []
    for text, slanted in found:
        if kept and not slanted and not kept[-1][1]:
            text = kept.pop()[0] + text
        kept += [(text, slanted)] if text else []
    return tuple(kept)


@cache
def symbol_written(symbol: str) -> str:
    """A symbol as MathML."""
    stem, below = map(_in_parts, parts(symbol))
    return f"<msub>{stem}{below}</msub>" if below else stem


def _in_parts(found: tuple[Part, ...]) -> str:
    written = "".join([_slanted(part) if slanted else f"<mtext>{escape(part)}</mtext>" for part, slanted in found])
    return written if len(found) < 2 else f"<mrow>{written}</mrow>"


def _slanted(part: str) -> str:
    """A single letter slants by itself, two of them do not."""
    return f"<mi>{escape(part if len(part) == 1 else part.translate(_MATH_ITALIC))}</mi>"
