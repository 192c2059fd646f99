"""Figures of reliability: failure by the number of sets, the fault tree, and what one more of each buys.

The tree is drawn as an outline, a row for each input: labels cannot meet, and it grows downwards, where paper and phones have room.
"""
from __future__ import annotations

from dataclasses import dataclass
from textwrap import wrap

import numpy as np

from basis.language import units
from basis.site import figure as tools
from basis.site.figure import figure

LEAST = 1e-12  # chance below which nothing is drawn
STEP, LINE, GAP, SIGN, EDGE = 20.0, 10.5, 7.0, 30.0, 6.0  # points: a level in, a line of text, between rows, a sign of a gate, around all
NO_BREAK = "\N{NO-BREAK SPACE}"  # within a number
NAME = 40  # characters of a line of a name
CHARACTER = 5.0  # points of one


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
    order = [place for place in np.argsort(-gains, kind="stable") if np.isfinite(gains[place])][:12]
    height = 0.9 + 0.28 * len(order)
    drawn, axes = tools.new_axes(5.4, height)
    drawn.subplots_adjust(bottom=0.5 / height, top=1 - 0.1 / height)
    tools.bars(axes, [book.names["fault_event"][value.items[0][place]] for place in order], gains[order])
    tools.name_axes(axes, x=tools.axis_name(value))
    return drawn


@dataclass(frozen=True)
class Row:
    """A gate or event at its place in the outline: how deep, the place of the row above which takes it, what stands in its sign, its lines of text, and how
    often it stands in the tree."""

    depth: int
    above: int
    sign: str
    lines: tuple[str, ...]
    times: int


@figure("fault_tree", title="What fails the mission", terms=("gate_probability", "event_probability"))
def fault_tree(book):
    """From the top down, each gate with its inputs below it and further in. The word in the box says how many of them must fail: any, all, or so many. A
    ring is an event; a filled one stands in more than one place and is the same event in all of them. A gate that stands in more than one place is drawn
    out at the first. The number behind a name is its chance within the mission."""
    rows = _rows(book)
    wide = max(EDGE + STEP * row.depth + (SIGN if row.sign else STEP) + CHARACTER * max(map(len, row.lines)) for row in rows) + EDGE
    tops, high = [], EDGE
    for row in rows:
        tops.append(high + LINE / 2)
        high += LINE * len(row.lines) + GAP
    drawn, axes = tools.new_axes(max(wide, 250.0) / 72, (high + EDGE) / 72)
    axes.set_position((0, 0, 1, 1))
    axes.set_axis_off()
    axes.set_xlim(0, max(wide, 250.0))
    axes.set_ylim(high + EDGE, 0)
    for place, row in enumerate(rows):
        _draw(axes, row, tops[place], tops[row.above] if place else None)
    return drawn


def _draw(axes, row: Row, top: float, above: float | None) -> None:
    left = EDGE + STEP * row.depth
    if above is not None:
        joint = left - STEP + 8
        axes.plot([joint, joint, left], [above + LINE / 2 + 1, top, top], color=tools.FAINT, linewidth=0.8, linestyle="-", zorder=0)
    if row.sign:
        axes.text(left + 3, top, row.sign, ha="left", va="center", fontsize=8,
                  bbox={"boxstyle": "square,pad=0.2", "facecolor": tools.PAPER, "edgecolor": tools.INK, "linewidth": 0.8})
    else:
        axes.plot([left + 6], [top], marker="o", markersize=6, linestyle="none", color=tools.INK, markerfacecolor=tools.INK if row.times > 1 else tools.PAPER)
    for number, line in enumerate(row.lines):
        axes.text(left + (SIGN if row.sign else 14), top + LINE * number, line, va="center", ha="left", fontsize=8)


def _rows(book) -> list[Row]:
    """The outline of the tree from the gate that no other takes; every gate drawn out once."""
    inputs = list(zip(*(book[name].number for name in ("input_of", "input_event", "input_gate"))))
    gates = book.items["fault_gate"]
    counts = {name: sum(name in pair[1:] for pair in inputs) for name in (*book.items["fault_event"], *gates)}
    rows: list[Row] = []

    def add(axis: str, item: str, depth: int, above: int) -> None:
        known = item in drawn
        chance = tools.told(book["gate_probability" if axis == "fault_gate" else "event_probability"].element(item)).replace(" ", NO_BREAK)
        said = f"{book.names[axis][item]}: {chance}" + (", drawn out above" if known else "")
        rows.append(Row(depth, above, _sign(book, item) if axis == "fault_gate" else "", tuple(wrap(said, NAME)), counts[item]))
        if axis == "fault_gate" and not known:
            drawn.add(item)
            place = len(rows) - 1
            for of, event, below in inputs:
                if of == item:
                    add("fault_event" if event else "fault_gate", event or below, depth + 1, place)
    drawn: set[str] = set()
    add("fault_gate", next(gate for gate in gates if not counts[gate]), 0, 0)
    return rows


def _sign(book, gate: str) -> str:
    """How many inputs must fail, in words: any, all, or so many."""
    sort = book["gate_sort"].element(gate).number
    return f"≥ {tools.told(book['gate_least'].element(gate))}" if sort == "at_least" else sort
