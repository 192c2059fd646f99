"""Axis marks of our own: grid lines, tick marks and labels as a few artists in place of five for each tick.

Ticks take two thirds of the time in which matplotlib draws a small figure; the marks here come from the same locators and
formatters, look the same, and cost a tenth. An axis whose name has its unit in two systems has its marks twice, at round numbers of each.
"""
from __future__ import annotations

from dataclasses import dataclass

from matplotlib import rcParams
from matplotlib.axes import Axes
from matplotlib.axis import Axis, XAxis, YAxis
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.path import Path
from matplotlib.ticker import FixedFormatter, FixedLocator, FuncFormatter, MaxNLocator, NullFormatter, NullLocator
from matplotlib.transforms import IdentityTransform, TransformedPath

from basis.language.units import unit
from basis.site.paired import PAIR, SI, US, longest

GRID_ORDER, CHARACTER = 0.6, 0.56  # drawing order below data; mean width of a character in ems
OUTSIDE = {"clip_on": False, "clip_path": TransformedPath(Path.unit_rectangle(), IdentityTransform())}  # not clipped, and so not given the path of the axes


@dataclass(frozen=True)
class Side:
    """One side of the axes where marks may stand: its place across, the marker that points outwards, and whether x runs along it."""

    name: str
    place: float
    marker: int
    along_x: bool


SIDES = {"x": (Side("bottom", 0.0, 3, True), Side("top", 1.0, 2, True)), "y": (Side("left", 0.0, 0, False), Side("right", 1.0, 1, False))}


class _Unticked:
    """What an axis without ticks of matplotlib's answers to those who ask for some."""

    majorTicks = minorTicks = ()

    def set_ticks(self, ticks, labels=None, **_):
        self.set_major_locator(FixedLocator(ticks))
        if labels is not None:
            self.set_major_formatter(FixedFormatter(list(labels)))


class _AlongX(_Unticked, XAxis):
    pass


class _AlongY(_Unticked, YAxis):
    pass


class Unticked(Axes):
    """Axes that wait for our marks: making ticks, even when none is drawn, takes half of the time of new axes."""

    def _init_axis(self):
        self.xaxis, self.yaxis = _AlongX(self, clear=False), _AlongY(self, clear=False)
        for spine, axis in (("bottom", self.xaxis), ("top", self.xaxis), ("left", self.yaxis), ("right", self.yaxis)):
            self.spines[spine].register_axis(axis)


def lighten(drawn: Figure) -> None:
    """Give every plain pair of axes our marks in place of matplotlib's."""
    for axes in drawn.axes:
        if axes.name == "rectilinear" and axes.axison and axes.get_visible():
            for axis in (axes.xaxis, axes.yaxis):
                _replace(axes, axis)


def _replace(axes: Axes, axis: Axis) -> None:
    settings = _defaults(axis) | axis.get_tick_params(which="major")
    scale = _scale(axes, axis)
    found = [_ticks(axis, settings)] if scale is None else [_ticks(axis, settings, SI), _ticks(axis, settings, US, *scale)]
    for one in found:
        if settings.get("gridOn"):
            _grid(axes, axis, one.places, one.settings)
    for side in SIDES[axis.axis_name]:
        axes.spines[side.name].get_spine_transform()  # sets the line of this side in its place, which making ticks does otherwise
        for one in found:
            if settings.get(side.name):
                _marks(axes, side, one.places, settings["length"], one.settings)
                _marks(axes, side, one.minor, 2.0, one.settings)
            if settings.get(f"label{side.name}"):
                _labels(axes, side, list(zip(one.places, one.labels)), one.settings)
        if settings.get(f"label{side.name}"):
            _room_for_labels(axis, side, [label for one in found for label in one.labels], settings)
    axis.set_major_locator(NullLocator())
    axis.set_minor_locator(NullLocator())
    axis.set_major_formatter(NullFormatter())


@dataclass(frozen=True)
class _Ticks:
    """Marks along an axis in one system, at places of the axis, with the settings of their look."""

    places: list
    labels: list
    minor: list
    settings: dict


def _scale(axes: Axes, axis: Axis) -> tuple[float, float] | None:
    """Factor and offset by which numbers along an axis become those of the other system; none where it, or one that shares it, is named in one unit."""
    shared = axes.get_shared_x_axes() if axis.axis_name == "x" else axes.get_shared_y_axes()
    for one in (axes, *shared.get_siblings(axes)):
        if pair := PAIR.search(one.xaxis.label.get_text() if axis.axis_name == "x" else one.yaxis.label.get_text()):
            si, us = map(unit, pair.groups())
            return si.factor / us.factor, (si.offset - us.offset) / us.factor
    return None


def _ticks(axis: Axis, settings: dict, system: str | None = None, factor: float = 1.0, offset: float = 0.0) -> _Ticks:
    """Marks where the locators of an axis put them on the scale of the system."""
    low, high = (factor * end + offset for end in sorted(axis.get_view_interval()))
    slack = 1e-9 * (high - low)

    def between(locator) -> list:
        if isinstance(locator, FixedLocator) and system == US:
            locator = MaxNLocator(len(locator.locs))
        places = locator.tick_values(low, high) if system == US else locator()
        return [place for place in places if low - slack <= place <= high + slack]
    numbers, minor = between(axis.get_major_locator()), between(axis.get_minor_locator())
    formatter = axis.get_major_formatter()
    if isinstance(formatter, FixedFormatter) and system == US:
        formatter = FuncFormatter(lambda number, _: f"{number:g}")
    return _Ticks([(number - offset) / factor for number in numbers], formatter.format_ticks(numbers), [(number - offset) / factor for number in minor],
                  settings | {"gid": system})


def _defaults(axis: Axis) -> dict:
    """Settings of the style for what the figure has not set."""
    tick = f"{axis.axis_name}tick"
    return {"length": rcParams[f"{tick}.major.size"], "pad": rcParams[f"{tick}.major.pad"], "color": rcParams[f"{tick}.color"], "labelrotation": 0,
            "labelcolor": rcParams[f"{tick}.color"], "labelsize": rcParams[f"{tick}.labelsize"], "grid_color": rcParams["grid.color"],
            "grid_linewidth": rcParams["grid.linewidth"], "grid_linestyle": rcParams["grid.linestyle"], "grid_alpha": rcParams["grid.alpha"]}


def _grid(axes: Axes, axis: Axis, places: list, settings: dict) -> None:
    along_x = axis.axis_name == "x"
    lines = [((place, 0), (place, 1)) if along_x else ((0, place), (1, place)) for place in places]
    transform = axes.get_xaxis_transform() if along_x else axes.get_yaxis_transform()
    axes.add_artist(LineCollection(lines, colors=settings["grid_color"], linewidths=settings["grid_linewidth"],
                                   linestyles=settings["grid_linestyle"], alpha=settings["grid_alpha"], transform=transform, zorder=GRID_ORDER,
                                   gid=settings["gid"]))


def _marks(axes: Axes, side: Side, places: list, length: float, settings: dict) -> None:
    if not places or not length:
        return
    across = [side.place] * len(places)
    x, y = (places, across) if side.along_x else (across, places)
    transform = axes.get_xaxis_transform() if side.along_x else axes.get_yaxis_transform()
    axes.add_artist(Line2D(x, y, marker=side.marker, markersize=length, markeredgewidth=0.8, color=settings["color"], linestyle="none",
                           transform=transform, gid=settings["gid"], **OUTSIDE))


def _labels(axes: Axes, side: Side, labels: list, settings: dict) -> None:
    pad, size, turned = settings["length"] + settings["pad"], settings["labelsize"], settings["labelrotation"]
    getter = {"bottom": axes.get_xaxis_text1_transform, "top": axes.get_xaxis_text2_transform,
              "left": axes.get_yaxis_text1_transform, "right": axes.get_yaxis_text2_transform}[side.name]
    transform, upright, level = getter(pad)
    for place, text in labels:
        x, y = (place, side.place) if side.along_x else (side.place, place)
        axes.text(x, y, text, transform=transform, va=upright, ha=level, fontsize=size, color=settings["labelcolor"], rotation=turned, gid=settings["gid"],
                  **OUTSIDE)


def _room_for_labels(axis: Axis, side: Side, labels: list, settings: dict) -> None:
    """Move the name of the axis behind its labels."""
    size = settings["labelsize"]
    deep = size * 1.2 if side.along_x and not settings["labelrotation"] else CHARACTER * size * max(map(longest, labels), default=0)
    if axis.get_label_position() == side.name:
        axis.labelpad += deep + settings["length"] + settings["pad"]
