"""Crankcase breather and running hours: blow-by and the pipe that carries it away, the ledger of hours against its rule, the overhaul.

Masses put into the air stand in emission.py. Left out: oil in the blow-by, and wear by cold starts.
"""

from basis.language.formula import chapter, check, formula, order, procedure
from basis.language.maths import K, Pa, h, min_over, s, sum_over
from basis.physics.pipe import friction_factor

CHAPTER = chapter("hours", "Crankcase breather and running hours", order=70,
                  settles="How long the engines run in a year, what they give off, and whether rule and permit allow it.",
                  cautions=(
    "Crankcase gas is warm, oily and burns. Never open the filler or a crankcase door of a hot engine: air that enters can set off an explosion.",
    "A breather that is blocked by oil sludge or by ice blows out shaft seals and sprays oil on hot exhaust. Slope it, drain it, and look at its outlet in "
    "frost.",
    "Breather gas and exhaust carry carbon monoxide. Bring both outdoors, away from intakes, doors and windows; never let a breather end in the plant room.",
    "Hours run are a legal record where a permit limits them. Log date, reason, start and stop of the hour meter while the set is still warm, not at the end "
    "of the year.",
    "Factors of emission here are averages of many engines. What a permit accepts is a certificate, or a measurement at the stack.",
))


# ---- breather ----

@formula(source="blowby-estimate")
def blowby_flow_new(blowby_rate_new, engine_shaft_power):
    """Gas past the rings of one new engine at site power.

    Example: blowby_rate_new=0.02 m^3/kWh, engine_shaft_power=2083 kW give 41.7 m^3/h (hand calculation).
    """
    return blowby_rate_new * engine_shaft_power


@formula(source="blowby-estimate")
def blowby_flow_worn(blowby_rate_worn, engine_shaft_power):
    """Gas past the rings of one engine that is due for overhaul: the breather must still carry this, so it is sized for it."""
    return blowby_rate_worn * engine_shaft_power


@formula(source="gas-law")
def breather_gas_density(air_pressure, standard_air_gas_constant, breather_gas_temperature):
    """Density of the gas in the breather, taken as air: blow-by is air of the charge with some burnt gas and oil mist."""
    return air_pressure / (standard_air_gas_constant * breather_gas_temperature)


@formula(source="standard-air-viscosity", valid={"breather_gas_temperature": (200, 600)})
def breather_gas_viscosity(breather_gas_temperature):
    """Viscosity of the gas in the breather, as that of air at its temperature; pressure has no say in it."""
    return 1.458e-6 * Pa * s * (breather_gas_temperature / K) ** 1.5 / (breather_gas_temperature / K + 110.4)


@formula(source="definition")
def breather_velocity(blowby_flow_worn, breather_bore):
    """Velocity in the breather pipe of one set. Example: blowby_flow_worn=80 m^3/h, breather_bore=65 mm give 6.7 m/s (hand calculation)."""
    return blowby_flow_worn / (3.141592653589793 / 4 * breather_bore ** 2)


@formula(source="definition")
def breather_reynolds_number(breather_velocity, breather_bore, breather_gas_density, breather_gas_viscosity):
    """Reynolds number in the breather pipe."""
    return breather_velocity * breather_bore * breather_gas_density / breather_gas_viscosity


@procedure(source="colebrook-white", equation="1/√f_b = −2·lg(ε_b/(3.7·D_b) + 2.51/(Re_b·√f_b)); f_b = 64/Re_b below 2040",
           yields=("breather_friction_factor",),
           valid={"breather_reynolds_number": (4000, 1e8)})
def breather_friction(breather_reynolds_number, breather_roughness, breather_bore):
    """Darcy friction factor of the breather pipe: turbulent by Colebrook and White, laminar below a Reynolds number of 2040."""
    factor, residual = friction_factor(breather_reynolds_number, breather_roughness / breather_bore)
    return (factor[()],), residual, "1/√f less the right side"


@formula(source="darcy-weisbach")
def breather_pressure_drop(breather_friction_factor, breather_length, breather_bore, breather_loss_coefficient, breather_gas_density,
                           breather_velocity):
    """Drop along the breather pipe, friction and fittings. Oil that gathers in a low point adds to it without limit: keep it sloping."""
    return (breather_friction_factor * breather_length / breather_bore + breather_loss_coefficient) * breather_gas_density * breather_velocity ** 2 / 2


@formula(source="crankcase-balance")
def breather_suction(breather_route, combustion_intake_drop):
    """What pulls at the end of the breather: nothing outdoors; in the intake, the drop of a dirty air filter unless a regulator holds it."""
    return 0 if breather_route == "outside" else combustion_intake_drop


@formula(source="crankcase-balance")
def crankcase_pressure(breather_pressure_drop, breather_separator_drop, breather_suction):
    """Pressure of the crankcase above outdoor air, engine worn: what the gas needs to get out, less what pulls it."""
    return breather_pressure_drop + breather_separator_drop - breather_suction


# ---- ledger ----

@formula(source="definition")
def record_sets(installed_sets, record_sets_out):
    """Sets that run in this record: it multiplies fuel and emission, not the hours of one set."""
    return installed_sets - record_sets_out


@formula(source="definition")
def record_load(record_load_ratio, set_site_power):
    """Electrical load of each set that runs."""
    return record_load_ratio * set_site_power


@formula(source="definition")
def record_shaft_energy(record_hours, record_sets, record_load_ratio, engine_shaft_power):
    """Shaft energy of a year of this running. Efficiency of the alternator is taken as that at site power.

    Example: record_hours=[100 h], record_sets=[1], record_load_ratio=[100 %], engine_shaft_power=1500 kW give [150000 kWh] (hand calculation).
    """
    return record_hours * record_sets * record_load_ratio * engine_shaft_power


@formula(source="hours-ledger")
def ledger_test_hours(record_hours, record_reason):
    """Hours of one set for readiness tests in a calendar year."""
    return sum_over("running_record", record_hours if record_reason == "test" else 0)


@formula(source="hours-ledger")
def ledger_maintenance_hours(record_hours, record_reason):
    """Hours of one set for maintenance checks in a calendar year."""
    return sum_over("running_record", record_hours if record_reason == "maintenance" else 0)


@formula(source="hours-ledger")
def ledger_other_hours(record_hours, record_reason):
    """Hours of one set that are neither test, maintenance, income nor emergency, such as a planned outage of the public supply."""
    return sum_over("running_record", record_hours if record_reason == "other" else 0)


@formula(source="hours-ledger")
def ledger_peak_shaving_hours(record_hours, record_reason):
    """Hours of one set that earn or save money. In some laws a single one of them turns an emergency engine into another kind of engine."""
    return sum_over("running_record", record_hours if record_reason == "peak_shaving" else 0)


@formula(source="hours-ledger")
def ledger_emergency_hours(record_hours, record_reason):
    """Hours of one set in a usual year because the supply had failed."""
    return sum_over("running_record", record_hours if record_reason == "emergency" else 0)


@formula(source="hours-ledger")
def ledger_total_hours(record_hours):
    """All hours of one set in a usual year: what wears the engine."""
    return sum_over("running_record", record_hours)


@formula(source="low-load")
def ledger_low_load_hours(record_hours, record_load, low_load_ratio_min, set_rated_power):
    """Hours of one set below the least load that the engine should have, on its rated power as makers state it."""
    return sum_over("running_record", record_hours if record_load < low_load_ratio_min * set_rated_power else 0)


@formula(source="hours-ledger")
def ledger_gap(ledger_test_hours, ledger_maintenance_hours, hours_per_year_tests, ledger_emergency_hours, hours_per_year_outages):
    """Whether the ledger tells the same year as the hours stated for the plant, which wear, cost and reliability are worked out from."""
    return abs(ledger_test_hours + ledger_maintenance_hours - hours_per_year_tests) + abs(ledger_emergency_hours - hours_per_year_outages)


@formula(source="permit-one-sum")
def permit_inside(permit_counts):
    """None of it where the permit counts each kind of running against a limit of its own."""
    return 0 if permit_counts == "each_apart" else 1


@formula(source="hours-ledger")
def counted_hours(ledger_test_hours, ledger_maintenance_hours, ledger_other_hours, ledger_peak_shaving_hours, hours_rule, permit_inside,
                  ledger_emergency_hours):
    """Hours of one set that the rule counts. Other running is counted inside the hours for testing, never on top of them, unless the permit counts it apart.

    Example: ledger_test_hours=9 h, ledger_maintenance_hours=0 h, ledger_other_hours=46 h, ledger_peak_shaving_hours=0 h, hours_rule=us_emergency_engine,
    ledger_emergency_hours=61 h give 55 h (hand calculation).
    """
    return (ledger_test_hours + ledger_maintenance_hours
            + (permit_inside if hours_rule == "permit" else 1) * (ledger_other_hours + ledger_peak_shaving_hours)
            + (ledger_emergency_hours if hours_rule == "eu_medium_plant" else 0))


@formula(source="rule-named")
def counted_hours_max(hours_rule, us_counted_hours_max, eu_counted_hours_max, test_hours_max):
    """Limit of the hours counted, by the rule that the project names; a permit that says less is given instead."""
    return (us_counted_hours_max if hours_rule == "us_emergency_engine" else
            eu_counted_hours_max if hours_rule == "eu_medium_plant" else test_hours_max)


@formula(source="rule-named")
def other_hours_max(hours_rule, us_other_hours_max, permit_other_hours_max):
    """Limit of other running. The European rule has none of its own: it counts all hours together."""
    return us_other_hours_max if hours_rule == "us_emergency_engine" else permit_other_hours_max


@formula(source="rule-named")
def peak_shaving_hours_max(hours_rule, us_peak_shaving_hours_max, permit_peak_shaving_hours_max):
    """Limit of running for income. None is allowed to an emergency engine in the United States; the European rule has no limit of its own for it."""
    return us_peak_shaving_hours_max if hours_rule == "us_emergency_engine" else permit_peak_shaving_hours_max


# ---- overhaul ----

@formula(source="overhaul-clocks")
def first_overhaul_hours(hours_upkeep_chapter, overhaul_stage_hours, overhaul_hours):
    """Of the first stage that the chapter on upkeep knows, where it is in the book; else the one overhaul that is asked for here.

    Example: hours_upkeep_chapter=in_this_book, overhaul_stage_hours=[30000 h, 50000 h, 100000 h] give 30000 h (hand calculation).
    """
    return min_over("overhaul_stage", overhaul_stage_hours) if hours_upkeep_chapter == "in_this_book" else overhaul_hours


@formula(source="overhaul-clocks")
def first_overhaul_calendar(hours_upkeep_chapter, overhaul_stage_calendar, overhaul_calendar):
    """The same of the years.

    Example: hours_upkeep_chapter=in_this_book, overhaul_stage_calendar=[10 year, 20 year, 30 year] give 10 year (hand calculation).
    """
    return min_over("overhaul_stage", overhaul_stage_calendar) if hours_upkeep_chapter == "in_this_book" else overhaul_calendar


@formula(source="overhaul-clocks")
def overhaul_years_by_hours(first_overhaul_hours, hours_run, ledger_total_hours, overhaul_counted_max):
    """Time until the hours are used up at the rate of the ledger, none if they are; counted as if they were used up in ten thousand years at the latest.

    Example: first_overhaul_hours=16000 h, hours_run=0 h, ledger_total_hours=13.5 h give 1185 year (hand calculation).
    """
    return max(0, first_overhaul_hours - hours_run) / max(ledger_total_hours / (8760 * h), first_overhaul_hours / overhaul_counted_max)


@formula(source="overhaul-clocks")
def overhaul_years(overhaul_years_by_hours, first_overhaul_calendar):
    """Time to the next overhaul: seals, hoses and oil age whether the engine runs or not, so a standby set is overhauled by the calendar."""
    return min(overhaul_years_by_hours, first_overhaul_calendar)


@formula(source="hours-ledger")
def lifetime_hours(hours_run, ledger_total_hours, project_life):
    """Hours of one set at the end of the project's life."""
    return hours_run + ledger_total_hours * project_life / (8760 * h)


# ---- checks ----

LIMITED_APART = {"hours_rule": ("us_emergency_engine", "permit")}  # the European rule counts all hours together and has no limit for these

breather_speed = check("breather_speed", "breather_velocity", limit="breather_velocity_max", safe="below", source="breather-velocity",
                       title="Velocity in the breather pipe")
crankcase_high = check("crankcase_overpressure", "crankcase_pressure", limit="crankcase_pressure_max", safe="below", source="project",
                       title="Pressure of the crankcase")
crankcase_low = check("crankcase_suction", "crankcase_pressure", limit="crankcase_pressure_min", safe="above", source="project",
                      title="Suction on the crankcase", applies={"breather_route": ("intake",)})
breather_outlet = check("breather_outlet", "breather_outlet_distance", limit="breather_outlet_distance_min", safe="above", source="project",
                        title="Breather outlet away from intakes", applies={"breather_route": ("outside",)})
counted = check("hours_counted", "counted_hours", limit="counted_hours_max", safe="below", source="rule-named",
                title="Hours that the rule counts")
other = check("other_hours", "ledger_other_hours", limit="other_hours_max", safe="below", source="rule-named",
              title="Running that is neither test nor emergency", applies=LIMITED_APART)
peak_shaving = check("peak_shaving", "ledger_peak_shaving_hours", limit="peak_shaving_hours_max", safe="below", source="rule-named",
                     title="Running for income", exact=True, applies=LIMITED_APART)
ledger_agrees = check("ledger_agrees", "ledger_gap", limit="ledger_gap_max", safe="below", source="project", title="Ledger agrees with the plant's hours")
low_load_hours = check("low_load_hours", "ledger_low_load_hours", limit="ledger_low_load_hours_max", safe="below", source="low-load-burn-off",
                       title="Hours at low load")
overhaul_by_calendar = check("overhaul_by_calendar", "lifetime_hours", limit="first_overhaul_hours", safe="below", source="overhaul-clocks",
                             title="Hours of a life within one overhaul")

paid_inside = check("permit_paid_inside", "permit_peak_shaving_hours_max", limit="counted_hours_max", safe="below", source="definition", exact=True,
                    self_test=True, title="What is counted inside the hours of the permit is allowed no more than these",
                    fault="permit_peak_shaving_hours_max at most counted_hours_max, or permit_counts: each_apart",
                    applies={"hours_rule": ("permit",), "permit_counts": ("one_sum",)})
other_inside = check("permit_other_inside", "permit_other_hours_max", limit="counted_hours_max", safe="below", source="definition", exact=True,
                     self_test=True, title="What is counted inside the hours of the permit is allowed no more than these",
                     fault="permit_other_hours_max at most counted_hours_max, or permit_counts: each_apart",
                     applies={"hours_rule": ("permit",), "permit_counts": ("one_sum",)})

# What no sound text gives the other way round.
record_sets_out_order = order("record_sets_out", "installed_sets")
blowby_rate_new_order = order("blowby_rate_new", "blowby_rate_worn")
blowby_flow_new_order = order("blowby_flow_new", "blowby_flow_worn")
crankcase_pressure_min_order = order("crankcase_pressure_min", "crankcase_pressure_max")
