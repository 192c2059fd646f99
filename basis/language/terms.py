"""Term: a quantity that can have a value. Listed: a list over whose items values run. Each chapter declares its own, in its terms.py.

Chapters meet through Terms: a formula names them by id.
"""

from __future__ import annotations

import math
from dataclasses import MISSING, asdict, dataclass, fields
from functools import cached_property, lru_cache
from importlib import import_module
from itertools import pairwise
from pathlib import Path

import numpy as np

from basis.language import units, user_cache
from basis.language.days import FIRST_DAY, LAST_DAY
from basis.language.faults import nearest_name

DIFFERENCES = ("level", "temperature difference")  # kinds that are negative as often as not
AT_MOST_ONE = ("_share", "_efficiency", "power_factor")  # ends of ids of numbers that are a part of one whole
FRACTION = 1e-3  # of one, by which a count may miss a whole number: 428.6 r/min stands for three thousand over seven
ROUNDING = 1e-9  # of the bound or of one SI unit; what floats may miss a bound by
TEXTS = ("choice", "text", "reference")  # in place of a unit: the value is not a number


@dataclass(frozen=True)
class Listed:
    """A list over whose items values run: its axis, which Terms and formulas name, and the key under which a project lists the items.

    fixed: ids of the items where no project lists them. limits: the items are limits: without one a limit is missing, which is not the
    same as nothing to check.
    """

    axis: str
    key: str
    fixed: tuple = ()
    limits: bool = False


@dataclass(frozen=True)
class UsualOption:
    """One way to build it: what one does without, and the inputs that it sets by Term, each a text as a project writes it or what it says in braces; of
    items those of the first.
    """

    id: str
    name: str
    gives_up: str
    sets: dict


@dataclass(frozen=True)
class UsualDecision:
    """What plants usually have to decide in the field of a chapter; a project's file is begun with it, written out."""

    id: str
    name: str
    options: tuple[UsualOption, ...]


@dataclass(frozen=True)
class Term:
    """A quantity: id, symbol, unit of computing (coherent SI), name, meaning.

    shown: the SI unit shown and, if another is customary there, the US unit. digits: significant digits shown.
    kind: keeps apart what has one dimension but not one meaning. axes: what the value runs over. low, high: physical
    range in SI, inclusive, of inputs and of results; a Term without `low` is not negative unless it is `signed`, and a share, an efficiency
    or a power factor is at most one unless `high` says otherwise. default: text with unit, with its source. constant: projects may not
    change the default. whole: it counts in whole numbers.
    optional: a missing input makes what needs it undecided. either: normally computed, but a project may give it; with a
    default, that stands where the chapter that computes it is not in the book. absent: why a computed value may not exist,
    in words; its formula then yields `nothing`, which is not the same as an input that is not given; of an input over a fixed list, why
    one of its numbers may be `not given`. lacking: what stands for such a number, in words; it is then an assumption.
    at_most: an upper bound, shown as such: "≤ 47.4".
    needs_list: the axis of a list without any item of which it cannot be computed: that is then a fault.
    sample: what a project may write, to show the form, where neither a default nor an example beside a formula does; of items, two with ; between.
    chapter: of a choice that says whether this chapter is in the book: the first word if it is, else the default.
    """

    id: str
    symbol: str
    unit: str
    name: str
    meaning: str
    shown: tuple = ()
    digits: int = 3
    kind: str = ""
    axes: tuple = ()
    low: float | None = None
    high: float | None = None
    signed: bool = False
    default: str | None = None
    source: str = ""
    constant: bool = False
    optional: bool = False
    either: bool = False
    whole: bool = False
    choices: tuple = ()
    refers_to: str = ""
    table: str = ""
    absent: str = ""
    chapter: str = ""
    lacking: str = ""
    at_most: bool = False
    needs_list: str = ""
    sample: str = ""

    @cached_property
    def is_text(self) -> bool:
        """Whether the value is a word or a text, not a number."""
        return self.unit in TEXTS

    @property
    def required(self) -> bool:
        """Whether a missing one is a fault, where a formula of the book asks for it."""
        return self.default is None and not self.optional and not self.either

    @cached_property
    def bounds(self) -> tuple[float, float]:
        """Physical range in SI, inclusive, infinite where there is none."""
        low, high = self.low, self.high
        if low is None:
            low = FIRST_DAY if self.kind == "date" else -math.inf if self.signed or self.kind in DIFFERENCES else 0.0
        if high is None:
            high = LAST_DAY if self.kind == "date" else 1.0 if self.unit == "1" and self.id.endswith(AT_MOST_ONE) else math.inf
        return low, high

    @cached_property
    def _allowed(self) -> tuple[float, float]:
        """The bounds with room for rounding, also where large numbers of one size are subtracted."""
        room = ROUNDING * max(1.0, *(abs(bound) for bound in self.bounds if math.isfinite(bound)), 0.0)
        return self.bounds[0] - room, self.bounds[1] + room

    def outside(self, data) -> bool:
        """Whether an SI number, or any of an array, lies outside the physical range; what is not given does not."""
        least, most = self._allowed
        if isinstance(data, float):
            return data < least or data > most or (self.whole and abs(data - np.round(data)) > FRACTION)
        if np.size(data) and (np.fmin.reduce(data, axis=None) < least or np.fmax.reduce(data, axis=None) > most):
            return True
        return bool(self.whole and np.any(abs(data - np.round(data)) > FRACTION))

    @property
    def range_text(self) -> str:
        """The physical range in words, in the SI unit shown; whole numbers for a count."""
        return self.range_in("si")

    def range_in(self, system: str) -> str:
        """The physical range in words, in the unit of "si" or "us"."""
        return f"a whole number, {self._bounds_text(system)}" if self.whole else self._bounds_text(system)

    def _bounds_text(self, system: str) -> str:
        unit = self.unit_in(system)
        low, high = (f"{units.format_si(bound, unit, 4)} {units.pretty(unit, 'currency')}".strip() for bound in self.bounds)
        if math.isinf(self.bounds[1]):
            return f"at least {low}"
        return f"at most {high}" if math.isinf(self.bounds[0]) else f"{low} to {high}"

    @property
    def si_unit(self) -> str:
        """The unit shown to readers of SI."""
        return self.shown[0] if self.shown else self.unit

    @property
    def us_unit(self) -> str:
        """The unit shown to readers of US customary units."""
        return self.shown[-1] if self.shown else self.unit

    def unit_in(self, system: str) -> str:
        """The unit shown to readers of "si" or "us"."""
        return self.si_unit if system == "si" else self.us_unit

    @cached_property
    def kind_asked(self) -> str:
        """The kind that a unit must have to be accepted: an angle is told from a ratio by the unit in which it is shown."""
        return "angle" if self.si_unit in ("deg", "rad") else self.kind

    @cached_property
    def own_axes(self) -> tuple:
        """Axes whose items a project lists; without any, one key gives the whole of it."""
        return tuple(axis for axis in self.axes if not listed(axis).fixed)

    @cached_property
    def fixed_axis(self) -> str:
        """The last axis, if its items are those of the book; else an empty text."""
        return self.axes[-1] if self.axes and listed(self.axes[-1]).fixed else ""

    def default_data(self):
        """SI data of the default, the same object each time. Raises UnitError when it does not fit the Term: a programmer's mistake."""
        return self._default_data

    @cached_property
    def _default_data(self):
        if self.is_text:
            return self.default
        parts = [units.split_number(part.strip()) for part in self.default.split(",")]
        numbers = [units.to_si(number, unit_text, self.unit, self.kind_asked) for number, unit_text in parts]
        if not self.fixed_axis:
            return numbers[0]
        return np.array(numbers) if len(numbers) > 1 else np.full(len(listed(self.fixed_axis).fixed), numbers[0])

    @cached_property
    def dimension(self) -> tuple:
        """Exponents of the base dimensions."""
        return units.DIMENSIONLESS if self.is_text else units.unit(self.unit).dimension


@lru_cache(maxsize=1)
def terms() -> dict[str, Term]:
    """All Terms by id. Raises ValueError on a double id, an unknown axis or kind, or a unit shown that does not fit."""
    found: dict[str, Term] = {}
    for chapter in _declared().values():
        for term in chapter.TERMS:
            if not _kept():
                _validate(term, found)
            found[term.id] = term
    if not _kept():
        user_cache.keep_of_program("terms", {name: {"TERMS": [_stated(one) for one in chapter.TERMS], "LISTS": [_stated(one) for one in chapter.LISTS],
                                                    "DECISIONS": [asdict(one) for one in chapter.DECISIONS]} for name, chapter in _declared().items()})
    return found


@lru_cache(maxsize=1)
def homes() -> dict[str, str]:
    """Term id -> the chapter that lists it, which shows it when it is an input."""
    return {term.id: name for name, chapter in _declared().items() for term in chapter.TERMS}


@lru_cache(maxsize=1)
def lists_by_axis() -> dict[str, Listed]:
    """All lists by axis, in the order in which arrays hold the axes: by chapter and as written, those with fixed items last; but where a Term names one
    axis before another, in that order. Raises ValueError on an axis or key that is there already, or where Terms differ about the order.
    """
    found: dict[str, Listed] = {}
    for chapter in _declared().values():
        for one in chapter.LISTS:
            if one.axis in found or one.key in {other.key for other in found.values()}:
                raise ValueError(f"list '{one.key}' of '{one.axis}' is there already")
            found[one.axis] = one
    return {axis: found[axis] for axis in _as_named(sorted(found, key=lambda axis: bool(found[axis].fixed)))}


def listed(axis: str) -> Listed:
    """The list of that axis. Raises KeyError when there is none."""
    return lists_by_axis()[axis]


def list_key(axis: str) -> str:
    """The key of the list of that axis; of one that only another version of the program had, the axis."""
    return listed(axis).key if axis in lists_by_axis() else axis


@lru_cache(maxsize=1)
def lists_by_key() -> dict[str, Listed]:
    """The lists that a project writes, by their key."""
    return {one.key: one for one in lists_by_axis().values() if not one.fixed}


@lru_cache(maxsize=1)
def list_homes() -> dict[str, str]:
    """Axis -> the chapter that declares its list."""
    return {one.axis: name for name, chapter in _declared().items() for one in chapter.LISTS}


@lru_cache(maxsize=1)
def usual_decisions() -> dict[str, tuple[UsualDecision, ...]]:
    """Chapter -> its usual decisions. Raises ValueError where one sets what is no Term, or two set the same."""
    found = {name: chapter.DECISIONS for name, chapter in _declared().items()}
    sets = [(one.id, name) for decisions in found.values() for one in decisions for name in dict.fromkeys(key for option in one.options for key in option.sets)]
    names = [name for _, name in sets]
    if wrong := [f"{name} of decision '{one}'" for one, name in sets if name not in terms() or names.count(name) > 1]:
        raise ValueError(f"no Term, or set by two decisions: {', '.join(wrong)}")
    return found


def _as_named(axes) -> list[str]:
    """The axes in the order given, but each behind those that any Term names before it."""
    before: dict[str, list[str]] = {axis: [] for axis in axes}
    for named in dict.fromkeys(term.axes for chapter in _declared().values() for term in chapter.TERMS):
        for first, second in pairwise(axis for axis in named if axis in before):
            before[second].append(first)
    order: list[str] = []

    def place(axis: str, behind: tuple = ()) -> None:
        if axis in behind:
            raise ValueError(f"Terms name the axes {' and '.join(behind[behind.index(axis):])} now in one order, now in another")
        for other in before[axis]:
            place(other, (*behind, axis))
        if axis not in order:
            order.append(axis)
    for axis in axes:
        place(axis)
    return order


@dataclass(frozen=True)
class Declared:
    """What a chapter declares in its terms.py."""

    TERMS: tuple[Term, ...]
    LISTS: tuple[Listed, ...] = ()
    DECISIONS: tuple[UsualDecision, ...] = ()


@lru_cache(maxsize=1)
def _declared() -> dict[str, Declared]:
    """Chapter -> its Terms, lists and usual decisions, as an earlier run of this program kept them or as its module has them."""
    if _kept():
        usual = {each.name: each.default for each in fields(Term)}
        return {name: Declared(tuple(_as_kept(usual, one) for one in found["TERMS"]), tuple(Listed(**_tuples(one)) for one in found["LISTS"]),
                               tuple(_decision(one) for one in found["DECISIONS"])) for name, found in _kept().items()}
    names = sorted(path.parent.name for path in (Path(__file__).parent.parent / "chapters").glob("*/terms.py"))
    modules = {name: import_module(f"basis.chapters.{name}.terms") for name in names}
    return {name: Declared(module.TERMS, getattr(module, "LISTS", ()), getattr(module, "DECISIONS", ())) for name, module in modules.items()}


@lru_cache(maxsize=1)
def _kept() -> dict:
    return user_cache.recall_of_program("terms") or {}


def _stated(one: Term | Listed) -> dict:
    """The fields in which it differs from what is usual."""
    return {each.name: value for each in fields(one) if (value := getattr(one, each.name)) != each.default or each.default is MISSING}


def _as_kept(usual: dict, facts: dict) -> Term:
    """A Term from the fields in which it differs from what is usual; all are set at once, a third of the time that its own way takes for three thousand."""
    term = object.__new__(Term)
    vars(term).update(usual | _tuples(facts))
    return term


def _decision(facts: dict) -> UsualDecision:
    return UsualDecision(facts["id"], facts["name"], tuple(UsualOption(**option) for option in facts["options"]))


def _tuples(facts: dict) -> dict:
    return {name: tuple(value) if isinstance(value, list) else value for name, value in facts.items()}


def _validate(term: Term, found: dict) -> None:
    if term.id in found:
        raise ValueError(f"term '{term.id}' is listed twice")
    known = list(lists_by_axis())
    if unknown := [axis for axis in term.axes if axis not in known]:
        raise ValueError(f"term '{term.id}' runs over unknown axes {unknown}; nearest: {nearest_name(unknown[0], known)}")
    if any(listed(axis).fixed for axis in term.axes[:-1]):
        raise ValueError(f"term '{term.id}': an axis with fixed items must stand last")
    if term.id in lists_by_key():
        raise ValueError(f"term '{term.id}' is also the key of a list")
    if term.whole and (term.unit != "1" or term.shown not in ((), ("1",))):
        raise ValueError(f"term '{term.id}' counts and has a unit")
    if term.unit == "reference" and term.refers_to not in known:
        raise ValueError(f"term '{term.id}' refers to unknown axis '{term.refers_to}'")
    if term.kind not in units.KINDS:
        raise ValueError(f"term '{term.id}': unknown kind '{term.kind}'; expected one of {', '.join(units.KINDS[1:])}; "
                         f"nearest: {nearest_name(term.kind, units.KINDS[1:])}")
    if term.default is not None and not term.source:
        raise ValueError(f"term '{term.id}' has a default without a source")
    if not term.is_text:
        wrong = [shown for shown in term.shown if units.unit(shown).dimension != term.dimension]
        if wrong or units.unit(term.unit).factor != 1.0:
            raise ValueError(f"term '{term.id}': unit '{term.unit}' is not coherent SI, or {wrong} does not fit it")
