"""Numbers that are none, and why: the mark of one that waits survives what the book does with numbers, and no calculation makes one."""

import math
import pickle

import numpy as np

from basis.language.blanks import WAITING, marked, waits


def test_a_number_that_waits_is_no_number_to_any_calculation():
    assert math.isnan(WAITING) and WAITING != WAITING
    assert waits(WAITING) and not waits(math.nan) and not waits(np.nan) and not waits(0.0)
    with np.errstate(all="ignore"):
        assert not waits(np.array([np.inf, 0.0]) - np.array([np.inf, 0.0]) / 0.0).any()  # what arithmetic makes of nothing


def test_the_mark_survives_lists_elements_and_copies():
    numbers = marked([1.0, np.nan, np.nan], [False, True, False])
    copies = numbers.tolist(), [float(one) for one in numbers], np.broadcast_to(numbers, (2, 3))[1], pickle.loads(pickle.dumps(numbers))
    for same in (numbers, *copies):
        assert waits(same).tolist() == [False, True, False]
    assert numbers[0] == 1.0 and np.isnan(numbers[1:]).all()
