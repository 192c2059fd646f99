"""Where a falling function crosses nought."""

import numpy as np
from pytest import approx
from scipy.optimize import brentq

from basis.physics.crossing import crossing


def test_crossings_against_scipy():
    def surplus(x):
        return np.cos(x) - x ** np.array([1.0, 2.0, 3.0])
    found = crossing(surplus, np.zeros(3), np.full(3, 2.0))
    outside = [brentq(lambda x, power=power: np.cos(x) - x ** power, 0, 2, xtol=1e-14) for power in (1, 2, 3)]  # scipy.optimize.brentq
    assert found == approx(outside, abs=5e-12)


def test_each_element_has_a_span_of_its_own():
    assert crossing(lambda x: 5.0 - x, np.array([[0.0], [4.0]]), np.array([[10.0], [6.0]])) == approx(5.0)


def test_without_a_crossing_the_end_is_told():
    assert crossing(lambda x: 1.0 - 0 * x, np.zeros(1), np.ones(1)) == approx(1.0)
    assert crossing(lambda x: -1.0 - 0 * x, np.zeros(1), np.ones(1)) == approx(0.0, abs=1e-11)


def test_what_is_not_a_number_crosses_nowhere():
    assert crossing(lambda x: np.array([0.5, np.nan]) - x, np.zeros(2), np.ones(2)) == approx([0.5, np.nan], nan_ok=True)
