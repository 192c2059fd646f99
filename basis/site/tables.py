"""Tables of values: rows of plain values, one row an item, items by bands. Used by chapter pages and sheets alike."""
from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from itertools import groupby

import numpy as np
from markupsafe import Markup

from basis.language.terms import listed, terms
from basis.language.words import in_sentence
from basis.reading.givens import Given
from basis.site import html
from basis.site.addresses import Addresses, is_long
from basis.site.columns import MOST, amounts, parted
from basis.site.html import safe
from basis.site.numbering import caption, first_names
from basis.site.quantities import absent, amount, as_issued, moved_from, named, unit_name, weakness
from basis.site.quantities import number as number_link
from basis.solving.value import Value, written_shown

WORD = ' class="word"'
FEW, MANY = 5, 7  # so few items of so many quantities are the columns, one quantity a row: they are read without scrolling, and on upright paper
MOST_TOLD = 10  # old numbers of one row, as many as there are octave bands; of more the rest is counted
Cell = Callable[[Value, tuple, object, Markup], Markup]  # how one element of a value is shown, from its ids, its number or word, and that as text


def linked(addresses: Addresses) -> Cell:
    """Cells that lead to the working; unit and weakness stand in the head."""
    mark = _marks(addresses)

    def show(value: Value, ids: tuple, number, text: Markup) -> Markup:
        content = _blank(value, number) if _is_blank(number) else _linked_number(addresses, value, ids, text)
        if moved := mark(value, ids):
            content += moved
        return html.made(f"<td{WORD}>{content}</td>") if value.term.is_text else content
    return show


def _linked_number(addresses: Addresses, value: Value, ids: tuple, text: Markup) -> Markup:
    return html.made(f'<a href="{addresses.address(".".join((value.id, *ids)))}" class="n">{text}</a>')


def plain(addresses: Addresses) -> Cell:
    """Cells that hold nothing but the number or word: the working itself is here."""
    mark = _marks(addresses)

    def show(value: Value, ids: tuple, number, text: Markup) -> Markup:
        return _plain_cell(value, number, text, mark(value, ids))
    return show


def _plain_cell(value: Value, number, text: Markup, mark: Markup = html.EMPTY) -> Markup:
    content = _blank(value, number) if _is_blank(number) else text
    content = content + mark if mark else content
    return html.made(f"<td{WORD}>{content}</td>") if value.term.is_text else content


def _marks(addresses: Addresses) -> Callable[[Value, tuple], Markup]:
    """The marks of elements, each value looked up once."""
    was = cache(addresses.book.was)

    def mark(value: Value, ids: tuple) -> Markup:
        moved = was(value.id)
        before = moved.get(".".join(ids)) if moved else None
        return moved_from(addresses, as_issued(addresses, value, before)) if before else html.EMPTY
    return mark


def _row_mark(addresses: Addresses, value: Value, ids: tuple) -> Markup:
    """The mark of a row of numbers along the last axis, with what each that moved was."""
    if not (moved := addresses.book.was(value.id)):
        return html.EMPTY
    before = {item: moved.get(".".join((*ids, item))) for item in value.items[-1]}
    told = [html.join((addresses.item_name(value.axes[-1], item), " ", as_issued(addresses, value, was))) for item, was in before.items() if was]
    more = f" and {len(told) - MOST_TOLD} more" if len(told) > MOST_TOLD else ""
    return moved_from(addresses, html.join(told[:MOST_TOLD], ", ") + more) if told else html.EMPTY


def _blank(value: Value, number) -> Markup:
    """What stands in the cell of a number that is not given, or does not exist."""
    return absent("does not exist") if value.nowhere(number) else absent()


def _is_blank(number) -> bool:
    """Whether an element of an optional term is not given."""
    return number == "" or number != number


def _numbers(value: Value) -> dict[tuple, object]:
    """Ids of each element -> its number or word, in order."""
    return dict(zip(value.elements(), np.ravel(value.number).tolist()))


def _cells(addresses: Addresses, value: Value, show: Cell, items: Sequence[str]) -> dict[tuple, Markup]:
    """Ids of each of these elements -> its cell, of a value that is one column."""
    numbers = _numbers(value)
    found = {(item,): numbers[(item,)] for item in items}
    return {ids: show(value, ids, number, text) for (ids, number), text in zip(found.items(), amounts(addresses, value, list(found.values())))}


def rows(addresses: Addresses, values: Sequence[Value], count: bool = True) -> Markup:
    """Plain values, one a row. `count`: with a number of its own, as here below."""
    lines = [(named(value), number_link(addresses, value)) for value in values]
    held = first_names(in_sentence(value.term.name) if place else value.term.name for place, value in enumerate(values))
    return html.table(_counted(addresses, held, values) if count else "", ("Quantity", "Value"), lines, label="Values") if lines else html.EMPTY


def of_elements_apart(addresses: Addresses, axis: str, values: Sequence[Value]) -> Markup:
    """Elements along one list, of several values and items, one a row."""
    items = [html.cell(addresses.item_name(axis, value.id.rpartition(".")[2]), class_="word") for value in values]
    lines = [(named(value), item, number_link(addresses, value)) for value, item in zip(values, items)]
    held = f"{axis_title(axis)}: {first_names(in_sentence(value.term.name) for value in values)}"
    heads = ("Quantity", html.tag("th", axis_title(axis), class_="word"), "Value")
    return html.table(_counted(addresses, held, values), heads, lines, label=held) if lines else html.EMPTY


def of_items(addresses: Addresses, axis: str, values: Sequence[Value], cell: Cell | None = None, only: Sequence[str] | None = None,
             count: bool = True) -> Markup:
    """One row an item of the axis, or of those in `only`, one column a value."""
    items, show = addresses.book.items.get(axis, ()) if only is None else only, cell or linked(addresses)
    if not items:
        return _none(addresses, axis)
    columns = [(_head(value), _cells(addresses, value, show, items)) for value in values]
    held = f"{axis_title(axis)}: {first_names(in_sentence(value.term.name) for value in values)}" if values else axis_title(axis)
    told = _counted(addresses, held, values) if count else ""
    if len(columns) >= MANY and len(items) <= FEW:  # turned: a row a value
        lines = [(_row_head(head), *[found[(item,)] for item in items]) for head, found in columns]
        return html.table(told, ("Quantity", *(addresses.item_name(axis, item) for item in items)), lines, "values turned", held)
    made = []
    for part in parted(columns) or [[]]:
        lines = [(addresses.item_name(axis, item), *[found[(item,)] for _, found in part]) for item in items]
        told = _counted(addresses, f"{held}, continued", values) if count and made else told
        made.append(html.table(told, (axis_title(axis), *[head for head, _ in part]), lines, label=held))
    return html.join(made)


def _row_head(head: Markup) -> Markup:
    """What stands in the head of a column, as the head of a row."""
    return html.made(head.removeprefix(f"<th{WORD}>").removesuffix("</th>"))


def _counted(addresses: Addresses, held: str | Markup, values: Sequence[Value]) -> html.Caption | str:
    """The caption of a table of values with its number."""
    return caption(addresses, held, [value.id for value in values])


def _none(addresses: Addresses, *axes: str, of: Value | None = None) -> Markup:
    """What stands for a table along lists without items; told once a page."""
    empty = [listed(axis).key.replace("_", " ") for axis in axes if of is None or not of.items[of.axes.index(axis)]]
    said = f"The project lists no {' and no '.join(empty)}."
    return html.paragraph(said) if addresses.data.first(said) else html.EMPTY


def of_several(addresses: Addresses, values: Sequence[Value], count: bool = True) -> Markup:
    """Values over axes; those over one and the same list that follow each other are the rows of one table."""
    groups = [list(group) for _, group in groupby(values, key=lambda value: (value.axes, value.items) if len(value.axes) == 1 else value.id)]
    return html.join([of_axes(addresses, group[0], count) if len(group) == 1 else _stacked(addresses, group, count) for group in groups])


def _stacked(addresses: Addresses, values: Sequence[Value], count: bool) -> Markup:
    """Values over one list as rows; the head of a row leads to the working of its numbers."""
    (axis,), (items,) = values[0].axes, values[0].items
    if not items:
        return _none(addresses, axis)
    lines = []
    for value in values:
        head = _link_to_row(addresses, value, (), named(value)) + _unit(value) + weakness(value) + _row_mark(addresses, value, ())
        lines.append((head, *[_plain_cell(value, number, amount(addresses, value, number, unit=False)) for number in _row_numbers(value)[()]]))
    held = first_names(in_sentence(value.term.name) if place else value.term.name for place, value in enumerate(values))
    heads = ("Quantity", *(addresses.item_name(axis, item) for item in items))
    return html.table(_counted(addresses, held, values) if count else "", heads, lines, label=held)


def of_axes(addresses: Addresses, value: Value, count: bool = True) -> Markup:
    """A value over bands, or over two axes and more: the last axis runs across, the others down. The head of a row leads to the working of its numbers."""
    if not all(value.items):
        return _none(addresses, *value.axes, of=value)
    return _across(addresses, value, _row_numbers(value), lambda ids, part: _link_to_row(addresses, value, ids, _start(addresses, value, ids), part), count)


def _link_to_row(addresses: Addresses, value: Value, ids: tuple, name: Markup | str, part: int = 0) -> Markup:
    """Where the working of a row is; the row has its address in the first part of a parted table, so others lead to the value."""
    return html.link(addresses.address(value.id if part else _anchor(value, (*ids, value.items[-1][0]))), name, class_="n row")


def _across(addresses: Addresses, value: Value, lines: dict[tuple, list], head: Callable[[tuple, int], Markup | str], count: bool = False,
            anchors: bool = False) -> Markup:
    """The last axis across and the others down; where that is too wide, turned; where that is too wide too, in parts. `lines`: ids of a row -> its numbers."""
    if not lines:
        return html.EMPTY
    places = {ids: addresses.data.place(_anchor(value, ids)) if anchors and ids else None for ids in lines}
    names = [addresses.item_name(value.axes[-1], item) for item in value.items[-1]]
    if value.term.absent and value.axes[-1] != "band":  # of a list with room for more, no further than the last item that there is
        end = max((place for place, column in enumerate(zip(*lines.values()), 1) if any(number == number for number in column)), default=len(names))
        names, lines = names[:end], {ids: numbers[:end] for ids, numbers in lines.items()}

    def held(part: int = 0) -> html.Caption | Markup:
        words = _caption(value) + ", continued" if part else _caption(value)
        return _counted(addresses, words, [value]) if count else words

    def heads(part: int) -> list[Markup]:
        return [html.join((head(ids, part), _row_mark(addresses, value, ids))) for ids in lines]

    if len(lines) < MOST <= len(names):
        turned = [html.tag("th", made, id=places[ids]) for ids, made in zip(lines, heads(0))]
        rows = zip(names, *[_column(addresses, value, numbers) for numbers in lines.values()])
        return html.table(held(), (axis_title(value.axes[-1]), *turned), rows, "values turned", value.term.name)
    corner = " and ".join(axis_title(axis) for axis in value.axes[:-1]) or value.term.name
    columns = list(zip(names, [_column(addresses, value, numbers) for numbers in zip(*lines.values())]))
    tables = []
    for place, part in enumerate(parted(columns)):
        rows = [html.row((made, *cells), id=None if place else places[ids]) for ids, made, *cells in zip(lines, heads(place), *[cells for _, cells in part])]
        tables.append(html.table(held(place), (corner, *[name for name, _ in part]), rows, label=value.term.name))
    return html.join(tables)


def _column(addresses: Addresses, value: Value, numbers: Sequence) -> list[Markup]:
    """Numbers one under another, without links."""
    return [_plain_cell(value, number, text) for number, text in zip(numbers, amounts(addresses, value, numbers))]


def _row_numbers(value: Value) -> dict[tuple, list]:
    """Ids of each row -> its numbers along the last axis."""
    found: dict[tuple, list] = {}
    for ids, number in _numbers(value).items():
        found.setdefault(ids[:-1], []).append(number)
    return found


def of_elements(addresses: Addresses, value: Value) -> Markup:
    """Every element of a value in a row that has an address; for givens with what was written, where and why."""
    if not all(value.items):
        return _none(addresses, *value.axes, of=value)
    if is_long(value.axes):
        return _extremes(addresses, value)
    if len(value.axes) != 1 or value.axes == ("band",):
        return _moved_rows(addresses, value)
    axis, show = value.axes[0], plain(addresses)
    heads = [axis_title(axis), html.tag("th", unit_name(value) or "Value", class_="word" if value.term.is_text else None)]
    as_given = bool(value.givens) and not listed(axis).fixed
    lines = [html.row((addresses.item_name(axis, *ids), cell, *([_written(value, *ids)] if as_given else ())), id=addresses.data.place(_anchor(value, ids)))
             for ids, cell in _cells(addresses, value, show, value.items[0]).items()]
    if as_given:
        heads.append(html.tag("th", "As given", class_="word"))
    return html.table("", heads, lines, label=value.term.name)


def _moved_rows(addresses: Addresses, value: Value) -> Markup:
    """Rows of a value over axes; for an option only those that are not as in the chosen book."""
    lines = _row_numbers(value)
    kept = {ids: numbers for ids, numbers in lines.items() if not addresses.option or _moved(addresses, value, ids, numbers)}
    table = _across(addresses, value, kept, lambda ids, _: _start(addresses, value, ids), anchors=True)
    as_chosen = len(lines) - len(kept)
    return table + html.paragraph(f"Rows as in the chosen book, not repeated: {as_chosen}.") if as_chosen else table


def _moved(addresses: Addresses, value: Value, ids: tuple, numbers: list) -> bool:
    """Whether a row reads otherwise than in the chosen book."""
    chosen = addresses.main.values.get(value.id)
    if chosen is None or chosen.items[-1] != value.items[-1] or any(item not in along for item, along in zip(ids, chosen.items)):
        return True
    others = chosen.number[tuple(along.index(item) for item, along in zip(ids, chosen.items))]
    return any(number != other and value.shown(number) != value.shown(other) for number, other in zip(numbers, others.tolist()))


def _anchor(value: Value, ids: tuple) -> str:
    return ".".join((value.id, *ids))


def _extremes(addresses: Addresses, value: Value) -> Markup:
    """Of a value with thousands of elements the lowest and the highest."""
    numbers = np.asarray(value.number, dtype=float)
    if np.all(np.isnan(numbers)):
        return absent()
    elements = value.elements()
    rows = [(f"{word}, {addresses.element_name(value, elements[place])}", amount(addresses, value, numbers.flat[place]))
            for word, place in (("Lowest", int(np.nanargmin(numbers))), ("Highest", int(np.nanargmax(numbers))))]
    return html.table(f"{len(elements)} values, one for each {' and '.join(value.axes)}", ("Which", "Value"), rows)


def _written(value: Value, item: str) -> Markup:
    given = value.givens.get(item)
    if given is not None:
        return html.cell(given_line(given))
    default = "default" if value.term.default else absent()  # the number stands beside it
    return html.cell("computed" if value.producer else default, class_="word")


def given_line(given: Given) -> Markup:
    """What was written, where, how well it is known, and why."""
    instead = f", in place of {written_shown(terms()[given.term], given.over.written)} of {place(given.over)}" if given.over else ""
    tail = "".join([f" ({given.source})" if given.source else "", f" – {given.note}" if given.note else "", instead])
    standing = f"<strong>{safe(given.standing)}</strong>" if given.standing.startswith("assumed") else safe(given.standing)
    return html.made(f"{safe(written_shown(terms()[given.term], given.written))}, <code>{safe(place(given))}</code>, {standing}{safe(tail)}")


def place(given: Given) -> str:
    """File, in the folder of its project, and line."""
    return f"{given.file.rpartition('/')[2]}:{given.line}"


def _start(addresses: Addresses, value: Value, ids: tuple[str, ...]) -> Markup | str:
    return ", ".join(addresses.item_name(axis, item) for axis, item in zip(value.axes, ids)) or named(value)


def _unit(value: Value) -> Markup:
    unit = unit_name(value)
    return Markup(", ") + unit if unit else html.EMPTY


def _caption(value: Value) -> Markup:
    return html.join((named(value), _unit(value), weakness(value)))


def _head(value: Value) -> Markup:
    return html.tag("th", _caption(value), class_="word") if value.term.is_text else _caption(value)


def axis_title(axis: str) -> str:
    """What readers call an axis."""
    return axis.replace("_", " ").capitalize()
