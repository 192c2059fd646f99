"""Upkeep and life against worked days of the calendar, a general library for months, scipy, and hand calculations written out."""

import re
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from axes import over
from dateutil.relativedelta import relativedelta
from demos import demo_copy
from pytest import approx
from scipy.stats import binom

import basis
from basis.chapters.upkeep import chapter as c
from basis.chapters.upkeep import overhauls, plan, running, spares
from basis.language.compiled import count_name
from basis.language.days import DAY_SECONDS, day_text, months_later, seconds_of
from basis.language.faults import Faults, ItemTroubles
from basis.physics.months import each_months_later

ROOT = Path(__file__).parents[3]
H, YEAR, NONE = 3600.0, 8760 * 3600.0, np.nan
OPEN = np.zeros(12)


def days(*texts):
    return np.array([NONE if text is None else seconds_of(text) for text in texts])


def texts(found):
    return [None if np.isnan(day) else day_text(day) for day in found]


def due(last_hours, last_day, now, today, daily, hours=NONE, months=NONE, tolerance=0.0, legal="no", commissioned="2020-01-01"):
    """Due days of one task by both clocks, the earlier, and the latest."""
    found, residual, _ = c.days_due.run(days(last_day), np.array([last_hours * H]), np.array([hours * H]), np.array([months]), np.array([now * H]),
                                 np.array([tolerance]), np.array([legal], dtype=object), daily * H, seconds_of(today), seconds_of(commissioned))
    assert residual == 0
    return [texts(one)[0] for one in found]


# ---- the calendar ----

def test_months_keep_to_the_end_of_the_month():
    # O7: 31 August 2024 and six months is 28 February 2025, and so is 29 February 2024 and twelve
    assert day_text(months_later(seconds_of("2024-08-31"), 6)) == "2025-02-28" == day_text(months_later(seconds_of("2024-02-29"), 12))


def test_months_against_a_general_library():
    # dateutil.relativedelta, every day of two years, one of them with a leap day, and spans up to ten years
    begun = [date(2027, 1, 1) + timedelta(number) for number in range(0, 800, 3)]
    for months in (1, 2, 3, 6, 11, 12, 24, 60, 120):
        found = each_months_later([seconds_of(day.isoformat()) for day in begun], months)
        assert texts(found) == [(day + relativedelta(months=months)).isoformat() for day in begun]
    assert np.isnan(each_months_later([NONE], 3)).all() and day_text(months_later(seconds_of("2199-06-01"), 24)) == "2199-12-31"


# ---- two clocks ----

def test_the_calendar_comes_first_on_standby():
    # O5: oil at 412 h on 31 March 2025, 430 h on 1 September 2025, 0.1 h a day, 500 h or 12 months: 12 November 2038 by hours, 31 March 2026 by the calendar
    by_hours, by_calendar, first, _ = due(412, "2025-03-31", 430, "2025-09-01", 0.1, hours=500, months=12)
    assert (by_hours, by_calendar, first) == ("2038-11-12", "2026-03-31", "2026-03-31")


def test_hours_come_first_where_a_set_runs_much():
    # O6: 1210 h on 15 January 2025, 1585 h on 1 June 2025, 3 h a day: 125 h are left, 41 days: 12 July 2025, before 15 January 2026
    by_hours, by_calendar, first, _ = due(1210, "2025-01-15", 1585, "2025-06-01", 3.0, hours=500, months=12)
    assert (by_hours, by_calendar, first) == ("2025-07-12", "2026-01-15", "2025-07-12")


def test_overdue_by_hours_is_due_before_today():
    # overdue from the hour on at which they are used up: 500 h since the last time, and 530 h
    assert due(100, "2025-01-15", 600, "2025-06-01", 3.0, hours=500)[2] == "2025-05-31"
    assert due(100, "2025-01-15", 630, "2025-06-01", 3.0, hours=500)[2] == "2025-05-22"  # hand: 30 h at 3 h a day are ten days ago
    assert due(100, "2025-01-15", 630, "2025-06-01", 0.0, hours=500)[2] == "2025-05-31"
    assert due(0, "2025-06-01", 600, "2025-06-01", 3.0, hours=500, commissioned="2025-06-01")[2] == "2025-05-31"  # and so on the day of commissioning itself
    # hand: 25 500 h too many at 0.4 h a day would be 175 years ago, and there was no plant before 2020: hours of a used set, with nothing on record
    assert due(0, "2020-01-01", 26_000, "2025-06-01", 0.4, hours=500)[2] == "2020-01-01"


def test_a_set_that_never_runs_uses_up_no_hours():
    assert due(0, "2025-01-15", 0, "2025-06-01", 0.0, hours=500)[:3] == ["2199-12-31", None, "2199-12-31"]


def test_tolerance_moves_no_legal_interval():
    # hand: 12 months of 365 days, a tenth of which are 36 whole days: 31 March 2026 and 36 days is 6 May 2026
    assert due(412, "2025-03-31", 430, "2025-09-01", 0.1, months=12, tolerance=0.1)[2:] == ["2026-03-31", "2026-05-06"]
    assert due(412, "2025-03-31", 430, "2025-09-01", 0.1, months=12, tolerance=0.1, legal="yes")[3] == "2026-03-31"
    assert due(412, "2025-03-31", 430, "2025-09-01", 0.1, months=60, tolerance=0.1, legal="yes")[3] == "2030-03-31"
    # hand: 125 h and a tenth of 500 h are 175 h, at 3 h a day 58 whole days from 1 June: 29 July
    assert due(1210, "2025-01-15", 1585, "2025-06-01", 3.0, hours=500, tolerance=0.1)[3] == "2025-07-29"


def test_what_is_not_known_is_not_due_on_another_day():
    assert due(NONE, "2025-03-31", 430, "2025-09-01", 0.1, hours=500, months=12)[2:] == [None, None]  # the meter was not read
    with pytest.raises(ItemTroubles) as told:
        c.days_due.run(days("2025-03-31", "2025-03-31"), np.array([412.0, 412.0]) * H, np.array([NONE, NONE]), np.array([12.0, NONE]),
                       np.array([430.0, 430.0]) * H, np.zeros(2), np.array(["no", "no"], dtype=object), 0.1 * H, *days("2025-09-01", "2020-01-01"))
    assert [one.what for one in told.value.troubles] == ["the task has no interval"]  # the other one has


def clocks(last, hours, part_of, meter=500.0, commissioned="2025-01-01"):
    number = len(last)
    return c.clocks_of_tasks.run(days(*last), np.array(hours) * H, np.full(number, meter * H), np.array(part_of), seconds_of(commissioned), 5.0 * H)


def test_a_larger_task_resets_those_that_it_contains():
    # by hand: the service of May did the oil of January as well, and by way of the oil the filter; the battery, never done, counts from commissioning
    (day, hours), residual, _ = clocks(["2026-05-01", "2026-01-10", None, None], [300, 200, NONE, NONE], [-1, 0, 1, -1])
    assert texts(day) == ["2026-05-01", "2026-05-01", "2026-05-01", "2025-01-01"] and hours / H == approx([300, 300, 300, 5]) and residual == 0
    (day, hours), residual, _ = clocks(["2026-01-10", "2026-05-01"], [200, 300], [-1, 0])  # the smaller one was done later, by itself
    assert texts(day) == ["2026-01-10", "2026-05-01"] and hours / H == approx([200, 300]) and residual == 0
    (_, hours), residual, _ = clocks(["2026-05-01", "2026-05-01"], [300, 301], [-1, 0])  # of two records of one day its own counts
    assert hours / H == approx([300, 301]) and residual == 0


def test_records_with_half_of_what_they_need():
    (day, hours), residual, _ = clocks(["2026-05-01"], [NONE], [-1])  # the meter was not read: the calendar counts from that day all the same
    assert texts(day) == ["2026-05-01"] and np.isnan(hours).all() and residual == 0
    (day, _), _, _ = clocks([None, "2026-01-10"], [200, 150], [-1, 0])  # no day of the larger one: that of the smaller is its own
    assert texts(day) == [None, "2026-01-10"]
    (day, hours), _, _ = clocks(["2025-01-01"], [0], [-1])  # done on the first day by a new meter
    assert texts(day) == ["2025-01-01"] and hours == 0


@pytest.mark.parametrize("last, hours, part_of, what", [
    (["2026-05-01"], [600], [-1], "is 600 h, but the meter reads 500 h: hours that run backwards"),
    (["2026-01-10", "2026-05-01"], [300, 200], [-1, -1], "is 200 h, but a task of an earlier day has 300 h: hours that run backwards"),
    (["2024-12-31"], [0], [-1], "lies before the day of commissioning"),
    (["2026-05-01", "2026-05-01"], [0, 0], [1, 0], "is part of itself, by way of those that contain it"),
])
def test_records_that_cannot_be_are_told(last, hours, part_of, what):
    with pytest.raises(ItemTroubles) as told:
        clocks(last, hours, part_of)
    assert what in [one.what for one in told.value.troubles]


# ---- how often ----

def times(hours, months, part_of, yearly):
    usual = np.full(len(hours), NONE)
    found = c.times_of_tasks.run(np.array(hours) * H, np.array(months), usual, usual, np.array(part_of), yearly * H, 10_000 * YEAR)
    assert found[1] == approx(0, abs=1e-12)
    return found


def test_times_in_a_year():
    # by hand: 250 h at 1000 h a year is four times, of which the yearly service does one; every 6 months is two; 2000 h at 1000 h a year is every other year
    (period, _, often), _, _ = times([NONE, 250, NONE, 2000], [12, 12, 6, NONE], [-1, 0, -1, -1], 1000.0)
    assert period / YEAR == approx([1.0, 0.25, 0.5, 2.0]) and often == approx([1.0, 3.0, 2.0, 0.5])
    (_, _, often), _, _ = times([NONE, 500], [6, 12], [-1, 0], 0.0)  # what contains it comes oftener
    assert often == approx([2.0, 0.0])


def test_an_interval_by_hours_is_not_forgotten_where_the_hours_of_a_year_are_not_known():
    """Every 250 h or once a year is once a year at the least, and nobody knows how much oftener; what has months alone needs no hours."""
    (period, _, often), _, _ = times([250, NONE, NONE], [12, 12, NONE], [-1, -1, -1], np.nan)
    assert period / YEAR == approx([np.nan, 1.0, np.nan], nan_ok=True) and often == approx([np.nan, 1.0, np.nan], nan_ok=True)


def test_usual_intervals():
    # 40 CFR 63 subpart ZZZZ, tables 2c and 2d, as reproduced: oil and hoses 500 h or a year, air cleaner 1000 h or a year; TM 5-685: injectors 2000 h
    kinds = ["oil", "hoses_belts", "air_cleaner", "injectors"]
    assert [c.task_usual_hours.run(kind) / H for kind in kinds] == [500, 500, 1000, 2000]
    assert [c.task_usual_months.run(kind) for kind in kinds[:3]] == [12, 12, 12] and np.isnan(c.task_usual_months.run("injectors"))


def test_hours_of_the_plan_of_the_ledger_or_of_the_plant():
    given = {"planned_hours_yearly": 81.0, "ledger_total_hours": 77.0, "running_hours_per_year": 36.0}
    for modes, records, expected in ((2.0, 3.0, 81), (2.0, 0.0, 81), (0.0, 3.0, 77), (0.0, 0.0, 36)):  # by the order in which they are known
        assert over(c.upkeep_hours_yearly, **given, **{count_name("running_mode"): modes, count_name("running_record"): records}) == expected


def test_a_task_is_due_again_a_day_later_at_the_earliest():
    # hand: 200 h at an hour a day are 200 days; an hour at ten hours a day would be the same day
    assert plan._next(0.0, 200 * H, NONE, H) == 200 * DAY_SECONDS and plan._next(0.0, H, NONE, 10 * H) == DAY_SECONDS


# ---- the plan ----

def planned(length, latest, closed=OPEN, today="2025-01-01", part_of=None):
    limit = seconds_of(today) + np.array(latest) * DAY_SECONDS
    (start, end, late), residual, _ = plan.plan_of_outages.run(np.array(length), limit, limit, np.array(part_of or [-1] * len(length)), closed,
                                                               seconds_of(today), seconds_of("2020-01-01"))
    return [(one - seconds_of(today)) / DAY_SECONDS for one in (start, end, late)], residual


def test_one_crew_earliest_due_first():
    # O8: A 3 days due on day 10, B 2 due 11, C 4 due 12: in time, latest starts on days 3, 6 and 8; with 8 days of C the work ends on day 13, after day 12
    (start, end, late), residual = planned([3, 2, 4], [10, 11, 12])
    assert list(start) == [0, 3, 5] and list(end) == [3, 5, 9] and list(late) == [3, 6, 8] and residual == 0
    (_, end, late), _ = planned([3, 2, 8], [10, 11, 12])
    assert list(end) == [3, 5, 13] and end[2] > 12 and late[0] < 0


def test_no_set_is_out_in_closed_months():
    # by hand: from 30 January, February closed: days 30 and 31 January, then 1 March; backwards from 2 March: 1 March, 31 and 30 January
    closed = OPEN.copy()
    closed[1] = 1
    (start, end, late), _ = planned([3], [31], closed, today="2025-01-30")
    assert (start[0], end[0], late[0]) == (0, 31, 0)
    with pytest.raises(ItemTroubles):
        planned([1], [5], np.ones(12))


def test_what_a_larger_task_does_is_no_work_of_its_own():
    (start, _, _), _ = planned([3, 1, 0, 2], [10, 10, 5, 400], part_of=[-1, 0, -1, -1])  # part of the first; takes nothing out; not within a year
    assert list(start[:1]) == [0] and np.isnan(start[1:]).all()
    (start, _, _), _ = planned([3, 1], [10, 6], part_of=[-1, 0])  # due before the larger one
    assert list(start) == [1, 0]
    (start, _, _), _ = planned([3, 1], [np.nan, 6], part_of=[-1, 0])  # when the larger one is done is not known
    assert np.isnan(start[0]) and start[1] == 0


def test_a_plan_with_two_sets_out_is_told():
    # hand: from day 2 to 3 and from day 4 to 6 two tasks have a set out each: two days at the longest; one after the other none
    assert plan._overlap(np.array([0.0, 2.0, 4.0]) * DAY_SECONDS, np.array([3.0, 6.0, 7.0]) * DAY_SECONDS) == 2
    assert plan._overlap(np.array([0.0, 3.0, NONE, 6.0]) * DAY_SECONDS, np.array([3.0, 6.0, NONE, 7.0]) * DAY_SECONDS) == 0


def test_the_plan_ends_with_the_year():
    # by the calendar: what is due on 31 December is planned and counted, what is due on 1 January a year later is not
    (start, _, _), _ = planned([1, 1], [364, 365])
    assert start[0] == 0 and np.isnan(start[1])
    (count,), _, _ = plan.year_of_tasks.run(days("2025-12-31", "2026-01-01"), np.array([NONE, NONE]), np.array([12, 12]), np.array([-1, -1]), 0.0,
                                            seconds_of("2025-01-01"), seconds_of("2020-01-01"))
    assert count.sum(axis=1).tolist() == [1, 0]


def test_year_of_tasks_by_hand():
    # from 1 January 2025: every three months from 15 February: February, May, August, November; overdue and yearly: January; every 200 h at 1 h a day: 20 July
    found = plan.year_of_tasks.run(days("2025-02-15", "2024-11-01", "2025-07-20"), np.array([NONE, NONE, 200 * H]), np.array([3, 12, NONE]), np.array([-1] * 3),
                                   H, seconds_of("2025-01-01"), seconds_of("2020-01-01"))
    (count,), outside, _ = found
    assert [[int(month) + 1 for month in np.flatnonzero(row)] for row in count] == [[2, 5, 8, 11], [1], [7]] and outside == 0
    # the half-yearly task is done with the yearly one that contains it: alone only half a year later
    (count,), _, _ = plan.year_of_tasks.run(days("2025-03-01", "2025-03-01"), np.array([NONE, NONE]), np.array([12, 6]), np.array([-1, 0]), 0.0,
                                            seconds_of("2025-01-01"), seconds_of("2020-01-01"))
    assert [[int(month) + 1 for month in np.flatnonzero(row)] for row in count] == [[3], [9]]


def test_outage_lowers_what_the_plant_can_do():
    # O9: sets that start with 0.98, two needed: 0.998816 with three, 0.9604 with two; twelve days of outage in the year: 0.997553
    share = c.upkeep_outage_share.run(12 * DAY_SECONDS)
    three, two = (binom.sf(1, number, 0.98) for number in (3, 2))
    assert three == approx(0.998816, abs=5e-7) and two == approx(0.9604, abs=5e-7)
    assert share * two + (1 - share) * three == approx(0.997553, abs=5e-7)


def test_sets_that_may_be_out():
    # counted: three sets of which two carry the demand
    assert plan.upkeep_sets_out_max.run(1.0) == 1 and plan.upkeep_sets_out_max.run(-1.0) == 0
    assert [plan.task_sets_out.run(word, 3.0) for word in ("one_set", "all_sets", "nothing")] == [1, 3, 0]


def test_work_cost_and_outage_by_hand():
    # by hand: three sets, two times a year, 400 EUR and 4 h each: 2400 EUR and 24 h; 36.5 h a year are 0.1 h a day; 12 h of work are two days a set
    assert c.task_sets.run("each_set", 3.0) == 3 and c.task_sets.run("plant", 3.0) == 1
    assert c.task_cost_yearly.run(2.0, 3.0, 400.0) == 2400 == c.upkeep_cost_yearly.run(np.array([2000.0, 400.0]))
    assert c.task_outage_yearly.run(2.0, 3.0, 4 * H, "one_set") == 24 * H == c.upkeep_outage_yearly.run(np.array([20 * H, 4 * H]))
    assert c.task_outage_yearly.run(2.0, 3.0, 4 * H, "nothing") == 0 == plan.task_outage_days.run(4 * H, 8 * H, 3.0, "nothing")
    assert plan.task_outage_days.run(12 * H, 8 * H, 3.0, "one_set") == 6
    # by hand: 24 h one set after the other are 8 h of each of three, 6 h of all are 6 h of each
    assert c.set_upkeep_outage_yearly.run(np.array([24 * H, 6 * H]), np.array([1.0, 3.0]), 3.0) == 14 * H
    assert c.upkeep_hours_daily.run(36.5 * H) == approx(0.1 * H) and c.task_meter_hours.run(45 * H) == 45 * H
    assert plan.task_plan_limit.run(5.0, 4.0) == 5.0 and np.isnan(plan.task_plan_limit.run(3.0, 4.0))


# ---- overhauls and parts ----

def test_age_governs_the_overhaul_of_a_standby_set():
    # O10: 13.5 h a year and 16 000 h are 1185 years, so ten years of age govern
    years = overhauls.overhaul_stage_years_by_hours.run(16_000 * H, 0.0, 13.5 * H, 10_000 * YEAR)
    assert years / YEAR == approx(1185, abs=0.5)
    # hand: of 16 000 h 10 000 are run, which leaves 1.5 years at 4000 h a year; once they are all run, none
    assert [overhauls.overhaul_stage_years_by_hours.run(16_000 * H, run * H, 4000 * H, 10_000 * YEAR) for run in (10_000, 17_000)] == [approx(1.5 * YEAR), 0]
    (by_hours, by_age, first), _, _ = overhauls.days_of_overhauls.run(np.full(3, years), np.array([10, 20, 30]) * YEAR, np.full(3, 16_000 * H),
                                                                      seconds_of("2025-06-01"), seconds_of("2025-03-31"))
    assert texts(first) == texts(by_age) == ["2035-03-31", "2045-03-31", "2055-03-31"] and set(texts(by_hours)) == {"2199-12-31"}


def test_hours_govern_the_overhaul_of_a_set_that_runs_always():
    # by hand: 8000 h a year: 30 000 h after 3.75 years, 50 000 h after 6.25, 100 000 h after 12.5, when a new engine begins
    years = np.array([overhauls.overhaul_stage_years_by_hours.run(hours * H, 0.0, 8000 * H, 10_000 * YEAR) for hours in (30_000, 50_000, 100_000)])
    assert years / YEAR == approx([3.75, 6.25, 12.5])
    assert [overhauls.overhaul_stage_times.run(25 * YEAR, year, 12.5 * YEAR) for year in years] == [2, 2, 2]
    assert overhauls.overhaul_stage_times.run(12 * YEAR, 12.5 * YEAR, 12.5 * YEAR) == 0
    # by Python's calendar: of 3.75, 6.25 and 12.5 years of 365 days the whole days after 1 June 2025, on which the plant went into service
    (by_hours, by_age, first), left, _ = overhauls.days_of_overhauls.run(years, np.array([7, 5, 30]) * YEAR, np.array([30_000, 50_000, 100_000]) * H,
                                                                         seconds_of("2025-03-31"), seconds_of("2025-06-01"))
    after = [(date(2025, 6, 1) + timedelta(number)).isoformat() for number in (1368, 2281, 4562)]
    assert texts(by_hours) == after and texts(by_age) == ["2032-06-01", "2030-06-01", "2055-06-01"]
    assert texts(first) == [after[0], "2030-06-01", after[2]] and left == 0
    with pytest.raises(ItemTroubles):
        overhauls.days_of_overhauls.run(years, np.array([7, 5, 30]) * YEAR, np.array([30_000, 20_000, 100_000]) * H, 0.0, 0.0)


def test_life_and_payments_by_hand():
    # by hand: 25 years less one; two sets at 42 000; 8000 h a year wear out 100 000 h in 12.5 years, 100 h a year leave it to the age of 30
    assert overhauls.life_left.run(25 * YEAR, YEAR) == 24 * YEAR and overhauls.life_left.run(25 * YEAR, 30 * YEAR) == 0
    assert overhauls.overhaul_stage_payment.run(42_000.0, 2.0) == 84_000
    assert over(spares.parts_stock_worth, part_stock_worth=[spares.part_stock_worth.run(3.0, 40.0), 30.0]) == 150
    hours, ages = np.array([30_000, 50_000, 100_000]) * H, np.array([10, 20, 30]) * YEAR
    assert [overhauls.overhaul_cycle.run(hours, ages, yearly * H, 10_000 * YEAR) / YEAR for yearly in (8000, 100)] == approx([12.5, 30])
    today, then = days("2030-01-01", "2035-01-01")
    assert overhauls.overhaul_stage_years.run(then, today, then - 9 * YEAR) == then - today and overhauls.overhaul_stage_years.run(today, then, today) == 0


def test_order_a_part_before_it_is_needed():
    # by the calendar: a month of 31 days before 31 March is 28 February
    assert day_text(spares.part_order_by.run(0, days("2025-03-31"), 31 * DAY_SECONDS, 1.0)) == "2025-02-28"
    assert np.isnan(spares.part_order_by.run(0, days("2025-03-31"), 31 * DAY_SECONDS, 0.0)) and spares.part_missing.run(4.0, 6.0) == 0


# ---- other running than that of the plan ----

def test_a_set_that_is_the_supply_wears_by_hours():
    # hand: 4000 h a year use up 16 000 h in 4 years, ages of 10 come later; 100 h a year leave it to the age. Worn out at 100 000 h: 25 years, or the age of 30
    stages, ages = [16_000 * H, 50_000 * H, 100_000 * H], [10 * YEAR, 20 * YEAR, 30 * YEAR]
    rest = {"overhaul_stage_hours": stages, "mode_hours_yearly": [4000 * H, 100 * H], "overhaul_counted_max": 10_000 * YEAR}
    found = over(running.mode_stage_date, overhaul_stage_by_calendar=ages, status_date=0.0, commissioning_date=0.0, hours_run=0.0, **rest)
    assert found / YEAR == approx(np.array([[4, 12.5, 25], [10, 20, 30]]))
    assert over(running.mode_engine_life, overhaul_stage_calendar=ages, **rest) / YEAR == approx(np.array([25, 30]))
    # hand: of the first 16 000 h 6000 are run: 2.5 years at 4000 h a year, from the later of both days; one that never runs is counted for forty years of hours
    rest |= {"mode_hours_yearly": [4000 * H, 0.0], "overhaul_counted_max": 40 * YEAR, "overhaul_stage_by_calendar": [90 * YEAR] * 3}
    found = over(running.mode_stage_date, status_date=2 * YEAR, commissioning_date=YEAR, hours_run=6000 * H, **rest)
    assert found[0] / YEAR == approx([4.5, 13, 25.5]) and found[1] / YEAR == approx([2 + 40 * 10 / 16, 2 + 40 * 44 / 50, 2 + 40 * 94 / 100])
    found = over(running.mode_stage_date, status_date=2 * YEAR, commissioning_date=3 * YEAR, hours_run=99_000 * H, **rest)
    assert found[0] / YEAR == approx([3, 3, 3.25]) and found[0, 0] == 3 * YEAR  # hand: used up on the day of commissioning; 1000 h are left of the last
    del rest["overhaul_stage_by_calendar"]
    assert over(running.mode_engine_life, overhaul_stage_calendar=[90 * YEAR] * 3, **rest) / YEAR == approx(np.array([25, 40]))
    assert over(overhauls.overhaul_cycle, overhaul_stage_calendar=[90 * YEAR] * 3, upkeep_hours_yearly=0.0, overhaul_counted_max=40 * YEAR,
                overhaul_stage_hours=stages) / YEAR == approx(40)


def test_how_often_an_hour_asks_for_a_task():
    # hand: 1/250 of an hour for the oil; the filter of 500 h is done with it; what goes by the calendar alone does not wear by hours
    (often,), left, _ = running.times_by_hours.run(np.array([250.0, 500.0, np.nan]) * H, np.array([-1, 0, -1]))
    assert often * H == approx([1 / 250, 0, 0]) and left == 0


def test_tasks_of_a_year_by_mode():
    # hand: 500 h or 12 months, 50 a set on two sets, and 30 once a year for the plant: at 100 h 130, at 2000 h four times 100 and 30
    clocks = np.array([500 * H, np.nan]), np.array([12.0, 12.0]), np.array([-1, -1])
    whose = np.array(["each_set", "plant"], dtype=object), np.array([2.0, 1.0]), np.array([50.0, 30.0])
    (all_sets, one_set), left, _ = running.upkeep_of_modes.run([100 * H, 2000 * H], *clocks, *whose, 10_000 * YEAR)
    assert all_sets == approx([130, 430]) and one_set == approx([50, 200]) and left == 0
    assert over(c.set_upkeep_cost_yearly, task_cost_yearly=[100.0, 30.0, 60.0], task_done_on=["each_set", "plant", "each_set"], installed_sets=2.0) == 80


def test_wear_of_an_hour():
    # hand: on two sets a task of 500 each 250 h and one of 300 each 1000 h: 2.30 an hour; overhauls of 200 000 over the 100 000 h of an engine's life: 2.00
    assert over(running.running_wear_price, task_times_hourly=[1 / 250 / H, 1 / 1000 / H], task_sets=[2.0, 2.0], task_cost=[500.0, 300.0], installed_sets=2.0,
                overhaul_stage_cost=[10_000.0, 30_000.0, 160_000.0], overhaul_stage_hours=[30_000 * H, 50_000 * H, 100_000 * H]) * H == approx(4.3)


# ---- books ----

def changed(tmp_path, old, new, file="upkeep.yaml", slug="larkmere-hospital"):
    """The book of a copy of a demo with this text in place of that."""
    place = tmp_path / "projects" / slug
    demo_copy(slug, place)
    text = (place / file).read_text("utf-8")
    assert old in text
    (place / file).write_text(text.replace(old, new, 1), "utf-8")
    return basis.load(place)


@pytest.mark.parametrize("old, new, told", [
    ("task_last_hours: 38 h", "task_last_hours: 380 h", "'task_last_hours' of 'yearly_service': is 380 h, but the meter reads 45 h: hours that run backwards"),
    ("task_last_date: 2028-08-28", "task_last_date: 2028-12-24", "'task_last_date' of 'yearly_service' is 2028-12-24, above 'status_date', 2028-11-20"),
    ("task_last_date: 2028-08-28", "task_last_date: 2026-08-28", "'task_last_date' of 'yearly_service': lies before the day of commissioning"),
    ('    task_interval_months: {value: 12, note: "service contract"}\n', "", "'task_interval_months' of 'yearly_service': the task has no interval"),
])
def test_bad_records_are_faults_with_file_and_line(tmp_path, old, new, told):
    with pytest.raises(Faults) as found:
        changed(tmp_path, old, new)
    fault = next(fault for fault in found.value.faults if told in fault.what)
    assert fault.file.endswith("upkeep.yaml") and fault.line and fault.expected


def test_without_a_status_date_nothing_is_due_and_nothing_passes(tmp_path):
    book = changed(tmp_path, "status_date: 2028-11-20\n", "", "plant.yaml")
    for name in ("tasks_in_time", "upkeep_plan_in_time", "parts_in_time", "overhauls_ahead"):
        assert book.check(name).word == "undecided" and "status_date" in book.check(name).missing


def test_an_overdue_sample_is_told():
    verdict = basis.load(ROOT / "projects" / "larkmere-hospital").check("tasks_in_time")
    assert verdict.word == "fails" and verdict.element == "fuel_sample" and verdict.value.text() == "2028-10-18"  # 18 April 2028 and six months
    assert verdict.margin_text == "−33 d"  # by the calendar: 13 days of October and 20 of November


def test_no_tasks_are_no_pass(tmp_path):
    place = tmp_path / "projects" / "cobble-key-exchange"
    demo_copy("cobble-key-exchange", place)
    (place / "upkeep.yaml").write_text("# No task has been agreed yet.\n", "utf-8")
    book = basis.load(place)
    for name in ("tasks_in_time", "intervals_usual", "upkeep_plan_in_time", "upkeep_keeps_sets", "parts_in_time"):
        assert book.check(name).word == "nothing to check", name


def test_alone_it_runs_on_the_hours_of_the_plant(tmp_path):
    place = tmp_path / "projects" / "cobble-key-exchange"
    demo_copy("cobble-key-exchange", place)
    for file in place.glob("*.yaml"):
        if file.name not in ("project.yaml", "plant.yaml", "upkeep.yaml"):
            file.unlink()
    project = (place / "project.yaml").read_text("utf-8")
    (place / "project.yaml").write_text(re.sub(r"chapters: .*", "chapters: [plant, upkeep]\ninstalled_sets: 1", project), "utf-8")
    with pytest.raises(Faults) as told:  # an engine that is taken as new has no record of 21 h
        basis.load(place)
    assert all("hours that run backwards" in fault.what for fault in told.value.faults)
    (place / "upkeep.yaml").write_text("hours_run: 31 h\n" + (place / "upkeep.yaml").read_text("utf-8"), "utf-8")
    book = basis.load(place)
    assert book["upkeep_hours_yearly"].number / H == approx(36.0)  # hand: the plant's 12 h of tests and 24 h of outages
    assert book.check("tasks_in_time").word == "holds" and book["upkeep_cost_yearly"].number == approx(530.0)  # hand: 380 + 450/3, the rest done with the oil
