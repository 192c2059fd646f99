"""Which inputs hang on the word of a choice: those that nothing reads where the choice has another word. Found from the formulas' arms and from what
checks say of themselves (`applies`), for any project; what one project gives in vain is told by `unread`.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from functools import lru_cache

from basis.chapters import Catalogue, catalogue
from basis.language.formula import Formula
from basis.language.maths import decided, names_in
from basis.language.table import families
from basis.language.terms import Term, listed, terms
from basis.solving.asked import asked_in, reached, read_by, stands_by_default, words_of_chapters


def words_of(term: Term) -> tuple[str, ...]:
    """The words that a choice may have."""
    return tuple(families().get(term.table, ())) if term.table else term.choices


@lru_cache(maxsize=32)
def hanging_in(chapters: tuple[str, ...] = ()) -> dict[str, dict[str, tuple[str, ...]]]:
    """Id of an input of a book of these chapters (all, if none are named) -> the choices on which it hangs -> the words with which it is read."""
    readers = _Readers(catalogue(), chapters)
    found: dict[str, dict] = defaultdict(dict)
    for choice in [term for term in terms().values() if term.choices and (term.id in readers.testing or term.id in readers.speaking)]:
        for asks in (False, True):
            live = {word: readers.read_with(choice.id, word, asks) for word in choice.choices}
            for name in readers.known - frozenset.intersection(*live.values()) - {choice.id}:
                with_it = tuple(word for word, names in live.items() if name in names)
                if with_it and terms()[name].required == asks:
                    found[name][choice.id] = with_it
    return dict(found)


@lru_cache(maxsize=32)
def lists_needed(chapters: tuple[str, ...] = ()) -> frozenset[str]:
    """Axes of the lists without an item of which a book of these chapters (all, if none are named) cannot be made: what cannot be computed else, and
    what a key that must stand names.
    """
    found = catalogue()
    names = reached(found, chapters or tuple(chapter.id for chapter in found.chapters), chapters)
    needed = {terms()[name].needs_list for name in names} - {""}
    # the word of an item decides what is read of items only: a plain key is asked for whatever it is
    asked = [term for term in map(terms().get, asked_in(chapters)) if term.refers_to and term.required
             and all(terms()[choice].own_axes and not term.own_axes for choice in hanging_in(chapters).get(term.id, ()))]
    while more := {term.refers_to for term in asked if not term.own_axes or term.own_axes[0] in needed} - needed:
        needed |= more
    return frozenset(axis for axis in needed if not listed(axis).fixed)


@dataclass
class _Readers:
    """Who reads what in a book of some chapters."""

    found: Catalogue
    chapters: tuple[str, ...]
    producers: list = field(default_factory=list)
    checks: list = field(default_factory=list)
    testing: dict = field(default_factory=lambda: defaultdict(list))  # choice -> producers with an arm that it decides

    def __post_init__(self) -> None:
        book = self.chapters or tuple(chapter.id for chapter in self.found.chapters)
        names = reached(self.found, book, self.chapters)
        self.producers = list(dict.fromkeys(self.found.producers[name] for name in names if name in self.found.producers
                                            and not stands_by_default(terms()[name], self.found, self.chapters)))
        self.checks = [check for chapter in book for check in self.found.checks[chapter] if not check.order]
        for one in self.producers:
            for name in _tested(one):
                self.testing[name].append(one)
        self.speaking = {name for check in self.checks for name in dict(check.applies)}  # of checks, whether they mean anything
        wanted = {name for one in self.producers for name in one.parameters} | {name for check in self.checks for name in check.sides}
        self.known = names
        self.computed = [name for chapter in book for one in self.found.formulas[chapter] for name in one.yields]
        self.last = [name for name in self.computed if name not in wanted]  # for the reader only
        self.reads = {name: read_by(one, self.chapters) for one in self.producers for name in one.yields}

    def read_with(self, choice: str, word: str, asks: bool) -> frozenset[str]:
        """Ids of all that is read for something that anybody wants to know, where the choice has the word; or, of what the solver `asks` for, since it
        computes every formula of a chapter.
        """
        reads = self.reads | {name: self._arms(one, choice, word) for one in self.testing.get(choice, ()) for name in one.yields}
        waiting = [name for check in self.checks if word in dict(check.applies).get(choice, (word,)) for name in check.sides]
        waiting += self.computed if asks else self.last
        seen: set[str] = set()
        while waiting:
            name = waiting.pop()
            if name not in seen:
                seen.add(name)
                waiting += reads.get(name, ())
        return frozenset(seen)

    def _arms(self, one: Formula, choice: str, word: str) -> tuple[str, ...]:
        live = decided(one.expression, words_of_chapters(one, self.chapters) | {choice: word})
        return *names_in(live), choice


def _tested(one) -> tuple[str, ...]:
    """Choices of which a formula asks the word, over items too."""
    return tuple(name for name in one.parameters if terms()[name].unit == "choice") if isinstance(one, Formula) else ()
