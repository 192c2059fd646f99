"""Units: a closed list with our own meanings, text to SI numbers at the door, SI numbers to shown text.

Anything that is not on the list is a fault: pint alone would read `cfm` as centi-femto-metres and `1500 rpm` as 157 Hz.
Affine temperatures (degC) and differences (K, delta_degC) are told apart. The only importer of pint, which tests and the benchmark ask for.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache, lru_cache

from basis.language.days import day_text, is_day, seconds_of
from basis.language.faults import nearest_name

CURRENCIES = ("EUR", "USD", "GBP", "CHF", "CAD", "AUD", "NZD", "JPY", "INR", "ZAR")

# Names that a unit may be built from -> how many of what, in base units. Kinds follow below.
_NAMES = {
    # length, area, volume
    "m": (1, "m"), "mm": (0.001, "m"), "cm": (0.01, "m"), "km": (1000, "m"), "um": (1e-6, "m"), "in": (0.0254, "m"), "ft": (0.3048, "m"), "kft": (304.8, "m"),
    "yd": (0.9144, "m"), "mile": (1609.344, "m"), "kcmil": (5.067074790974977e-7, "m^2"), "L": (0.001, "m^3"), "mL": (1e-6, "m^3"),
    "gal": (0.003785411784, "m^3"), "gallon": (0.003785411784, "m^3"), "pint": (0.000473176473, "m^3"), "acre": (4046.8564224, "m^2"),
    "in2": (0.00064516, "m^2"),
    # time
    "s": (1, "s"), "date": (1, "s"), "ms": (0.001, "s"), "min": (60, "s"), "h": (3600, "s"), "d": (86400, "s"), "day": (86400, "s"), "week": (604800, "s"),
    "a": (31536000, "s"), "year": (31536000, "s"),
    # mass, force, pressure
    "kg": (1, "kg"), "g": (0.001, "kg"), "mg": (1e-6, "kg"), "t": (1000, "kg"), "lb": (0.45359237, "kg"), "oz": (0.028349523125, "kg"), "N": (1, "kg*m/s^2"),
    "kN": (1000, "kg*m/s^2"), "lbf": (4.4482216152605, "kg*m/s^2"), "Pa": (1, "kg/(m*s^2)"), "kPa": (1000, "kg/(m*s^2)"), "MPa": (1e6, "kg/(m*s^2)"),
    "hPa": (100, "kg/(m*s^2)"), "bar": (1e5, "kg/(m*s^2)"), "mbar": (100, "kg/(m*s^2)"), "psi": (6894.757293168361, "kg/(m*s^2)"),
    "atm": (101325, "kg/(m*s^2)"),
    "inH2O": (249.08891, "kg/(m*s^2)"), "inHg": (3386.389, "kg/(m*s^2)"), "mmH2O": (9.80665, "kg/(m*s^2)"),
    # power, energy
    "W": (1, "kg*m^2/s^3"), "kW": (1000, "kg*m^2/s^3"), "MW": (1e6, "kg*m^2/s^3"), "GW": (1e9, "kg*m^2/s^3"), "hp": (745.69987158227022, "kg*m^2/s^3"),
    "J": (1, "kg*m^2/s^2"), "kJ": (1000, "kg*m^2/s^2"), "MJ": (1e6, "kg*m^2/s^2"), "GJ": (1e9, "kg*m^2/s^2"), "Wh": (3600, "kg*m^2/s^2"),
    "kWh": (3.6e6, "kg*m^2/s^2"), "MWh": (3.6e9, "kg*m^2/s^2"), "Btu": (1055.05585262, "kg*m^2/s^2"), "MBH": (293.07107017222, "kg*m^2/s^3"),
    "VA": (1, "kg*m^2/s^3"), "kVA": (1000, "kg*m^2/s^3"), "MVA": (1e6, "kg*m^2/s^3"), "var": (1, "kg*m^2/s^3"), "kvar": (1000, "kg*m^2/s^3"),
    "Mvar": (1e6, "kg*m^2/s^3"), "tonR": (3516.8528420667, "kg*m^2/s^3"),
    # electricity
    "A": (1, "A"), "mA": (0.001, "A"), "kA": (1000, "A"), "V": (1, "kg*m^2/(s^3*A)"), "kV": (1000, "kg*m^2/(s^3*A)"), "mV": (0.001, "kg*m^2/(s^3*A)"),
    "ohm": (1, "kg*m^2/(s^3*A^2)"), "mohm": (0.001, "kg*m^2/(s^3*A^2)"), "kohm": (1000, "kg*m^2/(s^3*A^2)"),
    "Mohm": (1e6, "kg*m^2/(s^3*A^2)"), "Gohm": (1e9, "kg*m^2/(s^3*A^2)"), "F": (1, "A^2*s^4/(kg*m^2)"),
    "uF": (1e-6, "A^2*s^4/(kg*m^2)"), "nF": (1e-9, "A^2*s^4/(kg*m^2)"), "H": (1, "kg*m^2/(s^2*A^2)"), "mH": (0.001, "kg*m^2/(s^2*A^2)"), "Ah": (3600, "A*s"),
    "S": (1, "A^2*s^3/(kg*m^2)"),
    # temperature (differences here; affine ones below)
    "K": (1, "K"), "delta_degC": (1, "K"), "delta_degF": (5 / 9, "K"),
    # rates
    "Hz": (1, "1/s"), "kHz": (1000, "1/s"), "rpm": (1 / 60, "1/s"), "cfm": (0.0283168465920 / 60, "m^3/s"), "gpm": (0.003785411784 / 60, "m^3/s"),
    "Nm": (1, "kg*m^2/s^2"),
    "cP": (0.001, "kg/(m*s)"), "cSt": (1e-6, "m^2/s"),
    # levels, angles, plain ratios, amounts, money
    "dB": (1, "1"), "dBA": (1, "1"), "%": (0.01, "1"), "ppm": (1e-6, "1"), "pu": (1, "1"), "rad": (1, "1"), "deg": (0.017453292519943295, "1"), "1": (1, "1"),
    "cur": (1, "cur"), "mol": (1, "mol"),
}
_AFFINE = {"degC": (1.0, 273.15), "degF": (5 / 9, 459.67 * 5 / 9)}
_SPELLINGS = {"°C": "degC", "°F": "degF", "l": "L", "usgal": "gal", "US gal": "gal", "US gal/min": "gpm", "in.w.g.": "inH2O", "inwg": "inH2O", "yr": "year"}
# Units that mean one kind only, though their dimension is shared with others.
_KINDS = {"VA": "apparent power", "kVA": "apparent power", "MVA": "apparent power", "var": "reactive power", "kvar": "reactive power",
          "Mvar": "reactive power", "rpm": "rotational frequency", "dB": "level", "dBA": "level", "Nm": "torque", "N*m": "torque",
          "deg": "angle", "rad": "angle", "date": "date",
          "degC": "temperature", "degF": "temperature", "delta_degC": "temperature difference", "delta_degF": "temperature difference"}
KINDS = ("", *dict.fromkeys(_KINDS.values()), "active power", "heat flow", "frequency", "energy")  # a Term has one of these
_STRICT_KINDS = {"apparent power", "reactive power", "level", "temperature", "temperature difference", "rotational frequency", "torque", "angle", "date"}
SCALES = {"temperature": "temperature difference", "date": ""}  # kinds without a true nought -> the kind of what lies between two of them
_PRETTY = {"A*s^0.5/mm^2": "A·√s/mm²", "degC": "°C", "degF": "°F", "delta_degC": "K", "delta_degF": "°F (difference)", "ohm": "Ω", "mohm": "mΩ", "kohm": "kΩ",
           "Mohm": "MΩ", "Gohm": "GΩ",
           "um": "µm",
           "uF": "µF", "uF/km": "µF/km", "uF/kft": "µF/kft", "ft^3/min": "ft³/min", "inH2O": "in H₂O", "inHg": "in Hg", "rpm": "r/min",
           "gpm": "gal/min", "Nm": "N·m",
           "date": "", "year": "years", "a": "a", "d": "days", "1": "", "pu": "p.u.", "tonR": "ton of refrigeration", "deg": "°"}
_BETWEEN = {"degC": "K", "degF": "°F", "delta_degF": "°F", "dBA": "dB"}
_NUMBER = re.compile(r"[+-]?(?:\d+(?:[_ ]\d{3}(?!\d))*(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?", re.ASCII)  # 12 500.5: spaces join groups of three only
# What the book prints and keyboards do not: it is read back as it stands.
_RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_SPACES = str.maketrans("\u00a0\u2007\u2009\u202f", "    ")
_LETTERS = str.maketrans({"·": "*", "Ω": "ohm", "\u2126": "ohm", "µ": "u", "μ": "u"})
_PRINTED = {shown: text for text, shown in _PRETTY.items() if shown and text != "delta_degC"}
_TEN = re.compile(r"\s*[×x]\s*10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)")
_UNIT_EXAMPLE = "a unit such as kJ/(kg*K)"
LONGEST_UNIT, LARGEST_POWER = 60, 12  # characters; of a name in a unit


class UnitError(ValueError):
    """A unit that cannot be accepted: `what` is wrong, what was `expected`, and the `nearest` accepted unit."""

    def __init__(self, what: str, expected: str = "", nearest: str = ""):
        self.what, self.expected, self.nearest = what, expected, nearest
        super().__init__(what)


class OtherUnit(UnitError):
    """A unit that is not there, is not known at all, or is none of the quantity: whoever knows the quantity can say in which units it is written."""


@dataclass(frozen=True)
class Unit:
    """An accepted unit: SI value = number * factor + offset. `dimension` is a tuple of exponents; `kind` may be empty."""

    text: str
    factor: float
    offset: float
    dimension: tuple
    kind: str


_BASE_UNITS = {"m": "[length]", "kg": "[mass]", "s": "[time]", "A": "[current]", "K": "[temperature]", "mol": "[substance]", "cur": "[money]"}
DIMENSIONLESS = (0.0,) * len(_BASE_UNITS)


@cache
def _in_base_units(name: str) -> tuple[float, tuple]:
    factor, text = _NAMES[name]
    powers = dict(_parts(text))
    return float(factor), tuple(powers.get(base, 0.0) for base in _BASE_UNITS)


@cache
def unit(text: str) -> Unit:
    """The accepted unit written as `text`, such as "m^3/s", "kJ/(kg*K)" or "degC". Raises UnitError."""
    plain = _plain(text)
    if plain in _AFFINE:
        factor, offset = _AFFINE[plain]
        return Unit(plain, factor, offset, _in_base_units("K")[1], "temperature")
    factor, dimension = 1.0, DIMENSIONLESS
    for name, power in _parts(plain):
        base_factor, base_dimension = _in_base_units(name)
        if abs(power) > LARGEST_POWER:
            raise UnitError(f"unit '{text}' holds the power {power:g}", f"powers up to {LARGEST_POWER}")
        factor *= base_factor ** power
        dimension = tuple(have + power * more for have, more in zip(dimension, base_dimension))
    if not 0 < factor < math.inf:
        raise UnitError(f"unit '{text}' is beyond all numbers", _UNIT_EXAMPLE)
    return Unit(plain, factor, 0.0, dimension, _KINDS.get(plain, ""))


def _plain(text: str) -> str:
    """A unit as the book prints it or as people type it, in the letters of a keyboard: m³/s, W/(m²·K), °F (difference), in H₂O."""
    text = " ".join(text.translate(_SPACES).split())
    if len(text) > LONGEST_UNIT:
        raise UnitError(f"unit '{text[:20]}…' has {len(text)} characters", f"at most {LONGEST_UNIT}")
    if text in _PRINTED:
        return _PRINTED[text]
    plain = re.sub(r"[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+", lambda power: "^" + power.group().translate(_RAISED), text).translate(_LETTERS)
    plain = re.sub(r"\b(mm|cm|m|ft|in)([23])\b", r"\1^\2", plain.replace("in H₂O", "inH2O"))
    if re.search(r"[*/^]", plain):  # in a product a degree is a difference
        plain = plain.replace("°C", "delta_degC").replace("°F", "delta_degF")
    return _SPELLINGS.get(plain, f"1{plain}" if plain.startswith("/") else plain) or "1"


def _parts(text: str) -> list[tuple[str, float]]:
    """Names and powers of a unit text; `/` divides only by the name or bracket that follows it."""
    tokens = re.findall(r"[A-Za-z%_][A-Za-z%_0-9]*|\^-?\d+(?:\.\d+)?|[*/()]|-?\d+(?:\.\d+)?|\S", text, re.ASCII)
    parts, rest = _product(tokens, text)
    if rest:
        raise UnitError(f"unit '{text}' has a bracket too many", _UNIT_EXAMPLE)
    return parts


def _product(tokens: list, text: str) -> tuple[list, list]:
    """Factors up to the end or to a closing bracket, and the tokens that are left."""
    parts, tokens = _factor(tokens, text)
    while tokens and tokens[0] != ")":
        if tokens[0] not in ("*", "/"):
            raise OtherUnit(f"unit '{text}' cannot be read at '{tokens[0]}'", f"* or / between units, {_UNIT_EXAMPLE}")
        sign = -1.0 if tokens[0] == "/" else 1.0
        more, tokens = _factor(tokens[1:], text)
        parts += [(name, sign * power) for name, power in more]
    return parts, tokens


def _factor(tokens: list, text: str) -> tuple[list, list]:
    """A name or a bracket with its power, and the tokens that are left."""
    if not tokens or tokens[0] in ("*", "/", ")", "^"):
        raise UnitError(f"unit '{text}' is not complete", _UNIT_EXAMPLE)
    if tokens[0] == "(":
        parts, tokens = _product(tokens[1:], text)
        if not tokens:
            raise UnitError(f"unit '{text}' has an open bracket", _UNIT_EXAMPLE)
    else:
        parts = [(_known(tokens[0], text), 1.0)]
    tokens = tokens[1:]
    if tokens and tokens[0].startswith("^") and len(tokens[0]) > 1:
        parts, tokens = [(name, power * float(tokens[0][1:])) for name, power in parts], tokens[1:]
    return parts, tokens


def _known(name: str, text: str) -> str:
    name = _SPELLINGS.get(name, name)
    if name in CURRENCIES:
        return "cur"
    if name in _NAMES:
        return name
    if name in _AFFINE:
        raise UnitError(f"'{text}' divides by or multiplies a temperature scale", "a difference such as K or delta_degF", text.replace(name, "K"))
    known = [one for one in (*_NAMES, *_AFFINE, *CURRENCIES) if one != "cur"]  # which is ours for whatever currency the project has
    by_case = {one.lower(): one for one in known}
    raise OtherUnit(f"unknown unit '{text}'", "a unit that this program knows", by_case.get(name.lower()) or nearest_name(name, known))


def split_number(text: str) -> tuple[float, str]:
    """`12.5 m^3/s` -> (12.5, "m^3/s"), also as the book prints it: −5 °C, 3\u202f000 m, 1.50 × 10⁹ J; a day -> its seconds and "date". Raises UnitError
    without a finite number.
    """
    if is_day(text.strip()):
        return seconds_of(text.strip()), "date"
    plain = text.translate(_SPACES).strip().replace("−", "-", 1 if text.strip().startswith("−") else 0)
    match = _NUMBER.match(plain)
    if not match:
        raise UnitError(f"'{text}' is not a number with a unit", "a finite number and a unit, such as 12.5 m^3/s")
    number, rest = float(re.sub(r"[ _]", "", match.group())), plain[match.end():]
    if comma := re.match(r",(\d+)", rest, re.ASCII):
        raise UnitError(f"'{text}' holds a comma", "a decimal point, and spaces between thousands", _without_comma(match.group(), comma.group(1)))
    if power := _TEN.match(rest):
        exponent, rest = power.group(1).translate(_RAISED), rest[power.end():]
        number = float(f"{number!r}e{exponent}") if len(exponent) < 5 else math.inf
    if not math.isfinite(number):
        raise UnitError(f"'{text}' is not finite", "a finite number")
    return number, rest.strip()


def _without_comma(whole: str, digits: str) -> str:
    plain = re.sub(r"\.(?=\d{3}$)", " ", whole)  # 1.500,5: the point stood between thousands
    if "." in plain:
        return ""
    return f"{plain}.{digits}" if len(digits) != 3 or plain != whole else f"{whole}.{digits} or {whole} {digits}"


def to_si(number: float, unit_text: str, wanted: str, kind: str = "") -> float:
    """`number` in `unit_text` as SI, for a quantity computed in `wanted` and of `kind`. Raises UnitError."""
    if (unit_text == "date") != (kind == "date"):
        what = f"{day_text(number)} is a day" if unit_text == "date" else f"{number:g} {unit_text}".strip() + " is no day"
        raise UnitError(what, "a day such as 2026-11-20" if kind == "date" else _describe(wanted, kind))
    if not unit_text and (wanted not in ("1", "dB") or kind == "angle"):
        raise OtherUnit(f"{number:g} has no unit", f"a unit such as {_same_kind_unit(kind) or wanted.replace('cur', 'EUR')}")
    have, want = unit(unit_text or wanted), unit(wanted)
    if have.dimension != want.dimension:
        raise OtherUnit(f"{number:g} {unit_text} is of the wrong dimension", f"{_describe(wanted, kind)}")
    if _kind_clash(have, kind):
        named = f"a{'n' if have.kind[0] in 'aeiou' else ''} {have.kind} unit" if have.kind else f"no {kind}"
        raise UnitError(f"{number:g} {unit_text} is {named}",
                        _describe(wanted, kind), _same_kind_unit(kind))
    if not math.isfinite(value := number * have.factor + have.offset):
        raise UnitError(f"{number:g} {unit_text} is not finite", "a finite number")
    return value


@cache
def names_for(wanted: str, kind: str = "") -> tuple[str, ...]:
    """Names and signs, other than products and powers, that a quantity computed in `wanted` and of `kind` takes as its unit."""
    found = []
    for name in dict.fromkeys((*_NAMES, *_AFFINE, *_SPELLINGS, *_PRINTED, *CURRENCIES)):
        try:
            to_si(1.0, name, wanted, kind)
        except UnitError:
            continue
        found.append(name)
    return tuple(name for name in found if name != "cur")


def _kind_clash(have: Unit, kind: str) -> bool:
    if have.kind == kind or (have.text == "1" and kind == "level"):
        return False
    if have.kind in _STRICT_KINDS or kind in ("level", "angle"):
        return True
    return kind in ("apparent power", "reactive power") and have.text in ("W", "kW", "MW", "hp")


def _same_kind_unit(kind: str) -> str:
    return {"apparent power": "kVA", "reactive power": "kvar", "temperature difference": "K", "temperature": "degC",
            "active power": "kW", "frequency": "Hz", "rotational frequency": "rpm", "energy": "kWh", "torque": "Nm",
            "level": "dB", "angle": "deg"}.get(kind, "")


def _describe(wanted: str, kind: str) -> str:
    examples = [name for name in (_same_kind_unit(kind), "kW", "kVA", "m^3/s", "m/s", "Pa", "K", "degC", "kg/s", "kWh", "V", "A", "mm^2") if name and
                unit(name).dimension == unit(wanted).dimension and not _kind_clash(unit(name), kind)]
    if wanted == "1" and not kind:
        return "a plain number, or %"
    return f"{kind or 'a unit'} such as {examples[0] if examples else wanted.replace('cur', 'EUR')}"


def currency_in(text: str) -> str:
    """The currency in the unit of a price as written; "cur" where it is left open, which only formulas may; "" where there is none."""
    return next((name for name in re.findall(r"[A-Za-z]+", text) if name in (*CURRENCIES, "cur")), "")


def from_si(number, unit_text: str):
    """SI number (or array) in `unit_text`."""
    this = unit(unit_text)
    return (number - this.offset) / this.factor


@lru_cache(maxsize=512)
def pretty(unit_text: str, currency: str = "") -> str:
    """The unit as a reader sees it: m³/s, °C, kJ/(kg·K)."""
    if unit_text in _PRETTY:
        return _PRETTY[unit_text]
    shown = unit_text.replace("*", "·").replace("ohm", "Ω").replace("delta_degF", "°F").replace("inH2O", "in H₂O").replace("degF", "°F")
    for power, sign in (("^-1", "⁻¹"), ("^2", "²"), ("^3", "³"), ("^4", "⁴")):
        shown = shown.replace(power, sign)
    return re.sub(r"\bcur\b", currency or "cur", shown)


def pretty_quantity(text: str, currency: str = "") -> str:
    """A quantity as typed with its unit as readers see it; what is no quantity stays as it is."""
    try:
        _, unit_text = split_number(text)
        unit(unit_text)
    except UnitError:
        return text
    return f"{text.strip().removesuffix(unit_text).strip()} {pretty(unit_text, currency)}".strip()


@lru_cache(maxsize=1 << 14)  # a number stands in its own entry and in those of all who use it
def format_number(number: float, digits: int = 3) -> str:
    """`digits` significant digits, thin spaces between thousands, no exponent between 1e-4 and 1e9."""
    if number == 0:
        return "0"
    if not math.isfinite(number):
        return "not given" if math.isnan(number) else "unbounded"
    mantissa, exponent = f"{number:.{digits - 1}e}".split("e")  # 999.96 rounds up to a further digit
    if not -4 <= int(exponent) < 9:
        return f"{mantissa} × 10{superscript(int(exponent))}".replace("-", "−")
    decimals = digits - 1 - int(exponent)
    if digits >= 4 and decimals > 0 and number == round(number):
        decimals = 0
    text = f"{number:,.{decimals}f}" if decimals >= 0 else f"{round(number, decimals):,.0f}"
    return text.replace(",", "\u202f").replace("-", "−")


def format_si(number: float, unit_text: str, digits: int = 3) -> str:
    """An SI number in a unit, without the unit, as a reader sees it; a date as its day."""
    if unit_text == "date" and math.isfinite(number):
        return day_text(number)
    return format_number(float(from_si(number, unit_text)), digits)


def difference_shown(size: float, unit_text: str, currency: str = "", digits: int = 2) -> str:
    """What lies between two SI numbers that are shown in that unit, with the unit of a difference: kelvins, degrees Fahrenheit, decibels."""
    return f"{format_number(size / unit(unit_text).factor, digits)} {_BETWEEN.get(unit_text) or pretty(unit_text, currency)}".strip()


def superscript(exponent: int) -> str:
    """An exponent as a reader sees it: ⁻⁵."""
    return "".join("⁻" if sign == "-" else "⁰¹²³⁴⁵⁶⁷⁸⁹"[int(sign)] for sign in str(exponent))


def named(dimension: tuple) -> str:
    """A coherent unit of that dimension as a reader sees it: W, m³/s, kg/(m·s²)."""
    if dimension == DIMENSIONLESS:
        return "a plain number"
    for name in _NAMES:
        if unit(name).dimension == dimension and unit(name).factor == 1.0:
            return pretty(name)
    over, under = ("*".join(name if abs(power) == 1 else f"{name}^{abs(power):g}" for name, power in zip(_BASE_UNITS, dimension) if power * sign > 0)
                   for sign in (1, -1))
    return pretty((over or "1") + (f"/({under})" if "*" in under else f"/{under}" if under else ""))


@lru_cache(maxsize=1)
def registry():
    """The one pint registry, built at first use and not altered after: base units only, since ours are defined on them."""
    import pint  # takes longer than NumPy, and no run asks for it

    made = pint.UnitRegistry(None)
    for name, dimension in _BASE_UNITS.items():
        made.define(f"{name} = {dimension}")
    return made


def quantity(number, unit_text: str):
    """A pint quantity in SI units, used by tests and by the benchmark: never in a run."""
    dimension = unit(unit_text).dimension
    made = registry().Quantity(number)
    for exponent, name in zip(dimension, _BASE_UNITS):
        if exponent:
            made = made * registry().Unit(name) ** exponent
    return made
