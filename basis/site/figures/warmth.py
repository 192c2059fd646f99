"""Figures of standby warmth: the months of each way of heating, and the running cost over the set point."""
from __future__ import annotations

from textwrap import fill

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure

LETTERS = "JFMAMJJASOND"
WAYS_IN_A_ROW, NAME_WIDTH = 2, 36  # panels; characters of a line of their names


@figure("heating_year", title="Heat put in, month by month", terms=("month_block_energy", "month_room_heat"))
def heating_year(book):
    """One panel for each way of heating, all to one scale: energy of the block heaters from the axis up, heat of the room heaters on top of it."""
    ways = book.items["heating_case"]
    block, room = (tools.numbers(book[name]) for name in ("month_block_energy", "month_room_heat"))
    columns = min(len(ways), WAYS_IN_A_ROW)
    rows = -(-len(ways) // columns)
    drawn, axes = tools.new_axes(5.6, 0.7 + 1.55 * rows, rows, columns, squeeze=False)
    drawn.subplots_adjust(hspace=0.55, wspace=0.12, left=0.12, bottom=0.42 / (0.7 + 1.55 * rows), top=1 - 0.6 / (0.7 + 1.55 * rows))
    for number, panel in enumerate(axes.flat):
        if number >= len(ways):
            panel.set_axis_off()
            continue
        _months(panel, block[number], room[number], book.names["heating_case"][ways[number]])
    for row in axes:
        for place, panel in enumerate(row):
            panel.set_ylim(0, 1.05 * float((block + room).max()) or 1.0)  # a plant that needs no heat
            panel.tick_params(axis="y", labelleft=not place)
        row[0].set_ylabel(tools.unit_of(book["month_room_heat"]))
    handles, labels = axes[0, 0].get_legend_handles_labels()
    drawn.legend(handles, labels, loc="upper left", ncols=2, frameon=False)
    return drawn


def _months(axes, block, room, name: str) -> None:
    edges = np.arange(len(block) + 1) - 0.5
    axes.stairs(block, edges, fill=True, label="blocks", **tools.filled(0))
    axes.stairs(block + room, edges, baseline=block, fill=True, label="room heaters", **tools.filled(1))
    tools.marks(axes.xaxis, edges[:-1] + 0.5, LETTERS)
    axes.tick_params(axis="x", labelsize=8)
    axes.grid(False, axis="x")
    axes.set_title(fill(name, NAME_WIDTH), fontsize=8, loc="left")


@figure("set_point_cost", title="Running cost of a year over the set point of the room",
        terms=("set_point_trial", "trial_block_cost", "trial_room_cost", "trial_wear_cost", "trial_running_cost", "trial_heat_total", "set_point_cheapest",
               "heating_cost_least"))
def set_point_cost(book):
    """Above, the running cost, its scale not from nought, with the cheapest of the set points tried. Below, what it is made of: block heat,
    room heat and wear of elements."""
    drawn, (above, below) = tools.new_axes(5.6, 4.2, 2, 1, height_ratios=(1, 1.2))
    drawn.subplots_adjust(hspace=0.32, bottom=0.12, top=0.96, left=0.15)
    tried = tools.numbers(book["set_point_trial"])
    above.plot(tried, tools.numbers(book["trial_running_cost"]), color=tools.INK, linestyle="-", linewidth=2.0)
    tools.point(above, float(tools.numbers(book["set_point_cheapest"])), float(tools.numbers(book["heating_cost_least"])), "least")
    above.margins(y=0.25)
    for axes in (above, below):
        axes.set_xlim(tried[0] - 1.5, tried[-1] + 2.5)
    above.tick_params(axis="x", labelbottom=False)
    for number, (name, label) in enumerate((("trial_block_cost", "block heat"), ("trial_room_cost", "room heat"), ("trial_wear_cost", "wear"))):
        below.plot(tried, tools.numbers(book[name]), label=label, markevery=2, **tools.series(number))
    money = tools.unit_of(book["trial_running_cost"])
    tools.name_axes(above, y=f"Running cost, {money}")
    tools.name_axes(below, x=tools.axis_name(book["set_point_trial"]), y=f"Parts of it, {money}")
    tools.legend(below)
    return drawn
