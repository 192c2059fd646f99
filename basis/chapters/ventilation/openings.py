"""Ventilation, second part: openings, the restriction ladder from weather louvre to outlet louvre, the fan, door and air filter.

Drops are those of the actual volume flow at the density of the place. Openings side by side share the flow of their side by
shares that the project states. Left out: leakage into the room, buoyancy, swirl of the fan.
"""

import numpy as np

from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import SOME, check, formula, procedure
from basis.language.maths import cumulative_over, max_over, min_over, pick, sum_over
from basis.physics.crossing import crossing


@formula(source="definition")
def free_area(gross_area, free_area_ratio):
    """Least area between the blades: what rain and whistling depend on, while drops are stated on the face."""
    return gross_area * free_area_ratio


@formula(source="definition")
def opening_area_ratio(gross_area, opening_share, fan_face_area, opening_serves, installed_sets):
    """Gross area over the faces of the radiators or fans that it serves, those of all installed sets where they share it."""
    return gross_area / (opening_share * fan_face_area * (installed_sets if opening_serves == "all_sets" else 1))


@formula(source="mass-balance")
def opening_flow_factor(opening_share, opening_serves, running_sets):
    """How many times the flow of one set passes the opening while these sets run."""
    return opening_share * (running_sets if opening_serves == "all_sets" else 1)


@formula(source="mass-balance")
def opening_airflow(opening_flow_factor, fan_mass_flow, opening_side, room_combustion_mass_flow, opening_density):
    """Actual volume flow through the opening. Combustion air enters with the rest but leaves by the exhaust."""
    return opening_flow_factor * (fan_mass_flow + (room_combustion_mass_flow if opening_side == "intake" else 0)) / opening_density


@formula(source="definition")
def opening_density(opening_side, intake_density, discharge_density):
    """Cool air on the intake side, hot air on the discharge side."""
    return intake_density if opening_side == "intake" else discharge_density


@formula(source="definition")
def face_velocity(opening_airflow, gross_area):
    """Velocity on the whole face, by which louvres are chosen."""
    return opening_airflow / gross_area


@formula(source="definition")
def free_velocity(opening_airflow, free_area):
    """Velocity between the blades, by which rain is carried in."""
    return opening_airflow / free_area


@formula(source="air-at-constant-pressure")
def intake_density(outdoor_air_density, outdoor_temperature_max, intake_temperature):
    """Density of the air that enters, warmed by what comes back."""
    return outdoor_air_density * outdoor_temperature_max / intake_temperature


@formula(source="air-at-constant-pressure")
def room_density(outdoor_air_density, outdoor_temperature_max, room_temperature):
    """Density of the air that the fan takes in. The room's small under-pressure is neglected."""
    return outdoor_air_density * outdoor_temperature_max / room_temperature


@formula(source="air-at-constant-pressure")
def discharge_density(outdoor_air_density, outdoor_temperature_max, discharge_temperature):
    """Density of the air that leaves."""
    return outdoor_air_density * outdoor_temperature_max / discharge_temperature


@formula(source="definition")
def element_face_area(element_opening, gross_area):
    """An element fills its opening unless the project gives it a face of its own."""
    return pick(element_opening, gross_area)


@formula(source=("velocity-pressure", "square-law"))
def element_resistance(element_loss_coefficient, element_friction_loss, element_face_area, element_rated_drop, element_rated_density, element_rated_airflow):
    """Drop of the element over density and square of flow: from loss coefficient, duct and elbows on the face velocity, or from the maker's rated drop.

    Example: element_friction_loss=[0], element_face_area=[4 m^2], element_rated_drop=[45 Pa], element_rated_airflow=[10 m^3/s] give [0.375 1/m^4] (hand
    calculation).
    """
    return (element_loss_coefficient + element_friction_loss) / (2 * element_face_area ** 2) + (
        element_rated_drop / (element_rated_density * element_rated_airflow ** 2) if element_rated_drop > 0 else 0)


@formula(source="definition")
def element_airflow(element_opening, opening_airflow):
    """Flow of the opening in whose path the element stands."""
    return pick(element_opening, opening_airflow)


@formula(source="definition")
def element_density(element_opening, opening_density):
    """Density of the air in that path."""
    return pick(element_opening, opening_density)


@formula(source="definition")
def element_velocity(element_airflow, element_face_area):
    """Velocity on the face of the element."""
    return element_airflow / element_face_area


@formula(source="square-law", valid={"element_pressure_drop": (0.05, 1000)})
def element_pressure_drop(element_resistance, element_density, element_airflow):
    """Drop at the actual volume flow and density. Next to nothing means that neither coefficient nor rated drop was given."""
    return element_resistance * element_density * element_airflow ** 2


@formula(source="power-weighted-drop")
def ladder_step(element_opening, opening_share, element_pressure_drop):
    """What the element adds to the ladder: all of its drop in series, its share where openings lie side by side."""
    return pick(element_opening, opening_share) * element_pressure_drop


@formula(source="definition")
def restriction_ladder(ladder_step):
    """Running sum of the drops in the order in which the air meets the elements."""
    return cumulative_over("air_element", ladder_step)


@formula(source="definition")
def opening_intake_share(opening_side, opening_share):
    """Counts an opening on the intake side by its share."""
    return opening_share if opening_side == "intake" else 0


@formula(source="definition")
def opening_discharge_share(opening_side, opening_share):
    """Counts an opening on the discharge side by its share."""
    return opening_share if opening_side == "discharge" else 0


@formula(source="power-weighted-drop")
def intake_resistance(element_opening, opening_intake_share, element_resistance, opening_flow_factor):
    """Resistance of the intake as the flow of one set feels it: what all sets share counts by the square of the sets that run."""
    return sum_over("air_element", pick(element_opening, opening_intake_share) * element_resistance * pick(element_opening, opening_flow_factor) ** 2)


@formula(source="power-weighted-drop")
def discharge_resistance(element_opening, opening_discharge_share, element_resistance, opening_flow_factor):
    """Resistance of the discharge as the flow of one set feels it."""
    return sum_over("air_element", pick(element_opening, opening_discharge_share) * element_resistance * pick(element_opening, opening_flow_factor) ** 2)


@formula(source="power-weighted-drop")
def intake_pressure_drop(element_opening, opening_intake_share, element_pressure_drop):
    """Sum of the intake side. The room stands at this much below outdoor pressure, whatever the discharge does."""
    return sum_over("air_element", pick(element_opening, opening_intake_share) * element_pressure_drop)


@formula(source="power-weighted-drop")
def discharge_pressure_drop(element_opening, opening_discharge_share, element_pressure_drop):
    """Sum of the discharge side, from the fan to outdoors."""
    return sum_over("air_element", pick(element_opening, opening_discharge_share) * element_pressure_drop)


@formula(source="stagnation-pressure")
def wind_pressure(wind_pressure_coefficient, outdoor_air_density, discharge_wind_speed):
    """Pressure of the wind on the discharge. The intake is taken as sheltered, which is the safe side for the fan.

    Example: wind_pressure_coefficient=0.7, outdoor_air_density=1.2 kg/m^3, discharge_wind_speed=10 m/s give 42 Pa (hand calculation).
    """
    return wind_pressure_coefficient * outdoor_air_density * discharge_wind_speed ** 2 / 2


@procedure(source="definition", yields=("ladder_elements",),
           equation="n_e = number of elements; not known while an opening has none in its path and another has")
def ladder_elements(element_opening, gross_area):
    """Elements that the air passes; without one no building stands against the fan, and nothing is proved by its flow.

    An opening without any is not one without a drop: where the others have theirs, what the fan has to overcome is not known yet.
    Example: element_opening=[item_1, item_2, item_2], gross_area=[4 m^2, 3 m^2] give 3 (hand count).
    """
    number, bare = len(element_opening), set(range(len(gross_area))).difference(element_opening)
    return (np.nan if number and bare else float(number),), 0.0, "elements counted twice"


@formula(source="definition")
def external_restriction(intake_pressure_drop, discharge_pressure_drop, wind_pressure):
    """Both sides and the wind. The radiator core is not in it: it is inside the rating of a set-mounted fan."""
    return intake_pressure_drop + discharge_pressure_drop + wind_pressure


@formula(source="fan-laws")
def restriction_allowed_site(restriction_allowed, room_density, fan_rated_density):
    """Allowance in the air that the fan takes: thinner air, less pressure at the same speed and volume flow."""
    return restriction_allowed * room_density / fan_rated_density


@formula(source="definition")
def restriction_ratio(external_restriction, restriction_allowed_site):
    """Part of the allowance that the building uses."""
    return external_restriction / restriction_allowed_site


@procedure(source=("fan-laws", "steady-flow-energy", "recirculation-balance"), yields=("fan_airflow", "fan_pressure"), sampled=True,
           equation="Δp_f(q_V,fan)·ρ_room/ρ_f = r_in·(q_m,fan + q_m,cr)²/ρ_in + r_out·q_m,fan²/ρ_out + p_wind")
def fan_airflow(fan_point_airflow, fan_point_pressure, fan_rated_density, intake_resistance, discharge_resistance, wind_pressure,
                room_combustion_mass_flow, outdoor_air_density, outdoor_temperature_max, air_heat_capacity, heat_per_running_set,
                radiator_heat_to_room_fan, recirculation_fraction):
    """Airflow at which the fan of one set, as installed, gives just the pressure that the building takes.

    The curve is a straight line in the square of the flow between its points and is not carried on beyond them. The air warms on its
    way, so the density of each place follows from the flow. Found by cutting the span in parts again and again; the residual is the largest difference left.
    """
    if np.unique(fan_point_airflow).size == 1:
        raise ItemTroubles([ItemTrouble("fan_point_airflow", 0, "a fan curve needs points at two airflows or more", "fan_points")])
    if not np.size(fan_point_airflow):  # no curve, so no flow is known
        fan_point_airflow = fan_point_pressure = np.full(2, np.nan)
    density, start, heat_capacity, outer, rated = (
        np.asarray(one)[..., None] for one in (outdoor_air_density, outdoor_temperature_max, air_heat_capacity, wind_pressure, fan_rated_density))
    combustion, radiator, fraction = (np.asarray(one)[..., None] for one in (room_combustion_mass_flow, radiator_heat_to_room_fan, recirculation_fraction))
    whole = (heat_per_running_set + radiator) / heat_capacity  # kg·K/s: rise from intake to discharge times mass flow
    entering = fraction / (1 - fraction) * whole
    crossed = entering + heat_per_running_set / heat_capacity

    curve = _curve(fan_point_airflow, fan_point_pressure)

    def pressure(airflow):
        return curve(airflow) * (density * airflow - crossed / start) / (airflow * rated)

    def surplus(airflow):
        mass = density * airflow - crossed / start
        intake = intake_resistance * (mass + combustion) ** 2 * (1 + entering / (mass * start))
        discharge = discharge_resistance * mass ** 2 * (1 + (entering + whole) / (mass * start))
        return pressure(airflow) - (intake + discharge) / density - outer

    low, high = (end(fan_point_airflow, axis=-1, keepdims=True) for end in (np.min, np.max))
    low, high, _ = np.broadcast_arrays(low, high, surplus(high))
    found = crossing(surplus, low, high)
    return (found, pressure(found)), float(np.max(np.nan_to_num(np.abs(surplus(found))), initial=0.0)), "largest difference of pressures, Pa"


def _curve(points, pressures):
    """Pressure of the fan over its airflow: straight lines in the square of the flow, the end values beyond the ends."""
    order = np.argsort(points, axis=-1)
    squares, pressures = np.take_along_axis(points, order, -1) ** 2, np.take_along_axis(pressures, order, -1)
    spans, slopes = np.diff(squares)[..., None, :], (np.diff(pressures) / np.diff(squares))[..., None, :]

    def at(airflow):
        passed = np.clip(airflow[..., None] ** 2 - squares[..., None, :-1], 0, spans)
        return pressures[..., :1] + np.sum(passed * slopes, axis=-1)
    return at


@formula(source="fan-curve-end")
def fan_curve_least(fan_point_airflow, fan_curve_reserve):
    """A building that takes more pressure than the curve states leaves it here; the search for the flow then stops at the last point.

    Example: fan_point_airflow=[10 m^3/s, 6 m^3/s], fan_curve_reserve=2 % give 6.12 m^3/s (hand calculation).
    """
    return min_over("fan_point", fan_point_airflow) * (1 + fan_curve_reserve)


@formula(source="fan-balance")
def fan_balance_error(fan_pressure, external_restriction):
    """Fan pressure against the ladder, which is summed element by element apart from the search for the flow."""
    return abs(fan_pressure - external_restriction)


@formula(source=("air-at-constant-pressure", "steady-flow-energy"))
def fan_mass_flow(outdoor_air_density, fan_airflow, recirculation_fraction, heat_per_running_set, radiator_heat_to_room_fan,
                  air_heat_capacity, outdoor_temperature_max):
    """Mass that the fan moves: its volume flow at the density of the room, which the air's own warming sets."""
    return outdoor_air_density * fan_airflow - (
        heat_per_running_set + recirculation_fraction * radiator_heat_to_room_fan) / (
        (1 - recirculation_fraction) * air_heat_capacity * outdoor_temperature_max)


@formula(source="door-moments", valid={"intake_pressure_drop": (0, 250)})
def door_force(door_closer_force, intake_pressure_drop, door_height, door_width, door_handle_distance):
    """Force at the handle of a door that opens outwards: half the leaf's width is the lever of the pressure.

    Example: intake_pressure_drop=[50 Pa] give [91.5 N] (hand calculation).
    """
    return door_closer_force + intake_pressure_drop * door_height * door_width ** 2 / (2 * (door_width - door_handle_distance))


@formula(source="definition")
def combustion_intake_restriction(combustion_intake_drop, intake_pressure_drop, combustion_air_source):
    """From outdoors to the turbocharger. Where the engine breathes from the room, the room's under-pressure comes on top of the filter."""
    return combustion_intake_drop + (intake_pressure_drop if combustion_air_source == "from_room" else 0)


@formula(source="definition")
def design_fan_airflow(fan_airflow):
    """Airflow of the fan that is throttled most."""
    return min_over("running_case", fan_airflow)


@formula(source="definition")
def design_restriction(external_restriction):
    """Greatest restriction of all running cases."""
    return max_over("running_case", external_restriction)


@formula(source="definition")
def design_room_depression(intake_pressure_drop):
    """Greatest under-pressure of the room in any running case."""
    return max_over("running_case", intake_pressure_drop)


@formula(source="definition")
def design_face_velocity(face_velocity):
    """Greatest face velocity of each opening in any running case."""
    return max_over("running_case", face_velocity)


@formula(source="definition")
def design_pressure_drop(element_pressure_drop):
    """Greatest drop of each element in any running case."""
    return max_over("running_case", element_pressure_drop)


restriction_check = check("restriction", "external_restriction", limit="restriction_allowed_site", safe="below", source="project",
                          title="External restriction of the fan", applies={"ladder_elements": SOME})
aim_check = check("restriction_aim", "restriction_ratio", limit="restriction_ratio_aim", safe="below", source="restriction-aim",
                  title="Part of the allowance used", applies={"ladder_elements": SOME})
fan_check = check("fan_delivery", "fan_airflow", limit="fan_airflow_min", safe="above", source="project", title="Airflow of the fan as installed",
                  applies={"ladder_elements": SOME})
curve_check = check("fan_curve", "fan_airflow", limit="fan_curve_least", safe="above", source="fan-curve-end", title="Building within the fan's curve",
                    exact=True, applies={"ladder_elements": SOME})
fan_balance_check = check("fan_balance", "fan_balance_error", limit="fan_balance_error_max", safe="below", source="fan-balance",
                          title="Fan curve meets the building", self_test=True)
face_check = check("opening_face", "face_velocity", limit="face_velocity_max", safe="below", source="face-velocity", title="Face velocity of openings")
free_check = check("opening_free", "free_velocity", limit="free_velocity_max", safe="below", source="project", title="Velocity in free area of openings")
area_check = check("opening_area", "opening_area_ratio", limit="opening_area_ratio_min", safe="above", source="tm-5-6115-593-34-louvre",
                   title="Openings over face of radiator or fan")
depression_check = check("room_depression", "intake_pressure_drop", limit="room_depression_max", safe="below",
                         source=("room-depression", "mil-hdbk-1003-3-pressure"), title="Under-pressure of the room")
door_check = check("door_opening", "door_force", limit="door_force_max", safe="below", source="project", title="Force to open the door")
combustion_check = check("combustion_intake", "combustion_intake_restriction", limit="combustion_intake_restriction_max", safe="below",
                         source="project", title="Combustion intake restriction")
