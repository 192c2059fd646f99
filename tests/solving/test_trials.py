"""The book of each step of a trial is the book of a project that gives that number, solved whole."""

from dataclasses import replace

import numpy as np
import pytest

from basis.reading.project import read
from basis.reading.trial import Trial
from basis.solving.solve import solution, solve
from basis.solving.trials import with_trials

SLUGS = ("cobble-key-exchange", "high-tarn-waterworks", "larkmere-hospital")


def given(project, name, number):
    """The project with another number of an input, as if it stood in its text."""
    key = (name, "")
    moved = {key: replace(project.givens[key], data=number)} if key in project.givens else {}
    decisions = tuple(replace(decision, options=tuple(replace(option, givens={**option.givens, key: replace(option.givens[key], data=number)})
                                                      if key in option.givens else option for option in decision.options)) for decision in project.decisions)
    return replace(project, givens=project.givens | moved, decisions=decisions)


def same(one, other):
    if isinstance(one, np.ndarray) and one.dtype.kind == "f":
        return np.array_equal(one, other, equal_nan=True)
    return np.all(one == other) or one != one


@pytest.mark.parametrize("slug", SLUGS)
def test_each_step_of_the_demos_is_the_book_solved_with_that_number(slug):
    solved = solution(read(f"projects/{slug}"), only=())
    book = with_trials(solved.book, solved.run, solved.memory)
    assert book.tried and all(len(one.numbers) > 2 for one in book.tried)
    for one in book.tried:
        assert one.numbers[one.issued] == book[one.input].number
        for place, number in enumerate(one.numbers):
            if place == one.issued or place in one.faults:
                continue
            step, whole = book.trials[one.input, place], solve(given(book.project, one.input, number), only=())
            assert list(step.values) == list(whole.values)
            assert [value_id for value_id, value in step.values.items() if not same(value.number, whole[value_id].number)
                    or value.warnings() != whole[value_id].warnings() or value.marks != whole[value_id].marks] == []
            assert [(verdict.check.id, verdict.word, verdict.margin_text, verdict.element) for verdict in (*step.checks, *step.self_tests)] \
                == [(verdict.check.id, verdict.word, verdict.margin_text, verdict.element) for verdict in (*whole.checks, *whole.self_tests)]


def test_a_step_that_cannot_be_computed_is_told_and_the_others_stand():
    solved = solution(read("projects/larkmere-hospital"), only=())
    trial = Trial("room_temperature_rise", (-5.0, 8.0, 12.0), "project.yaml", 1)  # kelvins; nothing cools a room by air from outdoors
    book = with_trials(replace(solved.book, project=replace(solved.book.project, trials=(trial,))), solved.run, solved.memory)
    (one,) = book.tried
    assert set(one.faults) == {0} and one.faults[0]
    assert set(book.trials) == {("room_temperature_rise", place) for place in range(1, 4) if place != one.issued}


def test_of_a_verdict_that_moves_no_chance_and_no_remark_is_told():
    solved = solution(read("projects/larkmere-hospital"), only=())
    book = with_trials(solved.book, solved.run, solved.memory)
    for step in book.trials.values():
        moved = [verdict for verdict in step.checks if verdict is not book.check(verdict.check.id)]
        assert moved and all(verdict.samples == 0 and verdict.remark == "" for verdict in moved)
        assert any(verdict.remark for verdict in step.checks)
