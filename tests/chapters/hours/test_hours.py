"""Breather, ledger, emissions and overhaul against permit texts, printed tables, fluids, CoolProp, ambiance and hand calculations."""

from dataclasses import replace
from pathlib import Path

import ambiance
import numpy as np
import pytest
from axes import over
from conftest import ROOT, SLUGS
from CoolProp.CoolProp import PropsSI
from fluids.core import Reynolds, dP_from_K
from fluids.friction import friction_factor
from pytest import approx

from basis.chapters.hours import chapter as b
from basis.chapters.hours import emission as e
from basis.language.faults import Faults, OutOfTable
from basis.language.table import lookup, table
from basis.language.terms import terms
from basis.reading.project import read
from basis.solving.solve import load, solve

HOUR, YEAR, KWH, HP, POUND = 3600.0, 8760 * 3600.0, 3.6e6, 745.69987158227022, 0.45359237
GAS = 287.05287


# ---- breather ----

def test_blow_by():
    # 0.02 m3/h for each kilowatt at the shaft (common practice): hand, 2083 kW give 41.7 m3/h; worn twice that, 83.3 m3/h
    assert b.blowby_flow_new.run(0.02 / KWH, 2083e3) * HOUR == approx(41.66, rel=1e-3)
    assert b.blowby_flow_worn.run(0.04 / KWH, 2083e3) * HOUR == approx(83.32, rel=1e-3)
    defaults = [terms()[name].default for name in ("blowby_rate_new", "blowby_rate_worn")]
    assert defaults == ["0.02 m^3/kWh", "0.04 m^3/kWh"]
    assert b.blowby_flow_worn.run(0.04 / KWH, 1000e3) < b.blowby_flow_worn.run(0.04 / KWH, 2000e3)


@pytest.mark.parametrize("celsius", (20, 80, 120))
def test_gas_of_the_breather_is_air(celsius):
    kelvin = celsius + 273.15
    assert b.breather_gas_density.run(101325.0, GAS, kelvin) == approx(PropsSI("D", "T", kelvin, "P", 101325, "Air"), rel=1e-3)  # CoolProp
    assert b.breather_gas_viscosity.run(kelvin) == approx(PropsSI("V", "T", kelvin, "P", 101325, "Air"), rel=0.01)  # CoolProp, another equation
    assert b.breather_gas_density.run(83528.0, GAS, kelvin) < b.breather_gas_density.run(101325.0, GAS, kelvin)


@pytest.mark.parametrize("height", (0.0, 15_000.0))
def test_viscosity_of_the_standard_atmosphere(height):
    air = ambiance.Atmosphere(height)  # U.S. Standard Atmosphere 1976 as in the library ambiance; the table prints 1.7894e-5 at sea level
    assert b.breather_gas_viscosity.run(float(air.temperature[0])) == approx(float(air.dynamic_viscosity[0]), rel=1e-6)
    assert b.breather_gas_viscosity.run(288.15) == approx(1.7894e-5, abs=5e-10)


def test_pressure_of_a_breather_pipe():
    # hand: 80 m3/h in 65 mm: area 3.3183e-3 m2, 6.697 m/s
    velocity = b.breather_velocity.run(80 / HOUR, 0.065)
    assert velocity == approx(6.697, abs=5e-4)
    reynolds = b.breather_reynolds_number.run(velocity, 0.065, 0.992, 2.09e-5)
    assert reynolds == approx(Reynolds(V=velocity, D=0.065, rho=0.992, mu=2.09e-5))  # fluids
    (factor,), residual, _ = b.breather_friction.run(reynolds, 0.046e-3, 0.065)
    assert factor == approx(friction_factor(reynolds, 0.046e-3 / 0.065), rel=1e-6) and residual < 1e-9  # fluids, exact Colebrook
    drop = b.breather_pressure_drop.run(factor, 12.0, 0.065, 3.0, 0.992, velocity)
    assert drop == approx(dP_from_K(factor * 12 / 0.065 + 3, 0.992, velocity))  # fluids
    # hand: 0.0265 x 12 / 0.065 = 4.89, with 3 is 7.89; times 0.992 x 6.697^2 / 2 = 22.25 Pa: 175.6 Pa
    assert b.breather_pressure_drop.run(0.0265, 12.0, 0.065, 3.0, 0.992, 6.697) == approx(175.6, rel=2e-3)
    assert b.breather_pressure_drop.run(factor, 12.0, 0.08, 3.0, 0.992, velocity) < drop


def test_laminar_breather():
    (factor,), _, _ = b.breather_friction.run(1000.0, 0.046e-3, 0.05)
    assert factor == approx(0.064)  # hand: 64 / 1000, Hagen and Poiseuille


def test_crankcase_between_pipe_and_suction():
    # hand: pipe 52 Pa and separator 250 Pa outdoors leave +302 Pa; in an intake that pulls 4.9 kPa the crankcase stands at -4598 Pa
    assert b.breather_suction.run("outside", 4900.0) == 0
    assert b.breather_suction.run("intake", 4900.0) == 4900.0
    assert b.crankcase_pressure.run(52.0, 250.0, 0.0) == approx(302)
    assert b.crankcase_pressure.run(52.0, 250.0, 4900.0) == approx(-4598)


# ---- ledger against 40 CFR 60.4211(f), as reproduced in engine manuals and permits ----

def counted(test=0.0, maintenance=0.0, other=0.0, peak=0.0, emergency=0.0, rule="us_emergency_engine", permit="one_sum"):
    ledger = {"record_hours": [hours * HOUR for hours in (test, maintenance, other, peak, emergency)],
              "record_reason": ["test", "maintenance", "other", "peak_shaving", "emergency"]}
    names = ("ledger_test_hours", "ledger_maintenance_hours", "ledger_other_hours", "ledger_peak_shaving_hours", "ledger_emergency_hours")
    sums = {name: over(getattr(b, name), **ledger) for name in names}
    assert [sums[name] / HOUR for name in names] == approx([test, maintenance, other, peak, emergency])
    return b.counted_hours.run(**sums, hours_rule=rule, permit_inside=b.permit_inside.run(permit)) / HOUR, sums["ledger_other_hours"] / HOUR


@pytest.mark.parametrize("hours, all_counted, other, allowed", [
    ({"test": 60, "other": 40}, 100, 40, True),                    # just within both
    ({"test": 80, "other": 40}, 120, 40, False),                   # 120 > 100: not 100 + 50
    ({"test": 20, "other": 55}, 75, 55, False),                    # 55 > 50
    ({"emergency": 500}, 0, 0, True),                              # true emergencies have no limit
    ({"test": 9, "other": 46, "emergency": 61}, 55, 46, True),
    ({"test": 9, "other": 51, "emergency": 61}, 60, 51, False),    # five hours more of other running
    ({"test": 6, "maintenance": 3, "other": 46}, 55, 46, True),    # maintenance is counted with the tests
])
def test_hours_of_an_emergency_engine(hours, all_counted, other, allowed):
    found = counted(**hours)
    assert found == approx((all_counted, other))
    limit = b.counted_hours_max.run("us_emergency_engine", 100 * HOUR, 500 * HOUR, 30 * HOUR) / HOUR
    limit_other = b.other_hours_max.run("us_emergency_engine", 50 * HOUR, 10 * HOUR) / HOUR
    assert (limit, limit_other) == (100, 50)
    assert (found[0] <= limit and found[1] <= limit_other) is allowed


def test_other_rules():
    # Directive (EU) 2015/2193 article 6(8), from memory: 500 hours, all running counted; hand: 9 + 46 + 61 = 116 h
    assert counted(test=9, other=46, emergency=61, rule="eu_medium_plant")[0] == approx(116)
    assert counted(test=9, peak=2, rule="permit")[0] == approx(11)
    # hand: a permit that counts each kind apart counts tests and maintenance alone; no rule but a permit is worded by the project
    assert counted(test=9, maintenance=1, other=5, peak=240, rule="permit", permit="each_apart")[0] == approx(10)
    assert counted(test=9, other=46, permit="each_apart")[0] == approx(55)
    assert [b.counted_hours_max.run(rule, 100.0, 500.0, 30.0) for rule in ("eu_medium_plant", "permit")] == [500, 30]
    assert b.other_hours_max.run("permit", 50.0, 10.0) == 10 and b.peak_shaving_hours_max.run("permit", 0.0, 3.0) == 3
    assert b.peak_shaving_hours_max.run("us_emergency_engine", 0.0, 3.0) == 0  # any paid peak shaving: not an emergency engine
    printed = {"us_counted_hours_max": 100, "us_other_hours_max": 50, "us_peak_shaving_hours_max": 0, "eu_counted_hours_max": 500}
    assert {name: terms()[name].default_data() / HOUR for name in printed} == printed


def test_ledger_sums_and_low_load():
    # hand: 12 h at 800 kW, 2 h at 400 kW, 8 h at 950 kW of a set of 1640 kW: below 30 % (492 kW) only the 2 h; 22 h in all
    hours, load = [12 * HOUR, 2 * HOUR, 8 * HOUR], [800e3, 400e3, 950e3]
    assert over(b.ledger_total_hours, record_hours=hours) == approx(22 * HOUR)
    low = over(b.ledger_low_load_hours, record_hours=hours, record_load=load, low_load_ratio_min=0.3, set_rated_power=1640e3)
    assert low == 2 * HOUR
    assert over(b.ledger_low_load_hours, record_hours=hours, record_load=load, low_load_ratio_min=0.5, set_rated_power=1640e3) == approx(14 * HOUR)
    # hand: |16 + 2 - 17| + |8 - 10.5| = 3.5 h
    assert b.ledger_gap.run(16.0, 2.0, 17.0, 8.0, 10.5) == approx(3.5)
    assert b.ledger_gap.run(16.0, 2.0, 18.0, 8.0, 8.0) == 0


@pytest.mark.parametrize("reason, hours", [("test", 13), ("maintenance", 2), ("other", 4), ("peak_shaving", 6), ("emergency", 11)])
def test_records_of_one_reason_add(reason, hours):
    # hand: two records of each reason, 12 + 1, 1.5 + 0.5, 3 + 1, 5 + 1 and 8 + 3 h
    ledger = {"record_hours": [12.0, 1.5, 3.0, 5.0, 8.0, 1.0, 0.5, 1.0, 1.0, 3.0],
              "record_reason": ["test", "maintenance", "other", "peak_shaving", "emergency"] * 2}
    assert over(getattr(b, f"ledger_{reason}_hours"), **ledger) == hours


def test_sets_load_and_energy_of_a_record():
    # hand: 3 installed less 1 at rest; 60 % of 1620 kW; 6 h x 2 x 0.6 x 1700 kW = 12 240 kWh
    assert b.record_sets.run(3.0, 1.0) == 2
    assert b.record_load.run(0.6, 1620e3) == approx(972e3)
    assert b.record_shaft_energy.run(6 * HOUR, 2.0, 0.6, 1700e3) / KWH == approx(12_240)
    assert b.record_shaft_energy.run(100 * HOUR, 1.0, 1.0, 1500e3) / KWH == approx(150_000)


# ---- emissions ----

def factors(sulphur, table_id="npi-2008-diesel-over-450-kw"):
    species = [name for name in table(table_id).keys if name != "other"]
    both = [over(formula, emission_table=table_id, pollutant_species=species, fuel_sulphur=sulphur)
            for formula in (e.pollutant_factor, e.pollutant_fuel_factor)]
    return dict(zip(species, both[0])), dict(zip(species, both[1]))


def test_mass_of_a_year_by_shaft_energy():
    # National Pollutant Inventory, manual for combustion engines 3.0, table 42: 1500 kW for 100 h give
    # 2190 kg NOx, 501 kg CO, 63.9 kg PM10, 57.6 kg VOC, and 1.107 kg SO2 with 15 ppm of sulphur (0.00492 x 0.0015 x 150 000)
    energy, found = 150_000 * KWH, factors(15e-6)[0]
    expected = {"nitrogen_oxides": 2190, "carbon_monoxide": 501, "particles_10": 63.9, "volatile_organics": 57.6, "sulphur_dioxide": 1.107}
    for species, mass in expected.items():
        assert e.record_pollutant_mass.run(energy, found[species], 0.0, 0.0) == approx(mass, rel=5e-4)
    # the manual takes control off as (1 - ER/100): 90 % leave 219 kg when it works all the time; hand: half of the time 1204.5 kg
    assert e.record_pollutant_share.run(2190.0, 2920.0) == approx(0.75) and e.record_pollutant_share.run(0.0, 0.0) == 0  # hand: 2190 of 2920 kg
    assert e.record_pollutant_mass.run(energy, found["nitrogen_oxides"], 1.0, 0.9) == approx(219)
    assert e.record_pollutant_mass.run(energy, found["nitrogen_oxides"], 0.5, 0.9) == approx(1204.5)


def test_pounds_per_horsepower_hour_are_the_same_factors():
    # AP-42 table 3.4-1 in lb/(hp h) against the manual in kg/kWh: 0.024 -> 0.014599, 0.00809 S -> 0.004921 S, 0.0055 -> 0.003346
    large, = [factors(0.01, "ap-42-diesel-over-600-hp")[0]]
    assert large["nitrogen_oxides"] * KWH == approx(0.014599, rel=5e-4)
    assert large["sulphur_dioxide"] * KWH == approx(0.004921, rel=5e-4)
    assert large["carbon_monoxide"] * KWH == approx(0.003346, rel=5e-4)
    npi = factors(0.01)[0]
    assert [large[name] for name in ("nitrogen_oxides", "carbon_monoxide", "sulphur_dioxide")] == approx(
        [npi[name] for name in ("nitrogen_oxides", "carbon_monoxide", "sulphur_dioxide")], rel=2e-3)


def test_potential_to_emit_of_a_small_engine():
    # worked example of a permit office, read: 74 hp, 0.031 lb/(hp h): 0.57 short ton in 500 h, 10.05 in 8760 h
    factor = lookup("ap-42-diesel-to-600-hp", "factor", "nitrogen_oxides")
    assert factor == approx(0.031 * POUND / (HP * HOUR))
    ton = 2000 * POUND
    assert e.pollutant_potential.run(1.0, 74 * HP, 500 * HOUR, factor) / ton == approx(0.57, abs=0.005)
    assert e.pollutant_potential.run(1.0, 74 * HP, 8760 * HOUR, factor) / ton == approx(10.05, abs=0.005)
    assert e.pollutant_potential.run(3.0, 74 * HP, 500 * HOUR, factor) == approx(3 * e.pollutant_potential.run(1.0, 74 * HP, 500 * HOUR, factor))


def test_mass_of_a_year_by_fuel():
    # table 43 of the same manual: 24 m3 give 1262 kg NOx, 336 kg CO, 0.398 kg SO2 with 10 ppm
    by_fuel = factors(10e-6)[1]
    assert e.pollutant_mass_by_fuel.run(24.0, by_fuel["nitrogen_oxides"]) == approx(1262, rel=5e-4)
    assert e.pollutant_mass_by_fuel.run(24.0, by_fuel["carbon_monoxide"]) == approx(336)
    assert e.pollutant_mass_by_fuel.run(24.0, by_fuel["sulphur_dioxide"]) == approx(0.398, abs=5e-4)
    # sulphur balance, hand: 24 x 850 kg x 10e-6 x 64.07/32.06 = 0.408 kg, 2.4 % beside the factor
    balance = e.sulphur_dioxide_by_balance.run(24.0, 850.0, 10e-6, terms()["sulphur_to_dioxide_ratio"].default_data())
    assert balance == approx(24 * 850 * 10e-6 * 64.066 / 32.06, rel=5e-4) and balance == approx(0.408, abs=5e-4)
    assert balance / e.pollutant_mass_by_fuel.run(24.0, by_fuel["sulphur_dioxide"]) == approx(1.024, abs=1e-3)


def test_masses_add_over_the_records():
    # hand: 10 kWh and 30 kWh at 2 g/kWh put out 20 g and 60 g; with 50 % taken out in the second, 20 + 30 = 50 g
    energy, rows = [10 * KWH, 30 * KWH], [[0.02], [0.03]]
    assert over(e.pollutant_mass, record_pollutant_mass=rows) == approx([0.05])
    assert over(e.pollutant_mass_untreated, record_shaft_energy=energy, pollutant_factor=[2e-3 / KWH]) == approx([0.08])


def test_printed_cells_and_what_is_not_in_the_tables():
    npi = "npi-2008-diesel-over-450-kw"
    assert lookup(npi, "factor", "particles_2_5") == approx(0.000416 / KWH)  # table 42
    assert lookup(npi, "fuel_factor", "nitrogen_oxides_retarded") == approx(31.2)  # table 43
    assert lookup(npi, "factor", "nitrogen_oxides_retarded") == approx(0.0079 / KWH)
    assert np.isnan(lookup(npi, "factor", "other"))
    assert np.isnan(lookup("ap-42-diesel-over-600-hp", "fuel_factor", "nitrogen_oxides"))
    with pytest.raises(OutOfTable):
        lookup(npi, "factor", "ammonia")


# ---- overhaul ----

def test_years_to_overhaul():
    # hand: 16 000 h at 13.5 h in a year last 1185 years, so that the ten years of the calendar govern (TM 5-685: 16 000 h or 10 years)
    years = b.overhaul_years_by_hours.run(16_000 * HOUR, 0.0, 13.5 * HOUR, 10_000 * YEAR) / YEAR
    assert years == approx(1185.2, abs=0.05)
    assert b.overhaul_years.run(years * YEAR, 10 * YEAR) == 10 * YEAR
    assert b.overhaul_years_by_hours.run(16_000 * HOUR, 10_000 * HOUR, 2000 * HOUR, 10_000 * YEAR) / YEAR == approx(3)  # hand: 6000 h left
    # a set that does not run is counted to ten thousand years, one that is due to none
    assert b.overhaul_years_by_hours.run(16_000 * HOUR, 0.0, 0.0, 10_000 * YEAR) / YEAR == approx(10_000)
    assert b.overhaul_years_by_hours.run(16_000 * HOUR, 17_000 * HOUR, 10 * HOUR, 10_000 * YEAR) == 0
    assert b.overhaul_years.run(3 * YEAR, 10 * YEAR) == 3 * YEAR
    assert terms()["overhaul_hours"].default == "16000 h" and terms()["overhaul_calendar"].default == "10 year"
    assert b.lifetime_hours.run(400 * HOUR, 32 * HOUR, 25 * YEAR) / HOUR == approx(1200)  # hand: 400 + 32 x 25


def test_the_overhaul_is_that_of_the_chapter_on_upkeep(books):
    # the first of some 30 000, 50 000 and 100 000 h and of 10, 20 and 30 years, as that chapter states them, not the 16 000 h of a book without it
    for book in books.values():
        assert book["first_overhaul_hours"].number == 30_000 * HOUR == min(book["overhaul_stage_hours"].number) and "overhaul_hours" not in book.values
        assert book["first_overhaul_calendar"].number == min(book["overhaul_stage_calendar"].number)
    assert b.first_overhaul_hours.run("not_in_this_book", [], 16_000 * HOUR) == 16_000 * HOUR


# ---- books ----

PLANT = """
chapters: [plant, loads, hours, fuel]
altitude: 100 m
outdoor_temperature_max: 30 degC
outdoor_temperature_min: -5 degC
outdoor_relative_humidity: 40 %
power_frequency: 50 Hz
currency: EUR
rating_class: ESP
set_rated_power: 1000 kW
engine_speed: 1500 rpm
spare_sets: 0
loads:
  - {id: all, load_connected_power: 700 kW, load_power_factor: 0.9, load_step_joined: one}
load_steps:
  - {id: one, step_time: 10 s}
running_cases:
  - {id: run, sets_out: 0}
hours_per_year_tests: 12 h
hours_per_year_outages: 20 h
day_tank_ambient: 40 degC
"""
RECORDS = """
hours_rule: us_emergency_engine
running_records:
  - {id: tests, record_reason: test, record_hours: 12 h, record_load_ratio: 50 %}
  - {id: works, record_reason: other, record_hours: 30 h, record_load_ratio: 60 %}
  - {id: outages, record_reason: emergency, record_hours: 20 h, record_load_ratio: 70 %}
emission_table: npi-2008-diesel-over-450-kw
pollutants:
  - {id: nox, pollutant_species: nitrogen_oxides, pollutant_mass_max: 1000 kg}
  - {id: soot, pollutant_factor: 0.1 g/kWh}
"""


@pytest.fixture(scope="module")
def books():
    """Slug -> Book of each demo project, these chapters added to those that it lists."""
    found = {}
    for slug in SLUGS:
        project = read(ROOT / "projects" / slug)
        found[slug] = solve(replace(project, chapters=(*project.chapters, "hours", "fuel") if project.chapters else ()))
    return found


def book_of(folder: Path, text: str):
    (folder / "project.yaml").write_text(PLANT + text, "utf-8")
    return load(folder)


def test_a_permit_with_more_hours_for_income_than_in_all_is_asked_how_it_counts(tmp_path):
    """300 h for income do not fit into 50 h; counted apart, 12 h of tests are within 50 h and 240 h within 300 h."""
    paid = RECORDS.replace("us_emergency_engine", "permit\ntest_hours_max: 50 h\npermit_other_hours_max: 40 h\npermit_peak_shaving_hours_max: 300 h").replace(
        "  - {id: outages,", "  - {id: peaks, record_reason: peak_shaving, record_hours: 240 h, record_load_ratio: 80 %}\n  - {id: outages,")
    with pytest.raises(Faults, match="permit_peak_shaving_hours_max at most counted_hours_max, or permit_counts: each_apart"):
        book_of(tmp_path, paid)
    book = book_of(tmp_path, paid + "permit_counts: each_apart\n")
    assert book["counted_hours"].number == approx(12 * HOUR)
    assert {name: book.check(name).word for name in ("hours_counted", "peak_shaving")} == {"hours_counted": "holds", "peak_shaving": "holds"}


def test_without_a_ledger_nothing_passes(tmp_path):
    words = {verdict.check.id: verdict.word for verdict in book_of(tmp_path, "").checks}
    silent = ("hours_counted", "other_hours", "peak_shaving", "ledger_agrees", "low_load_hours", "overhaul_by_calendar", "pollutants_in_year",
              "potential_to_emit")
    assert {words[name] for name in silent[:6]} == {"undecided"}
    assert {words[name] for name in silent[6:]} == {"nothing to check"}  # no pollutant is listed


def test_verdicts_of_a_ledger(tmp_path):
    book = book_of(tmp_path, RECORDS)
    assert book.check("hours_counted").word == "holds" and book["counted_hours"].number == approx(42 * HOUR)
    assert book.check("other_hours").word == "holds" and book.check("peak_shaving").word == "holds" and book.check("ledger_agrees").word == "holds"
    worse = book_of(tmp_path, RECORDS.replace("30 h", "51 h"))
    assert worse.check("other_hours").word == "fails" and worse.check("hours_counted").word == "holds"
    paid = book_of(tmp_path, RECORDS.replace("reason: other, record_hours: 30 h", "reason: peak_shaving, record_hours: 1 h"))
    assert paid.check("peak_shaving").word == "fails"
    long_outage = book_of(tmp_path, RECORDS.replace("20 h", "500 h"))
    assert long_outage.check("hours_counted").margin == book.check("hours_counted").margin  # emergencies are not counted
    assert long_outage.check("ledger_agrees").word == "fails" and long_outage.check("pollutants_in_year").word == "fails"
    european = book_of(tmp_path, RECORDS.replace("us_emergency_engine", "eu_medium_plant"))
    assert european["counted_hours"].number == approx(62 * HOUR) and european["counted_hours_max"].number == approx(500 * HOUR)
    # Directive (EU) 2015/2193, from memory, counts all running together: it has no limit for other running or for income by itself
    assert {european.check(name).word for name in ("other_hours", "peak_shaving")} == {"nothing to check"}


def test_a_breather_is_judged_by_where_it_ends(tmp_path):
    outside, intake = (book_of(tmp_path, RECORDS + f"breather_route: {route}\n") for route in ("outside", "intake"))
    assert outside.check("crankcase_suction").word == "nothing to check" and intake.check("breather_outlet").word == "nothing to check"
    assert outside.check("breather_outlet").word == "undecided" and intake.check("crankcase_suction").word == "undecided"


def test_a_ledger_without_hours_still_gives_a_book(tmp_path):
    book = book_of(tmp_path, RECORDS.replace("record_hours: 12 h", "record_hours: 0 h").replace("30 h", "0 h").replace("20 h", "0 h"))
    assert book["ledger_total_hours"].number == 0 and book["overhaul_years"].number == approx(10 * YEAR)


def test_more_sets_at_rest_than_there_are_is_a_fault(tmp_path):
    with pytest.raises(Faults, match="'record_sets_out' of 'tests' is 9, above 'installed_sets', 1"):
        book_of(tmp_path, "installed_sets: 1\n" + RECORDS.replace("record_reason: test,", "record_reason: test, record_sets_out: 9,"))


def test_a_stricter_permit_is_given_in_place_of_the_rule(tmp_path):
    book = book_of(tmp_path, RECORDS + "counted_hours_max: 40 h\n")
    assert book.check("hours_counted").word == "fails" and book["counted_hours_max"].origin == "given"


def moved(before, after, chapter):
    """Ids of values of a chapter that differ between two books."""
    return {value.id for value in before.of_chapter(chapter) if value.id in after.values and not value.term.is_text
            and not np.allclose(value.number, after[value.id].number, rtol=1e-12, equal_nan=True)}


def test_more_hours_move_ledger_mass_and_fuel_but_no_breather(tmp_path):
    before = book_of(tmp_path, RECORDS)
    after = book_of(tmp_path, RECORDS.replace("record_hours: 12 h", "record_hours: 15 h"))
    assert moved(before, after, "hours") == {
        "record_hours", "record_shaft_energy", "ledger_test_hours", "ledger_total_hours", "ledger_gap", "counted_hours", "record_pollutant_mass",
        "record_pollutant_share", "pollutant_mass", "pollutant_mass_untreated", "overhaul_years_by_hours", "lifetime_hours"}


def test_treatment_moves_mass_only(tmp_path):
    before = book_of(tmp_path, RECORDS)
    after = book_of(tmp_path, RECORDS.replace("record_load_ratio: 70 %", "record_load_ratio: 70 %, record_treatment_share: 80 %")
                    .replace("pollutant_mass_max: 1000 kg", "pollutant_mass_max: 1000 kg, pollutant_reduction: 90 %"))
    assert moved(before, after, "hours") == {"record_treatment_share", "pollutant_reduction", "record_pollutant_mass", "record_pollutant_share",
                                             "pollutant_mass"}
    # hand: 20 h x 1 set x 0.7 x shaft power x 14.6 g/kWh, of which 72 % are taken out
    energy = after["record_shaft_energy.outages"].number / KWH
    assert before["pollutant_mass.nox"].number - after["pollutant_mass.nox"].number == approx(energy * 0.0146 * 0.72)
    assert after["pollutant_mass.soot"].number == before["pollutant_mass.soot"].number


def test_altitude_moves_the_power_and_what_follows_it(tmp_path):
    before = book_of(tmp_path, RECORDS + "breather_bore: 80 mm\nbreather_length: 10 m\n")
    (tmp_path / "project.yaml").write_text((PLANT + RECORDS + "breather_bore: 80 mm\nbreather_length: 10 m\n").replace("altitude: 100 m", "altitude: 1600 m"),
                                           "utf-8")
    after = load(tmp_path)
    assert moved(before, after, "hours") == {
        "blowby_flow_new", "blowby_flow_worn", "breather_gas_density", "breather_velocity", "breather_reynolds_number", "breather_friction_factor",
        "breather_pressure_drop", "crankcase_pressure", "record_load", "record_shaft_energy", "record_pollutant_mass", "pollutant_mass",
        "pollutant_mass_untreated", "pollutant_potential"}
    assert after["record_shaft_energy.tests"].number / before["record_shaft_energy.tests"].number == approx(
        after["set_site_power"].number / before["set_site_power"].number)


def test_demo_books_keep_what_they_say(books):
    rules = {slug: book["hours_rule"].number for slug, book in books.items()}
    assert rules == {"larkmere-hospital": "permit", "high-tarn-waterworks": "us_emergency_engine", "cobble-key-exchange": "permit"}
    assert books["high-tarn-waterworks"].check("other_hours").word == "tight"
    assert "default" not in books["high-tarn-waterworks"]["counted_hours"].marks  # how a permit counts is nothing to a plant under another rule
    for book in books.values():
        assert book.check("ledger_agrees").word == "holds"  # ledger and plant tell the same year
        assert np.nansum(book["pollutant_mass"].number) > 0
