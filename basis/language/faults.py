"""What is wrong with the text of a project, told as a person would want it.

A Fault holds facts (file, line, what, expected, nearest, the command that helps); the sentence is made when it is shown. Faults gathers them
all and is the only exception that this program raises on purpose.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from shlex import quote

LONGEST = 300  # characters of what is wrong


@dataclass(frozen=True, order=True)
class Fault:
    """One thing that is wrong, and where. `line` counts from 1; 0 means the file as a whole."""

    file: str
    line: int
    what: str
    expected: str = ""
    nearest: str = ""
    help: str = ""  # the command or key that leads on

    def __str__(self) -> str:
        parts = [f"{self.file}:{self.line}: {one_line(self.what)}" if self.line else f"{self.file}: {one_line(self.what)}"]
        if self.expected:
            parts.append(f"expected {self.expected}")
        if self.nearest:
            parts.append(f"nearest: {one_line(self.nearest)}")
        if self.help:
            parts.append(f"see: {one_line(self.help)}")
        return "; ".join(parts)

    def as_record(self) -> dict:
        """The facts as plain data, for machine-readable output."""
        return {"file": self.file, "line": self.line, "what": self.what, "expected": self.expected, "nearest": self.nearest, "see": self.help}


def printable(text: str) -> str:
    """A name of the operating system as text that every terminal and file takes."""
    return text.encode("utf-8", "backslashreplace").decode()


def one_line(text: str) -> str:
    """Text as part of a sentence: on one line, and cut where nobody would read on."""
    text = " ".join(printable(text).split())
    return text if len(text) <= LONGEST else f"{text[:LONGEST]}…"


class Faults(Exception):
    """All faults found, sorted by file and line, without repeats."""

    def __init__(self, faults):
        self.faults = tuple(sorted(set(faults)))
        super().__init__("\n".join(str(fault) for fault in self.faults))


class OutOfTable(Exception):
    """A table was asked for a key that it does not hold; the solver turns this into a Fault with a place."""

    def __init__(self, table_id: str, key, what: str, expected: str, nearest: str = ""):
        self.table_id, self.key, self.what, self.expected, self.nearest = table_id, key, what, expected, nearest
        super().__init__(f"{what}; expected {expected}")


@dataclass(frozen=True)
class ItemTrouble:
    """What is wrong with one given of one item ("" for a plain term), found while computing: facts without a place."""

    term: str
    item: int | str
    what: str
    expected: str = ""
    nearest: str = ""


class ItemTroubles(Exception):
    """Everything that a procedure found wrong with items; the solver turns each into a Fault at the line where it is given.

    A procedure knows items by their place along the axis of the Term; `item` may be that place.
    """

    def __init__(self, troubles):
        self.troubles = tuple(troubles)
        super().__init__("; ".join(trouble.what for trouble in self.troubles))


def of_system(refused: OSError, where: str) -> Fault:
    """What the operating system refuses, as a Fault of the file that it names, or of `where` when it names none."""
    return Fault(str(refused.filename or where), 0, f"the operating system refuses: {refused.strerror or refused}")


def find_command(word: str) -> str:
    """The command that finds a thing by a word, as a shell reads it."""
    return f"basis find {quote(one_line(word))}"


def show_command(name: str) -> str:
    """The command that tells what the program has of a quantity, a formula or a table."""
    return f"basis show {name}"


def nearest_name(word: str, names) -> str:
    """The name most like `word`, or an empty text when none is near."""
    near = get_close_matches(str(word), [str(name) for name in names], n=1, cutoff=0.6)
    return near[0] if near else ""
