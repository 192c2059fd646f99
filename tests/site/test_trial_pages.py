"""Trials on the pages: what a slider shows is what the page says of a book that was solved with that number; nothing on the way is computed, nothing hidden."""

import json
import re
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from accessibility import faults
from markupsafe import Markup
from page_tree import read as parse
from small_project import written

from basis.reading.project import read
from basis.site import addresses as addressing
from basis.site import drawings, pages, trial_pages
from basis.site.addresses import Workshop
from basis.site.build_cache import BuildCache
from basis.site.building import build_site
from basis.site.page_changes import ORDER, Still, changes, numbers_in, taken_apart
from basis.site.pages import chapter_sketch
from basis.site.render import OWN
from basis.solving.solve import solution, solve
from basis.solving.trials import with_trials

ROOT = Path(__file__).parent.parent.parent
SLUGS = ("cobble-key-exchange", "high-tarn-waterworks", "larkmere-hospital")
SAID = re.compile(r'<figure\b.*?</figure>|<table class="values options">.*?</table>', re.DOTALL)


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """The demo site of a whole build, without the search for turning points, which takes most of its time."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pages, "begun", lambda *asked: tuple)
        return build_site(ROOT / "projects", tmp_path_factory.mktemp("site") / "site", ROOT / "mkdocs.yml").parent


@pytest.fixture(scope="module")
def layouts():
    return pages.layouts((OWN,))


def content_of(book, chapter, layouts):
    sketch = chapter_sketch(addressing.of_book(book, f"{chapter.id}.html", Workshop()), chapter, layouts.get(chapter.id))
    return pages._content(sketch.addresses, sketch)


def content_alone(page):
    """What stands between the sliders and the mark of the end."""
    if 'class="trials"' not in page:
        return page
    return page[page.index("</section>", page.index('class="trials"')) + 10:page.index('<span class="trials-end">')]


def shown(page):
    """The numbers with where they lead, and the words of verdicts, of a page without figures, options and remarks, in order."""
    tree = parse(SAID.sub("", page))
    return [(one.attributes.get("href", ""), one.text) for one in tree if (one.tag == "a" and "n" in one.classes) or "verdict" in one.classes]


def at_step(page, data, step):
    """A page as the script makes it: texts, attributes and stretches of the file put in their places."""
    taken = Still.of(page).parts
    assert data["counts"] == [taken.elements, taken.texts]
    elements, texts = {-1: taken.root}, {}

    def note(one):
        for child in getattr(one, "children", ()):
            (elements if child.tag else texts)[child.number] = child
            note(child)
    note(taken.root)
    def said(row):
        one = row[3 + step]
        return one if one in (0, None) else row[1] + one + row[2]
    kids = {number: list(one.children) for number, one in elements.items()}
    for row in data["text"]:
        for place in row[0] if isinstance(row[0], list) else [row[0]]:
            if said(row) != 0:
                texts[place].html = escape(said(row))
    for name, rows in data["attribute"].items():
        for row in rows:
            for place in row[0] if isinstance(row[0], list) else [row[0]]:
                if said(row) != 0:
                    one = elements[place]
                    one.head = re.sub(rf' {name}="[^"]*"', "", one.head) + (f' {name}="{escape(said(row))}"' if said(row) is not None else "")
    for row in data["range"]:
        for parent, first, count in row[0]:
            if said(row) != 0:
                out, there = kids[parent][first:first + count], elements[parent].children
                at = there.index(kids[parent][first]) if first < len(kids[parent]) else len(there)
                elements[parent].children = [one for one in there[:at] if one not in out] + taken_apart(said(row)).root.children \
                    + [one for one in there[at:] if one not in out]
    return taken.root.html.removeprefix("<>").removesuffix("</>")


def escape(text):
    return text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")


@pytest.mark.parametrize("slug", SLUGS)
def test_every_number_of_every_step_is_that_of_a_book_solved_with_it(slug, layouts, monkeypatch):
    monkeypatch.setattr(drawings, "_picture", lambda addresses, drawing: Markup())  # figures stay as issued; drawing takes most of the time
    solved = solution(read(f"projects/{slug}"))
    book, moved = with_trials(solved.book, solved.run, solved.memory), set()
    issued = {chapter.id: content_of(book, chapter, layouts) for chapter in book.chapters}
    for tried in book.tried:
        steps = {}
        for place, number in enumerate(tried.numbers):
            given = replace(book.project.givens[tried.input, ""], data=number)
            project = replace(book.project, givens=book.project.givens | {(tried.input, ""): given})
            steps[place] = replace(solve(project, only=()), options=book.options)
        for chapter in book.chapters:
            made, name = issued[chapter.id], f"{slug}/{chapter.id}-trial-{tried.input}.js"
            page = content_alone(str(made.html))
            data = json.loads(made.files[name].removeprefix("basisTrial(").removesuffix(")\n")) if name in made.files else None
            assert data is None or len(made.files[name].encode()) < 12_000
            for place, step in steps.items():
                whole = shown(str(content_of(step, chapter, layouts).html))
                assert shown(at_step(page, data, place) if data else page) == whole, (chapter.id, tried.numbers[place])
            moved |= {chapter.id} if data else set()
    assert len(moved) > 5


def test_what_is_too_much_is_left_out_and_told(layouts, monkeypatch):
    solved = solution(read("projects/larkmere-hospital"))
    book = with_trials(solved.book, solved.run, solved.memory)
    chapter = next(one for one in book.chapters if one.id == "ventilation")
    monkeypatch.setattr(trial_pages, "MOST", 3000)
    made = content_of(book, chapter, layouts)
    (script,) = (text for name, text in made.files.items() if "-trial-" in name)
    assert len(script.encode()) <= 3000 and "More moves here than a trial carries" in script
    data = json.loads(script.removeprefix("basisTrial(").removesuffix(")\n"))
    page = content_alone(str(made.html))
    step = next(place for place in range(len(data["steps"])) if place != data["issued"])
    left = parse(at_step(page, data, step)).text
    assert "More moves here than a trial carries" in left


PAGES = [("<p>a <b>1</b></p>", "<p>a <b>2</b></p>", {("text", 1): "2"}),
         ('<b class="x">1</b>', '<b class="y">1</b>', {("attribute", 0, "class"): "y"}),
         (f'<b {ORDER}="x">1</b>', f'<b {ORDER}="y">1</b>', {}),
         ("<p>a</p><p>c</p>", "<p>a</p><p>b <i>x</i></p><p>c</p>", {("range", -1, 1, 0): "<p>b <i>x</i></p>"}),
         ("<p>a</p><p>b <i>x</i></p><p>c</p>", "<p>a</p><p>d</p>", {("range", -1, 1, 1): "", ("text", 3): "d"}),
         ("<p>a<p>b", "<p>a<p>c", {("text", 1): "c"}),
         ("<p>a<figure><b>1</b></figure></p><i>2</i>", "<p>a<figure><b>7</b></figure></p><i>3</i>", {("text", 1): "3"})]


@pytest.mark.parametrize("before, after, found", PAGES)
def test_what_differs_is_found(before, after, found):
    assert changes(Still.of(before), after) == found


def test_a_paragraph_that_a_block_ends_is_counted_as_browsers_do():
    # HTML Living Standard, 13.2.6.4.7: a start tag such as table's closes an open p, and an end tag </p> without one makes an empty p
    taken = taken_apart("<p>a <table><tbody><tr><td>1</td></tr></tbody></table> </p>")
    assert taken.elements == 6 and [one.tag for one in taken.root.children] == ["p", "table", "p"]
    assert numbers_in(taken.root.children[1]) == ({1, 2, 3, 4}, {1})


def test_a_quick_build_says_that_it_leaves_trials_out(layouts, books):
    book = books["larkmere-hospital"]
    chapter = next(one for one in book.chapters if one.id == "ventilation")
    made = content_of(book, chapter, layouts)
    assert "left out of this quick build" in made.html and not any("-trial-" in name for name in made.files)


SHOWN = """() => Array.from(document.querySelectorAll("article a.n, article .verdict")).filter(one => !one.closest("figure, table.options"))
    .map(one => { const copy = one.cloneNode(true); copy.querySelectorAll("u-us").forEach(us => us.remove());
                  return copy.textContent.trim().split(/\\s+/).join(" "); })"""


@pytest.mark.parametrize("slug, chapter", [("cobble-key-exchange", "cooling"), ("high-tarn-waterworks", "fuel"), ("larkmere-hospital", "ventilation")])
def test_the_page_shows_each_step_by_keyboard_and_one_tap_leads_back(open_page, site, slug, chapter):
    page = open_page(f"{slug}/{chapter}.html")
    issued = page.evaluate(SHOWN)
    slider, told = page.locator(".trials input").first, page.locator(".trials [role=status]")
    back = page.get_by_role("button", name="Back to the book as it stands")
    script = (site / slug / slider.get_attribute("data-trial")).read_text("utf-8")
    data = json.loads(script.removeprefix("basisTrial(").removesuffix(")\n"))
    html = (site / slug / f"{chapter}.html").read_text("utf-8")
    html = content_alone(html)
    slider.focus()
    page.keyboard.press("Home")
    for step in range(len(data["steps"])):
        if step != data["issued"]:
            page.wait_for_function("step => document.querySelector('.trials [role=status]').textContent.includes(step)", arg=data["steps"][step][0])
            wanted = [unescape(re.sub(r"<u-us>.*?</u-us>", "", text)) for text in _texts(at_step(html, data, step))]
            assert page.evaluate(SHOWN) == wanted != issued
            assert page.locator("[data-tried]").count() and page.title().startswith("Trial: ") and back.is_visible()
            assert "trial" in slider.get_attribute("aria-valuetext") and ", in the book " in told.inner_text()
            assert page.locator("figure").count() <= page.get_by_text("As the book stands: this does not move with the trial.").count()
        page.keyboard.press("ArrowRight")
    back.click()
    assert page.evaluate(SHOWN) == issued and not page.locator("[data-tried], .tried-not").count() and not page.title().startswith("Trial")


def _texts(html):
    """Text of each number and verdict, with its US part marked."""
    kept = html.replace("<u-us>", "\x01").replace("</u-us>", "\x02")
    tree = parse(SAID.sub("", kept))
    return [re.sub("\x01[^\x02]*\x02", "", one.text).strip() for one in tree if (one.tag == "a" and "n" in one.classes) or "verdict" in one.classes]


@pytest.mark.parametrize("width, scheme", [(1280, "light"), (390, "dark")])
def test_axe_finds_nothing_while_a_trial_is_on(open_page, width, scheme):
    page = open_page("larkmere-hospital/ventilation.html", width=width, scheme=scheme)
    slider = page.locator(".trials input").first
    slider.focus()
    page.keyboard.press("End")
    page.locator("html[data-trial=on]").wait_for()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert faults(page) == []


def test_a_save_moves_the_trials_as_a_whole_build_does(tmp_path):
    hot = "trials: [{{input: outdoor_temperature_max, from: 30 degC, to: {} degC, steps: {}}}]\nhours_per_year_tests"
    folder = written(tmp_path / "projects", ("hours_per_year_tests", hot.format(42, 3)))
    cache = BuildCache(keep=True, turning=True)
    first = cache.make(folder.parent, (OWN,))
    assert not first.faults and any("-trial-" in name for name in first.files)
    written(tmp_path / "projects", ("hours_per_year_tests", hot.format(45, 4)), ("34 degC", "35 degC"))
    rebuilt, whole = cache.make(folder.parent, (OWN,)), BuildCache(turning=True).make(folder.parent, (OWN,))
    assert rebuilt.pages == whole.pages and rebuilt.files == whole.files and rebuilt.files != first.files
