"""Standby warmth against ht, CoolProp, PsychroLib and hand calculations. Each figure names where it is from; the year is in test_warmth_year.py."""

from pathlib import Path

import numpy as np
import psychrolib
import pvlib
import pytest
from axes import over
from CoolProp.CoolProp import PropsSI
from ht import Nu_vertical_plate_Churchill
from pytest import approx

from basis.chapters.warmth import chapter as w
from basis.chapters.warmth import cost as c
from basis.language.terms import terms
from basis.physics.weather import read_hourly

KWH, HOUR, C0, YEAR = 3.6e6, 3600.0, 273.15, 8760 * 3600.0
AIR = {"block_air_prandtl_number": 0.707, "block_air_viscosity": 1.57e-5}


# ---- room ----

def test_fabric_and_air():
    # T52: 240 m² x 0.35 + 180 m² x 0.25 + 20 m² x 1.8 = 165.0 W/K; 900 m³ at 0.5 1/h -> 150.9 W/K; -10 to 15 °C -> 7.90 kW (hand)
    fabric = over(w.fabric_conductance, room_surface_area=[240.0, 180.0, 20.0], room_surface_transmittance=[0.35, 0.25, 1.8])
    flow = over(w.heating_airflow, heating_air_changes=[0.5 / HOUR], heated_room_volume=900.0, heating_damper_leakage=[0.0])
    air = over(w.heating_air_conductance, winter_air_density=1.2, dry_air_heat_capacity=1006.0, heating_airflow=flow.tolist())
    assert (fabric, air[0]) == (approx(165.0), approx(150.9, abs=0.05))
    whole = over(w.heating_room_conductance, fabric_conductance=fabric, heating_fabric_share=[1.0], heating_air_conductance=air.tolist())
    assert whole[0] * 25 == approx(7900, rel=2e-3)


def test_leaking_dampers_add_to_the_air_changes():
    found = over(w.heating_airflow, heating_air_changes=[0.15 / HOUR, 0.15 / HOUR], heated_room_volume=2940.0, heating_damper_leakage=[0.0, 2600 / HOUR])
    assert found * HOUR == approx([441, 3041])  # hand: 0.15 x 2940, and 2600 on top
    insulated = over(w.heating_room_conductance, fabric_conductance=500.0, heating_fabric_share=[1.0, 0.6], heating_air_conductance=[200.0, 200.0])
    assert insulated == approx([700, 500])  # hand


def test_density_of_winter_air():
    # PsychroLib, dry air at 101 325 Pa: 20 °C 1.204 kg/m³; at the pressure of 1600 m and 5 °C
    psychrolib.SetUnitSystem(psychrolib.SI)
    assert w.winter_air_density.run(101_325.0, 287.042, 293.15) == approx(1.204, abs=5e-4)
    pressure = psychrolib.GetStandardAtmPressure(1600)
    assert w.winter_air_density.run(pressure, 287.042, 278.15) == approx(psychrolib.GetDryAirDensity(5, pressure), rel=1e-4)


def test_sums_over_the_hours():
    # hand: half of the hours at 10 °C, half at 20 °C: mean 15 °C; 4380 h x 6 K below 16 °C
    hours = [C0 + 10.0] * 4380 + [C0 + 20.0] * 4380
    assert over(w.outdoor_temperature_mean, outdoor_temperature_hourly=hours, hour_step=HOUR) == approx(C0 + 15)
    assert over(w.weather_temperature_min, outdoor_temperature_hourly=hours) == C0 + 10
    assert over(w.weather_temperature_max, outdoor_temperature_hourly=hours) == C0 + 20
    assert over(w.heating_degree_hours, outdoor_temperature_hourly=hours, room_temperature_usual=C0 + 16, hour_step=HOUR) == approx(4380 * 6 * HOUR, rel=1e-9)
    assert over(w.heating_degree_hours, outdoor_temperature_hourly=hours, room_temperature_usual=C0 + 10, hour_step=HOUR) == 0


def test_degree_hours_of_greensboro():
    # T46, by pvlib from 723170TYA.CSV: 38 537 K·h below 15 °C
    hours = list(read_hourly(Path(pvlib.__file__).parent / "data" / "723170TYA.CSV", "greensboro"))
    assert over(w.heating_degree_hours, outdoor_temperature_hourly=hours, room_temperature_usual=C0 + 15, hour_step=HOUR) / HOUR == approx(38_537, abs=0.5)


# ---- block ----

def film(hold=45.0, room=10.0, height=1.5, emissivity=0.9):
    rayleigh = over(w.block_rayleigh_number, standard_gravity=9.80665, heating_hold_temperature=[hold + C0], block_film_room_temperature=room + C0,
                    block_warm_height=height, **AIR)
    nusselt = over(w.block_nusselt_number, block_rayleigh_number=rayleigh.tolist(), block_air_prandtl_number=AIR["block_air_prandtl_number"])
    convection = over(w.block_convection, block_nusselt_number=nusselt.tolist(), block_air_conductivity=0.0263, block_warm_height=height)
    radiation = over(w.block_radiation, block_emissivity=emissivity, stefan_boltzmann_constant=5.670374419e-8, heating_hold_temperature=[hold + C0],
                     block_film_room_temperature=room + C0)
    both = over(w.block_surface_coefficient, block_convection=convection.tolist(), block_radiation=radiation.tolist())
    return rayleigh[0], nusselt[0], convection[0], radiation[0], both[0]


def test_block_in_a_cold_room():
    # T53: block 45 °C in a room of 10 °C, 1.5 m high, emissivity 0.9: 4.57 + 5.57 = 10.1 W/(m²·K) by ht's Nu_vertical_plate_Churchill
    rayleigh, nusselt, convection, radiation, both = film()
    assert (convection, radiation, both) == (approx(4.57, rel=0.01), approx(5.57, abs=0.005), approx(10.1, rel=0.01))
    # hand: 9.80665 x 35/300.65 x 1.5^3 x 0.707/(1.57e-5)^2 = 1.1051e10
    assert rayleigh == approx(1.1051e10, rel=1e-3)
    assert nusselt == approx(Nu_vertical_plate_Churchill(Pr=0.707, Gr=rayleigh / 0.707), rel=1e-9)  # ht, the same correlation
    assert convection == approx(nusselt * 0.0263 / 1.5)  # hand


def test_film_grows_with_the_difference_and_with_emissivity():
    assert film(hold=60)[2] > film()[2] and film(hold=60)[3] > film()[3]
    assert film(emissivity=0.45)[3] == approx(film()[3] / 2)
    assert film(height=0.75)[2] == approx(film()[2], rel=0.05)  # turbulent: height hardly matters


@pytest.mark.parametrize("room", [45.0, 55.0])
def test_film_of_a_block_no_warmer_than_its_room(room):
    # hand: radiation of two surfaces alike is 4 ε σ T³, 4 x 0.9 x 5.670374e-8 x 318.15³ = 6.5737 W/(m²·K); ht takes the size of the difference
    rayleigh, nusselt, _, radiation, both = film(hold=45.0, room=room)
    assert np.isfinite(both) and rayleigh >= 0
    if room == 45.0:
        assert radiation == approx(6.5737, abs=1e-3) and nusselt == approx(0.825 ** 2)  # still air: the constant of the correlation
    else:
        assert nusselt == approx(Nu_vertical_plate_Churchill(Pr=0.707, Gr=rayleigh / 0.707), rel=1e-9)


def test_block_that_warms_up():
    # T54 by exact exponentials: 9 kW, 90 W/K, 4240 kJ/K, room 5 °C: from 40 to 46 °C in 76.0 min. Settling by hand: 5 + 9000/90 = 105 °C
    ends = {"heating_block_to_room": [90.0], "heating_block_to_outdoors": [0.0]}
    settling = over(w.block_settling_temperature, heating_design_room_temperature=[C0 + 5], outdoor_temperature_min=C0 - 10, heating_heater_power=[9e3],
                    heating_pump_power=[0.0], **ends)
    assert settling == approx([C0 + 105])

    def time(cold, least):
        return over(w.block_warm_up_time, block_heat_capacity=4240e3, block_settling_temperature=settling.tolist(), block_cold_temperature=[C0 + cold],
                    block_temperature_min=C0 + least, **ends)[0]
    assert time(40, 46) / 60 == approx(76.0, abs=0.05)
    ends |= {"heating_block_to_room": [60.0], "heating_block_to_outdoors": [30.0]}
    assert time(40, 46) / 60 == approx(76.0, abs=0.05)  # 90 W/K, whichever way they go
    assert time(50, 46) == 0 and np.isnan(time(5, 105))  # warm already; never
    # hand: 60 W/K to the room at 5 °C and 30 W/K to outdoors at -10 °C, 9 kW and a pump of 90 W: (9090 + 60 x 5 - 30 x 10)/90 = 101 °C
    shared = over(w.block_settling_temperature, heating_block_to_room=[60.0], heating_block_to_outdoors=[30.0], heating_design_room_temperature=[C0 + 5],
                  outdoor_temperature_min=C0 - 10, heating_heater_power=[9e3], heating_pump_power=[90.0])
    assert shared == approx([C0 + 101])
    assert over(w.block_cold_temperature, heating_design_room_temperature=[C0 + 5]) == [C0 + 5]


def test_air_of_the_film_is_that_of_coolprop():
    # CoolProp at 300.65 K and one atmosphere
    state = ("T", 300.65, "P", 101_325, "Air")
    conductivity, prandtl = PropsSI("L", *state), PropsSI("Prandtl", *state)
    assert terms()["block_air_conductivity"].default_data() == approx(conductivity, rel=0.01)
    assert terms()["block_air_prandtl_number"].default_data() == approx(prandtl, rel=0.01)
    assert terms()["block_air_viscosity"].default_data() == approx(PropsSI("V", *state) / PropsSI("D", *state), rel=0.01)


def test_loss_of_a_block():
    found = over(w.heating_block_to_room, block_warm_area=9.0, block_surface_coefficient=[10.0, 10.0], heating_block_exposure=[1.0, 0.4])
    assert found == approx([90, 36])  # hand
    # common practice, reference note: h of 8 to 11 W/(m²·K) for a warm block in still air
    assert 8 < film(hold=40)[4] < 11


def test_block_heaters_of_a_two_megawatt_set():
    # common practice: about 12 kW of block heaters for a set of the 2 MW class
    assert w.block_heater_power.run(terms()["block_heater_ratio_usual"].default_data(), 2e6) == approx(12e3)
    assert w.block_heater_deviation.run(9e3, 0.006, 1e6) == approx(0.5)  # hand: 9 beside 6
    assert w.block_heater_deviation.run(3e3, 0.006, 1e6) == approx(0.5)  # hand: 3 beside 6
    assert over(w.heating_heater_power, block_heater_power=12e3, heating_heater_share=[1.0, 0.5, 0.0]) == approx([12e3, 6e3, 0])


def test_heat_capacity_of_an_engine():
    # hand: 7000 x 0.480 + 180 x 3.6 + 130 x 1.75 = 3360 + 648 + 227.5 = 4235.5 kJ/K
    assert w.block_oil_volume.run(0.130) == 0.130
    found = w.block_heat_capacity.run(7000.0, 480.0, 0.180, 3.6e6, 0.130, 1.75e6)
    assert found == approx(4235.5e3)
    assert over(w.heating_felt_capacity, block_heat_capacity=found, heating_felt_share=[0.1, 0.7]) == approx([423.55e3, 2964.85e3])
    # CoolProp: 50 % by mass of ethylene glycol at 40 °C; oil and iron from memory
    mix = ("T", 313.15, "P", 2e5, "INCOMP::MEG[0.5]")
    assert terms()["block_coolant_heat_capacity"].default_data() == approx(PropsSI("C", *mix) * PropsSI("D", *mix), rel=0.03)


NONE = float("nan")  # not given: a way without room heat has no set point
PICKS = [  # the formula, what it picks from, more inputs, what the second of three ways gives
    (w.room_airflow_held, {"heating_airflow": [1.0, 2.0, 3.0]}, 2.0),
    (w.room_temperature_mean_held, {"heating_room_temperature_mean": [280.0, 285.0, 290.0]}, 285.0),
    (w.room_temperature_held, {"heating_room_temperature_min": [280.0, 285.0, 290.0], "heating_design_room_temperature": [270.0, 281.0, 290.0],
                              "heating_room_shortfall": [9.0, 2.0, 0.0]}, 279.0),
    (w.room_temperature_held, {"heating_room_temperature_min": [280.0, 279.0, 290.0], "heating_design_room_temperature": [270.0, 281.0, 290.0],
                              "heating_room_shortfall": [9.0, 0.0, 0.0]}, 279.0),
    (w.block_temperature_held, {"heating_block_temperature_min": [310.0, 311.0, 312.0], "heating_design_block_temperature": [310.0, 305.0, 312.0]}, 305.0),
    (w.block_temperature_held, {"heating_block_temperature_min": [310.0, 301.0, 312.0], "heating_design_block_temperature": [310.0, 305.0, 312.0]}, 301.0),
    (w.room_heat_held, {"heating_set_point": [NONE, 289.0, NONE], "heating_room_peak": [1.0, 2.0, 3.0], "heating_design_room_heat": [0.0, 5.0, 9.0]}, 5.0),
    (w.room_heat_held, {"heating_set_point": [NONE, 289.0, NONE], "heating_room_peak": [1.0, 7.0, 3.0], "heating_design_room_heat": [0.0, 5.0, 9.0]}, 7.0),
    (w.block_temperature_wanted, {"heating_hold_temperature": [313.0, 318.0, 313.0], "heating_heater_power": [9e3, 1.0, 0.0]}, 318.0),
    (w.block_warm_up_held, {"block_warm_up_time": [1.0, 2.0, 3.0]}, 2.0),
    (w.room_heater_power_held, {"heating_room_heater_power": [1.0, 2.0, 3.0]}, 2.0),
    (w.element_life_held, {"heating_element_life": [1.0, 2.0, 3.0], "heating_heater_cycles": [9.0, 1.0, 0.0]}, 2.0),
    (c.blocks_energy_held, {"heating_block_energy": [1.0, 2.0, 3.0]}, 2.0),
    (c.room_energy_held, {"heating_room_energy": [1.0, 2.0, 3.0]}, 2.0),
    (c.heating_cost_held, {"heating_yearly_cost": [1.0, 2.0, 3.0]}, 2.0),
    (c.heating_saving_held, {"heating_saving": [1.0, 2.0, 3.0]}, 2.0),
    (c.heating_saving_held_joined, {"heating_saving_joined": [1.0, 2.0, 3.0]}, 2.0),
    (c.heating_saving_held_one_efficiency, {"heating_saving_one_efficiency": [1.0, 2.0, 3.0]}, 2.0),
    (c.heating_saving_held_one_price, {"heating_saving_one_price": [1.0, 2.0, 3.0]}, 2.0),
    (c.heating_saving_held_no_wear, {"heating_saving_no_wear": [1.0, 2.0, 3.0]}, 2.0),
    (c.heating_saving_held_heat_only, {"heating_saving_heat_only": [1.0, 2.0, 3.0]}, 2.0),
]


@pytest.mark.parametrize("formula, inputs, expected", PICKS, ids=[f"{formula.id}-{number}" for number, (formula, *_) in enumerate(PICKS)])
def test_the_chosen_way_is_picked(formula, inputs, expected):
    assert over(formula, heating_case_chosen=1, **inputs) == expected


# ---- energy, wear and cost: one way, worked by hand ----
# 40 000 kWh of blocks at 0.9 of the price, 12 000 kWh of room heat by a heat pump of 3.0 at 1.2 of the price, 0.20 a kWh; 3 sets of 2 elements at 25 000
# cycles of
# 100 000, 500 each. Led through the room: 36 000 and 9000 kWh, 20 000 cycles.
WAY = {"energy_price": 0.20 / KWH, "installed_sets": 3.0, "elements_per_set": 2.0, "element_cycles_rated": 100e3, "element_replacement_cost": 500.0,
       "heating_block_energy": [40e3 * KWH], "heating_room_heat": [12e3 * KWH], "heating_room_energy": [4e3 * KWH], "heating_energy": [44e3 * KWH],
       "heating_heater_cycles": [25e3],
       "heating_block_energy_joined": [36e3 * KWH], "heating_room_heat_joined": [9e3 * KWH], "heating_heater_cycles_joined": [20e3],
       "heating_room_efficiency": [3.0],
       "heating_room_price_factor": [1.2], "heating_block_price_factor": [0.9], "heating_replacements": [1.5], "heating_energy_cost": [8160.0],
       "heating_wear_cost": [750.0],
       "heating_running_cost": [8910.0], "heating_first_cost": [12_462.2], "voltage_annuity_factor": 12.4622}
HAND = [
    (c.heating_heat_total, 52e3 * KWH),
    (c.heating_room_energy, 4e3 * KWH),
    (c.heating_energy, 44e3 * KWH),
    (c.heating_element_life, 4 * YEAR),
    (c.heating_replacements, 1.5),                  # 3 x 2 x 0.25
    (c.heating_energy_cost, 8160.0),                # 0.20 x (36 000 + 4800)
    (c.heating_wear_cost, 750.0),
    (c.heating_running_cost, 8910.0),
    (c.heating_yearly_cost, 9910.0),                # 12 462.2 / 12.4622 = 1000, present-worth factor of 20 years at 5 %
    (c.heating_cost_joined, 0.20 * (36e3 * 0.9 + 9e3 / 3 * 1.2) + 6 * 0.2 * 500),  # 7200 + 600 = 7800
    (c.heating_cost_one_efficiency, 10_830.0),      # 0.20 x (36 000 + 14 400) + 750
    (c.heating_cost_one_price, 9550.0),             # 0.20 x 44 000 + 750
    (c.heating_cost_no_wear, 8160.0),
    (c.heating_cost_heat_only, 9000.0),             # 0.20 x 45 000
]


@pytest.mark.parametrize("formula, expected", HAND, ids=[formula.id for formula, _ in HAND])
def test_cost_of_one_way_by_hand(formula, expected):
    found = over(formula, **{name: WAY[name] for name in formula.parameters})
    assert np.ravel(found)[0] == approx(expected, rel=1e-9)


def test_joined_cost_by_hand():
    assert over(c.heating_cost_joined, **{name: WAY[name] for name in c.heating_cost_joined.parameters})[0] == approx(7800.0)


def test_room_heaters_too_small():
    # hand: 4 kW missing over 600 + 2 x 100 W/K are 5 K; larger heaters leave nothing missing
    found = over(w.heating_room_shortfall, heating_room_peak=[20e3, 26e3, 5e3], heating_design_room_heat=[24e3, 0.0, 5e3],
                 heating_room_heater_power=[20e3, 22e3, 6e3], heating_room_conductance=[600.0, 600.0, 600.0], installed_sets=2.0,
                 heating_block_to_room=[100.0, 100.0, 100.0])
    assert found == approx([5, 5, 0])


def test_life_of_an_element_is_capped():
    found = over(c.heating_element_life, element_cycles_rated=100e3, heating_heater_cycles=[0.0, 500.0, 1000.0, 2000.0])
    assert found / YEAR == approx([100, 100, 100, 50])  # hand; no heater, no wear, and no division by nought


SAVINGS = [(c.heating_saving, "heating_running_cost"), (c.heating_saving_joined, "heating_cost_joined"),
           (c.heating_saving_one_efficiency, "heating_cost_one_efficiency"),
           (c.heating_saving_one_price, "heating_cost_one_price"), (c.heating_saving_no_wear, "heating_cost_no_wear"),
           (c.heating_saving_heat_only, "heating_cost_heat_only")]


@pytest.mark.parametrize("formula, cost", SAVINGS, ids=[formula.id for formula, _ in SAVINGS])
def test_savings_are_counted_from_the_way_compared_with(formula, cost):
    assert over(formula, heating_case_base=1, **{cost: [70.0, 100.0, 130.0]}) == approx([30, 0, -30])  # hand
    if cost == "heating_running_cost":
        yearly = {"heating_case_base": 1, "heating_yearly_cost": [70.0, 100.0, 130.0]}
        assert over(c.heating_cost_base, heating_case_chosen=2, **yearly) == 100
        assert np.isnan(over(c.heating_cost_base, heating_case_chosen=1, **yearly))  # with itself nothing is compared
        assert [c.heating_compared.run(yearly["heating_case_base"], chosen) for chosen in (1, 2)] == [0, 1]


# ---- the curve over set points ----

CURVE = [  # hand: the second of two ways, heat pump of 2.5 at 1.5 of the price, blocks at 0.8
    (c.trial_heat_total, {"trial_block_energy": [10.0, 9.0], "trial_room_heat": [0.0, 4.0]}, [10, 13]),
    (c.trial_block_cost, {"energy_price": 0.5, "trial_block_energy": [10.0, 9.0], "heating_case_chosen": 1, "heating_block_price_factor": [1.0, 0.8]},
     [4.0, 3.6]),
    (c.trial_room_cost, {"energy_price": 0.5, "trial_room_heat": [0.0, 4.0], "heating_case_chosen": 1, "heating_room_price_factor": [1.0, 1.5],
                         "heating_room_efficiency": [1.0, 2.5]}, [0, 1.2]),
    (c.trial_wear_cost, {"installed_sets": 3.0, "elements_per_set": 2.0, "trial_heater_cycles": [20e3, 10e3], "element_cycles_rated": 100e3,
                         "element_replacement_cost": 500.0}, [600, 300]),
    (c.trial_running_cost, {"trial_block_cost": [4.0, 3.6], "trial_room_cost": [0.0, 1.2], "trial_wear_cost": [0.6, 0.3]}, [4.6, 5.1]),
]


@pytest.mark.parametrize("formula, inputs, expected", CURVE, ids=[formula.id for formula, *_ in CURVE])
def test_cost_over_set_points_by_hand(formula, inputs, expected):
    assert over(formula, **inputs) == approx(expected)


def test_bottom_of_the_curve():
    # scipy's idea of a minimum over points is numpy's argmin: here the third
    costs, points = [12.0, 9.0, 8.5, 8.7, 11.0], [280.0, 281.0, 282.0, 283.0, 284.0]
    least = over(c.heating_cost_least, trial_running_cost=costs)
    assert (least, over(c.set_point_cheapest, set_point_trial=points, trial_running_cost=costs, heating_cost_least=least)) == (8.5,
        points[int(np.argmin(costs))])
    flat = over(c.set_point_cheapest, set_point_trial=points, trial_running_cost=[5.0] * 5, heating_cost_least=5.0)
    assert flat == 280.0  # the lowest of those that cost the same
    assert over(c.set_point_cheapest, set_point_trial=points, trial_running_cost=[9.0, 8.0, 7.0, 6.0, 5.0], heating_cost_least=5.0) == 284.0
    excess = {"heating_case_chosen": 1, "heating_running_cost": [5.0, 9.35]}
    assert over(c.set_point_excess, heating_set_point=[NONE, 289.0], heating_cost_least=8.5, **excess) == approx(0.1)  # hand
    assert over(c.set_point_excess, heating_set_point=[NONE, 289.0], heating_cost_least=0.85, **excess) == approx(10)  # hand: 9.35/0.85 - 1
    assert np.isnan(over(c.set_point_excess, heating_set_point=[289.0, NONE], heating_cost_least=8.5, **excess))  # the room is not heated
    assert np.isnan(over(c.set_point_excess, heating_set_point=[NONE, 289.0], heating_cost_least=0.0, **excess))  # nothing need be heated


# ---- what the page says about mechanisms: with all of them taken away a warm room never pays ----

def with_ways(book, ways, **changes):
    from basis.solving.rerun import rerun

    names = ("heating_saving", "heating_saving_joined", "heating_saving_one_efficiency", "heating_saving_one_price", "heating_saving_no_wear",
             "heating_saving_heat_only", "trial_running_cost")
    return dict(zip(names, rerun(book, {**ways, **changes}, names).values()))


def test_a_saving_needs_a_mechanism(books):
    """Two ways in one building that differ in the set point alone: heat alone never pays; a heat pump, a tariff or wear may."""
    book = books["larkmere-hospital"]
    base, warm = (book.items["heating_case"].index(name) for name in ("cold_room", "warm_room"))
    per_case = [name for name, value in book.values.items() if value.axes == ("heating_case",) and value.origin in ("given", "default")
                and not value.term.is_text]
    same = {name: np.where(np.arange(len(book.items["heating_case"])) == warm, book[name].number[base], book[name].number) for name in per_case
            if name != "heating_set_point"}
    plain = with_ways(book, same)
    assert plain["heating_saving"][warm] < 0 and plain["heating_saving_heat_only"][warm] < 0
    pump = same["heating_room_efficiency"].copy()
    pump[warm] = 8.0
    helped = with_ways(book, same, heating_room_efficiency=pump)
    assert helped["heating_saving"][warm] > 0 > helped["heating_saving_one_efficiency"][warm]
    tariff = same["heating_room_price_factor"].copy()
    tariff[warm] = 0.1
    cheap = with_ways(book, same, heating_room_price_factor=tariff)
    assert cheap["heating_saving"][warm] > 0 > cheap["heating_saving_one_price"][warm]
    assert helped["heating_saving_heat_only"][warm] == approx(plain["heating_saving_heat_only"][warm])


def test_demo_books(books):
    """Regression: what the invented projects are meant to show."""
    larkmere, tarn, cobble = (books[slug] for slug in ("larkmere-hospital", "high-tarn-waterworks", "cobble-key-exchange"))
    assert larkmere["heating_saving.warm_room"].number < 0 < larkmere["heating_saving.tight_warm"].number
    assert larkmere["set_point_cheapest"].number > larkmere["heating_set_point.tight_warm"].number  # the heat pump makes warmth cheap in the tight hall
    assert tarn.check("room_usual").word == "fails" and tarn.check("set_point").word != "fails"
    assert tarn["heating_saving.held_room"].number < 0 < tarn["heating_saving.held_circulating"].number
    assert cobble["heating_room_heat"].number.max() == cobble["heating_design_room_heat"].number.max() == 0  # a tropical year asks for no room heat
    for book in books.values():
        assert book["heating_block_energy"].left_over[0] < 1e-9
        assert all(verdict.word != "undecided" for verdict in book.checks if verdict.check.module.startswith("basis.chapters.warmth"))


def test_the_figures_draw(books):
    from basis.site.figure import to_svg
    from basis.site.figures.warmth import heating_year, set_point_cost

    for book in books.values():
        assert "room heaters" in to_svg(heating_year.draw(book), "trial", "Trial")
        assert "least" in to_svg(set_point_cost.draw(book), "trial", "Trial")
