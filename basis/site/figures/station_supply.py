"""Figure of the station supply: what the auxiliaries take in each mode, one bar a mode, stacked by kind."""
from __future__ import annotations

from matplotlib.patches import Patch

from basis.site import figure as tools
from basis.site.figure import figure

KINDS = ("heater", "charger", "pump", "fan", "lighting", "other")  # heaters of blocks, of the room and others alike


@figure("station_by_mode", title="Station load by mode", terms=("station_power", "station_load_kind", "station_load_demand"))
def station_by_mode(book):
    """One bar a mode: standby, starting, running. Each piece of a bar is one load, with the hatch of its kind; the number at the end is the whole."""
    demand, whole = book["station_load_demand"], book["station_power"]
    modes, loads = book.items["station_mode"], book.items["station_load"]
    kinds = [kind.rpartition("_")[2] for kind in book["station_load_kind"].number]
    kilowatts = tools.numbers(demand)
    ordered = sorted(range(len(loads)), key=lambda place: KINDS.index(kinds[place]))
    drawn, axes = tools.new_axes(5.8, 2.5)
    left = [0.0] * len(modes)
    tools.bars(axes, modes, left)
    for place in ordered:
        axes.barh(range(len(modes)), kilowatts[place], left=left, height=0.62, **tools.filled(KINDS.index(kinds[place])))
        left = [start + float(more) for start, more in zip(left, kilowatts[place])]
    for place, mode in enumerate(modes):
        axes.annotate(tools.told(whole.element(mode)), (left[place], place), xytext=(3, 0), textcoords="offset points", va="center")
    tools.name_axes(axes, x=tools.axis_name(whole))
    axes.set_xlim(0, 1.2 * max(left) or 1.0)
    present = [kind for kind in KINDS if kind in kinds]
    tools.legend(axes, ncols=6, handles=[Patch(label=kind, **tools.filled(KINDS.index(kind))) for kind in present], columnspacing=1.0, handlelength=1.6)
    drawn.subplots_adjust(right=0.97, top=0.84, bottom=0.19)
    return drawn
