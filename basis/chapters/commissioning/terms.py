"""Terms of the commissioning record: what was measured, the conditions of the test, what was designed, tolerance, uncertainty and verdict."""

from basis.language.terms import Listed, Term

LISTS = (Listed("measurement", "measurements"),)

TEST = {"axes": ("measurement",)}
OPEN = {"axes": ("measurement",), "optional": True}
DESIGNED = {"axes": ("measurement",), "optional": True, "either": True}
HERE = {"choices": ("in_this_book", "not_in_this_book"), "default": "not_in_this_book", "source": "definition", "constant": True}
POWER = {"shown": ("kW",), "digits": 4, "kind": "active power", "low": 0}
BURNT = {"shown": ("g/kWh", "lb/hp/h"), "digits": 4, "low": 1e-8, "high": 2e-7}
FLOW = {"shown": ("m^3/s", "cfm"), "low": 0.001, "high": 10_000}
PRESSURE = {"shown": ("Pa", "inH2O"), "low": 0, "high": 100_000}
RISE = {"shown": ("K", "delta_degF"), "kind": "temperature difference", "low": 0.1, "high": 300}
LEVEL = {"shown": ("dBA",), "kind": "level", "low": 0, "high": 150}
DROP = {"shown": ("V",), "low": 0, "high": 5000}
CURRENT = {"shown": ("A",), "digits": 4, "low": 0.1, "high": 50_000}
START = {"shown": ("s",), "low": 0.1, "high": 3600}
PART = {"shown": ("%",), "low": 0, "high": 0.5}
COUNT = {"digits": 4, "whole": True}
RATIO = {"shown": ("1",), "digits": 4}

TERMS = (
    Term("acceptance_rule", "", "choice", "Rule of acceptance",
         "Simple: the measured value counts as it is. Guarded: the uncertainty, twice or so that one false acceptance in twenty is left, is taken off first.",
         choices=("simple", "guarded_twice", "guarded_five"), default="guarded_twice", source="jcgm-106"),
    Term("measured_kind", "", "choice", "What is measured", "Decides which of the other inputs count, and how it is corrected.", **TEST,
         choices=("set_power", "fuel_consumption", "airflow", "fan_pressure", "fan_power", "back_pressure", "temperature_rise", "sound_level", "voltage_drop",
                  "start_time")),
    Term("measurement_stage", "", "choice", "When it was measured", "At the maker's works, before the plant was taken over, or in service after it.", **TEST,
         choices=("factory", "acceptance", "service")),
    Term("measurement_date", "d_m", "s", "Day of the measurement", "Day on which it was read.", **TEST, shown=("date",), kind="date", sample="2027-08-20"),
    Term("measurement_instrument", "", "text", "Instrument", "What read it, and its calibration.", **OPEN, sample="Power analyser, calibrated this year"),
    Term("measurement_role", "", "text", "Role", "Role of who read it.", **OPEN, sample="Commissioning engineer"),
    Term("measurement_load", "x_P,t", "1", "Load in the test", "Share of rated power that each running set carried.", **OPEN, shown=("%",), low=0, high=1.2,
         sample="100 %"),
    Term("tolerance_side", "", "choice", "What is bounded", "The measured value is not to be much more, much less, or either.", **TEST,
         choices=("not_more", "not_less", "both")),
    Term("tolerance", "x_T", "1", "Tolerance", "Part of the designed value by which the corrected one may be off.", **OPEN, shown=("%",), low=0.0001,
         high=1, sample="5 %"),
    Term("level_tolerance", "ΔL_T", "dB", "Tolerance of a level", "By which a corrected level may be off.", **OPEN, shown=("dB",), kind="level", low=0.1,
         high=20,
         sample="2 dB"),

    Term("measured_power", "P_t", "W", "Power, measured", "Active power of the set, or of the fan.", **OPEN, **POWER, sample="1010 kW"),
    Term("measured_consumption", "b_t", "kg/J", "Consumption, measured", "Mass of fuel for each unit of energy of the set.", **OPEN, **BURNT,
         sample="210 g/kWh"),
    Term("measured_airflow", "q_V,t", "m^3/s", "Airflow, measured", "Actual volume in a time.", **OPEN, **FLOW, sample="21 m^3/s"),
    Term("measured_pressure", "Δp_t", "Pa", "Pressure, measured", "Of the fan, or back-pressure of the exhaust.", **OPEN, **PRESSURE, sample="125 Pa"),
    Term("measured_rise", "ΔT_t", "K", "Temperature rise, measured", "Of the room air above the air that enters.", **OPEN, **RISE, sample="9 K"),
    Term("measured_level", "L_t", "dB", "Level, measured", "Machines and background together.", **OPEN, **LEVEL, sample="84 dBA"),
    Term("background_level", "L_b", "dB", "Background level", "At the same place, all machines stopped.", **OPEN, **LEVEL, sample="61 dBA"),
    Term("measured_drop", "ΔU_t", "V", "Voltage drop, measured", "Between the two ends of the cable, conductor to conductor.", **OPEN, **DROP, sample="12 V"),
    Term("measured_start_time", "t_t", "s", "Start time, measured", "From the order to start until load is taken.", **OPEN, **START, sample="8.5 s"),

    Term("test_air_temperature", "T_t", "K", "Air temperature in the test", "At the engine's or fan's inlet.", **OPEN, shown=("degC", "degF"),
         kind="temperature", low=223.15, high=343.15, sample="24 degC"),
    Term("test_air_pressure", "p_t", "Pa", "Air pressure in the test", "As the barometer stood, not reduced to the sea.", **OPEN, shown=("kPa", "inHg"),
         digits=4,
         low=50_000, high=110_000, sample="100.6 kPa"),
    Term("test_coolant_temperature", "T_c,t", "K", "Charge coolant in the test", "At the inlet of the charge cooler.", **DESIGNED, shown=("degC", "degF"),
         kind="temperature", low=223.15, high=393.15),
    Term("test_vapour_pressure", "p_v,t", "Pa", "Vapour pressure in the test", "Of the air at the engine.", **DESIGNED, shown=("kPa",), low=0, high=20_000),
    Term("test_heating_value_ratio", "x_H", "1", "Heating value of the fuel in the test", "Over that for which the consumption is designed.", **TEST, **RATIO,
         low=0.8, high=1.2, default="1", source="same-fuel"),
    Term("test_current", "I_t", "A", "Current in the test", "When the drop was read.", **OPEN, **CURRENT, sample="800 A"),
    Term("test_power_factor", "cos φ_t", "1", "Power factor in the test", "Lagging, when the drop was read.", **OPEN, **RATIO, low=0.1, high=1, sample="1"),
    Term("drop_current", "I_d", "A", "Current designed for", "For which the drop is designed.", **OPEN, **CURRENT, sample="1400 A"),
    Term("drop_power_factor", "cos φ_d", "1", "Power factor designed for", "Lagging, for which the drop is designed.", **OPEN, **RATIO, low=0.1, high=1,
         sample="0.8"),
    Term("drop_resistance", "R_d", "ohm", "Resistance of the conductor", "Of the whole length, at its temperature in the test.", **OPEN, shown=("mohm",),
         low=0,
         high=100, sample="4 mohm"),
    Term("drop_reactance", "X_d", "ohm", "Reactance of the conductor", "Of the whole length.", **OPEN, shown=("mohm",), low=0, high=100, sample="3 mohm"),

    Term("loads_chapter", "", "choice", "Loads and sets", "Whether this book rates the sets.", **HERE, chapter="loads"),
    Term("ventilation_chapter", "", "choice", "Ventilation", "Whether this book designs the air.", **HERE, chapter="ventilation"),
    Term("exhaust_chapter", "", "choice", "Exhaust", "Whether this book designs the exhaust.", **HERE, chapter="exhaust"),
    Term("hearing_chapter", "", "choice", "Noise to people", "Whether this book predicts levels at places of work.", **HERE, chapter="hearing"),
    Term("measured_case", "", "reference", "Sets that ran", "Running case of the test.", **OPEN, refers_to="running_case"),
    Term("measured_exposure", "", "reference", "Place of work", "Where the level was read, as the day of a worker lists it.", **OPEN, refers_to="exposure"),
    Term("designed_power", "P_d", "W", "Power, designed", "Rated power of a set; of a fan what the project states.", **DESIGNED, **POWER),
    Term("designed_consumption", "b_d", "kg/J", "Consumption, designed", "At rated power and reference conditions.", **DESIGNED, **BURNT),
    Term("designed_airflow", "q_V,d", "m^3/s", "Airflow, designed", "That of the ventilation for the sets that ran.", **DESIGNED, **FLOW),
    Term("designed_pressure", "Δp_d", "Pa", "Pressure, designed", "Back-pressure of the chosen exhaust; of a fan what the project states.", **DESIGNED,
         **PRESSURE),
    Term("designed_rise", "ΔT_d", "K", "Temperature rise, designed", "For which the air is designed.", **DESIGNED, **RISE),
    Term("designed_level", "L_d", "dB", "Level, designed", "Predicted at the place of work, or a limit that the project states.", **DESIGNED, **LEVEL),
    Term("designed_drop", "ΔU_d", "V", "Voltage drop, designed", "At the current and power factor designed for.", **OPEN, **DROP, sample="20 V"),
    Term("designed_start_time", "t_d", "s", "Start time, designed", "Until load is taken.", **OPEN, **START, sample="10 s"),

    Term("test_air_density", "ρ_t", "kg/m^3", "Air density in the test", "Dry air at the temperature and pressure of the test.", **TEST, shown=("kg/m^3",),
         digits=5, low=0.4, high=2),
    Term("density_ratio", "x_ρ", "1", "Density designed for over that of the test", "Air of the hottest day over air of the test.", **TEST, **RATIO),
    Term("test_power_ratio", "k_t", "1", "Indicated power in the test", "Over that at reference conditions.", **DESIGNED, **RATIO, low=0.3, high=2),
    Term("test_power_adjustment", "α_t", "1", "Power adjustment of the test", "Brake power in the test over that at reference conditions.", **DESIGNED,
         **RATIO,
         low=0.2, high=2),
    Term("test_fuel_adjustment", "β_t", "1", "Fuel adjustment of the test", "Consumption in the test over that at reference conditions.", **TEST, **RATIO),
    Term("corrected_power", "P_c", "W", "Power, corrected", "Set: at reference conditions. Fan: in air of the design.", **TEST, **POWER),
    Term("corrected_consumption", "b_c", "kg/J", "Consumption, corrected", "At reference conditions and with the designed heating value.", **TEST,
         shown=("g/kWh", "lb/hp/h"), digits=5),
    Term("corrected_pressure", "Δp_c", "Pa", "Pressure, corrected", "Fan: in air of the design. Exhaust: as measured.", **TEST, shown=("Pa", "inH2O"),
         digits=4),
    Term("corrected_rise", "ΔT_c", "K", "Temperature rise, corrected", "In air of the design, same heat and volume.", **TEST, shown=("K", "delta_degF"),
         digits=4,
         kind="temperature difference"),
    Term("background_gap", "ΔL_b", "dB", "Above the background", "Measured level above the background.", **TEST, shown=("dB",), kind="level"),
    Term("corrected_level", "L_c", "dB", "Level, corrected", "Without the background; less than three decibels above it, no more than an upper bound.",
         **TEST,
         shown=("dBA",), digits=4, kind="level"),
    Term("corrected_drop", "ΔU_c", "V", "Voltage drop, corrected", "At the current and power factor designed for.", **TEST, shown=("V",), digits=4),
    Term("measured_ratio", "x_m", "1", "Corrected over designed", "Of all that is not a level.", **TEST, **RATIO),

    Term("instrument_uncertainty", "u_i", "1", "Uncertainty of the instrument", "Standard uncertainty, as a part of the reading.", **OPEN, **PART,
         sample="0.5 %"),
    Term("repeat_uncertainty", "u_r", "1", "Uncertainty of repeating", "Standard deviation of the mean of several readings, as a part of it.", **TEST, **PART,
         default="0 %", source="one-reading"),
    Term("correction_uncertainty", "u_c", "1", "Uncertainty of the correction", "What the conditions of the test leave open.", **TEST, **PART, default="0 %",
         source="one-reading"),
    Term("level_uncertainty", "u_L,t", "dB", "Uncertainty of the level", "Standard uncertainty of the level with machines running.", **OPEN, shown=("dB",),
         kind="level", low=0, high=10, sample="0.7 dB"),
    Term("background_uncertainty", "u_L,b", "dB", "Uncertainty of the background", "Standard uncertainty of the level with machines stopped.", **OPEN,
         shown=("dB",), kind="level", low=0, high=10, sample="1 dB"),
    Term("combined_uncertainty", "u", "1", "Combined uncertainty", "Standard uncertainty of the corrected value, as a part of it.", **TEST, shown=("%",),
         digits=4),
    Term("expanded_uncertainty", "U", "1", "Expanded uncertainty", "Twice the combined one.", **TEST, shown=("%",), digits=4),
    Term("corrected_level_uncertainty", "u_L", "dB", "Combined uncertainty of the level", "Standard uncertainty without the background.", **TEST,
         shown=("dB",),
         kind="level"),
    Term("uncertainty_over_tolerance", "x_u", "1", "Uncertainty over tolerance", "Standard uncertainty as a part of the tolerance.", **TEST, shown=("%",)),
    Term("deviation_over_tolerance", "x_d", "1", "Deviation over tolerance", "Corrected less designed, as a part of the tolerance; with its sign.", **TEST,
         shown=("%",),
         signed=True),
    Term("tolerance_reading", "x_y", "1", "Tolerance taken by the reading", "In the direction that is bounded.", **TEST, shown=("%",), signed=True),
    Term("tolerance_used", "x_w", "1", "Tolerance used", "By the reading and by what the rule of acceptance takes off for its uncertainty.", **TEST,
         shown=("%",),
         signed=True),
    Term("tolerance_whole", "x_1", "1", "Whole tolerance", "No more is there to be used.", shown=("%",), default="100 %", source="definition", constant=True),
    Term("conformity_probability", "p_c", "1", "Probability of conformity", "Chance that the true value lies within the tolerance.", **TEST, shown=("%",),
         digits=4,
         low=0, high=1),
    Term("band_pass", "N_1", "1", "Pass", "Inside by at least the expanded uncertainty.", **COUNT),
    Term("band_conditional_pass", "N_2", "1", "Conditional pass", "Inside, but by less than the expanded uncertainty.", **COUNT),
    Term("band_conditional_fail", "N_3", "1", "Conditional fail", "Outside, but by no more than the expanded uncertainty.", **COUNT),
    Term("band_fail", "N_4", "1", "Fail", "Outside by more than the expanded uncertainty.", **COUNT),
    Term("action_state", "", "choice", "Action on a deviation", "Whether something is planned or done where the value deviates.", **TEST,
         choices=("none", "planned", "done"), default="none", source="project"),
    Term("measurement_action", "", "text", "What is done", "The action, by whom and when.", **OPEN, sample="Pitch of the fan set anew before the next test"),
    Term("deviations_open", "N_o", "1", "Deviations without an action", "Measurements outside their tolerance with which nothing is done.", **COUNT),
    Term("deviations_open_max", "N_o,max", "1", "Deviations without an action allowed", "None.", **COUNT, default="0", source="definition", constant=True),
    Term("measurements_listed", "N_m", "1", "Measurements", "Measurements on record.", **COUNT),
)
