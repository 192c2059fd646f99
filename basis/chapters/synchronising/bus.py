"""Synchronising and sharing, second part: the dead bus and the order of the sets, the public supply, interlocks of breakers."""

import numpy as np

from basis.language.formula import SOME, check, formula, procedure
from basis.language.maths import count_over, not_given, sum_over

# ---- the dead bus ----

@formula(source="definition")
def order_signal_delay(stages_signal_time, signal_delay_usual):
    """The time before cranking that the stages of the start count, for every set that gives none of its own."""
    return stages_signal_time if stages_signal_time > 0 else signal_delay_usual


@formula(source="definition")
def order_crank_time(stages_crank_time):
    """The time of cranking that the stages of the start count, for every set that gives none of its own."""
    return stages_crank_time if stages_crank_time > 0 else not_given


@formula(source="definition")
def order_run_up_time(stages_run_up_time, stages_excitation_time):
    """Run-up and excitation as the stages of the start count them, for every set that gives none of its own."""
    return stages_run_up_time + stages_excitation_time if stages_run_up_time > 0 else not_given


@formula(source="definition")
def dead_bus_time(stages_dead_bus_time, dead_bus_usual):
    """The time of closing on the dead bus that the stages of the start count."""
    return stages_dead_bus_time if stages_dead_bus_time > 0 else dead_bus_usual


@formula(source="definition")
def set_ready_time(order_signal_delay, order_crank_time, order_run_up_time):
    """Time until the set stands ready: confirmation of the loss, cranking, run-up to voltage and frequency. One start attempt is counted."""
    return order_signal_delay + order_crank_time + order_run_up_time


@formula(source="physics")
def order_sync_time(synchroniser_settling, synchroniser_slip):
    """Longest wait beside a live bus: settling, and one whole turn of the synchroscope at the slip setting. A smaller slip is kinder, and slower.

    Example: synchroniser_settling=2 s, synchroniser_slip=0.1 Hz give [12 s] (hand calculation).
    """
    return synchroniser_settling + 1 / synchroniser_slip


@formula(source="definition")
def order_waiting_time(order_sync_time):
    """Wait before the breaker closes on a live bus. A set that stands alone in the list meets no live bus.

    Example: order_sync_time=[12 s, 9 s] give [12 s, 9 s] (hand calculation).
    """
    return order_sync_time if count_over("start_order") > 1 else 0


@procedure(source="definition", yields=("set_bus_time", "first_bus_time", "required_bus_time", "step_bus_time"),
           equation="t_bus,1 = min t_rdy + t_db;  t_bus,i = max(t_rdy,i; t_bus,1 or, with one synchroniser, the closing before) + t_sy,i;  "
                    "t_k: the k-th closing")
def set_bus_time(set_ready_time, order_waiting_time, dead_bus_time, synchronisers, required_sets, step_sets):
    """When each set is on the bus: the first one ready closes on the dead bus, every other synchronises to it.

    Of two that are ready together the one listed first closes; closing both on the dead bus would join them out of step. A count of sets
    that the list does not reach gives no time.
    """
    ready, wait = np.asarray(set_ready_time, dtype=float), np.broadcast_to(order_waiting_time, np.shape(set_ready_time))
    order = np.argsort(ready, kind="stable")
    closed = np.full(ready.shape, np.nan)
    last = np.nan
    for rank, place in enumerate(order):
        if rank == 0:
            first = last = closed[place] = ready[place] + dead_bus_time
            continue
        closed[place] = max(ready[place], last if synchronisers == "one_shared" else first) + wait[place]
        last = closed[place]
    closings = np.sort(closed)
    counts = np.concatenate([[1.0, required_sets], np.ravel(step_sets)])
    times = np.array([_closing(closings, count) for count in counts])
    on_bus = np.array([np.sum(closings <= time) for time in times])
    missing = np.where(np.isnan(times), 0.0, counts - on_bus)
    return (closed, times[0], times[1], times[2:]), float(np.max(missing, initial=0.0)), "sets that are missing on the bus at the times told"


def _closing(closings, count):
    """Time of the closing with this count; NaN if there are not so many, or not all times are known."""
    known = 1 <= count <= len(closings) and not np.isnan(closings).any()
    return closings[int(count) - 1] if known else np.nan


@formula(source="definition")
def first_bus_time_max(start_time_max):
    """What the code allows its most hurried load: the first set cannot be later."""
    return start_time_max


# ---- the public supply ----

@formula(source="definition")
def return_break_time(utility_operation, transfer_break_time):
    """Time in the dark when loads go back to the supply. Only a plant that is never in parallel must break first."""
    return transfer_break_time if utility_operation == "no_parallel" else 0


@formula(source="definition")
def utility_parallel_time(utility_operation, transfer_overlap_time, demand_power, transfer_ramp, sustained_parallel_time):
    """Time for which plant and supply are in parallel: nought, the overlap, the time that moving the demand takes, or a whole call.

    In that time the fault currents of both add, and every breaker must stand their sum.

    Example: utility_operation=ramped, demand_power=600 kW, transfer_ramp=60 kW/s give 10 s (hand calculation).
    """
    return (0 if utility_operation == "no_parallel" else
            transfer_overlap_time if utility_operation == "momentary" else
            demand_power / transfer_ramp if utility_operation == "ramped" else
            sustained_parallel_time)


@formula(source="definition")
def islanding_time(utility_operation, islanding_relay_time, utility_breaker_opening_time):
    """Time for which the plant may hold a piece of the public network alive that its owner takes for dead."""
    return 0 if utility_operation == "no_parallel" else islanding_relay_time + utility_breaker_opening_time


@formula(source="rocof-balance")
def islanding_blind_power(inertia_constant, installed_sets, set_rated_apparent_power, rocof_setting, power_frequency):
    """Mismatch below which frequency moves too slowly for the relay: an island that fits the plant hides itself, so another criterion must stand beside it.

    Example: inertia_constant=0.9 s, installed_sets=3, set_rated_apparent_power=2050 kVA, rocof_setting=0.5 Hz/s, power_frequency=50 Hz give 110.7 kW (hand
    calculation).
    """
    return 2 * inertia_constant * installed_sets * set_rated_apparent_power * rocof_setting / power_frequency


@formula(source="definition")
def interruptible_capability(demand_power, installed_sets, spare_sets, set_site_power):
    """Load that the plant can take over at a call without counting on its spare sets, and no more than there is."""
    return min(demand_power, (installed_sets - spare_sets) * set_site_power)


# ---- interlocks ----

@formula(source="definition")
def generator_interlocks(interlock_role, interlock_breakers):
    """Set breakers that the table of interlocks covers."""
    return sum_over("interlock", interlock_breakers if interlock_role == "generator" else 0)


@formula(source="definition")
def tie_interlocks(interlock_role, interlock_breakers):
    """Ties between bus sections that the table of interlocks covers."""
    return sum_over("interlock", interlock_breakers if interlock_role == "tie" else 0)


@formula(source="definition")
def utility_interlocks(interlock_role, interlock_breakers):
    """Breakers to the public supply that the table of interlocks covers."""
    return sum_over("interlock", interlock_breakers if interlock_role == "utility" else 0)


@formula(source="wired-interlocks")
def program_interlocks(interlock_role, interlock_means, interlock_breakers):
    """Breakers between sources that a program alone keeps apart; a line that names no means is counted among them."""
    return sum_over("interlock", interlock_breakers if (interlock_role == "tie" or interlock_role == "utility")
                    and not (interlock_means == "mechanical" or interlock_means == "wired") else 0)


# ---- checks ----

first_on_bus = check("first_on_bus", "first_bus_time", limit="first_bus_time_max", safe="below", source="project", title="Time of the first set on the bus")
required_on_bus = check("required_on_bus", "required_bus_time", limit="required_bus_time_max", safe="below", source="project",
                        title="Time of the required sets on the bus")
step_after_sets = check("step_after_sets", "step_bus_time", limit="step_time", safe="below", source="definition",
                        title="Each load step after the sets that it counts on", exact=True)
return_break = check("return_break", "return_break_time", limit="return_break_time_max", safe="below", source="project",
                     title="Break when loads go back to the supply", applies={"utility_operation": ("no_parallel",), "utility_breakers": SOME})
parallel_time = check("parallel_time", "utility_parallel_time", limit="utility_parallel_time_max", safe="below", source="project",
                      title="Time beside the public supply", applies={"utility_operation": ("momentary", "ramped", "sustained")})
islanding = check("islanding", "islanding_time", limit="islanding_time_max", safe="below", source="ieee-1547-islanding",
                  title="Plant off a lost supply in time", applies={"utility_operation": ("momentary", "ramped", "sustained")})
interruptible = check("interruptible", "interruptible_capability", limit="interruptible_power", safe="above", source="project",
                      title="Contracted power can be taken over", applies={"interruptible_power": SOME})
set_interlocks = check("set_interlocks", "generator_interlocks", limit="installed_sets", safe="above", source="definition",
                       title="Every set breaker has its interlock", exact=True)
tie_interlock = check("tie_interlock", "tie_interlocks", limit="tie_breakers", safe="above", source="definition",
                      title="Every tie has its interlock", exact=True, applies={"tie_breakers": SOME})
utility_interlock = check("utility_interlock", "utility_interlocks", limit="utility_breakers", safe="above", source="definition",
                          title="Every supply breaker has its interlock", exact=True, applies={"utility_breakers": SOME})
program_alone = check("program_alone", "program_interlocks", limit="program_interlocks_max", safe="below", source="wired-interlocks",
                      title="No source held apart by program alone", exact=True)
