"""Terms of exercise and tests: what is run in a year, at what load, by which rule, on what bank, and what it takes."""

from basis.language.terms import Listed, Term

LISTS = (Listed("plant_test", "plant_tests"), Listed("bank_step", "bank_steps"))

TEST, STEP, POLLUTANT, RECEIVER = ("plant_test",), ("bank_step",), ("pollutant",), ("receiver",)
RATIO = {"shown": ("%",), "low": 0, "high": 1.1}
P = {"shown": ("kW",), "kind": "active power", "low": 0}
HOURS = {"shown": ("h",), "digits": 4, "low": 0}
MINUTES = {"shown": ("min",), "low": 0, "high": 604_800}
DAYS = {"shown": ("d",), "low": 0}
VOLUME = {"shown": ("L", "gal"), "low": 0}
MONEY = {"shown": ("cur",), "digits": 4, "low": 0}
COUNT = {"shown": ("1",), "digits": 4, "low": 0}
TEMPERATURE = {"shown": ("degC", "degF"), "kind": "temperature", "low": 273.15, "high": 1073.15}
DATE = {"shown": ("date",), "kind": "date", "optional": True}
ASKED = {"either": True, "optional": True}  # by the rule that the project names; where that says nothing known here the project gives it, or it is undecided
NO_CRANK_TEST = "the rule that the project names is not known here to ask for a crank test"
CRANK = {**ASKED, "absent": NO_CRANK_TEST}
NO_BATTERY = "no crank test is asked for, the chapter of starting is not in this book, or air alone turns the engines"
LEVEL = {"shown": ("dBA",), "kind": "level"}
NO_NOISE = "the chapter of noise to neighbours is not in this book"
PLACE = {"shown": ("m", "ft"), "low": -10_000, "high": 10_000, "signed": True, "optional": True}

YEAR_OF_TESTS = (
    Term("test_kind", "", "choice", "Kind of test",
         "Monthly run under load, yearly run in steps on a load bank, running of the whole plant on its users, transfer from the public supply, or cranking "
         "with the fuel shut.", axes=TEST, choices=("exercise", "load_bank", "live_load", "transfer", "crank")),
    Term("test_load_ratio", "x_T", "1", "Load of the test", "Mean load of a set over its rated power; of a run on the bank the mean of bank_steps.", axes=TEST,
         **RATIO, either=True, sample="40 %"),
    Term("test_duration", "t_T", "s", "Time under load", "Of one set in one test, cool-down not counted; on the bank the sum of bank_steps.", axes=TEST,
         **MINUTES, either=True, sample="30 min"),
    Term("test_times_yearly", "n_T", "1", "Times a year", "How often in a year each set goes through this test.", axes=TEST, **{**COUNT, "low": 0.1}, high=400,
         sample="12"),
    Term("test_sets", "N_T", "1", "Sets at once", "Sets that run in one test; the others have their turn after.", axes=TEST, **{**COUNT, "low": 1}, high=32,
         whole=True, either=True),
    Term("test_first_month", "j_T", "1", "First month", "Month of the year in which it is run first.", axes=TEST, **{**COUNT, "low": 1}, high=12, whole=True,
         default="1", source="definition"),
    Term("test_load_lowest", "P_T,min", "W", "Lowest load of a set", "Lowest in the counted window: from the log, or as planned where there is none.",
         axes=TEST, **P, digits=4, either=True, sample="380 kW"),
    Term("test_load_mean", "P_T", "W", "Mean load of a set", "What fuel and energy are worked out from.", axes=TEST, **P, digits=4),
    Term("test_plant_load", "P_T,Σ", "W", "Load of the plant", "What all sets that run carry together at the lowest.", axes=TEST, **P, digits=4, either=True),
    Term("test_sets_least", "N_min", "1", "Fewest sets", "Sets that must stay on the bus in a test whatever the load.", **{**COUNT, "low": 1}, high=32,
         whole=True, default="1", source="definition"),
    Term("test_sets_most", "N_T,max", "1", "Sets that the load warms", "Most sets that this load keeps above the floor.", axes=TEST, **COUNT, whole=True),
    Term("test_supplement", "P_T,s", "W", "Load that is missing", "What a bank must add on a set for it to reach the floor.", axes=TEST, **P, digits=4),
    Term("exercises_yearly", "n_ex", "1", "Exercises a year", "Of each set, all listed exercises.", **COUNT),
    Term("test_interval_planned", "T_T", "s", "Interval planned", "Days from one run to the next, evenly spread over a year; exercises follow each other.",
         axes=TEST, **DAYS),
    Term("test_month_count", "n_T,m", "1", "Runs in the month", "Runs of a set in each month of a year that has them.", axes=("plant_test", "month"), **COUNT,
         whole=True),
    Term("test_log", "", "choice", "Log of the tests", "Whether tests have been run and logged.", choices=("kept", "not_yet"), default="not_yet",
         source="definition"),
    Term("test_date_before", "d_T,0", "s", "Run before", "Day of the run before the last.", axes=TEST, **DATE, sample="2026-03-03"),
    Term("test_date", "d_T", "s", "Last run", "Day of the last run.", axes=TEST, **DATE, sample="2026-04-02"),
    Term("test_logged", "y_T", "1", "Runs on record", "One where a log is kept or the day of a run is given, else nought.", axes=TEST, **COUNT, whole=True),
    Term("test_interval_logged", "T_T,log", "s", "Interval logged", "From the run before to the last.", axes=TEST, **DAYS),
)

RULE = (
    Term("test_rule", "", "choice", "Rule of the tests",
         "Code and edition that the project follows. A project with a rule of its own leaves it out and gives each number of its rule.", table="test-rules",
         optional=True),
    Term("load_floor_by", "", "choice", "Load is judged by", "Share of rated power, exhaust temperature that the maker states, or coolant at the end.",
         choices=("share_of_rating", "exhaust_temperature", "coolant_temperature"), default="share_of_rating", source="nfpa-110-2010-tests"),
    Term("exercise_load_ratio_min", "x_fl", "1", "Least load of an exercise", "Over rated power.", **{**RATIO, "low": 0.01}, **ASKED, sample="30 %"),
    Term("exercise_load_min", "P_fl", "W", "Least load", "Of one set.", **P, digits=4),
    Term("exercise_time_min", "t_fl", "s", "Least time of an exercise", "Under load, cool-down not counted.", **MINUTES, **ASKED, sample="30 min"),
    Term("exercise_interval_min", "T_min", "s", "Least interval", "Sooner than this it is the same exercise once more.", **DAYS, **ASKED, sample="20 d"),
    Term("exercise_interval_max", "T_max", "s", "Longest interval", "Later than this the exercise is missed.", **DAYS, **ASKED, sample="40 d"),
    Term("test_exhaust_temperature", "T_T,exh", "K", "Exhaust temperature", "Lowest in the counted window, as logged.", axes=TEST, **TEMPERATURE, optional=True,
         sample="340 degC"),
    Term("test_exhaust_temperature_min", "T_exh,fl", "K", "Least exhaust temperature", "Maker's figure.", **TEMPERATURE, optional=True, sample="320 degC"),
    Term("exercise_coolant_temperature", "T_T,c", "K", "Coolant at the end", "Lower of two readings a quarter of an hour apart, as logged.", axes=TEST,
         **TEMPERATURE, optional=True, sample="74 degC"),
    Term("exercise_coolant_min", "T_c,fl", "K", "Least coolant at the end of an exercise", "Two readings a quarter of an hour apart reach it.", **TEMPERATURE,
         **ASKED, sample="71 degC"),
    Term("yearly_run_always", "n_y,0", "1", "Yearly run asked for in any case", "One if the rule wants it every year, nought if only after a light exercise.",
         **COUNT, high=1, whole=True, **ASKED, sample="0"),
    Term("light_exercises", "n_fl", "1", "Exercises that are too light", "Listed exercises that miss the floor, or are not known to reach it.", **COUNT,
         whole=True),
    Term("yearly_run_reasons", "n_y", "1", "Reasons for a yearly run", "Light exercises, and one if the rule asks in any case.", **COUNT, whole=True),
    Term("yearly_ratio_min", "x_y", "1", "Least load of the yearly run", "Over rated power.", **RATIO, **ASKED, sample="50 %"),
    Term("yearly_time_min", "t_y,min", "s", "Time of the yearly run", "At this load or more.", **MINUTES, **ASKED, sample="90 min"),
    Term("yearly_top_ratio_min", "x_y,t", "1", "Load of the last part", "Over rated power.", **RATIO, **ASKED, sample="75 %"),
    Term("yearly_top_time_min", "t_y,t", "s", "Time of the last part", "At this load or more.", **MINUTES, **ASKED, sample="60 min"),
    Term("long_runs_yearly_min", "n_l,min", "1", "Long runs asked for", "In a year, rounded down: 0.33 is one in three years, nought none.", **COUNT, high=12,
         **ASKED, sample="0.33"),
    Term("long_ratio_min", "x_l", "1", "Least load of the long run", "Over rated power.", **RATIO, **ASKED, sample="30 %"),
    Term("long_time_min", "t_l", "s", "Time of the long run", "Under load; the class of the plant, where that is shorter and the project gives it.", **HOURS,
         **ASKED, sample="4 h"),
    Term("long_runs_yearly", "n_l", "1", "Long runs a year", "Listed tests that are long enough and loaded enough.", **COUNT),
    Term("crank_tests_yearly", "n_ck", "1", "Crank tests a year", "Of each set, all listed crank tests.", **COUNT),
    Term("crank_tests_yearly_min", "n_ck,min", "1", "Crank tests asked for", "In a year, evenly spread.", **COUNT, high=52, **CRANK, sample="2"),
    Term("crank_test_cycles", "z_ck", "1", "Cycles of the crank test", "Whole cranking cycles, one after the other, with their rests.", **COUNT, high=20,
         whole=True, **CRANK, sample="2"),
    Term("crank_test_cranks", "z_ck,Σ", "1", "Cranks of the crank test", "All cycles; a cycle has as many as the control is set to.", **COUNT, whole=True,
         absent=NO_BATTERY),
    Term("crank_test_stored", "z_ck,b", "1", "Cranks that the battery gives", "Cold and at the end of its life, as for a start.", **COUNT, whole=True,
         absent=NO_BATTERY),
    Term("crank_voltage_ratio_min", "x_ck", "1", "Least voltage in the crank test", "Of the battery near the end of the last cycle, over its rated voltage.",
         shown=("%",), low=0.3, high=1, **CRANK, sample="80 %"),
    Term("crank_test_voltage", "U_ck", "V", "Battery voltage near the end of the crank test", "As designed: cold and at the end of the battery's life.",
         shown=("V",), low=0, absent=NO_BATTERY),
    Term("crank_test_voltage_min", "U_ck,min", "V", "Voltage at which the battery is replaced", "A battery that reads less near the end is replaced.",
         shown=("V",), low=0, absent=NO_BATTERY),
    Term("common_exercises_yearly", "n_cp", "1", "Exercises of common practice", "In a year.", **COUNT, default="12", source="common-test-practice"),
    Term("common_exercise_time", "t_cp", "s", "Time of common practice", "Under load.", **MINUTES, default="30 min", source="common-test-practice"),
    Term("common_yearly_ratio", "x_cp", "1", "Yearly load of common practice", "Over rated power.", **RATIO, default="70 %", source="common-test-practice"),
)

LIGHT = (
    Term("light_hours_yearly", "t_li", "s", "Light hours of tests", "Hours of a set in a year's tests below the least load that it should have.", **HOURS),
    Term("light_run_longest", "t_li,1", "s", "Longest light test", "Of one set at a stretch.", **MINUTES),
    Term("burn_off_ratio", "x_b", "1", "Load that burns off", "Over rated power.", **RATIO, default="70 %", source="burn-off-usual"),
    Term("burn_off_time", "t_b", "s", "Time to burn off", "How long the set is held at that load.", **MINUTES, default="60 min", source="burn-off-usual"),
    Term("burn_offs_needed", "n_b,min", "1", "Well loaded runs needed", "In a year, for the light hours of tests.", **COUNT, whole=True),
    Term("burn_offs_yearly", "n_b", "1", "Well loaded runs", "Tests of a year that reach load and time.", **COUNT),
)

STEPS = (
    Term("bank_step_ratio", "x_j", "1", "Load of the step", "Of a set over its rated power.", axes=STEP, **RATIO, sample="75 %"),
    Term("bank_step_time", "t_j", "s", "Time of the step", "At this load.", axes=STEP, **MINUTES, sample="60 min"),
    Term("bank_step_lowest", "P_j,min", "W", "Lowest load of the step", "From the log, or as planned where there is none.", axes=STEP, **P, digits=4,
         either=True, sample="1130 kW"),
    Term("bank_step_load", "P_j", "W", "Load of the step on the set", "Share times rated power.", axes=STEP, **P, digits=4),
    Term("yearly_building_load", "P_bld", "W", "Load that the building lends", "Least that the building puts on the set during the yearly run.", **P,
         default="0 kW", source="no-building-load"),
    Term("bank_step_power", "P_LB,j", "W", "Bank in the step", "What the bank takes beside the building.", axes=STEP, **P, digits=4),
    Term("bank_step_reactive", "Q_LB,j", "var", "Reactive power of the step", "At the rated power factor of the set; none from a bank of resistors.",
         axes=STEP, shown=("kvar",), kind="reactive power", digits=4, low=0),
    Term("yearly_time", "t_y", "s", "Time at the yearly load", "Longest in a test of every year whose lowest load reaches the least of the yearly run.",
         **MINUTES),
    Term("yearly_top_time", "t_y,top", "s", "Time at the last part's load", "The same with the load of the last part.", **MINUTES),
    Term("yearly_top_ratio", "x_y,max", "1", "Greatest load of a year's tests", "Over rated power.", **RATIO),
    Term("yearly_run_time", "t_run", "s", "Time of the run", "All steps.", **MINUTES),
    Term("yearly_run_energy", "W_run", "J", "Energy of the run", "Of one set, all steps.", shown=("kWh",), digits=4, low=0),
    Term("yearly_run_ratio", "x_run", "1", "Mean load of the run", "Over rated power.", **RATIO),
)

BANK = (
    Term("test_load_way", "", "choice", "Load of the yearly run", "A load bank that is bought, one that is hired, or the live load of the users.",
         choices=("bank_bought", "bank_hired", "live_load"), optional=True),
    Term("bank_rated_power", "P_LB,r", "W", "Rated power of the bank", "At its rated voltage.", **P, digits=4, optional=True, sample="1000 kW"),
    Term("bank_rated_voltage", "U_LB,r", "V", "Rated voltage of the bank", "Voltage for which its elements are made.", shown=("V",), low=50, high=40_000,
         optional=True, sample="480 V"),
    Term("bank_voltage_max", "U_LB,max", "V", "Voltage that the bank bears", "Its rated voltage and what is usually borne above it.", shown=("V",), low=0),
    Term("bank_overvoltage_ratio", "k_U,LB", "1", "Overvoltage of the bank", "Share above its rated voltage that a bank bears.", shown=("%",), low=0, high=0.5,
         default="10 %", source="bank-overvoltage"),
    Term("bank_voltage", "U_LB", "V", "Voltage at the bank", "What the bank sees: that of the sets unless a transformer stands between.", shown=("V",), low=50,
         high=40_000, either=True, sample="415 V"),
    Term("bank_power_factor", "λ_LB,T", "1", "Power factor of the bank", "One for resistors; lagging with reactors.", shown=("1",), low=0.1, high=1,
         default="1", source="load-bank-resistor"),
    Term("bank_power", "P_LB,U", "W", "Power of the bank here", "At the voltage that it sees.", **P, digits=4),
    Term("bank_power_needed", "P_LB,max", "W", "Power needed of the bank", "In its greatest step.", **P, digits=4),
    Term("bank_current", "I_LB", "A", "Current of the bank", "In each phase of its cable.", shown=("A",), low=0),
    Term("bank_cable_ampacity", "I_z,LB", "A", "Current that the cable carries", "Cable and connection of the bank, as laid.", shown=("A",), low=0,
         optional=True, sample="1600 A"),
    Term("bank_air_rise", "ΔT_LB", "K", "Rise of the bank's air", "From inlet to outlet at full power.", shown=("K", "delta_degF"),
         kind="temperature difference", low=1, high=300, default="40 K", source="bank-air-rise"),
    Term("bank_airflow", "q_V,LB", "m^3/s", "Air of the bank", "What carries its heat away; none of it may come back to the radiators.",
         shown=("m^3/s", "cfm"), low=0),
    Term("bank_sound_power", "L_W,LB", "dB", "Sound power of the bank", "A-weighted, its fans at full speed.", shown=("dBA",), kind="level", low=40, high=140,
         optional=True, sample="100 dBA"),
    Term("bank_distance", "d_LB", "m", "Bank to neighbour", "From the bank to the nearest place that is judged.", shown=("m", "ft"), low=1, high=10_000,
         optional=True, sample="60 m"),
    Term("test_noise_chapter", "", "choice", "Noise to neighbours", "Whether this book computes the noise of the sets at receivers.",
         choices=("in_this_book", "not_in_this_book"), default="not_in_this_book", source="definition", constant=True, chapter="noise"),
    Term("bank_x", "x_bank", "m", "Load bank, east", "Where the bank stands in the yard, by the plan of the noise chapter.", **PLACE, sample="-5 m"),
    Term("bank_y", "y_bank", "m", "Load bank, north", "The same, northwards.", **PLACE, sample="12 m"),
    Term("bank_receiver_distance", "d_LB,r", "m", "Bank to receiver", "In plan.", axes=RECEIVER, shown=("m", "ft"), low=1, absent=NO_NOISE),
    Term("bank_receiver_level", "L_LB,r", "dB", "Bank at receiver", "The bank alone, nothing between.", axes=RECEIVER, **LEVEL, signed=True,
         absent=NO_NOISE),
    Term("test_running_case", "", "reference", "Sets that run beside the bank", "Running case of the yearly run.", refers_to="running_case", optional=True),
    Term("test_receiver_level", "L_T,r", "dB", "Bank and sets at receiver", "Together while the test runs.", axes=RECEIVER, **LEVEL, signed=True,
         absent=NO_NOISE),
    Term("test_limit_period", "", "reference", "Hours of the yearly run", "Period whose limit holds while it runs, such as the day.", refers_to="limit_period",
         optional=True),
    Term("test_level_limit", "L_T,lim", "dB", "Limit while the test runs", "At each receiver; less where the project agrees so for an announced test.",
         axes=RECEIVER, **LEVEL, low=0, high=140, either=True, sample="60 dBA", absent=NO_NOISE),
    Term("bank_level", "L_LB", "dB", "Level of the bank at the neighbour", "The bank alone, nothing between.", shown=("dBA",), kind="level", signed=True),
    Term("bank_level_max", "L_LB,max", "dB", "Level allowed for the bank", "By day, for a test that is announced.", shown=("dBA",), kind="level", low=0,
         high=140, optional=True, sample="60 dBA"),
)

TAKEN = (
    Term("test_hours_each", "t_T,y", "s", "Hours of the test in a year", "Of one set.", axes=TEST, **HOURS),
    Term("test_hours_yearly", "t_T,Σ", "s", "Hours of tests in a year", "Of one set.", **HOURS),
    Term("test_hours_chapter", "", "choice", "Ledger of hours", "Whether this book keeps the ledger of hours.", choices=("in_this_book", "not_in_this_book"),
         default="not_in_this_book", source="definition", constant=True, chapter="hours"),
    Term("test_hours_gap", "Δt_T", "s", "Tests against the ledger", "Hours of tests here less those of the ledger of hours, either way.", **HOURS),
    Term("test_occasions", "n_occ", "1", "Occasions", "Days of test in a year until all sets have had their turn.", axes=TEST, **COUNT),
    Term("test_fuel_rate", "q_T", "m^3/s", "Fuel of a set in the test", "At the mean load.", axes=TEST, shown=("L/h", "gal/h"), low=0),
    Term("test_fuel", "V_T", "m^3", "Fuel of the test in a year", "All sets.", axes=TEST, **VOLUME),
    Term("test_fuel_yearly", "V_T,Σ", "m^3", "Fuel of the tests of a year", "All sets, all tests.", **VOLUME),
    Term("test_energy_yearly", "W_T", "J", "Energy of the tests of a year", "All sets, at their terminals.", shown=("kWh",), digits=4, low=0),
    Term("test_pollutant_mass", "m_T", "kg", "Mass from the tests", "Of all sets in a year, before treatment, which is cold for most of a test.",
         axes=POLLUTANT, shown=("kg", "lb"), low=0),
    Term("test_crew_cost", "C_crew", "cur", "People for an occasion", "Wages and travel for one day of test.", axes=TEST, **MONEY, optional=True,
         sample="300 EUR"),
    Term("bank_price", "C_LB", "cur", "Price of the bank", "With cable, connection and foundation.", **MONEY, optional=True, sample="60000 EUR"),
    Term("bank_life", "y_LB", "s", "Life of the bank", "Over which its price is spread.", shown=("year",), low=3e7, high=3.2e9, default="20 year",
         source="bank-life"),
    Term("bank_hire", "C_hire", "cur", "Hire of the bank", "For one yearly run of the plant: transport, cable, and the man who connects it.", **MONEY,
         optional=True, sample="4000 EUR"),
    Term("bank_hire_yearly", "C_h,y", "cur", "Hire in a year", "For all yearly runs; none for a bank that is bought, and none for live load.", **MONEY),
    Term("bank_purchase", "C_LB,0", "cur", "Bank bought", "Its price, where one is bought.", **MONEY),
    Term("bank_cost_yearly", "C_LB,y", "cur", "Bank in a year", "Hire, or the price spread over its life.", **MONEY),
    Term("test_people_yearly", "C_p,y", "cur", "People in a year", "All occasions.", **MONEY),
    Term("test_cost_yearly", "C_T,y", "cur", "Cost of the tests of a year", "Fuel, people and bank.", **MONEY),
)

TERMS = YEAR_OF_TESTS + RULE + LIGHT + STEPS + BANK + TAKEN
