"""Signals, runs of control cable, current transformers."""

from basis.guessing.rule import row, rows, rule
from basis.guessing.rules.series import first_at_least

PRIMARIES = (100, 150, 200, 300, 400, 600, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000)  # A
TURN_RESISTANCE = {5.0: 2e-3, 1.0: 4e-3}  # ohm a turn, by secondary current


@rule()
def control_conductor_table(american):
    """Conductors of 14 AWG or 2.5 mm², by the practice of the frequency."""
    return "control-conductors-awg" if american else "control-conductors-metric"


@rule()
def control_conduit_table(american):
    """Tubing at 60 Hz, trunking at 50 Hz."""
    return "control-conduit-emt" if american else "control-trunking-square"


@rows("control_runs", spread="±50 %")
def runs(american):
    """20 m each, 60 m to the attended place; 14 AWG or 2.5 mm², for current transformers 10 AWG or 4 mm²."""
    size, thick = ("14 AWG", "10 AWG") if american else ("2.5 mm²", "4 mm²")
    def run(name, first, second, length=20.0, conductor=size, **more):
        return row(name, control_run_from=first, control_run_to=second, control_run_length=length, control_run_conductor=conductor, **more)
    return {"set_master": run("Set to master control", "set", "master_control"),
            "set_transformers": run("Set to switchgear, instrument transformers", "set", "switchgear", conductor=thick,
                                    control_run_class="instrument_transformer"),
            "switchgear_master": run("Switchgear to master control", "switchgear", "master_control"),
            "auxiliaries_master": run("Auxiliaries to master control", "auxiliaries", "master_control"),
            "master_attended": run("Master control to the attended place", "master_control", "attended_place", 60.0)}


@rows("signals", spread="±40 %")
def signals():
    """A set 24 digital in, 12 out, 12 analogue; together 32, 16, 8; a tank 4 digital, 1 analogue. Start, stop and emergency stop are among the 12."""
    def signal(name, function, first, second, run, count, **more):
        return row(name, signal_function=function, signal_from=first, signal_to=second, signal_run=run, signal_count=float(count), **more)
    of_set, of_plant = ("set", "master_control", "set_master"), ("switchgear", "master_control", "switchgear_master")
    to_set, to_plant = ("master_control", "set", "set_master"), ("master_control", "switchgear", "switchgear_master")
    of_tank = ("auxiliaries", "master_control", "auxiliaries_master")
    return {"start": signal("Start order", "start", *to_set, 1), "stop": signal("Stop order", "stop", *to_set, 1),
            "emergency_stop": signal("Emergency stop", "emergency_stop", *to_set, 1, signal_rest="energised"),
            "set_orders": signal("Other orders to a set", "interlock", *to_set, 9),
            "set_states": signal("States of a set", "status", *of_set, 24), "set_values": signal("Measured values of a set", "measurement", *of_set, 12),
            "set_currents": signal("Currents of a set", "current_sensing", "set", "switchgear", "set_transformers", 1, signal_cores=4.0),
            "plant_states": signal("States of the switchgear", "status", *of_plant, 32),
            "plant_orders": signal("Orders to the switchgear", "interlock", *to_plant, 16),
            "plant_values": signal("Measured values of the switchgear", "measurement", *of_plant, 8),
            "tank_states": signal("States of tanks", "status", *of_tank, 4), "tank_levels": signal("Levels of tanks", "measurement", *of_tank, 1),
            "alarms": signal("Alarms to the attended place", "alarm", "master_control", "attended_place", "master_attended", 4)}


@rows("current_transformers", source="from-memory", digits=4)
def transformers_of_current(rated_current, american):
    """Primary next over 1.25 I; 5 A at 60 Hz, 1 A at 50 Hz; 5P20, 15 VA; a device of 1 VA; winding 2 or 4 mΩ for each turn."""
    primary, secondary = float(first_at_least(PRIMARIES, 1.25 * rated_current)), 5.0 if american else 1.0
    return {"protection": row("Protection of a set", ct_run="set_transformers", ct_primary_current=primary, ct_secondary_current=secondary,
                              ct_device_burden=1.0, ct_rated_burden=15.0, ct_limit_factor=20.0,
                              ct_winding_resistance=TURN_RESISTANCE[secondary] * primary / secondary)}
