"""Earthing, second part: protective conductors by the adiabatic equation, and the rise of earth potential. Least sizes that a code ties to the rating of
a fuse or breaker are left to the project.
"""

from basis.language.formula import check, formula
from basis.language.maths import log, lookup, max_over, pick, sqrt


@formula(source="definition")
def protective_conductor_current(earth_fault_current):
    """Largest earth-fault current of the sets in any case. Where the supply can feed the same fault harder, the project gives that current."""
    return max_over("running_case", earth_fault_current)


@formula(source="definition")
def protective_conductor_time(earth_fault_clearing_time):
    """Clearing time of the protection of the sets unless the circuit has its own."""
    return earth_fault_clearing_time


@formula(source="definition")
def protective_conductor_area(conductor_table, protective_conductor_size):
    """Cross-section of a protective conductor, read from the conductor table; the row is the printed size, exactly."""
    return lookup(conductor_table, "area", protective_conductor_size)


@formula(source="definition")
def protective_conductor_total_area(protective_conductor_area, protective_conductor_parallel):
    """Cross-section of all in parallel. They share a fault only if they run together and end together."""
    return protective_conductor_area * protective_conductor_parallel


@formula(source="iec-60949")
def protective_factor(adiabatic_constant, protective_final_temperature, protective_initial_temperature, copper_zero_resistance_temperature):
    """Current density that heats copper from its temperature before the fault to what its insulation bears, in one second, no heat leaving it.

    Example: protective_final_temperature=[160 degC], protective_initial_temperature=[30 degC] give [142.9 A*s^0.5/mm^2] (hand calculation).
    """
    return adiabatic_constant * sqrt(log((protective_final_temperature - copper_zero_resistance_temperature)
                                         / (protective_initial_temperature - copper_zero_resistance_temperature)))


@formula(source="iec-60364-5-54", valid={"protective_conductor_time": (0.02, 5)})
def protective_area_needed(protective_conductor_current, protective_conductor_time, protective_factor):
    """Least cross-section that survives the fault. It may still be too long to trip the fuse in time: that is another question.

    Example: protective_conductor_current=[25 kA], protective_conductor_time=[0.5 s], protective_factor=[143 A*s^0.5/mm^2] give [123.6 mm^2] (hand calculation).
    """
    return protective_conductor_current * sqrt(protective_conductor_time) / protective_factor


@formula(source="earth-loop")
def outlying_fault_current(phase_voltage, positive_reactance, negative_reactance, zero_reactance, neutral_closed, neutral_resistance, running_sets,
                           earth_return_share, earth_electrode_resistance, far_earth_resistance):
    """Earth fault that the sets feed at a frame with an electrode of its own: neutral resistor, both electrodes and the machines stand in series.

    A fault at a frame that is joined to the plant's own earth returns through metal and lifts nothing. Screens beside the soil better the path.
    Example: phase_voltage=277 V, positive_reactance=[0.03 ohm], negative_reactance=[0.02 ohm], zero_reactance=[0.01 ohm], neutral_closed=one_set,
    neutral_resistance=0 ohm, running_sets=[1], earth_return_share=100 %, earth_electrode_resistance=2 ohm, far_earth_resistance=0 ohm give [138.5 A]
    (hand calculation). A fault at the terminals would draw 13.9 kA.
    """
    return phase_voltage / sqrt(((neutral_resistance / running_sets if neutral_closed == "each_set" else neutral_resistance)
                                 + earth_return_share * (earth_electrode_resistance + far_earth_resistance)) ** 2
                                + ((positive_reactance + negative_reactance + zero_reactance) / 3) ** 2)


@formula(source="earth-loop")
def earth_potential_rise(outlying_fault_current, earth_return_share, earth_electrode_resistance):
    """Voltage of the whole plant against far soil while a fault outside it lasts; never more than the phase voltage.

    Example: outlying_fault_current=[200 A], earth_return_share=10 %, earth_electrode_resistance=2 ohm give 40 V (hand calculation).
    """
    return max_over("running_case", outlying_fault_current) * earth_return_share * earth_electrode_resistance


@formula(source="definition")
def network_voltage(infeed_bus, bus_voltage):
    """Voltage of the bus at which the public supply comes in; of several the highest.

    Example: infeed_bus=[item_1], bus_voltage=[11 kV] give 11 kV (hand calculation).
    """
    return max_over("grid_infeed", pick(infeed_bus, bus_voltage))


@formula(source="earth-loop")
def network_earth_potential_rise(network_voltage, network_earth_fault_current, network_earth_return_share, earth_electrode_resistance):
    """The same while the public network feeds an earth fault at the plant, whose current returns to a neutral far away. Source and electrode stand in series.

    Example: network_voltage=11 kV, network_earth_fault_current=1000 A, network_earth_return_share=100 %, earth_electrode_resistance=2 ohm give 1908 V
    (hand calculation).
    """
    return (network_earth_return_share * earth_electrode_resistance * network_voltage / sqrt(3)
            / sqrt((network_earth_return_share * earth_electrode_resistance) ** 2 + (network_voltage / (sqrt(3) * network_earth_fault_current)) ** 2))


@formula(source="en-50522")
def touch_voltage_permissible(earth_fault_clearing_time):
    """Touch voltage that most people survive for the time it lasts. Straight line between the points that are told."""
    return lookup("en-50522-touch-voltage", "voltage", earth_fault_clearing_time)


@formula(source="en-50522")
def earth_potential_rise_max(touch_voltage_permissible):
    """Rise of potential up to which touch voltages need no further proof, twice the permissible touch voltage; the project's own code may ask for another
    limit.
    """
    return 2 * touch_voltage_permissible


@formula(source="en-50522")
def network_earth_potential_rise_max(network_earth_fault_time):
    """The same bound by the time in which the network clears its fault."""
    return 2 * lookup("en-50522-touch-voltage", "voltage", network_earth_fault_time)


# Checks

conductor = check("protective_conductor_ok", "protective_conductor_total_area", limit="protective_area_needed", safe="above",
                  source="iec-60364-5-54", title="Protective conductors bear the fault")
rise = check("earth_potential_ok", "earth_potential_rise", limit="earth_potential_rise_max", safe="below", source=("en-50522", "project"),
             title="Rise of earth potential, fed by the sets")
network_rise = check("network_earth_potential_ok", "network_earth_potential_rise", limit="network_earth_potential_rise_max", safe="below",
                     source=("en-50522", "project"), title="Rise of earth potential, fed by the public network",
                     applies={"network_earth_return": ("soil",)})
