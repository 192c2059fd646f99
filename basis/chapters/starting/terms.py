"""Terms of starting: cranking batteries, their cable, charger and gas; air receivers and compressor; the time to load."""

from basis.language.terms import Listed, Term, UsualDecision, UsualOption

LISTS = (
    Listed("start_stage", "start_stages"),
    Listed("air_start", "air_starts", fixed=tuple(f"start_{number}" for number in range(1, 13))),
)

RATIO = {"shown": ("%",), "low": 0}
CURRENT = {"shown": ("A",), "low": 0}
CHARGE = {"shown": ("Ah",), "low": 0}
VOLTAGE = {"shown": ("V",), "low": 0}
COUNT = {"shown": ("1",), "digits": 4, "low": 0}
ONE_AT_LEAST = COUNT | {"low": 1}
SECONDS = {"shown": ("s",), "low": 0}
GAUGE = {"shown": ("bar", "psi"), "low": 0, "high": 2e7}
VOLUME = {"shown": ("m^3", "ft^3"), "low": 0}
FLOW = {"shown": ("m^3/h", "cfm"), "low": 0}
TEMPERATURE = {"shown": ("degC", "degF"), "kind": "temperature", "low": 203.15, "high": 353.15}
MONEY = {"shown": ("cur",), "low": 0}
STAGE, START = ("start_stage",), ("air_start",)

CYCLE = (
    Term("starting_method", "", "choice", "Starting method", "What turns the engines: starter motors on batteries, compressed air, or either of them.",
         choices=("battery", "air", "both")),
    Term("cranked_by_battery", "n_bat", "1", "Turned by a battery", "One where a battery turns the engines, also beside air; nought where air alone does.",
         **COUNT, high=1, whole=True),
    Term("crank_time", "t_c", "s", "Time of a crank", "Longest time for which the engine is turned before it rests.",
         **SECONDS, high=120, default="15 s", source="nfpa-110-crank"),
    Term("crank_rest_time", "t_r", "s", "Rest between cranks", "Time in which starter, cable and battery cool between two cranks.",
         **SECONDS, high=300, default="15 s", source="nfpa-110-crank"),
    Term("cranks_per_cycle", "z_c", "1", "Cranks in a cycle", "Cranks before the control gives up and reports failure to start.",
         **ONE_AT_LEAST, high=20, default="3", source="ufgs-16263a-crank", whole=True),
    Term("cranking_cycles", "z_y", "1", "Cranking cycles stored", "Full cycles for which starting energy is kept, without any recharge.",
         **ONE_AT_LEAST, high=20, default="2", source="nfpa-110-battery", whole=True),
    Term("cranking_limiter_time", "t_lim", "s", "Time of a cranking cycle", "From the first turn to the report that the set has failed to start.", **SECONDS),
    Term("starts_required", "z_req", "1", "Starts required", "Cranks for which starting energy must be stored.", **ONE_AT_LEAST, either=True, whole=True),
    Term("starts_available", "z_av", "1", "Starts available", "Cranks that the stored energy gives; with both methods, those of the weaker one.", **COUNT,
         whole=True),
)

BATTERY = (
    Term("battery_type", "", "choice", "Type of battery", "Kind of cell: fixes voltages, gas, charge factor and life.",
         choices=("vented_lead", "sealed_lead", "vented_nickel_cadmium"), default="vented_lead", source="starter-battery-usual"),
    Term("starting_voltage", "U_n", "V", "Starting voltage", "Nominal voltage of the starting and control battery.", shown=("V",), low=6, high=220,
         default="24 V", source="starter-battery-usual"),
    Term("battery_unit_voltage", "U_u", "V", "Voltage of one battery", "Nominal voltage of one battery as bought.", shown=("V",), low=1, high=48,
         default="12 V", source="starter-battery-usual"),
    Term("battery_units", "z_u", "1", "Batteries of a set", "Batteries of one set, those in series and those side by side together.", **ONE_AT_LEAST,
         default="2", source="starter-battery-usual", whole=True),
    Term("battery_unit_capacity", "C_u", "A*s", "Capacity of one battery", "Rated capacity of one battery as bought.", shown=("Ah",), low=3600, high=1.8e7,
         optional=True),
    Term("battery_strings", "z_p", "1", "Strings", "Strings side by side, each of the full starting voltage.", **ONE_AT_LEAST, whole=True),
    Term("battery_capacity", "C_b", "A*s", "Capacity of the battery", "Rated capacity of all strings of one set.", **CHARGE),
    Term("battery_cells", "z_n", "1", "Cells in series", "Cells of one string.", **COUNT),
    Term("starters_per_set", "z_s", "1", "Starters of a set", "Starter motors that turn one engine together.", **ONE_AT_LEAST, high=4, default="1",
         source="starter-battery-usual", whole=True),
    Term("starter_current", "I_s", "A", "Current of one starter",
         "Current of one starter while it turns the engine at the temperature held, not the inrush of its first instant.",
         **CURRENT, optional=True),
    Term("cranking_current", "I_c", "A", "Cranking current", "Current of all starters of a set while they turn the engine.", **CURRENT),
    Term("battery_unit_cranking_current", "I_cc,u", "A", "Cranking rating of one battery",
         "Current that one battery, new and at 25 °C, gives through a crank down to the end voltage. A rating declared in the cold may stand in for it on "
         "the safe side.",
         **CURRENT, optional=True),
    Term("battery_temperature", "T_b", "K", "Battery temperature",
         "Coldest temperature of the battery when it must crank: that of the room, unless it is heated.",
         **TEMPERATURE, either=True, sample="5 degC"),
    Term("battery_reference_temperature", "T_b,n", "K", "Reference temperature of batteries",
         "Temperature for which ratings and life of batteries are declared.",
         **TEMPERATURE, default="77 degF", source="ieee-485-reference", constant=True),
    Term("nickel_cadmium_temperature_factor", "k_T,N", "1", "Temperature factor of the cells",
         "Rated over available cranking current of the nickel-cadmium cells chosen, at the battery temperature, from their maker.",
         shown=("1",), low=0.8, high=4, optional=True, sample="1.1"),
    Term("battery_temperature_factor", "k_T", "1", "Temperature factor of the battery",
         "How many times more battery is needed at this temperature than at 25 °C.",
         shown=("1",)),
    Term("battery_end_of_life_share", "x_e", "1", "Capacity at end of life", "Share of rated capacity at which the battery is replaced.",
         shown=("%",), low=0.3, high=1, default="80 %", source="ieee-450-end-of-life"),
    Term("battery_design_margin", "k_m", "1", "Design margin of the battery", "What is bought above what is needed, for cable, wear and a stiff engine.",
         shown=("1",), low=1, high=3, default="1.1", source="ieee-485-margin"),
    Term("cranking_current_available", "I_av", "A", "Cranking current at hand", "What the battery gives when it is cold and at the end of its life.",
         **CURRENT),
    Term("cranking_current_needed", "I_need", "A", "Cranking current asked for", "Cranking current with the design margin.", **CURRENT),
    Term("cold_cranking_ratio", "x_cc", "1", "Use of cold cranking capacity",
         "Cranking current asked for over what is at hand; nought where no starter motor turns the engine.", **RATIO),
    Term("cold_cranking_ratio_max", "x_cc,max", "1", "Use of cold cranking capacity allowed", "All that is at hand may be asked for.", **RATIO,
         default="100 %", source="definition", constant=True),
    Term("crank_charge", "Q_c", "A*s", "Charge of a crank", "Charge drawn by one crank.", **CHARGE),
    Term("crank_energy", "W_c", "J", "Energy of a crank", "Energy drawn by one crank at nominal voltage.", shown=("kJ",), kind="energy"),
    Term("cranking_charge", "Q_z", "A*s", "Charge of all starts", "Charge drawn by all starts required.", **CHARGE),
    Term("battery_usable_share", "x_u", "1", "Share usable for cranking", "Part of rated capacity that comes out above the end voltage at cranking current.",
         shown=("%",), low=0.05, high=0.9, default="35 %", source="cranking-share"),
    Term("battery_cranks", "z_b", "1", "Cranks of the battery", "Whole cranks that the battery gives, cold and at the end of its life.", **COUNT, whole=True),
    Term("battery_life_rated", "t_B,n", "s", "Rated life of the battery", "Life at the reference temperature.", shown=("year",), low=0, either=True),
    Term("battery_temperature_mean", "T_b,m", "K", "Mean battery temperature", "Mean of the year at the battery: that of the room.", **TEMPERATURE,
         either=True),
    Term("battery_life_halving", "ΔT_B", "K", "Warmth that halves life", "Temperature above the reference that halves the life of a battery.",
         shown=("K", "delta_degF"), kind="temperature difference", low=4, high=20, default="10 K", source="battery-life-warmth"),
    Term("battery_life_expected", "t_B", "s", "Expected life of the battery", "Rated life, shortened by a mean temperature above the reference.",
         shown=("year",)),
    Term("battery_replacement_interval", "t_B,rep", "s", "Interval of battery replacement",
         "Time after which the owner replaces the batteries whatever their state.",
         shown=("year",), low=0, default="3 year", source="nfpa-110-battery-life"),
)

CABLE = (
    Term("starter_cable_length", "L_c", "m", "Length of starter cable", "One way, from battery to starter.", shown=("m", "ft"), low=0, optional=True),
    Term("starter_cable_table", "", "choice", "Table of the starter cable", "Table of area and resistance of the starter cable.", table="conductor",
         default="iec-60228-copper-class-5", source="starter-cable-flexible"),
    Term("starter_cable_size", "", "text", "Size of starter cable", "One conductor of one pole, as the table prints it.", optional=True),
    Term("starter_cables", "z_k", "1", "Starter cables of a pole", "Conductors of a pole side by side, or one to each starter.", **ONE_AT_LEAST, default="1",
         source="definition", whole=True),
    Term("starter_cable_temperature", "T_c", "K", "Temperature of starter cable", "Copper while cranking; a short crank hardly warms it.", **TEMPERATURE,
         default="20 degC", source="starter-cable-cool"),
    Term("starter_cable_resistance_per_length", "R′_c", "ohm/m", "Resistance of starter cable per length", "One conductor, at its temperature while cranking.",
         shown=("ohm/km", "ohm/kft")),
    Term("starter_cable_resistance", "R_c", "ohm", "Resistance of the starter cable", "Both poles, all conductors of a pole together.", shown=("mohm",)),
    Term("starter_cable_drop", "ΔU_c", "V", "Drop along the starter cable", "Both poles, at cranking current.", **VOLTAGE),
    Term("starter_cable_drop_ratio", "x_U", "1", "Drop along the starter cable, of nominal voltage", "Nought where no starter motor turns the engine.",
         **RATIO),
    Term("starter_cable_drop_ratio_max", "x_U,max", "1", "Drop allowed along the starter cable", "Share of nominal voltage that may be lost in the cable.",
         shown=("%",), low=0.01, high=0.3, default="8 %", source="starter-cable-drop"),
    Term("starter_cable_resistance_per_length_max", "R′_c,max", "ohm/m", "Resistance per length allowed",
         "Of one conductor, at which the drop is what is allowed.", shown=("ohm/km", "ohm/kft")),
    Term("battery_open_voltage", "U_0", "V", "Open-circuit voltage", "Charged battery at rest.", **VOLTAGE),
    Term("battery_cranking_voltage", "U_b", "V", "Battery voltage while cranking", "At its terminals, cold and at the end of life.", **VOLTAGE),
    Term("starter_voltage", "U_s", "V", "Voltage at the starter", "What is left at the starter while the engine is turned.", **VOLTAGE),
    Term("starter_voltage_min", "U_s,min", "V", "Least voltage at the starter", "From the maker of the starter, for the cranking speed that the engine needs.",
         **VOLTAGE, optional=True, sample="16 V"),
)

CHARGER = (
    Term("charge_factor", "k_ch", "1", "Charge factor", "Charge put in over charge taken out.", shown=("1",)),
    Term("charge_time", "t_ch", "s", "Time to recharge", "Time in which the empty battery must be full again.", shown=("h",), low=1800, high=604_800,
         default="24 h", source="nfpa-110-recharge"),
    Term("standing_current", "I_0", "A", "Standing current", "Controls, governor and lamps that the charger feeds all the time.", **CURRENT, default="5 A",
         source="standing-current"),
    Term("charger_current_required", "I_ch,req", "A", "Charger current required",
         "Recharges the empty battery in the time allowed and feeds the standing load.", **CURRENT),
    Term("charger_current", "I_ch", "A", "Charger current", "Rated current of the charger of one set.", **CURRENT, optional=True, sample="15 A"),
    Term("charger_site_factor", "k_site", "1", "Site factor of the charger", "What altitude and a warm room leave of its rating.", shown=("%",), low=0.3,
         high=1,
         default="100 %", source="charger-site"),
    Term("charger_site_current", "I_ch,x", "A", "Charger current at site", "Rated current with the site factor.", **CURRENT),
    Term("recharge_time_after_start", "t_rc", "s", "Recharge after all starts", "Time to put back what all starts required have drawn.", shown=("h",)),
    Term("float_voltage", "U_fl", "V", "Float voltage", "Charger voltage from day to day.", **VOLTAGE),
    Term("equalise_voltage", "U_eq", "V", "Equalising voltage", "Charger voltage while cells are made equal, or boosted.", **VOLTAGE),
    Term("direct_voltage_max", "U_dc,max", "V", "Direct voltage allowed", "Highest voltage that controls and relays stand.", **VOLTAGE, optional=True,
         sample="30 V"),
    Term("gas_current_float", "i_fl", "1/s", "Gassing current on float", "Current that makes gas, over capacity, on float.", shown=("mA/Ah",)),
    Term("gas_current_boost", "i_bo", "1/s", "Gassing current on boost", "Current that makes gas, over capacity, on boost.", shown=("mA/Ah",)),
    Term("hydrogen_dilution", "v_q", "m^3/(A*s)", "Air for gassing current",
         "Air that dilutes the hydrogen of one cell: four parts in a hundred, with a fivefold margin.",
         shown=("m^3/(A*h)",), default="0.05 m^3/(A*h)", source="iec-62485-2", constant=True),
    Term("battery_gas_airflow_float", "q_V,fl", "m^3/s", "Air for hydrogen on float", "Fresh air for the batteries of all sets, on float.", **FLOW),
    Term("battery_gas_airflow", "q_V,H", "m^3/s", "Air for hydrogen on boost", "Fresh air for the batteries of all sets, on boost.", **FLOW),
    Term("battery_opening_required", "A_H", "m^2", "Opening for hydrogen", "Free area of the inlet, and as much again of the outlet, for natural ventilation.",
         shown=("cm^2", "in^2")),
    Term("battery_opening_area", "A_H,x", "m^2", "Opening at the batteries", "Free area low and, as much again, high, that stays open while dampers are shut.",
         shown=("cm^2", "in^2"), low=0, optional=True, sample="150 cm^2"),
)

AIR = (
    Term("air_receivers", "z_v", "1", "Receivers of a set", "Air receivers that serve one set.", **COUNT, default="1", source="definition", whole=True),
    Term("receiver_volume", "V_1", "m^3", "Volume of a receiver", "Inner volume of one receiver.", shown=("L", "ft^3"), low=0, optional=True, sample="500 L"),
    Term("receivers_volume", "V_v", "m^3", "Volume of all receivers", "Inner volume of the receivers of one set.", shown=("L", "ft^3")),
    Term("receiver_pressure_max", "p_1", "Pa", "Full pressure", "Gauge pressure at which the compressor stops.", **GAUGE, optional=True),
    Term("receiver_pressure_min", "p_2", "Pa", "Least starting pressure", "Gauge pressure below which the engine is no longer turned fast enough.", **GAUGE,
         optional=True),
    Term("air_per_start", "v_s", "m^3", "Air for a start", "Free air at the pressure of the site that one crank uses.", shown=("m^3", "ft^3"), low=0,
         optional=True),
    Term("isentropic_exponent", "γ", "1", "Isentropic exponent of air", "Ratio of heat capacities of dry air.", shown=("1",), default="1.4",
         source="starting-air-exponent", constant=True),
    Term("starts_isothermal", "z_T", "1", "Starts, isothermal", "With rests so long that the air in the receiver warms up again.", shown=("1",)),
    Term("starts_isentropic", "z_S", "1", "Starts, isentropic", "One start after the other, so that the air in the receiver cools.", shown=("1",)),
    Term("air_starts", "z_a", "1", "Starts of the receivers", "Whole starts, one after the other.", **COUNT, whole=True),
    Term("receiver_volume_isothermal", "V_T", "m^3", "Volume needed, isothermal", "Volume for the starts required, with long rests.", shown=("L", "ft^3")),
    Term("receiver_volume_isentropic", "V_S", "m^3", "Volume needed, isentropic", "Volume for the starts required, one after the other.", shown=("L", "ft^3")),
    Term("air_start_number", "k_s", "1", "Number of the start", "Counted from full receivers.", **COUNT, axes=START,
         default="1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12", source="definition", constant=True),
    Term("receiver_pressure_isothermal", "p_T", "Pa", "Pressure after the start, isothermal", "Gauge pressure, the air kept at room temperature.", axes=START,
         shown=("bar", "psi")),
    Term("receiver_pressure_isentropic", "p_S", "Pa", "Pressure after the start, isentropic", "Gauge pressure, no heat taken up by the air.", axes=START,
         shown=("bar", "psi")),
    Term("compressor_free_air", "q_V,c", "m^3/s", "Free air of the compressor", "Air delivered, at the pressure and temperature of its intake.", **FLOW,
         optional=True),
    Term("air_recharge_time", "t_v", "s", "Recharge of the receivers", "From least starting to full pressure; nought where no air starts the engine.",
         shown=("min",), low=0),
    Term("air_recharge_time_max", "t_v,max", "s", "Recharge time allowed", "Time in which the receivers must be full again.", shown=("min",), low=0,
         default="60 min", source="air-recharge"),
    Term("receiver_stored_energy", "W_v", "J", "Energy stored in the receivers",
         "Work that the air of one set's full receivers can do on its way to the air outside.", shown=("MJ",), kind="energy"),
)

TIMING = (
    Term("stage_time", "t_i", "s", "Time of the stage", "Time that this stage takes before the next one begins.", **SECONDS, high=3600, axes=STAGE,
         sample="3 s"),
    Term("stage_part", "", "choice", "Part of the start", "What the stage is, where other chapters count on its time: confirming the loss and giving the "
         "order, cranking until the engine fires, running up to rated speed, building up voltage, or closing on the dead bus.", axes=STAGE,
         choices=("signal", "crank", "run_up", "excitation", "dead_bus", "other"), default="other", source="definition"),
    Term("stages_signal_time", "t_sig", "s", "Time until cranking", "Of the stages that are part of the signal.", **SECONDS),
    Term("stages_crank_time", "t_crk", "s", "Time of cranking", "Of the stages that are cranking, when the first crank succeeds.", **SECONDS),
    Term("stages_run_up_time", "t_run", "s", "Time of the run-up", "Of the stages from first firing to rated speed.", **SECONDS),
    Term("stages_excitation_time", "t_exc", "s", "Time of the excitation", "Of the stages in which voltage is built up.", **SECONDS),
    Term("stages_dead_bus_time", "t_db,1", "s", "Time of closing on the dead bus", "Of the stages in which the bus is proved dead and the breaker closes.",
         **SECONDS),
    Term("stage_end_time", "t_Σ", "s", "End of the stage", "Time from the signal to the end of this stage.", **SECONDS, axes=STAGE),
    Term("start_time", "t_start", "s", "Time to load", "From the signal to the moment at which the set has accepted load, when the first crank succeeds.",
         **SECONDS),
    Term("start_time_max", "t_start,max", "s", "Time to load allowed", "Limit of the project's code for its most hurried load.", **SECONDS, optional=True,
         sample="10 s"),
    Term("start_time_second_crank", "t_start,2", "s", "Time to load with a second crank", "The same when the first crank fails.", **SECONDS),
)

MONEY_TERMS = (
    Term("battery_start_price", "C_B,1", "cur", "Price of battery starting", "Starters, cables, charger and first batteries of one set.", **MONEY,
         optional=True, sample="9000 EUR"),
    Term("battery_price", "C_B", "cur", "Price of new batteries", "One replacement of the batteries of one set, old ones taken back.", **MONEY, optional=True),
    Term("battery_upkeep_cost_yearly", "C_B,a", "cur", "Upkeep of batteries in a year", "Inspection and load test for one set.", **MONEY, optional=True),
    Term("air_start_price", "C_A,1", "cur", "Price of air starting", "Compressor, dryer, receivers, pipes and air motor of one set.", **MONEY, optional=True,
         sample="40000 EUR"),
    Term("air_upkeep_cost_yearly", "C_A,a", "cur", "Upkeep of air starting in a year",
         "Compressor service and the statutory inspection of receivers, for one set.", **MONEY, optional=True, sample="1500 EUR"),
    Term("battery_yearly_cost", "C_B,Σ", "cur", "Battery starting in a year", "Replacement spread over its interval, and upkeep, for one set.", **MONEY),
    Term("starting_first_cost", "C_1", "cur", "First cost of starting", "What is bought for the starting of all sets.", **MONEY),
    Term("starting_yearly_cost", "C_a", "cur", "Yearly cost of starting", "Replacement and upkeep of all sets in a year.", **MONEY),
    Term("starting_life_cost", "C_L,s", "cur", "Life cost of starting", "First cost and yearly cost as present worth.", **MONEY),
)

TERMS = CYCLE + BATTERY + CABLE + CHARGER + AIR + TIMING + MONEY_TERMS

DECISIONS = (UsualDecision("starting_method_choice", "Starting method", (
    UsualOption("battery", "Batteries",
                "Certainty about their state: only a test under load tells whether they still crank, and they age.",
                {"starting_method": "battery"}),
    UsualOption("air", "Compressed air",
                "Money, floor and quiet: receivers, compressors and vessels under inspection.",
                {"starting_method": "air"}),
)),)
