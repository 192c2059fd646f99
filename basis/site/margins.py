"""The figure of a whole book: what is left to the limits, the checks that have least of it."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure
from basis.solving.verdicts import nearest_first, nearness

SHOWN = 30       # checks: more cannot be read in one figure
FARTHEST = 3.0   # a bar ends here, and its text tells the margin
ROW, EDGES = 0.21, 0.75  # inches a bar, and above and below all of them
LONGEST = 58     # characters of a name, the rest of which the page tells


def _name(verdict) -> str:
    title = verdict.check.title
    return title if len(title) <= LONGEST else f"{title[:LONGEST - 1].rstrip()}…"


@figure("nearest_margins", title="Checks that have least left to their limits")
def nearest_margins(book):
    """One bar a check, the one that has least left on top: its margin, measured by what this book calls tight of its kind. A bar to the left is a check
    that fails, one that ends before the second line a tight one; a bar that reaches the edge goes on. The text at the bar is the margin itself."""
    verdicts = nearest_first(book.checks)[:SHOWN]
    places = np.array([np.clip(nearness(verdict), -FARTHEST, FARTHEST) for verdict in verdicts])
    height = EDGES + ROW * len(verdicts)
    drawn, axes = tools.new_axes(7.2, height)
    drawn.subplots_adjust(top=1 - 0.3 / height, bottom=0.45 / height)
    names = [_name(verdict) for verdict in verdicts]
    tools.bars(axes, names, np.maximum(places, 0.0))
    tools.bars(axes, names, np.minimum(places, 0.0), number=1)
    for row, (place, verdict) in enumerate(zip(places, verdicts)):
        axes.annotate(verdict.margin_text, (max(place, 0.0), row), xytext=(4, 0), textcoords="offset points", va="center",
                      bbox={"facecolor": tools.PAPER, "edgecolor": "none", "pad": 0.6})
    tools.limit_line(axes, 0.0, "limit", upright=True)
    axes.axvline(1.0, color=tools.INK, linewidth=0.8, linestyle=":")
    axes.set_xlim(min(float(np.min(places)) * 1.05, -0.5), max(float(np.max(places)) + 0.8, 2.0))
    axes.set_ylim(len(verdicts) - 0.4, -0.6)
    tools.name_axes(axes, x="Margin, in parts of what is called tight")
    return drawn
