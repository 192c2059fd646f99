"""Figures of running hours: the ledger of a year against its limit, and which running puts how much into the air."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure

REASONS = ("ledger_test_hours", "ledger_maintenance_hours", "ledger_other_hours", "ledger_peak_shaving_hours", "ledger_emergency_hours")


@figure("hours_ledger", title="Hours of one set in a year", terms=(*REASONS, "counted_hours", "counted_hours_max"))
def hours_ledger(book):
    """One bar for each reason to run, and below them the hours that the rule counts. The upright line is their limit. Hours of emergency
    are drawn like the others, whether the rule counts them or not."""
    values = [book[name] for name in REASONS]
    drawn, axes = tools.new_axes(5.4, 2.7)
    drawn.subplots_adjust(bottom=0.2)
    names = [*(value.term.name for value in values), book["counted_hours"].term.name]
    tools.bars(axes, names, [*(float(tools.numbers(value)) for value in values), 0.0])
    tools.bars(axes, names, [*(0.0 for _ in values), float(tools.numbers(book["counted_hours"]))], number=1)
    limit = book["counted_hours_max"]
    tools.limit_line(axes, tools.numbers(limit), f"allowed {tools.told(limit)}", upright=True)
    axes.set_xlim(0, 1.25 * max(tools.numbers(limit), axes.get_xlim()[1]))
    tools.name_axes(axes, x=tools.axis_name(limit, "Hours in a year"))
    return drawn


@figure("pollutant_shares", title="Which running puts it into the air", terms=("record_pollutant_mass", "record_pollutant_share"))
def pollutant_shares(book):
    """One bar a pollutant, each as long as its whole year; the parts are the reasons for running. Outages are in it, whatever the permit counts."""
    value = book["record_pollutant_share"]
    records, pollutants = value.items
    every = np.asarray(tools.numbers(value), dtype=float)
    kept = [number for number in range(len(pollutants)) if np.nansum(every[:, number]) > 0]
    shares = every[:, kept]
    names = [book.names["pollutant"][pollutants[number]] for number in kept]
    height = 1.1 + 0.34 * len(names)
    drawn, axes = tools.new_axes(5.4, height)
    drawn.subplots_adjust(bottom=0.5 / height, top=1 - 0.5 / height)
    left = np.zeros(len(names))
    for number, record in enumerate(records):
        tools.bars(axes, names, shares[number], number=number, left=left)
        axes.containers[-1].set_label(book.names["running_record"][record])
        left = left + shares[number]
    axes.set_xlim(0, np.max(left, initial=1.0))
    tools.name_axes(axes, x=tools.axis_name(value, "Share of a year's mass"))
    tools.legend(axes, ncols=3)
    return drawn
