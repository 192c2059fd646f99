"""Terms of the cables as installed: current and capacity, short circuit, drop, bends, pulling, conduits and supports. One item a cable."""

from basis.terms import Term

ONE, AREA, METRE = {"shown": ("1",)}, {"shown": ("mm^2", "kcmil"), "digits": 4}, {"shown": ("m", "ft")}
COUNT = {"shown": ("1",), "digits": 4}
AMPERE = {"shown": ("A",), "digits": 4}
WARMTH = {"shown": ("degC", "degF"), "kind": "temperature"}
PER_LENGTH = {"shown": ("ohm/km", "ohm/kft")}
FORCE, LINE_LOAD = {"shown": ("kN", "lbf")}, {"shown": ("N/m", "lbf/ft")}
CABLE, PULL, RUN, SUPPORT = ({"axes": (axis,)} for axis in ("cable", "pull_section", "conduit_run", "cable_support"))

MAKE = (
    Term("cable_bus", "", "reference", "Bus that feeds the cable", "Its voltage and its fault current are those of the cable.", **CABLE, refers_to="bus", optional=True),
    Term("cable_voltage", "U", "V", "Voltage of the cable", "Nominal voltage between phases; that of its bus, or the generating voltage if it names none.",
         shown=("V",), digits=5, **CABLE, low=10, high=60_000, either=True),
    Term("cable_system", "", "choice", "System", "Three phases, or two wires: single-phase or direct current.", **CABLE,
         choices=("three_phase", "two_wire"), default="three_phase", source="cable-usual"),
    Term("cable_material", "", "choice", "Metal", "Metal of the conductors.", **CABLE, choices=("copper", "aluminium"), default="copper", source="cable-usual"),
    Term("cable_type", "", "choice", "Cores", "Whether a circuit is made of single-core cables or is one three-core cable.", **CABLE,
         choices=("single_core", "three_core"), default="single_core", source="cable-usual"),
    Term("cable_surroundings", "", "choice", "Surroundings", "Whether the cable lies in air or in the ground, conduits and ducts included.", **CABLE,
         choices=("air", "ground"), default="air", source="cable-usual"),
    Term("cable_size", "", "text", "Conductor size", "Size of a phase conductor as the tables print it.", **CABLE),
    Term("cable_conductor_table", "", "choice", "Conductor table of the cable", "Table of area and resistance; that of the project unless given.", **CABLE,
         table="conductor", optional=True),
    Term("cable_ampacity_table", "", "choice", "Ampacity table of the cable", "Table of current-carrying capacity for its make and laying.", **CABLE, table="ampacity"),
    Term("cable_conductor_area", "A", "m^2", "Area of a conductor", "Cross-section of one phase conductor.", **AREA, **CABLE),
    Term("cable_diameter", "D_e", "m", "Diameter over the sheath", "Of one single-core cable, or of the three-core cable.", shown=("mm", "in"), **CABLE,
         low=1e-3, high=0.2, optional=True),
    Term("cable_length", "l", "m", "Length", "Route length of the cable.", **METRE, **CABLE, low=0.1, high=50_000),
)

CURRENT = (
    Term("cable_current_from", "", "choice", "Whose current", "Where the working current comes from: the project, a set, a transformer or a load.", **CABLE,
         choices=("given", "set", "transformer", "load"), default="given", source="project"),
    Term("cable_transformer", "", "reference", "Transformer served", "Transformer whose rated current the cable carries.", **CABLE, refers_to="transformer", optional=True),
    Term("cable_load", "", "reference", "Load served", "Load whose demand the cable carries.", **CABLE, refers_to="load", optional=True),
    Term("cable_current", "I_B", "A", "Working current", "Line current of the circuit, all parallel conductors together.", **AMPERE, **CABLE, low=0, high=20_000, either=True),
    Term("cable_current_margin", "k_B", "1", "Margin on the working current",
         "What the code adds: 1.15 between a set and its first circuit-breaker, 1.25 for continuous load in some codes, else 1.", **COUNT, **CABLE, low=1, high=2, either=True),
    Term("cable_design_current", "I_b", "A", "Design current", "Current for which the cable is chosen.", **AMPERE, **CABLE),
    Term("cable_power_factor", "λ", "1", "Power factor", "Of the working current, lagging; that of the load or of the sets unless given.", **ONE, **CABLE, low=0.05, high=1, either=True),
)

CAPACITY = (
    Term("cable_tabulated_ampacity", "I_t", "A", "Ampacity by table", "At the conditions of the table.", **AMPERE, **CABLE),
    Term("cable_rated_temperature", "T_c", "K", "Conductor temperature of the table", "For which the ampacity is printed.", **WARMTH, **CABLE),
    Term("cable_table_temperature", "T_t", "K", "Reference ambient of the table", "For which the ampacity is printed.", **WARMTH, **CABLE),
    Term("cable_ambient_temperature", "T_a", "K", "Ambient of the cable", "Hottest air or earth along its run.", **WARMTH, **CABLE, low=253.15, high=343.15),
    Term("cable_ambient_rule", "", "choice", "Rule for the ambient", "Whether the factor is computed or read from a printed table.", **CABLE,
         choices=("formula", "table"), default="formula", source="nec-310-15-b"),
    Term("cable_ambient_table", "", "choice", "Table of ambient factors of the cable", "Printed factors for the ambient.", **CABLE, table="ambient_factor", optional=True),
    Term("cable_ambient_factor", "k_T", "1", "Ambient factor of the cable", "Ampacity in its ambient over that of the table.", **ONE, **CABLE, low=0, high=2, either=True),
    Term("cable_circuits", "n_g", "1", "Circuits together", "Circuits that lie together, this one and its parallels counted.", **COUNT, **CABLE, low=1, high=100,
         default="1", source="cable-usual"),
    Term("cable_loaded_conductors", "m_l", "1", "Loaded conductors of a circuit of the cable", "Conductors of a circuit that carry current all the time.", **COUNT, **CABLE,
         low=1, high=4, default="3", source="nec-310-15-e"),
    Term("cable_grouping_table", "", "choice", "Grouping table of the cable", "Table of grouping factors for its way of laying.", **CABLE, table="grouping", optional=True),
    Term("cable_grouping_count", "N_g", "1", "Count for the grouping table of the cable", "Circuits or conductors with which the table is entered.", **COUNT, **CABLE),
    Term("cable_grouping_factor", "k_g", "1", "Grouping factor of the cable", "Ampacity in the group over that of a circuit alone.", **ONE, **CABLE, low=0, high=1, either=True),
    Term("soil_resistivity", "ρ_S", "K*m/W", "Thermal resistivity of the soil", "Driest state of the soil round buried cables.", shown=("K*m/W",), low=0.3, high=5,
         default="2.5 K*m/W", source="iec-60364-5-52-soil"),
    Term("cable_table_soil", "ρ_t", "K*m/W", "Soil of the ampacity table", "Thermal resistivity for which the ampacity is printed; nought for tables in air.", shown=("K*m/W",), **CABLE),
    Term("cable_depth", "L", "m", "Depth", "From the surface to the axis of a buried cable.", **METRE, **CABLE, low=0.2, high=10, default="0.8 m", source="depth-usual"),
    Term("cable_inner_resistance", "R_i", "K*m/W", "Thermal resistance within", "From conductor to soil: insulation, screens, jacket, and duct if there is one.", shown=("K*m/W",), **CABLE,
         low=0, high=5, default="0.5 K*m/W", source="inner-thermal-usual"),
    Term("cable_soil_shape", "g_S", "1", "Shape of the soil's resistance", "Thermal resistance of the soil for the losses of all three conductors, over its resistivity.", **ONE, **CABLE),
    Term("cable_soil_factor", "k_S", "1", "Soil factor", "Ampacity in this soil over that in the soil of the table; one in air.", **ONE, **CABLE, low=0, high=2, either=True),
    Term("cable_derated_ampacity", "I_d", "A", "Derated ampacity of the cable", "Of one conductor, in its ambient, group and soil.", **AMPERE, **CABLE),
    Term("cable_termination_limit", "", "choice", "Limit of the terminations of the cable", "Whether lugs and terminals hold the conductor to a cooler column of the table.", **CABLE,
         choices=("termination_table", "not_limiting"), default="not_limiting", source="cable-usual"),
    Term("cable_termination_table", "", "choice", "Ampacity table of its terminations", "Ampacity at the temperature for which the terminals are marked.", **CABLE, table="ampacity", optional=True),
    Term("cable_termination_ampacity", "I_T", "A", "Ampacity by terminations of the cable", "Largest current of a conductor that its terminals allow.", **AMPERE, **CABLE),
    Term("cable_conductor_capacity", "I_z", "A", "Capacity of a conductor of the cable", "As laid and as terminated.", **AMPERE, **CABLE),
    Term("cable_parallel_needed", "n_b", "1", "Conductors needed in parallel", "Least number of equal conductors a phase that carries the design current.", **COUNT, **CABLE),
    Term("cable_parallel", "n", "1", "Conductors in parallel", "Equal conductors of each phase; as many as needed unless given.", **COUNT, **CABLE, low=1, high=100, either=True),
    Term("cable_capacity", "I_Z", "A", "Capacity of the cable", "All parallel conductors of a phase together.", **AMPERE, **CABLE),
    Term("cable_loading", "β", "1", "Loading", "Design current over capacity.", shown=("%",), **CABLE),
)

FAULT = (
    Term("adiabatic_rule", "", "choice", "Rule for short circuit", "Whose equation gives the heating of the conductor.", choices=("iec_60949", "icea_p_32_382"),
         default="iec_60949", source="iec-60949"),
    Term("aluminium_adiabatic_constant", "K_Al", "A*s^0.5/m^2", "Adiabatic constant of aluminium", "Constant of aluminium for heating without loss to the insulation.",
         shown=("A*s^0.5/mm^2",), default="148 A*s^0.5/mm^2", source="iec-60949-aluminium", constant=True),
    Term("aluminium_zero_resistance_temperature", "T_0,Al", "K", "Zero-resistance temperature of aluminium", "Temperature at which its line of resistance meets zero.",
         shown=("degC",), digits=4, kind="temperature", default="-228 degC", source="iec-60949-aluminium", constant=True),
    Term("icea_copper_constant", "M_Cu", "A*s^0.5/m^2", "American constant of copper", "Root of 0.0297 ampere-seconds squared a circular mil squared.", shown=("A*s^0.5/kcmil",),
         digits=4, default="172.3369 A*s^0.5/kcmil", source="icea-p-32-382", constant=True),
    Term("icea_aluminium_constant", "M_Al", "A*s^0.5/m^2", "American constant of aluminium", "Root of 0.0125 ampere-seconds squared a circular mil squared.", shown=("A*s^0.5/kcmil",),
         digits=4, default="111.8034 A*s^0.5/kcmil", source="icea-p-32-382", constant=True),
    Term("icea_copper_zero_temperature", "T_0,M", "K", "American zero-resistance temperature of copper", "As that equation rounds it.", shown=("degC",), digits=4, kind="temperature",
         default="-234 degC", source="icea-p-32-382", constant=True),
    Term("cable_zero_temperature", "T_0", "K", "Zero-resistance temperature of the metal", "Temperature at which the line of resistance of the conductor meets zero.",
         shown=("degC",), digits=4, kind="temperature", **CABLE),
    Term("cable_fault_current", "I_k", "A", "Fault current", "Initial current of its bus, which the cable must bear at its near end; or as given.", shown=("kA",), digits=4, **CABLE, low=0, either=True),
    Term("cable_fault_duration", "t_k", "s", "Clearing time of the cable", "Time in which the protection that is counted on clears that fault.", shown=("s",), **CABLE, low=0.005, high=10, optional=True),
    Term("cable_short_circuit_temperature", "T_k", "K", "Short-circuit temperature of the cable", "What the insulation bears for up to five seconds.", **WARMTH, **CABLE,
         low=373.15, high=673.15, default="250 degC", source="iec-60724"),
    Term("cable_adiabatic_factor", "k", "A*s^0.5/m^2", "Short-circuit factor of the cable", "Current density that the conductor bears for one second.", shown=("A*s^0.5/mm^2",), digits=4, **CABLE),
    Term("cable_withstand", "I_w", "A", "Withstand current", "What one conductor bears for the clearing time.", shown=("kA",), digits=4, **CABLE),
    Term("cable_least_fault_area", "A_k", "m^2", "Area that the fault asks for", "Least cross-section that bears the fault.", **AREA, **CABLE),
    Term("cable_least_area", "A_min", "m^2", "Least area for the voltage", "Least cross-section for the voltage, or for conductors in parallel.", **AREA, **CABLE),
    Term("cable_area_for_current", "A_I", "m^2", "Size by current", "Smallest size of its table that carries the design current as laid.", **AREA, **CABLE),
    Term("cable_area_for_fault", "A_F", "m^2", "Size by short circuit", "Smallest size of its table that bears the fault.", **AREA, **CABLE),
    Term("cable_area_governing", "A_G", "m^2", "Size that governs", "The larger of both.", **AREA, **CABLE),
    Term("cable_governed_by", "", "choice", "What governs", "Whether load current or short circuit asks for the larger conductor.", **CABLE, choices=("current", "short_circuit", "both", "unknown")),
)

DROP = (
    Term("cable_resistance_20", "R′_20", "ohm/m", "Resistance to direct current at 20 °C", "Of one conductor per length.", **PER_LENGTH, **CABLE),
    Term("cable_impedance_rule", "", "choice", "Rule for impedance of the cable", "Whether resistance and reactance are printed for the conduit, or those of the conductor.", **CABLE,
         choices=("conduit_table", "conductor"), default="conductor", source="cable-usual"),
    Term("cable_impedance_table", "", "choice", "Impedance table of the cable", "Table of resistance and reactance in conduit.", **CABLE, table="impedance", optional=True),
    Term("cable_printed_resistance", "R′_t", "ohm/m", "Printed resistance at 20 °C", "Resistance to alternating current in conduit, moved to 20 °C.", **PER_LENGTH, **CABLE),
    Term("cable_printed_reactance", "X′_t", "ohm/m", "Printed reactance", "Reactance in conduit at the frequency of the plant.", **PER_LENGTH, **CABLE),
    Term("cable_operating_temperature", "T_op", "K", "Working temperature", "Conductor temperature at the working current.", **WARMTH, **CABLE, low=253.15, high=523.15, either=True),
    Term("cable_dc_resistance", "R′_0", "ohm/m", "Resistance to direct current of the cable", "Of one conductor at its working temperature.", **PER_LENGTH, **CABLE),
    Term("cable_skin_factor", "k_s", "1", "Skin-effect factor of the cable", "Resistance to alternating over that to direct current.", shown=("1",), digits=4, **CABLE),
    Term("cable_resistance", "R′", "ohm/m", "Resistance of the cable", "Of one conductor at its working temperature and the frequency of the plant.", **PER_LENGTH, **CABLE),
    Term("cable_usual_reactance", "X′_50", "ohm/m", "Usual reactance", "Reactance of three conductors close together at 50 Hz.", **PER_LENGTH, low=1e-6, high=1e-3,
         default="0.08 ohm/km", source="reactance-usual"),
    Term("reactance_reference_frequency", "f_50", "Hz", "Frequency of the usual reactance", "Frequency to which it belongs.", kind="frequency", default="50 Hz", source="reactance-usual", constant=True),
    Term("cable_reactance", "X′", "ohm/m", "Reactance of the cable", "Of one conductor at the frequency of the plant; as printed or usual unless given.", **PER_LENGTH, **CABLE, low=0, high=2e-3, either=True),
    Term("cable_voltage_drop", "ΔU", "V", "Voltage drop of the cable", "Between phases, or between the two wires, at the working current.", shown=("V",), **CABLE),
    Term("cable_voltage_drop_ratio", "ΔU/U", "1", "Relative voltage drop of the cable", "Drop over nominal voltage.", shown=("%",), **CABLE),
    Term("cable_voltage_drop_max", "ΔU/U_max", "1", "Voltage drop allowed in the cable", "Share of the allowance that the project gives to this cable.", shown=("%",), **CABLE, low=0, high=0.3, optional=True),
    Term("cable_loss", "P_l", "W", "Loss of the cable", "Heat of all its conductors at the working current.", shown=("kW",), kind="active power", **CABLE),
    Term("cables_loss", "P_l,Σ", "W", "Loss of all cables", "All cables at their working currents at once.", shown=("kW",), kind="active power"),
)

BENDS = (
    Term("cable_bend_multiple", "b_D", "1", "Least bend in diameters", "Least bending radius over diameter.", **ONE, **CABLE, low=3, high=40, either=True),
    Term("cable_bend_radius_min", "r_min", "m", "Least bending radius", "To the inside of the bend, by the maker or the code.", shown=("mm", "in"), **CABLE),
    Term("cable_bend_radius", "r", "m", "Tightest bend", "Radius of the tightest bend that the cable is given, to its inside.", shown=("mm", "in"), **CABLE, low=0.01, high=50, optional=True),
    Term("cables_in_circuit", "n_c", "1", "Cables of a circuit", "Single-core cables that make a circuit, neutral counted; or the one three-core cable.", **COUNT, **CABLE, low=1, high=8, either=True),
    Term("cable_cores", "n_A", "1", "Phase conductors of one cable", "Conductors that take the pull.", **COUNT, **CABLE),
    Term("cable_mass_per_length", "m′", "kg/m", "Mass per length", "Of one single-core cable, or of the three-core cable.", shown=("kg/m", "lb/ft"), **CABLE, low=0.01, high=100, optional=True),
)

PULLING = (
    Term("cable_pulled_together", "n_P", "1", "Cables pulled together", "Cables on the rope at once; those of one circuit unless given.", **COUNT, **CABLE, low=1, high=20, either=True),
    Term("cable_pull_weight", "w", "N/m", "Weight on the rope", "Weight per length of the cables that are pulled together.", **LINE_LOAD, **CABLE),
    Term("cable_friction", "μ", "1", "Friction", "Coefficient of friction of the jacket in its conduit or on its rollers.", **ONE, **CABLE, low=0.02, high=1, default="0.35", source="friction-usual"),
    Term("cable_back_tension", "F_0", "N", "Tension off the drum", "Tension with which the cable enters the run.", **FORCE, **CABLE, low=0, default="0 N", source="drum-turned"),
    Term("cable_pull_direction", "", "choice", "Direction of pulling", "From which end the cable is pulled.", **CABLE, choices=("better", "as_listed", "reversed"), default="better", source="pull-best-end"),
    Term("cable_pull_method", "", "choice", "Hold on the cable", "Whether the rope holds the conductors by an eye or the jacket by a woven grip.", **CABLE, choices=("eye", "grip"), default="eye", source="pull-stress"),
    Term("pulling_stress_copper", "σ_Cu", "Pa", "Pulling stress of copper", "Tension allowed at the eye over area of copper.", shown=("N/mm^2", "lbf/kcmil"), low=1e6, high=2e8,
         default="8 lbf/kcmil", source="pull-stress"),
    Term("pulling_stress_aluminium", "σ_Al", "Pa", "Pulling stress of aluminium", "Tension allowed at the eye over area of aluminium.", shown=("N/mm^2", "lbf/kcmil"), low=1e6, high=2e8,
         default="6 lbf/kcmil", source="pull-stress"),
    Term("grip_tension_max", "F_g", "N", "Tension allowed on a grip", "What a woven grip may be pulled with.", **FORCE, low=100, default="1000 lbf", source="grip-usual"),
    Term("cable_pull_tension_max", "F_max", "N", "Pulling tension allowed", "By the conductors, and by the grip if one is used.", **FORCE, **CABLE),
    Term("cable_tension_as_listed", "F_→", "N", "Tension at the end, as listed", "Pulled from the first section to the last.", **FORCE, **CABLE),
    Term("cable_tension_reversed", "F_←", "N", "Tension at the end, reversed", "Pulled from the last section to the first.", **FORCE, **CABLE),
    Term("pull_cable", "", "reference", "Cable of the section", "Cable that is pulled through the section.", **PULL, refers_to="cable"),
    Term("pull_conduit", "", "reference", "Conduit of the section", "Conduit through which it is pulled, if several cables press on its wall.", **PULL, refers_to="conduit_run", optional=True),
    Term("pull_length", "l_s", "m", "Straight", "Straight length of the section, before its bend.", **METRE, **PULL, low=0, high=5000),
    Term("pull_slope", "α_s", "rad", "Slope", "Slope of the straight, positive where it rises in the order of the list.", shown=("deg",), **PULL, low=-1.5708, high=1.5708,
         default="0 deg", source="project"),
    Term("pull_bend_angle", "θ_s", "rad", "Bend", "Angle of the bend at the end of the section.", shown=("deg",), **PULL, low=0, high=6.3, default="0 deg", source="project"),
    Term("pull_bend_radius", "R_s", "m", "Radius of the bend", "Inside radius of the bend.", shown=("mm", "in"), **PULL, low=0.02, high=50, optional=True),
    Term("pull_tension", "F", "N", "Tension after the section", "At the end at which the cable leaves the section, in the direction of pulling.", **FORCE, **PULL),
    Term("pull_bend_tension", "F_b", "N", "Tension after the bend", "Where the cable leaves the bend.", **FORCE, **PULL),
    Term("pull_tension_max", "F_s,max", "N", "Tension allowed in the section", "That of its cable.", **FORCE, **PULL),
    Term("pull_wall_share", "s_w", "1", "Share of the worst cable", "Of the pressure on the wall of the bend.", **ONE, **PULL),
    Term("side_wall_pressure", "p_w", "N/m", "Side-wall pressure", "Tension over radius where the cable leaves the bend; nought without a bend.", shown=("kN/m", "lbf/ft"), **PULL),
    Term("side_wall_pressure_max", "p_w,max", "N/m", "Side-wall pressure allowed", "What the jacket and the insulation below it bear.", shown=("kN/m", "lbf/ft"), low=100,
         default="300 lbf/ft", source="side-wall-pressure"),
)

CONDUITS = (
    Term("conduit_cable", "", "reference", "Cable of the conduit", "Cable that lies in the conduit.", **RUN, refers_to="cable"),
    Term("conduit_circuits", "n_k", "1", "Circuits in the conduit", "Circuits of that cable in this conduit.", **COUNT, **RUN, low=1, high=20, default="1", source="cable-usual"),
    Term("conduit_cables", "N_k", "1", "Cables in the conduit", "Power cables in the conduit, earth conductors not counted.", **COUNT, **RUN),
    Term("conduit_other_area", "a_E", "m^2", "Area of what lies beside", "Area over the insulation of earth and control conductors in the conduit.", shown=("mm^2", "in^2"), **RUN, low=0,
         default="0 mm^2", source="project"),
    Term("conduit_other_count", "n_E", "1", "Conductors beside", "Earth and control conductors in the conduit.", **COUNT, **RUN, low=0, high=100, default="0", source="project"),
    Term("conduit_run_table", "", "choice", "Conduit table of the run", "Table of internal areas.", **RUN, table="conduit", optional=True),
    Term("conduit_run_size", "", "text", "Conduit size of the run", "Trade size as its table prints it.", **RUN, optional=True),
    Term("conduit_run_diameter", "D_k", "m", "Inner diameter of the conduit", "By its table, or given.", shown=("mm", "in"), **RUN, low=5e-3, high=1, either=True),
    Term("conduit_run_fill", "f_k", "1", "Fill of the conduit", "Area of everything in it over its own.", shown=("%",), **RUN),
    Term("conduit_run_fill_max", "f_max", "1", "Fill allowed in the conduit", "By the number of conductors: one, two, or more.", shown=("%",), **RUN, low=0, high=1, either=True),
    Term("conduit_jam_ratio", "D/d", "1", "Jam ratio", "Inner diameter of the conduit over diameter of a cable.", **ONE, **RUN),
    Term("conduit_jam_distance", "j", "1", "Distance from jamming", "How far the jam ratio lies from where three cables wedge in a bend; negative within it, one for other numbers of cables.", **ONE, **RUN),
    Term("conduit_jam_distance_min", "j_min", "1", "Least distance from jamming", "Outside is enough.", **ONE, default="0", source="nec-ch9-jam"),
    Term("conduit_weight_correction", "W", "1", "Weight correction", "How much harder several cables press on the wall than their weight.", **ONE, **RUN),
)

SUPPORTS = (
    Term("cable_on_support", "", "reference", "Ladder or tray", "Support that carries the cable.", **CABLE, refers_to="cable_support", optional=True),
    Term("support_other_load", "q_o", "N/m", "Other load of the support", "Covers, water, snow, other cables.", **LINE_LOAD, **SUPPORT, low=0, default="0 N/m", source="project"),
    Term("support_cable_load", "q_c", "N/m", "Cables on the support", "Weight per length of all cables that name this support.", **LINE_LOAD, **SUPPORT),
    Term("support_load", "q", "N/m", "Load of the support", "Cables and other load.", **LINE_LOAD, **SUPPORT),
    Term("support_safe_load", "q_max", "N/m", "Safe load of the support", "Working load that its maker declares for the span that is built.", **LINE_LOAD, **SUPPORT, low=1, optional=True),
)

TERMS = MAKE + CURRENT + CAPACITY + FAULT + DROP + BENDS + PULLING + CONDUITS + SUPPORTS
