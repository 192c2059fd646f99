"""The record of each quantity, check and chapter of a book, as a script that a page opened from a folder may load.

Serves the search field and the card beside a number.
"""
from __future__ import annotations

import json

from basis.language.sources import sources
from basis.site import working
from basis.site.addresses import Addresses, check_anchor, home_page
from basis.solving.value import Value, written_shown


def script(addresses: Addresses) -> str:
    """The file `search.js` of a book."""
    book = addresses.book
    records = [["", chapter.title, "chapter", "", f"{chapter.id}.html"] for chapter in book.chapters]
    records += [_record(addresses, value, home_page(book, value.id)) for value in book.values.values()]
    records += [[check_anchor(one.check), one.check.title, f"check: {one.word}", "", addresses.check_address(one.check).partition("#")[0]]
                for one in (*book.checks, *book.self_tests)]
    data = {"slug": book.project.slug, "name": book.project.name, "records": records}
    return f"basisBook({json.dumps(data, ensure_ascii=False, separators=(',', ':'))});\n"


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

