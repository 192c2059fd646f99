"""The examples in the docstrings of formulas: each runs and is true to the digits that it prints."""

import re
import tomllib

from conftest import ROOT
from each import chapter_of, of_each

from basis.chapters import catalogue
from basis.language.sources import sources
from basis.solving.examples import Example, examples_of, readable, untrue_in, unwritten
from basis.solving.trial import try_formula

PRODUCERS = {producer.id: producer for producer in catalogue().producers.values()}
TESTED_WITH = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["optional-dependencies"]["test"]
LIBRARIES = {re.match(r"[\w-]+", one).group().lower() for one in TESTED_WITH} | {"library"}
WRITTEN = [(producer.id, place) for producer in PRODUCERS.values() for place in range(len(examples_of(producer)))]


@of_each(WRITTEN, group=lambda one: chapter_of(PRODUCERS[one[0]]))
def test_the_example_is_true(name, place):
    example = examples_of(PRODUCERS[name])[place]
    assert example.said_by.strip() and not untrue_in(PRODUCERS[name], example)


def test_every_example_is_in_the_form_that_runs():
    assert not [producer.id for producer in PRODUCERS.values() if unwritten(producer)]


def test_a_false_example_is_found():
    current = PRODUCERS["set_rated_current"]  # 2000 kVA / (1.7321 x 400 V) is 2886.8 A (hand calculation)
    inputs = {"set_rated_apparent_power": "2000 kVA", "generating_voltage": "400 V"}
    said = [Example(inputs, {"set_rated_current": text}, "hand calculation") for text in ("2886.8 A", "2887 A", "2.887 kA", "2886.7 A", "2880 A")]
    assert [bool(untrue_in(current, one)) for one in said] == [False, False, False, True, True]


def names_in_a_text(words: str) -> set[str]:
    """What names a document: numbers, and words with a capital."""
    return {word.rstrip(".,") for word in re.findall(r"[A-Z][\w/.-]*|\d[\w/.-]*", words)}


@of_each(WRITTEN, group=lambda one: chapter_of(PRODUCERS[one[0]]))
def test_who_says_so_is_a_calculation_a_library_or_a_source_as_well_known_as_that(name, place):
    """By sources.yaml: a text that nobody has read is told as from memory, one that is no source of what the example runs is not named."""
    example = examples_of(PRODUCERS[name])[place]
    who = example.said_by
    if re.match(r"hand (calculation|count)\b|counted\b", who) or (LIBRARIES & set(who.lower().replace(",", "").split())):
        return
    value = try_formula(PRODUCERS[name].yields[0], example.inputs)[PRODUCERS[name].yields[0]]
    first = names_in_a_text(who.partition(",")[0]) | names_in_a_text(" ".join(re.findall(r"table [\d.-]+", who)))
    cited = [sources()[source_id] for source_id in value.cited]
    assert first and any(first <= names_in_a_text(source.citation) for source in cited), f"{who}: not among {[source.citation for source in cited]}"
    assert ("from memory" in who) == ("from memory" in value.own_marks), who


def test_an_example_reads_well():
    text = "Sum. Example: set_rated_apparent_power=2000 kVA, generating_voltage=400 V give 2886.8 A (hand calculation). More."
    assert readable(text) == "Sum. Example: rated apparent power of a set 2000 kVA, generating voltage 400 V give 2886.8 A (hand calculation). More."
    assert readable("Example: altitude=1600 m give 83.5 kPa (a table).") == "Example: altitude 1600 m gives 83.5 kPa (a table)."
    assert "[4 m², 9.5 m²]" in readable("Example: gross_area=[4 m^2, 9.5 m^2] give 1 (hand calculation).")
    assert readable("Example: energy_price=0.20 cur/kWh give 3040 cur (a bill).") == "Example: price of bought energy 0.20 ¤/kWh gives 3040 ¤ (a bill)."
    words = readable("Example: conductor_table=iec-60228-copper, starting_method=battery give 3 (nobody).")
    assert "iec-60228" not in words and "battery" in words


def test_no_example_shows_ids_to_the_reader_of_a_book():
    for producer in PRODUCERS.values():
        shown = readable(" ".join(producer.doc.split())).partition("Example:")[2]
        assert not re.search(r"[a-z]_[a-z]|\^|\bcur\b|\*", shown), shown
