"""Figures of controls and signals: what each way of wiring keeps when the network is lost, and the cores that it takes."""
from __future__ import annotations

from basis.site import figure as tools
from basis.site.figure import figure


def _names(value) -> list[str]:
    return [item.replace("_", " ") for item in value.items[0]]


@figure("circuits_kept", title="What works on without the network", terms=("way_kept_points", "way_unwired_protection"))
def circuits_kept(book):
    """One bar a way of wiring: circuits that work on when the network is lost, against all circuits of the plant."""
    value, every = book["way_kept_points"], book["plant_points"]
    drawn, axes = tools.new_axes(5.4, 2.0)
    drawn.subplots_adjust(bottom=0.26)
    tools.bars(axes, _names(value), tools.numbers(value))
    tools.limit_line(axes, tools.numbers(every), f"all {tools.told(every)}", upright=True)
    axes.set_xlim(0, 1.25 * max(tools.numbers(every), 1.0))
    tools.name_axes(axes, x=tools.axis_name(value))
    return drawn


@figure("cores_by_way", title="Cores to be pulled and connected", terms=("way_cores", "way_conduits"))
def cores_by_way(book):
    """One bar a way of wiring: cores of all runs with their spares. Each has two ends to be stripped, marked and rung out."""
    value = book["way_cores"]
    drawn, axes = tools.new_axes(5.4, 2.0)
    drawn.subplots_adjust(bottom=0.26)
    tools.bars(axes, _names(value), tools.numbers(value), number=1)
    tools.name_axes(axes, x=tools.axis_name(value))
    return drawn
