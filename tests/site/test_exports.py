"""Schedules: long tables of items sort and filter on the page, and stand beside it as CSV with the numbers of the book."""

import csv
import io
from pathlib import Path

import numpy as np
import pytest
from accessibility import faults
from page_tree import read
from pypdf import PdfReader
from pytest import approx

from basis.export.tables import safe_text
from basis.language.units import from_si
from basis.site import addresses as addressing
from basis.site import exports

BOOK = "larkmere-hospital"
PAGE = f"{BOOK}/loads.html"
CSV = "loads-load.csv"


def table_of(text):
    """Head and rows of a file, as a spreadsheet reads it."""
    assert text.startswith("\ufeff")  # else spreadsheets misread m³
    head, *rows = csv.reader(io.StringIO(text.removeprefix("\ufeff")))
    assert all(len(row) == len(head) for row in rows)
    return head, rows


@pytest.fixture(scope="module")
def addresses(books):
    return addressing.of_book(books[BOOK], "loads.html", addressing.Workshop())


def schedule(addresses, axis, *names):
    """The markup of a schedule and the file that it asked for."""
    markup = exports.schedule(addresses, axis, [addresses.book[name] for name in names])
    return read(str(markup)), exports.files(addresses)


# ---- numbers ----

def test_numbers_of_the_file_are_those_of_the_values(addresses):
    markup, files = schedule(addresses, "load", "load_connected_power", "load_power_factor", "load_service", "load_step_joined")
    head, rows = table_of(files[f"{BOOK}/{CSV}"])
    assert head[:2] == ["id", "Load"] and "Connected power P_c, kW" in head
    power, joined = head.index("Connected power P_c, kW"), head.index("Step")
    assert [row[0] for row in rows] == list(addresses.book.items["load"])
    for row in rows:
        value = addresses.book[f"load_connected_power.{row[0]}"]
        assert float(row[power]) * 1e3 == approx(value.number, rel=1e-11)
        assert row[joined] == addresses.book.names["load_step"][addresses.book[f"load_step_joined.{row[0]}"].number]
    theatres = rows[[row[0] for row in rows].index("theatres")]
    assert theatres[power] == "260"  # as the project's load schedule says: 260 kW
    assert markup.all("p", "export")[0].all("a")[0].attributes["href"] == CSV


def test_every_file_of_the_site_holds_the_numbers_of_its_book(site, books):
    seen = 0
    for path in sorted(path for path in site.rglob("*.csv") if path.name not in ("compliance.csv", "checks.csv")):  # those hold words
        book = books[path.parent.name]
        head, rows = table_of(path.read_text("utf-8"))
        axis = path.stem.split("-", 1)[1] if path.stem.startswith("index-") else next(axis for axis in book.items if path.stem.endswith(f"-{axis}"))
        assert [row[0] for row in rows] == list(book.items[axis])
        titles = {}
        for value in book.values.values():
            if value.axes == (axis,):
                for system, unit in (("si", value.term.si_unit), ("us", value.term.us_unit)):
                    named = f"{value.term.name} {value.term.symbol}".strip()
                    titles.setdefault(f"{named}, {value.unit_text(system)}" if value.unit_text(system) else named, (value, unit))
        for column, title in enumerate(head[2:], start=2):
            value, unit = titles[title]
            for row in rows:
                element = value.element(row[0])
                if value.term.is_text:
                    continue
                if np.isnan(element.number):
                    assert row[column] == ""
                else:
                    assert float(row[column]) == approx(float(from_si(element.number, unit)), rel=1e-11, abs=1e-300), (path.name, title, row[0])
                    seen += 1
    assert seen > 200


def test_both_unit_systems_stand_side_by_side(books):
    addresses = addressing.of_book(books["high-tarn-waterworks"], "plant.html", addressing.Workshop())
    value = next(value for value in addresses.book.values.values() if len(value.axes) == 1 and value.two_systems and len(value.items[0]) > exports.SHORT)
    _, files = schedule(addresses, value.axes[0], value.id)
    head, rows = table_of(next(iter(files.values())))
    si, us = (head.index(f"{value.term.name} {value.term.symbol}, {value.unit_text(system)}") for system in ("si", "us"))
    for row in rows:
        number = value.element(row[0]).number
        if not np.isnan(number):
            assert float(row[si]) == approx(float(from_si(number, value.term.si_unit))) and float(row[us]) == approx(float(from_si(number, value.term.us_unit)))


# ---- what is made ----

def test_tables_of_one_axis_on_a_page_share_one_file(books):
    addresses = addressing.of_book(books[BOOK], "loads.html", addressing.Workshop())
    schedule(addresses, "load", "load_connected_power")
    _, files = schedule(addresses, "load", "load_power_factor", "load_connected_power")
    assert list(files) == [f"{BOOK}/{CSV}"]
    assert table_of(files[f"{BOOK}/{CSV}"])[0] == ["id", "Load", "Connected power P_c, kW", "Power factor of the load λ_L"]


def test_a_short_table_stays_plain(books):
    addresses = addressing.of_book(books[BOOK], "loads.html", addressing.Workshop())
    assert len(books[BOOK].items["running_case"]) <= exports.SHORT
    markup, files = schedule(addresses, "running_case", "set_load")
    assert not files and not markup.all(class_="schedule") and not markup.all("a", href=CSV)


@pytest.mark.parametrize("text, safe", [("=1+1", "'=1+1"), ("@sum", "'@sum"), ("-2", "'-2"), ("+3", "'+3"), ("North, yard", "North, yard")])
def test_text_of_a_project_is_no_formula_of_a_spreadsheet(text, safe):
    assert safe_text(text) == safe


def test_every_schedule_of_the_site_leads_to_its_file(site):
    found = 0
    for path, text in ((path, path.read_text("utf-8")) for path in sorted(site.rglob("*.html"))):
        for box in read(text).all("div", "schedule") if 'class="export"' in text else ():
            if "data-chapters" in box.attributes or not box.all("p", "export"):  # what is open or only named has no file
                continue
            link = box.all("p", "export")[0].all("a")[0]
            _, rows = table_of((path.parent / link.attributes["href"]).read_text("utf-8"))
            assert len(rows) == len(box.all("tbody")[0].all("tr")) > exports.SHORT
            found += 1
    assert found > 3


# ---- in the browser ----

def heads(page):
    return page.locator(".schedule").first.locator("thead th")


def column(page, number):
    return page.locator(".schedule").first.locator(f"tbody tr:not(.out) > :nth-child({number})").all_inner_texts()


def numbers(texts):
    return [float(text.replace("\u202f", "").replace("−", "-")) for text in texts]


def test_heads_sort_by_keyboard_and_say_so(open_page):
    page = open_page(PAGE)
    listed, power = column(page, 1), numbers(column(page, 2))
    button = heads(page).nth(1).get_by_role("button")
    button.focus()
    page.keyboard.press("Enter")
    assert numbers(column(page, 2)) == sorted(power) and heads(page).nth(1).get_attribute("aria-sort") == "ascending"
    page.keyboard.press("Space")
    assert numbers(column(page, 2)) == sorted(power, reverse=True) and heads(page).nth(1).get_attribute("aria-sort") == "descending"
    heads(page).nth(0).get_by_role("button").click()
    assert [text.lower() for text in column(page, 1)] == sorted(text.lower() for text in listed)
    assert heads(page).nth(1).get_attribute("aria-sort") is None
    heads(page).nth(0).get_by_role("button").click()
    heads(page).nth(0).get_by_role("button").click()
    assert column(page, 1) == listed and page.locator("[aria-sort]").count() == 0  # as the project lists them


def test_sorting_is_the_same_in_both_unit_systems(open_page):
    page = open_page(PAGE)
    heads(page).nth(1).get_by_role("button").click()
    before = column(page, 1)
    page.get_by_role("button", name="US customary").click()
    assert column(page, 1) == before


def test_a_row_without_number_stays_last(open_page):
    page = open_page(PAGE)
    page.evaluate("""() => { const cell = document.querySelector('.schedule tbody tr').cells[1]; delete cell.dataset.key;
                             cell.innerHTML = '<span class="mark">not given</span>'; }""")
    for _ in range(2):
        heads(page).nth(1).get_by_role("button").click()
        assert column(page, 2)[-1] == "not given"


def test_the_filter_keeps_rows_that_hold_every_word(open_page):
    page = open_page(PAGE)
    box, listed = page.locator(".schedule").first, column(page, 1)
    word = listed[2].split()[0].lower()
    field = box.get_by_role("searchbox")
    field.fill(word)
    kept = column(page, 1)
    assert listed[2] in kept and len(kept) < len(listed)
    assert box.locator("output").inner_text() == f"{len(kept)} of {len(listed)}"
    field.fill(f"{word} nothing-of-the-kind")
    assert column(page, 1) == []
    field.fill("")
    assert column(page, 1) == listed and box.locator("output").inner_text() == ""


def test_print_gives_every_row_and_no_controls(open_page, tmp_path):
    page = open_page(PAGE)
    listed = column(page, 1)
    page.locator(".schedule").first.get_by_role("searchbox").fill(listed[0])
    page.pdf(path=str(tmp_path / "page.pdf"))
    text = " ".join("\n".join(one.extract_text() for one in PdfReader(tmp_path / "page.pdf").pages).split())
    assert all(" ".join(name.split()) in text for name in listed)
    assert "Rows with" not in text and "as CSV" not in text and "↕" not in text


def test_without_script_the_table_is_whole_and_its_file_is_linked(open_page):
    page = open_page(PAGE, script=False)
    assert page.locator(".schedule").first.locator("tbody tr").count() > exports.SHORT
    assert page.locator(".schedule button, .schedule input").count() == 0
    assert page.locator(".schedule .export a").first.get_attribute("href") == CSV


def test_the_file_comes_from_a_folder(open_page):
    page = open_page(PAGE)
    with page.expect_download() as waiting:
        page.locator(".schedule .export a").first.click()
    assert waiting.value.suggested_filename == CSV
    assert table_of(Path(waiting.value.path()).read_text("utf-8"))[0][0] == "id"


@pytest.mark.parametrize("width, scheme", [(1280, "light"), (360, "dark")])
def test_axe_finds_nothing_in_a_sorted_and_filtered_schedule(open_page, width, scheme):
    page = open_page(PAGE, width=width, scheme=scheme)
    heads(page).nth(1).get_by_role("button").click()
    page.locator(".schedule").first.get_by_role("searchbox").fill("a")
    assert page.evaluate("document.documentElement.scrollWidth") == width
    assert faults(page) == []
