"""Terms of the foundation: mass of the set, block, bearing pressure, earthquake, anchors, and the loads for the structural engineer."""

from basis.terms import Term

LOAD = {"shown": ("kN", "lbf")}
MASS = {"shown": ("kg", "lb"), "digits": 4}
SMALL = {"shown": ("mm", "in")}
LENGTH = {"shown": ("m", "ft")}
VOLUME = {"shown": ("L", "gal")}
DENSITY = {"shown": ("kg/m^3", "lb/ft^3")}
PRESSURE = {"shown": ("kPa", "lbf/ft^2")}
RATIO = {"shown": ("1",)}
COUNT = {"shown": ("1",), "digits": 4, "low": 1, "high": 100}
MOMENT = {"shown": ("kN*m", "lbf*ft")}
PLAN = ("plan_direction",)

MASSES = (
    Term("set_dry_mass", "m_dry", "kg", "Dry mass of a set", "Engine, alternator, base and what stands on it, without fluids.", **MASS, low=10, high=500e3),
    Term("oil_fill", "V_oil", "m^3", "Oil in the engine", "Lubricating oil of one set, sump, filters and cooler.", **VOLUME, low=0, high=20),
    Term("coolant_fill", "V_cl", "m^3", "Coolant in the set", "Coolant of engine and what of the radiator stands on the base.", **VOLUME, low=0, high=20),
    Term("base_tank_fill", "V_bt", "m^3", "Fuel in the base", "Fuel in a tank that is part of the base of the set, full.", **VOLUME, low=0, high=60, default="0 L", source="definition"),
    Term("oil_density", "ρ_oil", "kg/m^3", "Density of oil", "Lubricating oil.", **DENSITY, low=800, high=1000, default="880 kg/m^3", source="fluid-densities"),
    Term("coolant_fill_density", "ρ_cl", "kg/m^3", "Density of coolant", "Water with glycol.", **DENSITY, low=950, high=1150, default="1060 kg/m^3", source="fluid-densities"),
    Term("set_wet_mass", "m_w", "kg", "Wet mass of a set", "Dry mass, oil, coolant, and fuel in the base.", **MASS, low=10, high=500e3, either=True),
)

BLOCK = (
    Term("block_sides", "L_b", "m", "Sides of the block", "Length and width of the block on the soil or of the pad on the floor, along and across the set.", axes=PLAN, **LENGTH, low=0.2, high=60),
    Term("block_thickness", "t_b", "m", "Thickness of the block", "Full depth of concrete under the set.", **SMALL, low=0.02, high=6),
    Term("concrete_density", "ρ_c", "kg/m^3", "Density of concrete", "Reinforced concrete of normal weight.", **DENSITY, low=1500, high=4500, default="2400 kg/m^3", source="concrete-density"),
    Term("block_area", "A_b", "m^2", "Area of the block", "Length times width.", shown=("m^2", "ft^2")),
    Term("block_mass", "m_b", "kg", "Mass of the block", "Concrete under one set.", **MASS),
    Term("block_ratio", "μ", "1", "Mass ratio of the block", "Mass of block and inertia base over wet mass of the set.", **RATIO),
    Term("block_ratio_solid_min", "μ_sol", "1", "Least mass ratio, bolted down", "For a set that is bolted hard to its block.", **RATIO, low=0, high=10, default="1.5", source="block-ratio"),
    Term("block_ratio_isolated_min", "μ_iso", "1", "Least mass ratio, isolated", "For a set on isolators of its own.", **RATIO, low=0, high=10, default="1", source="block-ratio"),
    Term("block_ratio_min", "μ_min", "1", "Least mass ratio", "By the mounting of the set.", **RATIO),
    Term("block_thickness_min", "t_min", "m", "Least thickness", "Thinner concrete is a topping, not a block.", **SMALL, low=0, default="150 mm", source="block-least-thickness"),
    Term("block_thickness_needed", "t_req", "m", "Thickness needed", "Thickness that gives the least mass ratio on this area, and not less than the least thickness.", **SMALL),
    Term("base_sides", "L_s", "m", "Sides of the base", "Length and width of the base frame of the set.", axes=PLAN, **LENGTH, low=0.2, high=40, optional=True),
    Term("block_overhang", "o_b", "m", "Block beyond the base", "Concrete beyond the base frame on each side, the base in the middle.", axes=PLAN, **SMALL),
    Term("block_overhang_min", "o_min", "m", "Least overhang", "Beyond sides and front.", **SMALL, low=0, default="200 mm", source="tm-5-6115-593-34-pad"),
    Term("block_rear_overhang", "o_r", "m", "Block beyond the rear", "Concrete beyond the rear of the base, where people work.", **SMALL, low=-1, high=10, optional=True),
    Term("block_rear_overhang_min", "o_r,min", "m", "Least overhang at the rear", "Beyond the rear of the base.", **SMALL, low=0, default="450 mm", source="tm-5-6115-593-34-pad"),
    Term("block_height", "h_b", "m", "Block above the floor", "Height of the top of the block above the finished floor.", **SMALL, low=-1, high=3, optional=True),
    Term("block_height_min", "h_b,min", "m", "Least height above the floor", "Keeps spilt water and wash water off the base, and lets a sump be reached.", **SMALL, low=0, default="150 mm", source="tm-5-6115-593-34-pad"),
    Term("block_gap", "s_b", "m", "Gap round the block", "Soft joint between block and building slab.", **SMALL, low=0, high=1, optional=True),
    Term("block_gap_min", "s_b,min", "m", "Least gap round the block", "Narrower joints are bridged by grout and dirt.", **SMALL, low=0, default="12 mm", source="block-gap"),
)

BEARING = (
    Term("solid_dynamic_factor", "φ_sol", "1", "Dynamic factor, bolted down", "On the weight of a set that is bolted down.", **RATIO, low=1, high=5, default="2", source="dynamic-factor"),
    Term("isolated_dynamic_factor", "φ_iso", "1", "Dynamic factor, isolated", "On the weight of a set on isolators.", **RATIO, low=1, high=5, default="1", source="dynamic-factor"),
    Term("dynamic_load_factor", "φ", "1", "Dynamic factor", "By the mounting of the set, or as the structural engineer decides.", **RATIO, low=1, high=5, either=True),
    Term("structural_static_load", "G", "N", "Static load", "Weight of wet set, inertia base and block.", **LOAD, digits=4),
    Term("bearing_load", "N", "N", "Load with dynamic factor", "Weight of the set times the dynamic factor, with inertia base and block.", **LOAD, digits=4),
    Term("bearing_mean", "q_m", "Pa", "Mean bearing pressure", "Load with dynamic factor over area.", **PRESSURE),
    Term("block_eccentricity", "e_b", "m", "Eccentricity of the load", "Distance of the load from the middle of the block, along and across.", axes=PLAN, **SMALL),
    Term("kern_limit", "e_k", "m", "Kern", "Eccentricity up to which the whole block bears.", axes=PLAN, **SMALL),
    Term("bearing_pressure_max", "q_max", "Pa", "Highest bearing pressure", "At the edge, for the eccentricity in this direction alone.", axes=PLAN, **PRESSURE, digits=4),
    Term("bearing_pressure_min", "q_min", "Pa", "Lowest bearing pressure", "At the other edge; nothing where the block lifts.", axes=PLAN, **PRESSURE, digits=4),
    Term("eccentricity_sum", "ε", "1", "Relative eccentricity of both directions", "Sum of eccentricity over side, along and across.", **RATIO),
    Term("bearing_pressure_corner", "q_c", "Pa", "Bearing pressure at the worst corner", "Both eccentricities together.", **PRESSURE),
    Term("bearing_allowable", "q_a", "Pa", "Allowable bearing pressure", "From the project's geotechnical report, or what the floor may bear.", **PRESSURE, low=1e3, high=20e6, optional=True),
    Term("earthquake_vertical_load", "N_E", "N", "Vertical load in an earthquake", "Weight of set, inertia base and block less the vertical force.", **LOAD),
    Term("earthquake_eccentricity", "e_E", "m", "Eccentricity in an earthquake", "With the horizontal force in this direction.", axes=PLAN, **SMALL),
    Term("earthquake_eccentricity_ratio", "ε_E", "1", "Relative eccentricity in an earthquake", "Eccentricity over the side of the block.", axes=PLAN, **RATIO),
    Term("eccentricity_ratio_overturning", "ε_0", "1", "Relative eccentricity at overturning", "Half the side: the load stands on the edge.", **RATIO, default="0.5", source="rigid-footing", constant=True),
    Term("earthquake_pressure", "q_E", "Pa", "Bearing pressure in an earthquake", "At the edge, for the force in this direction.", axes=PLAN, **PRESSURE),
    Term("bearing_allowable_earthquake", "q_a,E", "Pa", "Allowable bearing pressure in an earthquake", "From the project's geotechnical report.", **PRESSURE, low=1e3, high=20e6, optional=True),
)

EARTHQUAKE = (
    Term("seismic_code", "", "choice", "Seismic code", "Edition by which the force of an earthquake on the set is worked out, or coefficients that the project takes from another code.",
         choices=("ASCE_7-10", "ASCE_7-16", "ASCE_7-22", "project_coefficient"), optional=True),
    Term("design_acceleration", "S_DS", "1", "Design spectral acceleration", "At short periods, in units of gravity, for the site and its soil.", **RATIO, low=0, high=5, optional=True),
    Term("seismic_importance", "I_p", "1", "Importance factor", "Of the set as a component of the building.", **RATIO, low=1, high=1.5, default="1.5", source="asce-7-13-1-3"),
    Term("attachment_height", "z", "m", "Height of attachment", "Height above grade at which the set is fixed to the building; not above nought for a set on the ground.", **LENGTH, low=-50, high=500, default="0 m", source="slab-on-ground"),
    Term("roof_height", "h_r", "m", "Height of the roof", "Mean height of the roof above grade.", **LENGTH, low=1, high=500, optional=True),
    Term("height_ratio", "z/h", "1", "Relative height", "Height of attachment over that of the roof, from nought to one.", **RATIO),
    Term("resonance_ductility", "C_AR", "1", "Resonance ductility factor", "Of the set as mounted, from table 13.6-1 of the 7-22 edition that the project holds.", **RATIO, low=1, high=4, optional=True),
    Term("component_strength", "R_po", "1", "Strength factor", "Of the set as mounted, from table 13.6-1 of the 7-22 edition that the project holds.", **RATIO, low=1, high=4, optional=True),
    Term("structure_ductility", "R_μ", "1", "Ductility of the building", "Reduction for the building that carries the set; one at or below grade.", **RATIO, low=1, high=4, default="1", source="asce-7-22-ductility"),
    Term("component_amplification", "a_p", "1", "Amplification of the component", "How much the mounting amplifies the motion of the floor; in the 7-22 edition the resonance ductility factor.", **RATIO),
    Term("component_response", "R_p", "1", "Response factor of the component", "What yielding takes off the force; in the 7-22 edition the strength factor.", **RATIO),
    Term("height_slope", "a_1", "1", "Slope of the height factor", "Rise of the factor from ground to roof in the 7-22 edition, the period of the building not being known.", **RATIO, default="2.5",
         source="asce-7-22-height", constant=True),
    Term("height_factor", "k_h", "1", "Factor of height", "What the building adds from ground to the height of attachment.", **RATIO, low=0.5, high=5, either=True),
    Term("seismic_ratio_formula", "c_1", "1", "Force over weight, by formula", "Before the lower and upper limits.", **RATIO),
    Term("seismic_ratio_min", "c_lo", "1", "Force over weight, least", "Lower limit of the code.", **RATIO),
    Term("seismic_ratio_max", "c_hi", "1", "Force over weight, most", "Upper limit of the code.", **RATIO),
    Term("seismic_ratio_given", "c_g", "1", "Force over weight, as given", "Horizontal force over weight by the project's own code, all its factors included.", **RATIO, low=0, high=5, optional=True),
    Term("seismic_vertical_given", "c_v,g", "1", "Vertical force over weight, as given", "By the project's own code.", **RATIO, low=0, high=2, optional=True),
    Term("vertical_share", "k_v", "1", "Share of the vertical force", "Vertical force over weight, for a unit of design spectral acceleration.", **RATIO, default="0.2", source="asce-7-vertical", constant=True),
    Term("seismic_ratio", "c_E", "1", "Force over weight", "Horizontal force of the earthquake over the weight of the set.", **RATIO),
    Term("seismic_vertical_ratio", "c_v", "1", "Vertical force over weight", "Vertical force of the earthquake over the weight of the set, up or down.", **RATIO),
    Term("snubber_gap_limit", "s_lim", "m", "Gap beyond which force doubles", "Clearance of snubbers beyond which the code doubles the force, for the blow.", **SMALL, default="0.25 in", source="asce-7-note-b", constant=True),
    Term("wide_gap_factor", "k_w", "1", "Factor of a wide gap", "On the force, where the clearance of snubbers is beyond the limit.", **RATIO, default="2", source="asce-7-note-b", constant=True),
    Term("gap_factor", "k_s", "1", "Factor of the gap", "For snubbers with a wide gap, else one.", **RATIO),
    Term("seismic_force", "F_p", "N", "Horizontal force of the earthquake", "On the set and its inertia base, in any horizontal direction.", **LOAD),
    Term("seismic_vertical_force", "F_v", "N", "Vertical force of the earthquake", "On the set and its inertia base, up or down.", **LOAD),
)

ANCHORS = (
    Term("anchor_spacing", "b_a", "m", "Spacing of the anchors", "Distance between the outer rows of anchors, along and across.", axes=PLAN, **LENGTH, low=0.1, high=40, optional=True),
    Term("anchors_in_tension", "n_t", "1", "Anchors in a row", "Number of anchors in the row that is pulled, when the force acts along or across.", axes=PLAN, **COUNT, optional=True),
    Term("anchors_total", "n_a", "1", "Anchors", "Number of anchors that hold the set.", **COUNT, optional=True),
    Term("anchor_overstrength", "Ω_0", "1", "Overstrength factor", "On the force of the earthquake for anchors in concrete; one where the project's code counts it elsewhere.", **RATIO, low=1, high=3,
         default="2", source="asce-7-overstrength"),
    Term("dead_load_factor", "γ_G", "1", "Factor on holding weight", "What of the weight is counted against overturning.", **RATIO, low=0, high=1, default="0.9", source="asce-7-combination"),
    Term("overturning_moment", "M_E", "N*m", "Overturning moment", "Of the horizontal force about the plane of the anchors, with overstrength.", **MOMENT),
    Term("holding_moment", "M_G", "N*m", "Holding moment", "Of the weight about the row of anchors that is pressed.", axes=PLAN, **MOMENT),
    Term("anchor_tension", "T_a", "N", "Tension of an anchor", "Pull on each anchor of the lifted row.", axes=PLAN, **LOAD),
    Term("anchor_shear", "V_a", "N", "Shear of an anchor", "Share of the horizontal force; friction is not counted.", **LOAD),
    Term("anchor_tension_capacity", "T_a,max", "N", "Tension capacity of an anchor", "Design strength in cracked concrete, with edges and spacing, by the anchor design.", **LOAD, low=1, optional=True),
    Term("anchor_shear_capacity", "V_a,max", "N", "Shear capacity of an anchor", "Design strength with edges and spacing, by the anchor design.", **LOAD, low=1, optional=True),
    Term("anchor_combined_use", "u_a", "1", "Tension and shear of an anchor", "Sum of tension and shear, each over its capacity.", axes=PLAN, **RATIO),
    Term("anchor_combined_max", "u_a,max", "1", "Tension and shear allowed", "Straight line between the two capacities.", **RATIO, low=1, high=2, default="1.2", source="aci-318-interaction"),
    Term("running_transmissibility", "T_n", "1", "Transmissibility of first order", "Part of the unbalance force that reaches the block.", shown=("%",)),
    Term("unbalance_force", "F_u", "N", "Unbalance force", "Amplitude of the exciting force of first order at rated speed.", **LOAD),
    Term("transmitted_force", "F_T", "N", "Dynamic force on the block", "Amplitude of the force of first order that passes the mounts.", **LOAD),
)

TERMS = (*MASSES, *BLOCK, *BEARING, *EARTHQUAKE, *ANCHORS)
