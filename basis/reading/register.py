"""Requirements and questions of a project: lists of entries that are texts under declared keys. What they name is looked up when the book is solved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from basis.reading import schema
from basis.reading.schema import ANSWERED, OPEN
from basis.reading.yaml_nodes import Node

ANSWERS = ("check", "value", "chapter", "statement")  # what may answer a requirement: one of them


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


def _check_requirement(texts: dict, parts: dict, faults: list) -> None:
    """One thing answers it: whoever needs two has two requirements."""
    answered = [key for key in ANSWERS if key in texts]
    if len(answered) > 1:
        parts[answered[1]].fault(faults, f"requirement '{texts['id']}' is answered by {' and '.join(answered)}",
                                 "one of them; a clause that asks for more is two requirements")


def _check_question(texts: dict, parts: dict, faults: list) -> None:
    if texts["state"] == ANSWERED and "answer" not in texts:
        parts["state"].fault(faults, f"question '{texts['id']}' is answered and has no answer", "the key answer, or the state open")
    elif texts["state"] == OPEN and "answer" in texts:
        parts["answer"].fault(faults, f"question '{texts['id']}' is open and has an answer", "the state answered, or no answer")


@dataclass(frozen=True)
class Register:
    """A list that a project may keep: the table of an entry, what it becomes, and what is asked of its texts together."""

    table: schema.Table
    kind: type
    check: Callable


REGISTERS = {
    "requirements": Register(schema.REQUIREMENT, Requirement, _check_requirement),
    "questions": Register(schema.QUESTION, Question, _check_question),
}


def read_entry(register: Register, node: Node, faults: list) -> Requirement | Question | None:
    """One entry, or None after adding what is wrong with it."""
    before = len(faults)
    parts = schema.read_fields(register.table, node, faults)
    if len(faults) > before:
        return None
    texts = {key: schema.one_line(part) for key, part in parts.items()}
    register.check(texts, parts, faults)
    return None if len(faults) > before else register.kind(node.file, node.line, {key: part.line for key, part in parts.items()}, **texts)
