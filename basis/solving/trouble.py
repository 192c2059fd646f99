"""What could not be computed, told as Faults at the file and line where a person can mend it.

Used by the solver when a run of the formulas fails, and to find where a term of an item is given.
"""

from __future__ import annotations

import ast
import math
from dataclasses import dataclass, field

import numpy as np

from basis.language import units
from basis.language.compiled import Memory, given_name, run_alone
from basis.language.faults import Fault, ItemTrouble, ItemTroubles, OutOfTable, show_command
from basis.language.maths import names_in
from basis.language.notation import lookups_in
from basis.language.table import families
from basis.language.terms import ROUNDING, Term, terms
from basis.language.words import in_sentence
from basis.solving.asked import file_of, file_of_list


@dataclass(frozen=True)
class Places:
    """Where the givens of one project stand."""

    folder: str
    files: tuple
    givens: dict  # (term id, element) -> Given
    items: dict
    listed: dict = field(default_factory=dict)  # (axis, item) -> file and line
    chapters: tuple = ()  # of the book, if not all

    def of(self, term: Term, element: str) -> tuple[str, int]:
        """File and line of a given; if it is not there, of the item that it belongs to, or the file where it would stand."""
        if (term.id, element) in self.givens:
            given = self.givens[(term.id, element)]
            return given.file, given.line
        if element:
            beside = [given for (_, item), given in self.givens.items() if item == element and terms()[given.term].axes[:1] == term.axes[:1]]
            if beside:
                return min((given.file, given.line) for given in beside)
            if (*term.axes[:1], element) in self.listed:
                return self.listed[(*term.axes[:1], element)]
        return self._file(file_of(term, self.chapters))

    def of_list(self, axis: str) -> tuple[str, int]:
        """The file in which a list that is not there would stand."""
        return self._file(file_of_list(axis, self.chapters))

    def _file(self, name: str) -> tuple[str, int]:
        return f"{self.folder}/{name if name in self.files else 'project.yaml'}", 0

    def nearest(self, names) -> tuple[str, int]:
        """File and line of the first given among the terms `names`."""
        places = [(given.file, given.line) for (term_id, _), given in self.givens.items() if term_id in names]
        return min(places) if places else (f"{self.folder}/project.yaml", 0)

    def first_key(self, names) -> tuple[str, int]:
        """File and line of the first given of the plant as a whole among the terms `names`, else of the first of an item."""
        plain = [name for name in names if (name, "") in self.givens]
        return self.nearest(plain or names)

    def of_key(self, names, key) -> tuple[str, int] | None:
        """File and line of the given among the terms `names` that is `key` of a table, else of the first of them; None if none is given."""
        found = [given for (term_id, _), given in self.givens.items() if term_id in names]
        same = [given for given in found if given.data == key or (isinstance(given.data, float) and not isinstance(key, str) and
                                                                   math.isclose(given.data, key, rel_tol=1e-9))]
        return min(((given.file, given.line) for given in same or found), default=None)

    def fault(self, trouble: ItemTrouble) -> Fault:
        """The Fault of a trouble with an item, named by its place along the axis or by its id."""
        term, item = terms()[trouble.term], trouble.item
        element = self.items[term.axes[0]][item] if isinstance(item, (int, np.integer)) else item
        what = f"'{trouble.term}' of '{element}': {trouble.what}" if element else f"'{trouble.term}': {trouble.what}"
        return Fault(*self.of(term, element), what, trouble.expected, trouble.nearest)


def fault_of_check(check, ids: tuple[str, ...], places: Places, names: dict, steps: tuple) -> Fault:
    """The Fault of a check that no sound text fails, at the item that fails it, else at what its value is computed from."""
    term, item = terms()[check.value], ids[0] if ids else ""
    named = f" for '{names.get(term.axes[0], {}).get(item, item)}' ({item})" if item else ""
    place = places.of(term, item)
    return Fault(*(place if place[1] else places.first_key(_given_above(steps, (term.id,), places))), f"{in_sentence(check.title)}: not so{named}", check.fault)


def out_of_order(check, data: dict, places: Places) -> list[Fault]:
    """Faults of the items of which the one input is above the other; none where one of them is not there. Of a Term that is given for some items only
    those count.
    """
    low, high = terms()[check.value], terms()[check.limit]
    sides = [data.get(term.id, data.get(given_name(term.id))) for term in (low, high)]
    if any(side is None for side in sides):
        return []
    least, most = np.broadcast_arrays(*sides)
    faults = []
    for at in map(tuple, np.argwhere(least > most + ROUNDING * np.abs(most))):
        item = places.items[low.axes[0]][at[0]] if at else ""
        what = f"'{low.id}'{f' of {item!r}' if item else ''} is {_shown(low, least[at])}, above '{high.id}', {_shown(high, most[at])}"
        here, other = sorted((places.of(term, item if term.axes else "") for term in (low, high)), key=lambda place: not place[1])
        faults.append(Fault(*here, what, f"at most '{high.id}'", f"{other[0]}:{other[1]}" if other[1] else ""))
    return faults


def _shown(term: Term, number) -> str:
    return f"{units.format_si(float(number), term.si_unit, 4)} {units.pretty(term.si_unit, 'currency')}".strip()


def step_by_step(steps, inputs: dict, places: Places, faults: list, memory: Memory) -> dict:
    """Run every step that can be run and add a Fault for each that cannot, with what it was given. Returns what there is.

    A result outside its physical range is told at once and not used further: what it would break downstream is not to blame.
    `memory` is that of the run that failed: it holds the lines of the steps.
    """
    have = dict(inputs)
    for step in steps:
        if all(name in have for name in step.needs):
            _one_step(step, have, steps, places, faults, memory)
    return have


def _one_step(step, have: dict, steps, places: Places, faults: list, memory: Memory) -> None:
    try:
        found = have | run_alone(step, have, terms(), memory)
        unsound = not_finite(step, found, places, steps) or check_bounds((step,), found, places, steps)
        faults.extend(unsound)
        if not unsound:
            have |= found
    except OutOfTable as trouble:
        keys = _keys(step, trouble)
        place = _place_of_key(keys, trouble, steps, places)
        instead = next((f"; or '{name}' as a given" for name in keys if terms()[name].either), "")
        if not any((fault.file, fault.line) == place and fault.what.startswith(trouble.what) for fault in faults):  # one row, asked for by many
            faults.append(Fault(*place, f"{trouble.what} (asked by '{step.yields[0]}')", trouble.expected + instead, trouble.nearest,
                                show_command(trouble.table_id)))
    except ItemTroubles as found:
        faults.extend(places.fault(trouble) for trouble in found.troubles)
    except (ArithmeticError, ValueError) as trouble:
        faults.append(Fault(*places.nearest(_given_above(steps, step.needs, places)), f"'{step.yields[0]}' cannot be computed: {why(trouble)}{_of(step, have)}",
                            "inputs for which it is defined", "", show_command(step.yields[0])))


def why(trouble: Exception) -> str:
    """What went wrong, in an engineer's words; a procedure has its own."""
    if isinstance(trouble, ZeroDivisionError):
        return "something is divided by nought"
    if isinstance(trouble, OverflowError):
        return "a number grows beyond all bounds"
    return str(trouble).replace("math domain error", "the root or logarithm of a number for which there is none")


def _keys(step, trouble: OutOfTable) -> tuple[str, ...]:
    """Ids of the terms that make the key which a table does not hold; of all that the step needs where that is not told."""
    looked_up = lookups_in(step.expression) if step.expression else ()
    return tuple(dict.fromkeys(name for where, _, key in looked_up if _may_be(where, trouble.table_id) for name in names_in(key))) or step.needs


def _place_of_key(keys: tuple, trouble: OutOfTable, steps, places: Places) -> tuple[str, int]:
    """Where the key is given that a table does not hold, or the first of what it is computed from."""
    return places.of_key(_given_above(steps, keys, places), trouble.key) or places.nearest(keys)


def _may_be(where: ast.expr, table_id: str) -> bool:
    """Whether a look-up reads that table: by name, or one of a family that the project chooses."""
    return where.value == table_id if isinstance(where, ast.Constant) else table_id in families().get(terms()[where.id].table, ())


def not_finite(step, have: dict, places: Places, steps) -> list[Fault]:
    """The Faults of results that are not finite though everything that they need is, at the nearest of `steps` above of which something is given."""
    endless = [name for name in step.yields if not terms()[name].is_text and _endless(have[name], step, have)]
    return [Fault(*places.nearest(_given_above(steps, step.needs, places)), f"'{name}' cannot be computed: the result is not finite{_of(step, have)}",
                  "inputs for which it is defined", "", show_command(name)) for name in endless]


def _endless(number, step, have: dict) -> bool:
    """Whether a result has no bound, and not because something is not given or there is no item."""
    if isinstance(number, float) and math.isfinite(number) or not np.isinf(number).any():  # not a number alone: a largest of nothing
        return False
    return all(np.size(have[used]) and (terms()[used].is_text or np.all(np.isfinite(have[used]))) for used in step.needs)


def check_bounds(steps, have: dict, places: Places, every: tuple = ()) -> tuple[Fault, ...]:
    """The Faults of results outside the physical range of their Terms; none for what only follows from one that is. `every`: all steps, if these are some."""
    outside: set[str] = set()
    faults = []
    for step in steps:
        for name in step.yields:
            if terms()[name].is_text or not terms()[name].outside(have[name]):
                continue
            if outside.isdisjoint(step.needs):
                faults.append(_out_of_bounds(terms()[name], step, have, places, _given_above(every or steps, step.needs, places)))
            outside.add(name)
    return tuple(faults)


def _given_above(steps, names: tuple, places: Places) -> tuple:
    """The nearest generation of terms above a step of which something is given."""
    given, needs = {term_id for term_id, _ in places.givens}, {name: step.needs for step in steps for name in step.yields}
    while names and given.isdisjoint(names):
        names = tuple(dict.fromkeys(above for name in names for above in needs.get(name, ())))
    return names


def _out_of_bounds(term: Term, step, have: dict, places: Places, above: tuple) -> Fault:
    """The Fault of a result outside its range, with the item and the numbers that led there, at what is given of that item among the terms `above`."""
    maker = step.procedure.id if step.procedure else term.id
    place = next(index for index, number in np.ndenumerate(have[term.id]) if term.outside(float(number)))
    items = [places.items[axis][index] for axis, index in zip(term.axes, place)]
    number = float(np.asarray(have[term.id])[place])
    what = f"'{'.'.join((term.id, *items))}' comes out as {_shown(term, number)}, outside its physical range (by '{maker}'{_of(step, have)})"
    own = [(given.file, given.line) for name in above for given in [places.givens.get((name, items[0]))] if given] if items else []
    return Fault(*(min(own) if own else places.nearest(above)), what, term.range_text, "", show_command(term.id))


def _of(step, have: dict) -> str:
    """The plain numbers of which a step makes its result, with their units; nothing where it takes none."""
    told = ", ".join(f"{name} = {_shown(terms()[name], have[name])}" for name in step.needs if isinstance(have[name], float))
    return f", of {told}" if told else ""
