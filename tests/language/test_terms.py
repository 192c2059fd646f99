"""Physical ranges of Terms: what holds without a word, and what a Term must say."""

import math

import numpy as np
import pytest

from basis.language.terms import Term, terms


@pytest.mark.parametrize("term, bounds", [
    (Term("trial_mass", "m", "kg", "Mass", ""), (0, math.inf)), (Term("trial_gain", "a", "1", "Gain", "", signed=True), (-math.inf, math.inf)),
    (Term("trial_level", "L", "dB", "Level", "", kind="level"), (-math.inf, math.inf)), (Term("trial_share", "x", "1", "Share", ""), (0, 1)),
    (Term("trial_share", "x", "1", "Share", "", high=3), (0, 3)), (Term("trial_heat", "T", "K", "Heat", "", kind="temperature"), (0, math.inf)),
    (Term("trial_efficiency", "η", "1", "Efficiency", "", low=0.2), (0.2, 1))])
def test_a_number_is_not_negative_and_a_part_not_above_the_whole_unless_its_term_says_so(term, bounds):
    assert term.bounds == bounds


def test_what_is_not_given_is_not_outside_and_rounding_is_no_fault():
    share = Term("trial_share", "x", "1", "Share", "", shown=("%",))
    assert not share.outside(math.nan) and not share.outside(1 + 1e-12) and not share.outside(-1e-15)
    assert share.outside(1.01) and share.outside(np.array([0.5, math.nan, -0.01])) and not share.outside(np.array([math.nan, 0.2]))
    assert not share.outside(np.zeros(0))
    assert share.range_text == "0 % to 100 %"


def test_every_default_lies_within_the_range_of_its_term():
    numbers = [term for term in terms().values() if term.default is not None and not term.is_text]
    wrong = [term.id for term in numbers if term.outside(np.asarray(term.default_data(), dtype=float))]
    assert not wrong
