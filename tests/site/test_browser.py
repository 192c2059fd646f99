"""The site in a real browser, opened from a folder with the network off: following a number, units, search, card, phone, print, axe.

Every test also fails on a request that leaves the folder and on an error of a script.
"""

import re

import pytest
from accessibility import faults
from pypdf import PdfReader

from basis.site.figure import LETTERS

BOOK = "larkmere-hospital"
KINDS = {"books": "index.html", "front": f"{BOOK}/index.html", "chapter": f"{BOOK}/ventilation.html", "sheet": "cobble-key-exchange/loads-sheet.html",
         "inputs": f"{BOOK}/noise-inputs.html", "options": f"{BOOK}/options.html", "checks": f"{BOOK}/checks.html", "assumptions": f"{BOOK}/assumptions.html",
         "sources": f"{BOOK}/sources.html", "terms": f"{BOOK}/terms.html"}


def test_a_number_is_followed_from_chapter_to_formula_to_given_and_back(open_page):
    page = open_page(f"{BOOK}/loads.html")
    number = page.locator("a.n[href='loads-sheet.html#set_site_power']").first
    shown = number.inner_text()
    number.click()
    entry = page.locator("#set_site_power")
    entry.wait_for(state="visible")
    assert page.url.endswith("loads-sheet.html#set_site_power")
    entry.locator("math").first.wait_for(state="visible")
    assert shown in entry.inner_text()
    for way, step in (("", "formula_site_power"), ("", "engine_site_power"), ("loads-inputs.html", "set_rated_power")):
        entry.locator(f"a[href='{way}#{step}']").first.click()
        entry = page.locator(f"[id='{step}']")
        entry.wait_for(state="visible")
        assert page.url.endswith(f"#{step}") and entry.bounding_box()["y"] >= 40  # not under the head of the page
    assert re.search(r"loads\.yaml:\d+", entry.inner_text()) and "stated" in entry.inner_text()
    entry.locator("a[href='loads-sheet.html#engine_site_power']").first.click()
    page.go_back()
    page.go_back()
    page.go_back()
    page.go_back()
    page.go_back()
    assert page.url.endswith("loads.html")


def test_a_number_of_a_row_leads_where_its_head_does(open_page):
    page = open_page(f"{BOOK}/noise.html")
    row = page.locator("tbody tr:has(a.row):visible").first
    wanted = row.locator("a.row").get_attribute("href")
    assert row.get_by_role("rowheader").count() == 1 and row.locator("xpath=ancestor::table").get_by_role("columnheader").count() > 2
    row.locator("td").nth(0).hover()  # brings it into view
    row.locator("td").nth(1).hover()
    page.wait_for_selector("#card:popover-open")
    row.locator("td").nth(1).click()
    page.wait_for_url(re.compile(re.escape(wanted) + "$"))
    page.locator(f"[id='{wanted.split('#')[1]}']").wait_for(state="visible")


def test_a_number_of_a_turned_table_leads_where_the_head_of_its_column_does(open_page):
    page = open_page(f"{BOOK}/dips.html")
    page.locator(".drawing details").first.evaluate("one => { one.open = true }")
    table = page.locator("table.turned:has(a.row)").first
    wanted = table.locator("thead th").nth(2).locator("a.row").get_attribute("href")
    table.locator("tbody tr").nth(3).locator("td").nth(1).click()
    page.wait_for_url(re.compile(re.escape(wanted) + "$"))
    page.locator(f"[id='{wanted.split('#')[1]}']").wait_for(state="visible")


def test_a_number_is_followed_to_its_source(open_page):
    page = open_page(f"{BOOK}/loads-sheet.html#power_adjustment")
    page.locator("#power_adjustment a[href^='sources.html']").first.click()
    page.wait_for_url(re.compile(r"sources\.html#source-"))
    page.locator(f"[id='{page.url.split('#')[1]}']").wait_for(state="visible")


def test_units_switch_and_are_remembered(open_page):
    page = open_page(f"{BOOK}/plant.html")
    number = page.locator("a.n[href='plant-inputs.html#altitude']").first
    assert number.inner_text() == "60.0 m"
    page.get_by_role("button", name="US customary").click()
    assert number.inner_text() == "197 ft"  # 60 m / 0.3048 m/ft = 196.85 ft
    assert page.get_by_role("button", name="US customary").get_attribute("aria-pressed") == "true"
    page.goto(page.url.replace("plant.html", "terms.html"))
    assert page.evaluate("document.documentElement.dataset.units") == "us"


def test_search_finds_a_quantity_by_keyboard(open_page):
    page = open_page(f"{BOOK}/index.html")
    field = page.get_by_role("combobox", name="Find in the book")
    field.fill("site power")
    page.wait_for_selector("#found a")
    field.press("ArrowDown")
    field.press("Enter")
    page.wait_for_url(re.compile(r"-sheet\.html#"))
    assert "site_power" in page.url


def test_search_on_the_page_of_all_books_names_the_book(open_page):
    page = open_page("index.html")
    page.get_by_role("combobox").fill("altitude")
    page.wait_for_selector("#found a")
    found = " ".join(page.locator("#found li").all_inner_texts())
    assert "Larkmere" in found and "High Tarn" in found
    page.locator("#found a", has_text="High Tarn").first.click()
    assert "high-tarn-waterworks/plant-inputs.html#altitude" in page.url


def test_the_card_comes_on_focus_and_goes_on_escape(open_page):
    page = open_page(f"{BOOK}/loads.html")
    page.locator("a.n[href='loads-sheet.html#set_site_power']").first.focus()
    page.wait_for_selector("#card:popover-open")
    assert "Site power of a set" in page.locator("#card").inner_text()
    page.keyboard.press("Escape")
    assert page.locator("#card:popover-open").count() == 0


def test_without_script_both_unit_systems_are_read_and_links_work(open_page):
    page = open_page(f"{BOOK}/plant.html", script=False)
    number = page.locator("a.n[href='plant-inputs.html#altitude']").first
    assert "60.0 m" in number.inner_text() and "197 ft" in number.inner_text()
    assert not page.locator(".switch").first.is_visible() and not page.locator(".find").is_visible()
    number.click()
    assert page.url.endswith("plant-inputs.html#altitude")


@pytest.mark.parametrize("address", KINDS.values(), ids=KINDS)
def test_no_page_is_wider_than_a_phone(open_page, address):
    page = open_page(address, width=360, height=740)
    assert page.evaluate("document.documentElement.scrollWidth") == 360


@pytest.mark.parametrize("chapter", ["loads", "noise", "ventilation", "voltage", "warmth"])
def test_the_letters_of_every_figure_can_be_read_on_a_phone(open_page, chapter):
    page = open_page(f"{BOOK}/{chapter}.html", width=360, height=740)
    heights = page.locator(".drawing svg text").evaluate_all("texts => texts.map(one => parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().a)")
    upright = [height for height in heights if height > 0]  # a turned name of an axis has no level scale
    assert len(upright) > 10 and min(upright) >= LETTERS
    assert page.evaluate("document.documentElement.scrollWidth") == 360


@pytest.mark.parametrize("width, scheme", [(1280, "light"), (360, "dark")])
@pytest.mark.parametrize("address", KINDS.values(), ids=KINDS)
def test_axe_finds_nothing(open_page, address, width, scheme):
    page = open_page(address, width=width, scheme=scheme)
    assert faults(page) == []


@pytest.mark.parametrize("scheme, dark", [("light", False), ("dark", True)])
def test_figures_follow_the_colours_of_the_page(open_page, scheme, dark):
    page = open_page(f"{BOOK}/ventilation.html", scheme=scheme)
    colour = page.locator(".drawing svg text").first.evaluate("one => getComputedStyle(one).fill")
    red = float(re.findall(r"[\d.]+", colour)[0])
    assert (red > 150) == dark, colour


@pytest.mark.parametrize("paper, size", [("A4", (595, 842)), ("Letter", (612, 792))])
def test_print_gives_the_reader_s_paper_without_side_lists(open_page, tmp_path, paper, size):
    page = open_page(f"{BOOK}/ventilation.html")
    page.pdf(path=str(tmp_path / "page.pdf"), format=paper)
    read = PdfReader(tmp_path / "page.pdf")
    assert (float(read.pages[0].mediabox.width), float(read.pages[0].mediabox.height)) == pytest.approx(size, abs=1.5)
    text = " ".join("\n".join(one.extract_text() for one in read.pages).split())
    assert "LH-E-0410" in text and "invented" in text and "licensed engineer" in text
    assert "file:" not in text and "On this page" not in text and "Find a quantity" not in text


def test_the_page_for_no_page_works_from_a_folder(open_page):
    page = open_page("404.html")
    assert page.evaluate("[...document.styleSheets].length") > 2  # what is not found is not listed
    page.get_by_role("link", name="All design basis books").click()
    assert page.title() == "Design basis books"


def test_what_is_wrong_is_found_on_a_page_made_thin(open_page):
    page = open_page(f"{BOOK}/checks.html")
    image = "Object.assign(document.createElement('img'), {src: 'data:image/gif;base64,R0lGODlhAQABAAAAACw='})"
    page.evaluate(f"document.querySelectorAll('tbody tr').forEach(one => one.lastElementChild.append({image}))")
    page.evaluate("document.querySelector('tbody tr:last-child th').insertAdjacentHTML('beforeend', '<button></button>')")
    assert [one.partition(":")[0] for one in faults(page)] == ["button-name", "image-alt"]
    assert page.evaluate("document.querySelectorAll('tbody tr').length") < 80  # of some 240
