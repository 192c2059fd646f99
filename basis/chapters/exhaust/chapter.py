"""Exhaust: gas of a set, the pipe diameter by diameter with its back-pressure, and the growth of the hot pipe.

Insulation, heat to the room and the discharge outdoors are in discharge.py. Left out: cooling of the gas along the pipe
(safe side for velocity and drop), pulsation, soot and catalysts.
"""

from basis.language.formula import SOME, caution, chapter, check, formula, order, procedure
from basis.language.maths import Pa, ft, inch, lb, lookup, minute, pick, sqrt, sum_over
from basis.physics.pipe import friction_factor

CHAPTER = chapter("exhaust", "Exhaust", order=60,
                  settles="Whether the gas leaves without choking the engine, burning anything or reaching anybody.",
                  cautions=(
    "Exhaust carries carbon monoxide, which has no smell and kills. Every joint inside the building must be tight, and detectors must sound where people are.",
    "Exhaust pipes, silencers and turbochargers burn skin and light fuel, oil and timber, long after the engine stops. Insulate, guard, keep clearances.",
    "Insulation stops at bellows and flanges only under removable mattresses; a bare flange above a fuel line starts fires.",
    "Rain and condensate in the pipe destroy the turbocharger. Fall away from the engine, a drained low point, and a cap that opens by itself.",
    caution("Pipes of several sets are not joined: gas of the running set reaches the one that is open for repair.", other_sets=SOME),
    "Pipe, silencer and outlet are heavy and move when hot. Nothing may hang on the turbocharger.",
))


# ---- gas ----

@formula(source="exhaust-temperature-slope", valid={"exhaust_temperature_rated": (573.15, 873.15), "set_air_temperature": (253.15, 328.15)})
def exhaust_temperature(exhaust_temperature_rated, exhaust_temperature_slope, set_air_temperature, reference_air_temperature):
    """Gas at the turbine outlet on the hottest day: the rated figure, and a little more for each kelvin of warmer air. The maker's figure for the site wins.

    Example: set_air_temperature=40 degC give 472.5 degC (hand calculation).
    """
    return exhaust_temperature_rated + exhaust_temperature_slope * (set_air_temperature - reference_air_temperature)


@formula(source="definition")
def exhaust_fuel_mass_flow(fuel_heat_flow, lower_heating_value):
    """Fuel of one set at site power. Example: fuel_heat_flow=4942 kW, lower_heating_value=42.7 MJ/kg give 0.1157 kg/s (hand calculation)."""
    return fuel_heat_flow / lower_heating_value


@formula(source="exhaust-mass")
def exhaust_mass_flow(combustion_mass_flow, exhaust_fuel_mass_flow):
    """All air that the engine draws and all fuel that it burns leave by the exhaust. Blow-by is in the air already."""
    return combustion_mass_flow + exhaust_fuel_mass_flow


@formula(source=("steady-flow-energy", "exhaust-products"), valid={"exhaust_temperature": (573.15, 873.15)})
def exhaust_gas_heat(exhaust_mass_flow, exhaust_gas_heat_capacity, exhaust_temperature, exhaust_heat_base):
    """Sensible heat of the exhaust above 25 °C, water as vapour.

    Example: exhaust_mass_flow=3.472 kg/s, exhaust_gas_heat_capacity=1079.5 J/(kg*K), exhaust_temperature=450 degC give 1593 kW (hand calculation).
    """
    return exhaust_mass_flow * exhaust_gas_heat_capacity * (exhaust_temperature - exhaust_heat_base)


@formula(source="definition", valid={"exhaust_heat_ratio": (0.85, 1.15)})
def exhaust_heat_ratio(exhaust_gas_heat, exhaust_heat):
    """Two ways to the same heat: gas flow and temperature, against what the data sheet states. A wide gap means that they belong to different ratings."""
    return exhaust_gas_heat / exhaust_heat


@formula(source=("ideal-gas", "exhaust-products"), valid={"exhaust_temperature": (473.15, 973.15)})
def exhaust_gas_density(air_pressure, exhaust_gas_constant, exhaust_temperature):
    """Density at turbine-outlet temperature and site pressure. Back-pressure, a few per cent of it, is left out: the safe side for velocity.

    Example: air_pressure=101.325 kPa, exhaust_temperature=480 degC give 0.469 kg/m^3 (hand calculation).
    """
    return air_pressure / (exhaust_gas_constant * exhaust_temperature)


@formula(source="definition")
def exhaust_volume_flow(exhaust_mass_flow, exhaust_gas_density):
    """Actual volume flow of one set: the height that thins the air swells the gas."""
    return exhaust_mass_flow / exhaust_gas_density


@formula(source="sutherland", valid={"exhaust_temperature": (473.15, 973.15)})
def exhaust_gas_viscosity(gas_viscosity_base, exhaust_temperature, gas_viscosity_base_temperature, sutherland_constant):
    """Viscosity of the gas, taken as that of air; the products differ by a few per cent, which friction hardly feels."""
    return gas_viscosity_base * (exhaust_temperature / gas_viscosity_base_temperature) ** 1.5 * (
        gas_viscosity_base_temperature + sutherland_constant) / (exhaust_temperature + sutherland_constant)


# ---- one pipe a set ----

@formula(source="one-pipe-a-set")
def sets_per_exhaust_pipe_max(shared_exhaust, shared_exhaust_reason, installed_sets):
    """One set a pipe, unless the project says that it shares and why. Without a reason there is no limit to compare with, and the check stays open."""
    return 1 if shared_exhaust == "never" else (installed_sets if shared_exhaust_reason != "" else 1)


@formula(source="definition")
def exhaust_pipe_mass_flow(sets_per_exhaust_pipe, exhaust_mass_flow):
    """Gas of all sets on one pipe, all at full load."""
    return sets_per_exhaust_pipe * exhaust_mass_flow


@formula(source="definition")
def exhaust_pipe_volume_flow(exhaust_pipe_mass_flow, exhaust_gas_density):
    """The same as actual volume flow."""
    return exhaust_pipe_mass_flow / exhaust_gas_density


# ---- back-pressure, diameter by diameter ----

@formula(source="definition")
def exhaust_outer_diameter(exhaust_bore, exhaust_wall):
    """Diameter on which the insulation lies."""
    return exhaust_bore + 2 * exhaust_wall


@formula(source="definition", valid={"exhaust_velocity": (5, 90)})
def exhaust_velocity(exhaust_pipe_volume_flow, exhaust_bore):
    """Mean velocity of the hot gas. Example: exhaust_pipe_volume_flow=8.28 m^3/s, exhaust_bore=[450 mm] give [52.1 m/s] (hand calculation)."""
    return 4 * exhaust_pipe_volume_flow / (3.141592653589793 * exhaust_bore ** 2)


@formula(source="definition")
def exhaust_reynolds(exhaust_gas_density, exhaust_velocity, exhaust_bore, exhaust_gas_viscosity):
    """Reynolds number of the gas: always far in the turbulent range at full load."""
    return exhaust_gas_density * exhaust_velocity * exhaust_bore / exhaust_gas_viscosity


@procedure(source="colebrook-white", equation="1/√f = −2·lg(k_exh/(3.7·d) + 2.51/(Re·√f)); f = 64/Re below 2040", yields=("exhaust_friction_factor",),
           valid={"exhaust_reynolds": (4000, 1e8)})
def exhaust_friction_factor(exhaust_reynolds, exhaust_pipe_roughness, exhaust_bore):
    """Friction factor of each candidate pipe, by Colebrook and White. Found by putting the factor in again until it stays."""
    factor, residual = friction_factor(exhaust_reynolds, exhaust_pipe_roughness / exhaust_bore)
    return (factor,), residual, "largest difference of 1/√f between two passes"


@formula(source="darcy-weisbach")
def exhaust_pipe_drop(exhaust_friction_factor, exhaust_pipe_length, exhaust_bore, exhaust_gas_density, exhaust_velocity):
    """Friction along the straight pipe. Halving the diameter makes it thirty-two times as much."""
    return exhaust_friction_factor * exhaust_pipe_length / exhaust_bore * exhaust_gas_density * exhaust_velocity ** 2 / 2


@formula(source="rennels-elbows")
def exhaust_elbow_loss(exhaust_elbow_table, exhaust_elbow_radius):
    """Loss of an elbow other than the usual bend, by angle and radius; a mitre costs six times as much as a smooth one.

    Example: exhaust_elbow_table=[elbow-loss-45], exhaust_elbow_radius=[1] give [0.171] (fluids).
    """
    return lookup(exhaust_elbow_table, "loss", exhaust_elbow_radius)


@formula(source="definition")
def exhaust_elbows_loss(exhaust_elbow_count, exhaust_elbow_loss):
    """All elbows of the list."""
    return sum_over("exhaust_elbow", exhaust_elbow_count * exhaust_elbow_loss)


@formula(source=("darcy-weisbach", "rennels-bend"))
def exhaust_fitting_drop(exhaust_bends, exhaust_bend_loss, exhaust_elbows_loss, exhaust_other_loss, exhaust_gas_density, exhaust_velocity):
    """Bends of the usual radius, elbows of the list, bellows and transitions."""
    return (exhaust_bends * exhaust_bend_loss + exhaust_elbows_loss + exhaust_other_loss) * exhaust_gas_density * exhaust_velocity ** 2 / 2


@formula(source="exhaust-outlet-loss")
def exhaust_outlet_loss(exhaust_outlet):
    """Loss coefficient of the outlet: the speed of the jet is lost in any case, a cap or hat takes more."""
    return lookup("exhaust-outlet-loss", "loss", exhaust_outlet)


@formula(source=("darcy-weisbach", "exhaust-outlet-loss"))
def exhaust_outlet_drop(exhaust_outlet_loss, exhaust_gas_density, exhaust_velocity):
    """Drop at the end of the pipe, taken with hot gas although it has cooled on the way."""
    return exhaust_outlet_loss * exhaust_gas_density * exhaust_velocity ** 2 / 2


@formula(source="definition")
def silencer_rated_airflow(exhaust_pipe_volume_flow):
    """Flow of the silencer's rated drop, taken as that of the site until the maker's sheet is there."""
    return exhaust_pipe_volume_flow


@formula(source="definition")
def silencer_rated_density(exhaust_gas_density):
    """Density of the silencer's rated drop, taken as that of the site until the maker's sheet is there."""
    return exhaust_gas_density


@formula(source="square-law")
def silencer_drop(silencer_rated_drop, exhaust_pipe_volume_flow, silencer_rated_airflow, exhaust_gas_density, silencer_rated_density):
    """Drop of the silencer at the site.

    Example: silencer_rated_drop=2.4 kPa, exhaust_pipe_volume_flow=8.4 m^3/s, silencer_rated_airflow=8 m^3/s, exhaust_gas_density=0.47 kg/m^3,
    silencer_rated_density=0.46 kg/m^3 give 2.70 kPa (hand calculation).
    """
    return silencer_rated_drop * (exhaust_pipe_volume_flow / silencer_rated_airflow) ** 2 * exhaust_gas_density / silencer_rated_density


@formula(source="definition")
def exhaust_back_pressure(exhaust_pipe_drop, exhaust_fitting_drop, silencer_drop, exhaust_outlet_drop):
    """All drops between turbine and open air. The draught of a hot upward pipe, some tens of pascals, is left out: it helps."""
    return exhaust_pipe_drop + exhaust_fitting_drop + silencer_drop + exhaust_outlet_drop


@formula(source="definition")
def exhaust_chosen_back_pressure(exhaust_size_chosen, exhaust_back_pressure):
    """Back-pressure of the size that the project has chosen."""
    return pick(exhaust_size_chosen, exhaust_back_pressure)


@formula(source="definition")
def exhaust_back_pressure_ratio(exhaust_chosen_back_pressure, exhaust_back_pressure_max):
    """Part of the maker's limit that the chosen pipe uses. Back-pressure costs power, heats the gas and makes smoke long before it stops the engine."""
    return exhaust_chosen_back_pressure / exhaust_back_pressure_max


@formula(source="definition")
def exhaust_chosen_velocity(exhaust_size_chosen, exhaust_velocity):
    """Gas velocity in the size that the project has chosen."""
    return pick(exhaust_size_chosen, exhaust_velocity)


@formula(source="ufgs-16264a-exhaust")
def exhaust_bore_guide(exhaust_pipe_volume_flow, exhaust_velocity_guide):
    """Bore at which the gas is as slow as the guide specification asks. It leads to pipes that few buildings have room for."""
    return sqrt(4 * exhaust_pipe_volume_flow / (3.141592653589793 * exhaust_velocity_guide))


@formula(source="american-exhaust-rule")
def exhaust_rule_bores(exhaust_bends, exhaust_elbow_count, exhaust_elbow_table, exhaust_elbow_radius):
    """Bends as lengths of pipe: 33 bores for a standard one, 20 for an elbow of long radius, 15 for half a right angle or less."""
    return 33 * exhaust_bends + sum_over("exhaust_elbow", exhaust_elbow_count * (
        15 if exhaust_elbow_table == "elbow-loss-45" or exhaust_elbow_table == "elbow-loss-30"
        else 20 if exhaust_elbow_radius >= 1.5 and exhaust_elbow_table != "elbow-loss-mitre-90" and exhaust_elbow_table != "elbow-loss-mitre-45" else 33))


@formula(source="american-exhaust-rule")
def exhaust_rule_drop(exhaust_pipe_length, exhaust_rule_bores, exhaust_bore, exhaust_gas_density, exhaust_pipe_volume_flow):
    """Pipe and bends by the customary American rule, as a second opinion. Silencer and outlet come on top.

    Example: exhaust_pipe_length=100 ft, exhaust_rule_bores=0, exhaust_bore=[14 in], exhaust_gas_density=0.0292 lb/ft^3, exhaust_pipe_volume_flow=10800 ft^3/min
    give [0.122 psi] (hand calculation).
    """
    return (6894.757 * Pa * ((exhaust_pipe_length + exhaust_rule_bores * exhaust_bore) / ft) * (exhaust_gas_density / (lb / ft ** 3))
            * (exhaust_pipe_volume_flow / (ft ** 3 / minute)) ** 2 / (5184 * (exhaust_bore / inch) ** 5))


# ---- growth ----

@formula(source="asme-b31-expansion", valid={"exhaust_temperature": (473.15, 813.15)})
def exhaust_expansion_coefficient(exhaust_pipe_material, exhaust_temperature):
    """Mean coefficient from room temperature to the metal, which is taken as hot as the gas. The coefficient at room temperature would be low by a sixth."""
    return lookup(exhaust_pipe_material, "coefficient", exhaust_temperature)


@formula(source="definition")
def exhaust_anchor_length(exhaust_pipe_length):
    """Longest run between anchors: the whole pipe, until the project says where its anchors are."""
    return exhaust_pipe_length


@formula(source="thermal-growth", valid={"exhaust_temperature": (473.15, 813.15)})
def exhaust_growth(exhaust_expansion_coefficient, exhaust_anchor_length, exhaust_temperature, exhaust_erection_temperature):
    """Growth of the run from erection to full load.

    Example: exhaust_expansion_coefficient=1.377e-5 1/K, exhaust_anchor_length=12 m, exhaust_temperature=480 degC give 76 mm (hand calculation).
    """
    return exhaust_expansion_coefficient * exhaust_anchor_length * (exhaust_temperature - exhaust_erection_temperature)


@formula(source="definition")
def bellows_capacity_total(bellows_in_run, bellows_capacity):
    """Movement that all bellows of the run take. Movement across the axis uses the same bellows up and is for their maker to say."""
    return bellows_in_run * bellows_capacity


back_pressure_check = check("back_pressure", "exhaust_chosen_back_pressure", limit="exhaust_back_pressure_max", safe="below", source="engine-maker",
                            title="Exhaust back-pressure")
aim_check = check("back_pressure_aim", "exhaust_back_pressure_ratio", limit="exhaust_back_pressure_aim", safe="below", source="back-pressure-aim",
                  title="Part of the back-pressure limit used")
velocity_check = check("exhaust_gas_velocity", "exhaust_chosen_velocity", limit="exhaust_velocity_max", safe="below", source="exhaust-velocity-usual",
                       title="Velocity of the exhaust gas")
shared_check = check("one_pipe_a_set", "sets_per_exhaust_pipe", limit="sets_per_exhaust_pipe_max", safe="below", source="one-pipe-a-set",
                     title="One exhaust pipe a set", exact=True, applies={"other_sets": SOME})
bellows_check = check("bellows", "exhaust_growth", limit="bellows_capacity_total", safe="below", source="thermal-growth",
                      title="Growth against movement of bellows")

# What no sound text gives the other way round.
sets_discharging_together_order = order("sets_discharging_together", "installed_sets")
sets_per_exhaust_pipe_order = order("sets_per_exhaust_pipe", "installed_sets")
