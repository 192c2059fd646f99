"""What `check` tells: verdicts as lines and as plain data, the ones that ask for something first.

Tells what `basis.solving` has judged; judges nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from basis.language.faults import Fault, Faults, nearest_name
from basis.language.words import item_words
from basis.solving.book import Book, Verdict
from basis.solving.lacking import lacks, told
from basis.solving.working import finite

VERDICT_COLOURS = {"fails": "red", "tight": "yellow", "undecided": "cyan", "holds": "green", "nothing to check": "bright_black"}
ASKING = ("fails", "tight", "undecided")  # what somebody has to look at, what is worst first
COUNTED = {"fails": ASKING[:1], "tight": ASKING[:2], "undecided": ASKING, "never": ()}  # by the mildest that makes `check` fail
STILL = {"requirements": "not answered", "questions": "open"}


@dataclass(frozen=True)
class Checked:
    """Books that could be solved, what is wrong with the text of the others, and the chapters asked for; without any, all."""

    books: Sequence[Book]
    faults: Sequence[Fault]
    chapters: tuple[str, ...] = ()
    counted: tuple[str, ...] = COUNTED["fails"]
    explained_ok: bool = False

    def verdicts(self, book: Book) -> list[Verdict]:
        """The checks asked for."""
        return [one for one in book.checks if self._asked(book, one)]

    def self_tests(self, book: Book) -> list[Verdict]:
        """The same of the self-tests."""
        return [one for one in book.self_tests if self._asked(book, one)]

    def _asked(self, book: Book, verdict: Verdict) -> bool:
        return not self.chapters or any(verdict in own for one in self.chapters for own in (book.checks_of(one), book.self_tests_of(one)))

    @property
    def against(self) -> list[Verdict]:
        """Verdicts for which `check` fails."""
        return [one for book in self.books for one in (*self.verdicts(book), *self.self_tests(book))
                if one.word in self.counted and not (self.explained_ok and one.remark)]


def checked(projects: Path, slugs: Iterable[str], chapters: tuple[str, ...] = (), fail_on: str = "fails", explained_ok: bool = False) -> Checked:
    """Solve these projects. Raises Faults for a chapter that none of their books has."""
    import basis

    books, faults = [], []
    for slug in slugs:
        try:
            books.append(basis.load(projects / slug))
        except Faults as found:
            faults += found.faults
        faults += _broken_records(projects / slug)
    known = list(dict.fromkeys(chapter.id for book in books for chapter in book.chapters))
    if unknown := [one for one in chapters if books and one not in known]:
        raise Faults([Fault("check", 0, f"no chapter '{one}' in these books", ", ".join(known), nearest_name(one, known)) for one in unknown])
    return Checked(books, sorted(set(faults)), chapters, COUNTED[fail_on], explained_ok)


def _broken_records(folder: Path) -> tuple[Fault, ...]:
    """What is wrong with records that were issued: edited by hand, half-written, of another project."""
    from basis.record.issued import records_of  # here, as below: `show` tells verdicts and asks nothing of the record

    try:
        records_of(folder)
    except Faults as found:
        return found.faults
    return ()


# ---- plain data ----

def check_record(found: Checked) -> dict:
    """All of it as plain data."""
    from basis.record.requirements import tallies

    return {"faults": [fault.as_record() for fault in found.faults], "counted_against": len(found.against),
            "projects": [{"project": book.project.slug, "checks": [verdict_record(book, verdict) for verdict in found.verdicts(book)],
                          "self_tests": [verdict_record(book, verdict) for verdict in found.self_tests(book)],
                          "still_open": book.still_open, **tallies(book),
                          "not_read": [{"term": one.given.term, "element": one.given.element, "file": one.given.file, "line": one.given.line,
                                        "beside": [choice.id for choice in one.beside]} for one in book.not_read],
                          "assumptions": [{"term": given.term, "element": given.element, "file": given.file, "line": given.line}
                                          for given in book.assumptions()]}
                         for book in found.books]}


def verdict_record(book: Book, verdict: Verdict) -> dict:
    """One verdict as plain data."""
    return {"check": verdict.check.id, "title": verdict.check.title, "verdict": verdict.word, "margin": finite(verdict.margin),
            "margin_shown": verdict.margin_text, "value_id": verdict.check.value, "limit_id": verdict.check.limit,
            "element": verdict.element, "value": verdict.value.text() if verdict.value else None, "limit": verdict.limit.text() if verdict.limit else None,
            "missing": list(verdict.missing), "to_give": [vars(lack) for lack in lacks(book, verdict.missing)], "unlisted": list(verdict.unlisted),
            "beside": [value.id for value in verdict.beside], "sized": [term.id for term in verdict.sized],
            "marks": list(verdict.marks), "limit_mark": verdict.limit_mark,
            "chance": finite(verdict.chance), "samples": verdict.samples, "samples_uncomputed": verdict.uncomputed,
            "remark": verdict.remark}


# ---- lines ----

def check_lines(found: Checked, everything: bool = False) -> Iterator[str]:
    """Of each project what fails, is tight or undecided, and how many; with `everything` also what holds, what nothing reads and the registers."""
    for book in found.books:
        yield click.style(f"{book.project.name} ({book.project.slug})", bold=True)
        verdicts = found.verdicts(book)
        shown = verdicts if everything else sorted((one for one in verdicts if one.word in ASKING), key=lambda one: ASKING.index(one.word))
        broken = [one for one in found.self_tests(book) if one.word != "holds"]
        yield from (f"  {verdict_line(book, verdict)}" for verdict in (*shown, *broken))
        if everything and not found.chapters:
            yield from _rest(book)
        yield f"  {counts_line(book, verdicts)}"


def _rest(book: Book) -> Iterator[str]:
    from basis.record.requirements import tallies

    for one in book.not_read:
        yield f"  {one.told}"
    for register, tally in tallies(book).items():
        if tally["listed"]:
            ids = f" ({', '.join(tally['open'])})" if tally["open"] else ""
            yield f"  {register}: {tally['listed']}, {len(tally['open'])} {STILL[register]}{ids}"


def counts_line(book: Book, verdicts: Sequence[Verdict]) -> str:
    """How many checks stand how, and how much is still open, in one line."""
    idle = f"; given and not read: {len(book.not_read)}" if book.not_read else ""
    return f"{counted_words(verdicts)}; open: {book.still_open}{idle}"


def counted_words(verdicts: Iterable[Verdict]) -> str:
    """`checks: 2 fails, 1 tight, 40 holds`."""
    tally = Counter(verdict.word for verdict in verdicts)
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
