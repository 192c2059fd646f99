"""One input as a person wrote it: from the node of a key and its Term to a Given in SI, or faults at its line."""

from __future__ import annotations

from dataclasses import dataclass
from math import nan

from basis.language import units
from basis.language.days import is_day
from basis.language.faults import Faults, nearest_name, show_command
from basis.language.table import families
from basis.language.terms import Term, listed
from basis.language.words import item_words
from basis.physics.weather import read_hourly
from basis.reading.folder import Folder
from basis.reading.schema import HOURLY, STANDINGS, VALUE, read_fields
from basis.reading.yaml_nodes import Node

DAY_WANTED = "a day such as 2026-11-20: year, month, day"
NOT_GIVEN = "not given"  # in a list of numbers: this one is not there, as makers' sheets have it


@dataclass(frozen=True)
class Given:
    """An input as a person wrote it: SI value (or text), the words and unit as written, file, line, note, standing.

    `element` is the id of the item that it belongs to; "" for a plain term. A term over bands holds a tuple, with NaN for what is not given there;
    what stands in for it is an assumption that somebody still has to confirm.
    """

    term: str
    element: str
    data: object
    written: str
    file: str
    line: int
    note: str = ""
    standing: str = "stated"
    source: str = ""
    spread: float | tuple = 0.0  # plus or minus, in SI, for each number of a list where it is a share of it; nought when none is stated
    over: Given | None = None  # what a data sheet that is used here says instead

    @property
    def whole(self) -> bool:
        """Whether every number of a list is given."""
        return _whole(self.data)

    @property
    def instead(self) -> str:
        """What a data sheet says where the project says otherwise, in words; empty where none does."""
        return f"in place of {self.over.written} of {self.over.file}:{self.over.line}" if self.over else ""

    @property
    def named(self) -> str:
        """Its key and item in a sentence."""
        return f"'{self.term}' of '{self.element}'" if self.element else f"'{self.term}'"


def _whole(data) -> bool:
    return not isinstance(data, tuple) or all(one == one for one in data)


def read_given(term: Term, node: Node, item: str, folder: Folder, faults: list) -> Given | None:
    """The Given of a key, or None after adding what is wrong with it."""
    table, main = (HOURLY, "file") if term.fixed_axis == "hour" else (VALUE, "value")
    parts = {main: node} if node.kind != "mapping" else read_fields(table.called(f"'{term.id}'"), node, faults)
    if main not in parts or _is_blank(term, parts[main], faults):
        return None
    texts = {key: part.data for key, part in parts.items() if key != main}
    standing, unit = texts.get("standing", "stated"), parts.get("unit")
    found = _hourly(term, parts[main], folder, faults) if main == "file" else _listed(term, parts[main], unit, faults) if term.fixed_axis \
        else _single(term, parts[main], unit, faults)
    if found is None:
        return None
    data, written = found
    spread = _spread(term, parts["plus_minus"], data, written, faults) if "plus_minus" in parts else 0.0
    note = texts.get("note", "")
    if term.lacking and not _whole(data):
        standing, note = "assumed", "; ".join(filter(None, (note, f"where a number is not given, {term.lacking}")))
    return Given(term.id, item, data, written, node.file, node.line, note, STANDINGS[standing], texts.get("source", ""), spread)


def _hourly(term: Term, node: Node, folder: Folder, faults: list):
    """Hourly air temperature of a year from a weather file inside the project folder, and the name of the file."""
    name = node.text(faults)
    if name is None:
        return None
    path, trouble = folder.file(name)
    if path is None:
        node.fault(faults, f"file '{name}' of '{term.id}' {trouble}", "a weather file, EPW or TMY3, in the project folder", folder.nearest(name))
        return None
    try:
        return read_hourly(path, folder.show(name)), name
    except Faults as found:
        faults += found.faults
    return None


def _listed(term: Term, node: Node, unit: Node | None, faults: list):
    """Numbers along an axis of the book, and as written."""
    items = listed(term.fixed_axis).fixed
    if not node.is_a("sequence", faults):
        return None
    if len(node.data) != len(items):
        node.fault(faults, f"'{term.id}' has {len(node.data) or 'no'} number{'' if len(node.data) == 1 else 's'}",
                   f"{len(items)}, for the {item_words(listed(term.fixed_axis).key)} {item_words(items[0])} to {item_words(items[-1])}")
        return None
    found = [(nan, NOT_GIVEN) if _lacks(term, entry) else _single(term, entry, unit, faults) for entry in node.data]
    if None in found:
        return None
    if all(written == NOT_GIVEN for _, written in found):
        node.fault(faults, f"'{term.id}' has no number", "at least one number; without any, leave the key out")
        return None
    return tuple(data for data, _ in found), ", ".join(written for _, written in found)


def _lacks(term: Term, entry: Node) -> bool:
    """Whether an entry says that this number is not given, of a term that allows it."""
    return bool(term.lacking or term.absent) and entry.kind == "scalar" and entry.data.strip() == NOT_GIVEN


def _is_blank(term: Term, node: Node, faults: list) -> bool:
    """Whether nothing stands behind the key, or in an entry of a list, which is a fault."""
    blank = node.kind == "scalar" and not node.data.strip()
    if blank:
        otherwise = "" if term.required else "; where the plant has none, leave the key out"
        node.fault(faults, f"'{term.id}' has no value", f"{wanted(term)}{otherwise}", "", show_command(term.id))
    return blank


def _single(term: Term, node: Node, unit: Node | None, faults: list):
    """SI number or word, and as written."""
    text = node.text(faults)
    if text is None or _is_blank(term, node, faults):
        return None
    return _word(term, node, text, unit, faults) if term.is_text else _number(term, node, text, unit, faults)


def wanted(term: Term) -> str:
    """What a value of the term looks like, for somebody who has to write one."""
    if term.is_text or term.unit == "reference" or term.fixed_axis == "hour":
        return word_wanted(term)
    if term.kind == "date":
        return DAY_WANTED
    return "a plain number" if term.si_unit == "1" else f"a number with a unit such as {term.si_unit.replace('cur', 'EUR')}"


def word_wanted(term: Term) -> str:
    """The same for a term that is no number."""
    if term.unit == "reference":
        return f"the id of one of {listed(term.refers_to).key}"
    if term.fixed_axis == "hour":
        return "the name of a weather file in this folder, EPW or TMY3"
    choices = families().get(term.table, ()) if term.table else term.choices
    return "one of " + ", ".join(choices) if choices else "a text"


def _number(term: Term, node: Node, text: str, unit: Node | None, faults: list):
    unit_text = unit.data if unit else ""
    if term.kind == "date" and not is_day(text.strip()):
        node.fault(faults, f"'{term.id}': '{text}' is no day", DAY_WANTED)
        return None
    try:
        number, inline = units.split_number(text)
        if inline and unit:
            unit.fault(faults, f"'{term.id}' has two units, {inline} and {unit_text}", "one of them")
            return None
        value = units.to_si(number, unit_text or inline, term.unit, term.kind_asked)
    except units.OtherUnit as trouble:
        node.fault(faults, f"'{term.id}': {trouble.what}", *_units_of(term, trouble))
        return None
    except units.UnitError as trouble:
        node.fault(faults, f"'{term.id}': {trouble.what}", trouble.expected, trouble.nearest)
        return None
    written = f"{text} {unit_text}".strip()
    if term.outside(value):
        node.fault(faults, f"'{term.id}' is {written}, outside its physical range", term.range_text, "", show_command(term.id))
        return None
    return value, written


def _units_of(term: Term, trouble: units.UnitError) -> tuple[str, str]:
    """In which units a quantity is written, and the nearest name among those that mean the same; what is merely spelt alike may be another unit."""
    asked = [one for one in term.shown if not one.startswith(("cur", "date"))]
    fits = trouble.nearest if trouble.nearest.lower() in trouble.what.lower() and trouble.nearest in units.names_for(term.unit, term.kind_asked) else ""
    return (f"a unit such as {' or '.join(asked)}" if asked else trouble.expected), fits


def _word(term: Term, node: Node, text: str, unit: Node | None, faults: list):
    choices = families().get(term.table, ()) if term.table else term.choices
    if unit:
        unit.fault(faults, f"'{term.id}' is a word and has the unit {unit.data}", "no unit")
    elif term.unit == "choice" and text not in choices:
        node.fault(faults, f"'{term.id}' is '{text}'", "one of " + ", ".join(choices), nearest_name(text, choices))
    else:
        return text, text
    return None


def _spread(term: Term, node: Node, data, written: str, faults: list):
    """The plus or minus in SI: a quantity of the Term's unit (a difference for a temperature), or a per cent of the value."""
    kind = units.SCALES.get(term.kind, term.kind_asked)
    if term.is_text or term.whole:
        node.fault(faults, f"'{term.id}' has a plus_minus", f"none: the value is a {'word' if term.is_text else 'count'}")
        return 0.0
    try:
        number, unit = units.split_number(node.data)
        if unit == "%" and "%" not in term.shown and term.kind not in ("level", *units.SCALES):
            spread = tuple(number / 100 * abs(one) for one in data) if isinstance(data, tuple) else number / 100 * abs(data)
        else:
            spread = units.to_si(number, unit, term.unit, kind)
    except units.UnitError as trouble:
        node.fault(faults, f"plus_minus of '{term.id}': {trouble.what}", trouble.expected, trouble.nearest)
        return 0.0
    if (used := units.currency_in(node.data)) not in (units.currency_in(written), ""):
        node.fault(faults, f"plus_minus of '{term.id}' is in {used}", f"a plus or minus of {written}")
    if number < 0:
        node.fault(faults, f"plus_minus of '{term.id}' is {node.data}", "a number that is not negative")
    if None not in (term.low, term.high) and max(spread if isinstance(spread, tuple) else (spread,)) > term.high - term.low:
        node.fault(faults, f"plus_minus of '{term.id}' is {node.data}, wider than its physical range", term.range_text)
    return spread
