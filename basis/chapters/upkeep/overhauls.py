"""Overhauls over the life of the engines: by hours or by age, and what they cost."""

import numpy as np

from basis.language.days import DAY_SECONDS, LAST_DAY
from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import check, formula, procedure
from basis.language.maths import floor, h, max_over
from basis.physics.months import each_months_later


@formula(source="overhaul-clocks")
def overhaul_stage_years_by_hours(overhaul_stage_hours, hours_run, upkeep_hours_yearly, overhaul_counted_max):
    """Time until the hours of the overhaul are used up, none if they are; ten thousand years at the latest.

    Example: overhaul_stage_hours=[16000 h, 16000 h, 16000 h], hours_run=0 h, upkeep_hours_yearly=13.5 h give [1185 year, 1185 year, 1185 year] (hand
    calculation).
    """
    return max(0, overhaul_stage_hours - hours_run) / max(upkeep_hours_yearly / (8760 * h), overhaul_stage_hours / overhaul_counted_max)


@procedure(source="overhaul-clocks", yields=("overhaul_stage_by_hours", "overhaul_stage_by_calendar", "overhaul_stage_date"),
           equation="d_o,h = max(d_s, d_c) + y_o,h;  d_o,c = d_c + 12·y_o months;  d_o = min(d_o,h, d_o,c)")
def days_of_overhauls(overhaul_stage_years_by_hours, overhaul_stage_calendar, overhaul_stage_hours, status_date, commissioning_date):
    """Day of each overhaul by both clocks. A standby set seldom comes near its hours: seals, hoses and bearings age under it."""
    if np.any(np.diff(overhaul_stage_hours) < 0):
        raise ItemTroubles([ItemTrouble("overhaul_stage_hours", "", "a later overhaul has fewer hours than an earlier one", "hours that rise")])
    by_hours = np.minimum(max(status_date, commissioning_date) + np.floor(overhaul_stage_years_by_hours / DAY_SECONDS) * DAY_SECONDS, LAST_DAY)
    by_calendar = each_months_later(commissioning_date, np.floor(overhaul_stage_calendar / (8760 * h) * 12 + 1e-9))
    date = np.minimum(by_hours, by_calendar)
    return (by_hours, by_calendar, date), float(np.max(date - np.fmin(by_hours, by_calendar))) / DAY_SECONDS, "days after the earlier of both clocks"


@formula(source="definition")
def overhaul_stage_years(overhaul_stage_date, status_date, commissioning_date):
    """Time to the overhaul from the day to which the book counts, or from commissioning if that is still to come."""
    return max(0, overhaul_stage_date - max(status_date, commissioning_date))


@formula(source="definition")
def overhaul_stage_payment(overhaul_stage_cost, installed_sets):
    """Payment for the overhaul of all sets. Example: overhaul_stage_cost=[1000 EUR, 2000 EUR, 5000 EUR], installed_sets=2 give [2000 EUR, 4000 EUR, 10000 EUR]
    (hand calculation).
    """
    return overhaul_stage_cost * installed_sets


@formula(source="definition")
def life_left(project_life, plant_age):
    """Rest of the project's life. Example: project_life=25 year, plant_age=1 year give 24 year (hand calculation)."""
    return max(0, project_life - plant_age)


@formula(source="overhaul-clocks")
def overhaul_cycle(overhaul_stage_hours, overhaul_stage_calendar, upkeep_hours_yearly, overhaul_counted_max):
    """Time from a new engine to a worn-out one, hours or age.

    Example: overhaul_stage_hours=[30000 h, 50000 h, 100000 h], overhaul_stage_calendar=[10 year, 20 year, 30 year], upkeep_hours_yearly=8000 h give 12.5 year
    (hand calculation).
    """
    return min(max_over("overhaul_stage", overhaul_stage_hours) / max(upkeep_hours_yearly / (8760 * h),
                                                                     max_over("overhaul_stage", overhaul_stage_hours) / overhaul_counted_max),
               max_over("overhaul_stage", overhaul_stage_calendar))


@formula(source="overhaul-clocks")
def overhaul_stage_times(life_left, overhaul_stage_years, overhaul_cycle):
    """How often the overhaul falls into the rest of the life, one engine after the other; the first at its years, each further one a life of an engine later.

    Example: life_left=25 year, overhaul_stage_years=[3.75 year, 6.25 year, 12.5 year], overhaul_cycle=12.5 year give [2, 2, 2] (hand calculation).
    """
    return max(0, floor((life_left - overhaul_stage_years) / overhaul_cycle) + 1)


overhauls_ahead = check("overhauls_ahead", "overhaul_stage_date", limit="status_date", safe="above", source="overhaul-clocks",
                        title="Overhauls that are not overdue", exact=True)
