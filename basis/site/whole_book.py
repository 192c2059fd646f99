"""The whole book as one document, to be printed: cover, contents, lists of its figures and tables, chapters, the pages about the book, and on demand the
working of every value.

It is made of the same parts as the pages of the site. Ids stand behind the name of their page, so that they are unique; links lead within the document, and
one that would lead to a page that is not in it is no link.
"""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import PurePosixPath

from markupsafe import Markup

from basis.record.history import History
from basis.site import frame, html, pages, paper
from basis.site.addresses import Workshop
from basis.site.numbering import FIGURE, TABLE, part_number, titled
from basis.site.page_data import PageData
from basis.site.render import Layout
from basis.site.theme_files import own_sheets, sheets_of_theme
from basis.solving.book import Book

COVER = "index.html"
TOP = "top"
PAPERS = {"a4": "A4", "letter": "letter"}  # what `@page` calls them
WIDTHS = {"a4": 684, "letter": 706}  # what stands between the margins, in CSS pixels: 210 mm or 8.5 in less 29 mm
FIT = """addEventListener("load", function () {
  function right(one) { return Math.floor(one.getBoundingClientRect().right); }
  function over(one) { return Array.from(one.querySelectorAll("table, math *, .both")).some(function (part) { return right(part) > %(width)s; }); }
  function fit(all, ways) {
    ways.forEach(function (how) { (all = all.filter(over)).forEach(function (one) { one.classList.add(how); }); });
    return all.filter(over);
  }
  var page = document.documentElement, tables = Array.from(document.querySelectorAll(".wide")), rows = Array.from(document.querySelectorAll(".working > div"));
  page.style.width = "%(width)spx";
  page.classList.add("measured");
  fit(tables, ["small", "turned"]);
  fit(rows, ["small", "said"]).forEach(function (row) { row.parentNode.classList.add("turned"); });
  page.style.width = "";
});"""  # when the fonts are there: what is wider than the sheet is set smaller, a row then in words; what still is gets a sheet lying on its side
CONTENTS = "Contents"
LISTED = ((FIGURE, "Figures"), (TABLE, "Tables"))
FEW = 3  # so many are found without a list
NO_NUMBER = "\N{FIGURE SPACE}" * 3  # where the number of a page will stand
SYSTEMS = {"si": "si", "us": "us", "both": None}


@dataclass
class BoundData(PageData):
    """What stands on a page that is bound with others into one document."""

    here: str = ""
    bound: frozenset[str] = field(default_factory=frozenset)  # all pages of the document

    def place(self, name: str) -> str:
        """An id, behind the name of its page."""
        return within(self.here, super().place(name))

    def lead(self, address: str) -> str:
        """Where a link leads within the document; nothing when its target is not in it."""
        page, _, name = super().lead(address).partition("#")
        return f"#{within(page or self.here, name or TOP)}" if (page or self.here) in self.bound else ""


@dataclass(frozen=True)
class Bound:
    """The document: its title, its parts in order, lists of what stands in them, and what there is besides the style sheets of the site."""

    title: str
    parts: tuple[Part, ...]
    lists: tuple[Listing, ...]
    style: str
    script: str
    units: str | None

    @property
    def places(self) -> set[str]:
        """The ids of which it tells the page."""
        return {place for listing in self._listings() for place, _ in listing.lines}

    def _listings(self) -> tuple[Listing, ...]:
        return Listing(CONTENTS, tuple((part.place, part.title) for part in self.parts[1:])), *self.lists

    def text(self, numbers: Mapping[str, int]) -> str:
        """HTML. `numbers`: the page on which each of its places stands, as far as they are known."""
        sheets = html.join([html.void("link", rel="stylesheet", href=path.as_uri()) for path in (*sheets_of_theme(), *own_sheets())])
        head = html.join([html.void("meta", charset="utf-8"), html.tag("title", self.title), sheets, html.made(f"<style>{self.style}</style>")])
        cover, *others = [part.text for part in self.parts]
        lists = _article(CONTENTS.lower(), html.join([listing.told(numbers) for listing in self._listings()]))
        body = html.tag("div", html.join([cover, lists, *others]), class_="md-content") + html.made(f"<script>{self.script}</script>")
        dressed = html.tag("body", body, data_md_color_scheme="default", data_md_color_primary="blue-grey")
        return f"<!doctype html>{html.tag('html', html.tag('head', head), dressed, lang='en', data_units=self.units)}"


@dataclass(frozen=True)
class Part:
    """A page of the book as a part of the document: its title, the id at which it begins, and its HTML."""

    title: str
    place: str
    text: Markup


@dataclass(frozen=True)
class Listing:
    """A list of what stands where: its title and, of each line, the place to which it leads and its words."""

    title: str
    lines: tuple[tuple[str, str | Markup], ...]

    def told(self, numbers: Mapping[str, int]) -> Markup:
        """It under its title, with the number of the page of each line."""
        lines = [html.join([html.link(f"#{place}", words), html.tag("span", str(numbers.get(place, NO_NUMBER)))]) for place, words in self.lines]
        return html.heading(1, self.title) + html.bullets(lines, class_=f"contents {self.title.lower()}")


def within(page: str, name: str) -> str:
    """The id in the document of one on a page."""
    return f"{PurePosixPath(page).stem}.{name}"


def bind(book: Book, ready: Mapping[str, Layout], history: History, workshop: Workshop, paper_name: str = "a4", sheets: bool = False,
         units: str = "si") -> Bound:
    """The document of a book. Raises Faults of its templates. `paper_name` is one of PAPERS, `units` one of SYSTEMS; `sheets`: with the working of values."""
    book = replace(book, project=replace(book.project, trials=()))  # paper has no sliders
    names = pages.names_in_order(book, sheets)
    bound = frozenset(names)
    workshop = replace(workshop, in_words=True, page_data=lambda here: BoundData(here=here, bound=bound))
    made = {sketch.addresses.here: (sketch, content.html) for sketch, content in pages.contents(book, ready, workshop, history, sheets)}
    lists = tuple(filter(None, [_listing(title, kind, {name: made[name][0].addresses.data for name in names}) for kind, title in LISTED]))
    parts, heads = [], [_heads(CONTENTS.lower(), ", ".join((CONTENTS, *(one.title.lower() for one in lists))), paper_name)]
    for number, name in enumerate(names):
        part, (sketch, content) = part_number(book, name), made[name]
        head = titled(part, sketch.title)
        heads.append(_heads(number, "" if name == COVER else head, paper_name))
        begins = html.heading(1, head, id=within(name, TOP)) + (_before_cover(book) if name == COVER else "")
        after = html.paragraph(frame.AID, class_="foot") if name == COVER else html.EMPTY
        parts.append(Part(head, within(name, TOP), _article(number, begins + _unlinked(content) + after, part)))
    style = f"@page{{size:{PAPERS[paper_name]}}}:root{{{paper.running(frame.document(book), '', '')}}}" + "".join(heads)
    return Bound(frame.document(book), tuple(parts), lists, style, FIT % {"width": WIDTHS[paper_name]}, SYSTEMS[units])


def _listing(title: str, kind: str, data: Mapping[str, PageData]) -> Listing | None:
    """What pages noted of a kind, none where there are few. `data`: by the name of the page, in order."""
    found = [(name, one) for name, noted in data.items() for one in noted.captions if one.kind == kind]
    return Listing(title, tuple((within(name, one.place), html.tag("b", one.number) + " " + one.words) for name, one in found)) if len(found) > FEW else None


def _heads(number: int | str, head: str, paper_name: str) -> str:
    """The running head of a part, beside that of the whole, upright and turned."""
    said = f"@top-right{{content:{paper.quoted(head)}}}"
    return f"@page part-{number}{{{said}}}@page turned-{number}{{size:{PAPERS[paper_name]} landscape;{said}}}"


def _before_cover(book: Book) -> Markup:
    return html.paragraph(frame.INVENTED, class_="notice") if book.project.invented else html.EMPTY


def _article(number: int | str, content: Markup, part: str = "") -> Markup:
    """A part on pages of its own, of which wide tables turn some."""
    style = f"page:part-{number};--turned:turned-{number};{paper.running('', '', part)}"
    return html.tag("article", content, class_="md-content__inner md-typeset", style=style)


def _unlinked(content: Markup) -> Markup:
    """Without the address of links that lead nowhere here."""
    return html.made(content.replace(' href=""', ""))
