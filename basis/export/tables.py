"""A book as tables in CSV, as spreadsheets take them: one table a list with its items as rows, one of plain values, of inputs, checks and sources.

Numbers stand in full in the SI unit shown, without marks between thousands; what is not known is an empty cell. `columns.csv` says what the columns of
the lists mean.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from itertools import product

from basis.chapters import catalogue
from basis.export.pages import Pages
from basis.language import units
from basis.language.days import day_text
from basis.language.sources import sources
from basis.language.terms import list_key
from basis.language.words import item_words
from basis.solving.book import Book
from basis.solving.value import Value
from basis.solving.working import formula_text, standing_of

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")  # a spreadsheet would run a text that begins so
BYTE_ORDER_MARK = "\ufeff"  # without it spreadsheets misread m³ and °C
FULL = 12  # significant digits: further ones differ from machine to machine


def tables(book: Book, pages: Pages) -> dict[str, str]:
    """File name -> text of every table of a book, in a fixed order."""
    ordered = [value for chapter in book.chapters for value in book.of_chapter(chapter.id)]
    plain, listed = [value for value in ordered if not value.axes], [value for value in ordered if value.axes]
    found = {"values.csv": written(_plain_rows(book, plain, pages)), "columns.csv": written(_column_rows(book, listed, pages)),
             "inputs.csv": written(_input_rows(ordered)), "checks.csv": written(_check_rows(book, pages)), "sources.csv": written(_source_rows(book))}
    by_axes: dict[tuple, list[Value]] = {}
    for value in listed:
        by_axes.setdefault(value.axes, []).append(value)
    return found | {table_name(axes): written(_item_rows(book, axes, by_axes[axes])) for axes in sorted(by_axes)}


def table_name(axes: Sequence[str]) -> str:
    """The file of the values over these axes: the keys of the lists."""
    return f"list-{'-'.join(map(list_key, axes))}.csv"


def written(rows: Iterable[Sequence]) -> str:
    """Rows as the text of a CSV file."""
    file = io.StringIO()
    csv.writer(file).writerows(rows)
    return BYTE_ORDER_MARK + file.getvalue()


def safe_text(text: str) -> str:
    """Text of a project is data in a spreadsheet too."""
    return f"'{text}" if text.startswith(FORMULA_SIGNS) else text


def cell_of(value: Value, number, system: str = "si") -> str:
    """A number of a value in full in the unit shown; a day as such, a word as it stands; empty where nothing is known."""
    if value.term.is_text:
        return safe_text(str(number) if value.term.unit == "reference" else value.shown(number))
    if number != number:
        return ""
    if value.term.kind == "date":
        return day_text(number)
    return f"{units.from_si(number, value.term.si_unit if system == 'si' else value.term.us_unit):.{FULL}g}"


def _plain_rows(book: Book, values: Sequence[Value], pages: Pages) -> Iterator[Sequence[str]]:
    yield "id", "name", "symbol", "chapter", "value", "unit", "US value", "US unit", "origin", "standing", "formula", "sources", "page"
    for value in values:
        us = (cell_of(value, value.number, "us"), value.unit_text("us")) if value.two_systems else ("", "")
        yield (value.id, safe_text(value.term.name), value.term.symbol, book.home[value.id], cell_of(value, value.number), value.unit_text(), *us,
               value.origin, standing_of(value), safe_text(formula_text(value)), " ".join(value.source_ids), pages.address(value.id))


def _column_rows(book: Book, values: Sequence[Value], pages: Pages) -> Iterator[Sequence[str]]:
    yield "id", "name", "symbol", "chapter", "table", "unit", "meaning", "origin", "standing", "formula", "sources", "page"
    for value in values:
        yield (value.id, safe_text(value.term.name), value.term.symbol, book.home[value.id], table_name(value.axes), value.unit_text(),
               safe_text(value.term.meaning), value.origin, standing_of(value), safe_text(formula_text(value)), " ".join(value.source_ids),
               pages.address(value.id))


def _item_rows(book: Book, axes: tuple[str, ...], values: Sequence[Value]) -> Iterator[Sequence[str]]:
    """A row for each item, or for each item of one list with each of another: ids, names, then a column a value."""
    items = values[0].items
    yield *(head for axis in axes for head in (axis, f"name of {item_words(axis)}")), *(_head(value) for value in values)
    columns = [[cell_of(value, number) for number in value.number.ravel().tolist()] for value in values]
    for ids, *cells in zip(product(*items), *columns):
        yield *(part for axis, item in zip(axes, ids) for part in (item, _name(book, axis, item))), *cells


def _head(value: Value) -> str:
    return f"{value.id} [{value.unit_text()}]" if value.unit_text() else value.id


def _name(book: Book, axis: str, item: str) -> str:
    return safe_text(book.names.get(axis, {}).get(item) or item_words(item))


def _input_rows(values: Sequence[Value]) -> Iterator[Sequence[str]]:
    yield "id", "element", "name", "written", "standing", "note", "file", "line"
    for value in values:
        for element, given in value.givens.items():
            yield value.id, element, safe_text(value.term.name), safe_text(given.written), given.standing, safe_text(given.note), given.file, str(given.line)


def _check_rows(book: Book, pages: Pages) -> Iterator[Sequence[str]]:
    yield "check", "title", "chapter", "verdict", "element", "value", "limit", "margin", "value id", "limit id", "why no verdict", "remark", "page"
    for one in book.checks:
        sides = [side.text() if side else "" for side in (one.value, one.limit)]
        missing = f"not given: {' '.join(one.missing)}" if one.missing else one.nothing_text
        yield (one.check.id, safe_text(one.check.title), catalogue().chapter_of.get(one.check.id, ""), one.word, one.element, *map(safe_text, sides),
               one.margin_text, one.check.value, one.check.limit, "" if one.decided else missing, safe_text(one.remark), pages.check_address(one.check))


def _source_rows(book: Book) -> Iterator[Sequence[str]]:
    yield "source", "kind", "citation", "how known", "note", "behind"
    for name, users in book.sources_used().items():
        source = sources()[name]
        yield name, source.kind, safe_text(source.citation), source.how_known, safe_text(source.note), " ".join(users)
