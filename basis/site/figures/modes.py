"""Figures of running modes: hours by mode against the limits of the rule, and what is left of the income as more hours are called."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure

HOURS = (("mode_counted_hours", "counted_hours_max"), ("mode_other_hours", "other_hours_max"), ("mode_paid_hours", "peak_shaving_hours_max"))
REACH = 2.2  # largest limits shown: longer bars are cut there


@figure("mode_hours", title="Hours of each mode against the rule", terms=tuple(hours for hours, _ in HOURS), also=tuple(most for _, most in HOURS))
def mode_hours(book):
    """One panel for each kind of hours, one bar for each mode; the upright line is the limit of the rule for this kind, where it has one. Bars that go far
    beyond it are cut at the edge."""
    names = [book.names["running_mode"][mode] for mode in book.items["running_mode"]]
    height = 0.9 + len(HOURS) * (0.5 + 0.28 * len(names))
    drawn, panels = tools.new_axes(5.6, height, len(HOURS), 1)
    drawn.subplots_adjust(hspace=0.5, bottom=0.5 / height, top=1 - 0.35 / height)
    limits = [float(tools.numbers(book[limit])) if limit in book.values else np.nan for _, limit in HOURS]
    edge = REACH * max(1.0, *(limit for limit in limits if np.isfinite(limit)))
    for number, (panel, (hours, limit), most) in enumerate(zip(panels, HOURS, limits, strict=True)):
        tools.bars(panel, names, np.minimum(tools.numbers(book[hours]), edge), number=number)
        if np.isfinite(most):
            tools.limit_line(panel, most, "", upright=True)
        allowed = f"; allowed {tools.told(book[limit])}" if np.isfinite(most) else ""
        panel.set_title(f"{book[hours].term.name}{allowed}", fontsize=9, loc="left")
        panel.set_xlim(-0.01 * edge, edge)
        panel.tick_params(axis="x", labelbottom=number == len(HOURS) - 1)
    tools.name_axes(panels[-1], x=tools.axis_name(book[HOURS[0][0]], "Hours of one set in a year"))
    return drawn


@figure("mode_income", title="What is left as more hours are called",
        terms=("tried_income", "tried_running_cost", "called_time_tried", "mode_standing_income", "mode_break_even_hours"))
def mode_income(book):
    """Two lines for each mode of called days or peak shaving: what is left of the income of a year, falling as more hours are run, and the cost of that
    running, rising, with hollow marks. They start at the income before running and at nought. Black points are the break-even, where nothing is left, as
    far as it lies among the hours tried."""
    drawn, axes = tools.new_axes(5.6, 3.4)
    drawn.subplots_adjust(bottom=0.16, top=0.84)
    tried = tools.numbers(book["called_time_tried"])
    left, cost = (tools.numbers(book[name]) for name in ("tried_income", "tried_running_cost"))
    even = tools.numbers(book["mode_break_even_hours"])
    shown = np.flatnonzero(np.isfinite(left).any(axis=1))
    for place, number in enumerate(shown):
        name = book.names["running_mode"][book.items["running_mode"][number]]
        look = tools.series(place)
        axes.plot(tried, left[number], label=name, **look)
        axes.plot(tried, cost[number], **{**look, "markerfacecolor": tools.PAPER, "linestyle": ":"}, label=f"{name}, cost of running")
    reached = [hours for hours in even[shown] if np.isfinite(hours) and hours <= tried[-1]]
    if reached:
        axes.plot(reached, np.zeros(len(reached)), marker="o", markersize=6, color=tools.INK, linestyle="none", zorder=5, label="break-even")
    tools.group_thousands(axes.yaxis)
    axes.axhline(0, color=tools.INK, linewidth=0.8)
    axes.set_xlim(0, tried[-1])
    tools.name_axes(axes, x=tools.axis_name(book["called_time_tried"], "Hours called in a year"), y=tools.axis_name(book["tried_income"], "In a year"))
    tools.legend(axes, ncols=2)
    return drawn
