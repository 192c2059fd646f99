"""Fuel in whole books: one input is moved, and exactly what hangs on it moves; what is missing makes a check undecided, never pass."""

from dataclasses import replace

import numpy as np
import pytest
from conftest import ROOT, SLUGS
from pytest import approx
from rendering import chapter_page

from basis.language.faults import Faults
from basis.reading.project import read
from basis.solving.solve import load, solve

HOUR, L = 3600.0, 1e-3
PLANT = """
chapters: [plant, loads, hours, fuel]
altitude: 100 m
outdoor_temperature_max: 30 degC
outdoor_temperature_min: -5 degC
outdoor_relative_humidity: 40 %
power_frequency: 50 Hz
currency: EUR
rating_class: ESP
set_rated_power: 1000 kW
engine_speed: 1500 rpm
spare_sets: 1
day_tank_ambient: 40 degC
loads:
  - {id: all, load_connected_power: 700 kW, load_power_factor: 0.9, load_step_joined: one}
load_steps:
  - {id: one, step_time: 10 s}
running_cases:
  - {id: run, sets_out: 1}
day_periods:
  - {id: day, day_power: 650 kW, day_duration: 12 h}
  - {id: night, day_power: 400 kW, day_duration: 12 h}
running_records:
  - {id: tests, record_reason: test, record_hours: 12 h, record_load_ratio: 50 %}
"""
FUEL = """
fuel_points:
  - {id: half, fuel_point_load: 500 kW, fuel_point_rate: 140 L/h}
  - {id: full, fuel_point_load: 1000 kW, fuel_point_rate: 262 L/h}
fuel_tanks:
  - {id: one, fuel_tank_volume: 10000 L, fuel_tank_fill_bore: 80 mm, fuel_tank_vent_bore: 80 mm}
required_autonomy: 40 h
day_tank_volume: 1000 L
day_tank_loss: 20 W/K
fuel_transfer_pump_flow: 10 L/min
fuel_containment_rule: largest_110_or_total_25
fuel_containment_volume: 12000 L
fuel_delivery_volume: 2000 L
indoor_fuel_rule: nfpa_37_2002
fuel_pipes:
  - {id: suction, fuel_pipe_duty: transfer_suction, fuel_pipe_bore: 26.6 mm, fuel_pipe_length: 20 m, fuel_pipe_rise: 1.5 m, fuel_pipe_drop_max: 40 kPa}
"""


@pytest.fixture(scope="module")
def books():
    """Slug -> Book of each demo project, these chapters added to those that it lists."""
    found = {}
    for slug in SLUGS:
        project = read(ROOT / "projects" / slug)
        found[slug] = solve(replace(project, chapters=(*project.chapters, "hours", "fuel") if project.chapters else ()))
    return found


@pytest.fixture
def made(tmp_path):
    """A function that solves the plant with a text added and pieces of it replaced."""
    def solve(*changes, fuel=FUEL):
        text = PLANT + fuel
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        (tmp_path / "project.yaml").write_text(text, "utf-8")
        return load(tmp_path)
    return solve


def moved(before, after):
    """Ids of computed values of the chapter that differ between two books."""
    return {value.id for value in before.of_chapter("fuel") if value.origin in ("formula", "procedure") and value.id in after.values
            and not np.allclose(value.number, after[value.id].number, rtol=1e-12, equal_nan=True)}


def test_a_larger_tank_moves_what_lasts_and_what_ages(made):
    before, after = made(), made(("fuel_tank_volume: 10000 L", "fuel_tank_volume: 15000 L"))
    assert moved(before, after) == {
        "fuel_tank_usable", "usable_fuel", "fuel_stock", "full_load_autonomy", "case_autonomy", "autonomy", "fuel_turnover", "no_outage_turnover",
        "fuel_delivery_cover", "fuel_delivery_room", "bunded_largest", "bunded_total", "fuel_containment_min"}
    assert after["full_load_autonomy"].number / before["full_load_autonomy"].number == approx(1.5)
    assert before.check("fuel_containment").word == "holds" and after.check("fuel_containment").word == "fails"


def test_a_heavier_load_moves_what_it_burns_in_its_case_only(made):
    before, after = made(), made(("load_connected_power: 700 kW", "load_connected_power: 800 kW"))
    assert moved(before, after) == {"case_fuel_rate", "case_fuel_use", "case_autonomy", "firm_set_power"}
    # hand: at the same fuel adjustment 100 kW more burn 24.4 L/h more
    assert (after["case_fuel_rate.run"].number - before["case_fuel_rate.run"].number) / (L / HOUR) == approx(24.4 * before["fuel_adjustment"].number)


def test_a_heavier_day_shortens_the_autonomy(made):
    before, after = made(), made(("day_power: 650 kW", "day_power: 750 kW"))
    assert moved(before, after) == {"day_fuel_rate", "daily_fuel", "mean_fuel_use", "autonomy"}
    assert after["autonomy"].number < before["autonomy"].number


def test_altitude_moves_fuel_and_suction(made):
    before, after = made(), made(("altitude: 100 m", "altitude: 1600 m"))
    changed = moved(before, after)
    assert {"full_load_fuel_rate", "case_fuel_rate", "day_fuel_rate", "autonomy", "annual_fuel", "manual_storage", "day_tank_temperature_end",
            "fuel_pipe_drop_allowed", "fuel_pipe_head_left", "fuel_curve_reach", "hot_fuel_set_power"} <= changed
    still = {"usable_fuel", "fuel_stock", "fuel_containment_min", "indoor_fuel", "fuel_tank_vent_bore_min", "fuel_viscosity_cold", "fuel_pipe_drop",
             "fuel_transfer_flow", "day_tank_reserve", "fuel_tank_level_hot", "firm_set_power"}
    assert still <= set(before.values) and not still & changed
    # the load of the day is the same in watts, so its fuel moves by the fuel adjustment alone
    ratio = after["fuel_adjustment"].number / before["fuel_adjustment"].number
    assert ratio > 1 and after["day_fuel_rate.day"].number / before["day_fuel_rate.day"].number == approx(ratio)
    lost = before["fuel_pipe_drop_allowed.suction"].number - after["fuel_pipe_drop_allowed.suction"].number
    assert lost == approx(before["air_pressure"].number - after["air_pressure"].number)


def test_a_colder_night_moves_pipes_and_density_only(made):
    before, after = made(), made(("outdoor_temperature_min: -5 degC", "outdoor_temperature_min: -25 degC"))
    assert moved(before, after) == {
        "fuel_temperature_min", "fuel_density_cold", "fuel_viscosity_cold", "fuel_tank_level_hot", "fuel_pipe_reynolds_number", "fuel_pipe_friction_factor",
        "fuel_pipe_line_drop", "fuel_pipe_fitting_drop", "fuel_pipe_lift_pressure", "fuel_pipe_drop", "fuel_pipe_head_left", "fuel_pipe_regime"}
    assert after["fuel_pipe_drop.suction"].number > before["fuel_pipe_drop.suction"].number


def test_a_return_to_the_bulk_tank_trades_heat_for_pumping(made):
    before, after = made(), made(("day_tank_volume: 1000 L", "day_tank_volume: 1000 L\nfuel_return_route: bulk_tank"))
    assert after["transfer_draw"].number == approx(3 * before["transfer_draw"].number)  # three times the burn is drawn
    assert after["day_tank_time"].number == approx(before["day_tank_time"].number / 3)
    # hand: make-up of 30 degC drawn at three times the burn, room of 40 degC: next to nothing is left of the heat
    assert after["fuel_return_heat"].number == 0 and 303.15 < after["day_tank_temperature_end"].number < 305
    assert before.check("transfer_flow").word == "holds" and after.check("transfer_flow").word == "fails"
    assert "autonomy" not in moved(before, after)


def test_a_failed_pump(made):
    alone = made(("fuel_transfer_pump_flow: 10 L/min", "fuel_transfer_pump_flow: 2 L/min\nfuel_transfer_pumps: 3\nfuel_transfer_pumps_standby: 0"))
    # hand: three pumps of 120 L/h give 360 L/h against 262 L/h or so; two give 240 L/h
    assert alone["fuel_transfer_surplus"].number > 0 and alone.check("one_pump_out").word == "fails"
    assert made().check("one_pump_out").word == "holds"


def test_more_tests_move_the_year_and_the_age(made):
    before, after = made(), made(("record_hours: 12 h", "record_hours: 24 h"))
    assert moved(before, after) == {"annual_fuel", "no_outage_fuel", "fuel_turnover", "no_outage_turnover", "fuel_deliveries"}
    assert after["no_outage_turnover"].number == approx(before["no_outage_turnover"].number / 2)


def test_above_the_curve_nothing_is_told(made):
    short = made(("fuel_point_load: 1000 kW, fuel_point_rate: 262 L/h", "fuel_point_load: 650 kW, fuel_point_rate: 175 L/h"))
    assert short.check("fuel_curve").word == "fails"
    assert "full_load_fuel_rate" not in short and "full_load_autonomy" not in short
    assert np.isnan(short["case_fuel_rate.run"].number)
    for name in ("fuel_storage", "transfer_flow", "day_tank_hours", "fuel_temperature"):
        assert short.check(name).word == "undecided" and short.check(name).missing, name
    assert short.check("autonomy_over_day").word == "holds"  # the day stays within the curve


def test_a_day_above_the_curve_is_told_as_that(made):
    """Somebody writes the power of the plant where that of a set is asked: the curve is too short, and no computed value is said to be not given."""
    plant = made(("day_power: 650 kW", "day_power: 2500 kW"))
    assert plant.check("fuel_curve").word == "fails" and plant["fuel_curve_reach"].number == 2.5  # of 1000 kW, the top point
    assert (plant.check("autonomy_over_day").word, plant.check("autonomy_over_day").missing) == ("undecided", ("fuel_points",))
    assert "the power of one set, not of the plant" in chapter_page(plant, "fuel").text
    assert made().check("fuel_curve").word == "holds"


def test_without_fuel_data_nothing_passes(made):
    empty = made(fuel="")
    passed = {verdict.check.id for verdict in empty.checks if verdict.check.module.startswith("basis.chapters.fuel") and verdict.word in ("holds", "tight")}
    assert passed == {"day_tank_start", "day_tank_stop"}  # levels, which have sourced defaults
    assert {verdict.word for verdict in empty.checks if verdict.check.id in ("fuel_curve", "fuel_storage", "fuel_age", "fuel_containment")} <= {
        "undecided", "nothing to check"}


OWN_TANK = """
fuel_feed: own_tank
fuel_points:
  - {id: half, fuel_point_load: 500 kW, fuel_point_rate: 140 L/h}
  - {id: full, fuel_point_load: 1000 kW, fuel_point_rate: 262 L/h}
fuel_tanks:
  - {id: base_1, fuel_tank_volume: 3000 L, fuel_tank_containment: double_wall, fuel_tank_place: indoors}
  - {id: base_2, fuel_tank_volume: 3000 L, fuel_tank_containment: double_wall, fuel_tank_place: indoors}
required_autonomy: 8 h
indoor_fuel_rule: nfpa_37_2002
"""
DAY_TANK_CHECKS = ("transfer_flow", "one_pump_out", "transfer_starts", "day_tank_hours", "day_tank_alarm", "day_tank_start", "day_tank_stop",
                   "day_tank_overflow", "fuel_temperature", "fuel_flash", "day_tank_heat", "hot_fuel_power", "day_tank_tray", "indoor_tank", "indoor_total")


def test_sets_on_double_walled_base_tanks_have_no_bund_and_no_day_tank(made):
    book = made(fuel=OWN_TANK)
    told = {name: book.check(name).word for name in (*DAY_TANK_CHECKS, "fuel_containment")}
    assert set(told.values()) == {"nothing to check"}, told
    assert book.check("fuel_containment").nothing_text == "containment of tank: double wall"
    # hand: NFPA 37 as quoted, 2,498 L a tank and 4,997 L in all; two tanks of 3,000 L stand indoors
    assert book.check("indoor_store_tank").word == book.check("indoor_store_total").word == "fails"
    assert book["fuel_tank_indoor_fuel.base_1"].number == approx(6.0)
    # hand: 3,000 L x 0.9 a set: one set at rest, whose fuel serves nobody
    assert book["usable_fuel"].number == approx(2.7) and book["full_load_autonomy"].number == approx(2.7 / book["full_load_fuel_rate"].number)
    none = made(fuel=OWN_TANK.split("fuel_tanks:")[0])
    assert none.check("fuel_containment").nothing_text == "no fuel tanks listed" == none.check("indoor_store_tank").nothing_text
    outdoors = made(("fuel_tank_place: indoors}\n  - {id: base_2", "fuel_tank_place: outdoors}\n  - {id: base_2"), fuel=OWN_TANK)
    assert outdoors.check("indoor_store_total").element == "base_2"


def test_one_tank_of_two_in_the_bund(made):
    book = made(("fuel_tank_vent_bore: 80 mm}", "fuel_tank_vent_bore: 80 mm}\n  - {id: two, fuel_tank_volume: 20000 L, fuel_tank_containment: double_wall}"))
    assert book["fuel_containment_min"].number == approx(11.0)  # hand: 110 % of the one that stands in the bund
    assert book.check("fuel_containment").word == "holds" and book.check("fuel_containment").element == "one"


@pytest.mark.parametrize("old, new, told", [
    ("fuel_tank_volume: 10000 L,", "fuel_tank_volume: 10000 L, fuel_tank_unusable: 97 %,",
     "'fuel_tank_unusable' of 'one' is 97 %, above 'fuel_tank_fill_limit', 95 %"),
    ("day_tank_volume: 1000 L", "day_tank_volume: 1000 L\nday_tank_unusable: 72 %", "'day_tank_unusable' is 72 %, above 'day_tank_low_alarm', 70 %"),
    ("day_tank_volume: 1000 L", "day_tank_volume: 1000 L\nday_tank_start_level: 3 %", "'day_tank_unusable' is 5 %, above 'day_tank_start_level', 3 %"),
    ("day_tank_volume: 1000 L", "day_tank_volume: 1000 L\nday_tank_stop_level: 70 %", "'day_tank_start_level' is 75 %, above 'day_tank_stop_level', 70 %"),
    ("fuel_transfer_pump_flow: 10 L/min", "fuel_transfer_pump_flow: 10 L/min\nfuel_transfer_pumps: 1", "fuel_transfer_pumps above fuel_transfer_pumps_standby"),
    ("fuel_delivery_volume: 2000 L", "fuel_delivery_volume: 2000 L\nfuel_reserve_level: 80 %",
     "'fuel_reserve_level' is 80 %, above 'fuel_reorder_level', 75 %"),
    ("day_tank_volume: 1000 L", "day_tank_volume: 1000 L\nengine_supply_flow: 3 L/min", "engine_supply_flow of the data sheet"),
])
def test_levels_and_numbers_that_cannot_be_are_faults(made, old, new, told):
    with pytest.raises(Faults, match=told) as found:
        made((old, new))
    assert all(fault.line > 0 for fault in found.value.faults)
    assert not [verdict for verdict in made().checks if verdict.check.fault]  # rules of the text are no checks of the design


def test_a_store_that_no_test_moves_is_never_used_up(made):
    book = made(("record_reason: test", "record_reason: emergency"))
    assert book["no_outage_turnover"].number / (8760 * HOUR) == approx(100) and book.check("fuel_age").word == "fails"


def test_the_engine_makers_limit_is_not_guessed(made):
    assert made().check("fuel_temperature").missing == ("fuel_inlet_temperature_max",) == made().check("day_tank_heat").missing


def test_residuals_of_the_books(books):
    for book in books.values():
        for name in ("full_load_fuel_rate", "case_fuel_rate", "autonomy", "day_tank_temperature", "fuel_pipe_friction_factor"):
            if name in book:
                assert abs(book[name].left_over[0]) < 1e-8, name


def test_demo_books_keep_what_they_say(books):
    larkmere, tarn, key = (books[slug] for slug in ("larkmere-hospital", "high-tarn-waterworks", "cobble-key-exchange"))
    assert larkmere["required_autonomy"].number == approx(72 * HOUR) and tarn["required_autonomy"].number == approx(168 * HOUR)
    assert larkmere.check("autonomy_over_day").word == tarn.check("autonomy_over_day").word == "tight"
    assert key.check("autonomy_over_day").word == "undecided" and key.check("fuel_storage").word == "holds"
    assert tarn.check("fuel_pipe_pressure").word == "tight" and tarn.check("tank_vent").word == "fails"
    for book in books.values():
        for verdict in book.checks:
            if verdict.check.module.startswith(("basis.chapters.fuel", "basis.chapters.hours")) and verdict.word in ("fails", "tight"):
                assert verdict.remark, f"{book.project.slug}: {verdict.check.id} {verdict.word} without a word on it"


def test_radiator_option_leaves_the_day_tank_alone(books):
    book = books["larkmere-hospital"]
    mounted, remote = (book.options[("radiator_choice", option)] for option in ("mounted", "remote"))
    assert mounted["design_room_temperature"].number != remote["design_room_temperature"].number
    for name in ("day_tank_ambient", "day_tank_temperature_end", "day_tank_room_heat", "autonomy"):
        assert remote[name].number == mounted[name].number, name
    assert mounted["day_tank_ambient"].number == mounted["set_air_temperature"].number
    assert remote.check("derating_air").word == "fails"  # a room warmer than the tank is worked out for does not pass unseen


# ---- the tank and the room ----

def differing(before, after):
    """Ids of all values that differ between two books, rounding left aside."""
    return {name for name, value in before.values.items() if not value.term.is_text
            and not np.allclose(value.number, after[name].number, rtol=1e-12, atol=0, equal_nan=True)}


def larkmere_with(**numbers):
    """The book of Larkmere with some inputs given anew, in SI."""
    project = read(ROOT / "projects" / "larkmere-hospital")
    givens = {**project.givens, **{(name, ""): replace(project.givens[(name, "")], data=number) for name, number in numbers.items()}}
    return solve(replace(project, givens=givens))


def test_a_warm_day_tank_warms_the_room(books):
    before = books["larkmere-hospital"]
    for change in ({"day_tank_loss": 60.0}, {"fuel_return_rise": 30.0}, {"fuel_cooler_heat": 0.0}):
        after = larkmere_with(**change)
        moved = differing(before, after)
        assert {"day_tank_temperature_end", "day_tank_room_heat", "day_tanks_room_heat", "heat_to_room", "ventilation_airflow", "room_temperature"} <= moved
        # each running set's own tank, and nothing else, is what the room gets more
        extra = after["day_tank_room_heat"].number - before["day_tank_room_heat"].number
        assert extra > 0
        assert after["heat_to_room"].number - before["heat_to_room"].number == approx(before["running_sets"].number * extra)
        more = after["heat_to_room"].number / before["heat_to_room"].number
        assert after["ventilation_airflow"].number / before["ventilation_airflow"].number == approx(more)
        assert not {"set_site_power", "set_air_temperature", "day_tank_ambient", "engine_heat_to_room", "alternator_heat", "exhaust_pipe_room_heat",
                    "set_heat_sources",
                    "room_heat_sources", "jacket_heat", "heat_balance_error", "balance_gap", "exhaust_back_pressure", "usable_fuel", "autonomy",
                    "day_tank_time"} & moved


def test_fuel_in_the_tank_moves_no_heat(books):
    moved = differing(books["larkmere-hospital"], larkmere_with(day_tank_volume=2.0))
    assert "day_tank_time" in moved and not {"day_tank_temperature_end", "day_tank_room_heat", "heat_to_room", "ventilation_airflow"} & moved


@pytest.mark.parametrize("slug", SLUGS)
def test_without_the_fuel_chapter_the_room_counts_no_tank(slug):
    project = read(ROOT / "projects" / slug)
    book = solve(replace(project, chapters=("plant", "loads", "ventilation", "cooling", "exhaust")))
    heat = book["day_tank_room_heat"]
    assert (heat.number, heat.origin, heat.source_ids) == (0.0, "default", ("no-fuel-chapter",))
    assert book["ventilation_airflow"].number == approx(solve(project)["ventilation_airflow"].number, rel=3e-3)  # under 1.2 kW of 636 kW
    assert not any("fuel" in name for name in book.values if book.home[name] == "ventilation")


def test_what_is_not_known_of_warm_fuel_names_the_key_and_the_rest_stands(made):
    book = made(("day_tank_volume: 1000 L\n", ""))
    page = chapter_page(book, "fuel").text
    assert "with transfer at work and without, cannot be told yet: not given: volume of a day tank (day_tank_volume) in fuel.yaml" in page
    assert "is not known: not given: volume of a day tank (day_tank_volume), fuel temperature allowed (fuel_inlet_temperature_max) in fuel.yaml" in page
    assert book["day_tank_temperature_end"].number and book.check("autonomy_over_day").decided and "Deliveries and age" in page
