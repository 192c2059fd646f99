"""Running modes, third part: the mode that is planned, held against rule, rating class, store, permit and purse. Other modes are told in tables only."""

from basis.language.formula import SOME, check, formula
from basis.language.maths import pick


@formula(source="definition")
def planned_hours_yearly(mode_chosen, mode_hours_yearly):
    """All running of one set in a usual year as planned."""
    return pick(mode_chosen, mode_hours_yearly)


@formula(source="definition")
def planned_run_hours(mode_chosen, mode_run_hours):
    """Hours of the planned mode itself."""
    return pick(mode_chosen, mode_run_hours)


@formula(source="definition")
def planned_counted_hours(mode_chosen, mode_counted_hours):
    """Hours that the rule counts as planned."""
    return pick(mode_chosen, mode_counted_hours)


@formula(source="definition")
def planned_other_hours(mode_chosen, mode_other_hours):
    """Hours that are neither test, maintenance, emergency nor for income, as planned."""
    return pick(mode_chosen, mode_other_hours)


@formula(source="definition")
def planned_paid_hours(mode_chosen, mode_paid_hours):
    """Hours for income as planned."""
    return pick(mode_chosen, mode_paid_hours)


@formula(source="definition")
def planned_rating_hours_max(mode_chosen, mode_rating_hours_max):
    """Hours that the rating class of the planned mode covers."""
    return pick(mode_chosen, mode_rating_hours_max)


@formula(source="definition")
def planned_average_ratio(mode_chosen, mode_average_ratio):
    """Average load as planned."""
    return pick(mode_chosen, mode_average_ratio)


@formula(source="definition")
def planned_average_ratio_max(mode_chosen, mode_average_ratio_max):
    """Average load that the class of the planned mode covers."""
    return pick(mode_chosen, mode_average_ratio_max)


@formula(source="definition")
def planned_load_ratio(mode_chosen, mode_load_ratio):
    """Load of a set over the power there is, as planned."""
    return pick(mode_chosen, mode_load_ratio)


@formula(source="definition")
def planned_pollutant_mass(mode_chosen, mode_pollutant_mass):
    """Mass of each pollutant in a year as planned."""
    return pick(mode_chosen, mode_pollutant_mass)


@formula(source="definition")
def planned_stock(mode_chosen, mode_stock):
    """What the store must hold as planned."""
    return pick(mode_chosen, mode_stock)


@formula(source="definition")
def planned_income_yearly(mode_chosen, mode_income_yearly):
    """Income of a year as planned."""
    return pick(mode_chosen, mode_income_yearly)


@formula(source="definition")
def planned_receipts_yearly(mode_chosen, mode_receipts_yearly):
    """What the mode that is planned brings, its own fuel and upkeep not taken off."""
    return pick(mode_chosen, mode_receipts_yearly)


@formula(source="definition")
def planned_energy_receipts(mode_chosen, mode_energy_receipts):
    """Part of it that is received for energy."""
    return pick(mode_chosen, mode_energy_receipts)


@formula(source="mode-hours")
def planned_ledger_gap(ledger_peak_shaving_hours, planned_paid_hours):
    """Whether the ledger of a usual year lists the hours of the mode that is planned: permit, fuel and air are worked out from the ledger."""
    return abs(ledger_peak_shaving_hours - planned_paid_hours)


@formula(source="definition")
def planned_price_age(status_date, mode_chosen, mode_price_date):
    """How old the prices of the planned mode are on the day to which the book counts.

    Example: status_date=2026-11-20, mode_chosen=item_1, mode_price_date=[2025-11-20] give 1 year (hand calculation).
    """
    return max(0, status_date - pick(mode_chosen, mode_price_date))


LIMITED_APART = {"hours_rule": ("us_emergency_engine", "permit")}  # the European rule counts all hours together and has no limit for these
RUN = {"planned_run_hours": SOME}  # on standby nothing runs for the mode

counted = check("mode_hours_counted", "planned_counted_hours", limit="counted_hours_max", safe="below", source="rule-named",
                title="Hours counted in the planned mode")
other = check("mode_other", "planned_other_hours", limit="other_hours_max", safe="below", source="rule-named",
              title="Other running in the planned mode", applies=LIMITED_APART)
paid = check("mode_paid", "planned_paid_hours", limit="peak_shaving_hours_max", safe="below", source="rule-named",
             title="Running for income in the planned mode", exact=True, applies={**LIMITED_APART, **RUN})
rating_hours = check("mode_rating_hours", "planned_hours_yearly", limit="planned_rating_hours_max", safe="below", source="iso-8528-1-hours",
                     title="Hours that the rating class covers")
average = check("mode_average", "planned_average_ratio", limit="planned_average_ratio_max", safe="below", source="iso-8528-1-average",
                title="Average load that the rating class covers", applies=RUN)
load = check("mode_load", "planned_load_ratio", limit="mode_load_ratio_max", safe="below", source="no-overload", title="Load of the planned mode", applies=RUN)
pollutants = check("mode_pollutants", "planned_pollutant_mass", limit="pollutant_mass_max", safe="below", source="project",
                   title="Mass into the air in the planned mode", applies=RUN)
stock = check("mode_store", "usable_fuel", limit="planned_stock", safe="above", source="fuel-balance", title="A day of running leaves the stock of an outage",
              applies=RUN)
income = check("mode_income", "planned_income_yearly", limit="no_income", safe="above", source="interruptible-credit",
               title="The planned mode earns its keep", exact=True, applies=RUN)
ledger = check("mode_ledger", "planned_ledger_gap", limit="ledger_gap_max", safe="below", source="mode-hours",
               title="Ledger lists the hours of the planned mode")
price_age = check("mode_price_age", "planned_price_age", limit="price_age_max", safe="below", source="price-age", title="Prices of the planned mode are fresh",
                  applies=RUN)
