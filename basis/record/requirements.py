"""How the requirements of a project are answered by its book: the verdict of a check, a number, a chapter, a statement, or not at all."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from basis.chapters import catalogue
from basis.language.formula import Chapter
from basis.language.words import in_sentence
from basis.reading.register import Requirement
from basis.reading.schema import OPEN
from basis.solving.book import Book
from basis.solving.lacking import told
from basis.solving.named import chapter_of
from basis.solving.value import Value
from basis.solving.verdict import Verdict

UNANSWERED, NO_VERDICT = "not answered", "no verdict"  # beside the words of a Verdict
STATED = "stated by the project; nothing is computed"
DESCRIBED = "the chapter describes it; no check is named for it"
SHOWN = "a number is shown; no check is named for it"
NOBODY = "nobody has said yet what answers it"


@dataclass(frozen=True)
class Answer:
    """How one requirement stands. `word`: that of a Verdict, UNANSWERED or NO_VERDICT; `why` says the last two in words."""

    requirement: Requirement
    code: str  # title
    edition: str
    chapter: Chapter | None  # of what answers it; None where that is a statement or nothing
    word: str
    why: str = ""
    verdict: Verdict | None = None
    value: Value | None = None

    @property
    def answered(self) -> bool:
        """Whether something answers it that can be read in the book."""
        return self.word not in (UNANSWERED, "undecided")


def answers(book: Book) -> tuple[Answer, ...]:
    """All requirements, by chapter as the book has them, then by code, then as the project lists them."""
    order = [chapter.id for chapter in book.chapters]
    found = [_answer(book, one) for one in book.project.requirements]
    return tuple(sorted(found, key=lambda one: (order.index(one.chapter.id) if one.chapter and one.chapter.id in order else len(order), one.code)))


def tallies(book: Book) -> dict[str, dict]:
    """Of requirements and of questions how many are listed, and the ids of those without an answer."""
    found, asked = answers(book), book.project.questions
    return {"requirements": {"listed": len(found), "open": [one.requirement.id for one in found if not one.answered]},
            "questions": {"listed": len(asked), "open": [one.id for one in asked if one.state == OPEN]}}


def _answer(book: Book, one: Requirement) -> Answer:
    title, edition = _code(book, one)
    named = one.check or one.value
    chapter_id = one.chapter or (chapter_of(named) if named else "")
    chapter = next((chapter for chapter in catalogue().chapters if chapter.id == chapter_id), None)
    return Answer(one, title, edition, chapter, **_standing(book, one, chapter))


def _code(book: Book, one: Requirement) -> tuple[str, str]:
    """Title and edition of the code: as the requirement says, or as the list of codes has them."""
    if one.code not in book.items.get("code", ()):
        return one.code, one.edition
    title, edition = (book[f"{key}.{one.code}"].number if key in book else "" for key in ("code_title", "code_edition"))
    return title or one.code, one.edition or edition


def _standing(book: Book, one: Requirement, chapter: Chapter | None) -> dict:
    if one.statement:
        return {"word": NO_VERDICT, "why": STATED}
    if chapter is None:
        return {"word": UNANSWERED, "why": NOBODY}
    if chapter.id not in [own.id for own in book.chapters]:
        return {"word": UNANSWERED, "why": f"this book has no chapter on {in_sentence(chapter.title)}"}
    if one.check:
        verdict = book.check(one.check)
        return {"word": verdict.word, "why": told(book, verdict.missing) if verdict.word == "undecided" else verdict.nothing_text, "verdict": verdict}
    return _of_value(book, one.value) if one.value else {"word": NO_VERDICT, "why": DESCRIBED}


def _of_value(book: Book, value_id: str) -> dict:
    """How a number answers: it does if it is there."""
    try:
        value = book[value_id]
    except KeyError:
        missing = book.undecided.get(value_id.partition(".")[0], ())
        return {"word": UNANSWERED, "why": told(book, missing) if missing else "not part of this design"}
    if value.axes and not all(value.items):
        return {"word": UNANSWERED, "why": "the project lists nothing that has it", "value": value}
    if np.all(value.number == "" if value.term.is_text else value.number != value.number):
        return {"word": UNANSWERED, "why": "not given" if value.axes else value.text() or "not given", "value": value}
    return {"word": NO_VERDICT, "why": SHOWN, "value": value}
