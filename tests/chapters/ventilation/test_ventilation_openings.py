"""Openings, restriction ladder, fan, door and air filter against fluids, scipy, CoolProp and hand calculations."""

import fluids
import numpy as np
import pytest
from axes import over
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI
from fluids.friction import friction_factor
from pytest import approx
from scipy.optimize import brentq

from basis.chapters.ventilation import ducts as d
from basis.chapters.ventilation import openings as o
from basis.language.faults import ItemTroubles, OutOfTable
from basis.language.terms import terms


def test_densities_against_coolprop():
    # moist air of 34 °C, 40 %, 100.6 kPa warmed at constant humidity to 36.1, 41.8 and 69.3 °C
    ratio = HAPropsSI("W", "T", 307.15, "R", 0.4, "P", 100600)
    cool = 1 / HAPropsSI("Vha", "T", 307.15, "W", ratio, "P", 100600)
    for formula, celsius in ((o.intake_density, 36.1), (o.room_density, 41.8), (o.discharge_density, 69.3)):
        assert formula.run(cool, 307.15, celsius + 273.15) == approx(1 / HAPropsSI("Vha", "T", celsius + 273.15, "W", ratio, "P", 100600), rel=1e-3)


# ---- openings and elements ----

def test_louvre():
    # hand: 9.5 m2 gross, 12 m3/s, rho 1.14, K 2.5 on the face: 1.263 m/s, 2.27 Pa; free area 0.48: 4.56 m2 and 2.632 m/s
    assert o.face_velocity.run(12.0, 9.5) == approx(1.263, rel=1e-3) == o.element_velocity.run(12.0, 9.5)
    assert o.free_area.run(9.5, 0.48) == approx(4.56)
    assert o.free_velocity.run(12.0, 4.56) == approx(2.632, rel=1e-3)
    assert o.element_pressure_drop.run(o.element_resistance.run(2.5, 0.0, 9.5, 0.0, 1.2, np.nan), 1.14, 12.0) == approx(2.27, abs=5e-3)


def test_rated_drop():
    # hand: 45 Pa at 10 m3/s and 1.2: 45 x 1.44 = 64.8 Pa at 12 m3/s; x 1.10/1.2 = 59.4 Pa in thinner air
    resistance = o.element_resistance.run(0.0, 0.0, 1.0, 45.0, 1.2, 10.0)
    assert o.element_pressure_drop.run(resistance, 1.2, 12.0) == approx(64.8)
    assert o.element_pressure_drop.run(resistance, 1.1, 12.0) == approx(59.4)


def test_duct_as_element():
    # fluids: duct 2.0 x 1.5 m, 10 m, roughness 0.09 mm, 12 m3/s, rho 1.14, mu 1.91e-5: Re 409 274, f 0.01428, friction 0.76 Pa;
    # with a sum of coefficients of 1.7 another 15.50 Pa
    duct = {"element_face_area": [3.0], "element_duct_diameter": [12 / 7]}
    assert d.element_duct_diameter.run(3.0, 7.0) == approx(12 / 7)  # hand: four times 3 m2 over 7 m
    reynolds = over(d.element_duct_reynolds, outdoor_air_density=1.14, fan_middle_airflow=12.0, element_opening=[0], opening_share=[1.0],
                    outdoor_air_viscosity=1.91e-5, **duct)
    half = over(d.element_duct_reynolds, outdoor_air_density=1.14, fan_middle_airflow=12.0, element_opening=[0], opening_share=[0.5],
                outdoor_air_viscosity=1.91e-5, **duct)
    assert half == approx(reynolds / 2)  # one of two ducts side by side
    (factor,), residual, _ = d.element_friction_factor.run(reynolds, np.array([0.09e-3]), np.array([12 / 7]))
    assert reynolds == approx([409_274], rel=1e-5) and factor == approx([0.01428], abs=5e-6) and residual < 1e-9
    assert factor == approx([friction_factor(Re=float(reynolds[0]), eD=0.09e-3 / (12 / 7))], rel=1e-6)

    def drop(coefficient, length):
        loss = d.element_friction_loss.run(float(factor[0]), length, 12 / 7, 0.0, 0.21)
        return o.element_pressure_drop.run(o.element_resistance.run(coefficient, loss, 3.0, 0.0, 1.2, 1.0), 1.14, 12.0)
    assert drop(0.0, 10.0) == approx(0.76, abs=5e-3)
    assert drop(1.7, 10.0) == approx(0.76 + 15.50, abs=0.01)
    assert drop(0.0, 20.0) == approx(2 * drop(0.0, 10.0)) and drop(0.0, 0.0) == 0


def test_a_duct_without_a_perimeter_is_square():
    assert d.element_duct_perimeter.run(4.0) == approx(8.0)  # hand: 2 m by 2 m
    assert d.element_duct_diameter.run(4.0, 8.0) == approx(2.0)  # the hydraulic diameter of a square is its side


def test_middle_of_the_fan_curve():
    assert over(d.fan_middle_airflow, fan_point_airflow=[39.5, 36.8, 34.0, 30.0]) == approx(34.75)  # hand


@pytest.mark.parametrize("celsius", [0.0, 20.0, 40.0, 55.0])
def test_viscosity_of_outdoor_air(celsius):
    found = d.outdoor_air_viscosity.run(1.716e-5, celsius + 273.15, 273.15, 110.4)
    assert found == approx(PropsSI("V", "T", celsius + 273.15, "P", 101_325, "Air"), rel=0.01)  # CoolProp


SMOOTH = [(angle, ratio) for angle in (30, 45, 60, 90) for ratio in (0.75, 1.0, 1.5, 2.0, 3.0, 5.0, 10.0)]


@pytest.mark.parametrize(("angle", "ratio"), SMOOTH)
def test_elbows_by_fluids(angle, ratio):
    by_fluids = fluids.bend_rounded(Di=0.4, angle=angle, fd=0.016, bend_diameters=ratio, method="Rennels")
    assert d.element_elbow_loss.run(f"elbow-loss-{angle}", ratio) == approx(by_fluids, abs=5e-4)


def test_mitres_and_elbows_between_the_rows():
    assert d.element_elbow_loss.run("elbow-loss-mitre-90", 1.5) == approx(fluids.bend_miter(90), abs=5e-4)
    assert d.element_elbow_loss.run("elbow-loss-mitre-45", 4.0) == approx(fluids.bend_miter(45), abs=5e-4)
    between = fluids.bend_rounded(Di=0.4, angle=90, fd=0.016, bend_diameters=1.1, method="Rennels")
    assert d.element_elbow_loss.run("elbow-loss-90", 1.1) == approx(between, rel=0.02)  # straight lines between rows
    with pytest.raises(OutOfTable):
        d.element_elbow_loss.run("elbow-loss-90", 0.5)
    assert d.element_friction_loss.run(0.015, 0.0, 1.0, 2.0, 0.286) == approx(0.572)  # hand: two elbows and no duct


def test_opening_flows():
    assert o.opening_flow_factor.run(0.6, "all_sets", 3.0) == approx(1.8)  # hand: 0.6 of three sets
    assert o.opening_flow_factor.run(0.6, "each_set", 3.0) == approx(0.6)
    assert o.opening_airflow.run(3.0, 37.5, "intake", 2.75, 1.12) == approx(107.81, abs=5e-3)  # hand: 3 x 40.25 / 1.12
    assert o.opening_airflow.run(3.0, 37.5, "discharge", 2.75, 1.02) == approx(110.294, abs=1e-3)  # hand: 3 x 37.5 / 1.02
    assert o.opening_density.run("intake", 1.12, 1.02) == 1.12 and o.opening_density.run("discharge", 1.12, 1.02) == 1.02
    assert o.opening_area_ratio.run(45.0, 1.0, 6.4, "all_sets", 3.0) == approx(2.344, abs=1e-3)  # hand: 45 / (3 x 6.4)
    assert o.opening_area_ratio.run(13.5, 0.5, 6.4, "each_set", 3.0) == approx(4.219, abs=1e-3)  # hand: 13.5 / (0.5 x 6.4)
    assert (o.opening_intake_share.run("intake", 0.4), o.opening_intake_share.run("discharge", 0.4)) == (0.4, 0)
    assert (o.opening_discharge_share.run("intake", 0.4), o.opening_discharge_share.run("discharge", 0.4)) == (0, 0.4)


def test_sums_of_the_ladder():
    # hand: drops 13, 27, 33, 20 Pa; the first two on an intake opening, the others on a discharge opening
    opening, drops = np.array([0, 0, 1, 1]), np.array([13.0, 27.0, 33.0, 20.0])
    assert o.intake_pressure_drop.run(opening, np.array([1.0, 0.0]), drops) == approx(40.0)
    assert o.discharge_pressure_drop.run(opening, np.array([0.0, 1.0]), drops) == approx(53.0)
    steps = o.ladder_step.run(opening, np.array([1.0, 1.0]), drops)
    assert o.restriction_ladder.run(steps) == approx(np.array([13.0, 40.0, 73.0, 93.0]))
    assert o.element_airflow.run(opening, np.array([107.0, 37.0])) == approx(np.array([107.0, 107.0, 37.0, 37.0]))
    assert o.element_density.run(opening, np.array([1.12, 1.02])) == approx(np.array([1.12, 1.12, 1.02, 1.02]))
    assert o.element_face_area.run(opening, np.array([45.0, 13.5])) == approx(np.array([45.0, 45.0, 13.5, 13.5]))
    assert o.external_restriction.run(40.0, 53.0, 9.9) == approx(102.9)


def test_openings_side_by_side():
    # Turbulent resistances side by side: 1/sqrt(r) adds, shares go with 1/sqrt(r) (hand). r 0.04 and 0.01: shares 1/3 and 2/3, together
    # 1/(5 + 10)^2 = 0.004444. Any other shares give more, which is the safe side.
    resistance, opening = np.array([0.04, 0.01]), np.array([0, 1])

    def together(first):
        share = np.array([first, 1 - first])
        return o.intake_resistance.run(opening, share, resistance, share)

    assert together(1 / 3) == approx(1 / 15 ** 2, rel=1e-9)
    assert together(0.25) > together(1 / 3) < together(0.45)
    share = np.array([1 / 3, 2 / 3])
    assert o.discharge_resistance.run(opening, share, resistance, share) == approx(1 / 15 ** 2, rel=1e-9)


def test_shared_openings_count_by_the_square_of_the_sets():
    # hand: 0.001 shared by three sets counts nine times; 0.02 of each set counts once: 0.029
    found = o.intake_resistance.run(np.array([0, 1]), np.array([1.0, 1.0]), np.array([0.001, 0.02]), np.array([3.0, 1.0]))
    assert found == approx(0.029)


def test_wind():
    # hand: 0.7 x 1.2 x 10^2 / 2 = 42 Pa
    assert o.wind_pressure.run(0.7, 1.2, 10.0) == approx(42.0)
    assert o.wind_pressure.run(0.7, 1.2, 0.0) == 0


def test_allowance():
    # hand: 125 Pa at 1.2 kg/m3 is 95.8 Pa in air of 0.92; 90 Pa use 93.9 % of it
    assert o.restriction_allowed_site.run(125.0, 0.92, 1.2) == approx(95.83, abs=5e-3)
    assert o.restriction_ratio.run(90.0, 95.83) == approx(0.9392, abs=1e-4)


# ---- fan ----

PARABOLA = (np.array([0.0, 16.0]), np.array([250.0, 0.0]))


def installed(intake=0.0, discharge=0.0, wind=0.0, combustion=0.0, outdoor=1.2, heat=0.0, radiator=0.0, returned=0.0, points=PARABOLA):
    (flow, pressure), residual, _ = o.fan_airflow.run(*points, 1.2, np.array([intake]), np.array([discharge]), wind, combustion, outdoor, 308.15, 1018.0,
                                                      np.array([heat]), radiator, returned)
    return flow[0], pressure[0], residual


@pytest.mark.parametrize("square, flow, pressure", ((0.5, 13.01, 84.7), (1.0, 11.25, 126.5)))
def test_fan_against_closed_form(square, flow, pressure):
    # dp = 250 (1 - (V/16)^2) against a V^2: V = 16 sqrt(250/(250 + 256 a)); 13.01 m3/s, 84.7 Pa and 11.25 m3/s, 126.5 Pa (hand)
    assert 16 * np.sqrt(250 / (250 + 256 * square)) == approx(flow, abs=5e-3)
    found = installed(intake=0.4 * square / 1.2, discharge=0.6 * square / 1.2)
    assert found[0] == approx(flow, rel=5e-4) and found[1] == approx(pressure, rel=1e-3) and found[2] < 1e-6


def test_fan_moves_the_same_volume_in_thin_air():
    # Fan laws: at constant speed fan and system both go with density, so volume stays and pressure falls with density
    low, high = installed(intake=0.3, outdoor=1.2), installed(intake=0.3, outdoor=0.9)
    assert high[0] == approx(low[0], rel=1e-9)
    assert high[1] == approx(low[1] * 0.9 / 1.2, rel=1e-9)


def test_wind_and_combustion_air_throttle_the_fan():
    free = installed(intake=0.3)[0]
    assert installed(intake=0.3, wind=20.0)[0] < free
    assert installed(intake=0.3, combustion=2.0)[0] < free


def test_warm_discharge_throttles_the_fan():
    # The same mass takes more volume, so more pressure, when the radiator has warmed it
    assert installed(discharge=0.3, radiator=500e3)[0] < installed(discharge=0.3)[0]
    assert installed(intake=0.3, radiator=500e3)[0] == approx(installed(intake=0.3)[0], rel=1e-9)


def test_returned_air_by_hand():
    # hand: half of the discharge comes back, so the fan takes air a tenth of its kelvins warmer, which leaves two tenths warmer. At one volume the
    # building then takes 1.2/1.1 times what it takes of air as warm as the fan's: 250 (1 - (V/16)^2) = 1.2 x 0.6 x 1.2/1.1 V^2, 11.911 m3/s
    flow = 16 * np.sqrt(250 / (250 + 256 * 0.72 * 1.2 / 1.1))
    assert flow == approx(11.911, abs=5e-4)
    mass = 1.2 * flow / 1.1
    found = installed(discharge=0.6, radiator=0.1 * mass * 308.15 * 1018.0, returned=0.5)
    assert found[0] == approx(flow, rel=1e-9)
    # hand: 111.4 Pa by its curve, in air 1.1 times thinner than at its rating
    assert found[1] == approx(101.3, abs=0.05) and found[1] == approx(250 * (1 - (flow / 16) ** 2) / 1.1, rel=1e-9)


def test_small_fan_of_many_points():
    # hand: points on the parabola 250 (1 - V^2) are met by straight lines in the square; against 100 V^2 the flow is sqrt(250/350) = 0.8452 m3/s
    flows = np.array([0.0, 0.3, 0.5, 0.9, 0.95, 1.0])
    found = installed(discharge=100 / 1.2, points=(flows, 250 * (1 - flows ** 2)))
    assert found[0] == approx(0.8452, abs=5e-5) and found[0] == approx(np.sqrt(250 / 350), rel=1e-9)


@pytest.mark.parametrize("intake, discharge, returned", ((0.03, 0.04, 0.06), (0.09, 0.0, 0.3), (0.0, 0.07, 0.3)))
def test_fan_against_an_independent_solution(intake, discharge, returned):
    # scipy brentq over enthalpy and density from CoolProp: the whole path of the air worked out another way
    wind, combustion, heat, radiator = 9.9, 2.75, 215e3, 1050e3
    points = (np.array([30.0, 34.0, 36.8, 39.5]), np.array([190.0, 125.0, 70.0, 0.0]))
    pressure, start = 100600.0, 307.15
    ratio = HAPropsSI("W", "T", start, "R", 0.4, "P", pressure)
    cool, capacity_ = 1 / HAPropsSI("Vha", "T", start, "W", ratio, "P", pressure), 1017.0

    def at(kelvin):
        return 1 / HAPropsSI("Vha", "T", kelvin, "W", ratio, "P", pressure)

    def path(mass):
        whole = (heat + radiator) / (mass * capacity_)
        entering = start + returned / (1 - returned) * whole
        return entering, entering + heat / (mass * capacity_), entering + whole

    def gap(mass):
        entering, room, leaving = path(mass)
        flow = mass / at(room)
        curve = np.interp(flow ** 2, points[0] ** 2, points[1]) * at(room) / 1.2
        return curve - intake * (mass + combustion) ** 2 / at(entering) - discharge * mass ** 2 / at(leaving) - wind

    mass = brentq(gap, 25.0, 42.0)
    (flow, fan), residual, _ = o.fan_airflow.run(*points, 1.2, np.array([intake]), np.array([discharge]), wind, combustion, cool, start, capacity_,
                                                 np.array([heat]), radiator, returned)
    assert flow[0] == approx(mass / at(path(mass)[1]), rel=1e-3) and residual < 1e-6
    assert o.fan_mass_flow.run(cool, flow[0], returned, heat, radiator, capacity_, start) == approx(mass, rel=1e-3)


def test_fan_beyond_its_points_is_told():
    # a building far too tight for the stated points: nothing is carried on beyond them, and the gap shows it
    found = installed(intake=5.0, points=(np.array([12.0, 16.0]), np.array([110.0, 0.0])))
    assert found[0] == approx(12.0) and found[2] > 100
    # hand: a building that takes 0.1 x (1.2 x 16)^2/1.2 = 30.7 Pa at 16 m3/s, where the last point still has 70 Pa: the flow stays there, 39.3 Pa are left
    open_ = installed(intake=0.1, points=(np.array([12.0, 16.0]), np.array([110.0, 70.0])))
    assert open_ == approx((16.0, 70.0, 39.28), abs=5e-3)
    assert o.fan_balance_error.run(110.0, 864.0) == approx(754.0) == o.fan_balance_error.run(864.0, 110.0)
    with pytest.raises(ItemTroubles, match="two airflows"):
        installed(points=(np.array([12.0]), np.array([110.0])))


def test_fan_with_samples():
    # one more leading axis on every input gives what single runs give
    samples = np.array([0.1, 0.2, 0.4])
    (flow, _), *_ = o.fan_airflow.run(*PARABOLA, np.full(3, 1.2), samples[:, None], np.zeros((3, 1)), np.zeros(3), np.zeros(3), np.full(3, 1.2),
                                      np.full(3, 308.15),
                                      np.full(3, 1018.0), np.full((3, 1), 50e3), np.full(3, 200e3), np.full(3, 0.05))
    single = [installed(intake=one, heat=50e3, radiator=200e3, returned=0.05)[0] for one in samples]
    assert flow[:, 0] == approx(np.array(single), rel=1e-12)


def test_fan_mass_flow():
    # hand: 1.13 x 34 = 38.42 less (215 + 0.06 x 1050)/(0.94 x 1.017 x 307.15) = 0.947: 37.47 kg/s
    assert o.fan_mass_flow.run(1.13, 34.0, 0.06, 215e3, 1050e3, 1017.0, 307.15) == approx(37.47, abs=5e-3)
    assert o.fan_mass_flow.run(1.2, 10.0, 0.0, 0.0, 0.0, 1017.0, 300.0) == approx(12.0)


# ---- door and air filter ----

def test_door_force():
    # hand: 0.9 x 2.1 m, handle 75 mm from the edge, 50 Pa: 50 x 1.89 x 0.9 / (2 x 0.825) = 51.5 N, over the closer
    assert o.door_force.run(0.0, 50.0, 2.1, 0.9, 0.075) == approx(51.5, abs=0.05)
    assert o.door_force.run(40.0, 50.0, 2.1, 0.9, 0.075) == approx(91.5, abs=0.05)
    assert o.door_force.run(40.0, 0.0, 2.1, 0.9, 0.075) == 40.0


def test_combustion_intake():
    # hand: 4900 + 48.7 Pa from the room; the filter alone through a duct
    assert o.combustion_intake_restriction.run(4900.0, 48.7, "from_room") == approx(4948.7)
    assert o.combustion_intake_restriction.run(4900.0, 48.7, "ducted") == approx(4900.0)


def test_worst_of_running_cases():
    for formula in (o.design_restriction, o.design_room_depression, o.design_face_velocity, o.design_pressure_drop):
        assert formula.run(np.array([1.0, 3.0, 2.0])) == 3.0
    assert o.design_fan_airflow.run(np.array([34.0, 31.0, 33.0])) == 31.0


def test_wind_may_suck():
    # hand: coefficient -0.5, 10 m/s, 1.2 kg/m3: 30 Pa of suction; what may be negative says so
    assert o.wind_pressure.run(-0.5, 1.2, 10.0) == approx(-30)
    for name in ("wind_pressure", "external_restriction", "restriction_ratio", "design_restriction", "fan_pressure"):
        assert terms()[name].bounds[0] < 0
