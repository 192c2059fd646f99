"""Commissioning record, second part: designed against measured, uncertainty, tolerance, verdict and what is done about a deviation."""

import numpy as np

from basis.language.formula import SOME, check, formula, procedure
from basis.language.maths import count_over, nothing, sqrt, sum_over


@formula(source="definition")
def measured_ratio(measured_kind, corrected_power, designed_power, corrected_consumption, designed_consumption, measured_airflow, designed_airflow,
                   corrected_pressure, designed_pressure, corrected_rise, designed_rise, corrected_drop, designed_drop, measured_start_time,
                   designed_start_time):
    """Each quantity over its own design; volume flow and time need no correction."""
    return (corrected_consumption / designed_consumption if measured_kind == "fuel_consumption" else
            measured_airflow / designed_airflow if measured_kind == "airflow" else
            corrected_pressure / designed_pressure if measured_kind == "fan_pressure" or measured_kind == "back_pressure" else
            corrected_rise / designed_rise if measured_kind == "temperature_rise" or measured_kind == "coolant_rise" else
            corrected_drop / designed_drop if measured_kind == "voltage_drop" else
            measured_start_time / designed_start_time if measured_kind == "start_time" else
            corrected_power / designed_power)


@formula(source="jcgm-100")
def combined_uncertainty(instrument_uncertainty, repeat_uncertainty, correction_uncertainty):
    """Independent parts added by squares. Example: instrument_uncertainty=[1 %], repeat_uncertainty=[0.8 %], correction_uncertainty=[0.5 %] give [1.375 %]
    (hand calculation).
    """
    return sqrt(instrument_uncertainty ** 2 + repeat_uncertainty ** 2 + correction_uncertainty ** 2)


@formula(source="jcgm-100")
def expanded_uncertainty(combined_uncertainty):
    """Covers about nineteen values in twenty. Example: combined_uncertainty=[1.375 %] give [2.75 %] (hand calculation)."""
    return 2 * combined_uncertainty


@formula(source=("jcgm-100", "background-energy"))
def corrected_level_uncertainty(level_uncertainty, background_uncertainty, background_gap):
    """Near the background both levels weigh more. Example: level_uncertainty=[0.5 dB], background_uncertainty=[1 dB], background_gap=[6 dB] give [0.747 dB]
    (hand calculation).
    """
    return (sqrt(level_uncertainty ** 2 + (10 ** (-max(background_gap, 3) / 10) * background_uncertainty) ** 2)
            / (1 - 10 ** (-max(background_gap, 3) / 10)))


@formula(source="definition")
def deviation_over_tolerance(measured_kind, corrected_level, designed_level, level_tolerance, measured_ratio, tolerance):
    """Off its design by what part of the tolerance.

    Example: measured_kind=[set_power, sound_level], measured_ratio=[0.97, 1], tolerance=[5 %, 5 %], corrected_level=[80 dBA, 86 dBA],
    designed_level=[80 dBA, 85 dBA], level_tolerance=[2 dB, 2 dB] give [-60 %, 50 %] (hand calculation).
    """
    return (corrected_level - designed_level) / level_tolerance if measured_kind == "sound_level" else (measured_ratio - 1) / tolerance


@formula(source="definition")
def uncertainty_over_tolerance(measured_kind, corrected_level_uncertainty, level_tolerance, combined_uncertainty, measured_ratio, tolerance):
    """What of the tolerance is not known.

    Example: measured_kind=[set_power], measured_ratio=[1], combined_uncertainty=[1 %], tolerance=[5 %], level_tolerance=[1 dB],
    corrected_level_uncertainty=[1 dB] give [20 %] (hand calculation).
    """
    return corrected_level_uncertainty / level_tolerance if measured_kind == "sound_level" else combined_uncertainty * measured_ratio / tolerance


@formula(source="definition")
def tolerance_reading(tolerance_side, deviation_over_tolerance):
    """A deviation to the good side takes nothing; one with two bounds counts either way.

    Example: tolerance_side=[not_more, not_less, both], deviation_over_tolerance=[60 %, 60 %, -60 %] give [60 %, -60 %, 60 %] (hand calculation).
    """
    return (-deviation_over_tolerance if tolerance_side == "not_less" else
            abs(deviation_over_tolerance) if tolerance_side == "both" else deviation_over_tolerance)


@formula(source="jcgm-106")
def tolerance_used(acceptance_rule, tolerance_reading, uncertainty_over_tolerance):
    """As read, or with the uncertainty taken off: twice, or as leaves one false acceptance in twenty.

    Example: acceptance_rule=guarded_twice, tolerance_reading=[60 %], uncertainty_over_tolerance=[20 %] give [100 %] (hand calculation).
    """
    return (tolerance_reading if acceptance_rule == "simple" else
            tolerance_reading + (2 if acceptance_rule == "guarded_twice" else 1.645) * uncertainty_over_tolerance)


@formula(source="definition")
def measurement_excess(tolerance_used):
    """What deviates, and by how much. Example: tolerance_used=[120 %] give [20 %] (hand calculation)."""
    return tolerance_used - 1 if tolerance_used > 1 else nothing


@procedure(source="jcgm-106", equation="p_c = Φ((1 − x_d)/x_u), with two bounds less Φ((−1 − x_d)/x_u)", yields=("conformity_probability",))
def conformity(tolerance_side, deviation_over_tolerance, uncertainty_over_tolerance):
    """Chance that the true value lies within, its error taken as normal; not told without an uncertainty."""
    from scipy.special import ndtr  # here, since loading it takes time that only a book with measurements should pay
    found = np.full(np.shape(deviation_over_tolerance), np.nan)
    for number, (side, share, spread) in enumerate(zip(tolerance_side, deviation_over_tolerance, uncertainty_over_tolerance, strict=True)):
        if spread > 0:
            within = {"not_more": ndtr((1 - share) / spread), "not_less": ndtr((1 + share) / spread)}
            found[number] = within.get(side, ndtr((1 - share) / spread) - ndtr((-1 - share) / spread))
    return (found,), 0.0, "closed form"


@formula(source="jcgm-106")
def band_pass(tolerance_reading, uncertainty_over_tolerance):
    """Inside even with twice the uncertainty added.

    Example: tolerance_reading=[50 %, 90 %, 110 %, 150 %], uncertainty_over_tolerance=[10 %, 10 %, 10 %, 10 %] give 1 (hand count).
    """
    return sum_over("measurement", 1 if tolerance_reading + 2 * uncertainty_over_tolerance <= 1 else 0)


@formula(source="jcgm-106")
def band_conditional_pass(tolerance_reading, uncertainty_over_tolerance):
    """Inside as read; not with twice the uncertainty added.

    Example: tolerance_reading=[50 %, 90 %, 110 %, 150 %], uncertainty_over_tolerance=[10 %, 10 %, 10 %, 10 %] give 1 (hand count).
    """
    return sum_over("measurement", (1 if tolerance_reading + 2 * uncertainty_over_tolerance > 1 else 0) if tolerance_reading <= 1 else 0)


@formula(source="jcgm-106")
def band_conditional_fail(tolerance_reading, uncertainty_over_tolerance):
    """Outside as read; inside with twice the uncertainty taken off.

    Example: tolerance_reading=[50 %, 90 %, 110 %, 150 %], uncertainty_over_tolerance=[10 %, 10 %, 10 %, 10 %] give 1 (hand count).
    """
    return sum_over("measurement", (1 if tolerance_reading - 2 * uncertainty_over_tolerance <= 1 else 0) if tolerance_reading > 1 else 0)


@formula(source="jcgm-106")
def band_fail(tolerance_reading, uncertainty_over_tolerance):
    """Outside even with twice the uncertainty taken off.

    Example: tolerance_reading=[50 %, 90 %, 110 %, 150 %], uncertainty_over_tolerance=[10 %, 10 %, 10 %, 10 %] give 1 (hand count).
    """
    return sum_over("measurement", 1 if tolerance_reading - 2 * uncertainty_over_tolerance > 1 else 0)


@formula(source="definition")
def measurements_listed():
    """How many measurements there are. Nobody has measured anything in a plant that is still on paper."""
    return count_over("measurement")


@procedure(source="definition", yields=("action_told",), equation="y_a = 1 where words say what is done and no state is given, else 0")
def actions_told(action_state, measurement_action):
    """Whether an action is told and yet counts as none. Example: action_state=[none, none], measurement_action=["Bend taken out", ""] give
    action_told=[1, 0] (counted).
    """
    return (np.where((np.asarray(measurement_action) != "") & (np.asarray(action_state) == "none"), 1.0, 0.0),), 0.0, "measurements counted twice"


@formula(source="definition")
def deviations_open(action_state, tolerance_used):
    """Outside the tolerance, and nothing is planned or done.

    Example: action_state=[none, planned, none], tolerance_used=[120 %, 130 %, 50 %] give 1 (hand count).
    """
    return sum_over("measurement", (1 if action_state == "none" else 0) if tolerance_used > 1 else 0)


measured_ok = check("measured_within_tolerance", "tolerance_used", limit="tolerance_whole", safe="below", source="jcgm-106", title="Measured within tolerance")
action_ok = check("deviations_have_action", "deviations_open", limit="deviations_open_max", safe="below", source="project", exact=True,
                  title="Every deviation has an action",
                  applies={"measurements_listed": SOME})
action_with_state = check("action_with_state", "action_told", limit="deviations_open_max", safe="below", source="definition", exact=True, self_test=True,
                          title="What is said to be done has a state", fault="action_state planned or done beside measurement_action")
day_past = check("measured_by_status_date", "measurement_date", limit="status_date", safe="below", source="definition", exact=True, self_test=True,
                 title="No measurement is later than the status date", fault="a day not after the status date")
day_in_service = check("in_service_after_commissioning", "measurement_date", limit="commissioning_date", safe="above", source="definition", exact=True,
                       self_test=True, title="Measured in service only after commissioning", applies={"measurement_stage": ("service",)},
                       fault="a day not before commissioning, or another stage")
