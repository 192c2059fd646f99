"""Friction factor of flow in a round pipe, for procedures of several chapters.

Colebrook and White in turbulent flow, 64/Re in laminar flow. Between the two nobody knows: the switch is where it is safest
to say so, and chapters warn about that range.
"""

import numpy as np

LAMINAR_REYNOLDS = 2040.0  # above it disturbances no longer die out
FIXED_POINT_STEPS = 40  # each step shrinks the error to about a tenth


def friction_factor(reynolds, relative_roughness):
    """Darcy friction factor and the largest residual of 1/√f = −2 lg(ε/(3.7 d) + 2.51/(Re √f)). Zero where nothing flows."""
    reynolds, rough = np.broadcast_arrays(np.asarray(reynolds, dtype=float), np.asarray(relative_roughness, dtype=float))
    turbulent = np.where(reynolds >= LAMINAR_REYNOLDS, reynolds, np.nan)
    root = np.full(reynolds.shape, 7.0)  # 1/√f of a usual pipe
    for _ in range(FIXED_POINT_STEPS):
        root = _colebrook(root, turbulent, rough)
    off = np.nan_to_num(root - _colebrook(root, turbulent, rough))
    laminar = 64.0 / np.where(reynolds <= 0, np.inf, reynolds)
    return np.where(reynolds >= LAMINAR_REYNOLDS, root ** -2.0, laminar), float(np.max(np.abs(off), initial=0.0))


def _colebrook(root, reynolds, rough):
    return -2.0 * np.log10(rough / 3.7 + 2.51 * root / reynolds)
