"""Days of the calendar as people write them: 2026-11-20."""

from __future__ import annotations

import math
import re
from calendar import monthrange
from datetime import date

DAY = re.compile(r"(\d{4})-(\d\d)-(\d\d)")
DAY_SECONDS = 86400.0
ROUNDING = 1e-6  # of a day, by which a sum of floats may miss it


def seconds_of(text: str) -> float:
    """A day as seconds from the first day of the calendar, by which days are computed with. Raises ValueError for what is no day."""
    if not is_day(text):
        raise ValueError(text)
    return date.fromisoformat(text).toordinal() * DAY_SECONDS


def date_of(seconds: float) -> date:
    """The day in which a moment lies. Raises ValueError or OverflowError for what no calendar holds."""
    return date.fromordinal(_number(seconds))


def day_text(seconds: float) -> str:
    """The day in which a moment lies, as 2026-11-20; of what no calendar holds, the number of days."""
    return date_of(seconds).isoformat() if 1 <= _number(seconds) <= date.max.toordinal() else f"day {_number(seconds)}"


def _number(seconds: float) -> int:
    return math.floor(seconds / DAY_SECONDS + ROUNDING)


def is_day(text: str) -> bool:
    """Whether a text is a day of the calendar, as 2026-11-20."""
    found = DAY.fullmatch(text)
    year, month, day = map(int, found.groups()) if found else (0, 0, 0)
    return year > 0 and 1 <= month <= 12 and 1 <= day <= monthrange(year, month)[1]


FIRST_DAY, LAST_DAY = seconds_of("1900-01-01"), seconds_of("2199-12-31")  # of dates that a plant may have


def months_later(day: float, months: float) -> float:
    """The day so many months later, in seconds as all days are; not given where either is not; the last day of the calendar for what lies behind it."""
    if math.isnan(day) or math.isnan(months):
        return math.nan
    begun = date_of(day)
    year, month = divmod(begun.year * 12 + begun.month - 1 + round(months), 12)
    if year > date_of(LAST_DAY).year:
        return LAST_DAY
    return date(year, month + 1, min(begun.day, monthrange(year, month + 1)[1])).toordinal() * DAY_SECONDS


def month_of(day: float) -> int:
    """Number of the calendar month in which a day lies, January being 0."""
    return date_of(day).month - 1
