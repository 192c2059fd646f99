"""The heating year of four ways against the same year hour by hour in plain Python."""

from __future__ import annotations

import math

import numpy as np

from basis.benchmark.measure import best, row
from basis.chapters.warmth.year import Ways, solve_year

HOUR = 3600.0
# conductance W/K, set point K, block to room W/K, block to outdoors W/K, held at K, least and greatest power W
CASES = [(900.0, 0.0, 90.0, 0.0, 318.15, 0.0, 15e3), (900.0, 289.15, 90.0, 30.0, 318.15, 0.0, 15e3), (500.0, 283.15, 120.0, 10.0, 313.15, 0.0, 15e3),
         (1500.0, 0.0, 60.0, 40.0, 315.15, 0.0, 15e3)]


def plain_loop(outdoor, capacity, sets, other, cases):
    """The same year hour by hour in plain Python, two years long so that the second closes on itself. Rows: block and room heat of the second, J."""
    found = []
    for conductance, set_point, to_room, to_outdoors, hold, low, high in cases:
        pull = conductance + sets * to_room
        rate = pull * HOUR / capacity
        decay, room, block, heat = math.exp(-rate), 290.0, 0.0, 0.0
        for year in range(2):
            for air in outdoor:
                rest = (conductance * air + sets * to_room * hold + other) / pull
                end = rest + (room - rest) * decay
                if end < set_point:
                    free = math.log((room - rest) / (set_point - rest)) / rate if room > set_point else 0.0
                    mean = rest * free + (room - set_point) / rate + set_point * (1 - free)
                    heater, end = pull * (set_point - rest) * (1 - free), set_point
                else:
                    mean, heater = rest + (room - end) / rate, 0.0
                if year:
                    block += sets * min(max(to_room * (hold - mean) + to_outdoors * (hold - air), low), high) * HOUR
                    heat += heater * HOUR
                room = end
        found.append((block, heat))
    return np.array(found)


def arrays_of(cases, capacity, sets, other):
    columns = [np.array(column)[:, None] for column in zip(*cases)]
    conductance, set_point, to_room, to_outdoors, hold, low, high = columns
    return Ways(conductance, set_point, to_room, to_outdoors, hold, 6.0 * np.ones_like(hold), high - low, low, 4e5 * np.ones_like(hold), sets, capacity,
                other, HOUR)


def bench_year() -> None:
    """Four ways of heating through the hours of a year with a daily and a yearly swing."""
    hours = np.arange(8760)
    outdoor = 283.15 - 9 * np.cos(2 * np.pi * hours / 8760) - 4 * np.cos(2 * np.pi * hours / 24)
    ways = arrays_of(CASES, 150e6, 3.0, 2e3)
    quick = best(lambda: solve_year(outdoor, ways))
    slow = best(lambda: plain_loop(outdoor.tolist(), 150e6, 3.0, 2e3, CASES), repeats=3)
    row("heating year, 8,760 steps, four ways", f"{quick * 1e3:.1f} ms; {slow / quick:.0f} times faster", f"plain Python loop ({slow * 1e3:.0f} ms)")
