"""Controls and signals: the schedule of signals, three ways of wiring it, and what works on when the network is lost.

Cables, conduits and cost stand in cables.py; circuits, battery and instrument transformers in circuits.py. Left out: response
times and cyber security of the network, logic of the controllers, fire-rated routes.
"""

import numpy as np

from basis.language.formula import SOME, chapter, check, formula, procedure
from basis.language.maths import cumulative_over, lookup, pick, sum_over

CHAPTER = chapter("controls", "Controls and signals", order=210,
                  settles="Which signals run between the machines, and whether wire and supply carry them.",
                  cautions=(
    "A set may start without warning, at any moment, by a signal from far away. Before anybody reaches in: mode switch off, emergency stop pressed, battery "
    "isolated or "
    "start air shut and vented, locked and tagged. A stop button alone is no isolation.",
    "Never open the secondary of a current transformer that carries current: it drives up a voltage that kills and bursts. Short-circuit it at its test "
    "block first.",
    "Control circuits stay live when the main breaker is open: from the set's battery, another set, the station battery, a voltage transformer, a "
    "neighbour's panel. Prove "
    "each core dead, and expect more than one source in a box.",
    "Emergency stop and trips go by wire, and are proved by pressing and pulling them, not by looking at a screen. A stop that is bridged for a test is "
    "written down and watched.",
    "A forced or simulated signal moves real machines. One person in charge, in sight or in talk of the plant, and everything taken off again before the "
    "plant goes back to automatic.",
    "Breakers that close by a control wire can join two sources out of step. Synchronising circuits are checked for phase and polarity at the breaker before "
    "it is closed for the first time.",
    "Control schemes and protection settings are designed, tested and signed by licensed engineers and set to work by qualified people. This chapter counts "
    "wires; it does not replace their work.",
))


# Runs

@formula(source="run-count")
def control_run_count(control_run_from, control_run_to, installed_sets):
    """Runs alike in the plant: one for each set where an end is at a set, else one.

    Example: control_run_from=[set], control_run_to=[set], installed_sets=3 give [3] (hand calculation).
    """
    return installed_sets if control_run_from == "set" or control_run_to == "set" else 1


@formula(source="definition")
def control_run_number(control_run_length):
    """Place of the run in its list, by which the signals of a run are told from the others: each length over itself counts one."""
    return cumulative_over("control_run", control_run_length / control_run_length)


@formula(source="definition")
def control_run_transformer(control_run_class):
    """One for a run of instrument transformers. They measure by current and voltage of their own and cannot be moved to a network."""
    return 1 if control_run_class == "instrument_transformer" else 0


@formula(source="definition")
def control_run_at_set(control_run_from, control_run_to):
    """One where an end of the run is at a set, so that the battery of that set feeds its circuits."""
    return 1 if control_run_from == "set" or control_run_to == "set" else 0


@formula(source=("copper-line", "iec-60228"))
def control_run_resistance(control_conductor_table, control_run_conductor, control_conductor_temperature, copper_zero_resistance_temperature):
    """Resistance of a core per length, moved from the temperature of its table along copper's straight line.

    Example: control_run_conductor=[1.5 mm²], control_conductor_temperature=40 degC give [13.05 ohm/km] (hand calculation).
    """
    return (lookup(control_conductor_table, "resistance", control_run_conductor) * (control_conductor_temperature - copper_zero_resistance_temperature)
            / (lookup(control_conductor_table, "resistance_temperature", control_run_conductor) - copper_zero_resistance_temperature))


@formula(source="definition")
def control_run_core_area(control_conductor_table, control_run_conductor):
    """Area of a core over its insulation, from the table of the project.

    Example: control_conductor_table=control-conductors-awg, control_run_conductor=[14 AWG] give [0.0097 in^2] (NEC chapter 9, table 5, from memory).
    """
    return lookup(control_conductor_table, "area", control_run_conductor)


@formula(source="definition")
def control_run_core_diameter(control_conductor_table, control_run_conductor):
    """Diameter of a core over its insulation, from the table of the project.

    Example: control_run_conductor=[1.5 mm²] give [3.0 mm] (hand calculation, 1.4 mm and twice 0.8 mm).
    """
    return lookup(control_conductor_table, "diameter", control_run_conductor)


# Signals

@formula(source="definition")
def signal_points(signal_count, signal_run, control_run_count):
    """Circuits of the signal in the whole plant. Example: signal_count=[2], signal_run=[item_1], control_run_count=[3] give [6] (hand calculation)."""
    return signal_count * pick(signal_run, control_run_count)


@procedure(source="definition", equation="e_s = 0 if {from, to} of the signal = {from, to} of its run, else 1", yields=("signal_off_run",))
def signals_off_their_runs(signal_from, signal_to, signal_run, control_run_from, control_run_to):
    """Signals that go between other places than the run that is to carry them: a slip of the schedule that would show on site only."""
    def ends(one, other):
        return np.sort(np.array([one, other], dtype=str), axis=0)
    of_signals, of_runs = ends(signal_from, signal_to), ends(control_run_from, control_run_to)
    off = np.any(of_signals != np.take(of_runs, signal_run, axis=1), axis=0).astype(float)
    return (off,), float(np.sum(off)), "signals whose ends are not those of their run"


@formula(source="protection-on-wire")
def signal_protects(signal_function, signal_protective):
    """One for a protective function. Start, trip and interlock are so by function unless the schedule says no; an emergency stop is, whatever is said."""
    return (1 if signal_function == "emergency_stop" or signal_protective == "yes" else
            (0 if signal_protective == "no" else
             (1 if signal_function == "start" or signal_function == "breaker_trip" or signal_function == "interlock" else 0)))


@formula(source="definition")
def signal_listed_wire(signal_path):
    """One where the schedule gives the signal wires of its own, alone or beside the network."""
    return 0 if signal_path == "network" else 1


@formula(source="definition")
def signal_listed_network(signal_path):
    """One where the schedule puts the signal on the network, alone or beside wires."""
    return 0 if signal_path == "hard_wired" else 1


@formula(source="definition")
def signal_transformer(signal_run, control_run_transformer):
    """One for a circuit of an instrument transformer: it lies in a run of that class."""
    return pick(signal_run, control_run_transformer)


@formula(source="definition")
def protective_functions(signal_protects):
    """Lines of the schedule that protect people or plant."""
    return sum_over("signal", signal_protects)


@formula(source="definition")
def plant_points(signal_points):
    """Circuits of all signals in all runs: the size of the job, whichever way it is wired."""
    return sum_over("signal", signal_points)


# Three ways of wiring

@formula(source="definition")
def way_chosen(wiring_method, way_wires_all, way_as_scheduled, way_network_only):
    """One for the way that the project builds. All three are worked out, so that each can be read beside the others."""
    return (way_wires_all if wiring_method == "wired_throughout" else
            (way_as_scheduled if wiring_method == "as_scheduled" else way_network_only))


@formula(source="definition")
def signal_wired(way_wires_all, way_as_scheduled, signal_listed_wire, signal_transformer):
    """One where the signal has wires: always when all is wired, by the schedule when it rules, and for an instrument transformer in any way."""
    return max(way_wires_all, way_as_scheduled * signal_listed_wire, signal_transformer)


@formula(source="definition")
def signal_networked(way_as_scheduled, way_network_only, signal_listed_network, signal_transformer):
    """One where the signal goes by the network; circuits of instrument transformers never do."""
    return (1 - signal_transformer) * (way_as_scheduled * signal_listed_network + way_network_only)


@formula(source="definition")
def signal_wire(way_chosen, signal_wired):
    """One where the signal has wires in the design. When the network is lost these work on, and no others."""
    return sum_over("wiring_way", way_chosen * signal_wired)


@formula(source="protection-on-wire")
def signal_unwired_protection(signal_protects, signal_wire):
    """One for a protective function that only the network carries: a lost switch or a hung program would take it away without a sign."""
    return signal_protects * (1 - signal_wire)


@formula(source="definition")
def unwired_protection(signal_unwired_protection):
    """Protective functions of the design that are lost with the network. It must be nought."""
    return sum_over("signal", signal_unwired_protection)


@formula(source="protection-on-wire")
def way_unwired_protection(signal_protects, signal_wired):
    """Protective functions that are lost with the network, for each way of wiring."""
    return sum_over("signal", signal_protects * (1 - signal_wired))


@formula(source="definition")
def way_kept_points(signal_points, signal_wired):
    """Circuits that work on when the network is lost, for each way of wiring."""
    return sum_over("signal", signal_points * signal_wired)


@formula(source="definition")
def way_network_points(signal_points, signal_networked):
    """Circuits that the network carries, those counted too that have wires beside it."""
    return sum_over("signal", signal_points * signal_networked)


@formula(source="definition")
def kept_points(way_chosen, way_kept_points):
    """Circuits of the design that work on when the network is lost."""
    return sum_over("wiring_way", way_chosen * way_kept_points)


@formula(source="emergency-stop")
def emergency_stops(signal_function, signal_points, signal_wire):
    """Circuits of emergency stops that have wires in the design."""
    return sum_over("signal", signal_points * signal_wire if signal_function == "emergency_stop" else 0)


# Checks

on_run = check("signals_on_runs", "signal_off_run", limit="signal_off_run_max", safe="below", source="definition",
               title="Signals go between the ends of their runs", exact=True)
on_wire = check("protection_on_wire", "signal_unwired_protection", limit="unwired_protection_max", safe="below", source="protection-on-wire",
                title="Every protective function has a wire", exact=True, applies={"signal_protects": SOME})
stops = check("emergency_stop_wired", "emergency_stops", limit="emergency_stops_min", safe="above", source="emergency-stop", title="Wired emergency stop",
              exact=True, applies={"plant_points": SOME})
