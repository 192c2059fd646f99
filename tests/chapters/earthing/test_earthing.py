"""Earthing against figures from outside: checks of a separate script, hand calculations, numpy's symmetrical components."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from axes import over
from pytest import approx

from basis.chapters.earthing import chapter as e
from basis.chapters.earthing import conductors as k
from basis.language.faults import OutOfTable
from basis.language.table import table
from basis.language.units import from_si
from basis.reading.project import read
from basis.solving.solve import solve

PROJECTS = Path(__file__).parents[3] / "projects"
C0, T0 = 273.15, 38.65  # 0 °C and copper's zero-resistance temperature in K
# 2.5 MVA, 4.16 kV, x1 0.15, x2 0.17, x0 0.05: phase voltage 2401.8 V, base 6.9222 Ω
PHASE, BASE = 4160 / math.sqrt(3), 4160**2 / 2.5e6
X1, X2, X0 = 0.15 * BASE, 0.17 * BASE, 0.05 * BASE


# Tables

def test_classes_of_neutral_earthing():
    # low resistance 100 to 1000 A, high resistance up to 10 A [read in a reproduction]
    cells = table("neutral-earthing-class")
    assert [cells.value(column, word) for word in ("low_resistance", "high_resistance") for column in ("current_min", "current_max")] == [100, 1000, 0, 10]
    with pytest.raises(OutOfTable):
        cells.value("current_max", "solid")


def test_permissible_touch_voltage():
    # EN 50522 [from memory]: 0.05 s 716 V, 0.5 s 220 V, 1 s 117 V, 10 s 85 V; halfway between 0.5 and 1 s 168.5 V
    assert [k.touch_voltage_permissible.run(t) for t in (0.05, 0.5, 1.0, 10.0, 86_400.0)] == approx([716, 220, 117, 85, 85])
    assert k.touch_voltage_permissible.run(0.75) == approx(168.5)
    assert k.earth_potential_rise_max.run(220.0) == 440
    with pytest.raises(OutOfTable):
        k.touch_voltage_permissible.run(0.01)


# Star points

def test_bases():
    # 13.8 kV: 7967.4 V; 4.16 kV and 2.5 MVA: 6.9222 Ω (hand calculation)
    assert e.phase_voltage.run(13_800.0) == approx(7967.4, abs=0.05)
    assert e.alternator_base_impedance.run(4160.0, 2.5e6) == approx(6.9222, abs=1e-4)


def test_which_neutrals_are_closed():
    running = 3.0
    assert [e.neutrals_in_parallel.run(word, running) for word in ("one_set", "common_bar", "each_set", "at_supply")] == [1, 3, 3, 3]
    assert [e.earthed_sets.run(word, running) for word in ("one_set", "common_bar", "each_set", "at_supply")] == [1, 1, 3, 0]
    assert e.neutral_bonds.run(1.0, "joined") == 2 and e.neutral_bonds.run(1.0, "switched") == 1 and e.neutral_bonds.run(0.0, "joined") == 1


# Earth fault

def test_earth_fault_of_one_set():
    # 2.5 MVA, 4.16 kV, 0.15, 0.17, 0.05 [separate script]: solid 2813 A, 8.11 against 6.67 times rated; with 6.004 Ω 396.0 A
    assert e.positive_reactance.run(0.15, BASE, 1.0) == approx(X1) and e.negative_reactance.run(0.17, BASE, 1.0) == approx(X2) and e.zero_reactance.run(0.05,
        BASE, 1.0) == approx(X0)
    assert e.solid_earth_fault_current.run(PHASE, X1, X2, X0) == approx(2813, rel=1e-3)
    assert e.three_phase_terminal_current.run(PHASE, X1) == approx(2313.1, rel=1e-4)
    rated = 2.5e6 / (math.sqrt(3) * 4160)
    assert e.solid_earth_fault_current.run(PHASE, X1, X2, X0) / rated == approx(8.11, abs=0.005)
    assert e.three_phase_terminal_current.run(PHASE, X1) / rated == approx(6.67, abs=0.005)
    assert e.solid_earth_fault_ratio.run(2813.0, 2313.1) == approx(1.2161, rel=1e-4)
    assert e.earth_fault_current.run(PHASE, X1, X2, X0, "one_set", 6.004, 1.0) == approx(396.0, abs=0.1)


def test_earth_fault_by_phase_quantities():
    # the same fault solved in phase quantities by numpy: source behind a circulant impedance matrix, phase a through the resistor to earth
    turn = np.exp(2j * math.pi / 3)
    matrix = np.array([[1, 1, 1], [1, turn**2, turn], [1, turn, turn**2]])
    phases = matrix @ np.diag([1j * X0 + 3 * 6.004, 1j * X1, 1j * X2]) @ np.linalg.inv(matrix)
    assert abs(PHASE / phases[0, 0]) == approx(e.earth_fault_current.run(PHASE, X1, X2, X0, "one_set", 6.004, 1.0), rel=1e-9)


def test_sets_in_parallel():
    # three sets, reactances to a third: without resistance three times the current where all neutrals are closed (hand calculation)
    third = [e.positive_reactance.run(0.15, BASE, 3.0), e.negative_reactance.run(0.17, BASE, 3.0)]
    assert third == approx([X1 / 3, X2 / 3])
    assert e.solid_earth_fault_current.run(PHASE, *third, e.zero_reactance.run(0.05, BASE, 3.0)) == approx(3 * 2813, rel=1e-3)
    # one neutral closed: 3 × 2401.8 / (0.32/3 + 0.05) / 6.9222 = 6644.5 A (hand calculation)
    assert e.solid_earth_fault_current.run(PHASE, *third, e.zero_reactance.run(0.05, BASE, 1.0)) == approx(6644.5, rel=1e-4)
    # a resistor of 60 Ω in each of three neutrals acts as one of 20 Ω
    each, one = (e.earth_fault_current.run(PHASE, *third, X0 / 3, word, ohms, 3.0) for word, ohms in (("each_set", 60.0), ("common_bar", 20.0)))
    assert each == approx(one) and one == approx(3 * PHASE / math.hypot((X1 + X2 + X0) / 3, 60), rel=1e-9)


def test_more_resistance_lets_less_through():
    found = [e.earth_fault_current.run(PHASE, X1, X2, X0, "one_set", ohms, 1.0) for ohms in (0.0, 5.0, 50.0, 500.0)]
    assert found == sorted(found, reverse=True) and found[0] == approx(e.solid_earth_fault_current.run(PHASE, X1, X2, X0))


def test_resistor():
    # 13.8 kV, 400 A, 10 s: 19.92 Ω, 3187 kW, 31.87 MJ; 11 kV, 100 A: 63.51 Ω; 480 V, charging current 0.5 A: up to 554 Ω [separate script]
    assert e.neutral_resistance.run("low_resistance", 7967.4, 400.0) == approx(19.92, abs=0.005)
    assert e.neutral_resistor_power.run(7967.4, 400.0) == approx(3187e3, rel=2e-4)
    assert e.neutral_resistor_energy.run(3187e3, 10.0) == approx(31.87e6)
    assert e.neutral_resistance.run("low_resistance", 11_000 / math.sqrt(3), 100.0) == approx(63.51, abs=0.005)
    assert e.neutral_resistance.run("high_resistance", 480 / math.sqrt(3), 0.5) == approx(554, abs=0.5)
    assert e.neutral_resistance.run("solid", 7967.4, math.nan) == 0


def test_earthing_transformer():
    # 13.8 kV, 8 A, 240 V: R 995.9 Ω, ratio 33.198, 0.904 Ω on the secondary [separate script], 63.74 kVA (hand calculation)
    assert e.neutral_resistance.run("high_resistance", 7967.4, 8.0) == approx(995.9, abs=0.05)
    assert e.neutral_transformer_ratio.run(7967.4, 240.0) == approx(33.198, abs=0.001)
    assert e.neutral_secondary_resistance.run(995.9, 33.198) == approx(0.904, abs=5e-4)
    assert e.neutral_transformer_power.run(7967.4, 8.0) == approx(63.74e3, rel=1e-4)


def test_limits_by_class():
    assert e.earth_fault_current_max.run("low_resistance", 2313.0) == 1000 and e.earth_fault_current_max.run("high_resistance", 2313.0) == 10
    assert e.earth_fault_current_max.run("solid", 2313.0) == 2313
    assert e.earth_fault_time_max.run("solid", 5.0, 10.0) == 5 and e.earth_fault_time_max.run("low_resistance", 5.0, 10.0) == 10


# Charging current

def test_charging_current():
    # √3 ω C U: 1.0 µF 13.8 kV 60 Hz 9.01 A; 0.8 µF 11 kV 50 Hz 4.79 A [separate script]
    assert e.charging_current.run(60.0, 1.0e-6, 13_800.0) == approx(9.01, abs=0.005)
    assert e.charging_current.run(50.0, 0.8e-6, 11_000.0) == approx(4.79, abs=0.005)
    # three phases in health carry it too: 3 × ω C × phase voltage (hand calculation)
    assert e.charging_current.run(60.0, 1.0e-6, 13_800.0) == approx(3 * 2 * math.pi * 60 * 1e-6 * 13_800 / math.sqrt(3))


def test_capacitance():
    # 0.3 µF/km × 0.5 km = 0.15 µF; three of 0.2 and two of 0.15 µF are 0.9 µF (hand calculation)
    assert e.capacitance_each.run(0.3e-9, 500.0) == approx(0.15e-6)
    assert e.network_capacitance.run(np.array([3.0, 2.0]), np.array([0.2e-6, 0.15e-6])) == approx(0.9e-6)


def test_charging_current_allowed():
    faults = np.array([900.0, 600.0])
    assert e.charging_current_allowed.run("solid", faults, math.nan) == 600
    assert e.charging_current_allowed.run("low_resistance", faults, 200.0) == 200
    assert e.charging_current_allowed.run("high_resistance", faults, 5.0) == 5
    assert e.charging_current_allowed.run("high_resistance", faults, 14.0) == 10  # beyond ten amperes a high resistance does not suit


# Neutrals in parallel

def test_pitch_factor():
    # sin(3 y π/2): two thirds 0, five sixths 0.7071, full 1, four fifths 0.5878 (textbooks on machines; hand calculation)
    assert [e.third_harmonic_pitch_factor.run(pitch) for pitch in (2 / 3, 5 / 6, 1.0, 0.8)] == approx([0, 0.70711, 1, 0.58779], abs=1e-5)


def test_third_harmonic_current():
    # per phase 0.05 U_ph against 3 × 0.05 twice, three phases: 0.05/(6 × 0.05) × 3 = half of rated current U_ph/Z_G (hand calculation)
    rated = PHASE / BASE
    assert e.third_harmonic_current.run(0.05, 1.0, PHASE, 0.05, BASE, 2.0) == approx(rated / 2)
    assert e.third_harmonic_current.run(0.05, 1.0, PHASE, 0.05, BASE, 4.0) == approx(rated * 3 / 4)
    assert e.third_harmonic_current.run(0.05, 1.0, PHASE, 0.05, BASE, 1.0) == 0
    assert e.third_harmonic_ratio.run(173.5, 347.0) == approx(0.5)


def test_third_harmonic_current_by_nodes():
    # four sets between two nodes, solved by numpy: one source 0.04 U_ph, zero-sequence reactance 0.06 × 3 each; the neutral carries three phases
    admittance = 1 / (1j * 3 * 0.06 * BASE)
    across = 0.04 * 0.8 * PHASE * admittance / (4 * admittance)
    neutral = 3 * abs((0.04 * 0.8 * PHASE - across) * admittance)
    assert e.third_harmonic_current.run(0.04, 0.8, PHASE, 0.06, BASE, 4.0) == approx(neutral)


# Protective conductors and electrode

def test_protective_factor():
    # IEC 60364-5-54, Annex A [from memory]: copper from 30 °C, PVC to 160 °C 143, XLPE to 250 °C 176; bare to 200 °C 159
    found = [k.protective_factor.run(226e6, hot + C0, 30 + C0, T0) / 1e6 for hot in (160, 250, 200)]
    assert found == approx([143, 176, 159], abs=0.5)


def test_protective_area():
    # 25 kA, 0.5 s, 143 → 123.6 mm²; 20 kA, 0.2 s → 62.5 mm² [separate script]
    assert from_si(k.protective_area_needed.run(25e3, 0.5, 143e6), "mm^2") == approx(123.6, abs=0.05)
    assert from_si(k.protective_area_needed.run(20e3, 0.2, 143e6), "mm^2") == approx(62.5, abs=0.06)
    assert from_si(k.protective_conductor_area.run("iec-60228-copper", "95 mm²"), "mm^2") == approx(95)
    assert from_si(k.protective_conductor_total_area.run(95e-6, 2.0), "mm^2") == approx(190)


def test_protective_conductor_follows_the_sets_unless_told():
    assert k.protective_conductor_current.run(np.array([200.0, 199.0])) == 200 and k.protective_conductor_time.run(0.5) == 0.5


def rise(voltage, reactances, neutral, share, electrode, far=0.0, closed="one_set", sets=1.0):
    currents = k.outlying_fault_current.run(voltage / math.sqrt(3), *reactances, closed, neutral, sets, share, electrode, far)
    return currents, k.earth_potential_rise.run(np.array([currents]), share, electrode)


def test_earth_potential():
    # 200 A, a tenth through soil, 2 Ω: 40 V (hand calculation)
    assert k.earth_potential_rise.run(np.array([200.0, 150.0]), 0.1, 2.0) == approx(40)


def test_rise_of_earth_potential_stays_below_the_voltage_that_drives_it():
    # 480 V, machines of 0.03, 0.02 and 0.01 Ω, a fault at whose terminals is 13.9 kA: 277.1 V over √(2² + 0.02²) Ω is 138.6 A and 277.1 V (hand calculation)
    assert rise(480.0, (0.03, 0.02, 0.01), 0.0, 1.0, 2.0) == approx((138.56, 277.1), abs=0.05)
    # with 2 Ω at the fault as well the two electrodes share the voltage (hand calculation)
    assert rise(480.0, (0.03, 0.02, 0.01), 0.0, 1.0, 2.0, far=2.0)[1] == approx(138.6, abs=0.05)
    for share, electrode in ((1.0, 500.0), (0.5, 4.0), (0.01, 0.5)):
        assert rise(480.0, (0.03, 0.02, 0.01), 0.0, share, electrode)[1] <= 480 / math.sqrt(3)


def test_earth_fault_through_soil_by_sequence_networks():
    # sequence networks in series, solved with complex numbers: 11 kV, 31.75 Ω in each of two neutrals, a third of the current through 1.4 + 3 Ω
    reactances, share = (1.1, 1.3, 0.4), 1 / 3
    neutral = 31.75 / 2 + share * 4.4
    expected = 3 * 11e3 / math.sqrt(3) / abs(1j * sum(reactances) + 3 * neutral)
    assert rise(11e3, reactances, 31.75, share, 1.4, far=3.0, closed="each_set", sets=2.0) == approx((expected, expected * share * 1.4))


def test_rise_fed_by_the_network():
    # 11 kV and 1000 A declared, 2 Ω: 6351 V over √(2² + 6.351²) Ω is 953.8 A, 1908 V (hand calculation); with 200 Ω all but the phase voltage is left
    assert over(k.network_voltage, infeed_bus=np.array([1, 0]), bus_voltage=np.array([400.0, 11e3])) == 11e3
    assert k.network_earth_potential_rise.run(11e3, 1000.0, 1.0, 2.0) == approx(1907.6, abs=0.1)
    assert k.network_earth_potential_rise.run(11e3, 1000.0, 0.35, 2.0) == approx(700 / math.hypot(1, 0.7e3 / 6350.9), abs=0.1)
    assert 6300 < k.network_earth_potential_rise.run(11e3, 1000.0, 1.0, 200.0) < 11e3 / math.sqrt(3)
    assert k.network_earth_potential_rise_max.run(0.5) == 440  # EN 50522 [from memory]: twice 220 V


# Demo plants

@pytest.fixture(scope="module")
def plants():
    """Books of the demo projects with this chapter on, every option of the generating voltage."""
    found = {}
    for slug in ("larkmere-hospital", "high-tarn-waterworks", "cobble-key-exchange"):
        book = solve(replace(read(PROJECTS / slug), chapters=("plant", "loads", "voltage", "short_circuit", "earthing")))
        options = {option: one for (decision, option), one in book.options.items() if decision == "generating_voltage_choice"}
        found |= {f"{slug} {option}": one for option, one in options.items()} or {slug: book}
    return found


def test_larkmere_at_medium_voltage(plants):
    # 11 kV, 200 A: 31.754 Ω; capacitance 3 × 0.22 + 3 × 0.055 × 0.31 + 2.6 × 0.37 + 3 × 0.13 = 2.0632 µF; √3 × 314.16 × 2.0632e-6 × 11000 = 12.349 A
    # (hand calculation)
    book = plants["larkmere-hospital medium_voltage"]
    assert book["neutral_resistance"].number == approx(31.754, abs=1e-3)
    assert book["network_capacitance"].number == approx(2.0632e-6, rel=1e-4)
    assert book["charging_current"].number == approx(12.349, abs=2e-3)
    assert book["earth_fault_current"].number == approx([200, 200], rel=6e-3)
    # 31.754 Ω and 35 % of 1.4 Ω in series: 6350.9 V / 32.244 Ω = 197.0 A; × 35 % × 1.4 Ω = 96.5 V (hand calculation, reactances left out)
    assert book["earth_potential_rise"].number == approx(96.5, rel=6e-3)
    assert book.check("network_earth_potential_ok").word == "holds"


def test_a_network_with_its_own_neutral_lifts_nothing(plants):
    verdict = plants["high-tarn-waterworks low_voltage"].check("network_earth_potential_ok")
    assert (verdict.word, [choice.id for choice in verdict.beside]) == ("nothing to check", ["network_earth_return"])


def test_larkmere_at_low_voltage_strains_its_windings(plants):
    # 0.11 / (0.11 + 0.13 + 0.04) × 3 = 1.1786 (hand calculation)
    book = plants["larkmere-hospital low_voltage"]
    assert book["solid_earth_fault_ratio"].number == approx([1.1786, 1.1786], rel=1e-4)
    assert book.check("earth_fault_current_ok").word == "fails" and book.check("earth_fault_current_ok").remark


def test_neutral_is_earthed_once_in_every_plant(plants):
    for book in plants.values():
        assert book.check("neutral_earthed").word == book.check("neutral_earthed_once").word == "holds"


def test_every_failing_or_tight_check_has_a_remark(plants):
    for book in plants.values():
        for verdict in book.checks:
            if verdict.check.module.startswith("basis.chapters.earthing") and verdict.word in ("fails", "tight"):
                assert verdict.remark, (book.project.slug, verdict.check.id)


def test_a_second_earth_is_found(tmp_path):
    project = read(PROJECTS / "high-tarn-waterworks")
    givens = {key: replace(given, data="joined") if key[0] == "supply_neutral" else given for key, given in project.givens.items()}
    book = solve(replace(project, chapters=("plant", "loads", "voltage", "earthing"), givens=givens))
    assert book.check("neutral_earthed_once").word == "fails" and book["neutral_bonds.both"].number == 2


def test_without_capacitances_the_charging_current_is_not_known(plants):
    book = plants["cobble-key-exchange"]
    assert "capacitance_items" in book.undecided["charging_current"]  # the list as a whole is missing
    assert book.check("charging_covered").word == "nothing to check"  # solid: nothing in the neutral holds the charging current back


def test_formulas_over_their_axes():
    found = over(e.earth_fault_current, phase_voltage=PHASE, positive_reactance=[X1, X1 / 2], negative_reactance=[X2, X2 / 2], zero_reactance=[X0, X0],
                 neutral_closed="one_set",
                 neutral_resistance=6.004, running_sets=[1.0, 2.0])
    assert found[0] == approx(396.0, abs=0.1) and found[1] > found[0]


def test_the_figure_draws_what_is_given(plants):
    from basis.site.figures.earthing import earth_currents

    bars = earth_currents.draw(plants["larkmere-hospital medium_voltage"]).axes[0].patches
    assert [bar.get_width() for bar in bars] == approx([2934, 2690, 199.4, 40, 12.35], rel=1e-3)
    assert len(earth_currents.draw(plants["cobble-key-exchange"]).axes[0].patches) == 3  # no relay, no capacitance
