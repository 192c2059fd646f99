"""Coolant circuits: each loop of a set from the engine to its core and back, with the tank that holds it full, and the air across the cores."""
from __future__ import annotations

import numpy as np

from basis.site.lanes import Line
from basis.site.schematic import Part, Plan, amount, items, known, named, schematic, through, word
from basis.solving.book import Book

STANDS = {"leaving_engine": "allowed as it leaves", "entering_engine": "allowed as it enters"}


@schematic("Coolant circuits of a set")
def coolant(book: Book) -> Plan:
    """Each loop of one set: from the engine to its core and back, through pipes where the radiator stands apart, and in a circuit of its own where an exchanger
    parts it from the engine. The tank takes what the coolant grows and holds the loop full. Air crosses the cores in the order in which they stand."""
    loops = items(book, "coolant_loop")
    if not loops:
        return Plan(none="no coolant loop is listed")
    case = _case(book)
    parts, lines = [_air(book, case)], []
    for loop in loops:
        engine, exchanger, pipes, core = _engine(book, loop), _exchanger(book, loop, case), _pipes(book, loop), _core(book, loop, case)
        parts += [engine, *exchanger, *pipes, core]
        lines += through("coolant", *([[part.id]] for part in (engine, *exchanger, *pipes, core)))
        turns = [engine, *exchanger, core]
        lines += [Line((there.id,), (back.id,), "returned") for back, there in zip(turns, turns[1:])]
        for circuit, tank in ((engine, _tank(book, loop)), *((one, _tank_behind(book, loop)) for one in exchanger)):
            parts += tank
            lines += [Line((part.id,), (circuit.id,), "coolant") for part in tank]
    under = (f"Running case: {named(book, 'running_case', case)}, in which the loops reach their limit first.",) if case else ()
    return Plan(tuple(parts), (*lines, *_stream(book, loops)), under=under)


def _case(book: Book) -> str:
    """The running case in which a loop reaches its limit at the lowest outdoor temperature."""
    cases = items(book, "running_case")
    if not cases or "limiting_ambient" not in book.values:
        return ""
    lowest = np.nanmin(np.where(np.isnan(book["limiting_ambient"].number), np.inf, book["limiting_ambient"].number), axis=1)
    return cases[int(np.argmin(lowest))]


def _air(book: Book, case: str) -> Part:
    remote = word(book, "radiator_placement") == "remote"
    fans = (("fans take", "radiator_fan_power"),) if remote else ()
    return Part("air", "fan", "Air on the remote radiator" if remote else "Air of the room on the radiator",
                (("at", f"radiator_air_on_temperature.{case}"), ("flow", f"radiator_mass_flow.{case}"), *fans))


def _engine(book: Book, loop: str) -> Part:
    return Part(f"engine-{loop}", "engine", "Engine", (
        ("carries", f"loop_carries.{loop}"), ("heat", f"loop_heat.{loop}"), ("flow", f"loop_flow.{loop}"), ("rise", f"loop_rise.{loop}"),
        (STANDS.get(word(book, f"loop_limit_place.{loop}"), "allowed"), f"loop_temperature_max.{loop}")), named(book, "coolant_loop", loop))


def _parted(book: Book) -> bool:
    """Whether an exchanger parts the coolant of engine and radiator."""
    return (word(book, "radiator_placement"), word(book, "radiator_circuit")) == ("remote", "behind_exchanger")


def _exchanger(book: Book, loop: str, case: str) -> list[Part]:
    """What parts the engine's coolant from that of a radiator which stands apart, where there is one."""
    if not _parted(book):
        return []
    return [Part(f"exchanger-{loop}", "cooler", "Heat exchanger", (
        *_hot(loop, case), ("difference", f"exchanger_difference.{loop}"), ("pressure", f"exchanger_pressure.{loop}"),
        ("flow behind", f"radiator_circuit_flow.{loop}")), named(book, "coolant_loop", loop))]


def _hot(loop: str, case: str) -> tuple[tuple[str, str], ...]:
    """Of the coolant from the engine, where it comes in."""
    return ("coolant enters at", f"loop_temperature.{case}.{loop}"), ("boils at", f"coolant_boiling_temperature.{loop}")


def _pipes(book: Book, loop: str) -> list[Part]:
    """Pipes to a radiator that stands apart, where their bore is given."""
    if not amount(book, f"loop_pipe_bore.{loop}") > 0:
        return []
    return [Part(f"pipes-{loop}", "pipe", "Pipes there and back", (
        ("bore", f"loop_pipe_bore.{loop}"), ("length", f"loop_pipe_length.{loop}"), ("velocity", f"loop_pipe_velocity.{loop}"),
        ("drop", f"loop_pipe_drop.{loop}") if _parted(book) else ("drop with core", f"loop_external_drop.{loop}")), named(book, "coolant_loop", loop))]


def _core(book: Book, loop: str, case: str) -> Part:
    return Part(f"core-{loop}", "radiator", "Core of the radiator", (
        *(() if _parted(book) else _hot(loop, case)),
        ("position in the air", f"core_position.{loop}"), ("at its limit at outdoor", f"limiting_ambient.{case}.{loop}")), named(book, "coolant_loop", loop))


def _tank(book: Book, loop: str) -> list[Part]:
    """The expansion tank, where anything is known of it."""
    shown = (("volume", f"loop_tank_volume.{loop}"), ("needed", f"loop_tank_needed.{loop}"), ("coolant grows by", f"loop_expansion.{loop}"))
    if not any(known(book, value_id) for _, value_id in shown):
        return []
    return [Part(f"tank-{loop}", "vessel", "Expansion tank", (*shown, ("cap", f"loop_cap_pressure.{loop}")), named(book, "coolant_loop", loop))]


def _tank_behind(book: Book, loop: str) -> list[Part]:
    """The expansion tank of the radiator's circuit, where anything is known of it."""
    shown = (("volume", f"radiator_circuit_tank_volume.{loop}"), ("needed", f"radiator_circuit_tank_needed.{loop}"))
    if not any(known(book, value_id) for _, value_id in shown):
        return []
    return [Part(f"tank-behind-{loop}", "vessel", "Expansion tank behind", shown, named(book, "coolant_loop", loop))]


def _stream(book: Book, loops: tuple[str, ...]) -> list[Line]:
    """Air over the cores that stand first, and from them over those behind."""
    behind = tuple(f"core-{loop}" for loop in loops if word(book, f"core_position.{loop}") == "behind")
    first = tuple(f"core-{loop}" for loop in loops if f"core-{loop}" not in behind)
    return [Line(start, end, "across") for start, end in ((("air",), first or behind), (first, behind)) if start and end]
