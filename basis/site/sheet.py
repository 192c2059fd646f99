"""One entry of a calculation sheet, always in the same order, and the sheet as a row of entries.

Name and address; symbol = formula, = numbers, = result; inputs; used by; source; range; checked against. May import book,
sources, terms; working, tables, quantities, atlas and html of this folder.
"""
from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from markupsafe import Markup, escape

from basis import units
from basis.book import Value, Verdict
from basis.site import html, tables, working
from basis.site.atlas import Atlas, source_anchor
from basis.site.quantities import number, reference, symbol
from basis.sources import Source, sources
from basis.terms import terms
from basis.working import tables_used

ORIGINS = {"default": "default of this book; the project gives none", "constant": "constant of this book"}


def entries(atlas: Atlas, values: Iterable[Value]) -> Markup:
    """All entries, in order of computing."""
    checked: dict[str, list[Verdict]] = {}
    for verdict in atlas.book.checks:
        for term_id in (verdict.check.value, verdict.check.limit):
            checked.setdefault(term_id, []).append(verdict)
    made, group = [], ""
    for value in values:
        if group != (group := "Computed" if value.producer else "Inputs"):
            made.append(html.heading(2, group, id=f"group-{group.lower()}"))
        made.append(entry(atlas, value, checked.get(value.id, ())))
    return html.join(made, "\n")


def entry(atlas: Atlas, value: Value, verdicts: Iterable[Verdict] = ()) -> Markup:
    """One value with everything that a checker asks."""
    parts = [_title(value), working.doc(value) or html.paragraph(value.term.meaning), working.of_value(atlas, value)]
    if value.axes:
        parts.append(tables.of_elements(atlas, value))
    parts.append(html.definitions(_facts(atlas, value, verdicts)))
    return html.tag("section", *parts, id=value.id, class_="entry")


def _title(value: Value) -> Markup:
    return html.heading(3, value.term.name, " ", symbol(value.term.symbol), " ", html.link(f"#{value.id}", value.id))


def _facts(atlas: Atlas, value: Value, verdicts: Iterable[Verdict]) -> list[tuple]:
    facts = [*_given_facts(value)]
    if value.inputs:
        facts.append(("Inputs", html.join([_input(atlas, name) for name in value.inputs if name in atlas.book.values], "; ")))
    if value.used_by:
        facts.append(("Used by", html.join([reference(atlas, atlas.book.values[name]) for name in value.used_by], "; ")))
    if value.source_ids:
        facts.append(("Source", html.join([cited(sources()[name]) for name in value.source_ids], "; ")))
    if value.origin == "formula" and "lookup" in value.producer.run.__code__.co_names:
        facts += [("Table", _table_line(used, rule)) for used, rule in tables_used(atlas.book.values, value)]
    if span := working.range_text(value, terms()):
        facts.append(("Holds for", span))
    facts += [("Warning", html.tag("strong", warning)) for warning in value.warnings]
    if value.residual:
        facts.append(("Residual", f"{units.format_number(float(np.max(np.abs(value.residual[0]))), 2)}, {value.residual[1]}"))
    facts += [("Checked", verdict_link(atlas, verdict)) for verdict in verdicts]
    if value.producer and value.marks:
        facts.append(("Standing", value.standing))
    return facts


def _given_facts(value: Value) -> list[tuple]:
    if value.origin in ORIGINS:
        return [("Standing", f"{ORIGINS[value.origin]} ({value.term.default})")]
    if value.given:
        return [("Given", tables.given_line(value.given))]
    if value.term.fixed_axis:
        return [(f"Given, {name.replace('_', ' ')}", tables.given_line(given)) for name, given in value.givens.items()]
    return []


def _input(atlas: Atlas, name: str) -> Markup:
    value = atlas.book.values[name]
    if value.axes:
        return reference(atlas, value)
    return escape(value.term.name) + " " + symbol(value.term.symbol) + " " + number(atlas, value)


def _table_line(used, rule: str) -> Markup:
    return escape(f"{used.id}: {rule} – ") + cited(sources()[used.source])


def cited(source: Source) -> Markup:
    """A citation that leads to the list of sources, with how it is known."""
    known = "" if source.how_known == "not applicable" else f" ({source.how_known})"
    return html.link(f"sources.html#{source_anchor(source.id)}", source.citation) + known


def verdict_link(atlas: Atlas, verdict: Verdict) -> Markup:
    """The verdict in its word with its margin, leading to the check."""
    margin = f", margin {verdict.margin_text}" if verdict.margin_text else ""
    return html.link(atlas.check_address(verdict.check), verdict.check.title) + ": " + verdict_word(verdict.word) + margin


def verdict_word(word: str) -> Markup:
    """The verdict as a word with its sign."""
    return html.span(f"verdict {word}", word)


