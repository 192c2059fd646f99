"""Running modes: what each asks of a set in a year, and whether the rule for the hours and the rating class allow it.

Fuel, wear and money of each mode stand in money.py, the mode that is planned and its verdicts in planned.py. Left out: bids from hour to hour,
and heat that a running set could sell.
"""

from basis.language.formula import SOME, caution, chapter, formula, order
from basis.language.maths import h, lookup, nothing, sum_over

CHAPTER = chapter("modes", "Running modes", order=230,
                  settles="Which hours besides outages the plant may run, and what they bring.",
                  cautions=(
    "Ask the permit before the supplier. In some laws one hour run for income makes an emergency engine another kind of engine, with other limits.",
    "A set that is worn, out of fuel or under repair because it ran for income is missing in the outage for which it was bought.",
    caution("Running beside the public supply takes its owner's consent, protection at the point of connection, and an agreement on who switches.",
            planned_run_hours=SOME),
    caution("A called day starts sets by themselves, and often from afar. Whoever works on one isolates it first, whatever the contract says.",
            planned_paid_hours=SOME),
))


# ---- hours and loads ----

@formula(source="definition")
def mode_sets(installed_sets):
    """Sets that share the power of the mode: all that are installed, unless the mode says how many."""
    return installed_sets


@formula(source="definition")
def mode_set_load(mode_kind, mode_power, mode_sets):
    """Load of each set that runs in the mode. On standby nothing runs for the mode itself.

    Example: mode_kind=[interruptible], mode_power=[800 kW], mode_sets=[2] give [400 kW] (hand calculation).
    """
    return 0 if mode_kind == "standby" else mode_power / mode_sets


@formula(source="mode-hours")
def mode_run_hours(mode_kind, mode_days, mode_day_hours):
    """Running of one set in a year for the mode alone. Example: mode_kind=[interruptible], mode_days=[15], mode_day_hours=[4 h] give [60 h] (hand
    calculation).
    """
    return 0 if mode_kind == "standby" else mode_days * mode_day_hours


@formula(source="mode-hours")
def mode_starts_yearly(mode_kind, mode_days, mode_day_starts):
    """Starts of one set in a year for the mode alone: each wears the starter, the battery and cold metal more than an hour of running does."""
    return 0 if mode_kind == "standby" else mode_days * mode_day_starts


@formula(source="definition")
def mode_energy(mode_kind, mode_power, mode_run_hours):
    """Energy generated in a year in the mode. Example: mode_kind=[interruptible], mode_power=[800 kW], mode_run_hours=[60 h] give [48000 kWh] (hand
    calculation).
    """
    return 0 if mode_kind == "standby" else mode_power * mode_run_hours


@formula(source="mode-hours")
def hours_beside_modes(ledger_total_hours, ledger_peak_shaving_hours):
    """Running of one set in a usual year whatever the mode: the ledger without what it lists for income, in whose place each mode sets its own."""
    return ledger_total_hours - ledger_peak_shaving_hours


@formula(source="mode-hours")
def mode_hours_yearly(hours_beside_modes, mode_run_hours):
    """All running of one set in a usual year, a year at most: a set that runs all the time meets its outages running.

    Example: hours_beside_modes=36 h, mode_run_hours=[45 h] give [81 h] (hand calculation).
    """
    return min(8760 * h, hours_beside_modes + mode_run_hours)


# ---- what the rule counts ----

@formula(source="emergency-by-kind")
def mode_paid_hours(mode_kind, mode_run_hours):
    """Hours that earn money or cut a bill. Whoever pays for being allowed to call buys the hours that he calls."""
    return mode_run_hours if mode_kind == "interruptible" or mode_kind == "peak_shaving" else 0


@formula(source="emergency-by-kind")
def mode_other_hours(ledger_other_hours, mode_kind, mode_run_hours):
    """Hours that are neither test, maintenance, emergency nor for income: those of the ledger, and running as the supply itself; a year at most."""
    return min(8760 * h, ledger_other_hours + (mode_run_hours if mode_kind == "prime" else 0))


@formula(source="emergency-by-kind")
def mode_counted_hours(ledger_test_hours, ledger_maintenance_hours, mode_other_hours, mode_paid_hours, hours_rule, permit_inside, ledger_emergency_hours):
    """Hours that the rule counts: other running and running for income inside the hours for testing, never on top of them, unless the permit counts each
    apart; a year at most.

    Example: ledger_test_hours=9 h, ledger_maintenance_hours=0 h, mode_other_hours=[46 h], mode_paid_hours=[0 h], hours_rule=us_emergency_engine,
    ledger_emergency_hours=61 h give [55 h] (hand calculation).
    """
    return min(8760 * h, ledger_test_hours + ledger_maintenance_hours
               + (permit_inside if hours_rule == "permit" else 1) * (mode_other_hours + mode_paid_hours)
               + (ledger_emergency_hours if hours_rule == "eu_medium_plant" else 0))


@formula(source="emergency-by-kind")
def mode_rule_excess(hours_rule, mode_counted_hours, counted_hours_max, mode_other_hours, other_hours_max, mode_paid_hours, peak_shaving_hours_max):
    """By how much the mode passes the limit that it passes most, each kind of hours held against its own; none where the rule allows the mode.

    Example: hours_rule=us_emergency_engine, mode_counted_hours=[60 h], counted_hours_max=100 h, mode_other_hours=[51 h], other_hours_max=50 h,
    mode_paid_hours=[0 h], peak_shaving_hours_max=0 h give [1 h] (hand calculation).
    """
    return (max(0, mode_counted_hours - counted_hours_max) if hours_rule == "eu_medium_plant" else
            max(0, mode_counted_hours - counted_hours_max, mode_other_hours - other_hours_max, mode_paid_hours - peak_shaving_hours_max))


@formula(source="emission-by-energy")
def mode_pollutant_mass(record_pollutant_mass, record_reason, mode_energy, alternator_efficiency, pollutant_factor, mode_treatment_share, pollutant_reduction):
    """Mass of a year: of the ledger without its running for income, and of the shaft energy of the mode, less what treatment takes out while it works."""
    return (sum_over("running_record", 0 if record_reason == "peak_shaving" else record_pollutant_mass)
            + mode_energy / alternator_efficiency * pollutant_factor * (1 - mode_treatment_share * pollutant_reduction))


# ---- what the rating class covers ----

@formula(source="iso-8528-1-hours")
def mode_rating_hours_max(mode_rating_class):
    """Hours of a year that the class covers, all running counted: a set that is sold for emergencies is not sold for a season.

    Example: mode_rating_class=[ESP] give [200 h] (ISO 8528-1, from memory).
    """
    return lookup("iso-8528-1-hours", "hours", mode_rating_class) if lookup("iso-8528-1-hours", "limited", mode_rating_class) > 0 else nothing


@formula(source="iso-8528-1-hours")
def mode_rating_excess(mode_hours_yearly, mode_rating_hours_max):
    """Hours of a year above what the class covers."""
    return max(0, mode_hours_yearly - mode_rating_hours_max)


@formula(source="iso-8528-1-average")
def mode_average_ratio(mode_kind, mode_set_load, day_counted_share_min, mode_rated_power):
    """Average of the mode over the power declared: light running counts with its least share; on standby the day of an outage is judged instead.

    Example: mode_kind=[peak_shaving], mode_set_load=[600 kW], mode_rated_power=[1000 kW] give [60 %] (hand calculation).
    """
    return 0 if mode_kind == "standby" else max(mode_set_load, day_counted_share_min * mode_rated_power) / mode_rated_power


@formula(source="iso-8528-1-average")
def mode_average_ratio_max(mode_rating_class):
    """Average over 24 hours that the class of the mode covers. Example: mode_rating_class=[PRP] give [70 %] (ISO 8528-1, from memory)."""
    return lookup("iso-8528-1-average", "average", mode_rating_class)


@formula(source="definition")
def mode_load_ratio(mode_kind, mode_set_load, set_site_power, mode_rated_power):
    """Load of a set over what it may carry: thin air and warm rooms limit a mode as they limit an outage.

    Example: mode_kind=[prime], mode_set_load=[450 kW], set_site_power=1000 kW, mode_rated_power=[900 kW] give [50 %] (hand calculation).
    """
    return 0 if mode_kind == "standby" else mode_set_load / min(set_site_power, mode_rated_power)


mode_sets_order = order("mode_sets", "installed_sets")
