"""`basis print`: what it refuses, and a small book printed by a real browser, read with pypdf."""

import os
import re
import stat
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from conftest import CHROMIUM
from demos import demo_copy
from page_tree import read
from pypdf import PdfReader
from pypdf.generic import ContentStream
from pytest import approx

from basis.site import html, whole_book
from basis.terminal import printing
from basis.terminal.cli import main

BOOK = "larkmere-hospital"
CHAPTERS = "plant, station_supply"
KEPT = ("project", "plant", "station_supply", "loads", "short_circuit", "voltage", "requirements")  # text that these refer to; what else is given fills sheets
REST = "generating_voltage: 11 kV\nrequired_autonomy: 72 h\n"  # which a decision and another chapter have
SMALLEST = 7.5  # points
FOOT = 18 / 25.4 * 72  # the margin below, which holds the number of the page
A4, LETTER = (210 / 25.4 * 72, 297 / 25.4 * 72), (8.5 * 72, 11 * 72)  # ISO 216: 210 mm by 297 mm; ANSI/ASME Y14.1 A: 8.5 in by 11 in


@pytest.fixture(scope="module")
def here(tmp_path_factory):
    """A folder with a small book in projects/."""
    folder = tmp_path_factory.mktemp("print")
    project = demo_copy(BOOK, folder / "projects" / BOOK) / "project.yaml"
    lines = [line for line in project.read_text("utf-8").splitlines() if not line.startswith("chapters:")]
    project.write_text("\n".join([*lines, f"chapters: [{CHAPTERS}]", ""]), "utf-8")
    for path in project.parent.glob("*.yaml"):
        if path.stem not in KEPT:
            path.unlink()
    (project.parent / "rest.yaml").write_text(REST, "utf-8")
    return folder


@pytest.fixture
def run(here, monkeypatch):
    monkeypatch.chdir(here)
    return lambda *words: CliRunner().invoke(main, ["print", *words])


@pytest.fixture
def false_browser(tmp_path, monkeypatch):
    """A program on the path that is called like a browser and prints nothing."""
    program = tmp_path / "bin" / "chromium"
    program.parent.mkdir()
    program.write_text("#!/bin/sh\necho 'cannot start' >&2\nexit 1\n")
    program.chmod(program.stat().st_mode | stat.S_IEXEC)
    monkeypatch.setenv("PATH", f"{program.parent}{os.pathsep}{os.environ['PATH']}")
    return program


# ---- what is refused ----

def test_without_a_browser_one_line_tells_what_is_wanted(run, here, monkeypatch):
    monkeypatch.setenv("PATH", str(here))
    told = run(BOOK)
    assert told.exit_code == 1 and "Traceback" not in told.output
    assert told.output.splitlines() == [
        "PATH: no browser that prints without a window; expected Chromium or another browser of its kind, 131 or later, as one of chromium, chromium-browser, "
        "google-chrome, google-chrome-stable, chrome, msedge; see: basis build: each page of the site prints by itself, too", "1 fault."]
    assert not list(here.glob("*.pdf"))


def test_an_unknown_project_is_told_with_the_nearest(run):
    told = run("larkmere-hopital")
    assert told.exit_code == 1 and "no project 'larkmere-hopital'" in told.output and "nearest: larkmere-hospital" in told.output


def test_an_unknown_paper_is_a_wrong_call(run):
    told = run(BOOK, "--paper", "a5")
    assert told.exit_code == 2 and "'a5' is not one of 'a4', 'letter'" in told.output


def test_a_target_that_cannot_be_written_is_told_before_the_work(run, here, false_browser):
    (here / "file").write_text("mine")
    told = run(BOOK, "--to", "file/book.pdf")
    assert told.exit_code == 1 and told.output.startswith("file: ") and "cannot start" not in told.output
    told = run(BOOK, "--to", "projects")
    assert told.exit_code == 1 and "projects: is a folder; expected the name of a PDF" in told.output


def test_a_file_of_somebody_else_stays(run, here, false_browser):
    mine = here / "mine.pdf"
    mine.write_bytes(b"%PDF-1.4 mine")
    told = run(BOOK, "--to", "mine.pdf")
    assert told.exit_code == 1 and "mine.pdf: was not made by this command and would be lost" in told.output and "--force" in told.output
    assert mine.read_bytes() == b"%PDF-1.4 mine"


def test_a_browser_that_prints_nothing_is_told_with_its_last_words(run, here, false_browser):
    told = run(BOOK, "--quick")
    assert told.exit_code == 1 and f"{false_browser}: printed nothing: cannot start" in told.output
    assert not (here / f"{BOOK}.pdf").exists() and not list(here.glob(".*-new"))


# ---- what is printed ----

@pytest.fixture(scope="module")
def bound(here):
    """The document that is printed."""
    return printing._bound(here / "projects" / BOOK, printing.Wanted(sheets=True, turning=False))


@pytest.fixture(scope="module")
def pdf(here):
    """The small book with its sheets on A4, printed by a real browser."""
    if not Path(CHROMIUM).exists():
        pytest.skip("no Chromium on this machine; until a browser is installed")
    return PdfReader(printing.printed(here / "projects" / BOOK, here / "a4.pdf", printing.Wanted(sheets=True, turning=False)))


@pytest.fixture(scope="module")
def extracted(pdf):
    return extracted_of(pdf)


def extracted_of(pdf):
    """The text of each page, and how often each size of letters is used in the book, in points."""
    sizes = Counter()

    def look(text, around, here, _, size):
        if text.strip():
            across, along = here[2] * around[0] + here[3] * around[2], here[2] * around[1] + here[3] * around[3]
            sizes[round(size * (across ** 2 + along ** 2) ** 0.5, 2)] += 1
    return [" ".join(page.extract_text(visitor_text=look).split()) for page in pdf.pages], sizes


@pytest.fixture(scope="module")
def texts(extracted):
    return extracted[0]


def bookmarks(pdf):
    """Title and page, from 1, of the bookmarks of the first level."""
    return [(one.title, pdf.get_destination_page_number(one) + 1) for one in pdf.outline if not isinstance(one, list)]


def test_bookmarks_are_the_parts_in_order_and_the_contents_tell_their_pages(pdf, bound, texts):
    found = bookmarks(pdf)
    titles = [part.title for part in bound.parts]
    assert [title for title, _ in found] == [titles[0], "Contents", "Tables", *titles[1:]]  # of figures there are too few for a list
    parts = [page for title, page in found if title != "Tables"]  # which begins where the contents end
    assert parts == sorted(set(parts)) and parts[1] <= dict(found)["Tables"] < parts[2]
    contents = texts[found[1][1] - 1]
    for title, page in found[3:]:
        assert re.search(rf"{re.escape(title)} {page}\b", contents), title


def test_every_link_leads_to_a_place_of_the_file(pdf):
    named = {name.removeprefix("/") for name in pdf.named_destinations}
    links = [one.get_object() for page in pdf.pages for one in page.get("/Annots", [])]
    assert len(links) > 500
    assert [one for one in links if str(one.get("/Dest", "")).removeprefix("/") not in named] == []
    assert {"plant.top", "station_supply.top", "plant-inputs.altitude"} <= named


def test_every_page_has_its_running_head_and_its_number(pdf, bound, texts):
    titles = [part.title for part in bound.parts]
    starts = {page: title for title, page in bookmarks(pdf) if title in (*titles, "Contents")}
    part = ""
    for number, text in enumerate(texts, start=1):
        part = starts.get(number, part)
        assert f"page {number} of {len(texts)}" in text
        assert "Larkmere Hospital, standby power, LH-E-0410, revision C" in text
        if part == titles[0]:
            assert text.count(part) == (2 if number == 1 else 1)  # the head says the title once
        else:
            assert text.count(part) >= (2 if number in starts else 1), (number, part)


def test_the_list_of_tables_tells_the_page_on_which_each_stands(pdf, bound, texts):
    at, (tables,) = dict(bookmarks(pdf)), bound.lists
    said = " ".join(texts[at["Tables"] - 1:at[bound.parts[1].title] - 1])
    assert len(tables.lines) > 20
    for place, words in tables.lines:
        number = read(str(words)).all("b")[0].text
        page = next(page for page, text in enumerate(texts[at[bound.parts[1].title] - 1:], start=at[bound.parts[1].title]) if f"Table {number} " in text)
        assert re.search(rf"(?<![\d.]){re.escape(number)} \D.*? {page}\b", said), (number, page)
        assert pdf.get_destination_page_number(pdf.named_destinations[f"/{place}"]) + 1 == page


def test_nothing_is_smaller_than_can_be_read(extracted):
    _, sizes = extracted
    assert min(sizes) >= SMALLEST - 0.05, sorted(sizes.items())[:5]  # sizes are written with two decimals


def test_no_heading_stands_alone_at_the_foot_of_a_page(pdf):
    """The lowest line of a page is that of no bookmark of that page."""
    def every(outline):
        for one in outline:
            yield from every(one) if isinstance(one, list) else [one]
    found = [(pdf.get_destination_page_number(one), "".join(one.title.split())) for one in every(pdf.outline)]
    lines = [lowest(page)[1] for page in pdf.pages]
    assert len(found) > 100 and min(map(len, lines)) > 0
    assert [(page + 1, title) for page, title in found if title.endswith(lines[page]) and len(lines[page]) > 3] == []


def test_no_half_of_a_sheet_is_empty_within_a_part(pdf):
    starts = {page for _, page in bookmarks(pdf)}
    feet = {number: lowest(page)[0] for number, page in enumerate(pdf.pages, start=1) if number + 1 not in starts and number < len(pdf.pages)}
    assert len(feet) > 60 and [number for number, foot in feet.items() if foot > 0.55 * A4[1]] == []


def lowest(page):
    """Where the last line above the number of the page stands, in points from the foot of the sheet, and what it says, without spaces."""
    found = []

    def look(text, around, here, _, size):
        if text.strip():
            found.append((here[4] * around[1] + here[5] * around[3] + around[5], text))
    page.extract_text(visitor_text=look)
    foot = min(at for at, _ in found if at > FOOT)
    return foot, "".join("".join(text for at, text in found if abs(at - foot) < 2).split())


def test_it_is_in_greys(pdf):
    """Colour operators of PDF, ISO 32000-1 table 74: rg and RG take red, green and blue."""
    coloured = set()
    for page in pdf.pages[::3]:
        for operands, operator in ContentStream(page.get_contents(), pdf).operations:
            if operator in (b"rg", b"RG") and len({round(float(one), 2) for one in operands}) > 1:
                coloured.add(tuple(operands))
    assert not coloured


def test_no_table_is_cut(bound, texts):
    """The last head and the last cell of every table are there in whole, and every number of its last column."""
    whole = re.sub(r"\s+", "", "".join(texts))
    tables = [table for part in bound.parts for table in read(str(part.text)).all("table") if not _folded(table)]
    assert len(tables) > 50
    for table in tables:
        links = 1 if "chapters" in table.attributes.get("class", "") else 0  # a last column of links alone, which paper has not
        for cell in [row.all("th")[:-links or None][-1:] + row.all("td")[:-links or None][-1:] for row in table.all("tr")]:
            for one in cell:
                words = re.sub(r"\s+", "", _on_paper(one))
                assert words in whole, (table.all("caption")[0].text if table.all("caption") else "", words)


def _folded(element):
    while element.parent is not None:
        element = element.parent
        if element.tag == "details":
            return True
    return False


def _on_paper(cell):
    """The first words of a cell as they are printed in SI units, up to where the letters change."""
    hidden = {id(one) for unseen in cell.all("u-us") + cell.all("u-was") + cell.all(class_="spoken") for one in unseen}
    return next((part for one in cell if id(one) not in hidden for part in one.content if isinstance(part, str) and part.strip()), "")


def _turned(pdf):
    """Whether each page lies on its side."""
    return [page.mediabox.width > page.mediabox.height for page in pdf.pages]


def test_the_sheets_of_this_book_are_upright(pdf):
    """Its tables of many quantities have few items, which are their columns."""
    assert not any(_turned(pdf))
    assert {(round(float(page.mediabox.width)), round(float(page.mediabox.height))) for page in pdf.pages} == {(round(A4[0]), round(A4[1]))}


def test_each_formula_with_a_fraction_stands_in_words_too(bound):
    """For where its symbols are wider than the sheet, which would make the browser print every page smaller."""
    rows = [row for part in bound.parts for box in read(str(part.text)).all(class_="working") for row in box.all("div") if row.all("mfrac")]
    assert len(rows) > 40 and all(row.all(class_="spoken") for row in rows)


def _row(width, words=""):
    """The row of a formula in which a fraction takes so many characters, which the browser cannot break, as it stands on a sheet."""
    maths = f"<math><mo>=</mo><mfrac><mtext>{'m' * width}</mtext><mn>2</mn></mfrac></math>"
    row = f'<span aria-hidden="true">{maths}</span><span class="spoken">{words}</span>' if words else maths
    return f'<section><div class="working"><div>{row}</div></div></section>'


def test_a_formula_wider_than_the_sheet_is_set_smaller_or_in_words(pdf, bound, tmp_path):
    """`pdf` only so that a machine without a browser skips this, too. 181 mm of A4 less the margin at the left hold some 60 letters m of 11.2 pt."""
    made = _printed(bound, tmp_path, _row(64), _row(160, "half of one hundred and sixty letters"), _row(20))
    pages, sizes = extracted_of(made)
    assert len(pages) == 2 and "half of one hundred and sixty letters" in pages[0] and min(sizes) >= SMALLEST - 0.05  # with the page of contents


def test_a_table_too_wide_turns_its_sheet_and_no_other(pdf, bound, tmp_path):
    """`pdf` only so that a machine without a browser skips this, too."""
    for cell, turned in (("1", False), ("123\N{NO-BREAK SPACE}456\N{NO-BREAK SPACE}789", True)):
        table = html.table("", [f"Head {number}" for number in range(12)], [[cell] * 12] * 7, "values", "Wide")
        found = _turned(_printed(bound, tmp_path, html.paragraph("Before."), table, html.paragraph("After.")))
        assert found == ([False, True, False, False] if turned else [False, False])


def _printed(bound, folder, *content):
    """A document of one part that holds this, and its contents."""
    part = replace(bound.parts[0], text=whole_book._article(1, html.made("".join(content))))
    printing._set(replace(bound, parts=(part,), lists=()), folder, printing._browser())
    return PdfReader(folder / "book.pdf")


def test_letter_paper_is_asked_for_and_what_the_command_made_is_replaced(pdf, run, here):
    letter = here / "letter.pdf"
    letter.write_bytes((here / "a4.pdf").read_bytes())
    assert run(BOOK, "--paper", "letter", "--units", "us", "--quick", "--to", "letter.pdf").output == "letter.pdf\n"
    page = PdfReader(letter).pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == approx(LETTER, abs=1)
    assert not list(here.glob(".*"))


def test_the_same_text_gives_the_same_bytes(pdf, tmp_path):
    """`pdf` only so that a machine without a browser skips this, too."""
    (tmp_path / "book.html").write_text("<!doctype html><title>t</title><style>@page{size:A4}</style><h1 id=a>One</h1><a href='#a'>to one</a>", "utf-8")
    made = []
    for _ in range(2):
        printing._print(printing._browser(), tmp_path, printing.FULL)
        made.append(printing._own((tmp_path / "book.pdf").read_bytes()))
    assert made[0] == made[1] and b"/CreationDate" not in made[0] and printing.MARK in made[0] and b"/ObjStm" in made[0]
    (tmp_path / "marked.pdf").write_bytes(made[0])
    assert PdfReader(tmp_path / "marked.pdf").pages[0].extract_text().split()[0] == "One" and printing._is_own(tmp_path / "marked.pdf")
