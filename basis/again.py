"""Run part of a solved book again with other inputs: other items, a sweep, or samples of what is uncertain.

The same steps as the book itself, compiled with one more leading axis; no second implementation. May import book,
compiled and what stands left of them.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from basis.book import Book, Verdict
from basis.compiled import chain, result_names
from basis.terms import terms

SAMPLES, SEED, DEVIATIONS = 4000, 20, 2.0
FEW_SAMPLES = 200  # where a procedure stands between the uncertain inputs and the check: it runs once a sample
HOW_SAMPLED = "fixed seed, normal distribution, the stated plus or minus taken as two standard deviations"


def again(book: Book, changes: dict, wanted: tuple[str, ...], sampled: bool = False) -> dict:
    """SI results of `wanted` with `changes` (term id -> SI data) in place of the book's inputs or values.

    Only steps between the changes and what is wanted run; the rest keeps the book's numbers. With `sampled`, changed
    data may have one more leading axis. Changed data may have other lengths along item axes if all terms along that axis
    are changed or computed from the changes.
    """
    steps, inputs = book.program
    kept = _between(steps, changes, wanted)
    have = dict(inputs) | {name: book.values[name].number for step in steps if step not in kept for name in step.yields if name in book.values}
    have |= changes
    if sampled:
        have = {name: np.asarray(data) if isinstance(data, float) else data for name, data in have.items()}
        have |= {f"run_{step.procedure.id}": _one_by_one(step.procedure) for step in kept if step.procedure}
    with np.errstate(all="ignore"):
        results = chain(kept, tuple(have), terms(), sampled)(*have.values())
    found = have | dict(zip(result_names(kept), results))
    return {name: found[name] for name in wanted}


def _between(steps, changes: dict, wanted: tuple[str, ...]) -> tuple:
    """Steps that depend on the changes and on which what is wanted depends, in order."""
    moved = set(changes)
    downstream = []
    for step in steps:
        if moved & set(step.needs) and not set(step.yields) <= set(changes):
            moved |= set(step.yields)
            downstream.append(step)
    needed, kept = set(wanted), []
    for step in reversed(downstream):
        if needed & set(step.yields):
            needed |= set(step.needs)
            kept.append(step)
    return tuple(reversed(kept))


def _one_by_one(procedure):
    """A procedure that takes samples: called once a sample, results stacked."""
    def run(*arguments):
        plain = [len(terms()[name].axes) for name in procedure.parameters]
        counts = [np.shape(data)[0] for data, dimensions in zip(arguments, plain) if np.ndim(data) > dimensions]
        results = []
        for sample in range(counts[0] if counts else 1):
            given = [data[sample] if np.ndim(data) > dimensions else data for data, dimensions in zip(arguments, plain)]
            results.append(procedure.run(*(float(data) if np.ndim(data) == 0 and not isinstance(data, (str, int)) else data for data in given))[0])
        stacked = tuple(np.array(column) for column in zip(*results))
        return stacked if counts else tuple(column[0] for column in stacked), np.nan, ""
    return run


def with_chances(book: Book) -> Book:
    """The book with, for each check that uncertain inputs reach, the chance that its limit is met."""
    samples = _draws(book)
    if not samples:
        return book
    return replace(book, checks=tuple(_with_chance(book, verdict, samples) for verdict in book.checks))


def _draws(book: Book) -> dict:
    """Samples of every input with a plus or minus: one draw an element, the same for all its bands."""
    draw, found = np.random.default_rng(SEED), {}
    for name, value in book.values.items():
        spreads = {element: given.spread for element, given in value.givens.items() if given.spread}
        if not spreads or value.origin != "given":
            continue
        numbers = np.broadcast_to(np.asarray(value.number, dtype=float), (SAMPLES, *np.shape(value.number))).copy()
        for element, spread in sorted(spreads.items()):
            place = (slice(None), value.items[0].index(element)) if element else (slice(None),)
            shift = draw.normal(0.0, spread / DEVIATIONS, SAMPLES)
            numbers[place] += shift.reshape(-1, *[1] * (numbers[place].ndim - 1))
        found[name] = numbers
    return found


def _with_chance(book: Book, verdict: Verdict, samples: dict) -> Verdict:
    check = verdict.check
    wanted = (check.value, check.limit)
    steps = _between(book.program[0], samples, wanted)
    if verdict.word == "undecided" or not (steps or set(wanted) & set(samples)):
        return verdict
    count = FEW_SAMPLES if any(step.procedure for step in steps) else SAMPLES
    results = again(book, {name: drawn[:count] for name, drawn in samples.items()}, wanted, sampled=True)
    value, limit = (np.asarray(results[name], dtype=float) for name in (check.value, check.limit))
    limit_axes, axes = terms()[check.limit].axes, terms()[check.value].axes
    limit = limit[(..., *(slice(None) if axis in limit_axes else None for axis in axes))] if axes and limit_axes != axes else limit
    met = (value <= limit) | np.isnan(value) if check.safe == "below" else (value >= limit) | np.isnan(value)
    each = met.reshape(met.shape[0], -1).all(axis=1)
    return replace(verdict, chance=float(each.mean()), samples=count)
