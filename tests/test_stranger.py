"""A plant that nobody here drew: one set of 60 Hz that starts by battery, no supply beside it, no network, no transformer, hardly a list."""

import pytest
from rendering import chapter_page

from basis.solving.solve import load

PROJECT = """name: One set
chapters: [plant, loads, voltage, starting, short_circuit, earthing, cables, dips, synchronising, station_supply, controls]
"""
PLANT = """place: Somewhere
purpose: Standby of a pump house
altitude: 200 m
outdoor_temperature_max: 36 degC
outdoor_temperature_min: -10 degC
outdoor_relative_humidity: 40 %
power_frequency: 60 Hz
currency: USD
rating_class: ESP
set_rated_power: 500 kW
engine_speed: 1800 rpm
spare_sets: 0
generating_voltage: 480 V
ampacity_table: nec-310-16-copper-75
conductor_size: 500 kcmil
conductor_table: nec-ch9-table-8-copper
conductor_ambient_temperature: 40 degC
ambient_table: nec-310-15-b1-75
circuits_grouped: 1
grouping_rule: circuits
grouping_table: nec-310-15-c1
termination_limit: not_limiting
generator_cable_length: 20 m
cable_laying: conduit
starting_method: battery
battery_unit_capacity: 180 Ah
battery_temperature: 10 degC
battery_temperature_mean: 20 degC
room_airflow_held: 50 m^3/h
neutral_earthing: solid
control_conduit_table: control-conduit-emt
utility_breakers: 0
loads:
  - {id: pumps, name: Pumps, load_connected_power: 300 kW, load_power_factor: 0.86, load_step_joined: first}
load_steps:
  - {id: first, name: All at once, step_time: 10 s, step_sets: 1}
running_cases:
  - {id: run, name: The set running, sets_out: 0}
"""
NOT_THERE = ("air_recharge", "black_start_time_ok", "time_to_load", "tie_interlock", "utility_interlock", "return_break", "parallel_time", "islanding",
             "interruptible", "sync_slip", "sync_voltage", "sync_angle", "closing_current", "share_even", "share_reactive", "share_overload", "share_reverse",
             "share_alternator", "droop_of_class", "reverse_relay", "third_harmonic_circulation", "leading_power", "self_excitation", "returned_power",
             "distortion", "voltage_on_start", "dip_on_start", "transformer_rating_ok", "transformer_regulation_ok", "station_start_ok", "station_battery_ok",
             "breaker_breaking", "feeder_reach", "cable_capacity_ok", "protective_conductor_ok", "ct_burden_ok", "vt_burden_ok", "separation_ok")


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    folder = tmp_path_factory.mktemp("projects") / "one-set"
    folder.mkdir()
    (folder / "project.yaml").write_text(PROJECT, "utf-8")
    (folder / "all.yaml").write_text(PLANT, "utf-8")
    return load(folder)


def test_nothing_is_judged_that_is_not_there(book):
    assert {name: book.check(name).word for name in NOT_THERE if book.check(name).word != "nothing to check"} == {}


def test_a_plant_that_leads_is_computed(tmp_path):
    """Rectifiers with filters give reactive power: 300 kW at 0.95 leading are −98.6 kvar (hand calculation, 300·tan(acos 0.95))."""
    (tmp_path / "project.yaml").write_text(PROJECT, "utf-8")
    (tmp_path / "all.yaml").write_text(PLANT.replace("load_power_factor: 0.86", "load_power_factor: 0.95, load_power_factor_side: leading"), "utf-8")
    leading = load(tmp_path)
    assert leading["demand_reactive_power"].number == pytest.approx(-98.6e3, abs=50)
    assert leading["case_reactive_power.run"].number == leading["step_total_reactive_power.first"].number == leading["demand_reactive_power"].number
    assert leading.check("self_excitation").decided and leading.check("leading_power").word == "undecided"  # its maker has not said what it bears


def test_nothing_is_told_in_numbers_that_is_not_there(book):
    pages = {chapter: " ".join(chapter_page(book, chapter).text.split()) for chapter in ("starting", "synchronising", "station_supply", "short_circuit")}
    assert "load is on" not in pages["starting"] and "0 kW in standby" not in pages["station_supply"] and "Black start" not in pages["station_supply"]
    assert "No public supply reaches this bus" in pages["synchronising"] and "Every other set" not in pages["synchronising"]
    assert "One-line diagram of the network: not drawn" in pages["short_circuit"]
