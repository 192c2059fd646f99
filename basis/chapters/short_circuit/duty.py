"""Short circuit, third part: the decay of a set's current, what breakers must make and break, and what relays have to start on. Settings and selectivity
are left to the protection study.
"""

from basis.language.formula import SOME, check, formula
from basis.language.maths import Hz, exp, kV, lookup, max_over, pick

# Currents of a bus


@formula(source="definition")
def largest_initial_current(initial_current_max, supply_initial_current):
    """Initial current for which the bus is chosen: the largest of all running cases and of the supply alone. This is the figure of the one-line diagram."""
    return max(max_over("running_case", initial_current_max), supply_initial_current)


@formula(source="definition")
def largest_peak_current(peak_current, supply_peak_current):
    """Peak current for which the bus is braced: the largest of all running cases and of the supply alone."""
    return max(max_over("running_case", peak_current), supply_peak_current)


@formula(source="definition")
def largest_breaking_current(breaking_current, supply_breaking_current):
    """Breaking current of the bus: the largest of all running cases and of the supply alone."""
    return max(max_over("running_case", breaking_current), supply_breaking_current)


@formula(source="definition")
def generator_cable_back_feed(generator_back_feed, generator_bus, supply_initial_current):
    """Largest current that others feed into a fault in the cable of a set. The cable bears it until both ends are open; the supply alone may feed it too."""
    return max_over("generator", max(generator_back_feed, pick(generator_bus, supply_initial_current)))


# Decay of one set

@formula(source="machine-decay", valid={"transient_reactance": (0.05, 0.6)})
def set_current_unforced(alternator_rated_current, subtransient_reactance, transient_reactance, synchronous_reactance, time_after_fault,
                         subtransient_time_constant, transient_time_constant):
    """Symmetrical current of one set into a fault at its terminals, excitation left as at no load, rated voltage before the fault.

    With 0.12, 0.18, 2.2, 20 ms and 250 ms it is 8.333 times rated current at once, 3.893 times after 0.1 s and 1.145 times after 0.5 s.
    """
    return alternator_rated_current * ((1 / subtransient_reactance - 1 / transient_reactance) * exp(-time_after_fault / subtransient_time_constant)
                                       + (1 / transient_reactance - 1 / synchronous_reactance) * exp(-time_after_fault / transient_time_constant)
                                       + 1 / synchronous_reactance)


@formula(source=("machine-decay", "excitation-boost"), valid={"transient_reactance": (0.05, 0.6)})
def set_current_forced(alternator_rated_current, subtransient_reactance, transient_reactance, sustained_current_ratio, time_after_fault,
                       subtransient_time_constant, transient_time_constant):
    """The same with the excitation forced: the current settles at what the boosted excitation keeps up, until that is switched off.

    The rise of the field is put at the transient time constant too.

    With 0.12, 0.18 and 3 times it is 3 + 2.556 × e^(−2), which is 3.346 times, after 0.5 s.
    """
    return alternator_rated_current * ((1 / subtransient_reactance - 1 / transient_reactance) * exp(-time_after_fault / subtransient_time_constant)
                                       + (1 / transient_reactance - sustained_current_ratio) * exp(-time_after_fault / transient_time_constant)
                                       + sustained_current_ratio)


@formula(source="definition")
def plant_current_forced(running_sets, set_current_forced):
    """Sum of the running sets, all at one bus and the fault at that bus. Motors and supply come on top in the first tenths of a second."""
    return running_sets * set_current_forced


@formula(source="iec-60909-steady")
def set_steady_current(sustained_current_ratio, alternator_rated_current):
    """What the excitation keeps up at the terminals. Example: sustained_current_ratio=3, alternator_rated_current=1804 A give 5.41 kA (hand calculation)."""
    return sustained_current_ratio * alternator_rated_current


@formula(source="machine-decay")
def set_direct_current_share(minimum_time_delay, armature_time_constant, subtransient_reactance, transient_reactance, synchronous_reactance,
                             subtransient_time_constant, transient_time_constant):
    """Largest direct-current component of a set's own current when contacts part. Above one the current misses its zeros and a breaker of usual type may
    not clear.

    The alternating part has decayed by then while the direct one follows the armature.

    Example: minimum_time_delay=50 ms, armature_time_constant=40 ms, subtransient_reactance=0.12, transient_reactance=0.18, synchronous_reactance=2.2,
    subtransient_time_constant=20 ms, transient_time_constant=250 ms give 49 % (hand calculation).
    """
    return (exp(-minimum_time_delay / armature_time_constant) / subtransient_reactance
            / ((1 / subtransient_reactance - 1 / transient_reactance) * exp(-minimum_time_delay / subtransient_time_constant)
               + (1 / transient_reactance - 1 / synchronous_reactance) * exp(-minimum_time_delay / transient_time_constant) + 1 / synchronous_reactance))


# Breakers

@formula(source=("iec-60947-2-making", "iec-62271-100"))
def breaker_making_factor(breaker_bus, bus_voltage, breaker_breaking_rating, power_frequency):
    """Making over breaking capacity: at low voltage by the size of the breaking capacity, at medium voltage 2.5 at 50 Hz and 2.6 at 60 Hz."""
    return (lookup("iec-60947-2-making", "factor", breaker_breaking_rating) if pick(breaker_bus, bus_voltage) <= 1 * kV
            else 2.6 if power_frequency > 55 * Hz else 2.5)


@formula(source=("iec-60947-2-making", "iec-62271-100"))
def breaker_making_rating(breaker_breaking_rating, breaker_making_factor):
    """Making capacity that the product standard ties to the breaking capacity, unless the maker declares one.

    Example: breaker_breaking_rating=[50 kA], breaker_making_factor=[2.1] give [105 kA] (hand calculation).
    """
    return breaker_breaking_rating * breaker_making_factor


@formula(source=("iec-60947-2-breaking", "iec-60909-breaking"))
def breaker_breaking_duty(breaker_bus, bus_voltage, largest_initial_current, largest_breaking_current):
    """Current that the breaker is compared with: the initial current at low voltage, where breakers open within the first cycles; the breaking current above.

    The whole current of the bus is taken. A breaker between a source and the bus sees less, whichever side the fault is on.
    """
    return (pick(breaker_bus, largest_initial_current) if pick(breaker_bus, bus_voltage) <= 1 * kV
            else pick(breaker_bus, largest_breaking_current))


@formula(source="iec-60909-peak")
def breaker_making_duty(breaker_bus, largest_peak_current):
    """Peak that the breaker meets when it is closed onto a fault: the worst thing that is ever asked of it."""
    return pick(breaker_bus, largest_peak_current)


# What relays have to start on

@formula(source="superposition")
def feeder_reach_current(feeder_to_bus, least_steady_current):
    """Least current of a fault at the far end once motors have died down and the sets are on forced excitation. What does not start on this never starts."""
    return pick(feeder_to_bus, least_steady_current)


# Checks

breaking = check("breaker_breaking", "breaker_breaking_duty", limit="breaker_breaking_rating", safe="below",
                 source=("iec-60947-2-breaking", "iec-62271-100"), title="Breaking capacity of the breakers")
making = check("breaker_making", "breaker_making_duty", limit="breaker_making_rating", safe="below",
               source=("iec-60947-2-making", "iec-62271-100"), title="Making capacity of the breakers")
reach = check("feeder_reach", "feeder_reach_current", limit="feeder_pickup", safe="above", source="project",
              title="Feeder protection starts when sets feed alone")
set_reach = check("set_reach", "set_steady_current", limit="set_pickup", safe="above", source="project",
                  title="Protection of a set starts on its own sustained current")
forcing = check("forcing_outlasts_protection", "slowest_clearing_time", limit="field_forcing_time", safe="below", source="excitation-boost",
                title="Protection clears while field forcing lasts")
cable_estimate = check("generator_cable_fault_estimate", "generator_cable_back_feed", limit="generator_cable_fault_current", safe="below", source="project",
                       title="Fault current for which the generator cable was chosen", exact=True)
all_listed = check("all_sets_in_network", "generators_listed", limit="installed_sets", safe="above", source="definition",
                   title="The network lists every installed set", exact=True, applies={"generators_listed": SOME})
