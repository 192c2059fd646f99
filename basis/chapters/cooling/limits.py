"""Cooling, second part: radiator cores at the site, and the outdoor temperature at which one thing after another gives out.

A core is known by one rated point; the exchanger law carries it to the air, the coolant and the dirt of the site. Left out: cores
that are neither in front of nor beside each other, and fans whose speed changes.
"""

import numpy as np

from basis.language.formula import check, formula, procedure
from basis.language.maths import exp, min_over, sum_over
from basis.physics.crossing import crossing

MOST_TRANSFER_UNITS = 30.0  # beyond any core that fits on a set


@formula(source="definition")
def radiator_rated_airflow(radiator_placement, fan_airflow_min, remote_radiator_airflow):
    """Airflow of the radiator's rating: what the fan on the set must deliver, or the airflow of the remote radiator."""
    return fan_airflow_min if radiator_placement == "mounted" else remote_radiator_airflow


@formula(source="definition")
def radiator_mass_flow(radiator_placement, fan_mass_flow, remote_radiator_airflow, outdoor_air_density):
    """Air through the radiator as installed. A fan moves the same volume in thin air, and so less mass."""
    return fan_mass_flow if radiator_placement == "mounted" else remote_radiator_airflow * outdoor_air_density


@formula(source="definition")
def radiator_air_on_rise(radiator_air_on_temperature, outdoor_temperature_max):
    """How much warmer than outdoors the air meets the radiator: the heat of the room on the way, and air that comes back."""
    return radiator_air_on_temperature - outdoor_temperature_max


@formula(source="definition")
def core_rated_heat(loop_heat):
    """Rated duty of the core, taken as the heat of the loop where the maker's temperature difference is stated for just this set."""
    return loop_heat


@formula(source="steady-flow-energy")
def core_coolant_capacity(coolant_density, coolant_heat_capacity, radiator_circuit_flow):
    """Heat that the coolant through the core carries for each kelvin."""
    return coolant_density * coolant_heat_capacity * radiator_circuit_flow


@formula(source="steady-flow-energy")
def core_rated_air_capacity(radiator_rated_airflow, core_face_share, radiator_rated_density, air_heat_capacity):
    """Heat that the air of the rating takes for each kelvin, in the part of the face that belongs to this core."""
    return radiator_rated_airflow * core_face_share * radiator_rated_density * air_heat_capacity


@formula(source="steady-flow-energy")
def core_air_capacity(radiator_mass_flow, core_face_share, air_heat_capacity):
    """Heat that the air of the site takes for each kelvin."""
    return radiator_mass_flow * core_face_share * air_heat_capacity


@procedure(source="effectiveness-ntu", equation="Φ_n/(C_min·ΔT_n) = 1 − exp[N_n^0.22/C_r·(exp(−C_r·N_n^0.78) − 1)]",
           yields=("core_rated_transfer_units",), valid={"core_rated_transfer_units": (0.1, 6)})
def core_rated_transfer_units(core_rated_heat, core_rated_temperature_difference, core_coolant_capacity, core_rated_air_capacity):
    """Size of the core, from the one point that its maker states: the exchanger law solved backwards by cutting the span again and again.

    A stated point that asks for more heat than the air could take at all is refused.
    """
    smaller, larger = np.minimum(core_coolant_capacity, core_rated_air_capacity), np.maximum(core_coolant_capacity, core_rated_air_capacity)
    asked, ratio = core_rated_heat / (smaller * core_rated_temperature_difference), smaller / larger
    if np.any(asked >= _cross_flow(MOST_TRANSFER_UNITS, ratio)):
        raise ValueError("the rated duty is more than the air or the coolant can carry at that temperature difference")
    units = crossing(lambda units: asked - _cross_flow(units, ratio), np.zeros(np.shape(asked)), np.full(np.shape(asked), MOST_TRANSFER_UNITS))
    off = np.abs(_cross_flow(units, ratio) - asked)
    return (units,), float(np.max(np.where(np.isnan(off), 0.0, off), initial=0.0)), "largest difference of effectiveness"


def _cross_flow(units, ratio):
    """Effectiveness of a cross-flow exchanger, both streams unmixed."""
    return 1 - np.exp(units ** 0.22 / ratio * (np.exp(-ratio * units ** 0.78) - 1))


@formula(source=("same-core", "core-air-exponent", "core-fouling", "core-glycol-loss"))
def core_conductance(core_rated_transfer_units, core_coolant_capacity, core_rated_air_capacity, core_air_capacity, core_air_exponent, core_fouling,
                     core_glycol_loss, glycol_fraction, core_rated_glycol_fraction):
    """Conductance at the site: that of the rating, less what thin air, dirt and glycol beyond the rated mix take from it."""
    return (core_rated_transfer_units * min(core_coolant_capacity, core_rated_air_capacity)
            * (core_air_capacity / core_rated_air_capacity) ** core_air_exponent
            * (1 - core_fouling) * (1 - core_glycol_loss * (glycol_fraction - core_rated_glycol_fraction)))


@formula(source="definition")
def core_capacity_ratio(core_coolant_capacity, core_air_capacity):
    """Smaller over larger capacity flow; mostly the air is the smaller."""
    return min(core_coolant_capacity, core_air_capacity) / max(core_coolant_capacity, core_air_capacity)


@formula(source="definition")
def core_transfer_units(core_conductance, core_coolant_capacity, core_air_capacity):
    """Conductance against the smaller capacity flow."""
    return core_conductance / min(core_coolant_capacity, core_air_capacity)


@formula(source="effectiveness-ntu", valid={"core_transfer_units": (0.1, 6), "core_capacity_ratio": (0.05, 1)})
def core_effectiveness(core_transfer_units, core_capacity_ratio):
    """Effectiveness in cross flow with both streams unmixed.

    Example: core_transfer_units=[[1.2]], core_capacity_ratio=[[0.5]] give [[0.598]] (ht).
    """
    return 1 - exp(core_transfer_units ** 0.22 / core_capacity_ratio * (exp(-core_capacity_ratio * core_transfer_units ** 0.78) - 1))


@formula(source="same-core")
def core_temperature_difference(loop_heat, core_effectiveness, core_coolant_capacity, core_air_capacity):
    """Coolant into the core less air on the core that the heat of the loop asks for. It stays the same, at one load, however warm the day."""
    return loop_heat / (core_effectiveness * min(core_coolant_capacity, core_air_capacity))


@formula(source="steady-flow-energy")
def loop_air_preheat(core_position, loop_heat, radiator_mass_flow, air_heat_capacity):
    """Rise of the air through the cores in front, for a core that stands behind them: mean over the whole face."""
    return (sum_over("coolant_loop", loop_heat if core_position == "first" else 0) / (radiator_mass_flow * air_heat_capacity)
            if core_position == "behind" else 0)


@formula(source="definition")
def loop_temperature(outdoor_temperature_max, radiator_air_on_rise, loop_air_preheat, core_temperature_difference, exchanger_difference):
    """Coolant from the engine on the hottest day at full load with the thermostat wide open. On cooler days the thermostat holds its own set point."""
    return outdoor_temperature_max + radiator_air_on_rise + loop_air_preheat + core_temperature_difference + exchanger_difference


@formula(source="definition")
def loop_approach(loop_inlet_temperature_max, exchanger_difference, loop_heat, core_coolant_capacity, outdoor_temperature_max, radiator_air_on_rise,
                  loop_air_preheat):
    """How near the coolant must come to the air on its core on the hottest day, at the limit of the loop. Each kelvin less costs core and fan."""
    return loop_inlet_temperature_max - exchanger_difference - loop_heat / core_coolant_capacity - (
        outdoor_temperature_max + radiator_air_on_rise + loop_air_preheat)


@formula(source="ambient-shift")
def limiting_ambient(loop_inlet_temperature_max, exchanger_difference, core_temperature_difference, loop_air_preheat, radiator_air_on_rise):
    """Outdoor temperature at which the loop reaches its limit at full load: the limit, less all differences between coolant and outdoors.

    Example: loop_inlet_temperature_max=[98 degC], exchanger_difference=[0 K], core_temperature_difference=[[38 K]], loop_air_preheat=[[10 K]],
    radiator_air_on_rise=[8 K] give [[42 degC]] (hand calculation).
    """
    return loop_inlet_temperature_max - exchanger_difference - core_temperature_difference - loop_air_preheat - radiator_air_on_rise


@formula(source="ambient-shift")
def boiling_ambient(coolant_boiling_temperature, exchanger_difference, core_temperature_difference, loop_air_preheat, radiator_air_on_rise):
    """Outdoor temperature at which coolant at the top of the radiator would boil under its cap, if no protection stopped the set before."""
    return coolant_boiling_temperature - exchanger_difference - core_temperature_difference - loop_air_preheat - radiator_air_on_rise


# ---- what gives out first ----

@formula(source="definition")
def limiting_ambient_coolant(limiting_ambient):
    """The loop and the running case that reach their limit first."""
    return min_over("running_case", min_over("coolant_loop", limiting_ambient))


@formula(source="definition")
def limiting_ambient_boiling(boiling_ambient):
    """The loop and the running case that would boil first."""
    return min_over("running_case", min_over("coolant_loop", boiling_ambient))


@formula(source="ambient-shift")
def limiting_ambient_room(outdoor_temperature_max, room_temperature_max, room_temperature):
    """Outdoor temperature at which the room is as warm as alternator and switchgear allow."""
    return min_over("running_case", outdoor_temperature_max + (room_temperature_max - room_temperature))


@formula(source="ambient-shift")
def limiting_ambient_derating(outdoor_temperature_max, set_air_temperature, room_temperature):
    """Outdoor temperature at which the engine breathes air as warm as its site power assumes. Beyond it the set still runs, at less power."""
    return min_over("running_case", outdoor_temperature_max + (set_air_temperature - room_temperature))


@procedure(source="ambient-shift", equation="T_o,i = (T_o,c, T_o,b, T_o,r, T_o,x)", yields=("ambient_limit_temperature",))
def ambient_limit_temperature(limiting_ambient_coolant, limiting_ambient_boiling, limiting_ambient_room, limiting_ambient_derating):
    """The limiting ambients in one list, so that the least of them can be named. Nothing is solved here, so nothing can be left over."""
    return (np.array([limiting_ambient_coolant, limiting_ambient_boiling, limiting_ambient_room, limiting_ambient_derating]),), 0.0, "nothing is solved"


@formula(source="definition")
def limiting_ambient_lowest(ambient_limit_temperature):
    """Outdoor temperature at which the first of them gives out."""
    return min_over("ambient_limit", ambient_limit_temperature)


@formula(source="definition")
def ambient_margin(limiting_ambient_lowest, outdoor_temperature_max):
    """How much hotter than the design a day may be before something gives out at full load."""
    return limiting_ambient_lowest - outdoor_temperature_max


approach_check = check("radiator_approach", "loop_approach", limit="loop_approach_min", safe="above", source="loop-approach",
                       title="Approach of coolant to air")
loops_check = check("ambient_loops", "limiting_ambient", limit="outdoor_temperature_max", safe="above", source="ufgs-16264a-cooling",
                    title="Limiting ambient of each loop")
first_check = check("ambient_first", "ambient_limit_temperature", limit="outdoor_temperature_max", safe="above", source="ufgs-16264a-cooling",
                    title="What gives out first as the day gets hotter")
margin_check = check("ambient_reserve", "ambient_margin", limit="ambient_margin_min", safe="above", source="project",
                     title="Margin to the limiting ambient")
