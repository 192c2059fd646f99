"""The built site, read from its files as a reader would get it: links, trace of every number, units, notices, bytes, faults."""

import os
import re
import shutil
import subprocess
import sys
from html import escape
from pathlib import Path
from types import SimpleNamespace
from urllib.parse import urldefrag

import pytest
from building import ROOT, built
from demos import demo_copy
from mkdocs.exceptions import Abort
from page_tree import read

from basis.chapters import catalogue
from basis.site.target import MARK
from basis.solving.value import written_shown
from basis.solving.verdicts import cautions_of

ORDER = ["Given", "Standing", "Inputs", "Used by", "Source", "Table", "Holds for", "Warning", "Residual", "Checked", "Rests on", "Open question",
         "Answers"]
PROJECT = """name: Trial plant
invented: true
"""


@pytest.fixture(scope="session")
def pages(site):
    """Address -> page, as text and as tree."""
    found = {}
    for path in sorted(site.rglob("*.html")):
        html = path.read_text("utf-8")
        found[path.relative_to(site).as_posix()] = SimpleNamespace(html=html, tree=read(html))
    return found


@pytest.fixture(scope="session")
def anchors(pages):
    """(address, id) -> element."""
    return {(address, one.attributes["id"]): one for address, page in pages.items() for one in page.tree if one.attributes.get("id")}


def target(address: str, href: str) -> tuple[str, str]:
    path, anchor = urldefrag(href)
    return (os.path.normpath(os.path.join(os.path.dirname(address), path)) if path else address), anchor


def working_of(book, value):
    """The page on which a value stands: what is computed on the sheet of its chapter, what is given or taken for want of it on the inputs."""
    return f"{book.project.slug}/{book.home[value.id]}-{'sheet' if value.producer else 'inputs'}.html"


def of_books(pages):
    return {address: page for address, page in pages.items() if "/" in address}


# ---- what is there ----

def test_every_book_has_its_pages(pages, books):
    for slug, book in books.items():
        wanted = {"index", "options", "governs", "checks", "compliance", "questions", "revisions", "self-tests", "assumptions", "sources", "terms"}
        wanted |= {chapter.id for chapter in book.chapters} | {Path(working_of(book, value)).stem for value in book.values.values()}
        wanted |= {f"option-{decision.id}.{option.id}" for decision in book.project.decisions for option in decision.options if option.id != decision.chosen}
        assert {f"{slug}/{name}.html" for name in wanted} == {address for address in pages if address.startswith(f"{slug}/")}
    assert "index.html" in pages


def test_only_generated_pages_and_parts_of_the_theme_are_published(site):
    endings = {path.suffix or path.name for path in site.rglob("*") if path.is_file()}
    assert endings <= {".html", ".js", ".css", ".png", ".csv", ".ics", ".woff2", ".txt", MARK}, endings
    assert not list(site.rglob("*.yaml")) and not list(site.rglob("sitemap*"))


# ---- links ----

def test_no_dead_link_and_no_dead_anchor(site, pages, anchors):
    dead = []
    for address, page in pages.items():
        for one in page.tree:
            for name in ("href", "src"):
                href = one.attributes.get(name)
                if href and not href.startswith("data:"):
                    where, anchor = target(address, href)
                    if not (site / where).is_file() or (anchor and (where, anchor) not in anchors):
                        dead.append((address, href))
    assert not dead, dead[:10]


def test_no_id_stands_twice_on_a_page(pages):
    for address, page in pages.items():
        ids = [one.attributes["id"] for one in page.tree if one.attributes.get("id")]
        assert len(ids) == len(set(ids)), (address, sorted({one for one in ids if ids.count(one) > 1})[:5])


def test_references_within_drawings_lead_somewhere(pages):
    for address, page in pages.items():
        ids = {one.attributes.get("id") for one in page.tree}
        for svg in page.tree.all("svg"):
            inner = re.findall(r"url\(#([^)]+)\)", str([one.attributes for one in svg]))
            inner += [one.attributes["xlink:href"][1:] for one in svg if "xlink:href" in one.attributes]
            assert set(inner) <= ids, address


def test_nothing_is_fetched_from_outside(site, pages):
    for address, page in pages.items():
        outside = [one.attributes.get(name) for one in page.tree for name in ("href", "src", "srcset", "action")
                   if re.match(r"(https?:)?//", one.attributes.get(name) or "")]
        assert not outside, (address, outside[:3])
    for path in [path for kind in ("css", "js") for path in (site / "assets").glob(f"*.{kind}")]:
        text = path.read_text("utf-8")
        assert not re.search(r"https?://|@import|url\((?!#|fonts/)", text), path
        for name in re.findall(r"url\((fonts/[^)]*)\)", text):  # ours, of open licence, which lies beside it
            assert (path.parent / name).is_file() and "SIL OPEN FONT LICENSE Version 1.1" in (path.parent / "fonts" / "OFL.txt").read_text("utf-8")


# ---- every number can be followed ----

def test_every_number_leads_to_the_same_number(pages, anchors):
    followed = 0
    for address, page in of_books(pages).items():
        for link in page.tree.all("a", "n"):
            where, anchor = target(address, link.attributes["href"])
            assert where.endswith(("-sheet.html", "-inputs.html")) or "/option-" in where, (address, link.attributes["href"])
            there = anchors[where, anchor]
            there = there.parent.parent.parent if there.tag == "th" else there  # the head of a column: the table holds its numbers
            cells = link.parent.parent.all("td") if "row" in link.classes else [link]  # the head of a row leads to all of its numbers
            for part in [part for cell in cells for part in cell.all("u-si") + cell.all("u-us") + cell.all("tspan") or [cell]]:
                words = part.text.split(" ")
                number = next((word for word in reversed(words) if re.search(r"\d", word)), words[-1]) if link.all("text") else words[0]  # I″k 16.5 kA
                assert number in there.text, (address, link.attributes["href"], part.text)
                followed += 1
    assert followed > 1000


def test_every_value_has_an_entry_with_both_unit_systems(anchors, books):
    for slug, book in books.items():
        for value in book.values.values():
            entry = anchors[working_of(book, value), value.id]
            assert entry.tag == "section" and value.term.name in entry.text
            if not value.axes:
                for system in ("si", "us"):
                    assert " ".join(value.text(system).split()) in entry.text, value.id


def test_an_element_has_the_address_of_its_row(anchors, books):
    book = books["larkmere-hospital"]
    for value in book.values.values():
        if value.axes and len(value.elements()) <= 100 and value.axes != ("band",):
            for ids in value.elements():
                row = ids[:-1] if len(ids) > 1 else ids
                head = anchors[working_of(book, value), ".".join((value.id, *row))]
                assert head.tag in ("tr", "th")  # of a turned table the head of a column


def test_entries_keep_one_order_and_link_both_ways(anchors, books):
    for slug, book in books.items():
        for value in book.values.values():
            page = working_of(book, value)
            facts = [(name.text.split(",")[0], fact) for name, fact in zip(anchors[page, value.id].all("dt"), anchors[page, value.id].all("dd"))]
            places, at = [], 0
            for name, _ in facts:
                at = ORDER.index(name, at)
                places.append(at)
            assert places == sorted(places)
            for label, others in (("Inputs", [name for name in value.inputs if name in book.values]), ("Used by", value.used_by)):
                linked = {target(page, link.attributes["href"])[1] for name, fact in facts if name == label for link in fact.all("a")}
                assert linked == set(others), (value.id, label)


def test_a_given_shows_file_line_words_and_note(anchors, books):
    for slug, book in books.items():
        for value in book.values.values():
            shown = anchors[working_of(book, value), value.id].text
            for given in value.givens.values():
                assert f"{Path(given.file).name}:{given.line}" in shown and " ".join(written_shown(value.term, given.written).split()) in shown
                assert " ".join(given.note.split()) in shown and given.standing in shown


def test_the_formula_shown_is_the_one_that_runs(anchors, books):
    # Written out by hand from DIN/IEC usage: apparent power is active power over power factor.
    entry = anchors["larkmere-hospital/loads-sheet.html", "set_rated_apparent_power"]
    assert entry.all("math") and entry.all("mfrac")
    book = books["larkmere-hospital"]
    said = f"S_r = {book['set_rated_power'].text()} / {book['set_rated_power_factor'].text()}"
    assert [" ".join(one.text.split()) for one in entry.all("span", "spoken")] == [" ".join(said.split())]  # once, with the numbers
    shown = entry.all("math")[1].text.replace("\u2009", " ")
    for name in ("set_rated_power", "set_rated_power_factor"):
        assert " ".join(book[name].text(unit=False).split()) in shown


def test_a_weak_number_says_so_in_words(pages, books):
    seen = 0
    for slug, book in books.items():
        for chapter in book.chapters:
            for link in pages[f"{slug}/{chapter.id}.html"].tree.all("a", "n"):
                page, value_id = urldefrag(link.attributes["href"])
                if "option-" in page or book.values[value_id.partition(".")[0]].axes:  # in tables the word stands in the head
                    continue
                marks = book.values[value_id].marks if book.values[value_id].exists else ()
                word = next((mark for mark in ("assumed", "from memory", "common practice") if mark in marks), "")
                if f"all {word}" in link.parent.parent.text:  # once for all numbers of a part of a schematic
                    continue
                after = [part for part in link.parent.content[link.parent.content.index(link) + 1:]
                         if (part.strip() if isinstance(part, str) else part.tag != "u-was")]  # the mark of a number that moved stands between
                assert not word or after[0].text == word, (slug, chapter.id, value_id)
                seen += bool(word)
    assert seen > 10


# ---- what every page says ----

def test_every_page_says_invented_and_defers_to_local_codes(pages):
    for address, page in of_books(pages).items():
        assert "invented" in page.tree.text, address
        assert "licensed engineer" in page.tree.text and "carbon monoxide" in page.tree.text, address
        assert len(page.tree.all("h1")) == 1, address


def test_every_chapter_shows_cautions_checks_and_the_way_to_its_sheet(pages, books):
    for slug, book in books.items():
        for chapter in book.chapters:
            page = pages[f"{slug}/{chapter.id}.html"].tree
            for caution in cautions_of(chapter, book.values):
                assert " ".join(caution.split()) in page.text
            assert any(link.attributes["href"] == f"{chapter.id}-sheet.html" for link in page.all("article")[0].all("a") if "href" in link.attributes)
            for check in (check for check in catalogue().checks[chapter.id] if not check.self_test):
                assert book.check(check.id).word in page.all("span", id=f"check-{check.id}")[0].parent.parent.text


def test_the_stamp_tells_what_is_still_open(pages, books):
    for slug, book in books.items():
        for address in (f"{slug}/index.html", f"{slug}/{book.chapters[0].id}-sheet.html"):
            head = pages[address].tree.all("p", "stamp") or pages[address].tree.all("dl", "block")  # the cover has a title block
            stamp = head[0].text
            assert f"open: {len(book.assumptions())} assumed, " in stamp and stamp.endswith(book.still_open)
            if "document_number" in book:
                assert str(book["document_number"].number) in stamp


def test_checks_page_never_passes_by_silence(pages, books):
    for slug, book in books.items():
        page = pages[f"{slug}/checks.html"].tree
        for verdict in book.checks:
            row = page.all("span", id=f"check-{verdict.check.id}")[0].parent.parent
            assert verdict.word in row.text
            assert verdict.word != "undecided" or "not given" in row.text
            nothing = " ".join(verdict.nothing_text.split())
            assert verdict.word != "nothing to check" or (nothing in row.text and "not given" not in row.text.replace(nothing, ""))


def test_open_assumptions_page_lists_each(pages, books):
    for slug, book in books.items():
        text = pages[f"{slug}/assumptions.html"].tree.text
        for given in book.assumptions():
            assert f"{given.file.rsplit('/', 1)[-1]}:{given.line}" in text


def test_side_lists_hold_this_book_only(pages, books):
    for address, page in of_books(pages).items():
        slug = address.split("/")[0]
        others = [link.attributes["href"] for link in page.tree.all("a")
                  if any(f"{other}/" in (link.attributes.get("href") or "") for other in books if other != slug)]
        assert not others


def test_options_lead_to_their_own_working(pages, books):
    book = books["larkmere-hospital"]
    hrefs = {link.attributes["href"] for link in pages["larkmere-hospital/options.html"].tree.all("a", "n")}
    assert any(href.startswith(f"option-{book.project.decisions[0].id}.") for href in hrefs)
    assert any("-sheet.html#" in href for href in hrefs)


def test_pages_are_of_moderate_size(pages, books):
    for slug, book in books.items():
        for chapter in book.chapters:
            for address in {working_of(book, value) for value in book.of_chapter(chapter.id)}:
                values = [value for value in book.of_chapter(chapter.id) if working_of(book, value) == address]
                elements = sum(len(value.elements()) for value in values if value.axes and len(value.elements()) <= 1000)
                assert len(pages[address].html.encode()) <= 20_000 + sum(2_400 if value.producer else 1_200 for value in values) + 150 * elements, address
    assert sum(len(page.html.encode()) for page in pages.values()) / len(pages) <= 95 * 1024


def test_the_source_of_a_table_stands_once_or_beside_the_table(pages):
    """Where a value rests on one source, that of its table is no other; where on several, the line of the table tells which."""
    alone = beside = 0
    for entry in (one for address, page in pages.items() if address.endswith("-sheet.html") for one in page.tree.all("section")):
        facts = dict(zip((one.text for one in entry.all("dt")), entry.all("dd")))
        if "Table" in facts:
            links = [[link.attributes["href"] for link in facts[name].all("a")] for name in ("Source", "Table")]
            assert links[0] and (links[1] == [] if len(links[0]) == 1 else links[1] and set(links[1]) <= set(links[0]))
            alone, beside = alone + (len(links[0]) == 1), beside + (len(links[0]) > 1)
    assert alone > 20 and beside > 20


def test_a_page_does_not_grow_with_the_number_of_projects(pages, tmp_path):
    copied = demo_copy("cobble-key-exchange", tmp_path / "projects" / "cobble-key-exchange")
    shutil.copytree(ROOT / "projects" / "cobble-key-exchange" / "issued", copied / "issued")
    alone = built(tmp_path / "projects", tmp_path / "site")
    for path in (alone / "cobble-key-exchange").glob("*.html"):
        assert path.read_text("utf-8") == pages[f"cobble-key-exchange/{path.name}"].html, path.name


def test_tables_have_heads_and_boxes_that_scroll_have_names(pages):
    for address, page in of_books(pages).items():
        for table in page.tree.all("article")[0].all("table"):
            heads = table.all("thead")[0].all("th")
            assert heads and all(head.text for head in heads), address
            assert len(heads) <= 2 or table.parent.attributes.get("role") == "group", address
        for box in page.tree.all(class_="wide", role="group") + page.tree.all(class_="working", role="group"):
            assert box.attributes.get("aria-label") or box.attributes.get("aria-labelledby")


# ---- bytes and copies ----

def test_a_second_build_gives_the_same_bytes(site, tmp_path, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    again = built(ROOT / "projects", tmp_path / "again")
    first = {path.relative_to(site): path.read_bytes() for path in site.rglob("*") if path.is_file()}
    second = {path.relative_to(again): path.read_bytes() for path in again.rglob("*") if path.is_file()}
    assert first.keys() == second.keys()
    assert [path for path in first if first[path] != second[path]] == []


def trial(folder: Path, text: str = PROJECT) -> Path:
    """A folder of projects with one small plant."""
    demo_copy("cobble-key-exchange", folder / "projects" / "trial")
    path = folder / "projects" / "trial" / "project.yaml"
    chapters = [line for line in path.read_text("utf-8").splitlines() if line.startswith("chapters:")]
    path.write_text("\n".join([text, *chapters, ""]), "utf-8")
    return folder / "projects"


def test_text_of_a_project_is_shown_and_never_run(tmp_path):
    evil = "<script>alert(1)</script> {{ 7 * 7 }} {% for x in y %} \" onload='x' &amp;"
    projects = trial(tmp_path, f"name: '{evil.replace(chr(39), chr(39) * 2)}'\ninvented: true\nplace: '<b>bold</b>'\n")
    site = built(projects, tmp_path / "site")
    for path in (site / "trial").glob("*.html"):
        html = path.read_text("utf-8")
        assert "<script>alert" not in html and "<b>bold" not in html and "{{ 7 * 7 }}" in html, path
    front = read((site / "trial/index.html").read_text("utf-8"))
    assert front.all("h1")[0].text == " ".join(evil.split())
    assert escape("<b>bold</b>") in (site / "trial/plant.html").read_text("utf-8")


def test_a_team_overrides_a_template_of_the_same_name(tmp_path):
    projects = trial(tmp_path)
    (tmp_path / "templates").mkdir()
    (tmp_path / "templates/books.md.j2").write_text("Our own words here.\n\n{{ books() }}\n", "utf-8")
    site = built(projects, tmp_path / "site")
    assert "Our own words here." in (site / "index.html").read_text("utf-8")


def test_a_fault_leaves_the_last_site_and_names_every_fault(tmp_path, caplog):
    projects = trial(tmp_path)
    site = built(projects, tmp_path / "site")
    before = {path: path.read_bytes() for path in site.rglob("*") if path.is_file()}
    plant = projects / "trial/plant.yaml"
    plant.write_text(plant.read_text("utf-8") + "\naltitud: 3 m\nproject_lif: 3 year\n", "utf-8")
    with pytest.raises(Abort):
        built(projects, site)
    assert "unknown key 'altitud'" in caplog.text and "nearest: altitude" in caplog.text and "project_lif" in caplog.text
    assert {path: path.read_bytes() for path in site.rglob("*") if path.is_file()} == before


def test_the_command_of_mkdocs_tells_faults_without_a_stack(tmp_path):
    projects = trial(tmp_path)
    (projects / "trial/plant.yaml").write_text("altitude: 3 kg\n", "utf-8")
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    done = subprocess.run([sys.executable, "-m", "mkdocs", "build"], cwd=tmp_path, capture_output=True, text=True,
                          env={**os.environ, "NO_MKDOCS_2_WARNING": "1"})
    assert done.returncode == 1 and "Traceback" not in done.stderr
    assert "projects/trial/plant.yaml:1: 'altitude': 3 kg is of the wrong dimension" in done.stderr
    assert not (tmp_path / "site").exists()
