"""Commissioning record, what the other chapters designed. Where the chapter that designs it is not in the book, the project states it."""

from basis.language.formula import formula
from basis.language.maths import count_over, max_over, not_given, pick


@formula(source="definition")
def designed_power(loads_chapter, measured_kind, set_rated_power):
    """Rated power of a set; a fan's stands nowhere else in the book."""
    return (set_rated_power if loads_chapter == "in_this_book" else not_given) if measured_kind == "set_power" else not_given


@formula(source="definition")
def designed_consumption(loads_chapter, measurement_load, full_load_band, specific_fuel_consumption):
    """Consumption of the sets at full load and reference conditions; at part load it is another."""
    return (specific_fuel_consumption if loads_chapter == "in_this_book" else not_given) if abs(measurement_load - 1) <= full_load_band else not_given


@formula(source="definition")
def designed_airflow(ventilation_chapter, measured_case, ventilation_airflow):
    """Airflow that the heat of the sets that ran asks for."""
    return pick(measured_case, ventilation_airflow) if ventilation_chapter == "in_this_book" else not_given


@formula(source="definition")
def designed_pressure(exhaust_chapter, measured_kind, exhaust_chosen_back_pressure):
    """Back-pressure of the chosen exhaust; a fan's pressure stands with its maker."""
    return (exhaust_chosen_back_pressure if exhaust_chapter == "in_this_book" else not_given) if measured_kind == "back_pressure" else not_given


@formula(source="definition")
def designed_coolant_rise(cooling_chapter, measured_case, loop_temperature, outdoor_temperature_max):
    """Hottest loop above the air of the hottest day."""
    return pick(measured_case, max_over("coolant_loop", loop_temperature)) - outdoor_temperature_max if cooling_chapter == "in_this_book" else not_given


@formula(source="definition")
def designed_rise(ventilation_chapter, measured_kind, room_temperature_rise, designed_coolant_rise):
    """Rise for which the room's air is designed; of the coolant that of its hottest loop, for which the room's air has no use."""
    return ((room_temperature_rise if ventilation_chapter == "in_this_book" else not_given) if measured_kind == "temperature_rise"
            else designed_coolant_rise)


@formula(source="definition")
def designed_level(hearing_chapter, measured_exposure, exposure_level):
    """Level predicted at the place of work."""
    return pick(measured_exposure, exposure_level) if hearing_chapter == "in_this_book" else not_given


@formula(source="definition")
def designed_start_time(starting_chapter, start_time):
    """Time to load by its stages; without any that is no time."""
    return (start_time if count_over("start_stage") > 0 else not_given) if starting_chapter == "in_this_book" else not_given


# ---- voltage drop of a cable ----

@formula(source="definition")
def designed_drop(cables_chapter, measured_cable, cable_voltage_drop):
    """Drop of the cable at its working current; under a leading current it may be a rise, and is compared as a drop."""
    return abs(pick(measured_cable, cable_voltage_drop)) if cables_chapter == "in_this_book" else not_given


@formula(source="definition")
def drop_current(cables_chapter, measured_cable, cable_current):
    """Working current of the cable."""
    return pick(measured_cable, cable_current) if cables_chapter == "in_this_book" else not_given


@formula(source="definition")
def drop_power_factor(cables_chapter, measured_cable, cable_power_factor):
    """Power factor of its working current."""
    return pick(measured_cable, cable_power_factor) if cables_chapter == "in_this_book" else not_given


@formula(source="definition")
def drop_resistance(cables_chapter, measured_cable, cable_resistance, cable_length, cable_parallel):
    """Of its whole length at its working temperature.

    Example: cables_chapter=in_this_book, measured_cable=[item_1], cable_resistance=[0.08 ohm/km], cable_length=[100 m], cable_parallel=[2] give [4 mohm] (hand
    calculation).
    """
    return pick(measured_cable, cable_resistance) * pick(measured_cable, cable_length) / pick(measured_cable, cable_parallel) \
        if cables_chapter == "in_this_book" else not_given


@formula(source="definition")
def drop_reactance(cables_chapter, measured_cable, cable_reactance, cable_length, cable_parallel):
    """Of its whole length.

    Example: cables_chapter=in_this_book, measured_cable=[item_1], cable_reactance=[0.08 ohm/km], cable_length=[100 m], cable_parallel=[2] give [4 mohm] (hand
    calculation).
    """
    return pick(measured_cable, cable_reactance) * pick(measured_cable, cable_length) / pick(measured_cable, cable_parallel) \
        if cables_chapter == "in_this_book" else not_given


@formula(source="definition")
def drop_conductor_temperature(cables_chapter, measured_cable, cable_operating_temperature):
    """Working temperature of the cable."""
    return pick(measured_cable, cable_operating_temperature) if cables_chapter == "in_this_book" else not_given


@formula(source="definition")
def drop_zero_temperature(cables_chapter, measured_cable, cable_zero_temperature):
    """That of the metal of the cable."""
    return pick(measured_cable, cable_zero_temperature) if cables_chapter == "in_this_book" else not_given
