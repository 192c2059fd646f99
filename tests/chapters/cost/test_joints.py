"""What the cost of a life takes from other chapters: each amount once, in whole books, by hand calculations written out."""

import re
from dataclasses import replace

import numpy as np
import pytest
from conftest import ROOT, SLUGS
from pytest import approx

from basis.chapters.cost import chapter, payments
from basis.language.terms import terms
from basis.reading.project import read
from basis.solving.solve import solve

HOUR, DAY, YEAR, LITRE = 3600.0, 86_400.0, 8760 * 3600.0, 1e-3
HERE, AWAY = "in_this_book", "not_in_this_book"
HOSPITAL, WATERWORKS, ISLAND = "larkmere-hospital", "high-tarn-waterworks", "cobble-key-exchange"


@pytest.fixture(scope="module")
def books():
    return {slug: solve(read(ROOT / "projects" / slug)) for slug in SLUGS}


def of(book, name, item):
    return book[f"{name}.{item}"].number


def chosen(slug, decision, option):
    """The book with another option chosen."""
    project = read(ROOT / "projects" / slug)
    return solve(replace(project, decisions=tuple(replace(one, chosen=option) if one.id == decision else one for one in project.decisions)))


def worth(rate, years):
    return (1 - (1 + rate) ** -years) / rate


# ---- upkeep ----

def test_tasks_of_upkeep_are_in_the_cost_once(books):
    # hand, island: oil 380 each year, coolant 450 each third, the rest done with the oil: 530. On called days too, for the calendar comes first
    book = books[ISLAND]
    for way in ("standby_alone", "interruptible"):
        assert of(book, "cost_upkeep_yearly", way) == approx(530)
        standing = 530 + of(book, "cost_tests_yearly", way) + of(book, "cost_other_yearly", way)
        assert of(book, "cost_upkeep_worth", way) == approx(standing * worth(book["discount_rate"].number, 25))


def test_tasks_of_another_number_of_sets(books):
    # hand, waterworks: service 2600 and all that it contains, look 2 × 320, coolant 1150/2, batteries 900/4: 4040 a set;
    # sample 210 and board 3800/5 = 970 for the plant
    book = books[WATERWORKS]
    assert of(book, "cost_upkeep_yearly", "two_sets") == approx(book["upkeep_cost_yearly"].number) == approx(2 * 4040 + 970)
    assert of(book, "cost_upkeep_yearly", "one_and_hire") == approx(4040 + 970) and of(book, "cost_upkeep_yearly", "third_set") == approx(3 * 4040 + 970)


def test_tasks_at_the_hours_of_a_mode(books):
    # hand, hospital all year on its own sets, 8760 h: oil 8760/250 - 1, air cleaner 8.76 - 1, injectors 8760/2000; the others by the calendar
    own = (8760 / 250 - 1) * 920 + 1850 + 7.76 * 310 + 2 * 240 + 780 / 3 + 640 / 4 + 4.38 * 4200 + 950 / 3
    assert of(books[HOSPITAL], "mode_upkeep_yearly", "own_supply") == approx(3 * own + 2 * 280)
    assert of(books[HOSPITAL], "mode_set_upkeep_yearly", "own_supply") == approx(own)
    assert of(books[HOSPITAL], "mode_upkeep_yearly", "standby") == approx(books[HOSPITAL]["upkeep_cost_yearly"].number)


def test_wear_of_an_hour_comes_from_upkeep(books):
    # hand, hospital: 920/250 + 310/1000 + 4200/2000 = 6.09, overhauls (42 + 98 + 460) thousand over 100 000 h = 6.00: 12.09 an hour, in every mode
    assert books[HOSPITAL]["running_wear_price"].number * HOUR == approx(12.09)
    for slug in SLUGS:
        assert books[slug]["mode_wear_price"].number == approx(books[slug]["running_wear_price"].number)


def test_hours_of_upkeep_are_those_that_are_planned(books):
    # hand, island: 12 h of tests and 24 h of outages, and fifteen evenings of three hours where the tariff is taken
    assert books[ISLAND]["upkeep_hours_yearly"].number / HOUR == approx(12 + 24 + 45)
    assert chosen(ISLAND, "interruptible_tariff_choice", "not_taken")["upkeep_hours_yearly"].number / HOUR == approx(36)


# ---- overhauls ----

def test_overhauls_are_paid_as_upkeep_plans_them(books):
    # hand, hospital: by age after ten and twenty years of twenty-five, three sets: 126 000 and 294 000; nothing of them stands among the payments
    flow = books[HOSPITAL]["overhaul_flow"].number
    for way in flow:
        assert {int(year): float(way[year]) for year in np.flatnonzero(way)} == {10: 126_000, 20: 294_000}
    assert not re.search("overhaul|seals", (ROOT / "projects" / HOSPITAL / "cost.yaml").read_text("utf-8").split("cost_payments:")[1].split("cost_bars:")[0])


@pytest.mark.parametrize("slug", SLUGS)
def test_as_many_overhauls_as_upkeep_counts(books, slug):
    book = books[slug]
    planned = float(np.sum(book["overhaul_stage_times"].number * book["overhaul_stage_payment"].number))
    ways = book["cost_sets"].number == book["installed_sets"].number
    assert np.sum(book["overhaul_flow"].number, axis=1)[ways] == approx(planned)


def test_overhauls_of_an_engine_that_runs_all_the_time():
    # hand: 4000 h a year, so 30 000 h after 7.5, 50 000 h after 12.5, worn out after 25 years; again at 32.5 and 37.5; a life of 40 years
    when, years = np.array([[7.5, 12.5, 25.0]]) * YEAR, np.arange(51.0)
    (flow,), left, _ = payments.overhauls_by_year.run(np.array([[3.0, 7.0, 50.0]]), when, [25 * YEAR], 40 * YEAR, years)
    assert {int(year): float(flow[0, year]) for year in np.flatnonzero(flow[0])} == {8: 3, 13: 7, 25: 50, 33: 3, 38: 7} and left == 0
    (flow,), left, _ = payments.overhauls_by_year.run(np.array([[0.0, np.nan], [3.0, np.nan], [5.0, 0.0]]), np.ones((3, 2)), [YEAR] * 3, YEAR, np.arange(3.0))
    assert np.isnan(flow[:2]).all() and flow[2].tolist() == [5, 0, 0] and left == 0  # one that is not priced is not left out, and is no payment that got lost
    # hand: an engine that would be worn out after ten days is taken to last thirty: on the first day and each thirtieth, the last on day 300
    (flow,), left, _ = payments.overhauls_by_year.run(np.array([[1.0]]), np.array([[0.0]]), [10 * DAY], 300.5 * DAY, np.arange(3.0))
    assert flow.tolist() == [[1, 10, 0]] and left == 0


def test_an_overhaul_within_two_days_of_an_anniversary_ends_its_year():
    # hand: years of 365.25 days, 8766 h, and the two days by which leap years move an anniversary
    assert [payments.year_of(hours * HOUR) for hours in (0, 48, 49, 8766, 8766 + 48, 8766 + 49, 2 * 8766 + 48)] == [0, 0, 1, 1, 1, 2, 2]
    assert [payments.payment_year.run(hours * HOUR, 0.0) for hours in (8766, 8766 + 48, 8766 + 49)] == [1, 1, 2]


def test_own_payments_in_place_of_those_of_upkeep():
    assert payments.cost_stage_payment.run("in_this_book", "own", 42_000.0, 3.0) == 0
    assert payments.cost_stage_payment.run("in_this_book", "of_upkeep", 42_000.0, 3.0) == 126_000 and payments.cost_stage_payment.run("", "", 1.0, 1.0) == 0


def test_when_the_first_overhaul_comes():
    # hand: planned 10 years after commissioning; the second of two modes wears it out after 4; without upkeep nothing is paid, so the day is of no account
    day, modes = 20 * YEAR, np.array([20.0, 14.0]) * YEAR
    assert payments.cost_stage_time.run(HERE, "ledger", day, HERE, 1, modes, 10 * YEAR) == 10 * YEAR
    assert payments.cost_stage_time.run(HERE, "mode", day, HERE, 1, modes, 10 * YEAR) == 4 * YEAR
    assert payments.cost_stage_time.run(AWAY, "ledger", day, HERE, 1, modes, 10 * YEAR) == 0
    assert payments.cost_engine_life.run(HERE, "ledger", 30.0, HERE, 1, np.array([30.0, 12.5]), 25.0) == 30
    assert payments.cost_engine_life.run(HERE, "mode", 30.0, HERE, 1, np.array([30.0, 12.5]), 25.0) == 12.5
    assert payments.cost_engine_life.run(AWAY, "ledger", 30.0, HERE, 1, np.array([30.0, 12.5]), 25.0) == 25


def test_what_is_paid_every_year_and_on_days_of_its_own():
    # hand: 9 + 2 + 4; 5 + 7 + 1; a bank of 88 with a life of 20 years in a life of 30: on the first day and in year 20
    assert chapter.cost_standing_yearly.run(9.0, 2.0, 4.0) == 15 and payments.cost_dated_flow.run(5.0, 7.0, 1.0) == 13
    bought = [payments.bank_flow.run(HERE, 88.0, float(year), 20 * YEAR, 30.0) for year in range(41)]
    assert {year: paid for year, paid in enumerate(bought) if paid} == {0: 88, 20: 88}
    lasting = [payments.bank_flow.run(HERE, 88.0, float(year), 35 * YEAR, 40.0) for year in range(41)]  # hand: one of 35 years in a life of 40
    assert {year: paid for year, paid in enumerate(lasting) if paid} == {0: 88, 35: 88} and payments.bank_flow.run(AWAY, 88.0, 0.0, YEAR, 30.0) == 0


# ---- tests ----

def test_people_of_the_tests_are_in_the_cost_and_their_fuel_is_in_the_ledger(books):
    # hand, hospital: three sets one at a time twelve times at 90, black building 2600, transfer 800: 6640; live load, so no bank
    book = books[HOSPITAL]
    assert book["cost_tests_yearly"].number == approx([36 * 90 + 2600 + 800] * 3)
    assert book["cost_fuel_volume_yearly"].number == approx([book["annual_fuel"].number] * 3)
    tests = sum(of(book, "record_fuel_rate", one) * of(book, "record_hours", one) * of(book, "record_sets", one) for one in ("monthly_test", "black_building"))
    assert tests == approx(book["test_fuel_yearly"].number, rel=0.02)  # the ledger holds the same tests


def test_load_bank_bought_hired_or_live(books):
    # hand, waterworks: 3 % over 30 years. Hired for 5200 a year; bought for 88 000 on the first day and again after twenty years
    costs = {way: chosen(WATERWORKS, "load_bank_choice", way)["cost_held"].number for way in ("bought", "hired", "live")}
    assert costs["hired"] - costs["live"] == approx(5200 * worth(0.03, 30)) and costs["hired"] == approx(books[WATERWORKS]["cost_held"].number)
    assert costs["bought"] - costs["live"] == approx(88_000 * (1 + 1.03 ** -20))


# ---- running modes ----

def test_fuel_wear_and_income_of_called_days_are_counted_once(books):
    # receipts leave out what income has taken off: fuel of the mode at its price, and the wear of 45 hours, which are fuel and upkeep of the way
    book = books[ISLAND]
    taken_off = of(book, "mode_receipts_yearly", "called_days") - of(book, "mode_income_yearly", "called_days")
    fuel = of(book, "mode_fuel_yearly", "called_days") * book["fuel_price"].number
    assert taken_off == approx(fuel + 45 * HOUR * book["running_wear_price"].number)
    assert of(book, "cost_income_yearly", "interruptible") == of(book, "mode_receipts_yearly", "called_days")
    # hand: 45 h of 85 kW at 0.34 go with the hours of running, the credit does not
    assert of(book, "cost_hours_income_yearly", "interruptible") == approx(45 * 85 * 0.34) and of(book, "cost_hours_income_yearly", "standby_alone") == 0


def test_a_way_that_runs_as_planned_has_the_income_of_the_plan(books):
    # the ledger lists the called days, whose fuel it burns; what they bring is that of the mode that is planned, and on standby nothing
    assert books[ISLAND]["planned_receipts_yearly"].number == of(books[ISLAND], "mode_receipts_yearly", "called_days")
    assert books[ISLAND]["planned_energy_receipts"].number == approx(45 * 85 * 0.34)
    assert np.all(books[HOSPITAL]["cost_income_yearly"].number == 0) and books[HOSPITAL]["planned_receipts_yearly"].number == 0


def test_tariff_taken_or_not(books):
    # hand: what the not taken one costs in the book that takes it is what it costs in its own book, for nothing of it hangs on the plan
    other = chosen(ISLAND, "interruptible_tariff_choice", "not_taken")
    assert other["cost_held"].number == approx(of(books[ISLAND], "cost_net_present", "standby_alone"), rel=2e-3)
    assert books[ISLAND]["cost_held"].number < other["cost_held"].number


# ---- one more set against two batteries ----

def test_one_more_set_against_two_batteries(books):
    # hand: 4200 more at first, 60 a year and 2600 after fifteen years, at 3 % over thirty years
    costs = {way: chosen(WATERWORKS, "reserve_choice", way)["cost_held"].number for way in ("one_battery", "two_batteries", "third_set")}
    assert costs["two_batteries"] - costs["one_battery"] == approx(4200 + 60 * worth(0.03, 30) + 2600 * 1.03 ** -15, rel=1e-3)
    assert costs["third_set"] > costs["two_batteries"] + 600_000
    assert costs["two_batteries"] == approx(books[WATERWORKS]["cost_held"].number)


# ---- nothing is typed that the book computes ----

@pytest.mark.parametrize("slug", SLUGS)
def test_what_a_way_gives_of_its_own_differs_from_the_plant(slug):
    """Only a way with another number of sets gives sums of its own that other chapters compute for the plant as it is."""
    project = read(ROOT / "projects" / slug)
    own = {item for (term, item), given in project.givens.items() if item in project.items["cost_case"] and terms()[term].either and term != "cost_sets"}
    assert own <= {item for (term, item) in project.givens if term == "cost_sets"}
