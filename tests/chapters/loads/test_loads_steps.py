"""Load steps, motor starts and distortion against printed tables, scipy, numpy and hand calculations. Each figure names its source."""

import math

import pytest
from axes import over
from pytest import approx
from scipy.integrate import solve_ivp

from basis.chapters.loads import steps as s
from basis.language.faults import OutOfTable
from basis.language.table import lookup, table
from basis.language.terms import terms

KVA, HP = 1e3, 745.69987158227022


# ---- load steps ----

def test_steps_by_time():
    # hand: loads 200, 120, 80, 60 kW join at 20, 10, 20, 40 s
    facts = {"load_step_joined": [0, 1, 0, 2], "step_time": [20.0, 10.0, 40.0], "load_demand_power": [200e3, 120e3, 80e3, 60e3]}
    assert over(s.step_power, **facts) == approx([280e3, 120e3, 60e3])
    assert over(s.step_total_power, **facts) == approx([400e3, 120e3, 460e3])
    assert sum(over(s.step_power, **facts)) == approx(460e3)  # every load comes on once


def test_step_against_capacity():
    capacity = s.step_capacity.run(2, 945e3)
    assert capacity == approx(1890e3) and s.step_ratio.run(567e3, capacity) == approx(0.3) and s.step_loading.run(1701e3, capacity) == approx(0.9)  # hand
    assert s.step_power_accepted.run(0.3, capacity) == approx(567e3)  # hand


def test_frequency_dip_against_the_swing_equation():
    # hand: deficit 0.5, 0.1 s, H 1 s: √(1 − 0.05) = 0.97468, a dip of 2.53 %
    assert s.frequency_dip_before_fuel.run(500e3, 0.1, 1.0, 1, 1000e3) == approx(0.0253, abs=5e-5)
    # scipy: 2 H dω/dt = −ΔP/ω from ω = 1, over 0.25 s with H 0.8 s and a step of 60 % of two sets
    swing = solve_ivp(lambda t, speed: -0.6 / (2 * 0.8 * speed), (0, 0.25), [1.0], rtol=1e-10, atol=1e-12)
    assert s.frequency_dip_before_fuel.run(1200e3, 0.25, 0.8, 2, 1000e3) == approx(1 - swing.y[0, -1], rel=1e-7)
    assert s.frequency_dip_before_fuel.run(0.0, 0.1, 1.0, 1, 1000e3) == 0 and s.frequency_dip_before_fuel.run(9e6, 1.0, 0.1, 1, 1e6) == 1.0


@pytest.mark.parametrize("name, frequency, voltage, frequency_time, voltage_time", [
    ("G1", 0.15, 0.25, 10, 10), ("G2", 0.10, 0.20, 5, 6), ("G3", 0.07, 0.15, 3, 4)])
def test_performance_classes_as_quoted_from_iso_8528_5(name, frequency, voltage, frequency_time, voltage_time):
    # ISO 8528-5:2022 Table 4 as quoted in tender texts and notes; the recovery times of G1 from memory
    found = [formula.run(name) for formula in (s.frequency_dip_max, s.voltage_dip_max, s.frequency_recovery_max, s.voltage_recovery_max)]
    assert found == approx([frequency, voltage, frequency_time, voltage_time])


def test_rise_on_load_off_as_quoted_from_iso_8528_5():
    # the same: +18 +12 +10 % of frequency, +35 (from memory) +25 +20 % of voltage
    assert [lookup("iso-8528-5-transient", "frequency_rise", name) for name in ("G1", "G2", "G3")] == approx([0.18, 0.12, 0.10])
    assert [lookup("iso-8528-5-transient", "voltage_rise", name) for name in ("G1", "G2", "G3")] == approx([0.35, 0.25, 0.20])


# ---- motor starts ----

def test_code_letters_as_printed():
    # NEC Table 430.7(B), upper ends in kVA/hp; bands follow one another, so each is larger than the last
    printed = {"A": 3.14, "B": 3.54, "F": 5.59, "G": 6.29, "H": 7.09, "J": 7.99, "M": 11.19, "U": 22.39}
    for letter, figure in printed.items():
        assert lookup("nec-code-letters", "apparent_power_per_horsepower", letter) * HP / KVA == approx(figure, abs=0.005)
    column = table("nec-code-letters").columns["apparent_power_per_horsepower"]
    assert list(column) == sorted(column) and not set("IOQV") & set(table("nec-code-letters").keys)
    with pytest.raises(OutOfTable):
        lookup("nec-code-letters", "apparent_power_per_horsepower", "V")


def locked_rotor(letter, power, efficiency=0.95, factor=0.87):
    running = s.motor_running_apparent_power.run(power, efficiency, factor)
    return s.motor_locked_rotor_apparent_power.run(s.motor_locked_rotor_ratio.run(letter, power, running), running), running


def test_locked_rotor_of_100_hp():
    # hand: 100 hp, letter G, top of the band: 629 kVA, 789.5 A at 460 V, whatever efficiency and power factor
    apparent, running = locked_rotor("G", 100 * HP)
    assert apparent == approx(629 * KVA, rel=1e-9) and apparent / (math.sqrt(3) * 460) == approx(789.5, abs=0.1)
    assert running == approx(90.226 * KVA, rel=1e-4)  # hand: 74.57 kW/(0.95·0.87)
    assert s.motor_locked_rotor_ratio.run("G", 100 * HP, running) == approx(6.971, abs=1e-3)  # hand: 629/90.226


def start(method, tap=0.65, limit=3.0):
    return over(s.motor_start_apparent_power, motor_start_method=[method], motor_locked_rotor_apparent_power=[629e3], motor_start_voltage_ratio=[tap],
                motor_start_current_limit=[limit], motor_running_apparent_power=[90e3])[0]


@pytest.mark.parametrize("method, tap, apparent", [
    ("direct", 0.65, 629.0), ("star_delta", 0.65, 209.67), ("autotransformer", 0.65, 265.75), ("reactor", 0.65, 408.85),
    ("autotransformer", 0.80, 402.56), ("autotransformer", 0.50, 157.25),  # taps: 0.64 and 0.25 of 629
    ("soft_starter", 0.65, 270.0), ("drive", 0.65, 90.0)])
def test_reduced_voltage_start(method, tap, apparent):
    # hand: fractions a², 1/3 and a of the locked-rotor power; a multiple of running power behind electronics
    assert start(method, tap) == approx(apparent * 1e3, rel=1e-4)


@pytest.mark.parametrize("method, torque", [("direct", 1.0), ("star_delta", 1 / 3), ("autotransformer", 0.4225), ("reactor", 0.4225),
                                            ("soft_starter", 0.25), ("drive", 1.0)])
def test_starting_torque(method, torque):
    # hand: square of the motor's voltage or current: 0.65² = 0.4225, (3/6)² = 0.25
    found = over(s.motor_start_torque_ratio, motor_start_method=[method], motor_start_voltage_ratio=[0.65], motor_start_current_limit=[3.0],
                 motor_locked_rotor_ratio=[6.0])
    assert found == approx([torque])


def test_starting_power():
    assert s.motor_start_power.run(629e3, 0.3) == approx(188.7e3)  # hand: more than twice what the motor takes once it runs


def test_voltage_dip():
    # hand: 1,250 kVA, X'd 0.20, 629 kVA: 0.2/(0.2 + 1.98728) = 9.14 %; with power factor 0.3 8.79 %; 265.75 kVA 4.08 %
    impedance = s.motor_start_impedance.run(1, 1250e3, 629e3)
    assert impedance == approx(1.98728, abs=1e-5)
    assert s.motor_start_dip.run(0.20, impedance) == approx(0.0914, abs=2e-4)
    assert s.motor_start_dip_vector.run(impedance, 0.3, 0.20) == approx(0.0879, abs=2e-4)
    assert s.motor_start_dip.run(0.20, s.motor_start_impedance.run(1, 1250e3, 265.75e3)) == approx(0.0408, abs=1e-4)


@pytest.mark.parametrize("sets, factor, reactance", [(1, 0.3, 0.2), (2, 0.15, 0.25), (3, 0.35, 0.12)])
def test_voltage_dip_against_complex_impedances(sets, factor, reactance):
    # independent way: complex divider of the motor's impedance and the alternators' reactance, numpy
    size = sets * 1250.0 / 629.0
    motor = size * (factor + 1j * math.sqrt(1 - factor**2))
    dip = s.motor_start_dip_vector.run(s.motor_start_impedance.run(sets, 1250e3, 629e3), factor, reactance)
    assert dip == approx(1 - abs(motor / (motor + 1j * reactance)), rel=1e-12)
    assert dip < s.motor_start_dip.run(reactance, size)


def test_largest_motor_start():
    # hand: 1,250·0.15/(0.2·0.85) = 1,102.9 kVA; started, it dips by just that much
    largest = s.largest_motor_start.run(1, 1250e3, 0.15, 0.20)
    assert largest == approx(1102.9e3, rel=1e-4)
    assert s.motor_start_dip.run(0.20, s.motor_start_impedance.run(1, 1250e3, largest)) == approx(0.15)
    assert s.largest_motor_start.run(2, 1250e3, 0.15, 0.20) == approx(2 * largest)


# ---- distortion ----

def test_voltage_distortion():
    # hand: X'' 0.12, half load, six-pulse to the 25th: √8·0.12·0.5 = 16.97 %
    assert [s.rectifier_distortion_factor.run(word, math.nan, 9.8) ** 2 for word in ("six", "twelve")] == approx([8, 4])
    assert s.voltage_distortion.run(math.sqrt(8), 0.12, 500e3, 1, 1000e3) == approx(0.1697, abs=5e-5)


def test_active_front_ends_by_the_distortion_of_their_current():
    # 5 % counted at order 9.8, reactance 0.12, half load: 0.05·9.8·0.12·0.5 = 2.94 % (hand calculation)
    factor = s.rectifier_distortion_factor.run("active_front_end", 0.05, 9.8)
    assert s.voltage_distortion.run(factor, 0.12, 500e3, 1, 1000e3) == approx(0.0294, abs=5e-5)
    # the order of the default: that of a six-pulse bridge, √8 over the distortion of its own current, root of the sum of 1/h²
    bridge = math.hypot(*(1 / h for h in (5, 7, 11, 13, 17, 19, 23, 25)))
    assert terms()["rectifier_harmonic_order"].default_data() == approx(math.sqrt(8) / bridge, rel=0.01)


@pytest.mark.parametrize("word, orders", [("six", (5, 7, 11, 13, 17, 19, 23, 25)), ("twelve", (11, 13, 23, 25))])
def test_voltage_distortion_against_a_sum_of_harmonics(word, orders):
    # independent way: current 1/h of each order through h times the reactance, root of the sum of squares
    voltages = [h * 0.15 * (1 / h) * 400e3 / (2 * 1250e3) for h in orders]
    assert s.voltage_distortion.run(s.rectifier_distortion_factor.run(word, math.nan, 9.8), 0.15, 400e3, 2, 1250e3) == approx(math.hypot(*voltages))
