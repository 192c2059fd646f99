"""Terms of controls and signals: the schedule of signals, their runs, three ways of wiring, circuits, instrument transformers, separation."""

from basis.terms import Term

S = "apparent power"
COUNT = {"shown": ("1",), "digits": 4}
ENDS = ("set", "switchgear", "master_control", "auxiliaries", "attended_place")
FUNCTIONS = ("start", "stop", "breaker_close", "breaker_trip", "interlock", "emergency_stop", "synchronising", "load_sharing", "voltage_sensing",
             "current_sensing", "measurement", "status", "alarm")
CLASSES = ("direct_control", "alternating_control", "instrument_transformer", "network", "starting_battery", "low_voltage_power", "medium_voltage_power")
SIZES = ("1.5 mm²", "2.5 mm²", "4 mm²", "6 mm²", "18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG")
WAY, RUN_WAY = ("wiring_way",), ("control_run", "wiring_way")

SIGNALS = (
    Term("signal_function", "", "choice", "Function", "What the signal does.", axes=("signal",), choices=FUNCTIONS),
    Term("signal_from", "", "choice", "From", "Where the signal arises.", axes=("signal",), choices=ENDS),
    Term("signal_to", "", "choice", "To", "Where the signal is acted on.", axes=("signal",), choices=ENDS),
    Term("signal_run", "", "reference", "Run", "Run of cables that carries the signal, or would if it were wired.", axes=("signal",), refers_to="control_run"),
    Term("signal_count", "n_s", "1", "Circuits in a run", "Circuits of this signal in one run; in a run from a set, those of one set.",
         **COUNT, axes=("signal",), low=1, high=500, default="1", source="one-signal"),
    Term("signal_cores", "c_s", "1", "Cores of a circuit", "Cores of one circuit.", **COUNT, axes=("signal",), low=1, high=12, default="2", source="one-signal"),
    Term("signal_path", "", "choice", "Path", "Whether the signal goes by wires of its own, by the network, or by both.",
         axes=("signal",), choices=("hard_wired", "network", "both"), default="hard_wired", source="signal-wired"),
    Term("signal_protective", "", "choice", "Protective", "Whether people or plant are at risk when the signal fails; by its function unless said. An emergency stop always is.",
         axes=("signal",), choices=("by_function", "yes", "no"), default="by_function", source="protection-on-wire"),
    Term("signal_current", "I_s", "A", "Circuit current", "Largest steady current of one circuit.", shown=("mA",), axes=("signal",), low=1e-6, high=20,
         default="20 mA", source="signal-current-usual"),
    Term("signal_rest", "", "choice", "At rest", "Whether the circuit carries its current while the plant waits; a loop that acts when it opens does.",
         axes=("signal",), choices=("idle", "energised"), default="idle", source="signal-at-rest"),
    Term("signal_points", "N_s", "1", "Circuits in the plant", "Circuits of this signal in all its runs.", **COUNT, axes=("signal",)),
    Term("signal_off_run", "e_s", "1", "Ends differ from the run", "One where the ends of the signal are not the ends of its run, else nought.", **COUNT, axes=("signal",)),
    Term("signal_off_run_max", "e_s,max", "1", "Ends that may differ", "A signal and its run go between the same two places.", **COUNT, default="0", source="definition", constant=True),
    Term("signal_protects", "p_s", "1", "Protective function", "One for a protective function, else nought.", **COUNT, axes=("signal",)),
    Term("signal_listed_wire", "w_s", "1", "Wires in the schedule", "One where the schedule gives the signal wires of its own.", **COUNT, axes=("signal",)),
    Term("signal_listed_network", "b_s", "1", "Network in the schedule", "One where the schedule puts the signal on the network.", **COUNT, axes=("signal",)),
    Term("signal_transformer", "t_s", "1", "Instrument transformer", "One for a circuit of an instrument transformer, which no network can replace.", **COUNT, axes=("signal",)),
    Term("protective_functions", "N_p", "1", "Protective functions", "Lines of the schedule that protect people or plant.", **COUNT),
    Term("plant_points", "N_sum", "1", "Circuits of the plant", "Circuits of all signals in all runs.", **COUNT),
)

WAYS = (
    Term("wiring_method", "", "choice", "Way of wiring",
         "Whether every signal has wires, each signal goes as the schedule says, or all that can goes by the network alone.",
         choices=("wired_throughout", "as_scheduled", "network_only"), default="as_scheduled", source="definition"),
    Term("way_wires_all", "δ_1", "1", "Way: wired throughout", "One for the way in which every signal has wires.", **COUNT, axes=WAY, default="1, 0, 0", source="definition", constant=True),
    Term("way_as_scheduled", "δ_2", "1", "Way: as the schedule says", "One for the way in which each signal goes as listed.", **COUNT, axes=WAY, default="0, 1, 0", source="definition", constant=True),
    Term("way_network_only", "δ_3", "1", "Way: network only", "One for the way in which only instrument transformers keep wires.", **COUNT, axes=WAY, default="0, 0, 1", source="definition", constant=True),
    Term("way_chosen", "δ", "1", "Way of the design", "One for the way that the project builds.", **COUNT, axes=WAY),
    Term("signal_wired", "w", "1", "Wired", "One where the signal has wires in this way.", **COUNT, axes=("signal", "wiring_way")),
    Term("signal_networked", "b", "1", "On the network", "One where the signal goes by the network in this way.", **COUNT, axes=("signal", "wiring_way")),
    Term("signal_wire", "w_d", "1", "Works without the network", "One where the signal has wires in the design, so that it works when the network is lost.", **COUNT, axes=("signal",)),
    Term("signal_unwired_protection", "u_s", "1", "Protection without wire", "One for a protective function that only the network carries.", **COUNT, axes=("signal",)),
    Term("unwired_protection", "u", "1", "Protective functions without wire", "Protective functions that are lost with the network.", **COUNT),
    Term("unwired_protection_max", "u_max", "1", "Protection that may be without wire", "No protective function may hang on the network alone.", **COUNT,
         default="0", source="protection-on-wire"),
    Term("way_unwired_protection", "u_w", "1", "Protective functions lost", "Protective functions that are lost with the network in this way.", **COUNT, axes=WAY),
    Term("way_kept_points", "N_k", "1", "Circuits kept", "Circuits that work on when the network is lost.", **COUNT, axes=WAY),
    Term("way_network_points", "N_b", "1", "Circuits on the network", "Circuits that the network carries.", **COUNT, axes=WAY),
    Term("kept_points", "N_k,d", "1", "Circuits kept in the design", "Circuits of the design that work on when the network is lost.", **COUNT),
    Term("emergency_stops", "N_es", "1", "Wired emergency stops", "Circuits of emergency stops that have wires.", **COUNT),
    Term("emergency_stops_min", "N_es,min", "1", "Least number of emergency stops", "Wired emergency stops of the plant.", **COUNT, low=1, high=100, default="1", source="emergency-stop"),
)

RUNS = (
    Term("control_run_from", "", "choice", "One end", "Place where the run begins.", axes=("control_run",), choices=ENDS),
    Term("control_run_to", "", "choice", "Other end", "Place where the run ends.", axes=("control_run",), choices=ENDS),
    Term("control_run_class", "", "choice", "Class of the run", "Circuits that the run carries; classes do not share cables.", axes=("control_run",), choices=CLASSES[:3],
         default="direct_control", source="separation-rule"),
    Term("control_run_length", "l", "m", "Length of the run", "Length of the cables from terminal to terminal; of the farthest set where there are several.",
         shown=("m", "ft"), axes=("control_run",), low=0.5, high=5000),
    Term("control_run_conductor", "", "choice", "Conductor", "Size of the cores of the run.", axes=("control_run",), choices=SIZES),
    Term("control_run_count", "N_r", "1", "Runs alike", "Equal runs in the plant: one for each set where an end is at a set.", **COUNT, axes=("control_run",), low=1, high=100, either=True),
    Term("control_run_number", "r", "1", "Number of the run", "Place of the run in its list.", **COUNT, axes=("control_run",)),
    Term("control_run_transformer", "t_r", "1", "Run of instrument transformers", "One for a run of instrument transformers.", **COUNT, axes=("control_run",)),
    Term("control_run_at_set", "s_r", "1", "Run at a set", "One where an end of the run is at a set, whose battery feeds it.", **COUNT, axes=("control_run",)),
    Term("control_conductor_table", "", "choice", "Table of control conductors", "Table of resistance and size of cores.", table="control_conductor",
         default="control-conductors-metric", source="control-conductors-metric"),
    Term("control_conductor_temperature", "T_c", "K", "Temperature of control conductors", "Temperature for which their resistance is taken.",
         shown=("degC", "degF"), kind="temperature", low=253.15, high=363.15, default="40 degC", source="control-ambient"),
    Term("control_run_resistance", "R′", "ohm/m", "Resistance of a core", "Resistance per length at the temperature taken.", shown=("ohm/km", "ohm/kft"), axes=("control_run",)),
    Term("control_run_core_area", "a_c", "m^2", "Area of a core", "Area over the insulation.", shown=("mm^2", "in^2"), axes=("control_run",)),
    Term("control_run_core_diameter", "d_c", "m", "Diameter of a core", "Diameter over the insulation.", shown=("mm", "in"), axes=("control_run",)),
)

CABLES = (
    Term("control_spare", "s", "1", "Spare cores", "Cores laid beyond those in use, as a share of them.", shown=("%",), low=0, high=1, default="20 %", source="control-spare"),
    Term("control_cable_form", "", "choice", "Form of the cables", "Whether cores are laid as multi-core cables or as single conductors drawn into conduit.",
         choices=("multicore", "conductors"), default="multicore", source="definition"),
    Term("control_cable_cores_max", "n_max", "1", "Largest cable", "Most cores that the project puts into one cable.", **COUNT, low=2, high=61, default="37", source="cable-cores-usual"),
    Term("control_run_cores", "c", "1", "Cores in use", "Cores of the wired signals of one run.", **COUNT, axes=RUN_WAY),
    Term("control_run_cores_spare", "C", "1", "Cores with spares", "Cores in use and spares of one run.", **COUNT, axes=RUN_WAY),
    Term("control_run_cables", "n", "1", "Cables", "Multi-core cables of one run; none where conductors are drawn singly.", **COUNT, axes=RUN_WAY),
    Term("control_run_cable_cores", "n_c", "1", "Cores of a cable", "Next standard number of cores.", **COUNT, axes=RUN_WAY),
    Term("control_run_cores_laid", "C_l", "1", "Cores laid", "Cores of one run as bought.", **COUNT, axes=RUN_WAY),
    Term("control_run_bundle_diameter", "D_b", "m", "Diameter over the covering", "Diameter of the laid-up cores with their inner covering.", shown=("mm", "in"), axes=RUN_WAY),
    Term("control_run_cable_diameter", "D", "m", "Diameter of a cable", "Diameter over the sheath.", shown=("mm", "in"), axes=RUN_WAY),
    Term("control_run_pieces", "m", "1", "Pieces", "Cables, or conductors drawn singly, of one run.", **COUNT, axes=RUN_WAY),
    Term("control_run_piece_area", "a_1", "m^2", "Area of a piece", "Area of a cable over its sheath, or of a conductor over its insulation.", shown=("mm^2", "in^2"), axes=RUN_WAY),
    Term("control_run_fill_area", "a_f", "m^2", "Area filled", "Area of all pieces in the fullest conduit of the run.", shown=("mm^2", "in^2"), digits=4, axes=RUN_WAY),
    Term("control_conduit_table", "", "choice", "Conduits or trunking", "Sizes that the project uses, by internal area.", table="control_conduit"),
    Term("control_conduit_fill_max", "f_max", "1", "Fill allowed", "Share of the internal area that may be filled.", shown=("%",), low=0.05, high=0.8, default="40 %", source="nec-ch9-table-1"),
    Term("control_conduit_area_max", "a_max", "m^2", "Largest conduit", "Internal area of the largest conduit or trunking that the project lays for controls.",
         shown=("mm^2", "in^2"), digits=4, low=5e-5, high=0.1, default="3.356 in^2", source="control-conduit-usual"),
    Term("control_conduit_holds", "m_1", "1", "Pieces in a conduit", "Most pieces that the largest conduit may hold.", **COUNT, axes=RUN_WAY),
    Term("control_run_conduits", "k", "1", "Conduits", "Conduits or trunkings of one run.", **COUNT, axes=RUN_WAY),
    Term("control_run_conduit_area", "a_k", "m^2", "Area of a conduit", "Internal area of the size that fits.", shown=("mm^2", "in^2"), digits=4, axes=RUN_WAY),
    Term("control_run_conduit_size", "d_k", "m", "Size of conduit", "Trade size of tubing, or side of square trunking; nought where nothing is laid.", shown=("mm", "in"), axes=RUN_WAY),
    Term("control_run_fill", "f", "1", "Fill", "Area filled over internal area, in the fullest conduit.", shown=("%",), axes=RUN_WAY),
)

COST = (
    Term("control_core_price", "c_c", "cur/m", "Price of a core", "Cable by the core and metre, bought.", low=0, optional=True, shown=("cur/m", "cur/ft")),
    Term("control_cable_price", "c_l", "cur/m", "Price of laying", "Laying one cable, or the conductors of one conduit, by the metre.", low=0, optional=True, shown=("cur/m", "cur/ft")),
    Term("control_conduit_price", "c_k", "cur/m", "Price of conduit", "Conduit or trunking by the metre, with bends and supports.", low=0, optional=True, shown=("cur/m", "cur/ft")),
    Term("control_termination_price", "c_t", "cur", "Price of a termination", "One end of a core: stripped, ferruled, marked, connected, rung out.", low=0, optional=True),
    Term("network_cables", "n_b", "1", "Network cables", "Cables by separate ways.", **COUNT, low=1, high=4, default="2", source="network-usual"),
    Term("network_length", "l_b", "m", "Length of the network", "Length of one network cable past all its stations.", shown=("m", "ft"), low=1, high=20_000, optional=True),
    Term("network_stations", "N_st", "1", "Stations", "Places with a switch or gateway.", **COUNT, low=2, high=200, either=True),
    Term("network_cable_price", "c_b", "cur/m", "Price of network cable", "Twisted pair or fibre in a conduit of its own, laid, by the metre.", low=0, optional=True, shown=("cur/m", "cur/ft")),
    Term("network_station_price", "c_st", "cur", "Price of a station", "Switch, gateway, programming and test of one station.", low=0, optional=True),
    Term("control_run_cost", "K_r", "cur", "Cost of the runs", "Cables, conduits and terminations of all runs alike.", axes=RUN_WAY, digits=4),
    Term("way_cores", "C_w", "1", "Cores", "Cores with spares of all runs.", **COUNT, axes=WAY),
    Term("way_core_length", "L_w", "m", "Length of cores", "Cores laid times length of all runs.", shown=("km", "kft"), axes=WAY, digits=4),
    Term("way_cables", "n_w", "1", "Multi-core cables", "Cables of all runs.", **COUNT, axes=WAY),
    Term("way_conduits", "k_w", "1", "Conduits or trunkings", "Conduits of all runs, without those of the network.", **COUNT, axes=WAY),
    Term("way_networked", "b_w", "1", "Network built", "One where any signal needs the network.", **COUNT, axes=WAY),
    Term("way_network_cost", "K_b", "cur", "Cost of the network", "Cables and stations.", axes=WAY, digits=4),
    Term("way_cost", "K_w", "cur", "First cost", "Runs and network together.", axes=WAY, digits=4),
    Term("control_cores", "C_d", "1", "Cores of the design", "Cores with spares of all runs.", **COUNT),
    Term("control_conduits", "k_d", "1", "Conduits of the design", "Conduits or trunkings of all runs.", **COUNT),
    Term("control_conduits_max", "k_d,max", "1", "Conduits that there is room for", "Conduits or trunkings for which walls and ceilings have room.", **COUNT, low=0, high=1000, optional=True),
    Term("control_cost", "K_d", "cur", "Cost of the design", "First cost of the way that is built.", digits=4),
    Term("control_saving", "ΔK", "cur", "Saved against wires throughout", "First cost of wires throughout less that of the design.", digits=4),
)

CIRCUITS = (
    Term("control_voltage", "U", "V", "Control voltage", "Nominal voltage of the control circuits; that of the starting battery unless given.", shown=("V",), low=6, high=250, either=True),
    Term("signal_drop", "ΔU_s", "V", "Voltage drop", "Drop there and back; nought where the circuit has no wires, or is of an instrument transformer.", shown=("V",), axes=("signal",)),
    Term("signal_drop_ratio", "ε_s", "1", "Relative drop", "Drop over control voltage.", shown=("%",), axes=("signal",)),
    Term("control_drop_ratio_max", "ε_max", "1", "Drop allowed", "Drop over control voltage that is allowed in a control circuit.", shown=("%",), low=0.005, high=0.3,
         default="10 %", source="control-drop"),
    Term("control_run_current", "I_r", "A", "Largest circuit current", "Largest current of a control circuit of the run; none in a run of instrument transformers.", shown=("mA",), axes=("control_run",)),
    Term("control_run_length_max", "l_max", "m", "Longest length", "Length at which the largest circuit current uses up the drop allowed.", shown=("m", "ft"), axes=("control_run",)),
)

BATTERY = (
    Term("controller_current", "I_ctl", "A", "Current of the set's controls", "Controller, governor and panel of one set at rest.", shown=("A",), low=0, high=100, default="2.5 A", source="controller-load"),
    Term("network_station_current", "I_st", "A", "Current of a station", "Switch and gateway of one station.", shown=("A",), low=0, high=20, default="0.3 A", source="network-load"),
    Term("signal_standing_current", "I_s,0", "A", "Standing current of the signal", "What the circuits of one set draw from its battery at rest.", shown=("A",), axes=("signal",)),
    Term("design_networked", "b_d", "1", "Network in the design", "One where the design has a network.", **COUNT),
    Term("control_standing_current", "I_0,c", "A", "Standing current of the controls", "What controls, loops and network of one set draw from its battery all the time.", shown=("A",)),
    Term("control_battery_time", "t_c", "s", "Time without charger", "Time for which the controls must live on the battery alone.", shown=("h",), low=600, high=2_592_000,
         default="8 h", source="control-battery-time"),
    Term("control_battery_charge", "Q_c", "A*s", "Charge for the controls", "What the controls of one set draw in that time.", shown=("Ah",)),
    Term("control_battery_charge_max", "Q_c,max", "A*s", "Charge kept for the controls", "What the battery of one set may give to the controls and still crank.", shown=("Ah",), low=0, optional=True),
)

CURRENT_TRANSFORMERS = (
    Term("ct_run", "", "reference", "Run", "Run that carries the secondary circuit.", axes=("current_transformer",), refers_to="control_run"),
    Term("ct_primary_current", "I_pr", "A", "Rated primary current", "Rated primary current.", shown=("A",), axes=("current_transformer",), low=1),
    Term("ct_secondary_current", "I_sr", "A", "Rated secondary current", "Rated secondary current.", shown=("A",), axes=("current_transformer",), low=0.5, high=10),
    Term("ct_connection", "", "choice", "Connection", "Whether each lead has its own return, or a balanced star shares one.", axes=("current_transformer",), choices=("loop", "star"),
         default="loop", source="ct-lead"),
    Term("ct_star_factor", "k_*", "1", "Lead factor of a star", "Lengths of lead that count in a balanced star with a common return.", shown=("1",), low=1, high=2, default="1.2", source="ct-lead"),
    Term("ct_device_burden", "S_dev", "VA", "Burden of the devices", "Apparent power of relays and meters at rated secondary current.", shown=("VA",), kind=S, axes=("current_transformer",), low=0),
    Term("ct_rated_burden", "S_r", "VA", "Rated burden", "Burden for which accuracy is declared.", shown=("VA",), kind=S, axes=("current_transformer",), low=0.1),
    Term("ct_limit_factor", "ALF", "1", "Accuracy limit factor", "Multiple of rated current up to which the error stays in its class at rated burden.", shown=("1",), axes=("current_transformer",), low=1, high=100),
    Term("ct_winding_resistance", "R_ct", "ohm", "Resistance of the winding", "Secondary winding at its working temperature.", shown=("ohm",), axes=("current_transformer",), low=0),
    Term("ct_lead_resistance", "R_L", "ohm", "Resistance of the leads", "Resistance of the secondary circuit outside transformer and devices.", shown=("ohm",), axes=("current_transformer",)),
    Term("ct_burden", "S_b", "VA", "Burden", "Apparent power of leads and devices at rated secondary current.", shown=("VA",), digits=4, kind=S, axes=("current_transformer",)),
    Term("ct_effective_limit_factor", "ALF′", "1", "Effective accuracy limit factor", "Accuracy limit factor at the burden that is there.", shown=("1",), axes=("current_transformer",)),
    Term("ct_fault_current", "I_k", "A", "Largest current", "Largest current for which the relay must still measure.", shown=("kA",), axes=("current_transformer",), low=0, optional=True),
    Term("ct_limit_factor_needed", "ALF_need", "1", "Limit factor needed", "Largest current over rated primary current, or more if the relay asks for it.", shown=("1",), axes=("current_transformer",), low=0, either=True),
)

VOLTAGE_TRANSFORMERS = (
    Term("vt_run", "", "reference", "Run of the voltage lead", "Run that carries the secondary circuit.", axes=("voltage_transformer",), refers_to="control_run"),
    Term("vt_secondary_voltage", "U_sr", "V", "Rated secondary voltage", "Secondary voltage between phases.", shown=("V",), axes=("voltage_transformer",), low=50, high=600),
    Term("vt_burden", "S_v", "VA", "Burden of the voltage circuit", "Apparent power of all devices on the three phases.", shown=("VA",), kind=S, axes=("voltage_transformer",), low=0),
    Term("vt_rated_burden", "S_v,r", "VA", "Rated burden of the voltage transformer", "Three-phase burden for which accuracy is declared.", shown=("VA",), kind=S, axes=("voltage_transformer",), low=0.1),
    Term("vt_current", "I_v", "A", "Current of the voltage lead", "Current of a phase of the secondary circuit.", shown=("mA",), axes=("voltage_transformer",)),
    Term("vt_drop", "ΔU_v", "V", "Drop of the voltage lead", "Drop between phases along the secondary circuit.", shown=("mV",), axes=("voltage_transformer",)),
    Term("vt_drop_ratio", "ε_v", "1", "Relative drop of the voltage lead", "Drop over secondary voltage.", shown=("%",), axes=("voltage_transformer",)),
    Term("vt_drop_ratio_max", "ε_v,max", "1", "Drop of a voltage lead allowed", "Drop over secondary voltage that is allowed.", shown=("%",), low=1e-4, high=0.05, default="0.5 %", source="vt-drop-limit"),
)

SEPARATION = (
    Term("separation_first", "", "choice", "Circuits", "Class on one side.", axes=("separation",), choices=CLASSES),
    Term("separation_second", "", "choice", "Kept from", "Class on the other side.", axes=("separation",), choices=CLASSES),
    Term("separation_distance", "x", "m", "Distance", "Least clear distance as drawn, or that which a barrier stands for.", shown=("mm", "in"), axes=("separation",), low=0, high=20),
    Term("separation_distance_min", "x_min", "m", "Least distance", "Least distance by the project's code and the makers of the devices.", shown=("mm", "in"), axes=("separation",), low=0, high=20, optional=True),
)

TERMS = (*SIGNALS, *WAYS, *RUNS, *CABLES, *COST, *CIRCUITS, *BATTERY, *CURRENT_TRANSFORMERS, *VOLTAGE_TRANSFORMERS, *SEPARATION)
