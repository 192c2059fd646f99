"""What is open in a book as numbers that can be moved: each assumed input by itself, each default or constant from memory for all items alike.

A mover is a straight line through the book's number: `base + t·way`. Where a number has a true nought t is the share by which it changes;
a temperature and a level move by kelvins and decibels, a count by ones, and what stands at nought by its own SI unit.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from basis.language.days import DAY_SECONDS
from basis.language.sources import sources
from basis.language.terms import Term
from basis.solving.book import Book
from basis.solving.value import Value
from basis.solving.verdicts import TIGHT_DIFFERENCES, TIGHT_SHARE

OPEN = ("assumed", "from memory", "default")  # strongest first
SHIFTED = ("level", "temperature", "date")  # kinds without a true nought: a share of them says nothing
SETTLED_HERE = ("common practice", "project decision")  # kinds of sources of defaults which a project may well find otherwise
FEW = 12  # assumed items of one key that are moved one by one; more are moved together
FARTHEST = 9.0  # share by which a number grows where its Term has no bound: to ten times what it is
WIDEST = {"level": 40.0, "temperature": 100.0, "date": 3650 * DAY_SECONDS}  # the same of what is shifted, in SI
LARGEST = 1e9  # the same of what stands at nought, in its SI unit


@dataclass(frozen=True)
class Mover:
    """A number of the book that is open, and how it moves. `low`, `high`: of t, within the physical range of the Term; `step` is the small move that
    shows what it does; `little` is what the book calls little of it: the share, kelvins or decibels that make a check tight; nought where it has none."""

    term: Term
    element: str  # the item that is moved; "" for a plain number, and for all items together
    count: int  # how many items are moved together
    standing: str  # of OPEN
    base: np.ndarray = field(compare=False)
    way: np.ndarray = field(compare=False)
    low: float
    high: float
    step: float
    little: float
    share: bool  # whether t is a share of what the number is

    @property
    def value_id(self) -> str:
        """Id of the value or element that is moved."""
        return f"{self.term.id}.{self.element}" if self.element else self.term.id

    @property
    def wide(self) -> bool:
        """Whether somebody may settle it far from where it stands; what physics or a published source gives nobody will."""
        return self.standing == "assumed" or sources()[self.term.source].kind in SETTLED_HERE

    @property
    def single(self) -> bool:
        """Whether what is moved is one number, for however many items it stands."""
        return len(np.unique(self.base[self.way != 0])) == 1

    def at(self, t: np.ndarray) -> np.ndarray:
        """SI data for each t, along one more leading axis."""
        moved = np.asarray(t).reshape(-1, *[1] * self.base.ndim)
        return np.where(self.way == 0, self.base, self.base + moved * self.way)

    def number(self, t: float) -> float:
        """The SI number at t; of several the first."""
        return float(np.ravel(self.at([t])[0])[np.argmax(np.ravel(self.way) != 0)])


def movers(book: Book) -> Iterator[Mover]:
    """Every number of the book that is assumed, a default, or a constant from memory."""
    for value in book.values.values():
        if not value.term.is_text and value.own_marks.intersection(OPEN) and np.size(value.number):
            for element, count, standing, moved in _open_parts(value):
                if made := _mover(value, element, count, standing, moved):
                    yield made


def _open_parts(value: Value) -> Iterator[tuple[str, int, str, np.ndarray]]:
    """(item, how many items, standing, which entries) of everything that somebody has to settle in a value."""
    assumed = [element for element, given in value.givens.items() if given.standing.startswith("assumed")]
    if not value.term.own_axes:
        standing = "assumed" if assumed else next((mark for mark in OPEN[1:] if mark in value.own_marks), "")
        if value.producer is None and standing:
            yield "", 1, _told(standing, value), np.ones(np.shape(value.number), dtype=bool)
        return
    rows = {item: place for place, item in enumerate(value.items[0])}
    assumed = [element for element in assumed if element in rows]
    for group in [[element] for element in assumed] if len(assumed) <= FEW else [assumed]:
        yield (group[0] if len(group) == 1 else ""), len(group), "assumed", _rows(value, [rows[element] for element in group])
    left = [place for item, place in rows.items() if item not in value.givens]
    if left and value.term.default is not None and value.producer is None:
        yield "", len(left), _told("default", value), _rows(value, left)


def _told(standing: str, value: Value) -> str:
    """How a default or constant is told: from memory where nobody has read its source."""
    return "from memory" if standing == "default" and "from memory" in value.own_marks else standing


def _rows(value: Value, places: list) -> np.ndarray:
    found = np.zeros(np.shape(value.number), dtype=bool)
    found[places] = True
    return found


def _mover(value: Value, element: str, count: int, standing: str, moved: np.ndarray) -> Mover | None:
    """The mover of some entries of a value; None where they hold no number, or have no room to move."""
    base, term = np.asarray(value.number, dtype=float), value.term
    moved = moved & ~np.isnan(base)
    if not moved.any():
        return None
    share = term.kind not in SHIFTED and not term.whole and bool(np.any(base[moved] != 0))
    way = np.where(moved, np.abs(base) if share else 1.0, 0.0)
    low, high = _room(term, base[way != 0], way[way != 0], share)
    largest = float(np.max(np.abs(base[way != 0])))
    little = TIGHT_SHARE if share else TIGHT_DIFFERENCES[term.kind] if term.kind in SHIFTED else TIGHT_SHARE * (largest if term.whole else term.bounds[1] == 1)
    step = 1.0 if term.whole else little or min(high, 1.0) * TIGHT_SHARE
    return Mover(term, element, count, standing, base, way, low, high, step, little, share) if low < high else None


def _room(term: Term, base: np.ndarray, way: np.ndarray, share: bool) -> tuple[float, float]:
    """How far t may go down and up."""
    farthest = FARTHEST if share else WIDEST.get(term.kind, max(FARTHEST, FARTHEST * float(np.max(np.abs(base)))) if term.whole else LARGEST)
    low, high = (np.subtract(bound, base) / way for bound in term.bounds)
    return max(-farthest, float(np.max(low))), min(farthest, float(np.min(high)))
