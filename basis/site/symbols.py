"""Graphical symbols of one-line diagrams after IEC 60617, drawn into matplotlib axes.

`size` is the width of one symbol place in units of the axes, which must have equal scales. Every symbol is drawn with lines in the
colour of the text.
"""
from __future__ import annotations

import numpy as np
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Rectangle

from basis.site.figure import INK

RADIUS, WINDING, CONTACT, INFEED = 0.36, 0.26, 0.5, 0.66  # machine, transformer winding, breaker height, side of a supply: in symbol places
TRANSFORMER = 2 * WINDING + 0.34                          # height of both windings, which overlap
THIN, THICK = 1.1, 4.0


def line(axes, xs, ys, width: float = THIN) -> None:
    """A plain line through the points; the limits of the axes are not asked."""
    axes.add_artist(Line2D(xs, ys, color=INK, linewidth=width))


def upright(axes, x: float, low: float, high: float) -> None:
    """A vertical connection."""
    line(axes, [x, x], [low, high])


def busbar(axes, left: float, right: float, y: float) -> None:
    """A bus as a thick level bar."""
    axes.add_artist(Line2D([left, right], [y, y], color=INK, linewidth=THICK, solid_capstyle="butt"))


def circuit_breaker(axes, x: float, low: float, size: float = 1.0) -> None:
    """A make contact with the cross of a circuit-breaker at its fixed end, `CONTACT` high."""
    line(axes, [x, x - 0.2 * size], [low, low + 0.42 * size])
    axes.add_artist(Line2D([x], [low + CONTACT * size], marker="x", markersize=5, color=INK, linestyle="none"))


def machine(axes, x: float, middle: float, letters: str, size: float = 1.0, letter_size: float = 8.0) -> None:
    """A rotating machine for alternating current: G for a generator, M for a motor."""
    _circle(axes, x, middle, RADIUS * size)
    axes.text(x, middle + 0.1 * size, letters, ha="center", va="center", fontsize=letter_size)
    wave = np.linspace(0, 2 * np.pi, 24)
    axes.plot(x + 0.05 * size * (wave - np.pi), middle - size * (0.18 - 0.05 * np.sin(wave)), color=INK, linewidth=0.9, linestyle="-")


def transformer(axes, x: float, top: float, size: float = 1.0) -> None:
    """A transformer with two windings, `TRANSFORMER` high."""
    for middle in (top - WINDING * size, top - (WINDING + 0.34) * size):
        _circle(axes, x, middle, WINDING * size)


def supply(axes, x: float, middle: float, size: float = 1.0) -> None:
    """The infeed of a network: a square with crossed lines."""
    half = INFEED / 2 * size
    axes.add_patch(Rectangle((x - half, middle - half), 2 * half, 2 * half, facecolor="none", edgecolor=INK, linewidth=THIN))
    for tilt in (-half, half):
        line(axes, [x - half, x + half], [middle - tilt, middle + tilt])


def arrow(axes, x: float, start: float, end: float) -> None:
    """A connection that goes on to a load or to another place, with its arrow head at `end`."""
    axes.annotate("", (x, end), (x, start), arrowprops={"arrowstyle": "-|>", "color": INK, "linewidth": THIN, "shrinkA": 0, "shrinkB": 0})


def _circle(axes, x: float, middle: float, radius: float) -> None:
    axes.add_patch(Circle((x, middle), radius, facecolor="none", edgecolor=INK, linewidth=THIN))
