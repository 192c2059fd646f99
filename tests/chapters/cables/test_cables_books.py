"""Cables in whole books: the demo projects against hand calculations, one input moved at a time, bad input told at its line, the figure."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from conftest import demo_books
from demos import demo_copy
from pytest import approx

import basis
from basis.language.faults import Faults
from basis.reading.project import read
from basis.site.figure import to_svg
from basis.site.figures import cables as figures
from basis.solving.solve import solve

SETS = """
name: Trial
chapters: [cables]
set_rated_power: 1600 kW
set_rated_power_factor: 0.8
installed_sets: 1
power_frequency: 60 Hz
generating_voltage: 480 V
conductor_table: nec-ch9-table-8-copper
least_size_table: nec-310-106-least-size
"""
ONE = """
cables:
  - id: feeder
    cable_current: 300 A
    cable_voltage: 480 V
    cable_size: 400 kcmil
    cable_parallel: 1
    cable_ampacity_table: nec-310-16-copper-90
    cable_termination_limit: termination_table
    cable_termination_table: nec-310-16-copper-75
    cable_ambient_temperature: 30 degC
    cable_length: 150 ft
    cable_fault_current: 20 kA
    cable_fault_duration: 0.2 s
    cable_power_factor: 0.8
"""
CHOICE = "generating_voltage_choice"


def book_of(folder: Path, text: str):
    folder.mkdir(exist_ok=True)
    (folder / "project.yaml").write_text(text, encoding="utf-8")
    return basis.load(folder)


@pytest.fixture(scope="module")
def demos(tmp_path_factory):
    """Slug -> Book of each demo project with this chapter and that of the generator cable."""
    return demo_books(tmp_path_factory.mktemp("demos"), "voltage, cables")


# A small book

def test_a_cable_alone_needs_no_network(tmp_path):
    # 400 kcmil: 380 A held to 335 A by 75 °C terminals; 300 A is 89.6 %; 143.1·202.7/√0.2 = 64.86 kA (hand calculation)
    book = book_of(tmp_path / "one", SETS + ONE)
    assert book["cable_capacity.feeder"].number == 335
    assert book["cable_loading.feeder"].number == approx(300 / 335)
    assert book["cable_withstand.feeder"].number == approx(64.86e3, abs=50)
    assert book["cable_governed_by.feeder"].number == "current"
    # 20 kA, 0.2 s: 62.5 mm² -> 2/0 AWG; 300 A: 350 kcmil (310 A at 75 °C)
    assert book["cable_area_for_fault.feeder"].number == approx(67.43e-6)
    assert book["cable_area_for_current.feeder"].number == approx(177.3e-6)
    words = {verdict.check.id: verdict.word for verdict in book.checks}
    assert words["cable_capacity_ok"] == words["cable_withstand_ok"] == words["cable_least_size_ok"] == "holds"
    assert words["cable_drop_ok"] == words["cable_bend_ok"] == "undecided"                    # no limit or radius is given
    assert words["pull_tension_ok"] == words["support_load_ok"] == "nothing to check"          # no pull or support is listed


def test_one_input_moves_what_hangs_on_it(tmp_path):
    book = book_of(tmp_path / "a", SETS + ONE)
    hotter = book_of(tmp_path / "b", SETS + ONE.replace("30 degC", "45 degC"))
    # 380·√(45/60) = 329.1 A, now less than the terminals allow; drop rises with temperature
    assert hotter["cable_capacity.feeder"].number == approx(329.1, abs=0.05)
    assert hotter["cable_voltage_drop.feeder"].number > book["cable_voltage_drop.feeder"].number
    assert hotter["cable_withstand.feeder"].number == book["cable_withstand.feeder"].number
    longer = book_of(tmp_path / "c", SETS + ONE.replace("150 ft", "300 ft"))
    assert longer["cable_voltage_drop.feeder"].number == approx(2 * book["cable_voltage_drop.feeder"].number)
    assert longer["cable_capacity.feeder"].number == book["cable_capacity.feeder"].number
    two = book_of(tmp_path / "d", SETS + ONE.replace("cable_parallel: 1", "cable_parallel: 2\n    cable_circuits: 1"))
    assert two["cable_capacity.feeder"].number == 670
    assert two["cable_withstand.feeder"].number == book["cable_withstand.feeder"].number   # a fault in one is fed through that one


def test_no_capacity_by_what_is_not_given(tmp_path):
    """As many conductors as are needed would carry any current; a margin that nobody gave is a default, and the verdict says so."""
    with pytest.raises(Faults, match="cable_parallel"):
        book_of(tmp_path / "parallel", SETS + ONE.replace("    cable_parallel: 1\n", ""))
    assert "default" in book_of(tmp_path / "margin", SETS + ONE).check("cable_capacity_ok").marks
    # NFPA 70 (NEC) 215.2(A)(1): 125 % of 300 A is 375 A, over the 335 A that its terminals allow
    continuous = book_of(tmp_path / "continuous", SETS + "circuit_current_margin: 1.25\n" + ONE)
    assert continuous["cable_design_current.feeder"].number == 375 and continuous.check("cable_capacity_ok").word == "fails"


def test_the_american_rule_asks_for_its_own_size(tmp_path):
    # ICEA P-32-382: 20 kA for 0.5 s, 90 to 250 °C: 196.6 kcmil -> 4/0 AWG
    book = book_of(tmp_path / "icea", SETS + "adiabatic_rule: icea_p_32_382\n" + ONE.replace("0.2 s", "0.5 s"))
    assert book["cable_least_fault_area.feeder"].text("us") == "196.6 kcmil"
    assert book["cable_area_for_fault.feeder"].number == approx(107.2e-6)


def test_parallels_lie_together_unless_the_project_says_otherwise(tmp_path):
    """Six conductors that carry current: 80 % (NFPA 70 (NEC), 310.15(C)(1), four to six); 2·0.80·380 A are 608 A, less than twice what terminals allow."""
    two = ONE.replace("cable_parallel: 1", "cable_parallel: 2")
    unsaid = book_of(tmp_path / "unsaid", SETS + two)
    assert (unsaid.check("cable_capacity_ok").word, unsaid.check("cable_capacity_ok").missing) == ("undecided", ("cable_grouping_table",))
    grouped = book_of(tmp_path / "grouped", SETS + two + "    cable_grouping_table: nec-310-15-c1\n")
    assert grouped["cable_grouping_factor.feeder"].number == 0.80 and grouped["cable_capacity.feeder"].number == approx(608)


def test_a_group_without_table_stays_undecided(tmp_path):
    book = book_of(tmp_path / "group", SETS + ONE + "    cable_circuits: 3\n")
    assert np.isnan(book["cable_capacity.feeder"].number)
    assert book.check("cable_capacity_ok").word == "undecided"
    known = book_of(tmp_path / "known", SETS + ONE + "    cable_circuits: 3\n    cable_grouping_table: nec-310-15-c1\n")
    assert known["cable_grouping_factor.feeder"].number == 0.70     # nine conductors


def test_aluminium_names_its_tables(tmp_path):
    # 500 kcmil aluminium: 350 A at 90 °C; 94.5·253.4/√0.2 = 53.5 kA; R at 20 °C 0.0424·248/303 Ω/kft (hand calculation)
    text = SETS + ONE.replace("400 kcmil", "500 kcmil").replace("copper-90", "aluminium-90").replace("copper-75", "aluminium-75")
    book = book_of(tmp_path / "al", text + "    cable_material: aluminium\n    cable_conductor_table: nec-ch9-table-8-aluminium\n")
    assert book["cable_conductor_capacity.feeder"].number == 310
    assert book["cable_withstand.feeder"].number == approx(53.5e3, abs=50)
    assert book["cable_resistance_20.feeder"].text("us") == "0.0347 Ω/kft"


# Bad input

@pytest.mark.parametrize(("old", "new", "line", "said"), [
    ("400 kcmil", "410 kcmil", 16, "has no row 410 kcmil"),
    ("400 kcmil", "400 mm²", 16, "has no row 400 mm²"),
    ("    cable_current: 300 A\n", "", 13, "'cable_current' of 'feeder': is not given"),
    ("nec-310-16-copper-90", "nec-310-60-c77-5kv", 17, "is printed for the ground"),
    ("nec-310-16-copper-90", "nec-310-16-aluminium-90", 17, "is of aluminium, the cable of copper"),
    ("    cable_termination_table: nec-310-16-copper-75\n", "", 14, "its rule asks for it"),
    ("nec-310-16-copper-90", "nec-310-17-copper-90", 17, "nec-310-16-copper-90"),
])
def test_bad_input_is_told_at_its_line(tmp_path, old, new, line, said):
    with pytest.raises(Faults) as told:
        book_of(tmp_path / "bad", (SETS + ONE).replace(old, new, 1))
    assert any(said in str(fault) and abs(fault.line - line) <= 2 for fault in told.value.faults), [str(fault) for fault in told.value.faults]


def test_every_bad_cable_is_told_at_once(tmp_path):
    second = ONE.replace("cables:\n", "").replace("id: feeder", "id: other").replace("400 kcmil", "7 furlongs")
    with pytest.raises(Faults) as told:
        book_of(tmp_path / "two", SETS + ONE.replace("400 kcmil", "410 kcmil") + second)
    assert {"'feeder'" in str(fault) or "'other'" in str(fault) for fault in told.value.faults} == {True}
    assert len({fault.line for fault in told.value.faults}) == 2


def test_a_pull_through_the_conduit_of_another_cable_is_told(tmp_path):
    text = SETS + ONE + ONE.replace("cables:\n", "").replace("id: feeder", "id: other") + """
conduit_runs: [{id: duct, conduit_cable: other, conduit_run_diameter: 100 mm}]
pull_sections: [{id: first, pull_cable: feeder, pull_conduit: duct, pull_length: 10 m, pull_bend_angle: 90 deg}]
"""
    with pytest.raises(Faults) as told:
        book_of(tmp_path / "duct", text)
    assert "holds another cable" in str(told.value) and "'pull_bend_radius' of 'first'" in str(told.value)


@pytest.mark.parametrize("cables, bore, word", [(1, "3 in", "nothing to check"), (3, "3 in", "fails"), (3, "4 in", "holds"), (4, "3 in", "nothing to check")])
def test_only_three_cables_can_jam(tmp_path, cables, bore, word):
    # NFPA 70 chapter 9, note on jamming [read in a reproduction]: three cables wedge at bore over cable of 2.8 to 3.2; 3 in over 1 in is 3.0, 4 in is 4.0
    text = SETS + ONE + f"    cables_in_circuit: {cables}\n    cable_diameter: 1 in\n" + f"""
conduit_runs: [{{id: duct, conduit_cable: feeder, conduit_run_diameter: {bore}}}]
"""
    verdict = book_of(tmp_path / "duct", text).check("conduit_jam_ok")
    assert verdict.word == word
    assert word != "nothing to check" or verdict.nothing_text == "three cables alone can wedge, and this conduit holds more or fewer"


# Demo projects

def test_hospital_cables(demos):
    book = demos["larkmere-hospital"]
    # tower feeder: 1600 kVA at 11 kV 83.98 A; 95 mm² in duct 231 A × 0.85 × soil √((0.9 + 1.5·g)/(0.9 + 1.2·g)), g = 1.5/π·ln(3.2/0.062) = 1.883: 1.0886:
    # 213.7 A
    assert book["cable_design_current.tower_feeder"].number == approx(83.98, abs=0.005)
    assert book["cable_soil_shape.tower_feeder"].number == approx(1.883, abs=5e-4)
    assert book["cable_capacity.tower_feeder"].number == approx(231 * 0.85 * ((0.9 + 1.5 * 1.883) / (0.9 + 1.2 * 1.883)) ** 0.5, abs=0.05)
    assert book["cable_governed_by.station_feeder"].number == "short_circuit"      # 8.4 A, but the fault level of the ring
    assert book["cable_governed_by.tower_tails"].number == "current"
    # theatres: 610 A; 2 × 538·0.88·√(55/60) = 906.6 A; 4.18 kW lost
    assert book["cable_capacity.theatre_feeder"].number == approx(906.6, abs=0.1)
    assert book.check("cable_withstand_ok").element == "treatment_feeder" and book.check("cable_withstand_ok").word == "fails"
    # ladder: three cables of 5.6 kg/m and 40 N/m
    assert book["support_load.set_ladder"].number == approx(3 * 5.6 * 9.80665 + 40)


def test_hospital_at_both_voltages(demos):
    low, medium = (demos["larkmere-hospital"].options[(CHOICE, option)] for option in ("low_voltage", "medium_voltage"))
    # the same as the generator cable of the voltage chapter, which lists it once: 7 × 481.0 A (hand calculation there); 1.09 % at 55 m
    assert low["cable_capacity.set_3"].number == approx(low["generator_cable_capacity"].number) == approx(7 * 481.0, abs=0.5)
    assert low["generator_cable_voltage_drop_ratio"].number == approx(0.0109, abs=5e-5)
    assert low["cable_design_current.set_3"].number == approx(low["generator_cable_current"].number)
    assert low["cable_voltage_drop_ratio.set_3"].number == approx(low["generator_cable_voltage_drop_ratio"].number,
        rel=0.01)   # one by spacing, the other by the usual reactance
    assert medium["cable_capacity.set_3"].number == approx(medium["generator_cable_capacity"].number)
    assert "ring_link" in medium.items["cable"] and "ring_link" not in low.items["cable"]
    assert low.check("support_load_ok").word == "fails" and medium.check("support_load_ok").word == "holds"
    assert low["cable_bend_multiple.set_1"].number == 8 and medium["cable_bend_multiple.set_1"].number == 12


def test_waterworks_cables(demos):
    book = demos["high-tarn-waterworks"]
    low, medium = (book.options[(CHOICE, option)] for option in ("low_voltage", "medium_voltage"))
    # NFPA 70: 1503.5 A × 1.15 = 1729 A over 380 A: 5; 170 ft: 0.95 %, as in the voltage chapter
    assert low["cable_parallel.set_2"].number == 5 and low["cable_design_current.set_2"].number == approx(1729, abs=0.5)
    assert low["cable_voltage_drop_ratio.set_2"].number == approx(low["generator_cable_voltage_drop_ratio"].number) == approx(0.0095, abs=5e-5)
    assert low["cable_capacity.set_2"].number == approx(low["generator_cable_capacity"].number)
    # 604 A × 1.125 = 679.5 A on two conductors of 310 A: fails by 8.8 %, and the remark says what is done
    verdict = book.check("cable_capacity_ok")
    assert (verdict.word, verdict.element) == ("fails", "raw_water_feeder") and verdict.remark
    assert verdict.margin == approx(620 / 679.5 - 1)
    assert book["cable_parallel_needed.raw_water_feeder"].number == 3
    # line transformer 1500 kVA at 480 V: 1804 A on six 600 kcmil aluminium of 340 A
    assert book["cable_capacity.line_tails"].number == 2040
    assert book["cable_current.line_tails"].number == approx(1804.2, abs=0.05)
    # pulled from the switchboard down, which is the better end: 3.24 kN against 3.85 kN
    listed, turned = (book[f"cable_tension_{way}.raw_water_feeder"].number for way in ("as_listed", "reversed"))
    assert (listed, turned) == (approx(3.24e3, abs=5), approx(3.85e3, abs=5))
    assert book["pull_tension.centre_rise"].number == book["cable_tension_as_listed.raw_water_feeder"].number
    # jam ratio of the 3 in tubing: 8.846 in² has a bore of 3.356 in, over 0.949 in: 3.54
    assert book["conduit_jam_ratio.high_lift_conduit"].number == approx(3.536, abs=5e-4)
    assert medium["cable_parallel.set_1"].number == 1 and medium["cable_voltage.set_1"].number == 4160


def test_the_smallest_project(demos):
    # 270.6 A × 1.15 = 311.2 A; 380·√(45/60) = 329.1 A, 1/0 AWG 150 A by terminals; 70 kW × 0.8 / 0.98 at 480 V: 68.7 A × 1.25 = 85.9 A
    book = demos["cobble-key-exchange"]
    assert book["cable_design_current.set_cable"].number == approx(311.2, abs=0.1)
    assert book["cable_capacity.set_cable"].number == approx(329.1, abs=0.1)
    assert book["cable_design_current.rectifiers"].number == approx(85.9, abs=0.05)
    assert book["cable_capacity.rectifiers"].number == 150
    assert {book.check(name).word for name in ("cable_capacity_ok", "cable_withstand_ok", "cable_drop_ok", "cable_least_size_ok")} == {"holds"}


def test_no_cable_no_verdict(tmp_path):
    book = book_of(tmp_path / "none", SETS)
    assert {verdict.word for verdict in book.checks} == {"nothing to check"}


# Figure

def test_figure_shows_every_cable(demos):
    book = demos["larkmere-hospital"]
    drawn = to_svg(figures.cable_loading.draw(book), "figure", "Loading").replace("\u202f", " ")
    for text in (*(book.names["cable"][item] for item in book.items["cable"]), "short circuit governs", "current governs", "90.1 %", "Loading, %"):
        assert text in drawn, text
    assert set(figures.GOVERNED) == set(figures.WORDS) == set(book["cable_governed_by"].term.choices)


def test_figure_where_the_fault_is_not_known(tmp_path):
    book = book_of(tmp_path / "quiet", SETS + ONE.replace("    cable_fault_duration: 0.2 s\n", ""))
    assert "fault not known" in to_svg(figures.cable_loading.draw(book), "figure", "Loading")


# What the generator cable says

def test_facts_of_the_generator_cable_are_asked_for_once(demos):
    """Cobble Key says of the cable of its set neither length, ambient nor conductors: 12 m, 45 degC and one of the generator cable; High Tarn one length."""
    book = demos["cobble-key-exchange"]
    assert [book[f"{name}.set_cable"].number for name in ("cable_length", "cable_ambient_temperature", "cable_parallel")] == approx([12, 318.15, 1])
    tarn = demos["high-tarn-waterworks"]
    assert [tarn[f"cable_length.{one}"].number for one in ("set_1", "set_2")] == approx([140 * 0.3048, 170 * 0.3048])
    assert tarn["cable_parallel.set_1"].number == tarn["conductors_per_phase"].number
    assert [tarn.check(one).word for one in ("set_cable_length", "set_cable_conductor")] == ["holds", "holds"]


def test_a_cable_that_is_a_feeder_of_the_fault_study_asks_for_neither_length_nor_conductors():
    """Larkmere's feeder to the theatres: 85 m and two conductors a phase, typed once, at the feeder; one that names no feeder is told."""
    project = read(Path(__file__).parents[3] / "projects" / "larkmere-hospital")
    assert not {("cable_length", "theatre_feeder"), ("cable_parallel", "theatre_feeder")} & project.givens.keys()
    book = solve(project)
    assert [book[f"{name}.theatre_feeder"].number for name in ("cable_length", "cable_parallel")] == approx([85, 2])
    without = {key: given for key, given in project.givens.items() if key != ("cable_feeder", "theatre_feeder")}
    with pytest.raises(Faults) as told:
        solve(replace(project, givens=without))
    assert "missing 'cable_length' of 'theatre_feeder'" in str(told.value)


def test_other_cables_say_their_own(tmp_path):
    """Without the generator cable in the book, and for a cable that no set feeds, length, ambient and conductors are asked for at the cable."""
    for removed, chapters, wanted in (("    cable_length: 22 m\n", "voltage, cables", "rectifiers"), ("", "cables", "set_cable")):
        copy = tmp_path / wanted
        demo_copy("cobble-key-exchange", copy)
        cables = (copy / "cables.yaml").read_text("utf-8")
        (copy / "cables.yaml").write_text(cables.replace(removed, ""), "utf-8")
        lines = [line for line in (copy / "project.yaml").read_text("utf-8").splitlines() if not line.startswith("chapters:")]
        (copy / "project.yaml").write_text("\n".join(lines) + f"\nchapters: [{chapters}]\n", "utf-8")
        with pytest.raises(Faults) as told:
            basis.load(copy)
        assert f"missing 'cable_length' of '{wanted}'" in str(told.value)


def test_a_cable_longer_or_thinner_than_the_one_worked_out_is_told(tmp_path):
    folder = demo_copy("cobble-key-exchange", tmp_path / "long")
    cables = (folder / "cables.yaml").read_text("utf-8")
    (folder / "cables.yaml").write_text(cables.replace("    cable_size: 400 kcmil\n", "    cable_size: 350 kcmil\n    cable_length: 13 m\n"), "utf-8")
    book = basis.load(folder)
    assert [book.check(one).word for one in ("set_cable_length", "set_cable_conductor", "set_cable_capacity")] == ["fails"] * 3


def test_a_cable_of_a_set_that_is_worked_out_in_another_way_is_told(demos):
    """Its words stand twice; what follows from them is held together, and the demos have it alike, by hand-copied words."""
    for slug, withstand in (("cobble-key-exchange", "undecided"), ("high-tarn-waterworks", "holds"), ("larkmere-hospital", "holds")):
        words = {one: demos[slug].check(one).word for one in ("set_cable_capacity", "set_cable_drop", "set_cable_drop_allowed", "set_cable_withstand")}
        assert words == {"set_cable_capacity": "holds", "set_cable_drop": "holds", "set_cable_drop_allowed": "holds", "set_cable_withstand": withstand}, slug
    project = read(Path(__file__).parents[3] / "projects" / "high-tarn-waterworks")
    keys = [key for key in project.givens if key[0] == "cable_fault_duration" and key[1] in ("set_1", "set_2")]
    longer = {key: replace(project.givens[key], data=4 * project.givens[key].data, written="1.2 s") for key in keys}
    other = solve(replace(project, givens={**project.givens, **longer}))  # cleared in four times the time, a conductor bears half the current
    assert other.check("set_cable_withstand").word == "fails" and other.check("set_cable_withstand").margin == approx(-0.5)


def test_a_cable_of_another_size_than_the_feeder_that_it_is_is_told():
    """Larkmere's feeder to the theatres is 240 mm² in both; where the fault study has 300 mm², of 0.0601 and not 0.0754 ohm/km (IEC 60228), it fails."""
    project = read(Path(__file__).parents[3] / "projects" / "larkmere-hospital")
    book = solve(project)
    assert book["cable_feeder_gap.theatre_feeder"].number == approx(0, abs=0.01) and book.check("cable_as_feeder").word == "holds"
    key = "feeder_size", "theatre_feeder"
    other = solve(replace(project, givens={**project.givens, key: replace(project.givens[key], data="300 mm²", written="300 mm²")}))
    assert other["cable_feeder_gap.theatre_feeder"].number == approx(0.0754 / 0.0601 - 1, abs=0.01)
    assert other.check("cable_as_feeder").word == "fails" and other.check("cable_as_feeder").element == "theatre_feeder"


def test_a_book_without_feeders_has_no_cable_to_hold_against_one(demos):
    book = demos["cobble-key-exchange"]
    assert book.check("cable_as_feeder").word == "nothing to check"
