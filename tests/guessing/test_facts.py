"""Ten facts from text: units, ranges for which the rules hold, what is usual."""

import pytest
from example_sets import COLD_YARD

from basis.guessing.facts import FACTS, read_facts, usual
from basis.language.faults import Faults


def faults_of(**texts):
    with pytest.raises(Faults) as caught:
        read_facts({**COLD_YARD, **texts})
    return [str(fault) for fault in caught.value.faults]


def test_facts_are_si():
    facts = read_facts({**COLD_YARD, "coldest": "-24 degF", "altitude": "4757 ft"})
    assert facts.set_power == 1.6e6 and facts.sets == 3
    assert facts.coldest == pytest.approx(242.04, abs=0.01) and facts.altitude == pytest.approx(1449.9, abs=0.1)
    assert facts.us and not read_facts(COLD_YARD).us


@pytest.mark.parametrize("key, text, told", [
    ("set_power", "1600", "new: --set-power '1600': 1600 has no unit; expected a unit such as kW"),
    ("set_power", "1600 kVA", "is an apparent power unit"), ("set_power", "5 MW", "outside the range of the first guesses"),
    ("frequency", "55 Hz", "expected 50 Hz or 60 Hz"), ("sets", "2.5", "no whole number"), ("coldest", "-31 kW", "wrong dimension"),
    ("altitude", "5000 m", "-430 m to 3500 m"), ("load", "20 MW", "more than twice what all sets give"), ("hottest", "-25 degC", "outside the range"),
    ("voltage", "480", "no unit"), ("limit", "200 dBA", "25 dBA to 90 dBA")])
def test_what_is_wrong_is_told(key, text, told):
    assert told in "\n".join(faults_of(**{key: text}))


def test_all_that_is_wrong_is_told_at_once():
    assert len(faults_of(set_power="1600", frequency="55 Hz", limit="loud")) == 3


def test_what_does_not_fit_is_not_told_of_facts_that_could_not_be_read():
    assert len(faults_of(sets="three", load="5 MW")) == 1  # of the two sets that are usual it would be too much


def test_a_year_has_a_span():
    assert "'30 degC': is not 10 K above the coldest, 24 degC" in faults_of(coldest="24 degC", hottest="30 degC")[0]


def test_what_is_left_out_takes_what_is_usual_and_says_so():
    facts = read_facts({"frequency": "60 Hz", "set_power": "800 kW", "sets": "3"})
    assert facts.written["voltage"] == "480 V" and facts.load == pytest.approx(0.7 * 2 * 800e3)  # one set may be missing
    assert facts.taken == {fact.key for fact in FACTS} - {"frequency", "set_power", "sets"}
    assert read_facts({"frequency": "50 Hz"}).voltage == 400


def test_what_is_usual_is_never_refused():
    for sets in ("1", "12"):
        for power in ("100 kW", "3000 kW"):
            assert read_facts({"sets": sets, "set_power": power})
    assert all(usual(fact, vars(read_facts({}))) for fact in FACTS)
