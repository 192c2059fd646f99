"""One option of a project while it is being solved: its inputs taken in, its formulas put in order and run as one function on SI floats.

An option that is not chosen runs only the formulas that it reaches, a project after a save only those that the save reaches.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from enum import Enum

import numpy as np

from basis.chapters import Catalogue
from basis.language.compiled import Memory, Step, chain, count_name, given_name, remembered, result_names
from basis.language.faults import Fault, Faults, ItemTroubles, OutOfTable, show_command
from basis.language.formula import Formula, Procedure
from basis.language.maths import decided, names_in
from basis.language.terms import Listed, Term, listed, lists_by_axis, terms
from basis.language.words import in_sentence
from basis.reading.givens import wanted
from basis.reading.project import Project
from basis.solving.asked import word_of_chapter
from basis.solving.binding import Solved, needs_of
from basis.solving.emptiness import what_rests
from basis.solving.rerun import downstream
from basis.solving.trouble import Places, check_bounds, not_finite, out_of_order, step_by_step
from basis.solving.verdicts import speaks


class State(Enum):
    """How far a value has come while a run is put in order."""

    KNOWN = "an input, taken in"
    COMPUTED = "a step yields it"
    ABSENT = "waits for an input that is not given"
    FAULTY = "a fault has been told"


@dataclass
class Case:
    """One option of one project while it is being solved."""

    project: Project
    catalogue: Catalogue
    choices: dict
    memory: Memory
    arrays: dict  # of terms over items, by term, items and Givens: the same object for every option that gives the same
    base: Solved | None = None  # the run of the chosen options, for the others: what an option does not reach is taken from it
    before: Solved | None = None  # the run of the same options before a save: what the save does not reach is taken from it
    givens: dict = field(default_factory=dict)
    by_term: dict = field(default_factory=dict)  # term id -> element id -> Given
    items: dict = field(default_factory=dict)
    data: dict = field(default_factory=dict)  # term id -> SI data of inputs
    origin: dict = field(default_factory=dict)
    steps: list = field(default_factory=list)
    missing: dict = field(default_factory=dict)  # undecided term id -> ids of missing inputs
    faults: list = field(default_factory=list)
    open: list = field(default_factory=list)  # the path that is being ordered
    asked: set = field(default_factory=set)  # ids of all that something asks for
    taken: frozenset = frozenset()  # ids of the inputs and results that are taken over
    order_only: bool = False
    instead: dict = field(default_factory=dict)  # term id -> SI number, for `moved`

    def solved(self) -> Solved:
        """Order and run. Raises Faults."""
        self._overlay()
        chapters = tuple(chapter for chapter in self.catalogue.chapters if not self.project.chapters or chapter.id in self.project.chapters)
        self._order(chapters)
        orders = [check for chapter in chapters for check in self.catalogue.checks[chapter.id] if check.order]
        self.faults += [fault for check in orders for fault in out_of_order(check, self.data, self._places())]
        if self.faults or self.order_only:
            raise Faults(self.faults)
        if self.before:
            self.taken = frozenset(self._not_moved())
        return self._after_run(chapters)

    def moved(self) -> Solved:
        """The run of the chosen options with the numbers of `instead`; its order stands, since words and numbers of items alone decide that. Raises Faults."""
        base, anew = self.base, {name for step in downstream(self.base.steps, self.instead) for name in step.yields}.union(self.instead)
        self.by_term, self.givens, self.items, self.origin, self.missing = base.by_term, base.places.givens, base.items, base.origin, base.missing
        self.data, self.steps = base.data | self.instead, list(base.steps)
        self.taken = frozenset(terms().keys() & base.results.keys()) - anew
        return self._after_run(base.chapters)

    def _after_run(self, chapters: tuple) -> Solved:
        """What is known once the steps have run. Raises Faults."""
        inputs = self._inputs()
        results = self._run(inputs)
        self._ask_for_open(results, chapters)
        if self.faults:
            raise Faults(self.faults)
        outside = check_bounds([step for step in self.steps if step.yields[0] not in self.taken], results, self._places())
        known = {name: self._other.rests[name] for name in self.taken}
        rests = what_rests(self.data, [name for name, origin in self.origin.items() if origin == "constant"], self.steps, self.items, known)
        return Solved(self.project, self.catalogue, chapters, self._places(), self.by_term, self.items, self.data, self.origin, tuple(self.steps), self.missing,
                      inputs, results, self.taken, rests, outside)

    @property
    def _other(self) -> Solved | None:
        """The run from which something may be taken."""
        return self.base or self.before

    # -- inputs ---------------------------------------------------------------------------------------------------

    def _overlay(self) -> None:
        self.givens = dict(self.project.givens)
        self.items = {axis: one.fixed or self.project.items.get(axis, ()) for axis, one in lists_by_axis().items()}
        for decision in self.project.decisions:
            option = next(option for option in decision.options if option.id == self.choices[decision.id])
            self.givens.update(option.givens)
            for axis, ids in option.items.items():
                self.items[axis] += tuple(item for item in ids if item not in self.items[axis])
        for (term_id, element), given in self.givens.items():
            self.by_term.setdefault(term_id, {})[element] = given

    def _input(self, term: Term) -> State:
        """Take an input in."""
        found = self._remembered_array(term) if term.own_axes else self._one(term, "")
        if isinstance(found, State):
            return found
        self.data[term.id] = found
        self.origin[term.id] = "given" if term.id in self.by_term or term.default is None else "constant" if term.constant else "default"
        return State.KNOWN

    def _remembered_array(self, term: Term):
        """The array of a term over items, the same object for every option with the same givens."""
        key = (term.id, self.items[term.axes[0]], self.items.get(term.refers_to), *map(id, self.by_term.get(term.id, {}).values()))
        if key not in self.arrays:
            before = len(self.faults)
            found = self._array(term)
            if len(self.faults) > before:
                return found
            self.arrays[key] = found
        return self.arrays[key]

    def _one(self, term: Term, element: str):
        """SI data of one element, or ABSENT where it may be missing, or FAULTY after adding a fault."""
        given = self.givens.get((term.id, element))
        if given is not None:
            if term.unit == "reference":
                ids = self.items[term.refers_to]
                return ids.index(given.data) if given.data in ids else self._fault_missing(term, element)
            return np.array(given.data) if isinstance(given.data, tuple) else given.data
        if term.default is not None:
            return self._default(term)
        return State.ABSENT if term.optional else self._fault_missing(term, element)

    def _default(self, term: Term):
        return word_of_chapter(term, self.project.chapters) if term.chapter else term.default_data()

    def _fault_missing(self, term: Term, element: str):
        user = self.open[-1] if self.open else ""
        needed = f" (needed by {user})" if user else ""
        file, line = self._places().of(term, element)
        owner = f" of '{element}'" if element else ""
        self.faults.append(Fault(file, line, f"missing '{term.id}'{owner}{needed}", f"{in_sentence(term.name)}, {wanted(term)}", "", show_command(term.id)))
        return State.FAULTY

    def _fault_empty(self, one: Listed) -> State:
        """A list that holds nothing, where something cannot be computed without an item."""
        fault = Fault(*self._places().of_list(one.axis), f"no {one.key.replace('_', ' ')} are listed", f"at least one entry under `{one.key}:`")
        if fault not in self.faults:
            self.faults.append(fault)
        return State.FAULTY

    def _array(self, term: Term):
        ids = self.items[term.axes[0]]
        if not ids and term.optional:
            return State.ABSENT
        found = [self._one(term, item) for item in ids]
        if any(one is State.FAULTY for one in found):
            return State.FAULTY
        width = len(listed(term.fixed_axis).fixed) if term.fixed_axis else None
        if term.is_text and term.unit != "reference":
            return np.array(["" if one is State.ABSENT else one for one in found], dtype=object)
        if term.unit == "reference":
            return np.array([-1 if one is State.ABSENT else one for one in found], dtype=int)
        blank = math.nan if width is None else np.full(width, math.nan)
        if not ids:
            return np.zeros((0,) if width is None else (0, width))
        return np.array([blank if one is State.ABSENT else one for one in found], dtype=float)

    # -- order ----------------------------------------------------------------------------------------------------

    def _order(self, chapters) -> None:
        state = self._take_over() if self.base else {}
        wanted = [name for chapter in chapters for producer in self.catalogue.formulas[chapter.id] for name in producer.yields]
        for name in (*wanted, *self.by_term):
            self._need(name, state)
        for check in [check for chapter in chapters for check in self.catalogue.checks[chapter.id]]:
            wanted += self._sides(check, state)
        self.asked.update(wanted, self.by_term)
        self.data = {name: data for name, data in self.data.items() if name in self.asked}  # an arm that is dead here asked for the others
        self.missing = {name: roots for name, roots in self.missing.items() if name in self.asked}

    def _sides(self, check, state: dict) -> list[str]:
        """Ids of what a check compares, asked for; of the choices alone where they say that it means nothing; none for an order."""
        if check.order:
            return []
        asked = [name for name, words in check.applies if self._need(name, state) is State.KNOWN and terms()[name].axes == ()
                 and not speaks(self.data[name], words)]
        asked = asked or [*dict(check.applies), check.value, check.limit]
        for name in asked:
            self._need(name, state)
        return asked

    def _take_over(self) -> dict[str, State]:
        """Take from the run of the chosen options the inputs that are given alike, and the steps that rest on nothing else. Returns their states."""
        moved, anew = self._moved_axes(), self._anew()
        for name, data in self.base.data.items():
            if name in terms() and name not in anew and name not in self.base.missing:
                self.data[name], self.origin[name] = data, self.base.origin[name]
        state = dict.fromkeys(self.data, State.KNOWN)
        for step in self.base.steps:
            producer = self.catalogue.producers[step.yields[0]]
            needs, counted = needs_of(step, producer), producer.counts if isinstance(producer, Formula) else ()
            if anew.isdisjoint(step.yields) and moved.isdisjoint(counted) and all(name in state for name in needs):
                self._take_step(step, needs)
                state.update(dict.fromkeys(step.yields, State.COMPUTED))
        self.taken = frozenset(state)
        return state

    def _not_moved(self) -> set[str]:
        """Ids of inputs and results that are as in the run before the save, found in the order in which they are computed."""
        before, moved, anew = self.before, self._moved_axes(), self._anew()
        inputs = (self.data.keys() & before.data.keys() & terms().keys()) - anew
        found = {name for name in inputs if self.origin.get(name) == before.origin.get(name)}
        steps = {step.yields: step for step in before.steps}
        for step in self.steps:
            producer = self.catalogue.producers[step.yields[0]]
            counted = producer.counts if isinstance(producer, Formula) else ()
            if steps.get(step.yields) == step and anew.isdisjoint(step.yields) and moved.isdisjoint(counted) and found.issuperset(needs_of(step, producer)):
                found.update(step.yields)
        return found

    def _moved_axes(self) -> set[str]:
        return {axis for axis in lists_by_axis() if self.items[axis] != self._other.items[axis]}

    def _anew(self) -> set[str]:
        """Ids of terms of which another number is given than in the other run, or that run over a list with other items or name one."""
        here, there, moved = self.by_term, self._other.by_term, self._moved_axes()
        given = {name for name in here.keys() | there.keys() if _data_of(here.get(name, {})) != _data_of(there.get(name, {}))}
        return given | {name for name in (*self._other.data, *self._other.results) if name in terms() and _runs_over(terms()[name], moved)}

    def _take_step(self, step: Step, needs: tuple) -> None:
        self.steps.append(step)
        self.asked.update(needs)
        if step.merged:
            self._keep_given(step.yields[0], self.base.data[given_name(step.yields[0])])

    def _keep_given(self, name: str, data) -> None:
        """The given part of a Term of which the rest is computed."""
        self.data[given_name(name)] = data
        self.asked.add(given_name(name))

    def _need(self, name: str, state: dict) -> State:
        if name in state:
            return state[name]
        if name in self.open:
            cycle = self.open[self.open.index(name):]
            self.faults.append(Fault(self.project.folder, 0, "formulas form a circle: " + " → ".join([*cycle, name]), "a chain that ends in inputs"))
            return State.FAULTY
        term, producer = terms()[name], self.catalogue.producers.get(name)
        if producer is not None and self._is_given(term) and not term.either:
            given = next(iter(self.by_term[name].values()))
            self.faults.append(Fault(given.file, given.line, f"'{name}' is computed by the book", "no value here", "", show_command(name)))
        if producer is None or self._wholly_given(term) or self._left_out(term):
            state[name] = self._input(term)
            if state[name] is State.ABSENT:
                self.missing[name] = (name,)
            return state[name]
        self.open.append(name)
        outcome = self._produce(producer, name, state)
        self.open.pop()
        state.update(dict.fromkeys(producer.yields if isinstance(producer, Procedure) else (name,), outcome))
        return outcome

    def _produce(self, producer, name: str, state: dict) -> State:
        if (axis := terms()[name].needs_list) and not self.items[axis]:
            return self._fault_empty(listed(axis))
        parameters = producer.parameters
        if isinstance(producer, Formula):
            tests = {tested: self._need(tested, state) for tested in producer.tested}
            if State.FAULTY in tests.values():
                return State.FAULTY  # which arm runs is unknown: its inputs are not asked for
            self.asked.update(producer.tested)
            if State.ABSENT in tests.values():
                return self._wait(producer, [tested for tested, outcome in tests.items() if outcome is State.ABSENT])
            expression = self._decided(producer) if producer.conditional else producer.expression
            parameters = names_in(expression) if producer.conditional else parameters
        outcomes = [state.get(parameter) or self._need(parameter, state) for parameter in parameters]
        if State.FAULTY in outcomes:
            return State.FAULTY
        if absent := [parameter for parameter, outcome in zip(parameters, outcomes) if outcome is State.ABSENT]:
            expression = self._asked_by_items(producer, absent) if isinstance(producer, Formula) else None
            if expression is None:
                self.asked.update(parameters)
                return self._left_open(producer, absent)
            parameters = tuple(name for name in parameters if name not in absent)
        self.asked.update(parameters)
        if isinstance(producer, Procedure):
            self.steps.append(Step(producer.yields, procedure=producer, needs=parameters))
        else:
            merged = self._is_given(terms()[name])
            if merged:
                self._keep_given(name, self._array(replace(terms()[name], optional=True, default=None)))
            self.steps.append(Step((name,), expression, merged=merged, needs=parameters))
        return State.COMPUTED

    def _left_open(self, producer, absent: list) -> State:
        """What waits, but for what a project may leave open item by item: that is as given, so that an item which has no use for it waits for nothing."""
        term, outcome = terms()[producer.yields[0]], self._wait(producer, absent)
        if not (term.either and term.optional and term.own_axes and self.items[term.axes[0]]):
            return outcome
        self.data[term.id], self.origin[term.id] = self._array(replace(term, default=None)), "given"
        return State.KNOWN

    def _wait(self, producer, absent: list) -> State:
        """What a producer yields waits for what its absent inputs wait for."""
        roots = tuple(dict.fromkeys(root for name in absent for root in self.missing[name]))
        self.missing.update(dict.fromkeys(producer.yields, roots))
        return State.ABSENT

    def _decided(self, producer: Formula):
        """The live expression."""
        words = {name: self.data[name] for name in producer.tested if isinstance(self.data.get(name), str)}
        return decided(producer.expression, words, {axis: len(self.items[axis]) for axis in producer.counts})

    def _asked_by_items(self, producer: Formula, absent: list):
        """The live expression without arms for which no item asks, where only such arms need what is absent; else None."""
        said = {name: frozenset(self.data[name]) for name in producer.parameters
                if terms()[name].unit == "choice" and terms()[name].axes and np.size(self.data.get(name, ()))}
        expression = decided(self._decided(producer), said)
        return expression if set(names_in(expression)).isdisjoint(absent) else None

    def _left_out(self, term: Term) -> bool:
        """Whether the chapter that computes a term is not in this book and the default stands for it."""
        return term.default is not None and bool(self.project.chapters) and self.catalogue.chapter_of[term.id] not in self.project.chapters

    def _is_given(self, term: Term) -> bool:
        return term.id in self.by_term

    def _wholly_given(self, term: Term) -> bool:
        items = self.items[term.axes[0]] if term.own_axes else ("",)
        return bool(items) and all((term.id, item) in self.givens and self.givens[term.id, item].whole for item in items)

    # -- run ------------------------------------------------------------------------------------------------------

    def _inputs(self) -> dict:
        inputs = {name: data for name, data in self.data.items() if not isinstance(data, str) or terms()[name].is_text}
        inputs |= {count_name(axis): float(len(self.items[axis])) for axis in lists_by_axis()}
        inputs |= {f"run_{step.procedure.id}": remembered(step.procedure, self.memory) for step in self.steps if step.procedure}
        return inputs

    def _run(self, inputs: dict) -> dict:
        """Results of every step by name, inputs among them; only steps that are not taken over run."""
        anew = [step for step in self.steps if step.yields[0] not in self.taken]
        have = inputs | {name: self._other.results[name] for step in self.steps if step.yields[0] in self.taken for name in result_names((step,))}
        with np.errstate(all="ignore"):
            try:
                results = chain(anew, tuple(have), terms(), memory=self.memory)(*have.values())
            except (ArithmeticError, ValueError, OutOfTable, ItemTroubles):
                return step_by_step(anew, have, self._places(), self.faults, self.memory)
        found = have | dict(zip(result_names(anew), results))
        places = self._places()
        with np.errstate(all="ignore"):
            return step_by_step(anew, have, places, self.faults, self.memory) if any(not_finite(step, found, places, anew) for step in anew) else found

    def _ask_for_open(self, results: dict, chapters: tuple) -> None:
        """Add a fault for each value that a formula of the book, or what such a one needs, leaves to the project, which must give it and does not."""
        used = {name for chapter in chapters for one in self.catalogue.formulas[chapter.id] for name in one.yields}
        for step in reversed(self.steps):
            used.update(step.needs if not used.isdisjoint(step.yields) else ())  # what is given and nothing of this book takes asks for nothing
        for step in self.steps:
            term = terms()[step.yields[0]]
            open_here = step.expression is not None and not term.optional and self.catalogue.producers[term.id].leaves_open
            if not open_here or term.id not in used or term.id not in results or _some_blank(results, step.needs):
                continue
            blank = np.isnan(results[term.id])
            for item in [self.items[term.axes[0]][place] for (place, *_) in np.argwhere(blank)] if term.axes else [""] * int(blank):
                self._fault_missing(term, item)

    def _places(self) -> Places:
        return Places(self.project.folder, self.project.files, self.givens, self.items, self.project.item_places, self.project.chapters)


def _some_blank(results: dict, names: tuple) -> bool:
    """Whether any number of these is not given."""
    return any(np.isnan(results[name]).any() for name in names if not terms()[name].is_text)


def _data_of(givens: dict) -> dict:
    """What is given, without its place and what is said of it."""
    return {element: given.data for element, given in givens.items()}


def _runs_over(term: Term, axes: set) -> bool:
    """Whether a term runs over one of the axes or names an item of it."""
    return bool(axes) and (term.refers_to in axes or not axes.isdisjoint(term.axes))
