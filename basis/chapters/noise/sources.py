"""Noise to neighbours, third part: what leaves the building by each opening, wall, exhaust and duct, and which way it points.

A source stands at one point; several of a kind may be lumped where they are close together against their distance. Left out:
sound that leaves by one opening and comes back by another.
"""

import numpy as np

from basis.language.formula import SOME, check, formula, procedure
from basis.language.maths import acos, cos, energy_sum_over, log10, lookup, m2, pick, sin, sum_over


@formula(source="definition")
def source_count(source_share, source_follows, running_sets, installed_sets):
    """How many such sources radiate, or which part of one where it is split over several points.

    The opening of a set that stands is open all the same unless its damper keeps sound in: count it with the installed sets.
    """
    return source_share * (running_sets if source_follows == "running_sets" else installed_sets if source_follows == "installed_sets" else 1)


@formula(source="definition")
def source_area(source_kind, source_opening, gross_area, source_surface, room_surface_area, shell_gap_area):
    """Area by which room sound comes out: the gross area of an opening, a surface, or all gaps. One square metre, without effect, for other kinds."""
    return (pick(source_opening, gross_area) if source_kind == "opening" else
            pick(source_surface, room_surface_area) if source_kind == "surface" else
            max(shell_gap_area, 0.000001 * m2) if source_kind == "gap" else 1 * m2)


@formula(source="definition")
def source_others_distance(source_inside_distance):
    """The other running sets as near as the nearest, which is the safe side, until the project says how far they are."""
    return source_inside_distance


@formula(source="room-steady-level", valid={"source_inside_distance": (1, 200)})
def source_room_level(room_source_power, running_sets, room_directivity, source_inside_distance, source_others_distance, room_constant):
    """Sound just inside the element: direct of the nearest running set at its distance, direct of the others at theirs, and what the room throws back."""
    return room_source_power + 10 * log10((
        room_directivity / (4 * 3.141592653589793) * (
            1 / (max(running_sets, 1) * source_inside_distance ** 2) + (1 - 1 / max(running_sets, 1)) / source_others_distance ** 2)
        + 4 / room_constant) * m2)


@formula(source=("iso-12354-4", "definition"))
def source_entering(source_kind, source_room_level, source_diffusivity, source_area, source_machine, machine_sound_power):
    """Sound power that enters the way out: room sound over the area, or the sound power of the machine at the end of its pipe or duct.

    In one band, 105 dB inside and 6 m² are 106.8 dB.
    """
    return (source_room_level - source_diffusivity + 10 * log10(source_area / m2)
            if source_kind == "opening" or source_kind == "surface" or source_kind == "gap" else
            pick(source_machine, machine_sound_power))


@formula(source="definition")
def source_loss(source_kind, source_opening, opening_insertion_loss, source_surface, surface_reduction, exhaust_silencing, source_extra_loss):
    """What stands in the way: air elements of the opening, sound reduction of the surface, silencers of the exhaust, and what the project adds."""
    return source_extra_loss + (
        pick(source_opening, opening_insertion_loss) if source_kind == "opening" or source_kind == "duct" else
        pick(source_surface, surface_reduction) if source_kind == "surface" else
        exhaust_silencing if source_kind == "exhaust" else 0)


@formula(source="definition")
def source_self_noise(source_kind, source_opening, opening_self_noise, exhaust_self_noise):
    """Noise that the flow makes on the way out. It sets a floor that no further length of silencer lowers."""
    return (pick(source_opening, opening_self_noise) if source_kind == "opening" or source_kind == "duct" else
            exhaust_self_noise if source_kind == "exhaust" else 0)


@formula(source="sound-energy")
def source_power_ratio(source_count, source_entering, source_loss, source_self_noise):
    """Sound power to outdoors over one picowatt, all sources of the kind together."""
    return source_count * (10 ** ((source_entering - source_loss) / 10) + source_self_noise)


@formula(source="definition")
def source_sound_power(source_power_ratio):
    """The same as level. What is below the reference of one picowatt is shown as nought."""
    return 10 * log10(max(source_power_ratio, 1))


@formula(source=("sound-energy", "iec-61672-1"))
def source_level(source_sound_power, a_weighting):
    """All bands together: what a maker of silencers is asked about."""
    return energy_sum_over("band", source_sound_power + a_weighting)


@procedure(source="definition", yields=("source_whole",), equation="w = number of the first source of the same kind by the same opening, surface or machine")
def source_whole(source_kind, source_opening, source_surface, source_machine):
    """Which points are one source: an opening, a wall or a row of machines that was split because it is large against its distance."""
    asked = {"opening": (source_opening,), "surface": (source_surface,), "duct": (source_opening, source_machine), "gap": ()}
    found: dict[tuple, int] = {}
    wholes = []
    for place, kind in enumerate(source_kind):
        parts = tuple(int(one[place]) for one in asked.get(kind, (source_machine,)))
        wholes.append(found.setdefault((kind, *parts) if all(part >= 0 for part in parts) else (place,), place + 1))
    return (np.array(wholes, dtype=float),), 0.0, "points that belong to no source"


# ---- nothing forgotten ----

@procedure(source="definition", yields=("opening_heard",),
           equation="x_o = Σ x_S over its sources, a single source counting for one set where each set has such an opening; at least 1 where left out")
def opening_heard(source_kind, source_opening, source_share, source_follows, installed_sets, opening_serves, opening_left_out):
    """Part of each opening that is a source of room sound, or is left out with a reason. A fan heard through it does not stand for the room behind."""
    rooms = np.asarray(source_kind) == "opening"
    single = np.asarray(source_follows) == "one"
    found = np.zeros(len(opening_serves))
    for place, serves in enumerate(opening_serves):
        share = np.where(single & (serves == "each_set"), source_share / installed_sets, source_share)
        found[place] = np.sum(share[rooms & (source_opening == place)])
    return (np.maximum(found, np.asarray(opening_left_out) != ""),), 0.0, "openings counted twice"


@procedure(source="definition", yields=("surface_heard",), equation="x_i = Σ x_S over its sources; at least 1 where it faces a room or is left out")
def surface_heard(source_kind, source_surface, source_share, surface_faces, surface_left_out):
    """Part of each outdoor surface that is a source, or is left out with a reason."""
    radiating = (np.asarray(source_kind) == "surface")[:, None] & (np.asarray(source_surface)[:, None] == np.arange(len(surface_faces)))
    quiet = (np.asarray(surface_faces) == "inside") | (np.asarray(surface_left_out) != "")
    return (np.maximum(source_share @ radiating, quiet),), 0.0, "surfaces counted twice"


@procedure(source="definition", yields=("machine_heard",),
           equation="x_m = Σ x_S over its sources, a single source of an exhaust counting for one set; 1 where it stands in the room or is left out")
def machine_heard(source_kind, source_machine, source_share, source_follows, installed_sets, machine_kind, machine_place, machine_left_out):
    """Part of each machine outside the room, or at the end of a pipe or duct, that is a source, or is left out with a reason. Every set has an exhaust."""
    radiating = np.isin(np.asarray(source_kind), ("exhaust", "duct", "machine"))[:, None] & (
        np.asarray(source_machine)[:, None] == np.arange(len(machine_place)))
    single = (np.asarray(source_follows) == "one")[:, None] & (np.asarray(machine_kind) == "exhaust_mouth")
    counted = np.sum(np.asarray(source_share)[:, None] * radiating / np.where(single, installed_sets, 1), axis=0)
    quiet = (np.asarray(machine_place) == "in_room") | (np.asarray(machine_left_out) != "")
    return (np.where(quiet, 1.0, 0.0) + counted,), 0.0, "machines counted twice"


@formula(source="definition")
def gap_heard(shell_gap_area, source_kind, source_share):
    """Part of the gaps that is a source; all of it where the project gives no gaps.

    Example: shell_gap_area=0.02 m^2, source_kind=[surface, gap], source_share=[10 %, 50 %] give 0.5 (hand calculation).
    """
    return sum_over("sound_source", source_share if source_kind == "gap" else 0) if shell_gap_area > 0 else 1


@formula(source="definition")
def exhaust_listed(machine_kind):
    """Machines that are an exhaust outlet, or of a kind of its own, such as a whole set in its container."""
    return sum_over("machine", 1 if machine_kind == "exhaust_mouth" or machine_kind == "other" else 0)


@formula(source="definition")
def fans_listed(machine_kind):
    """Machines that are a fan, or of a kind of its own, such as a whole set in its container. A fan on the set blows into the discharge: no estimate of engine
    or alternator holds it, and the sound of the room that leaves by the opening does not either.
    """
    return sum_over("machine", 1 if machine_kind == "axial_fan" or machine_kind == "propeller_fan" or machine_kind == "other" else 0)


@formula(source="definition")
def receivers_listed(receiver_height):
    """Receivers; where there is none nobody asks what is heard. Example: receiver_height=[1.5 m, 4 m] give 2 (hand count)."""
    return sum_over("receiver", 1 if receiver_height > 0 else 0)


# ---- direction ----

@formula(source=("facade-source", "iso-9613-2"))
def source_solid_angle(source_mounting):
    """Three decibels more from a source in a wall, six from a corner. The ground is in the attenuation of the path and is not counted twice."""
    return 3 if source_mounting == "on_wall" else 6 if source_mounting == "in_corner" else 0


@formula(source="physics")
def off_axis_angle(receiver_x, source_x, receiver_y, source_y, receiver_height, source_height, source_azimuth, source_elevation, path_distance):
    """Angle between the axis of the mouth and the straight way to the receiver."""
    return acos(max(min(((receiver_x - source_x) * cos(source_elevation) * sin(source_azimuth)
                         + (receiver_y - source_y) * cos(source_elevation) * cos(source_azimuth)
                         + (receiver_height - source_height) * sin(source_elevation)) / path_distance, 1), -1))


@formula(source="tm-5-805-4-directivity")
def stack_directivity(off_axis_angle, band_frequency):
    """Directivity of a large stack, straight lines between the angles of the table, 0, 45, 60, 90 and 135 degrees; behind that as at 135."""
    return (lookup("stack-directivity", "angle_0", band_frequency)
            + (lookup("stack-directivity", "angle_45", band_frequency) - lookup("stack-directivity", "angle_0", band_frequency))
            * min(off_axis_angle / 0.7853981634, 1)
            + (lookup("stack-directivity", "angle_60", band_frequency) - lookup("stack-directivity", "angle_45", band_frequency))
            * max(min(off_axis_angle / 0.2617993878 - 3, 1), 0)
            + (lookup("stack-directivity", "angle_90", band_frequency) - lookup("stack-directivity", "angle_60", band_frequency))
            * max(min(off_axis_angle / 0.5235987756 - 2, 1), 0)
            + (lookup("stack-directivity", "angle_135", band_frequency) - lookup("stack-directivity", "angle_90", band_frequency))
            * max(min(off_axis_angle / 0.7853981634 - 2, 1), 0))


@formula(source=("tm-5-805-4-directivity", "directivity-credit"))
def directivity(source_directivity, stack_directivity, source_directivity_credit, off_axis_angle):
    """Directivity as counted: gains whole, reductions only in part, since small pipes throw more to the side than the large stacks of the table.

    An intake mouth is three decibels quieter to the side and behind; between 60 and 90 degrees a straight line is taken.
    """
    return (0 if source_directivity == "even" else
            max(stack_directivity, 0) + source_directivity_credit * (
                min(stack_directivity, 0) - (3 * max(min(off_axis_angle / 0.5235987756 - 2, 1), 0) if source_directivity == "intake" else 0)))


opening_check = check("opening_is_heard", "opening_heard", limit="heard_min", safe="above", source="definition",
                      applies={"receivers_listed": SOME}, self_test=True, title="Openings are sources of sound", exact=True,
                      fault="sound_sources with its source_opening, in shares that reach 100 % and by source_follows of every set that has one, or "
                            "opening_left_out with the reason")
surface_check = check("surface_is_heard", "surface_heard", limit="heard_min", safe="above", source="definition",
                      applies={"receivers_listed": SOME}, self_test=True, title="Outdoor surfaces are sources of sound", exact=True,
                      fault="sound_sources with its source_surface, in shares that reach 100 %, or surface_left_out with the reason")
machine_check = check("machine_is_heard", "machine_heard", limit="heard_min", safe="above", source="definition",
                      applies={"receivers_listed": SOME}, self_test=True, title="Machines outside the room are sources of sound", exact=True,
                      fault="sound_sources with its source_machine, in shares that reach 100 % and by source_follows of every set that has one, or "
                            "machine_left_out with the reason")
NO_MORE = {"limit": "heard_max", "safe": "below", "source": "definition", "applies": {"receivers_listed": SOME}, "self_test": True, "exact": True}
opening_once_check = check("opening_is_heard_once", "opening_heard", title="No opening is more than one whole source", **NO_MORE,
                           fault="sound_sources whose source_share reaches 100 % of the opening and no more")
surface_once_check = check("surface_is_heard_once", "surface_heard", title="No outdoor surface is more than one whole source", **NO_MORE,
                           fault="sound_sources whose source_share reaches 100 % of the surface and no more")
gap_once_check = check("gap_is_heard_once", "gap_heard", title="The gaps of the shell are not more than one whole source", **NO_MORE,
                       fault="sound_sources of the kind gap whose source_share reaches 100 % and no more")
gap_check = check("gap_is_heard", "gap_heard", limit="heard_min", safe="above", source="definition",
                  applies={"receivers_listed": SOME}, self_test=True, title="Gaps of the shell are sources of sound",
                  exact=True, fault="sound_sources of the kind gap, in shares that reach 100 %")
exhaust_check = check("exhaust_is_listed", "exhaust_listed", limit="heard_min", safe="above", source="definition",
                      applies={"receivers_listed": SOME}, self_test=True, title="Exhaust outlets are listed", exact=True,
                      fault="an exhaust_mouth among the machines, or one of the kind other that holds the whole set")
fan_check = check("fan_is_listed", "fans_listed", limit="heard_min", safe="above", source="definition",
                  applies={"receivers_listed": SOME, "radiator_fan_noise": ("listed",)}, self_test=True, title="Fans of the radiators are listed", exact=True,
                  fault="an axial_fan or propeller_fan among the machines, or radiator_fan_noise: in_other_spectrum or no_fan")
