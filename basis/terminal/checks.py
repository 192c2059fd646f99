"""What `check` tells: verdicts as lines and as plain data, the ones that ask for something first.

Tells what `basis.solving` has judged; judges nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from basis.chapters import catalogue
from basis.export.values import verdict_record
from basis.language import user_cache
from basis.language.faults import Fault, Faults, nearest_name
from basis.language.words import item_words
from basis.reading.folder import digest_of_text
from basis.solving.book import Book
from basis.solving.lacking import told
from basis.solving.verdict import Verdict

VERDICT_COLOURS = {"fails": "red", "tight": "yellow", "undecided": "cyan", "holds": "green", "nothing to check": "bright_black"}
ASKING = ("fails", "tight", "undecided")  # what somebody has to look at, what is worst first
COUNTED = {"fails": ASKING[:1], "tight": ASKING[:2], "undecided": ASKING, "never": ()}  # by the mildest that makes `check` fail
KEPT = "checked"  # name of what is kept for the next `check`
STILL = {"requirements": "not answered", "questions": "open"}


@dataclass(frozen=True)
class Checked:
    """What is told of each project that could be solved, what is wrong with the text of the others, and the chapters asked for; without any, all."""

    projects: Sequence[dict]
    faults: Sequence[Fault]
    chapters: tuple[str, ...] = ()
    counted: tuple[str, ...] = COUNTED["fails"]
    explained_ok: bool = False

    def asked(self, told: list[dict]) -> list[dict]:
        """What is told of the checks or self-tests of the chapters asked for."""
        return [one for one in told if not self.chapters or one["chapter"] in self.chapters]

    @property
    def against(self) -> list[dict]:
        """What is told of those for which `check` fails."""
        return [one for project in self.projects for one in self.asked(project["checks"] + project["self_tests"])
                if one["record"]["verdict"] in self.counted and not (self.explained_ok and one["record"]["remark"])]


def checked(projects: Path, slugs: Iterable[str], chapters: tuple[str, ...] = (), fail_on: str = "fails", explained_ok: bool = False) -> Checked:
    """Solve these projects, or recall what was told of those whose text stands as it did. Raises Faults for a chapter that none of their books has."""
    told, faults = [], []
    for slug in slugs:
        try:
            told.append(_recalled(projects / slug))
        except Faults as found:
            faults += found.faults
        faults += _broken_records(projects / slug)
    known = list(dict.fromkeys(chapter for project in told for chapter in project["chapters"]))
    if unknown := [one for one in chapters if told and one not in known]:
        raise Faults([Fault("check", 0, f"no chapter '{one}' in these books", ", ".join(known), nearest_name(one, known)) for one in unknown])
    return Checked(told, sorted(set(faults)), chapters, COUNTED[fail_on], explained_ok)


def _recalled(folder: Path) -> dict:
    """What is told of a project, as it was kept for the same text and program; else anew, and kept. Raises Faults of its text."""
    import basis

    key = _digest(folder)
    found = user_cache.recall(KEPT, key) if key else None
    if found is None:
        found = told_of(basis.load(folder))
        if key and _digest(folder) == key:  # nobody has saved meanwhile
            user_cache.keep(KEPT, key, found)
    return found


def _digest(folder: Path) -> str:
    try:
        return digest_of_text(folder)
    except OSError:  # whoever reads it in earnest tells why
        return ""


def _broken_records(folder: Path) -> tuple[Fault, ...]:
    """What is wrong with records that were issued: edited by hand, half-written, of another project."""
    from basis.record.issued import records_of  # here, as below: `show` tells verdicts and asks nothing of the record

    try:
        records_of(folder)
    except Faults as found:
        return found.faults
    return ()


def told_of(book: Book) -> dict:
    """All that `check` tells of a project, as plain data: of each verdict its chapter, its line and its record."""
    from basis.record.requirements import tallies

    tallied = tallies(book)
    facts = {"still_open": book.still_open, **tallied,
             "not_read": [{"term": one.given.term, "element": one.given.element, "file": one.given.file, "line": one.given.line,
                           "beside": [choice.id for choice in one.beside]} for one in book.not_read],
             "assumptions": [{"term": given.term, "element": given.element, "file": given.file, "line": given.line} for given in book.assumptions()]}
    return {"project": book.project.slug, "name": book.project.name, "chapters": [chapter.id for chapter in book.chapters],
            **{kind: [_told(book, verdict) for verdict in verdicts] for kind, verdicts in (("checks", book.checks), ("self_tests", book.self_tests))},
            "facts": facts, "rest": [*(one.told for one in book.not_read), *_registers(tallied)], "open": _open(book)}


def _told(book: Book, verdict: Verdict) -> dict:
    return {"chapter": catalogue().chapter_of.get(verdict.check.id, ""), "line": verdict_line(book, verdict), "record": verdict_record(book, verdict)}


# ---- plain data ----

def check_record(found: Checked) -> dict:
    """All of it as plain data."""
    return {"faults": [fault.as_record() for fault in found.faults], "counted_against": len(found.against),
            "projects": [{"project": project["project"], **{kind: [one["record"] for one in found.asked(project[kind])] for kind in ("checks", "self_tests")},
                          **project["facts"]} for project in found.projects]}


# ---- lines ----

def check_lines(found: Checked, everything: bool = False) -> Iterator[str]:
    """Of each project what fails, is tight or undecided, and how many; with `everything` also what holds, what nothing reads and the registers."""
    for project in found.projects:
        yield click.style(f"{project['name']} ({project['project']})", bold=True)
        told = found.asked(project["checks"])
        shown = told if everything else sorted((one for one in told if _word(one) in ASKING), key=lambda one: ASKING.index(_word(one)))
        broken = [one for one in found.asked(project["self_tests"]) if _word(one) in ASKING]
        yield from (f"  {one['line']}" for one in (*shown, *broken))
        if everything and not found.chapters:
            yield from (f"  {line}" for line in project["rest"])
        yield f"  {_counted(map(_word, told))}; {'in the whole book ' if found.chapters else ''}{project['open']}"


def _word(told: dict) -> str:
    return told["record"]["verdict"]


def _registers(tallied: dict) -> Iterator[str]:
    for register, tally in tallied.items():
        if tally["listed"]:
            ids = f" ({', '.join(tally['open'])})" if tally["open"] else ""
            yield f"{register}: {tally['listed']}, {len(tally['open'])} {STILL[register]}{ids}"


def counts_line(book: Book, verdicts: Iterable[Verdict]) -> str:
    """How many checks stand how, and how much is still open, in one line."""
    return f"{counted_words(verdicts)}; {_open(book)}"


def _open(book: Book) -> str:
    idle = f"; given and not read: {len(book.not_read)}" if book.not_read else ""
    return f"open: {book.still_open}{idle}"


def counted_words(verdicts: Iterable[Verdict]) -> str:
    """`checks: 2 fails, 1 tight, 40 holds`."""
    return _counted(verdict.word for verdict in verdicts)


def _counted(words: Iterable[str]) -> str:
    tally = Counter(words)
    return f"checks: {', '.join(f'{tally[word]} {word}' for word in VERDICT_COLOURS if tally[word]) or 'none'}"


def verdict_line(book: Book, verdict: Verdict) -> str:
    """Word, title, value against limit, margin, and in brackets the ids of check and value, which `show` opens."""
    word = click.style(f"{verdict.word:<{max(map(len, VERDICT_COLOURS))}}", fg=VERDICT_COLOURS[verdict.word])
    return f"{word} {_said(book, verdict)} [{verdict.check.id}: {verdict.value.id if verdict.value else verdict.check.value}]"


def _said(book: Book, verdict: Verdict) -> str:
    if verdict.nothing_text:
        return f"{verdict.check.title}: {verdict.nothing_text}"
    if verdict.word == "undecided":
        return f"{verdict.check.title}: {told(book, verdict.missing)}"
    where = f" at {', '.join(map(item_words, verdict.element.split()))}" if verdict.element else ""
    remark = f" – {verdict.remark}" if verdict.remark and verdict.word != "holds" else ""
    return f"{verdict.check.title}{where}: {compared(verdict)}{remark}"


def compared(verdict: Verdict) -> str:
    """Value, sign, limit and whose it is, margin, chance."""
    chance = f", met in {verdict.chance_text} of {verdict.samples_text}" if verdict.samples else ""
    whose = f" ({verdict.limit_mark})" if verdict.limit_mark else ""
    sign = "≤" if verdict.check.safe == "below" else "≥"
    return f"{verdict.value.text()} {sign} {verdict.limit.text()}{whose}, {verdict.margin_words}{chance}"
