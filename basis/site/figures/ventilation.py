"""Figure of ventilation: the restriction ladder, from the weather louvre to the outlet louvre and the wind."""
from __future__ import annotations

import numpy as np

from basis.site import figure as tools
from basis.site.figure import FAINT, INK, figure

LINE_HEIGHT = 0.3    # inches a row
MARGINS = 1.1       # inches above and below the rows


@figure("restriction_ladder", title="Restriction ladder from weather louvre to outlet",
        terms=("design_pressure_drop", "intake_pressure_drop", "external_restriction", "restriction_allowed_site", "restriction_ladder"))
def restriction_ladder(book):
    """From top to bottom the air passes one element after the other; each running case is one line, whose distance from the left is
    the sum of drops so far. The line across marks the room, which stands under outdoor pressure by the sum at that place. The last
    row adds the wind. The upright line is what the fan allows in the air of the room."""
    items, cases = book.items["air_element"], book.items["running_case"]
    names = ["Outdoors", *(book.names["air_element"][item] for item in items), "Wind on discharge"]
    height = MARGINS + LINE_HEIGHT * len(names)
    drawn, axes = tools.new_axes(5.6, height)
    drawn.subplots_adjust(top=1 - 0.45 / height, bottom=0.55 / height)
    tools.bars(axes, names, np.zeros(len(names)))
    for number, case in enumerate(cases):
        tops = [tools.numbers(book["external_restriction"].element(case))]
        sums = [0.0, *(tools.numbers(book["restriction_ladder"].element(case, item)) for item in items), *tops]
        axes.plot(sums, range(len(names)), label=book.names["running_case"][case], **tools.series(number))
    _room(axes, book, items)
    worst = int(np.argmin(book["restriction_allowed_site"].number))
    allowed = book["restriction_allowed_site"].element(cases[worst])
    tools.limit_line(axes, tools.numbers(allowed), f"allowed {tools.told(allowed)}", upright=True)
    axes.set_xlim(0, 1.35 * max(tools.numbers(allowed), axes.get_xlim()[1]))
    tools.name_axes(axes, x=f"{book['restriction_ladder'].term.name}, {tools.unit_of(book['restriction_ladder'])}")
    tools.legend(axes, ncols=2)
    return drawn


def _room(axes, book, items) -> None:
    """The place of the room in the ladder, with its greatest under-pressure."""
    sides = [book["opening_side"].element(book["element_opening"].element(item).number).number for item in items]
    place = sides.count("intake") + 0.5
    axes.axhline(place, color=FAINT, linewidth=1.2, linestyle="-")
    axes.annotate(f"Room, {tools.told(book['design_room_depression'])} under outdoors", (0.0, place), xycoords=("axes fraction", "data"),
                  xytext=(-4, 0), textcoords="offset points", ha="right", va="center", color=INK, fontsize=8, fontstyle="italic")
