"""A test of a group tells each thing of it that fails, and hides none."""

import pytest
from each import of_each


def test_each_that_fails_is_told_by_name():
    @of_each(range(6), group=lambda number: "even" if number % 2 == 0 else "odd")
    def tried(number):
        assert number != 3, "three"
        if number == 5:
            raise KeyError("five")

    (mark,) = tried.pytestmark
    names, groups = mark.kwargs["ids"], dict(zip(mark.kwargs["ids"], mark.args[1]))
    assert list(names) == ["even", "odd"] and groups["odd"] == [1, 3, 5]
    tried(groups["even"])
    with pytest.raises(AssertionError) as told:
        tried(groups["odd"])
    assert "3: AssertionError: three" in str(told.value) and "5: KeyError: 'five'" in str(told.value) and "1:" not in str(told.value)


def test_what_stands_in_a_tuple_is_handed_over_as_arguments():
    @of_each([("a", 1), ("b", 2)], name=lambda pair: pair[0])
    def tried(name, number):
        assert (name, number) == ("a", 1)

    with pytest.raises(AssertionError, match="b: "):
        tried([("a", 1), ("b", 2)])
