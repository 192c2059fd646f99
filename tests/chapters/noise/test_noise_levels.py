"""Levels at receivers, limits, ratings and what must still go: hand calculations, printed curves, acoustic-toolbox and scipy."""

import numpy as np
import pytest
from acoustic_toolbox.criterion import NC_CURVES
from axes import over
from pytest import approx
from scipy.optimize import brentq

from basis.chapters.noise import levels as v
from basis.language.table import lookup
from basis.language.terms import terms

BANDS = terms()["band_frequency"].default_data()
A, C = terms()["a_weighting"].default_data(), terms()["c_weighting"].default_data()
SPECTRUM = np.array([76.0, 72, 64, 58, 53, 50, 47, 44, 40])  # N6


# ---- sums ----

def test_sums_of_levels():
    # N1 and N27, hand: 85 + 85 are 88.01; 80, 83 and 86 are 88.44; paths of 41.2, 38.5 and 44.0 are 46.57 dB
    for levels, total in (([85, 85], 88.01), ([80, 83, 86], 88.44), ([41.2, 38.5, 44.0], 46.57)):
        assert v.receiver_level.run(10 ** (np.array(levels) / 10)) == approx(total, abs=0.005)
    assert v.receiver_level.run(np.zeros(3)) == 0 and v.contribution_level.run(0.0) == 0 and v.contribution_level.run(1e4) == approx(40.0)


def test_contribution_of_a_source():
    # hand: 100 dB and a path of -60 dB at 1 kHz only: 40 dBA; with 100 dB at 125 Hz as well 40.11 dBA (23.9 dBA more in energy)
    power, path = np.full(9, 1e-30), np.full(9, 1e-6)
    power[5] = 1e10
    assert 10 * np.log10(v.contribution_ratio.run(power, path, A)) == approx(40.0)
    power[2] = 1e10
    assert 10 * np.log10(v.contribution_ratio.run(power, path, A)) == approx(10 * np.log10(10 ** 4 + 10 ** 2.39), abs=1e-6)
    # hand: 43.01 dB of 46.02 dB is half
    assert v.contribution_share.run(2e4, 46.0206) == approx(0.5, rel=1e-5)


def test_band_levels():
    # hand: two sources of 90 dB by -50 dB: 43.01 dB
    assert v.receiver_band_level.run(np.array([1e9, 1e9]), np.array([1e-5, 1e-5])) == approx(43.01, abs=0.005)
    assert v.receiver_band_level.run(np.zeros(2), np.zeros(2)) == approx(-30.0)


def test_low_frequency():
    # hand: 60 dB in each band: C-weighted 10 lg(2·10^-0.3 + 2·10^-0.08 + 2·10^-0.02 + 3) = 9.01 dB more; 31.5 and 63 Hz alone 63.01 dB
    flat = np.full(9, 60.0)
    assert v.receiver_c_level.run(flat, C) == approx(60 + 10 * np.log10(2 * 10 ** -0.3 + 2 * 10 ** -0.08 + 2 * 10 ** -0.02 + 3), abs=1e-9)
    assert over(v.low_band_level, receiver_band_level=flat[None, None, :], band_frequency=BANDS)[0, 0] == approx(63.01, abs=0.005)
    assert v.low_band_level.run(np.array([60.0, 60.0]), 63.0) == approx(63.01, abs=0.005)
    assert v.low_frequency_difference.run(65.0, 47.5) == approx(17.5)
    assert v.highest_level.run(np.array([[44.0, 47.0], [40.0, 45.0]])) == 47.0


# ---- ratings ----

def test_noise_rating():
    # N6, hand: NR = (50 - 0)/1.000 = 50.0, governed by 1 kHz
    assert v.nr_rating.run(SPECTRUM, BANDS) == approx(50.0)
    # hand, from the coefficients: 70 dB at 63 Hz alone: (70 - 35.5)/0.790 = 43.67
    alone = np.full(9, -20.0)
    alone[1] = 70.0
    assert v.nr_rating.run(alone, BANDS) == approx(43.67, abs=0.005)


def test_noise_criterion():
    # N6, an open library: NC 51.67 by tangency, governed by 63 Hz: 50 + 5·(72 - 71)/(74 - 71)
    (rating,), gap, _ = v.nc_rating.run(SPECTRUM, BANDS)
    assert rating == approx(51.67, abs=0.005) and gap < 1e-9
    for beyond in (np.zeros(9), np.full(9, 120.0), np.where(BANDS == 1000, 72.0, SPECTRUM)):  # 71 dB of NC 70 at 1 kHz: a spectrum above has no number
        assert np.isnan(v.nc_rating.run(beyond, BANDS)[0][0])
    assert v.nc_rating.run(np.zeros(9), BANDS)[1] == 0 == v.nc_rating.run(np.full(9, 120.0), BANDS)[1]  # beyond the ends no curve is touched
    assert v.nc_rating.run(np.zeros((1, 0, 9)), BANDS)[1] == 0 and np.isnan(v.nc_rating.run(np.full(9, np.nan), BANDS)[0][0])


@pytest.mark.parametrize("number", range(15, 71, 5))
def test_a_curve_rates_as_itself(number):
    # ANSI/ASA S12.2-2019 table 1; the older curves of acoustic-toolbox (63 Hz to 8 kHz) are within two decibels
    curve = lookup("nc-curves-2019", f"nc_{number}", BANDS)
    assert v.nc_rating.run(curve, BANDS)[0][0] == approx(number)
    assert curve[1:] == approx(np.array(NC_CURVES[number], dtype=float), abs=2.01)


def test_ratings_over_receivers():
    (rating,), _, _ = v.nc_rating.run(np.stack([[SPECTRUM, SPECTRUM - 5]]), BANDS)
    assert rating.shape == (1, 2) and rating[0, 0] > rating[0, 1]


# ---- periods ----

def test_partial_running():
    # N5, hand: 62 dB for one hour: 48.20 dB over 24 h, 50.24 dB over a day of 15 h
    assert v.period_average_level.run(0, np.array([62.0]), 3600.0, 24 * 3600.0) == approx(48.20, abs=0.005)
    assert v.period_average_level.run(0, np.array([62.0]), 3600.0, 15 * 3600.0) == approx(50.24, abs=0.005)
    assert v.period_running_time.run(9 * 3600.0) == 9 * 3600.0


@pytest.mark.parametrize("levels, hours, penalties, expected", [
    ([55, 45], [15, 9], [0, 10], 55.0), ([60, 60], [15, 9], [0, 10], 66.41), ([60, 60, 60], [12, 4, 8], [0, 5, 10], 66.40)])
def test_day_and_night(levels, hours, penalties, expected):
    # N5: Ldn and Lden of ISO 1996-1, run with an open library
    assert v.day_night_level.run(np.array(levels, float), np.array(penalties, float), np.array(hours) * 3600.0) == approx(expected, abs=0.006)


def test_what_is_held_against_the_limit():
    # N27, hand: 46.57 dB against 50: margin 3.43; with a penalty of 5 dB and a zone of 5 dB more the same
    cases = np.array([46.57, 44.0])
    assert v.period_level.run("while_running", 0, cases, 20.0) == 46.57 and v.period_level.run("mean_of_period", 0, cases, 20.0) == 20.0
    assert v.level_margin.run(v.level_limit.run(50.0, 0.0), v.rating_level.run(46.57, 0.0)) == approx(3.43)
    assert v.level_margin.run(v.level_limit.run(50.0, 5.0), v.rating_level.run(46.57, 5.0)) == approx(3.43)
    assert v.least_margin.run(np.array([[3.0, 2.0], [5.0, -1.0]])) == -1.0
    assert v.octave_level.run(1, np.array([40.0, 38.0])) == 38.0 and v.octave_level_limit.run(50.0, -5.0) == 45.0


def test_a_day_night_level_needs_a_penalty_and_a_day():
    # property of ISO 1996-1: without the penalty it would be the plain mean, of a night alone no level of a day
    levels, hours = np.array([55.0, 45.0]), np.array([15.0, 9.0]) * 3600.0
    assert np.isnan(v.day_night_level.run(levels, np.zeros(2), hours)) and np.isnan(v.day_night_level.run(levels[1:], np.array([10.0]), hours[1:]))


# ---- backwards ----

def needed(energy, limits, flow=None, wholes=None):
    """Extra loss for sources of `energy` (source x receiver), one band, one case and one period; level and number of sources of flow noise."""
    energy, limits = np.array(energy, float), np.array(limits, float)
    count = len(energy)
    flow = np.zeros((count, 1)) if flow is None else np.array(flow, float)[:, None]
    level = 10 * np.log10(np.maximum((energy * (1 + flow)).sum(axis=0), 1))
    wholes = np.arange(count) + 1.0 if wholes is None else np.array(wholes, float)
    (found, alone, flowing), left, _ = v.extra_loss_needed.run(
        np.ones((1, count)), np.zeros((1, count, 1)), np.zeros((count, 1)), flow, wholes, energy[:, :, None], np.zeros(1), np.array([0]), level[None, :],
        level[:, None], limits[:, None])
    assert left < 1e-9
    return found[:, 0], alone[:, 0], flowing


def test_losses_needed_meet_the_limit():
    # hand: sources of 50 and 40 dB against 45 dB: what is over X comes down to X, with X + 40 dB = 45 dB: X = 10 lg(31623 - 10000) = 43.35, so 6.65 dB
    assert needed([[1e5], [1e4]], [45.0])[0] == approx([6.65, 0.0], abs=0.005)
    # hand: against 40 dB both come down to 36.99 dB
    assert needed([[1e5], [1e4]], [40.0])[0] == approx([13.01, 3.01], abs=0.005)
    assert v.level_target.run(43.0, 3.0) == 40.0
    assert needed([[1e5], [1e4]], [55.0])[0].tolist() == [0.0, 0.0]


def test_losses_needed_by_case_source_and_band():
    """Two running cases, two sources, two bands, one receiver, flow noise and a penalty of 5 dB; all by hand.

    In the second case two of the first source, 100 dB less 10 dB in both bands, and one of the second, 95 dB less 5 dB and 100 dB less 10 dB; the path
    takes 50 dB, the weighting 10 dB of the first band. At the receiver in energy 2000 and 20 000 of the first, 1000 and 10 000 of the second, and twice
    100 of flow noise. Left for the rest under 10 lg 12 200 = 40.86 dB are 12 000: 1000 and 2000 stay, 20 000 and 10 000 come down to
    (12 000 - 3000)/2 = 4500, by 6.48 and 3.47 dB.
    """
    counts, entering = np.array([[7.0, 5.0], [2.0, 1.0]]), np.array([[[90.0, 90], [80, 80]], [[100, 100], [95, 100]]])
    losses, flow, target = np.array([[10.0, 10], [5, 10]]), np.array([[1e8, 0], [0, 0]]), 10 * np.log10(12_200) + 5
    level = 10 * np.log10(33_200)
    (found, alone, flowing), left, _ = v.extra_loss_needed.run(
        counts, entering, losses, flow, np.array([1.0, 2.0]), np.full((2, 1, 2), 1e-5), np.array([-10.0, 0.0]), np.array([1]), np.array([[70.0], [level]]),
        np.array([[level + 5]]), np.array([[target]]))
    assert found == approx(np.array([[0, 6.478], [0, 3.468]]), abs=0.001)
    assert alone == approx(10 * np.log10(200) + 5) and flowing == 1 and left == approx(0.0, abs=1e-9)


def test_where_nothing_sounds_nothing_is_asked_for():
    """No flow noise is shown as nought, a band without sound loses nothing, and a plant with receivers and no source has nothing to lose."""
    found, alone, _ = needed([[1e5], [0.0]], [45.0])
    assert found == approx([5.0, 0.0]) and alone == 0
    found, alone, _ = needed(np.zeros((0, 1)), [45.0])
    assert found.size == 0 and alone == 0


def test_losses_needed_against_scipy():
    # many sources, one receiver: the common level found by scipy's brentq
    energy = 10 ** np.random.default_rng(3).uniform(2, 5, 40)
    bound = brentq(lambda level: np.minimum(energy, level).sum() - 10 ** 4.5, 1e-9, energy.max())
    assert needed(energy[:, None], [45.0])[0] == approx(np.maximum(10 * np.log10(energy / bound), 0), abs=1e-6)


def test_the_hardest_receiver_decides():
    # property: with the losses applied every receiver is at or under its limit, and the hardest just at it
    energy = np.array([[1e5, 1e3], [2e4, 8e4]])
    limits = np.array([44.0, 42.0])
    found, _, _ = needed(energy, limits)
    after = 10 * np.log10((energy * 10 ** (-found[:, None] / 10)).sum(axis=0))
    assert np.all(after <= limits + 1e-9)


def test_flow_noise_is_a_floor_that_no_loss_lowers():
    # hand: one source of 50 dB whose flow noise is 40 dB, against 45 dB: 31623 - 10000 is left for the rest, 43.35 dB: 6.65 dB; fed back it closes
    found, alone, flowing = needed([[1e5]], [45.0], flow=[0.1])
    assert found == approx([6.65], abs=0.005) and alone == approx([40.0]) and flowing == 0
    assert 10 * np.log10(1e5 * 10 ** (-found[0] / 10) + 1e4) == approx(45.0, abs=1e-9)
    # hand: 20 dB are a hundred picowatts; less is that nobody gave any
    assert [needed([[1e5]], [45.0], flow=[self_noise])[2] for self_noise in (99.0, 101.0)] == [0, 1]
    # hand: against 38 dB no loss helps; with flow noise down to 34.99 dB the rest may be as loud: 15.01 dB
    assert needed([[1e5]], [38.0], flow=[0.1])[0] == approx([15.01], abs=0.005)


def test_points_of_one_source_lose_alike():
    # hand: three points of 45 dB are one source of 49.77 dB; against 43 dB they lose 6.77 dB each, as one source does
    assert needed([[10 ** 4.5]] * 3, [43.0], wholes=[1, 1, 1])[0] == approx([6.77] * 3, abs=0.005)
    # beside a source of 47 dB they are the louder, though each point is not: together they are 49.77 dB, so to 45 dB both come down to 41.99 dB
    assert needed([[10 ** 4.5]] * 3 + [[10 ** 4.7]], [45.0], wholes=[1, 1, 1, 4])[0] == approx([7.78] * 3 + [5.01], abs=0.005)


def test_penalties_count_in_the_losses_needed():
    # a rating level 5 dB above the level asks for 5 dB more
    (found, _, _), _, _ = v.extra_loss_needed.run(np.ones((1, 1)), np.zeros((1, 1, 1)), np.zeros((1, 1)), np.zeros((1, 1)), np.ones(1), np.full((1, 1, 1), 1e5),
                                                  np.zeros(1), np.array([0]), np.array([[50.0]]), np.array([[55.0]]), np.array([[50.0]]))
    assert found[0, 0] == approx(5.0)
    assert v.loss_needed.run(5.0, 20.0) == 25.0


# ---- the governing path ----

def test_governing_path():
    # hand: two sources, two receivers; the second source is loudest at the second receiver: 90 dB less 20 dB, 100 m, D 3 - 2, ratio 1e-5
    level = np.array([[[10.0, 13.0], [7.0, 26.0]]])
    (entering, leaving, spread, received), rise, _ = v.stage_entering.run(
        np.array([[20.0, 26.0]]), np.zeros(2), level, np.array([1.0, 2.0]), np.array([[1.0, 2.0]]), np.full((1, 2, 9), 90.0), np.array([0.0, 3.0]),
        np.full((2, 2, 9), -2.0), np.full((2, 2), 100.0), np.full((1, 2, 9), 10 ** 7.301), np.full((2, 2, 9), 1e-5))
    assert entering[0] == approx(93.01, abs=0.005) and leaving[0] == approx(73.01) and spread[0] == approx(73.01 + 3 - 2 - 40 - 11)
    assert received[0] == approx(23.01) and rise == approx(0.0, abs=1e-9)
    # the same two points as one source: 3.01 dB more entering than one of 90 dB and one of 93.01 dB would be alone: 94.77 dB
    (entering, *_), _, _ = v.stage_entering.run(
        np.array([[20.0, 26.0]]), np.zeros(2), level, np.array([1.0, 1.0]), np.array([[1.0, 2.0]]), np.full((1, 2, 9), 90.0), np.array([0.0, 3.0]),
        np.full((2, 2, 9), -2.0), np.full((2, 2), 100.0), np.full((1, 2, 9), 10 ** 7.301), np.full((2, 2, 9), 1e-5))
    assert entering[0] == approx(94.77, abs=0.005)


def test_governing_path_by_hand():
    """Two cases, two receivers, one source of two points; the second receiver is 4 dB louder in the second case, but its zone allows 6 dB more.

    At the first receiver, second case, hand: three of 80 dB and one of 90 dB enter, 10 lg(3e8 + 1e9) = 91.14 dB; 70 and 80 dB leave, 80.41 dB. On a wall
    and 2 dB by direction at 10 m, free and -4 dB at 20 m: 70 + 3 + 2 - 11 - 20 = 44 dB and 80 - 4 - 11 - 26.02 = 38.98 dB, together 45.19 dB; by paths of
    -28 and -40 dB 42 and 40 dB are received, 44.12 dB: 1.06 dB less than by distance alone. The second band is silent.
    """
    level = np.array([[[20.0, 30.0]] * 2, [[40.0, 44.0]] * 2])
    power, direction = np.zeros((2, 2, 2)), np.zeros((2, 2, 2))
    power[1, :, 0], direction[:, 0, 0] = (1e7, 1e8), (2.0, -4.0)
    ratio = np.full((2, 2, 2), 1e-5)
    ratio[:, 0, 0] = 10 ** -2.8, 1e-4
    counts, entering = np.array([[9.0, 9.0], [3.0, 1.0]]), np.full((2, 2, 2), 80.0)
    entering[1, 1, 0] = 90.0
    stages, gain, _ = v.stage_entering.run(np.array([[25.0, 33.0], [43.0, 47.0]]), np.array([0.0, 6.0]), level, np.array([1.0, 1.0]), counts, entering,
                                           np.array([3.0, 0.0]), direction, np.array([[10.0, 50.0], [20.0, 50.0]]), power, ratio)
    assert [stage[0] for stage in stages] == approx([91.14, 80.41, 45.19, 44.12], abs=0.005)
    assert all(np.isfinite(stage[1]) and stage[1] < -100 for stage in stages[1:]) and gain == approx(0.0)


def test_a_receiver_of_unknown_level_does_not_hide_the_loudest():
    ratio = np.full((1, 2, 9), 1e-6)
    (entering, *_), _, _ = v.stage_entering.run(np.array([[np.nan, 40.0]]), np.zeros(2), np.full((1, 1, 2), 40.0), np.ones(1), np.ones((1, 1)),
                                                np.full((1, 1, 9), 80.0), np.zeros(1), np.zeros((1, 2, 9)), np.full((1, 2), 50.0), np.ones((1, 1, 9)), ratio)
    assert entering == approx(np.full(9, 80.0))


@pytest.mark.parametrize("sources, level", [(0, 40.0), (2, np.nan)])
def test_without_a_path_there_are_no_stages(sources, level):
    stages, gain, _ = v.stage_entering.run(np.full((1, 1), level), np.zeros(1), np.full((1, sources, 1), level), np.ones(sources), np.ones((1, sources)),
                                           np.ones((1, sources, 9)), np.zeros(sources), np.zeros((sources, 1, 9)), np.ones((sources, 1)),
                                           np.ones((1, sources, 9)), np.ones((sources, 1, 9)))
    assert len(stages) == 4 and all(stage.shape == (9,) and np.isnan(stage).all() for stage in stages) and gain == 0


def test_points_of_one_source_are_one_where_it_is_asked_which_governs():
    # hand: three points of 40 dB are 44.77 dB and govern over one of 43 dB
    ratio = 10 ** (np.array([[[40.0], [40.0], [40.0], [43.0]]]) / 10)
    (level,), twice, _ = v.whole_level.run(ratio, np.array([1.0, 1.0, 1.0, 4.0]))
    assert level[0, :, 0] == approx([44.77, 44.77, 44.77, 43.0], abs=0.005) and twice == 0
    assert v.whole_level.run(np.zeros((1, 1, 1)), np.ones(1))[0][0] == 0  # what is not heard is shown as nought


# ---- measured ----

def test_background_correction():
    # N4, hand: 60 over 54 is 58.74; 55 over 52 is 51.98; 54 over 52 is an upper bound of 54; 70 over 50 needs no correction
    (found, most), bounds, _ = v.sound_test_level.run(np.array([60.0, 55.0, 54.0, 70.0]), np.array([54.0, 52.0, 52.0, 50.0]))
    assert found == approx([58.74, 51.98, np.nan, 70.0], abs=0.005, nan_ok=True) and bounds == 1
    assert most == approx([np.nan, np.nan, 54.0, np.nan], nan_ok=True)
    (edge, _), *_ = v.sound_test_level.run(np.array([65.0, 65.2]), np.array([50.0, 50.0]))
    assert edge == approx([64.86, 65.2], abs=0.005)  # hand: 10 lg(10^6.5 − 10^5) at fifteen decibels apart; beyond, the reading itself
    with pytest.raises(ValueError, match="background of 50.0 dB"):  # a hair below is an upper bound; as loud is no measurement
        v.sound_test_level.run(np.array([60.0, 50.0]), np.array([59.9995, 50.0]))


def test_measured_against_predicted():
    found = over(v.sound_test_gap, sound_test_receiver=[1], sound_test_level=[47.0], receiver_level=np.array([[40.0, 45.0], [39.0, 44.0]]))
    assert found.tolist() == [2.0]  # hand: 47 - 45, the louder case
    assert v.sound_test_gap.run(0, 47.0, np.array([[45.0, 44.0]])) == 2.0
