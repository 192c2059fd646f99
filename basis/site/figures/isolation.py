"""Figures of vibration isolation: the curve of transmissibility with the orders of the engine, and the loads of the mounts in plan."""
from __future__ import annotations

import numpy as np

from basis.language.words import item_words, span
from basis.site import figure as tools
from basis.site.figure import FAINT, FILL, INK, figure

DECADES = (0.1, 1.0, 10.0, 100.0)
PERCENT = 100.0   # the curve is a plain ratio, transmissibility is shown in per cent
LARGEST = 26.0    # size in points of the mark of the most loaded mount


@figure("transmissibility_curve", title="Transmissibility of the mounts, and where the orders of the engine stand",
        terms=("frequency_ratio", "transmissibility", "natural_frequency", "damping_ratio", "curve_ratio", "curve_transmissibility"))
def transmissibility_curve(book):
    """The heavy line is the part of the exciting force that passes the mounts, over exciting frequency by natural frequency. It rises to the
    resonance, crosses the whole force again at the root of two, and falls from there. Each mark is an order of the engine at rated speed.
    The dashed line is what the project allows to pass."""
    drawn, axes = tools.new_axes(5.6, 3.3)
    curve, passing = (np.asarray(book[name].number, dtype=float) for name in ("curve_ratio", "curve_transmissibility"))
    ratios, passed = (np.asarray(book[name].number, dtype=float) for name in ("frequency_ratio", "transmissibility"))
    axes.set_xscale("log")
    axes.set_yscale("log")
    axes.plot(curve, PERCENT * passing, color=INK, linestyle="-")
    limit = book["transmissibility_max"] if "transmissibility_max" in book else None
    alike = {}  # orders that fall together, as once a cycle and once a turn do in a two-stroke engine, have one mark
    for item, ratio, part in zip(book.items["excitation"], ratios, passed):
        alike.setdefault((ratio, part), []).append(item)
    for (ratio, part), items in alike.items():
        _order(axes, ratio, PERCENT * part, f"{', '.join(map(item_words, items))} {tools.told(book['transmissibility'].element(items[0]))}",
               above=limit is not None and part > limit.number)
    if limit is not None:
        tools.limit_line(axes, float(tools.numbers(limit)), f"allowed {tools.told(limit)}")
    axes.set_xlim(DECADES[0], max(DECADES[-1], 1.3 * float(np.max(ratios))))
    tools.marks(axes.xaxis, DECADES, [f"{decade:g}" for decade in DECADES])
    bottom = 10 ** np.floor(np.log10(PERCENT * min(float(np.min(passed)), float(np.min(passing)))))
    ticks = [tick for tick in (0.001, 0.01, 0.1, 1.0, 10.0, 100.0, 1000.0, 10000.0) if bottom <= tick <= 2 * PERCENT * float(np.max(passing))]
    tools.marks(axes.yaxis, ticks, [f"{tick:g}" for tick in ticks])
    axes.minorticks_off()
    tools.name_axes(axes, x=book["frequency_ratio"].term.name, y=tools.axis_name(book["transmissibility"]))
    return drawn


def _order(axes, ratio: float, passed: float, text: str, above: bool) -> None:
    """An order on the curve; its name stands away from the line of what is allowed."""
    axes.plot([ratio], [passed], marker="o", markersize=6, color=INK, linestyle="none", zorder=5)
    side = {"xytext": (6, 4), "ha": "left", "va": "bottom"} if above else {"xytext": (-6, -3), "ha": "right", "va": "top"}
    axes.annotate(text, (ratio, passed), textcoords="offset points", **side)


@figure("mount_loads", title="Loads of the mounts or hold-down points, seen from above",
        terms=("mount_place", "mount_static_load", "mount_load_low", "mount_load_high", "gravity_centre"))
def mount_loads(book):
    """Each circle is a mount or a hold-down point at its place, larger the more it carries at rest; the load is written beside it, and under that the
    lowest and the highest load with the torque reaction. The cross is the centre of gravity; the thin lines meet in the middle of the mounts."""
    place, loads = tools.numbers(book["mount_place"]), np.asarray(book["mount_static_load"].number, dtype=float)
    along, across = place[:, 0], place[:, 1]
    wide, deep = np.ptp(along), np.ptp(across)
    drawn, axes = tools.new_axes(5.8, 3.0)
    axes.axhline(0, color=FAINT, linewidth=0.8, linestyle="-")
    axes.axvline(0, color=FAINT, linewidth=0.8, linestyle="-")
    for item, x, y, load in zip(book.items["mount"], along, across, loads):
        size = LARGEST * np.sqrt(max(float(load), 0.0) / float(np.max(loads)))
        axes.plot([x], [y], marker="o", markersize=size, markerfacecolor=FILL, markeredgecolor=INK, linestyle="none")
        low, high = (tools.told(book[name].element(item), unit=False) for name in ("mount_load_low", "mount_load_high"))
        side = {"ha": "center", "bbox": tools.ON_PAPER, **({"xytext": (0, 16), "va": "bottom"} if y > 0 else {"xytext": (0, -16), "va": "top"})}
        axes.annotate(f"{tools.told(book['mount_static_load'].element(item))}\n{span(low, high)}", (x, y), textcoords="offset points", **side)
    centre = tools.numbers(book["gravity_centre"])
    axes.plot([centre[0]], [centre[1]], marker="x", markersize=9, markeredgewidth=2, color=INK, linestyle="none")
    axes.annotate("centre of gravity", centre, xytext=(8, 6), textcoords="offset points")
    axes.set_xlim(along.min() - 0.2 * wide, along.max() + 0.2 * wide)
    axes.set_ylim(across.min() - 0.75 * deep, across.max() + 0.75 * deep)
    axes.grid(False)
    tools.name_axes(axes, x=tools.axis_name(book["mount_place"], "Along the set"), y=tools.axis_name(book["mount_place"], "Across"))
    return drawn
