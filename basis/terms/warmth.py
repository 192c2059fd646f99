"""Terms of standby warmth: the hours of a year, the room and its engine blocks, ways of heating, energy, wear and cost."""

from basis.terms import Term

RATIO = {"shown": ("%",), "low": 0}
COUNT = {"shown": ("1",), "digits": 4, "low": 0}
TEMPERATURE = {"shown": ("degC", "degF"), "kind": "temperature", "low": 193.15, "high": 353.15}
DIFFERENCE = {"shown": ("K", "delta_degF"), "kind": "temperature difference", "low": 0}
HEAT = {"shown": ("kW", "MBH"), "kind": "heat flow", "low": 0}
POWER = {"shown": ("kW",), "kind": "active power", "low": 0}
CONDUCTANCE = {"shown": ("W/K", "Btu/(h*delta_degF)"), "low": 0}
FILM = {"shown": ("W/(m^2*K)", "Btu/(h*ft^2*delta_degF)"), "low": 0}
ENERGY = {"shown": ("kWh",), "kind": "energy", "low": 0}
CAPACITY = {"shown": ("kJ/K", "Btu/delta_degF"), "low": 0}
FLOW = {"shown": ("m^3/h", "cfm"), "low": 0}
MONEY = {"shown": ("cur",), "low": 0}
SAVING = {"shown": ("cur",)}
YEARS = {"shown": ("year",), "low": 0}
CASE, TRIAL, MONTH = ("heating_case",), ("set_point",), ("heating_case", "month")

WEATHER = (
    Term("outdoor_temperature_hourly", "T_o", "K", "Outdoor temperature, hour by hour", "Dry-bulb temperature of every hour of a year, from a weather file of the project.",
         axes=("hour",), **TEMPERATURE),
    Term("hour_step", "Δt", "s", "Step of the year", "Time for which each temperature of the file stands.", shown=("h",), default="1 h", source="definition", constant=True),
    Term("outdoor_temperature_mean", "T_o,m", "K", "Mean outdoor temperature", "Mean of the hours of the weather file.", **TEMPERATURE),
    Term("weather_temperature_min", "T_o,1", "K", "Coldest hour of the weather file", "Lowest temperature of its hours.", **TEMPERATURE),
    Term("weather_temperature_max", "T_o,2", "K", "Warmest hour of the weather file", "Highest temperature of its hours.", **TEMPERATURE),
    Term("room_temperature_usual", "T_u", "K", "Usual temperature of a plant room", "Temperature at which plant rooms are commonly held.", **TEMPERATURE,
         default="60 degF", source="room-usual"),
    Term("heating_degree_hours", "G_h", "K*s", "Degree hours of heating", "Sum of the hours below the usual room temperature, each times what is lacking.",
         shown=("K*h", "delta_degF*h"), digits=4),
)

ROOM = (
    Term("heated_room_volume", "V_r", "m^3", "Volume of the plant room", "Air volume of the room in which the sets stand by.", shown=("m^3", "ft^3"), low=0),
    Term("room_surface_area", "A_s", "m^2", "Area of the surface", "Area of wall, roof, floor, door or closed damper, as seen from the room.",
         axes=("room_surface",), shown=("m^2", "ft^2"), low=0),
    Term("room_surface_transmittance", "U_s", "W/(m^2*K)", "Transmittance of the surface", "Heat flow through the surface per area and kelvin, from room air to outdoor air.",
         axes=("room_surface",), **FILM, high=20),
    Term("fabric_conductance", "H_F", "W/K", "Conductance of the fabric", "Heat flow through all surfaces per kelvin.", **CONDUCTANCE),
    Term("winter_air_density", "ρ_w", "kg/m^3", "Density of outdoor air in the heating year", "Dry air at the pressure of the site and the mean of the year.", shown=("kg/m^3", "lb/ft^3")),
    Term("room_heat_capacity", "C_r", "J/K", "Heat capacity of the room", "Walls, floor and foundations that follow the room air within a day or so.",
         shown=("MJ/K", "Btu/delta_degF"), low=0, default="0 MJ/K", source="no-storage"),
    Term("room_other_heat", "Φ_x", "W", "Other heat in the room", "Chargers, panels and transformers that give heat all year and are paid for elsewhere.", **HEAT, default="0 W", source="no-other-heat"),
)

BLOCK = (
    Term("block_warm_area", "A_b", "m^2", "Warm surface of a block", "Surface of engine block, sump, coolers and pipes of one set that is kept warm.", shown=("m^2", "ft^2"), low=0.1, optional=True),
    Term("block_warm_height", "L_b", "m", "Height of the block", "Height along which air rises at the warm surface.", shown=("m", "ft"), low=0.1, high=5, default="1.5 m", source="block-size-usual"),
    Term("block_emissivity", "ε_b", "1", "Emissivity of the block", "Of painted or oxidised metal.", shown=("1",), low=0.02, high=1, default="0.9", source="block-emissivity"),
    Term("block_film_room_temperature", "T_f,r", "K", "Room temperature of the film", "Room temperature for which the heat transfer at the block is worked out.", **TEMPERATURE,
         default="10 degC", source="film-point"),
    Term("block_air_viscosity", "ν_a", "m^2/s", "Kinematic viscosity of air", "Dry air at the temperature of the film, about 300 K.", shown=("m^2/s", "ft^2/s"),
         default="1.57e-5 m^2/s", source="air-at-300-k", constant=True),
    Term("block_air_conductivity", "λ_a", "W/(m*K)", "Thermal conductivity of air", "Dry air at about 300 K.", shown=("W/(m*K)", "Btu/(h*ft*delta_degF)"),
         default="0.0263 W/(m*K)", source="air-at-300-k", constant=True),
    Term("block_air_prandtl_number", "Pr", "1", "Prandtl number of air", "Dry air at about 300 K.", shown=("1",), default="0.707", source="air-at-300-k", constant=True),
    Term("block_rayleigh_number", "Ra", "1", "Rayleigh number at the block", "Drive of the rising air against friction and conduction.", axes=CASE, shown=("1",)),
    Term("block_nusselt_number", "Nu", "1", "Nusselt number at the block", "Heat transfer over that of still air.", axes=CASE, shown=("1",)),
    Term("block_convection", "h_c", "W/(m^2*K)", "Convection at the block", "Heat carried off by rising air, per area and kelvin.", axes=CASE, **FILM),
    Term("block_radiation", "h_r", "W/(m^2*K)", "Radiation at the block", "Heat radiated to the room, per area and kelvin.", axes=CASE, **FILM),
    Term("block_surface_coefficient", "h_b", "W/(m^2*K)", "Surface coefficient of the block", "Convection and radiation together.", axes=CASE, **FILM),
    Term("block_metal_mass", "m_b", "kg", "Metal that is kept warm", "Iron of the engine that follows its coolant.", shown=("kg", "lb"), low=0),
    Term("block_coolant_volume", "V_w", "m^3", "Coolant of an engine", "Coolant in block and heater circuit, without the radiator.", shown=("L", "gal"), low=0),
    Term("block_oil_volume", "V_l", "m^3", "Oil of an engine", "Lubricating oil in the sump.", shown=("L", "gal"), low=0),
    Term("iron_heat_capacity", "c_Fe", "J/(kg*K)", "Heat capacity of iron", "Cast iron and steel.", shown=("J/(kg*K)", "Btu/(lb*delta_degF)"), default="480 J/(kg*K)", source="block-materials", constant=True),
    Term("block_coolant_heat_capacity", "c_w", "J/(m^3*K)", "Heat capacity of coolant", "Equal parts of water and glycol, by volume of coolant.", shown=("kJ/(L*K)", "Btu/(gal*delta_degF)"),
         default="3.6 kJ/(L*K)", source="block-materials", constant=True),
    Term("block_oil_heat_capacity", "c_l", "J/(m^3*K)", "Heat capacity of oil", "By volume of oil.", shown=("kJ/(L*K)", "Btu/(gal*delta_degF)"), default="1.75 kJ/(L*K)", source="block-materials", constant=True),
    Term("block_heat_capacity", "C_b", "J/K", "Heat capacity of an engine", "Iron, coolant and oil of one engine.", **CAPACITY),
    Term("block_heater_ratio_usual", "p_h", "1", "Usual power of block heaters", "Power of the block heaters of a set over its rated power.", shown=("W/kW",), low=0,
         default="6 W/kW", source="block-heater-usual"),
    Term("block_heater_power", "P_h", "W", "Power of the block heaters", "All elements of one set.", **POWER, either=True),
    Term("block_heater_deviation", "δ_h", "1", "Block heaters beside common practice", "How far their power is from what is usual for the rating, either way.", shown=("%",)),
    Term("block_heater_deviation_max", "δ_h,max", "1", "Deviation allowed from common practice", "Beyond it the figure deserves a second look.", **RATIO, default="50 %", source="block-heater-usual"),
    Term("elements_per_set", "z_e", "1", "Heating elements of a set", "Elements that the thermostats of one set switch.", **COUNT, default="2", source="elements-usual"),
    Term("element_cycles_rated", "N_e", "1", "Rated cycles of an element", "Switchings that an element with its contactor is good for.", **COUNT, default="100000", source="element-life"),
    Term("element_replacement_cost", "C_e", "cur", "Replacement of an element", "Element, coolant and labour.", **MONEY, optional=True),
)

CASES = (
    Term("heating_set_point", "T_s", "K", "Set point of the room", "Temperature below which the room is heated; none where there is no room heat.", axes=CASE, **TEMPERATURE, optional=True),
    Term("heating_fabric_share", "x_F", "1", "Fabric that is left", "Conductance of the fabric in this case, over that of the room as listed.", axes=CASE, **RATIO, default="100 %", source="definition"),
    Term("heating_air_changes", "n", "1/s", "Air changes", "Outdoor air that leaks through the shut room, over its volume.", axes=CASE, shown=("1/h",), low=0, high=0.02),
    Term("heating_damper_leakage", "q_V,d", "m^3/s", "Leakage of dampers", "Outdoor air that leaks through shut dampers and louvres, beyond the air changes.", axes=CASE, **FLOW, default="0 m^3/h", source="definition"),
    Term("heating_airflow", "q_V,a", "m^3/s", "Air through the shut room", "Air changes and leakage of dampers together.", axes=CASE, **FLOW),
    Term("heating_air_conductance", "H_a", "W/K", "Conductance of the air", "Heat that the air takes out, per kelvin.", axes=CASE, **CONDUCTANCE),
    Term("heating_room_conductance", "H_r", "W/K", "Conductance of the room", "Fabric and air together: heat that leaves the room per kelvin.", axes=CASE, **CONDUCTANCE),
    Term("heating_hold_temperature", "T_h", "K", "Temperature of the blocks", "Mean temperature at which the thermostat holds a block.", axes=CASE, **TEMPERATURE, default="40 degC", source="hold-temperature-usual"),
    Term("heating_hold_band", "ΔT_h", "K", "Band of the thermostat", "From switching on to switching off.", axes=CASE, **DIFFERENCE, default="6 K", source="hold-temperature-usual"),
    Term("heating_block_exposure", "x_b", "1", "Exposure of the blocks", "Heat loss of a block to the room over that of its bare surface; less with jackets.", axes=CASE, **RATIO, default="100 %", source="definition"),
    Term("heating_block_to_room", "K_r", "W/K", "Loss of a block to the room", "Heat from one set's block to the room, per kelvin.", axes=CASE, shown=("W/K", "Btu/(h*delta_degF)"), low=0.1, either=True),
    Term("heating_block_to_outdoors", "K_o", "W/K", "Loss of a block straight to outdoors",
         "Heat from one set's block to outdoor air past the room, per kelvin: radiator core, open jacket or cold air from a leaking damper.",
         axes=CASE, **CONDUCTANCE, default="0 W/K", source="definition"),
    Term("heating_heater_share", "x_h", "1", "Block heaters in this case", "Power of the block heaters in this case, over that of the set as listed.", axes=CASE, **RATIO, default="100 %", source="definition"),
    Term("heating_heater_power", "P_h,c", "W", "Power of the block heaters in this case", "All elements of one set.", axes=CASE, **POWER),
    Term("heating_pump_power", "P_p", "W", "Circulating pump", "Pump that runs all the time and whose power ends as heat in the coolant, for one set.", axes=CASE, shown=("W",), kind="active power", low=0, default="0 W", source="definition"),
    Term("heating_felt_share", "x_C", "1", "Share that the thermostat feels", "Part of the engine's heat capacity that follows the thermostat within one cycle.", axes=CASE, **RATIO, high=1,
         default="10 %", source="felt-share"),
    Term("heating_felt_capacity", "C_f", "J/K", "Capacity that the thermostat feels", "Sets the length of a cycle.", axes=CASE, **CAPACITY),
    Term("heating_room_efficiency", "η_r", "1", "Efficiency of room heat", "Heat given to the room over energy bought; above one for a heat pump.", axes=CASE, shown=("1",), low=0.1, high=20, default="1", source="electric-heat"),
    Term("heating_room_price_factor", "f_r", "1", "Price factor of room heat", "Price of the energy of room heat over the price of energy of the project.", axes=CASE, shown=("1",), low=0, high=10, default="1", source="electric-heat"),
    Term("heating_block_price_factor", "f_b", "1", "Price factor of block heat", "Price of the energy of block heaters over the price of energy of the project.", axes=CASE, shown=("1",), low=0, high=10, default="1", source="electric-heat"),
    Term("heating_room_heater_power", "P_r,h", "W", "Room heat installed", "Largest heat that the room heaters give.", axes=CASE, **HEAT, default="0 kW", source="no-room-heater"),
    Term("heating_first_cost", "C_h,1", "cur", "First cost of this way", "What it costs to build, beyond what every way needs.", axes=CASE, **MONEY, default="0 cur", source="no-first-cost"),
    Term("heating_case_chosen", "", "reference", "Chosen way of heating", "The one that the project builds.", refers_to="heating_case"),
    Term("heating_case_base", "", "reference", "Way compared with", "The one against which savings are counted.", refers_to="heating_case"),
)

YEAR = (
    Term("heating_block_energy", "W_b", "J", "Energy of blocks in a year", "Heaters and pumps of all sets.", axes=CASE, digits=4, **ENERGY),
    Term("heating_room_heat", "Q_r", "J", "Room heat in a year", "Heat given to the room by its own heaters.", axes=CASE, digits=4, **ENERGY),
    Term("heating_room_temperature_min", "T_r,1", "K", "Coldest hour of the room", "Lowest mean of an hour.", axes=CASE, **TEMPERATURE),
    Term("heating_room_temperature_mean", "T_r,m", "K", "Mean room temperature", "Mean of the year.", axes=CASE, **TEMPERATURE),
    Term("heating_cold_time", "t_u", "s", "Time below the usual temperature", "Hours of the year in which the room is colder than is usual.", axes=CASE, shown=("h",), digits=4, low=0),
    Term("heating_block_temperature_min", "T_b,1", "K", "Coldest hour of a block", "Lowest mean of an hour; below the temperature held where the heaters are too small.", axes=CASE, **TEMPERATURE),
    Term("heating_room_peak", "Φ_r,1", "W", "Largest room heat", "Highest mean of an hour.", axes=CASE, **HEAT),
    Term("heating_heater_cycles", "z_h", "1", "Cycles of a heater in a year", "Times that the thermostat of a set switches on in a year.", axes=CASE, **COUNT),
    Term("heating_heater_duty", "d_h", "1", "Duty of the heaters", "Mean share of the year in which the heaters are on.", axes=CASE, shown=("%",), low=0),
    Term("heating_block_energy_joined", "W_b,j", "J", "Energy of blocks, all heat through the room", "The same with the loss straight to outdoors led through the room.", axes=CASE, digits=4, **ENERGY),
    Term("heating_room_heat_joined", "Q_r,j", "J", "Room heat, all heat through the room", "The same with the loss straight to outdoors led through the room.", axes=CASE, digits=4, **ENERGY),
    Term("heating_heater_cycles_joined", "z_h,j", "1", "Cycles of a heater, all heat through the room", "The same with the loss straight to outdoors led through the room.", axes=CASE, **COUNT),
    Term("heating_design_room_temperature", "T_r,d", "K", "Room on the coldest day of the design", "Steady room temperature at the lowest outdoor temperature of the design.", axes=CASE, **TEMPERATURE),
    Term("heating_design_block_temperature", "T_b,d", "K", "Block on the coldest day of the design", "Steady block temperature at the lowest outdoor temperature of the design.", axes=CASE, **TEMPERATURE),
    Term("heating_design_room_heat", "Φ_r,d", "W", "Room heat on the coldest day of the design", "Steady room heat at the lowest outdoor temperature of the design.", axes=CASE, **HEAT),
    Term("month_block_energy", "W_b,m", "J", "Energy of blocks by month", "Heaters and pumps of all sets.", axes=MONTH, digits=3, **ENERGY),
    Term("month_room_heat", "Q_r,m", "J", "Room heat by month", "Heat given to the room by its own heaters.", axes=MONTH, digits=3, **ENERGY),
    Term("set_point_trial", "T_s,k", "K", "Set point tried", "Set point for which the year is worked out again.", axes=TRIAL, **TEMPERATURE,
         default=", ".join(f"{celsius} degC" for celsius in range(4, 25)), source="trial-range"),
    Term("trial_block_energy", "W_b,k", "J", "Energy of blocks at the set point", "Heaters and pumps of all sets in a year.", axes=TRIAL, digits=4, **ENERGY),
    Term("trial_room_heat", "Q_r,k", "J", "Room heat at the set point", "Heat given to the room by its own heaters in a year.", axes=TRIAL, digits=4, **ENERGY),
    Term("trial_heater_cycles", "z_h,k", "1", "Cycles at the set point", "Times that the thermostat of a set switches on in a year.", axes=TRIAL, **COUNT),
)

COST = (
    Term("heating_heat_total", "Q_Σ", "J", "All heat in a year", "Heat given to blocks and room, whatever it was made from.", axes=CASE, digits=4, **ENERGY),
    Term("heating_room_energy", "W_r", "J", "Energy bought for room heat in a year", "Room heat over its efficiency.", axes=CASE, digits=4, **ENERGY),
    Term("heating_energy", "W_Σ", "J", "Energy bought in a year", "For blocks and room together.", axes=CASE, digits=4, **ENERGY),
    Term("heating_element_life", "t_e", "s", "Life of an element by switching", "Rated cycles over the cycles of a year; a hundred years at most.", axes=CASE, **YEARS),
    Term("heating_replacements", "r_e", "1", "Elements replaced in a year", "Expected for all sets, by switching alone.", axes=CASE, shown=("1",), low=0),
    Term("heating_energy_cost", "C_W", "cur", "Cost of energy in a year", "Energy bought at its prices.", axes=CASE, digits=4, **MONEY),
    Term("heating_wear_cost", "C_w", "cur", "Cost of wear in a year", "Elements replaced at their cost.", axes=CASE, **MONEY),
    Term("heating_running_cost", "C_h", "cur", "Running cost in a year", "Energy and wear.", axes=CASE, digits=4, **MONEY),
    Term("heating_yearly_cost", "C_h,a", "cur", "Whole cost in a year", "Running cost, and first cost spread over the life of the project.", axes=CASE, digits=4, **MONEY),
    Term("heating_cost_joined", "C_h,j", "cur", "Running cost, all heat through the room", "With the loss straight to outdoors led through the room.", axes=CASE, digits=4, **MONEY),
    Term("heating_cost_one_efficiency", "C_h,η", "cur", "Running cost, room heat no more efficient", "With the efficiency of room heat set to one.", axes=CASE, digits=4, **MONEY),
    Term("heating_cost_one_price", "C_h,f", "cur", "Running cost, one price", "With the same price for all energy.", axes=CASE, digits=4, **MONEY),
    Term("heating_cost_no_wear", "C_h,w", "cur", "Running cost without wear", "Energy alone.", axes=CASE, digits=4, **MONEY),
    Term("heating_cost_heat_only", "C_h,0", "cur", "Cost of the heat alone", "With all four taken away: only the heat that leaves the room counts.", axes=CASE, digits=4, **MONEY),
    Term("heating_saving", "S_h", "cur", "Saved in a year", "Running cost of the way compared with, less that of this way.", axes=CASE, **SAVING),
    Term("heating_saving_joined", "S_h,j", "cur", "Saved, all heat through the room", "The same with the loss straight to outdoors led through the room.", axes=CASE, **SAVING),
    Term("heating_saving_one_efficiency", "S_h,η", "cur", "Saved, room heat no more efficient", "The same with the efficiency of room heat set to one.", axes=CASE, **SAVING),
    Term("heating_saving_one_price", "S_h,f", "cur", "Saved, one price", "The same with one price for all energy.", axes=CASE, **SAVING),
    Term("heating_saving_no_wear", "S_h,w", "cur", "Saved without wear", "The same without the wear of elements.", axes=CASE, **SAVING),
    Term("heating_saving_heat_only", "S_h,0", "cur", "Saved by heat alone", "The same with all four taken away.", axes=CASE, **SAVING),
    Term("trial_heat_total", "Q_Σ,k", "J", "All heat at the set point", "Heat given to blocks and room in a year.", axes=TRIAL, digits=4, **ENERGY),
    Term("trial_block_cost", "C_b,k", "cur", "Cost of block heat at the set point", "Energy of heaters and pumps in a year.", axes=TRIAL, digits=4, **MONEY),
    Term("trial_room_cost", "C_r,k", "cur", "Cost of room heat at the set point", "Energy bought for room heat in a year.", axes=TRIAL, digits=4, **MONEY),
    Term("trial_wear_cost", "C_w,k", "cur", "Cost of wear at the set point", "Elements replaced in a year.", axes=TRIAL, digits=4, **MONEY),
    Term("trial_running_cost", "C_h,k", "cur", "Running cost at the set point", "Energy and wear in a year.", axes=TRIAL, digits=4, **MONEY),
    Term("heating_cost_least", "C_h,least", "cur", "Least running cost of the set points tried", "The bottom of the curve.", digits=4, **MONEY),
    Term("set_point_cheapest", "T_s,1", "K", "Cheapest set point", "Set point, of those tried, at which the running cost is least.", **TEMPERATURE),
    Term("set_point_excess", "e_s", "1", "Cost above the cheapest set point", "Running cost of the chosen way, over the bottom of its curve, less one.", shown=("%",)),
    Term("set_point_excess_max", "e_s,max", "1", "Cost allowed above the cheapest", "What the owner accepts for other reasons, such as cranking.", **RATIO, default="10 %", source="set-point-excess"),
)

HELD = (
    Term("room_temperature_held", "T_r", "K", "Coldest room", "Of the chosen way of heating, in the weather year or on the coldest day of the design; a battery that stands in the room is as cold.", **TEMPERATURE, either=True),
    Term("room_temperature_mean_held", "T_m", "K", "Mean room temperature of the year", "Of the chosen way of heating, without the hours in which sets run.", **TEMPERATURE, either=True),
    Term("room_airflow_held", "q_V,h", "m^3/s", "Air through the shut room as built", "Of the chosen way of heating.", **FLOW, either=True),
    Term("room_temperature_min", "T_r,min", "K", "Least room temperature", "Below it battery, fuel and coolant are in doubt, even with warm blocks.", **TEMPERATURE, default="40 degF", source="nfpa-110-room"),
    Term("block_temperature_held", "T_b", "K", "Coldest block", "Of the chosen way of heating, in the weather year or on the coldest day of the design.", **TEMPERATURE),
    Term("block_temperature_min", "T_b,min", "K", "Least temperature of the blocks", "From which a set takes load in the time that it was tested for.", **TEMPERATURE, default="90 degF", source="nfpa-110-room"),
    Term("room_heat_held", "Φ_r", "W", "Largest room heat as built", "Of the chosen way of heating, in the weather year or on the coldest day of the design.", **HEAT),
    Term("room_heater_power_held", "P_r", "W", "Room heat installed as built", "Of the chosen way of heating.", **HEAT),
    Term("element_life_held", "t_e,h", "s", "Life of an element as built", "Of the chosen way of heating.", **YEARS),
    Term("element_life_min", "t_e,min", "s", "Least life of an element", "One heating season, so that elements are changed in summer and not in the frost.", **YEARS, default="1 year", source="element-season"),
    Term("heating_cost_held", "C_h,h", "cur", "Whole yearly cost as built", "Of the chosen way of heating, first cost spread over the life of the project.", digits=4, **MONEY),
    Term("heating_cost_base", "C_h,x", "cur", "Whole yearly cost compared with", "Of the way against which savings are counted.", digits=4, **MONEY),
    Term("heating_saving_held", "S_h,h", "cur", "Saved in a year as built", "Running cost of the way compared with, less that of the chosen way.", **SAVING),
    Term("heating_saving_held_joined", "S_h,h,j", "cur", "Saved as built, all heat through the room", "The same with the loss straight to outdoors led through the room.", **SAVING),
    Term("heating_saving_held_one_efficiency", "S_h,h,η", "cur", "Saved as built, room heat no more efficient", "The same with the efficiency of room heat set to one.", **SAVING),
    Term("heating_saving_held_one_price", "S_h,h,f", "cur", "Saved as built, one price", "The same with one price for all energy.", **SAVING),
    Term("heating_saving_held_no_wear", "S_h,h,w", "cur", "Saved as built, without wear", "The same without the wear of elements.", **SAVING),
    Term("heating_saving_held_heat_only", "S_h,h,0", "cur", "Saved as built, by heat alone", "The same with all four taken away.", **SAVING),
)

TERMS = WEATHER + ROOM + BLOCK + CASES + YEAR + COST + HELD
