"""A rule of thumb as an object: what it gives, from what, how sure it is and how it is known. Decorators make rules; they register nothing.

A rule is a function whose parameters are names of facts, of Terms that other rules give, and of quantities between them; all numbers are SI. Its
docstring is the rule in words and goes into the note of every value that it writes.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import dataclass, field

from basis.language.sources import sources
from basis.language.terms import lists_by_key, terms

UNSAID = ("not applicable", "derived")  # ways of knowing that a note does not tell


@dataclass(frozen=True)
class Rule:
    """A rule: its name, what it gives: one Term, rows of a list (by axis), or a quantity that others need.

    spread: nine of ten real plants lie within it, by judgement. valid: range in SI of what it is read from; beyond, the note says so.
    ask: a matter that somebody else has to answer. digits: significant ones that are written.
    """

    name: str
    run: Callable = field(compare=False)
    parameters: tuple
    text: str
    gives: str = ""  # "term", "rows" or "" for a quantity
    axis: str = ""
    spread: str = ""
    source: str = "common-practice"
    ask: bool = False
    digits: int = 3
    valid: dict = field(default_factory=dict, compare=False)

    @property
    def how_known(self) -> str:
        """Its source in words."""
        source = sources()[self.source]
        said = source.how_known in UNSAID or source.how_known in source.citation
        return source.citation if said else f"{source.citation}, {source.how_known}"

    def note(self, known: dict) -> str:
        """What stands beside a value: spread, the rule in words, how it is known; what it was read from outside its range; whether to ask."""
        spread = f" {self.spread}" if self.spread else ""
        beyond = [f"beyond its range of {name.replace('_', ' ')}" for name, (low, high) in self.valid.items() if not low <= known[name] <= high]
        return "; ".join([f"first guess{spread}: {self.text}", self.how_known, *beyond, *(["to be asked"] if self.ask else [])])


@dataclass(frozen=True)
class Row:
    """An item of a list: its name and what a rule says of it, by Term id; what is None is not written."""

    name: str
    values: dict


def row(name: str, **values) -> Row:
    """A Row with its values as keywords."""
    return Row(name, values)


def rule(**facts):
    """Decorate a function that gives the Term of its name. Raises ValueError where there is no such Term."""
    def make(run: Callable) -> Rule:
        if run.__name__ not in terms():
            raise ValueError(f"rule '{run.__name__}' is no Term")
        return _made(run, "term", **facts)
    return make


def rows(key: str, **facts):
    """Decorate a function that gives rows, by id, of the list with that key. Raises KeyError where there is no such list."""
    return lambda run: _made(run, "rows", axis=lists_by_key()[key].axis, **facts)


def quantity(**facts):
    """Decorate a function that gives what other rules need and no project writes. Raises ValueError where it has the name of a Term."""
    def make(run: Callable) -> Rule:
        if run.__name__ in terms():
            raise ValueError(f"quantity '{run.__name__}' is a Term")
        return _made(run, "", **facts)
    return make


def _made(run: Callable, gives: str, **facts) -> Rule:
    text = " ".join(inspect.getdoc(run).split()).removesuffix(".")
    return Rule(run.__name__, run, tuple(inspect.signature(run).parameters), text, gives, **facts)
