"""Lists over whose items values run: declared by the chapters, put into one order, and what is refused."""

from itertools import combinations
from types import SimpleNamespace

import pytest

from basis.language import terms as language
from basis.language.terms import Listed, Term, listed, lists_by_axis, lists_by_key, terms


def term(*axes, **more):
    return Term("trial_height", "h", "m", "Height", "", axes=axes, **more)


@pytest.fixture
def order(monkeypatch):
    """The order of axes that chapters with these lists and Terms make."""
    def run(**chapters):
        modules = {name: SimpleNamespace(LISTS=lists, TERMS=own) for name, (lists, own) in chapters.items()}
        monkeypatch.setattr(language, "_declared", lambda: modules)
        return list(lists_by_axis.__wrapped__())
    return run


HOIST, FLOOR, PHASE = Listed("hoist", "hoists"), Listed("floor", "floors"), Listed("phase", "phases", fixed=("up", "down"))


def test_lists_stand_by_chapter_and_as_written_and_fixed_ones_last(order):
    assert order(a=((PHASE, HOIST), ()), b=((FLOOR,), ())) == ["hoist", "floor", "phase"]


def test_of_two_lists_the_one_that_a_term_names_first_stands_first(order):
    assert order(a=((HOIST, PHASE), (term("floor", "hoist", "phase"),)), b=((FLOOR,), ())) == ["floor", "hoist", "phase"]


def test_terms_that_differ_about_the_order_are_told(order):
    with pytest.raises(ValueError, match="Terms name the axes hoist and floor now in one order, now in another"):
        order(a=((HOIST, FLOOR), (term("hoist", "floor"), term("floor", "hoist"))))


@pytest.mark.parametrize("second", [Listed("hoist", "lifts"), Listed("lift", "hoists")])
def test_a_list_of_the_same_axis_or_key_is_told(order, second):
    with pytest.raises(ValueError, match="is there already"):
        order(a=((HOIST,), ()), b=((second,), ()))


@pytest.mark.parametrize("wrong, told", [
    (term("bands"), "unknown axes .'bands'.; nearest: band"), (term("band", "opening"), "an axis with fixed items must stand last"),
    (Term("openings", "n", "1", "Openings", ""), "also the key of a list"),
    (Term("trial_place", "", "reference", "Place", "", refers_to="dock"), "refers to unknown axis 'dock'")])
def test_a_term_that_does_not_fit_the_lists_is_told(wrong, told):
    with pytest.raises(ValueError, match=told):
        language._validate(wrong, {})


def test_every_term_names_its_axes_in_the_order_of_arrays():
    place = {axis: number for number, axis in enumerate(lists_by_axis())}
    assert all(place[first] < place[second] for one in terms().values() for first, second in combinations(one.axes, 2))


def test_a_project_writes_only_lists_without_fixed_items():
    assert lists_by_key()["running_cases"].axis == "running_case" and "bands" not in lists_by_key() and listed("band").fixed[0] == "31_5_hz"
