"""The fuel curve between its points against numpy and hand calculations."""

import numpy as np
import pytest
from pytest import approx

from basis.physics import fuel_curve

KW, LH = 1e3, 1e-3 / 3600.0
LOADS = np.array([500, 1000, 1500, 2000]) * KW
RATES = np.array([142, 262, 378, 506]) * LH


def rate(load, points=LOADS, rates=RATES, adjustment=1.0):
    (found,), residual, _ = fuel_curve.site_rates(load, points, rates, adjustment)
    assert np.isnan(found) or residual < 1e-15
    return found


@pytest.mark.parametrize("kilowatts, litres", [(500, 142), (1000, 262), (1200, 308.4), (1700, 429.2), (2000, 506)])
def test_curve_between_its_points(kilowatts, litres):
    # hand: 262 + 0.4 x 116 = 308.4; 378 + 0.4 x 128 = 429.2
    assert rate(kilowatts * KW) / LH == approx(litres)
    assert rate(kilowatts * KW) == approx(np.interp(kilowatts * KW, LOADS, RATES))  # numpy


def test_curve_at_its_ends():
    assert np.isnan(rate(2001 * KW))  # no fuel is guessed above the top point
    assert rate(100 * KW) / LH == approx(142)  # held below the lowest point
    with_idle = rate(250 * KW, np.array([0.0, *LOADS]), np.array([22 * LH, *RATES]))
    assert with_idle / LH == approx(82)  # hand: halfway between 22 L/h without load and 142 L/h


def test_curve_in_any_order_and_times_the_adjustment():
    shuffled = [2, 0, 3, 1]
    assert rate(1200 * KW, LOADS[shuffled], RATES[shuffled]) == rate(1200 * KW)
    assert rate(1200 * KW, adjustment=1.05) / LH == approx(323.82)  # hand: 308.4 x 1.05


def test_a_curve_that_cannot_be_is_refused():
    with pytest.raises(ValueError, match="one load"):
        rate(600 * KW, np.array([500, 500, 1000]) * KW, RATES[:3])
    with pytest.raises(ValueError, match="falls"):
        rate(600 * KW, LOADS, RATES[::-1])
    with pytest.raises(ValueError, match="falls"):  # in one stretch only
        rate(600 * KW, LOADS, RATES[[0, 2, 1, 3]])


def test_what_is_left_over_is_that_of_the_worst_point():
    with pytest.MonkeyPatch.context() as patch:  # a curve that misses two of its points, by one litre an hour and by two
        patch.setattr(fuel_curve, "on_curve", lambda load, points, rates: rates + np.array([0, 0, 2, 1]) * LH)
        assert fuel_curve.site_rates(LOADS, LOADS, RATES, 1.0)[1] == approx(2 * LH)


def test_volume_not_specific_consumption_is_interpolated():
    # hand: at 750 kW the line of volume gives 202 L/h, 0.2693 L/kWh; a line between 0.284 and 0.262 L/kWh would give 0.273, 1.4 % more
    assert rate(750 * KW) / LH / 750 == approx(0.26933, abs=1e-5)
    assert (142 / 500 + 262 / 1000) / 2 == approx(0.273) and 0.273 / (rate(750 * KW) / LH / 750) == approx(1.014, abs=5e-4)
