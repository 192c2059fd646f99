"""Noise at many receivers: `python tests/bench_noise.py`. The chapter's own steps against NumPy written by hand, same machine, same run.

1,000 receivers, 40 sources, nine bands, one running case, four barriers; the limit is 50 ms. Prints times and ratio; never a test.
"""

import sys
import tempfile
import time
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT)]

import basis
from basis.language.table import lookup
from basis.solving.rerun import rerun

RECEIVERS, SOURCES, LIMIT = 1000, 40, 0.050
PROJECT = """
name: Bench
chapters: [noise]
altitude: 0 m
set_rated_power: 1600 kW
installed_sets: 3
engine_speed: 1500 rpm
alternator_efficiency: 95 %
exhaust_pipe_length: 10 m
heated_room_volume: 3000 m^3
running_cases: [{id: all, sets_out: 0}]
machines: [{id: casing, machine_kind: engine_casing}, {id: exhaust, machine_kind: exhaust_mouth, machine_place: elsewhere, machine_left_out: shell only}]
radiator_fan_noise: no_fan
room_surfaces: [{id: shell, room_surface_area: 1400 m^2, room_surface_transmittance: 1 W/(m^2*K)}]
sound_weathers: [{id: mild, weather_temperature: 10 degC, weather_humidity: 70 %}]
limit_periods: [{id: night, period_running_case: all, period_duration: 9 h, period_limit: 45 dBA}]
"""


def bench_book():
    """A book with as many sources and receivers as the limit is stated for."""
    draw = np.random.default_rng(5)
    sources = "\n".join(f"  - {{id: s{one}, source_kind: surface, source_surface: shell, source_x: {x:.1f} m, source_y: {y:.1f} m, source_height: {h:.1f} m, "
                        f"source_directivity: stack, source_azimuth: 90 deg}}" for one,
                        (x, y, h) in enumerate(draw.uniform([0, 0, 1], [40, 20, 9], (SOURCES, 3))))
    receivers = "\n".join(f"  - {{id: r{one}, receiver_x: {x:.1f} m, receiver_y: {y:.1f} m, receiver_ground: 0.5}}" for one,
                          (x, y) in enumerate(draw.uniform(-300, 300, (RECEIVERS, 2))))
    walls = [(-20, -30, 60, -30), (60, -30, 60, 50), (60, 50, -20, 50), (-20, 50, -20, -30)]
    barriers = "\n".join(f"  - {{id: b{one}, barrier_x1: {a} m, barrier_y1: {b} m, barrier_x2: {c} m, barrier_y2: {d} m, barrier_height: 4 m}}" for one,
                         (a, b, c, d) in enumerate(walls))
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "project.yaml").write_text(f"{PROJECT}sound_sources:\n{sources}\nreceivers:\n{receivers}\nbarriers:\n{barriers}\n", encoding="utf-8")
        return basis.load(folder)


def by_hand(book):
    """The same levels in NumPy, written out."""
    v = {name: value.number for name, value in book.values.items()}
    f, offset, near, decay, peak, far = v["band_frequency"], *(lookup("iso-9613-2-ground", name, v["band_frequency"])
        for name in ("offset", "near", "decay", "peak_height", "far"))
    dx, dy = v["receiver_x"] - v["source_x"][:, None], v["receiver_y"] - v["source_y"][:, None]
    hs, hr = v["source_height"], v["receiver_height"]
    plan = np.hypot(dx, dy)
    distance = np.sqrt(plan ** 2 + (hs[:, None] - hr) ** 2)
    reach, far_reach = (1 - np.exp(-plan / 50))[..., None], (1 - np.exp(-2.8e-6 * plan ** 2))[..., None]
    share = np.maximum(1 - 30 * (hs[:, None] + hr) / plan, 0)[..., None]

    def region(height):
        return near * np.exp(-decay * (height[:, None] - peak) ** 2), far * np.exp(-0.09 * height[:, None] ** 2)
    (sn, sf), (rn, rf) = region(hs), region(hr)
    ground = (v["source_ground"][:, None, None] * (offset + sn[:, None] * reach + sf[:, None] * far_reach)
              + v["receiver_ground"][:, None] * (offset + rn * reach + rf * far_reach) - 3 - 3 * share * (1 - np.where(f > 100, v["middle_ground"], 0)))
    top, left, right = (v[name][..., None] for name in ("screen_top", "screen_left", "screen_right"))
    wave = 340 / f
    screen = np.minimum(-10 * np.log10(np.minimum(1 / np.maximum(3 + 20 * top / wave, 1) + 1 / (3 + 20 * left / wave) + 1 / (3 + 20 * right / wave), 1)), 20)
    direct = v["directivity"]
    loss = 11 + 20 * np.log10(distance)[..., None] + v["air_absorption"] * distance[..., None] + np.where(screen <= 0, ground, np.maximum(ground, screen))
    path = 10 ** ((v["source_solid_angle"][:, None, None] + direct - loss) / 10) * 10 ** (v["a_weighting"] / 10)
    return 10 * np.log10(np.einsum("csb,srb->cr", v["source_power_ratio"], path))


def best(function, repeats: int = 9) -> float:
    found = []
    for _ in range(repeats):
        start = time.perf_counter()
        function()
        found.append(time.perf_counter() - start)
    return min(found)


def bench_noise() -> tuple[float, float, float]:
    """Seconds of the chapter's steps, of NumPy by hand, and the largest difference of levels in decibels."""
    book = bench_book()
    receivers = {name: book[name].number for name in ("receiver_x", "receiver_y", "receiver_height", "receiver_ground")}
    ours = rerun(book, receivers, ("receiver_level",))["receiver_level"]
    apart = float(np.max(np.abs(ours - by_hand(book))))
    return best(lambda: rerun(book, receivers, ("receiver_level",))), best(lambda: by_hand(book)), apart


if __name__ == "__main__":
    ours, hand, apart = bench_noise()
    print(f"{RECEIVERS} receivers x {SOURCES} sources x 9 bands: {ours * 1e3:.1f} ms by the chapter's steps, "
          f"barriers and directivity included; limit {LIMIT * 1e3:.0f} ms")
    print(f"NumPy by hand, barriers and directivity taken from the book: {hand * 1e3:.1f} ms; ratio {ours / hand:.2f}; largest difference {apart:.2e} dB")
    sys.exit(ours > LIMIT)
