"""The working of one value: formula, the formula with the numbers put in, result, inputs, used by, source.

As a record for machines and as lines for a terminal; the site puts the same parts on its sheets.
"""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from basis.language import notation, units
from basis.language.compiled import Step
from basis.language.faults import OutOfTable
from basis.language.maths import decided
from basis.language.sources import sources
from basis.language.standing import range_of, reads_of, tables_named
from basis.language.table import RULES, Table, table
from basis.language.terms import terms
from basis.language.words import in_sentence, item_words
from basis.solving.examples import readable
from basis.solving.spelled import Spelling, deciding, spelled
from basis.solving.value import Value, written_shown

KELVIN_DIGITS = 5
ROWS_SHOWN, CELLS_SHOWN = 40, 9  # of a value, of an input in one line


def live_expression(values: dict, value: Value) -> ast.expr:
    """The expression of a computed value with conditionals on known choices decided."""
    if not value.producer.conditional:
        return value.producer.expression
    asked = [values[name] for name in value.producer.parameters if name in values]
    return decided(value.producer.expression, {other.id: other.number for other in asked if other.term.unit == "choice" and not other.axes})


def at_element(values: dict, value: Value, element: dict[str, str], names: dict | None = None) -> ast.expr:
    """The expression of a computed value at one element (axis -> item), as its row with numbers shows it. `names`: axis -> item -> what it is called."""
    return spelled(values, live_expression(values, value), element, names)


def why_constant(values: dict, value: Value, element: dict[str, str], spelling: Spelling | None = None) -> str:
    """Why a value at an element is a number of its formula and nothing more: what the conditions ask for that chose it, in words."""
    asked = deciding(values, value.producer.expression, element, spelling)
    return " and ".join(f"{in_sentence(one.term.name)} is {one.text()}" for one in asked)


def numbers_put_in(values: dict, shown: Callable[[Value, tuple], str] | None = None):
    """A `stands_for` for the notation of an expression at an element: the number behind a name, or the symbol of a whole array. `shown`: a number or word of
    a value at an element as it stands in a formula."""
    shown = shown or shown_in_formula

    def stands_for(name: str, writer) -> str:
        term_id, *ids = name.split(".")
        value = values.get(term_id)
        if value is None:
            return writer.word(name)
        if len(ids) != len(value.axes):
            return notation.sign_of(value.term, writer)
        if value.term.is_text or np.isnan(value.number_at(*ids)):  # what is not given has no unit
            return writer.word(shown(value, ids))
        return writer.number(shown(value, ids), "K" if value.term.kind == "temperature" else value.unit_text())
    return stands_for


def shown_in_formula(value: Value, ids: Sequence[str]) -> str:
    """The number of an element as it stands in a formula, without its unit, or its word."""
    return in_formula(value, value.number_at(*ids))


def in_formula(value: Value, number) -> str:
    """The same of any number or word of a value. Formulas run on kelvins: 34 °C put in would not give the result."""
    if value.term.kind == "temperature":
        return units.format_number(number, max(KELVIN_DIGITS, value.term.digits))
    return value.shown(number, unit=False)


def tables_used(values: dict, value: Value) -> tuple[tuple[Table, str], ...]:
    """Tables that the formula or procedure looks into, each with column, rule and, for a plain value, the row that was used."""
    if value.origin not in ("formula", "procedure"):
        return ()
    found = {}
    for where, column, key in reads_of(_step(values, value)):
        for used in map(table, tables_named(where, values)):
            column_read = f"column {item_words(column)}, " if column else ""
            found[used.id] = (used, f"{column_read}{RULES[used.rule] if key or column else 'all rows'}{_row(values, used, column, key)}")
    return tuple(found.values())


def _step(values: dict, value: Value) -> Step:
    if value.origin == "procedure":
        return Step(value.producer.yields, procedure=value.producer)
    return Step((value.term.id,), live_expression(values, value))


def _row(values: dict, used: Table, column: str, key: str) -> str:
    value = values.get(key)
    if value is None or value.axes:
        return ""
    try:
        rows = used.rows_used(value.number)
    except OutOfTable:
        return ""
    return ": " + " and ".join(used.row_text(used.keys[row]) + (", from memory" if (column, row) in used.unread else "") for row in rows)


def said(value: Value) -> tuple[str, ...]:
    """Paragraphs: of a computed value what the author of its formula says, else what the quantity means."""
    if value.origin not in ("formula", "procedure"):
        return (value.term.meaning,) if value.term.meaning else ()
    return tuple(readable(" ".join(part.split())) for part in value.producer.doc.split("\n\n"))


def range_text(value: Value, system: str = "si") -> str:
    """The range in which the formula of a value holds, for the reader."""
    valid = value.producer.valid if value.producer else {}
    return "; ".join(f"{terms()[name].name} {range_of(terms()[name], bounds, value.currency, system)}" for name, bounds in valid.items())


def with_digits(values: dict, digits: int) -> dict:
    """The same values, shown with so many significant digits."""
    return {name: replace(value, term=replace(value.term, digits=digits)) for name, value in values.items()}


def record(values: dict, value: Value, names: dict | None = None) -> dict:
    """Everything about one value as plain data, for JSON. `names`: axis -> item -> what it is called."""
    put_in, because = _put_in(values, value, names or {})
    return {
        "id": value.id, "name": value.term.name, "symbol": value.term.symbol, "meaning": value.term.meaning,
        "value_si": _plain(value), "unit_si": "" if value.term.is_text else value.term.unit,
        "shown_si": value.text("si"), "shown_us": value.text("us"), "axes": list(value.axes), "items": [list(ids) for ids in value.items],
        "origin": value.origin, "standing": standing_of(value), "marks": sorted(value.marks),
        "said": list(said(value)), "holds_for": range_text(value),
        "formula": formula_text(value), "numbers_put_in": put_in, "because": because, "used_by": list(value.used_by),
        "inputs": [_input_record(values[name]) if name in values else {"id": name, "value_si": None} for name in value.inputs],
        "tables": [f"{used.id}: {how}" for used, how in tables_used(values, value)],
        "sources": [{"id": source_id, "citation": sources()[source_id].citation, "how_known": sources()[source_id].how_known}
                    for source_id in value.source_ids],
        "givens": given_records(value), "warnings": list(value.warnings()), "residual": largest_residual(value),
    }


def standing_of(value: Value) -> str:
    """How it is known: of inputs over items what is said of them, each once; of what was typed for a trial that it was given."""
    if value.origin != "given" or value.given:
        return value.standing
    return ", ".join(dict.fromkeys(given.standing for given in value.givens.values())) or ("given" if np.size(value.number) else "no item is listed")


def given_records(value: Value) -> list[dict]:
    """Each input of a value as a person wrote it, with file and line, as plain data."""
    return [{"element": element, "written": given.written, "file": given.file, "line": given.line, "note": given.note, "standing": given.standing,
             "instead_of": given.over and {"written": given.over.written, "file": given.over.file, "line": given.over.line}}
            for element, given in value.givens.items()]


def largest_residual(value: Value) -> list | None:
    """How much a procedure leaves over at most, and what that is."""
    return [finite(value.left_over[0]), value.left_over[1]] if value.residual else None


def _input_record(value: Value) -> dict:
    return {"id": value.id, "name": value.term.name, "value_si": _plain(value), "unit_si": "" if value.term.is_text else value.term.unit,
            "shown_si": value.text("si"), "shown_us": value.text("us"), "axes": list(value.axes), "items": [list(ids) for ids in value.items],
            "origin": value.origin, "standing": standing_of(value), "marks": sorted(value.marks)}


def _plain(value: Value):
    if value.term.is_text:
        return value.number if isinstance(value.number, str) else list(value.number)
    return finite(value.number)


def finite(number):
    """A number, or the numbers of an array in lists, as plain data: JSON knows neither NaN nor infinity, so null."""
    if np.ndim(number):
        return [finite(one) for one in number]
    return float(number) if math.isfinite(number) else None


def unit_of(value: Value) -> str:
    """The unit in which it is computed, a price in the currency of the project; of a day "date"."""
    return "date" if value.term.kind == "date" else value.term.unit.replace("cur", value.currency or "cur")


def formula_text(value: Value) -> str:
    """The formula of a value, or the equation of its procedure, as text; nothing where it is given."""
    if value.origin == "formula":
        return notation.text(value.term.id, value.producer.expression)
    return value.producer.equation if value.origin == "procedure" else ""


def _put_in(values: dict, value: Value, names: dict) -> tuple[str, str]:
    """The row with numbers; of a number of the formula itself why it is that, in its place."""
    if value.origin != "formula" or not value.elements():
        return "", ""
    _, *ids = value.id.split(".")
    element = dict(zip(value.term.axes, ids or element_shown(value)))
    expression = at_element(values, value, element, names)
    if notation.is_quantity(expression):
        return "", why_constant(values, value, element)
    return notation.text(value.term.id, expression, numbers_put_in(values)), ""


def element_shown(value: Value) -> tuple[str, ...]:
    """The element whose row with numbers is shown: the first that the project does not give itself."""
    return next((ids for ids in value.elements() if not ids or ids[0] not in value.givens), value.elements()[0])


def lines(values: dict, value: Value, names: dict | None = None) -> list[str]:
    """The working as a person reads it in a terminal. `names`: axis -> item -> what it is called."""
    facts = record(values, value, names)
    found = [f"{value.id}: {value.term.name}", *(f"  {part}" for part in said(value))]
    found += [f"  {facts['formula']}"] if facts["formula"] else []
    found += [f"  {_first_element(value)}{facts['numbers_put_in']}"] if facts["numbers_put_in"] else []
    found += [f"  {_first_element(value)}as {facts['because']}"] if facts["because"] else []
    found += [f"  = {_both(value)}"] if not value.axes else _rows(value)
    for element, given in value.givens.items():
        label = f" [{element}]" if element and value.axes else ""
        written, note = written_shown(value.term, given.written), "".join(f" – {text}" for text in (given.note, given.instead) if text)
        found.append(f"  given{label}: {written}, {given.standing}, {given.file}:{given.line}{note}")
    found += [f"  table {text}" for text in facts["tables"]]
    found += [f"  input {name} = {_input_text(values, name)}" for name in value.inputs]
    found += [f"  used by {', '.join(value.used_by)}"] if value.used_by else []
    found += [f"  source {source['citation']} ({source['how_known']})" for source in facts["sources"]]
    found += [f"  holds for {facts['holds_for']}"] if facts["holds_for"] else []
    found += [f"  standing {standing_of(value)}"]
    found += [f"  warning {warning}" for warning in value.warnings()]
    found += [f"  {value.left_over[1]}: {units.format_number(value.left_over[0], 2)}"] if value.residual else []
    return found


def _first_element(value: Value) -> str:
    return f"for {', '.join(element_shown(value))}: " if value.axes else ""


def _both(value: Value) -> str:
    return value.text("si") + (f" ({value.text('us')})" if value.two_systems else "")


def _rows(value: Value) -> list[str]:
    rows = [f"    {', '.join(map(item_words, ids))}: {_both(value.element(*ids))}" for ids in value.elements()[:ROWS_SHOWN]]
    more = len(value.elements()) - ROWS_SHOWN
    return rows + ([f"    … and {more} more"] if more > 0 else [])


def _input_text(values: dict, name: str) -> str:
    value = values.get(name)
    if value is None:
        return "not given"
    shown = _cells(value) if value.axes else _both(value)
    words = dict.fromkeys(word for word in ("default" if value.origin == "default" else "", value.mark) if word)
    return f"{shown} [{', '.join(words)}]" if words else shown


def _cells(value: Value) -> str:
    """The numbers of a list in one line; of a long one how many there are."""
    elements = value.elements()
    if not 0 < len(elements) <= CELLS_SHOWN:
        return f"{len(elements)} values"
    return f"[{', '.join(value.element(*ids).text() for ids in elements)}]"
