"""Mass and size of a set, fills, block heater, mounts and block of concrete."""

from math import sqrt

from basis.guessing.rule import quantity, row, rows, rule
from basis.guessing.rules.series import up_to

KW, LITRE = 1e3, 1e-3
GRAVITY, CONCRETE, OIL, COOLANT = 9.80665, 2400.0, 880.0, 1070.0  # m/s², kg/m³
DEFLECTION = 0.025  # m, of steel springs
PLACES = {4: {"front": 0.36, "rear": -0.36}, 6: {"front": 0.36, "middle": 0.0, "rear": -0.36},
          8: {"front": 0.36, "front_middle": 0.12, "rear_middle": -0.12, "rear": -0.36}}  # along, over the length of the set
REAR, FRONT, SIDE = 0.45, 0.20, 0.20  # m of concrete beyond the base


@rule(spread="±20 %", source="from-memory")
def set_dry_mass(set_power, engine_speed):
    """19 P^0.88 (1800/n)^0.5 kg, P in kW and n in r/min, radiator and base frame in it."""
    return 19 * (set_power / KW) ** 0.88 * sqrt(30 / engine_speed)


@quantity(spread="±15 %", source="from-memory")
def set_length(set_power):
    """0.58 P^0.315 m."""
    return 0.58 * (set_power / KW) ** 0.315


@quantity(spread="±15 %", source="from-memory")
def set_width(set_power):
    """0.33 P^0.26 m."""
    return 0.33 * (set_power / KW) ** 0.26


@quantity(spread="±15 %", source="from-memory")
def set_height(set_power):
    """0.42 P^0.25 m."""
    return 0.42 * (set_power / KW) ** 0.25


@quantity()
def wet_mass(set_dry_mass, oil_fill, coolant_fill):
    """Dry mass, oil at 0.88 and coolant at 1.07 kg/L; no fuel in the base."""
    return set_dry_mass + OIL * oil_fill + COOLANT * coolant_fill


@rule(spread="±50 %", source="from-memory")
def oil_fill(engine_displacement):
    """1.5 V^1.2 L, V the displacement in L; take the high end for catch basins."""
    return 1.5 * (engine_displacement / LITRE) ** 1.2 * LITRE


@rule(spread="−40/+90 %", source="from-memory")
def coolant_fill(engine_displacement):
    """5 L for each litre of displacement, radiator in it; take the high end for catch basins."""
    return 5 * engine_displacement


@rule(spread="±50 %", source="from-memory")
def block_coolant_volume(engine_displacement):
    """2.3 L for each litre of displacement."""
    return 2.3 * engine_displacement


@rule(spread="±30 %", source="from-memory")
def block_metal_mass(set_dry_mass):
    """0.40 of the dry mass of the set."""
    return 0.40 * set_dry_mass


@rule(spread="−30/+130 %")
def block_heater_power(engine_displacement):
    """0.6 + 0.08 V kW, V the displacement in L; more at cold sites."""
    return (0.6 + 0.08 * engine_displacement / LITRE) * KW


@rule(spread="±30 %", source="from-memory")
def block_warm_area(engine_displacement):
    """0.55 V^0.75 m², V the displacement in L."""
    return 0.55 * (engine_displacement / LITRE) ** 0.75


@rule(spread="20 to 50 mm")
def set_mounting():
    """Steel springs with a static deflection of 25 mm, as inside buildings."""
    return "springs"


@rule()
def floor_kind():
    """A slab on the ground."""
    return "ground"


@quantity()
def mount_count(wet_mass):
    """4 up to 3 t, 6 up to 12 t, 8 above."""
    return 4 if wet_mass <= 3000 else 6 if wet_mass <= 12000 else 8


@quantity()
def mount_rate(wet_mass, mount_count):
    """Stiffness at which the mean load of a mount deflects it by 25 mm."""
    return wet_mass * GRAVITY / (mount_count * DEFLECTION)


@rows("mounts")
def mounts(wet_mass, mount_count, mount_rate, set_length, set_width):
    """Pairs at ±0.36 of the length (and 0, or ±0.12) and ±0.40 of the width; m g/(n · 25 mm); for half to one and a half times the mean load."""
    mean = wet_mass * GRAVITY / mount_count
    return {f"{end}_{side}": row(f"{end.replace('_', ' ').capitalize()}, {side}", mount_place=(along * set_length, sign * 0.40 * set_width),
                                 mount_stiffness=mount_rate, mount_load_min=0.5 * mean, mount_load_max=1.5 * mean)
            for end, along in PLACES[mount_count].items() for side, sign in (("left", 1), ("right", -1))}


@rule(spread="±0.08 of the length", source="from-memory")
def gravity_centre(set_length):
    """0.04 of the length towards the alternator from the middle, nothing across."""
    return -0.04 * set_length, 0.0


@rule(spread="±20 %", source="from-memory")
def gravity_centre_height(set_height):
    """0.42 of the height above the underside, and 0.15 m of springs."""
    return 0.42 * set_height + 0.15


@rule(spread="±15 %", source="from-memory")
def base_sides(set_length, set_width):
    """0.58 P^0.315 m by 0.33 P^0.26 m, P in kW: those of the set."""
    return set_length, set_width


@rule(spread="as a ratio of 0.5 to 1.5")
def block_sides(set_length, set_width):
    """Length of the set and 0.65 m, width and 0.40 m, up to 0.05 m."""
    return up_to(set_length + FRONT + REAR, 0.05), up_to(set_width + 2 * SIDE, 0.05)


@rule()
def block_rear_overhang():
    """0.45 m, where people work; 0.20 m at the other sides."""
    return REAR


@rule(spread="as a ratio of 0.5 to 1.5")
def block_thickness(wet_mass, block_sides):
    """As heavy as the wet set, at least 0.15 m, up to 0.05 m."""
    return max(0.15, up_to(wet_mass / (CONCRETE * block_sides[0] * block_sides[1]), 0.05))


@rule(spread="6 to 12", ask=True)
def short_circuit_torque_ratio():
    """8 times rated torque."""
    return 8.0


@rule(spread="6 to 20 mm/s", source="from-memory", ask=True)
def vibration_velocity():
    """12 mm/s rms at full load on springs."""
    return 0.012


@rule(ask=True)
def vibration_mass(wet_mass):
    """The set alone, wet."""
    return wet_mass


@rows("connections", ask=True)
def connections(set_height):
    """Exhaust on top, coolant and fuel below the middle; what each of them bears is asked of its maker."""
    return {"exhaust": row("Exhaust", connection_height=set_height), "fuel": row("Fuel", connection_height=0.3)}
