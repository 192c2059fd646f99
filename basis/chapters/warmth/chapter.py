"""Standby warmth: weather, room, blocks and the ways of keeping them warm, and what the chosen way holds.

The hours of the year are in year.py, energy and cost in cost.py. Left out: wind, sun, moisture, and the heat that
sets leave behind when they have run.
"""

from basis.language.formula import GIVEN, chapter, check, formula, order
from basis.language.maths import h, log, max_over, min_over, nothing, pick, sum_over

CHAPTER = chapter("warmth", "Standby warmth", order=100,
                  settles="What keeps block, coolant and room warm enough to start, and what that takes in a year.",
                  cautions=(
    "Block heaters are live whenever the set stands still. Isolate and lock off heater, charger and starting supply before any work on the set.",
    "Coolant is held hot and scalds; it is poisonous and slippery. Let the circuit cool and release its pressure before a hose or element comes off.",
    "A heater that is switched on dry burns out within minutes and can set fire to what is near. Fill, vent and circulate before it is switched on.",
    "Heating elements and their pipes are hot enough to burn skin and to light oil and lint. Keep guards on and rags away.",
    "A warm, shut room hides leaks of fuel vapour and hydrogen. Dampers must open by themselves when a set starts, whatever heat that costs.",
))


# The weather of the year

@formula(source="definition")
def outdoor_temperature_mean(outdoor_temperature_hourly, hour_step):
    """Mean of all hours of the file. Check it against the climate of the place: a file in the wrong unit shows here first."""
    return sum_over("hour", outdoor_temperature_hourly) * hour_step / (8760 * h)


@formula(source="definition")
def weather_temperature_min(outdoor_temperature_hourly):
    """Coldest hour of the file. A typical year is milder than the winter for which a plant is designed."""
    return min_over("hour", outdoor_temperature_hourly)


@formula(source="definition")
def weather_temperature_max(outdoor_temperature_hourly):
    """Warmest hour of the file."""
    return max_over("hour", outdoor_temperature_hourly)


@formula(source="definition")
def heating_degree_hours(outdoor_temperature_hourly, room_temperature_usual, hour_step):
    """What is lacking to the usual room temperature, summed over the year. Times the conductance of the room it is the heat of an empty room held there."""
    return sum_over("hour", max(0, room_temperature_usual - outdoor_temperature_hourly)) * hour_step


# Room

@formula(source="definition")
def fabric_conductance(room_surface_area, room_surface_transmittance):
    """Heat through walls, roof, doors and shut dampers.

    Example: room_surface_area=[240 m^2, 180 m^2, 20 m^2], room_surface_transmittance=[0.35 W/(m^2*K), 0.25 W/(m^2*K), 1.8 W/(m^2*K)] give 165 W/K (hand
    calculation).
    """
    return sum_over("room_surface", room_surface_area * room_surface_transmittance)


@formula(source="air-at-constant-pressure")
def winter_air_density(air_pressure, dry_air_gas_constant, outdoor_temperature_mean):
    """Density that turns a volume of leaking air into heat. Ideal gas, dry.

    Example: air_pressure=101.325 kPa, outdoor_temperature_mean=20 degC give 1.204 kg/m^3 (hand calculation).
    """
    return air_pressure / (dry_air_gas_constant * outdoor_temperature_mean)


@formula(source="definition")
def heating_airflow(heating_air_changes, heated_room_volume, heating_damper_leakage):
    """Outdoor air that leaks through the shut room. Dampers decide: ask their maker for the leakage when shut, not for their class."""
    return heating_air_changes * heated_room_volume + heating_damper_leakage


@formula(source="steady-flow-energy")
def heating_air_conductance(winter_air_density, dry_air_heat_capacity, heating_airflow):
    """Heat that this air carries out per kelvin. Example: winter_air_density=1.2 kg/m^3, heating_airflow=[450 m^3/h] give [150.9 W/K] (hand calculation)."""
    return winter_air_density * dry_air_heat_capacity * heating_airflow


@formula(source="definition")
def heating_room_conductance(fabric_conductance, heating_fabric_share, heating_air_conductance):
    """All that leaves the room per kelvin between it and outdoors, as far as it goes through the room air."""
    return fabric_conductance * heating_fabric_share + heating_air_conductance


# Blocks

@formula(source="churchill-chu-plate")
def block_rayleigh_number(standard_gravity, heating_hold_temperature, block_film_room_temperature, block_warm_height, block_air_prandtl_number,
                          block_air_viscosity):
    """Rising air at a warm wall of this height, falling air at a cold one; expansion is that of an ideal gas at the mean of wall and room."""
    return standard_gravity * abs(heating_hold_temperature - block_film_room_temperature) / (
        block_film_room_temperature + (heating_hold_temperature - block_film_room_temperature) / 2) * (
        block_warm_height ** 3 * block_air_prandtl_number / block_air_viscosity ** 2)


@formula(source="churchill-chu-plate", valid={"block_rayleigh_number": (1e4, 1e12)})
def block_nusselt_number(block_rayleigh_number, block_air_prandtl_number):
    """Free convection from a vertical plate, laminar and turbulent in one line. The numbers are those of the paper."""
    return (0.825 + 0.387 * block_rayleigh_number ** (1 / 6) / (1 + (0.492 / block_air_prandtl_number) ** (9 / 16)) ** (8 / 27)) ** 2


@formula(source="churchill-chu-plate")
def block_convection(block_nusselt_number, block_air_conductivity, block_warm_height):
    """Heat carried off by rising air. Example: block_nusselt_number=[262.4] give [4.60 W/(m^2*K)] (hand calculation)."""
    return block_nusselt_number * block_air_conductivity / block_warm_height


@formula(source="thermal-radiation")
def block_radiation(block_emissivity, stefan_boltzmann_constant, heating_hold_temperature, block_film_room_temperature):
    """Heat radiated to the walls of the room, which are taken as warm as its air: difference of fourth powers over that of temperatures, divided out.

    Example: heating_hold_temperature=[45 degC] give [5.57 W/(m^2*K)] (hand calculation).
    """
    return block_emissivity * stefan_boltzmann_constant * (
        heating_hold_temperature ** 3 + heating_hold_temperature ** 2 * block_film_room_temperature
        + heating_hold_temperature * block_film_room_temperature ** 2 + block_film_room_temperature ** 3)


@formula(source="definition")
def block_surface_coefficient(block_convection, block_radiation):
    """Both together: near 10 W/(m²·K) for a warm engine in still air."""
    return block_convection + block_radiation


@formula(source="definition")
def heating_block_to_room(block_warm_area, block_surface_coefficient, heating_block_exposure):
    """Loss of one block to the room, from its surface, for want of a measured figure. The steady power of its heater on a cold day is the better source.

    Example: block_warm_area=9 m^2, block_surface_coefficient=[10 W/(m^2*K)] give [90 W/K] (hand calculation).
    """
    return block_warm_area * block_surface_coefficient * heating_block_exposure


@formula(source="block-heater-usual")
def block_heater_power(block_heater_ratio_usual, set_rated_power):
    """Power of the block heaters, for want of a figure of the set. Example: set_rated_power=2000 kW give 12 kW (hand calculation)."""
    return block_heater_ratio_usual * set_rated_power


@formula(source="definition")
def heating_heater_power(block_heater_power, heating_heater_share):
    """Heaters as listed, or a share of them where this way changes them."""
    return block_heater_power * heating_heater_share


@formula(source="definition")
def block_oil_volume(oil_fill):
    """All oil of the engine follows its block, unless a part stands in a tank that is not heated."""
    return oil_fill


@formula(source="block-materials")
def block_heat_capacity(block_metal_mass, iron_heat_capacity, block_coolant_volume, block_coolant_heat_capacity, block_oil_volume, block_oil_heat_capacity):
    """Heat that an engine holds per kelvin.

    Example: block_metal_mass=7000 kg, block_coolant_volume=180 L, block_oil_volume=130 L give 4236 kJ/K (hand calculation).
    """
    return block_metal_mass * iron_heat_capacity + block_coolant_volume * block_coolant_heat_capacity + block_oil_volume * block_oil_heat_capacity


@formula(source="felt-share")
def heating_felt_capacity(block_heat_capacity, heating_felt_share):
    """Part of it that sets the pace of the thermostat. It is the most doubtful figure of this chapter: count the switchings of a like set in a cold week."""
    return block_heat_capacity * heating_felt_share


@formula(source="block-heater-usual")
def block_heater_deviation(block_heater_power, block_heater_ratio_usual, set_rated_power):
    """How far the heaters are from common practice, either way: a plain second look, not a limit of physics."""
    return abs(block_heater_power / (block_heater_ratio_usual * set_rated_power) - 1)


# Warming up from cold

@formula(source="definition")
def block_cold_temperature(heating_design_room_temperature):
    """A block that has stood without its heater is as cold as the room; of its own loss straight to outdoors nothing is counted."""
    return heating_design_room_temperature


@formula(source="definition")
def block_settling_temperature(heating_block_to_room, heating_design_room_temperature, heating_block_to_outdoors, outdoor_temperature_min,
                               heating_heater_power, heating_pump_power):
    """Where a block would settle with its heater always on, on the coldest day.

    Example: heating_block_to_room=[90 W/K], heating_design_room_temperature=[5 degC], heating_block_to_outdoors=[0 W/K], outdoor_temperature_min=-10 degC,
    heating_heater_power=[9 kW], heating_pump_power=[0 W] give [105 degC] (hand calculation).
    """
    return heating_design_room_temperature + (
        heating_heater_power + heating_pump_power - heating_block_to_outdoors * (heating_design_room_temperature - outdoor_temperature_min)) / (
        heating_block_to_room + heating_block_to_outdoors)


@formula(source="thermostat-cycle")
def block_warm_up_time(block_heat_capacity, heating_block_to_room, heating_block_to_outdoors, block_settling_temperature, block_cold_temperature,
                       block_temperature_min):
    """From switching on a cold block to the least temperature at which its set takes load; the whole engine warms up, not only what the thermostat feels.

    Example: block_heat_capacity=4240 kJ/K, heating_block_to_room=[90 W/K], heating_block_to_outdoors=[0 W/K], block_settling_temperature=[105 degC],
    block_cold_temperature=[40 degC], block_temperature_min=46 degC give [1.27 h] (hand calculation).
    """
    return (block_heat_capacity / (heating_block_to_room + heating_block_to_outdoors)
            * log(max(1, (block_settling_temperature - block_cold_temperature) / (block_settling_temperature - block_temperature_min)))
            if block_settling_temperature > block_temperature_min else nothing)


# What the chosen way holds

@formula(source="room-heat-balance")
def heating_room_shortfall(heating_room_peak, heating_design_room_heat, heating_room_heater_power, heating_room_conductance, installed_sets,
                           heating_block_to_room):
    """The year takes room heat to be as large as it must be. What the heaters cannot give is missing, by the conductance to outdoors and to the warm blocks.

    Example: heating_room_peak=[20 kW], heating_design_room_heat=[24 kW], heating_room_heater_power=[20 kW], heating_room_conductance=[600 W/K],
    installed_sets=2, heating_block_to_room=[100 W/K] give [5 K] (hand calculation).
    """
    return max(0, max(heating_room_peak, heating_design_room_heat) - heating_room_heater_power) / (
        heating_room_conductance + installed_sets * heating_block_to_room)


@formula(source="definition")
def room_temperature_held(heating_case_chosen, heating_room_temperature_min, heating_design_room_temperature, heating_room_shortfall):
    """Coldest room of year and design: the temperature at which battery, fuel and panels must do their work."""
    return min(pick(heating_case_chosen, heating_room_temperature_min), pick(heating_case_chosen, heating_design_room_temperature)) - (
        pick(heating_case_chosen, heating_room_shortfall))


@formula(source="definition")
def room_temperature_mean_held(heating_case_chosen, heating_room_temperature_mean):
    """Mean of the room over the year, by which batteries age."""
    return pick(heating_case_chosen, heating_room_temperature_mean)


@formula(source="definition")
def room_airflow_held(heating_case_chosen, heating_airflow):
    """Air that still passes the shut room, and thins the hydrogen of its batteries. A tighter room saves heat and loses this."""
    return pick(heating_case_chosen, heating_airflow)


@formula(source="definition")
def block_temperature_held(heating_case_chosen, heating_block_temperature_min, heating_design_block_temperature):
    """Coldest block of year and design; below the temperature held only where its heaters are too small."""
    return min(pick(heating_case_chosen, heating_block_temperature_min), pick(heating_case_chosen, heating_design_block_temperature))


@formula(source="definition")
def block_temperature_wanted(heating_case_chosen, heating_hold_temperature, heating_heater_power):
    """Temperature at which the thermostats of the chosen way are set, where it has block heaters."""
    return pick(heating_case_chosen, heating_hold_temperature) if pick(heating_case_chosen, heating_heater_power) > 0 else nothing


@formula(source="definition")
def block_warm_up_held(heating_case_chosen, block_warm_up_time):
    """Warm-up of a cold block in the chosen way: how long after repairs a set is not ready."""
    return pick(heating_case_chosen, block_warm_up_time)


@formula(source="definition")
def room_heat_held(heating_case_chosen, heating_set_point, heating_room_peak, heating_design_room_heat):
    """Largest room heat of year and design: what the room heaters must give."""
    return (max(pick(heating_case_chosen, heating_room_peak), pick(heating_case_chosen, heating_design_room_heat))
            if pick(heating_case_chosen, heating_set_point) > 0 else nothing)


@formula(source="definition")
def room_heater_power_held(heating_case_chosen, heating_room_heater_power):
    """Room heaters bought for the chosen way."""
    return pick(heating_case_chosen, heating_room_heater_power)


@formula(source="definition")
def element_life_held(heating_case_chosen, heating_element_life, heating_heater_cycles):
    """Life of an element in the chosen way, by switching alone."""
    return pick(heating_case_chosen, heating_element_life) if pick(heating_case_chosen, heating_heater_cycles) > 0 else nothing


# Checks

weather_check = check("weather_file", "weather_temperature_min", limit="outdoor_temperature_min", safe="above", source="project",
                      title="Weather file no colder than the design", exact=True)
room_check = check("room_warmth", "room_temperature_held", limit="room_temperature_min", safe="above", source="nfpa-110-room", title="Coldest room")
usual_check = check("room_usual", "room_temperature_held", limit="room_temperature_usual", safe="above", source="room-usual",
                    title="Room as warm as common practice", exact=True)
block_check = check("block_warmth", "block_temperature_held", limit="block_temperature_min", safe="above", source="nfpa-110-room",
                    title="Coldest block")
wanted_check = check("block_heater", "block_temperature_held", limit="block_temperature_wanted", safe="above", source="project",
                     title="Block heaters hold the temperature wanted", exact=True)
warm_up_check = check("block_warm_up", "block_warm_up_held", limit="block_warm_up_time_max", safe="below", source="project", title="Warm-up of a cold block")
heater_check = check("room_heater", "room_heat_held", limit="room_heater_power_held", safe="below", source="project", title="Room heaters large enough")
practice_check = check("block_heater_usual", "block_heater_deviation", limit="block_heater_deviation_max", safe="below", source="block-heater-usual",
                       title="Block heaters beside common practice", applies={"block_heater_power": GIVEN})
element_check = check("element_life", "element_life_held", limit="element_life_min", safe="above", source="element-season", title="Elements outlast the season")

# What no sound text gives the other way round.
block_oil_order = order("block_oil_volume", "oil_fill")
block_coolant_order = check("block_coolant_within_set", "block_coolant_volume", limit="coolant_fill", safe="below", source="definition", exact=True,
                            title="Coolant that is kept warm is no more than the set holds", fault="no more than the coolant in the set (coolant_fill)",
                            self_test=True)
room_temperature_min_order = order("room_temperature_min", "room_temperature_max")
