"""How well a value is known: the sources that it rests on, their marks, and whether it lies in the range of its formula.

May import units, terms, sources, table, notation and compiled.
"""

from __future__ import annotations

import ast
import math

import numpy as np

from basis import units
from basis.compiled import Step
from basis.notation import lookups_in
from basis.sources import sources
from basis.table import families, table
from basis.terms import terms
from basis.words import span


def cited(step: Step, producer, values: dict) -> tuple[str, ...]:
    """Sources of a formula and of the tables that it read: where the project chose one of a family, not those of the others."""
    found = list(producer.sources)
    for where, _, _ in lookups_in(step.expression):
        if isinstance(where, ast.Constant):
            found.append(table(where.value).source)
        elif where.id in values:
            family = {table(table_id).source for table_id in families().get(terms()[where.id].table, ())}
            used = [table(table_id).source for table_id in np.unique(np.ravel(values[where.id].number).astype(str)) if table_id]
            found = [source_id for source_id in found if source_id not in family] + used
    return tuple(dict.fromkeys(found))


def source_marks(source_ids) -> set[str]:
    """Words that the sources put behind a number: from memory, common practice."""
    return {sources()[source_id].mark for source_id in source_ids if source_id} - {""}


def is_blank(data) -> bool:
    """Whether a plain result is not given: what it needs was not."""
    return isinstance(data, float) and math.isnan(data)


def warnings(producer, numbers: dict) -> tuple[str, ...]:
    """What lies outside the range for which a formula holds; `numbers` in SI by Term id."""
    found = []
    for name, (low, high) in producer.valid.items():
        if name in numbers and not np.all(np.isnan(numbers[name])) and (np.nanmin(numbers[name]) < low or np.nanmax(numbers[name]) > high):
            term = terms()[name]
            bounds = span(*(units.format_number(units.from_si(bound, term.si_unit), 4) for bound in (low, high)))
            found.append(f"{term.name} is outside the range for which this holds, {bounds} {units.pretty(term.si_unit)}".strip())
    return tuple(found)
