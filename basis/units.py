"""Units: a closed list with our own meanings, text to SI numbers at the door, SI numbers to shown text.

The only importer of pint. Anything that is not on the list is a fault: pint alone would read `cfm` as
centi-femto-metres and `1500 rpm` as 157 Hz. Affine temperatures (degC) and differences (K, delta_degC) are told apart.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache

import pint

from basis.faults import nearest_name

CURRENCIES = ("EUR", "USD", "GBP", "CHF", "CAD", "AUD", "NZD", "JPY", "INR", "ZAR")

# Base names a unit may be built from: our text -> pint expression. Kinds follow below.
_NAMES = {
    # length, area, volume
    "m": "m", "mm": "mm", "cm": "cm", "km": "km", "um": "um", "in": "inch", "ft": "foot", "kft": "1000 foot", "yd": "yard", "mile": "mile",
    "kcmil": "506.7074790974977 * um**2 * 1000", "L": "liter", "mL": "mL", "gal": "3.785411784 liter", "gallon": "3.785411784 liter",
    "pint": "0.473176473 liter", "acre": "4046.8564224 m**2",
    # time
    "s": "s", "ms": "ms", "min": "min", "h": "hour", "d": "day", "day": "day", "week": "week", "a": "8760 hour", "year": "8760 hour",
    # mass, force, pressure
    "kg": "kg", "g": "g", "mg": "mg", "t": "1000 kg", "lb": "pound", "oz": "ounce", "N": "N", "kN": "kN", "lbf": "lbf",
    "Pa": "Pa", "kPa": "kPa", "MPa": "MPa", "hPa": "hPa", "bar": "bar", "mbar": "mbar", "psi": "psi", "atm": "atm",
    "inH2O": "249.08891 Pa", "inHg": "3386.389 Pa", "mmH2O": "9.80665 Pa",
    # power, energy
    "W": "W", "kW": "kW", "MW": "MW", "GW": "GW", "hp": "745.69987158227022 W", "J": "J", "kJ": "kJ", "MJ": "MJ", "GJ": "GJ",
    "Wh": "W*hour", "kWh": "kW*hour", "MWh": "MW*hour", "Btu": "1055.05585262 J", "MBH": "293.07107017222 W",
    "VA": "W", "kVA": "kW", "MVA": "MW", "var": "W", "kvar": "kW", "Mvar": "MW", "tonR": "3516.8528420667 W",
    # electricity
    "A": "A", "mA": "mA", "kA": "kA", "V": "V", "kV": "kV", "mV": "mV", "ohm": "ohm", "mohm": "mohm", "kohm": "kohm",
    "F": "F", "uF": "uF", "nF": "nF", "H": "henry", "mH": "millihenry", "Ah": "A*hour", "S": "siemens",
    # temperature (differences here; affine ones below)
    "K": "K", "delta_degC": "K", "delta_degF": "K * 5 / 9",
    # rates
    "Hz": "1/s", "kHz": "1000/s", "rpm": "1/min", "cfm": "foot**3/min", "gpm": "3.785411784 liter/min", "Nm": "N*m",
    # levels, angles and plain ratios
    "dB": "", "dBA": "", "%": "0.01", "ppm": "1e-6", "pu": "", "rad": "", "deg": "0.017453292519943295", "1": "",
    "cur": "cur", "mol": "mol", "cP": "0.001 Pa*s", "cSt": "mm**2/s", "in2": "inch**2",
}
_AFFINE = {"degC": (1.0, 273.15), "degF": (5 / 9, 459.67 * 5 / 9)}
_SPELLINGS = {"°C": "degC", "°F": "degF", "Ω": "ohm", "µm": "um", "m²": "m^2", "m³": "m^3", "mm²": "mm^2", "l": "L", "usgal": "gal",
              "ft3": "ft^3", "m3": "m^3", "m2": "m^2", "mm2": "mm^2", "in.w.g.": "inH2O", "inwg": "inH2O", "N·m": "Nm", "yr": "year"}
# Units that mean one kind only, though their dimension is shared with others.
_KINDS = {"VA": "apparent power", "kVA": "apparent power", "MVA": "apparent power", "var": "reactive power", "kvar": "reactive power",
          "Mvar": "reactive power", "rpm": "rotational frequency", "dB": "level", "dBA": "level", "Nm": "torque",
          "degC": "temperature", "degF": "temperature", "delta_degC": "temperature difference", "delta_degF": "temperature difference"}
_STRICT_KINDS = {"apparent power", "reactive power", "level", "temperature", "temperature difference", "rotational frequency", "torque"}
_PRETTY = {"A*s^0.5/mm^2": "A·√s/mm²", "degC": "°C", "degF": "°F", "delta_degC": "K", "delta_degF": "°F (difference)", "ohm": "Ω", "mohm": "mΩ", "kohm": "kΩ", "um": "µm",
           "uF": "µF", "ft^3/min": "ft³/min", "inH2O": "in H₂O", "inHg": "in Hg", "rpm": "r/min", "gal": "US gal", "gpm": "US gal/min", "Nm": "N·m",
           "year": "years", "a": "a", "d": "days", "1": "", "pu": "p.u.", "tonR": "ton of refrigeration", "deg": "°"}
_NUMBER = re.compile(r"[+-]?(?:\d[\d_ ]*\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")


class UnitError(ValueError):
    """A unit that cannot be accepted: `what` is wrong, what was `expected`, and the `nearest` accepted unit."""

    def __init__(self, what: str, expected: str = "", nearest: str = ""):
        self.what, self.expected, self.nearest = what, expected, nearest
        super().__init__(what)


@dataclass(frozen=True)
class Unit:
    """An accepted unit: SI value = number * factor + offset. `dimension` is a tuple of exponents; `kind` may be empty."""

    text: str
    factor: float
    offset: float
    dimension: tuple
    kind: str


_BASES = ("[length]", "[mass]", "[time]", "[current]", "[temperature]", "[substance]", "[money]")
DIMENSIONLESS = (0.0,) * len(_BASES)


@lru_cache(maxsize=1)
def registry() -> pint.UnitRegistry:
    """The one pint registry, built at first use and not altered after."""
    made = pint.UnitRegistry(autoconvert_offset_to_baseunit=False)
    made.define("cur = [money]")
    return made


@lru_cache(maxsize=None)
def _base_unit(name: str) -> tuple[float, tuple]:
    expression = _NAMES[name]
    if not expression:
        return 1.0, DIMENSIONLESS
    quantity = registry().Quantity(1.0, "dimensionless") if expression == "" else registry().Quantity(registry().parse_expression(expression)).to_base_units()
    dimensionality = dict(quantity.dimensionality)
    return _si_factor(quantity), tuple(float(dimensionality.get(base, 0)) for base in _BASES)


def _si_factor(quantity) -> float:
    # pint's base unit of mass is the gram-based kilogram already; money has factor one.
    return float(quantity.magnitude)


@lru_cache(maxsize=None)
def unit(text: str) -> Unit:
    """The accepted unit written as `text`, such as "m^3/s", "kJ/(kg*K)" or "degC". Raises UnitError."""
    plain = _SPELLINGS.get(text.strip(), text.strip()) or "1"
    if plain in _AFFINE:
        factor, offset = _AFFINE[plain]
        return Unit(plain, factor, offset, _base_unit("K")[1], "temperature")
    factor, dimension = 1.0, DIMENSIONLESS
    for name, power in _parts(plain):
        base_factor, base_dimension = _base_unit(name)
        factor *= base_factor ** power
        dimension = tuple(have + power * more for have, more in zip(dimension, base_dimension))
    return Unit(plain, factor, 0.0, dimension, _KINDS.get(plain, ""))


def _parts(text: str) -> list[tuple[str, float]]:
    """Names and powers of a unit text; `/` divides only by the name or bracket that follows it."""
    tokens = re.findall(r"[A-Za-zµΩ%°_][A-Za-zµΩ%°_0-9]*|\^-?\d+(?:\.\d+)?|[*/()·]|-?\d+(?:\.\d+)?|\S", text)
    parts, rest = _product(tokens, text)
    if rest:
        raise UnitError(f"unit '{text}' has a bracket too many", "a unit such as kJ/(kg*K)")
    return parts


def _product(tokens: list, text: str) -> tuple[list, list]:
    """Factors up to the end or to a closing bracket, and the tokens that are left."""
    parts, sign = [], 1.0
    while tokens and tokens[0] != ")":
        token, tokens = tokens[0], tokens[1:]
        if token in "*·/":
            sign = -1.0 if token == "/" else 1.0
            continue
        if token == "(":
            inner, tokens = _product(tokens, text)
            if not tokens:
                raise UnitError(f"unit '{text}' has an open bracket", "a unit such as kJ/(kg*K)")
            tokens = tokens[1:]
        else:
            inner = [(_known(token, text), 1.0)]
        power = 1.0
        if tokens and tokens[0].startswith("^"):
            power, tokens = float(tokens[0][1:]), tokens[1:]
        parts += [(name, sign * power * exponent) for name, exponent in inner]
        sign = 1.0
    return parts, tokens


def _known(name: str, text: str) -> str:
    name = _SPELLINGS.get(name, name)
    if name in CURRENCIES:
        return "cur"
    if name in _NAMES:
        return name
    if name in _AFFINE:
        raise UnitError(f"'{text}' divides by or multiplies a temperature scale", "a difference such as K or delta_degF", text.replace(name, "K"))
    by_case = {known.lower(): known for known in _NAMES}
    raise UnitError(f"unknown unit '{text}'", "a unit that this program knows",
                    by_case.get(name.lower()) or nearest_name(name, [*_NAMES, *_AFFINE, *CURRENCIES]))


def split_number(text: str) -> tuple[float, str]:
    """`12.5 m^3/s` -> (12.5, "m^3/s"). Raises UnitError when it does not start with a finite number."""
    match = _NUMBER.match(text.strip())
    if not match or re.match(r"[+-]?(nan|inf)", text.strip(), re.IGNORECASE):
        raise UnitError(f"'{text}' is not a number with a unit", "a finite number and a unit, such as 12.5 m^3/s")
    number = float(re.sub(r"[ _]", "", match.group()))
    if not math.isfinite(number):
        raise UnitError(f"'{text}' is not finite", "a finite number")
    return number, text.strip()[match.end():].strip()


def to_si(number: float, unit_text: str, wanted: str, kind: str = "") -> float:
    """`number` in `unit_text` as SI, for a quantity computed in `wanted` and of `kind`. Raises UnitError."""
    if not unit_text and wanted not in ("1", "dB"):
        raise UnitError(f"{number:g} has no unit", f"a unit such as {wanted if kind != 'temperature' else 'degC'}")
    have, want = unit(unit_text or wanted), unit(wanted)
    if have.dimension != want.dimension:
        raise UnitError(f"{number:g} {unit_text} is of the wrong dimension", f"{_describe(wanted, kind)}")
    if _kind_clash(have, kind):
        raise UnitError(f"{number:g} {unit_text} is a{'n' if (have.kind or 'x')[0] in 'aeiou' else ''} {have.kind or 'quantity'} unit",
                        _describe(wanted, kind), _same_kind_unit(kind))
    return number * have.factor + have.offset


def _kind_clash(have: Unit, kind: str) -> bool:
    if have.kind == kind or (have.text == "1" and kind == "level"):
        return False
    if have.kind in _STRICT_KINDS:
        return True
    return kind in ("apparent power", "reactive power") and have.text in ("W", "kW", "MW", "hp")


def _same_kind_unit(kind: str) -> str:
    return {"apparent power": "kVA", "reactive power": "kvar", "temperature difference": "K", "temperature": "degC",
            "active power": "kW", "frequency": "Hz", "rotational frequency": "rpm", "energy": "kWh", "torque": "Nm"}.get(kind, "")


def _describe(wanted: str, kind: str) -> str:
    examples = [name for name in ("kW", "kVA", "m^3/s", "m/s", "Pa", "K", "degC", "kg/s", "kWh", "V", "A", "mm^2") if
                unit(name).dimension == unit(wanted).dimension and not _kind_clash(unit(name), kind)]
    return f"{kind or 'a unit'} such as {examples[0] if examples else wanted}"


def from_si(number, unit_text: str):
    """SI number (or array) in `unit_text`."""
    this = unit(unit_text)
    return (number - this.offset) / this.factor


def pretty(unit_text: str, currency: str = "") -> str:
    """The unit as a reader sees it: m³/s, °C, kJ/(kg·K)."""
    if unit_text in _PRETTY:
        return _PRETTY[unit_text]
    shown = unit_text.replace("*", "·").replace("ohm", "Ω").replace("delta_degF", "°F").replace("inH2O", "in H₂O").replace("degF", "°F")
    for power, sign in (("^-1", "⁻¹"), ("^2", "²"), ("^3", "³"), ("^4", "⁴")):
        shown = shown.replace(power, sign)
    return re.sub(r"\bcur\b", currency or "cur", shown)


def format_number(number: float, digits: int = 3) -> str:
    """`digits` significant digits, thin spaces between thousands, no exponent between 1e-4 and 1e9."""
    if number == 0:
        return "0"
    if not math.isfinite(number):
        return "not given" if math.isnan(number) else "unbounded"
    magnitude = math.floor(math.log10(abs(number)))
    if magnitude < -4 or magnitude >= 9:
        mantissa, exponent = f"{number:.{digits - 1}e}".split("e")
        return f"{mantissa} × 10{_superscript(int(exponent))}".replace("-", "−")
    decimals = digits - 1 - math.floor(math.log10(abs(float(f"{number:.{digits - 1}e}"))))  # 999.96 rounds up to a further digit
    text = f"{round(number, decimals):,.{max(decimals, 0)}f}"
    if decimals > 0 and number == round(number) and digits >= 4:
        text = f"{number:,.0f}"
    return text.replace(",", "\u202f").replace("-", "−")


def _superscript(exponent: int) -> str:
    return "".join("⁻" if sign == "-" else "⁰¹²³⁴⁵⁶⁷⁸⁹"[int(sign)] for sign in str(exponent))


def quantity(number, unit_text: str):
    """A pint quantity in SI units, used by tests and by the benchmark: never in a run."""
    dimension = unit(unit_text).dimension
    made = registry().Quantity(number)
    for exponent, name in zip(dimension, ("m", "kg", "s", "A", "K", "mol", "cur")):
        if exponent:
            made = made * registry().Unit(name) ** exponent
    return made
