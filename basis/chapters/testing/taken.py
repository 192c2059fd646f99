"""Exercise and tests, what a year takes: hours, fuel, mass into the air and money of a year of tests."""

import numpy as np

from basis.language.formula import check, formula, procedure
from basis.language.maths import h, sum_over
from basis.physics.fuel_curve import site_rates


@formula(source="test-balance")
def test_hours_each(test_duration, test_times_yearly):
    """Hours of one set in a year. Example: test_duration=[30 min], test_times_yearly=[12] give [6 h] (hand calculation)."""
    return test_duration * test_times_yearly


@formula(source="test-balance")
def test_hours_yearly(test_hours_each):
    """Hours of one set in a year, all tests."""
    return sum_over("plant_test", test_hours_each)


@formula(source="hours-ledger")
def test_hours_gap(test_hours_yearly, ledger_test_hours):
    """Whether the ledger of hours knows these tests: permit, fuel and overhaul are worked out from the ledger.

    Example: test_hours_yearly=16 h, ledger_test_hours=12 h give 4 h (hand calculation).
    """
    return abs(test_hours_yearly - ledger_test_hours)


@procedure(source=("linear-curve", "iso-3046-1"), yields=("test_fuel_rate",), equation="q_T = β·q(P_T), as for full load;  q_T = 0 where t_T = 0")
def fuel_of_tests(test_duration, test_load_mean, fuel_point_load, fuel_point_rate, fuel_adjustment):
    """Fuel of each set at the mean load of each test, by the set's own curve; none in a test in which no engine runs.

    Example: test_duration=[30 min], test_load_mean=[600 kW], fuel_point_load=[500 kW, 1000 kW], fuel_point_rate=[142 L/h, 262 L/h], fuel_adjustment=1 give
    [166 L/h] (hand calculation).
    """
    (rate,), gap, what = site_rates(test_load_mean, fuel_point_load, fuel_point_rate, fuel_adjustment)
    return (np.where(np.equal(test_duration, 0), 0.0, rate),), gap, what


@formula(source="test-balance")
def test_fuel(test_hours_each, installed_sets, test_fuel_rate):
    """Fuel of all sets: each has its turn. Example: test_hours_each=[6 h], installed_sets=2, test_fuel_rate=[100 L/h] give [1200 L] (hand calculation)."""
    return test_hours_each * installed_sets * test_fuel_rate


@formula(source="test-balance")
def test_fuel_yearly(test_fuel):
    """Fuel of all sets, all tests."""
    return sum_over("plant_test", test_fuel)


@formula(source="test-balance")
def test_energy_yearly(test_hours_each, installed_sets, test_load_mean):
    """Energy at the terminals of all sets: on a bank it is lost as heat, on live load it is not bought.

    Example: test_hours_each=[6 h], installed_sets=2, test_load_mean=[400 kW] give 4800 kWh (hand calculation).
    """
    return sum_over("plant_test", test_hours_each * installed_sets * test_load_mean)


@formula(source="emission-by-energy")
def test_pollutant_mass(test_energy_yearly, alternator_efficiency, pollutant_factor):
    """Mass of the tests: shaft energy times factor, nothing taken out.

    Example: test_energy_yearly=4800 kWh, alternator_efficiency=96 %, pollutant_factor=[8 g/kWh] give [40 kg] (hand calculation).
    """
    return test_energy_yearly / alternator_efficiency * pollutant_factor


@formula(source="test-money")
def bank_hire_yearly(test_load_way, bank_hire, test_kind, test_times_yearly):
    """Hire for each yearly run. Example: test_load_way=bank_hired, bank_hire=4000 EUR, test_kind=[load_bank], test_times_yearly=[1] give 4000 EUR (hand
    calculation).
    """
    return bank_hire * sum_over("plant_test", test_times_yearly if test_kind == "load_bank" else 0) if test_load_way == "bank_hired" else 0


@formula(source="test-money")
def bank_purchase(test_load_way, bank_price):
    """Price of a bank that is bought. Example: test_load_way=bank_bought, bank_price=60000 EUR give 60000 EUR (hand calculation)."""
    return bank_price if test_load_way == "bank_bought" else 0


@formula(source="test-money")
def bank_cost_yearly(bank_hire_yearly, bank_purchase, bank_life):
    """Hire, or the price spread evenly over the life of the bank; nothing for live load."""
    return bank_hire_yearly + bank_purchase * (8760 * h) / bank_life


@formula(source="test-money")
def test_people_yearly(test_occasions, test_crew_cost):
    """People of all occasions."""
    return sum_over("plant_test", test_occasions * test_crew_cost)


@formula(source="test-money")
def test_cost_yearly(test_fuel_yearly, fuel_price, test_people_yearly, bank_cost_yearly):
    """Fuel, people and bank. Example: test_fuel_yearly=1000 L, fuel_price=1.2 EUR/L, test_people_yearly=600 EUR, bank_cost_yearly=4000 EUR give 5800 EUR
    (hand calculation).
    """
    return test_fuel_yearly * fuel_price + test_people_yearly + bank_cost_yearly


ledger = check("test_ledger", "test_hours_gap", limit="ledger_gap_max", safe="below", source="hours-ledger", title="Ledger knows the hours of the tests",
               applies={"test_hours_chapter": ("in_this_book",)})
