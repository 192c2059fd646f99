"""The figure of margins over the issues: a row a check, each with its own scale, since per cent, kelvins and decibels share none."""
from __future__ import annotations

from basis.site import figure as tools
from basis.site.figure import figure

SIGNS = {"fails": "x", "tight": "^", "holds": "o"}  # never by colour alone
ROW, FOOT, STATE, EDGE = 0.92, 0.26, 1.1, 0.5  # inches: a row, the names of the states below the last, the way between two states, what is beyond them
NOW = "now"


@figure("margins", title="Margins over the issues")
def timeline(drawn):
    """The margins of the checks that matter most, one row each, from issue to issue and as they stand now."""
    courses, titles = drawn
    states = [stand.state or NOW for stand in courses[0].stands]
    height = ROW * len(courses) + FOOT
    whole, axes = tools.new_axes(max(3.6, STATE * (len(states) - 1) + 2 * EDGE), height, rows=len(courses), squeeze=False)
    whole.subplots_adjust(left=0.02, right=0.98, top=1 - 0.2 / height, bottom=FOOT / height, hspace=0.32)
    for one, course, title in zip(axes[:, 0], courses, titles):
        _row(one, course, title)
    tools.marks(axes[-1, 0].xaxis, range(len(states)), states)
    return whole


def _row(axes, course, title: str) -> None:
    """One check: its margins joined by a line, each with its text, and the line where nothing is left."""
    known = [(place, stand.margin) for place, stand in enumerate(course.stands) if stand.margin is not None]
    low, high = (edge((0.0, *(margin for _, margin in known))) for edge in (min, max))
    room = (high - low) or 1.0
    axes.set_ylim(low - (1.1 if low < 0 else 0.2) * room, high + 1.1 * room)  # room for the words
    axes.set_xlim(-EDGE / STATE, len(course.stands) - 1 + EDGE / STATE)
    axes.axhline(0.0, color=tools.ALERT, linewidth=1.0, linestyle=(0, (5, 2)))
    axes.plot([place for place, _ in known], [margin for _, margin in known], color=tools.INK, linewidth=1.2)
    for place, stand in enumerate(course.stands):
        _mark(axes, place, stand)
    axes.text(0.0, 1.0, title, transform=axes.transAxes, va="bottom", ha="left")
    tools.marks(axes.yaxis, (), ())
    tools.marks(axes.xaxis, (), ())
    axes.grid(False)
    axes.spines[["left", "bottom"]].set_visible(False)
    axes.tick_params(length=0)


def _mark(axes, place: int, stand) -> None:
    """How the check stood at one state: the sign of its verdict and the margin, above what is left and below what is short."""
    if stand.margin is None:
        axes.annotate(stand.verdict, (place, 0.0), xytext=(0, 4), textcoords="offset points", ha="center", fontsize=8)
        return
    short = stand.margin < 0
    colour = tools.ALERT if short else tools.INK
    axes.plot([place], [stand.margin], marker=SIGNS.get(stand.verdict, "o"), markersize=6, color=colour, linestyle="none", zorder=5)
    axes.annotate(stand.shown, (place, stand.margin), xytext=(0, -6 if short else 6), textcoords="offset points", ha="center",
                  va="top" if short else "bottom", fontsize=8)
