"""Exercise and tests against worked examples of test rules, load banks and hand calculations."""

import re

import numpy as np
import pytest
from axes import over
from conftest import ROOT, SLUGS
from demos import demo_copy
from pytest import approx
from rendering import chapter_page

from basis.chapters.testing import bank, crank, runs, taken
from basis.chapters.testing import chapter as c
from basis.guessing.facts import read_facts
from basis.guessing.first import first_guess
from basis.language.faults import Faults
from basis.reading.project import read
from basis.site import addresses, parts
from basis.site.figures import figures_of
from basis.solving.solve import solve
from basis.terminal.starter import starter_files

HOUR, DAY, KW, KWH, L = 3600.0, 86_400.0, 1e3, 3.6e6, 1e-3


def one(*numbers):
    return np.array(numbers, dtype=float)


def words(book):
    return {verdict.check.id: verdict.word for verdict in book.checks_of("testing")}


def test_the_lowest_load_decides():
    # O1: 1250 kW, lowest 340 kW, mean 410 kW: the floor of 30 % is 375 kW, missed although the mean passes; 35 kW are missing
    least = c.exercise_load_min.run(0.30, 1250 * KW)
    assert least == approx(375 * KW) and 340 * KW < least < 410 * KW
    assert over(c.test_supplement, test_kind=["exercise"] * 2, exercise_load_min=least, test_load_lowest=[340 * KW, 410 * KW]) == approx(one(35 * KW, 0))
    light = {"test_kind": ["exercise", "exercise"], "load_floor_by": "share_of_rating", "test_exhaust_temperature": [0.0, 0.0],
             "test_exhaust_temperature_min": 0.0, "exercise_coolant_temperature": [0.0, 0.0], "exercise_coolant_min": 0.0, "exercise_load_min": least}
    assert over(c.light_exercises, **light, test_load_lowest=[340 * KW, 410 * KW]) == approx(1)
    # By exhaust temperature, hand: 300 degC misses 320 degC, and the load is not asked
    hot = {**light, "load_floor_by": "exhaust_temperature", "test_exhaust_temperature": [573.15, 613.15], "test_exhaust_temperature_min": 593.15}
    assert over(c.light_exercises, **hot, test_load_lowest=[0.0, 0.0]) == approx(1)


@pytest.mark.parametrize("judged", ("share_of_rating", "exhaust_temperature", "coolant_temperature"))
def test_light_exercises_are_counted_and_the_floor_itself_is_no_miss(judged):
    # counted: of four exercises two miss the floor, one stands on it; what is no exercise is not asked
    reached = [100.0, 200.0, 300.0, 400.0, 0.0]
    known = {"test_exhaust_temperature": [0.0] * 5, "exercise_coolant_temperature": [0.0] * 5, "test_load_lowest": [0.0] * 5}
    known[{"share_of_rating": "test_load_lowest", "exhaust_temperature": "test_exhaust_temperature",
           "coolant_temperature": "exercise_coolant_temperature"}[judged]] = reached
    assert over(c.light_exercises, test_kind=["exercise"] * 4 + ["transfer"], load_floor_by=judged, test_exhaust_temperature_min=300.0,
                exercise_coolant_min=300.0, exercise_load_min=300.0, **known) == 2


def test_runs_of_several_tests_add_up():
    # hand, 1000 kW: steps of 75 and 80 % for an hour each serve the last part for two hours; two long runs a year; well loaded by both ways three times
    steps = {"bank_step_lowest": [400 * KW, 750 * KW, 800 * KW], "bank_step_time": [1800.0, 3600.0, 3600.0], "set_rated_power": 1000 * KW}
    run = {"test_kind": ["load_bank", "exercise"], "test_load_lowest": [400 * KW, 300 * KW], "test_duration": [9000.0, 1800.0],
           "test_times_yearly": [1.0, 12.0]}
    assert over(runs.yearly_top_time, **steps, **run, yearly_top_ratio_min=0.75) == 7200
    assert over(runs.yearly_top_ratio, test_kind=["load_bank", "live_load"], bank_step_ratio=[0.5, 0.75], test_load_ratio=[0.6, 0.9],
                test_times_yearly=[1.0, 1.0]) == approx(0.9)
    assert over(runs.long_runs_yearly, test_times_yearly=[1.0, 1.0, 12.0], test_duration=[5 * HOUR, 4 * HOUR, 0.5 * HOUR], long_time_min=4 * HOUR,
                test_load_lowest=[600 * KW, 300 * KW, 600 * KW], long_ratio_min=0.3, set_rated_power=1000 * KW) == 2
    loads = {"test_kind": ["load_bank", "live_load", "live_load"], "test_load_lowest": [400 * KW, 700 * KW, 690 * KW],
             "test_duration": [9000.0, 3600.0, 9000.0], "test_times_yearly": [1.0, 2.0, 5.0]}
    assert over(runs.burn_offs_yearly, **steps, **loads, burn_off_ratio=0.7, burn_off_time=7200.0) == 1  # of both steps together; an hour is too short
    assert over(runs.burn_offs_yearly, **steps, **loads, burn_off_ratio=0.7, burn_off_time=3600.0) == 3
    assert over(taken.test_energy_yearly, test_hours_each=[6 * HOUR, 2 * HOUR], installed_sets=2, test_load_mean=[400 * KW, 700 * KW]) / KWH == approx(7600)
    assert over(taken.bank_hire_yearly, test_load_way="bank_hired", bank_hire=4000.0, test_kind=["load_bank", "exercise", "load_bank"],
                test_times_yearly=[2.0, 12.0, 0.5]) == approx(10_000)


def test_the_bank_in_the_yard():
    # hand: 30 m east and 40 m north are 50 m; at 40 m 20 lg 40 = 32.04 and 8 dB are off; at a power factor of 0.8 a quarter more current than 902 A
    place = {"test_noise_chapter": "in_this_book", "bank_x": 5.0, "receiver_x": [35.0, 5.2], "bank_y": 12.0, "receiver_y": [52.0, 12.0]}
    assert over(bank.bank_receiver_distance, **place).tolist() == [50, 1]
    assert over(bank.bank_receiver_level, bank_sound_power=100.0, bank_receiver_distance=[40.0]) == approx(one(59.96), abs=0.005)
    assert bank.bank_level.run(100.0, 40.0) == approx(59.96, abs=0.005)
    assert bank.bank_current.run(750 * KW, 0.8, 480.0) == approx(1127.6, abs=0.5)
    assert over(bank.bank_step_power, bank_step_load=[300 * KW], yearly_building_load=340 * KW).tolist() == [0]  # the building is load enough


def test_sets_that_a_load_warms():
    # O2: four sets of 1000 kW, 950 kW, at least one: three (31.7 %), not four (23.8 %)
    load = {"test_kind": ["exercise"], "test_plant_load": [950 * KW], "exercise_load_min": 300 * KW}
    assert over(c.test_sets_most, test_sets_least=1, installed_sets=4, **load) == approx(one(3))


def test_yearly_run_with_a_building():
    # O3: 1250 kW, building 340 kW: bank 285 kW, then 597.5 kW; 1250 kWh
    steps = over(bank.bank_step_load, bank_step_ratio=[0.5, 0.75], set_rated_power=1250 * KW)
    assert over(bank.bank_step_power, bank_step_load=list(steps), yearly_building_load=340 * KW) / KW == approx(one(285, 597.5))
    assert over(bank.yearly_run_energy, bank_step_load=list(steps), bank_step_time=[1800.0, 3600.0]) / KWH == approx(1250)


@pytest.mark.parametrize(("before", "last", "days", "close", "late"), ((5, 22, 17, True, False), (5, 47, 42, False, True), (5, 35, 30, False, False)))
def test_window_of_days(before, last, days, close, late):
    # O4: 3 March and 20 March, 17 days, too close; 14 April, 42 days, late; 2 April, 30 days, in the window of 20 to 40 days
    found = over(c.test_interval_logged, test_date_before=[before * DAY], test_date=[last * DAY])[0] / DAY
    least, most = (over_rule(name) / DAY for name in (c.exercise_interval_min, c.exercise_interval_max))
    assert found == approx(days) and (found < least, found > most) == (close, late)


def over_rule(formula, rule="nfpa-110-2010-tests"):
    return formula.run(rule)


def test_loads_and_energy_of_1500_kw():
    # E58: 1500 kW: 30 % 450, 50 % 750, 75 % 1125 kW; energy of the yearly run 1500 kWh
    ratios = [over_rule(name) for name in (c.exercise_load_ratio_min, c.yearly_ratio_min, c.yearly_top_ratio_min)]
    assert np.array(ratios) * 1500 == approx(one(450, 750, 1125))
    assert over(bank.yearly_run_energy, bank_step_load=[750 * KW, 1125 * KW], bank_step_time=[1800.0, 3600.0]) / KWH == approx(1500)


def test_older_and_canadian_rules():
    # NFPA 110, 2005 and older: 25, 50, 75 %, two hours; CSA C282: an hour a month, full load for two hours a year (both from memory)
    assert [over_rule(name, "nfpa-110-2005-tests") for name in (c.yearly_ratio_min, c.yearly_time_min, c.yearly_top_time_min)] == approx([0.25, 7200, 3600])
    assert [over_rule(name, "csa-c282-2015-tests") for name in (c.exercise_time_min, c.yearly_top_ratio_min, c.yearly_run_always)] == approx([3600, 1, 1])


def test_load_bank_on_a_lower_voltage():
    # E59: 100 kW at 480 V gives 74.75 kW at 415 V; 1875 kVA at 0.8 is 1500 kW and 1125 kvar, at three quarters 843.75 (printed 843.8)
    assert bank.bank_power.run(100 * KW, 415.0, 480.0) / KW == approx(74.75, abs=0.005)
    reactive = over(bank.bank_step_reactive, bank_step_power=[1500 * KW, 1125 * KW], bank_power_factor=0.8)
    assert reactive / KW == approx(one(1125, 843.75), abs=0.005)
    assert over(bank.bank_step_reactive, bank_step_power=[1500 * KW], bank_power_factor=1.0) == approx(one(0))


def test_supplement_of_1000_kw():
    # E60: 1000 kW, building 180 kW: 120 kW to 30 %, 570 kW to 75 %
    assert over(c.test_supplement, test_kind=["exercise"], exercise_load_min=300 * KW, test_load_lowest=[180 * KW]) / KW == approx(one(120))
    assert over(bank.bank_step_power, bank_step_load=[750 * KW], yearly_building_load=180 * KW) / KW == approx(one(570))


def test_air_of_the_bank():
    # E61: 1500 kW, 40 K, 1.1 kg/m3, 1005 J/(kg K): 33.9 m3/s
    assert bank.bank_airflow.run(1500 * KW, 1.1, 1005.0, 40.0) == approx(33.9, abs=0.05)


def test_current_and_noise_of_the_bank():
    # hand: 750 kW at 480 V, three phases, resistors: 902 A; 100 dB at 10 m over hard ground: 100 - 20 - 8 = 72 dB
    assert bank.bank_current.run(750 * KW, 1.0, 480.0) == approx(902, abs=0.5)
    assert bank.bank_level.run(100.0, 10.0) == approx(72)


def test_low_steps_do_not_count():
    # hand, 1000 kW: half an hour at 40 % counts for nothing, half an hour at 50 % to the run, an hour at 75 % to both
    steps = {"bank_step_lowest": [400 * KW, 500 * KW, 750 * KW], "bank_step_time": [1800.0, 1800.0, 3600.0], "set_rated_power": 1000 * KW}
    run = {"test_kind": ["load_bank"], "test_load_lowest": [400 * KW], "test_duration": [7200.0], "test_times_yearly": [1.0]}
    assert over(runs.yearly_time, **steps, **run, yearly_ratio_min=0.5) == approx(5400)
    assert over(runs.yearly_top_time, **steps, **run, yearly_top_ratio_min=0.75) == approx(3600)
    # a run of the whole plant of three hours at 55 % serves as well as a bank does, but not for the last part; once in three years it serves for neither
    live = {"test_kind": ["live_load"], "test_load_lowest": [550 * KW], "test_duration": [10_800.0]}
    assert over(runs.yearly_time, **steps, **live, test_times_yearly=[1.0], yearly_ratio_min=0.5) == approx(10_800)
    assert over(runs.yearly_top_time, **steps, **live, test_times_yearly=[1.0], yearly_top_ratio_min=0.75) == 0
    assert over(runs.yearly_time, **steps, **live, test_times_yearly=[0.33], yearly_ratio_min=0.5) == 0


def test_the_long_run_of_36_months():
    # NFPA 110, 2010, 8.4.9, as an accrediting body quotes it: four hours at 30 % once in 36 months; of a half hour, 4 h at 40 % and 5 h at 20 % one counts
    ratio, time, yearly = (over_rule(name) for name in (c.long_ratio_min, c.long_time_min, c.long_runs_yearly_min))
    assert (ratio, time / HOUR) == approx((0.30, 4)) and yearly == approx(1 / 3, abs=0.005)
    listed = {"test_times_yearly": [12.0, 0.34, 1.0], "test_duration": [1800.0, 4 * HOUR, 5 * HOUR], "test_load_lowest": [400 * KW, 400 * KW, 200 * KW]}
    assert over(runs.long_runs_yearly, **listed, long_time_min=time, long_ratio_min=ratio, set_rated_power=1000 * KW) == approx(0.34)


def test_light_running_and_the_load_that_burns_it_off():
    # common practice: after 8 h below 30 % an hour above 70 %; hand: 30 min monthly at 20 % and 11 h at 25 % are 17 h, so two runs are needed
    light = {"test_load_mean": [200 * KW, 250 * KW, 800 * KW], "low_load_ratio_min": 0.3, "set_rated_power": 1000 * KW}
    hours = over(runs.light_hours_yearly, test_hours_each=[6 * HOUR, 11 * HOUR, 3 * HOUR], **light)
    assert hours == approx(17 * HOUR) and runs.burn_offs_needed.run(hours, 8 * HOUR) == 2
    assert over(runs.light_run_longest, test_duration=[1800.0, 11 * HOUR, 3 * HOUR], **light) == approx(11 * HOUR)
    # an hour at 75 % on the bank once a year, and a quarter of an hour at 80 % that is too short: one
    good = {"test_kind": ["load_bank", "transfer"], "bank_step_lowest": [500 * KW, 750 * KW], "bank_step_time": [1800.0, HOUR], "set_rated_power": 1000 * KW,
            "test_load_lowest": [500 * KW, 800 * KW], "test_duration": [5400.0, 900.0], "test_times_yearly": [1.0, 4.0]}
    assert over(runs.burn_offs_yearly, **good, burn_off_ratio=0.7, burn_off_time=HOUR) == approx(1)


def test_exercise_of_the_military_manual():
    # TM 9-6115-464-12, 2-13: every 30 days, coolant to 71 degC (160 degF) twice a quarter of an hour apart, then half an hour; no share of the rating
    rule = [over_rule(name, "tm-9-6115-464-tests") for name in (c.exercise_interval_max, c.exercise_time_min, c.exercise_coolant_min)]
    assert rule == approx([30 * DAY, 1800, 273.15 + 71])
    warm = {"test_kind": ["exercise", "exercise"], "load_floor_by": "coolant_temperature", "test_exhaust_temperature": [0.0, 0.0],
            "test_exhaust_temperature_min": 0.0, "exercise_coolant_temperature": [341.15, 346.15], "exercise_coolant_min": rule[2],
            "test_load_lowest": [0.0, 0.0], "exercise_load_min": 0.0}
    assert over(c.light_exercises, **warm) == approx(1)  # 68 degC misses it, 73 degC does not


def test_what_is_not_known_of_a_rule_is_not_given():
    # the window of 20 to 40 days stood in a text on the 2010 edition; of other rules nothing was read of it, so no number may stand there
    unknown = {(rule, name.yields[0]) for rule in ("nfpa-110-2005-tests", "csa-c282-2015-tests") for name in
               (c.exercise_interval_min, c.exercise_interval_max, c.long_runs_yearly_min, c.long_time_min) if np.isnan(over_rule(name, rule))}
    assert len(unknown) == 8 and np.isnan(over_rule(c.exercise_load_ratio_min, "tm-9-6115-464-tests"))


def test_bank_and_sets_are_heard_together():
    # ISO 9613-2 for a point over hard ground: 20 lg d + 8; hand: 3, 4, 5 in tens of metres; two levels of 60 dB make 63.0 dB, of 60 and 50 dB 60.4 dB
    here = {"test_noise_chapter": "in_this_book"}
    assert over(bank.bank_receiver_distance, **here, bank_x=0.0, receiver_x=[30.0, 0.0], bank_y=0.0, receiver_y=[40.0, 0.5]) == approx(one(50, 1))
    assert over(bank.bank_receiver_level, bank_sound_power=100.0, bank_receiver_distance=[10.0]) == approx(one(72))
    both = over(bank.test_receiver_level, **here, test_running_case=0, receiver_level=[[60.0, 60.0]], bank_receiver_level=[60.0, 50.0])
    assert both == approx(one(63.0, 60.4), abs=0.05)
    assert over(bank.test_level_limit, **here, test_limit_period=1, level_limit=[[45.0, 60.0]]) == approx(one(60))


def test_hours_fuel_and_money_of_a_year():
    # hand: half an hour twelve times is 6 h; two sets at 100 L/h burn 1200 L; at 1.2 and with 600 for people and a bank of 60 000 over 20 years: 5040
    assert over(taken.test_hours_each, test_duration=[1800.0], test_times_yearly=[12.0]) == approx(one(6 * HOUR))
    assert over(taken.test_fuel, test_hours_each=[6 * HOUR], installed_sets=2, test_fuel_rate=[100 * L / HOUR]) / L == approx(one(1200))
    tests = {"test_kind": ["exercise", "load_bank"], "test_times_yearly": [12.0, 1.0]}
    cost = {word: taken.bank_cost_yearly.run(float(over(taken.bank_hire_yearly, test_load_way=word, bank_hire=4000.0, **tests)),
                                             taken.bank_purchase.run(word, 60_000.0), 20 * 8760 * HOUR) for word in ("bank_bought", "bank_hired", "live_load")}
    assert cost == approx({"bank_bought": 3000, "bank_hired": 4000, "live_load": 0})
    assert taken.test_cost_yearly.run(1200 * L, 1.2 / L, 600.0, 3000.0) == approx(5040)


def test_load_and_time_of_a_test():
    # hand: 40 % of 1000 kW is 400 kW; two sets carry 800; twelve times a year is every 30.4 days; three sets two at a time take 24 days of test
    mean = over(c.test_load_mean, test_load_ratio=[0.4], set_rated_power=1000 * KW)
    lowest = over(c.test_load_lowest, number_of_bank_step=2, test_kind=["transfer"], bank_step_lowest=[900 * KW], test_load_mean=list(mean))
    assert mean == approx(one(400 * KW)) and lowest == approx(mean)
    steps = {"bank_step_lowest": [750 * KW, 500 * KW], "number_of_bank_step": 2}
    assert over(c.test_load_lowest, test_kind=["load_bank"], **steps, test_load_mean=[700 * KW]) == approx(one(500 * KW))
    assert over(c.test_plant_load, test_load_lowest=list(mean), test_sets=[2.0]) == approx(one(800 * KW))
    assert over(c.test_interval_planned, test_kind=["transfer"], exercises_yearly=6, test_times_yearly=[12.0]) / DAY == approx(one(30.4), abs=0.05)
    assert over(c.test_occasions, test_times_yearly=[12.0], installed_sets=3, test_sets=[2.0]) == approx(one(24))
    assert over(c.test_sets, test_kind=["load_bank", "transfer", "crank"], installed_sets=3) == approx(one(1, 3, 1))
    assert c.yearly_run_reasons.run(2.0, 1.0) == approx(3)
    # six in winter and six in summer are one a month
    halves = {"test_kind": ["exercise", "exercise", "transfer"], "test_times_yearly": [6.0, 6.0, 4.0]}
    assert over(c.exercises_yearly, **halves) == 12
    assert over(c.test_interval_planned, exercises_yearly=12, **halves) / DAY == approx(one(30.4, 30.4, 91.25), abs=0.05)


def test_the_year_month_by_month():
    # hand: four times from February are February, May, August, November; once in three years stands once; weekly tests are four or five a month
    (count,), residual, _ = c.year_of_tests.run(one(4, 1 / 3, 52), one(2, 10, 1))
    assert residual == 0 and np.flatnonzero(count[0]).tolist() == [1, 4, 7, 10] and np.flatnonzero(count[1]).tolist() == [9]
    assert count.sum(axis=1) == approx(one(4, 1, 52)) and set(count[2]) == {4, 5}
    (count,), _, _ = c.year_of_tests.run(one(5), one(1))  # hand: each 2.4 months from January on
    assert np.flatnonzero(count[0]).tolist() == [0, 2, 4, 7, 9]


def test_the_yearly_run_is_the_sum_of_its_steps():
    # hand: 750 kW for half an hour and 1125 kW for an hour on a set of 1500 kW: 90 min, mean 1000 kW or two thirds, greatest 75 %
    run = float(over(bank.yearly_run_time, bank_step_time=[1800.0, 3600.0]))
    mean = bank.yearly_run_ratio.run(1500 * KWH, 1500 * KW, run)
    assert run == approx(5400) and mean == approx(2 / 3)
    assert over(runs.yearly_top_ratio, test_kind=["load_bank"], bank_step_ratio=[0.5, 0.75], test_load_ratio=[mean], test_times_yearly=[1.0]) == approx(0.75)
    assert over(bank.bank_step_lowest, bank_step_load=[750 * KW]) == approx(one(750 * KW))
    assert over(bank.bank_power_needed, bank_step_power=[750 * KW, 1125 * KW]) == approx(1125 * KW) and bank.bank_voltage.run(480.0) == 480
    assert over(c.test_duration, number_of_bank_step=2, test_kind=["load_bank"], yearly_run_time=run) == approx(one(5400))
    assert over(c.test_load_ratio, number_of_bank_step=2, test_kind=["load_bank"], yearly_run_ratio=mean) == approx(one(2 / 3))


def test_what_the_tests_of_a_year_burn():
    # hand: 6 h and 10 h; sixteen against twelve of the ledger; 166 L/h at 600 kW between 142 at 500 and 262 at 1000; 4800 kWh at 96 % and 8 g/kWh are 40 kg
    assert over(taken.test_hours_yearly, test_hours_each=[6 * HOUR, 10 * HOUR]) == approx(16 * HOUR)
    assert taken.test_hours_gap.run(16 * HOUR, 12 * HOUR) == approx(4 * HOUR)
    rate = taken.fuel_of_tests.run(one(1800), one(600 * KW), one(500 * KW, 1000 * KW), one(142, 262) * L / HOUR, 1.0)[0][0]
    assert rate * HOUR / L == approx(one(166))
    assert over(taken.test_fuel_yearly, test_fuel=[1.2, 0.8]) == approx(2.0)
    assert over(taken.test_energy_yearly, test_hours_each=[6 * HOUR], installed_sets=2, test_load_mean=[400 * KW]) / KWH == approx(4800)
    assert over(taken.test_pollutant_mass, test_energy_yearly=4800 * KWH, alternator_efficiency=0.96, pollutant_factor=[0.008 / KWH]) == approx(one(40))
    assert over(taken.test_people_yearly, test_occasions=[12.0, 1.0], test_crew_cost=[60.0, 400.0]) == approx(1120)


# ---- demos and faults ----

def test_demos_agree_with_their_ledgers():
    for slug in SLUGS:
        book = solve(read(ROOT / "projects" / slug))
        assert words(book)["test_ledger"] == "holds", slug
        assert book["test_hours_yearly"].number == approx(book["ledger_test_hours"].number), slug
        assert words(book)["exercise_load"] == "holds" and words(book)["yearly_run"] == "nothing to check"


def changed(tmp_path, old, new):
    """The book of High Tarn with one text of its tests changed."""
    folder = tmp_path / "projects" / "high-tarn-waterworks"
    demo_copy("high-tarn-waterworks", folder)
    file = folder / "testing.yaml"
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")
    return solve(read(folder))


def test_a_light_exercise_makes_the_yearly_run_due(tmp_path):
    found = words(changed(tmp_path, "test_load_ratio: {value: 40 %", "test_load_ratio: {value: 25 %"))
    assert found["exercise_load"] == "fails" and found["yearly_run"] in ("holds", "tight") and found["common_yearly"] in ("holds", "tight")


def test_a_log_is_judged_where_it_is_kept(tmp_path):
    # O4 once more, by dates: 3 March and 14 April are 42 days
    log = "test_log: kept\nplant_tests:\n  - id: monthly\n    test_date_before: 2028-03-03\n    test_date: 2028-04-14"
    found = words(changed(tmp_path, "plant_tests:\n  - id: monthly", log))
    assert found["exercise_late"] == "fails" and found["exercise_too_close"] == "holds"


def test_days_that_are_given_are_a_log(tmp_path):
    # the same 42 days, without a word of a log
    days = "plant_tests:\n  - id: monthly\n    test_date_before: 2028-03-03\n    test_date: 2028-04-14"
    found = words(changed(tmp_path, "plant_tests:\n  - id: monthly", days))
    assert found["exercise_late"] == "fails" and found["exercise_too_close"] == "holds"


@pytest.mark.parametrize(("old", "new", "told"), (
    ("test_load_ratio: {value: 40 %", "test_load_ratio: {value: 400 %", "test_load_ratio"),
    ("test_kind: transfer", "test_kind: transfered", "transfer"),
    ("test_times_yearly: 12", "test_times_yearly: 0", "test_times_yearly"),
    ("test_rule: {value: nfpa-110-2010-tests", "test_rule: {value: nfpa-110-2011-tests", "nfpa-110-2010-tests"),
    ("test_duration: 30 min", "test_duration: 30 min\n    test_date_before: 2028-04-02\n    test_date: 2028-03-03", "test_date"),
    ("test_duration: 30 min", "test_duration: 30 min\n    test_date: 2027-03-03", "on or after 'commissioning_date'"),
    ("test_duration: 30 min", "test_duration: 30 min\n    test_date_before: 2027-03-03\n    test_date: 2028-03-03", "on or after 'commissioning_date'"),
    ("test_limit_period: day", "test_limit_period: dy", "day"),
    ("  - {id: half, name: Half load, bank_step_ratio: 50 %, bank_step_time: 30 min}\n"
     "  - {id: three_quarters, name: Three quarters, bank_step_ratio: 75 %, bank_step_time: 60 min}", "  []", "'test_load_ratio' of 'yearly'"),
))
def test_what_cannot_be_is_a_fault_with_its_line(tmp_path, old, new, told):
    with pytest.raises(Faults) as caught:
        changed(tmp_path, old, new)
    assert told in str(caught.value) and re.search(r"testing\.yaml:\d+", str(caught.value))


def test_without_a_rule_nobody_knows_what_is_light(tmp_path):
    found = words(changed(tmp_path, 'test_rule: {value: nfpa-110-2010-tests, note: "named by the county inspector"}\n', ""))
    assert found["exercise_load"] == found["yearly_run"] == found["common_yearly"] == "undecided"


def test_a_run_on_a_bank_without_steps_says_its_own_load_and_time(tmp_path):
    bare = """    test_kind: load_bank
    test_load_ratio: 80 %
    test_duration: 120 min
    test_times_yearly: 1
    test_first_month: 9"""
    steps = """
  - {id: half, name: Half load, bank_step_ratio: 50 %, bank_step_time: 30 min}
  - {id: three_quarters, name: Three quarters, bank_step_ratio: 75 %, bank_step_time: 60 min}"""
    place = tmp_path / "projects" / "high-tarn-waterworks"
    demo_copy("high-tarn-waterworks", place)
    file = place / "testing.yaml"
    text = file.read_text("utf-8")
    kind = "    test_kind: load_bank\n    test_times_yearly: 1\n    test_first_month: 9"
    assert steps in text and kind in text
    file.write_text(text.replace(steps, " []").replace(kind, bare).replace("test_load_ratio: {value: 40 %", "test_load_ratio: {value: 25 %", 1), "utf-8")
    book = solve(read(place))
    assert book["test_hours_each"].element("yearly").number == approx(2 * HOUR) and book["yearly_top_time"].number == approx(2 * HOUR)
    assert words(book)["yearly_run"] == words(book)["yearly_top"] == "holds"


def test_a_live_run_in_winter_serves_as_the_long_run_and_half_hours_do_not(tmp_path):
    # 450 min at 68 % once a year: NFPA 110, 8.4.9 asks for 4 h at 30 % once in 36 months
    assert words(changed(tmp_path / "long", "test_duration: 450 min", "test_duration: 450 min"))["long_run"] == "holds"
    assert words(changed(tmp_path / "short", "test_duration: 450 min", "test_duration: 200 min"))["long_run"] == "fails"


def test_a_temperature_that_nobody_logged_does_not_count_as_warm(tmp_path):
    found = words(changed(tmp_path, "plant_tests:", "load_floor_by: exhaust_temperature\ntest_exhaust_temperature_min: 320 degC\nplant_tests:"))
    assert found["exercise_exhaust"] == "undecided" and found["yearly_run"] == "holds"  # nothing proves the exercise, so the yearly run is due


def test_another_rule_asks_for_what_is_not_known_of_it(tmp_path):
    book = changed(tmp_path / "canada", "nfpa-110-2010-tests", "csa-c282-2015-tests")
    found = words(book)
    assert found["exercise_planned"] == found["long_run"] == "undecided" and "exercise_interval_max" in str(book.check("exercise_planned").missing)
    assert "from memory" in book["exercise_time_min"].marks and book["exercise_time_min"].source_ids == ("csa-c282-2015-tests",)
    older = changed(tmp_path / "older", "nfpa-110-2010-tests", "nfpa-110-2005-tests")
    marks = {name: "from memory" in older[name].marks for name in ("exercise_time_min", "yearly_time_min")}
    assert marks == {"exercise_time_min": True, "yearly_time_min": False}  # the supplement in three steps was read in a reproduction


def test_a_quiet_neighbour_hears_bank_and_sets(tmp_path):
    book = changed(tmp_path, "bank_sound_power: {value: 98 dBA", "bank_sound_power: {value: 113 dBA")
    assert words(book)["test_noise"] == "fails" and words(book)["bank_noise"] == "nothing to check"
    sets, alone, both = (book[name] for name in ("receiver_level", "bank_receiver_level", "test_receiver_level"))
    # hand: energies of the two add
    expected = 10 * np.log10(10 ** (sets.element("monthly_test", "cottage").number / 10) + 10 ** (alone.element("cottage").number / 10))
    assert both.element("cottage").number == approx(expected)


def test_a_book_without_tests_does_not_say_that_the_sets_run_for_none(tmp_path):
    """The ledger may hold hours of tests all the same: that no test is listed is what the page says."""
    files = starter_files("cold-yard", ("plant", "loads", "hours", "testing"), first_guess(read_facts({}), "Cold yard"))
    for name, text in files.items():
        (tmp_path / name).write_text(text, "utf-8")
    listed = solve(read(tmp_path))
    assert listed.check("test_ledger").word == "holds"  # a first guess has the tests of the ledger's hours
    assert "A set runs 12 h" in re.sub(r"\s", " ", chapter_page(listed, "testing").text)
    text = (tmp_path / "testing.yaml").read_text("utf-8")
    (tmp_path / "testing.yaml").write_text(re.sub(r"(?ms)^plant_tests:\n.*?(?=^\S|\Z)", "", text), "utf-8")
    page = chapter_page(solve(read(tmp_path)), "testing").text
    assert "The project lists no tests yet" in page and "runs 0" not in page


# ---- books of few chapters, the strip of a year, the sheet ----

ALONE = "set_rated_power: 320 kW\nspare_sets: 1\naltitude: 20 m\noutdoor_temperature_max: 32 degC\noutdoor_relative_humidity: 60 %\ngenerating_voltage: 400 V\n"
BOUGHT = """test_rule: nfpa-110-2005-tests
test_load_way: bank_bought
bank_rated_power: 300 kW
bank_rated_voltage: 480 V
bank_sound_power: 96 dBA
bank_distance: 25 m
bank_level_max: 55 dBA
plant_tests:
  - {id: weekly, name: Weekly, test_kind: exercise, test_load_ratio: 15 %, test_duration: 20 min, test_times_yearly: 52}
  - {id: bank, name: Bank, test_kind: load_bank, test_times_yearly: 1}
bank_steps:
  - {id: quarter, name: Quarter, bank_step_ratio: 25 %, bank_step_time: 30 min}
  - {id: half, name: Half, bank_step_ratio: 50 %, bank_step_time: 30 min}
  - {id: most, name: Most, bank_step_ratio: 75 %, bank_step_time: 60 min}
"""


def alone(folder, text):
    """The book of this chapter without any other."""
    folder.mkdir(parents=True)
    (folder / "project.yaml").write_text("name: Dock end\nchapters: [testing]\ncurrency: EUR\n", "utf-8")
    (folder / "testing.yaml").write_text(ALONE + text, "utf-8")
    return solve(read(folder))


def test_a_plant_that_lists_no_test_is_told_so(tmp_path):
    found = words(alone(tmp_path / "none", ""))
    assert found["common_exercises"] == "fails" and "holds" not in found.values()


def test_the_chapter_alone_judges_what_it_can_and_tells_what_is_left_out(tmp_path):
    # hand, 320 kW: 15 % misses 30 %; 25, 50 and 75 % for two hours meet the rule of 2005; 17.3 light hours want two good runs and get one;
    # 300 kW at 480 V are 208 kW at 400 V, too few for 240; 96 - 28 - 8 = 60 dB at 25 m
    found = words(alone(tmp_path / "bank", BOUGHT))
    assert {name: found[name] for name in ("exercise_load", "yearly_run", "yearly_top", "burn_off", "bank_enough", "bank_noise")} == {
        "exercise_load": "fails", "yearly_run": "holds", "yearly_top": "holds", "burn_off": "fails", "bank_enough": "fails", "bank_noise": "fails"}
    assert found["test_noise"] == found["test_ledger"] == "nothing to check" and found["exercise_planned"] == found["long_run"] == "undecided"


def test_a_bank_is_not_hung_on_a_voltage_that_burns_it(tmp_path):
    """300 kW at 208 V would take 1109 kW at 400 V; 440 V are what is usually borne of 400 V (hand calculations)."""
    with pytest.raises(Faults, match="testing.yaml:10: the bank is made for the voltage that it sees: not so"):
        alone(tmp_path / "burns", BOUGHT.replace("bank_rated_voltage: 480 V", "bank_rated_voltage: 208 V"))
    behind = alone(tmp_path / "behind", BOUGHT.replace("bank_rated_voltage: 480 V", "bank_rated_voltage: 208 V\nbank_voltage: 208 V"))
    assert behind["bank_power"].number == 300e3
    low = alone(tmp_path / "low", BOUGHT.replace("bank_rated_voltage: 480 V", "bank_rated_voltage: 380 V"))
    assert low["bank_voltage_max"].number == pytest.approx(418) and low.check("bank_enough").word == "holds"


CANADIAN = """test_rule: csa-c282-2015-tests
plant_tests:
  - {id: monthly, name: Monthly, test_kind: exercise, test_load_ratio: 40 %, test_duration: 60 min, test_times_yearly: 12}
  - {id: crank, name: Cranking, test_kind: crank, test_times_yearly: 2, test_first_month: 4, test_crew_cost: 50 EUR}
"""
BATTERY = """starting_method: battery
starter_current: 900 A
battery_units: 4
battery_unit_capacity: 180 Ah
battery_unit_cranking_current: 1200 A
battery_temperature: 25 degC
battery_temperature_mean: 25 degC
room_airflow_held: 0 m^3/h
"""


def started(folder, text=CANADIAN, battery=BATTERY):
    """The book of this chapter and that of starting."""
    folder.mkdir(parents=True)
    (folder / "project.yaml").write_text("name: Dock end\nchapters: [starting, testing]\ncurrency: EUR\n", "utf-8")
    (folder / "testing.yaml").write_text(ALONE + "outdoor_temperature_min: -5 degC\ninstalled_sets: 2\n" + text, "utf-8")
    (folder / "starting.yaml").write_text(battery, "utf-8")
    return solve(read(folder))


def test_the_crank_test_of_every_six_months(tmp_path):
    # CSA C282-15, table 4, read in a reproduction: two full cranking cycles every six months; a battery below 80 % of rated voltage near the end is replaced
    book = started(tmp_path / "book")
    assert [book[name].number for name in ("crank_tests_yearly_min", "crank_test_cycles", "crank_voltage_ratio_min")] == approx([2, 2, 0.8])
    # hand: cycles of three cranks are six; 80 % of 24 V; at rest 25.2 V, at 2 x 1200 A of four fifths, its end of life, 14.4 V: 25.2 - 10.8 x 900/1920 = 20.1 V
    assert book["crank_test_cranks"].number == 6 and book["crank_test_voltage_min"].number == approx(19.2)
    assert book["crank_test_voltage"].number == approx(20.1, abs=0.05)
    assert {name: words(book)[name] for name in ("crank_tests", "crank_test_lasts", "crank_test_voltage_ok")} == {
        "crank_tests": "holds", "crank_test_lasts": "holds", "crank_test_voltage_ok": "tight"}
    for name in ("crank_tests_yearly_min", "crank_test_cycles", "crank_voltage_ratio_min"):  # what was read is not told as from memory
        assert book[name].source_ids == ("csa-c282-2015-tests",) and "from memory" not in book[name].marks
    # hand: April and October; two sets, one at a time; no engine runs, so no hours, and nothing is burnt off
    assert np.flatnonzero(book["test_month_count"].number[1]).tolist() == [3, 9] and book["test_interval_planned.crank"].number / DAY == 182.5
    assert book["test_occasions.crank"].number == 4 and book["test_hours_each.crank"].number == book["test_load_mean.crank"].number == 0
    page = chapter_page(book, "testing").text
    on_sheet = page.split("What is read on the day")[1].split("Log of a run")[0]
    assert "A crank test turns the engine" in page and "Battery voltage near the end of the crank test" in on_sheet
    sheet = str(parts.test_sheet(addresses.of_book(book), [book.check("crank_test_voltage_ok")]))
    assert "19.2" in sheet and 'class="reading"' in sheet


def test_a_battery_that_sags_or_is_too_small_fails_the_crank_test(tmp_path):
    # hand: 1100 A of the same battery leave 25.2 - 10.8 x 1100/1920 = 19.0 V, below 19.2 V
    weak = started(tmp_path / "weak", battery=BATTERY.replace("900 A", "1100 A"))
    assert words(weak)["crank_test_voltage_ok"] == "fails" and words(weak)["crank_test_lasts"] == "holds"
    # hand: 2 x 18 Ah, 35 % of four fifths: 10.08 Ah in the cold of 25 °C, two cranks of 15 s at 900 A, 3.75 Ah each; six are cranked
    small = started(tmp_path / "small", battery=BATTERY.replace("180 Ah", "18 Ah"))
    assert small["crank_test_stored"].number == 2 and words(small)["crank_test_lasts"] == "fails"


def test_a_crank_test_that_is_asked_for_and_not_listed_fails(tmp_path):
    once, none = CANADIAN.replace("test_times_yearly: 2,", "test_times_yearly: 1,"), re.sub(r"  - \{id: crank.*\n", "", CANADIAN)
    for name, text in (("once", once), ("none", none)):
        assert words(alone(tmp_path / name, text))["crank_tests"] == "fails"


@pytest.mark.parametrize("rule", ("nfpa-110-2010-tests", "nfpa-110-2005-tests", "tm-9-6115-464-tests", "emerggen-m-tests"))
def test_no_other_rule_is_known_to_ask_for_a_crank_test(tmp_path, rule):
    book = alone(tmp_path / rule, CANADIAN.replace("csa-c282-2015-tests", rule))
    assert {words(book)[name] for name in ("crank_tests", "crank_test_lasts", "crank_test_voltage_ok")} == {"nothing to check"}
    assert "A crank test turns the engine" not in chapter_page(book, "testing").text
    # an owner who asks for it all the same says how
    book = alone(tmp_path / f"own-{rule}", "crank_tests_yearly_min: 4\n" + CANADIAN.replace("csa-c282-2015-tests", rule))
    assert words(book)["crank_tests"] == "fails"


def test_what_the_battery_gives_is_told_by_the_chapter_of_starting_only(tmp_path):
    book = alone(tmp_path / "alone", CANADIAN)
    assert words(book)["crank_tests"] == "holds" and words(book)["crank_test_lasts"] == words(book)["crank_test_voltage_ok"] == "nothing to check"
    assert np.isnan(crank.crank_test_voltage.run("in_this_book", 0, 20.0)) and np.isnan(crank.crank_test_stored.run("in_this_book", 0, 9.0))
    assert crank.crank_test_voltage.run("in_this_book", 1, 20.0) == 20.0 and crank.crank_test_stored.run("in_this_book", 1, 9.0) == 9.0
    air = BATTERY.replace("starting_method: battery", "starting_method: air\nair_per_start: 1 m^3\nreceiver_volume: 1 m^3")
    by_air = words(started(tmp_path / "air", battery=air))
    assert by_air["crank_tests"] == "holds" and by_air["crank_test_lasts"] == by_air["crank_test_voltage_ok"] == "nothing to check"


def test_an_engine_that_is_cranked_burns_nothing_and_warms_nothing():
    # by the meaning: with its fuel shut it carries no load, has no use of a bank, and is not kept above a floor
    rate = taken.fuel_of_tests.run(one(1800, 0), one(600 * KW, 0), one(500 * KW, 1000 * KW), one(142, 262) * L / HOUR, 1.0)[0][0]
    assert rate * HOUR / L == approx(one(166, 0))  # hand, as above
    kinds = {"test_kind": ["exercise", "crank"], "exercise_load_min": 300 * KW}
    assert over(c.test_supplement, **kinds, test_load_lowest=[200 * KW, 0.0]).tolist() == [100 * KW, 0]
    assert over(c.test_sets_most, **kinds, test_sets_least=1, installed_sets=4, test_plant_load=[950 * KW, 0.0]).tolist() == [3, 0]
    given = {"number_of_bank_step": 2, "test_kind": ["crank"]}
    assert over(c.test_load_ratio, **given, yearly_run_ratio=0.7).tolist() == over(c.test_duration, **given, yearly_run_time=60.0).tolist() == [0]
    assert over(crank.crank_tests_yearly, test_kind=["crank", "exercise", "crank"], test_times_yearly=[2.0, 12.0, 1.0]) == 3


def rows_drawn(book, chapter, figure):
    return list(figures_of(chapter)[figure].draw(book).axes[0].yaxis.get_major_formatter().seq)


def test_tests_and_upkeep_stand_in_one_strip():
    book = solve(read(ROOT / "projects" / "cobble-key-exchange"))
    tests = rows_drawn(book, "testing", "test_year")
    assert [name[:15] for name in tests] == ["Monthly run on ", "Four hours on t", "Transfer from t"] and max(map(len, tests)) <= 24
    both = rows_drawn(book, "upkeep", "upkeep_year")
    assert both[-3:] == tests and len(both) == 3 + len(book.items["task"])


def test_the_sheet_holds_limit_and_room_for_the_reading():
    book = solve(read(ROOT / "projects" / "high-tarn-waterworks"))
    verdicts = [book.check(name) for name in ("time_to_load", "dip_on_start", "exercise_exhaust")]
    sheet = str(parts.test_sheet(addresses.of_book(book), verdicts))
    assert sheet.count('class="reading"') == 2  # what does not apply is not read
    for verdict in verdicts[:2]:
        assert verdict.check.title in sheet and verdict.limit.text() in sheet and verdict.value.text() in sheet and verdict.word in sheet
    assert "No chapter" in str(parts.test_sheet(addresses.of_book(book), verdicts[2:]))


def test_days_or_a_word_make_a_log():
    day = 20_000 * 86_400.0
    one, none = np.array([day, np.nan]), np.array([np.nan, np.nan])
    assert [list(c.tests_logged.run(word, one, none)[0][0]) for word in ("kept", "not_yet")] == [[1, 1], [1, 0]]  # counted by hand
