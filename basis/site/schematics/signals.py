"""Control and signal runs between the places of the plant, and the network beside them."""
from __future__ import annotations

from basis.language.terms import terms
from basis.language.words import item_words
from basis.site.lanes import Line
from basis.site.schematic import Part, Plan, amount, items, named, schematic, word
from basis.solving.book import Book

CARRIED = ("network", "both")


@schematic("Control and signal runs")
def signals(book: Book) -> Plan:
    """Each place of the plant, and below it the runs that begin there; a run leads to the place at its other end. Runs alike, one for each set, are drawn
    once."""
    runs = items(book, "control_run")
    if not runs:
        return Plan(none="no control run is listed")
    places = [one for one in terms()["control_run_from"].choices if any(one in _ends(book, run) for run in runs) or one in _networked(book)]
    parts, lines = _network(book), []
    for place in places:
        parts.append(Part(f"place-{place}", "set" if place == "set" else "panel", item_words(place).capitalize()))
        own = [run for run in runs if _ends(book, run)[0] == place]
        parts += [_run(book, run) for run in own]
        lines += [Line((f"place-{place}",), tuple(f"run-{run}" for run in own), "signal")] if own else []
        to = tuple(f"run-{run}" for run in runs if _ends(book, run)[1] == place)
        lines += [Line(to, (f"place-{place}",), "signal")] if to else []
    if _networked(book):
        lines.append(Line(("network",), tuple(f"place-{place}" for place in places if place in _networked(book)), "network"))
    return Plan(tuple(parts), tuple(lines))


def _ends(book: Book, run: str) -> tuple[str, str]:
    return word(book, f"control_run_from.{run}"), word(book, f"control_run_to.{run}")


def _run(book: Book, run: str) -> Part:
    way = word(book, "wiring_method")
    return Part(f"run-{run}", "cable", named(book, "control_run", run), (
        ("", f"control_run_class.{run}"), ("runs alike", f"control_run_count.{run}"), ("length", f"control_run_length.{run}"),
        ("cores in use", f"control_run_cores.{run}.{way}"), ("of", f"control_run_conductor.{run}"), ("largest current", f"control_run_current.{run}"),
        ("may be as long as", f"control_run_length_max.{run}")))


def _networked(book: Book) -> set[str]:
    """Places between which the network carries signals; none where none is built."""
    if not amount(book, "design_networked") > 0:
        return set()
    carried = [one for one in items(book, "signal") if word(book, f"signal_path.{one}") in CARRIED]
    return {word(book, f"{end}.{one}") for one in carried for end in ("signal_from", "signal_to")}


def _network(book: Book) -> list[Part]:
    shown = (("stations", "network_stations"), ("cables", "network_cables"), ("length", "network_length"))
    return [Part("network", "cable", "Network", shown)] if _networked(book) else []
