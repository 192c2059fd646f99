"""A book that remembers what was read from it, so that a figure is drawn again only when a number in it has changed. Only what figures read is offered:
values, verdicts, items, names, options.
"""
from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from basis.solving.book import Book, Value, Verdict, overlays


class Watched:
    """Shows a book and notes each reading: what was asked, and a fingerprint of the answer."""

    def __init__(self, book: Book, readings: dict | None = None, option: tuple = ()):
        self._book, self._option = book, option
        self.readings = {} if readings is None else readings
        self._answers: dict = {}

    def _note(self, asked: str, value_id: str = ""):
        key = (self._option, asked, value_id)
        if key not in self._answers:
            self._answers[key], self.readings[key] = _answer(self._book, asked, value_id)
        return self._answers[key]

    def __getitem__(self, value_id: str) -> Value:
        return self._note("value", value_id)

    def __contains__(self, value_id: str) -> bool:
        return self._note("has", value_id)

    def get(self, value_id: str) -> Value | None:
        """A value, or None where the book has none."""
        return self[value_id] if value_id in self else None

    @property
    def values(self) -> Watched:
        """The values by id: this object answers for them."""
        return self

    def check(self, check_id: str) -> Verdict:
        """The verdict of one check."""
        return self._note("check", check_id)

    @property
    def items(self) -> dict:
        """Ids of the items along each axis."""
        return self._note("items")

    @property
    def names(self) -> dict:
        """Names of the items along each axis."""
        return self._note("names")

    @property
    def project(self):
        """The project that the book is of."""
        return self._note("project")

    @property
    def program(self) -> tuple:
        """The compiled run, for figures that run a part of the book again with other inputs; of these only what is read is noted."""
        return self._note("steps"), _Inputs(self)

    @property
    def options(self) -> dict:
        """Books of the options, watched too."""
        return {key: Watched(book, self.readings, key) for key, book in self._note("options").items()}


class _Inputs(Mapping):
    """The inputs of the run by name; each reading is noted."""

    def __init__(self, watched: Watched):
        self._watched = watched

    def __iter__(self) -> Iterator[str]:
        return iter(self._watched._note("inputs"))

    def __len__(self) -> int:
        return len(self._watched._note("inputs"))

    def __getitem__(self, name: str):
        return self._watched._note("input", name)


def unchanged(book: Book, readings: dict) -> bool:
    """Whether a book would answer every reading as before."""
    for (option, asked, value_id), before in readings.items():
        of = book.options.get(option) if option else book
        gone = of is None or (asked == "value" and value_id not in of) or (asked == "input" and value_id not in of.program[1])
        if gone or _answer(of, asked, value_id)[1] != before:
            return False
    return True


def _answer(book: Book, asked: str, value_id: str) -> tuple:
    """What the book answers, and its fingerprint."""
    match asked:
        case "value":
            value = book[value_id]
            return value, _fingerprint(value)
        case "check":
            verdict = book.check(value_id)
            return verdict, (verdict.word, repr(verdict.margin), verdict.element)
        case "has":
            return value_id in book, value_id in book
        case "options":
            return book.options, tuple(book.options)
        case "project":
            return book.project, tuple((one.id, one.chosen, sorted(overlays(one)), tuple((option.id, option.name) for option in one.options))
                                       for one in book.project.decisions)
        case "steps":
            steps = book.program[0]
            return steps, tuple((step.yields, step.needs) for step in steps)
        case "inputs":
            return tuple(book.program[1]), tuple(book.program[1])
        case "input":
            data = book.program[1][value_id]
            return data, None if callable(data) else repr(data.tolist()) if isinstance(data, np.ndarray) else data
    answer = getattr(book, asked)
    return answer, {axis: dict(got) if isinstance(got, dict) else got for axis, got in answer.items()}


def _fingerprint(value: Value) -> tuple:
    number = value.number.tolist() if isinstance(value.number, np.ndarray) else value.number
    return value.origin, value.axes, value.items, value.currency, repr(number)
