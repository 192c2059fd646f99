"""Schedules: tables of items that are longer than a glance. On the page they sort and filter; beside the page stands the same table as CSV.

One file a page and axis, `<page>-<axis>.csv`, holds the columns of all tables of that axis on the page, in both unit systems.
"""
from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePosixPath

from markupsafe import Markup

from basis.export.tables import safe_text, written
from basis.language import units
from basis.site import html, tables
from basis.site.addresses import Addresses
from basis.site.html import safe
from basis.solving.value import Value

SHORT = 5  # rows that need neither sorting nor a file


def schedule(addresses: Addresses, axis: str, values: Sequence[Value]) -> Markup:
    """The table of the items; if it is long, with what the script needs to sort it and a link to its file, which is asked for."""
    if len(addresses.book.items.get(axis, ())) <= SHORT or addresses.option:
        return tables.of_items(addresses, axis, values)
    name = f"{PurePosixPath(addresses.here).stem}-{axis}.csv"
    addresses.data.files.setdefault(name, {}).update(dict.fromkeys(value.id for value in values))
    link = addresses.data.link(name, f"{tables.axis_title(axis)}: these columns as CSV", download=True)
    items = tables.of_items(addresses, axis, values, _with_key(tables.linked(addresses)))
    return html.tag("div", items, html.paragraph(link, class_="export"), class_="schedule")


def schedule_of_words(addresses: Addresses, name: str, table: Markup, heads: Sequence[str], rows: Sequence[Sequence[str]], said: str) -> Markup:
    """A table of words with a link to its file, which holds `heads` and `rows`; if it is long, it sorts and filters."""
    addresses.data.files[name] = written([heads, *([safe_text(cell) for cell in row] for row in rows)])
    link = html.paragraph(addresses.data.link(name, said, download=True), class_="export")
    return html.tag("div", table, link, class_="schedule" if len(rows) > SHORT else None)


def by_chapter(tables: Markup, rows: int) -> Markup:
    """Tables of which each row leads to a value or check: if there are many rows, they sort, and filter by chapter too."""
    return html.tag("div", tables, class_="schedule", data_chapters=True) if rows > SHORT else tables


def _with_key(cell: tables.Cell) -> tables.Cell:
    """Cells that carry the number by which they are sorted; words are sorted as they read."""
    def show(value: Value, ids: tuple, number, text: Markup) -> Markup:
        content = cell(value, ids, number, text)
        if value.term.is_text or number != number:
            return content
        return html.made(f'<td data-key="{number:.7g}">{safe(content)}</td>')
    return show


def files(addresses: Addresses) -> dict[str, str]:
    """Address -> text of every file that a page has asked for."""
    return {f"{addresses.main.project.slug}/{name}": asked if isinstance(asked, str) else _csv(addresses, [addresses.book[value_id] for value_id in asked])
            for name, asked in addresses.data.files.items()}


def _csv(addresses: Addresses, values: Sequence[Value]) -> str:
    """Id, name and every column; a column that two unit systems show differently stands twice."""
    (axis,), (items,) = values[0].axes, values[0].items
    sides = [(value, system) for value in values for system in (("si", "us") if value.two_systems else ("si",))]
    heads = ["id", tables.axis_title(axis), *(_head(value, system) for value, system in sides)]
    return written([heads, *([item, safe_text(addresses.item_name(axis, item)), *(_cell(addresses, value.element(item), system) for value, system in sides)]
                   for item in items)])


def _head(value: Value, system: str) -> str:
    named = f"{value.term.name} {value.term.symbol}".strip()
    unit = value.unit_text(system)
    return f"{named}, {unit}" if unit else named


def _cell(addresses: Addresses, value: Value, system: str) -> str:
    """The number in full in the unit of the head, without thousands marks; empty where nothing is given."""
    if value.term.unit == "reference":
        return safe_text(addresses.item_name(value.term.refers_to, value.number)) if value.number else ""
    if value.term.is_text:
        return safe_text(value.text())
    unit = value.term.si_unit if system == "si" else value.term.us_unit
    return "" if value.number != value.number else f"{units.from_si(value.number, unit):.12g}"
