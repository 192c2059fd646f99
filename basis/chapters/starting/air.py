"""Starting, second part: compressed air, charger and hydrogen, and what either way of starting costs.

Air is an ideal gas. Left out: pressure lost between receiver and motor, leakage, water in the air.
"""

from basis.language.formula import check, formula
from basis.language.maths import floor, h, lookup, m2, m3

# Compressed air


@formula(source="definition")
def receivers_volume(air_receivers, receiver_volume):
    """Receivers of one set that are open to its starting main at once."""
    return air_receivers * receiver_volume


@formula(source="starting-isothermal")
def starts_isothermal(receivers_volume, receiver_pressure_max, receiver_pressure_min, air_pressure, air_per_start):
    """Starts between full and least pressure when every rest lets the air warm up again: the most that the receivers can give.

    Example: receivers_volume=0.5 m^3, receiver_pressure_max=30 bar, receiver_pressure_min=10 bar, air_pressure=101.325 kPa, air_per_start=1.5 m^3 give 6.58
    (hand calculation).
    """
    return receivers_volume * (receiver_pressure_max - receiver_pressure_min) / (air_pressure * air_per_start)


@formula(source="starting-isentropic")
def starts_isentropic(receivers_volume, receiver_pressure_max, receiver_pressure_min, air_pressure, air_per_start, isentropic_exponent):
    """Starts one after the other: the air that stays behind cools, so less of it has left when the least pressure is met.

    Pressures are taken absolute.

    Example: receivers_volume=0.5 m^3, receiver_pressure_max=30 bar, receiver_pressure_min=10 bar, air_pressure=101.325 kPa, air_per_start=1.5 m^3 give 5.33
    (hand calculation).
    """
    return receivers_volume * (receiver_pressure_max + air_pressure) / (air_pressure * air_per_start) * (
        1 - ((receiver_pressure_min + air_pressure) / (receiver_pressure_max + air_pressure)) ** (1 / isentropic_exponent))


@formula(source="starting-isentropic")
def air_starts(starts_isentropic):
    """Whole starts in a hurry, which is when they are needed. Example: starts_isentropic=5.33 give 5 (hand calculation)."""
    return floor(starts_isentropic)


@formula(source="starting-isothermal")
def receiver_volume_isothermal(starts_required, air_per_start, air_pressure, receiver_pressure_max, receiver_pressure_min):
    """Volume for the starts required, with long rests.

    Example: starts_required=6, air_per_start=1.5 m^3, air_pressure=101.325 kPa, receiver_pressure_max=30 bar, receiver_pressure_min=10 bar give 456 L (hand
    calculation).
    """
    return starts_required * air_per_start * air_pressure / (receiver_pressure_max - receiver_pressure_min)


@formula(source="starting-isentropic")
def receiver_volume_isentropic(starts_required, air_per_start, air_pressure, receiver_pressure_max, receiver_pressure_min, isentropic_exponent):
    """Volume for the starts required, one after the other: the one to buy.

    Example: starts_required=6, air_per_start=1.5 m^3, air_pressure=101.325 kPa, receiver_pressure_max=30 bar, receiver_pressure_min=10 bar give 563 L (hand
    calculation).
    """
    return starts_required * air_per_start * air_pressure / (receiver_pressure_max + air_pressure) / (
        1 - ((receiver_pressure_min + air_pressure) / (receiver_pressure_max + air_pressure)) ** (1 / isentropic_exponent))


@formula(source="starting-isothermal")
def receiver_pressure_isothermal(receiver_pressure_max, air_start_number, air_per_start, air_pressure, receivers_volume):
    """Gauge pressure after this start, with long rests: each start takes the same step. Below nought the receivers are empty."""
    return max(0, receiver_pressure_max - air_start_number * air_per_start * air_pressure / receivers_volume)


@formula(source="starting-isentropic")
def receiver_pressure_isentropic(receiver_pressure_max, air_pressure, air_start_number, air_per_start, receivers_volume, isentropic_exponent):
    """Gauge pressure after this start, one after the other. The gauge climbs back a little when the air has warmed up.

    A receiver of 0.5 m³ at 30 bar has 25.9 bar after the first start of 1.5 m³.
    """
    return max(0, (receiver_pressure_max + air_pressure) * max(0, 1 - air_start_number * air_per_start * air_pressure / (
        receivers_volume * (receiver_pressure_max + air_pressure))) ** isentropic_exponent - air_pressure)


@formula(source="starting-isothermal")
def air_recharge_time(starting_method, receivers_volume, receiver_pressure_max, receiver_pressure_min, air_pressure, compressor_free_air):
    """Time of one compressor to fill the receivers of one set again. Free air at the intake and the room at one temperature.

    Example: starting_method=air, receivers_volume=0.5 m^3, receiver_pressure_max=30 bar, receiver_pressure_min=10 bar, air_pressure=101.325 kPa,
    compressor_free_air=20 m^3/h give 29.6 min (hand calculation).
    """
    return (receivers_volume * (receiver_pressure_max - receiver_pressure_min) / (air_pressure * compressor_free_air)
            if starting_method != "battery" else 0)


@formula(source="starting-isentropic")
def receiver_stored_energy(receiver_pressure_max, air_pressure, receivers_volume, isentropic_exponent):
    """Work that the full receivers can do when they burst: the reason for relief valves, inspection and a place away from people.

    Example: receiver_pressure_max=30 bar, air_pressure=101.325 kPa, receivers_volume=0.5 m^3 give 2.4 MJ (hand calculation).
    """
    return (receiver_pressure_max + air_pressure) * receivers_volume / (isentropic_exponent - 1) * (
        1 - (air_pressure / (receiver_pressure_max + air_pressure)) ** ((isentropic_exponent - 1) / isentropic_exponent))


# Charger

@formula(source="battery-cell-figures")
def charge_factor(battery_type):
    """More is put in than was taken out: heat and gas take the rest."""
    return lookup("battery-cells", "charge_factor", battery_type)


@formula(source=("charger-sizing", "nfpa-110-recharge"))
def charger_current_required(battery_capacity, charge_factor, charge_time, standing_current):
    """Charger that fills the empty battery in the time allowed while the controls draw their standing current.

    Example: battery_capacity=200 Ah, charge_factor=1.15 give 14.58 A (hand calculation).
    """
    return battery_capacity * charge_factor / charge_time + standing_current


@formula(source="charger-site")
def charger_site_current(charger_current, charger_site_factor):
    """Thin and warm air cools the charger less; its maker says what is left of the rating."""
    return charger_current * charger_site_factor


@formula(source="charger-sizing")
def recharge_time_after_start(cranking_charge, charge_factor, charger_site_current, standing_current):
    """Time to put back what all starts have drawn: an hour or so, and one reason why batteries are trusted. A charger below the standing load never gets there.

    Example: cranking_charge=11.25 Ah, charge_factor=1.15, charger_site_current=15 A, standing_current=5 A give 1.29 h (hand calculation).
    """
    return cranking_charge * charge_factor / (charger_site_current - standing_current)


@formula(source="battery-cell-figures")
def float_voltage(battery_cells, battery_type):
    """Voltage that holds the battery full from day to day. Example: battery_cells=12 give 26.8 V (hand calculation)."""
    return battery_cells * lookup("battery-cells", "float", battery_type)


@formula(source="battery-cell-figures")
def equalise_voltage(battery_cells, battery_type):
    """Voltage of the equalising charge; controls on the same battery must stand it. Example: battery_cells=12 give 28.8 V (hand calculation)."""
    return battery_cells * lookup("battery-cells", "equalise", battery_type)


# Hydrogen

@formula(source="iec-62485-2")
def gas_current_float(battery_type):
    """Part of the float current that splits water."""
    return lookup("iec-62485-2-gas", "float", battery_type)


@formula(source="iec-62485-2")
def gas_current_boost(battery_type):
    """Part of the boost current that splits water."""
    return lookup("iec-62485-2-gas", "boost", battery_type)


@formula(source="iec-62485-2")
def battery_gas_airflow_float(hydrogen_dilution, installed_sets, battery_cells, gas_current_float, battery_capacity):
    """Air that keeps hydrogen thin day by day, one battery a set.

    Example: installed_sets=1, battery_cells=12, gas_current_float=5 mA/Ah, battery_capacity=200 Ah give 0.6 m^3/h (hand calculation).
    """
    return hydrogen_dilution * installed_sets * battery_cells * gas_current_float * battery_capacity


@formula(source="iec-62485-2")
def battery_gas_airflow(hydrogen_dilution, installed_sets, battery_cells, gas_current_boost, battery_capacity):
    """Air that keeps hydrogen thin on boost charge, all sets at once.

    Example: installed_sets=1, battery_cells=12, gas_current_boost=20 mA/Ah, battery_capacity=200 Ah give 2.4 m^3/h (hand calculation).
    """
    return hydrogen_dilution * installed_sets * battery_cells * gas_current_boost * battery_capacity


@formula(source="iec-62485-2")
def battery_opening_required(battery_gas_airflow):
    """Free area of each of two openings that moves this air without a fan, at 0.1 m/s.

    Example: battery_gas_airflow=2.4 m^3/h give 67.2 cm^2 (hand calculation).
    """
    return 28e-4 * m2 * (battery_gas_airflow / (m3 / h))


# Cost

@formula(source="definition")
def battery_yearly_cost(battery_price, battery_replacement_interval, battery_upkeep_cost_yearly):
    """Batteries wear out by age, used or not: their price spread over the interval, and upkeep.

    Example: battery_price=3000 cur, battery_replacement_interval=3 years, battery_upkeep_cost_yearly=400 cur give 1400 cur (hand calculation).
    """
    return battery_price * 8760 * h / battery_replacement_interval + battery_upkeep_cost_yearly


@formula(source="definition")
def starting_first_cost(starting_method, installed_sets, battery_start_price, air_start_price):
    """What is bought on the first day, for all sets."""
    return installed_sets * (battery_start_price if starting_method == "battery" else air_start_price if starting_method == "air"
                             else battery_start_price + air_start_price)


@formula(source="definition")
def starting_yearly_cost(starting_method, installed_sets, battery_yearly_cost, air_upkeep_cost_yearly):
    """What every year takes, for all sets."""
    return installed_sets * (battery_yearly_cost if starting_method == "battery" else air_upkeep_cost_yearly if starting_method == "air"
                             else battery_yearly_cost + air_upkeep_cost_yearly)


@formula(source="starting-worth")
def starting_life_cost(starting_first_cost, starting_yearly_cost, voltage_annuity_factor):
    """First cost, and yearly cost over the life of the project as present worth."""
    return starting_first_cost + starting_yearly_cost * voltage_annuity_factor


air_refill = check("air_recharge", "air_recharge_time", limit="air_recharge_time_max", safe="below", source="air-recharge", title="Receivers full again",
                   applies={"starting_method": ("air", "both")})
charger = check("charger", "charger_site_current", limit="charger_current_required", safe="above",
                source=("charger-sizing", "nfpa-110-recharge"), title="Charger of the battery")
direct_voltage = check("direct_voltage", "equalise_voltage", limit="direct_voltage_max", safe="below", source="project",
                       title="Equalising voltage at the controls")
hydrogen_opening = check("hydrogen_opening", "battery_opening_area", limit="battery_opening_required", safe="above",
                         source="iec-62485-2", title="Opening for hydrogen")
hydrogen_air = check("hydrogen_air", "room_airflow_held", limit="battery_gas_airflow", safe="above", source="iec-62485-2",
                     title="Air of the shut room against hydrogen")
