"""Put the formulas of a project in order, run them as one function on SI floats, and return a Book with the trace.

What is missing is a fault when it is required, and makes a value undecided when it is optional; nothing is guessed.
May import everything but compare, site and cli.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

import numpy as np

from basis.again import with_chances
from basis.book import Book, Value, alike
from basis.chapters import Catalogue, catalogue as all_chapters
from basis.compiled import Step, chain, count_name, given_name, remembered, result_names
from basis.faults import Fault, Faults, ItemTroubles, OutOfTable, nearest_name
from basis.formula import Formula, Procedure
from basis.maths import decided, names_in
from basis.project import Project, read
from basis.standing import cited, is_blank, source_marks, warnings
from basis.terms import AXES, FIXED_ITEMS, LIMIT_AXES, Term, homes, terms
from basis.trouble import Places, check_finite, fault_of_check, step_by_step
from basis.verdicts import failing_elements, verdict_of


def load(folder) -> Book:
    """Read and solve one project folder. Raises Faults."""
    return solve(read(folder))


def solve(project: Project, catalogue: Catalogue | None = None) -> Book:
    """Solve the project with its chosen options, and every other option beside it. Raises Faults of all of them."""
    catalogue = catalogue or all_chapters()
    faults = _project_faults(project, catalogue)
    chosen = {decision.id: decision.chosen for decision in project.decisions}
    books: dict[tuple, Book] = {}
    memory: dict = {}  # what procedures yielded, for the options that ask the same
    main = _attempt(project, catalogue, chosen, memory, None, faults, "")
    for decision in project.decisions:
        for option in decision.options:
            if option.id == decision.chosen:
                books[(decision.id, option.id)] = main
                continue
            book = _attempt(project, catalogue, {**chosen, decision.id: option.id}, memory, main, faults, f" (in option '{option.id}')")
            books[(decision.id, option.id)] = book
    if faults:
        raise Faults(faults)
    return replace(with_chances(main), options=books)


def _project_faults(project: Project, catalogue: Catalogue) -> list[Fault]:
    known = [chapter.id for chapter in catalogue.chapters]
    file = f"{project.folder}/project.yaml"
    found = [Fault(file, 0, f"unknown chapter '{name}'", ", ".join(known), nearest_name(name, known))
             for name in project.chapters if name not in known]
    checks = {check.id for group in catalogue.checks.values() for check in group}
    found += [Fault(place[1], place[2], f"remark on unknown check '{check_id}'", "the id of a check", nearest_name(check_id, checks))
              for check_id, place in project.remarks.items() if check_id not in checks]
    return found


def _attempt(project, catalogue, choices: dict, memory: dict, base: Book | None, faults: list, where: str) -> Book | None:
    try:
        return _Case(project, catalogue, choices, memory, base).book()
    except Faults as found:
        known = set(faults)
        faults += [fault if not where else replace(fault, what=fault.what + where) for fault in found.faults if fault not in known]
        return None


@dataclass
class _Case:
    """One option of one project while it is being solved."""

    project: Project
    catalogue: Catalogue
    choices: dict
    memory: dict
    base: Book | None  # the chosen book, for the options that are solved beside it
    givens: dict = field(default_factory=dict)
    by_term: dict = field(default_factory=dict)  # term id -> element id -> Given
    items: dict = field(default_factory=dict)
    data: dict = field(default_factory=dict)  # term id -> SI data of inputs
    origin: dict = field(default_factory=dict)
    steps: list = field(default_factory=list)
    missing: dict = field(default_factory=dict)  # undecided term id -> ids of missing inputs
    faults: list = field(default_factory=list)
    open: list = field(default_factory=list)  # the path that is being ordered

    def book(self) -> Book:
        self._overlay()
        chapters = tuple(chapter for chapter in self.catalogue.chapters if not self.project.chapters or chapter.id in self.project.chapters)
        self._order(chapters)
        if self.faults:
            raise Faults(self.faults)
        results = self._run()
        if self.faults:
            raise Faults(self.faults)
        book = self._bind(chapters, results)
        if self.faults:
            raise Faults(self.faults)
        return book

    # -- inputs ---------------------------------------------------------------------------------------------------

    def _overlay(self) -> None:
        self.givens = dict(self.project.givens)
        self.items = {axis: FIXED_ITEMS.get(axis, self.project.items.get(axis, ())) for axis in AXES}
        for decision in self.project.decisions:
            option = next(option for option in decision.options if option.id == self.choices[decision.id])
            self.givens.update(option.givens)
            for axis, ids in option.items.items():
                self.items[axis] += tuple(item for item in ids if item not in self.items[axis])
        for (term_id, element), given in self.givens.items():
            self.by_term.setdefault(term_id, {})[element] = given

    def _input(self, term: Term) -> str:
        """Take an input in: "known", "absent" or "fault"."""
        found = self._remembered_array(term) if term.own_axes else self._one(term, "")
        if found is None:
            return "absent"
        if isinstance(found, str) and found == "fault" and not term.is_text:
            return "fault"
        self.data[term.id] = found
        self.origin[term.id] = "given" if term.id in self.by_term or term.default is None else "constant" if term.constant else "default"
        return "known"

    def _remembered_array(self, term: Term):
        """The array of a term over items, the same object for every option with the same givens."""
        key = ("array", term.id, self.items[term.axes[0]], self.items.get(term.refers_to), *map(id, self.by_term.get(term.id, {}).values()))
        if key not in self.memory:
            before = len(self.faults)
            found = self._array(term)
            if len(self.faults) > before:
                return found
            self.memory[key] = found
        return self.memory[key]

    def _one(self, term: Term, element: str):
        """SI data of one element; None when it may be missing; "fault" after adding one."""
        given = self.givens.get((term.id, element))
        if given is not None:
            if term.unit == "reference":
                ids = self.items[term.refers_to]
                return ids.index(given.data) if given.data in ids else self._fault_missing(term, element)
            return np.array(given.data) if isinstance(given.data, tuple) else given.data
        if term.default is not None:
            return self._default(term)
        return None if term.optional else self._fault_missing(term, element)

    def _default(self, term: Term):
        key = ("default", term.id)
        if key not in self.memory:
            self.memory[key] = term.default_data()
        return self.memory[key]

    def _fault_missing(self, term: Term, element: str):
        user = self.open[-1] if self.open else ""
        needed = f" (needed by {user})" if user else ""
        file, line = self._places().of(term, element)
        owner = f" of '{element}'" if element else ""
        what = "a value" if term.is_text else f"{term.name.lower()} with a unit such as {term.si_unit}"
        if term.choices:
            what = "one of " + ", ".join(term.choices)
        self.faults.append(Fault(file, line, f"missing '{term.id}'{owner}{needed}", what))
        return "fault"

    def _array(self, term: Term):
        ids = self.items[term.axes[0]]
        if not ids and term.optional:
            return None
        found = [self._one(term, item) for item in ids]
        if any(isinstance(one, str) and one == "fault" for one in found) and not term.is_text:
            return "fault"
        width = len(FIXED_ITEMS[term.fixed_axis]) if term.fixed_axis else None
        if term.is_text and term.unit != "reference":
            return np.array(["" if one is None else one for one in found], dtype=object)
        if term.unit == "reference":
            return np.array([-1 if one in (None, "fault") else one for one in found], dtype=int)
        blank = math.nan if width is None else np.full(width, math.nan)
        if not ids:
            return np.zeros((0,) if width is None else (0, width))
        return np.array([blank if one is None else one for one in found], dtype=float)

    # -- order ----------------------------------------------------------------------------------------------------

    def _order(self, chapters) -> None:
        state: dict[str, str] = {}
        for chapter in chapters:
            for producer in self.catalogue.formulas[chapter.id]:
                for name in producer.yields:
                    self._need(name, state)
            for check in self.catalogue.checks[chapter.id]:
                self._need(check.value, state)
                self._need(check.limit, state)
        for term_id, _ in self.givens:
            self._need(term_id, state)

    def _need(self, name: str, state: dict) -> str:
        if name in state:
            return state[name]
        if name in self.open:
            cycle = self.open[self.open.index(name):]
            self.faults.append(Fault(self.project.folder, 0, "formulas form a circle: " + " → ".join([*cycle, name]), "a chain that ends in inputs"))
            return "fault"
        term, producer = terms()[name], self.catalogue.producers.get(name)
        if producer is not None and self._is_given(term) and not term.either:
            given = next(iter(self.by_term[name].values()))
            self.faults.append(Fault(given.file, given.line, f"'{name}' is computed by the book", "no value here"))
        if producer is None or self._wholly_given(term) or self._left_out(term):
            state[name] = self._input(term)
            if state[name] == "absent":
                self.missing[name] = (name,)
            return state[name]
        self.open.append(name)
        outcome = self._produce(producer, name, state)
        self.open.pop()
        state.update(dict.fromkeys(producer.yields if isinstance(producer, Procedure) else (name,), outcome))
        return outcome

    def _produce(self, producer, name: str, state: dict) -> str:
        parameters = producer.parameters
        if isinstance(producer, Formula):
            if "fault" in [self._need(tested, state) for tested in producer.tested]:
                return "fault"  # which arm runs is unknown: its inputs are not asked for
            expression = self._decided(producer) if producer.conditional else producer.expression
            parameters = names_in(expression) if producer.conditional else parameters
        outcomes = [state.get(parameter) or self._need(parameter, state) for parameter in parameters]
        if "fault" in outcomes:
            return "fault"
        if absent := [parameter for parameter, outcome in zip(parameters, outcomes) if outcome == "absent"]:
            roots = tuple(dict.fromkeys(root for parameter in absent for root in self.missing[parameter]))
            self.missing.update(dict.fromkeys(producer.yields, roots))
            return "absent"
        if isinstance(producer, Procedure):
            self.steps.append(Step(producer.yields, procedure=producer, needs=parameters))
        else:
            merged = self._is_given(terms()[name])
            if merged:
                self.data[given_name(name)] = self._array(replace(terms()[name], optional=True, default=None))
            self.steps.append(Step((name,), expression, merged=merged, needs=parameters))
        return "computed"

    def _decided(self, producer: Formula):
        """The live expression, the same object for every option with the same choices."""
        words = {name: self.data[name] for name in producer.tested if isinstance(self.data.get(name), str)}
        key = ("live", producer.id, *words.items())
        if key not in self.memory:
            self.memory[key] = decided(producer.expression, words)
        return self.memory[key]

    def _left_out(self, term: Term) -> bool:
        """Whether the chapter that computes a term is not in this book and the default stands for it."""
        return term.default is not None and bool(self.project.chapters) and self.catalogue.chapter_of[term.id] not in self.project.chapters

    def _is_given(self, term: Term) -> bool:
        return term.id in self.by_term

    def _wholly_given(self, term: Term) -> bool:
        if not term.own_axes:
            return (term.id, "") in self.givens
        return bool(self.items[term.axes[0]]) and all((term.id, item) in self.givens for item in self.items[term.axes[0]])

    # -- run ------------------------------------------------------------------------------------------------------

    def _inputs(self) -> dict:
        inputs = {name: data for name, data in self.data.items() if not isinstance(data, str) or terms()[name].is_text}
        inputs |= {count_name(axis): float(len(self.items[axis])) for axis in AXES}
        inputs |= {f"run_{step.procedure.id}": remembered(step.procedure, self.memory) for step in self.steps if step.procedure}
        return inputs

    def _run(self) -> dict:
        inputs = self._inputs()
        with np.errstate(all="ignore"):
            try:
                results = chain(self.steps, tuple(inputs), terms(), memory=self.memory)(*inputs.values())
            except (ArithmeticError, ValueError, OutOfTable, ItemTroubles):
                return step_by_step(self.steps, inputs, self._places(), self.faults)
        have = inputs | dict(zip(result_names(self.steps), results))
        places = self._places()
        for step in self.steps:
            for name in step.yields:
                check_finite(name, step, have, places, self.faults)
        return have

    def _places(self) -> Places:
        return Places(self.project.folder, self.project.files, self.givens, self.items)

    # -- book -----------------------------------------------------------------------------------------------------

    def _bind(self, chapters, results: dict) -> Book:
        names = [name for name in (*self.data, *(name for step in self.steps for name in step.yields)) if name in terms()]
        blank = {name for name in names if is_blank(results[name])}
        self.missing = {**{name: (name,) for name in names if name in blank}, **self.missing}
        users = self._users(blank)
        values = {name: self._same_input(name, users.get(name, ())) or self._input_value(name, users.get(name, ()))
                  for name in self.data if name in terms() and name not in blank}
        for step in self.steps:
            for name in step.yields:
                if name not in blank:
                    values[name] = (self._same_result(name, step, values, users.get(name, ()))
                                    or self._as_chosen(self._computed_value(name, step, results, values, users.get(name, ()))))
        home = {name: self._home(name, values, chapters) for name in values}
        remarks = {check_id: place[0] for check_id, place in self.project.remarks.items()}
        before = {verdict.check.id: verdict for verdict in self.base.checks} if self.base else {}
        verdicts = tuple(before[check.id] if self._same_sides(check, values) else verdict_of(check, values, self.missing, remarks.get(check.id, ""), self._unlisted(check))
                         for chapter in chapters for check in self.catalogue.checks[chapter.id])
        for check in (verdict.check for verdict in verdicts if verdict.check.fault and verdict.word == "fails"):
            self.faults += [fault_of_check(check, ids, self._places(), self.project.names) for ids in failing_elements(check, values)]
        program = (tuple(self.steps), self._inputs())
        return Book(self.project, chapters, values, verdicts, home, dict(self.missing), dict(self.items), self.project.names, program=program)

    def _unlisted(self, check) -> tuple:
        """Axes of what is checked along which there is no item; a list of limits that is empty is a missing limit."""
        return tuple(axis for axis in terms()[check.value].axes if not self.items[axis] and axis not in LIMIT_AXES)

    def _same_input(self, name: str, users: tuple) -> Value | None:
        """The chosen book's Value of an input, when nothing about it differs in this option."""
        value, givens = self._chosen(name), self.by_term.get(name, {})
        if value is None or value.used_by != users or value.items != tuple(self.items[axis] for axis in value.axes):
            return None
        alike = len(value.givens) == len(givens) and all(value.givens.get(element) is given for element, given in givens.items())
        return value if alike and value.term.unit != "reference" else None

    def _same_result(self, name: str, step: Step, values: dict, users: tuple) -> Value | None:
        """The chosen book's Value of a result, when it comes from the same Values by the same step."""
        value = self._chosen(name)
        if value is None or value.used_by != users or step.merged or value.inputs != self._needs(step):
            return None
        alike = value.items == tuple(self.items[axis] for axis in value.axes)
        return value if alike and all(values.get(used) is self._chosen(used) for used in value.inputs) else None

    def _as_chosen(self, value: Value) -> Value:
        """The chosen book's Value, where this one turned out to be the same although something above it differs."""
        other = self._chosen(value.id)
        return other if other is not None and alike(value, other) else value

    def _same_sides(self, check, values: dict) -> bool:
        """Whether a check compares the chosen book's own Values."""
        return self.base is not None and all(name in values and values[name] is self._chosen(name) for name in (check.value, check.limit))

    def _chosen(self, name: str) -> Value | None:
        return self.base.values.get(name) if self.base else None

    def _users(self, blank: set) -> dict[str, tuple]:
        """Who uses each value, in order of computing."""
        found: dict[str, list] = {}
        for step in self.steps:
            users = [name for name in step.yields if name not in blank]
            for used in self._needs(step):
                found.setdefault(used, []).extend(users)
        return {name: tuple(dict.fromkeys(users)) for name, users in found.items()}

    def _needs(self, step: Step) -> tuple:
        return step.needs if step.procedure else tuple(dict.fromkeys((*step.needs, *self.catalogue.producers[step.yields[0]].tested)))

    def _input_value(self, name: str, users: tuple) -> Value:
        term, data, givens = terms()[name], self.data[name], self.by_term.get(name, {})
        if term.unit == "reference":
            data = self._named(term, data)
        origin = "given" if givens else self.origin.get(name, "given")
        own = {"assumed"} if any(given.standing.startswith("assumed") for given in givens.values()) else set()
        if origin == "default" or (givens and term.default is not None and term.axes and len(givens) < np.shape(data)[0]):
            own |= {"default"} | source_marks((term.source,))
        if origin == "constant":
            own |= source_marks((term.source,))
        return self._value(name, data, origin, givens=givens, used_by=users, own_marks=frozenset(own), marks=frozenset(own))

    def _named(self, term: Term, data):
        ids = self.items[term.refers_to]
        return ids[data] if not term.axes else np.array([ids[index] if index >= 0 else "" for index in data], dtype=object)

    def _computed_value(self, name: str, step: Step, results: dict, values: dict, users: tuple) -> Value:
        producer, inputs = self.catalogue.producers[name], self._needs(step)
        givens = self.by_term.get(name, {})
        sources_read = cited(step, producer, values) if getattr(producer, "looks_up", False) else producer.sources
        own = source_marks(sources_read)
        if any(given.standing.startswith("assumed") for given in givens.values()):
            own |= {"assumed"}
        marks = own.union(*(values[used].marks for used in inputs if used in values))
        numbers = {**{used: values[used].number for used in inputs if used in values}, name: results[name]}
        residual = (results[f"residual_of_{producer.id}"], results[f"note_of_{producer.id}"]) if step.procedure else None
        return self._value(name, results[name], "procedure" if step.procedure else "formula", producer=producer, givens=givens, inputs=inputs, used_by=users, cited=sources_read,
                           own_marks=frozenset(own), marks=frozenset(marks), warnings=warnings(producer, numbers), residual=residual)

    def _value(self, name: str, data, origin: str, **facts) -> Value:
        term = terms()[name]
        number = data if term.is_text or term.axes else float(data)
        if term.axes and not term.is_text:
            number = np.broadcast_to(data, tuple(len(self.items[axis]) for axis in term.axes))
        currency = self.data.get("currency", "") if "cur" in term.unit else ""
        return Value(name, term, number, origin, term.axes, tuple(self.items[axis] for axis in term.axes), currency=currency, **facts)

    def _home(self, name: str, values: dict, chapters) -> str:
        active = [chapter.id for chapter in chapters]
        own = self.catalogue.chapter_of.get(name) or homes()[name]
        if own in active:
            return own
        users = [self.catalogue.chapter_of.get(user) for user in values[name].used_by]
        return next((chapter for chapter in active if chapter in users), active[0])
