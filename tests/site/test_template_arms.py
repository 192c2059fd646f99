"""No arm of a template that no plant reaches; the tool prints each arm with its condition for reading."""

import pytest
from jinja2 import Environment
from template_arms import Search, Wish, arms_of, demo_search, template_names, wishes


@pytest.fixture(scope="module")
def search() -> tuple[Search, dict]:
    return demo_search(template_names())


def test_every_arm_of_every_template_is_rendered_by_some_plant(search):
    looking, found = search
    every = [arm for arms in looking.rendering.arms.values() for arm in arms]
    left = [f"{arm.template}:{arm.line} if {arm.told}" for arm in every if arm not in found and not looking.found(arm)]
    assert len(every) > 250 and not left, "\n".join(left)


@pytest.mark.parametrize("condition, ways", [
    ('fails("a") or tight("a")', [[("fails", True)], [("tight", True)]]),
    ('not (fails("a") or tight("a"))', [[("fails", False), ("tight", False)]]),
    ('has("a") and not given("a")', [[("has", True), ("given", False)]]),
    ('not (has("a") and given("a"))', [[("has", False)], [("given", False)]])])
def test_a_condition_becomes_what_it_asks_of_a_plant(condition, ways):
    test = Environment().parse(f"{{% if {condition} %}}x{{% endif %}}").body[0].test
    assert wishes(((test, True),)) == [tuple(Wish(function, ("a",), wanted) for function, wanted in way) for way in ways]


def test_an_arm_holds_the_conditions_of_the_arms_round_it_and_before_it():
    arms, _ = arms_of("starting")
    last = next(arm for arm in arms if "either alone must do" in arm.words)
    assert last.told == "not (choice(starting_method, battery)) and not (choice(starting_method, air))"
