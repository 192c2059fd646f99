"""Trials of a number that is moved, and the brackets in which a verdict turns, made narrower and narrower.

A bracket has an inner end, at which no verdict is other than in the book, and an outer one, at which some are.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from basis.solving.movers import Mover
from basis.solving.verdict import SAME, Verdict

SIDE = 16  # trial values to either side in the first scan, in geometric steps
CLOSE = (0.8, 0.9, 0.97, 0.99)  # of the way to nought: where a share of a number is left, in steps of its own
SCANNED, STEPPED = 9, 1  # trial values in a bracket at one time, of what is run all at once and of what is run one by one
NEAR = {SCANNED: 1e-4, STEPPED: 1e-3}  # of a number: how narrowly its turning value is enclosed
CLOSING = 0.5  # of what is narrow enough: no lone trial value comes nearer to an end, so that the one beyond the turning value encloses it
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
    """Two t between which verdicts turn, with their margins at both ends; `left` is the end that a lone trial value has replaced last, with its margins."""

    verdicts: tuple[Verdict, ...]
    inner: float
    outer: float
    near: np.ndarray
    far: np.ndarray
    left: tuple[float, np.ndarray] | None = None

    def at(self, mover: Mover) -> float:
        """The best that is known of the turning value: the first whole number beyond it, or where a straight line through both ends says that the margin is
        used up.
        """
        return self.outer if mover.term.whole else self.inner + (self.outer - self.inner) * float(np.min(self._shares))

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
        return abs(self.outer - self.inner) <= (1 if mover.term.whole else self._enough(mover, points))

    def _enough(self, mover: Mover, points: int) -> float:
        """How narrow is narrow enough."""
        return NEAR[points] * (max(abs(1 + self.outer), LEAST) if mover.share else max(abs(self.outer), mover.step * LEAST))

    def trials(self, mover: Mover, points: int) -> np.ndarray:
        """Values between the two ends: one where a curve through what is known says that the margin is used up, or several, evenly and round the place where
        a straight line does.
        """
        if points == 1:
            least = min(CLOSING * self._enough(mover, points) / abs(self.outer - self.inner), 0.5)
            shares = np.array([np.clip(self._curved(), least, 1 - least)])
        else:
            share = float(np.min(self._shares))
            shares = np.concatenate([np.linspace(0, 1, points - 3)[1:-1], np.clip(share + np.array([-0.02, -0.0005, 0.0, 0.0005, 0.02]), 0.0001, 0.9999)])
        ts = self.inner + (self.outer - self.inner) * np.unique(shares)
        return np.unique(np.clip(np.round(ts), *sorted((self.inner + 1, self.outer - 1), key=float))) if mover.term.whole else ts

    def _curved(self) -> float:
        """The share of the way at which the margin of the first verdict is used up: on a straight line through both ends; where a third point is known, on
        the curve through the three.
        """
        row = int(np.argmin(self._shares))
        if self.left is None:
            return float(self._shares[row])
        left, inner, outer = (self.left[0], float(self.left[1][row])), (self.inner, float(self.near[row])), (self.outer, float(self.far[row]))
        if abs(left[0] - self.inner) < abs(left[0] - self.outer):
            return _crossed(left, inner, outer)
        return 1 - _crossed(left, outer, inner)

    def narrowed(self, trial: Trial) -> Bracket:
        """The bracket made narrower by trial values that lie in it."""
        lone = len(trial.ts) == 1
        if found := trial.bracket(self.inner, self.near):
            rows = [row for row, one in enumerate(self.verdicts) if any(one is other for other in found.verdicts)]
            return replace(found, left=(self.outer, self.far[rows])) if lone else found
        place = int(np.argmax(np.abs(trial.ts - self.inner)))
        near = np.where(np.isfinite(trial.margins[:, place]), trial.margins[:, place], self.near)
        return Bracket(self.verdicts, float(trial.ts[place]), self.outer, near, self.far, (self.inner, self.near) if lone else None)


def _crossed(before: tuple[float, float], here: tuple[float, float], there: tuple[float, float]) -> float:
    """The share of the way from the newer end of a bracket to the other one at which a margin is used up; each with its margin, `before` that which the newer
    end has replaced. By Chandrupatla's rule (Advances in Engineering Software 28, 1997; from memory): on the inverse parabola through the three where that is
    sound, else in the middle.

    What is sized to its limit stands on it up to a bend: that is where the straight line on its other side meets the limit.
    """
    (x1, f1), (x2, f2), (x3, f3) = here, there, before
    if not math.isfinite(f1 + f2 + f3) or f3 in (f1, f2):
        return 0.5
    if abs(f1) <= SAME:
        return 0.0  # just met
    if abs(f2) <= SAME:
        share = f1 / (f3 - f1) * (x3 - x1) / (x1 - x2)
        return share if 0 < share < 1 else 0.5
    xi, phi = (x1 - x2) / (x3 - x2), (f1 - f2) / (f3 - f2)
    if phi ** 2 < xi and (1 - phi) ** 2 < 1 - xi:
        return f1 / (f2 - f1) * f3 / (f2 - f3) + (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2)
    return 0.5
