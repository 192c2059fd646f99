"""What is marked in a book as moved since it was issued."""

from __future__ import annotations

from collections import Counter

from basis.record.compare import Comparison, MovedCheck
from basis.record.history import History
from basis.solving.since import Differing, Since, Was


def since(history: History) -> Since | None:
    """How a book stands to its last issue and what it has to mark; None where nothing is issued.

    A book that shows every number and verdict as in its last issue carries the marks of that issue: what moved since the one before it.
    """
    found = history.since
    if found is None:
        return None
    base, numbers, verdicts = found.old.revision, _numbers(found), _verdicts(found)
    if not numbers and not verdicts and history.steps:
        last = history.steps[-1]
        base, numbers, verdicts = last.old.revision, _numbers(last), _verdicts(last)
    same = found.nothing and (found.old.text, found.old.program) == (found.new.text, found.new.program)
    return Since(found.old.revision, same, _differing(found), base, numbers, verdicts)


def _differing(found: Comparison) -> dict[str, Differing]:
    """What differs in each chapter in which a number, a verdict or a margin is shown otherwise."""
    numbers = Counter(value.chapter for value in found.values for one in value.numbers if one.seen and one.number)
    verdicts = Counter(check.chapter for check in found.checks if check.turned)
    margins = Counter(check.chapter for check in found.checks if not check.turned and _seen(check))
    return {chapter: Differing(numbers[chapter], verdicts[chapter], margins[chapter]) for chapter in dict.fromkeys((*numbers, *verdicts, *margins))}


def _numbers(found: Comparison) -> dict[str, dict[str, Was]]:
    """Numbers that moved as in every comparison, beyond the rounding of another machine, and are shown otherwise; not what is new or gone."""
    numbers: dict[str, dict[str, Was]] = {}
    for value in found.values:
        for one in value.numbers:
            if one.number and one.seen and one.old and one.new:
                numbers.setdefault(value.id, {})[one.id.removeprefix(value.id).removeprefix(".")] = Was(one.old, one.in_si[0])
    return numbers


def _verdicts(found: Comparison) -> dict[str, tuple[str, str]]:
    return {check.id: (check.old, check.old_margin) for check in found.checks if check.old and check.new and _seen(check)}


def _seen(check: MovedCheck) -> bool:
    return check.turned or check.old_margin != check.new_margin
