"""The two digests of a Value: of what is shown about it, made when it is bound, and of what its number rests on, made when somebody asks.

Everything that asks whether something has changed asks one of the two: options, figures, entries, pages, issued records.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields
from functools import cache
from operator import attrgetter

from basis.language import digests
from basis.language.compiled import Step
from basis.language.formula import Formula, Procedure
from basis.language.standing import reads_of, tables_named
from basis.language.terms import listed

NUMBERS = ("data",)  # of a Given: in SI, as its Value holds them
APART = ("term", "number", "producer", "givens", "items", "residual", "digest")  # of a Value: digested in a way of their own, or the same in every book


def of_shown(value, names: dict, arm: tuple) -> str:
    """Of all that may be shown about a value: number, standing, users, Givens with place and note, names of its items, the arm that ran.

    A residual that is still to be computed follows from what its procedure has yielded, which is then part of `arm`.
    """
    own = [axis for axis in (*value.axes, value.term.refers_to) if axis and not listed(axis).fixed]
    told = [sorted(part) if isinstance(part, frozenset) else part for part in _facts(type(value), APART)(value)]
    givens = [(element, _facts(type(given), NUMBERS)(given)) for element, given in value.givens.items()]
    items = [along for axis, along in zip(value.axes, value.items) if axis in own]
    called = [sorted(names.get(axis, {}).items()) for axis in own]  # the order of items is told by `items`
    residual = [part for part in value.residual or () if not callable(part)]
    return digests.digest(repr((told, givens, items, called, residual, arm)), digests.text_of(value.number))


@cache
def _facts(kind: type, left_out: tuple) -> Callable:
    """All fields of a dataclass but some, in order."""
    return attrgetter(*(one.name for one in fields(kind) if one.name not in left_out))


def of_foundations(values: dict, steps: tuple[Step, ...], items: dict) -> dict[str, str]:
    """Term id -> digest of what its number rests on: its expression or procedure with tables, what the project gives, and the same of all that it needs.

    The same on every machine: no computed number, which may differ in its last digit, is part of it.
    """
    producing = {name: step for step in steps for name in step.yields}
    found: dict[str, str] = {}
    for name, value in values.items():
        step = producing.get(name)
        made = _of_step(step, values) if step else digests.text_of(value.number)
        givens = [(element, given.spread, digests.text_of(given.data) if step else "") for element, given in sorted(value.givens.items())]
        lists = [items[axis] for axis in (*value.axes, *(value.producer.counts if isinstance(value.producer, Formula) else ())) if not listed(axis).fixed]
        found[name] = digests.digest(name, value.term.unit, value.origin, made, repr(givens), repr(lists), *(found.get(used, "") for used in value.inputs))
    return found


def of_maker(producer: Formula | Procedure) -> str:
    """Of a formula with all its arms, or of the code of a procedure, and of nothing that they are given: it moves with the program alone."""
    return digests.of_expression(producer.expression) if isinstance(producer, Formula) else digests.of_function(producer.run)


def _of_step(step: Step, values: dict) -> str:
    """Of the expression that ran, or of the code of the procedure, with the tables that it read."""
    made = digests.of_function(step.procedure.run) if step.procedure else digests.of_expression(step.expression)
    return digests.digest(made, *(digests.of_table(table_id) for where, _, _ in reads_of(step) for table_id in tables_named(where, values)))
