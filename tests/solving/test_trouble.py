"""What could not be computed is told where it can be mended; and what the compiled formulas do with nothing, or with one rule for all items."""

import math
import re
from pathlib import Path

import numpy as np
import pytest
from demos import demo_copy

from basis.chapters import catalogue
from basis.language.compiled import Step, chain, compiled, extreme
from basis.language.faults import Faults, ItemTrouble, ItemTroubles, OutOfTable
from basis.language.maths import PLAIN_FUNCTIONS
from basis.reading.givens import Given
from basis.reading.project import read
from basis.solving.solve import solve
from basis.solving.trouble import Places, _place_of_key, not_finite, why

ROOT = Path(__file__).parents[2]


def places():
    givens = {("bus_voltage", "ring"): Given("bus_voltage", "ring", 11e3, "11 kV", "p/net.yaml", 7),
              ("feeder_to_bus", "link"): Given("feeder_to_bus", "link", "ring", "ring", "p/net.yaml", 12),
              ("altitude", ""): Given("altitude", "", 3.0, "3 m", "p/plant.yaml", 2)}
    return Places("p", ("net.yaml", "plant.yaml", "project.yaml"), givens, {"bus": ("board", "ring", "spare"), "feeder": ("link",)},
                  {("bus", "ring"): ("p/net.yaml", 6), ("bus", "spare"): ("p/net.yaml", 9)})


@pytest.mark.parametrize(("trouble", "told"), [
    (ItemTrouble("bus_voltage", 1, "is odd", "another", "10 kV"), "p/net.yaml:7: 'bus_voltage' of 'ring': is odd; expected another; nearest: 10 kV"),
    (ItemTrouble("bus_voltage", "ring", "is odd"), "p/net.yaml:7: 'bus_voltage' of 'ring': is odd"),
    (ItemTrouble("feeder_from_bus", 0, "is odd"), "p/net.yaml:12: 'feeder_from_bus' of 'link': is odd"),  # the item's own line
    (ItemTrouble("bus_voltage", 0, "is odd"), "p/project.yaml: 'bus_voltage' of 'board': is odd"),  # an item of a fixed list
    (ItemTrouble("bus_voltage", "spare", "is odd"), "p/net.yaml:9: 'bus_voltage' of 'spare': is odd"),  # an item with nothing but its id
    (ItemTrouble("altitude", "", "is odd"), "p/plant.yaml:2: 'altitude': is odd"),
])
def test_a_trouble_is_told_where_it_is_given(trouble, told):
    assert str(places().fault(trouble)) == told


def test_an_item_with_nothing_but_its_id_has_a_line(tmp_path):
    (tmp_path / "project.yaml").write_text("name: Trial\nbuses:\n  - id: board\n    name: Board\n  - id: spare\n", encoding="utf-8")
    file = f"{tmp_path.as_posix()}/project.yaml"
    assert read(tmp_path).item_places == {("bus", "board"): (file, 3), ("bus", "spare"): (file, 5)}


def test_nearest_given_of_several_terms():
    assert places().nearest(("feeder_to_bus", "bus_voltage")) == ("p/net.yaml", 7) and places().nearest(("energy_price",)) == ("p/project.yaml", 0)


def test_troubles_read_as_one_sentence():
    assert str(ItemTroubles([ItemTrouble("altitude", "", "is odd"), ItemTrouble("altitude", "", "is even")])) == "is odd; is even"


def test_the_largest_of_nothing_is_not_given():
    assert np.isnan(extreme(np.max, np.zeros(0), -1)) and np.isnan(extreme(np.min, np.zeros((3, 0)), -1)).all()
    assert extreme(np.max, np.zeros((0, 2)), -2).shape == (2,) and extreme(np.max, np.array([[1.0, 2.0]]), -1).tolist() == [2]


def test_a_formula_of_no_axis_is_one_rule_for_all_items():
    from basis.chapters.short_circuit.chapter import bus_voltage
    from basis.language.terms import terms

    inputs = ("generating_voltage", "given_bus_voltage", "number_of_bus")
    run = chain((Step(("bus_voltage",), bus_voltage.expression, merged=True),), inputs, terms())
    assert run(480.0, np.array([np.nan, 11e3, np.nan]), 3.0)[0].tolist() == [480, 11e3, 480]
    sampled = chain((Step(("bus_voltage",), bus_voltage.expression),), inputs[::2], terms(), sampled=True)
    assert sampled(np.array([400.0, 480.0]), 2.0)[0].tolist() == [[400, 400], [480, 480]]


def test_all_troubles_of_a_procedure_are_told_together(tmp_path):
    (tmp_path / "project.yaml").write_text("""name: two mistakes
chapters: [short_circuit]
power_frequency: 50 Hz
generating_voltage: 400 V
alternator_rated_apparent_power: 1 MVA
installed_sets: 1
conductor_table: iec-60228-copper
running_cases: [{id: all, sets_out: 0}]
buses: [{id: board}, {id: lost, bus_voltage: 400 V}, {id: gone, bus_voltage: 400 V}]
generators: [{id: set_1, generator_bus: board}]
""")
    with pytest.raises(Faults) as found:
        solve(read(tmp_path))
    assert [fault.what.split("'")[3] for fault in found.value.faults] == ["gone", "lost"]


def compiled_from_here(monkeypatch):
    """Length of every text that is compiled from here on."""
    lengths, own = [], compiled.__wrapped__
    monkeypatch.setattr("basis.language.compiled.compiled", lambda text: lengths.append(len(text)) or own(text))
    return lengths


def test_a_late_fault_in_a_table_row_costs_no_more_than_a_good_text(tmp_path, monkeypatch):
    # Counted, not timed: text that is compiled. Before, each step was compiled with every name of the book, again for each option.
    folder = demo_copy("larkmere-hospital", tmp_path / "larkmere")
    lengths = compiled_from_here(monkeypatch)
    solve(read(folder))
    good = sum(lengths)
    text = (folder / "cables.yaml").read_text("utf-8")
    line = next(line for line in text.splitlines() if "cable_size: " in line)
    size = re.search(r"cable_size: (\d+) mm²", line).group()
    (folder / "cables.yaml").write_text(text.replace(size, "cable_size: 17 mm²", 1), "utf-8")
    lengths.clear()
    with pytest.raises(Faults) as found:
        solve(read(folder))
    assert sum(lengths) < 2 * good
    told = {(fault.file.rpartition("/")[2], fault.line, fault.nearest) for fault in found.value.faults}
    assert told == {("cables.yaml", text.splitlines().index(line) + 1, "16 mm²")}


@pytest.mark.parametrize("key, there, missing", [("feeder_size", "240 mm²", "17 mm²"), ("protective_conductor_size", "95 mm²", "17 mm²")])
def test_a_row_that_is_not_there_is_told_at_the_line_of_its_key(tmp_path, key, there, missing):
    folder = demo_copy("larkmere-hospital", tmp_path / "larkmere")
    path = next(path for path in sorted(folder.glob("*.yaml")) if f"{key}: {there}" in path.read_text("utf-8"))
    text = path.read_text("utf-8")
    path.write_text(text.replace(f"{key}: {there}", f"{key}: {missing}", 1), "utf-8")
    line = text[:text.index(f"{key}: {there}")].count("\n") + 1
    with pytest.raises(Faults) as found:
        solve(read(folder))
    assert {(fault.file, fault.line) for fault in found.value.faults} == {(path.as_posix(), line)}


def test_a_computed_key_is_told_where_it_comes_from():
    step, maker = Step(("voltage_annuity_factor",), needs=("b",)), Step(("b",), needs=("altitude",))
    assert _place_of_key(step.needs, OutOfTable("t", 4.0, "", ""), (maker, step), places()) == ("p/plant.yaml", 2)


def test_a_result_without_bound_is_told_where_its_inputs_come_from():
    step, maker = Step(("engine_speed",), needs=("pole_pairs",)), Step(("pole_pairs",), needs=("altitude",))
    (fault,) = not_finite(step, {"pole_pairs": 0.0, "engine_speed": math.inf}, places(), (maker, step))
    assert (fault.file, fault.line) == ("p/plant.yaml", 2)


def told_of(folder):
    with pytest.raises(Faults) as found:
        solve(read(folder))
    return [str(fault).removeprefix(f"{folder.as_posix()}/") for fault in found.value.faults]


def replaced(folder, name, key, value):
    """Writes another value at the first line of a key; returns its line number."""
    text = (folder / name).read_text("utf-8")
    found = re.search(rf"(?m)\b{key}: (\{{value: )?-?[\d.]+( [^\s,}}]+)?", text)
    (folder / name).write_text(text[:found.start()] + f"{key}: {found[1] or ''}{value}" + text[found.end():], "utf-8")
    return text[:found.start()].count("\n") + 1


@pytest.mark.parametrize("name, key, value, other", [
    ("plant.yaml", "outdoor_temperature_min", "39 degC", "outdoor_temperature_max"), ("loads.yaml", "spare_sets", "5", "installed_sets"),
    ("loads.yaml", "sets_out", "7", "installed_sets"), ("starting.yaml", "receiver_pressure_min", "39 bar", "receiver_pressure_max"),
    ("fuel.yaml", "fuel_temperature_min", "70 degC", "fuel_temperature_max")])
def test_inputs_that_must_order_themselves(tmp_path, name, key, value, other):
    folder = demo_copy("high-tarn-waterworks", tmp_path / "tarn")
    line = replaced(folder, name, key, value)
    assert any(told.startswith(f"{name}:{line}: '{key}'") and f"above '{other}'" in told and "expected at most" in told for told in told_of(folder))


def test_an_order_is_no_verdict_and_asks_for_nothing(books):
    # The exchange gives no pressure of a crankcase: it is not missing for an order's sake.
    book = books["cobble-key-exchange"]
    assert not [verdict for verdict in (*book.checks, *book.self_tests) if "_not_above_" in verdict.check.id]
    orders = [check for checks in catalogue().checks.values() for check in checks if check.order]
    assert len(orders) > 20 and not all(check.value in book.values for check in orders)


def test_frequency_and_speed_belong_together(tmp_path):
    # An alternator at 50 Hz turns at 3000 r/min over its pole pairs: 1500 or 1000 r/min, not 1400 (IEC 60034-1, synchronous speed).
    folder = demo_copy("high-tarn-waterworks", tmp_path / "tarn")
    line = replaced(folder, "loads.yaml", "engine_speed", "1400 rpm")
    told, = (told for told in told_of(folder) if "pole_pairs" in told)
    assert f"loads.yaml:{line}" in told and "whole number" in told


def test_a_result_outside_its_range_is_told_and_not_what_it_breaks(tmp_path):
    # all sets out of a running case leave none to carry it: their load, reactances and dips, divided by no set, are not to blame
    folder = demo_copy("high-tarn-waterworks", tmp_path / "tarn")
    text = (folder / "loads.yaml").read_text("utf-8")
    (folder / "loads.yaml").write_text(text.replace("name: One set alone, sets_out: 1", "name: No set, sets_out: 2"), "utf-8")  # of two that are installed
    told = told_of(folder)
    line = text[:text.index("name: One set alone, sets_out: 1")].count("\n") + 1  # of the case that leaves none, not of the number installed
    assert [one for one in told if f"loads.yaml:{line}: 'running_sets" in one and "comes out as 0, outside its physical range" in one]
    assert not [line for line in told if "cannot be computed" in line]


@pytest.mark.parametrize("points, told", [(1, "a fan curve needs points at two airflows or more"), (0, "")])
def test_a_fan_of_one_point_is_told_at_its_line_and_without_points_nothing_is_known_of_it(tmp_path, points, told):
    folder = demo_copy("cobble-key-exchange", tmp_path / "key")
    text = (folder / "ventilation.yaml").read_text("utf-8")
    head, tail = text.split("fan_points:\n")
    every = tail[:re.search(r"(?m)^\S|\Z", tail).start()]
    kept = f"fan_points:\n{every.splitlines()[0]}\n" if points else ""
    (folder / "ventilation.yaml").write_text(f"{head}{kept}{tail.removeprefix(every)}", "utf-8")
    line = head.count("\n") + 2
    if told:
        assert any(one.startswith(f"ventilation.yaml:{line}: 'fan_point_airflow'") and told in one for one in told_of(folder))
    else:
        book = solve(read(folder))
        assert {(book.check(name).word, book.check(name).missing) for name in ("fan_curve", "room_ambient")} == {("undecided", ("fan_points",))}


def test_the_whole_part_of_what_is_not_given_is_not_given():
    for name, whole in (("floor", 2), ("ceil", 3)):
        function = eval(PLAIN_FUNCTIONS[name][0])
        assert np.isnan(function(math.nan)) and function(2.5) == whole


@pytest.mark.parametrize(("trouble", "words"), [(ZeroDivisionError("float division by zero"), "something is divided by nought"),
                                                (OverflowError("math range error"), "a number grows beyond all bounds"),
                                                (ValueError("math domain error"), "the root or logarithm of a number for which there is none"),
                                                (ValueError("the curve does not fall"), "the curve does not fall")])
def test_what_cannot_be_computed_is_said_in_an_engineers_words(trouble, words):
    assert why(trouble) == words
