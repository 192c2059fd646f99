"""Figures of loads and sets: the steps against what running sets take, and a one-line diagram with IEC 60617 symbols."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site import one_line as diagram
from basis.site.figure import ALERT, FAINT, figure
from basis.site.network import single_bus


@figure("load_steps", title="Load steps against what the running sets take",
        terms=("step_power", "step_power_accepted", "step_total_power", "step_capacity"))
def load_steps(book):
    """Each bar is a load step, placed on the load that is already on. A heavy mark shows how far the sets on the bus would take
    the step, a light outline what they carry in all."""
    order = np.argsort(book["step_time"].number, kind="stable")
    names = [_step_name(book, book.items["load_step"][place]) for place in order]
    step, total, capacity = (tools.numbers(book[name])[order] for name in ("step_power", "step_total_power", "step_capacity"))
    before = total - step
    height = 1.25 + 0.42 * len(names)
    drawn, axes = tools.new_axes(5.6, height)
    drawn.subplots_adjust(top=1 - 0.5 / height, bottom=0.55 / height)
    axes.barh(range(len(names)), capacity, height=0.82, facecolor="none", edgecolor=FAINT, linestyle=":", label="carried by sets on the bus")
    axes.barh(range(len(names)), before, height=0.5, **tools.filled(0), label="on before")
    tools.bars(axes, names, step, 1, left=before)
    axes.containers[-1].set_label("load step")
    if "step_power_accepted" in book:
        accepted = before + tools.numbers(book["step_power_accepted"])[order]
        axes.plot(accepted, range(len(names)), linestyle="none", marker="|", markersize=20, markeredgewidth=2.4, color=ALERT, label="step accepted up to here")
    tools.name_axes(axes, x=tools.axis_name(book["step_total_power"]))
    axes.margins(x=0.03)
    tools.legend(axes, ncols=2, loc="upper left", bbox_to_anchor=(0.0, 1.0), bbox_transform=drawn.transFigure, markerscale=0.5)
    return drawn


def _step_name(book, item: str) -> str:
    return f"{book.names['load_step'][item]}, {tools.told(book['step_time'].element(item))}"


@figure("one_line", title="One-line diagram of the plant", letters=11.0,
        terms=("installed_sets", "set_rated_power", "set_rated_apparent_power", "demand_power"))
def one_line(book):
    """Generating sets, each with its circuit-breaker, feed a common bus; the demand leaves the bus through a circuit-breaker, and through transformers where
    there are any. Symbols are those of IEC 60617. The project lists no network, so nothing of it is drawn."""
    return diagram.draw(single_bus(book))
