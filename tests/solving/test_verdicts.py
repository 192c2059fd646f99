"""How verdicts are told on pages: each word counted, a check without anything to check listed and never among those that hold."""

import pytest
from conftest import ROOT

import basis
from basis.site import parts
from basis.site.addresses import of_book
from basis.site.cover import worst
from basis.site.functions import BookFunctions
from basis.site.overview import OverviewFunctions
from basis.solving.verdict_words import WORDS


@pytest.fixture(scope="module")
def key():
    """The book of the exchange, which lists no fuel pipes."""
    return basis.load(ROOT / "projects" / "cobble-key-exchange")


def test_tally_counts_each_word(key):
    fuel = tuple(one for one in key.checks if one.check.module.startswith("basis.chapters.fuel"))
    counts = {word: sum(one.word == word for one in fuel) for word in WORDS}
    assert {one.check.id for one in fuel if one.word == "nothing to check"} >= {"fuel_pipe_pressure", "fuel_pipe_head", "fuel_pipe_transition"}
    assert sum(counts.values()) == len(fuel)
    told = str(parts.tally(of_book(key), fuel))
    for word, count in counts.items():
        shown = f"{word}</span>: {count}" + ("" if word == "nothing to check" else f" of {len(fuel) - counts['nothing to check']}")
        assert (shown in told) == bool(count), word
    assert "check-fuel_pipe_pressure" not in told and "check-cold_fuel" in told  # what wants attention is named


def test_the_table_lists_what_has_nothing_to_check(key):
    addresses, verdict = of_book(key), key.check("fuel_pipe_pressure")
    row = str(parts.checks_table(addresses, [verdict]))
    assert "verdict nothing-to-check" in row and "no fuel pipes listed" in row and "not given" not in row
    assert str(parts.verdict_inline(addresses, verdict)).endswith("(no fuel pipes listed)")
    open_ = str(parts.checks_table(addresses, [key.check("cold_fuel")]))
    assert "verdict undecided" in open_ and "not given" in open_


def test_what_waits_for_an_input_is_listed_apart(key):
    told, asked = OverviewFunctions(of_book(key)), BookFunctions(of_book(key))
    assert "check-cold_fuel" in told.undecided_checks() and "check-fuel_pipe_pressure" not in told.undecided_checks()
    assert "nothing-to-check" in told.checks() and all(one.word in ("fails", "undecided", "tight") for one in worst(key.checks))
    assert asked.undecided("fuel_pipe_pressure") and asked.undecided("cold_fuel") and not asked.holds("fuel_pipe_pressure")


def test_a_missing_limit_is_not_an_empty_list(key):
    assert key.check("mode_pollutants").word == "undecided"  # the mass that a permit allows is for the authority to say
    assert key.check("noise_octave_limit").word == key.check("barrier_is_heavy").word == "nothing to check"


def test_the_worst_check_on_a_number_is_found_through_all_that_rests_on_it(key):
    # By hand: all that a check names and, up the inputs of each, all that it rests on; the first of the words, most urgent first, over all checks
    reached: dict[str, set] = {}
    for verdict in key.checks:
        waiting, seen = list(verdict.check.sides), set()
        while waiting:
            value_id = waiting.pop()
            if value_id in key.values and value_id not in seen:
                seen.add(value_id)
                waiting += key.values[value_id].inputs
        for value_id in seen:
            reached.setdefault(value_id, set()).add(verdict.word)
    assert {name: word for name, word in key.worst.items() if word} == {name: min(words, key=[*WORDS].index) for name, words in reached.items()}
    assert len(set(key.worst.values())) > 3
