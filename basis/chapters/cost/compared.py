"""Life-cycle cost, second part: what a way saves against the one compared with, when it pays back, and what the answer hangs on."""

from functools import lru_cache

import numpy as np

from basis.language.formula import SOME, check, formula, procedure
from basis.language.maths import nothing, pick, sum_over

YEAR = 8760 * 3600.0  # seconds
RATES = np.expm1(np.linspace(np.log(0.01), np.log(11.0), 4001))  # searched for rates of return: -99 % to 1000 %
HALVINGS = 60


# Against the way compared with

@formula(source="definition")
def cost_compared(cost_case_base, cost_case_chosen):
    """Whether the chosen way is held against another one."""
    return 1 if cost_case_base != cost_case_chosen else 0


@formula(source="definition")
def cost_saved(cost_case_base, cost_flow):
    """Saved in each year against the way compared with; what is paid more at first stands as a saving below nought."""
    return pick(cost_case_base, cost_flow) - cost_flow


@formula(source="life-cycle-cost")
def cost_saving(cost_case_base, cost_net_present):
    """Net savings over the life. Example: cost_case_base=item_1, cost_net_present=[100 cur, 90 cur] give [0 cur, 10 cur] (hand calculation)."""
    return pick(cost_case_base, cost_net_present) - cost_net_present


@formula(source="cost-inconclusive")
def cost_gap(cost_case_base, cost_net_present):
    """How far each way lies from the one compared with, either side."""
    return (abs(cost_net_present - pick(cost_case_base, cost_net_present)) / pick(cost_case_base, cost_net_present)
            if pick(cost_case_base, cost_net_present) > 0 else nothing)


@formula(source="definition")
def cost_capital_equal(cost_capital, cost_saving):
    """First cost that would use up the whole saving. Example: cost_capital=[100 cur], cost_saving=[10 cur] give [110 cur] (hand calculation)."""
    return cost_capital + cost_saving


@formula(source="cost-savings-ratio")
def cost_savings_ratio(cost_case_chosen, cost_case_base, cost_saving, cost_capital):
    """Of the way that is built. Above one the extra first cost is earned back with interest.

    Example: cost_case_chosen=item_2, cost_case_base=item_1, cost_saving=[0 cur, 25 cur], cost_capital=[100 cur, 150 cur] give 1.5 (hand calculation).
    """
    return (1 + pick(cost_case_chosen, cost_saving) / (pick(cost_case_chosen, cost_capital) - pick(cost_case_base, cost_capital))
            if pick(cost_case_chosen, cost_capital) > pick(cost_case_base, cost_capital) else nothing)


@procedure(source="cost-pay-back", equation="Σ S_n·v_n from 0 to t = 0, with v_n = 1 for the simple one; even within a year",
           yields=("cost_payback", "cost_payback_discounted"))
def pay_back(cost_saved, cost_worth_factor, cost_last_year):
    """Time after which the sum of the savings stays at nought or above to the end of the life. A later overhaul that takes it below again moves it on."""
    saved = np.asarray(cost_saved, dtype=float)[:, :int(round(float(cost_last_year))) + 1]
    factor = np.asarray(cost_worth_factor, dtype=float)[:saved.shape[1]]
    sums = [np.cumsum(saved, axis=1), np.cumsum(saved * factor, axis=1)]
    found = [np.array([_crossing(one) for one in each]) for each in sums]
    return tuple(YEAR * each for each in found), float(max(_left(each, at) for each, at in zip(sums, found, strict=True))), "sum at the time found, in money"


def _crossing(sums: np.ndarray) -> float:
    """Years until the running sum has met what was paid first, for good; NaN where nothing was paid more or it is never met."""
    below = np.flatnonzero(sums < 0)
    if not sums[0] < 0 or below[-1] == len(sums) - 1:
        return np.nan
    last = below[-1]
    return last - sums[last] / (sums[last + 1] - sums[last])


def _left(sums: np.ndarray, found: np.ndarray) -> float:
    """Largest sum that is left at the times found."""
    return max((abs(np.interp(at, np.arange(sums.shape[1]), one)) for one, at in zip(sums, found, strict=True) if not np.isnan(at)), default=0.0)


@procedure(source="cost-rate-of-return", equation="Σ S_n·(1 + i)^−n = 0", yields=("cost_rates", "cost_rate", "cost_rate_highest"))
def rate_of_return(cost_saved, cost_year_number):
    """All rates from −99 % to 1000 % at which the two ways cost the same. Savings that change sign more than once may have several."""
    saved, years = np.asarray(cost_saved, dtype=float), np.asarray(cost_year_number, dtype=float)
    roots = [_rates(flow, years) for flow in saved]
    left = [abs(_worth(flow, years, rate)) / np.sum(abs(flow) * (1 + rate) ** -years) for flow, found in zip(saved, roots, strict=True) for rate in found]
    return ((np.array([float(len(found)) for found in roots]), np.array([found[0] if found else np.nan for found in roots]),
             np.array([found[-1] if len(found) > 1 else np.nan for found in roots])), float(max(left, default=0.0)), "worth at the rate over all sums")


def _rates(flow: np.ndarray, years: np.ndarray) -> list[float]:
    """Roots between neighbours of the search where the worth changes its sign, halved down."""
    below = _factors(tuple(years)) @ flow < 0  # at a root that is itself searched the worth is nought, which is on the one side only
    return [_halved(flow, years, RATES[place], RATES[place + 1]) for place in np.flatnonzero(below[:-1] != below[1:])]


@lru_cache(maxsize=4)
def _factors(years: tuple[float, ...]) -> np.ndarray:
    """What one is worth in each of the years, a row for each rate searched: the same for all ways, and for one run of the book after the other."""
    return (1 + RATES[:, None]) ** -np.array(years)


def _halved(flow: np.ndarray, years: np.ndarray, low: float, high: float) -> float:
    """The root between two rates."""
    rising = _worth(flow, years, low) < 0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if (_worth(flow, years, middle) < 0) == rising else (low, middle)
    return (low + high) / 2


def _worth(flow: np.ndarray, years: np.ndarray, rate: float) -> float:
    """Present worth of the flow at one rate."""
    return np.sum(flow * (1 + rate) ** -years)


# The chosen way

@formula(source="definition")
def cost_held(cost_case_chosen, cost_net_present):
    """Net present cost of the way that is built. Example: cost_case_chosen=item_2, cost_net_present=[100 cur, 90 cur] give 90 cur (hand calculation)."""
    return pick(cost_case_chosen, cost_net_present)


@formula(source="definition")
def cost_held_yearly(cost_case_chosen, cost_equal_yearly):
    """Equal yearly cost of the way that is built. Example: cost_case_chosen=item_2, cost_equal_yearly=[10 cur, 9 cur] give 9 cur (hand calculation)."""
    return pick(cost_case_chosen, cost_equal_yearly)


@formula(source="definition")
def cost_base(cost_case_base, cost_case_chosen, cost_net_present):
    """Net present cost of the way compared with, where that is another."""
    return pick(cost_case_base, cost_net_present) if cost_case_base != cost_case_chosen else nothing


@formula(source="definition")
def cost_held_saving(cost_case_chosen, cost_saving):
    """Saved by the way that is built. Example: cost_case_chosen=item_2, cost_saving=[0 cur, 10 cur] give 10 cur (hand calculation)."""
    return pick(cost_case_chosen, cost_saving)


@formula(source="definition")
def cost_held_gap(cost_case_base, cost_case_chosen, cost_gap):
    """How far the way that is built lies from the one compared with."""
    return pick(cost_case_chosen, cost_gap) if cost_case_base != cost_case_chosen else nothing


@formula(source="cost-inconclusive")
def cost_undecided(cost_held_gap, cost_gap_min):
    """Difference of two ways that lie too near to each other to be told apart.

    Example: cost_held_gap=1.98 %, cost_gap_min=10 % give 1.98 % (hand calculation).
    """
    return cost_held_gap if cost_held_gap < cost_gap_min else nothing


# What it hangs on

@formula(source="definition")
def bar_worth(bar_of, cost_capital, cost_energy_worth, cost_fuel_worth, cost_upkeep_worth, cost_payments_worth, cost_income_worth, cost_residual_worth,
              cost_yearly_factor, cost_hours_income_yearly):
    """Part of the net present cost that goes with the uncertain figure. Hours of running move fuel, and what is received for the energy of a running mode;
    upkeep and overhauls have bars of their own.
    """
    return (cost_capital if bar_of == "capital" else cost_energy_worth if bar_of == "energy_price" else cost_fuel_worth if bar_of == "fuel_price"
            else cost_fuel_worth - cost_yearly_factor * cost_hours_income_yearly if bar_of == "running_hours" else cost_upkeep_worth if bar_of == "upkeep"
            else cost_payments_worth if bar_of == "payments" else -cost_income_worth if bar_of == "income"
            else -cost_residual_worth if bar_of == "residual" else 0)


@formula(source="cost-inconclusive")
def bar_cost_low(bar_of, cost_net_present, bar_low, bar_worth, cost_flow, discount_rate, cost_year_number):
    """Net present cost with this figure alone at its low end; for the discount rate all years are brought back anew."""
    return (sum_over("cost_year", cost_flow * (1 + discount_rate * bar_low) ** -cost_year_number) if bar_of == "discount_rate"
            else cost_net_present + (bar_low - 1) * bar_worth)


@formula(source="cost-inconclusive")
def bar_cost_high(bar_of, cost_net_present, bar_high, bar_worth, cost_flow, discount_rate, cost_year_number):
    """Net present cost with this figure alone at its high end."""
    return (sum_over("cost_year", cost_flow * (1 + discount_rate * bar_high) ** -cost_year_number) if bar_of == "discount_rate"
            else cost_net_present + (bar_high - 1) * bar_worth)


@formula(source="definition")
def bar_held_low(cost_case_chosen, bar_cost_low):
    """Of the way that is built."""
    return pick(cost_case_chosen, bar_cost_low)


@formula(source="definition")
def bar_held_high(cost_case_chosen, bar_cost_high):
    """Of the way that is built."""
    return pick(cost_case_chosen, bar_cost_high)


@formula(source="definition")
def bar_width(bar_held_low, bar_held_high):
    """How much of the cost hangs on it. Example: bar_held_low=[90 cur], bar_held_high=[130 cur] give [40 cur] (hand calculation)."""
    return abs(bar_held_high - bar_held_low)


@formula(source="definition")
def bar_saving_low(cost_case_base, cost_case_chosen, bar_cost_low):
    """Saved by the way that is built, the figure moved alike in both."""
    return pick(cost_case_base, bar_cost_low) - pick(cost_case_chosen, bar_cost_low)


@formula(source="definition")
def bar_saving_high(cost_case_base, cost_case_chosen, bar_cost_high):
    """Saved by the way that is built, the figure moved alike in both."""
    return pick(cost_case_base, bar_cost_high) - pick(cost_case_chosen, bar_cost_high)


@formula(source="definition")
def bar_apart(cost_case_base, cost_case_chosen, bar_worth):
    """What of the figure is paid in the one way and not in the other; nothing of the rate, which is told as the internal rate."""
    return pick(cost_case_base, bar_worth) - pick(cost_case_chosen, bar_worth)


@formula(source="cost-break-even")
def bar_even(bar_apart, cost_held, cost_held_saving):
    """Share of the figure at which both ways cost the same, all other figures as they are: costs go evenly with each of them.

    Example: bar_apart=[120 cur], cost_held=1280 cur, cost_held_saving=20 cur give [83.333 %] (hand calculation: 1000 + 300 f = 1100 + 180 f).
    """
    return (nothing if abs(bar_apart) <= 1e-9 * abs(cost_held) or (bar_apart - cost_held_saving) * bar_apart < 0 else
            1 - cost_held_saving / bar_apart)


@formula(source="definition")
def bar_turns(bar_saving_low, bar_saving_high):
    """Whether the cheaper way changes within the range of this figure. Example: bar_saving_low=[-5 cur], bar_saving_high=[10 cur] give [1] (hand
    calculation).
    """
    return 1 if bar_saving_low < 0 and bar_saving_high > 0 or bar_saving_low > 0 and bar_saving_high < 0 else 0


@formula(source="definition")
def bars_turning(bar_turns):
    """How many of the uncertain figures turn the choice. Example: bar_turns=[1, 0] give 1 (hand calculation)."""
    return sum_over("cost_bar", bar_turns)


cost_check = check("life_cost", "cost_held", limit="cost_base", safe="below", source="project",
                   title="Chosen way costs no more over the life than the one compared with", exact=True, applies={"cost_compared": SOME})
