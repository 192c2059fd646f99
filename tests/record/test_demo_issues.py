"""The issued records of the demo projects: sealed, readable, small, in step with the text, and with a story that the page of revisions tells."""

import lzma
from pathlib import Path

import pytest
from page_tree import read
from rendering import layouts

from basis.record.history import history_of
from basis.record.issued import FOLDER, records_of
from basis.record.issuing import ROLES
from basis.site import addresses, frame, pages

PROJECTS = Path(__file__).parents[2] / "projects"
REVISIONS = {"larkmere-hospital": ["A", "B", "C"], "high-tarn-waterworks": ["B"], "cobble-key-exchange": ["A"]}
TURNED = {  # of Larkmere: what each issue turned, from what to what
    "B": {"noise_limit": ("fails", "tight"), "transformer_rating_ok": ("holds", "tight"), "restriction": ("holds", "tight")},
    "C": {"breaker_making": ("tight", "fails"), "breaker_breaking": ("holds", "tight")},
}


@pytest.fixture(scope="module")
def larkmere(books):
    return history_of(books["larkmere-hospital"])


@pytest.mark.parametrize("slug", REVISIONS)
def test_records_are_whole_and_in_step_with_the_text(books, slug):
    records = records_of(PROJECTS / slug)  # raises what is wrong with any of them
    assert [record.head.revision for record in records] == REVISIONS[slug] and books[slug]["revision"].number == REVISIONS[slug][-1]
    for record in records:
        assert record.head.note and record.roles and all(role.role in ROLES and role.date <= record.head.date for role in record.roles)
        assert record.values["revision"].number == record.head.revision


@pytest.mark.parametrize("slug", REVISIONS)
def test_records_are_small(slug):
    for path in (PROJECTS / slug / FOLDER).iterdir():
        whole, packed = path.stat().st_size, len(lzma.compress(path.read_bytes()))  # as xz packs it
        assert whole < 1_000_000 and packed < (whole / 5 if slug == "larkmere-hospital" else 200_000), path  # the largest: a megabyte, and a fifth of it


def test_each_issue_turned_what_its_note_tells(larkmere):
    for step in larkmere.steps:
        turned = {check.id: (check.old, check.new) for check in step.turned}
        assert TURNED[step.new.revision].items() <= turned.items(), step.new.revision
    assert larkmere.since.moved and larkmere.since.turned  # edits that are still open


def test_changes_are_laid_to_the_project_and_never_to_the_program(larkmere):
    for found in larkmere.steps:
        assert {cause.kind for check in found.turned for cause in check.because} == {"input"}


def test_of_many_results_the_page_tells_those_that_matter(books, larkmere):
    book = books["larkmere-hospital"]
    page = read(pages.page(frame.of_book(book), pages.revisions_sketch(book, larkmere, layouts(), addresses.Workshop()))[0].body)
    values = [value for found in (larkmere.since, *larkmere.steps) for values in found.results.values() for value in values]
    kept = {book.values[value.id].term.name for value in values if value.asked}
    noise = {book.values[value.id].term.name for value in values if value.chapter == "noise"}
    rows = [row.text for row in page.all("tr")]
    assert any(row.startswith(name) for row in rows for name in noise & kept)
    assert noise - kept and not any(row.startswith(f"{name}, ") for row in rows for name in noise - kept)
    assert "basis compare larkmere-hospital A B" in page.text and "values that only this chapter takes" in page.text


def test_the_page_tells_them(books, larkmere):
    book = books["larkmere-hospital"]
    page = read(pages.page(frame.of_book(book), pages.revisions_sketch(book, larkmere, layouts(), addresses.Workshop()))[0].body)
    tables = [table for table in page.all("table") if [head.text for head in table.all("thead")[0].all("th")] == ["Check", "Before", "After", "Because of"]]
    for found, table in zip((larkmere.since, *reversed(larkmere.steps)), tables, strict=True):
        rows = [(row.all("a")[0].attributes["href"], row.all("td")) for row in table.all("tbody")[0].all("tr")]
        told = {address: tuple("".join(word.text for word in cell.all("span", "verdict")) for cell in cells[:2]) for address, cells in rows}  # "" is not made
        assert told == {f"checks.html#check-{check.id}": (check.old, check.new) for check in found.turned}
        new = {f"checks.html#check-{check.id}" for check in found.turned if not check.old}  # of a chapter that was not in the book, or of a later program
        assert all(cells[2].all("a") or address in new and cells[2].text.startswith(("the chapter ", "the program")) for address, cells in rows)
    assert {link.text for link in page.all("figure")[0].all("a")} >= {"Making capacity of the breakers", "Level at neighbours"}
