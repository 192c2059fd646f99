"""Values and verdicts of a book as plain data. Numbers over items are objects by the ids of the items; what is not known is null, with the reason."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import product

from basis.chapters import catalogue
from basis.export.pages import Pages
from basis.language.terms import Term, homes
from basis.solving.book import Book
from basis.solving.lacking import lacks, told
from basis.solving.value import Value
from basis.solving.verdict import Verdict
from basis.solving.working import finite, formula_text, given_records, largest_residual, standing_of, tables_used, unit_of

MANY = 100  # elements along one axis, such as the hours of a year, beyond which numbers stand in order and none is shown in words


def long_axis(value: Value) -> bool:
    """Whether a value runs over so many items that its numbers stand in a list."""
    return any(len(ids) > MANY for ids in value.items)


def value_facts(book: Book, value: Value, pages: Pages) -> dict:
    """Everything about one value as plain data."""
    long = long_axis(value)
    return {
        **_of_term(value.term, book.home[value.id]), "page": pages.address(value.id), "axes": list(value.axes), "unit_si": unit_of(value),
        "value_si": _numbers(value) if long else _by_item(value, _plain), "why_null": {} if long else _reasons(value),
        "shown_si": value.text() if long else _by_item(value, value.shown),
        **({"shown_us": _by_item(value, lambda number: value.shown(number, "us"))} if value.two_systems and not long else {}),
        "origin": value.origin, "standing": standing_of(value), "marks": sorted(value.marks), "formula": formula_text(value), "inputs": list(value.inputs),
        "used_by": list(value.used_by), "checked_by": [one.check.id for one in book.checks_on(value.id)], "sources": list(value.source_ids),
        "tables": [f"{used.id}: {how}" for used, how in tables_used(book.values, value)], "givens": given_records(value), "to_give": [],
        "warnings": list(value.warnings()), "residual": largest_residual(value), "digest": value.digest, "foundation": book.foundations[value.id]}


def undecided_facts(book: Book, term: Term) -> dict:
    """The same of what has no number because an input is not given."""
    missing = book.undecided[term.id]
    return {
        **_of_term(term, catalogue().chapter_of.get(term.id, homes()[term.id])), "page": None, "axes": list(term.axes), "unit_si": "", "value_si": None,
        "why_null": {"": told(book, missing)}, "shown_si": None, "origin": "undecided", "standing": "", "marks": [], "formula": "", "inputs": [],
        "used_by": [], "checked_by": [one.check.id for one in book.checks_on(term.id)], "sources": [], "tables": [], "givens": [],
        "to_give": [vars(lack) for lack in lacks(book, missing)], "warnings": [], "residual": None, "digest": None, "foundation": None}


def verdict_record(book: Book, verdict: Verdict) -> dict:
    """One verdict as plain data."""
    return {"check": verdict.check.id, "title": verdict.check.title, "verdict": verdict.word, "margin": finite(verdict.margin),
            "margin_shown": verdict.margin_text, "value_id": verdict.check.value, "limit_id": verdict.check.limit,
            "element": verdict.element, "value": verdict.value.text() if verdict.value else None, "limit": verdict.limit.text() if verdict.limit else None,
            "missing": list(verdict.missing), "to_give": [vars(lack) for lack in lacks(book, verdict.missing)], "unlisted": list(verdict.unlisted),
            "beside": [value.id for value in verdict.beside], "sized": [term.id for term in verdict.sized],
            "marks": list(verdict.marks), "limit_mark": verdict.limit_mark,
            "chance": finite(verdict.chance), "samples": verdict.samples, "samples_uncomputed": verdict.uncomputed,
            "remark": verdict.remark}


def verdict_facts(book: Book, verdict: Verdict, pages: Pages) -> dict:
    """A verdict with its numbers, its chapter, its page and why it is none."""
    check = verdict.check
    return {**verdict_record(book, verdict), "chapter": catalogue().chapter_of.get(check.id, ""), "page": pages.check_address(check),
            "safe": check.safe, "value_si": _side(verdict.value), "limit_si": _side(verdict.limit), "sources": list(check.sources),
            "why_no_verdict": told(book, verdict.missing) if verdict.word == "undecided" else verdict.nothing_text, "digest": verdict.digest}


def _side(value: Value | None):
    return None if value is None or value.term.is_text else finite(value.number)


def _of_term(term: Term, chapter: str) -> dict:
    form = term.unit if term.is_text else "day" if term.kind == "date" else "number"
    return {"id": term.id, "name": term.name, "symbol": term.symbol, "meaning": term.meaning, "chapter": chapter, "form": form, "kind": term.kind}


def _plain(number):
    return number if isinstance(number, str) or math.isfinite(number) else None


def _numbers(value: Value):
    return finite(value.number)


def _by_item(value: Value, cell: Callable):
    """What a function makes of each number: one, or by the ids of the items, one level an axis."""
    return _nested(value.number.tolist(), value.items, cell) if value.axes else cell(value.number)


def _nested(numbers, items: Sequence, cell: Callable):
    if not items:
        return cell(numbers)
    return {item: _nested(one, items[1:], cell) for item, one in zip(items[0], numbers)}


def _reasons(value: Value) -> dict[str, str]:
    """Ids of an element, joined by points, or "" of a plain value -> why it has no finite number."""
    if value.term.is_text:
        return {}
    numbers = value.number.ravel().tolist() if value.axes else [value.number]
    return {".".join(ids): value.shown(number, unit=False) for ids, number in zip(product(*value.items), numbers) if not math.isfinite(number)}
