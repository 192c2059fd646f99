"""A project solved anew with one of its open numbers moved: as if somebody had written another number, or the program had another default."""

from contextlib import contextmanager
from dataclasses import replace

import numpy as np

from basis.solving.solve import solve


def chosen_only(read):
    """The project with what its chosen options give as its own, and no decision left: an option beside costs a solving."""
    givens, items = dict(read.givens), dict(read.items)
    for decision in read.decisions:
        option = next(option for option in decision.options if option.id == decision.chosen)
        givens |= dict(option.givens)
        for axis, ids in option.items.items():
            items[axis] = (*items.get(axis, ()), *(item for item in ids if item not in items.get(axis, ())))
    return replace(read, givens=givens, items=items, decisions=())


@contextmanager
def default_of(term, data):
    """The Term with another default."""
    before = term.default_data()
    term.__dict__["_default_data"] = data
    try:
        yield
    finally:
        term.__dict__["_default_data"] = before


def solved_at(read, mover, t):
    """The Book of the project with a number moved."""
    data, moved = mover.at([t])[0], mover.way != 0
    places = np.flatnonzero(moved.reshape(len(data), -1).any(axis=1)) if mover.base.ndim and mover.term.own_axes else None
    if mover.standing != "assumed":
        one = data if places is None else data[places[0]]
        with default_of(mover.term, np.asarray(one) if np.ndim(one) else float(one)):
            return solve(read)
    givens = dict(read.givens)
    for (term_id, element), given in read.givens.items():
        if term_id == mover.term.id and (places is None or read.items[mover.term.own_axes[0]].index(element) in places):
            row = data if places is None else data[read.items[mover.term.own_axes[0]].index(element)]
            givens[term_id, element] = replace(given, data=tuple(map(float, row)) if np.ndim(row) else float(row))
    return solve(replace(read, givens=givens))


def beside(turning):
    """t a thousandth of the turning value nearer to where the number stands, and a thousandth beyond; of a count the one before it, and itself."""
    mover, way = turning.mover, turning.way
    outwards = np.sign(way) or (1 if turning.mover.high > 0 else -1)
    if mover.term.whole:
        return way - outwards, way
    size = abs(1 + way) if mover.share else max(abs(mover.number(way)), mover.step)
    return way - outwards * size / 1000, way + outwards * size / 1000
