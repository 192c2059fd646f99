"""Words on pages and in the terminal: true of a plant that nobody here drew."""

import ast
import re
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from page_tree import in_si, read
from rendering import chapter_page, layouts

from basis.chapters import catalogue
from basis.language import units
from basis.language.formula import Formula
from basis.language.notation import lookups_in
from basis.language.table import families, heads, table
from basis.language.terms import terms
from basis.language.words import as_sentence, in_sentence, item_words, span
from basis.reading import project
from basis.reading.project import Decision, Option
from basis.site import addresses as addressing
from basis.site import frame, pages
from basis.site.functions import BookFunctions
from basis.site.overview import OverviewFunctions
from basis.solving.solve import solve
from basis.solving.value import Value
from basis.solving.verdicts import TIGHT_DIFFERENCES, TIGHT_SHARE, verdict_of
from basis.terminal.cli import main

ROOT = Path(__file__).parents[2]


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


def test_the_reason_of_a_decision_and_what_is_given_up_stand_in_one_chapter(books):
    """Where it touches several chapters the others name what is chosen and lead to the page that says why."""
    for slug, book in books.items():
        pages = {chapter.id: chapter_page(book, chapter.id).text for chapter in book.chapters}
        for decision in book.project.decisions:
            for said in (" ".join(decision.reason.split()), " ".join(decision.options[-1].gives_up.split())):
                assert [one for one, text in pages.items() if said in text] == [book.home_of(decision.id)], (slug, decision.id)


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
    assert any("values" in table.attributes.get("class", "") and "thick" in table.text for table in page.all("table"))
    assert "How much wool" not in chapter_page(book, "voltage").text


def test_what_an_option_gives_up_is_said_to_be_that(books):
    for book in books.values():
        options = OverviewFunctions(addressing.of_book(book, "options.html")).options()
        assert options.count("What each option gives up:") == len(book.project.decisions)
        for decision in book.project.decisions:
            for option in decision.options:
                if option.id != decision.chosen:
                    sketch = pages.option_sketch(addressing.of_option(book, decision, option, "option.html"), layouts()["option"])
                    page = pages.page(frame.of_book(book), sketch)[0]
                    assert f"<strong>Gives up: </strong>{option.gives_up[:20]}" in page.body


# ---- what is still open ----

def test_what_is_open_counts_undecided_checks_and_defaults_too(books):
    for slug, book in books.items():
        assumed, undecided = len(book.assumptions()), sum(verdict.word == "undecided" for verdict in book.checks)
        defaults = len(book.defaults)
        told = f"{assumed} assumed, {undecided} undecided, {defaults} defaults"
        assert defaults > 50 and told in frame.of_book(book).stamp and told in OverviewFunctions(addressing.of_book(book)).sign_off()
        assert told in CliRunner().invoke(main, ["check", slug, "--projects", str(ROOT / "projects")]).output


# ---- self-tests ----

def test_self_tests_and_residuals_stand_on_a_page_of_their_own_and_are_not_counted(books):
    for book in books.values():
        assert {"fan_balance", "thumb_bus_high"} <= {verdict.check.id for verdict in book.self_tests}
        told = OverviewFunctions(addressing.of_book(book, "self-tests.html"))
        tests, residuals = read(told.self_tests()), read(told.residuals())
        for verdict in book.self_tests:
            assert tests.all("span", id=f"check-{verdict.check.id}")
            assert f'id="check-{verdict.check.id}"' not in told.checks()
            assert chapter_page(book, catalogue().chapter_of[verdict.check.id]).all("span", id=f"check-{verdict.check.id}") == []
        solved = {value.producer.id for value in book.values.values() if value.residual}
        assert solved and len(residuals.all("tbody")[0].all("tr")) == len(solved)
        counted = re.findall(r"(\d+) of (\d+)", read(told.standing()).text)
        judged = [verdict for verdict in book.checks if verdict.word != "nothing to check"]
        assert {int(whole) for _, whole in counted} == {len(judged)} and sum(int(part) for part, _ in counted) == len(judged)


# ---- names, numbers and margins ----

@pytest.mark.parametrize("name, inside", [
    ("Exhaust pipe", "exhaust pipe"), ("480 V or 13.8 kV?", "480 V or 13.8 kV?"), ("NR rating", "NR rating"), ("C-weighted level", "C-weighted level"),
    ("A set out", "a set out"), ("Anchors, shear", "anchors, shear"), ("CO₂ in the room", "CO₂ in the room"), ("", "")])
def test_a_name_inside_a_sentence_keeps_what_is_no_first_letter(name, inside):
    assert in_sentence(name) == inside


@pytest.mark.parametrize("item, words", [("31_5_hz", "31.5 Hz"), ("1000_hz", "1 kHz"), ("after_30_min", "after 30 min"), ("half_order", "half order"),
                                         ("one_spare", "one spare")])
def test_items_without_a_name_are_called_in_words(item, words):
    assert item_words(item) == words


def test_a_span_of_one_number_is_that_number():
    assert span("24.3", "24.3") == "24.3" and span("24.3", "25.0") == "24.3 to 25.0"


@pytest.mark.parametrize("typed, shown", [("0.9 K*m/W", "0.9 K·m/W"), ("12.5 m^3/s", "12.5 m³/s"), ("34 degC", "34 °C"), ("1 200 EUR/m", "1 200 EUR/m"),
                                          ("3", "3"), ("north side", "north side")])
def test_what_was_typed_is_shown_with_units_as_readers_see_them(typed, shown):
    assert units.pretty_quantity(typed) == shown


def test_no_table_is_shown_by_its_key(books):
    for book in books.values():
        for value in book.values.values():
            if value.term.table:
                for word in {value.number} if not value.axes else set(value.number.tolist()) - {""}:
                    assert value.shown(word) == table(word).title != word
    titles = [table(one).title for family in {term.table for term in terms().values()} - {""} for one in families()[family]]
    assert all(title[:1].isupper() for title in titles)
    for family in {term.table for term in terms().values()} - {""}:
        own = [table(one).title for one in families()[family]]
        assert len(own) == len(set(own)), family


def verdict(value: float, limit: float, safe: str, term_id: str = "starts_available"):
    """A verdict on numbers of one Term, made by the program's own comparison."""
    check = replace(catalogue().checks["starting"][0], value=term_id, limit="starts_required", safe=safe, applies=(), exact=True)
    return verdict_of(check, {name: Value(name, terms()[name], number, "given") for name, number in ((term_id, value), ("starts_required", limit))}, {}, "")


@pytest.mark.parametrize("value, limit, safe, shown", [
    (6, 6, "above", "none left"), (8, 6, "above", "+2"), (5, 6, "above", "−1"), (7, 4, "below", "−3"),  # whole numbers
    (6.5, 5.0, "above", "+30 %"), (200.5, 1.0, "above", "over +1000 %"), (50.5, 1.0, "below", "below −1000 %"), (4.25, 5.0, "below", "+15 %")])
def test_margins_that_a_share_would_make_silly(value, limit, safe, shown):
    assert verdict(float(value), float(limit), safe).margin_text == shown


def test_a_level_of_nought_has_no_sign():
    level = Value("x", terms()["rating_level"], -0.04, "given")
    assert level.shown(-0.04) == "0.0 dBA" and level.shown(-0.06) == "−0.1 dBA"


def test_a_number_with_a_sign_is_told_by_its_side(books):
    book = books["larkmere-hospital"]
    saving = book["control_saving"]

    def told(number):
        placed = addressing.of_book(replace(book, values={**book.values, "control_saving": replace(saving, number=number)}))
        return read(str(BookFunctions(placed).signed("control_saving", "saves", "costs more by", "costs the same"))).text
    assert told(175.0).startswith("saves 175 EUR") and told(-175.0).startswith("costs more by 175 EUR") and told(0.0) == "costs the same"


def test_what_a_list_does_not_hold_is_told_once_with_its_name(books):
    for slug, book in books.items():
        for chapter in book.chapters:
            told = [one.text for one in chapter_page(book, chapter.id).all("p") if one.text.startswith("The project lists no")]
            assert len(told) == len(set(told)), (slug, chapter.id, told)
            assert all(re.fullmatch(r"The project lists no [a-z ]+\.", one) for one in told), (slug, chapter.id, told)


def test_a_note_becomes_a_sentence_of_its_own():
    assert as_sentence("tested reduction wins") == "Tested reduction wins." and as_sentence("Is it so? ") == "Is it so?" and as_sentence("") == ""


# ---- words of verdicts in sentences ----

NOT_HEAD = r" (?:of|in|to|on|that|with|at|for|from|beside|against|between|by|as|above|after|and|within|off|outside) "


def verdicts_in_sentences():
    """(template, text before, whether told as more than one) of each verdict that follows words without a colon or bracket."""
    for path in sorted((ROOT / "templates").glob("*.j2")):
        text = path.read_text("utf-8")
        for call in re.finditer(r'\{\{ check\("\w+"(, plural=True)?\) \}\}', text):
            before = re.split(r"[.;:,(\n]|\}\}|%\}", text[:call.start()])[-1].strip()
            if before:
                yield path.name, before.removeprefix("and "), bool(call[1])


def test_verdicts_after_more_than_one_thing_are_told_so():
    found = list(verdicts_in_sentences())
    for name, before, plural in found:
        head = "both" if before == "both at once" else (re.split(NOT_HEAD, f" {before} ")[0].split() or [""])[-1]
        several = head == "both" or (head.endswith("s") and not head.endswith(("ss", "us", "is")))
        assert several == plural, f"{name}: '{before}' holds or hold?"
    assert any(plural for *_, plural in found) and len(found) > 50


def test_the_word_of_a_verdict_follows_more_than_one_thing(books):
    book = books["larkmere-hospital"]
    told = BookFunctions(addressing.of_book(book))
    assert book.check("anchor_combined").word == "holds"
    assert [read(str(told.check("anchor_combined", plural))).all("span")[0].text for plural in (False, True)] == ["holds", "hold"]


# ---- tight ----

@pytest.mark.parametrize("value, limit, exact, word", [
    (95.1, 100.0, False, "tight"), (94.9, 100.0, False, "holds"), (100.0, 100.0, False, "tight"), (100.0, 100.0, True, "holds"), (100.1, 100.0, True, "fails")])
def test_tight_has_one_rule(value, limit, exact, word):
    check = replace(next(one for one in catalogue().checks["ventilation"] if one.id == "door_opening"), exact=exact)
    force = {name: Value(name, terms()[name], number, "given") for name, number in (("door_force", value), ("door_force_max", limit))}
    assert verdict_of(check, force, {}, "").word == word


def test_the_rule_of_tight_stands_on_the_page_of_checks_with_the_figures_that_are_used(books):
    told = in_si(read(OverviewFunctions(addressing.of_book(books["larkmere-hospital"])).tight_rule()))
    assert "less than 5 % of the limit" in told and "less than 3 dB" in told and "less than 2.0 K" in told
    assert (TIGHT_SHARE, TIGHT_DIFFERENCES["level"], TIGHT_DIFFERENCES["temperature"]) == (0.05, 3.0, 2.0)


def test_what_has_nothing_to_check_is_counted_apart(books):
    book = books["cobble-key-exchange"]
    words = [verdict.word for verdict in book.checks]
    told = read(OverviewFunctions(addressing.of_book(book)).standing()).all("li")
    assert words.count("nothing to check") > 3
    assert f"nothing to check: {words.count('nothing to check')}" in [one.text for one in told]
    assert f"holds: {words.count('holds')} of {len(words) - words.count('nothing to check')}" in [one.text for one in told]


def test_no_page_names_a_band_by_its_id(books):
    for slug, book in books.items():
        for chapter in book.chapters:
            for kind, values in addressing.workings(book, chapter.id).items():
                told = OverviewFunctions(addressing.of_book(book, f"{chapter.id}-{kind}.html"), values).entries()
                assert not re.search(r"\d hz\b|[A-Za-z]\*[A-Za-z]+/", re.sub(r"<[^>]+>", " ", told)), (slug, chapter.id)


def test_no_page_names_a_table_or_a_currency_by_our_own_word(books):
    tables, bare = [f"table {path.stem}" for path in heads().values() if "-" in path.stem], re.compile(r"\bcur\b|\(\)")
    for slug, book in books.items():
        for chapter in book.chapters:
            for kind, values in addressing.workings(book, chapter.id).items():
                told = re.sub(r"<[^>]+>", "", str(OverviewFunctions(addressing.of_book(book, f"{chapter.id}-{kind}.html"), values).entries()))
                assert not [one for one in tables if f"{one}," in told] and not bare.search(told), (slug, chapter.id)
        assert not bare.search(re.sub(r"<[^>]+>", "", str(OverviewFunctions(addressing.of_book(book, "assumptions.html")).defaults()))), slug


def test_every_table_that_a_formula_names_has_a_heading_a_reader_knows():
    named = {where.value for made in catalogue().producers.values() if isinstance(made, Formula) for where, _, _ in lookups_in(made.expression)
             if isinstance(where, ast.Constant)}
    for one in map(table, sorted(named)):
        assert len(one.title) < 60 and not re.match(r"(From memory|Iso|Iec|Nc|Nec|[^A-Z])", one.title), (one.id, one.title)


def test_a_default_stands_where_some_item_takes_it_and_not_where_there_is_none(books):
    # Larkmere gives a demand factor for some of its loads only; it lists no elbows in its exhaust pipes
    standing = {value.id for value in books["larkmere-hospital"].defaults}
    assert "load_demand_factor" in standing and "exhaust_elbow_count" not in standing
    assert books["larkmere-hospital"].still_open.endswith(f" {len(standing)} defaults")
