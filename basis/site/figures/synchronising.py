"""Figure of sharing: the droop lines of the sets, and where they meet."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import FAINT, figure


@figure("droop_lines", title="Droop lines of the sets at the demand",
        terms=("sharing_no_load_frequency", "sharing_droop", "sharing_rated_power", "sharing_stiffness", "sharing_circulating_power", "droop_power",
               "sharing_frequency"))
def droop_lines(book):
    """One line for each set, from its no-load frequency down to that at rated power. The dashed line is the one frequency at which the
    marked powers add up to the demand. Lines that do not lie on each other put more load on the upper one."""
    drawn, axes = tools.new_axes(5.6, 3.0)
    drawn.subplots_adjust(right=0.78, bottom=0.17, top=0.97)
    start, stiffness, rated, share = (tools.numbers(book[name]) for name in ("sharing_no_load_frequency", "sharing_stiffness", "sharing_rated_power",
        "droop_power"))
    meeting = float(tools.numbers(book["sharing_frequency"]))
    for place, item in enumerate(book.items["sharing_set"]):
        if np.isnan(start[place]):
            continue
        style = tools.series(place) | {"marker": None}
        axes.plot([0, rated[place]], [start[place], start[place] - rated[place] / stiffness[place]], label=book.names["sharing_set"][item], **style)
        axes.plot([share[place]], [meeting], linestyle="none", markersize=7, marker=tools.MARKERS[place % len(tools.MARKERS)], color=style["color"])
    axes.axhline(meeting, color=FAINT, linewidth=1.2, linestyle=(0, (5, 2)))
    axes.annotate(f"{tools.told(book['sharing_frequency'])} at {tools.told(book['demand_power'])}", (1.0, meeting), xycoords=("axes fraction", "data"),
                  xytext=(-2, 4), textcoords="offset points", ha="right")
    axes.set_xlim(min(0.0, 1.1 * float(np.nanmin(share))), 1.05 * float(np.nanmax(rated)))
    tools.name_axes(axes, x=tools.axis_name(book["sharing_rated_power"], "Power of the set"), y=tools.axis_name(book["sharing_frequency"]))
    tools.legend(axes, loc="center left", bbox_to_anchor=(1.0, 0.5), ncols=1)
    return drawn
