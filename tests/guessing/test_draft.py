"""A draft holds only what a project may: numbers in the units of the Terms, items of lists, keys that exist."""

import pytest

from basis.guessing.draft import Draft, Written
from basis.language import units
from basis.language.terms import terms


def test_a_guess_is_written_in_the_unit_of_its_term_and_rounded():
    draft = Draft()
    draft.guess("set_wet_mass", 4652.4, "why")
    assert draft.written["set_wet_mass", ""] == Written("4650 kg", "why", "assumed")
    assert Draft(us=True).as_text(terms()["set_wet_mass"], 4536.0) == "10000 lb"  # 1 lb is 0.45359237 kg
    assert draft.as_text(terms()["outdoor_temperature_min"], 273.15 - 31) == "-31 degC"
    assert draft.as_text(terms()["element_replacement_cost"], 210.0) == "210 EUR"
    assert draft.as_text(terms()["block_sides"], (2.8, 1.5)) == "[2.8 m, 1.5 m]"
    assert draft.as_text(terms()["load_nonlinear_share"], 0.3) == "30 %"
    assert draft.as_text(terms()["load_power_factor"], 0.85) == "0.85"


def test_every_number_that_a_project_may_give_can_be_written_and_read_back():
    for us in (False, True):
        for term in terms().values():
            if not term.is_text:
                number, unit = units.split_number(Draft(us=us).as_text(term, 300.0, digits=9))
                assert units.to_si(number, unit, term.unit, term.kind_asked) == pytest.approx(300.0), term.id


def test_items_of_lists_and_keys_of_the_project():
    draft = Draft()
    draft.add("load", "pumps", "Pumps")
    draft.guess("load_connected_power", 40e3, "why", "pumps")
    draft.say("name", "Cold yard")
    assert draft.items == {"load": {"pumps": "Pumps"}} and draft.project == {"name": "Cold yard"}
    assert draft.written["load_connected_power", "pumps"].text == "40 kW"


@pytest.mark.parametrize("act", [
    lambda draft: draft.guess("set_wet_mas", 1.0, ""),                       # no such Term
    lambda draft: draft.guess("load_connected_power", 1.0, ""),              # an item's
    lambda draft: draft.guess("load_connected_power", 1.0, "", "pumps"),     # not listed
    lambda draft: draft.guess("set_wet_mass", 1.0, "", "pumps"),             # not an item's
    lambda draft: draft.write("set_wet_mass", "1 kg", standing="guessed"),   # no such standing
    lambda draft: draft.add("lode", "pumps", "Pumps"),
    lambda draft: draft.add("band", "63_hz", "63 Hz"),                       # fixed by the book
    lambda draft: draft.say("nam", "Cold yard")])
def test_what_does_not_exist_is_an_error_at_once(act):
    with pytest.raises((KeyError, ValueError)):
        act(Draft())
