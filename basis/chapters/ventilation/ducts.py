"""Ventilation, third part: straight duct and elbows in the air path, as loss coefficients of the element to which they belong.

The friction factor is taken at the middle of the fan's curve and then kept, so that the drop goes with the square of the flow like that of
every other element.
"""

from basis.language.formula import formula, procedure
from basis.language.maths import lookup, max_over, min_over, pick, sqrt
from basis.physics.pipe import friction_factor


@formula(source="definition")
def element_duct_perimeter(element_face_area):
    """A square duct, until the project gives the perimeter of its own."""
    return 4 * sqrt(element_face_area)


@formula(source="definition")
def element_duct_diameter(element_face_area, element_duct_perimeter):
    """Hydraulic diameter. Example: element_face_area=[3 m^2], element_duct_perimeter=[7 m] give [1.714 m] (hand calculation)."""
    return 4 * element_face_area / element_duct_perimeter


@formula(source="sutherland", valid={"outdoor_temperature_max": (223.15, 373.15)})
def outdoor_air_viscosity(gas_viscosity_base, outdoor_temperature_max, gas_viscosity_base_temperature, sutherland_constant):
    """Viscosity of dry air. Air in the discharge is a little stickier, which the friction factor hardly feels."""
    return gas_viscosity_base * (outdoor_temperature_max / gas_viscosity_base_temperature) ** 1.5 * (
        gas_viscosity_base_temperature + sutherland_constant) / (outdoor_temperature_max + sutherland_constant)


@formula(source="definition")
def fan_middle_airflow(fan_point_airflow):
    """A flow near that at which fan and building will meet, known before they have."""
    return (max_over("fan_point", fan_point_airflow) + min_over("fan_point", fan_point_airflow)) / 2


@formula(source="definition")
def element_duct_reynolds(outdoor_air_density, fan_middle_airflow, element_opening, opening_share, element_duct_diameter, element_face_area,
                          outdoor_air_viscosity):
    """Reynolds number in the duct with one set running: what several sets share flows faster, and rubs a little less for it."""
    return outdoor_air_density * fan_middle_airflow * pick(element_opening, opening_share) * element_duct_diameter / (
        element_face_area * outdoor_air_viscosity)


@procedure(source="colebrook-white", equation="1/√f_e = −2·lg(k_e/(3.7·d_e) + 2.51/(Re_e·√f_e)); f_e = 64/Re_e below 2040", yields=("element_friction_factor",),
           valid={"element_duct_reynolds": (4000, 1e8)})
def element_friction_factor(element_duct_reynolds, element_duct_roughness, element_duct_diameter):
    """Friction factor of each duct, by Colebrook and White. Found by putting the factor in again until it stays."""
    factor, residual = friction_factor(element_duct_reynolds, element_duct_roughness / element_duct_diameter)
    return (factor,), residual, "largest difference of 1/√f between two passes"


@formula(source="rennels-elbows")
def element_elbow_loss(element_elbow_table, element_elbow_radius):
    """Loss of one elbow by angle and radius. Vanes lower that of a mitre to a third or less: give it then.

    Example: element_elbow_table=[elbow-loss-90], element_elbow_radius=[1] give [0.286] (fluids).
    """
    return lookup(element_elbow_table, "loss", element_elbow_radius)


@formula(source="duct-friction")
def element_friction_loss(element_friction_factor, element_duct_length, element_duct_diameter, element_elbows, element_elbow_loss):
    """Friction along the duct and its elbows. Next to louvres and attenuators it is little; an element without duct or elbow has none.

    Example: element_friction_factor=[0.01428], element_duct_length=[10 m], element_duct_diameter=[1.714 m], element_elbow_loss=[0] give [0.0833] (fluids).
    """
    return element_friction_factor * element_duct_length / element_duct_diameter + element_elbows * element_elbow_loss
