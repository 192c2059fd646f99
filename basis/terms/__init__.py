"""Term: a quantity that can have a value. All Terms are listed in the modules of this folder, one subject a module.

Chapters meet through Terms: a formula names them by id. May import units only.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from importlib import import_module
from pathlib import Path

from basis import units

# Named axes over which a value may run, in the order in which arrays hold them -> the YAML list that names the items.
AXES = {
    "code": "codes", "signature": "signatures",
    "load": "loads", "motor": "motors", "load_step": "load_steps", "day_period": "day_periods", "running_case": "running_cases",
    "heat_source": "heat_sources", "opening": "openings", "air_element": "air_elements", "fan_point": "fan_points",
    "band": "bands",
}
BANDS = ("31_5_hz", "63_hz", "125_hz", "250_hz", "500_hz", "1000_hz", "2000_hz", "4000_hz", "8000_hz")
FIXED_ITEMS = {"band": BANDS}  # items that no project lists
TEXTS = ("choice", "text", "reference")  # in place of a unit: the value is not a number


@dataclass(frozen=True)
class Term:
    """A quantity: id, symbol, unit of computing (coherent SI), name, meaning.

    shown: the SI unit shown and, if another is customary there, the US unit. digits: significant digits shown.
    kind: keeps apart what has one dimension but not one meaning. axes: what the value runs over. low, high: physical
    range in SI, inclusive. default: text with unit, with its source. constant: projects may not change the default.
    optional: a missing input makes what needs it undecided. either: normally computed, but a project may give it.
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
    default: str | None = None
    source: str = ""
    constant: bool = False
    optional: bool = False
    either: bool = False
    choices: tuple = ()
    refers_to: str = ""
    table: str = ""

    @property
    def is_text(self) -> bool:
        """Whether the value is a word or a text, not a number."""
        return self.unit in TEXTS

    @property
    def si_unit(self) -> str:
        """The unit shown to readers of SI."""
        return self.shown[0] if self.shown else self.unit

    @property
    def us_unit(self) -> str:
        """The unit shown to readers of US customary units."""
        return self.shown[-1] if self.shown else self.unit

    @property
    def dimension(self) -> tuple:
        """Exponents of the base dimensions."""
        return units.DIMENSIONLESS if self.is_text else units.unit(self.unit).dimension


@lru_cache(maxsize=1)
def terms() -> dict[str, Term]:
    """All Terms by id. Raises ValueError on a double id, an unknown axis, or a unit shown that does not fit."""
    found: dict[str, Term] = {}
    for path in sorted(Path(__file__).parent.glob("*.py")):
        if path.stem.startswith("_"):
            continue
        for term in import_module(f"basis.terms.{path.stem}").TERMS:
            _validate(term, found)
            found[term.id] = term
    return found


@lru_cache(maxsize=1)
def homes() -> dict[str, str]:
    """Term id -> the module of this folder that lists it, which is the chapter that shows it when it is an input."""
    stems = [path.stem for path in sorted(Path(__file__).parent.glob("*.py")) if not path.stem.startswith("_")]
    return {term.id: stem for stem in stems for term in import_module(f"basis.terms.{stem}").TERMS}


def _validate(term: Term, found: dict) -> None:
    if term.id in found:
        raise ValueError(f"term '{term.id}' is listed twice")
    if unknown := [axis for axis in term.axes if axis not in AXES]:
        raise ValueError(f"term '{term.id}' runs over unknown axes {unknown}")
    if tuple(sorted(term.axes, key=list(AXES).index)) != tuple(term.axes):
        raise ValueError(f"term '{term.id}': axes must stand in the order of AXES")
    if term.unit == "reference" and term.refers_to not in AXES:
        raise ValueError(f"term '{term.id}' refers to unknown axis '{term.refers_to}'")
    if term.default is not None and not term.source:
        raise ValueError(f"term '{term.id}' has a default without a source")
    if not term.is_text:
        wrong = [shown for shown in term.shown if units.unit(shown).dimension != term.dimension]
        if wrong or units.unit(term.unit).factor != 1.0:
            raise ValueError(f"term '{term.id}': unit '{term.unit}' is not coherent SI, or {wrong} does not fit it")
