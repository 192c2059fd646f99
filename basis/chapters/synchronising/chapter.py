"""Synchronising and sharing: windows, what flows when a breaker closes, how sets share active and reactive power.

The dead bus, the public supply and interlocks are in bus.py.
"""

from basis.language.formula import SOME, chapter, check, formula
from basis.language.maths import acos, count_over, lookup, max_over, sin, sqrt, sum_over, tan

CHAPTER = chapter("synchronising", "Synchronising and sharing", order=190,
                  settles="How sets come to one bus, share the load and stand to the public supply.",
                  cautions=(
    ("Closing out of step can break a shaft, tear a winding from its slots and burst switchgear. Phase rotation and phasing across every breaker "
     "that joins two sources are proved on site before it is first closed, and again after any work on cables, transformers or voltage circuits."),
    ("A set that runs can feed back into a dead supply, and through a transformer at its full voltage. Utility crews are then at risk. The bar "
     "against that is mechanical or wired, is tested, and is agreed with the supplier."),
    ("Phasing, rotation and synchroscope tests are live voltage tests on or near bare terminals: licensed persons, written procedure, rated "
     "instruments, arc-flash protection. Nobody works alone."),
    "Sets start, and breakers close, without warning. Local lock-off of engine and breaker comes before a hand near either.",
    "Settings of synchronisers, loss-of-mains and reverse power relays are for licensed practice and for the supplier's agreement; those here are for design.",
))


# ---- windows and settings ----

@formula(source="ieee-1547-table-5")
def sync_slip_max(sync_window_table, set_rated_apparent_power):
    """Difference of frequency at which the breaker may be closed, by rating: a large rotor that is dragged into step swings hard."""
    return lookup(sync_window_table, "slip", set_rated_apparent_power)


@formula(source="ieee-1547-table-5")
def sync_voltage_max(sync_window_table, set_rated_apparent_power):
    """Difference of voltage at which the breaker may be closed, by rating: what is left of it drives reactive current."""
    return lookup(sync_window_table, "voltage", set_rated_apparent_power)


@formula(source="ieee-1547-table-5")
def sync_angle_max(sync_window_table, set_rated_apparent_power):
    """Angle at which the breaker may be closed, by rating: what is left of it drives active current through the shaft."""
    return lookup(sync_window_table, "angle", set_rated_apparent_power)


@formula(source="physics")
def closing_angle(synchroniser_angle, synchroniser_slip, closing_lead, closing_time_spread, set_breaker_closing_time):
    """Angle when the contacts touch: the setting, and what the slip adds while the breaker closes, or in the spread of its closing if the command leads.

    Example: synchroniser_angle=8 deg, synchroniser_slip=0.1 Hz, closing_time_spread=60 ms give 10.16 deg (hand calculation).
    """
    return synchroniser_angle + 6.283185307179586 * synchroniser_slip * (closing_time_spread if closing_lead == "compensated" else set_breaker_closing_time)


@formula(source="definition")
def sync_partners(other_sets, utility_operation):
    """Live sources that a set may be closed onto: the other sets, and the public supply where the plant runs beside it."""
    return other_sets if utility_operation == "no_parallel" else other_sets + 1


# ---- what flows at closing ----

@formula(source="two-sources")
def closing_bus_reactance(installed_sets, subtransient_reactance):
    """Reactance of the bus with every other set on it; nought, a stiff bus, if there is no other set. The stiffest bus is the worst.

    Example: installed_sets=3, subtransient_reactance=12 % give 6.0 % (hand calculation).
    """
    return subtransient_reactance / max(1, installed_sets - 1) if installed_sets >= 2 else 0


@formula(source="two-sources")
def closing_reactance(subtransient_reactance, closing_bus_reactance):
    """Reactance between the two voltages. Cables and transformers between them are left out, on the safe side."""
    return subtransient_reactance + closing_bus_reactance


@formula(source="two-sources")
def closing_current_ratio(synchroniser_voltage_difference, closing_angle, closing_reactance):
    """First current when the contacts touch at the edge of the settings; its direct-current part may double the peak.

    Equal voltages 10° apart across 0.25 give 0.697 of rated current (hand calculation).
    """
    return sqrt(synchroniser_voltage_difference**2 + 4 * (1 + synchroniser_voltage_difference) * sin(closing_angle / 2)**2) / closing_reactance


@formula(source="two-sources")
def closing_power_ratio(synchroniser_voltage_difference, closing_angle, closing_reactance):
    """Sudden active power at closing, positive or negative by which side leads.

    Example: synchroniser_voltage_difference=0 %, closing_angle=10 deg, closing_reactance=25 % give 0.695 (hand calculation).
    """
    return (1 + synchroniser_voltage_difference) * sin(closing_angle) / closing_reactance


@formula(source="two-sources")
def out_of_step_current_ratio(closing_reactance):
    """Current if the breaker closes in opposition: why phasing is proved and check relays stand in every closing circuit.

    Example: closing_reactance=0.18 give 11.1 (hand calculation).
    """
    return 2 / closing_reactance


@formula(source="two-sources")
def terminal_fault_current_ratio(subtransient_reactance):
    """Current of a three-phase fault at the terminals, which windings and coupling are proved for.

    Example: subtransient_reactance=0.12 give 8.33 (hand calculation).
    """
    return 1 / subtransient_reactance


# ---- sharing active power ----

@formula(source="definition")
def sharing_rated_power(set_rated_power):
    """Rated power of each set that shares; a set of another size is given its own."""
    return set_rated_power


@formula(source="droop-lines")
def sharing_stiffness(sharing_rated_power, sharing_droop, power_frequency):
    """Power for each hertz. Example: sharing_rated_power=[1000 kW], sharing_droop=[4 %], power_frequency=60 Hz give [416.7 kW/Hz] (hand calculation)."""
    return sharing_rated_power / (sharing_droop * power_frequency)


@formula(source="droop-lines")
def sharing_total_stiffness(sharing_stiffness):
    """Power that all sets together add for each hertz. Example: sharing_stiffness=[416.67 kW/Hz, 416.67 kW/Hz] give 833.3 kW/Hz (hand calculation)."""
    return sum_over("sharing_set", sharing_stiffness)


@formula(source="droop-lines")
def sharing_no_load_mean(sharing_stiffness, sharing_no_load_frequency, sharing_total_stiffness):
    """Frequency at which the bus stands when nothing is on it: the settings, each with its stiffness as weight."""
    return sum_over("sharing_set", sharing_stiffness * sharing_no_load_frequency) / sharing_total_stiffness


@formula(source="droop-lines")
def sharing_frequency(sharing_no_load_mean, demand_power, sharing_total_stiffness):
    """Frequency at which all droop lines together give the demand: it is one for all, so it decides the shares.

    Example: sharing_no_load_mean=61.5 Hz, demand_power=1200 kW, sharing_total_stiffness=833.3 kW/Hz give 60.06 Hz (hand calculation).
    """
    return sharing_no_load_mean - demand_power / sharing_total_stiffness


@formula(source="droop-lines")
def sharing_circulating_power(sharing_stiffness, sharing_no_load_frequency, sharing_no_load_mean):
    """Power that unlike settings push from set to set whatever the load; over all sets it is nought.

    Example: sharing_stiffness=[416.67 kW/Hz, 416.67 kW/Hz], sharing_no_load_frequency=[61.8 Hz, 61.2 Hz], sharing_no_load_mean=61.5 Hz give [125 kW, -125 kW]
    (hand calculation).
    """
    return sharing_stiffness * (sharing_no_load_frequency - sharing_no_load_mean)


@formula(source="droop-lines")
def droop_power(sharing_circulating_power, demand_power, sharing_stiffness, sharing_total_stiffness):
    """Share of the set on droop. Equal droop in per cent and equal no-load frequency make shares proportional to rating.

    Example: sharing_circulating_power=[125 kW, -125 kW], demand_power=1200 kW, sharing_stiffness=[416.67 kW/Hz, 416.67 kW/Hz], sharing_total_stiffness=833.34
    kW/Hz give [725 kW, 475 kW] (hand calculation).
    """
    return sharing_circulating_power + demand_power * sharing_stiffness / sharing_total_stiffness


@formula(source="definition")
def sharing_sets_listed():
    """Sets of the list."""
    return count_over("sharing_set")


@formula(source="definition")
def sharing_mean_ratio(demand_power, sharing_rated_power):
    """Loading that every set would have if all shared alike."""
    return demand_power / sum_over("sharing_set", sharing_rated_power) if max_over("sharing_set", sharing_rated_power) > 0 else 0


@formula(source="definition")
def isochronous_power(sharing_rated_power, sharing_mean_ratio, sharing_trim):
    """Share of the set on sharing lines: the mean loading, and its own error less the mean error, since the demand is what it is.

    Example: sharing_rated_power=[1000 kW, 1000 kW], sharing_mean_ratio=60 %, sharing_trim=[1.5 %, -1.5 %] give [615 kW, 585 kW] (hand calculation).
    """
    return sharing_rated_power * (sharing_mean_ratio + sharing_trim
                                  - sum_over("sharing_set", sharing_trim * sharing_rated_power) / sum_over("sharing_set", sharing_rated_power))


@formula(source="definition")
def sharing_power(sharing_mode, droop_power, isochronous_power):
    """Share of the set in the way of sharing that is chosen."""
    return droop_power if sharing_mode == "droop" else isochronous_power


@formula(source="definition")
def bus_frequency(sharing_mode, sharing_frequency, power_frequency):
    """Steady frequency: on droop where the lines meet, on sharing lines the rated one."""
    return sharing_frequency if sharing_mode == "droop" else power_frequency


@formula(source="droop-lines")
def sharing_low_power(sharing_mode, sharing_circulating_power, minimum_demand_power, sharing_stiffness, sharing_total_stiffness, isochronous_power,
                      sharing_rated_power, demand_power):
    """Share of the set in the quietest hour with all on the bus. A negative share: the others turn it, and its reverse power relay will trip it.

    Example: sharing_circulating_power=[125 kW, -125 kW], minimum_demand_power=200 kW, sharing_stiffness=[416.67 kW/Hz, 416.67 kW/Hz],
    sharing_total_stiffness=833.34 kW/Hz give [225 kW, -25 kW] (hand calculation).
    """
    return (sharing_circulating_power + minimum_demand_power * sharing_stiffness / sharing_total_stiffness if sharing_mode == "droop" else
            isochronous_power - (demand_power - minimum_demand_power) * sharing_rated_power / sum_over("sharing_set", sharing_rated_power))


@formula(source="definition")
def sharing_loading(sharing_power, set_site_power):
    """Loading of the set by its share: a spread of settings overloads one set while the plant as a whole has room."""
    return sharing_power / set_site_power


@formula(source="definition")
def sharing_low_ratio(sharing_low_power, sharing_rated_power):
    """Loading of the set in the quietest hour."""
    return sharing_low_power / sharing_rated_power


@formula(source="definition")
def sharing_low_ratio_min(reverse_relay_setting):
    """The set trips when the others push this much power into it."""
    return -reverse_relay_setting


@formula(source="definition")
def sharing_deviation(sharing_power, sharing_rated_power, sharing_mean_ratio):
    """How far the share is from the mean, either way.

    Example: sharing_power=[725 kW], sharing_rated_power=[1000 kW], sharing_mean_ratio=60 % give [12.5 %] (hand calculation).
    """
    return abs(sharing_power / sharing_rated_power - sharing_mean_ratio)


@formula(source="iso-8528-5-sharing", valid={"sharing_mean_ratio": (0.2, 1.0)})
def sharing_deviation_max(sharing_mean_ratio):
    """Deviation of active power allowed: less from four fifths of the rating up, where there is less room."""
    return 0.05 if sharing_mean_ratio >= 0.8 else 0.10


@formula(source="iso-8528-5-steady")
def frequency_droop_max(performance_class):
    """Droop that the performance class allows."""
    return lookup("iso-8528-5-steady", "frequency_droop", performance_class)


# ---- sharing reactive power ----

@formula(source="definition")
def sharing_rated_reactive_power(sharing_rated_power, set_rated_power_factor):
    """Reactive power that goes with rated power. Example: sharing_rated_power=[1000 kW], set_rated_power_factor=0.8 give [750 kvar] (hand calculation)."""
    return sharing_rated_power * tan(acos(set_rated_power_factor))


@formula(source="droop-lines")
def sharing_reactive_stiffness(sharing_rated_reactive_power, sharing_voltage_droop):
    """Reactive power that the set adds when voltage falls by the whole of its rated value.

    Example: sharing_rated_reactive_power=[750 kvar], sharing_voltage_droop=[3 %] give [25 Mvar] (hand calculation).
    """
    return sharing_rated_reactive_power / sharing_voltage_droop


@formula(source="droop-lines")
def sharing_total_reactive_stiffness(sharing_reactive_stiffness):
    """The same for all sets together."""
    return sum_over("sharing_set", sharing_reactive_stiffness)


@formula(source="droop-lines")
def sharing_voltage_mean(sharing_reactive_stiffness, sharing_voltage_setting, sharing_total_reactive_stiffness):
    """Voltage of the bus with no reactive load: the settings, each with its stiffness as weight."""
    return sum_over("sharing_set", sharing_reactive_stiffness * sharing_voltage_setting) / sharing_total_reactive_stiffness


@formula(source="droop-lines")
def sharing_bus_voltage(sharing_voltage_mean, demand_reactive_power, sharing_total_reactive_stiffness):
    """Voltage at which all regulators on droop together give the reactive demand. Without droop two regulators fight, and the stiffer one takes all.

    Example: sharing_voltage_mean=100.5 %, demand_reactive_power=900 kvar, sharing_total_reactive_stiffness=50 Mvar give 98.7 % (hand calculation).
    """
    return sharing_voltage_mean - demand_reactive_power / sharing_total_reactive_stiffness


@formula(source="droop-lines")
def sharing_reactive_power(reactive_mode, sharing_reactive_stiffness, sharing_voltage_setting, sharing_voltage_mean, demand_reactive_power,
                           sharing_total_reactive_stiffness, sharing_rated_reactive_power):
    """Reactive share of the set: by its line of voltage, or in proportion to its rating when lines between regulators share it.

    Example: sharing_reactive_stiffness=[25 Mvar, 25 Mvar], sharing_voltage_setting=[100 %, 101 %], sharing_voltage_mean=100.5 %, demand_reactive_power=900
    kvar, sharing_total_reactive_stiffness=50 Mvar give [325 kvar, 575 kvar] (hand calculation).
    """
    return (sharing_reactive_stiffness * (sharing_voltage_setting - sharing_voltage_mean)
            + demand_reactive_power * sharing_reactive_stiffness / sharing_total_reactive_stiffness if reactive_mode == "voltage_droop" else
            demand_reactive_power * sharing_rated_reactive_power / sum_over("sharing_set", sharing_rated_reactive_power))


@formula(source="definition")
def sharing_mean_reactive_ratio(demand_reactive_power, sharing_rated_reactive_power):
    """Reactive loading that every set would have if all shared alike."""
    return (demand_reactive_power / sum_over("sharing_set", sharing_rated_reactive_power)
            if max_over("sharing_set", sharing_rated_reactive_power) > 0 else 0)


@formula(source="definition")
def sharing_reactive_deviation(sharing_reactive_power, sharing_rated_reactive_power, sharing_mean_reactive_ratio):
    """How far the reactive share is from the mean, either way: current that circulates, heats windings and does nothing.

    Example: sharing_reactive_power=[575 kvar], sharing_rated_reactive_power=[750 kvar], sharing_mean_reactive_ratio=60 % give [16.7 %] (hand calculation).
    """
    return abs(sharing_reactive_power / sharing_rated_reactive_power - sharing_mean_reactive_ratio)


@formula(source="definition")
def sharing_alternator_loading(sharing_power, sharing_reactive_power, alternator_site_apparent_power):
    """Apparent loading of the alternator by both shares.

    Example: sharing_power=[725 kW], sharing_reactive_power=[575 kvar], alternator_site_apparent_power=1250 kVA give [74.0 %] (hand calculation).
    """
    return sqrt(sharing_power**2 + sharing_reactive_power**2) / alternator_site_apparent_power


# ---- checks ----

sync_slip = check("sync_slip", "synchroniser_slip", limit="sync_slip_max", safe="below", source="ieee-1547-table-5",
                  title="Slip setting within the window", exact=True, applies={"sync_partners": SOME})
sync_voltage = check("sync_voltage", "synchroniser_voltage_difference", limit="sync_voltage_max", safe="below", source="ieee-1547-table-5",
                     title="Voltage setting within the window", exact=True, applies={"sync_partners": SOME})
sync_angle = check("sync_angle", "closing_angle", limit="sync_angle_max", safe="below", source="ieee-1547-table-5", title="Angle at closing within the window",
                   applies={"sync_partners": SOME})
closing_current = check("closing_current", "closing_current_ratio", limit="closing_current_ratio_max", safe="below", source="project",
                        title="Current at closing", applies={"sync_partners": SOME})
share_overload = check("share_overload", "sharing_loading", limit="set_load_ratio_max", safe="below", source="rating-definition",
                       title="Loading of each set by its share", applies={"other_sets": SOME})
share_reverse = check("share_reverse", "sharing_low_ratio", limit="sharing_low_ratio_min", safe="above", source="project",
                      title="No set driven into reverse power in the quietest hour", applies={"other_sets": SOME})
share_even = check("share_even", "sharing_deviation", limit="sharing_deviation_max", safe="below", source="iso-8528-5-sharing",
                   title="Even sharing of active power", applies={"other_sets": SOME})
share_reactive = check("share_reactive", "sharing_reactive_deviation", limit="sharing_reactive_deviation_max", safe="below",
                       source="iso-8528-5-sharing", title="Even sharing of reactive power", applies={"other_sets": SOME})
share_alternator = check("share_alternator", "sharing_alternator_loading", limit="alternator_load_ratio_max", safe="below", source="rating-definition",
                         title="Apparent loading of each alternator by its share", applies={"other_sets": SOME})
governors_listed = check("governors_listed", "sharing_sets_listed", limit="installed_sets", safe="above", source="definition", exact=True,
                         title="Every installed set is in the list that shares", applies={"other_sets": SOME, "sharing_sets_listed": SOME})
droop_of_class = check("droop_of_class", "sharing_droop", limit="frequency_droop_max", safe="below", source="iso-8528-5-steady",
                       title="Droop within the performance class", exact=True, applies={"sharing_mode": ("droop",)})
