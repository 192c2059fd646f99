"""An option solved beside the chosen one, which runs only what it reaches, is the book that the option gives when it is chosen."""
from dataclasses import replace
from pathlib import Path

import pytest

from basis.reading import project
from basis.solving.solve import solve

PROJECTS = Path(__file__).parents[2] / "projects"


def with_choice(read, decision_id, option_id):
    decisions = tuple(replace(one, chosen=option_id) if one.id == decision_id else one for one in read.decisions)
    return replace(read, decisions=decisions)


@pytest.mark.parametrize("slug", sorted(path.name for path in PROJECTS.iterdir()))
def test_an_option_beside_is_the_option_chosen(slug):
    read = project.read(PROJECTS / slug)
    book, compared = solve(read), 0
    for decision in read.decisions:
        for option in decision.options:
            beside = book.options[decision.id, option.id]
            if option.id == decision.chosen:
                continue
            chosen = solve(with_choice(read, decision.id, option.id))
            assert set(beside.values) == set(chosen.values)
            assert [value_id for value_id, value in beside.values.items() if value.digest != chosen.values[value_id].digest] == []
            assert beside.home == chosen.home and beside.undecided == chosen.undecided
            for one, other in zip(beside.checks, chosen.checks, strict=True):
                assert (one.check, one.word, repr(one.margin), one.element, one.missing) == (other.check, other.word, repr(other.margin), other.element,
                    other.missing)
            compared += 1
    assert compared or not read.decisions
