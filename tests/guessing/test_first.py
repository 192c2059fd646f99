"""A first project builds at once: whatever the ten facts are, its text has no faults, and all chapters are solved."""

import pytest
from example_sets import COLD_YARD, TEXTS, texts
from plain_writer import write_plain

import basis
from basis.chapters import catalogue
from basis.guessing.facts import read_facts
from basis.guessing.first import first_guess
from basis.language.terms import listed, terms
from basis.solving.asked import asked_in

# Corners: sets, frequency, voltage, power, height, cold, heat, load, neighbour.
CORNERS = [
    texts("1", "100 kW", "50 Hz", "230 V", "0 m", "5 degC", "20 degC", "10 kW", "5 m", "80 dBA"),
    texts("6", "3000 kW", "50 Hz", "400 V", "3000 m", "-40 degC", "45 degC", "18 MW", "2000 m", "30 dBA"),
    texts("4", "3000 kW", "60 Hz", "13.8 kV", "9842 ft", "-40 degF", "113 degF", "9000 kW", "250 ft", "55 dBA"),
    texts("2", "800 kW", "50 Hz", "6.6 kV", "-400 m", "-15 degC", "45 degC", "700 kW", "40 m", "45 dBA")]


def book_of(facts, folder):
    return basis.load(write_plain(first_guess(read_facts(facts), "Cold yard"), folder))


@pytest.fixture(scope="module")
def cold_yard(tmp_path_factory):
    return book_of(COLD_YARD, tmp_path_factory.mktemp("projects") / "cold-yard")


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("facts", [*TEXTS.values(), *CORNERS], ids=[*TEXTS, *range(len(CORNERS))])
def test_a_first_project_has_no_faults(facts, tmp_path):
    book = book_of(facts, tmp_path / "one")
    assert book.checks and not book.not_read, [one.told for one in book.not_read]
    assert "fails" not in {test.word for test in book.self_tests}, [test.check.id for test in book.self_tests if test.word == "fails"]


def test_all_chapters_are_in_it(cold_yard):
    assert {chapter.id for chapter in cold_yard.chapters} == {chapter.id for chapter in catalogue().chapters}


def test_what_is_given_is_stated_and_all_else_is_assumed(cold_yard):
    given = {key: one for key, one in cold_yard.project.givens.items() if one.note == "given"}
    assert {key[0] for key in given} == {"installed_sets", "set_rated_power", "power_frequency", "generating_voltage", "altitude", "outdoor_temperature_min",
                                         "outdoor_temperature_max", "period_limit", "purpose"}
    for one in cold_yard.project.givens.values():
        assert one.standing == ("stated" if one.note == "given" else "assumed – confirm"), one.term
        assert one.note in ("given", "to be filled in") or one.note.startswith("first guess"), one.term


def test_what_nobody_answers_is_assumed(tmp_path):
    book = book_of({"sets": "2"}, tmp_path / "one")
    assert book.project.givens["set_rated_power", ""].standing == "assumed – confirm" and book.project.givens["installed_sets", ""].standing == "stated"


def test_the_terms_that_must_be_given_are_given_or_belong_to_empty_lists(cold_yard):
    needed = {term.id for term in map(terms().get, asked_in()) if term.required}
    given = {term_id for term_id, _ in cold_yard.project.givens}
    unlisted = {term for term in needed - given if terms()[term].own_axes and not cold_yard.project.items.get(terms()[term].own_axes[0])}
    by_choice = {"ambient_table", "grouping_table", "remote_radiator_airflow"}  # asked for by a printed table, by circuits in a group, by remote radiators
    assert needed - given - unlisted <= by_choice


NEVER = """codes signatures hours_rule permit_other_hours_max indoor_fuel_rule fuel_containment_rule exposure_law day_exposure_max daily_protected_level_max
    level_without_protection_max pollutants bearing_allowable seismic_code design_acceleration grid_infeeds interlocks utility_operation supply_neutral
    declared_site_power radiator_air_on_max sound_tests silencer_self_noise element_self_noise start_time_max earth_electrode_resistance"""


def test_what_is_never_guessed_is_not_there(cold_yard):
    # Codes, law, signatures, permits, soil, earthquake, the public supply and its interlocks, makers' curves, results of tests.
    lists = {axis: items for axis, items in cold_yard.project.items.items() if items}
    there = {term_id for term_id, _ in cold_yard.project.givens} | {listed(axis).key for axis in lists}
    assert not there & set(NEVER.split())
    undecided = {verdict.check.id for verdict in cold_yard.checks if verdict.word == "undecided"}
    assert {"breaker_breaking", "bearing_pressure", "bearing_in_earthquake", "set_interlocks", "utility_interlock", "noise_exposure", "hours_counted",
            "indoor_total", "radiator_air_on", "time_to_load"} <= undecided


def test_the_year_says_what_it_is(cold_yard):
    text = first_guess(read_facts(COLD_YARD), "Cold yard").files["weather-guessed.epw"]
    assert "made up from its extremes of -31 degC and 35 degC" in text and len(text.splitlines()) == 8 + 8760
    given = cold_yard.project.givens["outdoor_temperature_hourly", ""]
    assert max(given.data) == pytest.approx(308.15, abs=0.006) and min(given.data) == pytest.approx(242.15, abs=0.1)


def test_numbers_are_written_in_the_units_that_were_typed():
    american = first_guess(read_facts(CORNERS[2]), "x")
    assert american.written["set_dry_mass", ""].text.endswith(" lb") and american.written["altitude", ""].text == "9842 ft"
    assert first_guess(read_facts(COLD_YARD), "x").written["set_dry_mass", ""].text.endswith(" kg")
