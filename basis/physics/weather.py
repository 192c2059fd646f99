"""Outdoor air temperature of every hour of a year, from an EPW or a TMY3 file, or faults with the line in that file.

Rows are taken in file order: the months of such a year come from different years, so full dates do not rise. Nothing is
filled in, dropped or converted on a guess.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import islice
from math import isfinite, nan
from pathlib import Path
from typing import NamedTuple

from basis.language.faults import Fault, Faults, nearest_name

HOURS = 8760
MAX_BYTES = 5_000_000
MAX_TOLD = 10            # faults told of one file; the rest is counted
ICE_POINT = 273.15       # K at 0 °C
LOW, HIGH = -90.0, 60.0  # °C, a little beyond the records of the Earth
MAX_STEP = 25.0          # K between hours that follow each other
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
FORMATS = "an EPW file, beginning with LOCATION, or a TMY3 file with the column 'Dry-bulb (C)'"
TMY3_COLUMNS = ("Date (MM/DD/YYYY)", "Time (HH:MM)", "Dry-bulb (C)")
EPW_DRY_BULB = 6         # fields before it: year, month, day, hour, minute, flags
MISSING = {"EPW": 99.9, "TMY3": -9900.0}


class _Row(NamedTuple):
    """One hour as written: its line, the month, day and hour that it ends, and the text of its temperature."""

    line: int
    time: tuple[int, int, int]
    text: str


class _Unreadable(Exception):
    """The file cannot be read any further; the fault says why."""

    def __init__(self, line: int, what: str, expected: str, nearest: str = ""):
        super().__init__(what)
        self.line, self.what, self.expected, self.nearest = line, what, expected, nearest


def read_hourly(path: Path, shown: str) -> tuple[float, ...]:
    """Outdoor dry-bulb temperature in kelvins, hour by hour from the first of January. Raises Faults, places named by `shown`."""
    size = path.stat().st_size
    if size > MAX_BYTES:
        raise Faults([Fault(shown, 0, f"is {size / 1e6:.1f} MB", f"at most {MAX_BYTES / 1e6:.0f} MB for the hours of one year")])
    return _hours(path.read_bytes(), shown)


@lru_cache(maxsize=4)  # from one save of a project to the next its weather is mostly the same
def _hours(raw: bytes, shown: str) -> tuple[float, ...]:
    try:
        lines = _lines(raw)
        rows, kind = (_epw_rows(lines), "EPW") if lines[0].startswith("LOCATION,") else (_tmy3_rows(lines), "TMY3")
        _check_year(rows)
    except _Unreadable as trouble:
        raise Faults([Fault(shown, trouble.line, trouble.what, trouble.expected, trouble.nearest)]) from None
    temperatures, faults = _temperatures(rows, MISSING[kind], shown)
    if faults:
        raise Faults(faults)
    return tuple(celsius + ICE_POINT for celsius in temperatures)


def _lines(raw: bytes) -> list[str]:
    if b"\0" in raw:
        raise _Unreadable(raw.count(b"\n", 0, raw.index(b"\0")) + 1, "is not text", FORMATS)
    lines = raw.decode("latin-1").removeprefix("\xef\xbb\xbf").splitlines()  # names of places are the only letters beyond ASCII
    if not lines:
        raise _Unreadable(0, "is empty", FORMATS)
    return lines


def _epw_rows(lines: list[str]) -> list[_Row]:
    head = next((number for number, line in enumerate(islice(lines, 20), start=1) if line.startswith("DATA PERIODS,")), 0)
    if not head:
        raise _Unreadable(1, "an EPW file without the line DATA PERIODS", "eight lines of header, the last one DATA PERIODS")
    periods = [field.strip() for field in lines[head - 1].split(",")]
    if periods[1:3] != ["1", "1"]:
        raise _Unreadable(head, f"holds {' periods with '.join(periods[1:3])} records an hour", "one period with one record an hour")
    return [_epw_row(number, line) for number, line in enumerate(lines[head:], start=head + 1) if line.strip()]


def _epw_row(number: int, line: str) -> _Row:
    fields = line.split(",", EPW_DRY_BULB + 1)
    if len(fields) <= EPW_DRY_BULB:
        raise _Unreadable(number, f"a row of {len(fields)} fields", f"dry-bulb temperature as field {EPW_DRY_BULB + 1}")
    return _Row(number, _time(number, *fields[1:4]), fields[EPW_DRY_BULB])


def _tmy3_rows(lines: list[str]) -> list[_Row]:
    names = [name.strip() for name in "".join(lines[1:2]).split(",")]
    if TMY3_COLUMNS[0] not in names:
        raise _Unreadable(1, "is neither an EPW nor a TMY3 file", FORMATS)
    for column in TMY3_COLUMNS:
        if column not in names:
            near = next((name for name in names if name.startswith("Dry-bulb")), nearest_name(column, names))
            raise _Unreadable(2, f"has no column '{column}'", "temperatures in degrees Celsius" if near.startswith("Dry-bulb") else "the columns of TMY3", near)
    date, time, dry_bulb = (names.index(column) for column in TMY3_COLUMNS)
    return [_tmy3_row(number, line.split(","), date, time, dry_bulb) for number, line in enumerate(lines[2:], start=3) if line.strip()]


def _tmy3_row(number: int, fields: list[str], date: int, time: int, dry_bulb: int) -> _Row:
    if len(fields) <= max(date, time, dry_bulb):
        raise _Unreadable(number, f"a row of {len(fields)} fields", "as many as the line of column names")
    month, day, _ = f"{fields[date]}//".split("/", 2)
    return _Row(number, _time(number, month, day, fields[time].partition(":")[0]), fields[dry_bulb])


def _time(number: int, month: str, day: str, hour: str) -> tuple[int, int, int]:
    """Month, day and hour of a row."""
    try:
        return int(month), int(day), int(hour)
    except ValueError:
        raise _Unreadable(number, f"no date and hour can be read from '{month}', '{day}', '{hour}'", "month, day and hour as numbers") from None


def _check_year(rows: list[_Row]) -> None:
    """Every hour of a year without a leap day, once and in order."""
    if leap := next((row for row in rows if row.time[:2] == (2, 29)), None):
        raise _Unreadable(leap.line, "the year has a 29 February", f"a year of {HOURS} hours, without the leap day")
    wanted = ((month, day, hour) for month, days in enumerate(DAYS, start=1) for day in range(1, days + 1) for hour in range(1, 25))
    for row, time in zip(rows, wanted):
        if row.time != time:
            raise _Unreadable(row.line, f"the hours have a gap or a repeat: {_spoken(*row.time)}", _spoken(*time))
    if len(rows) != HOURS:
        raise _Unreadable(rows[-1].line if rows else 0, f"holds {len(rows)} hours", f"{HOURS}, the hours of a year")


def _spoken(month: int, day: int, hour: int) -> str:
    return f"month {month}, day {day}, hour {hour}"


def _temperatures(rows: list[_Row], missing: float, shown: str) -> tuple[list[float], list[Fault]]:
    found, faults, before = [], [], None
    for row in rows:
        celsius, trouble = _celsius(row, missing, before)
        if trouble:
            faults.append(Fault(shown, row.line, *trouble))
        before = celsius
        found.append(celsius)
    if len(faults) > MAX_TOLD:
        more = Fault(shown, faults[MAX_TOLD].line, f"{len(faults) - MAX_TOLD} more rows are wrong from here on", faults[MAX_TOLD].expected)
        faults = [*faults[:MAX_TOLD], more]
    return found, faults


def _celsius(row: _Row, missing: float, before: float | None) -> tuple[float | None, tuple]:
    """The temperature of a row, None when there is none; and what is wrong with it, what was expected, what is nearest."""
    try:
        celsius = float(row.text)
    except ValueError:
        celsius = nan
    if not isfinite(celsius):
        return None, (f"temperature '{row.text.strip()}' is not a number", "degrees Celsius")
    if celsius == missing:
        return None, (f"the hour has no temperature ({row.text.strip()} stands for missing)", "a temperature in every hour")
    if not LOW <= celsius <= HIGH:
        return None, (f"temperature {celsius:g} °C is beyond the records of the Earth", "degrees Celsius",
                      f"{celsius:g} °F is {(celsius - 32) / 1.8:.1f} °C")
    if before is not None and abs(celsius - before) > MAX_STEP:
        return celsius, (f"temperature jumps from {before:g} to {celsius:g} within an hour", "degrees Celsius in every row, Fahrenheit in none")
    return celsius, ()
