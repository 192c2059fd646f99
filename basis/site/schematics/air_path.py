"""Section of the air path: from outdoors through the intake into the room, through the fan and out again."""
from __future__ import annotations

from itertools import groupby

import numpy as np

from basis.site.lanes import Line
from basis.site.schematic import Part, Plan, amount, items, look, named, schematic, through, word
from basis.solving.book import Book

ROOM = "Room"
SERVES = {"each_set": "one for each set", "all_sets": "shared by all sets"}
LOOKS = (  # words in the name of an element, and the symbol of what they say
    (("louvre", "louver", "grille", "hood", "cowl"), "louvre"), (("damper", "shutter"), "damper"), (("silencer", "attenuator", "baffle"), "silencer"),
    (("filter",), "filter"), (("mesh", "screen", "guard"), "mesh"), (("duct", "plenum", "elbow", "bend", "turn", "shaft"), "duct"))


@schematic("Section of the air path")
def air_path(book: Book) -> Plan:
    """Air runs from above: from outdoors through each element of the intake, in the order of the project, into the room, which stands under the pressure of
    outdoors, then through the fan and the discharge. Symbols follow the names of the elements."""
    cases = items(book, "running_case")
    if not items(book, "air_element") or not cases or "external_restriction" not in book.values:
        return Plan(none="no element of an air path is listed")
    case = cases[int(np.argmax(book["external_restriction"].number))]
    intake, discharge = _side(book, case, "intake"), _side(book, case, "discharge")
    outdoors, leaves, room, aside, fan = _outdoors(book, case), _leaves(book, case), _room(book, case), _combustion(book, case), _fan(book, case)
    parts = [outdoors, *_flat(intake), room, *aside, *fan, *_flat(discharge), leaves]
    lines = (*through("air", [[outdoors.id]], *_ids(intake), [[room.id]]), Line((room.id,), tuple(part.id for part in (*aside, fan[0])), "air"),
             *through("air", [[part.id for part in fan]], *_ids(discharge), [[leaves.id]]))
    under = [f"Running case: {named(book, 'running_case', case)}, in which the building takes most pressure."]
    if word(book, "radiator_placement") == "remote":
        under.append("The radiators stand apart; their air is not in this path.")
    return Plan(tuple(parts), lines, under=tuple(under))


def _outdoors(book: Book, case: str) -> Part:
    return Part("outdoors", "outdoors", "Outdoors, hottest day",
                (("at", "outdoor_temperature_max"), ("enters", f"intake_airflow.{case}"), ("warmed by its own discharge to", f"intake_temperature.{case}")))


def _room(book: Book, case: str) -> Part:
    return Part("room", "room", "Room", (("sets running", f"running_sets.{case}"), ("heat", f"heat_to_room.{case}"), ("at", f"room_temperature.{case}"),
                                         ("under outdoors by", f"intake_pressure_drop.{case}")), ROOM)


def _combustion(book: Book, case: str) -> list[Part]:
    """Air of the engines, where they breathe from the room."""
    shown = (("each takes", "combustion_airflow"), ("restriction", f"combustion_intake_restriction.{case}"))
    return [Part("engine", "engine", "Combustion air of the engines", shown, ROOM)] if word(book, "combustion_air_source") == "from_room" else []


def _fan(book: Book, case: str) -> list[Part]:
    """The fan of each set, behind its radiator where that stands in the stream."""
    fan = Part("fan", "fan", "Fan of each set", (("moves", f"fan_airflow.{case}"), ("gives", f"fan_pressure.{case}"),
                                                  ("allowed", f"restriction_allowed_site.{case}")), ROOM)
    radiator = Part("radiator", "radiator", "Radiator of each set", (("air on", f"radiator_air_on_temperature.{case}"), ("heat", "radiator_heat")), ROOM)
    return [radiator, fan] if word(book, "radiator_placement") == "mounted" else [fan]


def _leaves(book: Book, case: str) -> Part:
    return Part("leaves", "outdoors", "Outdoors, at the discharge", (("leaves at", f"discharge_temperature.{case}"), ("wind against it", "wind_pressure"),
                                                                      ("whole restriction", f"external_restriction.{case}")))


def _side(book: Book, case: str, side: str) -> list[list[list[Part]]]:
    """The openings of one side in order: one step each, but those that share the flow side by side, which are branches of one step."""
    openings = [one for one in items(book, "opening") if word(book, f"opening_side.{one}") == side]
    found: list[list[list[Part]]] = []
    for beside, some in groupby(openings, key=lambda one: amount(book, f"opening_share.{one}") < 1):
        branches = [_elements(book, case, opening) for opening in some]
        found += [branches] if beside else [[branch] for branch in branches]
    return found


def _elements(book: Book, case: str, opening: str) -> list[Part]:
    """The elements in the path of an opening; the opening itself where none is listed."""
    name = named(book, "opening", opening)
    place = ", ".join(one for one in (name, SERVES.get(word(book, f"opening_serves.{opening}"), "")) if one)
    listed = [one for one in items(book, "air_element") if word(book, f"element_opening.{one}") == opening]
    itself = Part(f"opening-{opening}", "louvre", name, (("face", f"design_face_velocity.{opening}"),), place)
    return [_element(book, case, one, place) for one in listed] or [itself]


def _element(book: Book, case: str, item: str, place: str) -> Part:
    name = named(book, "air_element", item)
    shown = (("drop", f"element_pressure_drop.{case}.{item}"), ("sum so far", f"restriction_ladder.{case}.{item}"))
    return Part(f"element-{item}", look(name, LOOKS, "resistance"), name, shown, place)


def _flat(steps: list[list[list[Part]]]) -> list[Part]:
    return [part for step in steps for branch in step for part in branch]


def _ids(steps: list[list[list[Part]]]) -> list[list[list[str]]]:
    return [[[part.id for part in branch] for branch in step] for step in steps]
