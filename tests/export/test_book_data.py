"""The JSON file of a book: a public checker takes it by its schema, every key is described, and a stranger finds one number by its address."""

import json
import subprocess
import sys
from collections.abc import Iterator

import pytest
from click.testing import CliRunner
from conftest import SLUGS
from jsonschema import Draft202012Validator
from pytest import approx
from stranger import changed, pages, strict

import basis
from basis.export.book_data import book_data, json_text, schema_text
from basis.terminal.cli import main

HOSPITAL = "larkmere-hospital"
STRANGER = """
import json, sys, urllib.request
address, *path = sys.argv[1:]
found = json.load(urllib.request.urlopen(address))
for part in path:
    found = found[part]
print(json.dumps(found))
"""


@pytest.fixture(scope="module")
def told(books):
    """Slug -> the file of each demo, read back."""
    return {slug: json.loads(json_text(books[slug], pages(books[slug]))) for slug in SLUGS}


def test_the_schema_is_one():
    Draft202012Validator.check_schema(json.loads(schema_text()))


@pytest.mark.parametrize("slug", SLUGS)
def test_a_public_checker_takes_every_demo_and_each_key_is_described(told, slug):
    assert [error.message for error in Draft202012Validator(strict(json.loads(schema_text()))).iter_errors(told[slug])] == []


def test_every_key_of_the_schema_says_what_it_means():
    def properties(node) -> Iterator[tuple[str, dict]]:
        if isinstance(node, dict):
            yield from node.get("properties", {}).items() if isinstance(node.get("properties"), dict) and "type" in node else ()
        for inner in node.values() if isinstance(node, dict) else node if isinstance(node, list) else ():
            yield from properties(inner)
    found = list(properties(json.loads(schema_text())))
    assert len(found) > 100 and [key for key, one in found if not one.get("description", "").endswith(".")] == []


def test_the_schema_refuses_what_is_no_book(told):
    check = Draft202012Validator(json.loads(schema_text()))
    for damage in (lambda book: book.pop("values"), lambda book: book["values"]["altitude"].update(value_si=True),
                   lambda book: book["values"]["altitude"].pop("why_null"), lambda book: book["checks"]["room_rise"].update(verdict="passes"),
                   lambda book: book.update(format=2)):
        spoilt = json.loads(json.dumps(told[HOSPITAL]))
        damage(spoilt)
        assert not check.is_valid(spoilt)


def test_a_program_that_knows_nothing_of_this_one_fetches_one_number(tmp_path):
    made = CliRunner().invoke(main, ["export", HOSPITAL, "json", "--to", str(tmp_path)])
    assert made.exit_code == 0 and made.output.splitlines() == [str(tmp_path / "book.json"), str(tmp_path / "book.schema.json")]

    def asked(*path):
        found = subprocess.run([sys.executable, "-I", "-c", STRANGER, (tmp_path / "book.json").as_uri(), *path], capture_output=True, text=True, check=True)
        return json.loads(found.stdout)
    # figures of projects/larkmere-hospital as typed: 34 degC, 45 m^2, 118 kW
    assert asked("values", "outdoor_temperature_max", "value_si") == approx(34 + 273.15, abs=1e-9)
    assert asked("values", "gross_area", "value_si", "intake_north") == 45 and asked("values", "gross_area", "shown_si", "intake_north") == "45.0 m²"
    assert asked("values", "engine_heat_to_room", "value_si") == 118e3 and asked("values", "engine_heat_to_room", "unit_si") == "W"


def test_numbers_have_all_their_digits_and_nothing_is_but_null_where_none_is(books, told):
    for slug, book in books.items():
        for value_id, facts in told[slug]["values"].items():
            elements = dict(leaves(facts["value_si"]))
            assert {key for key, one in elements.items() if one is None} == set(facts["why_null"]) or facts["origin"] == "undecided", value_id
            assert all(facts["why_null"].values())
            if value_id in book.values and book[value_id].axes == ():
                number = book[value_id].number
                assert facts["value_si"] == number or facts["value_si"] is None and number != number or number == float("inf")


def leaves(part, path: str = "") -> Iterator[tuple[str, object]]:
    """Ids joined by points -> what stands there, of numbers by item."""
    if not isinstance(part, dict):
        yield path, None if isinstance(part, list) and None in part else part
        return
    for key, inner in part.items():
        yield from leaves(inner, f"{path}.{key}" if path else key)


def test_what_waits_for_an_input_says_what_to_write(tmp_path):
    book = changed(tmp_path, "cobble-key-exchange", "plant.yaml", "status_date: 2028-03-31\n", "")
    waiting = {key: one for key, one in book_data(book, pages(book))["values"].items() if one["origin"] == "undecided"}
    assert waiting["status_date"]["to_give"] == [{"key": "status_date", "of": "", "name": "status date", "file": "plant.yaml", "line": 0}]
    assert all(one["value_si"] is None and one["to_give"] and "not given" in one["why_null"][""] for one in waiting.values())
    assert all(lack["key"] and lack["file"].endswith(".yaml") for one in waiting.values() for lack in one["to_give"])


def test_the_same_text_gives_the_same_bytes_and_a_change_moves_the_digests_that_rest_on_it(tmp_path, books, told):
    again = basis.load(books[HOSPITAL].project.folder)
    assert json_text(again, pages(again)) == json_text(books[HOSPITAL], pages(books[HOSPITAL]))
    book = changed(tmp_path, HOSPITAL, "ventilation.yaml", "room_temperature_rise: {value: 10 K", "room_temperature_rise: {value: 9 K")
    new, old = book_data(book, pages(book)), told[HOSPITAL]
    assert new["digest"] != old["digest"] and new["text_digest"] != old["text_digest"]
    moved = {key for key, one in new["values"].items() if one["foundation"] != old["values"][key]["foundation"]}
    assert {"room_temperature_rise", "ventilation_airflow"} <= moved and "altitude" not in moved
    assert set(new["values"]["room_temperature_rise"]["used_by"]) <= moved


def test_verdicts_decisions_sources_and_inputs_lead_to_each_other(told):
    for book in told.values():
        for one in (*book["checks"].values(), *book["self_tests"].values()):
            assert {one["value_id"], one["limit_id"]} <= set(book["values"]) or one["verdict"] in ("undecided", "nothing to check")
            assert set(one["sources"]) <= set(book["sources"])
        for key, one in book["values"].items():
            assert {*one["inputs"], *one["used_by"]} - {"number"} <= set(book["values"]), key
            assert set(one["sources"]) <= set(book["sources"]) and set(one["checked_by"]) <= {*book["checks"], *book["self_tests"]}
            assert one["id"] == key and (one["page"] is None) == (one["origin"] == "undecided")
        assert all(one["chosen"] in one["options"] for one in book["decisions"].values())
        listed = [key for chapter in book["chapters"].values() for key in chapter["values"]]
        assert listed == [key for key, one in book["values"].items() if one["origin"] != "undecided"]


def test_links_lead_to_where_the_pages_are_said_to_stand(tmp_path):
    exported = ["export", HOSPITAL, "--pages", "https://books.example/hall", "--to"]
    assert CliRunner().invoke(main, [*exported, str(tmp_path), "json"]).exit_code == 0
    book = json.loads((tmp_path / "book.json").read_text("utf-8"))
    assert book["values"]["altitude"]["page"] == "https://books.example/hall/plant-inputs.html#altitude"
    assert book["checks"]["room_rise"]["page"] == "https://books.example/hall/checks.html#check-room_rise"
    (tmp_path / "taken").write_text("mine")
    refused = CliRunner().invoke(main, [*exported, str(tmp_path / "taken")])
    assert refused.exit_code == 1 and "1 fault." in refused.output and "Traceback" not in refused.output
    assert (tmp_path / "taken").read_text() == "mine"


def test_what_is_given_for_items_says_how_it_is_known(told):
    # projects/larkmere-hospital: all gross areas are stated; of the fittings that give off heat one figure is assumed
    values = told[HOSPITAL]["values"]
    assert values["gross_area"]["standing"] == "stated" and "assumed – confirm" in values["heat_source_fixed"]["standing"].split(", ")


def test_the_schema_is_printed():
    assert CliRunner().invoke(main, ["schema", "book"]).output == schema_text()
