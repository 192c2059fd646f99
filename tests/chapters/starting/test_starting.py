"""Starting against codes, printed tables and hand calculations. Each figure names where it is from."""

from pathlib import Path

import numpy as np
import pytest
from axes import over
from CoolProp.CoolProp import PropsSI
from demos import demo_copy
from pytest import approx
from scipy.integrate import quad

from basis.chapters.starting import air as a
from basis.chapters.starting import chapter as s
from basis.language.faults import Faults, OutOfTable
from basis.language.table import table
from basis.language.terms import terms
from basis.language.units import to_si
from basis.solving.solve import load

PROJECTS = Path(__file__).parents[3] / "projects"
AH, HOUR, MM2, BAR, YEAR, MINUTE = 3600.0, 3600.0, 1e-6, 1e5, 8760 * 3600.0, 60.0
SEA = 101_325.0
RECEIVER = {"receivers_volume": 0.5, "receiver_pressure_max": 30 * BAR, "receiver_pressure_min": 10 * BAR, "air_pressure": SEA, "air_per_start": 1.5}
ZERO = 38.65  # K, -234.5 °C: where the straight line of copper meets nought


# ---- figures from outside, one line each ----

HAND = [
    # NFPA 110-2002 Table 5.6.4.2: three cranks of 15 s with rests of 15 s are a limiter of 75 s [read in a reproduction]
    (s.cranking_limiter_time, {"cranks_per_cycle": 3, "crank_time": 15, "crank_rest_time": 15}, 75),
    (s.cranking_limiter_time, {"cranks_per_cycle": 4, "crank_time": 10, "crank_rest_time": 5}, 55),  # hand: 4 x 10 + 3 x 5
    # NFPA 110-2002 5.6.4.4: two complete limiter periods, 45 s of cranking each [read]
    (s.starts_required, {"cranks_per_cycle": 3, "cranking_cycles": 2}, 6),
    (s.battery_strings, {"battery_units": 4, "battery_unit_voltage": 12, "starting_voltage": 24}, 2),  # hand: 48/24
    (s.battery_strings, {"battery_units": 3, "battery_unit_voltage": 12, "starting_voltage": 24}, 1),  # one is left over
    (s.battery_capacity, {"battery_strings": 2, "battery_unit_capacity": 180 * AH}, 360 * AH),  # hand: strings add
    (s.battery_cells, {"starting_voltage": 24, "battery_type": "vented_lead"}, 12),  # IEC 60050-482: nominal 2 V a lead cell
    (s.battery_cells, {"starting_voltage": 24, "battery_type": "vented_nickel_cadmium"}, 20),  # 1.2 V a cell
    (s.cranking_current, {"starters_per_set": 2, "starter_current": 900}, 1800),
    (s.battery_temperature, {"room_temperature_held": 283.15}, 283.15),
    (s.battery_temperature_mean, {"room_temperature_mean_held": 291.0}, 291.0),
    # hand: 2 x 1500 x 0.8 / 1.30 = 1846.2 A
    (s.cranking_current_available, {"battery_strings": 2, "battery_unit_cranking_current": 1500, "battery_end_of_life_share": 0.8,
                                    "battery_temperature_factor": 1.3}, 1846.2),
    (s.cranking_current_needed, {"cranking_current": 1800, "battery_design_margin": 1.1}, 1980),
    (s.cold_cranking_ratio, {"starting_method": "battery", "cranking_current_needed": 1980, "cranking_current_available": 2475}, 0.8),
    (s.cold_cranking_ratio, {"starting_method": "both", "cranking_current_needed": 1980, "cranking_current_available": 2475}, 0.8),
    (s.cold_cranking_ratio, {"starting_method": "air", "cranking_current_needed": 1980, "cranking_current_available": 2475}, 0),
    # reference E44: 900 A for 3 x 15 s draws 11.25 Ah; 324 kJ for each 15 s at 24 V (hand: 900 x 45 / 3600; 24 x 900 x 15)
    (s.crank_charge, {"cranking_current": 900, "crank_time": 15}, 3.75 * AH),
    (s.cranking_charge, {"crank_charge": 3.75 * AH, "starts_required": 3}, 11.25 * AH),
    (s.crank_energy, {"starting_voltage": 24, "crank_charge": 3.75 * AH}, 324e3),
    # hand: 360 x 0.333 x 0.8 / (1.30 x 7.5) = 9.84, so 9
    (s.battery_cranks, {"battery_capacity": 360 * AH, "battery_usable_share": 0.333, "battery_end_of_life_share": 0.8, "battery_temperature_factor": 1.3,
                        "crank_charge": 7.5 * AH}, 9),
    (s.battery_life_rated, {"battery_type": "sealed_lead"}, 5 * YEAR),
    # hand: ten kelvins above 25 °C halve it once, five take a factor of 2^0.5; below 25 °C nothing is gained
    (s.battery_life_expected, {"battery_life_rated": 5 * YEAR, "battery_temperature_mean": 308.15, "battery_reference_temperature": 298.15,
                               "battery_life_halving": 10}, 2.5 * YEAR),
    (s.battery_life_expected, {"battery_life_rated": 5 * YEAR, "battery_temperature_mean": 303.15, "battery_reference_temperature": 298.15,
                               "battery_life_halving": 10}, 3.5355 * YEAR),
    (s.battery_life_expected, {"battery_life_rated": 5 * YEAR, "battery_temperature_mean": 283.15, "battery_reference_temperature": 298.15,
                               "battery_life_halving": 10}, 5 * YEAR),
    # hand, from 0.268 Ω/km of class 2: 2 x 4 x 0.268e-3; two conductors halve it
    (s.starter_cable_resistance, {"starter_cable_length": 4, "starter_cable_resistance_per_length": 0.268e-3, "starter_cables": 1}, 2.144e-3),
    (s.starter_cable_resistance, {"starter_cable_length": 4, "starter_cable_resistance_per_length": 0.268e-3, "starter_cables": 2}, 1.072e-3),
    (s.starter_cable_drop, {"starter_cable_resistance": 2.144e-3, "cranking_current": 900}, 1.9296),
    (s.starter_cable_drop_ratio, {"starting_method": "battery", "starter_cable_drop": 1.930, "starting_voltage": 24}, 0.08042),
    (s.starter_cable_drop_ratio, {"starting_method": "air", "starter_cable_drop": 1.930, "starting_voltage": 24}, 0),
    # hand: 0.08 x 24 / (2 x 4 x 900) = 0.26667e-3; two conductors may each have twice as much
    (s.starter_cable_resistance_per_length_max, {"starter_cable_length": 4, "cranking_current": 900, "starter_cable_drop_ratio_max": 0.08,
                                                 "starting_voltage": 24, "starter_cables": 1}, 0.26667e-3),
    (s.starter_cable_resistance_per_length_max, {"starter_cable_length": 4, "cranking_current": 900, "starter_cable_drop_ratio_max": 0.08,
                                                 "starting_voltage": 24, "starter_cables": 2}, 0.53333e-3),
    (s.battery_open_voltage, {"battery_cells": 12, "battery_type": "vented_lead"}, 25.2),
    # hand: 25.2 - 10.8 x 900/1846.2 = 19.935
    (s.battery_cranking_voltage, {"battery_open_voltage": 25.2, "battery_cells": 12, "battery_type": "vented_lead", "cranking_current": 900,
                                  "cranking_current_available": 1846.2}, 19.935),
    (s.starter_voltage, {"battery_cranking_voltage": 19.935, "starter_cable_drop": 1.930}, 18.005),
    (s.starter_voltage, {"battery_cranking_voltage": 16.4, "starter_cable_drop": 24.2}, 0),  # a cable that takes more than there is
    (s.battery_cranking_voltage, {"battery_open_voltage": 25.2, "battery_cells": 12, "battery_type": "vented_lead", "cranking_current": 9000,
                                  "cranking_current_available": 1846.2}, 0),  # hand: 25.2 - 10.8 x 4.9 would be below nought
    (s.start_time_second_crank, {"start_time": 10, "crank_time": 15, "crank_rest_time": 12}, 37),
    (a.receivers_volume, {"air_receivers": 2, "receiver_volume": 0.25}, 0.5),
    # reference E48: 0.5 m³ from 30 to 10 bar gauge, 1.5 m³ a start: 6.58 isothermal, 5.33 isentropic, so 5
    # (hand: 0.5 x 20e5 / (101325 x 1.5) = 6.5795; 0.5 x 31.01325 / (1.01325 x 1.5) x (1 - 0.355114^(1/1.4)) = 10.2026 x 0.522653 = 5.3324)
    (a.starts_isothermal, RECEIVER, 6.5795),
    (a.starts_isentropic, {**RECEIVER, "isentropic_exponent": 1.4}, 5.3324),
    (a.air_starts, {"starts_isentropic": 5.3324}, 5),
    # hand: 6 x 1.5 x 1.01325 / 20 = 0.45596; 0.5 x 6 / 5.3324 = 0.56260
    (a.receiver_volume_isothermal, {"starts_required": 6, "air_per_start": 1.5, "air_pressure": SEA, "receiver_pressure_max": 30 * BAR,
                                    "receiver_pressure_min": 10 * BAR}, 0.45596),
    (a.receiver_volume_isentropic, {"starts_required": 6, "air_per_start": 1.5, "air_pressure": SEA, "receiver_pressure_max": 30 * BAR,
                                    "receiver_pressure_min": 10 * BAR,
                                    "isentropic_exponent": 1.4}, 0.56260),
    # hand: 0.5 x 20e5 / (101325 x 20) = 0.49346 h = 29.607 min
    (a.air_recharge_time, {"starting_method": "air", **{name: RECEIVER[name]
                                                        for name in ("receivers_volume", "receiver_pressure_max", "receiver_pressure_min", "air_pressure")},
                           "compressor_free_air": 20 / HOUR}, 29.607 * MINUTE),
    (a.air_recharge_time, {"starting_method": "battery", **{name: RECEIVER[name]
                                                            for name in ("receivers_volume", "receiver_pressure_max", "receiver_pressure_min", "air_pressure")},
                           "compressor_free_air": 20 / HOUR}, 0),
    (a.charge_factor, {"battery_type": "vented_lead"}, 1.15),
    # reference E45: 200 Ah in 24 h with 5 A standing: lead 14.58 A, nickel-cadmium 16.67 A (hand: 200 x 1.15 / 24 + 5; 200 x 1.4 / 24 + 5)
    (a.charger_current_required, {"battery_capacity": 200 * AH, "charge_factor": 1.15, "charge_time": 24 * HOUR, "standing_current": 5}, 14.583),
    (a.charger_current_required, {"battery_capacity": 200 * AH, "charge_factor": 1.4, "charge_time": 24 * HOUR, "standing_current": 5}, 16.667),
    (a.charger_site_current, {"charger_current": 30, "charger_site_factor": 0.94}, 28.2),
    # hand: 11.25 x 1.15 / 10 = 1.29375 h
    (a.recharge_time_after_start, {"cranking_charge": 11.25 * AH, "charge_factor": 1.15, "charger_site_current": 15, "standing_current": 5}, 1.29375 * HOUR),
    (a.float_voltage, {"battery_cells": 12, "battery_type": "vented_lead"}, 26.76),
    (a.equalise_voltage, {"battery_cells": 12, "battery_type": "vented_lead"}, 28.8),
    # IEC 62485-2, as EN 50272-2 quotes it: 5 and 20 mA/Ah for vented lead [read in a reproduction]
    (a.gas_current_float, {"battery_type": "vented_lead"}, 0.005 / HOUR),
    (a.gas_current_boost, {"battery_type": "vented_lead"}, 0.020 / HOUR),
    # reference E47: 12 vented cells of 200 Ah: boost 2.4 m³/h, opening 67.2 cm², float 0.6 m³/h (hand: 0.05 x 12 x 20 x 200 / 1000)
    (a.battery_gas_airflow_float, {"hydrogen_dilution": 0.05 / HOUR, "installed_sets": 1, "battery_cells": 12, "gas_current_float": 0.005 / HOUR,
                                   "battery_capacity": 200 * AH}, 0.6 / HOUR),
    (a.battery_gas_airflow, {"hydrogen_dilution": 0.05 / HOUR, "installed_sets": 1, "battery_cells": 12, "gas_current_boost": 0.020 / HOUR,
                             "battery_capacity": 200 * AH}, 2.4 / HOUR),
    (a.battery_gas_airflow, {"hydrogen_dilution": 0.05 / HOUR, "installed_sets": 3, "battery_cells": 12, "gas_current_boost": 0.020 / HOUR,
                             "battery_capacity": 200 * AH}, 7.2 / HOUR),
    (a.battery_gas_airflow_float, {"hydrogen_dilution": 0.05 / HOUR, "installed_sets": 3, "battery_cells": 12, "gas_current_float": 0.005 / HOUR,
                                   "battery_capacity": 200 * AH}, 1.8 / HOUR),
    (a.battery_opening_required, {"battery_gas_airflow": 2.4 / HOUR}, 67.2e-4),
    # hand: 3000/3 + 400
    (a.battery_yearly_cost, {"battery_price": 3000, "battery_replacement_interval": 3 * YEAR, "battery_upkeep_cost_yearly": 400}, 1400),
    (a.starting_first_cost, {"starting_method": "battery", "installed_sets": 3, "battery_start_price": 10, "air_start_price": 24}, 30),
    (a.starting_first_cost, {"starting_method": "air", "installed_sets": 3, "battery_start_price": 10, "air_start_price": 24}, 72),
    (a.starting_first_cost, {"starting_method": "both", "installed_sets": 3, "battery_start_price": 10, "air_start_price": 24}, 102),
    (a.starting_yearly_cost, {"starting_method": "battery", "installed_sets": 3, "battery_yearly_cost": 7, "air_upkeep_cost_yearly": 2}, 21),
    (a.starting_yearly_cost, {"starting_method": "air", "installed_sets": 3, "battery_yearly_cost": 7, "air_upkeep_cost_yearly": 2}, 6),
    (a.starting_yearly_cost, {"starting_method": "both", "installed_sets": 3, "battery_yearly_cost": 7, "air_upkeep_cost_yearly": 2}, 27),
    # hand: 1000 + 100 x 12.4622, the present-worth factor of 20 years at 5 %
    (a.starting_life_cost, {"starting_first_cost": 1000, "starting_yearly_cost": 100, "voltage_annuity_factor": 12.4622}, 2246.22),
    *((s.cranked_by_battery, {"starting_method": way}, turns) for way, turns in (("battery", 1), ("both", 1), ("air", 0))),
    (s.starts_available, {"starting_method": "battery", "battery_cranks": 9, "air_starts": 5}, 9),
    (s.starts_available, {"starting_method": "air", "battery_cranks": 9, "air_starts": 5}, 5),
    (s.starts_available, {"starting_method": "both", "battery_cranks": 9, "air_starts": 5}, 5),
    (s.starts_available, {"starting_method": "both", "battery_cranks": 4, "air_starts": 5}, 4),
]


@pytest.mark.parametrize("formula, inputs, expected", HAND, ids=[f"{formula.id}-{number}" for number, (formula, *_) in enumerate(HAND)])
def test_figures_from_outside(formula, inputs, expected):
    assert formula.run(**inputs) == approx(expected, rel=1e-4)


@pytest.mark.parametrize("table_id, volts", (
    ("iec-60228-copper", 1.930),           # reference E46: 900 A, 4 m each way, 70 mm², 20 °C: 1.930 V, 8.04 % of 24 V; class 2, 0.268 Ω/km
    ("iec-60228-copper-class-5", 1.958)))  # IEC 60228, table 3, flexible: 0.272 Ω/km (hand: 2 x 4 x 900 x 0.272e-3)
def test_cable_of_900_amperes(table_id, volts):
    per_length = s.starter_cable_resistance_per_length.run(table_id, "70 mm²", 293.15, ZERO)
    drop = s.starter_cable_drop.run(s.starter_cable_resistance.run(4, per_length, 1), 900)
    assert drop == approx(volts, abs=5e-4)
    assert s.starter_cable_drop_ratio.run("battery", drop, 24) == approx(volts / 24, abs=5e-5)


def test_warm_cable_resists_more():
    # hand: 0.272 Ω/km at 20 °C times (60 + 234.5)/(20 + 234.5) is 0.3148 Ω/km
    assert s.starter_cable_resistance_per_length.run("iec-60228-copper-class-5", "70 mm²", 333.15, ZERO) == approx(0.3148e-3, abs=5e-8)


def test_flexible_copper_resists_as_its_area_and_lay():
    # IEC 60028: copper of 58 m/(Ω mm²) over the nominal area is the least that a table may print; strands, their lay and tolerance add to it
    flexible = table("iec-60228-copper-class-5")
    over_copper = [resistance * area * 58e6 for resistance, area in zip(flexible.columns["resistance"], flexible.columns["area"])]
    assert 1.0 < min(over_copper) and max(over_copper) < 1.17


# ---- temperature of the battery ----

@pytest.mark.parametrize("fahrenheit, factor", ((40, 1.30), (50, 1.19), (60, 1.11), (70, 1.04)))
def test_temperature_factors_that_were_read(fahrenheit, factor):
    # IEEE 485 temperature correction, the four rows read in a reproduction and in a public worksheet
    assert temperature_factor(to_si(fahrenheit, "degF", "K", "temperature")) == approx(factor, abs=0.005)


def temperature_factor(kelvin, kind="vented_lead", given=9.0):
    return s.battery_temperature_factor.run(battery_type=kind, battery_temperature=kelvin, battery_reference_temperature=298.15,
                                            nickel_cadmium_temperature_factor=given)


def test_temperature_factor_between_beyond_and_outside():
    assert temperature_factor(to_si(47.5, "degF", "K", "temperature")) == approx(1.22, abs=1e-6)  # hand: half way between 1.25 and 1.19
    assert temperature_factor(298.15) == temperature_factor(320.0) == approx(1.0)  # no gain above 25 °C
    with pytest.raises(OutOfTable, match="outside table"):
        temperature_factor(to_si(20, "degF", "K", "temperature"))
    assert temperature_factor(230.0, "vented_nickel_cadmium", 1.25) == 1.25  # lead's table is not asked
    assert np.all(np.diff(table("ieee-485-temperature").columns["factor"]) < 0)  # the colder, the more battery


def test_tables_of_cells_and_gas():
    # IEC 62485-2 as quoted: sealed lead 1 and 8, vented nickel-cadmium 5 and 50 mA/Ah [read in a reproduction]
    gas = table("iec-62485-2-gas")
    cells = [gas.value(column, kind) * HOUR * 1e3 for kind in ("sealed_lead", "vented_nickel_cadmium") for column in ("float", "boost")]
    assert cells == approx([1, 8, 5, 50])
    with pytest.raises(OutOfTable):
        gas.value("float", "dry_cell")
    assert table("battery-cells").value("charge_factor", "vented_nickel_cadmium") == 1.4  # common practice
    assert (table("battery-cells").value("open", "sealed_lead"), table("battery-cells").value("crank_end", "vented_lead")) == (2.13, 1.20)


def test_voltage_falls_to_the_end_voltage_at_the_rated_current():
    # SAE J537, from memory: a 12 V battery holds 7.2 V at its cranking rating, 14.4 V for two in series
    assert s.battery_cranking_voltage.run(25.2, 12, "vented_lead", 1500, 1500) == approx(14.4)
    assert s.battery_cranking_voltage.run(25.2, 12, "vented_lead", 0, 1500) == 25.2


def test_cold_adds_no_life():
    assert s.battery_life_expected.run(5 * YEAR, 298.1495, 298.15, 10.0) == 5 * YEAR  # exactly: a battery does not outlive its rating


# ---- compressed air ----

def test_isentropic_starts_against_real_air():
    # CoolProp: density of real air before and after an isentropic fall from 31.01 to 11.01 bar, starting at 15 °C
    entropy = PropsSI("S", "P", 31.01325e5, "T", 288.15, "Air")
    left = PropsSI("D", "P", 11.01325e5, "S", entropy, "Air")
    taken = 0.5 * (PropsSI("D", "P", 31.01325e5, "T", 288.15, "Air") - left)
    starts = taken / (1.5 * PropsSI("D", "P", SEA, "T", 288.15, "Air"))
    assert a.starts_isentropic.run(**RECEIVER, isentropic_exponent=1.4) == approx(starts, rel=0.03)  # ideal gas: 2 % off at 31 bar


def test_starts_fall_short_of_isothermal_and_meet_for_small_steps():
    assert a.starts_isentropic.run(**RECEIVER, isentropic_exponent=1.4) < a.starts_isothermal.run(**RECEIVER)
    assert a.starts_isentropic.run(**RECEIVER, isentropic_exponent=1.0) == approx(a.starts_isothermal.run(**RECEIVER))  # exponent one is isothermal
    thin = {**RECEIVER, "air_pressure": 83_520.0}
    assert a.starts_isothermal.run(**thin) > a.starts_isothermal.run(**RECEIVER)  # free air is lighter at altitude


def test_pressure_start_by_start():
    inputs = {"receiver_pressure_max": 30 * BAR, "air_start_number": [1.0, 2.0, 6.0, 12.0, 30.0], "air_per_start": 1.5, "air_pressure": SEA,
              "receivers_volume": 0.5}
    slow = over(a.receiver_pressure_isothermal, **inputs) / BAR
    fast = over(a.receiver_pressure_isentropic, **inputs, isentropic_exponent=1.4) / BAR
    assert slow[:3] == approx([26.9603, 23.9205, 11.7615], abs=1e-3)  # hand: 3.03975 bar a start
    assert fast[0] == approx(25.8, abs=0.05)  # hand: 31.013 x (1 - 0.09802)^1.4 - 1.013
    assert slow[-1] == fast[-1] == 0  # empty receivers, no negative pressure
    assert np.all(fast[:3] < slow[:3])


def test_receivers_that_fit_give_the_starts_again():
    volume = a.receiver_volume_isentropic.run(6, 1.5, SEA, 30 * BAR, 10 * BAR, 1.4)
    assert a.starts_isentropic.run(**{**RECEIVER, "receivers_volume": volume}, isentropic_exponent=1.4) == approx(6)
    assert over(a.receiver_pressure_isentropic, receiver_pressure_max=30 * BAR, air_start_number=[6.0], air_per_start=1.5, air_pressure=SEA,
                receivers_volume=volume,
                isentropic_exponent=1.4)[0] == approx(10 * BAR)


def test_energy_in_the_receivers():
    # scipy: work of an isentropic expansion, the integral of p dV from 0.5 m³ at 31.013 bar to the air outside
    end = 0.5 * (31.01325e5 / SEA) ** (1 / 1.4)
    work, _ = quad(lambda volume: 31.01325e5 * (0.5 / volume) ** 1.4, 0.5, end)
    assert a.receiver_stored_energy.run(30 * BAR, SEA, 0.5, 1.4) == approx(work, rel=1e-6)
    assert work == approx(2.42e6, rel=0.01)  # hand: 31.01325e5 x 0.5 / 0.4 x (1 - 0.03267^0.2857)
    assert a.receiver_stored_energy.run(0.0, SEA, 0.5, 1.4) == 0


# ---- time ----

def test_stages_add_up():
    stages = [1.0, 0.5, 2.5, 3.5, 1.0]
    assert over(s.start_time, stage_time=stages) == approx(8.5)  # hand
    assert over(s.stage_end_time, stage_time=stages) == approx([1.0, 1.5, 4.0, 7.5, 8.5])


def test_the_times_of_the_parts_of_the_start():
    """Two stages before the first turn add up; a part that no stage is has no time."""
    stages = {"stage_time": [1.0, 0.7, 2.3, 3.2, 0.5], "stage_part": ["signal", "signal", "crank", "run_up", "other"]}
    parts = (s.stages_signal_time, s.stages_crank_time, s.stages_run_up_time, s.stages_excitation_time, s.stages_dead_bus_time)
    assert [over(part, **stages) for part in parts] == approx([1.7, 2.3, 3.2, 0.0, 0.0])  # hand


# ---- bad input ----

def test_a_battery_colder_than_the_table_is_told(tmp_path):
    """Nothing is guessed beyond the coldest row: the fault names the table and the line that asked."""
    folder = tmp_path / "larkmere-hospital"
    demo_copy("larkmere-hospital", folder)
    (folder / "battery.yaml").write_text("battery_temperature: -10 degC\n")
    with pytest.raises(Faults) as found:
        load(folder)
    fault = found.value.faults[0]
    assert "-10" in fault.what.replace("−", "-") or "14" in fault.what
    assert "ieee-485-temperature" in fault.what and fault.file.endswith("battery.yaml") and fault.line == 1


@pytest.mark.parametrize("key, number", [("battery_units", 0), ("battery_units", 1), ("starters_per_set", 0), ("cranks_per_cycle", 0), ("cranking_cycles", 0),
                                         ("starter_cables", 0)])
def test_a_count_with_which_nothing_starts_is_told_at_its_line(tmp_path, key, number):
    # one battery of 12 V is no string of 24 V
    folder = demo_copy("larkmere-hospital", tmp_path / "larkmere-hospital")
    lines = [line for line in (folder / "starting.yaml").read_text("utf-8").splitlines() if not line.startswith(f"{key}:")]
    (folder / "starting.yaml").write_text("\n".join([f"{key}: {number}", *lines]), "utf-8")
    with pytest.raises(Faults) as found:
        load(folder)
    assert {(fault.file.rpartition("/")[2], fault.line) for fault in found.value.faults} == {("starting.yaml", 1)}
    assert any(f"{key} = {number}" in fault.what or f"'{key}' is {number}" in fault.what for fault in found.value.faults)


# ---- defaults and books ----

def test_defaults_that_were_read():
    # NFPA 110-2002 5.6.4.2.1 and 5.6.4.4, UFGS-16263A 2.11.2: 15 s, 15 s, three cranks, two periods [read]
    found = [terms()[name].default_data() for name in ("crank_time", "crank_rest_time", "cranks_per_cycle", "cranking_cycles")]
    assert found == [15, 15, 3, 2]
    assert terms()["charge_time"].default_data() == 24 * HOUR  # NFPA 110-2002 5.6.4.7(2), Level 1 [read in a reproduction]


def test_room_warmth_reaches_the_crank(books):
    """Colder rooms ask for more battery: the chain from heating to cranking, in the demo book."""
    from basis.solving.rerun import rerun

    book = books["larkmere-hospital"]
    warm = rerun(book, {"room_temperature_held": 293.15}, ("cold_cranking_ratio", "battery_cranks", "starter_voltage"))
    cold = rerun(book, {"room_temperature_held": 273.15}, ("cold_cranking_ratio", "battery_cranks", "starter_voltage"))
    assert cold["cold_cranking_ratio"] > warm["cold_cranking_ratio"]
    assert cold["battery_cranks"] < warm["battery_cranks"] and cold["starter_voltage"] < warm["starter_voltage"]
    assert book["battery_temperature"].number == book["room_temperature_held"].number


def test_methods_side_by_side(books):
    book = books["larkmere-hospital"]
    sides = {option: book.options[("starting_method_choice", option)] for option in ("battery", "air", "both")}
    assert sides["battery"]["starting_first_cost"].number + sides["air"]["starting_first_cost"].number == approx(sides["both"]["starting_first_cost"].number)
    assert sides["both"]["starts_available"].number == min(sides["battery"]["starts_available"].number, sides["air"]["starts_available"].number)
    assert {sides["air"].check(name).word for name in ("cold_cranking", "starter_cable", "voltage_at_starter")} == {"nothing to check"}
    assert sides["battery"].check("air_recharge").nothing_text == "starting method: battery" and sides["both"].check("air_recharge").word != "nothing to check"


def test_checks_of_the_demo_books(books):
    """Regression: what the invented projects are meant to show."""
    words = {slug: {verdict.check.id: verdict.word for verdict in book.checks} for slug, book in books.items()}
    assert words["high-tarn-waterworks"]["voltage_at_starter"] == words["larkmere-hospital"]["hydrogen_opening"] == "tight"
    assert words["cobble-key-exchange"]["starts"] == "holds"
    assert all(words[slug][check] != "undecided" for slug in words for check in ("starts", "cold_cranking", "starter_cable", "voltage_at_starter", "charger",
        "time_to_load"))


def test_the_figure_draws(books):
    from basis.site.figure import to_svg
    from basis.site.figures.starting import receiver_pressure

    for slug in books:
        svg = to_svg(receiver_pressure.draw(books[slug]), "trial", "Trial")
        assert "least starting pressure" in svg and "one after the other" in svg


def test_parts_of_the_start_are_counted():
    parts = {"stage_part": ["signal", "crank", "run_up", "other"], "number_of_start_stage": 4}  # counted by hand
    assert over(s.stages_named, **parts) == 3 and over(s.run_up_stages, **parts) == 1
