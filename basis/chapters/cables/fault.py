"""Cables as installed, second part: short circuit, and whether current or short circuit asks for the larger conductor. Heating is adiabatic at the
initial current all the time: safe, since the current of sets decays. Screens and armour are left out; their maker's curve and the earth-fault current
decide.
"""

import numpy as np

from basis.language.formula import check, formula, procedure
from basis.language.maths import log, log10, lookup, pick, sqrt
from basis.language.table import table

ROUNDING_TOLERANCE = 1e-9  # a size that just does is enough, whatever the last digits


@formula(source=("iec-60949", "iec-60949-aluminium"))
def cable_zero_temperature(cable_material, copper_zero_resistance_temperature, aluminium_zero_resistance_temperature):
    """Where the straight line of resistance against temperature meets zero: −234.5 °C for copper, −228 °C for aluminium."""
    return copper_zero_resistance_temperature if cable_material == "copper" else aluminium_zero_resistance_temperature


@formula(source="definition")
def cable_fault_current(cable_current_from, generator_cable_back_feed, alternator_rated_current, subtransient_reactance, cable_bus, largest_initial_current):
    """Largest initial current that the cable must bear: of the bus that feeds it, for a fault just beyond its near end. The cable of a set bears what all
    others feed back into it, and no less than its own set feeds into a fault at the bus: all that there is where the set stands alone.
    Parallel conductors are not counted on to share it.
    """
    return (max(generator_cable_back_feed, alternator_rated_current / subtransient_reactance) if cable_current_from == "set"
            else pick(cable_bus, largest_initial_current))


@formula(source=("iec-60949", "iec-60949-aluminium", "icea-p-32-382"))
def cable_adiabatic_factor(adiabatic_rule, cable_material, adiabatic_constant, aluminium_adiabatic_constant, icea_copper_constant, icea_aluminium_constant,
                           cable_short_circuit_temperature, cable_rated_temperature, cable_zero_temperature, icea_copper_zero_temperature):
    """Current density that heats the conductor from its rated to its short-circuit temperature in one second, no heat leaving it.

    Example: cable_material=[copper, aluminium], cable_rated_temperature=[90 degC, 90 degC], cable_zero_temperature=[-234.5 degC, -228 degC] give [143.1
    A*s^0.5/mm^2, 94.5 A*s^0.5/mm^2] (hand calculation).
    """
    return ((adiabatic_constant if cable_material == "copper" else aluminium_adiabatic_constant)
            * sqrt(log((cable_short_circuit_temperature - cable_zero_temperature) / (cable_rated_temperature - cable_zero_temperature)))
            if adiabatic_rule == "iec_60949"
            else icea_copper_constant * sqrt(log10((cable_short_circuit_temperature - icea_copper_zero_temperature)
                                                   / (cable_rated_temperature - icea_copper_zero_temperature))) if cable_material == "copper"
            else icea_aluminium_constant * sqrt(log10((cable_short_circuit_temperature - cable_zero_temperature)
                                                      / (cable_rated_temperature - cable_zero_temperature))))


@formula(source="iec-60949", valid={"cable_fault_duration": (0.1, 5)})
def cable_withstand(cable_adiabatic_factor, cable_conductor_area, cable_fault_duration):
    """Fault current that one conductor bears until the protection clears.

    Example: cable_adiabatic_factor=[143.1 A*s^0.5/mm^2], cable_conductor_area=[95 mm^2], cable_fault_duration=[0.5 s] give [19.23 kA] (hand calculation).
    """
    return cable_adiabatic_factor * cable_conductor_area / sqrt(cable_fault_duration)


@formula(source="iec-60949", valid={"cable_fault_duration": (0.1, 5)})
def cable_least_fault_area(cable_fault_current, cable_fault_duration, cable_adiabatic_factor):
    """Least cross-section that bears the fault.

    Example: cable_fault_current=[25 kA], cable_fault_duration=[0.5 s], cable_adiabatic_factor=[143 A*s^0.5/mm^2] give [123.6 mm^2] (hand calculation).
    """
    return cable_fault_current * sqrt(cable_fault_duration) / cable_adiabatic_factor


@formula(source=("nec-310-106", "iec-60502-2-sizes"))
def cable_least_area(least_size_table, cable_voltage, cable_parallel):
    """Least conductor for the voltage, and for conductors in parallel where the code has such a rule."""
    return (lookup(least_size_table, "parallel_area", cable_voltage) if cable_parallel >= 2
            else lookup(least_size_table, "area", cable_voltage))


@procedure(source="definition", equation="A_I = least A with n·min(I_t(A)·k_T·k_g·k_S, I_T(A)) ≥ I_b;  A_F = least A ≥ A_k;  A_G = max(A_I, A_F)",
           yields=("cable_area_for_current", "cable_area_for_fault", "cable_area_governing", "cable_governed_by"),
           tables={"cable_ampacity_table": "", "cable_conductor_table": "", "conductor_table": "", "cable_termination_table": ""})
def cable_governing(cable_design_current, cable_parallel, cable_derated_ampacity, cable_tabulated_ampacity, cable_ampacity_table, cable_conductor_table,
                    conductor_table, cable_termination_limit, cable_termination_table, cable_least_fault_area):
    """Goes up the printed sizes of the cable's own table until one carries the design current, with the same number in parallel and the same factors,
    and until one bears the fault. The larger governs. Not a number: no printed size does, or the fault is not known.
    """
    found, words, surplus = [], [], []
    for place in range(len(cable_design_current)):
        factor = cable_derated_ampacity[place] / cable_tabulated_ampacity[place]
        terminals = cable_termination_table[place] if cable_termination_limit[place] == "termination_table" else ""
        sizes = list(_sizes(cable_ampacity_table[place], cable_conductor_table[place] or conductor_table, factor, terminals))
        need, fault = cable_design_current[place] / cable_parallel[place], cable_least_fault_area[place]
        carrying = next(((area, capacity) for area, capacity in sizes if capacity >= need * (1 - ROUNDING_TOLERANCE)), (np.nan, np.nan))
        bearing = next((area for area, _ in sizes if area >= fault * (1 - ROUNDING_TOLERANCE)), np.nan)
        found.append((carrying[0], bearing, np.maximum(carrying[0], bearing)))
        words.append(_word(need, fault, *found[-1][:2]))
        surplus.append(carrying[1] / need - 1)
    columns = tuple(np.array(column, dtype=float) for column in zip(*found)) or tuple(np.zeros(0) for _ in range(3))
    least = min((one for one in surplus if one == one), default=0.0)
    return (*columns, np.array(words, dtype=object)), float(least), "least surplus of capacity at the size by current, as a share; not negative"


def _sizes(ampacity_table: str, conductor_table: str, factor: float, terminals: str):
    """Area and capacity of each printed size that both tables hold, thinnest first."""
    conductors, held = table(conductor_table), table(terminals) if terminals else None
    for size, ampacity in zip(table(ampacity_table).keys, table(ampacity_table).columns["ampacity"]):
        if size in conductors.keys and (held is None or size in held.keys):
            limit = held.value("ampacity", size) if held else np.inf
            yield conductors.value("area", size), min(ampacity * factor, limit)


def _word(need: float, fault: float, for_current: float, for_fault: float) -> str:
    """What governs; a size that no table holds is larger than any that it does."""
    if np.isnan(need) or np.isnan(fault):
        return "unknown"
    current, short_circuit = (np.inf if np.isnan(area) else area for area in (for_current, for_fault))
    return "both" if current == short_circuit else "current" if current > short_circuit else "short_circuit"


withstand = check("cable_withstand_ok", "cable_withstand", limit="cable_fault_current", safe="above", source=("iec-60949", "icea-p-32-382"),
                  title="Short-circuit withstand of each cable")
least_area = check("cable_least_size_ok", "cable_conductor_area", limit="cable_least_area", safe="above", source=("nec-310-106", "iec-60502-2-sizes"),
                   title="Least size of each cable for its voltage", exact=True)
