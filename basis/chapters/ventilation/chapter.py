"""Ventilation: moist air, heat to the room, the air that carries it, and how warm room and radiator become.

Openings, restriction ladder and fan are in openings.py, drops of ducts in ducts.py. Left out: leakage through walls, storage of heat in the
building, sun, and the transient after a start.
"""

from basis.language.formula import chapter, check, formula
from basis.language.maths import K, Pa, exp, log, max_over, sum_over

CHAPTER = chapter("ventilation", "Ventilation", order=40,
                  settles="How much air the room needs, by which openings it comes and goes, and what pressure that costs.",
                  cautions=(
    "Fans and dampers start without warning when the set starts. Isolate and lock off the set, its heater and its starting supply before you work in an air "
    "path.",
    "Exhaust that leaks into the room, or comes back through the intake, carries carbon monoxide. It has no smell. Keep a detector and leave at once when it "
    "sounds.",
    "Radiator, exhaust and silencer burn the skin; hot coolant under pressure scalds. Never open a warm radiator cap.",
    "Under-pressure holds outward doors shut and can slam others. The door on the way out must open by hand with every set running.",
    "A closed damper stops the set within minutes. Dampers must open by spring or weight when their supply fails.",
))


@formula(source="ashrae-psychrometrics", valid={"outdoor_temperature_max": (273.16, 473.15)})
def saturation_pressure(outdoor_temperature_max):
    """Pressure of water vapour over liquid water, by the fit of Hyland and Wexler; temperature in kelvins, pressure in pascals."""
    return Pa * exp(
        -5800.2206 / (outdoor_temperature_max / K) + 1.3914993 - 0.048640239 * (outdoor_temperature_max / K)
        + 4.1764768e-5 * (outdoor_temperature_max / K) ** 2 - 1.4452093e-8 * (outdoor_temperature_max / K) ** 3
        + 6.5459673 * log(outdoor_temperature_max / K))


@formula(source="definition")
def vapour_pressure(outdoor_relative_humidity, saturation_pressure):
    """Partial pressure of the water vapour in the outdoor air on the hottest day."""
    return outdoor_relative_humidity * saturation_pressure


@formula(source="ashrae-psychrometrics")
def outdoor_humidity_ratio(water_to_dry_air_mass_ratio, vapour_pressure, air_pressure):
    """Water vapour in the outdoor air on the design day, by mass of dry air. Ideal gas; enhancement factor neglected (under 0.5 %).

    Example: vapour_pressure=2.251 kPa, air_pressure=101.325 kPa give 14.1 g/kg (PsychroLib, 35 °C and 40 %).
    """
    return water_to_dry_air_mass_ratio * vapour_pressure / (air_pressure - vapour_pressure)


@formula(source="ashrae-psychrometrics", valid={"outdoor_humidity_ratio": (0, 0.04)})
def outdoor_air_density(air_pressure, outdoor_humidity_ratio, dry_air_gas_constant, outdoor_temperature_max, water_to_dry_air_mass_ratio):
    """Density at the intake on the design day, at the pressure of the altitude. Moist air is lighter than dry air of the same temperature.

    Example: air_pressure=83.52 kPa, outdoor_humidity_ratio=16.95 g/kg, outdoor_temperature_max=40 degC give 0.920 kg/m^3 (PsychroLib, 30 % at 1600 m).
    """
    return air_pressure * (1 + outdoor_humidity_ratio) / (
        dry_air_gas_constant * outdoor_temperature_max * (1 + outdoor_humidity_ratio / water_to_dry_air_mass_ratio))


@formula(source="ashrae-psychrometrics", valid={"outdoor_humidity_ratio": (0, 0.04)})
def air_heat_capacity(dry_air_heat_capacity, water_vapour_heat_capacity, outdoor_humidity_ratio):
    """Heat capacity of a mass of moist air: the vapour lifts it by about as much as it lowers the density."""
    return (dry_air_heat_capacity + outdoor_humidity_ratio * water_vapour_heat_capacity) / (1 + outdoor_humidity_ratio)


@formula(source=("engine-heat-shares", "mil-hdbk-1003-11"), valid={"engine_heat_share": (0.025, 0.07)})
def engine_heat_to_room(engine_heat_share, fuel_heat_flow):
    """Heat that the hot engine gives to the room, for want of the set's data sheet.

    A share of the fuel heat; bare exhaust pipes in the room are not in it and can outweigh it.
    """
    return engine_heat_share * fuel_heat_flow


@formula(source="energy-conversion")
def alternator_heat(set_site_power, alternator_efficiency):
    """Losses of the alternator. The efficiency divides the shaft power, so the loss is more than power times one less efficiency.

    Example: set_site_power=2000 kW, alternator_efficiency=96 % give 83.3 kW (hand calculation).
    An alternator cooled by ducted air or by water gives the room less.
    """
    return set_site_power * (1 / alternator_efficiency - 1)


@formula(source="definition")
def heat_source_heat(heat_source_count, heat_source_fixed, heat_source_length, heat_source_per_length):
    """Heat of one kind of source: so much for each, and so much for each length of hot pipe."""
    return heat_source_count * (heat_source_fixed + heat_source_length * heat_source_per_length)


@formula(source="definition")
def set_heat_sources(heat_source_heat, heat_source_serves):
    """Sources that are hot only while their own set runs, for one set."""
    return sum_over("heat_source", heat_source_heat if heat_source_serves == "each_set" else 0)


@formula(source="definition")
def room_heat_sources(heat_source_heat, heat_source_serves):
    """Sources that the room has once, whichever sets run."""
    return sum_over("heat_source", heat_source_heat if heat_source_serves == "all_sets" else 0)


@formula(source="definition")
def day_tanks_room_heat(running_sets, day_tanks, day_tank_room_heat):
    """Heat of the day tanks in use, at most one for each running set. A tank that is colder than the room is not counted on to cool it."""
    return min(running_sets, day_tanks) * max(0, day_tank_room_heat)


@formula(source="definition")
def load_bank_room_share(load_bank_place):
    """All of it where it stands in the room, else nothing."""
    return 1 if load_bank_place == "in_room" else 0


@formula(source="energy-conversion")
def load_bank_room_heat(load_bank_room_share, load_bank_power):
    """All that a load bank takes becomes heat, its fans' power too.

    Example: load_bank_room_share=[100 %, 0 %], load_bank_power=[300 kW, 300 kW] give [300 kW, 0 kW] (hand calculation).
    """
    return load_bank_room_share * load_bank_power


@formula(source="steady-flow-energy")
def heat_to_room(running_sets, engine_heat_to_room, alternator_heat, exhaust_pipe_room_heat, set_heat_sources, day_tanks_room_heat, room_heat_sources,
                 load_bank_room_heat):
    """All heat given to the room air while these sets run, each at full load; the exhaust pipe as it is insulated, the day tanks as warm as their fuel settles,
    a load bank in the room by its power.

    Sun and walls are left out: the one heats, the others mostly cool.
    """
    return (running_sets * (engine_heat_to_room + alternator_heat + exhaust_pipe_room_heat + set_heat_sources) + day_tanks_room_heat + room_heat_sources
            + load_bank_room_heat)


@formula(source="definition")
def heat_per_running_set(heat_to_room, running_sets):
    """Heat of the room shared among the running sets: what the air of one set's fan must carry."""
    return heat_to_room / running_sets


@formula(source="engine-heat-shares", valid={"exhaust_heat_share": (0.25, 0.40)})
def exhaust_heat(exhaust_heat_share, fuel_heat_flow):
    """Sensible heat of the exhaust, for want of the set's data sheet."""
    return exhaust_heat_share * fuel_heat_flow


@formula(source="engine-heat-shares", valid={"jacket_heat_share": (0.10, 0.30)})
def jacket_heat(jacket_heat_share, fuel_heat_flow):
    """Heat to jacket water and oil, for want of the set's data sheet."""
    return jacket_heat_share * fuel_heat_flow


@formula(source="engine-heat-shares", valid={"charge_air_heat_share": (0.0, 0.16)})
def charge_air_heat(charge_air_heat_share, fuel_heat_flow):
    """Heat taken from the charge air, for want of the set's data sheet. Nothing in an engine without charge-air cooling."""
    return charge_air_heat_share * fuel_heat_flow


@formula(source="steady-flow-energy")
def radiator_heat(jacket_heat, charge_air_heat):
    """Heat that jacket and charge air give to the radiator, both circuits in one core or in cores behind each other."""
    return jacket_heat + charge_air_heat


@formula(source="energy-conversion")
def heat_balance_error(fuel_heat_flow, engine_shaft_power, exhaust_heat, jacket_heat, charge_air_heat, engine_heat_to_room):
    """What the stated heats of an engine leave unexplained of its fuel heat, or overrun it, as a share.

    A wide gap means that numbers of different ratings, speeds or heating values have been mixed.
    """
    return abs(1 - engine_shaft_power / fuel_heat_flow - (exhaust_heat + jacket_heat + charge_air_heat + engine_heat_to_room) / fuel_heat_flow)


@formula(source="definition")
def radiator_heat_to_room_fan(radiator_placement, radiator_heat):
    """With the radiator on the set one stream of air cools room and radiator in turn; a remote radiator has air of its own."""
    return radiator_heat if radiator_placement == "mounted" else 0


@formula(source="steady-flow-energy", valid={"room_temperature_rise": (3, 25)})
def ventilation_airflow(heat_to_room, outdoor_air_density, air_heat_capacity, room_temperature_rise):
    """Outdoor air that carries the heat of the room at the rise allowed; combustion air left out, which is the safe side.

    Example: heat_to_room=[180 kW], outdoor_air_density=1.14 kg/m^3, air_heat_capacity=1006 J/(kg*K), room_temperature_rise=11 K give [14.3 m^3/s] (hand
    calculation).
    """
    return heat_to_room / (outdoor_air_density * air_heat_capacity * room_temperature_rise)


@formula(source=("stoichiometry", "excess-air"), valid={"excess_air_ratio": (1.5, 2.5)})
def combustion_air_ratio(excess_air_ratio, stoichiometric_air_ratio, specific_fuel_consumption):
    """Air that the engine draws for its shaft energy: fuel, times the least air that burns it, times the excess of a diesel.

    Example: excess_air_ratio=2.0, specific_fuel_consumption=200 g/kWh give 5.83 kg/kWh (hand calculation).
    """
    return excess_air_ratio * stoichiometric_air_ratio * specific_fuel_consumption


@formula(source="definition")
def combustion_mass_flow(combustion_air_ratio, engine_shaft_power):
    """Combustion air of one engine at full load, by mass."""
    return combustion_air_ratio * engine_shaft_power


@formula(source="definition")
def combustion_airflow(combustion_mass_flow, outdoor_air_density):
    """The same as volume of outdoor air: the thinner the air, the more of it."""
    return combustion_mass_flow / outdoor_air_density


@formula(source="mass-balance")
def room_combustion_mass_flow(combustion_air_source, combustion_mass_flow):
    """Combustion air that comes through the intake openings and does not leave by the discharge."""
    return combustion_mass_flow if combustion_air_source == "from_room" else 0


@formula(source="mass-balance")
def intake_airflow(running_sets, fan_mass_flow, room_combustion_mass_flow, outdoor_air_density):
    """All air that enters while these sets run, as outdoor volume. Masses add; volumes do so only at one density."""
    return running_sets * (fan_mass_flow + room_combustion_mass_flow) / outdoor_air_density


@formula(source="steady-flow-energy", valid={"room_air_rise": (0, 25)})
def room_air_rise(heat_per_running_set, fan_mass_flow, air_heat_capacity):
    """Rise of the air through the room, as mean of the room. Near the engine it is warmer, near the intake cooler."""
    return heat_per_running_set / (fan_mass_flow * air_heat_capacity)


@formula(source="steady-flow-energy")
def radiator_air_rise(radiator_placement, radiator_heat, air_heat_capacity, fan_mass_flow, remote_radiator_airflow, outdoor_air_density):
    """Rise of the air through the radiator core: of the room's air where the radiator is on the set, else of its own."""
    return radiator_heat / (air_heat_capacity * (
        fan_mass_flow if radiator_placement == "mounted" else remote_radiator_airflow * outdoor_air_density))


@formula(source="recirculation-balance", valid={"recirculation_fraction": (0, 0.25)})
def intake_recirculation_rise(recirculation_fraction, room_air_rise, radiator_heat_to_room_fan, fan_mass_flow, air_heat_capacity):
    """How much warmer the intake is for discharged air that comes back, by the whole rise from intake to discharge.

    Example: room_air_rise=[11 K], radiator_heat_to_room_fan=201.2 kW, fan_mass_flow=[10 kg/s], air_heat_capacity=1006 J/(kg*K) give [3.44 K] (hand
    calculation).
    """
    return recirculation_fraction / (1 - recirculation_fraction) * (
        room_air_rise + radiator_heat_to_room_fan / (fan_mass_flow * air_heat_capacity))


@formula(source="recirculation-balance", valid={"recirculation_fraction": (0, 0.25)})
def radiator_recirculation_rise(recirculation_fraction, room_air_rise, radiator_air_rise, radiator_placement):
    """The same for the air that meets the radiator; a remote radiator takes back only its own air."""
    return recirculation_fraction / (1 - recirculation_fraction) * (
        room_air_rise + radiator_air_rise if radiator_placement == "mounted" else radiator_air_rise)


@formula(source="definition")
def intake_temperature(outdoor_temperature_max, intake_recirculation_rise):
    """Air as it enters the room on the design day."""
    return outdoor_temperature_max + intake_recirculation_rise


@formula(source="definition")
def room_temperature(intake_temperature, room_air_rise):
    """Air of the room on the design day, with all running sets at full load."""
    return intake_temperature + room_air_rise


@formula(source="steady-flow-energy")
def discharge_temperature(room_temperature, radiator_heat_to_room_fan, fan_mass_flow, air_heat_capacity):
    """Air as it leaves: room air, warmed by the radiator where that is on the set."""
    return room_temperature + radiator_heat_to_room_fan / (fan_mass_flow * air_heat_capacity)


@formula(source="definition")
def radiator_air_on_temperature(radiator_placement, room_temperature, outdoor_temperature_max, radiator_recirculation_rise):
    """Air that meets the radiator core: room air on the set, outdoor air at a remote radiator, recirculation included."""
    return room_temperature if radiator_placement == "mounted" else outdoor_temperature_max + radiator_recirculation_rise


@formula(source="definition")
def recirculation_margin(radiator_air_on_max, radiator_air_on_temperature, radiator_recirculation_rise):
    """What is left for recirculation before the radiator meets air warmer than it is built for."""
    return radiator_air_on_max - (radiator_air_on_temperature - radiator_recirculation_rise)


@formula(source="definition")
def design_heat_to_room(heat_to_room):
    """Heat to the room in the running case that gives most."""
    return max_over("running_case", heat_to_room)


@formula(source="definition")
def design_ventilation_airflow(ventilation_airflow):
    """Ventilation airflow in the running case that asks for most."""
    return max_over("running_case", ventilation_airflow)


@formula(source="definition")
def design_intake_airflow(intake_airflow):
    """Intake airflow in the running case that draws most: what the shared openings are sized for."""
    return max_over("running_case", intake_airflow)


@formula(source="definition")
def design_room_temperature(room_temperature):
    """Warmest room of all running cases. It need not be the case with most sets: heat that the room has once weighs more on one fan alone."""
    return max_over("running_case", room_temperature)


@formula(source="definition")
def design_air_on_temperature(radiator_air_on_temperature):
    """Warmest air that a radiator meets in any running case."""
    return max_over("running_case", radiator_air_on_temperature)


room_rise_check = check("room_rise", "room_air_rise", limit="room_temperature_rise", safe="below", source="room-rise", title="Rise of the room air")
room_check = check("room_ambient", "room_temperature", limit="room_temperature_max", safe="below", source="iec-60034-1-ambient",
                   title="Room temperature")
derating_check = check("derating_air", "room_temperature", limit="set_air_temperature", safe="below", source="project",
                       title="Room no warmer than the rating of the set assumes")
air_on_check = check("radiator_air_on", "radiator_air_on_temperature", limit="radiator_air_on_max", safe="below", source="project",
                     title="Air on radiator")
recirculation_check = check("recirculation", "recirculation_margin", limit="recirculation_margin_min", safe="above",
                            source="recirculation-margin", title="Margin for recirculation")
balance_check = check("heat_balance", "heat_balance_error", limit="heat_balance_error_max", safe="below", source="heat-balance-gap",
                      title="Heat balance of the engine, exhaust by data or usual share")
