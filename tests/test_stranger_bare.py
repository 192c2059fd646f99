"""A plant that nobody here drew: one set on 50 Hz, bolted down, started by air from a base tank, no heating, no network study, hardly a list. All chapters."""

import shutil
from pathlib import Path

import numpy as np
import pytest
from rendering import chapter_page

from basis.chapters import catalogue
from basis.chapters.isolation import chapter as i
from basis.language.faults import Faults
from basis.reading.project import read
from basis.solving.solve import load

WEATHER = Path(__file__).parent.parent / "projects" / "cobble-key-exchange" / "weather.epw"
PROJECT = f"""name: Harbour light
chapters: [{", ".join(chapter.id for chapter in catalogue().chapters)}]
"""
PLANT = """place: A harbour light
purpose: Standby of the light, the horn and the radio of a harbour entrance
altitude: 15 m
outdoor_temperature_max: 36 degC
outdoor_temperature_min: 16 degC
outdoor_relative_humidity: 55 %
power_frequency: 50 Hz
currency: EUR
rating_class: ESP
set_rated_power: 160 kW
engine_speed: 1500 rpm
spare_sets: 0
loads:
  - {id: light, name: The light, load_connected_power: 60 kW, load_power_factor: 0.95, load_step_joined: all}
  - {id: horn, name: Horn and radio, load_connected_power: 45 kW, load_power_factor: 0.85, load_step_joined: all}
load_steps:
  - {id: all, name: All at once, step_time: 12 s}
running_cases:
  - {id: outage, name: The set in an outage, sets_out: 0}
generating_voltage: 400 V
ampacity_table: iec-60364-5-52-b52-12-f
conductor_size: 150 mm²
conductor_table: iec-60228-copper
conductor_ambient_temperature: 45 degC
ambient_table: iec-60364-5-52-b52-14-xlpe
circuits_grouped: 1
grouping_rule: circuits
grouping_table: iec-60364-5-52-b52-17-ladder
termination_limit: not_limiting
generator_cable_length: 12 m
cable_laying: ladder
radiator_placement: mounted
discharge_wind_speed: 8 m/s
restriction_allowed: 125 Pa
openings:
  - {id: low, name: Inlet louvre, opening_side: intake, gross_area: 2.6 m^2, free_area_ratio: 50 %}
  - {id: high, name: Outlet louvre, opening_side: discharge, gross_area: 2.0 m^2, free_area_ratio: 55 %}
fan_points:
  - {id: free, fan_point_airflow: 4.6 m^3/s, fan_point_pressure: 0 Pa}
  - {id: mid, fan_point_airflow: 4.0 m^3/s, fan_point_pressure: 125 Pa}
  - {id: low, fan_point_airflow: 3.0 m^3/s, fan_point_pressure: 240 Pa}
coolant_loops:
  - {id: jacket, name: Jacket water, loop_carries: jacket_and_charge_air, loop_temperature_max: 103 degC}
exhaust_size_chosen: dn150
exhaust_pipe_length: 7 m
exhaust_bends: 2
insulation_thickness: 50 mm
exhaust_room_length: 3 m
exhaust_sizes:
  - {id: dn150, name: DN 150, exhaust_bore: 159 mm}
fuel_feed: own_tank
fuel_tanks:
  - {id: base, name: Base tank, fuel_tank_volume: 500 L, fuel_tank_place: indoors}
fuel_points:
  - {id: half, name: Half load, fuel_point_load: 80 kW, fuel_point_rate: 22 L/h}
  - {id: full, name: Full load, fuel_point_load: 160 kW, fuel_point_rate: 42 L/h}
starting_method: air
receiver_volume: 250 L
receiver_pressure_max: 30 bar
receiver_pressure_min: 15 bar
air_per_start: 1.2 m^3
compressor_free_air: 12 m^3/h
outdoor_temperature_hourly: weather.epw
heated_room_volume: 90 m^3
block_metal_mass: 1200 kg
block_coolant_volume: 35 L
block_oil_volume: 25 L
heating_case_chosen: none_needed
heating_case_base: none_needed
room_surfaces:
  - {id: walls, name: Walls and roof, room_surface_area: 120 m^2, room_surface_transmittance: 1.5 W/(m^2*K), surface_left_out: massive stone}
heating_cases:
  - {id: none_needed, name: No heating, heating_air_changes: 1 /h}
machines:
  - {id: engine, name: Engine, machine_kind: engine_casing}
  - {id: mouth, name: Exhaust mouth, machine_kind: exhaust_mouth, machine_place: elsewhere}
  - {id: fan, name: Radiator fan, machine_kind: propeller_fan, machine_airflow: 4 m^3/s, machine_pressure: 150 Pa}
sound_sources:
  - {id: low_louvre, name: Inlet louvre, source_kind: opening, source_opening: low, source_x: 0 m, source_y: 0 m, source_height: 1 m}
  - {id: high_louvre, name: Outlet louvre, source_kind: opening, source_opening: high, source_x: 0 m, source_y: 6 m, source_height: 1.5 m}
  - {id: pipe, name: Exhaust, source_kind: exhaust, source_machine: mouth, source_x: 2 m, source_y: 5 m, source_height: 4 m}
receivers:
  - {id: house, name: Keeper's house over the bay, receiver_x: 900 m, receiver_y: 200 m}
limit_periods:
  - {id: night, name: Night, period_running_case: outage, period_duration: 8 h, period_limit: 45 dBA}
sound_weathers:
  - {id: usual, name: Usual, weather_temperature: 20 degC, weather_humidity: 70 %}
exposures:
  - {id: keeper, name: Keeper beside the set, exposure_place: in_room, exposure_running_case: outage, exposure_duration: 1 h,
     exposure_protection: single, exposure_protector_rating: 25 dB}
set_mounting: solid
gravity_centre: [0 m, 0 m]
gravity_centre_height: 0.8 m
set_dry_mass: 2200 kg
oil_fill: 25 L
coolant_fill: 35 L
block_sides: [3.4 m, 1.6 m]
block_thickness: 500 mm
buses:
  - {id: board, name: Board}
generators:
  - {id: one, name: The set, generator_bus: board}
neutral_earthing: solid
cables:
  - {id: main, name: Set to board, cable_bus: board, cable_size: 150 mm², cable_ampacity_table: iec-60364-5-52-b52-12-f, cable_length: 12 m,
     cable_parallel: 1, cable_current_margin: 1.15, cable_current_from: set, cable_ambient_temperature: 45 degC, cable_termination_limit: not_limiting}
control_conduit_table: control-conduit-emt
"""
NOT_THERE = ("one_pipe_a_set", "receiver_is_outdoors", "charging_covered", "restriction", "restriction_aim", "fan_delivery", "fan_curve",
             "emergency_stop_wired")


def book_of(folder, plant=PLANT):
    """The book of a project of this text."""
    folder.mkdir(exist_ok=True)
    (folder / "project.yaml").write_text(PROJECT, "utf-8")
    (folder / "plant.yaml").write_text(plant, "utf-8")
    shutil.copy(WEATHER, folder / "weather.epw")
    return load(folder)


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    return book_of(tmp_path_factory.mktemp("projects") / "harbour-light")


@pytest.fixture(scope="module")
def pages(book):
    return {chapter.id: chapter_page(book, chapter.id) for chapter in catalogue().chapters}


def test_nothing_is_judged_that_is_not_there(book):
    """An exhaust pipe that is not shared, buildings, charging of a solid neutral, drops of a building that lists none, a schedule of signals."""
    assert {name: book.check(name).word for name in NOT_THERE if book.check(name).word != "nothing to check"} == {}
    assert book["building_walls"].number == book["ladder_elements"].number == 0


def test_a_network_that_is_not_listed_has_no_sets_to_miss(tmp_path):
    network = "buses:\n  - {id: board, name: Board}\ngenerators:\n  - {id: one, name: The set, generator_bus: board}\n"
    assert network in PLANT
    bare = book_of(tmp_path / "bare", PLANT.replace(network, "").replace("cable_bus: board, ", ""))
    assert bare.check("all_sets_in_network").word == "nothing to check"


def test_air_alone_asks_for_no_battery(book):
    assert "battery_unit_capacity" not in PLANT and book["air_starts"].number == 2 and book.check("starts").word == "fails"


def test_a_lone_set_is_asked_for_no_synchroniser(tmp_path):
    """It closes on the dead bus: 1 s of confirmation, 4 s of cranking, 5 s of run-up and 0.5 s of arbitration are 10.5 s (hand calculation)."""
    order = "start_order: [{id: one, order_crank_time: 4 s, order_run_up_time: 5 s}]\nfirst_bus_time_max: 11 s\nrequired_bus_time_max: 11 s\n"
    book = book_of(tmp_path / "ordered", PLANT + order)
    assert [book.check(name).word for name in ("first_on_bus", "required_on_bus", "step_after_sets")] == ["tight", "tight", "holds"]
    assert book["first_bus_time"].number == book["required_bus_time"].number == pytest.approx(10.5) and book["order_waiting_time"].number == 0
    page = chapter_page(book, "synchronising").text
    assert "slip" not in page.partition("Interlocks")[0].lower().replace("slip allowed", "") and "Sharing of reactive power" not in page
    two = PLANT + order.replace("}]", "}, {id: two, order_crank_time: 4 s, order_run_up_time: 5 s}]")
    assert book_of(tmp_path / "two", two).check("first_on_bus").missing == ("synchroniser_slip",)  # a list of two meets


def test_the_cable_of_a_lone_set_bears_what_the_set_feeds(tmp_path):
    # 160 kW / 0.8 / (1.732 · 400 V) / 12 % = 2406 A; no other source feeds back (hand calculation)
    book = book_of(tmp_path / "island", PLANT + "utility_breakers: 0\n")
    assert book["cable_fault_current.main"].number == pytest.approx(2406, abs=1)
    assert "the plant is an island" in chapter_page(book, "short_circuit").text


def test_the_cable_is_not_judged_while_the_supply_is_not_listed(book, pages):
    assert book.check("cable_withstand_ok").word == "undecided" and "grid_infeeds" in book.check("cable_withstand_ok").missing
    told = "\n".join(part.text for part in pages["short_circuit"])
    assert "No supply from a utility is listed, though the plant has breakers to one (1)" in told


def test_no_label_stands_before_nothing(pages):
    for chapter, page in pages.items():
        parts = [part for part in page if part.tag in ("p", "h2", "h3", "h4", "div", "figure", "table", "ul")]
        for part, following in zip(parts, [*parts[1:], None]):
            assert not (part.tag == "p" and part.text.endswith(":") and (following is None or following.tag in ("p", "h2"))), f"{chapter}: {part.text}"
            assert not (part.tag == "h2" and (following is None or following.tag == "h2")), f"{chapter}: nothing below {part.text}"


def test_nothing_is_told_that_is_not_known(pages):
    told = {chapter: page.text for chapter, page in pages.items()}
    for untrue in ("never bring a cold block", "none switches", "none is needed", "The curve shows", "holds the room at not known", "It costs not known"):
        assert untrue not in told["warmth"], untrue
    assert "Largest station power" not in told["station_supply"] and "Torque reaction of a side" not in told["isolation"]
    assert "Multi-core cables" not in told["controls"] and "have a wire than are asked for" not in told["controls"]
    assert "supply alone" not in told["short_circuit"] and "From motors" not in told["short_circuit"]  # neither is listed
    assert "Current out of step" not in told["synchronising"] and "Reactance of the bus" not in told["synchronising"]
    assert "load stands off the middle" not in told["foundation"] and "never lies in the middle" not in told["isolation"]  # it is given there
    assert "codes that the project has chosen" not in told["plant"] and "The project has named no signatories." in told["plant"]
    assert told["plant"].count("A harbour light: the plant stands") == 1


def test_what_does_not_exist_waits_for_no_limit(tmp_path):
    """No heater, so no block is ever warmed up: to ask for the time allowed would be idle."""
    unheated = PLANT.replace("heating_air_changes: 1 /h", "heating_air_changes: 1 /h, heating_heater_share: 0 %")
    cold = book_of(tmp_path / "cold", unheated + "block_warm_area: 3 m^2\n")
    assert cold.check("block_warm_up").word == "nothing to check"
    assert "never bring a cold block" in chapter_page(cold, "warmth").text


def test_mounts_are_measured_from_their_middle(tmp_path):
    """The foundation takes the centre of gravity from the middle of the block: mounts from 0.4 to 3.4 m lie about 1.9 m (hand calculation)."""
    four = "".join(f"  - {{id: m{number}, mount_place: [{along} m, {across} m]}}\n" for number, (along, across) in
                   enumerate(((0.4, -0.7), (0.4, 0.7), (3.4, -0.7), (3.4, 0.7))))
    with pytest.raises(Faults) as told:
        book_of(tmp_path / "off", PLANT.replace("gravity_centre: [0 m, 0 m]", "gravity_centre: [1.9 m, 0 m]\nmounts:\n" + four))
    assert "mounts are measured from their middle: not so for 'along' (along); expected mount_place and gravity_centre measured from" in str(told.value)
    assert float(i.mount_middle_offset.run(np.array([0.4, 3.4]))) == pytest.approx(1.9)


def test_a_file_of_comments_gives_nothing(tmp_path):
    """Where every key is optional, `basis new` writes comments only. A file without any text may have been cut short, and is told."""
    (tmp_path / "hours.yaml").write_text("# Crankcase breather and running hours\n", "utf-8")
    (tmp_path / "project.yaml").write_text("name: Plain\nchapters: [plant]\n", "utf-8")
    assert read(tmp_path).files == ("hours.yaml", "project.yaml")
    (tmp_path / "hours.yaml").write_text("\n", "utf-8")
    with pytest.raises(Faults, match="hours.yaml:1: the file is empty"):
        read(tmp_path)
