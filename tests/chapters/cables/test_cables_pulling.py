"""Cables as installed: bends, pulling, conduits and supports against worked examples, hand calculations and scipy."""

import math

import numpy as np
import pytest
from pytest import approx
from scipy.integrate import solve_ivp

from basis.chapters.cables import pulling as p
from basis.language.faults import ItemTroubles

LBF, FT, INCH, LB, MM2, KCMIL, G = 4.4482216152605, 0.3048, 0.0254, 0.45359237, 1e-6, 5.067074790974977e-7, 9.80665
NAN = math.nan


# Bends

def test_bend_multiple_and_radius():
    # NFPA 70, 300.34 [from memory]: shielded above 1000 V twelve diameters, unshielded eight; 12 × 56 mm = 672 mm
    assert p.cable_bend_multiple.run(11e3) == 12
    assert p.cable_bend_multiple.run(1000.0) == 8
    assert p.cable_bend_multiple.run(1020.0) == 12
    assert p.cable_bend_radius_min.run(12, 0.056) == approx(0.672)


# What is pulled

def test_what_is_pulled():
    assert p.cables_in_circuit.run("single_core") == 3 and p.cables_in_circuit.run("three_core") == 1
    assert p.cable_cores.run("single_core") == 1 and p.cable_cores.run("three_core") == 3
    assert p.cable_pulled_together.run(4) == 4
    # 1.5 lb/ft is 2.2322 kg/m and weighs 1.5 lbf/ft, 21.89 N/m
    assert p.cable_pull_weight.run(1, 1.5 * LB / FT, G) == approx(1.5 * LBF / FT)
    assert p.cable_pull_weight.run(3, 2.0, G) == approx(58.84, abs=0.005)


def test_largest_tension_by_the_pulling_guide():
    # 0.008 lbf a circular mil: three conductors of 500 kcmil 12 000 lbf, 53.4 kN; aluminium 0.006: 9000 lbf; a woven grip 1000 lbf [read in a reproduction]
    stress = 8 * LBF / KCMIL, 6 * LBF / KCMIL
    run = p.cable_pull_tension_max.run
    assert run("eye", "copper", *stress, 3, 1, 500 * KCMIL, 1000 * LBF) / LBF == approx(12_000)
    assert run("eye", "copper", *stress, 1, 3, 500 * KCMIL, 1000 * LBF) == approx(53.4e3, abs=50)
    assert run("eye", "aluminium", *stress, 3, 1, 500 * KCMIL, 1000 * LBF) / LBF == approx(9000)
    assert run("grip", "copper", *stress, 3, 1, 500 * KCMIL, 1000 * LBF) / LBF == approx(1000)
    assert run("grip", "copper", *stress, 1, 1, 20 * KCMIL, 1000 * LBF) / LBF == approx(160)      # a thin conductor gives way before the grip
    assert run("grip", "aluminium", *stress, 1, 3, 20 * KCMIL, 1000 * LBF) / LBF == approx(360)
    assert stress[0] / 1e6 == approx(70, rel=0.01)   # about 70 N/mm²


# Tension along a run

def pulled(sections, weight=1.5 * LBF / FT, friction=0.3, back=0.0, direction="better", corrections=(), runs=None):
    """Results of one cable; a section is (length, slope, angle, radius)."""
    length, slope, angle, radius = (np.array(column, dtype=float) for column in zip(*sections))
    number = len(sections)
    run = np.array(runs if runs is not None else [-1] * number)
    return p.pull.run(np.zeros(number, dtype=int), run, np.zeros(len(corrections), dtype=int), np.array(corrections, dtype=float), length, slope, angle, radius,
                      np.array([weight]), np.array([friction]), np.array([back]), np.array([direction], dtype=object))


def test_worked_example_of_a_straight_and_a_bend():
    # 200 ft, 1.5 lbf/ft, friction 0.3, then 90° of 2 ft: 90 lbf, 144.2 lbf, 72.1 lbf/ft [worked example, read in a reproduction]
    (after, bend, listed, _), short, _ = pulled([(200 * FT, 0, math.pi / 2, 2 * FT)], direction="as_listed")
    assert after[0] / LBF == approx(144.2, abs=0.05)
    assert bend[0] == after[0] == listed[0]
    assert p.side_wall_pressure.run(math.pi / 2, 1.0, bend[0], 2 * FT) / (LBF / FT) == approx(72.1, abs=0.05)
    assert pulled([(200 * FT, 0, 0, NAN)])[0][0][0] / LBF == approx(90)
    assert short == 0


def test_the_other_end_may_be_better():
    # the same run reversed: the bend comes first with no tension in it, then 90 lbf; as listed 144.2 lbf. Several sections: hand calculation
    sections = [(200 * FT, 0, math.pi / 2, 2 * FT)]
    (after, bend, listed, turned), *_ = pulled(sections)
    assert (after[0] / LBF, bend[0], turned[0] / LBF) == (approx(90), 0, approx(90))
    assert listed[0] / LBF == approx(144.2, abs=0.05)
    assert pulled(sections, direction="as_listed")[0][0][0] / LBF == approx(144.2, abs=0.05)
    # 100 ft, bend 45°, 50 ft, bend 90°, 20 ft: as listed (45·1.2657 + 22.5)·1.6019 + 9 = 136.3; reversed (9·1.6019 + 22.5)·1.2657 + 45 = 91.7
    three = [(100 * FT, 0, math.pi / 4, 1.0), (50 * FT, 0, math.pi / 2, 1.0), (20 * FT, 0, 0, NAN)]
    (after, bend, listed, turned), *_ = pulled(three)
    assert (listed[0] / LBF, turned[0] / LBF) == (approx(136.3, abs=0.05), approx(91.7, abs=0.05))
    assert after / LBF == approx([91.7, 36.92, 9.0], abs=0.05)     # at the end of each section in the direction of pulling: from the last to the first
    assert bend / LBF == approx([46.73, 14.42, 0.0], abs=0.05)
    reversed_by_order = pulled(three, direction="reversed")[0]
    assert reversed_by_order[0] == approx(after)


def test_slope_and_drum():
    # 30 m up 20° at 20 N/m, friction 0.4: 600·(0.4·cos 20° + sin 20°) = 430.7 N; down it runs by itself only past tan⁻¹ 0.4 = 21.8°; 500 N off the drum
    # adds (hand calculation)
    up = [(30.0, math.radians(20), 0.0, NAN)]
    (_, _, listed, turned), *_ = pulled(up, weight=20.0, friction=0.4, back=0.0)
    assert listed[0] == approx(430.7, abs=0.05)
    assert turned[0] == approx(600 * (0.4 * math.cos(math.radians(20)) - math.sin(math.radians(20))), abs=0.05)
    steep, down = ([(30.0, math.radians(slope), 0.0, NAN)] for slope in (40, -40))
    assert pulled(steep, weight=20.0, friction=0.4)[0][3][0] == 0          # a rope cannot push
    assert pulled(down, weight=20.0, friction=0.4)[0][2][0] == 0
    assert pulled(up, weight=20.0, friction=0.4, back=500.0)[0][2][0] == approx(930.7, abs=0.05)
    # frictionless, the tension is the bare lift of the weight, whatever the bends
    assert pulled([(30.0, math.radians(20), math.pi / 2, 1.0)], weight=20.0, friction=1e-9,
                  direction="as_listed")[0][0][0] == approx(600 * math.sin(math.radians(20)), rel=1e-6)


def test_pull_against_the_differential_equation():
    # scipy: along the straight dF/ds = w(μ cos α + sin α), round the bend dF/dθ = μF; 80 m at 5°, then 60°
    w, mu, slope, angle = 72.6, 0.38, math.radians(5), math.radians(60)
    straight = solve_ivp(lambda s, force: [w * (mu * math.cos(slope) + math.sin(slope))], (0, 80), [250.0], rtol=1e-9).y[0, -1]
    end = solve_ivp(lambda s, force: mu * force, (0, angle), [straight], rtol=1e-9).y[0, -1]
    assert pulled([(80.0, slope, angle, 1.2)], weight=w, friction=mu, back=250.0, direction="as_listed")[0][0][0] == approx(end, rel=1e-6)


def test_several_cables_press_harder():
    # weight correction 1.333 in the conduit: 200 ft × 1.5 × 0.3 × 1.333 = 120 lbf (hand calculation)
    found, *_ = pulled([(200 * FT, 0, 0, NAN)], corrections=(4 / 3,), runs=[0])
    assert found[0][0] / LBF == approx(120)


def test_a_tension_below_the_bare_lift_is_told():
    # 30 m up 20° at 20 N/m lift 205.2 N: 200 N fall short by 5.2 N; a cable down as listed has the same lift from its other end: 190 N, 15.2 N short
    runs = np.array([0, 1]), np.array([30.0, 30.0]), np.radians([20.0, -20.0]), np.array([20.0, 20.0])
    for first, second, short in ((200.0, 210.0, 5.2), (206.0, 190.0, 15.2), (NAN, 190.0, 15.2), (206.0, 210.0, 0.0)):
        assert p._balance(*runs, np.array([[first, 0.0], [0.0, second]])) == approx(short, abs=0.02)


@pytest.mark.parametrize(("changed", "term"), [({"sections": [(10.0, 0, 1.0, NAN)]}, "pull_bend_radius"),
                                               ({"sections": [(10.0, 0, 5e-4, NAN)]}, "pull_bend_radius"),
                                               ({"sections": [(10.0, 0, 0, NAN)], "corrections": (1.0,), "runs": [0]}, "pull_conduit")])
def test_a_pull_that_cannot_be_meant_is_told(changed, term):
    if term == "pull_conduit":
        with pytest.raises(ItemTroubles) as told:   # the conduit holds cable 1, cable 0 is pulled
            p.pull.run(np.array([0]), np.array([0]), np.array([1]), np.array([1.0]), *(np.array([one]) for one in (10.0, 0.0, 0.0, NAN)),
                       *(np.array([one, one]) for one in (20.0, 0.3, 0.0)), np.array(["better", "better"], dtype=object))
    else:
        with pytest.raises(ItemTroubles) as told:
            pulled(**changed)
    assert [trouble.term for trouble in told.value.troubles] == [term]


def test_an_unknown_weight_leaves_the_tension_unknown():
    found, short, _ = pulled([(200 * FT, 0, 1.0, 2.0)], weight=NAN)
    assert np.isnan(found[0][0]) and short == 0


def test_limit_of_the_section_and_pressure():
    assert p.pull_tension_max.run(1, np.array([20e3, 53.4e3])) == 53.4e3
    assert p.side_wall_pressure.run(0.0, 1.0, 500.0, 2.0) == 0
    # three in a cradle of weight correction 1.333: (3·1.333 − 2)/3 = 0.667 of the pressure on the middle one [pulling guides, from memory]; one alone the whole
    cables, correction = np.array([3.0, 1.0, 6.0]), np.array([4 / 3, 1.0, 1.5])
    assert p.pull_wall_share.run(0, cables, correction) == approx(2 / 3)
    assert p.pull_wall_share.run(1, cables, correction) == 1
    assert p.pull_wall_share.run(2, cables, correction) == 1
    # three cables that just do not press on each other share no less than a third each
    assert p.pull_wall_share.run(0, cables, np.array([1.0])) == approx(1 / 3)
    assert p.side_wall_pressure.run(1.0, 2 / 3, 9000.0, 1.5) == approx(4000)


# Conduits

AREA_OF_500, EMT_2_5, EMT_2 = 0.7073 * INCH ** 2, 5.858 * INCH ** 2, 3.356 * INCH ** 2


def test_fill_of_the_code_example():
    # three 500 kcmil THHN and one 1/0 AWG: 3 × 0.7073 + 0.1855 = 2.307 in²; 2-1/2 in EMT holds 40 % of 5.858 = 2.343 in², 2 in 40 % of 3.356 = 1.342 in²
    # (NFPA 70 Chapter 9)
    diameter = math.sqrt(4 / math.pi * AREA_OF_500)
    for trade, fits in [("2-1/2 in", True), ("2 in", False)]:
        bore = p.conduit_run_diameter.run("nec-ch9-table-4-emt", trade)
        fill = p.conduit_run_fill.run(3, 0, np.array([diameter]), 0.1855 * INCH ** 2, bore)
        assert (fill <= p.conduit_run_fill_max.run(3, 1)) is np.bool_(fits)
    bore = p.conduit_run_diameter.run("nec-ch9-table-4-emt", "2-1/2 in")
    assert bore / INCH == approx(2.731, abs=5e-4)
    assert p.conduit_run_fill.run(3, 0, np.array([diameter]), 0.1855 * INCH ** 2, bore) == approx(2.307 / 5.858, abs=1e-4)
    assert p.conduit_cables.run(2, 0, np.array([3.0])) == 6


def test_fill_allowed_by_number():
    # NFPA 70 Chapter 9 Table 1: 53 %, 31 %, 40 % [read in a reproduction]; the earth conductor counts
    assert [p.conduit_run_fill_max.run(cables, others) for cables, others in [(1, 0), (2, 0), (1, 1), (2, 1), (3, 0), (3, 1)]] == [0.53, 0.31, 0.31, 0.40, 0.40,
        0.40]


def test_jam_ratio():
    # NFPA 70 Chapter 9: 2.8 to 3.2; cable guides 1.05·D/d from 2.8 [read in a reproduction], so from 2.667. 2.731/0.949 = 2.878 lies within, 0.211 above
    # the lower end
    ratio = p.conduit_jam_ratio.run(2.731, 0, np.array([0.949]))
    assert ratio == approx(2.878, abs=5e-4)
    run = p.conduit_jam_distance.run
    assert run(3, ratio) == approx(-0.211, abs=5e-4)
    assert run(3, 3.54) == approx(0.34, abs=1e-9)
    assert run(3, 2.50) == approx(0.1667, abs=5e-5)
    assert run(3, 3.19) == approx(-0.01, abs=1e-9)
    for jams in (2.8, 2.9, 3.0, 3.1, 2.8 / 1.04, 2.99 / 1.05):
        assert run(3, jams) < 0
    assert np.isnan([run(1, 3.0), run(4, 3.0)]).all()    # one or four cannot wedge: there is no such distance


def test_weight_correction():
    # three in a cradle: 1 + 4/3·(d/(D − d))²; D/d = 3: 1.333, 4: 1.148; four in a diamond 1 + 2·(d/(D − d))²: 1.5 (pulling guides, from memory; hand
    # calculation)
    run = p.conduit_weight_correction.run
    assert run(1, 3.0) == 1
    assert run(3, 3.0) == approx(4 / 3)
    assert run(3, 4.0) == approx(1.1481, abs=5e-5)
    assert run(4, 3.0) == approx(1.5)
    assert run(4, 4.0) == approx(1.2222, abs=5e-5)
    # two equal round cables side by side: the pressure on the wall by statics is 1/cos φ, sin φ = d/(D − d), and the cradle's value stays above it
    assert run(2, 3.0) >= 1 / math.cos(math.asin(1 / 2))
    # to the next order, three in a cradle: outer two lean on the middle one; the sum of pressures goes to three weights in a wide conduit
    assert run(3, 100.0) == approx(1, abs=2e-4)


# Supports

def test_weight_on_supports():
    # 7 circuits of 4 cables of 3.1 kg/m: 851 N/m; with 40 N/m of covers 891 N/m; a second ladder with 5.6 kg/m: 54.9 N/m (hand calculation)
    (loads,), balance, _ = p.weight_on_supports.run(np.array([0, 1, -1]), np.array([7.0, 1.0, 1.0]), np.array([4.0, 1.0, 1.0]), np.array([3.1, 5.6, NAN]), G,
                                                    np.array([40.0, 0.0]))
    assert loads == approx([851.2, 54.92], abs=0.05)
    assert balance == approx(0, abs=1e-9)
    assert p.support_load.run(851.2, 40.0) == approx(891.2)
