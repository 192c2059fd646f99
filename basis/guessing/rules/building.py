"""The room, its surfaces and the air that leaks into it; the ways of keeping it warm."""

from basis.guessing.rule import quantity, row, rows, rule
from basis.guessing.rules.series import up_to

KW, HOUR = 1e3, 3600.0
FROST, HELD = 273.15 + 5, 273.15 + 15.6  # K
PASSAGE, BETWEEN, SIDE = 1.5, 1.5, 1.2  # m
DOOR, DOORS = 2.5, 2  # m, each way


@quantity(spread="±15 %")
def room_length(set_length, set_power):
    """Length of the set and 3.0 m up to 500 kW, 3.5 m up to 1000 kW, 4.5 m above, up to 0.1 m."""
    beyond = 3.0 if set_power <= 500 * KW else 3.5 if set_power <= 1000 * KW else 4.5
    return up_to(set_length + beyond, 0.1)


@quantity(spread="±15 %")
def room_width(set_width, sets):
    """Widths of the sets, 1.5 m between them and 1.2 m at either side, up to 0.1 m."""
    return up_to(sets * set_width + BETWEEN * (sets - 1) + 2 * SIDE, 0.1)


@quantity(spread="±15 %")
def room_height(set_height):
    """Height of a set and 1.8 m, at least 3.5 m, up to 0.1 m."""
    return up_to(max(3.5, set_height + 1.8), 0.1)


@rule(spread="±40 %")
def heated_room_volume(room_length, room_width, room_height):
    """Length: the set and 3.0 to 4.5 m; width: the sets, 1.5 m between and 1.2 m beside them; height: the set and 1.8 m, at least 3.5 m."""
    return room_length * room_width * room_height


@quantity()
def shut_area(sets, intake_gross, discharge_gross):
    """Openings of all sets."""
    return sets * (intake_gross + discharge_gross)


@rows("room_surfaces", spread="U ±40 %")
def surfaces(room_length, room_width, room_height, shut_area):
    """Walls of concrete or filled block 0.45 W/(m²·K) and 450 kg/m², roof 0.25 and 250, floor 0.30, two doors of 2.5 m by 2.5 m 2.0, shut dampers 5.5."""
    doors = DOORS * DOOR * DOOR
    floor = room_length * room_width
    walls = max(2 * room_height * (room_length + room_width) - doors - shut_area, 1.0)
    heavy = {"surface_finish": "finish-concrete-bare", "surface_reduction_rule": "mass_law"}
    return {"walls": row("Walls", room_surface_area=walls, room_surface_transmittance=0.45, surface_mass=450.0, surface_critical_frequency=95.0, **heavy),
            "roof": row("Roof", room_surface_area=floor, room_surface_transmittance=0.25, surface_mass=250.0, surface_critical_frequency=170.0, **heavy),
            "floor": row("Floor", room_surface_area=floor, room_surface_transmittance=0.30, surface_finish="finish-concrete-bare", surface_faces="inside"),
            "doors": row("Doors", room_surface_area=doors, room_surface_transmittance=2.0, surface_finish="finish-concrete-painted",
                         surface_reduction_rule="mass_law", surface_mass=30.0, surface_critical_frequency=2500.0),
            "dampers": row("Shut dampers", room_surface_area=shut_area, room_surface_transmittance=5.5, surface_finish="finish-concrete-painted",
                           surface_reduction_rule="mass_law", surface_mass=15.0, surface_critical_frequency=6000.0,
                           surface_left_out="Open while the plant runs; counted as openings")}


@quantity()
def damper_leakage(shut_area):
    """40 m³/h for each m² of shut damper."""
    return 40 * shut_area / HOUR


@quantity()
def room_heater(surfaces, heated_room_volume, damper_leakage, coldest):
    """Loss of the room at 15.6 °C (60 °F) on the coldest day, by walls, 0.3 air changes and leaking dampers, up to 1 kW."""
    fabric = sum(one.values["room_surface_area"] * one.values["room_surface_transmittance"] for one in surfaces.values())
    air = (0.3 * heated_room_volume / HOUR + damper_leakage) * 1.25 * 1006
    return up_to(max(0.0, (fabric + air) * (HELD - coldest)), KW)


@rows("heating_cases", spread="air changes 0.1 to 2, dampers 5 to 60 m³/h")
def ways(damper_leakage, room_heater):
    """0.3 air changes an hour, 40 m³/h for each m² of shut damper, blocks at 40 °C; room left cold, or held at 15.6 °C (60 °F) on the coldest day."""
    leak = {"heating_air_changes": 0.3 / HOUR, "heating_damper_leakage": damper_leakage, "heating_hold_temperature": 273.15 + 40}
    return {"cold_room": row("Block heaters alone", **leak),
            "held_room": row("Room held warm", heating_set_point=HELD, heating_room_heater_power=room_heater, **leak)}


@rule()
def heating_case_base():
    """Block heaters alone."""
    return "cold_room"


@rule()
def heating_case_chosen(coldest):
    """The room is held warm where it may be colder than 5 °C outdoors."""
    return "held_room" if coldest < FROST else "cold_room"
