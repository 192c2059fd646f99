"""Examples of `try` that run: inputs drawn for any formula from what its Terms say.

May import trial and what stands left of it.
"""

from __future__ import annotations

import numpy as np

from basis import units
from basis.faults import Faults
from basis.formula import Procedure
from basis.notation import lookups_in
from basis.table import families, table, tables_of
from basis.terms import FIXED_ITEMS, Term, terms
from basis.trial import ABSENT, SEPARATORS, try_formula, words_of

COUNTS, TRIES = (1, 2, 4), 400  # of items


def running_example(formula_id: str, producer, seed: int = 1) -> dict[str, str] | None:
    """Inputs, as `try` takes them, from which the formula has a result; None when none was found among those drawn."""
    draw = np.random.default_rng(seed)
    for _ in range(TRIES):
        quantities = drawn_inputs(producer, draw)
        try:
            try_formula(formula_id, quantities)
        except Faults:
            continue
        return quantities
    return None


def drawn_inputs(producer, draw: np.random.Generator) -> dict[str, str]:
    """Inputs of the right shape: words from their choices or tables, numbers from their ranges; a Term with a default may be left out."""
    count = int(draw.choice(COUNTS))
    asked = [terms()[name] for name in producer.parameters if terms()[name].default is None or (not terms()[name].constant and draw.random() < 0.5)]
    return {term.id: _written(term, producer, draw, count, term.axes) for term in asked}


def _written(term: Term, producer, draw: np.random.Generator, count: int, axes: tuple) -> str:
    if axes:
        items = range(len(FIXED_ITEMS[axes[0]]) if axes[0] in FIXED_ITEMS else count)
        return f"{SEPARATORS[len(term.axes) - len(axes)]} ".join(_written(term, producer, draw, count, axes[1:]) for _ in items)
    if term.optional and term.axes and draw.random() < 0.2:
        return ABSENT
    return _word(term, producer, draw, count) if term.is_text else _number(term, producer.valid.get(term.id), draw)


def _word(term: Term, producer, draw: np.random.Generator, count: int) -> str:
    if term.unit == "reference":
        return str(draw.choice(FIXED_ITEMS.get(term.refers_to) or [f"item_{place + 1}" for place in range(count)]))
    return str(draw.choice(words_of(term) or _keys(term, producer) or ("text",)))


def _keys(term: Term, producer) -> list[str]:
    """Words under which the tables that the formula reads, or any that has words as keys, hold a row."""
    read = () if isinstance(producer, Procedure) else lookups_in(producer.expression)
    names = [where.value if hasattr(where, "value") else terms()[where.id].table for where, _, key in read if getattr(key, "id", "") == term.id]
    used = [each for name in names for each in tables_of(name)] or [table(table_id) for ids in families().values() for table_id in ids]
    return sorted({key for each in used if each.units[each.key] == "text" for key in each.keys})


def _number(term: Term, valid: tuple | None, draw: np.random.Generator) -> str:
    low, high = valid or _usual_range(term)
    low, high = (low if term.low is None else max(low, term.low)), (high if term.high is None else min(high, term.high))
    number = low * (high / low) ** draw.random() if 0 < low < 1e-3 * high else draw.uniform(low, high)
    number = term.low if term.low is not None and draw.random() < 0.1 else number  # what is nought, or as small as it may be
    return f"{float(units.from_si(number, term.si_unit)):.4g} {'' if term.si_unit == '1' else term.si_unit}".strip()


def _usual_range(term: Term) -> tuple[float, float]:
    """Numbers such as a plant has: round the default, or from the low end of the physical range, on the scale of the unit shown."""
    if term.kind == "temperature":
        return (250.0, 420.0) if (term.low or 0.0) < 420.0 else (term.low, term.high or 2 * term.low)
    middle = term.default_data() if term.default is not None else 0.0
    if np.size(middle) == 1 and np.all(np.asarray(middle) > 0):
        return 0.5 * float(np.ravel(middle)[0]), 1.5 * float(np.ravel(middle)[0])
    scale = units.unit(term.si_unit).factor
    low = term.low or 0.1 * scale
    return low, term.high if term.high is not None else low + 10 * scale
