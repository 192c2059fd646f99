"""A book that notes what is read from it, so that what was made of it is made again only when something that was read has changed.

Whatever is asked of a book is noted, as it was asked, with a fingerprint of the answer: no list here says what counts.
"""
from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

import numpy as np

from basis.reading.project import Project
from basis.solving.book import Book
from basis.solving.value import Value
from basis.solving.verdict import Verdict

Readings = dict[int, object]  # number of what was asked -> the fingerprint of the answer
PLAIN, ROW = (str, bool), (tuple, list)  # answers that are their own fingerprint, and answers of several parts


class Asked:
    """All that was ever asked of the states of one book, numbered: what was asked is long to look up, and looked up a hundred thousand times a save."""

    def __init__(self):
        self._numbers: dict[tuple, int] = {}
        self._asked: list[tuple] = []

    def number(self, asked: tuple) -> int:
        """Its number, a new one where it was never asked."""
        if (found := self._numbers.get(asked)) is None:
            found = self._numbers[asked] = len(self._asked)
            self._asked.append(asked)
        return found

    def __getitem__(self, number: int) -> tuple:
        return self._asked[number]


class Answers:
    """What one state of a book, and of its options and trials, answers to what has been asked: each found once, with its fingerprint."""

    def __init__(self, book: Book, asked: Asked | None = None):
        self._book = book
        self.asked = asked or Asked()
        self._found: dict[int, tuple] = {}

    def to(self, number: int) -> tuple:
        """The answer to what has this number, and its fingerprint; an error is an answer too."""
        if (found := self._found.get(number)) is None:
            asked = self.asked[number]
            try:
                answer = self._answer(*asked)
            except (KeyError, AttributeError) as none:
                answer = none
            found = self._found[number] = answer, answer if asked[2] in ("keys", "has") else fingerprint(answer)
        return found

    def _answer(self, option: tuple, path: tuple, how: str, arguments: tuple = ()):
        asked = self._book.beside(option) if option else self._book
        for name in path:
            asked = getattr(asked, name)
        match how:
            case "whole":
                return asked
            case "keys":
                return tuple(asked)
            case "called":
                return asked(*arguments)
            case "item":
                return asked[arguments[0]]
            case "has":
                return arguments[0] in asked
        raise ValueError(how)

    def same(self, readings: Readings) -> bool:
        """Whether everything that was read would read the same."""
        known = self._found
        for number, before in readings.items():
            if (known.get(number) or self.to(number))[1] != before:
                return False
        return True


class TrackedBook:
    """Stands for a book, or for the project and the mappings in it, and notes each reading."""

    def __init__(self, book: Book, answers: Answers | None = None, readings: Readings | None = None, option: tuple = (), path: tuple = ()):
        self._book, self._option, self._path = book, option, path
        self.answers = answers or Answers(book)
        self.readings: Readings = {} if readings is None else readings

    def noting(self, readings: Readings) -> TrackedBook:
        """The same, with its readings noted elsewhere."""
        return TrackedBook(self._book, self.answers, readings, self._option, self._path)

    def _note(self, path: tuple, how: str, *arguments):
        number = self.answers.asked.number((self._option, path, how, arguments))
        answer, self.readings[number] = self.answers.to(number)
        if isinstance(answer, Exception):
            raise answer
        return answer

    def __getattr__(self, name: str):
        path = (*self._path, name)
        found = getattr(self._found, name)
        if name in ("options", "trials") and not self._path:
            return TrackedOptions(self, name)
        if isinstance(found, Project):
            answer = TrackedBook(self._book, self.answers, self.readings, self._option, path)
        elif isinstance(found, dict):
            answer = TrackedMapping(lambda *how: self._note(path, *how))
        elif callable(found):
            def answer(*arguments):
                return self._note(path, "called", *arguments)
        else:
            return self._note(path, "whole")
        setattr(self, name, answer)  # found at once the next time
        return answer

    @property
    def _found(self):
        """What this stands for."""
        found = self._book.beside(self._option) if self._option else self._book
        for name in self._path:
            found = getattr(found, name)
        return found

    def __getitem__(self, value_id: str) -> Value:
        return self._note(self._path, "item", value_id)

    def __contains__(self, value_id: str) -> bool:
        return self._note(self._path, "has", value_id)


class TrackedMapping(Mapping):
    """Stands for a mapping of the book and notes which of its keys are read."""

    def __init__(self, note: Callable):
        self._note = note

    def __getitem__(self, key):
        return self._note("item", key)

    def __contains__(self, key) -> bool:
        return self._note("has", key)

    def get(self, key, default=None):
        """The answer, or the default where there is none."""
        try:
            return self[key]
        except KeyError:
            return default

    def __iter__(self) -> Iterator:
        return iter(self._note("keys"))

    def __len__(self) -> int:
        return len(self._note("keys"))


class TrackedOptions(Mapping):
    """The books of the options, or of the steps of trials, each noting into the readings of the chosen book."""

    def __init__(self, chosen: TrackedBook, name: str):
        self._chosen, self._name = chosen, name

    def __getitem__(self, key: tuple[str, str]) -> TrackedBook:
        chosen = self._chosen
        return TrackedBook(chosen._book, chosen.answers, chosen.readings, key)

    def __iter__(self) -> Iterator:
        return iter(self._chosen._note((self._name,), "keys"))

    def __len__(self) -> int:
        return len(self._chosen._note((self._name,), "keys"))


def fingerprint(answer):
    """What two answers have in common that show and compute the same. Equal only for equal answers; of a Value or verdict its digest."""
    if isinstance(answer, PLAIN):
        return answer
    if isinstance(answer, Value):
        return answer.id, answer.digest
    if isinstance(answer, Verdict):
        return answer.check.id, answer.digest
    if isinstance(answer, float):
        return repr(answer)
    if isinstance(answer, np.ndarray):
        return answer.shape, answer.tobytes() if answer.dtype != object else tuple(answer.tolist())
    if isinstance(answer, dict):
        return tuple((key, fingerprint(one)) for key, one in answer.items())
    if isinstance(answer, ROW):
        return tuple(map(fingerprint, answer))
    if isinstance(answer, Exception):
        return type(answer), str(answer)
    return "function" if callable(answer) else answer
