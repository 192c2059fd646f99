"""Noise to neighbours, last part: levels at receivers, which source governs, limits by period, ratings, and the loss that is still needed.

All sound is that of the plant alone. Left out: other noise at the receiver, sound inside the neighbour's house.
"""

import numpy as np

from basis.language.formula import SOME, check, formula, procedure
from basis.language.maths import Hz, energy_sum_over, h, log10, lookup, max_over, min_over, minute, nothing, pick, sum_over

CURVES = tuple(range(15, 71, 5))
HEARD = 100  # over one picowatt: flow noise of twenty decibels; less is that nobody gave any
NOTHING = 1e-300  # keeps a source that does not sound out of a logarithm of nought


@formula(source=("sound-energy", "iec-61672-1"))
def contribution_ratio(source_power_ratio, path_ratio, a_weighting):
    """What one source sends to one receiver, all bands as the ear weighs them, in energy."""
    return sum_over("band", source_power_ratio * path_ratio * 10 ** (a_weighting / 10))


@formula(source="definition")
def contribution_level(contribution_ratio):
    """The same as level; less than the threshold of hearing is shown as nought."""
    return 10 * log10(max(contribution_ratio, 1))


@procedure(source="sound-energy", yields=("whole_level",), equation="L_A,w = 10 lg Σ p_s over the points of one source")
def whole_level(contribution_ratio, source_whole):
    """Level of a source whose points were split for distance: which source governs is asked of openings and walls, not of points."""
    together = np.einsum("ij,cjr->cir", _alike(source_whole), contribution_ratio)
    return (10 * np.log10(np.maximum(together, 1)),), 0.0, "points counted twice"


def _alike(source_whole):
    """One where two points are of one source."""
    return np.asarray(source_whole)[:, None] == source_whole


@formula(source="sound-energy")
def receiver_level(contribution_ratio):
    """All sources together in energy. Example: contribution_ratio=[[[13183], [7079], [25119]]] give [[46.6 dBA]] (hand calculation)."""
    return 10 * log10(max(sum_over("sound_source", contribution_ratio), 1))


@formula(source="definition")
def contribution_share(contribution_ratio, receiver_level):
    """Which source governs: to quieten any other is money lost."""
    return contribution_ratio / 10 ** (receiver_level / 10)


@formula(source="sound-energy")
def receiver_band_level(source_power_ratio, path_ratio):
    """All sources together, band by band, unweighted."""
    return 10 * log10(max(sum_over("sound_source", source_power_ratio * path_ratio), 0.001))


@formula(source="iec-61672-1")
def receiver_c_level(receiver_band_level, c_weighting):
    """All bands by the C-weighting, which counts low tones nearly whole."""
    return energy_sum_over("band", receiver_band_level + c_weighting)


@formula(source="sound-energy")
def low_band_level(receiver_band_level, band_frequency):
    """Bands of 31.5 and 63 Hz together: what rattles a window and keeps people awake."""
    return 10 * log10(sum_over("band", 10 ** (receiver_band_level / 10) if band_frequency < 100 * Hz else 0))


@formula(source="low-frequency-guide")
def low_frequency_difference(receiver_c_level, receiver_level):
    """C-weighted less A-weighted: large where the bands below 125 Hz carry what is heard."""
    return receiver_c_level - receiver_level


@formula(source="definition")
def highest_level(receiver_level):
    """Highest level of all receivers and running cases."""
    return max_over("running_case", max_over("receiver", receiver_level))


@formula(source="noise-rating")
def nr_rating(receiver_band_level, band_frequency):
    """Highest noise rating curve that a band touches."""
    return max_over("band", (receiver_band_level - lookup("nr-coefficients", "base", band_frequency)) / lookup("nr-coefficients", "slope", band_frequency))


@procedure(source="ansi-s12-2", equation="NC = max over bands of the curve that the level touches, straight lines between curves", yields=("nc_rating",),
           tables={"nc-curves-2019": "band_frequency"})
def nc_rating(receiver_band_level, band_frequency):
    """Tangency rating by curves from NC 15 to NC 70; quieter and louder spectra touch none and have no rating."""
    curves = np.stack([lookup("nc-curves-2019", f"nc_{number}", np.asarray(band_frequency)) for number in CURVES], axis=1)  # band x curve
    levels = np.asarray(receiver_band_level, dtype=float)
    numbers, gaps = zip(*map(_curve_touched, np.moveaxis(levels, -1, 0), curves))
    beyond = np.any(levels > curves[:, -1], axis=-1) | np.all(levels < curves[:, 0], axis=-1)
    rating = np.where(beyond, np.nan, np.max(numbers, axis=0))
    return (rating,), float(np.max(np.nan_to_num(gaps), initial=0.0)), "largest gap between a level and its curve, dB"


def _curve_touched(level, curve):
    """Number of the curve that levels touch in one band, and how far they lie from it; beyond the ends the end is taken."""
    number = np.interp(level, curve, CURVES)
    return number, np.abs(np.interp(number, CURVES, curve) - np.clip(level, curve[0], curve[-1]))


# ---- limits ----

@formula(source="definition")
def period_running_time(period_duration):
    """The whole period, unless the project says how long the plant runs in it."""
    return period_duration


@formula(source="running-share")
def period_average_level(period_running_case, receiver_level, period_running_time, period_duration):
    """Energy of the running time spread over the period.

    Example: period_running_case=[item_1], receiver_level=[[62 dBA]], period_running_time=[1 h], period_duration=[15 h] give [[50.2 dBA]] (hand calculation).
    """
    return pick(period_running_case, receiver_level) + 10 * log10(period_running_time / period_duration)


@formula(source="definition")
def period_level(period_measure, period_running_case, receiver_level, period_average_level):
    """What the ordinance asks for. Many limit the level while the plant runs: a short test then earns no discount."""
    return pick(period_running_case, receiver_level) if period_measure == "while_running" else period_average_level


@formula(source="definition")
def rating_level(period_level, period_tone_penalty):
    """Level with the penalty that the ordinance puts on tones and pulses: what is held against the limit."""
    return period_level + period_tone_penalty


@formula(source="definition")
def level_limit(period_limit, receiver_limit_difference):
    """Limit of the period, with the difference that the zone of the receiver makes."""
    return period_limit + receiver_limit_difference


@formula(source="definition")
def level_margin(level_limit, rating_level):
    """Limit less rating level. Example: level_limit=[[50 dB]], rating_level=[[46.6 dB]] give [[3.4 dB]] (hand calculation)."""
    return level_limit - rating_level


@formula(source="definition")
def least_margin(level_margin):
    """Least margin of all receivers and periods."""
    return min_over("receiver", min_over("limit_period", level_margin))


@formula(source="definition")
def octave_level(octave_running_case, receiver_band_level):
    """Band levels in the running case that an ordinance with limits in octave bands is held against."""
    return pick(octave_running_case, receiver_band_level)


@formula(source="definition")
def octave_level_limit(octave_limit_levels, receiver_limit_difference):
    """Limit in octave bands, with the difference that the zone of the receiver makes."""
    return octave_limit_levels + receiver_limit_difference


@formula(source="iso-1996-1")
def day_night_level(period_average_level, period_day_penalty, period_duration):
    """Periods and their penalties over the whole day; without a penalty there is no such level. The penalties are the project's to give, 0 dB for the day.

    Example: period_average_level=[[55 dBA, 45 dBA]], period_day_penalty=[0 dB, 10 dB], period_duration=[15 h, 9 h] give [55.0 dBA] (ISO 1996-1, run with an
    open library).
    """
    return (10 * log10(sum_over("limit_period", period_duration * 10 ** ((period_average_level + period_day_penalty) / 10)) / (24 * h))
            if abs(sum_over("limit_period", period_duration) - 24 * h) < 1 * minute and sum_over("limit_period", period_day_penalty) > 0 else nothing)


# ---- backwards: what must still go ----

@formula(source="definition")
def level_target(level_limit, noise_design_margin):
    """What a predicted level should stay below. Example: level_limit=[[45 dBA]], noise_design_margin=3 dB give [[42.0 dBA]] (hand calculation)."""
    return level_limit - noise_design_margin


@procedure(source="equal-silencing", yields=("extra_loss_needed", "flow_noise_level", "flow_noise_sources"),
           equation="D_+ = max over receivers and periods of 10 lg(E/X) where E > X, with Σ min(E, X) + F = 10^(L_lim,d/10); "
                    "with F, the flow noise, over that: Σ min(E, X) = 10^(L_lim,d/10)/2")
def extra_loss_needed(source_count, source_entering, source_loss, source_self_noise, source_whole, path_ratio, a_weighting, period_running_case, receiver_level,
                      rating_level, level_target):
    """Insertion loss that each source still has to find in each band so that every limit is met with the design margin.

    Flow noise stays whatever is lost: it is what all the rest has to leave room for. What stands out is cut down to one common level, band by
    band and source by source, and nothing else is touched: that is the smallest largest cut. All points of one source lose alike. Where flow noise
    alone is too loud no loss helps; there it has to come down to half of the energy, and the other half is what is left for the rest.
    """
    number = np.asarray(source_count)[..., None]
    through = _received(number * 10 ** ((source_entering - source_loss) / 10), path_ratio, a_weighting, period_running_case)
    flow = _received(number * source_self_noise, path_ratio, a_weighting, period_running_case).sum(axis=(2, 3))
    wholes, which = np.unique(source_whole, return_inverse=True)
    energy = np.stack([through[:, :, which == one].sum(axis=2) for one in range(len(wholes))], axis=2) if len(wholes) else through
    energy = energy.reshape(*energy.shape[:2], energy.shape[2] * energy.shape[3])
    beside = rating_level - np.swapaxes(receiver_level[period_running_case], 0, 1)  # penalties and running time
    allowed = 10 ** ((level_target - beside) / 10)
    left = np.where(flow < allowed, allowed - flow, allowed / 2)
    bound = _common_bound(energy, left)[..., None]
    needed = 10 * np.log10(np.max(energy / bound, axis=(0, 1), initial=1.0)).reshape(len(wholes), path_ratio.shape[2])[which]
    needed = needed if rating_level.size else np.full_like(needed, np.nan)  # nobody hears it, or nothing limits what they hear
    kept = np.sum(np.minimum(energy, bound), axis=2) / left
    flowing = float(np.sum(np.any(np.asarray(source_self_noise) > HEARD, axis=1)))
    over = float(np.nanmax(kept, initial=1.0)) - 1
    return (needed, 10 * np.log10(np.maximum(flow, 1)) + beside, flowing), over, "energy left above what flow noise leaves, over that"


def _received(power, path_ratio, a_weighting, period_running_case):
    """A-weighted energy at receivers in periods, from sources and in bands."""
    return np.einsum("psb,srb,b->rpsb", power[period_running_case], path_ratio, 10 ** (a_weighting / 10))


def _common_bound(energy, allowed):
    """The level X at which the sum of all that is cut down to it is just what is allowed; no bound where the sum is less."""
    rising, count = np.sort(energy, axis=2), energy.shape[2]
    untouched = np.cumsum(rising, axis=2) - rising  # all below one, where it and those above are cut down
    bounds = (allowed[..., None] - untouched) / (count - np.arange(count))  # too few or too many cut down give a lower bound than the right number
    return np.where(np.sum(energy, axis=2) <= allowed, np.inf, np.max(bounds, axis=2, initial=-np.inf))


@formula(source="equal-silencing")
def loss_needed(extra_loss_needed, source_loss):
    """Present loss and what is still needed: the figures to ask a maker for."""
    return source_loss + extra_loss_needed


# ---- the governing path ----

@procedure(source="definition", yields=("stage_entering", "stage_leaving", "stage_distance", "stage_received"),
           equation="L_1 entering, L_2 leaving, L_3 = L_2 + D_Ω + D_I − 20 lg d − 11, L_4 at the receiver, for the loudest source at the loudest receiver")
def stage_entering(receiver_level, receiver_limit_difference, whole_level, source_whole, source_count, source_entering, source_solid_angle, directivity,
                   path_distance, source_power_ratio, path_ratio):
    """Band by band from source to receiver along the path that governs: what each part of the way takes away. All points of the source in energy."""
    loudest = np.asarray(receiver_level) - receiver_limit_difference
    if not np.size(whole_level) or np.isnan(loudest).all():
        return (np.full(np.shape(path_ratio)[-1], np.nan),) * 4, 0.0, "no path"
    case, receiver = np.unravel_index(np.nanargmax(loudest), loudest.shape)
    points = _alike(source_whole)[int(np.argmax(whole_level[case, :, receiver]))]
    entering = source_count[case, points][:, None] * 10 ** (source_entering[case, points] / 10)
    leaving = source_power_ratio[case, points]
    spread = leaving * 10 ** ((source_solid_angle[points][:, None] + directivity[points, receiver] - 11) / 10) / path_distance[points, receiver][:, None] ** 2
    received = leaving * path_ratio[points, receiver]
    stages = [10 * np.log10(part.sum(axis=0) + NOTHING) for part in (entering, leaving, spread, received)]
    return tuple(stages), float(np.max(stages[3] - stages[2])), "largest gain by the ground, dB"


# ---- measured against predicted ----

@procedure(source="background-correction", yields=("sound_test_level", "sound_test_bound"),
           equation="L_test = 10 lg(10^(L_tot/10) − 10^(L_bg/10)) where the difference is 3 to 15 dB, L_tot where it is more; under 3 dB L_test ≤ L_tot")
def sound_test_level(sound_test_total, sound_test_background):
    """Level of the plant alone from a measurement with and without it. Under three decibels of difference there is none, and the total is an upper bound;
    over fifteen it needs no correction.
    """
    apart = np.asarray(sound_test_total) - sound_test_background
    lost = np.asarray(sound_test_background)[apart <= 0]
    if lost.size:
        raise ValueError(f"a background of {lost[0]:.1f} dB is not below the level measured with the plant")
    alone = 10 * np.log10(10 ** (sound_test_total / 10) - 10 ** (sound_test_background / 10))
    level = np.where(apart > 15, sound_test_total, np.where(apart >= 3, alone, np.nan))
    return (level, np.where(apart < 3, sound_test_total, np.nan)), float(np.sum(apart < 3)), "measurements that only give an upper bound"


@formula(source="definition")
def sound_test_gap(sound_test_receiver, sound_test_level, receiver_level):
    """Measured less predicted, for the loudest running case; an upper bound is not compared."""
    return sound_test_level - pick(sound_test_receiver, max_over("running_case", receiver_level))


limit_check = check("noise_limit", "rating_level", limit="level_limit", safe="below", source="project", title="Level at neighbours")
octave_check = check("noise_octave_limit", "octave_level", limit="octave_level_limit", safe="below", source="project", title="Octave levels at neighbours")
low_check = check("noise_low_frequency", "low_frequency_difference", limit="low_frequency_difference_max", safe="below", source="low-frequency-guide",
                  title="Low-frequency noise")
flow_check = check("flow_noise", "flow_noise_level", limit="level_target", safe="below", source="equal-silencing", applies={"flow_noise_sources": SOME},
                   title="Flow noise leaves room under the limit", exact=True)
