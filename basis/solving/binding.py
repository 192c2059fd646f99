"""From the results of a run to a Book: every Value with its trace, every check decided. Values that an option leaves as they are in the
chosen book are that book's own.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from basis.chapters import Catalogue
from basis.language import digests
from basis.language.blanks import marked
from basis.language.compiled import Step
from basis.language.faults import Faults
from basis.language.formula import Formula
from basis.language.standing import cited, is_blank, outside_range, reads_unread, source_marks
from basis.language.terms import Term, homes, listed, lists_by_axis, terms
from basis.reading.project import Project
from basis.solving import digest
from basis.solving.book import Book
from basis.solving.lacking import Roots
from basis.solving.trouble import Places, fault_of_check
from basis.solving.value import Value
from basis.solving.verdict import Verdict
from basis.solving.verdicts import failing_elements, verdict_of


@dataclass(frozen=True)
class Solved:
    """One option of a project after its run: what was given, the steps in order, and every result in SI."""

    project: Project
    catalogue: Catalogue
    chapters: tuple  # of the book, in order
    places: Places
    by_term: dict  # term id -> element id -> Given
    items: dict
    data: dict  # term id -> SI data of inputs
    origin: dict
    steps: tuple
    missing: dict  # undecided term id -> ids of missing inputs
    inputs: dict  # of the chain, by name
    results: dict  # by name, inputs among them
    taken: frozenset = frozenset()  # ids of inputs and results that are taken over from the run of the chosen options
    rests: dict = field(default_factory=dict)  # term id -> axes without items on which alone it rests; empty or None where on something
    outside: tuple = ()  # Faults of results outside their range, told unless the text itself is at fault


def needs_of(step: Step, producer) -> tuple:
    """What a step rests on: what it takes, and the choices that decided its arm."""
    return tuple(dict.fromkeys((*step.needs, *producer.tested))) if isinstance(producer, Formula) and producer.tested else step.needs


def _holds_nothing(data) -> bool:
    """Whether an array has items and no number for any."""
    return isinstance(data, np.ndarray) and data.dtype.kind == "f" and data.size > 0 and bool(np.isnan(data).all())


def book_of(solved: Solved, chosen: Book | None) -> Book:
    """The Book of a run; `chosen` is the book of the chosen options, whose Values are taken where they are the same. Raises Faults."""
    return _Binder(solved, chosen).book()


@dataclass
class _Binder:
    """A run while it is made a Book. `base`: the book of the chosen options, or of the same before a save; its Values stand where they are the same."""

    run: Solved
    base: Book | None
    values: dict = field(default_factory=dict)
    roots: Roots | None = None
    missing: dict = field(default_factory=dict)  # of what is blank: what has to be given for it

    def book(self) -> Book:
        run, chapters = self.run, self.run.chapters
        names = [name for name in (*run.data, *(name for step in run.steps for name in step.yields)) if name in terms()]
        blank = {name for name in names if is_blank(run.results[name]) and not self._nowhere(name)}
        self.roots = Roots({name: step for step in run.steps for name in step.yields}, run.results, run.items, run.missing)
        self.missing = {name: self.roots.of(name) for name in (*(name for name in names if name in blank), *run.missing)
                        if name in blank or name not in run.results}
        told = self.base.undecided if self.base else {}
        bare = {name: told.get(name, (name,)) if name in run.taken else self.roots.of(name)
                for name in names if name not in blank and _holds_nothing(run.results[name])}
        self.missing |= {name: roots for name, roots in bare.items() if self.roots.steps.keys().isdisjoint(root.partition(".")[0] for root in roots)}
        self._make_values(blank)
        home = self._homes(chapters)
        verdicts = self._verdicts(self.missing)
        self._refuse([verdict.check for verdict in verdicts if verdict.check.fault and verdict.word == "fails"])
        if run.outside:
            raise Faults(run.outside)
        return Book(run.project, chapters, self.values, tuple(one for one in verdicts if not one.check.self_test), home, self.missing, dict(run.items),
                    run.project.names, steps=run.steps, inputs=run.inputs,
                    self_tests=tuple(one for one in verdicts if one.check.self_test and not one.check.fault))

    def _nowhere(self, name: str) -> bool:
        """Whether a value that is blank does not exist: its formula says so, and all plain numbers that it needs are there."""
        step = next((step for step in self.run.steps if name in step.yields), None) if terms()[name].absent else None
        return step is not None and not any(is_blank(self.run.results[used]) and not self._nowhere(used) for used in step.needs)

    def _make_values(self, blank: set) -> None:
        users = self._users(blank)
        for name in self.run.data:
            if name in terms() and name not in blank:
                used = users.get(name, ())
                self.values[name] = self._taken_over(name, used) or self._as_chosen(self._input_value(name, used))
        for step in self.run.steps:
            for name in step.yields:
                if name not in blank:
                    used = users.get(name, ())
                    self.values[name] = self._taken_over(name, used) or self._as_chosen(self._computed_value(name, step, used))

    def _verdicts(self, missing: dict) -> tuple:
        remarks = {check_id: place[0] for check_id, place in self.run.project.remarks.items()}
        before = {verdict.check.id: verdict for verdict in (*self.base.checks, *self.base.self_tests)} if self.base else {}
        checks = [check for chapter in self.run.chapters for check in self.run.catalogue.checks[chapter.id] if not check.order]
        return tuple(before[check.id] if check.id in before and before[check.id].remark == remarks.get(check.id, "") and self._same_sides(check) else
                     self._rooted(verdict_of(check, self.values, missing, remarks.get(check.id, ""), self._unlisted(check))) for check in checks)

    def _rooted(self, verdict: Verdict) -> Verdict:
        """The verdict with what has to be written in place of computed values that wait for it."""
        missing = tuple(dict.fromkeys(root for name in verdict.missing for root in self.roots.of(name)))
        return replace(verdict, missing=missing) if missing != verdict.missing else verdict

    def _refuse(self, checks: list) -> None:
        faults = [fault_of_check(check, ids, self.run.places, self.run.project.names, self.run.steps)
                  for check in checks for ids in failing_elements(check, self.values)]
        if faults:
            raise Faults(faults)

    def _unlisted(self, check) -> tuple:
        """Axes without items on which alone what is checked rests, in their order; a list of limits that is empty is a missing limit."""
        rests = self.run.rests.get(check.value) or {axis for axis in terms()[check.value].axes if not self.run.items[axis] and not listed(axis).limits}
        return tuple(axis for axis in lists_by_axis() if axis in rests)

    def _taken_over(self, name: str, users: tuple) -> Value | None:
        """The other book's Value of what is taken over, if all that is told about it is the same."""
        value = self._chosen(name) if name in self.run.taken else None
        same = (value is not None and value.used_by == users and value.currency == self._currency(value.term)
                and value.givens == self.run.by_term.get(name, {}) and self._marked_alike(value.inputs)
                and self._renamed.isdisjoint((*value.axes, value.term.refers_to)))
        return value if same else None

    def _marked_alike(self, names: tuple) -> bool:
        """Whether values are known as well as in the other book: a number that is the same may have been confirmed since."""
        return all(self.values[name].marks == self.base.values[name].marks for name in names if name in self.values and name in self.base.values)

    @cached_property
    def _renamed(self) -> set[str]:
        """Axes whose items have other names than in the other book."""
        here, there = self.run.project.names, self.base.names
        return {axis for axis in here.keys() | there.keys() if here.get(axis) != there.get(axis)}

    def _as_chosen(self, value: Value) -> Value:
        """The chosen book's Value, where this one turned out to be the same although something above it differs."""
        other = self._chosen(value.id)
        return other if other is not None and other.digest == value.digest else value

    def _same_sides(self, check) -> bool:
        """Whether a check compares the chosen book's own Values."""
        return self.base is not None and all(name in self.values and self.values[name] is self._chosen(name) for name in check.sides)

    def _chosen(self, name: str) -> Value | None:
        return self.base.values.get(name) if self.base else None

    def _users(self, blank: set) -> dict[str, tuple]:
        """Who uses each value, in the order of the chapters and of their formulas as written."""
        written = [name for chapter in self.run.chapters for producer in self.run.catalogue.formulas[chapter.id] for name in producer.yields]
        places = {name: place for place, name in enumerate(written)}
        found: dict[str, dict] = {}
        for step in sorted(self.run.steps, key=lambda step: places.get(step.yields[0], len(places))):
            users = dict.fromkeys(name for name in step.yields if name not in blank)
            for used in self._needs(step):
                found.setdefault(used, {}).update(users)
        return {name: tuple(users) for name, users in found.items()}

    def _needs(self, step: Step) -> tuple:
        return needs_of(step, self.run.catalogue.producers[step.yields[0]])

    def _input_value(self, name: str, users: tuple) -> Value:
        term, data, givens = terms()[name], self.run.data[name], self.run.by_term.get(name, {})
        if term.unit == "reference":
            data = self._named(term, data)
        origin = "given" if givens else self.run.origin.get(name, "given")
        own = {"assumed"} if any(given.standing.startswith("assumed") for given in givens.values()) else set()
        if origin == "default" or (givens and term.default is not None and term.axes and len(givens) < np.shape(data)[0]):
            own |= {"default"} | source_marks((term.source,))
        if origin == "constant":
            own |= source_marks((term.source,))
        return self._value(name, data, origin, givens=givens, used_by=users, own_marks=frozenset(own), marks=frozenset(own))

    def _named(self, term: Term, data):
        ids = self.run.items[term.refers_to]
        return ids[data] if not term.axes else np.array([ids[index] if index >= 0 else "" for index in data], dtype=object)

    def _computed_value(self, name: str, step: Step, users: tuple) -> Value:
        results, values = self.run.results, self.values
        producer, inputs = self.run.catalogue.producers[name], self._needs(step)
        givens = self.run.by_term.get(name, {})
        sources_read = cited(step, producer, values) if producer.looks_up else producer.sources
        own = source_marks(sources_read) | ({"from memory"} if producer.looks_up and reads_unread(step, values) else set())
        if any(given.standing.startswith("assumed") for given in givens.values()):
            own |= {"assumed"}
        marks = own.union(*(values[used].marks for used in inputs if used in values))
        numbers = {**{used: values[used].number for used in inputs if used in values}, name: results[name]}
        residual = (results[f"residual_of_{producer.id}"], results[f"note_of_{producer.id}"]) if step.procedure else None
        if not residual:
            arm = (*(values[tested].number for tested in producer.tested), *(len(self.run.items[axis]) for axis in producer.counts))
        else:
            arm = tuple(digests.text_of(results[one]) for one in step.yields) if callable(residual[0]) else ()
        return self._value(name, results[name], "procedure" if step.procedure else "formula", arm, producer=producer, givens=givens, inputs=inputs,
                           used_by=users, cited=sources_read, own_marks=frozenset(own), marks=frozenset(marks), outside=outside_range(producer, numbers),
                           residual=residual)

    def _value(self, name: str, data, origin: str, arm: tuple = (), **facts) -> Value:
        term = terms()[name]
        number = data if term.is_text or term.axes else float(data)
        if term.axes and not term.is_text:
            if term.absent and np.isnan(data).any():
                data = marked(data, np.isnan(data) if name in self.missing else self.roots.waits(name))
            number = np.broadcast_to(data, tuple(len(self.run.items[axis]) for axis in term.axes))
        made = Value(name, term, number, origin, term.axes, tuple(self.run.items[axis] for axis in term.axes), currency=self._currency(term), **facts)
        return replace(made, digest=digest.of_shown(made, self.run.project.names, arm))

    def _currency(self, term: Term) -> str:
        return self.run.data.get("currency", "") if "cur" in term.unit else ""

    def _homes(self, chapters) -> dict[str, str]:
        """Chapter that shows each value."""
        active = [chapter.id for chapter in chapters]
        return {name: self.base.home[name] if self.base and value is self._chosen(name) else self._home(value, active) for name, value in self.values.items()}

    def _home(self, value: Value, active: list) -> str:
        own = self.run.catalogue.chapter_of.get(value.id) or homes()[value.id]
        if own in active:
            return own
        users = [self.run.catalogue.chapter_of.get(user) for user in value.used_by]
        return next((chapter for chapter in active if chapter in users), active[0])
