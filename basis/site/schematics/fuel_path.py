"""Fuel from the tank to the engine and back, in the way in which the engines are fed."""
from __future__ import annotations

from basis.site.lanes import Line
from basis.site.schematic import Part, Plan, amount, items, known, named, schematic, through, word
from basis.solving.book import Book

PIPES = {"transfer_suction": "Transfer", "engine_supply": "Supply of the engine", "engine_return": "Return"}


@schematic("Fuel from tank to engine and back")
def fuel_path(book: Book) -> Plan:
    """Fuel runs from above: from the store, by pumps and a day tank where there is one, to the engine. The broken line is what the engine does not burn
    and sends back."""
    if "full_load_fuel_rate" not in book.values:
        return Plan(none="the fuel of an engine is not known")
    store, transfer, day_tank = _store(book), *_day_tank(book)
    supply, engine, back = _pipes(book, "engine_supply"), _engine(), _back(book)
    steps = [step for step in (store, *transfer, day_tank, supply, [engine]) if step]
    parts = [part for step in (*steps, *back) for part in step]
    lines = through("fuel", *([[part.id] for part in step] for step in steps))
    home = day_tank if day_tank and (word(book, "fuel_return_route") == "day_tank" or not store) else store
    back_lines = through("returned", [[engine.id]], *([[part.id] for part in step] for step in back))
    last = back[-1] if back else [engine]
    ends = (Line(tuple(part.id for part in last), tuple(part.id for part in home), "returned"),) if home else ()
    return Plan(tuple(parts), (*lines, *back_lines, *ends), under=() if store else ("The project lists no tank of a store.",))


def _store(book: Book) -> list[Part]:
    """The tanks of the store, side by side."""
    own = " of each set" if word(book, "fuel_feed") == "own_tank" else ""
    return [Part(f"tank-{item}", "tank", named(book, "fuel_tank", item), (
        ("holds", f"fuel_tank_volume.{item}"), ("usable", f"fuel_tank_usable.{item}"), ("vent", f"fuel_tank_vent_bore.{item}"),
        ("stands", f"fuel_tank_place.{item}")), f"Store{own}") for item in items(book, "fuel_tank")]


def _day_tank(book: Book) -> tuple[list[list[Part]], list[Part]]:
    """The steps of the transfer, and the day tank; nothing where the engines are fed otherwise."""
    if word(book, "fuel_feed") != "day_tank":
        return [], []
    pumps = Part("pumps", "pump", "Transfer pumps", (("number", "fuel_transfer_pumps"), ("each", "fuel_transfer_pump_flow"),
                                                      ("with one out", "fuel_transfer_flow_one_out"), ("needed", "fuel_transfer_flow_min")))
    tank = Part("day_tank", "tank", "Day tank", (
        ("number", "day_tanks"), ("holds", "day_tank_volume"), ("pump starts at", "day_tank_start_level"), ("stops at", "day_tank_stop_level"),
        ("lasts", "day_tank_time"), ("warms to", "day_tank_temperature_end")))
    transfer = [_pipes(book, "transfer_suction"), [pumps]] if any(known(book, value_id) for _, value_id in pumps.shown) and items(book, "fuel_tank") else []
    return transfer, [tank]


def _pipes(book: Book, duty: str) -> list[Part]:
    """The pipes of one duty, side by side."""
    return [Part(f"pipe-{item}", "pipe", named(book, "fuel_pipe", item), (
        ("bore", f"fuel_pipe_bore.{item}"), ("flow", f"fuel_pipe_flow.{item}"), ("pressure over it", f"fuel_pipe_drop.{item}"),
        ("allowed", f"fuel_pipe_drop_allowed.{item}")), PIPES[duty]) for item in items(book, "fuel_pipe") if word(book, f"fuel_pipe_duty.{item}") == duty]


def _engine() -> Part:
    return Part("engine", "engine", "Engine, each", (("draws", "engine_supply_flow"), ("burns at full load", "full_load_fuel_rate"),
                                                      ("allowed at its inlet", "fuel_inlet_temperature_max")))


def _back(book: Book) -> list[list[Part]]:
    """What the return passes: its pipes, and a cooler where there is one."""
    pipes = _pipes(book, "engine_return")
    cooler = Part("cooler", "cooler", "Fuel cooler", (("takes", "fuel_cooler_heat"),))
    return [step for step in (pipes, [cooler] if amount(book, "fuel_cooler_heat") > 0 else []) if step]
