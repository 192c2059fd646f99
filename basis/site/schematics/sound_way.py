"""The way of sound: from the machines through the room or a pipe to what is heard outdoors, and on to the receivers."""
from __future__ import annotations

import numpy as np

from basis.site.lanes import Line
from basis.site.schematic import Part, Plan, items, named, schematic, word
from basis.site.sounds import loudest, whole_name, wholes
from basis.solving.book import Book

MANY = 12  # of sources, and of receivers: the loudest, and those with least margin
MACHINES = {"engine_casing": "engine", "alternator": "set", "axial_fan": "fan", "propeller_fan": "fan", "exhaust_mouth": "outlet"}
SOURCES = {"opening": "louvre", "surface": "wall", "gap": "leak", "exhaust": "outlet", "duct": "duct"}
FROM_ROOM = ("opening", "surface", "gap")
LEFT_OUT = "Only the loudest sources and the receivers with least margin are drawn."


@schematic("The way of sound")
def sound_way(book: Book) -> Plan:
    """Machines in the room fill it with sound, which leaves through openings, surfaces and gaps; exhausts, ducts and machines outdoors are heard by
    themselves. Over the open all of it reaches every receiver. Levels are A-weighted."""
    if not items(book, "sound_source") or not items(book, "receiver") or "receiver_level" not in book.values:
        return Plan(none="no source or no receiver of sound is listed")
    if np.isnan(book["receiver_level"].number).all():
        return Plan(none="no level at a receiver is known")
    case, receiver = loudest(book)
    sources, receivers = _loud(book, case, receiver), _near(book)
    indoors = [one for one in items(book, "machine") if word(book, f"machine_place.{one}") == "in_room"]
    from_room = [one for one in sources if _kind(book, one) in FROM_ROOM]
    alone = [one for one in sources if one not in from_room]
    told = items(book, "running_case")[case], items(book, "receiver")[receiver]
    parts, lines = _room(book, told, indoors, from_room) if indoors or from_room else ([], [])
    for machine in dict.fromkeys(word(book, f"source_machine.{one}") for one in alone):
        parts += [_machine(book, machine)] if machine and machine not in indoors else []
        own = [one for one in alone if word(book, f"source_machine.{one}") == machine]
        parts += [_source(book, one, told) for one in own]
        lines += [Line((f"machine-{machine}",), tuple(f"source-{one}" for one in own), "sound")] if machine else []
    parts += [Part("open", "distance", "Over the open", (("paths", "sound_paths"), ("design margin", "noise_design_margin"))),
              *(_heard(book, told[0], one) for one in receivers)]
    lines += [Line(tuple(f"source-{one}" for one in sources), ("open",), "sound"), Line(("open",), tuple(f"receiver-{one}" for one in receivers), "sound")]
    judged = " against its limit" if items(book, "limit_period") else ""
    under = [f"Running case: {named(book, 'running_case', told[0])}. The plant is loudest{judged} at: {named(book, 'receiver', told[1])}."]
    drawn_all = len(sources) == len(wholes(book)) and len(receivers) == len(items(book, "receiver"))
    return Plan(tuple(parts), tuple(lines), under=(*under, *(() if drawn_all else (LEFT_OUT,))))


def _kind(book: Book, source: str) -> str:
    return word(book, f"source_kind.{source}")


def _loud(book: Book, case: int, receiver: int) -> list[str]:
    """The loudest sources at the loudest receiver, in the order of the list; points of one source count as one."""
    level = book["whole_level"].number[case, :, receiver]
    places = sorted(sorted(wholes(book), key=lambda place: -level[place])[:MANY])
    return [items(book, "sound_source")[place] for place in places]


def _near(book: Book) -> list[str]:
    """The receivers with least margin, in the order of the list."""
    listed = items(book, "receiver")
    if "level_margin" not in book.values or not book["level_margin"].number.size:
        return list(listed[:MANY])
    margin = np.nan_to_num(book["level_margin"].number, nan=np.inf).min(axis=1)
    return [listed[place] for place in sorted(np.argsort(margin, kind="stable")[:MANY])]


def _room(book: Book, told: tuple[str, str], indoors: list[str], from_room: list[str]) -> tuple[list[Part], list[Line]]:
    """The machines of the room, the room, and what is heard of it outdoors."""
    parts = [*(_machine(book, one) for one in indoors), Part("room", "room", "Room", (("reverberant level", f"room_level.{told[0]}"),)),
             *(_source(book, one, told) for one in from_room)]
    lines = [Line(tuple(f"machine-{one}" for one in indoors), ("room",), "sound")] if indoors else []
    lines += [Line(("room",), tuple(f"source-{one}" for one in from_room), "sound")] if from_room else []
    return parts, lines


def _machine(book: Book, machine: str) -> Part:
    place = "In the room" if word(book, f"machine_place.{machine}") == "in_room" else ""
    return Part(f"machine-{machine}", MACHINES.get(word(book, f"machine_kind.{machine}"), "source"), named(book, "machine", machine),
                (("sound power", f"machine_level.{machine}"), ("", f"machine_data.{machine}")), place)


def _source(book: Book, source: str, told: tuple[str, str]) -> Part:
    place = items(book, "sound_source").index(source)
    points, (case, receiver) = np.sum(book["source_whole"].number == place + 1), told
    name = whole_name(book, place)
    return Part(f"source-{source}", SOURCES.get(_kind(book, source), "source"), name[:1].upper() + name[1:], (
        ("sound power" if points == 1 else "sound power of one of its points", f"source_level.{case}.{source}"),
        ("at the loudest place", f"whole_level.{case}.{source}.{receiver}")))


def _heard(book: Book, case: str, receiver: str) -> Part:
    """A receiver with its level in the period of its least margin; in the running case where it has no limit."""
    periods = items(book, "limit_period")
    margins = [float(book["level_margin"].element(receiver, one).number) for one in periods] if "level_margin" in book.values else []
    shown = (("level", f"receiver_level.{case}.{receiver}"),)
    if margins and not np.isnan(margins).all():
        period = periods[int(np.nanargmin(margins))]
        shown = ((f"{named(book, 'limit_period', period)}:", f"rating_level.{receiver}.{period}"), ("limit", f"level_limit.{receiver}.{period}"),
                 ("margin", f"level_margin.{receiver}.{period}"))
    return Part(f"receiver-{receiver}", "receiver", named(book, "receiver", receiver), shown, "Receivers")
