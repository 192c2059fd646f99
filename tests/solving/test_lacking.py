"""What is not given is told as the key to write, of which item and in which file; never as a computed value that waits itself."""

import json
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
from click.testing import CliRunner
from demos import demo_copy
from rendering import chapter_page

import basis
from basis.chapters import catalogue
from basis.language.terms import homes, lists_by_key, terms
from basis.reading import project
from basis.solving.lacking import lacks, told, told_shortly
from basis.solving.solve import solve
from basis.terminal.cli import main

DEMO = Path(__file__).parents[2] / "projects" / "cobble-key-exchange"


def test_what_is_missing_can_be_written(books):
    producers = catalogue().producers
    for book in books.values():
        asked = [name for verdict in book.checks for name in verdict.missing] + [name for names in book.undecided.values() for name in names]
        for name in asked:
            term_id = name.partition(".")[0]
            assert term_id in lists_by_key() or term_id not in producers or terms()[term_id].either, name
        for lack in lacks(book, asked):
            assert lack.file == f"{homes()[lack.key]}.yaml" if lack.key in terms() else lack.key in lists_by_key()


def test_a_check_names_key_item_and_file(books):
    book = books["cobble-key-exchange"]
    assert told(book, ("generator_cable_fault_duration", "generator_cable_fault_current")) == (
        "not given: clearing time (generator_cable_fault_duration), fault current in the generator cable (generator_cable_fault_current) in voltage.yaml")
    assert told(book, book.check("cable_bend_ok").missing) == (
        "not given: tightest bend (cable_bend_radius of cables), diameter over the sheath (cable_diameter of cables) in cables.yaml")
    assert told(book, ("octave_limits",)) == "not given: octave_limits in noise.yaml"
    assert told_shortly(book, ("stack_height",)) == "not given: height of outlet above roof"
    assert told_shortly(book, ("stack_height", "rain_depth", "octave_limits")) == "not given: height of outlet above roof and 2 more"


def test_a_choice_that_is_not_made_is_asked_for_before_what_hangs_on_it(books):
    missing = books["cobble-key-exchange"].check("block_overturning").missing
    assert missing == ("seismic_code",)


def test_a_list_without_items_is_told_by_itself(books):
    book = books["cobble-key-exchange"]
    assert book.check("autonomy_over_day").missing == ("day_periods",)
    assert told(book, ("day_periods",)) == "not given: day_periods in loads.yaml"  # not one of its keys: there is no item that could have it


def test_of_a_list_the_item_is_named_that_lacks_the_key():
    read = project.read(DEMO.parent / "larkmere-hospital")
    place = ("loop_tank_volume", "jacket")
    assert place in read.givens
    book = solve(replace(read, givens={key: given for key, given in read.givens.items() if key != place}))
    verdict = book.check("expansion_tank")
    assert (verdict.word, verdict.missing) == ("undecided", ("loop_tank_volume.jacket",))
    beside = min(given.line for (term, item), given in read.givens.items() if item == "jacket" and given.file.endswith("cooling.yaml"))
    (lack,) = lacks(book, verdict.missing)
    assert (lack.key, lack.file) == ("loop_tank_volume", "cooling.yaml") and lack.of == book.names["coolant_loop"]["jacket"] and lack.line == beside


def test_terminal_json_and_book_say_the_same(books):
    asked = "not given: bore of the overflow (day_tank_overflow_bore), head on the overflow (day_tank_overflow_head) in fuel.yaml"
    assert asked in CliRunner().invoke(main, ["check", DEMO.name, "--projects", str(DEMO.parent)]).stdout
    made = json.loads(CliRunner().invoke(main, ["check", DEMO.name, "--projects", str(DEMO.parent), "--json"]).stdout)
    record = next(one for one in made["projects"][0]["checks"] if one["check"] == "day_tank_overflow")
    assert [(one["key"], one["file"]) for one in record["to_give"]] == [("day_tank_overflow_bore", "fuel.yaml"), ("day_tank_overflow_head", "fuel.yaml")]
    assert asked in chapter_page(books[DEMO.name], "fuel").text


def without(slug: str, *places: tuple[str, str]):
    """The book of a demo of which some inputs are taken away."""
    read = project.read(DEMO.parent / slug)
    assert all(place in read.givens for place in places)
    return solve(replace(read, givens={key: given for key, given in read.givens.items() if key not in places}))


def test_a_trend_waits_for_its_own_limit_alone():
    """The limit of start times hangs on another chapter; a battery that is followed has no use for it and is judged all the same."""
    book = without("cobble-key-exchange", ("start_time_max", ""))
    assert book["trend_used.battery"].number == 840 / 1030  # siemens, of the limit and of the last reading
    verdict = book.check("trend_within_limit")
    assert (verdict.word, verdict.missing) == ("undecided", ("start_time_max",))


def test_a_measurement_is_asked_only_for_what_its_kind_asks():
    """Power of a set, an airflow and a level, each half filled in: none is asked for the numbers of another kind."""
    book = without("larkmere-hospital", ("test_air_temperature", "first_set_power"), ("tolerance", "first_set_power"), ("measured_airflow", "hall_air"))
    asked = set(book.check("measured_within_tolerance").missing)
    assert asked == {"test_air_temperature.first_set_power", "tolerance.first_set_power", "measured_airflow.hall_air"}


def test_an_element_that_waits_is_not_told_not_to_exist(tmp_path):
    """Of three cables in a conduit that nobody has chosen, it is not known whether they wedge: the check does not pass."""
    folder = demo_copy("high-tarn-waterworks", tmp_path / "projects/high-tarn-waterworks")
    path = folder / "cables.yaml"
    conduit = "    conduit_cable: high_lift_feeder\n    conduit_run_table: nec-ch9-table-4-emt\n    conduit_run_size: 3 in\n"
    assert conduit in path.read_text("utf-8")
    path.write_text(path.read_text("utf-8").replace(conduit, conduit.partition("\n")[0] + "\n"), "utf-8")
    book = basis.load(folder)
    assert book["conduit_jam_distance.high_lift_conduit"].text() == "not given"
    assert book["conduit_jam_distance.raw_water_conduit"].number > 0
    verdict = book.check("conduit_jam_ok")
    assert (verdict.word, verdict.missing) == ("undecided", ("conduit_run_table.high_lift_conduit", "conduit_run_size.high_lift_conduit"))


def test_an_element_that_does_not_exist_says_why_whatever_is_not_given(tmp_path):
    folder = demo_copy("larkmere-hospital", tmp_path / "projects/larkmere-hospital")
    path = folder / "cables.yaml"
    path.write_text(re.sub(r"conduit_run_diameter: \{[^}]*\}\n", "conduit_other_count: 0\n", path.read_text("utf-8")), "utf-8")
    book = basis.load(folder)
    assert np.isnan(book["conduit_jam_ratio.yard_duct"].number)  # there is one cable in it, and no diameter of the duct
    assert book["conduit_jam_distance.yard_duct"].text().startswith("does not exist: three cables alone can wedge")
    assert book.check("conduit_jam_ok").word == "nothing to check"
