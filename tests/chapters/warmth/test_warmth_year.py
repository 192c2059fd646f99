"""The heating year against sums over pvlib's hourly files, scipy, a plain loop over the hours, and steady states by linear algebra."""

import math
from pathlib import Path

import numpy as np
import pvlib
import pytest
from pytest import approx
from scipy.signal import lfilter

from basis.benchmark.year import CASES, arrays_of, plain_loop
from basis.chapters.warmth.year import MONTH_STARTS, Ways, Year, cycles, follow, heating_year, imbalance, solve_year
from basis.physics.weather import read_hourly

PVLIB = Path(pvlib.__file__).parent / "data"
KWH, HOUR, C0 = 3.6e6, 3600.0, 273.15
NAMES = heating_year.yields


@pytest.fixture(scope="module")
def greensboro():
    return np.array(read_hourly(PVLIB / "723170TYA.CSV", "greensboro"))


@pytest.fixture(scope="module")
def sand_point():
    return np.array(read_hourly(PVLIB / "703165TY.csv", "sand point"))


def year_of(outdoor, set_points, capacity=0.0, sets=3.0, conductance=900.0, to_room=90.0, to_outdoors=0.0, hold=45.0, heater=12e3, pump=0.0, felt=4240e3,
            band=6.0,
            other=0.0, frost=-20.0, usual=15.0, trial=0, tried=tuple(range(4, 25))):
    """Results of the procedure by name, one way for each set point (None: no room heat); numbers in °C where they are temperatures."""
    one = np.ones(len(set_points))
    found, residual, _ = heating_year.run(
        outdoor, frost + C0, HOUR, sets, capacity, other, usual + C0, conductance * one,
        np.array([math.nan if point is None else point + C0 for point in set_points]),
        to_room * one, to_outdoors * one, (hold + C0) * one, band * one, heater * one, pump * one, felt * one, trial, np.array(tried) + C0)
    assert residual < 1e-9
    return dict(zip(NAMES, found))


def ways(capacity=0.0, sets=3.0, conductance=900.0, set_point=0.0, to_room=90.0, to_outdoors=0.0, hold=45.0, heater=12e3, pump=0.0, felt=4240e3, band=6.0,
         other=0.0):
    array = [np.array([float(number)]) for number in (conductance, set_point + C0 if set_point else 0.0, to_room, to_outdoors, hold + C0, band, heater, pump,
                                                      felt)]
    return Ways(*array, sets, capacity, other, HOUR)


# ---- yearly sums ----

def test_greensboro_cold_and_heated_room(greensboro):
    # T49, hourly sum by numpy over pvlib's file: UA 900 W/K, three blocks of 90 W/K held at 45 °C. Blocks alone 55 633 kWh, coldest room -2.5 °C, 1848 h
    # below 15 °C;
    # room held at 15 °C: 53 271 + 10 237 kWh, peak of the room heater 20.4 kW
    found = year_of(greensboro, (None, 15))
    assert found["heating_block_energy"] / KWH == approx([55_633, 53_271], rel=1e-4)
    assert found["heating_room_heat"] / KWH == approx([0, 10_237], rel=1e-4)
    assert found["heating_room_temperature_min"] - C0 == approx([-2.46, 15], abs=0.01)
    assert found["heating_cold_time"] / HOUR == approx([1848, 0])
    assert found["heating_room_peak"] == approx([0, 20_430], abs=5)


def test_sand_point_cold_and_heated_room(sand_point):
    # T50, the same for Sand Point: 73 829 kWh alone; 68 328 + 23 841 kWh heated
    found = year_of(sand_point, (None, 15))
    assert found["heating_block_energy"] / KWH == approx([73_829, 68_328], rel=1e-4)
    assert found["heating_room_heat"] / KWH == approx([0, 23_841], rel=1e-4)


def test_room_with_storage(greensboro):
    # T51, exact exponential step by numpy: UA 900 W/K, C 200 MJ/K, 10 kW, start at 20 °C: tau 61.73 h; min 4.74, max 39.77, mean 25.58, last 13.90 °C at
    # the ends of hours
    equilibrium = (greensboro + 10e3 / 900)[:, None]
    decay = math.exp(-900 * HOUR / 200e6)
    assert -1 / math.log(decay) == approx(61.73, abs=0.005)
    start, end = follow(equilibrium, np.array([decay]), np.array([0.0]))
    assert start[0] == approx(end[-1])  # the year is closed
    opened = end[:, 0] + (20 + C0 - start[0, 0]) * decay ** np.arange(1, 8761) - C0  # the same year begun at 20 °C
    assert (opened.min(), opened.max(), opened.mean(), opened[-1]) == approx((4.74, 39.77, 25.58, 13.90), abs=0.05)


def test_room_with_storage_by_scipy(greensboro):
    # scipy lfilter runs the same first-order recursion, two years so that the second closes on itself
    decay, equilibrium = 0.97, greensboro + 7.0
    twice = np.concatenate((equilibrium, equilibrium))
    filtered, _ = lfilter([1 - decay], [1, -decay], twice, zi=[decay * 280.0])
    _, end = follow(equilibrium[:, None], np.array([decay]), np.array([0.0]))
    assert end[:, 0] == approx(filtered[8760:], abs=1e-6)


def test_heated_room_with_storage_by_small_steps(greensboro):
    """Ten-second steps through two winter months: the room falls to its set point within hours and is held there."""
    weeks = greensboro[:1440]
    got = solve_year(greensboro, ways(capacity=20e6, set_point=14.0, to_outdoors=20.0, other=1500.0))
    room, heat, steps = 290.0, np.zeros(1440), 360
    for hour, outdoor in enumerate(weeks):
        for _ in range(steps):
            gain = 900 * (outdoor - room) + 3 * 90 * (45 + C0 - room) + 1500
            after = room + gain * 10 / 20e6
            added = max(0.0, 14 + C0 - after) * 20e6
            room, heat[hour] = after + added / 20e6, heat[hour] + added
    settled = slice(240, 1440)  # the other start is forgotten after ten days
    assert (heat / HOUR)[settled].sum() == approx(got.room_heat[settled, 0].sum(), rel=2e-3)
    assert (heat / HOUR)[settled] == approx(got.room_heat[settled, 0], abs=40)  # W of about 10 000


# ---- a plain loop ----

def test_plain_loop_gives_the_same(greensboro):
    got = solve_year(greensboro, arrays_of(CASES, 150e6, 3.0, 2e3))
    found = np.stack((3.0 * got.block_power.sum(axis=0) * HOUR, got.room_heat.sum(axis=0) * HOUR), axis=1)
    assert found == approx(plain_loop(greensboro, 150e6, 3.0, 2e3, CASES), rel=1e-9)


# ---- what must hold whatever the numbers ----

def test_heat_balance_is_what_leaves(greensboro):
    """All heat through the room: the total is conductance times room above outdoors, hour by hour."""
    found = year_of(greensboro, (None, 10, 16), capacity=80e6, to_outdoors=35.0, other=1200.0)
    total = found["heating_block_energy_joined"] + found["heating_room_heat_joined"]
    joined = solve_year(greensboro, ways(capacity=80e6, to_room=125.0, other=1200.0))
    assert total[0] == approx(900 * (joined.room - joined.outdoor).sum() * HOUR - 1200 * 8760 * HOUR, rel=1e-9)
    assert imbalance(joined, ways(capacity=80e6, to_room=125.0, other=1200.0)) < 1e-12


def test_a_warmer_room_never_lowers_the_heat(sand_point):
    for direct in (0.0, 60.0):
        found = year_of(sand_point, (None,), to_outdoors=direct, capacity=50e6)
        total = found["trial_block_energy"] + found["trial_room_heat"]
        assert np.all(np.diff(total) >= -1e-3) and total[0] >= found["heating_block_energy"][0] - 1e-3
        assert np.all(np.diff(found["trial_block_energy"]) <= 1e-3)  # the blocks themselves do less


def test_set_points_tried_are_those_of_the_case(greensboro):
    found = year_of(greensboro, (None, 12), trial=1, to_outdoors=20.0)
    place = 12 - 4
    assert found["trial_block_energy"][place] == approx(found["heating_block_energy"][1])
    assert found["trial_room_heat"][place] == approx(found["heating_room_heat"][1])
    assert found["trial_heater_cycles"][place] == approx(found["heating_heater_cycles"][1])


def test_heat_past_the_room_leaves_it_colder(greensboro):
    found = year_of(greensboro, (None, 15), to_outdoors=40.0)
    assert np.all(found["heating_block_energy"] > found["heating_block_energy_joined"])
    # hand: held at 15 °C and 45 °C, what goes past the room is 3 x 40 x (45 - T_o) for 8760 h at a mean of 14.42 °C, 32.15 MWh
    past = 3 * 40 * (45 + C0 - greensboro.mean()) * 8760 * HOUR
    assert past / KWH == approx(32_150, rel=2e-3)
    without = year_of(greensboro, (15,), to_outdoors=0.0)
    assert found["heating_block_energy"][1] - without["heating_block_energy"][0] == approx(past, rel=1e-9)


def test_months_add_up_to_the_year(greensboro):
    found = year_of(greensboro, (None, 15), to_outdoors=10.0, capacity=60e6)
    assert found["month_block_energy"].sum(axis=1) == approx(found["heating_block_energy"])
    assert found["month_room_heat"].sum(axis=1) == approx(found["heating_room_heat"])
    assert list(MONTH_STARTS[:4]) == [0, 744, 1416, 2160]  # hand: 31, 28 and 31 days
    assert np.argmax(found["month_room_heat"][1]) in (0, 1, 11)  # winter


def test_mean_temperature_and_duty(greensboro):
    found = year_of(greensboro, (None,))
    # hand: unheated, steady, no storage: (900 T_o + 270 x 45)/1170 in every hour, so in the mean as well
    assert found["heating_room_temperature_mean"][0] == approx((900 * greensboro.mean() + 270 * (45 + C0)) / 1170, rel=1e-9)
    assert found["heating_heater_duty"][0] == approx(found["heating_block_energy"][0] / (3 * 12e3 * 8760 * HOUR))


# ---- blocks that cannot be held ----

def test_heater_too_small_by_linear_algebra(greensboro):
    # numpy.linalg: two balances at -20 °C, block 5 kW = 90 (T_b - T_r) + 40 (T_b - T_o), room 900 (T_r - T_o) = 3 x 90 (T_b - T_r)
    found = year_of(greensboro, (None,), to_outdoors=40.0, heater=5e3)
    outdoor = -20 + C0
    block, room = np.linalg.solve([[130, -90], [270, -1170]], [5e3 + 40 * outdoor, -900 * outdoor])
    assert (found["heating_design_block_temperature"][0], found["heating_design_room_temperature"][0]) == approx((block, room), abs=1e-6)
    assert found["heating_block_temperature_min"][0] < 45 + C0
    held = year_of(greensboro, (None,), to_outdoors=40.0, heater=50e3)
    assert held["heating_design_block_temperature"][0] == held["heating_block_temperature_min"][0] == approx(45 + C0)
    assert found["heating_block_energy"][0] < held["heating_block_energy"][0]


def test_room_heat_on_the_design_day(greensboro):
    # hand: 900 x 35 - 3 x 90 x 30 = 23 400 W at -20 °C for 15 °C
    found = year_of(greensboro, (15, None), frost=-20.0)
    assert found["heating_design_room_heat"] == approx([23_400, 0])
    assert found["heating_design_room_temperature"] - C0 == approx([15, (900 * -20 + 270 * 45) / 1170])  # hand: steady balance without room heat


def test_pump_warms_the_block_when_little_is_needed(greensboro):
    found = solve_year(greensboro, ways(pump=4e3, hold=40.0, to_outdoors=10.0))
    assert found.block_power.min() == approx(4e3) and found.block.max() > 40 + C0
    floats = found.block_power[:, 0] == 4e3
    # what the block gives off in such an hour is what the pump puts in
    given = 90 * (found.block - found.room) + 10 * (found.block - found.outdoor)
    assert given[floats] == approx(np.full((floats.sum(), 1), 4e3))
    assert imbalance(found, ways(pump=4e3, hold=40.0, to_outdoors=10.0)) < 1e-9


def test_no_heater_no_heat(greensboro):
    found = year_of(greensboro, (None,), heater=0.0)
    assert found["heating_block_energy"][0] == found["heating_heater_cycles"][0] == 0
    assert found["heating_room_temperature_mean"][0] == approx(greensboro.mean())


# ---- thermostat ----

def one_hour(room, **changes):
    way = ways(**{"hold": 43.0, "heater": 9e3, "felt": 4240e3, "band": 6.0} | changes)
    return float(cycles(Year(np.array([[room + C0]]), np.zeros((1, 1)), np.zeros((1, 1)), np.zeros((1, 1)), np.array([[0.0 + C0]])), way)[0, 0])


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


def test_cycles_by_walking_through_them():
    """Second by second: the block warms and cools between its two switching points."""
    block, on, count, felt = 313.15, True, 0, 300e3
    for _ in range(200_000):
        block += ((9e3 if on else 0.0) - 90 * (block - (5 + C0))) / felt
        if on and block >= 46 + C0:
            on = False
        elif not on and block <= 40 + C0:
            on, count = True, count + 1
    assert count / 200_000 * HOUR == approx(one_hour(5.0, felt=felt), rel=0.02)
