"""Requirements and questions of a project: lists of entries that are texts under declared keys. What they name is looked up when the book is solved."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from basis.language.days import is_day
from basis.language.faults import nearest_name
from basis.reading.yaml_nodes import Node

OPEN, ANSWERED, WITHDRAWN = "open", "answered", "withdrawn"
STATES = (OPEN, ANSWERED, WITHDRAWN)
ANSWERS = ("check", "value", "chapter", "statement")  # what may answer a requirement: one of them
ENTRY_ID = re.compile(r"[A-Za-z0-9_-]{1,60}")
REQUIREMENT_FIELDS = dict.fromkeys(("id", "code", "edition", "clause", "text", *ANSWERS, "evidence"), "scalar")
QUESTION_FIELDS = dict.fromkeys(("id", "date", "role", "about", "text", "answer", "state"), "scalar")


@dataclass(frozen=True)
class Requirement:
    """What a code or a client asks, in the project's own words, and the one thing that answers it: a check, a value, a chapter or a statement, or nothing yet.

    `code` is a title or the id of an item of the project's codes. `lines`: key -> line.
    """

    file: str
    line: int
    lines: dict = field(compare=False, repr=False)
    id: str
    code: str
    text: str
    edition: str = ""
    clause: str = ""
    check: str = ""
    value: str = ""
    chapter: str = ""
    statement: str = ""
    evidence: str = ""


@dataclass(frozen=True)
class Question:
    """What somebody in a role asks about a value or a check, on which day, and what was answered. `lines`: key -> line."""

    file: str
    line: int
    lines: dict = field(compare=False, repr=False)
    id: str
    date: str
    role: str
    about: str
    text: str
    state: str
    answer: str = ""


@dataclass(frozen=True)
class Register:
    """A list that a project may keep: what an entry is called, its keys, those that it must have, and what it becomes."""

    entry: str
    fields: dict
    required: tuple
    kind: type


REGISTERS = {
    "requirements": Register("a requirement", REQUIREMENT_FIELDS, ("id", "code", "text"), Requirement),
    "questions": Register("a question", QUESTION_FIELDS, ("id", "date", "role", "about", "text", "state"), Question),
}


def read_entry(register: Register, node: Node, faults: list) -> Requirement | Question | None:
    """One entry, or None after adding what is wrong with it."""
    before = len(faults)
    parts = node.fields(register.entry, register.fields, register.required, faults)
    if parts is None:
        return None
    texts = {key: " ".join(part.data.split()) for key, part in parts.items()}
    for key in (key for key, text in texts.items() if not text):
        parts[key].fault(faults, f"'{key}' of {register.entry} is empty", "a text" if key in register.required else "a text; without one, leave the key out")
    if texts["id"] and not ENTRY_ID.fullmatch(texts["id"]):
        parts["id"].fault(faults, f"id '{texts['id']}' of {register.entry}", "letters, digits, _ and -, at most 60",
                          re.sub(r"[^A-Za-z0-9]+", "_", texts["id"]).strip("_")[:60])
    if len(faults) == before:
        (_check_question if register.kind is Question else _check_requirement)(texts, parts, faults)
    return None if len(faults) > before else register.kind(node.file, node.line, {key: part.line for key, part in parts.items()}, **texts)


def _check_requirement(texts: dict, parts: dict, faults: list) -> None:
    """One thing answers it: whoever needs two has two requirements."""
    answered = [key for key in ANSWERS if key in texts]
    if len(answered) > 1:
        parts[answered[1]].fault(faults, f"requirement '{texts['id']}' is answered by {' and '.join(answered)}",
                                 "one of them; a clause that asks for more is two requirements")


def _check_question(texts: dict, parts: dict, faults: list) -> None:
    if not is_day(texts["date"]):
        parts["date"].fault(faults, f"the date '{texts['date']}' of question '{texts['id']}' is none", "a day such as 2026-11-20")
    if texts["state"] not in STATES:
        parts["state"].fault(faults, f"state '{texts['state']}' of question '{texts['id']}'", ", ".join(STATES), nearest_name(texts["state"], STATES))
    elif texts["state"] == ANSWERED and "answer" not in texts:
        parts["state"].fault(faults, f"question '{texts['id']}' is answered and has no answer", "the key answer, or the state open")
    elif texts["state"] == OPEN and "answer" in texts:
        parts["answer"].fault(faults, f"question '{texts['id']}' is open and has an answer", "the state answered, or no answer")
