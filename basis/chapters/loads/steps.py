"""Loads and sets, third part: load steps, frequency dip, motor starts, voltage dip and distortion of the voltage."""

from basis.language.formula import SOME, check, formula
from basis.language.maths import lookup, pick, sqrt, sum_over

# ---- load steps ----


@formula(source="physics")
def step_power(load_step_joined, step_time, load_demand_power):
    """Power that comes on with a step: the demand of every load that joins it, without coincidence.

    After an outage tanks are low, rooms are warm and batteries are empty: everything starts together.
    """
    return sum_over("load", load_demand_power if pick(load_step_joined, step_time) == step_time else 0)


@formula(source="physics")
def step_total_power(load_step_joined, step_time, load_demand_power):
    """Power that is on after a step: the demand of every load of this step and of those before it in time."""
    return sum_over("load", load_demand_power if pick(load_step_joined, step_time) <= step_time else 0)


@formula(source="definition")
def step_capacity(step_sets, set_site_power):
    """Site power of the sets that are on the bus when the step comes."""
    return step_sets * set_site_power


@formula(source="definition")
def step_ratio(step_power, step_capacity):
    """Step over the site power of the sets on the bus, as the acceptance of a set is declared."""
    return step_power / step_capacity


@formula(source="definition")
def step_loading(step_total_power, step_capacity):
    """Loading of the sets on the bus once the step is on."""
    return step_total_power / step_capacity


@formula(source="definition")
def step_power_accepted(step_acceptance, step_capacity):
    """Largest step that the sets on the bus take at this point, from the curve that their maker declares."""
    return step_acceptance * step_capacity


@formula(source="physics", valid={"frequency_dip_before_fuel": (0, 0.3)})
def frequency_dip_before_fuel(step_power, fuel_delay, inertia_constant, step_sets, set_rated_apparent_power):
    """Fall of frequency before the engine answers: the missing energy comes out of the turning masses.

    Governor and turbocharger lag are left out, so frequency falls further than this: a step that fails here is too large, one that holds is not
    proved. Example: step_power=[500 kW], fuel_delay=0.1 s, inertia_constant=1 s, step_sets=[1], set_rated_apparent_power=1 MVA give [2.53 %] (hand
    calculation).
    """
    return 1 - sqrt(max(0, 1 - step_power * fuel_delay / (inertia_constant * step_sets * set_rated_apparent_power)))


@formula(source="iso-8528-5-transient")
def frequency_dip_max(performance_class):
    """Transient fall of frequency that the performance class allows on load; a class agreed for the project gives its own."""
    return lookup("iso-8528-5-transient", "frequency_dip", performance_class)


@formula(source="iso-8528-5-transient")
def voltage_dip_max(performance_class):
    """Transient fall of voltage that the performance class allows on load; sensitive loads may ask for less."""
    return lookup("iso-8528-5-transient", "voltage_dip", performance_class)


@formula(source="iso-8528-5-recovery")
def frequency_recovery_max(performance_class):
    """Time in which frequency must be back in its band, to be shown by test."""
    return lookup("iso-8528-5-recovery", "frequency", performance_class)


@formula(source="iso-8528-5-recovery")
def voltage_recovery_max(performance_class):
    """Time in which voltage must be back in its band, to be shown by test."""
    return lookup("iso-8528-5-recovery", "voltage", performance_class)


# ---- motor starts ----

@formula(source="definition")
def motor_running_apparent_power(motor_shaft_power, motor_efficiency, motor_power_factor):
    """Apparent power that the motor takes at rated load."""
    return motor_shaft_power / (motor_efficiency * motor_power_factor)


@formula(source="nec-430-7b")
def motor_locked_rotor_ratio(motor_code_letter, motor_shaft_power, motor_running_apparent_power):
    """Locked-rotor over rated current from the code letter, at the top of its band; a nameplate figure wins.

    Example: motor_code_letter=[G], motor_shaft_power=[100 hp], motor_running_apparent_power=[83.6 kVA] give [7.5] (hand calculation after NEC table 430.7 B).
    """
    return lookup("nec-code-letters", "apparent_power_per_horsepower", motor_code_letter) * motor_shaft_power / motor_running_apparent_power


@formula(source="definition")
def motor_locked_rotor_apparent_power(motor_locked_rotor_ratio, motor_running_apparent_power):
    """Apparent power with the rotor locked, at rated voltage."""
    return motor_locked_rotor_ratio * motor_running_apparent_power


@formula(source="physics")
def motor_start_apparent_power(motor_start_method, motor_locked_rotor_apparent_power, motor_start_voltage_ratio, motor_start_current_limit,
                               motor_running_apparent_power):
    """Apparent power that the bus sees while the motor starts.

    An autotransformer cuts it with the square of its tap, a star-delta starter to a third, a reactor in proportion; a soft starter
    holds a multiple of rated current, and a drive starts the motor within its rating.
    """
    return (motor_locked_rotor_apparent_power if motor_start_method == "direct" else
            motor_locked_rotor_apparent_power / 3 if motor_start_method == "star_delta" else
            motor_locked_rotor_apparent_power * motor_start_voltage_ratio**2 if motor_start_method == "autotransformer" else
            motor_locked_rotor_apparent_power * motor_start_voltage_ratio if motor_start_method == "reactor" else
            motor_running_apparent_power * motor_start_current_limit if motor_start_method == "soft_starter" else
            motor_running_apparent_power)


@formula(source="definition")
def motor_start_power(motor_start_apparent_power, motor_start_power_factor):
    """Active power of the start: what the engines feel, often more than the motor takes once it runs."""
    return motor_start_apparent_power * motor_start_power_factor


@formula(source="physics")
def motor_start_torque_ratio(motor_start_method, motor_start_voltage_ratio, motor_start_current_limit, motor_locked_rotor_ratio):
    """Starting torque over that at full voltage: it falls with the square of the motor's current. A drive keeps it.

    The driven machine must break away with what is left; that is checked with its maker.
    """
    return (1 if motor_start_method == "direct" or motor_start_method == "drive" else
            1 / 3 if motor_start_method == "star_delta" else
            (motor_start_current_limit / motor_locked_rotor_ratio)**2 if motor_start_method == "soft_starter" else
            motor_start_voltage_ratio**2)


@formula(source="definition")
def motor_start_impedance(running_sets, alternator_rated_apparent_power, motor_start_apparent_power):
    """Impedance of the starting motor as the running alternators see it, on their rating together."""
    return running_sets * alternator_rated_apparent_power / motor_start_apparent_power


@formula(source="physics")
def motor_start_dip(transient_reactance, motor_start_impedance):
    """First fall of voltage when a motor starts on sets without other load, as a divider of reactances.

    Locked rotor as constant impedance, voltage behind transient reactance held, regulator not yet acting, rated speed. The still
    shorter subtransient dip is usually ridden through.

    Example: transient_reactance=20 %, motor_start_impedance=[[1.9873]] give [[9.14 %]] (hand calculation).
    """
    return transient_reactance / (transient_reactance + motor_start_impedance)


@formula(source="physics")
def motor_start_dip_vector(motor_start_impedance, motor_start_power_factor, transient_reactance):
    """The same divider with the resistance of the locked rotor: a little less than with reactance alone.

    Example: motor_start_impedance=[[1.9873]], motor_start_power_factor=[0.3], transient_reactance=20 % give [[8.79 %]] (hand calculation).
    """
    return 1 - motor_start_impedance / sqrt((motor_start_impedance * motor_start_power_factor)**2
                                            + (motor_start_impedance * sqrt(1 - motor_start_power_factor**2) + transient_reactance)**2)


@formula(source="physics")
def largest_motor_start(running_sets, alternator_rated_apparent_power, voltage_dip_max, transient_reactance):
    """Largest starting apparent power that keeps the voltage dip allowed.

    Example: running_sets=[1], alternator_rated_apparent_power=1250 kVA, voltage_dip_max=15 %, transient_reactance=20 % give [1103 kVA] (hand calculation).
    """
    return running_sets * alternator_rated_apparent_power * voltage_dip_max / (transient_reactance * (1 - voltage_dip_max))


# ---- distortion ----

@formula(source=("physics", "active-front-spectrum"))
def rectifier_distortion_factor(rectifier_pulses, rectifier_current_distortion, rectifier_harmonic_order):
    """Distortion of the voltage for each part of reactance and each part of the rating that rectifiers take.

    Of an ideal bridge each harmonic counts alike, as its current falls while reactance rises with the order, up to the twenty-fifth. An active front end is
    counted by the distortion of its current that its maker declares. Example: rectifier_pulses=six give 2.828 (hand calculation).
    """
    return (rectifier_current_distortion * rectifier_harmonic_order if rectifier_pulses == "active_front_end" else
            sqrt(lookup("rectifier-harmonics", "count", rectifier_pulses)))


@formula(source="physics", valid={"voltage_distortion": (0, 0.25)})
def voltage_distortion(rectifier_distortion_factor, harmonic_reactance, case_nonlinear_power, running_sets, alternator_rated_apparent_power):
    """Distortion of the bus voltage by rectifiers. Filters, commutation and other load make it less, resonance makes it more.

    Example: rectifier_distortion_factor=2.828, harmonic_reactance=12 %, case_nonlinear_power=[500 kVA], running_sets=[1], alternator_rated_apparent_power=1 MVA
    give [17.0 %] (hand calculation).
    """
    return rectifier_distortion_factor * harmonic_reactance * case_nonlinear_power / (running_sets * alternator_rated_apparent_power)


# ---- checks ----

step_size = check("step_size", "step_ratio", limit="step_acceptance", safe="below", source="project", title="Load step against what the sets accept")
step_total = check("step_total", "step_loading", limit="set_load_ratio_max", safe="below", source="rating-definition",
                   title="Loading of the sets after each step")
frequency_on_step = check("frequency_on_step", "frequency_dip_before_fuel", limit="frequency_dip_max", safe="below", source="iso-8528-5-transient",
                          title="Frequency dip before the fuel answers, which is not the whole of it",
                          applies={"frequency_dip_judged_by": ("turning_masses",)})
voltage_on_start = check("voltage_on_start", "motor_start_dip", limit="voltage_dip_max", safe="below", source="iso-8528-5-transient",
                         title="First fall of voltage at motor start, no other load on the sets", applies={"running_case_share": SOME})
distortion = check("distortion", "voltage_distortion", limit="voltage_distortion_max", safe="below", source="project",
                   title="Distortion of the voltage", applies={"case_nonlinear_power": SOME})
