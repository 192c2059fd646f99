"""Terms of cooling: energy balance of the engine, coolant, loops, radiator cores, the pipes of a remote radiator, limiting ambients."""

from basis.terms import Term

LOOP, CASE, CASE_LOOP, LIMIT = ("coolant_loop",), ("running_case",), ("running_case", "coolant_loop"), ("ambient_limit",)
TEMPERATURE = {"shown": ("degC", "degF"), "kind": "temperature"}
RISE = {"shown": ("K", "delta_degF"), "kind": "temperature difference"}
HEAT = {"shown": ("kW", "Btu/min"), "kind": "heat flow"}
SHARE = {"shown": ("%",)}
CAPACITY_FLOW = {"shown": ("kW/K", "Btu/(min*delta_degF)"), "low": 0}
HEAT_CAPACITY = {"shown": ("J/(kg*K)", "Btu/(lb*delta_degF)"), "digits": 4}
DENSITY = {"shown": ("kg/m^3", "lb/ft^3"), "digits": 4}
FLOW = {"shown": ("L/s", "gpm"), "low": 0}
PRESSURE = {"shown": ("kPa", "psi"), "low": 0}
LENGTH = {"shown": ("m", "ft"), "low": 0}
VOLUME = {"shown": ("L", "gal"), "low": 0}

BALANCE = (
    Term("shaft_share", "η_sh", "1", "Share of fuel heat at the shaft", "Shaft power over fuel heat: the efficiency of the engine at site power.", **SHARE),
    Term("exhaust_share", "y_exh", "1", "Share of fuel heat in the exhaust", "Sensible heat of the exhaust, by its flow and temperature, over fuel heat.", **SHARE),
    Term("jacket_share", "y_jw", "1", "Share of fuel heat in jacket and oil", "Heat to jacket water and oil over fuel heat.", **SHARE),
    Term("charge_air_share", "y_ca", "1", "Share of fuel heat in charge air", "Heat taken from the charge air over fuel heat.", **SHARE),
    Term("engine_room_share", "y_eng", "1", "Share of fuel heat to the room", "Radiation and convection of the engine over fuel heat.", **SHARE),
    Term("balance_residual", "ΔΦ", "W", "Residual of the energy balance",
         "Fuel heat that shaft, exhaust, jacket, charge air and radiation leave unexplained; negative when they claim more than the fuel holds.", **HEAT),
    Term("balance_gap", "ε_b", "1", "Gap in the energy balance", "Size of the residual over fuel heat.", **SHARE),
    Term("balance_gap_max", "ε_b,max", "1", "Gap allowed in the energy balance", "Gap above which the data of the engine do not belong together.",
         **SHARE, low=0, high=0.5, default="5 %", source="balance-gap"),
    Term("exhaust_heat_gap", "ε_exh", "1", "Gap between two exhaust heats", "Exhaust heat by flow and temperature against the heat stated, as a share of the latter.", **SHARE),
    Term("exhaust_heat_gap_max", "ε_exh,max", "1", "Gap allowed between two exhaust heats", "More means that heat, flow and temperature are of different ratings.",
         **SHARE, low=0, high=0.5, default="10 %", source="exhaust-heat-gap"),
)

COOLANT = (
    Term("glycol", "", "choice", "Glycol", "Glycol that the coolant is mixed with.", table="glycol", default="ethylene-glycol", source="factory-fill"),
    Term("glycol_fraction", "x_g", "1", "Glycol in coolant", "Part of glycol in the coolant, by volume.", **SHARE, low=0, high=0.6, default="50 %", source="factory-fill"),
    Term("coolant_freeze_point", "T_fr", "K", "Freeze point of coolant", "Temperature at which the first ice forms.", **TEMPERATURE),
    Term("freeze_margin", "ΔT_fr", "K", "Margin to the freeze point", "How far below the lowest outdoor temperature the first ice may form at the warmest.",
         **RISE, low=0, high=30, default="5 K", source="freeze-margin"),
    Term("freeze_point_max", "T_fr,max", "K", "Freeze point allowed", "Lowest outdoor temperature less the margin.", **TEMPERATURE),
    Term("coolant_density", "ρ_c", "kg/m^3", "Density of coolant", "Density at the temperature limit of the loop.", axes=LOOP, **DENSITY),
    Term("coolant_heat_capacity", "c_c", "J/(kg*K)", "Heat capacity of coolant", "Specific heat capacity at the temperature limit of the loop.", axes=LOOP, **HEAT_CAPACITY),
    Term("coolant_viscosity", "μ_c", "Pa*s", "Viscosity of coolant", "Dynamic viscosity at the temperature limit of the loop.", axes=LOOP, shown=("cP",)),
    Term("coolant_cold_temperature", "T_c,cold", "K", "Temperature of cold coolant", "Coldest coolant that must still stand in the expansion tank.",
         **TEMPERATURE, low=213.15, high=323.15, default="5 degC", source="cold-fill"),
    Term("coolant_cold_density", "ρ_c,cold", "kg/m^3", "Density of cold coolant", "Density at the temperature of cold coolant.", **DENSITY),
)

LOOPS = (
    Term("loop_carries", "", "choice", "Heat carried", "Which heat of the engine the loop carries to the radiator.",
         axes=LOOP, choices=("jacket", "charge_air", "jacket_and_charge_air")),
    Term("loop_heat", "Φ_c", "W", "Heat of loop", "Heat that the loop of one set carries at full load.", axes=LOOP, **HEAT),
    Term("loops_heat_ratio", "x_Φ", "1", "Heat of all loops over radiator heat", "One when each heat is carried by one loop, once.", shown=("1",)),
    Term("loops_heat_gap", "ε_Φ,c", "1", "Gap between loops and radiator", "Heat of all loops against radiator heat, as a share of the latter.", **SHARE),
    Term("loops_heat_gap_max", "ε_Φ,c,max", "1", "Gap allowed between loops and radiator", "More than rounding means a heat counted twice, or forgotten.",
         **SHARE, low=0, high=0.5, default="2 %", source="loops-heat-gap"),
    Term("loop_temperature_max", "T_c,max", "K", "Coolant temperature allowed", "Highest coolant temperature of the loop at full load, at the place that its maker names.",
         axes=LOOP, **TEMPERATURE, low=293.15, high=403.15),
    Term("loop_limit_place", "", "choice", "Place of the limit", "Where the maker states the limit: coolant as it leaves the engine, or as it enters.",
         axes=LOOP, choices=("leaving_engine", "entering_engine"), default="leaving_engine", source="limit-place"),
    Term("loop_rise_design", "ΔT_c,d", "K", "Design rise of coolant", "Rise through the engine for which the flow is found when the pump's flow is not given.",
         axes=LOOP, **RISE, low=0.5, high=40, default="8 K", source="loop-rise"),
    Term("loop_flow", "q_V,c", "m^3/s", "Coolant flow", "Flow of the loop of one set.", axes=LOOP, **FLOW, either=True),
    Term("loop_rise", "ΔT_c", "K", "Rise of coolant", "Rise through the engine, and fall through the radiator, at full load.", axes=LOOP, **RISE),
    Term("loop_rise_max", "ΔT_c,max", "K", "Rise of coolant allowed", "Rise above which the engine is warmer at one end than its maker wants.",
         axes=LOOP, **RISE, low=0.5, high=40, default="10 K", source="loop-rise"),
    Term("loop_inlet_temperature_max", "T_c,in,max", "K", "Coolant into radiator at the limit", "Coolant as it enters the radiator when the loop is at its limit.",
         axes=LOOP, **TEMPERATURE),
    Term("loop_cap_pressure", "p_cap", "Pa", "Pressure of the cap", "Gauge pressure at which the filler cap or relief valve of the loop opens.",
         axes=LOOP, **PRESSURE, high=5e5, default="70 kPa", source="cap-pressure"),
    Term("coolant_boiling_temperature", "T_boil", "K", "Boiling point under the cap", "Boiling point of water at the pressure of the cap on top of the air pressure of the site.",
         axes=LOOP, **TEMPERATURE, digits=4),
    Term("boiling_margin", "ΔT_boil", "K", "Margin to boiling", "Boiling point under the cap above the hottest coolant that the loop allows.", axes=LOOP, **RISE),
    Term("boiling_margin_min", "ΔT_boil,min", "K", "Least margin to boiling", "Keeps vapour out of pump and hot spots.", **RISE, low=0, default="5 K", source="boiling-margin"),
)

RADIATOR = (
    Term("radiator_rated_airflow", "q_V,rn", "m^3/s", "Airflow of the radiator's rating", "Air through the radiator of one set for which its maker states its duty.",
         shown=("m^3/s", "cfm"), low=0.01, either=True),
    Term("radiator_rated_density", "ρ_rn", "kg/m^3", "Air density of the radiator's rating", "Density for which the duty is stated.",
         **DENSITY, low=0.5, high=1.5, default="1.2 kg/m^3", source="radiator-rating-air"),
    Term("radiator_mass_flow", "q_m,rad", "kg/s", "Air through radiator", "Mass of air through the radiator of one set.", axes=CASE, shown=("kg/s", "lb/s"), low=0),
    Term("radiator_air_on_rise", "ΔT_on", "K", "Rise up to the radiator", "Air on the radiator above outdoor air: room heat and what comes back.", axes=CASE, **RISE),
    Term("core_position", "", "choice", "Position in the air", "Whether the core of the loop meets the air first, or behind the core of another loop.",
         axes=LOOP, choices=("first", "behind"), default="first", source="core-first"),
    Term("core_face_share", "x_face", "1", "Part of the face", "Part of the radiator's air that passes the core of this loop.",
         axes=LOOP, **SHARE, low=0.02, high=1, default="100 %", source="definition"),
    Term("core_rated_heat", "Φ_n", "W", "Rated duty of core", "Heat for which the maker states the temperature difference; that of the loop if nothing is given.",
         axes=LOOP, **HEAT, low=1, either=True),
    Term("core_rated_temperature_difference", "ΔT_n", "K", "Rated temperature difference", "Coolant into the core less air on the core at the rated duty and airflow.",
         axes=LOOP, **RISE, low=1, high=100, optional=True),
    Term("core_rated_glycol_fraction", "x_g,n", "1", "Glycol of the rating", "Part of glycol in the coolant with which the duty is stated.",
         **SHARE, low=0, high=0.6, default="50 %", source="factory-fill"),
    Term("core_glycol_loss", "k_g", "1", "Loss by glycol", "Part of a core's conductance lost per unit of glycol fraction above that of its rating.",
         low=0, high=1, default="0.15", source="core-glycol-loss"),
    Term("core_air_exponent", "n_air", "1", "Exponent of air flow", "How the conductance of a core goes with the mass flow of air.",
         low=0.3, high=1, default="0.6", source="core-air-exponent"),
    Term("core_fouling", "x_foul", "1", "Loss by dirt", "Part of a core's conductance lost to dust, insects and scale between cleanings.",
         **SHARE, low=0, high=0.6, default="5 %", source="core-fouling"),
    Term("core_coolant_capacity", "C_c", "W/K", "Capacity flow of coolant", "Heat that the coolant carries for each kelvin.", axes=LOOP, **CAPACITY_FLOW),
    Term("core_rated_air_capacity", "C_a,n", "W/K", "Capacity flow of air at rating", "Heat that the air takes for each kelvin at the rated airflow.", axes=LOOP, **CAPACITY_FLOW),
    Term("core_air_capacity", "C_a", "W/K", "Capacity flow of air", "Heat that the air of the site takes for each kelvin.", axes=CASE_LOOP, **CAPACITY_FLOW),
    Term("core_rated_transfer_units", "N_n", "1", "Transfer units at rating", "Conductance of the core over the smaller capacity flow, found from its rated duty.", axes=LOOP, shown=("1",)),
    Term("core_conductance", "UA", "W/K", "Conductance of core", "Heat per kelvin of mean difference between coolant and air, as the core works at the site.",
         axes=CASE_LOOP, **CAPACITY_FLOW),
    Term("core_capacity_ratio", "C_r", "1", "Ratio of capacity flows", "Smaller over larger capacity flow.", axes=CASE_LOOP, shown=("1",)),
    Term("core_transfer_units", "N_tu", "1", "Transfer units at site", "Conductance of the core over the smaller capacity flow.", axes=CASE_LOOP, shown=("1",)),
    Term("core_effectiveness", "ε_core", "1", "Effectiveness of core", "Heat moved over what an endless core would move.", axes=CASE_LOOP, **SHARE),
    Term("core_temperature_difference", "ΔT_core", "K", "Temperature difference of core", "Coolant into the core less air on the core that the heat of the loop asks for.",
         axes=CASE_LOOP, **RISE),
    Term("loop_air_preheat", "ΔT_pre", "K", "Rise through cores in front", "How much the cores in front have warmed the air.", axes=CASE_LOOP, **RISE),
    Term("loop_temperature", "T_c", "K", "Coolant into radiator on the hottest day", "Coolant temperature at full load with the thermostat wide open.",
         axes=CASE_LOOP, **TEMPERATURE),
    Term("loop_approach", "ΔT_app", "K", "Approach at the limit", "Coolant out of the core at the loop's limit, less the air on the core on the hottest day.", axes=CASE_LOOP, **RISE),
    Term("loop_approach_min", "ΔT_app,min", "K", "Least approach", "Approach below which a dry cooler grows out of proportion.",
         axes=LOOP, **RISE, low=0, high=60, default="8 K", source="loop-approach"),
    Term("limiting_ambient", "T_o,lim", "K", "Limiting ambient of loop", "Outdoor temperature at which the loop reaches its limit at full load.", axes=CASE_LOOP, **TEMPERATURE, digits=3),
    Term("boiling_ambient", "T_o,boil", "K", "Ambient at which the loop boils", "Outdoor temperature at which coolant boils under its cap at full load.", axes=CASE_LOOP, **TEMPERATURE),
)

LIMITS = (
    Term("limiting_ambient_coolant", "T_o,c", "K", "Limiting ambient by coolant", "Lowest limiting ambient of all loops and running cases.", **TEMPERATURE),
    Term("limiting_ambient_boiling", "T_o,b", "K", "Limiting ambient by boiling", "Lowest outdoor temperature at which a loop boils.", **TEMPERATURE),
    Term("limiting_ambient_room", "T_o,r", "K", "Limiting ambient by the room", "Outdoor temperature at which the room is as warm as alternator and switchgear allow.", **TEMPERATURE),
    Term("limiting_ambient_derating", "T_o,x", "K", "Limiting ambient by derating", "Outdoor temperature at which the room is as warm as the site power of the set assumes.", **TEMPERATURE),
    Term("ambient_limit_temperature", "T_o,i", "K", "Limiting ambients in turn", "Outdoor temperatures at which one thing after another gives out as the day gets hotter.", axes=LIMIT, **TEMPERATURE),
    Term("limiting_ambient_lowest", "T_o,first", "K", "Limiting ambient of the plant", "Outdoor temperature at which the first of them gives out.", **TEMPERATURE),
    Term("ambient_margin", "ΔT_o,m", "K", "Margin to the limiting ambient", "Limiting ambient of the plant above the hottest day of the design.", **RISE),
    Term("ambient_margin_min", "ΔT_o,m,min", "K", "Least margin to the limiting ambient", "For hotter days, dirt and what comes back in a wind.", **RISE, low=0, optional=True),
)

REMOTE = (
    Term("loop_pipe_length", "L_c", "m", "Length of pipe", "Flow and return between engine and remote radiator together.", axes=LOOP, **LENGTH, optional=True),
    Term("loop_pipe_bore", "d_c", "m", "Bore of pipe", "Inner diameter of the pipe to the remote radiator.", axes=LOOP, shown=("mm", "in"), low=0.01, high=1, optional=True),
    Term("loop_pipe_roughness", "k_c", "m", "Roughness of pipe", "Height of the roughness of the pipe wall.", axes=LOOP, shown=("mm", "in"), low=0, high=0.003,
         default="0.046 mm", source="steel-roughness"),
    Term("loop_pipe_loss", "ΣK_c", "1", "Loss coefficients of fittings", "Sum of the loss coefficients of bends, valves, entries and exits.", axes=LOOP, low=0, optional=True),
    Term("loop_core_drop", "Δp_core", "Pa", "Drop of the radiator core", "Pressure drop of the coolant in the remote core at the flow of the loop.", axes=LOOP, **PRESSURE, optional=True),
    Term("loop_pipe_velocity", "v_c", "m/s", "Velocity in pipe", "Mean velocity in the pipe to the remote radiator; zero with the radiator on the set.",
         axes=LOOP, shown=("m/s", "ft/s"), low=0),
    Term("loop_pipe_velocity_max", "v_c,max", "m/s", "Velocity allowed in pipe", "Above it pipes erode, hum and use up the pump.",
         shown=("m/s", "ft/s"), low=0, default="3.0 m/s", source="pipe-velocity"),
    Term("loop_pipe_reynolds", "Re_c", "1", "Reynolds number in pipe", "Inertia over viscosity of the flow in the pipe.", axes=LOOP, low=0),
    Term("loop_friction_factor", "f_c", "1", "Friction factor of pipe", "Darcy friction factor.", axes=LOOP),
    Term("loop_pipe_drop", "Δp_pipe", "Pa", "Drop of pipe and fittings", "Pressure drop of flow and return pipe.", axes=LOOP, **PRESSURE),
    Term("loop_external_drop", "Δp_c", "Pa", "Drop outside the set", "Pipes, fittings and remote core; nothing with the radiator on the set.", axes=LOOP, **PRESSURE),
    Term("loop_external_drop_max", "Δp_c,max", "Pa", "Drop that the engine's pump allows", "Pressure that the engine's own pump leaves for pipes and radiator outside the set.",
         axes=LOOP, **PRESSURE, default="25 kPa", source="pump-external"),
    Term("loop_radiator_height", "h_c", "m", "Height of radiator", "Top of the radiator or tank above the pump of the engine.", axes=LOOP, **LENGTH, optional=True),
    Term("loop_static_pressure", "p_h", "Pa", "Static pressure at the engine", "Weight of cold coolant between top and pump; nothing with the radiator on the set.", axes=LOOP, **PRESSURE),
    Term("loop_static_pressure_max", "p_h,max", "Pa", "Static pressure allowed", "Static pressure that seals and cores of the engine take.",
         axes=LOOP, **PRESSURE, default="100 kPa", source="static-head"),
    Term("loop_set_volume", "V_set", "m^3", "Coolant in the set", "Coolant in engine, coolers and, where it is on the set, the radiator.", axes=LOOP, **VOLUME, optional=True),
    Term("loop_radiator_volume", "V_rad", "m^3", "Coolant in remote radiator", "Coolant in the remote core of this loop.", axes=LOOP, **VOLUME, optional=True),
    Term("loop_volume", "V_c", "m^3", "Coolant in loop", "All coolant of the loop.", axes=LOOP, **VOLUME),
    Term("loop_expansion", "ΔV_c", "m^3", "Expansion of coolant", "What the coolant grows between cold and the limit of the loop.", axes=LOOP, **VOLUME),
    Term("expansion_reserve", "x_res", "1", "Reserve of coolant", "Part of the loop's volume kept in the tank against losses.", **SHARE, low=0, high=0.5,
         default="3 %", source="expansion-reserve"),
    Term("expansion_tank_share", "x_tank", "1", "Least tank over loop", "Least volume of the tank as a part of the loop's volume.", **SHARE, low=0, high=1,
         default="15 %", source="ufgs-15133a"),
    Term("loop_tank_needed", "V_tank,min", "m^3", "Expansion tank needed", "The larger of the least share and of expansion with reserve.", axes=LOOP, **VOLUME),
    Term("loop_tank_volume", "V_tank", "m^3", "Expansion tank", "Volume of the expansion tank of the loop, or of the top tank's free space.", axes=LOOP, **VOLUME, optional=True),
    Term("radiator_fan_pressure", "p_fan", "Pa", "Pressure of remote fan", "Total pressure of the fans of the remote radiator at the rated density.", shown=("Pa", "inH2O"), low=0, optional=True),
    Term("radiator_fan_efficiency", "η_fan", "1", "Efficiency of remote fan", "Air power over electric power, drive and motor included.", **SHARE, low=0.05, high=1,
         default="45 %", source="fan-efficiency"),
    Term("radiator_fan_power", "P_fan", "W", "Power of remote fans", "Electric power of the fans of one remote radiator; nothing with the radiator on the set, whose fan the engine drives.",
         shown=("kW", "hp"), kind="active power", low=0),
    Term("radiator_fans_power", "P_fans", "W", "Power of all remote fans", "Electric power of the fans of all installed sets.", shown=("kW", "hp"), kind="active power", low=0),
    Term("radiator_fan_load", "", "reference", "Load that carries the fans", "Load of the schedule in which the fans of the remote radiators are counted.", refers_to="load", optional=True),
    Term("radiator_fan_load_power", "P_L,fan", "W", "Fans in the load schedule", "Demand of that load; nothing with the radiator on the set.", shown=("kW", "hp"), kind="active power", low=0),
)

TERMS = (*BALANCE, *COOLANT, *LOOPS, *RADIATOR, *LIMITS, *REMOTE)
