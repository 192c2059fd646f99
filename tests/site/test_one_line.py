"""The one-line diagram: everything of the network stands in it by name, rating and fault level, for one to eight sets, no text on another, and
legible in a real browser on a phone of 360 pixels and on paper."""

import re
from html import unescape

import matplotlib
import pytest
from conftest import SLUGS
from demos import demo_copy
from matplotlib.backends.backend_agg import FigureCanvasAgg
from pypdf import PdfReader

import basis
from basis.site import drawings, one_line, symbol_drawing
from basis.site import figure as tools
from basis.site.addresses import of_book
from basis.site.figure import STYLE, to_svg
from basis.site.figures import loads, short_circuit
from basis.site.labels import TEXT, label
from basis.site.paired import sides
from basis.site.ranks import Bus, Link, Network, Part
from basis.site.symbols import SIDE, SYMBOLS

LEAST, LEAST_PRINTED = 11.0, 6.0  # height of letters: CSS pixels on a phone, points on paper; project decision
COLUMN = (210 - 22 - 15) / 25.4 * 72  # points of an A4 sheet between the margins of the style sheet


def words_of(book, system: str) -> str:
    """All text of the drawing in one system, one space between lines."""
    svg = to_svg(short_circuit.network_one_line.draw(book), "p", "t")
    return in_system(" ".join(re.findall(r"<text[^>]*>(.*?)</text>", svg, re.DOTALL)), system)


def in_system(text: str, system: str) -> str:
    """The text of an element as a reader of that system sees it."""
    other = {"si": "us", "us": "si"}[system]
    return plain(unescape(re.sub(r"<[^>]*>", "", re.sub(f'<tspan class="{other}">.*?</tspan>', "", text))))


def plain(text: str) -> str:
    """The text with any space as one plain space."""
    return re.sub(r"\s+", " ", text)


@pytest.mark.parametrize("system", ["si", "us"])
@pytest.mark.parametrize("slug", SLUGS)
def test_every_part_stands_in_it_with_its_figures(books, slug, system):
    for book in {id(one): one for one in (books[slug], *books[slug].options.values())}.values():
        words = words_of(book, system)
        for axis in ("bus", "transformer", "feeder", "generator", "grid_infeed", "motor_group"):
            for item in book.items.get(axis, ()):
                assert book.names[axis][item] in words, item
        for bus in book.items["bus"]:
            assert all(plain(book[term].element(bus).text(system)) in words for term in ("largest_initial_current", "bus_voltage")), bus
        for feeder in book.items["feeder"]:
            assert plain(book["feeder_length"].element(feeder).text(system)) in words


@pytest.mark.parametrize("system", ["si", "us"])
@pytest.mark.parametrize("slug", SLUGS)
def test_each_number_leads_to_its_value(books, slug, system):
    """What a text of the diagram shows is the value to which it leads, whatever words stand before it."""
    book, led = books[slug], set()
    for drawing in (short_circuit.network_one_line, loads.one_line):
        found = re.findall(r'<a href="([^"]+)" class="n"><text[^>]*>(.*?)</text>', drawings.shown(of_book(book, "elsewhere.html"), drawing))
        for address, text in found:
            value_id = address.partition("#")[2]
            assert address.partition("#")[0] in (f"{book.home[value_id.partition('.')[0]]}-{kind}.html" for kind in ("sheet", "inputs"))
            shown, told = plain(book[value_id].text(system)), in_system(text, system)
            assert told.endswith(shown) or told in f"only {shown}"
            led.add(value_id)
    wanted = {f"{term}.{item}" for axis, terms in (("bus", ("bus_voltage", "largest_initial_current")), ("transformer", ("transformer_rating",)),
                                                    ("generator", ("generator_rated_apparent_power",))) for term in terms for item in book.items[axis]}
    assert wanted | {"demand_power", "installed_sets"} <= led


def units(count: int) -> Network:
    """Sets that each have a board and a transformer of their own, on a bus with a public supply and two boards with motors."""
    buses = {"ring": Bus("ring", label("bus", "11 kV ring", "11000 V", "I″k 16.48 kA", "breakers 20.0 kA"), True)}
    links, parts = [], [Part("grid_infeed", "ring", label("part", "Public supply", "S″k 250 MVA"))]
    for kind, name, many in (("generator", "Set", count), ("motor_group", "Chillers", 2)):
        for number in range(1, many + 1):
            bus = f"{kind}_{number}"
            buses[bus] = Bus(bus, label("bus", f"Board of {name.lower()} {number}", "400 V", "I″k 26.90 kA"), kind == "motor_group")
            links.append(Link("transformer", "ring", bus, label("transformer", f"Transformer {number}", "2500 kVA", "uk 6.00 %")))
            parts.append(Part(kind, bus, label("part", f"{name} {number}", "2050 kVA")))
    return Network(buses, tuple(links), tuple(parts))


def drawn_units(count: int):
    with matplotlib.rc_context(STYLE):
        return one_line.draw(units(count))


def assert_clear(figure):
    """No text lies on another, and no connection passes through a text, in either system."""
    FigureCanvasAgg(figure)
    told = {text: sides(text.get_text()) for axes in figure.axes for text in axes.texts if text.get_text().strip()}
    for place in (0, -1):
        for text, found in told.items():
            text.set_text(found[place])
        figure.canvas.draw()
        assert_apart(figure, [text.get_window_extent() for text in told if text.get_text()])


def assert_apart(figure, boxes):
    """No box of a text lies on another or on a connection."""
    assert len(boxes) > 5
    for place, one in enumerate(boxes):
        for other in boxes[place + 1:]:
            across = min(one.x1, other.x1) - max(one.x0, other.x0)
            along = min(one.y1, other.y1) - max(one.y0, other.y0)
            assert across <= 1.5 or along <= 2.5, (one, other)
    paths = [axes.transData.transform(line.get_xydata()) for axes in figure.axes for line in axes.lines]
    uprights = [path for path in paths if len(path) == 2 and path[0][0] == path[1][0]]
    assert len(uprights) > 1
    for (x, start), (_, end) in uprights:
        assert not any(box.x0 + 1 < x < box.x1 - 1 and min(start, end) < box.y1 - 3 and box.y0 + 3 < max(start, end) for box in boxes), x


@pytest.mark.parametrize("slug", SLUGS)
def test_no_text_lies_on_another(books, slug):
    assert_clear(short_circuit.network_one_line.draw(books[slug]))


@pytest.mark.parametrize("count", [1, 4, 5, 8])
def test_sets_with_transformers_of_their_own_stand_in_tiers_that_fit_paper(count):
    figure = drawn_units(count)
    assert_clear(figure)
    width, height = (72 * side for side in figure.get_size_inches())
    assert TEXT * min(COLUMN / width, 235 / 25.4 * 72 / height) >= LEAST_PRINTED
    words = [text.get_text() for axes in figure.axes for text in axes.texts]
    assert words.count("G") == count and all(f"Set {number}" in words for number in range(1, count + 1))


def larkmere(folder, sets: int):
    """The book of the hospital with another number of sets."""
    demo_copy("larkmere-hospital", folder / "plant")
    path = folder / "plant" / "short_circuit.yaml"
    text = path.read_text("utf-8")
    block = re.search(r"^generators:\n((?:  .*\n)+)", text, re.MULTILINE)
    rows = "".join(f"  - {{id: set_{number}, name: Set {number}, generator_bus: set_board}}\n" for number in range(1, sets + 1))
    path.write_text(text.replace(block[1], rows), "utf-8")
    loads = folder / "plant" / "loads.yaml"
    loads.write_text(re.sub(r"installed_sets: .*", f"installed_sets: {max(sets, 3)}", loads.read_text("utf-8")), "utf-8")
    return basis.load(folder / "plant")


@pytest.mark.parametrize("sets", [1, 2, 5, 8])
def test_one_to_eight_sets(tmp_path, sets):
    words = words_of(larkmere(tmp_path, sets), "si")
    assert all(f"Set {number}" in words for number in range(1, sets + 1)) and f"Set {sets + 1}" not in words


@pytest.mark.parametrize("symbol_id", sorted({*one_line.SYMBOL.values(), "transformer", "circuit_breaker"}))
def test_a_symbol_of_the_library_is_drawn_as_high_as_it_says(symbol_id):
    """The library writes path data as browsers read it; what matplotlib draws of it reaches as far, the cross of a breaker further than its line."""
    figure, axes = tools.new_axes()
    symbol_drawing.symbol(axes, symbol_id, 0.0, 0.0)
    box = axes.patches[-1].get_path().get_extents()
    half = symbol_drawing.height(symbol_id) / 2
    beyond = 2 * symbol_drawing.SCALE if symbol_id == "circuit_breaker" else 0.0  # half of the cross
    assert (box.y0, box.y1) == pytest.approx((-half, half + beyond), abs=0.1)
    assert box.x0 == pytest.approx(symbol_drawing.SCALE * (SYMBOLS[symbol_id].left - SIDE / 2), abs=0.1)


# ---- in a browser ----

PAGE, FIGURE = "larkmere-hospital/short_circuit.html", "#figure-network_one_line"
HEIGHTS = """svg => [...svg.querySelectorAll('text')].map(one => parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().a)"""


def show(page, figure) -> None:
    """Put another drawing in the place of that of the page."""
    svg = to_svg(figure, "figure-network_one_line", "trial", short_circuit.network_one_line.letters)
    page.locator(f"{FIGURE} svg").evaluate("(old, svg) => { old.outerHTML = svg }", svg)


def figure_of(which, folder):
    """A drawing of the hospital with so many sets, or of as many sets with transformers of their own."""
    kind, sets = which
    return short_circuit.network_one_line.draw(larkmere(folder, sets)) if kind == "board" else drawn_units(sets)


@pytest.mark.parametrize("which", [None, ("board", 1), ("board", 8), ("units", 8)], ids=str)
def test_its_letters_can_be_read_on_a_phone_and_only_it_scrolls(open_page, tmp_path, which):
    page = open_page(PAGE, width=360, height=740)
    if which:
        show(page, figure_of(which, tmp_path))
    heights = page.locator(f"{FIGURE} svg").evaluate(HEIGHTS)
    assert len(heights) > 5 and min(heights) >= LEAST
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    box = page.locator(f"{FIGURE} > .wide")
    assert box.evaluate("box => box.scrollWidth > box.clientWidth && box.scrollHeight <= box.clientHeight")


COVERS = """svg => {
  const boxes = [...svg.querySelectorAll("text")].map(one => [one.textContent, one.getBBox()]).filter(one => one[1].width);
  return boxes.flatMap(([one, box], place) => boxes.slice(place + 1).filter(([_, other]) =>
    Math.min(box.x + box.width, other.x + other.width) - Math.max(box.x, other.x) > 1.5
    && Math.min(box.y + box.height, other.y + other.height) - Math.max(box.y, other.y) > 2.5).map(([other]) => one + " | " + other));
}"""


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("slug", SLUGS)
def test_no_text_lies_on_another_in_the_page(open_page, slug, width):
    for page, figure in ((open_page(f"{slug}/short_circuit.html", width=width), FIGURE), (open_page(f"{slug}/index.html", width=width), ".diagram")):
        drawing = page.locator(f"{figure} svg")
        assert drawing.locator("text").count() > 5
        for system in ("US customary", "SI"):
            page.get_by_role("button", name=system, exact=True).click()
            assert drawing.evaluate(COVERS) == [], system


def test_it_is_reached_and_scrolled_by_keyboard(open_page):
    page = open_page(PAGE, width=360, height=740)
    box = page.get_by_role("group", name="One-line diagram of the network")
    page.locator(f"{FIGURE} svg a").first.focus()
    page.keyboard.press("Shift+Tab")
    assert box.evaluate("box => box === document.activeElement")
    page.keyboard.press("ArrowRight")
    page.wait_for_function("document.activeElement.scrollLeft > 0")
    assert page.evaluate("window.scrollX") == 0


@pytest.mark.parametrize("which", [("board", 1), ("board", 3), ("board", 8), ("units", 8)], ids=str)
def test_it_is_whole_and_legible_on_paper(open_page, tmp_path, which):
    page = open_page(PAGE, width=360, height=740)
    figure = figure_of(which, tmp_path)
    wanted = sorted(filter(None, (plain(sides(text.get_text())[0]) for axes in figure.axes for text in axes.texts)))
    show(page, figure)
    page.locator("article").evaluate("(article, figure) => article.replaceChildren(document.querySelector(figure))", FIGURE)
    page.pdf(path=str(tmp_path / "page.pdf"), format="A4")
    found = printed(tmp_path / "page.pdf")
    assert sorted(text for text, _ in found if text in wanted) == wanted
    assert min(height for text, height in found if text in wanted) >= LEAST_PRINTED
    page.set_viewport_size({"width": int(COLUMN / 0.75), "height": 900})  # 0.75 points a pixel
    page.emulate_media(media="print")
    assert page.locator(f"{FIGURE} svg").evaluate("svg => svg.getBoundingClientRect().right <= innerWidth")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def printed(path) -> list[tuple[str, float]]:
    """The pieces of text of the first sheet, each with the height of its letters in points."""
    found = []

    def visit(text, place, matrix, _, size):
        if text.strip():
            found.append((plain(text).strip(), size * abs(place[3] * matrix[3])))
    PdfReader(path).pages[0].extract_text(visitor_text=visit)
    return found
