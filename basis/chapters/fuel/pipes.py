"""Fuel, third part: pipes with the coldest fuel, suction at the altitude of the site, vents, containment, and fuel indoors."""

from basis.language.formula import check, formula, procedure
from basis.language.maths import count_over, max_over, sum_over
from basis.physics.pipe import friction_factor

# ---- pipes ----

@formula(source="definition")
def fuel_pipe_flow(fuel_pipe_duty, fuel_transfer_pump_flow, engine_supply_flow):
    """Flow in a pipe: one transfer pump on its suction; on engine pipes all that the engine draws, which at no load nearly all comes back."""
    return fuel_transfer_pump_flow if fuel_pipe_duty == "transfer_suction" else engine_supply_flow


@formula(source="definition")
def fuel_pipe_velocity(fuel_pipe_flow, fuel_pipe_bore):
    """Mean velocity in a pipe."""
    return fuel_pipe_flow / (3.141592653589793 / 4 * fuel_pipe_bore ** 2)


@formula(source="definition")
def fuel_pipe_reynolds_number(fuel_pipe_velocity, fuel_pipe_bore, fuel_viscosity_cold):
    """Reynolds number with the coldest fuel.

    Example: fuel_pipe_velocity=[0.7498 m/s], fuel_pipe_bore=[26.6 mm], fuel_viscosity_cold=4 mm^2/s give [4986] (hand calculation).
    """
    return fuel_pipe_velocity * fuel_pipe_bore / fuel_viscosity_cold


@procedure(source="colebrook-white", equation="1/√f_p = −2·lg(ε_p/(3.7·D_p) + 2.51/(Re_p·√f_p)); f_p = 64/Re_p below 2040",
           yields=("fuel_pipe_friction_factor",))
def fuel_pipe_friction(fuel_pipe_reynolds_number, fuel_pipe_roughness, fuel_pipe_bore):
    """Darcy friction factor with the coldest fuel: turbulent by Colebrook and White, laminar below a Reynolds number of 2040.

    Example: fuel_pipe_reynolds_number=[4986], fuel_pipe_bore=[26.6 mm] give [0.0393] (library fluids).
    """
    factor, residual = friction_factor(fuel_pipe_reynolds_number, fuel_pipe_roughness / fuel_pipe_bore)
    return (factor,), residual, "1/√f less the right side, largest of all pipes"


@formula(source="darcy-weisbach")
def fuel_pipe_line_drop(fuel_pipe_friction_factor, fuel_pipe_length, fuel_pipe_bore, fuel_density_cold, fuel_pipe_velocity):
    """Friction along the pipe with the coldest fuel: in laminar flow it goes with viscosity, so the first start in winter decides the bore."""
    return fuel_pipe_friction_factor * fuel_pipe_length / fuel_pipe_bore * fuel_density_cold * fuel_pipe_velocity ** 2 / 2


@formula(source="darcy-weisbach")
def fuel_pipe_fitting_drop(fuel_pipe_loss_coefficient, fuel_density_cold, fuel_pipe_velocity):
    """Drop of entry, bends, valves and strainer; in thick fuel and slow flow fittings drop more than their coefficients say."""
    return fuel_pipe_loss_coefficient * fuel_density_cold * fuel_pipe_velocity ** 2 / 2


@formula(source="suction-balance")
def fuel_pipe_lift_pressure(fuel_density_cold, standard_gravity, fuel_pipe_rise):
    """Pressure of the column of fuel over the rise of the pipe."""
    return fuel_density_cold * standard_gravity * fuel_pipe_rise


@formula(source="suction-balance")
def fuel_pipe_drop(fuel_pipe_line_drop, fuel_pipe_fitting_drop, fuel_pipe_lift_pressure):
    """Suction that the pump must draw, or pressure that an engine must push against on its return."""
    return fuel_pipe_line_drop + fuel_pipe_fitting_drop + fuel_pipe_lift_pressure


@formula(source="suction-balance")
def fuel_pipe_drop_allowed(fuel_pipe_drop_max, fuel_pipe_duty, fuel_pipe_declared_for, standard_air_pressure, air_pressure):
    """Suction of a lift pump at sea level, less what the altitude takes: a pump does not pull fuel, the air on the tank pushes it.

    A limit that an engine's maker sets for his inlet or return is no suction lift and stands as declared, unless he says that it holds at sea level;
    what altitude leaves for such a pipe is judged by the head at its end.

    Example: fuel_pipe_drop_max=[40 kPa], fuel_pipe_duty=[transfer_suction], air_pressure=83.5 kPa give [22.2 kPa] (hand calculation).
    """
    return fuel_pipe_drop_max - (standard_air_pressure - air_pressure if fuel_pipe_duty != "engine_return" and fuel_pipe_declared_for == "sea_level"
                                 or fuel_pipe_duty == "transfer_suction" and fuel_pipe_declared_for == "by_duty" else 0)


@formula(source="suction-balance")
def fuel_pipe_head_left(air_pressure, fuel_vapour_pressure, fuel_pipe_drop, fuel_pipe_duty, fuel_density_cold, standard_gravity):
    """Absolute head above vapour pressure at the machine, as a column of fuel: after suction at the pump, before the return at the engine.

    Example: air_pressure=101.325 kPa, fuel_pipe_drop=[25.54 kPa], fuel_pipe_duty=[transfer_suction], fuel_density_cold=840 kg/m^3 give [9.08 m] (hand
    calculation).
    """
    return (air_pressure - fuel_vapour_pressure - fuel_pipe_drop * (-1 if fuel_pipe_duty == "engine_return" else 1)) / (fuel_density_cold * standard_gravity)


@formula(source="suction-balance")
def fuel_pipe_head_needed(fuel_pipe_head_min, fuel_pipe_duty):
    """Head that the pump at the end of a suction pipe needs, from its sheet; a return needs none."""
    return fuel_pipe_head_min if fuel_pipe_duty != "engine_return" else 0


@formula(source="transition-zone")
def fuel_pipe_regime(fuel_pipe_reynolds_number):
    """How far the flow is from the zone in which it may be laminar or turbulent: below one it is in it, and friction is uncertain by half."""
    return max(fuel_pipe_reynolds_number / 4000, 2000 / fuel_pipe_reynolds_number)


# ---- vents, containment, indoors ----

@formula(source="nfpa-30-vent")
def fuel_tank_vent_bore_min(fuel_tank_fill_bore, vent_bore_least):
    """Bore of vent that lets air out as fast as fuel comes in."""
    return max(fuel_tank_fill_bore, vent_bore_least)


@formula(source="definition")
def bunded_largest(fuel_tank_volume, fuel_tank_containment):
    """Largest tank in the bund."""
    return max_over("fuel_tank", fuel_tank_volume if fuel_tank_containment == "bund" else 0)


@formula(source="definition")
def bunded_total(fuel_tank_volume, fuel_tank_containment):
    """All tanks in the bund together."""
    return sum_over("fuel_tank", fuel_tank_volume if fuel_tank_containment == "bund" else 0)


@formula(source="definition")
def fuel_tank_bund_volume(fuel_containment_volume, fuel_tank_containment):
    """Volume round this tank: that of the bund, none for a tank with a second wall of its own."""
    return fuel_containment_volume if fuel_tank_containment == "bund" else 0


@formula(source=("oil-storage-form", "spcc"))
def fuel_containment_min(fuel_containment_rule, containment_largest_share, bunded_largest, containment_total_share, bunded_total, rain_depth,
                         fuel_containment_area):
    """Volume that the bund must hold.

    Example: fuel_containment_rule=largest_110_or_total_25, bunded_largest=10 m^3, bunded_total=25 m^3 give 11.0 m^3 (hand calculation).
    """
    return (max(containment_largest_share * bunded_largest, containment_total_share * bunded_total)
            if fuel_containment_rule == "largest_110_or_total_25" else bunded_largest + rain_depth * fuel_containment_area)


@formula(source="oil-storage-form")
def day_tank_tray_min(containment_largest_share, day_tank_volume):
    """Volume under a day tank, as for the largest tank of a bund."""
    return containment_largest_share * day_tank_volume


@formula(source="definition")
def indoor_store(fuel_tank_volume, fuel_tank_place):
    """Tanks of the store that stand inside the building, a tank in the base of a set among them; nought where no store is listed."""
    return sum_over("fuel_tank", fuel_tank_volume if fuel_tank_place == "indoors" else 0) if count_over("fuel_tank") > 0 else 0


@formula(source="definition")
def indoor_fuel(fuel_feed, day_tanks, day_tank_volume, indoor_store):
    """Fuel inside the building: all day tanks, those of spare sets too, and what of the store stands inside."""
    return (day_tanks * day_tank_volume if fuel_feed == "day_tank" else 0) + indoor_store


@formula(source="definition")
def fuel_tank_indoor_fuel(indoor_fuel, fuel_tank_place):
    """Fuel inside the building with this tank of the store; none for a tank that stands outdoors."""
    return indoor_fuel if fuel_tank_place == "indoors" else 0


@formula(source="rule-named")
def indoor_tank_max(indoor_fuel_rule, nfpa_37_tank_max, ifc_fuel_max):
    """Tank allowed indoors by the rule named; the project's own code is given in its place."""
    return nfpa_37_tank_max if indoor_fuel_rule == "nfpa_37_2002" else ifc_fuel_max


@formula(source="rule-named")
def indoor_fuel_max(indoor_fuel_rule, nfpa_37_fuel_max, ifc_fuel_max):
    """Fuel allowed indoors by the rule named, outside rated rooms and protected tanks."""
    return nfpa_37_fuel_max if indoor_fuel_rule == "nfpa_37_2002" else ifc_fuel_max


# ---- checks ----

pipe_pressure = check("fuel_pipe_pressure", "fuel_pipe_drop", limit="fuel_pipe_drop_allowed", safe="below", source="project",
                      title="Suction and back-pressure of fuel pipes")
pipe_head = check("fuel_pipe_head", "fuel_pipe_head_left", limit="fuel_pipe_head_needed", safe="above", source="project", title="Suction head left at the pump")
pipe_regime = check("fuel_pipe_transition", "fuel_pipe_regime", limit="fuel_pipe_regime_min", safe="above", source="transition-zone",
                    title="Flow in fuel pipes clear of the transition", exact=True)
tank_vent = check("tank_vent", "fuel_tank_vent_bore", limit="fuel_tank_vent_bore_min", safe="above", source="nfpa-30-vent",
                  title="Bore of tank vents", exact=True)
containment = check("fuel_containment", "fuel_tank_bund_volume", limit="fuel_containment_min", safe="above", source=("oil-storage-form", "spcc"),
                    title="Volume of the bund", applies={"fuel_tank_containment": ("bund",)})
tray = check("day_tank_tray", "day_tank_tray_volume", limit="day_tank_tray_min", safe="above", source="oil-storage-form", title="Volume under a day tank",
             exact=True, applies={"fuel_feed": ("day_tank",), "day_tank_containment": ("tray",)})
indoor_tank = check("indoor_tank", "day_tank_volume", limit="indoor_tank_max", safe="below", source="rule-named", title="Size of a day tank indoors",
                    applies={"fuel_feed": ("day_tank",)})
indoor_total = check("indoor_total", "indoor_fuel", limit="indoor_fuel_max", safe="below", source="rule-named", title="Fuel indoors",
                     applies={"fuel_feed": ("day_tank",)})
store_tank = check("indoor_store_tank", "fuel_tank_volume", limit="indoor_tank_max", safe="below", source="rule-named",
                   title="Size of a tank of the store indoors", applies={"fuel_tank_place": ("indoors",)})
store_total = check("indoor_store_total", "fuel_tank_indoor_fuel", limit="indoor_fuel_max", safe="below", source="rule-named",
                    title="Fuel indoors with the store", applies={"fuel_tank_place": ("indoors",)})
