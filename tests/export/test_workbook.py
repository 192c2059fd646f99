"""The workbook of a book. Outside judges: LibreOffice computes every formula anew, openpyxl reads what stands in the file."""

import ast
import io
import math
import re

import numpy as np
import pytest
from conftest import SLUGS
from office import recomputed, with_number
from openpyxl import load_workbook
from pytest import approx
from stranger import changed, pages

from basis.export.spreadsheet import Translator
from basis.export.workbook import CHECKS, HEADS, workbook
from basis.language import maths, units
from basis.record.issuing import values_that_prove

SMALL = "cobble-key-exchange"
COLUMNS = {head: place for place, head in enumerate(HEADS)}
ID, SI, SHOWN, US, HOW = (COLUMNS[head] for head in ("Id", "SI value", "Shown", "US customary", "How"))


def cells(sheets: dict, chapters) -> dict[str, tuple]:
    """Address of each value or element -> its row."""
    return {row[ID]: row for chapter in chapters for row in sheets[chapter.id][3:] if row[ID]}


def agree(book, address: str, found) -> bool:
    """Whether a number is that of the book to 1e-9; of what proves the program, a difference of two alike numbers, to 1e-9 of its unit."""
    number, loose = book[address].number, address.partition(".")[0] in values_that_prove(book)
    return math.isclose(number, found, rel_tol=1e-9, abs_tol=1e-9 if loose else 0.0)


def shown_alike(number: float, found: float, unit: str) -> bool:
    """Whether what is shown in a unit is the number in SI; near the nought of a scale of temperature to 1e-9 of a degree."""
    return math.isclose(units.from_si(number, unit), found, rel_tol=1e-12, abs_tol=1e-9 if units.unit(unit).offset else 0.0)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_spreadsheet_computes_the_numbers_of_the_book(books, tmp_path, slug):
    book = books[slug]
    sheets = recomputed(workbook(book, pages(book)), tmp_path)
    rows = cells(sheets, book.chapters)
    live = {address: row for address, row in rows.items() if row[HOW] == "formula"}
    assert [(address, row[SI]) for address, row in live.items() if not isinstance(row[SI], (int, float)) or not agree(book, address, row[SI])] == []
    still = {address.partition(".")[0] for address, row in rows.items() if row[HOW].startswith("number: it")}
    assert len({address.partition(".")[0] for address in live}) > 1100 and len(still) <= 10, still  # what does not translate is the exception
    for address, row in rows.items():
        value = book.values[address.partition(".")[0]]
        if isinstance(row[SI], (int, float)) and value.term.kind != "date":
            assert shown_alike(row[SI], row[SHOWN], value.term.si_unit), address
            assert row[US] is None if not value.two_systems else shown_alike(row[SI], row[US], value.term.us_unit), address
    for row, one in zip(sheets[CHECKS][3:], book.checks, strict=True):
        assert row[0] == one.check.id and row[3] == one.word
        if one.decided:
            assert (row[4] == "met") == (one.word != "fails"), one.check.id


def test_every_value_stands_with_every_element_and_says_how(books):
    book = books[SMALL]
    made = load_workbook(io.BytesIO(workbook(book, pages(book))), read_only=True, data_only=True)
    rows = cells({sheet.title: list(sheet.iter_rows(values_only=True)) for sheet in made.worksheets}, book.chapters)
    short = [value for value in book.values.values() if "hour" not in value.axes]
    assert set(rows) >= {".".join((value.id, *ids)) for value in short for ids in value.elements()}
    assert {address.partition(".")[0] for address in rows} == set(book.values)
    assert all(row[HOW] for row in rows.values())
    assert {row[HOW] for address, row in rows.items() if book.values[address.partition(".")[0]].origin == "procedure"} <= \
        {"number: calculated by steps", "not given", "no item is listed", *(row[HOW] for row in rows.values() if row[HOW].startswith("does not exist"))}
    assert rows["outdoor_temperature_max"][SI] == approx(35 + 273.15) and rows["outdoor_temperature_max"][SHOWN] == approx(35)  # as typed in its plant.yaml


def test_an_input_that_is_changed_in_the_sheet_moves_what_rests_on_it(books, tmp_path):
    """The workbook with another altitude, against a book solved with that altitude; but where a number that does not run in the sheet should have moved."""
    book, new = books[SMALL], changed(tmp_path, SMALL, "plant.yaml", "altitude: 3 m\n", "altitude: 1200 m\n")
    content = workbook(book, pages(book))
    row = next(place for place, cell in enumerate(load_workbook(io.BytesIO(content), read_only=True)["plant"].iter_rows(values_only=True), start=1)
               if cell[ID] == "altitude")
    rows = cells(recomputed(with_number(content, f"E{row}", "3", "1200", tmp_path), tmp_path), book.chapters)
    stays = {address.partition(".")[0] for address, row in rows.items() if row[HOW] not in ("formula", "given", "default", "constant")}
    wrong = {value_id for value_id in stays if not np.array_equal(new.values[value_id].number, book.values[value_id].number)}
    for value in book.values.values():  # in order of computing
        if wrong & set(value.inputs):
            wrong.add(value.id)
    moved = [address for address, row in rows.items() if row[HOW] == "formula" and address.partition(".")[0] not in wrong
             and not math.isclose(new[address].number, book[address].number, rel_tol=1e-6)]
    assert len(moved) > 40 and "air_pressure" in moved
    off = [address for address, row in rows.items() if row[HOW] == "formula" and address.partition(".")[0] not in wrong and not agree(new, address, row[SI])]
    assert off == []


def test_links_lead_to_the_pages_and_names_to_the_cells(books):
    book = books[SMALL]
    made = load_workbook(io.BytesIO(workbook(book, pages(book))))
    plant = made["plant"]
    links = {cell.value: f"{cell.hyperlink.target}#{cell.hyperlink.location}" for cell in plant["A"][3:] if cell.hyperlink}
    assert links["altitude"] == "plant-inputs.html#altitude" and links["air_pressure"] == "plant-sheet.html#air_pressure"
    sheet, cell = next(made.defined_names["altitude"].destinations)
    assert made[sheet][cell].value == 3 and plant["A2"].hyperlink.target == "plant.html"
    assert list(made.sheetnames)[1:-4] == [chapter.id for chapter in book.chapters]


def test_words_of_a_project_never_run(tmp_path):
    book = changed(tmp_path, SMALL, "project.yaml", "name: Cobble Key", "name: =1+1 Cobble Key")
    made = load_workbook(io.BytesIO(workbook(book, pages(book))))
    cell = made.worksheets[0]["A1"]
    assert cell.value.startswith("=1+1") and cell.data_type != "f" or cell.data_type == "s"
    texts = [cell for sheet in made.worksheets for row in sheet.iter_rows() for cell in row if cell.data_type == "f" and cell.column_letter not in "EFGHI"]
    assert texts == []


def test_the_same_book_gives_the_same_bytes(books):
    assert workbook(books[SMALL], pages(books[SMALL])) == workbook(books[SMALL], pages(books[SMALL]))


EXPRESSIONS = ("-2.0**2", "(-2.0)**2", "2.0**-1.0", "2.0**3.0**2.0", "(2.0**3.0)**2.0", "10.0-(4.0-3.0)", "10.0-4.0-3.0", "24.0/(4.0/2.0)", "24.0/4.0/2.0",
               "2.0*(3.0+4.0)", "-(3.0+4.0)*2.0", "2.0-(-3.0)", "1.0 if 2.0 > 1.0 and not 3.0 < 2.0 else 0.0", "1.0 if 2.0 != 2.0 or 3.0 <= 2.0 else 0.0",
               "ceil(-1.5)", "ceil(1.2)", "floor(-1.5)", "floor(1.9)", "ceil(2.0**0.5)", "sqrt(abs(-9.0))", "log10(1000.0)",
               "log(10.0)", "exp(1.5)", "sin(0.5)",
               "cos(0.5)", "tan(0.5)", "asin(0.5)", "acos(0.5)", "atan(0.5)", "min(3.0, 2.0, 4.0)", "max(3.0, 2.0, 4.0)", "1e-07*3.0", "1.5*kW/h")


def test_signs_and_functions_mean_in_a_spreadsheet_what_they_mean_in_python(books, tmp_path):
    import xlsxwriter

    translator, file = Translator(books[SMALL], {}), io.BytesIO()
    made = xlsxwriter.Workbook(file, {"in_memory": True})
    sheet = made.add_worksheet("asked")
    for row, text in enumerate(EXPRESSIONS):
        sheet.write_formula(row, 0, f"={translator.formula(ast.parse(text, mode='eval').body, {})}")
    made.close()
    found = [row[0] for row in recomputed(file.getvalue(), tmp_path)["asked"]]
    space = {name: getattr(maths, name) for name in dir(maths)} | {"min": min, "max": max, "abs": abs}
    assert found == approx([float(eval(text, space)) for text in EXPRESSIONS], rel=1e-12)
    assert set(re.findall(r"[a-z]\w+(?=\()", " ".join(EXPRESSIONS))) == {*maths.PLAIN_FUNCTIONS, "sqrt", "abs", "min", "max"}
