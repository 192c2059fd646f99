"""Noise to neighbours, second part: the level in the plant room and what its shell keeps in.

A diffuse field is assumed; below the Schroeder frequency a band level is indicative. Left out: the shadow behind machines, sound
that comes back through openings, flanking between rooms.
"""

from basis.language.formula import formula
from basis.language.maths import Hz, energy_sum_over, log, log10, lookup, m, m2, m3, max_over, s, sqrt, sum_over


@formula(source=("absorption-table", "absorption-ends"))
def surface_absorption(surface_finish, band_frequency):
    """Absorption coefficient by the finish of the surface. Below 125 Hz the value of 125 Hz is taken, above 4 kHz that of 4 kHz."""
    return lookup(surface_finish, "absorption", max(min(band_frequency, 4000 * Hz), 125 * Hz))


@formula(source="definition")
def room_surface_total(room_surface_area):
    """All surfaces of the room."""
    return sum_over("room_surface", room_surface_area)


@formula(source="reverberation")
def room_absorption(room_surface_area, surface_absorption, room_extra_absorption):
    """Area of a perfect absorber that would swallow as much. In one band, 96 m² at 0.02, 96 m² at 0.57 and 200 m² at 0.06 make 68.6 m²."""
    return sum_over("room_surface", room_surface_area * surface_absorption) + room_extra_absorption


@formula(source="reverberation", valid={"mean_absorption": (0.005, 0.9)})
def mean_absorption(room_absorption, room_surface_total):
    """Share of the sound that each reflection loses."""
    return room_absorption / room_surface_total


@formula(source="room-steady-level")
def room_constant(room_absorption, mean_absorption):
    """What is absorbed of the sound that has been reflected at least once. In one band, 47.04 m² at a mean of 0.12 make 53.45 m²."""
    return room_absorption / (1 - mean_absorption)


@formula(source="reverberation")
def reverberation_time(reverberation_model, heated_room_volume, room_absorption, mean_absorption, room_surface_total, air_absorption):
    """How long the room rings. The air's own absorption is that of the outdoor weather, which hardly matters in a plant room.

    A room of 480 m³ and 392 m² with a mean of 0.12 has 1.64 s after Sabine, 1.54 s after Eyring.
    """
    return 0.161 * s / m * heated_room_volume / (
        (room_absorption if reverberation_model == "sabine"
         else -room_surface_total * log(1 - mean_absorption)) + 4 * air_absorption / 4.343 * heated_room_volume)


@formula(source="schroeder")
def schroeder_frequency(reverberation_time, heated_room_volume):
    """Below this frequency the room has single modes and the field is not diffuse."""
    return 2000 * Hz * sqrt(max_over("band", reverberation_time) / s / (heated_room_volume / m3))


@formula(source="room-steady-level")
def critical_distance(room_directivity, room_constant):
    """Nearer to a machine than this its own sound governs, farther the room. With a Q of 2 and 53.45 m² it is 1.46 m."""
    return sqrt(room_directivity * room_constant / (16 * 3.141592653589793))


@formula(source="sound-energy")
def room_source_power(running_sets, machine_number, machine_sound_power, machine_place):
    """Sound power of all machines in the room, for as many sets as run. A room without machines is shown as nought."""
    return 10 * log10(max(running_sets * sum_over("machine", machine_number * 10 ** (machine_sound_power / 10) if machine_place == "in_room" else 0), 1))


@formula(source="room-steady-level")
def room_band_level(room_source_power, room_constant):
    """Level away from the machines, the same in all the room."""
    return room_source_power + 10 * log10(4 * m2 / room_constant)


@formula(source=("sound-energy", "iec-61672-1"))
def room_level(room_band_level, a_weighting):
    """All bands of the reverberant level together."""
    return energy_sum_over("band", room_band_level + a_weighting)


# ---- shell ----

@formula(source="mass-law")
def surface_mass_law(surface_mass, band_frequency, air_impedance):
    """Mass law at normal incidence. A wall of 460 kg/m² has 64.9 dB at 500 Hz."""
    return 10 * log10(1 + (3.141592653589793 * band_frequency * surface_mass / air_impedance) ** 2)


@formula(source="mass-law")
def surface_reduction_low(surface_mass, surface_critical_frequency, air_impedance):
    """Field incidence at half the critical frequency: four decibels under normal incidence in octave bands."""
    return 10 * log10(1 + (3.141592653589793 * surface_critical_frequency / 2 * surface_mass / air_impedance) ** 2) - 4


@formula(source="mass-law")
def surface_reduction_critical(surface_mass, surface_critical_frequency, surface_loss_factor, air_impedance):
    """At the critical frequency only damping keeps the panel from following the sound."""
    return (10 * log10(1 + (3.141592653589793 * surface_critical_frequency * surface_mass / air_impedance) ** 2)
            + 10 * log10(2 * surface_loss_factor / 3.141592653589793))


@formula(source=("mass-law", "tm-5-805-4-glass"))
def surface_reduction(surface_reduction_rule, surface_construction, surface_mass_law, surface_critical_frequency, surface_loss_factor,
                      surface_reduction_low, surface_reduction_critical, band_frequency):
    """Sound reduction of a surface for want of a test: a table, or mass law below half the critical frequency, damping above it, a straight line between.

    A wall of 460 kg/m², critical at 94 Hz, with a loss factor of 0.015 keeps 33.8 dB at 125 Hz and 51.9 dB at 500 Hz.
    A heavy wall is far below the mass law there.
    """
    return (lookup(surface_construction, "reduction", band_frequency) if surface_reduction_rule == "table" else
            max(surface_mass_law - 4, 0) if band_frequency <= surface_critical_frequency / 2 else
            max(surface_mass_law + 10 * log10(2 * surface_loss_factor * band_frequency / (3.141592653589793 * surface_critical_frequency)), 0)
            if band_frequency >= surface_critical_frequency else
            max(surface_reduction_low + (surface_reduction_critical - surface_reduction_low) * log10(2 * band_frequency / surface_critical_frequency) / 0.30103,
                0))


@formula(source="composite-wall")
def composite_reduction(room_surface_area, surface_reduction, surface_faces, shell_gap_area):
    """Shell as a whole: the weakest part and the gaps decide. One part in a thousand open caps it at thirty decibels.

    In one band, 36 m² of 50 dB, 4 m² of 25 dB and 0.1 m² of gaps keep 25.5 dB.
    """
    return -10 * log10(
        (sum_over("room_surface", room_surface_area * 10 ** (-surface_reduction / 10) if surface_faces == "outdoors" else 0) + shell_gap_area)
        / (sum_over("room_surface", room_surface_area if surface_faces == "outdoors" else 0) + shell_gap_area))
