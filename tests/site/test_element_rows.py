"""Each element of a value has a working of its own: the rows in the file of a sheet, and how a reader opens them, in a real browser."""

import json
import re
from dataclasses import replace

import numpy as np
import pytest
from accessibility import faults

from basis.language import notation
from basis.site import element_rows
from basis.site.addresses import of_book
from basis.site.working import compact
from basis.solving.working import at_element, numbers_put_in

BOOK = "larkmere-hospital"
BREAKS = re.compile("</math> <math>| stretchy='false'|</?mrow>")  # where a line may be broken follows the length of the first such row,
NAMES = re.compile("<munder>(?!<mo>)|<mtext>([^<]*)</mtext></munder>")  # and so does whether a name stands under a whole term or its first factor


def rows_of(book, value_id):
    return element_rows.of_value(of_book(book, "x.html"), book[value_id], element_rows.Shown())


def words(markup):
    return " ".join(re.sub("<[^>]*>", "", markup).split())


def test_every_row_reads_as_if_it_were_written_by_itself(books):
    book, seen = books[BOOK], 0
    for value in filter(element_rows.has_rows, book.values.values()):
        rows = rows_of(book, value.id)
        assert len(rows.rows) == len(value.elements())
        for ids, row in zip(value.elements(), rows.rows):
            assert bool(row) == (ids[0] not in value.givens), (value.id, ids)
            expression = at_element(book.values, value, dict(zip(value.axes, ids)), book.names)
            if row and not notation.is_quantity(expression):
                alone = compact(notation.mathml(value.id, expression, numbers_put_in(book.values)))
                written = element_rows.put_together(rows.forms, row)
                assert NAMES.sub("", BREAKS.sub("", written)) == NAMES.sub("", BREAKS.sub("", alone)), (value.id, ids)
                assert NAMES.findall(written) == NAMES.findall(alone), (value.id, ids)
                seen += 1
    assert seen > 5000


def test_rows_that_read_alike_share_a_form(books):
    rows = rows_of(books[BOOK], "screening")  # over sources, receivers and bands; some have two edges
    assert len(rows.rows) > 500 and len(rows.forms) < 10


def test_the_numbers_of_an_element_give_its_result(books):
    # Dry air as an ideal gas, R = 287.053 J/(kg K) (U.S. Standard Atmosphere 1976): p / (R T), worked from what stands in the row, by hand
    book = books[BOOK]
    density, rows = book["test_air_density"], rows_of(book, "test_air_density")
    (_, pressure, constant, temperature), *_ = rows.rows
    assert words(element_rows.put_together(rows.forms, rows.rows[0])) == f"ρt = {pressure} kPa{constant} J/(kg·K)·{temperature} K".replace(" = ", " =")
    assert float(density.number.flat[0]) == pytest.approx(float(pressure) * 1000 / (float(constant) * float(temperature)), rel=5e-4)
    # Heat of a source: so many, each so much, and so much for each metre: each element with its own numbers
    heat, rows = book["heat_source_heat"], rows_of(book, "heat_source_heat")
    for place, (_, count, fixed, length, each) in enumerate(rows.rows):
        shown = float(count) * (float(fixed) * 1000 + float(length) * float(each))
        assert float(heat.number.flat[place]) == pytest.approx(shown, rel=5e-3)
    assert len({row[2] for row in rows.rows}) > 1


def test_the_file_of_a_sheet_holds_every_value_over_items(site, books):
    text = (site / BOOK / "ventilation-sheet.js").read_text("utf-8")
    values, axes = json.loads(text.removeprefix("basisRows(").removesuffix(");\n"))
    assert set(values["heat_to_room"]) == {"axes", "forms", "rows", "unit"}
    assert axes["heat_source"][1] == {item: books[BOOK].names["heat_source"].get(item) for item in books[BOOK].items["heat_source"]}
    assert not list((site / BOOK).glob("option-*.js"))


def test_an_element_is_opened_by_keyboard_and_shows_its_own_numbers(open_page, books):
    page = open_page(f"{BOOK}/ventilation-sheet.html")
    entry = page.locator("#heat_source_heat")
    named = books[BOOK].names["heat_source"]
    button = entry.get_by_role("button", name=named["exhaust_fittings"])
    before = words(entry.locator(".working math").last.inner_html())
    button.press("Enter")
    chosen = entry.get_by_role("combobox", name="Heat source")
    chosen.wait_for()
    assert chosen.evaluate("one => one === document.activeElement") and words(entry.locator(".working math").last.inner_html()) == before
    chosen.press("ArrowDown")
    shown = entry.locator("[aria-live]").inner_text()
    value = books[BOOK]["heat_source_heat"].element(books[BOOK].items["heat_source"][1])
    assert shown.endswith(f"=\u00a0{value.text()}") and books[BOOK]["heat_source_fixed"].element(value.id.split(".")[1]).text(unit=False) in shown
    assert faults(page) == []


def test_an_element_of_several_lists_is_chosen_from_each(open_page, books):
    page = open_page(f"{BOOK}/noise-sheet.html", width=390)
    entry = page.locator("#screening")
    entry.locator(".working button").click()
    entry.locator("select").nth(2).select_option("500_hz")
    book, value = books[BOOK], books[BOOK]["screening"]
    element = value.element(book.items["sound_source"][0], book.items["receiver"][0], "500_hz")
    assert entry.locator("[aria-live]").inner_text().endswith(f"=\u00a0{element.text()}")
    assert page.evaluate("document.documentElement.scrollWidth") == 390


def test_without_script_the_row_of_one_element_stands(open_page):
    page = open_page(f"{BOOK}/ventilation-sheet.html", script=False)
    entry = page.locator("#heat_source_heat .working")
    assert entry.locator("button").count() == 0 and entry.locator("math").count() == 2


INSTALLED = """names => names.some(name => {
    const pen = document.createElement('canvas').getContext('2d'), wide = font => { pen.font = font; return pen.measureText('mi(+').width };
    return wide(`40px "${name}", monospace`) !== wide('40px monospace') })"""


def test_the_maths_font_comes_where_mathematics_is_and_nowhere_else(open_page):
    loaded = "document.fonts.ready.then(fonts => [...fonts].filter(one => one.family.includes('Basis Book Math')).map(one => one.status))"
    sheet = open_page(f"{BOOK}/ventilation-sheet.html")
    if not sheet.evaluate(INSTALLED, ["Cambria Math", "STIX Two Math", "Libertinus Math", "Latin Modern Math"]):
        assert sheet.evaluate(loaded) == ["loaded"]
    assert open_page(f"{BOOK}/checks.html").evaluate(loaded) == ["unloaded"]


def test_brackets_stretch_with_what_they_hold(open_page):
    page = open_page(f"{BOOK}/noise-sheet.html")
    page.evaluate("document.fonts.ready")
    heights = "signs => signs.filter(one => one.textContent === '(').map(one => one.getBoundingClientRect().height)"
    found = page.locator("#screening .working > div:first-child mo").evaluate_all(heights)
    assert len(found) > 4 and max(found) > 3 * min(found)


def test_what_is_not_given_has_no_unit_in_a_row(books):
    """Of the elements of one value some may be known and others not: each row is as it reads by itself."""
    book = books[BOOK]
    power = book["load_demand_power"]
    blank = replace(power, number=np.where(np.arange(len(power.number)) == 0, np.nan, power.number))
    rows = rows_of(replace(book, values=book.values | {power.id: blank}), "load_demand_reactive_power")
    first, *others = [words(element_rows.put_together(rows.forms, row)) for row in rows.rows]
    assert "not given" in first and "not given kW" not in first
    assert all("kW" in row and "not given" not in row for row in others)
