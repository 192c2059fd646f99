"""Figures of reliability: failure by the number of sets, the fault tree, and what one more of each buys."""
from __future__ import annotations

import numpy as np

from basis.language import units
from basis.site import figure as tools
from basis.site.figure import figure

LEAST = 1e-12  # chance below which nothing is drawn


@figure("failure_by_sets", title="Too few sets, by the number of sets", terms=("number_failure", "number_failure_independent", "number_of_sets"))
def failure_by_sets(book):
    """Chance that too few sets carry the mission, on a scale of powers of ten, over the number of sets. One line with causes that sets share, one as
    if there were none: the gap is what further sets cannot mend."""
    sets = tools.numbers(book["number_of_sets"])
    drawn, axes = tools.new_axes(5.0, 3.0)
    drawn.subplots_adjust(left=0.17, top=0.84)
    for number, (name, said) in enumerate((("number_failure", "with shared causes"), ("number_failure_independent", "each for itself"))):
        axes.plot(sets, np.log10(np.maximum(tools.numbers(book[name]), LEAST)), label=said, **tools.series(number))
    low, high = (int(edge(each)) for edge, each in zip((np.floor, np.ceil), axes.get_ylim()))
    tools.marks(axes.yaxis, range(low, high + 1), [units.format_si(10.0 ** power, "1", 1) for power in range(low, high + 1)])
    axes.set_ylim(low, high)
    axes.set_xlim(sets[0] - 0.3, sets[-1] + 0.3)
    tools.marks(axes.xaxis, sets, [f"{each:.0f}" for each in sets])
    tools.name_axes(axes, x="Sets", y="Chance of too few")
    tools.legend(axes)
    return drawn


@figure("one_more", title="What one more of each buys", terms=("event_pair_gain",))
def one_more(book):
    """One bar an event: how much the chance of the mission rises with one more of this. The longest bars come first."""
    value = book["event_pair_gain"]
    gains = tools.numbers(value)
    order = np.argsort(-gains, kind="stable")[:12]
    height = 0.9 + 0.28 * len(order)
    drawn, axes = tools.new_axes(5.4, height)
    drawn.subplots_adjust(bottom=0.5 / height, top=1 - 0.1 / height)
    tools.bars(axes, [book.names["fault_event"][value.items[0][place]] for place in order], gains[order])
    tools.name_axes(axes, x=tools.axis_name(value))
    return drawn
