"""A year of hourly outdoor temperatures made up from its two extremes."""

from math import cos, pi

from basis.guessing.rule import quantity, rule
from basis.physics.weather import DAYS, ICE_POINT

NORTH = 200  # day of the year that is hottest, in the northern half of the Earth
SPELL = 10   # days to either side of the coldest
FILE = "weather-guessed.epw"


@quantity()
def yearly_mean(coldest, hottest):
    """Coldest and 0.6 of the span."""
    return coldest + 0.6 * (hottest - coldest)


@quantity()
def daily_amplitude(coldest, hottest):
    """0.12 of the span, held to 2 to 7 K."""
    return min(max(0.12 * (hottest - coldest), 2.0), 7.0)


@quantity()
def yearly_amplitude(coldest, hottest, daily_amplitude):
    """0.4 of the span, less the daily amplitude."""
    return 0.4 * (hottest - coldest) - daily_amplitude


@quantity()
def cold_spell(coldest, hottest):
    """0.2 of the span."""
    return 0.2 * (hottest - coldest)


@quantity()
def hours_of_year(yearly_mean, daily_amplitude, yearly_amplitude, cold_spell):
    """Mean, a wave over the year that is highest on day 200, a wave over the day that is highest at hour 15, and a spell round the coldest day."""
    def at(day, hour):
        past = abs(day - (NORTH - 182.5))
        apart = min(past, 365 - past)
        spell = cold_spell * cos(pi * apart / (2 * SPELL)) ** 2 if apart < SPELL else 0.0
        return (yearly_mean + yearly_amplitude * cos(2 * pi * (day - NORTH) / 365) + daily_amplitude * cos(2 * pi * (hour - 15) / 24) - spell)
    return [at(day, hour) for day in range(1, 366) for hour in range(1, 25)]


@rule(spread="heating energy ±30 %, none in warm seas", source="made-up-year")
def outdoor_temperature_hourly():
    """Made up from the coldest and the hottest hour, hottest day the 200th: no sun, no humidity, no record; a weather file replaces it."""
    return FILE


def weather_text(hours_of_year: list[float], coldest: str, hottest: str) -> str:
    """The year as an EPW file whose comments say what it is: made up from two extremes."""
    lines = ["LOCATION,Made up from two extremes,-,-,no weather record,000000,0.0,0.0,0.0,0", "DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0",
             "GROUND TEMPERATURES,0", "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
             f"COMMENTS 1,First guess: a year made up from its extremes of {coldest} and {hottest} for want of a weather file; good to a third in "
             "heating energy at best and of no use in warm seas",
             "COMMENTS 2,Mean; a wave over the year with its top on day 200; a wave over the day with its top at hour 15; a cold spell of twenty days; only "
             "the columns up to dry-bulb temperature are written", "DATA PERIODS,1,1,Data,Monday, 1/ 1,12/31"]
    times = ((month, day, hour) for month, days in enumerate(DAYS, start=1) for day in range(1, days + 1) for hour in range(1, 25))
    lines += [f"2001,{month},{day},{hour},0,?,{kelvin - ICE_POINT:.2f}" for (month, day, hour), kelvin in zip(times, hours_of_year)]
    return "\n".join(lines) + "\n"
