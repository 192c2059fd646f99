"""An exchanger between engine and remote radiator: the whole chain against an outside exchanger law, columns and pumps by hand, and a book that has one."""

import re

import ht
import pytest
import yaml
from CoolProp.CoolProp import PropsSI
from demos import demo_copy
from numpy.testing import assert_allclose
from pytest import approx
from scipy.optimize import fsolve
from test_stranger_bare import PLANT, book_of

import basis
from basis.chapters.cooling import chapter as c
from basis.chapters.cooling import exchanger as x
from basis.chapters.cooling import limits
from basis.site.schematics.coolant import coolant

PARTED = ("remote", "behind_exchanger")
CROSS_FLOW = "crossflow approximate"  # the explicit form in ht
LOOP = {"exchanger_rated_difference": "9 delta_degF", "exchanger_engine_drop": "3 psi", "exchanger_radiator_drop": "4 psi", "exchanger_pressure_max": "150 psi",
        "engine_tank_height": "6 ft", "circulation_pump_pressure": "16 psi", "loop_radiator_height": "180 ft"}
LOOPS = {"jacket": LOOP | {"exchanger_radiator_flow": "230 gpm", "radiator_circuit_tank_volume": "20 gal"},  # the flows of the engine's own pumps
         "low_temperature": LOOP | {"exchanger_radiator_flow": "150 gpm", "radiator_circuit_tank_volume": "1 gal"}}


# ---- the chain ----

def test_limiting_ambient_behind_an_exchanger_against_the_whole_chain():
    """ht's laws of a counter-flow exchanger and of a cross-flow core, solved together by scipy for the temperatures of all four streams."""
    heat, engine, behind, air, plates, core, limit = 655e3, 83.3e3, 70e3, 38.5e3, 130e3, 23.2e3, 371.15
    counter = ht.effectiveness_from_NTU(plates / behind, behind / engine, subtype="counterflow")
    cross = ht.effectiveness_from_NTU(core / air, air / behind, subtype=CROSS_FLOW)

    def left_over(unknown):
        hot, cold, ambient = unknown  # of the radiator's circuit, and outdoors; the engine's coolant leaves it at its limit
        return [counter * behind * (limit - cold) - heat, behind * (hot - cold) - heat, cross * air * (hot - ambient) - heat]
    hot, _, ambient = fsolve(left_over, [360.0, 350.0, 310.0])
    maker = limit - hot  # as the maker of the exchanger states it
    effectiveness = limits.core_effectiveness.run(core / air, air / behind)
    difference = limits.core_temperature_difference.run(heat, effectiveness, behind, air)
    assert limits.limiting_ambient.run(limit, maker, difference, 0.0, 0.0) == approx(ambient, abs=1e-6)
    assert limits.loop_temperature.run(ambient, 0.0, 0.0, difference, maker) == approx(limit, abs=1e-6)


def test_an_exchanger_takes_its_difference_from_every_limit():
    assert x.exchanger_difference.run("remote", "behind_exchanger", 5.0) == 5.0
    assert x.exchanger_difference.run("remote", "direct", 5.0) == x.exchanger_difference.run("mounted", "behind_exchanger", 5.0) == 0
    # hand: limit 98 degC, exchanger 5 K, core 38 K, cores in front 10 K, room 8 K: 37 degC; boiling at 115 degC: 54 degC; out of the core 98 - 5 - 8 = 85 degC
    assert limits.limiting_ambient.run(371.15, 5.0, 38.0, 10.0, 8.0) == approx(310.15)
    assert limits.boiling_ambient.run(388.15, 5.0, 38.0, 10.0, 8.0) == approx(327.15)
    assert limits.loop_approach.run(371.15, 5.0, 640e3, 80e3, 307.15, 8.0, 10.0) == approx(33.0)  # hand: 85 - 52


# ---- flows, columns, pumps ----

def test_which_coolant_goes_through_the_core():
    assert x.radiator_circuit_flow.run("remote", "behind_exchanger", 0.022, 0.018) == 0.018
    assert x.radiator_circuit_flow.run("remote", "direct", 0.022, 0.018) == x.radiator_circuit_flow.run("mounted", "behind_exchanger", 0.022, 0.018) == 0.022


def test_the_column_rests_on_the_exchanger_and_not_on_the_engine():
    density = PropsSI("D", "T", 278.15, "P", 101325, "INCOMP::AEG[0.5]")  # CoolProp: half ethylene glycol, which it takes by volume, at 5 degC
    assert c.loop_static_pressure.run("remote", "behind_exchanger", density, 9.80665, 50.0, 2.0) == approx(density * 9.80665 * 2)  # hand
    # hand: 1076 kg/m3 x 9.807 x 50 m = 527 kPa, the cap's 70 kPa and the pump's 150 kPa
    assert x.exchanger_pressure.run(*PARTED, density, 9.80665, 50.0, 70e3, 150e3) == approx(747e3, rel=5e-3)


def test_pumps():
    assert c.loop_external_drop.run("remote", "behind_exchanger", 60e3, 18e3, 20e3) == 20e3  # the exchanger is all that the engine's pump meets
    assert x.circulation_pump_pressure_needed.run(*PARTED, 60e3, 18e3, 25e3) == 103e3  # hand: 60 + 18 + 25
    assert x.circulation_pump_power.run(*PARTED, 0.020, 150e3, 0.5) == approx(6e3)  # hand: 20 L/s x 150 kPa is 3 kW, at one half
    assert x.radiator_auxiliary_power.run(24e3, 30e3) == 54e3


@pytest.mark.parametrize("where", [("remote", "direct"), ("mounted", "behind_exchanger")])
def test_without_an_exchanger_there_is_nothing_of_its_circuit(where):
    assert x.exchanger_pressure.run(*where, 1070.0, 9.81, 50.0, 70e3, 150e3) == x.circulation_pump_pressure_needed.run(*where, 6e4, 2e4, 2e4) == 0
    assert x.circulation_pump_power.run(*where, 0.020, 150e3, 0.5) == x.radiator_circuit_volume.run(*where, 0.1, 60.0, 0.1) == 0
    assert x.radiator_circuit_tank_needed.run(*where, 0.15, 0.6, 1078.0, 1026.0, 0.03) == 0


def test_volumes_are_parted_too():
    # hand: 420 L stay with the engine; pi/4 0.1023^2 x 60 m = 493.2 L + 110 L behind; together the loop without an exchanger
    assert c.loop_volume.run("remote", "behind_exchanger", 0.42, 0.1023, 60.0, 0.11) == 0.42
    assert x.radiator_circuit_volume.run(*PARTED, 0.1023, 60.0, 0.11) == approx(0.6032, abs=2e-4)
    # hand: 15 % of 600 L are 90 L; where 5 % were enough, growth by 1078/1026 is 30.4 L, and a reserve of 18 L
    assert x.radiator_circuit_tank_needed.run(*PARTED, 0.15, 0.6, 1078.0, 1026.0, 0.03) == approx(0.090)
    assert x.radiator_circuit_tank_needed.run(*PARTED, 0.05, 0.6, 1078.0, 1026.0, 0.03) == approx(48.4e-3, rel=2e-3)


# ---- a book that has one ----

def tower(folder, circuit, **left_out):
    """High Tarn with its radiators 180 ft up, the coolant of the engine in them or behind an exchanger."""
    demo_copy("high-tarn-waterworks", folder / "high-tarn-waterworks")
    path = folder / "high-tarn-waterworks/cooling.yaml"
    text = yaml.load(path.read_text("utf-8"), yaml.BaseLoader) | {"radiator_circuit": circuit}
    for loop in text["coolant_loops"]:
        loop.update(LOOPS[loop["id"]])
        for name in left_out:
            del loop[name]
    path.write_text(yaml.safe_dump(text), "utf-8")
    return basis.load(folder / "high-tarn-waterworks")


@pytest.fixture(scope="module")
def direct(tmp_path_factory):
    return tower(tmp_path_factory.mktemp("direct"), "direct")


@pytest.fixture(scope="module")
def behind(tmp_path_factory):
    return tower(tmp_path_factory.mktemp("behind"), "behind_exchanger")


def test_a_tower_needs_an_exchanger(direct, behind):
    # hand: 180 ft of half glycol are more than five bar, the seal takes 15 psi, the exchanger 150 psi
    assert direct.check("coolant_static").word == "fails" and behind.check("coolant_static").word == behind.check("exchanger_rating").word == "holds"
    # the cap of 15 psi and the pump of 16 psi on top of the column
    assert_allclose(behind["exchanger_pressure"].number, 180 * 0.3048 * 9.80665 * behind["coolant_cold_density"].number + 31 * 6894.757, rtol=1e-6)
    assert {one.word for one in map(direct.check, ("exchanger_rating", "circulation_pump", "radiator_circuit_tank"))} == {"nothing to check"}


def test_what_the_exchanger_costs(direct, behind):
    for name in ("limiting_ambient", "boiling_ambient", "loop_approach"):
        assert_allclose(direct[name].number - behind[name].number, 5.0, rtol=1e-9)  # 9 delta_degF, at the same flow through the core
    assert_allclose(behind["loop_temperature"].number - direct["loop_temperature"].number, 5.0, rtol=1e-9)
    # hand: 380 gpm are 23.97 L/s; at 16 psi, 110.3 kPa, and one half 5.29 kW a set
    assert behind["circulation_pumps_power"].number == approx(behind["installed_sets"].number * 5.29e3, rel=1e-3)
    assert behind["radiator_auxiliary_power"].number == approx(direct["radiator_auxiliary_power"].number + behind["circulation_pumps_power"].number)
    assert direct["radiator_auxiliary_power"].number == direct["radiator_fans_power"].number


def test_each_circuit_needs_its_tank(direct, behind):
    assert behind.check("radiator_circuit_tank").word == "fails"  # of one gallon
    assert_allclose(behind["loop_volume"].number + behind["radiator_circuit_volume"].number, direct["loop_volume"].number)  # no coolant is lost or found


def test_pumps_of_loops_that_nobody_lists_are_not_taken_for_none(tmp_path):
    remote = """radiator_placement: remote
radiator_circuit: behind_exchanger
remote_radiator_airflow: 5 m^3/s
radiator_fan_pressure: 100 Pa
radiator_fan_load: horn"""
    text = re.sub(r"(?m)^coolant_loops:\n(?:  .*\n)+", "", PLANT).replace("radiator_placement: mounted", remote)
    verdict = book_of(tmp_path / "light", text).check("remote_fans_listed")
    assert verdict.word == "undecided" and verdict.missing == ("circulation_pumps_power",)


def test_what_is_not_known_of_an_exchanger_leaves_its_checks_undecided(tmp_path):
    book = tower(tmp_path, "behind_exchanger", exchanger_rated_difference=1, exchanger_pressure_max=1, circulation_pump_pressure=1)
    assert book.check("exchanger_rating").word == book.check("circulation_pump").word == book.check("ambient_loops").word == "undecided"
    assert "exchanger_rated_difference" in book.check("ambient_loops").missing


def test_the_schematic_shows_two_circuits(direct, behind):
    found = {part.id: part.name for part in coolant.function(behind).parts}
    assert found["exchanger-jacket"] == "Heat exchanger" and "tank-behind-jacket" in found
    lines = [(line.starts, line.ends) for line in coolant.function(behind).lines]
    assert (("core-jacket",), ("exchanger-jacket",)) in lines and (("exchanger-jacket",), ("engine-jacket",)) in lines
    assert not [part for part in coolant.function(direct).parts if "exchanger" in part.id or "behind" in part.id]
