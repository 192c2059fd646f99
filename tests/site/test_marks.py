"""What has moved since the last issue is marked: which numbers, rows and verdicts, in words, on screen, on paper, and switched off. The small project has six
given numbers and three of its own, so what an edit moves is known by hand.
"""

import re
from dataclasses import replace

import pytest
from accessibility import faults
from building import ROOT, built
from page_tree import in_si, read
from pypdf import PdfReader
from rendering import chapter_page
from small_project import exchange, issued, written

import basis
from basis.record.compare import compare
from basis.record.history import History, history_of
from basis.record.issuing import issue, record_of
from basis.record.marks import since
from basis.site import frame
from basis.site.addresses import of_book
from basis.site.build_cache import BuildCache
from basis.site.render import template_folders
from basis.site.tables import of_items
from basis.solving.since import Differing, Since, Was

OUTAGES = ("hours_per_year_outages: 30 h", "hours_per_year_outages: 37 h")
TESTS = ("hours_per_year_tests: {value: 40 h", "hours_per_year_tests: {value: 60 h")


def made(folder, *edits, revision: str = "A") -> dict:
    """The pages of the small project, issued and then edited, as trees by address."""
    if revision:
        issued(written(folder), revision)
    written(folder, *edits)
    site = BuildCache().make(folder, template_folders(ROOT / "projects"))
    assert site.faults == ()
    return {address: read(page.body) for address, page in site.pages.items() if "/" in address}


def marks(pages) -> dict:
    """Page -> the words of its marks, with the entry in which each stands, if it stands in one."""
    found = {}
    for address, tree in pages.items():
        for mark in tree.all("u-was"):
            section = next((one for one in above(mark) if one.tag == "section"), None)
            found.setdefault(address.partition("/")[2], []).append((section.attributes["id"] if section else "", words(mark)))
    return found


def words(mark) -> str:
    return " ".join(in_si(part) for part in mark.content)


def above(element):
    while element.parent is not None:
        element = element.parent
        yield element


def switches(tree) -> list:
    return [one for one in tree.all("button") if "data-marks" in one.attributes]


def head(tree) -> str:
    """What a page says of the last issue in its head; the cover in its title block."""
    return (tree.all("p", "stamp") or tree.all("dl", "block")[0].all("dd")[-1:])[0].text


def test_one_edit_marks_the_input_and_what_rests_on_it(tmp_path):
    pages = made(tmp_path, OUTAGES)
    input_mark, result_mark = "moved since issue A (was 30.0 h)", "moved since issue A (was 70.0 h)"  # by hand: 40 + 30
    found = marks(pages)
    assert set(found["plant-inputs.html"]) == {("hours_per_year_outages", input_mark)}
    assert set(found["plant-sheet.html"]) == {("running_hours_per_year", result_mark), ("running_hours_per_year", input_mark)}
    assert all({mark for _, mark in some} <= {input_mark, result_mark} for some in found.values())
    assert "checks.html" not in found  # the hours of tests are as they were
    assert all("△ marks what has moved since issue A," in head(tree) and switches(tree) for tree in pages.values())


def test_a_page_of_a_chapter_counts_what_differs_there_and_two_pages_count_the_whole(larkmere):
    around = frame.of_book(replace(larkmere, since=Since("C", False, {"fuel": Differing(2, 1), "dips": Differing(0, 0, 1)})))
    told = {"fuel": "this chapter differs from issue C in 2 numbers, 1 verdict", "dips": "this chapter differs from issue C in 1 margin",
            "plant": "numbers and verdicts of this chapter as issued C"}
    assert all(words in around.stamps[f"{chapter}{ending}"] for chapter, words in told.items() for ending in (".html", "-inputs.html", "-sheet.html"))
    assert all("differs from issue C in 2 numbers, 1 verdict" in around.stamps[name] for name in ("index.html", "revisions.html"))
    assert "checks.html" not in around.stamps and "the book differs from issue C" in around.stamp


def test_a_save_rewrites_no_page_for_a_count_of_another_chapter(tmp_path):
    place = exchange(tmp_path / "projects", "plant, fuel")
    issue(basis.load(place), "A", "2026-03-02", "before the edits")
    cache, heads = BuildCache(keep=True), []
    for old, new in (("day_tank_volume: 50 gal", "day_tank_volume: 60 gal"), ("fuel_tank_volume: 1000 gal", "fuel_tank_volume: 1100 gal")):
        fuel = place / "fuel.yaml"
        fuel.write_text(fuel.read_text("utf-8").replace(old, new), "utf-8")
        site = cache.make(place.parent, template_folders(ROOT / "projects"))
        assert site.faults == ()
        heads.append({name: head(read(site.pages[f"{place.name}/{name}.html"].body)) for name in ("index", "plant", "plant-inputs", "fuel", "checks")})
    assert {name for name in heads[0] if heads[0][name] != heads[1][name]} == {"index", "fuel"}


def test_a_verdict_that_turned_is_marked_with_its_old_word_and_margin(tmp_path):
    pages = made(tmp_path, TESTS)
    told = "moved since issue A (was holds, +20 %)"  # by hand: 40 of 50 hours
    found = marks(pages)
    assert [words for _, words in found["checks.html"]].count(told) == 1
    assert told in [words for _, words in found["index.html"]] and ("hours_per_year_tests", told) in found["plant-inputs.html"]
    assert "differs from issue A in 2 numbers, 1 verdict, △" in head(pages["pump-house/index.html"])


def test_the_cover_names_the_issue_since_which_verdicts_turned(tmp_path):
    """By hand: of the permit's 50 h, 40 h leave a fifth, 60 h are a fifth too many."""
    def turned(revision: str) -> list[str]:
        cover = made(tmp_path, TESTS, revision=revision)["pump-house/index.html"]
        (part,) = [one for one in cover.all("div", "part") if one.all("h2")[0].text.startswith("Since ")]
        return [part.all("h2")[0].text, *(line.text for line in part.all("li"))]
    line = "Running for tests in a year: was holds, now fails"
    assert turned("A") == ["Since the last issue", line]
    issued(written(tmp_path, TESTS), "B")  # nothing has moved since the last one, and the marks are those of the one before
    assert turned("") == ["Since issue A", line]


def test_nothing_is_marked_where_nothing_moved(tmp_path):
    pages = made(tmp_path)
    assert marks(pages) == {}
    for tree in pages.values():
        assert ", as issued A, open:" in f", {head(tree)}"
        assert not switches(tree)


def test_a_book_as_issued_has_the_marks_of_that_issue(tmp_path):
    issued(written(tmp_path), "A")
    issued(written(tmp_path, OUTAGES), "B")
    pages = made(tmp_path, OUTAGES, revision="")
    assert set(marks(pages)["plant-inputs.html"]) == {("hours_per_year_outages", "moved since issue A (was 30.0 h)")}
    assert "as issued B, △ marks what has moved since issue A, open:" in head(pages["pump-house/plant.html"])
    pages = made(tmp_path, OUTAGES, TESTS, revision="")  # one more number moves, and only what is since B is marked
    assert set(marks(pages)["plant-inputs.html"]) >= {("hours_per_year_tests", "moved since issue B (was 40.0 h)")}
    assert not [words for some in marks(pages).values() for _, words in some if "issue A" in words]


def test_words_that_moved_are_no_numbers(tmp_path):
    pages = made(tmp_path, ("harbour wall", "harbour wall, levelled"))
    assert marks(pages) == {} and "numbers and verdicts as issued A" in head(pages["pump-house/index.html"])


def test_a_book_without_an_issue_says_so(tmp_path):
    pages = made(tmp_path, revision="")
    assert marks(pages) == {} and all("not issued yet" in head(tree) for tree in pages.values())


def test_what_is_new_or_gone_is_counted_and_has_no_mark(tmp_path):
    assert marks(made(tmp_path, ("test_hours_max: 50 h\n", ""))).keys() <= {"index.html", "checks.html", "plant.html", "plant-inputs.html"}  # its verdict
    book = basis.load(tmp_path / "pump-house")
    found = since(history_of(book))
    assert found.numbers == {} and found.verdicts == {"test_hours": ("holds", "+20 %")} and found.differing == {"plant": Differing(numbers=1, verdicts=1)}


def test_the_rounding_of_another_machine_is_no_change(tmp_path):
    have = record_of(basis.load(written(tmp_path)))
    value = have.values["running_hours_per_year"]
    other = value._replace(number=repr(float(value.number) * (1 + 1e-13)), shown="70.1 h")
    assert since(History(since=compare(have, replace(have, values={**have.values, value.id: other})))).numbers == {}


def test_a_broken_record_stops_the_book_with_its_file(tmp_path):
    path = issued(written(tmp_path))
    path.write_text(path.read_text("utf-8").replace("for approval", "as approved"), "utf-8")
    (fault,) = BuildCache().make(tmp_path, template_folders(ROOT / "projects")).faults
    assert fault.file.endswith("issued/A.csv") and "changed after it was issued" in fault.what


@pytest.fixture(scope="module")
def larkmere():
    return basis.load(ROOT / "projects/larkmere-hospital")


def test_a_number_of_an_item_is_marked_in_its_row(larkmere):
    item = larkmere.items["heat_source"][1]
    book = replace(larkmere, since=Since("C", False, {}, "C", {"heat_source_heat": {item: Was("1.14 kW", "1137.4")}}))
    (mark,) = chapter_page(book, "ventilation").all("u-was")
    assert words(mark) == "moved since issue C (was 1.14 kW)"
    # 1 Btu is 1055.056 J (ISO 80000-5): 1137.4 W are 3.881 thousand Btu in an hour; the 1.14 kW that are shown would be 3.890
    assert "3.88 MBH" in mark.text
    assert row_head(mark).text == book.names["heat_source"][item]


def test_a_row_of_numbers_has_one_mark_at_its_head(larkmere):
    value = larkmere.values["motor_start_dip"]
    (motor, *_), (first, second, *_) = value.items
    moved = {f"{motor}.{first}": Was("4.50 %"), f"{motor}.{second}": Was("5.50 %")}
    book = replace(larkmere, since=Since("C", False, {}, "C", {value.id: moved}))
    found = [mark for mark in chapter_page(book, "loads").all("u-was") if mark.parent.tag == "th"]
    cases = book.names["running_case"]
    assert found and {words(mark) for mark in found} == {f"moved since issue C (was {cases[first]} 4.50 %, {cases[second]} 5.50 %)"}
    assert all(row_head(mark) is mark.parent and mark.parent.text.startswith(book.names["motor"][motor]) for mark in found)


def test_a_word_that_stands_for_an_item_is_told_by_its_name(larkmere):
    value = next(value for value in larkmere.values.values() if value.term.unit == "reference" and value.axes and value.number.size)
    before, axis = larkmere.items[value.term.refers_to][-1], value.axes[0]
    book = replace(larkmere, since=Since("C", False, {}, "C", {value.id: {value.items[0][0]: Was(before)}}))
    addresses = of_book(book)
    assert f"(was {addresses.item_name(value.term.refers_to, before)})" in of_items(addresses, axis, [value])


def row_head(mark):
    return next(one for one in above(mark) if one.tag == "tr").all("th")[0]


# ---- in a browser ----


@pytest.fixture(scope="module")
def marked_site(tmp_path_factory):
    """The small book, issued as A and edited so that numbers and a verdict moved."""
    folder = tmp_path_factory.mktemp("marked")
    issued(written(folder / "projects"))
    written(folder / "projects", OUTAGES, TESTS)
    return built(folder / "projects", folder / "site")


@pytest.fixture
def open_marked(browser, marked_site):
    contexts = []

    def open_(address: str, width: int = 1280, scheme: str = "light"):
        contexts.append(browser.new_context(offline=True, viewport={"width": width, "height": 900}, color_scheme=scheme))
        page = contexts[-1].new_page()
        page.goto(f"{marked_site.as_uri()}/pump-house/{address}")
        return page
    yield open_
    for context in contexts:
        context.close()


NUMBER = "a.n[href='plant-inputs.html#hours_per_year_outages']"


def test_marks_are_switched_off_and_that_is_remembered(open_marked):
    page = open_marked("plant.html")
    mark, button = page.locator("u-was").first, page.locator("button[data-marks]")
    assert mark.is_visible() and button.get_attribute("aria-pressed") == "true"
    button.click()
    assert not mark.is_visible() and button.get_attribute("aria-pressed") == "false"
    assert page.locator("html").get_attribute("data-marks") == "off"
    page.reload()
    assert not page.locator("u-was").first.is_visible()
    page.locator("button[data-marks]").click()
    assert page.locator("u-was").first.is_visible()


def test_a_triangle_with_the_revision_stands_in_the_margin(open_marked):
    page = open_marked("plant-sheet.html")
    entry, revision = page.locator("#running_hours_per_year"), page.locator("#running_hours_per_year u-was b").first
    assert revision.inner_text() == "A" and revision.bounding_box()["x"] < entry.bounding_box()["x"]
    assert revision.evaluate("one => getComputedStyle(one, '::before').content").startswith('"△"')
    assert open_marked("plant-sheet.html", width=390).evaluate("document.documentElement.scrollWidth") == 390


def test_the_card_tells_the_old_number(open_marked):
    page = open_marked("plant-sheet.html")
    page.locator("u-was").first.scroll_into_view_if_needed()
    page.locator(NUMBER).first.hover()
    page.wait_for_selector("#card:popover-open")
    assert "moved since issue A (was 30.0 h)" in page.locator("#card").inner_text()


def test_marks_and_old_numbers_are_printed(open_marked, tmp_path):
    open_marked("plant-sheet.html").pdf(path=str(tmp_path / "page.pdf"), format="A4")
    text = " ".join(" ".join(one.extract_text() for one in PdfReader(tmp_path / "page.pdf").pages).split())
    assert re.search(r"97\.0 h ?△ ?A? ?\(was 70\.0 h\)", text), text  # by hand: 60 + 37, was 40 + 30


BESIDE = """() => Array.from(document.querySelectorAll("u-was b")).filter(one => one.getClientRects().length).map(one => {
  const box = one.closest("table, .working, .schematic li, section, p") || one.parentElement, mark = one.getBoundingClientRect();
  return [mark.left, mark.right - box.getBoundingClientRect().left];
})"""  # of each mark in the margin how far from the edge of the paper it begins, and how far it reaches into what it stands beside


@pytest.mark.parametrize("address", ["plant.html", "plant-sheet.html", "plant-inputs.html", "checks.html"])
def test_no_mark_is_printed_over_the_text(open_marked, address):
    page = open_marked(address, width=684)  # what stands between the margins of A4
    page.emulate_media(media="print")
    marks = page.evaluate(BESIDE)
    assert marks and all(begins >= 0 and reaches <= 1 for begins, reaches in marks), marks
    assert page.locator(".wide tr").evaluate_all("rows => rows.every(row => Array.from(row.querySelectorAll('u-was b')).filter("
                                                 "one => one.getClientRects().length).length < 2 || row.querySelectorAll('td').length < 2)")


def test_no_mark_is_printed_over_a_drawing(open_page):
    page = open_page("larkmere-hospital/fuel.html", width=684)
    page.emulate_media(media="print")
    assert page.locator(".schematic u-was b").count()
    marks = page.evaluate(BESIDE)
    assert all(begins >= 0 and reaches <= 1 for begins, reaches in marks), marks


@pytest.mark.parametrize("width, scheme", [(1280, "light"), (360, "dark")])
@pytest.mark.parametrize("address", ["plant.html", "plant-sheet.html", "checks.html"])
def test_axe_finds_nothing_at_the_marks(open_marked, address, width, scheme):
    page = open_marked(address, width, scheme)
    assert faults(page) == []
