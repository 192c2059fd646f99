"""Friction factor of pipes against the general library fluids, which solves the same equation its own way."""

import numpy as np
import pytest
from fluids.friction import Colebrook, friction_factor
from pytest import approx

from basis.physics import pipe


@pytest.mark.parametrize("reynolds, relative", ((2500.0, 0.01), (5e3, 0.0), (4986.0, 1e-4), (409274.0, 5.25e-5), (1e6, 0.003), (1e8, 1e-6)))
def test_friction_factor_against_fluids(reynolds, relative):
    factor, residual = pipe.friction_factor(reynolds, relative)
    assert factor == approx(Colebrook(reynolds, relative), rel=1e-9) and residual < 1e-9  # fluids solves the same equation its own way
    assert factor == approx(friction_factor(reynolds, relative), rel=1e-4)


def test_friction_factor_at_the_edges():
    assert pipe.friction_factor(1000.0, 0.01)[0] == approx(friction_factor(1000.0, 0.01)) == approx(0.064)  # laminar, 64/Re
    assert pipe.friction_factor(2040.0, 0.0)[0] == approx(friction_factor(2040.0, 0.0))  # fluids' own switch
    assert pipe.friction_factor(5e-4, 0.01) == (approx(friction_factor(5e-4, 0.01)), 0)  # hand: 64/0.0005 = 128 000, however slow; nothing to balance
    assert pipe.friction_factor(1000.0, np.nan)[0] == approx(0.064)  # in laminar flow the wall may be as rough as it likes
    assert pipe.friction_factor(0.0, 0.01)[0] == 0 and np.isnan(pipe.friction_factor(np.array([np.nan]), 0.01)[0]).all()
    assert pipe.friction_factor(1e5, 0.002)[0] > pipe.friction_factor(1e5, 0.001)[0] > pipe.friction_factor(1e6, 0.001)[0]


def test_the_residual_is_what_is_left_of_the_worst_pipe():
    # hand: before the first step 1/√f is 7 where a smooth pipe asks for −2 lg(2.51·7/Re), 7.510 at 100 000 and 9.510 at 1 000 000
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pipe, "FIXED_POINT_STEPS", 0)
        factor, residual = pipe.friction_factor([1e5, 1e6, 1000.0], 0.0)
    assert factor == approx([1 / 49, 1 / 49, 0.064]) and residual == approx(2.510, abs=5e-4)
