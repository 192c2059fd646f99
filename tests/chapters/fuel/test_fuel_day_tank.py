"""Day tanks, transfer and warm fuel against an integrator of scipy, a simulated pump, manuals and hand calculations."""

import numpy as np
import pytest
from pytest import approx
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from basis.chapters.fuel import day_tank as t
from basis.chapters.fuel.terms import RUN_MINUTES
from basis.language.terms import terms

HOUR, KW, L, LH, LM, ZERO = 3600.0, 1e3, 1e-3, 1e-3 / 3600.0, 1e-3 / 60.0, 273.15
MINUTES = np.array(RUN_MINUTES)


# ---- what a day tank feeds ----

def test_draw_by_route_of_the_return():
    # hand: burn 506 L/h, drawn 25 L/min = 1500 L/h, so 994 L/h come back; led to the bulk tank all 1500 L/h leave for good
    back = t.engine_return_flow.run(25 * LM, 506 * LH)
    assert back / LH == approx(994)
    assert t.day_tank_draw.run(1.0, 506 * LH, "day_tank", 25 * LM) / LH == approx(506)
    assert t.day_tank_draw.run(1.0, 506 * LH, "bulk_tank", 25 * LM) / LH == approx(1500)
    assert t.engine_supply_flow.run(3.0, 506 * LH) / LH == approx(1518)
    # hand: three sets, two on each tank would be 1.5 tanks' worth of 1012 L/h: 1518 L/h
    assert t.transfer_draw.run(3.0, 2.0, t.day_tank_draw.run(2.0, 506 * LH, "day_tank", 25 * LM)) / LH == approx(1518)
    assert t.day_tanks.run(4.0, 2.0) == 2


def test_time_on_the_day_tank():
    # hand: 1500 L x (0.75 - 0.05) = 1050 L; at 410 L/h 2.56 h, at three times the draw a third of that
    reserve = t.day_tank_reserve.run(1.5, 0.75, 0.05)
    assert reserve / L == approx(1050)
    assert t.day_tank_time.run(reserve, 410 * LH) / HOUR == approx(2.561, abs=5e-4)
    assert t.day_tank_time.run(reserve, 3 * 410 * LH) == approx(t.day_tank_time.run(reserve, 410 * LH) / 3)
    # hand: from 70 % to 5 % 975 L: 2.378 h
    assert t.day_tank_alarm_time.run(1.5, 0.70, 0.05, 410 * LH) / HOUR == approx(2.378, abs=5e-4)


def test_levels_of_the_manual():
    # UFGS 16263A 2.3.4.3 and 2.3.5: low level at 70 %, overfill at 95 % of rated capacity; MIL-HDBK-1003/11 5.4.6.1: two hours
    assert (terms()["day_tank_low_alarm"].default_data(), terms()["day_tank_high_alarm"].default_data()) == approx((0.70, 0.95))
    assert terms()["day_tank_time_min"].default_data() == 2 * HOUR
    low, start, stop, high = (terms()[f"day_tank_{name}"].default_data() for name in ("low_alarm", "start_level", "stop_level", "high_alarm"))
    assert low < start < stop < high


# ---- transfer ----

def test_transfer_flows():
    # hand: draw 820 L/h, margin 1.5: 1230 L/h; three pumps of 800 L/h, one standing by: 1600 L/h, one out of three the same; one of two 800 L/h
    assert t.fuel_transfer_flow_min.run(1.5, 820 * LH) / LH == approx(1230)
    assert t.fuel_transfer_flow.run(3.0, 1.0, 800 * LH) / LH == approx(1600)
    assert t.fuel_transfer_flow_one_out.run(3.0, 800 * LH) / LH == approx(1600)
    assert t.fuel_transfer_flow_one_out.run(2.0, 800 * LH) / LH == approx(800)  # less than 820: levels fall
    assert t.fuel_transfer_surplus.run(1600 * LH, 820 * LH) / LH == approx(780)


def test_refill_time():
    # hand: two tanks, band 15 % of 1500 L each = 450 L, surplus 680 L/h: 39.7 min
    assert t.day_tank_refill_time.run(2.0, 1.0, 1.5, 0.90, 0.75, 680 * LH) / 60 == approx(39.7, abs=0.05)
    assert t.day_tank_refill_time.run(2.0, 2.0, 1.5, 0.90, 0.75, 680 * LH) / 60 == approx(19.85, abs=0.05)
    assert t.day_tank_refill_time.run(2.0, 1.0, 1.5, 0.90, 0.75, -50 * LH) < 0


def starts_in_ten_hours(flow, draw, band):
    """A pump switched by two levels, second by second."""
    level, on, starts = band, False, 0
    for _ in range(36_000):
        level -= draw / 3600
        if level <= 0 and not on:
            on, starts = True, starts + 1
        if on:
            level += flow / 3600
            on = level < band
    return starts / 10


def test_starts_of_the_transfer():
    # hand: flow 1500 L/h, band 450 L, draw half the flow: 750 x 750 / (1500 x 450) = 0.833 starts an hour
    assert t.fuel_transfer_starts.run(820 * LH, 1500 * LH, 2.0, 1.0, 1.5, 0.90, 0.75) * HOUR == approx(0.8333, abs=1e-4)
    # hand: a draw that never reaches half the flow: 100 x 1400 / (1500 x 45) = 2.074; two sets on one tank have half the band of two tanks
    small = t.fuel_transfer_starts.run(100 * LH, 1500 * LH, 2.0, 1.0, 0.15, 0.90, 0.75) * HOUR
    assert small == approx(2.074, abs=1e-3) and small == approx(starts_in_ten_hours(1500, 100, 45), abs=0.15)
    assert t.fuel_transfer_starts.run(100 * LH, 1500 * LH, 2.0, 2.0, 0.15, 0.90, 0.75) * HOUR == approx(2 * small)
    assert t.fuel_transfer_starts.run(100 * LH, 0.0, 1.0, 1.0, 0.3, 0.90, 0.75) == 0  # hand: no pump on duty, none starts
    assert t.fuel_transfer_pumps_least.run(2.0) == 3
    most = max(starts_in_ten_hours(1500, draw, 45) for draw in (100, 300, 600, 750, 900, 1200))
    assert t.fuel_transfer_starts.run(1200 * LH, 1500 * LH, 1.0, 1.0, 0.3, 0.90, 0.75) * HOUR == approx(most, rel=0.05)


def test_overflow():
    # hand (Torricelli with losses): 41.8 mm is 1.3723e-3 m2; sqrt(2 x 9.80665 x 0.15 / 3) = 0.9903 m/s: 81.5 L/min
    assert t.day_tank_overflow_capacity.run(0.0418, 9.80665, 0.15, 3.0) / LM == approx(81.5, abs=0.05)
    assert t.day_tank_overflow_capacity.run(0.0418, 9.80665, 0.60, 3.0) == approx(2 * t.day_tank_overflow_capacity.run(0.0418, 9.80665, 0.15, 3.0))
    # hand: two pumps of 25 L/min and two engines that return 15 L/min each: 80 L/min; returns led elsewhere 50 L/min
    assert t.day_tank_overflow_need.run(2.0, 25 * LM, 2.0, "day_tank", 15 * LM) / LM == approx(80)
    assert t.day_tank_overflow_need.run(2.0, 25 * LM, 2.0, "bulk_tank", 15 * LM) / LM == approx(50)


# ---- warm fuel: supply 25 L/min, burn 506 L/h, rise 15 K, make-up 25 degC, walls 40 W/K, room 40 degC ----

BURN, DENSITY, CAPACITY, WALL, ROOM, MAKEUP = 506 * LH, 840.0, 2050.0, 40.0, 40 + ZERO, 25 + ZERO


def settled(wall=WALL, back=None, cooler=0.0):
    cold = t.day_tank_makeup_capacity.run(BURN, DENSITY, CAPACITY)
    back = t.fuel_return_heat.run(1.0, "day_tank", 25 * LM - BURN, DENSITY, CAPACITY, 15.0) if back is None else back
    return cold, back, t.day_tank_temperature_end.run(cold, MAKEUP, back, cooler, wall, ROOM)


def test_day_tank_settles():
    # hand: 994 L/h x 0.84 kg/L x 2050 x 15 / 3600 = 7.13 kW; 0.11807 kg/s x 2050 = 242.0 W/K;
    # (242.0 x 25 + 7132 + 40 x 40) / 282.0 = 52.4 degC, without walls 54.5 degC
    cold, back, end = settled()
    assert back / KW == approx(7.13, abs=5e-3) and cold == approx(242.0, abs=0.1)
    assert end - ZERO == approx(52.4, abs=0.05)
    assert settled(wall=0.0)[2] - ZERO == approx(54.5, abs=0.05)
    assert settled(cooler=back)[2] < ROOM  # all heat taken out: between make-up and room
    assert t.fuel_return_heat.run(1.0, "bulk_tank", 25 * LM - BURN, DENSITY, CAPACITY, 15.0) == 0
    assert t.fuel_return_heat.run(2.0, "day_tank", 25 * LM - BURN, DENSITY, CAPACITY, 15.0) == approx(2 * back)
    assert t.day_tank_ambient.run(314.0) == 314.0 and t.day_tank_start_temperature.run(307.0) == 307.0
    # hand: 40 W/K x 12.4 K = 0.497 kW to the room; a cold tank takes heat from it
    assert t.day_tank_room_heat.run("day_tank", WALL, end, ROOM) / KW == approx(0.497, abs=2e-3)
    assert t.day_tank_room_heat.run("day_tank", WALL, 290.0, 300.0) < 0 == t.day_tank_room_heat.run("own_tank", WALL, end, ROOM)


def warming(wall=WALL, back=None, volume=1.5, cooler=0.0):
    cold, back, end = settled(wall, back, cooler)
    return t.day_tank_warming.run(volume, 0.75, 0.05, BURN, cold, MAKEUP, back, cooler, wall, ROOM, MAKEUP, end), cold, back, end


@pytest.mark.parametrize("wall, cooler", [(0.0, 0.0), (40.0, 0.0), (120.0, 2000.0)])
def test_warming_against_an_integrator(wall, cooler):
    ((running, failed), residual, _), cold, back, end = warming(wall, cooler=cooler)
    mass = 1.5 * 0.75 * DENSITY

    def both(time, state):
        left = mass - BURN * DENSITY * time
        heat = back - cooler
        return [(cold * (MAKEUP - state[0]) + heat + wall * (ROOM - state[0])) / (mass * CAPACITY),
                (heat + wall * (ROOM - state[1])) / (left * CAPACITY) if left > 1 else 0.0]

    found = solve_ivp(both, (0, 24 * HOUR), [MAKEUP, end], t_eval=MINUTES * 60.0, rtol=1e-10, atol=1e-9, max_step=60)  # scipy
    assert running == approx(found.y[0], abs=2e-3)
    there = np.isfinite(failed)
    empty = 1.5 * 0.70 / BURN
    assert there.tolist() == (MINUTES * 60.0 < empty).tolist()  # the curve ends when the tank is down to its bottom
    assert failed[there] == approx(found.y[1][there], abs=5e-3)
    assert residual < 1e-9


def test_warming_properties():
    ((running, failed), _, _), _, _, end = warming()
    assert running[0] == approx(MAKEUP) and running[-1] == approx(end, abs=0.05)
    assert np.all(np.diff(running) > 0) and failed[0] == approx(end)
    larger = warming(volume=3.0)[0][0][0]
    assert np.all(larger[1:-1] < running[1:-1])  # more fuel warms more slowly


def test_what_is_left_over_tells_a_sum_that_is_too_coarse():
    # hand: a tank of a litre burns through its 0.75 L in 5 s; forty places over a first step of minutes do not add it up to rounding
    assert 0.75e-3 / BURN == approx(5.3, abs=0.05)
    assert warming(volume=1e-3)[0][1] > 1e-6 > warming()[0][1]


def test_a_failed_transfer_ends_at_the_bottom():
    # hand: a start level of 75 % over a bottom of 5 % holds 70 % of the tank; one that burns 71 % in eight hours is down before them
    short = 480 * 60.0 * BURN / 0.71
    assert np.isnan(warming(volume=short)[0][0][1][list(MINUTES).index(480)]) and np.isfinite(warming(volume=1.05 * short)[0][0][1][list(MINUTES).index(480)])


def test_time_to_hot_fuel():
    cold, back, end = settled(wall=0.0)
    rise = t.fuel_rise_without_makeup.run(back, 0.0, cold)
    assert rise == approx(29.47, abs=0.01)  # hand: 7132 W / 242.0 W/K
    empty = 1.5 * 0.70 / BURN
    found = t.day_tank_hot_time.run(empty, 1.5, 0.75, BURN, 65 + ZERO, end, rise)
    # scipy: when the temperature of the shrinking tank, T = T_0 + rise x ln(M_0/M), meets the limit
    crossing = brentq(lambda time: end + rise * np.log(1 / (1 - time * BURN / (1.5 * 0.75))) - (65 + ZERO), 0, 0.99 * 1.5 * 0.75 / BURN)
    assert found == approx(crossing, rel=1e-9)
    # hand: (1 - exp(-10.53 / 29.47)) x 1125 L / 506 L/h = 0.668 h, while by volume there are 2.08 h
    assert found / HOUR == approx(0.668, abs=2e-3) and empty / HOUR == approx(2.075, abs=2e-3)
    assert t.day_tank_hot_time.run(empty, 1.5, 0.75, BURN, 200 + ZERO, end, rise) == empty  # gone before it is hot
    assert t.day_tank_hot_time.run(empty, 1.5, 0.75, BURN, end - 1, end, rise) == 0  # hot already
    assert t.fuel_rise_without_makeup.run(0.0, 0.0, cold) == 0.1 and t.fuel_rise_without_makeup.run(back, back / 2, cold) == approx(rise / 2)


def test_power_on_hot_fuel():
    # hand: common practice 1 % for each 5 to 6 K over 40 degC: 11 K at 0.18 %/K lose 1.98 %, and 1620 kW are 1588 kW
    loss = t.hot_fuel_power_loss.run(51 + ZERO, 40 + ZERO, 0.0018)
    assert loss == approx(0.0198) and 11 / 6 / 100 < loss < 11 / 5 / 100
    assert t.hot_fuel_set_power.run(1620 * KW, loss) / KW == approx(1587.9, abs=0.05)
    assert t.hot_fuel_power_loss.run(30 + ZERO, 40 + ZERO, 0.0018) == 0
    assert t.firm_set_power.run(2868 * KW, 2.0) / KW == approx(1434)
