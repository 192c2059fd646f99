"""Loads and sets against worked examples of standards, libraries and hand calculations. Each figure names where it is from."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import numpy_financial
import pytest
from axes import over
from pytest import approx

from basis.chapters import collect
from basis.chapters.loads import chapter as d
from basis.chapters.loads import rating as r
from basis.chapters.loads import steps as s
from basis.chapters.plant import chapter as plant
from basis.chapters.ventilation import chapter as ventilation
from basis.language.faults import Faults
from basis.reading.project import read
from basis.site.figures import figures_of
from basis.solving.solve import solve

ROOT = Path(__file__).parents[3]
OWN = collect((plant, d, r, s, ventilation))  # ventilation for the vapour in the air
KW, KVA, HOUR, YEAR = 1e3, 1e3, 3600.0, 8760 * 3600.0


def own(slug):
    """A demo project without the files of other chapters."""
    project = read(ROOT / "projects" / slug)
    givens = {key: given for key, given in project.givens.items() if Path(given.file).name in ("plant.yaml", "loads.yaml", "project.yaml")}
    return replace(project, decisions=(), chapters=("plant", "loads"), remarks={}, trials=(), givens=givens)


def alone(slug, **changes):
    """The book of a demo project with the chapters of plant and loads only. `changes`: SI numbers of plain terms, or None to take one away."""
    project = own(slug)
    sample = project.givens[("altitude", "")]
    givens = {key: given for key, given in project.givens.items() if changes.get(key[0], 0) is not None}
    givens |= {(name, ""): replace(sample, term=name, data=data) for name, data in changes.items() if data is not None}
    return solve(replace(project, givens=givens), OWN)


# ---- demand ----

def test_demand_of_three_loads():
    # hand: 400 kW at 0.85, 150 kW at 0.95, 80 kW at 1.0. Q = 400·0.61974 + 150·0.32868 = 297.2 kvar,
    # S = √(630² + 297.2²) = 696.6 kVA, power factor 0.9044. Added arithmetically it would be 470.6 + 157.9 + 80 = 708.5 kVA.
    power = [400 * KW, 150 * KW, 80 * KW]
    reactive = over(d.load_demand_reactive_power, load_demand_power=power, load_power_factor=[0.85, 0.95, 1.0], load_power_factor_side=["lagging"] * 3)
    active, sideways = d.demand_power.run(np.array(power), 1.0), d.demand_reactive_power.run(reactive, 1.0)
    assert active == approx(630 * KW) and sideways == approx(297.2e3, rel=1e-3)
    apparent = d.demand_apparent_power.run(active, sideways)
    assert apparent == approx(696.6 * KVA, rel=1e-3)
    assert d.demand_power_factor.run(active, apparent) == approx(0.9044, abs=1e-4)
    assert apparent < sum(d.load_demand_apparent_power.run(np.array(power), np.array([0.85, 0.95, 1.0])))


def test_leading_load_takes_reactive_power_away():
    # hand: 100 kW at 0.98 are ±20.3 kvar
    both = over(d.load_demand_reactive_power, load_demand_power=[100e3, 100e3], load_power_factor=[0.98, 0.98], load_power_factor_side=["lagging", "leading"])
    assert both == approx([20.3e3, -20.3e3], rel=2e-3)


def test_demand_and_coincidence_factors():
    # hand: 500·0.8 + 300·0.7 + 200·0.5 = 710 kW, times 0.9 = 639 kW
    own = d.load_demand_power.run(np.array([500e3, 300e3, 200e3]), np.array([0.8, 0.7, 0.5]))
    assert d.demand_power.run(own, 0.9) == approx(639 * KW)
    assert d.demand_reactive_power.run(np.array([100e3, -20e3]), 0.9) == approx(72e3)  # hand


def test_apparent_power_and_nonlinear_share():
    assert d.load_demand_apparent_power.run(190 * KW, 0.95) == approx(200 * KVA)  # hand
    assert d.load_nonlinear_power.run(200 * KVA, 0.3) == approx(60 * KVA)  # hand


FIRM = {"load_service": ["essential", "deferrable", "essential"]}


def test_firm_demand_counts_what_must_be_carried():
    # hand: 0.9·(300 + 100) = 360 kW essential, 0.9·650 = 585 kW in all
    power = [300e3, 250e3, 100e3]
    assert over(d.firm_demand_power, coincidence_factor=0.9, firm_demand="essential", load_demand_power=power, **FIRM) == approx(360e3)
    assert over(d.firm_demand_power, coincidence_factor=0.9, firm_demand="all", load_demand_power=power, **FIRM) == approx(585e3)


def test_growth_is_compound():
    # numpy-financial: future worth of 100 at 3 % over ten years is 134.39, at 0 % it stays 100
    grown = d.load_future_power.run(np.array([100e3, 100e3]), np.array([0.03, 0.0]), 10 * YEAR)
    assert grown == approx([-1e3 * numpy_financial.fv(0.03, 10, 0, 100), 100e3])
    assert grown[0] == approx(134.392e3, rel=1e-5)  # compound interest table, 3 %, ten years: 1.34392
    future = [134.392e3, 250e3, 100e3]
    # hand: 0.9·(134.392 + 100) = 210.95 kW essential; 0.9·484.392 = 435.95 kW in all
    assert over(d.future_firm_demand_power, coincidence_factor=0.9, firm_demand="essential", load_future_power=future, **FIRM) == approx(210.953e3, rel=1e-5)
    assert over(d.future_firm_demand_power, coincidence_factor=0.9, firm_demand="all", load_future_power=future, **FIRM) == approx(435.953e3, rel=1e-5)


# ---- site rating: K = °C + 273 in the printed examples ----

EXPONENTS = {"D": (0, 0.7, 1.2, 1), "A": (1, 1, 0.75, 0), "C": (0, 0.7, 2.0, 0)}
NAMES = {"A": "naturally_aspirated_excess_air", "B": "naturally_aspirated_thermal", "C": "turbocharged", "D": "turbocharged_charge_cooled"}


def indicated(kind, pressure, air, coolant, vapour=0.0, reference=298.0):
    a, m, n, q = EXPONENTS[kind]
    return r.indicated_power_ratio.run(air_pressure=pressure, humidity_weight=a, vapour_pressure=vapour, reference_air_pressure=100e3,
                                       reference_vapour_pressure=0.3 * 3170.0, pressure_exponent=m, reference_air_temperature=reference,
                                       set_air_temperature=air, temperature_exponent=n, reference_coolant_temperature=reference,
                                       charge_coolant_temperature=coolant, coolant_exponent=q)


@pytest.mark.parametrize("kind, pressure, air, coolant, vapour, ratio, alpha", [
    ("D", 89.875e3, 313.0, 313.0, 0.0, 0.8330, 0.8037),      # hand: 1,000 m, 40 °C air and coolant; (0.89875)^0.7·(298/313)^2.2
    ("D", 74.68e3, 313.0, 313.0, 0.0, 0.7317, 0.6847),       # hand: 2,500 m, 40 °C
    ("A", 89.875e3, 313.0, 0.0 + 313, 0.6 * 7380, 0.8315, 0.8020),  # hand: 1,000 m, 40 °C, 60 % humidity, saturation 7.38 kPa
    ("D", 83.53e3, 313.0, 313.0, 0.0, 0.7913, 0.7548),       # hand: 1,600 m, 40 °C
    ("C", 90e3, 308.0, 308.0, 0.0, 0.8696, 0.8467),          # hand: 0.9^0.7 = 0.92890; (298/308)² = 0.93612; 0.8696 − 0.175·0.1304 = 0.8467
])
def test_power_adjustment(kind, pressure, air, coolant, vapour, ratio, alpha):
    k = indicated(kind, pressure, air, coolant, vapour)
    assert k == approx(ratio, abs=5e-4)
    assert r.power_adjustment.run(k, 0.8) == approx(alpha, abs=5e-4)


def test_power_adjustment_of_printed_examples():
    # GOST 10150-2014, page 34: ratio 1.056, mechanical efficiency 0.85, factor 1.063
    assert r.power_adjustment.run(1.056, 0.85) == approx(1.063, abs=5e-4)
    # a set manual prints 1.175 k − 0.175 for mechanical efficiency 0.80
    assert r.power_adjustment.run(0.9, 0.8) == approx(1.175 * 0.9 - 0.175)
    # hand: 95 kPa, 308 K air, 313 K coolant, efficiency 0.85: k 0.88283, α 0.86836, β 1.01667
    k = indicated("D", 95e3, 308.0, 313.0)
    alpha = r.power_adjustment.run(k, 0.85)
    assert (k, alpha, r.fuel_adjustment.run(k, alpha)) == approx((0.88283, 0.86836, 1.01667), abs=1e-5)


def test_no_adjustment_at_reference_and_none_beyond_rating():
    assert indicated("D", 100e3, 298.0, 298.0) == approx(1.0) and r.power_adjustment.run(1.0, 0.8) == 1.0 and r.fuel_adjustment.run(1.0, 1.0) == 1.0
    assert r.engine_site_power.run(1000e3, 1.063) == 1000e3  # a factor above one is no permission
    assert r.engine_site_power.run(1000e3, 0.8037) == approx(803.7e3)  # hand
    assert indicated("D", 85e3, 298.0, 298.0) < indicated("D", 95e3, 298.0, 298.0)


@pytest.mark.parametrize("letter, row", [("A", (1, 1, 0.75, 0)), ("B", (0, 1, 1, 0)), ("C", (0, 0.7, 2.0, 0)), ("D", (0, 0.7, 1.2, 1))])
def test_exponents_as_quoted_from_iso_3046_1(letter, row):
    # ISO 3046-1 exponents: a, m, n of A, C, D as quoted in a set manual; B and q from memory
    found = (r.humidity_weight, r.pressure_exponent, r.temperature_exponent, r.coolant_exponent)
    assert tuple(formula.run(NAMES[letter]) for formula in found) == row


def test_air_and_charge_coolant_at_the_set():
    assert r.set_air_temperature.run(307.15, 8.0) == approx(315.15)  # hand: 34 °C and 8 K are 42 °C
    assert r.charge_coolant_temperature.run(315.15, 318.15, 313.15) == approx(320.15)  # hand: 5 K above the air, as at reference


def test_alternator_derating():
    run = r.alternator_factor.run
    facts = {"alternator_altitude_loss": 0.03 / 500, "alternator_altitude_base": 1000.0, "alternator_temperature_loss": 0.03 / 5,
             "alternator_temperature_base": 313.15}
    # rule printed by alternator makers: 3 % each 500 m, 3 % each 5 K; by hand 1,600 m 3.6 %, 44 °C 2.4 %, together 6 %
    assert run(altitude=1600.0, set_air_temperature=312.15, **facts) == approx(0.964)
    assert run(altitude=900.0, set_air_temperature=317.15, **facts) == approx(0.976)
    assert run(altitude=1600.0, set_air_temperature=317.15, **facts) == approx(0.940)
    assert run(altitude=0.0, set_air_temperature=293.15, **facts) == 1.0
    assert run(altitude=30_000.0, set_air_temperature=293.15, **facts) == 0.0


def test_default_derating_is_the_rule_of_the_makers():
    book = alone("cobble-key-exchange")
    assert book["alternator_altitude_loss"].number == approx(0.03 / 500) and book["alternator_temperature_loss"].number == approx(0.03 / 5)


def test_set_ratings():
    assert r.set_rated_apparent_power.run(1640e3, 0.8) == approx(2050e3)  # hand
    assert r.alternator_rated_apparent_power.run(2050e3) == 2050e3
    assert r.alternator_site_apparent_power.run(2050e3, 0.94) == approx(1927e3)  # hand
    assert r.alternator_site_power.run(1927e3, 0.8) == approx(1541.6e3)  # hand
    assert r.formula_site_power.run(1600e3, 1541.6e3) == 1541.6e3 and r.formula_site_power.run(1500e3, 1541.6e3) == 1500e3
    assert r.set_site_power.run("formula", None, 1500e3) == 1500e3 and r.set_site_power.run("declaration", 1450e3, 1500e3) == 1450e3
    assert r.engine_shaft_power.run(940e3, 0.94) == approx(1000e3)  # hand


def test_pole_pairs():
    # synchronous speed n = 60 f/p: 50 Hz 1,500 r/min and 60 Hz 1,800 r/min two pairs, 60 Hz 900 r/min four
    assert [r.pole_pairs.run(f, n / 60) for f, n in ((50, 1500), (60, 1800), (60, 900))] == approx([2, 2, 4])


def test_mean_effective_pressure():
    # p_me [bar] = 1200 P/(V n): 1,000 kW, 50 L, 1,500 r/min give 16.0 bar
    assert r.mean_effective_pressure.run("four_stroke", 1000e3, 0.050, 25.0) == approx(16.0e5)
    assert r.mean_effective_pressure.run("two_stroke", 1000e3, 0.050, 25.0) == approx(8.0e5)  # hand: work 1,000 kW / 25 Hz = 40 kJ a turn over 50 L


def test_fuel_heat_flow():
    # hand: 1,000 kW · 210 g/kWh = 58.33 g/s, times 42.7 MJ/kg = 2,490.8 kW; factor 1.02 gives 2,540.7 kW
    assert r.fuel_heat_flow.run(1000e3, 0.210 / 3.6e6, 1.0, 42.7e6) == approx(2490.8e3, rel=1e-4)
    assert r.fuel_heat_flow.run(1000e3, 0.210 / 3.6e6, 1.02, 42.7e6) == approx(2540.65e3, rel=1e-4)


# ---- number of sets ----

def test_number_of_sets():
    # hand: 1,850 kW on sets of 1,000 kW at 90 %: 2.06, so three, and four with one spare
    needed = d.required_sets.run(1850e3, 1000e3, 0.9)
    assert needed == 3 and d.installed_sets.run(needed, 1) == 4 and d.sets_in_reserve.run(4, needed) == 1
    assert d.required_sets.run(1800e3, 1000e3, 0.9) == 2 and d.required_sets.run(1800e3, 1000e3, 0.8) == 3
    assert d.future_required_sets.run(2750e3, 1000e3, 0.9) == 4 and d.future_sets_in_reserve.run(4, 4) == 0


def test_average_of_a_day():
    # hand, rating 1,500 kW: 900 kW 6 h, 300 kW 10 h (counts 450), 1,300 kW 4 h, stopped 4 h:
    # (5,400 + 4,500 + 5,200)/20 = 755 kW = 50.3 %, under the 70 % of PRP
    counted = np.array([r.day_counted_power.run(power, 0.3, 1500e3) for power in (900e3, 300e3, 1300e3)])
    assert counted == approx([900e3, 450e3, 1300e3])
    mean = r.day_average_power.run(counted, np.array([6, 10, 4]) * HOUR)
    assert mean == approx(755e3) and r.day_average_ratio.run(mean, 1500e3) == approx(0.5033, abs=1e-4)


def test_average_by_rating_class():
    # ISO 8528-1: ESP and PRP 70 % (read in reproductions), COP, LTP, DCP 100 % (from memory)
    assert [r.day_average_ratio_max.run(name) for name in ("ESP", "PRP", "LTP", "COP", "DCP")] == approx([0.7, 0.7, 1, 1, 1])


# ---- running cases ----

CASE = {"load_carried": np.array([[1.0, 1.0], [1.0, 0.0], [1.0, 1.0]]), "running_case_share": [1.0, 1.0]}  # three loads, all and essential
NO_BANK = {"load_bank_power": [0.0, 0.0]}


def test_loads_on_the_bus():
    carried = over(d.load_carried, running_case_load=["all", "essential"], **FIRM)
    assert np.array_equal(carried, CASE["load_carried"])
    bank = {"load_bank_power": [0.0, 0.0], "load_bank_power_factor": [1.0, 1.0]}
    # hand: 0.9·(300 + 250 + 100) = 585 kW and 0.9·400 = 360 kW; kvar likewise; rectifiers without coincidence 90 and 30 kVA
    assert over(d.case_power, coincidence_factor=0.9, load_demand_power=[300e3, 250e3, 100e3], **CASE, **NO_BANK) == approx([585e3, 360e3])
    assert over(d.case_reactive_power, coincidence_factor=0.9, load_demand_reactive_power=[100e3, 60e3, -20e3], **CASE, **bank) == approx([126e3, 72e3])
    assert over(d.case_nonlinear_power, load_nonlinear_power=[10e3, 60e3, 20e3], **CASE) == approx([90e3, 30e3])


def test_sign_of_the_reactive_power_of_a_load():
    assert [d.load_reactive_sign.run(side) for side in ("lagging", "leading")] == [1, -1]


def test_a_test_on_a_share_of_the_loads_and_a_load_bank():
    # NFPA 110 8.4.2: a set of 1,000 kW and a building of 180 kW take 120 kW more for 30 %, 570 kW more for 75 % (hand calculation)
    case = {"load_carried": np.array([[1.0, 1.0]]), "running_case_share": [1.0, 0.5], "load_bank_power": [120e3, 660e3]}
    assert over(d.case_power, coincidence_factor=1.0, load_demand_power=[180e3], **case) == approx([300e3, 750e3])
    # 1,125 kvar go with 1,500 kW at 0.8; resistors alone ask for none (hand calculation)
    reactive = over(d.case_reactive_power, coincidence_factor=1.0, load_demand_reactive_power=[0.0], load_carried=np.array([[1.0, 1.0]]),
                    running_case_share=[1.0, 1.0], load_bank_power=[1500e3, 1500e3], load_bank_power_factor=[0.8, 1.0])
    assert reactive == approx([1125e3, 0])
    assert over(d.case_nonlinear_power, load_nonlinear_power=[60e3], load_carried=np.array([[1.0, 1.0]]), running_case_share=[0.5, 0.0]) == approx([30e3, 0])


def test_the_monthly_test_of_one_set_stands_in_a_book():
    chapters = ("plant", "loads", "voltage", "ventilation", "noise", "fuel")
    book = solve(replace(read(ROOT / "projects" / "high-tarn-waterworks"), chapters=chapters, remarks={}))
    assert book["running_sets.monthly_test"].number == 1 and book["case_power.monthly_test"].number == book["set_load.monthly_test"].number == approx(400e3)
    assert book["case_fuel_use.monthly_test"].number < book["case_fuel_use.one_set"].number
    assert book["heat_to_room.monthly_test"].number == book["heat_to_room.one_set"].number  # each running set is counted at full load
    test, both = (book["receiver_level"].element(case, "cottage").number for case in ("monthly_test", "both"))
    assert 0 < both - test <= 6.03  # half the machines and, at the openings, half the area that they radiate from: at most 20·lg 2 less
    assert book["rating_level"].element("cottage", "day").number == approx(test)
    assert "monthly_test" not in book.check("voltage_on_start").element  # nothing starts on a set that carries a load bank alone


def test_load_of_each_set():
    assert d.running_sets.run(3, np.array([0, 1])) == approx([3, 2])
    assert d.case_apparent_power.run(300e3, 400e3) == approx(500e3)  # 3, 4, 5
    assert d.set_load.run(2868e3, 2) == approx(1434e3) and d.set_load_ratio.run(1434e3, 1620e3) == approx(0.88519, abs=1e-5)  # hand
    assert d.alternator_load_ratio.run(3090e3, 2, 2025.4e3) == approx(0.76281, abs=1e-5)  # hand


def test_sets_left_at_low_load():
    # hand: 950 kW on four sets of 1,000 kW: four would carry 23.8 %, three carry 31.7 %
    assert d.low_load_sets.run(1, 4, 950e3, 0.30, 1000e3) == 3
    assert d.low_load_ratio.run(950e3, 3, 1000e3) == approx(0.3167, abs=1e-4)
    assert d.low_load_sets.run(2, 4, 350e3, 0.30, 1000e3) == 2  # never fewer than the project keeps
    assert d.low_load_sets.run(1, 2, 5000e3, 0.30, 1000e3) == 2  # never more than there are
    assert d.minimum_demand_power.run(0.38, 2500e3) == approx(950e3)  # hand


# ---- the demo projects ----

def test_hospital_two_of_three_sets():
    book = alone("larkmere-hospital")
    assert book["required_sets"].number == 2 and book["installed_sets"].number == 3
    # hand: schedule of 3,259.5 kW, times 0.88
    assert book["demand_power"].number == approx(0.88 * 3259.5e3, rel=1e-6)
    words = {verdict.check.id: verdict.word for verdict in book.checks}
    assert words["step_size"] == "tight" and words["future_reserve"] == "fails"
    assert not [name for name, word in words.items() if word == "undecided"]
    assert book.check("set_loading").element == "one_out"
    assert float(np.sum(book["step_power"].number)) == approx(float(np.sum(book["load_demand_power"].number)))


def test_waterworks_sheds_with_one_set_alone():
    book = alone("high-tarn-waterworks")
    # hand: 196 + 273 + 81 + 36 + 12 + 84 + 24 = 706 kW essential; 1,288.5 kW and a little with all
    assert book["case_power"].element("one_set").number == approx(706e3)
    assert book["case_power"].element("both").number == approx(1289e3, abs=1e3)
    verdict = book.check("step_size")
    assert (verdict.word, verdict.element) == ("fails", "high_lift")
    assert book.check("voltage_on_start").element == "high_lift_motor one_set"
    # hand: 250 hp, letter G, 65 % tap: 250·6.29·0.4225 = 664 kVA
    assert book["motor_start_apparent_power"].element("raw_water_motor").number == approx(664.4e3, abs=100)


def test_one_set_alone_on_defaults():
    book = alone("cobble-key-exchange")
    assert book["installed_sets"].number == 1 and book["sets_in_reserve"].number == 0 and book["running_sets"].element("running").number == 1
    assert book.check("reserve").word == "nothing to check"  # as many are installed as are wanted
    assert book.check("day_average").word == "undecided" and book.check("day_average").missing == ("day_periods",)
    assert book.check("frequency_on_step").missing == ("inertia_constant",) and book["frequency_dip_judged_by"].number == "turning_masses"
    assert book["coincidence_factor"].origin == "default" and book["planned_loading"].mark == "common practice"


def test_one_set_needs_no_motors():
    project = own("cobble-key-exchange")
    givens = {key: given for key, given in project.givens.items() if key[1] != "compressor"}
    book = solve(replace(project, givens=givens, items={**project.items, "motor": ()}), OWN)
    assert book.check("voltage_on_start").word == "nothing to check" and book.check("set_loading").word == "holds"


def test_declared_site_power_wins():
    book = alone("larkmere-hospital", site_power_basis="declaration", declared_site_power=1300e3)
    assert book["set_site_power"].number == 1300e3 and book["required_sets"].number == 3
    assert book.check("reserve").word == "fails"


def test_declaration_drives_rating_and_fuel_alike():
    # hand, ISO 3046-1: eta 0.8 gives 0.7 (1/0.8 - 1) = 0.175. Declared 1,100 kW of 1,250 kW: alpha 0.88, k = (0.88 + 0.175)/1.175 = 0.89787, beta 1.02031
    assert r.engine_power_ratio.run("declaration", 1100e3, 1250e3, 0.80) == approx(0.88)
    assert r.engine_power_ratio.run("formula", None, 1250e3, 0.80) == 0.80
    k = r.engine_indicated_ratio.run(0.88, 0.8)
    assert k == approx(0.89787, abs=5e-6) and r.fuel_adjustment.run(k, 0.88) == approx(1.02031, abs=5e-6)
    assert r.engine_indicated_ratio.run(1.063, 0.85) == approx(1.056, abs=5e-4)  # GOST 10150-2014, page 34, read backwards
    assert r.declaration_gap.run(1100e3, 1000e3) == approx(0.1) == r.declaration_gap.run(900e3, 1000e3)  # hand, either side


def test_declaration_in_a_book():
    # T57 of the notes on air and fuel: at reference conditions alpha and beta are one; a maker who declares rated power at altitude says the same
    plain = alone("high-tarn-waterworks")
    rated = plain["set_rated_power"].number
    declared = alone("high-tarn-waterworks", site_power_basis="declaration", declared_site_power=rated)
    assert plain["fuel_adjustment"].number > 1 and declared["fuel_adjustment"].number == approx(1)
    # shaft power up with the rating, heat of fuel by the same engine: no more than power and adjustment together say
    ratio = declared["fuel_heat_flow"].number / plain["fuel_heat_flow"].number
    assert ratio == approx(rated / plain["set_site_power"].number / plain["fuel_adjustment"].number)
    assert plain.check("site_power_declared").word == "nothing to check" and plain.check("site_power_declared").beside
    assert declared.check("site_power_declared").word == ("fails" if declared["declaration_gap"].number > 0.1 else "holds")
    assert alone("high-tarn-waterworks", site_power_basis="declaration", declared_site_power=1.02 * plain["set_site_power"].number).check(
        "site_power_declared").word == "holds"


def test_a_declaration_that_nothing_uses_is_a_fault():
    with pytest.raises(Faults, match="site_power_basis: declaration"):
        alone("larkmere-hospital", declared_site_power=1300e3)


def test_dry_air_counts_for_an_engine_limited_by_air():
    damp = alone("cobble-key-exchange", engine_type="naturally_aspirated_excess_air", set_air_temperature_rise=5.0)["indicated_power_ratio"].number
    dry = alone("cobble-key-exchange", engine_type="naturally_aspirated_excess_air", set_air_temperature_rise=5.0,
                outdoor_relative_humidity=0.0)["indicated_power_ratio"].number
    assert damp < dry
    # hand, 298.15 and 313.15 K: (101.289 − 4.50)/(100 − 0.951) = 0.97718, times 0.95210^0.75 = 0.96385
    assert damp == approx(0.97718 * 0.96385, abs=5e-4)


def test_without_a_class_the_limits_are_undecided():
    book = alone("cobble-key-exchange", performance_class=None)
    assert book.check("voltage_on_start").word == "undecided" and book.check("voltage_on_start").missing == ("performance_class",)


# ---- figures ----

@pytest.mark.parametrize("slug, sets", [("larkmere-hospital", 3), ("cobble-key-exchange", 1)])
def test_one_line_draws_every_set(slug, sets):
    drawn = figures_of("loads")["one_line"].draw(alone(slug))
    words = [text.get_text() for text in drawn.axes[0].texts]
    assert words.count("G") == sets and [word for word in words if word.startswith("Set ")] == [f"Set {number}" for number in range(1, sets + 1)]


def test_one_line_draws_eight_sets_at_most():
    drawn = figures_of("loads")["one_line"].draw(alone("larkmere-hospital", installed_sets=12.0))
    words = [text.get_text() for text in drawn.axes[0].texts]
    assert words.count("G") == 8 and "sets: 12" in words and any("8 of them" in word for word in words)


def test_load_steps_are_drawn_to_scale():
    book = alone("high-tarn-waterworks")
    axes = figures_of("loads")["load_steps"].draw(book).axes[0]
    before, step = axes.containers[1], axes.containers[2]
    assert [bar.get_width() for bar in step] == approx(list(book["step_power"].number / KW))
    assert [first.get_width() + bar.get_width() for first, bar in zip(before, step)] == approx(list(book["step_total_power"].number / KW))
