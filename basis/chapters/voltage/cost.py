"""Generating voltage, second part: laying, copper, switchgear, cost over the life, and rules of thumb computed again. Adds to the chapter. Costs hold
only what differs between voltages.
"""

from basis.language.formula import GIVEN, check, formula
from basis.language.maths import ceil, h, lookup, sqrt

# Copper and laying

@formula(source="definition")
def earth_conductor_area(conductor_table, earth_conductor_size):
    """Cross-section of a protective earth conductor, read from the conductor table. The earthing chapter decides whether it is enough."""
    return lookup(conductor_table, "area", earth_conductor_size)


@formula(source="physics")
def generator_cable_copper_mass(installed_sets, conductors_per_phase, generator_cable_length, copper_density, neutral_conductors,
                                conductor_area, earth_conductors, earth_conductor_area):
    """Copper in the generator cables of all installed sets: three phases, neutral and earth of each circuit. Lay of strands, screens and lugs are left out.

    Example: installed_sets=3, conductors_per_phase=7, generator_cable_length=55 m, neutral_conductors=1, conductor_area=300 mm^2, earth_conductors=1,
    earth_conductor_area=150 mm^2 give 13862 kg (hand calculation).
    """
    return (installed_sets * conductors_per_phase * generator_cable_length * copper_density
            * ((3 + neutral_conductors) * conductor_area + earth_conductors * earth_conductor_area))


@formula(source="definition")
def cable_area(cable_dimension, insulated_conductor_table, conductor_size, cable_outer_diameter):
    """Area over the insulation: printed for the usual building wires, or the circle over the sheath by the maker's sheet.

    Example: cable_dimension=data_sheet, cable_outer_diameter=29.0 mm give 660.5 mm^2 (hand calculation).
    """
    return (lookup(insulated_conductor_table, "area", conductor_size) if cable_dimension == "table"
            else 3.141592653589793 / 4 * cable_outer_diameter ** 2)


@formula(source="definition")
def earth_cable_area(cable_dimension, insulated_conductor_table, earth_conductor_size, earth_cable_diameter):
    """Area over the insulation of an earth conductor, which takes room in the conduit though it carries no current.

    Example: cable_dimension=data_sheet, earth_cable_diameter=15.0 mm give 176.7 mm^2 (hand calculation).
    """
    return (lookup(insulated_conductor_table, "area", earth_conductor_size) if cable_dimension == "table"
            else 3.141592653589793 / 4 * earth_cable_diameter ** 2)


@formula(source="definition")
def conduit_area(conduit_table, conduit_size):
    """Whole internal area of one conduit, read from the conduit table."""
    return lookup(conduit_table, "area", conduit_size)


@formula(source="definition")
def conduits_per_set(conductors_per_phase, circuits_grouped):
    """Conduits of one set when each holds as many circuits as the design allows. Every conduit holds all phases of its circuits: one phase alone heats steel.

    Example: conductors_per_phase=9, circuits_grouped=2 give 5 (hand calculation).
    """
    return ceil(conductors_per_phase / circuits_grouped)


@formula(source="definition")
def circuits_laid(cable_laying, conductors_per_phase, conduits_per_set, sets_on_ladder):
    """Circuits that do lie together: in the fullest conduit of a set, or side by side on a ladder that several sets share.

    The grouping factor assumed a number; this is the number that the laying gives.

    Example: cable_laying=conduit, conductors_per_phase=9, conduits_per_set=5 give 2 (hand calculation).
    """
    return ceil(conductors_per_phase / conduits_per_set) if cable_laying == "conduit" else conductors_per_phase * sets_on_ladder


@formula(source="nec-ch9-table-1")
def conduit_fill_area(cable_construction, circuits_laid, neutral_conductors, cable_area, earth_conductors, earth_cable_area):
    """Area over the insulation of everything in the fullest conduit, earth conductors counted.

    Example: circuits_laid=1, neutral_conductors=0, cable_area=0.7073 in^2, earth_conductors=1, earth_cable_area=0.1855 in^2 give 2.307 in^2 (hand
    calculation).
    """
    return circuits_laid * (((3 + neutral_conductors) * cable_area if cable_construction == "single_core" else cable_area)
                            + earth_conductors * earth_cable_area)


@formula(source="definition")
def circuit_width(cable_construction, cable_outer_diameter):
    """Width that a circuit takes on a ladder. A trefoil is two diameters wide; its neutral lies on top of it and the earth between circuits."""
    return 2 * cable_outer_diameter if cable_construction == "single_core" else cable_outer_diameter


@formula(source="definition")
def ladder_width_needed(circuits_laid, circuit_width, circuit_gap):
    """Width of one layer of circuits with a gap between neighbours. A second layer would void the grouping factor.

    Example: circuits_laid=7, circuit_width=58 mm, circuit_gap=0 mm give 406 mm (hand calculation).
    """
    return circuits_laid * circuit_width + (circuits_laid - 1) * circuit_gap


@formula(source=("nec-ch9-table-1", "definition"))
def containment_fill(cable_laying, conduit_fill_area, conduit_area, ladder_width_needed, ladder_width):
    """Fill of the conduit by area, or of the ladder by width. A full conduit cannot be pulled or cooled; a full ladder leaves no room for the next feeder.

    Example: cable_laying=conduit, conduit_fill_area=2.307 in^2, conduit_area=5.858 in^2 give 39.4 % (hand calculation).
    """
    return conduit_fill_area / conduit_area if cable_laying == "conduit" else ladder_width_needed / ladder_width


# Switchgear

@formula(source="definition")
def bus_sets(required_sets):
    """Sets whose full current the bus must carry: those that the firm demand asks for. The spare runs beside them but adds no load."""
    return required_sets


@formula(source="definition")
def switchgear_bus_current(bus_sets, set_rated_current):
    """Current of the bus when those sets feed it from one end at rated current. Feeding the middle of the bus can halve it; that is not counted on.

    Example: bus_sets=2, set_rated_current=2958.9 A give 5918 A (hand calculation).
    """
    return bus_sets * set_rated_current


@formula(source=("iec-60059", "us-bus-practice"))
def switchgear_bus_rating(bus_rating_table, switchgear_bus_current):
    """Next rating up in which such switchgear is sold. Fault level, which rises with every set on the bus, is a matter of its own chapter."""
    return lookup(bus_rating_table, "rating", switchgear_bus_current)


# First cost

@formula(source="definition")
def generator_cable_cost(installed_sets, conductors_per_phase, generator_cable_length, generator_cable_price):
    """Cable of all sets, bought and laid.

    Example: installed_sets=3, conductors_per_phase=7, generator_cable_length=55 m, generator_cable_price=310 cur/m give 358050 cur (hand calculation).
    """
    return installed_sets * conductors_per_phase * generator_cable_length * generator_cable_price


@formula(source="definition")
def termination_cost(installed_sets, conductors_per_phase, termination_price):
    """Both ends of every circuit. Example: installed_sets=3, conductors_per_phase=7, termination_price=420 cur give 17640 cur (hand calculation)."""
    return 2 * installed_sets * conductors_per_phase * termination_price


@formula(source="definition")
def containment_runs(cable_laying, installed_sets, conduits_per_set, sets_on_ladder):
    """Conduits or ladders of the plant. Example: cable_laying=ladder, installed_sets=3, conduits_per_set=2, sets_on_ladder=2 give 2 (hand calculation)."""
    return installed_sets * conduits_per_set if cable_laying == "conduit" else ceil(installed_sets / sets_on_ladder)


@formula(source="definition")
def containment_cost(containment_runs, generator_cable_length, containment_price):
    """Conduit or ladder over the length of the run.

    Example: containment_runs=3, generator_cable_length=55 m, containment_price=140 cur/m give 23100 cur (hand calculation).
    """
    return containment_runs * generator_cable_length * containment_price


@formula(source="definition")
def switchgear_cost(switchgear_bays, switchgear_bay_price):
    """Generator switchgear by the bay. Example: switchgear_bays=8, switchgear_bay_price=34000 cur give 272000 cur (hand calculation)."""
    return switchgear_bays * switchgear_bay_price


@formula(source="definition")
def alternator_premium_cost(installed_sets, alternator_premium):
    """What the alternators cost above the usual low-voltage ones: more insulation, form-wound coils, current transformers in the neutral.

    Example: installed_sets=3, alternator_premium=42000 cur give 126000 cur (hand calculation).
    """
    return installed_sets * alternator_premium


@formula(source="definition")
def transformer_cost(transformer_need, transformer_count, transformer_price):
    """Transformers that are bought only because the sets do not generate at the voltage of the distribution.

    Example: transformer_need=step_up, transformer_count=3, transformer_price=78000 cur give 234000 cur (hand calculation).
    """
    return transformer_count * transformer_price if transformer_need != "none" else 0


@formula(source="definition")
def voltage_first_cost(generator_cable_cost, termination_cost, containment_cost, switchgear_cost, alternator_premium_cost, transformer_cost):
    """First cost of what differs between voltages. Engines, civil works and the distribution beyond the bus are not in it."""
    return generator_cable_cost + termination_cost + containment_cost + switchgear_cost + alternator_premium_cost + transformer_cost


# Cost over the life

@formula(source="physics")
def generator_cable_loss_energy(bus_sets, generator_cable_loss, loss_load_ratio, running_hours_per_year):
    """Energy that the generator cables lose in a year. Loss goes with the square of the load; the conductor is taken as hot as at rated current.

    Example: bus_sets=2, generator_cable_loss=20 kW, loss_load_ratio=60 %, running_hours_per_year=50 h give 720 kWh (hand calculation).
    """
    return bus_sets * generator_cable_loss * loss_load_ratio ** 2 * running_hours_per_year


@formula(source="physics")
def transformer_loss_energy(transformer_need, transformer_count, transformer_no_load_loss, transformer_energised_hours, transformer_load_loss,
                            bus_sets, set_rated_apparent_power, loss_load_ratio, transformer_rated_power, running_hours_per_year):
    """Energy that the transformers lose in a year: standing loss while they are energised, and load loss in the hours of running, shared equally.

    For a standby plant the standing loss decides.

    Example: transformer_need=step_up, transformer_count=1, transformer_no_load_loss=1.7 kW, transformer_energised_hours=8760 h, transformer_load_loss=17
    kW, bus_sets=1, set_rated_apparent_power=1000 kVA, loss_load_ratio=60 %, transformer_rated_power=1000 kVA, running_hours_per_year=50 h give 15198 kWh
    (hand calculation).
    """
    return (transformer_count * (transformer_no_load_loss * transformer_energised_hours + transformer_load_loss * running_hours_per_year
                                 * (bus_sets * set_rated_apparent_power * loss_load_ratio / (transformer_count * transformer_rated_power)) ** 2)
            if transformer_need != "none" else 0)


@formula(source="definition")
def voltage_loss_cost_yearly(generator_cable_loss_energy, transformer_loss_energy, energy_price):
    """Cost of a year's losses at the price of bought energy. Energy from fuel costs more; for the few hours of standby running that is left out.

    Example: generator_cable_loss_energy=720 kWh, transformer_loss_energy=15198 kWh, energy_price=0.20 cur/kWh give 3184 cur (hand calculation).
    """
    return (generator_cable_loss_energy + transformer_loss_energy) * energy_price


@formula(source="present-worth")
def voltage_annuity_factor(discount_rate, project_life):
    """Present worth of one a year, paid at the end of each year; without interest it is the number of years.

    Example: discount_rate=5 %, project_life=20 years give 12.4622 (hand calculation).
    """
    return (project_life / (8760 * h) if discount_rate < 1e-6
            else (1 - (1 + discount_rate) ** (-project_life / (8760 * h))) / max(discount_rate, 1e-6))


@formula(source="present-worth")
def loss_annuity_factor(discount_rate, energy_price_growth, project_life):
    """The same for losses, whose price may grow: the first year is paid at the price of today. Rate and growth are both real.

    Example: discount_rate=7 %, energy_price_growth=3 %, project_life=20 years give 13.3317 (hand calculation).
    """
    return (project_life / (8760 * h) / (1 + discount_rate) if abs(discount_rate - energy_price_growth) < 1e-6
            else (1 - ((1 + energy_price_growth) / (1 + discount_rate)) ** (project_life / (8760 * h)))
            / (discount_rate - energy_price_growth if abs(discount_rate - energy_price_growth) >= 1e-6 else 1))


@formula(source="present-worth")
def voltage_loss_life_cost(loss_annuity_factor, voltage_loss_cost_yearly):
    """Present worth of the losses over the life.

    Example: loss_annuity_factor=12.4622, voltage_loss_cost_yearly=3184 cur give 39680 cur (hand calculation).
    """
    return loss_annuity_factor * voltage_loss_cost_yearly


@formula(source="present-worth")
def voltage_upkeep_life_cost(voltage_annuity_factor, voltage_upkeep_cost_yearly):
    """Present worth of keeping this voltage over the life.

    Example: voltage_annuity_factor=12.4622, voltage_upkeep_cost_yearly=9000 cur give 112160 cur (hand calculation).
    """
    return voltage_annuity_factor * voltage_upkeep_cost_yearly


@formula(source="present-worth")
def voltage_life_cost(voltage_first_cost, voltage_loss_life_cost, voltage_upkeep_life_cost):
    """What this voltage costs from the first day to the last, in money of the first day."""
    return voltage_first_cost + voltage_loss_life_cost + voltage_upkeep_life_cost


# Rules of thumb, computed again

@formula(source="definition")
def reference_medium_voltage_current(reference_set_apparent_power, reference_medium_voltage):
    """Current of the reference set at medium voltage.

    Example: reference_set_apparent_power=2.2 MVA, reference_medium_voltage=13.8 kV give 92.0 A (hand calculation).
    """
    return reference_set_apparent_power / (sqrt(3) * reference_medium_voltage)


@formula(source="definition")
def reference_low_voltage_current(reference_set_apparent_power, reference_low_voltage):
    """Current of the reference set at low voltage.

    Example: reference_set_apparent_power=2.2 MVA, reference_low_voltage=480 V give 2646 A (hand calculation).
    """
    return reference_set_apparent_power / (sqrt(3) * reference_low_voltage)


@formula(source="nec-310-16")
def reference_conductors_cool(reference_low_voltage_current, reference_conductor_size):
    """Conductors of the reference set at its rated current, one circuit a conduit, terminals at 75 °C. The 115 % rule would add one or two.

    Example: reference_low_voltage_current=2646 A give 7 (hand calculation).
    """
    return ceil(reference_low_voltage_current / min(lookup("nec-310-16-copper-90", "ampacity", reference_conductor_size),
                                                    lookup("nec-310-16-copper-75", "ampacity", reference_conductor_size)))


@formula(source=("nec-310-16", "nec-310-15-b1", "nec-310-15-c1"))
def reference_conductors_hot(reference_low_voltage_current, reference_conductor_size, reference_hot_ambient, reference_hot_conductors):
    """Conductors of the reference set at its rated current in a hot room with two circuits in each conduit.

    Example: reference_low_voltage_current=2646 A give 9 (hand calculation).
    """
    return ceil(reference_low_voltage_current / min(lookup("nec-310-16-copper-90", "ampacity", reference_conductor_size)
                                                    * lookup("nec-310-15-b1-90", "factor", reference_hot_ambient)
                                                    * lookup("nec-310-15-c1", "factor", reference_hot_conductors),
                                                    lookup("nec-310-16-copper-75", "ampacity", reference_conductor_size)))


@formula(source="definition")
def reference_bus_current(reference_bus_sets, reference_low_voltage_current, reference_load_ratio):
    """Bus current of two reference sets at low voltage, loaded as sets that run together are planned. At full rating the next bus up is needed.

    Example: reference_bus_sets=2, reference_low_voltage_current=2646 A, reference_load_ratio=90 % give 4763 A (hand calculation).
    """
    return reference_bus_sets * reference_low_voltage_current * reference_load_ratio


# Checks

grouping = check("circuits_as_grouped", "circuits_laid", limit="circuits_grouped", safe="below",
                 source="project", title="Circuits lie as the grouping factor assumes", exact=True, applies={"conduits_per_set": GIVEN})
fill = check("containment_fill_ok", "containment_fill", limit="containment_fill_max", safe="below",
             source=("nec-ch9-table-1", "project"), title="Fill of conduit or ladder")
bus = check("switchgear_bus", "switchgear_bus_rating", limit="switchgear_bus_rating_max", safe="below",
            source="project", title="Switchgear bus within what the project accepts", exact=True)
current_low = check("thumb_current_low", "reference_medium_voltage_current", limit="reference_medium_voltage_current_low", safe="above",
                    source="set-current-rule", title="Rule of thumb, current at medium voltage, lower end", exact=True, self_test=True)
current_high = check("thumb_current_high", "reference_medium_voltage_current", limit="reference_medium_voltage_current_high", safe="below",
                     source="set-current-rule", title="Rule of thumb, current at medium voltage, upper end", exact=True, self_test=True)
conductors_low = check("thumb_conductors_low", "reference_conductors_cool", limit="reference_conductors_low", safe="above",
                       source="conductor-count-rule", title="Rule of thumb, conductors at low voltage, lower end", exact=True, self_test=True)
conductors_high = check("thumb_conductors_high", "reference_conductors_hot", limit="reference_conductors_high", safe="below",
                        source="conductor-count-rule", title="Rule of thumb, conductors at low voltage, upper end", exact=True, self_test=True)
bus_low = check("thumb_bus_low", "reference_bus_current", limit="reference_bus_current_low", safe="above",
                source="bus-class-rule", title="Rule of thumb, low-voltage bus for two sets, lower end", exact=True, self_test=True)
bus_high = check("thumb_bus_high", "reference_bus_current", limit="reference_bus_current_high", safe="below",
                 source="bus-class-rule", title="Rule of thumb, low-voltage bus for two sets, upper end", exact=True, self_test=True)
