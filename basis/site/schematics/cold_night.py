"""Warmth of the cold night: what heats blocks and room, and by which surfaces and gaps the heat leaves."""
from __future__ import annotations

from basis.site.lanes import Line
from basis.site.schematic import Part, Plan, amount, items, look, named, schematic, word
from basis.solving.book import Book

LOOKS = ((("door",), "door"), (("damper",), "damper"), (("louvre", "louver"), "louvre"), (("floor", "slab"), "ground"))


@schematic("Warmth of the cold night")
def cold_night(book: Book) -> Plan:
    """The sets stand, and it is as cold as in the design. From above: what heats, what is kept warm, the room, and the surfaces and the air by which its heat
    leaves."""
    way = word(book, "heating_case_chosen")
    if not way:
        return Plan(none="no way of heating is chosen")
    blocks, room, outdoors = _blocks(book, way), _room(way), Part("outdoors", "outdoors", "Outdoors, coldest day", (("at", "outdoor_temperature_min"),))
    heaters, into_room, leaving = _block_heaters(book, way), _room_heaters(book, way), [*_surfaces(book), _air(way)]
    lines = [Line((heaters[0].id,), (blocks.id,), "heat")] if heaters else []
    lines += [Line((blocks.id, *(part.id for part in into_room)), (room.id,), "heat"), Line((room.id,), tuple(part.id for part in leaving), "heat"),
              Line(tuple(part.id for part in leaving), (outdoors.id,), "heat")]
    if _straight(book, way):
        lines.append(Line((blocks.id,), (outdoors.id,), "heat"))
    return Plan((*heaters, blocks, *into_room, room, *leaving, outdoors), tuple(lines), under=(f"Way of heating: {named(book, 'heating_case', way)}.",))


def _block_heaters(book: Book, way: str) -> list[Part]:
    shown = (("of each set", f"heating_heater_power.{way}"),)
    return [Part("block_heaters", "heater", "Block heaters", shown)] if amount(book, f"heating_heater_power.{way}") > 0 else []


def _blocks(book: Book, way: str) -> Part:
    straight = (("and outdoors", f"heating_block_to_outdoors.{way}"),) if _straight(book, way) else ()
    return Part("blocks", "engine", "Blocks of the engines", (
        ("kept at", f"heating_design_block_temperature.{way}"), ("each gives the room", f"heating_block_to_room.{way}"), *straight))


def _straight(book: Book, way: str) -> bool:
    """Whether a block loses heat straight to outdoors."""
    return amount(book, f"heating_block_to_outdoors.{way}") > 0


def _room_heaters(book: Book, way: str) -> list[Part]:
    """Room heat and other heat, where there is any."""
    heater = Part("room_heater", "heater", "Room heat", (("installed", f"heating_room_heater_power.{way}"), ("gives", f"heating_design_room_heat.{way}")))
    other = Part("other_heat", "panel", "Other heat in the room", (("", "room_other_heat"),))
    return [part for part, asked in ((heater, f"heating_room_heater_power.{way}"), (other, "room_other_heat")) if amount(book, asked) > 0]


def _room(way: str) -> Part:
    return Part("room", "room", "Room", (("at", f"heating_design_room_temperature.{way}"), ("set point", f"heating_set_point.{way}"),
                                         ("loses in all", f"heating_room_conductance.{way}"), ("volume", "heated_room_volume")))


def _surfaces(book: Book) -> list[Part]:
    return [Part(f"surface-{item}", look(named(book, "room_surface", item), LOOKS, "wall"), named(book, "room_surface", item),
                 (("area", f"room_surface_area.{item}"), ("transmittance", f"room_surface_transmittance.{item}")), "What the heat passes")
            for item in items(book, "room_surface")]


def _air(way: str) -> Part:
    return Part("air", "leak", "Air through the shut room", (("flow", f"heating_airflow.{way}"), ("loses", f"heating_air_conductance.{way}")),
                "What the heat passes")
