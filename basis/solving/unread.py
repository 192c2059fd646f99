"""What a project gives and nothing reads, because a choice says otherwise: a spectrum from a test report beside `machine_data: estimated`.

Data given in vain is told, at its line. What an option reads is read; so is what a procedure takes, or a formula whose arm no word decides.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache, cached_property, lru_cache

from basis.chapters import catalogue
from basis.language.formula import Formula
from basis.language.maths import names_in
from basis.language.terms import terms
from basis.language.words import in_sentence
from basis.reading.givens import Given
from basis.solving.spelled import Spelling
from basis.solving.value import Value

READ = None  # in place of the choices by which nothing reads a value


@dataclass(frozen=True)
class Unread:
    """A given that nothing reads, and the choices that say so."""

    given: Given
    beside: tuple[Value, ...]

    @property
    def reason(self) -> str:
        """The choices in words, with their keys."""
        return " and ".join(dict.fromkeys(f"{in_sentence(one.term.name)}: {one.text()} ({one.term.id})" for one in self.beside))

    @property
    def told(self) -> str:
        """As a person reads it, with its place."""
        return f"{self.given.file}:{self.given.line}: {self.given.named} is given and no formula reads it, as {self.reason}"


def unread(book) -> tuple[Unread, ...]:
    """Givens that nothing reads in any option in which they stand, by file and line."""
    found: dict[tuple, tuple] = {}
    askers = _askers(book.chapters)
    for one in {id(one): one for one in (book, *book.options.values())}.values():
        reading = _Reading(one, askers)
        for value in (one.values[name] for name in askers.perhaps_unread if name in one.values):
            for item, given in value.givens.items():
                place = given.file, given.line, given.term, given.element
                if found.get(place, (given, ()))[1] is not READ:
                    found[place] = (given, reading.beside(value.id, item))
    idle = [Unread(given, beside) for given, beside in found.values() if beside]
    return tuple(sorted(idle, key=lambda one: (one.given.file, one.given.line)))


@dataclass
class _Askers:
    """Who may ask for what in these chapters, whatever the project gives and chooses: the same in a book and in its options."""

    chapters: tuple
    users: dict = field(default_factory=dict)  # term id -> formulas and procedures of the chapters that may read it
    hidden: dict = field(default_factory=dict)  # term id -> whether it may be unread

    def __post_init__(self) -> None:
        for chapter in self.chapters:
            for producer in catalogue().formulas[chapter.id]:
                for name in producer.parameters:
                    self.users.setdefault(name, []).append(producer)
        checks = [check for chapter in self.chapters for check in catalogue().checks[chapter.id] if not check.order]
        self.judged = {name for check in checks for name in check.sides}

    @cached_property
    def perhaps_unread(self) -> tuple[str, ...]:
        """Ids of all Terms that may be."""
        return tuple(filter(self.may_be_unread, terms()))

    def may_be_unread(self, name: str) -> bool:
        """Whether a Term is asked for, and only in arms that words decide: most are not, whatever the items."""
        if name not in self.hidden:
            users = self.users.get(name, ())
            self.hidden[name] = bool(users) and name not in self.judged and all(
                _hides(user, name) or self.asked(user) and all(map(self.may_be_unread, self.asked(user))) for user in users)
        return self.hidden[name]

    def asked(self, user) -> list[str]:
        """Of what a producer yields that for which anything asks: what a procedure yields beside is for the reader only."""
        return [one for one in user.yields if one in self.users or one in self.judged]


@lru_cache(maxsize=32)
def _askers(chapters: tuple) -> _Askers:
    """The same for every book of the same chapters."""
    return _Askers(chapters)


@dataclass
class _Reading:
    """Who reads what in one book, at which items."""

    book: object
    askers: _Askers
    known: dict = field(default_factory=dict)  # (term id, item) -> choices

    def __post_init__(self) -> None:
        self.spelling = Spelling(self.book.values, {})

    def beside(self, name: str, item: str):
        """The choices by which nothing reads a value at an item ("" for a plain one); READ where something does, or nothing ever asks for it."""
        if not self.askers.may_be_unread(name):
            return READ
        if (name, item) not in self.known:
            passed = [self._passed_by(user, name, item) for user in self.askers.users[name]]
            self.known[name, item] = READ if READ in passed else sum(passed, ())
        return self.known[name, item]

    def _passed_by(self, user, name: str, item: str):
        """The choices by which a formula does not read a value, or by which nothing reads the formula's own; else READ."""
        values = self.book.values
        if any(one not in values or values[one].producer is not user for one in user.yields):
            return READ
        axis = _axis(values[name])
        if isinstance(user, Formula) and (found := self._dead(user.expression, name, {axis: item} if item else {})) is not READ:
            return found
        below = [self.beside(one, item if axis and axis == _axis(values[one]) else "") for one in self.askers.asked(user)]
        return READ if READ in below or not below else sum(below, ())

    def _dead(self, node: ast.expr, name: str, at: dict):
        """The choices by which no arm runs that reads a name at an item; READ if one does."""
        if name not in names_in(node):
            return ()
        if isinstance(node, ast.IfExp) and name not in names_in(node.test) and (verdict := self._verdict(node.test, at)) is not None:
            live, dead = (node.body, node.orelse) if verdict else (node.orelse, node.body)
            below = self._dead(live, name, at)
            return READ if below is READ else below + (self._words(node.test, at) if name in names_in(dead) else ())
        parts = [self._dead(part, name, at) for part in ast.iter_child_nodes(node) if isinstance(part, ast.expr)]
        return READ if READ in parts or not parts else sum(parts, ())

    def _verdict(self, test: ast.expr, at: dict):
        """Whether a condition on words alone is met at an item; None where it is no such one, or the item does not tell."""
        asked = [self.book.values.get(name) for name in names_in(test)]
        return self.spelling.comes_to(test, at) if all(one is not None and one.term.is_text and set(one.axes) <= set(at) for one in asked) else None

    def _words(self, test: ast.expr, at: dict) -> tuple[Value, ...]:
        asked = [self.book.values[name] for name in names_in(test)]
        return tuple(one.element(*(at[axis] for axis in one.axes)) for one in asked)


def _hides(user, name: str) -> bool:
    """Whether a formula reads a name in arms only that words decide."""
    return isinstance(user, Formula) and name not in _surely_asked(user)


@cache
def _surely_asked(user: Formula) -> frozenset[str]:
    """Names that a formula reads whatever words decide: those of its conditions, and those outside of their arms."""
    return frozenset(_outside(user.expression))


def _outside(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.IfExp) and all(terms()[one].is_text for one in names_in(node.test)):
        yield from names_in(node.test)
    elif isinstance(node, ast.Name):
        yield from names_in(node)
    else:
        for part in ast.iter_child_nodes(node):
            if isinstance(part, ast.expr):
                yield from _outside(part)


def _axis(value: Value) -> str:
    """The axis of the items whose keys it is."""
    return value.term.own_axes[0] if value.term.own_axes else ""
