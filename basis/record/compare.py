"""What has changed between two records, and because of what: verdicts, inputs, results. Reads records alone, so that two issues can be compared
without solving either; knows neither chapters nor units.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from basis.record.causes import Cause, Causes, changed_lists
from basis.record.issued import Head, IssuedValue, Record
from basis.record.moved import Moved, differs, moved_of
from basis.solving.verdict_words import NOTHING, URGENT

UNRECORDED = ("no number, verdict, choice, item or note differs; the text does, in what a record does not hold, such as a name, a unit, a reason, a plus or "
              "minus, a requirement or a question")
WORSE = URGENT[::-1]  # than what holds or has nothing to check; mildest first


@dataclass(frozen=True)
class MovedValue:
    """A value of which numbers moved: the elements that did, and what that is laid to. `asked`: whether a check or another chapter takes it."""

    id: str
    chapter: str
    numbers: tuple[Moved, ...]
    because: tuple[Cause, ...] = ()
    asked: bool = True

    @property
    def comes_by_default(self) -> bool:
        """Whether nobody gave what is new or gone of it."""
        return all(one.comes_by_default for one in self.numbers)


@dataclass(frozen=True)
class MovedCheck:
    """A check whose verdict turned or whose margin moved; the word is empty where it is not made. `why`: what is missing now, or why there is nothing to
    check.
    """

    id: str
    chapter: str
    old: str
    new: str
    old_margin: str
    new_margin: str
    element: str
    why: str = ""
    because: tuple[Cause, ...] = ()

    @property
    def turned(self) -> bool:
        """Whether the verdict is another; one that is made on one side only and has nothing to check there says no more than none."""
        return (self.old or NOTHING) != (self.new or NOTHING)

    @property
    def worse(self) -> bool:
        """Whether the verdict is a worse one. A check that is made no more proves nothing, whatever it said; one that is new is worse than none unless
        it holds.
        """
        return _rank(self.new) > _rank(self.old) if self.new else self.old != NOTHING


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
    chapters: dict[str, str]  # id -> title
    taken: tuple[Moved, ...]  # chapters that only one side has

    @property
    def turned(self) -> tuple[MovedCheck, ...]:
        """Checks whose verdict is another, the worse ones first."""
        return tuple(sorted((check for check in self.checks if check.turned), key=lambda check: (not check.worse, _rank(check.old) - _rank(check.new))))

    @property
    def worse(self) -> tuple[MovedCheck, ...]:
        """Checks whose verdict is a worse one."""
        return tuple(check for check in self.checks if check.worse)

    @property
    def values(self) -> tuple[MovedValue, ...]:
        """Inputs, then results in reading order."""
        return (*self.inputs, *(value for values in self.results.values() for value in values))

    @property
    def moved(self) -> int:
        """How many numbers are shown otherwise, inputs among them."""
        return sum(one.seen and one.number for value in self.values for one in value.numbers)

    @property
    def nothing(self) -> bool:
        """Whether nothing differs that a record holds."""
        return not (self.checks or self.decisions or self.lists or self.inputs or self.results or self.taken)

    @property
    def given(self) -> tuple[MovedValue, ...]:
        """Inputs that somebody gave on one side, or that moved."""
        return tuple(value for value in self.inputs if not value.comes_by_default)

    @property
    def defaults_told(self) -> str:
        """How many inputs came or went that nobody gave; nothing where none did."""
        count = len(self.inputs) - len(self.given)
        return f"{count} more that nobody gave: defaults of the program, asked for now or no longer" if count else ""

    @property
    def nothing_told(self) -> str:
        """The same in words, of two texts that may differ all the same."""
        return UNRECORDED if self.old.text != self.new.text else "nothing differs"


def _rank(word: str) -> int:
    return WORSE.index(word) + 1 if word in WORSE else 0


def title(head: Head) -> str:
    """Which state a record holds, in words."""
    if head.number:
        return f"revision {head.revision} of {head.date}"
    return f"commit {head.revision} of {head.date}" if head.revision else "the text as it stands"


def compare(old: Record, new: Record) -> Comparison:
    """What has changed from one record to another of the same project."""
    moved = {value_id: found for value_id in dict.fromkeys((*new.values, *old.values)) if (found := tuple(moved_of(value_id, old, new)))}
    given = {value_id: tuple(one for one in found if one.is_input) for value_id, found in moved.items()}
    computed = {value_id: tuple(one for one in found if not one.is_input) for value_id, found in moved.items()}
    why = Causes(old, new, moved)
    chapters = {chapter.id: chapter.title for chapter in (*new.chapters, *old.chapters)}
    asked = _asked(old) | _asked(new)
    results = {chapter: tuple(MovedValue(value_id, chapter, found, why.of((value_id,)), value_id in asked) for value_id, found in computed.items()
                              if found and _either(value_id, old, new).chapter == chapter) for chapter in chapters}
    return Comparison(old.head, new.head, tuple(_checks(old, new, why)), tuple(_decisions(old, new)), tuple(changed_lists(old, new)),
                      tuple(MovedValue(value_id, _either(value_id, old, new).chapter, found) for value_id, found in given.items() if found),
                      {chapter: values for chapter, values in results.items() if values}, chapters, tuple(_taken(old, new)))


def _either(value_id: str, old: Record, new: Record) -> IssuedValue:
    return new.values.get(value_id) or old.values[value_id]


def _asked(record: Record) -> set[str]:
    """Ids of the values that a check or another chapter takes."""
    taken = {name for value in record.values.values() for name in value.inputs.split()
             if (there := record.values.get(name)) and there.chapter != value.chapter}
    return taken.union(*(check.sides.split() for check in record.checks.values()))


def _checks(old: Record, new: Record, why: Causes) -> Iterator[MovedCheck]:
    for check_id in dict.fromkeys((*new.checks, *old.checks)):
        was, is_ = old.checks.get(check_id), new.checks.get(check_id)
        words = [side.verdict if side else "" for side in (was, is_)]
        if words[0] != words[1] or differs(was.margin, is_.margin, 1e-3):  # a margin is a share of one, or of some K or dB
            told = is_ or was
            sides = dict.fromkeys(name for side in (was, is_) if side for name in side.sides.split())
            because = why.of(sides) if was and is_ else (why.one_sided(told.chapter),)
            margins = [side.margin_shown if side else "" for side in (was, is_)]
            yield MovedCheck(check_id, told.chapter, *words, *margins, told.element, is_.why if is_ else "", because)


def _taken(old: Record, new: Record) -> Iterator[Moved]:
    """Chapters that are new, in reading order, then those that are gone; with their titles."""
    before, now = ({chapter.id: chapter.title for chapter in record.chapters} for record in (old, new))
    for name in (*now, *before):
        if not (name in now and name in before):
            yield Moved(name, before.get(name, ""), now.get(name, ""))


def _decisions(old: Record, new: Record) -> Iterator[Moved]:
    before, now = ({one.decision: one for one in record.decisions} for record in (old, new))
    for name in dict.fromkeys((*now, *before)):
        was, is_ = before.get(name), now.get(name)
        if was is None or is_ is None or was.option != is_.option:
            yield Moved(name, was.name if was else "", is_.name if is_ else "")
