"""What stands on a page, noted while it is made: nothing is looked for in finished HTML."""
from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from markupsafe import Markup, escape

from basis.site import html


@dataclass(frozen=True)
class Captioned:
    """A table or figure that has a number: which of the two, its place on the page, its number and what it shows."""

    kind: str
    place: str
    number: str
    words: Markup


@dataclass
class PageData:
    """The ids of a page, where its links lead, its headings, the sources that it cites, files beside it, and what it says once only.

    `place` and `lead` hand back what they note, so that they stand where an id or an address is written.
    """

    ids: Counter[str] = field(default_factory=Counter)
    links: set[str] = field(default_factory=set)
    headings: dict[str, Markup] = field(default_factory=dict)  # of the second level: id -> title
    cited: set[str] = field(default_factory=set)  # ids of sources
    files: dict = field(default_factory=dict)  # name -> ids of Values in order, or text
    told: set[str] = field(default_factory=set)  # on the page so far
    asked: dict[str, bool] = field(default_factory=dict)  # whether something was told for the first time, as it was asked here
    counted: Counter[str] = field(default_factory=Counter)  # tables and figures that have a number
    numbered: dict[str, tuple[str, str]] = field(default_factory=dict)  # id of what a table or figure shows -> its place and its number
    captions: list[Captioned] = field(default_factory=list)  # in the order in which they are read
    referred: bool = False  # whether its text refers to any by number
    lasting: dict[str, list] = field(default_factory=dict)  # what of it a later run may take as it is, see `lasting`
    said: dict[str, str] = field(default_factory=dict)  # id of the heading, or nothing before the first -> the words of its template below it, for the search

    def place(self, name: str) -> str:
        """An id."""
        self.ids[name] += 1
        return name

    def lead(self, address: str) -> str:
        """Where a link leads, as it is written on the page."""
        self.links.add(address)
        return address

    def head(self, name: str, title: Markup) -> str:
        """The id of a heading of the second level."""
        self.headings[name] = title
        return self.place(name)

    def count(self, kind: str) -> int:
        """The next of a kind, from 1."""
        self.counted[kind] += 1
        return self.counted[kind]

    def link(self, address: str, *content, **attributes) -> Markup:
        """A link."""
        return html.link(self.lead(address), *content, **attributes)

    def heading(self, title, anchor: str) -> Markup:
        """A heading of the second level, which is listed beside the page."""
        return html.heading(2, title, id=self.head(anchor, escape(title)))

    def say(self, words: str) -> str:
        """Words of a template, as they stand escaped; `{id}` is the number of a value. Nothing is written."""
        self._add_said(next(reversed(self.headings), ""), words)
        return ""

    def _add_said(self, under: str, words: str) -> None:
        self.said[under] = f"{self.said.get(under, '')} {words}".strip()

    def first(self, text: str) -> bool:
        """Whether this is said for the first time."""
        new = text not in self.told
        self.told.add(text)
        self.asked.setdefault(text, new)
        return new

    def part(self) -> PageData:
        """For a part of this page that is made by itself: it knows what has been told above."""
        return PageData(told=set(self.told))

    def stands_here(self, part: PageData) -> bool:
        """Whether a part, as it was made before, tells here for the first time what it told so then."""
        return all((text not in self.told) == new for text, new in part.asked.items())

    def add(self, part: PageData) -> None:
        """Take over what was noted of a part of the page."""
        self.ids.update(part.ids)
        self.links |= part.links
        self.headings |= part.headings
        self.cited |= part.cited
        self.told |= part.asked.keys()
        self.asked = part.asked | self.asked
        self.numbered |= part.numbered
        self.captions += part.captions
        self.lasting |= part.lasting
        for under, words in part.said.items():
            self._add_said(under, words)
        for name, asked in part.files.items():
            self.files[name] = self.files.get(name, {}) | asked if isinstance(asked, dict) else asked
