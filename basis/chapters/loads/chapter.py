"""Loads and sets: what must be carried, how many sets carry it, and how each is loaded with all running and with one missing.

Site rating stands in rating.py, load steps, motor starts and distortion in steps.py.
"""

from basis.language.formula import GIVEN, SOME, caution, chapter, check, formula, order
from basis.language.maths import acos, ceil, floor, h, sqrt, sum_over, tan

CHAPTER = chapter("loads", "Loads and sets", order=20,
                  settles="What must be carried, and how many sets of what rating carry it.",
                  cautions=(
    "A load that is missing from the schedule is still there when the supply fails. Check the schedule against the site, not against last year's drawing.",
    caution("Sets in parallel feed each other and every fault. Synchronising out of step can wreck a machine and injure whoever stands beside it.",
            other_sets=SOME),
    "Step, dip and distortion figures here are screens. What a set accepts is proved by test at the works and on site.",
    "Shedding is a safety function when it keeps a set alive: which loads drop, and who may be hurt by that, is decided with the people who use them.",
))


# ---- demand ----

@formula(source="physics")
def load_demand_power(load_connected_power, load_demand_factor):
    """Largest power that this load takes, standby duty and part load taken off by its demand factor."""
    return load_connected_power * load_demand_factor


@formula(source="physics")
def load_demand_reactive_power(load_demand_power, load_power_factor, load_power_factor_side):
    """Reactive power with the demand, by its power factor: positive for lagging, negative for leading loads."""
    return tan(acos(load_power_factor)) * (load_demand_power if load_power_factor_side == "lagging" else -load_demand_power)


@formula(source="definition")
def load_reactive_sign(load_power_factor_side):
    """One where the load takes reactive power, minus one where it gives it: along a reactance it then lifts the voltage."""
    return 1 if load_power_factor_side == "lagging" else -1


@formula(source="definition")
def load_demand_apparent_power(load_demand_power, load_power_factor):
    """Apparent power of the load by itself, for its own cable; never added up with that of other loads."""
    return load_demand_power / load_power_factor


@formula(source="definition")
def load_nonlinear_power(load_demand_apparent_power, load_nonlinear_share):
    """Part of the load's apparent power that rectifiers take: the part that distorts the voltage."""
    return load_demand_apparent_power * load_nonlinear_share


@formula(source="common-practice")
def demand_power(load_demand_power, coincidence_factor):
    """Largest power of all loads together.

    The coincidence factor (one or less) tells that the loads do not peak in the same quarter of an hour. It is not used for load
    steps: after an outage everything wants to start at once.
    """
    return coincidence_factor * sum_over("load", load_demand_power)


@formula(source="common-practice")
def demand_reactive_power(load_demand_reactive_power, coincidence_factor):
    """Reactive power with the demand: reactive parts add with their sign, so leading loads take away."""
    return coincidence_factor * sum_over("load", load_demand_reactive_power)


@formula(source="physics")
def demand_apparent_power(demand_power, demand_reactive_power):
    """Apparent demand from its active and reactive parts.

    Apparent powers and power factors are never added: the sum would be too large, and wrong in kind.
    Example: demand_power=630 kW, demand_reactive_power=297.2 kvar give 696.6 kVA (hand calculation).
    """
    return sqrt(demand_power**2 + demand_reactive_power**2)


@formula(source="definition", valid={"demand_power_factor": (0.7, 1)})
def demand_power_factor(demand_power, demand_apparent_power):
    """Power factor that the plant sees."""
    return demand_power / demand_apparent_power


@formula(source="common-practice")
def firm_demand_power(coincidence_factor, firm_demand, load_service, load_demand_power):
    """Demand that must be carried with the spare sets missing; it decides the number of sets."""
    return coincidence_factor * (sum_over("load", load_demand_power) if firm_demand == "all" else
                                 sum_over("load", load_demand_power if load_service == "essential" else 0))


@formula(source="common-practice", valid={"growth_horizon": (0, 40 * 8760 * 3600)})
def load_future_power(load_demand_power, load_growth_rate, growth_horizon):
    """Demand of the load at the horizon, grown at its own yearly rate from today."""
    return load_demand_power * (1 + load_growth_rate) ** (growth_horizon / (8760 * h))


@formula(source="common-practice")
def future_firm_demand_power(coincidence_factor, firm_demand, load_service, load_future_power):
    """Firm demand at the horizon of growth."""
    return coincidence_factor * (sum_over("load", load_future_power) if firm_demand == "all" else
                                 sum_over("load", load_future_power if load_service == "essential" else 0))



# ---- number of sets ----

@formula(source="definition")
def required_sets(firm_demand_power, set_site_power, planned_loading):
    """Least number of sets that carries the firm demand at the planned loading.

    Example: firm_demand_power=1850 kW, set_site_power=1000 kW, planned_loading=90 % give 3 (hand calculation).
    """
    return ceil(firm_demand_power / (set_site_power * planned_loading))


@formula(source="definition")
def installed_sets(required_sets, spare_sets):
    """Required sets and spares. A project that has chosen a number gives it, and the reserve is checked."""
    return required_sets + spare_sets


@formula(source="definition")
def other_sets(installed_sets):
    """Sets beside one: with whom it shares load and whom it meets on the bus. Example: installed_sets=3 give 2 (counted)."""
    return installed_sets - 1


@formula(source="definition")
def sets_in_reserve(installed_sets, required_sets):
    """Sets that may be missing, one under repair and one that fails to start, before firm demand is cut."""
    return installed_sets - required_sets


@formula(source="definition")
def future_required_sets(future_firm_demand_power, set_site_power, planned_loading):
    """Required sets for the demand at the horizon of growth."""
    return ceil(future_firm_demand_power / (set_site_power * planned_loading))


@formula(source="definition")
def future_sets_in_reserve(installed_sets, future_required_sets):
    """Reserve that is left at the horizon if no set is added."""
    return installed_sets - future_required_sets


# ---- running cases ----

@formula(source="definition")
def running_sets(installed_sets, sets_out):
    """Sets that run in this case."""
    return installed_sets - sets_out


@formula(source="definition")
def load_carried(running_case_load, load_service):
    """Marks the loads that are on the bus in this case."""
    return 1 if running_case_load == "all" else (1 if load_service == "essential" else 0)


@formula(source="common-practice")
def case_power(coincidence_factor, running_case_share, load_carried, load_demand_power, load_bank_power):
    """Demand on the bus in this case, and the load bank: a monthly test of one set by day carries the bank alone, or what of the loads is put on it."""
    return coincidence_factor * running_case_share * sum_over("load", load_carried * load_demand_power) + load_bank_power


@formula(source="common-practice")
def case_reactive_power(coincidence_factor, running_case_share, load_carried, load_demand_reactive_power, load_bank_power, load_bank_power_factor):
    """Reactive demand on the bus in this case, that of the load bank with it."""
    return (coincidence_factor * running_case_share * sum_over("load", load_carried * load_demand_reactive_power)
            + tan(acos(load_bank_power_factor)) * load_bank_power)


@formula(source="physics")
def case_apparent_power(case_power, case_reactive_power):
    """Apparent demand on the bus in this case, from its active and reactive parts."""
    return sqrt(case_power**2 + case_reactive_power**2)


@formula(source="physics")
def case_nonlinear_power(running_case_share, load_carried, load_nonlinear_power):
    """Apparent power of rectifiers on the bus in this case, as if they all peaked together."""
    return running_case_share * sum_over("load", load_carried * load_nonlinear_power)


@formula(source="physics")
def set_load(case_power, running_sets):
    """Power of each running set: like sets with isochronous or equal droop governors share in equal parts."""
    return case_power / running_sets


@formula(source="definition")
def set_load_ratio(set_load, set_site_power):
    """Load of a set over what it can carry at its site."""
    return set_load / set_site_power


@formula(source="definition")
def alternator_load_ratio(case_apparent_power, running_sets, alternator_site_apparent_power):
    """Apparent load of a set over the site rating of its alternator: a poor power factor fills the alternator before the engine."""
    return case_apparent_power / (running_sets * alternator_site_apparent_power)


@formula(source="definition")
def minimum_demand_power(minimum_demand_share, demand_power):
    """Demand in the quietest hour."""
    return minimum_demand_share * demand_power


@formula(source="low-load")
def low_load_sets(low_load_sets_min, installed_sets, minimum_demand_power, low_load_ratio_min, set_rated_power):
    """Sets left running in the quietest hour, as many as keep their least loading, and no fewer than the project keeps running.

    Example: installed_sets=4, minimum_demand_power=950 kW, set_rated_power=1000 kW give 3 (hand calculation).
    """
    return max(low_load_sets_min, min(installed_sets, floor(minimum_demand_power / (low_load_ratio_min * set_rated_power))))


@formula(source="low-load")
def low_load_ratio(minimum_demand_power, low_load_sets, set_rated_power):
    """Loading of each set in the quietest hour, over rated power: below the limit unburnt fuel gathers in cylinders and exhaust."""
    return minimum_demand_power / (low_load_sets * set_rated_power)


# ---- checks ----

set_loading = check("set_loading", "set_load_ratio", limit="set_load_ratio_max", safe="below", source="rating-definition",
                    title="Loading of the running sets")
alternator_loading = check("alternator_loading", "alternator_load_ratio", limit="alternator_load_ratio_max", safe="below",
                           source="rating-definition", title="Loading of the alternators")
reserve = check("reserve", "sets_in_reserve", limit="spare_sets", safe="above", source="project", title="Sets in reserve", exact=True,
                applies={"installed_sets": GIVEN})
future_reserve = check("future_reserve", "future_sets_in_reserve", limit="spare_sets", safe="above", source="project",
                       title="Sets in reserve at the horizon of growth", exact=True)
low_load = check("low_load", "low_load_ratio", limit="low_load_ratio_min", safe="above", source="low-load",
                 title="Loading in the quietest hour")

# What no sound text gives the other way round.
spare_sets_order = order("spare_sets", "installed_sets")
sets_out_order = order("sets_out", "installed_sets")
low_load_sets_min_order = order("low_load_sets_min", "installed_sets")
step_sets_order = order("step_sets", "installed_sets")
