"""Plant and cautions against PsychroLib, ambiance, printed figures and hand calculations. Each figure names where it is from."""

from dataclasses import replace
from pathlib import Path

import ambiance
import psychrolib
import pytest
from pytest import approx

from basis.chapters import collect
from basis.chapters.plant import chapter as p
from basis.language.days import seconds_of
from basis.language.terms import terms
from basis.reading.project import read
from basis.solving.solve import solve

psychrolib.SetUnitSystem(psychrolib.SI)
ROOT = Path(__file__).parents[3]
LAYER = {"standard_air_pressure": 101_325.0, "standard_lapse_rate": 0.0065, "standard_air_temperature": 288.15,
         "standard_gravity": 9.80665, "standard_air_gas_constant": 287.05287}


def pressure(metres):
    return p.air_pressure.run(altitude=metres, **LAYER)


def alone(slug, **changes):
    """The book of a demo project with this chapter only, so that no other can disturb it. `changes`: SI numbers of plain terms."""
    project = read(ROOT / "projects" / slug)
    givens = {key: given for key, given in project.givens.items() if Path(given.file).name in ("plant.yaml", "project.yaml")}
    givens |= {(name, ""): replace(givens[("altitude", "")], term=name, data=data) for name, data in changes.items()}
    return solve(replace(project, decisions=(), chapters=("plant",), remarks={}, trials=(), givens=givens), collect((p,)))


# ---- air pressure ----

def test_constants_of_the_layer_are_those_of_the_icao_atmosphere():
    # ambiance 1.3 (ICAO Doc 7488/3): CONST.P_0, T_0, g_0, R
    constants = ambiance.CONST
    printed = {"standard_air_pressure": constants.P_0 / 1e3, "standard_air_temperature": constants.T_0, "standard_gravity": constants.g_0,
               "standard_air_gas_constant": constants.R, "standard_lapse_rate": 6.5}
    for term, number in printed.items():
        assert float(terms()[term].default.split()[0]) == approx(number, rel=1e-7)


@pytest.mark.parametrize("metres", (-200, 0, 60, 1000, 1600, 2500, 5000))
def test_air_pressure_against_libraries(metres):
    # PsychroLib 2.5 GetStandardAtmPressure: the same layer with rounded constants, hence 2e-4
    assert pressure(metres) == approx(psychrolib.GetStandardAtmPressure(metres), rel=2e-4)
    # ambiance works in geopotential height, which our formula leaves out: h/R_earth of the height, 3e-4 of the pressure at 5 km
    assert pressure(metres) == approx(float(ambiance.Atmosphere(metres).pressure[0]), rel=6e-4)


def test_air_pressure_against_printed_figures():
    # 101.325 (1 − 2.25577e-5 h)^5.25588 by hand: 1,000 m 89.87 kPa, 2,500 m 74.68 kPa
    assert pressure(1000.0) == approx(89_870, abs=10)
    assert pressure(2500.0) == approx(74_680, abs=10)
    # U.S. Standard Atmosphere 1976, altitude table, 2,000 m: 79,501 Pa (as quoted in the tests of fluids); 7e-5 by geopotential height
    assert pressure(2000.0) == approx(79_501, rel=2e-4)


def test_air_pressure_falls_with_altitude():
    heights = range(-400, 6000, 400)
    assert [pressure(h) for h in heights] == sorted((pressure(h) for h in heights), reverse=True)
    assert pressure(0.0) == approx(101_325)


def test_air_pressure_ratio():
    # hand: 83,523 / 101,325 = 0.8243 at 1,600 m, against 0.855 for the density ratio of the colder standard air
    assert p.air_pressure_ratio.run(83_523.0, 101_325.0) == approx(0.8243, abs=5e-5)
    assert float(ambiance.Atmosphere(1600).density[0]) / 1.225 > p.air_pressure_ratio.run(83_523.0, 101_325.0) + 0.02


# ---- sums and differences ----

def test_outdoor_temperature_range():
    # hand: 31 °C less −29 °C are 60 K, whatever the scale's zero
    assert p.outdoor_temperature_range.run(304.15, 244.15) == approx(60.0)
    assert p.outdoor_temperature_range.run(300.0, 300.0) == 0


def test_running_hours_per_year():
    # hand: twelve runs of 40 min and 70 h of outages are 78 h
    assert p.running_hours_per_year.run(12 * 40 * 60.0, 70 * 3600.0) / 3600 == approx(78.0)


def test_constants_may_not_be_changed_and_defaults_are_sourced():
    for term in (term for term in terms().values() if term.default is not None):
        assert term.source
    assert all(terms()[name].constant for name in LAYER)


# ---- the demo projects ----

def test_smallest_project_lives_on_defaults():
    book = alone("cobble-key-exchange")
    assert book["hours_per_year_tests"].origin == "default" and book["running_hours_per_year"].number == approx(36 * 3600.0)  # hand: 12 h and 24 h
    assert book["signature_name"].element("designer").number == "not signed"
    assert book.check("test_hours").word == "holds"  # its permit counts them
    assert book["air_pressure"].number == approx(101_289, abs=5)  # hand: 3 m of air of 12.01 N/m³ below 101,325 Pa


def test_age_is_counted_from_commissioning_and_needs_both_days():
    # by the calendar: 1 January 2027 to 1 January 2029 are two years of 365 and 366 days; before commissioning there is no age
    assert p.plant_age.run(seconds_of("2029-01-01"), seconds_of("2027-01-01")) == approx(731 * 86400)
    assert p.plant_age.run(seconds_of("2026-01-01"), seconds_of("2027-01-01")) == 0.0
    assert alone("high-tarn-waterworks")["plant_age"].number == 0.0


def test_permit_for_tests_is_checked():
    book = alone("larkmere-hospital")
    assert book.check("test_hours").margin == approx((50 - 18) / 50)  # 18 h of tests against 50 h of the permit
    assert "from memory" in book["air_pressure"].marks
    assert book["outdoor_temperature_range"].text() == "42.0 K"


def test_a_recorded_pressure_wins_over_the_formula():
    book = alone("cobble-key-exchange", air_pressure=100_500.0)
    assert book["air_pressure"].origin == "given" and book["air_pressure_ratio"].number == approx(100.5 / 101.325)
