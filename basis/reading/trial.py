"""Trials of a project: inputs of which it is worth knowing how the book would look with another number, each with a range and steps."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from basis.language.faults import find_command, nearest_name, show_command
from basis.language.terms import Term, listed, terms
from basis.reading import schema
from basis.reading.folder import Folder
from basis.reading.givens import read_given
from basis.reading.schema import MOST_STEPS, read_fields
from basis.reading.yaml_nodes import Node

WHOLE = 1e-9  # what a step of a count may miss a whole number by


@dataclass(frozen=True)
class Trial:
    """An input with the numbers, in SI and evenly spaced, with which the book is computed again."""

    input: str
    numbers: tuple[float, ...]
    file: str
    line: int
    written: tuple[str, str] = ("", "")  # its ends


def read_trial(node: Node, folder: Folder, faults: list) -> Trial | None:
    """One trial, or None after adding what is wrong with it."""
    before = len(faults)
    parts = read_fields(schema.TRIAL, node, faults)
    term = _input(parts["input"], faults) if "input" in parts else None
    count = _count(parts["steps"], faults) if "steps" in parts else None
    ends = [read_given(term, parts[key], "", folder, faults) for key in ("from", "to") if key in parts] if term else []
    if len(faults) > before or term is None or count is None or None in ends:
        return None
    first, last = (end.data for end in ends)
    numbers = np.linspace(first, last, count)
    if not first < last:
        parts["to"].fault(faults, f"the trial of '{term.id}' runs from {ends[0].written} to {ends[1].written}", "a second end above the first")
    elif term.whole and np.abs(numbers - np.round(numbers)).max() > WHOLE:
        parts["steps"].fault(faults, f"the {count} steps of '{term.id}', a count, are not all whole numbers", "ends and steps that fall on whole numbers")
    else:
        return Trial(term.id, tuple(map(float, numbers)), node.file, node.line, tuple(end.written for end in ends))
    return None


def _input(node: Node, faults: list) -> Term | None:
    """The Term that is moved: one number of the project as a whole."""
    name = schema.one_line(node)
    term = terms().get(name)
    if term is None:
        plain = [one.id for one in terms().values() if not one.axes and not one.is_text]
        node.fault(faults, f"unknown input '{name}' of a trial", "the key of an input", nearest_name(name, plain), find_command(name))
    elif term.constant:
        node.fault(faults, f"'{name}' is a constant of the book", "an input that a project gives", "", show_command(name))
    elif term.axes:
        node.fault(faults, f"'{name}' runs over {' and '.join(listed(axis).key for axis in term.axes)}", "an input of the project as a whole, one number", "",
                   show_command(name))
    elif term.is_text or term.unit == "reference" or term.kind == "date":
        node.fault(faults, f"'{name}' is a {'date' if term.kind == 'date' else 'word'}", "an input that is a number", "", show_command(name))
    else:
        return term
    return None


def _count(node: Node, faults: list) -> int | None:
    text = schema.one_line(node)
    if 2 <= int(text[:9]) <= MOST_STEPS:
        return int(text)
    node.fault(faults, f"a trial of {text} steps", f"a whole number from 2 to {MOST_STEPS}")
    return None
