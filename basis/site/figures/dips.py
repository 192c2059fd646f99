"""Figures of the load steps and motor starts: voltage in time and frequency in time, a part for each that is listed."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure

PANEL, MARGINS = 1.75, 0.75  # inches a panel, and above and below all of them
SHOWN = 3.0                 # seconds drawn; the numbers go on


@figure("voltage_dips", title="Voltage after load comes on at once", terms=("step_voltage", "start_voltage"))
def voltage_dips(book):
    """Bus voltage over time, one line for each load step; motor starts, where any are listed, have a part of their own. All start at the foot of
    the first fall, sink a little as the field decays, and come back as the exciter forces it. The dashed line is the dip allowed."""
    return _panels(book, "voltage_dip_max", lambda dip: 1 - dip, (("step_voltage", "load_step"), ("start_voltage", "motor")))


@figure("frequency_dips", title="Frequency after load comes on at once", terms=("step_frequency", "start_frequency"))
def frequency_dips(book):
    """Frequency over time, one line for each load step; motor starts, where any are listed, have a part of their own. It falls in a straight line
    until the fuel answers, then as far as boost is missing, and comes back with the governor. The dashed line is the dip allowed."""
    rated = float(book["power_frequency"].number)
    return _panels(book, "frequency_dip_max", lambda dip: rated * (1 - dip), (("step_frequency", "load_step"), ("start_frequency", "motor")))


def _panels(book, limit: str, line, traces):
    """One panel a trace that has items, with the limit where the project has one."""
    drawn_traces = [(book[name], axis) for name, axis in traces if book.items[axis]]
    count = max(len(drawn_traces), 1)
    height = MARGINS + PANEL * count
    drawn, axes = tools.new_axes(5.8, height, rows=count, squeeze=False)
    drawn.subplots_adjust(left=0.12, right=0.7, top=1 - 0.12 / height, bottom=0.5 / height, hspace=0.3)
    for panel, (value, axis) in zip(axes[:, 0], drawn_traces):
        _traces(panel, book, value, axis)
        if limit in book:
            tools.limit_line(panel, tools.units.from_si(line(float(book[limit].number)), value.term.si_unit), f"allowed {tools.told(book[limit])}")
        tools.name_axes(panel, y=tools.axis_name(value))
        panel.set_xlim(0, SHOWN)
    tools.name_axes(axes[-1, 0], x=tools.axis_name(book["dip_elapsed"]), y=axes[-1, 0].get_ylabel())
    return drawn


def _traces(panel, book, value, axis: str) -> None:
    """One line an item, its marker set apart from that of the others so that lines on top of each other can be told."""
    times, courses = tools.numbers(book["dip_elapsed"]), tools.numbers(value)
    for place, item in enumerate(book.items[axis]):
        if not np.all(np.isnan(courses[place])):
            panel.plot(times, courses[place], label=book.names[axis][item], markevery=(place, 6), **tools.series(place))
    tools.legend(panel, loc="center left", bbox_to_anchor=(1.0, 0.5), ncols=1)
