"""The ten facts from which a first project is guessed: a table of what is asked, and the reading of answers.

A fact has the unit and kind of a Term. Outside the range for which the rules hold it is refused: nothing is extrapolated.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from basis.language import units
from basis.language.faults import Fault, Faults
from basis.language.terms import Term, terms

KW = 1e3
ICE_POINT = 273.15  # K at 0 °C
MOST_LOAD = 2.0  # of what all sets give together
LEAST_SPAN = 10.0  # K, between the coldest and the hottest hour of a year


@dataclass(frozen=True)
class Fact:
    """One fact: its field of Facts, the Term whose unit and kind it has, the question, the range in SI for which the rules hold.

    usual: what is taken when nobody answers, from the facts before it. only: where no other value will do. why: what is outside the range, in words.
    clash: what is wrong with it beside the facts before it, and what was expected; two empty texts where nothing is.
    """

    key: str
    term_id: str
    question: str
    usual: Callable[[dict], str]
    low: float
    high: float
    only: tuple = ()
    why: str = ""
    clash: Callable[[float, dict], tuple[str, str]] = lambda value, known: ("", "")

    @property
    def option(self) -> str:
        """The option of `basis new`."""
        return "--" + self.key.replace("_", "-")

    @property
    def term(self) -> Term:
        """The Term whose unit and kind it has."""
        return terms()[self.term_id]

    @property
    def wanted(self) -> str:
        """The range in words, in the unit in which the Term is shown."""
        return " or ".join(map(self.shown, self.only)) if self.only else f"{self.shown(self.low)} to {self.shown(self.high)}"

    def shown(self, value: float) -> str:
        """A value as one would type it."""
        unit = self.term.si_unit
        return f"{round(units.from_si(value, unit), 4):.10g} {'' if unit == '1' else unit}".strip()


def _voltage(known: dict) -> str:
    return "480 V" if known["frequency"] > 55 else "400 V"


def _installed(known: dict) -> float:
    return known["sets"] * known["set_power"]


def _load(known: dict) -> str:
    return BY_KEY["load"].shown(0.7 * known["set_power"] * max(1, known["sets"] - 1))


def _span(hottest: float, known: dict) -> tuple[str, str]:
    coldest = known["coldest"]
    if hottest >= coldest + LEAST_SPAN:
        return "", ""
    return f"is not {LEAST_SPAN:g} K above the coldest, {BY_KEY['coldest'].shown(coldest)}", "the extremes of a year"


def _carried(load: float, known: dict) -> tuple[str, str]:
    most = MOST_LOAD * _installed(known)
    return ("", "") if load <= most else ("is more than twice what all sets give", f"at most {BY_KEY['load'].shown(most)}")


FACTS = (
    Fact("sets", "installed_sets", "Number of sets", lambda known: "2", 1, 12, why="the rules are for one room with a row of sets"),
    Fact("set_power", "set_rated_power", "Electrical power of a set", lambda known: "500 kW", 100 * KW, 3000 * KW,
         why="the rules are for high-speed four-stroke diesel sets of that size"),
    Fact("frequency", "power_frequency", "Frequency", lambda known: "50 Hz", 50, 60, only=(50.0, 60.0),
         why="the rules are for four poles at 1500 or 1800 r/min"),
    Fact("voltage", "generating_voltage", "Generating voltage", _voltage, 200, 15000, why="the rules for alternators and cables end there"),
    Fact("altitude", "altitude", "Height above the sea", lambda known: "100 m", -430, 3500, why="the rules of rating and of exhaust end there"),
    Fact("coldest", "outdoor_temperature_min", "Coldest outdoor air", lambda known: "-15 degC", ICE_POINT - 55, ICE_POINT + 25),
    Fact("hottest", "outdoor_temperature_max", "Hottest outdoor air", lambda known: "35 degC",
         ICE_POINT + 5, ICE_POINT + 45, why="the rules of rating and of exhaust end there", clash=_span),
    Fact("load", "load_connected_power", "Load to be carried", _load, 10 * KW, 40000 * KW, clash=_carried),
    Fact("receiver", "receptor_distance", "Distance to the nearest neighbour", lambda known: "60 m", 5, 2000,
         why="the rule of silencers is for points at some distance in the open"),
    Fact("limit", "period_limit", "Noise limit there", lambda known: "50 dBA", 25, 90),
)
BY_KEY = {fact.key: fact for fact in FACTS}
US_UNITS = frozenset(("ft", "in", "yd", "mile", "degF", "hp"))


@dataclass(frozen=True)
class Facts:
    """The ten facts in SI (temperatures in K, powers in W), each as it was written, and which of them nobody gave."""

    sets: float
    set_power: float
    frequency: float
    voltage: float
    altitude: float
    coldest: float
    hottest: float
    load: float
    receiver: float
    limit: float
    written: dict
    taken: frozenset = frozenset()

    @property
    def us(self) -> bool:
        """Whether any fact was typed in a US customary unit: guesses are then written so too."""
        return any(units.split_number(text)[1] in US_UNITS for key, text in self.written.items() if key not in self.taken)


def read_fact(fact: Fact, text: str, known: dict) -> float:
    """A fact in SI. Raises Faults: no number, no unit, another unit, outside the range for which the rules hold, a clash with the facts before it, if known."""
    try:
        number, unit = units.split_number(text)
        value = units.to_si(number, unit, fact.term.unit, fact.term.kind_asked)
    except units.UnitError as trouble:
        raise _fault(fact, text, trouble.what, trouble.expected, trouble.nearest) from None
    if fact.term.whole and value != round(value):
        raise _fault(fact, text, "is no whole number", f"a whole number, {fact.wanted}")
    if not fact.low <= value <= fact.high or fact.only and value not in fact.only:
        raise _fault(fact, text, "is outside the range of the first guesses" + (f": {fact.why}" if fact.why else ""), fact.wanted)
    if known and (wrong := fact.clash(value, known))[0]:
        raise _fault(fact, text, *wrong)
    return value


def read_facts(texts: dict[str, str]) -> Facts:
    """Facts from what was written, by key; those left out take what is usual. Raises Faults with all that is wrong, and where two do not fit each other."""
    known, written, faults = {}, {}, []
    for fact in FACTS:
        usually = usual(fact, known)
        written[fact.key] = texts.get(fact.key, usually)
        try:
            known[fact.key] = read_fact(fact, written[fact.key], {} if faults else known)
        except Faults as found:
            faults += found.faults
            known[fact.key] = read_fact(fact, usually, {})
    if faults:
        raise Faults(faults)
    return Facts(**known, written=written, taken=frozenset(known) - set(texts))


def usual(fact: Fact, known: dict) -> str:
    """What is usual, given the facts before it, as one would type it; never outside the range of the rules."""
    text = fact.usual(known)
    number, unit = units.split_number(text)
    value = units.to_si(number, unit, fact.term.unit, fact.term.kind_asked)
    return text if fact.low <= value <= fact.high else fact.shown(min(max(value, fact.low), fact.high))


def _fault(fact: Fact, text: str, what: str, expected: str, nearest: str = "") -> Faults:
    return Faults([Fault("new", 0, f"{fact.option} '{text}': {what}", expected, nearest)])
