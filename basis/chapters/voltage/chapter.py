"""Generating voltage: current of a set, conductors that carry it, what they lose and what they bear. Laying, copper, switchgear, cost and rules of thumb
are in cost.py. Copper conductors only; aluminium, proximity effect and the loss of screens are left out.
"""

from basis.language.formula import GIVEN, SOME, chapter, check, formula, order
from basis.language.maths import ceil, log, lookup, sqrt

CHAPTER = chapter("voltage", "Generating voltage", order=30,
                  settles="At which voltage power is generated, weighed by the copper and the switchgear that it asks for.",
                  cautions=(
    "A generator circuit is live from either end: from the set, which may start by itself, and from the bus. Lock the set against starting, "
    "isolate, prove dead and earth both ends before a hand goes near a terminal.",
    "Arc flash and touch voltage rise with fault level and voltage. Medium voltage is for authorised persons only, with written switching "
    "procedures, and screens and neutral points earthed as designed.",
    "Ampacity tables differ by edition and country. The code that the authority having jurisdiction has adopted, and a licensed engineer, decide.",
))


# Current

@formula(source="definition")
def set_rated_current(set_rated_apparent_power, generating_voltage):
    """Line current of a three-phase set at its rated apparent power. Everything in this chapter follows from it.

    Example: set_rated_apparent_power=2000 kVA, generating_voltage=11 kV give 105.0 A (hand calculation).
    """
    return set_rated_apparent_power / (sqrt(3) * generating_voltage)


@formula(source="nec-445-13")
def generator_cable_current(cable_current_factor, set_rated_current):
    """Current for which the conductors between the set and its first circuit-breaker are chosen.

    They have no protection of their own at the set, so they are sized above what the set is rated to give. The factor is not
    stacked on the allowance for continuous load that applies beyond the breaker.

    Example: cable_current_factor=1.15, set_rated_current=2405.6 A give 2766.4 A (hand calculation).
    """
    return cable_current_factor * set_rated_current


# Ampacity

@formula(source="definition")
def conductor_area(conductor_table, conductor_size):
    """Cross-section of a phase conductor, read from the conductor table. The row is the printed size, exactly."""
    return lookup(conductor_table, "area", conductor_size)


@formula(source="definition")
def tabulated_ampacity(ampacity_table, conductor_size):
    """Ampacity of the size at the conditions of the chosen table: its insulation, its way of laying and its ambient."""
    return lookup(ampacity_table, "ampacity", conductor_size)


@formula(source="definition")
def conductor_temperature(ampacity_table, conductor_size):
    """Conductor temperature that belongs to the printed ampacity. It is taken from the table so that the two cannot part."""
    return lookup(ampacity_table, "conductor_temperature", conductor_size)


@formula(source="definition")
def ampacity_reference_temperature(ampacity_table, conductor_size):
    """Ambient that belongs to the printed ampacity: of air, or of earth for cables in the ground."""
    return lookup(ampacity_table, "reference_temperature", conductor_size)


@formula(source=("nec-310-15-b", "conductor-heating", "nec-310-60-c4"))
def ambient_factor(ambient_rule, ambient_table, conductor_ambient_temperature, conductor_temperature, ampacity_reference_temperature):
    """Correction of the printed ampacity for the ambient of the cable: from a printed table, or by the root of the temperature margins.

    Heat leaves in proportion to the difference of temperature and is made by the square of the current. Dielectric loss is left out.
    Example: ambient_table=iec-60364-5-52-b52-14-xlpe, conductor_ambient_temperature=40 degC, conductor_temperature=90 degC,
    ampacity_reference_temperature=30 degC give 0.91 (hand calculation).
    """
    return (lookup(ambient_table, "factor", conductor_ambient_temperature) if ambient_rule == "table"
            else sqrt((conductor_temperature - conductor_ambient_temperature) / (conductor_temperature - ampacity_reference_temperature)))


@formula(source="definition")
def grouping_count(grouping_rule, circuits_grouped, circuit_loaded_conductors):
    """The number with which the grouping table is entered. One code counts circuits, another counts conductors that carry current.

    Example: grouping_rule=conductors, circuits_grouped=2, circuit_loaded_conductors=3 give 6 (hand calculation).
    """
    return circuits_grouped * circuit_loaded_conductors if grouping_rule == "conductors" else circuits_grouped


@formula(source="definition")
def grouping_factor(grouping_rule, grouping_table, grouping_count):
    """What heating by neighbours leaves of the ampacity, read at the next printed count. A circuit alone needs no table."""
    return 1 if grouping_rule == "alone" else lookup(grouping_table, "factor", grouping_count)


@formula(source="nec-110-14")
def derated_ampacity(tabulated_ampacity, ambient_factor, grouping_factor):
    """Ampacity of one conductor where it lies. Correction starts from the insulation's own column, not from that of the terminals.

    Example: tabulated_ampacity=430 A, ambient_factor=0.91, grouping_factor=0.80 give 313.0 A (hand calculation).
    """
    return tabulated_ampacity * ambient_factor * grouping_factor


@formula(source="nec-110-14")
def termination_ampacity(termination_table, conductor_size):
    """Ampacity at the temperature for which lugs and breaker terminals are marked. It is not corrected: terminals sit in the switchgear, not in the duct."""
    return lookup(termination_table, "ampacity", conductor_size)


@formula(source="nec-110-14")
def conductor_capacity(termination_limit, derated_ampacity, termination_ampacity):
    """What one conductor may carry: as laid, and if the code limits it, no more than its terminals allow.

    Example: termination_limit=termination_table, derated_ampacity=391.3 A, termination_ampacity=380 A give 380 A (hand calculation).
    """
    return min(derated_ampacity, termination_ampacity) if termination_limit == "termination_table" else derated_ampacity


@formula(source="definition")
def conductors_per_phase_needed(generator_cable_current, conductor_capacity):
    """Least number of equal conductors in parallel. They share only if equal in length, material, size and termination.

    Example: generator_cable_current=2766.5 A, conductor_capacity=380 A give 8 (hand calculation).
    """
    return ceil(generator_cable_current / conductor_capacity)


@formula(source="definition")
def conductors_per_phase(conductors_per_phase_needed):
    """Parallel conductors that are installed: as many as needed, unless the project gives another number."""
    return conductors_per_phase_needed


@formula(source="definition")
def generator_cable_capacity(conductors_per_phase, conductor_capacity):
    """What all parallel conductors of a phase may carry together.

    Example: conductors_per_phase=8, conductor_capacity=380 A give 3040 A (hand calculation).
    """
    return conductors_per_phase * conductor_capacity


@formula(source=("nec-310-106", "iec-60502-2-sizes"))
def conductor_area_least(least_size_table, generating_voltage, conductors_per_phase):
    """Least conductor for the voltage, and for conductors in parallel where the code has such a rule.

    At medium voltage a thin conductor strains its insulation, so cable is not made below a size that the current seldom asks for.
    """
    return (lookup(least_size_table, "parallel_area", generating_voltage) if conductors_per_phase > 1
            else lookup(least_size_table, "area", generating_voltage))


# Short circuit

@formula(source="iec-60949")
def short_circuit_factor(adiabatic_constant, short_circuit_temperature, conductor_temperature, copper_zero_resistance_temperature):
    """Current density that heats the conductor from its working to its short-circuit temperature in one second, no heat leaving it.

    Example: conductor_temperature=90 degC give 143.1 A*s^0.5/mm^2 (hand calculation).
    """
    return adiabatic_constant * sqrt(log((short_circuit_temperature - copper_zero_resistance_temperature)
                                         / (conductor_temperature - copper_zero_resistance_temperature)))


@formula(source="iec-60949", valid={"generator_cable_fault_duration": (0.1, 5)})
def short_circuit_withstand(short_circuit_factor, conductor_area, generator_cable_fault_duration):
    """Fault current that one conductor bears until the protection clears. Parallel conductors are not added up: a fault in one is fed through that one.

    Example: short_circuit_factor=143.1 A*s^0.5/mm^2, conductor_area=70 mm^2, generator_cable_fault_duration=0.5 s give 14.17 kA (hand calculation).
    """
    return short_circuit_factor * conductor_area / sqrt(generator_cable_fault_duration)


# Impedance, drop and loss

@formula(source="conductor-heating")
def conductor_operating_temperature(conductor_ambient_temperature, conductor_temperature, set_rated_current, conductors_per_phase, derated_ampacity):
    """Temperature of the conductors at rated current. The rise goes with the square of the current and reaches the table's conductor temperature at derated
    ampacity.

    Example: conductor_ambient_temperature=40 degC, conductor_temperature=90 degC, set_rated_current=2405.6 A, conductors_per_phase=8,
    derated_ampacity=391.3 A give 69.5 degC (hand calculation).
    """
    return (conductor_ambient_temperature + (conductor_temperature - conductor_ambient_temperature)
            * (set_rated_current / (conductors_per_phase * derated_ampacity)) ** 2)


@formula(source="iec-60228")
def conductor_dc_resistance(conductor_table, conductor_size, conductor_operating_temperature, copper_zero_resistance_temperature):
    """Resistance to direct current, moved from the temperature of the table to that of operation along copper's straight line.

    Example: conductor_table=iec-60228-copper, conductor_size=300 mm², conductor_operating_temperature=90 degC give 0.0766 ohm/km (hand calculation).
    """
    return (lookup(conductor_table, "resistance", conductor_size)
            * (conductor_operating_temperature - copper_zero_resistance_temperature)
            / (lookup(conductor_table, "resistance_temperature", conductor_size) - copper_zero_resistance_temperature))


@formula(source="iec-60287-1-1", valid={"skin_effect_factor": (1, 1.21)})
def skin_effect_factor(power_frequency, magnetic_constant, conductor_dc_resistance):
    """Rise of resistance because alternating current keeps to the outside of the conductor. Strands count as a solid round; proximity is left out.

    Example: power_frequency=50 Hz, conductor_dc_resistance=0.0766 ohm/km give 1.0139 (hand calculation).
    """
    return 1 + ((2 * power_frequency * magnetic_constant / conductor_dc_resistance) ** 2
                / (192 + 0.8 * (2 * power_frequency * magnetic_constant / conductor_dc_resistance) ** 2))


@formula(source=("nec-ch9-table-9", "iec-60228"))
def conductor_resistance(impedance_rule, impedance_table, conductor_size, conductor_operating_temperature, copper_zero_resistance_temperature,
                         conductor_dc_resistance, skin_effect_factor):
    """Resistance to alternating current at operating temperature: printed for the kind of conduit, or computed from the conductor with skin effect.

    Example: impedance_table=nec-ch9-table-9-copper-pvc, conductor_size=500 kcmil, conductor_operating_temperature=69.5 degC give 0.02652 ohm/kft (hand
    calculation).
    """
    return (lookup(impedance_table, "resistance", conductor_size)
            * (conductor_operating_temperature - copper_zero_resistance_temperature)
            / (lookup(impedance_table, "resistance_temperature", conductor_size) - copper_zero_resistance_temperature)
            if impedance_rule == "conduit_table" else conductor_dc_resistance * skin_effect_factor)


@formula(source=("nec-ch9-table-9", "line-inductance"))
def conductor_reactance(impedance_rule, impedance_table, conductor_size, power_frequency, magnetic_constant, conductor_spacing, conductor_diameter):
    """Reactance at the frequency of the plant: printed for the kind of conduit, or that of three round conductors in trefoil.

    Example: impedance_rule=conductor_and_spacing, power_frequency=50 Hz, conductor_spacing=30 mm, conductor_diameter=21.0 mm give 0.0817 ohm/km (hand
    calculation).
    """
    return (lookup(impedance_table, "reactance", conductor_size) * power_frequency / lookup(impedance_table, "reactance_frequency", conductor_size)
            if impedance_rule == "conduit_table"
            else power_frequency * magnetic_constant * (log(2 * conductor_spacing / conductor_diameter) + 1 / 4))


@formula(source="voltage-drop")
def generator_cable_voltage_drop(set_rated_current, conductors_per_phase, generator_cable_length, conductor_resistance, conductor_reactance,
                                 set_rated_power_factor, generator_cable_power_factor_side):
    """Drop between phases at rated current and rated power factor; below nought it is a rise. The part across the voltage is left out: for a short run it
    is far below one per cent.

    Example: set_rated_current=2405.6 A, conductors_per_phase=8, generator_cable_length=150 ft, conductor_resistance=0.027 ohm/kft,
    conductor_reactance=0.039 ohm/kft give 3.516 V (hand calculation).
    """
    return (sqrt(3) * set_rated_current / conductors_per_phase * generator_cable_length
            * (conductor_resistance * set_rated_power_factor
               + (1 if generator_cable_power_factor_side == "lagging" else -1) * conductor_reactance * sqrt(1 - set_rated_power_factor ** 2)))


@formula(source="definition")
def generator_cable_voltage_drop_ratio(generator_cable_voltage_drop, generating_voltage):
    """Drop, or rise under a leading load, as a share of the generating voltage. The regulator holds the voltage at the set, so the bus sees this drop in full.

    Example: generator_cable_voltage_drop=3.516 V, generating_voltage=480 V give 0.73 % (hand calculation).
    """
    return abs(generator_cable_voltage_drop) / generating_voltage


@formula(source="physics")
def generator_cable_loss(set_rated_current, conductors_per_phase, conductor_resistance, generator_cable_length):
    """Heat made in the phase conductors of one set at rated current. At equal power and copper it falls with the square of the voltage.

    Example: set_rated_current=2405.6 A, conductors_per_phase=8, conductor_resistance=0.027 ohm/kft, generator_cable_length=150 ft give 8.79 kW (hand
    calculation).
    """
    return 3 * set_rated_current ** 2 * conductor_resistance * generator_cable_length / conductors_per_phase


# Checks

capacity = check("generator_cable_capacity_ok", "generator_cable_capacity", limit="generator_cable_current", safe="above",
                 source=("nec-445-13", "nec-310-16"), title="Capacity of the generator cable",
                 applies={"conductors_per_phase": GIVEN})
least_area = check("conductor_least_size", "conductor_area", limit="conductor_area_least", safe="above",
                   source=("nec-310-106", "iec-60502-2-sizes"), title="Least conductor size for the voltage", exact=True)
withstand = check("generator_cable_withstand", "short_circuit_withstand", limit="generator_cable_fault_current", safe="above",
                  source="iec-60949", title="Short-circuit withstand of a conductor", applies={"sync_partners": SOME})
voltage_drop = check("generator_cable_drop", "generator_cable_voltage_drop_ratio", limit="generator_cable_voltage_drop_max", safe="below",
                     source="project", title="Voltage drop of the generator cable")

lies_alone = check("circuit_lies_alone", "circuits_grouped", limit="circuit_alone", safe="below", source="definition", title="A circuit alone is one circuit",
                   exact=True, fault="circuits_grouped: 1, or grouping_rule and grouping_table for more", applies={"grouping_rule": ("alone",)}, self_test=True)

# What no sound text gives the other way round.
bus_sets_order = order("bus_sets", "installed_sets")
reference_medium_voltage_current_low_order = order("reference_medium_voltage_current_low", "reference_medium_voltage_current_high")
reference_conductors_low_order = order("reference_conductors_low", "reference_conductors_high")
reference_bus_current_low_order = order("reference_bus_current_low", "reference_bus_current_high")
