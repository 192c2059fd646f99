"""What stands round the content of every page: title, way back, units switch, search, notices, side lists, foot."""
from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from markupsafe import Markup

from basis.language.words import in_sentence
from basis.site import html, paper
from basis.site.addresses import WORKINGS, Addresses, option_page, working_page, workings
from basis.site.kept import kept
from basis.site.numbering import GENERAL, LETTERS, chapter_pages, part_number, titled
from basis.site.page_data import PageData
from basis.solving.book import Book

INVENTED = ("Everything in this book is invented: the place, the plant and every figure that the project gives. "
            "It shows how the book works; do not build from it.")
AID = ("This book is a design aid. Local codes, the authority having jurisdiction and a licensed engineer decide. "
       "Diesel plant can kill by carbon monoxide, electric shock, fire, noise, moving parts and stored energy.")
COVER = "front"  # kind of the page
COUNTED = ("index.html", "revisions.html")  # pages that count all that differs in the book from its last issue


@dataclass(frozen=True)
class Page:
    """A finished page: address in the site, kind, title, its three parts, what was noted of it, and what the style sheets ask of it."""

    address: str
    kind: str
    title: str
    body: str
    sidebar: str
    foot: str
    data: PageData = field(default_factory=PageData, repr=False, compare=False)
    style: str = ""


@dataclass(frozen=True)
class Surround:
    """What is the same round every page of a book."""

    book: Book
    stamp: Markup  # of a page about the whole book
    stamps: dict[str, Markup]  # of other pages by name
    switch: Markup
    notice: Markup
    foot: str
    data: PageData  # of all this
    beside: dict[str, tuple]  # name of a page -> name and title of the one before and of the one after it, or None


def of_book(book: Book) -> Surround:
    """What stands round the pages of a book."""
    notice = html.paragraph(INVENTED, class_="notice") if book.project.invented else html.EMPTY
    data = PageData()
    return Surround(book, _stamp(data, book), _stamps(data, book), _marks_switch(book), notice, str(_foot(data, book)), data, _beside(book))


def page(around: Surround, addresses: Addresses, kind: str, title: str, content: Markup) -> Page:
    """A page of a book: the same object as the last time, where nothing in it and round it has changed."""
    book, name, data = around.book, addresses.here, addresses.data
    data.add(around.data)
    data.place("top")
    way, contents, stamp = _way(data, book, title, name), _contents(data, book, name), around.stamps.get(name, around.stamp)
    content += _before_and_after(data, *around.beside.get(name, ()))
    return kept(addresses, ("framed", name), lambda addresses: _framed(around, name, kind, title, content, way, contents, stamp, data),
                kind, title, content, way, contents, stamp, around.switch, around.notice, around.foot, book.project.name)


def _framed(around: Surround, name: str, kind: str, title: str, content: Markup, way: Markup, contents: Markup, stamp: Markup,
            data: PageData) -> Page:
    project = around.book.project
    stamp = html.EMPTY if kind == COVER else stamp  # which has a title block
    part = part_number(around.book, name)
    head = titled(part, title)
    body = html.join([_bar(way, "./", "../", around.switch), html.heading(1, head, id="top"), stamp, around.notice, content])
    return Page(f"{project.slug}/{name}", kind, f"{title} · {project.name}" if title != project.name else title, str(body),
                str(html.join([contents, _here(data)])), around.foot, data, paper.running(document(around.book), "" if kind == COVER else head, part))


def outer_page(address: str, kind: str, title: str, content: Markup, data: PageData, searched: Sequence[str] = (), way: Markup = html.EMPTY) -> Page:
    """A page that belongs to no book; `way` leads back."""
    data.place("top")
    body = html.join([_bar(way and html.tag("nav", way, aria_label="Way back"), " ".join(searched), ""), html.heading(1, title, id="top"), content])
    return Page(address, kind, title, str(body), str(_here(data)), str(html.tag("footer", html.paragraph(AID), class_="foot")), data)


def _bar(way: Markup, books: str, root: str, switch: Markup = html.EMPTY) -> Markup:
    units = html.tag("div", _unit_button("si", "SI"), _unit_button("us", "US customary"), class_="switch", role="group", aria_label="Units")
    return html.tag("div", html.tag("div", way, class_="way"), switch, units, _search(books, root) if books else html.EMPTY, class_="bar")


def _unit_button(system: str, name: str) -> Markup:
    return html.tag("button", name, type="button", data_units=system, aria_pressed="false")


def _marks_switch(book: Book) -> Markup:
    """The button that hides the change marks; none where nothing is marked."""
    if not (book.since and book.since.marked):
        return html.EMPTY
    return html.tag("div", html.tag("button", "Change marks", type="button", data_marks=True, aria_pressed="true"), class_="switch")


def _search(books: str, root: str) -> Markup:
    """Hidden until the script has woken: without it there is nothing to type into. The card for numbers lives here too."""
    field = html.void("input", type="search", placeholder="Find", aria_label="Find in the book", role="combobox", aria_expanded="false",
                      aria_controls="found", aria_autocomplete="list", autocomplete="off", data_books=books, data_root=root)
    found = html.tag("ul", id="found", role="listbox", aria_label="Found", hidden=True)
    card = html.tag("div", id="card", popover="manual", role="note")
    return html.tag("div", field, found, class_="find", hidden=True) + card


def _way(data: PageData, book: Book, title: str, name: str) -> Markup:
    """The way back: all books, this book, this page."""
    steps = [data.link("../index.html", "All books")]
    if name != "index.html":
        steps.append(data.link("index.html", book.project.name))
    if chapter := next((one for one in book.chapters if name in chapter_pages(one.id)[1:]), None):
        steps.append(data.link(f"{chapter.id}.html", chapter.title))
    return html.tag("nav", html.join(steps, " › "), aria_label="Way back")


def _stamps(data: PageData, book: Book) -> dict[str, Markup]:
    """Of pages of a chapter by what differs in it, so that a save leaves the pages of other chapters as they are; the whole is counted on two pages."""
    if book.since is None:
        return {}
    whole = dict.fromkeys(COUNTED, _stamp(data, book, book.since.told))
    return whole | {name: _stamp(data, book, book.since.told_of(chapter.id))
                    for chapter in book.chapters for name in chapter_pages(chapter.id)}


def _stamp(data: PageData, book: Book, told: str = "") -> Markup:
    """Document, revision, how the book or the chapter stands to the last issue, and how much is still open; computed, never typed."""
    facts = [(name, text(book, term)) for name, term in (("Document", "document_number"), ("revision", "revision"), ("", "revision_date"))]
    shown = [f"{name} {fact}".strip() for name, fact in facts if fact]
    return html.paragraph(html.join([*shown, state(data, book, told)], ", "), class_="stamp")


def state(data: PageData, book: Book, told: str) -> Markup:
    """How a book or a chapter stands to the last issue, what marks stand for, and how much is still open."""
    return html.join([*_issued(data, book, told), Markup("open: ") + data.link("assumptions.html", book.still_open)], ", ")


def _issued(data: PageData, book: Book, told: str) -> Iterable[str]:
    """How it stands to the last issue, and what marks stand for."""
    if book.since is None:
        return [data.link("revisions.html", "not issued yet")]
    return filter(None, [data.link("revisions.html", told or book.since.told_in_passing), book.since.legend])


def text(book: Book, term_id: str) -> str:
    """A text that the project may give, or nothing."""
    return str(book.values[term_id].number) if term_id in book.values else ""


def document(book: Book) -> str:
    """Project, number of the document and revision in one line."""
    revision = f"revision {text(book, 'revision')}" if "revision" in book.values else ""
    return ", ".join(filter(None, (book.project.name, text(book, "document_number"), revision)))


def _contents(data: PageData, book: Book, name: str) -> Markup:
    """Contents of this book only: no page carries those of all books."""
    lines = [_entry(data, "index.html", book.project.name, name)]
    for number, chapter in enumerate(book.chapters, start=1):
        inside = name in chapter_pages(chapter.id)
        within = [_entry(data, working_page(chapter.id, kind), WORKINGS[kind], name) for kind in workings(book, chapter.id)] if inside else ()
        lines.append(_entry(data, f"{chapter.id}.html", titled(str(number), chapter.title), name) + html.bullets(within))
    general = [_entry(data, address, titled(LETTERS[address], title), name) for address, title in GENERAL]
    options = {option_page(decision.id, option.id): f"Working of {in_sentence(decision.name)}: {option.name}"
               for decision in book.project.decisions for option in decision.options if option.id != decision.chosen}
    if name in (GENERAL[0][0], *options):
        general[0] += html.bullets([_entry(data, address, title, name) for address, title in options.items()])
    inner = html.tag("nav", html.bullets(lines), html.bullets(general), class_="side", aria_label="Contents of this book")
    return _sidebar("primary", inner)


def _beside(book: Book) -> dict[str, tuple]:
    """The page before and the page after each, in reading order: of cover, chapters and what is about the whole book, and of the workings among themselves."""
    read = [("index.html", book.project.name), *((f"{chapter.id}.html", chapter.title) for chapter in book.chapters), *GENERAL]
    worked = [(working_page(chapter.id, kind), f"{chapter.title}: {in_sentence(WORKINGS[kind])}") for chapter in book.chapters
              for kind in workings(book, chapter.id)]
    return {one[0]: (before, after) for row in (read, worked) for before, one, after in zip([None, *row], row, [*row[1:], None])}


def _before_and_after(data: PageData, before: tuple | None = None, after: tuple | None = None) -> Markup:
    """Links to the page before and to the page after."""
    links = [data.link(*one, rel=rel) for one, rel in ((before, "prev"), (after, "next")) if one]
    return html.tag("nav", *links, class_="turn", aria_label="Before and after") if links else html.EMPTY


def _entry(data: PageData, address: str, title: str, name: str) -> Markup:
    return data.link(address, title, aria_current="page" if address == name else None)


def _here(data: PageData) -> Markup:
    """Headings of this page."""
    if len(data.headings) < 2:
        return html.EMPTY
    lines = [data.link(f"#{anchor}", title) for anchor, title in data.headings.items()]
    inner = html.tag("nav", html.paragraph("On this page"), html.bullets(lines), class_="side", aria_label="On this page")
    return _sidebar("secondary", inner)


def _sidebar(place: str, inner: Markup) -> Markup:
    """The boxes that the theme expects round a side list."""
    boxed = html.tag("div", html.tag("div", inner, class_="md-sidebar__inner"), class_="md-sidebar__scrollwrap")
    return html.tag("div", boxed, class_=f"md-sidebar md-sidebar--{place}")


def _foot(data: PageData, book: Book) -> Markup:
    lines: Iterable = [html.paragraph(document(book)), html.paragraph(AID), html.paragraph(data.link("../how-to-read.html", "How to read this book"))]
    return html.tag("footer", *lines, class_="foot")
