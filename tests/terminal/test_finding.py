"""Finding by words: what is meant stands first, near words are found, and every id that is found can be opened and tried."""

import json

import pytest
from click.testing import CliRunner

from basis.chapters import catalogue
from basis.language.faults import Faults
from basis.solving.trial import makers
from basis.terminal.cli import main
from basis.terminal.finding import alike, entries, find, find_lines, one_letter_apart
from basis.terminal.opening import names_known, opened


def ids(*words, first=5):
    return [one.id for one in find(words)[:first]]


@pytest.mark.parametrize("words, wanted", [
    ("altitude", "altitude"), ("ventilation airflow", "ventilation_airflow"), ("ventilation_airflow", "ventilation_airflow"),
    ("ventilatoin airflow", "ventilation_airflow"),  # two letters swapped
    ("airflows ventilation", "ventilation_airflow"),  # a plural
    ("Set rated power", "set_rated_power"), ("opening face", "opening_face"), ("nec-310-16-copper-75", "nec-310-16-copper-75"),
    ("mil hdbk 1003/11 day tank", "mil-hdbk-1003-11-day-tank"), ("openings", "openings"), ("mount loads", "mount_loads"), ("ventilation", "ventilation"),
    ("decisions", "decisions"), ("standing", "standing"),
])
def test_what_is_meant_stands_first(words, wanted):
    assert ids(words, first=1) == [wanted]


def test_symbols_are_words():
    # ISO 80000-4 has q_V for the volume flow rate; typed with or without what stands below
    assert "ventilation_airflow" in [one.id for one in find(["q_V,room"])] and "ventilation_airflow" in [one.id for one in find(["q_V"])]


def test_all_words_count_and_of_none_that_fits_all_the_most():
    assert all("tank" in f"{one.id} {one.name} {one.meaning}".lower() for one in find(["day", "tank", "volume"])[:5])
    assert "day_tank_volume" in ids("day tank volume zzzzz")
    assert all(one.chapter == "cooling" for one in find(["cooling", "fan"])[:2])  # the chapter is a word as well


def test_a_line_has_kind_id_name_unit_and_chapter():
    line = next(line for line in find_lines(find(["altitude"])) if " altitude " in line)
    assert line.split() == ["input", "altitude", "Altitude", "[m", "or", "ft],", "plant"]
    assert next(find_lines(find(["ventilation airflow"]))).startswith("formula ")
    assert list(find_lines(find(["power"])))[-1].endswith("more, with --all") and len(list(find_lines(find(["power"]), True))) == len(find(["power"]))


def test_nothing_found_names_the_nearest_and_where_to_look():
    with pytest.raises(Faults) as found:
        find(["generatorium"])
    assert "nothing is called 'generatorium'" in str(found.value) and "nearest: generator" in str(found.value) and "see: basis try --list" in str(found.value)


@pytest.mark.parametrize("one, other, near", [
    ("louver", "louvre", True), ("volume", "volum", True), ("volume", "volumes", True), ("volume", "valume", True), ("valve", "value", True),
    ("volume", "valumes", False), ("set", "sat", False), ("volume", "volume", True), ("flow", "wolf", False)])
def test_one_letter(one, other, near):
    assert one_letter_apart(one, other) == near == one_letter_apart(other, one)


def test_plurals_are_nearer_than_wrong_letters():
    assert alike("batteries", "battery") == alike("losses", "loss") == alike("boxes", "box") > alike("battery", "battary") > alike("zebra", "battery") == 0


def test_everything_found_opens_and_what_is_told_to_be_tried_is_tried():
    found = list(entries())
    assert {one.id for one in found} == set(names_known())
    assert {one.id for one in found if one.tried} == set(makers(catalogue()))
    for one in found:
        things = opened(one.id)
        assert all(thing.lines for thing in things), one.id
        json.dumps([thing.record for thing in things], allow_nan=False)


def test_the_command():
    told = CliRunner().invoke(main, ["find", "louver", "velocity"])
    assert told.exit_code == 0 and "face_velocity" in told.output
    facts = json.loads(CliRunner().invoke(main, ["find", "autonomy", "--json"]).output)
    assert {"kind", "id", "name", "symbol", "unit", "chapter", "try"} == set(facts[0]) and any(one["try"] for one in facts)
    assert CliRunner().invoke(main, ["find", "generatorium"]).exit_code == 1
