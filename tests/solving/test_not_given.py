"""What an item does not give is not known, and neither is what moves with it: through every formula and procedure that the demos run."""

from pathlib import Path

import numpy as np
import pytest

from basis.language.compiled import Memory
from basis.language.terms import terms
from basis.reading.project import read
from basis.solving.rerun import needed, ready
from basis.solving.solve import solve
from basis.solving.turning import _Search

PROJECTS = Path(__file__).parents[2] / "projects"
MEANT = {"heating_set_point", "task_interval_hours", "task_interval_months"}  # none says something: no heat of the room, a clock that does not count


def answering(book, given) -> set[str]:
    """Ids of the results that move with an input and are a number all the same where it is not given."""
    steps = _Search(book).route(given.id).moved
    wanted = tuple(dict.fromkeys(name for step in steps for name in step.yields if not terms()[name].is_text))
    base, found = np.asarray(given.number, dtype=float), set()
    with np.errstate(all="ignore"):
        results = ready(book, needed(steps, wanted), (given.id,), wanted, True, Memory())({given.id: np.stack([base, 1.03 * base, np.full_like(base, np.nan)])})
    for name in wanted:
        data = np.asarray(results[name], dtype=float)
        if data.ndim > len(terms()[name].axes):
            as_it_is, moved, without = data
            differs = np.isfinite(as_it_is) & np.isfinite(moved) & ~np.isclose(as_it_is, moved, rtol=1e-9, atol=1e-15)
            found |= {name} if (differs & ~np.isnan(without)).any() else set()
    return found


@pytest.mark.parametrize("slug", sorted(path.name for path in PROJECTS.iterdir()))
@pytest.mark.filterwarnings("ignore")  # of arithmetic with what is no number
def test_nothing_answers_for_an_item_that_does_not_say(slug):
    book = solve(read(PROJECTS / slug))
    inputs = [value for value in book.values.values() if value.producer is None and value.term.optional and value.axes and not value.term.is_text
              and "hour" not in value.axes and np.size(value.number) and not np.isnan(value.number).all()]
    assert len(inputs) > 40
    assert {value.id: names for value in inputs if value.id not in MEANT and (names := answering(book, value))} == {}


@pytest.mark.parametrize("term_id", sorted(MEANT))
def test_where_none_says_something_its_text_says_what(term_id):
    assert any(words in terms()[term_id].meaning for words in ("Without it", "none where"))
