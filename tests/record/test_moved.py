"""Which numbers moved, by how much, and what is said of inputs; rounding of another machine is no change."""

import dataclasses
from math import inf, nextafter

import pytest
from small_project import by_id, compared, exchange, record, with_number

import basis
from basis.record.compare import compare
from basis.record.issuing import record_of
from basis.record.moved import Moved


def test_what_is_said_of_an_input_moves_no_result(tmp_path):
    found = compared(tmp_path, ('note: "harbour wall", standing: assumed', 'note: "harbour wall, survey"'))
    (altitude,) = found.inputs
    assert altitude.numbers == (Moved("altitude", "0 m", "0 m", "", False, "harbour wall, survey", "assumed – confirm", "stated", old_note="harbour wall"),)
    assert found.results == {} and found.moved == 0 and not found.nothing


@pytest.mark.parametrize("note, told", [('note: "harbour wall"', "harbour wall"),
                                        ('note: "quay"', "quay (was: harbour wall)"),
                                        ("plus_minus: 1 m", "none (was: harbour wall)")])
def test_a_note_that_is_another_or_gone_is_told_with_what_it_was(tmp_path, note, told):
    found = compared(tmp_path, ('value: 0 m, note: "harbour wall"', f"value: 3 m, {note}"))
    assert [one.noted for value in found.inputs for one in value.numbers] == [told]


def test_a_change_from_nought_has_no_share(tmp_path):
    (altitude,) = compared(tmp_path, ("value: 0 m", "value: 20 m")).inputs
    assert altitude.numbers[0].change == "" and (altitude.numbers[0].old, altitude.numbers[0].new) == ("0 m", "20.0 m")


@pytest.mark.parametrize("share, differs", [(1e-12, False), (9e-10, False), (1.1e-9, True), (1e-6, True)])
def test_rounding_of_another_machine_is_no_change(tmp_path, share, differs):
    have = record(tmp_path)
    number = float(have.values["air_pressure"].number) * (1 + share)
    found = compare(have, with_number(have, "air_pressure", repr(number)))
    assert found.nothing is not differs
    if differs:
        assert by_id(found)["air_pressure"].numbers[0].seen is False and found.moved == 0  # less than is shown
        assert by_id(found)["air_pressure"].numbers[0].change == ("less than 0.001 %" if share < 1e-5 else "+0.0001 %")


def test_last_digits_of_another_machine_are_no_change(books):
    have = record_of(books["larkmere-hospital"])
    other = dataclasses.replace(have, checks={name: one._replace(margin=nudged(one.margin)) for name, one in have.checks.items()},
                                values={name: one._replace(number=one.number if one.over else nudged(one.number)) for name, one in have.values.items()},
                                parts={name: tuple(one._replace(number=nudged(one.number)) for one in found) for name, found in have.parts.items()})
    assert sum(one.number != other.values[name].number for name, one in have.values.items()) > 1000 and compare(have, other).nothing


def nudged(numbers: str) -> str:
    """The next float above each number of a text, words as they are."""
    try:
        return " ".join(repr(nextafter(float(number), inf)) for number in numbers.split(" "))
    except ValueError:
        return numbers


def test_a_formula_overruled_by_the_project(tmp_path):
    have = record(tmp_path)
    pressure = have.values["air_pressure"]._replace(origin="given", standing="measured", note="barometer")
    found = compare(have, dataclasses.replace(have, values={**have.values, "air_pressure": pressure}))
    ((moved,),) = (value.numbers for value in found.inputs)
    assert (moved.number, moved.old_standing, moved.new_standing, moved.note) == (False, "computed", "measured", "barometer")


def test_another_weather_file(tmp_path):
    place = exchange(tmp_path)
    before = record_of(basis.load(place))
    path = place / "weather.epw"
    lines = path.read_text("utf-8").splitlines(keepends=True)
    cells = lines[2000].split(",")
    cells[6] = f"{float(cells[6]) + 1}\n"  # of an EPW line the seventh is the dry-bulb temperature
    lines[2000] = ",".join(cells)
    path.write_text("".join(lines), "utf-8")
    found = compare(before, record_of(basis.load(place)))
    ((hours,),) = (value.numbers for value in found.inputs)
    assert hours.id == "outdoor_temperature_hourly" and hours.old.startswith("8760 values, digest ") and hours.seen
    assert all(cause.id == "outdoor_temperature_hourly" for values in found.results.values() for value in values for cause in value.because)
    assert before.head.text != found.new.text


def test_an_item_that_is_new_is_told_by_what_it_has(tmp_path):
    """A second bank of the exchange has a limit; that other optional keys of it are not given is no change, and words stand without a unit."""
    place = exchange(tmp_path)
    before = record_of(basis.load(place))
    text = (place / "commissioning.yaml").read_text("utf-8")
    second = "  - {id: second, name: Second battery, trend_kind: battery_voltage, trend_voltage_limit: 22 V}\nreadings:\n"
    (place / "commissioning.yaml").write_text(text.replace("readings:\n", second, 1), "utf-8")
    found = compare(before, record_of(basis.load(place)))
    told = {number.id: number.new for value in (*found.inputs, *by_id(found).values()) for number in value.numbers}
    assert told["trend_voltage_limit.second"] == "22.0 V" and "trend_conductance_limit.second" not in told
    assert told["trend_limit_date.second"].startswith("does not exist: ") and not any(new.startswith("not given ") for new in told.values())
    assert told["trend_scatter.second"] == "does not exist: there are fewer than three readings on different days"
