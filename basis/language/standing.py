"""How well a value is known: the sources that it rests on, their marks, and whether it lies in the range of its formula."""

from __future__ import annotations

import ast
import math

import numpy as np

from basis.language import units
from basis.language.compiled import Step
from basis.language.notation import lookups_in
from basis.language.sources import sources
from basis.language.table import families, table
from basis.language.terms import Term, terms
from basis.language.words import span


def cited(step: Step, producer, values: dict) -> tuple[str, ...]:
    """Sources of a producer and of the tables that it read: where the project chose one of a family, not those of the others."""
    tables = [where for where, _, _ in reads_of(step)]
    chosen_from = {table(one).source for where in tables if where in terms() and where in values for one in families().get(terms()[where].table, ())}
    own = [source_id for source_id in producer.sources if source_id not in chosen_from]
    return tuple(dict.fromkeys(own + [table(table_id).source for where in tables for table_id in tables_named(where, values)]))


def reads_unread(step: Step, values: dict) -> bool:
    """Whether a cell that a producer read is from memory, although the source of its table was read otherwise."""
    return any(table(table_id).is_unread(name, key) for where, column, by in reads_of(step) for table_id in tables_named(where, values)
               for name in ([column] if column else table(table_id).columns) for key in _keys(by, values))


def reads_of(step: Step) -> list[tuple[str, str, str]]:
    """(table or the Term that names it, column, Term that is the key) of each look-up; blank where a procedure reads all columns, or the key is computed."""
    if step.procedure:
        return [(where, "", key) for where, key in step.procedure.tables]
    return [(where.value if isinstance(where, ast.Constant) else where.id, column, key.id if isinstance(key, ast.Name) else "")
            for where, column, key in lookups_in(step.expression)]


def tables_named(where: str, values: dict) -> list[str]:
    """Ids of the tables that a Term names in this book, or the one table of that id."""
    if where not in terms():
        return [where]
    return [table_id for table_id in np.unique(np.ravel(values[where].number).astype(str)) if table_id] if where in values else []


def _keys(name: str, values: dict) -> list:
    """Numbers or words with which a table is entered, once each; one None where they are not known."""
    return [key for key in np.unique(np.ravel(values[name].number)).tolist() if key != "" and key == key] if name in values else [None]


def source_marks(source_ids) -> set[str]:
    """Words that the sources put behind a number: from memory, common practice."""
    return {sources()[source_id].mark for source_id in source_ids if source_id} - {""}


def is_blank(data) -> bool:
    """Whether a plain result is not given: what it needs was not."""
    return isinstance(data, float) and math.isnan(data)


def outside_range(producer, numbers: dict) -> tuple[str, ...]:
    """Ids of what lies outside the range for which a formula holds; `numbers` in SI by Term id."""
    return tuple(name for name, (low, high) in producer.valid.items() if name in numbers and not np.all(np.isnan(numbers[name]))
                 and (np.nanmin(numbers[name]) < low or np.nanmax(numbers[name]) > high))


def range_of(term: Term, bounds: tuple[float, float], currency: str = "", system: str = "si") -> str:
    """A range in SI as shown, in the unit of the Term."""
    unit = term.unit_in(system)
    low, high = (units.format_si(bound, unit, 4) for bound in bounds)
    return f"{span(low, high)} {units.pretty(unit, currency)}".strip()
