"""Turning points: against closed forms on small plants, and against plain solving of the demos with the number moved."""

import math
from pathlib import Path

import numpy as np
import pytest
from moved import beside, chosen_only, solved_at
from trial_project import CHAPTER, PROJECT

from basis.reading.project import read
from basis.solving.solve import solve
from basis.solving.turning import _Search, by_check, turnings

PROJECTS = Path(__file__).parents[2] / "projects"
FORMULAS = '''
from basis.language.formula import chapter, check, formula, procedure
from basis.language.maths import *
CHAPTER = chapter("plant", "Trial", order=1)
'''
LENGTH = FORMULAS + '''
@formula(source="physics")
def trial_result(trial_length):
    """Result."""
    return EXPRESSION
held = check("held", "trial_result", limit="trial_long_only", safe="below", source="project", title="Held")
'''
PLAIN = "name: Trial\ntrial_length: {value: LENGTH m, standing: assumed, note: paced out}\ntrial_long_only: LIMIT m\n"


def one(trial, expression, length, limit, safe="below"):
    """The turning point of an assumed length, of which one result is held against one limit."""
    chapter = LENGTH.replace("EXPRESSION", expression).replace('safe="below"', f'safe="{safe}"')
    book = trial(PLAIN.replace("LENGTH", str(length)).replace("LIMIT", str(limit)), chapter)
    (found,) = turnings(book)
    return found


@pytest.mark.parametrize("expression, length, limit, safe, turns_at", [
    ("3 * trial_length", 2.0, 7.5, "below", 2.5),                  # 3·l = 7.5
    ("3 * trial_length", 2.0, 7.5, "above", 2.5),                  # fails as it stands, met from there on
    ("3 * trial_length", 2.0, 5.1, "above", 1.7),                  # 3·l = 5.1
    ("trial_length ** 2 / (1 * m)", 2.0, 5.0, "below", math.sqrt(5)),
    ("1 * m + (trial_length - 2 * m) ** 2 / (1 * m)", 2.2, 1.25, "below", 2.5),  # 1 + (l − 2)² = 1.25 at 1.5 and 2.5: not monotone, the nearer one
    ("1 * m + (trial_length - 2 * m) ** 2 / (1 * m)", 1.7, 1.25, "below", 1.5),
    ("2 * m if trial_length > 2.75 * m else 1 * m", 2.0, 1.5, "below", 2.75),  # a jump
], ids=str)
def test_where_a_limit_is_crossed(trial, expression, length, limit, safe, turns_at):
    found = one(trial, expression, length, limit, safe)
    assert found.turns and found.check.id == "held" and found.at == pytest.approx(turns_at, rel=5e-4)
    assert found.way == pytest.approx(turns_at / length - 1, abs=1e-3) and found.reached == 1


@pytest.mark.parametrize("expression, limit", [
    ("3 * m + 0 * trial_length", 4.0),      # does not move at all
    ("4 * m - trial_length * trial_length / (trial_length + 1 * m) * 0", 4.5),
    ("5 * m - 4 * m / (1 + trial_length / (1 * m))", 5.5),  # rises to 5 m and no further
])
def test_what_turns_nothing(trial, expression, limit):
    found = one(trial, expression, 2.0, limit)
    assert not found.turns and found.at is None and found.reached == 1 and math.isinf(found.way)
    assert (found.low, found.high) == (pytest.approx(-1), pytest.approx(9))  # from nought, below which a length does not go, to ten times


def test_a_number_that_reaches_no_check(trial):
    found = turnings(trial(PROJECT, CHAPTER))
    length = next(one for one in found if one.mover.value_id == "trial_length")
    assert not length.turns and length.reached == 0 and found[-1].reached == 0


def test_the_physical_range_ends_first(trial):
    """A hot side of at most 400 K: the rise of 120 K over 290 K would be reached at 410 K."""
    chapter = FORMULAS + '''
@formula(source="physics")
def trial_rise(trial_hot, trial_cold):
    """Rise."""
    return trial_hot - trial_cold
held = check("held", "trial_rise", limit="trial_span", safe="below", source="project", title="Held")
'''.replace("trial_span", "trial_rise_max")
    text = "name: Trial\ntrial_hot: {{value: 350 K, standing: assumed, note: guess}}\ntrial_cold: 290 K\ntrial_rise_max: {} K\n"
    (far,) = turnings(trial(text.format(120), chapter))
    assert not far.turns and far.high == pytest.approx(50)
    (near,) = turnings(trial(text.format(100), chapter))
    assert near.at == pytest.approx(390, abs=0.01) and near.way == pytest.approx(40, abs=0.01) and not near.mover.share  # in kelvins, not as a share


def test_a_result_that_leaves_its_range_ends_the_search(trial):
    """Without 1.8 m of it the length is used up: a result is not negative, and there is no such plant."""
    found = one(trial, "trial_length - 1.8 * m", 2.0, 9.0)
    assert not found.turns or found.at > 2.0
    assert found.low > -0.1 - 0.05


def test_the_nearest_check_of_several(trial):
    """4 m/s over 2 m² and 3 m²: the flow of 8 m³/s turns the first at 5 m/s, which is 10 m³/s, and not the second, at 15 m³/s."""
    text = PROJECT.replace("trial_flow: 12 m^3/s", "trial_flow: {value: 8 m^3/s, standing: assumed, note: guess}").replace("4 m^2", "2 m^2")
    text = text.replace("6 m^2", "3 m^2").replace("2.9 m/s", "5 m/s")
    found = {one.mover.value_id: one for one in turnings(trial(text, CHAPTER))}
    assert found["trial_flow"].at == pytest.approx(10, rel=5e-4)


def test_items_that_are_assumed_move_one_by_one_and_a_default_for_all(trial):
    text = PROJECT.replace("2.9 m/s", "4 m/s").replace("trial_area: 4 m^2", "trial_area: {value: 4 m^2, standing: assumed, note: guess}")
    text = text.replace("trial_area: 6 m^2", "trial_area: {value: 6 m^2, standing: assumed, note: guess}")
    found = {one.mover.value_id: one for one in turnings(trial(text, CHAPTER))}
    assert found["trial_area.north"].at == pytest.approx(3, rel=5e-4) and found["trial_area.south"].at == pytest.approx(3, rel=5e-4)  # 12 m³/s over 4 m/s


STEPS = FORMULAS + '''
@procedure(source="physics", equation="A = q²", yields=("trial_total",))
def squared(trial_flow):
    """Runs once a sample."""
    assert np.ndim(trial_flow) == 0
    return (trial_flow ** 2,), 0.0, "none"
largest = check("largest", "trial_total", limit="trial_largest", safe="below", source="project", title="Total")
'''


def test_behind_a_calculation_by_steps(trial):
    """q² = 200 at 14.142 m³/s, followed along the slope; procedures that take no samples run once a trial value."""
    text = "name: Trial\ntrial_flow: {value: 12 m^3/s, standing: assumed, note: guess}\ntrial_largest: 200 m^2\n"
    (found,) = turnings(trial(text, "import numpy as np\n" + STEPS))
    assert found.at == pytest.approx(math.sqrt(200), rel=5e-4)
    ((check_id, ((moved, change), *_)),) = by_check([found]).items()
    assert check_id == "largest" and moved is found and change == pytest.approx(-(1.05 ** 2 - 1) * 144 / 200, rel=1e-6)  # of the margin, for 5 % more


def test_what_stands_on_its_limit_up_to_a_bend_is_found_in_few_trials(trial):
    """max(200, q²) stays 200 m², its limit, to 14.142 m³/s; the mean, 140 + 4.2·q, reaches 200 m² at 14.286. A straight line from the limit itself says
    nothing of the way to the bend. The look ahead ends at 14.4 m³/s, of 2.4 m³/s half are left three times, at 13.2, 13.8 and 14.1; 14.25 lies beyond. The
    line through 203.1 m² there and 207.4 m² at 14.4 meets the limit at 14.25 − 3.06/28.65 = 14.143, and half of 1e-3 of it nearer, at 14.136, it is met again.
    """
    chapter = FORMULAS + '''
TRIED = []
@procedure(source="physics", equation="A = max(200, q²); A_m = 140 + 4.2·q", yields=("trial_total", "trial_mean"))
def bent(trial_flow):
    """Runs once a sample."""
    TRIED.append(trial_flow)
    return (max(200.0, trial_flow ** 2), 140 + 4.2 * trial_flow), 0.0, "none"
largest = check("largest", "trial_total", limit="trial_largest", safe="below", source="project", title="Total")
mean = check("mean", "trial_mean", limit="trial_largest", safe="below", source="project", title="Mean")
'''
    book = trial("name: Trial\ntrial_flow: {value: 12 m^3/s, standing: assumed, note: guess}\ntrial_largest: 200 m^2\n", chapter)
    tried = book["trial_total"].producer.run.__globals__["TRIED"]
    tried.clear()
    (found,) = turnings(book)
    assert found.at == pytest.approx(math.sqrt(200), rel=1e-3) and found.check.id == "largest"
    assert len(tried) == 10  # a step, a look to either end, the look ahead, four halvings, the line and the one that encloses it (hand count)


BENDS = FORMULAS + """
@procedure(source="physics", equation="by hand in the test", yields=("trial_total", "trial_mean"))
def bent(trial_flow):
    \"\"\"Runs once a sample.\"\"\"
    return (TOTAL, MEAN), 0.0, "none"
largest = check("largest", "trial_total", limit="trial_largest", safe="below", source="project", title="Total")
mean = check("mean", "trial_mean", limit="trial_largest", safe="below", source="project", title="Mean")
"""
FLOW = "name: Trial\ntrial_flow: {value: 12 m^3/s, standing: assumed, note: guess}\ntrial_largest: 200 m^2\n"


@pytest.mark.parametrize("total, mean, check_id, turns_at", [
    ("16.5 * trial_flow", "260 - 6 * trial_flow", "largest", 200 / 16.5),      # 12.12 above and 10 below
    ("16 * trial_flow", "200 - 40 * (trial_flow - 11.9)", "mean", 11.9),       # 12.5, which a small step up passes, and 11.9, nearer on the other side
    ("100 + 20 * max(0.0, 8 - trial_flow) ** 2", "150", "largest", 8 - math.sqrt(5)),  # level where it stands: no slope leads there
    ("100 + 20 * max(0.0, trial_flow - 40) ** 2", "150", "largest", 40 + math.sqrt(5)),
])
def test_the_nearer_of_both_sides_and_what_no_slope_leads_to(trial, total, mean, check_id, turns_at):
    (found,) = turnings(trial(FLOW, BENDS.replace("TOTAL", total).replace("MEAN", mean)))
    assert found.check.id == check_id and found.at == pytest.approx(turns_at, rel=1e-3)


def test_what_a_small_step_does_is_told_of_all_checks_however_near_one_turns(trial):
    """q turns `near`, which a plain formula reaches, at 12.1; five hundredths of 12 more take 144 m² of 200 to 158.76."""
    near = """
@formula(source="physics")
def trial_result(trial_flow):
    \"\"\"Result.\"\"\"
    return trial_flow / (1 * m**2/s)
near = check("near", "trial_result", limit="trial_long_only", safe="below", source="project", title="Near")
"""
    (found,) = turnings(trial(FLOW + "trial_long_only: 12.1 m\n", "import numpy as np\n" + STEPS + near))
    assert found.check.id == "near" and dict(found.effects)["largest"] == pytest.approx((144 - 158.76) / 200, rel=1e-6)


def test_a_number_that_the_text_could_not_hold_turns_nothing(trial):
    """The two areas must make ten square metres, or the text is refused: neither can be another by itself, though 3 m² would turn the velocity."""
    chapter = CHAPTER + '''
whole = check("whole", "trial_total", limit="trial_largest", safe="above", source="project", title="Whole", fault="areas of ten square metres")
no_more = check("no_more", "trial_total", limit="trial_largest", safe="below", source="project", title="No more", fault="areas of ten square metres")
'''
    text = PROJECT.replace("2.9 m/s", "4 m/s").replace("trial_area: 4 m^2", "trial_area: {value: 4 m^2, standing: assumed, note: guess}")
    found = {one.mover.value_id: one for one in turnings(trial(text + "trial_largest: 10 m^2\n", chapter))}
    assert not found["trial_area.north"].turns and (found["trial_area.north"].low, found["trial_area.north"].high) == (0, 0)


def test_ranked_by_the_way_there(trial):
    found = turnings(trial(PROJECT.replace("2.9 m/s", "4 m/s").replace("trial_flow: 12 m^3/s", "trial_flow: {value: 12 m^3/s, standing: assumed, note: guess}")
                           .replace("trial_area: 6 m^2", "trial_area: {value: 6 m^2, standing: assumed, note: guess}"), CHAPTER))
    assert [one.mover.value_id for one in found if one.turns] == ["trial_flow", "trial_area.south"]  # a third more; half less


def test_what_is_known_is_not_searched_again(trial, monkeypatch):
    from basis.solving import turning

    known = {}
    text = PROJECT.replace("trial_flow: 12 m^3/s", "trial_flow: {value: 12 m^3/s, standing: assumed, note: guess}")
    before = turnings(trial(text, CHAPTER), known)
    searched = []
    monkeypatch.setattr(turning._Search, "turning", lambda self, mover, plain=turning._Search.turning: searched.append(mover.value_id) or plain(self, mover))
    assert [one.rank for one in turnings(trial(text.replace("name: Trial", "name: Other"), CHAPTER), known)] == [one.rank for one in before] and not searched
    turnings(trial(text.replace("2.9 m/s", "3.5 m/s"), CHAPTER), known)
    assert searched == ["trial_flow"]  # what reaches no check rests on no limit


def kind(found):
    """What is searched in one way: how well it is known, how it moves, one number or many, and through what."""
    mover = found.mover
    return mover.standing, mover.share, mover.term.whole, mover.single, mover.term.own_axes != (), bool(mover.term.fixed_axis)


@pytest.mark.parametrize("slug", sorted(path.name for path in PROJECTS.iterdir()))
def test_solving_with_the_number_moved_says_the_same(slug):
    """A thousandth before the turning value the verdict is as it was, a thousandth beyond it is another."""
    project = chosen_only(read(PROJECTS / slug))
    found = [one for one in turnings(solve(project)) if one.turns]
    kinds = {kind(one): one for one in found}
    for one in kinds.values():
        words = [solved_at(project, one.mover, t).check(one.check.id).word for t in beside(one)]
        assert [word == "fails" for word in words] == [one.fails, not one.fails] and set(words) <= {"holds", "tight", "fails"}, (one.mover.value_id, words)
    assert len(kinds) > 5


@pytest.mark.parametrize("slug", sorted(path.name for path in PROJECTS.iterdir()))
def test_no_verdict_behind_a_calculation_by_steps_turns_short_of_the_way_told(slug):
    """Looked at in eight places on either side, up to the end of the range that is told or to four fifths of the way to the turning value."""
    book = solve(chosen_only(read(PROJECTS / slug)))
    search, missed, looked = _Search(book), [], 0
    for one in turnings(book):
        stepped = search.route(one.mover.term.id).stepped
        ends = (max(one.low, -0.8 * abs(one.way)), min(one.high, 0.8 * abs(one.way)))
        ts = np.concatenate([math.copysign(1, end) * np.geomspace(min(one.mover.step, abs(end)) / 2, abs(end), 8) for end in ends if end] or [[]])
        ts = np.unique(np.trunc(ts) if one.mover.term.whole else ts)
        if stepped and (ts := ts[ts != 0]).size:
            looked += 1
            missed += [one.mover.value_id] * bool(search.trial(one.mover, ts, stepped).brackets())
    assert looked > 50 and not missed
