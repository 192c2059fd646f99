"""One formula by itself: quantities from the command line in, its working out. The engineer's desk calculator.

May import working and what stands left of it.
"""

from __future__ import annotations

import numpy as np

from basis import units
from basis.book import Value
from basis.chapters import Catalogue
from basis.chapters import catalogue as all_chapters
from basis.compiled import Step, chain, count_name, result_names
from basis.faults import Fault, Faults, ItemTroubles, OutOfTable, nearest_name
from basis.formula import Procedure
from basis.table import families
from basis.terms import AXES, FIXED_ITEMS, Term, terms

PLACE = "try"


def try_formula(formula_id: str, quantities: dict[str, str], catalogue: Catalogue | None = None) -> dict[str, Value]:
    """Values of a formula's inputs and result(s) by id; inputs left out take the default of their Term.

    `quantities` maps ids of the formula's inputs to text such as "180 kW"; a list for a term over items is written with
    semicolons. Raises Faults: unknown formula or input, missing input, wrong unit, or a result that does not exist.
    """
    catalogue = catalogue or all_chapters()
    producer = _producer(formula_id, catalogue)
    faults = [Fault(PLACE, 0, f"'{name}' is not an input of '{formula_id}'", ", ".join(producer.parameters), nearest_name(name, producer.parameters))
              for name in quantities if name not in producer.parameters]
    data = {name: _data(terms()[name], quantities.get(name), faults) for name in producer.parameters}
    if faults:
        raise Faults(faults)
    items = _items(data)
    results = _run(producer, data, items)
    found = {name: _value(terms()[name], data[name], items, origin="given" if name in quantities else "default") for name in producer.parameters}
    for name in producer.yields:
        found[name] = _value(terms()[name], results[name], items, origin="procedure" if isinstance(producer, Procedure) else "formula",
                             producer=producer, inputs=producer.parameters, residual=_residual(producer, results))
    return found


def _producer(formula_id: str, catalogue: Catalogue):
    if formula_id not in catalogue.producers:
        raise Faults([Fault(PLACE, 0, f"no formula '{formula_id}'", "the id of a formula", nearest_name(formula_id, catalogue.producers))])
    return catalogue.producers[formula_id]


def _data(term: Term, text: str | None, faults: list):
    if text is None:
        if term.default is not None and not term.own_axes:
            return term.default_data()
        faults.append(Fault(PLACE, 0, f"missing '{term.id}' ({term.name})", _expected(term)))
        return None
    parts = [part.strip() for part in text.split(";")] if term.axes else [text]
    found = [_one(term, part, faults) for part in parts]
    if not term.axes:
        return found[0]
    if term.unit == "reference":
        return np.array([int(one) for one in found if one is not None])
    array = np.array(found, dtype=object if term.is_text else float)
    return array.reshape(-1, len(FIXED_ITEMS[term.fixed_axis])) if term.fixed_axis and len(term.axes) > 1 else array


def _one(term: Term, text: str, faults: list):
    if term.unit == "reference":
        return int(text) if text.isdigit() else faults.append(Fault(PLACE, 0, f"'{term.id}' is '{text}'", "the place of the item, counted from 0"))
    if term.is_text:
        choices = families().get(term.table, ()) if term.table else term.choices
        if choices and text not in choices:
            faults.append(Fault(PLACE, 0, f"'{term.id}' is '{text}'", "one of " + ", ".join(choices), nearest_name(text, choices)))
        return text
    try:
        number, unit_text = units.split_number(text)
        return units.to_si(number, unit_text, term.unit, term.kind_asked)
    except units.UnitError as trouble:
        faults.append(Fault(PLACE, 0, f"'{term.id}': {trouble.what}", trouble.expected, trouble.nearest))
        return None


def _expected(term: Term) -> str:
    if term.is_text:
        choices = families().get(term.table, ()) if term.table else term.choices
        return "one of " + ", ".join(choices) if choices else "a text"
    unit = "" if term.si_unit == "1" else f" {term.si_unit}"
    return f"{term.id}='NUMBER{unit}'" + (", one for each item, with ; between" if term.axes else "")


def _items(data: dict) -> dict[str, tuple[str, ...]]:
    """Names for the items of each axis: as many as were given."""
    items = dict(FIXED_ITEMS)
    for name, value in data.items():
        for axis, length in zip(terms()[name].axes, np.shape(value)):
            if len(items.setdefault(axis, tuple(f"item_{number + 1}" for number in range(length)))) != length:
                raise Faults([Fault(PLACE, 0, f"'{name}' has {length} values", f"{len(items[axis])} along {axis}, as the other inputs")])
    return items


def _run(producer, data: dict, items: dict) -> dict:
    step = Step(producer.yields, procedure=producer) if isinstance(producer, Procedure) else Step(producer.yields, producer.expression)
    inputs = data | {count_name(axis): float(len(items.get(axis, ()))) for axis in AXES}
    if isinstance(producer, Procedure):
        inputs[f"run_{producer.id}"] = producer.run
    try:
        with np.errstate(all="ignore"):
            results = chain((step,), tuple(inputs), terms())(*inputs.values())
    except OutOfTable as trouble:
        raise Faults([Fault(PLACE, 0, trouble.what, trouble.expected, trouble.nearest)]) from trouble
    except ItemTroubles as found:
        raise Faults([Fault(PLACE, 0, f"'{trouble.term}', place {trouble.item}, {trouble.what}", trouble.expected, trouble.nearest)
                      for trouble in found.troubles]) from found
    except (ArithmeticError, ValueError) as trouble:
        raise Faults([Fault(PLACE, 0, f"'{producer.id}' cannot be computed: {trouble}", "inputs for which it is defined")]) from trouble
    return dict(zip(result_names((step,)), results))


def _residual(producer, results: dict):
    return (results[f"residual_of_{producer.id}"], results[f"note_of_{producer.id}"]) if isinstance(producer, Procedure) else None


def _value(term: Term, data, items: dict, **facts) -> Value:
    along = tuple(items[axis] for axis in term.axes)
    number = data if term.is_text or term.axes else float(data)
    if term.axes and term.unit != "reference" and not term.is_text:
        number = np.broadcast_to(data, tuple(len(ids) for ids in along))
    if term.unit == "reference" and not term.axes:
        number = items[term.refers_to][int(data)]
    elif term.unit == "reference":
        number = np.array([items[term.refers_to][index] for index in data], dtype=object)
    return Value(term.id, term, number, items=along, axes=term.axes, **facts)
