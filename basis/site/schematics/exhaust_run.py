"""The exhaust of a set from the engine to its outlet, and the openings that must not breathe it."""
from __future__ import annotations

from basis.site.lanes import Line
from basis.site.schematic import Part, Plan, amount, items, named, schematic, through, word
from basis.solving.book import Book


@schematic("Exhaust run")
def exhaust_run(book: Book) -> Plan:
    """Gas runs from above: from the engine through bellows, pipe and silencer to the outlet; below it are the openings that must not breathe it. Drops are
    those of the chosen size."""
    size = word(book, "exhaust_size_chosen")
    if not size:
        return Plan(none="no size of pipe is chosen")
    run = [_engine(), *_bellows(book), _pipe(size), *_bends(book, size), *_silencer(book), _outlet(size)]
    openings = [_opening(book, item) for item in items(book, "exhaust_receptor")]
    away = (Line((run[-1].id,), tuple(part.id for part in openings), "gas"),) if openings else ()
    return Plan((*run, *openings), (*through("gas", *([[part.id]] for part in run)), *away),
                under=(f"Size: {named(book, 'exhaust_size', size)}.",))


def _engine() -> Part:
    return Part("engine", "engine", "Engine", (("gas at", "exhaust_temperature"), ("flow", "exhaust_volume_flow"),
                                                ("back-pressure", "exhaust_chosen_back_pressure"), ("allowed", "exhaust_back_pressure_max")))


def _bellows(book: Book) -> list[Part]:
    shown = (("number", "bellows_in_run"), ("the run grows by", "exhaust_growth"), ("they take", "bellows_capacity_total"))
    return [Part("bellows", "bellows", "Bellows", shown)] if amount(book, "bellows_in_run") > 0 else []


def _pipe(size: str) -> Part:
    return Part("pipe", "pipe", "Pipe", (
        ("sets on it", "sets_per_exhaust_pipe"), ("bore", f"exhaust_bore.{size}"), ("length", "exhaust_pipe_length"), ("velocity", f"exhaust_velocity.{size}"),
        ("drop", f"exhaust_pipe_drop.{size}"), ("insulation", "insulation_thickness"), ("its surface", f"exhaust_surface_temperature.{size}"),
        ("heat to room", "exhaust_pipe_room_heat")))


def _bends(book: Book, size: str) -> list[Part]:
    shown = (("bends", "exhaust_bends"), ("drop", f"exhaust_fitting_drop.{size}"))
    return [Part("bends", "resistance", "Bends and fittings", shown)] if amount(book, f"exhaust_fitting_drop.{size}") > 0 else []


def _silencer(book: Book) -> list[Part]:
    """All silencers together; nothing where none takes any pressure."""
    return [Part("silencer", "silencer", "Silencing", (("drop", "silencer_drop"),))] if not amount(book, "silencer_drop") <= 0 else []


def _outlet(size: str) -> Part:
    return Part("outlet", "outlet", "Outlet", (("", "exhaust_outlet"), ("drop", f"exhaust_outlet_drop.{size}"), ("above roof", "stack_height"),
                                                ("sets together", "sets_discharging_together"), ("plume rises by", "plume_rise")))


def _opening(book: Book, item: str) -> Part:
    return Part(f"receptor-{item}", "louvre", named(book, "exhaust_receptor", item), (
        ("", f"receptor_kind.{item}"), ("distance", f"receptor_distance.{item}"), ("needed", f"separation_needed.{item}"),
        ("dilution", f"dilution_found.{item}"), ("asked", f"dilution_target.{item}")), "Openings near the outlet")
