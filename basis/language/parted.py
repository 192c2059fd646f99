"""Rows of mathematics that are wider than their column: how wide MathML is, and which part of a formula is written in a row of its own.

No browser breaks a line within a fraction or the brackets of a function. What is too wide there gives its place to a word, such as "numerator".
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable
from xml.etree import ElementTree

LINE, COLUMN = 28, 100  # characters that the line of a phone takes, and the column on a desk
PART = 50  # of a part, more than which may give its place to a word
SMALL = 0.7  # of the size of letters, what stands above or below
SPACE = 1.2  # round a sign
NUMBER = 6  # of a number that is not longer
_TAGS = re.compile("<[^>]*>")
_PLACES = {(ast.Div, "left"): "numerator", (ast.Div, "right"): "denominator", (ast.Pow, "left"): "base", (ast.Pow, "right"): "exponent"}


def fits(mathml: str) -> bool:
    """Whether MathML is no wider than the line of a phone. Only where terms stand over names is it measured: most is taken for as wide as all its signs."""
    return len(mathml) <= LINE or len(_TAGS.sub("", mathml)) <= LINE or "<munder>" in mathml and width(mathml) <= LINE


def is_wide(mathml: str) -> bool:
    """Whether MathML is wider than its column. Most is so short that it need not be measured."""
    at_most = len(_TAGS.sub("", mathml)) + SPACE * mathml.count("<mo") + NUMBER * mathml.count("<mn")
    return at_most > COLUMN and width(mathml) > COLUMN


def width(mathml: str) -> float:
    """How wide MathML is, in characters; usual numbers are taken for equally long, so that rows which differ in their numbers have the same parts."""
    return _width(ElementTree.fromstring(f"<math>{mathml}</math>"))


def _width(node: ElementTree.Element, fractions: int = 0) -> float:
    """`fractions`: how many it stands in; from the second on they are set smaller."""
    inner, text = [_width(child, fractions + (node.tag == "mfrac")) for child in node], node.text or ""
    match node.tag:
        case "mfrac":
            return max(inner) * (SMALL if fractions else 1)
        case "munder":
            return max(inner[0], SMALL * inner[1])
        case "msub" | "msup":
            return inner[0] + SMALL * inner[1]
        case "mtable":
            return sum(max(column) for column in zip(*[[_width(cell, fractions) for cell in row] for row in node]))
        case "mn":
            return max(NUMBER, len(text))
        case "mo" if text.strip() and text not in "()|{":
            return len(text) + SPACE
    return sum(inner) + len(text)


def narrowed(node: ast.expr, written: str, write: Callable[[ast.expr], str], falls_apart: Callable[[ast.expr], bool],
             parts: list[tuple[str, ast.expr]]) -> tuple[ast.expr, str]:
    """A formula, and as MathML, with words for the parts that make it wider than a column. `parts` gets each word with what it stands for."""
    while is_wide(written) and (found := _widest(node, lambda part: width(write(part)), falls_apart)):
        part, place = found
        word = f"{place} {len(parts) + 1}" if place in dict(parts) else place
        parts.append((word, part))
        node = _with_word(node, part, word)
        written = write(node)
    return node, written


def _widest(node: ast.expr, measure: Callable[[ast.expr], float], falls_apart: Callable[[ast.expr], bool]) -> tuple[ast.expr, str] | None:
    """The widest part within the widest part, down to what may be broken, and the word for its place; nothing where all parts are short."""
    found = None
    while True:
        wide, place, part = max(((measure(part), place, part) for place, part in _inside(node)), key=lambda one: one[0], default=(0, "", None))
        if wide <= PART:
            return found
        found, node = (part, place), part
        if falls_apart(part):
            return found


def _inside(node: ast.expr) -> list[tuple[str, ast.expr]]:
    """The expressions right below a node, with what their places are called."""
    match node:
        case ast.Call(func=ast.Name(id="lookup"), args=[_, _, key]):
            return [("argument", key)]
        case ast.Call(args=args):
            return [("argument", part) for part in args if not isinstance(part, ast.Constant)]
        case ast.BinOp(op=op):
            return [(_PLACES.get((type(op), side), "part"), getattr(node, side)) for side in ("left", "right")]
        case ast.IfExp(body=body, orelse=ast.IfExp() as other):
            return [("case", body), *_inside(other)]
        case ast.IfExp(body=body, orelse=other):
            return [("case", body), ("case", other)]
    return [("part", part) for part in ast.iter_child_nodes(node) if isinstance(part, ast.expr)]


def _with_word(node, part: ast.expr, word: str):
    """The same formula with a word in place of one of its parts."""
    if node is part:
        return ast.Constant(word)
    if isinstance(node, list):
        return [_with_word(one, part, word) for one in node]
    return type(node)(**{name: _with_word(one, part, word) for name, one in ast.iter_fields(node)}) if isinstance(node, ast.expr) else node
