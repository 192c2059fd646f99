"""Figures of fuel: what a set burns over its load, how long the store lasts, and how warm the day tank becomes over a run."""
from __future__ import annotations

import numpy as np

from basis.chapters.fuel.terms import RUN_MINUTES
from basis.site import figure as tools
from basis.site.figure import ALERT, INK, figure


@figure("fuel_curve", title="Fuel of one set over its load", terms=("fuel_point_load", "fuel_point_rate", "set_load", "case_fuel_rate", "full_load_fuel_rate"))
def fuel_curve(book):
    """The line joins the points of the data sheet by volume over load. The marked points are this site: full load and each running case,
    with the fuel adjustment of the site, so they may lie a little off the line. Nothing is drawn beyond the last point."""
    drawn, axes = tools.new_axes(5.2, 3.2)
    drawn.subplots_adjust(top=0.84)
    load, rate = tools.numbers(book["fuel_point_load"]), tools.numbers(book["fuel_point_rate"])
    order = np.argsort(load)
    axes.plot(load[order], rate[order], label="Data sheet", **tools.series(0))
    for number, case in enumerate(book.items["running_case"], start=1):
        style = {**tools.series(number), "linestyle": "none", "markersize": 7}
        axes.plot([tools.numbers(book["set_load"].element(case))], [tools.numbers(book["case_fuel_rate"].element(case))],
                  label=book.names["running_case"][case], **style)
    axes.plot([tools.numbers(book["set_site_power"])], [tools.numbers(book["full_load_fuel_rate"])], marker="*", markersize=11, color=INK,
              linestyle="none", label="Full load at the site")
    axes.set_xlim(left=0)
    axes.set_ylim(bottom=0)
    tools.name_axes(axes, x=tools.axis_name(book["set_load"]), y=f"Fuel of one set, {tools.unit_of(book['fuel_point_rate'])}")
    tools.legend(axes, ncols=2)
    return drawn


@figure("fuel_autonomy", title="How long the store lasts", terms=("full_load_autonomy", "case_autonomy"))
def fuel_autonomy(book):
    """One bar for each way to look at the same usable fuel: all supplied sets at full load, the largest demand of each running case
    without a pause, and, where the project lists a day, its real load hour by hour. The upright line is the autonomy required."""
    names, lasts = ["Full load"], [float(tools.numbers(book["full_load_autonomy"]))]
    for case in book.items["running_case"]:
        names.append(book.names["running_case"][case])
        lasts.append(float(tools.numbers(book["case_autonomy"].element(case))))
    if "autonomy" in book:
        names.append("Load of the day")
        lasts.append(float(tools.numbers(book["autonomy"])))
    drawn, axes = tools.new_axes(5.2, 0.9 + 0.34 * len(names))
    drawn.subplots_adjust(bottom=0.55 / (0.9 + 0.34 * len(names)))
    tools.bars(axes, names, np.nan_to_num(lasts))
    longest = np.nanmax(lasts)
    if "required_autonomy" in book:
        required = book["required_autonomy"]
        tools.limit_line(axes, tools.numbers(required), f"required {tools.told(required)}", upright=True)
        longest = max(longest, tools.numbers(required))
    axes.set_xlim(0, 1.3 * longest)
    tools.name_axes(axes, x=f"Autonomy, {tools.unit_of(book['full_load_autonomy'])}")
    return drawn


@figure("day_tank_temperature", title="Fuel in the day tank over a run at full load",
        terms=("day_tank_temperature", "day_tank_temperature_failed", "fuel_flash_point"))
def day_tank_temperature(book):
    """The first curve starts before a run on the hottest day and settles where cold make-up and walls carry off the heat that comes back.
    The second starts from there at the moment when transfer fails: less and less fuel takes the same heat, and the curve ends when the
    tank is empty. Lines across are the flash point and, where the engine's maker gives one, the temperature allowed at the engine."""
    drawn, axes = tools.new_axes(5.2, 3.1)
    hours = np.array(RUN_MINUTES) / 60
    axes.plot(hours, tools.numbers(book["day_tank_temperature"]), label="Transfer at work", **tools.series(0))
    failed = tools.numbers(book["day_tank_temperature_failed"])
    there = np.isfinite(failed)
    axes.plot(hours[there], failed[there], label="Transfer failed in a long run", **tools.series(1))
    flash = book["fuel_flash_point"]
    if "fuel_inlet_temperature_max" in book:
        limit = book["fuel_inlet_temperature_max"]
        tools.limit_line(axes, tools.numbers(limit), f"allowed at the engine {tools.told(limit)}")
    axes.axhline(tools.numbers(flash), color=ALERT, linewidth=0.9, linestyle=":")
    axes.annotate(f"flash point {tools.told(flash)}", (0.55, tools.numbers(flash)), xycoords=("axes fraction", "data"), xytext=(0, 3),
                  textcoords="offset points", ha="right", color=ALERT)
    axes.set_xlim(0, hours[-1])
    tools.name_axes(axes, x="Time of the run, h", y=tools.axis_name(book["day_tank_temperature"]))
    tools.legend(axes, ncols=2)
    return drawn
