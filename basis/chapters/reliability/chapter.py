"""Reliability, first part: one set, its record of starts, how often to test it, and the time of a mission.

Several sets stand in sets.py, the fault tree of what fails a mission in tree.py, its decision diagram in diagram.py.
Left out: ageing, wear by tests, and repair of what the sets share.
"""

import numpy as np

from basis.language.formula import SOME, chapter, check, formula, order, procedure
from basis.language.maths import ceil, count_over, exp, log, lookup, min_over, not_given, nothing, sqrt

CHAPTER = chapter("reliability", "Reliability", order=250,
                  settles="How likely the plant starts and carries its load to the end, and what would help most.",
                  cautions=(
    "A chance is not a promise. The figures are those of many sets of other owners; this plant has its own fitters, its own fuel and its own dust.",
    "No set is called ready because this page says so. It is ready when it has started and carried load the last time that it was asked.",
    "Repair during a mission is work beside machines that start by themselves: isolate, lock and tag the set, and keep those that run away from it.",
    "A tree shows what its author thought of. What nobody drew is not in the result: walk the plant with it, and draw what is found.",
))


# ---- one set ----

@formula(source="set-reliability-figures")
def start_failure(reliability_data, record_start_mean):
    """Published share of demands that fail, or what the plant's own record makes likely. Example: reliability_data=open_model give 0.0094 (NREL, REopt.jl)."""
    return record_start_mean if reliability_data == "own_record" else lookup("set-reliability", "start_failure", reliability_data)


@formula(source="set-reliability-figures")
def mean_time_to_failure(reliability_data, record_run_time):
    """Published mean, or that of the record. It holds for the flat part of a set's life. Example: reliability_data=open_model give 1100 h (NREL, REopt.jl)."""
    return record_run_time if reliability_data == "own_record" else lookup("set-reliability", "run_time", reliability_data)


@formula(source="definition")
def run_failure_rate(mean_time_to_failure):
    """Steady rate. Example: mean_time_to_failure=1500 h give 6.667e-4 1/h (hand calculation)."""
    return 1 / mean_time_to_failure


@formula(source="set-repair-time")
def set_repair_yearly(year_time, test_interval, start_failure, running_hours_per_year, run_failure_rate, set_repair_time):
    """What tests and running bring to light is then mended.

    Example: test_interval=730 h, start_failure=0.01, running_hours_per_year=50 h, run_failure_rate=1e-3 1/h, set_repair_time=48 h give 8.16 h (hand
    calculation).
    """
    return (year_time / test_interval * start_failure + running_hours_per_year * run_failure_rate) * set_repair_time


@formula(source=("set-reliability-figures", "definition"))
def set_outage_yearly(set_upkeep_outage_yearly, set_repair_yearly, reliability_data, year_time):
    """Upkeep of one set, and repair; where no tasks of upkeep are listed from the published availability. A record of starts does not tell it."""
    return (set_upkeep_outage_yearly + set_repair_yearly if count_over("task") > 0 else
            not_given if reliability_data == "own_record" else (1 - lookup("set-reliability", "availability", reliability_data)) * year_time)


@formula(source="definition")
def set_availability(set_outage_yearly, year_time):
    """Share of the year in which the set is there to be called. Example: set_outage_yearly=87.6 h give 99 % (hand calculation)."""
    return 1 - set_outage_yearly / year_time


# ---- between tests ----

@formula(source="planned-tests")
def test_interval(test_kind, test_interval_planned, data_test_interval, year_time):
    """Of the test that comes most often, for others may fall on the same day; where no tests are listed that of the data. Cranking with the fuel shut starts no
    engine, so it counts as no more than a start in a year.

    Example: test_kind=[exercise, transfer], test_interval_planned=[730 h, 8760 h], data_test_interval=720 h give 730 h (hand calculation).
    """
    return (min_over("plant_test", max(year_time, test_interval_planned) if test_kind == "crank" else test_interval_planned) if count_over("plant_test") > 0
            else data_test_interval)


@formula(source="waiting-share")
def demand_failure(start_failure, waiting_share):
    """Starter, governor, breaker: what fails in the act. Example: start_failure=0.01, waiting_share=60 % give 0.004 (hand calculation)."""
    return start_failure * (1 - waiting_share)


@formula(source=("waiting-share", "standby-unavailability"))
def standby_failure_rate(start_failure, waiting_share, data_test_interval):
    """Battery, leaks, stuck valves: what fails at rest and is found at the next start. Half of an interval has passed in the mean.

    Example: start_failure=0.0072, waiting_share=50 %, data_test_interval=720 h give 1e-5 1/h (hand calculation).
    """
    return 2 * waiting_share * start_failure / data_test_interval


@formula(source="standby-unavailability")
def standby_unavailability(demand_failure, standby_failure_rate, test_interval, test_downtime):
    """Start itself, hidden failures of half an interval in the mean, and the test during which the set is not ready.

    Example: demand_failure=0.002, standby_failure_rate=1e-5 1/h, test_interval=720 h, test_downtime=2 h give 0.008378 (hand calculation).
    """
    return demand_failure + standby_failure_rate * test_interval / 2 + test_downtime / test_interval


@formula(source="standby-unavailability")
def test_interval_best(test_downtime, standby_failure_rate):
    """Where the two parts that pull against each other are alike. Wear by starting is not in it, and asks for longer.

    Example: test_downtime=2 h, standby_failure_rate=1e-5 1/h give 632 h (hand calculation).
    """
    return sqrt(2 * test_downtime / standby_failure_rate) if test_downtime * standby_failure_rate > 0 else nothing


@formula(source="standby-unavailability")
def standby_unavailability_best(demand_failure, test_downtime, standby_failure_rate):
    """At the best interval both parts are alike.

    Example: demand_failure=0.002, test_downtime=2 h, standby_failure_rate=1e-5 1/h give 0.00832 (hand calculation).
    """
    return demand_failure + sqrt(2 * test_downtime * standby_failure_rate) if test_downtime * standby_failure_rate > 0 else nothing


# ---- the plant's own record ----

@formula(source="jeffreys")
def record_start_mean(recorded_start_failures, recorded_starts):
    """Half a failure is added, so that none is not never. Example: recorded_start_failures=0, recorded_starts=60 give 0.0082 (hand calculation)."""
    return (recorded_start_failures + 0.5) / (recorded_starts + 1)


@procedure(source="jeffreys", equation="∫ of Beta(f + ½, n − f + ½) from 0 to q = 5 %, 95 %;  Beta(f + 1, n − f) from 0 to q_c = 95 %",
           yields=("record_start_low", "record_start_high", "record_start_bound"))
def record_bounds(recorded_starts, recorded_start_failures):
    """What so many failures in so many starts leave possible, with nothing known before; and the classical one-sided bound."""
    if not recorded_starts > 0:
        return (np.nan, np.nan, np.nan), 0.0, "no start on record"
    from scipy.special import betainc, betaincinv  # here, since loading it takes time that only a book with a record should pay
    failed, good = recorded_start_failures, recorded_starts - recorded_start_failures
    low, high = (float(betaincinv(failed + 0.5, good + 0.5, share)) for share in (0.05, 0.95))
    bound = float(betaincinv(failed + 1, good, 0.95)) if good > 0 else 1.0
    return (low, high, bound), float(abs(betainc(failed + 0.5, good + 0.5, high) - 0.95)), "share below the high value less 95 %"


@formula(source="jeffreys")
def record_run_time(recorded_running, recorded_run_failures):
    """Time over failures, half a failure added. Example: recorded_running=900 h, recorded_run_failures=1 give 600 h (hand calculation)."""
    return recorded_running / (recorded_run_failures + 0.5)


@procedure(source="jeffreys", equation="∫ of Gamma(f + ½, t) from 0 to λ = 5 %, 95 %", yields=("record_run_low", "record_run_high"))
def record_run_bounds(recorded_running, recorded_run_failures):
    """What so many failures in so much running leave possible, with nothing known before."""
    if not recorded_running > 0:
        return (np.nan, np.nan), 0.0, "no running on record"
    from scipy.special import gammainc, gammaincinv  # here, as above
    low, high = (float(gammaincinv(recorded_run_failures + 0.5, share)) / recorded_running for share in (0.05, 0.95))
    return (low, high), float(abs(gammainc(recorded_run_failures + 0.5, high * recorded_running) - 0.95)), "share below the high value less 95 %"


@formula(source="zero-failure-proof")
def proof_starts(proof_confidence, proof_reliability):
    """So many that a plant no better than that would have failed by now. Example: proof_confidence=95 %, proof_reliability=95 % give 59 (hand calculation)."""
    return ceil(log(1 - proof_confidence) / log(proof_reliability))


# ---- the mission ----

@formula(source="project")
def mission_time(fuel_chapter, autonomy):
    """As long as the fuel lasts; the project gives another time where a delivery or the end of the outage is sure."""
    return autonomy if fuel_chapter == "in_this_book" else not_given


@formula(source="project")
def mission_sets(installed_sets):
    """All installed sets may carry the mission."""
    return installed_sets


@formula(source="project")
def mission_sets_needed(required_sets):
    """As many as the loads ask for at the planned loading."""
    return required_sets


@formula(source="mission-success")
def start_success(set_availability, standby_unavailability):
    """Not out, and answering. Example: set_availability=99 %, standby_unavailability=0.05 give 94.05 % (hand calculation)."""
    return set_availability * (1 - standby_unavailability)


@formula(source="mission-success")
def run_success(mission_time, run_failure_rate):
    """Steady rate over the time of the mission. Example: mission_time=24 h, run_failure_rate=6.6667e-4 1/h give 98.4127 % (hand calculation)."""
    return exp(-mission_time * run_failure_rate)


@formula(source="mission-success")
def set_mission_success(start_success, run_success):
    """Both must come true; a set that fails is not counted back, since repair needs a crew on site.

    Example: start_success=99.5 %, run_success=98.4127 % give 97.9206 % (hand calculation).
    """
    return start_success * run_success


record = check("record_fits_data", "record_start_low", limit="start_failure", safe="below", source="jeffreys", title="Own record against the figures used",
               applies={"recorded_starts": SOME})
record_running = check("record_fits_running", "record_run_low", limit="run_failure_rate", safe="below", source="jeffreys", applies={"recorded_running": SOME},
                       title="Own running against the figures used")
failed = order("recorded_start_failures", "recorded_starts")
