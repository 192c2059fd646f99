"""Exhaust: gas, back-pressure and growth, against CoolProp, fluids, printed figures and hand calculations."""

import fluids
import numpy as np
import pytest
from axes import over
from CoolProp.CoolProp import PropsSI
from fluids.friction import Colebrook
from pytest import approx

from basis.chapters.exhaust import chapter as e
from basis.language.faults import OutOfTable
from basis.language.table import table
from basis.language.terms import terms

KELVIN, GAS = 273.15, 287.0
INCH, FOOT, POUND, MINUTE = 0.0254, 0.3048, 0.45359237, 60.0


def air_at(celsius):
    """CoolProp's air at sea level: density and viscosity."""
    return PropsSI("D", "T", celsius + KELVIN, "P", 101325, "Air"), PropsSI("V", "T", celsius + KELVIN, "P", 101325, "Air")


def viscosity(kelvin):
    return e.exhaust_gas_viscosity.run(1.716e-5, kelvin, 273.15, 110.4)


def friction(density, velocity, bore, kelvin, roughness=0.09e-3):
    reynolds = e.exhaust_reynolds.run(density, velocity, bore, viscosity(kelvin))
    (factor,), residual, _ = e.exhaust_friction_factor.run(np.array([reynolds]), roughness, np.array([bore]))
    assert residual < 1e-12 and factor[0] == approx(Colebrook(reynolds, roughness / bore), rel=1e-9)  # fluids
    return factor[0]


# ---- gas ----

def products_of_twice_the_air():
    """Mass fractions of the products of CH1.85 with twice its air: CO2 + 0.925 H2O + excess O2 + what else is in air."""
    oxygen = 1 + 1.85 / 4
    moles = {"CarbonDioxide": 1.0, "Water": 0.925, "Oxygen": oxygen, "Nitrogen": 2 * oxygen * 3.727, "Argon": 2 * oxygen * 0.0446}
    masses = {gas: amount * PropsSI("M", gas) for gas, amount in moles.items()}
    total = sum(masses.values())
    return {gas: mass / total for gas, mass in masses.items()}, total / sum(moles.values())


def test_products_of_combustion():
    shares, molar_mass = products_of_twice_the_air()
    assert molar_mass == approx(29.0e-3, rel=3e-3)  # stoichiometry: 29.0 g/mol, 286.7 J/(kg K)
    gas = 8.314462618 / molar_mass
    assert gas == approx(286.7, abs=0.9)
    assert float(terms()["exhaust_gas_constant"].default.split()[0]) == approx(gas, rel=0.01)
    # CoolProp's ideal-gas heat capacities, mean from 25 to 480 degC: 1.082 kJ/(kg K)
    grid = np.linspace(298.15, 753.15, 92)
    mean = np.mean([sum(share * PropsSI("CP0MASS", "T", kelvin, "P", 1e3, gas) for gas, share in shares.items()) for kelvin in grid])
    assert mean == approx(1082, rel=4e-3) and float(terms()["exhaust_gas_heat_capacity"].default.split()[0]) == approx(mean, rel=4e-3)


def test_exhaust_mass_and_heat():
    # hand: 4942.1 kW of fuel at 42.7 MJ/kg are 0.11574 kg/s; with 3.356 kg/s of air 3.472 kg/s
    fuel = e.exhaust_fuel_mass_flow.run(4942.1e3, 42.7e6)
    assert fuel == approx(0.11574, rel=1e-4)
    mass = e.exhaust_mass_flow.run(3.356, fuel)
    assert mass == approx(3.472, abs=1e-3)
    assert e.exhaust_gas_heat.run(3.472, 1079.5, 723.15, 298.15) == approx(1593.0e3, rel=1e-3)  # hand: 3.472 x 1079.5 x 425
    assert e.exhaust_gas_heat.run(3.472, 1079.5, 298.15, 298.15) == 0
    assert e.exhaust_heat_ratio.run(1593.0e3, 1620e3) == approx(0.9833, abs=1e-4)  # hand


def test_exhaust_temperature_on_a_hot_day():
    assert e.exhaust_temperature.run(723.15, 1.5, 313.15, 298.15) == approx(745.65)  # hand: 450 + 1.5 x 15 = 472.5 degC
    assert e.exhaust_temperature.run(723.15, 1.5, 298.15, 298.15) == 723.15


@pytest.mark.parametrize("celsius", (250, 400, 480, 600))
def test_gas_against_coolprop_air(celsius):
    density, stickiness = air_at(celsius)
    assert e.exhaust_gas_density.run(101325.0, GAS, celsius + KELVIN) == approx(density, rel=2e-3)
    assert viscosity(celsius + KELVIN) == approx(stickiness, rel=0.036)
    assert viscosity(celsius + KELVIN + 50) > viscosity(celsius + KELVIN)


def test_viscosity_starts_at_its_base():
    assert viscosity(273.15) == approx(1.716e-5, rel=1e-12)
    assert viscosity(300.0) == approx(PropsSI("V", "T", 300, "P", 101325, "Air"), rel=5e-3)  # CoolProp 1.854e-5 Pa s
    for kelvin, printed in ((400.0, 230.1e-7), (600.0, 305.8e-7), (700.0, 338.8e-7)):  # table of air in heat-transfer textbooks, from memory
        assert viscosity(kelvin) == approx(printed, rel=0.018)


# ---- one pipe a set ----

def test_pipes_are_not_shared_without_a_reason():
    assert e.sets_per_exhaust_pipe_max.run("never", "", 3.0) == 1
    assert e.sets_per_exhaust_pipe_max.run("by_stated_reason", "", 3.0) == 1
    assert e.sets_per_exhaust_pipe_max.run("by_stated_reason", "back-flow dampers, proven tight, and one set locked out at a time", 3.0) == 3
    assert e.exhaust_pipe_mass_flow.run(2.0, 2.85) == approx(5.70)  # hand
    assert e.exhaust_pipe_volume_flow.run(5.70, 0.50) == approx(11.40)  # hand


# ---- back-pressure ----

@pytest.mark.parametrize("mass, celsius, pressure, bore, length, losses, density, flow, velocity, factor, drop", [
    # fluids: 3.88 kg/s, 480 degC, sea level, 450 mm, 14 m, 0.09 mm, sum of K 1.9; and 400 mm
    (3.88, 480, 101325, 0.45, 14, 1.9, 0.4687, 8.28, 52.1, 0.01622, 1527), (3.88, 480, 101325, 0.40, 14, 1.9, 0.4687, 8.28, 65.9, None, 2509),
    # fluids: 1.9 kg/s, 510 degC, 1600 m, 350 mm, 10 m, sum of K 1.6; and the same at sea level
    (1.9, 510, 83523, 0.35, 10, 1.6, None, None, 53.2, None, 1104), (1.9, 510, 101325, 0.35, 10, 1.6, None, None, None, None, 910)])
def test_back_pressure_of_a_pipe(mass, celsius, pressure, bore, length, losses, density, flow, velocity, factor, drop):
    hot = celsius + KELVIN
    thin = e.exhaust_gas_density.run(pressure, GAS, hot)
    volume = e.exhaust_volume_flow.run(mass, thin)
    speed = e.exhaust_velocity.run(volume, bore)
    found = friction(thin, speed, bore, hot)
    for have, printed, tolerance in ((thin, density, 1e-3), (volume, flow, 2e-3), (speed, velocity, 2e-3), (found, factor, 5e-3)):
        assert printed is None or have == approx(printed, rel=tolerance)
    straight = e.exhaust_pipe_drop.run(found, length, bore, thin, speed)
    local = e.exhaust_fitting_drop.run(2.0, 0.2, 0.1, losses - 0.5, thin, speed)  # two bends of 0.2, an elbow and the rest
    assert straight + local == approx(drop, rel=0.01)
    assert straight + local == approx((found * length / bore + losses) * thin * speed ** 2 / 2)  # hand: Darcy with all losses at once


def test_wider_by_an_eighth_is_a_third_less():
    # fluids: 2509 Pa in 400 mm against 1527 Pa in 450 mm, near the fourth power
    assert 2509 / 1527 == approx((450 / 400) ** 4.2, rel=0.01)
    assert e.exhaust_velocity.run(8.28, 0.40) / e.exhaust_velocity.run(8.28, 0.45) == approx((450 / 400) ** 2)


def test_bend_by_fluids():
    # Rennels and Hudson by fluids: smooth right-angle bend, radius of one and a half diameters
    by_fluids = fluids.bend_rounded(Di=0.45, angle=90, fd=0.0162, bend_diameters=1.5, method="Rennels")
    assert float(terms()["exhaust_bend_loss"].default) == approx(by_fluids, abs=0.025)
    assert 6 * float(terms()["exhaust_bend_loss"].default) == approx(fluids.bend_miter(angle=90), rel=0.15)  # a mitre, six times as much


def test_elbows_of_the_list():
    # fluids: half a right angle of one diameter 0.171, a mitre 1.202; by hand 2 x 0.171 + 1.202 = 1.544
    half, mitre = (e.exhaust_elbow_loss.run(*elbow) for elbow in (("elbow-loss-45", 1.0), ("elbow-loss-mitre-90", 1.5)))
    assert half == approx(fluids.bend_rounded(Di=0.4, angle=45, fd=0.016, bend_diameters=1, method="Rennels"), abs=5e-4)
    assert over(e.exhaust_elbows_loss, exhaust_elbow_count=[2.0, 1.0], exhaust_elbow_loss=[half, mitre]) == approx(1.544, abs=1e-3)
    assert e.exhaust_elbows_loss.run(np.zeros(0), np.zeros(0)) == 0


def test_elbows_by_the_american_rule():
    # the rule: 33 bores for a standard elbow, 20 for a long one, 15 for half a right angle; by hand 2 x 33 + 15 + 3 x 20 + 33 = 174
    kinds = ["elbow-loss-45", "elbow-loss-90", "elbow-loss-mitre-90"]
    assert over(e.exhaust_rule_bores, exhaust_bends=2.0, exhaust_elbow_count=[1.0, 3.0, 1.0], exhaust_elbow_table=kinds,
                exhaust_elbow_radius=[1.0, 1.5, 1.5]) == approx(174)
    assert over(e.exhaust_rule_bores, exhaust_bends=0.0, exhaust_elbow_count=[1.0], exhaust_elbow_table=["elbow-loss-90"],
                exhaust_elbow_radius=[1.0]) == approx(33)


def test_outlets():
    # one velocity pressure is lost at any free outlet; flap and hat by common practice
    found = {outlet: e.exhaust_outlet_loss.run(outlet) for outlet in terms()["exhaust_outlet"].choices}
    assert found == {"upward_open": 1.0, "upward_flap": 1.75, "sideways": 1.0, "fixed_hat": 2.0}
    assert e.exhaust_outlet_drop.run(1.0, 0.4687, 52.1) == approx(636, abs=1)  # hand: 0.4687 x 52.1^2/2
    assert e.exhaust_outlet_drop.run(1.75, 0.4687, 52.1) == approx(1113, abs=1)  # hand
    with pytest.raises(OutOfTable, match="no row chimney"):
        e.exhaust_outlet_loss.run("chimney")


def test_silencer():
    # hand: 2.4 kPa at 8 m3/s and 0.46 kg/m3 -> x (8.4/8)^2 x 0.47/0.46 = 2.704 kPa
    assert e.silencer_drop.run(2.4e3, 8.4, 8.0, 0.47, 0.46) == approx(2704, abs=1)
    assert e.silencer_drop.run(2.4e3, 8.0, 8.0, 0.46, 0.46) == 2.4e3
    assert (e.silencer_rated_airflow.run(8.0), e.silencer_rated_density.run(0.46)) == (8.0, 0.46)


def test_sum_and_share_of_the_limit():
    # hand: 288 + 720 + 3054 + 630 = 4692 Pa, 70.0 % of 6.7 kPa
    total = e.exhaust_back_pressure.run(288.0, 720.0, 3054.0, 630.0)
    assert total == 4692.0
    sizes = np.array([7760.0, total])
    assert e.exhaust_chosen_back_pressure.run(1, sizes) == total and e.exhaust_chosen_velocity.run(0, np.array([62.8, 37.9])) == 62.8
    assert e.exhaust_back_pressure_ratio.run(total, 6700.0) == approx(0.7003, abs=1e-4)


def test_bore_of_the_guide_specification():
    # hand: 25.4 m/s, 5.69 m3/s: sqrt(4 x 5.69/(pi x 25.4)) = 0.534 m
    assert e.exhaust_bore_guide.run(5.69, 25.4) == approx(0.5341, abs=2e-4)
    assert e.exhaust_velocity.run(5.69, e.exhaust_bore_guide.run(5.69, 25.4)) == approx(25.4)
    assert terms()["exhaust_velocity_guide"].default_data() == approx(25.4)  # 5000 ft/min


def test_american_rule():
    # hand: 100 ft, 10 800 cfm, 14 in, 900 degF: S = 39.6/1360 lb/ft3, P = 0.1218 psi = 3.37 in of water; Darcy with f = 0.01595 the same
    density = 39.6 / 1360 * POUND / FOOT ** 3
    flow = 10800 * FOOT ** 3 / MINUTE
    found = e.exhaust_rule_drop.run(100 * FOOT, 0.0, 14 * INCH, density, flow)
    assert found / 6894.757 == approx(0.1218, abs=1e-4) and found / 249.08891 == approx(3.37, abs=0.01)
    assert found == approx(e.exhaust_pipe_drop.run(0.01595, 100 * FOOT, 14 * INCH, density, e.exhaust_velocity.run(flow, 14 * INCH)), rel=1e-3)
    # a standard elbow counts as 33 D/12 ft, here 38.5 ft
    assert e.exhaust_rule_drop.run(100 * FOOT, 66.0, 14 * INCH, density, flow) == approx(found * 1.77, rel=1e-6)


# ---- growth ----

def test_growth():
    # hand: 12 m, 20 -> 480 degC, 13.8e-6: 76.2 mm; the coefficient at room temperature, 11.4e-6, would give 62.9 mm
    assert e.exhaust_growth.run(13.8e-6, 12.0, 753.15, 293.15) == approx(76.2e-3, abs=0.05e-3)
    assert e.exhaust_growth.run(11.4e-6, 12.0, 753.15, 293.15) == approx(62.9e-3, abs=0.05e-3)
    assert e.exhaust_growth.run(13.8e-6, 12.0, 293.15, 293.15) == 0
    assert e.exhaust_anchor_length.run(21.0) == 21.0 and e.bellows_capacity_total.run(2.0, 0.05) == 0.10


def test_expansion_tables():
    # ASME B31 tables of total expansion, in per 100 ft from 70 degF: carbon steel 6.70 to 430 degC, 8.80 to 540; 18-8 8.89 and 11.48
    for material, celsius, inches, printed in (("carbon-steel-expansion", 430, 6.70, 13.8), ("carbon-steel-expansion", 540, 8.80, 14.3),
                                               ("stainless-steel-expansion", 430, 8.89, 18.1), ("stainless-steel-expansion", 540, 11.48, 18.5)):
        found = e.exhaust_expansion_coefficient.run(material, celsius + KELVIN)
        assert found == approx(printed * 1e-6) and found * (celsius - 21) * 1200 == approx(inches, rel=0.02)
    assert e.exhaust_expansion_coefficient.run("carbon-steel-expansion", 485 + KELVIN) == approx(14.05e-6)  # half way between two rows
    with pytest.raises(OutOfTable):
        e.exhaust_expansion_coefficient.run("carbon-steel-expansion", 600 + KELVIN)
    assert table("carbon-steel-expansion").value("coefficient", 293.15) == approx(11.4e-6)


def test_diameter_under_the_insulation():
    assert e.exhaust_outer_diameter.run(0.437, 0.010) == approx(0.457)  # DN 450: 437 mm bore, 457 mm outside
