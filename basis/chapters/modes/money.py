"""Running modes, second part: fuel, wear and money of each mode, the worth of a called day, what a miss costs, and the hours at which it no longer pays."""

from basis.language.formula import SOME, check, formula, order, procedure
from basis.language.maths import count_over, exp, h, max_over, min_over, not_given, nothing, sum_over
from basis.physics.fuel_curve import site_rates

# ---- fuel and wear ----

@procedure(source=("linear-curve", "iso-3046-1"), yields=("mode_fuel_rate",), equation="q_m = β·q(P_m,set), as for full load")
def fuel_of_modes(mode_set_load, fuel_point_load, fuel_point_rate, fuel_adjustment):
    """Fuel of each set at the load of each mode, by straight lines between the points of its curve; none above the top point.

    Example: mode_set_load=[600 kW], fuel_point_load=[500 kW, 1000 kW], fuel_point_rate=[142 L/h, 262 L/h], fuel_adjustment=1 give [166 L/h] (hand
    calculation).
    """
    return site_rates(mode_set_load, fuel_point_load, fuel_point_rate, fuel_adjustment)


@formula(source="fuel-balance")
def mode_fuel_yearly(mode_kind, mode_run_hours, mode_sets, mode_fuel_rate):
    """Fuel of a year for the mode alone. Example: mode_kind=[prime], mode_run_hours=[60 h], mode_sets=[2], mode_fuel_rate=[100 L/h] give [12000 L] (hand
    calculation).
    """
    return 0 if mode_kind == "standby" else mode_run_hours * mode_sets * mode_fuel_rate


@formula(source="fuel-balance")
def mode_fuel_all_yearly(record_reason, record_hours, record_sets, record_fuel_rate, mode_fuel_yearly):
    """Fuel of a year: of the ledger without its running for income, and of the mode in its place.

    Example: record_reason=[test, peak_shaving], record_hours=[10 h, 45 h], record_sets=[1, 1], record_fuel_rate=[100 L/h, 150 L/h], mode_fuel_yearly=[3000 L]
    give [4000 L] (hand calculation).
    """
    return sum_over("running_record", 0 if record_reason == "peak_shaving" else record_hours * record_sets * record_fuel_rate) + mode_fuel_yearly


@formula(source="fuel-balance")
def mode_day_fuel(mode_kind, mode_day_hours, mode_sets, mode_fuel_rate):
    """Fuel of one day of running: no tanker may come before the outage that follows it."""
    return 0 if mode_kind == "standby" else mode_day_hours * mode_sets * mode_fuel_rate


@formula(source="fuel-balance")
def mode_stock(required_stock, mode_day_fuel):
    """What the store must hold so that a day of running leaves the stock of an outage."""
    return required_stock + mode_day_fuel


@formula(source="overhaul-clocks")
def mode_overhaul_years(modes_upkeep_chapter, mode_stage_date, status_date, commissioning_date, overhaul_hours, hours_run, mode_hours_yearly,
                        overhaul_counted_max, overhaul_calendar):
    """Time to the next overhaul in the mode, by its hours or by the calendar, whichever comes first: that of the stages of the chapter on upkeep, or of the one
    overhaul that the running hours know.
    """
    return (max(0, min_over("overhaul_stage", mode_stage_date) - max(status_date, commissioning_date)) if modes_upkeep_chapter == "in_this_book" else
            min(overhaul_calendar, max(0, overhaul_hours - hours_run) / max(mode_hours_yearly / (8760 * h), overhaul_hours / overhaul_counted_max)))


@formula(source="overhaul-clocks")
def mode_overhauls(hours_run, mode_hours_yearly, project_life, modes_upkeep_chapter, overhaul_stage_hours, overhaul_hours):
    """How many overhauls the hours of the plant's life use up: of an engine's life all stages of upkeep, or as often as the one overhaul fits in.

    Example: hours_run=0 h, mode_hours_yearly=[8000 h], project_life=20 year, modes_upkeep_chapter=not_in_this_book, overhaul_hours=16000 h give [10] (hand
    calculation).
    """
    return ((hours_run + mode_hours_yearly * project_life / (8760 * h))
            * (count_over("overhaul_stage") / max_over("overhaul_stage", overhaul_stage_hours) if modes_upkeep_chapter == "in_this_book"
               else 1 / overhaul_hours))


# ---- demand charges ----

@formula(source="demand-ratchet")
def month_billed(month_peak, ratchet_share):
    """Demand billed in the month: its own peak, or the ratchet's share of the highest peak of the year.

    Example: month_peak=[1400 kW, 1000 kW, 1200 kW], ratchet_share=80 % give [1400 kW, 1120 kW, 1200 kW] (hand calculation).
    """
    return max(month_peak, ratchet_share * max_over("billing_month", month_peak))


@formula(source="definition")
def billing_months_listed():
    """Months of the list."""
    return count_over("billing_month")


@formula(source="demand-ratchet")
def demand_cost(demand_price, month_billed):
    """Demand charges of the months listed. Example: demand_price=9 EUR/kW, month_billed=[1400 kW, 1120 kW, 1200 kW] give 33480 EUR (hand calculation)."""
    return demand_price * sum_over("billing_month", month_billed)


@formula(source="demand-ratchet")
def mode_month_peak(mode_kind, month_peak, month_peak_beside, mode_power):
    """Peak that the mode leaves: shaving cuts it, but never below the peak of the hours in which no set runs; prime running takes its power off all hours.

    Example: mode_kind=[peak_shaving], month_peak=[1400 kW, 1000 kW], month_peak_beside=[900 kW, 900 kW], mode_power=[400 kW] give [[1000 kW, 900 kW]]
    (hand calculation).
    """
    return (max(month_peak_beside, month_peak - mode_power) if mode_kind == "peak_shaving" else
            max(0, month_peak - mode_power) if mode_kind == "prime" else month_peak)


@formula(source="demand-ratchet")
def mode_month_billed(mode_month_peak, ratchet_share):
    """Demand billed in the month with the mode, ratchet counted: the year's highest peak is that which is left."""
    return max(mode_month_peak, ratchet_share * max_over("billing_month", mode_month_peak))


@formula(source="demand-ratchet")
def mode_demand_cost(demand_price, mode_month_billed):
    """Demand charges of the months listed, with the mode and without a miss."""
    return demand_price * sum_over("billing_month", mode_month_billed)


@formula(source="demand-ratchet")
def mode_demand_saving(mode_kind, demand_cost, mode_demand_cost):
    """Saved on demand charges in a year. A call by the supplier comes when it suits him, so an interruptible tariff is not counted as cutting a peak.

    Without a list of months nobody knows what is saved: the project gives it then.
    """
    return ((demand_cost - mode_demand_cost if mode_kind == "peak_shaving" or mode_kind == "prime" else 0) if count_over("billing_month") > 0 else
            not_given if mode_kind == "peak_shaving" or mode_kind == "prime" else 0)


# ---- income ----

@formula(source="interruptible-credit")
def mode_credit(mode_kind, mode_power, mode_credit_price, mode_credit_months):
    """Credit of a year for power that may be called off.

    Example: mode_kind=[interruptible], mode_power=[800 kW], mode_credit_price=[9.5 EUR/kW], mode_credit_months=[12] give [91200 EUR] (hand calculation).
    """
    return mode_power * mode_credit_price * mode_credit_months if mode_kind == "interruptible" else 0


@formula(source="definition")
def mode_tariff_price(energy_price):
    """Price of the energy that is not bought while the sets run: that of the project, unless the hours have a price of their own."""
    return energy_price


@formula(source="own-energy")
def mode_wear_price(modes_upkeep_chapter, running_wear_price):
    """Wear of an hour as the chapter on upkeep finds it; where no tasks are listed there the mode gives its own."""
    return (running_wear_price if count_over("task") > 0 else not_given) if modes_upkeep_chapter == "in_this_book" else not_given


@formula(source="own-energy")
def mode_own_price(mode_kind, mode_fuel_rate, fuel_price, mode_wear_price, mode_set_load):
    """Price of a unit of own energy: fuel and upkeep of an hour over the load of a set. At light load both are spread over little.

    Example: mode_kind=[prime], mode_fuel_rate=[100 L/h], fuel_price=1.2 EUR/L, mode_wear_price=[20 EUR/h], mode_set_load=[500 kW] give [0.28 EUR/kWh]
    (hand calculation).
    """
    return 0 if mode_kind == "standby" else (mode_fuel_rate * fuel_price + mode_wear_price) / mode_set_load


@formula(source="interruptible-credit")
def mode_hour_loss(mode_kind, mode_power, mode_own_price, mode_tariff_price, mode_call_payment):
    """What an hour of running loses against buying; below nought own energy is the cheaper one.

    Example: mode_kind=[interruptible], mode_power=[800 kW], mode_own_price=[0.28 EUR/kWh], mode_tariff_price=[0.12 EUR/kWh] give [128 EUR/h] (hand
    calculation).
    """
    return 0 if mode_kind == "standby" else mode_power * (mode_own_price - mode_tariff_price - mode_call_payment)


@formula(source="interruptible-credit")
def mode_running_cost(mode_run_hours, mode_hour_loss):
    """What the running of a year loses. Example: mode_run_hours=[60 h], mode_hour_loss=[128 EUR/h] give [7680 EUR] (hand calculation)."""
    return mode_run_hours * mode_hour_loss


@formula(source="every-set-answers")
def mode_miss_probability(reliability_chapter, start_success, mode_day_hours, run_failure_rate, mode_sets):
    """Chance that not all sets of the mode answer and run through the day; without the chapter of reliability the project states it.

    Example: reliability_chapter=in_this_book, start_success=99 %, mode_day_hours=[4 h], run_failure_rate=0 1/h, mode_sets=[2] give [1.99 %] (hand
    calculation).
    """
    return 1 - (start_success * exp(-mode_day_hours * run_failure_rate)) ** mode_sets if reliability_chapter == "in_this_book" else not_given


@formula(source="expected-loss")
def mode_miss_cost(mode_kind, mode_days, mode_miss_probability, mode_miss_penalty):
    """Expected cost of missed calls or peaks in a year. One bad year can hold several: the mean is for budgets, not for comfort.

    Example: mode_kind=[interruptible], mode_days=[20], mode_miss_probability=[2 %], mode_miss_penalty=[5000 EUR] give [2000 EUR] (hand calculation).
    """
    return mode_days * mode_miss_probability * mode_miss_penalty if mode_kind == "interruptible" or mode_kind == "peak_shaving" else 0


@formula(source="interruptible-credit")
def mode_standing_income(mode_kind, mode_credit, mode_demand_saving, mode_fixed_cost, mode_miss_cost):
    """What a year brings before an hour is run, misses of the days planned counted as expected."""
    return 0 if mode_kind == "standby" else mode_credit + mode_demand_saving - mode_fixed_cost - mode_miss_cost


@formula(source="interruptible-credit")
def mode_energy_receipts(mode_kind, mode_energy, mode_tariff_price, mode_call_payment):
    """What the energy of a year brings: it is not bought, and may be paid for when called.

    Example: mode_kind=[interruptible], mode_energy=[4000 kWh], mode_tariff_price=[0.30 EUR/kWh], mode_call_payment=[0.05 EUR/kWh] give [1400 EUR] (hand
    calculation).
    """
    return 0 if mode_kind == "standby" else mode_energy * (mode_tariff_price + mode_call_payment)


@formula(source="interruptible-credit")
def mode_receipts_yearly(mode_standing_income, mode_energy_receipts):
    """What a year brings where fuel and upkeep are counted elsewhere, as in the cost of a whole life.

    Example: mode_standing_income=[11000 EUR], mode_energy_receipts=[1400 EUR] give [12400 EUR] (hand calculation).
    """
    return mode_standing_income + mode_energy_receipts


@formula(source="interruptible-credit")
def mode_income_yearly(mode_standing_income, mode_running_cost):
    """What the mode leaves in a year. Example: mode_standing_income=[91200 EUR], mode_running_cost=[7680 EUR] give [83520 EUR] (hand calculation)."""
    return mode_standing_income - mode_running_cost


@formula(source="interruptible-credit")
def mode_day_cost(mode_kind, mode_day_hours, mode_hour_loss):
    """What a called day loses against buying."""
    return 0 if mode_kind == "standby" else mode_day_hours * mode_hour_loss


@formula(source="definition")
def mode_day_worth(mode_kind, mode_days, mode_income_yearly):
    """What each day of running is worth. Example: mode_kind=[interruptible], mode_days=[20], mode_income_yearly=[50000 EUR] give [2500 EUR] (hand
    calculation).
    """
    return nothing if mode_kind == "standby" or mode_days <= 0 else mode_income_yearly / mode_days


@formula(source="break-even")
def mode_break_even_hours(mode_hour_loss, mode_standing_income):
    """Hours in a year at which running has eaten the income.

    Example: mode_hour_loss=[153 EUR/h], mode_standing_income=[59400 EUR] give [388.2 h] (hand calculation).
    """
    return nothing if mode_hour_loss <= 0 or mode_standing_income <= 0 else mode_standing_income / mode_hour_loss


@formula(source="break-even")
def mode_misses_allowed(mode_kind, mode_miss_penalty, mode_income_yearly, mode_miss_cost):
    """Misses in a year that leave nothing of the income. Example: mode_kind=[interruptible], mode_miss_penalty=[5000 EUR], mode_income_yearly=[18000 EUR],
    mode_miss_cost=[2000 EUR] give [4] (hand calculation).
    """
    return (nothing if mode_kind == "standby" or mode_kind == "prime" or mode_miss_penalty <= 0 else
            max(0, mode_income_yearly + mode_miss_cost) / mode_miss_penalty)


@formula(source="interruptible-credit")
def tried_running_cost(mode_kind, called_time_tried, mode_hour_loss):
    """What so many hours of running lose. On standby there are none, and as the supply nobody asks for them."""
    return called_time_tried * mode_hour_loss if mode_kind == "interruptible" or mode_kind == "peak_shaving" else nothing


@formula(source="interruptible-credit")
def tried_income(mode_standing_income, tried_running_cost):
    """What is left of the income when so many hours are called. It is nought at the break-even."""
    return mode_standing_income - tried_running_cost


month_peak_beside_order = order("month_peak_beside", "month_peak")

bill_of_a_year = check("bill_of_a_year", "billing_months_listed", limit="billing_months_needed", safe="above", source="definition", exact=True,
                       title="Billing months make a year", applies={"billing_months_listed": SOME})
