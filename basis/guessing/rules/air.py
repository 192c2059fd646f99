"""Radiator and its air, openings, exhaust pipe, humidity."""

from math import exp, pi

from basis.guessing.rule import quantity, row, rows, rule
from basis.guessing.rules.series import first_at_least, up_to

ICE_POINT = 273.15
AIR_HEAT, DRY_AIR, EXHAUST_GAS = 1006.0, 287.05, 287.0  # J/(kg·K)
RADIATOR_RISE = 25.0  # K
BORES = tuple(size * 1e-3 for size in (50, 65, 80, 100, 125, 150, 200, 250, 300, 350, 400, 450, 500, 600, 700, 800))  # m
FACE_INTAKE, FACE_DISCHARGE, PIPE_VELOCITY = 2.5, 3.5, 40.0  # m/s


@quantity()
def radiator_air(jacket_and_oil, charge_air):
    """Heat of jacket and charge air over 1.2 kg/m³, 1.006 kJ/(kg·K) and 25 K; the same volume at any altitude."""
    return (jacket_and_oil + charge_air) / (1.2 * AIR_HEAT * RADIATOR_RISE)


@rule(spread="±30 %")
def radiator_rated_airflow(radiator_air):
    """Heat of jacket and charge air over 1.2 kg/m³, 1.006 kJ/(kg·K) and 25 K."""
    return radiator_air


@rows("fan_points", spread="±30 %")
def fan(radiator_air):
    """The fan of the radiator leaves 125 Pa for the building at its rated flow and nothing at 1.18 of it."""
    return {"free_delivery": row("Free delivery", fan_point_airflow=1.18 * radiator_air, fan_point_pressure=0.0),
            "rated": row("Rated point", fan_point_airflow=radiator_air, fan_point_pressure=125.0)}


@rule(spread="0 to 250 Pa", ask=True)
def restriction_allowed():
    """125 Pa outside the set."""
    return 125.0


@rule()
def radiator_placement():
    """On the set, with the fan driven by the engine: the rules of air hold for that."""
    return "mounted"


@rule(spread="3 to 10 m/s")
def discharge_wind_speed():
    """5 m/s; local data are better."""
    return 5.0


@quantity(source="definition")
def pressure_of_site(altitude):
    """101.325 kPa (1 − 2.25577e-5 h)^5.25588, h in m."""
    return 101325 * (1 - 2.25577e-5 * altitude) ** 5.25588


@quantity(source="definition")
def outdoor_density(pressure_of_site, hottest):
    """Dry air at the hottest hour and the pressure of the site."""
    return pressure_of_site / (DRY_AIR * hottest)


@quantity()
def intake_air(radiator_air, combustion_air, outdoor_density):
    """Radiator air and combustion air."""
    return radiator_air + combustion_air / outdoor_density


@rule()
def set_air_temperature_rise(room_heat, outdoor_density, radiator_air):
    """Heat of engine and alternator to the room over the air of the radiator."""
    return room_heat / (outdoor_density * radiator_air * AIR_HEAT)


@rows("coolant_loops", spread="±6 K")
def loops(jacket_heat_share, charge_air_heat_share):
    """Jacket 104 °C with 54 K above air of 50 °C, its core behind that of the charge air, whose rise is taken off; charge circuit 60 °C and 15 K."""
    rise = RADIATOR_RISE * charge_air_heat_share / (jacket_heat_share + charge_air_heat_share)
    return {"charge_air": row("Charge air", loop_carries="charge_air", loop_temperature_max=60 + ICE_POINT, loop_limit_place="entering_engine",
                              core_rated_temperature_difference=15.0, core_position="first"),
            "jacket": row("Jacket", loop_carries="jacket", loop_temperature_max=104 + ICE_POINT, core_rated_temperature_difference=54 - rise,
                          core_position="behind")}


@quantity()
def discharge_air(radiator_air, hottest, set_air_temperature_rise, outdoor_density):
    """Radiator air as it leaves, hotter by the room and by 25 K at 1.2 kg/m³."""
    return radiator_air * (hottest + set_air_temperature_rise + RADIATOR_RISE * 1.2 / outdoor_density) / hottest


@quantity()
def intake_gross(intake_air):
    """Gross area of an intake at 2.5 m/s, up to 0.1 m²."""
    return up_to(intake_air / FACE_INTAKE, 0.1)


@quantity()
def discharge_gross(discharge_air):
    """Gross area of a discharge at 3.5 m/s, up to 0.1 m²."""
    return up_to(discharge_air / FACE_DISCHARGE, 0.1)


@rows("openings", spread="2.0 to 2.5 and 2.5 to 3.5 m/s; 45 to 55 % free")
def openings(intake_gross, discharge_gross):
    """For each set an intake at 2.5 m/s and a discharge of the hot air at 3.5 m/s on the gross face, up to 0.1 m²; half of it free."""
    return {"intake": row("Intake", opening_side="intake", gross_area=intake_gross, free_area_ratio=0.5, face_velocity_max=FACE_INTAKE),
            "discharge": row("Discharge", opening_side="discharge", gross_area=discharge_gross, free_area_ratio=0.5, face_velocity_max=FACE_DISCHARGE)}


def _elements(**losses: float) -> dict:
    return {f"{side}_{part}": row(f"{side.capitalize()}, {part}", element_opening=side, element_loss_coefficient=loss)
            for side in ("intake", "discharge") for part, loss in losses.items()}


@rows("air_elements", spread="2.5 to 6 of a louvre")
def elements():
    """Loss on the gross face: louvre 3.5, open damper 0.4, mesh 0.4."""
    return _elements(louvre=3.5, damper=0.4, mesh=0.4)


@rows("air_elements", spread="±50 %", source="from-memory")
def attenuators(attenuator):
    """Loss of an attenuator on the gross face: 3.0 for each 1.2 m of its length."""
    return _elements(attenuator=3.0 * attenuator / 1.2)


@quantity()
def exhaust_flow(exhaust_mass, pressure_of_site):
    """Volume of exhaust at 490 °C and the pressure of the site."""
    return exhaust_mass * EXHAUST_GAS * (490 + ICE_POINT) / pressure_of_site


@quantity()
def bore(exhaust_flow):
    """Next nominal size with at most 40 m/s."""
    return first_at_least(BORES, (4 * exhaust_flow / (pi * PIPE_VELOCITY)) ** 0.5)


@rows("exhaust_sizes", spread="25 to 50 m/s")
def sizes(bore):
    """The next nominal size with at most 40 m/s at 490 °C and the pressure of the site, and its neighbours."""
    place = BORES.index(bore)
    return {f"dn{round(size * 1000)}": row(f"DN {round(size * 1000)}", exhaust_bore=size) for size in BORES[max(place - 1, 0):place + 2]}


@rule(spread="25 to 50 m/s")
def exhaust_size_chosen(bore):
    """The next nominal size with at most 40 m/s at 490 °C and the pressure of the site."""
    return f"dn{round(bore * 1000)}"


@rule(spread="±50 %")
def exhaust_pipe_length(room_height, room_length):
    """Height of the room, half its length and 3 m above the roof."""
    return room_height + 3 + room_length / 2


@rule()
def exhaust_bends():
    """3 bends."""
    return 3.0


@rule(spread="±50 %")
def exhaust_room_length():
    """4 m of pipe in the room."""
    return 4.0


@rule()
def insulation_thickness(bore):
    """Wool of 50 mm up to a bore of 150 mm, 75 to 300 mm, 100 above."""
    return 0.050 if bore <= 0.150 else 0.075 if bore <= 0.300 else 0.100


@rule()
def exhaust_outlet():
    """Upward, open."""
    return "upward_open"


@rule()
def stack_height():
    """The mouth stands 3 m above the roof."""
    return 3.0


@rule(spread="±15 %")
def building_height(room_height):
    """That of the room."""
    return room_height


@rule(spread="±15 %")
def building_width(room_width):
    """That of the room."""
    return room_width


@rule(spread="±50 %")
def silencer_rated_drop(muffler):
    """1.5 kPa at 40 m/s for classes of low drop, 3.0 kPa for those of high drop."""
    return 3000.0 if "high" in muffler else 1500.0


@rule()
def silencer_rated_airflow(bore):
    """The drop is that at 40 m/s in the pipe."""
    return PIPE_VELOCITY * pi * bore ** 2 / 4


@rows("exhaust_receptors", spread="±50 %", ask=True)
def receptors(room_length, room_height, stack_height):
    """The plant's own intake only: from the mouth in the middle of the roof over its edge to the middle of the wall."""
    return {"intake": row("Own intake", receptor_distance=stack_height + room_length / 2 + room_height / 2)}


@rule(spread="±20 points")
def outdoor_relative_humidity(hottest):
    """At most 60 %, and a dew point not over 24 °C; 28 °C on a tropical coast."""
    return min(0.60, _saturation(24.0) / _saturation(hottest - ICE_POINT))


def _saturation(celsius: float) -> float:
    """Saturation pressure of water in kPa."""
    return 0.61094 * exp(17.625 * celsius / (celsius + 243.04))


