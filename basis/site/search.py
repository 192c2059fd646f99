"""The record of each quantity, check, chapter, requirement and question of a book, as a script that a page opened from a folder may load.

Serves the search field and the card beside a number.
"""
from __future__ import annotations

import json

from basis.language.sources import sources
from basis.record.requirements import answers
from basis.site import working
from basis.site.addresses import Addresses, check_anchor, home_page
from basis.site.asked import anchor
from basis.solving.book import Book
from basis.solving.value import Value, written_shown


def script(addresses: Addresses) -> str:
    """The file `search.js` of a book."""
    book = addresses.book
    records = [["", chapter.title, "chapter", "", f"{chapter.id}.html"] for chapter in book.chapters]
    records += [_record(addresses, value, home_page(book, value.id)) for value in book.values.values()]
    records += [[check_anchor(one.check), one.check.title, f"check: {one.word}", "", addresses.check_address(one.check).partition("#")[0]]
                for one in (*book.checks, *book.self_tests)]
    records += _asked(book)
    data = {"slug": book.project.slug, "name": book.project.name, "records": records}
    return f"basisBook({json.dumps(data, ensure_ascii=False, separators=(',', ':'))});\n"


def _asked(book: Book) -> list[list[str]]:
    """Requirements with how they stand, and questions with their state."""
    required = [[anchor(one.requirement), f"{one.requirement.id} {one.requirement.text}",
                 f"requirement: {one.word}; {one.code} {one.requirement.clause}".rstrip(), "", "compliance.html"] for one in answers(book)]
    return required + [[anchor(one), f"{one.id} {one.text}", f"question: {one.state}; {one.role}, {one.date}", "", "questions.html"]
                       for one in book.project.questions]


def _record(addresses: Addresses, value: Value, page: str) -> list[str]:
    return [value.id, value.term.name, _detail(addresses, value), _source(value), page]


def _detail(addresses: Addresses, value: Value) -> str:
    if value.origin in ("formula", "procedure"):
        return working.plain(addresses, value)
    if value.given:
        return f"{value.term.symbol} = {written_shown(value.term, value.given.written)}, {value.given.standing}".removeprefix(" = ")
    return f"{value.origin}: {value.term.meaning}"


def _source(value: Value) -> str:
    cited = [sources()[name] for name in value.source_ids]
    return "; ".join(f"{source.citation}, {source.how_known}" if source.how_known != "not applicable" else source.citation for source in cited)

