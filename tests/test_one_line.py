"""The one-line diagram: everything of the network stands in it by name, rating and fault level, for one to eight sets, and no text on another."""

import re
import shutil
from html import unescape

import pytest

import basis
from basis.site.figures import short_circuit
from basis.site.figure import to_svg
from conftest import ROOT, SLUGS


def words_of(book) -> str:
    """All text of the drawing, one space between lines."""
    svg = to_svg(short_circuit.network_one_line.draw(book), "p", "t")
    return plain(unescape(" ".join(re.findall(r"<text[^>]*>(.*?)</text>", svg, re.DOTALL))))


def plain(text: str) -> str:
    """The text with any space as one plain space."""
    return re.sub(r"\s+", " ", text)


@pytest.mark.parametrize("slug", SLUGS)
def test_every_part_stands_in_it_with_its_figures(books, slug):
    for book in {id(one): one for one in (books[slug], *books[slug].options.values())}.values():
        words = words_of(book)
        for axis in ("bus", "transformer", "feeder", "generator", "grid_infeed", "motor_group"):
            for item in book.items.get(axis, ()):
                assert book.names[axis][item] in words, item
        for bus in book.items["bus"]:
            assert all(plain(book[term].element(bus).text()) in words for term in ("largest_initial_current", "bus_voltage")), bus


def boxes_of(figure):
    figure.canvas.draw()
    return [text.get_window_extent() for axes in figure.axes for text in axes.texts if text.get_text().strip()]


@pytest.mark.parametrize("slug", SLUGS)
def test_no_text_lies_on_another(books, slug):
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    figure = short_circuit.network_one_line.draw(books[slug])
    FigureCanvasAgg(figure)
    boxes = boxes_of(figure)
    assert len(boxes) > 5
    for place, one in enumerate(boxes):
        for other in boxes[place + 1:]:
            across = min(one.x1, other.x1) - max(one.x0, other.x0)
            along = min(one.y1, other.y1) - max(one.y0, other.y0)
            assert across <= 1.5 or along <= 2.5, (one, other)


@pytest.mark.parametrize("sets", [1, 2, 5, 8])
def test_one_to_eight_sets(tmp_path, sets):
    shutil.copytree(ROOT / "projects" / "larkmere-hospital", tmp_path / "plant")
    path = tmp_path / "plant" / "short_circuit.yaml"
    text = path.read_text("utf-8")
    block = re.search(r"^generators:\n((?:  .*\n)+)", text, re.MULTILINE)
    rows = "".join(f"  - {{id: set_{number}, name: Set {number}, generator_bus: set_board}}\n" for number in range(1, sets + 1))
    path.write_text(text.replace(block[1], rows), "utf-8")
    loads = tmp_path / "plant" / "loads.yaml"
    loads.write_text(re.sub(r"installed_sets: .*", f"installed_sets: {max(sets, 3)}", loads.read_text("utf-8")), "utf-8")
    words = words_of(basis.load(tmp_path / "plant"))
    assert all(f"Set {number}" in words for number in range(1, sets + 1)) and f"Set {sets + 1}" not in words
