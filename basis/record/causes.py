"""What each moved value is laid to: followed upstream through what moved too, to the inputs, formulas and rows of tables that changed."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, reduce
from operator import or_

from basis.record.issued import IssuedValue, Record
from basis.record.moved import Moved


@dataclass(frozen=True)
class Cause:
    """What a change is laid to. `kind`: input, default, formula, table, list, chapter or program; `old` and `new` as shown, "" where there is none."""

    kind: str
    id: str
    old: str = ""
    new: str = ""


def changed_lists(old: Record, new: Record) -> Iterator[Cause]:
    """Lists with the items that are gone and those that are new."""
    for axis in dict.fromkeys((*new.lists, *old.lists)):
        before, now = old.lists.get(axis, ()), new.lists.get(axis, ())
        if set(before) != set(now):
            yield Cause("list", axis, ", ".join(item for item in before if item not in now), ", ".join(item for item in now if item not in before))


class Causes:
    """What each moved value is laid to. Sets of causes are whole numbers, a bit a cause, so that following thousands of values upstream costs little."""

    def __init__(self, old: Record, new: Record, moved: dict[str, tuple[Moved, ...]]):
        self.old, self.new, self.moved = old, new, {value_id: found for value_id, found in moved.items() if any(one.number for one in found)}
        self.causes: dict[Cause, int] = {}
        self.rows = _changed_rows(old, new)
        self.other_chapters = {chapter.id for chapter in old.chapters} ^ {chapter.id for chapter in new.chapters}
        self.lists = {cause.id: cause for cause in changed_lists(old, new)}
        self.inputs = {value_id: self._upstream(value_id) for value_id in self.moved}
        self.found = {value_id: self._bits(self._own(value_id)) for value_id in self.moved}
        self._follow(self.found, self.inputs)
        self._fall_back()

    def of(self, value_ids: Collection[str]) -> tuple[Cause, ...]:
        """What these values are laid to together; the program where nothing is found."""
        together = self._all(self.found.get(value_id, 0) for value_id in value_ids) or self._all(self._above.get(value_id, 0) for value_id in value_ids)
        return tuple(cause for cause, bit in self.causes.items() if together & bit) or (self._program(),)

    def one_sided(self, chapter_id: str) -> Cause:
        """What a check of this chapter is laid to that is made on one side only: every chapter that is taken makes all of its checks."""
        return Cause("chapter", chapter_id) if chapter_id in self.other_chapters else self._program()

    def _upstream(self, value_id: str) -> tuple[str, ...]:
        """Ids of the moved values that it takes, in either record."""
        return tuple(name for name in self._taken(value_id) if name in self.moved)

    def _taken(self, value_id: str) -> dict[str, None]:
        return dict.fromkeys(name for side in self._sides(value_id) for name in side.inputs.split())

    def _sides(self, value_id: str) -> list[IssuedValue]:
        return [record.values[value_id] for record in (self.old, self.new) if value_id in record.values]

    def _bits(self, causes: Iterable[Cause]) -> int:
        return self._all(self.causes.setdefault(cause, 1 << len(self.causes)) for cause in causes)

    @staticmethod
    def _all(bits: Iterable[int]) -> int:
        return reduce(or_, bits, 0)

    @staticmethod
    def _follow(found: dict[str, int], inputs: Mapping[str, Iterable[str]]) -> None:
        """Take over the causes of what is upstream until nothing is added; two programs may disagree on what is upstream of what, so there may be circles."""
        added = True
        while added:
            added = False
            for value_id, names in inputs.items():
                have = found[value_id]
                for name in names:
                    have |= found[name]
                added, found[value_id] = added or have != found[value_id], have

    def _own(self, value_id: str) -> Iterator[Cause]:
        """What changed in the value itself: a chapter that made it, an input, its formula, a row of a table that it reads."""
        sides, kind = self._sides(value_id), self._kind(value_id)
        made = [side.chapter for side in sides if side.maker]
        if kind == "default" and len(sides) == 2 and len(made) == 1 and made[0] in self.other_chapters:
            yield Cause("chapter", made[0])
            return
        given = [one for one in self.moved[value_id] if one.number and one.is_input]
        if kind == "default":  # what is there on one side only the program had before: something has begun or ceased to ask for it, or an item is new or gone
            given = [one for one in given if one.old and one.new]
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
        origins = {part.origin or side.origin for record in (self.old, self.new) if (side := record.values.get(value_id))
                   for part in record.parts.get(value_id, (side,))}
        return "input" if "given" in origins else "default"

    def _fall_back(self) -> None:
        """Where nothing was found: what lies above values that moved by less than rounding; what moved those that ask for it, where it was not there
        on one side; items that a list has gained or lost, a chapter that came or went, a formula that is new, else the program.
        """
        bare = [value_id for value_id in self.moved if not self.found[value_id]]
        above = self._far_above() if bare else {}
        self.found |= {value_id: above[value_id] for value_id in bare}
        takers = self._asked_for({value_id: [] for value_id in bare if len(self._sides(value_id)) == 1})
        self._follow(self.found, takers)
        for value_id in bare:
            self.found[value_id] = self.found[value_id] or self._bits(self._around(value_id))
        self._follow(self.found, {value_id: (*self.inputs[value_id], *takers.get(value_id, ())) for value_id in bare})
        for value_id in bare:
            self.found[value_id] = self.found[value_id] or self._bits([self._program()])

    def _asked_for(self, takers: dict[str, list[str]]) -> dict[str, list[str]]:
        """What takes each of these values; one that a chapter or a check of it takes which came or went is laid to that chapter at once."""
        for taker, names in self.inputs.items():
            chapter = self._sides(taker)[0].chapter
            for name in takers.keys() & set(names):
                if chapter in self.other_chapters:
                    self.found[name] |= self._bits([Cause("chapter", chapter)])
                else:
                    takers[name].append(taker)
        for check in (*self.old.checks.values(), *self.new.checks.values()):
            if check.chapter in self.other_chapters:
                for name in takers.keys() & set(check.sides.split()):
                    self.found[name] |= self._bits([Cause("chapter", check.chapter)])
        return takers

    def _far_above(self) -> dict[str, int]:
        """Causes upstream of each value by way of all that it takes, moved or not."""
        known = {**self.old.values, **self.new.values}
        inputs = {value_id: tuple(name for name in self._taken(value_id) if name in known) for value_id in known}
        found = dict.fromkeys(known, 0) | self.found
        self._follow(found, inputs)
        return found

    @cached_property
    def _above(self) -> dict[str, int]:
        return self._far_above()

    def _around(self, value_id: str) -> Iterator[Cause]:
        sides = self._sides(value_id)
        for axis in dict.fromkeys(axis for side in sides for axis in (*side.over.split(), *side.counts.split())):
            yield from [self.lists[axis]] if axis in self.lists else []
        if len(sides) == 1:
            if sides[0].chapter in self.other_chapters:
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
