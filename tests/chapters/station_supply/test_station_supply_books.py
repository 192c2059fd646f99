"""Station supply in whole books: a small plant by hand, one input moved at a time, bad input told at its line, the demo projects, the figure."""

from pathlib import Path

import pytest
from conftest import demo_books
from pytest import approx

import basis
from basis.language.faults import Faults
from basis.site.figure import to_svg
from basis.site.figures import station_supply as figures

KWH, HOUR, AH = 3.6e6, 3600.0, 3600.0
PLANT = """
name: Trial
chapters: [station_supply]
altitude: 100 m
outdoor_temperature_max: 30 degC
outdoor_temperature_min: -5 degC
outdoor_relative_humidity: 40 %
power_frequency: 50 Hz
currency: EUR
energy_price: 0.20 EUR/kWh
discount_rate: 5 %
project_life: 20 year
hours_per_year_tests: 12 h
hours_per_year_outages: 24 h
rating_class: ESP
set_rated_power: 1000 kW
set_air_temperature_rise: 5 K
engine_speed: 1500 rpm
spare_sets: 0
installed_sets: 1
loads:
  - {id: all, load_connected_power: 700 kW, load_power_factor: 0.9, load_step_joined: one}
load_steps:
  - {id: one, step_time: 10 s}
running_cases:
  - {id: run, sets_out: 0}
transformers:
  - {id: station, transformer_rating: 63 kVA, transformer_impedance_voltage: 4 %, transformer_winding_loss: 1.2 kW, transformer_use: station,
  transformer_core_loss: 0.2 kW, transformer_mean_ratio: 30 %}
station_transformer: station
transformer_size_table: iec-60076-1-sizes
station_start_dip_max: 10 %
station_loads:
  - {id: heaters, station_load_kind: heater, station_load_power: 20 kW, station_load_power_factor: 1, station_load_duty: [100 %, 100 %, 0 %],
  station_mean_share: 50 %}
  - {id: fans, station_load_kind: fan, station_load_power: 16 kW, station_load_count: 2, station_load_power_factor: 0.8, station_load_start_ratio: 6,
  station_load_duty: [0 %, 50 %, 100 %]}
station_batteries:
  - {id: control, station_battery_voltage: 110 V, station_battery_capacity: 50 Ah, station_battery_load: 300 W, station_battery_wait: 4 h,
  station_battery_temperature: 50 degF}
black_start_time_max: 90 s
black_start_steps:
  - {id: lights, black_start_battery: control, black_start_power: 500 W, black_start_duration: 10 s}
  - {id: coil, black_start_after: lights, black_start_battery: control, black_start_power: 1200 W, black_start_holds: momentary, black_start_duration: 4 s}
  - {id: run_up, black_start_after: coil, black_start_duration: 46 s}
"""


def book_of(folder: Path, text: str):
    folder.mkdir(exist_ok=True)
    (folder / "project.yaml").write_text(text, encoding="utf-8")
    return basis.load(folder)


@pytest.fixture(scope="module")
def demos(tmp_path_factory):
    """Slug -> Book of each demo project with this chapter alone."""
    return demo_books(tmp_path_factory.mktemp("demos"), "station_supply")


# A small plant by hand

def test_a_small_plant_by_hand(tmp_path):
    book = book_of(tmp_path / "small", PLANT)
    # standby 20 kVA; starting 36 kW and 12 kvar: 37.9 kVA; running 32 kW and 24 kvar: 40 kVA; with a fifth more 48 kVA -> 50 kVA
    assert [book[f"station_apparent_power.{mode}"].number for mode in ("standby", "starting", "running")] == approx([20e3, 37.947e3, 40e3], abs=1)
    assert book["station_required_power"].number == approx(48e3)
    assert book["station_transformer_size"].number == 50e3
    # one fan of 20 kVA starts with 120 kVA on 63 kVA of 4 %: 0.04/(0.04 + 0.525) = 7.08 %
    assert book["station_start_dip"].number == approx(0.0708, abs=5e-5)
    # 48 of 63 kVA: 0.2 + 1.2·0.5805 = 0.897 kW; a year 0.2·8760 + 1.2·0.09·8760 = 2698 kWh
    assert book["transformer_loss.station"].number == approx(896.6, abs=0.5)
    assert book["transformers_lost_energy"].number / KWH == approx(2698.1, abs=0.1)
    # heaters 10 kW as mean for 8724 h, fans 32 kW for 36 h: 88 392 kWh; 5 % over 20 years 12.4622: 12.4622 × 0.20 × 91 090 = 227 000
    assert book["station_energy_yearly"].number / KWH == approx(88_392)
    assert book["station_life_cost"].number == approx(12.4622 * 0.20 * 91_090.1, rel=1e-4)
    # black start 60 s; lamps 500 W for 60 s and a coil of 1200 W for 4 s: 34 800 J; peak 300 + 500 + 1200 W
    assert book["black_start_time"].number == 60
    assert book["black_start_energy.control"].number == 34_800
    assert book["black_start_peak_power.control"].number == 2000
    # 300 W × (4 h + 120 s) + 69 600 J = 1229.3 Wh; / 110 V × 1.19 × 1.1 / (0.8 × 0.8) = 22.86 Ah, margin and end of life as the book's defaults
    assert book["battery_design_margin"].number == approx(1.1) and book["battery_end_of_life_share"].number == approx(0.8)
    assert book["station_battery_capacity_required.control"].number / AH == approx(22.86, abs=0.005)
    assert {verdict.check.id: verdict.word for verdict in book.checks} == {
        "transformer_rating_ok": "holds", **dict.fromkeys(("transformer_as_priced", "transformer_load_loss_as_priced", "transformer_no_load_loss_as_priced",
                                                         "transformer_hours_as_priced"), "nothing to check"),
        "transformer_regulation_ok": "undecided", "station_start_ok": "holds", "station_battery_ok": "holds",
        "black_start_time_ok": "holds", "station_block_heaters": "nothing to check"}


def test_one_input_moves_what_hangs_on_it(tmp_path):
    book = book_of(tmp_path / "a", PLANT)
    more = book_of(tmp_path / "b", PLANT.replace("station_battery_wait: 4 h", "station_battery_wait: 10 h"))
    assert more.check("station_battery_ok").word == "fails"                      # 56 Ah against 50 Ah
    assert more["station_battery_time.control"].number == book["station_battery_time.control"].number
    small = book_of(tmp_path / "c", PLANT.replace("63 kVA", "40 kVA"))
    assert small.check("transformer_rating_ok").word == "fails" and small["station_start_dip"].number > book["station_start_dip"].number
    once = book_of(tmp_path / "d", PLANT + "black_start_attempts: 1\n")
    assert book["station_battery_energy.control"].number - once["station_battery_energy.control"].number == approx(300 * 60 + 34_800)
    slow = book_of(tmp_path / "e", PLANT.replace("46 s", "80 s"))
    assert slow.check("black_start_time_ok").word == "fails"


def test_a_step_up_transformer_follows_the_set(tmp_path):
    # 1000 kW at 0.8: 1250 kVA, no derating at 100 m and 35 °C at the alternator
    text = PLANT.replace("transformers:\n",
                         "transformers:\n  - {id: up, transformer_rating: 1000 kVA, transformer_impedance_voltage: 6 %, transformer_winding_loss: 10 kW, "
                         "transformer_use: step_up}\n")
    book = book_of(tmp_path / "up", text)
    assert book["transformer_duty_power.up"].number == approx(book["set_site_power"].number / 0.8)
    assert book.check("transformer_rating_ok").word == "fails" and book.check("transformer_rating_ok").element == "up"
    assert "transformers_lost_energy" not in book or book["transformers_lost_energy"].text() == "not given"   # its core loss is not known: no sum without it


# Bad input

@pytest.mark.parametrize(("old", "new", "said"), [
    ("[100 %, 100 %, 0 %]", "[100 %, 0 %]", "has 2 numbers; expected 3, for the station modes"),
    ("black_start_after: lights", "black_start_after: run_up", "comes later in the list"),
    ("station_transformer: station", "station_transformer: staton", "refers to 'staton'"),
    ("transformer_size_table: iec-60076-1-sizes", "transformer_size_table: iec-60076-1-sises", "iec-60076-1-sizes"),
    ("station_load_power: 20 kW", "station_load_power: 20 kVA", "20 kVA"),
    ("station_load_power: 20 kW", "station_load_power: 20 MW", "is outside table 'iec-60076-1-sizes'"),
])
def test_bad_input_is_told(tmp_path, old, new, said):
    with pytest.raises(Faults) as told:
        book_of(tmp_path / "bad", PLANT.replace(old, new, 1))
    assert said in str(told.value)


# Demo projects

def test_hospital(demos):
    book = demos["larkmere-hospital"]
    # 66.88 kVA while starting, a quarter more: 83.6 kVA -> 100 kVA; 160 kVA bought
    assert book["station_peak_power"].number == approx(book["station_apparent_power.starting"].number)
    assert book["station_required_power"].number == approx(83.60e3, abs=5)
    assert book["station_transformer_size"].number == 100e3
    # cooling 14 kW / 0.86 × 5 = 81.4 kVA on 160 kVA of 6 %: 0.06/(0.06 + 1.9656) = 2.96 %
    assert book["station_start_dip"].number == approx(0.0296, abs=5e-5)
    verdict = book.check("transformer_rating_ok")
    assert (verdict.word, verdict.element) == ("tight", "treatment_transformer") and verdict.remark
    assert book["black_start_time"].number == 56
    # the trip coils come on top of the lamps: 520 + 350 + 1400 = 2270 W, the closing motor on top of all that is held: 520 + 350 + 240 + 90 + 280 + 1100
    # = 2580 W
    assert book["black_start_peak_power.control"].number == approx(2580)
    low = book.options[("generating_voltage_choice", "low_voltage")]
    assert {"step_up_1", "step_up_2", "step_up_3"} <= set(low.items["transformer"])
    assert low["transformer_duty_power.step_up_1"].number == approx(low["set_site_power"].number / 0.8)
    # cores that stand energised all year for a few hours of running: 3 × 1.6 kW × 8760 h more, and a little load loss
    more = (low["transformers_lost_energy"].number - book["transformers_lost_energy"].number) / KWH
    assert more == approx(3 * (1.6 * 8760 + 18.5 * 0.36 * 48), rel=1e-6)


def test_waterworks(demos):
    book = demos["high-tarn-waterworks"]
    assert book["station_transformer_size"].number == 75e3
    verdict = book.check("station_battery_ok")
    assert (verdict.word, verdict.element) == ("tight", "telemetry") and verdict.remark
    # 250 W / 0.88 × (8 h + 3 × 74 s) = 2290.2 Wh; / 48 V × 1.19 × 1.1 / 0.64 = 97.59 Ah
    assert book["station_battery_capacity_required.telemetry"].number / AH == approx(97.59, abs=0.01)
    medium = book.options[("generating_voltage_choice", "medium_voltage")]
    assert medium["transformer_lost_energy.step_down_1"].number / KWH == approx(2.4 * 90 + 14 * 0.55 ** 2 * 86)


def test_the_smallest_project(demos):
    book = demos["cobble-key-exchange"]
    # running: 0.4 + 3.5 + 1.5 + 1.2 = 6.6 kW at 0.9: 7.33 kVA, 8.8 kVA with growth -> 9 kVA
    assert book["station_power.running"].number == approx(6.6e3)
    assert book["station_required_power"].number == approx(8.8e3)
    assert book["station_transformer_size"].number == 9e3
    assert book.check("black_start_time_ok").word == "undecided"      # no time is asked for
    assert book["station_battery_time.control"].number > book["station_battery_wait.control"].number


def test_one_energy_where_both_chapters_are_in_the_book(books):
    for book in books.values():
        chosen = book["heating_case_chosen"].number
        heaters = book["station_load_kind"].number == "block_heater"
        assert book["station_load_energy"].number[heaters].sum() == approx(book[f"heating_block_energy.{chosen}"].number, rel=1e-12)
        assert book.check("station_block_heaters").word == "holds"
    # the tarn's unit heaters of the generator room are electric: what the year finds for the room is theirs too
    tarn = books["high-tarn-waterworks"]
    assert tarn["station_load_energy.room_heat"].number == tarn["heating_room_energy.held_circulating"].number


def test_without_the_standby_warmth_the_duty_stands(demos):
    # larkmere alone: 10 kW, three, 54 % for the hours of standby; no mean of the year is given, which is the safe side
    book = demos["larkmere-hospital"]
    assert book["standby_warmth_chapter"].number == "not_in_this_book"
    assert book["station_load_energy.coolant_heaters"].number == approx(30e3 * 0.54 * book["station_mode_time.standby"].number)
    assert book.check("station_block_heaters").word == "nothing to check"


# Figure

def test_figure_shows_every_mode_and_kind(demos):
    drawn = to_svg(figures.station_by_mode.draw(demos["larkmere-hospital"]), "figure", "Station").replace("\u202f", " ")
    for text in ("standby", "starting", "running", *figures.KINDS, "47.1 kW", "63.8 kW", "59.0 kW", "Station power, kW"):
        assert text in drawn, text
    choices = demos["larkmere-hospital"]["station_load_kind"].term.choices
    assert set(figures.KINDS) == {kind.removeprefix("block_").removeprefix("room_") for kind in choices}
