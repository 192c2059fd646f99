"""From ten facts to a Draft: every rule is run once, behind those that it needs, and what it gives is written with its note."""

from __future__ import annotations

from collections.abc import Mapping

from basis.guessing.draft import Draft
from basis.guessing.facts import BY_KEY, Facts
from basis.guessing.rule import Row, Rule
from basis.guessing.rules import all_rules
from basis.guessing.rules.year import FILE, weather_text

GIVEN_AS = {"sets": "installed_sets", "set_power": "set_rated_power", "frequency": "power_frequency", "voltage": "generating_voltage", "altitude": "altitude",
            "coldest": "outdoor_temperature_min", "hottest": "outdoor_temperature_max"}  # fact -> the plain Term that it is
UNSAID = "not given; the usual figure"


class Guesses(Mapping):
    """What the facts and the rules give, by name, in SI; each rule is run when its result is first asked for."""

    def __init__(self, facts: Facts):
        self.rules = all_rules()
        self._known = {key: getattr(facts, key) for key in BY_KEY}

    def __getitem__(self, name: str):
        if name not in self._known:
            rule = self.rules[name]
            self._known[name] = rule.run(**{needed: self[needed] for needed in rule.parameters})
        return self._known[name]

    def __iter__(self):
        return iter([*BY_KEY, *self.rules])

    def __len__(self) -> int:
        return len(BY_KEY) + len(self.rules)


def first_guess(facts: Facts, name: str) -> Draft:
    """A whole project from the facts: they as given, everything else as assumed, each with the rule that it is from."""
    guesses = Guesses(facts)
    draft = Draft(us=facts.us, currency=guesses["currency"])
    draft.say("name", name)
    _write_facts(draft, facts)
    for rule in guesses.rules.values():
        if rule.gives == "term":
            _write(draft, rule, rule.name, guesses[rule.name], rule.note(guesses))
        elif rule.gives == "rows":
            _write_rows(draft, rule, guesses[rule.name], rule.note(guesses))
    draft.write("period_limit", facts.written["limit"], *_said(facts, "limit"), item="whole_day")
    draft.files[FILE] = weather_text(guesses["hours_of_year"], facts.written["coldest"], facts.written["hottest"])
    return draft


def _said(facts: Facts, key: str) -> tuple[str, str]:
    """Note and standing of a fact."""
    return (UNSAID, "assumed") if key in facts.taken else ("given", "")


def _write_facts(draft: Draft, facts: Facts) -> None:
    for key, term_id in GIVEN_AS.items():
        draft.write(term_id, facts.written[key], *_said(facts, key))
    draft.write("place", "A site that is still to be named", "to be filled in", "assumed")
    draft.write("purpose", f"Standby supply of loads of {facts.written['load']}", *_said(facts, "load"))


def _write_rows(draft: Draft, rule: Rule, rows: dict[str, Row], note: str) -> None:
    for item, one in rows.items():
        draft.add(rule.axis, item, one.name)
        for term_id, value in one.values.items():
            _write(draft, rule, term_id, value, note, item)


def _write(draft: Draft, rule: Rule, term_id: str, value, note: str, item: str = "") -> None:
    if value is not None:
        draft.guess(term_id, value, note, item, rule.digits)
