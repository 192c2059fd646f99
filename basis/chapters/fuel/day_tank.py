"""Fuel, second part: day tanks, the transfer that fills them, what happens when it fails, and how warm the returned fuel makes them."""

import numpy as np

from basis.chapters.fuel.terms import RUN_MINUTES
from basis.language.formula import check, formula, order, procedure
from basis.language.maths import K, exp, sqrt

NODES, WEIGHTS = np.polynomial.legendre.leggauss(40)  # for integrals over one step, exact to rounding


# ---- what a day tank feeds ----

@formula(source="definition")
def day_tanks(installed_sets, sets_per_day_tank):
    """Number of day tanks in the plant."""
    return installed_sets / sets_per_day_tank


@formula(source="supply-ratio")
def engine_supply_flow(engine_supply_ratio, full_load_fuel_rate):
    """Fuel that the engine's own pump draws, for want of the data sheet: more than it burns, for cooling and to carry off air."""
    return engine_supply_ratio * full_load_fuel_rate


@formula(source="fuel-balance")
def engine_return_flow(engine_supply_flow, full_load_fuel_rate):
    """Fuel that comes back from an engine at full load."""
    return engine_supply_flow - full_load_fuel_rate


@formula(source="fuel-balance")
def day_tank_draw(sets_per_day_tank, full_load_fuel_rate, fuel_return_route, engine_supply_flow):
    """What leaves a day tank for good. With the return led to the bulk tank that is all that the engine draws, several times its burn."""
    return sets_per_day_tank * (full_load_fuel_rate if fuel_return_route == "day_tank" else engine_supply_flow)


@formula(source="fuel-balance")
def transfer_draw(supplied_sets, sets_per_day_tank, day_tank_draw):
    """What leaves the day tanks of all supplied sets at full load."""
    return supplied_sets / sets_per_day_tank * day_tank_draw


@formula(source="definition")
def day_tank_reserve(day_tank_volume, day_tank_start_level, day_tank_unusable):
    """Fuel in a day tank at the worst moment for the transfer to fail: just before it would have started."""
    return day_tank_volume * (day_tank_start_level - day_tank_unusable)


@formula(source="fuel-balance")
def day_tank_time(day_tank_reserve, day_tank_draw):
    """Full-load time that is left then. A return led to the bulk tank shortens it as many times as more is drawn than burnt."""
    return day_tank_reserve / day_tank_draw


@formula(source="fuel-balance")
def day_tank_alarm_time(day_tank_volume, day_tank_low_alarm, day_tank_unusable, day_tank_draw):
    """Full-load time from the low-level alarm to an empty tank: what somebody has to reach the valves and start the other pump."""
    return day_tank_volume * (day_tank_low_alarm - day_tank_unusable) / day_tank_draw


# ---- transfer ----

@formula(source="transfer-margin")
def fuel_transfer_flow_min(fuel_transfer_margin, transfer_draw):
    """Flow that the pumps on duty must give, so that day tanks rise while the sets run at full load."""
    return fuel_transfer_margin * transfer_draw


@formula(source="definition")
def fuel_transfer_pumps_least(fuel_transfer_pumps_standby):
    """Pumps that there must be: those that stand by, and one on duty."""
    return fuel_transfer_pumps_standby + 1


@formula(source="definition")
def fuel_transfer_flow(fuel_transfer_pumps, fuel_transfer_pumps_standby, fuel_transfer_pump_flow):
    """Flow of the pumps on duty together."""
    return (fuel_transfer_pumps - fuel_transfer_pumps_standby) * fuel_transfer_pump_flow


@formula(source="definition")
def fuel_transfer_flow_one_out(fuel_transfer_pumps, fuel_transfer_pump_flow):
    """Flow of all pumps but one. If it is less than the sets take, the day tanks fall from the moment a pump fails."""
    return (fuel_transfer_pumps - 1) * fuel_transfer_pump_flow


@formula(source="fuel-balance")
def fuel_transfer_surplus(fuel_transfer_flow, transfer_draw):
    """What is left to raise the levels while all supplied sets run at full load."""
    return fuel_transfer_flow - transfer_draw


@formula(source="on-off-cycle", valid={"day_tank_refill_time": (0, 86400)})
def day_tank_refill_time(supplied_sets, sets_per_day_tank, day_tank_volume, day_tank_stop_level, day_tank_start_level, fuel_transfer_surplus):
    """Time to raise the day tanks from the starting to the stopping level with sets at full load. Negative: the level falls all the same."""
    return supplied_sets / sets_per_day_tank * day_tank_volume * (day_tank_stop_level - day_tank_start_level) / fuel_transfer_surplus


@formula(source="on-off-cycle")
def fuel_transfer_starts(transfer_draw, fuel_transfer_flow, supplied_sets, sets_per_day_tank, day_tank_volume, day_tank_stop_level,
                         day_tank_start_level):
    """Starts in an hour at the load that cycles the pumps most: half their flow, or full load if that is less. Standby pumps share them. Without a
    pump on duty there is none.
    """
    return (min(transfer_draw, fuel_transfer_flow / 2) * (fuel_transfer_flow - min(transfer_draw, fuel_transfer_flow / 2)) / (
        fuel_transfer_flow * supplied_sets / sets_per_day_tank * day_tank_volume * (day_tank_stop_level - day_tank_start_level))
            if fuel_transfer_flow > 0 else 0)


@formula(source="torricelli")
def day_tank_overflow_capacity(day_tank_overflow_bore, standard_gravity, day_tank_overflow_head, day_tank_overflow_loss):
    """What runs back to the store by gravity when a day tank is overfilled, its pipe short and full."""
    return 3.141592653589793 / 4 * day_tank_overflow_bore ** 2 * sqrt(2 * standard_gravity * day_tank_overflow_head / day_tank_overflow_loss)


@formula(source="fuel-balance")
def day_tank_overflow_need(fuel_transfer_pumps, fuel_transfer_pump_flow, sets_per_day_tank, fuel_return_route, engine_return_flow):
    """What an overflow must take: every pump into the one tank whose valve sticks open, and what its engines send back."""
    return fuel_transfer_pumps * fuel_transfer_pump_flow + (sets_per_day_tank * engine_return_flow if fuel_return_route == "day_tank" else 0)


# ---- warm fuel ----

@formula(source="day-tank-balance")
def day_tank_makeup_capacity(day_tank_draw, fuel_density, fuel_heat_capacity):
    """Cooling that cold make-up gives for each kelvin that the tank is warmer."""
    return day_tank_draw * fuel_density * fuel_heat_capacity


@formula(source="day-tank-balance")
def fuel_return_heat(sets_per_day_tank, fuel_return_route, engine_return_flow, fuel_density, fuel_heat_capacity, fuel_return_rise):
    """Heat that the engines bring back into a day tank at full load.

    Example: engine_return_flow=994 L/h, fuel_return_rise=15 K give 7.13 kW (hand calculation).
    """
    return sets_per_day_tank * engine_return_flow * fuel_density * fuel_heat_capacity * fuel_return_rise if fuel_return_route == "day_tank" else 0


@formula(source="definition")
def day_tank_ambient(set_air_temperature):
    """Air round the day tank: the plant room as the rating of the sets takes it, unless the tank stands elsewhere.

    Ventilation is checked to keep the room no warmer. The room as found would close a circle, for the tank warms it; a kelvin moves
    the heat of a tank by what its walls pass, which is little beside an engine.
    """
    return set_air_temperature


@formula(source="definition")
def day_tank_start_temperature(fuel_temperature_max):
    """Fuel in the day tank before the run, as warm as the store on the hottest day."""
    return fuel_temperature_max


@formula(source="day-tank-balance")
def day_tank_temperature_end(day_tank_makeup_capacity, fuel_temperature_max, fuel_return_heat, fuel_cooler_heat, day_tank_loss, day_tank_ambient):
    """Where the tank settles at full load: make-up and room cool it, the return heats it.

    Example: day_tank_makeup_capacity=242 W/K, fuel_temperature_max=25 degC, fuel_return_heat=7.13 kW, day_tank_loss=40 W/K, day_tank_ambient=40 degC give
    52.4 degC (hand calculation).
    """
    return (day_tank_makeup_capacity * fuel_temperature_max + fuel_return_heat - fuel_cooler_heat + day_tank_loss * day_tank_ambient) / (
        day_tank_makeup_capacity + day_tank_loss)


@procedure(source="day-tank-balance", yields=("day_tank_temperature", "day_tank_temperature_failed"),
           equation="M·c_f·dT_t/dt = C_m·(T_f,max − T_t) + Φ_ret − Φ_cool + UA_t·(T_t,a − T_t); transfer failed: C_m = 0, M falling with the burn")
def day_tank_warming(day_tank_volume, day_tank_start_level, day_tank_unusable, day_tank_draw, day_tank_makeup_capacity, fuel_temperature_max,
                     fuel_return_heat, fuel_cooler_heat, day_tank_loss, day_tank_ambient, day_tank_start_temperature, day_tank_temperature_end):
    """Temperature of a mixed day tank over a run at full load, by exact exponential steps, at the level that starts the pump.

    The second curve begins with the tank warm from a long run when transfer fails: no cold fuel comes any more, and ever less fuel takes
    up the same heat; it ends with the tank empty. The residual is what the tank has taken up less the heat that went in, integrated apart.
    """
    cold, wall, room, end = day_tank_makeup_capacity, day_tank_loss, day_tank_ambient, day_tank_temperature_end
    times, heat = np.array(RUN_MINUTES) * 60.0, fuel_return_heat - fuel_cooler_heat
    turn = day_tank_volume * day_tank_start_level / day_tank_draw  # time in which the burn uses up what the tank holds
    store = turn * cold
    pull = (cold + wall) / store

    def running(time):
        return end + (day_tank_start_temperature - end) * np.exp(-pull * time)

    spans = np.diff(times)
    inside = running(times[:-1, None] + spans[:, None] * (NODES + 1) / 2)
    gone_in = (cold * (fuel_temperature_max - inside) + heat + wall * (room - inside)) @ WEIGHTS * spans / 2
    residual = float(np.max(np.abs(np.diff(running(times)) * store - gone_in) / store))

    left = 1 - times / turn
    filled = np.where(left > day_tank_unusable / day_tank_start_level, left, np.nan)
    ratio = wall / cold
    taken = -np.expm1(ratio * np.log(filled)) / ratio if ratio else -np.log(filled)
    failed = end * filled ** ratio + (room * ratio + heat / cold) * taken
    return (running(times), failed), residual, "energy balance of the tank over a step, K"


@formula(source="day-tank-balance")
def fuel_rise_without_makeup(fuel_return_heat, fuel_cooler_heat, day_tank_makeup_capacity):
    """Rise while the fuel in the tank shrinks to one over e once make-up has stopped: return heat over what the burn carries off for a kelvin.

    A tenth of a kelvin is the least that is counted, for a tank that takes no heat back.
    """
    return max(0.1 * K, (fuel_return_heat - fuel_cooler_heat) / day_tank_makeup_capacity)


@formula(source="day-tank-balance")
def day_tank_hot_time(day_tank_time, day_tank_volume, day_tank_start_level, day_tank_draw, fuel_inlet_temperature_max, day_tank_temperature_end,
                      fuel_rise_without_makeup):
    """Full-load time from a failed transfer until fuel is hotter than the engine bears, or gone. Walls are taken to lose nothing.

    A day tank that takes back its return overheats before it is empty: hours counted by volume alone are not all there.
    """
    return min(day_tank_time, max(0, day_tank_volume * day_tank_start_level / day_tank_draw * (
        1 - exp(-(fuel_inlet_temperature_max - day_tank_temperature_end) / fuel_rise_without_makeup))))


@formula(source="hot-fuel")
def hot_fuel_power_loss(day_tank_temperature_end, hot_fuel_base, hot_fuel_loss):
    """Power lost because warm fuel is lighter and leaks more in the pump; an engine that measures its fuel by mass loses less."""
    return max(0, day_tank_temperature_end - hot_fuel_base) * hot_fuel_loss


@formula(source="hot-fuel")
def hot_fuel_set_power(set_site_power, hot_fuel_power_loss):
    """What is left of site power in the long run on the hottest day."""
    return set_site_power * (1 - hot_fuel_power_loss)


@formula(source="definition")
def firm_set_power(firm_demand_power, required_sets):
    """What each of the required sets must give."""
    return firm_demand_power / required_sets


@formula(source="day-tank-balance")
def day_tank_room_heat(fuel_feed, day_tank_loss, day_tank_temperature_end, day_tank_ambient):
    """Heat that a warm day tank gives the room; it counts in the heat that the room's air must carry. A tank that stands elsewhere gives none: the project
    then says so.
    """
    return day_tank_loss * (day_tank_temperature_end - day_tank_ambient) if fuel_feed == "day_tank" else 0


# ---- checks ----

FROM_DAY_TANK = {"fuel_feed": ("day_tank",)}  # without day tanks there is nothing here to judge

transfer = check("transfer_flow", "fuel_transfer_flow", limit="fuel_transfer_flow_min", safe="above", source="transfer-margin",
                 title="Transfer pumps against what leaves the day tanks", applies=FROM_DAY_TANK)
one_pump_out = check("one_pump_out", "fuel_transfer_flow_one_out", limit="transfer_draw", safe="above", source="project",
                     title="Transfer with one pump out", applies=FROM_DAY_TANK)
starts = check("transfer_starts", "fuel_transfer_starts", limit="fuel_transfer_starts_max", safe="below", source="pump-starts",
               title="Starts of the transfer pumps", applies=FROM_DAY_TANK)
tank_time = check("day_tank_hours", "day_tank_time", limit="day_tank_time_min", safe="above", source="mil-hdbk-1003-11-day-tank",
                  title="Time on the day tank", applies=FROM_DAY_TANK)
alarm_time = check("day_tank_alarm", "day_tank_alarm_time", limit="alarm_response_time", safe="above", source="project",
                   title="Time to answer the low-level alarm", applies=FROM_DAY_TANK)
start_level = check("day_tank_start", "day_tank_start_level", limit="day_tank_low_alarm", safe="above", source="ufgs-16263a-alarms",
                    title="Pump starts before the low-level alarm", exact=True, applies=FROM_DAY_TANK)
stop_level = check("day_tank_stop", "day_tank_stop_level", limit="day_tank_high_alarm", safe="below", source="ufgs-16263a-alarms",
                   title="Pump stops before the high-level alarm", exact=True, applies=FROM_DAY_TANK)
overflow = check("day_tank_overflow", "day_tank_overflow_capacity", limit="day_tank_overflow_need", safe="above", source="torricelli",
                 title="Overflow takes what the pumps can send", applies=FROM_DAY_TANK)
fuel_warm = check("fuel_temperature", "day_tank_temperature_end", limit="fuel_inlet_temperature_max", safe="below", source="project",
                  title="Fuel temperature at the engine", applies=FROM_DAY_TANK)
flash = check("fuel_flash", "day_tank_temperature_end", limit="fuel_flash_point", safe="below", source="en-590",
              title="Fuel below its flash point", applies=FROM_DAY_TANK)
hot_time = check("day_tank_heat", "day_tank_hot_time", limit="day_tank_time_min", safe="above", source="day-tank-balance",
                 title="Time on the day tank before the fuel is too hot", applies=FROM_DAY_TANK)
hot_power = check("hot_fuel_power", "hot_fuel_set_power", limit="firm_set_power", safe="above", source="hot-fuel",
                  title="Power of a set on hot fuel", applies=FROM_DAY_TANK)

# What no sound text gives the other way round.
pumps_order = check("transfer_pumps_order", "fuel_transfer_pumps", limit="fuel_transfer_pumps_least", safe="above", source="definition",
                    title="One transfer pump at least is on duty", self_test=True, fault="fuel_transfer_pumps above fuel_transfer_pumps_standby")
supply_order = check("engine_supply_order", "engine_supply_flow", limit="full_load_fuel_rate", safe="above", source="fuel-balance",
                     title="An engine draws at least what it burns", self_test=True,
                     fault="engine_supply_flow of the data sheet, above what is burnt at full load")
sets_per_day_tank_order = order("sets_per_day_tank", "installed_sets")
day_tank_start_level_order = order("day_tank_start_level", "day_tank_stop_level")
day_tank_low_alarm_order = order("day_tank_low_alarm", "day_tank_high_alarm")
day_tank_unusable_alarm_order = order("day_tank_unusable", "day_tank_low_alarm")
day_tank_unusable_start_order = order("day_tank_unusable", "day_tank_start_level")
