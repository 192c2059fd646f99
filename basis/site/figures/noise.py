"""Figures of noise: a map of the level over the ground, what each part of the governing path takes away, and which source governs.

The map is the same calculation as that of the receivers, run again for the points of a grid.
"""
from __future__ import annotations

import numpy as np

from basis.language import units
from basis.site import figure as tools
from basis.site.figure import ALERT, FAINT, INK, PAPER, figure
from basis.site.labels import Box, clear_place
from basis.site.paired import SI, US
from basis.site.sounds import loudest, whole_name, wholes
from basis.solving.rerun import rerun

COLUMNS, ROWS = 60, 45      # points of the grid
STEP = 5                    # decibels between two lines
AROUND = 0.25               # of the plan's longer side is drawn beyond its outermost points
WIDTH = 5.6                 # inches
KEYED = 12                  # more receivers than this are told in the table only
SCALES = (5, 10, 20, 50, 100, 200, 500)  # metres or feet of a scale bar
LETTERS = 8.0               # points, of all words in the plan
AROUND_POINT = tuple((far * x, far * y) for far in (11, 16) for x, y in ((0, -1), (0, 1), (1, 0), (-1, 0), (0.8, -0.8), (-0.8, -0.8), (0.8, 0.8), (-0.8, 0.8)))


@figure("receiver_map", title="Level over the ground around the building", terms=("receiver_level", "receiver_x", "receiver_y", "receiver_height"))
def receiver_map(book):
    """Plan seen from above, north at the top. Thin lines join places of equal A-weighted level, five decibels apart, at the height of the
    lowest receiver, in the running case of the tightest limit, numbered where there is room; the broken line is the strictest limit of that
    period. Heavy lines are the walls of buildings and screens, small squares the sources, round points the receivers, numbered as in the lines
    below the plan."""
    case, limit = _case_and_limit(book)
    east, north = _grid(book)
    level = _levels(book, east, north)[case]
    key = _key(book, case)
    height, below = min(WIDTH * np.ptp(north) / np.ptp(east), 7.5), 0.1 + 0.16 * len(key)
    drawn, axes = tools.new_axes(WIDTH, height + below)
    drawn.subplots_adjust(left=0, right=1, bottom=below / (height + below), top=1)
    for line, text in enumerate(key):
        drawn.text(0.01, (below - 0.14 - 0.16 * line) / (height + below), text, fontsize=LETTERS, va="baseline")
    axes.set_axis_off()
    axes.set_aspect("equal")
    axes.set_xlim(east[0], east[-1])
    axes.set_ylim(north[0], north[-1])
    axes.apply_aspect()  # so that places in points are final
    taken = _taken(axes, book)
    _plan(axes, book)
    _receivers(axes, book, taken)
    _lines(axes, book, east, north, level, limit, taken)
    _north_and_scale(axes, book, east, north)
    return drawn


def _case_and_limit(book) -> tuple[int, float]:
    """The running case of the tightest limit and the strictest limit of its period; the loudest case where there is no limit."""
    if "level_margin" not in book or not np.isfinite(book["level_margin"].number).any():
        return int(np.argmax(np.nanmax(book["receiver_level"].number, axis=1))), np.nan
    margin = book["level_margin"].number
    period = int(np.unravel_index(np.nanargmin(margin), margin.shape)[1])
    case = book.items["running_case"].index(book["period_running_case"].number[period])
    return case, float(np.nanmin(book["level_limit"].number[:, period]))


def _grid(book):
    """Even steps to the east and to the north over all that is drawn, with a border."""
    every = [np.concatenate([np.ravel(book[name].number) for name in names if name in book]) for names in
             (("source_x", "receiver_x", "barrier_x1", "barrier_x2"), ("source_y", "receiver_y", "barrier_y1", "barrier_y2"))]
    low, high = [min(points) for points in every], [max(points) for points in every]
    border = AROUND * max(high[0] - low[0], high[1] - low[1], 20.0)
    return tuple(np.linspace(low[place] - border, high[place] + border, count) for place, count in ((0, COLUMNS), (1, ROWS)))


def _levels(book, east, north):
    """Levels of all running cases on the grid; nothing is shown inside buildings."""
    x, y = (part.ravel() for part in np.meshgrid(east, north))
    changes = {"receiver_x": x, "receiver_y": y, "receiver_height": np.full(x.size, np.min(book["receiver_height"].number)),
               "receiver_ground": np.full(x.size, book["middle_ground"].number)}
    found = rerun(book, changes, ("receiver_level", "receiver_outdoors"))
    level = np.where(found["receiver_outdoors"] > 0, found["receiver_level"], np.nan)
    return level.reshape(-1, north.size, east.size)


def _taken(axes, book) -> list[Box]:
    """Where nothing may be written: receivers, sources, walls point by point, and the corners of scale bar and north arrow."""
    walls = [np.linspace(*ends, 20) for ends in _walls(book).values()]
    small = np.concatenate([np.column_stack([book["source_x"].number, book["source_y"].number]), *walls])
    receivers = np.column_stack([book["receiver_x"].number, book["receiver_y"].number])
    corners = [(*_points(axes, low), *_points(axes, high)) for low, high in (((0, 0.86), (0.36, 1)), ((0.9, 0.78), (1, 1)))]
    return [_box(axes, place, 9, 9) for place in receivers] + [_box(axes, place, 7, 7) for place in small] + corners


def _points(axes, place) -> tuple[float, float]:
    """A place in fractions of the axes, in points."""
    return tuple(axes.transAxes.transform(place) * 72 / axes.figure.dpi)


def _box(axes, place, wide: float, high: float, beside: tuple[float, float] = (0.0, 0.0)) -> Box:
    """A box in points around a place of the plan, its middle as far `beside` it."""
    x, y = axes.transData.transform(place) * 72 / axes.figure.dpi + np.asarray(beside)
    return x - wide / 2, y - high / 2, x + wide / 2, y + high / 2


def _lines(axes, book, east, north, level, limit, taken: list[Box]) -> None:
    steps = np.arange(STEP * np.ceil(np.nanmin(level) / STEP), np.nanmax(level), STEP)
    if np.nanmin(level) < limit < np.nanmax(level):
        heavy = axes.contour(east, north, level, levels=[limit], colors=ALERT, linewidths=1.6, linestyles="dashed")
        _label(axes, heavy, f"limit {book['level_limit'].shown(limit)}", taken, ALERT)
    _label(axes, axes.contour(east, north, level, levels=steps[steps != limit], colors=FAINT, linewidths=0.9), "{:.0f}", taken)


def _label(axes, lines, form: str, taken: list[Box], colour: str = INK) -> None:
    """The level once on each of its lines, on the longest stretch that has a place where it touches nothing; its own box is then taken too."""
    frame = (*_points(axes, (0, 0)), *_points(axes, (1, 1)))
    for level, pieces in zip(lines.levels, lines.allsegs):
        text = form.format(level)
        places = [place for piece in sorted(pieces, key=len, reverse=True) for place in _from_a_third(piece)]
        boxes = [_box(axes, place, tools.CHARACTER_WIDTH * LETTERS * len(text) + 4, LETTERS + 4) for place in places]
        chosen = clear_place(boxes, taken, frame)
        if chosen is None:
            continue
        taken.append(boxes[chosen])
        axes.annotate(text, places[chosen], ha="center", va="center", color=colour, fontsize=LETTERS, annotation_clip=True,
                      bbox=tools.ON_PAPER)


def _from_a_third(piece) -> list:
    """The points of a line, those near the end of its first third first: seldom at a wall or at the edge."""
    return sorted(piece, key=lambda place: np.hypot(*(place - piece[len(piece) // 3])))


def _walls(book) -> dict[str, tuple]:
    """Both ends of each building wall and screen."""
    return {item: tuple(tuple(book[f"barrier_{axis}{end}"].element(item).number for axis in "xy") for end in (1, 2)) for item in book.items["barrier"]}


def _plan(axes, book) -> None:
    """Buildings, screens and sources."""
    for item, ends in _walls(book).items():
        screen = book["barrier_role"].element(item).number == "screen"
        axes.plot(*zip(*ends), color=INK, linewidth=3.2 if screen else 1.8, linestyle=(0, (3, 1)) if screen else "-", marker="none")
    axes.plot(book["source_x"].number, book["source_y"].number, linestyle="none", marker="s", markersize=4.5, color=INK, markerfacecolor=PAPER)


def _key(book, case: int) -> list[str]:
    """The receivers by number, with their levels."""
    level, items = book["receiver_level"], book.items["receiver"]
    return [f"{place + 1}  {book.names['receiver'][item]}, {level.shown(float(level.number[case, place]))}" for place, item in enumerate(items)][:KEYED]


def _receivers(axes, book, taken: list[Box]) -> None:
    """The receivers, numbered as in the lines below the plan, each number at the nearest place around its point where it touches nothing. Where there is
    none, the table and the lines below tell the receiver."""
    frame = (*_points(axes, (0, 0)), *_points(axes, (1, 1)))
    for place, at in enumerate(zip(book["receiver_x"].number, book["receiver_y"].number)):
        axes.plot(*([one] for one in at), marker="o", markersize=6, color=INK, linestyle="none", zorder=5)
        text = f"{place + 1}"
        boxes = [_box(axes, at, tools.CHARACTER_WIDTH * LETTERS * len(text) + 3, LETTERS + 2, beside) for beside in AROUND_POINT]
        chosen = clear_place(boxes, taken, frame) if place < KEYED else None
        if chosen is not None:
            taken.append(boxes[chosen])
            axes.annotate(text, at, xytext=AROUND_POINT[chosen], textcoords="offset points", ha="center", va="center", fontsize=LETTERS)


def _north_and_scale(axes, book, east, north) -> None:
    """A north arrow and a scale bar in the upper corners."""
    wide, high = np.ptp(east), np.ptp(north)
    x = east[-1] - 0.05 * wide
    axes.annotate("", (x, north[-1] - 0.08 * high), xytext=(x, north[-1] - 0.2 * high),
                  arrowprops={"arrowstyle": "-|>", "color": INK, "linewidth": 1.2, "shrinkA": 0, "shrinkB": 0})
    axes.annotate("N", (x, north[-1] - 0.07 * high), ha="center", va="bottom")
    for system, unit in ((SI, book["receiver_x"].term.si_unit), (US, book["receiver_x"].term.us_unit)):
        _scale_bar(axes, system, unit, east[0] + 0.03 * wide, north[-1] - 0.09 * high, 0.3 * wide)


def _scale_bar(axes, system: str, unit: str, x: float, y: float, room: float) -> None:
    """A bar of a round length in the unit of one system."""
    step = float(units.to_si(1.0, unit, "m"))
    length = max([one for one in SCALES if one * step < room], default=SCALES[0])
    axes.plot([x, x + length * step], [y, y], color=INK, linewidth=2.4, linestyle="-", marker="|", markersize=8, gid=system)
    axes.annotate(f"{length} {units.pretty(unit)}", (x + length * step / 2, y), xytext=(0, 4), textcoords="offset points", ha="center", gid=system,
                  bbox=tools.ON_PAPER)


STAGES = (("stage_entering", "sound power before silencers or wall"), ("stage_leaving", "sound power to outdoors"),
          ("stage_distance", "after distance and direction"), ("stage_received", "at the receiver, after air, ground and barrier"))


@figure("governing_path", title="The governing path, band by band", terms=tuple(name for name, _ in STAGES))
def governing_path(book):
    """Octave bands from left to right; from the upper line to the lowest, what is left of the sound of the loudest source on its way to the
    loudest receiver. The gap between two lines is what that part of the way takes away."""
    bands = book.items["band"]
    drawn, axes = tools.new_axes(5.6, 3.5)
    drawn.subplots_adjust(top=0.78, bottom=0.13)
    for number, (name, text) in enumerate(STAGES):
        axes.plot(range(len(bands)), tools.numbers(book[name]), label=text, **tools.series(number))
    tools.marks(axes.xaxis, range(len(bands)), [_band(item) for item in bands])
    tools.name_axes(axes, x=tools.axis_name(book["band_frequency"], "Octave band"), y=tools.axis_name(book["stage_received"], "Level"))
    source, receiver = _governing(book)
    axes.set_title(f"{source} → {receiver}", loc="left", y=-0.32, fontsize=8)
    tools.legend(axes, ncols=1)
    return drawn


def _governing(book) -> tuple[str, str]:
    """Names of the loudest source at the loudest receiver, as the calculation picks them."""
    case, receiver = loudest(book)
    source = int(np.argmax(book["whole_level"].number[case, :, receiver]))
    return whole_name(book, source), book.names["receiver"][book.items["receiver"][receiver]]


def _band(item: str) -> str:
    return item.removesuffix("_hz").replace("_", ".").replace("000", " k")


@figure("contributions", title="What each source contributes at the loudest receiver", terms=("whole_level", "receiver_level"))
def contributions(book):
    """The hatched bar is the whole plant at the receiver where it is loudest. Below it one bar a source, longest on top: its A-weighted level alone, with
    all points of an opening, wall or machine that was split for distance together. To quieten any but the uppermost sources changes little. The broken line is
    the strictest limit there."""
    case, receiver = loudest(book)
    each = book["whole_level"].number[case, wholes(book), receiver]
    order = np.argsort(-each, kind="stable")
    names = ["All together", *(whole_name(book, wholes(book)[place]) for place in order)]
    drawn, axes = tools.new_axes(5.6, 0.9 + 0.24 * len(names))
    drawn.subplots_adjust(top=1 - 0.15 / (0.9 + 0.24 * len(names)), bottom=0.5 / (0.9 + 0.24 * len(names)))
    total = float(book["receiver_level"].number[case, receiver])
    tools.bars(axes, names, [0.0, *each[order]])
    tools.bars(axes, names, [total, *(0.0 for _ in order)], number=1)
    if "level_limit" in book and np.isfinite(book["level_limit"].number[receiver]).any():
        limit = float(np.nanmin(book["level_limit"].number[receiver]))
        tools.limit_line(axes, limit, f"limit {book['level_limit'].shown(limit)}", upright=True)
        axes.set_xlim(0, 1.18 * max(limit, total))
    tools.name_axes(axes, x=f"{tools.axis_name(book['whole_level'])}, at {book.names['receiver'][book.items['receiver'][receiver]]}")
    return drawn
