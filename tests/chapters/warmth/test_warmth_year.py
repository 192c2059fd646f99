"""The heating year against sums over pvlib's hourly files, scipy, a plain loop over the hours, and steady states by linear algebra."""

import math
from pathlib import Path

import numpy as np
import pvlib
import pytest
from pytest import approx
from scipy.signal import lfilter

from basis.benchmark.year import CASES, arrays_of, plain_loop
from basis.chapters.warmth.year import MONTH_STARTS, Ways, Year, follow, heating_year, heating_year_joined, heating_year_tried, imbalance, solve_year
from basis.physics.weather import read_hourly

PVLIB = Path(pvlib.__file__).parent / "data"
KWH, HOUR, C0 = 3.6e6, 3600.0, 273.15
YEARS = (heating_year, heating_year_joined, heating_year_tried)


GREENSBORO = np.array(read_hourly(PVLIB / "723170TYA.CSV", "greensboro"))
SAND_POINT = np.array(read_hourly(PVLIB / "703165TY.csv", "sand point"))


def year_of(outdoor, set_points, capacity=0.0, sets=3.0, conductance=900.0, to_room=90.0, to_outdoors=0.0, hold=45.0, heater=12e3, pump=0.0, felt=4240e3,
            band=6.0,
            other=0.0, frost=-20.0, usual=15.0, trial=0, tried=tuple(range(4, 25))):
    """Results of the procedures by name, one way for each set point (None: no room heat); numbers in °C where they are temperatures."""
    one, found = np.ones(len(set_points)), {}
    given = {
        "outdoor_temperature_hourly": outdoor, "outdoor_temperature_min": frost + C0, "hour_step": HOUR, "installed_sets": sets,
        "room_heat_capacity": capacity, "room_other_heat": other, "room_temperature_usual": usual + C0, "heating_room_conductance": conductance * one,
        "heating_set_point": np.array([math.nan if point is None else point + C0 for point in set_points]), "heating_block_to_room": to_room * one,
        "heating_block_to_outdoors": to_outdoors * one, "heating_hold_temperature": (hold + C0) * one, "heating_hold_band": band * one,
        "heating_heater_power": heater * one, "heating_pump_power": pump * one, "heating_felt_capacity": felt * one,
        "heating_case_chosen": trial, "set_point_trial": np.array(tried) + C0}
    for year in YEARS:
        results, residual, _ = year.run(*(given[name] for name in year.parameters))
        assert residual < 1e-9
        found |= zip(year.yields, results)
    return found


def ways(capacity=0.0, sets=3.0, conductance=900.0, set_point=0.0, to_room=90.0, to_outdoors=0.0, hold=45.0, heater=12e3, pump=0.0, felt=4240e3, band=6.0,
         other=0.0):
    array = [np.array([[float(number)]]) for number in (conductance, set_point + C0 if set_point else 0.0, to_room, to_outdoors, hold + C0, band, heater, pump,
                                                      felt)]
    return Ways(*array, sets, capacity, other, HOUR)


# ---- yearly sums ----

def test_greensboro_cold_and_heated_room():
    # T49, hourly sum by numpy over pvlib's file: UA 900 W/K, three blocks of 90 W/K held at 45 °C. Blocks alone 55 633 kWh, coldest room -2.5 °C, 1848 h
    # below 15 °C;
    # room held at 15 °C: 53 271 + 10 237 kWh, peak of the room heater 20.4 kW
    found = year_of(GREENSBORO, (None, 15))
    assert found["heating_block_energy"] / KWH == approx([55_633, 53_271], rel=1e-4)
    assert found["heating_room_heat"] / KWH == approx([0, 10_237], rel=1e-4)
    assert found["heating_room_temperature_min"] - C0 == approx([-2.46, 15], abs=0.01)
    assert found["heating_cold_time"] / HOUR == approx([1848, 0])
    assert found["heating_room_peak"] == approx([0, 20_430], abs=5)


def test_sand_point_cold_and_heated_room():
    # T50, the same for Sand Point: 73 829 kWh alone; 68 328 + 23 841 kWh heated
    found = year_of(SAND_POINT, (None, 15))
    assert found["heating_block_energy"] / KWH == approx([73_829, 68_328], rel=1e-4)
    assert found["heating_room_heat"] / KWH == approx([0, 23_841], rel=1e-4)


def test_room_with_storage():
    # T51, exact exponential step by numpy: UA 900 W/K, C 200 MJ/K, 10 kW, start at 20 °C: tau 61.73 h; min 4.74, max 39.77, mean 25.58, last 13.90 °C at
    # the ends of hours
    equilibrium = (GREENSBORO + 10e3 / 900)[None]
    decay = math.exp(-900 * HOUR / 200e6)
    assert -1 / math.log(decay) == approx(61.73, abs=0.005)
    start, end = follow(equilibrium, np.array([[decay]]), np.array([[0.0]]))
    assert start[0, 0] == approx(end[0, -1])  # the year is closed
    opened = end[0] + (20 + C0 - start[0, 0]) * decay ** np.arange(1, 8761) - C0  # the same year begun at 20 °C
    assert (opened.min(), opened.max(), opened.mean(), opened[-1]) == approx((4.74, 39.77, 25.58, 13.90), abs=0.05)


def test_room_with_storage_by_scipy():
    # scipy lfilter runs the same first-order recursion, two years so that the second closes on itself
    decay, equilibrium = 0.97, GREENSBORO + 7.0
    twice = np.concatenate((equilibrium, equilibrium))
    filtered, _ = lfilter([1 - decay], [1, -decay], twice, zi=[decay * 280.0])
    _, end = follow(equilibrium[None], np.array([[decay]]), np.array([[0.0]]))
    assert end[0] == approx(filtered[8760:], abs=1e-6)


def test_heated_room_with_storage_by_small_steps():
    """Ten-second steps through two winter months: the room falls to its set point within hours and is held there."""
    weeks = GREENSBORO[:1440]
    got = solve_year(GREENSBORO, ways(capacity=20e6, set_point=14.0, to_outdoors=20.0, other=1500.0))
    room, heat, steps = 290.0, np.zeros(1440), 360
    for hour, outdoor in enumerate(weeks):
        for _ in range(steps):
            gain = 900 * (outdoor - room) + 3 * 90 * (45 + C0 - room) + 1500
            after = room + gain * 10 / 20e6
            added = max(0.0, 14 + C0 - after) * 20e6
            room, heat[hour] = after + added / 20e6, heat[hour] + added
    settled = slice(240, 1440)  # the other start is forgotten after ten days
    assert (heat / HOUR)[settled].sum() == approx(got.room_heat[0, settled].sum(), rel=2e-3)
    assert (heat / HOUR)[settled] == approx(got.room_heat[0, settled], abs=40)  # W of about 10 000


def test_the_hour_in_which_a_room_falls_to_its_set_point():
    # hand: time constant 10 h, 12 h at 30 °C and 12 h at -10 °C, held at 14 °C. From 14 °C the room warms to 30 - 16 e^-1.2 = 25.18 °C, falls to 14 °C in
    # 10 ln(35.18/24) = 3.824 h, and 900 W/K x 24 K hold it for the other 8.176 h: 176.6 kWh a day. In the mean, over 24 h: 12 x 30 - 10 (25.18 - 14) in the
    # warm half, -10 x 3.824 + 10 (25.18 - 14) while it falls, 14 x 8.176 held: 18.18 °C.
    days = np.where(np.arange(8760) // 12 % 2, -10.0, 30.0) + C0
    found = year_of(days, (14,), capacity=900 * 10 * HOUR, to_room=0.0, to_outdoors=50.0)
    assert found["heating_room_heat"][0] / KWH == approx(365 * 176.6, rel=2e-4)
    assert found["heating_room_temperature_mean"][0] - C0 == approx(18.18, abs=5e-3)
    assert found["heating_room_peak"][0] == approx(900 * 24)


def test_heavy_walls_give_back_what_they_took():
    # hand: a room that takes a year to follow ends the year as warm as it began, so its mean is that of (900 T_o + 270 x 45)/1170 over the hours
    found = year_of(GREENSBORO, (None,), capacity=1170 * 8760 * HOUR)
    assert found["heating_room_temperature_mean"][0] == approx((900 * GREENSBORO.mean() + 270 * (45 + C0)) / 1170, rel=1e-9)


# ---- a plain loop ----

def test_plain_loop_gives_the_same():
    got = solve_year(GREENSBORO, arrays_of(CASES, 150e6, 3.0, 2e3))
    found = np.stack((3.0 * got.block_power.sum(axis=1) * HOUR, got.room_heat.sum(axis=1) * HOUR), axis=1)
    assert found == approx(plain_loop(GREENSBORO, 150e6, 3.0, 2e3, CASES), rel=1e-9)


# ---- what must hold whatever the numbers ----

def test_heat_balance_is_what_leaves():
    """All heat through the room: the total is conductance times room above outdoors, hour by hour."""
    found = year_of(GREENSBORO, (None, 10, 16), capacity=80e6, to_outdoors=35.0, other=1200.0)
    total = found["heating_block_energy_joined"] + found["heating_room_heat_joined"]
    joined = solve_year(GREENSBORO, ways(capacity=80e6, to_room=125.0, other=1200.0))
    assert total[0] == approx(900 * (joined.room - joined.outdoor).sum() * HOUR - 1200 * 8760 * HOUR, rel=1e-9)
    assert imbalance(joined, ways(capacity=80e6, to_room=125.0, other=1200.0)) < 1e-12


def test_imbalance_is_that_of_the_worst_way():
    # hand: 100 W/K over 10 K and two blocks of 5 W/K over 30 K lose 1300 W. Two blocks of 600 W and 100 W of lights put in as much; of 665 W, 130 W more,
    # which are a tenth of 1300 W and a part of 1430 W of 9.09 %
    hours, pair = np.ones((1, 73)), np.ones((2, 1))
    two = Ways(100 * pair, 0 * pair, 20 * pair, 5 * pair, 313.0 * pair, 6 * pair, 9e3 * pair, 0 * pair, 1e6 * pair, 2.0, 0.0, 100.0, HOUR)
    year = Year(293.0 * hours * pair, 0 * hours * pair, 313.0 * hours * pair, hours * np.array([[600.0], [665.0]]), 283.0 * hours, np.full(2, 293.0))
    assert imbalance(year, two) == approx(0.0909, abs=5e-5)


def test_a_warmer_room_never_lowers_the_heat():
    for direct in (0.0, 60.0):
        found = year_of(SAND_POINT, (None,), to_outdoors=direct, capacity=50e6)
        total = found["trial_block_energy"] + found["trial_room_heat"]
        assert np.all(np.diff(total) >= -1e-3) and total[0] >= found["heating_block_energy"][0] - 1e-3
        assert np.all(np.diff(found["trial_block_energy"]) <= 1e-3)  # the blocks themselves do less


def test_set_points_tried_are_those_of_the_case():
    found = year_of(GREENSBORO, (None, 12), trial=1, to_outdoors=20.0)
    place = 12 - 4
    assert found["trial_block_energy"][place] == approx(found["heating_block_energy"][1])
    assert found["trial_room_heat"][place] == approx(found["heating_room_heat"][1])
    assert found["trial_heater_cycles"][place] == approx(found["heating_heater_cycles"][1])


def test_heat_past_the_room_leaves_it_colder():
    found = year_of(GREENSBORO, (None, 15), to_outdoors=40.0)
    assert np.all(found["heating_block_energy"] > found["heating_block_energy_joined"])
    # hand: held at 15 °C and 45 °C, what goes past the room is 3 x 40 x (45 - T_o) for 8760 h at a mean of 14.42 °C, 32.15 MWh
    past = 3 * 40 * (45 + C0 - GREENSBORO.mean()) * 8760 * HOUR
    assert past / KWH == approx(32_150, rel=2e-3)
    without = year_of(GREENSBORO, (15,), to_outdoors=0.0)
    assert found["heating_block_energy"][1] - without["heating_block_energy"][0] == approx(past, rel=1e-9)


def test_months_add_up_to_the_year():
    found = year_of(GREENSBORO, (None, 15), to_outdoors=10.0, capacity=60e6)
    assert found["month_block_energy"].sum(axis=1) == approx(found["heating_block_energy"])
    assert found["month_room_heat"].sum(axis=1) == approx(found["heating_room_heat"])
    assert list(MONTH_STARTS[:4]) == [0, 744, 1416, 2160]  # hand: 31, 28 and 31 days
    assert np.argmax(found["month_room_heat"][1]) in (0, 1, 11)  # winter


def test_mean_temperature_and_duty():
    found = year_of(GREENSBORO, (None,))
    # hand: unheated, steady, no storage: (900 T_o + 270 x 45)/1170 in every hour, so in the mean as well
    assert found["heating_room_temperature_mean"][0] == approx((900 * GREENSBORO.mean() + 270 * (45 + C0)) / 1170, rel=1e-9)
    assert found["heating_heater_duty"][0] == approx(found["heating_block_energy"][0] / (3 * 12e3 * 8760 * HOUR))
    # hand: a pump of 500 W takes as much from the heater of 12 kW
    assert year_of(GREENSBORO, (None,), pump=500.0)["heating_heater_duty"][0] == approx(found["heating_heater_duty"][0] - 500 / 12e3)


# ---- blocks that cannot be held ----

def test_heater_too_small_by_linear_algebra():
    # numpy.linalg: two balances at -20 °C, block 5 kW = 90 (T_b - T_r) + 40 (T_b - T_o), room 900 (T_r - T_o) = 3 x 90 (T_b - T_r) + 2 kW of lights
    found = year_of(GREENSBORO, (None,), to_outdoors=40.0, heater=5e3, other=2e3)
    outdoor = -20 + C0
    block, room = np.linalg.solve([[130, -90], [270, -1170]], [5e3 + 40 * outdoor, -900 * outdoor - 2e3])
    assert (found["heating_design_block_temperature"][0], found["heating_design_room_temperature"][0]) == approx((block, room), abs=1e-6)
    assert found["heating_block_temperature_min"][0] < 45 + C0
    held = year_of(GREENSBORO, (None,), to_outdoors=40.0, heater=50e3, other=2e3)
    assert held["heating_design_block_temperature"][0] == held["heating_block_temperature_min"][0] == approx(45 + C0)
    assert found["heating_block_energy"][0] < held["heating_block_energy"][0]


def test_room_heat_on_the_design_day():
    # hand: 900 x 35 - 3 x 90 x 30 = 23 400 W at -20 °C for 15 °C
    found = year_of(GREENSBORO, (15, None), frost=-20.0)
    assert found["heating_design_room_heat"] == approx([23_400, 0])
    assert found["heating_design_room_temperature"] - C0 == approx([15, (900 * -20 + 270 * 45) / 1170])  # hand: steady balance without room heat


def test_pump_warms_the_block_when_little_is_needed():
    found = solve_year(GREENSBORO, ways(pump=4e3, hold=40.0, to_outdoors=10.0))
    assert found.block_power.min() == approx(4e3) and found.block.max() > 40 + C0
    floats = found.block_power[0] == 4e3
    # what the block gives off in such an hour is what the pump puts in
    given = 90 * (found.block - found.room) + 10 * (found.block - found.outdoor)
    assert given[0, floats] == approx(np.full(floats.sum(), 4e3))
    assert imbalance(found, ways(pump=4e3, hold=40.0, to_outdoors=10.0)) < 1e-9


def test_no_heater_no_heat():
    found = year_of(GREENSBORO, (None,), heater=0.0)
    assert found["heating_block_energy"][0] == found["heating_heater_cycles"][0] == 0
    assert found["heating_room_temperature_mean"][0] == approx(GREENSBORO.mean())


# ---- thermostat ----

def one_hour(room, hold=43.0, **changes):
    """Switchings-on of a set in an hour of a year in which the room stands at `room`: a steady outdoor temperature holds it there."""
    outdoor = room - 3 * 90 * (hold - room) / 900  # hand: 900 (T_r - T_o) = 3 x 90 (T_h - T_r)
    found = year_of(np.full(8760, outdoor + C0), (None,), hold=hold, **{"heater": 9e3} | changes)
    return found["heating_heater_cycles"][0] / 8760


def test_cycles_of_a_thermostat():
    # T54, exact exponentials: 9 kW, 90 W/K, 4240 kJ/K, 40 to 46 °C. Room at 5 °C: on 76.0 min, off 124.2 min, 0.2996 an hour, 2624 a year; room at 15 °C:
    # 0.2560
    assert one_hour(5.0) == approx(0.2996, rel=2e-3) and one_hour(15.0) == approx(0.2560, rel=2e-3)
    assert one_hour(5.0) * 8760 == approx(2624, rel=2e-3)
    assert 60 / one_hour(5.0) == approx(76.0 + 124.2, rel=2e-3)
    # T55, the linear form 3600 P d(1 - d)/(C band) with d = 0.38: 0.3001 an hour
    linear = 3600 * 9e3 * 0.38 * 0.62 / (4240e3 * 6)
    assert linear == approx(0.3001, abs=5e-5) and one_hour(5.0) == approx(linear, rel=5e-3)


def test_no_cycles_where_the_heater_is_always_on_or_off():
    assert one_hour(-80.0) == 0  # 9 kW over 90 W/K lift the block by 100 K: 20 °C at most
    assert one_hour(45.0) == 0   # a room warmer than the lower switching point
    assert one_hour(5.0, felt=424e3) == approx(10 * one_hour(5.0))  # a tenth of the capacity, ten times the cycles


@pytest.mark.parametrize("to_outdoors, pump", ((0.0, 0.0), (40.0, 700.0)))
def test_cycles_by_walking_through_them(to_outdoors, pump):
    """Second by second: the block warms and cools between its two switching points."""
    block, on, count, felt, outdoor = 313.15, True, 0, 300e3, 5 - 0.3 * 38
    for _ in range(200_000):
        block += ((9e3 if on else 0.0) + pump - 90 * (block - (5 + C0)) - to_outdoors * (block - (outdoor + C0))) / felt
        if on and block >= 46 + C0:
            on = False
        elif not on and block <= 40 + C0:
            on, count = True, count + 1
    assert count / 200_000 * HOUR == approx(one_hour(5.0, felt=felt, to_outdoors=to_outdoors, pump=pump), rel=0.02)


@pytest.mark.parametrize("hours", [1, 2, 11, 12, 13, 73, 145, 8784])
def test_any_number_of_hours_closes_on_itself(hours):
    """Against a plain loop over the hours, gone through until it begins as it ends; lengths that no group of hours divides."""
    rng = np.random.default_rng(hours)
    equilibrium, decay, floor = rng.uniform(250, 300, (2, hours)), rng.uniform(0.1, 0.98, (2, hours)), np.array([[0.0], [280.0]])
    for share in (decay, decay[:, :1]):
        start, end = follow(equilibrium, share, floor)
        now = np.full(2, 275.0)
        for _ in range(3 + 2000 // hours):  # 0.98²⁰⁰⁰ is nothing
            walked = []
            for hour in range(hours):
                walked.append(now)
                kept = share[:, hour % share.shape[1]]
                now = np.maximum(floor[:, 0], now * kept + equilibrium[:, hour] * (1 - kept))
        assert start == approx(np.transpose(walked), rel=1e-12) and end[:, -1] == approx(start[:, 0], rel=1e-12)


@pytest.mark.parametrize("case", [{}, {"capacity": 180e6}, {"capacity": 180e6, "heater": 3e3}, {"heater": 2e3}, {"pump": 5e3, "capacity": 90e6}])
def test_set_points_that_are_never_reached_are_years_like_any_other(case):
    """Each set point tried is the year of a way that is held there, whether the room falls to it, to the coldest moment exactly, or never."""
    tried = (1.0, 4.0, 8.0, 15.0, 24.0)
    found = year_of(GREENSBORO, (None, *tried), tried=tried, **case)
    for name in ("block_energy", "room_heat", "heater_cycles"):
        assert found[f"trial_{name}"] == approx(found[f"heating_{name}"][1:], rel=1e-9, abs=1e-3)
    assert found["trial_room_heat"][-1] > 0
