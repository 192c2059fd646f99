"""Short circuit, second part: the network put together, checked, and solved for a three-phase fault at every bus. One admittance matrix for each state
of the plant: largest and least currents in each running case, sustained current, and the public supply alone. A bus that nothing feeds in a state has
no current there.
"""

import numpy as np

from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import procedure
from basis.language.table import table
from basis.physics.network import (
    Branches,
    Sources,
    at_frequency,
    equivalent_frequency_peaks,
    fault_currents,
    loops,
    mismatched,
    peak_currents,
    reached,
    seen_at_fault,
    solve,
    source_currents,
    turns_of_buses,
    unfed,
)

FREQUENCY_SHARE = 0.4  # 20 Hz of 50 Hz, 24 Hz of 60 Hz (IEC 60909-0, equivalent frequency)
MEGAWATT = 1e6


@procedure(source=("turns-ratio", "rated-voltage-tolerance"),
           equation="w(low) = w(high)·U_rT,LV/U_rT,HV along every transformer; w(to) = w(from) along every feeder",
           yields=("bus_turns",))
def network_walk(bus_voltage, network_form, rated_voltage_tolerance, transformer_high_bus, transformer_low_bus, transformer_high_voltage,
                 transformer_low_voltage, transformer_reactance, feeder_from_bus, feeder_to_bus, feeder_resistance, generator_bus, generator_rated_voltage,
                 infeed_bus, infeed_connection, motor_group_bus, utility_operation):
    """Walks along the network and looks for what cannot be meant: a bus without connection, a transformer or set of another voltage than its bus,
    a ring that nobody allowed, a branch that ends where it begins, a feeder without resistance, a supply apart from sets that run beside it. Each is told
    at its line. Example: bus_voltage=[11 kV, 400 V, 400 V], transformer_high_bus=[item_1], transformer_low_bus=[item_2], transformer_high_voltage=[11 kV],
    transformer_low_voltage=[400 V], transformer_reactance=[6 mohm], feeder_from_bus=[item_2], feeder_to_bus=[item_3], feeder_resistance=[2 mohm],
    generator_bus=[item_1], generator_rated_voltage=[11 kV], infeed_bus=[item_1], motor_group_bus=[item_3] give bus_turns=[1, 0.03636, 0.03636] (hand
    calculation, 0.4 over 11).
    """
    count = len(bus_voltage)
    branches = _branches(transformer_high_bus, transformer_low_bus, transformer_high_voltage / transformer_low_voltage, np.ones(len(transformer_high_bus)),
                         feeder_from_bus, feeder_to_bus, np.ones(len(feeder_from_bus)))
    troubles = [ItemTrouble("transformer_low_bus" if place < len(transformer_high_bus) else "feeder_to_bus",
                            int(place) if place < len(transformer_high_bus) else int(place) - len(transformer_high_bus), what, expected)
                for place, what, expected in _bad_branches(count, branches, network_form)]
    troubles += mismatched("transformer_high_voltage", transformer_high_voltage, bus_voltage[transformer_high_bus], rated_voltage_tolerance)
    troubles += mismatched("transformer_low_voltage", transformer_low_voltage, bus_voltage[transformer_low_bus], rated_voltage_tolerance)
    troubles += mismatched("generator_rated_voltage", generator_rated_voltage, bus_voltage[generator_bus], rated_voltage_tolerance)
    troubles += [ItemTrouble("feeder_to_bus", trouble.item, f"joins buses of unlike voltage, {trouble.what}", "two buses of one voltage, or a transformer")
                 for trouble in mismatched("feeder_to_bus", bus_voltage[feeder_from_bus], bus_voltage[feeder_to_bus], rated_voltage_tolerance)]
    troubles += [ItemTrouble("feeder_size", int(place), "neither a size nor a resistance per length", "feeder_size, or feeder_resistance_per_length")
                 for place in np.flatnonzero(np.isnan(feeder_resistance))]
    troubles += [ItemTrouble("transformer_impedance_voltage", int(place), "is less than its resistive part", "more than load loss over rating")
                 for place in np.flatnonzero(np.isnan(transformer_reactance))]
    troubles += _without_sets(count, generator_bus) + _apart(infeed_connection, utility_operation)
    troubles += unfed(count, branches, np.concatenate([generator_bus, infeed_bus]).astype(int), motor_group_bus)
    if troubles:
        raise ItemTroubles(troubles)
    turns = turns_of_buses(count, branches)
    off = np.abs(turns[branches.high] / turns[branches.low] / branches.ratio - 1)
    return (turns,), float(off.max(initial=0.0)), \
        "largest departure of a ratio from the walk; not nought only where transformers of unlike ratio stand in parallel"


def _without_sets(count: int, generator_bus):
    """A network with buses and no set in it would judge the boards by what is not the plant."""
    return [ItemTrouble("bus_voltage", 0, "the network lists no set", "generators, each with its generator_bus")] if count and not len(generator_bus) else []


def _apart(connections, operation: str):
    """Supplies that are all told to be apart from the sets, by whose sum the boards are then not judged, though the plant runs beside one."""
    if operation == "no_parallel" or not len(connections) or (np.asarray(connections) != "apart").any():
        return []
    return [ItemTrouble("infeed_connection", 0, f"apart, though the plant runs beside the supply (utility_operation: {operation})",
                        "briefly_in_parallel, in_parallel, or utility_operation: no_parallel")]


def _bad_branches(count: int, branches: Branches, form: str):
    pairs = list(zip(branches.high.tolist(), branches.low.tolist()))
    for place, (one, other) in enumerate(pairs):
        if one == other:
            yield place, "ends at the bus where it begins", "two different buses"
    for place in loops(count, pairs) if form == "radial" else ():
        yield place, "closes a ring", "an open network, or network_form: meshed"


def _branches(high, low, ratio, transformer_impedance, start, end, feeder_impedance, in_service=None) -> Branches:
    made = Branches(np.concatenate([high, start]).astype(int), np.concatenate([low, end]).astype(int), np.concatenate([ratio, np.ones(len(start))]),
                    np.concatenate([transformer_impedance, feeder_impedance]).astype(complex))
    return made if in_service is None else made.only(in_service)


def _in_service(transformer_service, feeder_service, with_supply: bool, with_sets: bool = True):
    """Which branches are closed while the supply is connected, or sets run, or both."""
    services = np.concatenate([transformer_service, feeder_service])
    return ((services != "with_supply") | with_supply) & ((services != "with_sets") | with_sets)


def _impedance(size, ratio):
    """Complex impedance of magnitude `size` and R/X `ratio`."""
    return size * (ratio + 1j) / np.sqrt(1 + ratio**2)


@procedure(source="definition", equation="y_G = 1 for the first N_run sets of the list, 0 for the others", yields=("generator_running", "generators_listed"))
def running_of_sets(running_sets, generator_bus):
    """Which sets run in each case: as many as the case asks for, from the top of the list. The last of the list are the first to stand still."""
    count = len(generator_bus)
    running = np.arange(count) < np.round(np.asarray(running_sets))[:, None]
    return (running.astype(float), float(count)), 0.0, "none: counted"


def breaking_factor(ratio, delay: float):
    """μ of IEC 60909-0: what is left of a machine's current when contacts part, by its initial current over rated current. Beyond twice rated current no
    printed row gives more than one.
    """
    def at_row(row):
        level, swing, decay = (row[column] for column in ("level", "swing", "decay"))
        return np.where(ratio > 2, level + swing * np.exp(-decay * ratio), 1.0)
    return _between_delays(at_row, delay)


def motor_breaking_factor(power_per_pole_pair, delay: float):
    """q of IEC 60909-0: what a motor loses beside μ because nothing excites it."""
    def at_row(row):
        return np.clip(row["motor_level"] + row["motor_slope"] * np.log(power_per_pole_pair / MEGAWATT), 0, 1)
    return _between_delays(at_row, delay)


def _between_delays(at_row, delay: float):
    """Straight line between what the rows of the two nearest printed delays give; before the first and beyond the last row as that row says."""
    printed = table("iec-60909-0-breaking")
    rows = [dict(zip(printed.columns, cells)) for cells in zip(*printed.columns.values())]
    weights = [np.interp(delay, printed.columns["delay"], alone) for alone in np.eye(len(rows))]
    return sum(weight * at_row(row) for weight, row in zip(weights, rows))


@procedure(source=("iec-60909-current", "iec-60909-peak", "iec-60909-breaking", "superposition"),
           equation="Y·Z = 1;  I″_k = c_max·U_n/(√3·|Z_kk|);  i_p = Σ κ·√2·|I″ of each path|, κ = 1.02 + 0.98·e^(−3·R/X);  I_b = |Σ μ·q·I″ of each source|",
           yields=("initial_current_max", "peak_current", "equivalent_peak_current", "breaking_current", "current_from_sets", "current_from_motors",
                   "current_from_supply", "fault_resistance", "fault_reactance", "generator_back_feed"),
           tables={"iec-60909-0-breaking": ""},
           valid={"minimum_time_delay": (0.02, 0.25)})
def largest_currents(bus_voltage, voltage_factor_max, bus_turns, generator_running, generator_bus, generator_reactance, generator_resistance_ratio,
                     generator_correction, generator_cable_resistance, generator_cable_reactance, generator_rated_current, infeed_bus, infeed_impedance,
                     infeed_resistance_ratio, infeed_connection, motor_group_bus, motor_group_impedance, motor_group_resistance_ratio,
                     motor_group_rated_current, motor_power_per_pole_pair, transformer_high_bus, transformer_low_bus, transformer_high_voltage,
                     transformer_low_voltage, transformer_resistance, transformer_reactance, transformer_correction, transformer_service, feeder_from_bus,
                     feeder_to_bus, feeder_resistance, feeder_reactance, feeder_service, minimum_time_delay):
    """Largest currents in each running case: all motors on, cables cold, and the public supply connected if it ever is together with the sets.

    Every source is a voltage behind its impedance; loads and line capacitance are left out. Current of each source when contacts part is its initial
    part times its own decay. At low voltage the decay is told up to a tenth of a second only.
    """
    supplied = infeed_connection != "apart"
    branches = _branches(transformer_high_bus, transformer_low_bus, transformer_high_voltage / transformer_low_voltage,
                         transformer_correction * (transformer_resistance + 1j * transformer_reactance), feeder_from_bus, feeder_to_bus,
                         feeder_resistance + 1j * feeder_reactance, _in_service(transformer_service, feeder_service, supplied.any()))
    sets = Sources(generator_bus, generator_correction * generator_reactance * (generator_resistance_ratio + 1j)
                   + generator_cable_resistance + 1j * generator_cable_reactance)
    supply = Sources(infeed_bus, _impedance(infeed_impedance, infeed_resistance_ratio)).only(supplied)
    motors = Sources(motor_group_bus, _impedance(motor_group_impedance, motor_group_resistance_ratio))
    voltage = voltage_factor_max * bus_voltage / np.sqrt(3)
    decay = (generator_rated_current, motor_group_rated_current, motor_breaking_factor(motor_power_per_pole_pair, minimum_time_delay), minimum_time_delay)
    cases = [_case(branches, sets, runs == 1, motors, supply, bus_turns, voltage, decay) for runs in np.asarray(generator_running)]
    at_buses = np.array([case[0] for case in cases]).reshape(len(cases), 9, len(bus_voltage))
    back_feed = np.array([case[1] for case in cases]).reshape(len(cases), len(generator_bus)).max(axis=0, initial=0.0)
    return (*at_buses.swapaxes(0, 1), back_feed), max((case[2] for case in cases), default=0.0), "largest element of Y·Z − 1"


def _case(branches, sets, running, motors, supply, turns, voltage, decay):
    """Results of one running case at the buses in the order in which they are yielded, the back feed of each set, and the residual."""
    own = sets.only(running)
    fed = reached(len(turns), branches, np.concatenate([own.bus, supply.bus]).astype(int))
    turning = fed[motors.bus]
    parts = (own, motors.only(turning), supply)
    solved = solve(branches, Sources(np.concatenate([part.bus for part in parts]).astype(int), np.concatenate([part.impedance for part in parts])), turns)
    fault = fault_currents(solved, voltage)
    currents = source_currents(solved, fault)
    arriving = seen_at_fault(solved, currents)
    ends = np.cumsum([len(part.bus) for part in parts])
    groups = np.split(arriving, ends[:-1], axis=1)
    left = _left(currents, ends, decay, running, turning)
    slow = at_frequency(solved, FREQUENCY_SHARE)
    peaks = peak_currents(solved, slow, voltage, FREQUENCY_SHARE), equivalent_frequency_peaks(solved, slow, voltage, FREQUENCY_SHARE)
    driving = np.where(solved.live, solved.driving, 0)
    at_buses = (np.abs(fault), *peaks, np.abs((left * arriving).sum(axis=1)), *(np.abs(group.sum(axis=1)) for group in groups), driving.real, driving.imag)
    return at_buses, _back_feed(fault, sets, running, voltage), solved.residual


def _left(currents, ends, decay, running, turning):
    """Share of the current of each source that is left when contacts part: (bus, source)."""
    set_rated, motor_rated, motor_factor, delay = decay
    of_sets, of_motors, of_supply = np.split(np.abs(currents), ends[:-1], axis=1)
    return np.concatenate([breaking_factor(of_sets / set_rated[running], delay),
                           breaking_factor(of_motors / motor_rated[turning], delay) * motor_factor[turning], np.ones_like(of_supply)], axis=1)


def _back_feed(fault, sets, running, voltage):
    """What all others feed into a fault at the terminals of each set."""
    return np.abs(fault[sets.bus] - running * voltage[sets.bus] / sets.impedance)


@procedure(source=("iec-60909-current", "superposition"), equation="Y·Z = 1;  I″_k,min = c_min·U_n/(√3·|Z_kk|)", yields=("initial_current_min",))
def least_currents(bus_voltage, voltage_factor_min, bus_turns, generator_running, generator_bus, generator_reactance, generator_resistance_ratio,
                   generator_correction, generator_cable_resistance, generator_cable_reactance, infeed_bus, infeed_impedance_max, infeed_resistance_ratio,
                   infeed_connection, transformer_high_bus, transformer_low_bus, transformer_high_voltage, transformer_low_voltage, transformer_resistance,
                   transformer_reactance, transformer_service, feeder_from_bus, feeder_to_bus, feeder_hot_resistance, feeder_reactance, feeder_service):
    """Least initial currents in each running case: no motors, cables hot, transformers uncorrected, and the public supply only if it stays with the sets
    for good.
    """
    supplied = infeed_connection == "in_parallel"
    branches = _branches(transformer_high_bus, transformer_low_bus, transformer_high_voltage / transformer_low_voltage,
                         transformer_resistance + 1j * transformer_reactance,
                         feeder_from_bus, feeder_to_bus, feeder_hot_resistance + 1j * feeder_reactance,
                         _in_service(transformer_service, feeder_service, supplied.any()))
    sets = Sources(generator_bus, generator_correction * generator_reactance * (generator_resistance_ratio + 1j)
                   + generator_cable_resistance + 1j * generator_cable_reactance)
    supply = Sources(infeed_bus, _impedance(infeed_impedance_max, infeed_resistance_ratio)).only(supplied)
    currents, residual = _each_case(branches, sets, generator_running, supply, bus_turns, voltage_factor_min * bus_voltage / np.sqrt(3))
    return (currents,), residual, "largest element of Y·Z − 1"


@procedure(source=("iec-60909-steady", "superposition"), equation="Y·Z = 1 with X_G = U_rG²/(λ·S_rG);  I_k = U_n/(√3·|Z_kk|)",
           yields=("steady_current", "least_steady_current"))
def sustained_currents(bus_voltage, bus_turns, running_case_share, generator_running, generator_bus, generator_rated_voltage, generator_rated_apparent_power,
                       generator_sustained_ratio,
                       generator_cable_resistance, generator_cable_reactance, infeed_bus, infeed_impedance_max, infeed_resistance_ratio, infeed_connection,
                       transformer_high_bus, transformer_low_bus, transformer_high_voltage, transformer_low_voltage, transformer_resistance,
                       transformer_reactance,
                       transformer_service, feeder_from_bus, feeder_to_bus, feeder_hot_resistance, feeder_reactance, feeder_service):
    """Current that the sets keep up while field forcing lasts, so that relays may be judged by it.

    A forced set is a voltage behind the reactance that gives its sustained current at the terminals. Behind a transformer or a long cable a real regulator
    gives more, so this is the safe side for a relay that must start. A set without forcing counts as nothing. The least is that of cases with load on the
    bus: a set on its load bank feeds no feeder.
    """
    supplied = infeed_connection == "in_parallel"
    branches = _branches(transformer_high_bus, transformer_low_bus, transformer_high_voltage / transformer_low_voltage,
                         transformer_resistance + 1j * transformer_reactance,
                         feeder_from_bus, feeder_to_bus, feeder_hot_resistance + 1j * feeder_reactance,
                         _in_service(transformer_service, feeder_service, supplied.any()))
    with np.errstate(divide="ignore"):
        reactance = generator_rated_voltage**2 / (np.asarray(generator_sustained_ratio) * generator_rated_apparent_power)
    forced = np.isfinite(reactance)
    sets = Sources(generator_bus, generator_cable_resistance + 1j * (generator_cable_reactance + reactance))
    supply = Sources(infeed_bus, _impedance(infeed_impedance_max, infeed_resistance_ratio)).only(supplied)
    currents, residual = _each_case(branches, sets, (np.asarray(generator_running) == 1) & forced, supply, bus_turns, bus_voltage / np.sqrt(3))
    feeds = np.asarray(running_case_share)[:, None] != 0
    fed = np.where((currents != 0) & feeds, currents, np.inf).min(axis=0, initial=np.inf)
    return (currents, np.where(np.isfinite(fed), fed, np.nan)), residual, "largest element of Y·Z − 1"


def _each_case(branches, sets, generator_running, supply, turns, voltage):
    """Magnitude of the fault current at every bus in every running case, and the largest residual."""
    found, residual = [], 0.0
    for runs in np.asarray(generator_running):
        own = sets.only(runs == 1)
        solved = solve(branches, Sources(np.concatenate([own.bus, supply.bus]).astype(int), np.concatenate([own.impedance, supply.impedance])), turns)
        found.append(np.abs(fault_currents(solved, voltage)))
        residual = max(residual, solved.residual)
    return np.array(found).reshape(len(found), len(voltage)), residual


@procedure(source=("iec-60909-current", "iec-60909-peak", "iec-60909-breaking", "superposition"),
           equation="Y·Z = 1;  I″_k,Q = c_max·U_n/(√3·|Z_kk|), sets at rest",
           yields=("supply_initial_current", "supply_peak_current", "supply_breaking_current"), tables={"iec-60909-0-breaking": ""})
def supply_alone(bus_voltage, voltage_factor_max, bus_turns, supply_power_largest, infeed_bus, infeed_impedance, infeed_resistance_ratio, motor_group_bus,
                 motor_group_impedance, motor_group_resistance_ratio, motor_group_rated_current, motor_power_per_pole_pair, transformer_high_bus,
                 transformer_low_bus, transformer_high_voltage, transformer_low_voltage, transformer_resistance, transformer_reactance, transformer_correction,
                 transformer_service, feeder_from_bus, feeder_to_bus, feeder_resistance, feeder_reactance, feeder_service, minimum_time_delay):
    """The same boards are fed by the public supply for all but a few hours a year, and often harder than by the sets. Sets at rest, all supplies and motors
    on. Where a supply reaches the plant but none is listed its currents are not known.
    """
    branches = _branches(transformer_high_bus, transformer_low_bus, transformer_high_voltage / transformer_low_voltage,
                         transformer_correction * (transformer_resistance + 1j * transformer_reactance), feeder_from_bus, feeder_to_bus,
                         feeder_resistance + 1j * feeder_reactance, _in_service(transformer_service, feeder_service, True, with_sets=False))
    none = Sources(np.zeros(0, dtype=int), np.zeros(0, dtype=complex))
    supply = Sources(infeed_bus, _impedance(infeed_impedance, infeed_resistance_ratio))
    motors = Sources(motor_group_bus, _impedance(motor_group_impedance, motor_group_resistance_ratio))
    decay = (np.zeros(0), motor_group_rated_current, motor_breaking_factor(motor_power_per_pole_pair, minimum_time_delay), minimum_time_delay)
    voltage = voltage_factor_max * bus_voltage / np.sqrt(3)
    (initial, peak, _, breaking, *_), _, residual = _case(branches, none, np.zeros(0, dtype=bool), motors, supply, bus_turns, voltage, decay)
    known = np.where(np.isnan(supply_power_largest), np.nan, 1.0)
    return (initial * known, peak * known, breaking * known), residual, "largest element of Y·Z − 1"
