"""Isolation and foundation of the demo projects: what a reader of the books is told, and figures worked by hand from the projects' data."""

from dataclasses import replace

import numpy as np
import pytest
import scipy.constants
from conftest import ROOT, SLUGS
from pytest import approx

from basis.language.faults import Faults
from basis.reading.project import read
from basis.site.figure import to_svg
from basis.site.figures.isolation import mount_loads, transmissibility_curve
from basis.solving.solve import solve

G = scipy.constants.g
CHAPTERS = ("plant", "loads", "isolation", "foundation")
POUND, FOOT, INCH = 0.45359237, 0.3048, 0.0254


@pytest.fixture(scope="module")
def sets():
    """Slug -> Book of each demo project with these chapters only."""
    return {slug: solve(replace(read(ROOT / "projects" / slug), chapters=CHAPTERS)) for slug in SLUGS}


def words(book, *ids):
    return [book.check(check_id).word for check_id in ids]


def test_hospital_on_springs(sets):
    book = sets["larkmere-hospital"]
    # hand: 15 600 + 300 x 0.88 + 580 L in the two loops x 1.06 = 16 479 kg; 161.6 kN on 6 x 1050 N/mm sink 25.65 mm; 3.112 Hz
    assert book["set_wet_mass"].number == approx(15_600 + 264 + 614.8)
    deflection = 16_478.8 * G / 6.3e6
    assert deflection == approx(25.65e-3, abs=5e-6) and np.sqrt(G / deflection) / (2 * np.pi) == approx(3.11, abs=5e-3)
    assert book["static_deflection"].number == approx(deflection) and book["natural_frequency"].number == approx(np.sqrt(G / deflection) / (2 * np.pi))
    # hand: W/6 + W 0.18 x 2.1/17.64 + W 0.02 x 0.75/3.375 = 26.93 + 3.46 + 0.72 kN
    assert book["mount_static_load.alternator_left"].number == approx(31.1e3, abs=30)
    assert np.sum(book["mount_static_load"].number) == approx(book["sprung_weight"].number) and book["mount_static_load"].left_over[0] < 1e-12
    assert words(book, "isolation_ratio", "isolation_passing", "mount_overload", "starter_speed", "connection_travel", "block_mass_ratio") == [
        "holds", "holds", "tight", "tight", "tight", "tight"]
    assert words(book, "anchor_pull", "anchor_sliding", "bearing_pressure", "block_overturning") == ["holds"] * 4


def test_hospital_bolted_down_shakes_its_building(sets):
    book = sets["larkmere-hospital"]
    springs, solid = (book.options[("mounting_choice", option)] for option in ("springs", "solid"))
    assert solid["transmitted_force"].number > 10 * springs["transmitted_force"].number
    assert solid["running_transmissibility"].number > 1 > springs["running_transmissibility"].number
    # what mounts are judged by means nothing for a bolted set; what counts for it, its block clear of the orders, means nothing for one on springs
    alone = ("isolation_ratio", "isolation_passing", "mount_overload", "mount_underload", "mount_uplift", "starter_speed", "start_stop_travel",
             "snubber_strength", "snubber_uplift_strength", "floor_deflection", "floor_tuning")
    assert set(words(solid, *alone)) == {"nothing to check"} and "nothing to check" not in words(springs, *alone[:-2])
    assert words(solid, "block_tuning", "connection_travel") == ["holds", "holds"] and words(springs, "block_tuning") == ["nothing to check"]
    assert solid.check("isolation_ratio").nothing_text == "mounting of the set: solid"
    assert solid["block_frequency_gap.first_order"].number == approx(31 / 25 - 1)  # hand: 24 %
    assert solid["unbalance_force"].number == approx(springs["unbalance_force"].number)  # one engine, whatever stands below it
    # hand: 16,500 kg x √2 x 9 mm/s x 157.08 1/s, times 0.985 at ratio 8 and 5 %: 32.5 kN
    assert springs["unbalance_force"].number == approx(32.5e3, abs=60)
    assert solid["block_ratio_min"].number == 1.5 and solid["set_movement"].number == 0


def test_waterworks_on_elastomer(sets):
    book = sets["high-tarn-waterworks"]
    # hand: 19 800 lb + 55 gal x 0.88 + 54 gal x 1.06 kg/L = 9381 kg; 1.4 x g over W/(6 x 14 000 lbf/in) gives 7.46 Hz
    assert book["set_wet_mass"].number == approx(9381, abs=1)
    assert book["natural_frequency"].number == approx(7.46, abs=5e-3)
    assert words(book, "isolation_ratio", "isolation_passing", "connection_travel", "mount_overload", "anchor_combined") == ["fails", "fails", "fails", "tight",
        "tight"]
    assert book.check("isolation_ratio").element == "cycle_order" and book.check("connection_travel").element == "coolant_sleeves"
    # hand, ASCE 7-16 13.3-1: 0.4 x 2.5 x 0.75 x 1.5/2.5 = 0.45, above 0.3375; 0.45 x 92.00 kN = 41.40 kN
    assert book["seismic_ratio"].number == approx(0.45) and book["seismic_force"].number == approx(41.40e3, abs=10)
    # hand, across: (2 x 41.40 x 1.0668 - (0.9 - 0.15) x 92.00 x (0.79248 - 0.00914))/(1.58496 x 4) = (88.33 - 54.05)/6.340 = 5.41 kN
    assert book["anchor_tension.across"].number == approx(5.41e3, abs=10) and book["anchor_tension.along"].number == 0
    assert book["anchor_shear"].number == approx(2 * 41.40e3 / 8, abs=5)
    assert book["seismic_force"].mark == "from memory"  # nobody has read the table of this edition


def test_exchange_on_a_floor_that_spans(sets):
    book = sets["cobble-key-exchange"]
    # hand: springs 4 x 230 N/mm on 11 000 N/mm: 25.05 mm, 3.149 Hz, times √(1/(1 + 0.0836)) 3.025 Hz
    assert book["static_deflection"].number == approx(25.05e-3, abs=5e-6) and book["natural_frequency"].number == approx(3.025, abs=5e-4)
    assert words(book, "isolation_ratio", "floor_deflection", "floor_tuning", "mount_uplift") == ["holds"] * 4
    assert words(book, "isolation_passing", "anchor_pull", "snubber_strength", "block_overturning") == ["undecided"] * 4
    assert "seismic_code" in book.check("anchor_sliding").missing
    assert book["steady_mount_torque"].number > 0  # nothing said of the base: the mounts are taken to bear the torque


@pytest.mark.parametrize("slug", SLUGS)
def test_whatever_fails_or_is_tight_is_explained(sets, slug):
    own = {check.id for check in _checks()}
    for verdict in sets[slug].checks:
        assert verdict.check.id not in own or verdict.word not in ("fails", "tight") or verdict.remark, verdict.check.id


def _checks():
    from basis.chapters import catalogue

    return [check for chapter in ("isolation", "foundation") for check in catalogue().checks[chapter]]


@pytest.mark.parametrize("slug", SLUGS)
def test_figures_show_the_numbers_of_the_book(sets, slug):
    book = sets[slug]
    curve, plan = (to_svg(drawing.draw(book), "f", drawing.title) for drawing in (transmissibility_curve, mount_loads))
    for item in ("cycle_order", "first_order", "firing_order"):
        assert f"{item.replace('_', ' ')} {book['transmissibility'].element(item).text()}" in curve
    for item in book.items["mount"]:
        assert book["mount_static_load"].element(item).text() in plan
    assert "centre of gravity" in plan and all(name in book for name in (*transmissibility_curve.terms, *mount_loads.terms))


def test_set_on_the_ground_is_not_judged_by_a_floor_that_spans(sets):
    for slug, word in (("larkmere-hospital", "nothing to check"), ("high-tarn-waterworks", "nothing to check"), ("cobble-key-exchange", "holds")):
        assert words(sets[slug], "floor_deflection", "floor_tuning") == [word, word], slug
    assert words(sets["cobble-key-exchange"], "block_separation") == ["nothing to check"]  # a pad on a floor stands apart from no slab


def changed(slug, **data):
    """The book of a demo project with some inputs given anew."""
    project = replace(read(ROOT / "projects" / slug), chapters=CHAPTERS)
    sample = project.givens[("set_mounting", "")]
    return solve(replace(project, givens={**project.givens, **{(name, ""): replace(sample, term=name, data=value) for name, value in data.items()}}))


def test_two_stroke_engine_in_a_book():
    book = changed("high-tarn-waterworks", engine_strokes="two_stroke")
    assert book["excitation_frequency.cycle_order"].number == book["excitation_frequency.first_order"].number == approx(book["engine_speed"].number)
    svg = to_svg(transmissibility_curve.draw(book), "f", "t")
    assert "cycle order, first order" in svg and "half order" not in svg


def test_a_code_that_asks_for_nothing_leaves_nothing_to_judge():
    book = changed("high-tarn-waterworks", seismic_code="no_design_asked")
    assert set(words(book, "anchor_pull", "anchor_sliding", "anchor_combined", "bearing_in_earthquake", "block_overturning", "snubber_strength",
                     "snubber_uplift_strength")) == {"nothing to check"}
    assert "seismic_force" not in book and words(book, "start_stop_travel") == ["holds"]


def test_a_heavier_base_does_not_shake_the_engine_harder(sets):
    heavy = changed("larkmere-hospital", inertia_base_mass=12_000.0)
    before = sets["larkmere-hospital"]
    assert heavy["unbalance_force"].number == approx(before["unbalance_force"].number)
    # hand: 16,479 kg and 12,000 kg more
    assert heavy["free_amplitude"].number / before["free_amplitude"].number == approx(16_478.8 / 28_478.8)


def test_nor_does_one_of_which_the_project_does_not_say_on_what_it_was_measured():
    before, heavy = changed("cobble-key-exchange", inertia_base_mass=0.0), changed("cobble-key-exchange", inertia_base_mass=12_000.0)
    assert heavy["unbalance_force"].number == approx(before["unbalance_force"].number)


def test_without_mounts_there_is_nothing_to_judge():
    project = replace(read(ROOT / "projects" / "cobble-key-exchange"), chapters=CHAPTERS)
    givens = {key: given for key, given in project.givens.items() if not key[0].startswith("mount_")}
    book = solve(replace(project, givens=givens, items={**project.items, "mount": ()}))
    assert words(book, "mount_overload", "mount_underload", "mount_uplift") == ["nothing to check"] * 3
    assert book.check("isolation_ratio").word in ("undecided", "nothing to check")


def test_missing_stiffness_leaves_things_undecided_and_mounts_in_a_line_are_a_fault():
    from basis.language.faults import Faults

    project = replace(read(ROOT / "projects" / "cobble-key-exchange"), chapters=CHAPTERS)
    without = {key: given for key, given in project.givens.items() if key[0] != "mount_stiffness"}
    found = solve(replace(project, givens=without))
    assert words(found, "isolation_ratio", "mount_overload") == ["undecided", "undecided"] and "natural_frequency" not in found
    line = {key: replace(given, data=(given.data[0], 0.0)) if key[0] == "mount_place" else given for key, given in project.givens.items()}
    with pytest.raises(Faults, match="not all in one line"):
        solve(replace(project, givens=line))


def test_mounts_measured_from_elsewhere_are_told_at_the_line_of_a_place():
    project = read(ROOT / "projects" / "larkmere-hospital")
    places = {key: given for key, given in project.givens.items() if key[0] == "mount_place"}
    shifted = {key: replace(given, data=(given.data[0] + 0.5, given.data[1])) for key, given in places.items()}
    with pytest.raises(Faults) as told:
        solve(replace(project, chapters=CHAPTERS, givens={**project.givens, **shifted}))
    first = min(places.values(), key=lambda given: given.line)
    assert (told.value.faults[0].file, told.value.faults[0].line) == (first.file, first.line)
    assert str(told.value).partition(": ")[2].startswith("mounts are measured from their middle: not so for 'along' (along); expected mount_place")
