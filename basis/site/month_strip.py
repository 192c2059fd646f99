"""A year as a strip of months: one row for each thing that is done, one column a month. Several chapters draw one."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from basis.site import figure as tools
from basis.site.figure import FAINT, INK, PAPER

ROW, LONGEST, CLOSE = 0.28, 24, 8  # inches a row; characters of a name; points, size of a number in a mark
MARKS = ({"marker": "s", "markerfacecolor": INK}, {"marker": "o", "markerfacecolor": PAPER})  # of the first kind of rows and of the second
LETTERS = (PAPER, INK)


@dataclass(frozen=True)
class Rows:
    """Rows of one kind: what they are, and of each its name and how often it comes in each month."""

    title: str
    names: tuple[str, ...]
    counts: np.ndarray


def rows_of(title: str, book, term_id: str) -> list[Rows]:
    """Rows of a Value over a list and the months; none where the book does not have it or lists nothing."""
    value = book.values.get(term_id)
    if value is None or not value.items[0]:
        return []
    names = tuple(_short(book.names[value.axes[0]][item]) for item in value.items[0])
    return [Rows(title, names, np.nan_to_num(np.asarray(value.number, dtype=float)))]


def month_strip(months: Sequence[str], kinds: Sequence[Rows], closed=()):
    """Draw it. A mark is a month in which it is done, with the number of times if it is more than one; columns of closed months are hatched."""
    names = [name for kind in kinds for name in kind.names]
    height = 0.8 + ROW * len(names) + (0.25 if len(kinds) > 1 else 0)
    drawn, axes = tools.new_axes(4.3, height)
    drawn.subplots_adjust(bottom=(0.1 + (0.25 if len(kinds) > 1 else 0)) / height, top=1 - 0.35 / height,
                          left=min(0.5, 0.02 + 0.0165 * max(map(len, names))), right=0.99)
    for month in np.flatnonzero(closed):
        axes.axvspan(month - 0.5, month + 0.5, facecolor=PAPER, edgecolor=FAINT, hatch="////", linewidth=0)
    first = 0
    for number, kind in enumerate(kinds):
        _marked(axes, kind, number, first)
        first += len(kind.names)
    tools.marks(axes.yaxis, range(len(names)), names)
    tools.marks(axes.xaxis, range(len(months)), [month[0].upper() for month in months])
    axes.xaxis.tick_top()
    axes.tick_params(length=0)
    axes.set_xlim(-0.5, len(months) - 0.5)
    axes.set_ylim(len(names) - 0.5, -0.5)
    axes.spines["bottom"].set_visible(False)
    if len(kinds) > 1:
        tools.legend(axes, loc="upper left", bbox_to_anchor=(0.0, 0.0))
    return drawn


def _marked(axes, kind: Rows, number: int, first: int) -> None:
    style = {**MARKS[number % len(MARKS)], "markersize": 9, "markeredgecolor": INK, "color": INK, "linestyle": "none"}
    axes.plot([], [], label=kind.title, **style)
    for (row, month), count in np.ndenumerate(kind.counts):
        if count:
            axes.plot([month], [first + row], **style)
            if count > 1:
                axes.annotate(f"{count:.0f}", (month, first + row), color=LETTERS[number % len(LETTERS)], ha="center", va="center", fontsize=CLOSE)


def _short(name: str) -> str:
    return name if len(name) <= LONGEST else f"{name[:LONGEST - 1]}…"
