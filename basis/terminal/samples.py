"""What a value of each input may look like, as a project writes it: its default, a choice, a row of a table, the sample of its Term, a figure of an
example beside a formula, or a round number within its range. A sample shows the form; it is nobody's datum.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache

from basis.chapters import catalogue
from basis.language import units
from basis.language.maths import names_in
from basis.language.notation import lookups_in
from basis.language.table import families, tables_of
from basis.language.terms import Term, listed, terms
from basis.solving.examples import examples_of
from basis.solving.hanging import words_of

FILE, DAY = "year.epw", "2026-03-31"


@dataclass(frozen=True)
class Samples:
    """Samples in the currency of a project, which name its items where it has some."""

    currency: str = "EUR"
    items: dict = field(default_factory=dict)  # axis -> ids

    def of(self, term: Term, place: int = 0) -> str:
        """A value of the Term; where it names an item of a list, the one at that place."""
        if term.id == "currency":
            return self.currency
        if term.fixed_axis == "hour":
            return FILE
        if term.sample and term.default is None:
            return self._money(term.sample.split("; ")[min(place, term.sample.count("; "))])
        return self._list(term) if term.fixed_axis else self._word(term, place) if term.is_text else self._number(term)

    def _list(self, term: Term) -> str:
        cells = [cell.strip() for cell in (term.default or _said(term) or "").split(",") if cell.strip()]
        count = len(listed(term.fixed_axis).fixed)
        cells = [cell for cell in cells if _fits(term, cell)] or [_round_number(term)]
        return f"[{', '.join(self._money(cell) for cell in (cells if len(cells) == count else cells[:1] * count))}]"

    def _word(self, term: Term, place: int) -> str:
        if term.unit == "reference":
            ids = listed(term.refers_to).fixed or tuple(self.items.get(term.refers_to, ())) or item_ids(term.refers_to)
            return ids[min(place, len(ids) - 1)]
        if term.default or term.choices or term.table:
            return term.default or words_of(term)[0]
        rows = rows_of(term)
        return rows[len(rows) // 2] if rows else f"{term.name}, in words"

    def _number(self, term: Term) -> str:
        return self._money(term.default or _said(term) or _round_number(term))

    def _money(self, text: str) -> str:
        used = units.currency_in(text)
        return text.replace(used, self.currency) if used else text


def item_ids(axis: str) -> tuple[str, str]:
    """Ids of two items, where a project has none yet."""
    return f"{axis}_1", f"{axis}_2"


def rows_of(term: Term) -> list[str]:
    """Keys of the rows among which a word is chosen, as the table prints them: of the table that is there by default, else of the first."""
    return list(_rows().get(term.id, ((), ""))[0])


def table_of_rows(term: Term) -> str:
    """Id of the table of these rows."""
    return _rows().get(term.id, ((), ""))[1]


@lru_cache(maxsize=1)
def _rows() -> dict[str, tuple[tuple[str, ...], str]]:
    """Term of a word -> the keys of the table in which formulas look it up, and which table that is."""
    found: dict[str, tuple] = {}
    for producer in catalogue().producers.values():
        for where, key in _lookups(producer):
            if key in terms() and terms()[key].unit == "text" and key not in found:
                named = terms()[where] if where in terms() else None
                ids = (where,) if named is None else (named.default,) if named.default else families().get(named.table, ())
                tables = [one for table_id in ids for one in tables_of(table_id) if one.units[one.key] == "text"]
                if tables:
                    found[key] = tuple(map(str, tables[0].keys)), tables[0].id
    return found


def _lookups(producer) -> list[tuple[str, str]]:
    """Table, or the Term that names it, and the Term with which it is entered."""
    if not hasattr(producer, "expression"):
        return [(name, key) for name, key in producer.tables if key]
    return [(getattr(where, "value", None) or where.id, name) for where, _, key in lookups_in(producer.expression) if key is not None for name in names_in(key)]


@lru_cache(maxsize=1)
def _sayings() -> dict[str, list[str]]:
    """Term -> what examples beside formulas say of it, and of a limit what they say of that which it limits."""
    found: dict[str, list[str]] = {}
    for producer in dict.fromkeys(catalogue().producers.values()):
        for example in examples_of(producer):
            for name, text in (*example.inputs.items(), *example.results.items()):
                found.setdefault(name, []).append(text)
    for check in (check for checks in catalogue().checks.values() for check in checks):
        if check.limit not in found and check.value in found:
            found[check.limit] = found[check.value]
    return found


def _said(term: Term) -> str | None:
    """The first that examples say and a project may write; of a list of numbers all of one item."""
    for text in _sayings().get(term.id, ()):
        first = text.split(";")[0].strip()
        cell = first if term.fixed_axis else first.split(",")[0].split("|")[0].strip()
        if all(_fits(term, one.strip()) for one in cell.split(",")):
            return cell
    return None


def _fits(term: Term, text: str) -> bool:
    """Whether a project may write this number for the Term."""
    try:
        number, unit = units.split_number(text)
        return not term.outside(units.to_si(number, unit, term.unit, term.kind_asked))
    except units.UnitError:
        return False


def _round_number(term: Term) -> str:
    """A number of one digit well within the range, in the unit shown; a day."""
    if term.kind == "date":
        return DAY
    low, high = (float(units.from_si(bound, term.si_unit)) if math.isfinite(bound) else bound for bound in term.bounds)
    if math.isinf(low):
        low = min(0.0, high)
    if math.isinf(high):
        high = max(10.0 * abs(low), 100.0)
    middle = math.sqrt(low * high) if low > 0 and high > 10 * low else (low + high) / 2
    number = float(f"{middle:.0e}") if abs(middle) > 1e-12 else 0.0
    number = round(number) if term.whole else number
    return f"{number:.12g} {'' if term.si_unit == '1' else term.si_unit}".strip()
