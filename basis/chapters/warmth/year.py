"""Standby warmth, second part: the year hour by hour, for many ways of heating at once.

One room node and one block a set. Within an hour the outdoor temperature is constant, so the room follows an exponential, exactly;
a heated room is that exponential cut off at its set point. Hours are linked by x' = max(s, a·x + b), and functions of this form
compose to the same form, so the hours of all groups are composed side by side, then groups of groups, and each is walked through: no
loop over 8,760 hours. The year is closed: it ends as warm as it began.

Arrays hold a row for each way and a column for each hour.
"""

from dataclasses import dataclass, replace

import numpy as np

from basis.language.formula import procedure

GROUP = 12             # steps that are composed to one: of a year's hours first the hours of half a day, then six days, then what is left
PASSES = 12            # the regime of a block in an hour settles in two or three
UNHEATED = 0.0         # K: a set point that no room reaches
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MONTH_STARTS = 24 * np.cumsum((0, *MONTH_DAYS[:-1]))


@dataclass(frozen=True)
class Ways:
    """Ways of heating, arrays of one column, and what they share. SI throughout."""

    conductance: np.ndarray      # of the room, W/K
    set_point: np.ndarray        # K, UNHEATED where there is no room heat
    to_room: np.ndarray          # of one block, W/K
    to_outdoors: np.ndarray
    hold: np.ndarray             # K
    band: np.ndarray
    heater: np.ndarray           # W
    pump: np.ndarray
    felt: np.ndarray             # J/K
    sets: float
    capacity: float              # of the room, J/K
    other_heat: float            # W
    step: float                  # s

    def only(self, rows) -> "Ways":
        """Some of the ways."""
        return Ways(**{name: data[rows] if isinstance(data, np.ndarray) else data for name, data in vars(self).items()})


@dataclass(frozen=True)
class Year:
    """Mean of every hour, in file order, for every way."""

    room: np.ndarray             # K
    room_heat: np.ndarray        # W
    block: np.ndarray            # K
    block_power: np.ndarray      # W of one set, heater and pump
    outdoor: np.ndarray          # K
    coldest: np.ndarray          # K, of the room at the end of an hour, one for each way


def follow(equilibrium, decay, floor):
    """Temperature at the start and at the end of every hour of a year that closes on itself: x' = max(floor, x·decay + equilibrium·(1 − decay)).

    `decay` has an entry for every hour, or one for each way; `floor` one for each way.
    """
    starts = _starts(decay, equilibrium * (1 - decay), floor)
    return starts, np.roll(starts, -1, axis=1)


def _starts(share, gain, least):
    """Temperature at the start of every step x' = max(least, share·x + gain) of a round that ends as it begins: of groups of steps first, then within each.

    `share` and `least` have one column where they are the same in all steps.
    """
    rows, steps = gain.shape
    size = min(steps, GROUP)
    if rest := -steps % size:  # the last group is filled with steps that change nothing
        share, gain, least = (_filled(data, steps, rest, nothing) for data, nothing in ((share, 1.0), (gain, 0.0), (least, -np.inf)))
    share, gain, least = (_by_place(data, size) for data in (share, gain, least))
    a, b, c = _composed(share, gain, least)
    walked = np.empty_like(gain)
    walked[0] = np.maximum(c, b / (1 - a)) if size == steps else _starts(a, b, c)
    for before, after, *step in zip(walked[:-1], walked[1:], share, gain, least):
        _stepped(before, after, *step)
    return walked.transpose(1, 2, 0).reshape(rows, steps + rest)[:, :steps]


def _filled(data, steps: int, rest: int, nothing: float):
    filled = np.full((len(data), steps + rest), nothing)
    filled[:, :steps] = data
    return filled


def _by_place(data, size: int):
    """The steps of all groups by their place in the group, along a new first axis."""
    if data.shape[1] == 1:
        return np.repeat(data[None], size, axis=0)
    return np.ascontiguousarray(data.reshape(len(data), -1, size).transpose(2, 0, 1))


def _composed(share, gain, least):
    """All steps along the first axis as one: its share, gain and least."""
    both = np.stack((gain[0], np.broadcast_to(least[0], gain[0].shape)))  # what comes of no heat at the start, and of a start as cold as can be
    for step in zip(share[1:], gain[1:], least[1:]):
        both *= step[0]
        both += step[1]
        np.maximum(both[1], step[2], out=both[1])
    return np.multiply.reduce(share, axis=0), *both


def _stepped(before, after, share, gain, least):
    np.multiply(share, before, out=after)
    after += gain
    np.maximum(least, after, out=after)


def room_year(equilibrium, rate, floor):
    """Mean temperature of every hour, whether the room is held on the floor at its end, of each hour in which it is the share that is held, and the lowest
    temperature at the end of an hour. `rate` is conductance times step over capacity; infinite without storage.
    """
    decay = np.exp(-rate)
    start, end = follow(equilibrium, decay, floor)
    room = equilibrium + (start - equilibrium) * ((1 - decay) / rate)
    held = (end <= floor) & (equilibrium < floor)
    start, outside, rate, floor = (_at(held, data) for data in (start, equilibrium, rate, floor))
    free = np.log((start - outside) / (floor - outside)) / rate  # part of an hour until the floor is met
    room[held] = (start - floor) / rate + outside * free + floor * (1 - free)
    return room, held, 1 - free, end.min(axis=1)


def _at(held, data):
    """What stands in the hours that are held, way after way; one column stands for all hours."""
    return np.repeat(data[:, 0], np.count_nonzero(held, axis=1)) if data.shape[1] == 1 else data[held]


def solve_year(outdoor, ways: Ways) -> Year:
    """The year of every way. The power of a block is what it needs, between its pump alone and pump and heater together."""
    outdoor = np.asarray(outdoor, dtype=float)[None]
    nowhere = np.zeros((len(ways.hold), outdoor.size), dtype=bool)
    year, astray = _attempt(outdoor, ways, nowhere, np.zeros(nowhere.shape))
    rows = np.flatnonzero(astray.any(axis=1))
    if len(rows):
        part = _settle(outdoor, ways.only(rows), astray[rows], year.block_power[rows])
        for name in ("room", "room_heat", "block", "block_power", "coldest"):
            getattr(year, name)[rows] = getattr(part, name)
    return year


def _settle(outdoor, ways: Ways, fixed, power) -> Year:
    """Repeat the year until the hours in which a block floats are the same as before."""
    for _ in range(PASSES):
        year, astray = _attempt(outdoor, ways, fixed, power)
        if np.array_equal(astray, fixed):
            break
        fixed, power = astray, year.block_power
    return year


def _attempt(outdoor, ways: Ways, fixed, power) -> tuple[Year, np.ndarray]:
    """The year with blocks floating at `power` where `fixed` and held elsewhere; and where holding them asks for more or less than there is."""
    conductance, equilibrium = _room_node(outdoor, ways, fixed, power)
    with np.errstate(divide="ignore"):
        rate = conductance * ways.step / np.float64(ways.capacity)
    room, held, share, coldest = room_year(equilibrium, rate, ways.set_point)
    room_heat = np.zeros(room.shape)
    room_heat[held] = share * _at(held, conductance) * (_at(held, ways.set_point) - _at(held, equilibrium))
    need = ways.to_room * (ways.hold - room) + ways.to_outdoors * (ways.hold - outdoor)
    power = np.clip(need, ways.pump, ways.pump + ways.heater)
    astray = power != need
    block = np.array(np.broadcast_to(ways.hold, room.shape))
    if astray.any():
        floating = (power + ways.to_room * room + ways.to_outdoors * outdoor) / (ways.to_room + ways.to_outdoors)
        block[astray] = floating[astray]
    return Year(room, room_heat, block, power, outdoor, coldest), astray


def _room_node(outdoor, ways: Ways, fixed, power):
    """Conductance that pulls the room, and the temperature to which it pulls without room heat."""
    pulled = ways.conductance + ways.sets * ways.to_room
    held = ways.conductance / pulled * outdoor + (ways.sets * ways.to_room * ways.hold + ways.other_heat) / pulled
    if not fixed.any():
        return pulled, held
    share = ways.to_room / (ways.to_room + ways.to_outdoors)  # of the power of a floating block that ends in the room
    floating = ways.conductance + ways.sets * share * ways.to_outdoors
    given = ways.conductance * outdoor + ways.sets * share * (power + ways.to_outdoors * outdoor) + ways.other_heat
    return np.where(fixed, floating, pulled), np.where(fixed, given / floating, held)


def cycles(year: Year, ways: Ways):
    """Times that the thermostat of a set switches on, hour by hour: warming and cooling of what it feels between its two switching points."""
    loss, half = ways.to_room + ways.to_outdoors, ways.band / 2
    with np.errstate(divide="ignore", invalid="ignore"):
        below = (year.block_power - ways.pump) / loss  # where the block would settle, heater off, below what is held
        above = ways.heater / loss - below             # heater on, above it
        swing = np.log((above + half) * (below + half) / ((above - half) * (below - half)))
        return np.where((above > half) & (below > half), ways.step * loss / ways.felt / swing, 0.0)


def imbalance(year: Year, ways: Ways) -> float:
    """Largest gap of a year between heat put in and heat that left, over the heat put in, or over that of a room one kelvin warmer than outdoors."""
    hours = year.room.shape[1]
    room, room_heat, block, power, outdoor = (data.sum(axis=1, keepdims=True) for data in (
        year.room, year.room_heat, year.block, year.block_power, year.outdoor))
    put_in = ways.sets * power + room_heat + ways.other_heat * hours
    left = ways.conductance * (room - outdoor) + ways.sets * ways.to_outdoors * (block - outdoor)
    return float(np.max(np.abs(put_in - left) / np.maximum(put_in, ways.conductance * hours)))


def _monthly(hourly):
    return np.add.reduceat(hourly, MONTH_STARTS, axis=1)


EQUATION = ("C_r·dT_r/dt = H_r·(T_o − T_r) + N·K_r·(T_b − T_r) + Φ_r + Φ_x, with Φ_r ≥ 0 and T_r ≥ T_s; "
            "block power P = K_r·(T_h − T_r) + K_o·(T_h − T_o), kept between P_p and P_p + P_h; exact within each hour, the year closed")
SOURCES = ("room-heat-balance", "thermostat-cycle")
VALID = {"heating_room_conductance": (5, 50_000), "heating_felt_capacity": (1e3, 1e8)}
LEFT_OVER = "largest gap in the heat balance of the year, as a share of the heat put in"


def _ways(by_way, shared) -> Ways:
    """Ways of heating from arrays of one number a way."""
    return Ways(*(np.asarray(data)[:, None] for data in by_way), *shared)


def _set_points(heating_set_point):
    return np.where(np.isnan(heating_set_point), UNHEATED, heating_set_point)


def _sums(year: Year, ways: Ways):
    """Energy of the blocks of all sets, room heat and switchings of a heater in a year, for each way."""
    return ways.sets * ways.step * year.block_power.sum(axis=1), ways.step * year.room_heat.sum(axis=1), cycles(year, ways).sum(axis=1)


@procedure(
    source=SOURCES, valid=VALID, equation=EQUATION,
    yields=("heating_block_energy", "heating_room_heat", "heating_heater_cycles", "heating_room_temperature_min", "heating_room_temperature_mean",
            "heating_cold_time", "heating_block_temperature_min", "heating_room_peak", "heating_heater_duty", "month_block_energy", "month_room_heat",
            "heating_design_room_temperature", "heating_design_block_temperature", "heating_design_room_heat"))
def heating_year(outdoor_temperature_hourly, outdoor_temperature_min, hour_step, installed_sets, room_heat_capacity, room_other_heat,
                 room_temperature_usual, heating_room_conductance, heating_set_point, heating_block_to_room, heating_block_to_outdoors,
                 heating_hold_temperature, heating_hold_band, heating_heater_power, heating_pump_power, heating_felt_capacity):
    """Every hour of the year for each way of heating.

    All sets stand by all year: the heat of test runs is left out. Loss coefficients do not change with temperature or wind. A block that
    its heater cannot hold, or that its pump overheats, floats. Room heat is as large as it must be. The lowest outdoor temperature of the
    design is worked out beside the year, held for ever and without storage, because a typical year does not hold it.
    """
    ways = _ways((heating_room_conductance, _set_points(heating_set_point), heating_block_to_room, heating_block_to_outdoors, heating_hold_temperature,
                  heating_hold_band, heating_heater_power, heating_pump_power, heating_felt_capacity),
                 (installed_sets, room_heat_capacity, room_other_heat, hour_step))
    year = solve_year(outdoor_temperature_hourly, ways)
    frost = solve_year(np.array([outdoor_temperature_min]), replace(ways, capacity=0.0))
    cold = hour_step * (year.room < room_temperature_usual).sum(axis=1)
    duty = (year.block_power - ways.pump).mean(axis=1) / np.maximum(heating_heater_power, 1.0)
    results = (*_sums(year, ways), year.room.min(axis=1), year.room.mean(axis=1), cold, year.block.min(axis=1), year.room_heat.max(axis=1), duty,
               installed_sets * hour_step * _monthly(year.block_power), hour_step * _monthly(year.room_heat),
               frost.room[:, 0], frost.block[:, 0], frost.room_heat[:, 0])
    return results, imbalance(year, ways), LEFT_OVER


@procedure(source=SOURCES, valid=VALID, equation=EQUATION, yields=("heating_block_energy_joined", "heating_room_heat_joined", "heating_heater_cycles_joined"))
def heating_year_joined(outdoor_temperature_hourly, hour_step, installed_sets, room_heat_capacity, room_other_heat, heating_room_conductance,
                        heating_set_point, heating_block_to_room, heating_block_to_outdoors, heating_hold_temperature, heating_hold_band,
                        heating_heater_power, heating_pump_power, heating_felt_capacity):
    """Every hour of the year for each way of heating, as if the blocks lost all heat to the room and none straight to outdoors. What is left out is left out as
    for the ways themselves.
    """
    to_room = heating_block_to_room + heating_block_to_outdoors
    ways = _ways((heating_room_conductance, _set_points(heating_set_point), to_room, np.zeros_like(to_room), heating_hold_temperature, heating_hold_band,
                  heating_heater_power, heating_pump_power, heating_felt_capacity), (installed_sets, room_heat_capacity, room_other_heat, hour_step))
    year = solve_year(outdoor_temperature_hourly, ways)
    return _sums(year, ways), imbalance(year, ways), LEFT_OVER


@procedure(source=SOURCES, valid=VALID, equation=EQUATION, yields=("trial_block_energy", "trial_room_heat", "trial_heater_cycles"))
def heating_year_tried(outdoor_temperature_hourly, hour_step, installed_sets, room_heat_capacity, room_other_heat, heating_room_conductance,
                       heating_block_to_room, heating_block_to_outdoors, heating_hold_temperature, heating_hold_band, heating_heater_power,
                       heating_pump_power, heating_felt_capacity, heating_case_chosen, set_point_trial):
    """Every hour of the year for the chosen way of heating at each set point tried. What is left out is left out as for the ways themselves.

    Set points that the room without heat never falls to leave one and the same year.
    """
    def tried(set_points):
        conductance, *rest = (np.full(len(set_points), data[int(heating_case_chosen)]) for data in (
            heating_room_conductance, heating_block_to_room, heating_block_to_outdoors, heating_hold_temperature, heating_hold_band, heating_heater_power,
            heating_pump_power, heating_felt_capacity))
        ways = _ways((conductance, set_points, *rest), (installed_sets, room_heat_capacity, room_other_heat, hour_step))
        year = solve_year(outdoor_temperature_hourly, ways)
        return year, _sums(year, ways), imbalance(year, ways)

    year, sums, gap = tried(np.array([UNHEATED]))
    reached = ~(set_point_trial <= year.coldest)
    sums = tuple(np.repeat(one, len(reached)) for one in sums)
    if reached.any():
        _, heated, heated_gap = tried(set_point_trial[reached])
        gap = max(gap, heated_gap)
        for every, some in zip(sums, heated):
            every[reached] = some
    return sums, gap, LEFT_OVER
