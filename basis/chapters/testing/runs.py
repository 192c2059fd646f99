"""Exercise and tests, what the runs of a year reach: the yearly run and the long run of the rule, light running, and the load that burns it off."""

from basis.language.formula import SOME, check, formula
from basis.language.maths import floor, max_over, sum_over


@formula(source="load-rule-lowest")
def yearly_time(test_kind, bank_step_lowest, bank_step_time, test_load_lowest, test_duration, test_times_yearly, yearly_ratio_min, set_rated_power):
    """Longest time in a test of every year for which the lowest load reaches the least of the yearly run: by the steps on the bank, or as a whole."""
    return max_over("plant_test", max(
        sum_over("bank_step", bank_step_time if bank_step_lowest >= yearly_ratio_min * set_rated_power else 0) if test_kind == "load_bank" else 0,
        test_duration if test_load_lowest >= yearly_ratio_min * set_rated_power else 0) if test_times_yearly >= 1 else 0)


@formula(source="load-rule-lowest")
def yearly_top_time(test_kind, bank_step_lowest, bank_step_time, test_load_lowest, test_duration, test_times_yearly, yearly_top_ratio_min, set_rated_power):
    """The same for the load of the last part."""
    return max_over("plant_test", max(
        sum_over("bank_step", bank_step_time if bank_step_lowest >= yearly_top_ratio_min * set_rated_power else 0) if test_kind == "load_bank" else 0,
        test_duration if test_load_lowest >= yearly_top_ratio_min * set_rated_power else 0) if test_times_yearly >= 1 else 0)


@formula(source="definition")
def yearly_top_ratio(test_kind, bank_step_ratio, test_load_ratio, test_times_yearly):
    """Greatest load that a set sees in a test of every year."""
    return max_over("plant_test", max(max_over("bank_step", bank_step_ratio) if test_kind == "load_bank" else 0, test_load_ratio)
                    if test_times_yearly >= 1 else 0)


@formula(source="load-rule-lowest")
def long_runs_yearly(test_times_yearly, test_duration, long_time_min, test_load_lowest, long_ratio_min, set_rated_power):
    """Listed tests, of whatever kind, that are long enough and loaded enough for the long run.

    Example: test_times_yearly=[12, 1], test_duration=[30 min, 6 h], long_time_min=4 h, test_load_lowest=[400 kW, 600 kW], long_ratio_min=30 %,
    set_rated_power=1000 kW give 1 (hand calculation).
    """
    return sum_over("plant_test", test_times_yearly if test_duration >= long_time_min and test_load_lowest >= long_ratio_min * set_rated_power else 0)


# ---- light running ----

@formula(source="low-load")
def light_hours_yearly(test_hours_each, test_load_mean, low_load_ratio_min, set_rated_power):
    """Hours of tests in a year with less load than the engine should have.

    Example: test_hours_each=[6 h, 10 h], test_load_mean=[200 kW, 600 kW], low_load_ratio_min=30 %, set_rated_power=1000 kW give 6 h (hand calculation).
    """
    return sum_over("plant_test", test_hours_each if test_load_mean < low_load_ratio_min * set_rated_power else 0)


@formula(source="low-load")
def light_run_longest(test_duration, test_load_mean, low_load_ratio_min, set_rated_power):
    """Longest single test at such a load.

    Example: test_duration=[30 min, 2 h], test_load_mean=[200 kW, 600 kW], low_load_ratio_min=30 %, set_rated_power=1000 kW give 30 min (hand calculation).
    """
    return max_over("plant_test", test_duration if test_load_mean < low_load_ratio_min * set_rated_power else 0)


@formula(source="burn-off-usual")
def burn_offs_needed(light_hours_yearly, ledger_low_load_hours_max):
    """Times in a year that the engine has to be loaded well. Example: light_hours_yearly=20 h, ledger_low_load_hours_max=8 h give 2 (hand calculation)."""
    return floor(light_hours_yearly / ledger_low_load_hours_max)


@formula(source="burn-off-usual")
def burn_offs_yearly(test_kind, bank_step_lowest, bank_step_time, test_load_lowest, test_duration, test_times_yearly, burn_off_ratio, burn_off_time,
                     set_rated_power):
    """Listed tests that load a set well for long enough."""
    return sum_over("plant_test", test_times_yearly if max(
        sum_over("bank_step", bank_step_time if bank_step_lowest >= burn_off_ratio * set_rated_power else 0) if test_kind == "load_bank" else 0,
        test_duration if test_load_lowest >= burn_off_ratio * set_rated_power else 0) >= burn_off_time else 0)


DUE = {"yearly_run_reasons": SOME}

run_time = check("yearly_run", "yearly_time", limit="yearly_time_min", safe="above", source="rule-named", title="Time of the yearly run by the rule",
                 applies=DUE, exact=True)
top_time = check("yearly_top", "yearly_top_time", limit="yearly_top_time_min", safe="above", source="rule-named", title="Time of its last part by the rule",
                 applies=DUE, exact=True)
long_run = check("long_run", "long_runs_yearly", limit="long_runs_yearly_min", safe="above", source="rule-named", title="Long run by the rule",
                 applies={"long_runs_yearly_min": SOME}, exact=True)
common_yearly = check("common_yearly", "yearly_top_ratio", limit="common_yearly_ratio", safe="above", source="common-test-practice",
                      title="Once a year well loaded, common practice", applies={"light_exercises": SOME}, exact=True)
burn_off = check("burn_off", "burn_offs_yearly", limit="burn_offs_needed", safe="above", source="burn-off-usual",
                 title="Well loaded after light running, common practice", applies={"burn_offs_needed": SOME}, exact=True)
