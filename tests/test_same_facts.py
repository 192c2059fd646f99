"""Each fact is asked for once: what `same_facts.py` finds is held here, so that a new input that asks for a known fact is seen."""

from dataclasses import replace
from functools import cache

from same_facts import DIFFERENT, TWICE, judged, same_facts

from basis.chapters import catalogue
from basis.language.terms import terms

PAIRS = same_facts()


def test_no_two_chapters_ask_for_one_fact():
    """Two inputs that look alike are computed one from the other, compared by a check, or declared with the reason why they are two."""
    assert not [str(pair) for pair in PAIRS if not judged(pair)]


def test_nothing_is_declared_in_vain():
    """Each id that is declared is an input that looks like one of the other side."""
    found = {frozenset(pair.ids) for pair in PAIRS}
    for why, *_, left, right in DIFFERENT + TWICE:
        for one, others in [*((one, right) for one in left.split()), *((one, left) for one in right.split())]:
            assert one in terms() and any(frozenset((one, other)) in found for other in others.split()), (one, why)


def test_one_fact_asked_twice_is_found():
    """Without the formula that takes it from there, the ambient of a cable would be a second key for that of the generator cable."""
    known = catalogue()
    apart = replace(known, producers={name: one for name, one in known.producers.items() if name != "cable_ambient_temperature"})
    found = [pair.ids for pair in same_facts(apart) if not judged(pair)]
    assert ("cable_ambient_temperature", "conductor_ambient_temperature") in found


def test_where_a_fact_has_two_keys_a_check_holds_what_follows_from_them():
    """Both keys are among what such a check rests on."""
    checks = {check.id: check for group in catalogue().checks.values() for check in group}
    for why, ids, left, right in TWICE:
        for one, other in (pair.ids for pair in PAIRS if judged(pair) == why):
            assert any({one, other} <= rests_on(checks[name].value) | rests_on(checks[name].limit) for name in ids.split()), (one, other)


@cache
def rests_on(name: str) -> frozenset[str]:
    producer = catalogue().producers.get(name)
    return frozenset((name,)).union(*(rests_on(needed) for needed in (producer.parameters if producer else ())))
