"""The page of revisions: issues, what changed from each to the next and since the last, margins over them."""

import shutil
from pathlib import Path

import pytest
import yaml
from page_tree import in_si, read
from rendering import layouts
from small_project import exchange, issued, written

import basis
from basis.record.history import Course, Stand, courses, history_of
from basis.site import addresses as addressing
from basis.site import pages
from basis.site.build_cache import BuildCache
from basis.site.render import OWN
from basis.site.timeline import timeline

TESTS, HOT = "hours_per_year_tests: {value: 40 h", "outdoor_temperature_max: 34 degC"


def revisions(place: Path):
    """The page of revisions of a project."""
    book = basis.load(place)
    made = pages.of_book(book, layouts(), addressing.Workshop(), history_of(book))
    return made.pages[f"{place.name}/revisions.html"]


def told(place: Path):
    return read(revisions(place).body)


def with_story(folder: Path) -> Path:
    """A issued, B with more tests than the permit allows, and the text as it stands with a warmer summer."""
    place = written(folder)
    issued(place, "A", "2026-03-02", "for review")
    written(folder, (TESTS, "hours_per_year_tests: {value: 60 h"))
    issued(place, "B", "2026-05-04", "for approval")
    return written(folder, (TESTS, "hours_per_year_tests: {value: 60 h"), (HOT, "outdoor_temperature_max: {value: 38 degC, note: new weather station}"))


def test_without_an_issue_it_says_how_to_make_the_first(tmp_path):
    page = told(written(tmp_path))
    assert 'basis issue pump-house A --note "for review"' in page.text
    assert [head.text for head in page.all("h2")] == ["Issues", "Margins from issue to issue"] and not page.all("figure")


def test_issues_stand_newest_first_with_what_changed_between_them(tmp_path):
    page = told(with_story(tmp_path))
    rows = [[cell.text for cell in row.all("th") + row.all("td")] for row in page.all("table")[0].all("tr")]
    assert [row[:3] for row in rows[1:]] == [["as it stands", "–", "not issued"], ["B", "2026-05-04", "for approval"], ["A", "2026-03-02", "for review"]]
    assert [head.text for head in page.all("h2")] == ["Issues", "Margins from issue to issue", "Since revision B", "From revision A to B"]
    # By hand: of the permit's 50 h, 40 h leave a fifth, 60 h are a fifth too many.
    turned = next(table for table in page.all("table") if "Because of" in table.text and "fails" in table.text)
    assert [cell.text for cell in turned.all("td")] == ["holds+20 %", "fails−20 %", "Running for tests in a year"]


def test_numbers_lead_to_their_working_where_the_book_has_them(tmp_path):
    page = told(with_story(tmp_path))
    links = {in_si(link): link.attributes["href"] for link in page.all("a") if link.attributes.get("class") == "n"}
    assert links["38.0 °C"] == "plant-inputs.html#outdoor_temperature_max" and links["48.0 K"] == "plant-sheet.html#outdoor_temperature_range"  # 38 and 10


def test_a_number_that_has_moved_again_does_not_look_like_the_present_one(tmp_path):
    place = with_story(tmp_path)
    written(tmp_path, (TESTS, "hours_per_year_tests: {value: 45 h"))
    links = {link.text: link for link in told(place).all("a", href="plant-inputs.html#hours_per_year_tests")}
    assert links["45.0 h"].classes == ["n"] and links["60.0 h"].classes == []


def test_what_the_book_has_no_more_is_told_without_a_link(tmp_path):
    place = written(tmp_path)
    issued(place)
    page = told(written(tmp_path, ("test_hours_max: 50 h\n", "")))
    row = next(row for row in page.all("tr") if "50.0 h" in row.text)
    assert "none" in row.text and not row.all("a")


def test_a_chapter_that_is_gone_is_called_by_its_title_and_its_checks_by_the_names_of_their_items(tmp_path):
    place = exchange(tmp_path, "plant, loads, dips")
    issued(place)
    project = place / "project.yaml"
    project.write_text(project.read_text("utf-8").replace("loads, dips]", "loads]"), "utf-8")
    turned = next(table for table in told(place).all("table") if "not made" in table.text)
    rows = [[cell.text for cell in (*row.all("th"), *row.all("td"))] for row in turned.all("tr")[1:]]
    steps = {step["name"] for step in yaml.safe_load((place / "loads.yaml").read_text("utf-8"))["load_steps"]}
    (dip,) = [row for row in rows if row[0].startswith("Voltage dip on load steps, in time")]
    assert dip[0].rpartition(", ")[2] in steps and dip[2:] == ["not made", "the chapter on voltage and frequency at load steps"]


def test_nothing_differs(tmp_path):
    place = written(tmp_path)
    issued(place)
    page = told(place)
    assert "Between revision A of 2026-03-02 and the text as it stands nothing differs." in page.text and "Nothing to draw" in page.text


def test_checks_that_turned_come_first_and_the_worst_of_them_first(tmp_path):
    found = courses(history_of(basis.load(with_story(tmp_path))))
    assert [(course.check, course.turned) for course in found] == [("test_hours", True)]
    stands = [(stand.state, stand.verdict, stand.shown) for stand in found[0].stands]
    assert stands == [("A", "holds", "+20 %"), ("B", "fails", "−20 %"), ("", "fails", "−20 %")]


def test_a_check_that_is_new_has_no_course_yet():
    new = Course("test_hours", (Stand("A", "not made"), Stand("", "fails", -0.2, "−20 %")))
    assert not new.turned and not new.moved
    later = Course("test_hours", (*new.stands, Stand("C", "fails", -0.3, "−30 %")))
    assert not later.turned and later.moved


def test_the_figure_tells_every_margin_in_words_and_verdicts_by_sign():
    stands = (Stand("A", "holds", 0.2, "+20 %"), Stand("B", "undecided"), Stand("", "fails", -0.2, "−20 %"))
    drawn = timeline.svg(((Course("test_hours", stands),), ("Hours of testing",)))
    assert all(text in drawn for text in (">Hours of testing<", ">+20 %<", ">undecided<", ">−20 %<", ">A<", ">B<", ">now<"))
    assert drawn == timeline.svg(((Course("test_hours", stands),), ("Hours of testing",)))


def test_the_timeline_of_a_check_that_never_had_a_margin():
    """A check of a chapter that is new in the book and waits for an input."""
    assert "undecided" in timeline.svg(((Course("test_hours", (Stand("A", "not made"), Stand("", "undecided"))),), ("Hours of testing",)))


def test_a_broken_record_is_a_fault_and_the_last_page_stays(tmp_path):
    place = with_story(tmp_path)
    cache = BuildCache(keep=True)
    assert not cache.make(tmp_path, (OWN,)).faults
    path = place / "issued" / "A.csv"
    path.write_text(path.read_text("utf-8").replace("holds", "tight"), "utf-8")
    site = cache.make(tmp_path, (OWN,))
    assert [fault.what for fault in site.faults] == ["was changed after it was issued: the seal does not fit its lines"]
    assert site.faults[0].file.endswith("pump-house/issued/A.csv") and "was changed" in site.pages["pump-house/revisions.html"].body


def test_after_a_new_issue_a_rebuild_is_as_a_whole_build(tmp_path):
    place = with_story(tmp_path)
    cache = BuildCache(keep=True)
    before = cache.make(tmp_path, (OWN,)).pages["pump-house/revisions.html"].body
    issued(place, "C", "2026-06-01", "new weather station")
    after = cache.make(tmp_path, (OWN,))
    assert after.pages == BuildCache().make(tmp_path, (OWN,)).pages and after.pages["pump-house/revisions.html"].body != before
    shutil.rmtree(place / "issued")
    assert "Nothing of this book has been issued yet" in cache.make(tmp_path, (OWN,)).pages["pump-house/revisions.html"].body


def test_records_are_read_once_while_none_changes(tmp_path):
    book = basis.load(with_story(tmp_path))
    before = history_of(book)
    again = history_of(book, before)
    assert all(one is other for one, other in zip(again.records, before.records)) and again == before and again.since == before.since


def test_the_contents_lead_to_it(tmp_path):
    assert 'href="revisions.html"' in revisions(written(tmp_path)).sidebar


@pytest.mark.parametrize("edit", [(HOT, "outdoor_temperature_max: 39 degC"), ("name: Pump house", "name: Pumping station")])
def test_a_save_remakes_the_page(tmp_path, edit):
    place = written(tmp_path)
    issued(place)
    cache = BuildCache(keep=True)
    cache.make(tmp_path, (OWN,))
    written(tmp_path, edit)
    assert cache.make(tmp_path, (OWN,)).pages == BuildCache().make(tmp_path, (OWN,)).pages
