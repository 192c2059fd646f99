"""Synchronising and sharing against printed windows, complex phasors, linear algebra, scipy and hand calculations. Each figure names its source."""

import cmath
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from axes import over
from pytest import approx
from rendering import chapter_page
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from basis.chapters.loads import chapter as loads
from basis.chapters.synchronising import bus as b
from basis.chapters.synchronising import chapter as s
from basis.language.faults import OutOfTable
from basis.language.table import lookup, table
from basis.reading.project import read
from basis.site.figures import figures_of
from basis.solving.solve import solve

PROJECTS = Path(__file__).parents[3] / "projects"
SLUGS = ("larkmere-hospital", "high-tarn-waterworks", "cobble-key-exchange")
DEGREE = math.pi / 180
# Two sets of 1,000 kW, 4 % at 60 Hz, 61.8 and 61.2 Hz.
STIFFNESS, START = np.array([1e6 / 2.4, 1e6 / 2.4]), np.array([61.8, 61.2])


# ---- windows ----

@pytest.mark.parametrize("rating, slip, voltage, angle", [(180, 0.3, 0.10, 20), (500, 0.3, 0.10, 20), (501, 0.2, 0.05, 15), (1250, 0.2, 0.05, 15),
                                                          (1500, 0.2, 0.05, 15), (2050, 0.1, 0.03, 10), (10_000, 0.1, 0.03, 10)])
def test_windows_as_printed_in_ieee_1547(rating, slip, voltage, angle):
    # IEEE 1547-2018, 4.10, Table 5, as quoted: 0 to 500, above 500 to 1500, above 1500 kVA
    name = "ieee-1547-sync-window"
    assert s.sync_slip_max.run(name, rating * 1e3) == approx(slip)
    assert s.sync_voltage_max.run(name, rating * 1e3) == approx(voltage)
    assert s.sync_angle_max.run(name, rating * 1e3) == approx(angle * DEGREE)


def test_windows_narrow_with_rating_and_end():
    columns = table("ieee-1547-sync-window").columns
    assert all(list(columns[name]) == sorted(columns[name], reverse=True) for name in ("slip", "voltage", "angle"))
    with pytest.raises(OutOfTable):
        lookup("ieee-1547-sync-window", "slip", 12e6)
    # IEEE C50.12 and C50.13, as quoted: ±10°, 0 to 5 %, ±0.067 Hz
    assert [lookup("ieee-c50-sync-window", name, 2e6) for name in ("slip", "voltage")] == approx([0.067, 0.05])
    assert lookup("ieee-c50-sync-window", "angle", 2e6) == approx(10 * DEGREE)


def test_angle_at_closing():
    # hand: 8° and 0.1 Hz through 60 ms: 8 + 360·0.1·0.06 = 10.16°; led, with a spread of 15 ms: 8.54°
    assert s.closing_angle.run(8 * DEGREE, 0.1, "none", 0.015, 0.06) == approx(10.16 * DEGREE, rel=1e-6)
    assert s.closing_angle.run(8 * DEGREE, 0.1, "compensated", 0.015, 0.06) == approx(8.54 * DEGREE, rel=1e-6)
    # scipy: the angle between two rotating phasors when the contacts touch, integrated
    turned = solve_ivp(lambda time, angle: [2 * math.pi * 0.25], (0, 0.08), [0.05]).y[0, -1]
    assert s.closing_angle.run(0.05, 0.25, "none", 0.0, 0.08) == approx(turned)


# ---- what flows ----

def test_reactance_between_the_voltages():
    # hand: the third of three alike meets two in parallel: 0.12/2 = 0.06, together 0.18; a set alone meets a stiff supply
    assert s.closing_bus_reactance.run(3, 0.12) == approx(0.06) and s.closing_reactance.run(0.12, 0.06) == approx(0.18)
    assert s.closing_bus_reactance.run(2, 0.12) == approx(0.12) and s.closing_bus_reactance.run(1, 0.12) == 0


def test_closing_current_of_ten_degrees():
    # hand: 2·sin 5°/0.25 = 0.697 of rated current; opposition 2/0.25 = 8; power sin 10°/0.25 = 0.695
    assert s.closing_current_ratio.run(0.0, 10 * DEGREE, 0.25) == approx(0.697, abs=5e-4)
    assert s.out_of_step_current_ratio.run(0.25) == approx(8.0) == approx(s.closing_current_ratio.run(0.0, math.pi, 0.25))
    assert s.closing_power_ratio.run(0.0, 10 * DEGREE, 0.25) == approx(0.695, abs=5e-4)
    assert s.terminal_fault_current_ratio.run(0.12) == approx(8.333, abs=1e-3)  # hand: 1/0.12
    assert s.closing_current_ratio.run(0.0, 0.0, 0.25) == 0


@pytest.mark.parametrize("difference, angle, reactance", [(0.05, 10, 0.25), (0.03, 4, 0.18), (0.1, 20, 0.12), (0.0, 15, 0.3)])
def test_closing_current_and_power_against_phasors(difference, angle, reactance):
    # independent way: complex phasors 1 + difference and 1 across j·reactance
    incoming = cmath.rect(1 + difference, angle * DEGREE)
    current = (incoming - 1) / (1j * reactance)
    assert s.closing_current_ratio.run(difference, angle * DEGREE, reactance) == approx(abs(current), rel=1e-12)
    assert s.closing_power_ratio.run(difference, angle * DEGREE, reactance) == approx((1 * current.conjugate()).real, rel=1e-12)


# ---- sharing active power ----

def test_two_sets_on_droop():
    # hand: 1,000 kW over 4 % of 60 Hz is 416.7 kW/Hz; f = (416.7·123 − 1,200)/833.3 = 60.06 Hz; 725 and 475 kW
    stiffness = over(s.sharing_stiffness, sharing_rated_power=[1e6, 1e6], sharing_droop=[0.04, 0.04], power_frequency=60.0)
    assert stiffness == approx(STIFFNESS)
    total = s.sharing_total_stiffness.run(stiffness)
    mean = s.sharing_no_load_mean.run(stiffness, START, total)
    assert total == approx(833.33e3, rel=1e-5) and mean == approx(61.5)
    assert s.sharing_frequency.run(mean, 1200e3, total) == approx(60.06, abs=1e-9)
    circulating = s.sharing_circulating_power.run(stiffness, START, mean)
    assert circulating == approx([125e3, -125e3])
    assert s.droop_power.run(circulating, 1200e3, stiffness, total) == approx([725e3, 475e3])


@pytest.mark.parametrize("rated, droop, start, demand", [
    ([1640e3] * 3, [0.03] * 3, [51.5, 51.5, 51.4], 2868e3), ([180e3], [0.03], [61.8], 110e3),
    ([1000e3, 500e3, 250e3], [0.04, 0.05, 0.03], [62.0, 61.7, 61.9], 1100e3)])
def test_droop_against_linear_algebra_and_root_finding(rated, droop, start, demand):
    # independent ways: the droop lines and the balance as linear equations; and the frequency by brentq on the balance
    rated, droop, start = map(np.array, (rated, droop, start))
    count = len(rated)
    matrix, right = np.zeros((count + 1, count + 1)), np.append(start, demand)
    matrix[:count, :count], matrix[:count, count], matrix[count, :count] = np.diag(droop * 50 / rated), 1, 1
    solved = np.linalg.solve(matrix, right)
    stiffness = over(s.sharing_stiffness, sharing_rated_power=list(rated), sharing_droop=list(droop), power_frequency=50.0)
    total = s.sharing_total_stiffness.run(stiffness)
    mean = s.sharing_no_load_mean.run(stiffness, start, total)
    shares = s.droop_power.run(s.sharing_circulating_power.run(stiffness, start, mean), demand, stiffness, total)
    frequency = s.sharing_frequency.run(mean, demand, total)
    assert shares == approx(solved[:count]) and frequency == approx(solved[count]) and shares.sum() == approx(demand)
    assert frequency == approx(brentq(lambda f: np.sum(rated * (start - f) / (droop * 50)) - demand, 40, 70), abs=1e-9)
    assert np.sum(s.sharing_circulating_power.run(stiffness, start, mean)) == approx(0, abs=1e-3)


def test_equal_settings_share_by_rating():
    rated = np.array([1000e3, 500e3])
    stiffness = rated / (0.04 * 50)
    shares = s.droop_power.run(s.sharing_circulating_power.run(stiffness, np.array([51.0, 51.0]), 51.0), 900e3, stiffness, stiffness.sum())
    assert shares == approx([600e3, 300e3])  # hand: two to one


def test_sharing_lines_and_their_errors():
    # hand: 1,200 kW on two of 1,000 kW with errors of 3 % and nought: mean error 1.5 %, so 615 and 585 kW
    assert s.sharing_mean_ratio.run(1200e3, np.array([1e6, 1e6])) == approx(0.6) and s.sharing_mean_ratio.run(1200e3, np.array([])) == 0
    assert over(s.sharing_mean_ratio, demand_power=3.0, sharing_rated_power=[0.0, 5e-4]) == approx(6000)  # hand: anything above nought counts
    assert s.isochronous_power.run(np.array([1e6, 1e6]), 0.6, np.array([0.03, 0.0])) == approx([615e3, 585e3])
    unlike = s.isochronous_power.run(np.array([1e6, 0.5e6]), 0.8, np.array([0.02, -0.01]))
    assert unlike == approx([810e3, 390e3])  # hand: mean error (20 − 5)/1,500 = 1 %: 0.81·1,000 and 0.78·500
    assert unlike.sum() == approx(1200e3)


def test_way_of_sharing_is_a_choice():
    shares = {name: s.sharing_power.run(name, 725e3, 615e3) for name in ("droop", "isochronous")}
    assert shares == {"droop": 725e3, "isochronous": 615e3}
    assert s.bus_frequency.run("droop", 60.06, 60.0) == 60.06 and s.bus_frequency.run("isochronous", 60.06, 60.0) == 60.0
    assert s.sharing_rated_power.run(1000e3) == 1000e3


def test_quiet_hour_on_droop_and_on_sharing_lines():
    # hand: 200 kW, ±125 kW by settings: 225 and −25 kW, so the second is turned by the first
    rated = np.array([1e6, 1e6])
    low = s.sharing_low_power.run("droop", np.array([125e3, -125e3]), 200e3, STIFFNESS, STIFFNESS.sum(), None, rated, 1200e3)
    assert low == approx([225e3, -25e3]) and low.sum() == approx(200e3)
    # independent way: the frequency at 200 kW by brentq, then each line
    frequency = brentq(lambda f: np.sum(STIFFNESS * (START - f)) - 200e3, 55, 65)
    assert low == approx(STIFFNESS * (START - frequency))
    # sharing lines, hand: 615 and 585 kW at 1,200 kW are 115 and 85 kW at 200 kW
    lines = s.sharing_low_power.run("isochronous", None, 200e3, STIFFNESS, STIFFNESS.sum(), np.array([615e3, 585e3]), rated, 1200e3)
    assert lines == approx([115e3, 85e3])
    assert s.sharing_low_ratio.run(-25e3, 1e6) == approx(-0.025) and s.sharing_low_ratio_min.run(0.06) == approx(-0.06)


def test_loading_and_deviation():
    assert s.sharing_loading.run(725e3, 945e3) == approx(0.7672, abs=1e-4)  # hand
    # hand: 0.725 and 0.475 against 0.6
    assert [s.sharing_deviation.run(power, 1e6, 0.6) for power in (725e3, 475e3)] == approx([0.125, 0.125])
    # ISO 8528-5, Table 4, from memory: 5 % from 80 to 100 % of rating, 10 % from 20 to 80 %
    assert [s.sharing_deviation_max.run(ratio) for ratio in (0.2, 0.5, 0.79, 0.8, 1.0)] == approx([0.10, 0.10, 0.10, 0.05, 0.05])
    # ISO 8528-5, Table 4, droop of the classes as quoted
    assert [s.frequency_droop_max.run(name) for name in ("G1", "G2", "G3")] == approx([0.08, 0.05, 0.03])


# ---- sharing reactive power ----

def test_reactive_sharing_on_droop():
    # hand: two of 750 kvar, 3 %, set to 100 and 101 %, 900 kvar: 25 Mvar each, mean 100.5 %, 900/50,000 = 1.8 % down: 98.7 %; 325 and 575 kvar
    rated = s.sharing_rated_reactive_power.run(1e6, 0.8)
    assert rated == approx(750e3)
    stiffness = np.array([s.sharing_reactive_stiffness.run(rated, 0.03)] * 2)
    total = s.sharing_total_reactive_stiffness.run(stiffness)
    setting = np.array([1.0, 1.01])
    mean = s.sharing_voltage_mean.run(stiffness, setting, total)
    assert total == approx(50e6) and mean == approx(1.005) and s.sharing_bus_voltage.run(mean, 900e3, total) == approx(0.987)
    shares = s.sharing_reactive_power.run("voltage_droop", stiffness, setting, mean, 900e3, total, np.array([rated, rated]))
    assert shares == approx([325e3, 575e3]) and shares.sum() == approx(900e3)
    # independent way: voltage by brentq on the balance of both lines
    voltage = brentq(lambda u: np.sum(750e3 * (setting - u) / 0.03) - 900e3, 0.9, 1.1)
    assert shares == approx(750e3 * (setting - voltage) / 0.03)
    # lines between regulators, hand: two to one by rating
    assert s.sharing_reactive_power.run("cross_current", None, None, None, 900e3, None, np.array([750e3, 375e3])) == approx([600e3, 300e3])
    ratio = s.sharing_mean_reactive_ratio.run(900e3, np.array([750e3, 750e3]))
    assert ratio == approx(0.6) and s.sharing_mean_reactive_ratio.run(900e3, np.array([])) == 0
    assert over(s.sharing_mean_reactive_ratio, demand_reactive_power=3.0, sharing_rated_reactive_power=[0.0, 5e-4]) == approx(6000)  # hand
    assert [s.sharing_reactive_deviation.run(share, 750e3, ratio) for share in shares] == approx([1 / 6, 1 / 6])  # hand: 575/750 − 0.6 = 0.1667
    # hand: √(725² + 575²) = 925.3 kVA of 1,250
    assert s.sharing_alternator_loading.run(725e3, 575e3, 1250e3) == approx(0.7403, abs=1e-4)


# ---- the dead bus ----

def closings(ready, wait, *, bus=0.5, synchronisers="one_each", required=2, steps=(1.0,)):
    results, residual, _ = b.set_bus_time.run(np.array(ready), np.array(wait), bus, synchronisers, float(required), np.array(steps))
    return (*results, residual)


def test_first_set_closes_alone_and_others_follow():
    # hand: ready at 8.6, 8.3, 14 s; the second closes at 8.8; the first then waits 6 s: 14.8; the third 14 + 4 = 18
    each, first, required, steps, residual = closings([8.6, 8.3, 14.0], [6.0, 6.0, 4.0], required=3, steps=[1.0, 2.0, 3.0])
    assert each == approx([14.8, 8.8, 18.0]) and first == approx(8.8) and required == approx(18.0)
    assert steps == approx([8.8, 14.8, 18.0]) and residual == 0


def test_sets_ready_together_do_not_close_together():
    # property: one closes on the dead bus, the other synchronises, whatever their order in the list
    each, *_ = closings([8.0, 8.0], [5.0, 5.0])
    assert each == approx([8.5, 13.5])


def test_one_synchroniser_serves_in_turn():
    # hand: ready at 8, 8.2, 8.4 s, 6 s each: 8.5, 14.5, 20.5; with one each the third is there at 14.5
    shared, _, required, *_ = closings([8.0, 8.2, 8.4], [6.0] * 3, synchronisers="one_shared", required=3)
    assert shared == approx([8.5, 14.5, 20.5]) and required == approx(20.5)
    each, *_ = closings([8.0, 8.2, 8.4], [6.0] * 3)
    assert each == approx([8.5, 14.5, 14.5])
    # with the second closing there are three on the bus already: none is missing (hand)
    assert closings([8.0, 8.2, 8.4], [6.0] * 3)[-1] == 0


def test_dead_bus_against_a_stepped_simulation():
    # independent way: walk through time in milliseconds and close breakers by the rule
    draw = np.random.default_rng(3)
    for _ in range(20):
        ready, wait = np.round(draw.uniform(5, 15, 4), 3), np.round(draw.uniform(1, 8, 4), 3)
        closed, alive_since, since = {}, None, {}
        for millisecond in range(40_000):
            time = millisecond / 1000
            if alive_since is None:
                candidates = [place for place in range(4) if ready[place] + 0.5 <= time + 1e-9]
                if candidates:
                    closed[candidates[0]] = alive_since = time
                continue
            for place in range(4):
                if place not in closed and ready[place] <= time + 1e-9:
                    since.setdefault(place, max(ready[place], alive_since))
                    if time >= since[place] + wait[place] - 1e-9:
                        closed[place] = time
        each, *_ = closings(ready, wait)
        assert each == approx([closed[place] for place in range(4)], abs=2.1e-3)


def test_too_few_sets_give_no_time():
    _, first, required, steps, residual = closings([8.0], [0.0], required=2, steps=[1.0, 2.0])
    assert first == approx(8.5) and np.isnan(required) and steps[0] == approx(8.5) and np.isnan(steps[1]) and residual == 0
    # hand: what is not known of one set may be the first closing, so no time is told; nor for a count that is not known
    assert all(np.isnan(time) for time in (*closings([8.0, math.nan], [5.0, 5.0])[1:3], closings([8.0, 9.0], [5.0, 5.0], required=math.nan)[2]))


def test_ready_and_synchronising_time():
    assert b.set_ready_time.run(1.7, 2.3, 4.3) == approx(8.3)  # hand
    assert b.order_sync_time.run(2.0, 0.1) == approx(12.0)  # hand: one turn in 10 s
    assert b.order_sync_time.run(2.0, 0.2) < b.order_sync_time.run(2.0, 0.1)


def test_the_stages_of_the_start_stand_for_every_set_that_says_nothing_else():
    """A time that the stages count is taken from there; without it the usual one, or none."""
    assert b.order_signal_delay.run(1.7, 1.0) == b.dead_bus_time.run(1.7, 1.0) == 1.7
    assert b.order_signal_delay.run(0.0, 1.0) == b.dead_bus_time.run(0.0, 1.0) == 1.0
    assert b.order_run_up_time.run(3.2, 1.1) == approx(4.3) and b.order_crank_time.run(2.3) == 2.3  # hand
    assert math.isnan(b.order_run_up_time.run(0.0, 1.1)) and math.isnan(b.order_crank_time.run(0.0))


def test_the_first_set_is_on_the_bus_within_the_time_to_load(demo):
    """Type 10 of the standby code at High Tarn is given once, with the start; Larkmere holds its first set to an earlier time of its own."""
    assert b.first_bus_time_max.run(10.0) == 10.0
    assert [demo[slug]["first_bus_time_max"].number for slug in ("high-tarn-waterworks", "cobble-key-exchange", "larkmere-hospital")] == approx([10, 60, 10])


def test_times_of_the_start_are_asked_for_once(demo):
    """Larkmere says for set 1 nothing of its own: signal 1.0 + 0.7, crank 2.3, run-up 3.2 + 1.1 s of the stages; sets 2 and 3 were timed at the works."""
    book = demo["larkmere-hospital"]
    assert book["order_signal_delay"].number.tolist() == approx([1.7, 1.7, 1.7])  # hand
    assert book["order_crank_time"].number.tolist() == approx([2.3, 2.5, 2.8]) and book["order_run_up_time"].number.tolist() == approx([4.3, 4.4, 4.6])
    assert book["dead_bus_time"].number == approx(0.7)


# ---- the public supply ----

def test_transfer_times():
    assert b.return_break_time.run("no_parallel", 1.5) == 1.5 and b.return_break_time.run("ramped", 1.5) == 0
    found = [b.utility_parallel_time.run(name, 0.08, 600e3, 60e3, 14_400.0) for name in ("no_parallel", "momentary", "ramped", "sustained")]
    assert found == approx([0, 0.08, 10.0, 14_400])  # hand: 600 kW at 60 kW/s
    assert b.islanding_time.run("ramped", 0.3, 0.07) == approx(0.37) and b.islanding_time.run("no_parallel", 0.3, 0.07) == 0


def test_mismatch_that_hides_an_island():
    # hand: 2·0.9·3·2,050·0.5/50 = 110.7 kW
    blind = b.islanding_blind_power.run(0.9, 3, 2050e3, 0.5, 50.0)
    assert blind == approx(110.7e3)
    # scipy: swing of three sets that lack that power, slope of frequency at the start
    slope = solve_ivp(lambda time, speed: [-blind / (2 * 0.9 * 3 * 2050e3 * speed[0])], (0, 1e-3), [1.0], rtol=1e-10).y[0, -1] - 1
    assert 50 * slope / 1e-3 == approx(-0.5, rel=1e-5)


def test_contracted_power():
    # hand: 2,868 kW on two of 1,620 kW counted: all of it; on one: 1,620 kW
    assert b.interruptible_capability.run(2868e3, 3, 1, 1620e3) == approx(2868e3)
    assert b.interruptible_capability.run(2868e3, 2, 1, 1620e3) == approx(1620e3)


# ---- interlocks ----

def test_interlocks_are_counted_by_role():
    # hand: lines for 2 + 1 set breakers, 1 tie, 2 + 1 supply breakers, two of them by program, 1 tie that names no means
    facts = {"interlock_role": ["generator", "generator", "tie", "utility", "utility", "tie", "load_bank"],
             "interlock_breakers": [2.0, 1.0, 1.0, 2.0, 1.0, 1.0, 4.0]}
    assert over(b.generator_interlocks, **facts) == 3 and over(b.tie_interlocks, **facts) == 2 and over(b.utility_interlocks, **facts) == 3
    means = ["program", "program", "wired", "program", "wired", "", "program"]
    assert over(b.program_interlocks, interlock_role=facts["interlock_role"], interlock_means=means, interlock_breakers=facts["interlock_breakers"]) == 3
    means = ["program", "program", "wired", "mechanical", "wired", "mechanical", "program"]
    assert over(b.program_interlocks, interlock_role=facts["interlock_role"], interlock_means=means, interlock_breakers=facts["interlock_breakers"]) == 0


# ---- in the books ----

@pytest.fixture(scope="module")
def demo():
    """The demo books with this chapter and those that it stands on."""
    read_all = [replace(read(PROJECTS / slug), chapters=("plant", "loads", "voltage", "dips", "synchronising")) for slug in SLUGS]
    return {project.slug: solve(project) for project in read_all}


def test_demo_books_keep_the_balance(demo):
    for book in demo.values():
        assert np.sum(book["sharing_power"].number) == approx(book["demand_power"].number)
        assert np.sum(book["sharing_reactive_power"].number) == approx(book["demand_reactive_power"].number)
        assert np.sum(book["sharing_low_power"].number) == approx(book["minimum_demand_power"].number)
        weak = [verdict for verdict in book.checks if verdict.word in ("fails", "tight") and "synchronising" in verdict.check.module]
        assert all(verdict.remark for verdict in weak), [verdict.check.id for verdict in weak]


def test_one_set_has_nothing_to_synchronise_with(demo):
    book = demo["cobble-key-exchange"]
    meeting = ("sync_slip", "sync_voltage", "sync_angle", "closing_current", "reverse_relay")
    sharing = ("share_even", "share_reactive", "share_overload", "share_alternator", "share_reverse")
    assert {book.check(name).word for name in (*meeting, *sharing)} == {"nothing to check"}
    assert book["other_sets"].number == book["sync_partners"].number == 0
    assert book["sharing_power"].number == approx([book["demand_power"].number]) and book.check("set_interlocks").word == "holds"


def test_a_set_that_is_not_in_the_list_is_missed(demo):
    """Three sets, the governors of one or two listed: one would carry the whole demand, evenly with itself."""
    project = read(PROJECTS / "larkmere-hospital")

    def listing(*sets):
        kept = {key: given for key, given in project.givens.items() if not key[0].startswith("sharing_") or key[1] in ("", *sets)}
        return solve(replace(project, chapters=("plant", "loads", "synchronising"), remarks={}, items=project.items | {"sharing_set": sets}, givens=kept))

    one, two = listing("set_1"), listing("set_1", "set_2")
    assert one["sharing_sets_listed"].number == 1 and one.check("governors_listed").word == two.check("governors_listed").word == "fails"
    alone, both = (chapter_page(book, "synchronising").text for book in (one, two))
    assert "so no sharing is worked out" in alone and "carried the whole demand" not in alone and "Mean loading" not in alone.partition("Outside the range")[0]
    assert "carried the whole demand" in both and "so no sharing is worked out" not in both
    assert [demo[slug].check("governors_listed").word for slug in ("larkmere-hospital", "cobble-key-exchange")] == ["holds", "nothing to check"]


def test_a_tie_without_interlock_fails(demo):
    project = read(PROJECTS / "larkmere-hospital")
    ties = project.givens[("tie_breakers", "")]
    more = replace(project, chapters=("plant", "loads", "synchronising"), givens=project.givens | {("tie_breakers", ""): replace(ties, data=2.0)})
    assert solve(more).check("tie_interlock").word == "fails" and demo["larkmere-hospital"].check("tie_interlock").word == "holds"


def test_a_project_without_any_list_passes_nothing():
    project = replace(read(PROJECTS / "cobble-key-exchange"), chapters=("plant", "loads", "synchronising"), remarks={})
    own = ("sharing_set", "start_order", "interlock")
    items = {axis: ids for axis, ids in project.items.items() if axis not in own}
    givens = {key: given for key, given in project.givens.items() if not key[0].startswith(("sharing_", "order_", "interlock_"))}
    for mode in ("droop", "isochronous"):
        extra = {("sharing_mode", ""): replace(project.givens[("altitude", "")], term="sharing_mode", data=mode)}
        book = solve(replace(project, items=items, givens=givens | extra))
        assert book.check("share_overload").word == book.check("share_even").word == "nothing to check"
        assert book.check("first_on_bus").word == book.check("utility_interlock").word == "undecided"
        assert book.check("tie_interlock").nothing_text == "ties: 0 by default"


def test_what_a_plant_does_not_have_is_not_judged(demo):
    """Droop of sets on sharing lines, a break where the plant is ramped, an island of a plant that is never beside the supply, a contract of no power."""
    larkmere, tarn = demo["larkmere-hospital"], demo["high-tarn-waterworks"]
    assert larkmere.check("droop_of_class").nothing_text == "sharing of power: isochronous"
    assert larkmere.check("return_break").word == larkmere.check("interruptible").word == "nothing to check"
    assert {tarn.check(name).word for name in ("parallel_time", "islanding", "interruptible", "tie_interlock")} == {"nothing to check"}
    assert {tarn.check(name).word for name in ("droop_of_class", "return_break", "sync_angle", "share_even")} == {"holds"}


def test_the_public_supply_is_one_that_a_set_may_meet():
    assert [s.sync_partners.run(loads.other_sets.run(sets), way) for sets, way in ((1, "no_parallel"), (1, "ramped"), (3, "momentary"))] == [0, 1, 3]  # counted


def test_figure_of_droop_lines(demo):
    for book in demo.values():
        drawn = figures_of("synchronising")["droop_lines"].draw(book)
        points = [line for line in drawn.axes[0].get_lines() if len(line.get_xdata()) == 1]
        assert [line.get_xdata()[0] * 1e3 for line in points] == approx(list(book["droop_power"].number))
        assert {float(line.get_ydata()[0]) for line in points} == {book["sharing_frequency"].number}
