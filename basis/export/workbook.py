"""A book as a workbook: a sheet a chapter, on it a row for each value or element of one, with formulas that run where they translate.

The cell in SI is the one that runs; what is shown beside it in customary units is made from it. An input may be changed there and what rests on it
moves, as far as formulas run: what stands as a number says why, and stays.
"""

from __future__ import annotations

import io
from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property

from basis.chapters import catalogue
from basis.export.pages import Pages
from basis.export.rows import Row, rows_of
from basis.export.spreadsheet import LISTS, TABLES, Place, Translator, cells_of, ids_name, named, sheet_name
from basis.export.values import long_axis
from basis.language import units
from basis.language.days import DAY_SECONDS
from basis.language.sources import sources
from basis.language.table import table
from basis.language.words import item_words
from basis.solving.book import Book
from basis.solving.lacking import told
from basis.solving.value import Value
from basis.solving.verdict import SAME, Verdict
from basis.solving.working import unit_of

COVER, CHECKS, SOURCES = "The book", "All checks", "All sources"  # with a blank, which no chapter has
HEADS = {"Id": 40, "Quantity": 34, "Item": 20, "Symbol": 11, "SI value": 17, "SI unit": 13, "Shown": 13, "Unit": 12, "US customary": 13, "US unit": 12,
         "How": 26, "Standing": 26, "Formula of the book": 50, "Source, or where it is given": 60}  # head -> width in characters
CHECK_HEADS = {"Check": 30, "What it asks": 50, "Chapter": 16, "In the book": 16, "In this sheet": 16, "SI value": 17, "must be": 9, "SI limit": 17,
               "SI unit": 12, "Margin in the book": 16, "Where, or why not": 60}
SOURCE_HEADS = {"Source": 34, "Citation": 80, "Kind": 18, "How known": 22, "Note": 80}
LIST_HEADS = {"List": 26, "Id": 30, "Name": 40}
FIRST_ROW = 4  # of what a sheet lists, counted from one: title, link, heads
MADE = datetime(2000, 1, 1)  # no clock: the same book gives the same bytes
NOTE_WIDTH, LINE = 100, 15  # of the notes on the first sheet, in characters; of a line, in points
A3 = 8  # number of the paper, as spreadsheets have it
SERIAL_FROM = 693594  # day of the calendar that spreadsheets number 0: 1899-12-30
LOOKS = {"head": {"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"}, "title": {"bold": True, "font_size": 14},
         "input": {"font_color": "#0000C0", "bg_color": "#FFFBE0"}, "still": {"font_color": "#606060", "italic": True}, "live": {}, "unit": {"indent": 1},
         "link": {"font_color": "#0050A0", "underline": 1}, "text": {}, "wrapped": {"text_wrap": True, "valign": "top"}}
READING = (
    "Numbers under SI value run; temperatures there are kelvins, days are seconds. A blue number on yellow is an input and may be tried out.",
    "A black number is computed in the sheet by the formula of the book. A grey slanted one stands as the book computed it, which the column How explains; "
    "it does not move when an input is changed, nor does what is shown of the verdict under In the book.",
    "Which arm of a formula runs where a plain choice decides it, and how many items a list has, is as the project says: change it there.",
    "What is changed here is a trial. The book is computed from the text of the project, and the text alone counts.")


def workbook(book: Book, pages: Pages) -> bytes:
    """The workbook of a book. The same book gives the same bytes."""
    import xlsxwriter  # here, since most builds and commands write none

    file = io.BytesIO()
    made = xlsxwriter.Workbook(file, {"in_memory": True})
    made.set_properties({"title": book.project.name, "created": MADE})
    _Writer(book, pages, made).write()
    made.close()
    return file.getvalue()


@dataclass
class _Writer:
    """A workbook while it is written."""

    book: Book
    pages: Pages
    made: object
    looks: dict[tuple, object] = field(default_factory=dict)  # name and form of numbers -> the look of a cell
    counted: Counter = field(default_factory=Counter)  # what stands how

    @cached_property
    def places(self) -> dict[str, Place]:
        """Where each value stands; one over too many items for rows has no place."""
        found = {}
        for chapter in self.book.chapters:
            row = FIRST_ROW
            for value in self.book.of_chapter(chapter.id):
                if long_axis(value) or not value.elements():
                    row += 1
                    continue
                found[value.id] = Place(sheet_name(chapter.id), row)
                row += len(value.elements())
        return found

    def write(self) -> None:
        """All sheets, and the names of cells."""
        cover, translator = self.made.add_worksheet(COVER), Translator(self.book, self.places)
        expressions = {step.yields[0]: step.expression for step in self.book.steps if step.expression is not None}
        for chapter in self.book.chapters:
            translator.sheet = sheet_name(chapter.id)
            sheet = self._sheet(translator.sheet, chapter.title, HEADS, self.pages.chapter_address(chapter.id))
            lines = (line for value in self.book.of_chapter(chapter.id) for line in rows_of(self.book, value, expressions.get(value.id), translator))
            for place, line in enumerate(lines, start=FIRST_ROW - 1):
                self._write_row(sheet, place, line)
        translator.sheet = ""
        self._write_checks(translator)
        self._write_sources()
        self._write_lists()
        self._write_tables(translator)
        for value_id in filter(named, self.places):
            self.made.define_name(value_id, cells_of(self.book.values[value_id], self.places[value_id]))
        self._write_cover(cover)

    def _sheet(self, name: str, title: str, heads: dict[str, int], page: str = ""):
        """A sheet with title, link to its page, and heads that stay."""
        sheet = self.made.add_worksheet(name)
        sheet.write_string(0, 0, title, self._look("title"))
        if page:
            self._link(sheet, 1, 0, page, f"Page of the book: {page}")
        for column, (head, width) in enumerate(heads.items()):
            sheet.set_column(column, column, width)
            sheet.write_string(FIRST_ROW - 2, column, head, self._look("head"))
        sheet.freeze_panes(FIRST_ROW - 1, 1)
        sheet.set_landscape()
        sheet.fit_to_pages(1, 0)
        sheet.repeat_rows(FIRST_ROW - 2)
        sheet.set_paper(A3)
        sheet.set_footer("&L&A&RPage &P of &N")
        return sheet

    def _write_row(self, sheet, place: int, row: Row) -> None:
        value, term = row.value, row.value.term
        if row.first:
            self._link(sheet, place, 0, self.pages.address(value.id), row.id)
        else:
            sheet.write_string(place, 0, row.id)
        self._texts(sheet, place, 1, (term.name, row.item, term.symbol))
        self._number(sheet, place, row)
        self._texts(sheet, place, 5, (_unit(value),), "unit")
        self._shown(sheet, place, 6, row, "si")
        if value.two_systems:
            self._shown(sheet, place, 8, row, "us")
        self._texts(sheet, place, 10, (row.how, row.standing, row.formula, row.source))

    def _number(self, sheet, place: int, row: Row) -> None:
        """The cell in SI, and count how it stands."""
        look = self._look("input" if row.is_input else "live" if row.live else "still")
        self.counted["formula" if row.live else row.how if row.number is not None else "nothing known"] += 1
        if row.live:
            sheet.write_formula(place, 4, f"={row.live}", look, row.number)
        elif isinstance(row.number, float):
            sheet.write_number(place, 4, row.number, look)
        else:
            sheet.write_string(place, 4, row.number if row.number is not None else row.how, look)

    def _shown(self, sheet, place: int, column: int, row: Row, system: str) -> None:
        """The same in the unit shown, made from the cell in SI."""
        value, cell = row.value, f"E{place + 1}"
        if not isinstance(row.number, float):
            shown = value.shown(row.number) if row.number else ""
            self._texts(sheet, place, column, (shown if shown != row.number else "",))  # a word as readers see it, if that is another
            return
        if value.term.kind == "date":
            shown, formula, form = row.number / DAY_SECONDS - SERIAL_FROM, f"{cell}/{DAY_SECONDS:g}-{SERIAL_FROM}", "yyyy-mm-dd"
        else:
            unit = units.unit(value.term.si_unit if system == "si" else value.term.us_unit)
            shown = units.from_si(row.number, unit.text)
            minus = f"({cell}-{unit.offset!r})" if unit.offset else cell
            formula, form = f"{minus}/{unit.factor!r}" if unit.factor != 1 else minus, _form(shown, value)
        sheet.write_formula(place, column, f"={formula}", self._look("live", form), shown)
        self._texts(sheet, place, column + 1, (value.unit_text(system),), "unit")

    def _write_checks(self, translator: Translator) -> None:
        sheet = self._sheet(CHECKS, CHECKS, CHECK_HEADS, "checks.html")
        for place, one in enumerate(self.book.checks, start=FIRST_ROW - 1):
            self._link(sheet, place, 0, self.pages.check_address(one.check), one.check.id)
            self._texts(sheet, place, 1, (one.check.title, catalogue().chapter_of.get(one.check.id, ""), one.word))
            if one.decided:
                self._sides(sheet, place, one, translator)
            why = told(self.book, one.missing) if one.word == "undecided" else one.nothing_text
            self._texts(sheet, place, 9, (one.margin_text, one.element or why))

    def _sides(self, sheet, place: int, one: Verdict, translator: Translator) -> None:
        """Value and limit as the sheets of the chapters have them now, and whether the limit is met."""
        row, below = place + 1, one.check.safe == "below"
        for column, side in ((5, one.value), (7, one.limit)):
            term_id, *ids = side.id.split(".")
            sheet.write_formula(place, column, f"={translator.cell(self.book.values[term_id], tuple(ids))}", self._look("live"), float(side.number))
        value, limit = float(one.value.number), float(one.limit.number)
        over, beyond = (value - limit, f"F{row}-H{row}") if below else (limit - value, f"H{row}-F{row}")
        met = "met" if over <= SAME * (abs(limit) or 1.0) else "not met"  # what is less is rounding, as in the book
        sheet.write_formula(place, 4, f'=IF({beyond}<={SAME!r}*IF(H{row}=0,1,ABS(H{row})),"met","not met")', self._look("live"), met)
        self._texts(sheet, place, 6, ("≤" if below else "≥",))
        self._texts(sheet, place, 8, (_unit(one.value),), "unit")

    def _write_sources(self) -> None:
        sheet = self._sheet(SOURCES, SOURCES, SOURCE_HEADS, "sources.html")
        for place, name in enumerate(self.book.sources_used(), start=FIRST_ROW - 1):
            source = sources()[name]
            self._texts(sheet, place, 0, (name, source.citation, source.kind, source.how_known, source.note))

    def _write_lists(self) -> None:
        """The items of every list, which references name."""
        sheet, row = self._sheet(LISTS, LISTS, LIST_HEADS), FIRST_ROW
        for axis in sorted({axis for value_id in self.places for axis in self.book.values[value_id].axes}):
            items = self.book.items[axis]
            for place, item in enumerate(items, start=row - 1):
                self._texts(sheet, place, 0, (axis, item, self.book.names.get(axis, {}).get(item) or item_words(item)))
            self.made.define_name(ids_name(axis), f"='{LISTS}'!$B${row}:$B${row + len(items) - 1}")
            row += len(items)

    def _write_tables(self, translator: Translator) -> None:
        """The rows, in SI, of every table that a formula looks into."""
        sheet = self._sheet(TABLES, TABLES, {"In SI": 30} | dict.fromkeys(map(str, range(2, 13)), 14))
        for table_id, row in translator.tables.items():
            used = table(table_id)
            sheet.write_string(row - 3, 0, f"{used.title} ({sources()[used.source].citation})", self._look("title"))
            for column, name in enumerate(used.columns):
                sheet.write_string(row - 2, column, f"{name} [{used.units[name]}]", self._look("head"))
                for place, cell in enumerate(used.columns[name], start=row - 1):
                    if cell == cell:
                        (sheet.write_string if isinstance(cell, str) else sheet.write_number)(place, column, cell, self._look("still"))

    def _write_cover(self, sheet) -> None:
        sheet.set_column(0, 0, 60)
        sheet.set_column(1, 1, NOTE_WIDTH)
        sheet.fit_to_pages(1, 0)
        sheet.write_string(0, 0, self.book.project.name, self._look("title"))
        facts = [(term.capitalize().replace("_", " "), str(self.book.values[term].text())) for term in ("document_number", "revision", "revision_date")
                 if term in self.book.values]
        notes = [("Invented", "Everything in this book is invented; do not build from it.")] if self.book.project.invented else []
        counts = [(f"Cells: {how}", str(count)) for how, count in sorted(self.counted.items(), key=lambda one: -one[1])]
        row = 1
        for head, text in (*facts, *notes, ("Still open", self.book.still_open), *(("", text) for text in READING), *counts):
            self._texts(sheet, row, 0, (head,))
            sheet.write_string(row, 1, text, self._look("wrapped"))
            sheet.set_row(row, LINE * (1 + len(text) // NOTE_WIDTH))
            row += 1
        titles = {sheet_name(chapter.id): chapter.title for chapter in self.book.chapters} | dict.fromkeys((CHECKS, SOURCES, LISTS, TABLES), "")
        for name, title in titles.items():
            sheet.write_url(row, 0, f"internal:'{name}'!A1", self._look("link"), name)
            self._texts(sheet, row, 1, (title,))
            row += 1

    def _texts(self, sheet, row: int, column: int, texts: tuple, look: str = "text") -> None:
        """Words as words, whatever they begin with."""
        for place, text in enumerate(texts, start=column):
            if text:
                sheet.write_string(row, place, text, self._look(look))

    def _link(self, sheet, row: int, column: int, address: str, text: str) -> None:
        sheet.write_url(row, column, address if "://" in address else f"external:{address}", self._look("link"), text)

    def _look(self, name: str, form: str = "General"):
        if (name, form) not in self.looks:
            self.looks[name, form] = self.made.add_format({**LOOKS[name], "num_format": form})
        return self.looks[name, form]


def _unit(value: Value) -> str:
    """The unit of the cell in SI as readers see it; a day counts in seconds."""
    return "" if value.term.is_text else "s" if value.term.kind == "date" else units.pretty(unit_of(value))


def _form(number: float, value: Value) -> str:
    """The form of a number with as many digits as the book shows."""
    shown = units.format_number(number, value.term.digits)
    if "×" in shown:
        return f"0.{'0' * (value.term.digits - 1)}E+00"
    decimals = len(shown.partition(".")[2])
    return f"#,##0.{'0' * decimals}" if decimals else "#,##0"
