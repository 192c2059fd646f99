"""Tables of the generating voltage: printed cells of the codes, and what agrees with them from outside."""

import pandapower
import pytest
from pytest import approx

from basis.chapters.voltage import chapter as v
from basis.language.faults import OutOfTable
from basis.language.table import families, table
from basis.language.units import from_si

C0, T0 = 273.15, 38.65   # 0 °C and copper's zero-resistance temperature, −234.5 °C, in K


CELLS = [  # table, column, unit as printed, [(key as printed, cell as printed)]
    # NFPA 70 Table 310.16, copper [read in a reproduction]
    ("nec-310-16-copper-75", "ampacity", "A", [("1/0 AWG", 150), ("500 kcmil", 380), ("1000 kcmil", 545)]),
    ("nec-310-16-copper-90", "ampacity", "A", [("1/0 AWG", 170), ("500 kcmil", 430), ("1000 kcmil", 615)]),
    # NFPA 70 Chapter 9 Tables 4, 5, 8, 9 [read in a reproduction]
    ("nec-ch9-table-8-copper", "resistance", "ohm/kft", [("2 AWG", 0.194), ("4/0 AWG", 0.0608), ("750 kcmil", 0.0171)]),
    ("nec-ch9-table-8-copper", "area", "mm^2", [("1/0 AWG", 53.49), ("4/0 AWG", 107.2), ("500 kcmil", 253.4)]),
    ("nec-ch9-table-9-copper-pvc", "resistance", "ohm/kft", [("1 AWG", 0.15), ("250 kcmil", 0.052), ("500 kcmil", 0.027)]),
    ("nec-ch9-table-9-copper-pvc", "reactance", "ohm/kft", [("1 AWG", 0.046), ("250 kcmil", 0.041), ("500 kcmil", 0.039)]),
    ("nec-ch9-table-9-copper-steel", "resistance", "ohm/kft", [("1 AWG", 0.16), ("250 kcmil", 0.054), ("500 kcmil", 0.029)]),
    ("nec-ch9-table-9-copper-steel", "reactance", "ohm/kft", [("1 AWG", 0.057), ("250 kcmil", 0.052), ("500 kcmil", 0.048)]),
    ("nec-ch9-table-5-thhn", "area", "in^2", [("14 AWG", 0.0097), ("1/0 AWG", 0.1855), ("500 kcmil", 0.7073)]),
    ("nec-ch9-table-4-emt", "area", "in^2", [("1 in", 0.864), ("2-1/2 in", 5.858), ("4 in", 14.753)]),
    ("nec-ch9-table-4-imc", "area", "in^2", [("2 in", 3.629), ("3 in", 7.922), ("4 in", 13.631)]),
    # NFPA 70 Tables 310.15(B)(1), 310.15(B)(2)(b), 310.15(C)(1) [read; read in a reproduction]
    ("nec-310-15-b1-75", "factor", "1", [(C0 + 10, 1.20), (C0 + 40, 0.88), (C0 + 60, 0.58)]),
    ("nec-310-15-b1-90", "factor", "1", [(C0 + 10, 1.15), (C0 + 40, 0.91), (C0 + 60, 0.71)]),
    ("nec-310-15-b2-90-base-40", "factor", "1", [(C0 + 30, 1.10), (C0 + 40, 1), (C0 + 50, 0.89)]),
    ("nec-310-15-c1", "factor", "1", [(3, 1), (6, 0.80), (9, 0.70), (21, 0.45), (40, 0.40), (41, 0.35)]),
    # NFPA 70 (2011 to 2017) Tables 310.60(C)(73), (75), (77) [read in a reproduction], (67) [from memory]
    ("nec-310-60-c73-5kv", "ampacity", "A", [("2/0 AWG", 205), ("4/0 AWG", 280), ("500 kcmil", 475)]),
    ("nec-310-60-c73-35kv", "ampacity", "A", [("2 AWG", 150), ("1 AWG", 170), ("500 kcmil", 480)]),
    ("nec-310-60-c77-5kv", "ampacity", "A", [("2/0 AWG", 220), ("4/0 AWG", 290), ("500 kcmil", 470)]),
    ("nec-310-60-c77-35kv", "ampacity", "A", [("2 AWG", 155), ("1 AWG", 175), ("500 kcmil", 465)]),
    ("nec-310-60-c75-35kv", "ampacity", "A", [("6 AWG", 83), ("4/0 AWG", 290), ("1000 kcmil", 650)]),
    ("nec-310-60-c67-5kv", "ampacity", "A", [("6 AWG", 90), ("4/0 AWG", 335), ("1000 kcmil", 880)]),
    ("nec-310-60-c67-35kv", "ampacity", "A", [("6 AWG", 100), ("4/0 AWG", 345), ("1000 kcmil", 850)]),
    # IEC 60228:2004 Table 2, IEC 60364-5-52:2009 Tables B.52.12, B.52.14, B.52.17 [read in a reproduction]
    ("iec-60228-copper", "resistance", "ohm/km", [("1.5 mm²", 12.1), ("95 mm²", 0.193), ("300 mm²", 0.0601)]),
    ("iec-60228-copper", "area", "mm^2", [("1.5 mm²", 1.5), ("95 mm²", 95), ("630 mm²", 630)]),
    # IEC 60228:2004 Table 3, plain copper of class 5 [two reproductions agree]
    ("iec-60228-copper-class-5", "resistance", "ohm/km", [("1.5 mm²", 13.3), ("50 mm²", 0.386), ("95 mm²", 0.206), ("630 mm²", 0.0287)]),
    ("iec-60228-copper-class-5", "area", "mm^2", [("1.5 mm²", 1.5), ("95 mm²", 95), ("630 mm²", 630)]),
    ("iec-60364-5-52-b52-12-f", "ampacity", "A", [("50 mm²", 207), ("300 mm²", 703), ("630 mm²", 1088)]),
    ("iec-60364-5-52-b52-14-xlpe", "factor", "1", [(C0 + 25, 1.04), (C0 + 40, 0.91), (C0 + 50, 0.82)]),
    ("iec-60364-5-52-b52-17-bunched", "factor", "1", [(2, 0.80), (6, 0.57), (10, 0.45), (20, 0.38)]),
    ("iec-60364-5-52-b52-17-tray", "factor", "1", [(2, 0.88), (4, 0.77), (9, 0.72), (15, 0.72)]),
    ("iec-60364-5-52-b52-17-ladder", "factor", "1", [(2, 0.87), (4, 0.80), (9, 0.78), (15, 0.78)]),
    # IEC 60502-2:2005 Tables B.2, B.6 [read in a reproduction]
    ("iec-60502-2-b2-trefoil-air", "ampacity", "A", [("16 mm²", 125), ("50 mm²", 238), ("240 mm²", 641)]),
    ("iec-60502-2-b2-trefoil-buried", "ampacity", "A", [("16 mm²", 109), ("50 mm²", 196), ("240 mm²", 469)]),
    ("iec-60502-2-b2-trefoil-ducts", "ampacity", "A", [("16 mm²", 103), ("50 mm²", 186), ("240 mm²", 447)]),
    ("iec-60502-2-b6-three-core-air", "ampacity", "A", [("16 mm²", 109), ("70 mm²", 253), ("240 mm²", 531)]),
    ("iec-60502-2-b6-three-core-buried", "ampacity", "A", [("16 mm²", 101), ("70 mm²", 221), ("240 mm²", 434)]),
    ("iec-60502-2-b6-three-core-duct", "ampacity", "A", [("16 mm²", 87), ("70 mm²", 193), ("240 mm²", 390)]),
    # Least sizes [from memory]; R10 series of ISO 3 [from memory]; bus ratings commonly sold (common practice)
    ("nec-310-106-least-size", "area", "mm^2", [(480.0, 2.08), (4160.0, 8.37), (13_800.0, 33.62)]),
    ("nec-310-106-least-size", "parallel_area", "mm^2", [(480.0, 53.49), (4160.0, 53.49), (13_800.0, 53.49)]),
    ("iec-60502-2-least-size", "area", "mm^2", [(400.0, 1.5), (6600.0, 10), (11_000.0, 16)]),
    ("iec-60502-2-least-size", "parallel_area", "mm^2", [(400.0, 1.5), (11_000.0, 16), (33_000.0, 50)]),
    ("iec-60059-bus-rating", "rating", "A", [(630.0, 630), (3200.0, 4000), (5918.0, 6300)]),
    ("us-low-voltage-bus-rating", "rating", "A", [(3007.0, 3200), (2405.6, 2500), (4763.0, 5000)]),
    ("us-medium-voltage-bus-rating", "rating", "A", [(347.0, 1200), (1201.0, 2000), (2500.0, 3000)]),
    # Aluminium: NFPA 70 Tables 310.16 and 8 [read in a reproduction], IEC 60228 Table 2 [read in a reproduction]
    ("nec-310-16-aluminium-75", "ampacity", "A", [("6 AWG", 50), ("1/0 AWG", 120), ("500 kcmil", 310), ("1000 kcmil", 445)]),
    ("nec-310-16-aluminium-90", "ampacity", "A", [("6 AWG", 55), ("1/0 AWG", 135), ("500 kcmil", 350), ("1000 kcmil", 500)]),
    ("nec-ch9-table-8-aluminium", "resistance", "ohm/kft", [("6 AWG", 0.808), ("4/0 AWG", 0.100), ("500 kcmil", 0.0424)]),
    ("nec-ch9-table-8-aluminium", "area", "mm^2", [("6 AWG", 13.30), ("4/0 AWG", 107.2), ("500 kcmil", 253.4)]),
    ("iec-60228-aluminium", "resistance", "ohm/km", [("16 mm²", 1.91), ("95 mm²", 0.320), ("300 mm²", 0.100)]),
    # Small sizes of copper in NFPA 70, IEC 60364-5-52:2009 Tables B.52.12 method E, B.52.18, B.52.19 [from memory]
    ("nec-310-16-copper-75", "ampacity", "A", [("14 AWG", 20), ("12 AWG", 25), ("10 AWG", 35), ("8 AWG", 50)]),
    ("nec-310-16-copper-90", "ampacity", "A", [("14 AWG", 25), ("12 AWG", 30), ("10 AWG", 40), ("8 AWG", 55)]),
    ("nec-ch9-table-8-copper", "resistance", "ohm/kft", [("14 AWG", 3.14), ("12 AWG", 1.98), ("10 AWG", 1.24), ("8 AWG", 0.778)]),
    ("iec-60364-5-52-b52-12-e", "ampacity", "A", [("1.5 mm²", 23), ("16 mm²", 100), ("95 mm²", 298), ("300 mm²", 621)]),
    ("iec-60364-5-52-b52-18-touching", "factor", "1", [(1, 1), (2, 0.75), (3, 0.65), (6, 0.50)]),
    ("iec-60364-5-52-b52-18-apart", "factor", "1", [(1, 1), (2, 0.90), (3, 0.80), (6, 0.70)]),
    ("iec-60364-5-52-b52-19-touching", "factor", "1", [(1, 1), (2, 0.85), (3, 0.75), (6, 0.60)]),
]
OUTSIDE = {"exact": "7 furlongs", "next_up": 1e6}


@pytest.mark.parametrize(("table_id", "column", "unit", "cells"), CELLS, ids=[f"{row[0]}-{row[1]}" for row in CELLS])
def test_printed_cells(table_id, column, unit, cells):
    for key, printed in cells:
        assert from_si(table(table_id).value(column, key), unit) == approx(printed, rel=1e-9)


def test_every_table_of_the_chapter_is_tested_and_refuses_what_it_does_not_hold():
    ours = [one for family in ("ampacity", "conductor", "impedance", "insulated_conductor", "conduit", "ambient_factor", "grouping",
                               "least_size", "bus_rating") for one in families()[family]]
    assert set(ours) == {row[0] for row in CELLS}
    for table_id in ours:
        with pytest.raises(OutOfTable):
            table(table_id).value(table(table_id).key, OUTSIDE[table(table_id).rule])


def test_ampacity_rises_with_size_and_base_temperatures_are_those_of_the_code():
    # NFPA 70: 310.16 is based on 30 °C air, 310.60(C)(73) on 40 °C air, (77) on 20 °C earth; IEC tables 30 °C air, 20 °C ground [read in a reproduction]
    base = {"nec-310-16-copper-90": 30, "nec-310-60-c73-5kv": 40, "nec-310-60-c77-35kv": 20, "iec-60364-5-52-b52-12-f": 30,
            "iec-60502-2-b2-trefoil-air": 30, "iec-60502-2-b6-three-core-duct": 20}
    for table_id in families()["ampacity"]:
        ampacities = table(table_id).columns["ampacity"]
        assert list(ampacities) == sorted(ampacities)
        hot = 75 if table_id.endswith("-75") else 90
        assert set(table(table_id).columns["conductor_temperature"]) == {hot + C0}
    for table_id, celsius in base.items():
        assert set(table(table_id).columns["reference_temperature"]) == {celsius + C0}


def test_conductor_table_agrees_with_an_open_cable_library():
    # pandapower's standard types of copper cables, resistance at 20 °C in Ω/km, rounded by its authors to a thousandth
    types = pandapower.create_empty_network().std_types["line"]
    seen = 0
    for name, facts in types.items():
        if name.startswith("N2XS(FL)2Y"):
            size = name.split("1x")[1].split()[0]
            assert from_si(table("iec-60228-copper").value("resistance", f"{size} mm²"), "ohm/km") == approx(facts["r_ohm_per_km"], abs=0.0011)
            seen += 1
    assert seen >= 3


def test_code_resistance_agrees_with_standard_copper():
    # IEC 60028: 1/58 Ω·mm²/m at 20 °C; stranding makes the path about 2 % longer; 309.5/254.5 to 75 °C. NEC prints 75 °C
    for size, mm2 in [("4/0 AWG", 107.2), ("500 kcmil", 253.4), ("1000 kcmil", 506.7)]:
        expected = 1 / 58 / mm2 * 1.02 * 309.5 / 254.5
        assert v.conductor_dc_resistance.run("nec-ch9-table-8-copper", size, 75 + C0, T0) == approx(expected, rel=6e-3)
