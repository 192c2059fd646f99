"""Numbers that are none: one that does not exist, and one that waits for what is not given. To every calculation both are no number; the second carries a
mark in its bits, which is put there when all is computed, and which only this module reads.
"""
from __future__ import annotations

import struct

import numpy as np

MARK = 0x7FF8_0000_0000_0001  # of IEC 60559, a quiet NaN with one bit of its payload set
WAITING = struct.unpack("<d", struct.pack("<Q", MARK))[0]


def waits(numbers) -> np.ndarray:
    """For each of these numbers whether it is none because something is not given."""
    return np.asarray(numbers, dtype=np.float64).view(np.uint64) == MARK


def marked(numbers, waiting) -> np.ndarray:
    """The numbers with the mark on those that wait."""
    return np.where(waiting, WAITING, np.asarray(numbers, dtype=np.float64))
