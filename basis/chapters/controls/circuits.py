"""Controls and signals, third part: voltage drop, battery load, burden of instrument transformers, separation."""

import numpy as np

from basis.language.formula import check, formula, procedure
from basis.language.maths import pick, sqrt, sum_over

# Voltage drop

@formula(source="definition")
def control_voltage(starting_voltage):
    """Control circuits are fed from the starting battery unless the project gives them a voltage of their own."""
    return starting_voltage


@formula(source="control-circuit")
def signal_drop(signal_wire, signal_transformer, signal_run, control_run_length, control_run_resistance, signal_current):
    """Drop there and back of a wired control circuit. Circuits of instrument transformers are judged by their burden instead.

    Example: signal_wire=[1], signal_transformer=[0], signal_run=[item_1], control_run_length=[60 m], control_run_resistance=[12.1 ohm/km],
    signal_current=[0.5 A] give [0.726 V] (hand calculation).
    """
    return signal_wire * (1 - signal_transformer) * 2 * pick(signal_run, control_run_length) * pick(signal_run, control_run_resistance) * signal_current


@formula(source="definition")
def signal_drop_ratio(signal_drop, control_voltage):
    """Drop over control voltage. Example: signal_drop=[0.726 V], control_voltage=24 V give [3.03 %] (hand calculation)."""
    return signal_drop / control_voltage


@procedure(source="definition", equation="I_r = max I_s over the control circuits of the run", yields=("control_run_current",))
def currents_of_runs(signal_run, signal_current, signal_transformer, control_run_length):
    """Largest current of a control circuit of each run, wired or not; none where the run holds instrument transformers only."""
    largest = np.full(np.shape(control_run_length), np.nan)
    direct = np.asarray(signal_transformer) == 0
    for run, current in zip(np.asarray(signal_run)[direct], np.asarray(signal_current)[direct]):
        largest[run] = np.fmax(largest[run], current)
    over = [current - largest[run] for run, current in zip(np.asarray(signal_run)[direct], np.asarray(signal_current)[direct])]
    return (largest,), float(np.max(over, initial=0.0)), "largest current above that of its run, A"


@formula(source="control-circuit")
def control_run_length_max(control_drop_ratio_max, control_voltage, control_run_resistance, control_run_current):
    """Length at which the largest circuit current uses up the drop allowed.

    Example: control_drop_ratio_max=10 %, control_voltage=24 V, control_run_resistance=[12.1 ohm/km], control_run_current=[0.5 A] give [198 m] (hand
    calculation).
    """
    return control_drop_ratio_max * control_voltage / (2 * control_run_resistance * control_run_current)


# Battery

@formula(source="current-sum")
def signal_standing_current(signal_rest, signal_current, signal_count, signal_wire, signal_run, control_run_at_set):
    """Current that wired loops of one set draw while the plant waits. A loop that acts when it opens draws it all year, which is the price of knowing that
    it is whole.
    """
    return signal_current * signal_count * signal_wire * pick(signal_run, control_run_at_set) if signal_rest == "energised" else 0


@formula(source="definition")
def design_networked(way_chosen, way_networked):
    """One where the design has a network, whose station at the set must be fed."""
    return sum_over("wiring_way", way_chosen * way_networked)


@formula(source="current-sum")
def control_standing_current(controller_current, signal_standing_current, design_networked, network_station_current):
    """Standing load of the controls on the battery of one set.

    Example: controller_current=2.5 A, signal_standing_current=[0.15 A], design_networked=1, network_station_current=0.3 A give 2.95 A (hand calculation).
    """
    return controller_current + sum_over("signal", signal_standing_current) + design_networked * network_station_current


@formula(source="definition")
def control_battery_charge(control_standing_current, control_battery_time):
    """Charge that the controls draw when the charger has failed and nobody has come yet.

    Example: control_standing_current=3 A, control_battery_time=8 h give 24 Ah (hand calculation).
    """
    return control_standing_current * control_battery_time


# Current transformers

@formula(source="ct-lead")
def ct_lead_resistance(ct_connection, ct_star_factor, ct_run, control_run_length, control_run_resistance):
    """Resistance of the leads: two lengths of a loop, or less where a balanced star shares its return. A fault to earth sees the loop.

    Example: ct_run=[item_1], control_run_length=[30 m], control_run_resistance=[4.61 ohm/km] give [0.2766 ohm] (hand calculation).
    """
    return (2 if ct_connection == "loop" else ct_star_factor) * pick(ct_run, control_run_length) * pick(ct_run, control_run_resistance)


@formula(source="ct-burden")
def ct_burden(ct_secondary_current, ct_lead_resistance, ct_device_burden):
    """Burden at rated current: leads and devices. At 5 A the leads take nearly all of it; at 1 A a twenty-fifth of that.

    Example: ct_secondary_current=[5 A], ct_lead_resistance=[0.2766 ohm], ct_device_burden=[0.5 VA] give [7.415 VA] (hand calculation).
    """
    return ct_secondary_current ** 2 * ct_lead_resistance + ct_device_burden


@formula(source="ct-limit-factor")
def ct_effective_limit_factor(ct_limit_factor, ct_winding_resistance, ct_rated_burden, ct_secondary_current, ct_burden):
    """Multiple of rated current that the transformer still reproduces at the burden that is there: its core gives one voltage, and that drives the current.

    Example: ct_limit_factor=[20], ct_winding_resistance=[0.3 ohm], ct_rated_burden=[15 VA], ct_secondary_current=[5 A], ct_burden=[7.415 VA] give [30.2] (hand
    calculation).
    """
    return (ct_limit_factor * (ct_winding_resistance + ct_rated_burden / ct_secondary_current ** 2)
            / (ct_winding_resistance + ct_burden / ct_secondary_current ** 2))


@formula(source="ct-need")
def ct_limit_factor_needed(ct_fault_current, ct_primary_current):
    """Largest current over rated primary current. A relay that must decide in the first half wave asks for more: the project then gives the factor.

    Example: ct_fault_current=[12 kA], ct_primary_current=[1000 A] give [12] (hand calculation).
    """
    return ct_fault_current / ct_primary_current


# Voltage transformers

@formula(source="vt-drop")
def vt_current(vt_burden, vt_secondary_voltage):
    """Current of a phase. Example: vt_burden=[30 VA], vt_secondary_voltage=[110 V] give [157 mA] (hand calculation)."""
    return vt_burden / (sqrt(3) * vt_secondary_voltage)


@formula(source="vt-drop")
def vt_drop(vt_current, vt_run, control_run_length, control_run_resistance):
    """Drop between phases along the lead.

    Example: vt_current=[157.5 mA], vt_run=[item_1], control_run_length=[80 m], control_run_resistance=[7.41 ohm/km] give [0.1617 V] (hand calculation).
    """
    return sqrt(3) * vt_current * pick(vt_run, control_run_length) * pick(vt_run, control_run_resistance)


@formula(source="definition")
def vt_drop_ratio(vt_drop, vt_secondary_voltage):
    """Drop over secondary voltage. Example: vt_drop=[0.1617 V], vt_secondary_voltage=[110 V] give [0.147 %] (hand calculation)."""
    return vt_drop / vt_secondary_voltage


# Checks

drop = check("control_drop", "signal_drop_ratio", limit="control_drop_ratio_max", safe="below", source="control-drop", title="Voltage drop of control circuits")
charger = check("controls_on_charger", "control_standing_current", limit="standing_current", safe="below", source="current-sum",
                title="Standing load of the controls within that of the charger")
charge = check("controls_on_battery", "control_battery_charge", limit="control_battery_charge_max", safe="below", source="project",
               title="Charge for the controls")
burden = check("ct_burden_ok", "ct_burden", limit="ct_rated_burden", safe="below", source="ct-burden", title="Burden of current transformers")
factor = check("ct_limit_factor_ok", "ct_effective_limit_factor", limit="ct_limit_factor_needed", safe="above", source="ct-limit-factor",
               title="Accuracy limit of current transformers")
vt_load = check("vt_burden_ok", "vt_burden", limit="vt_rated_burden", safe="below", source="vt-drop", title="Burden of voltage transformers")
vt_lead = check("vt_drop_ok", "vt_drop_ratio", limit="vt_drop_ratio_max", safe="below", source="vt-drop-limit", title="Drop of voltage leads")
apart = check("separation_ok", "separation_distance", limit="separation_distance_min", safe="above", source="separation-rule", title="Separation of circuits",
              exact=True)
