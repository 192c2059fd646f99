"""The figure of a whole book: what is left to the limits, the checks that have least of it."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure

FARTHEST = 3.0   # a bar ends here, and its text tells the margin
ROW, EDGES = 0.21, 0.75  # inches a bar, and above and below all of them
LONGEST = 58     # characters of a name, the rest of which the page tells


@dataclass(frozen=True)
class Bar:
    """A check as a bar: its title, its margin in words, and how near its limit is, measured by what is called tight."""

    title: str
    margin: str
    nearness: float


def _name(title: str) -> str:
    return title if len(title) <= LONGEST else f"{title[:LONGEST - 1].rstrip()}…"


@figure("nearest_margins", title="Checks that have least left to their limits")
def nearest_margins(bars: Sequence[Bar]):
    """One bar a check, the one that has least left on top: its margin, measured by what this book calls tight of its kind. A bar to the left is a check
    that fails, one that ends before the second line a tight one; a bar that reaches the edge goes on, and what fails a limit of nought, for which there is
    no such measure, stands first. The text at the bar is the margin itself."""
    places = np.array([np.clip(bar.nearness, -FARTHEST, FARTHEST) for bar in bars])
    height = EDGES + ROW * len(bars)
    drawn, axes = tools.new_axes(7.2, height)
    drawn.subplots_adjust(top=1 - 0.3 / height, bottom=0.45 / height)
    names = [_name(bar.title) for bar in bars]
    tools.bars(axes, names, np.maximum(places, 0.0))
    tools.bars(axes, names, np.minimum(places, 0.0), number=1)
    for row, (place, bar) in enumerate(zip(places, bars)):
        axes.annotate(bar.margin, (max(place, 0.0), row), xytext=(4, 0), textcoords="offset points", va="center",
                      bbox={"facecolor": tools.PAPER, "edgecolor": "none", "pad": 0.6})
    tools.limit_line(axes, 0.0, "limit", upright=True)
    axes.axvline(1.0, color=tools.INK, linewidth=0.8, linestyle=":")
    axes.set_xlim(min(float(np.min(places)) * 1.05, -0.5), max(float(np.max(places)) + 0.8, 2.0))
    axes.set_ylim(len(bars) - 0.4, -0.6)
    tools.name_axes(axes, x="Margin, in parts of what is called tight")
    return drawn
