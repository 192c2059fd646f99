"""The plan of upkeep: which sets may be out, when the one crew takes them out so that enough stay ready, and the year by months."""

from heapq import heapify, heappop, heappush

import numpy as np

from basis.chapters.upkeep.containing import containing
from basis.language.days import DAY_SECONDS, month_of, months_later
from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import check, formula, procedure
from basis.language.maths import ceil, nothing


@formula(source="definition")
def task_sets_out(task_outage, installed_sets):
    """Sets that cannot start while the crew works. Example: task_outage=[one_set], installed_sets=3 give [1] (counted)."""
    return (1 if task_outage == "one_set" else installed_sets if task_outage == "all_sets" else 0)


@formula(source="k-of-n-kept")
def upkeep_sets_out_max(sets_in_reserve):
    """Sets that may be out while the others carry the firm demand. Example: sets_in_reserve=1 give 1 (counted)."""
    return max(0, sets_in_reserve)


@formula(source="definition")
def task_outage_days(task_duration, crew_day, task_sets, task_outage):
    """Days of the crew on which a set is out. A day that is begun is a day out.

    Example: task_duration=[12 h], crew_day=8 h, task_sets=[3], task_outage=[one_set] give [6] (hand calculation).
    """
    return ceil(task_duration / crew_day) * task_sets if task_outage != "nothing" else 0


@procedure(source="earliest-due-first", yields=("task_plan_start", "task_plan_end", "task_latest_start"),
           equation="forwards by d_x: d_b,i = d_e,i−1, d_e,i = d_b,i + n_w open days;  backwards: d_s,x,i = min(d_x,i, d_s,x,i+1) − n_w open days")
def plan_of_outages(task_outage_days, task_due, task_latest, task_part_of, upkeep_months_closed, status_date, commissioning_date):
    """Work of the one crew in the year that follows on tasks that take a set out, what is due earliest first and one set after the other, not in months that
    are closed. What is done in time with a larger task is no work of its own.

    Days are those on which the work begins and on which the last set is back.
    """
    if np.all(upkeep_months_closed):
        raise ItemTroubles([ItemTrouble("upkeep_months_closed", "", "all months are closed", "one month or more in which a set may be taken out")])
    today = max(status_date, commissioning_date)
    own = [not any(task_due[larger] <= task_latest[place] for larger in containing(place, task_part_of)) for place in range(len(task_due))]
    jobs = sorted(np.flatnonzero((task_outage_days > 0) & np.array(own, dtype=bool) & (task_due < months_later(today, 12))),
                  key=lambda place: (task_latest[place], place))
    start, end, latest = (np.full(np.shape(task_due), np.nan) for _ in range(3))
    free = today / DAY_SECONDS
    for place in jobs:
        worked = _open_days(free, task_outage_days[place], upkeep_months_closed, 1)
        free = worked[-1] + 1
        start[place], end[place] = worked[0] * DAY_SECONDS, free * DAY_SECONDS
    until = np.inf
    for place in reversed(jobs):
        until = _open_days(min(until, task_latest[place] / DAY_SECONDS) - 1, task_outage_days[place], upkeep_months_closed, -1)[-1]
        latest[place] = until * DAY_SECONDS
    return (start, end, latest), _overlap(start, end), "days on which two sets are out by the plan"


def _open_days(day: float, count: float, closed, step: int) -> list[int]:
    """So many days of open months, from a day on, forwards or backwards."""
    found, day = [], round(day)
    while len(found) < count:
        if not closed[month_of(day * DAY_SECONDS)]:
            found.append(day)
        day += step
    return found


def _overlap(start, end) -> float:
    """The longest time in days for which one task of the plan begins before the one before it ends."""
    begun, ended = np.sort(start[~np.isnan(start)]), np.sort(end[~np.isnan(end)])
    return float(np.max(ended[:-1] - begun[1:], initial=0.0)) / DAY_SECONDS


@formula(source="definition")
def task_plan_limit(task_latest, status_date):
    """The day by which a task is to be done; one that is overdue is told by its own check, and is done first."""
    return task_latest if task_latest >= status_date else nothing


@procedure(source="two-clocks", yields=("task_month_count",),
           equation="n_m = days due in the month within twelve months of max(d_s, d_c), each doing resetting the task and all that it contains")
def year_of_tasks(task_due, task_interval_hours, task_interval_months, task_part_of, upkeep_hours_daily, status_date, commissioning_date):
    """The year that follows, task by task: each is done on the day that it is due, what is overdue at once, and its clocks begin anew.

    Where two are due on one day the larger is done, which does the smaller as well. The residual is the number of doings outside the year.
    """
    today = max(status_date, commissioning_date)
    end, count = months_later(today, 12), np.zeros((len(task_due), 12))
    parts = {place: [part for part in range(len(task_due)) if place in containing(part, task_part_of)] for place in range(len(task_due))}
    waiting = [(max(day, today), len(containing(place, task_part_of)), place) for place, day in enumerate(task_due) if not np.isnan(day)]
    heapify(waiting)
    due = {place: day for day, _, place in waiting}
    outside = 0
    while waiting and waiting[0][0] < end:
        day, depth, place = heappop(waiting)
        if due[place] != day:
            continue  # done meanwhile with what contains it
        count[place, month_of(day)] += 1
        outside += not today <= day < end
        for other in (place, *parts[place]):
            due[other] = _next(day, task_interval_hours[other], task_interval_months[other], upkeep_hours_daily)
            heappush(waiting, (due[other], len(containing(other, task_part_of)), other))
    count[np.isnan(task_due)] = np.nan
    return (count,), float(outside), "doings outside the year"


def _next(day: float, hours: float, months: float, daily: float) -> float:
    """When it is due again after it was done on a day, a day later at the earliest."""
    by_hours = day + np.floor(hours / daily + 1e-9) * DAY_SECONDS if daily else np.inf
    return max(day + DAY_SECONDS, np.fmin(by_hours, months_later(day, months)))


# ---- checks ----

sets_out = check("upkeep_keeps_sets", "task_sets_out", limit="upkeep_sets_out_max", safe="below", source="k-of-n-kept",
                 title="Sets out for upkeep while enough are ready", exact=True)
plan_in_time = check("upkeep_plan_in_time", "task_plan_end", limit="task_plan_limit", safe="below", source="earliest-due-first",
                     title="Upkeep by one crew in time", exact=True)
