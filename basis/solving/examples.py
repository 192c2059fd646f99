"""Examples of `try` that run: those that the authors of formulas wrote, and inputs drawn for any formula from what its Terms say.

A written example is a sentence of a formula's docstring: `Example: altitude=1600 m give 83.5 kPa (ICAO table).` Inputs stand as `try`
takes them, `, ` between; what is left out takes its default. A procedure names what it yields: `give mount_load=[3.1 kN, 3.3 kN]`. In
round brackets stands who says so.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from basis.language import units
from basis.language.days import seconds_of
from basis.language.faults import Faults
from basis.language.formula import Procedure
from basis.language.notation import lookups_in
from basis.language.table import families, table, tables_of
from basis.language.terms import Term, listed, terms
from basis.language.words import in_sentence, item_words
from basis.solving.trial import ABSENT, cells_of, counts_asked, try_formula, words_of
from basis.solving.value import Value

COUNTS, TRIES = (1, 2, 4), 400  # of items
OPENING, ANY_CURRENCY = "Example:", "¤"
WRITTEN = re.compile(r"Example: (\w+=.+?) gives? (.+?) \(((?:[^()]|\([^()]*\))+)\)\.(?=\s|$)")
NAMED = re.compile(r"(?:^|, )(\w+)=")
MARKS = re.compile(r"([\[\],])")  # between the cells of a written list


@dataclass(frozen=True)
class Example:
    """One written example: texts by id of inputs and of results, and who says so."""

    inputs: dict
    results: dict
    said_by: str


def examples_of(producer) -> tuple[Example, ...]:
    """The written examples of a formula or procedure."""
    found = WRITTEN.findall(" ".join(producer.doc.split()))
    return tuple(Example(_named(inputs), _named(result if "=" in result else f"{producer.yields[0]}={result}"), who) for inputs, result, who in found)


def unwritten(producer) -> int:
    """How many examples of its docstring are not in the form that runs."""
    return producer.doc.count(OPENING) - len(examples_of(producer))


def _named(text: str) -> dict[str, str]:
    _, *parts = NAMED.split(text)
    return dict(zip(parts[::2], parts[1::2]))


def untrue_in(producer, example: Example) -> list[str]:
    """What the example says otherwise than the formula computes, to the digits that it prints. Raises Faults when it cannot be run."""
    values = try_formula(producer.yields[0], example.inputs)
    return [f"{name} is {', '.join(_shown(values[name]))}, not {text}" for name, text in example.results.items() if not _agree(values[name], text)]


def _shown(value: Value) -> list[str]:
    """Each element with more digits than a book shows."""
    cells = [value.element(*ids).number for ids in value.elements()]
    return [cell if value.term.is_text else f"{units.from_si(cell, value.term.si_unit):.7g} {value.unit_text()}".strip() for cell in cells]


def _agree(value: Value, text: str) -> bool:
    try:
        cells = cells_of(text, value.axes)
    except ValueError:
        return False
    return cells.shape == np.shape(value.number) and all(_same(value.element(*ids), cell) for ids, cell in zip(value.elements(), cells.ravel()))


def _same(value: Value, text: str) -> bool:
    """Whether a number is the printed one within half of the last digit printed, a word the same word."""
    if value.term.is_text:
        return str(value.number) == text
    if value.number != value.number or text == ABSENT:
        return value.number != value.number and text == ABSENT
    number, unit_text = units.split_number(text)
    units.to_si(number, unit_text, value.term.unit, value.term.kind_asked)  # a wrong unit is refused
    digits, _, exponent = re.match(r"[-+−]?[\d\s_.]+(?:[eE][-+]?\d+)?", text).group().strip().lower().partition("e")
    last = 10.0 ** (int(exponent or 0) - len(digits.partition(".")[2]))
    return abs(float(units.from_si(value.number, unit_text or value.term.unit)) - number) <= 0.5000001 * last


def readable(text: str) -> str:
    """A docstring as the reader of a book sees it: names of Terms in place of ids, units as printed."""
    return WRITTEN.sub(_readable, text)


def _readable(match: re.Match) -> str:
    inputs, result, who = match.groups()
    given = [f"{in_sentence(terms()[name].name)} {_readable_cells(terms()[name], text)}" for name, text in _named(inputs).items()]
    found = [f"{in_sentence(terms()[name].name)} {_readable_cells(terms()[name], text)}" for name, text in _named(result).items()]
    return f"{OPENING} {', '.join(given)} give{'s' if len(given) == 1 else ''} {', '.join(found) or _readable_cells(None, result)} ({who})."


def _readable_cells(term: Term | None, text: str) -> str:
    """Quantities with their units as a book prints them; words as a book has them."""
    parts = MARKS.split(text) if term is None or term.axes else [text]
    return "".join(part if not part.strip() or MARKS.match(part) else _readable_cell(term, part) for part in parts)


def _readable_cell(term: Term | None, text: str) -> str:
    if term is not None and term.is_text:
        if text.strip() == ABSENT:
            return text
        space = text[:len(text) - len(text.lstrip())]
        return space + (item_words(text.strip()) if term.unit == "reference" else Value(term.id, term, text.strip(), "given").text())
    try:
        _, unit_text = units.split_number(text)
        shown = units.pretty(units.unit(unit_text).text, ANY_CURRENCY) if unit_text else ""
    except units.UnitError:
        return text
    return f"{text[:len(text) - len(unit_text)].rstrip()} {shown}".rstrip() if unit_text else text


def running_example(producer, seed: int = 1) -> dict[str, str] | None:
    """Inputs, as `try` takes them, from which the formula has a result: those that its author wrote, else drawn ones; None when there are none."""
    if written := examples_of(producer):
        return written[0].inputs
    draw = np.random.default_rng(seed)
    for _ in range(TRIES):
        quantities = drawn_inputs(producer, draw)
        try:
            try_formula(producer.yields[0], quantities)
        except Faults:
            continue
        return quantities
    return None


def drawn_inputs(producer, draw: np.random.Generator) -> dict[str, str]:
    """Inputs of the right shape: words from their choices or tables, numbers from their ranges; a Term with a default may be left out."""
    count = int(draw.choice(COUNTS))
    asked = [terms()[name] for name in producer.parameters if _asked(terms()[name], draw)]
    return {term.id: _written(term, producer, draw, count, term.axes) for term in asked} | dict.fromkeys(counts_asked(producer), str(count))


def _asked(term: Term, draw: np.random.Generator) -> bool:
    """Whether an input is written: always without a default, never a constant of nature, else as often as not."""
    return term.default is None or ((not term.constant or bool(term.choices)) and draw.random() < 0.5)


def _written(term: Term, producer, draw: np.random.Generator, count: int, axes: tuple) -> str:
    if axes:
        items = range(len(listed(axes[0]).fixed) if listed(axes[0]).fixed else count)
        return f"[{', '.join(_written(term, producer, draw, count, axes[1:]) for _ in items)}]"
    if term.optional and term.axes and draw.random() < 0.2:
        return ABSENT
    return _word(term, producer, draw, count) if term.is_text else _number(term, producer.valid.get(term.id), draw)


def _word(term: Term, producer, draw: np.random.Generator, count: int) -> str:
    if term.unit == "reference":
        return str(draw.choice(listed(term.refers_to).fixed or [f"item_{place + 1}" for place in range(count)]))
    return _quoted(str(draw.choice(words_of(term) or _keys(term, producer) or ("text",))), term)


def _quoted(word: str, term: Term) -> str:
    """A word of a list in quotes where it would be read as more than one."""
    return f'"{word}"' if term.axes and MARKS.search(word) else word


def _keys(term: Term, producer) -> list[str]:
    """Words under which the tables that the formula reads, or any that has words as keys, hold a row."""
    read = () if isinstance(producer, Procedure) else lookups_in(producer.expression)
    names = [where.value if hasattr(where, "value") else terms()[where.id].table for where, _, key in read if getattr(key, "id", "") == term.id]
    used = [each for name in names for each in tables_of(name)] or [table(table_id) for ids in families().values() for table_id in ids]
    return sorted({key for each in used if each.units[each.key] == "text" for key in each.keys})


def _number(term: Term, valid: tuple | None, draw: np.random.Generator) -> str:
    low, high = valid or _usual_range(term)
    low, high = max(low, term.bounds[0]), min(high, term.bounds[1])
    number = low * (high / low) ** draw.random() if 0 < low < 1e-3 * high else draw.uniform(low, high)
    rounded = np.ceil(number) if term.whole or (term.si_unit == "1" and draw.random() < 0.3) else number  # many plain numbers are counts
    number = low if draw.random() < 0.1 else min(rounded, high)  # nought, or as small as it may be
    if term.kind == "date":
        return units.format_si(number, term.si_unit)
    return f"{float(units.from_si(number, term.si_unit)):.4g} {'' if term.si_unit == '1' else term.si_unit}".strip()


def _usual_range(term: Term) -> tuple[float, float]:
    """Numbers such as a plant has: round the default, or from the low end of the physical range, on the scale of the unit shown."""
    if term.kind == "date":
        return seconds_of("2020-01-01"), seconds_of("2030-01-01")
    if term.kind == "temperature":
        return (250.0, 420.0) if term.bounds[0] < 420.0 else (term.bounds[0], 2 * term.bounds[0])
    middle = term.default_data() if term.default is not None else 0.0
    if np.size(middle) == 1 and np.all(np.asarray(middle) > 0):
        return 0.5 * float(np.ravel(middle)[0]), 1.5 * float(np.ravel(middle)[0])
    scale = units.unit(term.si_unit).factor
    low = term.bounds[0] if np.isfinite(term.bounds[0]) else 0.1 * scale
    return low, term.bounds[1] if np.isfinite(term.bounds[1]) else low + 10 * scale
