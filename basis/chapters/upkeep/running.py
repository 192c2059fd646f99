"""What running takes of upkeep: the wear of an hour, and tasks and overhauls of a year in each running mode."""

import numpy as np

from basis.chapters.upkeep.chapter import YEAR, doings, mean_period
from basis.language.formula import formula, procedure
from basis.language.maths import h, max_over, sum_over


@procedure(source=("two-clocks", "upkeep-mean"), yields=("task_times_hourly",), equation="n_k,h = 1/I_h less that of what contains it")
def times_by_hours(task_interval_hours, task_part_of):
    """How often an hour of running asks for each task by itself, the calendar left out. The residual: parts of a doing below nought."""
    with np.errstate(divide="ignore"):
        _, alone = doings(np.nan_to_num(1 / np.asarray(task_interval_hours, dtype=float)), task_part_of)
    return (alone,), float(max(0.0, -np.min(alone, initial=0.0))), "doings below nought, an hour"


@formula(source="wear-by-hours")
def running_wear_price(task_times_hourly, task_sets, task_cost, installed_sets, overhaul_stage_cost, overhaul_stage_hours):
    """Upkeep that an hour of one set uses up, overhauls spread over the hours of an engine's life. On standby the calendar pays part of it anyway.

    Example: task_times_hourly=[0.004 1/h], task_sets=[2], task_cost=[500 EUR], installed_sets=2, overhaul_stage_cost=[10000 EUR, 30000 EUR, 160000 EUR],
    overhaul_stage_hours=[30000 h, 50000 h, 100000 h] give 4 EUR/h (hand calculation).
    """
    return (sum_over("task", task_times_hourly * task_sets * task_cost) / installed_sets
            + sum_over("overhaul_stage", overhaul_stage_cost) / max_over("overhaul_stage", overhaul_stage_hours))


# ---- other running than that of the plan ----

@procedure(source=("two-clocks", "upkeep-mean"), yields=("mode_upkeep_yearly", "mode_set_upkeep_yearly"),
           equation="C_U,m = Σ n_k(t_m,Σ)·N_k·C_k, times by both clocks as for the plan;  C_U1,m = Σ n_k(t_m,Σ)·C_k over tasks of each set")
def upkeep_of_modes(mode_hours_yearly, task_interval_hours, task_interval_months, task_part_of, task_done_on, task_sets, task_cost, overhaul_counted_max):
    """Cost of all tasks in a mean year of each mode: little more for a few called days, many times as much where a set is the supply."""
    costs = np.array([doings(YEAR / mean_period(task_interval_hours, task_interval_months, hours, overhaul_counted_max), task_part_of)[1] * task_cost
                      for hours in mode_hours_yearly]).reshape(len(mode_hours_yearly), len(task_cost))
    return (costs @ task_sets, costs @ (np.asarray(task_done_on) == "each_set")), 0.0, "sums, no equation left over"


@formula(source="overhaul-clocks")
def mode_stage_date(overhaul_stage_by_calendar, status_date, commissioning_date, overhaul_stage_hours, hours_run, mode_hours_yearly, overhaul_counted_max):
    """Day of each overhaul in each mode: by its hours or by age, whichever comes first."""
    return min(overhaul_stage_by_calendar, max(status_date, commissioning_date)
               + max(0, overhaul_stage_hours - hours_run) / max(mode_hours_yearly / (8760 * h), overhaul_stage_hours / overhaul_counted_max))


@formula(source="overhaul-clocks")
def mode_engine_life(overhaul_stage_hours, overhaul_stage_calendar, mode_hours_yearly, overhaul_counted_max):
    """Time from a new engine to a worn-out one in each mode.

    Example: overhaul_stage_hours=[30000 h, 50000 h, 100000 h], overhaul_stage_calendar=[10 year, 20 year, 30 year], mode_hours_yearly=[8000 h] give
    [12.5 year] (hand calculation).
    """
    return min(max_over("overhaul_stage", overhaul_stage_hours) / max(mode_hours_yearly / (8760 * h),
                                                                     max_over("overhaul_stage", overhaul_stage_hours) / overhaul_counted_max),
               max_over("overhaul_stage", overhaul_stage_calendar))
