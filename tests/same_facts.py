"""Inputs of one meaning that several chapters ask for: `python tests/same_facts.py` prints the pairs that look like one fact asked twice.

A pair is two inputs of different chapters of one dimension, kind and sort of list whose names, ids and meanings share words that few inputs have, or
that a demo gives with the same number. Out of it are pairs that are held together: one is computed from the other where it is not given, or a check
compares them. What remains was read by a person: `DIFFERENT` says why two inputs are two facts, `TWICE` why one fact has two keys.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path

from basis.chapters import Catalogue, catalogue
from basis.language.formula import Formula
from basis.language.terms import Term, homes, terms
from basis.reading.project import Project, read
from basis.solving.asked import asked_in

PROJECTS = Path(__file__).parent.parent / "projects"
LIKE = 0.75  # of the weight of the words of the shorter text; from here two texts are read by a person
LIKE_IF_EQUAL = 0.45  # the same where a demo gives both with one number
COMMON = {"0", "1", "2", "3", "4"}  # numbers that many things have

# Why, ids of the one side, ids of the other.
DIFFERENT = (
    ("prices of bought energy and of fuel rise apart", "energy_price_growth", "fuel_price_growth"),
    ("a test has a load of its own, and the rule a floor; the ledger holds the mean of all that ran for a reason", "test_load_ratio yearly_ratio_min",
     "record_load_ratio"),
    ("the bank of a running case may be another than the one that is kept for the tests", "bank_power_factor", "load_bank_power_factor"),
    ("each cable and conductor has its own size", "earth_conductor_size protective_conductor_size starter_cable_size",
     "cable_size conductor_size feeder_size earth_conductor_size protective_conductor_size starter_cable_size"),
    ("a feeder is no cable of a set", "feeder_size", "conductor_size"),
    ("the drop of a cable is judged with the highest reactance that it may have, the fault through a feeder with the lowest", "cable_reactance",
     "feeder_reactance_per_length"),
    ("a conduit of a run holds whatever cables go there, and its own fill is judged", "conduit_run_size conduit_run_table", "conduit_size conduit_table"),
    ("how a cable is made decides there how many lie in a conduit, here how it is pulled and bent; a check holds its diameter", "cable_type",
     "cable_construction"),
    ("starter cables are flexible, of a table of their own", "starter_cable_table", "conductor_table cable_conductor_table"),
    ("each protection clears in its own time", "cable_fault_duration generator_cable_fault_duration",
     "protective_conductor_time earth_fault_clearing_time slowest_clearing_time"),
    ("protective conductors are counted by themselves", "protective_conductor_parallel", "cable_parallel feeder_parallel"),
    ("each machine and load has its own power factor and efficiency", "station_load_power_factor motor_power_factor",
     "cable_power_factor load_power_factor load_demand_factor motor_power_factor load_bank_power_factor motor_group_efficiency"),
    ("the auxiliaries of the plant are no loads of the schedule", "station_load_start_ratio", "motor_locked_rotor_ratio"),
    ("fuel, coolant, air, exhaust and crankcase gas have pipes of their own",
     "breather_bore breather_length breather_roughness breather_loss_coefficient element_elbow_table element_elbow_loss loop_pipe_loss loop_pipe_roughness",
     "fuel_pipe_bore fuel_pipe_length fuel_pipe_roughness fuel_pipe_loss_coefficient exhaust_outlet_loss exhaust_elbow_table exhaust_elbow_loss "
     "exhaust_pipe_roughness"),
    ("a reason for running, a transformer, and the running hours of the cost of losses are loaded unlike", "record_load_ratio",
     "transformer_mean_ratio loss_load_ratio"),
    ("what a mode would run through differs from what the plant ran through in a usual year; another class is another power",
     "mode_treatment_share mode_rating_class", "record_treatment_share pollutant_reduction rating_class"),
    ("a record of the ledger is a part of the hours of a year; the ledger checks their sum", "record_hours", "hours_per_year_outages"),
    ("heights of other things", "connection_height attachment_height", "source_height"),
    ("heights of other things", "receiver_height", "stack_height"),
    ("the one is the place of a person, the other of a wall or opening", "exposure_others_distance", "source_others_distance"),
    ("the batteries of the station are others than those of the starters", "station_battery_usable_share",
     "battery_usable_share"),
    ("usual times of other parts of the start", "start_run_up_usual", "dead_bus_usual signal_delay_usual"),
    ("the mean of the year and the coldest", "battery_temperature_mean", "room_temperature_held"),
    ("an alternator and a transformer", "alternator_rated_apparent_power", "transformer_rating"),
    ("anchors and snubbers", "anchor_spacing", "snubber_spacing"),
    ("capacitance counts all cables at generating voltage, wherever they go", "capacitance_length", "generator_cable_length"),
    ("the one is time in noise, the other time of work on a set that stands", "exposure_duration", "task_duration"),
    ("what may be out is what is installed less what is required; spares are what was asked for", "spare_sets", "upkeep_sets_out_max"),
    ("each is computed from the current and the ambient of its cable", "cable_operating_temperature", "conductor_operating_temperature"),
)
# The same, with the ids of the checks that hold the two together.
TWICE = (
    ("a cable of a set may be laid in another way than the generator cable is worked out, and a formula cannot hand on words, nor what may be missing",
     "set_cable_conductor set_cable_capacity set_cable_drop set_cable_withstand",
     "cable_conductor_table cable_impedance_table cable_size cable_termination_table cable_ambient_rule cable_termination_limit cable_ambient_table "
     "cable_loaded_conductors cable_short_circuit_temperature cable_fault_duration",
     "conductor_table impedance_table conductor_size termination_table ambient_rule termination_limit ambient_table "
     "circuit_loaded_conductors short_circuit_temperature generator_cable_fault_duration"),
    ("a cable that is a feeder of the fault study has its length and conductors from there, and a formula cannot hand on words",
     "cable_as_feeder",
     "cable_size", "feeder_size"),
)


@dataclass(frozen=True)
class Pair:
    """Two inputs, by id in order, how alike their words are, and where demos give them alike."""

    ids: tuple[str, str]
    alike: float
    equal_in: tuple[str, ...]

    def __str__(self) -> str:
        equal = f"  equal in {', '.join(self.equal_in)}" if self.equal_in else ""
        return f"{self.alike:.2f}  " + "  ".join(f"{homes()[one]}.{one}" for one in self.ids) + equal


def same_facts(known: Catalogue | None = None) -> list[Pair]:
    """Pairs that look like one fact and are not held together, the likest first."""
    known = known or catalogue()
    inputs = [term for term in terms().values() if term.id in asked_in() or not (term.constant or term.id in known.producers)]
    given = {folder.name: _given(read(folder)) for folder in sorted(PROJECTS.iterdir()) if folder.is_dir()}
    words = {term.id: _words(term) for term in inputs}
    inputs_with = Counter(word for found in words.values() for word in found)
    weight = {word: math.log(len(inputs) / number) for word, number in inputs_with.items()}
    held, found = _held(known), []
    for one, other in _comparable(inputs):
        alike = _alike(words[one.id], words[other.id], weight)
        if alike >= LIKE_IF_EQUAL and frozenset((one.id, other.id)) not in held:
            equal = () if one.is_text else tuple(slug for slug, numbers in given.items() if numbers.get(one.id, set()) & numbers.get(other.id, set()))
            if equal or alike >= LIKE:
                found.append(Pair(tuple(sorted((one.id, other.id))), alike, equal))
    return sorted(found, key=lambda pair: (-len(pair.equal_in), -pair.alike, pair.ids))


def judged(pair: Pair) -> str:
    """Why the pair stands: the reason of the first line of DIFFERENT or TWICE that has the one on either side; empty where none does."""
    one, other = pair.ids
    return next((why for why, *_, left, right in DIFFERENT + TWICE for first, second in ((one, other), (other, one))
                 if first in left.split() and second in right.split()), "")


def _comparable(inputs: list[Term]) -> Iterator[tuple[Term, Term]]:
    """Pairs of different chapters that could be one fact: numbers of one dimension and kind, or choices and texts of the same words."""
    alike: dict[tuple, list] = {}
    for term in inputs:
        if not term.is_text:
            alike.setdefault((term.dimension, term.kind, term.unit == "reference"), []).append(term)
        elif term.unit != "reference":
            alike.setdefault((term.unit, term.choices, term.table), []).append(term)
    return (pair for group in alike.values() for pair in combinations(group, 2) if homes()[pair[0].id] != homes()[pair[1].id])


def _words(term: Term) -> set[str]:
    """Words of id, name and meaning by their stem."""
    return {word[:6].rstrip("s") for word in re.findall(r"[a-z]{3,}", f"{term.id} {term.name} {term.meaning}".lower())}


def _alike(one: set, other: set, weight: dict) -> float:
    """Weight of the words that both have, over the weight of those of the text that has less."""
    least = min(sum(weight[word] for word in words) for words in (one, other))
    return sum(weight[word] for word in one & other) / least if least else 0.0


def _given(project: Project) -> dict[str, set[float]]:
    """Term id -> numbers that a project gives for it; small counts say nothing."""
    found: dict[str, set] = {}
    for scope in (project.givens, *(option.givens for decision in project.decisions for option in decision.options)):
        for (name, _), given in scope.items():
            if isinstance(given.data, float) and f"{given.data:g}" not in COMMON:
                found.setdefault(name, set()).add(float(f"{given.data:.6g}"))
    return found


def _held(known: Catalogue) -> set[frozenset]:
    """Pairs of which one is computed from the other unless it is given, or that a check compares."""
    computed = {frozenset((name, other)) for name, producer in known.producers.items() if isinstance(producer, Formula) for other in producer.parameters}
    return computed | {frozenset((check.value, check.limit)) for checks in known.checks.values() for check in checks}


if __name__ == "__main__":
    print("\n".join(f"{pair}  {judged(pair) and f'({judged(pair)})'}" for pair in same_facts()))
