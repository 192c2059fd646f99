"""What has changed between two records, and because of what: verdicts, inputs, results. Reads records alone, so that two issues can be compared
without solving either; knows neither chapters nor units.

Every moved result is followed upstream through what moved too, to the inputs, formulas and rows of tables that changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from math import isclose, isfinite

from basis.record.issued import APART, CELLS, INPUTS, Head, IssuedValue, Part, Record

SAME, LEAST = 1e-9, 1e-15  # relative, and absolute in SI: what is less is rounding of another machine
BY_DIFFERENCE = ("K", "dB")  # units whose change is told as a difference
WORSE = ("tight", "undecided", "fails")  # than what holds, has nothing to check or is not made; mildest first
COMPUTED = "computed"
THIN = "\u202f"


@dataclass(frozen=True)
class Cause:
    """What a change is laid to. `kind`: input, default, formula, table, list, chapter or program; `old` and `new` as shown, "" where there is none."""

    kind: str
    id: str
    old: str = ""
    new: str = ""


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

    @property
    def seen(self) -> bool:
        """Whether the change is larger than what is shown."""
        return self.old != self.new


@dataclass(frozen=True)
class MovedValue:
    """A value of which numbers moved: the elements that did, and what that is laid to."""

    id: str
    chapter: str
    numbers: tuple[Moved, ...]
    because: tuple[Cause, ...] = ()


@dataclass(frozen=True)
class MovedCheck:
    """A check whose verdict turned or whose margin moved; the word is empty where it is not made."""

    id: str
    chapter: str
    old: str
    new: str
    old_margin: str
    new_margin: str
    element: str
    because: tuple[Cause, ...] = ()

    @property
    def turned(self) -> bool:
        """Whether the verdict is another."""
        return self.old != self.new

    @property
    def worse(self) -> bool:
        """Whether the verdict is a worse one."""
        return _rank(self.new) > _rank(self.old)


@dataclass(frozen=True)
class Comparison:
    """All that differs between two records; `old` and `new` say which."""

    old: Head
    new: Head
    checks: tuple[MovedCheck, ...]
    decisions: tuple[Moved, ...]
    lists: tuple[Cause, ...]
    inputs: tuple[MovedValue, ...]
    results: dict[str, tuple[MovedValue, ...]]  # by chapter, in reading order
    chapters: dict[str, str] = field(default_factory=dict)  # id -> title

    @property
    def turned(self) -> tuple[MovedCheck, ...]:
        """Checks whose verdict is another, the worse ones first."""
        return tuple(sorted((check for check in self.checks if check.turned), key=lambda check: _rank(check.old) - _rank(check.new)))

    @property
    def worse(self) -> tuple[MovedCheck, ...]:
        """Checks whose verdict is a worse one."""
        return tuple(check for check in self.checks if check.worse)

    @property
    def moved(self) -> int:
        """How many numbers are shown otherwise, inputs among them."""
        values = (*self.inputs, *(value for values in self.results.values() for value in values))
        return sum(one.seen and one.number for value in values for one in value.numbers)

    @property
    def nothing(self) -> bool:
        """Whether nothing differs."""
        return not (self.checks or self.decisions or self.lists or self.inputs or self.results)


def _rank(word: str) -> int:
    return WORSE.index(word) + 1 if word in WORSE else 0


def title(head: Head) -> str:
    """Which state a record holds, in words."""
    if head.number:
        return f"revision {head.revision} of {head.date}"
    return f"commit {head.revision} of {head.date}" if head.revision else "the text as it stands"


def compare(old: Record, new: Record) -> Comparison:
    """What has changed from one record to another of the same project."""
    moved = {value_id: found for value_id in dict.fromkeys((*new.values, *old.values)) if (found := tuple(_moved(value_id, old, new)))}
    given = {value_id: tuple(one for one in found if _is_given(one)) for value_id, found in moved.items()}
    computed = {value_id: tuple(one for one in found if not _is_given(one)) for value_id, found in moved.items()}
    why = _Causes(old, new, moved)
    chapters = {chapter.id: chapter.title for chapter in (*new.chapters, *old.chapters)}
    results = {chapter: tuple(MovedValue(value_id, chapter, found, why.of((value_id,))) for value_id, found in computed.items()
                              if found and _either(value_id, old, new).chapter == chapter) for chapter in chapters}
    return Comparison(old.head, new.head, tuple(_checks(old, new, why)), tuple(_decisions(old, new)), tuple(_lists(old, new)),
                      tuple(MovedValue(value_id, _either(value_id, old, new).chapter, found) for value_id, found in given.items() if found),
                      {chapter: values for chapter, values in results.items() if values}, chapters)


# -- numbers ----------------------------------------------------------------------------------------------------------


def _either(value_id: str, old: Record, new: Record) -> IssuedValue:
    return new.values.get(value_id) or old.values[value_id]


def _moved(value_id: str, old: Record, new: Record) -> Iterator[Moved]:
    """Elements of which the number moved, and inputs of which something else is said."""
    sides = old.values.get(value_id), new.values.get(value_id)
    if None not in sides and _plain(sides[0]) == _plain(sides[1]) and old.parts.get(value_id) == new.parts.get(value_id) and _same_lists(sides[0], old, new):
        return
    before, now = (_elements(value, record) if value else {} for value, record in zip(sides, (old, new)))
    units = [value.unit for value in sides if value]
    scale = max((abs(number) for one in (*before.values(), *now.values()) if one and isfinite(number := _float(one.number))), default=0.0)
    for element in dict.fromkeys((*now, *before)):
        was, is_ = before.get(element), now.get(element)
        number = was is None or is_ is None or units[0] != units[-1] or _differs(was.number, is_.number, scale if element else 0.0)
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
            found[f"{part.element}.{item}" if item else part.element] = Part("", f"{one} {value.shown}".strip(), number, origin, standing, part.note)
    return found


def _said(part: Part | None) -> tuple:
    """What is said of an input."""
    return (part.origin, part.standing, part.note) if part and part.origin in INPUTS else ()


def _one(value_id: str, was: Part | None, is_: Part | None, number: bool, units: list[str]) -> Moved:
    inputs = [part for part in (was, is_) if part and part.origin in INPUTS]
    standings = ((part.standing or part.origin if part in inputs else COMPUTED) if part and inputs else "" for part in (was, is_))
    change = _change(was.number, is_.number, units[-1]) if was and is_ and number and units[0] == units[-1] else ""
    return Moved(value_id, was.shown if was else "", is_.shown if is_ else "", change, number, inputs[-1].note if inputs else "", *standings)


def _is_given(moved: Moved) -> bool:
    """Whether it is an input, on one side at least: it has a standing."""
    return bool(moved.old_standing or moved.new_standing)


def _float(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")


def _differs(old: str, new: str, scale: float) -> bool:
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
    if not (isfinite(before) and isfinite(now)) or before == 0 and unit not in BY_DIFFERENCE:
        return ""
    return _signed(now - before, unit) if unit in BY_DIFFERENCE else _signed(100 * (now - before) / abs(before), "%")


def _signed(number: float, unit: str) -> str:
    size = abs(number)
    shown = "less than 0.001" if size < 0.001 else f"{size:.3g}" if size < 999.5 else f"{size:,.0f}".replace(",", THIN)
    return f"{'+' if number > 0 else '−'}{shown} {unit}" if size >= 0.001 else f"{shown} {unit}"


# -- verdicts, decisions, lists ---------------------------------------------------------------------------------------


def _checks(old: Record, new: Record, why: _Causes) -> Iterator[MovedCheck]:
    for check_id in dict.fromkeys((*new.checks, *old.checks)):
        was, is_ = old.checks.get(check_id), new.checks.get(check_id)
        words = [side.verdict if side else "" for side in (was, is_)]
        if words[0] != words[1] or _differs(was.margin, is_.margin, 1e-3):  # a margin is a share of one, or of some K or dB
            told = is_ or was
            sides = dict.fromkeys(name for side in (was, is_) if side for name in side.sides.split())
            yield MovedCheck(check_id, told.chapter, *words, *(side.margin_shown if side else "" for side in (was, is_)), told.element, why.of(sides))


def _decisions(old: Record, new: Record) -> Iterator[Moved]:
    before, now = ({one.decision: one for one in record.decisions} for record in (old, new))
    for name in dict.fromkeys((*now, *before)):
        was, is_ = before.get(name), now.get(name)
        if was is None or is_ is None or was.option != is_.option:
            yield Moved(name, was.name if was else "", is_.name if is_ else "")


def _lists(old: Record, new: Record) -> Iterator[Cause]:
    """Lists with the items that are gone and those that are new."""
    for axis in dict.fromkeys((*new.lists, *old.lists)):
        before, now = old.lists.get(axis, ()), new.lists.get(axis, ())
        if set(before) != set(now):
            yield Cause("list", axis, ", ".join(item for item in before if item not in now), ", ".join(item for item in now if item not in before))


# -- because of -------------------------------------------------------------------------------------------------------


class _Causes:
    """What each moved value is laid to. Sets of causes are whole numbers, a bit a cause, so that following thousands of values upstream costs little."""

    def __init__(self, old: Record, new: Record, moved: dict[str, tuple[Moved, ...]]):
        self.old, self.new, self.moved = old, new, {value_id: found for value_id, found in moved.items() if any(one.number for one in found)}
        self.causes: dict[Cause, int] = {}
        self.rows = _changed_rows(old, new)
        self.lists = {cause.id: cause for cause in _lists(old, new)}
        self.inputs = {value_id: self._upstream(value_id) for value_id in self.moved}
        self.found = {value_id: self._bits(self._own(value_id)) for value_id in self.moved}
        self._follow(list(self.moved))
        self._fall_back()

    def of(self, value_ids: Iterable[str]) -> tuple[Cause, ...]:
        """What these values are laid to together; the program where nothing is found."""
        together = 0
        for value_id in value_ids:
            together |= self.found.get(value_id, 0)
        return tuple(cause for cause, bit in self.causes.items() if together & bit) or (self._program(),)

    def _upstream(self, value_id: str) -> tuple[str, ...]:
        """Ids of the moved values that it takes, in either record."""
        taken = dict.fromkeys(name for side in self._sides(value_id) for name in side.inputs.split())
        return tuple(name for name in taken if name in self.moved)

    def _sides(self, value_id: str) -> list[IssuedValue]:
        return [record.values[value_id] for record in (self.old, self.new) if value_id in record.values]

    def _bits(self, causes: Iterable[Cause]) -> int:
        found = 0
        for cause in causes:
            found |= self.causes.setdefault(cause, 1 << len(self.causes))
        return found

    def _follow(self, value_ids: list[str]) -> None:
        """Take over the causes of what is upstream until nothing is added; two programs may disagree on what is upstream of what, so there may be circles."""
        added = True
        while added:
            added = False
            for value_id in value_ids:
                have = self.found[value_id]
                for name in self.inputs[value_id]:
                    have |= self.found[name]
                added, self.found[value_id] = added or have != self.found[value_id], have

    def _own(self, value_id: str) -> Iterator[Cause]:
        """What changed in the value itself: an input, its formula, a row of a table that it reads."""
        sides, kind = self._sides(value_id), self._kind(value_id)
        given = [one for one in self.moved[value_id] if one.number and _is_given(one)]
        if kind == "default" and len(sides) == 1:
            return  # the program had it before; something has begun or ceased to ask for it
        if len(given) == 1:
            yield Cause(kind, given[0].id, given[0].old, given[0].new)
        elif given:
            yield Cause(kind, value_id, "", f"{len(given)} elements")
        if len(sides) == 2:
            if all(side.maker for side in sides) and sides[0].maker != sides[1].maker:
                yield Cause("formula", value_id, sides[0].how, sides[1].how)
            for table in sides[1].tables.split():
                yield from self.rows.get(table, ()) if table in sides[0].tables.split() else ()

    def _kind(self, value_id: str) -> str:
        """Whether the project gave it, then or now, or the program did."""
        origins = {part.origin or side.origin for record, side in ((self.old, self.old.values.get(value_id)), (self.new, self.new.values.get(value_id))) if side
                   for part in (record.parts.get(value_id) or (side,))}
        return "input" if "given" in origins else "default"

    def _fall_back(self) -> None:
        """Where nothing was found: what lies above values that moved by less than rounding; what moved those that ask for it, where it was not there on one side;
        items that a list has gained or lost, a chapter that came or went, a formula that is new, else the program.
        """
        bare = [value_id for value_id in self.moved if not self.found[value_id]]
        for value_id in bare:
            self.found[value_id] = self._far_above(value_id)
        for value_id in self.moved:
            for name in self.inputs[value_id]:
                if name in bare and len(self._sides(name)) == 1:
                    self.found[name] |= self.found[value_id]
        for value_id in bare:
            self.found[value_id] = self.found[value_id] or self._bits(self._around(value_id))
        self._follow(bare)
        for value_id in bare:
            self.found[value_id] = self.found[value_id] or self._bits([self._program()])

    def _far_above(self, value_id: str) -> int:
        """Causes upstream by way of everything that rests on something else than before, moved or not."""
        found, seen, waiting = 0, set(), [value_id]
        while waiting:
            sides = self._sides(name := waiting.pop())
            if name not in seen and len({side.rests for side in sides}) == 2:
                seen.add(name)
                found |= self.found.get(name, 0)
                waiting += [used for side in sides for used in side.inputs.split()]
        return found

    def _around(self, value_id: str) -> Iterator[Cause]:
        sides = self._sides(value_id)
        for axis in dict.fromkeys(axis for side in sides for axis in (*side.over.split(), *side.counts.split())):
            yield from [self.lists[axis]] if axis in self.lists else []
        if len(sides) == 1:
            chapters = [{chapter.id for chapter in record.chapters} for record in (self.old, self.new)]
            if sides[0].chapter in chapters[0] ^ chapters[1]:
                yield Cause("chapter", sides[0].chapter)
            elif sides[0].maker and self.old.head.program != self.new.head.program:
                how = (sides[0].how, "") if value_id in self.old.values else ("", sides[0].how)
                yield Cause("formula", value_id, *how)

    def _program(self) -> Cause:
        return Cause("program", "", self.old.head.program, self.new.head.program)


def _changed_rows(old: Record, new: Record) -> dict[str, list[Cause]]:
    """Table -> its rows that both records have and that differ."""
    before = {(row.table, row.key): row.cells for row in old.tables}
    found: dict[str, list[Cause]] = {}
    for row in new.tables:
        if before.get((row.table, row.key), row.cells) != row.cells:
            found.setdefault(row.table, []).append(Cause("table", f"{row.table}, {row.key}", before[row.table, row.key], row.cells))
    return found
