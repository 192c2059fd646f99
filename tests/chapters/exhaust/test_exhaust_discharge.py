"""Exhaust: insulation, heat to the room, discharge and separation, against ht, CoolProp, scipy and hand calculations."""

import ht
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from pytest import approx
from scipy.constants import Stefan_Boltzmann, g
from scipy.optimize import brentq

from basis.chapters.exhaust import discharge as e
from basis.language.faults import OutOfTable
from basis.language.table import table
from basis.language.terms import terms

KELVIN, SEA = 273.15, 101325.0
CONSTANTS = (Stefan_Boltzmann, 9.80665, 287.042, 0.70, 1.716e-5, 273.15, 110.4, 0.0241, 194.0)  # in the order of the procedure's last parameters


def surface(celsius=480.0, outside=(0.457,), thick=0.1, conductivity=0.08, clad=0.9, bare=0.8, room=40.0, pressure=SEA):
    """Surface temperature in degC, heat per length and bare heat per length of one pipe, by the procedure."""
    found, residual, _ = e.exhaust_surface.run(celsius + KELVIN, np.array(outside), thick, conductivity, clad, bare, room + KELVIN, pressure, *CONSTANTS)
    assert residual < 1e-6
    return found[0][0] - KELVIN, found[1][0], found[2][0]


def loss_by_ht(surface_celsius, diameter, emissivity, room=40.0, pressure=SEA):
    """Convection and radiation of a level cylinder: ht's correlation with CoolProp's air at film temperature. W/m, in two parts."""
    hot, cold = surface_celsius + KELVIN, room + KELVIN
    film = (hot + cold) / 2
    density, viscosity, conductivity, prandtl = (PropsSI(what, "T", film, "P", pressure, "Air") for what in ("D", "V", "L", "PRANDTL"))
    grashof = g * (hot - cold) / film * diameter ** 3 * (density / viscosity) ** 2
    nusselt = ht.Nu_horizontal_cylinder_Churchill_Chu(prandtl, grashof)
    return np.pi * conductivity * nusselt * (hot - cold), np.pi * diameter * emissivity * Stefan_Boltzmann * (hot ** 4 - cold ** 4)


def surface_by_ht(celsius, outside, thick, conductivity, emissivity):
    """Surface temperature by scipy's search on ht's losses: an outside judge."""
    ratio = np.log(1 + 2 * thick / outside)
    return brentq(lambda t: 2 * np.pi * conductivity * (celsius - t) / ratio - sum(loss_by_ht(t, outside + 2 * thick, emissivity)), 40.01, celsius - 0.01)


# ---- insulation ----

@pytest.mark.parametrize("emissivity, printed, heat", ((0.9, 65.4, 574.0), (0.1, 87.7, 543.0)))
def test_insulated_pipe(emissivity, printed, heat):
    # ht's Churchill-Chu with radiation: 457 mm, 100 mm of wool at 0.08, gas 480, room 40 degC; painted, and bright cladding
    found = surface(clad=emissivity)
    assert found[0] == approx(printed, abs=1.0) and found[1] == approx(heat, rel=0.01)
    assert found[0] == approx(surface_by_ht(480.0, 0.457, 0.1, 0.08, emissivity), abs=0.5)
    assert found[1] == approx(sum(loss_by_ht(found[0], 0.657, emissivity)), rel=0.02)


@pytest.mark.parametrize("celsius, outside, thick, conductivity", ((430.0, 0.356, 0.08, 0.077), (540.0, 0.168, 0.05, 0.09), (350.0, 0.61, 0.15, 0.07)))
def test_other_pipes_against_ht_and_scipy(celsius, outside, thick, conductivity):
    found = surface(celsius, (outside,), thick, conductivity, clad=0.5)
    assert found[0] == approx(surface_by_ht(celsius, outside, thick, conductivity, 0.5), abs=0.5)


def test_bare_pipe():
    # ht: 457 mm at 480 degC, emissivity 0.8, room 40 degC: convection 4.58 kW/m, radiation 20.3 kW/m
    convection, radiation = loss_by_ht(480.0, 0.457, 0.8)
    assert convection == approx(4.58e3, rel=0.01) and radiation == approx(20.3e3, rel=0.01)
    assert surface()[2] == approx(4.58e3 + 20.3e3, rel=0.01)
    naked = surface(thick=0.0)
    assert naked[0] == approx(480.0) and naked[1] == approx(naked[2], rel=1e-9)  # no wool: the surface is the pipe
    dull = surface(thick=0.0, bare=1e-3)
    assert dull[1] == approx(4.58e3, rel=0.03)  # convection alone
    # half a millimetre of wool already has a cladding, and shines as that does: ht on the surface found
    found = surface(thick=5e-4, clad=0.1)
    assert found[1] == approx(sum(loss_by_ht(found[0], 0.458, 0.1)), rel=0.02)


def test_what_is_left_over_shows():
    # hand: a surface near 313 K is found to half a step of its number, 3e-14 K, and its heat to some 1e-12 W/m; wool of 1e-12 W/(m K) has a resistance of
    # ln(0.657/0.457)/(2 pi x 1e-12) = 5.8e10 K m/W, over which that is hundredths of a kelvin
    _, residual, _ = e.exhaust_surface.run(753.15, np.array([0.457]), 0.1, 1e-12, 0.9, 0.8, 313.15, SEA, *CONSTANTS)
    assert residual > 1e-3


def test_more_wool_less_heat():
    for thicker, thinner in ((0.05, 0.025), (0.1, 0.05), (0.2, 0.1)):
        assert surface(thick=thicker)[0] < surface(thick=thinner)[0] and surface(thick=thicker)[1] < surface(thick=thinner)[1]
    assert surface(clad=0.1)[0] > surface(clad=0.9)[0] and surface(clad=0.1)[1] < surface(clad=0.9)[1]  # bright: hotter, and less
    assert surface(pressure=83524.0)[0] > surface()[0]  # thin air carries less away


@pytest.mark.parametrize("diameter", (0.1, 0.457))
def test_convection_alone(diameter):
    # ht's Churchill-Chu round a pipe that does not shine, air a perfect gas with viscosity and conductivity of CoolProp at the film, 260 degC
    film = 260 + KELVIN
    viscosity, conductivity, prandtl = (PropsSI(what, "T", film, "P", SEA, "Air") for what in ("V", "L", "PRANDTL"))
    grashof = g * 440 / film * diameter ** 3 * (SEA / (287.042 * film) / viscosity) ** 2
    facts = (Stefan_Boltzmann, g, 287.042, prandtl, viscosity, film, 110.4, conductivity, 194.0)
    (_, heat, bare), _, _ = e.exhaust_surface.run(480 + KELVIN, np.array([diameter]), 0.0, 0.08, 0.9, 0.0, 40 + KELVIN, SEA, *facts)
    expected = np.pi * conductivity * ht.Nu_horizontal_cylinder_Churchill_Chu(prandtl, grashof) * 440
    assert heat[0] == approx(expected, rel=1e-6) and bare[0] == approx(expected, rel=1e-6)


def test_many_pipes_at_once():
    found, _, _ = e.exhaust_surface.run(753.15, np.array([0.356, 0.457]), 0.1, 0.08, 0.9, 0.8, 313.15, SEA, *CONSTANTS)
    for place, outside in enumerate((0.356, 0.457)):
        alone = surface(outside=(outside,))
        assert (found[0][place] - KELVIN, found[1][place], found[2][place]) == approx(alone)


def test_constants_of_the_surface():
    assert terms()["stefan_boltzmann_constant"].default_data() == approx(Stefan_Boltzmann, rel=1e-9)  # scipy, CODATA
    assert terms()["air_conductivity_base"].default_data() == approx(PropsSI("L", "T", 273.15, "P", SEA, "Air"), rel=0.015)  # CoolProp
    assert terms()["air_prandtl_number"].default_data() == approx(PropsSI("PRANDTL", "T", 353.15, "P", SEA, "Air"), rel=0.02)  # CoolProp


def test_wool():
    # common practice: 0.05 at 100, 0.08 at 250, 0.11 W/(m K) at 350 degC
    for celsius, printed in ((100, 0.05), (250, 0.08), (350, 0.11), (300, 0.095)):
        assert table("mineral-wool-conductivity").value("conductivity", celsius + KELVIN) == approx(printed)
    assert e.insulation_conductivity.run(460 + KELVIN, 40 + KELVIN) == approx(0.08)  # hand: mean of 460 and 40 is 250 degC
    with pytest.raises(OutOfTable):
        e.insulation_conductivity.run(780 + KELVIN, 40 + KELVIN)


def test_heat_to_the_room():
    # hand: 574 W/m x 9 m x 1.15 = 5.94 kW; bare 24.9 kW/m x 9 m = 224 kW
    sizes = np.array([383.0, 574.0])
    assert e.exhaust_pipe_room_heat.run(1, sizes, 9.0, 0.15) == approx(5941, abs=1)
    assert e.exhaust_bare_room_heat.run(1, np.array([14.8e3, 24.9e3]), 9.0) == approx(224.1e3)
    assert e.exhaust_pipe_room_heat.run(1, sizes, 0.0, 0.15) == 0
    assert e.exhaust_chosen_surface_temperature.run(0, np.array([347.95, 349.15])) == 347.95


def test_outlet_and_its_credit():
    # a hat and a sideways end get no credit for speed and no rise; a hinged flap is open in the flow
    assert [e.exhaust_upward_credit.run(outlet) for outlet in ("upward_open", "upward_flap", "sideways", "fixed_hat")] == [1, 1, 0, 0]
    assert [e.plume_rise_factor.run(outlet) for outlet in ("upward_open", "upward_flap", "sideways", "fixed_hat")] == [1, 1, 0, 0]
    with pytest.raises(OutOfTable):
        e.plume_rise_factor.run("gooseneck")
    assert e.outlet_velocity_credited.run(37.9, 5.0, 1.0) == 5.0 and e.outlet_velocity_credited.run(3.0, 5.0, 1.0) == 3.0
    assert e.outlet_velocity_credited.run(37.9, 5.0, 0.0) == 0


def test_separation():
    # hand, form of 62.1: 0.04 sqrt(8000)(sqrt(50) - U/2): 25.3 m without credit, 21.7 m with 2 m/s upward
    assert e.separation_needed.run(8.0, 50.0, 0.0) == approx(25.3, abs=0.05)
    assert e.separation_needed.run(8.0, 50.0, 2.0) == approx(21.7, abs=0.05)
    # its American form 0.09 sqrt(cfm)(sqrt(DF) - fpm/400) in feet, coefficients rounded by its authors
    cfm, fpm = 8.0 / (0.3048 ** 3 / 60), 2.0 / (0.3048 / 60)
    assert e.separation_needed.run(8.0, 50.0, 2.0) / 0.3048 == approx(0.09 * cfm ** 0.5 * (50 ** 0.5 - fpm / 400), rel=0.05)
    assert e.separation_needed.run(8.0, 1.0, 5.0) == 0  # never less than nothing
    assert e.separation_needed.run(32.0, 50.0, 0.0) == approx(2 * e.separation_needed.run(8.0, 50.0, 0.0))


def test_dilution_is_the_same_form_backwards():
    assert e.dilution_found.run(25.298, 8.0, 0.0) == approx(50.0, rel=1e-3)  # hand: 25.3 m are where 50 is reached
    assert e.dilution_found.run(e.separation_needed.run(8.0, 100.0, 2.0), 8.0, 2.0) == approx(100.0)
    assert e.dilution_found.run(0.0, 8.0, 0.0) == 1  # at the outlet nothing is diluted


def test_gas_in_one_place():
    assert e.sets_discharging_together.run(3.0) == 3.0 and e.discharge_volume_flow.run(5.69, 3.0) == approx(17.07)  # hand


def test_roof_wake():
    # hand from the ASHRAE form: 8 x 30 m: R 12.37, H_c 2.72, L_c 11.14, L_r 12.37 m
    scale = e.wake_scale.run(8.0, 30.0)
    assert scale == approx(12.37, rel=5e-3) and e.wake_scale.run(30.0, 8.0) == scale
    assert e.wake_height.run(12.37) == approx(2.72, rel=5e-3) and e.wake_crest.run(12.37) == approx(6.19, rel=5e-3)
    assert e.wake_roof_length.run(12.37) == approx(11.14, rel=5e-3) and e.wake_lee_length.run(12.37) == approx(12.37, rel=5e-3)
    assert e.wake_scale.run(20.0, 20.0) == approx(20.0, rel=1e-9)  # a cube is its own scale


def test_plume():
    # hand: 3 x 0.45 m x 40 m/s over 10 m/s = 5.4 m; nothing under a hat
    assert e.plume_rise.run(1.0, 1, np.array([0.35, 0.45]), 40.0, 10.0) == approx(5.4)
    assert e.plume_rise.run(0.0, 1, np.array([0.35, 0.45]), 40.0, 10.0) == 0
    assert e.plume_height.run(3.0, 5.4) == approx(8.4)
