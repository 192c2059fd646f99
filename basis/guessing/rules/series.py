"""Sizes in series, and numbers rounded up to what is built."""

from math import ceil

SAME = 1e-9


def up_to(value: float, step: float) -> float:
    """The next multiple of a step."""
    return ceil(value / step - SAME) * step


def first_at_least(series, value: float) -> float:
    """The first of a series that is not smaller; where it ends, its last: the check is left to fail."""
    return next((size for size in series if size >= value * (1 - SAME)), series[-1])
