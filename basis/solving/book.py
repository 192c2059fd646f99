"""Book: what solving yields."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from basis.chapters import catalogue
from basis.language.compiled import Step
from basis.language.formula import Chapter, Check
from basis.language.sources import sources
from basis.reading.givens import Given
from basis.reading.project import Decision, Project
from basis.reading.register import Question, Requirement
from basis.reading.schema import OPEN
from basis.solving import digest
from basis.solving.named import chapter_of
from basis.solving.since import Since, Was
from basis.solving.unread import Unread, unread
from basis.solving.value import Value
from basis.solving.verdict import Verdict
from basis.solving.verdict_words import WORDS


def overlays(decision: Decision) -> frozenset[str]:
    """Ids of the Terms that the options of a decision set: what it is about, whatever the project calls it."""
    return frozenset(term_id for option in decision.options for term_id, _ in option.givens)


def _differs(values: list) -> bool:
    """Whether one value is shown differently in two options; numbers are looked at first, since showing them takes longer."""
    first, *rest = values
    if all(value is not None and first is not None and value.number == first.number for value in rest):
        return False
    return len({value.text() if value is not None else None for value in values}) > 1


def _by_name(pairs) -> dict:
    """Id of a check, a chapter or, of an element too, the value -> what was said of it."""
    found: dict[str, list] = {}
    for name, one in pairs:
        found.setdefault(name.partition(".")[0], []).append(one)
    return {name: tuple(some) for name, some in found.items()}


@dataclass(frozen=True)
class Book:
    """All values of one project in one option, in order of computing. `book["id"]` or `book["id.item"]` opens one."""

    project: Project
    chapters: tuple[Chapter, ...]
    values: dict
    checks: tuple[Verdict, ...]
    home: dict  # value id -> chapter id that shows it
    undecided: dict  # term id -> ids of the inputs that are missing
    items: dict
    names: dict
    options: dict = field(default_factory=dict, repr=False)  # (decision id, option id) -> Book
    steps: tuple[Step, ...] = field(default=(), repr=False)  # what computes its values, in order
    inputs: dict = field(default_factory=dict, repr=False)  # of the run by name, in SI
    self_tests: tuple[Verdict, ...] = ()  # what proves the program, not the plant
    tried: tuple = field(default=(), repr=False)  # the trials that have been run, each a Tried
    trials: dict = field(default_factory=dict, repr=False)  # (input, place of the step) -> Book
    since: Since | None = field(default=None, repr=False)  # what moved since the last issue; None where nothing is issued, and in options

    def __getitem__(self, value_id: str) -> Value:
        term_id, *ids = value_id.split(".")
        if term_id not in self.values:
            why = f"; not given: {', '.join(self.undecided[term_id])}" if term_id in self.undecided else ""
            raise KeyError(f"no value '{term_id}' in this book{why}")
        value = self.values[term_id]
        return value.element(*ids) if ids else value

    def __contains__(self, value_id: str) -> bool:
        return value_id.split(".")[0] in self.values

    def __repr__(self) -> str:
        return f"<Book {self.project.slug}: {len(self.values)} values, {len(self.checks)} checks>"

    def beside(self, key: tuple) -> Book:
        """The book of an option or of a step of a trial."""
        return self.options[key] if key in self.options else self.trials[key]

    def check(self, check_id: str) -> Verdict:
        """The verdict of one check. Raises KeyError."""
        if check_id not in self._by_check:
            raise KeyError(f"no check '{check_id}' in this book")
        return self._by_check[check_id]

    def made_check(self, check_id: str) -> Check | None:
        """The check of this id, self-tests among them, where this book makes it, however it turns out."""
        return self._by_check[check_id].check if check_id in self._by_check else None

    @cached_property
    def _by_check(self) -> dict[str, Verdict]:
        return {verdict.check.id: verdict for verdict in (*self.checks, *self.self_tests)}

    def checks_on(self, value_id: str) -> tuple[Verdict, ...]:
        """Verdicts, self-tests last, in which a value is held against something or is the limit."""
        return self._by_value.get(value_id, ())

    @cached_property
    def _by_value(self) -> dict[str, tuple[Verdict, ...]]:
        found: dict[str, list] = {}
        for verdict in (*self.checks, *self.self_tests):
            for side in (verdict.check.value, verdict.check.limit):
                found.setdefault(side, []).append(verdict)
        return {value_id: tuple(verdicts) for value_id, verdicts in found.items()}

    @cached_property
    def worst(self) -> dict[str, str]:
        """Value id -> the most urgent word among the checks that rest on it, in whatever way; empty where none does."""
        found: dict[str, str] = {}
        on = _by_name((side, verdict.word) for verdict in self.checks for side in verdict.check.sides)
        for value_id, value in reversed(self.values.items()):
            words = {*on.get(value_id, ())} | {found.get(user) for user in value.used_by}
            found[value_id] = next((word for word in WORDS if word in words), "")
        return found

    @property
    def marked_since(self) -> str:
        """The issue since which what is marked has moved; empty where nothing is issued."""
        return self.since.base if self.since else ""

    def was(self, value_id: str) -> dict[str, Was]:
        """Elements of a value that are shown otherwise than in that issue, "" for a plain one, with what was shown there."""
        return self.since.numbers.get(value_id, {}) if self.since else {}

    def was_judged(self, check_id: str) -> tuple[str, ...]:
        """The word and the margin of a check in that issue, if one of them is another now; else nothing."""
        return self.since.verdicts.get(check_id, ()) if self.since else ()

    @cached_property
    def foundations(self) -> dict[str, str]:
        """Value id -> digest of all that its number rests on: the same in two books where nothing upstream of it differs."""
        return digest.of_foundations(self.values, self.steps, self.items)

    def moved(self, decision_id: str, option_id: str) -> frozenset[str]:
        """Ids of values of an option that this book does not have, or of which something else is shown."""
        return self._moved[decision_id, option_id]

    @cached_property
    def _moved(self) -> dict[tuple, frozenset[str]]:
        have = {value_id: value.digest for value_id, value in self.values.items()}
        return {key: frozenset(value_id for value_id, value in book.values.items() if have.get(value_id) != value.digest)
                for key, book in self.options.items()}

    def computed(self, value_id: str) -> bool:
        """Whether a formula or procedure stands behind a value, whoever gives it."""
        return self.values[value_id].producer is not None

    def shown_in(self, value_id: str) -> tuple[str, bool]:
        """Id of the chapter that shows a value, and whether it is computed there."""
        return self.home[value_id], self.computed(value_id)

    @cached_property
    def not_read(self) -> tuple[Unread, ...]:
        """Givens that nothing reads in any option in which they stand, by file and line."""
        return unread(self)

    def of_chapter(self, chapter_id: str) -> tuple[Value, ...]:
        """Values whose working a chapter shows, in order of computing."""
        return tuple(self.values[value_id] for value_id in self.ids_of_chapter(chapter_id))

    def ids_of_chapter(self, chapter_id: str) -> tuple[str, ...]:
        """Ids of the values whose working a chapter shows, in order of computing."""
        return self._by_chapter.get(chapter_id, ())

    def parted_ids(self, chapter_id: str) -> dict[bool, tuple[str, ...]]:
        """The same, those that are not computed and those that are."""
        return self._parted.get(chapter_id, {})

    @cached_property
    def _parted(self) -> dict[str, dict[bool, tuple[str, ...]]]:
        return {chapter_id: {computed: tuple(name for name in ids if self.computed(name) is computed) for computed in (False, True)}
                for chapter_id, ids in self._by_chapter.items()}

    @cached_property
    def _by_chapter(self) -> dict[str, tuple[str, ...]]:
        found: dict[str, list] = {}
        for value_id in self.values:
            found.setdefault(self.home[value_id], []).append(value_id)
        return {chapter_id: tuple(ids) for chapter_id, ids in found.items()}

    def upstream(self, chapter_id: str) -> frozenset[str]:
        """Ids of everything that the values of a chapter rest on, themselves included."""
        found, waiting = set(), list(self.ids_of_chapter(chapter_id))
        while waiting:
            value_id = waiting.pop()
            if value_id not in found and value_id in self.values:
                found.add(value_id)
                waiting += self.values[value_id].inputs
        return frozenset(found)

    def checks_of(self, chapter_id: str) -> tuple[Verdict, ...]:
        """Verdicts of the checks that a chapter makes."""
        return self._checks_by_chapter.get(chapter_id, ())

    @cached_property
    def _checks_by_chapter(self) -> dict[str, tuple[Verdict, ...]]:
        return _by_name((catalogue().chapter_of.get(verdict.check.id, ""), verdict) for verdict in self.checks)

    def self_tests_of(self, chapter_id: str) -> tuple[Verdict, ...]:
        """The same of its self-tests."""
        return tuple(verdict for verdict in self.self_tests if catalogue().chapter_of.get(verdict.check.id) == chapter_id)

    def decisions_of(self, chapter_id: str) -> tuple[Decision, ...]:
        """Decisions with an option that sets a Term at home in the chapter, whatever the project calls them."""
        return tuple(decision for decision in self.project.decisions
                     if any(self.options[decision.id, option.id].home.get(name) == chapter_id for option in decision.options for name, _ in option.givens))

    def home_of(self, decision_id: str) -> str:
        """Id of the chapter that gives the reason of a decision: that of the first Term, as the project writes them, that an option sets."""
        decision = self._decision(decision_id)
        homes = (self.options[decision.id, option.id].home.get(name) for option in decision.options for name, _ in option.givens)
        return next((home for home in homes if home), "")

    def differing(self, decision_id: str) -> tuple[str, ...]:
        """Ids of plain values that are not shown alike in every option of a decision, in the order of the chosen book, then of the others."""
        return self._differing[decision_id]

    @cached_property
    def _differing(self) -> dict[str, tuple[str, ...]]:
        return {decision.id: self._told_apart(decision.id) for decision in self.project.decisions}

    def _told_apart(self, decision_id: str) -> tuple[str, ...]:
        sides = [self.options[decision_id, option.id].values for option in self._decision(decision_id).options]
        order = dict.fromkeys(value_id for side in (self.values, *sides) for value_id, value in side.items() if not value.axes)
        return tuple(value_id for value_id in order if _differs([side.get(value_id) for side in sides]))

    def _decision(self, decision_id: str) -> Decision:
        return next(decision for decision in self.project.decisions if decision.id == decision_id)

    def asked_of(self, name: str) -> tuple[Question | Requirement, ...]:
        """Of a check, a value or an element of it: questions about it without an answer, then requirements that it answers."""
        return self._by_asked.get(name, ())

    @cached_property
    def _by_asked(self) -> dict[str, tuple[Question | Requirement, ...]]:
        questions = ((one.about, one) for one in self.project.questions if one.state == OPEN)
        return _by_name([*questions, *((one.check or one.value, one) for one in self.project.requirements)])

    def open_questions_of(self, chapter_id: str) -> tuple[Question, ...]:
        """Questions without an answer about the values and checks of a chapter."""
        return tuple(one for one in self.project.questions if one.state == OPEN and chapter_of(one.about) == chapter_id)

    def assumptions(self) -> tuple[Given, ...]:
        """Givens that somebody still has to confirm, by file and line."""
        return self._assumed

    @cached_property
    def _assumed(self) -> tuple[Given, ...]:
        return self._givens_known("assumed")

    @cached_property
    def measured(self) -> tuple[Given, ...]:
        """Givens that were measured on the plant itself, by file and line."""
        return self._givens_known("measured")

    def _givens_known(self, standing: str) -> tuple[Given, ...]:
        """Givens of one standing, by file and line."""
        found = dict.fromkeys(given for value in self.values.values() for given in value.givens.values() if given.standing.startswith(standing))
        return tuple(sorted(found, key=lambda given: (given.file, given.line)))

    @cached_property
    def defaults(self) -> tuple[Value, ...]:
        """Inputs for which a default of this book stands, for some items at least; a list without items needs none."""
        return tuple(value for value in self.values.values() if value.origin in ("given", "default") and "default" in value.own_marks and np.size(value.number))

    @cached_property
    def still_open(self) -> str:
        """How much somebody still has to confirm or give: givens assumed, checks undecided, defaults that stand for what nobody gave."""
        undecided = sum(verdict.word == "undecided" for verdict in self.checks)
        return f"{len(self._assumed)} assumed, {undecided} undecided, {len(self.defaults)} default{'' if len(self.defaults) == 1 else 's'}"

    def sources_used(self) -> dict[str, tuple[str, ...]]:
        """Source id -> ids of the values and checks that rest on it."""
        return self._sources_used

    @cached_property
    def _sources_used(self) -> dict[str, tuple[str, ...]]:
        found: dict[str, list] = {}
        for value in self.values.values():
            for source_id in value.source_ids:
                found.setdefault(source_id, []).append(value.id)
        for verdict in (*self.checks, *self.self_tests):
            for source_id in verdict.check.sources:
                found.setdefault(source_id, []).append(verdict.check.id)
        return {source_id: tuple(ids) for source_id, ids in sorted(found.items()) if source_id in sources()}
