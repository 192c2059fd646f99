"""The data files of a book by name. The same book gives the same bytes, on whichever day."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Collection

from basis.export import book_data
from basis.export.calendar import book_calendar
from basis.export.pages import Pages
from basis.export.tables import tables
from basis.export.workbook import workbook
from basis.solving.book import Book

KINDS = ("json", "xlsx", "csv", "ics")
TABLES, WORKBOOK, CALENDAR = "tables", "book.xlsx", "book.ics"
PACKED = f"{TABLES}.zip"
NO_DAY = (1980, 1, 1, 0, 0, 0)  # the first that an archive can tell: no clock
SAID = {book_data.NAME: "All of it as JSON", WORKBOOK: "A workbook whose formulas run", PACKED: "Tables as CSV", CALENDAR: "Days as a calendar"}


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


def packed(files: dict[str, bytes]) -> dict[str, bytes]:
    """The same with all tables in one archive, as they stand beside the pages of a book."""
    within = {name: content for name, content in files.items() if name.startswith(f"{TABLES}/")}
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as opened:
        for name, content in within.items():
            opened.writestr(zipfile.ZipInfo(name, NO_DAY), content, zipfile.ZIP_DEFLATED)
    return {name: content for name, content in files.items() if name not in within} | ({PACKED: archive.getvalue()} if within else {})
