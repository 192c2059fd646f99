"""Figures of upkeep: the year of tasks month by month, and the hours of a set against the overhauls."""
from __future__ import annotations

import numpy as np
from matplotlib.ticker import NullLocator

from basis.language.words import item_words
from basis.site import figure as tools
from basis.site.figure import ALERT, INK, PAPER, figure
from basis.site.month_strip import month_strip, rows_of

PLACES = ((0.0, "left"), (0.5, "center"), (1.0, "right"))  # of the names of limits that lie close together: place along the axis, alignment


@figure("upkeep_year", title="The year of upkeep and tests, month by month", terms=("task_month_count", "upkeep_months_closed"), also=("test_month_count",))
def upkeep_year(book):
    """One row a task of upkeep, below them one a test where the book has tests, one column a month of the twelve that follow the status date, or commissioning
    if that is still to come. A mark is a month in which the task is due or the test is run, with the number of times if it is more than one; what is
    done with a larger task has no mark of its own. Hatched columns are months in which no set is taken out."""
    kinds = rows_of("Upkeep", book, "task_month_count") + rows_of("Tests", book, "test_month_count")
    return month_strip(book["task_month_count"].items[1], kinds, np.asarray(book["upkeep_months_closed"].number))


@figure("overhaul_hours", title="Hours of a set against its overhauls",
        terms=("overhaul_stage_date", "overhaul_stage_hours", "overhaul_stage_years", "upkeep_hours_yearly", "hours_run", "life_left"))
def overhaul_hours(book):
    """The line is the reading of the hour meter over the years from the status date, or from commissioning if that is later. Level lines are the hours of the
    overhauls; the marks on the line are the days on which each is due, by hours or by age. The scale of hours is of powers of ten."""
    stages = book["overhaul_stage_hours"].items[0]
    hours, years = (np.asarray(tools.numbers(book[name])) for name in ("overhaul_stage_hours", "overhaul_stage_years"))
    run, yearly = (float(tools.numbers(book[name])) for name in ("hours_run", "upkeep_hours_yearly"))
    last = max(1.0, 1.1 * float(np.max(years)), float(tools.numbers(book["life_left"])))
    drawn, axes = tools.new_axes(5.4, 3.4)
    along = np.linspace(0, last, 200)
    axes.set_yscale("log")
    axes.plot(along, np.maximum(run + yearly * along, 1.0), color=INK, linestyle="-")
    for number, (stage, height, year) in enumerate(zip(stages, hours, years)):
        axes.axhline(height, color=ALERT, linewidth=1.2, linestyle=(0, (5, 2)))
        name, (at, side) = item_words(stage), PLACES[number % len(PLACES)]
        axes.annotate(f"{name} {tools.told(book['overhaul_stage_hours'].element(stage))}", (at, height), xycoords=("axes fraction", "data"), xytext=(0, 1),
                      textcoords="offset points", color=ALERT, ha=side, fontsize=8,
                      bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.5})
        axes.plot([year], [max(run + yearly * year, 1.0)], label=name, **{**tools.series(number), "linestyle": "none", "markersize": 7})
    low, high = (int(edge(np.log10([max(1.0, run + yearly * 0.01), 3 * np.max(hours)]))) for edge in (np.min, np.max))
    axes.set_xlim(0, last)
    axes.set_ylim(10 ** low, 3 * float(np.max(hours)))
    tools.marks(axes.yaxis, [10 ** power for power in range(low, high + 1)], [tools.grouped(10 ** power) for power in range(low, high + 1)])
    axes.yaxis.set_minor_locator(NullLocator())
    tools.name_axes(axes, x=tools.axis_name(book["overhaul_stage_years"], "Ahead"), y=tools.axis_name(book["overhaul_stage_hours"], "Hour meter"))
    tools.legend(axes)
    return drawn
