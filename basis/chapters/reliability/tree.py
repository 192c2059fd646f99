"""Reliability, third part: the fault tree of what fails a mission. Exact by a decision diagram (diagram.py), since events are shared between gates.

The topmost gate is the one that no other takes. Left out: the order in which events come, and gates that need an event not to happen.
"""

from functools import lru_cache

import numpy as np

from basis.chapters.reliability.diagram import Diagram
from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import check, formula, procedure
from basis.language.maths import count_over, exp, nothing
from basis.language.terms import listed

CUT_SETS = len(listed("cut_set").fixed)
EVENTS_MOST = 300  # as deep as the diagram may become


# ---- events ----

@formula(source="demand-and-time")
def event_probability(event_source, event_demand_failure, event_failure_rate, mission_time, standby_unavailability, run_success, set_availability,
                      set_mission_success, sets_failure, common_failure):
    """An event of the project fails on demand or at a steady rate within the mission; one of the sets has this chapter's figure, so that nothing is told
    twice.

    Example: event_source=[own], event_demand_failure=[0.002], event_failure_rate=[1e-5 1/h], mission_time=100 h, standby_unavailability=0.01,
    run_success=98 %, set_availability=99 %, set_mission_success=96 %, sets_failure=0.001, common_failure=0.0005 give [0.0029975] (hand calculation).
    """
    return (1 - (1 - event_demand_failure) * exp(-event_failure_rate * mission_time) if event_source == "own" else
            standby_unavailability if event_source == "set_unready" else
            1 - run_success if event_source == "set_stops" else
            1 - set_availability if event_source == "set_out" else
            1 - set_mission_success if event_source == "set_fails" else
            sets_failure if event_source == "sets_lacking" else common_failure)


# ---- the tree ----

def _troubles(gate_sort, gate_least, input_of, input_event, input_gate, events: int) -> list[ItemTrouble]:
    """All that is wrong with the inputs and gates of a tree, each at its item."""
    found, seen = [], {}
    for place, (gate, event, below) in enumerate(zip(input_of, input_event, input_gate)):
        if gate < 0:
            found.append(ItemTrouble("input_of", place, "names no gate", "the id of one of fault_gates"))
        elif (event >= 0) == (below >= 0):
            found.append(ItemTrouble("input_of", place, f"takes {'both an event and a gate' if event >= 0 else 'neither an event nor a gate'}",
                                     "input_event or input_gate, one of them"))
        elif (gate, event, below) in seen:
            found.append(ItemTrouble("input_of", place, "takes what the gate has already", "each input once"))
        seen[gate, event, below] = place
    for gate, (sort, least) in enumerate(zip(gate_sort, gate_least)):
        inputs = int(np.sum(input_of == gate))
        if not inputs:
            found.append(ItemTrouble("gate_sort", gate, "a gate of nothing", "gate_inputs with input_of this gate"))
        elif sort == "at_least" and not least == least:
            found.append(ItemTrouble("gate_sort", gate, "does not say how many", "the key gate_least"))
        elif sort == "at_least" and least > inputs:
            found.append(ItemTrouble("gate_least", gate, f"asks for {least:.0f} of {inputs} input{'' if inputs == 1 else 's'}", f"1 to {inputs}"))
    found += [ItemTrouble("event_source", event, "no gate takes it", "gate_inputs with input_event this event") for event in range(events)
              if event not in input_event]
    return found + [ItemTrouble("event_source", EVENTS_MOST, "more events than the diagram takes", f"at most {EVENTS_MOST}")] * (events > EVENTS_MOST)


def _circles(input_of, input_gate, gates: int) -> list[ItemTrouble]:
    """Inputs by which a gate comes to stand below itself."""
    state, found = {}, []

    def visit(gate: int) -> None:
        state[gate] = "open"
        for place in np.flatnonzero((input_of == gate) & (input_gate >= 0)):
            below = int(input_gate[place])
            if state.get(below) == "open":
                found.append(ItemTrouble("input_gate", int(place), "closes a circle: the gate comes to stand below itself", "a tree"))
            elif below not in state:
                visit(below)
        state[gate] = "done"
    for gate in range(gates):
        if gate not in state:
            visit(gate)
    return found


def _top(input_gate, gates: int) -> int:
    """The gate that no other takes. Raises ItemTroubles when there are several."""
    tops = [gate for gate in range(gates) if gate not in input_gate]
    if len(tops) > 1:
        raise ItemTroubles(ItemTrouble("gate_sort", gate, "no gate takes it, as none takes another one", "one gate at the top") for gate in tops[1:])
    return tops[0]


def tree_order(top: int, input_of, input_event, input_gate) -> list[int]:
    """Events in the order in which one meets them from the top down: those that belong together stand together, which keeps the diagram small."""
    found, waiting, met = {}, [("gate", top)], set()
    while waiting:
        what, place = waiting.pop()
        if what == "event":
            found.setdefault(place)
        elif place not in met:
            met.add(place)
            inputs = np.flatnonzero(input_of == place)
            waiting += [("event", int(input_event[one])) if input_event[one] >= 0 else ("gate", int(input_gate[one])) for one in reversed(inputs)]
    return list(found)


def drawn(gate_sort, gate_least, input_of, input_event, input_gate, events: int) -> tuple[Diagram, dict[int, int], int, list[int]]:
    """Diagram of a tree, gate -> its node, the topmost gate, and the events in the order of the diagram. Raises ItemTroubles with all that is wrong."""
    gates = len(gate_sort)
    if troubles := [*_troubles(gate_sort, gate_least, input_of, input_event, input_gate, events), *_circles(input_of, input_gate, gates)]:
        raise ItemTroubles(troubles)
    return _drawn(*(tuple(np.asarray(data).tolist()) for data in (gate_sort, np.nan_to_num(gate_least), input_of, input_event, input_gate)))


@lru_cache(maxsize=4)  # while chances move, which the diagram knows nothing of, the tree stays
def _drawn(gate_sort: tuple, gate_least: tuple, *inputs: tuple) -> tuple[Diagram, dict[int, int], int, list[int]]:
    input_of, input_event, input_gate = map(np.array, inputs)
    top = _top(input_gate, len(gate_sort))
    order = tree_order(top, input_of, input_event, input_gate)
    rank = {event: place for place, event in enumerate(order)}
    diagram, nodes = Diagram(), {}

    def node(gate: int) -> int:
        if gate not in nodes:
            inputs = [diagram.event(rank[int(input_event[one])]) if input_event[one] >= 0 else node(int(input_gate[one]))
                      for one in np.flatnonzero(input_of == gate)]
            least = {"all": len(inputs), "any": 1}.get(gate_sort[gate]) or int(gate_least[gate])
            nodes[gate] = diagram.at_least(least, inputs)
        return nodes[gate]
    node(top)
    return diagram, nodes, top, order


def _without_figure(event_source, event_demand_failure, event_failure_rate) -> list[ItemTrouble]:
    """Events of the project without a figure, and events that take the sets' figures and have others as well."""
    own, given = np.asarray(event_source) == "own", np.asarray(event_demand_failure) >= 0
    lacking, twice = own & ~given, ~own & (given | (np.asarray(event_failure_rate) > 0))
    return [*(ItemTrouble("event_source", int(place), "has no chance", "event_demand_failure, nought for what fails only while running")
              for place in np.flatnonzero(lacking)),
            *(ItemTrouble("event_source", int(place), "has figures of its own beside those of the sets", "either of them") for place in np.flatnonzero(twice))]


@procedure(source=("fault-tree-gates", "decision-diagram", "importance-measures", "lognormal-error-factor"),
           equation="P(top) = Σ over the paths of the diagram;  B = P(top|e) − P(top|ē);  I_FV = P(union of cut sets with e)/P(top);  "
                    "EF_c = exp √(Σ ln² EF_e)",
           yields=("tree_probability", "gate_probability", "tree_nodes", "cut_sets_found", "single_failures", "cut_set_sum", "cut_set_probability",
                   "cut_set_order", "cut_set_error_factor", "cut_set_member", "event_cut_sets", "event_birnbaum", "event_fussell_vesely",
                   "mission_without_event"))
def fault_tree(event_source, event_demand_failure, event_failure_rate, event_probability, event_error_factor, gate_sort, gate_least, input_of, input_event,
               input_gate):
    """Reads the gates from the top down, builds the diagram, and takes from it the chance of every gate, the minimal cut sets and the importances.

    The residual compares the top with the sum over each event's two cases.
    """
    chance, events, gates = np.asarray(event_probability, dtype=float), len(event_probability), len(gate_sort)
    blank = np.full(CUT_SETS, np.nan)
    if troubles := _without_figure(event_source, event_demand_failure, event_failure_rate):
        raise ItemTroubles(troubles)
    if np.isnan(chance).any():
        none = np.full(events, np.nan)
        return ((np.nan, np.full(gates, np.nan), np.nan, np.nan, np.nan, np.nan, blank, blank, blank, np.full((events, CUT_SETS), np.nan), none, none,
                 none, none), 0.0, "the chance of an event is not known")
    diagram, nodes, top, order = drawn(gate_sort, gate_least, input_of, input_event, input_gate, events)
    places, ordered = np.argsort(order), chance[order]
    root, sets = nodes[top], diagram.cut_sets(nodes[top])
    united = [diagram.union(diagram.holding(sets, place)) for place in range(events)]
    chances = diagram.chances(ordered)
    slopes = diagram.slopes(root, ordered, chances)
    held = np.array([diagram.added(diagram.holding(sets, place), np.ones(events)) for place in range(events)])
    failure = chances[root]
    vesely = np.array([chances[one] for one in united]) / failure if failure > 0 else np.full(events, np.nan)
    probability, size, factor, member = _listed(diagram.likeliest(sets, ordered, CUT_SETS), order, event_error_factor, events)
    without = np.array([_without_one(diagram, root, ordered, place) for place in range(events)])
    return ((failure, np.array([chances[nodes[gate]] for gate in range(gates)]), float(diagram.size(root)), diagram.added(sets, np.ones(events)),
             float(diagram.singles(sets)), diagram.added(sets, ordered), probability, size, factor, member, held[places], slopes[places], vesely[places],
             without[places]),
            float(np.max(np.abs(without + ordered * slopes - failure))), "largest gap between the chance of the top and that by the two cases of one event")


def _without_one(diagram: Diagram, root: int, chance, place: int) -> float:
    """Chance of the top if one event never occurs."""
    return diagram.chances(np.where(np.arange(len(chance)) == place, 0.0, chance))[root]


def _listed(likeliest, order: list, factors, events: int):
    """The likeliest cut sets along their axis: chance, events, error factor, and which events belong to each."""
    probability, size, factor = (np.full(CUT_SETS, np.nan) for _ in range(3))
    member = np.full((events, CUT_SETS), np.nan)
    for place, (chance, inside) in enumerate(likeliest):
        mine = [order[event] for event in inside]
        probability[place], size[place] = chance, len(mine)
        factor[place] = np.exp(np.sqrt(np.sum(np.log(np.asarray(factors, dtype=float)[mine]) ** 2)))
        member[:, place] = 0.0
        member[mine, place] = 1.0
    return probability, size, factor, member


# ---- importances from the two cases of an event ----

@formula(source="definition")
def mission_failure(tree_probability, sets_failure):
    """By the tree that the project draws; without one only the sets themselves are known."""
    return tree_probability if count_over("fault_gate") > 0 else sets_failure


@formula(source="definition")
def mission_reliability(mission_failure):
    """What is left. Example: mission_failure=0.002 give 99.8 % (hand calculation)."""
    return 1 - mission_failure


@formula(source="importance-measures")
def event_criticality(event_probability, event_birnbaum, mission_failure):
    """Chance that the mission has failed by this event, given that it has failed.

    Example: event_probability=[0.6], event_birnbaum=[0.51], mission_failure=0.646 give [0.4737] (hand calculation).
    """
    return event_probability * event_birnbaum / mission_failure if mission_failure > 0 else nothing


@formula(source="importance-measures")
def event_achievement_worth(mission_without_event, event_birnbaum, mission_failure):
    """Above one by what the mission loses if the event is certain.

    Example: mission_without_event=[0.34], event_birnbaum=[0.51], mission_failure=0.646 give [1.316] (hand calculation).
    """
    return (mission_without_event + event_birnbaum) / mission_failure if mission_failure > 0 else nothing


@formula(source="importance-measures")
def event_reduction_worth(mission_failure, mission_without_event):
    """Above one by what is gained if the event never comes. Example: mission_failure=0.646, mission_without_event=[0.34] give [1.9] (hand calculation)."""
    return mission_failure / mission_without_event if mission_without_event > 0 else nothing


# ---- what one more buys ----

@formula(source="beta-factor")
def event_pair_probability(event_source, event_probability, common_cause_model, common_cause_share, one_more_reliability):
    """Two alike fail together by a shared cause, or each by its own. Two batteries in one box on one charger share more than the plant's β. One more set is
    told for the event of too few sets: beside a set that is drawn with its parts, the tree would have to be drawn anew. It is counted by the β model alone.

    Example: event_source=[own], event_probability=[0.01], common_cause_model=beta, common_cause_share=5 %,
    one_more_reliability=99 % give [0.00059025] (hand calculation).
    """
    return ((nothing if common_cause_model == "alpha" else 1 - one_more_reliability) if event_source == "sets_lacking" else
            common_cause_share * event_probability + ((1 - common_cause_share) * event_probability) ** 2 if event_source == "own" else nothing)


@formula(source="importance-measures")
def event_pair_gain(event_birnbaum, event_probability, event_pair_probability):
    """The chance of the top is a straight line over that of one event, so this is exact, for one change at a time.

    Example: event_birnbaum=[0.9], event_probability=[0.01], event_pair_probability=[0.0006] give [0.846 %] (hand calculation).
    """
    return event_birnbaum * (event_probability - event_pair_probability)


@formula(source="importance-measures")
def event_pair_mission(mission_reliability, event_pair_gain):
    """Mission as drawn and what one more buys. Example: mission_reliability=98 %, event_pair_gain=[0.846 %] give [98.846 %] (hand calculation)."""
    return mission_reliability + event_pair_gain


@formula(source="definition")
def mission_failure_max(mission_reliability_min):
    """Judged by what is missing: between 99 % and 99.9 % lie ten times the failures. Example: mission_reliability_min=99.5 % give 0.005 (hand calculation)."""
    return 1 - mission_reliability_min


mission = check("mission_ok", "mission_failure", limit="mission_failure_max", safe="below", source="project", title="Failure of the mission")
single = check("single_failures_ok", "single_failures", limit="single_failures_max", safe="below", source="project", exact=True,
               title="Single events that fail the mission")
bound = check("tree_below_sum", "tree_probability", limit="cut_set_sum", safe="below", source="fault-tree-gates", exact=True, self_test=True,
              title="Chance of the top not above the sum over its cut sets")
