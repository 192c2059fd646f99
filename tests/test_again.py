"""Part of a book run again: sweeps, other items, and the chance that a limit is met, against closed forms."""

import math

import numpy as np
import pytest
from scipy.stats import norm
from test_solve import PROJECT, trial  # noqa: F401  (the fixture)

from basis.again import SAMPLES, again


def test_a_sweep_gives_what_separate_books_give(trial):  # noqa: F811
    book = trial()
    swept = again(book, {"trial_flow": np.array([6.0, 12.0, 24.0])}, ("trial_velocity",), sampled=True)["trial_velocity"]
    assert swept.tolist() == [[1.5, 1.0], [3.0, 2.0], [6.0, 4.0]]


def test_other_items_of_another_number(trial):  # noqa: F811
    results = again(trial(), {"trial_area": np.array([1.0, 2.0, 3.0, 6.0])}, ("trial_velocity", "trial_total"))
    assert results["trial_velocity"].tolist() == [12, 6, 4, 2] and results["trial_total"] == 12.0


def test_procedures_take_samples_one_by_one(trial):  # noqa: F811
    areas = np.array([[4.0, 6.0], [1.0, 1.0]])
    assert again(trial(), {"trial_area": areas}, ("trial_mean",), sampled=True)["trial_mean"].tolist() == [5.0, 1.0]


@pytest.mark.parametrize("limit, spread", [(3.2, "1.2 m^3/s"), (2.9, "10 %"), (3.0, "5 %")])
def test_chance_against_the_normal_distribution(trial, limit, spread):  # noqa: F811
    text = PROJECT.replace("trial_flow: 12 m^3/s", f"trial_flow: {{value: 12 m^3/s, plus_minus: {spread}}}").replace("2.9 m/s", f"{limit} m/s")
    book = trial(text)
    two_sigma = 12 * float(spread[:-2]) / 100 if "%" in spread else float(spread.split()[0])
    expected = norm.cdf((limit * 4.0 - 12.0) / (two_sigma / 2))  # the governing opening has 4 m²; scipy's normal distribution
    assert book.check("velocity").chance == pytest.approx(expected, abs=3 * math.sqrt(0.25 / SAMPLES))


def test_without_a_plus_or_minus_there_is_no_chance(trial):  # noqa: F811
    assert math.isnan(trial().check("velocity").chance)


def test_a_wrong_plus_or_minus_is_a_fault(trial):  # noqa: F811
    from basis.faults import Faults

    for wrong in ("3 kW", "-1 m^3/s", "much"):
        with pytest.raises(Faults, match="plus_minus"):
            trial(PROJECT.replace("trial_flow: 12 m^3/s", f"trial_flow: {{value: 12 m^3/s, plus_minus: {wrong}}}"))
