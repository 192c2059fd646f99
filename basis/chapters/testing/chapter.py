"""Exercise and tests: the year of tests, the floor of their load, and the rule and common practice that they are held against.

The yearly run and its bank stand in bank.py, what a year takes in taken.py. Left out: the long test every third year, and tests of single devices.
"""

from basis.language.formula import chapter, check, formula, order
from basis.language.maths import ceil, floor, h, lookup, not_given, sum_over

CHAPTER = chapter("testing", "Exercise and tests", order=220, cautions=(
    "A set that runs light gathers unburnt fuel in cylinders and exhaust; it may burn there when load comes. After light running, load it well and watch the "
    "stack while it clears.",
    "Do not skip a transfer test for convenience. What it proves, that the building is let go and taken up again, no load bank proves.",
    "A live-load test puts the users at risk. It needs their consent, a day that they choose, and a way back that is tried first.",
    "Sets that stand ready start by themselves, also while a bank is being connected. Isolate, lock, and prove dead before a cable is touched.",
    "Air from a load bank is hot enough to trip a set that draws it in. Its cables lie where people walk: fence them.",
))

RULES = ("nfpa-110-2010-tests", "nfpa-110-2005-tests", "csa-c282-tests")


# ---- the year of tests ----

@formula(source="test-balance")
def test_load_ratio(test_kind, yearly_run_ratio):
    """Load of the yearly run is the mean of its steps; that of every other test the project gives."""
    return yearly_run_ratio if test_kind == "load_bank" else not_given


@formula(source="test-balance")
def test_duration(test_kind, yearly_run_time):
    """The yearly run takes as long as its steps; every other test as the project says."""
    return yearly_run_time if test_kind == "load_bank" else not_given


@formula(source="definition")
def test_sets(test_kind, installed_sets):
    """Sets at once: all that are installed, but one at a time on a load bank."""
    return 1 if test_kind == "load_bank" else installed_sets


@formula(source="definition")
def test_load_mean(test_load_ratio, set_rated_power):
    """Mean load of a set. Percent of a test is of rated power, also where the site takes some of it away.

    Example: test_load_ratio=[40 %], set_rated_power=1000 kW give [400 kW] (hand calculation).
    """
    return test_load_ratio * set_rated_power


@formula(source="load-rule-lowest")
def test_load_lowest(test_load_mean):
    """Lowest load of a set: as planned until there is a log, which then decides."""
    return 1 * test_load_mean


@formula(source="definition")
def test_plant_load(test_load_lowest, test_sets):
    """Load of all sets that run, unless the project states what the building puts on them."""
    return test_load_lowest * test_sets


@formula(source="low-load")
def test_sets_most(test_sets_least, installed_sets, test_plant_load, exercise_load_min):
    """Most sets that this load keeps above the floor: the others are taken off, or the bank is brought.

    Example: test_sets_least=1, installed_sets=4, test_plant_load=[950 kW], exercise_load_min=300 kW give [3] (hand calculation).
    """
    return max(test_sets_least, min(installed_sets, floor(test_plant_load / exercise_load_min)))


@formula(source="load-rule-lowest")
def test_supplement(exercise_load_min, test_load_lowest):
    """What a bank must add for the set to reach the floor.

    Example: exercise_load_min=375 kW, test_load_lowest=[340 kW] give [35 kW] (hand calculation).
    """
    return max(0, exercise_load_min - test_load_lowest)


@formula(source="definition")
def test_interval_planned(test_times_yearly):
    """Days between two runs, evenly spread. Example: test_times_yearly=[12] give [30.4 d] (hand calculation)."""
    return 8760 * h / test_times_yearly


@formula(source="definition")
def test_interval_logged(test_date_before, test_date):
    """Days between the last two runs. Example: test_date_before=[2026-03-03], test_date=[2026-04-02] give [30 d] (hand calculation)."""
    return test_date - test_date_before


@formula(source="definition")
def test_occasions(test_times_yearly, installed_sets, test_sets):
    """Days of test in a year. Example: test_times_yearly=[12], installed_sets=3, test_sets=[2] give [24] (hand calculation)."""
    return test_times_yearly * ceil(installed_sets / test_sets)


# ---- the rule ----

@formula(source=RULES)
def exercise_load_ratio_min(test_rule):
    """Least load of an exercise. Example: test_rule=nfpa_110_2010 give 30 % (NFPA 110, 2010, from memory)."""
    return not_given if test_rule == "project" else lookup("test-rules", "load_ratio", test_rule)


@formula(source=RULES)
def exercise_time_min(test_rule):
    """Least time of an exercise. Example: test_rule=nfpa_110_2010 give 30 min (NFPA 110, 2010, from memory)."""
    return not_given if test_rule == "project" else lookup("test-rules", "duration", test_rule)


@formula(source=RULES)
def exercise_interval_min(test_rule):
    """Least interval. Example: test_rule=nfpa_110_2010 give 20 d (NFPA 110, 2010, from memory)."""
    return not_given if test_rule == "project" else lookup("test-rules", "interval_min", test_rule)


@formula(source=RULES)
def exercise_interval_max(test_rule):
    """Longest interval. Example: test_rule=nfpa_110_2010 give 40 d (NFPA 110, 2010, from memory)."""
    return not_given if test_rule == "project" else lookup("test-rules", "interval_max", test_rule)


@formula(source=RULES)
def yearly_run_always(test_rule):
    """Whether the rule asks for a yearly run whatever the exercises were. Example: test_rule=nfpa_110_2010 give 0 (NFPA 110, 2010, from memory)."""
    return not_given if test_rule == "project" else lookup("test-rules", "yearly_always", test_rule)


@formula(source=RULES)
def yearly_ratio_min(test_rule):
    """Least load of the yearly run. Example: test_rule=nfpa_110_2010 give 50 % (NFPA 110, 2010, from memory)."""
    return not_given if test_rule == "project" else lookup("test-rules", "yearly_ratio", test_rule)


@formula(source=RULES)
def yearly_time_min(test_rule):
    """Time of the yearly run. Example: test_rule=nfpa_110_2010 give 90 min (NFPA 110, 2010, from memory)."""
    return not_given if test_rule == "project" else lookup("test-rules", "yearly_time", test_rule)


@formula(source=RULES)
def yearly_top_ratio_min(test_rule):
    """Load of the last part. Example: test_rule=nfpa_110_2010 give 75 % (NFPA 110, 2010, from memory)."""
    return not_given if test_rule == "project" else lookup("test-rules", "yearly_top_ratio", test_rule)


@formula(source=RULES)
def yearly_top_time_min(test_rule):
    """Time of the last part. Example: test_rule=nfpa_110_2010 give 60 min (NFPA 110, 2010, from memory)."""
    return not_given if test_rule == "project" else lookup("test-rules", "yearly_top_time", test_rule)


@formula(source=RULES)
def exercise_load_min(exercise_load_ratio_min, set_rated_power):
    """Least load of a set in an exercise. Example: exercise_load_ratio_min=30 %, set_rated_power=1500 kW give 450 kW (hand calculation)."""
    return exercise_load_ratio_min * set_rated_power


@formula(source="load-rule-lowest")
def light_exercises(test_kind, load_floor_by, test_exhaust_temperature, test_exhaust_temperature_min, test_load_lowest, exercise_load_min):
    """Exercises that miss the floor, by the measure that the project judges load by."""
    return (sum_over("plant_test", 1 if test_kind == "exercise" and test_exhaust_temperature < test_exhaust_temperature_min else 0)
            if load_floor_by == "exhaust_temperature" else
            sum_over("plant_test", 1 if test_kind == "exercise" and test_load_lowest < exercise_load_min else 0))


@formula(source=RULES)
def yearly_run_reasons(light_exercises, yearly_run_always):
    """Why a yearly run is due. Example: light_exercises=2, yearly_run_always=1 give 3 (hand calculation)."""
    return light_exercises + yearly_run_always


EXERCISE = {"test_kind": ("exercise",)}
LOGGED = {**EXERCISE, "test_log": ("kept",)}

load_floor = check("exercise_load", "test_load_lowest", limit="exercise_load_min", safe="above", source="load-rule-lowest",
                   title="Lowest load of the exercise", applies={**EXERCISE, "load_floor_by": ("share_of_rating",)})
exhaust_floor = check("exercise_exhaust", "test_exhaust_temperature", limit="test_exhaust_temperature_min", safe="above", source="nfpa-110-2010-tests",
                      title="Exhaust temperature of the exercise", applies={**EXERCISE, "load_floor_by": ("exhaust_temperature",)})
time_floor = check("exercise_time", "test_duration", limit="exercise_time_min", safe="above", source=RULES, title="Time of the exercise by the rule",
                   applies=EXERCISE, exact=True)
planned_interval = check("exercise_planned", "test_interval_planned", limit="exercise_interval_max", safe="below", source=RULES,
                         title="Interval of the exercise by the rule", applies=EXERCISE)
too_close = check("exercise_too_close", "test_interval_logged", limit="exercise_interval_min", safe="above", source=RULES,
                  title="Exercises logged are not too close", applies=LOGGED)
late = check("exercise_late", "test_interval_logged", limit="exercise_interval_max", safe="below", source=RULES, title="Exercises logged are not late",
             applies=LOGGED)
common_interval = check("common_interval", "test_interval_planned", limit="common_exercise_interval", safe="below", source="common-test-practice",
                        title="Exercise once a month, common practice", applies=EXERCISE, exact=True)
common_time = check("common_time", "test_duration", limit="common_exercise_time", safe="above", source="common-test-practice",
                    title="Half an hour under load, common practice", applies=EXERCISE, exact=True)

# What no sound text gives the other way round.
test_date_order = order("test_date_before", "test_date")
exercise_interval_order = order("exercise_interval_min", "exercise_interval_max")
