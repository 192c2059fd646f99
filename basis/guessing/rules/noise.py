"""Sources of sound, muffler and attenuator by the reduction that each must give, places on the plan; hearing in the room.

Bands run from 31.5 Hz to 8 kHz as everywhere; levels in dB and dBA.
"""

from math import log10

from basis.guessing.rule import quantity, row, rows, rule
from basis.language.table import table
from basis.language.terms import terms

KW, HOUR, MINUTE = 1e3, 3600.0, 60.0
BELOW_LIMIT = 7  # dB under the limit for each of five sources: 10 lg 5
HALF_SPACE = 8   # dB, 10 lg 2π
FAN_PRESSURE, ROOM_ABSORPTION, SURFACE_LOSS = 200.0, 0.10, 6  # Pa, -, dB
MUFFLERS = ("muffler-low-drop-small", "muffler-low-drop-medium", "muffler-low-drop-large", "muffler-high-drop-large")
LOW_BAND_LESS = 5  # dB less at 31.5 Hz than at 63 Hz
SPLITTERS = {0.9: (1, 3, 7, 12, 19, 26, 24, 16, 11), 1.2: (2, 4, 9, 16, 25, 32, 30, 20, 14),
             1.8: (4, 6, 13, 23, 35, 42, 40, 26, 18), 2.4: (6, 8, 17, 30, 43, 48, 46, 32, 22)}  # m -> dB by band


def _weighted(bands) -> float:
    """A-weighted level of band levels."""
    weights = terms()["a_weighting"].default_data()
    return 10 * log10(sum(10 ** ((level + weight) / 10) for level, weight in zip(bands, weights)))


def _reduction(spectrum, loss) -> float:
    return _weighted(spectrum) - _weighted([level - taken for level, taken in zip(spectrum, loss)])


def _corrections(column: str) -> tuple:
    return table("engine-noise-bands").columns[column]


def _muffler_loss(muffler: str) -> tuple:
    """Loss by band from the table of its class, which begins at 63 Hz."""
    losses = table(muffler).columns["loss"]
    return (max(losses[0] - LOW_BAND_LESS, 0), *losses)


def _shortest(losses: dict, spectrum, asked: float):
    """The first whose loss is enough; where none is, the last."""
    return next((name for name, loss in losses.items() if _reduction(spectrum, loss) >= asked), list(losses)[-1])


@quantity(spread="±5 dB", source="engine-noise")
def casing_bands(shaft_power, engine_speed, engine_cylinders):
    """93 + 10 lg(P/kW) dB, less 2 up to 1500 r/min, less 1 in V, by band."""
    slow = engine_speed <= 25
    whole = 93 + 10 * log10(shaft_power / KW) - (2 if slow else 0) - (1 if engine_cylinders > 6 else 0)
    return [whole + band for band in _corrections("to_1500" if slow else "above_1500")]


@quantity(source="engine-noise")
def casing_level(casing_bands):
    """A-weighted sound power of a casing."""
    return _weighted(casing_bands)


@quantity(spread="±5 dB", source="engine-noise")
def exhaust_bands(shaft_power, exhaust_pipe_length):
    """120 + 10 lg(P/kW) − 6 − L/1.2 dB, turbocharged, L the length of the pipe in m as far as it quietens, by band."""
    whole = 120 + 10 * log10(shaft_power / KW) - 6 - min(exhaust_pipe_length, terms()["quieting_length_max"].default_data()) / 1.2
    return [whole + band for band in _corrections("exhaust")]


@quantity(source="engine-noise")
def exhaust_level(exhaust_bands):
    """A-weighted sound power of an exhaust without a muffler."""
    return _weighted(exhaust_bands)


@quantity()
def on_the_way(receiver, limit):
    """From sound power to a level 7 dB under the limit at the receiver: 20 lg r, 8 dB of hard ground, and what may arrive."""
    return 20 * log10(receiver) + HALF_SPACE + limit - BELOW_LIMIT


@quantity()
def muffler_asked(exhaust_level, on_the_way):
    """Reduction that brings one exhaust 7 dB under the limit."""
    return exhaust_level - on_the_way


@quantity(spread="±5 dB", source="muffler-classes")
def muffler(exhaust_bands, muffler_asked):
    """The smallest class whose A-weighted reduction is enough; where none is, the largest, and the check is left to fail."""
    return _shortest({name: _muffler_loss(name) for name in MUFFLERS}, exhaust_bands, muffler_asked)


@quantity()
def opening_level(casing_level, sets, room_length, room_width, room_height, intake_gross):
    """Sound power at the intakes of all sets: casings, 10 lg(4/R) with a tenth of the surface absorbing, 6 dB at the opening, its area."""
    surface = 2 * (room_length * room_width + room_length * room_height + room_width * room_height)
    constant = surface * ROOM_ABSORPTION / (1 - ROOM_ABSORPTION)
    room = casing_level + 10 * log10(sets) + 10 * log10(4 / constant)
    return room - SURFACE_LOSS + 10 * log10(sets * intake_gross)


@quantity()
def attenuator_asked(opening_level, on_the_way):
    """Reduction that brings the intakes 7 dB under the limit."""
    return opening_level - on_the_way


@quantity(spread="±5 dB", source="from-memory")
def attenuator(casing_bands, attenuator_asked):
    """Length of the shortest splitters whose A-weighted reduction is enough; where none is, the longest, and the check is left to fail."""
    return _shortest(SPLITTERS, casing_bands, attenuator_asked)


@rule(spread="±5 dB", source="from-memory")
def casing_arrangement(engine_cylinders):
    """In V from 12 cylinders."""
    return "in_v" if engine_cylinders > 6 else "in_line"


@rows("machines", spread="±5 dB")
def machines(radiator_air):
    """Published estimates for casing, turbocharger inlet, alternator, exhaust and fan; the fan with 200 Pa at the radiator's air."""
    return {"casing": row("Engine casing", machine_kind="engine_casing"), "turbocharger": row("Turbocharger inlet", machine_kind="turbocharger_inlet"),
            "alternator": row("Alternator", machine_kind="alternator"),
            "fan": row("Radiator fan", machine_kind="axial_fan", machine_place="elsewhere", machine_airflow=radiator_air, machine_pressure=FAN_PRESSURE),
            "exhaust": row("Exhaust", machine_kind="exhaust_mouth", machine_place="elsewhere")}


@rows("silencers", spread="±5 dB", source="muffler-classes")
def silencers(muffler):
    """The smallest class that brings one exhaust 7 dB under the limit at the receiver, else the largest; 31.5 Hz 5 dB less than 63 Hz."""
    return {"muffler": row("Muffler", silencer_class=muffler, silencer_insertion_loss=_muffler_loss(muffler))}


@rows("air_elements", spread="±4 dB", source="from-memory")
def splitters(attenuator):
    """Shortest splitters, 100 mm airways, 45 % open, that bring the intakes 7 dB under the limit at the receiver, else the longest; no flow noise."""
    return {f"{side}_attenuator": row(f"{side.capitalize()}, attenuator {attenuator:g} m", element_insertion_loss=SPLITTERS[attenuator])
            for side in ("intake", "discharge")}


@rows("sound_sources")
def sources(room_length, room_width, room_height, stack_height, bore):
    """Intake and discharge on opposite walls, the fan behind the discharge, the exhaust above the roof; walls, roof, doors; origin amid the room."""
    end, low, side = room_length / 2, 1.5, room_width
    def place(x, height, size, **more):
        return {"source_x": x, "source_y": 0.0, "source_height": height, "source_dimension": size, **more}
    wall = {"source_mounting": "on_wall"}
    return {
        "intake": row("Intakes", source_kind="opening", source_opening="intake", source_follows="running_sets", **place(-end, low, side, **wall)),
        "discharge": row("Discharges", source_kind="opening", source_opening="discharge", source_follows="running_sets", **place(end, low, side, **wall)),
        "fan": row("Radiator fans", source_kind="duct", source_machine="fan", source_opening="discharge", source_follows="running_sets",
                   **place(end, low, side, **wall)),
        "exhaust": row("Exhausts", source_kind="exhaust", source_machine="exhaust", source_follows="running_sets",
                       **place(0.0, room_height + stack_height, bore)),
        "walls": row("Walls", source_kind="surface", source_surface="walls", **place(end, room_height / 2, max(side, room_length), **wall)),
        "roof": row("Roof", source_kind="surface", source_surface="roof", **place(0.0, room_height, max(side, room_length))),
        "doors": row("Doors", source_kind="surface", source_surface="doors", **place(end, low, 2.5, **wall))}


@rows("receivers")
def receivers(receiver, room_length):
    """The nearest, square to the wall of the discharges, 1.5 m above the ground; others are asked."""
    return {"nearest": row("Nearest neighbour", receiver_x=room_length / 2 + receiver, receiver_y=0.0)}


@rows("sound_weathers")
def weathers():
    """10 °C and 70 %, which absorb least of what is likely."""
    return {"mild": row("Mild and damp", weather_temperature=273.15 + 10, weather_humidity=0.70)}


@rows("limit_periods", ask=True)
def periods():
    """Held against all sets running; no times are known, so it is taken to hold all day."""
    return {"whole_day": row("Whole day", period_running_case="all_running", period_duration=24 * HOUR)}


@rows("exposures", ask=True)
def exposures():
    """Somebody is in the room for 15 min a day, with muffs over plugs rated 30 dB."""
    return {"rounds": row("Rounds in the room", exposure_place="in_room", exposure_running_case="all_running", exposure_duration=15 * MINUTE,
                          exposure_protection="double", exposure_protector_rating=30.0)}
