"""A Value as readers see it: number and unit in both systems, a link to its working, the word that weakens it. No number reaches a page by another way."""
from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
from markupsafe import Markup

from basis.language import signs, units
from basis.language.terms import terms
from basis.site.addresses import Addresses
from basis.site.html import EMPTY, made, safe, span, tag
from basis.site.paired import sides
from basis.solving.since import Was
from basis.solving.value import Value, written_shown
from basis.solving.verdict import Verdict

WEAK = ("assumed", "from memory", "common practice")  # words that travel with a number; a plain default is told on its sheet


def both(si: str, us: str) -> Markup:
    """A text in SI and in US customary units, once where they agree. The page shows the system that its reader chose."""
    if si == us:
        return made(safe(si))
    return made(f'<u-si>{safe(si)}</u-si><u-us>{safe(us)}</u-us>')


def both_of(text: str) -> Markup:
    """A text as drawings have it, on a page."""
    found = sides(text)
    return both(found[0], found[-1])


def amount(addresses: Addresses, value: Value, number, unit: bool = True) -> Markup:
    """One number of a value, one of its words, or for a reference the name of the item."""
    if value.term.unit == "reference":
        return made(safe(addresses.item_name(value.term.refers_to, number)))
    si = value.shown(number, "si", unit)
    return both(si, value.shown(number, "us", unit)) if value.two_systems else made(safe(si))


def shown(addresses: Addresses, value: Value, unit: bool = True) -> Markup:
    """The number of a plain value, its word, or for a reference the name of the item."""
    return amount(addresses, value, value.number, unit)


def both_amounts(addresses: Addresses, value: Value) -> Markup:
    """The number in SI and, whatever the reader chose, in US units beside it."""
    return tag("span", shown(addresses, value), class_="both") if value.two_systems else shown(addresses, value)


def unit_name(value: Value) -> Markup:
    """The unit in both systems."""
    return both(value.unit_text("si"), value.unit_text("us"))


def default_shown(value: Value) -> Markup:
    """The default of a value as it stands in the program, in both systems; of a list all its numbers."""
    term = value.term
    if not value.two_systems:
        return made(safe(written_shown(term, term.default, value.currency)))
    numbers = np.ravel(term.default_data()).tolist()
    told = numbers if len(set(numbers)) > 1 else numbers[:1]
    every = both(*(", ".join(value.shown(number, system) for number in told) for system in ("si", "us")))
    return tag("span", every, class_="w") if len(told) > 1 else every  # a list wraps, a number never


def warnings(value: Value) -> list[Markup]:
    """What makes a number doubtful."""
    return [both(*told) for told in zip(value.warnings("si"), value.warnings("us"))]


def margin(verdict: Verdict) -> Markup:
    """What is left to a limit."""
    return both(verdict.margin_in("si"), verdict.margin_in("us"))


def change(verdict: Verdict, by: float) -> Markup:
    """What is added to a margin."""
    return both(verdict.change_text(by), verdict.change_text(by, "us"))


def weakness(value: Value) -> Markup:
    """The small word behind a number that rests on an assumption, on memory or on common practice."""
    word = next((mark for mark in WEAK if mark in value.marks), "")
    return made(f" <small>{word}</small>") if word else EMPTY


def number(addresses: Addresses, value: Value, unit: bool = True, mark: bool = True) -> Markup:
    """A number that leads to its working."""
    kind = "n w" if value.term.is_text or not value.exists else "n"  # words wrap, a number with its unit never
    link = f'<a href="{safe(addresses.address(value.id))}" class="{kind}">{shown(addresses, value, unit)}</a>'
    return made(f"{link}{moved(addresses, value)}{weakness(value) if mark and value.exists else EMPTY}")


def moved(addresses: Addresses, value: Value) -> Markup:
    """The mark of a plain value or an element that is shown otherwise than in the last issue."""
    term_id, _, element = value.id.partition(".")
    was = addresses.book.was(term_id).get(element)
    return moved_from(addresses, as_issued(addresses, value, was)) if was else EMPTY


def as_issued(addresses: Addresses, value: Value, was: Was) -> Markup:
    """What was shown of a value in an issue, which holds SI only, in both systems; of a reference the name that the item has."""
    if value.term.unit == "reference":
        return made(safe(addresses.item_name(value.term.refers_to, was.shown)))
    return both(was.shown, _read_back(value, was.shown, value.shown, was.number))


def difference_read_back(value: Value, was: str) -> str:
    """A margin or a change that was shown of a value in an issue, in US units."""
    return was[:1] + _read_back(value, was[1:], value.difference_shown)


def _read_back(value: Value, text: str, in_us: Callable[[float, str], str], in_full: str = "") -> str:
    """What was shown in SI, in US units, of the number in full where that is known; words, shares and what is shown alike as they are."""
    if not value.two_systems:
        return text
    try:
        number, unit_text = units.split_number(text)
        unit = units.unit(unit_text)
    except units.UnitError:
        return text
    return in_us(float(in_full or number * unit.factor + unit.offset), "us") if unit.dimension == value.term.dimension else text


def moved_from(addresses: Addresses, was: str | Markup) -> Markup:
    """The mark of what has moved since the last issue: the style sheet draws a triangle here and one with the revision in the margin, the words are spoken
    and printed, and the card tells them.
    """
    return made(f"<u-was><i> moved since issue </i><b>{safe(addresses.book.marked_since)}</b><i> (was {safe(was)})</i></u-was>")


@cache  # as many as there are symbols
def symbol(text: str) -> Markup:
    """A symbol with its subscript, slanted and upright as in formulas; nothing for a quantity without one."""
    stem, below = ("".join([f"<i>{safe(part)}</i>" if slanted else safe(part) for part, slanted in found]) for found in signs.parts(text))
    return made(f"{stem}<sub>{below}</sub>" if below else stem)


def named(value: Value) -> Markup:
    """Name and symbol of a quantity."""
    return made(f"{safe(value.term.name)} {symbol(value.term.symbol)}" if value.term.symbol else safe(value.term.name))


def reference(addresses: Addresses, value: Value) -> Markup:
    """The name as a link to the working."""
    return made(f'<a href="{safe(addresses.address(value.id))}">{safe(value.term.name)}</a>')


def linked_name(addresses: Addresses, term_id: str) -> Markup:
    """The same by id: nothing of the value itself is shown."""
    return made(f'<a href="{safe(addresses.address(term_id))}">{safe(terms()[term_id].name)}</a>')


def absent(what: str = "not given") -> Markup:
    """What stands where a number would, when it cannot be computed."""
    return span("mark", what)
