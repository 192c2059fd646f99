"""Project text to a Project: every key with file and line, items, decisions and remarks; all faults gathered.

Reads the YAML of one folder with PyYAML's composer. Text from a project is data: it is never run. What keys exist comes
from the Terms and from the tables of fields in `schema`.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path

from basis.language import units
from basis.language.faults import Fault, Faults, find_command, nearest_name, show_command
from basis.language.terms import Term, listed, lists_by_key, terms
from basis.reading import schema
from basis.reading.equipment import Shelf
from basis.reading.folder import Folder, project_files
from basis.reading.gathered import Reading, Scope
from basis.reading.givens import Given, read_given
from basis.reading.register import REGISTERS, Question, Requirement, read_entry
from basis.reading.schema import SAID, one_line, read_fields
from basis.reading.trial import Trial, read_trial
from basis.reading.yaml_nodes import Node, read_nodes

PROJECT_FIELDS = schema.PROJECT.by_key


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
    chapter_places: dict = field(default_factory=dict)  # chapter id -> file and line
    item_places: dict = field(default_factory=dict)  # (axis, item) -> file and line where it is first listed
    requirements: tuple[Requirement, ...] = ()
    questions: tuple[Question, ...] = ()
    trials: tuple[Trial, ...] = ()
    sheets: tuple[Path, ...] = ()  # files of the data sheets that it uses


def read(folder) -> Project:
    """Read the folder of one project. Raises Faults with everything that is wrong in it; what only follows from it is left out."""
    path = Path(folder)
    folder = Folder(path, path.as_posix())
    reading = Reading(folder, Shelf(folder))
    files = project_files(reading.folder, reading.faults)
    for file in files:
        root = read_nodes(file, reading.folder.show(file.name), reading.faults)
        if root is None:
            reading.unread = True
        else:
            _read_top(reading, root)
    _read_sheets(reading)
    if not reading.unread:
        _resolve_references(reading)
        _check_currencies(reading)
    _check_decisions(reading)
    if reading.faults:
        raise Faults(reading.faults)
    plain, whole, slug = reading.plain, reading.whole, reading.folder.slug
    return Project(slug, reading.folder.shown, plain.get("name", slug), plain.get("invented", False), tuple(plain.get("chapters", ())), whole.givens,
                   {axis: in_order(lists) for axis, lists in whole.items.items()}, _names(reading), reading.remarks, tuple(reading.decisions),
                   tuple(file.name for file in files), plain.get("chapters", {}), reading.item_places,
                   trials=tuple(reading.trials), sheets=tuple(sheet.path for sheet in reading.shelf.read),
                   **{name: tuple(entries) for name, entries in reading.registers.items()})


def _names(reading: Reading) -> dict:
    """Axis -> id -> name: as given, or the words of the id; an option names its own items only."""
    found: dict = {}
    for scope in (reading.whole, *reading.options):
        for axis, names in scope.names.items():
            for item, name in names.items():
                found.setdefault(axis, {}).setdefault(item, name)
        for axis, lists in scope.items.items():
            for item in in_order(lists):
                found.setdefault(axis, {}).setdefault(item, item.replace("_", " "))
    return found


def _read_top(reading: Reading, root: Node) -> None:
    for key, node in read_fields(schema.PROJECT, root, reading.faults).items():
        if key not in PROJECT_FIELDS:
            _read_key(reading, key, node, reading.whole)
        elif PROJECT_FIELDS[key].gathered or reading.once(reading.whole, key, node, f"'{key}'"):
            _read_project_key(reading, key, node)


def _read_key(reading: Reading, key: str, node: Node, scope: Scope) -> None:
    """A list of items, or a term, of the project or of an option."""
    if key in lists_by_key():
        _read_items(reading, lists_by_key()[key].axis, node, scope)
    else:
        _read_term(reading, key, node, scope)


def _read_project_key(reading: Reading, key: str, node: Node) -> None:
    if key == "remarks":
        for check_id, remark in node.data:
            right = schema.is_right(schema.REMARK, f"'{check_id}'", remark, reading.faults)
            if reading.once(reading.whole, ("remark", check_id), remark, f"a remark on '{check_id}'") and right:
                reading.remarks[check_id] = (remark.data, remark.file, remark.line)
    elif key == "use":
        _note_use(reading, reading.whole, node)
    elif key == "decisions":
        for entry in node.data:
            _read_decision(reading, entry)
    elif key in REGISTERS:
        _read_register(reading, key, node)
    elif key == "trials":
        _read_trials(reading, node)
    elif key == "chapters":
        _read_chapters(reading, node)
    elif PROJECT_FIELDS[key].kind == "yes or no":
        reading.plain[key] = SAID[one_line(node).lower()]
    else:
        reading.plain[key] = one_line(node)


def _read_register(reading: Reading, name: str, node: Node) -> None:
    for one in node.data:
        entry = read_entry(REGISTERS[name], one, reading.faults)
        if entry is not None and reading.once(reading.whole, (name, entry.id), one, f"{REGISTERS[name].table.entry} '{entry.id}'"):
            reading.registers[name].append(entry)


def _read_trials(reading: Reading, node: Node) -> None:
    for one in node.data:
        trial = read_trial(one, reading.folder, reading.faults)
        if trial is not None and reading.once(reading.whole, ("trial", trial.input), one, f"a trial of '{trial.input}'"):
            reading.trials.append(trial)


def _read_chapters(reading: Reading, node: Node) -> None:
    if not node.data:
        node.fault(reading.faults, "no chapter is listed", "ids of chapters; without the key the book has all")
    named: dict = {}
    for entry in node.data:
        if (chapter := entry.text(reading.faults)) in named and chapter is not None:
            entry.fault(reading.faults, f"chapter '{chapter}' stands twice", "one place", f"line {named[chapter][1]}")
        named.setdefault(chapter, (entry.file, entry.line))
    reading.plain["chapters"] = named


def _read_items(reading: Reading, axis: str, node: Node, scope: Scope) -> None:
    found: dict[str, int] = {}
    scope.items.setdefault(axis, [])
    if not node.is_a("sequence", reading.faults):
        reading.unread = True
        return
    table = schema.ITEM.called(f"an item of {listed(axis).key}")
    for entry in node.data:
        parts = read_fields(table, entry, reading.faults)
        item = parts.pop("id").data if "id" in parts else None
        if item is None:
            reading.unread = True
        elif item in found:
            reading.unread = True
            entry.fault(reading.faults, f"id '{item}' of {listed(axis).key} stands twice in this file", "one item an id", f"line {found[item]}")
        else:
            found[item] = entry.line
            reading.item_places.setdefault((axis, item), (entry.file, entry.line))
            _read_item(reading, axis, item, parts, scope)
    scope.items[axis].append(list(found))


def _read_item(reading: Reading, axis: str, item: str, parts: dict, scope: Scope) -> None:
    if used := parts.pop("use", None):
        _note_use(reading, scope, used, axis, item)
    named = parts.pop("name", None)
    if named and not reading.overrides(scope, ("name", axis, item), named) and reading.once(scope, ("name", axis, item), named, f"the name of '{item}'"):
        scope.names.setdefault(axis, {})[item] = one_line(named)
    for key, value in parts.items():
        _read_term(reading, key, value, scope, axis, item)


def in_order(lists: list[list[str]]) -> tuple[str, ...]:
    """Items of one axis that several files describe, in the order of the file that lists most of them; the others follow."""
    longest = max(lists, key=len, default=[])
    return tuple(dict.fromkeys([*longest, *(item for other in lists for item in other)]))


def _read_term(reading: Reading, key: str, node: Node, scope: Scope, axis: str = "", item: str = "") -> None:
    term = _terms_of(reading, axis).get(key)
    if term is None:
        node.fault(reading.faults, *_out_of_place(reading, key, axis, scope))
    elif term.constant:
        node.fault(reading.faults, f"'{key}' is a constant of the book", "no value here")
    elif reading.overrides(scope, (key, item), node):
        beneath, given = _given(reading, term, node, item), scope.givens.get((key, item))
        if given is not None:
            scope.givens[(key, item)] = replace(given, over=beneath)
    elif reading.once(scope, (key, item), node, f"'{key}'"):
        given = _given(reading, term, node, item)
        if given is not None:
            scope.givens[(key, item)] = given


def _given(reading: Reading, term: Term, node: Node, item: str) -> Given | None:
    """What is given there; from a data sheet with the document that the sheet was typed from."""
    given, sheet = read_given(term, node, item, reading.folder, reading.faults), reading.shelf.of(node)
    return replace(given, source=sheet.source) if given and sheet and not given.source else given


def _note_use(reading: Reading, scope: Scope, node: Node, axis: str = "", item: str = "") -> None:
    if reading.shelf.of(node):
        node.fault(reading.faults, "'use' in a data sheet", "the values themselves")
    else:
        reading.uses += [(scope, axis, item, entry) for entry in node.data]


def _read_sheets(reading: Reading) -> None:
    """What the data sheets say, once all is read that the project itself says."""
    for scope, axis, item, entry in reading.uses:
        sheet = reading.shelf.sheet(entry, reading.faults)
        if sheet is None:
            reading.unread = True
            continue
        own = _terms_of(reading, axis)
        for key, node in sheet.keys.items():
            if key in own:
                _read_term(reading, key, node, scope, axis, item)
            elif key in lists_by_key() and not axis:
                _read_items(reading, lists_by_key()[key].axis, node, scope)


def _out_of_place(reading: Reading, key: str, axis: str, scope: Scope) -> tuple[str, ...]:
    """What is wrong with a key that may not stand here, what was expected, the nearest that may, and the command that leads on."""
    here = f"an item of {listed(axis).key}" if axis else "an option" if scope.option else "the project as a whole"
    if key in PROJECT_FIELDS or key in lists_by_key():
        return f"'{key}' cannot stand in {here}", "the beginning of a line in a file of the project", ""
    term = terms().get(key)
    if term is None:
        known = [*_terms_of(reading, axis), *(() if axis else lists_by_key()), *(() if axis or scope.option else PROJECT_FIELDS)]
        expected = f"a term of {listed(axis).key}" if axis else "a term or a list of items"
        return f"unknown key '{key}'", expected, nearest_name(key, known), find_command(key)
    if len(term.own_axes) == 1 and len(term.axes) <= 2:
        return f"'{key}' cannot stand in {here}", f"an item of {listed(term.own_axes[0]).key}", "", show_command(key)
    expected = "no value here: the book computes it" if term.own_axes else "the project as a whole, not an item"
    return f"'{key}' cannot stand in {here}", expected, "", show_command(key)


def _terms_of(reading: Reading, axis: str) -> dict[str, Term]:
    """Terms that may be given as plain keys (no axis) or as keys of an item of `axis`; listed once a reading."""
    if not reading.allowed:
        for term in terms().values():
            if len(term.own_axes) < 2 and len(term.axes) <= len(term.own_axes) + 1:
                reading.allowed.setdefault("".join(term.own_axes), {})[term.id] = term
    return reading.allowed.get(axis, {})


def _read_decision(reading: Reading, node: Node) -> None:
    parts = read_fields(schema.DECISION, node, reading.faults)
    listed_options = parts["options"].data if "options" in parts else ()
    options = tuple(option for entry in listed_options if (option := _read_option(reading, entry, node.line)))
    if not schema.whole(schema.DECISION, parts):
        return
    decision, chosen = parts["id"].data, parts["chosen"].data
    named = [_id_text(entry) for entry in parts["options"].data]
    if None not in named and chosen not in named:
        parts["chosen"].fault(reading.faults, f"chosen option '{chosen}' is not among the options", ", ".join(named) or "options", nearest_name(chosen, named))
    if reading.once(reading.whole, ("decision", decision), parts["id"], f"decision '{decision}'"):
        reading.decisions.append(Decision(decision, _name_of(parts), chosen, parts["reason"].data, options, node.file, node.line))


def _name_of(parts: dict[str, Node]) -> str:
    """The name as written, or the id in words."""
    return parts["name"].data if "name" in parts else parts["id"].data.replace("_", " ")


def _id_text(entry: Node) -> str | None:
    """The id of an option as written, whatever else is wrong with it."""
    node = dict(entry.data).get("id") if entry.kind == "mapping" else None
    return node.data if node is not None and node.kind == "scalar" else None


def _read_option(reading: Reading, node: Node, decision: int) -> Option | None:
    """An option of the decision that begins at a line of the same file."""
    parts = read_fields(schema.OPTION, node, reading.faults)
    scope = Scope(option=True)
    overlay = read_fields(schema.OVERLAY, parts["with"], reading.faults) if "with" in parts else {}
    if used := overlay.pop("use", None):
        _note_use(reading, scope, used)
    for key, value in overlay.items():
        _read_key(reading, key, value, scope)
    if not schema.whole(schema.OPTION, parts):
        return None
    option = parts["id"].data
    if not reading.once(reading.whole, ("option", node.file, decision, option), parts["id"], f"option '{option}'"):
        return None
    reading.options.append(scope)
    gives_up = parts["gives_up"].data if "gives_up" in parts else ""
    return Option(option, _name_of(parts), gives_up, scope.givens, {axis: in_order(lists) for axis, lists in scope.items.items()}, node.file, node.line)


def _check_decisions(reading: Reading) -> None:
    """No key may be set by the chosen option of one decision and an option of another: what the book holds would hang on their order."""
    chosen = {key: (decision, given) for decision in reading.decisions for option in decision.options if option.id == decision.chosen
              for key, given in option.givens.items()}
    for decision in reading.decisions:
        for key, given in ((key, given) for option in decision.options for key, given in option.givens.items() if key in chosen):
            other, first = chosen[key]
            if other is not decision:
                reading.faults.append(Fault(given.file, given.line, f"{given.named} is set by decision '{decision.id}' and by what is chosen in '{other.id}'",
                                            "one decision for a key", f"{first.file}:{first.line}"))


def _scopes(reading: Reading) -> list[tuple[dict, dict]]:
    """Givens, and items beside those of the project: of the project itself and of every option."""
    return [(reading.whole.givens, {})] + [(option.givens, option.items) for decision in reading.decisions for option in decision.options]


def _resolve_references(reading: Reading) -> None:
    for givens, extra in _scopes(reading):
        for (term_id, _), given in givens.items():
            term = terms()[term_id]
            if term.unit != "reference":
                continue
            known = [*in_order(reading.whole.items.get(term.refers_to, [])), *extra.get(term.refers_to, ())]
            if given.data not in known:
                reading.faults.append(Fault(given.file, given.line, f"'{term_id}' refers to '{given.data}', which is not there",
                                            f"an id of {listed(term.refers_to).key}", nearest_name(given.data, known)))


def _check_currencies(reading: Reading) -> None:
    """Every price is in the one currency that the project names; where it names none, that is told once, at the first price."""
    unnamed = []
    for givens, _ in _scopes(reading):
        named = givens.get(("currency", "")) or reading.whole.givens.get(("currency", ""))
        prices = [given for given in givens.values() if "cur" in terms()[given.term].unit]
        if named:
            reading.faults += [fault for given in prices if (fault := _other_currency(given, named.data))]
        elif ("currency", "") not in reading.whole.places:
            unnamed += prices
    if unnamed:
        first = min(unnamed, key=lambda given: (given.file, given.line))
        used = units.currency_in(first.written)
        reading.faults.append(Fault(first.file, first.line, f"{first.named} is a price, and the project names no currency",
                                    f"the key currency, such as `currency: {used if used in units.CURRENCIES else 'EUR'}`"))


def _other_currency(given: Given, currency: str) -> Fault | None:
    """The fault of a price in another currency than that of the project, or in the name that this program has for any currency."""
    used = units.currency_in(given.written)
    if used in (currency, ""):
        return None
    if used in units.CURRENCIES:
        return Fault(given.file, given.line, f"{given.named} is in {used}", f"the project's currency, {currency}")
    return Fault(given.file, given.line, f"{given.named} is {given.written}, which names no currency", f"write {given.written.replace(used, currency)}")
