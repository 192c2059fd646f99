"""Exercise and tests: the year of tests, the floor of their load, and the rule and common practice that they are held against.

What the runs of a year reach stands in runs.py, the load bank in bank.py, the crank test in crank.py, what a year takes in taken.py. Left out: tests of
single devices.
"""

import numpy as np

from basis.language.formula import SOME, chapter, check, formula, order, procedure
from basis.language.maths import ceil, count_over, floor, h, lookup, min_over, not_given, sum_over

CHAPTER = chapter("testing", "Exercise and tests", order=220,
                  settles="What is run in a year to know that the plant will answer, and what each test proves.",
                  cautions=(
    "A set that runs light gathers unburnt fuel in cylinders and exhaust; it may burn there when load comes. After light running, load it well and watch the "
    "stack while it clears.",
    "Do not skip a transfer test for convenience. What it proves, that the building is let go and taken up again, no load bank proves.",
    "A live-load test puts the users at risk. It needs their consent, a day that they choose, and a way back that is tried first.",
    "Sets that stand ready start by themselves, also while a bank is being connected. Isolate, lock, and prove dead before a cable is touched.",
    "Air from a load bank is hot enough to trip a set that draws it in. Its cables lie where people walk: fence them.",
))

RULES = ("nfpa-110-2010-tests", "nfpa-110-2005-tests", "csa-c282-2015-tests", "tm-9-6115-464-tests", "emerggen-m-tests")


# ---- the year of tests ----

@formula(source="test-balance")
def test_load_ratio(test_kind, yearly_run_ratio):
    """Load of the run on the bank is the mean of its steps, if any are listed; cranking has none; that of every other test the project gives."""
    return (yearly_run_ratio if count_over("bank_step") > 0 else not_given) if test_kind == "load_bank" else 0 if test_kind == "crank" else not_given


@formula(source="test-balance")
def test_duration(test_kind, yearly_run_time):
    """The run on the bank takes as long as its steps, if any are listed; an engine that is cranked does not run; every other test as the project says."""
    return (yearly_run_time if count_over("bank_step") > 0 else not_given) if test_kind == "load_bank" else 0 if test_kind == "crank" else not_given


@formula(source="definition")
def test_sets(test_kind, installed_sets):
    """Sets at once: all that are installed, but one at a time on a load bank, or with its fuel shut."""
    return 1 if test_kind == "load_bank" or test_kind == "crank" else installed_sets


@formula(source="definition")
def test_load_mean(test_load_ratio, set_rated_power):
    """Mean load of a set. Percent of a test is of rated power, also where the site takes some of it away.

    Example: test_load_ratio=[40 %], set_rated_power=1000 kW give [400 kW] (hand calculation).
    """
    return test_load_ratio * set_rated_power


@formula(source="load-rule-lowest")
def test_load_lowest(test_kind, bank_step_lowest, test_load_mean):
    """Lowest load of a set: on the bank that of the lightest step, else as planned, until there is a log, which then decides."""
    return ((min_over("bank_step", bank_step_lowest) if count_over("bank_step") > 0 else test_load_mean) if test_kind == "load_bank" else test_load_mean)


@formula(source="definition")
def test_plant_load(test_load_lowest, test_sets):
    """Load of all sets that run, unless the project states what the building puts on them."""
    return test_load_lowest * test_sets


@formula(source="low-load")
def test_sets_most(test_kind, test_sets_least, installed_sets, test_plant_load, exercise_load_min):
    """Most sets that this load keeps above the floor: the others are taken off, or the bank is brought. Cranking warms none.

    Example: test_kind=[exercise], test_sets_least=1, installed_sets=4, test_plant_load=[950 kW], exercise_load_min=300 kW give [3] (hand calculation).
    """
    return 0 if test_kind == "crank" else max(test_sets_least, min(installed_sets, floor(test_plant_load / exercise_load_min)))


@formula(source="load-rule-lowest")
def test_supplement(test_kind, exercise_load_min, test_load_lowest):
    """What a bank must add for the set to reach the floor; nothing where the engine is only cranked.

    Example: test_kind=[exercise], exercise_load_min=375 kW, test_load_lowest=[340 kW] give [35 kW] (hand calculation).
    """
    return 0 if test_kind == "crank" else max(0, exercise_load_min - test_load_lowest)


@formula(source="test-balance")
def exercises_yearly(test_kind, test_times_yearly):
    """Exercises of a set in a year, however many of them are listed.

    Example: test_kind=[exercise, exercise], test_times_yearly=[8, 4] give 12 (hand calculation).
    """
    return sum_over("plant_test", test_times_yearly if test_kind == "exercise" else 0)


@formula(source="definition")
def test_interval_planned(test_kind, exercises_yearly, test_times_yearly):
    """Days between two runs, evenly spread; one exercise follows the other.

    Example: test_kind=[transfer], exercises_yearly=12, test_times_yearly=[4] give [91.25 d] (hand calculation).
    """
    return 8760 * h / (exercises_yearly if test_kind == "exercise" else test_times_yearly)


@procedure(source="test-balance", yields=("test_month_count",), equation="n_m = runs i of round(n_T), one at least, in month j_T + 12·i/round(n_T)")
def year_of_tests(test_times_yearly, test_first_month):
    """Runs of one set in each month, evenly spread from the first month on. A test that comes less than once a year is shown in the year that has it."""
    count = np.zeros((len(test_times_yearly), 12))
    runs = np.maximum(1, np.round(test_times_yearly)).astype(int)
    for place, (often, month) in enumerate(zip(runs, test_first_month)):
        np.add.at(count[place], ((round(month) - 1) + np.arange(often) * 12 // often) % 12, 1)
    return (count,), float(np.sum(count) - np.sum(runs)), "runs that fall in no month"


@formula(source="definition")
def test_interval_logged(test_date_before, test_date):
    """Days between the last two runs. Example: test_date_before=[2026-03-03], test_date=[2026-04-02] give [30 d] (hand calculation)."""
    return test_date - test_date_before


@procedure(source="definition", yields=("test_logged",), equation="y_T = 1 where a log is kept or the day of a run is given, else 0")
def tests_logged(test_log, test_date_before, test_date):
    """Whether runs of a test are on record. Days that are given are a log, whatever is said of one.

    Example: test_log=not_yet, test_date_before=[2026-03-03], test_date=[2026-04-02] give test_logged=[1] (counted).
    """
    given = ~(np.isnan(np.asarray(test_date_before, dtype=float)) & np.isnan(np.asarray(test_date, dtype=float)))
    return (np.where(given | (test_log == "kept"), 1.0, 0.0),), 0.0, "tests counted twice"


@formula(source="definition")
def test_occasions(test_times_yearly, installed_sets, test_sets):
    """Days of test in a year. Example: test_times_yearly=[12], installed_sets=3, test_sets=[2] give [24] (hand calculation)."""
    return test_times_yearly * ceil(installed_sets / test_sets)


# ---- the rule ----

@formula(source=RULES)
def exercise_load_ratio_min(test_rule):
    """Least load of an exercise. Example: test_rule=nfpa-110-2010-tests give 30 % (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "exercise_ratio", test_rule)


@formula(source=RULES)
def exercise_time_min(test_rule):
    """Least time of an exercise. Example: test_rule=nfpa-110-2010-tests give 30 min (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "exercise_time", test_rule)


@formula(source=RULES)
def exercise_interval_min(test_rule):
    """Least interval. Example: test_rule=nfpa-110-2010-tests give 20 d (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "interval_min", test_rule)


@formula(source=RULES)
def exercise_interval_max(test_rule):
    """Longest interval. Example: test_rule=nfpa-110-2010-tests give 40 d (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "interval_max", test_rule)


@formula(source=RULES)
def yearly_run_always(test_rule):
    """Whether the rule asks for it whatever the exercises were. Example: test_rule=nfpa-110-2010-tests give 0 (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "yearly_always", test_rule)


@formula(source=RULES)
def yearly_ratio_min(test_rule):
    """Least load of the yearly run. Example: test_rule=nfpa-110-2010-tests give 50 % (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "yearly_ratio", test_rule)


@formula(source=RULES)
def yearly_time_min(test_rule):
    """Time of the yearly run. Example: test_rule=nfpa-110-2010-tests give 90 min (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "yearly_time", test_rule)


@formula(source=RULES)
def yearly_top_ratio_min(test_rule):
    """Load of its last part. Example: test_rule=nfpa-110-2010-tests give 75 % (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "yearly_top_ratio", test_rule)


@formula(source=RULES)
def yearly_top_time_min(test_rule):
    """Time of its last part. Example: test_rule=nfpa-110-2010-tests give 60 min (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "yearly_top_time", test_rule)


@formula(source=RULES)
def long_runs_yearly_min(test_rule):
    """Long runs in a year. Example: test_rule=nfpa-110-2010-tests give 0.33 (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "long_yearly", test_rule)


@formula(source=RULES)
def long_ratio_min(test_rule):
    """Least load of the long run. Example: test_rule=nfpa-110-2010-tests give 30 % (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "long_ratio", test_rule)


@formula(source=RULES)
def long_time_min(test_rule):
    """Time of the long run. Example: test_rule=nfpa-110-2010-tests give 4 h (NFPA 110, 2010, read in a reproduction)."""
    return lookup(test_rule, "long_time", test_rule)


@formula(source=RULES)
def exercise_coolant_min(test_rule):
    """Coolant at the end of an exercise. Example: test_rule=tm-9-6115-464-tests give 71 degC (TM 9-6115-464-12, 2-13)."""
    return lookup(test_rule, "exercise_coolant", test_rule)


@formula(source="definition")
def exercise_load_min(exercise_load_ratio_min, set_rated_power):
    """Least load of a set in an exercise. Example: exercise_load_ratio_min=30 %, set_rated_power=1500 kW give 450 kW (hand calculation)."""
    return exercise_load_ratio_min * set_rated_power


@formula(source="load-rule-lowest")
def light_exercises(test_kind, load_floor_by, test_exhaust_temperature, test_exhaust_temperature_min, exercise_coolant_temperature, exercise_coolant_min,
                    test_load_lowest, exercise_load_min):
    """Exercises that are not known to reach the floor, by the measure that the project judges load by: a temperature that nobody logged proves nothing."""
    return (sum_over("plant_test", 0 if test_kind != "exercise" or test_exhaust_temperature >= test_exhaust_temperature_min else 1)
            if load_floor_by == "exhaust_temperature" else
            sum_over("plant_test", 0 if test_kind != "exercise" or exercise_coolant_temperature >= exercise_coolant_min else 1)
            if load_floor_by == "coolant_temperature" else
            sum_over("plant_test", 0 if test_kind != "exercise" or test_load_lowest >= exercise_load_min else 1))


@formula(source="definition")
def yearly_run_reasons(light_exercises, yearly_run_always):
    """Why a yearly run is due. Example: light_exercises=2, yearly_run_always=1 give 3 (hand calculation)."""
    return light_exercises + yearly_run_always


EXERCISE = {"test_kind": ("exercise",)}
LOGGED = {**EXERCISE, "test_logged": SOME}

load_floor = check("exercise_load", "test_load_lowest", limit="exercise_load_min", safe="above", source="load-rule-lowest",
                   title="Lowest load of the exercise", applies={**EXERCISE, "load_floor_by": ("share_of_rating",)})
exhaust_floor = check("exercise_exhaust", "test_exhaust_temperature", limit="test_exhaust_temperature_min", safe="above", source="nfpa-110-2010-tests",
                      title="Exhaust temperature of the exercise", applies={**EXERCISE, "load_floor_by": ("exhaust_temperature",)})
coolant_floor = check("exercise_coolant", "exercise_coolant_temperature", limit="exercise_coolant_min", safe="above", source="tm-9-6115-464-tests",
                      title="Coolant at the end of the exercise", applies={**EXERCISE, "load_floor_by": ("coolant_temperature",)})
time_floor = check("exercise_time", "test_duration", limit="exercise_time_min", safe="above", source="rule-named", title="Time of the exercise by the rule",
                   applies=EXERCISE, exact=True)
planned_interval = check("exercise_planned", "test_interval_planned", limit="exercise_interval_max", safe="below", source="rule-named",
                         title="Interval of the exercise by the rule", applies=EXERCISE)
too_close = check("exercise_too_close", "test_interval_logged", limit="exercise_interval_min", safe="above", source="rule-named",
                  title="Exercises logged are not too close", applies=LOGGED)
late = check("exercise_late", "test_interval_logged", limit="exercise_interval_max", safe="below", source="rule-named", title="Exercises logged are not late",
             applies=LOGGED)
common_exercises = check("common_exercises", "exercises_yearly", limit="common_exercises_yearly", safe="above", source="common-test-practice",
                         title="Exercise once a month, common practice", exact=True)
common_time = check("common_time", "test_duration", limit="common_exercise_time", safe="above", source="common-test-practice",
                    title="Half an hour under load, common practice", applies=EXERCISE, exact=True)

# What no sound text gives the other way round.
test_date_order = order("test_date_before", "test_date")
IN_SERVICE = {"limit": "commissioning_date", "safe": "above", "source": "definition", "exact": True, "self_test": True,
              "fault": "a day on or after 'commissioning_date'; what was run before it belongs to the record of commissioning"}
first_in_service = check("test_before_in_service", "test_date_before", title="Tests logged lie after commissioning", **IN_SERVICE)
last_in_service = check("test_in_service", "test_date", title="Last test logged lies after commissioning", **IN_SERVICE)
exercise_interval_order = order("exercise_interval_min", "exercise_interval_max")
