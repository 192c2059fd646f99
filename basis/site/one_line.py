"""One-line diagram of any network: everything that is ranked is given a place, and drawn.

A bus hangs below the one through which the sets reach it; what only feeds (sets, supplies, and buses with nothing else) stands above its bus. Every
bus keeps its parts and the buses behind it in a strip of its own, so that a network without rings is drawn without crossings; a link that closes a
ring ends in an arrow at both of its buses. Rows that would grow too long for paper stand in tiers. Lengths are in points.
"""
from __future__ import annotations

from basis.site import figure as tools
from basis.site import symbol_drawing as symbols
from basis.site.labels import LINE, TEXT, Label
from basis.site.ranks import Bus, Link, Network, Node, Part, trees

PAD, GAP, CLEAR = 13.0, 9.0, 5.0        # left of a link, between columns, between a line and anything else
BESIDE = 12.0                           # from a link to its text, wider than half a transformer
ROW, FEEDING, NARROWEST, EDGE = 215.0, 440.0, 180.0, 6.0  # longest level rows of parts and of feeding buses; narrowest drawing; margin
STAIR = PAD + CLEAR                     # from the connection of a feeding bus to that of the next one within a stair
CONTACT, RADIUS, WINDINGS = symbols.height("circuit_breaker"), symbols.height("set") / 2, symbols.height("transformer")
SYMBOL = {"generator": "set", "grid_infeed": "supply", "motor_group": "ac_motor"}


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
    ups = [_up_height(node.bus, up) + _stair_height(node) * tier for up, _, tier in stairs(node.ups)]
    return max(parts + ups, default=0.0)


def _up_height(before: Bus, up: Node) -> float:
    return _link_height(before, up) + _height_above(up)


def _stair_height(node: Node) -> float:
    """How much further out a feeding bus stands than the next one within its stair."""
    return max((_up_height(node.bus, up) for up in node.ups), default=0.0) + 2 * CLEAR


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


def stairs(ups: tuple[Node, ...]) -> list[tuple[Node, float, int]]:
    """Each feeding bus with its left edge and its tier: side by side in a short row; in stairs in a long one, as many buses in each as that row asks for."""
    deep = 1
    while deep < len(ups) and _right_edge(_stairs(ups, deep)) > FEEDING:
        deep += 1
    return _stairs(ups, deep)


def _stairs(ups: tuple[Node, ...], deep: int) -> list[tuple[Node, float, int]]:
    """Stairs of `deep` buses, in each the outermost first, so that its connection passes at the left of the labels of those nearer to the bar."""
    placed: list[tuple[Node, float, int]] = []
    for first in range(0, len(ups), deep):
        stair, left = ups[first:first + deep], _right_edge(placed)
        for place, up in enumerate(stair):
            placed.append((up, left, len(stair) - 1 - place))
            left += sum(_link_widths(up)[:-1]) + STAIR
    return placed


def _right_edge(placed: list[tuple[Node, float, int]]) -> float:
    return max((left + width(up) for up, left, _ in placed), default=0.0)


def _row_width(parts: tuple[Part, ...]) -> float:
    return max((at + max(part.label.width, 2 * RADIUS) / 2 + GAP for part, at, _ in row(parts)), default=0.0)


def _link_widths(node: Node) -> list[float]:
    """Widths of the columns of the links to a bus; the last one also holds the label of the bus."""
    texts = [BESIDE + link.label.width for link in node.links]
    texts[-1] = max(texts[-1], CLEAR + node.bus.label.width)
    return [PAD + text + GAP for text in texts]


def _upper_width(node: Node) -> float:
    first = sum(_link_widths(node)) if node.links and not node.only_feeds else 0.0 if node.links else node.bus.label.width + GAP
    return first + _row_width(node.above) + _right_edge(stairs(node.ups))


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


def _draw_up(axes, before: Bus, node: Node, left: float, low: float, high: float, further: float) -> list[float]:
    """A bus that only feeds, above the one before it, with what is in its links `further` out."""
    places = _draw_links(axes, before, node, left, low, high, further)
    ends = [places[0] - CLEAR, places[-1] + CLEAR + node.bus.label.width] + _draw_above(axes, node, left, high)
    symbols.busbar(axes, min(ends), max(ends), high)
    return places


def _draw_above(axes, node: Node, left: float, y: float) -> list[float]:
    """Sets, supplies and feeding buses on a bar, from `left`; yields the ends that the bar must reach."""
    ends = _draw_row(axes, node.bus, node.above, left, y, 1)
    left += _row_width(node.above)
    high = y + max((_link_height(node.bus, up) for up in node.ups), default=0.0)
    for up, at, tier in stairs(node.ups):
        further = _stair_height(node) * tier
        ends += _margins(_draw_up(axes, node.bus, up, left + at, y, high + further, further))
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
    if part.kind == "onward":
        symbols.arrow(axes, x, near, middle + way * RADIUS)
    else:
        symbols.upright(axes, x, near, middle - way * symbols.height(SYMBOL[part.kind]) / 2)
        symbols.symbol(axes, SYMBOL[part.kind], x, middle)
    _write(axes, x, middle + way * (RADIUS + CLEAR), part.label, "center", "bottom" if way > 0 else "top")


def _connection(axes, bus: Bus, x: float, y: float, way: int) -> float:
    """From a bar through its breaker, if it has breakers; yields where the connection goes on."""
    if not bus.breakers:
        return y
    symbols.upright(axes, x, y, y + way * CLEAR)
    symbols.symbol(axes, "circuit_breaker", x, y + way * (CLEAR + CONTACT / 2))
    return y + way * (CLEAR + CONTACT)


def _draw_links(axes, before: Bus, node: Node, left: float, near: float, far: float, further: float = 0.0) -> list[float]:
    """The links from the bar of the bus before, at height `near`, to the bar of a bus at `far`, side by side; the label of the bus at the last of them."""
    way, places = (1 if far > near else -1), []
    for link, wide in zip(node.links, _link_widths(node)):
        places.append(left + PAD)
        _draw_link(axes, (before, node.bus), link, places[-1], near, far, near + way * (further + _link_middle(before, link)))
        left += wide
    _write(axes, places[-1] + CLEAR, far - way * CLEAR, node.bus.label, "left", "bottom" if way < 0 else "top")
    return places


def _draw_link(axes, buses: tuple[Bus, Bus], link: Link, x: float, near: float, far: float, middle: float) -> None:
    way = 1 if far > near else -1
    start, end = _connection(axes, buses[0], x, near, way), _connection(axes, buses[1], x, far, -way)
    if link.kind == "transformer":
        symbols.upright(axes, x, start, middle - way * WINDINGS / 2)
        symbols.upright(axes, x, middle + way * WINDINGS / 2, end)
        symbols.symbol(axes, "transformer", x, middle)
    else:
        symbols.upright(axes, x, start, end)
    _write(axes, x + (BESIDE if link.kind == "transformer" else CLEAR), middle, link.label, "left", "center")


def _write(axes, x: float, y: float, words: Label, across: str, along: str) -> None:
    """Lines of text at even distances, whatever letters are in them; `along` says which end of the block stands at `y`."""
    top = y + words.height * {"top": 0.0, "center": 0.5, "bottom": 1.0}[along]
    for number, (line, value_id) in enumerate(zip(words.lines, words.values)):
        axes.text(x, top - LINE * (number + 0.75), line, ha=across, va="baseline", fontsize=TEXT, url=tools.leads_to(value_id))
