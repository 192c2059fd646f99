"""Life-cycle cost: what each way of building costs over the life of the project, and what one saves against another.

What is paid on days of its own stands in payments.py; pay-back, rate of return and what the answer hangs on in compared.py. Left out: taxes, loans, and
inflation: rate and prices are real.
"""

from basis.language.formula import chapter, check, formula
from basis.language.maths import ceil, count_over, h, not_given, pick, sum_over

CHAPTER = chapter("cost", "Life-cycle cost", order=260,
                  settles="What the plant costs over its life, one way against another.",
                  cautions=(
    "The cheapest way over the life is no reason to give up what keeps people safe or the load supplied: limits of the other chapters come first.",
    "Tests, drills and upkeep are not a saving to be found. What is not spent on them is paid for on the day the plant is needed.",
))


# Each way, a year

@formula(source="definition")
def cost_heat_yearly(standby_warmth_chapter, heating_case_chosen, heating_running_cost):
    """Standby heat as the chapter on warmth finds it for the way of heating that is built; a way that heats otherwise gives its own."""
    return pick(heating_case_chosen, heating_running_cost) if standby_warmth_chapter == "in_this_book" else not_given


@formula(source="definition")
def cost_loss_yearly(voltage_chapter, cost_station_chapter, voltage_loss_cost_yearly, generator_cable_loss_energy, energy_price,
                     transformers_lost_cost_yearly):
    """Losses of generator cables and of all transformers that the network lists, else of those that the choice of voltage asks for. A network without a
    transformer loses nothing in one.
    """
    return ((generator_cable_loss_energy * energy_price + (transformers_lost_cost_yearly if count_over("transformer") > 0 else 0)
             if cost_station_chapter == "in_this_book" else voltage_loss_cost_yearly) if voltage_chapter == "in_this_book"
            else (transformers_lost_cost_yearly if count_over("transformer") > 0 else 0) if cost_station_chapter == "in_this_book" else not_given)


@formula(source="definition")
def cost_fuel_volume_yearly(cost_fuel_chapter, cost_modes_chapter, cost_running_from, annual_fuel, cost_mode, mode_fuel_all_yearly):
    """Fuel of the ledger of running, all sets and all reasons, or with the running mode of the way in it. A way that burns more or less gives its own."""
    return ((annual_fuel if cost_running_from == "ledger" else pick(cost_mode, mode_fuel_all_yearly) if cost_modes_chapter == "in_this_book" else not_given)
            if cost_fuel_chapter == "in_this_book" else not_given)


@formula(source="definition")
def cost_fuel_yearly(cost_fuel_volume_yearly, fuel_price):
    """Fuel at its price. Example: cost_fuel_volume_yearly=[9000 L], fuel_price=1.20 cur/L give [10800 cur] (hand calculation)."""
    return cost_fuel_volume_yearly * fuel_price


@formula(source="definition")
def cost_tests_yearly(cost_testing_chapter, test_people_yearly, bank_hire_yearly):
    """Tests as their chapter finds them, without fuel, which is in the ledger, and without a bank that is bought, which has its own days of payment."""
    return (test_people_yearly + bank_hire_yearly if count_over("plant_test") > 0 else not_given) if cost_testing_chapter == "in_this_book" else not_given


@formula(source="definition")
def cost_sets(cost_upkeep_chapter, installed_sets):
    """All that are installed, unless the way has another number. Without the chapter on upkeep nothing rests on it."""
    return installed_sets if cost_upkeep_chapter == "in_this_book" else 1


@formula(source="definition")
def cost_upkeep_yearly(cost_upkeep_chapter, cost_running_from, upkeep_cost_yearly, cost_sets, installed_sets, set_upkeep_cost_yearly, cost_modes_chapter,
                       cost_mode, mode_upkeep_yearly, mode_set_upkeep_yearly):
    """Tasks as the chapter on upkeep adds them up, at the hours that are planned or at those of the running mode of the way, for the sets of the way."""
    return (((upkeep_cost_yearly + (cost_sets - installed_sets) * set_upkeep_cost_yearly if cost_running_from == "ledger" else
              pick(cost_mode, mode_upkeep_yearly) + (cost_sets - installed_sets) * pick(cost_mode, mode_set_upkeep_yearly)
              if cost_modes_chapter == "in_this_book" else not_given) if count_over("task") > 0 else not_given)
            if cost_upkeep_chapter == "in_this_book" else not_given)


@formula(source="definition")
def cost_standing_yearly(cost_upkeep_yearly, cost_tests_yearly, cost_other_yearly):
    """All that is paid every year whether prices of fuel and energy move or not.

    Example: cost_upkeep_yearly=[9000 cur], cost_tests_yearly=[2000 cur], cost_other_yearly=[4000 cur] give [15000 cur] (hand calculation).
    """
    return cost_upkeep_yearly + cost_tests_yearly + cost_other_yearly


@formula(source="cost-nothing-stated")
def cost_income_yearly(cost_modes_chapter, cost_running_from, planned_receipts_yearly, cost_mode, mode_receipts_yearly):
    """What the mode that is planned, or the running mode of the way, brings; its fuel and upkeep are not taken off, for they are counted with those of the
    year. Where no modes are listed none unless it is given.
    """
    return (((planned_receipts_yearly if cost_running_from == "ledger" else pick(cost_mode, mode_receipts_yearly)) if count_over("running_mode") > 0 else 0)
            if cost_modes_chapter == "in_this_book" else 0 if cost_running_from == "ledger" else not_given)


@formula(source="definition")
def cost_hours_income_yearly(cost_modes_chapter, cost_running_from, planned_energy_receipts, cost_mode, mode_energy_receipts):
    """Part of the income that goes with the hours of running: energy that is not bought, or is paid for when called."""
    return (((planned_energy_receipts if cost_running_from == "ledger" else pick(cost_mode, mode_energy_receipts)) if count_over("running_mode") > 0 else 0)
            if cost_modes_chapter == "in_this_book" else 0)


@formula(source="definition")
def cost_price_age(commissioning_date, cost_price_day):
    """How old the price is on the first day. Example: commissioning_date=2028-01-01, cost_price_day=[2027-01-01] give [1 year] (hand calculation)."""
    return max(0, commissioning_date - cost_price_day)


# Years and factors

@formula(source="definition")
def cost_last_year(project_life):
    """Year in which the life ends. Example: project_life=25 year give 25 (hand calculation)."""
    return ceil(project_life / (8760 * h) - 1e-6)


@formula(source="definition")
def cost_year_share(cost_year_number, project_life):
    """Part of each year that lies within the life; yearly amounts count for it. The first day, year nought, is no year."""
    return min(1, max(0, project_life / (8760 * h) - cost_year_number + 1)) if cost_year_number > 0 else 0


@formula(source=("life-cycle-cost", "cost-end-of-year"))
def cost_worth_factor(discount_rate, cost_year_number):
    """Single present worth: what is paid in a year counts at its end."""
    return (1 + discount_rate) ** -cost_year_number


@formula(source="life-cycle-cost")
def cost_yearly_factor(cost_year_share, cost_worth_factor):
    """Uniform present worth, added up year by year."""
    return sum_over("cost_year", cost_year_share * cost_worth_factor)


@formula(source="life-cycle-cost")
def cost_energy_factor(cost_year_share, cost_worth_factor, energy_price_growth, cost_year_number):
    """The same for what goes with the price of energy: the first year is paid at the price of today. Rate and growth are both real."""
    return sum_over("cost_year", cost_year_share * cost_worth_factor * (1 + energy_price_growth) ** (cost_year_number - 1))


@formula(source="life-cycle-cost")
def cost_fuel_factor(cost_year_share, cost_worth_factor, fuel_price_growth, cost_year_number):
    """The same for what goes with the price of fuel."""
    return sum_over("cost_year", cost_year_share * cost_worth_factor * (1 + fuel_price_growth) ** (cost_year_number - 1))


# Over the life

@formula(source="cost-end-of-year")
def cost_flow(cost_year_number, cost_capital, cost_heat_yearly, cost_loss_yearly, energy_price_growth, cost_fuel_yearly, fuel_price_growth,
              cost_standing_yearly, cost_income_yearly, cost_year_share, cost_residual, cost_last_year, cost_dated_flow):
    """Paid less received, year by year: first cost on the first day, yearly amounts at the end of each year, the worth at the end in the last one."""
    return (cost_dated_flow + (cost_capital if cost_year_number < 1 else 0) - (cost_residual if cost_year_number == cost_last_year else 0)
            + cost_year_share * ((cost_heat_yearly + cost_loss_yearly) * (1 + energy_price_growth) ** (cost_year_number - 1)
                                 + cost_fuel_yearly * (1 + fuel_price_growth) ** (cost_year_number - 1) + cost_standing_yearly - cost_income_yearly))


@formula(source="life-cycle-cost")
def cost_energy_worth(cost_energy_factor, cost_heat_yearly, cost_loss_yearly):
    """Standby heat and losses; wear of heaters is small beside their energy and grows with it here.

    Example: cost_energy_factor=15, cost_heat_yearly=[8000 cur], cost_loss_yearly=[2000 cur] give [150000 cur] (hand calculation).
    """
    return cost_energy_factor * (cost_heat_yearly + cost_loss_yearly)


@formula(source="life-cycle-cost")
def cost_fuel_worth(cost_fuel_factor, cost_fuel_yearly):
    """Fuel. Example: cost_fuel_factor=15, cost_fuel_yearly=[10000 cur] give [150000 cur] (hand calculation)."""
    return cost_fuel_factor * cost_fuel_yearly


@formula(source="life-cycle-cost")
def cost_upkeep_worth(cost_yearly_factor, cost_standing_yearly):
    """Upkeep, tests and the rest. Example: cost_yearly_factor=15, cost_standing_yearly=[10000 cur] give [150000 cur] (hand calculation)."""
    return cost_yearly_factor * cost_standing_yearly


@formula(source="life-cycle-cost")
def cost_payments_worth(cost_dated_flow, cost_worth_factor):
    """Overhauls, replacements and what else has its own day."""
    return sum_over("cost_year", cost_dated_flow * cost_worth_factor)


@formula(source="life-cycle-cost")
def cost_income_worth(cost_yearly_factor, cost_income_yearly):
    """Income. Example: cost_yearly_factor=15, cost_income_yearly=[10000 cur] give [150000 cur] (hand calculation)."""
    return cost_yearly_factor * cost_income_yearly


@formula(source="life-cycle-cost")
def cost_residual_worth(cost_residual, discount_rate, cost_last_year):
    """Worth at the end, brought to the first day. Example: cost_residual=[80000 cur], discount_rate=3 %, cost_last_year=20 give [44294 cur] (hand
    calculation).
    """
    return cost_residual * (1 + discount_rate) ** -cost_last_year


@formula(source="life-cycle-cost")
def cost_net_present(cost_capital, cost_energy_worth, cost_fuel_worth, cost_upkeep_worth, cost_payments_worth, cost_income_worth, cost_residual_worth):
    """What the way costs from the first day to the last, in money of the first day."""
    return (cost_capital + cost_energy_worth + cost_fuel_worth + cost_upkeep_worth + cost_payments_worth - cost_income_worth - cost_residual_worth)


@formula(source="life-cycle-cost")
def cost_flow_worth(cost_flow, cost_worth_factor):
    """The same from the years: each year's flow brought to the first day."""
    return sum_over("cost_year", cost_flow * cost_worth_factor)


@formula(source="definition")
def cost_flow_gap(cost_net_present, cost_flow_worth, cost_flow):
    """How far the two sums lie apart: none but what the computer rounds."""
    return (abs(cost_net_present - cost_flow_worth) / sum_over("cost_year", abs(cost_flow))
            if sum_over("cost_year", abs(cost_flow)) > 0 else 0)


@formula(source="life-cycle-cost")
def cost_equal_yearly(cost_net_present, cost_yearly_factor):
    """Even payment at the end of each year that is worth the same.

    Example: cost_net_present=[124622 cur], cost_yearly_factor=12.4622 give [10000 cur] (hand calculation).
    """
    return cost_net_present / cost_yearly_factor


price_age = check("cost_price_age_ok", "cost_price_age", limit="cost_price_age_max", safe="below", source="cost-price-age", title="Age of the prices")
sums_agree = check("cost_sums_agree", "cost_flow_gap", limit="cost_flow_gap_max", safe="below", source="definition",
                   title="Net present cost by parts and by years", exact=True, self_test=True)

# What no sound text gives.
life_counted = check("cost_life_counted", "project_life", limit="cost_life_max", safe="below", source="cost-years", title="Life that can be counted",
                     exact=True, self_test=True, fault="a life that this chapter can count")
