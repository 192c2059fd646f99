"""Cables as installed, third part: bends, pulling, conduits and supports. In a bend the weight of the cable itself is left out and friction multiplies
the tension; bends lie flat. A push at the drum end, rollers that turn and joints drawn in are left out.
"""

import numpy as np

from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import check, formula, procedure
from basis.language.maths import kV, lookup, nothing, pick, sqrt

# Bends

@formula(source="nec-300-34")
def cable_bend_multiple(cable_voltage):
    """Twelve diameters for shielded cable above a thousand volts, eight below, unless the maker declares another."""
    return 12 if cable_voltage > 1 * kV else 8


@formula(source="nec-300-34")
def cable_bend_radius_min(cable_bend_multiple, cable_diameter):
    """Least radius to the inside of a bend. A tighter one opens screens and creases insulation, and shows years later.

    Example: cable_bend_multiple=[12], cable_diameter=[56 mm] give [672 mm] (hand calculation).
    """
    return cable_bend_multiple * cable_diameter


# Pulling

@formula(source="definition")
def cables_in_circuit(cable_type):
    """Three single-core cables, or one three-core cable; a project with a neutral gives four."""
    return 3 if cable_type == "single_core" else 1


@formula(source="definition")
def cable_cores(cable_type):
    """Phase conductors within one cable."""
    return 1 if cable_type == "single_core" else 3


@formula(source="definition")
def cable_pulled_together(cables_in_circuit):
    """The cables of one circuit go in together, so that none rubs over another that lies already."""
    return cables_in_circuit


@formula(source="physics")
def cable_pull_weight(cable_pulled_together, cable_mass_per_length, standard_gravity):
    """Weight per length of what is pulled. Example: cable_pulled_together=[1], cable_mass_per_length=[2.232 kg/m] give [1.5 lbf/ft] (hand calculation)."""
    return cable_pulled_together * cable_mass_per_length * standard_gravity


@formula(source="pull-stress")
def cable_pull_tension_max(cable_pull_method, cable_material, pulling_stress_copper, pulling_stress_aluminium, cable_pulled_together, cable_cores,
                           cable_conductor_area, grip_tension_max):
    """Largest tension: what the conductors bear at an eye, and no more than the grip if the jacket is held. Screens and armour are not counted on.

    Example: cable_pulled_together=[3], cable_cores=[1], cable_conductor_area=[500 kcmil] give [53.4 kN] (hand calculation).
    """
    return (cable_pulled_together * cable_cores * cable_conductor_area * (pulling_stress_copper if cable_material == "copper" else pulling_stress_aluminium)
            if cable_pull_method == "eye"
            else min(grip_tension_max, cable_pulled_together * cable_cores * cable_conductor_area
                     * (pulling_stress_copper if cable_material == "copper" else pulling_stress_aluminium)))


@procedure(source="pull-mechanics",
           equation="straight: F ← F + w·l·(W·μ·cos α + sin α), not below nought;  bend: F ← F·e^(W·μ·θ);  one section after the other, from either end",
           yields=("pull_tension", "pull_bend_tension", "cable_tension_as_listed", "cable_tension_reversed"))
def pull(pull_cable, pull_conduit, conduit_cable, conduit_weight_correction, pull_length, pull_slope, pull_bend_angle, pull_bend_radius, cable_pull_weight,
         cable_friction, cable_back_tension, cable_pull_direction):
    """Tension along the run of each cable, pulled from either end. Bends late in the pull multiply what has gathered before them, so the two ends can
    differ by much; the tension of the better end, or of the one that the project chose, is carried on.
    """
    troubles = [ItemTrouble("pull_bend_radius", int(place), "is not given, but the section bends", "the radius of the bend")
                for place in np.flatnonzero((pull_bend_angle > 0) & np.isnan(pull_bend_radius))]
    troubles += [ItemTrouble("pull_conduit", int(place), "holds another cable than the one that is pulled", "the conduit of this cable")
                 for place in np.flatnonzero(pull_conduit >= 0) if conduit_cable[pull_conduit[place]] != pull_cable[place]]
    if troubles:
        raise ItemTroubles(troubles)
    correction = np.array([conduit_weight_correction[run] if run >= 0 else 1.0 for run in pull_conduit])
    after, bends, ends = np.full(len(pull_cable), np.nan), np.full(len(pull_cable), np.nan), np.full((2, len(cable_friction)), np.nan)
    for cable in dict.fromkeys(pull_cable.tolist()):
        places = np.flatnonzero(pull_cable == cable)
        sections = [(pull_length[place], pull_slope[place], pull_bend_angle[place], correction[place]) for place in places]
        listed = _along(sections, cable_pull_weight[cable], cable_friction[cable], cable_back_tension[cable])
        turned = _along([(length, -slope, angle, factor) for length, slope, angle, factor in reversed(sections)],
                        cable_pull_weight[cable], cable_friction[cable], cable_back_tension[cable], bend_first=True)
        ends[:, cable] = listed[-1][0], turned[-1][0]
        backwards = cable_pull_direction[cable] == "reversed" or (cable_pull_direction[cable] == "better" and turned[-1][0] < listed[-1][0])
        chosen = turned[::-1] if backwards else listed
        after[places], bends[places] = zip(*chosen)
    return (after, bends, ends[0], ends[1]), _balance(pull_cable, pull_length, pull_slope, cable_pull_weight, ends), \
        "frictionless rise that the tension falls short of, N; nought"


def _along(sections, weight: float, friction: float, tension: float, bend_first: bool = False) -> list:
    """(tension where the cable leaves the section, tension where it leaves the bend) of each section in the order of pulling."""
    found = []
    for length, slope, angle, correction in sections:
        grip = np.exp(correction * friction * angle)
        climb = weight * length * (correction * friction * np.cos(slope) + np.sin(slope))
        if bend_first:
            bend = tension * grip
            tension = np.fmax(bend + climb, 0) if not np.isnan(climb) else climb
        else:
            bend = (np.fmax(tension + climb, 0) if not np.isnan(climb) else climb) * grip
            tension = bend
        found.append((tension, bend))
    return found


def _balance(pull_cable, pull_length, pull_slope, weight, ends) -> float:
    """By how much a cable's tension falls short of the bare lift of its weight: friction only ever adds."""
    short = [0.0]
    for cable in dict.fromkeys(pull_cable.tolist()):
        rise = float(np.sum((pull_length * np.sin(pull_slope))[pull_cable == cable]) * weight[cable])
        short += [max(0.0, lift - end) for lift, end in ((rise, ends[0, cable]), (-rise, ends[1, cable])) if end == end]
    return max(short)


@formula(source="definition")
def pull_tension_max(pull_cable, cable_pull_tension_max):
    """What the cable of the section may be pulled with."""
    return pick(pull_cable, cable_pull_tension_max)


@formula(source="pull-weight-correction")
def pull_wall_share(pull_conduit, conduit_cables, conduit_weight_correction):
    """Share of the pressure that the worst cable takes: of three in a cradle the middle one; a cable alone, and in doubt each of several, the whole.

    Example: pull_conduit=[item_1], conduit_cables=[3], conduit_weight_correction=[1.3333] give [0.667] (hand calculation).
    """
    return (3 * pick(pull_conduit, conduit_weight_correction) - 2) / 3 if pick(pull_conduit, conduit_cables) == 3 else 1


@formula(source="side-wall-pressure")
def side_wall_pressure(pull_bend_angle, pull_wall_share, pull_bend_tension, pull_bend_radius):
    """Tension over radius where the cable leaves the bend, on the worst cable: this crushes insulation against the wall.

    Example: pull_bend_angle=[90 deg], pull_wall_share=[1], pull_bend_tension=[144.2 lbf], pull_bend_radius=[2 ft] give [72.1 lbf/ft] (hand calculation).
    """
    return 0 if pull_bend_angle == 0 else pull_wall_share * pull_bend_tension / pull_bend_radius


# Conduits

@formula(source="definition")
def conduit_cables(conduit_circuits, conduit_cable, cables_in_circuit):
    """Power cables in the conduit: all phases of each circuit, since one phase alone would heat steel.

    Example: conduit_circuits=[2], conduit_cable=[item_1], cables_in_circuit=[3] give [6] (hand calculation).
    """
    return conduit_circuits * pick(conduit_cable, cables_in_circuit)


@formula(source="nec-ch9-table-4")
def conduit_run_diameter(conduit_run_table, conduit_run_size):
    """Inner diameter that belongs to the printed area, unless the project gives it.

    Example: conduit_run_table=[nec-ch9-table-4-emt], conduit_run_size=[2-1/2 in] give [2.731 in] (NEC chapter 9, table 4).
    """
    return sqrt(4 / 3.141592653589793 * lookup(conduit_run_table, "area", conduit_run_size))


@formula(source="nec-ch9-table-1")
def conduit_run_fill(conduit_cables, conduit_cable, cable_diameter, conduit_other_area, conduit_run_diameter):
    """Area of everything in the conduit over its own.

    Example: conduit_cables=[3], conduit_cable=[item_1], cable_diameter=[0.949 in], conduit_other_area=[0.1855 in^2], conduit_run_diameter=[2.731 in] give
    [39.4 %] (hand calculation).
    """
    return ((conduit_cables * 3.141592653589793 / 4 * pick(conduit_cable, cable_diameter) ** 2 + conduit_other_area)
            / (3.141592653589793 / 4 * conduit_run_diameter ** 2))


@formula(source="nec-ch9-table-1")
def conduit_run_fill_max(conduit_cables, conduit_other_count):
    """One conductor may fill 53 %, two 31 %, more 40 %, unless the project gives the limit of its code. Two lie side by side and leave the top empty."""
    return 0.53 if conduit_cables + conduit_other_count == 1 else 0.31 if conduit_cables + conduit_other_count == 2 else 0.40


@formula(source="definition")
def conduit_jam_ratio(conduit_run_diameter, conduit_cable, cable_diameter):
    """Inner diameter of the conduit over diameter of a cable.

    Example: conduit_run_diameter=[2.731 in], conduit_cable=[item_1], cable_diameter=[0.949 in] give [2.88] (hand calculation).
    """
    return conduit_run_diameter / pick(conduit_cable, cable_diameter)


@formula(source=("nec-ch9-jam", "jam-guide"))
def conduit_jam_distance(conduit_cables, conduit_jam_ratio):
    """Three cables may line up across a bend and wedge: from 2.8 to 3.2 diameters by the code, from 2.8 by the guides once the bend has made the conduit
    five per cent oval. Both ranges are taken as one.

    Example: conduit_cables=[3, 3], conduit_jam_ratio=[2.88, 3.54] give [-0.21, 0.34] (hand calculation).
    """
    return max(2.8 / 1.05 - conduit_jam_ratio, conduit_jam_ratio - 3.2) if conduit_cables == 3 else nothing


@formula(source="pull-weight-correction", valid={"conduit_jam_ratio": (2.15, 20)})
def conduit_weight_correction(conduit_cables, conduit_jam_ratio):
    """Round cables in a round conduit press apart and on the wall with more than their weight: one alone does not, three in a cradle do, four do more.

    Example: conduit_cables=[3], conduit_jam_ratio=[3] give [1.333] (hand calculation).
    """
    return (1 if conduit_cables == 1 else 1 + 4 / 3 / (conduit_jam_ratio - 1) ** 2 if conduit_cables < 4
            else 1 + 2 / (conduit_jam_ratio - 1) ** 2)


# Supports

@procedure(source="physics", equation="q_c = Σ n·n_c·m′·g over the cables that name the support", yields=("support_cable_load",))
def weight_on_supports(cable_on_support, cable_parallel, cables_in_circuit, cable_mass_per_length, standard_gravity, support_other_load):
    """Weight per length of all cables that a ladder or tray carries, parallel circuits included."""
    weights = np.asarray(cable_parallel) * cables_in_circuit * cable_mass_per_length * standard_gravity
    carried = np.array([np.sum(weights[cable_on_support == support]) for support in range(len(support_other_load))])
    named = np.nansum(weights[cable_on_support >= 0])
    return (carried,), float(abs(np.nansum(carried) - named)), "cables that name a support less what the supports carry, N/m"


@formula(source="definition")
def support_load(support_cable_load, support_other_load):
    """Cables and whatever else lies on the support. A person who steps on it is not in it: nobody may.

    Example: support_cable_load=[210 N/m], support_other_load=[90 N/m] give [300 N/m] (hand calculation).
    """
    return support_cable_load + support_other_load


# Checks

bend = check("cable_bend_ok", "cable_bend_radius", limit="cable_bend_radius_min", safe="above", source="nec-300-34", title="Bends of each cable")
tension = check("pull_tension_ok", "pull_tension", limit="pull_tension_max", safe="below", source="pull-stress", title="Pulling tension")
side_wall = check("side_wall_ok", "side_wall_pressure", limit="side_wall_pressure_max", safe="below", source="side-wall-pressure",
                  title="Side-wall pressure in the bends")
fill = check("conduit_run_fill_ok", "conduit_run_fill", limit="conduit_run_fill_max", safe="below", source="nec-ch9-table-1", title="Fill of each conduit")
jam = check("conduit_jam_ok", "conduit_jam_distance", limit="conduit_jam_distance_min", safe="above", source=("nec-ch9-jam", "jam-guide"),
            title="Three cables do not jam in a bend", exact=True)
supports = check("support_load_ok", "support_load", limit="support_safe_load", safe="below", source="project", title="Weight of cables on their supports")
