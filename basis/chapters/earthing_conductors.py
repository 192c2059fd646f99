"""Earthing, second part: protective conductors by the adiabatic equation, and the rise of earth potential.

May import formula and maths. Least sizes that a code ties to the rating of a fuse or breaker are left to the project.
"""

from basis.formula import check, formula
from basis.maths import log, lookup, max_over, sqrt


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

    Example: 30 °C to 160 °C: 226 √ln(394.5/264.5) is 142.9 A√s/mm² (hand calculation).
    """
    return adiabatic_constant * sqrt(log((protective_final_temperature - copper_zero_resistance_temperature)
                                         / (protective_initial_temperature - copper_zero_resistance_temperature)))


@formula(source="iec-60364-5-54", valid={"protective_conductor_time": (0.02, 5)})
def protective_area_needed(protective_conductor_current, protective_conductor_time, protective_factor):
    """Least cross-section that survives the fault. It may still be too long to trip the fuse in time: that is another question.

    Example: 25 kA for 0.5 s at 143 A√s/mm² need 123.6 mm².
    """
    return protective_conductor_current * sqrt(protective_conductor_time) / protective_factor


@formula(source="physics")
def earth_potential_rise(earth_fault_current, earth_return_share, earth_electrode_resistance):
    """Voltage of the whole plant against far soil while an earth fault lasts. Example: 200 A, a tenth of it through soil, 2 Ω give 40 V (hand calculation)."""
    return max_over("running_case", earth_fault_current) * earth_return_share * earth_electrode_resistance


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


# Checks

conductor = check("protective_conductor_ok", "protective_conductor_total_area", limit="protective_area_needed", safe="above",
                  source="iec-60364-5-54", title="Protective conductors bear the fault")
rise = check("earth_potential_ok", "earth_potential_rise", limit="earth_potential_rise_max", safe="below", source=("en-50522", "project"),
             title="Rise of earth potential")
