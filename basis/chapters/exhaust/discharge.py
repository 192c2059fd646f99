"""Exhaust, second part: insulation and heat to the room, and the discharge outdoors with its distances.

Distances are screens in closed form, not dispersion modelling. Left out: odour, particles and gases of combustion by kind, terrain,
neighbouring buildings.
"""

import numpy as np

from basis.language.formula import check, formula, procedure
from basis.language.maths import L, lookup, m, pick, s, sqrt
from basis.physics.crossing import crossing

# ---- insulation ----

@formula(source="mineral-wool", valid={"exhaust_temperature": (473.15, 923.15)})
def insulation_conductivity(exhaust_temperature, set_air_temperature):
    """Conductivity of mineral wool at its mean temperature, with a surface hardly warmer than the room. The maker's curve wins."""
    return lookup("mineral-wool-conductivity", "conductivity", exhaust_temperature - (exhaust_temperature - set_air_temperature) / 2)


@procedure(source=("pipe-surface-balance", "churchill-chu", "sutherland"),
           equation="2π·λ_i·(T_exh − T_s)/ln(1 + 2·s_i/d_o) = π·(d_o + 2·s_i)·[h·(T_s − T_x) + ε_cl·σ·(T_s⁴ − T_x⁴)],  "
                    "Nu = {0.60 + 0.387·Ra^(1/6)/[1 + (0.559/Pr)^(9/16)]^(8/27)}²",
           yields=("exhaust_surface_temperature", "exhaust_heat_per_length", "exhaust_bare_heat_per_length"), valid={"insulation_thickness": (0, 0.3)})
def exhaust_surface(exhaust_temperature, exhaust_outer_diameter, insulation_thickness, insulation_conductivity, cladding_emissivity, pipe_emissivity,
                    set_air_temperature, air_pressure, stefan_boltzmann_constant, standard_gravity, dry_air_gas_constant, air_prandtl_number,
                    gas_viscosity_base, gas_viscosity_base_temperature, sutherland_constant, air_conductivity_base, air_conductivity_constant):
    """Surface of the insulated pipe where conduction through the wool equals convection and radiation into still room air; then the heat for a length of it.

    The metal is taken as hot as the gas, the pipe as level and alone. The same loss without wool stands beside it. Found by cutting the span again and again.
    """
    hot, air = exhaust_temperature, set_air_temperature
    facts = (standard_gravity, dry_air_gas_constant, air_prandtl_number, gas_viscosity_base, gas_viscosity_base_temperature,
             sutherland_constant, air_conductivity_base, air_conductivity_constant)
    outside = exhaust_outer_diameter + 2 * insulation_thickness
    emissivity = cladding_emissivity if insulation_thickness > 0 else pipe_emissivity

    def loss(surface, diameter, shine):
        convection = _convection(surface - air, (surface + air) / 2, diameter, air_pressure, facts)
        return np.pi * diameter * (convection * (surface - air) + shine * stefan_boltzmann_constant * (surface ** 4 - air ** 4))

    resistance = np.log(outside / exhaust_outer_diameter) / (2 * np.pi * insulation_conductivity)  # K·m/W
    surface = crossing(lambda surface: hot - surface - loss(surface, outside, emissivity) * resistance, np.full_like(outside, air), np.full_like(outside, hot))
    heat, naked = loss(surface, outside, emissivity), loss(hot, exhaust_outer_diameter, pipe_emissivity)
    off = hot - surface - heat * resistance
    return (surface, heat, naked), float(np.max(np.abs(off), initial=0.0)), "largest fall of temperature through the wool less what the heat asks, K"


def _convection(warmer, film, diameter, pressure, facts):
    """Coefficient of free convection round a level cylinder, air at film temperature and site pressure."""
    gravity, gas_constant, prandtl, viscosity_base, base, viscosity_constant, conductivity_base, conductivity_constant = facts
    kinematic = _sutherland(film, viscosity_base, base, viscosity_constant) * gas_constant * film / pressure
    rayleigh = gravity * warmer / film * diameter ** 3 * prandtl / kinematic ** 2
    nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    return nusselt * _sutherland(film, conductivity_base, base, conductivity_constant) / diameter


def _sutherland(temperature, at_base, base, constant):
    return at_base * (temperature / base) ** 1.5 * (base + constant) / (temperature + constant)


@formula(source="definition")
def exhaust_chosen_surface_temperature(exhaust_size_chosen, exhaust_surface_temperature):
    """Cladding of the chosen pipe. Bright sheet loses less heat and is hotter to the hand than a painted one."""
    return pick(exhaust_size_chosen, exhaust_surface_temperature)


@formula(source=("definition", "fitting-allowance"))
def exhaust_pipe_room_heat(exhaust_size_chosen, exhaust_heat_per_length, exhaust_room_length, exhaust_fitting_allowance):
    """Heat that the pipe of one set gives to the plant room; it counts in the heat that the room's air must carry."""
    return pick(exhaust_size_chosen, exhaust_heat_per_length) * exhaust_room_length * (1 + exhaust_fitting_allowance)


@formula(source="definition")
def exhaust_bare_room_heat(exhaust_size_chosen, exhaust_bare_heat_per_length, exhaust_room_length):
    """What the same length would give off bare: often more than the engine itself."""
    return pick(exhaust_size_chosen, exhaust_bare_heat_per_length) * exhaust_room_length


@formula(source="ashrae-plume")
def exhaust_upward_credit(exhaust_outlet):
    """Whether the jet may rise. A hinged flap stands open in the flow; a fixed hat or a sideways end throws the gas back on the roof."""
    return lookup("exhaust-outlet-plume", "velocity_credit", exhaust_outlet)


@formula(source="ashrae-plume")
def plume_rise_factor(exhaust_outlet):
    """Factor of plume rise for this outlet."""
    return lookup("exhaust-outlet-plume", "rise_factor", exhaust_outlet)


@formula(source="outlet-velocity-cap")
def outlet_velocity_credited(exhaust_chosen_velocity, outlet_velocity_cap, exhaust_upward_credit):
    """Upward velocity that separation counts, capped so that a fast jet does not take all distance away."""
    return min(exhaust_chosen_velocity, outlet_velocity_cap) * exhaust_upward_credit


@formula(source="definition")
def sets_discharging_together(installed_sets):
    """Sets whose plumes join: all of them, unless the project sets their outlets apart."""
    return installed_sets


@formula(source="definition")
def discharge_volume_flow(exhaust_volume_flow, sets_discharging_together):
    """Hot gas discharged in one place. Cooled to air temperature it would be less than half; the hot volume is the safe side."""
    return exhaust_volume_flow * sets_discharging_together


@formula(source=("ashrae-62-1-separation", "outlet-velocity-cap"))
def separation_needed(discharge_volume_flow, dilution_target, outlet_velocity_credited):
    """Distance at which the form of the informative appendix gives the dilution asked. A screen: the code's own distance, wind and ground still count.

    Example: discharge_volume_flow=8000 L/s, dilution_target=[50], outlet_velocity_credited=2 m/s give [21.7 m] (hand calculation).
    """
    return max(0, 0.04 * m * sqrt(discharge_volume_flow / (L / s)) * (sqrt(dilution_target) - outlet_velocity_credited / (2 * m / s)))


@formula(source=("ashrae-62-1-separation", "outlet-velocity-cap"))
def dilution_found(receptor_distance, discharge_volume_flow, outlet_velocity_credited):
    """Dilution that the same form gives at the distance that there is. Compare it with source over limit of the gas that matters, when that is known."""
    return max(1, (receptor_distance / (0.04 * m * sqrt(discharge_volume_flow / (L / s))) + outlet_velocity_credited / (2 * m / s)) ** 2)


@formula(source="ashrae-plume")
def wake_scale(building_height, building_width):
    """Scale of the air that turns back on a roof and behind it: weighted mean of height and width of the windward wall.

    Example: building_height=8 m, building_width=30 m give 12.4 m (hand calculation).
    """
    return min(building_height, building_width) ** 0.67 * max(building_height, building_width) ** 0.33


@formula(source="ashrae-plume")
def wake_height(wake_scale):
    """Height of the air that turns back on the roof. Gas let out below it comes down again, to roof intakes and along the walls."""
    return 0.22 * wake_scale


@formula(source="ashrae-plume")
def wake_crest(wake_scale):
    """Distance of the crest from the edge that the wind meets."""
    return 0.5 * wake_scale


@formula(source="ashrae-plume")
def wake_roof_length(wake_scale):
    """Length of roof over which the air turns back."""
    return 0.9 * wake_scale


@formula(source="ashrae-plume")
def wake_lee_length(wake_scale):
    """Length behind the building over which the air turns back: no intake there sees clean air if gas is let into it."""
    return 1.0 * wake_scale


@formula(source="ashrae-plume")
def plume_rise(plume_rise_factor, exhaust_size_chosen, exhaust_bore, exhaust_chosen_velocity, plume_wind_speed):
    """Rise of the gas by its own speed; its heat would lift it further and is left out.

    Example: plume_rise_factor=1, exhaust_size_chosen=item_1, exhaust_bore=[0.45 m], exhaust_chosen_velocity=40 m/s give 5.4 m (hand calculation).
    """
    return 3 * plume_rise_factor * pick(exhaust_size_chosen, exhaust_bore) * exhaust_chosen_velocity / plume_wind_speed


@formula(source="definition")
def plume_height(stack_height, plume_rise):
    """Height of the plume above the roof."""
    return stack_height + plume_rise


touch_check = check("exhaust_touch", "exhaust_chosen_surface_temperature", limit="touch_temperature_max", safe="below", source="touch-temperature",
                    title="Surface of the exhaust pipe")
separation_check = check("exhaust_separation", "receptor_distance", limit="separation_needed", safe="above", source="ashrae-62-1-separation",
                         title="Distance from outlet to openings, by dilution")
code_check = check("exhaust_code_separation", "receptor_distance", limit="separation_code_min", safe="above", source="project",
                   title="Distance from outlet to openings, by the code")
wake_check = check("exhaust_wake", "plume_height", limit="wake_height", safe="above", source="ashrae-plume",
                   title="Plume above the air that turns back on the roof")
