"""The data files of a book by name. The same book gives the same bytes, on whichever day."""

from __future__ import annotations

from collections.abc import Collection

from basis.export import book_data
from basis.export.calendar import book_calendar
from basis.export.pages import Pages
from basis.export.tables import tables
from basis.export.workbook import workbook
from basis.solving.book import Book

KINDS = ("json", "xlsx", "csv", "ics")
TABLES, WORKBOOK, CALENDAR = "tables", "book.xlsx", "book.ics"


def data_files(book: Book, pages: Pages, kinds: Collection[str] = KINDS) -> dict[str, bytes]:
    """Name -> content of the files of these kinds; a calendar only where the book has a day."""
    found = {}
    if "json" in kinds:
        found |= {book_data.NAME: book_data.json_text(book, pages), book_data.SCHEMA_NAME: book_data.schema_text()}
    if "csv" in kinds:
        found |= {f"{TABLES}/{name}": text for name, text in tables(book, pages).items()}
    if "ics" in kinds and (days := book_calendar(book)):
        found[CALENDAR] = days
    made = {name: text.encode("utf-8") for name, text in found.items()}
    return made | {WORKBOOK: workbook(book, pages)} if "xlsx" in kinds else made
