"""What changed between two records, on changes whose effect is worked out by hand: verdicts, inputs, results."""

import dataclasses
import os
import subprocess
import sys

import pytest
from small_project import ROOT, by_id, compared, record

from basis.record.causes import Cause
from basis.record.compare import compare, title
from basis.record.issued import Head, text_of
from basis.record.issuing import record_of
from basis.record.moved import Moved

HOT = "outdoor_temperature_max: 38 degC"
TEMPERATURE, TESTS = "outdoor_temperature_max: 34 degC", "hours_per_year_tests: {value: 40 h"


def test_nothing_differs(tmp_path):
    found = compared(tmp_path)
    assert found.nothing and found.moved == 0 and found.worse == () and found.turned == ()


def test_results_are_laid_to_the_inputs_upstream_of_them(tmp_path):
    found = compared(tmp_path, (TEMPERATURE, "outdoor_temperature_max: {value: 38 degC, note: new weather station}"),
                     ("hours_per_year_outages: 30 h", "hours_per_year_outages: 37 h"))
    assert [one for value in found.inputs for one in value.numbers] == [
        Moved("outdoor_temperature_max", "34.0 °C", "38.0 °C", "+4 K", True, "new weather station", "stated", "stated"),
        Moved("hours_per_year_outages", "30.0 h", "37.0 h", "+23.3 %", True, "", "stated", "stated")]  # by hand: 7 of 30
    results = by_id(found)
    assert set(results) == {"outdoor_temperature_range", "running_hours_per_year"}  # the air pressure rests on neither
    assert results["outdoor_temperature_range"].numbers == (Moved("outdoor_temperature_range", "44.0 K", "48.0 K", "+4 K"),)
    assert results["outdoor_temperature_range"].because == (Cause("input", "outdoor_temperature_max", "34.0 °C", "38.0 °C"),)
    assert results["running_hours_per_year"].numbers == (Moved("running_hours_per_year", "70.0 h", "77.0 h", "+10 %"),)  # by hand: 40 + 37
    assert results["running_hours_per_year"].because == (Cause("input", "hours_per_year_outages", "30.0 h", "37.0 h"),)
    assert found.moved == 4 and found.turned == () and list(found.results) == ["plant"]


def test_a_verdict_that_turned(tmp_path):
    found = compared(tmp_path, (TESTS, "hours_per_year_tests: {value: 60 h"))
    (check,) = found.turned
    # By hand: 40 of 50 leaves 20 %, 60 of 50 is 20 % too much.
    assert (check.id, check.old, check.new, check.old_margin, check.new_margin, check.worse) == ("test_hours", "holds", "fails", "+20 %", "−20 %", True)
    assert [cause.id for cause in check.because] == ["hours_per_year_tests"] and found.worse == (check,)
    back = compare(record(tmp_path, (TESTS, "hours_per_year_tests: {value: 60 h")), record(tmp_path))
    assert back.turned[0].new == "holds" and back.worse == ()


def test_a_margin_that_moved_is_no_turned_verdict(tmp_path):
    (check,) = (found := compared(tmp_path, (TESTS, "hours_per_year_tests: {value: 42 h"))).checks
    assert (check.old_margin, check.new_margin, check.turned, check.worse) == ("+20 %", "+16 %", False, False) and found.turned == ()


def test_an_input_taken_away_leaves_a_verdict_undecided(tmp_path):
    found = compared(tmp_path, ("test_hours_max: 50 h\n", ""))
    (check,) = found.worse
    assert (check.old, check.new, check.why) == ("holds", "undecided", "not given: test_hours_max")
    assert check.because == (Cause("input", "test_hours_max", "50.0 h", ""),)
    assert compare(record(tmp_path, ("test_hours_max: 50 h\n", "")), record(tmp_path)).worse == ()


@pytest.mark.parametrize("verdict, worse", [("holds", True), ("tight", True), ("fails", True), ("undecided", True), ("nothing to check", False)])
def test_a_check_that_is_made_no_more_proves_nothing(tmp_path, verdict, worse):
    have = record(tmp_path)
    before = dataclasses.replace(have, checks={"test_hours": have.checks["test_hours"]._replace(verdict=verdict)})
    later = dataclasses.replace(have, head=dataclasses.replace(have.head, program="9.0"), checks={})
    (check,) = (found := compare(before, later)).checks
    assert (check.old, check.new, check.worse, len(found.worse)) == (verdict, "", worse, worse)
    assert found.turned == (() if verdict == "nothing to check" else (check,))  # it said nothing, and says nothing now
    assert check.because == (Cause("program", "", have.head.program, "9.0"),)
    # Left out with its chapter it is laid to that.
    (check,) = (found := compare(before, dataclasses.replace(have, chapters=(), values={}, checks={}))).checks
    assert check.because == (Cause("chapter", "plant"),) and check.worse is worse
    assert found.taken == (Moved("plant", "Plant and cautions", ""),)


@pytest.mark.parametrize("verdict, worse", [("holds", False), ("nothing to check", False), ("tight", True), ("undecided", True), ("fails", True)])
def test_a_check_that_is_new(tmp_path, verdict, worse):
    have = record(tmp_path)
    now = dataclasses.replace(have, checks={"test_hours": have.checks["test_hours"]._replace(verdict=verdict)})
    (check,) = compare(dataclasses.replace(have, checks={}), now).checks
    assert (check.old, check.new, check.worse, check.turned) == ("", verdict, worse, verdict != "nothing to check")


def test_what_a_new_chapter_has_by_default_is_counted_and_not_listed(tmp_path):
    """Who reads what changed looks for what somebody typed."""
    now = record(tmp_path)
    old = dataclasses.replace(now, chapters=(), checks={}, values={}, parts={})
    found = compare(old, now)
    assert found.taken == (Moved("plant", "", "Plant and cautions"),) and not found.nothing
    typed = ["altitude", "outdoor_temperature_max", "outdoor_temperature_min", "outdoor_relative_humidity", "hours_per_year_tests", "hours_per_year_outages",
             "test_hours_max"]
    assert sorted(value.id for value in found.given) == sorted(typed)
    assert found.defaults_told.startswith(f"{len(found.inputs) - 7} more that nobody gave")
    assert compare(now, now).defaults_told == ""


@pytest.mark.parametrize("old, new", [("name: Pump house", "name: Pump house on the quay"),
                                      ("test_hours_max: 50 h", "test_hours_max: {value: 50 h, plus_minus: 2 h}")])
def test_a_text_that_differs_where_no_record_does_is_not_said_to_be_the_same(tmp_path, old, new):
    found = compared(tmp_path, (old, new))
    assert found.nothing and "the text does" in found.nothing_told
    assert compared(tmp_path).nothing_told == "nothing differs"


def test_results_that_a_check_or_another_chapter_takes(tmp_path):
    def elsewhere(have):
        ratio = have.values["air_pressure_ratio"]._replace(chapter="cooling")
        hours = have.checks["test_hours"]._replace(sides="running_hours_per_year test_hours_max")
        return dataclasses.replace(have, values={**have.values, "air_pressure_ratio": ratio}, checks={"test_hours": hours})

    old, new = (record(tmp_path, *edits) for edits in ((), ((TESTS, "hours_per_year_tests: {value: 60 h"), ("value: 0 m", "value: 900 m"), (TEMPERATURE, HOT))))
    assert {one.id for one in by_id(compare(old, new)).values() if one.asked} == set()  # one chapter, whose check takes an input
    asked = {one.id: one.asked for one in by_id(compare(elsewhere(old), elsewhere(new))).values()}
    assert asked == {"air_pressure": True, "running_hours_per_year": True, "outdoor_temperature_range": False}


def test_titles():
    assert title(Head("a", "A", "1", "x")) == "the text as it stands"
    assert title(Head("a", "A", "1", "x", "C", "3", "2026-11-20")) == "revision C of 2026-11-20"
    assert title(Head("a", "A", "1", "x", "v2 (1a2b3c4)", "", "2026-11-20")) == "commit v2 (1a2b3c4) of 2026-11-20"


def test_a_decision_taken_otherwise(books):
    book = books["larkmere-hospital"]
    have = record_of(book)
    other = dataclasses.replace(have, decisions=(have.decisions[0]._replace(option="low_voltage", name="480 V"), *have.decisions[1:]))
    assert compare(have, other).decisions == (Moved("generating_voltage_choice", have.decisions[0].name, "480 V"),)


COST = """
import sys
from pathlib import Path
from time import process_time
started = process_time()
from basis.record.compare import compare
from basis.record.issued import read_record
found = compare(*(read_record(Path(name)) for name in sys.argv[1:]))
told = process_time() - started
assert len(found.results["noise"]) > 50 and "numpy" not in sys.modules
started = process_time()
import numpy
print(told / (process_time() - started))
"""


def test_two_records_cost_less_than_three_imports_of_numpy(books, tmp_path):
    have = record_of(books["larkmere-hospital"], "B", "2", "2026-11-20", "for construction")
    parts = {name: tuple(part._replace(number=" ".join(repr(float(number) * 1.01) for number in part.number.split()))
                         if value.chapter == "noise" and value.origin == "formula" else part for part in have.parts.get(name, ()))
             for name, value in have.values.items()}
    paths = [tmp_path / "larkmere-hospital" / "issued" / f"{name}.csv" for name in "AB"]
    paths[0].parent.mkdir(parents=True)
    for path, one in zip(paths, (dataclasses.replace(have, parts={name: found for name, found in parts.items() if found}), have)):
        path.write_text(text_of(one), "utf-8")
    plain = {name: word for name, word in os.environ.items() if name != "OPENBLAS_NUM_THREADS"}  # NumPy as it comes, whatever a command has set here before
    costs = [float(subprocess.run([sys.executable, "-c", COST, *map(str, paths)], cwd=ROOT, env=plain, capture_output=True, text=True, check=True).stdout)
             for _ in range(3)]
    assert min(costs) < 3  # with every array of the largest chapter moved; the least of three, since others use the machine
