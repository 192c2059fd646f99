"""Loads and sets, second part: what a set can do at its site, the average that its rating class allows, and its fuel."""

from basis.language.formula import check, formula
from basis.language.maths import lookup, sum_over

# ---- site rating ----

@formula(source="definition")
def set_rated_apparent_power(set_rated_power, set_rated_power_factor):
    """Rated apparent power of a set from its declared power and power factor."""
    return set_rated_power / set_rated_power_factor


@formula(source="definition")
def alternator_rated_apparent_power(set_rated_apparent_power):
    """Rating of the alternator, that of the set unless a larger frame is bought for motor starting or rectifiers."""
    return set_rated_apparent_power


@formula(source="definition")
def pole_pairs(power_frequency, engine_speed):
    """Pole pairs of a synchronous alternator coupled straight to its engine; a figure that is not whole means a wrong input."""
    return power_frequency / engine_speed


@formula(source="definition")
def set_air_temperature(outdoor_temperature_max, set_air_temperature_rise):
    """Air that engine and alternator take in on the hottest day: outdoor air, warmed by the room."""
    return outdoor_temperature_max + set_air_temperature_rise


@formula(source="physics")
def charge_coolant_temperature(set_air_temperature, reference_coolant_temperature, reference_air_temperature):
    """Charge coolant on the hottest day, taken as far above the air as it was at reference conditions; the data sheet wins."""
    return set_air_temperature + (reference_coolant_temperature - reference_air_temperature)


@formula(source="iso-3046-1-exponents")
def humidity_weight(engine_type):
    """Whether dry air counts: only an engine limited by excess air feels humidity."""
    return lookup("iso-3046-exponents", "humidity_weight", engine_type)


@formula(source="iso-3046-1-exponents")
def pressure_exponent(engine_type):
    """How strongly the engine feels thin air: a turbocharger makes up for part of it."""
    return lookup("iso-3046-exponents", "pressure", engine_type)


@formula(source="iso-3046-1-exponents")
def temperature_exponent(engine_type):
    """How strongly the engine feels warm intake air."""
    return lookup("iso-3046-exponents", "temperature", engine_type)


@formula(source="iso-3046-1-exponents")
def coolant_exponent(engine_type):
    """How strongly the engine feels warm charge coolant: only one with a charge cooler does."""
    return lookup("iso-3046-exponents", "coolant", engine_type)


@formula(source="iso-3046-1-adjustment", valid={"air_pressure": (60e3, 105e3), "set_air_temperature": (263.15, 328.15)})
def indicated_power_ratio(air_pressure, humidity_weight, vapour_pressure, reference_air_pressure, reference_vapour_pressure, pressure_exponent,
                          reference_air_temperature, set_air_temperature, temperature_exponent, reference_coolant_temperature,
                          charge_coolant_temperature, coolant_exponent):
    """Indicated power at the site over that at reference conditions, from air pressure, air and charge coolant temperature.

    A maker who declares full power up to some altitude and temperature states those as reference; his curve wins over this.
    Example: air_pressure=89.875 kPa, humidity_weight=0, vapour_pressure=0 kPa, pressure_exponent=0.7, set_air_temperature=40 degC,
    temperature_exponent=1.2, charge_coolant_temperature=40 degC, coolant_exponent=1 give 0.833 (hand calculation).
    """
    return (((air_pressure - humidity_weight * vapour_pressure) / (reference_air_pressure - humidity_weight * reference_vapour_pressure)) ** pressure_exponent
            * (reference_air_temperature / set_air_temperature) ** temperature_exponent
            * (reference_coolant_temperature / charge_coolant_temperature) ** coolant_exponent)


@formula(source="iso-3046-1-alpha", valid={"mechanical_efficiency": (0.7, 0.95)})
def power_adjustment(indicated_power_ratio, mechanical_efficiency):
    """Brake power at the site over that at reference: friction does not shrink with the charge, so brake power falls faster.

    Example: indicated_power_ratio=1.056, mechanical_efficiency=0.85 give 1.063 (hand calculation).
    """
    return indicated_power_ratio - 0.7 * (1 - indicated_power_ratio) * (1 / mechanical_efficiency - 1)


@formula(source="iso-3046-1")
def engine_site_power(set_rated_power, power_adjustment):
    """Electrical power that the engine allows at its site. A factor above one is no permission to exceed rated power."""
    return set_rated_power * min(1, power_adjustment)


@formula(source=("iec-60034-1", "alternator-derating"), valid={"altitude": (-430, 4000)})
def alternator_factor(alternator_altitude_loss, altitude, alternator_altitude_base, alternator_temperature_loss, set_air_temperature,
                      alternator_temperature_base):
    """Derating of the alternator for thin and for warm air, apart from that of the engine.

    Example: altitude=1600 m, set_air_temperature=39 degC give 0.964 (hand calculation).
    """
    return max(0, 1 - alternator_altitude_loss * max(0, altitude - alternator_altitude_base)
               - alternator_temperature_loss * max(0, set_air_temperature - alternator_temperature_base))


@formula(source="definition")
def alternator_site_apparent_power(alternator_rated_apparent_power, alternator_factor):
    """Apparent power that the alternator carries at its site."""
    return alternator_rated_apparent_power * alternator_factor


@formula(source="definition")
def alternator_site_power(alternator_site_apparent_power, set_rated_power_factor):
    """Active power that the alternator carries at its site at rated power factor."""
    return alternator_site_apparent_power * set_rated_power_factor


@formula(source="definition")
def formula_site_power(engine_site_power, alternator_site_power):
    """Site power by formula: the lesser of what the engine and the alternator allow."""
    return min(engine_site_power, alternator_site_power)


@formula(source=("definition", "maker-declares"))
def set_site_power(site_power_basis, declared_site_power, formula_site_power):
    """Site power of a set, from which everything in the book starts: that of the formulas, or in their place the maker's declaration for this site."""
    return declared_site_power if site_power_basis == "declaration" else formula_site_power


@formula(source=("definition", "maker-declares"))
def engine_power_ratio(site_power_basis, declared_site_power, set_rated_power, power_adjustment):
    """Power that the engine keeps at its site, over rated power: by formula, or as far as the maker's declaration goes.

    Fuel, heat and autonomy follow this ratio, so that rating and fuel tell of one engine. Where an alternator set the declaration the engine would keep
    more, and the fuel counted is a little too high.

    Example: site_power_basis=declaration, declared_site_power=1100 kW, set_rated_power=1250 kW give 0.88 (hand calculation).
    """
    return declared_site_power / set_rated_power if site_power_basis == "declaration" else power_adjustment


@formula(source="iso-3046-1-alpha", valid={"mechanical_efficiency": (0.7, 0.95)})
def engine_indicated_ratio(engine_power_ratio, mechanical_efficiency):
    """Indicated power that goes with it: the power adjustment read backwards, friction being the same.

    Example: engine_power_ratio=1.063, mechanical_efficiency=0.85 give 1.056 (hand calculation).
    """
    return (engine_power_ratio + 0.7 * (1 / mechanical_efficiency - 1)) / (1 + 0.7 * (1 / mechanical_efficiency - 1))


@formula(source="iso-3046-1")
def fuel_adjustment(engine_indicated_ratio, engine_power_ratio):
    """Specific fuel consumption at the site over that at reference: the same friction on less power."""
    return engine_indicated_ratio / engine_power_ratio


@formula(source="definition")
def declaration_gap(declared_site_power, formula_site_power):
    """Declared site power against that of the formulas. A wide gap tells of other reference conditions, of another engine, or of a curve misread."""
    return abs(declared_site_power / formula_site_power - 1)


@formula(source="definition")
def engine_shaft_power(set_site_power, alternator_efficiency):
    """Shaft power behind the site power: alternator losses come on top."""
    return set_site_power / alternator_efficiency


@formula(source="physics", valid={"mean_effective_pressure": (4e5, 32e5)})
def mean_effective_pressure(engine_strokes, engine_shaft_power, engine_displacement, engine_speed):
    """Brake mean effective pressure: a four-stroke engine works once in two turns, a two-stroke engine in each.

    The higher it is, the more the engine leans on its turbocharger, and the smaller the first step that it takes from idle.
    Example: engine_shaft_power=1000 kW, engine_displacement=50 L, engine_speed=1500 r/min give 16.0 bar (hand calculation).
    """
    return (2 if engine_strokes == "four_stroke" else 1) * engine_shaft_power / (engine_displacement * engine_speed)


@formula(source="definition")
def fuel_heat_flow(engine_shaft_power, specific_fuel_consumption, fuel_adjustment, lower_heating_value):
    """Heat that one set takes in as fuel at site power; heat rejection, exhaust and fuel use all follow it."""
    return engine_shaft_power * specific_fuel_consumption * fuel_adjustment * lower_heating_value


# ---- average over the day ----

@formula(source="iso-8528-1-average")
def day_counted_power(day_power, day_counted_share_min, set_rated_power):
    """Power of the period as the rating class counts it: light running counts with at least its share of rated power."""
    return max(day_power, day_counted_share_min * set_rated_power)


@formula(source="iso-8528-1-average")
def day_average_power(day_counted_power, day_duration):
    """Average over the running time of a day; standing still is left out, so list running periods only.

    Example: day_counted_power=[900 kW, 450 kW, 1300 kW], day_duration=[6 h, 10 h, 4 h] give 755 kW (hand calculation).
    """
    return sum_over("day_period", day_counted_power * day_duration) / sum_over("day_period", day_duration)


@formula(source="iso-8528-1-average")
def day_average_ratio(day_average_power, set_rated_power):
    """Average of the day over rated power, which the rating class limits."""
    return day_average_power / set_rated_power


@formula(source="iso-8528-1-average")
def day_average_ratio_max(rating_class):
    """Average over 24 hours that the rating class allows; a maker may agree to more, and the project then gives it."""
    return lookup("iso-8528-1-average", "average", rating_class)


declared_power = check("site_power_declared", "declaration_gap", limit="declaration_gap_max", safe="below", source="declaration-gap",
                       title="Declared site power agrees with the formulas", applies={"site_power_basis": ("declaration",)})
declared_unused = check("declaration_used", "declared_site_power", limit="no_power", safe="below", source="maker-declares",
                        title="A declared site power governs", applies={"site_power_basis": ("formula",)}, self_test=True,
                        fault="site_power_basis: declaration beside it, or no declaration")
day_average = check("day_average", "day_average_ratio", limit="day_average_ratio_max", safe="below", source="iso-8528-1-average",
                    title="Average load over 24 hours")
