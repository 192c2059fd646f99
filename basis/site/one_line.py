"""One-line diagram of any network: buses ranked from the sets, everything given a place, and the drawing of it.

A bus hangs below the one through which the sets reach it; what only feeds (sets, supplies, and buses with nothing else) stands above its bus. Every
bus keeps its parts and the buses behind it in a strip of its own, so that a network without rings is drawn without crossings; a link that closes a
ring ends in an arrow at both of its buses. Lengths are in points. May import symbols and the figure tools; knows no book.
"""
from __future__ import annotations

from dataclasses import dataclass

from basis.site import figure as tools
from basis.site import symbols
from basis.site.labels import LINE, TEXT, Label

SIZE = 30.0                             # symbol place
PAD, GAP, CLEAR = 13.0, 9.0, 5.0        # left of a link, between columns, between a line and anything else
BESIDE = 12.0                           # from a link to its text, wider than half a transformer
ROW, NARROWEST, EDGE = 215.0, 325.0, 6.0  # longest level row of parts; narrowest drawing; margin
CONTACT, RADIUS, WINDINGS = symbols.CONTACT * SIZE, symbols.RADIUS * SIZE, symbols.TRANSFORMER * SIZE
SOURCES = ("generator", "grid_infeed")


# ---- what is drawn ----

@dataclass(frozen=True)
class Bus:
    """A bus with its label; its circuits leave through breakers where the project lists any for it."""

    id: str
    label: Label
    breakers: bool


@dataclass(frozen=True)
class Part:
    """What hangs on one bus: a generator, a grid infeed, a motor group, or the end of a link that goes on elsewhere."""

    kind: str
    bus: str
    label: Label


@dataclass(frozen=True)
class Link:
    """A transformer or a feeder between two buses."""

    kind: str
    one: str
    other: str
    label: Label

    def far(self, bus: str) -> str:
        """The bus at the other end."""
        return self.other if bus == self.one else self.one


@dataclass(frozen=True)
class Network:
    """Everything that is drawn. Buses by id."""

    buses: dict[str, Bus]
    links: tuple[Link, ...]
    parts: tuple[Part, ...]


# ---- ranking ----

@dataclass(frozen=True)
class Node:
    """A bus in its tree: the links to the bus before it, what stands above it and what hangs below it."""

    bus: Bus
    links: tuple[Link, ...]
    above: tuple[Part, ...]
    below: tuple[Part, ...]
    ups: tuple[Node, ...]
    downs: tuple[Node, ...]

    @property
    def only_feeds(self) -> bool:
        """Whether nothing but sets and supplies is on this bus and behind it."""
        return not self.below and not self.downs and bool(self.above or self.ups)


def trees(network: Network) -> list[Node]:
    """One tree for each part of the network that holds together, the bus nearest to all of its sets first."""
    found, left = [], list(network.buses)
    while left:
        island = list(_distances(network, left[0]))
        root = min((bus for bus in left if bus in island), key=lambda bus: _remoteness(network, bus))
        rank = _distances(network, root)
        before = _before(network, root, rank)
        found.append(_node(_rings_opened(network, before), before, root, ()))
        left = [bus for bus in left if bus not in island]
    return found


def _distances(network: Network, start: str) -> dict[str, int]:
    """How many links each bus is away from `start`, nearest first."""
    rank, queue = {start: 0}, [start]
    for bus in queue:
        for link in network.links:
            if bus in (link.one, link.other) and link.far(bus) not in rank:
                rank[link.far(bus)] = rank[bus] + 1
                queue.append(link.far(bus))
    return rank


def _remoteness(network: Network, bus: str) -> tuple[int, int]:
    """Links from this bus to all sets of its island, and to all supplies."""
    rank = _distances(network, bus)
    return tuple(sum(rank[part.bus] for part in network.parts if part.kind == kind and part.bus in rank) for kind in SOURCES)


def _before(network: Network, root: str, rank: dict[str, int]) -> dict[str, str]:
    """For each bus but the first, the bus through which it is reached."""
    return {bus: next(link.far(bus) for link in network.links if bus in (link.one, link.other) and rank[link.far(bus)] == rank[bus] - 1)
            for bus in rank if bus != root}


def _in_tree(link: Link, before: dict[str, str]) -> bool:
    return before.get(link.one) == link.other or before.get(link.other) == link.one


def _rings_opened(network: Network, before: dict[str, str]) -> Network:
    """The network with each link that closes a ring replaced by two ends that name the bus at which it goes on."""
    closing = [link for link in network.links if not _in_tree(link, before) and link.one in before | {bus: "" for bus in before.values()}]
    ends = tuple(Part("onward", bus, Label(*_joined(link.label, label("part", f"to {network.buses[link.far(bus)].label.lines[0]}"))))
                 for link in closing for bus in (link.one, link.other))
    return Network(network.buses, tuple(link for link in network.links if link not in closing), network.parts + ends)


def _joined(first: Label, second: Label) -> tuple[tuple[str, ...], float]:
    return first.lines + second.lines, max(first.width, second.width)


def _node(network: Network, before: dict[str, str], bus: str, links: tuple[Link, ...]) -> Node:
    parts = [part for part in network.parts if part.bus == bus]
    behind = [_node(network, before, other, tuple(link for link in network.links if {link.one, link.other} == {bus, other}))
              for other in before if before[other] == bus]
    return Node(network.buses[bus], links, tuple(part for part in parts if part.kind in SOURCES), tuple(part for part in parts if part.kind not in SOURCES),
                tuple(node for node in behind if node.only_feeds), tuple(node for node in behind if not node.only_feeds))


# ---- heights ----

def _stub(bus: Bus) -> float:
    """From a bar to what is connected to it, through a breaker if there is one."""
    return CLEAR + (CONTACT if bus.breakers else 0) + CLEAR


def _link_middle(far_bus: Bus, link: Link) -> float:
    """From the bar of the bus before to the middle of a link and of its label."""
    return max(_stub(far_bus) + WINDINGS / 2, CLEAR + link.label.height / 2)


def _link_height(before: Bus, node: Node) -> float:
    """From bar to bar: breakers, transformer, the label of the link and that of the bus under it."""
    def one(link: Link) -> float:
        words = link.label.height / 2 + CLEAR + node.bus.label.height + CLEAR
        return _link_middle(before, link) + max(words, WINDINGS / 2 + _stub(node.bus))
    return max(map(one, node.links))


def _height_above(node: Node) -> float:
    """From the bar of a bus to the top of what stands on it."""
    parts = [part_height(node.bus, part) + tier for part, _, tier in row(node.above)]
    ups = [_link_height(node.bus, up) + _height_above(up) for up in node.ups]
    return max(parts + ups, default=0.0)


def part_height(bus: Bus, part: Part) -> float:
    """From the bar to the end of the label of a part."""
    return _stub(bus) + 2 * RADIUS + CLEAR + part.label.height


def _levels(roots: list[Node]) -> list[float]:
    """Height of the bars of each rank; the first is nought."""
    levels, pairs = [0.0], [(root.bus, down) for root in roots for down in root.downs]
    while pairs:
        deep = max(max(_link_height(before, node), _height_above(node) + 2 * CLEAR) for before, node in pairs)
        levels.append(levels[-1] - deep)
        pairs = [(node.bus, down) for _, node in pairs for down in node.downs]
    return levels


# ---- places ----

def row(parts: tuple[Part, ...]) -> list[tuple[Part, float, float]]:
    """Each part with its place along the bar and its extra distance from it: none in a short row, every second one further out in a long row."""
    widths = [max(part.label.width, 2 * RADIUS) for part in parts]
    if sum(widths) + GAP * len(widths) <= ROW:
        return [(part, sum(widths[:place]) + GAP * place + widths[place] / 2, 0.0) for place, part in enumerate(parts)]
    step = 2 * RADIUS + 3 * CLEAR + max(part.label.height for part in parts[::2])
    middles: list[float] = []
    for place, width in enumerate(widths):
        at = width / 2
        if place > 0:
            inner = width if place % 2 == 0 else widths[place - 1]  # the label that the connection of its neighbour passes
            at = max(at, middles[-1] + inner / 2 + CLEAR, middles[-1] + RADIUS + 2 * CLEAR)
        if place > 1:
            at = max(at, middles[-2] + (widths[place - 2] + width) / 2 + GAP)
        middles.append(at)
    return [(part, middles[place], step * (place % 2)) for place, part in enumerate(parts)]


def _row_width(parts: tuple[Part, ...]) -> float:
    return max((at + max(part.label.width, 2 * RADIUS) / 2 + GAP for part, at, _ in row(parts)), default=0.0)


def _link_widths(node: Node) -> list[float]:
    """Widths of the columns of the links to a bus; the last one also holds the label of the bus."""
    texts = [BESIDE + link.label.width for link in node.links]
    texts[-1] = max(texts[-1], CLEAR + node.bus.label.width)
    return [PAD + text + GAP for text in texts]


def _upper_width(node: Node) -> float:
    first = sum(_link_widths(node)) if node.links and not node.only_feeds else 0.0 if node.links else node.bus.label.width + GAP
    return first + _row_width(node.above) + sum(map(width, node.ups))


def _lower_width(node: Node) -> float:
    first = sum(_link_widths(node)) if node.links and node.only_feeds else 0.0
    return first + _row_width(node.below) + sum(map(width, node.downs))


def width(node: Node) -> float:
    """Width of the strip that a bus and everything behind it takes."""
    return max(_upper_width(node), _lower_width(node))


# ---- drawing ----

def draw(network: Network):
    """The diagram as a figure that is just large enough for it."""
    roots = trees(network)
    levels = _levels(roots)
    wide = sum(map(width, roots)) + 2 * GAP * (len(roots) - 1)
    top = max(map(_top, roots))
    bottom = min(_bottom(root, levels, 0) for root in roots)
    side = max(0.0, NARROWEST - wide) / 2 + EDGE
    drawn, axes = tools.new_axes((wide + 2 * side) / 72, (top - bottom + 2 * EDGE) / 72)
    drawn.subplots_adjust(left=0, right=1, bottom=0, top=1)
    axes.set_axis_off()
    axes.set_xlim(-side, wide + side)
    axes.set_ylim(bottom - EDGE, top + EDGE)
    left = 0.0
    for root in roots:
        _draw_root(axes, root, left, levels)
        left += width(root) + 2 * GAP
    return drawn


def _top(root: Node) -> float:
    return max(_height_above(root), root.bus.label.height + 2 * CLEAR)


def _bottom(node: Node, levels: list[float], rank: int) -> float:
    hanging = [levels[rank] - part_height(node.bus, part) - tier for part, _, tier in row(node.below)]
    return min([levels[rank] - CLEAR, *hanging, *(_bottom(down, levels, rank + 1) for down in node.downs)])


def _draw_root(axes, root: Node, left: float, levels: list[float]) -> None:
    """The first bus of a tree: its label stands above the bar at the left, the shorter of both sides in the middle of the longer."""
    upper, lower = (left + (width(root) - side) / 2 for side in (_upper_width(root), _lower_width(root)))
    _write(axes, upper, CLEAR, root.bus.label, "left", "bottom")
    ends = [upper, upper + root.bus.label.width]
    ends += _draw_above(axes, root, upper + root.bus.label.width + GAP, 0.0)
    ends += _draw_below(axes, root, lower, levels, 0)
    symbols.busbar(axes, min(ends), max(ends), 0.0)


def _draw_down(axes, before: Bus, node: Node, left: float, levels: list[float], rank: int) -> list[float]:
    """A bus below the one before it; yields where its links reach the bar of the bus before."""
    y = levels[rank]
    places = _draw_links(axes, before, node, left, levels[rank - 1], y)
    ends = [places[0] - CLEAR, places[-1] + CLEAR + node.bus.label.width]
    ends += _draw_above(axes, node, left + sum(_link_widths(node)), y) + _draw_below(axes, node, left, levels, rank)
    symbols.busbar(axes, min(ends), max(ends), y)
    return places


def _draw_up(axes, before: Bus, node: Node, left: float, low: float, high: float) -> list[float]:
    """A bus that only feeds, above the one before it."""
    places = _draw_links(axes, before, node, left, low, high)
    ends = [places[0] - CLEAR, places[-1] + CLEAR + node.bus.label.width] + _draw_above(axes, node, left, high)
    symbols.busbar(axes, min(ends), max(ends), high)
    return places


def _draw_above(axes, node: Node, left: float, y: float) -> list[float]:
    """Sets, supplies and feeding buses on a bar, from `left`; yields the ends that the bar must reach."""
    ends = _draw_row(axes, node.bus, node.above, left, y, 1)
    left += _row_width(node.above)
    high = y + max((_link_height(node.bus, up) for up in node.ups), default=0.0)
    for up in node.ups:
        ends += _margins(_draw_up(axes, node.bus, up, left, y, high))
        left += width(up)
    return ends


def _draw_below(axes, node: Node, left: float, levels: list[float], rank: int) -> list[float]:
    """Buses and motors under a bar, from `left`; yields the ends that the bar must reach."""
    ends: list[float] = []
    for down in node.downs:
        ends += _margins(_draw_down(axes, node.bus, down, left, levels, rank + 1))
        left += width(down)
    return ends + _draw_row(axes, node.bus, node.below, left, levels[rank], -1)


def _margins(places: list[float]) -> list[float]:
    return [place + side for place in places for side in (-2 * CLEAR, 2 * CLEAR)]


def _draw_row(axes, bus: Bus, parts: tuple[Part, ...], left: float, y: float, way: int) -> list[float]:
    """Parts along a bar, above it for `way` 1 and below it for −1."""
    placed = row(parts)
    for part, at, tier in placed:
        _draw_part(axes, bus, part, left + at, y, way, tier)
    return _margins([left + at for _, at, _ in placed])


def _draw_part(axes, bus: Bus, part: Part, x: float, y: float, way: int, tier: float) -> None:
    near = _connection(axes, bus, x, y, way)
    middle = y + way * (_stub(bus) + tier + RADIUS)
    half = symbols.INFEED / 2 * SIZE if part.kind == "grid_infeed" else RADIUS
    if part.kind == "onward":
        symbols.arrow(axes, x, near, middle + way * half)
    else:
        symbols.upright(axes, x, near, middle - way * half)
    if part.kind == "grid_infeed":
        symbols.supply(axes, x, middle, SIZE)
    elif part.kind != "onward":
        symbols.machine(axes, x, middle, "G" if part.kind == "generator" else "M", SIZE)
    _write(axes, x, middle + way * (RADIUS + CLEAR), part.label, "center", "bottom" if way > 0 else "top")


def _connection(axes, bus: Bus, x: float, y: float, way: int) -> float:
    """From a bar through its breaker, if it has breakers; yields where the connection goes on."""
    if not bus.breakers:
        return y
    symbols.upright(axes, x, y, y + way * CLEAR)
    symbols.circuit_breaker(axes, x, min(y + way * CLEAR, y + way * (CLEAR + CONTACT)), SIZE)
    return y + way * (CLEAR + CONTACT)


def _draw_links(axes, before: Bus, node: Node, left: float, near: float, far: float) -> list[float]:
    """The links from the bar of the bus before, at height `near`, to the bar of a bus at `far`, side by side; the label of the bus at the last of them."""
    way, places = (1 if far > near else -1), []
    for link, wide in zip(node.links, _link_widths(node)):
        places.append(left + PAD)
        _draw_link(axes, (before, node.bus), link, places[-1], near, far, near + way * _link_middle(before, link))
        left += wide
    _write(axes, places[-1] + CLEAR, far - way * CLEAR, node.bus.label, "left", "bottom" if way < 0 else "top")
    return places


def _draw_link(axes, buses: tuple[Bus, Bus], link: Link, x: float, near: float, far: float, middle: float) -> None:
    way = 1 if far > near else -1
    start, end = _connection(axes, buses[0], x, near, way), _connection(axes, buses[1], x, far, -way)
    if link.kind == "transformer":
        symbols.upright(axes, x, start, middle - way * WINDINGS / 2)
        symbols.upright(axes, x, middle + way * WINDINGS / 2, end)
        symbols.transformer(axes, x, middle + WINDINGS / 2, SIZE)
    else:
        symbols.upright(axes, x, start, end)
    _write(axes, x + (BESIDE if link.kind == "transformer" else CLEAR), middle, link.label, "left", "center")


def _write(axes, x: float, y: float, words: Label, across: str, along: str) -> None:
    axes.text(x, y, "\n".join(words.lines), ha=across, va=along, multialignment=across, fontsize=TEXT, linespacing=1.05)
