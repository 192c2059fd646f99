"""Terms of the exhaust: gas, pipe by candidate diameter, back-pressure, growth, insulation, heat to the room, discharge and separation."""

from basis.terms import Term

SIZE, RECEPTOR = ("exhaust_size",), ("exhaust_receptor",)
TEMPERATURE = {"shown": ("degC", "degF"), "kind": "temperature"}
RISE = {"shown": ("K", "delta_degF"), "kind": "temperature difference"}
HEAT = {"shown": ("kW", "Btu/min"), "kind": "heat flow", "low": 0}
PER_LENGTH = {"shown": ("W/m", "Btu/(h*ft)"), "low": 0}
SHARE = {"shown": ("%",), "low": 0}
MASS_FLOW = {"shown": ("kg/s", "lb/s"), "low": 0}
FLOW = {"shown": ("m^3/s", "cfm"), "low": 0}
SPEED = {"shown": ("m/s", "ft/min"), "low": 0}
DROP = {"shown": ("kPa", "inH2O"), "low": 0}
LENGTH = {"shown": ("m", "ft"), "low": 0}
SMALL = {"shown": ("mm", "in"), "low": 0}
COUNT = {"shown": ("1",), "digits": 4}

GAS = (
    Term("exhaust_temperature_rated", "T_exh,r", "K", "Rated exhaust temperature", "Gas at the turbine outlet at full load and reference conditions.",
         **TEMPERATURE, low=473.15, high=973.15, default="450 degC", source="exhaust-temperature-usual"),
    Term("exhaust_temperature_slope", "s_T", "1", "Slope of exhaust temperature", "Kelvins that the exhaust gets hotter for each kelvin of warmer intake air.",
         low=0, high=5, default="1.5", source="exhaust-temperature-slope"),
    Term("exhaust_temperature", "T_exh", "K", "Exhaust temperature", "Gas at the turbine outlet at full load on the hottest day.", **TEMPERATURE, low=473.15, high=973.15, either=True),
    Term("exhaust_gas_constant", "R_exh", "J/(kg*K)", "Gas constant of exhaust", "Specific gas constant of the products with twice the air that they need.",
         digits=4, low=200, high=400, default="287 J/(kg*K)", source="exhaust-products"),
    Term("exhaust_gas_heat_capacity", "c_p,exh", "J/(kg*K)", "Heat capacity of exhaust", "Mean specific heat capacity of the products between 25 °C and the exhaust temperature.",
         shown=("J/(kg*K)", "Btu/(lb*delta_degF)"), digits=4, low=900, high=1400, default="1082 J/(kg*K)", source="exhaust-products"),
    Term("exhaust_heat_base", "T_0", "K", "Base temperature of exhaust heat", "Temperature from which the heat of the exhaust is counted.",
         **TEMPERATURE, default="25 degC", source="exhaust-heat-base", constant=True),
    Term("exhaust_fuel_mass_flow", "q_m,f", "kg/s", "Fuel, mass flow", "Fuel that one set burns at site power; it leaves as gas.", **MASS_FLOW),
    Term("exhaust_mass_flow", "q_m,exh", "kg/s", "Exhaust, mass flow", "Air and fuel of one set at site power.", **MASS_FLOW),
    Term("exhaust_gas_heat", "Φ_gas", "W", "Exhaust heat by flow and temperature", "Sensible heat of the exhaust of one set above 25 °C.", **HEAT),
    Term("exhaust_heat_ratio", "x_exh", "1", "Computed over stated exhaust heat", "Heat by flow and temperature over the heat that the set's data state, or that its usual share gives.", shown=("1",)),
    Term("exhaust_gas_density", "ρ_exh", "kg/m^3", "Density of exhaust", "Density at exhaust temperature and the air pressure of the site.", shown=("kg/m^3", "lb/ft^3")),
    Term("exhaust_volume_flow", "q_V,exh", "m^3/s", "Exhaust, volume flow", "Actual volume flow of one set at exhaust temperature and site pressure.", **FLOW),
    Term("gas_viscosity_base", "μ_0", "Pa*s", "Viscosity of air at 0 °C", "Dynamic viscosity from which Sutherland's law starts.",
         shown=("cP",), digits=4, default="1.716e-5 Pa*s", source="sutherland", constant=True),
    Term("gas_viscosity_base_temperature", "T_μ", "K", "Base temperature of viscosity", "Absolute temperature of that viscosity.", shown=("K",), digits=5, default="273.15 K", source="sutherland", constant=True),
    Term("sutherland_constant", "S_μ", "K", "Sutherland's constant of air", "Temperature in Sutherland's law of viscosity.", shown=("K",), digits=4, default="110.4 K", source="sutherland", constant=True),
    Term("exhaust_gas_viscosity", "μ_exh", "Pa*s", "Viscosity of exhaust", "Dynamic viscosity, taken as that of air.", shown=("cP",)),
)

SHARED = (
    Term("sets_per_exhaust_pipe", "N_pipe", "1", "Sets on one exhaust pipe", "How many sets blow into one pipe.", **COUNT, low=1, high=8, default="1", source="one-pipe-a-set"),
    Term("shared_exhaust", "", "choice", "Shared exhaust pipes", "Whether the project has taken responsibility for sets that share a pipe, with a reason.",
         choices=("never", "by_stated_reason"), default="never", source="one-pipe-a-set"),
    Term("shared_exhaust_reason", "", "text", "Reason for shared pipes", "Why sets share a pipe, and what keeps gas, water and soot out of the one that stands.", optional=True),
    Term("sets_per_exhaust_pipe_max", "N_pipe,max", "1", "Sets allowed on one pipe", "One, unless the project states a reason and carries it.", **COUNT),
    Term("exhaust_pipe_mass_flow", "q_m,pipe", "kg/s", "Gas in one pipe, mass flow", "Gas of all sets that share the pipe.", **MASS_FLOW),
    Term("exhaust_pipe_volume_flow", "q_V,pipe", "m^3/s", "Gas in one pipe, volume flow", "Actual volume flow of the gas in one pipe.", **FLOW),
)

PIPE = (
    Term("exhaust_bore", "d", "m", "Bore of exhaust pipe", "Inner diameter of the pipe of this size.", axes=SIZE, shown=("mm", "in"), low=0.02, high=2),
    Term("exhaust_wall", "s_w", "m", "Wall of exhaust pipe", "Thickness of the pipe wall of this size.", axes=SIZE, **SMALL, high=0.05, default="5 mm", source="exhaust-wall"),
    Term("exhaust_outer_diameter", "d_o", "m", "Outer diameter of exhaust pipe", "Bore and both walls.", axes=SIZE, shown=("mm", "in")),
    Term("exhaust_size_chosen", "", "reference", "Chosen size", "Size of exhaust pipe that the project has chosen.", refers_to="exhaust_size"),
    Term("exhaust_pipe_length", "L_exh", "m", "Length of exhaust pipe", "From turbine outlet to the end of the pipe, silencer taken out.", **LENGTH),
    Term("exhaust_pipe_roughness", "k_exh", "m", "Roughness of exhaust pipe", "Height of the roughness of the pipe wall, soot included.", **SMALL, high=0.005,
         default="0.09 mm", source="exhaust-roughness"),
    Term("exhaust_bends", "N_b", "1", "Bends", "Number of right-angle bends.", **COUNT, low=0, high=60),
    Term("exhaust_bend_loss", "K_b", "1", "Loss coefficient of bend", "Loss of one right-angle bend over velocity pressure.", low=0, high=3, default="0.2", source="rennels-bend"),
    Term("exhaust_other_loss", "K_x", "1", "Other loss coefficients", "Sum for bellows, transitions, branches and mitres, over velocity pressure in the pipe.", low=0, high=50, default="0", source="nothing-else"),
    Term("exhaust_outlet", "", "choice", "Outlet", "How the gas leaves the pipe.", choices=("upward_open", "upward_flap", "sideways", "fixed_hat"),
         default="upward_flap", source="ufgs-16264a-exhaust"),
    Term("exhaust_outlet_loss", "K_out", "1", "Loss coefficient of outlet", "Loss of the outlet over velocity pressure in the pipe.", low=0, high=10, either=True),
    Term("exhaust_drain", "", "choice", "Drain", "Whether the pipe falls away from the engine to a drained low point.", choices=("at_low_point", "not_stated"),
         default="not_stated", source="project"),
    Term("silencer_rated_drop", "Δp_sil,n", "Pa", "Rated drop of silencer", "Pressure drop that the maker of the silencer states.", **DROP, default="2.0 kPa", source="silencer-drop-usual"),
    Term("silencer_rated_airflow", "q_V,sil", "m^3/s", "Flow of the rated drop", "Gas flow for which the drop is stated; that of the site if nothing is given.", **FLOW, either=True),
    Term("silencer_rated_density", "ρ_sil", "kg/m^3", "Density of the rated drop", "Gas density for which the drop is stated; that of the site if nothing is given.",
         shown=("kg/m^3", "lb/ft^3"), low=0.1, high=2, either=True),
)

LADDER = (
    Term("exhaust_velocity", "v", "m/s", "Gas velocity", "Mean velocity in the pipe of this size.", axes=SIZE, **SPEED),
    Term("exhaust_reynolds", "Re", "1", "Reynolds number", "Inertia over viscosity of the gas in the pipe.", axes=SIZE, low=0),
    Term("exhaust_friction_factor", "f", "1", "Friction factor", "Darcy friction factor of the pipe.", axes=SIZE),
    Term("exhaust_pipe_drop", "Δp_f", "Pa", "Drop of straight pipe", "Friction along the pipe.", axes=SIZE, **DROP),
    Term("exhaust_fitting_drop", "Δp_b", "Pa", "Drop of bends and fittings", "Losses of bends, bellows and transitions.", axes=SIZE, **DROP),
    Term("exhaust_outlet_drop", "Δp_out", "Pa", "Drop of outlet", "Velocity pressure that is lost at the end of the pipe, with its cap or flap.", axes=SIZE, **DROP),
    Term("silencer_drop", "Δp_sil", "Pa", "Drop of silencer", "Drop of the silencer at the flow and density of the site.", **DROP),
    Term("exhaust_back_pressure", "Δp_exh", "Pa", "Back-pressure", "All drops from turbine outlet to open air.", axes=SIZE, **DROP),
    Term("exhaust_back_pressure_max", "Δp_exh,max", "Pa", "Back-pressure allowed", "Limit of the engine's maker at full load.", **DROP, default="6.7 kPa", source="back-pressure-usual"),
    Term("exhaust_chosen_back_pressure", "Δp_chosen", "Pa", "Back-pressure of the chosen size", "Back-pressure with the pipe that the project has chosen.", **DROP),
    Term("exhaust_back_pressure_ratio", "x_Δp", "1", "Back-pressure over limit", "Part of the limit that the chosen pipe uses.", shown=("%",)),
    Term("exhaust_back_pressure_aim", "x_Δp,aim", "1", "Part of the limit to aim at", "Leaves room for soot, added bends and a silencer that is worse than its sheet.",
         **SHARE, high=1, default="80 %", source="back-pressure-aim"),
    Term("exhaust_chosen_velocity", "v_chosen", "m/s", "Gas velocity of the chosen size", "Mean velocity in the pipe that the project has chosen.", **SPEED),
    Term("exhaust_velocity_max", "v_max", "m/s", "Gas velocity allowed", "Above it pipe and outlet make noise of their own and carry water and soot.", **SPEED,
         default="50 m/s", source="exhaust-velocity-usual"),
    Term("exhaust_velocity_guide", "v_guide", "m/s", "Velocity of the guide specification", "Sizing note of an American guide specification, far below what is common.", **SPEED,
         default="5000 ft/min", source="ufgs-16264a-exhaust", constant=True),
    Term("exhaust_bore_guide", "d_guide", "m", "Bore by the guide specification", "Bore at which the gas is as slow as that note asks.", shown=("mm", "in")),
    Term("exhaust_rule_drop", "Δp_rule", "Pa", "Drop by the American rule", "Pipe and bends by the customary rule in inches, feet and cubic feet; silencer and outlet not in it.", axes=SIZE, **DROP),
)

GROWTH = (
    Term("exhaust_pipe_material", "", "choice", "Pipe material", "Table of expansion of the pipe's material.", table="pipe_expansion", default="carbon-steel-expansion", source="exhaust-material"),
    Term("exhaust_expansion_coefficient", "α", "1/K", "Expansion coefficient", "Mean coefficient from erection to the temperature of the metal.", shown=("1/K", "1/delta_degF")),
    Term("exhaust_erection_temperature", "T_er", "K", "Erection temperature", "Temperature of the pipe when it is fitted.", **TEMPERATURE, low=233.15, high=323.15, default="20 degC", source="erection-temperature"),
    Term("exhaust_anchor_length", "L_anchor", "m", "Longest run between anchors", "Straight length that grows towards one set of bellows.", **LENGTH, either=True),
    Term("exhaust_growth", "ΔL", "m", "Growth of the run", "Growth of that run from erection to full load.", shown=("mm", "in")),
    Term("bellows_in_run", "N_bel", "1", "Bellows in the run", "Number of bellows that share the growth of the run.", **COUNT, low=0, high=12, default="1", source="bellows-one"),
    Term("bellows_capacity", "Δx_bel", "m", "Movement of one bellows", "Axial movement that the maker of the bellows declares at exhaust temperature.", **SMALL, high=1, optional=True),
    Term("bellows_capacity_total", "Δx", "m", "Movement of all bellows", "Movement that the bellows of the run can take.", shown=("mm", "in")),
)

INSULATION = (
    Term("insulation_thickness", "s_i", "m", "Insulation", "Thickness of the insulation of the exhaust pipe inside the building; zero for a bare pipe.", **SMALL, high=0.5),
    Term("insulation_conductivity", "λ_i", "W/(m*K)", "Conductivity of insulation", "At the mean temperature of the insulation; the maker's figure wins.",
         shown=("W/(m*K)", "Btu/(h*ft*delta_degF)"), low=0.01, high=1, either=True),
    Term("cladding_emissivity", "ε_cl", "1", "Emissivity of cladding", "Bright sheet shines less, loses less and gets hotter than a painted one.", low=0.02, high=1, default="0.3", source="emissivity"),
    Term("pipe_emissivity", "ε_p", "1", "Emissivity of bare pipe", "Of oxidised steel.", low=0.02, high=1, default="0.8", source="emissivity"),
    Term("stefan_boltzmann_constant", "σ", "W/(m^2*K^4)", "Stefan-Boltzmann constant", "Radiant power of a black surface over the fourth power of its temperature.",
         digits=7, default="5.670374419e-8 W/(m^2*K^4)", source="si-brochure", constant=True),
    Term("air_prandtl_number", "Pr", "1", "Prandtl number of air", "Viscosity times heat capacity over conductivity, nearly the same at all temperatures here.",
         low=0.6, high=0.8, default="0.70", source="air-prandtl", constant=True),
    Term("air_conductivity_base", "λ_0", "W/(m*K)", "Conductivity of air at 0 °C", "Conductivity from which Sutherland's law starts.",
         shown=("W/(m*K)", "Btu/(h*ft*delta_degF)"), default="0.0241 W/(m*K)", source="sutherland", constant=True),
    Term("air_conductivity_constant", "S_λ", "K", "Sutherland's constant of conductivity", "Temperature in Sutherland's law of the conductivity of air.",
         shown=("K",), digits=4, default="194 K", source="sutherland", constant=True),
    Term("exhaust_surface_temperature", "T_s", "K", "Surface of insulation", "Temperature of the cladding, full load, still air.", axes=SIZE, **TEMPERATURE),
    Term("exhaust_heat_per_length", "φ", "W/m", "Heat per length, insulated", "Heat that a length of insulated pipe gives to the room.", axes=SIZE, **PER_LENGTH),
    Term("exhaust_bare_heat_per_length", "φ_bare", "W/m", "Heat per length, bare", "Heat that the same pipe would give off without insulation.", axes=SIZE, **PER_LENGTH),
    Term("exhaust_chosen_surface_temperature", "T_s,chosen", "K", "Surface of the chosen size", "Temperature of the cladding of the chosen pipe.", **TEMPERATURE),
    Term("touch_temperature_max", "T_touch", "K", "Touch temperature allowed", "Surface temperature above which a brief touch burns.", **TEMPERATURE, low=303.15, high=373.15,
         default="60 degC", source="touch-temperature"),
    Term("exhaust_room_length", "L_room", "m", "Length in room", "Exhaust pipe of one set inside the plant room, silencer taken out.", **LENGTH),
    Term("exhaust_fitting_allowance", "x_fit", "1", "Allowance for flanges and supports", "What flanges, bellows and supports add to the heat of the insulated pipe.",
         **SHARE, high=2, default="15 %", source="fitting-allowance"),
    Term("exhaust_pipe_room_heat", "Φ_pipe", "W", "Heat of exhaust pipe to room", "Heat that the exhaust pipe of one set gives to the room; a room by itself may give it.", **HEAT, either=True),
    Term("exhaust_bare_room_heat", "Φ_bare", "W", "Heat of a bare exhaust pipe", "What the same length would give to the room without insulation.", **HEAT),
)

DISCHARGE = (
    Term("exhaust_upward_credit", "y_up", "1", "Credit for upward discharge", "One where the jet may rise, nought where a hat or a sideways end stops it."),
    Term("plume_rise_factor", "β_cap", "1", "Factor of plume rise", "One for an open upward outlet, nought for a capped or sideways one."),
    Term("outlet_velocity_credited", "v_cr", "m/s", "Outlet velocity credited", "Upward velocity that separation counts, capped.", **SPEED),
    Term("outlet_velocity_cap", "v_cr,max", "m/s", "Cap of the velocity credited", "Largest upward velocity that separation counts, however fast the jet.", **SPEED, default="5 m/s", source="outlet-velocity-cap"),
    Term("sets_discharging_together", "N_tog", "1", "Sets discharging together", "Sets whose outlets stand so close that their plumes join.", **COUNT, low=1, high=32, either=True),
    Term("discharge_volume_flow", "q_V,dis", "m^3/s", "Gas discharged in one place", "Hot gas of all sets that discharge together.", **FLOW),
    Term("receptor_kind", "", "choice", "Kind of opening", "What could take gas in.", axes=RECEPTOR,
         choices=("mechanical_intake", "openable_window", "door", "cooling_tower", "property_line", "public_way"), default="mechanical_intake", source="receptor-intake"),
    Term("receptor_distance", "L_rec", "m", "Distance", "Shortest stretched-string distance from the outlet to the opening.", axes=RECEPTOR, **LENGTH),
    Term("dilution_target", "DF", "1", "Dilution asked", "How many times the gas must be thinned before it reaches the opening.", axes=RECEPTOR, digits=3, low=1, high=1e5,
         default="50", source="ashrae-62-1-separation"),
    Term("separation_needed", "L_min", "m", "Separation by the dilution form", "Distance at which the form gives the dilution asked: a screen, not a dispersion study.", axes=RECEPTOR, **LENGTH),
    Term("dilution_found", "D", "1", "Dilution by the same form", "Dilution that the form gives at the distance that there is.", axes=RECEPTOR, digits=3),
    Term("separation_code_min", "L_code", "m", "Separation by the code", "Least distance that the project's code asks between an engine exhaust and this opening.", axes=RECEPTOR, **LENGTH, optional=True),
    Term("building_height", "H_b", "m", "Height of building", "Height of the wall that the wind meets.", **LENGTH, high=500, optional=True),
    Term("building_width", "W_b", "m", "Width of building", "Width of the wall that the wind meets.", **LENGTH, high=1000, optional=True),
    Term("wake_scale", "R_w", "m", "Scale of the wake", "Length by which the size of the recirculating air on a roof goes.", **LENGTH),
    Term("wake_height", "H_c", "m", "Height of roof recirculation", "Height above the roof of the air that turns back on it.", **LENGTH),
    Term("wake_crest", "X_c", "m", "Crest of roof recirculation", "Distance of that height from the edge that the wind meets.", **LENGTH),
    Term("wake_roof_length", "L_c", "m", "Length of roof recirculation", "Distance from that edge over which the air turns back.", **LENGTH),
    Term("wake_lee_length", "L_r", "m", "Length of lee recirculation", "Distance behind the building over which the air turns back.", **LENGTH),
    Term("stack_height", "h_st", "m", "Height of outlet above roof", "Height of the end of the exhaust pipe above the roof around it.", **LENGTH, high=200, optional=True),
    Term("plume_wind_speed", "u_w", "m/s", "Wind for plume rise", "Wind at the top of the stack: the stronger, the less the plume rises.",
         shown=("m/s", "mile/h"), low=0.5, high=40, default="10 m/s", source="plume-wind"),
    Term("plume_rise", "h_r", "m", "Plume rise", "Rise of the gas by its own speed.", **LENGTH),
    Term("plume_height", "h_p", "m", "Height of plume", "Height of outlet and plume rise above the roof.", **LENGTH),
)

TERMS = (*GAS, *SHARED, *PIPE, *LADDER, *GROWTH, *INSULATION, *DISCHARGE)
