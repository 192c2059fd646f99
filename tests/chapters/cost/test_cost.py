"""Life-cycle cost against numpy-financial, SciPy, printed examples and hand calculations, mostly as whole small books of plant and cost."""

import math
from datetime import date, timedelta
from unittest.mock import patch

import numpy as np
import numpy_financial as npf
import pytest
from axes import over
from conftest import ROOT
from pytest import approx
from scipy.optimize import brentq

from basis.chapters.cost import chapter as c
from basis.chapters.cost import compared as v
from basis.chapters.cost import payments as pay
from basis.language.compiled import count_name
from basis.language.faults import Faults
from basis.language.terms import terms
from basis.reading.project import read
from basis.solving.solve import load, solve
from basis.solving.verdict_words import NOTHING

HERE, AWAY = "in_this_book", "not_in_this_book"
HOUR, KWH, YEAR = 3600.0, 3.6e6, 8760 * 3600.0
PLANT = """name: Trial
chapters: [plant, cost]
altitude: 100 m
outdoor_temperature_max: 36 degC
outdoor_temperature_min: -5 degC
outdoor_relative_humidity: 60 %
power_frequency: 50 Hz
currency: EUR
commissioning_date: 2028-01-01
"""
NONE = {"cost_heat_yearly": "0 EUR", "cost_loss_yearly": "0 EUR", "cost_fuel_volume_yearly": "0 L", "cost_upkeep_yearly": "0 EUR", "cost_tests_yearly": "0 EUR"}


def write(folder, rate, years, ways, payments=(), bars=(), more="", chosen=None, first=None):
    """A small project: ways by id -> what each gives; payments (way, day, amount); bars (what, low, high)."""
    folder.mkdir(exist_ok=True)
    lines = [f"discount_rate: {rate}", f"project_life: {years} year", f"cost_case_base: {first or next(iter(ways))}",
             f"cost_case_chosen: {chosen or next(reversed(ways))}", "fuel_price: 1 EUR/L", more, "cost_cases:"]
    lines += [f"  - {{id: {way}, " + ", ".join(f"{key}: {text}" for key, text in {**NONE, **given}.items()) + "}" for way, given in ways.items()]
    lines += ["cost_payments:"] * bool(payments) + [f"  - {{id: p{number}, payment_case: {way}, payment_date: {day}, payment_amount: {amount}}}"
                                                    for number, (way, day, amount) in enumerate(payments)]
    lines += ["cost_bars:"] * bool(bars) + [f"  - {{id: b{number}, bar_of: {what}, bar_low: {low}, bar_high: {high}}}"
                                            for number, (what, low, high) in enumerate(bars)]
    (folder / "project.yaml").write_text(PLANT, "utf-8")
    (folder / "cost.yaml").write_text("\n".join(lines) + "\n", "utf-8")
    return folder


def book_of(tmp_path, *given, **more):
    return load(write(tmp_path / "trial", *given, **more))


def way(capital, upkeep=0, residual=0, **more):
    return {"cost_capital": f"{capital} EUR", "cost_upkeep_yearly": f"{upkeep} EUR", "cost_residual": f"{residual} EUR", **more}


def of(book, name, item):
    """Number of one item of a value."""
    return book[f"{name}.{item}"].number


# ---- factors ----

@pytest.mark.parametrize("rate, years, expected", [(0.05, 20, 12.46221), (0.08, 25, 1 / 0.0936788), (0, 20, 20)])
def test_present_worth_of_one_a_year(rate, years, expected):
    # E62, by numpy-financial: a(5 %, 20) 12.46221, capital recovery (8 %, 25) 0.0936788; without interest the number of years
    factor = factor_of(rate, years)
    assert factor == approx(expected, rel=1e-6) and factor == approx(-npf.pv(rate, years, 1))


def factor_of(rate, years, growth=None):
    number = np.arange(51.0)
    share = c.cost_year_share
    parts = {"cost_year_share": over(share, cost_year_number=number.tolist(), project_life=years * YEAR).tolist(),
             "cost_worth_factor": over(c.cost_worth_factor, discount_rate=float(rate), cost_year_number=number.tolist()).tolist()}
    if growth is None:
        return over(c.cost_yearly_factor, **parts)
    return over(c.cost_energy_factor, **parts, energy_price_growth=float(growth), cost_year_number=number.tolist())


@pytest.mark.parametrize("rate, growth, years, expected", [(0.03, 0.01, 20, 16.38272), (0.05, 0.02, 25, 17.52783),
                                                           (0.04, 0.04, 15, 15.0), (0.03, -0.01, 10, 8.09461)])
def test_growing_factor_whose_first_payment_has_grown(rate, growth, years, expected):
    # O32, UPW*: there the first payment has grown already; here it is paid at the price of today, so (1 + growth) stands between the two
    assert factor_of(rate, years, growth) * (1 + growth) == approx(expected, abs=6e-6)


@pytest.mark.parametrize("rate, growth, expected", [(0.07, 0.03, 133_316.6), (0.05, 0.05, 190_476.2)])
def test_growing_factor(rate, growth, expected):
    # E64: 10 000 a year over 20 years, first payment not grown
    assert 10_000 * factor_of(rate, 20, growth) == approx(expected, abs=0.06)
    fuel = over(c.cost_fuel_factor, cost_year_share=[0.0, 1.0, 1.0], cost_worth_factor=[1.0, 0.5, 0.25], fuel_price_growth=0.2,
                cost_year_number=[0.0, 1.0, 2.0])
    assert fuel == approx(0.8)  # hand: 0.5 + 0.25 x 1.2


def test_part_of_the_last_year_counts_in_part():
    assert over(c.cost_year_share, cost_year_number=[0.0, 1.0, 2.0, 3.0], project_life=1.5 * YEAR) == approx([0, 1, 0.5, 0])  # hand
    assert c.cost_last_year.run(1.5 * YEAR) == 2 and [c.cost_last_year.run(years * YEAR) for years in (25, 50)] == [25, 50]


def test_both_sums_and_how_far_a_way_lies_off():
    # hand: 0.5 of 1000 + 200 + 300 moved; a ten-thousandth of money counts as well, and a way without any payment has no gap
    for net, worth, flow, expected in ((1000.5, 1000.0, [1000.0, -200.0, 300.0], 0.5 / 1500), (6e-4, 5e-4, [5e-4], 0.2), (0.0, 0.0, [0.0], 0)):
        with np.errstate(invalid="ignore"):
            gap = over(c.cost_flow_gap, cost_net_present=[net], cost_flow_worth=[worth], cost_flow=np.array([flow]))
        assert gap == approx([expected])
    assert over(v.cost_gap, cost_case_base=0, cost_net_present=[5e-4, 4e-4]) == approx([0, 0.2])
    assert v.cost_compared.run(1, 1) == 0 and v.cost_compared.run(0, 1) == 1


def test_whole_series_by_numpy_financial(tmp_path):
    # O32: npf.npv at 8 % of [-40 000, 5000, 8000, 12 000, 30 000] is 3065.22; the same as payments on their anniversaries
    days = ("2029-01-01", "2030-01-01", "2031-01-01", "2032-01-01")
    amounts = (-5000, -8000, -12_000, -30_000)
    book = book_of(tmp_path, "8 %", 4, {"it": way(40_000)}, [("it", day, f"{amount} EUR") for day, amount in zip(days, amounts, strict=True)])
    assert of(book, "cost_net_present", "it") == approx(-3065.22, abs=0.005)


# ---- printed and reckoned examples ----

def test_two_machines_of_the_lecture_notes(tmp_path):
    # O30, lecture notes read: 12 %, 30 000 + 18 000 a year, 7000 after 4 years: 26 412 a year; 50 000 + 16 000, 9000 after 6 years: 27 052
    one = book_of(tmp_path, "12 %", 4, {"a": way(30_000, 18_000, 7000)})
    other = book_of(tmp_path, "12 %", 6, {"b": way(50_000, 16_000, 9000)})
    assert (of(one, "cost_equal_yearly", "a"), of(other, "cost_equal_yearly", "b")) == (approx(26_412, abs=0.5), approx(27_052, abs=0.5))


def test_two_machines_of_the_exercise(tmp_path):
    # O31, solved exercise read: 15 %, 20 000 + 8500, 5000 after 3 years: 15 820 a year; 15 000 + 7000, 3000 after 2 years: 14 831
    one = book_of(tmp_path, "15 %", 3, {"a": way(20_000, 8500, 5000)})
    other = book_of(tmp_path, "15 %", 2, {"b": way(15_000, 7000, 3000)})
    assert (of(one, "cost_equal_yearly", "a"), of(other, "cost_equal_yearly", "b")) == (approx(15_820, abs=0.5), approx(14_831, abs=0.5))


def two_plants(tmp_path, rate="3 %", b_capital=1_350_000):
    """O33 with the first year's fuel grown once, as its factor has it: 22 000 x 1.01 and 17 000 x 1.01."""
    ways = {"a": way(1_200_000, 15_000, 80_000, cost_fuel_volume_yearly="22220 L"), "b": way(b_capital, 12_000, 140_000, cost_fuel_volume_yearly="17170 L")}
    return book_of(tmp_path, rate, 20, ways, [("a", "2040-01-01", "120000 EUR"), ("b", "2043-01-01", "90000 EUR")], more="fuel_price_growth: 1 %")


def test_two_plants_over_their_life(tmp_path):
    # O33: 1 823 454 and 122 565 a year against 1 787 289 and 120 134; 1.98 % apart, inconclusive below 10 %
    book = two_plants(tmp_path)
    assert of(book, "cost_net_present", "a") == approx(1_823_454, abs=0.5) and of(book, "cost_equal_yearly", "a") == approx(122_565, abs=0.5)
    assert of(book, "cost_net_present", "b") == approx(1_787_289, abs=0.5) and of(book, "cost_equal_yearly", "b") == approx(120_134, abs=0.5)
    assert book["cost_held_gap"].number == approx(0.0198, abs=5e-5) and book["cost_undecided"].number == approx(0.0198, abs=5e-5)
    assert math.isnan(v.cost_undecided.run(0.10, 0.10))
    assert book.check("life_cost").word == "holds"
    assert of(book, "cost_flow_gap", "a") < 1e-12


def test_where_both_cost_the_same(tmp_path):
    # O45: equal at 5.116 %, the second cheaper below; at 3 % it may cost 1 386 165 at first before the other is as good
    book = two_plants(tmp_path)
    assert of(book, "cost_rates", "b") == 1 and of(book, "cost_rate", "b") == approx(0.05116, abs=5e-6)
    assert of(book, "cost_capital_equal", "b") == approx(1_386_165, abs=0.5)
    assert of(two_plants(tmp_path, b_capital=1_386_165), "cost_saving", "b") == approx(0, abs=0.5)
    below, above = two_plants(tmp_path, "5 %"), two_plants(tmp_path, "5.2 %")
    assert of(below, "cost_saving", "b") > 0 > of(above, "cost_saving", "b")


def test_flows_add(tmp_path):
    # E65: 7 %, -1.0 M, +20 000 a year for 20 years, -180 000 in year 10, +50 000 in year 20: -866 701.6
    book = book_of(tmp_path, "7 %", 20, {"it": way(1_000_000, 0, 50_000, cost_income_yearly="20000 EUR")}, [("it", "2038-01-01", "180000 EUR")])
    assert of(book, "cost_net_present", "it") == approx(866_701.6, abs=0.06)
    flow = [-1e6, *[20_000] * 9, 20_000 - 180_000, *[20_000] * 9, 70_000]
    assert -of(book, "cost_flow_worth", "it") == approx(npf.npv(0.07, flow))  # numpy-financial


def test_saving_against_the_way_compared_with(tmp_path):
    # E63: -100 000 and 12 000 a year for 15 years: 16 546.99 at 6 %, internal rate 8.4418 %
    book = book_of(tmp_path, "6 %", 15, {"base": way(500_000, 20_000), "it": way(600_000, 8000)})
    assert of(book, "cost_saving", "it") == approx(16_546.99, abs=0.005)
    assert of(book, "cost_rate", "it") == approx(0.084418, abs=5e-7)
    assert of(book, "cost_rate", "it") == approx(npf.irr([-100_000, *[12_000] * 15]))  # numpy-financial


def test_pay_back(tmp_path):
    # O34: 150 000 saves 21 000 a year at 5 %: simple 7.14 years, discounted 9.06 years, savings over extra first cost 1.7447 in 20 years
    book = book_of(tmp_path, "5 %", 20, {"base": way(100_000, 30_000), "it": way(250_000, 9000)})
    assert of(book, "cost_payback", "it") / YEAR == approx(7.14, abs=0.005)
    assert of(book, "cost_payback_discounted", "it") / YEAR == approx(9.06, abs=0.005)
    assert book["cost_savings_ratio"].number == approx(1.7447, abs=5e-5)


def test_never_paid_back_is_told(tmp_path):
    # 150 000 x 5 % = 7500 of interest a year are more than 7000 saved: with interest never; without, 21.4 years, beyond a life of 20
    book = book_of(tmp_path, "5 %", 20, {"base": way(100_000, 30_000), "it": way(250_000, 23_000)})
    assert math.isnan(of(book, "cost_payback", "it")) and math.isnan(of(book, "cost_payback_discounted", "it"))
    assert "never paid back" in terms()["cost_payback"].absent
    # the base pays nothing more at first, so that there is nothing to pay back
    assert math.isnan(of(book, "cost_payback", "base")) and of(book, "cost_rates", "base") == 0 and math.isnan(of(book, "cost_rate", "base"))
    assert book.check("life_cost").word == "fails"


def test_a_late_overhaul_moves_the_pay_back():
    # hand: -10, +6, +6, -5, +6: 2 at the second year, -3 at the third, paid back for good halfway through the fourth
    (simple, discounted), left, _ = v.pay_back.run([[-10.0, 6.0, 6.0, -5.0, 6.0]], [1.0] * 5, 4.0)
    assert simple / YEAR == approx(3.5) and discounted == approx(simple) and left == approx(0, abs=1e-12)
    (small, _), _, _ = v.pay_back.run([[-10e-6, 6e-6, 6e-6, -5e-6, 6e-6]], [1.0] * 5, 4.0)  # no unit of money moves it
    assert small == approx(simple)
    (never, _), left, _ = v.pay_back.run([[0.0, 6.0]], [1.0] * 2, 1.0)  # nothing was paid first
    assert np.isnan(never).all() and left == 0
    with patch.object(v, "_crossing", lambda sums: 1.5):  # hand: halfway from -4 to 2 there is -1, from -8 to 4 -2: a wrong time would be told by the larger
        assert v.pay_back.run([[-10.0, 6.0, 6.0], [-20.0, 12.0, 12.0]], [1.0] * 3, 2.0)[1] == approx(2)


# ---- rates of return ----

def rates(*flow):
    """Number of rates, the lowest and the highest, of one series of savings."""
    (number, low, high), left, _ = v.rate_of_return.run([list(flow)], np.arange(float(len(flow))))
    assert left < 1e-9
    return number[0], low[0], high[0]


def test_one_rate_several_and_none():
    number, low, high = rates(-100.0, 230.0, -132.0)  # hand: (1 + i) = 1.1 and 1.2, as 100 x 1.1 x 1.2 = 132 and 100 x (1.1 + 1.2) = 230
    assert number == 2 and (low, high) == (approx(0.1), approx(0.2))
    number, low, high = rates(100.0, -100.0, 100.0)  # hand: the discriminant 100^2 - 4 x 100^2 is negative, so no rate
    assert number == 0 and math.isnan(low) and math.isnan(high)
    number, low, high = rates(-1000.0, *[250.0] * 8)
    assert number == 1 and math.isnan(high)
    assert low == approx(brentq(lambda rate: npf.npv(rate, [-1000, *[250] * 8]), 0, 1), rel=1e-9)  # SciPy over numpy-financial


def test_three_rates_and_what_lies_beyond_the_search():
    # hand: (x - 1.1)(x - 1.2)(x - 1.3) = x^3 - 3.6 x^2 + 4.31 x - 1.716; and no unit of money moves a rate
    for unit in (1000.0, 1e-6):
        number, low, high = rates(*(unit * np.array([1.0, -3.6, 4.31, -1.716])))
        assert number == 3 and (low, high) == (approx(0.1), approx(0.3))
    # hand: what comes back after a year tells the rate; searched is from -99 to 1000 %
    assert rates(-100.0, 1090.0)[:2] == (1, approx(9.9)) and rates(-100.0, 1.02)[:2] == (1, approx(-0.9898))
    assert rates(-100.0, 1120.0)[0] == rates(-100.0, 0.98)[0] == 0


def test_a_rate_that_the_search_meets_itself_is_found():
    # hand: one laid out, one and the rate back after a year; there the worth is nought, on neither side
    for rate in v.RATES[1:-1:400]:
        number, low, _ = rates(-1.0, float(1 + rate))
        assert number == 1 and low == approx(rate)
    assert rates(0.0, 0.0, 0.0)[0] == 0  # the way compared with saves nothing against itself, at any rate


def test_a_wrong_rate_would_be_told():
    # hand, at 10 %: -100 + 50/1.1 + 60/1.21 = -4.9587, over the sums 195.0413; at 20 % -16.6667 over 183.3333; where nothing was found nothing is wrong
    for found, expected in (([0.1], 4.9587 / 195.0413), ([0.1, 0.2], 16.6667 / 183.3333), ([], 0.0)):
        with patch.object(v, "_rates", lambda flow, years, found=found: found):
            _, left, _ = v.rate_of_return.run([[-100.0, 50.0, 60.0]], np.arange(3.0))
        assert left == approx(expected, abs=1e-6)


def test_several_rates_are_told_in_a_book(tmp_path):
    book = book_of(tmp_path, "5 %", 2, {"base": way(0), "it": way(10_000)},
                   [("it", "2029-01-01", "-23000 EUR"), ("it", "2030-01-01", "13200 EUR")])
    assert of(book, "cost_rates", "it") == 2
    assert (of(book, "cost_rate", "it"), of(book, "cost_rate_highest", "it")) == (approx(0.1), approx(0.2))  # hand, as above


# ---- what it hangs on ----

def test_bars(tmp_path):
    # O44: 1.2 M + a(5 %, 20)·(15 000 + h·1000·0.75·0.25·1.10): 1 541 153; bars in order 462 660, 240 000, 186 933, 140 200, 138 499
    bars = [("running_hours", f"{2000 / 60} %", f"{20_000 / 60} %"), ("capital", "90 %", "110 %"), ("upkeep", f"{1000 / 15} %", f"{2500 / 15} %"),
            ("fuel_price", f"{80 / 1.1} %", f"{180 / 1.1} %"), ("discount_rate", "60 %", "160 %")]
    fuel = {"cost_fuel_volume_yearly": f"{60 * 1000 * 0.75 * 0.25 * 1.10} L"}  # at 1 EUR/L
    book = book_of(tmp_path, "5 %", 20, {"it": way(1_200_000, 15_000, **fuel)}, bars=bars)
    assert book["cost_held"].number == approx(1_541_153, abs=0.5)
    assert book["bar_width"].number == approx([462_660, 240_000, 186_933, 140_200, 138_499], abs=0.6)
    assert book["bars_turning"].number == 0 and book["bar_saving_low"].number == approx([0] * 5)  # one way alone: nothing turns


def test_a_bar_that_turns_the_choice(tmp_path):
    # hand, no interest, 10 years: 100 more at first saves 12 a year, 20 in all; upkeep of 80 % saves 96 - 100 < 0, of 120 % 144 - 100 > 0
    book = book_of(tmp_path, "0 %", 10, {"base": way(1000, 30), "it": way(1100, 18)}, bars=[("upkeep", "80 %", "120 %"), ("capital", "95 %", "105 %")])
    assert book["bar_saving_low"].number == approx([-4, 25]) and book["bar_saving_high"].number == approx([44, 15])
    assert book["bar_turns"].number.tolist() == [1, 0] and book["bars_turning"].number == 1
    # hand: 1000 + 300 f = 1100 + 180 f at 83.3 %; first cost alone: 1000 f + 300 = 1100 f + 180 at 120 %
    assert book["bar_apart"].number == approx([120, -100]) and book["bar_even"].number == approx([100 / 120, 1.2])


def test_no_break_even_is_told():
    # hand: cheaper by 20 whatever the figure, since both pay the same of it; by 50 of which only 30 hang on the figure; and the rate, of which nothing is moved
    with np.errstate(divide="ignore"):
        assert np.isnan(over(v.bar_even, bar_apart=[0.0, 30.0, 0.0], cost_held=100.0, cost_held_saving=20.0)).tolist() == [True, False, True]
    assert np.isnan(over(v.bar_even, bar_apart=[30.0, -30.0], cost_held=100.0, cost_held_saving=50.0)).tolist() == [True, False]


def test_break_even_hangs_on_no_unit_of_money():
    # hand: 1000 + 300 f = 1100 + 180 f at 83.3 %, also in a money worth ten thousand times as much; what rounding leaves of a million million is no difference
    assert over(v.bar_even, bar_apart=[0.012], cost_held=0.128, cost_held_saving=0.002) == approx([100 / 120])
    assert np.isnan(over(v.bar_even, bar_apart=[np.spacing(1e12)], cost_held=1e12, cost_held_saving=0.0)).all()


def test_a_figure_turns_the_choice_where_the_saving_changes_its_sign():
    # counted: four that change sign, in great and in small money, six that do not
    low = [-5.0, 5.0, -5.0, 5e-4, 5.0, -5.0, 0.0, -5.0, 5e-4, 5.0]
    high = [10.0, -10.0, 5e-4, -5.0, 10.0, -10.0, 5.0, 0.0, 10.0, 5e-4]
    turns = over(v.bar_turns, bar_saving_low=low, bar_saving_high=high)
    assert turns.tolist() == [1, 1, 1, 1, 0, 0, 0, 0, 0, 0] and over(v.bars_turning, bar_turns=turns) == 4


@pytest.mark.parametrize("what, sign, expected", [("capital", 1, 1), ("energy_price", 1, 2), ("fuel_price", 1, 3), ("running_hours", 1, 3 - 8 * 0.25),
                                                  ("upkeep", 1, 4),
                                                  ("payments", 1, 5), ("income", -1, 6), ("residual", -1, 7), ("discount_rate", 1, 0)])
def test_part_that_a_bar_moves(what, sign, expected):
    assert v.bar_worth.run(what, 1, 2, 3, 4, 5, 6, 7, 8, 0.25) == sign * expected  # by the meaning of each


# ---- amounts of a year ----

def test_every_part_of_a_small_life(tmp_path):
    # hand, 30 % interest, 2 years; prices of energy and fuel a fifth higher in the second year
    it = way(1000, 80, 64, cost_heat_yearly="10 EUR", cost_loss_yearly="20 EUR", cost_fuel_volume_yearly="40 L", cost_income_yearly="16 EUR")
    folder = write(tmp_path / "trial", "30 %", 2, {"base": way(1200), "it": it}, [("it", "2029-01-01", "100 EUR"), ("it", "2030-01-01", "200 EUR")],
                   [("upkeep", "0 %", "200 %")], more="fuel_price_growth: 20 %\nenergy_price_growth: 20 %")
    book = load(folder)
    first, second = 1 / 1.3, 1 / 1.69
    yearly, grown = first + second, first + 1.2 * second
    parts = {"cost_energy_worth": 30 * grown, "cost_fuel_worth": 40 * grown, "cost_upkeep_worth": 80 * yearly,
             "cost_payments_worth": 100 * first + 200 * second, "cost_income_worth": 16 * yearly, "cost_residual_worth": 64 * second}
    for name, expected in parts.items():
        assert of(book, name, "it") == approx(expected), name
    whole = 1000 + sum(parts.values()) - 2 * (parts["cost_income_worth"] + parts["cost_residual_worth"])
    assert of(book, "cost_net_present", "it") == approx(whole) and of(book, "cost_flow_worth", "it") == approx(whole)
    assert book["cost_flow"].number[1, :4] == approx([1000, 70 + 80 - 16 + 100, 84 + 80 - 16 + 200 - 64, 0])
    assert book["cost_saved"].number[1, :3] == approx([200, -234, -284])
    assert book["payment_flow"].number[1, :4] == approx([0, 100, 200, 0])
    assert of(book, "cost_equal_yearly", "it") == approx(whole / yearly) == approx(book["cost_held_yearly"].number)
    assert book["cost_compared"].number == 1 and book["cost_base"].number == approx(1200)
    assert book["cost_held_saving"].number == approx(1200 - whole) and of(book, "cost_gap", "it") == approx(abs(whole - 1200) / 1200)
    assert book["bar_cost_low"].number[:, 0] == approx([1200, whole - 80 * yearly]) and book["bar_held_low"].number == approx([whole - 80 * yearly])
    assert book["bar_cost_high"].number[:, 0] == approx([1200, whole + 80 * yearly]) and book["bar_held_high"].number == approx([whole + 80 * yearly])


def test_payments_are_put_into_their_years():
    (flow,), left, _ = pay.payments_by_year.run([5.0, 7.0, 9.0], [1, 0, 1], [2.0, 0.0, 2.0], [0.0, 0.0], np.arange(4.0))  # hand
    assert flow.tolist() == [[7, 0, 0, 0], [0, 0, 14, 0]] and left == 0


def test_heaters_and_room():
    # E66: 3.0 kW on for half of the year 13 140 kWh; 120 W/K x 12 K x 5000 h = 7200 kWh. At 0.20 a kWh: 4068 a year, a(5 %, 20) of it 50 696 (hand)
    energy = 3.0 * 0.5 * 8760 + 120 * 12 * 5000 / 1000
    assert energy == approx(13_140 + 7200)
    yearly = c.cost_heat_yearly.run("in_this_book", 0, [energy * 0.20])
    assert c.cost_energy_worth.run(factor_of(0.05, 20), yearly, 0) == approx(50_696, abs=1)


def test_losses_counted_once():
    # hand: 720 kWh at 0.20 = 144, and 3040 of transformers; without the station supply those of the voltage chapter
    def lost(voltage, station, by_voltage, cables, transformers, listed=1.0):
        return float(np.squeeze(over(c.cost_loss_yearly, voltage_chapter=voltage, cost_station_chapter=station, voltage_loss_cost_yearly=by_voltage,
                          generator_cable_loss_energy=cables * KWH, energy_price=0.20 / KWH, transformers_lost_cost_yearly=transformers,
                          **{count_name("transformer"): listed, count_name("cost_case"): 1})))
    assert lost(HERE, HERE, 9999.0, 720, 3040.0) == approx(3184) and lost(HERE, AWAY, 3184.0, 720, 0.0) == 3184
    assert lost(AWAY, HERE, 0.0, 0.0, 3040.0) == 3040 and lost(AWAY, HERE, 0.0, 0.0, math.nan, 0.0) == 0 and math.isnan(lost(AWAY, AWAY, 0.0, 0.0, 0.0))
    assert lost(HERE, HERE, 9999.0, 720, math.nan, 0.0) == approx(144)  # no transformer, none that loses
    assert math.isnan(c.cost_heat_yearly.run("not_in_this_book", 0, [1.0])) and c.cost_fuel_yearly.run(9.0, 1200.0) == 10_800


def test_tests_and_tasks_of_a_way():
    # hand: 6640 for people and 5200 for a hired bank; a book without the chapter, or with no test listed, asks the project
    for where, listed, expected in ((HERE, 3.0, 11_840), (HERE, 0.0, math.nan), (AWAY, 3.0, math.nan)):
        found = over(c.cost_tests_yearly, cost_testing_chapter=where, test_people_yearly=6640.0, bank_hire_yearly=5200.0,
                     **{count_name("plant_test"): listed, count_name("cost_case"): 1})
        assert np.squeeze(found) == approx(expected, nan_ok=True)
    # hand: two sets cost 9050 a year, 4040 of it each; three sets 13 090; in the second mode 20 000 and 9000, so 29 000
    def upkeep(running, where=HERE, modes=HERE, tasks=4.0):
        return float(np.squeeze(over(c.cost_upkeep_yearly, cost_upkeep_chapter=where, cost_running_from=[running], upkeep_cost_yearly=9050.0, cost_sets=[3.0],
                                     installed_sets=2.0, set_upkeep_cost_yearly=4040.0, cost_modes_chapter=modes, cost_mode=[1],
                                     mode_upkeep_yearly=[5.0, 20_000.0], mode_set_upkeep_yearly=[7.0, 9000.0],
                                     **{count_name("task"): tasks, count_name("cost_case"): 1})))
    assert (upkeep("ledger"), upkeep("mode")) == (approx(13_090), approx(29_000)) and upkeep("ledger", modes=AWAY) == approx(13_090)
    assert all(map(math.isnan, (upkeep("mode", modes=AWAY), upkeep("ledger", where=AWAY), upkeep("ledger", tasks=0.0))))


def test_running_mode_of_a_way():
    # hand: the ledger burns 9 m³; the second of two modes 12 m³ with all that runs beside it, and brings 400. Fuel is counted once, income without it
    assert c.cost_fuel_volume_yearly.run(HERE, HERE, "ledger", 9.0, 1, [5.0, 12.0]) == 9.0
    assert c.cost_fuel_volume_yearly.run(HERE, HERE, "mode", 9.0, 1, [5.0, 12.0]) == 12.0
    def income(formula, modes, running, planned=70.0, listed=2.0):
        name = "mode_receipts_yearly" if formula is c.cost_income_yearly else "mode_energy_receipts"
        plan = "planned_receipts_yearly" if formula is c.cost_income_yearly else "planned_energy_receipts"
        return over(formula, cost_modes_chapter=modes, cost_running_from=[running], cost_mode=[1], **{plan: planned, name: [0.0, 400.0]},
                    **{count_name("running_mode"): listed, count_name("cost_case"): 1})[0]
    for formula in (c.cost_income_yearly, c.cost_hours_income_yearly):
        assert (income(formula, HERE, "ledger"), income(formula, HERE, "mode"), income(formula, AWAY, "ledger")) == (70, 400, 0)
        assert income(formula, HERE, "ledger", listed=0.0) == 0  # no mode listed, none planned
    assert math.isnan(income(c.cost_income_yearly, AWAY, "mode")) and math.isnan(c.cost_fuel_volume_yearly.run(HERE, AWAY, "mode", 9.0, 0, [0.0]))
    assert math.isnan(c.cost_fuel_volume_yearly.run(AWAY, HERE, "ledger", 9.0, 0, [0.0]))


def test_island_pays_for_its_mode_once():
    # hand: 3825 kWh not bought at 0.34 are 1300.50 on top of credit less fixed cost and misses; 1140 L of called days and no others apart
    book = solve(read(ROOT / "projects/cobble-key-exchange"))
    assert of(book, "cost_income_yearly", "interruptible") == approx(of(book, "mode_standing_income", "called_days") + 1300.5, abs=0.5)
    assert of(book, "cost_income_yearly", "standby_alone") == 0
    more = of(book, "cost_fuel_volume_yearly", "interruptible") - of(book, "cost_fuel_volume_yearly", "standby_alone")
    assert more == approx(book["mode_fuel_yearly.called_days"].number) == approx(1.142, abs=0.005)


def test_age_of_a_price():
    assert c.cost_price_age.run(2 * YEAR, 0.5 * YEAR) == 1.5 * YEAR and c.cost_price_age.run(0.0, YEAR) == 0


@pytest.mark.parametrize("first", [date(2027, 2, 28), date(2028, 2, 29), date(2028, 1, 1), date(2027, 9, 6)])
@pytest.mark.parametrize("years", [1, 4, 12, 25, 50])
def test_an_anniversary_ends_its_year(first, years):
    day = date(first.year + years, first.month, 28 if first.day == 29 else first.day)  # by the calendar of Python

    def found(one):
        return pay.payment_year.run((one - first).total_seconds(), 0.0)
    assert found(day) == years and found(day + timedelta(days=10)) == years + 1 and found(day - timedelta(days=30)) == years
    assert found(first) == 0 and found(first + timedelta(days=10)) == 1


# ---- what is not there, and bad input ----

def test_what_a_book_without_the_other_chapters_must_say(tmp_path):
    folder = write(tmp_path / "trial", "5 %", 20, {"it": way(1000)})
    text = (folder / "cost.yaml").read_text("utf-8").replace("cost_fuel_volume_yearly: 0 L, ", "")
    (folder / "cost.yaml").write_text(text, "utf-8")
    with pytest.raises(Faults) as found:
        load(folder)
    assert any("cost_fuel_volume_yearly" in str(one) for one in found.value.faults)


def test_one_way_alone_has_nothing_to_check(tmp_path):
    book = book_of(tmp_path, "5 %", 20, {"it": way(1000, 10)})
    assert book.check("life_cost").word == NOTHING


def faults_of(tmp_path, text, *given, **more):
    """Faults of a small book, each as told; and the line on which `text` stands in its file."""
    folder = write(tmp_path / "trial", *given, **more)
    line = next(number for number, one in enumerate((folder / "cost.yaml").read_text("utf-8").splitlines(), start=1) if text in one)
    with pytest.raises(Faults) as found:
        load(folder)
    return [str(one) for one in found.value.faults], f"cost.yaml:{line}:"


def test_a_payment_before_the_first_day(tmp_path):
    told, place = faults_of(tmp_path, "2027-12-31", "5 %", 20, {"it": way(1000)}, [("it", "2030-01-01", "5 EUR"), ("it", "2027-12-31", "5 EUR")])
    assert any(place in one and "commissioning_date" in one for one in told), told


def test_a_payment_after_the_life(tmp_path):
    told, place = faults_of(tmp_path, "2049-01-01", "5 %", 20, {"it": way(1000)}, [("it", "2049-01-01", "5 EUR")])
    assert any("project_life" in one and place in one for one in told), told


def test_mixed_currencies(tmp_path):
    told, place = faults_of(tmp_path, "5 USD", "5 %", 20, {"it": way(1000)}, [("it", "2030-01-01", "5 USD")])
    assert any(place in one and "USD" in one for one in told), told


def test_a_life_longer_than_is_counted(tmp_path):
    told, place = faults_of(tmp_path, "60 year", "5 %", 60, {"it": way(1000)})
    assert any(place in one and "life" in one for one in told), told


def test_a_payment_of_a_way_that_is_not_listed(tmp_path):
    told, place = faults_of(tmp_path, "other", "5 %", 20, {"it": way(1000)}, [("other", "2030-01-01", "5 EUR")])
    assert any(place in one and "other" in one for one in told), told
