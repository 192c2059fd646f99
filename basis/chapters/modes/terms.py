"""Terms of running modes: what each asks of a set in a year, what rule and rating allow, what it burns, wears, costs and earns."""

from basis.language.terms import Listed, Term

TRIED = (0, 25, 50, 75, 100, 200, 300, 400, 600, 800)  # hours called in a year, for the curve
LISTS = (
    Listed("running_mode", "running_modes"), Listed("billing_month", "billing_months"),
    Listed("called_time", "called_times", fixed=tuple(f"hours_{hours}" for hours in TRIED)),
)

MODE, MONTH, TIME, BY_MONTH = ("running_mode",), ("billing_month",), ("called_time",), ("running_mode", "billing_month")
BY_TIME, BY_POLLUTANT = ("running_mode", "called_time"), ("pollutant", "running_mode")
YEAR = 31_622_400  # seconds of the longest year
NO_LIMIT = "the rating class has no limit of hours"
NOT_CALLED = "nobody calls hours in this mode"
HOURS = {"shown": ("h",), "digits": 4, "low": 0}
P = {"shown": ("kW",), "kind": "active power", "low": 0}
VOLUME = {"shown": ("L", "gal"), "low": 0}
MONEY = {"shown": ("cur",), "digits": 4, "low": 0}
BALANCE = {"shown": ("cur",), "digits": 4, "signed": True}
ENERGY_PRICE = {"shown": ("cur/kWh",), "low": 0}
POWER_PRICE = {"shown": ("cur/kW",), "low": 0}
YEARS = {"shown": ("year",), "low": 0}

RUNNING = (
    Term("mode_kind", "", "choice", "Kind of mode",
         "Why sets run beside tests and outages: never, when the supplier calls, to cut a peak of demand, or as the supply.",
         axes=MODE, choices=("standby", "interruptible", "peak_shaving", "prime")),
    Term("mode_days", "n_d", "1", "Days of running in a year",
         "Days on which the mode asks for the sets: the most that the contract may call, or the days planned.",
         axes=MODE, shown=("1",), digits=4, low=0, high=366, optional=True, sample="20"),
    Term("mode_day_hours", "t_d", "s", "Running on such a day", "From start to stop.", axes=MODE, shown=("h",), low=0, high=86_400, optional=True,
         sample="4 h"),
    Term("mode_day_starts", "s_d", "1", "Starts on such a day", "How often a set is started; nought where it runs on from day to day.", axes=MODE, shown=("1",),
         low=0, high=48, default="1", source="one-start-a-day"),
    Term("mode_power", "P_m", "W", "Power of the mode", "Mean that the sets together carry while they run so, and that is not bought meanwhile.", axes=MODE,
         **{**P, "low": 1.0}, digits=4, optional=True, sample="800 kW"),
    Term("mode_sets", "N_m", "1", "Sets that run", "Sets that share the power of the mode.", axes=MODE, shown=("1",), digits=4, low=1, high=32, whole=True,
         either=True, sample="2"),
    Term("mode_set_load", "P_m,set", "W", "Load of a set", "Power of the mode on each set that runs; none on standby.", axes=MODE, **P, digits=4),
    Term("mode_energy", "W_m", "J", "Energy of a year", "What the sets generate in this mode in a year, tests and outages not counted.", axes=MODE,
         shown=("kWh",), digits=4, low=0),
    Term("mode_run_hours", "t_m", "s", "Hours of the mode", "Running of one set in a year for this mode alone.", axes=MODE, **HOURS, high=YEAR),
    Term("mode_starts_yearly", "s_m", "1", "Starts of the mode", "Starts of one set in a year for this mode alone.", axes=MODE, shown=("1",), digits=4),
    Term("hours_beside_modes", "t_0m", "s", "Hours beside the mode",
         "Tests, maintenance, other running and outages of one set in a usual year: the ledger without its running for income.", **HOURS),
    Term("mode_hours_yearly", "t_m,Σ", "s", "Hours of a year", "All running of one set in a usual year, the mode on top of what runs beside it.",
         axes=MODE, **HOURS),
)

RULE = (
    Term("mode_paid_hours", "t_m,4", "s", "Hours run for income", "Hours of the mode that earn money or cut a bill: called days and peak shaving.", axes=MODE,
         **HOURS),
    Term("mode_other_hours", "t_m,3", "s", "Other hours", "Neither test, maintenance, emergency nor for income: those of the ledger, and prime running.",
         axes=MODE,
         **HOURS),
    Term("mode_counted_hours", "t_m,c", "s", "Hours counted", "Hours of one set that the rule counts in this mode.", axes=MODE, **HOURS),
    Term("mode_rule_excess", "Δt_m", "s", "Hours beyond the rule", "By how much the mode passes the nearest limit of the rule; none where it is allowed.",
         axes=MODE,
         **HOURS),
    Term("mode_pollutant_mass", "m_m", "kg", "Mass in a year", "Mass of the pollutant from all sets, the mode on top of what runs beside it.",
         axes=BY_POLLUTANT, shown=("kg", "lb")),
    Term("mode_treatment_share", "y_m", "1", "Time with exhaust treatment at work",
         "Share of the running time in which catalyst or filter are warm enough to work.",
         axes=MODE, shown=("%",), low=0, high=1, default="0 %", source="treatment-not-counted"),
)

RATING = (
    Term("mode_rating_class", "", "choice", "Rating class", "Class of ISO 8528-1 in which the maker has declared the power for this mode.", axes=MODE,
         choices=("ESP", "PRP", "LTP", "COP", "DCP")),
    Term("mode_rated_power", "P_m,r", "W", "Power declared in this class", "Rated power of one set in the class of the mode: another class is another power.",
         axes=MODE, **{**P, "low": 1e3}, digits=4, optional=True, sample="900 kW"),
    Term("mode_rating_hours_max", "t_m,max", "s", "Hours that the class covers", "Of one set in a year, all running counted.",
         axes=MODE, **HOURS, high=YEAR, either=True, sample="500 h", absent=NO_LIMIT),
    Term("mode_average_ratio", "x_m", "1", "Average load", "Average of the mode over the power declared, light running counted as the class counts it.",
         axes=MODE,
         shown=("%",)),
    Term("mode_average_ratio_max", "x_m,max", "1", "Average load that the class covers", "Over 24 hours of running; a maker may agree to more.", axes=MODE,
         shown=("%",), low=0, high=1, either=True, sample="70 %"),
    Term("mode_load_ratio", "x_m,P", "1", "Load over the power there is",
         "Load of a set over the lesser of its site power and the power declared in the class.",
         axes=MODE, shown=("%",)),
    Term("mode_load_ratio_max", "x_P,max", "1", "Load allowed", "Mean load of a mode over the power there is.", shown=("%",), low=0, high=1.1, default="100 %",
         source="no-overload"),
    Term("mode_rating_excess", "Δt_r", "s", "Hours beyond the class", "Running of a year above what the rating class covers; none where it covers all.",
         axes=MODE,
         **HOURS, absent=NO_LIMIT),
)

FUEL = (
    Term("mode_fuel_rate", "q_m", "m^3/s", "Fuel of a set", "What each running set burns at the load of the mode.", axes=MODE, shown=("L/h", "gal/h"), low=0),
    Term("mode_fuel_yearly", "V_m", "m^3", "Fuel of a year", "All sets, for this mode alone.", axes=MODE, **VOLUME),
    Term("mode_fuel_all_yearly", "V_m,Σ", "m^3", "All fuel of a year", "All sets in a usual year, the mode on top of what runs beside it.", axes=MODE,
         **VOLUME),
    Term("mode_day_fuel", "V_m,d", "m^3", "Fuel of a day of running", "All sets on one such day.", axes=MODE, **VOLUME),
    Term("mode_stock", "V_m,min", "m^3", "Stock for mode and outage", "What the store must hold so that a day of running leaves what an outage needs.",
         axes=MODE,
         **VOLUME),
    Term("mode_overhaul_years", "y_ov,m", "s", "Years to overhaul", "By the hours of the mode or by the calendar, whichever comes first.", axes=MODE, **YEARS),
    Term("mode_overhauls", "n_ov", "1", "Overhauls by hours", "Hours of the plant's life over those between overhauls.", axes=MODE, shown=("1",)),
)

MONEY_TERMS = (
    Term("mode_price_date", "d_m", "s", "Date of the prices", "Day of the offer or tariff from which the prices of the mode are taken.", axes=MODE,
         shown=("date",),
         kind="date", optional=True, sample="2026-11-20"),
    Term("price_age_max", "y_p,max", "s", "Age of prices allowed", "Older offers are asked for anew before anybody decides by them.", **YEARS, default="2 year",
         source="price-age"),
    Term("mode_credit_price", "c_cr", "cur/W", "Credit in a month", "Paid in each month for a kilowatt that may be called off.", axes=MODE, **POWER_PRICE,
         optional=True, sample="9.50 EUR/kW"),
    Term("mode_credit_months", "n_cr", "1", "Months of credit", "Months of a year for which the credit is paid.", axes=MODE, shown=("1",), low=0, high=12,
         whole=True, optional=True, sample="12"),
    Term("mode_call_payment", "c_call", "cur/J", "Paid for energy when called", "On top of the credit, for each unit that is not taken from the supply.",
         axes=MODE,
         **ENERGY_PRICE, default="0 cur/kWh", source="no-call-payment"),
    Term("mode_tariff_price", "c_m,E", "cur/J", "Price of the energy not bought", "Price in the hours in which the sets run; a peak tariff is given instead.",
         axes=MODE, **ENERGY_PRICE, either=True, sample="0.14 EUR/kWh"),
    Term("mode_wear_price", "c_h", "cur/s", "Upkeep of an hour's running",
         "For one set: tasks by hours and the share of the overhauls as the chapter on upkeep finds them, unless the mode has its own contract.", axes=MODE,
         shown=("cur/h",), low=0, either=True, optional=True, sample="12 EUR/h"),
    Term("modes_upkeep_chapter", "", "choice", "Upkeep and life", "Whether this book works out what an hour of running wears.",
         choices=("in_this_book", "not_in_this_book"), default="not_in_this_book", source="definition", constant=True, chapter="upkeep"),
    Term("mode_own_price", "c_own", "cur/J", "Price of own energy", "Fuel at the load of the mode, and upkeep.", axes=MODE, **ENERGY_PRICE, digits=3,
         either=True, sample="0.31 EUR/kWh"),
    Term("mode_fixed_cost", "C_fix", "cur", "Cost of being able to", "Meter, link to the supplier, permit and staff in a year, run or not.", axes=MODE, **MONEY,
         optional=True, sample="2500 EUR"),
    Term("reliability_chapter", "", "choice", "Reliability", "Whether this book works out how surely a set answers and runs.",
         choices=("in_this_book", "not_in_this_book"), default="not_in_this_book", source="definition", constant=True, chapter="reliability"),
    Term("mode_miss_probability", "p_x", "1", "Chance of a miss", "That on a called day, or at a peak, the sets do not start or do not stay on.", axes=MODE,
         shown=("%",), low=0, high=1, either=True, optional=True, sample="2 %"),
    Term("mode_miss_penalty", "C_x", "cur", "Price of a miss", "Penalty of one missed call, or what the bill grows by when one peak is not shaved.", axes=MODE,
         **MONEY, optional=True, sample="5000 EUR"),
    Term("month_peak", "P_k", "W", "Peak of the month", "Highest demand on the public supply, as billed today.", axes=MONTH, **P, digits=4, optional=True,
         sample="1400 kW"),
    Term("month_peak_beside", "P_k,0", "W", "Peak beside the shaved hours", "Highest demand of the month in the hours in which no set would run.",
         axes=MONTH, **P,
         digits=4, optional=True, sample="1050 kW"),
    Term("demand_price", "c_P", "cur/W", "Demand charge", "For a kilowatt of billed demand in a month.", **POWER_PRICE, optional=True, sample="9 EUR/kW"),
    Term("ratchet_share", "f_R", "1", "Ratchet", "Share of the year's highest peak that every month is billed at least.", shown=("%",), low=0, high=1,
         default="0 %", source="no-ratchet"),
    Term("month_billed", "P_b,k", "W", "Demand billed", "In the month, as things are.", axes=MONTH, **P, digits=4),
    Term("billing_months_listed", "n_k", "1", "Billing months listed", "Months of the list, which is counted as the year.", shown=("1",), digits=4, low=0,
         whole=True),
    Term("billing_months_needed", "n_k,min", "1", "Billing months of a year", "What is not listed is not billed here.", shown=("1",), digits=4, low=0,
         whole=True, default="12", source="definition", constant=True),
    Term("demand_cost", "C_P", "cur", "Demand charges of a year", "As things are.", **MONEY),
    Term("mode_month_peak", "P_m,k", "W", "Peak left", "Highest demand of the month that the mode leaves.", axes=BY_MONTH, **P, digits=4),
    Term("mode_month_billed", "P_mb,k", "W", "Demand billed with the mode", "In the month, ratchet counted.", axes=BY_MONTH, **P, digits=4),
    Term("mode_demand_cost", "C_m,P", "cur", "Demand charges with the mode", "Of a year in which no peak is missed.", axes=MODE, **MONEY),
    Term("mode_demand_saving", "S_P", "cur", "Saved on demand charges", "Of a year in which no peak is missed.", axes=MODE, **BALANCE,
         either=True, optional=True, sample="30000 EUR"),
    Term("mode_credit", "C_cr", "cur", "Credit of a year", "For the power that may be called off, called or not.", axes=MODE, **MONEY),
    Term("mode_miss_cost", "C_m,x", "cur", "Misses of a year", "Expected: days times chance times price of a miss.", axes=MODE, **MONEY),
    Term("mode_standing_income", "C_st,m", "cur", "Income before running",
         "Credit and saving of a year less what must be paid to be able to, misses counted as expected.", axes=MODE, **BALANCE),
    Term("mode_energy_receipts", "R_m,E", "cur", "Received for energy in a year", "Energy that is not bought, and what is paid for it when called.", axes=MODE,
         **MONEY),
    Term("mode_receipts_yearly", "R_m", "cur", "Received for a year",
         "Income before running, and what is paid or saved for the energy that is not bought; own fuel and upkeep are not taken off.", axes=MODE, **BALANCE),
    Term("mode_hour_loss", "k_m", "cur/s", "Lost by an hour of running", "Own energy above what it would cost to buy it; a gain where it is negative.",
         axes=MODE,
         shown=("cur/h",), signed=True),
    Term("mode_running_cost", "C_m,t", "cur", "Cost of the running", "Hours of the mode times what an hour loses.", axes=MODE, **BALANCE),
    Term("mode_income_yearly", "I_m", "cur", "Income of a year", "What the mode leaves in a usual year, upkeep of its hours paid.", axes=MODE, **BALANCE),
    Term("mode_day_cost", "C_m,d", "cur", "Cost of a day of running", "What one called day, or day of running, loses against buying.", axes=MODE, **BALANCE),
    Term("mode_day_worth", "I_m,d", "cur", "Worth of a day of running", "Income of a year over its called days, or days of running.", axes=MODE, **BALANCE,
         absent="no day is called in this mode"),
    Term("mode_break_even_hours", "t_be", "s", "Break-even", "Hours in a year at which running has eaten the income; above it the mode costs money.", axes=MODE,
         **HOURS, absent="an hour of running loses nothing, or there is no income to lose"),
    Term("mode_misses_allowed", "n_x", "1", "Misses that eat the income", "How many missed calls or peaks in a year leave nothing.", axes=MODE, shown=("1",),
         absent="a miss costs nothing in this mode"),
    Term("called_time_tried", "t_k", "s", "Hours tried", "Hours called in a year, for which income is worked out again.", axes=TIME, shown=("h",), low=0,
         high=YEAR, default=", ".join(f"{hours} h" for hours in TRIED), source="definition"),
    Term("tried_running_cost", "C_k", "cur", "Cost at the hours tried", "Of the running alone.", axes=BY_TIME, **BALANCE, absent=NOT_CALLED),
    Term("tried_income", "I_k", "cur", "Income at the hours tried", "What is left of the income when so many hours are called.", axes=BY_TIME, **BALANCE,
         absent=NOT_CALLED),
)

PLANNED = (
    Term("mode_chosen", "", "reference", "Mode that is planned", "Running mode that the plant is meant for, and for which it is judged.",
         refers_to="running_mode",
         optional=True),
    Term("planned_hours_yearly", "t_pl,Σ", "s", "Hours of a year as planned", "All running of one set in a usual year in the mode that is planned.", **HOURS),
    Term("planned_run_hours", "t_pl", "s", "Hours of the mode as planned", "Of one set, for the mode alone.", **HOURS),
    Term("planned_counted_hours", "t_pl,c", "s", "Hours counted as planned", "Of one set, by the rule that the project names.", **HOURS),
    Term("planned_other_hours", "t_pl,3", "s", "Other hours as planned", "Neither test, maintenance, emergency nor for income.", **HOURS),
    Term("planned_paid_hours", "t_pl,4", "s", "Hours run for income as planned", "Called days and peak shaving.", **HOURS),
    Term("planned_rating_hours_max", "t_pl,max", "s", "Hours that the class of the planned mode covers", "Of one set in a year, all running counted.", **HOURS,
         absent=NO_LIMIT),
    Term("planned_average_ratio", "x_pl", "1", "Average load as planned", "Over the power declared for the mode.", shown=("%",)),
    Term("planned_average_ratio_max", "x_pl,max", "1", "Average load covered as planned", "By the rating class of the mode.", shown=("%",)),
    Term("planned_load_ratio", "x_pl,P", "1", "Load over the power there is, as planned", "Of each set that runs.", shown=("%",)),
    Term("planned_pollutant_mass", "m_pl", "kg", "Mass in a year as planned", "From all sets.", axes=("pollutant",), shown=("kg", "lb")),
    Term("planned_stock", "V_pl", "m^3", "Stock for mode and outage as planned", "What the store must hold.", **VOLUME),
    Term("planned_income_yearly", "I_pl", "cur", "Income of a year as planned", "Of the mode that is planned, upkeep of its hours paid.", **BALANCE),
    Term("planned_receipts_yearly", "R_pl", "cur", "Received for a year as planned", "Own fuel and upkeep are not taken off.", **BALANCE),
    Term("planned_energy_receipts", "R_pl,E", "cur", "Received for energy as planned", "Part of it that goes with the hours.", **MONEY),
    Term("no_income", "I_0", "cur", "Nothing earned", "Nought, below which a mode costs more than it brings.", **MONEY, default="0 cur", source="definition",
         constant=True),
    Term("planned_ledger_gap", "Δt_pl", "s", "Ledger against the planned mode",
         "Hours for income in the ledger of a usual year, and those of the mode that is planned.",
         **HOURS),
    Term("planned_price_age", "y_pl", "s", "Age of the prices", "From the date of the prices of the planned mode to the status date of the book.", **YEARS),
)

TERMS = RUNNING + RULE + RATING + FUEL + MONEY_TERMS + PLANNED
