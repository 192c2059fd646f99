"""Fuel: what a set burns at any load, how long the store lasts, and how often it is filled and turned over.

Day tank, transfer and warm fuel stand in day_tank.py; pipes, vents and spills in pipes.py. Left out: price, polishing plant, and
fuel lost by water drawn off.
"""

import numpy as np

from basis.language.formula import chapter, check, formula, order, procedure
from basis.language.maths import K, count_over, h, log10, max_over, mm, s, sum_over
from basis.physics.fuel_curve import site_rates

CHAPTER = chapter("fuel", "Fuel", order=80,
                  settles="How long the fuel lasts, and how it gets from the tanks to the engines and back.",
                  cautions=(
    "Diesel and its vapour burn. A leak that sprays on exhaust or turbocharger catches fire at once: shield flanges, sheath pipes, and fit a valve that fire "
    "closes.",
    "Returned fuel and day tanks can be hot enough to scald and, near the flash point, to give off vapour that a spark lights. No smoking, no welding, no "
    "open lamps.",
    "A tank is a confined space. Vapour, lack of oxygen and sludge gas kill who enters, and then who follows. Enter only with a permit, ventilated, tested, "
    "and watched from outside.",
    "Fuel on the floor is a fall, on the ground it is a crime. Stand by while a tank is filled; know where drain covers, absorbent and the stop valve are.",
    "Earth the tanker before the hose is coupled: flowing fuel charges itself.",
    "Engines that run for days put out carbon monoxide where tankers and people wait. Keep fill points and crew upwind of the exhaust.",
))


# ---- properties ----

@formula(source="definition")
def fuel_energy_density(lower_heating_value, fuel_density):
    """Heat of a unit volume. Example: lower_heating_value=42.7 MJ/kg, fuel_density=840 kg/m^3 give 9.96 kWh/L (hand calculation)."""
    return lower_heating_value * fuel_density


@formula(source="definition")
def fuel_temperature_min(outdoor_temperature_min):
    """Coldest fuel, that of an unheated tank and pipe outdoors; buried or heated fuel is given as warmer."""
    return outdoor_temperature_min


@formula(source="definition")
def fuel_temperature_max(outdoor_temperature_max):
    """Warmest fuel in the store, that of a tank in the shade; one in the sun is warmer, one in the ground cooler, and is given so."""
    return outdoor_temperature_max


@formula(source="fuel-expansion")
def fuel_density_cold(fuel_density, fuel_expansion, fuel_temperature_min, fuel_reference_temperature):
    """Density of the coldest fuel. Example: fuel_density=840 kg/m^3, fuel_temperature_min=-20 degC give 864 kg/m^3 (hand calculation)."""
    return fuel_density * (1 - fuel_expansion * (fuel_temperature_min - fuel_reference_temperature))


@formula(source="walther")
def fuel_viscosity_slope(fuel_viscosity_10, fuel_viscosity_40):
    """Steepness of viscosity over temperature from its values at 10 and at 40 °C, in mm²/s and kelvins."""
    return (log10(log10(fuel_viscosity_10 / (mm * mm / s) + 0.7)) - log10(log10(fuel_viscosity_40 / (mm * mm / s) + 0.7))) / log10(313.15 / 283.15)


@formula(source="walther", valid={"fuel_temperature_min": (243.15, 333.15)})
def fuel_viscosity_cold(fuel_viscosity_40, fuel_viscosity_slope, fuel_temperature_min):
    """Viscosity of the coldest fuel, along the straight line of the doubled logarithm. Below the cloud point wax makes it thicker than this.

    Example: fuel_viscosity_slope=4.995, fuel_temperature_min=-10 degC give 22 mm^2/s (hand calculation).
    """
    return (mm * mm / s) * (10 ** 10 ** (log10(log10(fuel_viscosity_40 / (mm * mm / s) + 0.7))
                                         + fuel_viscosity_slope * log10(313.15 * K / fuel_temperature_min)) - 0.7)


# ---- fuel curve ----

@formula(source="definition")
def fuel_curve_top(fuel_point_load):
    """Largest load at which fuel use is stated: no fuel is guessed above it."""
    return max_over("fuel_point", fuel_point_load)


@formula(source="definition")
def fuel_curve_reach(set_site_power, set_load, day_power, fuel_curve_top):
    """Site power, or the largest load of a set in a running case or a period of the day, over the top of the curve.

    Example: set_site_power=1600 kW, set_load=[900 kW, 1700 kW], day_power=[2460 kW], fuel_curve_top=1640 kW give 150 % (hand calculation).
    """
    return max(max(set_site_power, max_over("running_case", set_load)),
               max_over("day_period", day_power) if count_over("day_period") > 0 else 0) / fuel_curve_top


@procedure(source=("linear-curve", "iso-3046-1"), yields=("full_load_fuel_rate",),
           equation="q(P) = β·[q_i + (q_i+1 − q_i)·(P − P_i)/(P_i+1 − P_i)], P_i ≤ P ≤ P_i+1; q(P < P_1) = β·q_1; none above the top point")
def fuel_at_full_load(set_site_power, fuel_point_load, fuel_point_rate, fuel_adjustment):
    """Fuel of one set at site power: straight lines between the stated points of volume over load, times the fuel adjustment of the site.

    Volume over load is nearly a straight line; specific consumption bends, and would mislead between points. Below the lowest point its
    rate is held, which is the safe side; above the top one the curve gives nothing.

    Example: set_site_power=1200 kW, fuel_point_load=[1000 kW, 1500 kW], fuel_point_rate=[262 L/h, 378 L/h], fuel_adjustment=1 give 308.4 L/h (hand
    calculation).
    """
    return site_rates(set_site_power, fuel_point_load, fuel_point_rate, fuel_adjustment)


@procedure(source=("linear-curve", "iso-3046-1"), yields=("case_fuel_rate",), equation="q_b = β·q(P_set), as for full load")
def fuel_of_running_cases(set_load, fuel_point_load, fuel_point_rate, fuel_adjustment):
    """Fuel of each running set in each running case, by the same curve; not given where the case asks for more than the top point."""
    return site_rates(set_load, fuel_point_load, fuel_point_rate, fuel_adjustment)


@procedure(source=("linear-curve", "iso-3046-1"), yields=("day_fuel_rate",), equation="q_d = β·q(P_i), as for full load")
def fuel_over_the_day(day_power, fuel_point_load, fuel_point_rate, fuel_adjustment):
    """Fuel of each set in each period of the day, by the same curve at the power that is really carried."""
    return site_rates(day_power, fuel_point_load, fuel_point_rate, fuel_adjustment)


@procedure(source=("linear-curve", "iso-3046-1"), yields=("record_fuel_rate",), equation="q_r = β·q(P_r,set), as for full load")
def fuel_of_records(record_load, fuel_point_load, fuel_point_rate, fuel_adjustment):
    """Fuel of each set in each record of running, by the same curve at its mean load."""
    return site_rates(record_load, fuel_point_load, fuel_point_rate, fuel_adjustment)


@formula(source="definition")
def curve_fuel_consumption(full_load_fuel_rate, fuel_density, engine_shaft_power):
    """What the curve means for a unit of shaft energy at site power."""
    return full_load_fuel_rate * fuel_density / engine_shaft_power


@formula(source="definition")
def fuel_curve_gap(curve_fuel_consumption, specific_fuel_consumption, fuel_adjustment):
    """Curve against the specific consumption that heat, air and exhaust are worked out from: two statements about one engine."""
    return abs(curve_fuel_consumption / (specific_fuel_consumption * fuel_adjustment) - 1)


# ---- store ----

@formula(source="definition")
def fuel_tank_usable(fuel_tank_volume, fuel_tank_fill_limit, fuel_tank_unusable):
    """What a tank gives: neither the room kept for expansion nor the bottom with water and sludge."""
    return fuel_tank_volume * (fuel_tank_fill_limit - fuel_tank_unusable)


@formula(source="fuel-expansion")
def fuel_tank_level_hot(fuel_tank_fill_limit, fuel_expansion, outdoor_temperature_range):
    """Level of a tank filled to its limit in the coldest hour, in the hottest: a swing that only a tank outdoors can come near."""
    return fuel_tank_fill_limit * (1 + fuel_expansion * outdoor_temperature_range)


@formula(source="definition")
def usable_fuel(fuel_feed, fuel_tank_usable, supplied_sets, installed_sets):
    """Usable fuel of the store when full. Day tanks are left out: they bridge a failed transfer, not an outage.

    Where each set has a tank of its own, the fuel of a set that rests serves nobody: only the share of the supplied sets is counted.
    Example: fuel_feed=own_tank, fuel_tank_usable=[3000 L], supplied_sets=2, installed_sets=3 give 2000 L (hand calculation).
    """
    return sum_over("fuel_tank", fuel_tank_usable) * (supplied_sets / installed_sets if fuel_feed == "own_tank" else 1)


@formula(source="definition")
def fuel_stock(fuel_tank_volume, fuel_tank_fill_limit):
    """All fuel that lies in the bulk tanks when they are full, and ages there."""
    return sum_over("fuel_tank", fuel_tank_volume * fuel_tank_fill_limit)


@formula(source="definition")
def supplied_sets(required_sets, installed_sets):
    """Sets that run through a long outage: as many as carry the firm demand, or all that there are, unless the project keeps more on the bus."""
    return min(required_sets, installed_sets)


@formula(source="fuel-balance")
def full_load_fuel_use(supplied_sets, full_load_fuel_rate):
    """Fuel of the plant with all supplied sets at site power."""
    return supplied_sets * full_load_fuel_rate


@formula(source="fuel-balance")
def full_load_autonomy(usable_fuel, full_load_fuel_use):
    """How long the store lasts at full load. Example: usable_fuel=27600 L, full_load_fuel_use=378 L/h give 73.0 h (hand calculation)."""
    return usable_fuel / full_load_fuel_use


@formula(source="fuel-balance")
def case_fuel_use(running_sets, case_fuel_rate):
    """Fuel of the plant in the running case: more sets on the same load burn more, for each carries its own friction."""
    return running_sets * case_fuel_rate


@formula(source="fuel-balance")
def case_autonomy(usable_fuel, fuel_feed, running_sets, supplied_sets, case_fuel_use):
    """How long the store lasts if the largest demand of the running case never let up: a bound, not a forecast. Sets with tanks of their own bring these
    along.
    """
    return usable_fuel * (running_sets / supplied_sets if fuel_feed == "own_tank" else 1) / case_fuel_use


@formula(source="fuel-balance")
def daily_fuel(supplied_sets, day_fuel_rate, day_duration):
    """Fuel of a day of outage over the periods that the project lists."""
    return supplied_sets * sum_over("day_period", day_fuel_rate * day_duration)


@formula(source="fuel-balance")
def mean_fuel_use(daily_fuel, day_duration):
    """Mean fuel of the plant while it runs; hours at which no set runs are not listed and do not dilute it."""
    return daily_fuel / sum_over("day_period", day_duration)


@procedure(source="fuel-balance", yields=("autonomy",), equation="∫ N_f·q_d(t) dt = V_use over t_a; the least t_a of all periods at which the outage may begin")
def running_through_the_day(usable_fuel, supplied_sets, day_fuel_rate, day_duration):
    """Running time until the usable fuel is gone, period by period, day after day, begun at the period that makes it shortest.

    Hours not listed are hours at rest and are not counted as autonomy. The residual is the fuel burnt in that time less the usable fuel.
    """
    fuel = supplied_sets * day_fuel_rate * day_duration
    days = np.floor(usable_fuel / np.sum(fuel))
    left, found = usable_fuel - days * np.sum(fuel), []
    for first in range(len(fuel)):
        burnt, lasts = np.roll(fuel, -first), np.roll(day_duration, -first)
        share = np.clip((left - (np.cumsum(burnt) - burnt)) / burnt, 0, 1)
        found.append((np.sum(share * lasts), np.sum(share * burnt)))
    time, burnt = min(found)
    return (days * np.sum(day_duration) + time,), abs(burnt - left), "fuel burnt less usable fuel, m³"


@formula(source="mil-hdbk-1003-11-storage")
def manual_storage(installed_sets, full_load_fuel_rate, manual_storage_time, manual_storage_factor):
    """Store that the military manual asks for: seven days of all engines, spares counted, at three quarters of full load.

    Example: installed_sets=2, full_load_fuel_rate=262 L/h give 66024 L (hand calculation).
    """
    return installed_sets * full_load_fuel_rate * manual_storage_time * manual_storage_factor


@formula(source=("fuel-balance", "mil-hdbk-1003-11-storage"))
def required_stock(storage_rule, required_autonomy, full_load_fuel_use, mean_fuel_use, manual_storage):
    """Usable fuel that the project must hold, by the rule that it has chosen."""
    return (required_autonomy * full_load_fuel_use if storage_rule == "full_load_hours" else
            required_autonomy * mean_fuel_use if storage_rule == "profile_hours" else manual_storage)


# ---- a year, deliveries, age ----

@formula(source="fuel-balance")
def annual_fuel(record_hours, record_sets, record_fuel_rate):
    """Fuel of a usual year, all sets and all reasons for running."""
    return sum_over("running_record", record_hours * record_sets * record_fuel_rate)


@formula(source="fuel-balance")
def no_outage_fuel(record_hours, record_sets, record_fuel_rate, record_reason):
    """Fuel of all running but that in outages: what moves the store in a year without one.

    Example: record_hours=[12 h], record_sets=[1], record_fuel_rate=[262 L/h], record_reason=[test] give 3144 L (hand calculation).
    """
    return sum_over("running_record", 0 if record_reason == "emergency" else record_hours * record_sets * record_fuel_rate)


@formula(source="definition")
def fuel_turnover(fuel_stock, annual_fuel, turnover_counted_max):
    """Time in which a usual year's running uses up what is stored; counted up to a hundred years, which stand for never."""
    return fuel_stock / max(annual_fuel / (8760 * h), fuel_stock / turnover_counted_max)


@formula(source="definition")
def no_outage_turnover(fuel_stock, no_outage_fuel, turnover_counted_max):
    """Age that fuel reaches in years without an outage, counted in the same way.

    Example: fuel_stock=30000 L, no_outage_fuel=3144 L give 9.5 years (hand calculation).
    """
    return fuel_stock / max(no_outage_fuel / (8760 * h), fuel_stock / turnover_counted_max)


@formula(source="definition")
def fuel_deliveries(annual_fuel, fuel_delivery_volume):
    """Deliveries of a usual year, as a mean over many years."""
    return annual_fuel / fuel_delivery_volume


@formula(source="fuel-balance")
def fuel_delivery_cover(usable_fuel, fuel_reorder_level, fuel_reserve_level, full_load_fuel_use):
    """Time from ordering until the stock is down to its reserve, supplied sets at full load: a tanker must come within it."""
    return usable_fuel * (fuel_reorder_level - fuel_reserve_level) / full_load_fuel_use


@formula(source="definition")
def fuel_delivery_room(usable_fuel, fuel_reorder_level):
    """Free volume when a delivery is ordered: a tanker that cannot empty itself will not come again."""
    return usable_fuel * (1 - fuel_reorder_level)


@formula(source="fuel-balance")
def fuel_delivery_interval(fuel_delivery_volume, full_load_fuel_use):
    """How often a tanker must come through an outage that outlasts the store."""
    return fuel_delivery_volume / full_load_fuel_use


# ---- checks ----

curve_covers = check("fuel_curve", "fuel_curve_reach", limit="fuel_curve_reach_max", safe="below", source="no-extrapolation",
                     title="Loads within the fuel curve", exact=True)
curve_agrees = check("fuel_curve_sheet", "fuel_curve_gap", limit="fuel_curve_gap_max", safe="below", source="fuel-curve-gap",
                     title="Fuel curve agrees with specific consumption")
cold_fuel = check("cold_fuel", "fuel_temperature_min", limit="fuel_cold_limit", safe="above", source="project", title="Coldest fuel flows through filters")
autonomy_check = check("autonomy_over_day", "autonomy", limit="required_autonomy", safe="above", source="project", title="Autonomy over the day's load")
full_load_check = check("autonomy_at_full_load", "full_load_autonomy", limit="full_load_autonomy_min", safe="above", source="project",
                        title="Autonomy at full load")
storage = check("fuel_storage", "usable_fuel", limit="required_stock", safe="above", source="project", title="Usable fuel against the stock required")
level_hot = check("fuel_level_hot", "fuel_tank_level_hot", limit="fuel_tank_level_max", safe="below", source="fuel-expansion",
                  title="Room for fuel that warms", exact=True)
age = check("fuel_age", "no_outage_turnover", limit="fuel_age_max", safe="below", source="fuel-age", title="Age of fuel in years without an outage")
delivery_time = check("delivery_time", "fuel_delivery_cover", limit="fuel_delivery_lead", safe="above", source="project",
                      title="Delivery arrives before the reserve is touched")
delivery_room = check("delivery_room", "fuel_delivery_room", limit="fuel_delivery_volume", safe="above", source="project", title="Room for a delivery")

# What no sound text gives the other way round.
fuel_temperature_min_order = order("fuel_temperature_min", "fuel_temperature_max")
supplied_sets_order = order("supplied_sets", "installed_sets")
fuel_transfer_pumps_standby_order = order("fuel_transfer_pumps_standby", "fuel_transfer_pumps")
fuel_tank_unusable_order = order("fuel_tank_unusable", "fuel_tank_fill_limit")
fuel_reserve_level_order = order("fuel_reserve_level", "fuel_reorder_level")
