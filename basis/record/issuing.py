"""From a Book to a record: what stands in it, and the file that `basis issue` writes. Never overwrites."""

from __future__ import annotations

import os
from hashlib import sha256
from itertools import product
from pathlib import Path

import numpy as np

from basis import __version__
from basis.chapters import catalogue
from basis.language import digests, units
from basis.language.days import is_day
from basis.language.faults import Fault, Faults, OutOfTable, nearest_name
from basis.language.formula import Formula
from basis.language.standing import reads_of, tables_named
from basis.language.table import Table, table
from basis.reading.folder import EQUIPMENT
from basis.reading.schema import STANDINGS
from basis.record import issued
from basis.record.issued import Record, Role
from basis.record.makers import SHORT, told_of
from basis.solving.book import Book
from basis.solving.value import MARKS, Value
from basis.solving.verdict import Verdict
from basis.solving.working import unit_of

ROLES = {"prepared": 1, "checked": 2, "verified": 2, "approved": 3}  # in which order they sign
STATED = STANDINGS["stated"]
CELL_DIGITS = 10
FORMULA_STARTS = ("=", "+", "-", "@")  # a text that a spreadsheet would run


def issue(book: Book, revision: str, date: str, note: str, roles: tuple[Role, ...] = ()) -> Path:
    """Write the record of a book as issued, and return its path. Raises Faults: a revision that is there or is no name, another than the text has, a date that
    is none or lies before the last issue, a role that is none, or that signed out of order.
    """
    folder = Path(book.project.folder)
    before = issued.records_of(folder)
    path = folder / issued.FOLDER / f"{revision}{issued.ENDING}"
    if wrong := [*_refused(before, revision, date, note), *_other_in_text(book, revision), *_refused_roles(roles, date)]:
        raise Faults([Fault(f"issue {book.project.slug}", 0, *trouble) for trouble in wrong])
    number = int(before[-1].head.number) + 1 if before else 1
    record = record_of(book, revision=revision, number=str(number), date=date, note=_safe(note), roles=roles)
    _write_new(path, issued.text_of(record))
    return path


def _refused(before: tuple[Record, ...], revision: str, date: str, note: str):
    if not issued.REVISION.fullmatch(revision):
        yield f"'{revision}' is no revision", "letters, digits, . _ and -, at most 16", ""
    if taken := [old.head.revision for old in before if old.head.revision.casefold() == revision.casefold()]:
        yield f"revision {taken[0]} is issued already", "a new revision; an issued one stays as it is", ""
    if not is_day(date):
        yield f"the date '{date}' is none", "a day such as 2026-11-20", ""
    elif before and date < before[-1].head.date:
        yield f"the date {date} lies before that of revision {before[-1].head.revision}, {before[-1].head.date}", "the same day or a later one", ""
    if not note.strip():
        yield "the note is empty", "what this issue is for", ""


def _other_in_text(book: Book, revision: str):
    """The title block of every page has the revision of the text: a book that bears another one than its issue misleads who holds the paper."""
    stated = book.values.get("revision")
    if stated is not None and stated.givens and stated.number.casefold() != revision.casefold():
        yield f"the text says that this book is revision {stated.number}", f"'revision: {revision}' in the text, or revision {stated.number} issued", ""


def _refused_roles(roles: tuple[Role, ...], date: str):
    """Roles that are none or have no day; else those that signed after the issue, before there was anything to sign, or twice on one day."""
    wrong = [fault for role in roles for fault in _refused_role(role)]
    yield from wrong or _out_of_order(roles, date)


def _refused_role(role: Role):
    if role.role not in ROLES:
        yield f"no role '{role.role}'", ", ".join(ROLES), nearest_name(role.role, ROLES)
    if not is_day(role.date):
        yield f"the date '{role.date}' of '{role.role}' is none", "a day such as 2026-11-20", ""


def _out_of_order(roles: tuple[Role, ...], date: str):
    for place, (role, day) in enumerate(roles):
        if is_day(date) and day > date:
            yield f"{role} on {day}, after the issue of {date}", "an issue on the day of its last signature, or later", ""
        if Role(role, day) in roles[:place]:
            yield f"{role} on {day} stands twice", "each signature once", ""
        for other, before in roles:
            if ROLES[other] > ROLES[role] and before < day:
                yield f"{other} on {before}, before it was {role} on {day}", "prepared first, approved last", ""


def _write_new(path: Path, text: str) -> None:
    """All of it or nothing, and never over what is there."""
    path.parent.mkdir(exist_ok=True)
    part = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        with part.open("w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.link(part, path)
    except FileExistsError:
        raise Faults([Fault(path.as_posix(), 0, "is there already", "a new revision")]) from None
    finally:
        part.unlink(missing_ok=True)


def record_of(book: Book, revision: str = "", number: str = "", date: str = "", note: str = "", roles: tuple[Role, ...] = (),
              before: Record | None = None) -> Record:
    """The record of a book as it stands: all its values but those that prove the program, such as residuals, which are not the plant's and move with
    every number. Lines of what has not moved since the record `before` are taken from there.
    """
    project = book.project
    head = issued.Head(project.slug, _safe(project.name), __version__, text_digest(book), revision, number, date, note)
    chosen = tuple(issued.Chosen(decision.id, decision.chosen, _safe(next(option.name for option in decision.options if option.id == decision.chosen)))
                   for decision in project.decisions)
    items = tuple(issued.Item(axis, item) for axis, ids in book.items.items() if axis != "hour" for item in ids)
    chapters = tuple(issued.Chapter(chapter.id, chapter.title) for chapter in book.chapters)
    checks = {verdict.check.id: _check(verdict, catalogue().chapter_of.get(verdict.check.id, "")) for verdict in book.checks}
    makers = {name: step for step in book.steps for name in step.yields}
    proving = values_that_prove(book)
    ordered = [book.values[value_id] for chapter in book.chapters for value_id in book.ids_of_chapter(chapter.id) if value_id not in proving]
    read = {value.id: _reads(makers.get(value.id), book) for value in ordered}
    made_from = {value.id: (value.digest, value.producer, book.home[value.id], *read[value.id]) for value in ordered}
    same = {value_id for value_id, made in made_from.items() if before and before.made_from.get(value_id) == made}
    values = {value.id: before.values[value.id] if value.id in same else _value(value, book, tuple(read[value.id])) for value in ordered}
    parts = {value.id: before.parts.get(value.id) if value.id in same else tuple(_parts(value)) for value in ordered if value.axes and not _hourly(value)}
    return Record(head, roles, chosen, items, tuple(_rows(read)), chapters, checks, values, {name: found for name, found in parts.items() if found}, made_from)


def values_that_prove(book: Book) -> frozenset[str]:
    """Ids of what only self-tests of the program look at: their values and limits that the project does not give and no formula and no other check takes,
    whatever the project chooses.
    """
    every = [check for checks in catalogue().checks.values() for check in checks]
    looked_at = {name for step in catalogue().producers.values() for name in step.parameters}
    looked_at |= {name for check in every if not check.self_test for name in check.sides}
    proving = {name for check in every if check.self_test for name in (check.value, check.limit)} - looked_at
    return frozenset(name for name in proving if name in book.values and not book.values[name].givens)


def text_digest(book: Book) -> str:
    """Of the files that the project was read from, hourly ones and data sheets among them."""
    folder = Path(book.project.folder)
    hourly = {given.written for value in book.values.values() if _hourly(value) for given in value.givens.values()}
    files = [(name, folder / name) for name in sorted({*book.project.files, *hourly})]
    files += [(f"{EQUIPMENT}/{path.name}", path) for path in sorted(book.project.sheets)]
    texts = [(name, path.read_bytes().replace(b"\r\n", b"\n")) for name, path in files]
    return sha256(b"\0".join(part for name, text in texts for part in (name.encode(), text))).hexdigest()


def _safe(text: str) -> str:
    """What a person wrote, on one line, and nothing that a spreadsheet would run."""
    text = " ".join(text.split())
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text


def _check(verdict: Verdict, chapter: str) -> issued.IssuedCheck:
    check, decided = verdict.check, verdict.decided
    margin, *sides = (_full(verdict.margin), verdict.value.text(), verdict.limit.text()) if decided else ("", "", "")
    return issued.IssuedCheck(check.id, chapter, verdict.word, margin, verdict.margin_text, *map(_safe, sides), verdict.element,
                              verdict.nothing_text or (f"not given: {', '.join(verdict.missing)}" if verdict.missing else ""), " ".join(check.sides))


# -- values -----------------------------------------------------------------------------------------------------------


def _value(value: Value, book: Book, reads: tuple) -> issued.IssuedValue:
    maker, given = value.producer, value.given
    standing = ", ".join(mark for mark in MARKS if mark in value.marks) if maker else STATED if value.givens and value.axes else value.standing
    return issued.IssuedValue(value.id, book.home[value.id], _shown(value), _whole(value), unit_of(value), value.origin, standing, " ".join(value.axes),
                              _safe(given.note) if given else "", *told_of(value.id, maker), " ".join(value.inputs), " ".join(reads),
                              " ".join(maker.counts) if isinstance(maker, Formula) else "")


def _shown(value: Value) -> str:
    """A plain value with its unit; of one over items the unit alone, of a year how many numbers it has and the beginning of their digest."""
    if _hourly(value):
        return f"{value.text()}, digest {_whole(value)[:SHORT]}"
    return value.unit_text() if value.axes else _safe(value.text())


def _whole(value: Value) -> str:
    """The number of a plain value, the digest of an hourly one."""
    if value.axes:
        return digests.digest(digests.text_of(value.number)) if _hourly(value) else ""
    return _full(value.number)


def _hourly(value: Value) -> bool:
    return "hour" in value.axes


def _full(number) -> str:
    return _safe(number) if isinstance(number, str) else issued.in_full(number)


def _parts(value: Value):
    """One element each; of numbers over two axes or more one row along the last."""
    if not np.size(value.number):
        return
    rows = len(value.axes) > 1 and not value.term.is_text
    numbers = (value.number.reshape(-1, value.number.shape[-1]) if rows else np.ravel(value.number)).tolist()
    for ids, number in zip(product(*(value.items[:-1] if rows else value.items)), numbers):
        given = value.givens.get(ids[0]) or value.givens.get("")
        origin = "given" if given else "default" if value.origin == "given" and value.term.default is not None else value.origin
        standing = given.standing if given else "" if origin == value.origin else origin
        standing = "" if standing == (STATED if value.origin == "given" else value.standing) else standing
        shown = issued.APART.join(value.shown(one, unit=False) for one in number) if rows else _safe(value.shown(number, unit=False))
        yield issued.Part(".".join(ids), shown, issued.CELLS.join(map(_full, number)) if rows else _full(number), "" if origin == value.origin else origin,
                   standing, _safe(given.note) if given else "")


# -- tables -----------------------------------------------------------------------------------------------------------


def _reads(step, book: Book) -> dict[str, set[int]]:
    """Id of each table that a step reads -> places of the rows that it uses."""
    found: dict[str, set[int]] = {}
    for where, _, key in reads_of(step) if step else ():
        for one in map(table, tables_named(where, book.values)):
            found.setdefault(one.id, set()).update(_used(one, book.values.get(key)))
    return found


def _used(one: Table, key: Value | None):
    """Places of the rows to which the keys lead; of all where the key is not a value of the book."""
    if key is None:
        return range(len(one.keys))
    found = set()
    for number in np.unique(np.ravel(key.number)).tolist():
        try:
            found.update(one.rows_used(number) if number == number and number != "" else ())
        except OutOfTable:
            continue  # of another table of the same family
    return found


def _rows(read: dict[str, dict[str, set[int]]]):
    """Every row that a value of the book uses, once."""
    used: dict[str, set[int]] = {}
    for reads in read.values():
        for table_id, places in reads.items():
            used.setdefault(table_id, set()).update(places)
    for table_id in sorted(used):
        one = table(table_id)
        yield issued.TableRow(table_id, "rule", one.rule)
        for place in sorted(used[table_id]):
            cells = (f"{name} {_cell(one, name, place)}" for name in one.columns if name != one.key)
            yield issued.TableRow(table_id, one.row_text(one.keys[place]), "; ".join(cells))


def _cell(one: Table, column: str, place: int) -> str:
    cell, unit = one.columns[column][place], one.units[column]
    return str(cell) if unit == "text" else f"{units.from_si(cell, unit):.{CELL_DIGITS}g} {'' if unit == '1' else unit}".strip()


