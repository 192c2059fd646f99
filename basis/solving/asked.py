"""Which inputs a book of some chapters asks for, and in whose file each is to be written: that of its own chapter, or, where that is not in the book, of
the first chapter that needs it.
"""

from __future__ import annotations

from functools import lru_cache

from basis.chapters import Catalogue, catalogue
from basis.language.formula import Formula, Procedure
from basis.language.maths import decided, names_in
from basis.language.terms import Term, homes, terms

CURRENCY = "currency"  # of every price, which no formula reads and every price needs


@lru_cache(maxsize=32)
def asked_in(chapters: tuple[str, ...] = ()) -> dict[str, str]:
    """Id of each input that a book of these chapters (all, if none are named) may or must be given -> the chapter in whose file it stands."""
    found = catalogue()
    order = tuple(chapter.id for chapter in found.chapters if not chapters or chapter.id in chapters)
    asked: dict[str, str] = {}
    for chapter_id in order:
        for name in reached(found, (chapter_id,), order):
            asked.setdefault(name, homes()[name] if homes()[name] in order else chapter_id)
    if price := next((name for name in asked if "cur" in terms()[name].unit and name not in found.producers), ""):
        asked.setdefault(CURRENCY, homes()[CURRENCY] if homes()[CURRENCY] in order else asked[price])
    idle = _read_by_nobody(found)
    return {term.id: asked.get(term.id, homes()[term.id]) for term in found.inputs
            if term.id in asked or (homes()[term.id] in order and term.id in idle)}


def reached(found: Catalogue, chapters: tuple[str, ...], book: tuple[str, ...]) -> frozenset[str]:
    """Ids of all that formulas and checks of these chapters rest on, as the solver asks for it in a book of the chapters `book`."""
    seen: set[str] = set()
    waiting = [name for chapter in chapters for producer in found.formulas[chapter] for name in producer.yields]
    waiting += [name for chapter in chapters for check in found.checks[chapter] if not check.order for name in check.sides]
    while waiting:
        name = waiting.pop()
        if name not in seen:
            seen.add(name)
            waiting += () if stands_by_default(terms()[name], found, book) or name not in found.producers else read_by(found.producers[name], book)
    return frozenset(seen)


@lru_cache(maxsize=4096)
def read_by(producer: Formula | Procedure, book: tuple[str, ...]) -> tuple[str, ...]:
    """Ids of what a formula or procedure asks for in a book of these chapters: not what stands in arms for other chapters than those that are there."""
    known = words_of_chapters(producer, book)
    return (*producer.tested, *names_in(decided(producer.expression, known))) if known else producer.parameters


def words_of_chapters(producer: Formula | Procedure, book: tuple[str, ...]) -> dict[str, str]:
    """The words of those choices of a formula that say whether a chapter is in the book."""
    return {name: word_of_chapter(terms()[name], book) for name in producer.tested if terms()[name].chapter} if isinstance(producer, Formula) else {}


def word_of_chapter(term: Term, book: tuple[str, ...]) -> str:
    """The word of a choice that says whether its chapter is in a book of these chapters, all if none are named."""
    return term.choices[0] if not book or term.chapter in book else term.default


@lru_cache(maxsize=32)
def asked_by_formulas(chapters: tuple[str, ...] = ()) -> frozenset[str]:
    """Ids of all for which a formula or check of a book of these chapters asks, and the currency; what else may be given is for the reader alone."""
    found = catalogue()
    return reached(found, chapters or tuple(chapter.id for chapter in found.chapters), chapters) | {CURRENCY}


def stands_by_default(term: Term, found: Catalogue, book: tuple[str, ...]) -> bool:
    """Whether a Term that a chapter computes is an input of this book, because the chapter is not in it and a default stands."""
    return term.default is not None and term.id in found.producers and bool(book) and found.chapter_of[term.id] not in book


def file_of(term: Term, chapters: tuple[str, ...]) -> str:
    """Name of the file in which a project of these chapters is to write a Term."""
    return f"{asked_in(chapters).get(term.id) or homes()[term.id]}.yaml"


def file_of_list(axis: str, chapters: tuple[str, ...]) -> str:
    """Name of the file in which a project of these chapters is to list the items of an axis: that in which most is said of them."""
    said = [chapter for name, chapter in asked_in(chapters).items() if terms()[name].own_axes == (axis,)]
    said = said or [homes()[term.id] for term in terms().values() if term.own_axes == (axis,)]
    return f"{max(said, key=said.count)}.yaml"


def _read_by_nobody(found: Catalogue) -> set[str]:
    """Ids of words that are for the reader: no formula and no check of any chapter asks for them."""
    read = reached(found, tuple(chapter.id for chapter in found.chapters), ())
    return {term.id for term in terms().values() if term.is_text and term.id not in read}
