"""Noise to people in the plant: doses by the formulas of 29 CFR 1910.95 and NIOSH 98-126, their printed tables, and hand calculations."""

import numpy as np
import pytest
from axes import over
from pytest import approx

from basis.chapters.hearing import chapter as e
from basis.language.terms import terms

HOUR, DAY = 3600.0, 8 * 3600.0
A = terms()["a_weighting"].default_data()


def test_level_beside_a_machine():
    # N15 (an open library): 115 dB, 2 m, Q 2, room constant 53.45 m²: 105.59 dB
    sets = np.array([1.0, 3.0])
    assert e.exposure_inside_level.run(1, np.array([100.0, 115.0]), sets, 2.0, 2.0, 2.0, 53.45) == approx(105.59, abs=0.005)
    assert e.exposure_inside_level.run(1, np.array([100.0, 115.0]), sets, 2.0, 3.0, 3.0, 53.45) == approx(104.66, abs=0.005)  # hand: 2/(36 pi) + 4/53.45
    assert e.exposure_inside_level.run(0, np.array([115.0, 115.0]), sets, 2.0, 2.0, 9.0, 53.45) == approx(105.59, abs=0.005)  # one set: no others


def test_direct_sound_of_each_set_at_its_distance():
    # hand: three sets of 110.23 dB, 115 dB together, one at 2 m and two at 8 m, Q 2 over hard floor, no room sound (R of 1e9 m2):
    # 110.23 + 10 lg(2/(16 pi)) = 96.23 dB and 113.24 + 10 lg(2/(256 pi)) = 87.20 dB are 96.74 dB; all at 2 m would be 101.00 dB
    powers, sets = np.array([115.0]), np.array([3.0])
    assert e.exposure_inside_level.run(0, powers, sets, 2.0, 2.0, 8.0, 1e9) == approx(96.74, abs=0.01)
    assert e.exposure_inside_level.run(0, powers, sets, 2.0, 2.0, e.exposure_others_distance.run(2.0), 1e9) == approx(101.00, abs=0.01)


def test_level_at_the_door():
    # hand: 105 dB inside, 40 dB of door, six decibels for the field and three back from the wall: 62 dB
    assert e.exposure_band_level.run("outside_surface", 105.0, 0, np.array([40.0])) == approx(62.0)
    assert e.exposure_band_level.run("in_room", 105.0, 0, np.array([40.0])) == 105.0


def test_weighted_level_or_stated():
    # N2, hand: 98.03 dBA
    levels = np.array([95.0, 98, 100, 97, 95, 93, 90, 86, 80])
    assert e.exposure_level.run("in_room", 70.0, levels, A) == approx(98.03, abs=0.005) and e.exposure_level.run("stated", 70.0, levels, A) == 70.0
    assert e.exposure_level_highest.run(np.array([70.0, 107.0, 85.0])) == 107.0


@pytest.mark.parametrize("level, hours", [(90, 8), (95, 4), (100, 2), (105, 1), (110, 0.5), (115, 0.25)])
def test_permitted_times_of_the_printed_table(level, hours):
    # 29 CFR 1910.95 table G-16
    assert e.permitted_time_five.run(DAY, float(level)) / HOUR == approx(hours)


def test_permitted_times_between():
    # N28: 97 dBA 3.031 h by the formula, where the table rounds to 3; N29: NIOSH 94 dBA 1 h, 106 dBA 3.75 min
    assert e.permitted_time_five.run(DAY, 97.0) / HOUR == approx(3.031, abs=5e-4)
    assert e.permitted_time_three.run(DAY, 94.0) / HOUR == approx(1.0) and e.permitted_time_three.run(DAY, 106.0) / 60 == approx(3.75)
    assert e.permitted_time_three.run(DAY, 85.0) / HOUR == approx(8.0)


def test_dose_by_five_decibels():
    # N28, appendix A: 2 h at 100 dBA and 4 h at 92 dBA: 165.98 %, 93.65 dBA
    levels, times = np.array([100.0, 92.0]), np.array([2.0, 4.0]) * HOUR
    permitted = e.permitted_time_five.run(DAY, levels)
    dose = over(e.dose_five, exposure_duration=times, exposure_level=levels, permitted_time_five=permitted)
    assert dose == approx(1.6598, abs=5e-5) and e.average_five.run(dose) == approx(93.65, abs=0.005)
    assert e.average_five_action.run(0.5) == approx(85.0, abs=0.01)  # the action level is half of the dose
    assert e.average_five.run(0.0) == approx(16.61 * -3 + 90) == e.average_five_action.run(0.0)


def test_levels_that_count():
    # 1910.95: from 90 dBA for the permissible exposure, from 80 dBA for the action level
    levels, times = np.array([89.9, 90.0, 80.0, 79.9]), np.full(4, HOUR)
    permitted = np.full(4, 8 * HOUR)
    assert over(e.dose_five, exposure_duration=times, exposure_level=levels, permitted_time_five=permitted) == approx(1 / 8)
    assert over(e.dose_five_action, exposure_duration=times, exposure_level=levels, permitted_time_five=permitted) == approx(3 / 8)
    assert [e.dose_five.run(np.array([HOUR]), level, np.array([4 * HOUR])) for level in (89.0, 90.0, 92.0)] == approx([0, 0.25, 0.25])
    assert [e.dose_five_action.run(np.array([HOUR]), level, np.array([4 * HOUR])) for level in (79.0, 80.0, 82.0)] == approx([0, 0.25, 0.25])


def test_dose_by_three_decibels():
    # N29: one hour at 100 dBA: 400 %, 91.02 dBA
    dose = e.dose_three.run(np.array([HOUR]), np.array([e.permitted_time_three.run(DAY, 100.0)]))
    assert dose == approx(4.0, rel=1e-9) and e.average_three.run(dose) == approx(91.02, abs=0.005)
    assert e.average_three.run(0.0) == approx(25.0)
    assert e.dose_three.run(np.array([HOUR, 2 * HOUR]), np.array([HOUR, 8 * HOUR])) == approx(1.25)  # hand: a whole and a quarter


def test_daily_exposure_level():
    # directive 2003/10/EC, by hand: 100 dBA for one hour 90.97 dB; 88 dBA for four hours 84.99 dB; eight hours are the level itself
    assert e.daily_exposure_level.run(np.array([HOUR]), DAY, np.array([100.0])) == approx(90.97, abs=0.005)
    assert e.daily_exposure_level.run(np.array([4 * HOUR]), DAY, np.array([88.0])) == approx(84.99, abs=0.005)
    assert e.daily_exposure_level.run(np.array([DAY]), DAY, np.array([85.0])) == approx(85.0, abs=0.001)
    # property: equal energy; NIOSH's rounded exchange of three decibels for a doubling stays within a tenth of it here
    assert e.average_three.run(4.0) == approx(e.daily_exposure_level.run(np.array([HOUR]), DAY, np.array([100.0])), abs=0.1)
    assert e.daily_exposure_level.run(np.zeros(0), DAY, np.zeros(0)) == 0 == e.daily_protected_level.run(np.zeros(0), DAY, np.zeros(0))


def test_rule_of_the_law():
    assert e.day_exposure.run("five_decibels", 93.0, 93.5, 90.0, 95.0) == 93.0 and e.day_exposure.run("three_decibels", 93.0, 93.5, 90.0, 95.0) == 95.0
    assert e.day_exposure.run("five_decibels", 93.0, 93.5, 85.0, 95.0) == 93.5  # the action level counts from 80 dBA on
    assert e.day_protected_exposure.run("five_decibels", 80.0, 85.0) == 80.0 and e.day_protected_exposure.run("three_decibels", 80.0, 85.0) == 85.0


def test_tasks_and_hours_of_a_day():
    # hand: two tasks of 2 h and half an hour are 2.5 h
    times = [2 * HOUR, 0.5 * HOUR]
    assert over(e.exposures_listed, exposure_duration=times) == 2 and over(e.exposed_time, exposure_duration=times) == 2.5 * HOUR


def test_protectors():
    # 1910.95 appendix B, by hand: 105 dBA under NRR 29: 105 - 22 = 83 dBA; enforcement counts half: 94 dBA; no rating, no protection
    assert e.exposure_protected_level.run(105.0, "single", 1.0, 29.0) == approx(83.0)
    assert e.exposure_protected_level.run(105.0, "double", 0.5, 29.0) == approx(94.0)
    assert e.exposure_protected_level.run(105.0, "single", 0.5, 0.0) == 105.0 == e.exposure_protected_level.run(105.0, "single", 0.5, 7.0)
    assert e.exposure_protected_level.run(105.0, "none", 0.5, 29.0) == 105.0  # a rating on the sheet, nothing on the ears
    assert e.daily_protected_level.run(np.array([HOUR, 7 * HOUR]), DAY, np.array([94.0, 70.0])) == approx(85.09, abs=0.005)  # hand: (10^9.4 + 7·10^7)/8


def test_protected_ear_by_five_decibels():
    # 29 CFR 1910.95 appendix A: 2 h at 100 dBA and 4 h at 92 dBA have a TWA of 93.65 dBA; appendix B: a protector that takes 22 dB leaves 71.65 dBA
    assert e.average_five_protected.run(np.array([2 * HOUR, 4 * HOUR]), DAY, np.array([78.0, 70.0])) == approx(71.65, abs=0.005)
    assert e.average_five_protected.run(np.array([DAY]), DAY, np.array([85.0])) == approx(85.0, abs=0.001)
    assert e.average_five_protected.run(np.zeros(0), DAY, np.zeros(0)) < 0


def test_limit_by_what_is_worn():
    assert [e.protection_level_max.run(worn, 85.0, 105.0, 115.0) for worn in ("none", "single", "double")] == [85, 105, 115]
