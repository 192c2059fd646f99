"""Starting: the cranking cycle, the battery that turns a cold engine, its cable and charger, and the time from signal to load.

Compressed air, hydrogen and cost are in air.py. Left out: the inrush of the first instant, oil drag of a cold engine
(the starter current is given for the temperature held), faults of the starter itself.
"""

from basis.language.formula import SOME, caution, chapter, check, formula, order
from basis.language.maths import cumulative_over, floor, lookup, sum_over

CHAPTER = chapter("starting", "Starting", order=90,
                  settles="Whether the sets start in the cold with what is left in batteries or air receivers.",
                  cautions=(
    "The set starts by itself. Lock off the starting supply, battery lead or air valve, before any guard is opened or any hand goes near a belt or fan.",
    "What is in a battery, acid or lye, burns skin and eyes. Wear goggles, apron and gloves, keep an eye wash within reach, and pour acid into water, never "
    "water into acid.",
    "Batteries give off hydrogen while they charge. No flame, spark or loose tool near them; switch the charger off before a lead is taken off.",
    caution("A starting battery gives thousands of amperes into a spanner. Take off rings and watches and insulate the tools.",
            starting_method=("battery", "both")),
    caution("Receivers hold enough energy to kill. Inspect them and their relief valves as the law asks, and drain them before a joint is opened.",
            starting_method=("air", "both")),
    caution("Oil in the starting air main can burn and burst it. Fit a flame trap and a bursting disc, and drain the main.",
            starting_method=("air", "both")),
))


# The cranking cycle

@formula(source="nfpa-110-limiter")
def cranking_limiter_time(cranks_per_cycle, crank_time, crank_rest_time):
    """Time until the control gives up: all cranks and the rests between them.

    Example: cranks_per_cycle=3, crank_time=15 s, crank_rest_time=15 s give 75 s (NFPA 110, as printed).
    """
    return cranks_per_cycle * crank_time + (cranks_per_cycle - 1) * crank_rest_time


@formula(source="nfpa-110-battery")
def starts_required(cranks_per_cycle, cranking_cycles):
    """Cranks for which energy is stored: full cranking cycles without recharge. The same number is asked of air, so that both can be compared.

    Example: cranks_per_cycle=3, cranking_cycles=2 give 6 (hand calculation).
    """
    return cranks_per_cycle * cranking_cycles


@formula(source="definition")
def starts_available(starting_method, battery_cranks, air_starts):
    """Cranks that are stored. With both methods each must be able to start the engine alone, so the weaker one counts."""
    return battery_cranks if starting_method == "battery" else air_starts if starting_method == "air" else min(battery_cranks, air_starts)


@formula(source="definition")
def cranked_by_battery(starting_method):
    """Whether a battery turns the engines. Example: starting_method=air give 0 (hand count)."""
    return 0 if starting_method == "air" else 1


# Battery

@formula(source="definition")
def battery_strings(battery_units, battery_unit_voltage, starting_voltage):
    """Strings of full voltage. A battery left over is not counted.

    Example: battery_units=4, battery_unit_voltage=12 V, starting_voltage=24 V give 2 (hand calculation).
    """
    return floor(battery_units * battery_unit_voltage / starting_voltage)


@formula(source="definition")
def battery_capacity(battery_strings, battery_unit_capacity):
    """Strings add their capacity, batteries in series do not. Example: battery_strings=2, battery_unit_capacity=180 Ah give 360 Ah (hand calculation)."""
    return battery_strings * battery_unit_capacity


@formula(source="battery-cell-figures")
def battery_cells(starting_voltage, battery_type):
    """Cells in series. Example: starting_voltage=24 V give 12 (hand calculation)."""
    return starting_voltage / lookup("battery-cells", "nominal", battery_type)


@formula(source="definition")
def cranking_current(starters_per_set, starter_current):
    """All starters of a set turn its engine at once. Example: starters_per_set=2, starter_current=900 A give 1800 A (hand calculation)."""
    return starters_per_set * starter_current


@formula(source="definition")
def battery_temperature(room_temperature_held):
    """The battery stands in the plant room and follows its coldest hours. A heated battery box is a given of its own."""
    return room_temperature_held


@formula(source="ieee-485")
def battery_temperature_factor(battery_type, battery_temperature, battery_reference_temperature, nickel_cadmium_temperature_factor):
    """How much more lead-acid battery a cold room asks for. Above 25 °C nothing is gained, because the battery must also start in the next winter.

    Below the coldest row of the table nothing is guessed: the battery must be warmed.

    Example: battery_temperature=40 degF give 1.30 (IEEE 485, temperature correction factors, from memory).
    """
    return (nickel_cadmium_temperature_factor if battery_type == "vented_nickel_cadmium" else
            lookup("ieee-485-temperature", "factor", min(battery_temperature, battery_reference_temperature)))


@formula(source=("ieee-485", "ieee-450-end-of-life"))
def cranking_current_available(battery_strings, battery_unit_cranking_current, battery_end_of_life_share, battery_temperature_factor):
    """What all strings give on the coldest day of their last winter.

    Example: battery_strings=2, battery_unit_cranking_current=1500 A, battery_end_of_life_share=80 %, battery_temperature_factor=1.30 give 1846 A (hand
    calculation).
    """
    return battery_strings * battery_unit_cranking_current * battery_end_of_life_share / battery_temperature_factor


@formula(source="ieee-485-margin")
def cranking_current_needed(cranking_current, battery_design_margin):
    """Cranking current with a margin for a stiff engine and tired contacts.

    Example: cranking_current=1800 A, battery_design_margin=1.1 give 1980 A (hand calculation).
    """
    return cranking_current * battery_design_margin


@formula(source="definition")
def cold_cranking_ratio(starting_method, cranking_current_needed, cranking_current_available):
    """Whether the cold and aged battery still turns the engine. It is this, not ampere-hours, that sizes a starting battery."""
    return cranking_current_needed / cranking_current_available if starting_method != "air" else 0


@formula(source="charge-and-energy")
def crank_charge(cranking_current, crank_time):
    """Charge that one crank draws. Example: cranking_current=900 A, crank_time=15 s give 3.75 Ah (hand calculation)."""
    return cranking_current * crank_time


@formula(source="charge-and-energy")
def crank_energy(starting_voltage, crank_charge):
    """Energy that one crank draws, at nominal voltage. Example: starting_voltage=24 V, crank_charge=3.75 Ah give 324 kJ (hand calculation)."""
    return starting_voltage * crank_charge


@formula(source="charge-and-energy")
def cranking_charge(crank_charge, starts_required):
    """Charge of all starts required: small beside the capacity. Example: crank_charge=3.75 Ah, starts_required=3 give 11.25 Ah (hand calculation)."""
    return crank_charge * starts_required


@formula(source=("cranking-share", "ieee-485", "ieee-450-end-of-life"))
def battery_cranks(battery_capacity, battery_usable_share, battery_end_of_life_share, battery_temperature_factor, crank_charge):
    """Whole cranks in the cold and aged battery. Rests let it recover, which is left out: safe side.

    Example: battery_capacity=360 Ah, battery_usable_share=33.33 %, battery_temperature_factor=1.30, crank_charge=7.5 Ah give 9 (hand calculation).
    """
    return floor(battery_capacity * battery_usable_share * battery_end_of_life_share / (battery_temperature_factor * crank_charge))


@formula(source="battery-cell-figures")
def battery_life_rated(battery_type):
    """Life of a well-kept battery at the reference temperature; the maker's figure replaces it."""
    return lookup("battery-cells", "life", battery_type)


@formula(source="definition")
def battery_temperature_mean(room_temperature_mean_held):
    """The battery follows the room through the year."""
    return room_temperature_mean_held


@formula(source="battery-life-warmth", valid={"battery_temperature_mean": (253.15, 323.15)})
def battery_life_expected(battery_life_rated, battery_temperature_mean, battery_reference_temperature, battery_life_halving):
    """Warmth that helps the crank shortens the life: it halves with every step above the reference. Cold is not counted as a gain.

    Example: battery_life_rated=5 years, battery_temperature_mean=35 degC, battery_life_halving=10 K give 2.5 years (hand calculation).
    """
    return battery_life_rated / 2 ** (max(0, battery_temperature_mean - battery_reference_temperature) / battery_life_halving)


# Cable and voltage at the starter

@formula(source="iec-60228")
def starter_cable_resistance_per_length(starter_cable_table, starter_cable_size, starter_cable_temperature, copper_zero_resistance_temperature):
    """Resistance of one conductor as printed, moved to its temperature. Fine strands are laid longer than the cable, which copper over area does not know.

    Example: starter_cable_table=iec-60228-copper-class-5, starter_cable_size=70 mm², starter_cable_temperature=60 degC give 0.3148 ohm/km
    (hand calculation, 0.272 times 294.5/254.5).
    """
    return (lookup(starter_cable_table, "resistance", starter_cable_size) * (starter_cable_temperature - copper_zero_resistance_temperature)
            / (lookup(starter_cable_table, "resistance_temperature", starter_cable_size) - copper_zero_resistance_temperature))


@formula(source="starter-cable-ohm")
def starter_cable_resistance(starter_cable_length, starter_cable_resistance_per_length, starter_cables):
    """Both poles of the starter cable. Lugs, isolator and frame are left out, so none may serve as the return.

    Example: starter_cable_length=4 m, starter_cable_resistance_per_length=0.268 ohm/km give 2.144 mohm (hand calculation).
    """
    return 2 * starter_cable_length * starter_cable_resistance_per_length / starter_cables


@formula(source="starter-cable-ohm")
def starter_cable_drop(starter_cable_resistance, cranking_current):
    """Voltage lost on the way to the starter and back.

    Example: starter_cable_resistance=2.144 mohm, cranking_current=900 A give 1.930 V (hand calculation).
    """
    return starter_cable_resistance * cranking_current


@formula(source="definition")
def starter_cable_drop_ratio(starting_method, starter_cable_drop, starting_voltage):
    """The same as a share of nominal voltage.

    Example: starting_method=battery, starter_cable_drop=1.930 V, starting_voltage=24 V give 8.04 % (hand calculation).
    """
    return starter_cable_drop / starting_voltage if starting_method != "air" else 0


@formula(source="starter-cable-ohm")
def starter_cable_resistance_per_length_max(starter_cable_drop_ratio_max, starting_voltage, starter_cables, starter_cable_length, cranking_current):
    """Resistance of one conductor at which the drop is exactly what is allowed; a cable that is printed with less is bought.

    Example: starter_cable_drop_ratio_max=8 %, starting_voltage=24 V, starter_cable_length=4 m, cranking_current=900 A give 0.2667 ohm/km (hand
    calculation).
    """
    return starter_cable_drop_ratio_max * starting_voltage * starter_cables / (2 * starter_cable_length * cranking_current)


@formula(source="battery-cell-figures")
def battery_open_voltage(battery_cells, battery_type):
    """Charged battery at rest. Example: battery_cells=12 give 25.2 V (hand calculation)."""
    return battery_cells * lookup("battery-cells", "open", battery_type)


@formula(source=("cranking-straight-line", "battery-cell-figures"), valid={"battery_cranking_voltage": (6, 300)})
def battery_cranking_voltage(battery_open_voltage, battery_cells, battery_type, cranking_current, cranking_current_available):
    """Battery voltage under the crank: from rest down a straight line that meets the end voltage at the current it can give.

    Example: battery_open_voltage=25.2 V, battery_cells=12, cranking_current=900 A, cranking_current_available=1846 A give 19.9 V (hand calculation).
    """
    return max(0, battery_open_voltage - (battery_open_voltage - battery_cells * lookup("battery-cells", "crank_end", battery_type)) * (
        cranking_current / cranking_current_available))


@formula(source="starter-cable-ohm")
def starter_voltage(battery_cranking_voltage, starter_cable_drop):
    """What is left at the starter. Example: battery_cranking_voltage=19.9 V, starter_cable_drop=1.9 V give 18.0 V (hand calculation).

    With nothing left it does not turn.
    """
    return max(0, battery_cranking_voltage - starter_cable_drop)


# Time from signal to load

@formula(source="definition")
def stage_end_time(stage_time):
    """Stages follow one another: none overlaps in this count, which is the safe side."""
    return cumulative_over("start_stage", stage_time)


@formula(source="definition")
def stages_signal_time(stage_part, stage_time):
    """Stages before the first turn of the engine. Example: stage_part=[signal], stage_time=[1.7 s] give 1.7 s (hand calculation)."""
    return sum_over("start_stage", stage_time if stage_part == "signal" else 0)


@formula(source="definition")
def stages_crank_time(stage_part, stage_time):
    """Stages of cranking. Example: stage_part=[crank], stage_time=[2.3 s] give 2.3 s (hand calculation)."""
    return sum_over("start_stage", stage_time if stage_part == "crank" else 0)


@formula(source="definition")
def stages_named(stage_part):
    """Stages that are not called other. Example: stage_part=[signal, crank, other] give 2 (hand count)."""
    return sum_over("start_stage", 0 if stage_part == "other" else 1)


@formula(source="definition")
def run_up_stages(stage_part):
    """Stages of the list that are the run-up. Example: stage_part=[signal, crank, run_up] give 1 (hand count)."""
    return sum_over("start_stage", 1 if stage_part == "run_up" else 0)


@formula(source="definition")
def stages_run_up_time(stage_part, stage_time):
    """Stages from first firing to rated speed. Example: stage_part=[run_up], stage_time=[3.2 s] give 3.2 s (hand calculation)."""
    return sum_over("start_stage", stage_time if stage_part == "run_up" else 0)


@formula(source="definition")
def stages_excitation_time(stage_part, stage_time):
    """Stages in which voltage is built up. Example: stage_part=[excitation], stage_time=[1.1 s] give 1.1 s (hand calculation)."""
    return sum_over("start_stage", stage_time if stage_part == "excitation" else 0)


@formula(source="definition")
def stages_dead_bus_time(stage_part, stage_time):
    """Stages in which the first set closes on the dead bus. Example: stage_part=[dead_bus], stage_time=[0.7 s] give 0.7 s (hand calculation)."""
    return sum_over("start_stage", stage_time if stage_part == "dead_bus" else 0)


@formula(source="definition")
def start_time(stage_time):
    """From the signal to load accepted, when the first crank succeeds."""
    return sum_over("start_stage", stage_time)


@formula(source="definition")
def start_time_second_crank(start_time, crank_time, crank_rest_time):
    """The same when the first crank runs out and the second one succeeds: why a set with a hurried load must start at once, and warm."""
    return start_time + crank_time + crank_rest_time


# Checks

starts = check("starts", "starts_available", limit="starts_required", safe="above", source="nfpa-110-battery", title="Starts stored", exact=True)
cold_cranking = check("cold_cranking", "cold_cranking_ratio", limit="cold_cranking_ratio_max", safe="below",
                      source=("ieee-485", "ieee-450-end-of-life"), title="Cranking current of the cold, aged battery",
                      applies={"starting_method": ("battery", "both")})
cable_drop = check("starter_cable", "starter_cable_drop_ratio", limit="starter_cable_drop_ratio_max", safe="below",
                   source="starter-cable-drop", title="Drop along the starter cable", applies={"starting_method": ("battery", "both")})
voltage_left = check("voltage_at_starter", "starter_voltage", limit="starter_voltage_min", safe="above", source="project",
                     title="Voltage at the starter", applies={"starting_method": ("battery", "both")})
replacement = check("battery_replacement", "battery_replacement_interval", limit="battery_life_expected", safe="below",
                    source=("nfpa-110-battery-life", "battery-life-warmth"), title="Batteries replaced before they fail")
run_up_listed = check("run_up_listed", "run_up_stages", limit="run_up_stages_min", safe="above", source="definition", exact=True,
                      title="Stages of the start include the run-up", applies={"stages_named": SOME})
time_to_load = check("time_to_load", "start_time", limit="start_time_max", safe="below", source=("nfpa-110-type", "project"), title="Time from signal to load")

# What no sound text gives the other way round.
receiver_pressure_min_order = order("receiver_pressure_min", "receiver_pressure_max")
starter_voltage_min_order = order("starter_voltage_min", "direct_voltage_max")
