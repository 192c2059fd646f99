"""Vibration isolation against hand calculations, numpy's linear algebra and scipy's integration of the equation of motion.

Checks numbered N30 to N34 are figures of the project's reference notes on noise and structure, section 6, worked by hand or from the formula.
"""

import numpy as np
import pytest
import scipy.constants
from pytest import approx
from scipy.integrate import solve_ivp
from scipy.optimize import lsq_linear, minimize_scalar
from scipy.signal import TransferFunction, freqresp
from scipy.special import fresnel

from basis.chapters.isolation import chapter as c
from basis.chapters.isolation import motion
from basis.language.terms import terms

G = scipy.constants.g  # CODATA: 9.80665 m/s², exact
SIX = np.array([[-1.8, -0.6], [0.0, -0.6], [1.8, -0.6], [-1.8, 0.6], [0.0, 0.6], [1.8, 0.6]])


def natural(deflection, ratio=1.0, factor=1.0):
    return c.natural_frequency.run("springs", ratio, G, deflection, factor, None)


# ---- weight and its sharing ----

def test_weight_and_spread():
    assert c.sprung_mass.run(9000.0, 1500.0) == 10500.0  # hand
    assert c.sprung_weight.run(9000.0, G) == approx(88_260, abs=0.5)  # N33: 9000 kg weigh 88 260 N
    assert c.mount_spread.run(SIX.T) == approx([3.6, 1.2])  # hand: 1.8 - (-1.8), 0.6 - (-0.6); axis last as plain Python


def test_n33_loads_of_six_mounts():
    # N33: 9000 kg, x ±1.8 m and 0, y ±0.6 m, centre of gravity (0.25, 0.03) m: 12 381 15 445 18 510 | 10 910 13 974 17 039 N, sum 88 260 N
    (loads, share), residual, _ = c.mount_loads.run(9000 * G, np.array([0.25, 0.03]), SIX, np.full(6, 1e6))
    assert loads[3:] == approx([12_381, 15_445, 18_510], abs=0.6) and loads[:3] == approx([10_910, 13_974, 17_039], abs=0.6)
    assert loads.sum() == approx(88_260, abs=0.5) and residual < 1e-12
    assert 6366 * share == approx([-5305 / 3] * 3 + [5305 / 3] * 3, rel=5e-4)  # N33: ±5305 N a side at 1.2 m
    assert [share.sum(), share @ SIX[:, 0], share @ SIX[:, 1]] == approx([0, 0, 1], abs=1e-9)  # statics: a torque about the length and nothing else


def test_what_is_left_over_is_the_worst_balance():
    # one mount a million million times stiffer than the rest leaves digits behind; statics: the loads found against weight and both moments
    weight, centre, stiffness = 90e3, np.array([0.2, -0.1]), np.array([1e18, *[1e6] * 5])
    (loads, _), residual, _ = c.mount_loads.run(weight, centre, SIX, stiffness)
    off = np.abs([loads.sum() - weight, *(loads @ SIX - weight * centre)]) / weight
    assert residual == approx(off.max(), rel=0.01) and off.max() > 1e-7 and off.min() < 0.5 * off.max()


def test_no_mounts_have_no_loads():
    (loads, share), residual, _ = c.mount_loads.run(9000 * G, np.zeros(2), np.zeros((0, 2)), np.zeros(0))
    assert loads.shape == share.shape == (0,) and residual == 0


def test_equal_mounts_follow_the_closed_form():
    # handbook form W/n + W ex xi/Σx² + W ey yi/Σy², coordinates from the centroid
    weight, (ex, ey) = 162e3, (0.18, -0.04)
    (loads, _), _, _ = c.mount_loads.run(weight, np.array([ex, ey]), SIX, np.full(6, 2e6))
    x, y = SIX.T
    assert loads == approx(weight / 6 + weight * ex * x / np.sum(x ** 2) + weight * ey * y / np.sum(y ** 2))


def test_unequal_mounts_against_least_energy():
    # another principle: of all loads in balance a spring support takes those with the least strain energy Σ F²/2k (Menabrea); null space by SVD
    draw = np.random.default_rng(3)
    place, stiffness = draw.uniform(-2, 2, (7, 2)), draw.uniform(0.4e6, 3e6, 7)
    weight, centre = 90e3, np.array([0.2, -0.1])
    (loads, _), residual, _ = c.mount_loads.run(weight, centre, place, stiffness)
    balance = np.vstack([np.ones(7), place.T])
    wanted = weight * np.array([1.0, *centre])
    base, null = np.linalg.pinv(balance) @ wanted, np.linalg.svd(balance)[2][3:].T
    free = lsq_linear(null / np.sqrt(stiffness)[:, None], -base / np.sqrt(stiffness), tol=1e-14).x
    assert loads == approx(base + null @ free, rel=1e-6) and residual < 1e-12


def test_stiffer_mount_carries_more():
    stiffness = np.array([1e6, 1e6, 1e6, 1e6, 1e6, 2e6])
    equal, stiff = (c.mount_loads.run(90e3, np.zeros(2), SIX, k)[0][0] for k in (np.full(6, 1e6), stiffness))
    assert stiff[5] > equal[5] and stiff.sum() == approx(90e3) and stiff @ SIX == approx([0, 0], abs=1e-6)


@pytest.mark.parametrize("place", [SIX[:2], SIX[:3]])
def test_mounts_in_a_line_hold_nothing(place):
    with pytest.raises(ValueError, match="not all in one line"):
        c.mount_loads.run(90e3, np.zeros(2), place, np.full(len(place), 1e6))


def test_stiffness_that_shares_and_deflection():
    assert c.mount_support_stiffness.run("solid", 1e6, 2.5e6) == 1e6 and c.mount_support_stiffness.run("springs", 1e6, 2.5e6) == 2.5e6
    assert c.mount_deflection.run(27e3, 1.08e6, "springs") == approx(0.025)  # hand: 27 kN / 1080 N/mm = 25 mm
    assert c.mount_deflection.run(27e3, 1.08e6, "solid") == 0


# ---- torque ----

def test_n33_torque():
    # N33: 1 MW at 1500 r/min, 6366 N·m; ±5305 N at 1.2 m
    torque = c.engine_torque.run(1e6, 25.0)
    assert torque == approx(6366, abs=0.5) and c.engine_torque.run(1e6, 30.0) < torque
    share = c.mount_loads.run(1.0, np.zeros(2), SIX, np.full(6, 1e6))[0][1]
    assert c.torque_side_load.run(torque, share) == approx(5305, abs=0.5)
    assert c.torque_side_load.run(torque, share) == approx(np.sum(torque * share[3:]))  # the side that is lifted pulls as much


def test_where_the_torque_is_borne():
    assert c.steady_mount_torque.run("through_mounts", 6366.0) == 6366.0 and c.steady_mount_torque.run("within_base", 6366.0) == 0
    # hand: 15 kN, 0.2778 1/m, 6366 N·m: ± 1768.5 N
    assert c.mount_load_high.run(15e3, -0.27778, 6366.0) == approx(16_768.4, abs=1)
    assert c.mount_load_low.run(15e3, -0.27778, 6366.0) == approx(13_231.6, abs=1)
    assert c.mount_load_low.run(1e3, 0.27778, 6366.0) < 0  # comes loose


def test_short_circuit():
    assert c.fault_torque.run(9.0, 6366.0) == approx(57_294)  # hand
    assert c.fault_side_load.run(57_294.0, np.array([-0.27778] * 3 + [0.27778] * 3)) == approx(57_294 / 1.2, rel=1e-4)  # hand: couple over 1.2 m


# ---- natural frequency ----

def test_n30_natural_frequency():
    # N30: 25 mm 3.152 Hz; 50 mm 2.229; 1.0 in 3.13; elastomer 6 mm, 1.4 times stiffer in motion, 7.613 Hz; 5 Hz and 9.936 mm
    assert natural(0.025) == approx(3.152, abs=5e-4) and natural(0.050) == approx(2.229, abs=6e-4)
    assert natural(0.0254) == approx(3.13, abs=5e-3)
    assert natural(0.006, 1.4) == approx(7.613, abs=5e-3)
    assert natural(0.009936) == approx(5.0, abs=5e-4)
    assert natural(0.025, factor=0.5) == approx(3.152 / 2, abs=5e-4)
    assert c.natural_frequency.run("solid", 1.0, G, 0.0, 1.0, 31.0) == 31.0


def test_natural_frequency_against_the_eigenvalue():
    # numpy: eigenvalue of K = k Σ 1 against M for the vertical motion of a mass on six springs
    mass, stiffness = 9000.0, 6 * 6.0e5
    omega = np.sqrt(np.linalg.eigvals(np.array([[stiffness / mass]])).real[0])
    deflection = c.static_deflection.run("springs", c.sprung_weight.run(mass, G), c.mounts_stiffness.run(np.full(6, 6.0e5)))
    assert deflection == approx(mass * G / stiffness) and natural(deflection) == approx(omega / (2 * np.pi))
    assert c.static_deflection.run("solid", 88e3, 3.6e6) == 0


def test_stiffness_in_motion():
    assert c.stiffness_ratio.run("elastomer", 1.4) == 1.4 and c.stiffness_ratio.run("springs", 1.4) == 1
    assert float(terms()["dynamic_stiffness_ratio"].default) == 2.0  # common range of elastomer 1.2 to 2.0; the default is its stiff end


def test_n34_floor():
    # N34: mounts a fifth as stiff as the floor, natural frequency times 0.9129
    assert c.support_factor.run("suspended", 1.0, 2e6, 1e7) == approx(0.9129, abs=5e-5)
    assert c.support_factor.run("suspended", 1.4, 2e6, 1.4e7) == approx(0.9129, abs=5e-5)  # what counts is stiffness in motion
    assert c.support_factor.run("ground", 1.0, 2e6, None) == 1
    assert c.floor_deflection_ratio.run("suspended", 2e6, 1e7) == approx(0.2) and c.floor_deflection_ratio.run("ground", 2e6, None) == 0


def test_floor_factor_against_two_springs_in_a_row():
    # numpy: a light mass between floor and mounts leaves one low mode, that of the springs in series
    k, floor, mass, light = 2e6, 1e7, 5000.0, 1e-6
    stiffness = np.array([[k, -k], [-k, k + floor]])
    lowest = np.sqrt(np.min(np.linalg.eigvals(np.linalg.inv(np.diag([mass, light])) @ stiffness).real)) / (2 * np.pi)
    assert natural(mass * G / k, factor=c.support_factor.run("suspended", 1.0, k, floor)) == approx(lowest, rel=1e-6)


def test_floor_frequency_gap():
    assert c.floor_frequency_gap.run("suspended", 20.0, 25.0) == approx(0.2) and c.floor_frequency_gap.run("suspended", 30.0, 25.0) == approx(0.2)  # hand
    assert c.floor_frequency_gap.run("ground", None, 25.0) == 1


# ---- orders and what passes ----

def test_orders():
    # V12 at 1500 r/min: half order 12.5, first 25, firing 150 Hz (N10 of the same notes for the firing)
    (orders,), residual, _ = c.engine_orders.run(12.0, 2.0)
    assert orders == approx([0.5, 1, 6]) and residual == 0
    assert c.excitation_frequency.run(orders, 25.0) == approx([12.5, 25, 150])
    assert c.engine_orders.run(16.0, 2.0)[0][0] == approx([0.5, 1, 8])  # hand
    assert c.frequency_ratio.run(12.5, 3.152) == approx(3.966, abs=5e-4)  # hand


def test_two_strokes_have_no_half_order():
    # notes on noise, section 4: firing four-stroke cylinders n/120, two-stroke cylinders n/60; hand: twelve cylinders at 1500 r/min fire at 300 Hz, and
    # the cycle is a turn, 25 Hz
    assert [c.turns_per_cycle.run(strokes) for strokes in ("four_stroke", "two_stroke")] == [2, 1]
    (orders,), residual, _ = c.engine_orders.run(12.0, c.turns_per_cycle.run("two_stroke"))
    assert c.excitation_frequency.run(orders, 25.0) == approx([25, 25, 300]) and residual == 0


def test_block_of_a_bolted_set():
    # hand: 31 Hz lies 24 % above first order at 25 Hz, 148 % above half order
    assert c.block_frequency_gap.run(31.0, np.array([12.5, 25.0])) == approx([1.48, 0.24])
    assert c.block_frequency_gap.run(19.0, 25.0) == approx(0.24)


def test_n31_transmissibility():
    # N31: 25 Hz on 25 mm (r 7.931): 0.01615 undamped, 0.02062 at 5 %, 0.03028 at 10 %; half order at 5 % 0.0730; at resonance 5 % 10.05
    ratio = c.frequency_ratio.run(25.0, natural(0.025))
    assert ratio == approx(7.931, abs=2e-3)
    for damping, printed in ((0.0, 0.01615), (0.05, 0.02062), (0.10, 0.03028)):
        assert c.transmissibility.run(damping, ratio) == approx(printed, abs=1e-5)
    assert c.transmissibility.run(0.05, ratio / 2) == approx(0.0730, abs=5e-5) and c.transmissibility.run(0.05, 1.0) == approx(10.05, abs=5e-3)
    assert c.curve_transmissibility.run(0.05, ratio / 2) == approx(0.0730, abs=5e-5) and c.curve_transmissibility.run(0.05, 1.0) == approx(10.05, abs=5e-3)
    assert c.isolation_efficiency.run(0.0730) == approx(0.927)  # hand
    assert c.transmissibility.run(0.3, np.sqrt(2)) == approx(1) == c.transmissibility.run(0.01, np.sqrt(2))  # crosses one at √2 for any damping


@pytest.mark.parametrize("damping, ratio", [(0.02, 0.5), (0.05, 1.0), (0.1, 1.4), (0.05, 3.0), (0.3, 6.0)])
def test_transmissibility_against_transfer_function(damping, ratio):
    # scipy.signal: (2ζs + 1)/(s² + 2ζs + 1) is force at the base over exciting force, in units of the natural frequency
    _, response = freqresp(TransferFunction([2 * damping, 1], [1, 2 * damping, 1]), [ratio])
    assert c.transmissibility.run(damping, ratio) == approx(abs(response[0]), rel=1e-9)
    assert c.curve_transmissibility.run(damping, ratio) == approx(abs(response[0]), rel=1e-9)


def test_transmissibility_against_integration():
    # scipy.solve_ivp: the equation of motion, run until the free motion has died; amplitude of k x + c x' over force of one
    damping, ratio = 0.1, 2.5
    found = solve_ivp(lambda t, y: [y[1], np.cos(ratio * t) - 2 * damping * y[1] - y[0]], (0, 160), [0, 0], rtol=1e-9, atol=1e-11, dense_output=True)
    times = np.linspace(160 - 4 * np.pi / ratio, 160, 4001)
    x, speed = found.sol(times)
    assert c.transmissibility.run(damping, ratio) == approx(np.ptp(x + 2 * damping * speed) / 2, rel=1e-4)


def test_n32_deflection_needed():
    # N32: 95 % undamped, ratio 4.583; at 1500 r/min 5.455 Hz and 8.346 mm
    ratio = c.frequency_ratio_needed.run(0.05)
    assert ratio == approx(4.583, abs=5e-4) and 25.0 / ratio == approx(5.455, abs=5e-4)
    deflection = c.deflection_needed.run(1.0, G, ratio, 25.0)
    assert deflection == approx(8.346e-3, abs=5e-6) and natural(deflection) == approx(5.455, abs=5e-4)
    assert c.deflection_needed.run(1.4, G, ratio, 25.0) == approx(1.4 * deflection)  # stiffer in motion: must sink more
    assert c.transmissibility.run(0.0, ratio) == approx(0.05)


def test_common_practice_of_ratio():
    # common practice as the notes give it: three times or more lets an eighth pass without damping; springs of 20 to 50 mm
    assert float(terms()["frequency_ratio_min"].default) == 3
    assert c.transmissibility.run(0.0, 3.0) == approx(0.125)
    assert 12.5 / natural(0.020) > 3 and 12.5 / natural(0.050) > 3  # half order at 1500 r/min


# ---- start and stop ----

def test_speeds_at_resonance():
    assert motion.resonance_speed.run(3.15, 0.5) == approx(6.3)  # hand: the half order meets 3.15 Hz at 378 r/min
    assert motion.starter_speed_gap.run(2.5, 3.125) == approx(0.2) and motion.starter_speed_gap.run(3.75, 3.125) == approx(0.2)  # hand
    assert motion.running_ratio.run(25.0, 3.125) == approx(8.0)


def free(mass, *measured):
    """Free amplitude of a set of this mass, from the mass, velocity, speed, damping and ratio of a measurement."""
    return motion.free_amplitude.run("springs", motion.unbalance_force.run(*measured), mass, measured[2])


def test_unbalance_by_the_law_of_a_rotating_mass():
    # hand: 10 mm/s rms at 25 Hz is 0.0900 mm; times (64 - 1)/64 without damping 0.0886 mm; 10 000 kg x 0.0886e-3 x 157.08² = 21.87 kN
    assert free(10e3, 10e3, 0.010, 25.0, 0.0, 8.0) == approx(0.0886e-3, abs=1e-7)
    assert motion.unbalance_force.run(10e3, 0.010, 25.0, 0.0, 8.0) == approx(21.87e3, abs=5)
    # scipy.signal: motion over the free one is s²/(s² + 2ζs + 1)
    for damping, ratio in ((0.05, 4.0), (0.2, 1.5)):
        _, response = freqresp(TransferFunction([1, 0, 0], [1, 2 * damping, 1]), [ratio])
        running = np.sqrt(2) * 0.010 / (2 * np.pi * 25)
        assert free(10e3, 10e3, 0.010, 25.0, damping, ratio) == approx(running / abs(response[0]), rel=1e-9)


def test_a_heavier_base_moves_less_under_the_same_unbalance():
    # closed form of m x'' + c x' + k x = F cos ωt: one force, the second set twice as heavy on springs that keep its frequency: half the motion
    assert free(20e3, 10e3, 0.010, 25.0, 0.05, 8.0) == approx(free(10e3, 10e3, 0.010, 25.0, 0.05, 8.0) / 2)
    assert motion.free_amplitude.run("solid", 20e3, 10e3, 25.0) == 0
    # on what it stands here plays no part in what is worked out of a measurement elsewhere; unless stated it swung freely: m·ω²·X, and no less at any ratio
    # above 1/√2 (closed form)
    assert not {"running_ratio", "natural_frequency", "sprung_mass"} & set(motion.unbalance_force.parameters) and not hasattr(motion, "vibration_ratio")
    swung = motion.unbalance_force.run(10e3, 0.010, 25.0, 0.05, float(terms()["vibration_ratio"].default))
    assert swung == approx(10e3 * (2 * np.pi * 25) ** 2 * np.sqrt(2) * 0.010 / (2 * np.pi * 25), rel=2e-4) and swung > motion.unbalance_force.run(
        10e3, 0.010, 25.0, 0.05, 3.0)


@pytest.mark.parametrize("damping", (0.02, 0.05, 0.15))
def test_amplitude_at_resonance_is_the_peak_of_the_curve(damping):
    # scipy.optimize: the largest of r²/√((1 - r²)² + (2ζr)²)
    peak = minimize_scalar(lambda r: -r ** 2 / np.sqrt((1 - r ** 2) ** 2 + (2 * damping * r) ** 2), bounds=(0.8, 1.5), method="bounded",
                           options={"xatol": 1e-9})
    assert motion.resonance_amplitude.run(1.0, damping) == approx(-peak.fun, rel=1e-6)


def test_sweep_rates_and_times():
    assert motion.start_run_up_time.run(2.3, 3.2, 6.0) == approx(5.5) and motion.start_run_up_time.run(2.3, 0.0, 6.0) == 6.0  # hand
    assert motion.start_sweep_rate.run(25.0, 5.0) == approx(5) and motion.stop_sweep_rate.run(25.0, 40.0) == approx(0.625)  # hand
    # hand: half-power width 2 x 0.05 x 3.15 = 0.315 Hz, passed at 5 Hz/s in 63 ms and at 0.625 Hz/s in 0.504 s
    assert motion.start_resonance_time.run(0.05, 3.15, 5.0) == approx(0.063) and motion.stop_resonance_time.run(0.05, 3.15, 0.625) == approx(0.504)


def test_peak_factor_of_the_cornu_spiral():
    # scipy.special.fresnel: largest distance from the lower end of the spiral over the distance of its ends
    sine, cosine = fresnel(np.linspace(0, 5, 200_001))
    assert float(terms()["sweep_peak_factor"].default) == approx(np.max(np.hypot(cosine + 0.5, sine + 0.5)) / np.sqrt(2), abs=5e-4)


def test_passage_hand_figures():
    # hand: 0.1 mm, 3.15 Hz, 25/6 = 4.1667 1/s²: 1.171 π 3.15 / 2.04124 = 5.677 times 0.1 mm
    assert motion.start_amplitude.run(1.0e-3, 1.171, 3.15, 0.1e-3, 25 / 6) == approx(0.5677e-3, abs=1e-7)
    assert motion.stop_amplitude.run(1.0e-3, 1.171, 3.15, 0.1e-3, 25 / 6) == approx(0.5677e-3, abs=1e-7)
    assert motion.start_amplitude.run(0.3e-3, 1.171, 3.15, 0.1e-3, 25 / 6) == 0.3e-3 == motion.stop_amplitude.run(0.3e-3, 1.171, 3.15, 0.1e-3, 25 / 6)
    assert motion.start_amplitude.run(1.0, 1.171, 3.15, 0.1e-3, 16.0) < motion.start_amplitude.run(1.0, 1.171, 3.15, 0.1e-3, 4.0)  # a quick start shakes less
    assert motion.passage_amplitude.run("springs", 0.4e-3, 0.8e-3) == 0.8e-3 == motion.passage_amplitude.run("elastomer", 0.8e-3, 0.4e-3)
    assert motion.passage_amplitude.run("solid", 0.4e-3, 0.8e-3) == 0


def swept_peak(damping, natural_frequency, sweep, downward):
    """Largest motion of an oscillator with an unbalance of unit free amplitude, its speed swept from rest to twice the resonance, or from three times it to
    rest.
    """
    omega, first = 2 * np.pi * natural_frequency, 3 * natural_frequency if downward else 0.0
    rate = -sweep if downward else sweep

    def equation(t, y):
        speed, turns = first + rate * t, first * t + rate * t ** 2 / 2
        return [y[1], (2 * np.pi * speed) ** 2 * np.cos(2 * np.pi * turns) - 2 * damping * omega * y[1] - omega ** 2 * y[0]]

    end = (3 if downward else 2) * natural_frequency / sweep
    return np.max(np.abs(solve_ivp(equation, (0, end), [0, 0], rtol=1e-8, atol=1e-9, max_step=4e-3).y[0]))


@pytest.mark.parametrize("damping, time", [(0.001, 6.0), (0.001, 30.0), (0.05, 6.0), (0.05, 30.0), (0.1, 12.0)])
def test_passage_against_integration(damping, time):
    # scipy.solve_ivp: unbalance force grows with the square of speed; start from rest, stop from three times the resonance
    formulas = ((motion.start_amplitude, motion.start_sweep_rate, False), (motion.stop_amplitude, motion.stop_sweep_rate, True))
    for amplitude, sweep_rate, downward in formulas:
        sweep = sweep_rate.run(25.0, time)
        bound = amplitude.run(motion.resonance_amplitude.run(1.0, damping), 1.171, 3.15, 1.0, sweep)
        peak = swept_peak(damping, 3.15, sweep, downward)
        assert peak < bound * (1.0 if damping >= 0.05 else 1.2)  # without damping the force that grows on after resonance adds up to a fifth
        assert peak > bound * 0.5


# ---- connections and snubbers ----

def test_movement_of_set_and_connections():
    assert motion.set_movement.run("springs", "snubbers", 6e-3, 0.8e-3, 5e-3) == 6e-3
    assert motion.set_movement.run("springs", "free", 6e-3, 0.8e-3, 5e-3) == 5e-3 and motion.set_movement.run("elastomer", "free", None, 9e-3, 5e-3) == 9e-3
    assert motion.set_movement.run("solid", "snubbers", 6e-3, 0.8e-3, 5e-3) == 0
    # hand: 6 mm at the mounts, 1.8 m above a spread of 1.2 m, 12 mm of growth: 6 x (1 + 3) + 12 = 36 mm
    assert motion.connection_movement.run(12e-3, 6e-3, 1.8, np.array([3.6, 1.2])) == approx(36e-3)
    assert motion.connection_movement.run(0.0, 6e-3, 0.0, np.array([3.6, 1.2])) == 6e-3
    assert motion.connection_movement.run(5e-3, 0.0, np.nan, np.array([3.6, 1.2])) == 5e-3  # a set that does not move asks for no height


def test_movement_at_a_height_by_rotation():
    # numpy: a body tilted until one row of mounts is 6 mm up and the other 6 mm down, and shifted by 6 mm; small angles
    angle = 2 * 6e-3 / 1.2
    turned = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]) @ np.array([0.0, 1.8])
    assert motion.connection_movement.run(0.0, 6e-3, 1.8, np.array([3.6, 1.2])) == approx(turned[0] + 6e-3, rel=1e-3)


def test_snubbers():
    assert motion.snubber_force.run(60e3, 4.0) == 15e3  # hand
    assert motion.snubber_use.run("springs", 15e3, 20e3) == approx(0.75) and motion.snubber_use.run("solid", 15e3, None) == 0
    # N38 without overstrength, in the words of anchors: 60 kN at 1.2 m, 100 kN, 0.9 - 0.2 x 0.8, rows 1.6 m apart, three in a row: 2.667 kN
    assert motion.snubber_uplift.run(60e3, 1.2, 0.9, 0.16, 100e3, 1.6, 0.0, 3.0) == approx(2.667e3, abs=0.5)
    assert motion.snubber_uplift.run(60e3, 1.2, 0.9, 0.16, 100e3, 1.6, -0.1, 3.0) == approx((72 - 74 * 0.7) / 4.8 * 1e3)  # hand: centre of gravity off by 0.1 m
    assert motion.snubber_uplift.run(20e3, 1.2, 0.9, 0.16, 100e3, 1.6, 0.0, 3.0) == 0  # weight holds
    assert motion.snubber_uplift_use.run("springs", 3e3, 4e3) == approx(0.75) and motion.snubber_uplift_use.run("solid", 3e3, None) == 0
