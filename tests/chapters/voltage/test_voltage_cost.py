"""Laying, copper, switchgear, cost and rules of thumb against wire tables, hand calculations and numpy-financial."""

import numpy_financial
import pytest
from pytest import approx

from basis.chapters.voltage import cost as c

MM2, IN2, HOUR, YEAR = 1e-6, 0.0254**2, 3600.0, 8760 * 3600.0
C0 = 273.15   # 0 °C in K


# Copper and laying

def test_copper_mass_against_wire_tables():
    # copper wire tables (Bureau of Standards): 4/0 AWG weighs 640.5 lb per 1000 ft [read in a reproduction]; three of them here
    mass = c.generator_cable_copper_mass.run(1, 1, 304.8, 8890, 0, 107.2 * MM2, 0, 0)
    assert mass / 0.45359237 == approx(3 * 640.5, rel=1e-3)


def test_copper_mass_counts_sets_neutral_and_earth():
    # 3 sets, 7 circuits, 55 m, (4 × 300 + 150) mm², 8890 kg/m³: 1155 m × 1350e-6 m² × 8890 = 13 862 kg (hand calculation)
    assert c.generator_cable_copper_mass.run(3, 7, 55, 8890, 1, 300 * MM2, 1, 150 * MM2) == approx(13_862, abs=1)
    assert c.earth_conductor_area.run("iec-60228-copper", "150 mm²") == approx(150 * MM2)


def test_conduit_fill():
    # 3 × 500 kcmil THHN and one 1/0 AWG: 2.1219 + 0.1855 = 2.307 in²; in 2½ in tubing of 5.858 in² 39.4 %, in 2 in of 3.356 in² too much
    wire = c.cable_area.run("table", "nec-ch9-table-5-thhn", "500 kcmil", 0)
    earth = c.earth_cable_area.run("table", "nec-ch9-table-5-thhn", "1/0 AWG", 0)
    filled = c.conduit_fill_area.run("single_core", 1, 0, wire, 1, earth)
    assert filled / IN2 == approx(2.3074, abs=1e-4)
    fits, too_small = (c.conduit_area.run("nec-ch9-table-4-emt", size) for size in ("2-1/2 in", "2 in"))
    assert c.containment_fill.run("conduit", filled, fits, 0, 1) == approx(0.3939, abs=1e-4)
    assert c.containment_fill.run("conduit", filled, too_small, 0, 1) > 0.40
    assert c.conduit_fill_area.run("single_core", 2, 1, 5.0, 1, 2.0) == 44.0   # two circuits: four of 5 and one of 2 each
    assert c.conduit_fill_area.run("three_core", 2, 0, 5.0, 1, 2.0) == 14.0


def test_areas_from_the_makers_sheet():
    # π/4 × 29.0² = 660.5 mm²; π/4 × 15.0² = 176.7 mm² (hand calculation)
    assert c.cable_area.run("data_sheet", "", "", 0.029) / MM2 == approx(660.52, abs=0.01)
    assert c.earth_cable_area.run("data_sheet", "", "", 0.015) / MM2 == approx(176.71, abs=0.01)


def test_conduits_and_circuits_laid():
    # 9 conductors, 2 circuits a conduit: 5 conduits, 2 in the fullest; 9 circuits of each of 2 sets on one ladder: 18 (hand calculation)
    assert c.conduits_per_set.run(9, 2) == 5
    assert c.circuits_laid.run("conduit", 9, 5, 0) == 2
    assert c.circuits_laid.run("conduit", 9, 4, 0) == 3
    assert c.circuits_laid.run("ladder", 9, 0, 2) == 18


def test_ladder():
    # 7 trefoils of 29 mm cable: 7 × 58 = 406 mm touching, 406 + 6 × 58 = 754 mm with a gap of two diameters; 406 of 600 mm is 67.7 %
    assert c.circuit_width.run("single_core", 0.029) == approx(0.058)
    assert c.circuit_width.run("three_core", 0.056) == approx(0.056)
    assert c.ladder_width_needed.run(7, 0.058, 0) == approx(0.406)
    assert c.ladder_width_needed.run(7, 0.058, 0.058) == approx(0.754)
    assert c.containment_fill.run("ladder", 0, 1, 0.406, 0.600) == approx(0.6767, abs=1e-4)


# Switchgear

def test_bus():
    # two sets of 2958.9 A: 5917.8 A, next of the R10 series 6300 A (hand calculation)
    assert c.bus_sets.run(2) == 2
    assert c.switchgear_bus_current.run(2, 2958.9) == approx(5917.8)
    assert c.switchgear_bus_rating.run("iec-60059-bus-rating", 5917.8) == 6300
    assert c.switchgear_bus_rating.run("us-low-voltage-bus-rating", 5917.8) == 6000


# Cost

def test_first_cost():
    # hand calculations: 3·7·55·310 = 358 050; 2·3·7·420 = 17 640; 3·55·140 = 23 100; 8·34 000; 3·42 000; 3·78 000
    assert c.generator_cable_cost.run(3, 7, 55, 310) == 358_050
    assert c.termination_cost.run(3, 7, 420) == 17_640
    assert c.containment_runs.run("conduit", 2, 5, 0) == 10
    assert c.containment_runs.run("ladder", 3, 0, 2) == 2
    assert c.containment_cost.run(3, 55, 140) == 23_100
    assert c.switchgear_cost.run(8, 34_000) == 272_000
    assert c.alternator_premium_cost.run(3, 42_000) == 126_000
    assert c.transformer_cost.run("step_up", 3, 78_000) == 234_000
    assert c.transformer_cost.run("none", 3, 78_000) == 0
    assert c.voltage_first_cost.run(358_050, 17_640, 23_100, 272_000, 126_000, 234_000) == 1_030_790


def test_cable_loss_energy():
    # 2 sets × 20 kW × 0.36 × 50 h = 720 kWh (hand calculation)
    assert c.generator_cable_loss_energy.run(2, 20e3, 0.6, 50 * HOUR) / 3.6e6 == approx(720)


def test_transformer_loss_energy():
    # 1.7 kW and 17 kW × 0.6² at 1000 kVA: 7.82 kW while both run (hand calculation, usual transformer equation P0 + Pk β²);
    # all year and 50 h: 14 892 + 306 = 15 198 kWh
    run = c.transformer_loss_energy.run
    one_hour = run("step_up", 1, 1.7e3, HOUR, 17e3, 1, 1e6, 0.6, 1e6, HOUR)
    assert one_hour / 3.6e6 == approx(7.82)
    assert run("step_up", 1, 1.7e3, YEAR, 17e3, 1, 1e6, 0.6, 1e6, 50 * HOUR) / 3.6e6 == approx(15_198)
    # two transformers share two sets of 1 MVA: twice the energy; one more transformer: 3·1.7 + 3·17·(1.2/3)² = 13.26 kWh
    assert run("step_down", 2, 1.7e3, HOUR, 17e3, 2, 1e6, 0.6, 1e6, HOUR) == approx(2 * one_hour)
    assert run("step_down", 3, 1.7e3, HOUR, 17e3, 2, 1e6, 0.6, 1e6, HOUR) / 3.6e6 == approx(13.26)
    assert run("none", 3, 1.7e3, HOUR, 17e3, 2, 1e6, 0.6, 1e6, HOUR) == 0


def test_yearly_cost_of_losses():
    # (720 + 15 198) kWh × 0.20 = 3183.6 (hand calculation)
    assert c.voltage_loss_cost_yearly.run(720 * 3.6e6, 15_198 * 3.6e6, 0.20 / 3.6e6) == approx(3183.6)


@pytest.mark.parametrize(("rate", "years", "printed"), [(0.05, 20, 12.46221), (0.08, 25, 1 / 0.0936788)])
def test_annuity_against_numpy_financial(rate, years, printed):
    # compound-interest tables: 12.4622 and capital recovery 0.09368
    factor = c.voltage_annuity_factor.run(rate, years * YEAR)
    assert factor == approx(printed, rel=1e-6)
    assert factor == approx(-numpy_financial.pv(rate, years, 1), rel=1e-12)


def test_annuity_without_interest_counts_years():
    assert c.voltage_annuity_factor.run(0.0, 20 * YEAR) == approx(20)
    assert c.voltage_annuity_factor.run(2e-6, 20 * YEAR) == approx(20, rel=1e-4)


def test_growing_annuity_against_numpy_financial():
    # 10 000 a year, growth 3 %, rate 7 %, 20 years: 133 316.6; growth and rate 5 %: 190 476.2; 3 %, fall 3 %: 116 485.7; each the sum of the flows
    for rate, growth, printed in [(0.07, 0.03, 133_316.6), (0.05, 0.05, 190_476.2), (0.03, -0.03, 116_485.7)]:
        factor = c.loss_annuity_factor.run(rate, growth, 20 * YEAR)
        flows = [0] + [10_000 * (1 + growth) ** year for year in range(20)]
        assert 10_000 * factor == approx(printed, abs=0.1)
        assert 10_000 * factor == approx(numpy_financial.npv(rate, flows), rel=1e-9)
    assert c.loss_annuity_factor.run(0.05, 0.0, 20 * YEAR) == approx(12.46221, rel=1e-6)
    assert c.loss_annuity_factor.run(0.05, 0.05 - 2e-6, 20 * YEAR) == approx(20 / 1.05, rel=1e-4)   # no step where the form changes


def test_life_cost():
    # 12.4622 × 3184 = 39 680; 12.4622 × 9000 = 112 160; 1 030 790 + 39 680 + 112 160 = 1 182 630 (hand calculation)
    assert c.voltage_loss_life_cost.run(12.4622, 3184) == approx(39_680, abs=1)
    assert c.voltage_upkeep_life_cost.run(12.4622, 9000) == approx(112_160, abs=1)
    assert c.voltage_life_cost.run(1_030_790, 39_680, 112_160) == 1_182_630


# Rules of thumb

def test_rules_of_thumb():
    # common practice: a set of a little over 2 MVA is near 90 to 100 A at 13.8 kV, takes six to nine 500 kcmil a phase at 480 V, and two of them
    # a bus of 4 to 5 kA. 2.2 MVA: 92.04 A; 2646.2 A; 6.96 -> 7; 430·0.91·0.8 = 313.04, 8.45 -> 9; 2·2646.2·0.9 = 4763 A (hand calculation)
    assert c.reference_medium_voltage_current.run(2.2e6, 13_800) == approx(92.04, abs=0.01)
    low = c.reference_low_voltage_current.run(2.2e6, 480)
    assert low == approx(2646.2, abs=0.1)
    assert c.reference_conductors_cool.run(low, "500 kcmil") == 7
    assert c.reference_conductors_hot.run(low, "500 kcmil", 40 + C0, 6) == 9
    assert c.reference_conductors_hot.run(low, "500 kcmil", 30 + C0, 3) == 7   # not hot, not grouped: held by the terminals
    assert c.reference_conductors_cool.run(383 * 7, "500 kcmil") == 8          # 75 °C column, not 90 °C
    assert c.reference_bus_current.run(2, low, 0.9) == approx(4763, abs=1)
