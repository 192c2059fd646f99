"""Station supply, second part: the order of a black start, and the batteries and UPS that must be alive until the first set is. Batteries are counted by
energy at nominal voltage; the rate of discharge is in the usable share.
"""

import numpy as np

from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import check, formula, procedure
from basis.language.maths import cumulative_over, lookup, sum_over

# The order of a black start

@formula(source="definition")
def black_start_end(black_start_duration):
    """One step after the other, from the order to start. Example: black_start_duration=[10 s, 30 s, 5 s] give [10 s, 40 s, 45 s] (hand calculation)."""
    return cumulative_over("black_start_step", black_start_duration)


@formula(source="definition")
def black_start_begin(black_start_end, black_start_duration):
    """A step begins when the one before it has ended."""
    return black_start_end - black_start_duration


@formula(source="definition")
def black_start_time(black_start_duration):
    """From the order to start until the first set carries the station and the chargers live again."""
    return sum_over("black_start_step", black_start_duration)


@formula(source="physics")
def black_start_step_energy(black_start_power, black_start_holds, black_start_duration, black_start_time, black_start_begin):
    """Energy of the step: while it lasts, or from its begin to the end of the whole start if it goes on.

    Example: black_start_power=[500 W], black_start_duration=[10 s], black_start_time=55 s, black_start_begin=[10 s] give [6.25 Wh] (hand calculation).
    """
    return black_start_power * (black_start_duration if black_start_holds == "momentary" else black_start_time - black_start_begin)


@procedure(source="battery-discharge",
           equation="W_bs = Σ W_b of the battery's steps;  P_bs = P_B + max over the steps of (Σ held steps so far + the step itself)",
           yields=("black_start_energy", "black_start_peak_power"))
def black_start_draw(black_start_battery, black_start_after, black_start_power, black_start_holds, black_start_step_energy, station_battery_load):
    """Adds up what each battery gives in one attempt, and the most that it gives at once. A step that is listed before the one that it waits for is told at
    its line.
    """
    late = [place for place in np.flatnonzero(black_start_after >= 0) if black_start_after[place] >= place]
    if late:
        raise ItemTroubles(ItemTrouble("black_start_after", int(place), "waits for a step that comes later in the list", "an earlier step") for place in late)
    energy, peak = [], []
    for battery in range(len(station_battery_load)):
        mine = black_start_battery == battery
        held = np.where(mine & (black_start_holds == "held"), black_start_power, 0.0)
        moment = np.where(mine & (black_start_holds == "momentary"), black_start_power, 0.0)
        energy.append(float(np.sum(black_start_step_energy[mine])))
        peak.append(float(station_battery_load[battery] + np.max(np.cumsum(held) + moment, initial=0.0)))
    drawn = float(np.sum(black_start_step_energy[black_start_battery >= 0]))
    return (np.array(energy, dtype=float), np.array(peak, dtype=float)), abs(sum(energy) - drawn), "energy of the steps less that of the batteries, J"


# Batteries

@formula(source="ieee-485")
def station_battery_temperature_factor(station_battery_temperature, battery_reference_temperature):
    """A cold lead-acid battery gives less; above the reference nothing is gained. Give the maker's factor for another kind.

    Example: station_battery_temperature=[50 degF] give [1.19] (IEEE 485, temperature correction factors, from memory).
    """
    return lookup("ieee-485-temperature", "factor", min(station_battery_temperature, battery_reference_temperature))


@formula(source="battery-discharge")
def station_battery_energy(station_battery_load, station_battery_wait, black_start_attempts, black_start_time, black_start_energy, station_battery_efficiency):
    """From the battery's terminals: the standing load while everybody waits and in every attempt, and the steps of every attempt.

    Example: station_battery_load=[300 W], station_battery_wait=[4 h], black_start_attempts=2, black_start_time=60 s, black_start_energy=[10 Wh] give [1230 Wh]
    (hand calculation).
    """
    return ((station_battery_load * (station_battery_wait + black_start_attempts * black_start_time) + black_start_attempts * black_start_energy)
            / station_battery_efficiency)


@formula(source=("ieee-485", "battery-discharge"))
def station_battery_capacity_required(station_battery_energy, station_battery_voltage, station_battery_temperature_factor, battery_design_margin,
                                      battery_end_of_life_share, station_battery_usable_share):
    """Rated capacity that gives this when the battery is cold, at the end of its life, and drained fast.

    Example: station_battery_energy=[1230 Wh], station_battery_voltage=[110 V], station_battery_temperature_factor=[1.19], battery_design_margin=1.1,
    battery_end_of_life_share=0.8, station_battery_usable_share=[0.8] give [22.87 Ah] (hand calculation).
    """
    return (station_battery_energy / station_battery_voltage * station_battery_temperature_factor * battery_design_margin
            / (battery_end_of_life_share * station_battery_usable_share))


@formula(source=("ieee-485", "battery-discharge"))
def station_battery_time(station_battery_capacity, station_battery_voltage, station_battery_temperature_factor, battery_design_margin,
                         battery_end_of_life_share,
                         station_battery_usable_share, station_battery_efficiency, black_start_attempts, black_start_time, black_start_energy,
                         station_battery_load):
    """How long the plant may lie dead before the order is given, and still start: what the battery has, less the attempts, over the standing load.

    Example: station_battery_capacity=[50 Ah], station_battery_voltage=[110 V], station_battery_temperature_factor=[1.19], black_start_time=60 s,
    black_start_energy=[10 Wh], station_battery_load=[300 W] give [8.86 h] (hand calculation).
    """
    return ((station_battery_capacity * station_battery_voltage * battery_end_of_life_share * station_battery_usable_share * station_battery_efficiency
             / (station_battery_temperature_factor * battery_design_margin) - black_start_attempts * black_start_energy) / station_battery_load
            - black_start_attempts * black_start_time)


@formula(source="definition")
def station_battery_peak_current(black_start_peak_power, station_battery_efficiency, station_battery_voltage):
    """Largest current at nominal voltage; fuses and cables follow from it, at the end voltage a tenth higher.

    Example: black_start_peak_power=[2200 W], station_battery_voltage=[110 V] give [20 A] (hand calculation).
    """
    return black_start_peak_power / (station_battery_efficiency * station_battery_voltage)


# Checks

capacity = check("station_battery_ok", "station_battery_capacity", limit="station_battery_capacity_required", safe="above", source=("ieee-485", "project"),
                 title="Capacity of each station battery")
time = check("black_start_time_ok", "black_start_time", limit="black_start_time_max", safe="below", source="project", title="Time of a black start")
