"""Foundation, second part: force of an earthquake by the project's code, block and anchors under it.

Forces are at strength level. Left out: exemptions by category, relative displacement of buildings, and the strength of anchors and concrete,
which the anchor design gives.
"""

import numpy as np

from basis.chapters.foundation.footing import corner_pressure
from basis.language.formula import check, formula, procedure
from basis.language.maths import lookup

# ---- force ----


@formula(source="asce-7-13-3-1")
def height_ratio(attachment_height, roof_height):
    """Height of attachment over that of the roof: nought at or below grade, one at the roof and above it."""
    return min(1, max(0, attachment_height / roof_height))


@formula(source=("asce-7-10-table-13-6-1", "asce-7-16-table-13-6-1", "asce-7-22-13-3-1"))
def component_amplification(seismic_code, set_mounting, resonance_ductility):
    """Amplification by the mounting, read from the table of the edition; for the 7-22 edition the project gives its factor from the text in hand.

    Springs amplify: what isolates the building from the set does the reverse in an earthquake.
    """
    return (lookup("asce-7-10-table-13-6-1", "amplification", set_mounting) if seismic_code == "ASCE_7-10" else
            lookup("asce-7-16-table-13-6-1", "amplification", set_mounting) if seismic_code == "ASCE_7-16" else resonance_ductility)


@formula(source=("asce-7-10-table-13-6-1", "asce-7-16-table-13-6-1", "asce-7-22-13-3-1"))
def component_response(seismic_code, set_mounting, component_strength):
    """Response factor by the mounting, in the same way. Editions are not mixed: both factors come from the one that the project names."""
    return (lookup("asce-7-10-table-13-6-1", "response", set_mounting) if seismic_code == "ASCE_7-10" else
            lookup("asce-7-16-table-13-6-1", "response", set_mounting) if seismic_code == "ASCE_7-16" else component_strength)


@formula(source=("asce-7-13-3-1", "asce-7-22-13-3-1"))
def height_factor(seismic_code, height_slope, height_ratio, structure_ductility):
    """What the building adds on the way up. In the 7-22 edition the ductility of the building takes some of it off, and its period would give a lower
    figure.
    """
    return (1 + height_slope * height_ratio) / structure_ductility if seismic_code == "ASCE_7-22" else 1 + 2 * height_ratio


@formula(source=("asce-7-13-3-1", "asce-7-22-13-3-1"))
def seismic_ratio_formula(component_amplification, design_acceleration, component_response, seismic_importance, height_factor):
    """Horizontal force over weight before the limits.

    Example: component_amplification=2.5, design_acceleration=0.8, component_response=2.0, seismic_importance=1.5, height_factor=1 give 0.60 (hand
    calculation).
    """
    return 0.4 * component_amplification * design_acceleration / (component_response / seismic_importance) * height_factor


@formula(source="asce-7-13-3-1")
def seismic_ratio_min(design_acceleration, seismic_importance):
    """Lower limit, which governs a set that is bolted down at grade.

    Example: design_acceleration=0.8, seismic_importance=1.5 give 0.36 (hand calculation).
    """
    return 0.3 * design_acceleration * seismic_importance


@formula(source="asce-7-13-3-1")
def seismic_ratio_max(design_acceleration, seismic_importance):
    """Upper limit. Example: design_acceleration=0.8, seismic_importance=1.5 give 1.92 (hand calculation)."""
    return 1.6 * design_acceleration * seismic_importance


@formula(source=("asce-7-13-3-1", "project-seismic-code"))
def seismic_ratio(seismic_code, seismic_ratio_given, seismic_ratio_max, seismic_ratio_min, seismic_ratio_formula):
    """Horizontal force over weight: by formula between its limits, or as the project's own code gives it."""
    return seismic_ratio_given if seismic_code == "project_coefficient" else min(seismic_ratio_max, max(seismic_ratio_min, seismic_ratio_formula))


@formula(source="definition")
def seismic_vertical_ratio(seismic_code, seismic_vertical_given, vertical_share, design_acceleration):
    """Vertical force over weight, up or down, at the same time as the horizontal one."""
    return seismic_vertical_given if seismic_code == "project_coefficient" else vertical_share * design_acceleration


@formula(source="definition")
def gap_factor(set_mounting, seismic_code, wide_gap_factor, snubber_gap, snubber_gap_limit):
    """More than one where snubbers leave the set a wide gap to gather speed in. A project's own code counts it in its coefficient."""
    return wide_gap_factor if set_mounting != "solid" and seismic_code != "project_coefficient" and snubber_gap > snubber_gap_limit else 1


@formula(source="definition")
def seismic_force(gap_factor, seismic_ratio, sprung_weight):
    """Horizontal force at the centre of gravity, in any direction. It is worked out for the operating weight, not for the mass of the brochure."""
    return gap_factor * seismic_ratio * sprung_weight


@formula(source="definition")
def seismic_vertical_force(seismic_vertical_ratio, sprung_weight):
    """Vertical force that comes with it."""
    return seismic_vertical_ratio * sprung_weight


# ---- block ----

@formula(source="rigid-footing")
def earthquake_vertical_load(seismic_vertical_ratio, sprung_weight, block_mass, standard_gravity):
    """Load on the soil while the vertical force lifts."""
    return (1 - seismic_vertical_ratio) * (sprung_weight + block_mass * standard_gravity)


@formula(source="rigid-footing")
def earthquake_eccentricity(seismic_force, gravity_centre_height, block_thickness, seismic_ratio, block_mass, standard_gravity, sprung_weight,
                            gravity_centre, earthquake_vertical_load):
    """Moment about the underside of the block over that load. The block is shaken with the same ratio, acting at half its thickness; soil at its sides is
    not counted.
    """
    return (seismic_force * (gravity_centre_height + block_thickness) + seismic_ratio * block_mass * standard_gravity * block_thickness / 2
            + sprung_weight * abs(gravity_centre)) / earthquake_vertical_load


@formula(source="definition")
def earthquake_eccentricity_ratio(earthquake_eccentricity, block_sides):
    """Over the side of the block. At a half the block stands on its edge."""
    return earthquake_eccentricity / block_sides


@formula(source="rigid-footing")
def earthquake_offset(sprung_weight, gravity_centre, earthquake_vertical_load):
    """Eccentricity that the centre of gravity alone makes meanwhile, in the direction in which the force does not act."""
    return sprung_weight * abs(gravity_centre) / earthquake_vertical_load


@procedure(source="rigid-footing", yields=("earthquake_pressure",),
           equation="q = max(0, q_0 + q_x·x + q_y·y),  ∬ q = N_E,  ∬ q·x = N_E·e_E,  ∬ q·y = N_E·e_0, at the corner")
def earthquake_footing(earthquake_vertical_load, block_area, earthquake_eccentricity, earthquake_offset, block_sides):
    """Pressure under the worst corner for the force in each direction, as in the standing case: what lifts bears nothing, whichever way it lifts."""
    along, meanwhile = (np.asarray(one) / np.asarray(block_sides) for one in (earthquake_eccentricity, earthquake_offset))
    found = [corner_pressure((along[place], meanwhile[1 - place])) for place in range(2)]
    pressures = earthquake_vertical_load / block_area * np.array([ratio for ratio, _ in found])
    return (pressures,), max(residual for _, residual in found), "load and moments that are out of balance, over load and side"


# ---- anchors ----

@formula(source="rigid-overturning")
def overturning_moment(anchor_overstrength, seismic_force, gravity_centre_height):
    """Moment of the horizontal force about the plane of the anchors. Springs and snubbers raise the centre of gravity and are counted in its height."""
    return anchor_overstrength * seismic_force * gravity_centre_height


@formula(source="rigid-overturning")
def holding_moment(dead_load_factor, seismic_vertical_ratio, sprung_weight, anchor_spacing, gravity_centre):
    """Moment of what the vertical force leaves of the weight, about the pressed row, with the centre of gravity on its bad side."""
    return (dead_load_factor - seismic_vertical_ratio) * sprung_weight * (anchor_spacing / 2 - abs(gravity_centre))


@formula(source="rigid-overturning")
def anchor_tension(overturning_moment, holding_moment, anchor_spacing, anchors_in_tension):
    """Pull on each anchor of the lifted row; nothing where the weight holds by itself.

    Example: overturning_moment=72 kN*m, holding_moment=[59.2 kN*m, 72 kN*m], anchor_spacing=[1.6 m, 1.6 m], anchors_in_tension=[3, 3] give [2.667 kN, 0.000 kN]
    (hand calculation).
    """
    return max(0, overturning_moment - holding_moment) / (anchor_spacing * anchors_in_tension)


@formula(source="rigid-overturning")
def anchor_shear(anchor_overstrength, seismic_force, anchors_total):
    """Share of the horizontal force on each anchor. Friction under the base is not counted: the same shaking that pushes it lifts it."""
    return anchor_overstrength * seismic_force / anchors_total


@formula(source="definition")
def anchor_combined_use(anchor_tension, anchor_tension_capacity, anchor_shear, anchor_shear_capacity):
    """Tension and shear on one anchor at once, each over its capacity."""
    return anchor_tension / anchor_tension_capacity + anchor_shear / anchor_shear_capacity


# ---- checks ----

SHAKEN = {"seismic_code": ("ASCE_7-10", "ASCE_7-16", "ASCE_7-22", "project_coefficient")}  # a code that asks for no design leaves nothing to judge

bearing_earthquake_check = check("bearing_in_earthquake", "earthquake_pressure", limit="bearing_allowable_earthquake", safe="below", source="project",
                                 title="Bearing pressure in an earthquake", applies=SHAKEN)
overturning_check = check("block_overturning", "earthquake_eccentricity_ratio", limit="eccentricity_ratio_overturning", safe="below", source="rigid-footing",
                          title="Block does not overturn", applies=SHAKEN)
tension_check = check("anchor_pull", "anchor_tension", limit="anchor_tension_capacity", safe="below", source="project", title="Anchors, tension by overturning",
                      applies=SHAKEN)
shear_check = check("anchor_sliding", "anchor_shear", limit="anchor_shear_capacity", safe="below", source="project", title="Anchors, shear against sliding",
                    applies=SHAKEN)
combined_check = check("anchor_combined", "anchor_combined_use", limit="anchor_combined_max", safe="below", source="aci-318-interaction",
                       title="Anchors, tension and shear at once", applies=SHAKEN)
