"""The cover of a book: title block, figures, verdicts, changes and open points, and the chapters with what each settles; on one screen."""

import re

import pytest
from page_tree import read
from small_project import written

from basis.chapters import catalogue
from basis.site.build_cache import BuildCache
from basis.site.cover import POINTS, WORST, worst
from basis.site.render import OWN

BOOKS = ("larkmere-hospital", "cobble-key-exchange", "high-tarn-waterworks")


@pytest.fixture(scope="module")
def covers(site):
    return {slug: read((site / slug / "index.html").read_text("utf-8")) for slug in BOOKS}


def parts_of(cover):
    return {part.all("h2")[0].text: part for part in cover.all("div", "cover")[0].all("div", "part")}


def test_the_title_block_tells_document_issue_roles_and_state(covers):
    for slug, page in covers.items():
        block = {row.all("dt")[0].text: row.all("dd")[0].text for row in page.all("dl", "block")[0].all("div")}
        assert {"Document", "Revision", "Last issue", "State"} <= block.keys(), slug
        assert re.search(r"issue", block["State"]) and "assumed" in block["State"], slug
        assert re.fullmatch(r"[A-Z] of \d{4}-\d\d-\d\d, .+", block["Last issue"]), slug


def test_the_worst_checks_stand_first_and_the_rest_is_a_link_away(covers, books):
    for slug, page in covers.items():
        lines = parts_of(page)["What wants attention first"].all("li")
        assert len(lines) == WORST
        expected = worst(books[slug].checks)[:WORST]
        assert [line.all("a")[0].text for line in lines] == [one.check.title for one in expected], slug
        shares = [one.margin for one in expected if one.word == "fails" and one.relative]
        assert shares == sorted(shares), slug  # the furthest gone first


def test_twelve_figures_each_lead_to_their_working(covers):
    for page in covers.values():
        figures = parts_of(page)["The plant in figures"].all("dd")
        assert 8 <= len(figures) <= 12 and all(figure.all("a", "n") for figure in figures)


def test_open_points_are_few_and_named(covers):
    for page in covers.values():
        assert 1 <= len(next(part for title, part in parts_of(page).items() if title in ("First to settle", "Some that is open")).all("li")) <= POINTS


def test_every_chapter_says_in_one_sentence_what_it_settles(covers):
    for chapter in catalogue().chapters:
        assert re.fullmatch(r"[A-Z][^.]{20,110}\.", chapter.settles), chapter.id
    told = covers[BOOKS[0]].text
    assert all(chapter.settles in told for chapter in catalogue().chapters)


def test_a_plant_of_one_chapter_has_a_cover(tmp_path):
    place = written(tmp_path / "projects")
    made = BuildCache().make(place.parent, (OWN,))
    cover = read(made.pages[f"{place.name}/index.html"].body)
    assert not made.faults and cover.all("dl", "block") and not cover.all("div", "diagram")


def test_a_question_that_was_withdrawn_is_no_open_point(tmp_path):
    place = written(tmp_path / "projects")
    asked = "questions:\n" + "".join(f"  - {{id: Q-{number}, date: 2026-03-0{number}, role: checker, about: altitude, text: 'Why {number}?', state: {state}}}\n"
                                     for number, state in ((1, "withdrawn"), (2, "open")))
    (place / "project.yaml").write_text((place / "project.yaml").read_text("utf-8") + asked, "utf-8")
    made = BuildCache().make(place.parent, (OWN,))
    assert not made.faults
    told = parts_of(read(made.pages[f"{place.name}/index.html"].body))["Some that is open"].text  # nobody searched for turning points
    assert "Q-2: Why 2?" in told and "Q-1" not in told


@pytest.mark.parametrize("slug", BOOKS)
def test_the_cover_is_one_screen_and_four_on_a_phone(open_page, slug):
    wide = open_page(f"{slug}/index.html")
    bottom = "document.querySelector('.cover').getBoundingClientRect().bottom + scrollY"
    assert wide.evaluate(bottom) <= 960  # a screen of 900, with the last line of a long list below it
    narrow = open_page(f"{slug}/index.html", width=390, height=844)
    assert narrow.evaluate(bottom) <= 4 * 844 and narrow.evaluate("document.documentElement.scrollWidth") <= 390
