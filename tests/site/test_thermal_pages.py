"""Pages of the thermal chapters for a plant unlike the demos: in the tropics, without heaters, silencer, transformers, batteries or wool on its pipe."""

import re
import shutil
from pathlib import Path

import pytest
from rendering import chapter_page

import basis

WEATHER = Path(__file__).parents[2] / "projects" / "cobble-key-exchange" / "weather.epw"
PLANT = """
name: Tropical pumping station
chapters: [plant, loads, ventilation, cooling, exhaust, warmth, station_supply]
place: somewhere hot
purpose: Standby supply
altitude: 20 m
outdoor_temperature_max: 36 degC
outdoor_temperature_min: 19 degC
outdoor_relative_humidity: 70 %
power_frequency: 50 Hz
currency: AUD
energy_price: 0.2 AUD/kWh
discount_rate: 5 %
project_life: 20 year
hours_per_year_tests: 12 h
hours_per_year_outages: 24 h
rating_class: PRP
set_rated_power: 500 kW
engine_speed: 1500 rpm
spare_sets: 0
set_air_temperature_rise: 6 K
loads:
  - {id: all, load_connected_power: 350 kW, load_power_factor: 0.9, load_step_joined: one}
load_steps:
  - {id: one, step_time: 10 s}
running_cases:
  - {id: run, sets_out: 0}
radiator_placement: remote
discharge_wind_speed: 5 m/s
restriction_allowed: 125 Pa
remote_radiator_airflow: 12 m^3/s
openings:
  - {id: in, opening_side: intake, gross_area: 4 m^2, free_area_ratio: 50 %}
  - {id: out, opening_side: discharge, gross_area: 3 m^2, free_area_ratio: 50 %}
air_elements:
  - {id: lin, element_opening: in, element_loss_coefficient: 4}
  - {id: lout, element_opening: out, element_loss_coefficient: 4}
fan_points:
  - {id: a, fan_point_airflow: 9 m^3/s, fan_point_pressure: 0 Pa}
  - {id: b, fan_point_airflow: 6 m^3/s, fan_point_pressure: 200 Pa}
exhaust_sizes:
  - {id: dn200, exhaust_bore: 200 mm}
exhaust_size_chosen: dn200
exhaust_pipe_length: 6 m
exhaust_bends: 1
insulation_thickness: 0 mm
exhaust_room_length: 2 m
silencer_rated_drop: 0 kPa
coolant_loops:
  - {id: jw, loop_carries: jacket_and_charge_air, loop_temperature_max: 98 degC}
outdoor_temperature_hourly: {file: weather.epw}
heated_room_volume: 300 m^3
room_surfaces:
  - {id: shell, room_surface_area: 250 m^2, room_surface_transmittance: 2 W/(m^2*K)}
block_metal_mass: 1500 kg
block_coolant_volume: 50 L
block_oil_volume: 40 L
block_warm_area: 5 m^2
heating_case_base: none
heating_case_chosen: none
heating_cases:
  - {id: none, name: No heaters, heating_air_changes: 2 1/h, heating_heater_share: 0 %}
station_loads:
  - {id: lights, station_load_kind: lighting, station_load_power: 1 kW, station_load_duty: [20 %, 100 %, 100 %]}
"""


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    """(what stands there, what stands there now), ... -> text of a chapter's page of the plant so changed."""
    made = {}

    def page(chapter, *edits):
        if edits not in made:
            folder = tmp_path_factory.mktemp("tropics")
            shutil.copy(WEATHER, folder)
            text = PLANT
            for old, new in edits:
                assert old in text
                text = text.replace(old, new)
            (folder / "project.yaml").write_text(text, encoding="utf-8")
            made[edits] = basis.load(folder)
        return chapter_page(made[edits], chapter).text

    return page


def test_a_drain_that_nobody_stated_is_not_claimed(pages):
    assert "Nothing is said about a drain" in pages("exhaust") and "The pipe falls away" not in pages("exhaust")
    drained = pages("exhaust", ("exhaust_bends: 1", "exhaust_bends: 1\nexhaust_drain: at_low_point"))
    assert "The pipe falls away from the engine to a drained low point" in drained and "Nothing is said" not in drained


def test_a_bare_pipe_is_not_called_insulated(pages):
    before_checks = pages("exhaust").partition("Every check")[0]
    assert "as insulated" not in before_checks and "surface of the insulation" not in before_checks
    assert "not drawn" not in before_checks  # the ladder of back-pressure needs no limit


def test_a_usual_share_is_not_called_stated(pages):
    assert "its usual share of the fuel heat" in pages("cooling")
    assert "there as stated" in pages("cooling", ("exhaust_bends: 1", "exhaust_bends: 1\nexhaust_heat: 400 kW"))


def test_the_room_that_gives_out_first_is_told_without_cores(pages):
    assert "What gives out first, of what is known: fails" in pages("cooling")


def test_filters_behind_ducts_do_not_feel_the_room(pages):
    assert "Air filters that draw from the room feel it too" in pages("ventilation")
    ducted = pages("ventilation", ("exhaust_bends: 1", "exhaust_bends: 1\ncombustion_air_source: ducted"))
    assert "feel it too" not in ducted and "do not feel it" in ducted


def test_no_black_start_takes_no_time(pages):
    page = pages("station_supply")
    assert "in one attempt" not in page and "A start takes next to nothing of a battery" not in page
    assert "The auxiliaries take" in page  # although there is no transformer whose losses would join them


def test_heat_that_is_not_there_is_not_told(pages):
    page = pages("warmth")
    assert "no room heat" not in page and "does not exist: the chosen way does not heat the room" in page
    assert "does not heat the room from memory" not in page  # what does not exist is not weak
    assert "In the chosen way none switches" in page
    priced = pages("warmth", ("exhaust_bends: 1", "exhaust_bends: 1\nelement_replacement_cost: 300 AUD"))
    assert "no other way is compared with it" in priced
    cold = pages("warmth", ("outdoor_temperature_min: 19 degC", "outdoor_temperature_min: -20 degC"),
                 ("heating_heater_share: 0 %}", "heating_set_point: 15 degC}"))
    assert "The room heaters are too small." in cold


@pytest.mark.parametrize("chapter", ("ventilation", "noise", "hearing"))
def test_that_a_light_test_is_counted_at_full_load_is_said(books, chapter):
    page = " ".join(chapter_page(books["cobble-key-exchange"], chapter).text.split())
    assert re.search(r"running set[^.]* full load", page)
