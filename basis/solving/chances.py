"""The chance that each limit is met where inputs carry a plus or minus: the book run again with samples of them.

Each input draws from a generator of its own, seeded by its id, so that another input moves nothing of it.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from basis.language.terms import Term, terms
from basis.solving.book import Book
from basis.solving.rerun import downstream, needed, ready
from basis.solving.verdict import Verdict
from basis.solving.verdicts import judged

SAMPLES, SEED, DEVIATIONS = 2000, 20, 2.0
BLOCK = 500  # samples run at once: a level over source, receiver and band is large
FEW_SAMPLES = 200  # where a procedure that runs once a sample stands between the uncertain inputs and the check
REDRAWS = 60  # after which what still lies outside its physical range is held at the bound
HOW_SAMPLED = ("fixed seed, normal distribution within the physical range, the stated plus or minus taken as two standard deviations; "
               "a sample that cannot be computed does not meet the limit")


def with_chances(book: Book, before: Book | None = None) -> Book:
    """The book with, for each check that uncertain inputs reach, the chance that its limit is met.

    `before`: the book before a save; its chances stand for checks for which nothing that the samples run through has moved.
    """
    samples = _draws(book)
    if not samples:
        return book
    by_count: dict[int, list] = {SAMPLES: [], FEW_SAMPLES: []}
    moved = downstream(book.steps, samples)
    chances = {}
    for verdict in book.checks:
        if count := _count(moved, verdict, samples):
            known = _chance_before(book, before, verdict, moved, samples) if before else None
            if known:
                chances[verdict.check.id] = known
            else:
                by_count[count].append(verdict.check)
    for count, checks in by_count.items():
        chances |= _chances(book, checks, samples, count)
    return replace(book, checks=tuple(replace(verdict, **chances.get(verdict.check.id, {})) for verdict in book.checks))


def _chance_before(book: Book, before: Book, verdict: Verdict, moved: list, samples: dict) -> dict | None:
    """The chance of a check before a save, if the Values that its samples run through are the same."""
    check = verdict.check
    steps = needed(moved, (check.value, check.limit))
    through = set(check.sides).union(*((*step.needs, *step.yields) for step in steps))
    old = next((one for one in before.checks if one.check is check), None)
    if old is None or not old.samples or any(book.values.get(name) is not before.values.get(name) for name in through):
        return None
    return {"chance": old.chance, "samples": old.samples, "uncomputed": old.uncomputed}


def _count(moved: list, verdict: Verdict, samples: dict) -> int:
    """How many samples a check is worth; nought when nothing uncertain reaches it. `moved`: steps that depend on the samples."""
    wanted = (verdict.check.value, verdict.check.limit)
    steps = needed(moved, wanted)
    if not verdict.decided or not (steps or set(wanted) & set(samples)):
        return 0
    return FEW_SAMPLES if any(step.procedure and not step.procedure.sampled for step in steps) else SAMPLES


def _chances(book: Book, checks: list, samples: dict, count: int) -> dict[str, dict]:
    """Check id -> the share of samples in which all its elements meet the limit, how many there are, and how many could not be computed."""
    wanted = tuple(dict.fromkeys(name for check in checks for name in (check.value, check.limit)))
    told = {check.id: np.zeros(2, dtype=int) for check in checks}
    run = ready(book, needed(downstream(book.steps, samples), wanted), tuple(samples), wanted, True)
    for start in range(0, count if checks else 0, BLOCK):
        block = slice(start, min(start + BLOCK, count))
        results = run({name: drawn[block] for name, drawn in samples.items()})
        for check in checks:
            told[check.id] += _met(check, results, judged(check, book.values), block.stop - block.start)
    return {check_id: {"chance": float(met / count), "samples": count, "uncomputed": int(lost)} for check_id, (met, lost) in told.items()}


def _met(check, results: dict, counts, size: int) -> tuple[int, int]:
    """In how many samples of a block every element that is judged meets the limit, and how many samples could not be computed."""
    value, limit = (np.asarray(results[name], dtype=float) for name in (check.value, check.limit))
    axes, limit_axes = terms()[check.value].axes, terms()[check.limit].axes
    if axes and limit_axes != axes:
        limit = limit[(..., *(slice(None) if axis in limit_axes else None for axis in axes))]
    lost = (np.isnan(value) & (not terms()[check.value].absent)) | (np.isnan(limit) & (not terms()[check.limit].absent))
    good = (value <= limit if check.safe == "below" else value >= limit) | ((np.isnan(value) | np.isnan(limit)) & ~lost)
    elements = tuple(range(-len(axes), 0))
    met, lost = (good | ~counts).all(axis=elements), (lost & counts).any(axis=elements)
    return tuple(int(np.sum(np.broadcast_to(one, (size,)))) for one in (met, lost))


def _draws(book: Book) -> dict:
    """Samples of every input with a plus or minus: one draw an element, the same for all its bands."""
    found = {}
    for name, value in book.values.items():
        spreads = {element: np.asarray(given.spread) for element, given in value.givens.items() if np.any(given.spread)}
        if not spreads or value.origin != "given":
            continue
        numbers = np.broadcast_to(np.asarray(value.number, dtype=float), (SAMPLES, *np.shape(value.number))).copy()
        for element, spread in spreads.items():
            place = (slice(None), value.items[0].index(element)) if element else (slice(None),)
            numbers[place] = _drawn(value.term, element, numbers[place], spread / DEVIATIONS)
        found[name] = numbers
    return found


def _drawn(term: Term, element: str, numbers, deviation):
    """Numbers of one element with a shift a sample, drawn anew where it leaves the physical range."""
    draw = np.random.default_rng([SEED, *f"{term.id}.{element}".encode()])
    low, high = (-np.inf if term.low is None else term.low), (np.inf if term.high is None else term.high)
    found, outside = numbers.copy(), np.ones(SAMPLES, dtype=bool)
    for _ in range(REDRAWS):
        shift = draw.standard_normal(int(outside.sum()))
        found[outside] = numbers[outside] + shift.reshape(-1, *[1] * (numbers.ndim - 1)) * deviation
        outside = ((found < low) | (found > high)).reshape(SAMPLES, -1).any(axis=1)
        if not outside.any():
            break
    return np.clip(found, low, high)
