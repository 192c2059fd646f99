"""Which numbers of a value moved between two records, by how much, and what is said of its inputs.

A record holds its numbers in full, since what was issued must be had back as it was; they are compared to nine digits only, since the last ones come of the
machine and its libraries and say nothing of the plant.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import isclose, isfinite

from basis.language.days import DAY_SECONDS
from basis.record.issued import APART, CELLS, INPUTS, IssuedValue, Part, Record

SAME, LEAST = 1e-9, 1e-15  # relative, and absolute in SI: what is less is rounding of another machine
NOT_GIVEN = "not given"  # as a record shows what has no number
BY_DIFFERENCE = ("K", "dB")  # units whose change is told as a difference
COMPUTED = "computed"
THIN = "\u202f"


@dataclass(frozen=True)
class Moved:
    """One number or word, before and now as shown, "" where it is not there. `change` in per cent, K or dB. Of an input its note and standing."""

    id: str
    old: str
    new: str
    change: str = ""
    number: bool = True  # whether the number itself moved, not only what is said of it
    note: str = ""
    old_standing: str = ""
    new_standing: str = ""
    in_si: tuple[str, str] = field(default=("", ""), compare=False)  # before and now, in full
    old_note: str = ""

    @property
    def seen(self) -> bool:
        """Whether the change is larger than what is shown."""
        return self.old != self.new

    @property
    def noted(self) -> str:
        """The note and, where it is another, what it was."""
        was = self.old_note and self.old_note != self.note
        return f"{self.note or 'none'} (was: {self.old_note})" if was else self.note

    @property
    def comes_by_default(self) -> bool:
        """Whether it is there on one side only, and the program has it: something has begun or ceased to ask for it."""
        return not (self.old and self.new) and bool({self.old_standing, self.new_standing} & {"default", "constant"})

    @property
    def is_input(self) -> bool:
        """Whether no formula yields it, on one side at least: it has a standing."""
        return bool(self.old_standing or self.new_standing)


def moved_of(value_id: str, old: Record, new: Record) -> Iterator[Moved]:
    """Elements of which the number moved, and inputs of which something else is said."""
    sides = old.values.get(value_id), new.values.get(value_id)
    if None not in sides and _plain(sides[0]) == _plain(sides[1]) and old.parts.get(value_id) == new.parts.get(value_id) and _same_lists(sides[0], old, new):
        return
    before, now = (_elements(value, record) if value else {} for value, record in zip(sides, (old, new)))
    units = [value.unit for value in sides if value]
    scale = max((abs(number) for one in (*before.values(), *now.values()) if one and isfinite(number := _float(one.number))), default=0.0)
    for element in dict.fromkeys((*now, *before)):
        was, is_ = before.get(element), now.get(element)
        if {part.shown for part in (was, is_) if part} <= {NOT_GIVEN, ""}:
            continue  # an item that is new has nothing here yet
        number = was is None or is_ is None or units[0] != units[-1] or differs(was.number, is_.number, scale if element else 0.0)
        if number or _said(was) != _said(is_):
            yield _one(f"{value_id}.{element}" if element else value_id, was, is_, number, units)


def _plain(value: IssuedValue) -> tuple:
    """What a value shows and what is said of it."""
    return value.shown, value.number, value.unit, value.origin, value.origin in INPUTS and (value.standing, value.note), value.over


def _same_lists(value: IssuedValue, old: Record, new: Record) -> bool:
    return all(old.lists.get(axis) == new.lists.get(axis) for axis in value.over.split())


def _elements(value: IssuedValue, record: Record) -> dict[str, Part]:
    """Each element with its unit and all that is said of it; one "" of a plain value."""
    if value.number or not value.over:
        return {"": Part("", value.shown, value.number, value.origin, value.standing, value.note)}
    found = {}
    axes = value.over.split()
    for part in record.parts.get(value.id, ()):
        origin, standing = part.origin or value.origin, part.standing or value.standing
        rows = part.element.count(".") + 1 < len(axes)
        last = record.lists.get(axes[-1], ()) if rows else ("",)
        shown, numbers = (part.shown.split(APART), part.number.split(CELLS)) if rows else ([part.shown], [part.number])
        for item, one, number in zip(last, shown, numbers):
            told = f"{one} {value.shown}".strip() if isfinite(_float(number)) else one  # words have no unit
            found[f"{part.element}.{item}" if item else part.element] = Part("", told, number, origin, standing, part.note)
    return found


def _said(part: Part | None) -> tuple:
    """What is said of an input."""
    return (part.origin, part.standing, part.note) if part and part.origin in INPUTS else ()


def _one(value_id: str, was: Part | None, is_: Part | None, number: bool, units: list[str]) -> Moved:
    inputs = [part for part in (was, is_) if part and part.origin in INPUTS]
    standings = ((part.standing or part.origin if part in inputs else COMPUTED) if part and inputs else "" for part in (was, is_))
    change = _change(was.number, is_.number, units[-1]) if was and is_ and number and units[0] == units[-1] else ""
    return Moved(value_id, was.shown if was else "", is_.shown if is_ else "", change, number, inputs[-1].note if inputs else "", *standings,
                 (was.number if was else "", is_.number if is_ else ""), was.note if was in inputs else "")


def _float(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")


def differs(old: str, new: str, scale: float) -> bool:
    """Whether two numbers differ by more than machines do, or two words at all."""
    if old == new:
        return False
    try:
        return not isclose(float(old), float(new), rel_tol=SAME, abs_tol=max(LEAST, SAME * scale))
    except ValueError:
        return True


def _change(old: str, new: str, unit: str) -> str:
    """The difference of levels and temperatures, of other numbers the share of the old one."""
    before, now = _float(old), _float(new)
    if unit == "date":
        return _signed((now - before) / DAY_SECONDS, "d")
    if not (isfinite(before) and isfinite(now)) or before == 0 and unit not in BY_DIFFERENCE:
        return ""
    return _signed(now - before, unit) if unit in BY_DIFFERENCE else _signed(100 * (now - before) / abs(before), "%")


def _signed(number: float, unit: str) -> str:
    size = abs(number)
    shown = "less than 0.001" if size < 0.001 else f"{size:.3g}" if size < 999.5 else f"{size:,.0f}".replace(",", THIN)
    return f"{'+' if number > 0 else '−'}{shown} {unit}" if size >= 0.001 else f"{shown} {unit}"
