"""What pictures of the noise share: sources that were split over points as one, and who hears the plant most."""
from __future__ import annotations

import numpy as np

from basis.language.terms import terms


def loudest(book) -> tuple[int, int]:
    """Places of the running case and of the receiver at which the plant is loudest against the limit."""
    level = book["receiver_level"].number - book["receiver_limit_difference"].number
    case, receiver = np.unravel_index(np.nanargmax(level), level.shape)
    return int(case), int(receiver)


def wholes(book) -> list[int]:
    """Place of the first point of each source."""
    return sorted({int(number) - 1 for number in book["source_whole"].number})


def whole_name(book, place: int) -> str:
    """A source by its own name; one that was split over points by what they share: opening, wall or machine."""
    item = book.items["sound_source"][place]
    if np.sum(book["source_whole"].number == place + 1) == 1:
        return book.names["sound_source"][item]
    shared = {"opening": ("source_opening",), "surface": ("source_surface",), "duct": ("source_machine", "source_opening")}
    asked = shared.get(book["source_kind"].element(item).number, ("source_machine",))
    return ", ".join(book.names[terms()[name].refers_to][book[name].element(item).number] for name in asked)
