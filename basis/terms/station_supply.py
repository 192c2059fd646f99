"""Terms of station supply: auxiliaries by mode, transformers and their losses, batteries and the order of a black start."""

from basis.terms import Term

P, S, ENERGY = {"shown": ("kW",), "kind": "active power"}, {"shown": ("kVA",), "kind": "apparent power", "digits": 4}, {"shown": ("kWh",), "kind": "energy"}
COUNT, SHARE, MONEY = {"shown": ("1",), "digits": 4}, {"shown": ("%",)}, {"shown": ("cur",)}
HOURS, SECONDS = {"shown": ("h",)}, {"shown": ("s",)}
LOAD, MODE, BY_MODE = {"axes": ("station_load",)}, {"axes": ("station_mode",)}, {"axes": ("station_load", "station_mode")}
TRANSFORMER, BATTERY, STEP = ({"axes": (axis,)} for axis in ("transformer", "station_battery", "black_start_step"))

AUXILIARIES = (
    Term("station_load_kind", "", "choice", "Kind", "What the load is.", **LOAD, choices=("heater", "charger", "pump", "fan", "lighting", "other")),
    Term("station_load_power", "P_s", "W", "Rated power of one", "Electrical power that one of them takes when it runs.", **P, **LOAD, low=0),
    Term("station_load_count", "n_s", "1", "Number alike", "How many there are.", **COUNT, **LOAD, low=1, high=100, default="1", source="one-alike"),
    Term("station_load_power_factor", "λ_s", "1", "Power factor of the load", "Lagging.", shown=("1",), **LOAD, low=0.1, high=1, default="0.9", source="station-usual"),
    Term("station_load_duty", "d_s", "1", "Duty", "Share of rated power that all of them together take in standby, while sets start, and while they run.", **SHARE, **BY_MODE, low=0, high=1),
    Term("station_load_start_ratio", "x_s", "1", "Inrush", "Current at switching on over rated current; six or so for a motor at full voltage.", shown=("1",), **LOAD, low=0, high=15,
         default="1", source="no-inrush"),
    Term("station_mean_share", "x_m", "1", "Mean of the year", "Mean power of the year over the duty of the mode, which is that of the hardest day.", **SHARE, **LOAD, low=0, high=1,
         default="100 %", source="no-season"),
    Term("station_load_demand", "P_sm", "W", "Demand of the load", "In each mode.", **P, **BY_MODE),
    Term("station_load_reactive", "Q_sm", "var", "Reactive demand of the load", "In each mode.", shown=("kvar",), kind="reactive power", **BY_MODE),
    Term("station_power", "P_m", "W", "Station power", "All auxiliaries together.", **P, **MODE),
    Term("station_reactive_power", "Q_m", "var", "Station reactive power", "All auxiliaries together.", shown=("kvar",), kind="reactive power", **MODE),
    Term("station_apparent_power", "S_m", "VA", "Station apparent power", "All auxiliaries together.", **S, **MODE),
    Term("station_peak_power", "S_pk", "VA", "Largest station power", "Of the three modes.", **S),
    Term("station_growth_factor", "k_gr", "1", "Growth of station supply", "What is bought over the loads that are known.", shown=("1",), low=1, high=3, default="1.2", source="station-growth"),
    Term("station_required_power", "S_req", "VA", "Station power required", "Largest of the modes, with growth.", **S),
    Term("station_load_start_power", "S_LR", "VA", "Power at switching on", "Of one of them, at rated voltage.", **S, **LOAD),
    Term("station_start_power", "S_LR,max", "VA", "Largest power at switching on", "The heaviest single start.", **S),
    Term("station_transformer", "", "reference", "Station transformer", "Transformer that feeds the auxiliaries.", refers_to="transformer", optional=True),
    Term("transformer_size_table", "", "choice", "Table of transformer sizes", "Sizes in which transformers are sold where the project buys.", table="transformer_size", optional=True),
    Term("station_transformer_size", "S_std", "VA", "Next size of station transformer", "Least size sold that is enough.", **S),
    Term("station_start_dip", "ΔU_s", "1", "Dip at the largest start", "Fall of voltage at the station board in the first instant.", **SHARE),
    Term("station_start_dip_max", "ΔU_s,max", "1", "Dip allowed at the station board", "What contactors and chargers bear.", **SHARE, low=0.01, high=0.5, optional=True),
    Term("mode_is_standby", "z_sb", "1", "Standby mode", "One in standby.", **COUNT, **MODE, default="1, 0, 0", source="definition", constant=True),
    Term("mode_is_running", "z_r", "1", "Running mode", "One while sets run.", **COUNT, **MODE, default="0, 0, 1", source="definition", constant=True),
    Term("station_mode_time", "t_m", "s", "Time in the mode in a year", "The minutes of starting are counted as standby.", **HOURS, **MODE),
    Term("year_time", "t_a", "s", "Time of a year", "365 days.", **HOURS, default="8760 h", source="definition", constant=True),
    Term("station_running_share", "s_r", "1", "Share of the sets' output", "Auxiliaries while running over the site power of the required sets.", **SHARE),
)

LOSSES = (
    Term("transformer_use", "", "choice", "Use", "Whether it steps up a set, feeds the station, or carries a load that the project gives.", **TRANSFORMER,
         choices=("step_up", "station", "load"), default="load", source="project"),
    Term("transformer_sets", "n_T", "1", "Sets of the transformer", "Sets that a step-up transformer carries.", **COUNT, **TRANSFORMER, low=1, high=32, default="1", source="one-set-a-transformer"),
    Term("transformer_load", "S_L", "VA", "Load of the transformer", "Largest load, for one that is neither step-up nor station transformer.", **S, **TRANSFORMER, low=0, optional=True),
    Term("transformer_duty_power", "S_d", "VA", "Duty of the transformer", "Largest power that it must carry.", **S, **TRANSFORMER),
    Term("transformer_load_ratio", "β", "1", "Loading of the transformer", "Duty over rating.", **SHARE, **TRANSFORMER),
    Term("transformer_core_loss", "P_0", "W", "No-load loss of the transformer", "While it is energised.", **P, **TRANSFORMER, low=0, optional=True),
    Term("transformer_power_factor", "λ_T", "1", "Power factor of its load", "Lagging.", shown=("1",), **TRANSFORMER, low=0.1, high=1, default="0.85", source="station-usual"),
    Term("transformer_loss", "P_v", "W", "Loss at its duty", "No-load and load loss.", **P, **TRANSFORMER),
    Term("transformer_efficiency", "η_T", "1", "Efficiency at its duty", "Power out over power in.", shown=("%",), digits=4, **TRANSFORMER),
    Term("transformer_best_ratio", "β_b", "1", "Best loading", "Where efficiency is highest.", **SHARE, **TRANSFORMER),
    Term("transformer_best_efficiency", "η_T,b", "1", "Best efficiency", "At that loading and the same power factor.", shown=("%",), digits=4, **TRANSFORMER),
    Term("transformer_regulation", "ε", "1", "Regulation", "Fall of voltage from no load to its duty.", **SHARE, **TRANSFORMER),
    Term("transformer_regulation_max", "ε_max", "1", "Regulation allowed", "What the project allows.", **SHARE, **TRANSFORMER, low=0.001, high=0.3, optional=True),
    Term("transformer_energised_time", "t_e", "s", "Time energised of the transformer", "In a year; all of it unless given.", **HOURS, **TRANSFORMER, low=0, high=31_622_400, default="8760 h", source="in-service-always"),
    Term("transformer_loaded_time", "t_l", "s", "Time loaded", "In a year; all of it unless given.", **HOURS, **TRANSFORMER, low=0, high=31_622_400, default="8760 h", source="in-service-always"),
    Term("transformer_mean_ratio", "β_m", "1", "Mean loading", "Root of the mean square of the load over rating, while it is loaded.", **SHARE, **TRANSFORMER, low=0, high=1.5, optional=True),
    Term("transformer_lost_energy", "W_v", "J", "Energy lost in a year", "In one transformer.", **ENERGY, **TRANSFORMER),
    Term("transformers_lost_energy", "W_v,Σ", "J", "Energy lost in all transformers in a year", "Sum.", **ENERGY),
    Term("transformers_lost_cost_yearly", "C_v", "cur", "Cost of transformer losses in a year", "At the price of bought energy.", **MONEY),
    Term("station_energy_yearly", "W_st", "J", "Energy of the auxiliaries in a year", "Standby and running.", **ENERGY),
    Term("station_cost_yearly", "C_st", "cur", "Cost of the auxiliaries in a year", "At the price of bought energy.", **MONEY),
    Term("station_life_cost", "C_L", "cur", "Station supply over the life", "Auxiliaries and transformer losses as present worth.", **MONEY),
)

BLACK_START = (
    Term("black_start_battery", "", "reference", "Battery of the step", "Battery that the step draws on; none if the sets' own starting gear does the work.", **STEP, refers_to="station_battery", optional=True),
    Term("black_start_after", "", "reference", "After", "Step that must be done before this one.", **STEP, refers_to="black_start_step", optional=True),
    Term("black_start_power", "P_b", "W", "Power of the step", "Power that it takes at the load's terminals.", shown=("W",), kind="active power", **STEP, low=0, default="0 W", source="no-inrush"),
    Term("black_start_duration", "t_b", "s", "Time of the step", "Until the next one may begin.", **SECONDS, **STEP, low=0, high=36_000),
    Term("black_start_holds", "", "choice", "How long it draws", "Whether it goes on until the first set carries the station, or ends with its step.", **STEP, choices=("held", "momentary"),
         default="held", source="project"),
    Term("black_start_end", "t_be", "s", "End of the step", "From the order to start.", **SECONDS, **STEP),
    Term("black_start_begin", "t_bb", "s", "Begin of the step", "From the order to start.", **SECONDS, **STEP),
    Term("black_start_time", "t_bs", "s", "Time of a black start", "From the order to start until the first set carries the station.", **SECONDS),
    Term("black_start_time_max", "t_bs,max", "s", "Time allowed for a black start", "By the project.", **SECONDS, low=1, optional=True),
    Term("black_start_step_energy", "W_b", "J", "Energy of the step", "At the load's terminals, in one attempt.", shown=("Wh",), kind="energy", **STEP),
    Term("black_start_attempts", "z_b", "1", "Attempts", "Attempts for which the batteries must last.", **COUNT, low=1, high=10, default="2", source="two-attempts"),
)

BATTERIES = (
    Term("station_battery_voltage", "U_B", "V", "Voltage of the battery", "Nominal.", shown=("V",), **BATTERY, low=6, high=800),
    Term("station_battery_capacity", "C_B", "A*s", "Capacity of the battery", "Rated, new, at 25 °C.", shown=("Ah",), **BATTERY, low=3600, optional=True),
    Term("station_battery_load", "P_B", "W", "Standing load of the battery", "Controls, relays, telecontrol and lamps, or the load of the UPS, at the load's terminals.", shown=("W",), kind="active power", **BATTERY, low=0),
    Term("station_battery_efficiency", "η_B", "1", "Efficiency of the inverter", "Power to the load over power from the battery.", **SHARE, **BATTERY, low=0.5, high=1, default="100 %", source="no-inverter"),
    Term("station_battery_wait", "t_w", "s", "Waiting on the battery", "Time without charger that it must last before the order to start is given.", **HOURS, **BATTERY, low=0, high=864_000),
    Term("station_battery_temperature", "T_B", "K", "Temperature of the battery", "Coldest, when it is needed.", shown=("degC", "degF"), kind="temperature", **BATTERY, low=269.15, high=333.15,
         default="25 degC", source="ieee-485-reference"),
    Term("station_battery_temperature_factor", "k_TB", "1", "Temperature factor of the station battery", "Capacity needed over that at 25 °C.", shown=("1",), **BATTERY, low=0.9, high=3, either=True),
    Term("station_battery_usable_share", "x_B", "1", "Usable share", "Part of rated capacity that comes out above the end voltage at this rate.", **SHARE, **BATTERY, low=0.2, high=1,
         default="80 %", source="battery-usable"),
    Term("black_start_energy", "W_bs", "J", "Black start from this battery", "Energy of its steps in one attempt.", shown=("Wh",), kind="energy", **BATTERY),
    Term("black_start_peak_power", "P_bs", "W", "Largest power from this battery", "Standing load, held steps, and the step of the moment.", shown=("W",), kind="active power", **BATTERY),
    Term("station_battery_energy", "W_B", "J", "Energy drawn", "Waiting, and all attempts, from the battery's terminals.", shown=("Wh",), kind="energy", **BATTERY),
    Term("station_battery_capacity_required", "C_req", "A*s", "Capacity required", "With temperature, margin, age and rate.", shown=("Ah",), **BATTERY),
    Term("station_battery_time", "t_B", "s", "Time that the battery lasts", "Waiting that the battery allows and still starts the plant.", **HOURS, **BATTERY),
    Term("station_battery_peak_current", "I_B", "A", "Largest current of the battery", "At nominal voltage.", shown=("A",), **BATTERY),
)

TERMS = AUXILIARIES + LOSSES + BLACK_START + BATTERIES
