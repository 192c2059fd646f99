"""Schematics of the plant: parts in the order in which air, fuel or a signal meets them, one a row, each with its symbol and its numbers, joined by lines.

A schematic is declared by a function that reads a Book and yields a Plan; it computes nothing. Its words are words of the page, so they wrap, follow the
unit system and lead to their working; only symbols and lines are drawn.
"""
from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from markupsafe import Markup

from basis.language.words import item_words
from basis.site import html, lanes
from basis.site.addresses import Addresses
from basis.site.html import made, safe
from basis.site.lanes import PLACE, Line, Route
from basis.site.numbering import figure_title
from basis.site.quantities import absent, number, weakness
from basis.site.symbols import LINES, SIDE, SYMBOLS, Symbol
from basis.solving.book import Book
from basis.solving.value import Value

SCALE = PLACE / SIDE
AFTER = 8.0  # from a symbol to the words beside it


@dataclass(frozen=True)
class Part:
    """One row: its id, a symbol of the library, its name, the numbers beside it as words and id of a value, and where it stands. Rows of one place, one
    below the other, stand on one ground."""

    id: str
    symbol: str
    name: str
    shown: tuple[tuple[str, str], ...] = ()
    place: str = ""


@dataclass(frozen=True)
class Plan:
    """Parts in order and the lines that join them; without parts, why nothing is drawn."""

    parts: tuple[Part, ...] = ()
    lines: tuple[Line, ...] = ()
    none: str = ""
    under: tuple[str, ...] = ()  # what holds for the whole, such as the running case


@dataclass(frozen=True)
class Schematic:
    """A schematic: its id, its title, the function from a Book to a Plan, and what it shows, in words."""

    id: str
    title: str
    function: Callable[[Book], Plan]
    meaning: str


def schematic(title: str) -> Callable[[Callable[[Book], Plan]], Schematic]:
    """Declare a schematic. The docstring of the function tells in words what it shows."""
    def declare(function: Callable[[Book], Plan]) -> Schematic:
        return Schematic(function.__name__, title, function, " ".join((function.__doc__ or "").split()))
    return declare


# ---- for the functions that declare ----

def chain(kind: str, *ids: str) -> tuple[Line, ...]:
    """A line from each part to the next."""
    return tuple(Line((one,), (other,), kind) for one, other in zip(ids, ids[1:]))


def through(kind: str, *steps: Sequence[Sequence[str]]) -> tuple[Line, ...]:
    """Lines through steps one after another. A step is one or more branches side by side, each the ids of its parts in order."""
    lines: list[Line] = []
    for before, branches in zip(((), *steps), steps):
        if before:
            lines.append(Line(tuple(branch[-1] for branch in before), tuple(branch[0] for branch in branches), kind))
        lines += [line for branch in branches for line in chain(kind, *branch)]
    return tuple(lines)


def named(book: Book, axis: str, item: str) -> str:
    """What readers call an item, to begin a line with."""
    name = book.names.get(axis, {}).get(item) or item_words(item)
    return name[:1].upper() + name[1:]


def items(book: Book, axis: str) -> tuple[str, ...]:
    """The items of an axis; none where no chapter of the book has it."""
    return tuple(book.items.get(axis, ()))


def word(book: Book, value_id: str) -> str:
    """The word of a choice or reference, also of an element; empty where the book does not have it."""
    found = find(book, value_id)
    return str(found.number) if found is not None and found.term.is_text else ""


def amount(book: Book, value_id: str) -> float:
    """The number of a plain value or an element, in SI units; not a number where the book does not have it."""
    found = find(book, value_id)
    return float(found.number) if found is not None and not found.term.is_text else np.nan


def known(book: Book, value_id: str) -> bool:
    """Whether the book has a plain value or an element, and it is given or computed."""
    found = find(book, value_id)
    return found is not None and found.exists and not is_blank(found)


def look(name: str, words: Sequence[tuple[tuple[str, ...], str]], otherwise: str) -> str:
    """The symbol that the last word of the trade in a name asks for."""
    said = [symbol for one in name.lower().split() for some, symbol in words if one.startswith(some)]
    return said[-1] if said else otherwise


def find(book: Book, value_id: str) -> Value | None:
    """A plain value or one element of a value, or None."""
    term_id, *ids = value_id.split(".")
    value = book.values.get(term_id)
    if value is None or len(ids) != len(value.axes) or any(item not in along for item, along in zip(ids, value.items)):
        return None
    return value.element(*ids) if ids else value


# ---- on the page ----

def shown(addresses: Addresses, drawn: Schematic) -> Markup:
    """A schematic, ready for the page, or why there is none."""
    plan = drawn.function(addresses.book)
    if not plan.parts:
        return html.paragraph(f"{drawn.title}: not drawn; {plan.none}.", class_="mark")
    placed = lanes.routes([part.id for part in plan.parts], plan.lines)
    rows = html.join([_row(addresses, drawn, plan, placed, place) for place in range(len(plan.parts))])
    left = lanes.symbol_left(placed)
    style = f"--left:{left:g}px;--words:{left + PLACE + AFTER:g}px"
    name = f"schematic-{drawn.id}"
    title = figure_title(addresses, drawn.title, drawn.id, name)
    caption = html.tag("figcaption", title, ". ", drawn.meaning, *(f" {line}" for line in plan.under), _legend(drawn, plan))
    return html.tag("figure", html.tag("ol", rows, style=style), caption, class_="schematic", id=addresses.data.place(name))


def _row(addresses: Addresses, drawn: Schematic, plan: Plan, placed: Sequence[Route], place: int) -> Markup:
    part, symbol = plan.parts[place], SYMBOLS[plan.parts[place].symbol]
    before, after = (plan.parts[at].place if 0 <= at < len(plan.parts) else "" for at in (place - 1, place + 1))
    ground = " ".join(("in", *(["first"] if before != part.place else []), *(["last"] if after != part.place else []))) if part.place else None
    stands = html.tag("small", part.place, class_="place") if part.place not in ("", before, part.name) else html.EMPTY
    words = _numbers(addresses, part.shown)
    picture = _picture(drawn, symbol, part, lanes.strokes(placed, place, tuple(SCALE * side for side in symbol.sides)), _spoken(plan, placed, place))
    return html.tag("li", picture, stands, html.tag("strong", part.name), words, class_=ground)


def _numbers(addresses: Addresses, wanted: Sequence[tuple[str, str]]) -> Markup:
    """Numbers that lead to their working, each behind its words. A weakness that all of them share is said once; where a number is not known that is said,
    and what the design does not have is left out."""
    found = [(words, value_id, find(addresses.book, value_id)) for words, value_id in wanted]
    marks = [weakness(value) for _, _, value in found if value is not None and not is_blank(value)]
    once = len(marks) > 1 and len(set(marks)) == 1 and any(marks)
    cells = [_number(addresses, *one, mark=not once) for one in found]
    return html.join([*cells, html.tag("span", html.small("all ", marks[0].striptags().strip())) if once else ""])


def _number(addresses: Addresses, words: str, value_id: str, value: Value | None, mark: bool) -> Markup:
    if value is None:
        lacks = value_id.partition(".")[0] in addresses.book.undecided
        return html.tag("span", f"{words} ", absent("not known")) if lacks else html.EMPTY
    return html.EMPTY if is_blank(value) else html.tag("span", f"{words} " if words else "", number(addresses, value, mark=mark))


def is_blank(value: Value) -> bool:
    """Whether a plain value or an element is not given, or does not exist."""
    return value.number == "" or value.number != value.number


def _picture(drawn: Schematic, symbol: Symbol, part: Part, strokes: lanes.Strokes, spoken: str) -> Markup:
    lines = "".join([f'<path class="{kind}" d="{path}"></path>' for kind, path in strokes.lines.items()])
    heads = f'<path class="f" d="{strokes.heads}"></path>' if strokes.heads else ""
    return made(f'<svg role="img" aria-label="{safe(symbol.word)}{safe(spoken)}">{lines}{heads}<use href="#{drawn.id}-{part.symbol}"></use></svg>')


def _spoken(plan: Plan, placed: Sequence[Route], place: int) -> str:
    """Where lines lead that do not simply run to the next part."""
    ends = dict.fromkeys(end for route in placed if route.lane and place in route.starts for end in route.ends)
    return f", leads to {' and '.join(plan.parts[end].name for end in ends)}" if ends else ""


def _legend(drawn: Schematic, plan: Plan) -> Markup:
    """The symbols in use, each drawn once and named; and the lines, where there is more than one kind."""
    used = dict.fromkeys(part.symbol for part in plan.parts)
    kinds = list(dict.fromkeys(line.kind for line in plan.lines))
    lines = [made(f'<svg viewBox="0 0 24 24" aria-hidden="true"><path class="{kind}" d="M0 12H24"></path></svg>') + LINES[kind] for kind in kinds]
    symbols = [made(f'<svg viewBox="0 0 24 24" aria-hidden="true"><g id="{drawn.id}-{one}">{_shape(SYMBOLS[one])}</g></svg>') + SYMBOLS[one].word
               for one in used]
    return html.span("legend", html.join([html.tag("span", one) for one in (*symbols, *(lines if len(lines) > 1 else ()))], " "))


def _shape(symbol: Symbol) -> str:
    """Said in attributes: rules of the style sheet do not reach what is drawn again elsewhere."""
    solid = 'fill="currentColor" stroke="none"'
    filled = f'<path {solid} d="{symbol.filled}"></path>' if symbol.filled else ""
    letters = f'<text {solid} x="12" y="14.5" text-anchor="middle" font-size="11" font-weight="600">{symbol.letters}</text>' if symbol.letters else ""
    return f'<path d="{symbol.lines}"></path>{filled}{letters}'
