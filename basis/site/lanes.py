"""Where the lines of a schematic run. Parts stand in rows, one below the other; a line to the next part runs straight down, every other line runs in a lane
at the left of the parts, the shortest in the innermost. Two lines never share a stretch of a lane. Lengths are in pixels.
"""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

LANE, MARGIN = 9.0, 6.0                 # from lane to lane; from the edge to the outermost lane
GAP = 12.0                              # from the innermost lane to the place of the symbols
PLACE, TOP = 30.0, 8.0                  # side of a symbol's place; from the top of a row to it
PORT = 6.0                              # between two lines that reach a part from the left
ARROW, DOT = 5.0, 2.0                   # length of an arrow head; radius of a joint
BELOW = 999                             # further down than any row reaches: the row cuts it off


@dataclass(frozen=True)
class Line:
    """From every part of `starts` to every part of `ends`, by their ids, as one net; `kind` is one of the lines of the library."""

    starts: tuple[str, ...]
    ends: tuple[str, ...]
    kind: str

    @property
    def joined(self) -> tuple[str, ...]:
        """All parts that the line reaches."""
        return (*self.starts, *self.ends)


@dataclass(frozen=True)
class Route:
    """A line with its lane, counted from the symbols outwards, 0 for straight down, and the rows that it reaches."""

    line: Line
    lane: int
    starts: tuple[int, ...]
    ends: tuple[int, ...]

    @property
    def first(self) -> int:
        """The uppermost row that it reaches."""
        return min((*self.starts, *self.ends))

    @property
    def last(self) -> int:
        """The lowest row that it reaches."""
        return max((*self.starts, *self.ends))


@dataclass(frozen=True)
class Strokes:
    """What is drawn of the lines in one row: path data by kind of line, and of arrow heads and joints."""

    lines: dict[str, str]
    heads: str


def routes(ids: Sequence[str], lines: Sequence[Line]) -> list[Route]:
    """A lane for each line, the shortest first, in the order of their length."""
    row = {one: place for place, one in enumerate(ids)}
    wanted = [Route(line, 0, tuple(row[one] for one in line.starts), tuple(row[one] for one in line.ends)) for line in lines]
    found: list[Route] = []
    for route in sorted(wanted, key=lambda one: (one.last - one.first, one.first)):
        straight = len(route.starts) == len(route.ends) == 1 and route.ends[0] == route.starts[0] + 1
        found.append(route if straight else Route(route.line, _free_lane(route, found), route.starts, route.ends))
    return found


def _free_lane(route: Route, placed: Sequence[Route]) -> int:
    lane = 1
    while any(other.lane == lane and route.first <= other.last and other.first <= route.last for other in placed):
        lane += 1
    return lane


def symbol_left(placed: Sequence[Route]) -> float:
    """From the edge to the place of the symbols."""
    lanes = max((route.lane for route in placed), default=0)
    return MARGIN + LANE * (lanes - 1) + GAP if lanes else MARGIN


def strokes(placed: Sequence[Route], row: int, sides: tuple[float, float, float]) -> Strokes:
    """What is drawn in one row, around a symbol that reaches from `sides` left, top and bottom of its place."""
    left, (inner, upper, lower) = symbol_left(placed), sides
    middle = left + PLACE / 2
    paths: dict[str, str] = {}
    heads = ""
    for route in placed:
        path = head = ""
        if route.lane == 0:
            if row in route.starts:
                path = f"M{_n(middle)} {_n(TOP + lower)}V{BELOW}"
            if row in route.ends:
                path = f"M{_n(middle)} 0V{_n(TOP + upper)}"
                head = _arrow_down(middle, TOP + upper)
        elif route.first <= row <= route.last:
            path, head = _in_lane(placed, route, row, ceil(left + inner))  # within the line of the symbol, never short of it
        paths[route.line.kind] = paths.get(route.line.kind, "") + path
        heads += head
    return Strokes({kind: path for kind, path in paths.items() if path}, heads)


def _in_lane(placed: Sequence[Route], route: Route, row: int, reach: float) -> tuple[str, str]:
    """The stretch of a line in its lane, and from there to the symbol, which begins at `reach`, where it reaches the part of this row."""
    x = symbol_left(placed) - GAP - LANE * (route.lane - 1)
    if row not in (*route.starts, *route.ends):
        return f"M{_n(x)} 0V{BELOW}", ""
    y = _port(placed, route, row)
    arrow = _arrow_right(reach, y) if row in route.ends else ""
    if route.first < row < route.last:
        return f"M{_n(x)} 0V{BELOW}M{_n(x)} {_n(y)}H{_n(reach)}", _dot(x, y) + arrow
    return f"M{_n(x)} {0 if row > route.first else BELOW}V{_n(y)}H{_n(reach)}", arrow


def _port(placed: Sequence[Route], route: Route, row: int) -> float:
    """The height at which a line reaches the part of a row: those from above over those from below, so that as few as possible cross."""
    here = [one for one in placed if one.lane and row in (*one.starts, *one.ends)]
    here.sort(key=lambda one: (0, one.lane) if row == one.last else (2, -one.lane) if row == one.first else (1, one.lane))
    return TOP + PLACE / 2 + PORT * (here.index(route) - (len(here) - 1) / 2)


def _arrow_down(x: float, y: float) -> str:
    return f"M{_n(x)} {_n(y)}l-3-{_n(ARROW)}h6z"


def _arrow_right(x: float, y: float) -> str:
    return f"M{_n(x)} {_n(y)}l-{_n(ARROW)}-3v6z"


def _dot(x: float, y: float) -> str:
    return f"M{_n(x - DOT)} {_n(y)}a{_n(DOT)} {_n(DOT)} 0 1 1 0 .01z"  # once round, but for a hair


def _n(number: float) -> str:
    return f"{number:.4g}"
