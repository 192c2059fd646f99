"""The algebra of networks against Kirchhoff's laws by hand, numpy's own inverse, and pandapower's admittance matrix."""

import numpy as np
import pandapower
import pytest
from pytest import approx

from basis.physics.network import (
    Branches,
    Sources,
    admittance,
    at_frequency,
    equivalent_frequency_peaks,
    fault_currents,
    loops,
    mismatched,
    peak_currents,
    peak_factor,
    reached,
    seen_at_fault,
    solve,
    source_currents,
    turns_of_buses,
    unbalance,
    unfed,
)


def branches(*rows):
    """Branches of (high, low, ratio, impedance)."""
    high, low, ratio, impedance = zip(*rows) if rows else ((), (), (), ())
    return Branches(np.array(high, dtype=int), np.array(low, dtype=int), np.array(ratio, dtype=float), np.array(impedance, dtype=complex))


def sources(*rows):
    """Sources of (bus, impedance)."""
    return Sources(np.array([row[0] for row in rows], dtype=int), np.array([row[1] for row in rows], dtype=complex))


def solved(made, fed, count):
    return solve(made, fed, turns_of_buses(count, made))


def peaks(net, voltage, share=0.4):
    """(path by path, one factor for the whole network)"""
    slow = at_frequency(net, share)
    return peak_currents(net, slow, voltage, share), equivalent_frequency_peaks(net, slow, voltage, share)


def test_two_impedances_in_series():
    # 1 + 2j Ω behind 3 + 4j Ω: 4 + 6j Ω, |Z| 7.2111 Ω; 100 V give 13.868 A (hand calculation)
    net = solved(branches((0, 1, 1, 3 + 4j)), sources((0, 1 + 2j)), 2)
    assert net.driving == approx(np.array([1 + 2j, 4 + 6j]))
    assert np.abs(fault_currents(net, np.full(2, 100.0))) == approx([100 / abs(1 + 2j), 13.868], rel=1e-4)


def test_two_sources_in_parallel():
    # 2j and 3j Ω in parallel are 1.2j Ω; the currents are in the ratio 3 to 2 (hand calculation)
    net = solved(branches(), sources((0, 2j), (0, 3j)), 1)
    assert net.driving[0] == approx(1.2j)
    given = source_currents(net, fault_currents(net, np.array([12.0])))
    assert np.abs(given[0]) == approx([6, 4])


def test_a_transformer_refers_impedance_by_the_square_of_its_ratio():
    # 0.01j Ω at 400 V seen from 4000 V through 0.02j Ω: (0.01 + 0.02) × 100 = 3j Ω (hand calculation)
    net = solved(branches((0, 1, 10, 0.02j)), sources((1, 0.01j)), 2)
    assert net.driving == approx(np.array([3j, 0.01j]))
    arriving = seen_at_fault(net, source_currents(net, fault_currents(net, np.array([3000.0, 300.0]))))
    assert np.abs(arriving[0]) == approx([1000.0])  # 3000 V over 3 Ω, though the source itself gives ten times as much
    assert np.abs(source_currents(net, fault_currents(net, np.array([3000.0, 300.0]))))[0] == approx([10_000.0])


def test_product_with_the_inverse_is_one_and_currents_add_up():
    draw = np.random.default_rng(3)
    rows = [(n // 2, n + 1, 1.0, complex(*draw.uniform(0.01, 0.1, 2))) for n in range(12)] + [(3, 9, 1.0, 0.05 + 0.1j)]
    net = solved(branches(*rows), sources((0, 0.1j), (4, 0.02 + 0.2j), (11, 0.3 + 0.3j)), 13)
    assert net.residual < 1e-12
    assert net.residual == approx(np.abs(admittance(13, net.branches, net.sources) @ net.impedance - np.eye(13)).max(), abs=1e-12)
    assert net.impedance == approx(np.linalg.inv(admittance(13, net.branches, net.sources)))
    fault = fault_currents(net, np.full(13, 230.0))
    assert seen_at_fault(net, source_currents(net, fault)).sum(axis=1) == approx(fault)


def test_a_wrong_inverse_shows_in_the_residual():
    # one branch of 3 + 4j Ω taken for 3 + 5j Ω: with an ampere fed in, the far bus misses |1 − (3 + 5j)/(3 + 4j)| = 1/5 A (hand calculation)
    made, wrong, fed = branches((0, 1, 1, 3 + 4j)), branches((0, 1, 1, 3 + 5j)), sources((0, 1 + 2j))
    off = unbalance(made, fed, solved(wrong, fed, 2).impedance, np.array([True, True]))
    assert off == approx(0.2)
    assert unbalance(made, fed, solved(made, fed, 2).impedance, np.array([True, True])) < 1e-12


def test_admittance_matrix_is_that_of_pandapower():
    # pandapower 3.5: bus admittance of two lines and a transformer without magnetising current, in per unit of 1 MVA
    outside = pandapower.create_empty_network(f_hz=50, sn_mva=1)
    first, second, third = (pandapower.create_bus(outside, vn_kv=kilovolts) for kilovolts in (10, 10, 0.4))
    pandapower.create_ext_grid(outside, first)
    pandapower.create_line_from_parameters(outside, first, second, 2, 0.3, 0.1, 0, 1)
    pandapower.create_transformer_from_parameters(outside, second, third, 1, 10, 0.4, 1, 6, 0, 0)
    pandapower.runpp(outside)
    theirs = outside._ppc["internal"]["Ybus"].toarray()
    made = branches((0, 1, 1, 0.6 + 0.2j), (1, 2, 25, (0.01 + 1j * np.sqrt(0.06**2 - 0.01**2)) * 0.16))
    volts = np.array([10e3, 10e3, 400])
    ours = admittance(3, made, sources()) * np.outer(volts, volts) / 1e6
    assert ours == approx(theirs, rel=1e-9)


def test_peak_factor():
    # κ = 1.02 + 0.98 e^(−3 R/X): 0.15 gives 1.6449, nought 2.00, very much 1.02 (hand calculation)
    assert peak_factor(np.array([0.15, 0, 50])) == approx([1.6449, 2.0, 1.02], abs=5e-5)


def test_one_path_has_the_peak_of_its_own_ratio_at_any_equivalent_frequency():
    # 0.02 + 0.1j in all: R/X 0.2, κ 1.02 + 0.98 e^(−0.6) = 1.55784; 100 V over 0.10198 Ω (hand calculation)
    net = solved(branches((0, 1, 1, 0.01 + 0.05j)), sources((0, 0.01 + 0.05j)), 2)
    expected = 1.55784 * np.sqrt(2) * 100 / 0.101980
    for share in (0.4, 0.7):
        assert [found[1] for found in peaks(net, np.full(2, 100.0), share)] == approx([expected, expected], rel=1e-5)


def test_peaks_of_unlike_sources_at_one_bus_add_up():
    # 0.1j alone: κ 2; 0.1 + 0.1j: κ 1.02 + 0.98 e^(−3) = 1.06879. 100 V: √2 (2 × 1000 + 1.06879 × 707.11) (hand calculation)
    net = solved(branches(), sources((0, 0.1j), (0, 0.1 + 0.1j)), 1)
    assert peaks(net, np.array([100.0]))[0][0] == approx(np.sqrt(2) * (2 * 1000 + 1.06879 * 707.107), rel=1e-5)


def test_peak_by_paths_in_a_ring_stays_near_the_equivalent_frequency():
    net = solved(branches((0, 1, 1, 0.01 + 0.05j), (1, 2, 1, 0.02 + 0.03j), (0, 2, 1, 0.01 + 0.02j)), sources((0, 0.01 + 0.2j), (2, 0.1 + 0.2j)), 3)
    by_path, whole = peaks(net, np.full(3, 100.0))
    assert by_path == approx(whole, rel=0.03)


def test_peaks_and_parts_through_transformers():
    # three voltages, the middle one fed; 100, 10 and 30 V. Referred to the middle: 0.1j Ω behind 0.02 + 0.04j Ω up and 0.01 + 0.05j Ω to the third.
    # A fault at the first: 10 V over |0.02 + 0.14j| 0.141421 Ω are 70.711 A, 7.0711 A there; R/X 1/7: κ 1.02 + 0.98 e^(−3/7) = 1.65841 (hand calculation)
    net = solved(branches((0, 1, 10, 0.02 + 0.04j), (2, 1, 3, 0.01 + 0.05j)), sources((1, 0.1j)), 3)
    voltage = np.array([100.0, 10.0, 30.0])
    fault = fault_currents(net, voltage)
    assert np.abs(fault) == approx([7.0711, 100, 10 / abs(0.01 + 0.15j) / 3], rel=1e-5)
    assert seen_at_fault(net, source_currents(net, fault)).sum(axis=1) == approx(fault)
    for found in peaks(net, voltage):
        assert found[:2] == approx([1.65841 * np.sqrt(2) * 7.0711, 2 * np.sqrt(2) * 100], rel=1e-5)
    # two sources: what the third bus feeds into a fault at the second comes by its transformer, 0.1j and 0.05j Ω in series: κ 2 for all (hand calculation)
    ring = solved(branches((0, 1, 10, 0.04j), (2, 1, 3, 0.05j)), sources((0, 4j), (2, 0.9j)), 3)
    for found in peaks(ring, voltage):
        assert found[1] == approx(2 * np.sqrt(2) * (10 / 0.08 + 10 / 0.15))
    # property: a ten-millionth of the voltage drives a ten-millionth of the peak
    assert peaks(net, voltage * 1e-7)[0] == approx(peaks(net, voltage)[0] * 1e-7, rel=1e-9)


def test_slowing_down_leaves_resistance_alone():
    net = at_frequency(solved(branches((0, 1, 1, 3 + 4j)), sources((0, 1 + 2j)), 2), 0.5)
    assert net.driving[1] == approx(4 + 3j)


def test_a_bus_that_nothing_reaches_has_no_current():
    made = branches((0, 1, 1, 1j), (2, 3, 1, 1j))
    assert reached(4, made, np.array([0])).tolist() == [True, True, False, False]
    net = solved(made, sources((0, 1j)), 4)
    assert np.abs(fault_currents(net, np.full(4, 10.0))) == approx([10, 5, 0, 0])
    by_path, whole = peaks(net, np.full(4, 10.0))
    assert by_path[2:].tolist() == [0, 0] and whole[3] == 0


def test_without_any_source_there_is_nothing():
    net = solved(branches((0, 1, 1, 1j)), sources(), 2)
    assert np.abs(fault_currents(net, np.full(2, 10.0))).tolist() == [0, 0] and net.residual == 0


def test_turns_follow_the_transformers_both_ways():
    # 11 kV, 400 V, 400 V, 3.3 kV: 11/0.4 down, a feeder, 3.3/0.4 up (hand calculation)
    made = branches((0, 1, 27.5, 1j), (1, 2, 1, 1j), (3, 2, 8.25, 1j))
    assert turns_of_buses(5, made) == approx([1, 1 / 27.5, 1 / 27.5, 0.3, 1])


@pytest.mark.parametrize(("pairs", "closing"), [([(0, 1), (1, 2)], []), ([(0, 1), (1, 2), (2, 0)], [2]), ([(0, 1), (1, 0)], []),
                                                ([(0, 1), (2, 3), (1, 2), (3, 0)], [3])])
def test_rings(pairs, closing):
    assert loops(4, pairs) == closing


def test_what_may_be_wrong_is_told():
    made = branches((0, 1, 1, 1j))
    assert [(trouble.item, trouble.what.split()[0]) for trouble in unfed(4, made, np.array([0]), np.array([3]))] == [(2, "nothing"), (3, "no")]
    # 433 V are 8 % above 400 V, 480 V 20 %, 450 V 12.5 %, 360 V 10 % below (hand calculation)
    found = mismatched("transformer_low_voltage", np.array([433.0, 480.0, 450.0, 360.0]), np.full(4, 400.0), 0.12)
    assert [(trouble.item, trouble.what) for trouble in found] == [(1, "480 V at a bus of 400 V"), (2, "450 V at a bus of 400 V")]
