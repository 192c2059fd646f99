"""Voltage and frequency at load steps, second part: the transients in time.

Two models, one for each quantity, solved by scipy's LSODA. Voltage: a constant voltage behind transient reactance that the
field moves, a regulator with reset behind a limit, an exciter with one lag; rated speed, loads as constant admittance.
Frequency: the turning masses, a governor with reset behind limits, dead time and lag of the fuel, boost that follows torque;
loads as constant power. The sets on the bus are alike and act as one. What dips in voltage takes less power meanwhile, which
is left out on the safe side.
"""

import math
from functools import cache, partial

import numpy as np

from basis.language.formula import procedure

WINDOW = 12.0  # s, beyond the longest recovery time of any class
INSTANTS = np.concatenate([np.linspace(0, 3, 301), np.linspace(3, WINDOW, 181)[1:]])  # s
FINE_TOLERANCE, COARSE_TOLERANCE = 1e-7, 1e-5  # of the solution, and of the one that it is compared with
NO_BAND = np.inf  # where no recovery is asked for
STALLED = 0.5  # of rated speed: below, a set does not come back by itself
STALLING = 1e-4  # of rated speed above it, within which all movement ends
FREE = STALLED + STALLING
RESIDUAL = "largest difference to a solution with a hundred times the tolerance, over rated value"

FIELD_EQUATION = ("T′_d0·dE/dt = E_f − E·{1 + (x_d − x′_d)·[b + x′_d·(g² + b²)]/N},  N = (1 + x′_d·b)² + (x′_d·g)²,  U = E/√N,  "
                  "v = lim[K_U·(1 − U) + J; 0…E_max],  T_E·dE_f/dt = v − E_f,  T_U·dJ/dt = v − J")
SPEED_EQUATION = ("2·H·S_r/P_site·dω/dt = m − p/ω,  c = lim[K_f·(1 − ω) + J; −m_0…min(m_max, B + m_B)],  T_f·dJ/dt = c − J,  "
                  "T_m·dm/dt = c − m and T_B·dB/dt = m − B from the end of t_D on, f = f_r·ω")


def _solved(rates, start, instants, tolerance, *arguments):
    """States at the instants, one row each."""
    from scipy.integrate import odeint  # here, since loading it takes half a second that only a book with this chapter should pay

    return odeint(rates, start, instants, args=arguments, rtol=tolerance, atol=tolerance)


# ---- the field and its regulator ----

def field_transient(before, after, machine, instants, tolerance):
    """Voltage over rated voltage at the instants after a step from admittance `before` to `after`, each (conductance, susceptance lagging).

    machine: transient and synchronous reactance, field time constant, exciter time, gain, reset time, ceiling.
    """
    transient, synchronous, field, exciter, gain, reset, ceiling = machine
    share_before, drag_before = _network(*before, transient, synchronous)
    share, drag = _network(*after, transient, synchronous)
    flux = 1 / share_before
    forced = flux * drag_before

    def rates(state, _):
        voltage, excitation, integral = state.tolist()  # Python's floats and no calls: a solver asks thousands of times
        asked = gain * (1 - share * voltage) + integral
        asked = 0.0 if asked < 0.0 else ceiling if asked > ceiling else asked
        return (excitation - drag * voltage) / field, (asked - excitation) / exciter, (asked - integral) / reset

    return share * _solved(rates, (flux, forced, forced), instants, tolerance)[:, 0]


def _network(conductance, susceptance, transient, synchronous):
    """Bus voltage over the voltage behind reactance, and field voltage that a steady voltage behind reactance of one needs."""
    square = (1 + transient * susceptance) ** 2 + (transient * conductance) ** 2
    armature = (susceptance + transient * (conductance ** 2 + susceptance ** 2)) / square
    return 1 / math.sqrt(square), 1 + (synchronous - transient) * armature


# ---- the turning masses and the governor ----

def speed_transient(before, after, engine, instants, tolerance):
    """Speed over rated speed at the instants after a step from power `before` to `after`, in parts of site power.

    engine: twice the stored energy over site power, delay, gain, reset time, lag, boost time, torque beyond boost, fuel stop, motoring torque.
    """
    inertia, delay, gain, reset, lag, boost_time, beyond, stop, drag = engine

    def rates(state, _, answers):
        speed, torque, integral, boost = state.tolist()
        left = 1.0 if speed > FREE else max((speed - STALLED) / STALLING, 0.0)  # runs out at half speed; with a jump there the solver would stand still
        asked, most = gain * (1 - speed) + integral, stop if stop < boost + beyond else boost + beyond
        asked = -drag if asked < -drag else asked
        asked = most if asked > most else asked
        answered = left * answers
        return (left * (torque - after / (speed if speed > STALLED else STALLED)) / inertia, answered * (asked - torque) / lag,
                left * (asked - integral) / reset, answered * (torque - boost) / boost_time)

    early = instants <= delay
    waiting = _solved(rates, (1.0, before, before, before), np.append(instants[early], delay), tolerance, 0.0)
    answering = _solved(rates, waiting[-1], np.append(delay, instants[~early]), tolerance, 1.0)
    return np.concatenate([waiting[:-1, 0], answering[1:, 0]])


# ---- from a transient to what is told of it ----

def _told(transients, band, elapsed, sign):
    """Samples, deepest dip (rise for sign −1), recovery time of each event and the largest residual, as a function, for it solves all of them again.
    `transients`: functions of instants and tolerance.
    """
    count = len(transients)
    samples, deepest, recovery = np.full((count, len(elapsed)), np.nan), np.full(count, np.nan), np.full(count, np.nan)
    fine = {place: transient(INSTANTS, FINE_TOLERANCE) for place, transient in enumerate(transients) if transient}
    for place, course in fine.items():
        samples[place] = np.interp(elapsed, INSTANTS, course)
        deepest[place] = max(0.0, np.max(sign * (1 - course)))
        recovery[place] = _recovered(course, band)

    @cache
    def residual() -> float:
        return max((float(np.max(np.abs(course - transients[place](INSTANTS, COARSE_TOLERANCE)))) for place, course in fine.items()), default=0.0)
    return samples, deepest, recovery, residual


def _recovered(course, band):
    """Time from which the course stays within the band, on the straight line between two instants; the window's end if it does not."""
    outside = np.abs(course - 1) - band
    late = np.nonzero(outside > 0)[0]
    if not late.size:
        return 0.0
    last = late[-1]
    if last == len(INSTANTS) - 1:
        return WINDOW
    return INSTANTS[last] + (INSTANTS[last + 1] - INSTANTS[last]) * outside[last] / (outside[last] - outside[last + 1])


def _events(make, *columns):
    """One transient an item; None where something is not given."""
    rows = zip(*(np.ravel(column) for column in np.broadcast_arrays(*columns)))
    return [make(*map(float, row)) if np.all(np.isfinite(row)) else None for row in rows]


def _voltage(active, reactive, more_active, more_reactive, sets, rating, machine):
    """Voltage transients of each item: what is on before, what is added, on how many alternators."""
    def make(power, sideways, added, added_sideways, count):
        base = count * rating
        before = power / base, sideways / base
        return partial(field_transient, before, (before[0] + added / base, before[1] + added_sideways / base), machine)

    return _events(make, active, reactive, more_active, more_reactive, sets)


def _speed(active, more_active, sets, site_power, engine):
    """Speed transients of each item."""
    def make(power, added, count):
        base = count * site_power
        return partial(speed_transient, power / base, (power + added) / base, engine)

    return _events(make, active, more_active, sets)


# ---- voltage ----

@procedure(source="flux-decay", equation=FIELD_EQUATION, yields=("step_voltage", "step_voltage_dip", "step_voltage_recovery"),
           valid={"step_voltage": (0.6, 1.4)})
def step_voltage(step_prior_power, step_prior_reactive_power, step_power, step_reactive_power, step_sets, alternator_rated_apparent_power,
                 transient_reactance, synchronous_reactance, field_time_constant, exciter_time, regulator_gain, regulator_reset_time, field_ceiling,
                 voltage_band, dip_elapsed):
    """Voltage after each load step. g and b are active and lagging reactive load over the rating of the alternators on the bus, at rated voltage.

    The first value is that of the reactances alone; the field then sinks until regulator and exciter have forced it up again. Load as
    constant admittance: motors that stall and rectifiers that hold their power make it worse.
    """
    machine = (transient_reactance, synchronous_reactance, field_time_constant, exciter_time, regulator_gain, regulator_reset_time, field_ceiling)
    events = _voltage(step_prior_power, step_prior_reactive_power, step_power, step_reactive_power, step_sets, alternator_rated_apparent_power, machine)
    *results, residual = _told(events, voltage_band, dip_elapsed, 1)
    return tuple(results), residual, RESIDUAL


@procedure(source="flux-decay", equation=FIELD_EQUATION, yields=("start_voltage", "start_voltage_dip", "start_voltage_recovery"),
           valid={"start_voltage": (0.6, 1.4)})
def start_voltage(motor_prior_power, motor_prior_reactive_power, motor_start_power, motor_start_reactive_power, motor_start_sets,
                  alternator_rated_apparent_power, transient_reactance, synchronous_reactance, field_time_constant, exciter_time, regulator_gain,
                  regulator_reset_time, field_ceiling, voltage_band, dip_elapsed):
    """Voltage after a motor is switched on beside the load that is there. The rotor is held for the whole window: running up only relieves the set.

    Without other load the first value is that of the divider with power factor in the chapter on loads.
    """
    machine = (transient_reactance, synchronous_reactance, field_time_constant, exciter_time, regulator_gain, regulator_reset_time, field_ceiling)
    events = _voltage(motor_prior_power, motor_prior_reactive_power, motor_start_power, motor_start_reactive_power, motor_start_sets,
                      alternator_rated_apparent_power, machine)
    *results, residual = _told(events, voltage_band, dip_elapsed, 1)
    return tuple(results), residual, RESIDUAL


@procedure(source="flux-decay", equation=FIELD_EQUATION, yields=("rejection_voltage", "rejection_voltage_rise"), valid={"rejection_voltage": (0.6, 1.5)})
def rejection_voltage(set_rated_power, set_rated_power_factor, alternator_rated_apparent_power, transient_reactance, synchronous_reactance,
                      field_time_constant, exciter_time, regulator_gain, regulator_reset_time, field_ceiling, dip_elapsed):
    """Voltage after one set at rated load and power factor loses all of it. Speed is taken as held, though it rises and carries voltage with it."""
    machine = (transient_reactance, synchronous_reactance, field_time_constant, exciter_time, regulator_gain, regulator_reset_time, field_ceiling)
    reactive = set_rated_power * np.sqrt(1 / set_rated_power_factor ** 2 - 1)
    events = _voltage(set_rated_power, reactive, -set_rated_power, -reactive, 1.0, alternator_rated_apparent_power, machine)
    samples, rise, _, residual = _told(events, NO_BAND, dip_elapsed, -1)
    return (samples[0], float(rise[0])), residual, RESIDUAL


# ---- frequency ----

@procedure(source="swing-equation", equation=SPEED_EQUATION,
           yields=("step_frequency", "step_frequency_dip", "step_frequency_recovery", "frequency_dip_judged_by"),
           valid={"step_frequency": (38, 75)})
def step_frequency(step_prior_power, step_power, step_sets, set_site_power, inertia_constant, set_rated_apparent_power, fuel_delay, governor_gain,
                   governor_reset_time, fuel_lag, turbocharger_time, torque_step, torque_max, motoring_ratio, frequency_band, dip_elapsed, power_frequency):
    """Frequency after each load step, the governor set to come back to rated frequency; p is load over site power of the sets on the bus.

    Until the delay of the fuel is over, this is the fall of the chapter on loads. Then the governor answers, but only as far as the
    turbocharger gives air. A set that falls below half speed is told as stalled. Where it is solved, it is by this that the dip is judged.
    """
    engine = (2 * inertia_constant * set_rated_apparent_power / set_site_power, fuel_delay, governor_gain, governor_reset_time, fuel_lag,
              turbocharger_time, torque_step, torque_max, motoring_ratio)
    events = _speed(step_prior_power, step_power, step_sets, set_site_power, engine)
    samples, dip, recovery, residual = _told(events, frequency_band, dip_elapsed, 1)
    return (samples * power_frequency, dip, recovery, "transient"), residual, RESIDUAL


@procedure(source="swing-equation", equation=SPEED_EQUATION, yields=("start_frequency", "start_frequency_dip", "start_frequency_recovery"),
           valid={"start_frequency": (38, 75)})
def start_frequency(motor_prior_power, motor_start_power, motor_start_sets, set_site_power, inertia_constant, set_rated_apparent_power, fuel_delay,
                    governor_gain, governor_reset_time, fuel_lag, turbocharger_time, torque_step, torque_max, motoring_ratio, frequency_band,
                    dip_elapsed, power_frequency):
    """Frequency after a motor is switched on beside the load that is there, its starting power held at the value for rated voltage."""
    engine = (2 * inertia_constant * set_rated_apparent_power / set_site_power, fuel_delay, governor_gain, governor_reset_time, fuel_lag,
              turbocharger_time, torque_step, torque_max, motoring_ratio)
    events = _speed(motor_prior_power, motor_start_power, motor_start_sets, set_site_power, engine)
    samples, dip, recovery, residual = _told(events, frequency_band, dip_elapsed, 1)
    return (samples * power_frequency, dip, recovery), residual, RESIDUAL


@procedure(source="swing-equation", equation=SPEED_EQUATION, yields=("rejection_frequency", "rejection_frequency_rise"),
           valid={"rejection_frequency": (38, 75)})
def rejection_frequency(set_site_power, inertia_constant, set_rated_apparent_power, fuel_delay, governor_gain, governor_reset_time, fuel_lag,
                        turbocharger_time, torque_step, torque_max, motoring_ratio, dip_elapsed, power_frequency):
    """Frequency after one set at site power loses all of it. With the fuel shut only the drag of the engine slows it down again."""
    engine = (2 * inertia_constant * set_rated_apparent_power / set_site_power, fuel_delay, governor_gain, governor_reset_time, fuel_lag,
              turbocharger_time, torque_step, torque_max, motoring_ratio)
    samples, rise, _, residual = _told(_speed(set_site_power, -set_site_power, 1.0, set_site_power, engine), NO_BAND, dip_elapsed, -1)
    return (samples[0] * power_frequency, float(rise[0])), residual, RESIDUAL
