"""Pressure under a rigid rectangular footing whose load stands off the middle both ways, on ground that takes no tension.

Everything is counted in sides of the footing and in mean pressure, so that one square stands for any rectangle. Leaves out settlement and the
stiffness of the soil.
"""

from __future__ import annotations

import numpy as np

SQUARE = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])
NEAREST_EDGE = 1 / 300  # of a side: a load nearer to the edge is taken to stand there, on a strip of a hundredth of the side, beyond what any soil bears
ROUNDS = 60  # a load at the very corner needs 21
TOLERANCE = 1e-10  # of load and moments; well below what is shown


def corner_pressure(eccentricity) -> tuple[float, float]:
    """Pressure at the worst corner over mean pressure, and the residual of load and moments. `eccentricity` over side, both ways.

    The plane q_0 + q_x·x + q_y·y, cut off at nought, has to carry load and moments. The part that bore in one round carries all in the next, until it is
    the same: those are Newton's steps.
    """
    load = np.array([1.0, *np.minimum(np.abs(np.asarray(eccentricity, dtype=float)), 0.5 - NEAREST_EDGE)])
    if np.isnan(load).any():  # the weight of the set or its centre of gravity is not known
        return np.nan, 0.0
    plane = load * (1.0, 12.0, 12.0)  # that of the footing which bears all over
    for _ in range(ROUNDS):
        moments = _moments(_pressed(plane))
        gap = float(np.max(np.abs(moments @ plane - load)))
        if gap < TOLERANCE:
            break
        plane = np.linalg.solve(moments, load)
    return float(plane @ (1.0, 0.5, 0.5)), gap


def _pressed(plane) -> np.ndarray:
    """Corners of the part of the square on which the plane presses."""
    heights = plane[0] + SQUARE @ plane[1:]
    corners = []
    for here, there, height, other in zip(SQUARE, np.roll(SQUARE, -1, axis=0), heights, np.roll(heights, -1)):
        if height >= 0:
            corners.append(here)
        if height * other < 0:
            corners.append(here + (there - here) * height / (height - other))
    return np.array(corners)


def _moments(corners) -> np.ndarray:
    """Integrals of 1, x, y times 1, x, y over a convex polygon, by triangles and the middles of their sides: exact for squares of coordinates."""
    found = np.zeros((3, 3))
    for second, third in zip(corners[1:-1], corners[2:]):
        triangle = np.array([corners[0], second, third])
        area = abs(np.linalg.det(triangle[1:] - triangle[0])) / 2
        middles = np.column_stack([np.ones(3), (np.sum(triangle, axis=0) - triangle) / 2])
        found += area / 3 * middles.T @ middles
    return found
