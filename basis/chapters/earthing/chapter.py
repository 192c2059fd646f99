"""Earthing: the neutral of the sets, what an earth fault draws, charging current, and neutrals of sets in parallel. Protective conductors and the
electrode are in conductors.py. Left out: earth faults with the public supply in parallel, transient overvoltage, zero-sequence impedance of cables,
design of the electrode.
"""

from basis.language.formula import SOME, chapter, check, formula
from basis.language.maths import lookup, min_over, sin, sqrt, sum_over

CHAPTER = chapter("earthing", "Earthing", order=160,
                  settles="How neutrals and frames are earthed, and what an earth fault raises.",
                  cautions=(
    "During an earth fault every exposed metal part may be at a voltage that kills, at the plant and along cable screens and pipes that leave it. "
    "Touch and step voltages are proved by a licensed engineer with measurements of the soil, not by one number.",
    "A neutral that is opened, or closed twice, changes what protection sees. The neutral point of a running set may be live; "
    "work on it is work on a live part.",
    "With a high resistance the first earth fault is not cleared: the healthy phases stand at full line voltage to earth until somebody finds it.",
    "Never disconnect an earthing resistor, an earthing transformer or the secondary of a neutral current transformer of a set that runs or may start.",
))


# Sets and their star points

@formula(source="definition")
def phase_voltage(generating_voltage):
    """Voltage from phase to neutral, which drives an earth fault. Example: generating_voltage=13.8 kV give 7967 V (hand calculation)."""
    return generating_voltage / sqrt(3)


@formula(source="definition")
def alternator_base_impedance(generating_voltage, alternator_rated_apparent_power):
    """Impedance that is one per unit on the rating of the alternator.

    Example: generating_voltage=4.16 kV, alternator_rated_apparent_power=2.5 MVA give 6.922 ohm (hand calculation).
    """
    return generating_voltage ** 2 / alternator_rated_apparent_power


@formula(source="one-neutral-closed")
def neutrals_in_parallel(neutral_closed, running_sets):
    """Star points that carry zero-sequence current: one, or those of all running sets where their neutrals meet or each is earthed."""
    return 1 if neutral_closed == "one_set" else running_sets


@formula(source="one-neutral-closed")
def earthed_sets(neutral_closed, running_sets):
    """Earth connections that are closed at the sets: one of each running set, one in all, or none where the neutral is earthed at the supply only."""
    return running_sets if neutral_closed == "each_set" else 0 if neutral_closed == "at_supply" else 1


@formula(source="earthed-once")
def neutral_bonds(earthed_sets, supply_neutral):
    """Connections of the neutral to earth. If the neutral of the supply stays joined, the earth at the supply counts too.

    Example: earthed_sets=[1], supply_neutral=joined give [2] (hand calculation).
    """
    return earthed_sets + 1 if supply_neutral == "joined" else earthed_sets


# Earth fault

@formula(source="symmetrical-components")
def positive_reactance(subtransient_reactance, alternator_base_impedance, running_sets):
    """Running sets in parallel, subtransient: the first cycles decide what the windings bear."""
    return subtransient_reactance * alternator_base_impedance / running_sets


@formula(source="symmetrical-components")
def negative_reactance(negative_sequence_reactance, alternator_base_impedance, running_sets):
    """Running sets in parallel against a field that turns backwards."""
    return negative_sequence_reactance * alternator_base_impedance / running_sets


@formula(source="symmetrical-components")
def zero_reactance(zero_sequence_reactance, alternator_base_impedance, neutrals_in_parallel):
    """Only sets whose neutral is closed carry zero-sequence current, and they carry all of it."""
    return zero_sequence_reactance * alternator_base_impedance / neutrals_in_parallel


@formula(source="symmetrical-components")
def three_phase_terminal_current(phase_voltage, positive_reactance):
    """Three-phase fault of the sets alone, beside which the earth fault is held.

    Example: phase_voltage=2401.8 V, positive_reactance=[1.0383 ohm] give [2313 A] (hand calculation).
    """
    return phase_voltage / positive_reactance


@formula(source="symmetrical-components")
def solid_earth_fault_current(phase_voltage, positive_reactance, negative_reactance, zero_reactance):
    """Earth fault with nothing in the neutral: three times phase voltage over the three reactances in series.

    Example: phase_voltage=2401.8 V, positive_reactance=[1.0383 ohm], negative_reactance=[1.1767 ohm], zero_reactance=[0.3461 ohm] give [2813 A] (hand
    calculation).
    """
    return 3 * phase_voltage / (positive_reactance + negative_reactance + zero_reactance)


@formula(source="winding-bracing")
def solid_earth_fault_ratio(solid_earth_fault_current, three_phase_terminal_current):
    """Whether an earth fault strains the winding more than the three-phase fault that it is braced for.

    Example: solid_earth_fault_current=[2813 A], three_phase_terminal_current=[2313 A] give [1.216] (hand calculation).
    """
    return solid_earth_fault_current / three_phase_terminal_current


@formula(source="symmetrical-components")
def neutral_resistance(neutral_earthing, phase_voltage, neutral_resistor_current):
    """Resistance that lets the wanted current through at phase voltage.

    Example: neutral_earthing=low_resistance, phase_voltage=7967 V, neutral_resistor_current=400 A give 19.92 ohm (hand calculation).
    """
    return 0 if neutral_earthing == "solid" else phase_voltage / neutral_resistor_current


@formula(source="symmetrical-components")
def earth_fault_current(phase_voltage, positive_reactance, negative_reactance, zero_reactance, neutral_closed, neutral_resistance, running_sets):
    """Bolted earth fault at the terminals, the neutral earthed as designed. Three times the resistance stands in the zero-sequence network.

    Resistance of the windings and charging current are left out. If each set has its own resistor they act in parallel.

    Example: phase_voltage=2401.78 V, positive_reactance=[1.0383 ohm], negative_reactance=[1.1767 ohm], zero_reactance=[0.3461 ohm], neutral_resistance=6.004
    ohm, running_sets=[1] give [396.0 A] (hand calculation).
    """
    return 3 * phase_voltage / sqrt((positive_reactance + negative_reactance + zero_reactance) ** 2
                                    + (3 * neutral_resistance / running_sets if neutral_closed == "each_set" else 3 * neutral_resistance) ** 2)


@formula(source=("neutral-class", "winding-bracing"))
def earth_fault_current_max(neutral_earthing, three_phase_terminal_current):
    """Earth-fault current allowed: by the class of the resistor, or for a solid neutral the three-phase current for which the windings are braced."""
    return three_phase_terminal_current if neutral_earthing == "solid" else lookup("neutral-earthing-class", "current_max", neutral_earthing)


@formula(source=("iec-60364-4-41", "neutral-resistor-practice"))
def earth_fault_time_max(neutral_earthing, disconnection_time, neutral_resistor_time):
    """Time in which an earth fault must be gone: before the resistor is too hot, or without one before the code's disconnection time is over."""
    return disconnection_time if neutral_earthing == "solid" else neutral_resistor_time


# Resistor and earthing transformer

@formula(source="physics")
def neutral_resistor_power(phase_voltage, neutral_resistor_current):
    """Heat of the resistor at phase voltage and full current.

    Example: phase_voltage=7967.4 V, neutral_resistor_current=400 A give 3187 kW (hand calculation).
    """
    return phase_voltage * neutral_resistor_current


@formula(source="physics")
def neutral_resistor_energy(neutral_resistor_power, neutral_resistor_time):
    """Heat that the resistor takes up in its rated time, nearly all of it stored in the metal.

    Example: neutral_resistor_power=3187 kW, neutral_resistor_time=10 s give 31.87 MJ (hand calculation).
    """
    return neutral_resistor_power * neutral_resistor_time


@formula(source="definition")
def neutral_transformer_ratio(phase_voltage, neutral_transformer_voltage):
    """Ratio of a distribution transformer in the neutral. Its primary is rated for line voltage so that it does not saturate.

    Example: phase_voltage=7967 V, neutral_transformer_voltage=240 V give 33.20 (hand calculation).
    """
    return phase_voltage / neutral_transformer_voltage


@formula(source="physics")
def neutral_secondary_resistance(neutral_resistance, neutral_transformer_ratio):
    """Small resistor on the secondary side that acts as a large one in the neutral.

    Example: neutral_resistance=995.9 ohm, neutral_transformer_ratio=33.20 give 0.904 ohm (hand calculation).
    """
    return neutral_resistance / neutral_transformer_ratio ** 2


@formula(source="definition")
def neutral_transformer_power(phase_voltage, neutral_resistor_current):
    """Continuous rating of the earthing transformer. Example: phase_voltage=7967 V, neutral_resistor_current=8 A give 63.7 kVA (hand calculation)."""
    return phase_voltage * neutral_resistor_current


# Charging current

@formula(source="definition")
def capacitance_each(capacitance_per_length, capacitance_length):
    """Capacitance of one phase to earth, by length, or as the maker of a machine or surge capacitor declares it.

    Example: capacitance_per_length=[0.3 uF/km], capacitance_length=[500 m] give [0.15 uF] (hand calculation).
    """
    return capacitance_per_length * capacitance_length


@formula(source="charging-physics")
def network_capacitance(capacitance_count, capacitance_each):
    """Everything that is joined by metal at the generating voltage: cables, windings, surge capacitors, motors. A transformer ends it."""
    return sum_over("capacitance_item", capacitance_count * capacitance_each)


@formula(source="charging-physics")
def charging_current(power_frequency, network_capacitance, generating_voltage):
    """Capacitive current of a bolted earth fault, three times that of a phase in health.

    Example: power_frequency=60 Hz, network_capacitance=1.0 uF, generating_voltage=13.8 kV give 9.01 A (hand calculation).
    """
    return sqrt(3) * 2 * 3.141592653589793 * power_frequency * network_capacitance * generating_voltage


@formula(source="neutral-class")
def charging_current_allowed(neutral_earthing, earth_fault_current, neutral_resistor_current):
    """An arc that strikes and dies pumps charge into a network whose neutral carries less than the charging current, and the voltage climbs.

    So the current through the neutral must at least match it; and beyond ten amperes a high resistance does not suit at all, because the fault burns on.
    """
    return (min_over("running_case", earth_fault_current) if neutral_earthing == "solid"
            else min(neutral_resistor_current, lookup("neutral-earthing-class", "current_max", neutral_earthing)))


# Neutrals in parallel

@formula(source="pitch-factor")
def third_harmonic_pitch_factor(winding_pitch):
    """Share of the third harmonic of the field that a coil of this pitch picks up: none at two thirds, all at full pitch.

    Example: winding_pitch=0.83333 give 0.707 (hand calculation).
    """
    return abs(sin(3 * winding_pitch * 3.141592653589793 / 2))


@formula(source="zero-sequence-circulation")
def third_harmonic_current(third_harmonic_voltage, third_harmonic_pitch_factor, phase_voltage, zero_sequence_reactance, alternator_base_impedance,
                           neutrals_in_parallel):
    """Third-harmonic current in the neutral of a set, if that set makes the harmonic and those joined to it do not: three phases, three times the
    reactance, back through the others.

    A resistor in each neutral makes it less. Sets of one make and pitch cancel; sets of unlike pitch do not.
    Example: third_harmonic_voltage=5 %, third_harmonic_pitch_factor=1, phase_voltage=230.94 V, zero_sequence_reactance=5 %, alternator_base_impedance=0.128
    ohm, neutrals_in_parallel=[2] give [902 A] (hand calculation).
    """
    return (third_harmonic_voltage * third_harmonic_pitch_factor * phase_voltage / (zero_sequence_reactance * alternator_base_impedance)
            * (neutrals_in_parallel - 1) / neutrals_in_parallel)


@formula(source="definition")
def third_harmonic_ratio(third_harmonic_current, alternator_rated_current):
    """Third-harmonic current over rated current of an alternator, as makers state what a neutral bears."""
    return third_harmonic_current / alternator_rated_current


# Checks

earth_fault = check("earth_fault_current_ok", "earth_fault_current", limit="earth_fault_current_max", safe="below",
                    source=("neutral-class", "winding-bracing"), title="Earth-fault current within its class")
covered = check("charging_covered", "charging_current", limit="charging_current_allowed", safe="below", source="neutral-class",
                title="Neutral current covers the charging current", applies={"neutral_earthing": ("low_resistance", "high_resistance")})
earth_reach = check("earth_fault_reach", "earth_fault_current", limit="earth_relay_pickup", safe="above", source="project",
                    title="Earth-fault relay starts in every case")
earth_time = check("earth_fault_time", "earth_fault_clearing_time", limit="earth_fault_time_max", safe="below",
                   source=("iec-60364-4-41", "neutral-resistor-practice"), title="Earth fault is cleared in time")
earthed = check("neutral_earthed", "neutral_bonds", limit="neutral_bonds_min", safe="above", source="earthed-once", title="Neutral is earthed", exact=True)
earthed_once = check("neutral_earthed_once", "neutral_bonds", limit="neutral_bonds_max", safe="below", source="earthed-once",
                     title="Neutral is earthed at one place", exact=True)
circulation = check("third_harmonic_circulation", "third_harmonic_ratio", limit="third_harmonic_ratio_max", safe="below", source="project",
                    title="Third-harmonic current between neutrals",
                    applies={"neutral_closed": ("common_bar", "each_set", "at_supply"), "other_sets": SOME})
