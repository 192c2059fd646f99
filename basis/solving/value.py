"""Value: a number of a book with its trace. It knows what it came from, who uses it, and how well it is known."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from basis.language import units
from basis.language.blanks import waits
from basis.language.formula import Formula, Procedure
from basis.language.standing import range_of
from basis.language.table import table
from basis.language.terms import Term, terms
from basis.reading.givens import Given

LEVEL_DIGITS = 3  # before the point of a level; what is asked beyond them are decimals
# What weakens a number, strongest first: the word that a reader sees behind it, and what it means.
MARKS = {
    "assumed": "It rests on an input that the project assumes: somebody still has to confirm it.",
    "from memory": "It rests on a source whose text nobody here has read.",
    "common practice": "It rests on what the trade usually does, without a source.",
    "default": "It rests on a value that stands in the program because the project gives none.",
}


@dataclass(frozen=True)
class Value:
    """A number (or array, or text) of the book with its trace.

    `number` is in SI: a float, an array over `axes`, or a text. `origin`: given, default, constant, formula or procedure.
    `own_marks` are its own weaknesses, `marks` also those of everything upstream.
    """

    id: str
    term: Term
    number: object
    origin: str
    axes: tuple = ()
    items: tuple = ()  # ids along each axis
    producer: Formula | Procedure | None = field(default=None, compare=False)
    givens: dict = field(default_factory=dict, compare=False)  # element id -> Given; "" for a plain term
    inputs: tuple = ()
    used_by: tuple = ()
    own_marks: frozenset = frozenset()
    marks: frozenset = frozenset()
    outside: tuple = ()  # ids of what lies outside the range for which its formula holds
    remarks: tuple = ()  # other words of warning
    residual: tuple | None = None  # (number or numbers, or a function that yields them, and what they are)
    cited: tuple = ()  # ids of the sources of its formula and of the tables that were read
    currency: str = ""
    digest: str = ""  # of everything that is shown about it; an element has that of the whole

    def warnings(self, system: str = "si") -> tuple[str, ...]:
        """What makes the number doubtful, in words; ranges in "si" or "us" units."""
        told = (f"{terms()[name].name} is outside the range for which this holds, {range_of(terms()[name], self.producer.valid[name], self.currency, system)}"
                for name in self.outside)
        return *told, *self.remarks

    @cached_property
    def left_over(self) -> tuple[float, str] | None:
        """The largest residual of its procedure, and what that is."""
        if self.residual is None:
            return None
        number, what = self.residual
        return float(np.max(np.abs(number() if callable(number) else number), initial=0.0)), what

    @property
    def exists(self) -> bool:
        """Whether there is such a value, for any element at least: False where its formula found none to be had, or none yet."""
        return not (self.term.absent and np.isnan(np.asarray(self.number, dtype=float)).all())

    def nowhere(self, numbers) -> np.ndarray:
        """For each of its numbers whether it does not exist: no number, and none would be if everything were given."""
        return np.isnan(np.asarray(numbers, dtype=float)) & ~waits(numbers) if self.term.absent else np.zeros(np.shape(numbers), dtype=bool)

    @property
    def given(self) -> Given | None:
        """The Given of a plain input."""
        return self.givens.get("")

    @property
    def mark(self) -> str:
        """The strongest word that stands behind the number, or an empty text."""
        return next((mark for mark in MARKS if mark in self.marks), "")

    @property
    def standing(self) -> str:
        """How the number is known: the giver's word for an input, else what stands upstream."""
        if self.origin in ("given",) and self.given:
            return self.given.standing
        if self.origin in ("default", "constant"):
            return self.origin
        return "computed" + (f"; upstream: {', '.join(mark for mark in MARKS if mark in self.marks)}" if self.marks else "")

    @cached_property
    def source_ids(self) -> tuple:
        """Ids of the sources of its formula or of its default."""
        if self.producer and self.origin in ("formula", "procedure"):
            return self.cited or self.producer.sources
        return (self.term.source,) if self.origin in ("default", "constant") else ()

    def elements(self) -> tuple[tuple[str, ...], ...]:
        """Item ids of every element, in order; one empty tuple for a plain value."""
        found = [()]
        for ids in self.items:
            found = [(*have, item) for have in found for item in ids]
        return tuple(found)

    def element(self, *ids: str) -> Value:
        """The value of one element, such as element("intake_north") or element("terrace", "125_hz"). Raises KeyError."""
        if len(ids) != len(self.axes):
            raise KeyError(f"{self.id} runs over {self.axes}, not {ids}")
        if not ids:
            return self
        number = self.number_at(*ids)
        given = self.givens.get(ids[0]) or self.givens.get("")  # over a fixed list one key gives all
        origin = "given" if given else "default" if self.origin == "given" and self.term.default is not None else self.origin
        return replace(self, id=".".join((self.id, *ids)), number=number, axes=(), items=(), origin=origin,
                       givens={"": given} if given else {})

    def number_at(self, *ids: str):
        """The number or word of one element. Raises KeyError."""
        if not ids:
            return self.number
        number = self.number[tuple(along.index(item) if item in along else _missing(self.id, item) for along, item in zip(self.items, ids))]
        return number if self.term.is_text else float(number)

    def text(self, system: str = "si", unit: bool = True) -> str:
        """The number as shown, in "si" or "us" units; texts and "not given" as words."""
        return f"{np.size(self.number)} values" if self.axes else self.shown(self.number, system, unit)

    def shown(self, number, system: str = "si", unit: bool = True) -> str:
        """Any SI number or word of this Term as shown."""
        if self.term.is_text:
            return word_shown(self.term, str(number))
        shown_unit = self.term.unit_in(system)
        if number != number:
            return f"does not exist: {self.term.absent}" if self.nowhere(number) else "not given"
        level = self.term.kind == "level"
        text = _level_text(units.from_si(number, shown_unit), self.term.digits) if level else units.format_si(number, shown_unit, self.term.digits)
        text = f"≤ {text}" if self.term.at_most else text
        return f"{text} {self.unit_text(system)}".strip() if unit else text

    def difference_shown(self, size: float, system: str = "si") -> str:
        """What lies between two numbers of this Term, with its unit."""
        return units.difference_shown(size, self.term.unit_in(system), self.currency)

    def unit_text(self, system: str = "si") -> str:
        """The unit as shown."""
        return "" if self.term.is_text else units.pretty(self.term.unit_in(system), self.currency)

    @property
    def two_systems(self) -> bool:
        """Whether the two unit systems show it differently."""
        return not self.term.is_text and self.term.si_unit != self.term.us_unit

    def __repr__(self) -> str:
        if self.axes:
            shown = ", ".join(f"{'.'.join(ids)} {self.element(*ids).text()}" for ids in self.elements()[:6])
            more = " …" if np.size(self.number) > 6 else ""
            return f"<{self.id} over {' x '.join(self.axes)}: {shown}{more} ({self.standing})>"
        us = f" ({self.text('us')})" if self.two_systems else ""
        return f"<{self.id} = {self.text()}{us} ({self.standing})>"


def _level_text(level: float, digits: int) -> str:
    """A level to a tenth, or finer where more digits are asked; never minus nought."""
    text = f"{level:.{max(1, digits - LEVEL_DIGITS)}f}"
    return text.replace("-", "−" if float(text) else "")


def word_shown(term: Term, word: str) -> str:
    """A text, or the word of a choice as readers see it: the title of a table, a word without underscores."""
    if term.unit != "choice" or not word:
        return word
    return table(word).title if term.table else word.replace("_", " ")


def written_shown(term: Term, written: str, currency: str = "") -> str:
    """What was typed, with units and words as readers see them: `0.9 K*m/W` -> `0.9 K·m/W`."""
    return word_shown(term, written) if term.is_text else ", ".join(units.pretty_quantity(one, currency) for one in written.split(", "))


def _missing(value_id: str, item: str):
    raise KeyError(f"{value_id} has no element '{item}'")
