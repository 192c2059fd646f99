"""Short circuit: the network of the plant and the impedance of everything in it, after IEC 60909-0. Currents are in currents.py, what must bear them in
duty.py. Left out: unit blocks of set and transformer, three-winding transformers, static converters, unbalanced faults.
"""

from basis.language.formula import chapter, formula, order
from basis.language.maths import MVA, MW, count_over, kV, lookup, max_over, not_given, pick, sqrt

CHAPTER = chapter("short_circuit", "Short circuit", order=150,
                  settles="What flows into a fault, and whether breakers, bars and relays stand it and see it.",
                  cautions=(
    "An arc at these fault levels burns and blinds from metres away, and the least current may make the longest arc. No panel is opened live. "
    "An arc-flash study by a licensed engineer sets distances and clothing; this chapter is not one.",
    "A bus that is dead may be fed back: from a set that starts by itself, through a transformer from its other side, from running motors, "
    "from the public supply. Isolate every source, lock, prove dead, earth.",
    "Capacitors, cables, springs of circuit-breakers and spinning sets keep energy after isolation. Discharge and wait.",
    "Medium voltage is for authorised persons with written switching procedures. A protection study with settings, selectivity and relay "
    "tests by a licensed engineer is required before the plant is energised; these numbers are where it starts.",
))


# Buses

@formula(source="definition")
def bus_voltage(generating_voltage):
    """A bus is at the generating voltage unless the project gives it another, so that the buses of the sets follow the choice of voltage."""
    return generating_voltage


@formula(source="iec-60909-voltage-factor")
def voltage_factor_max(low_voltage_tolerance, bus_voltage):
    """Factor of the driving voltage for the largest currents: taps, no-load voltage and machines that were loaded before the fault.

    1.05 at low voltage that is held within six per cent, 1.10 within ten per cent and at medium voltage.
    """
    return (1.05 if low_voltage_tolerance == "six_per_cent" else 1.10) if bus_voltage <= 1 * kV else 1.10


@formula(source="iec-60909-voltage-factor")
def voltage_factor_min(low_voltage_tolerance, bus_voltage):
    """Factor of the driving voltage for the least currents, with which protection must still start.

    0.95 at low voltage that is held within six per cent, 0.90 within ten per cent, 1.00 at medium voltage.
    """
    return (0.95 if low_voltage_tolerance == "six_per_cent" else 0.90) if bus_voltage <= 1 * kV else 1.00


# Transformers

@formula(source="definition")
def transformer_high_voltage(transformer_high_bus, bus_voltage):
    """Rated voltage of the high side, that of its bus unless the nameplate says otherwise."""
    return pick(transformer_high_bus, bus_voltage)


@formula(source="definition")
def transformer_low_voltage(transformer_low_bus, bus_voltage):
    """Rated voltage of the low side, that of its bus unless the nameplate says otherwise."""
    return pick(transformer_low_bus, bus_voltage)


@formula(source="definition")
def transformer_resistance_voltage(transformer_winding_loss, transformer_rating):
    """The resistive part of the impedance voltage is the load loss over the rating.

    Example: transformer_winding_loss=[17 kW], transformer_rating=[1000 kVA] give [1.7 %] (hand calculation).
    """
    return transformer_winding_loss / transformer_rating


@formula(source="definition")
def transformer_resistance(transformer_resistance_voltage, transformer_low_voltage, transformer_rating):
    """Resistance of both windings seen from the low side.

    Example: transformer_resistance_voltage=[1 %], transformer_low_voltage=[0.4 kV], transformer_rating=[2 MVA] give [0.80 mohm] (hand calculation).
    """
    return transformer_resistance_voltage * transformer_low_voltage ** 2 / transformer_rating


@formula(source="definition")
def transformer_reactance(transformer_impedance_voltage, transformer_resistance_voltage, transformer_low_voltage, transformer_rating):
    """Leakage reactance of both windings seen from the low side.

    Example: transformer_impedance_voltage=[6 %], transformer_resistance_voltage=[1 %], transformer_low_voltage=[0.4 kV], transformer_rating=[2 MVA] give
    [4.733 mohm] (hand calculation).
    """
    return sqrt(transformer_impedance_voltage ** 2 - transformer_resistance_voltage ** 2) * transformer_low_voltage ** 2 / transformer_rating


@formula(source="iec-60909-transformer")
def transformer_correction(transformer_low_bus, voltage_factor_max, transformer_impedance_voltage, transformer_resistance_voltage):
    """Correction of a network transformer, for the largest currents only: loaded before the fault, its inner voltage was higher than the factor c alone says.

    Example: transformer_low_bus=[item_1], voltage_factor_max=[1.05], transformer_impedance_voltage=[6 %], transformer_resistance_voltage=[1 %] give [0.9633]
    (hand calculation).
    """
    return 0.95 * pick(transformer_low_bus, voltage_factor_max) / (1 + 0.6 * sqrt(transformer_impedance_voltage ** 2 - transformer_resistance_voltage ** 2))


# Feeders

@formula(source="conductor-table")
def feeder_resistance_per_length(conductor_table, feeder_size, resistance_reference_temperature, copper_zero_resistance_temperature):
    """Direct-current resistance of the size at 20 °C. A table at another temperature is moved along copper's straight line; skin effect is left out.

    Example: conductor_table=nec-ch9-table-8-copper, feeder_size=[500 kcmil] give [0.0696 ohm/km] (hand calculation).
    """
    return (lookup(conductor_table, "resistance", feeder_size) * (resistance_reference_temperature - copper_zero_resistance_temperature)
            / (lookup(conductor_table, "resistance_temperature", feeder_size) - copper_zero_resistance_temperature))


@formula(source="definition")
def feeder_resistance(feeder_resistance_per_length, feeder_length, feeder_parallel):
    """Resistance of a phase, all its conductors in parallel, cold.

    Example: feeder_resistance_per_length=[0.0754 ohm/km], feeder_length=[60 m], feeder_parallel=[2] give [2.26 mohm] (hand calculation).
    """
    return feeder_resistance_per_length * feeder_length / feeder_parallel


@formula(source="iec-60909-line")
def feeder_hot_resistance(feeder_resistance, resistance_temperature_coefficient, feeder_end_temperature, resistance_reference_temperature):
    """Resistance at the end of the fault, for the least currents: a hot cable passes less.

    Example: feeder_resistance=[2.26 mohm] give [3.53 mohm] (hand calculation).
    """
    return feeder_resistance * (1 + resistance_temperature_coefficient * (feeder_end_temperature - resistance_reference_temperature))


@formula(source="definition")
def feeder_reactance(feeder_reactance_per_length, feeder_length, feeder_parallel):
    """Reactance of a phase, all its conductors in parallel.

    Example: feeder_reactance_per_length=[0.08 ohm/km], feeder_length=[60 m], feeder_parallel=[2] give [2.40 mohm] (hand calculation).
    """
    return feeder_reactance_per_length * feeder_length / feeder_parallel


# Public supply

@formula(source="definition")
def infeed_short_circuit_power_min(infeed_short_circuit_power):
    """The least short-circuit power is the largest unless the operator of the supply declares another; ask, because it is often half."""
    return infeed_short_circuit_power


@formula(source="iec-60909-network")
def infeed_impedance(infeed_bus, voltage_factor_max, bus_voltage, infeed_short_circuit_power):
    """Impedance behind which the public supply stands, at its largest short-circuit power.

    Example: infeed_bus=[item_1], voltage_factor_max=[1.1], bus_voltage=[11 kV], infeed_short_circuit_power=[250 MVA] give [532.4 mohm] (hand calculation).
    """
    return pick(infeed_bus, voltage_factor_max) * pick(infeed_bus, bus_voltage) ** 2 / infeed_short_circuit_power


@formula(source="iec-60909-network")
def infeed_impedance_max(infeed_bus, voltage_factor_min, bus_voltage, infeed_short_circuit_power_min):
    """Impedance behind which the public supply stands, at its least short-circuit power.

    Example: infeed_bus=[item_1], voltage_factor_min=[1.0], bus_voltage=[11 kV], infeed_short_circuit_power_min=[125 MVA] give [968 mohm] (hand calculation).
    """
    return pick(infeed_bus, voltage_factor_min) * pick(infeed_bus, bus_voltage) ** 2 / infeed_short_circuit_power_min


@formula(source="definition")
def supply_power_largest(utility_operation, utility_breakers, infeed_short_circuit_power):
    """Largest short-circuit power that the public supply brings. An island has no breaker to a supply and never runs beside one: it brings nought.

    Any other plant lists its supplies, or what its boards must stand is not known.
    """
    return (0 if count_over("grid_infeed") == 0 and utility_operation == "no_parallel" and utility_breakers == 0
            else max_over("grid_infeed", infeed_short_circuit_power))


# Motors

@formula(source="definition")
def motor_group_power(motor_group_from, motor_group_motor, motor_shaft_power, motor_group_count):
    """As many motors as the group has of the one that it is like; of any other the project says it.

    Example: motor_group_from=[motor], motor_group_motor=[item_1], motor_shaft_power=[300 kW], motor_group_count=[2] give [600 kW] (hand calculation).
    """
    return ((motor_group_count * pick(motor_group_motor, motor_shaft_power) if motor_group_from == "motor" else not_given)
            if count_over("motor_group") > 0 else not_given)


@formula(source="motor-usual")
def motor_group_efficiency(motor_group_from, motor_group_motor, motor_efficiency):
    """Of the motor that the group is like, else usual of a motor of some hundred kilowatts."""
    return (pick(motor_group_motor, motor_efficiency) if motor_group_from == "motor" else 0.94) if count_over("motor_group") > 0 else 0.94


@formula(source="motor-usual")
def motor_group_power_factor(motor_group_from, motor_group_motor, motor_power_factor):
    """Of the motor that the group is like, else usual."""
    return (pick(motor_group_motor, motor_power_factor) if motor_group_from == "motor" else 0.86) if count_over("motor_group") > 0 else 0.86


@formula(source="motor-usual")
def motor_group_locked_rotor_ratio(motor_group_from, motor_group_motor, motor_locked_rotor_ratio):
    """Of the motor that the group is like, else usual."""
    return (pick(motor_group_motor, motor_locked_rotor_ratio) if motor_group_from == "motor" else 6) if count_over("motor_group") > 0 else 6


@formula(source="definition")
def motor_group_rated_apparent_power(motor_group_power, motor_group_efficiency, motor_group_power_factor):
    """Apparent power of the group at rated load.

    Example: motor_group_power=[200 kW], motor_group_efficiency=[94 %], motor_group_power_factor=[0.86] give [247.4 kVA] (hand calculation).
    """
    return motor_group_power / (motor_group_efficiency * motor_group_power_factor)


@formula(source="definition")
def motor_group_rated_current(motor_group_rated_apparent_power, motor_group_bus, bus_voltage):
    """Rated current at the voltage of the bus.

    Example: motor_group_rated_apparent_power=[247.4 kVA], motor_group_bus=[item_1], bus_voltage=[480 V] give [297.6 A] (hand calculation).
    """
    return motor_group_rated_apparent_power / (sqrt(3) * pick(motor_group_bus, bus_voltage))


@formula(source="definition")
def motor_power_per_pole_pair(motor_group_power, motor_group_count, motor_group_pole_pairs):
    """Power of one motor per pole pair: large slow motors keep their field longer.

    Example: motor_group_power=[600 kW], motor_group_count=[3], motor_group_pole_pairs=[2] give [100 kW] (hand calculation).
    """
    return motor_group_power / (motor_group_count * motor_group_pole_pairs)


@formula(source="iec-60909-motor")
def motor_group_resistance_ratio(motor_group_bus, bus_voltage, motor_power_per_pole_pair):
    """R/X of running motors: 0.42 for low-voltage groups with their cables, at medium voltage 0.15 below a megawatt per pole pair and 0.10 above."""
    return 0.42 if pick(motor_group_bus, bus_voltage) <= 1 * kV else 0.15 if motor_power_per_pole_pair < 1 * MW else 0.10


@formula(source="iec-60909-motor")
def motor_group_impedance(motor_group_bus, bus_voltage, motor_group_locked_rotor_ratio, motor_group_rated_apparent_power):
    """A running motor is a source behind its locked-rotor impedance until its field has died.

    Example: motor_group_bus=[item_1], bus_voltage=[480 V], motor_group_locked_rotor_ratio=[6], motor_group_rated_apparent_power=[247.4 kVA] give [155.2
    mohm] (hand calculation).
    """
    return pick(motor_group_bus, bus_voltage) ** 2 / (motor_group_locked_rotor_ratio * motor_group_rated_apparent_power)


# Sets

@formula(source="definition")
def alternator_rated_current(alternator_rated_apparent_power, generating_voltage):
    """Rated current of the alternator on its own rating, the base of its reactances and of its sustained current.

    Example: alternator_rated_apparent_power=1250 kVA, generating_voltage=400 V give 1804 A (hand calculation).
    """
    return alternator_rated_apparent_power / (sqrt(3) * generating_voltage)


@formula(source="definition")
def generator_rated_voltage(generating_voltage):
    """All sets generate at the generating voltage unless one is given another."""
    return generating_voltage


@formula(source="definition")
def generator_rated_apparent_power(alternator_rated_apparent_power):
    """All sets have the alternator of the set type unless one is given another."""
    return alternator_rated_apparent_power


@formula(source="definition")
def generator_power_factor(set_rated_power_factor):
    """All sets have the power factor of the set type unless one is given another."""
    return set_rated_power_factor


@formula(source="definition")
def generator_subtransient_reactance(subtransient_reactance):
    """All sets have the subtransient reactance of the set type unless one is given another."""
    return subtransient_reactance


@formula(source="definition")
def generator_sustained_ratio(sustained_current_ratio):
    """All sets have the excitation of the set type unless one is given another."""
    return sustained_current_ratio


@formula(source="iec-60909-generator-resistance")
def generator_resistance_ratio(generator_rated_voltage, generator_rated_apparent_power):
    """Ratio that makes the peak right, larger than that of the true resistance because the alternating part decays within the first half cycle.

    0.15 up to 1 kV, 0.07 above it below 100 MVA, 0.05 for larger machines.
    """
    return 0.15 if generator_rated_voltage <= 1 * kV else 0.07 if generator_rated_apparent_power < 100 * MVA else 0.05


@formula(source="definition")
def generator_rated_current(generator_rated_apparent_power, generator_rated_voltage):
    """Rated current of each set. Example: generator_rated_apparent_power=[1250 kVA], generator_rated_voltage=[400 V] give [1804 A] (hand calculation)."""
    return generator_rated_apparent_power / (sqrt(3) * generator_rated_voltage)


@formula(source="definition")
def generator_reactance(generator_subtransient_reactance, generator_rated_voltage, generator_rated_apparent_power):
    """Subtransient reactance in ohms.

    Example: generator_subtransient_reactance=[0.12], generator_rated_voltage=[400 V], generator_rated_apparent_power=[1250 kVA] give [15.36 mohm] (hand
    calculation).
    """
    return generator_subtransient_reactance * generator_rated_voltage ** 2 / generator_rated_apparent_power


@formula(source="iec-60909-generator")
def generator_correction(generator_bus, bus_voltage, generator_rated_voltage, voltage_factor_max, generator_subtransient_reactance, generator_power_factor):
    """Correction of a set that feeds the bus without a transformer of its own: at rated load the voltage behind its reactance is above terminal voltage.

    Example: generator_bus=[item_1], bus_voltage=[400 V], generator_rated_voltage=[400 V], voltage_factor_max=[1.05], generator_subtransient_reactance=[12 %],
    generator_power_factor=[0.8] give [0.9795] (hand calculation).
    """
    return (pick(generator_bus, bus_voltage) / generator_rated_voltage * pick(generator_bus, voltage_factor_max)
            / (1 + generator_subtransient_reactance * sqrt(1 - generator_power_factor ** 2)))

# What no sound text gives the other way round.
infeed_short_circuit_power_min_order = order("infeed_short_circuit_power_min", "infeed_short_circuit_power")
transformer_low_voltage_order = order("transformer_low_voltage", "transformer_high_voltage")
