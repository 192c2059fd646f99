"""Following a number: the graph of a book against the book and its pages; in a browser the card, the path by layers, links to copy, the ways back and on."""

import json
import re
from itertools import pairwise

import pytest
from accessibility import faults
from page_tree import read
from test_browser import BOOK

from basis.site import addresses as addressing
from basis.site import follow
from basis.site.numbering import GENERAL
from basis.solving.book import overlays

SHEET = f"{BOOK}/loads-sheet.html"
POWER = "a.n[href='loads-sheet.html#set_site_power']"


def graph_in(text: str) -> dict:
    return json.loads(text.removeprefix("basisGraph(").removesuffix(");\n"))


def rows(columns: dict) -> list[dict]:
    return [dict(zip(columns, cells)) for cells in zip(*columns.values(), strict=True)]


@pytest.fixture(scope="module")
def graphs(books):
    return {slug: graph_in(follow.script(addressing.of_book(book), {})) for slug, book in books.items()}


# ---- the file ----

def test_the_graph_joins_values_as_the_book_does(graphs, books):
    for slug, book in books.items():
        values = rows(graphs[slug]["values"])
        ids = [one["id"] for one in values]
        assert ids == list(book.values)
        users = {name: set() for name in ids}
        for one in values:
            assert [ids[place] for place in one["inputs"]] == [name for name in book.values[one["id"]].inputs if name in book.values], one["id"]
            for place in one["inputs"]:
                users[ids[place]].add(one["id"])
        assert users == {name: set(value.used_by) for name, value in book.values.items()}
        read_by = {name: set(step.needs) for step in book.steps for name in step.yields}  # what runs, apart from what is told of it
        for one in values:
            if one["id"] in read_by and book.values[one["id"]].origin in ("formula", "procedure"):
                beside = {ids[place] for place in one["inputs"]} ^ (read_by[one["id"]] & set(ids))
                assert all(book.values[name].term.is_text for name in beside), (one["id"], beside)  # a choice takes an arm before anything runs


def test_the_graph_shows_numbers_as_pages_do(graphs, books):
    for slug, book in books.items():
        for one in rows(graphs[slug]["values"]):
            value = book.values[one["id"]]
            if not value.axes and value.term.unit != "reference":
                assert (one["si"], one["us"] or one["si"]) == (value.text("si"), value.text("us")), value.id
            page = graphs[slug]["pages"][one["page"]][0]
            assert page == f"{book.home[value.id]}-{'sheet' if value.producer else 'inputs'}.html"
            assert len(one["sources"]) == len(value.source_ids) and one["axes"] == list(value.axes)


def test_checks_and_decisions_hang_on_what_decides_them(graphs, books):
    for slug, book in books.items():
        graph, ids = graphs[slug], list(book.values)
        verdicts = (*book.checks, *book.self_tests)
        assert [(one["id"], graph["words"][one["word"]], one["margin"]) for one in rows(graph["checks"])] \
            == [(one.check.id, one.word, one.margin_text) for one in verdicts]
        for one, verdict in zip(rows(graph["checks"]), verdicts):
            assert {ids[place] for place in one["sides"]} == set(verdict.check.sides) & set(ids)
        for one, decision in zip(rows(graph["decisions"]), book.project.decisions, strict=True):
            assert {ids[place] for place in one["sets"]} == overlays(decision) & set(ids)
            for place in one["compares"]:
                texts = {book.options[decision.id, option.id].values[ids[place]].text() if ids[place] in book.options[decision.id, option.id] else None
                         for option in decision.options}
                assert len(texts) > 1, (decision.id, ids[place])


def test_items_of_a_list_are_told_by_their_ends(graphs, books):
    book = books[BOOK]
    shown = {one["id"]: one for one in rows(graphs[BOOK]["values"])}
    value = book.values["load_connected_power"]
    least, largest = (value.shown(end(value.number.tolist())) for end in (min, max))
    assert shown[value.id]["si"] == f"{value.number.size} values, {least.split()[0]} to {largest}" and shown[value.id]["unit_si"] == "kW"


def test_a_value_knows_the_pages_that_place_it(site, books):
    for slug, book in books.items():
        graph = graph_in((site / slug / "graph.js").read_text("utf-8"))
        names, told = [name for name, _ in graph["pages"]], {}
        for one in rows(graph["values"]):
            told[one["id"]] = [names[place] for place in one["shown"]]
            assert told[one["id"]] == sorted(told[one["id"]], key=lambda name: name != f"{book.home[one['id']]}.html")
        for name in ["index.html", *(f"{chapter.id}.html" for chapter in book.chapters)]:
            links = {link.attributes.get("href") or link.attributes.get("xlink:href", "") for link in read((site / slug / name).read_text("utf-8")).all("a")}
            placed = {href.partition("#")[2].partition(".")[0] for href in links if re.match(r"[\w-]+-(sheet|inputs)\.html#(?!group-)", href)}
            assert placed == {value_id for value_id, pages in told.items() if name in pages}, (slug, name)


# ---- the page before and the page after ----

def test_pages_lead_on_in_reading_order(site, books):
    def turns(slug, name):
        nav = read("<nav" + (site / slug / name).read_text("utf-8").rpartition('<nav class="turn"')[2].partition("</nav>")[0] + "</nav>")
        return {link.attributes["rel"]: (link.attributes["href"], link.text) for link in nav.all("a")}

    for slug, book in books.items():
        read_ = ["index.html", *(f"{chapter.id}.html" for chapter in book.chapters), *(name for name, _ in GENERAL)]
        worked = [f"{chapter.id}-{kind}.html" for chapter in book.chapters for kind in ("inputs", "sheet")]
        worked = [name for name in worked if (site / slug / name).exists()]
        for names in (read_, worked):
            assert "prev" not in turns(slug, names[0]) and "next" not in turns(slug, names[-1])
            for one, after in pairwise(names):
                assert turns(slug, one)["next"][0] == after and turns(slug, after)["prev"][0] == one
        assert turns(slug, "index.html")["next"][1] == book.chapters[0].title


# ---- in a browser ----

def shown_card(page, selector: str, hover: bool = False):
    number = page.locator(selector).first
    number.hover() if hover else number.focus()
    page.wait_for_selector("#card:popover-open")
    return page.locator("#card")


def test_the_card_tells_what_a_number_rests_on_and_what_rests_on_it(open_page, books):
    page = open_page(f"{BOOK}/plant.html")
    card, value = shown_card(page, "a.n[href='plant-inputs.html#outdoor_temperature_max']"), books[BOOK]["outdoor_temperature_max"]
    text = card.inner_text()
    assert value.term.name in text and value.text("si") in text and value.text("us") in text and value.given.standing in text
    assert f"{value.given.file.split('/')[-1]}:{value.given.line}" in text and "checks" in text
    page = open_page(f"{BOOK}/loads.html")
    card, value = shown_card(page, POWER, hover=True), books[BOOK]["set_site_power"]
    for name in value.inputs:
        link = card.get_by_role("link", name=books[BOOK].values[name].term.name, exact=True)
        assert link.get_attribute("href").endswith(f"#{name}") and books[BOOK].values[name].text() in card.inner_text()
    assert "if Basis of the site power = declaration" in card.locator(".how").inner_text()
    checked = books[BOOK].check("set_loading")
    card = shown_card(page, f"a.n[href^='loads-sheet.html#{checked.check.value}']")
    assert checked.check.title in card.inner_text() and checked.word in card.inner_text() and checked.margin_text in card.inner_text()


def test_the_card_of_an_element_tells_its_own_number_with_its_unit(open_page, books):
    page = open_page(f"{BOOK}/loads.html")
    value = books[BOOK].values["load_connected_power"]
    element = value.element(value.items[0][2])
    card = shown_card(page, f"td a.n[href='loads-inputs.html#{element.id}']")
    assert element.text() in card.inner_text() and books[BOOK].names["load"][value.items[0][2]] in card.locator("strong").inner_text()


COVERED = """async (place) => {
  const found = [], links = [...document.querySelectorAll("article a.n")].filter((link) => link.offsetParent);
  for (const link of links.slice(0, 400).filter((_, at) => at % 12 === 0)) {
    link.scrollIntoView({ block: place, behavior: "instant" });
    link.focus({ preventScroll: true });
    for (let wait = 0; wait < 40 && !document.querySelector("#card.byKey:popover-open"); wait += 1) { await new Promise((next) => setTimeout(next, 5)); }
    await new Promise((next) => requestAnimationFrame(() => requestAnimationFrame(next)));
    const card = document.querySelector("#card").getBoundingClientRect(), spot = link.getBoundingClientRect();
    const high = Math.min(card.bottom, spot.bottom) - Math.max(card.top, spot.top), wide = Math.min(card.right, spot.right) - Math.max(card.left, spot.left);
    if (high > 0 && wide > 0 || card.top < 0 || card.bottom > innerHeight) { found.push(link.textContent); }
    link.blur();
  }
  return found;
}"""


@pytest.mark.parametrize("width, height", [(390, 844), (1280, 640)])
def test_no_card_covers_the_number_that_has_the_focus(open_page, width, height):
    """WCAG 2.2, 2.4.11: what has the focus is not hidden by what the page puts over it; the card stays on the screen all the same."""
    page = open_page(f"{BOOK}/fuel.html", width=width, height=height)
    for place in ("center", "end"):
        assert page.evaluate(COVERED, place) == []


def test_the_card_of_an_option_does_not_tell_inputs_of_the_chosen_one(open_page):
    page = open_page(f"{BOOK}/options.html")
    number = page.locator("td a.n[href^='option-']").first
    shown = number.locator("u-si").inner_text() if number.locator("u-si").count() else number.inner_text()
    card = shown_card(page, "td a.n[href^='option-']")
    assert shown in card.inner_text() and "not chosen" in card.inner_text() and card.get_by_role("button", name="Path").count() == 0


def test_decisions_stand_in_card_and_path(open_page, books):
    page, book = open_page(f"{BOOK}/exhaust.html"), books[BOOK]
    decision = next(one for one in book.project.decisions if one.id == "exhaust_side")
    card = shown_card(page, "a.n[href='exhaust-inputs.html#exhaust_pipe_length']")
    assert "Set by" in card.inner_text() and decision.name in card.inner_text()
    assert next(one.name for one in decision.options if one.id == decision.chosen) in card.inner_text()
    card.get_by_role("button", name="Path").click()
    assert page.locator(f".path .from a[href$='options.html#decision-{decision.id}']").count() == 1
    compared = [one.name for one in book.project.decisions if "exhaust_pipe_length" in book.differing(one.id)]
    assert page.locator(".path .onto > ul > li > .node > a[href*='options.html#decision-']").all_inner_texts() == compared != []


def test_the_card_is_entered_and_left_by_keyboard(open_page):
    page = open_page(f"{BOOK}/loads.html")
    shown_card(page, POWER)
    page.keyboard.press("ArrowRight")
    assert page.evaluate("document.activeElement.closest('#card') !== null")
    page.keyboard.press("Escape")
    assert page.locator("#card:popover-open").count() == 0 and page.evaluate("document.activeElement.matches(`" + POWER + "`)")


def overlapping(page) -> list:
    return page.evaluate("""() => { const boxes = [...document.querySelectorAll('.path .node')].map((one) => [one, one.getBoundingClientRect()]);
        return boxes.flatMap(([one, a], place) => boxes.slice(place + 1)
            .filter(([, b]) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1)
            .map(([other]) => one.textContent + other.textContent)); }""")


def press_tab_to(page, script: str) -> None:
    for _ in range(200):
        page.keyboard.press("Tab")
        if page.evaluate(script):
            return
    raise AssertionError(f"no stop of the tab key: {script}")


@pytest.mark.parametrize("width", [1280, 390])
def test_the_path_opens_three_layers_by_keyboard_alone(open_page, books, width):
    page, book = open_page(SHEET, width=width), books[BOOK]
    page.locator("#set_site_power h3 a").focus()
    press_tab_to(page, "document.activeElement.textContent === 'Path'")
    page.keyboard.press("Enter")
    page.wait_for_selector("dialog.path")
    assert page.locator(".path .from > ul > li > .node > a").all_inner_texts() == [book.values[name].term.name for name in book["set_site_power"].inputs]
    for layer in (2, 3):
        press_tab_to(page, f"document.activeElement.matches('.from li[data-layer=\"{layer - 1}\"] > .node > .open[aria-expanded=false]')")
        page.keyboard.press("Space")
        opened = page.locator(f".path .from li[data-layer='{layer}']").first
        assert opened.is_visible() and page.evaluate("document.activeElement.getAttribute('aria-expanded')") == "true"
        holder = page.evaluate("document.activeElement.closest('li').querySelector('a').hash.slice(1)")
        links = page.evaluate("[...document.activeElement.closest('li').querySelectorAll(':scope > ul > li > .node > a')].map((one) => one.hash.slice(1))")
        assert [name for name in links if not name.startswith("decision-")] == list(book.values[holder].inputs)[:12]
    further = page.get_by_role("button", name="Leads to: open layer 2")
    further.focus()
    page.keyboard.press("Enter")
    assert "layer 2 is open" in page.locator(".path-said").inner_text() and page.get_by_role("button", name="Leads to: open layer 3").count() == 1
    assert page.locator(".path .onto a[href*='checks.html#check-']").count() > 0
    assert overlapping(page) == []
    assert page.locator(".path").evaluate("one => one.scrollWidth <= innerWidth")
    node = page.locator(".path .from li[data-layer='3'] .node a").first
    assert re.search(r"-(sheet|inputs)\.html#\w+$", node.get_attribute("href"))
    page.keyboard.press("Escape")
    assert page.locator("dialog.path").count() == 0 and page.evaluate("document.activeElement.textContent") == "Path"


def test_every_layer_of_the_path_ends_and_no_label_covers_another(open_page, books):
    page, book = open_page(SHEET + "#formula_site_power"), books[BOOK]
    page.locator("#formula_site_power").get_by_role("button", name="Path").click()
    further = page.locator(".path .steps button").first
    for _ in range(40):
        if further.get_attribute("aria-disabled") == "true":
            break
        further.click()
    assert further.inner_text() == "Rests on: all open"
    upstream, waiting = set(), ["formula_site_power"]
    while waiting:
        fresh = set(book.values[waiting.pop()].inputs) - upstream
        upstream |= fresh
        waiting += fresh
    told = {link.partition("#")[2] for link in page.locator(".path .from .node > a").evaluate_all("all => all.map((one) => one.href)")}
    assert {name for name in told if not name.startswith("decision-")} == upstream
    assert overlapping(page) == []


def test_what_stands_already_is_not_opened_twice(open_page):
    page = open_page(SHEET + "#formula_site_power")
    page.locator("#formula_site_power").get_by_role("button", name="Path").click()
    for _ in range(4):
        page.locator(".path .steps button").first.click()
    again = page.locator(".path .from .again").first
    name = again.locator("a").get_attribute("href")
    again.get_by_role("button", name="stands already").click() if again.locator("button").count() else again.locator("a").focus()
    assert page.evaluate("document.activeElement.getAttribute('href')") == name
    assert page.locator(f".path .from li:not(.again) > .node > a[href='{name}']").count() == 1


@pytest.mark.parametrize("width, scheme", [(1280, "light"), (390, "dark")])
def test_axe_finds_nothing_with_card_and_path_open(open_page, width, scheme):
    page = open_page(f"{BOOK}/loads.html", width=width, scheme=scheme)
    shown_card(page, POWER)
    assert faults(page, thin=False) == []
    page.locator("#card").get_by_role("button", name="Path").click()
    for button in page.locator(".path .steps button").all():
        button.click()
    assert faults(page) == []


def test_a_link_to_a_heading_and_to_a_working_is_copied_by_keyboard(open_page):
    page = open_page(SHEET)
    page.evaluate("Object.defineProperty(navigator, 'clipboard', {value: {writeText: (text) => { window.copied = text; return Promise.resolve(); }}})")
    page.locator("#set_site_power h3 a").focus()
    press_tab_to(page, "document.activeElement.textContent === 'Path'")  # one stop for the three buttons
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    page.wait_for_function("document.activeElement.textContent === 'Copied'")
    assert page.evaluate("window.copied") == page.url.split("#")[0] + "#set_site_power"
    assert "Link copied" in page.locator("[role=status]").all_inner_texts()
    page.goto(page.url.replace("loads-sheet.html", "loads.html"))
    assert page.locator("h2[id] + .tools button").count() == page.locator(".md-content h2[id]").count()


def test_a_link_is_copied_without_the_clipboard_of_a_server(open_page):
    page = open_page(SHEET + "#set_site_power")
    page.evaluate("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
    page.locator("#set_site_power").get_by_role("button", name="Copy link").click()
    page.locator("#set_site_power").get_by_role("button", name="Copied").wait_for()


def test_from_a_working_back_to_where_the_chapter_shows_it(open_page):
    page = open_page(SHEET + "#set_site_power")
    line = page.locator("#set_site_power .shown")
    line.wait_for()
    assert line.inner_text().startswith("Shown in Loads and sets, also in Cover")
    line.get_by_role("link").first.click()
    page.wait_for_url(re.compile(r"loads\.html#shown-set_site_power$"))
    page.wait_for_function("document.activeElement.matches('a.here')")
    box = page.locator("a.here").bounding_box()
    assert page.evaluate("document.activeElement.getAttribute('href')") == "loads-sheet.html#set_site_power" and 0 < box["y"] < 900
    page = open_page(SHEET)
    page.locator("#required_sets").get_by_role("button", name="Shown in").click()
    page.locator("#required_sets .shown a").first.wait_for()
    assert page.evaluate("document.activeElement.closest('.shown') !== null")
