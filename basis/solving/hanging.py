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
from basis.language.terms import Term, terms
from basis.solving.asked import reached, stands_by_default


def words_of(term: Term) -> tuple[str, ...]:
    """The words that a choice may have."""
    return tuple(families().get(term.table, ())) if term.table else term.choices


@lru_cache(maxsize=32)
def hanging_in(chapters: tuple[str, ...] = ()) -> dict[str, dict[str, tuple[str, ...]]]:
    """Id of an input of a book of these chapters (all, if none are named) -> the choices on which it hangs -> the words with which it is read."""
    readers = _Readers(catalogue(), chapters)
    found: dict[str, dict] = defaultdict(dict)
    for choice in [term for term in terms().values() if term.unit == "choice" and not term.table]:
        live = {word: readers.read_with(choice.id, word) for word in choice.choices}
        for name in readers.read - frozenset.intersection(*live.values()) - {choice.id} if live else ():
            if with_it := tuple(word for word, names in live.items() if name in names):
                found[name][choice.id] = with_it
    return dict(found)


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
        self.asked = {name for one in self.producers for name in one.parameters} | {name for check in self.checks for name in check.sides}
        self.read = self.read_with("", "")

    def read_with(self, choice: str, word: str) -> frozenset[str]:
        """Ids of all that is read for something that anybody asks for, where the choice has the word."""
        reads = {id(one): self._arms(one, choice, word) for one in self.testing[choice]} if choice in self.testing else {}
        makers = {name: one for one in self.producers for name in one.yields}
        waiting = [name for check in self.checks if word in dict(check.applies).get(choice, (word,)) for name in check.sides]
        waiting += [name for one in self.producers if not self.asked.intersection(one.yields) for name in one.yields]  # for the reader only
        seen: set[str] = set()
        while waiting:
            name = waiting.pop()
            if name not in seen:
                seen.add(name)
                one = makers.get(name)
                waiting += () if one is None else reads.get(id(one), one.parameters)
        return frozenset(seen)

    @staticmethod
    def _arms(one: Formula, choice: str, word: str) -> tuple[str, ...]:
        live = decided(one.expression, {choice: word})
        return tuple(names_in(live)) + ((choice,) if choice in one.parameters else ())


def _tested(one) -> tuple[str, ...]:
    """Choices of which a formula asks the word, over items too."""
    return tuple(name for name in one.parameters if terms()[name].unit == "choice") if isinstance(one, Formula) else ()
