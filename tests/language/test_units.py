"""Units at the door: our closed list against exact definitions (SI Brochure, NIST SP 811 Appendix B, as printed)."""

import math

import pytest
from pytest import approx

from basis.language import maths, units
from basis.language.units import UnitError, format_number, from_si, pretty, split_number, to_si, unit

# NIST Special Publication 811 (2008), Appendix B.8 conversion factors, digits as printed there [from memory, exact where marked bold].
NIST = [
    ("1 ft", 0.3048, "m"), ("1 in", 0.0254, "m"), ("1 lb", 0.45359237, "kg"), ("1 hp", 745.6999, "W"), ("1 psi", 6894.757, "Pa"),
    ("1 inH2O", 249.089, "Pa"), ("1 inHg", 3386.389, "Pa"), ("1 gal", 3.785412e-3, "m^3"), ("1 cfm", 4.719474e-4, "m^3/s"),
    ("1 gpm", 6.309020e-5, "m^3/s"), ("1 Btu/h", 0.2930711, "W"), ("1 MBH", 293.0711, "W"), ("1 Btu/(lb*delta_degF)", 4186.8, "J/(kg*K)"),
    ("1 kWh", 3.6e6, "J"), ("1 lbf", 4.448222, "N"), ("1 ft/min", 5.08e-3, "m/s"), ("1 kcmil", 5.067075e-7, "m^2"), ("1 lb/ft^3", 16.01846, "kg/m^3"),
    ("1 bar", 1e5, "Pa"), ("1 atm", 101325, "Pa"), ("1 L/h", 1e-3 / 3600, "m^3/s"), ("1 t", 1000, "kg"), ("1 mile", 1609.344, "m"),
]


@pytest.mark.parametrize("text, expected, si", NIST)
def test_conversion_factors_of_nist_sp_811(text, expected, si):
    number, unit_text = split_number(text)
    assert to_si(number, unit_text, si) == approx(expected, rel=1e-6)


@pytest.mark.parametrize("text, kelvin", [("0 degC", 273.15), ("32 degF", 273.15), ("60 degF", 288.7055556), ("-40 degF", 233.15), ("-40 degC", 233.15),
                                          ("300 K", 300)])
def test_temperatures_are_affine(text, kelvin):  # definitions of the Celsius and Fahrenheit scales
    number, unit_text = split_number(text)
    assert to_si(number, unit_text, "K", "temperature") == approx(kelvin, abs=1e-6)


def test_a_difference_is_no_temperature():
    assert to_si(18, "delta_degF", "K", "temperature difference") == approx(10)
    with pytest.raises(UnitError) as refused:
        to_si(34, "degC", "K", "temperature difference")
    assert refused.value.nearest == "K"
    with pytest.raises(UnitError):
        to_si(18, "delta_degF", "K", "temperature")


def test_rotational_frequency_counts_turns():  # 1500 r/min is 25 turns a second, not 157 rad/s
    assert to_si(1500, "rpm", "1/s", "rotational frequency") == approx(25)


def test_apparent_active_and_reactive_power_do_not_mix():
    assert to_si(500, "kVA", "W", "apparent power") == 500e3
    for number_unit, kind in [("kW", "apparent power"), ("kVA", "active power"), ("kVA", "reactive power"), ("kvar", "heat flow"), ("Nm", "energy")]:
        with pytest.raises(UnitError):
            to_si(500, number_unit, "W" if number_unit != "Nm" else "J", kind)


@pytest.mark.parametrize("text, nearest", [("12 cfn", "cfm"), ("3 KW", "kW"), ("3 wats", ""), ("5 kPaa", "kPa"), ("0.16 eur", "EUR"), ("3 curr", "")])
def test_unknown_units_name_the_nearest(text, nearest):
    number, unit_text = split_number(text)
    with pytest.raises(UnitError) as refused:
        unit(unit_text)
    assert refused.value.nearest == nearest


@pytest.mark.parametrize("text", ["nan m", "inf m", "1e400 m", "ten m", "", "-inf K", "NaN"])
def test_what_is_not_a_finite_number_is_refused(text):
    with pytest.raises(UnitError):
        split_number(text)


@pytest.mark.parametrize("text", ["kJ/(kg*K", "m)", "^2", "degC/m", "m$s"])
def test_units_that_make_no_sense_are_refused(text):
    with pytest.raises(UnitError):
        unit(text)


@pytest.mark.parametrize("text, number, unit_text", [("12 500 m", 12500, "m"), ("1_200.5 kW", 1200.5, "kW"), ("6 1/h", 6, "1/h"), ("1 000 000 J", 1e6, "J"),
                                                     ("3.2e-3 m", 0.0032, "m"), (".5 m", 0.5, "m"), ("5", 5, ""), ("-8 degC", -8, "degC"),
                                                     ("12 50 m", 12, "50 m")])
def test_number_and_unit_part_where_a_reader_parts_them(text, number, unit_text):
    assert split_number(text) == (number, unit_text)


def test_wrong_dimension_tells_an_example():
    with pytest.raises(UnitError) as refused:
        to_si(12, "kW", "m^3/s")
    assert "m^3/s" in refused.value.expected


def test_brackets_and_powers():
    assert unit("Pa/(m^3/s)^2").dimension == unit("kg/m^7").dimension
    assert unit("W/m/K").dimension == unit("W/(m*K)").dimension
    assert unit("kJ/(kg*K)").factor == approx(1000)


@pytest.mark.parametrize("number, digits, text", [(31584, 3, "31\u202f600"), (0.000123449, 3, "0.000123"), (2, 4, "2"), (15.55, 3, "15.6"), (-3.2, 2, "−3.2"),
                                                  (1.5e10, 3, "1.50 × 10¹⁰"), (0, 3, "0"), (math.nan, 3, "not given"), (999.96, 4, "1\u202f000")])
def test_shown_digits(number, digits, text):
    assert format_number(number, digits) == text


def test_money_is_shown_in_the_projects_currency():
    assert pretty("cur/kWh", "EUR") == "EUR/kWh"
    assert to_si(85, "EUR/m", "cur/m") == 85


def test_round_trip_of_every_unit():
    for name in [*units._NAMES, "degC", "degF"]:
        this = unit(name)
        assert from_si(12.5 * this.factor + this.offset, name) == approx(12.5)


def test_unit_names_of_formulas_are_those_of_the_list():
    for name, unit_text in maths.UNIT_NAMES.items():
        assert getattr(maths, name) == approx(unit(unit_text).factor, rel=1e-12), name


# Ours -> pint's own list of units, which is not used at run time.
PINT = {"in": "inch", "ft": "foot", "kft": "1000 foot", "yd": "yard", "mile": "mile", "kcmil": "1000 * circular_mil", "L": "liter", "mL": "mL", "gal": "gallon",
        "pint": "pint", "acre": "acre", "min": "minute", "h": "hour", "d": "day", "week": "week", "lb": "pound", "oz": "ounce", "lbf": "force_pound",
        "psi": "psi", "atm": "atm", "bar": "bar", "inHg": "inHg", "hp": "horsepower", "Btu": "Btu", "Wh": "W*hour", "Ah": "A*hour", "tonR": "12000 Btu/hour",
        "delta_degF": "delta_degF", "cP": "centipoise", "cSt": "centistokes", "ohm": "ohm", "F": "farad", "H": "henry", "S": "siemens", "V": "volt", "kN": "kN",
        "Nm": "N*m", "cfm": "foot**3/minute", "gpm": "gallon/minute", "deg": "degree", "MWh": "MW*hour", "inH2O": "inH2O", "mmH2O": "mmH2O", "uF": "uF",
        "mH": "mH"}


def test_our_factors_are_those_of_pints_own_list():
    import pint

    theirs = pint.UnitRegistry()
    for name, expression in PINT.items():
        quantity = theirs.Quantity(1.0, "delta_degF") if name == "delta_degF" else theirs.Quantity(theirs.parse_expression(expression))
        assert unit(name).factor == approx(quantity.to_base_units().m, rel=1e-4 if "H2O" in name or name in ("hp", "inHg", "acre") else 1e-6), name


@pytest.mark.parametrize("text, number, unit_text", [
    ("−5 degC", -5, "degC"), ("−5 °C", -5, "degC"), ("3\u202f000 m", 3000, "m"), ("3\u2009000 m", 3000, "m"), ("3\u00a0000\u00a0m", 3000, "m"),
    ("1.2 m³/s", 1.2, "m^3/s"), ("5 W/(m²·K)", 5, "W/(m^2*K)"), ("3 in H₂O", 3, "inH2O"), ("18 °F (difference)", 18, "delta_degF"), ("3 Btu/(lb·°F)", 3,
    "Btu/(lb*delta_degF)"), ("4 US gal/min", 4, "gpm"), ("4 gal/min", 4, "gpm"), ("7 US gal", 7, "gal"),
    ("1.50 × 10¹⁰ J", 1.5e10, "J"), ("2 × 10⁻⁵ m", 2e-5, "m"), ("5 kg/m3", 5, "kg/m^3"), ("30°", 30, "deg"),
    ("1500 r/min", 1500, "rpm"), ("2 mΩ", 2, "mohm"), ("2 \u2126", 2, "ohm"), ("2 μm", 2, "um"), ("6 /h", 6, "1/h")])
def test_what_the_book_prints_is_read_back(text, number, unit_text):
    found, found_unit = split_number(text)
    assert found == approx(number) and (unit(found_unit).factor, unit(found_unit).offset) == (unit(unit_text).factor, unit(unit_text).offset)


def test_every_value_of_the_demo_books_reads_back(books):
    wrong, read_back = [], 0
    for book in books.values():
        for value in book.values.values():
            ids = value.elements()[:3] if value.term.fixed_axis != "hour" and not value.term.is_text else ()
            for one in [value.element(*each) for each in ids]:
                for system in ("si", "us"):
                    if one.unit_text(system) and math.isfinite(one.number):
                        back = to_si(*split_number(one.text(system)), one.term.unit, one.term.kind_asked)
                        read_back += 1
                        step = unit(one.term.si_unit if system == "si" else one.term.us_unit).factor * (0.06 if one.term.kind == "level" else 0)
                        if back != approx(one.number, rel=0.6 * 10.0 ** (1 - one.term.digits), abs=step + (1 if one.term.kind == "temperature" else 0)):
                            wrong.append((one.id, one.text(system), back, one.number))
    assert not wrong and read_back > 2000


@pytest.mark.parametrize("text", ["m^", "km^400", "m^-99999", "(" * 5000, "m^2^2", "m^^2", "()", "m/", "m*", "m//s", "m/*s", "kW hp", "m^1.2.3", "m€", "*" * 70,
                                  "GW^12*GW^12*GW^12/GW^12/GW^12/GW^12"])
def test_units_of_odd_shape_are_refused_in_words(text):
    with pytest.raises(UnitError) as refused:
        unit(text)
    assert len(refused.value.what) < 120


@pytest.mark.parametrize("text, nearest", [("1,5 m", "1.5"), ("12,25 kW", "12.25"), ("1,500 m", "1.500 or 1 500"), ("1.500,5 m", "1 500.5"), ("1.5,5 m", "")])
def test_a_comma_asks_for_a_decimal_point(text, nearest):
    with pytest.raises(UnitError) as refused:
        split_number(text)
    assert "decimal point" in refused.value.expected and refused.value.nearest == nearest


@pytest.mark.parametrize("text, kind", [("50 %", "level"), ("50 deg", "level"), ("50 ppm", "level"), ("5 %", "angle"), ("5", "angle"), ("5 dB", "angle"),
                                        ("45 deg", ""), ("3 dB", "")])
def test_levels_angles_and_ratios_do_not_mix(text, kind):
    with pytest.raises(UnitError):
        to_si(*split_number(text), "1", kind)


def test_a_product_too_large_for_a_number_is_refused():
    with pytest.raises(UnitError):
        to_si(1e308, "km", "m")


@pytest.mark.parametrize("text, wanted, words", [("3 m", "1", "a plain number, or %"), ("3", "cur/m", "EUR/m"), ("3 kW", "cur", "EUR"), ("3", "K", "K")])
def test_what_is_expected_has_no_signs_of_our_own(text, wanted, words):
    with pytest.raises(UnitError) as refused:
        to_si(*split_number(text), wanted)
    assert words in refused.value.expected
