"""What can be found in a book, as a script that a page opened from a folder may load: its pages and what they say, values with their numbers in both unit
systems, items, checks, sources, requirements, questions and decisions. `theme/assets/search.js` reads it.
"""
from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from functools import cache
from html import unescape
from string import ascii_uppercase

import numpy as np
from markdown.extensions.toc import slugify

from basis.language.sources import sources
from basis.language.terms import lists_by_key
from basis.record.requirements import answers
from basis.site.addresses import WORKINGS, Addresses, working_page, workings
from basis.site.asked import anchor
from basis.site.frame import Page
from basis.site.kept import of_value
from basis.solving.book import Book
from basis.solving.value import Value

WITHOUT_TEXT = ("common practice", "physics", "project decision")  # kinds of sources that nobody looks up by a title
WORD = re.compile(r"[^\W_]+")
CLAUSE = re.compile(r"(?:(?:Table|table|annex|Annex|chapter|Chapter|appendix|articles?|eq\.)?,? ?[A-Z]?\d[\w.()-]*|(?:annex|Annex|appendix) [A-Z]\b,? ?)*")
NAMED = re.compile(r"\{(\w+)\}")
PLAIN = str.maketrans({"\u202f": "'", "−": "-"})  # one byte each; the script puts them back
MOST = 3
LONGEST = 48  # letters shown of a value that is a text


def told(book: Book, pages: Iterable[Page]) -> tuple:
    """Of each page its file, its title and what it says under each of its headings, as it was noted when the page was made."""
    workings_ = {working_page(chapter.id, kind) for chapter in book.chapters for kind in WORKINGS}
    own = [(page.address.rpartition("/")[2], page) for page in pages]
    return tuple((file, page.title.removesuffix(f" · {book.project.name}"), _said(page)) for file, page in own if file not in workings_)


def _said(page: Page) -> tuple:
    """Of a chapter each section, of another page what stands above the first heading, of an option nothing: all of those say the same."""
    said = page.data.said if page.kind == "chapter" else {"": page.data.said.get("", "")} if page.kind != "option" else {}
    return tuple((where, unescape(page.data.headings[where].striptags()) if where else "", unescape(words)) for where, words in said.items())


def script(addresses: Addresses, pages: tuple) -> str:
    """The file `search-index.js` of a book. `pages`: what is `told` of them."""
    return f"basisIndex({json.dumps(index(addresses, pages), ensure_ascii=False, separators=(',', ':'))});\n"


def index(addresses: Addresses, pages: tuple) -> dict:
    """All of it. A chapter is named by its place among the chapters, a column is one text of lines, an id is written as `_short` does."""
    book = addresses.book
    parts = [(place, kind, [value_id for value_id in ids if not book.values[value_id].term.chapter])  # not whether a chapter is in the book
             for place, chapter in enumerate(book.chapters) for kind, ids in workings(book, chapter.id).items()]
    values = [book.values[value_id] for _, _, ids in parts for value_id in ids]
    settles = {f"{chapter.id}.html": chapter.settles for chapter in book.chapters}
    rows = [of_value(addresses, "index", value, _row) for value in values]
    units = list(dict.fromkeys(row[-1] for row in rows))
    places = {value.id: place for place, value in enumerate(values)}
    return {
        "slug": book.project.slug,
        "name": book.project.name,
        "chapters": [[chapter.id, chapter.title] for chapter in book.chapters],
        "workings": WORKINGS,
        "pages": [[file, title, settles.get(file, ""), [_section(places, *one) for one in said]] for file, title, said in pages],
        "parts": [[place, kind, len(ids)] for place, kind, ids in parts],
        "units": units,
        "values": ["\n".join(column) for column in zip(*((*row[:-1], str(units.index(row[-1]))) for row in rows))],
        "items": list(_items(book)),
        "checks": [[place, [[_short(one.check.id, one.check.title), one.check.title, one.word] for one in checks]]
                   for place, chapter in enumerate(book.chapters) if (checks := book.checks_of(chapter.id))],
        "selfTests": [[_short(one.check.id, one.check.title), one.check.title, one.word] for one in book.self_tests],
        "sources": _sources(book),
        "asked": list(_asked(book)),
    }


def _section(places: dict[str, int], where: str, heading: str, words: str) -> list[str]:
    """Anchor, unless it is made of the heading, heading, and words, in which the place of a value among the values stands for its number."""
    words = NAMED.sub(lambda found: f"{{{places[found[1]]}}}" if found[1] in places else "…", words)
    return ["" if slugify(heading, "-") == where else where, heading, words]


@cache
def _short(name: str, title: str) -> str:
    """An id with each word that its title has too as one capital letter, that word's place: `site_power`, "Power at the site" -> `D_A`. Half of the bytes."""
    words = [word.lower() for word in WORD.findall(title)][:len(ascii_uppercase)]
    return "_".join(ascii_uppercase[words.index(word)] if word in words else word for word in name.split("_"))


def _sources(book: Book) -> list[list]:
    """Of each title that somebody may look up, in its edition, the ids of its sources, each with the number of its clause."""
    found: dict[str, list] = {}
    for one in (sources()[name] for name in _cited(book)):
        if one.kind not in WITHOUT_TEXT:
            found.setdefault(", ".join(filter(None, (one.title, one.edition))), []).append([one.id, CLAUSE.match(one.clause)[0].strip(" ,")])
    return [[title, some] for title, some in found.items()]


def _row(addresses: Addresses, value: Value) -> tuple:
    """Id, name, symbol, how likely it is looked for (much rests on it, it is one number, the project's own), number, number in US customary units where they
    are others, units of both.
    """
    numbers = _shown(addresses, value, "si"), _shown(addresses, value, "us") if value.two_systems else ""
    rests = 0 if value.origin in ("default", "constant") else min(MOST, len(value.used_by).bit_length() // 2) + (not value.axes)
    units = (value.unit_text("si"), value.unit_text("us")) if value.two_systems else (value.unit_text("si"),)
    return _short(value.id, value.term.name), value.term.name, value.term.symbol, str(rests), *numbers, units


def _shown(addresses: Addresses, value: Value, system: str) -> str:
    """The number without its unit; of a computed list the least and the most; of words all, if they are few."""
    numbers = np.asarray(value.number).ravel()
    if value.term.is_text:
        text = ", ".join(filter(None, dict.fromkeys(_word(addresses, value, word) for word in numbers)))
        return text if len(text) <= LONGEST else f"{len(numbers)} values" if value.axes else f"{text[:LONGEST].rpartition(' ')[0]} …"
    if len(value.axes) > 1 or value.axes and value.origin == "given":  # whose numbers stand on their page in rows, each with its name
        return f"{len(numbers)} values"
    known = numbers[~np.isnan(numbers)]
    if not known.size:
        return value.shown(float(numbers[0]) if numbers.size else np.nan).partition(":")[0]
    return " to ".join(dict.fromkeys(value.shown(float(end), system, unit=False) for end in (known.min(), known.max()))).translate(PLAIN)


def _word(addresses: Addresses, value: Value, word) -> str:
    return addresses.item_name(value.term.refers_to, str(word)) if value.term.unit == "reference" else value.shown(word)


def _items(book: Book) -> Iterator[list]:
    """Of each list that the project has filled: the value in whose rows its items stand, what it is called, and id and name of each item."""
    first: dict[str, str] = {}
    for value in book.values.values():
        if len(value.axes) == 1 and not book.computed(value.id):
            first.setdefault(value.axes[0], value.id)
    for key, listed in lists_by_key().items():
        if listed.axis in first and book.names.get(listed.axis):
            yield [first[listed.axis], key.replace("_", " "), [[_short(item, name), name] for item, name in book.names[listed.axis].items()]]


def _cited(book: Book) -> list[str]:
    """Ids of the sources that stand on the page of sources."""
    return sorted({name for one in (book, *book.options.values()) for name in one.sources_used()})


def _asked(book: Book) -> Iterator[list[str]]:
    """Page, anchor, name and state of requirements, questions and decisions."""
    for one in answers(book):
        code = f"{one.code} {one.requirement.clause}".strip()
        yield ["compliance", anchor(one.requirement), f"{one.requirement.id} {one.requirement.text}", ", ".join(filter(None, ("requirement", one.word, code)))]
    for one in book.project.questions:
        yield ["questions", anchor(one), f"{one.id} {one.text}", f"question, {one.state}, {one.role}, {one.date}"]
    for one in book.project.decisions:
        names = [option.name for option in one.options]
        yield ["options", f"decision-{one.id}", one.name, f"decision, of {len(names)}: {'; '.join(names)}"]
