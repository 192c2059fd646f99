"""Checks that hold by themselves where the project does not give the number that they judge: nothing to check, and with the number a verdict."""

import numpy as np
import pytest
from conftest import ROOT
from variations import Trial, Variation

from basis.chapters import catalogue
from basis.language.formula import GIVEN
from basis.language.terms import homes, listed, terms

SIZED = [(check.id, name) for checks in catalogue().checks.values() for check in checks for name, words in check.applies if words == GIVEN]


@pytest.fixture(scope="module")
def trial(tmp_path_factory):
    """A function from changes of the exchange's text to its book."""
    made = Trial(ROOT / "projects" / "cobble-key-exchange", tmp_path_factory.mktemp("sized"))
    return lambda *changes: made.book_of(Variation("sized", lambda tree: [change(tree) for change in changes], False))


@pytest.fixture(scope="module")
def bare(trial):
    """The book without any of these numbers."""
    return trial(*(lambda tree, name=name: _write(tree, name, None) for _, name in SIZED))


@pytest.fixture(scope="module")
def told(trial, bare):
    """The same with each of them given as it was computed."""
    return trial(*(lambda tree, value=bare[name]: _write(tree, value.id, value.number) for _, name in SIZED))


def _write(tree: dict, name: str, number) -> None:
    """Give a term in the project, or take it away; of each item of a list if it runs over one."""
    term = terms()[name]
    unit = "" if term.unit == "1" else term.unit
    if not term.axes:
        places = [(data, number) for data in tree.values() if name in data] or [(tree["project.yaml"], number)]
    else:
        items = [item for data in tree.values() for item in data.get(listed(term.axes[0]).key, ())]
        places = list(zip(items, [None] * len(items) if number is None else np.ravel(number)))
    for holder, one in places:
        holder.pop(name, None)
        if one is not None:
            holder[name] = f"{one:.12g} {unit}".strip()


@pytest.mark.parametrize("check_id, name", SIZED)
def test_a_number_that_is_computed_for_a_check_does_not_pass_it(bare, told, check_id, name):
    verdict = bare.check(check_id)
    assert verdict.word == "nothing to check" and name in [term.id for term in verdict.sized]
    assert name in verdict.nothing_text and f"{homes()[name]}.yaml" in verdict.nothing_text
    assert told.check(check_id).word in ("holds", "tight")


def test_what_fails_all_the_same_fails(trial):
    def rise(tree):
        tree["cooling.yaml"]["coolant_loops"][0]["loop_rise_design"] = "12 K"  # above the 10 K that are usual
    assert trial(rise).check("coolant_rise").word == "fails"

    def charge_air_is_forgotten(tree):
        tree["cooling.yaml"]["coolant_loops"][0]["loop_carries"] = "jacket"
    assert trial(charge_air_is_forgotten).check("loops_carry_all").word == "fails"


def test_a_list_without_items_has_no_number_that_was_computed_for_a_check(trial):
    verdict = trial(lambda tree: tree["cooling.yaml"].update({"coolant_loops": []})).check("coolant_rise")
    assert (verdict.word, verdict.unlisted) == ("nothing to check", ("coolant_loop",))
