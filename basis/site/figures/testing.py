"""Figures of exercise and tests: the year as a strip of months, and the steps of the yearly run against the rating."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure
from basis.site.month_strip import month_strip, rows_of


@figure("test_year", title="The year of tests, month by month", terms=("test_month_count",))
def test_year(book):
    """One row a test, one column a month. A mark is a month in which each set goes through it, with the number of times if it is more than one. What comes less
    than once a year stands in the month of the year that has it."""
    return month_strip(book["test_month_count"].items[1], rows_of("Tests", book, "test_month_count"))


@figure("test_steps", title="Steps of the yearly run against the rating", terms=("bank_step_load", "bank_step_time", "set_rated_power"))
def test_steps(book):
    """Load of the set over the minutes of the run; the line across is its rated power."""
    drawn, axes = tools.new_axes(5.6, 3.0)
    minutes, load = tools.numbers(book["bank_step_time"]), tools.numbers(book["bank_step_load"])
    if len(load):
        axes.stairs(load, np.concatenate(([0.0], np.cumsum(minutes))), color=tools.INK, linewidth=1.8)
    tools.limit_line(axes, float(tools.numbers(book["set_rated_power"])), f"rated {tools.told(book['set_rated_power'])}")
    axes.set_xlim(left=0)
    axes.set_ylim(0, 1.15 * float(tools.numbers(book["set_rated_power"])))
    drawn.subplots_adjust(bottom=0.18)
    tools.name_axes(axes, x=tools.axis_name(book["bank_step_time"], "Time"), y=tools.axis_name(book["bank_step_load"], "Load of the set"))
    return drawn
