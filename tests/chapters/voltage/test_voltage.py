"""Currents, conductors, short circuit and impedance against code examples, hand calculations, pandapower and scipy."""

import math

import numpy as np
import pandapower
import pytest
from pytest import approx
from scipy.special import jv

from basis.chapters.voltage import chapter as v

KFT, MM2 = 304.8, 1e-6
C0, T0 = 273.15, 38.65   # 0 °C and copper's zero-resistance temperature, −234.5 °C, in K


# Current

@pytest.mark.parametrize(("volts", "amperes"), [(400, 2886.8), (480, 2405.6), (600, 1924.5), (4160, 277.6), (11_000, 105.0), (13_800, 83.67)])
def test_rated_current(volts, amperes):
    # 2000 kVA / (√3 U), hand calculation
    assert v.set_rated_current.run(2e6, volts) == approx(amperes, rel=5e-4)


def test_rated_current_falls_with_voltage():
    assert v.set_rated_current.run(2e6, 800) == approx(v.set_rated_current.run(2e6, 400) / 2)


def test_cable_current():
    # NFPA 70, 445.13: 115 % of 2405.6 A is 2766.4 A; exception: 100 %
    assert v.generator_cable_current.run(1.15, 2405.6) == approx(2766.44, abs=0.01)
    assert v.generator_cable_current.run(1.0, 2405.6) == 2405.6


# Ampacity

def conductors(need, table_id, size, ambient, grouped=1, rule="formula", ambient_table="", termination="", counts="conductors", grouping="nec-310-15-c1"):
    """(capacity of one conductor, conductors per phase) by the formulas of the chapter, one after the other."""
    hot, base = v.conductor_temperature.run(table_id, size), v.ampacity_reference_temperature.run(table_id, size)
    ambient_factor = v.ambient_factor.run(rule, ambient_table, ambient + C0, hot, base)
    grouping_factor = v.grouping_factor.run(counts, grouping, v.grouping_count.run(counts, grouped, 3))
    derated = v.derated_ampacity.run(v.tabulated_ampacity.run(table_id, size), ambient_factor, grouping_factor)
    if termination:
        capacity = v.conductor_capacity.run("termination_table", derated, v.termination_ampacity.run(termination, size))
    else:
        capacity = v.conductor_capacity.run("not_limiting", derated, math.nan)
    return capacity, v.conductors_per_phase_needed.run(need, capacity)


NEC_LV = {"table_id": "nec-310-16-copper-90", "size": "500 kcmil", "rule": "table", "ambient_table": "nec-310-15-b1-90", "termination": "nec-310-16-copper-75"}


def test_conductors_cool_and_alone():
    # 2000 kVA, 480 V, 115 %: 2766.5 A; 30 °C, one circuit a conduit: 430 A held to 380 A by 75 °C terminals; 7.28, so 8 (hand calculation)
    capacity, needed = conductors(2766.5, ambient=30, **NEC_LV)
    assert (capacity, needed) == (380, 8)
    assert v.generator_cable_capacity.run(needed, capacity) == 3040


def test_conductors_hot_and_grouped():
    # the same at 40 °C with six conductors in each conduit: 430 × 0.91 × 0.80 = 313.04 A; 8.84, so 9 (hand calculation)
    capacity, needed = conductors(2766.5, ambient=40, grouped=2, **NEC_LV)
    assert (round(capacity, 2), needed) == (313.04, 9)


def test_conductors_hot_and_alone_are_held_by_terminals():
    # 430 × 0.91 = 391.3 A, above 380 A of the 75 °C column: 380 A, 8 (hand calculation)
    assert conductors(2766.5, ambient=40, **NEC_LV) == (380, 8)


def test_medium_voltage_conductors_by_nec():
    # 3000 kVA, 13.8 kV, 115 % = 144.3 A, Table 310.60(C)(73): 40 °C 2 AWG 150 A is enough; 50 °C × √(40/50) 134.2 A is not, 1 AWG 152.1 A is
    need = v.generator_cable_current.run(1.15, v.set_rated_current.run(3e6, 13_800))
    assert need == approx(144.3, abs=0.05)
    assert conductors(need, "nec-310-60-c73-35kv", "2 AWG", 40) == (150, 1)
    assert conductors(need, "nec-310-60-c73-35kv", "2 AWG", 50) == (approx(134.2, abs=0.05), 2)
    assert conductors(need, "nec-310-60-c73-35kv", "1 AWG", 50) == (approx(152.1, abs=0.05), 1)


def test_medium_voltage_conductors_in_parallel():
    # 2500 kVA, 4.16 kV, 115 % = 399.0 A: one 500 kcmil in conduit (475 A) or duct (470 A), 350 kcmil (385 A) is too small; two 2/0 AWG of 205 A
    need = v.generator_cable_current.run(1.15, v.set_rated_current.run(2.5e6, 4160))
    assert need == approx(399.0, abs=0.05)
    assert conductors(need, "nec-310-60-c73-5kv", "500 kcmil", 40) == (475, 1)
    assert conductors(need, "nec-310-60-c77-5kv", "500 kcmil", 20) == (470, 1)
    assert conductors(need, "nec-310-60-c77-5kv", "350 kcmil", 20) == (385, 2)
    assert conductors(need, "nec-310-60-c73-5kv", "2/0 AWG", 40) == (205, 2)


@pytest.mark.parametrize(("table_id", "size", "ambient", "capacity"), [
    # 3000 kVA, 11 kV: 181.1 A needed. IEC 60502-2 tables, factor √((90 − T)/60) in air (hand calculation)
    ("iec-60502-2-b6-three-core-air", "50 mm²", 30, 204.0), ("iec-60502-2-b6-three-core-air", "70 mm²", 45, 219.1),
    ("iec-60502-2-b2-trefoil-air", "50 mm²", 45, 206.1), ("iec-60502-2-b6-three-core-duct", "70 mm²", 20, 193.0)])
def test_medium_voltage_conductors_by_iec(table_id, size, ambient, capacity):
    need = v.generator_cable_current.run(1.15, v.set_rated_current.run(3e6, 11_000))
    assert need == approx(181.1, abs=0.05)
    found = conductors(need, table_id, size, ambient, counts="circuits", grouping="iec-60364-5-52-b52-17-ladder")
    assert found == (approx(capacity, abs=0.1), 1)


def test_ambient_formula_reproduces_the_printed_factors():
    # NFPA 70 Table 310.15(B)(1), both columns, from 25 °C up [read]; printed to two places
    for column, hot in [("nec-310-15-b1-75", 75), ("nec-310-15-b1-90", 90)]:
        for celsius in range(25, 66, 5):
            printed = v.ambient_factor.run("table", column, celsius + C0, math.nan, math.nan)
            assert v.ambient_factor.run("formula", "", celsius + C0, hot + C0, 30 + C0) == approx(printed, abs=0.0075)


def test_ambient_table_is_read_at_the_next_band_up():
    # 310.15(B)(1): 36 to 40 °C is one band, 0.91
    assert v.ambient_factor.run("table", "nec-310-15-b1-90", 36.0 + C0, 0, 0) == 0.91
    assert v.ambient_factor.run("table", "nec-310-15-b1-90", 34.0 + C0, 0, 0) == 0.96


def test_grouping_counts_what_its_table_counts():
    # two circuits of three: six conductors in NFPA 70 Table 310.15(C)(1), 0.80; two circuits in IEC 60364-5-52 B.52.17, 0.80
    assert v.grouping_count.run("conductors", 2, 3) == 6
    assert v.grouping_count.run("conductors", 2, 4) == 8
    assert v.grouping_count.run("circuits", 2, 3) == 2
    assert v.grouping_factor.run("conductors", "nec-310-15-c1", 6) == v.grouping_factor.run("circuits", "iec-60364-5-52-b52-17-bunched", 2) == 0.80


def test_installed_conductors_follow_the_need():
    assert v.conductors_per_phase.run(8) == 8


def test_least_size():
    # NFPA 70, 310.10(H): parallel conductors not smaller than 1/0 AWG, 53.49 mm² [read in a reproduction]; 15 kV cable not smaller than 2 AWG [from memory]
    assert v.conductor_area_least.run("nec-310-106-least-size", 480.0, 2) == approx(53.49 * MM2)
    assert v.conductor_area_least.run("nec-310-106-least-size", 480.0, 1) == approx(2.08 * MM2)
    assert v.conductor_area_least.run("nec-310-106-least-size", 13_800.0, 1) == approx(33.62 * MM2)
    assert v.conductor_area.run("nec-ch9-table-8-copper", "1/0 AWG") == approx(53.49 * MM2)


# Short circuit

@pytest.mark.parametrize(("warm", "hot", "k"), [(90, 250, 143.1), (70, 160, 115.0)])
def test_short_circuit_factor(warm, hot, k):
    # IEC 60949: 226 √ln((θf + 234.5)/(θi + 234.5)); IEC 60364-5-54 prints 143 for XLPE and 115 for PVC copper
    assert v.short_circuit_factor.run(226 / MM2, hot + C0, warm + C0, T0) * MM2 == approx(k, abs=0.06)


def test_withstand_against_least_area():
    # 25 kA for 0.5 s at k 143 needs 123.6 mm²; 20 kA for 0.2 s needs 62.5 mm² (hand calculation, S = I√t/k)
    assert v.short_circuit_withstand.run(143 / MM2, 123.6 * MM2, 0.5) == approx(25e3, rel=1e-3)
    assert v.short_circuit_withstand.run(143 / MM2, 62.5 * MM2, 0.2) == approx(20e3, rel=1e-3)


def test_withstand_against_the_american_rule():
    # ICEA P-32-382, 90 to 250 °C: I = 0.07195 A/√t with A in circular mils [read in a reproduction]; its constants differ by under 1 %
    k = v.short_circuit_factor.run(226 / MM2, 250 + C0, 90 + C0, T0)
    assert v.short_circuit_withstand.run(k, 500 * 0.506707 * MM2, 0.5) == approx(0.07195 * 500_000 / math.sqrt(0.5), rel=1e-2)


# Impedance

def test_operating_temperature():
    # 40 °C, 90 °C at 391.3 A, 2405.6 A in 8: 300.7 A; (300.7/391.3)² = 0.59053; 40 + 29.53 = 69.53 °C (hand calculation)
    run = v.conductor_operating_temperature.run
    assert run(40 + C0, 90 + C0, 2405.6, 8, 391.3) == approx(69.53 + C0, abs=0.01)
    assert run(40 + C0, 90 + C0, 391.3, 1, 391.3) == approx(90 + C0)   # at its ampacity a conductor is as hot as the table says
    assert run(40 + C0, 90 + C0, 0.0, 1, 391.3) == 40 + C0


def test_dc_resistance_at_temperature():
    # IEC 60228: 0.0601 Ω/km × (234.5 + 90)/254.5 = 0.07663 Ω/km (hand calculation)
    assert v.conductor_dc_resistance.run("iec-60228-copper", "300 mm²", 90 + C0, T0) * 1000 == approx(0.07663, abs=5e-6)
    assert v.conductor_dc_resistance.run("iec-60228-copper", "300 mm²", 20 + C0, T0) * 1000 == approx(0.0601)


@pytest.mark.parametrize(("mm2", "frequency"), [(120, 60), (300, 50), (630, 60), (1000, 60)])
def test_skin_effect_against_the_exact_solution(mm2, frequency):
    # exact field in a round wire: R/R0 = Re[(ka/2) J0(ka)/J1(ka)], k² = −jωμσ, with Bessel functions of scipy
    conductivity, mu = 58e6 * 254.5 / 324.5, 4e-7 * math.pi
    radius = math.sqrt(mm2 * MM2 / math.pi)
    ka = np.sqrt(-1j * 2 * math.pi * frequency * mu * conductivity) * radius
    exact = (ka / 2 * jv(0, ka) / jv(1, ka)).real
    assert v.skin_effect_factor.run(frequency, mu, 1 / (conductivity * mm2 * MM2)) == approx(exact, rel=8e-4)   # the standard holds its series good to x = 2.8
    assert exact > 1.001


def test_resistance_by_conduit_table_and_by_conductor():
    # NFPA 70 Chapter 9 Table 9: 0.027 Ω/kft at 75 °C; at 69.5 °C × (234.5 + 69.5)/309.5 = 0.026520 (hand calculation)
    assert v.conductor_resistance.run("conduit_table", "nec-ch9-table-9-copper-pvc", "500 kcmil", 69.5 + C0, T0, 0, 0) * KFT == approx(0.02652, abs=5e-6)
    assert v.conductor_resistance.run("conductor_and_spacing", "", "", 0, T0, 7.66e-5, 1.014) == approx(7.767e-5, rel=1e-3)


def test_reactance():
    # Chapter 9 Table 9: 0.039 Ω/kft at 60 Hz, so 0.0325 at 50 Hz. Cable handbooks: L = 0.05 + 0.2 ln(2s/d) mH/km for trefoil [from memory]:
    # s 30 mm, d 21 mm: 0.25996 mH/km, 0.08167 Ω/km at 50 Hz
    mu = 1.25663706e-6
    assert v.conductor_reactance.run("conduit_table", "nec-ch9-table-9-copper-pvc", "500 kcmil", 60, mu, 0, 1) * KFT == approx(0.039)
    assert v.conductor_reactance.run("conduit_table", "nec-ch9-table-9-copper-pvc", "500 kcmil", 50, mu, 0, 1) * KFT == approx(0.0325)
    assert v.conductor_reactance.run("conductor_and_spacing", "", "", 50, mu, 0.030, 0.021) * 1000 == approx(0.08167, abs=5e-6)


def test_voltage_drop_and_loss_by_nec_table():
    # 2405.6 A, 8 × 500 kcmil in PVC, 150 ft, 0.8: √3·300.7·0.15·(0.027·0.8 + 0.039·0.6) = 3.516 V, 0.73 %; 3·2405.6²·0.027·0.15/8 = 8.789 kW
    r, x, feet = 0.027 / KFT, 0.039 / KFT, 150 * 0.3048
    drop = v.generator_cable_voltage_drop.run(2405.6, 8, feet, r, x, 0.8, "lagging")
    assert drop == approx(3.516, abs=1e-3)
    assert v.generator_cable_voltage_drop_ratio.run(drop, 480) == approx(0.007324, abs=1e-6)
    assert v.generator_cable_loss.run(2405.6, 8, r, feet) == approx(8789, abs=1)


def test_voltage_drop_by_iec_cable():
    # 1804.2 A, 400 V, 5 × 300 mm² at 90 °C, 0.07663 and 0.08 Ω/km, 40 m, 0.8: 2.733 V, 0.68 % (hand calculation)
    r = v.conductor_dc_resistance.run("iec-60228-copper", "300 mm²", 90 + C0, T0)
    drop = v.generator_cable_voltage_drop.run(1804.2, 5, 40, r, 0.08e-3, 0.8, "lagging")
    assert drop == approx(2.733, abs=1e-3)
    # reactance has no part at unity
    assert v.generator_cable_voltage_drop.run(1804.2, 5, 40, r, 0.08e-3, 1.0, "lagging") == approx(drop * 0.07663 / 0.10930, rel=1e-3)


def test_a_leading_load_takes_from_the_drop():
    # the same at 0.8 leading: 25.000·(0.07663·0.8 − 0.08·0.6) = 0.3326 V (hand calculation)
    assert v.generator_cable_voltage_drop.run(1804.2, 5, 40, 0.07663e-3, 0.08e-3, 0.8, "leading") == approx(0.3326, abs=1e-4)
    assert v.generator_cable_voltage_drop_ratio.run(-2.0, 400) == approx(0.005)


def test_drop_and_loss_against_pandapower():
    # a power flow of the whole cable; the drop formula leaves out the part across the voltage, the loss formula nothing
    net = pandapower.create_empty_network(f_hz=60)
    source, load = (pandapower.create_bus(net, 0.48) for _ in range(2))
    pandapower.create_ext_grid(net, source)
    pandapower.create_line_from_parameters(net, source, load, 0.04572, 0.0886, 0.128, 0, 10, parallel=8)
    pandapower.create_load(net, load, 1.6, 1.2)
    pandapower.runpp(net, tolerance_mva=1e-10)
    current = net.res_line.i_to_ka[0] * 1e3
    drop = v.generator_cable_voltage_drop.run(current, 8, 45.72, 0.0886e-3, 0.128e-3, 0.8, "lagging")
    assert drop == approx((1 - net.res_bus.vm_pu[load]) * 480, rel=2e-3)
    assert v.generator_cable_loss.run(current, 8, 0.0886e-3, 45.72) == approx(net.res_line.pl_mw[0] * 1e6, rel=1e-4)


def test_loss_falls_with_the_square_of_voltage():
    low, high = (v.generator_cable_loss.run(v.set_rated_current.run(2e6, volts), 1, 1e-4, 50) for volts in (480, 4800))
    assert low == approx(100 * high)
