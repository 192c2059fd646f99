"""Exercise and tests, the crank test: the engine is turned with its fuel shut, which proves battery, cable and starter, and nothing of the engine.

What the battery gives while it cranks, and how many cranks make a cycle, is known by the chapter of starting. Left out: the inrush of the first instant.
"""

from basis.chapters.testing.chapter import RULES
from basis.language.formula import SOME, check, formula
from basis.language.maths import lookup, nothing, sum_over


@formula(source="test-balance")
def crank_tests_yearly(test_kind, test_times_yearly):
    """Crank tests of a set in a year. Example: test_kind=[crank, exercise], test_times_yearly=[2, 12] give 2 (hand calculation)."""
    return sum_over("plant_test", test_times_yearly if test_kind == "crank" else 0)


@formula(source=RULES)
def crank_tests_yearly_min(test_rule):
    """How often the rule asks for it. Example: test_rule=csa-c282-2015-tests give 2 (CSA C282 of 2015, table 4, read in a reproduction: every six months)."""
    return lookup(test_rule, "crank_yearly", test_rule) if lookup(test_rule, "crank_asked", test_rule) > 0 else nothing


@formula(source=RULES)
def crank_test_cycles(test_rule):
    """Whole cranking cycles of the test. Example: test_rule=csa-c282-2015-tests give 2 (CSA C282 of 2015, table 4, read in a reproduction)."""
    return lookup(test_rule, "crank_cycles", test_rule) if lookup(test_rule, "crank_asked", test_rule) > 0 else nothing


@formula(source=RULES)
def crank_voltage_ratio_min(test_rule):
    """Least voltage of the battery near the end. Example: test_rule=csa-c282-2015-tests give 80 % (CSA C282 of 2015, table 4, read in a reproduction)."""
    return lookup(test_rule, "crank_voltage", test_rule) if lookup(test_rule, "crank_asked", test_rule) > 0 else nothing


@formula(source="definition")
def crank_test_cranks(starting_chapter, crank_test_cycles, cranks_per_cycle):
    """Cranks of the whole test.

    Example: starting_chapter=in_this_book, crank_test_cycles=2, cranks_per_cycle=3 give 6 (hand calculation).
    """
    return crank_test_cycles * cranks_per_cycle if starting_chapter == "in_this_book" else nothing


@formula(source="definition")
def crank_test_stored(starting_chapter, cranked_by_battery, battery_cranks):
    """Cranks that the battery gives, cold and at the end of its life."""
    return (battery_cranks if cranked_by_battery > 0 else nothing) if starting_chapter == "in_this_book" else nothing


@formula(source="definition")
def crank_test_voltage(starting_chapter, cranked_by_battery, battery_cranking_voltage):
    """Voltage of the battery under the crank, cold and at the end of its life: a reading on a warm day, or of a new battery, lies above it."""
    return (battery_cranking_voltage if cranked_by_battery > 0 else nothing) if starting_chapter == "in_this_book" else nothing


@formula(source="definition")
def crank_test_voltage_min(starting_chapter, crank_voltage_ratio_min, starting_voltage):
    """Below this near the end of the last cycle the battery is replaced.

    Example: starting_chapter=in_this_book, crank_voltage_ratio_min=80 %, starting_voltage=24 V give 19.2 V (hand calculation).
    """
    return crank_voltage_ratio_min * starting_voltage if starting_chapter == "in_this_book" else nothing


LISTED = {"crank_tests_yearly": SOME}

often = check("crank_tests", "crank_tests_yearly", limit="crank_tests_yearly_min", safe="above", source="rule-named", title="Crank tests by the rule",
              applies={"crank_tests_yearly_min": SOME}, exact=True)
lasts = check("crank_test_lasts", "crank_test_stored", limit="crank_test_cranks", safe="above", source="rule-named",
              title="Battery lasts through the cycles of the crank test", applies=LISTED, exact=True)
voltage = check("crank_test_voltage_ok", "crank_test_voltage", limit="crank_test_voltage_min", safe="above", source="rule-named",
                title="Battery voltage near the end of the crank test", applies=LISTED)
