"""Numbers of chapters, tables and figures, read from the pages of the demos as a reader would get them, and what a text refers to."""

import re

import pytest
from conftest import demo_books
from page_tree import read

from basis.site import addresses as addressing
from basis.site import numbering, pages, paper
from basis.site.addresses import Workshop
from basis.site.functions import ChapterFunctions
from basis.site.page_data import PageData
from basis.site.render import OWN, Refused

LABEL = re.compile(r"(Table|Figure) ([0-9A-Z]+)\.(\d+) (.+)")


@pytest.fixture(scope="module")
def made(books):
    """Slug -> page by name, as a tree."""
    ready = pages.layouts((OWN,))
    return {slug: {one.address.partition("/")[2]: read(one.body) for one in pages.of_book(book, ready, Workshop()).pages.values()}
            for slug, book in books.items()}


def captions(page):
    """What captions say, in reading order, of tables that are not folded into a figure."""
    hidden = {id(one) for details in page.all("details") for one in details}
    return [one.text for one in page if one.tag in ("caption", "figcaption") and id(one) not in hidden]


def test_chapters_are_numbered_in_order_and_pages_about_the_book_have_letters(made, books):
    for slug, book in books.items():
        for number, chapter in enumerate(book.chapters, start=1):
            assert made[slug][f"{chapter.id}.html"].all("h1")[0].text == f"{number} {chapter.title}"
        heads = [made[slug][address].all("h1")[0].text for address, _ in numbering.GENERAL]
        assert heads == [f"{'ABCDEFGHIJ'[place]} {title}" for place, (_, title) in enumerate(numbering.GENERAL)]
        assert made[slug]["index.html"].all("h1")[0].text == book.project.name


def test_each_table_and_figure_of_a_chapter_has_a_caption_with_the_next_number_of_its_kind(made, books):
    for slug, book in books.items():
        for name, page in made[slug].items():
            part = next((str(place) for place, one in enumerate(book.chapters, start=1) if name == f"{one.id}.html"), numbering.LETTERS.get(name))
            if part is None:
                continue
            counts = {"Table": 0, "Figure": 0}
            for text in captions(page):
                found = LABEL.match(text)
                assert found, (slug, name, text)
                counts[found[1]] += 1
                assert found[2] == part and int(found[3]) == counts[found[1]], (slug, name, text)
            if part.isdigit():
                hidden = {id(one) for details in page.all("details") for one in details}
                shown = [one for one in page.all("table") if id(one) not in hidden]
                assert counts == {"Table": len(shown), "Figure": len(page.all("figure"))}, (slug, name)


def test_a_number_is_where_links_lead(made):
    for found in made.values():
        for name, page in found.items():
            for one in page.all("caption"):
                if "id" in one.attributes:
                    assert one.text.partition(" ")[2].partition(" ")[0].split(".")[1] == one.attributes["id"].removeprefix("table-"), name
                    box = one.parent.parent
                    assert box.attributes.get("aria-labelledby", one.attributes["id"]) == one.attributes["id"]


def test_a_text_refers_by_the_number_that_stands_at_the_place(made):
    """`see` is written before what it refers to is placed: the number is put in when the page is whole."""
    page = made["larkmere-hospital"]["ventilation.html"]
    found = [(one, one.parent.text) for one in page.all("a") if LABEL.match(f"{one.text} x") and one.attributes["href"].startswith("#")]
    assert len(found) == 3
    ids = {one.attributes["id"]: one for one in page if "id" in one.attributes}
    for link, around in found:
        assert f"({link.text})" in around
        there = ids[link.attributes["href"][1:]]
        assert there.text.startswith(f"{link.text} ") or there.all("figcaption")[0].text.startswith(f"{link.text} ")


def test_a_reference_to_what_a_book_does_not_have_says_nothing_and_a_misspelt_one_is_told(books):
    book = books["cobble-key-exchange"]
    addresses = addressing.of_book(book, "ventilation.html")
    functions = ChapterFunctions(addresses, next(one for one in book.chapters if one.id == "ventilation"))
    assert numbering.referred("before" + functions.see("radiator_air_on_temperature") + ".", addresses.data) == "before."
    with pytest.raises(Refused) as told:
        functions.see("restriction_lader")
    assert told.value.nearest == "restriction_ladder"


def test_numbers_follow_the_chapters_of_the_book(tmp_path):
    """The same chapter is another number in a book that has fewer before it."""
    book = demo_books(tmp_path / "projects", "plant, ventilation")["larkmere-hospital"]
    ready = pages.layouts((OWN,))
    made = pages.of_book(book, ready, Workshop()).pages["larkmere-hospital/ventilation.html"]
    assert read(made.body).all("h1")[0].text == "2 Ventilation"
    assert captions(read(made.body))[0].startswith("Table 2.1 ")
    assert '--part:"2"' in made.style and '--here:"2 Ventilation"' in made.style and "revision" in made.style


def test_names_are_counted_once_and_few_more_are_not_left_out():
    assert numbering.first_names(["a", "b", "a", "c"]) == "a, b and c"
    assert numbering.first_names("abcd") == "a, b, c and d"
    assert numbering.first_names("abcde") == "a, b, c and 2 more"
    assert numbering.first_names(["a"]) == "a" and numbering.first_names([]) == ""


def test_a_name_of_a_project_cannot_leave_the_running_head():
    assert paper.quoted('a"}</style>\\&\n') == r'"a\22 }\3c /style\3e \5c \26 \a "'


def test_what_is_kept_of_a_page_keeps_its_numbers():
    page, part = PageData(), PageData()
    part.numbered["x"] = ("table-1", "Table 4.1")
    page.add(part)
    assert page.numbered == {"x": ("table-1", "Table 4.1")}
