"""Terms of life-cycle cost: ways compared, payments on days of their own, years, and what is uncertain."""

from basis.language.terms import Listed, Term

LAST = 50  # years that can be counted
LISTS = (
    Listed("cost_case", "cost_cases"),
    Listed("cost_payment", "cost_payments"),
    Listed("cost_bar", "cost_bars"),
    Listed("cost_year", "cost_years", fixed=tuple(f"year_{number}" for number in range(LAST + 1))),
)

CASE, PAYMENT, BAR, YEAR, FLOW, MOVED = (("cost_case",), ("cost_payment",), ("cost_bar",), ("cost_year",), ("cost_case", "cost_year"),
                                         ("cost_case", "cost_bar"))
STAGE = ("cost_case", "overhaul_stage")
MONEY = {"shown": ("cur",), "digits": 4}
FACTOR = {"shown": ("1",), "digits": 5}
TIME = {"shown": ("year",), "low": 0}
CHAPTER = {"unit": "choice", "choices": ("in_this_book", "not_in_this_book"), "default": "not_in_this_book", "source": "definition", "constant": True}
RATE = {"shown": ("%",), "low": -0.99, "high": 10.0, "signed": True}
MOVES = ("capital", "energy_price", "fuel_price", "running_hours", "upkeep", "payments", "income", "residual", "discount_rate")

TERMS = (
    # the ways compared
    Term("cost_case_chosen", "", "reference", "Chosen way", "The one that the project builds.", refers_to="cost_case", optional=True),
    Term("cost_case_base", "", "reference", "Way compared with", "The one against which savings and pay-back are counted.", refers_to="cost_case",
         optional=True),
    Term("cost_compared", "N_b", "1", "Ways compared with the chosen one", "One where that is another way, nought where it is the same.", high=1,
         whole=True),
    Term("cost_capital", "C_0", "cur", "First cost", "All that is paid by the day of commissioning.", axes=CASE, low=0, **MONEY, sample="850000 cur"),
    Term("cost_price_day", "d_p", "s", "Day of the price", "Day of the offer or index on which the first cost rests.", axes=CASE, shown=("date",), kind="date",
         optional=True),
    Term("cost_price_age", "t_p", "s", "Age of the price", "From the day of the price to commissioning; nought if that is earlier.", axes=CASE, **TIME),
    Term("cost_price_age_max", "t_p,max", "s", "Age of a price allowed", "An older price is asked for again before anything is decided on it.", **TIME,
         high=315_360_000, default="2 year", source="cost-price-age"),
    Term("cost_running_from", "", "choice", "Whose running",
         "Whether the way runs as the ledger lists it, or in a running mode, which stands in place of what the ledger lists for income.", axes=CASE,
         choices=("ledger", "mode"), default="ledger", source="cost-nothing-stated"),
    Term("cost_mode", "", "reference", "Running mode of the way", "Mode whose fuel and income the way has.", axes=CASE, refers_to="running_mode",
         optional=True),
    Term("cost_sets", "N_c", "1", "Sets of the way", "Sets for which tasks of upkeep and overhauls are paid.", axes=CASE, shown=("1",), digits=4, low=1,
         high=40, whole=True, either=True),
    Term("cost_heat_yearly", "C_w", "cur", "Standby heat in a year", "Energy of heaters of blocks and room, and their wear.", axes=CASE, low=0, **MONEY,
         either=True, sample="9000 cur"),
    Term("cost_loss_yearly", "C_v", "cur", "Losses in a year", "Energy lost in cables and transformers.", axes=CASE, low=0, **MONEY, either=True,
         sample="3000 cur"),
    Term("cost_fuel_volume_yearly", "V_a", "m^3", "Fuel of a year", "Fuel of tests and outages, all sets, in a usual year.", axes=CASE, shown=("L", "gal"),
         low=0, high=1e6, either=True, sample="9000 L"),
    Term("cost_fuel_yearly", "C_f", "cur", "Cost of fuel in a year", "At the price of the project.", axes=CASE, **MONEY),
    Term("cost_upkeep_yearly", "C_u", "cur", "Upkeep in a year", "Tasks of upkeep: service, oil and coolant, batteries. Overhauls have days of their own.",
         axes=CASE, low=0, **MONEY, either=True, optional=True, sample="15000 cur"),
    Term("cost_tests_yearly", "C_T", "cur", "Tests in a year", "People of the tests and hire of a load bank; their fuel is in the fuel of a year.", axes=CASE,
         low=0, **MONEY, either=True, optional=True, sample="2500 cur"),
    Term("cost_other_yearly", "C_o,y", "cur", "Other cost of a year", "What no other chapter counts: contracts, insurance, staff, rent, urea.", axes=CASE,
         low=0, **MONEY, default="0 cur", source="cost-nothing-stated"),
    Term("cost_standing_yearly", "C_s", "cur", "Upkeep, tests and other cost of a year", "Sum.", axes=CASE, low=0, **MONEY),
    Term("cost_income_yearly", "C_i", "cur", "Income of a year", "Paid by others, or saved, for what the plant does or stands ready to do.", axes=CASE,
         signed=True, **MONEY, either=True, sample="9000 cur"),
    Term("cost_residual", "C_R", "cur", "Worth at the end", "What the plant still fetches on the last day, dismantling taken off.", axes=CASE, signed=True,
         **MONEY, default="0 cur", source="cost-nothing-stated"),
    Term("fuel_price_growth", "g_F", "1", "Growth of the fuel price", "Yearly growth of the fuel price above that of other prices.", shown=("%",), low=-0.1,
         high=0.2, default="0 %", source="no-price-growth"),

    # payments on days of their own
    Term("payment_case", "", "reference", "Way that pays", "Way of building to which the payment belongs.", axes=PAYMENT, refers_to="cost_case"),
    Term("payment_date", "d_P", "s", "Day of the payment", "Planned day.", axes=PAYMENT, shown=("date",), kind="date", sample="2040-06-01"),
    Term("payment_amount", "C_P", "cur", "Payment", "At prices of the first day: an overhaul, a replacement. Below nought it is received.", axes=PAYMENT,
         signed=True, **MONEY, sample="120000 cur"),
    Term("payment_year", "n_P", "1", "Year of the payment", "Year of the life at whose end it counts; nought is the first day.", axes=PAYMENT, low=0,
         whole=True),
    Term("payment_flow", "C_P,n", "cur", "Listed payments of the year", "Sum of those of the way that fall into the year.", axes=FLOW, signed=True, **MONEY),
    Term("cost_overhauls", "", "choice", "Whose overhauls", "Those of the chapter on upkeep, or only what the way lists among its payments.", axes=CASE,
         choices=("of_upkeep", "own"), default="of_upkeep", source="definition"),
    Term("cost_stage_payment", "C_o,c", "cur", "Payment for the overhaul", "As upkeep has it, for all sets of the way; none where it has its own.", axes=STAGE,
         **MONEY),
    Term("cost_stage_time", "t_o,c", "s", "Commissioning to the overhaul", "To the first of its kind.", axes=STAGE, **TIME),
    Term("cost_engine_life", "y_w,c", "s", "Life of an engine", "From new to worn out in this way; then its overhauls begin anew.", axes=CASE, **TIME),
    Term("overhaul_flow", "C_O,n", "cur", "Overhauls of the year", "Sum of those that upkeep plans for the year.", axes=FLOW, low=0, **MONEY),
    Term("bank_flow", "C_B,n", "cur", "Load bank bought in the year", "By the chapter on tests.", axes=YEAR, low=0, **MONEY),
    Term("cost_dated_flow", "C_D,n", "cur", "Dated payments of the year", "Listed payments, overhauls, and a load bank that is bought.", axes=FLOW, signed=True,
         **MONEY),

    # the years
    Term("cost_year_number", "n", "1", "Year", "Years from the day of commissioning.", axes=YEAR, whole=True, constant=True,
         default=", ".join(map(str, range(LAST + 1))), source="cost-years"),
    Term("cost_life_max", "t_L,max", "s", "Longest life counted", "Years that this book can count.", **TIME, default=f"{LAST} year", constant=True,
         source="cost-years"),
    Term("cost_last_year", "n_L", "1", "Last year", "Year in which the life of the project ends.", low=0, high=LAST, whole=True),
    Term("cost_year_share", "x_n", "1", "Part of the year within the life", "One for a whole year, less for the last year of a life that is no whole number.",
         axes=YEAR, shown=("1",)),
    Term("cost_worth_factor", "v_n", "1", "Present-worth factor of the year", "Worth on the first day of one unit of money paid at the end of the year.",
         axes=YEAR, high=1, **FACTOR),
    Term("cost_yearly_factor", "a_L", "1", "Present worth of one a year", "Over the life of the project.", **FACTOR),
    Term("cost_energy_factor", "a_E", "1", "Present worth of one a year of energy", "Growing with the price of energy, first paid at the price of today.",
         **FACTOR),
    Term("cost_fuel_factor", "a_F", "1", "Present worth of one a year of fuel", "The same growing with the price of fuel.", **FACTOR),
    Term("cost_flow", "C_n", "cur", "Cash flow", "Paid in the year less what is received.", axes=FLOW, signed=True, **MONEY),

    # what it comes to
    Term("cost_energy_worth", "K_E", "cur", "Heat and losses over the life", "Present worth.", axes=CASE, **MONEY),
    Term("cost_fuel_worth", "K_F", "cur", "Fuel over the life", "Present worth.", axes=CASE, **MONEY),
    Term("cost_upkeep_worth", "K_u", "cur", "Upkeep, tests and other cost over the life", "Present worth.", axes=CASE, **MONEY),
    Term("cost_payments_worth", "K_P", "cur", "Dated payments over the life", "Present worth.", axes=CASE, signed=True, **MONEY),
    Term("cost_income_worth", "K_i", "cur", "Income over the life", "Present worth.", axes=CASE, signed=True, **MONEY),
    Term("cost_residual_worth", "K_R", "cur", "Worth at the end, on the first day", "Present worth.", axes=CASE, signed=True, **MONEY),
    Term("cost_net_present", "K", "cur", "Net present cost", "All that is paid over the life less all that is received, in money of the first day.", axes=CASE,
         signed=True, shown=("cur",), digits=6),
    Term("cost_flow_worth", "K_n", "cur", "Net present cost by years", "The same, added up year by year.", axes=CASE, signed=True, shown=("cur",), digits=6),
    Term("cost_flow_gap", "ε_K", "1", "Difference of the two sums", "Over the first cost and all that is paid and received.", axes=CASE, shown=("1",)),
    Term("cost_flow_gap_max", "ε_K,max", "1", "Difference allowed", "Rounding of the computer.", shown=("1",), default="0.000000001", source="definition",
         constant=True),
    Term("cost_equal_yearly", "C_a", "cur", "Equal yearly cost", "Even yearly payment that is worth the same.", axes=CASE, signed=True, shown=("cur",),
         digits=6),

    # against the way compared with
    Term("cost_saved", "S_n", "cur", "Saved in the year", "What the way compared with pays less what this one pays.", axes=FLOW, signed=True, **MONEY),
    Term("cost_saving", "S", "cur", "Saved over the life", "Present worth; below nought it costs more.", axes=CASE, signed=True, **MONEY),
    Term("cost_gap", "ε_S", "1", "Difference of the ways", "Of the two net present costs, over that of the way compared with.", axes=CASE, shown=("%",), low=0,
         absent="the way compared with costs nothing or earns"),
    Term("cost_gap_min", "ε_S,min", "1", "Difference that decides", "Below it the figures of such a plan do not tell two ways apart.", shown=("%",), low=0,
         high=1, default="10 %", source="cost-inconclusive"),
    Term("cost_capital_equal", "C_0,=", "cur", "First cost at which both cost the same",
         "What this way may cost at first before the one compared with is as good.", axes=CASE, signed=True, shown=("cur",), digits=7),
    Term("cost_savings_ratio", "SIR", "1", "Savings over extra first cost", "Of the chosen way: present worth saved later over what is paid more at first.",
         signed=True, shown=("1",), digits=4, absent="the chosen way does not cost more at first"),
    Term("cost_payback", "t_s", "s", "Simple pay-back", "Until the savings, without interest, have met what was paid more.", axes=CASE, **TIME,
         absent="it does not cost more at first, or is never paid back within the life"),
    Term("cost_payback_discounted", "t_d", "s", "Discounted pay-back", "The same with interest.", axes=CASE, **TIME,
         absent="it does not cost more at first, or is never paid back within the life"),
    Term("cost_rates", "N_i", "1", "Rates of return", "Rates at which both ways cost the same: none, one or several.", axes=CASE, low=0, whole=True),
    Term("cost_rate", "i_0", "1", "Internal rate of return", "Rate at which both ways cost the same; of several the lowest.", axes=CASE, **RATE, digits=4,
         absent="at no rate do both cost the same"),
    Term("cost_rate_highest", "i_1", "1", "Highest rate of return", "Of several rates at which both ways cost the same.", axes=CASE, **RATE, digits=4,
         absent="there are not several"),

    # the chosen way
    Term("cost_held", "K_h", "cur", "Net present cost of the chosen way", "Over the life.", signed=True, **MONEY),
    Term("cost_held_yearly", "C_a,h", "cur", "Equal yearly cost of the chosen way", "Even payment over the life.", signed=True, **MONEY),
    Term("cost_base", "K_b", "cur", "Net present cost compared with", "Of the way against which savings are counted.", signed=True, **MONEY,
         absent="no other way is compared with the chosen one"),
    Term("cost_held_saving", "S_h", "cur", "Saved by the chosen way", "Against the way compared with, over the life.", signed=True, **MONEY),
    Term("cost_held_gap", "ε_h", "1", "Difference of the chosen way", "Of the two net present costs, over that of the way compared with.", shown=("%",), low=0,
         absent="no other way is compared with the chosen one, or that one costs nothing or earns"),
    Term("cost_undecided", "ε_u", "1", "Difference too small to decide", "Of the two ways, where it is within what such figures can tell apart.", shown=("%",),
         low=0, absent="the two lie further apart, or no other way is compared with the chosen one"),

    # what it hangs on
    Term("bar_of", "", "choice", "What is uncertain", "Figure that is moved while all others stand.", axes=BAR, choices=MOVES),
    Term("bar_low", "f_1", "1", "Low", "Low end, as a share of the figure that the book uses.", axes=BAR, shown=("%",), low=0, high=100, sample="80 %"),
    Term("bar_high", "f_2", "1", "High", "High end, as a share of the figure that the book uses.", axes=BAR, shown=("%",), low=0, high=100, sample="130 %"),
    Term("bar_worth", "K_j", "cur", "Part that it moves", "Present worth of what goes with the figure; none for the discount rate.", axes=MOVED,
         signed=True, **MONEY),
    Term("bar_cost_low", "K_j1", "cur", "Net present cost, low", "With the figure at its low end.", axes=MOVED, signed=True, **MONEY),
    Term("bar_cost_high", "K_j2", "cur", "Net present cost, high", "With the figure at its high end.", axes=MOVED, signed=True, **MONEY),
    Term("bar_held_low", "K_h1", "cur", "Cost of the chosen way, low", "With the figure at its low end.", axes=BAR, signed=True, **MONEY),
    Term("bar_held_high", "K_h2", "cur", "Cost of the chosen way, high", "With the figure at its high end.", axes=BAR, signed=True, **MONEY),
    Term("bar_width", "ΔK", "cur", "Length of the bar", "What the figure moves, whichever way.", axes=BAR, **MONEY),
    Term("bar_saving_low", "S_1", "cur", "Saved, low", "By the chosen way against the one compared with.", axes=BAR, signed=True, **MONEY),
    Term("bar_saving_high", "S_2", "cur", "Saved, high", "By the chosen way against the one compared with.", axes=BAR, signed=True, **MONEY),
    Term("bar_turns", "N_t", "1", "Turns the choice", "One where the cheaper of the two ways is another at one end than at the other.", axes=BAR, high=1,
         whole=True),
    Term("bars_turning", "N_t,Σ", "1", "Figures that turn the choice", "Number of the uncertain figures that do so within their own range.", low=0, whole=True),

    # chapters that may be left out
    Term("cost_fuel_chapter", "", name="Fuel", meaning="Whether this book works out the fuel of a year.", chapter="fuel", **CHAPTER),
    Term("cost_upkeep_chapter", "", name="Upkeep and life", meaning="Whether this book works out the cost of upkeep.", chapter="upkeep", **CHAPTER),
    Term("cost_modes_chapter", "", name="Running modes", meaning="Whether this book works out what each running mode burns and earns.", chapter="modes",
         **CHAPTER),
    Term("cost_testing_chapter", "", name="Tests", meaning="Whether this book works out what tests cost.", chapter="testing", **CHAPTER),
    Term("cost_station_chapter", "", name="Station supply", meaning="Whether this book works out the losses of all transformers.", chapter="station_supply",
         **CHAPTER),
)
