"""What a project's files may hold beside Terms and lists of items, as tables of fields: the keys of a project, an item, a decision, an option, a
requirement, a question, a value. One function reads a mapping by its table; files for a beginner, a schema for editors and the pages of help are made
from the same tables.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from basis.language.days import is_day
from basis.language.faults import nearest_name
from basis.reading.folder import SLUG
from basis.reading.yaml_nodes import Node

ITEM_ID = re.compile(r"[a-z0-9_]{1,60}")
SAID = {"yes": True, "true": True, "no": False, "false": False}
STANDINGS = {"stated": "stated", "assumed": "assumed – confirm", "measured": "measured"}  # as written -> as shown
MOST_STEPS = 9  # of a trial: the book is solved once for each
OPEN, ANSWERED, WITHDRAWN = STATES = ("open", "answered", "withdrawn")  # of a question

STANDING_MEANINGS = {
    "stated": "Somebody who answers for it has said so: a data sheet, a drawing, a decision of the owner. It need not be written.",
    "assumed": "A figure to go on with, which somebody still has to confirm; the book keeps a list of them.",
    "measured": "It was measured on the plant itself.",
}

# What may stand under a key -> the sort of YAML that it is; "" for what the Term decides.
KINDS = {"text": "scalar", "item id": "scalar", "id": "scalar", "word": "scalar", "day": "scalar", "yes or no": "scalar",
         "count": "scalar", "list": "sequence", "keys": "mapping", "value": ""}
IDS = {"item id": (ITEM_ID, "small letters, digits and _", "[^a-z0-9]+"), "id": (SLUG, "letters, digits, _ and -", "[^A-Za-z0-9]+")}


@dataclass(frozen=True)
class Field:
    """A key: what it means, what may stand there (one of KINDS), whether it must stand, an example as written.

    words: those that a `word` may be. names: whether a text, or each entry of a `list`, is the id of a check, a chapter or an input. of: what each entry of a
    `list`, or what `keys`, must be. gathered: several files may each have a part of it.
    """

    key: str
    kind: str
    meaning: str
    example: str
    required: bool = False
    words: tuple = ()
    names: str = ""
    of: Table | None = None
    gathered: bool = False


@dataclass(frozen=True)
class Table:
    """Fields of a mapping. entry: what it is in a sentence. more: what other keys may stand beside them, read by who asks."""

    entry: str
    fields: tuple[Field, ...]
    more: str = ""

    @property
    def by_key(self) -> dict[str, Field]:
        """The fields by their key, in order."""
        return {field.key: field for field in self.fields}

    @property
    def required(self) -> list[str]:
        """The keys that must stand."""
        return [field.key for field in self.fields if field.required]

    def called(self, entry: str) -> Table:
        """The same of an entry that a sentence can name better."""
        return replace(self, entry=entry)


NOTE = Field("note", "text", "Where it is from.", '"data sheet, at full load"')
STANDING = Field("standing", "word", "How sure it is; stated, unless something else is said.", "assumed", words=tuple(STANDINGS))
SOURCE = Field("source", "text", "The document that it is from.", '"D-104 rev. B"')
VALUE = Table("a value", (
    Field("value", "value", "The value as it is written without the braces.", "12.5 m^3/s", required=True),
    Field("unit", "text", "Its unit, where the value itself has none.", "m^3/s"),
    NOTE, STANDING, SOURCE,
    Field("plus_minus", "text", "How far it may be off, either way, nine times in ten.", "5 %")))
HOURLY = Table("a value for each hour of a year", (
    Field("file", "text", "A weather file in the project folder, EPW or TMY3.", "year.epw", required=True), NOTE, STANDING, SOURCE))

USE = Field("use", "list", "Names of makers' data sheets in the folder equipment: their values stand where none is given here.", "[set-1600]")
ITEM = Table("an item", (
    Field("id", "item id", "The item's own word, by which others refer to it.", "north_1", required=True),
    Field("name", "text", "The item in words; without it, its id in words.", "North, first"), USE), more="terms of the item")
OVERLAY = Table("an option", (USE,), more="terms and lists")
OPTION = Table("an option", (
    Field("id", "id", "The option's own word.", "480_v", required=True),
    Field("name", "text", "The option in words; without it, its id in words.", "Sets at 480 V"),
    Field("gives_up", "text", "What one does without when it is chosen.", "Short runs only."),
    Field("with", "keys", "The values and lists that it sets, as anywhere in the project.", "", required=True,
          of=OVERLAY)))
DECISION = Table("a decision", (
    Field("id", "id", "The decision's own word.", "set_voltage", required=True),
    Field("name", "text", "The decision in words; without it, its id in words.", "Voltage of the sets"),
    Field("chosen", "text", "The id of the option that stands.", "480_v", required=True),
    Field("reason", "text", "Why that one was chosen.", "All loads are within 60 m.", required=True),
    Field("options", "list", "Two options or more.", "", required=True, of=OPTION)))

REQUIREMENT = Table("a requirement", (
    Field("id", "id", "The requirement's own word.", "R-01", required=True),
    Field("code", "text", "Title of the code, or the id of one of the project's codes.", "Title of the code", required=True),
    Field("edition", "text", "Its edition.", '"2022"'),
    Field("clause", "text", "The clause.", '"5.1"'),
    Field("text", "text", "What is asked, in the project's own words.", "What it asks.", required=True),
    Field("check", "text", "The check that answers it.", "check_id", names="check"),
    Field("value", "text", "The value that answers it.", "value_id"),
    Field("chapter", "text", "The chapter that answers it.", "plant", names="chapter"),
    Field("statement", "text", "A statement that answers it.", "The tank is listed."),
    Field("evidence", "text", "The document that proves it.", "Certificate 12")))
QUESTION = Table("a question", (
    Field("id", "id", "The question's own word.", "Q-01", required=True),
    Field("date", "day", "The day on which it was asked.", "2026-11-20", required=True),
    Field("role", "text", "Who asks, as a role.", "electrical inspector", required=True),
    Field("about", "text", "The value or check that it is about.", "check_id", required=True),
    Field("text", "text", "What is asked.", "What is asked.", required=True),
    Field("answer", "text", "What was answered.", "The answer."),
    Field("state", "word", "Where it stands.", OPEN, required=True, words=STATES)))
TRIAL = Table("a trial", (
    Field("input", "text", "The key of the input that is moved, one number of the project as a whole.", "outdoor_temperature_max", required=True,
          names="input"),
    Field("from", "text", "The lower end of its range.", "30 degC", required=True),
    Field("to", "text", "The upper end of its range.", "42 degC", required=True),
    Field("steps", "count", f"How many numbers from end to end, evenly spaced, {MOST_STEPS} at most.", "5", required=True)))
REMARK = Field("remark", "text", "Why this check fails or is tight, and what is done about it.", '"The tank is filled weekly."')

EQUIPMENT = Table("a data sheet", (
    Field("name", "text", "The machine or part in words.", "Set of 1600 kW"),
    Field("source", "text", "The document that the sheet was typed from; it stands for every value that names none.", '"D-104 rev. B"')),
    more="terms and lists, of items too")

PROJECT = Table("the project as a whole", (
    Field("name", "text", "The plant in words, as on the cover.", "Bell Yard"),
    Field("chapters", "list", "Ids of the chapters of the book; without the key, all.", "[plant, loads]", names="chapter"),
    Field("invented", "yes or no", "Whether the plant does not exist; every page then says so.", "yes"),
    replace(USE, gathered=True),
    Field("remarks", "keys", "By id of a check: why it fails or is tight, and what is done about it.", "", gathered=True,
          of=Table("the remarks", (), more="a text for a check")),
    Field("decisions", "list", "What could be built in two ways or more, and what was chosen.", "", of=DECISION, gathered=True),
    Field("requirements", "list", "What the plant has to answer, and what answers it.", "", of=REQUIREMENT, gathered=True),
    Field("questions", "list", "What somebody asks about a value or a check.", "", of=QUESTION, gathered=True),
    Field("trials", "list", "Inputs that may turn out otherwise, such as the hottest day, each with a range: a whole build computes the book at each "
          "step, and the pages of the chapters that it moves have a slider that shows what comes out.", "", of=TRIAL, gathered=True)), more="terms and lists")


def read_fields(table: Table, node: Node, faults: list) -> dict[str, Node]:
    """Nodes of a mapping by those of its fields that are right, and of other keys where the table has `more`.

    Adds a fault for each key that is none, is missing, holds the wrong sort of thing, no text, or a text that is no id, word or day.
    """
    if not node.is_a("mapping", faults):
        return {}
    table = _named(table, node)
    known, found = table.by_key, {}
    missing = set(table.required) - {key for key, _ in node.data}
    for key, part in node.data:
        if key in known:
            if is_right(known[key], table.entry, part, faults):
                found[key] = part
        elif table.more:
            found[key] = part
        else:
            near = nearest_name(key, known)
            missing.discard(near)  # it was meant
            part.fault(faults, f"unknown key '{key}' of {table.entry}", ", ".join(known), near)
    if missing:
        lacks = [field for field in table.fields if field.key in missing]
        expected = f"one such as `{lacks[0].key}: {lacks[0].example}`" if table.more else ", ".join(known)
        node.fault(faults, f"{table.entry} without {' or '.join(field.key for field in lacks)}", expected)
    return found


def whole(table: Table, found: dict[str, Node]) -> bool:
    """Whether all that must stand has been read."""
    return all(key in found for key in table.required)


def one_line(node: Node) -> str:
    """A text that has been read, on one line."""
    return " ".join(node.data.split())


def is_right(field: Field, entry: str, node: Node, faults: list) -> bool:
    """Whether what stands there is what the field asks for; a fault of `entry` when not."""
    sort = KINDS[field.kind]
    if sort and not node.is_a(sort, faults):
        return False
    trouble = _trouble(field, entry, one_line(node)) if sort == "scalar" else None
    if trouble:
        node.fault(faults, *trouble)
    return not trouble


def _named(table: Table, node: Node) -> Table:
    """The table of this one entry: with its id in sentences, where it has one."""
    own = dict(node.data).get("id") if "id" in table.by_key else None
    if own is None or own.kind != "scalar" or not SLUG.fullmatch(own.data):
        return table
    return table.called(f"{table.entry.removeprefix('a ').removeprefix('an ')} '{own.data}'")


def _trouble(field: Field, entry: str, text: str) -> tuple | None:
    """What is wrong with a text, what was expected, what is nearest."""
    if not text:
        return f"'{field.key}' of {entry} is empty", "a text" if field.required else "a text; without one, leave the key out"
    if field.kind in IDS and not IDS[field.kind][0].fullmatch(text):
        _, expected, odd = IDS[field.kind]
        plain = re.sub(odd, "_", text.lower() if field.kind == "item id" else text).strip("_")
        return f"{field.key} '{text}' of {entry}", f"{expected}, at most 60", plain[:60]
    if field.kind == "word" and text not in field.words:
        return f"{field.key} '{text}' of {entry}", ", ".join(field.words), nearest_name(text, field.words)
    if field.kind == "day" and not is_day(text):
        return f"the {field.key} '{text}' of {entry} is none", "a day such as 2026-11-20"
    if field.kind == "count" and not (text.isascii() and text.isdigit()):
        return f"the {field.key} '{text}' of {entry}", "a whole number"
    if field.kind == "yes or no" and text.lower() not in SAID:
        return f"'{field.key}' is '{text}'", "yes or no, true or false"
    return None
