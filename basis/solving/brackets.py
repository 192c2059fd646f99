"""Trials of a number that is moved, and the brackets in which a verdict turns, made narrower and narrower.

A bracket has an inner end, at which no verdict is other than in the book, and an outer one, at which some are.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from basis.solving.movers import Mover
from basis.solving.verdict import SAME, Verdict

SIDE = 16  # trial values to either side in the first scan, in geometric steps
CLOSE = (0.8, 0.9, 0.97, 0.99)  # of the way to nought: where a share of a number is left, in steps of its own
SCANNED, STEPPED = 9, 1  # trial values in a bracket at one time, of what is run all at once and of what is run one by one
NEAR = {SCANNED: 1e-4, STEPPED: 1.5e-3}  # of a number: how narrowly its turning value is enclosed, so that the middle is half as far off at most
LEAST = 1e-4  # of a number or a step: smaller turning values are enclosed no more narrowly than this one


def scan(mover: Mover) -> np.ndarray:
    """Trial values: geometric steps from a tenth of a small step to either end of the range, the small step itself, and nought approached by a share."""
    sides = []
    for end in (mover.low, mover.high):
        if end:
            first = min(mover.step / 10, abs(end) / SIDE)
            sides += [math.copysign(1, end) * np.append(np.geomspace(first, abs(end), SIDE), min(mover.step, abs(end)))]
    if mover.share and mover.low == -1:
        sides.append(-np.array(CLOSE))
    ts = np.concatenate(sides)
    return np.unique(np.round(ts) if mover.term.whole else ts)


@dataclass(frozen=True)
class Trial:
    """Margins of checks (rows) at each t (columns), not a number where there is none; and which t are possible at all."""

    verdicts: tuple[Verdict, ...]
    ts: np.ndarray
    margins: np.ndarray
    possible: np.ndarray

    def only(self, place: int) -> Trial:
        """That of one t alone."""
        return Trial(self.verdicts, self.ts[[place]], self.margins[:, [place]], self.possible[[place]])

    def _side(self, sign: int) -> np.ndarray:
        """Places of the t on one side of nought, outwards, up to the last that can be reached: nothing is beyond one that is not possible."""
        places = np.argsort(np.abs(self.ts), kind="stable")
        places = places[self.ts[places] * sign > 0]
        bad = np.flatnonzero(~self.possible[places])
        return places[:bad[0]] if bad.size else places

    @cached_property
    def _turned(self) -> np.ndarray:
        """Where a margin says otherwise than the verdict."""
        fails = np.array([one.word == "fails" for one in self.verdicts])
        return ~np.isnan(self.margins) & ((self.margins < -SAME) != fails[:, None])

    def ends(self) -> tuple[float, float]:
        """How far down and up every t is possible."""
        return float(min(self.ts[self._side(-1)], default=0.0)), float(max(self.ts[self._side(1)], default=0.0))

    def effects(self, step: float) -> dict[str, float]:
        """What one step up does to each margin; a step down, with the sign turned, where there is no way up."""
        for t in (step, -step):
            places = np.flatnonzero(np.isclose(self.ts, t))
            if places.size and self.possible[places[0]]:
                moved = (self.margins[:, places[0]] - [one.margin for one in self.verdicts]) * np.sign(t)
                return {one.check.id: float(change) for one, change in zip(self.verdicts, moved) if np.isfinite(change) and abs(change) > SAME}
        return {}

    def brackets(self) -> list[Bracket]:
        """For either side the first t at which a verdict is another, with the t before it."""
        start = np.array([one.margin for one in self.verdicts])
        return [found for sign in (-1, 1) if (found := self._first(self._side(sign), 0.0, start))]

    def bracket(self, inner: float, near: np.ndarray) -> Bracket | None:
        """The first t, outwards from an inner one with its margins, at which a verdict is another."""
        return self._first(np.argsort(np.abs(self.ts - inner), kind="stable"), inner, near)

    def _first(self, places: np.ndarray, inner: float, near: np.ndarray) -> Bracket | None:
        turned = self._turned
        for place in places:
            if turned[:, place].any():
                rows = np.flatnonzero(turned[:, place])
                return Bracket(tuple(self.verdicts[row] for row in rows), inner, float(self.ts[place]), near[rows], self.margins[rows, place])
            known = np.isfinite(self.margins[:, place])
            if known.any():
                inner, near = float(self.ts[place]), np.where(known, self.margins[:, place], near)
        return None


@dataclass(frozen=True)
class Bracket:
    """Two t between which verdicts turn, with their margins at both ends; `moved` is the end that a lone trial value has replaced last."""

    verdicts: tuple[Verdict, ...]
    inner: float
    outer: float
    near: np.ndarray
    far: np.ndarray
    moved: str = ""

    @property
    def middle(self) -> float:
        """The best that is known of the turning value."""
        return (self.inner + self.outer) / 2

    @property
    def first(self) -> Verdict:
        """The verdict that turns first."""
        return self.verdicts[int(np.argmin(self._shares))]

    @property
    def _shares(self) -> np.ndarray:
        """The share of the way at which a straight line says that a margin is used up; half of it where an end stands on the limit itself, as what is sized
        to it does up to where it jumps.
        """
        gap = self.near - self.far
        with np.errstate(all="ignore"):
            return np.where(np.isfinite(gap) & (np.minimum(np.abs(self.near), np.abs(self.far)) > SAME), self.near / gap, 0.5)

    def narrow(self, mover: Mover, points: int) -> bool:
        """Whether the turning value is known well enough."""
        if mover.term.whole:
            return abs(self.outer - self.inner) <= 1
        size = max(abs(1 + self.outer), LEAST) if mover.share else max(abs(self.outer), mover.step * LEAST)
        return abs(self.outer - self.inner) <= NEAR[points] * size

    def trials(self, mover: Mover, points: int) -> np.ndarray:
        """Values between the two ends: one where a straight line says that the margin is used up, or several, evenly and round that place."""
        share = float(np.min(self._shares))
        shares = np.array([np.clip(share, 0.01, 0.99)])
        if points > 1:
            shares = np.concatenate([np.linspace(0, 1, points - 3)[1:-1], np.clip(share + np.array([-0.02, -0.0005, 0.0, 0.0005, 0.02]), 0.0001, 0.9999)])
        ts = self.inner + (self.outer - self.inner) * np.unique(shares)
        return np.unique(np.clip(np.round(ts), *sorted((self.inner + 1, self.outer - 1), key=float))) if mover.term.whole else ts

    def narrowed(self, trial: Trial) -> Bracket:
        """The bracket made narrower by trial values that lie in it. A lone value that replaces the same end again halves the margin at the other one."""
        lone = len(trial.ts) == 1
        if found := trial.bracket(self.inner, self.near):
            if not lone or found.inner != self.inner:
                return found
            halved = found.near / 2 if self.moved == "outer" else found.near
            return Bracket(found.verdicts, found.inner, found.outer, halved, found.far, "outer")
        place = int(np.argmax(np.abs(trial.ts - self.inner)))
        near = np.where(np.isfinite(trial.margins[:, place]), trial.margins[:, place], self.near)
        return Bracket(self.verdicts, float(trial.ts[place]), self.outer, near, self.far / 2 if lone and self.moved == "inner" else self.far, "inner")

