"""Cables as installed: the rows of their tables, current, capacity as laid, and drop. One item a cable, whatever it feeds. Short circuit and size are in
fault.py, pulling and laying in pulling.py, what other chapters know of the same cables in agreement.py. Left out: cables in parallel of unlike length,
cyclic load, metal sheaths bonded at one end, harmonics in the neutral.
"""

import numpy as np

from basis.language.faults import ItemTrouble, ItemTroubles, OutOfTable
from basis.language.formula import chapter, check, formula, procedure
from basis.language.maths import ceil, log, lookup, not_given, pick, sqrt, sum_over
from basis.language.table import table

CHAPTER = chapter("cables", "Cables as installed", order=170,
                  settles="Whether the cables carry, drop, withstand and can be pulled as they lie.",
                  cautions=(
    "Prove dead, lock, earth and short-circuit both ends before a cable is touched, cut or spiked. A cable on the floor may be live, or fed back from its "
    "far end; "
    "drawings and labels lie, so identify it by test.",
    "A rope under tension kills when it parts, and a drum that runs on crushes. Keep out of the line of pull and out of the bight of every bend, and stop by "
    "an agreed signal.",
    "Terminations and joints at medium voltage are made by jointers qualified for that make of cable, and tested before they are energised. "
    "Most failures of such cables are failures of their ends.",
    "A cable keeps its charge after a voltage test and after switching off. Discharge through a resistor and leave it earthed.",
    "Ampacity tables differ by edition and country. The code that the authority having jurisdiction has adopted, and a licensed engineer, decide.",
))


# The rows of the tables

METALS = ("copper", "aluminium")
TWENTY = 293.15  # K, 20 °C
STANDARD_RESISTIVITY = {"copper": 1.7241e-8, "aluminium": 2.8264e-8}  # ohm·m at 20 °C (IEC 60028, IEC 60889)


@procedure(source=("definition", "ampacity-soil", "conductor-heating"),
           equation="A, I_t, T_c, T_t, ρ_t as printed; R′_20 = R′(T)·(20 °C − T_0)/(T − T_0); I_T by the terminations' table",
           yields=("cable_conductor_area", "cable_resistance_20", "cable_tabulated_ampacity", "cable_rated_temperature", "cable_table_temperature",
                   "cable_table_soil", "cable_termination_ampacity", "cable_printed_resistance", "cable_printed_reactance"),
           tables={"cable_conductor_table": "cable_size", "conductor_table": "cable_size", "cable_ampacity_table": "cable_size",
                   "cable_termination_table": "cable_size", "cable_impedance_table": "cable_size", "ampacity-soil": "cable_ampacity_table"})
def cable_rows(cable_size, cable_material, cable_conductor_table, conductor_table, cable_ampacity_table, cable_termination_limit, cable_termination_table,
               cable_impedance_rule, cable_impedance_table, cable_surroundings, cable_current_from, cable_current, cable_zero_temperature, power_frequency):
    """Reads the printed row of every cable from the tables that it names, and its conductor from that of the project where it names none.

    A size that a table does not hold, a table of the other metal, a buried cable with a table for air, a working current that nothing gives:
    each is told at its line. Example: cable_size=[500 kcmil], cable_conductor_table=[not given], conductor_table=nec-ch9-table-8-copper,
    cable_ampacity_table=[nec-310-16-copper-75], cable_termination_table=[not given], cable_termination_limit=[not_limiting],
    cable_impedance_table=[not given], cable_current=[300 A], cable_zero_temperature=[-234.5 degC], power_frequency=60 Hz give cable_conductor_area=[253.4
    mm^2], cable_resistance_20=[0.02122 ohm/kft], cable_tabulated_ampacity=[380 A] (hand calculation, from 0.0258 ohm/kft at 75 °C and 380 A as printed).
    """
    found, troubles = [], []
    conductor_tables = [own or conductor_table for own in cable_conductor_table]
    for place in range(len(cable_size)):
        cells = _Cells(place, str(cable_size[place]), troubles)
        conductor, ampacity = conductor_tables[place], cable_ampacity_table[place]
        zero = cable_zero_temperature[place]
        area, resistance, at = (cells.of(conductor, column) for column in ("area", "resistance", "resistance_temperature"))
        amperes, hot, ambient = (cells.of(ampacity, column) for column in ("ampacity", "conductor_temperature", "reference_temperature"))
        soil, in_air = (table("ampacity-soil").value(column, ampacity) for column in ("resistivity", "in_air"))
        held = cells.wanted(cable_termination_limit[place] == "termination_table", "cable_termination_table", cable_termination_table[place], "ampacity")
        printed = cells.impedance(cable_impedance_rule[place], cable_impedance_table[place])
        found.append((area, _at_twenty(resistance, at, zero), amperes, hot, ambient, soil, held[0],
                      _at_twenty(printed[0], printed[1], zero), printed[2] * power_frequency / printed[3]))
        troubles += _other_metal(place, cable_material[place], {"cable_conductor_table": conductor, "cable_ampacity_table": ampacity,
                                                                "cable_impedance_table": cable_impedance_table[place]})
        troubles += _unfit_surroundings(place, cable_surroundings[place], soil, in_air)
        if np.isnan(cable_current[place]):
            troubles.append(_no_current(place, cable_current_from[place]))
    if troubles:
        raise ItemTroubles(dict.fromkeys(troubles))
    columns = tuple(np.array(column, dtype=float) for column in zip(*found)) or tuple(np.zeros(0) for _ in range(9))
    standard = np.array([STANDARD_RESISTIVITY[metal] for metal in cable_material])
    return columns, float(np.abs(columns[0] * columns[1] / standard - 1).max(initial=0.0)), \
        "largest departure of R′_20·A from the standard resistivity of the metal"


class _Cells:
    """Cells of the tables for one cable; a row that is not there becomes a trouble."""

    def __init__(self, place: int, size: str, troubles: list):
        self.place, self.size, self.troubles = place, size, troubles

    def of(self, table_id: str, column: str) -> float:
        """One cell; not a number where the table has no such row."""
        try:
            return table(table_id).value(column, self.size)
        except OutOfTable as trouble:
            self.troubles.append(ItemTrouble("cable_size", self.place, trouble.what, trouble.expected, trouble.nearest))
            return np.nan

    def wanted(self, asked: bool, term: str, table_id: str, *columns: str) -> tuple:
        """Cells of a table that the cable must name if it is asked for; not a number where it is not."""
        if asked and not table_id:
            self.troubles.append(ItemTrouble(term, self.place, "is not given, but its rule asks for it", "the id of a table"))
        return tuple(self.of(table_id, column) if asked and table_id else np.nan for column in columns)

    def impedance(self, rule: str, table_id: str) -> tuple:
        """Resistance, its temperature, reactance and its frequency as printed for the conduit."""
        return self.wanted(rule == "conduit_table", "cable_impedance_table", table_id,
                           "resistance", "resistance_temperature", "reactance", "reactance_frequency")


def _at_twenty(resistance: float, temperature: float, zero: float) -> float:
    return resistance * (TWENTY - zero) / (temperature - zero)


def metal_of(table_id: str) -> str:
    """The metal that the note of a table names."""
    return next((metal for metal in METALS if metal in table(table_id).note.lower()), "")


def _other_metal(place: int, metal: str, named: dict) -> list:
    return [ItemTrouble(term, place, f"table '{table_id}' is of {metal_of(table_id)}, the cable of {metal}", f"a table of {metal}")
            for term, table_id in named.items() if table_id and metal_of(table_id) != metal]


def _unfit_surroundings(place: int, surroundings: str, soil: float, in_air: float) -> list:
    if surroundings == "ground" and not soil:
        return [ItemTrouble("cable_ampacity_table", place, "is printed for air, but the cable lies in the ground",
                            "a table for cables in the ground or in ducts")]
    if surroundings == "air" and not in_air:
        return [ItemTrouble("cable_ampacity_table", place, "is printed for the ground, but the cable lies in air",
                            "a table for cables in air, or cable_surroundings: ground")]
    return []


def _no_current(place: int, source: str) -> ItemTrouble:
    if source == "given":
        return ItemTrouble("cable_current", place, "is not given", "a current, or cable_current_from: set, transformer or load")
    return ItemTrouble(f"cable_{source}", place, f"names no {source}, whose current the cable is to carry", f"the id of a {source}")


# What the generator cable says of the cables of the sets

@formula(source="definition")
def cable_length(voltage_chapter, cable_current_from, generator_cable_length, cable_route_from, cable_feeder, feeder_length):
    """That of the feeder that the cable is; that of the generator cable, for every cable of a set that gives none; of any other the project says it."""
    return (pick(cable_feeder, feeder_length) if cable_route_from == "feeder"
            else (generator_cable_length if cable_current_from == "set" else not_given) if voltage_chapter == "in_this_book" else not_given)


@formula(source="definition")
def cable_ambient_temperature(voltage_chapter, cable_current_from, conductor_ambient_temperature):
    """The ambient of the generator cable, for every cable of a set that gives none of its own; of any other the project says it."""
    return (conductor_ambient_temperature if cable_current_from == "set" else not_given) if voltage_chapter == "in_this_book" else not_given


@formula(source="definition")
def cable_parallel(voltage_chapter, cable_current_from, conductors_per_phase, cable_route_from, cable_feeder, feeder_parallel):
    """Those of the feeder that the cable is; those of the generator cable, for every cable of a set that gives none; of any other the project says it."""
    return (pick(cable_feeder, feeder_parallel) if cable_route_from == "feeder"
            else (conductors_per_phase if cable_current_from == "set" else not_given) if voltage_chapter == "in_this_book" else not_given)


@formula(source="cable-usual")
def cable_circuits(voltage_chapter, cable_current_from, circuits_grouped, cable_parallel):
    """The circuits that lie beside the generator cable, for every cable of a set that says nothing else; of any other its own parallels unless said."""
    return (circuits_grouped if cable_current_from == "set" else cable_parallel) if voltage_chapter == "in_this_book" else cable_parallel


# Current

@procedure(source="definition", yields=("cable_bus_named",), equation="x_U = 1 where the cable names a bus, else 0")
def cable_bus_named(cable_bus):
    """Whether a cable is known by the bus that feeds it, which a plant without a network has not. Example: cable_bus=[item_1] give [1] (counted)."""
    return (np.where(np.asarray(cable_bus) >= 0, 1.0, 0.0),), 0.0, "cables counted twice"


@formula(source="definition")
def cable_voltage(cable_bus_named, cable_bus, bus_voltage, generating_voltage):
    """The voltage of the bus that feeds the cable, so that it follows the choice of voltage; the generating voltage if the cable names no bus.

    Example: cable_bus_named=[1, 0], cable_bus=[item_1, item_1], bus_voltage=[400 V], generating_voltage=480 V give [400 V, 480 V] (hand count).
    """
    return pick(cable_bus, bus_voltage) if cable_bus_named > 0 else generating_voltage


@formula(source="definition")
def cable_current(cable_current_from, cable_system, cable_voltage, set_rated_current, cable_transformer, transformer_rating, cable_load,
                  load_demand_apparent_power):
    """Working current of the circuit: rated current of a set or of the transformer that it serves, or the demand of its load; else as given.

    Example: cable_current_from=[transformer], cable_voltage=[11 kV], set_rated_current=100 A, cable_transformer=[item_1], transformer_rating=[1600 kVA],
    cable_load=[item_1], load_demand_apparent_power=[100 kVA] give [83.98 A] (hand calculation).
    """
    return (set_rated_current if cable_current_from == "set"
            else (pick(cable_transformer, transformer_rating) if cable_current_from == "transformer" else pick(cable_load, load_demand_apparent_power))
            / ((sqrt(3) if cable_system == "three_phase" else 1) * cable_voltage))


@formula(source=("nec-445-13", "nec-215-2"))
def cable_current_margin(cable_current_from, cable_current_factor, circuit_current_margin):
    """Margin between a set and its first circuit-breaker; else that of a circuit by the code of the project. The two are never stacked."""
    return cable_current_factor if cable_current_from == "set" else circuit_current_margin


@formula(source=("nec-445-13", "nec-215-2"))
def cable_design_current(cable_current, cable_current_margin):
    """Current for which the cable is chosen. Example: cable_current=[107.6 A], cable_current_margin=[1.15] give [123.7 A] (hand calculation)."""
    return cable_current * cable_current_margin


@formula(source="definition")
def cable_power_factor(cable_current_from, cable_load, load_power_factor, set_rated_power_factor):
    """Power factor of the load that the cable serves, else that of the sets."""
    return pick(cable_load, load_power_factor) if cable_current_from == "load" else set_rated_power_factor


@formula(source="definition")
def cable_reactive_sign(cable_current_from, cable_load, load_reactive_sign, cable_power_factor_side):
    """One for a lagging, minus one for a leading current: that of the load that the cable serves, else as the project says."""
    return pick(cable_load, load_reactive_sign) if cable_current_from == "load" else 1 if cable_power_factor_side == "lagging" else -1


# Capacity as laid

@formula(source=("nec-310-15-b", "conductor-heating"))
def cable_ambient_factor(cable_ambient_rule, cable_ambient_table, cable_ambient_temperature, cable_rated_temperature, cable_table_temperature):
    """Correction of the printed ampacity for the ambient: from a printed table, or by the root of the temperature margins. Dielectric loss is left out.

    Example: cable_ambient_table=[iec-60364-5-52-b52-14-xlpe], cable_ambient_temperature=[45 degC], cable_rated_temperature=[90 degC],
    cable_table_temperature=[30 degC] give [0.866] (hand calculation).
    """
    return (lookup(cable_ambient_table, "factor", cable_ambient_temperature) if cable_ambient_rule == "table"
            else sqrt((cable_rated_temperature - cable_ambient_temperature) / (cable_rated_temperature - cable_table_temperature)))


@formula(source="grouping-counts")
def cable_grouping_count(cable_grouping_table, cable_circuits, cable_loaded_conductors):
    """The number with which the grouping table is entered: some tables count circuits, others conductors that carry current.

    Example: cable_grouping_table=[nec-310-15-c1], cable_circuits=[2], cable_loaded_conductors=[3] give [6] (hand calculation).
    """
    return (cable_circuits if cable_circuits < 2  # alone: no table is asked for
            else cable_circuits * cable_loaded_conductors if lookup("grouping-counts", "conductors", cable_grouping_table) == 1 else cable_circuits)


@formula(source="definition")
def cable_grouping_factor(cable_circuits, cable_grouping_table, cable_grouping_count):
    """What heating by neighbours leaves of the ampacity, read at the next printed count. A circuit alone needs no table."""
    return 1 if cable_circuits < 2 else lookup(cable_grouping_table, "factor", cable_grouping_count)


@formula(source="iec-60287-2-1")
def cable_soil_shape(cable_type, cable_depth, cable_diameter):
    """Thermal resistance of the soil for the heat of all three conductors, over the resistivity of the soil: from the cable to the cool surface above it.

    Example: cable_depth=[0.8 m], cable_diameter=[36 mm] give [1.842] (hand calculation).
    """
    return 1.5 / 3.141592653589793 * (log(4 * cable_depth / cable_diameter) - (0.630 if cable_type == "single_core" else 0))


@formula(source="iec-60287-2-1")
def cable_soil_factor(cable_surroundings, cable_inner_resistance, cable_table_soil, cable_soil_shape, soil_resistivity):
    """Correction for the soil: the same rise of the conductor drives the heat through what lies within the cable and through soil of another resistivity.

    Example: cable_surroundings=[ground], cable_table_soil=[1.5 K*m/W], cable_soil_shape=[2.0] give [0.798] (hand calculation).
    """
    return (1 if cable_surroundings == "air"
            else sqrt((cable_inner_resistance + cable_table_soil * cable_soil_shape) / (cable_inner_resistance + soil_resistivity * cable_soil_shape)))


@formula(source="nec-110-14")
def cable_derated_ampacity(cable_tabulated_ampacity, cable_ambient_factor, cable_grouping_factor, cable_soil_factor):
    """Ampacity of one conductor where it lies.

    Example: cable_tabulated_ampacity=[351 A], cable_ambient_factor=[0.866], cable_grouping_factor=[0.80], cable_soil_factor=[1] give [243.2 A] (hand
    calculation).
    """
    return cable_tabulated_ampacity * cable_ambient_factor * cable_grouping_factor * cable_soil_factor


@formula(source="nec-110-14")
def cable_conductor_capacity(cable_termination_limit, cable_derated_ampacity, cable_termination_ampacity):
    """What one conductor may carry: as laid and, if the code limits it, no more than its terminals allow.

    Example: cable_termination_limit=[termination_table], cable_derated_ampacity=[380 A], cable_termination_ampacity=[391.3 A] give [380 A] (hand calculation).
    """
    return min(cable_derated_ampacity, cable_termination_ampacity) if cable_termination_limit == "termination_table" else cable_derated_ampacity


@formula(source="definition")
def cable_parallel_needed(cable_design_current, cable_conductor_capacity):
    """Least number of equal conductors in parallel. Example: cable_design_current=[2766.5 A], cable_conductor_capacity=[380 A] give [8] (hand calculation)."""
    return ceil(cable_design_current / cable_conductor_capacity)


@formula(source="definition")
def cable_capacity(cable_parallel, cable_conductor_capacity):
    """All parallel conductors of a phase. They share only if equal in length, material, size and termination.

    Example: cable_parallel=[8], cable_conductor_capacity=[380 A] give [3040 A] (hand calculation).
    """
    return cable_parallel * cable_conductor_capacity


@formula(source="definition")
def cable_loading(cable_design_current, cable_capacity):
    """Design current over capacity. Example: cable_design_current=[123.7 A], cable_capacity=[233.0 A] give [53.1 %] (hand calculation)."""
    return cable_design_current / cable_capacity


# Drop and loss

@formula(source="conductor-heating")
def cable_operating_temperature(cable_ambient_temperature, cable_rated_temperature, cable_current, cable_parallel, cable_derated_ampacity):
    """Conductor temperature at the working current: the rise goes with the square of the current and is that of the table at derated ampacity.

    Example: cable_ambient_temperature=[40 degC], cable_rated_temperature=[90 degC], cable_current=[300.7 A], cable_parallel=[1],
    cable_derated_ampacity=[391.3 A] give [69.5 degC] (hand calculation).
    """
    return (cable_ambient_temperature + (cable_rated_temperature - cable_ambient_temperature)
            * (cable_current / (cable_parallel * cable_derated_ampacity)) ** 2)


@formula(source="iec-60228")
def cable_dc_resistance(cable_resistance_20, cable_operating_temperature, cable_zero_temperature, resistance_reference_temperature):
    """Resistance to direct current, moved from 20 °C along the straight line of the metal.

    Example: cable_resistance_20=[0.0601 ohm/km], cable_operating_temperature=[90 degC], cable_zero_temperature=[-234.5 degC] give [0.0766 ohm/km] (hand
    calculation).
    """
    return (cable_resistance_20 * (cable_operating_temperature - cable_zero_temperature)
            / (resistance_reference_temperature - cable_zero_temperature))


@formula(source="iec-60287-1-1", valid={"cable_skin_factor": (1, 1.21)})
def cable_skin_factor(cable_system, power_frequency, magnetic_constant, cable_dc_resistance):
    """Rise of resistance because alternating current keeps to the outside of the conductor; proximity is left out. None is counted on two wires.

    Example: power_frequency=50 Hz, cable_dc_resistance=[0.0766 ohm/km] give [1.0139] (hand calculation).
    """
    return (1 + (2 * power_frequency * magnetic_constant / cable_dc_resistance) ** 2
            / (192 + 0.8 * (2 * power_frequency * magnetic_constant / cable_dc_resistance) ** 2) if cable_system == "three_phase" else 1)


@formula(source=("nec-ch9-table-9", "iec-60228"))
def cable_resistance(cable_impedance_rule, cable_printed_resistance, cable_operating_temperature, cable_zero_temperature, resistance_reference_temperature,
                     cable_dc_resistance, cable_skin_factor):
    """Resistance to alternating current at the working temperature: as printed for the conduit, or that of the conductor with skin effect.

    Example: cable_impedance_rule=[conduit_table], cable_printed_resistance=[0.02385 ohm/kft], cable_operating_temperature=[69.5 degC],
    cable_zero_temperature=[-234.5 degC], cable_dc_resistance=[0.1 ohm/km], cable_skin_factor=[1] give [0.0285 ohm/kft] (hand calculation).
    """
    return (cable_printed_resistance * (cable_operating_temperature - cable_zero_temperature) / (resistance_reference_temperature - cable_zero_temperature)
            if cable_impedance_rule == "conduit_table" else cable_dc_resistance * cable_skin_factor)


@formula(source=("nec-ch9-table-9", "reactance-usual"))
def cable_reactance(cable_impedance_rule, cable_printed_reactance, cable_usual_reactance, power_frequency, reactance_reference_frequency):
    """Reactance at the frequency of the plant: as printed for the conduit, or that of three conductors close together; a cable sheet may give its own.

    Example: cable_printed_reactance=[0.08 ohm/km], power_frequency=60 Hz, reactance_reference_frequency=50 Hz give [0.096 ohm/km] (hand calculation).
    """
    return cable_printed_reactance if cable_impedance_rule == "conduit_table" else cable_usual_reactance * power_frequency / reactance_reference_frequency


@formula(source="voltage-drop")
def cable_voltage_drop(cable_system, cable_current, cable_parallel, cable_length, cable_resistance, cable_reactance, cable_power_factor,
                       cable_reactive_sign):
    """Drop between phases, or out and back along two wires, at the working current; below nought it is a rise. The part across the voltage is left out.

    Example: cable_current=[2405.6 A], cable_parallel=[8], cable_length=[150 ft], cable_resistance=[0.027 ohm/kft], cable_reactance=[0.039 ohm/kft],
    cable_power_factor=[0.8], cable_reactive_sign=[1] give [3.516 V] (hand calculation).
    """
    return ((sqrt(3) if cable_system == "three_phase" else 2) * cable_current / cable_parallel * cable_length
            * (cable_resistance * cable_power_factor + cable_reactive_sign * cable_reactance * sqrt(1 - cable_power_factor ** 2)))


@formula(source="definition")
def cable_voltage_drop_ratio(cable_voltage_drop, cable_voltage):
    """Drop, or rise under a leading current, as a share of nominal voltage.

    Example: cable_voltage_drop=[3.516 V], cable_voltage=[480 V] give [0.73 %] (hand calculation).
    """
    return abs(cable_voltage_drop) / cable_voltage


@formula(source="physics")
def cable_loss(cable_system, cable_current, cable_parallel, cable_resistance, cable_length):
    """Heat made in the phase conductors.

    Example: cable_current=[2405.6 A], cable_parallel=[8], cable_resistance=[0.027 ohm/kft], cable_length=[150 ft] give [8.79 kW] (hand calculation).
    """
    return (3 if cable_system == "three_phase" else 2) * cable_current ** 2 * cable_resistance * cable_length / cable_parallel


@formula(source="physics")
def cables_loss(cable_loss):
    """All cables at their working currents at once, which never happens: an upper bound of what the cable routes must give off."""
    return sum_over("cable", cable_loss)


# Checks

capacity = check("cable_capacity_ok", "cable_capacity", limit="cable_design_current", safe="above", source=("nec-110-14", "iec-60364-5-52-b52-12"),
                 title="Capacity of each cable as laid")
voltage_drop = check("cable_drop_ok", "cable_voltage_drop_ratio", limit="cable_voltage_drop_max", safe="below", source="project",
                     title="Voltage drop of each cable")
