"""What `show` opens by its id: a value, check, procedure, chapter, list, table or source, in a project or as the program has it.

Tells what is there; computes nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path

from basis.chapters import catalogue
from basis.export.values import verdict_record
from basis.language import notation
from basis.language.faults import Fault, Faults, find_command, nearest_name
from basis.language.formula import Chapter, Check, Formula, Procedure
from basis.language.sources import sources
from basis.language.standing import range_of
from basis.language.table import heads
from basis.language.terms import Term, homes, listed, lists_by_key, terms
from basis.language.words import item_words
from basis.reading.givens import wanted
from basis.reading.project import read
from basis.solving.book import Book
from basis.solving.examples import readable
from basis.solving.lacking import lacks, told
from basis.solving.solve import solve
from basis.solving.value import Value, written_shown
from basis.solving.verdict import Verdict
from basis.solving.verdict_words import NOTHING
from basis.solving.verdicts import failing_elements
from basis.solving.working import lines, record, with_digits
from basis.terminal.checks import ASKING, compared, counted_words, counts_line, verdict_line
from basis.terminal.finding import name_of, project_keys
from basis.terminal.reference import Opened, a_key, a_list, a_source, a_table, names_told

PLACE = "show"


def opened(name: str, book: Book | None = None, digits: int | None = None) -> list[Opened]:
    """All that has this id: in a book with its numbers, without one as the program has it. Raises Faults when nothing has."""
    openers = (partial(_value, digits=digits), partial(_check, digits=digits), _procedure, _chapter, a_list, a_key, a_table, a_source)
    found = [thing for opener in openers if (thing := opener(name, book)) is not None]
    if not found:
        known = [*(book.values if book else ()), *names_known()]
        where = f" in {book.project.slug}" if book else ""
        raise Faults([Fault(PLACE, 0, f"nothing is called '{name}'{where}", "the id of a value, check, procedure, chapter, list, table or source",
                            nearest_name(name, known), find_command(name.partition(".")[0]))])
    return found


def opened_project(book: Book) -> Opened:
    """A project: its chapters with how their checks stand."""
    rows = {chapter.id: counted_words(book.checks_of(chapter.id)) for chapter in book.chapters}
    head = f"{book.project.name} ({book.project.slug}): {counts_line(book, book.checks)}"
    return Opened("project", (head, *(f"  {chapter_id:<{max(map(len, rows))}}  {words}" for chapter_id, words in rows.items())),
                  {"kind": "project", "id": book.project.slug, "name": book.project.name, "chapters": rows, "still_open": book.still_open})


def book_to_open(folder: Path, opened_id: str = "", option: str = "") -> Book:
    """The book in which an id is opened, or with an option that of DECISION.OPTION. Solves no option that is not told of: all of them only for a chapter,
    and for the whole project. Raises Faults.
    """
    key = tuple(option.partition(".")[::2])
    whole = not opened_id or opened_id in {chapter.id for chapter in catalogue().chapters}
    project = read(folder)
    known = [(decision.id, one.id) for decision in project.decisions for one in decision.options]
    if option and key not in known:
        names = list(map(".".join, known))
        raise Faults([Fault(PLACE, 0, f"no option '{option}'", ", ".join(names) or "a project with decisions", nearest_name(option, names))])
    book = solve(project, only=None if whole else {key})
    return replace(book.options[key], options=book.options) if option else book


def shown_lines(found: list[Opened]) -> list[str]:
    """What was opened as lines."""
    return [line for place, one in enumerate(found) for line in (*([""] if place else []), *one.lines)]


def shown_record(found: list[Opened]) -> dict:
    """What was opened as plain data; what else has the id stands in it."""
    first, *rest = found
    return {**first.record, **({"also": [one.record for one in rest]} if rest else {})}


def names_known() -> list[str]:
    """Ids of everything that can be opened."""
    known = catalogue()
    checks = [one.id for some in known.checks.values() for one in some]
    return [*terms(), *checks, *_procedures(), *(one.id for one in known.chapters), *lists_by_key(), *project_keys(), *heads(), *sources()]


# ---- values and input keys ----

def _value(name: str, book: Book | None, digits: int | None) -> Opened | None:
    term_id = name.partition(".")[0]
    if term_id not in terms() and not (book and term_id in book.values):
        return None
    if book is None or term_id not in book.values:
        return _term(terms()[term_id], book)
    try:
        value = book[name]
    except KeyError as trouble:
        elements = [".".join((term_id, *ids)) for ids in book[term_id].elements()]
        raise Faults([Fault(PLACE, 0, str(trouble.args[0]), "an element", nearest_name(name, elements))]) from trouble
    values = book.values
    if digits:
        values, value = with_digits(values, digits), with_digits({"": value}, digits)[""]
    checked = [f"  checked by {one.check.id}: {one.word}" for one in book.checks_on(term_id)]
    return Opened("value", (*lines(values, value, book.names), *checked),
                  {"kind": "value", **record(values, value, book.names), "checked_by": {one.check.id: one.word for one in book.checks_on(term_id)}})


def _term(term: Term, book: Book | None) -> Opened:
    """A quantity that has no number here: what it is, who yields and who takes it, what is to be written."""
    producer = catalogue().producers.get(term.id)
    return Opened("value", tuple(_term_lines(term, producer, book)), {
        "kind": "value", "id": term.id, "name": term.name, "symbol": term.symbol, "meaning": term.meaning, "chapter": _home(term), "value_si": None,
        "unit_si": "" if term.is_text else term.unit, "formula": _formula_text(producer), "default": term.default, "key": _key(term),
        "to_give": [vars(lack) for lack in _lacking(term, book)], "used_by": _takers(term)})


def _term_lines(term: Term, producer, book: Book | None) -> Iterator[str]:
    yield f"{term.id}: {term.name}{f' ({term.symbol})' if term.symbol else ''}, {_home(term)}"
    if term.meaning:
        yield f"  {term.meaning}"
    if book:
        yield f"  {_why_absent(term, book)}"
        yield from _to_write(book, _lacking(term, book))
    if producer:
        yield from (f"  {part}" for part in _maker_lines(producer))
    if not producer or term.either:
        yield f"  key {_key(term)}: {_wanted(term)}" + (", or computed" if producer else ", optional" if term.optional else "")
    if term.default is not None:
        yield f"  default {written_shown(term, term.default)}, {sources()[term.source].citation} ({sources()[term.source].how_known})"
    if not term.is_text and any(map(math.isfinite, term.bounds)):
        yield f"  range {term.range_text}"
    if takers := _takers(term):
        yield f"  used by {names_told(takers)}"
    yield from (f"  checked by {one.id}" for one in _checks() if term.id in (one.value, one.limit))


def _home(term: Term) -> str:
    return catalogue().chapter_of.get(term.id, homes()[term.id])


def _key(term: Term) -> str:
    """Where a project gives it: `altitude in plant.yaml`, `gross_area of openings in ventilation.yaml`."""
    return " of ".join((term.id, *(listed(axis).key for axis in term.own_axes))) + f" in {homes()[term.id]}.yaml"


def _wanted(term: Term) -> str:
    """What a project writes behind the key."""
    if not term.fixed_axis or term.fixed_axis == "hour":
        return wanted(term)
    return f"a list of {len(listed(term.fixed_axis).fixed)}, for the {item_words(listed(term.fixed_axis).key)}, each {wanted(term)}"


def _why_absent(term: Term, book: Book) -> str:
    if term.id in book.undecided:
        return f"undecided in {book.project.slug}: {told(book, book.undecided[term.id])}"
    if _home(term) not in {chapter.id for chapter in book.chapters}:
        return f"chapter {_home(term)} is not in the book of {book.project.slug}"
    return f"nothing in {book.project.slug} asks for it"


def _lacking(term: Term, book: Book | None) -> tuple:
    return lacks(book, book.undecided[term.id]) if book and term.id in book.undecided else ()


def _to_write(book: Book, found) -> Iterator[str]:
    """What somebody has to write, key by key, and where."""
    for lack in found:
        if lack.key in lists_by_key():
            yield f"  write {lack.key}: a list of items, each with an id, in {book.project.folder}/{lack.file}"
            continue
        line = f":{lack.line}" if lack.line else ""
        yield f"  write {lack.key}: {_wanted(terms()[lack.key])}{f', for {lack.of}' if lack.of else ''}, in {book.project.folder}/{lack.file}{line}"


def _takers(term: Term) -> list[str]:
    """Ids of the formulas and procedures that take it."""
    return [one.id for some in catalogue().formulas.values() for one in some if term.id in one.parameters]


# ---- formulas and procedures ----

def _procedures() -> dict[str, Procedure]:
    return {one.id: one for some in catalogue().formulas.values() for one in some if isinstance(one, Procedure)}


def _procedure(name: str, book: Book | None) -> Opened | None:
    one = _procedures().get(name)
    if one is None or name in terms():  # the value of that id is shown, and its procedure with it
        return None
    values = book.values if book else {}
    numbers = {yielded: values[yielded].text() if yielded in values else "not in this book" for yielded in one.yields} if book else {}
    told_lines = [f"{one.id}: {name_of(one)}", *(f"  {part}" for part in _maker_lines(one)), f"  yields {', '.join(one.yields)}",
                  *(f"    {yielded} = {number}" for yielded, number in numbers.items())]
    return Opened("procedure", tuple(told_lines), {"kind": "procedure", "id": one.id, "name": name_of(one), "equation": one.equation,
                                                   "said": readable(" ".join(one.doc.split())), "inputs": list(one.parameters), "yields": list(one.yields),
                                                   "results": numbers, "sources": list(one.sources)})


def _formula_text(producer: Formula | Procedure | None) -> str:
    if producer is None:
        return ""
    return notation.text(producer.id, producer.expression) if isinstance(producer, Formula) else producer.equation


def _maker_lines(producer: Formula | Procedure) -> Iterator[str]:
    """What the author of a formula says, the formula, its inputs and sources, the range for which it holds."""
    yield from (readable(" ".join(part.split())) for part in producer.doc.split("\n\n"))
    yield _formula_text(producer)
    yield f"inputs {', '.join(producer.parameters) or 'none'}"
    yield from (f"source {sources()[one].citation} ({sources()[one].how_known})" for one in producer.sources)
    yield from (f"holds for {terms()[name].name} {range_of(terms()[name], bounds)}" for name, bounds in producer.valid.items())
    yield f"basis try {producer.id} --help-inputs"


# ---- checks ----

def _checks() -> list[Check]:
    return [one for some in catalogue().checks.values() for one in some]


def _check(name: str, book: Book | None, digits: int | None) -> Opened | None:
    check = next((one for one in _checks() if one.id == name), None)
    if check is None:
        return None
    try:
        verdict = book.check(name) if book else None
    except KeyError:
        verdict = None
    if verdict is None:
        where = f"not made in {book.project.slug}: chapter {catalogue().chapter_of[name]} is not in its book, or the text itself is held to it" if book else ""
        return Opened("check", tuple(_rule_lines(check, where)), {"kind": "check", "check": name, "title": check.title, "value_id": check.value,
                                                                   "limit_id": check.limit, "safe": check.safe, "sources": list(check.sources)})
    sides = _sides(book, verdict, digits)
    return Opened("check", (*_verdict_lines(book, verdict), *(line for values, side in sides for line in ("", *lines(values, side, book.names)))),
                  {"kind": "check", **verdict_record(book, verdict), "sources": list(check.sources), "safe": check.safe,
                   "workings": [record(values, side, book.names) for values, side in sides]})


def _rule_lines(check: Check, where: str = "") -> Iterator[str]:
    """What a check asks."""
    yield f"{check.id}: {check.title}, {catalogue().chapter_of[check.id]}"
    if where:
        yield f"  {where}"
    yield f"  {check.value} must be {'at most' if check.safe == 'below' else 'at least'} {check.limit}"
    yield from (f"  asked only where {name} is {' or '.join(words)}" for name, words in check.applies)
    yield from (f"  source {sources()[one].citation} ({sources()[one].how_known})" for one in check.sources)


def _verdict_lines(book: Book, verdict: Verdict) -> Iterator[str]:
    yield from _rule_lines(verdict.check)
    if verdict.word == NOTHING:
        yield f"  nothing to check: {verdict.nothing_text}"
    elif verdict.word == "undecided":
        yield f"  undecided: {told(book, verdict.missing)}"
        yield from _to_write(book, lacks(book, verdict.missing))
    else:
        where = f" at {', '.join(map(item_words, verdict.element.split()))}" if verdict.element else ""
        yield f"  {verdict.word}{where}: {compared(verdict)}"
    if verdict.word == "fails" and len(failing := failing_elements(verdict.check, book.values)) > 1:
        yield f"  fails at {len(failing)}: {names_told(' '.join(map(item_words, ids)) for ids in failing)}"
    if verdict.marks:
        yield f"  rests on what is {', '.join(verdict.marks)}"
    if verdict.remark:
        yield f"  remark: {verdict.remark}"


def _sides(book: Book, verdict: Verdict, digits: int | None) -> list[tuple[dict, Value]]:
    """Value and limit, at the element that decides, with the values beside which they are shown; those that are there."""
    shown = [(verdict.value or book.values.get(verdict.check.value)), (verdict.limit or book.values.get(verdict.check.limit))]
    if digits:
        values = with_digits(book.values, digits)
        return [(values, with_digits({"": side}, digits)[""]) for side in shown if side is not None]
    return [(book.values, side) for side in shown if side is not None]


# ---- chapters ----

def _chapter(name: str, book: Book | None) -> Opened | None:
    chapter = next((one for one in catalogue().chapters if one.id == name), None)
    if chapter is None:
        return None
    if book is None or name not in {one.id for one in book.chapters}:
        return _chapter_of_program(chapter, book)
    reads, read_by = _reads(book, name), _read_by(book, name)
    verdicts, values = book.checks_of(name), book.of_chapter(name)
    computed = sum(book.computed(value.id) for value in values)
    assumed = [given for given in book.assumptions() if book.home.get(given.term) == name]
    told_lines = [f"{chapter.id}: {chapter.title}", f"  {counted_words(verdicts)}",
                  *(f"  {verdict_line(book, one)}" for word in ASKING for one in verdicts if one.word == word),
                  f"  {len(values)} values: {computed} computed, {len(values) - computed} given or by default; {len(assumed)} assumed",
                  *(f"  reads from {other}: {names_told(ids)}" for other, ids in reads.items()),
                  *(f"  read by {other}: {names_told(ids)}" for other, ids in read_by.items()),
                  *(f"  decision {one.id}: {one.chosen}" for one in book.decisions_of(name))]
    return Opened("chapter", tuple(told_lines), {
        "kind": "chapter", "id": name, "title": chapter.title, "checks": [verdict_record(book, one) for one in verdicts],
        "values": [value.id for value in values], "computed": computed, "assumed": [given.term for given in assumed], "reads_from": reads, "read_by": read_by,
        "decisions": {one.id: one.chosen for one in book.decisions_of(name)}})


def _chapter_of_program(chapter: Chapter, book: Book | None) -> Opened:
    known = catalogue()
    formulas, checks = [[one.id for one in held[chapter.id]] for held in (known.formulas, known.checks)]
    keys = [term.id for term in terms().values() if homes()[term.id] == chapter.id and term.id not in known.producers and not term.constant]
    told_lines = [f"{chapter.id}: {chapter.title}", *([f"  not in the book of {book.project.slug}"] if book else []),
                  f"  {len(keys)} input keys: {names_told(keys)}", f"  {len(formulas)} formulas and procedures: {names_told(formulas)}",
                  f"  {len(checks)} checks: {names_told(checks)}"]
    return Opened("chapter", tuple(told_lines), {"kind": "chapter", "id": chapter.id, "title": chapter.title, "input_keys": keys, "formulas": formulas,
                                                 "checks": checks})


def _reads(book: Book, chapter_id: str) -> dict[str, list[str]]:
    """Other chapter -> ids of its values that a chapter reads, in its formulas and its checks."""
    own = set(book.ids_of_chapter(chapter_id))
    asked = {*(name for value_id in own for name in book.values[value_id].inputs), *(name for one in book.checks_of(chapter_id) for name in one.check.sides)}
    found: dict[str, list[str]] = {}
    for name in book.values:  # in order of computing
        if name in asked and name not in own:
            found.setdefault(book.home[name], []).append(name)
    return found


def _read_by(book: Book, chapter_id: str) -> dict[str, list[str]]:
    """Other chapter -> ids of the values of a chapter that it reads."""
    return {other.id: there[chapter_id] for other in book.chapters if other.id != chapter_id and chapter_id in (there := _reads(book, other.id))}
