"""Numbers of chapters, tables and figures: made while a page is made, in the order in which it is read.

A chapter has a number, a page about the whole book a letter; a table is the second of the fourth chapter: "Table 4.2". Its number is also where links to it
lead. On pages with the working of a chapter its values have numbers in place of the tables; the style sheet counts them, so that one more or less among
them leaves the text of the others as it was. Nothing is numbered on pages that belong to no book.
"""
from __future__ import annotations

import re
from collections.abc import Iterable
from string import ascii_uppercase

from markupsafe import Markup, escape

from basis.site import html
from basis.site.addresses import WORKINGS, Addresses, working_page
from basis.site.page_data import Captioned, PageData
from basis.solving.book import Book

GENERAL = (("options.html", "Options side by side"), ("governs.html", "What governs this design"), ("checks.html", "Checks"),
           ("compliance.html", "Compliance"), ("questions.html", "Questions"), ("assumptions.html", "Open assumptions"), ("revisions.html", "Revisions"),
           ("self-tests.html", "Self-tests of the program"),
           ("sources.html", "Sources"), ("terms.html", "Terms and symbols"))
LETTERS = {address: letter for (address, _), letter in zip(GENERAL, ascii_uppercase)}
TABLE, FIGURE = "Table", "Figure"
SEEN = re.compile("\ue000(.*?)\ue001")  # where a text refers to what may stand further down


def part_number(book: Book, page: str) -> str:
    """Number of the chapter to which a page belongs, letter of a page about the whole book; empty of any other page."""
    place = next((place for place, chapter in enumerate(book.chapters, start=1) if page in chapter_pages(chapter.id)), 0)
    return str(place) if place else LETTERS.get(page, "")


def chapter_pages(chapter_id: str) -> tuple[str, ...]:
    """The page of a chapter and those that its working may have."""
    return f"{chapter_id}.html", *(working_page(chapter_id, kind) for kind in WORKINGS)


def titled(number: str, title: str) -> str:
    """A title behind its number, where it has one."""
    return f"{number} {title}" if number else title


def caption(addresses: Addresses, words: str | Markup, shown: Iterable[str] = ()) -> html.Caption | str:
    """`Table 4.2` and what it holds, in words; only the words on a page without a number.

    `shown`: ids of what is in it, by which a text refers to it.
    """
    number = _next(addresses, TABLE)
    if not number:
        return words
    name = f"table-{addresses.data.counted[TABLE]}"
    _note(addresses, TABLE, name, number, words, shown)
    return html.Caption(addresses.data.place(name), html.tag("b", f"{TABLE} {number}") + " " + words)


def figure_title(addresses: Addresses, title: str, shown: str, name: str) -> Markup:
    """`Figure 4.1` and the title of a figure. `shown`: its id, `name`: that of its place on the page."""
    number = _next(addresses, FIGURE)
    if number:
        _note(addresses, FIGURE, name, number, title, [shown])
    return html.tag("strong", f"{FIGURE} {number} {title}" if number else title)


def _next(addresses: Addresses, kind: str) -> str:
    """The number of the next table or figure of a page; empty on a page without a number."""
    part = part_number(addresses.main, addresses.here)
    return f"{part}.{addresses.data.count(kind)}" if part else ""


def _note(addresses: Addresses, kind: str, name: str, number: str, words: str | Markup, shown: Iterable[str]) -> None:
    """What has a number, for the lists of a printed book, and for what refers to it by what it shows: the first that does."""
    addresses.data.captions.append(Captioned(kind, name, number, escape(words)))
    for one in shown:
        addresses.data.numbered.setdefault(one, (name, f"{kind} {number}"))


def first_names(names: Iterable[str], most: int = 3) -> str:
    """The first of some names, and how many more there are."""
    names = list(dict.fromkeys(names))
    if len(names) <= most + 1:
        return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
    return f"{', '.join(names[:most])} and {len(names) - most} more"


def see(data: PageData, shown: str) -> Markup:
    """What stands where a text refers to a table or figure by what it shows, until the page is whole."""
    data.referred = True
    return Markup(f"\ue000{shown}\ue001")


def referred(content: Markup, data: PageData) -> Markup:
    """The whole page with its references: ` (Table 4.2)`, or nothing where the page does not have that."""
    return Markup(SEEN.sub(lambda found: _reference(data, found[1]), content)) if data.referred else content


def _reference(data: PageData, shown: str) -> str:
    if shown not in data.numbered:
        return ""
    name, number = data.numbered[shown]
    return escape(" (") + data.link(f"#{name}", number) + ")"
