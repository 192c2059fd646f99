"""A decision diagram of a fault tree: exact chances and minimal cut sets where events are shared, without going through all states.

A node asks one event and goes on to what holds if it occurs or not; equal parts are kept once. Trees hold no negation, so every function here
rises with its events. Knows nothing of Terms. Left out: reordering of the events while the diagram is built.
"""

import math
from dataclasses import dataclass, field

import numpy as np

NO, YES = 0, 1  # of functions: never, always. Of families of cut sets: none at all, the empty one
NODES_MOST = 300_000
LAST = math.inf


@dataclass
class Diagram:
    """Functions and families of cut sets over events that are asked in the order of their numbers. `nodes`: (event, if it occurs, if not)."""

    nodes: list = field(default_factory=lambda: [(LAST, NO, NO), (LAST, YES, YES)])
    places: dict = field(default_factory=dict)
    done: dict = field(default_factory=dict)

    def node(self, event, high: int, low: int) -> int:
        """The node of a function, the same for the same three. Raises ValueError when the diagram grows beyond all use."""
        return low if high == low else self._place(event, high, low)

    def family(self, event, high: int, low: int) -> int:
        """The node of a family: the cut sets of `high` with the event, and those of `low`."""
        return low if high == NO else self._place(event, high, low)

    def _place(self, event, high: int, low: int) -> int:
        if (event, high, low) not in self.places:
            if len(self.nodes) >= NODES_MOST:
                raise ValueError("the fault tree is too entangled for an exact result; draw what is shared as an event of its own")
            self.places[event, high, low] = len(self.nodes)
            self.nodes.append((event, high, low))
        return self.places[event, high, low]

    def event(self, event: int) -> int:
        """The function that is true if the event occurs."""
        return self.node(event, YES, NO)

    def either(self, one: int, other: int) -> int:
        """True if one of two functions is."""
        if YES in (one, other) or one == other:
            return YES if YES in (one, other) else one
        return one + other if NO in (one, other) else self._joined("either", self.either, *sorted((one, other)))

    def both(self, one: int, other: int) -> int:
        """True if two functions are."""
        if NO in (one, other) or one == other:
            return NO if NO in (one, other) else one
        return max(one, other) if one == YES or other == YES else self._joined("both", self.both, *sorted((one, other)))

    def _joined(self, name: str, join, one: int, other: int) -> int:
        key = (name, one, other)
        if key not in self.done:
            event = min(self.nodes[one][0], self.nodes[other][0])
            (one_high, one_low), (other_high, other_low) = self._split(one, event), self._split(other, event)
            self.done[key] = self.node(event, join(one_high, other_high), join(one_low, other_low))
        return self.done[key]

    def _split(self, node: int, event) -> tuple[int, int]:
        asked, high, low = self.nodes[node]
        return (high, low) if asked == event else (node, node)

    def at_least(self, least: int, functions: list[int]) -> int:
        """True if so many of the functions are."""
        found = [YES] + [NO] * least  # by how many are still wanted
        for one in functions:
            found = [YES] + [self.either(found[wanted], self.both(one, found[wanted - 1])) for wanted in range(1, least + 1)]
        return found[least]

    # ---- minimal cut sets ----

    def cut_sets(self, node: int) -> int:
        """Family of the least sets of events with which a function is true."""
        key = ("cut", node)
        if node > YES and key not in self.done:
            event, high, low = self.nodes[node]
            self.done[key] = self.family(event, self._without(self.cut_sets(high), low), self.cut_sets(low))
        return self.done.get(key, node)

    def _without(self, sets: int, function: int) -> int:
        """The sets of a family with which a function is not true already."""
        if function == YES or sets == NO:
            return NO
        if function == NO or sets == YES:
            return sets
        key = ("without", sets, function)
        if key not in self.done:
            (event, high, low), (asked, holds, holds_not) = self.nodes[sets], self.nodes[function]
            if event < asked:
                found = self.family(event, self._without(high, function), self._without(low, function))
            elif event > asked:
                found = self._without(sets, holds_not)
            else:
                found = self.family(event, self._without(high, holds), self._without(low, holds_not))
            self.done[key] = found
        return self.done[key]

    def holding(self, sets: int, event: int) -> int:
        """The sets of a family that hold an event."""
        asked, high, low = self.nodes[sets]
        if asked > event:
            return NO
        key = ("holding", sets, event)
        if key not in self.done:
            self.done[key] = self.family(event, high, NO) if asked == event else self.family(asked, self.holding(high, event), self.holding(low, event))
        return self.done[key]

    def union(self, sets: int) -> int:
        """The function that is true if all events of any set of a family occur."""
        key = ("union", sets)
        if sets > YES and key not in self.done:
            event, high, low = self.nodes[sets]
            rest = self.union(low)
            self.done[key] = self.node(event, self.either(self.union(high), rest), rest)
        return self.done.get(key, sets)

    # ---- numbers ----

    def chances(self, chance) -> list:
        """Chance of each node, read as a function, from the chances of the events; nodes come after those that they lead to."""
        found, chance = [0.0, 1.0], np.asarray(chance).tolist()  # Python's floats: each is asked for many times
        for event, high, low in self.nodes[2:]:
            found.append(chance[event] * found[high] + (1 - chance[event]) * found[low])
        return found

    def slopes(self, node: int, chance, found: list) -> np.ndarray:
        """P(function | event) − P(function | no event) for each event."""
        reach, slopes = {node: 1.0}, np.zeros(len(chance))
        for place in self._below(node):
            event, high, low = self.nodes[place]
            slopes[event] += reach[place] * (found[high] - found[low])
            reach[high] = reach.get(high, 0.0) + reach[place] * chance[event]
            reach[low] = reach.get(low, 0.0) + reach[place] * (1 - chance[event])
        return slopes

    def _below(self, node: int) -> list[int]:
        """The node and all to which it leads, those first that lead to others."""
        seen, waiting = set(), [node]
        while waiting:
            place = waiting.pop()
            if place > YES and place not in seen:
                seen.add(place)
                waiting += self.nodes[place][1:]
        return sorted(seen, reverse=True)

    def size(self, node: int) -> int:
        """Nodes of a function or family."""
        return len(self._below(node))

    def added(self, sets: int, weight) -> float:
        """Sum over the sets of a family of the product of the weights of their events; their number where each weighs one."""
        found = {NO: 0.0, YES: 1.0}
        for place in reversed(self._below(sets)):
            event, high, low = self.nodes[place]
            found[place] = weight[event] * found[high] + found[low]
        return found[sets]

    def singles(self, sets: int) -> int:
        """Sets of one event in a family of least sets: a set of one event leaves no other with it."""
        count = 0
        while sets > YES:
            _, high, sets = self.nodes[sets]
            count += high == YES
        return count

    def likeliest(self, sets: int, chance, most: int) -> list[tuple[float, tuple[int, ...]]]:
        """The likeliest sets of a family, each with its chance and events, the likeliest first."""
        found = {NO: [], YES: [(1.0, ())]}
        for place in reversed(self._below(sets)):
            event, high, low = self.nodes[place]
            with_it = [(chance[event] * each, (event, *events)) for each, events in found[high]]
            found[place] = sorted([*with_it, *found[low]], key=lambda one: (-one[0], len(one[1]), one[1]))[:most]
        return found[sets]
