"""Commissioning record, first part: conditions of a test, and what was measured brought to the conditions of the design.

What was designed stands in designed.py; uncertainty, tolerance and verdict in verdict.py; what is followed over the years in trend.py. Left out: humidity
in the air of fans, noise at part load.
"""

from basis.language.formula import chapter, formula
from basis.language.maths import log10, not_given, sqrt

CHAPTER = chapter("commissioning", "Commissioning record", order=270,
                  settles="What was measured beside what was designed, and what deviates.",
                  cautions=(
    "A test on load can black out what the plant feeds. Who switches, who watches and who calls it off is agreed before anything is started.",
    "A value within its tolerance says nothing about protection, interlocks or labels. They have their own tests.",
    "Rule, tolerance and uncertainty are agreed before the test. Chosen afterwards, they prove nothing.",
))


# ---- conditions of the test ----

@formula(source="physics")
def test_air_density(test_air_pressure, standard_air_gas_constant, test_air_temperature):
    """Ideal gas, dry. Example: test_air_pressure=[97 kPa], test_air_temperature=[32 degC] give [1.1074 kg/m^3] (hand calculation)."""
    return test_air_pressure / (standard_air_gas_constant * test_air_temperature)


@formula(source="definition")
def density_ratio(outdoor_air_density, test_air_density):
    """Thin air of the hottest day against the air of the test. Example: outdoor_air_density=1.0001 kg/m^3, test_air_density=[1.1074 kg/m^3] give [0.9031]
    (hand calculation).
    """
    return outdoor_air_density / test_air_density


@formula(source="iso-3046-test")
def test_coolant_temperature(loads_chapter, test_air_temperature, reference_coolant_temperature, reference_air_temperature):
    """As far above the air as at reference conditions, until it is read."""
    return test_air_temperature + (reference_coolant_temperature - reference_air_temperature) if loads_chapter == "in_this_book" else not_given


@formula(source="iso-3046-test")
def test_vapour_pressure(loads_chapter, reference_vapour_pressure):
    """As at reference conditions, until it is read; only an engine limited by excess air feels it."""
    return reference_vapour_pressure if loads_chapter == "in_this_book" else not_given


@formula(source="iso-3046-test")
def test_power_ratio(loads_chapter, test_air_pressure, humidity_weight, test_vapour_pressure, reference_air_pressure, reference_vapour_pressure,
                     pressure_exponent, reference_air_temperature, test_air_temperature, temperature_exponent, reference_coolant_temperature,
                     test_coolant_temperature, coolant_exponent):
    """Indicated power as the engine could give it in the air of the test, over that at reference conditions.

    Example: loads_chapter=in_this_book, test_air_pressure=[95 kPa], humidity_weight=0, test_vapour_pressure=[1 kPa], reference_air_pressure=100 kPa,
    pressure_exponent=0.7, reference_air_temperature=25 degC, test_air_temperature=[34.85 degC], temperature_exponent=1.2,
    reference_coolant_temperature=25 degC, test_coolant_temperature=[39.85 degC], coolant_exponent=1 give [0.8838] (hand calculation).
    """
    return (((test_air_pressure - humidity_weight * test_vapour_pressure) / (reference_air_pressure - humidity_weight * reference_vapour_pressure))
            ** pressure_exponent * (reference_air_temperature / test_air_temperature) ** temperature_exponent
            * (reference_coolant_temperature / test_coolant_temperature) ** coolant_exponent) if loads_chapter == "in_this_book" else not_given


@formula(source="iso-3046-test")
def test_power_adjustment(loads_chapter, test_power_ratio, mechanical_efficiency):
    """Brake power falls faster than indicated power. Example: loads_chapter=in_this_book, test_power_ratio=[0.88283], mechanical_efficiency=85 % give
    [0.8684] (hand calculation).
    """
    return test_power_ratio - 0.7 * (1 - test_power_ratio) * (1 / mechanical_efficiency - 1) if loads_chapter == "in_this_book" else not_given


@formula(source="iso-3046-test")
def test_fuel_adjustment(test_power_ratio, test_power_adjustment):
    """Consumption rises as friction takes a larger part. Example: test_power_ratio=[0.88283], test_power_adjustment=[0.86836] give [1.0167]
    (hand calculation).
    """
    return test_power_ratio / test_power_adjustment


@formula(source="heat-by-load")
def test_heat_share(measurement_load):
    """Heat over that of full load. Example: measurement_load=[75 %] give [75 %] (hand calculation). Below a quarter of full load the project gives it."""
    return measurement_load if measurement_load >= 0.25 else not_given


@formula(source="definition")
def test_gas_share(measurement_load, full_load_band):
    """One at full load; flow at part load is the maker's to state. Example: measurement_load=[100 %], full_load_band=3 % give [100 %] (hand calculation)."""
    return 1 if abs(measurement_load - 1) <= full_load_band else not_given


@formula(source="iec-60228")
def test_resistance(drop_resistance, test_conductor_temperature, drop_conductor_temperature, drop_zero_temperature):
    """Along the straight line of the metal.

    Example: drop_resistance=[4.2 mohm], test_conductor_temperature=[30 degC], drop_conductor_temperature=[75 degC], drop_zero_temperature=[-234.5 degC] give
    [3.589 mohm] (hand calculation).
    """
    return drop_resistance * (test_conductor_temperature - drop_zero_temperature) / (drop_conductor_temperature - drop_zero_temperature)


# ---- corrected to the conditions of the design ----

@formula(source=("iso-3046-test", "fan-one-speed"))
def corrected_power(measured_kind, measured_power, test_power_adjustment, density_ratio):
    """A set's power at reference conditions; a fan's in air of the design.

    Example: measured_kind=[set_power, fan_power], measured_power=[832 kW, 22 kW], test_power_adjustment=[0.86836, 1], density_ratio=[1, 0.90309] give
    [958.1 kW, 19.87 kW] (hand calculation).
    """
    return measured_power * density_ratio if measured_kind == "fan_power" else measured_power / test_power_adjustment


@formula(source="iso-3046-test")
def corrected_consumption(measured_consumption, test_fuel_adjustment, test_heating_value_ratio):
    """At reference conditions. Example: measured_consumption=[216 g/kWh], test_fuel_adjustment=[1.01667], test_heating_value_ratio=[1] give [212.46 g/kWh]
    (hand calculation).
    """
    return measured_consumption / test_fuel_adjustment * test_heating_value_ratio


@formula(source=("fan-one-speed", "turbulent-flow"))
def corrected_pressure(measured_kind, measured_pressure, density_ratio, test_gas_share):
    """A fan's pressure goes with density, back-pressure with the square of the flow.

    Example: measured_kind=[fan_pressure, back_pressure], measured_pressure=[125 Pa, 4000 Pa], density_ratio=[0.90309, 0.9], test_gas_share=[1, 80 %] give
    [112.9 Pa, 6250 Pa] (hand calculation).
    """
    return measured_pressure * density_ratio if measured_kind == "fan_pressure" else measured_pressure / test_gas_share ** 2


@formula(source=("fan-one-speed", "heat-by-load"))
def corrected_rise(measured_kind, measured_rise, test_heat_share, density_ratio):
    """Full heat, in the room also in thinner air of the same volume. How a radiator works in other air is left out.

    Example: measured_kind=[temperature_rise, coolant_rise], measured_rise=[19.88 K, 40 K], test_heat_share=[1, 80 %], density_ratio=[0.90309, 0.9] give
    [22.01 K, 50 K] (hand calculation).
    """
    return measured_rise / test_heat_share / (density_ratio if measured_kind == "temperature_rise" else 1)


@formula(source="definition")
def background_gap(measured_level, background_level):
    """How far the machines stand out. Example: measured_level=[93 dBA], background_level=[89 dBA] give [4 dB] (hand calculation)."""
    return measured_level - background_level


@formula(source="background-energy")
def corrected_level(measured_level, background_gap):
    """Energy of the machines alone. Nearer than three decibels to the background no more is taken off than at three: an upper bound.

    Example: measured_level=[93 dBA, 72 dBA], background_gap=[4 dB, 6 dB] give [90.8 dBA, 70.74 dBA] (hand calculation).
    """
    return measured_level + 10 * log10(1 - 10 ** (-max(background_gap, 3) / 10))


@formula(source=("drop-both-parts", "iec-60228"))
def corrected_drop(measured_drop, drop_current, test_current, drop_resistance, test_resistance, drop_reactance, drop_power_factor, test_power_factor):
    """By current and by both parts at both power factors, the resistance as warm as it was and as it is designed; by current alone it is wrong.

    Example: measured_drop=[12.755 V], drop_current=[2400 A], test_current=[1450 A], drop_resistance=[4.2 mohm], test_resistance=[4.2 mohm],
    drop_reactance=[3.1 mohm], drop_power_factor=[0.8], test_power_factor=[0.92] give [21.70 V] (hand calculation).
    """
    return (measured_drop * drop_current / test_current
            * (drop_resistance * drop_power_factor + drop_reactance * sqrt(1 - drop_power_factor ** 2))
            / (test_resistance * test_power_factor + drop_reactance * sqrt(1 - test_power_factor ** 2)))
