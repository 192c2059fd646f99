"""Trends over tests: SciPy's line of least squares as judge, insulation by IEEE 43 and a tester's table as named, days by hand with Python's calendar."""

import re
from datetime import date

import numpy as np
import pytest
from axes import over
from demos import demo_copy
from pytest import approx
from scipy.stats import linregress

from basis.chapters.commissioning import trend as t
from basis.language.compiled import count_name
from basis.language.days import seconds_of
from basis.language.faults import Faults, ItemTroubles
from basis.reading.project import read
from basis.site.figures import figures_of
from basis.solving.solve import solve

YEAR = 365 * 86_400.0
DAYS = (date(2027, 6, 8), date(2027, 9, 14), date(2027, 12, 7), date(2028, 2, 11))


@pytest.mark.parametrize("celsius, factor", [(10, 0.5), (20, 1.0), (30, 2.0), (40, 4.0)])
def test_insulation_by_the_table_of_a_tester(celsius, factor):
    # a table printed in the manual of an insulation tester multiplies readings to 20 °C by these
    assert t.reading_resistance_corrected.run(1e9, 293.15, celsius + 273.15, 0, np.array([10.0])) == approx(factor * 1e9)


def test_insulation_at_forty_degrees():
    # IEEE 43, from memory: a reading at 35 °C takes the factor 0.5^(5/10) = 0.707
    assert t.reading_resistance_corrected.run(100e6, 313.15, 308.15, 0, np.array([10.0])) == approx(70.7e6, abs=5e4)


def test_limits_of_windings():
    # IEEE 43-2013, from memory: 100 MΩ form-wound, 5 MΩ random-wound or below 1 kV; what is no winding has a limit of its own
    assert [t.trend_resistance_limit.run(one) for one in ("form_wound", "random_wound_or_below_1_kv")] == [100e6, 5e6]
    assert np.isnan(t.trend_resistance_limit.run("no_winding"))


def test_limits_and_days_that_the_book_knows():
    # hand: what the chapter of starting allows; 730 days after 1 January 2027 is 31 December 2028
    assert t.trend_time_limit.run("in_this_book", 15.0) == 15.0 and np.isnan(t.trend_time_limit.run("not_in_this_book", 15.0))
    assert t.trend_capacity_limit.run("in_this_book", 0.8) == 0.8 and np.isnan(t.trend_capacity_limit.run("not_in_this_book", 0.8))
    assert t.trend_next_date.run(seconds_of("2027-01-01"), YEAR, YEAR) == seconds_of("2028-12-31")
    assert t.reading_age.run(seconds_of("2028-05-16"), seconds_of("2027-05-17")) == YEAR
    assert t.reading_number.run(1, np.array([1.0, 2.0])) == 2.0


def test_polarisation_index():
    # definition as printed in a glossary: ten minutes over one minute
    assert t.reading_index.run(1200e6, 400e6) == 3.0


def line_of(ages, shares, kind="start_time"):
    """All of one trend by the formulas, in years."""
    own = {"reading_number": [1.0] * len(ages), "trend_number": [1.0]}
    given = {**own, "reading_age": np.array(ages) * YEAR, "reading_ratio": shares}
    given |= {"trend_kind": [kind], "trend_last_age": np.array([max(ages)]) * YEAR, "trend_interval": np.array([YEAR]), "trend_reach": 30 * YEAR,
              "commissioning_date": seconds_of("2027-05-17")}
    found = {}
    for one in (t.trend_readings, t.trend_mean_age, t.trend_mean_ratio, t.trend_age_spread, t.trend_slope, t.trend_lines, t.trend_scatter,
                t.trend_slope_error, t.trend_last_ratio, t.trend_used, t.trend_worsening, t.trend_limit_date, t.trend_next_headroom):
        with np.errstate(all="ignore"):
            found[one.id] = over(one, **{name: (given | found)[name] for name in one.parameters})
    return {name: value[0] for name, value in found.items()}


def test_line_against_scipy():
    # outside judge: scipy.stats.linregress, also for the standard error of the slope
    rng = np.random.default_rng(5)
    for count in (3, 8, 40):
        ages, shares = np.sort(rng.uniform(0, 10, count)), rng.uniform(0.4, 1.2, count)
        judge, found = linregress(ages, shares), line_of(ages, shares)
        assert found["trend_slope"] * YEAR == approx(judge.slope, rel=1e-9)
        assert found["trend_mean_ratio"] - found["trend_slope"] * found["trend_mean_age"] == approx(judge.intercept, rel=1e-9)
        assert found["trend_slope_error"] * YEAR == approx(judge.stderr, rel=1e-7)
        assert found["trend_last_ratio"] == approx(shares[-1])


def test_day_of_the_limit():
    # hand: 80 % after one year, 90 % after two: 100 % after three years of 365 days, 1095 days after 17 May 2027
    found = line_of([1, 2], [0.8, 0.9])
    assert found["trend_limit_date"] == seconds_of("2030-05-16") and (date(2030, 5, 16) - date(2027, 5, 17)).days == 1095
    # what falls to its limit: 120 % after one year, 110 % after two, the same day
    assert line_of([1, 2], [1.2, 1.1], "battery_capacity")["trend_limit_date"] == found["trend_limit_date"]


def test_no_day_where_no_line_leads_to_the_limit():
    # one reading, two of one day, a line that moves away or stands still, or one of more than thirty years
    for ages, shares, kind in (([1], [0.9], "vibration"), ([1, 1], [0.8, 0.9], "vibration"), ([1, 2], [0.9, 0.8], "vibration"),
                               ([1, 2], [0.8, 0.8], "start_time"), ([1, 2], [1.1, 1.2], "insulation_resistance"), ([1, 2], [0.5, 0.501], "start_time")):
        assert np.isnan(line_of(ages, shares, kind)["trend_limit_date"])


def test_the_reach_of_a_line():
    # hand: half of the limit at one and a half years in the mean; 1.68 % a year make up the other half in 29.8 years, 1.65 % in 30.3
    found = line_of([1, 2], [0.4916, 0.5084])["trend_limit_date"]
    assert (found - seconds_of("2027-05-17")) / YEAR == approx(1.5 + 0.5 / 0.0168) and np.isnan(line_of([1, 2], [0.49175, 0.50825])["trend_limit_date"])
    assert line_of([1], [0.9])["trend_mean_age"] == YEAR  # hand: of one reading its own


def test_a_line_that_was_over_its_limit_before_commissioning_counts_from_there():
    assert line_of([1, 2], [2.0, 2.1])["trend_limit_date"] == seconds_of("2027-05-17")


def test_the_last_reading_against_its_limit():
    # hand: 9 s of 10 s uses 90 %; 125 % of the least capacity uses 80 % of what there was to lose
    assert line_of([1, 2], [0.8, 0.9])["trend_used"] == approx(0.9)
    assert line_of([1, 2], [1.3, 1.25], "battery_capacity")["trend_used"] == approx(0.8)


def test_what_is_left_at_the_next_reading():
    for kind in ("start_time", "vibration"):  # hand: 60 and 70 % in two years leave 20 % a year later
        assert line_of([1, 2], [0.6, 0.7], kind)["trend_next_headroom"] == approx(0.2)
    # hand: 80 and 90 % in two years, 100 % a year later: nothing is left; falling from 140 to 130 % there are 20 % left
    assert line_of([1, 2], [0.8, 0.9])["trend_next_headroom"] == approx(0.0, abs=1e-12)
    assert line_of([1, 2], [1.4, 1.3], "battery_capacity")["trend_next_headroom"] == approx(0.2)


def test_one_day_makes_no_line():
    # two readings leave no scatter to be told, one day no slope
    assert np.isnan(line_of([1, 2], [0.8, 0.9])["trend_scatter"])
    one = line_of([1, 1], [0.8, 0.9])
    assert (one["trend_slope"], one["trend_lines"]) == (0, 0) and np.isnan(one["trend_slope_error"])


def test_two_trends_keep_apart():
    assert over(t.trend_number, trend_index_limit=[2.0, 2.0, 4.0]).tolist() == [1, 2, 3]  # their places in the list
    # hand: readings 1 and 3 are of the first trend
    own = {"reading_number": [1.0, 2.0, 1.0], "trend_number": [1.0, 2.0, 3.0]}
    counts = over(t.trend_readings, **own)
    assert list(counts) == [2, 1, 0]
    assert list(over(t.trend_mean_ratio, **own, reading_ratio=[0.8, 5.0, 0.9], trend_readings=counts)[:2]) == approx([0.85, 5.0])


def test_lines_of_several_trends_each_by_its_own_readings():
    # outside judge: scipy.stats.linregress over the readings of each, which stand mixed in the list; a line hangs on no unit, so here a year is a millisecond
    rng, own = np.random.default_rng(7), np.array([1.0, 2.0, 1.0, 1.0, 2.0, 2.0, 1.0])
    ages, shares = np.arange(1.0, 8.0) + rng.uniform(0, 0.5, 7), rng.uniform(0.4, 1.2, 7)
    found = {"reading_number": own.tolist(), "trend_number": [1.0, 2.0, 3.0], "reading_age": ages / 1000, "reading_ratio": shares,
             "trend_kind": ["vibration", "battery_capacity", "battery_capacity"], count_name("reading"): 7.0}
    for one in (t.trend_readings, t.trend_mean_age, t.trend_mean_ratio, t.trend_age_spread, t.trend_slope, t.trend_lines, t.trend_scatter,
                t.trend_slope_error, t.trend_last_age, t.trend_last_ratio, t.trend_used):
        counts = {count_name("reading"): 7.0} if one is t.trend_last_age else {}
        with np.errstate(all="ignore"):
            found[one.id] = over(one, **{name: found[name] for name in one.parameters}, **counts)
    judges = [linregress(ages[own == number] / 1000, shares[own == number]) for number in (1, 2)]
    assert found["trend_slope"][:2] == approx([judge.slope for judge in judges], rel=1e-9)
    assert found["trend_slope_error"][:2] == approx([judge.stderr for judge in judges], rel=1e-7)
    assert found["trend_lines"].tolist() == [1, 1, 0]
    assert found["trend_last_age"].tolist() == [ages[6] / 1000, ages[5] / 1000, 0] and found["trend_last_ratio"].tolist() == [shares[6], shares[5], 0]
    assert found["trend_used"].tolist() == [shares[6], approx(1 / shares[5]), 0]  # of the third nothing was read, so nothing is used


def test_without_readings_a_plant_has_no_age_of_them():
    assert over(t.trend_last_age, reading_number=np.array([]), trend_number=[1.0], reading_age=np.array([]), **{count_name("reading"): 0.0}) == 0


def readings(**changes):
    """Arguments of the procedure: a start of 9 s in one trend and, in the other, insulation, of which one reading each."""
    blank = np.array([np.nan, np.nan])
    limits = {f"trend_{name}_limit": blank for name in ("time", "resistance", "index", "voltage", "conductance", "capacity", "velocity")}
    read = {name: blank for name in t.shares_of_limits.parameters if name.startswith("reading_") and name not in ("reading_of", "reading_date")}
    return limits | read | {"trend_kind": ["start_time", "insulation_resistance"], "reading_of": np.array([0, 1]), "reading_date": np.array([1.0, 1.0]),
                            "reading_start_time": np.array([9.0, np.nan]), "trend_time_limit": np.array([10.0, np.nan]),
                            "reading_resistance": np.array([np.nan, 400e6]), "reading_resistance_corrected": np.array([np.nan, 200e6]),
                            "trend_resistance_limit": np.array([np.nan, 100e6])} | changes


def test_each_reading_over_the_limit_of_its_own_trend():
    # hand: 9 s of 10 s; insulation as brought to 40 °C over its limit, not as read
    (found,), left, _ = t.shares_of_limits.run(**readings())
    assert list(found) == approx([0.9, 2.0]) and left == 0
    with pytest.raises(ItemTroubles):
        t.shares_of_limits.run(**readings(reading_start_time=np.array([np.nan, np.nan])))
    with pytest.raises(ItemTroubles):
        t.shares_of_limits.run(**readings(reading_of=np.array([0, 0]), reading_start_time=np.array([9.0, 9.1])))


# ---- books ----

def changed(tmp_path, *edits, slug="cobble-key-exchange"):
    folder = demo_copy(slug, tmp_path / "projects" / slug)
    file = folder / "commissioning.yaml"
    text = file.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")
    return folder


def test_the_battery_of_a_book(tmp_path):
    # outside judge: scipy on the readings as written; 840 S are met 568 or so days after commissioning
    book = solve(read(changed(tmp_path)))
    days = [(day - date(2027, 5, 17)).days for day in DAYS]
    judge = linregress(days, [1200, 1150, 1090, 1030])
    met = (840 - judge.intercept) / judge.slope
    assert (book["trend_limit_date.battery"].number - seconds_of("2027-05-17")) / 86_400 == approx(met, rel=1e-9)
    assert book.check("trend_lasts").word == "holds"


def test_a_limit_that_is_met_before_the_next_reading_fails(tmp_path):
    folder = changed(tmp_path, ("trend_kind: battery_conductance, trend_interval: 0.25 year", "trend_kind: battery_conductance, trend_interval: 1 year"))
    assert solve(read(folder)).check("trend_lasts").word == "fails"


def test_a_last_reading_beyond_its_limit_fails(tmp_path):
    assert solve(read(changed(tmp_path, ("840 S", "1040 S")))).check("trend_within_limit").word == "fails"


def test_readings_that_nobody_takes_any_more_are_told(tmp_path):
    folder = changed(tmp_path, ("trend_kind: start_time, trend_interval: 0.25 year", "trend_kind: start_time, trend_interval: 0.1 year"))
    assert solve(read(folder)).check("readings_in_time").word == "fails"


def test_a_limit_that_nobody_gives_is_undecided(tmp_path):
    # the other trend has its limit and holds, which must not pass for both
    limit = 'trend_conductance_limit: {value: 840 S, note: "Seven tenths of the first reading, by its maker."}'
    folder = changed(tmp_path, (f",\n     {limit}", ""))
    book = solve(read(folder))
    for name in ("trend_within_limit", "trend_lasts"):
        assert (book.check(name).word, book.check(name).missing) == ("undecided", ("trend_conductance_limit.battery",))


def test_trends_without_a_reading_pass_nothing(tmp_path):
    book = solve(read(changed(tmp_path, slug="high-tarn-waterworks")))
    assert {book.check(one).word for one in ("trend_within_limit", "trend_lasts")} == {"nothing to check"}
    # hand: half a year of 182.5 days after 13 September 2027
    assert book["trend_next_date.start"].text() == "2028-03-13"


@pytest.mark.parametrize("old, new, told", [
    ("reading_date: 2027-09-14, reading_start_time", "reading_date: 2027-06-01, reading_start_time", "dates that run backwards"),
    ("reading_date: 2027-09-14, reading_start_time", "reading_date: 2027-06-08, reading_start_time", "dates that run backwards"),
    ("reading_date: 2027-06-08, reading_start_time", "reading_date: 2027-05-10, reading_start_time", "a day not before commissioning"),
    ("reading_date: 2028-02-11, reading_start_time", "reading_date: 2029-02-11, reading_start_time", "a day not after the status date"),
    ("reading_start_time: 12.1 s", "reading_velocity: 9 mm/s", "the trend follows start time"),
    ("reading_of: start", "reading_of: stat", "nearest: start")])
def test_readings_that_cannot_be_are_faults_with_their_line(tmp_path, old, new, told):
    with pytest.raises(Faults) as caught:
        solve(read(changed(tmp_path, (old, new))))
    assert told in str(caught.value) and re.search(r"commissioning\.yaml:\d+", str(caught.value))


def words_in(book, figure: str) -> str:
    return re.sub(r"<[^>]+>", "\n", figures_of("commissioning")[figure].svg(book))


def test_the_figures_say_what_the_numbers_say(tmp_path):
    # one trend with a line, one with a single reading, and a level far from what was predicted
    folder = changed(tmp_path, ("{id: battery_2", "{id: battery_x"))
    file = folder / "commissioning.yaml"
    text = file.read_text(encoding="utf-8")
    text = re.sub(r"  - \{id: battery_(x|3|4).*?\}\n", "", text, flags=re.S)
    file.write_text(text.replace("measured_level: 106.2 dBA", "measured_level: 90 dBA"), encoding="utf-8")
    book = solve(read(folder))
    told = words_in(book, "trends")
    assert f"Start to load: limit on {book['trend_limit_date.start'].text()}" in told and "Starting battery: no line yet" in told
    # hand: 90 dBA stand 17.7 dB below what was predicted, of 3 dB that it may be above: six times the tolerance to the good side
    assert re.search("−5[89]\\d %", words_in(book, "measured_against_designed"))


def test_what_was_measured_is_listed(tmp_path):
    # as written in the project: two inputs of the hospital were measured on the plant itself
    book = solve(read(changed(tmp_path, slug="larkmere-hospital")))
    assert [(one.term, one.element) for one in book.measured] == [("earth_electrode_resistance", ""), ("exposure_stated_level", book.measured[1].element)]
    assert all(one.note for one in book.measured)
