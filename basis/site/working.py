"""The working of one value: formula, the formula with numbers put in, result; as MathML and as plain text."""
from __future__ import annotations

import re
from functools import lru_cache

from markupsafe import Markup, escape

from basis.chapters import catalogue
from basis.language import notation, user_cache
from basis.language.formula import Formula
from basis.language.parted import fits
from basis.site.addresses import Addresses
from basis.site.html import EMPTY, made, safe, scroll_box, tag
from basis.site.quantities import both_amounts, moved, symbol
from basis.solving.value import Value
from basis.solving.working import at_element, numbers_put_in, said, why_constant

SPACING = "<mspace width='0.2em'/><mtext>"
STACKED = re.compile("<m(?:frac|sup|sqrt|under><mo|table)")  # what is not said in the order in which it is written
ROW_OF_ONE = re.compile(r"<mrow>(<(m[ino]|mtext)>[^<]*</\2>|<msub><mi>[^<]*</mi><mtext>[^<]*</mtext></msub>)</mrow>")
MATHS = re.compile("<math>.*?</math>")


def of_value(addresses: Addresses, value: Value, first: bool = True, row: tuple | None = None) -> Markup:
    """Symbol = formula, = numbers put in, = result; in a box that scrolls when a stretch of it may be wider than a phone.

    Of the results of one procedure only the `first` repeats its equation. `row`: of a value over axes the element that is shown, its row, and that in words.
    """
    lines = _formula_lines(addresses, value, row) if value.origin == "formula" else _equation_line(value) if value.origin == "procedure" and first else []
    if not value.axes:
        left = EMPTY if lines else symbol(value.term.symbol)
        lines.append(tag("div", left, " =\u00a0", tag("strong", both_amounts(addresses, value)), moved(addresses, value)))
    if not lines:
        return EMPTY
    if all(fits(stretch) for line in lines for stretch in MATHS.findall(line)):
        return tag("div", *lines, class_="working")
    return scroll_box(made("".join(lines)), "Working", "working")


def _formula_lines(addresses: Addresses, value: Value, row: tuple | None) -> list[Markup]:
    numbers = _row_with_numbers(addresses, value, *(row or row_of(addresses, value)))
    return [_symbols(addresses, value, spoken=addresses.workshop.in_words or not any("<math>" in line for line in numbers)), *numbers]


def row_of(addresses: Addresses, value: Value) -> tuple[tuple[str, ...] | None, Markup, str]:
    """The element that is shown, if one is computed; the arm that runs there with its numbers, or of a number of the formula itself what chose it; the row
    in words where it is not said as it is written."""
    element = next((ids for ids in value.elements() if ids[0] not in value.givens), None) if value.axes else ()
    if element is None:
        return None, EMPTY, ""
    values, at = addresses.book.values, dict(zip(value.axes, element))
    shown = at_element(values, value, at, addresses.book.names)
    if notation.is_quantity(shown):
        return element, because(why_constant(values, value, at)), ""
    put_in = numbers_put_in(values)
    maths = compact(notation.mathml(value.id, shown, put_in, left=bool(value.axes)))
    return element, maths, notation.text(value.id, shown, put_in) if STACKED.search(maths) else ""


def _row_with_numbers(addresses: Addresses, value: Value, element: tuple[str, ...] | None, written: Markup, words: str) -> list[Markup]:
    if element is None:
        return []
    named = tag("span", f"for {addresses.element_name(value, element)}: ", class_="mark") if value.axes else EMPTY
    if "<math>" not in written:
        return _constant(addresses, value, element, named, written)
    return [tag("div", named, _said(written, words) if words else written, _element_result(addresses, value, element))]


def _constant(addresses: Addresses, value: Value, element: tuple[str, ...], named: Markup, reason: Markup) -> list[Markup]:
    """The line of a number that is the formula's own: the result once, and why it is that one. Of a plain value the result follows by itself."""
    if not element:
        return [tag("div", reason)] if reason else []
    return [tag("div", named, symbol(value.term.symbol), _element_result(addresses, value, element), " " if reason else EMPTY, reason)]


def because(reason: str) -> Markup:
    """What chose the arm that is a number of the formula itself; nothing of a formula that is never another."""
    return tag("span", f"as {reason}", class_="mark") if reason else EMPTY


def _symbols(addresses: Addresses, value: Value, spoken: bool) -> Markup:
    """The formula in symbols, the same in every book; `spoken` where no row with numbers is."""
    key = ("symbols", value.producer.module, value.id, spoken)
    if key not in addresses.workshop.notes:
        maths = made(of_program()[value.id]) if catalogue().producers.get(value.id) is value.producer else _written(value.id, value.producer)
        addresses.workshop.notes[key] = tag("div", _said(maths, plain(addresses, value)) if spoken and STACKED.search(maths) else maths)
    return addresses.workshop.notes[key]


@lru_cache(maxsize=1)
def of_program() -> dict[str, str]:
    """Every formula of this program as MathML."""
    return user_cache.of_program("mathml", lambda: {value_id: _written(value_id, maker) for value_id, maker in catalogue().producers.items()
                                                    if isinstance(maker, Formula)})


def _written(value_id: str, maker: Formula) -> Markup:
    return compact(notation.mathml(value_id, maker.expression))


def _said(maths: Markup, words: str) -> Markup:
    """Mathematics for the eye, the same in words for those who listen."""
    return made(f'<span aria-hidden="true">{maths}</span><span class="spoken">{safe(words)}</span>')


def _element_result(addresses: Addresses, value: Value, element: tuple[str, ...]) -> Markup:
    return Markup(" =\u00a0") + both_amounts(addresses, value.element(*element)) if element else EMPTY


def _equation_line(value: Value) -> list[Markup]:
    return [tag("div", value.producer.equation)]


def compact(mathml: str) -> Markup:
    """The same MathML in fewer bytes: a thin space in place of a spacing element, no row round a single sign or symbol."""
    mathml = mathml.replace(SPACING, "<mtext>\u2009").replace(" columnalign='left left'", "")
    mathml = mathml.replace("<mtext> ", "<mtext>\u00a0").replace(" </mtext>", "\u00a0</mtext>")  # spaces at the ends would be dropped
    return Markup(ROW_OF_ONE.sub(r"\1", mathml))


def plain(addresses: Addresses, value: Value) -> str:
    """The formula as plain text, for search and the card; the equation of a procedure."""
    if value.origin == "procedure":
        return value.producer.equation
    if value.origin != "formula":
        return ""
    key = ("plain", value.producer.module, value.id)
    if key not in addresses.workshop.notes:
        addresses.workshop.notes[key] = notation.text(value.id, value.producer.expression)
    return addresses.workshop.notes[key]


def doc(value: Value) -> Markup:
    """What the author of the formula says about it."""
    if value.origin not in ("formula", "procedure"):
        return EMPTY
    return Markup("").join(tag("p", escape(part)) for part in said(value))
