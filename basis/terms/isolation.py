"""Terms of the mounting of a set: mounts and their loads, natural frequency, what passes, start and stop, flexible connections, snubbers."""

from basis.terms import Term

LOAD = {"shown": ("kN", "lbf")}
SMALL = {"shown": ("mm", "in")}
LENGTH = {"shown": ("m", "ft")}
STIFFNESS = {"shown": ("N/mm", "lbf/in")}
SHARE = {"shown": ("%",)}
FREQUENCY = {"kind": "frequency"}
TORQUE = {"shown": ("kN*m", "lbf*ft"), "kind": "torque"}
MOUNT, ORDER, PLAN, POINT, LINK = ("mount",), ("excitation",), ("plan_direction",), ("curve_point",), ("connection",)
CURVE = ("0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.95, 1, 1.05, 1.1, 1.15, 1.2, 1.3, 1.414, 1.6, 1.8, 2, 2.5, 3, 4, 5, 7, 10, 14, 20, 30, "
         "50, 70, 100")

MOUNTS = (
    Term("set_mounting", "", "choice", "Mounting of the set", "Bolted hard to its block, on steel springs, or on elastomer mounts.",
         choices=("solid", "springs", "elastomer")),
    Term("mount_place", "r_i", "m", "Place of the mount", "Distance of the mount from the middle of the mounts, along the set and across it.",
         axes=("mount", "plan_direction"), **LENGTH, low=-30, high=30),
    Term("mount_stiffness", "k_i", "N/m", "Stiffness of the mount", "Vertical static stiffness of one mount, from its maker.", axes=MOUNT, **STIFFNESS, low=1e3, optional=True),
    Term("hold_down_stiffness", "k_0", "N/m", "Stiffness of a hold-down point", "Of a set that is bolted down all points are taken alike: only their ratio counts.", **STIFFNESS,
         default="1000 N/mm", source="equal-hold-downs", constant=True),
    Term("mount_support_stiffness", "k_s,i", "N/m", "Stiffness that shares the load", "Stiffness of each mount or hold-down point by which the weight is shared.", axes=MOUNT, **STIFFNESS),
    Term("mount_load_min", "F_min", "N", "Least load of the mount", "Load below which the mount does not isolate, or may come loose.", axes=MOUNT, **LOAD, low=0, optional=True),
    Term("mount_load_max", "F_max", "N", "Greatest load of the mount", "Rated load of the mount.", axes=MOUNT, **LOAD, low=0, optional=True),
    Term("inertia_base_mass", "m_ib", "kg", "Mass of the inertia base", "Concrete or steel base above the mounts, to which the set is bolted.", shown=("kg", "lb"), digits=4, low=0,
         default="0 kg", source="definition"),
    Term("gravity_centre", "e_G", "m", "Centre of gravity", "Place of the centre of gravity of all that stands on the mounts, from the middle of the mounts, along and across.",
         axes=PLAN, **LENGTH, low=-10, high=10),
    Term("gravity_centre_height", "h_G", "m", "Height of the centre of gravity", "Above the plane of the anchors, with springs, snubbers and inertia base counted.", **LENGTH, low=0, high=10),
    Term("sprung_mass", "m_s", "kg", "Mass on the mounts", "Wet set and inertia base.", shown=("kg", "lb"), digits=4),
    Term("sprung_weight", "W_s", "N", "Weight on the mounts", "Weight of wet set and inertia base.", **LOAD),
    Term("mount_spread", "w", "m", "Spread of the mounts", "Distance between the outermost mounts, along and across.", axes=PLAN, **LENGTH),
    Term("mount_static_load", "F_i", "N", "Load of the mount at rest", "Share of the weight, by centre of gravity and stiffness.", axes=MOUNT, **LOAD),
    Term("mount_torque_share", "a_i", "1/m", "Load of the mount per torque", "Force on the mount for a unit of torque about the length of the set.", axes=MOUNT, shown=("1/m", "1/ft")),
    Term("mount_deflection", "δ_i", "m", "Deflection of the mount", "Deflection of this mount under its load at rest.", axes=MOUNT, **SMALL),
    Term("mount_load_high", "F_i,hi", "N", "Highest load of the mount", "Load at rest and the torque reaction, as it presses down.", axes=MOUNT, **LOAD),
    Term("mount_load_low", "F_i,lo", "N", "Lowest load of the mount", "Load at rest less the torque reaction, as it lifts.", axes=MOUNT, **LOAD),
    Term("mount_load_uplift", "F_0", "N", "Load at uplift", "A mount without load has come loose.", **LOAD, default="0 N", source="rigid-body-statics", constant=True),
    Term("engine_torque", "M", "N*m", "Torque", "Torque between engine and alternator at site power.", **TORQUE),
    Term("torque_path", "", "choice", "Where the torque is borne", "Through the mounts, as with an engine on mounts of its own, or inside one rigid base that holds engine and alternator.",
         choices=("through_mounts", "within_base"), default="through_mounts", source="torque-on-mounts"),
    Term("steady_mount_torque", "M_m", "N*m", "Steady torque on the mounts", "What of the torque the mounts hold while the set runs.", **TORQUE),
    Term("torque_side_load", "F_M", "N", "Torque reaction of a side", "Force down on the mounts of one side together, and up on those of the other, while the set runs.", **LOAD),
    Term("short_circuit_torque_ratio", "c_sc", "1", "Short-circuit torque ratio", "Peak torque of the alternator at a short circuit over torque at site power, from its maker.",
         shown=("1",), low=1, high=30, optional=True),
    Term("fault_torque", "M_sc", "N*m", "Torque at a short circuit", "Peak torque on the stator of the alternator.", **TORQUE),
    Term("fault_side_load", "F_sc", "N", "Short-circuit reaction of a side", "Force on one side, as if the peak torque stood still.", **LOAD),
)

TUNING = (
    Term("dynamic_stiffness_ratio", "κ_d", "1", "Dynamic over static stiffness", "How much stiffer an elastomer mount is when it vibrates, from its maker.", shown=("1",), low=1, high=4,
         default="2", source="elastomer-ratio"),
    Term("stiffness_ratio", "κ", "1", "Ratio of stiffness in motion", "One for steel springs, the dynamic over the static stiffness for elastomer.", shown=("1",)),
    Term("damping_ratio", "ζ", "1", "Damping ratio", "Damping of the mounts over critical damping.", **SHARE, low=0.001, high=0.5, default="5 %", source="usual-damping"),
    Term("mounts_stiffness", "K", "N/m", "Stiffness of all mounts", "Vertical static stiffness of all mounts together.", **STIFFNESS),
    Term("static_deflection", "δ", "m", "Static deflection", "Mean deflection of the mounts under the weight.", **SMALL),
    Term("floor_kind", "", "choice", "Floor below", "A slab on the ground, or a floor that spans.", choices=("ground", "suspended"), default="ground", source="slab-on-ground"),
    Term("floor_stiffness", "k_fl", "N/m", "Stiffness of the floor", "Vertical stiffness of the floor under the set, from the structural engineer.", **STIFFNESS, low=1e4, optional=True),
    Term("support_factor", "c_fl", "1", "Factor of the floor", "What a floor that gives leaves of the natural frequency.", shown=("1",)),
    Term("floor_deflection_ratio", "k_r", "1", "Deflection of floor over mounts", "How much the floor sinks under the set, over what the mounts sink.", **SHARE),
    Term("floor_deflection_ratio_max", "k_r,max", "1", "Most deflection of floor over mounts", "Beyond it floor and mounts swing together.", **SHARE, low=0, high=1, default="10 %", source="floor-rule"),
    Term("floor_natural_frequency", "f_fl", "Hz", "Natural frequency of the floor", "Lowest vertical frequency of the floor with its own mass, from the structural engineer.",
         **FREQUENCY, low=0.5, high=200, optional=True),
    Term("floor_frequency_gap", "Δ_fl", "1", "Clearance of the floor's frequency", "How far the natural frequency of the floor lies from each order.", axes=ORDER, **SHARE),
    Term("frequency_gap_min", "Δ_min", "1", "Least clearance of a frequency", "Nearer than this to an order, a floor or a speed is in resonance for practical purposes.", **SHARE, low=0, high=1,
         default="20 %", source="frequency-clearance"),
    Term("block_natural_frequency", "f_b", "Hz", "Natural frequency of the block", "Vertical frequency of a bolted-down set with its block on the soil, from the dynamic study of the foundation.",
         **FREQUENCY, low=1, high=200, optional=True),
    Term("natural_frequency", "f_n", "Hz", "Natural frequency", "Vertical natural frequency of the set on its mounts.", **FREQUENCY),
    Term("excitation_order", "i", "1", "Order", "Excitations in one turn of the crankshaft.", axes=ORDER, shown=("1",), low=0.1, high=50, either=True),
    Term("excitation_frequency", "f_e", "Hz", "Exciting frequency", "Frequency of the order at rated speed.", axes=ORDER, **FREQUENCY),
    Term("frequency_ratio", "r", "1", "Frequency ratio", "Exciting over natural frequency.", axes=ORDER, shown=("1",)),
    Term("frequency_ratio_min", "r_min", "1", "Least frequency ratio", "Ratio that the mounting is to reach for every order.", shown=("1",), low=1, high=20, default="3", source="isolation-ratio"),
    Term("transmissibility", "T", "1", "Transmissibility", "Force into the floor over exciting force.", axes=ORDER, **SHARE),
    Term("transmissibility_max", "T_max", "1", "Transmissibility allowed", "Most that may pass of any order, as the project decides.", **SHARE, low=0.001, high=1, optional=True),
    Term("isolation_efficiency", "η_i", "1", "Isolation efficiency", "Part of the exciting force that does not pass; negative where the mounts amplify.", axes=ORDER, **SHARE),
    Term("frequency_ratio_needed", "r_req", "1", "Frequency ratio needed", "Ratio at which mounts without damping let pass no more than is allowed.", shown=("1",)),
    Term("deflection_needed", "δ_req", "m", "Static deflection needed", "Deflection of linear mounts that gives that ratio for this order.", axes=ORDER, **SMALL),
    Term("curve_ratio", "r_c", "1", "Frequency ratio of the curve", "Places at which the curve is worked out.", axes=POINT, shown=("1",), default=CURVE, source="curve-points", constant=True),
    Term("curve_transmissibility", "T_c", "1", "Transmissibility of the curve", "Transmissibility at each place of the curve.", axes=POINT, shown=("1",)),
    Term("resonance_speed", "n_res", "Hz", "Speed at resonance", "Speed at which the order meets the natural frequency.", axes=ORDER, shown=("rpm",), kind="rotational frequency"),
    Term("speed_under_starter", "n_cr", "Hz", "Speed under the starter", "Speed to which the starter turns the engine before it fires.", shown=("rpm",), kind="rotational frequency", low=0.5, high=15, optional=True),
    Term("starter_speed_gap", "Δ_cr", "1", "Clearance of the starter's speed", "How far the speed under the starter lies from each speed at resonance.", axes=ORDER, **SHARE),
)

MOTION = (
    Term("vibration_velocity", "v", "m/s", "Vibration velocity at rated speed", "Root-mean-square velocity of the set on its mounts at first order, declared or measured.",
         shown=("mm/s", "in/s"), low=0, high=0.2, optional=True),
    Term("running_ratio", "r_n", "1", "Ratio at rated speed", "First order at rated speed over natural frequency.", shown=("1",)),
    Term("free_amplitude", "X_0", "m", "Amplitude far above resonance", "What the unbalance makes of the set's motion when springs no longer matter.", **SMALL),
    Term("resonance_amplitude", "X_res", "m", "Amplitude at resonance", "Amplitude that would build up if the speed stayed at resonance.", **SMALL),
    Term("start_run_up_time", "t_up", "s", "Time to run up", "Time from rest to rated speed.", low=0.5, high=300, default="6 s", source="run-times"),
    Term("stop_run_down_time", "t_dn", "s", "Time to run down", "Time from rated speed to rest.", low=0.5, high=600, default="30 s", source="run-times"),
    Term("start_sweep_rate", "s_up", "Hz/s", "Sweep of speed at start", "Rise of speed in turns a second, each second."),
    Term("stop_sweep_rate", "s_dn", "Hz/s", "Sweep of speed at stop", "Fall of speed in turns a second, each second."),
    Term("sweep_peak_factor", "c_C", "1", "Peak of a sweep", "Largest amplitude in passing over that which is left after it.", shown=("1",), digits=4, default="1.171", source="swept-resonance", constant=True),
    Term("start_amplitude", "X_up", "m", "Amplitude at start", "Largest amplitude while the speed runs up through resonance.", **SMALL),
    Term("stop_amplitude", "X_dn", "m", "Amplitude at stop", "Largest amplitude while the speed runs down through resonance.", **SMALL),
    Term("start_resonance_time", "τ_up", "s", "Time in resonance at start", "Time that the speed stays within the width of the resonance."),
    Term("stop_resonance_time", "τ_dn", "s", "Time in resonance at stop", "Time that the speed stays within the width of the resonance."),
    Term("passage_amplitude", "X_p", "m", "Amplitude in passing", "Larger amplitude of start and stop.", **SMALL),
    Term("set_restraint", "", "choice", "Restraint of the set", "Free on its mounts, or held within a gap by snubbers.", choices=("free", "snubbers"), default="free", source="definition"),
    Term("snubber_gap", "s_sn", "m", "Gap of the snubbers", "Free travel to the snubber or stop, each way.", **SMALL, low=0, high=0.2, optional=True),
    Term("movement_allowance", "X_all", "m", "Least movement allowed for", "Of a set that is free on its mounts.", **SMALL, low=0, high=0.1, default="6 mm", source="rocking-allowance"),
    Term("set_movement", "X_set", "m", "Movement of the set", "Movement at the mounts, each way, for which connections are made.", **SMALL),
    Term("connection_height", "h_c", "m", "Height of the connection", "Height above the mounts at which the connection meets the set.", axes=LINK, **LENGTH, low=0, high=10, default="0 m", source="definition"),
    Term("connection_growth", "X_th", "m", "Growth at the connection", "Movement by warmth, pressure or settlement, added to that of the set.", axes=LINK, **SMALL, low=0, high=0.3, default="0 mm", source="definition"),
    Term("connection_movement", "X_c", "m", "Movement expected", "Movement of the set at this height, and growth.", axes=LINK, **SMALL),
    Term("connection_movement_allowed", "X_c,max", "m", "Movement allowed", "Movement that the maker of the bellows, hose, cable loop or sleeve allows; nought for a rigid joint.", axes=LINK, **SMALL,
         low=0, high=0.5, optional=True),
)

SNUBBERS = (
    Term("snubbers_acting", "n_sn", "1", "Snubbers that act at once", "Number of snubbers that hold the set in one horizontal direction.", shown=("1",), digits=4, low=1, high=64, optional=True),
    Term("snubber_capacity", "F_sn,max", "N", "Horizontal capacity of a snubber", "By its maker's approval.", **LOAD, low=1, optional=True),
    Term("snubber_force", "F_sn", "N", "Horizontal force on a snubber", "Share of the horizontal force of the earthquake.", **LOAD),
    Term("snubber_use", "u_sn", "1", "Use of a snubber, horizontal", "Force over capacity; nothing for a set that is bolted down.", **SHARE),
    Term("snubber_spacing", "b_sn", "m", "Spacing of the snubbers", "Distance between the two rows of snubbers, along and across.", axes=PLAN, **LENGTH, low=0.1, high=30, optional=True),
    Term("snubbers_in_row", "n_sn,r", "1", "Snubbers in a row", "Number of snubbers that pull together when the set would overturn along or across.", axes=PLAN, shown=("1",), digits=4, low=1, high=64, optional=True),
    Term("snubber_uplift", "T_sn", "N", "Uplift on a snubber", "Pull on each snubber of the lifted row.", axes=PLAN, **LOAD),
    Term("snubber_uplift_capacity", "T_sn,max", "N", "Uplift capacity of a snubber", "By its maker's approval.", **LOAD, low=1, optional=True),
    Term("snubber_uplift_use", "u_sn,T", "1", "Use of a snubber, uplift", "Uplift over capacity; nothing for a set that is bolted down.", axes=PLAN, **SHARE),
    Term("full_use", "u_0", "1", "Full use", "Force equal to capacity.", **SHARE, default="100 %", source="definition", constant=True),
)

TERMS = (*MOUNTS, *TUNING, *MOTION, *SNUBBERS)
