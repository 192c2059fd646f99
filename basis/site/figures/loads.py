"""Figures of loads and sets: the steps against what running sets take, and a one-line diagram with IEC 60617 symbols."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site import symbols
from basis.site.figure import ALERT, FAINT, figure

SETS_DRAWN = 8       # more than this are told in words
FEEDERS_DRAWN = 4
BUS, SET, END = 1.5, 3.3, -0.2   # heights of bus, sets and end of a feeder, in symbol widths
TRANSFORMER = 1.1    # how much longer a feeder is with a transformer


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
    return f"{book.names['load_step'][item]}, {book['step_time'].element(item).text()}"


@figure("one_line", title="One-line diagram of the plant", letters=11.0,
        terms=("installed_sets", "set_rated_power", "set_rated_apparent_power", "demand_power"))
def one_line(book):
    """Generating sets, each with its circuit-breaker, feed a common bus; feeders leave the bus through circuit-breakers, and
    through transformers where there are any. Symbols are those of IEC 60617."""
    sets = min(int(book["installed_sets"].number), SETS_DRAWN)
    feeders = _feeders(book)
    wide = max(sets, feeders, 2)
    end = END - (TRANSFORMER if _has_transformers(book) else 0)
    drawn, axes = tools.new_axes(0.56 * (wide + 3.0), 0.56 * (SET - end + 0.7))
    drawn.subplots_adjust(left=0, right=1, bottom=0, top=1)
    axes.set_axis_off()
    axes.set_aspect("equal")
    axes.set_xlim(-0.7, wide + 2.3)
    axes.set_ylim(end - 0.2, SET + 0.5)
    for number, x in enumerate(_places(sets, wide), start=1):
        _generator(axes, x, number)
    symbols.busbar(axes, -0.55, wide - 0.45, BUS)
    for x in _places(feeders, wide):
        _feeder(axes, x, end, transformer=_has_transformers(book))
    _write(axes, wide, _words(book, end))
    return drawn


def _places(count: int, wide: int):
    """Places along the bus for `count` symbols, spread evenly over its length."""
    return (np.arange(count) + 0.5) * wide / count - 0.5


def _has_transformers(book) -> bool:
    return "transformer_need" in book and book["transformer_need"].number in ("step_up", "step_down") and "transformer_count" in book


def _feeders(book) -> int:
    return min(int(book["transformer_count"].number), FEEDERS_DRAWN) if _has_transformers(book) else 1


def _generator(axes, x: float, number: int) -> None:
    """An alternating-current generator above its circuit-breaker and the bus."""
    symbols.machine(axes, x, SET, f"G{number}")
    symbols.upright(axes, x, BUS + 1.1, SET - symbols.RADIUS)
    symbols.circuit_breaker(axes, x, BUS + 0.6)
    symbols.upright(axes, x, BUS, BUS + 0.6)


def _feeder(axes, x: float, end: float, transformer: bool) -> None:
    """A feeder below the bus: circuit-breaker, transformer if there is one, and the arrow of a load."""
    symbols.upright(axes, x, BUS - 0.4, BUS)
    symbols.circuit_breaker(axes, x, BUS - 0.9)
    start = BUS - 0.9
    if transformer:
        symbols.upright(axes, x, start - 0.12, start)
        symbols.transformer(axes, x, start - 0.12)
        start -= 0.12 + symbols.TRANSFORMER
    symbols.arrow(axes, x, start, end)


def _words(book, end: float) -> tuple[tuple[float, str], ...]:
    """What stands beside the diagram: height and text."""
    count = int(book["installed_sets"].number)
    sets = f"{book['installed_sets'].text()} × {book['set_rated_power'].text()}\n{book['set_rated_apparent_power'].text()}"
    if count > SETS_DRAWN:
        sets += f"\n{SETS_DRAWN} drawn"
    voltage = f"{book['generating_voltage'].text()}, " if "generating_voltage" in book else ""
    below = f"{book['transformer_count'].text()} × transformer\n" if _has_transformers(book) else ""
    return ((SET, sets), (BUS, f"{voltage}{book['power_frequency'].text()}"), (end + 0.35, f"{below}demand\n{book['demand_power'].text()}"))


def _write(axes, wide: int, words) -> None:
    for height, text in words:
        axes.text(wide - 0.25, height, text, ha="left", va="center")
