"""Figures of exercise and tests: the year as a strip of months, and the steps of the yearly run against the rating."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure

MONTHS = "JFMAMJJASOND"
SHOWN = 52  # runs of one test in a year that a strip can tell apart


@figure("test_year", title="A year of tests", terms=("test_times_yearly", "test_first_month"))
def test_year(book):
    """One row for each test, one mark for each run of a set, evenly spread from the first month on."""
    names = [book.names["plant_test"][test] for test in book.items["plant_test"]]
    drawn, axes = tools.new_axes(5.6, 0.9 + 0.35 * max(1, len(names)))
    times, first = (tools.numbers(book[name]) for name in ("test_times_yearly", "test_first_month"))
    for row, (often, month) in enumerate(zip(times, first, strict=True)):
        runs = max(1, min(SHOWN, round(float(often))))
        places = (month - 0.5 + np.arange(runs) * 12 / runs) % 12
        axes.plot(places, np.full(runs, row), **{**tools.series(row), "linestyle": "", "marker": "s"})
    axes.set_yticks(range(len(names)), names)
    axes.set_ylim(len(names) - 0.5, -0.5)
    axes.set_xticks(np.arange(12) + 0.5, MONTHS)
    axes.set_xlim(0, 12)
    drawn.subplots_adjust(left=0.36, bottom=0.35 / (0.9 + 0.35 * max(1, len(names))) + 0.08)
    tools.name_axes(axes, x="Month of the year", y="")
    return drawn


@figure("test_steps", title="Steps of the yearly run against the rating", terms=("bank_step_load", "bank_step_time", "set_rated_power"))
def test_steps(book):
    """Load of the set over the minutes of the run; the line across is its rated power."""
    drawn, axes = tools.new_axes(5.6, 3.0)
    minutes, load = tools.numbers(book["bank_step_time"]), tools.numbers(book["bank_step_load"])
    if len(load):
        axes.stairs(load, np.concatenate(([0.0], np.cumsum(minutes))), color=tools.INK, linewidth=1.8)
    tools.limit_line(axes, float(tools.numbers(book["set_rated_power"])), f"rated {book['set_rated_power'].text()}")
    axes.set_ylim(0, 1.15 * float(tools.numbers(book["set_rated_power"])))
    drawn.subplots_adjust(bottom=0.18)
    tools.name_axes(axes, x=tools.axis_name(book["bank_step_time"], "Time"), y=tools.axis_name(book["bank_step_load"], "Load of the set"))
    return drawn
