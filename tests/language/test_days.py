"""Dates: typed as days, computed with in seconds, shown as days. Days between dates are counted by hand on a calendar."""

import numpy as np
import pytest

from basis.language import maths, units
from basis.language.days import DAY_SECONDS, date_of, day_text, month_of, months_later, seconds_of
from basis.language.formula import FormulaError
from basis.language.terms import Term
from basis.solving.value import Value

DUE = Term("due_day", "d", "s", "Due", "", shown=("date",), kind="date")
KNOWN = {"due_day": DUE, "other_day": DUE, "wait": Term("wait", "t", "s", "Wait", ""), "heat": Term("heat", "T", "K", "Heat", "", kind="temperature")}


@pytest.mark.parametrize("first, second, days", [
    ("2025-09-01", "2038-11-12", 4820),  # 13 years less 293 days with three leap days between: 482 h at 0.1 h a day
    ("2024-02-28", "2024-03-01", 2),  # a leap year
    ("2023-02-28", "2023-03-01", 1),
    ("1999-12-31", "2000-01-01", 1)])
def test_days_between_dates(first, second, days):
    assert seconds_of(second) - seconds_of(first) == days * 86400 and DAY_SECONDS == 86400
    assert day_text(seconds_of(first) + days * 86400) == second and day_text(seconds_of(first) + 86399) == first


def test_an_evening_belongs_to_its_day():
    evening = seconds_of("2026-01-31") + 0.9 * DAY_SECONDS
    assert date_of(evening).isoformat() == day_text(evening) == "2026-01-31" and month_of(evening) == 0
    assert day_text(months_later(evening, 1)) == "2026-02-28"


@pytest.mark.parametrize("text", ["2026-02-29", "2026-13-01", "soon", "2026-1-1", ""])
def test_what_is_no_day(text):
    with pytest.raises(ValueError):
        seconds_of(text)


def test_a_day_is_read_and_refused_in_words():
    assert units.to_si(*units.split_number("2026-03-31"), "s", "date") == seconds_of("2026-03-31")
    for text, kind, what in (("12 h", "date", "12 h is no day"), ("3", "date", "3 is no day"), ("2026-03-31", "", "2026-03-31 is a day")):
        with pytest.raises(units.UnitError, match=what):
            units.to_si(*units.split_number(text), "s", kind)


def meaning(text):
    import ast

    return maths.dimension_of(ast.parse(text, mode="eval").body, KNOWN)


def test_dates_lie_on_a_scale_without_a_nought():
    assert meaning("due_day + wait").kind == "date" and meaning("due_day - other_day").kind == "" and meaning("due_day - wait").kind == "date"
    assert meaning("due_day * 2").kind == "" and meaning("max(due_day, other_day)").kind == "date"
    for wrong in ("due_day + other_day", "wait - due_day", "due_day + heat"):
        with pytest.raises(FormulaError):
            meaning(wrong)


def test_dates_are_shown_as_days():
    value = Value("due_day", DUE, np.float64(seconds_of("2026-03-31")), "formula")
    assert value.text() == value.text("us") == "2026-03-31" and not value.two_systems
    assert DUE.range_text == "1900-01-01 to 2199-12-31"
