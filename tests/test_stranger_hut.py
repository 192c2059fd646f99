"""A plant that nobody here drew: one low-voltage set on 60 Hz in a hut at 1,200 m, bolted down, started by a battery, with a day tank and no store, never
in parallel with the supply; no tasks, cables, network or second way of heating are listed. All chapters.
"""

import re

import pytest
from rendering import chapter_page
from test_stranger_bare import book_of

from basis.chapters import catalogue
from basis.language.faults import Faults
from basis.site.figure import to_svg
from basis.site.figures.exhaust import back_pressure_ladder

PLANT = """place: A radio hut on a bare ridge
purpose: Standby of a radio repeater and its cooling
altitude: 1200 m
outdoor_temperature_max: 33 degC
outdoor_temperature_min: -18 degC
outdoor_relative_humidity: 25 %
power_frequency: 60 Hz
currency: USD
rating_class: ESP
set_rated_power: 100 kW
engine_speed: 1800 rpm
engine_type: turbocharged
spare_sets: 0
loads:
  - {id: radio, name: Radio rectifiers, load_connected_power: 30 kW, load_power_factor: 0.95, load_nonlinear_share: 60 %, load_step_joined: first}
  - {id: air, name: Air conditioning, load_connected_power: 24 kW, load_power_factor: 0.85, load_step_joined: second}
load_steps:
  - {id: first, name: Rectifiers, step_time: 12 s}
  - {id: second, name: Cooling, step_time: 20 s}
running_cases:
  - {id: outage, name: The set in an outage, sets_out: 0}
generating_voltage: 208 V
cable_laying: conduit
conduit_table: nec-ch9-table-4-emt
conduit_size: 2-1/2 in
insulated_conductor_table: nec-ch9-table-5-thhn
ampacity_table: nec-310-16-copper-75
conductor_table: nec-ch9-table-8-copper
conductor_size: 4/0 AWG
conductor_ambient_temperature: 40 degC
circuits_grouped: 1
generator_cable_length: 25 ft
termination_limit: not_limiting
radiator_placement: mounted
discharge_wind_speed: 20 mile/h
restriction_allowed: 0.5 inH2O
openings:
  - {id: inlet, name: Inlet louvre, opening_side: intake, gross_area: 18 ft^2, free_area_ratio: 50 %}
  - {id: outlet, name: Outlet louvre, opening_side: discharge, gross_area: 14 ft^2, free_area_ratio: 55 %}
air_elements:
  - {id: screen, name: Bird screen of the inlet, element_opening: inlet, element_loss_coefficient: 1}
  - {id: damper, name: Damper of the outlet, element_opening: outlet, element_loss_coefficient: 2}
fan_points:
  - {id: free, fan_point_airflow: 9000 cfm, fan_point_pressure: 0 Pa}
  - {id: mid, fan_point_airflow: 8000 cfm, fan_point_pressure: 0.5 inH2O}
  - {id: low, fan_point_airflow: 6000 cfm, fan_point_pressure: 1 inH2O}
coolant_loops:
  - {id: jacket, name: Jacket water, loop_carries: jacket_and_charge_air, loop_temperature_max: 210 degF}
exhaust_size_chosen: four
exhaust_pipe_length: 12 ft
exhaust_bends: 1
insulation_thickness: 2 in
exhaust_room_length: 8 ft
exhaust_sizes:
  - {id: four, name: Four inch, exhaust_bore: 4.03 in}
fuel_points:
  - {id: half, name: Half load, fuel_point_load: 50 kW, fuel_point_rate: 4.1 gal/h}
  - {id: full, name: Full load, fuel_point_load: 100 kW, fuel_point_rate: 7.4 gal/h}
day_tank_volume: 120 gal
required_autonomy: 12 h
starting_method: battery
battery_unit_capacity: 100 Ah
starter_current: 600 A
battery_unit_cranking_current: 800 A
outdoor_temperature_hourly: weather.epw
heated_room_volume: 1200 ft^3
block_metal_mass: 900 lb
block_coolant_volume: 6 gal
block_oil_volume: 4 gal
heating_cases:
  - {id: usual, name: Block and room heaters, heating_air_changes: 1 /h, heating_set_point: 8 degC, heating_room_heater_power: 6 kW}
heating_case_chosen: usual
heating_case_base: usual
room_surfaces:
  - {id: shell, name: Steel walls and roof, room_surface_area: 700 ft^2, room_surface_transmittance: 1.2 W/(m^2*K)}
machines:
  - {id: engine, name: Engine, machine_kind: engine_casing}
  - {id: mouth, name: Exhaust mouth, machine_kind: exhaust_mouth, machine_place: elsewhere}
  - {id: fan, name: Radiator fan, machine_kind: propeller_fan, machine_airflow: 4 m^3/s, machine_pressure: 150 Pa}
sound_sources:
  - {id: in_louvre, name: Inlet louvre, source_kind: opening, source_opening: inlet, source_x: 0 m, source_y: 0 m, source_height: 1 m}
  - {id: out_louvre, name: Outlet louvre, source_kind: opening, source_opening: outlet, source_x: 0 m, source_y: 5 m, source_height: 1 m}
  - {id: pipe, name: Exhaust, source_kind: exhaust, source_machine: mouth, source_x: 1 m, source_y: 4 m, source_height: 3 m}
  - {id: wall, name: Walls and roof, source_kind: surface, source_surface: shell, source_x: 1 m, source_y: 2 m, source_height: 1.5 m}
receivers:
  - {id: cabin, name: Ranger's cabin, receiver_x: 300 m, receiver_y: 0 m}
limit_periods:
  - {id: night, name: Night, period_running_case: outage, period_duration: 8 h, period_limit: 50 dBA}
sound_weathers:
  - {id: usual, name: Usual, weather_temperature: 10 degC, weather_humidity: 50 %}
set_mounting: solid
gravity_centre: [0 m, 0 m]
gravity_centre_height: 0.7 m
set_dry_mass: 1300 kg
oil_fill: 4 gal
coolant_fill: 6 gal
block_sides: [3 m, 1.4 m]
block_thickness: 0.3 m
neutral_earthing: solid
control_conduit_table: control-conduit-emt
grouping_rule: conductors
grouping_table: nec-310-15-c1
block_warm_area: 2.5 m^2
indoor_fuel_rule: ifc_603
day_tank_tray_volume: 140 gal
alarm_response_time: 3 h
fuel_inlet_temperature_max: 65 degC
battery_opening_area: 100 cm^2
charger_current: 10 A
direct_voltage_max: 32 V
starter_cable_length: 6 ft
starter_cable_table: nec-ch9-table-8-copper
starter_cable_size: 4/0 AWG
starter_voltage_min: 16 V
performance_class: G2
inertia_constant: 0.4 s
fan_airflow_min: 7500 cfm
earth_electrode_resistance: 10 ohm
earth_fault_clearing_time: 0.5 s
start_order:
  - {id: only, name: The set, order_crank_time: 3 s, order_run_up_time: 6 s}
first_bus_time_max: 12 s
required_bus_time_max: 12 s
running_records:
  - {id: tests, name: Monthly tests, record_reason: test, record_hours: 12 h, record_load_ratio: 40 %}
engine_cylinders: 4
engine_displacement: 4.5 L
"""


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    return book_of(tmp_path_factory.mktemp("projects") / "ridge-repeater", PLANT)


@pytest.fixture(scope="module")
def told(book):
    """Chapter -> text of its page."""
    return {chapter.id: chapter_page(book, chapter.id).text for chapter in catalogue().chapters}


def test_no_task_of_the_day_is_nothing_to_judge(book, told):
    assert book["exposures_listed"].number == 0
    assert [book.check(name).word for name in ("noise_exposure", "noise_at_ear")] == ["nothing to check"] * 2
    assert "The project lists no tasks of a working day, so no exposure is worked out." in told["hearing"]
    assert "The day below" not in told["hearing"] and "shown beside it" not in told["hearing"]


def test_without_a_store_the_day_tank_is_the_fuel_indoors(book, told):
    assert book["indoor_fuel"].number == pytest.approx(120 * 3.785411784e-3) and book.check("indoor_total").word == "holds"  # gallons of the one tank
    assert "No store is listed from which a pump could fill the day tanks" in told["fuel"]


def test_the_tank_beside_the_set_is_its_store_where_that_is_said(tmp_path):
    own = PLANT.replace("day_tank_volume: 120 gal", "fuel_feed: own_tank\nfuel_tanks: [{id: base, fuel_tank_volume: 120 gal, fuel_tank_place: indoors}]")
    book = book_of(tmp_path / "own", own)
    assert book["usable_fuel"].number == pytest.approx(120 * 3.785411784e-3 * 0.9)  # full to 95 %, 5 % at the bottom
    assert "no day tank here" in chapter_page(book, "fuel").text


def test_nothing_feeds_back_to_a_lone_set(book, told):
    assert book.check("generator_cable_withstand").word == "nothing to check"
    assert "fed back by every other source" not in told["voltage"] and "No other source is ever on the bus" in told["voltage"]


def test_a_way_of_heating_is_not_compared_with_itself(book, told):
    assert book.check("heating_cost").word == "nothing to check"
    assert book["heating_compared"].number == 0
    assert "against the way compared with" not in told["warmth"] and "No other way of heating is listed" in told["warmth"]


def test_what_is_not_listed_is_not_told_of(told):
    assert "The table says for each cable" not in told["cables"] and "Drop and loss" not in told["cables"]
    assert "not drawn; no cables listed" in told["cables"]
    assert "A fault is looked at on every bus" not in told["short_circuit"] and "No set stands in a network" in told["short_circuit"]


def test_no_caution_speaks_of_what_is_not_there(told):
    """Bolted down, one set, started by a battery: no springs, no other pipe or set, no receivers. What any plant has is told."""
    for chapter, never in (("starting", "Receivers hold"), ("starting", "air main"), ("exhaust", "Pipes of several sets"), ("loads", "Sets in parallel"),
                           ("isolation", "Springs are set"), ("isolation", "compressed spring"), ("isolation", "soft mounts rocks")):
        assert never not in told[chapter], never
    assert "amperes into a spanner" in told["starting"] and "carbon monoxide" in told["exhaust"] and "hangs from a crane" in told["isolation"]


def test_one_set_is_not_told_as_many_and_no_motor_as_started(book, told):
    assert not any("most sets" in text or "all sets" in text for text in told.values()), [name for name, text in told.items() if "all sets" in text]
    assert "each motor start" not in told["dips"] and "motor starts, where any are listed" in told["dips"]
    assert not any("fails in January" in text for text in told.values())


def test_a_night_alone_has_no_day_night_level(book, told):
    """One period of eight hours, no limits in octave bands, no barriers: no row of what does not exist, and each reason is its own."""
    assert not book["day_night_level"].exists and book["rating_level"].exists
    assert "does not exist" not in told["noise"] and "limits octave bands" not in told["noise"]
    assert book.check("barrier_is_between").nothing_text == "no barriers listed"


def test_warm_fuel_without_a_store_says_what_it_counts(told):
    assert "No store is listed from which cold make-up could come. What follows counts it all the same" in told["fuel"]
    assert "a tank as warm as the store" not in told["fuel"]


def test_a_load_bank_in_the_room_heats_it(book, told, tmp_path):
    """A second case of tests on a bank of 40 kW: indoors the room takes up 40 kW more in that case alone, outdoors nothing; the page says which."""
    case = "  - {id: outage, name: The set in an outage, sets_out: 0}\n"
    test = case + "  - {id: test, name: Test, sets_out: 0, running_case_share: 0 %%, load_bank_power: 40 kW%s}\n"
    outdoors, indoors = (book_of(tmp_path / name, PLANT.replace(case, test % place)) for name, place in (("out", ""), ("in", ", load_bank_place: in_room")))
    assert list(outdoors["heat_to_room"].number) == pytest.approx([book["heat_to_room"].number[0]] * 2)
    assert list(indoors["heat_to_room"].number - outdoors["heat_to_room"].number) == pytest.approx([0, 40e3])
    assert indoors["room_temperature.test"].number > outdoors["room_temperature.test"].number + 3
    assert "heats it by all that it takes" in chapter_page(outdoors, "ventilation").text and "load bank" not in told["ventilation"]
    assert "fan of a load bank" in chapter_page(indoors, "noise").text and "load bank" not in told["noise"]


def test_what_takes_no_pressure_is_not_in_the_legend(book):
    drawn = to_svg(back_pressure_ladder.draw(book), "trial", "Trial")
    assert book["silencer_drop"].number == 0 and ">silencer<" not in drawn and ">straight pipe<" in drawn


def test_months_have_their_names(told):
    assert "January" in told["warmth"] and not re.search(r"\b(january|february|august)\b", told["warmth"])


def test_hours_that_are_defaults_are_not_told_as_stated(book, told):
    assert book["hours_per_year_outages"].origin == "default" and book.check("ledger_agrees").word == "fails"
    assert "hours stated for the plant" not in told["hours"] and "stated or by default" in told["hours"]


def test_no_heading_stands_over_nothing(book):
    for chapter in catalogue().chapters:
        parts = [part for part in chapter_page(book, chapter.id) if part.tag in ("p", "h2", "h3", "h4", "div", "figure", "table", "ul")]
        for part, following in zip(parts, [*parts[1:], None]):
            assert not (part.tag == "h2" and (following is None or following.tag == "h2")), f"{chapter.id}: nothing below {part.text}"


def test_a_battery_colder_than_the_table_is_told_what_may_be_written(tmp_path):
    with pytest.raises(Faults) as found:
        book_of(tmp_path / "cold", PLANT.replace(", heating_set_point: 8 degC, heating_room_heater_power: 6 kW", ""))
    assert "outside table 'ieee-485-temperature'" in str(found.value) and "expected 25 degF to 77 degF; or 'battery_temperature' as a given" in str(found.value)
