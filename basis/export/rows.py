"""The rows of a workbook: of each value, or of each of its elements, the number, the formula that runs or why none does, and where it is from."""

from __future__ import annotations

import ast
import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from basis.export.spreadsheet import Refused, Translator
from basis.export.tables import table_name
from basis.export.values import long_axis
from basis.language.sources import sources
from basis.language.words import item_words
from basis.reading.givens import Given
from basis.solving.book import Book
from basis.solving.value import Value
from basis.solving.working import formula_text, standing_of

BY_STEPS = "number: calculated by steps"


@dataclass(frozen=True)
class Row:
    """One line of a sheet. `number`: in SI, a word, or None where nothing is known; `live`: the formula that runs, else empty; `how`: what stands there."""

    value: Value
    ids: tuple[str, ...]
    item: str
    number: float | str | None
    live: str
    how: str
    standing: str
    first: bool  # of the value: the formula as text and the sources stand here
    source: str

    @property
    def id(self) -> str:
        """Its address."""
        return ".".join((self.value.id, *self.ids))

    @property
    def is_input(self) -> bool:
        """Whether it may be tried out."""
        return self.how in ("given", "default")

    @property
    def formula(self) -> str:
        """The formula of the book as text, beside the first element."""
        return formula_text(self.value) if self.first else ""


def rows_of(book: Book, value: Value, expression: ast.expr | None, translator: Translator) -> Iterator[Row]:
    """The rows of one value; one row that says so where it has no element, or too many."""
    cited = "; ".join(sources()[name].citation for name in value.source_ids)
    if long_axis(value) or not value.elements():
        how = f"{value.number.size} numbers, in {table_name(value.axes)}" if long_axis(value) else "no item is listed"
        yield Row(value, (), "", None, "", how, standing_of(value), True, cited)
        return
    numbers = value.number.ravel().tolist() if value.axes else [value.number]
    for place, (ids, number) in enumerate(zip(product(*value.items), numbers)):
        given = value.givens.get(ids[0] if ids else "") or value.givens.get("")
        live, how = _how(value, ids, number, given, expression, translator)
        named = [book.names.get(axis, {}).get(item) or item_words(item) for axis, item in zip(value.axes, ids)]
        first = place == 0
        standing, source = (given.standing, _where(given)) if given else (value.standing, cited) if first else ("", "")
        yield Row(value, ids, ", ".join(named), _told(number), live, how, standing, first, source)


def _told(number) -> float | str | None:
    if isinstance(number, str):
        return number
    return float(number) if math.isfinite(number) else None


def _how(value: Value, ids: tuple, number, given: Given | None, expression: ast.expr | None, translator: Translator) -> tuple[str, str]:
    """The formula that runs, and what stands there in words."""
    if given or value.origin in ("given", "default", "constant"):
        return "", "given" if given else "default" if value.origin == "given" else value.origin
    if not isinstance(number, str) and not math.isfinite(number):
        return "", value.shown(number, unit=False)
    if expression is None:
        return "", BY_STEPS
    try:
        return translator.formula(expression, dict(zip(value.axes, ids))), "formula"
    except Refused as why:
        return "", f"number: {why}"


def _where(given: Given) -> str:
    return f"{given.file}:{given.line}{f' – {given.note}' if given.note else ''}"
