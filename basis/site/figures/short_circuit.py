"""Figures of the short circuit: how the current of the sets dies down, beside what breakers break and relays start on; the network as a one-line diagram."""
from __future__ import annotations

import numpy as np
from matplotlib.ticker import FixedLocator, FuncFormatter, NullLocator

from basis.language import units
from basis.site import figure as tools
from basis.site import one_line
from basis.site.figure import figure
from basis.site.network import listed_network

MARKED_TIMES = (0, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000)  # ms
STEPS = (1, 2, 5)  # of each decade of current


@figure("decrement", title="Decay of the current of the sets",
        terms=("time_after_fault", "set_current_unforced", "set_current_forced", "plant_current_forced"))
def decrement(book):
    """Symmetrical current into a fault at the bus of the sets, over the time after its start, both axes in decades. One set falls to a fraction of rated
    current if its excitation is left alone and settles at the sustained current if it is forced; the upper lines are the sets that run in a case together.
    Level lines are the breaking capacity of breakers at that bus and the setting of the set breaker."""
    times = tools.numbers(book["time_after_fault"])
    drawn, axes = tools.new_axes(6.0, 3.9)
    drawn.subplots_adjust(top=0.78, right=0.97)
    lines = [("one set, not forced", tools.numbers(book["set_current_unforced"])), ("one set, forced", tools.numbers(book["set_current_forced"]))]
    plant = tools.numbers(book["plant_current_forced"])
    lines += [(book.names["running_case"][case], plant[place]) for place, case in enumerate(book.items["running_case"])]
    for number, (name, current) in enumerate(lines):
        axes.plot(times, current, label=name, **tools.series(number))
    levels = _levels(book)
    for level, name in levels:
        tools.limit_line(axes, level, name)
    _decades(axes, [*np.concatenate([current for _, current in lines]), *(level for level, _ in levels)])
    tools.name_axes(axes, x=f"Time after the start of the fault, {tools.unit_of(book['time_after_fault'])}",
                    y=f"Current, {tools.unit_of(book['set_current_forced'])}")
    tools.legend(axes, ncols=2)
    return drawn


def _levels(book) -> list[tuple[float, str]]:
    """Breaking capacity of the breakers at a bus of sets, and the setting of the set breaker, in the unit of the current."""
    buses = set(book["generator_bus"].number)
    found = []
    if "breaker_breaking_rating" in book:
        ratings = tools.numbers(book["breaker_breaking_rating"])
        found += [(float(ratings[place]), book.names["breaker"][item].lower()) for place, item in enumerate(book.items["breaker"])
                  if book["breaker_bus"].number[place] in buses and np.isfinite(ratings[place])]
    if "set_pickup" in book:
        found.append((units.from_si(book["set_pickup"].number, book["set_current_forced"].term.si_unit), "setting of the set breaker"))
    return found


def _decades(axes, currents) -> None:
    """Time evenly up to ten milliseconds, then in decades; current in decades with few marks."""
    axes.set_xscale("symlog", linthresh=10, linscale=0.4)
    axes.set_yscale("log")
    low, high = np.floor(np.log10(min(currents) * 0.9)), np.log10(max(currents) * 1.4)
    marks = [step * 10.0**decade for decade in range(int(low), int(high) + 1) for step in STEPS]
    axes.set_ylim(min(currents) * 0.8, max(currents) * 1.5)
    axes.set_xlim(0, MARKED_TIMES[-1])
    for axis, places in ((axes.xaxis, MARKED_TIMES), (axes.yaxis, marks)):
        axis.set_major_locator(FixedLocator(places))
        axis.set_major_formatter(FuncFormatter(lambda place, _: f"{place:g}"))
        axis.set_minor_locator(NullLocator())


@figure("network_one_line", title="One-line diagram of the network", letters=11.0,
        terms=("bus_voltage", "largest_initial_current", "generator_rated_apparent_power", "transformer_rating", "transformer_impedance_voltage",
               "feeder_length",
               "infeed_short_circuit_power", "motor_group_power"))
def network_one_line(book):
    """Buses are thick bars, each with its nominal voltage, the largest initial short-circuit current I″k and the breaking rating of its breakers. Sets (G)
    and public
    supplies (crossed squares) stand above their bus, motors that feed back (M) hang below it; the further from the sets, the lower the bus. Between buses stand
    transformers with rating and impedance voltage uk, and cables with length and conductors. Circuits leave through circuit-breakers where the project
    lists breakers
    for the bus. Symbols are those of IEC 60617."""
    return one_line.draw(listed_network(book))
