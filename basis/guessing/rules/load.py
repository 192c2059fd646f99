"""Sets needed, the load, its steps, its largest motor; running in a year."""

from math import ceil

from basis.guessing.rule import quantity, row, rows, rule
from basis.guessing.rules.series import up_to

KW, BAR, HOUR = 1e3, 1e5, 3600.0
REFERENCE_PRESSURE, REFERENCE_TEMPERATURE = 100e3, 298.0  # Pa, K, as the standard of ratings prints them
PLANNED = 0.9


@quantity(source="iso-3046-1-adjustment")
def site_power_ratio(pressure_of_site, hottest):
    """Power at the hottest hour over rated, turbocharged and charge-cooled: k = (p/100 kPa)^0.7 (298/T)^2.2, k − 0.7 (1 − k)(1/0.8 − 1)."""
    ratio = (pressure_of_site / REFERENCE_PRESSURE) ** 0.7 * (REFERENCE_TEMPERATURE / hottest) ** 2.2
    return ratio - 0.7 * (1 - ratio) * (1 / 0.8 - 1)


@quantity()
def sets_needed(load, set_power, site_power_ratio):
    """Load over 0.9 of site power of a set, rounded up; at most rated power counts."""
    return ceil(load / (PLANNED * min(site_power_ratio, 1.0) * set_power))


@rule(ask=True)
def spare_sets(sets, sets_needed):
    """Sets beyond those that carry the load at 0.9 of their site power."""
    return max(0.0, sets - sets_needed)


@rule(ask=True)
def rating_class():
    """Emergency standby power."""
    return "ESP"


@rule(ask=True)
def performance_class():
    """Class G2."""
    return "G2"


@rule(spread="±15 points")
def minimum_demand_share():
    """0.4 of the load."""
    return 0.4


@rows("running_cases")
def cases(spare_sets):
    """All sets, and the plant without its spare sets."""
    least = {"spare_out": row("Without the spare sets", sets_out=spare_sets)} if spare_sets else {}
    return {"all_running": row("All sets running", sets_out=0.0), **least}


@rows("load_steps", spread="±15 points", ask=True)
def steps(cylinder_pressure, sets):
    """40 % of the load at 10 s, 30 % at 20 s, 30 % at 30 s; a set takes 60 % at first, 50 % with a mean effective pressure over 20 bar."""
    first = 0.5 if cylinder_pressure > 20 * BAR else 0.6
    return {"first": row("First step", step_time=10.0, step_sets=1.0, step_acceptance=first),
            "second": row("Second step", step_time=20.0, step_sets=min(2.0, sets)), "third": row("Third step", step_time=30.0, step_sets=min(3.0, sets))}


@rows("loads", spread="±15 points")
def loads(load):
    """Motors 0.40 of the load at a power factor of 0.85, lighting and plugs 0.30 at 0.95, non-linear loads 0.30 at 0.95; no diversity, the load is demand."""
    return {"motors": row("Motors", load_connected_power=0.40 * load, load_power_factor=0.85, load_step_joined="first"),
            "lighting": row("Lighting and plugs", load_connected_power=0.30 * load, load_power_factor=0.95, load_step_joined="second"),
            "rectifiers": row("Non-linear loads", load_connected_power=0.30 * load, load_power_factor=0.95, load_nonlinear_share=1.0,
                              load_step_joined="third")}


@rows("motors", spread="±50 %", ask=True)
def largest_motor(load, set_power):
    """Shaft power 0.10 of the load, efficiency 0.94, power factor 0.87, code G; direct up to 0.10 of the power of a set, else star-delta."""
    shaft = 0.10 * load
    return {"largest": row("Largest motor", motor_load="motors", motor_shaft_power=shaft, motor_efficiency=0.94, motor_power_factor=0.87,
                           motor_code_letter="G", motor_start_method="direct" if shaft <= 0.10 * set_power else "star_delta")}


@rows("running_records")
def running(load, sets, set_power, site_power_ratio):
    """Tests 12 h a year at 0.3 of the power of a set, outages 24 h at the load shared by all sets; over site power."""
    site_power = min(site_power_ratio, 1.0) * set_power
    return {"tests": row("Tests", record_reason="test", record_hours=12 * HOUR, record_load_ratio=up_to(0.3 * set_power / site_power, 0.01)),
            "outages": row("Outages", record_reason="emergency", record_hours=24 * HOUR, record_load_ratio=min(load / (sets * site_power), 1.0))}


@rows("plant_tests", ask=True)
def monthly_test():
    """Each set once a month for an hour at 0.3 of its power: the 12 h a year of the ledger."""
    return {"monthly": row("Monthly run", test_kind="exercise", test_load_ratio=0.3, test_duration=HOUR, test_times_yearly=12.0)}
