"""Noise to neighbours, fourth part: the way outdoors by the general method of ISO 9613-2:1996, downwind, in octave bands.

Distance, air, ground and one governing barrier over its top and round its ends. Left out: slopes, trees, reflections from other
buildings, more than one barrier in a path. The band of 31.5 Hz is outside the standard.
"""

import numpy as np

from basis.language.formula import SOME, check, formula, procedure
from basis.language.maths import Hz, K, count_over, exp, kPa, log10, lookup, m, min_over, sqrt, sum_over

NO_SCREEN = -10.0  # metres: no barrier in the way
FAR = 1e6          # metres: no end to go round
EDGE = 1e-6        # a barrier that touches source or receiver is not between them


# ---- distance ----

@formula(source="physics")
def plan_distance(source_x, receiver_x, source_y, receiver_y):
    """Distance on the ground."""
    return sqrt((source_x - receiver_x) ** 2 + (source_y - receiver_y) ** 2)


@formula(source="physics")
def path_distance(plan_distance, source_height, receiver_height):
    """Straight distance, never counted shorter than a decimetre."""
    return max(sqrt(plan_distance ** 2 + (source_height - receiver_height) ** 2), 0.1 * m)


@formula(source="definition")
def distance_ratio(path_distance, source_dimension):
    """Distance over the largest dimension of what radiates: near a large louvre the level does not fall as from a point."""
    return path_distance / source_dimension


# ---- air ----

@formula(source="iso-9613-1", valid={"weather_humidity": (0.1, 1), "air_pressure": (50e3, 200e3)})
def weather_vapour(weather_humidity, weather_temperature, air_pressure):
    """Molar share of water vapour in per cent, from relative humidity, temperature and the pressure of the altitude."""
    return 100 * weather_humidity * 10 ** (-6.8346 * (273.16 * K / weather_temperature) ** 1.261 + 4.6151) / (air_pressure / (101.325 * kPa))


@formula(source="iso-9613-1")
def oxygen_frequency(air_pressure, weather_vapour):
    """Relaxation frequency of oxygen."""
    return Hz * air_pressure / (101.325 * kPa) * (24 + 40400 * weather_vapour * (0.02 + weather_vapour) / (0.391 + weather_vapour))


@formula(source="iso-9613-1")
def nitrogen_frequency(air_pressure, weather_temperature, weather_vapour):
    """Relaxation frequency of nitrogen."""
    return Hz * air_pressure / (101.325 * kPa) * (weather_temperature / (293.15 * K)) ** -0.5 * (
        9 + 280 * weather_vapour * exp(-4.170 * ((weather_temperature / (293.15 * K)) ** (-0.3333333333) - 1)))


@formula(source="iso-9613-1", valid={"weather_temperature": (253.15, 323.15)})
def weather_absorption(band_midband, air_pressure, weather_temperature, oxygen_frequency, nitrogen_frequency):
    """Pure-tone absorption at the exact midband. Air of 10 °C and 70 % at sea level takes 3.66 dB/km at 1 kHz and 117 dB/km at 8 kHz."""
    return 8.686 / m * (band_midband / Hz) ** 2 * (
        1.84e-11 * (101.325 * kPa / air_pressure) * (weather_temperature / (293.15 * K)) ** 0.5
        + (weather_temperature / (293.15 * K)) ** -2.5 * (
            0.01275 * exp(-2239.1 * K / weather_temperature) / (oxygen_frequency / Hz + (band_midband / Hz) ** 2 / (oxygen_frequency / Hz))
            + 0.1068 * exp(-3352 * K / weather_temperature) / (nitrogen_frequency / Hz + (band_midband / Hz) ** 2 / (nitrogen_frequency / Hz))))


@formula(source="iso-9613-2")
def air_absorption(weather_absorption):
    """Least absorption of all weathers that are likely while the plant runs: the limit must hold in each of them, not in the mean of the year."""
    return min_over("sound_weather", weather_absorption)


# ---- ground ----

@formula(source="iso-9613-2")
def ground_reach(plan_distance):
    """Factor of the distance in the ground near source and receiver."""
    return 1 - exp(-plan_distance / (50 * m))


@formula(source="iso-9613-2")
def ground_far_reach(plan_distance):
    """Factor of the distance in the far part, at 125 Hz only."""
    return 1 - exp(-2.8e-6 * (plan_distance / m) ** 2)


@formula(source="iso-9613-2")
def source_ground_near(source_height, band_frequency):
    """Near part at the source by its height: strongest where path and ground cancel."""
    return lookup("iso-9613-2-ground", "near", band_frequency) * exp(
        -lookup("iso-9613-2-ground", "decay", band_frequency) * (source_height - lookup("iso-9613-2-ground", "peak_height", band_frequency)) ** 2)


@formula(source="iso-9613-2")
def receiver_ground_near(receiver_height, band_frequency):
    """Near part at the receiver by its height."""
    return lookup("iso-9613-2-ground", "near", band_frequency) * exp(
        -lookup("iso-9613-2-ground", "decay", band_frequency) * (receiver_height - lookup("iso-9613-2-ground", "peak_height", band_frequency)) ** 2)


@formula(source="iso-9613-2")
def source_ground_far(source_height, band_frequency):
    """Far part at the source by its height."""
    return lookup("iso-9613-2-ground", "far", band_frequency) * exp(-0.09 * (source_height / m) ** 2)


@formula(source="iso-9613-2")
def receiver_ground_far(receiver_height, band_frequency):
    """Far part at the receiver by its height."""
    return lookup("iso-9613-2-ground", "far", band_frequency) * exp(-0.09 * (receiver_height / m) ** 2)


@formula(source="iso-9613-2")
def middle_share(plan_distance, source_height, receiver_height):
    """Weight of the ground between: nothing where the regions of source and receiver, thirty heights long each, meet."""
    return max(1 - 30 * (source_height + receiver_height) / max(plan_distance, 0.1 * m), 0)


@formula(source="iso-9613-2")
def ground_attenuation(source_ground, source_ground_near, source_ground_far, receiver_ground, receiver_ground_near, receiver_ground_far,
                       ground_reach, ground_far_reach, middle_share, middle_ground, band_frequency):
    """Ground at the source, at the receiver and between. Hard ground gives three decibels and more back; porous ground takes the middle bands.

    Over 150 m, from a source 3 m over hard ground to a receiver 1.5 m over porous ground, it is −3.3 dB at 63 Hz and 5.0 dB at 250 Hz.
    """
    return ((source_ground + receiver_ground) * lookup("iso-9613-2-ground", "offset", band_frequency)
            + (source_ground * source_ground_near + receiver_ground * receiver_ground_near) * ground_reach
            + (source_ground * source_ground_far + receiver_ground * receiver_ground_far) * ground_far_reach
            - 3 * (1 + middle_share * (1 - (middle_ground if band_frequency > 100 * Hz else 0))))


# ---- barriers ----

@procedure(source="iso-9613-2-barrier", yields=("screen_top", "screen_left", "screen_right", "screen_thickness", "barrier_paths"),
           equation="z = √((d_ss + d_sr + e)² + a²) − d, over the top times exp(−√(d_ss·d_sr·d/2z)/2000); the barrier whose least detour is longest governs")
def screen_top(source_x, source_y, source_height, receiver_x, receiver_y, receiver_height, barrier_x1, barrier_y1, barrier_x2, barrier_y2,
               barrier_height, barrier_thickness):
    """Detours that sound makes round the governing barrier of each path: over its top and round both ends.

    A barrier counts where the straight line between source and receiver crosses it in plan. It shields least by its shortest
    way round, and of several barriers in a path the one that shields most is taken alone, which is the safe side.
    """
    source, receiver = _points(source_x, source_y, source_height), _points(receiver_x, receiver_y, receiver_height)
    first, second = np.column_stack([barrier_x1, barrier_y1]), np.column_stack([barrier_x2, barrier_y2])
    way, edge = receiver[None, :, :2] - source[:, None, :2], second - first
    along, beside = _crossing(source, way, first, edge)
    rows = np.nonzero((along > EDGE) & (along < 1 - EDGE) & (beside >= 0) & (beside <= 1))
    pairs = (len(source), len(receiver))
    paths = np.bincount(rows[2], minlength=len(edge)).astype(float)
    top, left, right, thick = np.full(pairs, NO_SCREEN), np.full(pairs, FAR), np.full(pairs, FAR), np.zeros(pairs)
    if not rows[0].size:
        return (top, left, right, thick, paths), 0.0, "largest gap at a crossing, m"
    starts, ends, at = source[rows[0]], receiver[rows[1]], along[rows]
    over, between = _over_top(starts, ends, edge[rows[2]], at, barrier_height[rows[2]], barrier_thickness[rows[2]])
    round_first, round_second = _round_end(starts, ends, first[rows[2]]), _round_end(starts, ends, second[rows[2]])
    order = np.argsort(np.minimum(np.minimum(over, round_first), round_second), kind="stable")  # the last written governs
    places = (rows[0][order], rows[1][order])
    for kept, found in ((top, over), (left, round_first), (right, round_second), (thick, between)):
        kept[places] = found[order]
    gap = starts[:, :2] + at[:, None] * (ends - starts)[:, :2] - first[rows[2]] - beside[rows][:, None] * edge[rows[2]]
    return (top, left, right, thick, paths), float(np.max(np.abs(gap))), "largest gap at a crossing, m"


def _points(x, y, height):
    return np.column_stack(np.broadcast_arrays(x, y, height))


def _crossing(source, way, first, edge):
    """How far along the way and along the barrier their lines in plan cross; NaN where they are parallel."""
    cross = way[..., None, 0] * edge[:, 1] - way[..., None, 1] * edge[:, 0]
    cross = np.where(np.abs(cross) < 1e-9, np.nan, cross)
    apart = first - source[:, None, None, :2]
    along = (apart[..., 0] * edge[:, 1] - apart[..., 1] * edge[:, 0]) / cross
    return along, (apart[..., 0] * way[..., None, 1] - apart[..., 1] * way[..., None, 0]) / cross


def _over_top(starts, ends, edge, at, height, thickness):
    """Detour over the top with its weather factor, negative where the line of sight clears the top; and the thickness that lies before the receiver."""
    way, length = ends - starts, np.hypot(edge[:, 0], edge[:, 1])
    straight = np.sqrt(np.sum(way ** 2, axis=1))
    across = np.abs(way[:, 0] * edge[:, 1] - way[:, 1] * edge[:, 0]) / length
    beside = np.abs(way[:, 0] * edge[:, 0] + way[:, 1] * edge[:, 1]) / length
    behind = (1 - at) * across
    thickness = np.minimum(thickness, behind)  # whoever stands on a roof has only part of it in the way
    to_source = np.hypot(at * across, height - starts[:, 2])
    to_receiver = np.hypot(behind - thickness, height - ends[:, 2])
    detour = np.sqrt((to_source + to_receiver + thickness) ** 2 + beside ** 2) - straight
    detour = np.where(starts[:, 2] + at * way[:, 2] > height, -detour, detour)
    lifted = np.where(detour > 0, detour, np.inf)  # the weather bends only what goes over
    return detour * np.exp(-np.sqrt(to_source * to_receiver * straight / (2 * lifted)) / 2000), thickness


def _round_end(starts, ends, corner):
    """Detour round an upright edge."""
    plan = np.hypot(*(starts[:, :2] - corner).T) + np.hypot(*(ends[:, :2] - corner).T)
    return np.hypot(plan, ends[:, 2] - starts[:, 2]) - np.sqrt(np.sum((ends - starts) ** 2, axis=1))


@formula(source="iso-9613-2-barrier")
def wavelength(barrier_sound_speed, band_frequency):
    """Wavelength by which a detour is measured."""
    return barrier_sound_speed / band_frequency


@formula(source="iso-9613-2-barrier")
def screening(screen_top, screen_left, screen_right, screen_thickness, wavelength):
    """What is left of the open way is the sum of three ways round, each by its detour over the wavelength; never more than 20 dB, 25 dB with two edges.

    A long wall of 5 m, 10 m from a source of 2 m and 90 m from a receiver of 1.5 m, takes 6.6 dB at 63 Hz and 17.3 dB at 2 kHz.
    """
    return min(-10 * log10(min(
        1 / max(3 + 20 * screen_top / wavelength * (screen_thickness ** 2 + 25 * wavelength ** 2) / (screen_thickness ** 2 / 3 + 25 * wavelength ** 2), 1)
        + 1 / (3 + 20 * screen_left / wavelength) + 1 / (3 + 20 * screen_right / wavelength), 1)), 20 if screen_thickness < 0.001 * m else 25)


@formula(source="definition")
def sound_paths():
    """Pairs of source and receiver; without any nothing has to be screened. A screen behind every receiver, or beside every path, screens nothing."""
    return count_over("sound_source") * count_over("receiver")


# ---- all of it ----

@formula(source=("iso-9613-2", "iso-9613-2-barrier"))
def path_attenuation(path_distance, air_absorption, ground_attenuation, screening, barrier_ground_rule):
    """Divergence over the full sphere, air, and ground or barrier. Behind a barrier the ground no longer counts, unless it takes more than the barrier."""
    return 11 + 20 * log10(path_distance / m) + air_absorption * path_distance + (
        ground_attenuation if screening <= 0 else
        max(ground_attenuation, screening + (0 if barrier_ground_rule == "replaced" else min(ground_attenuation, 0))))


@formula(source="definition")
def path_ratio(source_solid_angle, directivity, path_attenuation):
    """The same with direction, as a ratio of energies."""
    return 10 ** ((source_solid_angle + directivity - path_attenuation) / 10)


@procedure(source="physics", yields=("receiver_outdoors",),
           equation="o_r = 1 where a line from the receiver to the east crosses walls of buildings an even number of times")
def receiver_outdoors(receiver_x, receiver_y, barrier_role, barrier_x1, barrier_y1, barrier_x2, barrier_y2):
    """Whether each receiver stands outside the outlines of the buildings. The walls of a building are to be listed all round."""
    wall = np.asarray(barrier_role) == "building"
    x1, y1, x2, y2 = (np.asarray(one)[..., wall] for one in (barrier_x1, barrier_y1, barrier_x2, barrier_y2))
    east, north = np.asarray(receiver_x)[:, None], np.asarray(receiver_y)[:, None]
    spans = (y1 > north) != (y2 > north)
    rise, reach = (north - y1) * (x2 - x1), (east - x1) * (y2 - y1)
    to_east = np.where(y2 > y1, rise > reach, rise < reach)  # the wall crosses the line on that side of the receiver
    crossed = np.sum(spans & to_east, axis=1)
    loose = len(_corners(x1, y1) ^ _corners(x2, y2))
    return (np.where(crossed % 2, 0.0, 1.0),), float(loose), "corners of outlines that do not close"


@formula(source="definition")
def building_walls(barrier_role):
    """Walls of buildings; where none is listed there is no outline to stand outside of. Example: barrier_role=[screen, building] give 1 (hand count)."""
    return sum_over("barrier", 1 if barrier_role == "building" else 0)


def _corners(x, y):
    return set(zip(np.round(x, 3), np.round(y, 3)))  # to the millimetre


far_check = check("source_is_far", "distance_ratio", limit="distance_ratio_min", safe="above", source="far-from-source",
                  title="Sources are far enough to be points", exact=True)
outdoors_check = check("receiver_is_outdoors", "receiver_outdoors", limit="receiver_outdoors_min", safe="above", source="definition",
                       title="Receivers stand outside the buildings", exact=True, applies={"building_walls": SOME},
                       fault="a place outside the outlines of all buildings")
use_check = check("barrier_is_between", "barrier_paths", limit="barrier_paths_min", safe="above", source="definition",
                  title="Screens stand between a source and a receiver", exact=True, applies={"barrier_role": ("screen",), "sound_paths": SOME},
                  fault="ends of the screen that cross a line from a source to a receiver")
mass_check = check("barrier_is_heavy", "barrier_mass", limit="barrier_mass_min", safe="above",
                   source=("iso-9613-2-barrier-mass", "tm-5-805-4-barrier"), title="Mass of screens", exact=True, applies={"barrier_role": ("screen",)})
