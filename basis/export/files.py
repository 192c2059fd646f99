"""The data files of a book by name. The same book gives the same bytes, on whichever day."""

from __future__ import annotations

from collections.abc import Collection

from basis.export import book_data
from basis.export.calendar import book_calendar
from basis.export.pages import Pages
from basis.export.tables import tables
from basis.solving.book import Book

KINDS = {"json": "all of it as one JSON file, with its schema", "csv": "tables, one a list",
         "ics": "its days as a calendar"}  # -> what is written
TABLES, CALENDAR = "tables", "book.ics"


def data_files(book: Book, pages: Pages, kinds: Collection[str] = tuple(KINDS)) -> dict[str, bytes]:
    """Name -> content of the files of these kinds; a calendar only where the book has a day."""
    found = {}
    if "json" in kinds:
        found |= {book_data.NAME: book_data.json_text(book, pages), book_data.SCHEMA_NAME: book_data.schema_text()}
    if "csv" in kinds:
        found |= {f"{TABLES}/{name}": text for name, text in tables(book, pages).items()}
    if "ics" in kinds and (days := book_calendar(book)):
        found[CALENDAR] = days
    return {name: text.encode("utf-8") for name, text in found.items()}
