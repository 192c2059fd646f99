"""The trials of a project: the book computed once more at each step of an input, procedures included, by the same run as an option that gives that number."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from basis.language import units
from basis.language.compiled import Memory
from basis.language.faults import Fault, Faults, show_command
from basis.reading.trial import Trial
from basis.solving.asked import asked_by_formulas
from basis.solving.binding import Solved, book_of
from basis.solving.book import Book
from basis.solving.case import Case

SAME = 1e-9  # of a number: a step that is as near to what the project gives is that number


@dataclass(frozen=True)
class Tried:
    """A trial that has been run: its steps in SI in order, that of the project among them, the place of that one, and why others cannot be computed."""

    trial: Trial
    numbers: tuple[float, ...]
    issued: int
    faults: dict[int, str]

    @property
    def input(self) -> str:
        """Id of the Term that is moved."""
        return self.trial.input


def with_trials(book: Book, run: Solved, memory: Memory) -> Book:
    """The book of a run with the book of each step of its trials that can be computed, by input and place."""
    tried, books = [], {}
    for trial in book.project.trials:
        numbers, issued = _steps(trial, run.data[trial.input])
        faults = {}
        for place, number in enumerate(numbers):
            if place != issued:
                try:
                    books[trial.input, place] = _moved(book, run, memory, trial.input, number)
                except Faults as found:
                    faults[place] = "; ".join(dict.fromkeys(fault.what for fault in found.faults))
        tried.append(Tried(trial, numbers, issued, faults))
    return replace(book, tried=tuple(tried), trials=books)


def _steps(trial: Trial, given: float) -> tuple[tuple[float, ...], int]:
    """The steps with the project's own number among them, and its place."""
    others = [number for number in trial.numbers if not np.isclose(number, given, rtol=SAME, atol=0)]
    return tuple(sorted([*others, given])), sum(number < given for number in others)


def _moved(book: Book, run: Solved, memory: Memory, name: str, number: float) -> Book:
    """The book with another number of one input. Of a verdict that has moved with it no chance is told, for none is counted anew, and no remark of the
    project, which was written about the issued one.
    """
    chosen = {decision.id: decision.chosen for decision in book.project.decisions}
    moved = book_of(Case(book.project, run.catalogue, chosen, memory, {}, run, instead={name: number}).moved(), book)
    checks = tuple(one if one is book.check(one.check.id) else replace(one, chance=np.nan, samples=0, uncomputed=0, remark="") for one in moved.checks)
    return replace(moved, checks=checks, since=book.since)


def trial_faults(run: Solved) -> list[Fault]:
    """What is wrong with trials that only the run of the chosen options can tell: an input that is computed, is not read or not given, or another currency."""
    checks = [check for chapter in run.chapters for check in run.catalogue.checks[chapter.id]]
    asked = {name for step in run.steps for name in step.needs}.union(*(check.sides for check in checks))
    return [Fault(trial.file, trial.line, f"the trial moves '{trial.input}', {what}", expected, "", show_command(trial.input))
            for trial in run.project.trials for what, expected in _trouble(run, trial, asked)[:1]]


def _trouble(run: Solved, trial: Trial, asked: set) -> list[tuple[str, str]]:
    name = trial.input
    elsewhere = bool(run.project.chapters) and name in asked_by_formulas()  # by chapters that are left out
    used = [currency for text in trial.written if (currency := units.currency_in(text))]
    named = run.data.get("currency")
    return [(what, expected) for wrong, what, expected in (
        (any(currency != named for currency in used), f"in {' and '.join(dict.fromkeys(used))}", f"the project's currency, {named}"),
        (name not in run.data and name in run.catalogue.producers, "which the book computes", "an input that the project gives"),
        (name not in run.data, "which the project does not give", f"`{name}:` in the project, so that there is a number to start from"),
        (name not in asked and not elsewhere, "which no formula of this book reads", "an input that some chapter of the book reads")) if wrong]
