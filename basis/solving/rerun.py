"""Run part of a solved book again with other inputs: other items, a sweep, or samples of what is uncertain.

The same steps as the book itself, compiled with one more leading axis; no second implementation. A sample that cannot be
computed has no results (NaN); it does not spoil the others.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from basis.language.compiled import Memory, Step, chain, names_in_line, remembered, result_names
from basis.language.faults import ItemTroubles, OutOfTable
from basis.language.terms import terms
from basis.solving.book import Book

CANNOT = (ArithmeticError, ValueError, OutOfTable, ItemTroubles)  # what a procedure may raise where it is not defined


def rerun(book: Book, changes: dict, wanted: tuple[str, ...], sampled: bool = False) -> dict:
    """SI results of `wanted` with `changes` (term id -> SI data) in place of the book's inputs or values.

    Only steps between the changes and what is wanted run; the rest keeps the book's numbers. With `sampled`, changed
    data may have one more leading axis. Changed data may have other lengths along item axes if all terms along that axis
    are changed or computed from the changes.
    """
    kept = needed(downstream(book.steps, changes), wanted)
    found = ready(book, kept, tuple(changes), wanted, sampled)(changes)
    return {name: found[name] for name in wanted}


def ready(book: Book, kept: tuple, changed: tuple[str, ...], wanted: tuple[str, ...], sampled: bool = False, memory: Memory | None = None) -> Callable:
    """A function of changes (term id -> SI data) that runs the steps `kept`, which lead from the Terms `changed` to what is wanted, and returns every
    result by name with all that the steps started from.

    `memory` holds what many runs of the same book share: lines of code, and what procedures yielded from the same inputs.
    """
    memory = memory or Memory()
    anew = {name for step in kept for name in step.yields}
    needs = {name for step in kept for name in step.needs}.union(wanted) - anew
    used = frozenset().union(*(names_in_line(step, terms(), sampled, memory) for step in kept))
    have = {name: book.inputs[name] for name in (*needs, *used) if name in book.inputs and (name in needs or name not in terms())}
    have |= {name: book.values[name].number for name in needs if name not in have and name in book.values}
    have |= {name: math.nan for name in needs.union(changed) if name not in have}  # what is undecided in the book stays so
    if sampled:
        have = {name: np.asarray(data) if isinstance(data, float) else data for name, data in have.items()}
        have |= {f"run_{step.procedure.id}": _run_of(step, book, memory) for step in kept if step.procedure}
    run, names = chain(kept, tuple(have), terms(), sampled, memory), result_names(kept)

    def again_with(changes: dict) -> dict:
        given = have | {name: np.asarray(data) if sampled and isinstance(data, float) else data for name, data in changes.items()}
        with np.errstate(all="ignore"):
            return given | dict(zip(names, run(*given.values())))
    return again_with


def downstream(steps, changes: dict) -> list:
    """Steps that depend on the changes, in order."""
    moved, found = set(changes), []
    for step in steps:
        if not moved.isdisjoint(step.needs) and not set(step.yields) <= set(changes):
            moved.update(step.yields)
            found.append(step)
    return found


def needed(steps, wanted: tuple[str, ...]) -> tuple:
    """Those of the steps on which what is wanted depends, in order."""
    names, kept = set(wanted), []
    for step in reversed(steps):
        if not names.isdisjoint(step.yields):
            names.update(step.needs)
            kept.append(step)
    return tuple(reversed(kept))


def _run_of(step: Step, book: Book, memory: Memory):
    """The procedure of a step for samples: all at once where it can, else one by one."""
    procedure, one_by_one = step.procedure, _one_by_one(step.procedure, _blank_results(step, book), memory)
    if not procedure.sampled:
        return one_by_one

    def run(*arguments):
        try:
            return procedure.run(*arguments)
        except CANNOT:
            return one_by_one(*arguments)
    return run


def _blank_results(step: Step, book: Book) -> tuple:
    """What a step yields where it cannot be computed."""
    return tuple(np.full(tuple(len(book.items[axis]) for axis in terms()[name].axes), "" if terms()[name].is_text else np.nan) for name in step.yields)


def _one_by_one(procedure, blank: tuple, memory: Memory):
    """A procedure that takes samples: called once a sample, results stacked; `blank` for a sample that cannot be computed."""
    once = remembered(procedure, memory)

    def run(*arguments):
        plain = [len(terms()[name].axes) for name in procedure.parameters]
        counts = [np.shape(data)[0] for data, dimensions in zip(arguments, plain) if np.ndim(data) > dimensions]
        results = []
        for sample in range(counts[0] if counts else 1):
            given = [data[sample] if np.ndim(data) > dimensions else data for data, dimensions in zip(arguments, plain)]
            try:
                results.append(once(*(float(data) if np.ndim(data) == 0 and not isinstance(data, (str, int)) else data for data in given))[0])
            except CANNOT:
                results.append(blank)
        stacked = tuple(np.array(column) for column in zip(*results))
        return stacked if counts else tuple(column[0] for column in stacked), np.nan, ""
    return run
