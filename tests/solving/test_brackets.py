"""Brackets made narrower by one trial value at a time, against roots by scipy and against halving."""

import math
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.optimize import brentq

from basis.solving.brackets import NEAR, STEPPED, Bracket, Trial

HOLDS = SimpleNamespace(word="holds")
SHARE = SimpleNamespace(term=SimpleNamespace(whole=False), share=True, step=0.05)  # of a mover


def narrowed(margin, outer: float) -> tuple[float, int]:
    """Where a margin that holds at nought turns on the way to an outer t, and how many trial values that took."""
    found = Bracket((HOLDS,), 0.0, outer, np.array([margin(0.0)]), np.array([margin(outer)]))
    for count in range(60):
        if found.narrow(SHARE, STEPPED):
            return found.at(SHARE), count
        ts = found.trials(SHARE, STEPPED)
        assert len(ts) == 1 and min(0.0, outer) < ts[0] < max(0.0, outer)
        found = found.narrowed(Trial((HOLDS,), ts, np.array([[margin(float(ts[0]))]]), np.array([True])))
    raise AssertionError("never narrow")


def halvings(outer: float, root: float) -> int:
    """How many halvings of the whole way it takes."""
    return math.ceil(math.log2(abs(outer) / (NEAR[STEPPED] * (1 + root))))


@pytest.mark.parametrize("margin, outer", [
    (lambda t: 0.3 - t, 9.0),                                 # straight
    (lambda t: 1 - 0.95 / (1 + t), -0.9),                     # a hyperbola, as of a share that divides
    (lambda t: 1 - 0.4 / (1 + t), -0.9),
    (lambda t: 0.5 - t - t ** 2, 9.0),
    (lambda t: math.exp(-t) - 0.2, 8.0),
    (lambda t: 1 - (1 + t) ** 3 / 30, 9.0),
    (lambda t: 0.2 - math.log10(1 + t), 9.0),
])
def test_a_smooth_margin_takes_fewer_trials_than_halving(margin, outer):
    root = brentq(margin, 0, outer)
    found, count = narrowed(margin, outer)
    assert found == pytest.approx(root, abs=5e-4 * (1 + root)) and count <= 0.75 * halvings(outer, root)


@pytest.mark.parametrize("margin, outer, root", [
    (lambda t: 1.0 if t < 3.7 else -1.0, 9.0, 3.7),                      # a jump
    (lambda t: 0.01 if t < 3.7 else -8.0, 9.0, 3.7),
    (lambda t: 5.0 if t > -0.61 else -1e-3, -0.9, -0.61),
    (lambda t: min(0.0, 3.7 - t), 9.0, 3.7),                             # sized to its limit up to a bend
    (lambda t: min(0.0, (3.7 - t) * (1 + t)), 9.0, 3.7),
    (lambda t: min(0.0, 3.7 - t) - (t > 3.7), 9.0, 3.7),                 # and a jump at it
    (lambda t: math.inf if t < 3.7 else -1.0, 9.0, 3.7),                 # endlessly safe before it
    (lambda t: 0.1 - 0.09 * t if t < 1 else 0.01 if t < 6 else 6 - t, 9.0, 6.0),  # level in between
])
def test_a_jump_or_a_bend_takes_hardly_more(margin, outer, root):
    found, count = narrowed(margin, outer)
    assert found == pytest.approx(root, abs=1e-3 * (1 + root)) and count <= 1.6 * halvings(outer, root)
