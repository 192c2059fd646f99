"""Where a falling function crosses nought, for all elements of an array at once. Knows nothing of Terms."""

from collections.abc import Callable

import numpy as np

PARTS, ROUNDS = 12, 12  # 12⁻¹² is less than a millionth of a millionth


def crossing(surplus: Callable[[np.ndarray], np.ndarray], low, high):
    """The place between `low` and `high` at which `surplus`, which falls, is nought, within a millionth of a millionth of the span; the end where it is above
    or below nought all the way, not a number where it is none. Arrays of one shape; `surplus` takes many such arrays at once, along one more leading axis.
    """
    shares = np.arange(1, PARTS).reshape(-1, *[1] * np.ndim(low)) / PARTS
    for _ in range(ROUNDS):
        part = (high - low) / PARTS
        low = low + part * (surplus(low + (high - low) * shares) > 0).sum(axis=0)  # as many parts as trials that lie below the place
        high = low + part
    found = (low + high) / 2
    return np.where(np.isnan(surplus(found)), np.nan, found)
