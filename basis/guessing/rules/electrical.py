"""Buses, breakers, conductors and their lengths, neutral."""

from math import ceil, sqrt

from basis.guessing.rule import quantity, row, rows, rule
from basis.guessing.rules.series import first_at_least
from basis.language.table import table

LOW_VOLTAGE, FIVE_KV = 1000.0, 5000.0
BUSES = (400, 630, 800, 1000, 1250, 1600, 2000, 2500, 3200, 4000, 5000, 6300)  # A
BREAKERS = tuple(1e3 * rating for rating in (16, 20, 25, 31.5, 36, 40, 50, 65, 85, 100, 150))  # A
NEEDED = 1.15  # of the rated current of a set
GROUPED = 0.8
AMERICAN = 55.0  # Hz
HOT = 273.15 + 40
MOST_ON_LADDER = 20.0  # beyond, a further circuit changes nothing
LOAD_FACTOR, CIRCUIT = 0.92, 2000.0  # power factor of the load, A of one of its circuits


@quantity(spread="±40 %")
def fault_current(sets, rated_current, subtransient_reactance, voltage):
    """Initial current of the sets alone, c N I/Xd″, c 1.05 up to 1 kV and 1.10 above."""
    return (1.05 if voltage <= LOW_VOLTAGE else 1.10) * sets * rated_current / subtransient_reactance


@quantity()
def busbar_rating(sets, rated_current):
    """Next of the series over the rated current of all sets."""
    return first_at_least(BUSES, sets * rated_current)


@quantity(spread="±40 %")
def breaking_rating(fault_current):
    """Next of the series over the current of the sets alone."""
    return first_at_least(BREAKERS, fault_current)


@rule(digits=4)
def switchgear_bus_rating_max(busbar_rating):
    """Next of 400, 630, 800, 1000, 1250, 1600, 2000, 2500, 3200, 4000, 5000, 6300 A over the rated current of all sets."""
    return busbar_rating


@rule()
def bus_sets(sets):
    """All sets at once."""
    return sets


@rows("buses")
def boards():
    """One board for sets and loads."""
    return {"main_board": row("Main board", )}


@rows("generators")
def generators(sets):
    """All sets on one board."""
    return {f"set_{place}": row(f"Set {place}", generator_bus="main_board") for place in range(1, int(sets) + 1)}


@rows("breakers", spread="±40 %", ask=True)
def breakers(breaking_rating):
    """Next of 16, 20, 25, 31.5, 36, 40, 50, 65, 85, 100, 150 kA over c N I/Xd″; what the public supply adds is not in it."""
    return {"main": row("Breakers of the main board", breaker_bus="main_board", breaker_breaking_rating=breaking_rating)}


@rows("motor_groups", spread="±15 points")
def motor_groups(load):
    """The motors of the load, 0.40 of it, at an efficiency of 0.94; ten alike, none on a drive."""
    return {"motors": row("Motors of the load", motor_group_bus="main_board", motor_group_power=0.94 * 0.40 * load, motor_group_count=10.0)}


@quantity()
def american(frequency):
    """Whether conductors are those of 60 Hz practice."""
    return frequency > AMERICAN


@rule(spread="±1")
def ampacity_table(american, voltage):
    """Copper of 90 °C: at 60 Hz in conduit, at 50 Hz single cores in trefoil in air; by the voltage of the sets."""
    if american:
        return "nec-310-16-copper-90" if voltage <= LOW_VOLTAGE else "nec-310-60-c73-5kv" if voltage <= FIVE_KV else "nec-310-60-c73-35kv"
    return "iec-60364-5-52-b52-12-f" if voltage <= LOW_VOLTAGE else "iec-60502-2-b2-trefoil-air"


@rule()
def conductor_ambient_temperature(hottest, set_air_temperature_rise):
    """40 °C, or the air of the set room on the hottest day if that is more."""
    return max(HOT, hottest + set_air_temperature_rise)


@rule()
def conductor_table(american):
    """Copper, by the practice of the frequency."""
    return "nec-ch9-table-8-copper" if american else "iec-60228-copper"


@quantity()
def hot_factor(ampacity_table, conductor_ambient_temperature):
    """√((90 °C − ambient)/(90 °C − ambient of the table))."""
    base = table(ampacity_table).columns["reference_temperature"][0]
    return sqrt((273.15 + 90 - conductor_ambient_temperature) / (273.15 + 90 - base))


def _size(current: float, ampacity_table: str, factor: float, voltage: float, american: bool) -> str:
    """One size up to 1 kV; above, the first that carries the current, or the last."""
    if voltage <= LOW_VOLTAGE:
        return "500 kcmil" if american else "300 mm²"
    rows_of = table(ampacity_table)
    return next((size for size, carried in zip(rows_of.keys, rows_of.columns["ampacity"]) if carried * factor >= NEEDED * current), rows_of.keys[-1])


def _each(size: str, ampacity_table: str, factor: float, voltage: float, american: bool) -> float:
    """Ampacity of one conductor in place: at 60 Hz never more than its terminals take, at 50 Hz beside others."""
    carried = table(ampacity_table).value("ampacity", size) * factor
    if voltage > LOW_VOLTAGE:
        return carried
    return min(carried, table("nec-310-16-copper-75").value("ampacity", size)) if american else carried * GROUPED


@rule(spread="±1")
def conductor_size(rated_current, ampacity_table, hot_factor, voltage, american):
    """Up to 1 kV 500 kcmil at 60 Hz and 300 mm² at 50 Hz; above 1 kV the one size a phase that carries 1.15 I."""
    return _size(rated_current, ampacity_table, hot_factor, voltage, american)


@quantity(spread="±1")
def conductors(rated_current, conductor_size, ampacity_table, hot_factor, voltage, american):
    """For 1.15 I at the ambient of the run: 500 kcmil at most 380 A each, 300 mm² beside others at 0.8; one a phase above 1 kV."""
    if voltage > LOW_VOLTAGE:
        return 1.0
    return float(ceil(NEEDED * rated_current / _each(conductor_size, ampacity_table, hot_factor, voltage, american)))


@rule()
def cable_laying(american):
    """In conduit at 60 Hz, on a ladder at 50 Hz."""
    return "conduit" if american else "ladder"


@rule()
def grouping_rule(american):
    """At 60 Hz each circuit in a conduit of its own; at 50 Hz circuits side by side."""
    return "alone" if american else "circuits"


@rule()
def grouping_table(american):
    """Single layer on a ladder at 50 Hz."""
    return None if american else "iec-60364-5-52-b52-17-ladder"


@rule()
def circuits_grouped(american, conductors):
    """One in a conduit; on a ladder those of one set."""
    return 1.0 if american else min(conductors, MOST_ON_LADDER)


@rule()
def termination_limit(american, voltage):
    """Terminals for 75 °C limit the conductor at 60 Hz up to 1 kV."""
    return "termination_table" if american and voltage <= LOW_VOLTAGE else "not_limiting"


@rule()
def termination_table(termination_limit):
    """Terminals for 75 °C limit the conductor at 60 Hz up to 1 kV."""
    return "nec-310-16-copper-75" if termination_limit == "termination_table" else None


@rule()
def least_size_table(american):
    """By the practice of the frequency."""
    return "nec-310-106-least-size" if american else "iec-60502-2-least-size"


@rule()
def bus_rating_table(american, voltage, sets, rated_current):
    """By the practice of the frequency; none where no bus is sold that carries all sets."""
    found = "iec-60059-bus-rating" if not american else "us-low-voltage-bus-rating" if voltage <= LOW_VOLTAGE else "us-medium-voltage-bus-rating"
    return found if sets * rated_current <= table(found).keys[-1] else None


@rule()
def impedance_rule(american):
    """As in steel conduit at 60 Hz; from the conductor and its spacing at 50 Hz."""
    return "conduit_table" if american else "conductor_and_spacing"


@rule()
def impedance_table(american):
    """As in steel conduit at 60 Hz."""
    return "nec-ch9-table-9-copper-steel" if american else None


@rule(spread="±50 %")
def generator_cable_length(sets):
    """Set to board 10 m and 5 m for each set: the farthest."""
    return 10 + 5 * sets


@rule(spread="1 to 3 %")
def generator_cable_voltage_drop_max():
    """2 % from set to board."""
    return 0.02


@rows("cables", spread="lengths ±50 %, conductors ±1")
def cables(sets, load, voltage, american, ampacity_table, hot_factor, conductor_size, conductors, conductor_ambient_temperature, termination_limit,
           termination_table, grouping_table):
    """Set to board 10 m and 5 m for each set, board to load 40 m in circuits of at most 2000 A; conductors of one size for 1.15 I at the ambient; 2 % drop."""
    whole = load / (sqrt(3) * voltage * LOAD_FACTOR)
    circuits = ceil(whole / CIRCUIT)
    current = whole / circuits
    size = _size(current, ampacity_table, hot_factor, voltage, american)
    parallel = float(ceil(NEEDED * current / _each(size, ampacity_table, hot_factor, voltage, american)))
    alike = {"cable_bus": "main_board", "cable_ampacity_table": ampacity_table, "cable_ambient_temperature": conductor_ambient_temperature,
             "cable_termination_limit": termination_limit, "cable_termination_table": termination_table, "cable_grouping_table": grouping_table,
             "cable_voltage_drop_max": 0.02}
    def cable(name, length, size, parallel, **more):
        beside = 1.0 if american else min(parallel, MOST_ON_LADDER)
        return row(name, cable_size=size, cable_parallel=parallel, cable_length=length, cable_circuits=beside, **alike, **more)
    of_sets = {f"set_{place}": cable(f"Set {place}", 10 + 5 * place, conductor_size, conductors, cable_current_from="set")
               for place in range(1, int(sets) + 1)}
    of_load = {f"load_{place}": cable(f"Board to load, {place}", 40.0, size, parallel, cable_current=current, cable_power_factor=LOAD_FACTOR)
               for place in range(1, circuits + 1)}
    return {**of_sets, **of_load}


@rule(ask=True)
def neutral_earthing(voltage):
    """Solid up to 1 kV; above, a resistor."""
    return "solid" if voltage <= LOW_VOLTAGE else "low_resistance"


@rule(ask=True)
def neutral_resistor_current(voltage, rated_current):
    """Above 1 kV the rated current of one set, at most 400 A."""
    return None if voltage <= LOW_VOLTAGE else min(rated_current, 400.0)
