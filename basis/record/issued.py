"""An issued record: every number, verdict and decision of a book at one issue, as text that a team keeps.

One fact a line, in reading order, so that a plain diff of two records can be read; the last line seals all above it. Numbers stand in full, as what was
issued is what ran: between machines their last digits may differ, and a plain diff shows it, while `moved` tells no such difference as a change. Reads and
writes that text; knows neither chapters nor units, so that an old record can be read whatever the program has become. What is computed of a book stands in
`issuing`.
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

FORM, EARLIER = "3", "2"  # of the text, as it is written and as the program once wrote it, which is read for ever
FOLDER, ENDING = "issued", ".csv"  # of a project
INPUTS, MADE = ("given", "default", "constant"), ("formula", "procedure")  # origins of what no formula yields, and of what one does
APART, CELLS = " | ", " "  # between shown texts and between numbers of a line that holds a row
REVISION = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,15}")
MINUS, THIN = "−", "\u202f"  # of shown numbers
ABOUT = ("A record of a design basis book as it was issued: one fact a line, in the order in which the book is read.",
         "Do not edit: the last line seals all others. A chapter heads its checks and values, a value its elements.",
         "Numbers are in SI and in full, so that their last digits may differ from machine to machine.",
         "An empty number is the very one that is shown; an empty standing is what the origin says. The columns of each sort of line:")


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
    """An item of a list."""

    axis: str
    item: str


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
    sides: str


class IssuedValue(NamedTuple):
    """A value. `inputs`, `counts`, `tables`: ids of what it rests on; `maker` a digest of its own formula, `how` its text."""

    id: str
    chapter: str
    shown: str  # with its unit; of a value over items the unit of all
    number: str  # SI, in full; the word of a text; a digest of the numbers of a year
    unit: str  # of the number
    origin: str
    standing: str  # of a computed value the weaknesses upstream
    over: str = ""  # axes
    note: str = ""
    maker: str = ""
    how: str = ""
    inputs: str = ""
    tables: str = ""
    counts: str = ""  # axes whose items its formula counts


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


PLAIN = {"role": Role, "decision": Chosen, "item": Item, "table": TableRow, "chapter": Chapter}
SORT_OF = {kind: sort for sort, kind in PLAIN.items()}
OF_VALUE = ("id", "shown", "number", "unit", "standing", "over")
COLUMNS = {**{sort: kind._fields for sort, kind in PLAIN.items()}, "check": ("id", *IssuedCheck._fields[2:]),
           ", ".join(INPUTS): (*OF_VALUE, "note"), ", ".join(MADE): (*OF_VALUE, "maker", "how", "inputs", "tables", "counts"),
           "with nothing in front": Part._fields}
HEADS = tuple(one.name for one in fields(Head))
NEEDED = ("project", "revision", "number", "date")
BLANK = [""] * 7  # what a line of a value or element may leave out at its end


# -- numbers ----------------------------------------------------------------------------------------------------------


def in_full(number: float) -> str:
    """The shortest text that reads back to the same float; nought has no sign."""
    return repr(float(number) + 0.0).removesuffix(".0")


def _as_shown(shown: str) -> str:
    """The number that a shown text says in full, or the numbers of a row; a text itself."""
    return CELLS.join(map(_read_back, shown.split(APART)))


def _read_back(shown: str) -> str:
    try:
        return in_full(float(shown.replace(MINUS, "-").replace(THIN, "")))
    except ValueError:
        return shown


# -- writing ----------------------------------------------------------------------------------------------------------


def text_of(record: Record) -> str:
    """The record as text, sealed."""
    file = io.StringIO()
    file.writelines(f"# {line}\n" for line in ABOUT)
    file.writelines(f"# {sort}: {', '.join(columns)}\n" for sort, columns in COLUMNS.items())
    write = csv.writer(file, lineterminator="\n").writerows
    write([("record", FORM), *((name, getattr(record.head, name)) for name in HEADS)])
    write((SORT_OF[type(one)], *one) for one in (*record.roles, *record.decisions, *record.items, *record.tables))
    checks, values = _by_chapter(record.checks), _by_chapter(record.values)
    for chapter in record.chapters:
        write([("chapter", *chapter), *(("check", check.id, *check[2:]) for check in checks.get(chapter.id, ()))])
        for value in values.get(chapter.id, ()):
            write([_line(value), *map(_part_line, record.parts.get(value.id, ()))])
    return f"{file.getvalue()}seal,{_seal_of(file.getvalue())}\n"


def _by_chapter(found: dict) -> dict[str, list]:
    parted: dict[str, list] = {}
    for one in found.values():
        parted.setdefault(one.chapter, []).append(one)
    return parted


def _line(value: IssuedValue) -> list[str]:
    value_id, _, shown, number, unit, origin, standing, over, note, *made = value
    told = (origin, value_id, shown, _but(_as_shown(shown), number), unit, _but(origin, standing), over)
    return _trimmed([*told, *(made if origin in MADE else (note,))])


def _part_line(part: Part) -> list[str]:
    element, shown, number, origin, standing, note = part
    return _trimmed(["", element, shown, _but(_as_shown(shown), number), origin, _but(origin, standing), note])


def _but(said: str, text: str) -> str:
    """A text that has not been said already."""
    return "" if text == said else text


def _trimmed(cells: list[str]) -> list[str]:
    """Without empty cells at the end, where the reader knows of them."""
    while not cells[-1]:
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
    if faults := faults or _lost(found):
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


def _lost(found: dict[Path, Record]) -> list[Fault]:
    """A fault where one is gone from among the others: what changed would else be told as one step."""
    have = {int(record.head.number): path for path, record in found.items()}
    last = max(have, default=0)
    return [Fault(have[last].parent.as_posix(), 0, f"issue {number} is gone, though issue {last} is there ({have[last].name})",
                  "every record that was issued, as it was committed") for number in range(1, last) if number not in have]


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
    head, read = {}, {}
    found: dict[type, list] = {kind: [] for kind in (*PLAIN.values(), IssuedCheck, IssuedValue)}
    parts: dict[str, list] = {}
    for line, cells in enumerate(csv.reader(text.split("\n")), 1):
        sort = cells[0] if cells else "#"
        try:
            if sort in read:
                one = read[sort](cells, found[Chapter])
                (found[type(one)] if sort else parts.setdefault(found[IssuedValue][-1].id, [])).append(one)
            elif sort in HEADS:
                (head[sort],) = cells[1:]
            elif sort == "record":
                read = _readers(path, line, *cells[1:])
            elif sort != "seal" and sort[:1] != "#":
                raise ValueError
        except (TypeError, ValueError, IndexError):
            raise Faults([Fault(path.as_posix(), line, f"is no line of a record: {','.join(cells)}", ", ".join(filter(None, read)))]) from None
    checks, values = ({one.id: one for one in found[kind]} for kind in (IssuedCheck, IssuedValue))
    return Record(Head(**{name: head.get(name, "") for name in HEADS}), *(tuple(found[kind]) for kind in PLAIN.values()), checks, values,
                  {value_id: tuple(one) for value_id, one in parts.items()})


def _readers(path: Path, line: int, form: str) -> dict:
    if form not in READERS:
        raise Faults([Fault(path.as_posix(), line, f"was written in form {form} by another version of the program", f"form {' or '.join(READERS)}")])
    return READERS[form]


def _check(cells: list[str], chapters: list[Chapter]) -> IssuedCheck:
    return IssuedCheck(cells[1], chapters[-1].id, *cells[2:])


def _value(cells: list[str], chapters: list[Chapter]) -> IssuedValue:
    origin, value_id, shown, number, unit, standing, over, *said = cells + BLANK[len(cells):]
    number, standing = number or ("" if over else _as_shown(shown)), standing or (origin if origin in INPUTS else "")
    return IssuedValue(value_id, chapters[-1].id, shown, number, unit, origin, standing, over, *(said if origin in INPUTS else ("", *said)))


def _part(cells: list[str], _) -> Part:
    _, element, shown, number, origin, standing, note = cells + BLANK[len(cells):]
    return Part(element, shown, number or _as_shown(shown), origin, standing or origin, note)


# -- the form before, in which records were issued -------------------------------------------------------------------

EARLIER_VALUE = ("id", "chapter", "shown", "number", "unit", "origin", "standing", "note", "over", "inputs", "counts", "tables", "maker", "how")


def _earlier_item(cells: list[str], _) -> Item:
    _, axis, item, _ = cells  # the last is its name
    return Item(axis, item)


def _earlier_check(cells: list[str], _) -> IssuedCheck:
    *said, _, sides = cells[1:]  # between them a remark of the project
    return IssuedCheck(*said, sides)


def _earlier_value(cells: list[str], _) -> IssuedValue:
    return IssuedValue(**dict(zip(EARLIER_VALUE, cells[1:])))


ALIKE = {sort: lambda cells, _, kind=kind: kind(*cells[1:]) for sort, kind in PLAIN.items()}
READERS = {  # by form: what makes each sort of line, of its cells and the chapters so far
    EARLIER: ALIKE | {"item": _earlier_item, "check": _earlier_check, "value": _earlier_value, "": lambda cells, _: Part(*cells[1:])},
    FORM: ALIKE | {"check": _check, **dict.fromkeys((*INPUTS, *MADE), _value), "": _part},
}
