"""Vibration isolation: loads of the mounts, natural frequency, and what of each order passes into the floor.

Start and stop, flexible connections and snubbers are in motion.py. Only the vertical motion is worked out; the coupled
rocking and swaying of the set are left out and need its moments of inertia.
"""

import numpy as np

from basis.language.formula import caution, chapter, check, formula, order, procedure
from basis.language.maths import max_over, min_over, sqrt, sum_over

ON_MOUNTS = {"set_mounting": ("springs", "elastomer")}  # a bolted set has no mounts, and nothing of it is isolated

CHAPTER = chapter("isolation", "Vibration isolation", order=130,
                  settles="How much of the shaking of the sets reaches the building.",
                  cautions=(
    "Nobody works or reaches under a set that hangs from a crane or rests on jacks. It is let down on packing of its full strength first.",
    caution("Springs are set under load: a set that drops by a few millimetres crushes fingers between base, spring housing and snubber. Keep hands out "
            "of gaps.",
            set_mounting=("springs",)),
    caution("A compressed spring holds energy. It is released by the maker's procedure only, never by taking out the bolt that holds it.",
            set_mounting=("springs",)),
    caution("A set on soft mounts rocks when it starts and stops, without warning if it starts by itself. Lock it against starting before anyone stands in its "
            "travel.",
            **ON_MOUNTS),
    "Fuel, coolant and exhaust joints that move tear if one of them is rigid. A torn fuel hose beside a turbocharger is a fire.",
    "Mounts and restraints here are a screen. The maker of the mounts, the structural engineer and, for the whole motion, a study of all six degrees of "
    "freedom decide.",
))


# ---- weight and its sharing ----

@formula(source="definition")
def sprung_mass(set_wet_mass, inertia_base_mass):
    """All that the mounts carry: the set with its fluids, and the inertia base if there is one."""
    return set_wet_mass + inertia_base_mass


@formula(source="physics")
def sprung_weight(sprung_mass, standard_gravity):
    """Weight of it. Example: sprung_mass=9000 kg give 88.26 kN (hand calculation)."""
    return sprung_mass * standard_gravity


@formula(source="definition")
def mount_spread(mount_place):
    """Distance between the outermost mounts, the base on which the set stands against rocking."""
    return max_over("mount", mount_place) - min_over("mount", mount_place)


@formula(source="definition")
def mount_middle_offset(mount_place):
    """How far the middle between the outermost mounts lies from the point from which mounts and centre of gravity are measured."""
    return abs(max_over("mount", mount_place) + min_over("mount", mount_place)) / 2


@formula(source="definition")
def mount_support_stiffness(set_mounting, hold_down_stiffness, mount_stiffness):
    """Stiffness by which the weight is shared: that of the mount, or one alike for all hold-down points of a set that is bolted to its block."""
    return hold_down_stiffness if set_mounting == "solid" else mount_stiffness


@procedure(source="rigid-body-statics", equation="F_i = k_i·(z + α·x_i + β·y_i),  Σ F_i = W,  Σ F_i·x_i = W·e_x,  Σ F_i·y_i = W·e_y + M",
           yields=("mount_static_load", "mount_torque_share"))
def mount_loads(sprung_weight, gravity_centre, mount_place, mount_support_stiffness):
    """Loads of a rigid set on springs, which sinks and tilts until forces and moments balance; the same for a unit of torque about its length.

    With equal mounts it is the familiar W/n + W·e·x_i/Σx². The base is taken as stiff against the mounts; a limber base shares otherwise.
    Example: sprung_weight=88.26 kN, gravity_centre=[0.25 m, 0.03 m], mount_place=[[-1.8 m, -0.6 m], [0 m, -0.6 m], [1.8 m, -0.6 m], [-1.8 m, 0.6 m], [0 m,
    0.6 m], [1.8 m, 0.6 m]], mount_support_stiffness=[1000 N/mm, 1000 N/mm, 1000 N/mm, 1000 N/mm, 1000 N/mm, 1000 N/mm] give mount_static_load=[10.91 kN,
    13.97 kN, 17.04 kN, 12.38 kN, 15.45 kN, 18.51 kN] (hand calculation).
    """
    place, stiffness = np.asarray(mount_place, dtype=float), np.asarray(mount_support_stiffness, dtype=float)
    if not len(place):
        return (np.zeros(0), np.zeros(0)), 0.0, "no mounts listed"
    lever = np.column_stack([np.ones(len(place)), place])
    if np.linalg.matrix_rank(lever) < 3:
        raise ValueError("the mounts must be three or more, and not all in one line")
    wanted = np.column_stack([sprung_weight * np.array([1.0, *np.asarray(gravity_centre, dtype=float)]), [0.0, 0.0, 1.0]])
    sinking = np.linalg.solve(lever.T @ (stiffness[:, None] * lever), wanted)
    loads = stiffness[:, None] * (lever @ sinking)
    residual = float(np.max(np.abs(lever.T @ loads[:, 0] - wanted[:, 0]))) / sprung_weight
    return (loads[:, 0], loads[:, 1]), residual, "largest unbalanced force, or moment per metre, over the weight"


@formula(source="static-deflection")
def mount_deflection(mount_static_load, mount_support_stiffness, set_mounting):
    """Deflection of each mount at rest. Where they differ the base stands out of level, and mounts of another stiffness or a shifted place put it right."""
    return 0 if set_mounting == "solid" else mount_static_load / mount_support_stiffness


# ---- torque ----

@formula(source="torque-reaction")
def engine_torque(engine_shaft_power, engine_speed):
    """Torque at site power. Example: engine_shaft_power=1 MW, engine_speed=1500 r/min give 6366 N*m (hand calculation)."""
    return engine_shaft_power / (2 * 3.141592653589793 * engine_speed)


@formula(source="torque-reaction")
def steady_mount_torque(torque_path, engine_torque):
    """Torque that the mounts hold while the set runs.

    Engine and alternator pull on their frame with equal and opposite torques. On one rigid base these cancel inside it; an engine on mounts
    of its own hands its whole torque to them. When it is not certain, the mounts are taken to bear it.
    """
    return engine_torque if torque_path == "through_mounts" else 0


@formula(source="torque-reaction")
def torque_side_load(steady_mount_torque, mount_torque_share):
    """Force of the couple on each side. With all mounts in two rows it is torque over the distance of the rows: 6,366 N·m at 1.2 m give 5,305 N (hand
    calculation).
    """
    return steady_mount_torque * sum_over("mount", abs(mount_torque_share)) / 2


@formula(source="torque-reaction")
def mount_load_high(mount_static_load, mount_torque_share, steady_mount_torque):
    """Load of the mount if the torque presses it down. Either side is looked at, since the sense of rotation is often known late."""
    return mount_static_load + abs(mount_torque_share) * steady_mount_torque


@formula(source="torque-reaction")
def mount_load_low(mount_static_load, mount_torque_share, steady_mount_torque):
    """Load of the mount if the torque lifts it. Below nought it has come loose."""
    return mount_static_load - abs(mount_torque_share) * steady_mount_torque


@formula(source="torque-reaction")
def fault_torque(short_circuit_torque_ratio, engine_torque):
    """Peak torque of the alternator at a short circuit. It meets no counterpart in the base: the turning masses take it up."""
    return short_circuit_torque_ratio * engine_torque


@formula(source="torque-reaction")
def fault_side_load(fault_torque, mount_torque_share):
    """Force on one side if that peak stood still: an upper bound, for soft mounts do not follow a torque that swings at line frequency."""
    return fault_torque * sum_over("mount", abs(mount_torque_share)) / 2


# ---- natural frequency ----

@formula(source="definition")
def stiffness_ratio(set_mounting, dynamic_stiffness_ratio):
    """How much stiffer the mounts are in motion than at rest: elastomer is, steel is not."""
    return dynamic_stiffness_ratio if set_mounting == "elastomer" else 1


@formula(source="definition")
def mounts_stiffness(mount_stiffness):
    """Springs side by side: their stiffnesses add."""
    return sum_over("mount", mount_stiffness)


@formula(source="static-deflection")
def static_deflection(set_mounting, sprung_weight, mounts_stiffness):
    """Mean deflection under the weight; of a set that is bolted down, none that isolates."""
    return 0 if set_mounting == "solid" else sprung_weight / mounts_stiffness


@formula(source="series-springs")
def support_factor(floor_kind, stiffness_ratio, mounts_stiffness, floor_stiffness):
    """What a floor that gives leaves of the natural frequency: mounts and floor are springs one on the other.

    The floor is taken without mass, which is a screen only.

    Example: floor_kind=suspended, stiffness_ratio=1, mounts_stiffness=200 N/mm, floor_stiffness=1000 N/mm give 0.9129 (hand calculation).
    """
    return 1 if floor_kind == "ground" else sqrt(1 / (1 + stiffness_ratio * mounts_stiffness / floor_stiffness))


@formula(source="static-deflection", valid={"natural_frequency": (1, 60)})
def natural_frequency(set_mounting, stiffness_ratio, standard_gravity, static_deflection, support_factor, block_natural_frequency):
    """Vertical natural frequency, from the static deflection of linear mounts; of a bolted set, that of its block on the soil.

    Example: set_mounting=springs, stiffness_ratio=1, static_deflection=25 mm, support_factor=1 give 3.152 Hz (hand calculation).
    """
    return (block_natural_frequency if set_mounting == "solid" else
            sqrt(stiffness_ratio * standard_gravity / static_deflection) * support_factor / (2 * 3.141592653589793))


# ---- excitation and what passes ----

@formula(source="engine-orders")
def turns_per_cycle(engine_strokes):
    """Turns of the crankshaft to a working cycle: two of a four-stroke engine, one of a two-stroke."""
    return 2 if engine_strokes == "four_stroke" else 1


@procedure(source="engine-orders", equation="i = 1/n_c, 1, z_c/n_c", yields=("excitation_order",))
def engine_orders(engine_cylinders, turns_per_cycle):
    """Orders that matter below the mounts: once a working cycle by uneven cylinders or a misfire, once a turn by unbalance, and once a firing.

    Once a cycle is the half order of a four-stroke engine; a two-stroke engine has none, its cycle is a turn. The firing order by itself flatters any
    mounting; the order of the cycle governs it. Other orders of a given crankshaft can be given instead.
    """
    orders = np.array([1 / turns_per_cycle, 1.0, engine_cylinders / turns_per_cycle])
    return (orders,), abs(float(turns_per_cycle * orders[-1] - engine_cylinders)), "firings in a cycle less cylinders"


@formula(source="engine-orders")
def excitation_frequency(excitation_order, engine_speed):
    """Frequency of each order at rated speed. Example: excitation_order=[0.5, 1, 6], engine_speed=1500 rpm give [12.5 Hz, 25 Hz, 150 Hz] (hand calculation)."""
    return excitation_order * engine_speed


@formula(source="definition")
def frequency_ratio(excitation_frequency, natural_frequency):
    """How far above its natural frequency the set is driven. Below √2 mounts amplify, whatever their damping."""
    return excitation_frequency / natural_frequency


@formula(source="oscillator")
def transmissibility(damping_ratio, frequency_ratio):
    """Part of the exciting force that reaches the floor. Damping tames the passage through resonance and is paid for above it.

    Example: frequency_ratio=[7.931, 7.931, 7.931] give [2.062 %, 2.062 %, 2.062 %] (hand calculation).
    """
    return sqrt((1 + (2 * damping_ratio * frequency_ratio) ** 2) / ((1 - frequency_ratio ** 2) ** 2 + (2 * damping_ratio * frequency_ratio) ** 2))


@formula(source="definition")
def isolation_efficiency(transmissibility):
    """What is kept from the floor."""
    return 1 - transmissibility


@formula(source="oscillator")
def frequency_ratio_needed(transmissibility_max):
    """Ratio at which undamped mounts let pass what is allowed. Example: transmissibility_max=5 % give 4.583 (hand calculation)."""
    return sqrt(1 + 1 / transmissibility_max)


@formula(source="static-deflection")
def deflection_needed(stiffness_ratio, standard_gravity, frequency_ratio_needed, excitation_frequency):
    """Static deflection that gives this ratio, on a floor that does not give.

    Example: stiffness_ratio=1, frequency_ratio_needed=4.583, excitation_frequency=[12.5 Hz, 25 Hz, 150 Hz] give [33.39 mm, 8.348 mm, 0.2319 mm] (hand
    calculation).
    """
    return stiffness_ratio * standard_gravity * (frequency_ratio_needed / (2 * 3.141592653589793 * excitation_frequency)) ** 2


@formula(source="oscillator")
def curve_transmissibility(damping_ratio, curve_ratio):
    """The same law over all ratios, for the curve that is drawn."""
    return sqrt((1 + (2 * damping_ratio * curve_ratio) ** 2) / ((1 - curve_ratio ** 2) ** 2 + (2 * damping_ratio * curve_ratio) ** 2))


# ---- floor ----

@formula(source="series-springs")
def floor_deflection_ratio(floor_kind, mounts_stiffness, floor_stiffness):
    """How much the floor sinks under the weight, over what the mounts sink. A slab on the ground is taken not to sink."""
    return 0 if floor_kind == "ground" else mounts_stiffness / floor_stiffness


@formula(source="definition")
def block_frequency_gap(block_natural_frequency, excitation_frequency):
    """How far the frequency of block and soil lies from each order: what counts for a bolted set, which nothing isolates.

    Example: block_natural_frequency=31 Hz, excitation_frequency=[12.5 Hz, 25 Hz, 200 Hz] give [148 %, 24 %, 84.5 %] (hand calculation).
    """
    return abs(block_natural_frequency / excitation_frequency - 1)


@formula(source="definition")
def floor_frequency_gap(floor_kind, floor_natural_frequency, excitation_frequency):
    """How far the floor's own frequency lies from each order. A slab on the ground is taken to have none in this range, and counts as fully clear."""
    return 1 if floor_kind == "ground" else abs(floor_natural_frequency / excitation_frequency - 1)


# ---- checks ----

ON_MOUNTS_AND_FLOOR = {**ON_MOUNTS, "floor_kind": ("suspended",)}

tuning_check = check("isolation_ratio", "frequency_ratio", limit="frequency_ratio_min", safe="above", source="isolation-ratio",
                     title="Orders above the natural frequency", applies=ON_MOUNTS)
passing_check = check("isolation_passing", "transmissibility", limit="transmissibility_max", safe="below", source="project",
                      title="Force that passes the mounts", applies=ON_MOUNTS)
block_tuning_check = check("block_tuning", "block_frequency_gap", limit="frequency_gap_min", safe="above", source="frequency-clearance",
                           title="Block of a bolted set clear of the orders", applies={"set_mounting": ("solid",)})
overload_check = check("mount_overload", "mount_load_high", limit="mount_load_max", safe="below", source="project", title="Mounts not overloaded",
                       applies=ON_MOUNTS)
underload_check = check("mount_underload", "mount_load_low", limit="mount_load_min", safe="above", source="project", title="Mounts loaded enough to isolate",
                        applies=ON_MOUNTS)
uplift_check = check("mount_uplift", "mount_load_low", limit="mount_load_uplift", safe="above", source="rigid-body-statics", title="No mount comes loose",
                     applies=ON_MOUNTS)
floor_check = check("floor_deflection", "floor_deflection_ratio", limit="floor_deflection_ratio_max", safe="below", source="floor-rule",
                    title="Floor stiff against the mounts", applies=ON_MOUNTS_AND_FLOOR)
floor_tuning_check = check("floor_tuning", "floor_frequency_gap", limit="frequency_gap_min", safe="above", source="floor-rule",
                           title="Floor clear of the orders", applies={"floor_kind": ("suspended",)})

# What no sound text gives the other way round.
mount_load_min_order = order("mount_load_min", "mount_load_max")
speed_under_starter_order = order("speed_under_starter", "engine_speed")
# The foundation takes the same centre of gravity from the middle of its block, so mounts measured from elsewhere would tip the block.
middle_check = check("mounts_about_middle", "mount_middle_offset", limit="mount_middle_offset_max", safe="below", source="definition",
                     title="Mounts are measured from their middle", exact=True, self_test=True,
                     fault="mount_place and gravity_centre measured from the middle between the outermost mounts")
