"""Months of the calendar added to many days at once."""

from __future__ import annotations

import numpy as np

from basis.language.days import months_later


def each_months_later(days, months) -> np.ndarray:
    """The day so many months later, element by element, in seconds from the first day of the calendar; NaN where either is not given."""
    days, months = np.broadcast_arrays(np.asarray(days, dtype=float), np.asarray(months, dtype=float))
    return np.array([months_later(day, count) for day, count in zip(days.ravel(), months.ravel())], dtype=float).reshape(days.shape)
