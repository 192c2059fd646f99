"""One entry of a calculation sheet, always in the same order, and the sheet as a row of entries.

Name and address; symbol = formula, = numbers, = result; inputs; used by; source; range; checked against.
"""
from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import partial
from pathlib import PurePosixPath

import numpy as np
from markupsafe import Markup, escape

from basis.language import units
from basis.language.sources import Source, sources
from basis.language.terms import terms
from basis.language.words import item_words
from basis.site import asked, element_rows, html, tables, working
from basis.site.addresses import Addresses, kind_of
from basis.site.element_rows import Rows, Shown, has_rows
from basis.site.html import made, safe
from basis.site.kept import kept
from basis.site.quantities import both, default_shown, difference_read_back, linked_name, margin, moved_from, number, reference, symbol, warnings
from basis.solving.value import MARKS, Value
from basis.solving.verdict import Verdict
from basis.solving.verdict_words import WORDS
from basis.solving.working import range_text, tables_used

GROUPS = {"inputs": "Inputs", "sheet": "Computed"}
ORIGINS = {"default": "default of this book", "constant": "constant of this book"}


def entries(addresses: Addresses, value_ids: Iterable[str]) -> Markup:
    """All entries, in order of computing, what is given before what is computed."""
    found: dict[str, list[Markup]] = {}
    rows: dict[str, Rows] = {}
    shown = Shown()
    for value_id in value_ids:
        if not addresses.option and has_rows(addresses.book[value_id]):
            rows[value_id] = kept(addresses, ("rows", addresses.here, value_id), partial(_rows, value_id, shown))
        row = rows[value_id].first if value_id in rows else None
        made_here = kept(addresses, ("entry", addresses.here, value_id), partial(_entry, value_id, row), row)
        found.setdefault(kind_of(addresses.book, value_id), []).append(made_here)
    if rows:
        addresses.data.files[str(PurePosixPath(addresses.here).with_suffix(".js"))] = element_rows.script(addresses, rows)
    return html.join([addresses.data.heading(title, f"group-{kind}") + html.join(found[kind], "\n") for kind, title in GROUPS.items() if kind in found], "\n")


def _rows(value_id: str, shown: Shown, addresses: Addresses) -> Rows:
    return element_rows.of_value(addresses, addresses.book[value_id], shown)


def _entry(value_id: str, row: tuple | None, addresses: Addresses) -> Markup:
    return entry(addresses, addresses.book[value_id], row)


def entry(addresses: Addresses, value: Value, row: tuple | None = None) -> Markup:
    """One value with everything that a checker asks; of an option, beside what differs, the way to the chosen book for the rest. `row`: of one element, if
    the rows of all have been written."""
    chosen = addresses.main.values.get(value.id) if addresses.option else None
    if chosen is not None and chosen.origin == value.origin:
        return _section(addresses, value, "", _moved_facts(addresses, value, chosen))
    said = f"<p>{safe(value.term.meaning)}</p>" if value.origin not in ("formula", "procedure") else _by_same_procedure(addresses, value) or working.doc(value)
    return _section(addresses, value, said, _facts(addresses, value), row)


def _section(addresses: Addresses, value: Value, said: str, facts: list[tuple], row: tuple | None = None) -> Markup:
    elements = tables.of_elements(addresses, value) if value.axes else ""
    told = "".join([f"<dt>{safe(name)}</dt><dd>{safe(fact)}</dd>" for name, fact in facts])
    link = addresses.data.lead(f"#{value.id}")
    title = f'{safe(value.term.name)} {symbol(value.term.symbol)} <a href="{link}">{value.id}</a>'
    worked = working.of_value(addresses, value, first=_first_yield(addresses, value) == value.id, row=row)
    return made(f'<section id="{addresses.data.place(value.id)}"><h3>{title}</h3>{said}{worked}{elements}<dl>{told}</dl></section>')


def _first_yield(addresses: Addresses, value: Value) -> str:
    """Of what the procedure of a value yields the one that shows what it is: the first that stands on the same page."""
    if value.origin != "procedure":
        return value.id
    page = addresses.page_of(value.id)
    return next(name for name in value.producer.yields if name in addresses.book.values and addresses.page_of(name) == page)


def _by_same_procedure(addresses: Addresses, value: Value) -> Markup:
    """What a further result of a procedure says instead of repeating it."""
    first = _first_yield(addresses, value)
    if first == value.id:
        return html.EMPTY
    return made(f"<p>{safe(value.term.meaning)}</p><p>Yielded with {linked_name(addresses, first)}.</p>")


def _moved_facts(addresses: Addresses, value: Value, chosen: Value) -> list[tuple]:
    """Facts of a value of an option that the chosen book has too: meaning, source and users stand there."""
    there = replace(addresses, book=addresses.main, option=None, here="")
    shown = reference(there, chosen) if chosen.axes else number(there, chosen)
    facts = [*_given_facts(value), *_input_facts(addresses, value), ("Chosen book", shown)]
    facts += [("Warning", html.tag("strong", warned)) for warned in warnings(value)]
    return facts + [("Checked", verdict_link(addresses, verdict)) for verdict in addresses.book.checks_on(value.id)]


def _input_facts(addresses: Addresses, value: Value) -> list[tuple]:
    """All inputs; of an option those that are not as in the chosen book."""
    asked = [name for name in value.inputs if name in addresses.book.values and (not addresses.option or name in addresses.moved)]
    return [("Inputs that differ" if addresses.option else "Inputs", html.join([_input(addresses, name) for name in asked], "; "))] if asked else []


def _facts(addresses: Addresses, value: Value) -> list[tuple]:
    facts = [*_given_facts(value), *_input_facts(addresses, value)]
    if value.used_by:
        facts.append(("Used by", html.join([linked_name(addresses, name) for name in value.used_by], "; ")))
    if value.source_ids:
        facts.append(("Source", html.join([cited(addresses, sources()[name]) for name in value.source_ids], "; ")))
    if value.origin == "formula" and value.producer.looks_up:
        facts += [("Table", _table_line(addresses, used, rule, value)) for used, rule in tables_used(addresses.book.values, value)]
    if span := range_text(value):
        facts.append(("Holds for", both(span, range_text(value, "us"))))
    facts += [("Warning", html.tag("strong", warned)) for warned in warnings(value)]
    if value.residual:
        facts.append(("Residual", residual_text(value)))
    facts += [("Checked", verdict_link(addresses, verdict)) for verdict in addresses.book.checks_on(value.id)]
    if value.producer and value.marks:
        facts.append(("Rests on", ", ".join(mark for mark in MARKS if mark in value.marks)))
    return facts + asked.facts(addresses, value.id)


def residual_text(value: Value) -> Markup:
    """What the procedure of a value leaves over in its own equation, and what that is; a unit stands last in the first of these words."""
    size, what = value.left_over
    named, also, otherwise = what.partition("; ")
    words, _, unit = named.rpartition(", ")
    near = [terms()[name] for name in (*value.producer.yields, *value.inputs)]
    term = next((one for one in near if not one.is_text and unit in (one.unit, units.pretty(one.unit))), None)
    in_us = f"{units.difference_shown(size, term.us_unit, value.currency)}, {words}{also}{otherwise}" if term and term.si_unit != term.us_unit else ""
    in_si = f"{units.format_number(size, 2)}, {what}"
    return both(in_si, in_us or in_si)


def _given_facts(value: Value) -> list[tuple]:
    if value.origin in ORIGINS:
        many = html.join((" (", default_shown(value), ")")) if value.axes else ""  # of one number it is the number above
        return [("Standing", made(f"{ORIGINS[value.origin]}{many}"))] if np.size(value.number) else []
    if value.given:
        return [("Given", tables.given_line(value.given))]
    if value.term.fixed_axis:
        return [(f"Given, {item_words(name)}", tables.given_line(given)) for name, given in value.givens.items()]
    return []


def _input(addresses: Addresses, name: str) -> Markup:
    value = addresses.book.values[name]
    if value.axes:
        return reference(addresses, value)
    return made(f"{safe(value.term.name)} {symbol(value.term.symbol)} {number(addresses, value)}")


def _table_line(addresses: Addresses, used, rule: str, value: Value) -> Markup:
    """A table with its column; its source where that is not the one source that stands above."""
    told = f"{used.title}: {rule}"
    return escape(told) if value.source_ids == (used.source,) else escape(f"{told} – ") + cited(addresses, sources()[used.source])


def cited(addresses: Addresses, source: Source) -> Markup:
    """A citation that leads to the list of sources, with how it is known."""
    known = "" if source.how_known == "not applicable" else f" ({source.how_known})"
    return made(f'<a href="{addresses.source_address(source.id)}">{safe(source.citation)}</a>{known}')


def verdict_link(addresses: Addresses, verdict: Verdict) -> Markup:
    """The verdict in its word with its margin, leading to the check."""
    left = f", margin {margin(verdict)}" if verdict.margin_text else ""
    stands = f"{verdict_word(verdict.word)}{left}{verdict_moved(addresses, verdict)}"
    return made(f'<a href="{addresses.check_address(verdict.check)}">{safe(verdict.check.title)}</a>: {stands}')


def verdict_moved(addresses: Addresses, verdict: Verdict) -> Markup:
    """The mark of a verdict of which the word or the margin is another than in the last issue."""
    if not (was := addresses.book.was_judged(verdict.check.id)):
        return html.EMPTY
    word, left = was
    told = both(left, difference_read_back(verdict.value, left)) if verdict.value else left
    return moved_from(addresses, html.join(filter(None, (word, told)), ", "))


def verdict_head(name: str = "Verdict", words: Iterable[str] = WORDS) -> Markup:
    """The head of a column of verdicts, by which its table filters and, as urgent as they are, sorts."""
    return html.tag("th", name, data_pick="Verdict", data_ranks="|".join(words))


def verdict_word(word: str, said: str = "") -> Markup:
    """The verdict as a word with its sign; `said` where a sentence asks for another form of the word."""
    return html.span(verdict_class(word), said or word)


def standing_head(name: str) -> Markup:
    """The head of a column of numbers, by whose marks its table filters and, the strongest first, sorts."""
    return html.tag("th", name, data_pick="Rests on", data_find="small", data_ranks="|".join(MARKS))


def verdict_class(word: str) -> str:
    """What gives a verdict its sign."""
    return f"verdict {word.replace(' ', '-')}"


