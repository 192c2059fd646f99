"""Verdict: the outcome of a check."""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cached_property

import numpy as np

from basis.language import digests, units
from basis.language.days import DAY_SECONDS
from basis.language.formula import Check
from basis.language.terms import Term, homes, listed
from basis.language.words import in_sentence
from basis.solving.value import MARKS, Value
from basis.solving.verdict_words import NOTHING

SAME = 1e-12  # of a margin: what is less is rounding
MOST_SHOWN = 10.0  # a larger share of the limit says no more than that it is far


def _words_of(choice: Value) -> str:
    """The word of a choice, or the words of its items, once each."""
    words = dict.fromkeys(choice.number.tolist()) if choice.axes else (choice.number,)
    return " or ".join(choice.shown(word) for word in words)


def _key(term: Term) -> str:
    """The key of a Term as it is written, with the list whose items have it."""
    return " of ".join((term.id, *(listed(axis).key for axis in term.own_axes)))


def _digested(part):
    """A part of a verdict in its shortest form that tells it from others."""
    if isinstance(part, Value):
        return part.id, part.digest
    if isinstance(part, tuple):
        return tuple(map(_digested, part))
    return part.id if isinstance(part, (Term, Check)) else part


@dataclass(frozen=True)
class Verdict:
    """The outcome of a check: holds, tight, fails, undecided or nothing to check.

    `margin` positive is safe. `missing` says what is not given. Where there is nothing to check: `unlisted` says along which axes there
    is no item, `beside` which choices say otherwise than the check asks, `absent` which side does not exist, `sized` what is not given and therefore
    computed so that the check holds. Where it is decided: `choices` are those by which it is asked.
    """

    check: Check
    word: str
    margin: float = float("nan")
    relative: bool = True
    value: Value | None = None  # of the worst element
    limit: Value | None = None
    element: str = ""
    missing: tuple = ()
    unlisted: tuple = ()
    beside: tuple = ()  # Values of choices
    choices: tuple = ()  # Values of choices
    absent: tuple = ()  # Terms
    sized: tuple = ()  # Terms
    remark: str = ""
    chance: float = float("nan")  # that the limit is met, where inputs carry a plus or minus
    samples: int = 0  # how many the chance was counted on
    uncomputed: int = 0  # how many of them could not be computed; they do not meet the limit

    @cached_property
    def digest(self) -> str:
        """Of everything that is shown about it."""
        return digests.digest(repr([_digested(getattr(self, one.name)) for one in fields(self)]))

    @property
    def decided(self) -> bool:
        """Whether a value was held against a limit."""
        return self.word not in ("undecided", NOTHING)

    @property
    def nothing_text(self) -> str:
        """Why there is nothing to check, in words: lists without items, choices that say otherwise, sides that do not exist, what is sized for it."""
        lists = [f"no {listed(axis).key.replace('_', ' ')} listed" for axis in self.unlisted]
        choices = [f"{in_sentence(value.term.name)}: {_words_of(value)}{' by default' if value.origin == 'default' else ''}" for value in self.beside]
        sized = [f"{in_sentence(term.name)} not given ({_key(term)} in {homes()[term.id]}.yaml), and as computed it holds by itself" for term in self.sized]
        return ", ".join(lists + choices + list(dict.fromkeys(term.absent for term in self.absent)) + sized)

    @property
    def marks(self) -> tuple[str, ...]:
        """Words behind the value, the limit and the choices by which they are compared, strongest first: a verdict is no surer than these."""
        return tuple(mark for mark in MARKS if any(mark in side.marks for side in (self.value, self.limit, *self.choices, *self.beside) if side))

    @property
    def limit_mark(self) -> str:
        """The strongest word behind the limit: whose word it is that the value is held against."""
        return self.limit.mark if self.limit else ""

    @property
    def is_count(self) -> bool:
        """Whether whole numbers without a unit are compared: a share of a count says little. Days are no count."""
        return not self.value.unit_text() and self.value.term.kind != "date" and all(float(side.number).is_integer() for side in (self.value, self.limit))

    @property
    def margin_text(self) -> str:
        """The margin as shown in SI."""
        return self.margin_in("si")

    def margin_in(self, system: str) -> str:
        """The margin as shown, with its sign; "none left" where the limit is just met."""
        if np.isnan(self.margin):
            return ""
        if abs(self.margin) < SAME:
            return "none left"
        if not self.is_count:
            return self.change_text(self.margin, system)
        return f"{'+' if self.margin > 0 else '−'}{units.format_number(abs(self.value.number - self.limit.number), 4)}"

    def change_text(self, margin: float, system: str = "si") -> str:
        """A margin, or what is added to it, as shown with its sign: a share of the limit, or in degrees, decibels or the unit of what is checked."""
        sign = "+" if margin > 0 else "−"
        if self.relative and abs(margin) > MOST_SHOWN:
            return f"over +{100 * MOST_SHOWN:.0f} %" if margin > 0 else f"below −{100 * MOST_SHOWN:.0f} %"
        if self.relative:
            return f"{sign}{units.format_number(abs(margin) * 100, 2 if abs(margin) < 1 else 3)} %"
        if self.value.term.kind == "date":
            return f"{sign}{units.format_number(abs(margin) / DAY_SECONDS, 2)} d"
        return sign + self.value.difference_shown(abs(margin), system)

    @property
    def margin_words(self) -> str:
        """The margin in a sentence."""
        return f"margin {self.margin_text}" if self.margin_text else ""

    @property
    def samples_text(self) -> str:
        """How many samples, and how many of them say nothing."""
        return f"{self.samples} samples" + (f", {self.uncomputed} of which cannot be computed" if self.uncomputed else "")

    @property
    def chance_text(self) -> str:
        """The chance that the limit is met as shown; never surer than the number of samples allows."""
        if not self.samples:
            return ""
        least = 1 / self.samples
        if min(self.chance, 1 - self.chance) < least:
            return f"{'more' if self.chance > 0.5 else 'less'} than {100 * (1 - least if self.chance > 0.5 else least):.5g} %"
        return f"{units.format_number(100 * self.chance, 3)} %"
