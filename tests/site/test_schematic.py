"""Schematics of the plant in the books of the demos and of plants that nobody here drew: what is drawn, that every number is that of the value to which it
leads, that all parts are joined, and, in a real browser, that no words cover others on paper, desk and phone."""

import re
from pathlib import Path

import pytest
import test_stranger_bare
import test_stranger_hut
from page_tree import read

from basis.language.terms import terms
from basis.site import addresses as addressing
from basis.site import lanes, schematic, schematics
from basis.site.symbols import LINES, SIDE, SYMBOLS

ROOT = Path(__file__).parents[2]
CSS = ROOT / "basis/site/theme/assets/basis.css"
FOUR = ("cobble-key-exchange", "high-tarn-waterworks", "larkmere-hospital", "harbour-light", "ridge-hut")
COVERS = """() => {
  const found = [];
  for (const figure of document.querySelectorAll(".schematic")) {
    const edge = figure.getBoundingClientRect();
    const boxes = [...figure.querySelectorAll("li > strong, li > span, li > .place, .legend > span")].filter(one => one.textContent.trim())
      .map(one => [one, one.getBoundingClientRect()]);
    for (const [one, box] of boxes) if (box.right > edge.right + 1 || box.left < edge.left - 1) found.push("outside: " + one.textContent);
    boxes.forEach(([one, box], place) => boxes.slice(place + 1).forEach(([other, beside]) => {
      if (box.left < beside.right - 1 && beside.left < box.right - 1 && box.top < beside.bottom - 1 && beside.top < box.bottom - 1)
        found.push(one.textContent + " | " + other.textContent);
    }));
    for (const row of figure.querySelectorAll("li")) {
      const [picture, words] = [row.querySelector("svg > use").getBoundingClientRect(), row.querySelector("strong").getBoundingClientRect()];
      if (picture.right > words.left) found.push("symbol on words: " + row.textContent);
    }
  }
  return [found, document.documentElement.scrollWidth];
}"""


@pytest.fixture(scope="module")
def all_books(books, tmp_path_factory):
    folder = tmp_path_factory.mktemp("projects")
    return {**books, "harbour-light": test_stranger_bare.book_of(folder / "harbour-light"),
            "ridge-hut": test_stranger_bare.book_of(folder / "ridge-hut", test_stranger_hut.PLANT)}


def plan(book, schematic_id):
    return schematics.schematic_of(schematic_id).function(book)


def drawn(book, schematic_id):
    return schematic.shown(addressing.of_book(book, "elsewhere.html"), schematics.schematic_of(schematic_id))


@pytest.mark.parametrize("slug", FOUR)
@pytest.mark.parametrize("schematic_id", schematics.known())
def test_every_number_is_that_of_the_value_to_which_it_leads(all_books, slug, schematic_id):
    book = all_books[slug]
    for link in read(drawn(book, schematic_id)).all("a", class_="n"):
        anchor = link.attributes["href"].partition("#")[2]
        term_id, *ids = anchor.split(".")
        value = book.values[term_id]
        elements = [value.element(*one) for one in value.elements() if one[:len(ids)] == tuple(ids)] if value.axes else [value]
        shown = [one.text for one in link.all("u-si")] or [link.text]
        names = [book.names[value.term.refers_to].get(one.number, "") for one in elements if value.term.refers_to]
        assert shown[0] in [" ".join(one.text().split()) for one in elements] + names, f"{anchor} shows {shown[0]}"


@pytest.mark.parametrize("slug", FOUR)
@pytest.mark.parametrize("schematic_id", schematics.known())
def test_all_parts_are_joined_and_known(all_books, slug, schematic_id):
    found = plan(all_books[slug], schematic_id)
    assert found.parts or found.none
    ids = [part.id for part in found.parts]
    assert len(set(ids)) == len(ids)
    assert {part.symbol for part in found.parts} <= set(SYMBOLS) and {line.kind for line in found.lines} <= set(LINES)
    assert not set(ids) - {one for line in found.lines for one in line.joined}, "a part that no line reaches"
    asked = {value_id.partition(".")[0] for part in found.parts for _, value_id in part.shown}
    assert asked <= set(terms()), "a number that no Term is"
    lanes.routes(ids, found.lines)  # no line to a part that is not there


@pytest.mark.parametrize("system", ["si", "us"])
@pytest.mark.parametrize("width", [1280, 390])
def test_no_words_cover_others(all_books, browser, width, system, tmp_path):
    page = browser.new_page(viewport={"width": width, "height": 800})
    for slug in FOUR:
        body = "".join(drawn(all_books[slug], one) for one in schematics.known())
        (tmp_path / "page.html").write_text(f'<!doctype html><html data-units="{system}"><meta charset="utf-8"><link rel="stylesheet" href="{CSS.as_uri()}">'
                                            f'<body style="margin:16px;font:16px sans-serif"><div class="md-typeset">{body}</div>', "utf-8")
        page.goto((tmp_path / "page.html").as_uri())
        covers, wide = page.evaluate(COVERS)
        assert covers == [] and wide <= width, slug
    page.close()


def test_symbols_stay_in_their_place():
    """Absolute coordinates of the path data lie in the square; the sides that lines meet too."""
    for name, one in SYMBOLS.items():
        assert 0 <= one.left <= SIDE / 2 and 0 <= one.top <= one.bottom <= SIDE, name
        for absolute in re.findall(r"[MLHV]([\d. ]+)", one.lines + one.filled):
            assert all(0 <= float(number) <= SIDE for number in absolute.split()), name


def names(book, schematic_id):
    return [part.name for part in plan(book, schematic_id).parts]


def test_the_air_path_has_every_element_in_the_order_of_the_project(all_books):
    book = all_books["larkmere-hospital"]
    listed = [book.names["air_element"][item] for item in book.items["air_element"]]
    found = names(book, "air_path")
    assert [one for one in found if one in listed] == listed
    assert found.index("Room") == found.index("Discharge damper") - 5 and "Radiator of each set" in found
    remote = plan(all_books["high-tarn-waterworks"], "air_path")
    assert "Radiator of each set" not in [part.name for part in remote.parts] and any("stand apart" in line for line in remote.under)


def test_openings_side_by_side_are_branches(all_books):
    """Two intakes that share the flow: both from outdoors, both into the room."""
    from basis.site.schematic import through

    lines = through("air", [["out"]], [["a", "b"], ["c"]], [["room"]])
    assert [(line.starts, line.ends) for line in lines] == [(("out",), ("a", "c")), (("a",), ("b",)), (("b", "c"), ("room",))]


def joined(book, schematic_id, kind):
    """Names at both ends of each line of a kind."""
    found = plan(book, schematic_id)
    called = {part.id: part.name for part in found.parts}
    return {(called[start], called[end]) for line in found.lines if line.kind == kind for start in line.starts for end in line.ends}


def test_coolant_runs_in_circles_and_air_meets_the_front_core_first(all_books):
    book = all_books["high-tarn-waterworks"]
    found = plan(book, "coolant")
    assert [part.id for part in found.parts if part.symbol == "pipe"] == ["pipes-jacket", "pipes-low_temperature"]  # its radiators stand apart
    assert [(line.starts, line.ends) for line in found.lines if line.kind == "across"] == [(("air",), ("core-low_temperature",)),
                                                                                           (("core-low_temperature",), ("core-jacket",))]
    assert all((("core-" + loop,), ("engine-" + loop,)) in [(line.starts, line.ends) for line in found.lines] for loop in book.items["coolant_loop"])
    assert not [part for part in plan(all_books["larkmere-hospital"], "coolant").parts if part.symbol == "pipe"]  # its radiators stand on the sets


def test_fuel_goes_to_the_engine_and_back_to_where_the_project_says(all_books):
    book = all_books["larkmere-hospital"]
    assert {("Yard tank, east", "Suction of a transfer pump"), ("Yard tank, west", "Suction of a transfer pump"), ("Transfer pumps", "Day tank")} <= \
        joined(book, "fuel_path", "fuel")
    assert {("Engine, each", "Engine to day tank"), ("Fuel cooler", "Day tank")} <= joined(book, "fuel_path", "returned")
    assert ("Engine, each", "Day tank") in joined(all_books["cobble-key-exchange"], "fuel_path", "returned")  # no pipes listed, no cooler
    hut = plan(all_books["ridge-hut"], "fuel_path")  # a day tank and no store
    assert [part.name for part in hut.parts] == ["Day tank", "Engine, each"] and hut.under == ("The project lists no tank of a store.",)


def test_air_starts_by_receivers_and_keeps_its_battery_for_the_controls(all_books):
    air, battery = names(all_books["cobble-key-exchange"], "starting_supply"), names(all_books["larkmere-hospital"], "starting_supply")
    assert {"Compressor", "Air receivers", "Controls of the set"} <= set(air) and not {"Starter", "Starters", "Starter cable"} & set(air)
    assert {"Charger", "Battery", "Starters", "Starter cable"} <= set(battery) and "Compressor" not in battery
    assert ("Air receivers", "Engine") in joined(all_books["cobble-key-exchange"], "starting_supply", "pressure")


def test_every_run_joins_the_places_that_it_names(all_books):
    book = all_books["larkmere-hospital"]
    found = joined(book, "signals", "signal")
    for run in book.items["control_run"]:
        name = book.names["control_run"][run]
        ends = [book[f"control_run_{end}"].element(run).text().capitalize() for end in ("from", "to")]
        assert (ends[0], name) in found and (name, ends[1]) in found


def test_sound_of_the_room_comes_through_openings_and_walls_and_that_of_pipes_does_not(all_books):
    found = joined(all_books["larkmere-hospital"], "sound_way", "sound")
    assert {("Engine casing", "Room"), ("Room", "Outer walls"), ("Room", "Yard discharge louvre"), ("Exhaust", "Exhaust outlets")} <= found
    assert ("Room", "Exhaust outlets") not in found and ("Over the open", "Terrace, west end") in found


def test_heat_leaves_by_every_surface_and_by_the_air(all_books):
    book = all_books["larkmere-hospital"]
    found = joined(book, "cold_night", "heat")
    for name in (*book.names["room_surface"].values(), "Air through the shut room"):
        assert ("Room", name) in found and (name, "Outdoors, coldest day") in found


def test_the_exhaust_is_that_of_the_chosen_size(all_books):
    book = all_books["larkmere-hospital"]
    size = book["exhaust_size_chosen"].number
    assert f"exhaust_bore.{size}" in [value_id for part in plan(book, "exhaust_run").parts for _, value_id in part.shown]
    assert {("Outlet", name) for name in book.names["exhaust_receptor"].values()} <= joined(book, "exhaust_run", "gas")


def test_a_plant_without_a_list_says_so(all_books):
    bare = all_books["harbour-light"]
    assert "not drawn; no control run is listed" in drawn(bare, "signals")
    assert "not drawn; no element of an air path is listed" in drawn(bare, "air_path")


def test_what_the_plant_does_not_have_is_not_drawn(all_books):
    """No silencer, no expansion tank of which anything is known, no stages of a start: nothing stands there with a nought."""
    bare = all_books["harbour-light"]
    assert bare["silencer_drop"].number == 0 and "Silencing" not in names(bare, "exhaust_run") and "Expansion tank" not in names(bare, "coolant")
    asked = [value_id for part in plan(bare, "starting_supply").parts for _, value_id in part.shown]
    assert not bare.items["start_stage"] and "start_time" not in asked and "heating_block_to_outdoors" not in str(plan(bare, "cold_night").parts)


def test_a_weakness_is_said_once_where_all_numbers_of_a_part_share_it(all_books):
    page = read(drawn(all_books["larkmere-hospital"], "air_path"))
    for row in page.all("li"):
        numbers, whole = row.all("a", class_="n"), [one.text for one in row.all("small") if one.text.startswith("all ")]
        assert not whole or (len(numbers) > 1 and len([one for one in row.all("small") if "place" not in one.classes]) == 1)


@pytest.mark.parametrize("slug", FOUR)
@pytest.mark.parametrize("schematic_id", schematics.known())
def test_a_schematic_is_small_for_what_it_draws(all_books, slug, schematic_id):
    # With its words, links, legend and caption: what is said of all parts stands in the style sheet, each symbol is drawn once
    parts = len(plan(all_books[slug], schematic_id).parts)
    assert len(drawn(all_books[slug], schematic_id).encode()) < max(12_000, 1_500 + 580 * parts)
