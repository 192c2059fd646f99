"""Station supply: what the plant itself takes in standby, while it starts and while it runs, and the transformers that it needs. Batteries and the order
of a black start are in battery.py. Left out: inrush of transformers, harmonics of chargers, cooling fans of transformers, and how losses rise with
temperature.
"""

from basis.language.formula import SOME, chapter, check, formula, order
from basis.language.maths import count_over, lookup, max_over, not_given, nothing, pick, sqrt, sum_over

CHAPTER = chapter("station_supply", "Station supply", order=200,
                  settles="What the plant itself takes, and from where.",
                  cautions=(
    "A transformer is fed back from its other side: through the station board, a temporary supply, a UPS or a set that starts by itself. "
    "Isolate, lock and earth both sides before either is touched.",
    "A UPS and its battery keep the outgoing circuits live with every breaker of the supply open. A battery cannot be switched off: cover one pole, take off "
    "rings, "
    "use insulated tools, and keep sparks away from the gas that it gives off.",
    "Capacitors in chargers, inverters and drives stay charged for minutes after isolation. Wait as long as the label says, and measure.",
    "A black start is done by the written order and by people who have rehearsed it. Nobody closes onto a bus that may be live from elsewhere.",
))


# Auxiliaries by mode

@formula(source="definition")
def station_block_heater_count(station_load_kind, station_load_count):
    """Heaters of blocks that are listed, all together."""
    return sum_over("station_load", station_load_count if station_load_kind == "block_heater" else 0)


@formula(source="definition")
def station_room_heater_count(station_load_kind, station_load_count):
    """Heaters of the room in which the sets stand, all together."""
    return sum_over("station_load", station_load_count if station_load_kind == "room_heater" else 0)


@formula(source="heat-from-warmth")
def station_load_power(station_load_kind, installed_sets, heating_case_chosen, heating_heater_power, station_block_heater_count, heating_room_heater_power,
                       heating_room_efficiency, station_room_heater_count, block_heater_power):
    """Heaters of blocks and room are those of the standby warmth as built, shared among all that are listed. Of any other load the project says it.

    Where no way of heating is listed, only the block heaters of a set are known.

    Example: station_load_kind=[block_heater], installed_sets=3, heating_case_chosen=item_1, heating_heater_power=[10 kW], station_block_heater_count=3,
    heating_room_heater_power=[0 kW], heating_room_efficiency=[1], station_room_heater_count=0, block_heater_power=10 kW give [10 kW] (hand calculation).
    """
    return ((installed_sets * pick(heating_case_chosen, heating_heater_power) / max(1, station_block_heater_count) if station_load_kind == "block_heater"
             else pick(heating_case_chosen, heating_room_heater_power) / pick(heating_case_chosen, heating_room_efficiency) / max(1, station_room_heater_count)
             if station_load_kind == "room_heater" else not_given) if count_over("heating_case") > 0
            else installed_sets * block_heater_power / max(1, station_block_heater_count) if station_load_kind == "block_heater" else not_given)


@formula(source="definition")
def station_load_demand(station_load_power, station_load_count, station_load_duty):
    """What the load takes in each mode.

    Example: station_load_power=[3 kW], station_load_count=[3], station_load_duty=[[50 %, 100 %, 0 %]] give [[4.5 kW, 9.0 kW, 0.0 kW]] (hand calculation).
    """
    return station_load_power * station_load_count * station_load_duty


@formula(source="definition")
def station_load_reactive(station_load_demand, station_load_power_factor):
    """Reactive power with it.

    Example: station_load_demand=[[4 kW, 4 kW, 0 kW]], station_load_power_factor=[0.8] give [[3.00 kvar, 3.00 kvar, 0.00 kvar]] (hand calculation).
    """
    return station_load_demand / station_load_power_factor * sqrt(1 - station_load_power_factor ** 2)


@formula(source="definition")
def station_power(station_load_demand):
    """All auxiliaries of a mode together. Shares in the duty stand for what never runs at once."""
    return sum_over("station_load", station_load_demand)


@formula(source="definition")
def station_reactive_power(station_load_reactive):
    """All auxiliaries of a mode together, all of them lagging."""
    return sum_over("station_load", station_load_reactive)


@formula(source="definition")
def station_apparent_power(station_power, station_reactive_power):
    """From its active and reactive parts; kilovolt-amperes are not added up.

    Example: station_power=[40 kW, 0 kW, 0 kW], station_reactive_power=[30 kvar, 0 kvar, 0 kvar] give [50.0 kVA, 0.0 kVA, 0.0 kVA] (hand calculation).
    """
    return sqrt(station_power ** 2 + station_reactive_power ** 2)


@formula(source="definition")
def station_peak_power(station_apparent_power):
    """The mode that takes most. In a cold plant it is standby, with every heater on; in a warm one it is running, with every fan."""
    return max_over("station_mode", station_apparent_power)


@formula(source="station-growth")
def station_required_power(station_growth_factor, station_peak_power):
    """What is bought: heaters and chargers are added over the years, and nobody takes any away.

    Example: station_growth_factor=1.2, station_peak_power=50 kVA give 60 kVA (hand calculation).
    """
    return station_growth_factor * station_peak_power


@formula(source=("iec-60076-1-sizes", "us-transformer-sizes"))
def station_transformer_size(transformer_size_table, station_required_power):
    """Next size sold where the project buys."""
    return lookup(transformer_size_table, "rating", station_required_power)


# Largest start

@formula(source="definition")
def station_load_start_power(station_load_start_ratio, station_load_power, station_load_power_factor):
    """Apparent power at switching on, one of them.

    Example: station_load_start_ratio=[6], station_load_power=[11 kW], station_load_power_factor=[0.88] give [75 kVA] (hand calculation).
    """
    return station_load_start_ratio * station_load_power / station_load_power_factor


@formula(source="definition")
def station_start_power(station_load_start_power):
    """The heaviest single start; the control must keep two from coming together."""
    return max_over("station_load", station_load_start_power)


@formula(source="definition")
def transformers_rating(transformer_rating):
    """All transformers that the network lists; without any the station hangs on the bus of the sets, and their own dips are told with the load steps."""
    return sum_over("transformer", transformer_rating)


@formula(source="motor-start-divider")
def station_start_dip(station_transformer, transformer_impedance_voltage, transformer_rating, station_start_power):
    """Voltage that the transformer keeps to itself in the first instant of the largest start. Both are taken as reactances, which is a little on the safe side.

    Example: station_transformer=item_1, transformer_impedance_voltage=[4 %], transformer_rating=[75 kVA], station_start_power=75 kVA give 3.85 % (hand
    calculation).
    """
    return (pick(station_transformer, transformer_impedance_voltage)
            / (pick(station_transformer, transformer_impedance_voltage) + pick(station_transformer, transformer_rating) / station_start_power))


# Transformers: duty, losses, regulation

@formula(source="definition")
def transformer_duty_power(transformer_use, transformer_sets, set_site_power, set_rated_power_factor, station_required_power, transformer_load):
    """Largest power that it must carry: its sets at site power and rated power factor, the station with growth, or the load that the project gives.

    Example: transformer_use=[step_up], set_site_power=1640 kW, station_required_power=60 kVA, transformer_load=[0 kVA] give [2050 kVA] (hand calculation).
    """
    return (transformer_sets * set_site_power / set_rated_power_factor if transformer_use == "step_up"
            else station_required_power if transformer_use == "station" else transformer_load)


@formula(source="definition")
def transformer_load_ratio(transformer_duty_power, transformer_rating):
    """Duty over rating. Example: transformer_duty_power=[2050 kVA], transformer_rating=[2500 kVA] give [82.0 %] (hand calculation)."""
    return transformer_duty_power / transformer_rating


@formula(source="transformer-losses")
def transformer_loss(transformer_core_loss, transformer_winding_loss, transformer_load_ratio):
    """The core loses all the time, the windings with the square of the load.

    Example: transformer_core_loss=[1.7 kW], transformer_winding_loss=[17 kW], transformer_load_ratio=[60 %] give [7.82 kW] (hand calculation).
    """
    return transformer_core_loss + transformer_winding_loss * transformer_load_ratio ** 2


@formula(source="transformer-losses")
def transformer_efficiency(transformer_duty_power, transformer_power_factor, transformer_loss):
    """Power out over power in.

    Example: transformer_duty_power=[600 kVA], transformer_power_factor=[0.8], transformer_loss=[7.82 kW] give [98.40 %] (hand calculation).
    """
    return transformer_duty_power * transformer_power_factor / (transformer_duty_power * transformer_power_factor + transformer_loss)


@formula(source="transformer-best-loading")
def transformer_best_ratio(transformer_core_loss, transformer_winding_loss):
    """Where both losses are equal. A transformer that stands idle most of the year is bought for its core, not for this.

    Example: transformer_core_loss=[1.7 kW], transformer_winding_loss=[17 kW] give [31.6 %] (hand calculation).
    """
    return sqrt(transformer_core_loss / transformer_winding_loss)


@formula(source="transformer-best-loading")
def transformer_best_efficiency(transformer_best_ratio, transformer_rating, transformer_power_factor, transformer_core_loss):
    """At the best loading, where the loss is twice that of the core.

    Example: transformer_best_ratio=[31.62 %], transformer_rating=[1000 kVA], transformer_power_factor=[0.8], transformer_core_loss=[1.7 kW] give [98.67 %]
    (hand calculation).
    """
    return (transformer_best_ratio * transformer_rating * transformer_power_factor
            / (transformer_best_ratio * transformer_rating * transformer_power_factor + 2 * transformer_core_loss))


@formula(source="transformer-regulation")
def transformer_regulation(transformer_load_ratio, transformer_resistance_voltage, transformer_impedance_voltage, transformer_power_factor):
    """Fall of voltage from no load to the duty: the part in phase, and half the square of the part across.

    Example: transformer_load_ratio=[100 %], transformer_resistance_voltage=[1 %], transformer_impedance_voltage=[5.59 %], transformer_power_factor=[0.8]
    give [4.172 %] (hand calculation).
    """
    return (transformer_load_ratio
            * (transformer_resistance_voltage * transformer_power_factor
               + sqrt(transformer_impedance_voltage ** 2 - transformer_resistance_voltage ** 2) * sqrt(1 - transformer_power_factor ** 2))
            + transformer_load_ratio ** 2
            * (sqrt(transformer_impedance_voltage ** 2 - transformer_resistance_voltage ** 2) * transformer_power_factor
               - transformer_resistance_voltage * sqrt(1 - transformer_power_factor ** 2)) ** 2 / 2)


# A year, and the life

@formula(source="transformer-losses")
def transformer_lost_energy(transformer_core_loss, transformer_energised_time, transformer_winding_loss, transformer_mean_ratio, transformer_loaded_time):
    """Energy that the transformer loses in a year.

    Example: transformer_core_loss=[1.7 kW], transformer_winding_loss=[17 kW], transformer_mean_ratio=[60 %], transformer_loaded_time=[50 h] give [15198 kWh]
    (hand calculation).
    """
    return transformer_core_loss * transformer_energised_time + transformer_winding_loss * transformer_mean_ratio ** 2 * transformer_loaded_time


@formula(source="definition")
def transformers_lost_energy(transformer_lost_energy):
    """All transformers that the network lists."""
    return sum_over("transformer", transformer_lost_energy)


@formula(source="definition")
def transformers_lost_cost_yearly(transformers_lost_energy, energy_price):
    """At the price of bought energy. Example: transformers_lost_energy=15198 kWh, energy_price=0.20 cur/kWh give 3040 cur (hand calculation)."""
    return transformers_lost_energy * energy_price


@formula(source="definition")
def station_mode_time(mode_is_standby, mode_is_running, year_time, running_hours_per_year):
    """The plant stands for all of the year but the hours in which sets run.

    Example: running_hours_per_year=36 h give [8724 h, 0 h, 36 h] (hand calculation).
    """
    return mode_is_standby * (year_time - running_hours_per_year) + mode_is_running * running_hours_per_year


@formula(source="definition")
def station_block_heaters_power(station_load_kind, station_load_power, station_load_count):
    """All loads that heat blocks, at rated power."""
    return sum_over("station_load", station_load_power * station_load_count if station_load_kind == "block_heater" else 0)


@formula(source="definition")
def station_room_heaters_power(station_load_kind, station_load_power, station_load_count):
    """All loads that heat the room in which the sets stand, at rated power."""
    return sum_over("station_load", station_load_power * station_load_count if station_load_kind == "room_heater" else 0)


@formula(source="definition")
def station_block_heaters_needed(standby_warmth_chapter, station_block_heaters_power, installed_sets, heating_case_chosen, heating_heater_power):
    """Heaters for which the standby warmth is worked out; the station is to feed no less. Blocks that hot water heats are no load of the station."""
    return ((installed_sets * pick(heating_case_chosen, heating_heater_power) if station_block_heaters_power > 0 else nothing)
            if standby_warmth_chapter == "in_this_book" else nothing)


@formula(source=("physics", "heat-from-warmth"))
def station_load_energy(standby_warmth_chapter, station_load_kind, blocks_energy_held, station_block_heaters_power, room_energy_held,
                        station_room_heaters_power, station_load_power, station_load_count, station_load_demand, station_mean_share, station_mode_time):
    """Its duty over the year. Heaters of blocks and room share what the standby warmth of this book finds, so that there is one energy and not two.

    Example: station_load_demand=[[20 kW, 0 kW, 0 kW], [0 kW, 0 kW, 50 kW]], station_mean_share=[50 %, 100 %],
    station_mode_time=[8724 h, 0 h, 36 h] give [87240 kWh, 1800 kWh] (hand calculation).
    """
    return ((blocks_energy_held * station_load_power * station_load_count / station_block_heaters_power if station_load_kind == "block_heater"
             else room_energy_held * station_load_power * station_load_count / station_room_heaters_power if station_load_kind == "room_heater"
             else sum_over("station_mode", station_load_demand * station_mean_share * station_mode_time))
            if standby_warmth_chapter == "in_this_book" else sum_over("station_mode", station_load_demand * station_mean_share * station_mode_time))


@formula(source="definition")
def station_energy_yearly(station_load_energy):
    """What readiness costs in energy, of all that the station feeds."""
    return sum_over("station_load", station_load_energy)


@formula(source="definition")
def station_cost_yearly(station_energy_yearly, energy_price):
    """At the price of bought energy; for the hours of running, in which the plant feeds itself, that is too little, but they are few."""
    return station_energy_yearly * energy_price


@formula(source="present-worth")
def station_life_cost(loss_annuity_factor, station_cost_yearly, transformers_lost_cost_yearly):
    """Present worth of auxiliaries and transformer losses over the life.

    Example: loss_annuity_factor=12.4622, station_cost_yearly=3040 cur, transformers_lost_cost_yearly=0 cur give 37885 cur (hand calculation).
    """
    return loss_annuity_factor * (station_cost_yearly + transformers_lost_cost_yearly)


@formula(source="definition")
def station_running_share(mode_is_running, station_power, required_sets, set_site_power):
    """Part of what the sets give that their own auxiliaries take back.

    Example: station_power=[0 kW, 0 kW, 50 kW], required_sets=2, set_site_power=1000 kW give 2.5 % (hand calculation).
    """
    return sum_over("station_mode", mode_is_running * station_power) / (required_sets * set_site_power)


# Checks

rating = check("transformer_rating_ok", "transformer_rating", limit="transformer_duty_power", safe="above", source="definition",
               title="Rating of each transformer")
STEPS_UP = {"voltage_chapter": ("in_this_book",), "transformer_use": ("step_up",), "transformer_need": ("step_up",)}
priced = check("transformer_as_priced", "transformer_rating", limit="transformer_rated_power", safe="above", source="definition", exact=True,
               title="Step-up transformers no smaller than the ones that were priced", applies=STEPS_UP)
load_loss_priced = check("transformer_load_loss_as_priced", "transformer_winding_loss", limit="transformer_load_loss", safe="below", source="definition",
                         exact=True, title="Step-up transformers lose no more under load than the ones that were priced", applies=STEPS_UP)
no_load_loss_priced = check("transformer_no_load_loss_as_priced", "transformer_core_loss", limit="transformer_no_load_loss", safe="below",
                            source="definition", exact=True, title="Step-up transformers lose no more idle than the ones that were priced", applies=STEPS_UP)
hours_priced = check("transformer_hours_as_priced", "transformer_energised_time", limit="transformer_energised_hours", safe="below", source="definition",
                     exact=True, title="Step-up transformers are energised no longer than the ones that were priced", applies=STEPS_UP)
regulation = check("transformer_regulation_ok", "transformer_regulation", limit="transformer_regulation_max", safe="below", source="project",
                   title="Regulation of each transformer")
heaters = check("station_block_heaters", "station_block_heaters_power", limit="station_block_heaters_needed", safe="above", source="definition",
                title="Block heaters are in the station supply", exact=True)
start = check("station_start_ok", "station_start_dip", limit="station_start_dip_max", safe="below", source="project",
              title="Dip at the largest start of the station", applies={"transformers_rating": SOME})

# What no sound text gives the other way round.
transformer_sets_order = order("transformer_sets", "installed_sets")
