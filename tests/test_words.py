"""Words on pages and in the terminal: true of a plant that nobody here drew."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from reading import read
from rendering import chapter_page, layouts

from basis import project
from basis.cli import main
from basis.project import Decision, Option
from basis.site import atlas, frame
from basis.site.overview import OverviewFunctions
from basis.site.pages import _option_page
from basis.solve import solve

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def renamed():
    """A demo book whose decisions and options have other ids."""
    def with_other_ids(decision):
        options = tuple(replace(option, id=f"{option.id}_x") for option in decision.options)
        return replace(decision, id=f"{decision.id}_x", chosen=f"{decision.chosen}_x", options=options)
    read = project.read(ROOT / "projects" / "larkmere-hospital")
    return solve(replace(read, decisions=tuple(map(with_other_ids, read.decisions))))


# ---- decisions ----

def test_a_decision_is_shown_in_each_chapter_whose_terms_it_sets(books):
    for slug, book in books.items():
        for chapter in book.chapters:
            page = chapter_page(book, chapter.id)
            shown = [one.attributes["id"] for one in page.all("h2") if one.attributes.get("id", "").startswith("decision-")]
            about = [one for one in book.project.decisions if any(book.home.get(term) == chapter.id for option in one.options for term, _ in option.givens)]
            assert set(shown) >= {f"decision-{one.id}" for one in about} and len(shown) == len(set(shown)), (slug, chapter.id)
            for decision in about:
                assert " ".join(decision.reason.split()) in page.text


def test_nothing_hangs_on_what_a_project_calls_its_decisions(books, renamed):
    for chapter in renamed.chapters:
        assert chapter_page(renamed, chapter.id).text == chapter_page(books["larkmere-hospital"], chapter.id).text, chapter.id


def test_a_decision_that_no_template_knows_is_shown_in_its_chapter(books):
    read = project.read(ROOT / "projects" / "cobble-key-exchange")
    given = read.givens["insulation_thickness", ""]
    thin, thick = (Option(name, name, f"{name} gives this up", {("insulation_thickness", ""): replace(given, data=data)}, {}, given.file, given.line)
                   for name, data in (("thin", 0.05), ("thick", 0.1)))
    book = solve(replace(read, decisions=(Decision("wool", "How much wool", "thin", "It fits.", (thin, thick), given.file, given.line),)))
    page = chapter_page(book, "exhaust")
    assert page.all("h2", id="decision-wool")[0].text == "How much wool" and "Chosen: thin. It fits." in page.text
    assert "What each option gives up:thin (chosen)thin gives this up" in page.text
    assert any(table.attributes.get("class") == "values" and "thick" in table.text for table in page.all("table"))
    assert "How much wool" not in chapter_page(book, "voltage").text


def test_what_an_option_gives_up_is_said_to_be_that(books):
    for book in books.values():
        options = OverviewFunctions(atlas.of_book(book, "options.html")).options()
        assert options.count("What each option gives up:") == len(book.project.decisions)
        for decision in book.project.decisions:
            for option in decision.options:
                if option.id != decision.chosen:
                    page = _option_page(frame.of_book(book), atlas.of_option(book, decision, option, "option.html"), layouts()["option"])
                    assert f"<strong>Gives up: </strong>{option.gives_up[:20]}" in page.body


# ---- what is still open ----

def test_what_is_open_counts_undecided_checks_and_defaults_too(books):
    for slug, book in books.items():
        assumed, undecided = len(book.assumptions()), sum(verdict.word == "undecided" for verdict in book.checks)
        defaults = sum(value.origin == "default" for value in book.values.values())
        told = f"{assumed} assumed, {undecided} undecided, {defaults} defaults"
        assert defaults > 50 and told in frame.of_book(book).stamp and told in OverviewFunctions(atlas.of_book(book)).sign_off()
        assert told in CliRunner().invoke(main, ["check", slug, "--projects", str(ROOT / "projects")]).output


# ---- self-tests ----

def test_self_tests_and_residuals_stand_on_a_page_of_their_own_and_are_not_counted(books):
    for book in books.values():
        assert {"fan_balance", "thumb_bus_high"} <= {verdict.check.id for verdict in book.self_tests}
        told = OverviewFunctions(atlas.of_book(book, "self-tests.html"))
        tests, residuals = read(told.self_tests()), read(told.residuals())
        for verdict in book.self_tests:
            assert tests.all("span", id=f"check-{verdict.check.id}")
            assert f'id="check-{verdict.check.id}"' not in told.checks()
            assert chapter_page(book, verdict.check.module.rpartition(".")[2].partition("_")[0]).all("span", id=f"check-{verdict.check.id}") == []
        solved = {value.producer.id for value in book.values.values() if value.residual}
        assert solved and len(residuals.all("tbody")[0].all("tr")) == len(solved)
        counted = re.findall(r"(\d+) of (\d+)", read(told.standing()).text)
        assert {int(whole) for _, whole in counted} == {len(book.checks)} and sum(int(part) for part, _ in counted) == len(book.checks)
