"""Algebra of a three-phase network in one sequence: admittance matrix, its inverse, and currents of a fault at every bus.

Ohms and volts as they are, each bus at its own voltage; a transformer is an ideal ratio and an impedance on its low side.
Loads, line capacitance and magnetising current are left out, as a short-circuit calculation does.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from basis.language.faults import ItemTrouble

PATH_TOLERANCE = 1e-9  # a branch that carries less than this share of the fault current feeds nothing


@dataclass(frozen=True)
class Branches:
    """Transformers and feeders alike: from bus `high` to bus `low`, ratio of rated voltages high to low, impedance in ohms at the low side."""

    high: np.ndarray
    low: np.ndarray
    ratio: np.ndarray
    impedance: np.ndarray

    def only(self, chosen) -> Branches:
        """The branches that are in service."""
        return Branches(self.high[chosen], self.low[chosen], self.ratio[chosen], self.impedance[chosen])


@dataclass(frozen=True)
class Sources:
    """What feeds a fault: a voltage behind an impedance in ohms at a bus."""

    bus: np.ndarray
    impedance: np.ndarray

    def only(self, chosen) -> Sources:
        """The sources that run."""
        return Sources(self.bus[chosen], self.impedance[chosen])


@dataclass(frozen=True)
class Solved:
    """A network and the inverse of its admittance matrix over the buses that some source reaches; zero elsewhere."""

    branches: Branches
    sources: Sources
    turns: np.ndarray
    live: np.ndarray
    impedance: np.ndarray
    residual: float

    @property
    def driving(self) -> np.ndarray:
        """Impedance seen from each bus; not a number where no source reaches."""
        return np.where(self.live, np.diagonal(self.impedance), np.nan)


def solve(branches: Branches, sources: Sources, turns: np.ndarray) -> Solved:
    """Build the admittance matrix, invert it where it is live, and keep how far the result is from Kirchhoff's law."""
    count = len(turns)
    matrix, live = admittance(count, branches, sources), reached(count, branches, sources.bus)
    places = np.flatnonzero(live)
    impedance, residual = np.zeros((count, count), dtype=complex), 0.0
    if len(places):
        impedance[np.ix_(places, places)] = np.linalg.inv(matrix[np.ix_(places, places)])
        residual = unbalance(branches, sources, impedance, live)
    return Solved(branches, sources, turns, live, impedance, residual)


def unbalance(branches: Branches, sources: Sources, impedance: np.ndarray, live: np.ndarray) -> float:
    """Largest current that is missing at any bus when one ampere is fed into each bus in turn: Y·Z − 1, added up branch by branch.

    It does not use the matrix, so a branch that was put into the matrix wrongly shows too. A matrix product would be shorter, but
    one as small as this may wait for threads a hundred times longer than it computes.
    """
    high, low, ratio = branches.high, branches.low, branches.ratio[:, None]
    through = (impedance[low] - impedance[high] / ratio) / branches.impedance[:, None]
    leaving = -np.diag(live.astype(complex))
    np.add.at(leaving, low, through)
    np.add.at(leaving, high, -through / ratio)
    np.add.at(leaving, sources.bus, impedance[sources.bus] / sources.impedance[:, None])
    return float(np.abs(leaving).max())


def admittance(count: int, branches: Branches, sources: Sources) -> np.ndarray:
    """Admittance matrix in siemens, each bus at its own voltage."""
    matrix = np.zeros((count, count), dtype=complex)
    series, high, low = 1 / branches.impedance, branches.high, branches.low
    np.add.at(matrix, (low, low), series)
    np.add.at(matrix, (high, high), series / branches.ratio**2)
    np.add.at(matrix, (high, low), -series / branches.ratio)
    np.add.at(matrix, (low, high), -series / branches.ratio)
    np.add.at(matrix, (sources.bus, sources.bus), 1 / sources.impedance)
    return matrix


def reached(count: int, branches: Branches, start) -> np.ndarray:
    """Which buses are joined, through branches, to one of the buses `start`."""
    live = np.zeros(count, dtype=bool)
    live[start] = True
    while True:
        either = live[branches.high] | live[branches.low]
        before = live.sum()
        live[branches.high[either]] = True
        live[branches.low[either]] = True
        if live.sum() == before:
            return live


def at_frequency(solved: Solved, share: float) -> Solved:
    """The same network with every reactance at `share` of its frequency."""
    def slowed(impedance):
        return impedance.real + 1j * share * impedance.imag

    branches = replace(solved.branches, impedance=slowed(solved.branches.impedance))
    return solve(branches, Sources(solved.sources.bus, slowed(solved.sources.impedance)), solved.turns)


def fault_currents(solved: Solved, voltage) -> np.ndarray:
    """Complex current of a three-phase fault at each bus for the phase voltage that drives it there; zero where nothing feeds it."""
    return np.divide(voltage, solved.driving, out=np.zeros(len(solved.live), dtype=complex), where=solved.live)


def source_currents(solved: Solved, fault) -> np.ndarray:
    """Complex current that each source gives, in its own amperes, for a fault at each bus: (bus, source)."""
    return solved.impedance[solved.sources.bus, :].T / solved.sources.impedance * np.asarray(fault)[:, None]


def seen_at_fault(solved: Solved, currents) -> np.ndarray:
    """Currents of sources (bus, source) as they arrive at the fault, through the ratios of the transformers between."""
    return currents * solved.turns[solved.sources.bus] / solved.turns[:, None]


@dataclass(frozen=True)
class Paths:
    """Ways into each bus: its own sources and the branches that end there, each with the current that it brings to a fault at the bus."""

    bus: np.ndarray
    current: np.ndarray


def paths(solved: Solved, voltage) -> Paths:
    """Current into a fault at a bus by each source at the bus and by each branch that ends there."""
    branches, sources, turns = solved.branches.only(solved.live[solved.branches.high]), solved.sources, solved.turns
    here = np.concatenate([branches.high, branches.low])
    there = np.concatenate([branches.low, branches.high])
    transfer = np.tile(1 / (branches.impedance * branches.ratio), 2)
    left = 1 - solved.impedance[there, here] / solved.driving[here] * (turns[here] / turns[there])
    remaining = voltage[here] * turns[there] / turns[here] * left  # voltage at the far end while the fault holds this end at nought
    return Paths(np.concatenate([sources.bus, here]), np.concatenate([voltage[sources.bus] / sources.impedance, transfer * remaining]))


def peak_factor(resistance_ratio):
    """κ of IEC 60909-0 from R/X of the path."""
    return 1.02 + 0.98 * np.exp(-3 * resistance_ratio)


def peak_currents(solved: Solved, slow: Solved, voltage, share: float) -> np.ndarray:
    """Peak of a fault at each bus: the sum of the peaks of all paths into it, each with κ from its own R/X.

    R/X of a path is found in `slow`, the network at the equivalent frequency, `share` of the power frequency, so that paths which join on the way count
    rightly.
    """
    at_power, slowed = paths(solved, voltage), paths(slow, voltage)
    total = np.abs(fault_currents(solved, voltage))
    feeds = np.abs(at_power.current) > PATH_TOLERANCE * total[at_power.bus]
    resistance_ratio = -slowed.current[feeds].real / slowed.current[feeds].imag  # of all that the current comes through
    peaks = np.zeros(len(total))
    np.add.at(peaks, at_power.bus[feeds], peak_factor(resistance_ratio * share) * np.sqrt(2) * np.abs(at_power.current[feeds]))
    return peaks


def equivalent_frequency_peaks(solved: Solved, slow: Solved, voltage, share: float) -> np.ndarray:
    """Peak of a fault at each bus with one κ from R/X of the whole network at the equivalent frequency."""
    ratio = slow.driving.real / slow.driving.imag * share
    return np.where(solved.live, peak_factor(ratio) * np.sqrt(2) * np.abs(fault_currents(solved, voltage)), 0)


def turns_of_buses(count: int, branches: Branches) -> np.ndarray:
    """Voltage of each bus by the ratios of the transformers, as a multiple of that of the first bus of its island."""
    turns = np.full(count, np.nan)
    for first in range(count):
        if not np.isnan(turns[first]):
            continue
        turns[first] = 1.0
        while True:
            known, unknown = ~np.isnan(turns), np.isnan(turns)
            down, up = known[branches.high] & unknown[branches.low], known[branches.low] & unknown[branches.high]
            if not (down.any() or up.any()):
                break
            turns[branches.low[down]] = turns[branches.high[down]] / branches.ratio[down]
            turns[branches.high[up]] = turns[branches.low[up]] * branches.ratio[up]
    return turns


# ---- what may be wrong with a network ----

def loops(count: int, pairs) -> list[int]:
    """Places of the pairs of buses that close a loop; pairs in parallel with an earlier one do not."""
    root, seen, found = list(range(count)), set(), []

    def top(bus):
        while root[bus] != bus:
            bus = root[bus]
        return bus

    for place, (one, other) in enumerate(pairs):
        pair = (min(one, other), max(one, other))
        if pair in seen or one == other:
            continue
        seen.add(pair)
        if top(one) == top(other):
            found.append(place)
        root[top(one)] = top(other)
    return found


def mismatched(term: str, have, voltage, tolerance: float) -> list[ItemTrouble]:
    """Rated voltages that lie further from the voltage of their bus than the tolerance."""
    places = np.flatnonzero(np.abs(have / voltage - 1) > tolerance)
    return [ItemTrouble(term, int(place), f"{have[place]:g} V at a bus of {voltage[place]:g} V", "the voltage of the bus, or another bus",
                        f"{voltage[place]:g} V")
            for place in places]


def unfed(count: int, branches: Branches, sources, motors) -> list[ItemTrouble]:
    """Buses that nothing is connected to, and buses that no set and no supply reaches."""
    touched = np.zeros(count, dtype=bool)
    for places in (branches.high, branches.low, sources, motors):
        touched[places] = True
    live = reached(count, branches, sources)
    found = [ItemTrouble("bus_voltage", int(bus), "nothing is connected to this bus", "a set, a supply, a transformer, a feeder or a motor at the bus")
             for bus in np.flatnonzero(~touched)]
    return found + [ItemTrouble("bus_voltage", int(bus), "no set and no supply reaches this bus", "a transformer or a feeder that leads to a source")
                    for bus in np.flatnonzero(touched & ~live)]
