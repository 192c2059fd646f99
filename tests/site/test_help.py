"""Pages of help: they tell all that the program goes by, each thing once, and lead to one another."""

from dataclasses import fields

import pytest
from page_tree import read
from rendering import layouts

from basis.chapters import catalogue
from basis.language.maths import ARGUMENTS
from basis.language.sources import HOW_KNOWN
from basis.language.terms import Term, lists_by_key, terms
from basis.reading import schema
from basis.site.functions import ChapterFunctions
from basis.site.help import HELP, TABLES, pages_of_help
from basis.solving.value import MARKS
from basis.solving.verdict_words import WORDS


@pytest.fixture(scope="module")
def pages():
    return {page.address: page for page in pages_of_help(layouts())}


def rows_of(page, label: str) -> dict[str, list[str]]:
    """Head of each row of the table with that label -> texts of its cells."""
    return rows_in(next(box for box in read(page.body).all("div") if box.attributes.get("aria-label") == label))


def rows_in(box) -> dict[str, list[str]]:
    return {(row.all("code") or row.all("th"))[0].text: [cell.text for cell in row.all("td")] for row in box.all("tbody")[0].all("tr")}


def test_each_word_and_mark_is_explained(pages):
    page = pages["how-to-read.html"]
    for table, told in zip(read(page.body).all("table"), (WORDS, MARKS, schema.STANDINGS, HOW_KNOWN), strict=True):
        found = rows_in(table)
        assert [head.lstrip("✗?≈✓– ") for head in found] == list(told) and all(cells[0].endswith(".") for cells in found.values())


def test_every_key_of_a_project_is_told_once(pages):
    page = pages["how-to-write.html"]
    chapters = [rows_of(page, f"Inputs of {chapter.title}") for chapter in catalogue().chapters
                if f"Inputs of {chapter.title}" in page.body]
    keys = [key for rows in chapters for key in rows]
    wanted = {term.id for term in terms().values() if not term.constant and (term.either or term.id not in catalogue().producers)}
    assert len(keys) == len(set(keys)) and set(keys) == wanted
    assert list(rows_of(page, "Lists")) == list(lists_by_key())
    for table in TABLES:
        assert list(rows_of(page, f"Keys of {table.entry}")) == list(table.by_key)
    every = {cells[-1].split(",")[0] for rows in chapters for cells in rows.values()}
    assert {"must be given", "undecided", "computed"} <= every


def test_what_a_chapter_is_made_of_is_told(pages):
    text = read(pages["how-to-add-a-chapter.html"].body).text
    public = [name for name in dir(ChapterFunctions) if not name.startswith("_")]
    assert all(name in text for name in [*public, *ARGUMENTS, *(one.name for one in fields(Term))])


def test_links_of_the_pages_of_help_lead_somewhere(pages):
    for page in pages.values():
        for target in page.data.links:
            assert target in ("index.html", *(address for address, _ in HELP.values())) or target.removeprefix("#") in page.data.ids, target
