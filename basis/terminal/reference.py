"""What `show` opens that a book only refers to: a list, a table, a source; with what in a book rests on it, or as the program has it.

Tells what is there; computes nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from basis.chapters import catalogue
from basis.language import units
from basis.language.sources import sources
from basis.language.table import RULES, Table, heads, table
from basis.language.terms import lists_by_key, terms
from basis.language.words import item_words
from basis.reading.schema import Field
from basis.solving.book import Book
from basis.solving.working import tables_used
from basis.terminal.finding import project_keys

MOST = 40  # rows, names or elements in one place


@dataclass(frozen=True)
class Opened:
    """One thing as lines and as plain data."""

    kind: str
    lines: tuple[str, ...]
    record: dict


def names_told(names: Iterable[str]) -> str:
    """Ids in one line; of many the first."""
    names = list(names)
    more = f" and {len(names) - MOST} more" if len(names) > MOST else ""
    return f"{', '.join(names[:MOST])}{more}"


def a_list(name: str, book: Book | None) -> Opened | None:
    """The list of that key with its items, and the keys of an item. None where there is none."""
    one = lists_by_key().get(name)
    if one is None:
        return None
    items = {item: book.names.get(one.axis, {}).get(item) or item_words(item) for item in book.items.get(one.axis, ())} if book else {}
    along = [term.id for term in terms().values() if term.own_axes[:1] == (one.axis,) and term.id not in catalogue().producers]
    head = f"{len(items)} in {book.project.slug}" if book else "a list of a project"
    told_lines = [f"{name}: {head}", *(f"  {item}: {words}" for item, words in items.items()), f"  keys of an item: {names_told(along) or 'none'}"]
    return Opened("list", tuple(told_lines), {"kind": "list", "id": name, "axis": one.axis, "items": items, "keys": along})


def a_key(name: str, book: Book | None) -> Opened | None:
    """A key of a project, or of what may be said of a value, with the fields of what stands under it. None where there is none."""
    if name not in project_keys():
        return None
    declared, one = project_keys()[name]
    fields = one.of.fields if one.of else ()
    words = [f"  one of {', '.join(one.words)}"] if one.words else []
    told_lines = [f"{name}: {one.meaning}", f"  in {declared.entry}, {one.kind}{_such_as(one)}", *words,
                  *(f"  {field.key}{' (must stand)' if field.required else ''}: {field.meaning}{_such_as(field)}" for field in fields)]
    return Opened("key", tuple(told_lines), {
        "kind": "key", "id": name, "meaning": one.meaning, "of": declared.entry, "written": one.kind, "words": list(one.words), "example": one.example,
        "fields": [{"key": field.key, "meaning": field.meaning, "required": field.required, "example": field.example} for field in fields]})


def _such_as(field: Field) -> str:
    return f" Such as: {field.example}" if field.example else ""


def a_table(name: str, book: Book | None) -> Opened | None:
    """The table of that id with its rows, and who reads it. None where there is none."""
    if name not in heads():
        return None
    one, source = table(name), sources()[table(name).source]
    readers = [value.id for value in book.values.values() if any(used.id == name for used, _ in tables_used(book.values, value))] if book else []
    rows = [[_cell(one, column, cell) for cell in cells] for column, cells in one.columns.items()]
    told_lines = [f"{name}: {one.title}", *([f"  {one.note}"] if one.note else []), f"  source {source.citation} ({source.how_known})",
                  f"  entered with {one.key}: {RULES[one.rule]}", *([f"  read by {names_told(readers) or 'nothing in this book'}"] if book else []),
                  *(f"  {line}" for line in _grid([_heading(one, column) for column in one.columns], rows))]
    return Opened("table", tuple(told_lines), {
        "kind": "table", "id": name, "title": one.title, "note": one.note, "source": one.source, "key": one.key, "rule": one.rule, "units": one.units,
        "columns": {column: list(cells) for column, cells in zip(one.columns, rows)}, "read_by": readers})


def _heading(one: Table, column: str) -> str:
    unit = one.units[column]
    return f"{item_words(column)}{'' if unit in ('text', '1') else f' [{units.pretty(unit)}]'}"


def _cell(one: Table, column: str, cell) -> str:
    if isinstance(cell, str):
        return cell
    return "–" if cell != cell else f"{units.from_si(cell, one.units[column]):.6g}"


def _grid(heads_of: list[str], columns: list[list[str]]) -> Iterator[str]:
    """Columns as aligned lines; of a long table the first rows."""
    widths = [max(map(len, (head, *cells))) for head, cells in zip(heads_of, columns)]
    rows = list(zip(*columns))
    for row in (heads_of, *rows[:MOST]):
        yield "  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths)).rstrip()
    if len(rows) > MOST:
        yield f"… and {len(rows) - MOST} more rows"


def a_source(name: str, book: Book | None) -> Opened | None:
    """The source of that id, and what rests on it. None where there is none."""
    one = sources().get(name)
    if one is None:
        return None
    resting = list(book.sources_used().get(name, ())) if book else _citing(name)
    told_lines = [f"{name}: {one.citation}", f"  {one.kind}, {one.how_known}", *([f"  {one.note}"] if one.note else []),
                  f"  {'used in this book by' if book else 'used by'} {names_told(resting) or 'nothing'}"]
    return Opened("source", tuple(told_lines), {"kind": "source", "id": name, "citation": one.citation, "kind_of_source": one.kind,
                                                "how_known": one.how_known, "note": one.note, "used_by": resting})


def _citing(source_id: str) -> list[str]:
    """Ids of the formulas, checks, quantities with a default, and tables that cite it."""
    declared = [one for some in (*catalogue().formulas.values(), *catalogue().checks.values()) for one in some]
    return [*(one.id for one in declared if source_id in one.sources), *(term.id for term in terms().values() if term.source == source_id),
            *(table_id for table_id in heads() if table(table_id).source == source_id)]
