"""Upkeep and life: tasks by hours and by the calendar, when each is next due, what a year of them costs and how long sets are out.

The plan of the crew and the year stand in plan.py, spare parts in spares.py, overhauls in overhauls.py, what other running would take in running.py, which
task contains which in containing.py. Left out: wear by cold starts, oil analysis, and meters that differ from set to set unless a task gives its own.
"""

import numpy as np

from basis.chapters.upkeep.containing import containing
from basis.language.days import DAY_SECONDS, LAST_DAY
from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import chapter, check, formula, order, procedure
from basis.language.maths import count_over, h, lookup, sum_over
from basis.physics.months import each_months_later

YEAR = 8760 * 3600.0  # seconds
CHAPTER = chapter("upkeep", "Upkeep and life", order=240,
                  settles="What is due when, by hours and by calendar, and what it costs.",
                  cautions=(
    "A set on standby starts by itself. Before anybody works on it: mode switch off, emergency stop pressed, battery isolated or start air shut and vented, "
    "breaker racked out, all of it locked and tagged by those who do the work.",
    "Oil, coolant and exhaust stay hot for hours, and a radiator cap that is opened on a hot loop scalds. Let it cool, and release pressure slowly.",
    "After every task the set goes back to automatic, and somebody else proves it: a switch that is left in manual is found when the supply fails.",
    "While a set is out the plant has less to answer with, and a plant of one set nothing. Tell those who depend on it, and do not begin when a storm or "
    "work on the feeders is announced.",
    "Used oil, coolant and batteries are waste that harms. Catch them, label them, and hand them to those who may take them.",
))

# ---- hours ----

@formula(source="hours-ledger")
def upkeep_hours_yearly(planned_hours_yearly, ledger_total_hours, running_hours_per_year):
    """Hours of one set in a usual year: in the running mode that is planned; where no modes are listed what the ledger adds up; where no running is listed
    either, what the plant's chapter states for tests and outages.
    """
    return (planned_hours_yearly if count_over("running_mode") > 0 else ledger_total_hours if count_over("running_record") > 0 else running_hours_per_year)


@formula(source="hours-ledger")
def upkeep_hours_daily(upkeep_hours_yearly):
    """Hours of one set in a mean day. Example: upkeep_hours_yearly=36.5 h give 0.1 h (hand calculation)."""
    return upkeep_hours_yearly / 365


@formula(source="hours-ledger")
def task_meter_hours(hours_run):
    """The reading of the plant's hour meter, unless the task belongs to an engine with another."""
    return hours_run


# ---- clocks ----

@procedure(source="two-clocks", yields=("task_clock_date", "task_clock_hours"),
           equation="d_0 = max d_l over the task and all that contain it, t_0,k = t_l on that day;  never done: d_c, t_c,0")
def clocks_of_tasks(task_last_date, task_last_hours, task_meter_hours, task_part_of, commissioning_date, commissioning_hours):
    """Day and hours from which each task counts. A task that is part of another one was done with it.

    Records that cannot be are told: hours that run backwards, a task done before commissioning, a task that is part of itself.
    """
    never = np.isnan(task_last_date) & np.isnan(task_last_hours)
    dates = np.where(never, commissioning_date, task_last_date)
    hours = np.where(never, commissioning_hours, task_last_hours)
    larger = [containing(place, task_part_of) for place in range(len(dates))]
    troubles = [ItemTrouble("task_part_of", place, "is part of itself, by way of those that contain it", "a larger task")
                for place, above in enumerate(larger) if place in above]
    troubles += _backwards(task_last_date, task_last_hours, task_meter_hours) + _too_early(task_last_date, commissioning_date)
    if troubles:
        raise ItemTroubles(troubles)
    latest = [max((place, *above), key=lambda other: (np.nan_to_num(dates[other], nan=-np.inf), other == place)) for place, above in enumerate(larger)]
    earlier = max((dates[other] - dates[latest[place]] for place, above in enumerate(larger) for other in above), default=0.0)
    return (dates[latest], hours[latest]), max(0.0, float(earlier)) / DAY_SECONDS, "days by which a containing task was done later than the clock says"


def _backwards(dates, hours, meters) -> list[ItemTrouble]:
    """Readings above that of the meter now, or below that of an earlier day of the same meter."""
    def told(place: int, what: str, expected: str) -> ItemTrouble:
        return ItemTrouble("task_last_hours", int(place), f"is {hours[place] / 3600:g} h, but {what}: hours that run backwards", expected)
    above = [told(place, f"the meter reads {meters[place] / 3600:g} h", "at most the reading of the meter, `hours_run` or `task_meter_hours`")
             for place in np.flatnonzero(hours > meters)]
    before = [np.nanmax(hours[(dates < day) & (meters == meter)], initial=0.0) for day, meter in zip(dates, meters)]
    return above + [told(place, f"a task of an earlier day has {before[place] / 3600:g} h", "readings that rise from day to day")
                    for place in np.flatnonzero(hours < before)]


def _too_early(dates, commissioning_date) -> list[ItemTrouble]:
    return [ItemTrouble("task_last_date", int(place), "lies before the day of commissioning", "a day from `commissioning_date` on")
            for place in np.flatnonzero(dates < commissioning_date)]


@procedure(source="two-clocks", yields=("task_due_by_hours", "task_due_by_calendar", "task_due", "task_latest"),
           equation="d_h = max(d_s, d_c) + ⌊(t_0,k + I_h − t_m)/t_d⌋ days;  d_m = d_0 + I_m months;  d_n = min(d_h, d_m);  d_x: the same with (1 + y_tol)·I")
def days_due(task_clock_date, task_clock_hours, task_interval_hours, task_interval_months, task_meter_hours, task_tolerance, task_legal, upkeep_hours_daily,
             status_date, commissioning_date):
    """Next due day of each task by both clocks. Hours that are used up were due the day before at the latest, and on the day of commissioning at the
    earliest. The day by hours is found anew with every status date, for it rests on the running of a mean day.
    """
    if (neither := np.isnan(task_interval_hours) & np.isnan(task_interval_months)).any():
        raise ItemTroubles(ItemTrouble("task_interval_months", int(place), "the task has no interval", "`task_interval_hours`, `task_interval_months` or both")
                           for place in np.flatnonzero(neither))
    today = max(status_date, commissioning_date)
    share = np.where(np.asarray(task_legal) == "yes", 0.0, task_tolerance)
    by_hours, latest_by_hours = (_by_hours(task_clock_hours + factor * task_interval_hours - task_meter_hours, upkeep_hours_daily, today, commissioning_date)
                                 for factor in (1.0, 1.0 + share))
    by_calendar = each_months_later(task_clock_date, task_interval_months)
    latest_by_calendar = by_calendar + np.floor(share * (by_calendar - task_clock_date) / DAY_SECONDS) * DAY_SECONDS
    unknown = np.isnan(by_hours) & ~np.isnan(task_interval_hours) | np.isnan(by_calendar) & ~np.isnan(task_interval_months)
    due, latest = (np.where(unknown, np.nan, np.minimum(np.fmin(first, second), LAST_DAY))
                   for first, second in ((by_hours, by_calendar), (latest_by_hours, latest_by_calendar)))
    over = np.nanmax(np.concatenate([due - by_hours, due - by_calendar]), initial=0.0)
    return (by_hours, by_calendar, due, latest), float(over) / DAY_SECONDS, "days by which a task is due later than by one of its clocks"


def _by_hours(left, daily: float, today: float, begun: float):
    """Day on which hours are used up, at the earliest that of commissioning: what a mean day would lay before it was run off faster. Not given where there are
    none to be used up.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        days = np.where(left > 0, np.floor(left / daily + 1e-9), np.minimum(np.floor(left / daily), -1.0) if daily else -1.0)
    return np.where(np.isnan(left), np.nan, np.clip(today + days * DAY_SECONDS, min(begun, today - DAY_SECONDS), LAST_DAY))


# ---- how often, what it costs, how long a set is out ----

@formula(source="upkeep-intervals")
def task_usual_hours(task_kind):
    """Hours after which tasks of this sort are usually done."""
    return lookup("upkeep-intervals", "hours", task_kind)


@formula(source="upkeep-intervals")
def task_usual_months(task_kind):
    """Months after which tasks of this sort are usually done."""
    return lookup("upkeep-intervals", "months", task_kind)


@procedure(source=("two-clocks", "upkeep-mean"), yields=("task_period", "task_period_usual", "task_times_yearly"),
           equation="T_k = min(I_m/12, I_h/t_y) years;  T_u: the same with I_h,u and I_m,u;  n_k = 1/T_k less that of what contains it")
def times_of_tasks(task_interval_hours, task_interval_months, task_usual_hours, task_usual_months, task_part_of, upkeep_hours_yearly, overhaul_counted_max):
    """Mean time between two doings of each task, and how often a year has it by itself. Done oftener than its interval it is by what contains it."""
    own, usual = (mean_period(hours, months, upkeep_hours_yearly, overhaul_counted_max)
                  for hours, months in ((task_interval_hours, task_interval_months), (task_usual_hours, task_usual_months)))
    rate, alone = doings(YEAR / own, task_part_of)
    back = np.max(np.nan_to_num(np.abs(rate * own / YEAR - np.maximum(1.0, rate * own / YEAR))), initial=0.0)
    return (own, usual, alone), float(back), "part of a doing that is missing in an interval"


def mean_period(hours, months, yearly: float, longest: float) -> np.ndarray:
    """Mean time between two doings by both clocks at so much running in a year, the earlier clock counting: one without an interval never strikes, and
    where the hours of a year are not known nobody knows when the other does.
    """
    with np.errstate(divide="ignore"):
        by_hours = np.where(np.isnan(hours), np.inf, np.minimum(hours / yearly * YEAR, longest))
    found = np.minimum(by_hours, np.where(np.isnan(months), np.inf, months / 12 * YEAR))
    return np.where(np.isinf(found), np.nan, found)


def doings(own, part_of) -> tuple[np.ndarray, np.ndarray]:
    """How often each task is done, from how often its own interval asks for it: as often as what contains it at least; and how often by itself."""
    rate = np.array([max(own[other] for other in (place, *containing(place, part_of))) for place in range(len(own))])
    return rate, rate - np.array([rate[larger] if larger >= 0 else 0.0 for larger in np.asarray(part_of, dtype=int)])


@formula(source="definition")
def task_sets(task_done_on, installed_sets):
    """Sets on which the task is done. Example: task_done_on=[each_set], installed_sets=3 give [3] (counted)."""
    return installed_sets if task_done_on == "each_set" else 1


@formula(source="upkeep-mean")
def task_cost_yearly(task_times_yearly, task_sets, task_cost):
    """Cost of the task in a mean year. Example: task_times_yearly=[2], task_sets=[3], task_cost=[400 EUR] give [2400 EUR] (hand calculation)."""
    return task_times_yearly * task_sets * task_cost


@formula(source="upkeep-mean")
def upkeep_cost_yearly(task_cost_yearly):
    """Cost of all tasks in a mean year, without overhauls, which stand by their own years."""
    return sum_over("task", task_cost_yearly)


@formula(source="upkeep-mean")
def set_upkeep_cost_yearly(task_cost_yearly, task_done_on, installed_sets):
    """Cost of the tasks of one set: what one set more would add.

    Example: task_cost_yearly=[2400 EUR, 500 EUR], task_done_on=[each_set, plant], installed_sets=3 give 800 EUR (hand calculation).
    """
    return sum_over("task", task_cost_yearly if task_done_on == "each_set" else 0) / installed_sets


@formula(source="upkeep-mean")
def task_outage_yearly(task_times_yearly, task_sets, task_duration, task_outage):
    """Mean time in a year for which the task keeps a set from starting, one set after another.

    Example: task_times_yearly=[2], task_sets=[3], task_duration=[4 h], task_outage=[one_set] give [24 h] (hand calculation).
    """
    return task_times_yearly * task_sets * task_duration * (1 if task_outage != "nothing" else 0)


@formula(source="upkeep-mean")
def upkeep_outage_yearly(task_outage_yearly):
    """Mean time in a year for which a set of the plant is out for upkeep."""
    return sum_over("task", task_outage_yearly)


@formula(source="upkeep-mean")
def set_upkeep_outage_yearly(task_outage_yearly, task_sets_out, installed_sets):
    """Mean time in a year for which one set is out for upkeep.

    Example: task_outage_yearly=[24 h, 6 h], task_sets_out=[1, 3], installed_sets=3 give 14 h (hand calculation: 8 h of its own and 6 h with all others).
    """
    return sum_over("task", task_outage_yearly * task_sets_out) / installed_sets


@formula(source="definition")
def upkeep_outage_share(upkeep_outage_yearly):
    """Share of the year for which a set is out. Example: upkeep_outage_yearly=288 h give 3.288 % (hand calculation: 12 days of 365)."""
    return upkeep_outage_yearly / (8760 * h)


# ---- checks ----

in_time = check("tasks_in_time", "task_latest", limit="status_date", safe="above", source="two-clocks", title="Tasks that are not overdue", exact=True)
usual = check("intervals_usual", "task_period", limit="task_period_usual", safe="below", source="upkeep-intervals", title="Intervals within common practice",
              exact=True)

# What no sound text gives the other way round.
last_date_order = order("task_last_date", "status_date")
