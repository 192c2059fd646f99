"""Ventilation against PsychroLib, CoolProp, ambiance and hand calculations. Each figure names where it is from."""

import ambiance
import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI
from pytest import approx

from basis.chapters.ventilation import chapter as v
from basis.language.terms import terms
from basis.site.figure import to_svg
from basis.site.figures.ventilation import restriction_ladder
from basis.solving.solve import load

psychrolib.SetUnitSystem(psychrolib.SI)
MASS_RATIO, GAS, DRY, VAPOUR = 0.621945, 287.042, 1006.0, 1860.0
CFM, BTU, POUND, FOOT = 0.3048 ** 3 / 60, 1055.05585262, 0.45359237, 0.3048


def density(pressure, temperature, ratio):
    return v.outdoor_air_density.run(pressure, ratio, GAS, temperature, MASS_RATIO)


def capacity(ratio):
    return v.air_heat_capacity.run(DRY, VAPOUR, ratio)


# ---- moist air ----

def test_constants_are_those_that_psychrolib_prints():
    # PsychroLib 2.5: GetHumRatioFromVapPres 0.621945, R_DA_SI 287.042; GetMoistAirEnthalpy 1.006 and 1.86 kJ/(kg K)
    given = {"water_to_dry_air_mass_ratio": MASS_RATIO, "dry_air_gas_constant": psychrolib.R_DA_SI, "dry_air_heat_capacity": 1006,
             "water_vapour_heat_capacity": 1860}
    for term, number in given.items():
        assert float(terms()[term].default.split()[0]) == approx(number)


@pytest.mark.parametrize("celsius", (5, 20, 35, 50))
def test_saturation_pressure(celsius):
    kelvin = celsius + 273.15
    found = v.saturation_pressure.run(kelvin)
    assert found == approx(PropsSI("P", "T", kelvin, "Q", 0, "Water"), rel=5e-4)  # CoolProp, IAPWS-95: another equation than ours
    assert found == approx(psychrolib.GetSatVapPres(celsius), rel=1e-9)  # PsychroLib, the same fit
    assert v.saturation_pressure.run(kelvin + 1) > found


def test_vapour_pressure():
    assert v.vapour_pressure.run(0.4, 5628.0) == approx(2251.2)  # hand: 0.4 x 5628
    assert v.vapour_pressure.run(0.0, 5628.0) == 0


def test_moist_air_at_sea_level():
    # 35 °C, 40 %, 101 325 Pa: W 0.01413, rho 1.1359 kg/m3, cp 1.0179 kJ/(kg K) by PsychroLib; 1.1362 and 1.0190 by CoolProp
    vapour = v.vapour_pressure.run(0.4, v.saturation_pressure.run(308.15))
    ratio = v.outdoor_humidity_ratio.run(MASS_RATIO, vapour, 101325.0)
    assert ratio == approx(0.01413, rel=1e-3) and ratio == approx(psychrolib.GetHumRatioFromRelHum(35, 0.4, 101325), rel=1e-9)
    assert density(101325.0, 308.15, ratio) == approx(1.1359, rel=1e-4)
    assert density(101325.0, 308.15, ratio) == approx(1 / HAPropsSI("Vha", "T", 308.15, "R", 0.4, "P", 101325), rel=1e-3)
    assert capacity(ratio) == approx(1017.9, abs=0.05)
    coolprop = [HAPropsSI(what, "T", 308.15, "R", 0.4, "P", 101325) for what in ("Vha", "cp_ha")]
    assert coolprop == approx([1 / 1.1362, 1019.0], rel=1e-4) and capacity(ratio) == approx(coolprop[1], rel=3e-3)


def test_moist_air_at_altitude():
    # 40 °C, 30 %, 1600 m: 0.9199 kg/m3 by PsychroLib, pressure 83 523 Pa by its standard atmosphere
    pressure = psychrolib.GetStandardAtmPressure(1600)
    ratio = v.outdoor_humidity_ratio.run(MASS_RATIO, 0.3 * psychrolib.GetSatVapPres(40), pressure)
    assert density(pressure, 313.15, ratio) == approx(0.9199, rel=1e-3)
    assert density(pressure, 313.15, ratio) == approx(psychrolib.GetMoistAirDensity(40, ratio, pressure), rel=1e-5)


@pytest.mark.parametrize("height, printed", ((0, 1.2250), (1000, 1.1117), (2000, 1.0066)))
def test_dry_air_of_the_standard_atmosphere(height, printed):
    # ICAO standard atmosphere by ambiance; the figures printed there are 1.2250, 1.1117 and 1.0066 kg/m3
    air = ambiance.Atmosphere(height)
    assert density(air.pressure[0], air.temperature[0], 0.0) == approx(air.density[0], rel=1e-3)
    assert density(air.pressure[0], air.temperature[0], 0.0) == approx(printed, rel=1e-3)


def test_cold_dry_air():
    # -20 °C, dry, 101 325 Pa: 1.3944 kg/m3 as ideal gas; CoolProp 1.395
    assert density(101325.0, 253.15, 0.0) == approx(1.3944, rel=2e-4)
    assert density(101325.0, 253.15, 0.0) == approx(PropsSI("D", "T", 253.15, "P", 101325, "Air"), rel=2e-3)


def test_humid_air_is_lighter_and_holds_more_heat():
    # 35 °C, 40 %, 14.13 g/kg: 0.84 % lighter than dry air (PsychroLib), and holds by hand (1.006 + 1.86 x 0.01413)/(1.01413 x 1.006), 1.18 % more:
    # they nearly cancel
    lighter = density(101325.0, 308.15, 0.01413) / density(101325.0, 308.15, 0.0) - 1
    assert lighter == approx(psychrolib.GetMoistAirDensity(35, 0.01413, 101325) / psychrolib.GetDryAirDensity(35, 101325) - 1, abs=1e-6)
    assert lighter == approx(-0.0084, abs=5e-5) and capacity(0.01413) / capacity(0.0) - 1 == approx(0.0118, abs=5e-5)


def test_heat_capacity_in_us_units():
    # hand: 0.240 + 0.444 x 0.009 = 0.244 Btu/(lb °F) of dry air
    assert capacity(0.009) * 1.009 / 4186.8 == approx(0.244, abs=5e-4)


# ---- heat ----

def test_alternator_heat_divides_by_the_efficiency():
    # hand: 2000/0.96 - 2000 = 83.33 kW, not 2000 x 0.04 = 80
    assert v.alternator_heat.run(2000e3, 0.96) == approx(83.333e3, abs=1)
    assert v.alternator_heat.run(2000e3, 1.0) == 0


def test_shares_of_fuel_heat():
    # hand, fuel 4942.1 kW: 5 % 247.1, 31 % 1532.1, 16 % 790.7, 8 % 395.4 kW
    assert v.engine_heat_to_room.run(0.05, 4942.1e3) == approx(247.1e3, abs=50)
    assert v.exhaust_heat.run(0.31, 4942.1e3) == approx(1532.1e3, abs=60)
    assert v.jacket_heat.run(0.16, 4942.1e3) == approx(790.7e3, abs=50)
    assert v.charge_air_heat.run(0.08, 4942.1e3) == approx(395.4e3, abs=50)
    assert v.radiator_heat.run(700e3, 450e3) == approx(1150e3)  # hand: 700 + 450


def test_default_shares_stay_within_common_ranges():
    # ranges of common practice: exhaust 28-34, jacket 13-22, charge air 7-14, room 3-6 %; with a shaft of 38-43 % they must make about 100 %
    shares = [float(terms()[name].default.split()[0]) for name in ("exhaust_heat_share", "jacket_heat_share", "charge_air_heat_share", "engine_heat_share")]
    assert all(low <= share <= high for share, (low, high) in zip(shares, ((28, 34), (13, 22), (7, 14), (3, 6))))
    assert 57 <= sum(shares) <= 62


def test_heat_balance():
    # hand: fuel 4942.1; shaft 2083.3; exhaust 3.472 kg/s from 450 to 25 °C at 1.0795 kJ/(kg K) 1593.0; jacket 700; charge air 450; room 120
    # leave -4.2 kW, 0.08 %
    exhaust = 3.472 * 1079.5 * (450 - 25)
    assert exhaust == approx(1593.0e3, rel=1e-3)
    assert v.heat_balance_error.run(4942.1e3, 2083.3e3, exhaust, 700e3, 450e3, 120e3) * 4942.1 == approx(4.2, abs=0.5)
    assert v.heat_balance_error.run(4942.1e3, 2083.3e3, exhaust + 4.2e3, 700e3, 450e3, 120e3) > v.heat_balance_error.run(4942.1e3, 2083.3e3, exhaust, 700e3,
        450e3, 120e3)
    assert v.heat_balance_error.run(100.0, 40.0, 30.0, 10.0, 5.0, 5.0) == approx(0.10)  # hand: 100 - 40 - 30 - 10 - 5 - 5 = 10


def test_heat_of_sources_and_room():
    assert v.heat_source_heat.run(2.0, 1500.0, 9.0, 580.0) == approx(13440.0)  # hand: 2 x (1500 + 9 x 580)
    # 9 and 4 W: counted where they serve, nought elsewhere
    each, once = v.set_heat_sources.run, v.room_heat_sources.run
    assert (each(np.array([9.0, 4.0]), "each_set"), each(np.array([9.0, 4.0]), "all_sets")) == (13.0, 0)
    assert (once(np.array([9.0, 4.0]), "all_sets"), once(np.array([9.0, 4.0]), "each_set")) == (13.0, 0)
    # hand: 3 x (118 + 75.5 + 5.2 + 14.2) + 1.5 + 7.2 = 647.4 kW; shared among three 215.8 kW
    assert v.heat_to_room.run(3.0, 118e3, 75.5e3, 5.2e3, 14.2e3, 1.5e3, 7.2e3, 0.0) == approx(647.4e3)
    assert v.heat_per_running_set.run(647.4e3, 3.0) == approx(215.8e3)
    assert v.heat_to_room.run(0.0, 118e3, 75.5e3, 5.2e3, 14.2e3, 0.0, 7.2e3, 0.0) == approx(7.2e3)  # what the room has once stays


def test_heat_of_load_banks():
    # First law [derived]: what a bank takes becomes heat; 400 kW in the room on 647.4 kW are 1 047.4 kW
    assert v.load_bank_room_share.run("in_room") == 1 and v.load_bank_room_share.run("outdoors") == 0 and v.load_bank_room_heat.run(1.0, 400e3) == 400e3
    assert v.heat_to_room.run(3.0, 118e3, 75.5e3, 5.2e3, 14.2e3, 1.5e3, 7.2e3, 400e3) == approx(1047.4e3)


def test_heat_of_day_tanks():
    # hand: a tank of 0.497 kW for each of three sets; one tank for two of four sets is as warm for one as for two
    assert v.day_tanks_room_heat.run(3.0, 3.0, 497.0) == approx(1491.0)
    assert [v.day_tanks_room_heat.run(running, 2.0, 497.0) for running in (1.0, 2.0, 4.0)] == approx([497.0, 994.0, 994.0])
    assert v.day_tanks_room_heat.run(3.0, 3.0, -115.0) == 0  # a cold tank is no cooler of the room


# ---- airflows ----

def test_ventilation_airflow_by_enthalpy():
    # 180 kW, 35 °C, 40 %, 10 K: 15.57 m3/s at 0 m, 18.87 m3/s at 1600 m (PsychroLib); CoolProp's enthalpies 15.54 and 18.85
    for height, printed, coolprop in ((0, 15.57, 15.54), (1600, 18.87, 18.85)):
        pressure = psychrolib.GetStandardAtmPressure(height)
        ratio = psychrolib.GetHumRatioFromRelHum(35, 0.4, pressure)
        found = v.ventilation_airflow.run(180e3, density(pressure, 308.15, ratio), capacity(ratio), 10.0)
        warm, cool = (HAPropsSI("Hda", "T", kelvin, "W", ratio, "P", pressure) for kelvin in (318.15, 308.15))
        by_enthalpy = 180e3 / (warm - cool) * HAPropsSI("Vda", "T", 308.15, "W", ratio, "P", pressure)
        assert found == approx(printed, rel=1e-3)
        assert by_enthalpy == approx(coolprop, rel=1e-3) and found == approx(by_enthalpy, rel=5e-3)


def test_ventilation_airflow_in_us_units():
    # hand: 614 000 Btu/h, 18 °F: 614000/(1.08 x 18) = 31 584 cfm with dry standard air (60 x 0.075 x 0.240 = 1.08); 31 067 with 1.098
    heat, rise, standard = 614_000 * BTU / 3600, 10.0, 0.075 * POUND / FOOT ** 3
    us_capacity = BTU / (POUND * 5 / 9)
    assert v.ventilation_airflow.run(heat, standard, 0.240 * us_capacity, rise) / CFM == approx(31584, rel=1e-3)
    assert v.ventilation_airflow.run(heat, standard, 0.244 * us_capacity, rise) / CFM == approx(31067, rel=1e-3)


def test_stoichiometric_air_of_diesel():
    # hand: CH1.85 + 1.4625 O2; fuel 12.011 + 1.85 x 1.008 = 13.876; dry air 28.965 g/mol with 20.95 % O2: 14.57
    needed = (1 + 1.85 / 4) * 28.965 / 0.2095 / (12.011 + 1.85 * 1.008)
    assert float(terms()["stoichiometric_air_ratio"].default) == approx(needed, rel=2e-3)


def test_combustion_air():
    per_energy = v.combustion_air_ratio.run(2.0, 14.57, 0.200 / 3.6e6)
    assert per_energy * 3.6e6 == approx(5.83, abs=5e-3)  # hand: 2.0 x 14.57 x 0.200 = 5.83 kg/kWh
    mass = v.combustion_mass_flow.run(5.8 / 3.6e6, 2083.3e3)
    assert mass == approx(3.356, rel=5e-4)  # hand: 2083.3 x 5.8 / 3600
    assert v.combustion_airflow.run(mass, 1.1359) == approx(2.955, rel=1e-3)  # PsychroLib density at 35 °C, 40 %
    assert v.room_combustion_mass_flow.run("from_room", 3.356) == 3.356
    assert v.room_combustion_mass_flow.run("ducted", 3.356) == 0


def test_intake_airflow():
    # hand: 2 x (37.5 + 2.75) / 1.13 = 71.24 m3/s
    assert v.intake_airflow.run(2.0, 37.5, 2.75, 1.13) == approx(71.24, abs=5e-3)


# ---- temperatures ----

def test_room_and_radiator_rise():
    # hand: 38 m3/s at 1.1359 is 43.16 kg/s; 213 kW warm it by 4.85 K, 1150 kW by a further 26.17 K (cp 1017.9)
    mass = 38 * 1.1359
    assert v.room_air_rise.run(213e3, mass, 1017.9) == approx(4.85, rel=1e-3)
    assert v.radiator_air_rise.run("mounted", 1150e3, 1017.9, mass, 1.0, 1.0) == approx(26.17, rel=1e-3)
    assert v.radiator_air_rise.run("remote", 1150e3, 1017.9, 1.0, 38.0, 1.1359) == approx(26.17, rel=1e-3)
    assert v.radiator_heat_to_room_fan.run("mounted", 1150e3) == 1150e3
    assert v.radiator_heat_to_room_fan.run("remote", 1150e3) == 0
    assert v.discharge_temperature.run(313.15, 1150e3, mass, 1017.9) - 313.15 == approx(26.17, rel=1e-3)


def test_recirculation():
    # hand: a tenth comes back after a rise of 31 K: 0.1 x 31 / 0.9 = 3.444 K
    assert v.radiator_recirculation_rise.run(0.10, 5.0, 26.0, "mounted") == approx(3.444, abs=1e-3)
    assert v.radiator_recirculation_rise.run(0.10, 5.0, 31.0, "remote") == approx(3.444, abs=1e-3)
    assert v.intake_recirculation_rise.run(0.10, 5.0, 26.0 * 40 * 1017.9, 40.0, 1017.9) == approx(3.444, abs=1e-3)
    assert v.intake_recirculation_rise.run(0.0, 5.0, 26.0, 1.0, 1.0) == 0


def test_recirculation_by_mixing():
    # The mixing that the formula sums up, turn by turn: intake = outdoors + r (discharge - outdoors), discharge = intake + rise
    intake = 0.0
    for _ in range(200):
        intake = 0.12 * (intake + 31.0)
    assert v.radiator_recirculation_rise.run(0.12, 5.0, 26.0, "mounted") == approx(intake, rel=1e-9)


def test_temperatures_add_up():
    # hand: 34 + 2.1 = 36.1, + 5.6 = 41.7 °C; margin to 50 °C without the 2.1 K: 10.4 K
    assert v.intake_temperature.run(307.15, 2.1) == approx(309.25)
    assert v.room_temperature.run(309.25, 5.6) == approx(314.85)
    assert v.radiator_air_on_temperature.run("mounted", 314.85, 307.15, 2.1) == approx(314.85)
    assert v.radiator_air_on_temperature.run("remote", 314.85, 307.15, 2.1) == approx(309.25)
    assert v.recirculation_margin.run(323.15, 314.85, 2.1) == approx(10.4)


def test_worst_of_running_cases():
    for formula in (v.design_heat_to_room, v.design_ventilation_airflow, v.design_intake_airflow, v.design_room_temperature, v.design_air_on_temperature):
        assert formula.run(np.array([1.0, 3.0, 2.0])) == 3.0


# ---- a whole plant ----

PLANT = """
altitude: 0 m
outdoor_temperature_max: 35 degC
outdoor_temperature_min: -5 degC
outdoor_relative_humidity: 40 %
power_frequency: 50 Hz
currency: EUR
chapters: [ventilation]
rating_class: ESP
spare_sets: 1
installed_sets: 3
set_rated_power: 2000 kW
site_power_basis: declaration
declared_site_power: 2000 kW
set_air_temperature_rise: 8 K
alternator_efficiency: 96 %
running_cases: [{id: all, sets_out: 0}, {id: one_out, sets_out: 1}, {id: alone, sets_out: 2}]
engine_heat_to_room: 120 kW
exhaust_pipe_room_heat: 0 kW
radiator_heat: 1150 kW
combustion_mass_flow: 3.356 kg/s
recirculation_fraction: 0 %
discharge_wind_speed: 0 m/s
restriction_allowed: 125 Pa
heat_sources:
  - {id: pipe, heat_source_length: 10 m, heat_source_per_length: 574 W/m}
  - {id: transformer, heat_source_serves: all_sets, heat_source_fixed: 12 kW}
openings:
  - {id: shared, opening_side: intake, opening_serves: all_sets, gross_area: 60 m^2, free_area_ratio: 50 %}
  - {id: own, opening_side: discharge, gross_area: 14 m^2, free_area_ratio: 50 %}
air_elements:
  - {id: louvre, element_opening: shared, element_loss_coefficient: 4}
  - {id: attenuator, element_opening: own, element_rated_drop: 60 Pa, element_rated_airflow: 40 m^3/s}
fan_points:
  - {id: free, fan_point_airflow: 46 m^3/s, fan_point_pressure: 0 Pa}
  - {id: rated, fan_point_airflow: 36 m^3/s, fan_point_pressure: 150 Pa}
"""


@pytest.fixture
def plant(tmp_path):
    def made(placement, more="", text=PLANT):
        (tmp_path / "project.yaml").write_text(text + f"radiator_placement: {placement}\n{more}", "utf-8")
        return load(tmp_path)
    return made


def test_plant_with_radiators_on_the_sets(plant):
    book = plant("mounted")
    # hand: 120 + 83.33 + 5.74 = 209.07 kW a set; three sets and 12 kW: 639.2 kW; one alone: 221.1 kW
    assert book["heat_to_room"].number == approx(np.array([639.2e3, 430.1e3, 221.1e3]), rel=1e-3)
    # every set's air: mass in = fan + combustion; the shared louvre carries it for all running sets (35 °C, 40 %: 1.1359 kg/m3 by PsychroLib)
    mass = book["fan_mass_flow"].number
    assert book["opening_airflow"].number[:, 0] == approx(np.array([3, 2, 1]) * (mass + 3.356) / 1.1359, rel=1e-3)
    # drop of the louvre as hand formula K rho v^2 / 2 on the flow found
    speed = book["opening_airflow"].number[:, 0] / 60
    assert book["intake_pressure_drop"].number == approx(4 * 1.1359 * speed ** 2 / 2, rel=1e-3)
    # energy: all heat leaves with the discharged air (cp 1017.9 by PsychroLib)
    rise = book["discharge_temperature"].number - 308.15
    assert mass * 1017.9 * rise == approx(book["heat_per_running_set"].number + 1150e3, rel=1e-3)
    # ladder and fan meet although they are worked out apart
    assert np.max(book["fan_balance_error"].number) < 1e-6
    assert book["restriction_ladder"].number[:, -1] == approx(book["external_restriction"].number)
    # fewer sets, less in the shared louvre, more air a set
    assert np.all(np.diff(book["fan_airflow"].number) > 0) and np.all(np.diff(book["intake_pressure_drop"].number) < 0)


def test_ladder_as_drawn(plant):
    book = plant("mounted")
    drawn = restriction_ladder.draw(book)
    ends = [line.get_xdata()[-1] for line in drawn.axes[0].lines[:3]]
    assert ends == approx(list(book["external_restriction"].number))  # what is drawn last is what the fan must overcome
    text = to_svg(drawn, "figure-ladder", restriction_ladder.title)
    for word in ("louvre", "attenuator", "Wind on discharge", "allowed", "under outdoors"):
        assert word in text


def test_plant_with_remote_radiators(plant):
    book = plant("remote", "remote_radiator_airflow: 40 m^3/s\n")
    # the room's air no longer carries the radiators' heat: it leaves at room temperature
    assert book["discharge_temperature"].number == approx(book["room_temperature"].number)
    assert book["radiator_air_on_temperature"].number == approx(np.full(3, 308.15))
    # hand: 1150/(40 x 1.1359 x 1.0179) = 24.9 K through the remote core
    assert book["radiator_air_rise"].number == approx(np.full(3, 24.86), abs=0.02)


def test_nothing_given_is_undecided_not_passed(plant):
    book = plant("mounted")
    for check_id, missing in (("radiator_air_on", "radiator_air_on_max"), ("door_opening", "door_force_max"), ("fan_delivery", "fan_airflow_min"),
                              ("combustion_intake", "combustion_intake_drop"), ("opening_free", "free_velocity_max"), ("opening_area", "fan_face_area")):
        verdict = book.check(check_id)
        assert verdict.word == "undecided" and missing in verdict.missing


def test_room_without_other_heat_sources(plant):
    without = PLANT[:PLANT.index("heat_sources:")] + PLANT[PLANT.index("openings:"):]
    book = plant("mounted", text=without)
    assert book["room_heat_sources"].number == 0 == book["set_heat_sources"].number
    assert book["heat_to_room"].number == approx(np.array([610.0e3, 406.7e3, 203.3e3]), rel=1e-3)  # hand: 3, 2, 1 x (120 + 83.33)


def test_element_fills_its_opening_unless_told(plant):
    book = plant("mounted", text=PLANT.replace("{id: louvre,", "{id: louvre, element_face_area: 30 m^2,"))
    assert book["element_face_area"].number == approx(np.array([30.0, 14.0]))


def test_a_rated_drop_without_its_airflow_leaves_the_fan_unknown(plant):
    book = plant("mounted", text=PLANT.replace(", element_rated_airflow: 40 m^3/s", ""))
    assert np.isnan(book["fan_airflow"].number).all() and np.isnan(book["room_temperature"].number).all()
    assert {book.check(name).word for name in ("fan_curve", "room_ambient", "radiator_air_on")} == {"undecided"}
