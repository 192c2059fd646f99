"""Figures: drawn from Values, text that stays text, colours from the closed list, no date, ids of their own, drawn again only when needed."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import matplotlib
import pytest
from demos import demo_copy
from matplotlib.backends.backend_agg import FigureCanvasAgg

import basis
from basis.language.terms import lists_by_key
from basis.site import addresses as addressing
from basis.site import canvas, drawings
from basis.site import figure as tools
from basis.site.figures import figures_of, modules
from basis.site.labels import clear_place
from basis.site.paired import paired
from basis.site.read_tracker import Answers, TrackedBook

ROOT = Path(__file__).parents[2]
SVG = "{http://www.w3.org/2000/svg}"


@tools.figure("trial", title="Trial <figure>", terms=("a",))
def trial(book):
    """Two bars, a limit and a curve."""
    drawn, (above, below) = tools.new_axes(rows=2, height=4)
    tools.bars(above, ["A very long name of an opening in the north wall", "B"], [3.0, 5.0])
    tools.limit_line(above, 4.0, "allowed", upright=True)
    for number in range(3):
        below.plot([1, 2, 3], [number, 2, 1], label=f"series {number}", **tools.series(number))
    tools.limit_line(below, 1.5, "limit")
    tools.point(below, 2, 2, "operating point")
    tools.legend(below)
    tools.name_axes(below, "Airflow, m³/s", "Pressure, Pa")
    return drawn


def svg_of(drawing, book, prefix="figure-x"):
    return tools.to_svg(drawing.draw(book), prefix, drawing.title)


def texts(svg: str) -> list[str]:
    return ["".join(one.itertext()) for one in ET.fromstring(svg).iter(f"{SVG}text")]


def test_text_stays_text_and_the_title_is_told():
    svg = svg_of(trial, None)
    root = ET.fromstring(svg)
    assert root.get("role") == "img" and root.get("aria-labelledby") == "figure-x-title"
    assert root.find(f"{SVG}title").text == "Trial <figure>"
    for text in ("A very long name of an opening in the north wall", "allowed", "series 2", "operating point", "Airflow, m³/s"):
        assert text in texts(svg)


def test_dollar_signs_of_a_project_are_dollar_signs():
    @tools.figure("priced", title="Priced")
    def priced(book):
        """Names with dollar signs wherever a figure may write one."""
        drawn, axes = tools.new_axes()
        axes.plot([1, 2], [1, 2], label="from $4 to $5")
        tools.marks(axes.xaxis, [1, 2], ["$a_1$", "b"])
        tools.limit_line(axes, 1.5, "$6 and $7")
        tools.point(axes, 1, 1, r"$\frac{1")
        tools.legend(axes)
        return drawn
    assert {"from $4 to $5", "$a_1$", "$6 and $7", r"$\frac{1"} <= set(texts(svg_of(priced, None)))


def test_numbers_along_the_axes_are_written():
    written = texts(svg_of(trial, None))
    assert {"1", "2", "3"} <= {text.split(".")[0] for text in written if re.fullmatch(r"[\d.]+", text)}


def test_an_axis_has_round_numbers_of_both_systems_in_their_places():
    """Water freezes at 32 °F and boils at 212 °F (the two fixed points of the scale), which are 0 and 100 °C."""
    @tools.figure("warm", title="Warm")
    def warm(book):
        """A line over a temperature."""
        drawn, axes = tools.new_axes()
        axes.plot([0, 100], [0, 1])
        axes.set_xlim(0, 100)
        tools.name_axes(axes, x=f"Temperature, {paired('°C', '°F')}")
        return drawn
    svg = ET.fromstring(svg_of(warm, None))
    groups = {system: [one for one in svg.iter(f"{SVG}g") if one.get("class") == system] for system in ("si", "us")}
    places = {system: {float(text.text): float(text.get("x")) for one in found for text in one.iter(f"{SVG}text")} for system, found in groups.items()}
    assert {0.0, 100.0} <= set(places["si"]) and len(places["us"]) > 3 and all(number % 10 == 0 for number in places["us"])
    left, right = places["si"][0.0], places["si"][100.0]
    for number, place in places["us"].items():
        assert place == pytest.approx(left + (right - left) * (number - 32) / (212 - 32), abs=0.05)
    assert [one.text for one in svg.iter(f"{SVG}tspan")] == ["°C", "°F"]


def test_colours_are_those_of_the_page():
    svg = svg_of(trial, None)
    outside = re.sub(r"var\([^)]*\)", "", svg)
    assert not re.search(r"#[0-9a-fA-F]{6}", outside), re.findall(r"#[0-9a-fA-F]{6}", outside)[:3]
    assert "currentColor" in svg and "var(--figure-alert" in svg and "var(--figure-2" in svg


def test_the_same_figure_gives_the_same_bytes_and_no_date():
    assert svg_of(trial, None) == svg_of(trial, None)
    assert "metadata" not in svg_of(trial, None) and "<dc:" not in svg_of(trial, None)


def test_what_a_user_has_set_for_his_own_figures_changes_none_of_ours():
    plain = svg_of(trial, None)
    with matplotlib.rc_context({"axes.labelpad": 40.0, "lines.markeredgewidth": 5.0, "legend.handlelength": 9.0, "text.usetex": True}):
        assert svg_of(trial, None) == plain
        assert matplotlib.rcParams["axes.labelpad"] == 40.0  # his own stay his own


def test_ids_of_two_figures_never_clash():
    ids = [set(re.findall(r'\sid="([^"]+)"', svg_of(trial, None, prefix))) for prefix in ("one", "two")]
    assert ids[0] and ids[1] and not ids[0] & ids[1]
    svg = svg_of(trial, None, "one")
    assert set(re.findall(r'url\(#([^)]+)\)|href="#([^"]+)"', svg)[0]) - {""} <= ids[0]


@pytest.mark.filterwarnings("error")
def test_letters_that_the_measuring_font_lacks_have_room_and_no_warning():
    """Wide letters are squares, as Unicode Standard Annex 11 has it."""
    drawn, axes = tools.new_axes(7.2, 2.0)
    axes.text(0.5, 0.5, "発電機 \N{ETHIOPIC SYLLABLE HA}")
    assert "発電機" in tools.to_svg(drawn, "figure-trial", "trial")
    assert canvas._advance("発", "normal") == 1.0 and 0.3 < canvas._advance("\N{ETHIOPIC SYLLABLE HA}", "normal") < 1.2


def test_a_long_name_is_inside_the_view_box():
    root = ET.fromstring(svg_of(trial, None))
    left = float(root.get("viewBox").split()[0])
    name = next(one for one in root.iter(f"{SVG}text") if "north wall" in "".join(one.itertext()))
    end = float(re.search(r"x=\"([-\d.]+)\"|([-\d.]+)", name.get("x") or name.get("transform").split("(")[1])[0])
    assert "text-anchor: end" in name.get("style") and end - 0.45 * 8 * 48 >= left


@pytest.mark.parametrize("letters", [9.0, 11.0])
def test_the_least_and_largest_width_follow_from_the_smallest_letters(letters):
    @tools.figure("words", title="Words", letters=letters)
    def words(book):
        """Two words, eight and twelve points high, in a figure 360 points wide."""
        drawn, axes = tools.new_axes(5.0, 3.0)
        axes.set_axis_off()
        axes.set(xlim=(0, 1), ylim=(0, 1))
        for size in (8.0, 12.0):
            axes.text(0.5, 0.5, "word", fontsize=size, ha="center")
        return drawn

    svg = tools.to_svg(words.draw(None), "p", "t", words.letters)
    # At 360 px letters of 8 pt are 8 px high: 360 * 9 / 8 = 405, 360 * 11 / 8 = 495; 16 px: 720.
    assert f"--least:{405 if letters == 9 else 495}px;--most:720px" in svg


def test_a_place_for_a_label_is_the_first_that_touches_nothing():
    frame, taken = (0, 0, 100, 100), [(0, 0, 20, 20)]
    boxes = [(95, 10, 105, 20), (10, 10, 30, 30), (19, 25, 40, 35), (50, 50, 60, 60)]  # out of the frame; on what is taken; above it; free
    assert clear_place(boxes, taken, frame) == 2
    assert clear_place(boxes[:2], taken, frame) is None


@pytest.mark.parametrize("start, end, side", [(0, 30, "after"), (30, 70, "after"), (40, 92, "before"), (0, 88, "beyond"), (95, 103, "after")])
def test_a_number_at_a_bar_keeps_clear_of_the_line_of_a_limit(start, end, side):
    """The room that the number takes is matplotlib's own, as its picture renderer sets it."""
    drawn, axes = tools.new_axes(5.6, 2.0)
    tools.bars(axes, ["A bar"], [end - start], left=[start])
    tools.limit_line(axes, 100, "limit", upright=True)
    axes.set_xlim(0, 130)
    tools.write_at_bar(axes, start, end, 0, "1 240 kW", 100)
    box = axes.texts[-1].get_window_extent(FigureCanvasAgg(drawn).get_renderer())
    first, last = axes.transData.inverted().transform([(box.x0, 0), (box.x1, 0)])[:, 0]
    assert {"after": end < first and not first <= 100 <= last, "before": 0 < first < last < start, "beyond": 100 < first}[side], (first, last)


def test_a_figure_grows_where_its_legend_has_no_room():
    """The same room for the data, and the handle of every row within the picture: what lies outside matplotlib does not draw."""
    with matplotlib.rc_context(tools.STYLE):
        drawn, axes = tools.new_axes(5.6, 2.0)
        for number in range(7):
            axes.plot([0, 1], [number, 1], label=f"series {number}", **tools.series(number))
        before = axes.get_window_extent().height
        tools.legend(axes, ncols=2)
        assert drawn.get_size_inches()[1] > 2.3 and axes.get_window_extent().height == pytest.approx(before)
        assert "<path style=" not in tools.to_svg(drawn, "figure-x", "Legend")


def test_series_differ_without_colour():
    looks = [tools.series(number) for number in range(6)]
    assert len({str(look["linestyle"]) for look in looks}) == 6 and len({look["marker"] for look in looks}) == 6
    assert len({tools.filled(number)["hatch"] for number in range(6)}) == 6


def test_figures_are_found_by_listing_the_folder(books):
    drawings = [drawing for chapter in modules() for drawing in figures_of(chapter).values()]
    assert drawings and len({drawing.id for drawing in drawings}) == len(drawings)
    assert figures_of("no_such_chapter") == {}


def drawable():
    return [(chapter, drawing) for chapter in modules() for drawing in figures_of(chapter).values()]


@pytest.mark.parametrize("chapter, drawing", drawable(), ids=lambda part: getattr(part, "id", part))
def test_every_figure_says_in_words_what_it_shows_and_can_be_drawn(chapter, drawing, books):
    assert len(drawing.meaning) > 40 and drawing.terms
    ready = [book for book in books.values() if all(name in book for name in drawing.terms) and chapter in [one.id for one in book.chapters]]
    assert ready, "no demo book has the values of this figure"
    for book in ready:
        svg = svg_of(drawing, TrackedBook(book), f"figure-{drawing.id}")
        ET.fromstring(svg)
        assert "<path style=" not in svg  # a line of which nothing is drawn, such as that of a name in a legend without room


def test_a_figure_is_drawn_again_only_when_something_that_it_shows_has_changed(books):
    book = books["larkmere-hospital"]
    read = TrackedBook(book)
    read["altitude"], read.items["load"], "installed_sets" in read
    assert unchanged(book, read)
    other = replace(book.values["generating_voltage"], digest="another")
    assert unchanged(replace(book, values={**book.values, "generating_voltage": other}), read)
    higher = replace(book.values["altitude"], digest="another")
    assert not unchanged(replace(book, values={**book.values, "altitude": higher}), read)
    assert not unchanged(replace(book, items={**book.items, "load": ("one",)}), read)
    assert not unchanged(replace(book, values={name: value for name, value in book.values.items() if name != "altitude"}), read)


def unchanged(book, read: TrackedBook) -> bool:
    """Whether another book answers as the one that was read."""
    return Answers(book, read.answers.asked).same(read.readings)


def test_a_map_is_drawn_again_when_an_input_of_its_run_has_changed(books):
    book = books["larkmere-hospital"]
    read = TrackedBook(book)
    figures_of("noise")["receiver_map"].draw(read)

    def with_input(name, data):
        return replace(book, inputs={**book.inputs, name: data})

    assert unchanged(book, read)
    assert unchanged(with_input("day_tank_volume", 2.0), read)
    assert not unchanged(with_input("source_x", book.inputs["source_x"] + 1.0), read)
    assert not unchanged(replace(book, steps=book.steps[1:]), read)


@pytest.mark.parametrize("emptied", ["receivers", "limit_periods", "sound_weathers"])
def test_a_plant_that_lists_nothing_of_a_kind_has_its_figures_drawn_or_told_apart(tmp_path, emptied):
    folder = tmp_path / "plant"
    demo_copy("cobble-key-exchange", folder)
    for path in folder.glob("*.yaml"):
        text = re.sub(rf"^{emptied}:\n(?:[ #-].*\n|\n)*", f"{emptied}: []\n", path.read_text("utf-8"), flags=re.MULTILINE)
        path.write_text(re.sub(r"^chapters:.*$", "chapters: [loads, noise]", text, flags=re.MULTILINE), "utf-8")
    book = basis.load(folder)
    assert book.items.get(lists_by_key()[emptied].axis, ()) == ()
    placed = addressing.of_book(book, "noise.html", addressing.Workshop())
    for name in figures_of("noise"):
        made = drawings.figure(placed, "noise", name)
        assert "<svg" in made or "not drawn" in made, name


def test_units_on_axes_come_from_values():
    """No figure types the unit of an axis."""
    typed = re.compile(r'[xy]=f?"[^"{]*, (?:[kM]?W|kWh|Pa|kPa|dB|dBA|Hz|m|mm|min|h|s|ms|%|A|kA|V|K|°C)"')
    found = {path.name: typed.findall(path.read_text("utf-8")) for path in sorted((ROOT / "basis/site/figures").glob("*.py"))}
    found["fuel.py"].remove('x="Time of the run, h"')  # a list of fixed times, which are no values
    assert not any(found.values()), found
