"""Figure of the exhaust: the ladder of back-pressure, one bar a candidate diameter."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure

# Drop, its name, and the number of its hatch: without the dotted one, which is a hundred times as large in a file.
STEPS = (("silencer_drop", "silencer", 0), ("exhaust_pipe_drop", "straight pipe", 1), ("exhaust_fitting_drop", "bends and fittings", 3),
         ("exhaust_outlet_drop", "outlet", 5))
ROW = 0.38       # inches a bar
MARGINS = 1.35   # inches above and below the bars


@figure("back_pressure_ladder", title="Back-pressure by diameter of the exhaust pipe",
        terms=("exhaust_bore", "exhaust_velocity", "silencer_drop", "exhaust_pipe_drop", "exhaust_fitting_drop", "exhaust_outlet_drop",
               "exhaust_back_pressure"))
def back_pressure_ladder(book):
    """One bar a candidate size, made of the drops that its pipe has; the size chosen says so. The upright line is
    the limit of the engine's maker, where it is given, and the text at the end of a bar is the velocity of the gas."""
    items, chosen = book.items["exhaust_size"], book["exhaust_size_chosen"].number
    names = [book.names["exhaust_size"][item] + (", chosen" if item == chosen else "") for item in items]
    height = MARGINS + ROW * len(items)
    drawn, axes = tools.new_axes(5.6, height)
    drawn.subplots_adjust(top=1 - 0.65 / height, bottom=0.55 / height)
    sums = np.zeros(len(items))
    for name, label, number in STEPS:
        drops = np.broadcast_to(tools.numbers(book[name]), len(items))
        if drops.any():
            tools.bars(axes, names, drops, number, left=sums)
            axes.containers[-1].set_label(label)
            sums = sums + drops
    reach, limit = float(np.max(sums)), None
    if "exhaust_back_pressure_max" in book:
        limit = float(tools.numbers(book["exhaust_back_pressure_max"]))
        tools.limit_line(axes, limit, "limit", upright=True)
        reach = max(limit, reach)
    axes.set_xlim(0, 1.2 * reach)
    for place, item in enumerate(items):
        tools.write_at_bar(axes, 0.0, sums[place], place, tools.told(book["exhaust_velocity"].element(item)), limit)
    tools.name_axes(axes, x=tools.axis_name(book["exhaust_back_pressure"]))
    tools.legend(axes, ncols=2)
    return drawn
