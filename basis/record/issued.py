"""An issued record: every number, verdict and decision of a book at one issue, as text that a team keeps.

One fact a line, in reading order, so that a plain diff of two records can be read; the last line seals all above it. Reads and writes that text;
knows neither chapters nor units, so that an old record can be read whatever the program has become. What is computed of a book stands in `issuing`.
"""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, field, fields
from functools import cached_property
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from basis.language.days import is_day
from basis.language.faults import Fault, Faults

FORMAT = "2"
FOLDER, ENDING = "issued", ".csv"  # of a project
INPUTS = ("given", "default", "constant")  # origins of what no formula yields
APART, CELLS = " | ", " "  # between shown texts and between numbers of a line that holds a row
REVISION = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,15}")
FIRST = ("A record of a design basis book as it was issued: one fact a line, in the order in which the book is read. "
         "Do not edit: the last line seals all others. The columns of each sort of line:")


@dataclass(frozen=True)
class Head:
    """What the record says of itself. Of a state that nobody has issued, `revision` to `note` are empty."""

    project: str
    name: str
    program: str  # version
    text: str  # digest of the project's files
    revision: str = ""
    number: str = ""  # of the issue, counted from 1
    date: str = ""
    note: str = ""


class Role(NamedTuple):
    """Somebody's part in an issue, and the day; no person is named."""

    role: str
    date: str


class Chosen(NamedTuple):
    """The option that stands for a decision."""

    decision: str
    option: str
    name: str


class Item(NamedTuple):
    """An item of a list, with its name."""

    axis: str
    item: str
    name: str


class TableRow(NamedTuple):
    """A row of a table that something in the book reads, cells in printed units; the key `rule` tells how the table is read."""

    table: str
    key: str
    cells: str


class Chapter(NamedTuple):
    """A chapter of the book."""

    id: str
    title: str


class IssuedCheck(NamedTuple):
    """A verdict. `sides`: the ids of value, limit and choices; `why`: what is missing or why there is nothing to check."""

    id: str
    chapter: str
    verdict: str
    margin: str
    margin_shown: str
    value: str
    limit: str
    element: str
    why: str
    remark: str
    sides: str


class IssuedValue(NamedTuple):
    """A value. `inputs`, `counts`, `tables`: ids of what it rests on; `maker` a digest of its own formula, `how` its text."""

    id: str
    chapter: str
    shown: str  # with its unit; of a value over items the unit of all
    number: str  # SI, to all digits that mean anything; the word of a text; a digest of the numbers of a year
    unit: str  # of the number
    origin: str
    standing: str  # of a computed value the weaknesses upstream
    note: str = ""
    over: str = ""  # axes
    inputs: str = ""
    counts: str = ""  # axes whose items its formula counts
    tables: str = ""
    maker: str = ""
    how: str = ""


class Part(NamedTuple):
    """One element of the value above it, or a row of elements along its last axis; origin and standing are empty where they are those of the whole."""

    element: str
    shown: str = ""
    number: str = ""
    origin: str = ""
    standing: str = ""
    note: str = ""


@dataclass(frozen=True)
class Record:
    """A book at one issue, or as it stands now; everything in reading order."""

    head: Head
    roles: tuple[Role, ...]
    decisions: tuple[Chosen, ...]
    items: tuple[Item, ...]
    tables: tuple[TableRow, ...]
    chapters: tuple[Chapter, ...]
    checks: dict[str, IssuedCheck]  # by id
    values: dict[str, IssuedValue]  # by id
    parts: dict[str, tuple[Part, ...]]  # by the id of their value
    made_from: dict[str, tuple] = field(default_factory=dict, compare=False, repr=False)  # by the id of a value, of a record that was made and not read

    @cached_property
    def lists(self) -> dict[str, tuple[str, ...]]:
        """Axis -> ids of its items."""
        found: dict[str, list] = {}
        for item in self.items:
            found.setdefault(item.axis, []).append(item.item)
        return {axis: tuple(ids) for axis, ids in found.items()}


SORTS = {"role": Role, "decision": Chosen, "item": Item, "table": TableRow, "chapter": Chapter, "check": IssuedCheck, "value": IssuedValue, "": Part}
SORT_OF = {kind: sort for sort, kind in SORTS.items()}
HEADS = tuple(one.name for one in fields(Head))
NEEDED = ("project", "revision", "number", "date")


# -- writing ----------------------------------------------------------------------------------------------------------


def text_of(record: Record) -> str:
    """The record as text, sealed."""
    file = io.StringIO()
    file.write(f"# {FIRST}\n")
    file.writelines(f"# {sort or 'with nothing in front'}: {', '.join(kind._fields)}\n" for sort, kind in SORTS.items())
    write = csv.writer(file, lineterminator="\n").writerow
    write(("record", FORMAT))
    for name in HEADS:
        write((name, getattr(record.head, name)))
    plain = (*record.roles, *record.decisions, *record.items, *record.tables, *record.chapters, *record.checks.values())
    parted = (one for value in record.values.values() for one in (value, *record.parts.get(value.id, ())))
    for one in (*plain, *parted):
        write(_trimmed([SORT_OF[type(one)], *one]))
    return f"{file.getvalue()}seal,{_seal_of(file.getvalue())}\n"


def _trimmed(cells: list[str]) -> list[str]:
    """Without empty cells at the end, where the reader knows of them."""
    while cells[0] in ("", "value") and not cells[-1]:
        cells.pop()
    return cells


def _seal_of(lines: str) -> str:
    return sha256(lines.encode("utf-8", "surrogatepass")).hexdigest()


# -- reading ----------------------------------------------------------------------------------------------------------


def records_of(folder: Path) -> tuple[Record, ...]:
    """All records of a project folder in order of issue; none where nothing has been issued. Raises Faults with what is wrong in any of them."""
    found, faults = {}, []
    for path in sorted((folder / FOLDER).glob(f"*{ENDING}")):
        try:
            found[path] = read_record(path)
        except Faults as wrong:
            faults += wrong.faults
    faults += _one_each(found)
    if faults:
        raise Faults(faults)
    return tuple(sorted(found.values(), key=lambda record: int(record.head.number)))


def _one_each(found: dict[Path, Record]) -> list[Fault]:
    """A fault for every record that stands under the name of another revision, and for two of one number."""
    faults, numbers = [], {}
    for path, record in found.items():
        if record.head.revision != path.stem:
            faults.append(Fault(path.as_posix(), 0, f"holds revision {record.head.revision}", f"one record a revision, in {record.head.revision}{ENDING}"))
        elif (other := numbers.setdefault(record.head.number, path)) is not path:
            faults.append(Fault(path.as_posix(), 0, f"is issue {record.head.number} of the project, and so is {other.name}",
                                "one record an issue; where two were issued side by side, issue the later one again"))
    return faults


def read_record(path: Path, project: str = "") -> Record:
    """The record in a file, of the project in whose folder it lies or of the one named. Raises Faults: no such file, half-written, edited by hand, of another
    project, of a later program.
    """
    try:
        text = path.read_bytes().decode("utf-8").replace("\r\n", "\n")  # as some tools of git write it to the disk
    except FileNotFoundError:
        raise Faults([Fault(path.as_posix(), 0, "is not there", "an issued record")]) from None
    except UnicodeDecodeError:
        raise Faults([Fault(path.as_posix(), 0, "is not text in UTF-8", "an issued record")]) from None
    trouble = _unsealed(text)
    if not trouble:
        record = _parsed(path, text)
        trouble = _strange(record.head, project or path.absolute().parent.parent.name)
    if trouble:
        raise Faults([Fault(path.as_posix(), *trouble)])
    return record


def _unsealed(text: str) -> tuple[int, str, str] | None:
    """Line, what is wrong and what was expected, where the lines are not as they were sealed."""
    lines, _, last = text.rstrip("\n").rpartition("\n")
    count = text.count("\n") + (not text.endswith("\n"))
    if "\nrecord," not in text:
        return 1, "is no issued record", "a file that `basis issue` wrote"
    if not last.startswith("seal,") or not text.endswith("\n"):
        return count, "is half-written: the last line is no seal", "the whole record, as it was committed"
    if last != f"seal,{_seal_of(lines + chr(10))}":
        return 0, "was changed after it was issued: the seal does not fit its lines", "the record as it was committed, or a new revision"
    return None


def _strange(head: Head, project: str) -> tuple[int, str, str] | None:
    """The same where what the record says of itself does not fit."""
    if missing := [name for name in NEEDED if not getattr(head, name)]:
        return 0, f"does not say its {missing[0]}", "a file that `basis issue` wrote"
    if not head.number.isdecimal():
        return 0, f"its number '{head.number}' is none", "which issue of the project it is, counted from 1"
    if head.project != project:
        return 0, f"is a record of project '{head.project}'", f"one of '{project}'"
    if not is_day(head.date):
        return 0, f"its date '{head.date}' is none", "a day such as 2026-11-20"
    return None


def _parsed(path: Path, text: str) -> Record:
    head, found = {}, {sort: [] for sort in SORTS}
    parts: dict[str, list] = {}
    for line, cells in enumerate(csv.reader(text.split("\n")), 1):
        sort = cells[0] if cells else "#"
        try:
            if not sort:
                parts.setdefault(found["value"][-1].id, []).append(Part(*cells[1:]))
            elif sort in SORTS:
                found[sort].append(SORTS[sort](*cells[1:]))
            elif sort in HEADS:
                (head[sort],) = cells[1:]
            elif sort == "record" and cells[1:] != [FORMAT]:
                raise Faults([Fault(path.as_posix(), line, f"was written in form {cells[1]} by another version of the program", f"form {FORMAT}")])
            elif sort not in ("record", "seal") and sort[0] != "#":
                raise ValueError
        except (TypeError, ValueError, IndexError):
            raise Faults([Fault(path.as_posix(), line, f"is no line of a record: {','.join(cells)}", f"{', '.join(filter(None, SORTS))}")]) from None
    by_id = {sort: {one.id: one for one in found[sort]} for sort in ("check", "value")}
    return Record(Head(**{name: head.get(name, "") for name in HEADS}), *(tuple(found[sort]) for sort in ("role", "decision", "item", "table", "chapter")),
                  by_id["check"], by_id["value"], {value_id: tuple(one) for value_id, one in parts.items()})
