"""The pages of requirements and questions: what they say, where questions stand, that they follow a save, sort, filter and print."""

import csv
import io
import json
from pathlib import Path

import pytest
from accessibility import faults
from building import built
from page_tree import read
from pypdf import PdfReader
from rendering import chapter_page
from small_project import exchange, written

from basis import load
from basis.record.issued import Role
from basis.record.issuing import issue
from basis.site.build_cache import BuildCache
from basis.site.render import OWN

DEMO = Path(__file__).parents[2] / "projects" / "larkmere-hospital"
CODES = "codes:\n  - {id: brief, code_title: Estates brief, code_edition: second}\n"
ASKED = CODES + """requirements:
  - {id: R-1, code: brief, clause: "4.2", text: Tests shall stay within the permit., check: test_hours, evidence: Ledger.}
  - {id: R-2, code: Act, text: Somebody shall see to it.}
  - {id: R-3, code: Act, text: It shall be known., value: altitude}
  - {id: R-4, code: Act, text: "=1+1 <b>shall</b> be text.", statement: It is.}
questions:
  - {id: Q-1, date: 2026-02-01, role: inspector, about: test_hours, text: Who counts them?, state: open}
  - {id: Q-2, date: 2026-01-01, role: surveyor, about: altitude, text: Above which datum?, state: open}
  - {id: Q-3, date: 2026-01-05, role: surveyor, about: altitude, text: Is it the yard?, answer: The floor., state: answered}
  - {id: Q-4, date: 2026-01-06, role: inspector, about: noise_limit, text: Is it loud?, state: open}
"""


class Desk:
    """A small project that somebody serves and edits."""

    def __init__(self, aside, text=ASKED):
        self.folder = written(aside / "projects")
        self.cache = BuildCache(keep=True)
        self.save(text)

    def save(self, text):
        """Write what is asked, and the site after it."""
        (self.folder / "asked.yaml").write_text(text, "utf-8")
        self.site = self.cache.make(self.folder.parent, (OWN,))
        assert self.site.faults == ()

    def whole(self):
        return BuildCache().make(self.folder.parent, (OWN,))

    def page(self, name):
        return read(self.site.pages[f"pump-house/{name}.html"].body)


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    return Desk(tmp_path_factory.mktemp("desk"))


def cells(row):
    return [one.text for one in row.all("th") + row.all("td")]


def rows(page, class_):
    return {row.attributes["id"]: cells(row) for row in page.all("table", class_)[0].all("tbody")[0].all("tr")}


# ---- compliance ----

def test_the_matrix_says_how_each_requirement_stands(desk):
    page = desk.page("compliance")
    found = rows(page, "matrix")
    assert list(found) == ["requirement-R-3", "requirement-R-1", "requirement-R-2", "requirement-R-4"]  # by chapter and code, of no chapter last
    # 40 h of tests against 50 h allowed leave a fifth
    assert found["requirement-R-1"] == ["R-1", "Estates briefsecond, 4.2", "Tests shall stay within the permit.", "Plant and cautions",
                                        "Running for tests in a year40.0 h ≤ 50.0 h", "holds+20 %", "Ledger."]
    assert found["requirement-R-2"][4:6] == ["–", "not answerednobody has said yet what answers it"]
    assert found["requirement-R-3"][4:6] == ["Altitude0 m0 ft assumed", "no verdicta number is shown; no check is named for it"]
    assert found["requirement-R-4"][2:5] == ["=1+1 <b>shall</b> be text.", "the book as a whole", "It is."]
    assert [one.text for one in page.all("ul", "tally")[0].all("li")] == ["not answered: 1 of 4 – R-2", "holds: 1 of 4", "no verdict: 2 of 4"]
    assert "not thereby claimed as complied with" in page.text


def test_a_number_that_nobody_gave_is_not_shown_as_an_answer(tmp_path):
    place = exchange(tmp_path, "plant, loads")
    loads = place / "loads.yaml"
    loads.write_text(loads.read_text("utf-8").replace("step_time: 60 s, step_acceptance: 50 %", "step_time: 60 s"), "utf-8")
    (place / "asked.yaml").write_text("requirements:\n  - {id: R-1, code: Brief, text: Steps., value: step_acceptance.cooling}\n", "utf-8")
    (place / "requirements.yaml").unlink()
    page = read(BuildCache().make(place.parent, (OWN,)).pages[f"{place.name}/compliance.html"].body)
    assert rows(page, "matrix")["requirement-R-1"][4:6] == ["Step accepted, Cooling", "not answerednot given"]


def test_the_file_beside_the_matrix_holds_its_words(desk):
    text = desk.site.files["pump-house/compliance.csv"]
    head, *lines = csv.reader(io.StringIO(text.removeprefix("\ufeff")))
    assert head[0] == "Requirement" and [line[0] for line in lines] == ["R-3", "R-1", "R-2", "R-4"]
    found = {line[0]: dict(zip(head, line)) for line in lines}
    assert found["R-1"]["Verdict"] == "holds" and found["R-1"]["Margin"] == "20 %" and found["R-1"]["Answered by"] == "test_hours"
    assert found["R-4"]["In the project's words"].startswith("'=1+1")  # no formula of a spreadsheet


def test_a_check_and_a_number_name_what_they_answer(desk):
    assert "Answers: requirement R-1" in desk.page("checks").text
    (entry,) = [one for one in desk.page("plant-inputs").all("section") if one.attributes.get("id") == "altitude"]
    links = {link.text: link.attributes["href"] for link in entry.all("a")}
    assert links["R-3"] == "compliance.html#requirement-R-3" and links["Q-2"] == "questions.html#question-Q-2" and "Q-3" not in links


# ---- questions ----

def test_open_questions_come_first_and_by_day(desk):
    page = desk.page("questions")
    assert [one.text for one in page.all("h2")] == ["Open", "Answered"]
    tables = page.all("table", "questions")
    assert [cells(row) for row in tables[0].all("tbody")[0].all("tr")] == [
        ["Q-2", "2026-01-01surveyor", "Altitude", "Above which datum?", "asked.yaml:10"],
        ["Q-4", "2026-01-06inspector", "Level at neighbours", "Is it loud?", "asked.yaml:12"],  # of a chapter that this book has not: no link
        ["Q-1", "2026-02-01inspector", "Running for tests in a year", "Who counts them?", "asked.yaml:9"]]
    assert [link.attributes["href"] for link in tables[0].all("a")] == ["plant-inputs.html#altitude", "checks.html#check-test_hours"]
    assert [cells(row)[-1] for row in tables[1].all("tbody")[0].all("tr")] == ["The floor."]


def test_open_questions_stand_in_their_chapter_and_at_the_check(desk):
    page = desk.page("plant")
    assert "Open questions" in [one.text for one in page.all("h2")]
    told = [one.text for one in page.all("li") if "inspector, 2026" in one.text or "surveyor, 2026" in one.text]
    assert told == ["Altitude: Above which datum? (surveyor, 2026-01-01; Q-2)", "Running for tests in a year: Who counts them? (inspector, 2026-02-01; Q-1)"]
    assert "Open question: Who counts them? (inspector, 2026-02-01; Q-1)" in page.text and "Is it the yard?" not in page.text


def test_a_plant_without_either_says_one_sentence(tmp_path):
    desk = Desk(tmp_path, CODES)
    for name, words in (("compliance", "The project lists no requirement, so this book claims compliance with nothing"),
                        ("questions", "The project records no question about any number or check.")):
        page = desk.page(name)
        assert not page.all("table") and words in page.text
    assert "pump-house/compliance.csv" not in desk.site.files
    assert "Open questions" not in desk.page("plant").text
    assert "The project lists no requirement. The project records no question." in desk.page("index").text.replace("requirement.The", "requirement. The")


# ---- a save ----

def searched(desk):
    """What the search field of a page may find, by its anchor."""
    text = desk.site.files["pump-house/search-index.js"]
    return {anchor: (title, detail, page) for page, anchor, title, detail in json.loads(text.removeprefix("basisIndex(").removesuffix(");\n"))["asked"]}


def test_the_search_finds_requirements_and_questions(tmp_path):
    desk = Desk(tmp_path)
    found = searched(desk)
    assert found["requirement-R-1"] == ("R-1 Tests shall stay within the permit.", "requirement, holds, Estates brief 4.2", "compliance")
    assert found["requirement-R-2"][1] == "requirement, not answered, Act"
    assert found["question-Q-3"] == ("Q-3 Is it the yard?", "question, answered, surveyor, 2026-01-05", "questions")
    for name in ("compliance", "questions"):
        anchors = {row.attributes.get("id") for row in desk.page(name).all("tr")}
        assert {anchor for anchor, (_, _, page) in found.items() if page == name} <= anchors
    desk.save(ASKED.replace("Somebody shall see to it.", "Somebody shall see to it., statement: We do."))
    assert searched(desk)["requirement-R-2"][1] == "requirement, no verdict, Act"


def test_an_answer_moves_the_pages_that_show_it(tmp_path):
    desk = Desk(tmp_path)
    before = desk.site.pages
    desk.save(ASKED.replace("datum?, state: open", "datum?, answer: The harbour., state: answered"))
    moved = {address.partition("/")[2] for address, page in desk.site.pages.items() if page is not before.get(address)}
    assert {"questions.html", "plant.html", "plant-inputs.html", "index.html"} <= moved and "compliance.html" not in moved and "checks.html" not in moved
    whole = desk.whole()
    assert desk.site.pages == whole.pages and desk.site.files == whole.files


def test_a_number_that_turns_a_verdict_turns_the_matrix(tmp_path):
    desk = Desk(tmp_path)
    path = desk.folder / "plant.yaml"
    path.write_text(path.read_text("utf-8").replace("tests: {value: 40 h", "tests: {value: 60 h"), "utf-8")
    desk.save(ASKED)
    assert rows(desk.page("compliance"), "matrix")["requirement-R-1"][5] == "fails−20 %"  # a fifth of 50 h too many
    whole = desk.whole()
    assert desk.site.pages == whole.pages and desk.site.files == whole.files


# ---- the demo ----

def test_the_demo_shows_every_sort_of_answer(books):
    from basis.record.requirements import answers
    found = answers(books["larkmere-hospital"])
    assert {"fails", "holds", "tight", "undecided", "not answered", "no verdict"} <= {one.word for one in found} and len({one.code for one in found}) > 6
    assert "Who proves that no third set" in chapter_page(books["larkmere-hospital"], "short_circuit").text


# ---- a browser ----

@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """A small book with the long requirements and questions of the demo; takes the place of the demo site."""
    aside = tmp_path_factory.mktemp("small")
    folder = written(aside / "projects")
    for name in ("requirements.yaml", "questions.yaml"):
        text = (DEMO / name).read_text("utf-8").replace(".intake_north", "")
        (folder / name).write_text(text.replace("check: reserve,", "check: test_hours,"), "utf-8")
    codes = (DEMO / "plant.yaml").read_text("utf-8")
    (folder / "codes.yaml").write_text(codes[codes.index("codes:"):codes.index("signatures:")], "utf-8")
    return built(aside / "projects", aside / "site")


def shown(page):
    return page.locator("table.matrix tbody tr:not(.out)").count()


def test_the_matrix_is_picked_by_code_chapter_and_verdict(open_page):
    page = open_page("pump-house/compliance.html")
    every = shown(page)
    page.get_by_label("Verdict", exact=False).select_option("holds")
    assert shown(page) == 1 and page.locator(".schedule output").inner_text() == f"1 of {every}"
    page.get_by_label("Verdict", exact=False).select_option("")
    page.get_by_label("Chapter", exact=False).select_option("the book as a whole")
    assert shown(page) == 3
    page.get_by_label("Rows with", exact=False).fill("isolate")
    assert shown(page) == 1
    page.get_by_label("Rows with", exact=False).fill("")
    page.get_by_label("Chapter", exact=False).select_option("")
    page.get_by_label("Code", exact=False).select_option("Estates brief for the standby supply")
    assert shown(page) == 6 and page.locator(".schedule output").inner_text() == f"6 of {every}"


def test_the_matrix_sorts_by_urgency_of_the_verdict(open_page):
    page = open_page("pump-house/compliance.html")
    page.get_by_role("button", name="Verdict").click()
    words = page.locator("table.matrix td:nth-child(6) .verdict").evaluate_all("words => words.map(word => word.textContent)")
    assert words == sorted(words, key=["not answered", "holds", "no verdict"].index)


def test_both_pages_print_whole_on_a4(open_page, tmp_path):
    for name, last in (("compliance", "Walk round with the fire officer."), ("questions", "settled there.")):
        page = open_page(f"pump-house/{name}.html")
        if name == "compliance":
            page.get_by_label("Verdict", exact=False).select_option("holds")
        path = tmp_path / f"{name}.pdf"
        page.pdf(path=path, format="A4", prefer_css_page_size=False, margin=dict.fromkeys(("top", "bottom", "left", "right"), "15mm"))
        text = " ".join(" ".join(sheet.extract_text() for sheet in PdfReader(path).pages).split())
        assert last in text and "Rows with" not in text
        page.set_viewport_size({"width": 680, "height": 900})  # 180 mm of paper
        page.emulate_media(media="print")
        assert page.evaluate("Math.max(...[...document.querySelectorAll('.wide table')].map(one => one.getBoundingClientRect().right))") <= 680
        over = "[...document.querySelectorAll('.wide td, .wide th')].filter(one => one.scrollWidth > one.clientWidth + 1).map(one => one.innerText)"
        assert page.evaluate(over) == []


@pytest.mark.parametrize("width", (390, 1280))
@pytest.mark.parametrize("name", ("compliance", "questions"))
def test_axe_finds_nothing_and_no_page_is_wider_than_its_window(open_page, name, width):
    page = open_page(f"pump-house/{name}.html", width=width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert faults(page) == []


# ---- signatures ----

def signing(page):
    table = page.all("table", "signing")[0]
    return table.all("caption")[0].text, [cells(row) for row in table.all("tbody")[0].all("tr")]


def test_the_front_page_has_lines_to_sign_and_the_days_of_the_last_issue(tmp_path):
    desk = Desk(tmp_path)
    assert signing(desk.page("index")) == ("To be signed on paper. Nothing is issued yet.", [["Prepared", "", ""], ["Checked", "", ""], ["Approved", "", ""]])
    signed = Role("prepared", "2026-02-27"), Role("prepared", "2026-02-28"), Role("verified", "2026-03-01")
    issue(load(desk.folder), "A", "2026-03-02", "for approval", signed)
    desk.save(ASKED)
    assert signing(desk.page("index")) == ("To be signed on paper. Issue A of 2026-03-02; this book: as issued A.", [
        ["Prepared", "2026-02-27", ""], ["Prepared", "2026-02-28", ""], ["Checked", "", ""], ["Verified", "2026-03-01", ""], ["Approved", "", ""]])
    path = desk.folder / "plant.yaml"
    path.write_text(path.read_text("utf-8").replace("tests: {value: 40 h", "tests: {value: 60 h"), "utf-8")
    desk.save(ASKED)
    assert "differs from issue A" in signing(desk.page("index"))[0]
    assert desk.site.pages == desk.whole().pages
