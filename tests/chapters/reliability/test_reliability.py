"""Reliability against published test results, printed examples, scipy and hand calculations."""

import math

import numpy as np
import pytest
from axes import over
from conftest import SLUGS
from pytest import approx
from scipy import stats
from scipy.linalg import expm
from test_stranger import PLANT

from basis.chapters.reliability import chapter as one
from basis.chapters.reliability import sets as many
from basis.language.compiled import count_name
from basis.language.faults import Faults, ItemTroubles
from basis.language.table import table
from basis.solving.solve import load

HOUR = 3600.0
DEVIATIONS = float(stats.norm.ppf(0.95))  # scipy
NONE = ((), (), 1.0)  # no sets that differ


def enough(success: float, sets: int, needed: int, share: float = 0.0) -> float:
    (reliability, alone), residual, _ = many.enough_sets.run(success, sets, needed, share)
    assert residual < 1e-12 and alone == approx(1 if not needed else stats.binom.sf(needed - 1, sets, success), rel=1e-12)  # scipy
    return reliability


# ---- k of n ----

@pytest.mark.parametrize("needed, sets, success, expected", [(1, 2, 0.98, 0.9996), (2, 3, 0.95, 0.99275), (3, 4, 0.98, 0.997664)])
def test_enough_sets_each_for_itself(needed, sets, success, expected):
    # hand: 1 - 0.02^2; 3 x 0.95^2 - 2 x 0.95^3; 4 x 0.98^3 - 3 x 0.98^4
    assert enough(success, sets, needed) == approx(expected, abs=1e-6)
    assert enough(success, sets, needed) == approx(stats.binom.sf(needed - 1, sets, success), rel=1e-12)  # scipy


def test_numbers_of_sets_that_start():
    # NREL, REopt.jl, text of the source: availability 0.99, failure to start 0.05, two sets: 0.00354025, 0.11192, 0.88454
    success = one.start_success.run(0.99, 0.05)
    assert many.working([success] * 2) == approx([0.00354025, 0.11192, 0.88454], abs=5e-6)
    assert np.sum(many.working([0.3, 0.5, 0.9])) == approx(1.0)


@pytest.mark.parametrize("hours, row, expected", [(24, "open_model", 0.96437), (96, "open_model", 0.90327), (336, "open_model", 0.72621),
                                                  (336, "well_maintained", 0.81573), (48, "poorly_maintained", 0.37924)])
def test_mission_of_one_set(hours, row, expected):
    # hand: availability x (1 - failure to start) x e^(-T/MTTF), with 0.995/0.0094/1100 h, 0.9998/0.0013/1662 h, 0.847/0.0165/61 h
    cells = table("set-reliability")
    availability, start, run = (cells.value(column, row) for column in ("availability", "start_failure", "run_time"))
    runs = one.run_success.run(hours * HOUR, one.run_failure_rate.run(run))
    assert one.set_mission_success.run(one.start_success.run(availability, start), runs) == approx(expected, abs=5e-6)


def test_a_day_with_start_and_run():
    # hand: 0.995 x e^(-24/1500) = 0.9792
    assert one.set_mission_success.run(one.start_success.run(1.0, 0.005), one.run_success.run(24 * HOUR, 1 / (1500 * HOUR))) == approx(0.9792, abs=5e-5)


def test_rates_behind_the_field_figures():
    # Applied Energy 268 (2020) 114918, abstract: 80 % over two weeks; half failed within 48 h. Hand: -ln 0.8 / 336 h = 6.64e-4 1/h, 1506 h; 48 / ln 2 = 69.2 h
    assert one.run_success.run(336 * HOUR, one.run_failure_rate.run(1506 * HOUR)) == approx(0.80, abs=5e-5)
    assert one.run_failure_rate.run(1506 * HOUR) * HOUR == approx(6.64e-4, abs=5e-7)
    assert one.run_success.run(48 * HOUR, 1 / (69.2 * HOUR)) == approx(0.5, abs=5e-4)


@pytest.mark.parametrize("needed, sets, with_share, alone", [(1, 2, 1.3606e-3, 4.0e-4), (2, 3, 2.0682e-3, 1.184e-3), (3, 4, 3.1094e-3, None),
                                                             (3, 3, 5.6868e-2, 5.8808e-2)])
def test_shared_causes(needed, sets, with_share, alone):
    # hand, Q 0.02, beta 0.05: R = (1 - 0.001) sum C(n,i) 0.981^i 0.019^(n-i); with all sets needed a shared cause helps
    assert 1 - enough(0.98, sets, needed, 0.05) == approx(with_share, rel=5e-5)
    if alone:
        assert 1 - enough(0.98, sets, needed) == approx(alone, rel=5e-5)


def test_one_set_shares_no_cause_with_another():
    # hand: one set of one fails as often as it fails, whatever share of its failures would take others with it
    assert 1 - enough(0.96, 1, 1, 0.05) == approx(0.04) and enough(0.96, 1, 0, 0.05) == 1


def test_shared_causes_beside_the_rough_form():
    # hand: (0.95 x 0.01)^2 + 0.05 x 0.01 = 5.90e-4, not 1e-4
    assert 1 - enough(0.99, 2, 1, 0.05) == approx(5.90e-4, abs=5e-7)


@pytest.mark.parametrize("needed", (1, 2, 3))
def test_limits_of_the_shared_share(needed):
    assert enough(0.98, 3, needed, 0.0) == approx(stats.binom.sf(needed - 1, 3, 0.98))  # scipy
    assert enough(0.98, 3, needed, 1.0) == approx(0.98)  # all fail together or none: one set


def test_more_sets_needed_than_there_are():
    assert enough(0.98, 2, 3, 0.05) == 0


def alpha(shares, failure, sets, needed, testing="together"):
    given = np.concatenate([shares, np.zeros(4 - len(shares))])
    return many.enough_sets_alpha.run("alpha", testing, given, 1 - failure, sets, needed)


def test_alpha_factors():
    # hand: alpha (0.98, 0.02), Q 0.01, n 2: alpha_t 1.02; Q1 = 0.98/1.02 x 0.01, Q2 = 2 x 0.02/1.02 x 0.01; U = Q2 + (1 - Q2) Q1^2
    (chances, reliability), gap, _ = alpha((0.98, 0.02), 0.01, 2, 1)
    assert chances[:2] == approx([9.6078e-3, 3.9216e-4], rel=5e-5) and 1 - reliability == approx(4.8443e-4, rel=5e-5) and gap < 1e-15
    # the same with (0.95, 0.03, 0.02), Q 0.02, two of three
    (_, reliability), _, _ = alpha((0.95, 0.03, 0.02), 0.02, 3, 2)
    assert 1 - reliability == approx(3.7330e-3, rel=5e-5)


def test_alpha_for_more_sets_than_shares_and_more_needed_than_there_are():
    with pytest.raises(ItemTroubles):
        many.enough_sets_alpha.run("alpha", "together", np.full(4, 0.25), 0.98, 5, 3)
    (chances, reliability), residual, _ = many.enough_sets_alpha.run("beta", "together", np.full(4, 0.25), 0.98, 5, 3)  # the other model is asked
    assert np.isnan(chances).all() and math.isnan(reliability) and residual == 0
    (chances, reliability), residual, _ = alpha((0.9, 0.05), 0.01, 2, 4, "staggered")
    assert reliability == 0 and chances[2:].tolist() == [0, 0] and residual == 0  # two sets never carry what four must


def test_alpha_without_sharing_is_each_for_itself():
    for testing in ("together", "staggered"):
        (_, reliability), _, _ = alpha((1.0,), 0.02, 4, 3, testing)
        assert reliability == approx(stats.binom.sf(2, 4, 0.98))  # scipy


# ---- sets that differ ----

@pytest.mark.parametrize("powers, success, needed, expected", [((3, 3, 5), 0.98, 6, 0.998816), ((3, 3, 5), 0.98, 6.0005, 0.979608),
                                                               ((1000, 1000, 600), 0.97, 1600, 0.997354),
                                                               ((1000, 1000, 600), 0.97, 2000, 0.9409)])
def test_sets_that_differ(powers, success, needed, expected):
    # hand: any two of 3, 3, 5 carry 6, the large one with a small one a little more, 0.98 x (1 - 0.02^2);
    # 1600 by both large or a large and the small; 2000 by both large alone, 0.97^2
    found = many.enough_unequal_sets.run(0.0, np.array(powers, dtype=float), np.full(3, success), float(needed))[0][0]
    assert found == approx(expected, abs=1e-6)
    assert many.enough_unequal_sets.run(0.1, np.array(powers, dtype=float), np.full(3, success), float(needed))[0][1] == approx(expected, abs=1e-6)


def test_shared_causes_of_sets_that_differ():
    # hand and scipy: a tenth of 0.02 takes all, 0.018 each for itself, any two of 3, 3, 5 carry 6; of none nothing is known
    (shared, _), residual, _ = many.enough_unequal_sets.run(0.1, np.array([3.0, 3.0, 5.0]), np.full(3, 0.98), 6.0)
    assert shared == approx(0.998 * stats.binom.sf(1, 3, 0.982), rel=1e-12) and residual == 0
    none, residual, _ = many.enough_unequal_sets.run(0.1, *NONE)
    assert all(math.isnan(each) for each in none) and residual == 0
    # one more of 1000 beside 1000, 1000 and 600 for 2000, Q 0.03: two of three large, each for itself with 0.027
    (more, _, _), residual, _ = many.by_number.run(0.97, 3, 2, 0.1, np.arange(4.0), np.array([1000.0, 1000.0, 600.0]), np.full(3, 0.97), 2000.0)
    assert more == approx(0.997 * stats.binom.sf(1, 3, 0.973), rel=1e-12) and residual == 0


# ---- between tests, and the record ----

def test_unready_between_tests():
    # RAVEN test input after Vaurio 1995, hand: 0.002 + 1e-5 x 720 / 2 + 2 / 720 = 8.378e-3; best interval sqrt(2 x 2 / 1e-5) = 632 h
    rate = 1e-5 / HOUR
    assert one.standby_unavailability.run(0.002, rate, 720 * HOUR, 2 * HOUR) == approx(8.378e-3, abs=5e-7)
    best = one.test_interval_best.run(2 * HOUR, rate)
    assert best / HOUR == approx(632, abs=0.5)
    least = one.standby_unavailability.run(0.002, rate, best, 2 * HOUR)
    assert least == approx(one.standby_unavailability_best.run(0.002, 2 * HOUR, rate))
    assert all(one.standby_unavailability.run(0.002, rate, factor * best, 2 * HOUR) > least for factor in (0.8, 1.25))
    for downtime, steady in ((0.0, rate), (2 * HOUR, 0.0)):  # a test that takes no time, and a set in which nothing fails at rest, have no best interval
        assert math.isnan(one.test_interval_best.run(downtime, steady)) and math.isnan(one.standby_unavailability_best.run(0.002, downtime, steady))


def test_sixty_starts_without_failure():
    # hand: mean 0.5/61; scipy's beta distribution; classical 1 - 0.05^(1/60) = 0.0487
    assert one.record_start_mean.run(0, 60) == approx(0.00820, abs=5e-6)
    (low, high, bound), residual, _ = one.record_bounds.run(60, 0)
    assert high == approx(0.0314, abs=5e-5) and bound == approx(0.0487, abs=5e-5) and residual < 1e-9
    assert (low, high) == approx(tuple(stats.beta(0.5, 60.5).ppf([0.05, 0.95])))  # scipy
    assert one.record_bounds.run(60, 60)[0][2] == 1.0
    nothing, residual, _ = one.record_bounds.run(0, 0)
    assert all(math.isnan(each) for each in nothing) and residual == 0


def test_running_on_record():
    # scipy's gamma distribution; hand: two failures in 3000 h, the mean is 2.5 / 3000 h
    (low, high), residual, _ = one.record_run_bounds.run(3000 * HOUR, 2)
    assert (low * HOUR, high * HOUR) == approx(tuple(stats.gamma(2.5, scale=1 / 3000).ppf([0.05, 0.95]))) and residual < 1e-9
    assert low < 1 / one.record_run_time.run(3000 * HOUR, 2) < high
    nothing, residual, _ = one.record_run_bounds.run(0.0, 0)
    assert all(math.isnan(each) for each in nothing) and residual == 0


@pytest.mark.parametrize("reliability, starts", [(0.99, 299), (0.95, 59)])
def test_proof_by_starts_without_failure(reliability, starts):
    assert one.proof_starts.run(0.95, reliability) == starts  # hand: ln 0.05 / ln R, up to the next whole number


# ---- repair ----

def repaired(crews, rate, repair, sets=2, needed=1, hours=24.0, share=0.0, start=1.0):
    running = math.exp(-rate * hours)
    return many.with_repair.run(crews, repair * HOUR, sets, needed, start, running, hours * HOUR, rate / HOUR, start * running, share)


@pytest.mark.parametrize("crews, unavailability", [(1, 4.959e-4), (2, 2.480e-4)])
def test_two_sets_with_repair(crews, unavailability):
    # hand, r = 24/1500: one crew 2r^2/(1 + 2r + 2r^2), two crews (r/(1 + r))^2; mean time (3 lambda + mu)/(2 lambda^2) = 49 125 h
    (_, long_run, lack), residual, _ = repaired(crews, 1 / 1500, 24)
    assert long_run == approx(unavailability, rel=2e-4) and lack / HOUR == approx(49_125, rel=1e-6) and residual < 1e-9


def test_repair_beside_none_and_the_exponential_of_scipy():
    rate, share, start = 1 / 900, 0.06, 0.985
    (slow, *_), _, _ = repaired(1, rate, 1e9, sets=4, needed=2, hours=200, share=share, start=start)
    assert slow == approx(enough(start * math.exp(-200 * rate), 4, 2, share), rel=1e-6)  # so slow a crew is none
    (quick, *_), _, _ = repaired(1, rate, 8, sets=4, needed=2, hours=200, share=share, start=start)
    assert quick > slow
    matrix = many.chain(4, 2, rate, 1 / 8, 1, ends=True) * 200
    assert many._exponential(matrix) == approx(expm(matrix), abs=1e-12)  # scipy
    none, residual, _ = repaired(0, rate, 8)
    assert all(math.isnan(each) for each in none) and residual == 0
    # one set that is needed: mended or not, the mission ends with its failure
    assert repaired(1, rate, 8, sets=1, needed=1, hours=200, share=share, start=start)[0][0] == approx(start * math.exp(-200 * rate))


def test_two_sets_with_shared_causes_starts_and_repair():
    # scipy's exponential of the three states written out, the last an end: Q = 1 - 0.985 e^(-200/900), of which 6 % takes both; starts fail with 0.94 x 0.015
    (found, *_), _, _ = repaired(1, 1 / 900, 8, hours=200, share=0.06, start=0.985)
    failure, begun = 1 - 0.985 * math.exp(-200 / 900), 1 - 0.94 * 0.015
    own = -math.log((1 - 0.94 * failure) / begun) / 200
    states = expm(200 * np.array([[-2 * own, 2 * own, 0], [1 / 8, -1 / 8 - own, own], [0, 0, 0]]))
    first = np.array([begun ** 2, 2 * begun * (1 - begun), (1 - begun) ** 2])
    assert found == approx((1 - 0.06 * failure) * (1 - (first @ states)[2]), rel=1e-9)


# ---- how sure the rates are ----

def test_error_factors():
    # hand: sigma = ln 3 / 1.644854 = 0.66791; median 0.0094 e^(-sigma^2/2) = 0.00752; q95 three times that; Uranie documentation
    assert many.demand_spread.run(3.0, DEVIATIONS) == approx(0.66791, abs=5e-6)
    median = many.demand_median.run(0.0094, many.demand_spread.run(3.0, DEVIATIONS))
    assert median == approx(0.00752, abs=5e-6) and many.demand_high.run(median, 3.0) == approx(0.02256, abs=5e-6)
    rate = many.run_median.run(9.09e-4, many.run_spread.run(5.0, DEVIATIONS))
    assert rate == approx(5.632e-4, rel=2e-4) and many.run_high.run(rate, 5.0) == approx(2.816e-3, rel=2e-4)


def band(start, start_factor, rate, run_factor, hours, sets, needed, share=0.0, available=1.0):
    spread, run_spread = many.demand_spread.run(start_factor, DEVIATIONS), many.run_spread.run(run_factor, DEVIATIONS)
    return many.band.run(many.demand_median.run(start, spread), spread, many.run_median.run(rate, run_spread) / HOUR, run_spread, available, hours * HOUR, sets,
                         needed, share)


def test_mean_failure_with_one_rate_for_all_sets():
    # hand: two of three, E[3 Q^2 - 2 Q^3] with mean 0.02, error factor 3: 3 x 0.02^2 e^(s^2) - 2 x 0.02^3 e^(3 s^2) = 1.8137e-3; at the mean rate 1.184e-3
    (_, _, mean), _, _ = band(0.02, 3.0, 1e-9, 1.0, 1.0, 3, 2)
    assert mean == approx(1.8137e-3, rel=1e-4)
    assert 1 - enough(0.98, 3, 2) == approx(1.1840e-3, rel=1e-4)


def test_band_of_one_set_that_cannot_fail_while_running_is_that_of_its_start():
    (low, high, _), residual, _ = band(0.0094, 3.0, 1e-9, 1.0, 1.0, 1, 1)
    # a step is met to half of the spacing of the quadrature: 0.005 of a deviation of 0.668
    assert 1 - low == approx(0.02256, rel=4e-3) and 1 - high == approx(0.00752 / 3, rel=4e-3) and residual < 1e-5  # hand: median times and over 3
    (low, high, _), _, _ = band(0.000094, 3.0, 1e-9, 1.0, 1.0, 1, 1)  # a hundredth of it
    assert 1 - low == approx(0.0002256, rel=4e-3) and 1 - high == approx(0.0000752 / 3, rel=4e-3)


def test_band_against_drawn_rates():
    # scipy's lognormal distribution, 400 000 draws with a fixed seed; the standard error of a 5 % quantile here is below half a per cent of the failure
    draw, sigma = np.random.default_rng(7), (math.log(3) / DEVIATIONS, math.log(5) / DEVIATIONS)
    start = stats.lognorm(sigma[0], scale=0.0094 * math.exp(-sigma[0] ** 2 / 2)).rvs(400_000, random_state=draw)
    rate = stats.lognorm(sigma[1], scale=9.09e-4 * math.exp(-sigma[1] ** 2 / 2)).rvs(400_000, random_state=draw)
    failure = 1 - 0.99 * (1 - np.minimum(start, 1)) * np.exp(-rate * 96)
    plant = 1 - (1 - 0.05 * failure) * (1 - (0.95 * failure) ** 2)
    (low, high, mean), _, _ = band(0.0094, 3.0, 9.09e-4, 5.0, 96, 2, 1, share=0.05, available=0.99)
    assert (1 - low, 1 - high) == approx(tuple(np.quantile(plant, [0.95, 0.05])), rel=0.01) and mean == approx(float(np.mean(plant)), rel=0.01)


@pytest.mark.parametrize("unknown", [{"hours": np.nan}, {"available": np.nan}], ids=str)
def test_no_band_of_what_is_not_known(unknown):
    found, _, _ = band(0.0094, 3.0, 9.09e-4, 5.0, **{"hours": 96, "sets": 2, "needed": 1, "share": 0.05, "available": 0.99, **unknown})
    assert np.isnan(found).all()


# ---- books ----

@pytest.mark.parametrize("slug", SLUGS)
def test_a_demo_is_between_the_sets_alone_and_nothing(books, slug):
    book = books[slug]
    assert 0.5 < book["mission_reliability"].number <= book["sets_reliability"].number
    assert book["sets_reliability_low"].number < book["sets_reliability"].number < book["sets_reliability_high"].number
    assert all(abs(value.left_over[0]) < 1e-6 for value in book.values.values() if value.residual and "reliability" in value.producer.module)


def plain(folder, more: str = "", chapters: str = "plant, loads, reliability"):
    """The book of two sets of which one is needed, for a mission of a day, with these lines more."""
    (folder / "project.yaml").write_text(f"name: Plain\nchapters: [{chapters}]\n", "utf-8")
    (folder / "all.yaml").write_text(PLANT.replace("spare_sets: 0", "spare_sets: 1") + "mission_time: 24 h\n" + more, "utf-8")
    return load(folder)


def test_without_tree_and_fuel(tmp_path):
    """Alone with plant and loads the chapter asks for the time of the mission, and gives the sets without a tree."""
    book = plain(tmp_path)
    # hand: 0.995 x (1 - 0.0094 - 0.5/720) x e^(-24/1100) = 0.963700; Q 0.0363; 2 sets, one needed, beta 0.05: 0.05 Q + (1 - 0.05 Q)(0.95 Q)^2 = 0.003002
    assert book["set_mission_success"].number == approx(0.963700, abs=2e-5)
    assert 1 - book["sets_reliability"].number == approx(0.003002, abs=5e-6)
    assert book["mission_failure"].number == approx(book["sets_failure"].number)
    assert "cut_sets_found" not in book.values and book.check("single_failures_ok").word == "undecided"
    assert book["test_interval"].number == 720 * HOUR  # that of the data, since no tests are listed


def test_without_a_tree_the_mission_is_judged_by_the_sets(tmp_path):
    # 0.003002 by hand, above
    words = {more: plain(tmp_path, more).check("mission_ok").word for more in ("", "mission_reliability_min: 99.5 %\n", "mission_reliability_min: 99.9 %\n")}
    assert list(words.values()) == ["undecided", "holds", "fails"]


def test_sets_that_differ_count_where_they_are_listed(tmp_path):
    book = plain(tmp_path, """common_cause_share: 0 %
mission_power: 6 kW
unequal_sets:
  - {id: a, name: First, unequal_set_power: 3 kW, unequal_set_success: 98 %}
  - {id: b, name: Second, unequal_set_power: 3 kW, unequal_set_success: 98 %}
  - {id: c, name: Third, unequal_set_power: 5 kW, unequal_set_success: 98 %}
""")
    assert book["sets_reliability_beta"].number == book["sets_reliability_independent"].number == approx(0.998816, abs=1e-6)  # hand: any two of 3, 3, 5 carry 6


def test_tests_that_are_planned_are_not_asked_for_again(tmp_path):
    book = plain(tmp_path, """plant_tests:
  - {id: yearly, name: Yearly, test_kind: transfer, test_times_yearly: 1, test_load_ratio: 40 %, test_duration: 30 min}
  - {id: monthly, name: Monthly, test_kind: exercise, test_times_yearly: 12, test_load_ratio: 40 %, test_duration: 30 min}
""", "plant, loads, testing, reliability")
    assert book["test_interval"].number == approx(730 * HOUR)  # hand: a twelfth of 8760 h


def test_cranking_starts_no_engine():
    # by the meaning: a crank test a week proves the battery, and no more of the engine than one start in a year at best
    given = {"data_test_interval": 720 * HOUR, "year_time": 8760 * HOUR, count_name("plant_test"): 2.0}
    for kind, hours in (("exercise", 168), ("crank", 730)):
        assert over(one.test_interval, test_kind=[kind, "exercise"], test_interval_planned=[168 * HOUR, 730 * HOUR], **given) == hours * HOUR
    assert over(one.test_interval, test_kind=["crank", "crank"], test_interval_planned=[168 * HOUR, 730 * HOUR], **given) == 8760 * HOUR


def test_no_tasks_of_upkeep_are_no_year_without_upkeep(tmp_path):
    book = plain(tmp_path, chapters="plant, loads, upkeep, reliability")
    assert book["set_outage_yearly"].number == approx(43.8 * HOUR)  # hand: the published half of a hundredth of 8760 h
    book = plain(tmp_path, "tasks: [{id: look, name: Look, task_interval_months: 6, task_duration: 9 h}]\n", "plant, loads, upkeep, reliability")
    assert book["set_outage_yearly"].number - book["set_repair_yearly"].number == approx(18 * HOUR)  # hand: twice a year nine hours
    with pytest.raises(Faults, match="set_outage_yearly"):
        plain(tmp_path, "reliability_data: own_record\nrecorded_starts: 99\nrecorded_running: 900 h\n")  # a record of starts does not tell it


def test_one_cause_by_alpha_factors_is_that_of_the_group_of_all_sets(tmp_path):
    book = plain(tmp_path, """common_cause_model: alpha
alpha_factor: [0.98, 0.02, 0, 0]
fault_events: [{id: few, name: Too few sets, event_source: sets_lacking}, {id: one, name: One cause, event_source: sets_common}]
fault_gates: [{id: dark, name: Dark, gate_sort: any}]
gate_inputs: [{id: by_few, input_of: dark, input_event: few}, {id: by_one, input_of: dark, input_event: one}]
""")
    # hand: Q2 = 2 x 0.02/1.02 x 0.0363
    assert book["event_probability.one"].number == approx(2 * 0.02 / 1.02 * 0.0363, rel=1e-3)
    assert math.isnan(book["event_pair_gain.few"].number)  # one more set is known by the other model only


# ---- small formulas, by hand ----

def test_figures_of_one_set_by_row_and_by_record():
    # published defaults of REopt.jl: 0.0094, 1100 h, 0.995; a year of 8760 h without 0.5 % of it; the record: (1 + 0.5)/(99 + 1), 900 h / 1.5
    assert one.start_failure.run("open_model", 0.5) == 0.0094 and one.start_failure.run("own_record", 0.015) == 0.015
    assert one.mean_time_to_failure.run("open_model", 1.0) == approx(1100 * HOUR) and one.mean_time_to_failure.run("own_record", 5.0) == 5.0
    year = 8760 * HOUR
    # hand: twelve tests with 0.01 and 50 h with 1e-3 an hour, 48 h each: 0.17 x 48 = 8.16 h
    assert one.set_repair_yearly.run(year, 730 * HOUR, 0.01, 50 * HOUR, 1e-3 / HOUR, 48 * HOUR) == approx(8.16 * HOUR)
    assert one.set_availability.run(43.8 * HOUR, 8760 * HOUR) == approx(0.995)
    assert one.record_start_mean.run(1, 99) == approx(0.015) and one.record_run_time.run(900 * HOUR, 1) == approx(600 * HOUR)
    cells = table("set-reliability")
    rows = {row: tuple(cells.value(column, row) for column in ("availability", "start_failure")) for row in cells.keys}
    assert rows["open_model_earlier"] == (0.9998, 0.0066) and rows["poorly_maintained"] == (0.847, 0.0165)
    assert cells.value("run_time", "open_model_earlier") == approx(HOUR / 0.00157, rel=1e-6)  # printed as 0.00157 an hour


def test_failures_by_waiting_and_by_starting_are_those_of_the_data():
    # hand: of 0.0072 half waits: 0.0036, and 2 x 0.5 x 0.0072 / 720 h = 1e-5 an hour; at the interval of the data both together are 0.0072 again
    start, rate = one.demand_failure.run(0.0072, 0.5), one.standby_failure_rate.run(0.0072, 0.5, 720 * HOUR)
    assert start == approx(0.0036) and rate * HOUR == approx(1e-5)
    assert one.standby_unavailability.run(start, rate, 720 * HOUR, 0.0) == approx(0.0072)


def test_what_the_sets_take_from_the_loads():
    assert one.mission_sets.run(3.0) == 3 and one.mission_sets_needed.run(2.0) == 2 and many.mission_power.run(8e5) == 8e5
    assert many.unequal_set_success.run(0.95) == 0.95
    assert many.number_of_sets.run(2.0, np.arange(4.0)).tolist() == [2, 3, 4, 5]
    assert many.common_failure.run("beta", 0.05, 0.98, np.zeros(4), np.arange(4.0), 2.0) == approx(0.001)  # hand: a twentieth of two in a hundred


def test_further_sets():
    # hand, Q 0.02, beta 0.05, one needed: 2, 3, 4 sets: 0.001 + 0.999 x 0.019^n; one alone 0.02
    (more, shared, alone), _, _ = many.by_number.run(0.98, 2, 1, 0.05, np.arange(4.0), *NONE)
    assert shared == approx([0.02, *(0.001 + 0.999 * 0.019 ** count for count in (2, 3, 4))])
    assert alone == approx([0.02 ** count for count in (1, 2, 3, 4)]) and more == approx(1 - shared[2])
    # one more like the largest of sets that differ; hand: 1000, 1000, 600 and 1000, 2000 needed: two of three large, 0.97^3 + 3 x 0.97^2 x 0.03
    powers = np.array([1000.0, 1000.0, 600.0])
    (more, _, _), _, _ = many.by_number.run(0.97, 3, 2, 0.0, np.arange(4.0), powers, np.full(3, 0.97), 2000.0)
    assert more == approx(0.97 ** 3 + 3 * 0.97 ** 2 * 0.03)


def test_none_needed_is_sure():
    assert enough(0.98, 2, 0, 0.05) == 1
    assert many.by_number.run(0.98, 2, 0, 0.05, np.arange(4.0), *NONE)[0][1].tolist() == [0, 0, 0, 0]
    assert all(math.isnan(each) for each in many.with_repair.run(1, HOUR, 2, 0, 1.0, 0.9, 24 * HOUR, 1e-6, 0.9, 0.05)[0])


def test_the_mission_lasts_as_long_as_the_fuel_where_the_book_knows_it():
    assert one.mission_time.run("in_this_book", 96 * HOUR) == 96 * HOUR and math.isnan(one.mission_time.run("not_in_this_book", 96 * HOUR))
