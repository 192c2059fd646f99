"""Tables as they are read: numbers in line, words whole, no column too many, the first one staying. In a real browser where it has to be seen."""

import re

import pytest
from page_tree import read

from basis.site.addresses import of_book
from basis.site.columns import MOST, in_line, parted
from basis.site.functions import BookFunctions

BOOK = "larkmere-hospital"
LOOKED_AT = ["fuel.html", "cost.html", "noise.html", "checks.html", "assumptions.html", "options.html", "terms.html", "fuel-sheet.html", "cables-inputs.html",
             "compliance.html", "index.html"]

BROKEN_WORDS = """() => {
  const found = [], range = document.createRange(), walker = document.createTreeWalker(document.querySelector('.md-content'), NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (!node.parentElement.checkVisibility({visibilityProperty: true}) || node.parentElement.closest('u-was, .spoken, svg, math, [hidden]')) continue;
    for (const word of node.data.matchAll(/[\\p{L}\\p{N}]{2,}/gu)) {
      range.setStart(node, word.index); range.setEnd(node, word.index + word[0].length);
      const lines = new Set([...range.getClientRects()].filter(box => box.width > 0).map(box => Math.round(box.top)));
      if (lines.size > 1) found.push(word[0] + ' in ' + node.parentElement.outerHTML.slice(0, 120));
    }
  }
  return found; }"""

SIGNS = """() => {
  const found = [], range = document.createRange();
  for (const table of document.querySelectorAll('table.values')) {
    if (!table.checkVisibility() || table.classList.contains('turned') && table.querySelector('thead').innerText.startsWith('Quantity')) continue;
    if (table.tHead.rows[0].cells[0].innerText === 'Quantity') continue;  // rows of several units
    [...table.tHead.rows[0].cells].forEach((head, column) => {
      const signs = [];
      for (const row of table.tBodies[0].rows) {
        const cell = row.cells[column];
        if (!column || !cell || !/^[−≤ ]*[\\d\\u202f]+(\\.\\d+)?$/.test(cell.innerText.trim())) continue;
        const walker = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
        for (let node = walker.nextNode(); node; node = walker.nextNode()) {
          if (!/\\d/.test(node.data) || !node.parentElement.checkVisibility() || node.parentElement.closest('small, u-was')) continue;
          const at = node.data.includes('.') ? node.data.indexOf('.') : node.data.trimEnd().length;
          range.setStart(node, 0); range.setEnd(node, at);
          signs.push(range.getBoundingClientRect().right);
        }
      }
      if (signs.length > 1) found.push([Math.max(...signs) - Math.min(...signs), head.innerText]);
    });
  }
  return found; }"""


def test_numbers_are_given_the_room_of_the_decimals_they_lack():
    assert in_line(["956", "49.0", "1\u202f430"]) == ["956<u-p1></u-p1>", "49.0", "1\u202f430<u-p1></u-p1>"]
    assert in_line(["0.250", "26.3", "375"]) == ["0.250", "26.3<u-d2></u-d2>", "375<u-p3></u-p3>"]
    assert in_line(["12", "7"]) == ["12", "7"]
    assert in_line(["not given", "1.5"]) == ["not given", "1.5"]
    assert in_line(["1.23 × 10⁻⁵", "0.5"]) == ["1.23 × 10⁻⁵", "0.5"]  # powers have no common sign to stand at


def test_a_table_is_parted_evenly_when_it_has_too_many_columns():
    assert parted(range(11)) == [range(11)]
    assert [len(part) for part in parted(range(12))] == [6, 6] and [len(part) for part in parted(range(52))] == [10, 10, 11, 10, 11]
    assert parted([]) == []


def test_what_is_read_of_one_item_alone_stands_in_one_table(books):
    told = BookFunctions(of_book(books[BOOK], "x.html"))
    wanted = ("measured_power", "corrected_power", "designed_power", "measured_level", "corrected_level", "designed_level", "measured_airflow",
              "designed_airflow")
    (table,) = read(told.readings("measurement", *wanted)).all("table")
    rows = [[cell.text for cell in (*row.all("th"), *row.all("td"))] for row in table.all("tbody")[0].all("tr")]
    assert [row[0].split(" ")[0] for row in rows] == ["Power,"] * 3 + ["Airflow,"] * 2  # no level was read: nor is the designed one told
    assert len({row[1] for row in rows}) == 2 and all(row[1] for row in rows)
    one, other = read(told.readings("measurement", "measured_power", "measured_kind")).all("table")  # all have a kind
    assert len(one.all("tbody")[0].all("tr")) == 1 and len(other.all("tbody")[0].all("tr")) == len(books[BOOK].items["measurement"])
    assert told.readings("measurement", "measured_level", "designed_level") == ""


def test_no_table_has_more_columns_than_a_page_takes(site):
    for path in sorted(site.rglob("*.html")):
        for head in re.findall("<table.*?</thead>", path.read_text("utf-8"), re.DOTALL):
            assert len(re.findall("<th[ >]", head)) <= MOST, path.name


def test_one_list_is_one_table(site):
    """Sound powers of the governing path: four values over the same bands are the rows of one table."""
    page = read((site / BOOK / "noise.html").read_text("utf-8"))
    stacked = [table for table in page.all("table", "values") if table.all("th")[0].text == "Quantity" and len(table.all("thead")[0].all("th")) > 2]
    rows = [table.all("tbody")[0].all("tr") for table in stacked]
    assert any(len(lines) >= 4 and all(line.all("th")[0].all("a", "row") for line in lines) for lines in rows)


def test_many_quantities_of_few_items_stand_one_a_row(site):
    """Seven quantities of two coolant loops need not be scrolled: the loops are the columns."""
    page = read((site / BOOK / "cooling.html").read_text("utf-8"))
    (table,) = [one for one in page.all("table", "turned") if "Margin to boiling" in one.all("tbody")[0].text]
    assert [head.text for head in table.all("thead")[0].all("th")] == ["Quantity", "Jacket loop", "Low-temperature loop"]
    assert len(table.all("tbody")[0].all("tr")) == 7


@pytest.mark.parametrize("address", LOOKED_AT)
def test_no_word_is_broken_on_a_phone(open_page, address):
    page = open_page(f"{BOOK}/{address}", width=390, height=900)
    assert page.evaluate(BROKEN_WORDS) == []
    assert page.evaluate("document.documentElement.scrollWidth") == 390


@pytest.mark.parametrize("address", LOOKED_AT)
def test_no_page_scrolls_sideways_at_a_desk(open_page, address):
    assert open_page(f"{BOOK}/{address}").evaluate("document.documentElement.scrollWidth") == 1280


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("address", ["fuel.html", "cost.html", "dips.html", "cables-sheet.html"])
def test_decimal_signs_of_a_column_stand_in_line(open_page, address, units):
    page = open_page(f"{BOOK}/{address}")
    page.evaluate("units => { document.documentElement.dataset.units = units }", units)
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
    columns = page.evaluate(SIGNS)
    assert len(columns) >= 8 and [head for apart, head in columns if apart > 1] == []


def test_marks_of_numbers_have_a_place_of_their_own(open_page):
    """With and without a mark behind them, the numbers of a column end at one line."""
    page = open_page(f"{BOOK}/cost.html")
    table = page.locator("table.values:has(td small)").first
    ends = table.locator("td a.n").evaluate_all("links => links.map(link => link.getBoundingClientRect().right)")
    marked = table.locator("td:has(small)").count()
    assert 0 < marked < len(ends) and max(ends) - min(ends) <= 1
    text_end = "head => { const text = document.createRange(); text.selectNodeContents(head); return text.getBoundingClientRect().right; }"
    assert table.locator("thead th").last.evaluate(text_end) == pytest.approx(ends[0], abs=1)  # and so does the word in their head


def test_the_first_column_stays_while_a_table_scrolls(open_page):
    page = open_page(f"{BOOK}/fuel.html", width=390, height=900)
    box = page.locator(".wide[role]:has(> table.values):visible").filter(has=page.locator("td:nth-of-type(4)")).first
    head, cell = box.locator("tbody th").first, box.locator("tbody td").last
    before, right = head.bounding_box()["x"], cell.bounding_box()["x"]
    assert box.evaluate("one => one.scrollWidth > one.clientWidth + 40 && getComputedStyle(one).backgroundImage.includes('gradient')")
    box.evaluate("one => { one.scrollLeft = 1000 }")
    assert head.bounding_box()["x"] == pytest.approx(before, abs=1) and cell.bounding_box()["x"] < right - 40
    box.evaluate("one => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    assert head.evaluate("one => getComputedStyle(one).boxShadow") != "none"  # the cue that something lies under it


def test_prose_keeps_a_measure_and_tables_do_not(open_page):
    page = open_page(f"{BOOK}/fuel.html", width=1600)
    ems = "all => Math.max(...all.map(one => one.clientWidth / parseFloat(getComputedStyle(one).fontSize)))"
    assert 28 <= page.locator(".md-content__inner > p:not([class])").evaluate_all(ems) <= 34  # 65 to 75 characters a line
    assert page.locator(".md-content__inner").bounding_box()["width"] > 1000
    assert open_page(f"{BOOK}/fuel-sheet.html", width=1600).locator("section p").evaluate_all(ems) <= 40  # about 85 letters without serifs


@pytest.mark.parametrize("address, kind", [("checks.html", "checks"), ("compliance.html", "matrix"), ("index.html", "chapters")])
def test_the_verdict_comes_second_on_a_phone(open_page, address, kind):
    page = open_page(f"{BOOK}/{address}", width=390, height=900)
    row = page.locator(f"table.{kind} tbody tr:has(.verdict)").first
    tops = row.locator("> *").evaluate_all("cells => cells.map(one => [one.getBoundingClientRect().top, !!one.querySelector('.verdict')])")
    assert [told for _, told in sorted(tops)][:2] == [False, True]


def test_cut_sets_that_there_are_not_have_no_row(books):
    # hand: five events of Cobble Key's tree, each of which fails the mission alone, in a list with room for twelve
    place = BookFunctions(of_book(books["cobble-key-exchange"]))
    for table in (place.items_with("cut_set", "cut_set_probability"), place.bands("cut_set_member")):
        assert "cut 5" in table and "cut 6" not in table and "does not exist" not in table
