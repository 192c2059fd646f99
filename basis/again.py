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

SAMPLES, SEED, DEVIATIONS = 2000, 20, 2.0
BLOCK = 500  # samples run at once: a level over source, receiver and band is large
FEW_SAMPLES = 200  # where a procedure that runs once a sample stands between the uncertain inputs and the check
HOW_SAMPLED = "fixed seed, normal distribution, the stated plus or minus taken as two standard deviations"


def again(book: Book, changes: dict, wanted: tuple[str, ...], sampled: bool = False) -> dict:
    """SI results of `wanted` with `changes` (term id -> SI data) in place of the book's inputs or values.

    Only steps between the changes and what is wanted run; the rest keeps the book's numbers. With `sampled`, changed
    data may have one more leading axis. Changed data may have other lengths along item axes if all terms along that axis
    are changed or computed from the changes.
    """
    steps, inputs = book.program
    kept = _needed(_downstream(steps, changes), wanted)
    anew = {name for step in kept for name in step.yields}
    needs = {name for step in kept for name in step.needs}.union(wanted) - anew
    have = {name: inputs[name] for name in inputs if name in needs or name not in terms()}
    have |= {name: book.values[name].number for name in needs if name not in have and name in book.values} | changes
    if sampled:
        have = {name: np.asarray(data) if isinstance(data, float) else data for name, data in have.items()}
        have |= {f"run_{step.procedure.id}": step.procedure.run if step.procedure.sampled else _one_by_one(step.procedure) for step in kept if step.procedure}
    with np.errstate(all="ignore"):
        results = chain(kept, tuple(have), terms(), sampled)(*have.values())
    found = have | dict(zip(result_names(kept), results))
    return {name: found[name] for name in wanted}


def _downstream(steps, changes: dict) -> list:
    """Steps that depend on the changes, in order."""
    moved, found = set(changes), []
    for step in steps:
        if not moved.isdisjoint(step.needs) and not set(step.yields) <= set(changes):
            moved.update(step.yields)
            found.append(step)
    return found


def _needed(steps, wanted: tuple[str, ...]) -> tuple:
    """Those of the steps on which what is wanted depends, in order."""
    needed, kept = set(wanted), []
    for step in reversed(steps):
        if not needed.isdisjoint(step.yields):
            needed.update(step.needs)
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
    by_count: dict[int, list] = {SAMPLES: [], FEW_SAMPLES: []}
    moved = _downstream(book.program[0], samples)
    for verdict in book.checks:
        if count := _count(moved, verdict, samples):
            by_count[count].append(verdict.check)
    chances = {}
    for count, checks in by_count.items():
        chances |= {check_id: (chance, count) for check_id, chance in _chances(book, checks, samples, count).items()}
    return replace(book, checks=tuple(replace(verdict, chance=chances[verdict.check.id][0], samples=chances[verdict.check.id][1])
                                      if verdict.check.id in chances else verdict for verdict in book.checks))


def _count(moved: list, verdict: Verdict, samples: dict) -> int:
    """How many samples a check is worth; nought when nothing uncertain reaches it. `moved`: steps that depend on the samples."""
    wanted = (verdict.check.value, verdict.check.limit)
    steps = _needed(moved, wanted)
    if not verdict.decided or not (steps or set(wanted) & set(samples)):
        return 0
    return FEW_SAMPLES if any(step.procedure and not step.procedure.sampled for step in steps) else SAMPLES


def _chances(book: Book, checks: list, samples: dict, count: int) -> dict[str, float]:
    """Check id -> share of samples in which all its elements meet the limit."""
    wanted = tuple(dict.fromkeys(name for check in checks for name in (check.value, check.limit)))
    met = dict.fromkeys([check.id for check in checks], 0)
    for start in range(0, count if checks else 0, BLOCK):
        block = slice(start, min(start + BLOCK, count))
        results = again(book, {name: drawn[block] for name, drawn in samples.items()}, wanted, sampled=True)
        for check in checks:
            met[check.id] += _met(check, results, block.stop - block.start)
    return {check_id: number / count for check_id, number in met.items()}


def _met(check, results: dict, size: int) -> int:
    """In how many samples of a block every element meets the limit."""
    value, limit = (np.asarray(results[name], dtype=float) for name in (check.value, check.limit))
    axes, limit_axes = terms()[check.value].axes, terms()[check.limit].axes
    if axes and limit_axes != axes:
        limit = limit[(..., *(slice(None) if axis in limit_axes else None for axis in axes))]
    good = np.atleast_1d((value <= limit if check.safe == "below" else value >= limit) | np.isnan(value))
    own = good if good.ndim > len(axes) else good[None]
    each = own.reshape(own.shape[0], -1).all(axis=1)
    return int(each.sum()) if each.size > 1 else size * int(each[0])


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
