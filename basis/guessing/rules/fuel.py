"""Store, day tanks, pumps and pipes of fuel."""

from math import pi

from basis.guessing.rule import quantity, row, rows, rule
from basis.guessing.rules.series import first_at_least, up_to

LITRE, HOUR = 1e-3, 3600.0
AUTONOMY = 24 * HOUR
USABLE = 0.85  # of a store: filled to 0.95, 0.10 at the bottom
PIPES = tuple(bore * 1e-3 for bore in (10, 15, 20, 25, 32, 40, 50, 65, 80, 100))  # m
INDOORS = 2500 * LITRE


@rule(spread="8 to 96 h", ask=True)
def required_autonomy():
    """24 h."""
    return AUTONOMY


@quantity()
def store(sets_needed, burn_at_load):
    """The sets needed at their share of the load for 24 h, over 0.85, up to 500 L."""
    return up_to(sets_needed * burn_at_load * AUTONOMY / USABLE, 500 * LITRE)


@rule()
def storage_rule():
    """Hours at the load."""
    return "profile_hours"


@rows("day_periods", ask=True)
def day(load, sets_needed):
    """The load all day on the sets that it needs: what the store is for."""
    return {"whole_day": row("Whole day", day_power=load / sets_needed, day_duration=24 * HOUR)}


@rows("fuel_tanks", ask=True, digits=4)
def tanks(store):
    """The sets needed at their share of the load for 24 h, over 0.85 (filled to 0.95, 0.10 at the bottom), up to 500 L; double wall."""
    return {"store": row("Store", fuel_tank_volume=store, fuel_tank_fill_limit=0.95, fuel_tank_unusable=0.10, fuel_tank_containment="double_wall")}


@rule(spread="1 to 8 h", digits=4)
def day_tank_volume(burn):
    """2 h at full load, up to 50 L, at most 2500 L indoors."""
    return min(up_to(2 * HOUR * burn[1.0], 50 * LITRE), INDOORS)


@rule(ask=True)
def day_tank_containment():
    """Double wall."""
    return "double_wall"


@rule(spread="2 to 4")
def engine_supply_ratio():
    """Supply of 3 times full burn; what is not burnt returns."""
    return 3.0


@rule(spread="10 to 30 K")
def fuel_return_rise():
    """20 K above the fuel drawn."""
    return 20.0


@quantity()
def pump_flow(burn, sets):
    """2 times full burn of all sets, which one pump feeds while the other rests."""
    return 2 * burn[1.0] * sets


@rule()
def fuel_transfer_pump_flow(pump_flow):
    """2 times full burn of all sets, which one pump feeds while the other rests."""
    return pump_flow


def _bore(flow: float, velocity: float) -> float:
    return first_at_least(PIPES, (4 * flow / (pi * velocity)) ** 0.5)


@rows("fuel_pipes")
def pipes(pump_flow, burn, engine_supply_ratio):
    """Bore for at most 1 m/s in suction and supply, 2 m/s in the return; 10 m of pipe each."""
    supply = engine_supply_ratio * burn[1.0]
    flows = {"transfer_suction": (pump_flow, 1.0), "engine_supply": (supply, 1.0), "engine_return": (supply - burn[1.0], 2.0)}
    return {duty: row(duty.replace("_", " ").capitalize(), fuel_pipe_duty=duty, fuel_pipe_bore=_bore(flow, velocity), fuel_pipe_length=10.0)
            for duty, (flow, velocity) in flows.items()}
