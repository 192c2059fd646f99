"""All values of a book with what each rests on, as a script that a page opened from a folder may load: for the card beside a number and its path.

What stands there is as the sheets show it; the page computes nothing. Numbers in lists are places in other lists of the same script.
"""
from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

import numpy as np

from basis.language.sources import Source, sources
from basis.reading.project import Decision
from basis.site import working
from basis.site.addresses import WORKINGS, Addresses, home_page, is_long, working_page, workings
from basis.site.frame import COVER, Page
from basis.site.kept import of_value
from basis.site.sheet import ORIGINS
from basis.site.tables import place
from basis.solving.book import Book, overlays
from basis.solving.value import Value, written_shown
from basis.solving.verdict import Verdict
from basis.solving.verdict_words import WORDS

PLACES = ("chapter", COVER)  # kinds of pages that place a value among words

Shown = Mapping[str, tuple[str, ...]]  # id of a value -> names of the pages that place it


def shown_on(book: Book, pages: Iterable[Page]) -> dict[str, tuple[str, ...]]:
    """Names of the pages that place a value, as they have noted it: its own chapter first, then the others in order."""
    homes, found = {value_id: home_page(book, value_id) for value_id in book.values}, {}
    for page in pages:
        if page.kind in PLACES:
            leads = (link.partition("#") for link in page.data.links)
            for value_id in {anchor.partition(".")[0] for name, _, anchor in leads if homes.get(anchor.partition(".")[0]) == name}:
                found.setdefault(value_id, []).append(page.address.rpartition("/")[2])
    return {value_id: tuple(sorted(names, key=lambda name: name != f"{book.home[value_id]}.html")) for value_id, names in found.items()}


def script(addresses: Addresses, shown: Shown) -> str:
    """The file `graph.js` of a book: by columns, so that it is small when sent."""
    book, titles = addresses.book, _titles(addresses.book)
    ids, pages = _Numbered(book.values), _Numbered(titles)
    cited, standings = _Numbered(), _Numbered()
    axes = dict.fromkeys(axis for value in book.values.values() for axis in value.axes if not is_long((axis,)))
    values = [{"id": value.id, "name": value.term.name, "symbol": value.term.symbol, **of_value(addresses, "told", value, _told),
               "page": pages[home_page(book, value.id)], "inputs": ids.of(value.inputs), "how": _how(addresses, value),
               "sources": [cited[_cited(sources()[name])] for name in value.source_ids], "standing": standings[_standing(value)],
               "shown": pages.of(shown.get(value.id, ())), "axes": value.axes} for value in book.values.values()]
    data = {"pages": list(titles.items()), "words": list(WORDS), "values": _columns(values),
            "items": {axis: {item: addresses.item_name(axis, item) for item in book.items[axis]} for axis in axes},
            "checks": _columns([_check(one, ids) for one in (*book.checks, *book.self_tests)]),
            "decisions": _columns([_decision(book, one, ids) for one in book.project.decisions]),
            "sources": list(cited), "standings": list(standings)}
    return f"basisGraph({json.dumps(data, ensure_ascii=False, separators=(',', ':'))});\n"


class _Numbered(dict):
    """Texts, each with its place in the order in which they came."""

    def __init__(self, texts: Iterable[str] = ()):
        super().__init__((text, number) for number, text in enumerate(texts))

    def __missing__(self, text: str) -> int:
        self[text] = len(self)
        return self[text]

    def of(self, texts: Iterable[str]) -> list[int]:
        """Places of those texts that are there."""
        return [self[text] for text in texts if text in self]


def _check(verdict: Verdict, ids: _Numbered) -> dict:
    """A check with its verdict, and the places of what decides it."""
    check = verdict.check
    return {"id": check.id, "name": check.title, "word": list(WORDS).index(verdict.word), "margin": verdict.margin_text,
            "margin_us": verdict.margin_in("us") if verdict.margin_in("us") != verdict.margin_text else "", "sides": ids.of(check.sides),
            "self": int(check.self_test)}


def _decision(book: Book, decision: Decision, ids: _Numbered) -> dict:
    """A decision with what its options set, and what is not alike in all of them."""
    chosen = next(option.name for option in decision.options if option.id == decision.chosen)
    return {"id": decision.id, "name": decision.name, "chosen": chosen, "sets": ids.of(sorted(overlays(decision))),
            "compares": ids.of(book.differing(decision.id))}


def _columns(records: list[dict]) -> dict[str, list]:
    """Records with the same keys, by key."""
    return {key: [record[key] for record in records] for key in records[0]} if records else {}


def _titles(book: Book) -> dict[str, str]:
    """Names of pages with the working of values, and of pages that place them -> title."""
    found = {"index.html": "Cover"} | {f"{chapter.id}.html": chapter.title for chapter in book.chapters}
    return found | {working_page(chapter.id, kind): f"{chapter.title}: {WORKINGS[kind].lower()}"
                    for chapter in book.chapters for kind in workings(book, chapter.id)}


def _told(addresses: Addresses, value: Value) -> dict[str, str]:
    """A value as shown in SI and in US customary units, and the units alone, which stand in the head of a column and not beside its numbers; what is
    shown in US customary units is empty where they agree.
    """
    si = {"si": _shown(addresses, value, "si"), "us": "", "unit_si": "", "unit_us": ""}
    if value.two_systems:
        si["us"] = _shown(addresses, value, "us")
    if value.axes:
        si |= {"unit_si": value.unit_text("si"), "unit_us": value.unit_text("us") if value.two_systems else ""}
    return si


def _shown(addresses: Addresses, value: Value, system: str) -> str:
    """The number; of a value over a list how many there are with the least and the largest, or with the one word of all."""
    if not value.axes:
        return _one(addresses, value, value.number, system)
    found = np.ravel(value.number).tolist()
    known = [number for number in found if number == number and number != ""]
    if not known:
        return "not given" if found else "none listed"
    ends = dict.fromkeys(known) if value.term.is_text else dict.fromkeys((min(known), max(known)))
    told = list(dict.fromkeys(_one(addresses, value, number, system) for number in ends))
    if len(told) > 1:
        told = [] if value.term.is_text else [f"{_one(addresses, value, min(known), system, unit=False)} to {told[-1]}"]
    return ", ".join(([f"{len(found)} values"] if len(found) > 1 else []) + told)


def _one(addresses: Addresses, value: Value, number, system: str, unit: bool = True) -> str:
    return addresses.item_name(value.term.refers_to, number) if value.term.unit == "reference" else value.shown(number, system, unit)


def _how(addresses: Addresses, value: Value) -> str:
    """The formula or equation; of what is given what was written and where, or the files in which its items are."""
    if value.origin in ("formula", "procedure"):
        return working.plain(addresses, value)
    if value.given:
        return f"{written_shown(value.term, value.given.written)}, {place(value.given)}"
    files = dict.fromkeys(given.file.rpartition("/")[2] for given in value.givens.values())
    return f"given in {', '.join(files)}" if files else ORIGINS.get(value.origin, "")


def _standing(value: Value) -> str:
    """How it is known: in the giver's words, of a list in the words of its items."""
    told = dict.fromkeys(given.standing for given in value.givens.values())
    return ", ".join((*told, *(["default"] if "default" in value.own_marks else []))) if told else value.standing


def _cited(source: Source) -> str:
    return source.citation if source.how_known == "not applicable" else f"{source.citation} ({source.how_known})"
