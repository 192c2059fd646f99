"""Figures of life-cycle cost: what each way has paid by each year, and what the cost of the chosen way hangs on."""
from __future__ import annotations

from textwrap import fill

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure

NAME_WIDTH = 34  # characters of a line of a name


@figure("cash_flow", title="Paid by the end of each year", terms=("cost_flow", "cost_year_number", "cost_last_year"))
def cash_flow(book):
    """One line a way: all that is paid less all that is received from the first day on, without interest. A step up is an overhaul or a replacement;
    a step down at the end is what the plant still fetches."""
    last = int(tools.numbers(book["cost_last_year"])) + 1
    years = tools.numbers(book["cost_year_number"])[:last]
    paid = np.cumsum(tools.numbers(book["cost_flow"])[:, :last], axis=1)
    names = [fill(book.names["cost_case"][one], NAME_WIDTH) for one in book.items["cost_case"]]
    height = 2.9 + 0.2 * sum(name.count("\n") + 1 for name in names)
    drawn, axes = tools.new_axes(5.6, height)
    drawn.subplots_adjust(left=0.2, bottom=0.5 / height, top=2.75 / height)
    for number, (name, line) in enumerate(zip(names, paid, strict=True)):
        axes.plot(years, line, label=name, markevery=5, **tools.series(number))
    axes.set_ylim(min(0, axes.get_ylim()[0]), None)
    tools.group_thousands(axes.yaxis)
    tools.name_axes(axes, x="Years from commissioning", y=f"Paid, {tools.unit_of(book['cost_flow'])}")
    tools.legend(axes, ncols=1)
    return drawn


@figure("cost_tornado", title="What the cost of the chosen way hangs on", terms=("bar_held_low", "bar_held_high", "bar_width", "cost_held"))
def cost_tornado(book):
    """One bar for each uncertain figure, the longest on top: plain from the cost as planned to that of its low end, hatched to that of its high end.
    The scale does not start at nought; the upright line is the cost as planned."""
    low, high, width = (tools.numbers(book[name]) for name in ("bar_held_low", "bar_held_high", "bar_width"))
    order = np.argsort(-width, kind="stable")
    planned = float(tools.numbers(book["cost_held"]))
    bars = book.items["cost_bar"]
    names = [book.names["cost_bar"][bars[place]] for place in order]
    height = 1.25 + 0.34 * len(names)
    drawn, axes = tools.new_axes(5.6, height)
    drawn.subplots_adjust(bottom=0.5 / height, top=1 - 0.62 / height)
    for number, (label, ends) in enumerate((("low end", low), ("high end", high))):
        tools.bars(axes, names, ends[order] - planned, number=number, left=planned)
        axes.containers[-1].set_label(label)
    tools.limit_line(axes, planned, f"as planned {tools.told(book['cost_held'])}", upright=True)
    axes.margins(x=0.06)
    tools.group_thousands(axes.xaxis)
    tools.name_axes(axes, x=tools.axis_name(book["cost_held"]).split(",")[0] + f", {tools.unit_of(book['cost_held'])}")
    tools.legend(axes, ncols=2)
    return drawn
