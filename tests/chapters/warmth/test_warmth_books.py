"""Standby warmth in whole books of plants unlike the demos: one that needs no heat, a heater too small, blocks no warmer than the room."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from pytest import approx

import basis
from basis.language.faults import Faults
from basis.solving.verdict_words import NOTHING
from basis.terminal.cli import main

WEATHER = Path(__file__).parents[3] / "projects" / "cobble-key-exchange" / "weather.epw"  # an invented tropical year, 20.4 °C at its coldest
PLANT = """
name: Trial
chapters: [warmth]
altitude: 100 m
outdoor_temperature_max: 36 degC
outdoor_temperature_min: {coldest}
outdoor_relative_humidity: 60 %
power_frequency: 50 Hz
currency: EUR
energy_price: 0.20 EUR/kWh
discount_rate: 5 %
project_life: 20 year
rating_class: ESP
set_rated_power: 1000 kW
set_air_temperature_rise: 5 K
spare_sets: 0
installed_sets: 2
outdoor_temperature_hourly: {{file: weather.epw}}
heated_room_volume: 500 m^3
room_surfaces:
  - {{id: shell, room_surface_area: 300 m^2, room_surface_transmittance: 1 W/(m^2*K)}}
block_warm_area: 9 m^2
block_metal_mass: 3000 kg
block_coolant_volume: 80 L
block_oil_volume: 60 L
element_replacement_cost: 300 EUR
heating_case_base: way
heating_case_chosen: way
heating_cases:
  - {{id: way, heating_air_changes: 1 1/h, {way}}}
"""


def book_of(folder: Path, way: str, coldest: str = "18 degC", more: str = ""):
    folder.mkdir(exist_ok=True)
    shutil.copy(WEATHER, folder)
    (folder / "project.yaml").write_text(PLANT.format(way=way, coldest=coldest) + more, encoding="utf-8")
    return basis.load(folder)


def test_a_plant_that_needs_no_heat(tmp_path):
    # Room wanted at 5 °C and blocks at 15 °C in a year that never falls below 20 °C: by the heat balance nothing is ever put in
    book = book_of(tmp_path / "tropics", "heating_set_point: 5 degC, heating_hold_temperature: 15 degC")
    assert book["heating_block_energy.way"].number == book["heating_cost_least"].number == 0
    assert book["set_point_excess"].text() == "does not exist: the chosen way does not heat the room, or nothing need be heated"
    verdict = book.check("set_point")
    assert (verdict.word, verdict.nothing_text) == (NOTHING, book["set_point_excess"].term.absent)
    assert book.check("element_life").word == NOTHING  # no heater ever switches
    assert book.check("block_warmth").word == "fails"  # 15 °C wanted is less than the least temperature of the blocks


def test_a_value_that_does_not_exist_is_told_to_machines(tmp_path):
    book_of(tmp_path / "tropics", "heating_set_point: 5 degC, heating_hold_temperature: 15 degC")
    shown = json.loads(CliRunner().invoke(main, ["show", "tropics", "set_point_excess", "--json", "--projects", str(tmp_path)]).output)
    assert shown["value_si"] is None and "does not exist" in shown["shown_si"]
    checks = json.loads(CliRunner().invoke(main, ["check", "tropics", "--json", "--projects", str(tmp_path)]).output)["projects"][0]["checks"]
    assert {check["check"]: check["verdict"] for check in checks}["set_point"] == NOTHING


def test_a_heater_too_small_for_the_temperature_wanted(tmp_path):
    # Blocks wanted at 45 °C, 150 W/K to a room held at 10 °C, heater of 5 kW: 5000/150 is 33 K above the room, enough for the least but not for what is wanted
    way = "heating_hold_temperature: 45 degC, heating_block_to_room: 150 W/K, heating_set_point: 10 degC"
    book = book_of(tmp_path / "cold", way, "-15 degC", "block_heater_power: 5 kW\n")
    assert book["block_temperature_held"].number - 273.15 == approx(10 + 5000 / 150, abs=0.01)
    assert book.check("block_warmth").word == "holds"
    assert book.check("block_heater").word == "fails"
    assert book.check("block_heater").margin == approx(10 + 5000 / 150 - 45, abs=0.01)


@pytest.mark.parametrize("hold", ["10 degC", "2 degC"])  # as warm as the room of the film, and colder
def test_blocks_no_warmer_than_the_room(tmp_path, hold):
    book = book_of(tmp_path / "level", f"heating_hold_temperature: {hold}")
    assert book["block_surface_coefficient.way"].number > 0  # once not a number
    assert {verdict.word for verdict in book.checks if verdict.check.id.startswith("block_")} <= {"fails", "holds", "undecided", NOTHING}
    assert "heating_hold_temperature" not in {name for verdict in book.checks for name in verdict.missing}


def test_a_way_without_heaters_is_not_judged_by_them(tmp_path):
    book = book_of(tmp_path / "none", "heating_heater_share: 0 %")
    assert book.check("block_heater").nothing_text == "the chosen way has no block heaters"
    assert book.check("room_heater").nothing_text == "the chosen way does not heat the room"
    assert book["block_warm_up_time.way"].text() == "does not exist: the heaters never bring a block there"
    assert book.check("block_warm_up").word in (NOTHING, "undecided")
    assert book.check("heating_cost").nothing_text == "ways compared with the chosen one: 0"


def test_room_heaters_too_small_do_not_hold_the_room(tmp_path):
    # wanted 20 °C at −15 °C; with no room heater the room stands where blocks of 100 W/K each warm it: by hand (300·1 + air) pulls it far below
    book = book_of(tmp_path / "weak", "heating_set_point: 20 degC, heating_block_to_room: 100 W/K", "-15 degC")
    air = book["heating_room_conductance.way"].number
    by_hand = (air * -15 + 2 * 100 * 40) / (air + 200)  # heat balance of the room with both blocks at 40 °C
    assert book["room_temperature_held"].number - 273.15 == approx(by_hand, abs=0.01)
    assert book.check("room_heater").word == "fails" and book.check("room_warmth").word == "fails"


def test_savings_may_be_losses(tmp_path):
    # a room held warmer than the way compared with costs more: told as a loss, not as a fault
    two = "heating_set_point: 28 degC, heating_room_heater_power: 40 kW}\n  - {id: cold, heating_air_changes: 1 1/h"
    book = book_of(tmp_path / "dear", two, "-15 degC")
    text = (tmp_path / "dear" / "project.yaml").read_text("utf-8").replace("heating_case_base: way", "heating_case_base: cold")
    (tmp_path / "dear" / "project.yaml").write_text(text, encoding="utf-8")
    assert book["heating_saving_held"].number == 0 and basis.load(tmp_path / "dear")["heating_saving_held_heat_only"].number < 0


def test_coolant_and_oil_of_the_engine_are_asked_for_once(tmp_path):
    """All oil of the set is warm unless a part stands in a cold tank; more warm than there is, is a slip of the text."""
    way = "heating_hold_temperature: 15 degC"
    again = PLANT.replace("block_oil_volume: 60 L", "oil_fill: 90 L\ncoolant_fill: 200 L")
    (tmp_path / "plain").mkdir()
    shutil.copy(WEATHER, tmp_path / "plain")
    (tmp_path / "plain" / "project.yaml").write_text(again.format(way=way, coldest="18 degC"), encoding="utf-8")
    # hand: 3000 kg x 480 + 80 L x 3600 + 90 L x 1750 J/K
    assert basis.load(tmp_path / "plain")["block_heat_capacity"].number == approx(1.8855e6)
    with pytest.raises(Faults) as told:
        book_of(tmp_path / "more", way, more="oil_fill: 50 L\n")
    assert "'block_oil_volume' is 60 L, above 'oil_fill', 50 L" in str(told.value)
    with pytest.raises(Faults) as told:
        book_of(tmp_path / "less", way, more="coolant_fill: 70 L\n")
    assert "no more than the coolant in the set (coolant_fill)" in str(told.value)
