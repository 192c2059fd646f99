"""Tables of values: rows of plain values, one row an item, items by bands. Used by chapter pages and sheets alike.

May import book; html, atlas and quantities of this folder.
"""
from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import PurePosixPath

import numpy as np
from markupsafe import Markup

from basis.book import Value
from basis.project import Given
from basis.site import html
from basis.site.atlas import Atlas, is_long
from basis.site.html import safe
from basis.site.quantities import absent, amount, named, number, shown, unit_name, weakness
from basis.terms import FIXED_ITEMS

WORD = ' class="word"'
Cell = Callable[[Value], Markup]  # how one element is shown: a link to its working, or its own anchor


def linked(atlas: Atlas) -> Cell:
    """Cells that lead to the working; unit and weakness stand in the head."""
    def show(value: Value) -> Markup:
        content = absent() if _is_blank(value) else number(atlas, value, unit=False, mark=False)
        return html.made(f"<td{WORD}>{content}</td>") if value.term.is_text else content
    return show


def anchored(atlas: Atlas) -> Cell:
    """Cells that are the place itself: the id is the address of the element."""
    def show(value: Value) -> Markup:
        content = absent() if _is_blank(value) else shown(atlas, value, unit=False)
        return html.made(f'<td id="{value.id}"{WORD if value.term.is_text else ""}>{content}</td>')
    return show


def _is_blank(value: Value) -> bool:
    """Whether an element of an optional term is not given."""
    return value.number == "" if value.term.is_text else value.number != value.number


def rows(atlas: Atlas, values: Iterable[Value], caption: str = "") -> Markup:
    """Plain values, one a row."""
    lines = [(named(value), number(atlas, value)) for value in values]
    return html.table(caption, ("Quantity", "Value"), lines, label=caption or "Values") if lines else html.EMPTY


def of_items(atlas: Atlas, axis: str, values: Sequence[Value], cell: Cell | None = None) -> Markup:
    """One row an item of the axis, one column a value."""
    items, show = atlas.book.items.get(axis, ()), cell or linked(atlas)
    if not items:
        return html.paragraph("None is listed in this project.")
    lines = [(atlas.item_name(axis, item), *(show(value.element(item)) for value in values)) for item in items]
    return html.table("", (axis_title(axis), *map(_head, values)), lines, label=f"{axis_title(axis)}: {', '.join(value.term.name.lower() for value in values)}")


def of_axes(atlas: Atlas, value: Value, cell: Cell | None = None) -> Markup:
    """A value over two or more axes: the last axis runs across, the others down."""
    show = cell or linked(atlas)
    *down, across = value.axes
    if not all(value.items):
        return html.paragraph("None is listed in this project.")
    starts = list(dict.fromkeys(ids[:-1] for ids in value.elements()))
    lines = [(_start(atlas, value, ids), *(show(value.element(*ids, item)) for item in value.items[-1])) for ids in starts]
    head = " and ".join(axis_title(axis) for axis in down) or value.term.name
    return html.table(_caption(value), (head, *(atlas.item_name(across, item) for item in value.items[-1])), lines, label=value.term.name)


def of_elements(atlas: Atlas, value: Value) -> Markup:
    """Every element of a value at its own address; for givens with what was written, where and why."""
    if not all(value.items):
        return html.paragraph("None is listed in this project.")
    if is_long(value.axes):
        return _extremes(atlas, value)
    if len(value.axes) != 1 or value.axes == ("band",):
        return of_axes(atlas, value, anchored(atlas))
    axis, items, show = value.axes[0], value.items[0], anchored(atlas)
    heads = [axis_title(axis), html.tag("th", unit_name(value) or "Value", scope="col", class_="word" if value.term.is_text else None)]
    if not value.givens or axis in FIXED_ITEMS:
        return html.table("", heads, [(atlas.item_name(axis, item), show(value.element(item))) for item in items])
    lines = [(atlas.item_name(axis, item), show(value.element(item)), _written(value, item)) for item in items]
    return html.table("", [*heads, html.tag("th", "As given", scope="col", class_="word")], lines, label=value.term.name)


def _extremes(atlas: Atlas, value: Value) -> Markup:
    """Of a value with thousands of elements the lowest and the highest."""
    numbers = np.asarray(value.number, dtype=float)
    if np.all(np.isnan(numbers)):
        return absent()
    elements = value.elements()
    rows = [(f"{word}, {atlas.element_name(value, elements[place])}", amount(value.element(*elements[place])))
            for word, place in (("Lowest", int(np.nanargmin(numbers))), ("Highest", int(np.nanargmax(numbers))))]
    return html.table(f"{len(elements)} values, one for each {' and '.join(value.axes)}", ("Which", "Value"), rows)


def _written(value: Value, item: str) -> Markup:
    given = value.givens.get(item)
    if given is not None:
        return html.cell(given_line(given), class_="word")
    return html.cell("computed" if value.producer else f"default, {value.term.default}" if value.term.default else absent(), class_="word")


def given_line(given: Given) -> Markup:
    """What was written, where, how well it is known, and why."""
    tail = "".join([f" ({given.source})" if given.source else "", f" – {given.note}" if given.note else ""])
    standing = f"<strong>{safe(given.standing)}</strong>" if given.standing.startswith("assumed") else safe(given.standing)
    return html.made(f"{safe(given.written)}, <code>{safe(place(given))}</code>, {standing}{safe(tail)}")


def place(given: Given) -> str:
    """File, in the folder of its project, and line."""
    return f"{PurePosixPath(given.file).name}:{given.line}"


def _start(atlas: Atlas, value: Value, ids: tuple[str, ...]) -> Markup | str:
    return ", ".join(atlas.item_name(axis, item) for axis, item in zip(value.axes, ids)) or named(value)


def _caption(value: Value) -> Markup:
    unit = unit_name(value)
    return named(value) + (Markup(", ") + unit if unit else html.EMPTY) + weakness(value)


def _head(value: Value) -> Markup:
    return html.tag("th", _caption(value), scope="col", class_="word") if value.term.is_text else _caption(value)


def axis_title(axis: str) -> str:
    """What readers call an axis."""
    return axis.replace("_", " ").capitalize()
