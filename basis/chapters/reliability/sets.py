"""Reliability, second part: several sets. Enough of them must answer and run to the end; some causes take all of them at once.

Exact: sums over the numbers of sets that run, over states of unequal sets, over a chain of states with repair. Nothing is sampled. The rates themselves
are uncertain, and the same for all sets: what that leaves open is found by quadrature.
"""

import numpy as np

from basis.chapters.reliability.diagram import Diagram
from basis.language.faults import ItemTrouble, ItemTroubles
from basis.language.formula import formula, procedure
from basis.language.maths import count_over, exp, log, sum_over

POINTS, HALVINGS, WIDE = 40, 60, 8.0  # of the quadrature of the mean; of the search for a quantile; of the normal distribution, in standard deviations


def working(successes) -> np.ndarray:
    """Chance that just none, one, two … of independent sets succeed, from the chance of each (along the first axis); a convolution."""
    found = np.ones((1, *np.shape(successes)[1:]))
    for success in successes:
        found = np.concatenate([found * (1 - success), np.zeros_like(found[:1])]) + np.concatenate([np.zeros_like(found[:1]), found * success])
    return found


def enough(failure, share, sets: int, needed: int) -> np.ndarray:
    """Chance that at least `needed` of `sets` succeed, which is sure if none is needed: each fails with the chance `failure`, of which a share takes all.

    One set alone shares no cause with another.
    """
    share = share if sets > 1 else 0.0
    if not 0 < needed <= sets:
        return np.full(np.shape(failure), 1.0 if not needed else 0.0)
    good = np.broadcast_to(1 - (1 - share) * failure, (sets, *np.shape(failure)))
    return (1 - share * failure) * np.sum(working(good)[needed:], axis=0)


def by_states(powers, successes, needed: float) -> float:
    """Chance that sets which differ carry the power between them: all states, those of the same sum taken together."""
    states = {0.0: 1.0}
    for power, success in zip(powers, successes):
        found: dict[float, float] = {}
        for have, chance in states.items():
            found[have] = found.get(have, 0.0) + chance * (1 - success)
            found[have + power] = found.get(have + power, 0.0) + chance * success
        states = found
    return sum(chance for have, chance in states.items() if have >= needed * (1 - 1e-12))


# ---- enough sets ----

@formula(source="project")
def unequal_set_success(set_mission_success):
    """Sets that differ in power are as reliable as the others unless the project says otherwise."""
    return set_mission_success


@formula(source="project")
def mission_power(firm_demand_power):
    """The firm demand, as for sets alike."""
    return firm_demand_power


@procedure(source="beta-factor", yields=("alike_sets_reliability", "alike_sets_independent"),
           equation="R = (1 − β·Q)·Σ_{i=k}^{n} C(n,i)·s^i·(1 − s)^(n−i),  s = 1 − (1 − β)·Q,  Q = 1 − p")
def enough_sets(set_mission_success, mission_sets, mission_sets_needed, common_cause_share):
    """All sets are gone by a shared cause, or each fails for itself.

    Example: set_mission_success=98 %, mission_sets=3, mission_sets_needed=2, common_cause_share=0 % give alike_sets_reliability=99.8816 % (hand calculation).
    """
    failure, sets, needed = 1 - set_mission_success, int(mission_sets), int(mission_sets_needed)
    gap = abs(np.sum(working([1 - (1 - common_cause_share) * failure] * sets)) - 1)
    return ((float(enough(failure, common_cause_share, sets, needed)), float(enough(failure, 0.0, sets, needed))), float(gap),
            "sum over all numbers of sets less one")


@procedure(source=("beta-factor", "state-enumeration"), yields=("unequal_sets_reliability", "unequal_sets_independent"),
           equation="R = (1 − β·Q_mean)·Σ over states with Σ P_i ≥ P_T,  each set with 1 − (1 − β)·Q_i,  Q_i = 1 − p_i")
def enough_unequal_sets(common_cause_share, unequal_set_power, unequal_set_success, mission_power):
    """All states of the sets that differ are gone through, and the shared cause takes the share of their mean failure.

    Example: common_cause_share=0 %, unequal_set_power=[3 kW, 3 kW, 5 kW], unequal_set_success=[98 %, 98 %, 98 %], mission_power=6 kW give
    unequal_sets_reliability=99.8816 % (hand calculation).
    """
    if not len(unequal_set_power):
        return (np.nan, np.nan), 0.0, "no sets that differ"
    fails = 1 - np.asarray(unequal_set_success)
    shared = (1 - common_cause_share * np.mean(fails)) * by_states(unequal_set_power, 1 - (1 - common_cause_share) * fails, mission_power)
    return (float(shared), float(by_states(unequal_set_power, 1 - fails, mission_power))), 0.0, "states added up, no equation left over"


@formula(source="definition")
def sets_reliability_beta(unequal_sets_reliability, alike_sets_reliability):
    """Where the project lists sets that differ, these count."""
    return unequal_sets_reliability if count_over("unequal_set") > 0 else alike_sets_reliability


@formula(source="definition")
def sets_reliability_independent(unequal_sets_independent, alike_sets_independent):
    """The same, each for itself."""
    return unequal_sets_independent if count_over("unequal_set") > 0 else alike_sets_independent


@procedure(source="alpha-factor", equation="together: Q_j = j/C(n−1, j−1)·α_j/α_t·Q, α_t = Σ j·α_j;  staggered: Q_j = α_j/C(n−1, j−1)·Q;  "
                                           "set i fails by any cause that holds it", yields=("together_failure", "sets_reliability_alpha"))
def enough_sets_alpha(common_cause_model, common_cause_testing, alpha_factor, set_mission_success, mission_sets, mission_sets_needed):
    """Every group of sets has a cause of its own. Shares counted from tests in turn and from tests of all sets at once lead to different chances; the project
    says which. A decision diagram over all groups gives the exact result. The residual: chances of all groups that hold one set, less its failure.
    """
    sets, needed, most = int(mission_sets), int(mission_sets_needed), len(alpha_factor)
    if common_cause_model == "alpha" and sets > most:
        raise ItemTroubles([ItemTrouble("common_cause_model", "", f"has no shares for {sets} sets", f"beta, or at most {most} sets")])
    if sets > most:
        return (np.full(most, np.nan), np.nan), 0.0, "more sets than shares"
    chances = together_chances(np.asarray(alpha_factor, dtype=float), 1 - set_mission_success, sets, common_cause_testing == "staggered")
    groups = range(1, 2 ** sets)
    diagram, chance = Diagram(), [min(chances[group.bit_count() - 1], 1.0) for group in groups]
    fails = []
    for one in range(sets):
        node = 0
        for place, group in enumerate(groups):
            node = diagram.either(node, diagram.event(place)) if group >> one & 1 else node
        fails.append(node)
    top = diagram.at_least(max(sets - needed + 1, 0), fails)
    of_one = sum(each for each, group in zip(chance, groups) if group & 1)
    gap = abs(of_one - (1 - set_mission_success)) if common_cause_testing == "together" else 0.0
    reliability = 1 - diagram.chances(chance)[top]
    return (np.concatenate([chances, np.full(most - sets, 0.0)]), float(reliability)), float(gap), "groups that hold one set less its failure, tests together"


def together_chances(shares, failure: float, sets: int, staggered: bool) -> np.ndarray:
    """Chance that just one named group of one, two … sets fails by a cause of its own."""
    sizes, shares = np.arange(1, sets + 1), shares[:sets]
    ways = np.cumprod(np.concatenate([[1.0], (sets - sizes[:-1]) / sizes[:-1]]))
    weights = shares if staggered else sizes * shares / np.sum(sizes * shares)
    return weights / ways * failure


@formula(source="definition")
def sets_reliability(common_cause_model, sets_reliability_alpha, sets_reliability_beta):
    """By the model that the project has chosen."""
    return sets_reliability_alpha if common_cause_model == "alpha" else sets_reliability_beta


@formula(source="definition")
def sets_failure(sets_reliability):
    """What is left. Example: sets_reliability=99.9 % give 0.001 (hand calculation)."""
    return 1 - sets_reliability


@formula(source=("beta-factor", "alpha-factor"))
def common_failure(common_cause_model, common_cause_share, set_mission_success, together_failure, together_count, mission_sets):
    """Failure of one set, the share of it whose cause takes all; by α factors that of the group of all sets.

    Example: common_cause_model=beta, common_cause_share=5 %, set_mission_success=98 %, together_failure=[0.0096, 0.0004, 0, 0], together_count=[1, 2, 3, 4],
    mission_sets=2 give 0.001 (hand calculation).
    """
    return (sum_over("failed_together", together_failure if together_count == mission_sets else 0) if common_cause_model == "alpha" else
            common_cause_share * (1 - set_mission_success))


# ---- by their number ----

@procedure(source="beta-factor", equation="as for the sets counted, with n + 1, and with n = k + e", yields=("one_more_reliability", "number_failure",
                                                                                                      "number_failure_independent"))
def by_number(set_mission_success, mission_sets, mission_sets_needed, common_cause_share, extra_count, unequal_set_power, unequal_set_success, mission_power):
    """The same sum for other numbers of sets. Of sets that differ the one more is like the largest."""
    failure, needed = 1 - set_mission_success, int(mission_sets_needed)
    numbers = needed + np.asarray(extra_count, dtype=int)
    shared = np.array([1 - enough(failure, common_cause_share, int(sets), needed) for sets in numbers])
    alone = np.array([1 - enough(failure, 0.0, int(sets), needed) for sets in numbers])
    if len(unequal_set_power):
        largest = int(np.argmax(unequal_set_power))
        powers, fails = (np.append(each, each[largest]) for each in (np.asarray(unequal_set_power), 1 - np.asarray(unequal_set_success)))
        more = (1 - common_cause_share * np.mean(fails)) * by_states(powers, 1 - (1 - common_cause_share) * fails, mission_power)
    else:
        more = enough(failure, common_cause_share, int(mission_sets) + 1, needed)
    return (float(more), shared, alone), 0.0, "sums, no equation left over"


@formula(source="definition")
def number_of_sets(mission_sets_needed, extra_count):
    """Those needed and more. Example: mission_sets_needed=2, extra_count=[0, 1, 2, 3] give [2, 3, 4, 5] (counted)."""
    return mission_sets_needed + extra_count


# ---- with repair ----

def chain(sets: int, needed: int, rate: float, repairs: float, crews: int, ends: bool) -> np.ndarray:
    """Rates between states of none, one, two … sets down (row: from). `ends`: with too few sets nothing more happens."""
    found = np.zeros((sets + 1, sets + 1))
    for down in range(sets + 1):
        if ends and sets - down < needed:
            continue
        if down < sets:
            found[down, down + 1] = (sets - down) * rate
        if down:
            found[down, down - 1] = min(down, crews) * repairs
        found[down, down] = -np.sum(found[down])
    return found


@procedure(source="repair-chain", yields=("mission_reliability_repaired", "long_unavailability", "time_to_lack"),
           equation="dP/dt = P·G over T with too few sets as an end;  0 = π·G, Σ π = 1;  G′·t = −1 over states with enough sets")
def with_repair(repair_crews, repair_time, mission_sets, mission_sets_needed, start_success, run_success, mission_time, run_failure_rate, set_mission_success,
                common_cause_share):
    """A chain of states by the number of sets that are down: each running set fails at its rate, each crew mends one. The mission's shared causes are a factor,
    as without repair; sets that did not start are mended like the others. The long running counts each set for itself. All sets run, also those not needed.

    Example: repair_crews=1, repair_time=24 h, mission_sets=2, mission_sets_needed=1, start_success=100 %, run_success=98.41273 %, mission_time=24 h,
    run_failure_rate=6.6666667e-4 1/h, set_mission_success=98.41273 %, common_cause_share=0 % give mission_reliability_repaired=99.981417 % (hand calculation,
    matrix exponential of the three states).
    """
    sets, needed, crews = int(mission_sets), int(mission_sets_needed), int(repair_crews)
    if not crews or not 0 < needed <= sets:
        return (np.nan, np.nan, np.nan), 0.0, "no crew, or never enough sets"
    share = common_cause_share if sets > 1 else 0.0
    failure, begin = 1 - set_mission_success, 1 - (1 - share) * (1 - start_success)
    rate = -np.log((1 - (1 - share) * failure) / begin) / mission_time  # what of the failures each set has for itself
    first = working([begin] * sets)[::-1]
    last = first @ _exponential(chain(sets, needed, rate, 1 / repair_time, crews, ends=True) * mission_time)
    mission = (1 - share * failure) * float(np.sum(last[:sets - needed + 1]))
    generator = chain(sets, needed, run_failure_rate, 1 / repair_time, crews, ends=False)
    steady = np.linalg.lstsq(np.vstack([generator.T, np.ones(sets + 1)]), np.append(np.zeros(sets + 1), 1.0), rcond=None)[0]
    inside = generator[:sets - needed + 1, :sets - needed + 1]
    times = np.linalg.solve(inside, -np.ones(len(inside)))
    return ((mission, float(max(np.sum(steady[sets - needed + 1:]), 0.0)), float(times[0])), float(abs(np.sum(last) - 1)),
            "sum over all states at the end of the mission less one")


def _exponential(matrix: np.ndarray) -> np.ndarray:
    """Exponential of a matrix of rates and times, by halving the time until a short series holds, then squaring."""
    halvings = max(0, int(np.ceil(np.log2(max(np.max(np.abs(matrix)) * len(matrix), 1e-300)))) + 4)
    part, term, small = np.eye(len(matrix)), np.eye(len(matrix)), matrix / 2 ** halvings
    for count in range(1, 20):
        term = term @ small / count
        part = part + term
    for _ in range(halvings):
        part = part @ part
    return part


# ---- how sure the rates are ----

@formula(source="lognormal-error-factor")
def demand_spread(demand_error_factor, upper_deviation):
    """Logarithm of the factor over the deviations that it spans. Example: demand_error_factor=3 give 0.66791 (hand calculation)."""
    return log(demand_error_factor) / upper_deviation


@formula(source="lognormal-error-factor")
def run_spread(run_error_factor, upper_deviation):
    """The same for the rate while running. Example: run_error_factor=3 give 0.66791 (hand calculation)."""
    return log(run_error_factor) / upper_deviation


@formula(source="lognormal-error-factor")
def demand_median(standby_unavailability, demand_spread):
    """The mean lies above the median, since the distribution leans.

    Example: standby_unavailability=0.0094, demand_spread=0.66791 give 0.00752 (hand calculation).
    """
    return standby_unavailability * exp(-demand_spread ** 2 / 2)


@formula(source="lognormal-error-factor")
def demand_high(demand_median, demand_error_factor):
    """Median times the factor. Example: demand_median=0.00752, demand_error_factor=3 give 0.02256 (hand calculation)."""
    return demand_median * demand_error_factor


@formula(source="lognormal-error-factor")
def run_median(run_failure_rate, run_spread):
    """Below the mean, as for readiness. Example: run_failure_rate=9.09e-4 1/h, run_spread=0.97847 give 5.632e-4 1/h (hand calculation)."""
    return run_failure_rate * exp(-run_spread ** 2 / 2)


@formula(source="lognormal-error-factor")
def run_high(run_median, run_error_factor):
    """Median times the factor. Example: run_median=5.632e-4 1/h, run_error_factor=5 give 2.816e-3 1/h (hand calculation)."""
    return run_median * run_error_factor


@procedure(source=("lognormal-error-factor", "beta-factor"), yields=("sets_reliability_low", "sets_reliability_high", "sets_failure_mean"),
           equation="∫∫ φ(x)·φ(y) over Q(x, y) ≤ Q_c = 5 %, 95 %;  U_m = ∫∫ φ(x)·φ(y)·U(Q(x, y)),  Q = 1 − A·(1 − q_50·e^(σ_s·x))·exp(−λ_50·e^(σ_r·y)·T)")
def band(demand_median, demand_spread, run_median, run_spread, set_availability, mission_time, mission_sets, mission_sets_needed, common_cause_share):
    """Both rates lognormal, each for itself, the same for all sets of like make. More failure of a set means more failure of the plant, so the plant's band
    comes from that of one set: one integral, in which the other is in closed form. Sets alike, β model. The residual: share below the high value less 95 %.
    """
    from scipy.special import ndtr  # here, since loading it takes time that only a book with this chapter should pay
    if np.isnan([demand_median, run_median, set_availability, mission_time]).any():  # a comparison with what is not known would answer all the same
        return (np.nan, np.nan, np.nan), np.nan, "share below the high value less 95 %"
    facts = common_cause_share, int(mission_sets), int(mission_sets_needed)
    across = np.linspace(-WIDE, WIDE, 1601)
    weight = np.exp(-across ** 2 / 2)
    begun = set_availability * (1 - np.minimum(demand_median * np.exp(demand_spread * across), 1.0))

    def below(failure: float) -> float:
        left = np.where(begun > 1 - failure, np.log(np.maximum(begun, 1e-300) / (1 - failure)), 0.0)  # run failures that are left to make it up
        up = np.log(np.maximum(left, 1e-300) / (run_median * mission_time)) / max(run_spread, 1e-6)
        return float(np.sum(weight * ndtr(up)) / np.sum(weight))

    def quantile(share: float) -> float:
        low, high = 0.0, 1.0
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if below(middle) < share else (low, middle)
        return (low + high) / 2
    good, bad = quantile(0.05), quantile(0.95)
    points, weights = np.polynomial.hermite_e.hermegauss(POINTS)
    start = np.minimum(demand_median * np.exp(demand_spread * points), 1.0)[:, None]
    fails = 1 - set_availability * (1 - start) * np.exp(-run_median * np.exp(run_spread * points) * mission_time)
    mean = float(weights @ (1 - enough(fails, *facts)) @ weights / np.sum(weights) ** 2)
    return (float(enough(bad, *facts)), float(enough(good, *facts)), mean), abs(below(bad) - 0.95), "share below the high value less 95 %"
