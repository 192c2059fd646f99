"""Running modes against worked examples of tariffs, the emergency-engine rule, ISO 8528-1, and hand calculations."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from axes import over
from conftest import ROOT, SLUGS
from pytest import approx
from rendering import chapter_page

from basis.chapters.modes import chapter as m
from basis.chapters.modes import money, planned
from basis.language.compiled import count_name
from basis.language.faults import Faults
from basis.language.table import lookup
from basis.reading.project import read
from basis.solving.solve import load, solve

HOUR, KW, KWH, L = 3600.0, 1e3, 3.6e6, 1e-3


def one(*numbers):
    return np.array(numbers, dtype=float)


# ---- worked examples ----

def income(power, price, months, hours, own, tariff):
    """Credit, cost of the running, income and break-even hours of one interruptible mode."""
    credit = money.mode_credit.run("interruptible", power * KW, price / KW, months)
    loss = money.mode_hour_loss.run("interruptible", power * KW, own / KWH, tariff / KWH, 0.0)
    standing = money.mode_standing_income.run("interruptible", credit, 0.0, 0.0, 0.0)
    running = money.mode_running_cost.run(hours * HOUR, loss)
    return credit, running, money.mode_income_yearly.run(standing, running), money.mode_break_even_hours.run(loss, standing) / HOUR


def test_interruptible_tariff_of_800_kw():
    # E67: 800 kW, 9.5 a kilowatt and month, 60 h, own energy 0.28, tariff 0.12: 91 200 - 7680 = 83 520
    assert income(800, 9.5, 12, 60, 0.28, 0.12)[:3] == approx((91_200, 7680, 83_520))


def test_interruptible_tariff_of_900_kw():
    # O35: 900 kW, 6 months, 11.0, 45 h, own 0.31, tariff 0.14: 52 515; break-even at 388 h
    _, _, left, even = income(900, 11.0, 6, 45, 0.31, 0.14)
    assert left == approx(52_515) and even == approx(388, abs=0.5)
    assert money.tried_running_cost.run("peak_shaving", 2.0, 5.0) == 10 and np.isnan(money.tried_running_cost.run("prime", 2.0, 5.0))
    assert money.tried_income.run(59_400.0, money.tried_running_cost.run("interruptible", even * HOUR, 900 * KW * 0.17 / KWH)) == approx(0, abs=1e-6)


def test_an_hour_that_is_paid_for_when_it_is_called():
    # hand: 800 kW at 0.28 less 0.12 not bought and 0.05 paid lose 88 an hour; 800 kW on two sets are 400 kW each, and 48 000 kWh in 60 h
    assert money.mode_hour_loss.run("interruptible", 800 * KW, 0.28 / KWH, 0.12 / KWH, 0.05 / KWH) * HOUR == approx(88)
    assert m.mode_set_load.run("interruptible", 800 * KW, 2) == 400 * KW and m.mode_energy.run("interruptible", 800 * KW, 60 * HOUR) == approx(48_000 * KWH)
    # hand: credit and what is saved on demand charges, less fixed cost and misses; no other mode than an interruptible tariff has a credit
    assert money.mode_standing_income.run("peak_shaving", 1000.0, 500.0, 200.0, 100.0) == 1200
    assert money.mode_credit.run("peak_shaving", 800 * KW, np.nan, np.nan) == money.mode_miss_cost.run("prime", 365, 0.02, 5000.0) == 0


def test_demand_charges_with_a_ratchet():
    # O35: ratchet 0.8, peaks 1400, 1000 and 1200 kW at 9 a kilowatt: 33 480
    peaks, beside = [1400 * KW, 1000 * KW, 1200 * KW], [1100 * KW, 600 * KW, 700 * KW]
    billed = over(money.month_billed, month_peak=peaks, ratchet_share=0.8)
    assert money.demand_cost.run(9 / KW, billed) == approx(33_480)
    # hand, 400 kW shaved, 1100 kW in the other hours of the first month: peaks 1100, 600, 800; billed 1100, 880, 880; 2860 x 9 = 25 740
    left = over(money.mode_month_peak, mode_kind=["peak_shaving"], month_peak=peaks, month_peak_beside=beside, mode_power=[400 * KW])
    assert left / KW == approx(np.array([[1100, 600, 800]]))
    shaved = over(money.mode_month_billed, mode_month_peak=left, ratchet_share=0.8)
    assert over(money.mode_demand_cost, demand_price=9 / KW, mode_month_billed=shaved) == approx(one(25_740))
    assert over(money.month_billed, month_peak=peaks, ratchet_share=0.0) == approx(np.array(peaks))  # without a ratchet each month pays its own
    # hand: as the supply 1100 kW come off all hours, and no month pays less than nothing; other modes leave the peaks as they are
    left = over(money.mode_month_peak, mode_kind=["prime", "standby"], month_peak=peaks, month_peak_beside=beside, mode_power=[1100 * KW, np.nan])
    assert (left / KW).tolist() == [[300, 0, 100], [1400, 1000, 1200]]


def test_what_is_saved_on_demand_charges():
    # hand: 33 480 less 25 740 where the mode cuts peaks; nobody knows it without a list of months, and a mode that cuts none saves nothing
    kinds, costs = ["peak_shaving", "prime", "interruptible", "standby"], {"demand_cost": 33_480.0, "mode_demand_cost": [25_740.0] * 4}
    for months, expected in ((3.0, [7740, 7740, 0, 0]), (0.0, [None, None, 0, 0])):
        found = over(money.mode_demand_saving, mode_kind=kinds, **costs, **{count_name("billing_month"): months})
        assert [None if np.isnan(each) else each for each in found] == expected


def test_wear_of_an_hour_is_that_of_upkeep_where_tasks_are_listed():
    given = {"running_wear_price": 12.09, count_name("running_mode"): 1.0}
    for where, tasks, expected in (("in_this_book", 7.0, 12.09), ("in_this_book", 0.0, np.nan), ("not_in_this_book", 7.0, np.nan)):
        found = over(money.mode_wear_price, modes_upkeep_chapter=where, **given, **{count_name("task"): tasks})
        assert np.squeeze(found) == approx(expected, nan_ok=True)


def test_the_rule_by_kind_of_hours():
    # O15: 9 h tests, 46 h other, 61 h outage: 55 of 100 and 46 of 50, compliant; 5 h more of other running: 51 of 50, not; any paid hour: not an
    # emergency engine
    def excess(other, paid):
        counted = m.mode_counted_hours.run(9 * HOUR, 0.0, other * HOUR, paid * HOUR, "us_emergency_engine", 1.0, 61 * HOUR)
        return counted / HOUR, m.mode_rule_excess.run("us_emergency_engine", counted, 100 * HOUR, other * HOUR, 50 * HOUR, paid * HOUR, 0.0) / HOUR
    assert excess(46, 0) == approx((55, 0))
    assert excess(51, 0) == approx((60, 1))
    assert excess(46, 1) == approx((56, 1))
    assert excess(0, 0.25)[1] > 0
    assert m.mode_counted_hours.run(6 * HOUR, 3 * HOUR, 46 * HOUR, 0.0, "permit", 1.0, 61 * HOUR) == approx(55 * HOUR)  # with the tests


def test_the_european_rule_counts_outages_and_knows_no_kinds():
    counted = m.mode_counted_hours.run(9 * HOUR, 0.0, 46 * HOUR, 5 * HOUR, "eu_medium_plant", 1.0, 61 * HOUR)  # hand: 9 + 46 + 5 + 61
    assert counted == approx(121 * HOUR)
    assert m.mode_counted_hours.run(9 * HOUR, 0.0, 46 * HOUR, 5 * HOUR, "permit", 1.0, 61 * HOUR) == 60 * HOUR  # by any other rule without the outages
    assert m.mode_counted_hours.run(9 * HOUR, 0.0, 46 * HOUR, 5 * HOUR, "permit", 0.0, 61 * HOUR) == 9 * HOUR  # hand: tests alone
    assert m.mode_rule_excess.run("eu_medium_plant", counted, 500 * HOUR, 46 * HOUR, np.nan, 5 * HOUR, np.nan) == 0


# ---- rating class ----

@pytest.mark.parametrize(("rating", "limited", "hours", "average"), (("ESP", 1, 200, 0.7), ("PRP", 0, 0, 0.7), ("LTP", 1, 500, 1), ("COP", 0, 0, 1)))
def test_classes_of_iso_8528_1(rating, limited, hours, average):
    # ISO 8528-1: ESP 200 h a year and 70 % over 24 h, PRP no limit of hours and 70 %, LTP 500 h, COP constant load without limit of hours
    assert lookup("iso-8528-1-hours", "limited", rating) == limited and lookup("iso-8528-1-hours", "hours", rating) == hours * HOUR
    assert m.mode_average_ratio_max.run(rating) == approx(average)
    if limited:
        assert m.mode_rating_hours_max.run(rating) == hours * HOUR
    else:
        assert np.isnan(m.mode_rating_hours_max.run(rating))


def test_average_of_a_mode():
    # ISO 8528-1, from memory: power below 30 % counts as 30 %; hand: 200 of 1000 kW count as 30 %, 600 kW as 60 %
    assert [m.mode_average_ratio.run("prime", load * KW, 0.3, 1000 * KW) for load in (200, 600)] == approx([0.3, 0.6])
    assert m.mode_load_ratio.run("prime", 600 * KW, 945 * KW, 1000 * KW) == approx(0.635, abs=5e-4)  # the site, not the sheet, is the lesser here


# ---- hours, fuel, wear ----

def test_hours_and_starts_of_a_mode():
    assert m.mode_run_hours.run("interruptible", 15, 4 * HOUR) == 60 * HOUR  # hand
    assert m.mode_starts_yearly.run("peak_shaving", 40, 2) == 80
    assert m.mode_hours_yearly.run(36 * HOUR, 45 * HOUR) == 81 * HOUR
    assert m.mode_hours_yearly.run(130 * HOUR, 8760 * HOUR) == 8760 * HOUR  # a year has no more: outages are met running
    assert (m.mode_paid_hours.run("prime", HOUR), m.mode_paid_hours.run("interruptible", HOUR), m.mode_paid_hours.run("peak_shaving", HOUR)) == (0, HOUR, HOUR)
    assert m.mode_other_hours.run(46 * HOUR, "prime", HOUR) == 47 * HOUR and m.mode_other_hours.run(46 * HOUR, "interruptible", HOUR) == 46 * HOUR


def test_standby_takes_nothing():
    standby = "standby"
    assert m.mode_starts_yearly.run(standby, np.nan, np.nan) == money.mode_day_fuel.run(standby, np.nan, 2, 1.0) == 0
    assert money.mode_day_cost.run(standby, np.nan, np.nan) == 0 and np.isnan(money.mode_day_worth.run(standby, 20, 50_000.0))
    assert m.mode_run_hours.run(standby, np.nan, np.nan) == m.mode_set_load.run(standby, np.nan, 2) == m.mode_energy.run(standby, np.nan, 0.0) == 0
    assert money.mode_own_price.run(standby, 1.0, 1.0, np.nan, 0.0) == money.mode_hour_loss.run(standby, np.nan, 0.0, 1.0, 0.0) == 0
    assert m.mode_average_ratio.run(standby, 0.0, 0.3, np.nan) == m.mode_load_ratio.run(standby, 0.0, 945 * KW, np.nan) == 0
    assert money.mode_standing_income.run(standby, 0.0, 0.0, np.nan, 0.0) == 0 and money.mode_fuel_yearly.run(standby, 0.0, 2, 1.0) == 0
    assert np.isnan(money.mode_day_worth.run(standby, np.nan, 0.0))


def test_fuel_and_own_energy_of_a_mode():
    loads, rates = one(500, 1000) * KW, one(142, 262) * L / HOUR
    (rate,), _, _ = money.fuel_of_modes.run(one(600 * KW), loads, rates, 1.0)
    assert rate / (L / HOUR) == approx(one(166))  # hand: 142 + 120 x 100/500
    # hand: 166 L/h x 1.20 = 199.20 an hour, and 20 for upkeep: 219.20 over 600 kW = 0.36533 a kilowatt-hour
    assert money.mode_own_price.run("prime", rate, 1.2 / L, 20 / HOUR, 600 * KW) * KWH == approx(one(0.36533), abs=5e-6)
    assert money.mode_fuel_yearly.run("prime", 60 * HOUR, 2, rate) == approx(one(19.92))  # hand: 60 h x 2 x 166 L
    assert money.mode_stock.run(10.0, money.mode_day_fuel.run("prime", 4 * HOUR, 2, rate)) == approx(one(11.328))  # hand: 4 h x 2 x 166 L on top


def test_year_with_a_mode_in_place_of_what_the_ledger_lists_for_income():
    # hand: 10 h x 100 L/h of tests and 5 h x 2 x 150 L/h of outages, and 3000 L of the mode for the 45 h of the ledger;
    # 4000 kWh at 0.30 not bought and 0.05 paid on top of 11 000
    fuel = over(money.mode_fuel_all_yearly, record_reason=["test", "peak_shaving", "emergency"], record_hours=[10 * HOUR, 45 * HOUR, 5 * HOUR],
                record_sets=[1, 1, 2], record_fuel_rate=[100 * L / HOUR, 150 * L / HOUR, 150 * L / HOUR], mode_fuel_yearly=[3.0, 0.0])
    assert fuel == approx(one(5.5, 2.5))
    assert money.mode_receipts_yearly.run(11_000.0, money.mode_energy_receipts.run("interruptible", 4000 * KWH, 0.30 / KWH, 0.05 / KWH)) == approx(12_400)
    assert money.mode_energy_receipts.run("standby", 0.0, np.nan, np.nan) == 0


def test_life_of_the_engine():
    year = 8760 * HOUR
    # TM 5-685: overhaul after about 16 000 h or 10 years; hand: 200 h a year would take 80 years, 4000 h take 4
    here, away, stages = "in_this_book", "not_in_this_book", np.array([30_000.0, 50_000.0, 100_000.0]) * HOUR
    rest = 10_000 * year, 10 * year
    assert [money.mode_overhaul_years.run(away, stages, 0.0, 0.0, 16_000 * HOUR, 0.0, hours * HOUR, *rest) / year for hours in (200, 4000)] == approx([10, 4])
    # hand: of 16 000 h 6000 are run, which leaves 2.5 years; once they are used up, and once the day of the first stage is past, nothing is left
    assert money.mode_overhaul_years.run(away, stages, 0.0, 0.0, 16_000 * HOUR, 6000 * HOUR, 4000 * HOUR, *rest) / year == approx(2.5)
    assert money.mode_overhaul_years.run(away, stages, 0.0, 0.0, 16_000 * HOUR, 17_000 * HOUR, 4000 * HOUR, *rest) == 0
    assert money.mode_overhaul_years.run(here, np.array([5.0, 9.0]), 6.0, 1.0, 16_000 * HOUR, 0.0, HOUR, *rest) == 0
    # hand, with upkeep: its first stage in three years of a book that counts to its second; 160 000 h of a life use up three overhauls each 100 000 h
    days = np.array([5.0, 9.0, 20.0]) * year
    assert money.mode_overhaul_years.run(here, days, 2 * year, year, 16_000 * HOUR, 0.0, HOUR, *rest) / year == approx(3)
    life = {"hours_run": 0.0, "mode_hours_yearly": [8000 * HOUR], "project_life": 20 * year, "overhaul_stage_hours": list(stages),
            "overhaul_hours": 16_000 * HOUR, count_name("overhaul_stage"): 3.0}
    assert [float(over(money.mode_overhauls, modes_upkeep_chapter=where, **life)[0]) for where in (away, here)] == approx([10, 4.8])


def test_no_year_has_more_hours_than_a_year():
    # hand: 8760 h as the supply hold the 46 h of other running, and tests do not come on top
    other = over(m.mode_other_hours, ledger_other_hours=46 * HOUR, mode_kind=["prime", "standby"], mode_run_hours=[8760 * HOUR, 0.0])
    assert other / HOUR == approx(one(8760, 46))
    counted = over(m.mode_counted_hours, ledger_test_hours=9 * HOUR, ledger_maintenance_hours=0.0, mode_other_hours=list(other), mode_paid_hours=[0.0, 0.0],
                   hours_rule="permit", permit_inside=1.0, ledger_emergency_hours=61 * HOUR)
    assert counted / HOUR == approx(one(8760, 55))


def test_chance_of_a_miss():
    # hand: 0.99 x exp(-4 h/1500 h) = 0.98736 for one set; 0.97489 for two
    chances = [money.mode_miss_probability.run("in_this_book", 0.99, 4 * HOUR, 1 / (1500 * HOUR), sets) for sets in (1, 2)]
    assert chances == approx([0.01264, 0.02511], abs=1e-5)
    assert np.isnan(money.mode_miss_probability.run("not_in_this_book", 0.99, 4 * HOUR, 1 / (1500 * HOUR), 1))


def test_misses_and_called_days():
    assert money.mode_miss_cost.run("interruptible", 20, 0.02, 5000.0) == approx(2000)  # hand
    assert money.mode_misses_allowed.run("interruptible", 5000.0, 18_000.0, 2000.0) == approx(4)  # hand: 20 000 over 5000
    assert np.isnan(money.mode_misses_allowed.run("interruptible", 0.0, 18_000.0, 2000.0))
    assert money.mode_day_worth.run("interruptible", 20, 50_000.0) == approx(2500)
    assert money.mode_day_cost.run("interruptible", 4 * HOUR, 128 / HOUR) == approx(512)  # hand: 4 h at 128 an hour
    assert money.mode_misses_allowed.run("interruptible", 5000.0, -18_000.0, 2000.0) == 0  # what is lost already leaves none
    assert np.isnan(money.mode_day_worth.run("interruptible", 0, 0.0))
    # hand: an hour loses three of what two hundred hours have to eat; and so in a money of which one is worth ten thousand
    assert money.mode_break_even_hours.run(3 / HOUR, 600.0) == approx(200 * HOUR) == money.mode_break_even_hours.run(3e-4 / HOUR, 0.06)
    assert money.mode_break_even_hours.run(3e-4 / HOUR, 6e-4) == approx(2 * HOUR)
    assert money.mode_misses_allowed.run("interruptible", 5e-4, 18e-4, 2e-4) == approx(4)
    assert np.isnan(money.mode_break_even_hours.run(-1.0, 100.0)) and np.isnan(money.mode_break_even_hours.run(1.0, -100.0))


PICKED = (planned.planned_hours_yearly, planned.planned_run_hours, planned.planned_counted_hours, planned.planned_other_hours, planned.planned_paid_hours,
          planned.planned_rating_hours_max, planned.planned_average_ratio, planned.planned_average_ratio_max, planned.planned_load_ratio, planned.planned_stock,
          planned.planned_income_yearly)


@pytest.mark.parametrize("formula", PICKED, ids=lambda formula: formula.id)
def test_what_is_planned_is_that_of_the_chosen_mode(formula):
    _, values = formula.parameters
    assert over(formula, mode_chosen=1, **{values: [3.0, 5.0, 7.0]}) == 5.0  # hand: the second of three


def test_mass_of_a_mode():
    # NPI manual 2008: 14.6 g of nitrogen oxides for a kilowatt-hour; hand: ledger 12 and 8 kg without its 7 kg for income, and
    # 1000 kWh / 0.94 x 14.6 g x (1 - 0.5 x 0.8) = 9.319 kg
    found = over(m.mode_pollutant_mass, record_pollutant_mass=[[12.0], [7.0], [8.0]], record_reason=["test", "peak_shaving", "emergency"],
                 mode_energy=[1000 * KWH], alternator_efficiency=0.94, pollutant_factor=[14.6e-3 / KWH], mode_treatment_share=[0.5], pollutant_reduction=[0.8])
    assert found == approx(np.array([[29.319]]), abs=5e-4)
    assert over(planned.planned_pollutant_mass, mode_chosen=1, mode_pollutant_mass=[[1.0, 2.0], [3.0, 4.0]]) == approx(one(2, 4))


def test_ledger_and_mode_tell_one_year():
    assert m.hours_beside_modes.run(77 * HOUR, 45 * HOUR) == 32 * HOUR  # hand
    assert planned.planned_ledger_gap.run(45 * HOUR, 60 * HOUR) == planned.planned_ledger_gap.run(60 * HOUR, 45 * HOUR) == 15 * HOUR
    assert m.mode_rating_excess.run(212 * HOUR, 200 * HOUR) == 12 * HOUR and m.mode_rating_excess.run(36 * HOUR, 200 * HOUR) == 0
    assert m.mode_sets.run(3) == 3 and money.mode_tariff_price.run(0.14) == 0.14  # unless a mode says otherwise


def test_age_of_prices():
    day = 86_400.0
    assert planned.planned_price_age.run(1000 * day, 0, one(635 * day)) == 365 * day  # hand
    assert planned.planned_price_age.run(1000 * day, 0, one(1200 * day)) == 0


# ---- books ----

PLANT = """name: Small works
chapters: [plant, loads, hours, fuel, modes]
altitude: 100 m
outdoor_temperature_max: 30 degC
outdoor_temperature_min: -5 degC
outdoor_relative_humidity: 50 %
power_frequency: 50 Hz
currency: EUR
energy_price: 0.14 EUR/kWh
fuel_price: 1.20 EUR/L
status_date: 2026-11-20
hours_per_year_tests: 12 h
hours_per_year_outages: 20 h
test_hours_max: 100 h
rating_class: ESP
performance_class: G2
set_rated_power: 1000 kW
engine_speed: 1500 rpm
installed_sets: 1
spare_sets: 0
loads:
  - {id: works, load_connected_power: 600 kW, load_power_factor: 0.9, load_step_joined: first}
load_steps:
  - {id: first, step_time: 10 s, step_acceptance: 70 %}
running_cases:
  - {id: all, sets_out: 0}
fuel_points:
  - {id: half, fuel_point_load: 500 kW, fuel_point_rate: 142 L/h}
  - {id: full, fuel_point_load: 1000 kW, fuel_point_rate: 262 L/h}
fuel_tanks:
  - {id: yard, fuel_tank_volume: 30000 L}
required_autonomy: 24 h
hours_rule: permit
permit_other_hours_max: 20 h
permit_peak_shaving_hours_max: 60 h
running_records:
  - {id: tests, record_reason: test, record_hours: 12 h, record_load_ratio: 50 %}
  - {id: called, record_reason: peak_shaving, record_hours: 45 h, record_load_ratio: 60 %}
  - {id: outages, record_reason: emergency, record_hours: 20 h, record_load_ratio: 60 %}
mode_chosen: called
running_modes:
  - {id: standby, mode_kind: standby, mode_rating_class: ESP}
  - {id: called, mode_kind: interruptible, mode_rating_class: ESP, mode_rated_power: 1000 kW, mode_days: 15, mode_day_hours: 3 h, mode_power: 600 kW,
     mode_credit_price: 9.5 EUR/kW, mode_credit_months: 12, mode_wear_price: 20 EUR/h, mode_fixed_cost: 3000 EUR, mode_miss_probability: 2 %,
     mode_miss_penalty: 5000 EUR, mode_price_date: 2026-05-20}
  - {id: supply, mode_kind: prime, mode_rating_class: PRP, mode_rated_power: 900 kW, mode_days: 365, mode_day_hours: 24 h, mode_power: 700 kW,
     mode_wear_price: 20 EUR/h, mode_fixed_cost: 0 EUR, mode_demand_saving: 30000 EUR}
"""
SILENT = ("mode_paid", "mode_average", "mode_load", "mode_store", "mode_income", "mode_price_age")


def book_of(folder: Path, text: str = PLANT):
    (folder / "project.yaml").write_text(text, "utf-8")
    return load(folder)


def words(book) -> dict:
    return {verdict.check.id: verdict.word for verdict in book.checks_of("modes")}


def test_a_mode_that_is_allowed(tmp_path):
    book = book_of(tmp_path)
    found = words(book)
    assert found.pop("mode_pollutants") == found.pop("bill_of_a_year") == "nothing to check"  # neither is listed
    assert set(found.values()) == {"holds"}, found
    assert book["planned_hours_yearly"].number == approx(77 * HOUR)  # hand: 12 + 20 + 15 x 3
    # hand: 600 kW x 9.5 x 12 = 68 400; less 3000 and 15 x 2 % x 5000 = 1500: 63 900 before running
    assert book["mode_standing_income"].number[1] == approx(63_900)
    assert book["planned_income_yearly"].number == approx(63_900 - 45 * 600 * (book["mode_own_price"].number[1] * KWH - 0.14))


def test_a_mode_that_the_rule_forbids(tmp_path):
    american = book_of(tmp_path, PLANT.replace("hours_rule: permit\n", "hours_rule: us_emergency_engine\n"))
    assert words(american)["mode_paid"] == "fails" and words(american)["mode_hours_counted"] == "holds"
    permit = book_of(tmp_path, PLANT.replace("permit_peak_shaving_hours_max: 60 h", "permit_peak_shaving_hours_max: 40 h"))
    assert words(permit)["mode_paid"] == "fails" and permit["mode_rule_excess"].number[1] == approx(5 * HOUR)
    european = book_of(tmp_path, PLANT.replace("hours_rule: permit\n", "hours_rule: eu_medium_plant\n"))
    assert words(european)["mode_paid"] == words(european)["mode_other"] == "nothing to check" and words(european)["mode_hours_counted"] == "holds"
    silent = book_of(tmp_path, PLANT.replace("hours_rule: permit\n", ""))
    assert words(silent)["mode_hours_counted"] == "undecided" and words(silent)["mode_paid"] == "undecided"


def test_a_mode_that_the_class_does_not_cover(tmp_path):
    long = book_of(tmp_path, PLANT.replace("mode_day_hours: 3 h", "mode_day_hours: 12 h"))
    assert words(long)["mode_rating_hours"] == "fails"  # hand: 32 + 180 = 212 h, ESP covers 200
    heavy = book_of(tmp_path, PLANT.replace("mode_power: 600 kW", "mode_power: 800 kW"))
    assert words(heavy)["mode_average"] == "fails" and words(heavy)["mode_load"] == "holds"
    supply = book_of(tmp_path, PLANT.replace("mode_chosen: called", "mode_chosen: supply"))
    assert words(supply)["mode_rating_hours"] == "nothing to check"  # PRP has no limit of hours
    assert words(supply)["mode_other"] == words(supply)["mode_hours_counted"] == words(supply)["mode_average"] == words(supply)["mode_income"] == "fails"


def test_standby_is_judged_by_hours_only(tmp_path):
    book = book_of(tmp_path, PLANT.replace("mode_chosen: called", "mode_chosen: standby"))
    found = words(book)
    assert {found[name] for name in SILENT} == {"nothing to check"}
    assert found["mode_hours_counted"] == found["mode_rating_hours"] == "holds"
    assert found["mode_ledger"] == "fails"  # the ledger still lists called days
    assert book["planned_income_yearly"].number == 0


def test_nothing_passes_that_is_not_said(tmp_path):
    head = PLANT.split("mode_chosen")[0]
    assert set(words(book_of(tmp_path, head)).values()) <= {"undecided", "nothing to check"}
    for key, check in (("mode_rated_power: 1000 kW, ", "mode_average"), ("mode_miss_probability: 2 %,", "mode_income"), ("mode_wear_price: 20 EUR/h, ",
                       "mode_income"), ("mode_days: 15, ", "mode_paid"), (", mode_price_date: 2026-05-20", "mode_price_age")):
        assert key in PLANT
        assert words(book_of(tmp_path, PLANT.replace(key, "", 1)))[check] == "undecided", key


def test_no_curve_of_hours_that_nobody_calls(tmp_path):
    called = next(line for line in PLANT.split("  - {id: supply")[0].split("  - ") if line.startswith("{id: called, mode_kind"))
    page = chapter_page(book_of(tmp_path, PLANT.replace("mode_chosen: called", "mode_chosen: standby").replace("  - " + called, "")), "modes")
    assert not page.all("figure", id="figure-mode_income") and page.all("figure", id="figure-mode_hours")


def test_alone_with_plant_and_loads(tmp_path):
    text = PLANT.replace("chapters: [plant, loads, hours, fuel, modes]", "chapters: [plant, loads, modes]")
    lines = text[:text.index("fuel_points:")] + text[text.index("mode_chosen"):]
    found = words(book_of(tmp_path, lines))
    assert found["mode_average"] == found["mode_load"] == "holds"
    assert {found[name] for name in ("mode_hours_counted", "mode_rating_hours", "mode_income", "mode_paid")} == {"undecided"}


def test_a_peak_that_nobody_listed_saves_nothing_that_is_known(tmp_path):
    shaving = PLANT.replace("mode_kind: interruptible", "mode_kind: peak_shaving")
    assert words(book_of(tmp_path, shaving))["mode_income"] == "undecided"
    months = "demand_price: 9 EUR/kW\nbilling_months:\n  - {id: july, month_peak: 1400 kW, month_peak_beside: 1000 kW}\n"
    assert book_of(tmp_path, shaving + months)["mode_demand_saving"].number[1] == approx(3600)  # hand: 400 kW x 9


@pytest.mark.parametrize(("old", "new", "told"), (
    ("mode_miss_probability: 2 %", "mode_miss_probability: 120 %", "mode_miss_probability"),
    ("mode_day_hours: 3 h", "mode_day_hours: 30 h", "mode_day_hours"),
    ("mode_days: 15", "mode_days: 400", "mode_days"),
    ("mode_credit_months: 12", "mode_credit_months: 13", "mode_credit_months"),
    ("mode_credit_price: 9.5 EUR/kW", "mode_credit_price: 9.5 USD/kW", "USD"),
    ("mode_chosen: called", "mode_chosen: caled", "called"),
    ("mode_kind: interruptible", "mode_kind: interruptable", "interruptible"),
    ("mode_price_date: 2026-05-20", "mode_price_date: 2026-15-20", "mode_price_date"),
    ("mode_power: 600 kW", "mode_power: 0 kW", "mode_power"),
    ("mode_power: 600 kW", "mode_power: 600 kW, mode_sets: 2", "'mode_sets' of 'called' is 2, above 'installed_sets', 1"),
))
def test_what_cannot_be_is_a_fault_with_its_line(tmp_path, old, new, told):
    with pytest.raises(Faults) as caught:
        book_of(tmp_path, PLANT.replace(old, new))
    assert told in str(caught.value) and "project.yaml:" in str(caught.value)


def test_a_peak_beside_above_the_peak_is_a_fault(tmp_path):
    with pytest.raises(Faults, match="month_peak_beside"):
        book_of(tmp_path, PLANT + "billing_months:\n  - {id: july, month_peak: 1000 kW, month_peak_beside: 1400 kW}\n")


def test_demos_keep_what_they_say():
    books = {slug: solve(read(ROOT / "projects" / slug)) for slug in SLUGS}
    for slug in ("larkmere-hospital", "high-tarn-waterworks"):  # the rule of each forbids income; both plan standby
        assert words(books[slug])["mode_income"] == "nothing to check"
        assert books[slug]["mode_rule_excess"].number[0] == 0 and np.all(books[slug]["mode_rule_excess"].number[1:] > 0)
    island = books["cobble-key-exchange"]
    assert words(island)["mode_paid"] == words(island)["mode_income"] == words(island)["mode_ledger"] == "holds"


def test_the_tariff_not_taken_leaves_the_ledger_alone():
    project = read(ROOT / "projects/cobble-key-exchange")
    decision = next(one for one in project.decisions if one.id == "interruptible_tariff_choice")
    other = replace(project, decisions=tuple(replace(one, chosen="not_taken") if one is decision else one for one in project.decisions))
    book = solve(other)
    assert words(book)["mode_ledger"] == "holds" and book["planned_hours_yearly"].number == approx(36 * HOUR)  # hand: 12 of tests, 24 of outages
    assert book.check("life_cost").word == "nothing to check"  # the way without the tariff is then the one to build, and is not held against itself


def test_months_of_a_bill_are_counted():
    assert over(money.billing_months_listed, number_of_billing_month=4) == 4  # four are four
