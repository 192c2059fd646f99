"""Batteries, starters and the times of a start."""

from basis.guessing.rule import quantity, row, rows, rule
from basis.guessing.rules.series import up_to

KW, LITRE, AMPERE_HOUR = 1e3, 1e-3, 3600.0
TWO_STARTERS = 95 * LITRE


@quantity(spread="±35 %", source="from-memory")
def cranking_rating(engine_displacement):
    """Cold-cranking current at 24 V: 230 V^0.53 A, V in L, up to 50 A; two starters and double above 95 L."""
    one = up_to(230 * (engine_displacement / LITRE) ** 0.53, 50)
    return 2 * one if engine_displacement > TWO_STARTERS else one


@quantity(spread="±35 %", source="from-memory")
def battery_rating(cranking_rating):
    """0.18 Ah for each ampere of cold-cranking current, up to 10 Ah."""
    return up_to(0.18 * cranking_rating, 10) * AMPERE_HOUR


@rule()
def starting_method():
    """Batteries of 24 V."""
    return "battery"


@rule(spread="±35 %", source="from-memory")
def starters_per_set(engine_displacement):
    """One; two above a displacement of 95 L."""
    return 2.0 if engine_displacement > TWO_STARTERS else 1.0


@rule(spread="±35 %", source="from-memory")
def battery_units(starters_per_set):
    """Two batteries of 12 V in series for each starter."""
    return 2 * starters_per_set


@rule(spread="±35 %", source="from-memory")
def battery_unit_capacity(battery_rating, starters_per_set):
    """0.18 Ah for each ampere of cold-cranking current, up to 10 Ah."""
    return battery_rating / starters_per_set


@rule(spread="±35 %", source="from-memory")
def battery_unit_cranking_current(cranking_rating, starters_per_set):
    """Cold-cranking current (−18 °C) of 230 V^0.53 A, V the displacement in L, up to 50 A."""
    return cranking_rating / starters_per_set


@rule(spread="±30 %")
def starter_current(cranking_rating, starters_per_set):
    """Mean of 0.5 of the cold-cranking figure; 0.9 to break away."""
    return 0.5 * cranking_rating / starters_per_set


@rule()
def crank_time():
    """Attempts of 10 s."""
    return 10.0


@rule()
def crank_rest_time():
    """Rests of 10 s."""
    return 10.0


@rule()
def cranks_per_cycle():
    """3 attempts."""
    return 3.0


@rule()
def starter_cable_size(cranking_rating):
    """Copper of 70 mm² up to 1200 A of cold-cranking current, 95 to 1700 A, 120 above."""
    return "70 mm²" if cranking_rating <= 1200 else "95 mm²" if cranking_rating <= 1700 else "120 mm²"


@rule()
def starter_cables():
    """2 cables of a pole."""
    return 2.0


@rule()
def starter_cable_length():
    """3 m each way."""
    return 3.0


@rule(spread="±30 %")
def charger_current(charger_power):
    """0.8 of the power of the charger at 27 V."""
    return 0.8 * charger_power / 27


@quantity()
def run_up(set_power):
    """2 s and 1 s for each 1000 kW."""
    return 2 + set_power / (1000 * KW)


@rows("start_stages", spread="±50 %")
def stages(run_up):
    """Loss detected 1 s, cranked 2 s, run up 2 + P/1000 s with P in kW, voltage 1 s, breaker closed 0.1 s."""
    return {"detect": row("Loss detected, start order", stage_part="signal", stage_time=1.0),
            "crank": row("Cranked until it fires", stage_part="crank", stage_time=2.0),
            "run_up": row("Run up", stage_part="run_up", stage_time=run_up),
            "excite": row("Voltage built up", stage_part="excitation", stage_time=1.0),
            "close": row("Breaker closed on the dead bus", stage_part="dead_bus", stage_time=0.1)}


@rows("start_order", spread="3 to 15 s")
def order(sets):
    """All sets are started together; 5 s to synchronise each."""
    return {f"set_{place}": row(f"Set {place}", order_sync_time=5.0) for place in range(1, int(sets) + 1)}
