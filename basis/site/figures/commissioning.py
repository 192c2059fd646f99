"""Figures of the commissioning record: what was measured against its design, and what is followed over the years against its limit."""
from __future__ import annotations

from textwrap import wrap

import numpy as np

from basis.site import figure as tools
from basis.site.figure import ALERT, INK, figure

ROW = 0.42  # inches a row
LINE, LINES, PANEL_NAME = 17, 3, 36  # characters of a line of a name, lines of it; characters of a name above a panel
EDGE = 250.0  # per cent of the tolerance, beyond which a point stands at the edge with its number beside it
PANEL = 1.25  # inches a trend


@figure("measured_against_designed", title="Measured against designed", terms=("tolerance_reading", "uncertainty_over_tolerance", "tolerance_used"))
def measured_against_designed(book):
    """One row a measurement. The point is the corrected value: at nought it is as designed, at the heavy line its tolerance is used up; to the left it is on
    the good side. The bar is twice its standard uncertainty to either side. What lies far outside stands at the edge with its number."""
    names = ["\n".join(wrap(book.names["measurement"][item], LINE, max_lines=LINES, placeholder="…")) for item in book.items["measurement"]]
    reading, spread = tools.numbers(book["tolerance_reading"]), np.nan_to_num(tools.numbers(book["uncertainty_over_tolerance"]))
    height = 1.0 + ROW * len(names)
    drawn, axes = tools.new_axes(4.3, height)
    drawn.subplots_adjust(bottom=0.52 / height, top=1 - 0.3 / height, left=0.34)
    for row, (at, wide) in enumerate(zip(reading, spread)):
        if np.isnan(at):
            axes.annotate("not known", (0, row), va="center", ha="center")
        elif abs(at) > EDGE:
            axes.plot([np.sign(at) * EDGE], [row], marker=">" if at > 0 else "<", markersize=7, color=INK, linestyle="none", clip_on=False)
            axes.annotate(f"{at:.0f} %".replace("-", "−"), (np.sign(at) * EDGE, row), xytext=(-8 * np.sign(at), 0), textcoords="offset points", va="center",
                          ha="right" if at > 0 else "left")
        else:
            axes.plot(np.clip([at - 2 * wide, at + 2 * wide], -EDGE, EDGE), [row, row], color=INK, linestyle="-", linewidth=2.2, solid_capstyle="butt")
            axes.plot([at], [row], marker="D" if at > 100 else "o", markersize=6.5, color=ALERT if at > 100 else INK, linestyle="none", zorder=4)
    ends = [end for at, wide in zip(reading, spread) if not np.isnan(at) for end in (at - 2 * wide, at + 2 * wide)]
    low, high = (float(np.clip(edge, -EDGE, EDGE)) for edge in (min(-50.0, *ends) - 15, max(120.0, *ends) + 15))
    axes.axvline(0, color=INK, linewidth=0.8)
    tools.limit_line(axes, 100, "tolerance", upright=True)
    tools.marks(axes.yaxis, range(len(names)), names)
    axes.tick_params(axis="y", length=0)
    axes.set_xlim(low, high)
    axes.set_ylim(len(names) - 0.5, -0.5)
    tools.name_axes(axes, x=tools.axis_name(book["tolerance_reading"], "Part of the tolerance"))
    return drawn


@figure("trends", title="Readings over the years",
        terms=("reading_ratio", "reading_age", "trend_mean_age", "trend_mean_ratio", "trend_slope", "trend_lines", "trend_limit_date",
               "trend_next_date"))
def trends(book):
    """One panel for each thing that is followed. Points are the readings as a share of the limit, the thin line is that of least squares, carried on to the
    next reading, and the heavy dashed line is the limit. Above each panel stands the day on which the line comes to the limit."""
    ages, shares = tools.numbers(book["reading_age"]), tools.numbers(book["reading_ratio"])
    mine = np.asarray(book["reading_number"].number)
    kept = [place for place in range(len(book.items["trend"])) if np.isfinite(shares[mine == place + 1]).any()]
    means, levels, slopes = (tools.numbers(book[name]) for name in ("trend_mean_age", "trend_mean_ratio", "trend_slope"))
    lines = np.asarray(book["trend_lines"].number)
    following = tools.numbers(book["trend_last_age"]) + tools.numbers(book["trend_interval"])
    last = 1.03 * float(max(following[kept]))
    height = 0.55 + PANEL * len(kept)
    drawn, panels = tools.new_axes(4.3, height, rows=len(kept), squeeze=False)
    drawn.subplots_adjust(bottom=0.5 / height, top=1 - 0.25 / height, left=0.15, hspace=0.55)
    for axes, place in zip(panels.flat, kept):
        own = mine == place + 1
        axes.axhline(100, color=ALERT, linewidth=1.4, linestyle=(0, (5, 2)))
        axes.plot(ages[own], shares[own], linestyle="none", marker="o", markersize=5, color=INK)
        if lines[place]:
            along = np.array([ages[own].min(), following[place]])
            axes.plot(along, levels[place] + slopes[place] * (along - means[place]), color=INK, linestyle="-", linewidth=1.0)
        axes.set_xlim(0, last)
        axes.margins(y=0.2)
        axes.locator_params(axis="y", nbins=3)
        axes.annotate(_told(book, book.items["trend"][place], lines[place]), (0, 1), xycoords="axes fraction", xytext=(0, 3), textcoords="offset points")
    tools.name_axes(panels.flat[-1], x="Years from commissioning")
    drawn.supylabel("Share of the limit, %", fontsize=8.5, x=0.01)
    return drawn


def _told(book, item: str, line: float) -> str:
    day = book["trend_limit_date"].element(item)
    told = f"limit on {tools.told(day)}" if day.exists else "no limit in sight" if line else "no line yet"
    return f"{_short(book.names['trend'][item], PANEL_NAME)}: {told}"


def _short(name: str, longest: int) -> str:
    return name if len(name) <= longest else f"{name[:longest - 1].rstrip()}…"
