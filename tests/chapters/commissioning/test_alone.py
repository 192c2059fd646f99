"""The record by itself, with little beside it, and without any item: a depot high up whose units are not ours, figures by hand as named beside each."""

from pytest import approx
from rendering import chapter_page
from small_project import exchange

from basis.reading.project import read
from basis.solving.solve import solve

PROJECT = "name: Depot\nchapters: [commissioning]\n"
PLACE = "altitude: 6200 ft\noutdoor_temperature_max: 96 degF\noutdoor_relative_humidity: 20 %\nstatus_date: 2026-10-01\ncommissioning_date: 2026-01-10\n"
RECORD = """acceptance_rule: guarded_five
measurements:
  - {id: fan, name: Roof fan, measured_kind: fan_pressure, measurement_stage: acceptance, measurement_date: 2026-04-02, measured_pressure: 0.45 inH2O,
     designed_pressure: 100 Pa, test_air_temperature: 50 degF, test_air_pressure: 29.4 inHg, tolerance_side: both, tolerance: 10 %,
     instrument_uncertainty: 3 %}
  - {id: gate, name: Level at the gate, measured_kind: sound_level, measurement_stage: service, measurement_date: 2026-04-02, measured_level: 54 dBA,
     background_level: 52 dBA, designed_level: 55 dBA, tolerance_side: not_more, level_tolerance: 1 dB, level_uncertainty: 0.8 dB, background_uncertainty: 1 dB}
"""
SET = """  - {id: engine, name: Power of the only set, measured_kind: set_power, measurement_stage: factory, measurement_date: 2025-10-02,
     measured_power: 60 kW, designed_power: 100 kW, test_air_temperature: 50 degF, test_air_pressure: 29.4 inHg, tolerance_side: not_less, tolerance: 5 %,
     instrument_uncertainty: 0.5 %}
"""
TRENDS = """trends:
  - {id: cable, name: "Cable, phase to earth", trend_kind: insulation_resistance, trend_resistance_limit: 50 Mohm}
readings:
  - {id: spring, reading_of: cable, reading_date: 2026-03-01, reading_resistance: 900 Mohm, reading_temperature: 50 degF}
  - {id: autumn, reading_of: cable, reading_date: 2026-09-01, reading_resistance: 300 Mohm, reading_temperature: 90 degF}
"""


def depot(tmp_path, *parts):
    folder = tmp_path / "depot"
    folder.mkdir()
    (folder / "project.yaml").write_text(PROJECT, encoding="utf-8")
    (folder / "commissioning.yaml").write_text("".join((PLACE, *parts)), encoding="utf-8")
    return solve(read(folder))


def test_the_record_alone(tmp_path):
    book = depot(tmp_path, RECORD, TRENDS)
    # hand: 99,559 Pa over 287.05 J/(kg K) and 283.15 K; 0.45 in of water are 112.1 Pa, less in the thin air of 6,200 ft and 96 °F
    assert float(book["test_air_density.fan"].number) == approx(1.2249, abs=2e-4)
    assert float(book["corrected_pressure.fan"].number) == approx(112.1 * float(book["outdoor_air_density"].number) / 1.2249, rel=1e-3)
    # hand: two decibels above the background no more than 3.02 dB are taken off
    assert float(book["corrected_level.gate"].number) == approx(50.98, abs=0.005)
    # hand: 900 MΩ at 10 °C are 112.5 MΩ at 40 °C, 300 MΩ at 32.22 °C 175 MΩ: it was the season, and the cable has not become worse
    assert list(book["reading_resistance_corrected"].number) == approx([112.5e6, 175e6], rel=1e-3)
    words = {verdict.check.id: verdict.word for verdict in book.checks}
    assert words == {"measured_within_tolerance": "fails", "deviations_have_action": "fails", "trend_within_limit": "holds", "trend_lasts": "holds",
                     "readings_in_time": "holds"}


def test_a_set_cannot_be_corrected_where_nothing_is_known_of_it(tmp_path):
    # the exponents of the engine belong to the chapter of loads: without it the project states the adjustment, or nothing is decided
    text = RECORD.replace("tolerance: 10 %", "tolerance: 40 %") + SET
    verdict = depot(tmp_path, text).check("measured_within_tolerance")
    assert verdict.word == "undecided" and "engine" in str(verdict.missing)


def test_an_empty_record_passes_nothing(tmp_path):
    book = depot(tmp_path)
    assert {verdict.word for verdict in book.checks} == {"nothing to check"}
    page = chapter_page(book, "commissioning").text
    assert "Nothing has been measured against its design yet" in page and "No input of this book is measured yet" in page


def test_with_plant_and_loads_only(tmp_path):
    book = solve(read(exchange(tmp_path, "plant, loads, commissioning")))
    # what was designed stands in chapters that are not there: nothing is decided, and the page says so without a fault
    assert book.check("measured_within_tolerance").word == "undecided"
    assert book.check("trend_within_limit").word == "undecided"
    assert "Start to load" in chapter_page(book, "commissioning").text
