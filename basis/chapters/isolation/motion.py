"""Vibration isolation, second part: start and stop through resonance, flexible connections, snubbers.

The passage is that of one degree of freedom with first-order unbalance; compression and misfire shake a set at low speed as well and are left out.
"""

from basis.language.formula import check, formula
from basis.language.maths import min_over, sqrt

# ---- through resonance ----


@formula(source="definition")
def resonance_speed(natural_frequency, excitation_order):
    """Speed at which an order meets the natural frequency: the higher the order, the lower the speed. The half order of a four-stroke engine is met last,
    at twice the speed of the first.
    """
    return natural_frequency / excitation_order


@formula(source="definition")
def starter_speed_gap(speed_under_starter, resonance_speed):
    """How far the speed under the starter lies from each speed at resonance. If the engine is slow to fire the set stays there and shakes."""
    return abs(speed_under_starter / resonance_speed - 1)


@formula(source="definition")
def running_ratio(engine_speed, natural_frequency):
    """First order at rated speed over natural frequency."""
    return engine_speed / natural_frequency


@formula(source="unbalance-force", valid={"vibration_ratio": (1.4142, 100)})
def unbalance_force(vibration_mass, vibration_velocity, engine_speed, damping_ratio, vibration_ratio):
    """Amplitude of the exciting force of first order, from velocity and mass at which it was measured: a property of the engine, whatever stands below it.

    The whole of the velocity is put down to the first order, and the set is taken to have swung freely unless the project says on what it stood: both are
    the safe side. A heavier base moves less under the same force.

    Example: vibration_mass=10000 kg, vibration_velocity=10 mm/s, engine_speed=25 Hz, vibration_ratio=8 give 21.9 kN (hand calculation).
    """
    return vibration_mass * sqrt(2) * vibration_velocity * 2 * 3.141592653589793 * engine_speed * sqrt(
        (1 - vibration_ratio ** 2) ** 2 + (2 * damping_ratio * vibration_ratio) ** 2) / vibration_ratio ** 2


@formula(source="unbalance-force")
def free_amplitude(set_mounting, unbalance_force, sprung_mass, engine_speed):
    """Amplitude that the unbalance alone would give the set on its mounts far above resonance; a bolted set has no such motion.

    Example: set_mounting=springs, unbalance_force=21.87 kN, sprung_mass=10000 kg, engine_speed=25 Hz give 0.0886 mm (hand calculation).
    """
    return 0 if set_mounting == "solid" else unbalance_force / (sprung_mass * (2 * 3.141592653589793 * engine_speed) ** 2)


@formula(source="oscillator")
def resonance_amplitude(free_amplitude, damping_ratio):
    """Amplitude if the speed stayed at resonance until the motion has built up: half the free amplitude over damping, hardly more at small damping."""
    return free_amplitude / (2 * damping_ratio * sqrt(1 - damping_ratio ** 2))


@formula(source="definition")
def start_run_up_time(stages_crank_time, stages_run_up_time, start_run_up_usual):
    """From rest to rated speed: cranking and run-up as the stages of the start count them.

    Example: stages_crank_time=2.3 s, stages_run_up_time=3.2 s, start_run_up_usual=6 s give 5.5 s (hand calculation).
    """
    return stages_crank_time + stages_run_up_time if stages_run_up_time > 0 else start_run_up_usual


@formula(source="definition")
def start_sweep_rate(engine_speed, start_run_up_time):
    """Mean rise of speed. Near resonance, under the starter, an engine is slower than the mean."""
    return engine_speed / start_run_up_time


@formula(source="definition")
def stop_sweep_rate(engine_speed, stop_run_down_time):
    """Mean fall of speed. A set coasts for longer than it takes to start, so stopping shakes it more."""
    return engine_speed / stop_run_down_time


@formula(source=("swept-resonance", "oscillator"))
def start_amplitude(resonance_amplitude, sweep_peak_factor, natural_frequency, free_amplitude, start_sweep_rate):
    """Largest amplitude in running up: what a quick sweep leaves time for, and never more than standing at resonance would give.

    With usual damping the lesser bound is on the safe side; with hardly any it may be a fifth too low, since the unbalance force grows on.

    Example: resonance_amplitude=1.0 mm, natural_frequency=3.152 Hz, free_amplitude=0.1 mm, start_sweep_rate=4.167 Hz/s give 0.568 mm (hand calculation).
    """
    return min(resonance_amplitude, sweep_peak_factor * 3.141592653589793 * natural_frequency * free_amplitude / sqrt(start_sweep_rate))


@formula(source=("swept-resonance", "oscillator"))
def stop_amplitude(resonance_amplitude, sweep_peak_factor, natural_frequency, free_amplitude, stop_sweep_rate):
    """Largest amplitude in running down, in the same way."""
    return min(resonance_amplitude, sweep_peak_factor * 3.141592653589793 * natural_frequency * free_amplitude / sqrt(stop_sweep_rate))


@formula(source="oscillator")
def start_resonance_time(damping_ratio, natural_frequency, start_sweep_rate):
    """Time for which the first order stays within the half-power width of the resonance while the set runs up."""
    return 2 * damping_ratio * natural_frequency / start_sweep_rate


@formula(source="oscillator")
def stop_resonance_time(damping_ratio, natural_frequency, stop_sweep_rate):
    """The same while it runs down."""
    return 2 * damping_ratio * natural_frequency / stop_sweep_rate


@formula(source="definition")
def passage_amplitude(set_mounting, start_amplitude, stop_amplitude):
    """Larger of the two. A set that is bolted down has no travel of its own: what moves is its block."""
    return 0 if set_mounting == "solid" else max(start_amplitude, stop_amplitude)


# ---- connections ----

@formula(source="lever")
def set_movement(set_mounting, set_restraint, snubber_gap, passage_amplitude, movement_allowance):
    """Movement at the mounts for which every connection is made: the gap of the snubbers, which an earthquake uses up; without them that of start and stop.
    None for a bolted set, whose connections follow growth alone.

    Compression and misfire rock a free set by more than its unbalance does, so no less than an allowance is taken.
    """
    return 0 if set_mounting == "solid" else (snubber_gap if set_restraint == "snubbers" else max(passage_amplitude, movement_allowance))


@formula(source="lever")
def connection_movement(connection_growth, set_movement, connection_height, mount_spread):
    """Movement at a connection above the mounts: the set shifts and rocks at once, on the narrower spread of its mounts, and the pipe grows.

    Example: connection_growth=[12 mm], set_movement=6 mm, connection_height=[1.8 m], mount_spread=[3.6 m, 1.2 m] give [36 mm] (hand calculation).
    """
    return connection_growth + (set_movement * (1 + 2 * connection_height / min_over("plan_direction", mount_spread)) if set_movement > 0 else 0)


# ---- snubbers ----

@formula(source="definition")
def snubber_force(seismic_force, snubbers_acting):
    """Horizontal force of the earthquake, shared by the snubbers that act at once. Springs are not counted."""
    return seismic_force / snubbers_acting


@formula(source="definition")
def snubber_use(set_mounting, snubber_force, snubber_capacity):
    """Force over capacity. A set that is bolted down has no snubbers and uses none."""
    return 0 if set_mounting == "solid" else snubber_force / snubber_capacity


@formula(source="rigid-overturning")
def snubber_uplift(seismic_force, gravity_centre_height, dead_load_factor, seismic_vertical_ratio, sprung_weight, snubber_spacing,
                   gravity_centre, snubbers_in_row):
    """Pull on each snubber of the lifted row, the set turning about the other row. Overstrength is for anchors in concrete and not counted here.

    Example: seismic_force=60 kN, gravity_centre_height=1.2 m, seismic_vertical_ratio=0.16, sprung_weight=100 kN, snubber_spacing=[1.6 m, 1.6 m],
    gravity_centre=[0 m, 0 m], snubbers_in_row=[3, 3] give [2.667 kN, 2.667 kN] (hand calculation).
    """
    return max(0, seismic_force * gravity_centre_height - (dead_load_factor - seismic_vertical_ratio) * sprung_weight * (
        snubber_spacing / 2 - abs(gravity_centre))) / (snubber_spacing * snubbers_in_row)


@formula(source="definition")
def snubber_uplift_use(set_mounting, snubber_uplift, snubber_uplift_capacity):
    """Uplift over capacity; nothing for a set that is bolted down."""
    return 0 if set_mounting == "solid" else snubber_uplift / snubber_uplift_capacity


# ---- checks ----

ON_MOUNTS = {"set_mounting": ("springs", "elastomer")}
SNUBBED = {**ON_MOUNTS, "set_restraint": ("snubbers",)}
IN_EARTHQUAKE = {**SNUBBED, "seismic_code": ("ASCE_7-10", "ASCE_7-16", "ASCE_7-22", "project_coefficient")}

starter_check = check("starter_speed", "starter_speed_gap", limit="frequency_gap_min", safe="above", source="frequency-clearance",
                      title="Speed under the starter clear of resonance", applies=ON_MOUNTS)
passage_check = check("start_stop_travel", "passage_amplitude", limit="snubber_gap", safe="below", source="project", title="Travel at start and stop",
                      applies=SNUBBED)
connection_check = check("connection_travel", "connection_movement", limit="connection_movement_allowed", safe="below", source="project",
                         title="Flexible connections")
snubber_check = check("snubber_strength", "snubber_use", limit="full_use", safe="below", source="project", title="Snubbers, horizontal force",
                      applies=IN_EARTHQUAKE)
snubber_uplift_check = check("snubber_uplift_strength", "snubber_uplift_use", limit="full_use", safe="below", source="project", title="Snubbers, uplift",
                             applies=IN_EARTHQUAKE)
