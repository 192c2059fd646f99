"""The calendar: months are added as people add them, from a day to the same day of a later month, or to the last day of a month that is too short."""

from calendar import monthrange
from datetime import date

import numpy as np

from basis.language.days import DAY_SECONDS
from basis.language.terms import LAST_DAY


def months_later(day: float, months: float) -> float:
    """The day so many months later, in seconds as all days are; not given where either is not; the last day of the calendar for what lies behind it."""
    if np.isnan(day) or np.isnan(months):
        return np.nan
    begun = date.fromordinal(round(day / DAY_SECONDS))
    year, month = divmod(begun.year * 12 + begun.month - 1 + round(months), 12)
    if year > date.fromordinal(round(LAST_DAY / DAY_SECONDS)).year:
        return LAST_DAY
    return date(year, month + 1, min(begun.day, monthrange(year, month + 1)[1])).toordinal() * DAY_SECONDS


def each_months_later(days, months) -> np.ndarray:
    """The same for arrays, element by element."""
    days, months = np.broadcast_arrays(np.asarray(days, dtype=float), np.asarray(months, dtype=float))
    return np.array([months_later(day, count) for day, count in zip(days.ravel(), months.ravel())], dtype=float).reshape(days.shape)


def month_of(day: float) -> int:
    """Number of the calendar month in which a day lies, January being 0."""
    return date.fromordinal(round(day / DAY_SECONDS)).month - 1
