"""Whole books of the generating voltage: demo projects and trials against hand calculations."""

from pathlib import Path

import pytest
from demos import demo_copy
from pytest import approx

import basis
from basis.language.faults import Faults
from basis.site.figure import to_svg
from basis.site.figures import voltage as figures

PROJECTS = Path(__file__).parents[3] / "projects"

SMALL = """
set_rated_power: 1600 kW
set_rated_power_factor: 0.8
installed_sets: 2
power_frequency: 60 Hz
generating_voltage: 480 V
ampacity_table: nec-310-16-copper-90
conductor_table: nec-ch9-table-8-copper
conductor_size: 500 kcmil
conductor_ambient_temperature: 40 degC
ambient_rule: table
ambient_table: nec-310-15-b1-90
circuits_grouped: 2
grouping_rule: conductors
grouping_table: nec-310-15-c1
termination_limit: termination_table
termination_table: nec-310-16-copper-75
cable_laying: conduit
generator_cable_length: 150 ft
least_size_table: nec-310-106-least-size
bus_sets: 2
"""


def book_of(folder: Path, text: str):
    folder.mkdir(exist_ok=True)
    (folder / "project.yaml").write_text(f"name: Trial\nchapters: [voltage]\n{text}", encoding="utf-8")
    return basis.load(folder)


def demo(tmp_path: Path, slug: str):
    """The demo project with this chapter alone."""
    folder = tmp_path / slug
    demo_copy(slug, folder)
    text = "\n".join(line for line in (folder / "project.yaml").read_text("utf-8").splitlines() if not line.startswith("chapters:"))
    (folder / "project.yaml").write_text(text + "\nchapters: [voltage]\n", encoding="utf-8")
    return basis.load(folder)


def test_a_small_book_needs_no_more_than_the_code_asks(tmp_path):
    # as test_conductors_hot_and_grouped: 9 conductors, 5 conduits
    book = book_of(tmp_path / "small", SMALL)
    assert book["conductors_per_phase"].number == 9
    assert book["conduits_per_set"].number == 5
    assert book.check("generator_cable_capacity_ok").word == book.check("circuits_as_grouped").word == "nothing to check"  # both are sized for it
    given = book_of(tmp_path / "given", SMALL + "conductors_per_phase: 9\nconduits_per_set: 5\n")
    assert given.check("generator_cable_capacity_ok").word == "tight"  # 9 × 313.04 A against 2766.4 A: 1.8 % in hand
    assert given.check("circuits_as_grouped").word == "holds"
    assert book.check("conductor_least_size").word == "holds"
    undecided = {verdict.check.id for verdict in book.checks if verdict.word == "undecided"}
    assert undecided == {"generator_cable_withstand", "generator_cable_drop", "containment_fill_ok", "switchgear_bus"}
    assert "voltage_life_cost" not in book


def test_a_circuit_alone_is_asked_for_no_grouping_table(tmp_path):
    # NFPA 70 310.15(C)(1) [read in a reproduction]: up to three conductors in a raceway nothing is taken off; 430 A (500 kcmil, 90 °C) × 0.91 at 40 °C
    alone = SMALL.replace("circuits_grouped: 2\ngrouping_rule: conductors\ngrouping_table: nec-310-15-c1\n", "circuits_grouped: 1\ngrouping_rule: alone\n")
    book = book_of(tmp_path / "alone", alone)
    assert book["grouping_factor"].number == 1 and book["derated_ampacity"].number == approx(430 * 0.91)
    assert "grouping_table" not in book
    line = [number for number, text in enumerate(alone.splitlines(), start=3) if "circuits_grouped" in text][0]
    with pytest.raises(Faults, match=rf"project.yaml:{line}: a circuit alone is one circuit: .*grouping_table for more"):
        book_of(tmp_path / "two", alone.replace("circuits_grouped: 1", "circuits_grouped: 2"))


def test_given_numbers_are_judged_not_bent(tmp_path):
    # eight conductors of 313 A are 2504 A, under 2766 A; three conduits for eight circuits put three together, two were allowed
    book = book_of(tmp_path / "few", SMALL + "conductors_per_phase: 8\nconduits_per_set: 3\n")
    assert book.check("generator_cable_capacity_ok").word == "fails"
    assert book.check("circuits_as_grouped").word == "fails"
    thin = book_of(tmp_path / "thin", SMALL.replace("500 kcmil", "1 AWG"))
    assert thin.check("conductor_least_size").word == "fails"          # parallel conductors smaller than 1/0 AWG


def test_full_current_exception_saves_a_conductor(tmp_path):
    # 2405.6 A over 313.04 A is 7.68, so 8 in place of 9
    assert book_of(tmp_path / "full", SMALL + "cable_current_factor: 1\n")["conductors_per_phase"].number == 8


def test_a_size_that_no_table_holds_is_told(tmp_path):
    with pytest.raises(Faults) as told:
        book_of(tmp_path / "odd", SMALL.replace("500 kcmil", "510 kcmil"))
    assert "500 kcmil" in str(told.value) and "has no row 510 kcmil" in str(told.value)


def test_a_bus_that_nobody_makes_is_told(tmp_path):
    with pytest.raises(Faults) as told:
        book_of(tmp_path / "bus", SMALL + "bus_rating_table: us-medium-voltage-bus-rating\n")   # 4811 A, largest printed 4000 A
    assert "us-medium-voltage-bus-rating" in str(told.value)


def test_hospital_at_both_voltages(tmp_path):
    book = demo(tmp_path, "larkmere-hospital")
    low, medium = (book.options[("generating_voltage_choice", option)] for option in ("low_voltage", "medium_voltage"))
    assert medium["generating_voltage"].number == book["generating_voltage"].number == 11_000
    # 2050 kVA: 2958.9 A and 107.6 A; 703·√(45/60)·0.79 = 481.0 A, 1.10·2958.9/481.0 = 6.77 -> 7 (hand calculation)
    assert low["set_rated_current"].number == approx(2958.9, abs=0.1)
    assert medium["set_rated_current"].number == approx(107.6, abs=0.05)
    assert (low["conductors_per_phase"].number, medium["conductors_per_phase"].number) == (7, 1)
    # conductors at 45 + 45·(2958.9/3366.7)² = 79.76 °C; (0.0601·314.26/254.5·1.0148·0.8 + 0.0807·0.6)·√3·422.7·0.055 = 4.38 V, 1.09 %
    assert low["generator_cable_voltage_drop_ratio"].number == approx(0.01094, abs=5e-5)
    assert low["generator_cable_copper_mass"].number == approx(13_862, abs=1)
    assert medium["generator_cable_copper_mass"].number == approx(521, abs=1)    # 165 m × (285 + 70) mm² × 8890 kg/m³
    words = {name: (low.check(name).word, medium.check(name).word) for name in ("generator_cable_drop", "switchgear_bus", "containment_fill_ok")}
    assert words == {"generator_cable_drop": ("fails", "holds"), "switchgear_bus": ("fails", "holds"), "containment_fill_ok": ("tight", "holds")}
    assert low["voltage_life_cost"].number > medium["voltage_life_cost"].number


def test_waterworks_at_both_voltages(tmp_path):
    book = demo(tmp_path, "high-tarn-waterworks")
    low, medium = (book.options[("generating_voltage_choice", option)] for option in ("low_voltage", "medium_voltage"))
    assert book["generating_voltage"].number == 480
    # 1250 kVA: 1503.5 A, 115 % 1729.0 A over 380 A is 4.55 -> 5; at 4.16 kV 173.5 A, 199.5 A against 205 A, 2.8 % in hand
    assert (low["conductors_per_phase"].number, medium["conductors_per_phase"].number) == (5, 1)
    assert medium["generator_cable_capacity"].number / medium["generator_cable_current"].number == approx(1.0276, abs=1e-4)
    # 300.7 A, 170 ft, (0.029·304.0/309.5·0.8 + 0.048·0.6) Ω/kft: 4.57 V, 0.95 % of 480 V against 1 %
    assert low["generator_cable_voltage_drop"].number == approx(4.57, abs=0.01)
    assert book.check("generator_cable_drop").word == "tight"
    assert low["voltage_life_cost"].number < medium["voltage_life_cost"].number


def test_the_smallest_project_decides_what_it_can(tmp_path):
    # 225 kVA, 480 V: 270.6 A, 115 % 311.2 A; 380·√(45/60) = 329.1 A: one 400 kcmil (hand calculation)
    book = demo(tmp_path, "cobble-key-exchange")
    assert book["generator_cable_current"].number == approx(311.2, abs=0.1)
    assert book["conductor_capacity"].number == approx(329.1, abs=0.1)
    assert book["conductors_per_phase"].number == 1
    assert {decision for decision, _ in book.options} == {"interruptible_tariff_choice"}  # of no voltage
    # 75.4 °C: (0.035·(234.5 + 75.4)/309.5·0.8 + 0.049·0.6) Ω/kft × √3 × 270.6 A × 12 m: 1.06 V, 0.22 %
    assert book["generator_cable_voltage_drop"].number == approx(1.06, abs=0.005)
    assert {verdict.check.id for verdict in book.checks if verdict.word == "undecided"} == {"containment_fill_ok", "switchgear_bus"}
    assert book.check("generator_cable_withstand").nothing_text == "sources that a set may meet: 0"


# Figure

def test_figure_shows_every_voltage(tmp_path):
    # a bar for each option, its number written beside it as in the options table: 7 and 1 conductors, 13 900 kg and 521 kg
    drawn = to_svg(figures.conductors_by_voltage.draw(demo(tmp_path, "larkmere-hospital")), "figure", "Conductors").replace("\u202f", " ")
    for text in ("400 V", "11 kV, chosen", "Conductors per phase", ">7<", ">1<", "13 900 kg", "521 kg"):
        assert text in drawn, text


def test_figure_of_one_voltage(tmp_path):
    book = book_of(tmp_path / "one", SMALL + "neutral_conductors: 0\nearth_conductors: 1\nearth_conductor_size: 4/0 AWG\n")
    assert ">9<" in to_svg(figures.conductors_by_voltage.draw(book), "figure", "Conductors")
