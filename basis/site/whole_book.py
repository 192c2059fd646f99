"""The whole book as one document, to be printed: cover, contents, chapters, the pages about the book, and on demand the working of every value.

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
from basis.site.numbering import part_number, titled
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
  function over(row) { return Array.from(row.querySelectorAll("math *, .both")).some(function (one) { return right(one) > %(width)s; }); }
  var page = document.documentElement, rows = Array.from(document.querySelectorAll(".working > div"));
  page.style.width = "%(width)spx";
  ["small", "said"].forEach(function (how) { (rows = rows.filter(over)).forEach(function (row) { row.classList.add(how); }); });
  rows.filter(over).forEach(function (row) { row.parentNode.classList.add("turned"); });
  page.style.width = "";
});"""  # when the fonts are there: a row wider than the sheet is set smaller, or in words; what has no words gets a sheet lying on its side
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
    """The document: its title, its parts in order, and what stands in it besides the style sheets of the site."""

    title: str
    parts: tuple[Part, ...]
    style: str
    script: str
    units: str | None

    def text(self, numbers: Mapping[str, int]) -> str:
        """HTML. `numbers`: the page at which each part begins, by its place, as far as they are known."""
        sheets = html.join([html.void("link", rel="stylesheet", href=path.as_uri()) for path in (*sheets_of_theme(), *own_sheets())])
        head = html.join([html.void("meta", charset="utf-8"), html.tag("title", self.title), sheets, html.made(f"<style>{self.style}</style>")])
        cover, *others = [part.text for part in self.parts]
        body = html.tag("div", html.join([cover, self._contents(numbers), *others]), class_="md-content") + html.made(f"<script>{self.script}</script>")
        dressed = html.tag("body", body, data_md_color_scheme="default", data_md_color_primary="blue-grey")
        return f"<!doctype html>{html.tag('html', html.tag('head', head), dressed, lang='en', data_units=self.units)}"

    def _contents(self, numbers: Mapping[str, int]) -> Markup:
        lines = [html.join([html.link(f"#{part.place}", part.title), html.tag("span", str(numbers.get(part.place, NO_NUMBER)))]) for part in self.parts[1:]]
        return _article("contents", html.heading(1, "Contents") + html.bullets(lines, class_="contents"))


@dataclass(frozen=True)
class Part:
    """A page of the book as a part of the document: its title, the id at which it begins, and its HTML."""

    title: str
    place: str
    text: Markup


def within(page: str, name: str) -> str:
    """The id in the document of one on a page."""
    return f"{PurePosixPath(page).stem}.{name}"


def bind(book: Book, ready: Mapping[str, Layout], history: History, workshop: Workshop, paper_name: str = "a4", sheets: bool = False,
         units: str = "si") -> Bound:
    """The document of a book. Raises Faults of its templates. `paper_name` is one of PAPERS, `units` one of SYSTEMS; `sheets`: with the working of values."""
    names = pages.names_in_order(book, sheets)
    bound = frozenset(names)
    workshop = replace(workshop, in_words=True, page_data=lambda here: BoundData(here=here, bound=bound))
    made = {sketch.addresses.here: (sketch.title, content.html) for sketch, content in pages.contents(book, ready, workshop, history, sheets)}
    parts, heads = [], []
    for number, name in enumerate(names):
        part, (title, content) = part_number(book, name), made[name]
        head = titled(part, title)
        said = f"@top-right{{content:{paper.quoted(head)}}}"
        heads.append(f"@page part-{number}{{{said}}}@page turned-{number}{{size:{PAPERS[paper_name]} landscape;{said}}}")
        begins = html.heading(1, head, id=within(name, TOP)) + (_before_cover(book) if name == COVER else "")
        after = html.paragraph(frame.AID, class_="foot") if name == COVER else html.EMPTY
        parts.append(Part(head, within(name, TOP), _article(number, begins + _unlinked(content) + after, part)))
    style = f"@page{{size:{PAPERS[paper_name]}}}:root{{{paper.running(frame.document(book), '', '')}}}" + "".join(heads)
    return Bound(frame.document(book), tuple(parts), style, FIT % {"width": WIDTHS[paper_name]}, SYSTEMS[units])


def _before_cover(book: Book) -> Markup:
    return html.paragraph(frame.INVENTED, class_="notice") if book.project.invented else html.EMPTY


def _article(number: int | str, content: Markup, part: str = "") -> Markup:
    """A part on pages of its own, of which wide tables turn some."""
    style = f"page:part-{number};--turned:turned-{number};{paper.running('', '', part)}"
    return html.tag("article", content, class_="md-content__inner md-typeset", style=style)


def _unlinked(content: Markup) -> Markup:
    """Without the address of links that lead nowhere here."""
    return html.made(content.replace(' href=""', ""))
