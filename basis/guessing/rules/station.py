"""What the plant itself takes, its transformer, and how it is started when everything is dark."""

from basis.guessing.rule import quantity, row, rows, rule
from basis.guessing.rules.series import first_at_least

KW, HOUR = 1e3, 3600.0
SIZES = tuple(1e3 * size for size in (10, 15, 25, 30, 37.5, 45, 50, 75, 100, 112.5, 150, 160, 250))  # VA


@quantity(spread="±30 %")
def charger_power(set_power):
    """0.4 kW up to 500 kW, 0.8 above."""
    return 0.4 * KW if set_power <= 500 * KW else 0.8 * KW


@quantity()
def lighting_power(room_length, room_width):
    """10 W/m²."""
    return 10 * room_length * room_width


@quantity()
def station_sum(sets, block_heater_power, charger_power, lighting_power, room_heater):
    """Sum of the loads of sets and room, at 0.9."""
    of_set = block_heater_power + charger_power + (0.2 + 0.2 + 0.75) * KW
    return (sets * of_set + lighting_power + room_heater + 0.5 * KW) / 0.9


@rows("station_loads", spread="±30 %")
def station_loads(sets, charger_power, lighting_power, room_heater):
    """A set: heater, charger 0.4 kW (0.8 above 500 kW), controls 0.2, dampers 0.2, fuel pump 0.75 kW; together: lighting 10 W/m², fan 0.5 kW."""
    def one(name, kind, power, duty, count=sets, **more):
        return row(name, station_load_kind=kind, station_load_power=power, station_load_count=count, station_load_duty=duty, **more)
    motor = {"station_load_start_ratio": 6.0}
    found = {"block_heaters": one("Block heaters", "block_heater", None, (0.6, 0.6, 0.0), station_load_power_factor=1.0),
             "chargers": one("Chargers of the starting batteries", "charger", charger_power, (0.3, 0.3, 1.0)),
             "controls": one("Controls", "other", 0.2 * KW, (1.0, 1.0, 1.0)),
             "dampers": one("Damper motors", "other", 0.2 * KW, (0.0, 1.0, 1.0)),
             "fuel_pumps": one("Fuel pumps", "pump", 0.75 * KW, (0.0, 0.3, 0.5), **motor),
             "lighting": one("Lighting and plugs", "lighting", lighting_power, (0.2, 1.0, 1.0), 1.0),
             "unit_fan": one("Fan of the room heater", "fan", 0.5 * KW, (0.5, 0.5, 0.0), 1.0, **motor)}
    heater = {"room_heater": one("Room heater", "room_heater", None, (1.0, 1.0, 0.0), 1.0, station_load_power_factor=1.0)} if room_heater else {}
    return {**found, **heater}


@quantity()
def station_voltage(frequency):
    """208 V at 60 Hz, 400 V at 50 Hz."""
    return 208.0 if frequency > 55 else 400.0


@quantity()
def own_transformer(voltage, station_voltage):
    """Whether the sets generate at another voltage than the auxiliaries use."""
    return voltage > 1.1 * station_voltage


@rows("buses")
def station_bus(own_transformer, station_voltage):
    """208 V at 60 Hz, 400 V at 50 Hz, behind a transformer where the sets generate more."""
    return {"station_board": row("Station board", bus_voltage=station_voltage)} if own_transformer else {}


@rows("transformers", spread="±30 %", digits=4)
def transformers(own_transformer, station_sum):
    """Next of 10 to 250 kVA over 1.25 of the sum, uk 4 %, winding loss 1.8 %, core loss 0.35 % of the rating."""
    rating = first_at_least(SIZES, 1.25 * station_sum)
    one = row("Station transformer", transformer_high_bus="main_board", transformer_low_bus="station_board", transformer_rating=rating,
              transformer_impedance_voltage=0.04, transformer_winding_loss=0.018 * rating, transformer_core_loss=0.0035 * rating, transformer_use="station")
    return {"station_transformer": one} if own_transformer else {}


@rule(spread="±30 %")
def station_transformer(own_transformer):
    """Where the sets generate at another voltage than the auxiliaries use."""
    return "station_transformer" if own_transformer else None


@rule()
def transformer_size_table(frequency):
    """By the practice of the frequency."""
    return "us-transformer-sizes" if frequency > 55 else "iec-60076-1-sizes"


@rows("black_start_steps", spread="±50 %")
def black_start(run_up):
    """By the sets' own starting gear: cranked 2 s, run up 2 + P/1000 s with P in kW, voltage 1 s, breaker closed 0.1 s."""
    return {"crank": row("Crank", black_start_duration=2.0), "run_up": row("Run up", black_start_after="crank", black_start_duration=run_up),
            "excite": row("Build up voltage", black_start_after="run_up", black_start_duration=1.0),
            "close": row("Close the breaker of the first set", black_start_after="excite", black_start_duration=0.1)}

