"""Fuel of one set at any load, along straight lines between stated points, for procedures of several chapters.

Volume over load is nearly a straight line. Below the lowest point its rate is held, which is the safe side; above the top one there is none.
"""

import numpy as np

END_TOLERANCE = 1e-9  # a load that rounding puts above the top point of the curve stands on it
LEFT_OVER = "largest distance of the curve from its own points, m³/s"


def on_curve(load, points, rates):
    """Rate at `load` along straight lines between points. Not a number where a point is not known whole.

    Raises ValueError for two points at one load, or rates that fall while the load rises.
    """
    if np.isnan(points).any() or np.isnan(rates).any():  # a point of which load or rate is not given: no line can be drawn
        return np.full(np.shape(load), np.nan)
    order = np.argsort(points)
    points, rates = np.asarray(points)[order], np.asarray(rates)[order]
    if np.any(np.diff(points) == 0):
        raise ValueError("two points of the fuel curve stand at one load")
    if np.any(np.diff(rates) < 0):
        raise ValueError("the fuel curve falls while the load rises")
    return np.where(load <= points[-1] * (1 + END_TOLERANCE), np.interp(load, points, rates), np.nan)


def site_rates(load, points, rates, adjustment):
    """What a procedure returns: rates at the site, the curve's own gap at its points, and what that is."""
    gap = float(np.nanmax(np.abs(on_curve(points, points, rates) - rates), initial=0.0))
    return (adjustment * on_curve(load, points, rates)[()],), gap, LEFT_OVER
