"""Cables as installed: rows of tables, current, capacity, drop and short circuit against code examples, hand calculations, pandapower and scipy."""

import math

import numpy as np
import pandapower
import pytest
from axes import over
from pytest import approx
from scipy.optimize import brentq
from scipy.special import jv

from basis.chapters.cables import agreement
from basis.chapters.cables import chapter as c
from basis.chapters.cables import fault as f
from basis.chapters.loads import chapter as loads
from basis.language.faults import ItemTroubles
from basis.language.table import families, table

KFT, MM2, KCMIL, C0 = 304.8, 1e-6, 5.067074790974977e-7, 273.15
COPPER, ALUMINIUM = 38.65, 45.15   # zero-resistance temperatures, −234.5 °C and −228 °C, in K
NAN = math.nan


def words(*values):
    return np.array(values, dtype=object)


def rows(size=("500 kcmil",), material=("copper",), conductor=("",), project="nec-ch9-table-8-copper", ampacity=("nec-310-16-copper-90",),
         limit=("not_limiting",),
         terminals=("",), rule=("conductor",), impedance=("",), surroundings=("air",), source=("given",), current=(100.0,), zero=(COPPER,), frequency=60.0):
    """What the procedure reads for cables described item by item."""
    return c.cable_rows.run(words(*size), words(*material), words(*conductor), project, words(*ampacity), words(*limit), words(*terminals), words(*rule),
                            words(*impedance), words(*surroundings), words(*source), np.array(current), np.array(zero), frequency)


# The rows of the tables

def test_rows_as_printed():
    # NFPA 70: 310.16 500 kcmil 430 A at 90 °C, 380 A at 75 °C, Chapter 9 Table 8 253.4 mm² and 0.0258 Ω/kft at 75 °C, × 254.5/309.5 = 0.021215 at 20 °C;
    # Table 9 steel 0.029 and 0.048 Ω/kft at 60 Hz, so 0.040 at 50 Hz (hand calculation)
    (area, cold, ampacity, hot, base, soil, held, printed, reactance), residual, _ = rows(
        limit=("termination_table",), terminals=("nec-310-16-copper-75",), rule=("conduit_table",), impedance=("nec-ch9-table-9-copper-steel",), frequency=50.0)
    assert (area[0], cold[0] * KFT) == (approx(253.4 * MM2), approx(0.021215, abs=5e-7))
    assert (ampacity[0], held[0], hot[0], base[0], soil[0]) == (430, 380, 90 + C0, 30 + C0, 0.9)
    assert (printed[0] * KFT, reactance[0] * KFT) == (approx(0.029 * 254.5 / 309.5), approx(0.040))
    assert residual < 0.05   # copper of the trade within five per cent of the standard resistivity


def test_rows_follow_the_project_and_each_cable():
    # IEC 60228, aluminium 240 mm² 0.125 Ω/km; NFPA 70 Table 8, aluminium 500 kcmil 0.0424 Ω/kft at 75 °C, × 248/303 = 0.03470; MV table 310.60(C)(77) soil 0.9
    (area, cold, ampacity, *_, soil, held, _, _), residual, _ = rows(
        size=("500 kcmil", "500 kcmil"), material=("copper", "aluminium"), conductor=("", "nec-ch9-table-8-aluminium"), zero=(COPPER, ALUMINIUM),
        limit=("not_limiting",) * 2,
        ampacity=("nec-310-60-c77-5kv", "nec-310-16-aluminium-75"), terminals=("", ""), rule=("conductor",) * 2, impedance=("", ""),
        surroundings=("ground", "air"),
        source=("given",) * 2, current=(1.0, 1.0))
    assert cold[1] * KFT == approx(0.03470, abs=5e-6)
    assert list(ampacity) == [470, 310]
    assert soil[0] == 0.9 and math.isnan(held[0])
    # residual: copper 253.4 mm² × 0.0258 Ω/kft × 254.5/309.5 are 17.638 nΩ·m against 17.241 (IEC 60028), 2.30 %; aluminium 253.4 mm² × 0.0424 × 248/303
    # are 28.851 against 28.264 (IEC 60889), 2.08 % (hand calculation)
    assert residual == approx(0.0230, abs=1e-4)
    aluminium = rows(material=("aluminium",), project="nec-ch9-table-8-aluminium", zero=(ALUMINIUM,), ampacity=("nec-310-16-aluminium-75",))
    assert aluminium[1] == approx(0.0208, abs=1e-4)


def test_no_cable_gives_no_row():
    found, residual, _ = rows(size=(), material=(), conductor=(), ampacity=(), limit=(), terminals=(), rule=(), impedance=(), surroundings=(), source=(),
                              current=(), zero=())
    assert [len(column) for column in found] == [0] * 9 and residual == 0.0


@pytest.mark.parametrize(("wrong", "term", "said"), [
    ({"size": ("510 kcmil",)}, "cable_size", "no row 510 kcmil"),
    ({"material": ("aluminium",)}, "cable_ampacity_table", "is of copper, the cable of aluminium"),
    ({"surroundings": ("ground",), "ampacity": ("nec-310-60-c73-5kv",)}, "cable_ampacity_table", "printed for air"),
    ({"ampacity": ("nec-310-60-c77-5kv",)}, "cable_ampacity_table", "printed for the ground"),
    ({"limit": ("termination_table",)}, "cable_termination_table", "not given"),
    ({"rule": ("conduit_table",)}, "cable_impedance_table", "not given"),
    ({"current": (NAN,)}, "cable_current", "not given"),
    ({"current": (NAN,), "source": ("load",)}, "cable_load", "names no load"),
])
def test_what_cannot_be_meant_is_told(wrong, term, said):
    with pytest.raises(ItemTroubles) as told:
        rows(**wrong)
    assert any(trouble.term == term and said in trouble.what for trouble in told.value.troubles), told.value.troubles


def test_every_table_says_its_metal_and_its_soil():
    for family in ("ampacity", "conductor", "impedance"):
        for table_id in families()[family]:
            assert sum(metal in table(table_id).note.lower() for metal in c.METALS) == 1 and c.metal_of(table_id) in c.METALS, table_id
    assert set(families()["ampacity"]) == set(table("ampacity-soil").keys)
    assert set(families()["grouping"]) == set(table("grouping-counts").keys)
    # IEC 60502-2:2005 annex B 1.5 K·m/W, NFPA 70 ducts 90 K·cm/W [read in a reproduction]
    soil = table("ampacity-soil")
    assert [soil.value("resistivity", one) for one in ("iec-60502-2-b2-trefoil-buried", "nec-310-60-c77-35kv", "iec-60364-5-52-b52-12-f")] == [1.5, 0.9, 0]
    assert [table("grouping-counts").value("conductors", one) for one in ("nec-310-15-c1", "iec-60364-5-52-b52-17-tray")] == [1, 0]


# Current

def test_current_of_set_transformer_and_load():
    # 1600 kVA at 11 kV 83.98 A, 133.3 kVA at 400 V 192.4 A, single-phase 2.3 kVA at 230 V 10 A (hand calculation); the rated current of a set as it is
    run = c.cable_current.run
    ratings, demands = np.array([1.6e6, 250e3]), np.array([133.3e3, 2.3e3])
    assert run("transformer", "three_phase", 11e3, 107.6, 0, ratings, 0, demands) == approx(83.98, abs=0.005)
    assert run("load", "three_phase", 400, 107.6, 0, ratings, 0, demands) == approx(192.4, abs=0.05)
    assert run("load", "two_wire", 230, 107.6, 0, ratings, 1, demands) == approx(10.0)
    assert run("set", "three_phase", 11e3, 107.6, 0, ratings, 0, demands) == 107.6
    assert run("transformer", "three_phase", 22e3, 0, 0, ratings, 0, demands) == approx(83.98 / 2, abs=0.005)   # falls with voltage


def test_voltage_is_that_of_the_bus():
    ((named,), _, _), buses = c.cable_bus_named.run(np.array([1, -1])), np.array([400.0, 11e3])
    assert list(named) == [1, 0]
    found = over(c.cable_voltage, cable_bus_named=named, cable_bus=np.array([1, -1]), bus_voltage=buses, generating_voltage=480.0, number_of_cable=2)
    assert list(found) == [11e3, 480]  # one that names no bus is at the generating voltage


def test_margin_of_the_code():
    # NFPA 70, 445.13: 115 % between set and first overcurrent device; 2405.6 A become 2766.4 A; not stacked on anything beyond it
    assert c.cable_current_margin.run("set", 1.15, 1.25) == 1.15
    assert c.cable_current_margin.run("load", 1.15, 1.25) == 1.25
    assert c.cable_design_current.run(2405.6, 1.15) == approx(2766.44, abs=0.01)


def test_power_factor():
    assert c.cable_power_factor.run("load", 1, np.array([0.9, 0.87]), 0.8) == 0.87
    assert c.cable_power_factor.run("set", 0, np.array([0.9, 0.87]), 0.8) == 0.8


# Capacity

def test_ambient():
    # IEC 60502-2 and NFPA 70 310.60(C)(4): √((90 − 45)/(90 − 30)) = 0.866; printed NFPA 70 table 310.15(B)(1) 36 to 40 °C: 0.91 [read]
    run = c.cable_ambient_factor.run
    assert run("formula", "", 45 + C0, 90 + C0, 30 + C0) == approx(0.8660, abs=5e-5)
    assert run("table", "nec-310-15-b1-90", 38 + C0, 0, 0) == 0.91
    assert run("formula", "", 30 + C0, 90 + C0, 30 + C0) == 1


def test_grouping():
    # NFPA 70 310.15(C)(1): six conductors 0.80; IEC 60364-5-52 B.52.17 bunched: two circuits 0.80, three 0.70 [read in a reproduction]
    assert c.cable_grouping_count.run("nec-310-15-c1", 2, 3) == 6
    assert c.cable_grouping_count.run("iec-60364-5-52-b52-17-bunched", 2, 3) == 2
    assert c.cable_grouping_factor.run(2, "nec-310-15-c1", 6) == 0.80
    assert c.cable_grouping_factor.run(3, "iec-60364-5-52-b52-17-bunched", 3) == 0.70
    assert c.cable_grouping_factor.run(1, "iec-60364-5-52-b52-17-bunched", 3) == 1   # alone


def test_soil_shape():
    # IEC 60287-2-1 [from memory]: one cable of 50 mm at 0.8 m, ln(4·0.8/0.05) = 4.1589, × 1.5/π = 1.9857 for three losses; trefoil of 36 mm: (4.4874 −
    # 0.630)·1.5/π = 1.8418
    assert c.cable_soil_shape.run("three_core", 0.8, 0.05) == approx(1.9857, abs=5e-5)
    assert c.cable_soil_shape.run("single_core", 0.8, 0.036) == approx(1.8418, abs=5e-5)
    # three line sources of heat at the corners of a touching trefoil, with their images above the surface, added up by the method of images for the top cable's
    # own circle: 1/(2π)·(ln(4L/D) + 2·ln(2L/D)) = 3/(2π)·(ln(4L/D) − 0.462); metal sheaths as warm as each other make it −0.630
    images = (math.log(4 * 0.8 / 0.036) + 2 * math.log(2 * 0.8 / 0.036)) / (2 * math.pi)
    assert c.cable_soil_shape.run("single_core", 0.8, 0.036) == approx(images, rel=0.05)


def test_soil_factor_against_the_printed_factors():
    # √((0.5 + 1.5·2)/(0.5 + 2.5·2)) = √(3.5/5.5) = 0.7977 (hand calculation)
    assert c.cable_soil_factor.run("ground", 0.5, 1.5, 2.0, 2.5) == approx(0.7977, abs=5e-5)
    assert c.cable_soil_factor.run("air", 0.5, 1.5, 2.0, 2.5) == 1
    # IEC 60364-5-52:2009 Table B.52.16, directly buried, base 2.5 K·m/W: 1 K·m/W 1.50, 1.5 1.28, 2 1.12, 3 0.90 [from memory]
    for resistivity, printed in [(1.0, 1.50), (1.5, 1.28), (2.0, 1.12), (3.0, 0.90)]:
        assert c.cable_soil_factor.run("ground", 0.3, 2.5, 2.0, resistivity) == approx(printed, rel=0.03)


def test_capacity_cases_of_the_code():
    # 2000 kVA, 480 V: 2766.5 A. 30 °C, one circuit a conduit: 430 held to 380 A, 8 in parallel, 3040 A; 40 °C, six in a conduit: 430·0.91·0.80 = 313.0, 9
    # (hand calculation)
    capacity = c.cable_conductor_capacity.run("termination_table", c.cable_derated_ampacity.run(430, 1.0, 1.0, 1.0), 380)
    assert (capacity, c.cable_parallel_needed.run(2766.5, capacity)) == (380, 8)
    assert c.cable_capacity.run(8, capacity) == 3040
    hot = c.cable_derated_ampacity.run(430, 0.91, 0.80, 1.0)
    assert hot == approx(313.04, abs=0.005)
    assert c.cable_parallel_needed.run(2766.5, c.cable_conductor_capacity.run("termination_table", hot, 380)) == 9
    assert c.cable_conductor_capacity.run("not_limiting", 391.3, 380) == 391.3
    assert c.cable_derated_ampacity.run(430, 1, 1, 0.8) == 344
    assert c.cable_loading.run(2766.5, 3040) == approx(0.9100, abs=5e-5)


# Drop and loss

def test_drop_and_loss_of_the_code_example():
    # 2405.6 A, 8 × 500 kcmil in PVC conduit, 150 ft, 0.8: 3.516 V, 0.73 %, 8.79 kW (NFPA 70 Chapter 9 Table 9; hand calculation)
    r, x, feet = 0.027 / KFT, 0.039 / KFT, 150 * 0.3048
    drop = c.cable_voltage_drop.run("three_phase", 2405.6, 8, feet, r, x, 0.8, 1)
    assert drop == approx(3.516, abs=1e-3)
    assert c.cable_voltage_drop_ratio.run(drop, 480) == approx(0.007324, abs=1e-6)
    assert c.cable_loss.run("three_phase", 2405.6, 8, r, feet) == approx(8789, abs=1)
    # 1804.2 A, 5 × 300 mm² at 90 °C, 0.07663 and 0.08 Ω/km, 40 m, 0.8: 2.733 V (hand calculation)
    assert c.cable_voltage_drop.run("three_phase", 1804.2, 5, 40, 0.07663e-3, 0.08e-3, 0.8, 1) == approx(2.733, abs=1e-3)


def test_a_leading_current_lifts_the_voltage():
    # 1804.2 A, 5 × 300 mm², 0.07663 and 0.08 Ω/km, 40 m, 0.8 leading: √3·360.84·0.04·(0.07663·0.8 − 0.08·0.6) = 0.3326 V (hand calculation)
    assert c.cable_voltage_drop.run("three_phase", 1804.2, 5, 40, 0.07663e-3, 0.08e-3, 0.8, -1) == approx(0.3326, abs=1e-4)
    # at 0.3: 25.000·(0.07663·0.3 − 0.08·0.95394) = −1.3331 V, a rise, which is held to the same limit (hand calculation)
    rise = c.cable_voltage_drop.run("three_phase", 1804.2, 5, 40, 0.07663e-3, 0.08e-3, 0.3, -1)
    assert rise == approx(-1.3331, abs=2e-4) and c.cable_voltage_drop_ratio.run(rise, 400) == approx(1.3331 / 400, abs=1e-6)
    assert [c.cable_reactive_sign.run("given", 0, 0, side) for side in ("lagging", "leading")] == [1, -1]
    assert [loads.load_reactive_sign.run(side) for side in ("lagging", "leading")] == [1, -1]


def test_drop_on_two_wires():
    # 60 m out and back, 0.5 A, 1.5 mm² of 12.1 Ω/km: 0.726 V; loss 0.363 W (hand calculation, direct current)
    assert c.cable_voltage_drop.run("two_wire", 0.5, 1, 60, 12.1e-3, 0.0, 1.0, 1) == approx(0.726)
    assert c.cable_loss.run("two_wire", 0.5, 1, 12.1e-3, 60) == approx(0.363)
    assert c.cables_loss.run(np.array([8789.0, 211.0])) == 9000


def test_drop_and_loss_against_pandapower():
    # a power flow of a 4.16 kV and of a 400 V cable; the drop formula leaves out the part across the voltage, the loss formula nothing
    for volts, metres, r, x, load, wide in [(4160, 900, 0.32e-3, 0.10e-3, (1.6, 0.9), 2e-3), (400, 85, 0.096e-3, 0.08e-3, (0.39, 0.17), 2e-2),
                                            (400, 85, 0.096e-3, 0.08e-3, (0.39, -0.17), 6e-2), (4160, 900, 0.05e-3, 0.10e-3, (0.6, -0.9), 6e-3)]:
        net = pandapower.create_empty_network(f_hz=50)
        source, far = (pandapower.create_bus(net, volts / 1e3) for _ in range(2))
        pandapower.create_ext_grid(net, source)
        pandapower.create_line_from_parameters(net, source, far, metres / 1e3, r * 1e3, x * 1e3, 0, 10)
        pandapower.create_load(net, far, *load)
        pandapower.runpp(net, tolerance_mva=1e-10)
        current, power_factor = net.res_line.i_to_ka[0] * 1e3, load[0] / math.hypot(*load)
        drop = c.cable_voltage_drop.run("three_phase", current, 1, metres, r, x, power_factor, math.copysign(1, load[1]))
        assert drop == approx((1 - net.res_bus.vm_pu[far]) * volts, rel=wide)
        assert c.cable_loss.run("three_phase", current, 1, r, metres) == approx(net.res_line.pl_mw[0] * 1e6, rel=1e-4)


def test_temperature_and_resistance():
    # 40 °C, 90 °C at 391.3 A, 2405.6 A in 8: 69.53 °C; 0.0601 Ω/km × 324.5/254.5 = 0.07663; steel conduit 0.029 Ω/kft at 75 °C × 304.03/309.5 = 0.02849
    # (hand calculation)
    run = c.cable_operating_temperature.run
    assert run(40 + C0, 90 + C0, 2405.6, 8, 391.3) == approx(69.53 + C0, abs=0.01)
    assert run(40 + C0, 90 + C0, 391.3, 1, 391.3) == approx(90 + C0)
    assert c.cable_dc_resistance.run(0.0601e-3, 90 + C0, COPPER, 20 + C0) == approx(0.07663e-3, abs=5e-9)
    at_twenty = 0.029 * 254.5 / 309.5 / KFT
    assert c.cable_resistance.run("conduit_table", at_twenty, 69.53 + C0, COPPER, 20 + C0, 0, 0) * KFT == approx(0.028487, abs=5e-6)
    assert c.cable_resistance.run("conductor", NAN, 0, COPPER, 20 + C0, 7.66e-5, 1.0139) == approx(7.766e-5, abs=5e-9)


@pytest.mark.parametrize(("mm2", "frequency"), [(120, 60), (300, 50), (630, 60), (1000, 60)])
def test_skin_effect_against_the_exact_solution(mm2, frequency):
    # field in a round wire: R/R0 = Re[(ka/2) J0(ka)/J1(ka)], k² = −jωμσ, Bessel functions of scipy
    conductivity, mu = 58e6 * 254.5 / 324.5, 4e-7 * math.pi
    ka = np.sqrt(-1j * 2 * math.pi * frequency * mu * conductivity) * math.sqrt(mm2 * MM2 / math.pi)
    exact = (ka / 2 * jv(0, ka) / jv(1, ka)).real
    assert c.cable_skin_factor.run("three_phase", frequency, mu, 1 / (conductivity * mm2 * MM2)) == approx(exact, rel=8e-4)
    assert c.cable_skin_factor.run("two_wire", frequency, mu, 1 / (conductivity * mm2 * MM2)) == 1


def test_reactance():
    # 0.08 Ω/km at 50 Hz is 0.096 at 60 Hz (hand calculation); NFPA 70 Table 9 as printed
    assert c.cable_reactance.run("conductor", NAN, 0.08e-3, 60, 50) == approx(0.096e-3)
    assert c.cable_reactance.run("conduit_table", 1.28e-4, 0.08e-3, 60, 50) == 1.28e-4


# Short circuit

def factor(metal, warm, hot, rule="iec_60949"):
    zero = f.cable_zero_temperature.run(metal, COPPER, ALUMINIUM)
    return f.cable_adiabatic_factor.run(rule, metal, 226 / MM2, 148 / MM2, 172.3369 / KCMIL, 111.8034 / KCMIL, hot + C0, warm + C0, zero, 39.15)


@pytest.mark.parametrize(("metal", "warm", "hot", "k"), [("copper", 90, 250, 143.1), ("aluminium", 90, 250, 94.5), ("copper", 70, 160, 115.0),
                                                         ("aluminium", 70, 160, 76.0)])
def test_adiabatic_factor(metal, warm, hot, k):
    # IEC 60949: K √ln((θf + β)/(θi + β)); IEC 60364-5-54 prints 143, 94, 115, 76
    assert factor(metal, warm, hot) * MM2 == approx(k, abs=0.1)


def test_adiabatic_factor_by_the_american_rule():
    # ICEA P-32-382, short form from 90 to 250 °C: I = 0.07195 A/√t copper, 0.0470 aluminium, A in circular mils [read in a reproduction]
    assert factor("copper", 90, 250, "icea_p_32_382") * KCMIL / 1000 == approx(0.07195, abs=5e-6)
    assert factor("aluminium", 90, 250, "icea_p_32_382") * KCMIL / 1000 == approx(0.0470, abs=5e-5)
    # 20 kA for 0.5 s need 196.6 kcmil, so 4/0 AWG of 211.6 kcmil
    area = f.cable_least_fault_area.run(20e3, 0.5, factor("copper", 90, 250, "icea_p_32_382"))
    assert area / KCMIL == approx(196.6, abs=0.05)
    # the two rules agree within two hundredths for both metals
    for metal in ("copper", "aluminium"):
        assert factor(metal, 90, 250) == approx(factor(metal, 90, 250, "icea_p_32_382"), rel=0.02)


def test_adiabatic_factor_against_the_heat_of_copper():
    # heat balance by scipy: ∫ρ(T)J² dt = ∫c dT with ρ and volumetric heat 3.45 J/(K·cm³) (IEC 60949, copper): time to 250 °C at k A/mm² is one second
    k = factor("copper", 90, 250)
    seconds = brentq(lambda t: (234.5 + 90) * (math.exp(k ** 2 * 1.7241e-8 * t / (3.45e6 * 254.5)) - 1) - 160, 0.1, 5)
    assert seconds == approx(1.0, rel=0.005)


def test_least_area_and_withstand():
    # S = I√t/k: 25 kA, 0.5 s, k 143: 123.6 mm²; 20 kA, 0.2 s: 62.5 mm² (hand calculation); and back
    assert f.cable_least_fault_area.run(25e3, 0.5, 143 / MM2) / MM2 == approx(123.6, abs=0.05)
    assert f.cable_least_fault_area.run(20e3, 0.2, 143 / MM2) / MM2 == approx(62.5, abs=0.1)
    assert f.cable_withstand.run(143 / MM2, 123.6 * MM2, 0.5) == approx(25e3, rel=1e-3)
    assert f.cable_withstand.run(143.1 / MM2, 95 * MM2, 0.5) == approx(19.23e3, abs=5)


def test_fault_current_of_the_cable():
    # the cable of a set bears what all others feed back, other cables what their bus gives
    buses = np.array([16.5e3, 40.8e3])
    assert f.cable_fault_current.run("set", 14.2e3, 500.0, 0.12, 1, buses) == 14.2e3
    assert f.cable_fault_current.run("transformer", 14.2e3, 500.0, 0.12, 1, buses) == 40.8e3
    # a set that stands alone: nothing feeds back, and 288.7 A over 12 % are 2406 A into a fault at the bus (hand calculation)
    assert float(f.cable_fault_current.run("set", 0.0, 288.7, 0.12, 1, buses)) == approx(2406, abs=1)


def test_least_size_for_the_voltage():
    # NFPA 70: parallel conductors 1/0 AWG, 53.49 mm² [read in a reproduction]; 15 kV 2 AWG, 33.62 mm² [from memory]
    assert f.cable_least_area.run("nec-310-106-least-size", 480.0, 2) == approx(53.49 * MM2)
    assert f.cable_least_area.run("nec-310-106-least-size", 13_800.0, 1) == approx(33.62 * MM2)


def governing(need, fault_area, ampacity, conductor, factor_of=1.0, parallel=1.0, limit="not_limiting", terminals=""):
    """(size by current, size by short circuit, governing) in mm² and the word, for one cable."""
    (by_current, by_fault, largest, word), surplus, _ = f.cable_governing.run(
        np.array([need]), np.array([parallel]), np.array([100.0 * factor_of]), np.array([100.0]), words(ampacity), words(""), conductor, words(limit),
        words(terminals), np.array([fault_area]))
    assert surplus >= 0
    return by_current[0] / MM2, by_fault[0] / MM2, largest[0] / MM2, word[0]


IEC_AIR, IEC_DUCT, IEC_TREFOIL = "iec-60502-2-b6-three-core-air", "iec-60502-2-b6-three-core-duct", "iec-60502-2-b2-trefoil-air"


@pytest.mark.parametrize(("table_id", "ambient", "size"), [(IEC_AIR, 30, 50), (IEC_AIR, 45, 70), (IEC_TREFOIL, 45, 50), (IEC_DUCT, 20, 70)])
def test_size_by_current_at_medium_voltage(table_id, ambient, size):
    # 3000 kVA, 11 kV, 115 %: 181.1 A. IEC 60502-2 three-core in air 50 (204), at 45 °C 70 (219.1), trefoil at 45 °C 50 (206.1), in duct 70 (193)
    base = 20 if table_id == IEC_DUCT else 30
    found = governing(181.1, NAN, table_id, "iec-60228-copper", c.cable_ambient_factor.run("formula", "", ambient + C0, 90 + C0, base + C0))
    assert found[0] == approx(size) and found[3] == "unknown"


def test_size_by_current_by_the_american_code():
    # 3000 kVA, 13.8 kV: 144.3 A: 40 °C 2 AWG (150), 50 °C × 0.894 1 AWG (152.1). 2500 kVA, 4.16 kV: 399.0 A: conduit 500 kcmil (475), two per phase 2/0 (205)
    def size(*args, **more):
        return governing(*args, **more)[0]

    fifty = math.sqrt(40 / 50)
    assert size(144.3, NAN, "nec-310-60-c73-35kv", "nec-ch9-table-8-copper") == approx(33.62)
    assert size(144.3, NAN, "nec-310-60-c73-35kv", "nec-ch9-table-8-copper", fifty) == approx(42.41)
    assert size(399.0, NAN, "nec-310-60-c73-5kv", "nec-ch9-table-8-copper") == approx(253.4)
    assert size(399.0, NAN, "nec-310-60-c77-5kv", "nec-ch9-table-8-copper") == approx(253.4)
    assert size(399.0, NAN, "nec-310-60-c73-5kv", "nec-ch9-table-8-copper", parallel=2.0) == approx(67.43)
    # 345.8 A at low voltage: 400 kcmil (380 A) would do at 90 °C; 75 °C terminals hold it to 335 A, so 500 kcmil
    assert size(345.8, NAN, "nec-310-16-copper-90", "nec-ch9-table-8-copper") == approx(177.3)
    assert size(345.8, NAN, "nec-310-16-copper-90", "nec-ch9-table-8-copper", limit="termination_table", terminals="nec-310-16-copper-75") == approx(253.4)


def test_what_governs():
    # 25 kA, 0.5 s: 123.6 mm² -> 150; 20 kA, 0.2 s: 62.5 -> 70 (k 143); 118 A need 25 mm² in air (142 A), 500 A 240 mm² (531 A)
    assert governing(118, 123.6 * MM2, IEC_AIR, "iec-60228-copper") == (approx(25), approx(150), approx(150), "short_circuit")
    assert governing(500, 62.5 * MM2, IEC_AIR, "iec-60228-copper") == (approx(240), approx(70), approx(240), "current")
    assert governing(220, 62.5 * MM2, IEC_AIR, "iec-60228-copper") == (approx(70), approx(70), approx(70), "both")
    by_current, by_fault, largest, word = governing(118, 500 * MM2, IEC_AIR, "iec-60228-copper")   # beyond the largest printed, 400 mm²
    assert math.isnan(by_fault) and math.isnan(largest) and (by_current, word) == (approx(25), "short_circuit")


def test_a_size_that_just_does_is_enough():
    # IEC 60502-2, table B.6, in air: 95 mm² 304 A, 70 mm² 253 A; 45 °C × 0.8660: 219.1 A of 70 mm² by two roundings. A fault that asks for 95 mm²
    assert governing(304, 95 * MM2, IEC_AIR, "iec-60228-copper")[:2] == (approx(95), approx(95))
    assert governing(253 * 0.866, NAN, IEC_AIR, "iec-60228-copper", 0.866)[0] == approx(70)
    # aluminium of IEC 60228 begins at 10 mm²: thinner rows of the ampacity table are passed over
    assert governing(10, NAN, "iec-60364-5-52-b52-12-e", "iec-60228-aluminium")[0] == approx(10)


def test_least_surplus_of_capacity():
    # 142 A of 25 mm² over 118 A leave 20.3 %, 531 A of 240 mm² over 500 A leave 6.2 %; no size carries 5 kA (hand calculation, IEC 60502-2 table B.6)
    need, none = np.array([118.0, 500.0, 5000.0]), words("", "", "")
    _, surplus, _ = f.cable_governing.run(need, np.ones(3), np.full(3, 100.0), np.full(3, 100.0), words(*[IEC_AIR] * 3), none, "iec-60228-copper",
                                          words(*["not_limiting"] * 3), none, np.full(3, NAN))
    assert surplus == approx(0.062)


def test_governing_of_no_cable():
    empty = np.zeros(0)
    found, surplus, _ = f.cable_governing.run(empty, empty, empty, empty, words(), words(), "iec-60228-copper", words(), words(), empty)
    assert [len(column) for column in found] == [0, 0, 0, 0] and surplus == 0


def test_cables_of_sets_take_what_the_generator_cable_says():
    """Numbers of the scalar formulas as written: a set's cable has them, another has none of its own, and lies with its parallels alone."""
    routed = {"cable_route_from": ["own"], "cable_feeder": np.array([-1]), "number_of_cable": 1}
    length = {"generator_cable_length": 55.0, "feeder_length": [85.0]}
    conductors = {"conductors_per_phase": 3.0, "feeder_parallel": [2.0]}
    for feeds, found in (("set", [55, 55, 3, 7]), ("load", [math.nan, math.nan, math.nan, 2])):
        facts = {"voltage_chapter": "in_this_book", "cable_current_from": [feeds]}
        assert over(c.cable_length, **facts, **routed, **length) == approx([found[0]], nan_ok=True)
        assert over(c.cable_ambient_temperature, **facts, number_of_cable=1, conductor_ambient_temperature=55.0) == approx([found[1]], nan_ok=True)
        assert over(c.cable_parallel, **facts, **routed, **conductors) == approx([found[2]], nan_ok=True)
        assert over(c.cable_circuits, **facts, number_of_cable=1, circuits_grouped=7.0, cable_parallel=[2.0]) == approx([found[3]])
    apart = {"voltage_chapter": "not_in_this_book", "cable_current_from": ["set"]}
    assert math.isnan(over(c.cable_length, **apart, **routed, **length)[0]) and over(c.cable_circuits, **apart, number_of_cable=1, circuits_grouped=7.0,
                                                                                                cable_parallel=[1.0]) == [1]


def test_a_cable_that_is_a_feeder_has_its_route():
    facts = {"voltage_chapter": "in_this_book", "cable_current_from": ["set", "load"], "cable_route_from": ["own", "feeder"], "cable_feeder": np.array([-1, 1]),
             "number_of_cable": 2}
    assert over(c.cable_length, **facts, generator_cable_length=55.0, feeder_length=[30.0, 85.0]) == approx([55, 85])
    assert over(c.cable_parallel, **facts, conductors_per_phase=3.0, feeder_parallel=[1.0, 2.0]) == approx([3, 2])


def test_a_cable_that_is_a_feeder_has_its_conductor():
    # IEC 60228, class 2 copper at 20 °C: 240 mm² 0.0754 ohm/km, 185 mm² 0.0991 ohm/km
    facts = {"cable_route_from": ["own", "feeder", "feeder"], "cable_feeder": np.array([-1, 0, 0]), "number_of_cable": 3}
    found = over(agreement.cable_feeder_gap, **facts, feeder_resistance_per_length=[7.54e-5], cable_resistance_20=[9.91e-5, 7.54e-5, 9.91e-5])
    assert found == approx([0, 0, 0.3143], abs=1e-4)
