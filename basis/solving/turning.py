"""Turning points: how far an open number may move before a verdict turns, with everything downstream computed again.

Trial values of one number are one more axis of one run. Checks that plain formulas reach are scanned over the whole physical range; those behind a
calculation by steps, which runs once a trial, are looked at in a few places of it and followed along the slope that a small step shows.
"""

from __future__ import annotations

import math
import warnings
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from basis.chapters import catalogue
from basis.language import digests
from basis.language.compiled import Memory
from basis.language.formula import Check
from basis.language.terms import terms
from basis.solving.book import Book
from basis.solving.brackets import SCANNED, STEPPED, Bracket, Trial, scan
from basis.solving.movers import Mover, movers
from basis.solving.rerun import needed, ready
from basis.solving.verdict import SAME, Verdict
from basis.solving.verdicts import sized_for, worst_of_samples

OVERSHOOT = 1.05  # beyond the place where a straight line says that a check turns
LOOKS = 4  # trial values along a slope, after which what has not turned is left
MOST, APART = 0.9, 2.0  # of the way to an end that is looked at, and how many small steps from nought a look is worth its time
KEPT = 16 << 20  # bytes: more than trials hold at once, halved
HOPELESS = 1.5  # ranges away: a slope that turns nothing nearer is not followed


@dataclass(frozen=True)
class Turning:
    """What became of a number that was moved: where the first verdict turns, if any does, and what a small step does to every check.

    `way` is t of the mover at which `check` turns, `at` the SI number there, where one number is moved. `low`, `high`: how far t was taken.
    `effects`: check id -> change of its margin when the number grows by one step.
    """

    mover: Mover
    low: float
    high: float
    reached: int  # checks that it reaches
    check: Check | None = None
    fails: bool = False  # whether the check fails as it stands, and is met beyond the turning point
    way: float = math.inf
    effects: tuple[tuple[str, float], ...] = ()

    @property
    def plain(self) -> list:
        """All but the mover as plain data, with which it can be made again; numbers as text, since not all are finite."""
        return [repr(self.low), repr(self.high), self.reached, self.check.id if self.check else "", self.fails, repr(self.way),
                [[check_id, repr(change)] for check_id, change in self.effects]]

    @classmethod
    def of_plain(cls, mover: Mover, plain: list, checks: dict[str, Check]) -> Turning:
        """The same again. Raises KeyError for a check that is not there."""
        low, high, reached, check_id, fails, way, effects = plain
        return cls(mover, float(low), float(high), reached, checks[check_id] if check_id else None, fails, float(way),
                   tuple((name, float(change)) for name, change in effects))

    @property
    def turns(self) -> bool:
        """Whether any verdict turns within the range."""
        return self.check is not None

    @property
    def at(self) -> float | None:
        """The SI number at which it turns, where one number is moved."""
        return self.mover.number(self.way) if self.turns and self.mover.single else None

    @property
    def rank(self) -> tuple:
        """What comes first turns a verdict soonest, the way measured by what the book calls little of it; a way from nought has no such measure."""
        return (not self.turns, not self.mover.little, abs(self.way) / (self.mover.little or 1.0), not self.reached)


def turnings(book: Book, known: dict | None = None, each: Callable[[Callable, Sequence], Iterable] = map,
             told: Callable[[int, int], None] = lambda done, count: None) -> tuple[Turning, ...]:
    """All open numbers of a book, the one that turns a verdict soonest first, those that turn nothing last.

    `known` is filled with what was found, as plain data, for the next state of the book: a number whose checks rest on the same as before is not
    moved again.
    `each` does a piece of work for every item of a list, in any order. `told` hears of how many numbers the search is done, and of how many there are.
    """
    return begun(book, known, each, told)()


def begun(book: Book, known: dict | None, each: Callable[[Callable, Sequence], Iterable],
          told: Callable[[int, int], None]) -> Callable[[], tuple[Turning, ...]]:
    """The same search, begun where `each` begins its work at once; what is handed back waits for the rest of it."""
    _keep_memory()
    search, every, before = _Search(book), list(movers(book)), dict(known or {})

    def one(place: int) -> tuple[int, str, list]:
        key = "" if known is None else search.key(every[place])
        return place, key, before.get(key) or search.turning(every[place]).plain
    searched = each(one, range(len(every)))

    def ended() -> tuple[Turning, ...]:
        checks, found, kept = {one.check.id: one.check for one in book.checks}, {}, {}
        for done, (place, key, plain) in enumerate(searched, 1):
            found[place], kept[key] = Turning.of_plain(every[place], plain, checks), plain
            told(done, len(every))
        if known is not None:
            known.clear()
            known.update(kept)
        return tuple(sorted((found[place] for place in range(len(every))), key=lambda one: one.rank))
    return ended


def _keep_memory() -> None:
    """One large block, taken and given back: from then on a C library that learns from it keeps twice as much of what is given back for the next trial.

    Otherwise the arrays of a year's hours go back to the system after each trial, and the system clears them anew for the next: half of its time.
    """
    np.empty(KEPT, dtype=np.uint8)


def by_check(found: Sequence[Turning]) -> dict[str, list[tuple[Turning, float]]]:
    """For each check the numbers that move its margin with the change for one small step, the largest first."""
    moved: dict[str, list] = {}
    for one in found:
        for check_id, change in one.effects:
            moved.setdefault(check_id, []).append((one, change))
    return {check_id: sorted(pairs, key=lambda pair: -abs(pair[1])) for check_id, pairs in moved.items()}


@dataclass(frozen=True)
class _Route:
    """What leads from one Term to the checks that it reaches."""

    moved: tuple  # all steps downstream
    scanned: tuple[Verdict, ...]  # reached by formulas and by procedures that take samples
    stepped: tuple[Verdict, ...]  # behind a procedure that runs once a sample
    sound: tuple[Check, ...]  # what must hold, or there is no such plant


@dataclass
class _Search:
    """Trials on one book."""

    book: Book
    memory: Memory = field(default_factory=Memory)
    routes: dict[str, _Route] = field(default_factory=dict)
    runs: dict[tuple, tuple] = field(default_factory=dict)  # Term and what is wanted -> what its steps yield, and their function
    sized: dict[str, tuple] = field(default_factory=dict)  # of each check

    @cached_property
    def verdicts(self) -> list[tuple[frozenset, Verdict]]:
        """What is decided, with the ids of all that decides it."""
        return [(frozenset(one.check.sides), one) for one in self.book.checks if one.decided and not one.check.fault]

    @cached_property
    def sound(self) -> list[tuple[frozenset, Check]]:
        """What the text must keep to, or it is refused."""
        known = [*(one for chapter in self.book.chapters for one in catalogue().checks[chapter.id]), *(one.check for one in self.book.checks)]
        return [(frozenset(one.sides), one) for one in dict.fromkeys(known) if one.fault and {one.value, one.limit} <= self.book.values.keys()]

    def route(self, term_id: str) -> _Route:
        """The checks that a Term reaches."""
        if term_id not in self.routes:
            moved, slow, names = self._downstream(term_id), set(), {term_id}
            for step in moved:
                names.update(step.yields)
                if step.procedure and not step.procedure.sampled or not slow.isdisjoint(step.needs):
                    slow.update(step.yields)
            reached = [(sides, one) for sides, one in self.verdicts if not names.isdisjoint(sides)]
            self.routes[term_id] = _Route(moved, tuple(one for sides, one in reached if slow.isdisjoint(sides)),
                                          tuple(one for sides, one in reached if not slow.isdisjoint(sides)),
                                          tuple(one for sides, one in self.sound if not names.isdisjoint(sides)))
        return self.routes[term_id]

    def _downstream(self, term_id: str) -> tuple:
        """The steps that depend on a Term, in order."""
        found, waiting = set(), [term_id]
        while waiting:
            new = self.users.get(waiting.pop(), set()) - found
            found |= new
            waiting += (name for place in new for name in self.book.steps[place].yields)
        return tuple(self.book.steps[place] for place in sorted(found) if term_id not in self.book.steps[place].yields)

    @cached_property
    def users(self) -> dict[str, set[int]]:
        """Id -> places of the steps that need it."""
        found: dict[str, set] = {}
        for place, step in enumerate(self.book.steps):
            for name in step.needs:
                found.setdefault(name, set()).add(place)
        return found

    def key(self, mover: Mover) -> str:
        """Digest of all on which the search of a mover rests."""
        route, rest = self.route(mover.term.id), self.book.foundations
        sides = [(one.check.id, one.word, *(rest.get(name, "") for name in one.check.sides)) for one in (*route.scanned, *route.stepped)]
        orders = [(one.id, *(rest.get(name, "") for name in one.sides)) for one in route.sound]
        return digests.digest(mover.value_id, mover.standing, mover.base.tobytes().hex(), mover.way.tobytes().hex(), repr(sides), repr(orders))

    def trial(self, mover: Mover, ts: np.ndarray, verdicts: Sequence[Verdict], sound: tuple[Check, ...] = (), bounded: bool = True) -> Trial:
        """Margins of these checks for each t; `bounded`: whether a t may not be possible."""
        yields, run = self._run(mover.term.id, tuple(dict.fromkeys(name for check in (*(one.check for one in verdicts), *sound) for name in check.sides)))
        with warnings.catch_warnings(), np.errstate(all="ignore"):
            warnings.simplefilter("ignore")  # what an extreme value does to the numerics is told by the margins, or by there being none
            return self._tried(ts, run({mover.term.id: mover.at(ts)}), verdicts, sound, yields if bounded else ())

    def _tried(self, ts: np.ndarray, found: dict, verdicts: Sequence[Verdict], sound: tuple[Check, ...], yields: Sequence[str]) -> Trial:
        possible = np.ones(len(ts), dtype=bool)
        for name in yields:
            possible &= _possible(name, found[name])
        for check in sound:
            possible &= ~(self._margins(check, found, False) < -SAME)
        margins = np.array([np.broadcast_to(self._margins(one.check, found, one.relative), len(ts)) for one in verdicts]).reshape(len(verdicts), len(ts))
        return Trial(tuple(verdicts), ts, np.where(possible, margins, np.nan), possible)

    def _run(self, term_id: str, wanted: tuple[str, ...]) -> tuple[tuple[str, ...], Callable]:
        if (term_id, wanted) not in self.runs:
            steps = needed(self.route(term_id).moved, wanted)
            numbers = tuple(name for step in steps for name in step.yields if not terms()[name].is_text)
            self.runs[term_id, wanted] = numbers, ready(self.book, steps, (term_id,), wanted, True, self.memory)
        return self.runs[term_id, wanted]

    def _margins(self, check: Check, found: dict, relative: bool) -> np.ndarray:
        if check.id not in self.sized:
            self.sized[check.id] = sized_for(check, self.book.values)
        return worst_of_samples(check, self.book.values, found, relative, self.sized[check.id])

    def turning(self, mover: Mover) -> Turning:
        """Where the first verdict turns when a number is moved."""
        route = self.route(mover.term.id)
        effects, low, high, best = {}, mover.low, mover.high, None
        if route.scanned or route.stepped and route.sound:
            tried = self.trial(mover, scan(mover), route.scanned, route.sound)
            low, high = tried.ends()
            effects, best = tried.effects(mover.step), self.enclosed(mover, tried.brackets(), SCANNED)
        if route.stepped and low < high:
            slope = _Slope(self, mover, route.stepped, low, high, best)
            effects |= slope.probe.effects(mover.step)
            best, low, high = slope.nearest(), *slope.ends()
        turned = {"check": best.first.check, "fails": best.first.word == "fails", "way": best.at(mover)} if best else {}
        return Turning(mover, low, high, len(route.scanned) + len(route.stepped), effects=tuple(effects.items()), **turned)

    def enclosed(self, mover: Mover, brackets: Sequence[Bracket], points: int) -> Bracket | None:
        """The nearest bracket, narrowed until the turning value is known; one that cannot be the nearest is dropped."""
        while True:
            nearest = min((abs(one.outer) for one in brackets), default=0.0)
            brackets = [one for one in brackets if abs(one.inner) <= nearest]
            if all(one.narrow(mover, points) for one in brackets):
                return min(brackets, key=lambda one: abs(one.at(mover)), default=None)
            brackets = [one if one.narrow(mover, points) else one.narrowed(self.trial(mover, one.trials(mover, points), one.verdicts, bounded=False))
                        for one in brackets]


@dataclass
class _Slope:
    """Checks behind a calculation by steps: looked at in a few places between two t, and followed along their slopes."""

    search: _Search
    mover: Mover
    verdicts: tuple[Verdict, ...]
    low: float
    high: float
    best: Bracket | None  # what is known of others
    looks: list[Trial] = field(default_factory=list)

    def __post_init__(self):
        """A small step, up where there is room for it, and most of the way to either end for what somebody may yet settle otherwise."""
        step = min(self.mover.step, max(-self.low, self.high))
        self._look([step if step <= self.high else -step, *(self._far(_reach([self.best])) if self.mover.wide else ())])

    @cached_property
    def probe(self) -> Trial:
        """That of the small step alone."""
        return self.looks[0].only(int(np.argmin(np.abs(self.looks[0].ts))))

    def ends(self) -> tuple[float, float]:
        """How far down and up it was looked at."""
        ends = [one.ends() for one in self.looks]
        return min(low for low, _ in ends), max(high for _, high in ends)

    def nearest(self) -> Bracket | None:
        """The nearest turning value of any check, on either side."""
        start, found = np.array([one.margin for one in self.verdicts]), _by_side(self.looks[0])
        if self.probe.possible[0]:
            slope = (self.probe.margins[:, 0] - start) / self.probe.ts[0]
            for sign in sorted((-1, 1), key=lambda sign: _left(start, slope * sign)):
                if one := self._followed(sign, start, slope * sign, _reach([self.best, *found.values()])):
                    found[sign] = one
        if not self.mover.wide and (reach := _reach([self.best, *found.values()])) < math.inf and (far := self._far(reach)):
            found |= _by_side(self._look(far))
        return self.search.enclosed(self.mover, [*filter(None, [self.best]), *found.values()], STEPPED)

    def _far(self, reach: float) -> list[float]:
        """Most of the way to either end, or so far; nothing where that is hardly more than a small step."""
        ways = {end: MOST * min(abs(end), reach) for end in (self.low, self.high)}
        return [math.copysign(way, end) for end, way in ways.items() if way > APART * self.mover.step]

    def _look(self, ts: list[float]) -> Trial:
        self.looks.append(self.search.trial(self.mover, np.unique(np.round(ts) if self.mover.term.whole else ts), self.verdicts))
        return self.looks[-1]

    def _followed(self, sign: int, start: np.ndarray, slope: np.ndarray, reach: float) -> Bracket | None:
        """Trials outwards on one side, each where the nearest straight line through the last two says that a verdict turns."""
        end, at, margins, tried = min(self.high if sign > 0 else -self.low, reach), 0.0, start, None
        for _ in range(LOOKS):
            if self.probe.ts[0] * sign > at and _left(margins, slope) <= self.probe.ts[0] * sign:
                tried = self.probe
            elif at < end and (left := _left(margins, slope)) < HOPELESS * (end - at):
                tried = self.search.trial(self.mover, self._rounded(sign * min(at + left * OVERSHOOT, end)), self.verdicts)
            else:
                return None
            if turned := tried.bracket(sign * at, margins):
                return turned
            now = abs(float(tried.ts[0]))
            if not tried.possible[0] or now == at:
                return None
            slope = (tried.margins[:, 0] - margins) / (now - at)
            at, margins = now, np.where(np.isfinite(tried.margins[:, 0]), tried.margins[:, 0], margins)
        return None

    def _rounded(self, t: float) -> np.ndarray:
        return np.array([math.copysign(math.ceil(abs(t)), t) if self.mover.term.whole else t])


def _reach(found: Sequence[Bracket | None]) -> float:
    """How far off the nearest is that is known to turn."""
    return min((abs(one.outer) for one in found if one), default=math.inf)


def _by_side(looked: Trial) -> dict[int, Bracket]:
    """The nearest bracket on either side."""
    return {1 if one.outer > 0 else -1: one for one in looked.brackets()}


def _left(margins: np.ndarray, slope: np.ndarray) -> float:
    """How far a straight line goes until the first of these margins is used up."""
    with np.errstate(all="ignore"):
        ways = np.where(slope * margins < 0, -margins / slope, np.where((margins == 0) & (slope < 0), 0.0, math.inf))
    return float(np.nanmin(ways, initial=math.inf))


def _possible(name: str, data) -> np.ndarray | bool:
    """For each t whether a result lies in the physical range of its Term and has a bound."""
    term, data = terms()[name], np.asarray(data, dtype=float)
    if data.ndim == len(term.axes) or not data.size:
        return True
    ends = float(np.fmin.reduce(data, axis=None)), float(np.fmax.reduce(data, axis=None))
    if not any(map(math.isinf, ends)) and not any(map(term.outside, ends)) and not (term.whole and term.outside(data)):
        return True
    return np.array([not term.outside(one) and not np.isinf(one).any() for one in data])
