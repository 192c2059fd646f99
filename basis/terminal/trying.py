"""What `try` tells: which formulas and procedures there are, how the inputs of one are written, and what it comes to.

Computes nothing itself: `basis.solving.trial` runs, `basis.solving.working` spells.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterator

import numpy as np

from basis.chapters import Catalogue, catalogue
from basis.language import units
from basis.language.formula import Formula, Procedure
from basis.language.sources import sources
from basis.language.standing import range_of
from basis.language.terms import Term, terms
from basis.solving.examples import running_example
from basis.solving.trial import counts_asked, maker, try_formula, written_form
from basis.solving.value import Value, written_shown
from basis.solving.working import lines, record, with_digits
from basis.terminal.finding import name_of


def listing(known: Catalogue | None = None) -> Iterator[tuple[str, str, str, str]]:
    """Kind, id, name and chapter of everything that `try` runs, by chapter and as written."""
    known = known or catalogue()
    for chapter in known.chapters:
        for one in known.formulas[chapter.id]:
            yield ("formula" if isinstance(one, Formula) else "procedure"), one.id, name_of(one), chapter.id


def listing_lines(known: Catalogue | None = None) -> Iterator[str]:
    """The same as lines, under the chapters."""
    rows, last = list(listing(known)), ""
    widest = max(len(name) for _, name, _, _ in rows)
    for kind, name, words, chapter in rows:
        if chapter != last:
            yield from (*([""] if last else []), chapter)
        last = chapter
        yield f"  {name:<{widest}}  {kind:<9}  {words}"


def inputs_lines(name: str, known: Catalogue | None = None) -> Iterator[str]:
    """How each input is written, its range and default, for what the formula holds, and an example that runs."""
    producer = maker(name, known or catalogue())
    yield from (f"{one}='{written_form(terms()[one])}': {_said(producer, terms()[one])}" for one in producer.parameters)
    yield from (f"{key}='NUMBER': how many {key.replace('_', ' ')} there are" for key in counts_asked(producer))
    yield f"gives {', '.join(_given(terms()[one]) for one in producer.yields)}"
    if (found := running_example(producer)) is not None:
        yield ""
        yield "Example:"
        yield "  " + " ".join(["basis try", producer.id, *(f"{one}={shlex.quote(text)}" for one, text in found.items())])


def _said(producer: Formula | Procedure, term: Term) -> str:
    """Name, physical range, range for which the formula holds, default with how well it is known."""
    facts = [term.name, *([] if term.is_text or not np.isfinite(term.bounds).any() else [term.range_text])]
    if term.id in producer.valid:
        facts.append(f"holds for {range_of(term, producer.valid[term.id])}")
    if term.default is not None:
        facts.append(", ".join(filter(None, (f"default {written_shown(term, term.default)}", sources()[term.source].mark))))
    return "; ".join(facts)


def _given(term: Term) -> str:
    unit = "" if term.is_text else units.pretty(term.si_unit, "currency")
    return f"{term.id} ({term.name}{', ' if unit else ''}{unit})"


def tried(name: str, quantities: dict[str, str], digits: int | None = None) -> tuple[dict[str, Value], list[Value]]:
    """All values of a trial, and of them the results. Raises Faults."""
    values = try_formula(name, quantities)
    values = with_digits(values, digits) if digits else values
    return values, [value for value in values.values() if value.origin in ("formula", "procedure")]


def tried_lines(values: dict[str, Value], results: list[Value]) -> str:
    """The working of the results as a person reads it."""
    return "\n\n".join("\n".join(lines(values, value)) for value in results)


def tried_record(values: dict[str, Value], results: list[Value]) -> list[dict]:
    """The same as plain data."""
    return [record(values, value) for value in results]
