"""Terms of voltage and frequency at load steps: the excitation and the engine in time, dips, recovery, leading and returned power."""

from basis.language.terms import Listed, Term

DIP_TIMES = (*range(0, 1000, 50), *range(1000, 5200, 200))  # milliseconds after a load step
LISTS = (Listed("dip_time", "dip_times", fixed=tuple(f"after_{time}_ms" for time in DIP_TIMES)),)

P, Q = "active power", "reactive power"

EXCITATION = (
    Term("field_time_constant", "T′_d0", "s", "Field time constant",
         "Time constant of the field winding with the stator open; from its short-circuit time constant unless given.",
         shown=("s",), low=0.1, high=20, either=True),
    Term("field_ceiling", "E_max", "1", "Ceiling of the field voltage", "Largest field voltage over that of no load, as the regulator can force it.",
         shown=("1",), low=0.5, high=30, either=True),
    Term("exciter_time", "T_E", "s", "Time constant of the exciter",
         "Lag between the regulator's output and the field voltage, filter of the measurement included.",
         shown=("s",), low=0.005, high=2, default="0.15 s", source="regulator-usual"),
    Term("regulator_gain", "K_U", "1", "Gain of the voltage regulator",
         "Field voltage, in parts of that of no load, asked for by an error of the whole rated voltage.",
         shown=("1",), low=1, high=1000, default="20", source="regulator-usual"),
    Term("regulator_reset_time", "T_U", "s", "Reset time of the voltage regulator", "Time constant with which the regulator takes the remaining error away.",
         shown=("s",), low=0.05, high=30, default="1 s", source="regulator-usual"),
    Term("voltage_band", "β_U", "1", "Voltage band", "Steady deviation of voltage allowed; back inside it for good, voltage has recovered.",
         shown=("%",), low=0.002, high=0.2, either=True, sample="1 %"),
)

ENGINE = (
    Term("governor_gain", "K_f", "1", "Gain of the governor", "Torque, in parts of that at site power, asked for by an error of the whole rated frequency.",
         shown=("1",), low=1, high=200, default="12", source="governor-usual"),
    Term("governor_reset_time", "T_f", "s", "Reset time of the governor", "Time constant with which the governor takes the remaining error away.",
         shown=("s",), low=0.05, high=30, default="1 s", source="governor-usual"),
    Term("fuel_lag", "T_m", "s", "Lag of the torque", "First-order lag of actuator and combustion, after the delay of the fuel has passed.",
         shown=("s",), low=0.005, high=2, default="0.1 s", source="governor-usual"),
    Term("torque_step", "m_B", "1", "Torque beyond boost",
         "Torque that the engine adds at once to what its turbocharger is spun up for, in parts of that at site power.",
         shown=("%",), low=0.05, high=1.2, default="50 %", source="turbocharger-usual"),
    Term("turbocharger_time", "T_B", "s", "Time constant of the turbocharger", "Time constant with which boost follows torque.",
         shown=("s",), low=0.05, high=30, default="1.5 s", source="turbocharger-usual"),
    Term("torque_max", "m_max", "1", "Fuel stop", "Largest torque of the engine at the site, in parts of that at site power.",
         shown=("%",), low=0.5, high=1.5, default="110 %", source="fuel-stop-usual"),
    Term("motoring_ratio", "m_0", "1", "Motoring power", "Power that the unfuelled engine takes at rated speed, in parts of site power.",
         shown=("%",), low=0.005, high=0.4, default="8 %", source="motoring-usual"),
    Term("frequency_band", "α_f", "1", "Frequency tolerance band", "Width to either side within which frequency must be back for good.",
         shown=("%",), low=0.001, high=0.2, either=True, sample="0.5 %"),
)

TIMES = (
    Term("dip_elapsed", "t", "s", "Time after the step", "Times at which voltage and frequency are told.", shown=("s",), axes=("dip_time",), constant=True,
         default=", ".join(f"{time / 1000:g} s" for time in DIP_TIMES), source="definition"),
)

EVENTS = (
    Term("step_reactive_power", "Q_s", "var", "Reactive power of the step", "Reactive demand of the loads that come on with this step.",
         shown=("kvar",), kind=Q, axes=("load_step",), signed=True),
    Term("step_total_reactive_power", "Q_s,sum", "var", "Reactive power after the step", "Reactive demand of the loads that are on after this step.",
         shown=("kvar",), kind=Q, axes=("load_step",), signed=True),
    Term("step_prior_power", "P_0", "W", "Power before the step", "Demand of the loads that are on before this step.", shown=("kW",), kind=P,
         axes=("load_step",)),
    Term("step_prior_reactive_power", "Q_0", "var", "Reactive power before the step", "Reactive demand of the loads that are on before this step.",
         shown=("kvar",), kind=Q, axes=("load_step",), signed=True),
    Term("load_prior_power", "P_0,L", "W", "Power beside the load", "Demand of everything that is on when this load comes on, itself left out.",
         shown=("kW",), kind=P, axes=("load",)),
    Term("load_prior_reactive_power", "Q_0,L", "var", "Reactive power beside the load",
         "Reactive demand of everything that is on when this load comes on, itself left out.",
         shown=("kvar",), kind=Q, axes=("load",), signed=True),
    Term("load_step_sets", "N_L", "1", "Sets at the step of the load", "Sets on the bus when the step of this load comes on.", shown=("1",), digits=4,
         axes=("load",), whole=True),
    Term("motor_start_sets", "N_M", "1", "Sets at motor start", "Sets on the bus when this motor starts: those of its load step unless given.",
         shown=("1",), digits=4, axes=("motor",), low=1, high=32, either=True, whole=True, sample="2"),
    Term("motor_prior_power", "P_0,M", "W", "Power before motor start",
         "Demand that is on when this motor starts, its own load left out: it starts last of its step.",
         shown=("kW",), kind=P, axes=("motor",)),
    Term("motor_prior_reactive_power", "Q_0,M", "var", "Reactive power before motor start", "Reactive demand that is on when this motor starts.",
         shown=("kvar",), kind=Q, axes=("motor",), signed=True),
    Term("motor_start_reactive_power", "Q_st", "var", "Starting reactive power", "Reactive power that the motor takes at rated voltage while it starts.",
         shown=("kvar",), kind=Q, axes=("motor",)),
)

VOLTAGE = (
    Term("step_voltage", "U_s", "1", "Voltage after the step", "Bus voltage over rated voltage after the load step.", shown=("%",), digits=4,
         axes=("load_step", "dip_time")),
    Term("step_voltage_dip", "δ_U,s", "1", "Voltage dip of the step", "Deepest fall of voltage after the load step.", shown=("%",), axes=("load_step",),
         signed=True),
    Term("step_voltage_recovery", "t_U,s", "s", "Voltage recovery of the step",
         "Time from the load step until voltage stays in its band; the end of the window if it does not.",
         shown=("s",), axes=("load_step",)),
    Term("start_voltage", "U_M", "1", "Voltage at motor start", "Bus voltage over rated voltage after the motor is switched on.", shown=("%",), digits=4,
         axes=("motor", "dip_time")),
    Term("start_voltage_dip", "δ_U,M", "1", "Voltage dip of the motor start", "Deepest fall of voltage after the motor is switched on.", shown=("%",),
         axes=("motor",), signed=True),
    Term("start_voltage_recovery", "t_U,M", "s", "Voltage recovery at motor start",
         "Time from switching on until voltage stays in its band, the rotor held all the while.",
         shown=("s",), axes=("motor",)),
    Term("rejection_voltage", "U_R", "1", "Voltage after loss of load", "Bus voltage over rated voltage after one set loses its full rated load.", shown=("%",),
         digits=4, axes=("dip_time",)),
    Term("rejection_voltage_rise", "δ_U,R", "1", "Voltage rise at loss of load", "Highest rise of voltage after one set loses its full rated load.",
         shown=("%",)),
    Term("voltage_rise_max", "δ_U,R,max", "1", "Voltage rise allowed", "Transient rise of voltage allowed when full load is lost.", shown=("%",), low=0, high=1,
         either=True, sample="15 %"),
)

FREQUENCY = (
    Term("frequency_dip_judged_by", "", "choice", "Frequency dip judged by",
         "The transient in time where the book solves it; else the turning masses alone, until the fuel answers.",
         choices=("turning_masses", "transient"), default="turning_masses", source="definition"),
    Term("step_frequency", "f_s", "Hz", "Frequency after the step", "Frequency after the load step.", shown=("Hz",), digits=4, kind="frequency",
         axes=("load_step", "dip_time")),
    Term("step_frequency_dip", "δ_f,s", "1", "Frequency dip of the step", "Deepest fall of frequency after the load step, with governor and turbocharger.",
         shown=("%",), axes=("load_step",)),
    Term("step_frequency_recovery", "t_f,s", "s", "Frequency recovery of the step",
         "Time from the load step until frequency stays in its band; the end of the window if it does not.",
         shown=("s",), axes=("load_step",)),
    Term("start_frequency", "f_M", "Hz", "Frequency at motor start", "Frequency after the motor is switched on.", shown=("Hz",), digits=4, kind="frequency",
         axes=("motor", "dip_time")),
    Term("start_frequency_dip", "δ_f,M", "1", "Frequency dip of the motor start", "Deepest fall of frequency after the motor is switched on.", shown=("%",),
         axes=("motor",)),
    Term("start_frequency_recovery", "t_f,M", "s", "Frequency recovery at motor start",
         "Time from switching on until frequency stays in its band, the rotor held all the while.",
         shown=("s",), axes=("motor",)),
    Term("rejection_frequency", "f_R", "Hz", "Frequency after loss of load", "Frequency after one set loses the whole of its site power.", shown=("Hz",),
         digits=4, kind="frequency", axes=("dip_time",)),
    Term("rejection_frequency_rise", "δ_f,R", "1", "Frequency rise at loss of load",
         "Highest rise of frequency after one set loses the whole of its site power.", shown=("%",)),
    Term("frequency_rise_max", "δ_f,R,max", "1", "Frequency rise allowed", "Transient rise of frequency allowed when full load is lost.", shown=("%",), low=0,
         high=0.5, either=True, sample="10 %"),
)

LEADING = (
    Term("load_filter_reactive_power", "Q_F", "var", "Filters of the load", "Capacitive reactive power that stays connected when the load itself is low.",
         shown=("kvar",), kind=Q, axes=("load",), low=0, default="0 kvar", source="no-filters"),
    Term("load_leading_power", "Q_C", "var", "Leading power of the load", "Largest leading reactive power of the load: at its demand, or of its filters alone.",
         shown=("kvar",), kind=Q, axes=("load",)),
    Term("step_leading_power", "Q_C,s", "var", "Leading power at the step",
         "Leading reactive power that is on after this step if every lagging load happens to be off.",
         shown=("kvar",), kind=Q, axes=("load_step",)),
    Term("step_leading_ratio", "x_C", "1", "Leading power of an alternator", "Leading reactive power over the rating of the alternators on the bus.",
         shown=("%",), axes=("load_step",)),
    Term("leading_ratio_max", "x_C,max", "1", "Leading power allowed",
         "Leading reactive power that an alternator takes in without losing hold of its voltage, over its rating.",
         shown=("%",), low=0, high=1, optional=True, sample="0.2"),
    Term("self_excitation_ratio", "x_C,0", "1", "Self-excitation",
         "Leading reactive power, over the rating, at which an alternator builds up voltage without its regulator.", shown=("%",)),
)

RETURNED = (
    Term("load_regenerative_power", "P_R,L", "W", "Returned power of the load", "Power that the load gives back while it brakes.",
         shown=("kW",), kind=P, axes=("load",), low=0, default="0 kW", source="no-regeneration"),
    Term("regenerative_power", "P_R", "W", "Returned power", "Power that all braking loads give back together.", shown=("kW",), kind=P),
    Term("absorbing_power", "P_A", "W", "Power that takes it up", "Least demand, and what the engines that then run take when they are turned without fuel.",
         shown=("kW",), kind=P),
    Term("regenerative_ratio", "x_R", "1", "Returned over absorbed power",
         "Returned power over what takes it up; beyond one, speed rises without the governor.", shown=("%",)),
    Term("regenerative_ratio_max", "x_R,max", "1", "Returned power allowed", "Share of the absorbing power that may be returned.",
         shown=("%",), low=0, high=1, default="100 %", source="definition", constant=True),
    Term("reverse_relay_setting", "x_32", "1", "Setting of the reverse power relay",
         "Power into a set, over its rated power, at which its relay trips the breaker.",
         shown=("%",), low=0.001, high=0.4, optional=True, sample="8 %"),
)

TERMS = EXCITATION + ENGINE + TIMES + EVENTS + VOLTAGE + FREQUENCY + LEADING + RETURNED
