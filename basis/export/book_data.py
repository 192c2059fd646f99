"""A whole book as one piece of plain data, and as the text of its JSON file. `book.schema.json` beside this module says what each key means.

One number is found by its address: `values`, the id, `value_si`, and for a number of an item the id of the item.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import fields
from functools import lru_cache
from pathlib import Path

from basis import __version__
from basis.export.pages import Pages
from basis.export.values import MANY, undecided_facts, value_facts, verdict_facts
from basis.language.digests import digest
from basis.language.sources import sources
from basis.language.terms import list_key, terms
from basis.language.words import item_words
from basis.reading.project import Decision
from basis.record.issuing import text_digest
from basis.record.requirements import answers
from basis.solving.book import Book
from basis.solving.working import finite

FORMAT = 1  # of the file: raised when a key goes or means something else; keys may be added without
NAME, SCHEMA_NAME = "book.json", "book.schema.json"


@lru_cache(maxsize=1)
def schema_text() -> str:
    """The JSON Schema of the file, with the meaning of each key."""
    return (Path(__file__).parent / SCHEMA_NAME).read_text("utf-8")


def json_text(book: Book, pages: Pages) -> str:
    """The book as a JSON file; one value, check, source a line, so that two of them can be laid side by side. The same book gives the same bytes."""
    parts = [f"{_json(key)}: {_lines(part)}" for key, part in book_data(book, pages).items()]
    return "{\n" + ",\n".join(parts) + "\n}\n"


def book_data(book: Book, pages: Pages) -> dict:
    """The book as plain data: chapters, items, values, checks, self-tests, decisions, requirements, questions, sources."""
    project, here = book.project, {chapter.id for chapter in book.chapters}
    values = {value.id: value_facts(book, value, pages) for chapter in book.chapters for value in book.of_chapter(chapter.id)}
    waiting = [undecided_facts(book, terms()[name]) for name in sorted(book.undecided) if name in terms() and name not in book.values]
    values |= {facts["id"]: facts for facts in waiting if facts["chapter"] in here}
    checks, self_tests = ({one.check.id: verdict_facts(book, one, pages) for one in verdicts} for verdicts in (book.checks, book.self_tests))
    return {
        "$schema": SCHEMA_NAME, "format": FORMAT, "program": __version__,
        "digest": digest(*(f"{key} {facts['digest']}" for part in (values, checks, self_tests) for key, facts in part.items())),
        "text_digest": text_digest(book),
        "project": {"id": project.slug, "name": project.name, "invented": project.invented, "still_open": book.still_open},
        "chapters": {chapter.id: {"title": chapter.title, "page": pages.chapter_address(chapter.id), "values": list(book.ids_of_chapter(chapter.id)),
                                  "checks": [one.check.id for one in book.checks_of(chapter.id)]} for chapter in book.chapters},
        "items": {axis: {"list": list_key(axis), "names": {item: book.names.get(axis, {}).get(item) or item_words(item) for item in ids}}
                  for axis, ids in book.items.items() if len(ids) <= MANY},
        "values": values, "checks": checks, "self_tests": self_tests,
        "decisions": {one.id: _decision(book, one) for one in project.decisions},
        "requirements": {one.requirement.id: {**_texts(one.requirement), "code": one.code, "edition": one.edition, "standing": one.word, "why": one.why}
                         for one in answers(book)},
        "questions": {one.id: _texts(one) for one in project.questions},
        "sources": {name: _source(name, users) for name, users in book.sources_used().items()}}


def _decision(book: Book, decision: Decision) -> dict:
    """A decision with its options, and each plain value that the options do not show alike."""
    sides = {option.id: book.options[decision.id, option.id] for option in decision.options}
    return {"name": decision.name, "chosen": decision.chosen, "reason": decision.reason, "file": decision.file, "line": decision.line,
            "options": {option.id: {"name": option.name, "gives_up": option.gives_up,
                                    "sets": [{"id": term, "element": item, "written": given.written} for (term, item), given in option.givens.items()]}
                        for option in decision.options},
            "differing": {name: {key: _number(side, name) for key, side in sides.items()} for name in book.differing(decision.id)}}


def _number(book: Book, value_id: str):
    if value_id not in book.values:
        return None
    number = book.values[value_id].number
    return number if isinstance(number, str) else finite(number)


def _texts(entry) -> dict:
    """An entry of a register, as the project has it."""
    return {one.name: getattr(entry, one.name) for one in fields(entry) if one.name not in ("id", "lines")}


def _source(source_id: str, users: Iterable[str]) -> dict:
    source = sources()[source_id]
    return {"kind": source.kind, "citation": source.citation, "title": source.title, "edition": source.edition, "clause": source.clause,
            "how_known": source.how_known, "note": source.note, "behind": list(users)}


def _lines(part) -> str:
    """Plain data; of an object one member a line."""
    if not isinstance(part, dict) or not part:
        return _json(part)
    return "{\n" + ",\n".join(f"{_json(key)}: {_json(one)}" for key, one in part.items()) + "\n}"


def _json(part) -> str:
    return json.dumps(part, ensure_ascii=False, allow_nan=False, separators=(", ", ": "))
