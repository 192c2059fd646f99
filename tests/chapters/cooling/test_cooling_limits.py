"""Radiator cores and limiting ambients, against ht, scipy and hand calculations."""

import ht
import numpy as np
import pytest
from pytest import approx
from scipy.optimize import brentq

from basis.chapters.cooling import limits as c
from basis.language.compiled import Step, chain
from basis.language.terms import terms
from basis.physics import crossing

CROSS_FLOW = "crossflow approximate"  # the explicit form in ht; "crossflow" there is the exact integral


# ---- the exchanger law ----

@pytest.mark.parametrize("units, ratio, printed, tolerance", ((1.2, 0.5, 0.598, 0.005), (2.0, 0.8, 0.663, 0.01)))
def test_effectiveness_in_cross_flow(units, ratio, printed, tolerance):
    found = c.core_effectiveness.run(units, ratio)
    assert found == approx(printed, rel=tolerance)  # ht, effectiveness_from_NTU
    assert found == approx(ht.effectiveness_from_NTU(units, ratio, subtype=CROSS_FLOW), rel=1e-9)
    assert found == approx(ht.effectiveness_from_NTU(units, ratio, subtype="crossflow"), abs=0.006)
    assert c.core_effectiveness.run(units + 0.1, ratio) > found > c.core_effectiveness.run(units, ratio + 0.1)


@pytest.mark.parametrize("units, ratio", ((0.34, 0.67), (0.62, 0.50), (1.25, 0.69), (3.0, 0.9)))
def test_size_of_a_core_from_its_rating(units, ratio):
    # ht gives the effectiveness of a core of this size; the procedure must find the size again
    duty, smaller = 400e3, 40e3
    difference = duty / (smaller * ht.effectiveness_from_NTU(units, ratio, subtype=CROSS_FLOW))
    rated = [np.array([one]) for one in (duty, difference, smaller / ratio, smaller)]
    (found,), residual, _ = c.core_rated_transfer_units.run(*rated)
    assert found[0] == approx(units, rel=1e-9) and residual < 1e-12
    (swapped,), _, _ = c.core_rated_transfer_units.run(rated[0], rated[1], rated[3], rated[2])  # coolant the smaller
    assert swapped[0] == approx(units, rel=1e-9)


def test_rating_that_cannot_be_is_refused():
    with pytest.raises(ValueError, match="more than the air or the coolant can carry"):
        c.core_rated_transfer_units.run(np.array([500e3]), np.array([10.0]), np.array([80e3]), np.array([40e3]))  # 10 K x 40 kW/K are 400 kW at most


    with pytest.raises(ValueError, match="more than"):  # one core of two
        c.core_rated_transfer_units.run(np.array([300e3, 500e3]), np.array([10.0, 10.0]), np.array([80e3, 80e3]), np.array([40e3, 40e3]))


def test_largest_core():
    # ht: what a core of 30 units and a hair more would do is asked of no core that fits on a set
    for units, fits in ((29.9, True), (30.1, False)):
        duty = np.array([40e3 * 10.0 * ht.effectiveness_from_NTU(units, 0.5, subtype=CROSS_FLOW)])
        rated = duty, np.array([10.0]), np.array([80e3]), np.array([40e3])
        if fits:
            assert c.core_rated_transfer_units.run(*rated)[0][0] == approx(units, rel=1e-6)
        else:
            with pytest.raises(ValueError, match="more than"):
                c.core_rated_transfer_units.run(*rated)


def test_what_is_left_over_of_the_size_of_a_core():
    # hand: one cut of 30 units in twelve leaves 1.25 of them, with flows as 1 to 2 an effectiveness of 1 - exp[1.0503/0.5 (exp(-0.5 x 1.1901) - 1)] = 0.6102,
    # where the rating asks for a half
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(crossing, "ROUNDS", 1)
        residual = c.core_rated_transfer_units.run(np.array([200e3]), np.array([10.0]), np.array([80e3]), np.array([40e3]))[1]
        assert residual == approx(0.1102, abs=5e-4)


def test_core_without_rating_stays_blank():
    (found,), residual, _ = c.core_rated_transfer_units.run(np.array([500e3, 400e3]), np.array([np.nan, 20.0]), np.array([80e3, 60e3]), np.array([40e3, 40e3]))
    assert np.isnan(found[0]) and found[1] > 0 and residual < 1e-12


# ---- air and coolant through the cores ----

def test_air_through_the_radiator():
    assert c.radiator_rated_airflow.run("mounted", 34.0, 42.0) == 34.0 and c.radiator_rated_airflow.run("remote", 34.0, 42.0) == 42.0
    assert c.radiator_mass_flow.run("mounted", 38.0, 42.0, 1.1) == 38.0
    assert c.radiator_mass_flow.run("remote", 38.0, 42.0, 1.1) == approx(46.2)  # hand: 42 x 1.1
    assert c.radiator_air_on_rise.run(314.85, 307.15) == approx(7.7)
    # hand: 34 m3/s x 1.2 kg/m3 x 1017.6 J/(kg K) = 41.5 kW/K; half of the face 20.8
    assert c.core_rated_air_capacity.run(34.0, 1.0, 1.2, 1017.6) == approx(41.52e3, rel=1e-3)
    assert c.core_rated_air_capacity.run(34.0, 0.5, 1.2, 1017.6) == approx(20.76e3, rel=1e-3)
    assert c.core_air_capacity.run(38.0, 0.5, 1017.6) == approx(19.33e3, rel=1e-3)  # hand: 38 x 0.5 x 1017.6
    assert c.core_coolant_capacity.run(1035.0, 3530.0, 0.022) == approx(80.4e3, rel=1e-3)  # hand: 1035 x 3530 x 0.022
    assert c.core_rated_heat.run(655e3) == 655e3


def test_conductance_at_the_site():
    # hand: 0.624 x 41.5 kW/K = 25.9 kW/K; air (38.5/41.5)^0.6 = 0.9560, dirt 0.95, glycol from 0.4 to 0.5 at 0.15 0.985: 23.17 kW/K
    found = c.core_conductance.run(0.624, 83.3e3, 41.5e3, 38.5e3, 0.6, 0.05, 0.15, 0.5, 0.4)
    assert found == approx(23.17e3, rel=2e-3)
    assert c.core_conductance.run(0.624, 83.3e3, 41.5e3, 41.5e3, 0.6, 0.0, 0.15, 0.4, 0.4) == approx(0.624 * 41.5e3)  # as rated, as rated
    assert c.core_conductance.run(0.624, 30.0e3, 41.5e3, 41.5e3, 0.6, 0.0, 0.15, 0.4, 0.4) == approx(0.624 * 30.0e3)  # the smaller flow
    assert c.core_capacity_ratio.run(83.3e3, 38.5e3) == c.core_capacity_ratio.run(38.5e3, 83.3e3) == approx(0.4622, abs=1e-4)  # hand: 38.5/83.3
    assert c.core_transfer_units.run(23.17e3, 83.3e3, 38.5e3) == approx(0.6018, abs=1e-3)  # hand: 23.17/38.5
    # hand: 655/(0.406 x 38.5) = 41.9 K; 655/(0.406 x 30) = 53.8 K with coolant the smaller
    assert c.core_temperature_difference.run(655e3, 0.406, 83.3e3, 38.5e3) == approx(41.9, abs=0.05)
    assert c.core_temperature_difference.run(655e3, 0.406, 30.0e3, 38.5e3) == approx(53.8, abs=0.05)


def test_cores_in_front_warm_the_air():
    # hand: 395 kW of the core in front into 38 kg/s at 1017.6 J/(kg K) are 10.2 K, into 19 kg/s 20.4 K; the core in front itself meets fresh air
    inputs = {"core_position": np.array(["behind", "first"], dtype=object), "loop_heat": np.array([655e3, 395e3]),
              "radiator_mass_flow": np.array([38.0, 19.0]), "air_heat_capacity": 1017.6}
    step = Step(("loop_air_preheat",), c.loop_air_preheat.expression)
    (found,) = chain((step,), tuple(inputs), terms())(*inputs.values())  # as the book runs it, over running cases and loops
    assert found == approx(np.array([[10.215, 0.0], [20.43, 0.0]]), rel=1e-3)
    assert c.loop_air_preheat.run("first", np.array([655e3, 395e3]), 38.0, 1017.6) == 0
    # hand: two cores side by side in front, 395 + 105 kW into 38 kg/s, 12.93 K
    inputs |= {"core_position": np.array(["behind", "first", "first"], dtype=object), "loop_heat": np.array([655e3, 395e3, 105e3])}
    (found,) = chain((step,), tuple(inputs), terms())(*inputs.values())
    assert found[0] == approx(np.array([12.93, 0.0, 0.0]), rel=1e-3)


# ---- limiting ambients ----

def core(ambient, heat=655e3, air=38.5e3, coolant=83.3e3, conductance=23.2e3, rises=18.0):
    """Coolant into a core at an outdoor temperature, by ht's exchanger law: an outside judge."""
    effectiveness = ht.effectiveness_from_NTU(conductance / min(air, coolant), min(air, coolant) / max(air, coolant), subtype=CROSS_FLOW)
    return ambient + rises + heat / (effectiveness * min(air, coolant))


def test_limiting_ambient_against_a_search():
    # scipy looks for the outdoor temperature at which ht's coolant reaches 98 degC
    searched = brentq(lambda ambient: core(ambient) - 371.15, 200, 400)
    effectiveness = c.core_effectiveness.run(23.2e3 / 38.5e3, 38.5 / 83.3)
    difference = c.core_temperature_difference.run(655e3, effectiveness, 83.3e3, 38.5e3)
    assert c.limiting_ambient.run(371.15, 0.0, difference, 10.0, 8.0) == approx(searched, abs=1e-6)
    assert c.boiling_ambient.run(371.15 + 17.0, 0.0, difference, 10.0, 8.0) == approx(searched + 17.0, abs=1e-6)
    assert c.loop_temperature.run(searched, 8.0, 10.0, difference, 0.0) == approx(371.15)  # at that ambient the coolant is at its limit


def test_limiting_ambient_by_hand():
    # hand: limit 98 degC, core 38 K, cores in front 10 K, room 8 K: 42 degC; boiling at 115 degC: 59 degC
    assert c.limiting_ambient.run(371.15, 0.0, 38.0, 10.0, 8.0) == approx(315.15)
    assert c.boiling_ambient.run(388.15, 0.0, 38.0, 10.0, 8.0) == approx(332.15)
    assert c.loop_temperature.run(307.15, 8.0, 10.0, 38.0, 0.0) == approx(363.15)  # hand: 34 + 56 = 90 degC
    assert c.loop_approach.run(371.15, 0.0, 640e3, 80e3, 307.15, 8.0, 10.0) == approx(38.0)  # hand: 98 less 640/80 is 90; 90 - 52


def test_first_of_loops_and_cases():
    by_case_and_loop = np.array([[311.0, 314.0], [312.0, 313.0]])
    assert c.limiting_ambient_coolant.run(by_case_and_loop) == 311.0  # least of all four
    assert c.limiting_ambient_boiling.run(by_case_and_loop + 18.0) == 329.0


def test_room_and_rating():
    # hand: design 34 degC, room 41.7 and 40.0 degC, allowed 45: 37.3 degC; rating for 42: 34.3 degC
    rooms = np.array([314.85, 313.15])
    assert c.limiting_ambient_room.run(307.15, 318.15, rooms) == approx(310.45)
    assert c.limiting_ambient_derating.run(307.15, 315.15, rooms) == approx(307.45)


def test_list_of_limits():
    (listed,), residual, _ = c.ambient_limit_temperature.run(311.85, 329.15, 310.45, 307.45)
    assert list(listed) == [311.85, 329.15, 310.45, 307.45] and residual == 0
    assert c.limiting_ambient_lowest.run(listed) == 307.45
    assert c.ambient_margin.run(307.45, 307.15) == approx(0.30)
