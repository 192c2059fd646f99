"""What the one-line diagram draws: the network that the project lists or, where it lists none, the sets on one bus with the demand. Every number leads to
its working.
"""
from __future__ import annotations

import numpy as np

from basis.site.labels import label
from basis.site.paired import told
from basis.site.ranks import Bus, Link, Network, Part

SETS, TRANSFORMERS = 8, 4  # of a plant without a network; more than this are told in words


def _told(book, value_id: str, before: str = "") -> tuple[str, str]:
    """A number with what stands before it, and the id of its value."""
    return before + told(book[value_id]), value_id


# ---- without a network ----

def single_bus(book) -> Network:
    """Every set on one bus, transformers behind it where the project has any, and the demand."""
    count = int(book["installed_sets"].number)
    drawn = f"{SETS} of them drawn" if count > SETS else ""
    words = [_told(book, name) for name in ("generating_voltage", "power_frequency") if name in book]
    buses = {"sets": Bus("sets", label("bus", "Bus of the sets", *words, _told(book, "installed_sets", "sets: "), drawn), True)}
    parts = [Part("generator", "sets", label("part", f"Set {number}", _told(book, "set_rated_power"), _told(book, "set_rated_apparent_power")))
             for number in range(1, min(count, SETS) + 1)]
    links = ()
    if "transformer_need" in book and book["transformer_need"].number in ("step_up", "step_down") and "transformer_count" in book:
        buses["loads"] = Bus("loads", label("bus", "Bus of the loads", _told(book, "transformer_count", "transformers: ")), True)
        links = tuple(Link("transformer", "sets", "loads", label("transformer", f"T{number}"))
                      for number in range(1, min(int(book["transformer_count"].number), TRANSFORMERS) + 1))
    return Network(buses, links, (*parts, Part("onward", "loads" if links else "sets", label("part", "Demand", _told(book, "demand_power")))))


# ---- a network that is listed ----

def listed_network(book) -> Network:
    """All buses, transformers, cables, sets, supplies and motors of the project."""
    return Network(_buses(book), tuple(_transformers(book) + _cables(book)), tuple(_parts(book)))


def _items(book, axis: str):
    """Id and name of each item along an axis; nothing where the project lists none."""
    return [(item, book.names[axis][item]) for item in book.items.get(axis, ())]


def _buses(book) -> dict[str, Bus]:
    breakers = [(item, book["breaker_bus"].element(item).number) for item, _ in _items(book, "breaker")]
    found = {}
    for bus, name in _items(book, "bus"):
        here = [item for item, at in breakers if at == bus]
        words = [name, _told(book, f"bus_voltage.{bus}"), _told(book, f"largest_initial_current.{bus}", "I″k\u00a0"), *_ratings(book, here)]
        found[bus] = Bus(bus, label("bus", *words), bool(here))
    return found


def _ratings(book, breakers: list[str]) -> list[tuple[str, str]]:
    """Breaking ratings of the breakers of one bus, those that are given."""
    if "breaker_breaking_rating" not in book:
        return []
    return [_told(book, f"breaker_breaking_rating.{item}", "breakers ") for item in breakers
            if np.isfinite(book["breaker_breaking_rating"].element(item).number)]


def _service(book, value_id: str) -> str | tuple[str, str]:
    """When a link is closed, unless it always is."""
    return "" if book[value_id].number == "always" else _told(book, value_id, "only ")


def _transformers(book) -> list[Link]:
    found = []
    for item, name in _items(book, "transformer"):
        ends = (book[term].element(item).number for term in ("transformer_high_bus", "transformer_low_bus"))
        words = [name, _told(book, f"transformer_rating.{item}"), _told(book, f"transformer_impedance_voltage.{item}", "uk\u00a0"),
                 _service(book, f"transformer_service.{item}")]
        found.append(Link("transformer", *ends, label("transformer", *words)))
    return found


def _cables(book) -> list[Link]:
    found = []
    for item, name in _items(book, "feeder"):
        ends = (book[term].element(item).number for term in ("feeder_from_bus", "feeder_to_bus"))
        words = [name, _told(book, f"feeder_length.{item}"), _conductors(book, item), _service(book, f"feeder_service.{item}")]
        found.append(Link("feeder", *ends, label("feeder", *words)))
    return found


def _conductors(book, item: str) -> str | tuple[str, str]:
    """Size of the conductors of a phase, and how many there are where there are several."""
    size, parallel = book["feeder_size"].element(item), book["feeder_parallel"].element(item)
    several = f"{parallel.text()} × " if parallel.number > 1 else ""
    return _told(book, f"feeder_size.{item}", several) if size.text() else ""


def _parts(book) -> list[Part]:
    """Sets, supplies and motors, each with its bus and what it is rated for."""
    kinds = (("generator", "generator_bus", "generator_rated_apparent_power", ""), ("grid_infeed", "infeed_bus", "infeed_short_circuit_power", "S″k\u00a0"),
             ("motor_group", "motor_group_bus", "motor_group_power", ""))
    return [Part(axis, book[bus].element(item).number, label("part", name, _told(book, f"{rating}.{item}", before)))
            for axis, bus, rating, before in kinds for item, name in _items(book, axis)]
