"""The page on what governs a design, and open assumptions in the order in which they turn a verdict."""

from dataclasses import replace
from pathlib import Path

import pytest
from demos import demo_copy
from page_tree import read as page
from test_stranger_bare import book_of

from basis.reading.project import read
from basis.site import addresses as addressing
from basis.site import governs
from basis.site.build_cache import BuildCache
from basis.site.governs import FIRST, NOT_SEARCHED, told
from basis.site.render import OWN
from basis.solving import turning
from basis.solving.solve import solve

PROJECTS = Path(__file__).parents[2] / "projects"
SLUG = "high-tarn-waterworks"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A demo with three of its chapters."""
    found = demo_copy(SLUG, tmp_path_factory.mktemp("governs") / "projects" / SLUG)
    text = (found / "project.yaml").read_text("utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("chapters:")]
    (found / "project.yaml").write_text("\n".join([*lines, "chapters: [plant, loads, ventilation]"]) + "\n", "utf-8")
    return found


@pytest.fixture(scope="module")
def searched(folder):
    """Its site with turning points, and the cache that made it."""
    cache = BuildCache(keep=True, turning=True)
    heard, silent = [], cache.searched
    cache.searched = lambda *told: heard.append(told)
    made = cache.make(folder.parent, (OWN,))
    cache.searched = silent
    return made, cache, heard


def rows_of(site, name, caption):
    """Cells of each row of a table, as text; its caption stands behind its number."""
    (table,) = [one for one in page(site.pages[f"{SLUG}/{name}"].body).all("table") if one.all("caption")[0].text.endswith(f" {caption}")]
    return [[cell.text for cell in (*row.all("th"), *row.all("td"))] for row in table.all("tr")][1:]


def test_the_first_ten_are_those_that_turn_soonest(searched, folder):
    site, *_ = searched
    assert not site.faults
    found = [one for one in turning.turnings(solve(read(folder))) if one.turns]
    rows = rows_of(site, "governs.html", "To settle first")
    assert len(rows) == min(FIRST, len(found)) > 5
    for row, one in zip(rows, found):
        assert one.mover.term.name in row[0] and row[0].endswith(one.mover.standing)
        assert row[-1] == f"{one.check.title} {'is met' if one.fails else 'fails'}"


def test_the_search_tells_how_far_it_is(searched):
    slugs, done, counts = zip(*searched[2])
    assert set(slugs) == {SLUG} and list(done) == list(range(1, counts[0] + 1)) and len(set(counts)) == 1 and counts[0] > 10


def test_what_turns_a_verdict_soonest_stands_first_among_the_assumptions(searched, folder):
    site, *_ = searched
    words = [row[3] for row in rows_of(site, "assumptions.html", "Open assumptions")]
    turns = [" fails" in word or " is met" in word for word in words]
    assert any(turns) and not all(turns) and turns == sorted(turns, reverse=True)
    first = [row[0] for row in rows_of(site, "assumptions.html", "Open assumptions")][:1]
    assert first[0].split(",")[0] in site.pages[f"{SLUG}/index.html"].body  # the cover begins with the same


def test_a_word_and_a_number_without_effect_say_so():
    assert told(None, None, True) == "a word, which has no turning point"


def test_what_turns_nothing_says_how_far_it_was_moved(searched, folder):
    site, *_ = searched
    words = {row[0]: row[3] for row in rows_of(site, "assumptions.html", "Open assumptions")}
    still = [one for one in turning.turnings(solve(read(folder))) if not one.turns and one.reached and one.low < one.high and one.mover.standing == "assumed"]
    shifted = {one.mover.share for one in still if one.mover.share or one.mover.term.kind in ("temperature", "level")}
    assert shifted and all(word.startswith("turns nothing from ") for one in still if one.mover.share or one.mover.term.kind in ("temperature", "level")
                           for name, word in words.items() if name.split(",")[0] == one.mover.term.name and word.startswith("turns nothing"))


def test_a_quick_build_says_that_nothing_was_searched(folder, monkeypatch):
    monkeypatch.setattr(turning._Search, "turning", None)
    site = BuildCache().make(folder.parent, (OWN,))
    assert not site.faults and all(NOT_SEARCHED in site.pages[f"{SLUG}/{name}"].body for name in ("governs.html", "assumptions.html"))
    assert "was moved by itself" not in site.pages[f"{SLUG}/governs.html"].body


def test_an_edit_that_moves_no_number_searches_nothing(searched, folder, monkeypatch):
    _, cache, _ = searched
    path, searched_for = folder / "project.yaml", []
    plain = turning._Search.turning
    monkeypatch.setattr(turning._Search, "turning", lambda self, mover: searched_for.append(mover.value_id) or plain(self, mover))
    before = path.read_text("utf-8")
    path.write_text(before.replace("name: ", "name: New ", 1), "utf-8")
    assert not cache.make(folder.parent, (OWN,)).faults and searched_for == []
    path.write_text(before, "utf-8")


def test_a_later_run_searches_nothing_again_and_shows_the_same(searched, folder, monkeypatch):
    site, *_ = searched
    searched_for, plain = [], turning._Search.turning
    monkeypatch.setattr(turning._Search, "turning", lambda self, mover: searched_for.append(mover.value_id) or plain(self, mover))
    again = BuildCache(turning=True).make(folder.parent, (OWN,))
    assert not again.faults and searched_for == []
    assert again.pages[f"{SLUG}/governs.html"].body == site.pages[f"{SLUG}/governs.html"].body
    monkeypatch.setenv("BASIS_NO_CACHE", "1")
    monkeypatch.setattr("basis.site.worker_processes.processors", lambda: 1)
    anew = BuildCache(turning=True).make(folder.parent, (OWN,))
    assert anew.pages == again.pages and searched_for  # made by this process alone, and with copies of it


def test_after_an_edit_the_pages_are_those_of_a_whole_build(searched, folder):
    """What is taken from the last search is what a new search finds, for a number that most others meet."""
    _, cache, _ = searched
    path = folder / "plant.yaml"
    before = path.read_text("utf-8")
    path.write_text(before.replace("altitude: {value: 1600 m", "altitude: {value: 1500 m"), "utf-8")
    assert path.read_text("utf-8") != before
    rebuilt, whole = cache.make(folder.parent, (OWN,)), BuildCache(turning=True).make(folder.parent, (OWN,))
    assert not whole.faults
    assert all(rebuilt.pages[f"{SLUG}/{name}"].body == whole.pages[f"{SLUG}/{name}"].body for name in ("index.html", "governs.html", "assumptions.html"))


def test_the_tables_of_a_plant_that_no_demo_is_like(tmp_path):
    """A lone set, hardly a list, nothing assumed, no plus or minus; and a book of a chapter without checks."""
    book = book_of(tmp_path)
    found, at = turning.turnings(book), addressing.of_book(book, "governs.html")
    assert "To settle first" in governs.first(at, found) and "small" in governs.moved(at, found)
    assert governs.chances(at) == "<p>No input with a plus or minus reaches a check of this book.</p>"
    without = addressing.of_book(replace(book, checks=()), "governs.html")
    assert "No check of this book" in governs.margins(without) and governs.moved(without, ()) == ""
    assert governs.first(without, ()) == "<p>No open number turns a verdict within its physical range.</p>"
    assert governs.worth(without, ()) == "<p>No open number moves the margin of a check.</p>"
