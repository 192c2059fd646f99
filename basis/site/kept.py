"""What was made of a book the last time, by place: a figure, an entry of a sheet, a page. It is made again when something that it was made from has changed."""
from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

from basis.site.addresses import Addresses
from basis.site.page_data import PageData
from basis.site.read_tracker import Readings
from basis.solving.value import Value

Made = TypeVar("Made")


@dataclass(frozen=True)
class Kept:
    """What was made, what was read of the book for it, what else it was made from, and what it brings to its page."""

    made: object
    readings: Readings
    given: tuple
    data: PageData


def kept(addresses: Addresses, place: tuple, make: Callable[[Addresses], Made], *given) -> Made:
    """What stands at a place: as it was made before, if all that was read then reads the same and the same is `given` besides; else made now."""
    workshop = addresses.workshop
    if not workshop.keep:
        return make(addresses)
    before = workshop.kept.get(place)
    fits = before is not None and before.given == given and addresses.data.stands_here(before.data)
    if not fits or not addresses.main.answers.same(before.readings):
        readings: Readings = {}
        noting = replace(addresses, book=addresses.book.noting(readings), main=addresses.main.noting(readings), data=addresses.data.part())
        before = Kept(make(noting), readings, given, noting.data)
        workshop.kept[place] = before
    addresses.main.readings.update(before.readings)  # what this is a part of rests on the same
    addresses.data.add(before.data)
    return before.made


def of_value(addresses: Addresses, what: str, value: Value, make: Callable[[Addresses, Value], Made]) -> Made:
    """What is made of one Value of the chosen book: as it was made before while it is the very same object, which it stays until something of it moves.

    What refers to an item is made anew: it is told by the item's name.
    """
    workshop = addresses.workshop
    if not workshop.keep or value.term.refers_to:
        return make(addresses, value)
    before = workshop.kept.get((what, value.id))
    if before is None or before[0] is not value:
        before = workshop.kept[what, value.id] = value, make(addresses, value)
    return before[1]
