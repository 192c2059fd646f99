"""A plant that nobody here drew: one low-voltage set of 60 Hz in a container on a flat roof at 5,900 ft, bolted down, with a tank in its base and a battery; no
network, no neighbour, one way of building, one element in the path of the air. All chapters, in the units of the place.
"""

import numpy as np
import pytest
from rendering import chapter_page
from test_stranger_bare import book_of

from basis.chapters import catalogue
from basis.language.faults import Faults

PLANT = """cables:
  - {id: set_1, name: "Set to roof board", cable_size: 500 kcmil, cable_ampacity_table: nec-310-16-copper-75, cable_termination_limit: not_limiting,
     cable_current_from: set, cable_parallel: 2, cable_length: 60 ft, cable_ambient_temperature: 110 degF, cable_voltage_drop_max: 2 %}
control_conduit_table: control-conduit-emt
coolant_loops:
  - {id: jacket, name: "Jacket, charge air too", loop_carries: jacket_and_charge_air, loop_temperature_max: 217 degF}
cost_case_chosen: diesel
cost_case_base: diesel
cost_cases:
  - {id: diesel, name: "Roof set", cost_capital: 310000 USD, cost_price_day: 2026-10-01}
cost_bars:
  - {id: fuel, name: Fuel price, bar_of: fuel_price, bar_low: 70 %, bar_high: 180 %}
field_time_constant: 2.5 s
neutral_earthing: solid
earth_electrode_resistance: 4 ohm
exhaust_size_chosen: eight
exhaust_pipe_length: 14 ft
exhaust_bends: 1
insulation_thickness: 2 in
exhaust_room_length: 8 ft
exhaust_sizes:
  - {id: eight, name: "8 in dual wall", exhaust_bore: 8 in}
exhaust_outlet: upward_open
exhaust_back_pressure_max: 27 inH2O
silencer_rated_drop: 6 inH2O
exhaust_drain: at_low_point
building_height: 52 ft
building_width: 90 ft
stack_height: 9 ft
set_dry_mass: 7100 lb
oil_fill: 9 gal
coolant_fill: 16 gal
block_sides: [13.5 ft, 5.5 ft]
block_thickness: 6 in
base_sides: [12 ft, 5 ft]
floor_kind: suspended
fuel_feed: own_tank
fuel_tanks:
  - {id: subbase, name: Sub-base tank, fuel_tank_volume: 660 gal, fuel_tank_containment: double_wall, fuel_tank_fill_limit: 95 %}
fuel_points:
  - {id: full, name: Full load, fuel_point_load: 320 kW, fuel_point_rate: 23.0 gal/h}
  - {id: half, name: Half load, fuel_point_load: 160 kW, fuel_point_rate: 12.2 gal/h}
required_autonomy: 24 h
storage_rule: profile_hours
indoor_fuel_rule: ifc_603
fuel_cold_limit: {value: -10 degF, standing: assumed}
fuel_delivery_lead: 1 d
exposures: []
running_records:
  - {id: tests, name: Tests, record_reason: test, record_load_ratio: 35 %, record_hours: 6 h}
set_mounting: solid
gravity_centre: [0.2 ft, 0 ft]
gravity_centre_height: 3.1 ft
rating_class: ESP
set_rated_power: 320 kW
engine_speed: 1800 rpm
spare_sets: 0
installed_sets: 1
loads:
  - {id: lifts, name: "Lifts (two, one at a time)", load_connected_power: 45 kW, load_power_factor: 0.8, load_step_joined: first}
  - {id: servers, name: "Server closet 2nd floor", load_connected_power: 60 kW, load_power_factor: 0.97, load_nonlinear_share: 90 %, load_step_joined: first}
  - {id: smoke, name: "Smoke fans", load_connected_power: 37 kW, load_power_factor: 0.86, load_step_joined: second}
day_periods:
  - {id: office, name: "Office hours", day_power: 140 kW, day_duration: 11 h}
  - {id: rest, name: "Rest of the day", day_power: 70 kW, day_duration: 13 h}
running_cases:
  - {id: outage, name: The set in an outage, sets_out: 0}
load_steps:
  - {id: first, name: Lifts and servers, step_time: 10 s, step_acceptance: {value: 55 %, note: "maker's sheet, sea level"}, step_sets: 1}
  - {id: second, name: Fans, step_time: 20 s, step_sets: 1}
motors:
  - {id: fan1, name: "Largest smoke fan", motor_load: smoke, motor_shaft_power: 25 hp, motor_efficiency: 91 %, motor_power_factor: 0.86,
     motor_code_letter: G, motor_start_method: direct}
engine_displacement: 12.5 L
engine_cylinders: 6
engine_type: turbocharged
specific_fuel_consumption: {value: 209 g/kWh, standing: assumed}
inertia_constant: 0.726 s
performance_class: G2
transient_reactance: 18 %
machines:
  - {id: casing, name: Engine casing, machine_kind: engine_casing}
  - {id: fan, name: Radiator fan, machine_kind: axial_fan, machine_place: elsewhere, machine_airflow: 15000 cfm, machine_pressure: 0.6 inH2O}
  - {id: exhaust, name: Exhaust, machine_kind: exhaust_mouth, machine_place: elsewhere}
silencers:
  - {id: muffler, name: Muffler, silencer_class: muffler-low-drop-medium, silencer_insertion_loss: [10 dB, 15 dB, 20 dB, 18 dB, 16 dB, 15 dB, 14 dB, 13 dB,
     13 dB]}
room_surfaces:
  - {id: shell, name: Container shell, room_surface_area: 760 ft^2, room_surface_transmittance: 0.12 Btu/(h*ft^2*delta_degF),
     surface_reduction_rule: mass_law, surface_mass: 25 kg/m^2, surface_critical_frequency: 6000 Hz, surface_finish: finish-concrete-painted}
sound_sources:
  - {id: intake, name: Intake, source_kind: opening, source_x: -10 ft, source_y: 0 ft, source_height: 57 ft, source_opening: intake}
  - {id: exhaust, name: Exhaust, source_kind: exhaust, source_machine: exhaust, source_x: 0 ft, source_y: 0 ft, source_height: 61 ft}
casing_arrangement: in_line
sound_weathers:
  - {id: mild, name: Mild, weather_temperature: 50 degF, weather_humidity: 40 %}
limit_periods: []
receivers: []
altitude: 5900 ft
outdoor_temperature_max: {value: 97 degF, standing: measured, note: "Logger on the roof, one summer"}
outdoor_temperature_min: {value: -8 degF, standing: assumed}
outdoor_relative_humidity: 22 %
power_frequency: 60 Hz
currency: USD
energy_price: 0.14 USD/kWh
fuel_price: {value: 4.10 USD/gal, note: "invoice", standing: assumed}
discount_rate: 6 %
commissioning_date: 2027-03-01
status_date: 2027-05-15
mission_time: 24 h
mission_reliability_min: {value: 97 %, standing: assumed}
reliability_data: open_model
subtransient_reactance: 12 %
synchronous_reactance: 280 %
set_pickup: 600 A
starting_method: battery
battery_unit_capacity: {value: 170 Ah, note: label}
battery_unit_cranking_current: 900 A
starter_current: 450 A
charger_current: 10 A
cranks_per_cycle: 3
crank_time: 15 s
crank_rest_time: 15 s
station_loads:
  - {id: block_heater, name: Block heater, station_load_kind: block_heater, station_load_duty: [60 %, 60 %, 0 %], station_load_count: 1,
     station_load_power_factor: 1}
  - {id: charger, name: Charger, station_load_kind: charger, station_load_power: 0.4 kW, station_load_count: 1, station_load_duty: [30 %, 30 %, 100 %]}
test_rule: nfpa-110-2010-tests
test_load_way: live_load
plant_tests:
  - {id: monthly, name: Monthly, test_kind: exercise, test_times_yearly: 12, test_load_ratio: 35 %, test_duration: 30 min}
tasks:
  - {id: oil, name: "Oil & filter", task_kind: oil, task_interval_hours: 250 h, task_interval_months: 12, task_duration: 3 h, task_cost: 900 USD}
radiator_placement: mounted
discharge_wind_speed: 15 mile/h
restriction_allowed: 0.5 inH2O
openings:
  - {id: intake, name: Intake louver, opening_side: intake, gross_area: 36 ft^2, free_area_ratio: 48 %, free_velocity_max: 900 ft/min}
  - {id: discharge, name: Discharge louver, opening_side: discharge, gross_area: 24 ft^2, free_area_ratio: 55 %}
air_elements:
  - {id: mesh, name: "Mesh, intake", element_opening: intake, element_loss_coefficient: 0.4}
fan_points:
  - {id: free, name: Free delivery, fan_point_airflow: 17500 cfm, fan_point_pressure: 0 inH2O}
  - {id: rated, name: Rated point, fan_point_airflow: 15000 cfm, fan_point_pressure: 0.5 inH2O}
combustion_intake_restriction_max: 25 inH2O
generating_voltage: 480 V
ampacity_table: nec-310-16-copper-75
conductor_size: 500 kcmil
conductor_table: nec-ch9-table-8-copper
conductor_ambient_temperature: 110 degF
circuits_grouped: 1
grouping_rule: alone
termination_limit: not_limiting
generator_cable_length: 60 ft
cable_laying: conduit
conduit_table: nec-ch9-table-4-emt
conduit_size: 4 in
insulated_conductor_table: nec-ch9-table-5-thhn
outdoor_temperature_hourly: {file: weather.epw}
heated_room_volume: 1500 ft^3
block_metal_mass: 2700 lb
block_coolant_volume: 8 gal
heating_case_chosen: block
heating_case_base: block
battery_temperature: 40 degF
heating_cases:
  - {id: block, name: Block heater alone, heating_air_changes: 0.5 1/h, heating_damper_leakage: 120 cfm}
block_heater_power: 2.5 kW
"""


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    return book_of(tmp_path_factory.mktemp("projects") / "roof-set", PLANT)


@pytest.fixture(scope="module")
def told(book):
    """Chapter -> text of its page."""
    return {chapter.id: chapter_page(book, chapter.id).text for chapter in catalogue().chapters}


def test_an_opening_without_an_element_is_not_one_without_a_drop(book, told, tmp_path):
    """A mesh stands in the intake; of the louvre of the discharge nothing is said. What the fan overcomes is not known, and no check of it passes."""
    for name in ("restriction", "restriction_aim", "fan_curve"):
        assert (book.check(name).word, book.check(name).missing) == ("undecided", ("air_elements",)), name
    assert "restriction of the fans undecided (not given: more air elements)" in told["ventilation"]
    louvre = "  - {id: louvre, name: Louvre, element_opening: discharge, element_loss_coefficient: 3}\n"
    whole = book_of(tmp_path / "whole", PLANT.replace("air_elements:\n", "air_elements:\n" + louvre))
    assert whole["ladder_elements"].number == 2 and whole.check("restriction").decided


def test_without_a_receiver_nothing_is_asked_of_makers(book, told):
    """No limit is held against anything, so it cannot be said that a source has nothing to lose."""
    assert all(np.isnan(book[name].number).all() and book[name].term.absent for name in ("extra_loss_needed", "loss_needed"))
    assert "list for the makers" not in told["noise"] and "no limit is held against what anybody hears" in told["noise"]
    for untrue in ("The limit is held", "Each opening, outdoor surface and machine outside is in", "the figure in dBA misleads", "Further insertion loss"):
        assert untrue not in told["noise"], untrue


def test_the_cost_of_the_one_way_is_told_or_what_it_lacks(told):
    assert "What the chosen way costs over the life: not known (not given: " in told["cost"]
    assert "ways compared with the chosen one: 0)." not in told["cost"].partition("One sum for a whole life")[0]
    assert "both ways cost the same" not in told["cost"]


def test_one_set_has_no_others(told):
    assert "others carry its share" not in told["upkeep"] and "a plant of one set nothing" in told["upkeep"]
    assert "Pipes of several sets are not joined" not in told["hours"]


def test_hours_of_tests_and_outages_are_not_told_as_all_hours(told):
    """The ledger may list running for income besides, of which losses, station supply and repairs know nothing: both chapters must tell one year."""
    assert "for tests and outages. What it runs besides, if anything, stands in the ledger" in told["plant"]


def test_a_light_load_is_told_to_burn_what_the_lowest_point_burns(book, told):
    """Two points, half and full: 70 kW counts as 160 kW, which is safe for the store and not for the age of the fuel; the chapter says so."""
    lowest = 12.2 * 3.785411784e-3 / 3600 * book["fuel_adjustment"].number  # gallons an hour, at the site
    assert book["day_fuel_rate"].number[1] == pytest.approx(lowest)
    assert "Below the lowest point of the data sheet its rate is held" in told["fuel"]


def test_a_cable_that_names_no_bus_is_at_the_generating_voltage(book):
    """60 ft of two 500 kcmil at 481 A, 0.0251 and 0.0293 ohm a thousand feet: 0.94 V of 480 V (hand calculation, √3·I·(R·cos φ + X·sin φ))."""
    assert book["cable_voltage.set_1"].number == 480
    hand = 3 ** 0.5 * 481.1 / 2 * 0.060 * (0.0251 * 0.8 + 0.0293 * 0.6)
    assert book["cable_voltage_drop_ratio.set_1"].number == pytest.approx(hand / 480, rel=2e-3) and book.check("cable_drop_ok").word == "holds"


def test_a_bare_room_is_told_to_be_louder_than_it_is(book, told, tmp_path):
    """Of 116.7 dBA that the set makes 121 dBA cannot leave: the intake of 36 ft² counts as no absorption, and the chapter says so until the project does."""
    assert book["source_level"].number[0, 0] > book["machine_level.casing"].number
    assert "no opening counts as absorption here" in told["noise"]
    area = ", ".join(["5.6 m^2"] * 9)
    given = book_of(tmp_path / "given", PLANT + f"room_extra_absorption: [{area}]\n")
    assert given["source_level"].number[0, 0] < given["machine_level.casing"].number
    assert "no opening counts as absorption here" not in chapter_page(given, "noise").text


def test_a_tank_in_the_base_is_asked_for_its_place(told, tmp_path):
    assert "counts as outdoors and no rule for fuel indoors looks at it" in told["fuel"]
    inside = book_of(tmp_path / "inside", PLANT.replace("fuel_tank_volume: 660 gal", "fuel_tank_place: indoors, fuel_tank_volume: 660 gal"))
    assert inside.check("indoor_store_tank").decided and "counts as outdoors" not in chapter_page(inside, "fuel").text


def test_a_receiver_without_a_limit_is_held_against_nothing(tmp_path):
    """A neighbour with no ordinance: levels are told, and neither a limit nor what is left to one."""
    sources = """sound_sources:
  - {id: discharge, name: Discharge, source_kind: opening, source_opening: discharge, source_x: 10 ft, source_y: 0 ft, source_height: 57 ft}
  - {id: fan, name: Fan, source_kind: duct, source_opening: discharge, source_machine: fan, source_x: 10 ft, source_y: 0 ft, source_height: 57 ft}
  - {id: shell, name: Shell, source_kind: surface, source_surface: shell, source_x: 0 ft, source_y: 0 ft, source_height: 57 ft}
"""
    heard = PLANT.replace("receivers: []", "receivers: [{id: inn, name: Inn, receiver_x: 800 ft, receiver_y: 0 ft}]").replace("sound_sources:\n", sources)
    book = book_of(tmp_path / "heard", heard)
    page = chapter_page(book, "noise").text
    assert book["highest_level"].exists and (book.check("noise_limit").word, book.check("noise_limit").missing) == ("undecided", ("limit_periods",))
    assert "held against nothing" in page and "The limit is held" not in page
    assert "The plant is loudest at: Inn" in page and "loudest against its limit" not in page


def test_one_measurement_and_one_reading_are_judged_by_themselves(tmp_path):
    """No stage of the start is listed, no task of a day, no limit of start times: power and a battery have no use for any of them.

    322 kW at 100 kPa and 25 °C are 322 kW at reference conditions of a rating of 320 kW; within 3 % less twice 0.5 %, and 18 of 20 V (hand calculations).
    """
    record = """measurements:
  - {id: works, name: Works test, measured_kind: set_power, measurement_stage: factory, measurement_date: 2027-02-02, measured_power: 322 kW,
     measurement_load: 100 %, test_air_temperature: 77 degF, test_air_pressure: 100 kPa, tolerance_side: not_less, tolerance: 3 %,
     instrument_uncertainty: 0.5 %}
trends: [{id: volts, name: Battery, trend_kind: battery_voltage, trend_voltage_limit: 18 V}]
readings: [{id: first, name: First, reading_of: volts, reading_date: 2027-04-01, reading_voltage: 20 V}]
"""
    book = book_of(tmp_path / "measured", PLANT + record)
    assert book["corrected_power.works"].number == pytest.approx(322e3) and book["trend_used.volts"].number == pytest.approx(0.9)
    assert {name: book.check(name).word for name in ("measured_within_tolerance", "deviations_have_action", "trend_within_limit")} == dict.fromkeys(
        ("measured_within_tolerance", "deviations_have_action", "trend_within_limit"), "holds")
    page = chapter_page(book, "commissioning").text
    assert "Nothing has been measured" not in page and "Measured against designed: not drawn" not in page and "Readings over the years: not drawn" not in page


def test_the_rise_of_the_room_waits_for_no_coolant(tmp_path):
    rise = """measurements:
  - {id: room, name: Room, measured_kind: temperature_rise, measurement_stage: acceptance, measurement_date: 2027-02-20, measured_rise: 11 delta_degF,
     measurement_load: 100 %, test_air_temperature: 77 degF, test_air_pressure: 24 inHg, tolerance_side: not_more, tolerance: 10 %,
     instrument_uncertainty: 1 %}
"""
    book = book_of(tmp_path / "rise", PLANT + rise)
    assert book["designed_rise.room"].number == book["room_temperature_rise"].number and book.check("measured_within_tolerance").decided


def test_an_arm_that_no_item_asks_for_needs_no_input(tmp_path):
    """Both protectors are worn at 122 dBA, above their 115 dBA: that nobody says from which level on one must be worn does not keep it open."""
    worn = """exposures:
  - {id: round, name: Round, exposure_place: stated, exposure_stated_level: 122 dBA, exposure_duration: 12 min, exposure_protection: double,
     exposure_protector_rating: 29 dB}
"""
    book = book_of(tmp_path / "double", PLANT.replace("exposures: []\n", worn))
    assert book["protection_level_max.round"].number == 115 and book.check("hearing_protection").word == "fails"
    bare = worn + "  - {id: bare, name: Bare, exposure_place: stated, exposure_stated_level: 70 dBA, exposure_duration: 12 min}\n"
    assert book_of(tmp_path / "bare", PLANT.replace("exposures: []\n", bare)).check("hearing_protection").missing == ("level_without_protection_max",)


def test_a_point_of_the_fuel_curve_without_a_load_is_asked_for(tmp_path):
    """Half a point draws no line, and is no line that falls."""
    book = book_of(tmp_path / "half", PLANT.replace("fuel_point_load: 160 kW, ", ""))
    assert book.undecided["full_load_fuel_rate"] == ("fuel_point_load.half",) and "fuel_point_load.half" in book.check("autonomy_over_day").missing


def test_a_curve_that_ends_too_early_asks_for_more_points(tmp_path):
    """The points that are listed are not what is not given."""
    book = book_of(tmp_path / "short", PLANT.replace("day_power: 140 kW", "day_power: 400 kW"))
    assert "undecided (not given: more fuel points)" in chapter_page(book, "fuel").text and book.check("fuel_curve").word == "fails"


def test_a_tree_may_be_kinder_than_its_sets(tmp_path):
    """A tree in which the public supply must fail beside the set is better than the set alone: it holds nothing that else must not fail."""
    tree = """fault_events:
  - {id: set, name: The set, event_source: set_fails}
  - {id: supply, name: Public supply, event_demand_failure: 0.1}
fault_gates: [{id: dark, name: Roof dark, gate_sort: all}]
gate_inputs:
  - {id: a, name: Set, input_of: dark, input_event: set}
  - {id: b, name: Supply, input_of: dark, input_event: supply}
"""
    kinder = book_of(tmp_path / "kinder", PLANT + tree)
    assert kinder["mission_failure"].number == pytest.approx(0.1 * kinder["sets_failure"].number)  # both must fail: the product, by hand
    page = chapter_page(kinder, "reliability").text
    assert "(needed: 1" in page and "where it promises more than the sets alone, it counts on something beside them" in page


def test_a_start_without_a_run_up_is_told(tmp_path):
    """Four seconds of cranking are no start, however early they end."""
    stages = "start_time_max: 10 s\nstart_stages:\n  - {id: crank, name: Crank, stage_part: crank, stage_time: 4 s}\n"
    short = book_of(tmp_path / "short", PLANT + stages)
    assert short.check("time_to_load").word == "holds" and short.check("run_up_listed").word == "fails"
    assert "No stage is the run-up to speed" in chapter_page(short, "starting").text
    whole = book_of(tmp_path / "whole", PLANT + stages + "  - {id: up, name: Up, stage_part: run_up, stage_time: 3 s}\n")
    unnamed = book_of(tmp_path / "unnamed", PLANT + stages.replace("stage_part: crank, ", ""))
    assert (whole.check("run_up_listed").word, unnamed.check("run_up_listed").word) == ("holds", "nothing to check")


def test_a_bill_of_one_month_is_not_told_as_that_of_a_year(book, tmp_path):
    months = "demand_price: 11 USD/kW\nbilling_months:\n  - {id: july, name: July, month_peak: 200 kW, month_peak_beside: 150 kW}\n"
    billed = book_of(tmp_path / "billed", PLANT + months)
    assert billed["demand_cost"].number == pytest.approx(2200) and billed.check("bill_of_a_year").word == "fails"  # 11 USD/kW of 200 kW, once
    assert "those of the listed months alone" in chapter_page(billed, "modes").text and book.check("bill_of_a_year").word == "nothing to check"


def test_earthing_beside_the_supply_is_said_to_be_that_of_the_sets_alone(told, tmp_path):
    beside = book_of(tmp_path / "beside", PLANT + "utility_operation: momentary\n")
    assert "told of the sets alone" in chapter_page(beside, "earthing").text and "told of the sets alone" not in told["earthing"]


def test_an_action_that_is_told_counts_as_none_only_if_somebody_says_so(tmp_path):
    """A bend has been taken out, and by default nothing is done: one of the two has to go."""
    record = """measurements:
  - {id: works, name: Works test, measured_kind: set_power, measurement_stage: factory, measurement_date: 2027-02-02, measured_power: 250 kW,
     measurement_load: 100 %, test_air_temperature: 77 degF, test_air_pressure: 100 kPa, tolerance_side: not_less, tolerance: 3 %,
     instrument_uncertainty: 0.5 %, measurement_action: Bend taken out}
"""
    with pytest.raises(Faults, match="'Works test' .works.; expected action_state planned or done beside measurement_action"):
        book_of(tmp_path / "told", PLANT + record)
    done = book_of(tmp_path / "done", PLANT + record.replace("Bend taken out}", "Bend taken out, action_state: done}"))
    assert done["deviations_open"].number == 0 and done.check("deviations_have_action").word == "holds"
