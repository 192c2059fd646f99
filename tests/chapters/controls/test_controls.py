"""Controls and signals against worked figures from outside, printed tables, hand calculations, and whole books."""

from dataclasses import replace

import numpy as np
import pytest
from axes import over
from conftest import ROOT, SLUGS
from pytest import approx

from basis.chapters import catalogue
from basis.chapters.controls import cables as k
from basis.chapters.controls import chapter as c
from basis.chapters.controls import circuits as e
from basis.language.faults import Faults, OutOfTable
from basis.language.table import lookup, table
from basis.language.terms import terms
from basis.reading.project import read
from basis.solving.solve import load, solve

C0, INCH2, HOUR, KM, KFT = 273.15, 645.16e-6, 3600.0, 1000.0, 304.8
COPPER = C0 - 234.5  # IEC 60228: copper's line of resistance meets zero at -234.5 degC
WAYS = {"way_wires_all": [1.0, 0.0, 0.0], "way_as_scheduled": [0.0, 1.0, 0.0], "way_network_only": [0.0, 0.0, 1.0]}


# ---- tables ----

@pytest.mark.parametrize("name, column, unit, cells", [
    # IEC 60228:2004 Table 2, class 2, ohm/km at 20 degC [read in a reproduction]; IEC 60502-1 A.1 conductor 1.4 and 2.3 mm, insulation 0.8 and 1.0 mm
    ("control-conductors-metric", "resistance", 1e-3, [("1.5 mm²", 12.1), ("2.5 mm²", 7.41), ("4 mm²", 4.61), ("6 mm²", 3.08)]),
    ("control-conductors-metric", "diameter", 1e-3, [("1.5 mm²", 1.4 + 2 * 0.8), ("2.5 mm²", 1.8 + 2 * 0.8), ("4 mm²", 2.3 + 2 * 1.0),
                                                     ("6 mm²", 2.8 + 2 * 1.0)]),
    # NFPA 70 Chapter 9 Table 5, THHN [read in a reproduction] and Table 8, stranded [from memory]
    ("control-conductors-awg", "area", INCH2, [("14 AWG", 0.0097), ("12 AWG", 0.0133), ("10 AWG", 0.0211)]),
    ("control-conductors-awg", "resistance", 1 / KFT, [("18 AWG", 7.95), ("14 AWG", 3.14), ("10 AWG", 1.24)]),
])
def test_printed_cells(name, column, unit, cells):
    for key, printed in cells:
        assert lookup(name, column, key) == approx(printed * unit, rel=1e-9)


def test_areas_are_those_of_the_diameters():
    for name in ("control-conductors-metric", "control-conductors-awg"):
        for size in table(name).keys:
            circle = np.pi / 4 * lookup(name, "diameter", size) ** 2
            assert lookup(name, "area", size) == approx(circle, rel=0.01), size  # printed in three digits


def test_stranded_copper_resists_as_its_section():
    # 14 AWG has 4110 circular mils (2.08 mm2) in Table 8; copper of 1.7241e-8 ohm·m (IEC 60028) at 75 degC, strands 2 % longer: 10.28 ohm/km
    hot = 1.7241e-8 / 2.0826e-6 * 1.02 * (75 + 234.5) / (20 + 234.5)
    assert lookup("control-conductors-awg", "resistance", "14 AWG") == approx(hot, rel=0.01)


@pytest.mark.parametrize("cores, coefficient", [
    # IEC 60502-1:2004 Table A.2 [read in a reproduction]; whole rings of equal circles are 3, 5, 7 and 9 across by geometry
    (2, 2.0), (3, 2.16), (4, 2.42), (5, 2.70), (7, 3.0), (12, 4.16), (14, 4.41), (19, 5.0), (24, 6.0), (27, 6.15), (37, 7.0), (61, 9.0)])
def test_assembly_of_cores(cores, coefficient):
    assert lookup("cable-assembly", "coefficient", cores) == approx(coefficient)
    assert coefficient >= np.sqrt(cores) / 0.95  # circles never fill more than 0.907 of the round


@pytest.mark.parametrize("cores, sold", [(1, 2), (6, 7), (8, 10), (13, 14), (20, 24), (28, 30), (31, 37), (38, 61)])
def test_next_cable_made(cores, sold):
    assert lookup("cable-assembly", "cores", cores) == sold


def test_conduit_by_area_is_the_table_of_conduits_read_backwards():
    forward, backward = table("nec-ch9-table-4-emt"), table("control-conduit-emt")
    assert backward.keys == approx(forward.columns["area"])  # NFPA 70 Chapter 9 Table 4
    for printed, size in (("1/2 in", 0.5), ("1-1/2 in", 1.5), ("2 in", 2.0), ("4 in", 4.0)):
        assert lookup("control-conduit-emt", "size", lookup("nec-ch9-table-4-emt", "area", printed)) == approx(size * 0.0254)
    with pytest.raises(OutOfTable):
        lookup("control-conduit-emt", "size", 15 * INCH2)


def test_trunking_by_its_printed_factors():
    # trunking factors of the On-Site Guide as reprinted: 1037, 2371, 4252, 9697 for 50, 75, 100, 150 mm square, being 45 % of the area inside
    for side, factor in ((50, 1037), (75, 2371), (100, 4252), (150, 9697)):
        assert lookup("control-trunking-square", "size", factor / 0.45 * 1e-6 * 0.999) == approx(side * 1e-3)
        assert lookup("control-trunking-square", "area", (side - 6) ** 2 * 1e-6) == approx(factor / 0.45 * 1e-6, rel=5e-4)


# ---- E49: 60 m, 0.5 A, 1.5 mm2 of 12.1 ohm/km: 0.726 V, 3.03 % of 24 V; 198 m at 10 % (electrical reference, hand arithmetic repeated by script) ----

def test_the_usual_conduit_is_a_size_of_the_table_of_the_project():
    # NEC chapter 9, table 4: two inches of EMT hold 3.356 in² (2165 mm²); square trunking of 50 mm, 48 mm inside, 2304 mm² is the next that is no smaller
    usual = 3.356 * 0.0254 ** 2
    assert k.control_conduit_area_max.run("control-conduit-emt", usual) == approx(usual)
    assert k.control_conduit_area_max.run("control-trunking-square", usual) == approx(2304e-6)


def test_drop_of_a_circuit():
    assert e.signal_drop.run(1, 0, np.array([0]), np.array([60.0]), np.array([12.1 / KM]), 0.5) == approx([0.726])
    assert e.signal_drop_ratio.run(0.726, 24.0) == approx(0.03025)
    assert e.control_run_length_max.run(0.10, 24.0, 12.1 / KM, 0.5) == approx(198.3, abs=0.05)
    assert e.control_voltage.run(24.0) == 24.0


def test_drop_is_nought_without_wires_and_for_instrument_transformers():
    at = (np.array([0]), np.array([60.0]), np.array([12.1 / KM]), 0.5)
    assert e.signal_drop.run(0, 0, *at) == approx([0]) and e.signal_drop.run(1, 1, *at) == approx([0])
    # at its longest length the drop is what is allowed
    length = e.control_run_length_max.run(0.10, 24.0, 12.1 / KM, 0.5)
    assert e.signal_drop.run(1, 0, np.array([0]), np.array([length]), np.array([12.1 / KM]), 0.5) == approx([2.4])


def test_resistance_at_temperature():
    # hand: 12.1 x 274.5 / 254.5 = 13.051 ohm/km at 40 degC; 3.14 ohm/kft at 75 degC x 254.5 / 309.5 = 2.582 at 20 degC
    assert over(c.control_run_resistance, control_conductor_table="control-conductors-metric", control_run_conductor=["1.5 mm²", "4 mm²"],
                control_conductor_temperature=C0 + 40, copper_zero_resistance_temperature=COPPER) * KM == approx([13.051, 4.972], abs=1e-3)
    assert over(c.control_run_resistance, control_conductor_table="control-conductors-awg", control_run_conductor=["14 AWG"],
                control_conductor_temperature=C0 + 20, copper_zero_resistance_temperature=COPPER) * KFT == approx([2.582], abs=1e-3)


def test_largest_current_of_a_run():
    run = e.currents_of_runs.run
    (largest,), residual, _ = run(np.array([0, 0, 1, 2]), np.array([0.2, 0.5, 0.1, 9.0]), np.array([0, 0, 0, 1.0]), np.array([10.0, 20, 30, 40]))
    assert largest[:2] == approx([0.5, 0.1]) and np.isnan(largest[2:]).all() and residual == 0  # hand: of two, the larger; a transformer's circuit never counts


# ---- E50: 38 pairs x 2 x 1.2 = 92 cores; 92 of 14 AWG THHN fill 0.892 in2: tubing of 2 in (1.342 in2 at 40 %), not 1 1/2 (0.814) ----

def test_cores_and_conduit():
    cores = over(k.control_run_cores, signal_run=np.array([0]), control_run_number=[1.0], signal_cores=[2.0], signal_count=[38.0],
                 signal_wired=np.array([[1.0, 1.0, 0.0]]))
    assert cores == approx(np.array([[76, 76, 0]]))
    assert k.control_run_cores_spare.run(76, 0.2) == 92
    piece = c.control_run_core_area.run("control-conductors-awg", "14 AWG")
    assert k.control_run_pieces.run("conductors", 0, 92) == 92 and k.control_run_piece_area.run("conductors", 0.0, piece) == piece
    holds = k.control_conduit_holds.run(0.40, 3.356 * INCH2, piece)
    assert holds == 138  # hand: 1.3424 / 0.0097 = 138.4
    conduits = k.control_run_conduits.run(92, holds)
    filled = k.control_run_fill_area.run(92, conduits, piece)
    assert conduits == 1 and filled / INCH2 == approx(0.892, abs=5e-4)
    at = ("control-conduit-emt", filled, 0.40)
    assert k.control_run_conduit_size.run(*at) / 0.0254 == approx(2) and k.control_run_conduit_area.run(*at) / INCH2 == approx(3.356)
    assert k.control_run_fill.run(filled, 3.356 * INCH2) == approx(0.2659, abs=1e-4)
    assert 0.4 * 2.036 < 0.892 < 0.4 * 3.356
    # one more pair than fits takes the next size; nothing takes none
    assert k.control_run_conduit_size.run("control-conduit-emt", 139 * piece, 0.40) / 0.0254 == approx(2.5)
    assert k.control_run_conduits.run(0, 1) == 0 and k.control_run_conduit_size.run("control-conduit-emt", 0.0, 0.40) == 0


def test_cores_go_to_their_run():
    # hand: run 1 has 2 x 3 + 4 x 1 = 10 cores by wire, run 2 has 3 x 2 = 6; the last signal of run 1 has no wire in the second way
    cores = over(k.control_run_cores, signal_run=np.array([0, 1, 0]), control_run_number=[1.0, 2.0], signal_cores=[2.0, 3.0, 4.0], signal_count=[3.0, 2.0, 1.0],
                 signal_wired=np.array([[1.0, 1.0], [1.0, 1.0], [1.0, 0.0]]))
    assert cores == approx(np.array([[10, 6], [6, 6]]))


@pytest.mark.parametrize("cores, spare, laid", [(0, 0.2, 0), (5, 0.2, 6), (50, 0.1, 55), (11, 0.25, 14),
                                                (76, 0.0, 76)])  # hand: rounded up, and no more than that
def test_spares(cores, spare, laid):
    assert k.control_run_cores_spare.run(cores, spare) == laid


def test_cables():
    # hand: 92 cores in cables of 37 at most are 3 cables of 31, made with 37: 111 cores laid
    assert k.control_run_cables.run("multicore", 92, 37) == 3 and k.control_run_cables.run("conductors", 92, 37) == 0
    assert k.control_run_cable_cores.run("multicore", 92, 3) == 37 and k.control_run_cable_cores.run("multicore", 0, 0) == 0
    assert k.control_run_cable_cores.run("conductors", 92, 0) == 0 and k.control_run_cable_cores.run("multicore", 38, 1) == 61
    assert k.control_run_cores_laid.run("multicore", 3, 37, 92) == 111 and k.control_run_cores_laid.run("conductors", 0, 0, 92) == 92
    assert k.control_run_pieces.run("multicore", 3, 92) == 3


def test_size_of_a_cable():
    # IEC 60502-1 annex A [read in a reproduction] with inner covering 0.4 mm and sheath 0.035 D + 1 mm, at least 1.8 mm [from memory]
    # hand: 12 x 1.5 mm2: 4.16 x 3.0 + 0.8 = 13.28 mm, 16.88 mm over the sheath; 37 x 2.5 mm2: 7 x 3.4 + 0.8 = 24.6; sheath 1.861: 28.32 mm
    bundle = k.control_run_bundle_diameter.run(12, 3.0e-3)
    assert bundle == approx(13.28e-3) and k.control_run_cable_diameter.run(bundle) == approx(16.88e-3)
    bundle = k.control_run_bundle_diameter.run(37, 3.4e-3)
    assert bundle == approx(24.6e-3) and k.control_run_cable_diameter.run(bundle) == approx(28.322e-3, abs=1e-6)
    assert k.control_run_bundle_diameter.run(0, 3.0e-3) == 0 and k.control_run_cable_diameter.run(0.0) == 0
    assert k.control_run_cable_diameter.run(0.5e-3) == approx(4.1e-3)  # hand: the least sheath on the thinnest wire, 0.5 + 2 x 1.8 mm
    assert k.control_run_piece_area.run("multicore", 20e-3, 0.0) == approx(314.159e-6, rel=1e-6)
    assert c.control_run_core_diameter.run("control-conductors-metric", "1.5 mm²") == approx(3.0e-3)


def test_whole_cables_in_a_conduit():
    # hand: 1037 mm2 allowed in trunking of 50 mm; a cable of 22.8 mm has 408.3 mm2: two fit, so five need three; a cable too large for any still needs one
    area = k.control_run_piece_area.run("multicore", 22.8e-3, 0.0)
    assert k.control_conduit_holds.run(0.45, 2304e-6, area) == 2
    assert k.control_run_conduits.run(5, 2) == 3
    assert k.control_run_fill_area.run(5, 3, area) == approx(2 * area) and k.control_run_fill_area.run(0, 0, area) == 0
    assert k.control_conduit_holds.run(0.45, 2304e-6, 1.1e-3) == 1 and k.control_conduit_holds.run(0.45, 2304e-6, 0.0) == 1


# ---- cost ----

def test_cost_of_a_run():
    # hand: 60 m x (19 x 0.60 + 1 x 9 + 1 x 30) + 2 x 18 x 6 = 3024 + 216 = 3240; three alike 9720
    run = k.control_run_cost.run
    assert run(1, 60, 19, 0.60, 1, 1, "multicore", 9, 30, 18, 6) == approx(3240)
    assert run(3, 60, 19, 0.60, 1, 1, "multicore", 9, 30, 18, 6) == approx(9720)
    # hand: conductors are pulled by the conduit: 60 x (18 x 0.60 + 2 x 9 + 2 x 30) + 216 = 5544
    assert run(1, 60, 18, 0.60, 0, 2, "conductors", 9, 30, 18, 6) == approx(5544)


def test_cost_of_a_way():
    assert k.network_stations.run(3) == 5
    # hand: 2 x 200 m x 18 + 5 x 3000 = 22 200, and nothing where no circuit needs it
    assert k.way_network_cost.run(1, 2, 200, 18, 5, 3000) == approx(22_200) and k.way_network_cost.run(0, 2, 200, 18, 5, 3000) == 0
    assert k.way_networked.run(7) == 1 and k.way_networked.run(0) == 0
    runs = np.array([[100.0, 40.0], [50.0, 5.0]])
    assert over(k.way_cost, control_run_cost=runs, way_network_cost=[0.0, 30.0]) == approx([150, 75])
    # hand: three runs of 55 m with 37 cores and one of 20 m with 12 are 6.345 km and 123 cores
    alike, laid = [3.0, 1.0], np.array([[37.0], [12.0]])
    assert over(k.way_core_length, control_run_count=alike, control_run_cores_laid=laid, control_run_length=[55.0, 20.0]) == approx([6345])
    assert over(k.way_cores, control_run_count=alike, control_run_cores_spare=laid) == approx([123])
    assert over(k.way_cables, control_run_count=alike, control_run_cables=np.array([[2.0], [1.0]])) == approx([7])
    assert over(k.way_conduits, control_run_count=alike, control_run_conduits=np.array([[2.0], [1.0]])) == approx([7])


def test_design_is_one_of_the_ways():
    for way, word in enumerate(("wired_throughout", "as_scheduled", "network_only")):
        chosen = over(c.way_chosen, wiring_method=word, **WAYS)
        assert list(chosen) == [float(way == other) for other in range(3)]
        numbers = [7.0, 11.0, 13.0]
        assert over(k.control_cores, way_chosen=list(chosen), way_cores=numbers) == numbers[way]
        assert over(k.control_conduits, way_chosen=list(chosen), way_conduits=numbers) == numbers[way]
        assert over(k.control_cost, way_chosen=list(chosen), way_cost=numbers) == numbers[way]
        assert over(c.kept_points, way_chosen=list(chosen), way_kept_points=numbers) == numbers[way]
        assert over(e.design_networked, way_chosen=list(chosen), way_networked=numbers) == numbers[way]
    # a sum over ways, not a choice of the largest: half of one and half of another make their mean (hand calculation)
    halves = [0.5, 0.5, 0.0]
    for formula, name in ((k.control_cores, "way_cores"), (k.control_conduits, "way_conduits"), (k.control_cost, "way_cost"),
                          (c.kept_points, "way_kept_points"),
                          (e.design_networked, "way_networked")):
        assert over(formula, way_chosen=halves, **{name: [7.0, 11.0, 13.0]}) == 9
    assert over(c.signal_wire, way_chosen=halves, signal_wired=np.array([[1.0, 1.0, 0.0]])) == approx([1])
    assert over(k.control_saving, way_wires_all=halves, way_cost=[120.0, 90.0, 60.0], control_cost=90.0) == 15
    assert over(k.control_saving, way_wires_all=WAYS["way_wires_all"], way_cost=[120.0, 90.0, 60.0], control_cost=90.0) == 30  # hand: 120 less 90


# ---- the schedule ----

def test_runs():
    ends = {"control_run_from": ["set", "switchgear", "attended_place"], "control_run_to": ["switchgear", "master_control", "set"]}
    assert over(c.control_run_count, **ends, installed_sets=3.0) == approx([3, 1, 3])  # hand: a run of each set, one between two other places
    assert list(over(c.control_run_at_set, **ends)) == [1, 0, 1]
    assert over(c.control_run_number, control_run_length=[62.0, 22.0, 74.0]) == approx([1, 2, 3])
    assert list(over(c.control_run_transformer, control_run_class=["direct_control", "instrument_transformer", "alternating_control"])) == [0, 1, 0]
    assert over(c.signal_points, signal_count=[2.0, 5.0], signal_run=np.array([0, 1]), control_run_count=[3.0, 1.0]) == approx([6, 5])
    assert list(over(c.signal_transformer, signal_run=np.array([1, 0]), control_run_transformer=[0.0, 1.0])) == [1, 0]
    assert over(c.plant_points, signal_points=[6.0, 5.0]) == 11 and over(c.protective_functions, signal_protects=[1.0, 0.0, 1.0]) == 2


@pytest.mark.parametrize("function, said, protects", [
    # common practice of the reference notes: never start, trip, emergency stop or breaker interlock by network alone
    ("start", "by_function", 1), ("breaker_trip", "by_function", 1), ("interlock", "by_function", 1), ("emergency_stop", "by_function", 1),
    ("status", "by_function", 0), ("measurement", "by_function", 0), ("alarm", "by_function", 0), ("breaker_close", "by_function", 0),
    ("status", "yes", 1), ("start", "no", 0), ("emergency_stop", "no", 1), ("measurement", "no", 0)])
def test_what_protects(function, said, protects):
    assert c.signal_protects.run(function, said) == protects
    assert over(c.signal_protects, signal_function=[function], signal_protective=[said])[0] == protects


@pytest.mark.parametrize("path, wire, network", [("hard_wired", 1, 0), ("network", 0, 1), ("both", 1, 1)])
def test_paths(path, wire, network):
    assert c.signal_listed_wire.run(path) == wire and c.signal_listed_network.run(path) == network


def test_wires_and_network_by_way():
    # signals: on wires, on the network, on both, of an instrument transformer; ways: wired throughout, as scheduled, network only
    wired = over(c.signal_wired, way_wires_all=WAYS["way_wires_all"], way_as_scheduled=WAYS["way_as_scheduled"],
                 signal_listed_wire=[1.0, 0.0, 1.0, 1.0], signal_transformer=[0.0, 0.0, 0.0, 1.0])
    assert wired.tolist() == [[1, 1, 0], [1, 0, 0], [1, 1, 0], [1, 1, 1]]
    networked = over(c.signal_networked, way_as_scheduled=WAYS["way_as_scheduled"], way_network_only=WAYS["way_network_only"],
                     signal_listed_network=[0.0, 1.0, 1.0, 0.0], signal_transformer=[0.0, 0.0, 0.0, 1.0])
    assert networked.tolist() == [[0, 0, 1], [0, 1, 1], [0, 1, 1], [0, 0, 0]]
    points, protects = [3.0, 12.0, 3.0, 6.0], [1.0, 0.0, 1.0, 0.0]
    assert over(c.way_kept_points, signal_points=points, signal_wired=wired) == approx([24, 12, 6])  # hand: 3 + 3 + 6 by the schedule
    assert over(c.way_network_points, signal_points=points, signal_networked=networked) == approx([0, 15, 18])
    assert over(c.way_unwired_protection, signal_protects=protects, signal_wired=wired) == approx([0, 0, 2])
    wire = over(c.signal_wire, way_chosen=WAYS["way_network_only"], signal_wired=wired)
    assert list(wire) == [0, 0, 0, 1]
    assert list(over(c.signal_unwired_protection, signal_protects=[1.0, 1.0], signal_wire=[1.0, 0.0])) == [0, 1]
    lost = over(c.signal_unwired_protection, signal_protects=protects, signal_wire=list(wire))
    assert list(lost) == [1, 0, 1, 0] and over(c.unwired_protection, signal_unwired_protection=list(lost)) == 2
    assert over(c.emergency_stops, signal_function=["emergency_stop", "status", "emergency_stop", "start"], signal_points=points,
                signal_wire=[1.0, 1.0, 0.0, 1.0]) == 3
    assert over(c.emergency_stops, signal_function=["emergency_stop"] * 2, signal_points=[3.0, 2.0], signal_wire=[1.0, 1.0]) == 5


def test_ends_of_signals_and_runs():
    run = c.signals_off_their_runs.run
    ends = np.array(["set", "switchgear"], dtype=object), np.array(["master_control", "set"], dtype=object)
    (off,), count, _ = run(np.array(["master_control", "set", "set", "switchgear"], dtype=object),
                           np.array(["set", "switchgear", "switchgear", "master_control"], dtype=object), np.array([0, 1, 0, 0]), *ends)
    # either direction is right; the last two go to the switchgear on the run between set and master control
    assert list(off) == [0, 0, 1, 1] and count == 2


# ---- battery ----

def test_battery():
    # hand: two loops of 0.12 A at a set; idle circuits and those without wires draw nothing, and those away from the set are fed elsewhere
    drawn = over(e.signal_standing_current, signal_rest=["energised", "idle", "energised", "energised"], signal_current=[0.12, 0.5, 0.03, 0.06],
                 signal_count=[2.0, 1.0, 1.0, 3.0],
                 signal_wire=[1.0, 1.0, 0.0, 1.0], signal_run=np.array([0, 0, 0, 1]), control_run_at_set=[1.0, 0.0])
    assert drawn == approx([0.24, 0, 0, 0])
    # hand: 2.5 + 3 x 0.05 + 0.3 = 2.95 A; 3 A for 8 h are 24 Ah
    assert over(e.control_standing_current, controller_current=2.5, signal_standing_current=[0.05, 0.05, 0.05], design_networked=1.0,
                network_station_current=0.3) == approx(2.95)
    assert e.control_battery_charge.run(3.0, 8 * HOUR) == approx(24 * HOUR)


# ---- E51: 5 A, 30 m of 4 mm2, relay 0.5 VA: 7.415 VA; of 2.5 mm2: 11.615 VA ----

@pytest.mark.parametrize("per_km, burden", [(4.61, 7.415), (7.41, 11.615)])
def test_burden_of_a_current_transformer(per_km, burden):
    leads = over(e.ct_lead_resistance, ct_connection=["loop", "star"], ct_star_factor=1.2, ct_run=np.array([0, 0]), control_run_length=[30.0],
                 control_run_resistance=[per_km / KM])
    assert leads == approx([2 * 30 * per_km / KM, 1.2 * 30 * per_km / KM])
    assert e.ct_burden.run(5.0, leads[0], 0.5) == approx(burden, abs=5e-4)
    assert e.ct_burden.run(1.0, leads[0], 0.0) == approx(e.ct_burden.run(5.0, leads[0], 0.0) / 25)  # a fifth of the current, a twenty-fifth of the burden


# ---- E52: factor 20, 15 VA at 5 A (0.6 ohm), winding 0.3 ohm, burden 7.415 VA: 30.2 ----

def test_effective_accuracy_limit_factor():
    assert e.ct_effective_limit_factor.run(20, 0.3, 15.0, 5.0, 7.415) == approx(30.2, abs=0.05)
    assert e.ct_effective_limit_factor.run(20, 0.3, 15.0, 5.0, 15.0) == approx(20)  # at rated burden it is the rated one
    assert e.ct_effective_limit_factor.run(20, 0.3, 15.0, 5.0, 20.0) < 20
    assert e.ct_limit_factor_needed.run(12e3, 1000.0) == 12


def test_voltage_lead():
    # hand: 30 VA / (1.7321 x 110 V) = 157.5 mA; 1.7321 x 0.1575 x 80 m x 7.41 ohm/km = 0.1617 V, 0.147 % of 110 V
    current = e.vt_current.run(30.0, 110.0)
    assert current == approx(0.15746, abs=1e-5)
    drop = e.vt_drop.run(current, np.array([0]), np.array([80.0]), np.array([7.41 / KM]))
    assert drop == approx([0.16167], abs=1e-5) and e.vt_drop_ratio.run(0.16167, 110.0) == approx(0.00147, abs=1e-5)


def test_defaults_are_those_of_the_practice():
    # reference notes, control cabling: spare cores a fifth, fill 40 %, drop 10 % at 24 V, 0.5 % where energy is metered, star 1.2 lengths
    for name, written in {"control_spare": 0.2, "control_conduit_fill_max": 0.4, "control_drop_ratio_max": 0.1, "vt_drop_ratio_max": 0.005,
                          "ct_star_factor": 1.2,
                          "unwired_protection_max": 0, "emergency_stops_min": 1}.items():
        assert terms()[name].default_data() == approx(written), name


# ---- whole books ----

@pytest.fixture(scope="module")
def control_books():
    found = {}
    for slug in SLUGS:
        project = read(ROOT / "projects" / slug)
        chapters = dict.fromkeys((*project.chapters, "starting", "controls")) if project.chapters else ()
        found[slug] = solve(replace(project, chapters=tuple(chapters)))
    return found


PLANT = """
chapters: [plant, loads, controls]
altitude: 100 m
outdoor_temperature_max: 30 degC
outdoor_temperature_min: -5 degC
outdoor_relative_humidity: 40 %
power_frequency: 50 Hz
currency: EUR
rating_class: ESP
set_rated_power: 500 kW
engine_speed: 1500 rpm
installed_sets: 2
spare_sets: 1
loads:
  - {id: all, load_connected_power: 300 kW, load_power_factor: 0.9, load_step_joined: one}
load_steps: [{id: one, step_time: 10 s}]
running_cases: [{id: run, sets_out: 1}]
control_conduit_table: control-trunking-square
control_conductor_temperature: 20 degC
control_runs:
  - {id: near, control_run_from: set, control_run_to: switchgear, control_run_length: 60 m, control_run_conductor: 1.5 mm²}
  - {id: far, control_run_from: set, control_run_to: master_control, control_run_length: 100 m, control_run_conductor: 2.5 mm²}
signals:
  - {id: trip, signal_function: breaker_trip, signal_from: set, signal_to: switchgear, signal_run: near, signal_current: 500 mA}
  - {id: stop, signal_function: emergency_stop, signal_from: master_control, signal_to: set, signal_run: far}
  - {id: values, signal_function: measurement, signal_from: set, signal_to: master_control, signal_run: far, signal_count: 20, signal_path: network}
"""


@pytest.fixture
def made(tmp_path):
    def solve(*changes):
        text = PLANT
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        (tmp_path / "project.yaml").write_text(text, "utf-8")
        return load(tmp_path)
    return solve


def moved(before, after):
    return {value.id for value in before.of_chapter("controls") if value.origin in ("formula", "procedure") and value.id in after.values
            and not np.allclose(value.number, after[value.id].number, rtol=1e-12, equal_nan=True)}


def test_the_worked_drop_in_a_book(made):
    book = made()
    assert book["signal_drop.trip"].number == approx(0.726) and book["signal_drop_ratio.trip"].number == approx(0.03025)  # E49
    assert book["control_run_length_max.near"].number == approx(198.3, abs=0.05)
    assert book["signal_drop.values"].number == 0  # on the network


def test_one_protective_function_on_the_network_fails_and_is_named(made):
    assert made().check("protection_on_wire").word == "holds"
    lost = made(("signal_run: near, signal_current", "signal_run: near, signal_path: network, signal_current"))
    verdict = lost.check("protection_on_wire")
    assert verdict.word == "fails" and verdict.element == "trip" and lost["unwired_protection"].number == 1
    assert lost["kept_points"].number == made()["kept_points"].number - 2  # one in each of two sets
    both = made(("signal_run: near, signal_current", "signal_run: near, signal_path: both, signal_current"))
    assert both.check("protection_on_wire").word == "holds" and both["way_network_points"].number[1] == 42  # hand: 20 and 1 in each of two sets


def test_a_measured_value_may_be_lost(made):
    book = made()
    assert book["signal_wire.values"].number == 0 and book["signal_unwired_protection.values"].number == 0
    said = made(("signal_count: 20, signal_path: network", "signal_count: 20, signal_path: network, signal_protective: \"yes\""))
    assert said.check("protection_on_wire").element == "values"


def test_where_nothing_protects_no_wire_is_judged(made):
    stop = next(line for line in PLANT.splitlines(keepends=True) if "id: stop" in line)
    harmless = made(("signal_function: breaker_trip", "signal_function: measurement"), (stop, ""))
    assert harmless.check("protection_on_wire").word == "nothing to check"


def test_an_emergency_stop_without_wire_fails_twice(made):
    lost = made(("signal_to: set, signal_run: far}", "signal_to: set, signal_run: far, signal_path: network, signal_protective: \"no\"}"))
    assert lost.check("emergency_stop_wired").word == "fails" and lost.check("protection_on_wire").element == "stop"


def test_way_of_wiring_moves_the_design_and_not_the_ways(made):
    before, after = made(), made(("signals:\n", "wiring_method: wired_throughout\nsignals:\n"))
    changed = moved(before, after)
    assert {"way_chosen", "signal_wire", "kept_points", "signal_drop", "control_cores", "design_networked", "control_standing_current"} <= changed
    assert not {"way_cores", "way_conduits", "way_kept_points", "control_run_cores", "plant_points", "protective_functions"} & changed
    assert after["kept_points"].number == after["plant_points"].number == 44


def test_a_longer_run_moves_drop_and_length_only(made):
    before, after = made(), made(("control_run_length: 60 m", "control_run_length: 90 m"))
    assert moved(before, after) == {"signal_drop", "signal_drop_ratio", "way_core_length"}
    assert after["signal_drop.trip"].number == approx(1.5 * before["signal_drop.trip"].number)


def test_a_third_set_moves_what_is_there_for_each_set(made):
    before, after = made(), made(("installed_sets: 2", "installed_sets: 3"))
    assert {"control_run_count", "signal_points", "plant_points", "way_cores", "network_stations"} <= moved(before, after)
    assert after["plant_points"].number == approx(1.5 * before["plant_points"].number)
    assert "control_standing_current" not in moved(before, after)  # that of one set


def test_a_signal_off_its_run_is_named(made):
    wrong = made(("signal_function: emergency_stop, signal_from: master_control", "signal_function: emergency_stop, signal_from: attended_place"))
    assert wrong.check("signals_on_runs").word == "fails" and wrong.check("signals_on_runs").element == "stop"


def test_a_signal_without_run_is_a_fault_with_its_line(made):
    with pytest.raises(Faults) as found:
        made((", signal_run: near", ""))
    assert "missing 'signal_run' of 'trip'" in str(found.value) and "project.yaml:" in str(found.value)


def test_without_prices_nothing_costs(made):
    book = made()
    assert "way_cost" not in book and "control_cost" not in book
    for name in ("ct_burden_ok", "vt_drop_ok", "separation_ok"):
        assert book.check(name).word == "nothing to check", name  # nothing listed, nothing passes
    assert book.check("control_conduit_room").word == book.check("controls_on_battery").word == "undecided"  # no limit is given


def test_separation_is_checked_pair_by_pair(made):
    pairs = """separations:
  - {id: wide, separation_first: direct_control, separation_second: low_voltage_power, separation_distance: 300 mm, separation_distance_min: 150 mm}
  - {id: close, separation_first: network, separation_second: low_voltage_power, separation_distance: 100 mm, separation_distance_min: 200 mm}
signals:
"""
    book = made(("signals:\n", pairs))
    assert book.check("separation_ok").word == "fails" and book.check("separation_ok").element == "close" and book.check("separation_ok").margin == approx(-0.5)
    open_ = made(("signals:\n", pairs.replace(", separation_distance_min: 200 mm", "")))
    assert open_.check("separation_ok").word == "undecided" and open_.check("separation_ok").missing == ("separation_distance_min.close",)


def test_network_alone_fails_in_the_option_that_is_not_chosen(control_books):
    book = control_books["larkmere-hospital"]
    words = {option: book.options[("control_wiring", option)].check("protection_on_wire")
             for option in ("wired_throughout", "network_wired_protection", "network_only")}
    assert {option: verdict.word for option, verdict in words.items()} == {"wired_throughout": "holds", "network_wired_protection": "holds",
        "network_only": "fails"}
    assert words["network_only"].element == "start_order" and book.options[("control_wiring", "network_only")]["emergency_stops"].number == 0
    costs = [book.options[("control_wiring", option)]["control_cost"].number for option in words]
    assert costs == list(book["way_cost"].number) and costs[0] > costs[1] > costs[2]
    assert book.options[("control_wiring", "wired_throughout")].check("control_conduit_room").word == "fails"


def test_demo_books_keep_what_they_say(control_books):
    sizes = {slug: len(book.items["signal"]) for slug, book in control_books.items()}
    assert 25 <= sizes["larkmere-hospital"] <= 35 and 15 <= sizes["high-tarn-waterworks"] <= 20 and 6 <= sizes["cobble-key-exchange"] <= 8
    own = {check.id for check in catalogue().checks["controls"]}
    for slug, book in control_books.items():
        assert book["unwired_protection"].number == 0 and book.check("signals_on_runs").word == "holds"
        for verdict in book.checks:
            if verdict.check.id in own and verdict.word in ("fails", "tight"):
                assert verdict.remark, f"{slug}: {verdict.check.id} {verdict.word} without a word on it"
    assert control_books["high-tarn-waterworks"]["control_saving"].number < 0 < control_books["larkmere-hospital"]["control_saving"].number
    assert "control_cost" not in control_books["cobble-key-exchange"]


def test_residuals_of_the_books(control_books):
    for book in control_books.values():
        for name in ("signal_off_run", "control_run_current"):
            assert book[name].left_over[0] == 0


def test_cores_of_a_book_add_up(control_books):
    """Conserved: cores of all runs are those of all wired signals, by way."""
    for book in control_books.values():
        by_signal = np.einsum("s,s,sw->w", book["signal_cores"].number, book["signal_points"].number, book["signal_wired"].number)
        by_run = np.einsum("r,rw->w", book["control_run_count"].number, book["control_run_cores"].number)
        assert by_run == approx(by_signal)
        assert np.all(book["control_run_fill"].number <= book["control_conduit_fill_max"].number + 1e-12)
