"""Life-cycle cost: what is paid on days of its own. The project lists some of it; overhauls come from upkeep, a load bank that is bought from the tests."""

import numpy as np

from basis.language.formula import check, formula, procedure
from basis.language.maths import ceil, floor, h, pick

SHORTEST = 30 * 86400.0  # of a life of engines, seconds: what wears out sooner is no plant


# Listed by the project

@formula(source="cost-end-of-year")
def payment_year(payment_date, commissioning_date):
    """Year of the life in which the payment falls, of 365.25 days. An anniversary ends its year, within the two days by which leap years move it.

    Example: payment_date=[2040-01-01], commissioning_date=2028-01-01 give [12] (hand calculation).
    """
    return ceil((payment_date - commissioning_date - 48 * h) / (8766 * h))


@procedure(source="definition", equation="C_P,n = Σ C_P over the payments of the way with n_P = n", yields=("payment_flow",))
def payments_by_year(payment_amount, payment_case, payment_year, cost_capital, cost_year_number):
    """Payments of each way put into their years. Nothing is solved: what is left over is a payment outside the years counted."""
    flow = np.zeros((len(cost_capital), len(cost_year_number)))
    years = np.asarray(payment_year, dtype=float)
    kept = [place for place in range(len(years)) if 0 <= years[place] < len(cost_year_number)]
    for place in kept:
        flow[int(payment_case[place]), int(round(years[place]))] += payment_amount[place]
    return (flow,), float(np.sum(payment_amount) - np.sum(flow)), "payments outside the years counted"


# Planned by other chapters

@formula(source="definition")
def cost_stage_payment(cost_upkeep_chapter, cost_overhauls, overhaul_stage_cost, cost_sets):
    """Payment of each overhaul of the chapter on upkeep, for the sets of the way; none where it lists its own payments, or upkeep is not in this book."""
    return (overhaul_stage_cost * cost_sets if cost_overhauls == "of_upkeep" else 0) if cost_upkeep_chapter == "in_this_book" else 0


@formula(source="definition")
def cost_stage_time(cost_upkeep_chapter, cost_running_from, overhaul_stage_date, cost_modes_chapter, cost_mode, mode_stage_date, commissioning_date):
    """From commissioning to the first of each overhaul: as planned, or in the running mode of the way."""
    return (((overhaul_stage_date if cost_running_from == "ledger" else pick(cost_mode, mode_stage_date)) if cost_modes_chapter == "in_this_book"
             else overhaul_stage_date) - commissioning_date if cost_upkeep_chapter == "in_this_book" else 0 * h)


@formula(source="definition")
def cost_engine_life(cost_upkeep_chapter, cost_running_from, overhaul_cycle, cost_modes_chapter, cost_mode, mode_engine_life, project_life):
    """From a new engine to a worn-out one, after which overhauls begin anew; the life of the project where upkeep is not in this book."""
    return (((overhaul_cycle if cost_running_from == "ledger" else pick(cost_mode, mode_engine_life)) if cost_modes_chapter == "in_this_book"
             else overhaul_cycle) if cost_upkeep_chapter == "in_this_book" else project_life)


@procedure(source=("overhaul-clocks", "cost-end-of-year"), yields=("overhaul_flow",),
           equation="C_O,n = Σ C_o over the overhauls at t_o + k·y_w < t_L, k = 0, 1, 2 …, whose year is n")
def overhauls_by_year(cost_stage_payment, cost_stage_time, cost_engine_life, project_life, cost_year_number):
    """Overhauls of each way put into their years, one engine after the other. What falls on the last day or later is not paid any more.

    The residual is what was paid and stands in no year.
    """
    flow, paid = np.zeros((len(cost_engine_life), len(cost_year_number))), 0.0
    for way, stage in np.ndindex(np.shape(cost_stage_payment)):
        if not cost_stage_payment[way, stage]:  # none, also where its day is not known
            continue
        if np.isnan(cost_stage_payment[way, stage] + cost_stage_time[way, stage] + cost_engine_life[way]):
            flow[way] = np.nan
            continue
        for day in np.arange(cost_stage_time[way, stage], project_life, max(cost_engine_life[way], SHORTEST)):
            flow[way, year_of(day)] += cost_stage_payment[way, stage]
            paid += cost_stage_payment[way, stage]
    return (flow,), float(paid - np.nansum(flow)) if not np.isnan(flow).any() else 0.0, "payments that stand in no year"


def year_of(seconds: float) -> int:
    """Year of the life in which a day falls, as for payments: an anniversary ends its year."""
    return max(0, int(np.ceil((seconds - 48 * 3600.0) / (8766 * 3600.0))))


@formula(source="bank-bought-again")
def bank_flow(cost_testing_chapter, bank_purchase, cost_year_number, bank_life, cost_last_year):
    """A load bank that the chapter on tests buys: on the first day, and again whenever its life is over. Paid alike whatever way is built."""
    return ((bank_purchase * (floor(cost_year_number * (8760 * h) / bank_life) - floor((cost_year_number - 1) * (8760 * h) / bank_life))
             if cost_year_number < cost_last_year else 0) if cost_testing_chapter == "in_this_book" else 0)


@formula(source="definition")
def cost_dated_flow(payment_flow, overhaul_flow, bank_flow):
    """All that is paid on days of its own."""
    return payment_flow + overhaul_flow + bank_flow


# What no sound text gives.
payment_first = check("payment_not_before_first_day", "payment_date", limit="commissioning_date", safe="above", source="definition",
                      title="Payments from the day of commissioning on", exact=True, self_test=True,
                      fault="a day on or after 'commissioning_date'; what is paid before it belongs to 'cost_capital'")
payment_last = check("payment_within_life", "payment_year", limit="cost_last_year", safe="below", source="definition",
                     title="Payments within the life", exact=True, self_test=True, fault="a day within 'project_life' from 'commissioning_date'")
