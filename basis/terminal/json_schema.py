"""A JSON Schema (draft 2020-12) of a project's files, for an editor that completes and checks them while they are written.

Made from the Terms, the lists and the tables of fields. It refuses nothing that the program takes; what hangs on other files, such as the id to which
a reference leads, the program alone can tell.
"""

from __future__ import annotations

import re

import yaml

from basis.chapters import Catalogue
from basis.language import units
from basis.language.days import DAY
from basis.language.table import families
from basis.language.terms import Term, homes, listed, lists_by_key
from basis.language.words import item_words
from basis.reading import schema
from basis.reading.givens import NOT_GIVEN
from basis.reading.schema import IDS, Field, Table

DRAFT = "https://json-schema.org/draft/2020-12/schema"
PLAIN = ["string", "number", "boolean"]  # what a word may look like to other readers of YAML: 480, yes
TOLD = "patternErrorMessage"  # what editors say in place of a pattern; other readers pass it over
NUMBER = r"[-+−]?[0-9.][0-9._\s]*([eE][-+]?[0-9]+)?(\s*[×x]\s*10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?"
COMPOUND = r"1?/.+|[A-Za-z%°µμΩ(].*[*/^·²³⁴⁻¹23].*"  # a unit of several names, or with a power: only the program can tell
SIGNS = re.compile(r"[.*+?^${}()|\[\]\\/]")  # what must be escaped in a pattern, and nothing else may be


def json_schema(catalogue: Catalogue, table: Table = schema.PROJECT) -> dict:
    """The schema of any file of a project, or of a data sheet, as plain data. The same input gives the same text."""
    made = _Made(catalogue)
    top = made.table(table)
    comments_only = {"type": ["object", "null"]}
    return {"$schema": DRAFT, "title": f"Design basis book: {table.entry}", **top, **comments_only, "$defs": dict(sorted(made.shared.items()))}


class _Made:
    """What is made once and referred to: shapes by name."""

    def __init__(self, catalogue: Catalogue):
        self.shared: dict[str, dict] = {}
        self._catalogue = catalogue
        self._ids = {"check": [check.id for group in catalogue.checks.values() for check in group], "chapter": [chapter.id for chapter in catalogue.chapters],
                     "input": [term.id for term in catalogue.inputs if not (term.axes or term.is_text or term.constant or term.kind == "date")]}
        self._inputs = catalogue.inputs

    def table(self, table: Table) -> dict:
        """An object with the table's keys, and what may stand beside them."""
        keys = {field.key: {"description": field.meaning, **self._field(field)} for field in table.fields}
        return _object({**self._more(table), **keys}, table.required)

    def _more(self, table: Table) -> dict:
        if table.more == "terms and lists":
            return {**{one.key: self._list(one.axis) for one in lists_by_key().values()}, **self._terms(())}
        if table.more == "terms and lists, of items too":
            return {**{key: term for one in lists_by_key().values() for key, term in self._terms((one.axis,)).items()}, **self._more(schema.PROJECT)}
        return {check: self._scalar(schema.REMARK) for check in self._ids["check"]} if table.more == "a text for a check" else {}

    def _field(self, field: Field) -> dict:
        if field.kind == "keys":
            return self._named(f"keys of {field.key}", lambda: self.table(field.of))
        if field.kind == "list":
            return {"type": "array", "items": self._named(f"entry of {field.key}", lambda: self.table(field.of) if field.of else self._scalar(field))}
        return self._scalar(field)

    def _scalar(self, field: Field) -> dict:
        if field.kind in IDS:
            return {"type": PLAIN, "pattern": f"^{IDS[field.kind][0].pattern}$"}
        if field.kind == "word":
            return {"enum": _written(field.words)}
        if field.kind == "yes or no":
            return {"type": PLAIN, "pattern": f"^({'|'.join(_any_case(word) for word in schema.SAID)})$"}
        return {"enum": _written(self._ids[field.names])} if field.names else {"type": PLAIN, "pattern": r"\S"}

    def _list(self, axis: str) -> dict:
        """A list of items, each with the keys of its Terms."""
        item = self.table(schema.ITEM)
        entry = self._named(f"item of {listed(axis).key}", lambda: _object({**item["properties"], **self._terms((axis,))}, item["required"]))
        return {"description": f"List: one entry for each {axis.replace('_', ' ')}.", "type": "array", "items": entry}

    def _terms(self, own: tuple) -> dict:
        """Key -> shape of each Term that is given there."""
        return {term.id: {"description": _described(term), **({"default": term.default} if term.default is not None else {}), **self._given(term)}
                for term in self._inputs if term.own_axes == own and len(term.axes) <= len(own) + 1}

    def _given(self, term: Term) -> dict:
        """The value alone, or with what is said about it."""
        if term.fixed_axis == "hour":
            return self._named("file of a year", lambda: {"anyOf": [{"type": "string"}, self.table(schema.HOURLY)]})
        return self._named(f"given {_shape_name(term)}", lambda: self._with_said(term))

    def _with_said(self, term: Term) -> dict:
        """The value alone, or under `value` beside what is said about it; the unit may then stand apart."""
        said = {field.key: self._named(f"{field.key} of a value", lambda field=field: {"description": field.meaning, **self._scalar(field)})
                for field in schema.VALUE.fields if field.kind != "value"}
        loose = self._value(term, unit_apart=not term.is_text)
        return {"anyOf": [self._value(term), _object({"value": loose, **said}, schema.VALUE.required)]}

    def _value(self, term: Term, unit_apart: bool = False) -> dict:
        one = self._named(f"{_one_name(term)}{' or number' if unit_apart else ''}", lambda: _one(term, unit_apart))
        if not term.fixed_axis:
            return one
        count = len(listed(term.fixed_axis).fixed)
        entry = {"anyOf": [one, {"const": NOT_GIVEN}]} if term.lacking or term.absent else one
        return {"type": "array", "items": entry, "minItems": count, "maxItems": count}

    def _named(self, name: str, make) -> dict:
        """A reference to a shape that is made once."""
        key = re.sub(r"[^A-Za-z0-9]+", "_", name).strip("_")
        if key not in self.shared:
            self.shared[key] = make()
        return {"$ref": f"#/$defs/{key}"}


def _object(properties: dict, required) -> dict:
    return {"type": "object", "properties": properties, "required": list(required), "additionalProperties": False}


def _described(term: Term) -> str:
    """Name and meaning, the axis along which a list runs, and the chapter."""
    along = f" One number for each: {', '.join(item_words(item) for item in listed(term.fixed_axis).fixed)}." if term.fixed_axis not in ("", "hour") else ""
    return f"{term.name}: {term.meaning}".strip(": ") + f"{along} Chapter {homes()[term.id]}."


def _one_name(term: Term) -> str:
    """What sort of value it is: the same name, the same shape."""
    if term.is_text:
        return f"{term.unit} {term.table or ' '.join(term.choices)}" if term.unit == "choice" else term.unit
    bounds = _letters(" ".join(repr(bound) for bound in term.bounds)) if _bare(term) else ""
    return f"number in {_letters(term.unit)} shown in {_letters(term.si_unit)} {term.kind_asked} {bounds}"  # an editor names the unit that is shown


def _letters(unit: str) -> str:
    return unit.replace("*", " by ").replace("/", " per ").replace("^", " to ").replace(".", " point ").replace("-", " minus ")


def _shape_name(term: Term) -> str:
    missing = " or not given" if term.fixed_axis and (term.lacking or term.absent) else ""
    return f"{_one_name(term)} {term.fixed_axis}{missing}"


def _bare(term: Term) -> bool:
    """Whether a number without unit is taken."""
    return term.unit in ("1", "dB") and term.kind_asked != "angle"


def _one(term: Term, unit_apart: bool) -> dict:
    """One value of a term: a word, or a number with one of the units that it may have."""
    if term.unit == "choice":
        return {"enum": _written(families().get(term.table, ()) if term.table else term.choices)}
    if term.is_text:
        return {"type": PLAIN, "pattern": r"\S"}
    if term.kind == "date":
        return {"type": "string", "pattern": f"^{DAY.pattern}$", TOLD: "A day such as 2026-11-20."}
    names = sorted(units.names_for(term.unit, term.kind_asked), key=lambda name: (-len(name), name))
    unit = "|".join([*(SIGNS.sub(r"\\\g<0>", name) for name in names), COMPOUND])
    text = {"type": "string", "pattern": rf"^\s*{NUMBER}\s*({unit}){'?' if unit_apart or _bare(term) else ''}\s*$",
            TOLD: "A plain number." if term.si_unit == "1" else f"A number with a unit such as {term.si_unit.replace('cur', 'EUR')}."}
    if not (_bare(term) or unit_apart):
        return text
    low, high = (None, None) if unit_apart else term.bounds
    finite = {key: bound for key, bound in (("minimum", low), ("maximum", high)) if bound is not None and abs(bound) < float("inf")}
    return {"anyOf": [{"type": "number", **finite}, text]}


def _written(words) -> list:
    """Words as readers of YAML take them: 2019 may be a number to them, yes a truth."""
    read = [yaml.safe_load(word) for word in words]
    return [*words, *(other for other, word in zip(read, words) if other != word and isinstance(other, (int, float)))]


def _any_case(word: str) -> str:
    return "".join(f"[{letter.upper()}{letter}]" for letter in word)
