"""Cooling: the engine's energy balance, the coolant, its loops, and the pipes, tank and fans of a remote radiator.

Radiator cores and limiting ambients are in limits.py, an exchanger between engine and remote radiator in exchanger.py. Left out: the warm-up
after a start, thermostat travel, oil coolers with a loop of their own, and what coolant chemistry does to metal.
"""

from basis.language.formula import GIVEN, chapter, check, formula, procedure
from basis.language.maths import K, count_over, lookup, nothing, pick, sum_over
from basis.physics.pipe import friction_factor

CHAPTER = chapter("cooling", "Cooling", order=50,
                  settles="How the heat of the coolant is carried off on the hottest day, and what the coolant must stand.",
                  cautions=(
    "Hot coolant is under pressure and above its open boiling point: a cap opened on a warm engine throws scalding liquid and steam. Wait until it is cold.",
    "Radiator fans start without warning, remote ones by their thermostat even while the set stands. Isolate and lock off before you reach past a guard.",
    "Radiators, headers, hoses and pipes burn the skin. Lag or guard what can be touched.",
    "Ethylene glycol is poisonous and tastes sweet. Keep it in marked vessels, catch every spill, and keep it out of drains and drinking water.",
    "Coolant that is lost stops the plant within minutes. Low-level and high-temperature alarms must reach someone while the plant runs.",
))


# ---- energy balance ----

@formula(source="energy-balance", valid={"shaft_share": (0.33, 0.45)})
def shaft_share(engine_shaft_power, fuel_heat_flow):
    """Efficiency of the engine at the shaft, by lower heating value.

    Example: engine_shaft_power=2083.3 kW, fuel_heat_flow=4942.1 kW give 42.15 % (hand calculation).
    """
    return engine_shaft_power / fuel_heat_flow


@formula(source=("energy-balance", "engine-share-ranges"), valid={"exhaust_share": (0.25, 0.40)})
def exhaust_share(exhaust_gas_heat, fuel_heat_flow):
    """Part of the fuel heat that leaves as warm gas, by its flow and temperature, above 25 °C; steam leaves as vapour, as in the heating value."""
    return exhaust_gas_heat / fuel_heat_flow


@formula(source=("energy-balance", "engine-share-ranges"), valid={"jacket_share": (0.10, 0.26)})
def jacket_share(jacket_heat, fuel_heat_flow):
    """Part of the fuel heat that goes to jacket water and oil."""
    return jacket_heat / fuel_heat_flow


@formula(source=("energy-balance", "engine-share-ranges"), valid={"charge_air_share": (0, 0.16)})
def charge_air_share(charge_air_heat, fuel_heat_flow):
    """Part of the fuel heat that is taken out of the charge air, behind the turbocharger that put it in."""
    return charge_air_heat / fuel_heat_flow


@formula(source=("energy-balance", "engine-share-ranges"), valid={"engine_room_share": (0.015, 0.08)})
def engine_room_share(engine_heat_to_room, fuel_heat_flow):
    """Part of the fuel heat that the engine itself gives to the room."""
    return engine_heat_to_room / fuel_heat_flow


@formula(source="energy-balance")
def balance_residual(fuel_heat_flow, shaft_share, exhaust_gas_heat, jacket_heat, charge_air_heat, engine_heat_to_room):
    """What is left of the fuel heat when everything that leaves the engine has been taken off. It should be next to nothing.

    The exhaust counts by gas flow and temperature, not by the heat that the data sheet states for it, so that the two can be compared.
    Example: fuel_heat_flow=4942.1 kW, shaft_share=42.154 %, exhaust_gas_heat=1593.0 kW, jacket_heat=700 kW, charge_air_heat=450 kW, engine_heat_to_room=120
    kW give -4.2 kW (hand calculation).
    """
    return fuel_heat_flow * (1 - shaft_share) - exhaust_gas_heat - jacket_heat - charge_air_heat - engine_heat_to_room


@formula(source="definition")
def balance_gap(balance_residual, fuel_heat_flow):
    """Size of the residual against the fuel heat."""
    return abs(balance_residual) / fuel_heat_flow


@formula(source="definition")
def exhaust_heat_gap(exhaust_heat_ratio):
    """How far the exhaust heat by flow and temperature lies from the heat that the set's data state, or that its usual share gives.

    It is all that parts this energy balance from the heat balance of ventilation: every other heat is one and the same number in both.
    """
    return abs(exhaust_heat_ratio - 1)


# ---- coolant ----

@formula(source=("ashrae-ethylene-glycol", "ashrae-propylene-glycol"))
def coolant_freeze_point(glycol, glycol_fraction):
    """Temperature of the first ice. Slush does not burst a pipe at once, but it does not flow either.

    Example: glycol_fraction=50 % give -37 degC (ASHRAE table of ethylene glycol).
    """
    return lookup(glycol, "freeze", glycol_fraction)


@formula(source="ufgs-16264a-cooling")
def freeze_point_max(outdoor_temperature_min, freeze_margin):
    """Warmest freeze point that still protects: the lowest winter outdoor temperature, less a margin. The room may be heated; its heating may fail."""
    return outdoor_temperature_min - freeze_margin


@formula(source=("ashrae-ethylene-glycol", "ashrae-propylene-glycol"), valid={"loop_temperature_max": (308.15, 378.15)})
def coolant_density(glycol, glycol_fraction, loop_temperature_max):
    """Density of hot coolant, on the parabola through the table's 20, 50 and 80 °C.

    Example: glycol_fraction=50 %, loop_temperature_max=[85 degC] give [1035 kg/m^3] (ASHRAE table of ethylene glycol).
    """
    return (lookup(glycol, "density_50", glycol_fraction)
            + (lookup(glycol, "density_80", glycol_fraction) - lookup(glycol, "density_20", glycol_fraction)) * (loop_temperature_max - 323.15 * K) / (60 * K)
            + (lookup(glycol, "density_80", glycol_fraction) - 2 * lookup(glycol, "density_50", glycol_fraction)
               + lookup(glycol, "density_20", glycol_fraction)) * ((loop_temperature_max - 323.15 * K) / (30 * K)) ** 2 / 2)


@formula(source=("ashrae-ethylene-glycol", "ashrae-propylene-glycol"), valid={"loop_temperature_max": (308.15, 378.15)})
def coolant_heat_capacity(glycol, glycol_fraction, loop_temperature_max):
    """Heat capacity of hot coolant, on a straight line through 50 and 80 °C. Glycol carries a sixth less heat than water, so it must flow faster."""
    return lookup(glycol, "heat_capacity_50", glycol_fraction) + (
        lookup(glycol, "heat_capacity_80", glycol_fraction) - lookup(glycol, "heat_capacity_50", glycol_fraction)) * (
        loop_temperature_max - 323.15 * K) / (30 * K)


@formula(source=("ashrae-ethylene-glycol", "ashrae-propylene-glycol", "andrade"), valid={"loop_temperature_max": (308.15, 378.15)})
def coolant_viscosity(glycol, glycol_fraction, loop_temperature_max):
    """Viscosity of hot coolant: its logarithm on a straight line against the inverse of absolute temperature, through 50 and 80 °C.

    A cold start meets many times this viscosity, which a pump of the engine drives only slowly round a remote circuit.
    """
    return lookup(glycol, "viscosity_80", glycol_fraction) * (
        lookup(glycol, "viscosity_50", glycol_fraction) / lookup(glycol, "viscosity_80", glycol_fraction)) ** (
        (1 / loop_temperature_max - 1 / (353.15 * K)) / (1 / (323.15 * K) - 1 / (353.15 * K)))


@formula(source=("ashrae-ethylene-glycol", "ashrae-propylene-glycol"), valid={"coolant_cold_temperature": (233.15, 323.15)})
def coolant_cold_density(glycol, glycol_fraction, coolant_cold_temperature):
    """Density of cold coolant, on the same parabola: a straight line would make the expansion from winter cold a seventh too large."""
    return (lookup(glycol, "density_50", glycol_fraction)
            + (lookup(glycol, "density_80", glycol_fraction) - lookup(glycol, "density_20", glycol_fraction)) * (
                coolant_cold_temperature - 323.15 * K) / (60 * K)
            + (lookup(glycol, "density_80", glycol_fraction) - 2 * lookup(glycol, "density_50", glycol_fraction)
               + lookup(glycol, "density_20", glycol_fraction)) * ((coolant_cold_temperature - 323.15 * K) / (30 * K)) ** 2 / 2)


# ---- loops ----

@formula(source="definition")
def loop_heat(loop_carries, jacket_heat, charge_air_heat):
    """Heat of the loop at full load. A jacket loop takes the oil's heat with it; an engine with one circuit carries all in one loop."""
    return (jacket_heat if loop_carries != "charge_air" else 0) + (charge_air_heat if loop_carries != "jacket" else 0)


@formula(source="definition", valid={"loops_heat_ratio": (0.98, 1.02)})
def loops_heat_ratio(loop_heat, radiator_heat):
    """Whether the loops together carry what the ventilation counts as radiator heat: no heat twice, none forgotten."""
    return sum_over("coolant_loop", loop_heat) / radiator_heat if count_over("coolant_loop") > 0 else nothing


@formula(source="definition")
def loops_heat_gap(loops_heat_ratio):
    """How far the heat of all loops lies from the radiator heat. A data sheet that states both may contradict itself."""
    return abs(loops_heat_ratio - 1)


@formula(source="steady-flow-energy", valid={"loop_rise_design": (2, 15)})
def loop_flow(loop_heat, coolant_density, coolant_heat_capacity, loop_rise_design):
    """Flow that carries the heat at the design rise. What the engine's own pump delivers, by its data sheet, wins.

    Example: loop_heat=[800 kW], coolant_density=[968.6 kg/m^3], coolant_heat_capacity=[4201 J/(kg*K)] give [24.6 L/s] (hand calculation with water at 85 °C).
    """
    return loop_heat / (coolant_density * coolant_heat_capacity * loop_rise_design)


@formula(source="steady-flow-energy")
def loop_rise(loop_heat, coolant_density, coolant_heat_capacity, loop_flow):
    """Rise of the coolant through the engine at full load."""
    return loop_heat / (coolant_density * coolant_heat_capacity * loop_flow)


@formula(source="definition")
def loop_inlet_temperature_max(loop_temperature_max, loop_limit_place, loop_rise):
    """Hottest coolant that may enter the radiator. A limit stated for coolant that enters the engine leaves it warmer by the rise."""
    return loop_temperature_max + (loop_rise if loop_limit_place == "entering_engine" else 0)


@formula(source="iapws-saturation")
def coolant_boiling_temperature(air_pressure, loop_cap_pressure):
    """Boiling point at the pressure under the cap: thin air takes it down, the cap lifts it. Water without glycol, which is the safe side.

    Example: air_pressure=101.325 kPa, loop_cap_pressure=[70 kPa] give [115 degC] (IAPWS formulation 1995 in an open library).
    """
    return lookup("water-boiling", "temperature", air_pressure + loop_cap_pressure)


@formula(source="definition")
def boiling_margin(coolant_boiling_temperature, loop_inlet_temperature_max):
    """How far the hottest coolant that the loop allows stays below boiling. Vapour reaches hot spots and the pump before the mean boils."""
    return coolant_boiling_temperature - loop_inlet_temperature_max


# ---- pipes of a remote radiator ----

@formula(source="definition", valid={"loop_pipe_velocity": (0, 4)})
def loop_pipe_velocity(radiator_placement, radiator_circuit_flow, loop_pipe_bore):
    """Mean velocity in flow and return pipe. With the radiator on the set there is no pipe outside it."""
    return 4 * radiator_circuit_flow / (3.141592653589793 * loop_pipe_bore ** 2) if radiator_placement == "remote" else 0


@formula(source="definition")
def loop_pipe_reynolds(coolant_density, radiator_circuit_flow, loop_pipe_bore, coolant_viscosity):
    """Reynolds number of hot coolant in the pipe. Between two and four thousand the friction factor is a guess; a cold start may come there."""
    return 4 * coolant_density * radiator_circuit_flow / (3.141592653589793 * loop_pipe_bore * coolant_viscosity)


@procedure(source="colebrook-white", equation="1/√f_c = −2·lg(k_c/(3.7·d_c) + 2.51/(Re_c·√f_c)),  f_c = 64/Re_c in laminar flow",
           yields=("loop_friction_factor",), valid={"loop_pipe_reynolds": (4000, 1e7)})
def loop_friction_factor(loop_pipe_reynolds, loop_pipe_roughness, loop_pipe_bore):
    """Friction factor of the pipe to the remote radiator, by Colebrook and White. Found by putting the factor in again until it stays."""
    factor, residual = friction_factor(loop_pipe_reynolds, loop_pipe_roughness / loop_pipe_bore)
    return (factor,), residual, "largest difference of 1/√f between two passes"


@formula(source="darcy-weisbach")
def loop_pipe_drop(radiator_placement, loop_friction_factor, loop_pipe_length, loop_pipe_bore, loop_pipe_loss, coolant_density, loop_pipe_velocity):
    """Drop of flow and return with their fittings, in hot coolant.

    Example: radiator_placement=remote, loop_friction_factor=[0.0176], loop_pipe_length=[60 m], loop_pipe_bore=[102.3 mm], loop_pipe_loss=[2.2],
    coolant_density=[1035 kg/m^3], loop_pipe_velocity=[3.042 m/s] give [60 kPa] (hand calculation).
    """
    return ((loop_friction_factor * loop_pipe_length / loop_pipe_bore + loop_pipe_loss) * coolant_density * loop_pipe_velocity ** 2 / 2
            if radiator_placement == "remote" else 0)


@formula(source="definition")
def loop_external_drop(radiator_placement, radiator_circuit, loop_pipe_drop, loop_core_drop, exchanger_engine_drop):
    """All that the engine's pump must overcome outside the set: pipe and core, or its side of the exchanger, which stands beside the engine.

    Height does not count: what goes up comes down in a closed loop.
    """
    return (loop_pipe_drop + loop_core_drop if radiator_circuit == "direct" else exchanger_engine_drop) if radiator_placement == "remote" else 0


@formula(source="hydrostatics")
def loop_static_pressure(radiator_placement, radiator_circuit, coolant_cold_density, standard_gravity, loop_radiator_height, engine_tank_height):
    """Weight of the column on seals, cores and hoses of the engine. It does not load the pump of a closed loop; an exchanger keeps that of the roof away.

    Example: radiator_placement=remote, radiator_circuit=direct, coolant_cold_density=1070 kg/m^3, loop_radiator_height=[10 m] give [105 kPa] (hand
    calculation).
    """
    return (coolant_cold_density * standard_gravity * (loop_radiator_height if radiator_circuit == "direct" else engine_tank_height)
            if radiator_placement == "remote" else 0)


@formula(source="definition")
def loop_volume(radiator_placement, radiator_circuit, loop_set_volume, loop_pipe_bore, loop_pipe_length, loop_radiator_volume):
    """All coolant of the loop: the set, and with a remote radiator its pipes and core, unless these have a circuit of their own."""
    return loop_set_volume + ((3.141592653589793 / 4 * loop_pipe_bore ** 2 * loop_pipe_length + loop_radiator_volume if radiator_circuit == "direct" else 0)
                              if radiator_placement == "remote" else 0)


@formula(source="mass-conserved")
def loop_expansion(loop_volume, coolant_cold_density, coolant_density):
    """What the coolant grows from cold to the limit of the loop; steel grows with it a little, which is left out on the safe side.

    Example: loop_volume=[600 L], coolant_cold_density=1078 kg/m^3, coolant_density=[1026 kg/m^3] give [30.4 L] (hand calculation).
    """
    return loop_volume * (coolant_cold_density / coolant_density - 1)


@formula(source=("ufgs-15133a", "expansion-reserve"))
def loop_tank_needed(expansion_tank_share, loop_volume, loop_expansion, expansion_reserve):
    """Tank that takes the expansion and keeps a reserve, and never less than the share that the guide specification asks for.

    Its bottom stands above the top of the engine, a vent line comes to it from each high point, and its fill line goes to the pump's suction.
    """
    return max(expansion_tank_share * loop_volume, loop_expansion + expansion_reserve * loop_volume)


@formula(source="fan-power")
def radiator_fan_power(radiator_placement, remote_radiator_airflow, radiator_fan_pressure, outdoor_air_density, radiator_rated_density,
                       radiator_fan_efficiency):
    """Electric power of the fans of one remote radiator, in the air of the hottest day. On a cold day denser air takes more.

    Example: radiator_placement=remote, remote_radiator_airflow=30 m^3/s, radiator_fan_pressure=120 Pa, outdoor_air_density=1.2 kg/m^3 give 8.0 kW (hand
    calculation).
    """
    return (remote_radiator_airflow * radiator_fan_pressure * outdoor_air_density / (radiator_rated_density * radiator_fan_efficiency)
            if radiator_placement == "remote" else 0)


@formula(source="definition")
def radiator_fans_power(installed_sets, radiator_fan_power):
    """Power of the fans with all installed sets running. It is a load of the plant, and comes off what the sets can give to others."""
    return installed_sets * radiator_fan_power


@formula(source="definition")
def radiator_fan_load_power(radiator_placement, radiator_fan_load, load_demand_power):
    """What the load schedule counts for the fans of the remote radiators, and for the pumps of circuits behind an exchanger."""
    return pick(radiator_fan_load, load_demand_power) if radiator_placement == "remote" else 0


REMOTE = {"radiator_placement": ("remote",)}  # with the radiator on the set there is nothing outside it

balance_check = check("energy_balance", "balance_gap", limit="heat_balance_error_max", safe="below", source="balance-gap",
                      title="Energy balance, exhaust by flow and temperature")
exhaust_heat_check = check("exhaust_heat_agrees", "exhaust_heat_gap", limit="exhaust_heat_gap_max", safe="below", source="exhaust-heat-gap",
                           title="Exhaust heat by flow and temperature against data or usual share")
loops_heat_check = check("loops_carry_all", "loops_heat_gap", limit="loops_heat_gap_max", safe="below", source="loops-heat-gap",
                         title="Heat of all loops against radiator heat", applies={"radiator_heat": GIVEN})
freeze_check = check("freeze_protection", "coolant_freeze_point", limit="freeze_point_max", safe="below", source="ufgs-16264a-cooling",
                     title="Freeze point of the coolant")
rise_check = check("coolant_rise", "loop_rise", limit="loop_rise_max", safe="below", source="loop-rise", title="Rise of the coolant",
                   applies={"loop_flow": GIVEN})
boiling_check = check("coolant_boiling", "boiling_margin", limit="boiling_margin_min", safe="above", source="boiling-margin",
                      title="Margin of the coolant to boiling")
pump_check = check("coolant_pump", "loop_external_drop", limit="loop_external_drop_max", safe="below", source="engine-maker",
                   title="Drop outside the set against the engine's pump", applies=REMOTE)
velocity_check = check("coolant_velocity", "loop_pipe_velocity", limit="loop_pipe_velocity_max", safe="below", source="pipe-velocity",
                       title="Velocity in coolant pipes", applies=REMOTE)
static_check = check("coolant_static", "loop_static_pressure", limit="loop_static_pressure_max", safe="below", source="engine-maker",
                     title="Static pressure at the engine", applies=REMOTE)
tank_check = check("expansion_tank", "loop_tank_volume", limit="loop_tank_needed", safe="above", source="ufgs-15133a", title="Expansion tank")
fan_load_check = check("remote_fans_listed", "radiator_fan_load_power", limit="radiator_auxiliary_power", safe="above", source="project",
                       title="Remote fans and pumps are in the load schedule", applies=REMOTE)
