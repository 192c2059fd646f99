"""Station supply: auxiliaries, transformers, black start and batteries against hand calculations, pandapower, scipy and numpy-financial."""

import math

import numpy as np
import numpy_financial
import pandapower
import pytest
from axes import over
from pytest import approx
from scipy.optimize import minimize_scalar

from basis.chapters.station_supply import battery as b
from basis.chapters.station_supply import chapter as s
from basis.language.faults import ItemTroubles, OutOfTable
from basis.language.table import families, table
from basis.language.units import from_si

KWH, HOUR, WH, AH = 3.6e6, 3600.0, 3600.0, 3600.0


# Auxiliaries

def test_loads_and_their_sum():
    # three heaters of 3 kW half of the time 4.5 kW; 4 kW at 0.8 come with 3 kvar; 40 kW and 30 kvar are 50 kVA (hand calculation)
    assert s.station_load_demand.run(3e3, 3, 0.5) == 4.5e3
    assert s.station_load_reactive.run(4e3, 0.8) == approx(3e3)
    assert s.station_load_reactive.run(4e3, 1.0) == 0
    assert s.station_apparent_power.run(40e3, 30e3) == approx(50e3)
    assert s.station_power.run(np.array([4.5e3, 4e3])) == 8.5e3
    assert s.station_reactive_power.run(np.array([0.0, 3e3])) == 3e3
    # unlike power factors: 630 kW and 297.2 kvar are 696.6 kVA, not the sum of 470.6, 157.9 and 80 (hand calculation)
    powers, factors = np.array([400e3, 150e3, 80e3]), np.array([0.85, 0.95, 1.0])
    reactive = s.station_reactive_power.run(s.station_load_reactive.run(powers, factors))
    assert s.station_apparent_power.run(s.station_power.run(powers), reactive) == approx(696.6e3, abs=50)


def test_size_of_the_station_transformer():
    # the largest of the modes, a fifth more, next size: 50 kVA -> 60 kVA -> 63 kVA (IEC R10) or 75 kVA (United States)
    assert s.station_peak_power.run(np.array([50e3, 44e3, 12e3])) == 50e3
    assert s.station_required_power.run(1.2, 50e3) == 60e3
    assert s.station_transformer_size.run("iec-60076-1-sizes", 60e3) == 63e3
    assert s.station_transformer_size.run("us-transformer-sizes", 60e3) == 75e3


CELLS = {"iec-60076-1-sizes": [(25, 25), (101, 125), (1500, 1600), (3150, 3150)], "us-transformer-sizes": [(15, 15), (100, 112.5), (1001, 1500), (3000, 3000)]}


@pytest.mark.parametrize("table_id", CELLS)
def test_sizes_as_sold(table_id):
    # IEC 60076-1 R10 series 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8 [from memory]; usual American three-phase sizes (common practice)
    for asked, sold in CELLS[table_id]:
        assert from_si(table(table_id).value("rating", asked * 1e3), "kVA") == approx(sold)
    with pytest.raises(OutOfTable):
        table(table_id).value("rating", 9e6)
    assert set(families()["transformer_size"]) == set(CELLS)


def test_preferred_numbers_follow_the_series():
    # ISO 3: R10 is 10^(n/10), rounded by at most 1.3 %
    for rating in table("iec-60076-1-sizes").columns["rating"]:
        place = 10 * math.log10(rating / 1e3)
        assert rating / 1e3 == approx(10 ** (round(place) / 10), rel=0.013)


# Largest start

def test_power_of_a_start():
    # 6 × 11 kW at 0.88: 75 kVA; the largest of two counts (hand calculation)
    assert s.station_load_start_power.run(6, 11e3, 0.88) == approx(75e3)
    assert s.station_start_power.run(np.array([75e3, 20e3])) == 75e3


def test_dip_of_a_start():
    # 4 %, 75 kVA transformer, 75 kVA start: 0.04/1.04 = 3.846 % (hand calculation); the same divider as an alternator of 20 % reactance with 629 of 1250
    # kVA: 9.14 %
    rating, impedance = np.array([75e3, 1250e3]), np.array([0.04, 0.20])
    assert s.station_start_dip.run(0, impedance, rating, 75e3) == approx(0.03846, abs=5e-6)
    assert s.station_start_dip.run(1, impedance, rating, 629e3) == approx(0.0914, abs=2e-4)


def test_dip_against_a_power_flow():
    # pandapower: 160 kVA, 6 %, a locked motor of 81.4 kVA as constant reactance at the low side; the supply stiff
    net = pandapower.create_empty_network(f_hz=50)
    high, low = pandapower.create_bus(net, 11.0), pandapower.create_bus(net, 0.4)
    pandapower.create_ext_grid(net, high)
    pandapower.create_transformer_from_parameters(net, high, low, 0.16, 11.0, 0.4, vkr_percent=0.0, vk_percent=6.0, pfe_kw=0.0, i0_percent=0.0)
    pandapower.create_shunt(net, low, q_mvar=0.0814, p_mw=0.0)
    pandapower.runpp(net, tolerance_mva=1e-10)
    dip = s.station_start_dip.run(0, np.array([0.06]), np.array([160e3]), 81.4e3)
    assert dip == approx(1 - net.res_bus.vm_pu[low], abs=1e-6)


# Transformers

def test_duty():
    # one set of 1640 kW at 0.8: 2050 kVA, two of them 4100; a station transformer carries the station; else what the project gives
    run = s.transformer_duty_power.run
    assert run("step_up", 1, 1640e3, 0.8, 60e3, 1350e3) == approx(2050e3)
    assert run("step_up", 2, 1640e3, 0.8, 60e3, 1350e3) == approx(4100e3)
    assert run("station", 1, 1640e3, 0.8, 60e3, 1350e3) == 60e3
    assert run("load", 1, 1640e3, 0.8, 60e3, 1350e3) == 1350e3
    assert s.transformer_load_ratio.run(2050e3, 2500e3) == approx(0.82)


def test_losses_efficiency_and_best_loading():
    # P0 1.7 kW, Pk 17 kW, 1000 kVA, 60 %: 7.82 kW; pf 0.8: 98.40 %; best at √(1.7/17) = 31.6 % (hand calculation)
    loss = s.transformer_loss.run(1.7e3, 17e3, 0.6)
    assert loss == approx(7.82e3)
    assert s.transformer_efficiency.run(600e3, 0.8, loss) == approx(0.9840, abs=5e-5)
    assert s.transformer_best_ratio.run(1.7e3, 17e3) == approx(0.316, abs=5e-4)


def test_best_loading_against_a_search():
    # scipy: the loading of least loss over power out is the best, and its efficiency the highest
    found = minimize_scalar(lambda ratio: s.transformer_loss.run(1.7e3, 17e3, ratio) / ratio, bounds=(0.05, 1.2), method="bounded", options={"xatol": 1e-9}).x
    best = s.transformer_best_ratio.run(1.7e3, 17e3)
    assert best == approx(found, rel=1e-4)
    highest = s.transformer_efficiency.run(found * 1e6, 0.8, s.transformer_loss.run(1.7e3, 17e3, found))
    assert s.transformer_best_efficiency.run(best, 1e6, 0.8, 1.7e3) == approx(highest, rel=1e-9)
    assert s.transformer_best_efficiency.run(best, 1e6, 0.8, 1.7e3) == approx(0.9867, abs=5e-5)


def test_regulation():
    # uR 1 %, uX 5.5 %, pf 0.8, full load: 0.8 + 3.3 + 3.8²/200 = 4.172 %; half load 2.05 + 0.01805 = 2.06805 % (hand calculation)
    impedance = math.hypot(0.01, 0.055)
    assert s.transformer_regulation.run(1.0, 0.01, impedance, 0.8) == approx(0.04172, abs=5e-6)
    assert s.transformer_regulation.run(0.5, 0.01, impedance, 0.8) == approx(0.0206805, abs=5e-8)
    assert s.transformer_regulation.run(1.0, 0.01, impedance, 1.0) == approx(0.0115125,
        abs=5e-7)   # at unity only the square of the reactive part is left beside uR


def flow(load_ratio, power_factor):
    """A transformer of 1600 kVA, 6 %, 14 kW and 1.7 kW in pandapower, with no magnetising current beyond the core loss."""
    net = pandapower.create_empty_network(f_hz=50)
    high, low = pandapower.create_bus(net, 11.0), pandapower.create_bus(net, 0.4)
    pandapower.create_ext_grid(net, high)
    pandapower.create_transformer_from_parameters(net, high, low, 1.6, 11.0, 0.4, vkr_percent=0.875, vk_percent=6.0, pfe_kw=1.7, i0_percent=0.10625)
    power = 1.6 * load_ratio
    pandapower.create_load(net, low, power * power_factor, power * math.sqrt(1 - power_factor ** 2))
    pandapower.runpp(net, tolerance_mva=1e-10, trafo_model="t")
    return net


@pytest.mark.parametrize(("load_ratio", "power_factor"), [(0.3, 0.8), (0.85, 0.92), (1.0, 0.85)])
def test_losses_and_regulation_against_a_power_flow(load_ratio, power_factor):
    # our loss is at rated voltage; in the flow the load draws its power at the lower voltage, so current and load loss rise by about the square of the
    # regulation
    net = flow(load_ratio, power_factor)
    regulation = s.transformer_regulation.run(load_ratio, 14 / 1600, 0.06, power_factor)
    assert regulation == approx(1 - net.res_bus.vm_pu[1], rel=0.06)
    loss = s.transformer_loss.run(1.7e3, 14e3, load_ratio)
    assert loss == approx(net.res_trafo.pl_mw[0] * 1e6, rel=2.2 * regulation)
    efficiency = s.transformer_efficiency.run(1.6e6 * load_ratio, power_factor, loss)
    assert efficiency == approx(-net.res_trafo.p_lv_mw[0] / net.res_trafo.p_hv_mw[0], abs=2e-3)
    assert s.transformer_load_ratio.run(1.6e6 * load_ratio, 1.6e6) == approx(net.res_trafo.loading_percent[0] / 100,
        rel=1.5 * regulation)   # and the core's current on top


# A year and the life

def test_energy_of_a_year():
    # 1.7 kW all year, 17 kW at 60 % for 50 h: 14 892 + 306 = 15 198 kWh; at 0.20: 3039.6 (hand calculation)
    energy = s.transformer_lost_energy.run(1.7e3, 8760 * HOUR, 17e3, 0.6, 50 * HOUR)
    assert energy / KWH == approx(15_198)
    assert s.transformers_lost_energy.run(np.array([energy, energy])) / KWH == approx(30_396)
    assert s.transformers_lost_cost_yearly.run(energy, 0.20 / KWH) == approx(3039.6)
    assert s.transformer_lost_energy.run(1.7e3, 0.0, 17e3, 0.6, 0.0) == 0


def test_energy_of_the_auxiliaries():
    # 8760 − 36 = 8724 h standby; two loads of 10 kW, one of them at half as mean of the year, then 50 kW running for 36 h:
    # 15 × 8724 + 40·36 + 0.5·10·36 = 130 860 + 1440 + 180 kWh (hand calculation)
    standby = s.station_mode_time.run(np.array([1.0, 0, 0]), np.array([0, 0, 1.0]), 8760 * HOUR, 36 * HOUR)
    assert standby / HOUR == approx([8724, 0, 36])
    demand = np.array([[10e3, 0, 40e3], [10e3, 0, 10e3]])
    by_hand = (10 * 8724 + 0.5 * 10 * 8724 + 40 * 36 + 0.5 * 10 * 36) * KWH
    each = [over(s.station_load_energy, standby_warmth_chapter=chapter, station_load_kind=["heater", "pump"], blocks_energy_held=7e3 * KWH,
                 station_block_heaters_power=0.0, room_energy_held=1e3 * KWH, station_room_heaters_power=0.0, station_load_power=[10e3, 10e3],
                 station_load_count=[1.0, 1.0], station_load_demand=demand.tolist(), station_mean_share=[1.0, 0.5], station_mode_time=standby.tolist())
            for chapter in ("in_this_book", "not_in_this_book")]
    assert each[0] == approx(each[1]) and s.station_energy_yearly.run(each[0]) == approx(by_hand)
    assert s.station_cost_yearly.run(by_hand, 0.16 / KWH) == approx(132_480 * 0.16, abs=0.5)


def test_heaters_take_the_energy_of_the_standby_warmth():
    # hand: 12 000 kWh of blocks shared by 2 x 6 kW and 1 x 4 kW: 9000 and 3000 kWh; 800 kWh of the room by its two heaters; without that chapter the duty
    # of 60 % for 8724 h, half of it as mean: 2 x 6 x 0.6 x 0.5 x 8724 = 31 406 kWh
    facts = {"station_load_kind": ["block_heater", "block_heater", "room_heater"],
             "station_load_power": [6e3, 4e3, 2.5e3], "station_load_count": [2.0, 1.0, 2.0]}
    block, room = over(s.station_block_heaters_power, **facts), over(s.station_room_heaters_power, **facts)
    assert (block, room) == (16e3, 5e3)

    def energy(chapter):
        return over(s.station_load_energy, standby_warmth_chapter=chapter, blocks_energy_held=12e3 * KWH, room_energy_held=800 * KWH,
                    station_block_heaters_power=block, station_room_heaters_power=room, station_load_demand=[[7.2e3, 0, 0], [2.4e3, 0, 0], [3e3, 0, 0]],
                    station_mean_share=[0.5, 0.5, 0.5], station_mode_time=[8724 * HOUR, 0.0, 36 * HOUR], **facts) / KWH
    assert energy("in_this_book") == approx([9000, 3000, 800])
    assert energy("not_in_this_book")[0] == approx(31_406, abs=0.5)
    needed = {"installed_sets": 2.0, "heating_case_chosen": 1, "heating_heater_power": [9e3, 8e3]}
    assert over(s.station_block_heaters_needed, standby_warmth_chapter="in_this_book", station_block_heaters_power=block, **needed) == 16e3
    for chapter, listed in (("in_this_book", 0.0), ("not_in_this_book", block)):
        assert np.isnan(over(s.station_block_heaters_needed, standby_warmth_chapter=chapter, station_block_heaters_power=listed, **needed))


def test_rating_of_all_transformers():
    assert s.transformers_rating.run(np.array([63e3, 160e3])) == approx(223e3)  # hand
    assert s.transformers_rating.run(np.zeros(0)) == 0


def test_cost_over_the_life():
    # numpy-financial: present worth of 3039.6 + 1000 a year for 20 years at 5 %
    factor = -numpy_financial.pv(0.05, 20, 1)
    assert s.station_life_cost.run(factor, 3039.6, 1000.0) == approx(numpy_financial.npv(0.05, [0] + [4039.6] * 20), rel=1e-9)
    assert s.station_life_cost.run(12.4622, 3040, 0) == approx(37_885, abs=0.5)


def test_share_of_the_sets():
    # 50 kW while two sets of 1000 kW run: 2.5 % (hand calculation)
    assert s.station_running_share.run(np.array([0, 0, 1.0]), np.array([20e3, 60e3, 50e3]), 2, 1e6) == approx(0.025)
    assert s.station_running_share.run(np.array([0, 1.0, 1.0]), np.array([20e3, 60e3, 50e3]), 2, 1e6) == approx(0.055)   # every mode that counts is added


# Black start

def test_times_of_a_black_start():
    # steps of 10, 30 and 5 s end after 10, 40 and 45 s (hand calculation)
    durations = np.array([10.0, 30.0, 5.0])
    ends = b.black_start_end.run(durations)
    assert list(ends) == [10, 40, 45] and b.black_start_time.run(durations) == 45
    assert list(b.black_start_begin.run(ends, durations)) == [0, 10, 40]


def test_energy_of_steps():
    # 500 W held from second 10 to 55: 22 500 J, 6.25 Wh; a coil of 1200 W for 4 s: 4800 J (hand calculation)
    assert b.black_start_step_energy.run(500, "held", 5.0, 55.0, 10.0) == 22_500
    assert b.black_start_step_energy.run(1200, "momentary", 4.0, 55.0, 10.0) == 4800


def drawn(battery, after, power, holds, energy, load=(100.0, 50.0)):
    return b.black_start_draw.run(np.array(battery), np.array(after), np.array(power, dtype=float), np.array(holds, dtype=object),
                                  np.array(energy, dtype=float), np.array(load))


def test_what_each_battery_gives():
    # battery one: lamps 350 W held, trip coils 1400 W for a moment, then 240 W held and 1100 W for a moment: the peak is 100 + 350 + 1400 = 1850 W before
    # 100 + 590 + 1100 = 1790 W; battery two only its standing load and 60 W (hand calculation)
    (energy, peak), left, _ = drawn([0, 0, 0, 0, 1, -1], [-1, 0, 1, 2, -1, 4], [350, 1400, 240, 1100, 60, 9000],
                                    ["held", "momentary", "held", "momentary", "held", "held"],
                                    [7000, 5600, 2400, 1100, 600, 1e9])
    assert list(energy) == [16_100, 600]
    assert list(peak) == [1850, 110]
    assert left == 0
    (energy, peak), *_ = drawn([], [], [], [], [])
    assert list(energy) == [0, 0] and list(peak) == [100, 50]


def test_the_order_is_kept():
    with pytest.raises(ItemTroubles) as told:
        drawn([0, 0], [1, -1], [1, 1], ["held", "held"], [1, 1])
    assert [(trouble.term, trouble.item) for trouble in told.value.troubles] == [("black_start_after", 0)]
    with pytest.raises(ItemTroubles):  # nor does a step wait for itself
        drawn([0], [0], [1], ["held"], [1])


# Batteries

def test_battery_of_the_worked_case():
    # 300 W for 4 h and two attempts of 60 s with 10 Wh each: 1200 + 10 + 20 = 1230 Wh; at 110 V 11.18 Ah; × 1.19 (50 °F) × 1.1 / (0.8 × 0.8) = 22.87 Ah
    # (hand calculation)
    assert b.station_battery_temperature_factor.run(283.15, 298.15) == approx(1.19)     # IEEE 485, 50 °F [read in a reproduction]
    assert b.station_battery_temperature_factor.run(303.15, 298.15) == approx(1.0)
    energy = b.station_battery_energy.run(300, 4 * HOUR, 2, 60, 10 * WH, 1.0)
    assert energy / WH == approx(1230)
    assert b.station_battery_energy.run(300, 4 * HOUR, 2, 60, 10 * WH, 0.9) / WH == approx(1366.7, abs=0.05)
    assert b.station_battery_capacity_required.run(energy, 110, 1.19, 1.1, 0.8, 0.8) / AH == approx(22.87, abs=0.005)


def test_time_of_a_battery():
    # 50 Ah at 110 V: 5500 Wh × 0.64/1.309 = 2689 Wh; less 20 Wh over 300 W: 8.897 h, less 2 minutes: 8.864 h (hand calculation)
    time = b.station_battery_time.run(50 * AH, 110, 1.19, 1.1, 0.8, 0.8, 1.0, 2, 60, 10 * WH, 300)
    assert time / HOUR == approx(8.864, abs=5e-4)
    # the capacity required for that waiting time is the capacity that there is
    energy = b.station_battery_energy.run(300, time, 2, 60, 10 * WH, 1.0)
    assert b.station_battery_capacity_required.run(energy, 110, 1.19, 1.1, 0.8, 0.8) == approx(50 * AH)
    energy = b.station_battery_energy.run(300, b.station_battery_time.run(50 * AH, 110, 1.19, 1.1, 0.8, 0.8, 0.9, 2, 60, 10 * WH, 300), 2, 60, 10 * WH, 0.9)
    assert b.station_battery_capacity_required.run(energy, 110, 1.19, 1.1, 0.8, 0.8) == approx(50 * AH)


def test_peak_current():
    # 2200 W at 110 V: 20 A; through an inverter of 80 % 25 A (hand calculation)
    assert b.station_battery_peak_current.run(2200, 1.0, 110) == approx(20)
    assert b.station_battery_peak_current.run(2200, 0.8, 110) == approx(25)


# ---- heaters that the standby warmth has ----

def test_heaters_take_their_power_from_the_standby_warmth():
    """Three sets of 10 kW and one room heat of 6 kW by a heat pump of three, each shared among the heaters that are listed; a pump says its own."""
    facts = {"station_load_kind": ["block_heater", "room_heater", "pump"], "station_load_count": [3.0, 2.0, 1.0], "installed_sets": 3.0}
    blocks, rooms = over(s.station_block_heater_count, **facts), over(s.station_room_heater_count, **facts)
    assert (blocks, rooms) == (3, 2)
    warmth = {"heating_case_chosen": 1, "heating_heater_power": [5e3, 10e3], "heating_room_heater_power": [0.0, 6e3],
              "heating_room_efficiency": [1.0, 3.0], "station_block_heater_count": blocks, "station_room_heater_count": rooms, "block_heater_power": 10e3}
    found = over(s.station_load_power, number_of_heating_case=2, **facts, **warmth)
    assert found[:2] == approx([10e3, 1e3]) and np.isnan(found[2])  # hand: 3 x 10 / 3 kW; 6 / 3 / 2 kW
    alone = over(s.station_load_power, number_of_heating_case=0, **facts, **warmth)
    assert alone[0] == approx(10e3) and np.isnan(alone[1:]).all()
