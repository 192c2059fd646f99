"""Commissioning record, third part: what is read again and again over the years, its slope, and the day on which it would meet its limit.

Each reading is brought to a share of its own limit, so that one line of least squares, one figure and one verdict serve for all that is followed. Left out:
ageing that is no straight line, and a weight of the newer readings.
"""

import numpy as np

from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import SOME, check, formula, procedure
from basis.language.maths import count_over, cumulative_over, h, max_over, not_given, nothing, ohm, pick, sqrt, sum_over

# ---- limits ----

@formula(source="definition")
def trend_time_limit(starting_chapter, start_time_max):
    """Time to load that the project's code allows."""
    return start_time_max if starting_chapter == "in_this_book" else not_given


@formula(source="ieee-43")
def trend_resistance_limit(trend_winding):
    """Least resistance of a winding after one minute at 40 °C. Example: trend_winding=[form_wound] give [100 Mohm] (hand calculation)."""
    return 100e6 * ohm if trend_winding == "form_wound" else 5e6 * ohm if trend_winding == "random_wound_or_below_1_kv" else not_given


@formula(source="definition")
def trend_capacity_limit(starting_chapter, battery_end_of_life_share):
    """Share of rated capacity at which the starting battery is replaced."""
    return battery_end_of_life_share if starting_chapter == "in_this_book" else not_given


# ---- readings ----

@formula(source=("ieee-43", "insulation-halving"))
def reading_resistance_corrected(reading_resistance, insulation_temperature, reading_temperature, reading_of, trend_halving):
    """Half as much for so many kelvins more.

    Example: reading_resistance=[200 Mohm], insulation_temperature=40 degC, reading_temperature=[20 degC], reading_of=[item_1], trend_halving=[10 K] give
    [50 Mohm] (hand calculation).
    """
    return reading_resistance * 0.5 ** ((insulation_temperature - reading_temperature) / pick(reading_of, trend_halving))


@formula(source="ieee-43-index")
def reading_index(reading_late_resistance, reading_resistance):
    """Of a dry, clean winding it rises with time. Example: reading_late_resistance=[1200 Mohm], reading_resistance=[400 Mohm] give [3] (hand calculation)."""
    return reading_late_resistance / reading_resistance


@procedure(source="definition", equation="z = y/y_lim, each reading over the limit of its own trend", yields=("reading_ratio",))
def shares_of_limits(trend_kind, reading_of, reading_date, reading_start_time, trend_time_limit, reading_resistance, reading_resistance_corrected,
                     trend_resistance_limit, reading_late_resistance, reading_index, trend_index_limit, reading_voltage, trend_voltage_limit,
                     reading_conductance, trend_conductance_limit, reading_capacity, trend_capacity_limit, reading_velocity, trend_velocity_limit):
    """Each reading as a share of what is allowed. Readings that lack what their trend follows are told, and dates that run backwards."""
    known = {"start_time": ({"reading_start_time": reading_start_time}, reading_start_time, trend_time_limit),
             "insulation_resistance": ({"reading_resistance": reading_resistance}, reading_resistance_corrected, trend_resistance_limit),
             "polarisation_index": ({"reading_resistance": reading_resistance, "reading_late_resistance": reading_late_resistance}, reading_index,
                                    trend_index_limit),
             "battery_voltage": ({"reading_voltage": reading_voltage}, reading_voltage, trend_voltage_limit),
             "battery_conductance": ({"reading_conductance": reading_conductance}, reading_conductance, trend_conductance_limit),
             "battery_capacity": ({"reading_capacity": reading_capacity}, reading_capacity, trend_capacity_limit),
             "vibration": ({"reading_velocity": reading_velocity}, reading_velocity, trend_velocity_limit)}
    kinds = [trend_kind[trend] for trend in reading_of]
    troubles = [ItemTrouble(name, place, f"is missing, and the trend follows {kind.replace('_', ' ')}", f"`{name}` of this reading")
                for place, kind in enumerate(kinds) for name, read in known[kind][0].items() if np.isnan(read[place])]
    troubles += [ItemTrouble("reading_date", place, "is not after the reading before it in the same trend: dates that run backwards",
                             "days that rise as listed; of two readings on one day their mean")
                 for place, trend in enumerate(reading_of) if (earlier := reading_date[:place][np.asarray(reading_of[:place]) == trend]).size
                 and reading_date[place] <= earlier[-1]]
    if troubles:
        raise ItemTroubles(troubles)
    shares = np.array([known[kind][1][place] / known[kind][2][trend] for place, (kind, trend) in enumerate(zip(kinds, reading_of))], dtype=float)
    return (shares,), 0.0, "closed form"


@formula(source="definition")
def reading_age(reading_date, commissioning_date):
    """Time in service. Example: reading_date=[2028-05-16], commissioning_date=2027-05-17 give [1 year] (hand calculation: 365 days)."""
    return reading_date - commissioning_date


# ---- the line of a trend ----

@formula(source="definition")
def trend_number(trend_index_limit):
    """Place of the trend in its list, by which its readings are told from the others: each number over itself counts one."""
    return cumulative_over("trend", trend_index_limit / trend_index_limit)


@formula(source="definition")
def reading_number(reading_of, trend_number):
    """Number of the trend to which the reading belongs."""
    return pick(reading_of, trend_number)


@formula(source="definition")
def trend_readings(reading_number, trend_number):
    """How many there are. Example: reading_number=[1, 1], trend_number=[1] give [2] (counted)."""
    return sum_over("reading", 1 if reading_number == trend_number else 0)


@formula(source="least-squares")
def trend_mean_age(reading_number, trend_number, reading_age, trend_readings):
    """Mean of the ages. Example: reading_number=[1, 1], trend_number=[1], reading_age=[1 year, 3 year], trend_readings=[2] give [2 year] (hand
    calculation).
    """
    return sum_over("reading", reading_age if reading_number == trend_number else 0) / max(1, trend_readings)


@formula(source="least-squares")
def trend_mean_ratio(reading_number, trend_number, reading_ratio, trend_readings):
    """Mean of the readings. Example: reading_number=[1, 1], trend_number=[1], reading_ratio=[80 %, 90 %], trend_readings=[2] give [85 %] (hand
    calculation).
    """
    return sum_over("reading", reading_ratio if reading_number == trend_number else 0) / max(1, trend_readings)


@formula(source="least-squares")
def trend_age_spread(reading_number, trend_number, reading_age, trend_mean_age):
    """Squares about the mean. Example: reading_number=[1, 1], trend_number=[1], reading_age=[1 year, 3 year], trend_mean_age=[2 year] give [2 year^2]
    (hand calculation).
    """
    return sum_over("reading", (reading_age - trend_mean_age) ** 2 if reading_number == trend_number else 0)


@formula(source="least-squares")
def trend_slope(reading_number, trend_number, reading_age, trend_mean_age, reading_ratio, trend_mean_ratio, trend_age_spread):
    """Slope of the line that leaves the least squares.

    Example: reading_number=[1, 1], trend_number=[1], reading_age=[1 year, 3 year], trend_mean_age=[2 year], reading_ratio=[80 %, 90 %],
    trend_mean_ratio=[85 %], trend_age_spread=[2 year^2] give [5 %/year] (hand calculation).
    """
    return sum_over("reading", (reading_age - trend_mean_age) * (reading_ratio - trend_mean_ratio) if reading_number == trend_number else 0) \
        / trend_age_spread if trend_age_spread > 0 else 0


@formula(source="least-squares")
def trend_lines(trend_age_spread):
    """Whether there is a line. Example: trend_age_spread=[2 year^2] give [1] (hand calculation)."""
    return 1 if trend_age_spread > 0 else 0


@formula(source="least-squares")
def trend_scatter(reading_number, trend_number, reading_age, trend_mean_age, reading_ratio, trend_mean_ratio, trend_slope, trend_readings):
    """Two numbers of the line are taken from the readings, so two fewer are left.

    Example: reading_number=[1, 1, 1], trend_number=[1], reading_age=[0 year, 1 year, 2 year], trend_mean_age=[1 year],
    reading_ratio=[10 %, 40 %, 10 %], trend_mean_ratio=[20 %], trend_slope=[0 %/year], trend_readings=[3] give [24.49 %] (hand calculation: root of 0.06).
    """
    return sqrt(sum_over("reading", (reading_ratio - trend_mean_ratio - trend_slope * (reading_age - trend_mean_age)) ** 2
                         if reading_number == trend_number else 0) / (trend_readings - 2)) if trend_readings > 2 else nothing


@formula(source="least-squares")
def trend_slope_error(trend_scatter, trend_age_spread):
    """What the scatter leaves open of the slope.

    Example: trend_scatter=[2 %], trend_age_spread=[4 year^2] give [1 %/year] (hand calculation).
    """
    return trend_scatter / sqrt(trend_age_spread) if trend_age_spread > 0 else nothing


# ---- the last reading, and the day of the limit ----

@formula(source="definition")
def trend_last_age(reading_number, trend_number, reading_age):
    """Age of the plant when it was last read. Example: reading_number=[1, 1], trend_number=[1], reading_age=[1 year, 3 year] give [3 year] (hand count)."""
    return max_over("reading", reading_age if reading_number == trend_number else 0) if count_over("reading") > 0 else 0 * h


@formula(source="definition")
def trend_last_ratio(reading_number, trend_number, reading_age, trend_last_age, reading_ratio):
    """Of the reading on that day.

    Example: reading_number=[1, 1], trend_number=[1], reading_age=[1 year, 3 year], trend_last_age=[3 year], reading_ratio=[80 %, 90 %] give
    [90 %] (hand count).
    """
    return sum_over("reading", (reading_ratio if reading_age == trend_last_age else 0) if reading_number == trend_number else 0)


@formula(source="definition")
def trend_used(trend_kind, trend_last_ratio, trend_readings):
    """Reading over limit, or the other way round where less is worse.

    Example: trend_kind=[start_time, battery_capacity], trend_last_ratio=[90 %, 125 %], trend_readings=[3, 3] give [90 %, 80 %] (hand calculation).
    """
    return (trend_last_ratio if trend_kind == "start_time" or trend_kind == "vibration" else
            1 / trend_last_ratio if trend_readings > 0 else 0)


@formula(source="definition")
def trend_worsening(trend_kind, trend_slope):
    """Towards the limit, whichever side it lies on.

    Example: trend_kind=[start_time, battery_capacity], trend_slope=[5 %/year, 5 %/year] give [5 %/year, -5 %/year] (hand calculation).
    """
    return trend_slope if trend_kind == "start_time" or trend_kind == "vibration" else -trend_slope


@formula(source=("least-squares", "trend-reach"))
def trend_limit_date(trend_worsening, trend_slope, trend_mean_ratio, trend_reach, commissioning_date, trend_mean_age):
    """Where the line crosses the limit.

    Example: trend_worsening=[5 %/year], trend_slope=[5 %/year], trend_mean_ratio=[90 %], trend_reach=30 year, commissioning_date=2027-01-01,
    trend_mean_age=[1 year] give [2029-12-31] (hand calculation: three years of 365 days, of which 2028 has one more).
    """
    return (max(commissioning_date, commissioning_date + (trend_mean_age + (1 - trend_mean_ratio) / trend_slope))
            if trend_worsening * trend_reach > abs(1 - trend_mean_ratio) else nothing)


@formula(source="definition")
def trend_next_date(commissioning_date, trend_last_age, trend_interval):
    """So long after the last reading, or after commissioning.

    Example: commissioning_date=2027-01-01, trend_last_age=[1 year], trend_interval=[1 year] give [2028-12-31] (hand calculation: 730 days).
    """
    return commissioning_date + (trend_last_age + trend_interval)


@formula(source="least-squares")
def trend_next_headroom(trend_kind, trend_mean_ratio, trend_slope, trend_last_age, trend_interval, trend_mean_age):
    """What the line leaves up to the limit, on whichever side it lies.

    Example: trend_kind=[start_time, battery_capacity], trend_mean_ratio=[80 %, 120 %], trend_slope=[10 %/year, -10 %/year], trend_last_age=[1 year, 1 year],
    trend_interval=[1 year, 1 year], trend_mean_age=[1 year, 1 year] give [10 %, 10 %] (hand calculation).
    """
    return ((1 if trend_kind == "start_time" or trend_kind == "vibration" else -1)
            * (1 - (trend_mean_ratio + trend_slope * (trend_last_age + trend_interval - trend_mean_age))))


trend_ok = check("trend_within_limit", "trend_used", limit="trend_used_max", safe="below", source="definition", title="Latest readings within their limits",
                 applies={"trend_readings": SOME})
trend_lasts = check("trend_lasts", "trend_next_headroom", limit="trend_headroom_min", safe="above", source="least-squares",
                    title="No limit is met before the next reading", applies={"trend_lines": SOME})
readings_due = check("readings_in_time", "trend_next_date", limit="status_date", safe="above", source="yearly-reading", exact=True,
                     title="Readings are not overdue")
reading_past = check("reading_by_status_date", "reading_date", limit="status_date", safe="below", source="definition", exact=True, self_test=True,
                     title="No reading is later than the status date", fault="a day not after the status date")
reading_in_service = check("reading_after_commissioning", "reading_date", limit="commissioning_date", safe="above", source="definition", exact=True,
                           self_test=True, title="Read only after commissioning", fault="a day not before commissioning")
