"""Terms of the tasks of upkeep, of the plan that keeps enough sets ready, of spare parts, and of overhauls over the life of the engines."""

from basis.language.terms import Listed, Term

LISTS = (
    Listed("task", "tasks"), Listed("spare_part", "spare_parts"),
    Listed("overhaul_stage", "overhaul_stages", fixed=("partial", "major", "worn_out")),
)

TASK, PART, STAGE = {"axes": ("task",)}, {"axes": ("spare_part",)}, {"axes": ("overhaul_stage",)}
HOURS, DATE, YEARS, MONEY = {"shown": ("h",)}, {"shown": ("date",), "kind": "date"}, {"shown": ("year",)}, {"shown": ("cur",), "digits": 4}
COUNT = {"shown": ("1",), "digits": 4, "whole": True}
NOT_OUT = "not in the plan: it takes no set out, is not due within a year, or is done with a larger task"

CLOCKS = (
    Term("upkeep_hours_yearly", "t_y", "s", "Running in a year", "Of one set: as planned, else by the ledger of hours, else by the hours of the plant.",
         **HOURS),
    Term("upkeep_hours_daily", "t_d", "s", "Running in a mean day", "Of one set: how fast the hours of a task are used up.", **HOURS),
    Term("commissioning_hours", "t_c,0", "s", "Hours at commissioning", "Reading of the hour meter when the plant was taken over.", **HOURS, high=36_000_000,
         default="0 h", source="new-engine"),
    Term("task_kind", "", "choice", "Sort of task", "What is done, as far as there is a usual interval for it.", **TASK,
         choices=("oil", "air_cleaner", "hoses_belts", "fuel_filter", "coolant", "starting_battery", "fuel_sample", "crankcase_drain", "injectors",
                  "cylinder_heads", "other"), default="other", source="definition"),
    Term("task_interval_hours", "I_h", "s", "Interval by hours", "Running after which the task is due again. Without it hours do not count.", **TASK, **HOURS,
         low=3600, high=1e9, optional=True),
    Term("task_interval_months", "I_m", "1", "Interval in months", "Calendar months after which the task is due again. Without it the calendar does not count.",
         **TASK, **COUNT, low=1, high=1200, optional=True, sample="12"),
    Term("task_last_date", "d_l", "s", "Last done", "Day on which the task was last done. A task never done counts from commissioning.", **TASK, **DATE,
         optional=True),
    Term("task_last_hours", "t_l", "s", "Hour meter when last done", "Reading on that day.", **TASK, **HOURS, high=1e9, optional=True,
         sample="410 h"),
    Term("task_meter_hours", "t_m", "s", "Hour meter now", "Reading on the status date of the engine that the task belongs to.", **TASK, **HOURS, high=1e9,
         either=True, sample="520 h"),
    Term("task_part_of", "", "reference", "Part of", "The larger task that contains this one: when that is done, this one has been done too.", **TASK,
         refers_to="task", optional=True),
    Term("task_legal", "", "choice", "Interval by law", "Whether law or permit sets the interval, so that no tolerance moves it.", **TASK, choices=("no",
         "yes"),
         default="no", source="definition"),
    Term("task_tolerance", "y_tol", "1", "Tolerance of the interval", "Share of the interval by which the project lets a task be late.", **TASK, shown=("%",),
         low=0, high=0.5, default="0 %", source="no-tolerance"),
    Term("task_clock_date", "d_0", "s", "Day from which it counts", "Last day on which the task, or one that contains it, was done; else commissioning.",
         **TASK,
         **DATE),
    Term("task_clock_hours", "t_0,k", "s", "Hours from which it counts", "Reading of the hour meter on that day.", **TASK, **HOURS),
    Term("task_due_by_hours", "d_h", "s", "Due by hours",
         "Day on which its hours are used up at the running of a mean day; the last day of 2199 stands for later.",
         **TASK, **DATE, absent="does not go by hours"),
    Term("task_due_by_calendar", "d_m", "s", "Due by the calendar", "Day on which its months are over.", **TASK, **DATE, absent="does not go by the calendar"),
    Term("task_due", "d_n", "s", "Next due", "By hours or by the calendar, whichever comes first.", **TASK, **DATE),
    Term("task_latest", "d_x", "s", "Latest day", "Next due with the tolerance of the project; without it where a law sets the interval.", **TASK, **DATE),
    Term("task_period", "T_k", "s", "Time between two", "Mean time between two doings of the task at the running of this plant.", **TASK, **YEARS),
    Term("task_usual_hours", "I_h,u", "s", "Usual interval by hours", "Hours after which tasks of this sort are usually done.", **TASK, **HOURS,
         absent="no usual interval by hours"),
    Term("task_usual_months", "I_m,u", "1", "Usual interval in months", "Months after which tasks of this sort are usually done.", **TASK, **COUNT,
         absent="no usual interval in months"),
    Term("task_period_usual", "T_u", "s", "Usual time between two", "The same by the usual intervals, whichever comes first.", **TASK, **YEARS,
         absent="no usual interval is known for it"),
    Term("task_times_yearly", "n_k", "1", "Times in a year", "Mean number of times in a year, without those in which a larger task does it as well.", **TASK,
         shown=("1",)),
)

PLAN = (
    Term("task_done_on", "", "choice", "Done on", "Whether it is done on each set or once for the plant.", **TASK, choices=("each_set", "plant"),
         default="each_set", source="definition"),
    Term("task_outage", "", "choice", "What is out of service", "What cannot start while it is done.", **TASK, choices=("one_set", "all_sets", "nothing"),
         default="one_set", source="outage-safe"),
    Term("task_duration", "t_w", "s", "Working time", "Time for one set, or for the plant, with isolation before it and the proof run after it.", **TASK,
         **HOURS, low=0, high=31_536_000, sample="4 h"),
    Term("crew_day", "t_crew", "s", "Working day of the crew", "Hours that the crew works in a day.", **HOURS, low=3600, high=86400, default="8 h",
         source="crew-usual"),
    Term("task_sets", "N_k", "1", "Sets worked on", "Sets on which the task is done, or one for the plant.", **TASK, **COUNT),
    Term("task_sets_out", "N_out", "1", "Sets out at a time", "Sets that cannot start while the crew works; one set after another.", **TASK, **COUNT),
    Term("upkeep_sets_out_max", "N_out,max", "1", "Sets that may be out", "Installed less required sets: what may be missing while the firm demand is carried.",
         **COUNT, low=0, high=32, either=True),
    Term("upkeep_months_closed", "m_x", "1", "Months without outages", "One for each month of peak load, in which no set is taken out for upkeep; else nought.",
         axes=("month",), **COUNT, low=0, high=1, default="0", source="no-closed-months"),
    Term("task_outage_days", "n_w", "1", "Days of outage", "Days of the crew on which a set is out for one round of the task.", **TASK, **COUNT),
    Term("task_plan_start", "d_b", "s", "Planned start", "First day of work of the one crew, what is due earliest first.", **TASK, **DATE, absent=NOT_OUT),
    Term("task_plan_end", "d_e", "s", "Back in service", "Day on which the last set is back, in that plan.", **TASK, **DATE, absent=NOT_OUT),
    Term("task_latest_start", "d_s,x", "s", "Latest start", "Last day on which the work may begin so that this task and all later ones are still in time.",
         **TASK,
         **DATE, absent=NOT_OUT),
    Term("task_plan_limit", "d_e,x", "s", "Back in service at the latest", "Latest day of a task that is not overdue already.", **TASK, **DATE,
         absent="overdue already"),
    Term("task_month_count", "n_m", "1", "Times in the month", "How often the task is due in each month of the year after the status date.",
         axes=("task", "month"), **COUNT),
)

COST = (
    Term("task_cost", "C_k", "cur", "Cost of one", "Work, parts and liquids of one time, on one set or for the plant.", **TASK, **MONEY, low=0, optional=True,
         sample="900 EUR"),
    Term("task_cost_yearly", "C_k,y", "cur", "Cost in a year", "Mean cost of the task in a year, on all sets.", **TASK, **MONEY),
    Term("upkeep_cost_yearly", "C_U", "cur", "Cost of upkeep in a year", "Mean cost of all tasks in a year, without overhauls.", **MONEY),
    Term("set_upkeep_cost_yearly", "C_U,1", "cur", "Upkeep of one set in a year", "Mean cost of the tasks done on each set, for one of them.", **MONEY),
    Term("task_outage_yearly", "t_k,out", "s", "Outage in a year", "Mean time in a year for which a set is out for the task.", **TASK, **HOURS),
    Term("upkeep_outage_yearly", "t_U", "s", "Outage for upkeep in a year", "Mean time in a year for which a set of the plant is out for upkeep.", **HOURS),
    Term("set_upkeep_outage_yearly", "t_U,1", "s", "Outage of a set for upkeep in a year", "Mean time in a year for which one set is out for upkeep.", **HOURS),
    Term("upkeep_outage_share", "w", "1", "Share of outage", "The same over the year: how likely a failure of the supply meets a set that is out.",
         shown=("%",)),
)

PARTS = (
    Term("part_task", "", "reference", "Needed for", "The task that uses the part.", **PART, refers_to="task"),
    Term("part_needed", "n_p", "1", "Needed", "Number that one round of the task uses, on all sets.", **PART, **COUNT, low=1, high=10000, sample="3"),
    Term("part_held", "n_s", "1", "Held", "Number in the store of the plant.", **PART, **COUNT, low=0, high=10000, sample="1"),
    Term("part_lead_time", "t_p", "s", "Lead time", "Time from order to delivery, by the supplier's word.", **PART, shown=("d",), low=0, high=94_608_000,
         sample="20 d"),
    Term("part_price", "c_p", "cur", "Price of one", "Of one piece, delivered.", **PART, **MONEY, low=0, optional=True, sample="400 EUR"),
    Term("part_missing", "n_p,x", "1", "To be ordered", "Number that the store lacks for the next round.", **PART, **COUNT),
    Term("part_order_by", "d_p", "s", "Order by", "Day on which an order still arrives before the task is due.", **PART, **DATE, absent="all are held"),
    Term("part_stock_worth", "C_p", "cur", "Worth of the store", "Of all that is held of the part.", **PART, **MONEY),
    Term("parts_stock_worth", "C_P", "cur", "Worth of all spare parts", "Of all parts that are held.", **MONEY),
)

OVERHAULS = (
    Term("overhaul_stage_hours", "t_o", "s", "Hours of the overhaul", "Reading of the hour meter at which the overhaul is next due.", **STAGE, **HOURS,
         low=3600,
         high=1e9, default="30000 h, 50000 h, 100000 h", source="overhaul-stages"),
    Term("overhaul_stage_calendar", "y_o", "s", "Age of the overhaul", "Age of the plant at which the overhaul is next due, however little it has run.",
         **STAGE,
         **YEARS, low=0, high=3.2e9, default="10 year, 20 year, 30 year", source="overhaul-ages"),
    Term("overhaul_stage_years_by_hours", "y_o,h", "s", "Years to the overhaul by hours", "Time until the hours are used up at the running of a usual year.",
         **STAGE,
         **YEARS),
    Term("overhaul_stage_by_hours", "d_o,h", "s", "Overhaul by hours", "Day on which the hours are used up; the last day of 2199 stands for later.", **STAGE,
         **DATE),
    Term("overhaul_stage_by_calendar", "d_o,c", "s", "Overhaul by the calendar", "Day on which the plant has that age.", **STAGE, **DATE),
    Term("overhaul_stage_date", "d_o", "s", "Overhaul", "By hours or by the calendar, whichever comes first.", **STAGE, **DATE),
    Term("overhaul_stage_years", "y_o,n", "s", "Years to the overhaul", "From the status date, or from commissioning if that is later; none if it is past.",
         **STAGE,
         **YEARS),
    Term("overhaul_stage_cost", "C_o", "cur", "Cost of the overhaul", "Of one set; when it is worn out, of its replacement.", **STAGE, **MONEY, low=0,
         optional=True, sample="[60000 EUR, 140000 EUR, 400000 EUR]"),
    Term("overhaul_stage_payment", "C_o,N", "cur", "Payment for the overhaul", "Of all sets.", **STAGE, **MONEY),
    Term("life_left", "y_L", "s", "Rest of the project's life", "Project life less the age of the plant; none if that is over.", **YEARS),
    Term("overhaul_cycle", "y_w", "s", "Life of an engine", "Time from new to worn out, by hours or by age.", **YEARS),
    Term("overhaul_stage_times", "n_o", "1", "Times in the rest of the life", "How often the overhaul falls into it, a replaced engine beginning anew.",
         **STAGE,
         **COUNT),
)

MODE = {"axes": ("running_mode",)}
RUNNING = (
    Term("task_times_hourly", "n_k,h", "1/s", "Times in an hour of running", "By hours alone, without those in which a larger task does it as well.", **TASK,
         shown=("1/h",), low=0, digits=4),
    Term("running_wear_price", "c_w", "cur/s", "Wear of an hour's running", "Tasks by hours, and the share of the overhauls, for one set.", shown=("cur/h",),
         low=0, digits=4),
    Term("mode_upkeep_yearly", "C_U,m", "cur", "Upkeep in a year of the mode", "Mean cost of all tasks at the hours of the mode, without overhauls.", **MODE,
         **MONEY),
    Term("mode_set_upkeep_yearly", "C_U1,m", "cur", "Upkeep of one set in a year of the mode", "Of the tasks that are done on each set.", **MODE, **MONEY),
    Term("mode_stage_date", "d_o,m", "s", "Overhaul in the mode", "By the hours of the mode or by age, whichever comes first.",
         axes=("running_mode", "overhaul_stage"), **DATE),
    Term("mode_engine_life", "y_w,m", "s", "Life of an engine in the mode", "Time from new to worn out, by hours or by age.", **MODE, **YEARS),
)

TERMS = CLOCKS + PLAN + COST + PARTS + OVERHAULS + RUNNING
