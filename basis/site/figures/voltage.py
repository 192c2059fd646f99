"""Figure of the generating voltage: current, conductors per phase and copper, one bar an option."""
from __future__ import annotations

from basis.site import figure as tools
from basis.site.figure import figure
from basis.solving.book import overlays

PANELS = (("set_rated_current", 2), ("conductors_per_phase", 0), ("generator_cable_copper_mass", 1))   # term, hatch


@figure("conductors_by_voltage", title="Current, parallel conductors and copper by generating voltage",
        terms=("generating_voltage", "set_rated_current", "conductors_per_phase", "conductor_area", "generator_cable_copper_mass"))
def conductors_by_voltage(book):
    """For each voltage looked at, the rated current of a set, the parallel conductors of each phase of a set, and the copper of all generator cables. The
    bar of the chosen voltage carries the word chosen; the options table gives the numbers of every bar."""
    names, books = zip(*_options(book))
    height = 0.95 + 0.5 * len(names)
    drawn, axes = tools.new_axes(7.2, height, columns=len(PANELS), sharey=True)
    for panel, (term_id, hatch) in zip(axes, PANELS):
        values = [option[term_id] for option in books]
        numbers = [float(tools.numbers(value)) for value in values]
        tools.bars(panel, names, numbers, hatch)
        for place, value in enumerate(values):
            panel.annotate(tools.told(value), (numbers[place], place), xytext=(3, 0), textcoords="offset points", va="center")
        tools.name_axes(panel, x=tools.axis_name(values[0]))
        panel.set_xlim(0, max(numbers) * 1.5)
    drawn.subplots_adjust(right=0.98, top=0.96, bottom=0.46 / height, wspace=0.12)
    return drawn


def _options(book) -> list[tuple]:
    """(name, Book) of each voltage that was looked at; the book itself when the project has no such decision."""
    decision = next((one for one in book.project.decisions if "generating_voltage" in overlays(one)), None)
    if decision is None:
        return [(tools.told(book["generating_voltage"]), book)]
    found = [(f"{option.name}, chosen" if option.id == decision.chosen else option.name, book.options.get((decision.id, option.id), book))
             for option in decision.options]
    return [(name, option) for name, option in found if all(term_id in option for term_id, _ in PANELS)]
