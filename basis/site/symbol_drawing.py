"""Symbols of the library and the lines between them, drawn into axes whose unit is a point. Everything is a line in the colour of the text."""
from __future__ import annotations

import re
from functools import cache

import numpy as np
from matplotlib.lines import Line2D
from matplotlib.patches import PathPatch
from matplotlib.path import Path

from basis.site.figure import INK
from basis.site.symbols import SIDE, SYMBOLS

SCALE = 1.2  # points a unit of the library
THIN, THICK = 1.1, 4.0
LETTER = 8.0
STEP, NUMBER = re.compile(r"([MLlHVqaz])([^MLlHVqaz]*)"), re.compile(r"-?\d*\.?\d+")
TAKES = {"M": 2, "L": 2, "l": 2, "H": 1, "V": 1, "q": 4, "a": 7, "z": 0}  # numbers of a step


def height(symbol_id: str) -> float:
    """From the top of a symbol to its bottom."""
    return SCALE * (SYMBOLS[symbol_id].bottom - SYMBOLS[symbol_id].top)


def symbol(axes, symbol_id: str, x: float, middle: float) -> None:
    """A symbol of the library with the middle of what it reaches up and down at `middle`."""
    drawn = SYMBOLS[symbol_id]
    lift = (drawn.top + drawn.bottom) / 2
    outline = _outline(drawn.lines)
    places = (outline.vertices - (SIDE / 2, lift)) * (SCALE, -SCALE) + (x, middle)
    axes.add_patch(PathPatch(Path(places, outline.codes), facecolor="none", edgecolor=INK, linewidth=THIN))
    if drawn.letters:
        axes.text(x, middle + 0.1 * SCALE * SIDE, drawn.letters, ha="center", va="center", fontsize=LETTER)


@cache
def _outline(data: str) -> Path:
    """Path data of the library as a path. Arcs are halves of circles; what else a path may hold is not drawn by figures."""
    vertices, codes, at = [], [], np.zeros(2)
    for command, text in STEP.findall(data):
        given = np.array([float(number) for number in NUMBER.findall(text)])
        for numbers in given.reshape(-1, TAKES[command]) if TAKES[command] else [given]:
            places, kinds = _step(command, numbers, at)
            vertices += places
            codes += kinds
            at = np.asarray(places[-1])
    return Path(vertices, codes)


def _step(command: str, numbers: np.ndarray, at: np.ndarray) -> tuple[list, list]:
    match command:
        case "M":
            return [numbers], [Path.MOVETO]
        case "q":
            return [at + numbers[:2], at + numbers[2:]], [Path.CURVE3] * 2
        case "a":
            way, radius = numbers[5], numbers[0]
            half = Path.arc(180, 360) if way > 0 else Path.arc(0, 180)
            return list(half.vertices[1:] * radius + at + (way / 2, 0.0)), list(half.codes[1:])
        case "z":
            return [at], [Path.CLOSEPOLY]
        case "H":
            return [np.array((numbers[0], at[1]))], [Path.LINETO]
        case "V":
            return [np.array((at[0], numbers[0]))], [Path.LINETO]
    return [numbers if command == "L" else at + numbers], [Path.LINETO]


# ---- lines between symbols ----

def upright(axes, x: float, low: float, high: float) -> None:
    """A vertical connection; the limits of the axes are not asked."""
    axes.add_artist(Line2D([x, x], [low, high], color=INK, linewidth=THIN))


def busbar(axes, left: float, right: float, y: float) -> None:
    """A bus as a thick level bar."""
    axes.add_artist(Line2D([left, right], [y, y], color=INK, linewidth=THICK, solid_capstyle="butt"))


def arrow(axes, x: float, start: float, end: float) -> None:
    """A connection that goes on to a load or to another place, with its arrow head at `end`."""
    axes.annotate("", (x, end), (x, start), arrowprops={"arrowstyle": "-|>", "color": INK, "linewidth": THIN, "shrinkA": 0, "shrinkB": 0})
