"""The whole book as one document: every id once, every link within it, the same parts as the pages of the site."""

from collections import Counter
from dataclasses import replace

import pytest
from markupsafe import Markup
from page_tree import read

from basis.record.history import history_of
from basis.record.marks import since
from basis.site import numbering, pages, whole_book
from basis.site.addresses import Workshop, workings
from basis.site.page_data import Captioned, PageData
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
        assert heads == [book.project.name, "Contents", "Figures", "Tables", *chapters, *about, *(after if slug == "larkmere-hospital" else ())]
        lines = tree.all("ul", "contents")[0].all("li")
        assert [line.all("a")[0].text for line in lines] == heads[4:]
        assert [line.all("span")[0].text for line in lines] == [str(number) for number in range(3, len(lines) + 3)]


def test_lists_name_each_figure_and_table_that_has_a_number(bound):
    """Held against the captions as an HTML parser finds them in the document."""
    for slug, (made, tree, _) in bound.items():
        for listing, tag, kind in zip(made.lists, ("figcaption", "caption"), ("Figure", "Table"), strict=True):
            found = [one.text for one in tree.all(tag) if one.text.startswith(f"{kind} ")]
            lines = tree.all("ul", listing.title.lower())[0].all("li")
            assert len(lines) == len(found) > 40, slug
            for line, caption in zip(lines, found):
                assert caption.startswith(f"{kind} {line.all('a')[0].text}"), slug
            assert all(line.all("span")[-1].attributes == {} for line in lines)


def test_few_figures_have_no_list():
    data = {"fuel.html": PageData(captions=[Captioned("Figure", f"figure-{place}", f"8.{place}", Markup(f"Of {place}")) for place in range(4)])}
    assert whole_book._listing("Figures", "Figure", data).lines[0] == ("fuel.figure-0", "<b>8.0</b> Of 0")
    del data["fuel.html"].captions[0]
    assert whole_book._listing("Figures", "Figure", data) is None and whole_book._listing("Tables", "Table", data) is None


def test_nothing_is_wider_than_the_sheet_or_too_small_to_read(bound, browser, tmp_path):
    """Of a whole book, laid out as on paper: something too wide would make the browser print all pages smaller. 96 CSS pixels are 72 points."""
    for slug, (made, _, _) in bound.items():
        width = whole_book.WIDTHS["letter" if slug == "larkmere-hospital" else "a4"]
        (tmp_path / "book.html").write_text(made.text({}), "utf-8")
        page = browser.new_page(viewport={"width": width, "height": 1000})
        page.emulate_media(media="print")
        page.goto((tmp_path / "book.html").as_uri())
        for system in ("si", "us", ""):  # both, where none is named
            page.evaluate("system => { document.documentElement.removeAttribute('data-units'); if (system) document.documentElement.dataset.units = system; }",
                          system)
            assert page.evaluate(OUTSIDE, width) == [], (slug, system)
        page.close()


OUTSIDE = """width => {
  const found = [], walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), range = document.createRange();
  for (let text = walker.nextNode(); text; text = walker.nextNode()) {
    const around = text.parentElement, picture = around.closest("svg"), style = getComputedStyle(around);
    range.selectNodeContents(text);
    const box = range.getBoundingClientRect(), turned = () => getComputedStyle(around.closest(".wide, .working") || around).page.startsWith("turned");
    if (!text.data.trim() || box.width < 2) continue;
    const points = 0.75 * parseFloat(style.fontSize) * (picture ? picture.getScreenCTM().a : 1);
    if (points < 7.49 || (box.right > width + 0.5 && style.position != "absolute" && !turned())) found.push([text.data.slice(0, 60), points, box.right]);
  }
  return found.slice(0, 9);
}"""


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
            assert f"page:part-{number};" in part.text and f"@page part-{number}{{@top-right{{content:\"{part.title if number else ''}\"}}" in made.style
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
