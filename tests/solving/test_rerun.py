"""Part of a book run again: sweeps, other items, and the chance that a limit is met, against closed forms."""

import math
import re
from pathlib import Path

import numpy as np
import pytest
from demos import demo_copy
from scipy.stats import norm, truncnorm
from trial_project import PROJECT

import basis
from basis.language.faults import Faults
from basis.language.terms import Term
from basis.solving.chances import SAMPLES, _drawn, _draws
from basis.solving.rerun import rerun

ROOT = Path(__file__).parents[2]


def test_a_sweep_gives_what_separate_books_give(trial):
    book = trial()
    swept = rerun(book, {"trial_flow": np.array([6.0, 12.0, 24.0])}, ("trial_velocity",), sampled=True)["trial_velocity"]
    assert swept.tolist() == [[1.5, 1.0], [3.0, 2.0], [6.0, 4.0]]


def test_other_items_of_another_number(trial):
    results = rerun(trial(), {"trial_area": np.array([1.0, 2.0, 3.0, 6.0])}, ("trial_velocity", "trial_total"))
    assert results["trial_velocity"].tolist() == [12, 6, 4, 2] and results["trial_total"] == 12.0


def test_procedures_take_samples_one_by_one(trial):
    areas = np.array([[4.0, 6.0], [1.0, 1.0]])
    assert rerun(trial(), {"trial_area": areas}, ("trial_mean",), sampled=True)["trial_mean"].tolist() == [5.0, 1.0]


@pytest.mark.parametrize("limit, spread", [(3.2, "1.2 m^3/s"), (2.9, "10 %"), (3.0, "5 %")])
def test_chance_against_the_normal_distribution(trial, limit, spread):
    text = PROJECT.replace("trial_flow: 12 m^3/s", f"trial_flow: {{value: 12 m^3/s, plus_minus: {spread}}}").replace("2.9 m/s", f"{limit} m/s")
    book = trial(text)
    two_sigma = 12 * float(spread[:-2]) / 100 if "%" in spread else float(spread.split()[0])
    expected = norm.cdf((limit * 4.0 - 12.0) / (two_sigma / 2))  # the governing opening has 4 m²; scipy's normal distribution
    assert book.check("velocity").chance == pytest.approx(expected, abs=3 * math.sqrt(0.25 / SAMPLES))


def test_without_a_plus_or_minus_there_is_no_chance(trial):
    assert math.isnan(trial().check("velocity").chance)


def test_a_wrong_plus_or_minus_is_a_fault(trial):
    from basis.language.faults import Faults

    for wrong in ("3 kW", "-1 m^3/s", "much"):
        with pytest.raises(Faults, match="plus_minus"):
            trial(PROJECT.replace("trial_flow: 12 m^3/s", f"trial_flow: {{value: 12 m^3/s, plus_minus: {wrong}}}"))


STEEP = '''
from basis.language.faults import OutOfTable
from basis.language.formula import chapter, check, formula, procedure
from basis.language.maths import *
from demos import demo_copy
CHAPTER = chapter("plant", "Trial", order=1)
@formula(source="physics")
def trial_velocity(trial_flow, trial_area):
    """Velocity."""
    return trial_flow / trial_area
@procedure(source="physics", equation="A = q", yields=("trial_total",), sampled=SAMPLED)
def steep(trial_flow):
    """Not defined for more than 12 m³/s."""
    if np.max(trial_flow) > 12.0:
        raise TROUBLE
    return (trial_flow / (1 * m / s),), 0.0, "none"
largest = check("largest", "trial_total", limit="trial_largest", safe="below", source="project", title="Total")
velocity = check("velocity", "trial_velocity", limit="trial_limit", safe="below", source="project", title="Velocity")
'''
UNCERTAIN = PROJECT.replace("trial_flow: 12 m^3/s", "trial_flow: {value: 12 m^3/s, plus_minus: 2 m^3/s}\ntrial_largest: 100 m^2")


@pytest.mark.parametrize("trouble", ['ValueError("no")', 'OutOfTable("t", 1.0, "no row", "")', "ZeroDivisionError()", 'FloatingPointError("no")'])
@pytest.mark.parametrize("sampled", [False, True])
def test_samples_that_cannot_be_computed_do_not_meet_the_limit(trial, sampled, trouble):
    """Half of a normal distribution lies above its mean: those samples have no total, and a total of any size would be within the limit."""
    verdict = trial(UNCERTAIN, "import numpy as np\n" + STEEP.replace("SAMPLED", str(sampled)).replace("TROUBLE", trouble)).check("largest")
    assert verdict.chance == pytest.approx(0.5, abs=3 * math.sqrt(0.25 / verdict.samples))
    assert verdict.uncomputed == round((1 - verdict.chance) * verdict.samples)
    assert verdict.samples_text == f"{verdict.samples} samples, {verdict.uncomputed} of which cannot be computed"


def test_each_input_draws_for_itself(trial):
    """A plus or minus of another input, read before it, moves no sample."""
    other = UNCERTAIN.replace("trial_length: {value: 10 ft,", "trial_length: {value: 10 ft, plus_minus: 10 %,").replace("{id: north, trial_area: 4 m^2}",
        "{id: north, trial_area: {value: 4 m^2, plus_minus: 1 %}}")
    one, two = (_draws(trial(text))["trial_flow"] for text in (UNCERTAIN, other))
    assert one.tolist() == two.tolist()
    both = _draws(trial(other.replace("trial_area: 6 m^2", "trial_area: {value: 6 m^2, plus_minus: 1 %}")))["trial_area"]
    assert both[:, 0].tolist() == _draws(trial(other))["trial_area"][:, 0].tolist() and np.corrcoef(both.T)[0, 1] < 0.1


@pytest.mark.parametrize("value, spread", [(0.3, 0.4), (5.0, 20.0), (0.01, 1.0)])
def test_draws_stay_within_the_physical_range(trial, value, spread):
    """Trial areas are not negative; against the truncated normal distribution of scipy."""
    text = PROJECT.replace("trial_area: 4 m^2", f"trial_area: {{value: {value} m^2, plus_minus: {spread} m^2}}")
    drawn = _draws(trial(text))["trial_area"][:, 0]
    expected = truncnorm(-value / (spread / 2), np.inf, loc=value, scale=spread / 2)
    assert drawn.min() >= 0 and drawn.mean() == pytest.approx(expected.mean(), abs=4 * expected.std() / math.sqrt(SAMPLES))


def test_a_list_in_per_cent_moves_each_number_by_its_share():
    term = Term("trial_shares", "", "1", "Shares", "", low=0, high=1)
    drawn = _drawn(term, "", np.tile([0.2, 0.4], (SAMPLES, 1)), np.array([0.01, 0.02]))
    assert drawn[:, 1] == pytest.approx(2 * drawn[:, 0]) and drawn[:, 0].std() == pytest.approx(0.01, rel=0.1)
    assert not np.any(_drawn(term, "", np.tile([0.0, 1.0], (SAMPLES, 1)), np.array([0.5, 0.5])) < 0)  # where no draw is inside, the bound holds


def test_the_readmes_own_plus_minus_on_every_number_of_a_demo_yields_a_book(tmp_path):
    """`plus_minus: 10 %` where a value, share, list or curve is given; a temperature, a level or a count refuses it in words."""
    folder = demo_copy("high-tarn-waterworks", tmp_path / "tarn")
    for path in folder.glob("*.yaml"):
        path.write_text(with_spread(path.read_text("utf-8")), "utf-8")
    text = (folder / "project.yaml").read_text("utf-8")
    (folder / "project.yaml").write_text(re.sub(r"(?m)^chapters: .*", "chapters: [plant, loads, voltage, ventilation, cooling, cables]", text), "utf-8")
    told = 0
    for _ in range(2):  # the first run refuses some; without those the book is made
        try:
            book = basis.load(folder)
        except Faults as found:
            told = len(found.faults)
            assert all("plus_minus" in fault.what and fault.line for fault in found.faults)
            for path in folder.glob("*.yaml"):
                wrong = {fault.line for fault in found.faults if fault.file == path.as_posix()}
                lines = path.read_text("utf-8").splitlines()
                kept = [line.replace(", plus_minus: 10 %", "") if number in wrong else line for number, line in enumerate(lines, start=1)]
                path.write_text("\n".join(kept) + "\n", "utf-8")
    assert told > 10 and sum(bool(verdict.samples) for verdict in book.checks) > 15


def with_spread(text):
    """Every plain value of a line of its own with 10 per cent."""
    return re.sub(r"(?m)^( *(?:- )?(?!name)[a-z_]+: )(-?[\d.]+ [^\s{}\[\],#]+|\[[-\d., ]+\])$", r"\1{value: \2, plus_minus: 10 %}", text)
