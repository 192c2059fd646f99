"""Fuel pipes, vents, containment and fuel indoors against fluids, the standard atmosphere, forms of code and hand calculations."""

import numpy as np
import pytest
from axes import over
from fluids.atmosphere import ATMOSPHERE_1976
from fluids.core import Reynolds, dP_from_K
from fluids.friction import friction_factor
from pytest import approx

from basis.chapters.fuel import pipes as p
from basis.language.terms import terms

L, LM, GRAVITY, GALLON = 1e-3, 1e-3 / 60.0, 9.80665, 3.785411784e-3


def test_flow_by_duty():
    flows = over(p.fuel_pipe_flow, fuel_pipe_duty=["transfer_suction", "engine_supply", "engine_return"], fuel_transfer_pump_flow=25 * LM,
                 engine_supply_flow=22 * LM)
    assert flows / LM == approx([25, 22, 22])  # hand: at no load an engine returns all that it draws


def test_a_suction_pipe():
    # worked with fluids: 25 L/min, 26.6 mm, 30 m, 840 kg/m3, 4 mm2/s, sum K 6, lift 1.5 m:
    # Re 4986, f 0.0393, 10.47 + 1.42 + 12.36 = 24.2 kPa = 2.94 m of fuel
    velocity = p.fuel_pipe_velocity.run(25 * LM, 0.0266)
    assert velocity == approx(0.7498, abs=1e-4)  # hand: 4.1667e-4 m3/s over 5.5572e-4 m2
    reynolds = p.fuel_pipe_reynolds_number.run(velocity, 0.0266, 4e-6)
    assert reynolds == approx(4986, abs=1) and reynolds == approx(Reynolds(V=velocity, D=0.0266, nu=4e-6))  # fluids
    (factor,), residual, _ = p.fuel_pipe_friction.run(reynolds, 0.046e-3, 0.0266)
    assert factor == approx(friction_factor(reynolds, 0.046e-3 / 0.0266), rel=1e-6) and residual < 1e-9  # fluids
    assert factor == approx(0.0393, abs=5e-5)
    line = p.fuel_pipe_line_drop.run(factor, 30.0, 0.0266, 840.0, velocity)
    fitting = p.fuel_pipe_fitting_drop.run(6.0, 840.0, velocity)
    lift = p.fuel_pipe_lift_pressure.run(840.0, GRAVITY, 1.5)
    assert line == approx(10.47e3, abs=10) and line == approx(dP_from_K(factor * 30 / 0.0266, 840.0, velocity))
    assert fitting == approx(1.42e3, abs=5) and fitting == approx(dP_from_K(6.0, 840.0, velocity)) and lift == approx(12.36e3, abs=5)
    total = p.fuel_pipe_drop.run(line, fitting, lift)
    assert total == approx(24.2e3, abs=50) and total / (840 * GRAVITY) == approx(2.94, abs=5e-3)
    assert p.fuel_pipe_line_drop.run(0.04, 30.0, 0.0266, 840.0, 0.75) == approx(10.66e3, rel=1e-3)  # hand: 0.04 x 1127.8 x 840 x 0.28125


@pytest.mark.parametrize("reynolds", (300.0, 1500.0, 2039.0, 2041.0, 3000.0, 20_000.0))
def test_friction_on_both_sides_of_the_transition(reynolds):
    (factor,), _, _ = p.fuel_pipe_friction.run(np.array([reynolds]), np.array([0.046e-3]), np.array([0.0266]))
    assert factor == approx([friction_factor(reynolds, 0.046e-3 / 0.0266)], rel=1e-6)  # fluids, which switches at the same number


def test_transition_is_flagged():
    # below one between 2000 and 4000, from whichever side: hand
    found = over(p.fuel_pipe_regime, fuel_pipe_reynolds_number=[500.0, 2000.0, 3000.0, 4000.0, 8000.0])
    assert found == approx([4.0, 1.0, 0.75, 1.0, 2.0])
    assert terms()["fuel_pipe_regime_min"].default_data() == 1


@pytest.mark.parametrize("altitude, left", [(0.0, 9.08), (1600.0, 6.92)])
def test_head_left_at_altitude(altitude, left):
    # hand with the standard atmosphere: (p - 1 kPa)/(840 g) - 2.5 m - 0.6 m
    pressure = ATMOSPHERE_1976(altitude).P  # fluids
    drop = p.fuel_pipe_drop.run(0.6 * 840 * GRAVITY, 0.0, p.fuel_pipe_lift_pressure.run(840.0, GRAVITY, 2.5))
    heads = over(p.fuel_pipe_head_left, air_pressure=pressure, fuel_vapour_pressure=1e3, fuel_pipe_drop=[drop, drop], fuel_density_cold=840.0,
                 standard_gravity=GRAVITY, fuel_pipe_duty=["transfer_suction", "engine_return"])
    assert heads[0] == approx(left, abs=0.02)
    assert heads[1] == approx(left + 2 * 3.1, abs=0.02)  # a return is pushed against, so its head at the engine is higher


def test_head_needed_is_that_of_pumps():
    found = over(p.fuel_pipe_head_needed, fuel_pipe_head_min=[4.5, 3.0, np.nan], fuel_pipe_duty=["transfer_suction", "engine_supply", "engine_return"])
    assert found.tolist() == [4.5, 3.0, 0.0]  # hand: an engine pushes its return, nothing sucks


@pytest.mark.parametrize("declared_for, left", [("by_duty", [22.2e3, 40e3, 40e3]), ("sea_level", [22.2e3, 22.2e3, 40e3]), ("site", [40e3, 40e3, 40e3])])
def test_altitude_takes_from_the_suction_of_a_lift_pump(declared_for, left):
    # hand: declared 40 kPa; at 83.525 kPa of air 17.8 kPa less for a lift pump. A limit of the engine's maker stands unless he gave it for sea level
    found = over(p.fuel_pipe_drop_allowed, fuel_pipe_drop_max=[40e3] * 3, fuel_pipe_duty=["transfer_suction", "engine_supply", "engine_return"],
                 fuel_pipe_declared_for=[declared_for] * 3, standard_air_pressure=101_325.0, air_pressure=83_525.0)
    assert found == approx(left) and np.all(found[np.array(left) == 40e3] == 40e3)


def test_an_engine_keeps_its_inlet_restriction_at_altitude():
    # a maker's limit of 20 kPa at the inlet, site of 1,750 m: fluids' standard atmosphere gives 82 kPa, a fall of 19.3 kPa, which left 0.7 kPa of it
    pressure = ATMOSPHERE_1976(1750.0).P
    assert 20e3 - (101_325 - pressure) == approx(0.7e3, abs=0.05e3)
    assert over(p.fuel_pipe_drop_allowed, fuel_pipe_drop_max=[20e3, 20e3], fuel_pipe_duty=["engine_supply", "engine_supply"],
                fuel_pipe_declared_for=["by_duty", "by_duty"], standard_air_pressure=101_325.0, air_pressure=pressure) == approx([20e3, 20e3])


def test_vents():
    # form of NFPA 30, from memory: no smaller than the fill, nor than nominal 1 1/4 in
    assert over(p.fuel_tank_vent_bore_min, fuel_tank_fill_bore=[0.025, 0.08],
                vent_bore_least=terms()["vent_bore_least"].default_data()) == approx([0.032, 0.08])


def bund(volumes, rule="largest_110_or_total_25", walls=None, rain=0.0, area=0.0):
    tanks = {"fuel_tank_volume": volumes, "fuel_tank_containment": walls or ["bund"] * len(volumes)}
    share, total = terms()["containment_largest_share"].default_data(), terms()["containment_total_share"].default_data()
    return p.fuel_containment_min.run(rule, share, over(p.bunded_largest, **tanks), total, over(p.bunded_total, **tanks), rain, area)


def test_containment():
    assert bund([10.0, 10.0, 5.0]) == approx(11.0)  # hand: 110 % of 10 against 25 % of 25
    assert bund([10.0] * 10) == approx(25.0)  # hand: 25 % of 100
    assert bund([10.0, 20.0], walls=["bund", "double_wall"]) == approx(11.0)  # a second wall is its own bund
    assert bund([10.0, 20.0], walls=["double_wall"] * 2) == 0
    assert over(p.bunded_total, fuel_tank_volume=[10.0, 20.0], fuel_tank_containment=["double_wall", "double_wall"]) == 0
    assert bund([10.0, 5.0], "largest_and_rain", rain=0.15, area=40.0) == approx(16.0)  # hand: 10 + 0.15 x 40
    assert p.day_tank_tray_min.run(1.1, 1.5) == approx(1.65)
    assert over(p.fuel_tank_bund_volume, fuel_containment_volume=24.0, fuel_tank_containment=["bund", "double_wall"]) == approx([24.0, 0.0])


def test_fuel_indoors():
    # NFPA 37:2002, read in a reproduction: 660 US gal (2498 L) for a tank, 1320 US gal (4997 L) in a structure; fire code 660 US gal in all
    limits = {name: terms()[name].default_data() for name in ("nfpa_37_tank_max", "nfpa_37_fuel_max", "ifc_fuel_max")}
    assert [round(volume / L) for volume in limits.values()] == [2498, 4997, 2498]
    assert p.indoor_tank_max.run("nfpa_37_2002", limits["nfpa_37_tank_max"], 1.0) == approx(660 * GALLON)
    assert p.indoor_fuel_max.run("nfpa_37_2002", limits["nfpa_37_fuel_max"], 1.0) == approx(1320 * GALLON)
    assert p.indoor_tank_max.run("ifc_603", 1.0, limits["ifc_fuel_max"]) == p.indoor_fuel_max.run("ifc_603", 1.0,
        limits["ifc_fuel_max"]) == approx(660 * GALLON)
    assert p.indoor_fuel.run("day_tank", 3.0, 1.5, 0.0) == approx(4.5)  # hand
    store = over(p.indoor_store, fuel_tank_volume=[1.5, 0.5, 3.0], fuel_tank_place=["indoors", "indoors", "outdoors"], number_of_fuel_tank=3.0)
    assert store == 2.0 and p.indoor_fuel.run("own_tank", None, None, store) == 2.0 and p.indoor_fuel.run("day_tank", 3.0, 1.5, store) == approx(6.5)  # hand
    assert over(p.fuel_tank_indoor_fuel, indoor_fuel=6.5, fuel_tank_place=["indoors", "outdoors"]) == approx([6.5, 0])
