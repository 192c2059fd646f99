"""Terms of earthing: the neutral and what limits its current, charging current, protective conductors and the earth electrode."""

from basis.terms import Term

NEUTRAL = (
    Term("neutral_earthing", "", "choice", "Earthing of the neutral", "Whether the neutral of the sets is earthed solidly, through a low, or through a high resistance.",
         choices=("solid", "low_resistance", "high_resistance")),
    Term("neutral_closed", "", "choice", "Which neutrals are closed",
         "With several sets running: the neutral of one set is earthed, all neutrals meet on a bar that is earthed once, each set has its own earth, or the neutral is earthed at the supply only.",
         choices=("one_set", "common_bar", "each_set", "at_supply"), default="one_set", source="one-neutral-closed"),
    Term("supply_neutral", "", "choice", "Neutral of the supply", "Whether the neutral of the public supply is switched away from that of the sets, or stays joined to it.",
         choices=("switched", "joined"), default="switched", source="separately-derived"),
    Term("phase_voltage", "U_ph", "V", "Phase voltage", "Voltage from phase to neutral.", shown=("V",), digits=4),
    Term("negative_sequence_reactance", "x_2", "1", "Negative-sequence reactance", "On the rating of the alternator.", shown=("%",), low=0.03, high=0.8, default="15 %", source="alternator-sequence-usual"),
    Term("zero_sequence_reactance", "x_0", "1", "Zero-sequence reactance", "On the rating of the alternator.", shown=("%",), low=0.002, high=0.5, default="5 %", source="alternator-sequence-usual"),
    Term("alternator_base_impedance", "Z_G", "ohm", "Base impedance of the alternator", "Square of the generating voltage over the rating.", shown=("ohm",), digits=4),
    Term("neutrals_in_parallel", "n_N", "1", "Neutrals in parallel", "Star points that are joined to the earthed neutral.", shown=("1",), digits=4, axes=("running_case",)),
    Term("earthed_sets", "n_E", "1", "Earth connections of the sets", "Connections from the neutral of the sets to earth that are closed.", shown=("1",), digits=4, axes=("running_case",)),
    Term("neutral_bonds", "n_B", "1", "Connections of the neutral to earth", "Those of the sets and, if its neutral stays joined, that of the supply.",
         shown=("1",), digits=4, axes=("running_case",)),
    Term("neutral_bonds_min", "n_B,min", "1", "Least number of connections", "A neutral without earth floats.", shown=("1",), digits=4, default="1", source="earthed-once", constant=True),
    Term("neutral_bonds_max", "n_B,max", "1", "Connections allowed", "Further ones carry neutral current through earth and hide faults from relays.",
         shown=("1",), digits=4, low=1, high=32, default="1", source="earthed-once"),
)

FAULT = (
    Term("positive_reactance", "X_1", "ohm", "Positive-sequence reactance", "Of the running sets together.", shown=("ohm",), digits=4, axes=("running_case",)),
    Term("negative_reactance", "X_2", "ohm", "Negative-sequence reactance, in ohms", "Of the running sets together.", shown=("ohm",), digits=4, axes=("running_case",)),
    Term("zero_reactance", "X_0", "ohm", "Zero-sequence reactance, in ohms", "Of the sets whose neutral is closed.", shown=("ohm",), digits=4, axes=("running_case",)),
    Term("three_phase_terminal_current", "I_3φ", "A", "Three-phase fault at the terminals", "Of the running sets alone, without voltage factor.", shown=("A",), digits=4, axes=("running_case",)),
    Term("solid_earth_fault_current", "I_1φ,0", "A", "Earth fault with the neutral earthed solidly", "At the terminals of the running sets alone, without any resistor.",
         shown=("A",), digits=4, axes=("running_case",)),
    Term("solid_earth_fault_ratio", "ρ_φ", "1", "Earth fault over three-phase fault", "Of solidly earthed sets; above one the winding bears more than it is braced for.",
         shown=("1",), axes=("running_case",)),
    Term("neutral_resistor_current", "I_R", "A", "Current of the neutral resistor", "Current that the resistor lets through at phase voltage.", shown=("A",), low=0.1, high=3000, optional=True),
    Term("neutral_resistance", "R_N", "ohm", "Neutral resistance", "Of one resistor; nought if the neutral is earthed solidly.", shown=("ohm",), digits=4, low=0, either=True),
    Term("earth_fault_current", "I_1φ", "A", "Earth-fault current", "Bolted fault of one phase at the terminals, the neutral earthed as designed.", shown=("A",), digits=4, axes=("running_case",)),
    Term("earth_fault_current_max", "I_1φ,max", "A", "Earth-fault current allowed", "By the class of earthing; for a solid neutral, the three-phase current for which the windings are braced.",
         shown=("A",), digits=4, axes=("running_case",)),
    Term("earth_relay_pickup", "I_E,set", "A", "Setting of the earth-fault relay", "Current at which the earth-fault relay of the sets starts.", shown=("A",), low=0.01, optional=True),
    Term("earth_fault_clearing_time", "t_E", "s", "Clearing time of an earth fault", "Longest time in which protection clears an earth fault, or somebody finds it where it may stay.",
         shown=("s",), low=0.01, high=864_000, optional=True),
    Term("earth_fault_time_max", "t_E,max", "s", "Time allowed for an earth fault", "That of the resistor; without one, the time in which a distribution circuit must be disconnected.", shown=("s",)),
    Term("disconnection_time", "t_dis", "s", "Disconnection time", "Longest time in which a distribution circuit with a solid neutral is disconnected.", shown=("s",), low=0.02, high=5,
         default="5 s", source="iec-60364-4-41"),
)

RESISTOR = (
    Term("neutral_resistor_time", "t_R", "s", "Time of the neutral resistor", "Time for which the resistor is rated at its full current.", shown=("s",), low=1, high=864_000,
         default="10 s", source="neutral-resistor-practice"),
    Term("neutral_resistor_power", "P_R", "W", "Power of the neutral resistor", "While it carries its full current.", shown=("kW",), kind="active power", digits=4),
    Term("neutral_resistor_energy", "E_R", "J", "Energy of the neutral resistor", "Heat that it takes up in its rated time.", shown=("MJ",), kind="energy", digits=4),
    Term("neutral_device", "", "choice", "What stands in the neutral", "A resistor in the neutral itself, or one on the secondary side of an earthing transformer.",
         choices=("resistor", "transformer"), default="resistor", source="neutral-resistor-practice"),
    Term("neutral_transformer_voltage", "U_2", "V", "Secondary voltage of the earthing transformer", "Rated secondary voltage of the distribution transformer in the neutral.",
         shown=("V",), low=50, high=1000, optional=True),
    Term("neutral_transformer_ratio", "N_T", "1", "Ratio of the earthing transformer", "Phase voltage over secondary voltage.", shown=("1",), digits=4),
    Term("neutral_secondary_resistance", "R_2", "ohm", "Resistance on the secondary side", "What acts as the neutral resistance, seen through the earthing transformer.", shown=("ohm",)),
    Term("neutral_transformer_power", "S_T", "VA", "Rating of the earthing transformer", "Continuous; a short-time rating may be less.", shown=("kVA",), kind="apparent power"),
)

CHARGING = (
    Term("capacitance_per_length", "C′", "F/m", "Capacitance per length", "From a conductor to its screen, or to earth.", shown=("uF/km", "uF/kft"), axes=("capacitance_item",), low=0, optional=True),
    Term("capacitance_length", "l_C", "m", "Length", "Length of the cable at the generating voltage.", shown=("m", "ft"), axes=("capacitance_item",), low=0, optional=True),
    Term("capacitance_count", "n_C", "1", "Number alike", "Cables in parallel, or machines alike.", shown=("1",), digits=4, axes=("capacitance_item",), low=1, high=1000,
         default="1", source="one-of-each"),
    Term("capacitance_each", "C_i", "F", "Capacitance of each", "From one phase to earth.", shown=("uF",), axes=("capacitance_item",), low=0, either=True),
    Term("network_capacitance", "C_0", "F", "Capacitance to earth", "Of one phase, all that is joined by metal at the generating voltage.", shown=("uF",)),
    Term("charging_current", "I_C", "A", "Charging current", "Capacitive current of a bolted earth fault.", shown=("A",)),
    Term("charging_current_allowed", "I_C,max", "A", "Charging current allowed", "What the current through the neutral must at least match, so that no voltage builds up; ten amperes at most with a high resistance.", shown=("A",)),
)

HARMONIC = (
    Term("winding_pitch", "y_w", "1", "Pitch of the winding", "Span of a coil over that of a pole.", shown=("1",), digits=4, low=0.5, high=1, default="0.6667", source="two-thirds-pitch"),
    Term("third_harmonic_pitch_factor", "k_p3", "1", "Pitch factor of the third harmonic", "Share of the third harmonic of the field that appears in the winding.", shown=("1",)),
    Term("third_harmonic_voltage", "e_3", "1", "Third harmonic of the field", "Third harmonic that a full-pitch winding would have in its phase voltage.", shown=("%",), low=0, high=0.3,
         default="5 %", source="third-harmonic-usual"),
    Term("third_harmonic_current", "I_3h", "A", "Third-harmonic current in a neutral", "Between sets whose neutrals are joined, if one of them makes the third harmonic and the others do not.",
         shown=("A",), axes=("running_case",)),
    Term("third_harmonic_ratio", "x_3h", "1", "Third-harmonic current over rated current", "In the neutral of one set.", shown=("%",), axes=("running_case",)),
    Term("third_harmonic_ratio_max", "x_3h,max", "1", "Third-harmonic current allowed", "What the maker of the alternator allows in the neutral without derating.", shown=("%",), low=0, high=1, optional=True),
)

CONDUCTORS = (
    Term("protective_conductor_current", "I_PE", "A", "Fault current of the protective conductor", "Largest earth-fault current that it may carry; that of the sets unless given.",
         shown=("kA",), axes=("protective_conductor",), low=0, either=True),
    Term("protective_conductor_time", "t_PE", "s", "Clearing time of the protective conductor", "Time in which protection clears that fault; that of the sets unless given.",
         shown=("s",), axes=("protective_conductor",), low=0.01, high=5, either=True),
    Term("protective_conductor_size", "", "text", "Size of the protective conductor", "Size as the conductor table prints it.", axes=("protective_conductor",), default="", source="project"),
    Term("protective_conductor_parallel", "n_PE", "1", "Conductors in parallel", "Equal protective conductors in parallel.", shown=("1",), digits=4, axes=("protective_conductor",),
         low=1, high=50, default="1", source="one-of-each"),
    Term("protective_conductor_area", "A_PE", "m^2", "Area of the protective conductor", "Cross-section of one; from the conductor table unless given.",
         shown=("mm^2", "kcmil"), digits=4, axes=("protective_conductor",), low=1e-7, either=True),
    Term("protective_conductor_total_area", "A_PE,tot", "m^2", "Area of all in parallel", "Cross-section that carries the fault.", shown=("mm^2", "kcmil"), digits=4, axes=("protective_conductor",)),
    Term("protective_initial_temperature", "T_i", "K", "Temperature before the fault", "Of the protective conductor.", shown=("degC", "degF"), kind="temperature",
         axes=("protective_conductor",), low=233.15, high=393.15, default="30 degC", source="iec-60364-5-54"),
    Term("protective_final_temperature", "T_f", "K", "Temperature after the fault", "What the insulation, or what the bare conductor touches, bears.", shown=("degC", "degF"), kind="temperature",
         axes=("protective_conductor",), low=373.15, high=773.15, default="160 degC", source="iec-60364-5-54"),
    Term("protective_factor", "k_PE", "A*s^0.5/m^2", "Factor of the protective conductor", "Current density that it bears for one second.", shown=("A*s^0.5/mm^2",), digits=4, axes=("protective_conductor",)),
    Term("protective_area_needed", "A_PE,min", "m^2", "Area needed", "Least cross-section that bears the fault.", shown=("mm^2", "kcmil"), digits=4, axes=("protective_conductor",)),
)

ELECTRODE = (
    Term("earth_electrode_resistance", "R_E", "ohm", "Resistance of the earth electrode", "Of the plant's earth grid, as designed or measured.", shown=("ohm",), low=0.001, high=500, optional=True),
    Term("earth_return_share", "s_E", "1", "Share through soil", "Share of the earth-fault current that returns through soil; screens, armour and protective conductors carry the rest.",
         shown=("%",), low=0, high=1, default="100 %", source="all-through-soil"),
    Term("earth_potential_rise", "U_E", "V", "Rise of earth potential", "Voltage of the earth grid against far soil during an earth fault.", shown=("V",)),
    Term("touch_voltage_permissible", "U_Tp", "V", "Permissible touch voltage", "For the clearing time, bare-handed and without footwear counted.", shown=("V",)),
    Term("earth_potential_rise_max", "U_E,max", "V", "Rise of earth potential allowed", "Up to it touch voltages need no further proof.", shown=("V",), low=0, either=True),
)

TERMS = NEUTRAL + FAULT + RESISTOR + CHARGING + HARMONIC + CONDUCTORS + ELECTRODE
