"""Noise to neighbours: sound power of the machines, by a measured spectrum or by a published estimate, and what silencers and ducts take away.

Room and shell are in room.py, sound sources in sources.py, paths outdoors in paths.py, levels and limits in
levels.py. Left out: sound through the shell of a silencer and along pipes, structure-borne sound.
"""

import numpy as np

from basis.language.formula import SOME, chapter, check, formula, procedure
from basis.language.maths import MW, Hz, Pa, count_over, energy_sum_over, kW, log10, lookup, m, m3, rpm, s, sqrt, sum_over

RISING = {"exhaust_mouth": "exhaust", "turbocharger_inlet": "turbocharger_inlet"}  # kinds that get louder at the ends of the scale -> column of the table

CHAPTER = chapter("noise", "Noise to neighbours", order=110,
                  settles="What the neighbours hear, by which way it reaches them, and what must be taken off.",
                  cautions=(
    "Predicted levels are design values. A licensed acoustic engineer decides what is built and measures what was built; the authority that enforces the "
    "ordinance decides whether it is met.",
    "Estimates stand in for test reports by five decibels either way. Ask for spectra of the very set, silencer and attenuator, and for the conditions of "
    "the test.",
    "A silencer or attenuator that makes the plant quiet can starve it of air or choke its exhaust: no change here without the ventilation and exhaust "
    "chapters.",
    "Low tones pass walls and windows that keep the A-weighted level down. People who cannot sleep are harmed, whatever the figure says.",
))


# ---- engine and alternator, estimates ----

@formula(source="definition")
def engine_rated_power(set_rated_power, alternator_efficiency):
    """Shaft power at the rating of the set. Noise is estimated by it, not by kilovolt-amperes."""
    return set_rated_power / alternator_efficiency


@formula(source="engine-noise")
def casing_speed_correction(engine_speed):
    """Three classes of speed: a set at 1500 r/min (50 Hz) is in the middle class, one at 1800 r/min (60 Hz) above it."""
    return -5 if engine_speed < 600 * rpm else (-2 if engine_speed < 1501 * rpm else 0)


@formula(source="engine-noise", valid={"engine_rated_power": (50e3, 20e6)})
def casing_sound_power(engine_rated_power, casing_speed_correction, casing_fuel, casing_arrangement, casing_blower):
    """Casing of one engine by shaft power, speed, fuel, arrangement and blower. The exhaust and a ducted inlet are apart.

    Example: engine_rated_power=1100 kW, casing_speed_correction=-2 dB, casing_arrangement=in_v give 120.4 dB (hand calculation).
    """
    return (93 + 10 * log10(engine_rated_power / kW) + casing_speed_correction - (0 if casing_fuel == "diesel" else 3)
            - (0 if casing_arrangement == "in_line" else 1) + (0 if casing_blower == "none" else 3))


@formula(source="engine-noise")
def casing_spectrum(casing_sound_power, engine_speed, casing_blower, band_frequency):
    """The same in octave bands, by class of speed and, in the middle class, with or without a bare Roots blower."""
    return casing_sound_power + (
        lookup("engine-noise-bands", "below_600", band_frequency) if engine_speed < 600 * rpm else
        (lookup("engine-noise-bands", "above_1500", band_frequency) if engine_speed >= 1501 * rpm else
         (lookup("engine-noise-bands", "to_1500", band_frequency) if casing_blower == "none" else
          lookup("engine-noise-bands", "to_1500_blower", band_frequency))))


@formula(source="ufc-3-450-02")
def exhaust_turbine_loss(engine_type):
    """A turbocharger takes six decibels out of the exhaust."""
    return 6 if engine_type == "turbocharged" or engine_type == "turbocharged_charge_cooled" else 0


@formula(source=("ufc-3-450-02", "engine-noise", "quieting-length"), valid={"engine_rated_power": (50e3, 20e6)})
def exhaust_sound_power(engine_rated_power, exhaust_turbine_loss, exhaust_pipe_length, quieting_length_max):
    """Bare exhaust at the end of its pipe. Without a silencer it drowns all else, however long the pipe.

    Example: engine_rated_power=1100 kW, exhaust_turbine_loss=6 dB, exhaust_pipe_length=9 m give 136.9 dB (hand calculation).
    """
    return 120 + 10 * log10(engine_rated_power / kW) - exhaust_turbine_loss - min(exhaust_pipe_length, quieting_length_max) / m / 1.2


@formula(source="engine-noise")
def exhaust_spectrum(exhaust_sound_power, band_frequency):
    """The same in octave bands: most of it below 500 Hz, where silencers are weakest."""
    return exhaust_sound_power + lookup("engine-noise-bands", "exhaust", band_frequency)


@formula(source="alternator-noise")
def alternator_sound_power(set_rated_power, engine_speed):
    """Alternator by electrical power and speed; in practice below the casing of its engine.

    Example: set_rated_power=1 MW, engine_speed=1500 r/min give 105.0 dB (hand calculation).
    """
    return 84 + 10 * log10(set_rated_power / MW) + 6.6 * log10(engine_speed / rpm)


@formula(source="firing-order")
def firing_frequency(engine_cylinders, engine_speed, engine_strokes):
    """Tone of the exhaust: a four-stroke cylinder fires every second turn.

    Example: engine_cylinders=12, engine_speed=1500 rpm give 150 Hz (hand calculation).
    """
    return engine_cylinders * engine_speed / (2 if engine_strokes == "four_stroke" else 1)


# ---- machines ----

@formula(source=("engine-noise", "quieting-length"))
def inlet_sound_power(engine_rated_power, machine_duct_length, quieting_length_max):
    """Inlet of a turbocharger behind its duct. Without a turbocharger it is negligible beside the casing.

    Example: engine_rated_power=1100 kW, machine_duct_length=[1.8 m] give [109.2 dB] (hand calculation).
    """
    return 95 + 5 * log10(engine_rated_power / kW) - min(machine_duct_length, quieting_length_max) / m / 1.8


@formula(source="fan-noise")
def fan_sound_power(machine_airflow, machine_pressure):
    """Fan from flow and total pressure; a fan that runs off its best point is louder.

    Example: machine_airflow=[20 m^3/s], machine_pressure=[200 Pa] give [99.0 dB] (hand calculation).
    """
    return 40 + 10 * log10(machine_airflow / (m3 / s)) + 20 * log10(machine_pressure / Pa)


@formula(source="blade-passage")
def blade_frequency(machine_blades, machine_speed):
    """Tone of a fan: some methods add decibels to the band in which it falls.

    Example: machine_blades=[8], machine_speed=[750 r/min] give [100 Hz] (hand calculation).
    """
    return machine_blades * machine_speed


@procedure(source="nearest-band", yields=("machine_spectrum_whole", "machine_bands_missing"), sampled=True, tables={"engine-noise-bands": "band_frequency"},
           equation="L_b = L_n + max(s_b − s_n, 0) where band b is not given, n the nearest band given and s the usual spectrum of the kind")
def machine_spectrum_whole(machine_spectrum, machine_kind, band_frequency):
    """A test report that does not reach all bands, completed on the loud side: the level of the nearest band that it gives, and more where the
    sound of an exhaust or of a turbocharger inlet usually rises towards the missing band.
    """
    levels = np.asarray(machine_spectrum, dtype=float)
    usual = np.zeros(levels.shape[-2:])
    for place, kind in enumerate(machine_kind):
        if kind in RISING:
            usual[place] = lookup("engine-noise-bands", RISING[kind], np.asarray(band_frequency))
    nearest = _nearest(levels)
    rise = np.broadcast_to(usual, levels.shape) - np.take_along_axis(np.broadcast_to(usual, levels.shape), nearest, axis=-1)
    whole = np.where(np.isnan(levels), np.take_along_axis(levels, nearest, axis=-1) + np.maximum(rise, 0), levels)
    missing = np.sum(np.isnan(levels) & ~np.isnan(whole), axis=-1).astype(float)
    return (whole, missing), float(np.sum(missing)), "bands that no report gives"


def _nearest(levels):
    """Place of the nearest band that is given, for each band."""
    places = np.arange(levels.shape[-1])
    away = np.where(np.isnan(levels)[..., None, :], np.inf, np.abs(places[:, None] - places))
    return np.argmin(away, axis=-1)


@formula(source=("engine-noise", "alternator-noise", "fan-noise"))
def machine_estimate(machine_kind, casing_spectrum, exhaust_spectrum, inlet_sound_power, alternator_sound_power, fan_sound_power, machine_spectrum_whole,
                     band_frequency):
    """Estimate by the kind of machine, for want of a test report; about five decibels either way.

    Fans are tabulated from 63 Hz to 4 kHz; the bands outside take the nearest value. A machine of another kind has no estimate.
    """
    return (casing_spectrum if machine_kind == "engine_casing" else
            exhaust_spectrum if machine_kind == "exhaust_mouth" else
            inlet_sound_power + lookup("engine-noise-bands", "turbocharger_inlet", band_frequency) if machine_kind == "turbocharger_inlet" else
            alternator_sound_power + lookup("alternator-noise-bands", "alternator", band_frequency) if machine_kind == "alternator" else
            fan_sound_power + lookup("fan-noise-bands", "axial", max(min(band_frequency, 4000 * Hz), 63 * Hz)) if machine_kind == "axial_fan" else
            fan_sound_power + lookup("fan-noise-bands", "propeller", max(min(band_frequency, 4000 * Hz), 63 * Hz)) if machine_kind == "propeller_fan" else
            machine_spectrum_whole)


@formula(source="definition")
def machine_sound_power(machine_data, machine_spectrum_whole, machine_estimate, machine_level_shift, machine_enclosure_loss):
    """Measured spectrum or estimate, with the project's shift, less what an enclosure keeps in."""
    return (machine_spectrum_whole if machine_data == "measured" else machine_estimate) + machine_level_shift - machine_enclosure_loss


@formula(source=("sound-energy", "iec-61672-1"))
def machine_level(machine_sound_power, a_weighting):
    """All bands together, as the ear weighs them. The bands cannot be had back from it."""
    return energy_sum_over("band", machine_sound_power + a_weighting)


# ---- silencers of the exhaust ----

@formula(source="muffler-classes")
def silencer_insertion_loss(silencer_class, band_frequency):
    """Usual loss of a class of silencer, for early design. The table begins at 63 Hz; below it nothing is counted, which is the safe side."""
    return lookup(silencer_class, "loss", max(band_frequency, 63 * Hz)) if band_frequency > 40 * Hz else 0


@formula(source="silencers-in-series")
def exhaust_silencing(silencer_insertion_loss):
    """Losses of the silencers of one exhaust, added up. Two in series seldom reach the sum: it is an upper bound."""
    return sum_over("silencer", silencer_insertion_loss)


@procedure(source="nearest-band", yields=("silencer_noise_whole",), equation="L_b = L_n where band b is not given, n the nearest band given", sampled=True)
def silencer_noise_whole(silencer_self_noise):
    """Flow noise of each silencer in all bands. A band that is not given is as loud as the nearest one."""
    whole, missing = _completed(silencer_self_noise)
    return (whole,), missing, "bands that no maker gives"


@formula(source="sound-energy")
def exhaust_self_noise(silencer_noise_whole):
    """Flow noise of all silencers in energy, as if none weakened that of another."""
    return sum_over("silencer", 10 ** (silencer_noise_whole / 10))


def _completed(levels):
    """Levels with those that are not given taken from the nearest band, and how many those are."""
    levels = np.asarray(levels, dtype=float)
    return np.take_along_axis(levels, _nearest(levels), axis=-1), float(np.sum(np.isnan(levels)))


@formula(source="definition")
def silencers_listed(silencer_insertion_loss):
    """Silencers that take sound; without one there is no drop to ask for."""
    return sum_over("silencer", 1 if sum_over("band", silencer_insertion_loss) > 0 else 0)


@formula(source="silencer-drop-usual")
def silencer_rated_drop(silencer_drop_usual):
    """Drop of the exhaust's silencers as usual, for want of the maker's sheet. An exhaust without a silencer has none."""
    return silencer_drop_usual if count_over("silencer") > 0 else 0


@formula(source="attenuator-two-sides")
def silencing_two_sided(exhaust_silencing, silencer_rated_drop):
    """A silencer is one object in two chapters: what it takes from the sound here, it takes from the gas in the exhaust chapter."""
    return 1 if sum_over("band", exhaust_silencing) <= 0 or silencer_rated_drop > 0 else 0


# ---- air elements ----

@formula(source="definition")
def element_width(element_face_area):
    """Side of a square of the face area, unless the project gives the width in the plane of the bend."""
    return sqrt(element_face_area)


@formula(source="elbow-loss")
def elbow_row(element_width, band_frequency, duct_sound_speed):
    """Row of the table by width over wavelength. A ratio on a bound belongs to the row that it opens; without a width the least loss is taken."""
    return (6 if element_width * band_frequency / duct_sound_speed >= 2.22 else
            5 if element_width * band_frequency / duct_sound_speed >= 1.11 else
            4 if element_width * band_frequency / duct_sound_speed >= 0.55 else
            3 if element_width * band_frequency / duct_sound_speed >= 0.28 else
            2 if element_width * band_frequency / duct_sound_speed >= 0.14 else 1)


@formula(source="end-reflection")
def end_reflection(element_sound_estimate, element_face_area, band_frequency, duct_sound_speed):
    """Long waves do not leave a small mouth: they are thrown back. Tried from 0.15 to 1.8 m; not for a mouth that is counted as a radiating area in a wall.

    The diameter is that of a circle of the same area.

    A mouth of 0.61 m, flush with a wall, takes 7.0 dB at 63 Hz, for which ASHRAE prints 7.
    """
    return 10 * log10(1 + ((0.7 if element_sound_estimate == "flush_end" else 1.0) * duct_sound_speed / (
        3.141592653589793 * band_frequency * (4 * element_face_area / 3.141592653589793) ** 0.5)) ** (2 if element_sound_estimate == "flush_end" else 1.88))


@formula(source=("elbow-loss", "duct-loss", "lined-duct-cap", "end-reflection"))
def element_insertion_loss(element_sound_estimate, element_elbow, elbow_row, element_duct, element_duct_length, end_reflection, band_frequency):
    """Loss of an air element for want of the maker's spectrum. A weather louvre, a damper, a mesh take nothing; a run of duct at most forty decibels."""
    return (lookup(element_elbow, "loss", elbow_row) if element_sound_estimate == "elbow" else
            min(lookup(element_duct, "loss", max(min(band_frequency, 4000 * Hz), 63 * Hz)) * element_duct_length, 40)
            if element_sound_estimate == "duct" else
            0 if element_sound_estimate == "none" else end_reflection)


@formula(source="definition")
def element_takes_sound(element_insertion_loss):
    """One for an air element that takes sound, nought for a weather louvre, a damper or a mesh."""
    return 1 if sum_over("band", element_insertion_loss) > 0 else 0


@formula(source="attenuator-two-sides")
def element_two_sided(element_insertion_loss, element_rated_drop, element_loss_coefficient, element_duct_length):
    """An attenuator is one object in two chapters: one that takes sound and no pressure has been forgotten in the ventilation ladder."""
    return 1 if (sum_over("band", element_insertion_loss) <= 0 or element_rated_drop > 0 or element_loss_coefficient > 0
                 or element_duct_length > 0) else 0


@procedure(source=("definition", "sound-energy", "nearest-band"), yields=("opening_insertion_loss", "opening_self_noise"),
           equation="D_o = Σ D_e and W_s,o = Σ 10^(L_W,e/10) over the elements in the path of the opening")
def opening_insertion_loss(element_opening, element_insertion_loss, element_self_noise, gross_area):
    """Losses of all elements that stand in the path of an opening, added up, and their flow noise in energy; of that a band that is not given
    is as loud as the nearest one.
    """
    inside = element_opening[:, None] == np.arange(np.shape(gross_area)[-1])
    losses = np.einsum("eo,...eb->...ob", inside, np.asarray(element_insertion_loss))
    noise = np.einsum("eo,...eb->...ob", inside, 10 ** (_completed(element_self_noise)[0] / 10))
    return (losses, noise), float(abs(np.sum(losses) - np.sum(element_insertion_loss))), "loss that belongs to no opening, dB"


element_check = check("attenuator_has_drop", "element_two_sided", limit="two_sided_wanted", safe="above", source="attenuator-two-sides",
                      applies={"element_takes_sound": SOME},
                      title="Attenuators are counted in the ventilation ladder", exact=True,
                      fault="a pressure drop, element_rated_drop or element_loss_coefficient, beside the insertion loss")
silencer_check = check("silencer_has_drop", "silencing_two_sided", limit="two_sided_wanted", safe="above", source="attenuator-two-sides",
                       applies={"silencers_listed": SOME},
                       title="Silencers are counted in the exhaust back-pressure", exact=True,
                       fault="silencer_rated_drop above nought beside a silencer")
