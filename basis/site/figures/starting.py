"""Figure of starting: how far the pressure in the receivers falls with each start."""
from __future__ import annotations

from basis.site import figure as tools
from basis.site.figure import figure


@figure("receiver_pressure", title="Pressure in the receivers, start by start",
        terms=("air_start_number", "receiver_pressure_isothermal", "receiver_pressure_isentropic", "receiver_pressure_min", "receiver_pressure_max"))
def receiver_pressure(book):
    """Gauge pressure after each start, from full receivers: with long rests, when the air warms up again, and one start after the other,
    when it cools. Below the dashed line the engine is no longer turned fast enough."""
    drawn, axes = tools.new_axes(5.4, 3.0)
    starts = tools.numbers(book["air_start_number"])
    full = float(tools.numbers(book["receiver_pressure_max"]))
    for number, (name, label) in enumerate((("receiver_pressure_isothermal", "with long rests"), ("receiver_pressure_isentropic", "one after the other"))):
        axes.plot([0, *starts], [full, *tools.numbers(book[name])], label=label, **tools.series(number))
    least = float(tools.numbers(book["receiver_pressure_min"]))
    tools.limit_line(axes, least, "")
    axes.annotate("least starting pressure", (0, least), xytext=(0, 4), textcoords="offset points", color=tools.ALERT)
    tools.marks(axes.xaxis, starts, [f"{start:g}" for start in starts])
    axes.set_ylim(bottom=0)
    tools.name_axes(axes, x="Starts", y=f"Gauge pressure, {tools.unit_of(book['receiver_pressure_max'])}")
    tools.legend(axes)
    return drawn
