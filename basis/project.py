"""Project text to Givens: every key with file, line, unit as written, note and standing; all faults gathered.

Reads the YAML of one folder with PyYAML's composer. Text from a project is data: it is never run. What keys exist comes
from the Terms. May import faults, units, terms, table and weather.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from basis import units
from basis.faults import Fault, Faults, nearest_name
from basis.table import families
from basis.terms import AXES, FIXED_ITEMS, Term, terms
from basis.weather import read_hourly
from basis.words import item_words
from basis.yaml_nodes import Node, read_nodes

STANDINGS = {"stated": "stated", "assumed": "assumed – confirm", "measured": "measured"}
GIVEN_KEYS = ("value", "unit", "note", "standing", "source", "plus_minus")
FILE_KEYS = ("file", "note", "standing", "source")  # of a term over the hours of a year
PROJECT_KEYS = ("name", "chapters", "invented", "remarks", "decisions")


@dataclass(frozen=True)
class Given:
    """An input as a person wrote it: SI value (or text), the words and unit as written, file, line, note, standing.

    `element` is the id of the item that it belongs to; "" for a plain term. A term over bands holds a tuple.
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
    spread: float = 0.0  # plus or minus, in SI; nought when none is stated


@dataclass(frozen=True)
class Option:
    """A named overlay of inputs within a decision."""

    id: str
    name: str
    gives_up: str
    givens: dict
    items: dict
    file: str
    line: int


@dataclass(frozen=True)
class Decision:
    """A question with options, the one chosen, and the project's reason."""

    id: str
    name: str
    chosen: str
    reason: str
    options: tuple[Option, ...]
    file: str
    line: int


@dataclass(frozen=True)
class Project:
    """All that the text of one project says. `givens` by (term id, element id); `items` and `names` by axis."""

    slug: str
    folder: str
    name: str
    invented: bool
    chapters: tuple[str, ...]
    givens: dict
    items: dict
    names: dict
    remarks: dict
    decisions: tuple[Decision, ...]
    files: tuple[str, ...]


@dataclass
class _Reading:
    """What has been gathered so far while one folder is read."""

    folder: Path
    shown_folder: str
    faults: list = field(default_factory=list)
    givens: dict = field(default_factory=dict)
    items: dict = field(default_factory=dict)  # axis -> one list of ids for each file that has them
    names: dict = field(default_factory=dict)
    item_places: dict = field(default_factory=dict)
    remarks: dict = field(default_factory=dict)
    decisions: list = field(default_factory=list)
    plain: dict = field(default_factory=dict)
    allowed: dict = field(default_factory=dict)  # axis -> terms that may be given there

    def fault(self, node: Node, what: str, expected: str = "", nearest: str = "") -> None:
        self.faults.append(Fault(node.file, node.line, what, expected, nearest))


def read(folder) -> Project:
    """Read the folder of one project. Raises Faults with everything that is wrong in it."""
    folder = Path(folder)
    reading = _Reading(folder, folder.as_posix())
    files = _project_files(reading)
    for path in files:
        root = read_nodes(path, f"{reading.shown_folder}/{path.name}", reading.faults)
        if root is not None:
            _read_top(reading, root)
    _resolve_references(reading)
    _check_currencies(reading)
    if reading.faults:
        raise Faults(reading.faults)
    plain = reading.plain
    return Project(folder.name, reading.shown_folder, plain.get("name", folder.name), plain.get("invented", "") in ("true", "yes"),
                   tuple(plain.get("chapters", ())), reading.givens, {axis: in_order(lists) for axis, lists in reading.items.items()},
                   reading.names, reading.remarks, tuple(reading.decisions), tuple(path.name for path in files))


def _project_files(reading: _Reading) -> list[Path]:
    folder = reading.folder
    if not folder.is_dir():
        raise Faults([Fault(reading.shown_folder, 0, "no such project folder", "a folder with *.yaml files")])
    root, paths = folder.resolve(), []
    for path in sorted(folder.iterdir()):
        shown = f"{reading.shown_folder}/{path.name}"
        if path.suffix == ".yml":
            reading.faults.append(Fault(shown, 0, "is not read", "the ending .yaml", f"{path.stem}.yaml"))
        if path.suffix != ".yaml":
            continue
        if not path.resolve().is_relative_to(root):
            reading.faults.append(Fault(shown, 0, "is a link that leaves the project folder", "a file inside the folder"))
        elif path.is_file():
            paths.append(path)
    if not paths and not reading.faults:
        raise Faults([Fault(reading.shown_folder, 0, "holds no *.yaml file", "at least project.yaml")])
    return paths


def _read_top(reading: _Reading, root: Node) -> None:
    lists = {list_key: axis for axis, list_key in AXES.items() if axis not in FIXED_ITEMS}
    for key, node in root.pairs:
        if key in PROJECT_KEYS:
            _read_project_key(reading, key, node)
        elif key in lists:
            _read_items(reading, lists[key], node, reading.givens, reading.items)
        else:
            _read_term(reading, key, node, reading.givens, axis="")


def _read_project_key(reading: _Reading, key: str, node: Node) -> None:
    if key == "remarks":
        for check_id, remark in node.mapping(reading.faults):
            reading.remarks[check_id] = (remark.text(reading.faults), remark.file, remark.line)
    elif key == "decisions":
        for entry in node.sequence(reading.faults):
            _read_decision(reading, entry)
    elif key == "chapters":
        reading.plain[key] = [entry.text(reading.faults) for entry in node.sequence(reading.faults)]
        reading.plain["chapters_node"] = node
    else:
        reading.plain[key] = node.text(reading.faults)


def _read_items(reading: _Reading, axis: str, node: Node, givens: dict, items: dict, overlay: bool = False) -> None:
    seen: dict[str, int] = {}
    listed: list[str] = []
    items.setdefault(axis, []).append(listed)
    for entry in node.sequence(reading.faults):
        pairs = dict(entry.mapping(reading.faults))
        if "id" not in pairs:
            reading.fault(entry, f"an item of {AXES[axis]} without id", "an id such as `id: north_1`")
            continue
        item = pairs.pop("id").text(reading.faults)
        if not item.replace("_", "").isalnum() or item != item.lower():
            reading.fault(entry, f"id '{item}' of {AXES[axis]}", "small letters, digits and _", item.lower().replace("-", "_").replace(" ", "_"))
        if item in seen:
            reading.fault(entry, f"id '{item}' of {AXES[axis]} stands twice in this file", "one item an id", f"line {seen[item]}")
        seen[item] = entry.line
        if item not in listed:
            listed.append(item)
        names = reading.names.setdefault(axis, {})
        if "name" in pairs:
            names[item] = pairs.pop("name").text(reading.faults)
        names.setdefault(item, item.replace("_", " "))
        for key, value in pairs.items():
            _read_term(reading, key, value, givens, axis, item, overlay)


def in_order(lists: list[list[str]]) -> tuple[str, ...]:
    """Items of one axis that several files describe, in the order of the file that lists most of them; the others follow."""
    longest = max(lists, key=len, default=[])
    return tuple(dict.fromkeys([*longest, *(item for listed in lists for item in listed)]))


def _read_term(reading: _Reading, key: str, node: Node, givens: dict, axis: str, item: str = "", overlay: bool = False) -> None:
    allowed = _terms_of(reading, axis)
    term = allowed.get(key)
    if term is None:
        known = [*allowed, *(PROJECT_KEYS + tuple(AXES.values()) if not axis else ())]
        where = f"a term of {AXES[axis]}" if axis else "a term or a list of items"
        reading.fault(node, f"unknown key '{key}'", where, nearest_name(key, known))
        return
    if term.constant:
        reading.fault(node, f"'{key}' is a constant of the book", "no value here")
        return
    if (key, item) in givens:
        first = givens[(key, item)]
        reading.fault(node, f"'{key}' is given twice", "one place", f"{first.file}:{first.line}")
    given = _given(reading, term, node, item)
    if given is not None:
        givens[(key, item)] = given


def _terms_of(reading: _Reading, axis: str) -> dict[str, Term]:
    """Terms that may be given as plain keys (no axis) or as keys of an item of `axis`; listed once a reading."""
    if axis not in reading.allowed:
        own = (axis,) if axis else ()
        reading.allowed[axis] = {term.id: term for term in terms().values() if term.own_axes == own and len(term.axes) <= len(own) + 1}
    return reading.allowed[axis]


def _given(reading: _Reading, term: Term, node: Node, item: str) -> Given | None:
    facts, keys = {}, FILE_KEYS if term.fixed_axis == "hour" else GIVEN_KEYS
    if node.kind == "mapping":
        pairs = dict(node.mapping(reading.faults))
        for key in pairs:
            if key not in keys:
                reading.fault(pairs[key], f"unknown key '{key}' of a given", ", ".join(keys), nearest_name(key, keys))
        facts = {key: pairs[key].text(reading.faults) for key in ("note", "standing", "source", "unit", "plus_minus") if key in pairs}
        if keys[0] not in pairs:
            reading.fault(node, f"'{term.id}' has no {keys[0]}", "value: and, if it is a quantity, a unit" if keys is GIVEN_KEYS
                          else "file: name of a weather file")
            return None
        place, node = node, pairs[keys[0]]
    else:
        place = node
    standing = facts.get("standing", "stated")
    if standing not in STANDINGS:
        reading.fault(place, f"unknown standing '{standing}'", ", ".join(STANDINGS), nearest_name(standing, STANDINGS))
    read_value = _hourly_data if term.fixed_axis == "hour" else _list_data if term.fixed_axis else _data
    found = read_value(reading, term, node, facts.get("unit", ""))
    if found is None:
        return None
    data, written = found
    spread = _spread(reading, term, place, facts["plus_minus"], data) if facts.get("plus_minus") else 0.0
    return Given(term.id, item, data, written, place.file, place.line, facts.get("note", ""), STANDINGS.get(standing, standing), facts.get("source", ""),
                 spread)


def _spread(reading: _Reading, term: Term, node: Node, text: str, data) -> float:
    """The plus or minus in SI: a quantity of the Term's unit (a difference for a temperature), or a per cent of the value."""
    kind = "temperature difference" if term.kind == "temperature" else term.kind
    try:
        number, unit = units.split_number(text)
        relative = unit == "%" and term.dimension != units.DIMENSIONLESS
        spread = number / 100 * abs(data) if relative else units.to_si(number, unit, term.unit, kind)
    except units.UnitError as trouble:
        reading.fault(node, f"plus_minus of '{term.id}': {trouble.what}", trouble.expected, trouble.nearest)
        return 0.0
    if term.is_text or spread < 0:
        reading.fault(node, f"plus_minus of '{term.id}' is {text}", "a number that is not negative" if spread < 0 else "none: the value is a text")
    return spread


def _hourly_data(reading: _Reading, term: Term, node: Node, _unit: str):
    """Hourly air temperature of a year from a weather file inside the project folder, and the name of the file."""
    name = node.text(reading.faults)
    if name is None:
        return None
    path = reading.folder / name
    if not path.resolve().is_relative_to(reading.folder.resolve()):
        reading.fault(node, f"file '{name}' of '{term.id}' lies outside the project folder", "a file inside the folder")
    elif not path.is_file():
        there = [other.name for other in reading.folder.iterdir() if other.suffix != ".yaml"]
        reading.fault(node, f"no file '{name}' for '{term.id}'", "a weather file, EPW or TMY3, in the project folder", nearest_name(name, there))
    else:
        try:
            return read_hourly(path, f"{reading.shown_folder}/{name}"), name
        except Faults as found:
            reading.faults += found.faults
    return None


def _list_data(reading: _Reading, term: Term, node: Node, unit: str):
    entries, items = node.sequence(reading.faults), FIXED_ITEMS[term.fixed_axis]
    if len(entries) != len(items):
        reading.fault(node, f"'{term.id}' has {len(entries)} {item_words(AXES[term.fixed_axis])}",
                      f"{len(items)} numbers, {item_words(items[0])} to {item_words(items[-1])}")
        return None
    found = [_data(reading, term, entry, unit) for entry in entries]
    return None if None in found else (tuple(data for data, _ in found), ", ".join(written for _, written in found))


def _data(reading: _Reading, term: Term, node: Node, unit: str):
    text = node.text(reading.faults)
    if text is None:
        return None
    if not text.strip():
        reading.fault(node, f"'{term.id}' has no value", "a text" if term.is_text else f"a number with a unit such as {term.si_unit}")
        return None
    if term.is_text:
        return _word(reading, term, node, text)
    try:
        number, inline = units.split_number(text)
        written = f"{text} {unit}".strip()
        value = units.to_si(number, unit or inline, term.unit, term.kind_asked)
    except units.UnitError as trouble:
        reading.fault(node, f"'{term.id}': {trouble.what}", trouble.expected, trouble.nearest)
        return None
    if term.outside(value):
        reading.fault(node, f"'{term.id}' is {written}, outside its physical range", term.range_text)
        return None
    return value, written


def _word(reading: _Reading, term: Term, node: Node, text: str):
    choices = families().get(term.table, ()) if term.table else term.choices
    if term.unit == "choice" and text not in choices:
        reading.fault(node, f"'{term.id}' is '{text}'", "one of " + ", ".join(choices), nearest_name(text, choices))
        return None
    return text, text


def _read_decision(reading: _Reading, node: Node) -> None:
    pairs = dict(node.mapping(reading.faults))
    for key in pairs:
        if key not in ("id", "name", "chosen", "reason", "options"):
            reading.fault(pairs[key], f"unknown key '{key}' of a decision", "id, name, chosen, reason, options",
                          nearest_name(key, ("id", "name", "chosen", "reason", "options")))
    if missing := [key for key in ("id", "chosen", "reason", "options") if key not in pairs]:
        reading.fault(node, f"a decision without {', '.join(missing)}", "id, name, chosen, reason, options")
        return
    options = tuple(option for entry in pairs["options"].sequence(reading.faults) if (option := _read_option(reading, entry)))
    chosen = pairs["chosen"].text(reading.faults)
    if chosen not in [option.id for option in options]:
        reading.fault(pairs["chosen"], f"chosen option '{chosen}' is not among the options", ", ".join(option.id for option in options),
                      nearest_name(chosen, [option.id for option in options]))
    decision_id = pairs["id"].text(reading.faults)
    name = pairs["name"].text(reading.faults) if "name" in pairs else decision_id.replace("_", " ")
    reading.decisions.append(Decision(decision_id, name, chosen, pairs["reason"].text(reading.faults), options, node.file, node.line))


def _read_option(reading: _Reading, node: Node) -> Option | None:
    pairs = dict(node.mapping(reading.faults))
    if "id" not in pairs or "with" not in pairs:
        reading.fault(node, "an option without id or with", "id, name, gives_up, with")
        return None
    for key in pairs:
        if key not in ("id", "name", "gives_up", "with"):
            reading.fault(pairs[key], f"unknown key '{key}' of an option", "id, name, gives_up, with", nearest_name(key, ("id", "name", "gives_up", "with")))
    givens: dict = {}
    items: dict = {}
    lists = {list_key: axis for axis, list_key in AXES.items() if axis not in FIXED_ITEMS}
    for key, value in pairs["with"].mapping(reading.faults):
        if key in lists:
            _read_items(reading, lists[key], value, givens, items, overlay=True)
        else:
            _read_term(reading, key, value, givens, axis="", overlay=True)
    option_id = pairs["id"].text(reading.faults)
    name = pairs["name"].text(reading.faults) if "name" in pairs else option_id.replace("_", " ")
    gives_up = pairs["gives_up"].text(reading.faults) if "gives_up" in pairs else ""
    return Option(option_id, name, gives_up, givens, {axis: in_order(lists) for axis, lists in items.items()}, node.file, node.line)


def _resolve_references(reading: _Reading) -> None:
    for givens, extra in [(reading.givens, {})] + [(option.givens, option.items) for decision in reading.decisions for option in decision.options]:
        for (term_id, _), given in givens.items():
            term = terms()[term_id]
            if term.unit != "reference":
                continue
            known = [*in_order(reading.items.get(term.refers_to, [])), *extra.get(term.refers_to, ())]
            if given.data not in known:
                reading.faults.append(Fault(given.file, given.line, f"'{term_id}' refers to '{given.data}', which is not there",
                                            f"an id of {AXES[term.refers_to]}", nearest_name(given.data, known)))


def _check_currencies(reading: _Reading) -> None:
    stated = reading.givens.get(("currency", ""))
    for given in reading.givens.values():
        used = [code for code in units.CURRENCIES if code in given.written.replace("/", " ").split()] if not terms()[given.term].is_text else []
        if used and stated and used[0] != stated.data:
            reading.faults.append(Fault(given.file, given.line, f"'{given.term}' is in {used[0]}", f"the project's currency, {stated.data}"))
