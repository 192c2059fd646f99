"""One test over many things of a kind, a group at a time: all are tried, and each that fails is told by name.

A test for each of a thousand formulas costs more to hand out and to report than to run.
"""

from collections.abc import Callable, Iterable

import pytest

from basis.chapters import catalogue


def of_each(things: Iterable, name: Callable = str, group: Callable = lambda thing: "all") -> Callable:
    """Decorator: a test of one thing becomes a test of each group of them. A thing that is a tuple is handed over as several arguments."""
    groups: dict[str, list] = {}
    for thing in things:
        groups.setdefault(group(thing), []).append(thing)

    def grouped(test: Callable) -> Callable:
        @pytest.mark.parametrize("these", groups.values(), ids=groups)
        def tried(these):
            wrong = {name(thing): told for thing in these if (told := _trouble(test, thing))}
            assert not wrong, "\n".join(f"{one}: {told}" for one, told in wrong.items())
        tried.__name__, tried.__doc__ = test.__name__, test.__doc__
        return tried
    return grouped


def chapter_of(producer) -> str:
    """Id of the chapter of a formula or procedure."""
    return catalogue().chapter_of[producer.yields[0]]


def _trouble(test: Callable, thing) -> str:
    try:
        test(*(thing if isinstance(thing, tuple) else (thing,)))
    except (Exception, pytest.fail.Exception) as failed:  # whatever it is, the others are tried
        return f"{type(failed).__name__}: {failed}"
    return ""
