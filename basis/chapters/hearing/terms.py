"""Terms of noise to people in the plant: exposures of a working day, dose by both exchange rates, hearing protection."""

from basis.language.terms import Listed, Term

LISTS = (Listed("exposure", "exposures"),)

EXPOSURE = ("exposure",)
LEVEL = {"shown": ("dB",), "kind": "level"}
WEIGHTED = {"shown": ("dBA",), "kind": "level"}
LIMIT = {"shown": ("dBA",), "kind": "level", "low": 60, "high": 140, "optional": True}
TIME = {"shown": ("h",)}

TERMS = (
    Term("exposure_place", "", "choice", "Place", "In the plant room, close outside a wall or door of it, or a place whose level the project states.",
         axes=EXPOSURE,
         choices=("in_room", "outside_surface", "stated")),
    Term("exposure_running_case", "", "reference", "Sets that run", "Running case while the person is there.", axes=EXPOSURE, refers_to="running_case",
         optional=True),
    Term("exposure_surface", "", "reference", "Wall or door", "Surface of the room beside which the person stands.", axes=EXPOSURE, refers_to="room_surface",
         optional=True),
    Term("exposure_distance", "r_x", "m", "Distance to the machine", "From the ear, or from the inside of the wall, to the nearest machine.", axes=EXPOSURE,
         shown=("m", "ft"), low=0.5, high=200,
         default="1 m", source="ear-distance"),
    Term("exposure_others_distance", "r_x,2", "m", "Distance to the other sets", "From there to the nearest machine of any other running set.", axes=EXPOSURE,
         shown=("m", "ft"), low=0.5, high=200, either=True, sample="6 m"),
    Term("exposure_stated_level", "L_st", "dB", "Level as stated", "Level of a place that is not computed here.", axes=EXPOSURE, **WEIGHTED, low=20, high=150,
         optional=True, sample="82 dBA"),
    Term("exposure_duration", "t_x", "s", "Time at the place", "In one working day.", axes=EXPOSURE, **TIME, low=1, high=86400, sample="0.5 h"),
    Term("exposure_protection", "", "choice", "Hearing protection worn", "None, ear muffs or plugs, or muffs over plugs.", axes=EXPOSURE,
         choices=("none", "single", "double"), default="none", source="definition"),
    Term("exposure_protector_rating", "NRR", "dB", "Rating of the protector", "Single-number rating by American labelling; nought where none is worn.",
         axes=EXPOSURE, **LEVEL, low=0, high=40, default="0 dB", source="definition"),
    Term("protector_derating", "x_NRR", "1", "Part of the rating that is counted", "People wear protectors worse than laboratories do.", shown=("%",), low=0,
         high=1, default="50 %", source="osha-1910-95-protector"),
    Term("exposure_inside_level", "L_in", "dB", "Level inside", "Direct and reverberant sound of the machines at that distance.", axes=("exposure", "band"),
         **LEVEL),
    Term("exposure_band_level", "L_b", "dB", "Band level at the place", "Inside, or after the wall.", axes=("exposure", "band"), **LEVEL),
    Term("exposure_level", "L_A", "dB", "Level at the place", "A-weighted.", axes=EXPOSURE, **WEIGHTED),
    Term("exposure_level_highest", "L_A*", "dB", "Highest level at a place", "Of all exposures of the day.", **WEIGHTED),
    Term("exposures_listed", "N_x", "1", "Exposures", "Tasks of the working day that are listed.", digits=4, whole=True),
    Term("exposed_time", "t_Σ", "s", "Time of all exposures", "Of one person in one day.", **TIME),
    Term("day_length", "t_d", "s", "Hours of a day", "Nobody is exposed longer in one day.", **TIME, default="24 h", source="definition", constant=True),
    Term("working_day", "T_0", "s", "Working day", "Duration to which daily exposure refers.", **TIME, default="8 h", source="osha-1910-95", constant=True),

    Term("permitted_time_five", "T_5", "s", "Permitted time, 5 dB exchange", "How long the level may last in a day by the 5 dB rule.", axes=EXPOSURE, **TIME),
    Term("dose_five", "D_5", "1", "Dose, 5 dB exchange", "Sum of time over permitted time, levels from 90 dBA on.", shown=("%",)),
    Term("dose_five_action", "D_5,a", "1", "Dose for the action level", "The same with levels from 80 dBA on; half of it is the action level.", shown=("%",)),
    Term("average_five", "L_5", "dB", "Time-weighted average, 5 dB exchange", "Steady level of eight hours with the same dose.", **WEIGHTED),
    Term("average_five_action", "L_5,a", "dB", "Time-weighted average for the action level", "By the dose of all levels from 80 dBA on.", **WEIGHTED),
    Term("permitted_time_three", "T_3", "s", "Permitted time, 3 dB exchange", "How long the level may last in a day at equal energy.", axes=EXPOSURE, **TIME),
    Term("dose_three", "D_3", "1", "Dose, 3 dB exchange", "Sum of time over permitted time.", shown=("%",)),
    Term("average_three", "L_3", "dB", "Time-weighted average, 3 dB exchange", "Steady level of eight hours with the same dose.", **WEIGHTED),
    Term("daily_exposure_level", "L_EX,8h", "dB", "Daily exposure level", "Energy of the day spread over eight hours.", **WEIGHTED),
    Term("exposure_rule", "", "choice", "Exchange rate of the law", "Rule by which the law that the project cites counts short exposures.",
         choices=("five_decibels", "three_decibels"),
         default="three_decibels", source="casing-safe-side"),
    Term("exposure_law", "", "text", "Law on noise at work", "What the project cites for its limits.", optional=True),
    Term("day_exposure", "L_day", "dB", "Exposure of the day", "By the exchange rate of the law that the project cites, without protection.", **WEIGHTED),
    Term("day_exposure_max", "L_day,max", "dB", "Exposure of the day allowed", "Limit or action value of the law.", **LIMIT, sample="85 dBA"),

    Term("exposure_protected_level", "L_p", "dB", "Level under the protector", "What is left at the ear with the part of the rating that is counted.",
         axes=EXPOSURE, **WEIGHTED),
    Term("daily_protected_level", "L_EX,p", "dB", "Daily exposure level under protectors", "Energy of the day at the ear, 3 dB exchange.", **WEIGHTED),
    Term("average_five_protected", "L_5,p", "dB", "Time-weighted average under protectors", "Average of the day at the ear, 5 dB exchange.", **WEIGHTED),
    Term("day_protected_exposure", "L_day,p", "dB", "Exposure of the day at the ear", "By the exchange rate of the law that the project cites.", **WEIGHTED),
    Term("daily_protected_level_max", "L_day,p,max", "dB", "Exposure under protectors allowed", "Limit of the law at the ear.", **LIMIT, sample="80 dBA"),
    Term("level_without_protection_max", "L_0,max", "dB", "Level allowed without protection",
         "From here on the law, or the project, asks for hearing protection.", **LIMIT, sample="85 dBA"),
    Term("level_with_single_protection_max", "L_1,max", "dB", "Level for one protector", "Above it plugs or muffs alone are not relied upon.", **WEIGHTED,
         low=60, high=140, default="105 dBA", source="double-protection"),
    Term("level_with_double_protection_max", "L_2,max", "dB", "Level for both protectors", "Above it nobody goes in while the plant runs.", **WEIGHTED, low=60,
         high=140, default="115 dBA", source="osha-1910-95"),
    Term("protection_level_max", "L_max", "dB", "Level for the protection worn", "By what the person wears.", axes=EXPOSURE, **WEIGHTED),
)
