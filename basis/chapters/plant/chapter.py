"""Plant and cautions: what the book covers, place, climate, running hours, codes, and the dangers of the whole plant."""

from basis.language.formula import chapter, check, formula, order

CHAPTER = chapter("plant", "Plant and cautions", order=10,
                  settles="Where the plant stands, what it is for, and what everybody must know before touching it.",
                  cautions=(
    "This book is a design aid. Local codes, the authority having jurisdiction and a licensed engineer decide.",
    "Exhaust carries carbon monoxide, which cannot be seen or smelt and kills within minutes. Keep it out of rooms, shafts and air intakes, "
    "and fit alarms where it could reach people.",
    "A set that stands still is not dead: it starts by itself and without warning. Lock out and tag the starting system, the breaker and the "
    "battery before any guard is opened.",
    "Shafts, fans and belts maim. Keep guards on, hair and clothes close, and hands out.",
    "Generated voltage kills, and so does the supply that feeds back through a transfer switch. Only qualified persons isolate, prove dead and earth.",
    "Fuel, its vapour, hot oil and the gas of batteries burn and explode. Keep flame away, keep escape routes free, and know where the fuel is shut off.",
    "Running sets damage hearing at once. Wear hearing protection in the plant room whenever a set may start.",
    "Batteries, springs, compressed air, hot pressurised coolant and capacitors hold energy after the engine stops. Release it before work.",
))


@formula(source="iso-2533", valid={"altitude": (-430, 11_000)})
def air_pressure(standard_air_pressure, standard_lapse_rate, altitude, standard_air_temperature, standard_gravity, standard_air_gas_constant):
    """Air pressure at the site by the standard atmosphere: hydrostatic balance of a layer whose temperature falls evenly.

    Weather moves it by a few per cent, which sizing leaves out; a project that has its own record gives that instead.
    Example: altitude=1600 m give 83.5 kPa (hand calculation).
    """
    return standard_air_pressure * (1 - standard_lapse_rate * altitude / standard_air_temperature) ** (
        standard_gravity / (standard_lapse_rate * standard_air_gas_constant))


@formula(source="definition")
def air_pressure_ratio(air_pressure, standard_air_pressure):
    """What is left of air density, at equal temperature, because the plant stands high.

    The density ratio of the standard atmosphere is larger, because it counts the colder air up there: wrong for a hot design day.
    """
    return air_pressure / standard_air_pressure


@formula(source="definition")
def outdoor_temperature_range(outdoor_temperature_max, outdoor_temperature_min):
    """Span of outdoor air over which cooling, starting, fuel and coolant must all work."""
    return outdoor_temperature_max - outdoor_temperature_min


@formula(source="definition")
def running_hours_per_year(hours_per_year_tests, hours_per_year_outages):
    """Hours of one set in a usual year, the base of fuel use, wear and emission.

    A bad year, one long outage, is a case of its own and is looked at with the fuel store.
    """
    return hours_per_year_tests + hours_per_year_outages


@formula(source="definition")
def plant_age(status_date, commissioning_date):
    """Time since the plant was taken over; none while it is still to be.

    Example: status_date=2028-03-31, commissioning_date=2027-04-01 give 1.000 year (hand calculation: 365 days, with 29 February 2028 among them).
    """
    return max(0, status_date - commissioning_date)


test_hours = check("test_hours", "hours_per_year_tests", limit="test_hours_max", safe="below", source="emergency-engine-hours",
                   title="Running for tests in a year")

# What no sound text gives the other way round.
outdoor_temperature_min_order = order("outdoor_temperature_min", "outdoor_temperature_max")
