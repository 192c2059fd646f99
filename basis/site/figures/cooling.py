"""Figures of cooling: where the fuel's heat goes, and what gives out first as the day gets hotter."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import figure

PARTS = (("engine_shaft_power", "Shaft"), ("exhaust_gas_heat", "Exhaust"), ("jacket_heat", "Jacket water and oil"),
         ("charge_air_heat", "Charge air"), ("engine_heat_to_room", "Engine to room"), ("balance_residual", "Residual"))
LIMITS = {"coolant": "Coolant, first loop", "boiling": "Coolant boils", "room_air": "Room, alternator and switchgear", "set_derating": "Rating of the set"}
ROW = 0.32       # inches a bar
MARGINS = 1.05   # inches above and below the bars


@figure("energy_balance", title="Where the heat of the fuel goes, one set at full load",
        terms=("fuel_heat_flow", *(name for name, _ in PARTS), "shaft_share", "exhaust_share", "jacket_share", "charge_air_share", "engine_room_share"))
def energy_balance(book):
    """One bar for each way by which the fuel's heat leaves the engine, placed end to end as far as the upright line, which is the heat of
    the fuel. The last bar is the residual: what the line and the bars before it leave open."""
    heats = [float(tools.numbers(book[name])) for name, _ in PARTS]
    starts = np.concatenate([[0.0], np.cumsum(heats)[:-1]])
    names = [name for _, name in PARTS]
    height = MARGINS + ROW * len(names)
    drawn, axes = tools.new_axes(5.6, height)
    drawn.subplots_adjust(top=1 - 0.3 / height, bottom=0.6 / height)
    tools.bars(axes, names, heats, left=starts)
    fuel = book["fuel_heat_flow"]
    whole = float(tools.numbers(fuel))
    tools.limit_line(axes, whole, f"fuel {tools.told(fuel)}", upright=True)
    axes.set_xlim(0, 1.25 * whole)
    for place, (start, heat, part) in enumerate(zip(starts, heats, PARTS)):
        tools.write_at_bar(axes, start, start + heat, place, tools.told(fuel, book[part[0]].number), whole)
    tools.name_axes(axes, x=tools.axis_name(fuel, "Heat flow"))
    return drawn


@figure("limiting_ambients", title="What gives out first as the day gets hotter",
        terms=("ambient_limit_temperature", "limiting_ambient", "boiling_ambient", "outdoor_temperature_max", "ambient_margin"))
def limiting_ambients(book):
    """One bar for each limit, from the hottest day of the design to the outdoor temperature at which it is reached; the earliest stands on
    top. A bar to the left of the line is a limit that the design day already passes."""
    found = sorted(_limits(book), key=lambda one: one[1])
    design = book["outdoor_temperature_max"]
    day = float(tools.numbers(design))
    names = [name for name, _, _ in found]
    height = MARGINS + ROW * max(len(names), 1)
    drawn, axes = tools.new_axes(5.6, height)
    drawn.subplots_adjust(top=1 - 0.3 / height, bottom=0.6 / height)
    tools.bars(axes, names, [at - day for _, at, _ in found], left=day)
    for place, (_, at, text) in enumerate(found):
        tools.write_at_bar(axes, at, day, place, text)
    tools.limit_line(axes, day, "", upright=True)
    ends = [day, *(at for _, at, _ in found)]
    span = max(ends) - min(ends) or 1.0
    axes.set_xlim(min(ends) - 0.08 * span, max(ends) + 0.22 * span)
    axes.annotate(f"hottest day {tools.told(design)}", (day, 1.0), xycoords=("data", "axes fraction"), xytext=(0, 4), textcoords="offset points",
                  color=tools.ALERT, ha="left", va="bottom")
    tools.name_axes(axes, x=tools.axis_name(design, "Outdoor temperature"))
    return drawn


def _limits(book) -> list[tuple[str, float, str]]:
    """Name, place and text of each limit that could be computed; every loop by itself, in its worst running case."""
    found = []
    if "ambient_limit_temperature" in book:
        limits = book["ambient_limit_temperature"]
        found += [(LIMITS[item], limits.element(item)) for item in book.items["ambient_limit"] if item != "coolant"]
    if "limiting_ambient" in book:
        loops, cases = book["limiting_ambient"], book.items["running_case"]
        for item in book.items["coolant_loop"]:
            worst = min((loops.element(case, item) for case in cases), key=lambda one: one.number)
            found.append((f"Coolant, {book.names['coolant_loop'][item]}", worst))
    return [(name, float(tools.numbers(value)), tools.told(value)) for name, value in found if not np.isnan(value.number)]
