"""Foundation: mass of the set, the block under it, the pressure on the soil, and the dynamic load of running.

Earthquake and anchors are in earthquake.py, the pressure under a footing in footing.py. Left out: settlement, the motion of block
and soil (a dynamic study gives its natural frequency), and the concrete itself.
"""

import numpy as np

from basis.chapters.foundation.footing import corner_pressure
from basis.language.formula import chapter, check, formula, procedure
from basis.language.maths import max_over, min_over, sqrt, sum_over

CHAPTER = chapter("foundation", "Foundation", order=140,
                  settles="Whether the base carries, spreads and steadies the sets on this soil.",
                  cautions=(
    "Figures here are for the structural engineer to take up, not to build from. Licensed structural practice and the code in force decide block, floor and "
    "anchors.",
    "Anchors are placed only by the approved design, with the product, hole, cleaning and torque that it names. A set held by the wrong anchor walks, or "
    "falls over.",
    "A set is lifted by its marked points, with a plan for the lift and for the floor that it crosses. Nobody stands under it or between it and a wall.",
    "Fuel, oil and coolant in the base add to the load on crane and floor: weigh, or reckon with the wet mass.",
    "The class of soil and the acceleration come from a report for this site. A coefficient of another edition of the code is not a safe substitute.",
))


# ---- mass ----

@formula(source="definition")
def coolant_fill(loop_set_volume):
    """What the loops hold in engine, coolers and a radiator that is on the set. Example: loop_set_volume=[420 L, 160 L] give 580 L (hand calculation)."""
    return sum_over("coolant_loop", loop_set_volume)


@formula(source="wet-mass")
def set_wet_mass(set_dry_mass, oil_fill, oil_density, coolant_fill, coolant_fill_density, base_tank_fill, fuel_density):
    """Mass of a set as it stands ready. Crane, floor and mounts see this mass, not the dry one of the brochure.

    Example: set_dry_mass=15800 kg, oil_fill=350 L, coolant_fill=800 L give 16956 kg (hand calculation).
    """
    return set_dry_mass + oil_fill * oil_density + coolant_fill * coolant_fill_density + base_tank_fill * fuel_density


# ---- block ----

@formula(source="definition")
def block_area(block_sides):
    """Length times width of the block under one set."""
    return max_over("plan_direction", block_sides) * min_over("plan_direction", block_sides)


@formula(source="definition")
def block_mass(concrete_density, block_area, block_thickness):
    """Mass of the block. Pits and ducts in it are left out."""
    return concrete_density * block_area * block_thickness


@formula(source="definition")
def block_ratio(block_mass, inertia_base_mass, set_wet_mass):
    """Mass of concrete and steel that steadies the set, over the mass of the set."""
    return (block_mass + inertia_base_mass) / set_wet_mass


@formula(source="definition")
def block_ratio_min(set_mounting, block_ratio_solid_min, block_ratio_isolated_min):
    """Rule of thumb by the mounting: a bolted set shakes its block with its full force, an isolated one with a part."""
    return block_ratio_solid_min if set_mounting == "solid" else block_ratio_isolated_min


@formula(source="definition")
def block_thickness_needed(block_thickness_min, block_ratio_min, set_wet_mass, inertia_base_mass, concrete_density, block_area):
    """Thickness that gives that mass on this area. Example: block_ratio_min=1, set_wet_mass=9000 kg, block_area=11.04 m^2 give 0.340 m (hand calculation)."""
    return max(block_thickness_min, (block_ratio_min * set_wet_mass - inertia_base_mass) / (concrete_density * block_area))


@formula(source="definition")
def block_overhang(block_sides, base_sides):
    """Concrete beyond the base on each side, the base in the middle."""
    return (block_sides - base_sides) / 2


# ---- bearing ----

@formula(source="definition")
def dynamic_load_factor(set_mounting, solid_dynamic_factor, isolated_dynamic_factor):
    """What running adds to the weight, as a factor on it. The structural engineer may ask for another."""
    return solid_dynamic_factor if set_mounting == "solid" else isolated_dynamic_factor


@formula(source="physics")
def structural_static_load(set_wet_mass, inertia_base_mass, block_mass, standard_gravity):
    """Weight of all that stands on the soil or floor under one set."""
    return (set_wet_mass + inertia_base_mass + block_mass) * standard_gravity


@formula(source="physics")
def bearing_load(dynamic_load_factor, set_wet_mass, inertia_base_mass, block_mass, standard_gravity):
    """The same with the dynamic factor on the set."""
    return (dynamic_load_factor * set_wet_mass + inertia_base_mass + block_mass) * standard_gravity


@formula(source="definition")
def bearing_mean(bearing_load, block_area):
    """Mean pressure under the block. Example: bearing_load=237.81 kN, block_area=11.04 m^2 give 21.54 kPa (hand calculation)."""
    return bearing_load / block_area


@formula(source="rigid-footing")
def block_eccentricity(dynamic_load_factor, set_wet_mass, inertia_base_mass, standard_gravity, gravity_centre, bearing_load):
    """Distance of the load from the middle of the block, the mounts being set out about that middle."""
    return (dynamic_load_factor * set_wet_mass + inertia_base_mass) * standard_gravity * abs(gravity_centre) / bearing_load


@formula(source="rigid-footing")
def kern_limit(block_sides):
    """A sixth of the side: up to there the whole block presses."""
    return block_sides / 6


@formula(source="rigid-footing")
def bearing_pressure_max(block_eccentricity, block_sides, bearing_load, block_area):
    """Pressure at the edge. Within the kern it is linear over the whole side; beyond, soil takes no tension and a shorter strip bears.

    Near half the side the block overturns; there the pressure is told for a strip of a hundredth of the side, beyond what any soil bears.
    Example: block_eccentricity=[200 mm, 0 mm], block_sides=[4.8 m, 2.3 m], bearing_load=215.75 kN, block_area=11.04 m^2 give [24.43 kPa, 19.54 kPa] (hand
    calculation).
    """
    return (bearing_load / block_area * (1 + 6 * block_eccentricity / block_sides) if block_eccentricity <= block_sides / 6 else
            2 * bearing_load * block_sides / (3 * block_area * max(block_sides / 2 - block_eccentricity, block_sides / 300)))


@formula(source="rigid-footing")
def bearing_pressure_min(block_eccentricity, block_sides, bearing_load, block_area):
    """Pressure at the other edge; nothing where the block lifts.

    Example: block_eccentricity=[200 mm, 0 mm], block_sides=[4.8 m, 2.3 m], bearing_load=215.75 kN, block_area=11.04 m^2 give [14.66 kPa, 19.54 kPa] (hand
    calculation).
    """
    return max(0, bearing_load / block_area * (1 - 6 * block_eccentricity / block_sides))


@formula(source="rigid-footing")
def kern_use(block_eccentricity, kern_limit):
    """Eccentricity over kern, added up along and across: the kern of a rectangle is a lozenge, so two halves fill it.

    The whole block bears up to 100 %. Example: block_eccentricity=[0.48 m, 0.1 m], kern_limit=[0.8 m, 0.4 m] give 85 % (hand calculation).
    """
    return sum_over("plan_direction", block_eccentricity / kern_limit)


@procedure(source="rigid-footing", yields=("bearing_pressure_corner",),
           equation="q = max(0, q_0 + q_x·x + q_y·y),  ∬ q = N,  ∬ q·x = N·e_x,  ∬ q·y = N·e_y,  q_c at the corner")
def footing_pressure(bearing_load, block_area, block_eccentricity, block_sides):
    """Pressure under the corner to which both eccentricities point: linear over what bears, and nothing where the block lifts.

    Within the kern it is N/A·(1 + 6·Σ e/L). Beyond, soil takes no tension, a part bears the whole load and the pressure rises faster.
    Example: bearing_load=215.75 kN, block_area=11.04 m^2, block_eccentricity=[0.3 m, 0.1 m], block_sides=[4.8 m, 2.3 m] give bearing_pressure_corner=31.97 kPa
    (hand calculation). Example: bearing_load=215.75 kN, block_area=11.04 m^2, block_eccentricity=[1.0 m, 0 m], block_sides=[4.8 m, 2.3 m] give
    bearing_pressure_corner=44.67 kPa (hand calculation).
    """
    ratio, residual = corner_pressure(np.asarray(block_eccentricity) / np.asarray(block_sides))
    return (float(bearing_load / block_area * ratio),), residual, "load and moments that are out of balance, over load and side"


# ---- force of running ----

@formula(source="oscillator")
def running_transmissibility(damping_ratio, running_ratio):
    """Part of the first-order force that reaches the block: below one on soft mounts, above one where a bolted set and its block run under their natural
    frequency.
    """
    return sqrt((1 + (2 * damping_ratio * running_ratio) ** 2) / ((1 - running_ratio ** 2) ** 2 + (2 * damping_ratio * running_ratio) ** 2))


@formula(source="oscillator")
def transmitted_force(running_transmissibility, unbalance_force):
    """Amplitude of the force that the structure feels at the speed of the engine. Its other orders come on top and need the maker's figures."""
    return running_transmissibility * unbalance_force


# ---- checks ----

mass_check = check("block_mass_ratio", "block_ratio", limit="block_ratio_min", safe="above", source="block-ratio", title="Mass of the block")
thickness_check = check("block_least_thickness", "block_thickness", limit="block_thickness_min", safe="above", source="block-least-thickness",
                        title="Thickness of the block")
overhang_check = check("block_beyond_base", "block_overhang", limit="block_overhang_min", safe="above", source="tm-5-6115-593-34-pad",
                       title="Block beyond the base")
rear_check = check("block_beyond_rear", "block_rear_overhang", limit="block_rear_overhang_min", safe="above", source="tm-5-6115-593-34-pad",
                   title="Block beyond the rear of the base")
height_check = check("block_above_floor", "block_height", limit="block_height_min", safe="above", source="tm-5-6115-593-34-pad",
                     title="Block above the floor")
gap_check = check("block_separation", "block_gap", limit="block_gap_min", safe="above", source="block-gap", title="Block apart from the slab",
                  applies={"floor_kind": ("ground",)})
kern_check = check("block_kern", "kern_use", limit="full_use", safe="below", source="rigid-footing", title="Load within the kern")
bearing_check = check("bearing_pressure", "bearing_pressure_corner", limit="bearing_allowable", safe="below", source="project", title="Bearing pressure")
