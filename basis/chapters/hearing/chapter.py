"""Noise to people in the plant: levels where they work, the dose of a day by both common exchange rates, and hearing protection.

The day is that of one person; list the tasks of the most exposed. Left out: impulses, vibration, the wearing-in of protectors.
"""

from basis.language.formula import SOME, chapter, check, formula, order
from basis.language.maths import energy_sum_over, log10, m2, max_over, pick, sum_over

CHAPTER = chapter("hearing", "Noise to people in the plant", order=120,
                  settles="What people in the plant hear, how long they may stay, and what protects them.",
                  cautions=(
    "A running set destroys hearing within minutes, without pain. What is lost does not come back.",
    "Nobody enters while a set runs without hearing protection put on before the door. Sets start without warning: keep protectors outside the door, not "
    "inside.",
    "The sign at the door, its pictograms and its wording are those of the local code; so are limits, hearing tests and records.",
    "Speech, shouts and sounders are not heard in there. Alarms must be seen: lamps at every place of work, and never alone in the room while a set runs.",
    "Levels here are predicted. They are measured at the first run on load, and the figures of this chapter are replaced by those.",
))


# ---- levels ----

@formula(source="definition")
def exposure_others_distance(exposure_distance):
    """The other running sets as near as the nearest, which is the safe side, until the project says how far they are."""
    return exposure_distance


@formula(source="room-steady-level", valid={"exposure_distance": (1, 200)})
def exposure_inside_level(exposure_running_case, room_source_power, running_sets, room_directivity, exposure_distance, exposure_others_distance, room_constant):
    """Direct sound of the nearest running set at its distance, of the others at theirs, and what the room throws back of all."""
    return pick(exposure_running_case, room_source_power) + 10 * log10((
        room_directivity / (4 * 3.141592653589793) * (
            1 / (max(pick(exposure_running_case, running_sets), 1) * exposure_distance ** 2)
            + (1 - 1 / max(pick(exposure_running_case, running_sets), 1)) / exposure_others_distance ** 2) + 4 / room_constant) * m2)


@formula(source=("face-of-wall", "iso-12354-4"))
def exposure_band_level(exposure_place, exposure_inside_level, exposure_surface, surface_reduction):
    """Inside as it is; close outside a door or wall less its sound reduction and six decibels, and three back from the wall behind the ear.

    A door that is not shut keeps nothing.
    """
    return exposure_inside_level - (pick(exposure_surface, surface_reduction) + 3 if exposure_place == "outside_surface" else 0)


@formula(source=("sound-energy", "iec-61672-1"))
def exposure_level(exposure_place, exposure_stated_level, exposure_band_level, a_weighting):
    """All bands together, or the level that the project states for a place outside the plant."""
    return exposure_stated_level if exposure_place == "stated" else energy_sum_over("band", exposure_band_level + a_weighting)


@formula(source="definition")
def exposure_level_highest(exposure_level):
    """Highest level of the day."""
    return max_over("exposure", exposure_level)


@formula(source="definition")
def exposures_listed(exposure_duration):
    """Tasks of the day; where none is listed nobody is exposed to anything. Example: exposure_duration=[2 h, 30 min] give 2 (hand count)."""
    return sum_over("exposure", 1 if exposure_duration > 0 else 0)


@formula(source="definition")
def exposed_time(exposure_duration):
    """Times of all exposures of the day. Example: exposure_duration=[2 h, 30 min] give 2.5 h (hand calculation)."""
    return sum_over("exposure", exposure_duration)


# ---- dose, five decibels ----

@formula(source="osha-1910-95")
def permitted_time_five(working_day, exposure_level):
    """Eight hours at 90 dBA, half for each five decibels more. Example: exposure_level=[97 dBA] give [3.03 h] (hand calculation)."""
    return working_day / 2 ** ((exposure_level - 90) / 5)


@formula(source=("osha-1910-95", "osha-1910-95-threshold"))
def dose_five(exposure_duration, exposure_level, permitted_time_five):
    """Share of the day's allowance that is used up, by levels from 90 dBA on."""
    return sum_over("exposure", exposure_duration / permitted_time_five if exposure_level >= 90 else 0)


@formula(source=("osha-1910-95", "osha-1910-95-threshold"))
def dose_five_action(exposure_duration, exposure_level, permitted_time_five):
    """The same by levels from 80 dBA on: half of the allowance is where hearing tests and training begin."""
    return sum_over("exposure", exposure_duration / permitted_time_five if exposure_level >= 80 else 0)


@formula(source="osha-1910-95")
def average_five(dose_five):
    """Steady level of eight hours with the same dose. A dose under a thousandth is shown as that.

    Example: dose_five=165.98 % give 93.7 dBA (hand calculation).
    """
    return 16.61 * log10(max(dose_five, 0.001)) + 90


@formula(source="osha-1910-95")
def average_five_action(dose_five_action):
    """The same for the action level of 85 dBA."""
    return 16.61 * log10(max(dose_five_action, 0.001)) + 90


# ---- dose, three decibels ----

@formula(source="niosh-98-126")
def permitted_time_three(working_day, exposure_level):
    """Eight hours at 85 dBA, half for each three decibels more: equal energy.

    Example: exposure_level=[94 dBA, 106 dBA] give [1.00 h, 3.75 min] (hand calculation).
    """
    return working_day / 2 ** ((exposure_level - 85) / 3)


@formula(source="niosh-98-126")
def dose_three(exposure_duration, permitted_time_three):
    """Share of the day's allowance that is used up."""
    return sum_over("exposure", exposure_duration / permitted_time_three)


@formula(source="niosh-98-126")
def average_three(dose_three):
    """Steady level of eight hours with the same dose. Example: dose_three=400 % give 91.0 dBA (hand calculation)."""
    return 10 * log10(max(dose_three, 0.000001)) + 85


@formula(source="directive-2003-10")
def daily_exposure_level(exposure_duration, working_day, exposure_level):
    """Energy of the day over eight hours, by the European rule: also three decibels for a doubling, but with no base level."""
    return 10 * log10(max(sum_over("exposure", exposure_duration / working_day * 10 ** (exposure_level / 10)), 1))


@formula(source=("definition", "osha-1910-95-threshold"))
def day_exposure(exposure_rule, average_five, average_five_action, day_exposure_max, daily_exposure_level):
    """Exposure by the rule of the law that the project cites. Protectors do not lower it.

    With five decibels an action value below 90 dBA counts levels from 80 dBA on, the permissible exposure from 90 dBA on.
    """
    return daily_exposure_level if exposure_rule == "three_decibels" else average_five if day_exposure_max >= 90 else average_five_action


# ---- protection ----

@formula(source="osha-1910-95-protector")
def exposure_protected_level(exposure_level, exposure_protection, protector_derating, exposure_protector_rating):
    """Rating less seven decibels, of which a part is counted; nothing where no protector is worn.

    A protector worn for nine tenths of the time protects as if it were a poor one.
    """
    return exposure_level - (0 if exposure_protection == "none" else protector_derating * max(exposure_protector_rating - 7, 0))


@formula(source="directive-2003-10")
def daily_protected_level(exposure_duration, working_day, exposure_protected_level):
    """Energy of the day at the ear, by three decibels.

    Example: exposure_duration=[8 h], exposure_protected_level=[85 dBA] give 85 dBA (directive 2003/10/EC, eight hours are the level itself).
    """
    return 10 * log10(max(sum_over("exposure", exposure_duration / working_day * 10 ** (exposure_protected_level / 10)), 1))


@formula(source=("osha-1910-95", "osha-1910-95-protector"))
def average_five_protected(exposure_duration, working_day, exposure_protected_level):
    """Time-weighted average at the ear, by five decibels, all levels counted: one protector all day takes its own part off the average of the day.

    Example: exposure_duration=[2 h, 4 h], exposure_protected_level=[78 dBA, 70 dBA] give 71.65 dBA (29 CFR 1910.95 appendix A, 100 and
    92 dBA have an average of 93.65 dBA, and from memory appendix B, 22 dB less).
    """
    return 16.61 * log10(max(sum_over("exposure", exposure_duration / working_day * 2 ** ((exposure_protected_level - 90) / 5)), 0.000001)) + 90


@formula(source="definition")
def day_protected_exposure(exposure_rule, average_five_protected, daily_protected_level):
    """Exposure at the ear by the rule of the law that the project cites."""
    return daily_protected_level if exposure_rule == "three_decibels" else average_five_protected


@formula(source=("double-protection", "definition"))
def protection_level_max(exposure_protection, level_without_protection_max, level_with_single_protection_max, level_with_double_protection_max):
    """How loud a place may be for what the person wears there."""
    return (level_without_protection_max if exposure_protection == "none" else
            level_with_single_protection_max if exposure_protection == "single" else level_with_double_protection_max)


day_check = check("noise_exposure", "day_exposure", limit="day_exposure_max", safe="below", source="project", title="Noise exposure of the day, unprotected",
                  applies={"exposures_listed": SOME})
ear_check = check("noise_at_ear", "day_protected_exposure", limit="daily_protected_level_max", safe="below", source="project",
                  title="Noise exposure at the ear", applies={"exposures_listed": SOME})
whole_day_check = check("exposed_time_fits_the_day", "exposed_time", limit="day_length", safe="below", source="definition", self_test=True, exact=True,
                        title="The exposures of a day fit into a day", fault="exposure_duration of all exposures of one person together 24 h or less")
worn_check = check("hearing_protection", "exposure_level", limit="protection_level_max", safe="below", source="double-protection",
                   title="Hearing protection suits the level")

# What no sound text gives the other way round.
level_without_protection_max_order = order("level_without_protection_max", "level_with_single_protection_max")
level_with_single_protection_max_order = order("level_with_single_protection_max", "level_with_double_protection_max")
