"""Trials in project text: what is read, and each fault at its line with what was expected and the nearest name."""

import pytest

import basis
from basis.language.faults import Faults
from basis.reading.project import read

PLANT = "altitude: 3 m\noutdoor_temperature_max: 34 degC\noutdoor_temperature_min: 2 degC\noutdoor_relative_humidity: 50 %\nhours_per_year_outages: 30 h\n" \
        "hours_per_year_tests: 40 h\ntest_hours_max: 50 h\ncurrency: EUR\nfuel_price: 1.30 EUR/L\n"
HOT = "{input: outdoor_temperature_max, from: 30 degC, to: 42 degC, steps: 5}"


def folder_of(tmp_path, *trials):
    folder = tmp_path / "trial"
    folder.mkdir()
    (folder / "project.yaml").write_text("chapters: [plant]\ntrials:\n" + "".join(f"  - {one}\n" for one in trials), "utf-8")
    (folder / "plant.yaml").write_text(PLANT, "utf-8")
    return folder


def test_a_trial_is_an_input_with_evenly_spaced_numbers(tmp_path):
    (trial,) = read(folder_of(tmp_path, HOT)).trials
    assert trial.input == "outdoor_temperature_max" and trial.line == 3 and trial.file.endswith("project.yaml")
    assert trial.numbers == pytest.approx([303.15, 306.15, 309.15, 312.15, 315.15])  # 30, 33 … 42 °C; 0 °C is 273.15 K


READ = {
    "unknown": ("{input: outdoor_temperatur_max, from: 30 degC, to: 42 degC, steps: 5}", "unknown input", "outdoor_temperature_max"),
    "of items": ("{input: cable_length, from: 30 m, to: 42 m, steps: 5}", "runs over ", ""),
    "a word": ("{input: currency, from: EUR, to: USD, steps: 2}", "is a word", ""),
    "a date": ("{input: status_date, from: 2026-01-01, to: 2027-01-01, steps: 2}", "is a date", ""),
    "outside its range": ("{input: outdoor_temperature_max, from: 30 degC, to: 420 degC, steps: 5}", "outside its physical range", ""),
    "another unit": ("{input: outdoor_temperature_max, from: 30 kW, to: 42 degC, steps: 5}", "kW", ""),
    "no unit": ("{input: outdoor_temperature_max, from: 30, to: 42 degC, steps: 5}", "outdoor_temperature_max", ""),
    "backwards": ("{input: outdoor_temperature_max, from: 42 degC, to: 30 degC, steps: 5}", "runs from 42 degC to 30 degC", ""),
    "one step": ("{input: outdoor_temperature_max, from: 30 degC, to: 42 degC, steps: 1}", "a trial of 1 steps", ""),
    "too many steps": ("{input: outdoor_temperature_max, from: 30 degC, to: 42 degC, steps: 10}", "a trial of 10 steps", ""),
    "steps in words": ("{input: outdoor_temperature_max, from: 30 degC, to: 42 degC, steps: many}", "the steps 'many' of a trial", ""),
    "no end": ("{input: outdoor_temperature_max, from: 30 degC, steps: 3}", "without to", ""),
    "parts of a count": ("{input: fuel_transfer_pumps, from: 1, to: 4, steps: 3}", "not all whole numbers", ""),
}
SOLVED = {
    "computed": ("{input: air_pressure, from: 98 kPa, to: 101 kPa, steps: 3}", "which the book computes"),
    "not given": ("{input: fuel_delivery_volume, from: 1000 L, to: 2000 L, steps: 3}", "which the project does not give"),
    "another currency": ("{input: fuel_price, from: 1.2 USD/L, to: 1.6 USD/L, steps: 3}", "in USD"),
}


@pytest.mark.parametrize("trial, what, nearest", READ.values(), ids=READ)
def test_a_wrong_trial_is_told_at_its_line(tmp_path, trial, what, nearest):
    with pytest.raises(Faults) as found:
        read(folder_of(tmp_path, HOT, trial))
    (fault,) = found.value.faults
    assert fault.file.endswith("project.yaml") and fault.line == 4 and what in fault.what and nearest in fault.nearest and fault.expected


@pytest.mark.parametrize("trial, what", SOLVED.values(), ids=SOLVED)
def test_what_only_the_whole_book_can_tell_is_told_at_its_line_too(tmp_path, trial, what):
    with pytest.raises(Faults) as found:
        basis.load(folder_of(tmp_path, HOT, trial))
    (fault,) = found.value.faults
    assert fault.file.endswith("project.yaml") and fault.line == 4 and what in fault.what and fault.expected


def test_all_that_is_wrong_is_told_at_once_and_an_input_is_tried_once(tmp_path):
    with pytest.raises(Faults) as found:
        read(folder_of(tmp_path, HOT, *(trial for trial, _, _ in READ.values()), HOT))
    lines = [fault.line for fault in found.value.faults]
    assert sorted(set(lines)) == list(range(4, 4 + len(READ) + 1))
    assert any("is given twice" in fault.what for fault in found.value.faults)
