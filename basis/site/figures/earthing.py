"""Figure of earthing: the currents that meet in the neutral, on one scale."""
from __future__ import annotations

from matplotlib.ticker import FixedLocator, FuncFormatter, NullLocator

from basis.site import figure as tools
from basis.site.figure import figure

# Term, what the bar is called; those that run over the running cases are drawn for the fullest running case.
BARS = (("three_phase_terminal_current", "three-phase fault"), ("solid_earth_fault_current", "earth fault, nothing in the neutral"),
        ("earth_fault_current", "earth fault as designed"), ("earth_relay_pickup", "setting of the relay"), ("charging_current", "charging current"))
ROW, MARGINS = 0.36, 0.75  # inches a bar, and above and below


@figure("earth_currents", title="Currents of an earth fault", terms=("running_sets", "three_phase_terminal_current", "solid_earth_fault_current",
    "earth_fault_current"))
def earth_currents(book):
    """One bar a current, in decades, for the fullest running case: the three-phase fault for which windings are braced, the earth fault that
    nothing in the neutral holds back, the one that remains as designed, the setting of the relay that must see it, and the charging
    current that it must at least match. What the project has not given is left out."""
    most = int(book["running_sets"].number.argmax())
    shown = [(book[name], label) for name, label in BARS if name in book]
    values = [(value.element(value.items[0][most]) if value.axes else value, label) for value, label in shown]
    values = [(value, label) for value, label in values if value.number > 0]
    height = MARGINS + ROW * len(values)
    drawn, axes = tools.new_axes(5.8, height)
    axes.set_xscale("log")
    currents = [float(tools.numbers(value)) for value, _ in values]
    low, high = min(currents), max(currents)
    tools.bars(axes, [label for _, label in values], currents)
    for place, (value, _) in enumerate(values):
        axes.annotate(tools.told(value), (currents[place], place), xytext=(3, 0), textcoords="offset points", va="center")
    marks = [10.0**power for power in range(-3, 7) if low / 10 <= 10.0**power <= high * 10]
    axes.set_xlim(low / 3, high * 12)
    axes.xaxis.set_major_locator(FixedLocator(marks))
    axes.xaxis.set_major_formatter(FuncFormatter(lambda mark, _: f"{mark:g}"))
    axes.xaxis.set_minor_locator(NullLocator())
    drawn.subplots_adjust(top=0.97, bottom=0.5 / height)
    tools.name_axes(axes, x=f"Current, {tools.unit_of(book['earth_fault_current'])}")
    return drawn
