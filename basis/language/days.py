"""Days of the calendar as people write them: 2026-11-20."""

from __future__ import annotations

import re
from calendar import monthrange

DAY = re.compile(r"(\d{4})-(\d\d)-(\d\d)")


def is_day(text: str) -> bool:
    """Whether a text is a day of the calendar, as 2026-11-20."""
    found = DAY.fullmatch(text)
    year, month, day = map(int, found.groups()) if found else (0, 0, 0)
    return year > 0 and 1 <= month <= 12 and 1 <= day <= monthrange(year, month)[1]
