"""Short circuit of a large plant, beside pandapower on the same network. Run by hand: `python tests/bench_short_circuit.py`.

Fifty buses and eight sets in one running case. Two figures of ours: the procedure of the largest currents alone (with breaking current and the
parts of sets, motors and supply), and every formula and procedure of the chapter from the inputs on, which is the fairer one, since
pandapower also turns its tables into impedances each time. Reading and ordering the project is left out, as is building the pandapower
network. The best of several runs each; on a machine that others use, the ratio swings widely, so run it more than once.
"""

import sys
import tempfile
import time
import warnings
from importlib import import_module
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

import pandapower_network

from basis.chapters import collect
from basis.language.compiled import chain
from basis.language.terms import terms
from basis.reading.project import read
from basis.solving.solve import solve

BOARDS, SETS, REPEATS = 24, 8, 9
MODULES = ("plant.chapter", "loads.chapter", "loads.rating", "loads.steps", "voltage.chapter", "voltage.cost", "short_circuit.chapter",
           "short_circuit.currents", "short_circuit.duty")


def project_text() -> str:
    """A medium-voltage board with eight sets and the supply, 24 transformers with a board each, a feeder and a motor group from each board."""
    lines = ["name: bench", "chapters: [short_circuit]", "power_frequency: 50 Hz", "generating_voltage: 11 kV", "alternator_rated_apparent_power: 2500 kVA",
             f"installed_sets: {SETS}", "conductor_table: iec-60228-copper", "running_cases: [{id: all, sets_out: 0}]",
             "buses:", "  - {id: sets}", "  - {id: ring}"]
    lines += [f"  - {{id: board_{n}, bus_voltage: 400 V}}\n  - {{id: far_{n}, bus_voltage: 400 V}}" for n in range(BOARDS)]
    lines += ["generators:", *(f"  - {{id: set_{n}, generator_bus: sets}}" for n in range(SETS))]
    lines += ["grid_infeeds: [{id: supply, infeed_bus: ring, infeed_short_circuit_power: 400 MVA, infeed_connection: in_parallel}]", "transformers:"]
    lines += [f"  - {{id: t_{n}, transformer_high_bus: ring, transformer_low_bus: board_{n}, transformer_rating: 1600 kVA, "
              f"transformer_impedance_voltage: 6 %, transformer_winding_loss: 14 kW}}"
              for n in range(BOARDS)]
    lines += ["feeders:", "  - {id: link, feeder_from_bus: sets, feeder_to_bus: ring, feeder_length: 80 m, feeder_size: 240 mm²}"]
    lines += [f"  - {{id: f_{n}, feeder_from_bus: board_{n}, feeder_to_bus: far_{n}, feeder_length: {40 + 5 * n} m, feeder_size: 240 mm², feeder_parallel: 2}}"
              for n in range(BOARDS)]
    lines += ["motor_groups:", *(f"  - {{id: m_{n}, motor_group_bus: far_{n}, motor_group_power: 150 kW}}" for n in range(BOARDS))]
    return "\n".join(lines) + "\n"


def best(function) -> float:
    """Least time of a call in seconds."""
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        function()
        times.append(time.perf_counter() - start)
    return min(times)


def bench() -> dict[str, float]:
    """Seconds of ours (procedure, whole chapter) and of pandapower, and the largest departure between them."""
    warnings.simplefilter("ignore")
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "project.yaml").write_text(project_text())
        book = solve(read(folder), collect([import_module(f"basis.chapters.{name}") for name in MODULES]))
    steps, inputs = book.steps, book.inputs
    procedure = next(step.procedure for step in steps if step.procedure and step.procedure.id == "largest_currents")
    places = {bus: place for place, bus in enumerate(book.items["bus"])}
    have = inputs | {name: value.number for name, value in book.values.items() if name not in inputs and not value.term.is_text}
    arguments = [have[name] for name in procedure.parameters]
    net, buses = pandapower_network.build(book, book.items["generator"], book.items["grid_infeed"], only=("always", "with_supply", "with_sets"))
    initial, peak = pandapower_network.currents(net, buses)
    fresh = inputs | {f"run_{step.procedure.id}": step.procedure.run for step in steps if step.procedure}  # a book's own remember what they yielded
    whole = chain(steps, tuple(fresh), terms())
    ours, chapter = best(lambda: procedure.run(*arguments)), best(lambda: whole(*fresh.values()))
    theirs = best(lambda: pandapower_network.currents(net, buses))
    off = max(np.abs(book[name].number[0] / outside - 1).max() for name, outside in (("initial_current_max", initial), ("equivalent_peak_current", peak)))
    assert chapter > ours, "the whole chapter holds the procedure: less time than it means that something was not run"
    return {"buses": float(len(places)), "ours": ours, "chapter": chapter, "pandapower": theirs, "departure": float(off)}


if __name__ == "__main__":
    found = bench()
    print(f"{found['buses']:.0f} buses, {SETS} sets: largest currents {found['ours'] * 1e3:.2f} ms, whole chapter {found['chapter'] * 1e3:.2f} ms, "
          f"pandapower {found['pandapower'] * 1e3:.1f} ms; pandapower over ours {found['pandapower'] / found['ours']:.0f}, "
          f"over the whole chapter {found['pandapower'] / found['chapter']:.1f}; largest departure {found['departure']:.1e}")
