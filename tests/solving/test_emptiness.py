"""What rests on empty lists only, by hand for each way in which numbers meet."""

import ast

import pytest
from trial_terms import patch

from basis.language.compiled import Step
from basis.solving import emptiness

NONE, SOME = {"opening": ()}, {"opening": ("north",)}


def empty_results(*run, known=()):
    """What rests on axes without items, and on which."""
    return {name: axes for name, axes in emptiness.what_rests(*run, dict(known)).items() if axes}


@pytest.mark.parametrize("text, empty", [
    ("sum_over('opening', trial_area)", True), ("max_over('opening', trial_area)", True), ("count_over('opening') * trial_length", True),
    ("2 * sum_over('opening', trial_area)", True), ("sum_over('opening', trial_area) / trial_length", True),
    ("trial_length / sum_over('opening', trial_area)", True),
    ("sum_over('opening', trial_area) + 1", True), ("max(0, sum_over('opening', trial_area))", True), ("sqrt(sum_over('opening', trial_area))", True),
    ("trial_length + sum_over('opening', trial_area)", False), ("max(trial_length, sum_over('opening', trial_area))", False), ("trial_length", False),
    ("sum_over('opening', trial_area) if trial_mode == 'short' else trial_length", False),  # the other arm may run
    ("1 - sum_over('opening', trial_area) / trial_length", True), ("trial_length - sum_over('opening', trial_area)", False)])
def test_a_number_over_an_empty_list_is_nothing_until_something_is_added(monkeypatch, text, empty):
    patch(monkeypatch)
    step = Step(("trial_result",), ast.parse(text, mode="eval").body)
    given = ("trial_area", "trial_length", "trial_mode")
    assert ("trial_result" in empty_results(given, (), (step,), NONE)) == empty
    assert not empty_results(given, (), (step,), SOME)


def test_it_is_handed_on_with_the_list_and_a_constant_does_not_stop_it(monkeypatch):
    patch(monkeypatch)
    steps = (Step(("trial_total",), ast.parse("sum_over('opening', trial_area) + trial_factor", mode="eval").body),
             Step(("trial_mean",), procedure=object(), needs=("trial_total", "trial_velocity")),
             Step(("trial_result",), ast.parse("trial_total * trial_length", mode="eval").body))
    found = empty_results(("trial_area", "trial_velocity", "trial_length", "trial_factor"), ("trial_factor",), steps, NONE)
    assert {"trial_total", "trial_mean", "trial_result"} <= set(found) and set().union(*found.values()) == {"opening"}
    assert "trial_total" not in empty_results(("trial_area", "trial_factor"), (), steps[:1], NONE)  # a given or a default is something


def test_what_is_taken_over_rests_on_what_it_did(monkeypatch):
    patch(monkeypatch)
    step = Step(("trial_result",), ast.parse("trial_total * trial_length", mode="eval").body)
    found = empty_results(("trial_total", "trial_length"), (), (step,), NONE, known={"trial_total": frozenset({"opening"})})
    assert found == {"trial_total": {"opening"}, "trial_result": {"opening"}}
