"""The whole book as one document: every id once, every link within it, the same parts as the pages of the site."""

from collections import Counter
from dataclasses import replace

import pytest
from page_tree import read

from basis.record.history import history_of
from basis.record.marks import since
from basis.site import numbering, pages, whole_book
from basis.site.addresses import Workshop, workings
from basis.site.render import OWN
from basis.site.whole_book import PAPERS, BoundData, within


@pytest.fixture(scope="module")
def bound(books):
    """(slug, sheets) -> the document, with its tree."""
    ready, found = pages.layouts((OWN,)), {}
    for slug, sheets in (("larkmere-hospital", True), ("cobble-key-exchange", False)):
        history = history_of(books[slug])
        book = replace(books[slug], since=since(history))
        made = whole_book.bind(book, ready, history, Workshop(), "letter" if sheets else "a4", sheets)
        found[slug] = (made, read(made.text({part.place: number for number, part in enumerate(made.parts, start=2)})), book)
    return found


def test_every_id_stands_once_and_every_link_leads_to_one(bound):
    for slug, (_, tree, _) in bound.items():
        ids = Counter(one.attributes["id"] for one in tree if one.attributes.get("id"))
        assert not [name for name, count in ids.items() if count > 1], slug
        links = [one.attributes[name] for one in tree for name in ("href", "xlink:href") if name in one.attributes and one.tag != "link"]
        assert len(links) > 1000 and {link for link in links if not link.startswith("#") or link[1:] not in ids} == set(), slug
        assert all(name in ids for one in tree for name in (one.attributes.get("aria-labelledby") or "").split())


def test_parts_stand_in_order_with_their_numbers(bound):
    for slug, (made, tree, book) in bound.items():
        heads = [one.text for one in tree.all("h1")]
        chapters = [f"{number} {chapter.title}" for number, chapter in enumerate(book.chapters, start=1)]
        about = [f"{numbering.LETTERS[address]} {title}" for address, title in numbering.GENERAL]
        after = [f"{number} {chapter.title}: {kind}" for number, chapter in enumerate(book.chapters, start=1)
                 for kind in ("inputs", "calculation sheet") if {"inputs": "inputs", "calculation sheet": "sheet"}[kind] in workings(book, chapter.id)]
        assert heads == [book.project.name, "Contents", *chapters, *about, *(after if slug == "larkmere-hospital" else ())]
        lines = tree.all("ul", "contents")[0].all("li")
        assert [line.all("a")[0].text for line in lines] == heads[2:]
        assert [line.all("span")[0].text for line in lines] == [str(number) for number in range(3, len(lines) + 3)]


def test_numbers_lead_to_their_working_where_it_is_in_the_document(bound):
    _, tree, book = bound["larkmere-hospital"]
    entries = {one.attributes["id"]: one for one in tree.all("section")}
    assert len(entries) == len(book.values)
    leading = [one for one in tree.all("a", "n") if "href" in one.attributes]
    assert len(leading) > 2000 and all(one.attributes["href"].startswith("#") for one in leading)
    _, tree, _ = bound["cobble-key-exchange"]
    assert not tree.all("section") and not [one for one in tree.all("a", "n") if "href" in one.attributes]


def test_the_paper_is_said_and_each_part_has_its_running_head(bound):
    for slug, (made, _, book) in bound.items():
        assert f"@page{{size:{PAPERS['letter' if slug == 'larkmere-hospital' else 'a4']}}}" in made.style
        for number, part in enumerate(made.parts):
            assert f"page:part-{number};" in part.text and f"@page part-{number}{{@top-right" in made.style
        assert book.project.name in made.style


def test_decisions_stand_once_in_their_chapters(bound):
    """What a template has placed is not placed again below it, whatever ids are called in the document."""
    _, tree, book = bound["larkmere-hospital"]
    for decision in book.project.decisions:
        home = book.home_of(decision.id)
        assert len([one for one in tree.all("h2") if one.attributes.get("id") == within(f"{home}.html", f"decision-{decision.id}")]) == 1


def test_a_link_to_what_is_not_bound_is_none():
    data = BoundData(here="fuel.html", bound=frozenset({"fuel.html", "noise.html"}))
    assert data.lead("noise.html#a.b") == "#noise.a.b" and data.lead("#x") == "#fuel.x" and data.lead("noise.html") == "#noise.top"
    assert data.lead("fuel-sheet.html#x") == "" and data.lead("fuel.csv") == ""
    assert data.place("x") == "fuel.x" and data.ids == {"x": 1}
