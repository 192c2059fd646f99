"""Figure of the cables as installed: how far each is loaded, one bar a cable."""
from __future__ import annotations

from basis.site import figure as tools
from basis.site.figure import figure

GOVERNED = {"current": 0, "short_circuit": 1, "both": 4, "unknown": 2}   # what governs -> hatch
WORDS = {"current": "current governs", "short_circuit": "short circuit governs", "both": "both ask for the same size", "unknown": "fault not known"}


@figure("cable_loading", title="Design current of each cable against its capacity",
        terms=("cable_design_current", "cable_capacity", "cable_loading", "cable_governed_by"))
def cable_loading(book):
    """One bar a cable: design current over capacity as laid, with the limit at the full capacity. The hatch tells whether load current or short circuit
    asked for
    the larger conductor; a short bar with the hatch of short circuit is a cable that is thick because of the fault, not of the load."""
    loading, governed = book["cable_loading"], book["cable_governed_by"]
    ids = book.items["cable"]
    names = [book.names["cable"][item] for item in ids]
    numbers = [float(number) for number in tools.numbers(loading)]
    height = 1.0 + 0.3 * len(ids)
    drawn, axes = tools.new_axes(5.8, height)
    tools.bars(axes, names, [0.0] * len(ids))
    for word, hatch in GOVERNED.items():
        places = [place for place, item in enumerate(ids) if governed.element(item).number == word]
        if places:
            axes.barh(places, [numbers[place] for place in places], height=0.62, label=WORDS[word], **tools.filled(hatch))
    for place, item in enumerate(ids):
        axes.annotate(tools.told(loading.element(item)), (1.0, place), xycoords=("axes fraction", "data"), ha="right", va="center")
    tools.limit_line(axes, 100, "", upright=True)
    tools.name_axes(axes, x=tools.axis_name(loading))
    axes.set_xlim(0, max(125.0, *(1.25 * number for number in numbers if number == number)))
    tools.legend(axes, ncols=2)
    drawn.subplots_adjust(right=0.97, top=1 - 0.42 / height, bottom=0.46 / height)
    return drawn
