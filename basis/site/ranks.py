"""The buses of a network ranked from its sets: a tree for each part that holds together, with rings opened.

The bus nearest to all sets comes first; every other one stands behind the bus through which it is reached.
"""
from __future__ import annotations

from dataclasses import dataclass

from basis.site.labels import Label, label

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
    closing = [link for link in network.links if not _in_tree(link, before) and link.one in before | dict.fromkeys(before.values(), "")]
    ends = tuple(Part("onward", bus, _joined(link.label, label("part", f"to {network.buses[link.far(bus)].label.lines[0]}")))
                 for link in closing for bus in (link.one, link.other))
    return Network(network.buses, tuple(link for link in network.links if link not in closing), network.parts + ends)


def _joined(first: Label, second: Label) -> Label:
    return Label(first.lines + second.lines, max(first.width, second.width), first.values + second.values)


def _node(network: Network, before: dict[str, str], bus: str, links: tuple[Link, ...]) -> Node:
    parts = [part for part in network.parts if part.bus == bus]
    behind = [_node(network, before, other, tuple(link for link in network.links if {link.one, link.other} == {bus, other}))
              for other in before if before[other] == bus]
    return Node(network.buses[bus], links, tuple(part for part in parts if part.kind in SOURCES), tuple(part for part in parts if part.kind not in SOURCES),
                tuple(node for node in behind if node.only_feeds), tuple(node for node in behind if not node.only_feeds))
