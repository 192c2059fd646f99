"""The fault tree against published test results, all states gone through, and hand calculations; what is wrong with a tree is told at its line."""

import itertools

import numpy as np
import pytest
from demos import demo_copy
from pytest import approx

from basis.chapters.reliability import sets as many
from basis.chapters.reliability import tree as t
from basis.language.faults import Faults, ItemTroubles
from basis.site.figures.reliability import fault_tree as outline
from basis.solving.solve import load

YIELDS = t.fault_tree.yields


def run(chances: dict, gates: dict, factors=None):
    """Results by id of a tree written as gate -> (sort or number, names of its inputs)."""
    events, names = list(chances), list(gates)
    pairs = [(gate, name) for gate, (_, inputs) in gates.items() for name in inputs]
    sort = np.array([each if isinstance(each, str) else "at_least" for each, _ in gates.values()], dtype=object)
    least = np.array([np.nan if isinstance(each, str) else each for each, _ in gates.values()])
    of = np.array([names.index(gate) for gate, _ in pairs])
    event = np.array([events.index(name) if name in chances else -1 for _, name in pairs])
    below = np.array([names.index(name) if name in gates else -1 for _, name in pairs])
    given = np.full(len(events), 3.0) if factors is None else factors
    own, none = np.full(len(events), "own", dtype=object), np.zeros(len(events))
    results, residual, _ = t.fault_tree.run(own, none, none, np.array(list(chances.values()), dtype=float), given, sort, least, of, event, below)
    assert residual < 1e-12
    found = dict(zip(YIELDS, results))
    return found | {"mission_failure": found["tree_probability"], "event": dict(zip(events, range(len(events)))),
                    "gate": dict(zip(names, found["gate_probability"]))}


def by_all_states(chances: dict, gates: dict, top: str) -> float:
    """Chance of a gate by going through every state of the events."""
    total = 0.0
    for state in itertools.product((0, 1), repeat=len(chances)):
        true = dict(zip(chances, state))

        def fails(name):
            if name in true:
                return true[name]
            sort, inputs = gates[name]
            count = sum(fails(each) for each in inputs)
            return int(count >= (len(inputs) if sort == "all" else 1 if sort == "any" else sort))
        if fails(top):
            total += np.prod([chance if true[name] else 1 - chance for name, chance in chances.items()])
    return total


def importances(found) -> dict:
    chance = found["chance"]
    top, slope, without = found["mission_failure"], found["event_birnbaum"], found["mission_without_event"]
    return {"criticality": [t.event_criticality.run(p, b, top) for p, b in zip(chance, slope)],
            "raw": [t.event_achievement_worth.run(w, b, top) for w, b in zip(without, slope)],
            "rrw": [t.event_reduction_worth.run(top, w) for w in without]}


def test_two_trains_of_pump_and_valve():
    # SCRAM, published test: P 0.646; Birnbaum 0.51, 0.34, 0.38, 0.228; criticality, RAW and RRW as below, order pump 1, valve 1, pump 2, valve 2
    chances = {"pump_1": 0.6, "valve_1": 0.4, "pump_2": 0.7, "valve_2": 0.5}
    found = run(chances, {"top": ("all", ["train_1", "train_2"]), "train_1": ("any", ["pump_1", "valve_1"]), "train_2": ("any", ["pump_2", "valve_2"])})
    assert found["mission_failure"] == approx(0.646)
    assert found["event_birnbaum"] == approx([0.51, 0.34, 0.38, 0.228])
    measures = importances(found | {"chance": list(chances.values())})
    assert measures["criticality"] == approx([0.4737, 0.2105, 0.4118, 0.1765], abs=5e-5)
    assert measures["raw"] == approx([1.316, 1.316, 1.176, 1.176], abs=5e-4)
    assert measures["rrw"] == approx([1.9, 1.267, 1.7, 1.214], abs=5e-4)
    assert found["cut_sets_found"] == 4 and found["single_failures"] == 0
    # hand: pump 1 with pump 2 or valve 2, 0.6 x 0.85 = 0.51, of 0.646
    assert found["event_fussell_vesely"][0] == approx(0.51 / 0.646)
    assert found["cut_set_probability"][:4] == approx([0.42, 0.30, 0.28, 0.20])


SHARED = {"start_1": 0.015, "run_1": 0.03, "start_2": 0.015, "run_2": 0.03, "battery": 0.004, "pump": 0.002, "switch": 0.0005}
SHARED_TREE = {"top": ("any", ["sets", "pump", "switch"]), "sets": ("all", ["set_1", "set_2"]), "set_1": ("any", ["start_1", "run_1", "battery"]),
               "set_2": ("any", ["start_2", "run_2", "battery"])}


def test_a_battery_shared_by_two_sets():
    # hand: 1 - 0.998 x 0.9995 x (1 - 0.004 - 0.996 x (1 - 0.985 x 0.97)^2) = 0.0084608
    found = run(SHARED, SHARED_TREE)
    assert found["mission_failure"] == approx(0.0084608, abs=5e-8) and found["mission_failure"] == approx(by_all_states(SHARED, SHARED_TREE, "top"))
    assert found["event_birnbaum"][4] == approx(0.99552, abs=5e-6)
    measures = importances(found | {"chance": list(SHARED.values())})
    assert measures["criticality"][4] == approx(0.47065, abs=5e-6) and measures["criticality"][1] == approx(0.15458, abs=5e-6)
    assert found["single_failures"] == 3 and found["event_cut_sets"][found["event"]["battery"]] == 1


def test_a_tree_that_seldom_fails_and_whose_top_is_listed_last():
    # hand: one event of 0.0001 or both of 0.01: 1 - 0.9999^2; half of it by either, and 0.01 x 0.01 without the first
    found = run({"a": 1e-4, "b": 0.01, "c": 0.01}, {"both": ("all", ["b", "c"]), "top": ("any", ["a", "both"])})
    assert found["mission_failure"] == approx(1 - 0.9999 ** 2, rel=1e-9) and found["event_fussell_vesely"] == approx([0.5] * 3, abs=1e-4)
    assert t.event_criticality.run(1e-4, 0.9, 1.8e-4) == approx(0.5) and t.event_reduction_worth.run(2e-4, 1e-4) == approx(2)
    assert t.event_achievement_worth.run(1e-4, 0.9, 2e-4) == approx(4500.5)
    with pytest.raises(ItemTroubles) as told:  # a circle by way of the gate that is listed first
        run({"a": 0.1, "b": 0.1}, {"one": ("any", ["a", "two"]), "two": ("all", ["b", "one"]), "top": ("any", ["one"])})
    assert ["circle" in one.what for one in told.value.troubles] == [True]


def test_an_event_whose_chance_is_not_known_leaves_the_tree_open():
    found = run({"a": np.nan, "b": 0.02}, {"top": ("all", ["a", "b"])})
    assert all(np.isnan(found[name]).all() for name in YIELDS)


@pytest.mark.parametrize("demand, rate, told", [(np.nan, 0.0, False), (np.nan, 1e-5 / 3600, True), (0.1, 0.0, True)])
def test_an_event_of_the_sets_has_no_figures_of_its_own(demand, rate, told):
    # by the meaning: either the figures of the sets or its own, on demand or while running
    found = t._without_figure(np.array(["set_fails"], dtype=object), np.array([demand]), np.array([rate]))
    assert bool(found) == told


def test_the_battery_told_twice_is_another_tree():
    chances = {**SHARED, "battery_2": 0.004}
    tree = {**SHARED_TREE, "set_2": ("any", ["start_2", "run_2", "battery_2"])}
    assert run(chances, tree)["mission_failure"] == approx(0.004833, abs=5e-7)  # hand: gate by gate, wrong where the battery is one


def test_two_of_three_sets_and_what_they_share():
    # hand: 1 - 0.998816 x 0.999 x 0.9998 x 0.9992 = 0.0031805; rare-event sum 3 x 0.0004 + 0.002 = 0.0032
    chances = {"set_1": 0.02, "set_2": 0.02, "set_3": 0.02, "fuel": 0.001, "bus": 0.0002, "common": 0.0008}
    found = run(chances, {"top": ("any", ["sets", "fuel", "bus", "common"]), "sets": (2, ["set_1", "set_2", "set_3"])})
    assert found["mission_failure"] == approx(0.0031805, abs=5e-8) and found["cut_set_sum"] == approx(0.0032)
    fuel = found["event"]["fuel"]
    assert found["event_fussell_vesely"][fuel] == approx(0.31442, abs=5e-6)
    assert importances(found | {"chance": list(chances.values())})["raw"][fuel] == approx(314.4, abs=0.05)


def trains(groups_of):
    """Three trains of a pump and a valve; each sort has the groups of the α or β factor. Chances by name, and the tree."""
    chances, gates = {}, {"top": ("all", ["train_0", "train_1", "train_2"])}
    for train in range(3):
        gates[f"train_{train}"] = ("any", [f"{sort}_{group}" for sort in ("pump", "valve") for group in range(1, 8) if group >> train & 1])
    for sort in ("pump", "valve"):
        for group in range(1, 8):
            chances[f"{sort}_{group}"] = groups_of[group.bit_count() - 1]
    return chances, gates


def test_three_trains_with_shared_causes():
    # SCRAM, published tests, Q 0.1 each: beta 0.2 -> 0.04308; alpha (0.7, 0.2, 0.1) staggered -> 0.03093, printed as a sum cut short; hand 0.03092
    assert run(*trains([0.08, 0.0, 0.02]))["mission_failure"] == approx(0.04308, abs=5e-6)
    shares = np.array([0.7, 0.2, 0.1])
    staggered = run(*trains(many.together_chances(shares, 0.1, 3, True)))["mission_failure"]
    assert staggered == approx(0.03092, abs=5e-6) and staggered == approx(0.03093, abs=1.5e-5)
    assert run(*trains(many.together_chances(shares, 0.1, 3, False)))["mission_failure"] == approx(0.05298, abs=5e-6)


def test_error_factor_of_a_cut_set():
    # Uranie documentation: squares of the logarithms add; hand, factors 3 and 5: exp sqrt(ln^2 3 + ln^2 5) = 7.019
    found = run({"a": 0.01, "b": 0.02}, {"top": ("all", ["a", "b"])}, factors=np.array([3.0, 5.0]))
    assert found["cut_set_error_factor"][0] == approx(7.019, abs=5e-4) and np.isnan(found["cut_set_error_factor"][1:]).all()
    assert found["cut_set_member"][:, 0].tolist() == [1, 1] and found["cut_set_order"][0] == 2


@pytest.mark.parametrize("seed", range(12))
def test_any_tree_is_exact_and_its_cut_sets_are_least(seed):
    """Trees drawn at random with much sharing, against all states of the events."""
    draw = np.random.default_rng(seed)
    chances = {f"e{number}": float(draw.uniform(0.01, 0.6)) for number in range(8)}
    gates, left = {}, list(chances)
    for number in range(6):
        names = [str(name) for name in draw.choice([*chances, *gates], size=min(4, 2 + number), replace=False)]
        gates[f"g{number}"] = (draw.choice(["all", "any", 2]), names)
        gates[f"g{number}"] = (2 if gates[f"g{number}"][0] == "2" else str(gates[f"g{number}"][0]), names)
        left = [name for name in left if name not in names]
    taken = {name for _, names in gates.values() for name in names}
    gates["top"] = ("any", [*left, *(gate for gate in gates if gate not in taken)])
    found = run(chances, gates)
    assert found["mission_failure"] == approx(by_all_states(chances, gates, "top"), abs=1e-12)
    assert all(found["gate"][gate] == approx(by_all_states(chances, gates, gate), abs=1e-12) for gate in gates)
    least = least_cut_sets(chances, gates)
    assert found["cut_sets_found"] == len(least) and found["single_failures"] == sum(len(one) == 1 for one in least)
    likely = sorted((float(np.prod([chances[name] for name in one])) for one in least), reverse=True)
    assert found["cut_set_probability"][:min(12, len(least))] == approx(likely[:12])
    for name, place in found["event"].items():
        mine = [one for one in least if name in one]
        assert found["event_cut_sets"][place] == len(mine)
        assert found["event_fussell_vesely"][place] * found["mission_failure"] == approx(union(chances, mine), abs=1e-12)


def holds_with(true, gates, name) -> bool:
    if name not in gates:
        return name in true
    sort, inputs = gates[name]
    return sum(holds_with(true, gates, each) for each in inputs) >= (len(inputs) if sort == "all" else 1 if sort == "any" else sort)


def least_cut_sets(chances, gates) -> list[frozenset]:
    found: list[frozenset] = []
    for size in range(len(chances) + 1):
        for names in itertools.combinations(chances, size):
            if not any(one <= set(names) for one in found) and holds_with(set(names), gates, "top"):
                found.append(frozenset(names))
    return found


def union(chances, sets) -> float:
    return sum(float(np.prod([chances[name] if bit else 1 - chances[name] for name, bit in zip(chances, state)]))
               for state in itertools.product((0, 1), repeat=len(chances))
               if any(one <= {name for name, bit in zip(chances, state) if bit} for one in sets))


def test_thirty_events_with_sharing_take_few_nodes():
    """Six sets of four parts each, four of six needed, on shared batteries, pumps and a network: nodes are counted, since time is the machine's."""
    chances = {f"{part}_{number}": 0.01 for number in range(6) for part in ("start", "run", "damper", "breaker")}
    chances |= dict.fromkeys(("battery_a", "battery_b", "pump_a", "pump_b", "network", "hand"), 0.01)
    gates = {"top": ("any", ["sets", "order"]), "sets": (3, [f"set_{number}" for number in range(6)]), "order": ("all", ["network", "hand"]),
             "fuel": ("all", ["pump_a", "pump_b"])}
    gates |= {f"set_{number}": ("any", [f"{part}_{number}" for part in ("start", "run", "damper", "breaker")] + [f"battery_{'ab'[number % 2]}", "fuel"])
              for number in range(6)}
    found = run(chances, gates)
    assert len(chances) == 30 and found["tree_nodes"] < 500
    # hand: with battery (0.0199 either), fuel and order apart, each set fails with 1 - 0.99^4 = 0.0394; one battery takes three sets, which is too many
    own = 1 - 0.99 ** 4
    three = 1 - sum(many.working([1 - own] * 6)[4:])
    assert found["mission_failure"] == approx(1 - 0.99 ** 2 * (1 - 1e-4) ** 2 * (1 - three), rel=1e-9)


# ---- what one more buys ----

def test_a_second_battery():
    # hand: 0.05 x 0.01 + (0.95 x 0.01)^2 = 5.9025e-4
    pair = t.event_pair_probability.run("own", 0.01, "beta", 0.05, 0.999)
    assert pair == approx(5.9025e-4)
    assert t.event_pair_probability.run("sets_lacking", 0.01, "beta", 0.05, 0.999) == approx(0.001)
    assert np.isnan(t.event_pair_probability.run("set_stops", 0.01, "beta", 0.05, 0.999))
    before, after = run(SHARED, SHARED_TREE), run({**SHARED, "battery": 0.05 * 0.004 + (0.95 * 0.004) ** 2}, SHARED_TREE)
    gain = t.event_pair_gain.run(before["event_birnbaum"][4], 0.004, t.event_pair_probability.run("own", 0.004, "beta", 0.05, 0.999))
    assert gain == approx(before["mission_failure"] - after["mission_failure"])


# ---- what is wrong with a tree ----

@pytest.mark.parametrize("gates, said", [
    ({"top": ("any", ["a", "one"]), "one": ("any", ["b", "two"]), "two": ("all", ["c", "one"])}, "circle"),
    ({"top": ("any", ["a", "b", "c", "one"]), "one": ("any", [])}, "a gate of nothing"),
    ({"top": (4, ["a", "b", "c"])}, "asks for 4 of 3 inputs"),
    ({"top": ("at_least", ["a", "b", "c"])}, "does not say how many"),
    ({"top": ("any", ["a", "a", "b", "c"])}, "takes what the gate has already"),
    ({"top": ("any", ["a", "b"])}, "no gate takes it"),
    ({"top": ("any", ["a", "b"]), "other": ("any", ["c"])}, "no gate takes it, as none takes another one"),
    ({"top": ("any", ["a", "b", "c", "nowhere"])}, "neither an event nor a gate"),
])
def test_what_is_wrong_is_told(gates, said):
    with pytest.raises(ItemTroubles) as found:
        run({"a": 0.1, "b": 0.1, "c": 0.1}, gates)
    assert any(said in trouble.what for trouble in found.value.troubles)


@pytest.mark.parametrize("old, new, line, said", [
    ("input_of: no_supply, input_event: damper}", "input_of: no_supply, input_gate: no_supply}", "by_damper", "circle"),
    ("event_demand_failure: 0.001, event", "event_demand_failure: 1.2, event", "fuel_pump", "outside its physical range; expected 0 to 1"),
    ("mission_time: {value: 24 h,", "mission_time: {value: 0 h,", "mission_time", "outside its physical range"),
    ("gate_sort: any}", "gate_sort: at_least, gate_least: 7}", "id: no_supply", "asks for 7 of 5 inputs; expected 1 to 5"),
    ("event_demand_failure: 0.001, event_failure_rate", "event_failure_rate", "fuel_pump", "has no chance; expected event_demand_failure"),
    ("event_source: set_fails}", "event_source: set_fails, event_demand_failure: 0.1}", "id: set_fails", "figures of its own beside those of the sets"),
    ("input_of: no_supply, input_event: damper}", "input_event: damper}", "id: by_damper", "names no gate"),
    ("recorded_start_failures: 1", "recorded_start_failures: 40", "recorded_start_failures", "above 'recorded_starts'"),
])
def test_faults_have_file_and_line(tmp_path, old, new, line, said):
    place = tmp_path / "projects" / "cobble-key-exchange"
    demo_copy("cobble-key-exchange", place)
    file = place / "reliability.yaml"
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new), "utf-8")
    number = next(number for number, each in enumerate(file.read_text("utf-8").splitlines(), start=1) if line in each)
    with pytest.raises(Faults) as found:
        load(place)
    told = [str(fault) for fault in found.value.faults]
    assert any(said in each and f"reliability.yaml:{number}:" in each for each in told), told


# ---- small formulas, by hand ----

@pytest.mark.parametrize("source, expected", [("own", 0.0029975), ("set_unready", 0.01), ("set_stops", 0.02), ("set_out", 0.03), ("set_fails", 0.06),
                                              ("sets_lacking", 0.001), ("sets_common", 0.0005)])
def test_chance_of_an_event(source, expected):
    # hand: 1 - 0.998 x e^(-1e-5 x 100) = 0.0029975; the others are the figures of the sets
    assert t.event_probability.run(source, 0.002, 1e-5 / 3600, 100 * 3600, 0.01, 0.98, 0.97, 0.94, 0.001, 0.0005) == approx(expected, abs=5e-8)


def test_missions_asked_for_and_with_one_more():
    assert t.mission_failure_max.run(0.995) == approx(0.005) and t.mission_reliability.run(0.002) == approx(0.998)
    assert t.event_pair_mission.run(0.98, 0.00846) == approx(0.98846)


# ---- drawn ----

def test_a_shared_gate_is_drawn_out_once_and_every_label_has_a_row_of_its_own(books):
    """Counted in the text of High Tarn: the gate of the fuel pumps is an input of both sets."""
    book = books["high-tarn-waterworks"]
    drawn = outline.draw(book)
    axes, = drawn.axes
    words = [text for text in axes.texts if ":" in text.get_text()]
    assert sum(text.get_text().startswith("No fuel to the day tank") for text in words) == 2
    assert sum(text.get_text().startswith("First fuel pump") for text in words) == 1
    heights = sorted(text.get_position()[1] for text in axes.texts if text.get_text() not in ("any", "all"))
    assert min(np.diff(heights)) > 8  # points: higher than letters of eight
