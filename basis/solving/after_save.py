"""What stays as it was when a project is solved again after a save: the book of an option that the save does not reach."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from basis.language.compiled import GIVEN_PREFIX
from basis.solving.book import Book
from basis.solving.verdict import Verdict


def option_as_before(key: tuple[str, str], before: Book, before_bare: Book, main: Book) -> Book | None:
    """The book of an option after a save; None where what is the option's own may have moved.

    `before` with its options and `before_bare` are the books before the save, `main` the one after it. What an option does not share with the chosen book
    is kept when nothing that it rests on has moved; the rest is that of `main`.
    """
    book = before.options.get(key)
    if book is None or book is before_bare or not _comparable(key, before, main):
        return None
    own = {value_id for value_id, value in book.values.items() if value is not before_bare.values.get(value_id)}
    compared = [verdict.check.sides for verdict in (*book.checks, *book.self_tests) if not own.isdisjoint(verdict.check.sides)]
    rests = own.union(*(book.values[value_id].inputs for value_id in own), *compared)
    if any(main.values.get(value_id) is not before_bare.values.get(value_id) for value_id in rests):
        return None
    inputs = {name: data if name.removeprefix(GIVEN_PREFIX) in own else main.inputs.get(name, data) for name, data in book.inputs.items()}
    values = {value_id: value if value_id in own else main.values[value_id] for value_id, value in book.values.items()}
    return replace(book, project=main.project, values=values, checks=_verdicts(book.checks, main, own), self_tests=_verdicts(book.self_tests, main, own),
                   inputs=inputs, home={value_id: home if value_id in own else main.home[value_id] for value_id, home in book.home.items()})


def _comparable(key: tuple[str, str], before: Book, main: Book) -> bool:
    """Whether the two books differ in numbers, notes and words only, and their options give the same."""
    old, new = before.project, main.project
    same = (tuple(before.values) == tuple(main.values) and before.items == main.items and before.names == main.names and before.undecided == main.undecided
            and [step.yields for step in before.steps] == [step.yields for step in main.steps])
    return same and _remarks(old) == _remarks(new) and _giving(old, key) == _giving(new, key) and _others(old, key) == _others(new, key)


def _remarks(project) -> dict[str, str]:
    return {check_id: place[0] for check_id, place in project.remarks.items()}


def _giving(project, key: tuple[str, str]) -> Iterable:
    """What an option gives."""
    return [(option.givens, option.items) for decision in project.decisions for option in decision.options if (decision.id, option.id) == key]


def _others(project, key: tuple[str, str]) -> Iterable:
    """What is chosen in the other decisions."""
    return [(decision.id, decision.chosen) for decision in project.decisions]


def _verdicts(old: tuple[Verdict, ...], main: Book, own: set) -> tuple[Verdict, ...]:
    """Verdicts of the option: its own where it compares something of its own, else those of the chosen book."""
    return tuple(main.check(verdict.check.id) if own.isdisjoint(verdict.check.sides) else verdict for verdict in old)
