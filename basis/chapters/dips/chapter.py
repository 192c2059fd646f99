"""Voltage and frequency at load steps: what comes on, on how many sets, and what the dips may be; leading and returned power.

The transients in time are solved in transient.py.
"""

from basis.language.formula import SOME, chapter, check, formula, order
from basis.language.maths import lookup, pick, sqrt, sum_over

CHAPTER = chapter("dips", "Voltage and frequency at load steps", order=180,
                  settles="How far voltage and frequency sag when loads come on, and whether they recover in time.",
                  cautions=(
    "The transients here come from a simple model. What a set does is shown by test, at the works and on site, with the loads it will have.",
    "Step and rejection tests are run with guards on, nobody beside coupling or fan, and overspeed protection proved first. Overspeed throws parts.",
    ("Voltage may rise far above rated when capacitive load is left on a lightly loaded set. Filters and capacitors that can be alone with a set are "
     "switched off first, and nobody works on connected equipment while that is tried."),
    "A dip drops contactors, and what restarts by itself afterwards starts without warning. Machines that could hurt someone need restart protection.",
))


# ---- what comes on, and what is on already ----

@formula(source="physics")
def step_reactive_power(load_step_joined, step_time, load_demand_reactive_power):
    """Reactive power that comes on with a step; leading loads take away from lagging ones. Motors that start within the step draw more, see below."""
    return sum_over("load", load_demand_reactive_power if pick(load_step_joined, step_time) == step_time else 0)


@formula(source="physics")
def step_total_reactive_power(load_step_joined, step_time, load_demand_reactive_power):
    """Reactive power that is on after a step."""
    return sum_over("load", load_demand_reactive_power if pick(load_step_joined, step_time) <= step_time else 0)


@formula(source="definition")
def step_prior_power(step_total_power, step_power):
    """Power that the sets carry before the step. It is carried on as a constant admittance for voltage and as constant power for frequency."""
    return step_total_power - step_power


@formula(source="definition")
def step_prior_reactive_power(step_total_reactive_power, step_reactive_power):
    """Reactive power that the sets carry before the step."""
    return step_total_reactive_power - step_reactive_power


@formula(source="definition")
def load_prior_power(load_step_joined, step_total_power, load_demand_power):
    """What is on beside a load once its step is complete: the motor of that load is taken to start last, which leaves the engine the least room."""
    return pick(load_step_joined, step_total_power) - load_demand_power


@formula(source="definition")
def load_prior_reactive_power(load_step_joined, step_total_reactive_power, load_demand_reactive_power):
    """Reactive power that is on beside a load once its step is complete."""
    return pick(load_step_joined, step_total_reactive_power) - load_demand_reactive_power


@formula(source="definition")
def load_step_sets(load_step_joined, step_sets):
    """Sets that are on the bus when the step of this load comes."""
    return pick(load_step_joined, step_sets)


@formula(source="definition")
def motor_start_sets(motor_load, load_step_sets):
    """Sets on the bus when the motor starts: those of its load step. A motor that also restarts with fewer sets is given that number."""
    return pick(motor_load, load_step_sets)


@formula(source="definition")
def motor_prior_power(motor_load, load_prior_power):
    """Power that the sets carry when the motor starts."""
    return pick(motor_load, load_prior_power)


@formula(source="definition")
def motor_prior_reactive_power(motor_load, load_prior_reactive_power):
    """Reactive power that the sets carry when the motor starts."""
    return pick(motor_load, load_prior_reactive_power)


@formula(source="physics")
def motor_start_reactive_power(motor_start_apparent_power, motor_start_power):
    """Reactive power of the start, nearly all of it.

    Example: motor_start_apparent_power=[629 kVA], motor_start_power=[188.7 kW] give [600.0 kvar] (hand calculation).
    """
    return sqrt(motor_start_apparent_power**2 - motor_start_power**2)


# ---- the machine ----

@formula(source="field-constants", valid={"field_time_constant": (0.3, 12)})
def field_time_constant(transient_time_constant, synchronous_reactance, transient_reactance):
    """Time constant of the field with the stator open: the short-circuit one, longer in the ratio of the reactances.

    Example: transient_time_constant=0.25 s, synchronous_reactance=2.2, transient_reactance=0.25 give 2.2 s (hand calculation).
    """
    return transient_time_constant * synchronous_reactance / transient_reactance


@formula(source="flux-decay")
def field_ceiling(sustained_current_ratio, synchronous_reactance):
    """Field voltage that keeps up the stated current into a short circuit: the stator's current is the field's, divided by the synchronous reactance.

    Example: sustained_current_ratio=3, synchronous_reactance=2.2 give 6.6 (hand calculation).
    """
    return sustained_current_ratio * synchronous_reactance


# ---- limits of the performance class ----

@formula(source="iso-8528-5-steady")
def voltage_band(performance_class):
    """Band to which voltage must come back: the steady deviation of the class."""
    return lookup("iso-8528-5-steady", "voltage_deviation", performance_class)


@formula(source="iso-8528-5-tolerance")
def frequency_band(performance_class):
    """Band to which frequency must come back: the tolerance band of the class, to either side of the new steady frequency."""
    return lookup("iso-8528-5-tolerance", "frequency_tolerance", performance_class)


@formula(source="iso-8528-5-transient")
def voltage_rise_max(performance_class):
    """Rise of voltage that the class allows when full load is lost."""
    return lookup("iso-8528-5-transient", "voltage_rise", performance_class)


@formula(source="iso-8528-5-transient")
def frequency_rise_max(performance_class):
    """Rise of frequency that the class allows when full load is lost."""
    return lookup("iso-8528-5-transient", "frequency_rise", performance_class)


# ---- leading power ----

@formula(source="definition")
def load_leading_power(load_filter_reactive_power, load_demand_reactive_power):
    """Leading reactive power that the load can put on the bus: at its demand if it leads, or of its filters, which stay when the load is low."""
    return max(0, load_filter_reactive_power, -load_demand_reactive_power)


@formula(source="physics")
def step_leading_power(load_step_joined, step_time, load_leading_power):
    """Leading power after a step as if every lagging load were off: the kettle that would have helped is not always on."""
    return sum_over("load", load_leading_power if pick(load_step_joined, step_time) <= step_time else 0)


@formula(source="definition")
def step_leading_ratio(step_leading_power, step_sets, alternator_rated_apparent_power):
    """Leading power that each alternator on the bus takes in, over its rating.

    Example: step_leading_power=[240 kvar], step_sets=[1], alternator_rated_apparent_power=1250 kVA give [19.2 %] (hand calculation).
    """
    return step_leading_power / (step_sets * alternator_rated_apparent_power)


@formula(source="self-excitation")
def self_excitation_ratio(synchronous_reactance):
    """Leading power at which the load alone excites the machine and the regulator has nothing left to take away.

    Example: synchronous_reactance=2.5 give 40 % (hand calculation).
    """
    return 1 / synchronous_reactance


# ---- returned power ----

@formula(source="definition")
def regenerative_power(load_regenerative_power):
    """Power that comes back if every braking load brakes at once."""
    return sum_over("load", load_regenerative_power)


@formula(source="physics")
def absorbing_power(minimum_demand_power, low_load_sets, motoring_ratio, set_site_power):
    """What takes returned power up in the quietest hour: the load that is on, and the drag of the engines that then run.

    Example: minimum_demand_power=100 kW, low_load_sets=2, motoring_ratio=8 %, set_site_power=1000 kW give 260 kW (hand calculation).
    """
    return minimum_demand_power + low_load_sets * motoring_ratio * set_site_power


@formula(source="definition")
def regenerative_ratio(regenerative_power, absorbing_power):
    """Returned power over what takes it up. Above one, governors close the fuel and speed still rises."""
    return regenerative_power / absorbing_power


# ---- checks ----

dip_on_step = check("dip_on_step", "step_voltage_dip", limit="voltage_dip_max", safe="below", source="iso-8528-5-transient",
                    title="Voltage dip on load steps, in time")
dip_on_start = check("dip_on_start", "start_voltage_dip", limit="voltage_dip_max", safe="below", source="iso-8528-5-transient",
                     title="Voltage dip at motor starts of the sequence, in time")
recovery_of_step_voltage = check("recovery_of_step_voltage", "step_voltage_recovery", limit="voltage_recovery_max", safe="below",
                                 source="iso-8528-5-recovery", title="Recovery of voltage after load steps")
recovery_of_start_voltage = check("recovery_of_start_voltage", "start_voltage_recovery", limit="voltage_recovery_max", safe="below",
                                  source="iso-8528-5-recovery", title="Recovery of voltage at motor starts")
speed_on_step = check("speed_on_step", "step_frequency_dip", limit="frequency_dip_max", safe="below", source="iso-8528-5-transient",
                      title="Frequency dip on load steps, with governor and turbocharger")
speed_on_start = check("speed_on_start", "start_frequency_dip", limit="frequency_dip_max", safe="below", source="iso-8528-5-transient",
                       title="Frequency dip at motor starts, with governor and turbocharger")
recovery_of_step_frequency = check("recovery_of_step_frequency", "step_frequency_recovery", limit="frequency_recovery_max", safe="below",
                                   source="iso-8528-5-recovery", title="Recovery of frequency after load steps")
recovery_of_start_frequency = check("recovery_of_start_frequency", "start_frequency_recovery", limit="frequency_recovery_max", safe="below",
                                    source="iso-8528-5-recovery", title="Recovery of frequency at motor starts")
rise_of_voltage = check("rise_of_voltage", "rejection_voltage_rise", limit="voltage_rise_max", safe="below", source="iso-8528-5-transient",
                        title="Voltage rise when full load is lost")
rise_of_frequency = check("rise_of_frequency", "rejection_frequency_rise", limit="frequency_rise_max", safe="below", source="iso-8528-5-transient",
                          title="Frequency rise when full load is lost")
leading_power = check("leading_power", "step_leading_ratio", limit="leading_ratio_max", safe="below", source="leading-capability",
                      title="Leading power on the alternators", applies={"step_leading_power": SOME})
self_excitation = check("self_excitation", "step_leading_ratio", limit="self_excitation_ratio", safe="below", source="self-excitation",
                        title="Distance from self-excitation", applies={"step_leading_power": SOME})
returned_power = check("returned_power", "regenerative_ratio", limit="regenerative_ratio_max", safe="below", source="physics",
                       title="Power returned by braking loads", applies={"regenerative_power": SOME})
reverse_relay = check("reverse_relay", "reverse_relay_setting", limit="motoring_ratio", safe="below", source="motoring-usual",
                      title="Reverse power relay below the motoring power", applies={"sync_partners": SOME})

# What no sound text gives the other way round.
motor_start_sets_order = order("motor_start_sets", "installed_sets")
