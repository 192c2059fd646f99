"""What is noted of a page while it is made, against what Python's own HTML parser finds on the finished page."""

import threading
from collections import Counter
from html.parser import HTMLParser

import pytest
from conftest import ROOT

from basis.site import addresses as addressing
from basis.site import pages, worker_processes
from basis.site.addresses import Workshop
from basis.site.build_cache import BuildCache
from basis.site.kept import kept
from basis.site.page_data import PageData
from basis.site.read_tracker import TrackedBook
from basis.site.render import OWN

ENDS_A_PARAGRAPH = {"div", "dl", "figure", "h2", "h3", "ol", "p", "section", "table", "ul"}  # HTML, 4.4.1: the end tag of p may be left out before these
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


class Found(HTMLParser):
    """Ids, links and headings outside of drawings; what a drawing names within itself; and elements that do not end in their order."""

    def __init__(self, page: str):
        super().__init__(convert_charrefs=True)
        self.ids, self.links, self.headings, self.wrong, self.drawn, self.referred, self.open = Counter(), set(), [], [], set(), set(), []
        self.feed(page)
        self.wrong += self.open

    def handle_starttag(self, tag, attrs):
        self._note(tag, dict(attrs))
        if tag in ENDS_A_PARAGRAPH and "p" in self.open:  # for a browser, which would find the paragraph empty and its end a second one
            self.wrong.append(f"p {tag}")
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self._note(tag, dict(attrs))

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)

    def _note(self, tag, facts):
        inside = "svg" in [*self.open, tag]
        if "id" in facts:
            self.drawn.add(facts["id"]) if inside else self.ids.update([facts["id"]])
            if tag == "h2":
                self.headings.append(facts["id"])
        self.referred |= {facts[name][1:] for name in ("xlink:href", "href") if inside and tag != "a" and facts.get(name, "").startswith("#")}
        self.referred |= {text.split(")")[0] for value in facts.values() if inside and value for text in value.split("url(#")[1:]}
        self.links |= {facts[name] for name in ("href", "src") if name in facts and (not inside or tag == "a")}


@pytest.fixture(scope="module")
def built():
    """The pages of the demos, and the projects of which this process has made them itself."""
    here, plain = [], pages.of_book
    with pytest.MonkeyPatch.context() as changed:
        changed.setattr(worker_processes, "processors", lambda: 2)
        changed.setattr(pages, "of_book", lambda book, *others: here.append(book.project.slug) or plain(book, *others))
        return BuildCache().make(ROOT / "projects", (OWN,)).pages, here


@pytest.fixture(scope="module")
def made(built):
    return built[0]


def test_what_copies_of_the_process_have_made_reaches_it_whole(built):
    """What a copy cannot send is made again here: the same pages, in twice the time."""
    assert built[1] == [] or threading.active_count() > 1


def test_what_is_noted_is_what_stands_on_the_page(made):
    for address, page in made.items():
        found = Found(page.sidebar + page.body + page.foot)
        beside = {"found", "card"}  # of the search field, which leads nowhere and is led to by nothing
        assert not found.wrong, (address, found.wrong[:3])
        assert +(found.ids - Counter(beside)) == +page.data.ids, (address, (found.ids - page.data.ids), (page.data.ids - found.ids))
        assert found.links == page.data.links, (address, found.links ^ page.data.links)
        assert found.headings == list(page.data.headings), address
        assert found.referred <= found.drawn, (address, found.referred - found.drawn)
        assert not found.drawn & found.ids.keys(), address


def test_sources_are_cited_where_they_are_linked(made):
    for address, page in made.items():
        linked = {link.partition("#source-")[2] for link in page.data.links if link.startswith("sources.html#source-")}
        assert linked == page.data.cited, address


def test_a_part_brings_what_was_noted_of_it():
    part, page = PageData(), PageData()
    part.heading("Heat & air", "heat")
    part.link("a.html#b", "there")
    assert part.first("none") and not part.first("none")
    part.files["a.csv"] = {"x": 1}
    page.files["a.csv"] = {"y": 2}
    page.add(part)
    page.add(part)
    assert page.ids == Counter(heat=2) and page.links == {"a.html#b"} and list(page.headings) == ["heat"] and page.headings["heat"] == "Heat &amp; air"
    assert page.files == {"a.csv": {"x": 1, "y": 2}} and not page.first("none")


def test_what_a_page_tells_once_is_told_where_it_comes_first_also_when_a_part_is_kept(books):
    workshop = Workshop(keep=True)
    read = TrackedBook(books["cobble-key-exchange"])

    def told(*places: str) -> list[bool]:
        page = addressing.of_book(read, "x.html", workshop)
        return [kept(page, (place,), lambda addresses: addresses.data.first("none listed")) for place in places]

    assert told("a", "b") == [True, False]
    assert told("b", "a") == [True, False] and told("a", "b", "a") == [True, False, False]
