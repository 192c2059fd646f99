"""What governs a design, as tables: which open number turns a verdict soonest, what moves each margin most, and the chances."""
from __future__ import annotations

import math
from collections.abc import Sequence

from markupsafe import Markup, escape

from basis.language import units
from basis.language.days import DAY_SECONDS
from basis.reading.givens import Given
from basis.site import html
from basis.site.addresses import Addresses
from basis.site.kept import kept
from basis.site.numbering import caption
from basis.site.paired import paired
from basis.site.quantities import amount, both, change, default_shown, margin, number, reference
from basis.site.sheet import verdict_word
from basis.solving.chances import HOW_SAMPLED
from basis.solving.turning import Turning, by_check
from basis.solving.value import Value
from basis.solving.verdict import Verdict
from basis.solving.verdicts import little, nearest_first, nearness

FIRST = 10   # to settle first
MANY = 40    # open numbers of which the worth is told on one page
CHECKS = 30  # of which it is told what moves them
MOVING = 3   # numbers that move a check
DRAWN = 30   # checks: more cannot be read in one figure
SEEN = 2     # decimals of a bar's length, in parts of what is called tight: a hundredth is a pixel
NOTHING = 5e-5  # a share, kelvins or decibels: less is no way at all
ORDER = ("What would turn a verdict soonest stands first, what was found to turn nothing last. Each number was moved by itself within its physical range, "
         "and all that rests on it computed again.")
NOT_SEARCHED = "Turning points were not searched for this book: it was built with --quick, or is served without --turning."


def margins(addresses: Addresses) -> Markup:
    """The figure of the checks that have least left."""
    found = nearest_first(addresses.book.checks)[:DRAWN]
    if not found:
        return html.paragraph("No check of this book has a margin that can be drawn.")
    from basis.site.drawings import framed  # here, as the next: drawing takes a quarter of a second to load
    from basis.site.margins import FARTHEST, Bar, nearest_margins

    bars = tuple(Bar(one.check.title, paired(one.margin_text, one.margin_in("us")), round(max(nearness(one), -FARTHEST), SEEN)) for one in found)
    picture = kept(addresses, ("figure", nearest_margins.id), lambda addresses: html.made(nearest_margins.svg(bars)), bars)  # other margins may move
    return framed(addresses, nearest_margins, picture)


def first(addresses: Addresses, found: Sequence[Turning] | None) -> Markup:
    """The open numbers that turn a verdict soonest."""
    if found is None:
        return html.paragraph(NOT_SEARCHED)
    rows = [(_name(addresses, one) + html.small(f" {one.mover.standing}"), _stands(addresses, one), turning_point(addresses, one), _turns(addresses, one))
            for one in found[:FIRST] if one.turns]
    if not rows:
        return html.paragraph("No open number turns a verdict within its physical range.")
    return html.table(caption(addresses, "To settle first"), ("Open number", "Stands at", "Turns at", "Then"), rows, "words moves")


def worth(addresses: Addresses, found: Sequence[Turning] | None) -> Markup:
    """What a small step of each open number does to the check that it moves most."""
    if found is None:
        return html.paragraph(NOT_SEARCHED)
    moving = [one for one in found if one.effects]
    rows = [(_name(addresses, one), _stands(addresses, one), str(one.reached), _step(one), _largest(addresses, one)) for one in moving[:MANY]]
    if not rows:
        return html.paragraph("No open number moves the margin of a check.")
    rest = f"{len(moving) - MANY} more move a margin, " if len(moving) > MANY else ""
    still = html.paragraph(f"{rest}{len(found) - len(moving)} move none by such a step. All stand, in this order, on ",
                           addresses.data.link("assumptions.html", "open assumptions"), ".")
    heads = ("Open number", "Stands at", "Checks reached", "A small step", "Moves most")
    return html.table(caption(addresses, "What each open number is worth"), heads, rows, "words moves") + still


def moved(addresses: Addresses, found: Sequence[Turning] | None) -> Markup:
    """For each check that has little left the open numbers that move it most."""
    if found is None:
        return html.paragraph(NOT_SEARCHED)
    by = by_check(found)
    rows = []
    for verdict in nearest_first(addresses.book.checks)[:CHECKS]:
        moving = by.get(verdict.check.id, ())[:MOVING]
        lines = [_name(addresses, one) + html.small(" ", change(verdict, by), " for ", _step(one)) for one, by in moving]
        rows.append((_check(addresses, verdict), verdict_word(verdict.word) + html.small(" ", margin(verdict)),
                     html.join([html.tag("div", line) for line in lines]) or "no open number"))
    return html.table(caption(addresses, "What moves each check"), ("Check", "Verdict", "Moved most by"), rows, "words moves") if rows else html.EMPTY


def chances(addresses: Addresses) -> Markup:
    """Checks that inputs with a plus or minus reach, the least sure first."""
    counted = sorted((one for one in addresses.book.checks if one.samples), key=lambda one: one.chance)
    rows = [(_check(addresses, one), verdict_word(one.word) + html.small(" ", margin(one)), one.chance_text, one.samples_text)
            for one in counted if one.chance < 1]
    if not counted:
        return html.paragraph("No input with a plus or minus reaches a check of this book.")
    sure = html.paragraph(f"{len(counted) - len(rows)} of the {len(counted)} checks that such inputs reach are met in every sample. "
                          f"{HOW_SAMPLED.capitalize()}.")
    heads = ("Check", "Verdict", "Met in", "Of")
    return (html.table(caption(addresses, "Chances that checks are met"), heads, rows, "words moves") if rows else html.EMPTY) + sure


# ---- the page of open assumptions ----

def of_given(given: Given, found: Sequence[Turning]) -> Turning | None:
    """What became of an assumed input, moved by itself or with others of its key."""
    own = [one for one in found if one.mover.term.id == given.term and one.mover.standing == "assumed"]
    return next((one for one in own if one.mover.element in (given.element, "")), None)


def of_default(value: Value, found: Sequence[Turning]) -> Turning | None:
    """What became of a default."""
    return next((one for one in found if one.mover.term.id == value.id and one.mover.standing != "assumed"), None)


def ranked(pairs: Sequence[tuple]) -> list[tuple]:
    """Things with what became of them, the one that turns a verdict soonest first; last what turns nothing, and words, which do not move."""
    return sorted(pairs, key=lambda pair: pair[1].rank if pair[1] else (True, True, math.inf, True))


def told(addresses: Addresses, one: Turning | None, is_text: bool) -> Markup:
    """What became of an open number, in one cell."""
    if one is None:
        return escape("a word, which has no turning point" if is_text else "cannot be moved")
    if one.turns:
        return html.join([turning_point(addresses, one), ": ", _turns(addresses, one)])
    if not one.reached:
        return escape("turns nothing: it reaches no check that is decided")
    if one.low == one.high:
        return escape("turns nothing: by itself it can be no other")
    ends = _moved(one, one.low), _moved(one, one.high)
    return html.join(["turns nothing", *((" from ", ends[0], " to ", ends[1]) if all(ends) else ())])


# ---- one number ----

def _name(addresses: Addresses, one: Turning) -> Markup:
    value, mover = addresses.book.values[one.mover.term.id], one.mover
    item = f", {addresses.item_name(value.axes[0], mover.element)}" if mover.element else f", {mover.count} together" if mover.count > 1 else ""
    return reference(addresses, value) + item


def _value(addresses: Addresses, one: Turning) -> Value:
    value = addresses.book.values[one.mover.term.id]
    return value.element(one.mover.element) if one.mover.element and len(value.axes) == 1 else value


def _stands(addresses: Addresses, one: Turning) -> Markup:
    value = _value(addresses, one)
    if not value.axes:
        return number(addresses, value, mark=False)
    if one.mover.standing != "assumed" and value.term.default is not None:
        return html.link(addresses.address(value.id), default_shown(value))
    return html.link(addresses.address(value.id), "as listed")


def turning_point(addresses: Addresses, one: Turning) -> Markup:
    """The number at which a verdict turns with the way there; of several numbers the way."""
    way = _way(one)
    if one.at is None:
        return way or escape("another")
    return amount(addresses, addresses.book.values[one.mover.term.id], one.at) + (html.small(" ", way) if way else "")


def _way(one: Turning) -> Markup:
    """The way to the turning point; in words where there is none to go."""
    if abs(one.way) < NOTHING:
        return escape(f"as soon as it {'falls' if one.way < 0 else 'grows'}")
    return _moved(one, one.way)


def _step(one: Turning) -> Markup:
    return _moved(one, one.mover.step) or escape("a small step")


def _moved(one: Turning, t: float) -> Markup:
    """A move as a share of what the number is, or in its unit; none from nought, where the number itself says it."""
    return both(_moved_in(one, t, "si"), _moved_in(one, t, "us"))


def _moved_in(one: Turning, t: float, system: str) -> str:
    mover, sign = one.mover, "−" if t < 0 else "+"
    if mover.share:
        return f"{sign}{units.format_number(abs(t) * 100, 2 if abs(t) < 1 else 3)} %"
    if mover.term.whole:
        return f"{sign}{abs(t):.0f}"
    if mover.term.kind == "date":
        return f"{sign}{units.format_number(abs(t) / DAY_SECONDS, 2)} d"
    return f"{sign}{units.difference_shown(abs(t), mover.term.unit_in(system))}" if mover.term.kind in ("level", "temperature") else ""


def _turns(addresses: Addresses, one: Turning) -> Markup:
    word = "is met" if one.fails else "fails"
    return html.link(addresses.check_address(one.check), one.check.title) + f" {word}"


def _largest(addresses: Addresses, one: Turning) -> Markup:
    """The check of which a small step takes the largest part of what is called tight."""
    checks = {verdict.check.id: (verdict, change) for check_id, change in one.effects for verdict in [addresses.book.check(check_id)]}
    verdict, by = max(checks.values(), key=lambda pair: abs(pair[1]) / (little(pair[0]) or math.inf))
    return _check(addresses, verdict) + html.small(" ", change(verdict, by))


def _check(addresses: Addresses, verdict: Verdict) -> Markup:
    return html.link(addresses.check_address(verdict.check), verdict.check.title)
