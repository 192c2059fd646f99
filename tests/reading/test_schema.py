"""The tables of fields: each is sound in itself, and each field refuses what it does not ask for."""

import pytest
import yaml

from basis.language.terms import lists_by_key, terms
from basis.reading import schema
from basis.reading.yaml_nodes import _nodes_of

TABLES = {name: one for name, one in vars(schema).items() if isinstance(one, schema.Table)}
FIELDS = [(name, field.key) for name, table in TABLES.items() for field in table.fields]
WRONG = {  # kind -> what it refuses, as YAML
    "text": ("[a]", "''"), "item id": ("North-1", "''", "{a: b}"), "id": ("a b", "''"), "word": ("perhaps", "''"), "day": ("2026-02-30", "soon", "''"),
    "yes or no": ("maybe", "''"), "count": ("many", "1.5", "''"), "list": ("a", "{a: b}"), "keys": ("a", "[a]"), "value": ()}


def told(table, text):
    node, faults = _nodes_of(text, "trial.yaml")
    found, wrong = schema.read_fields(table, node, faults := list(faults)), faults
    return found, [fault.what for fault in wrong]


def full(table, **other):
    """A mapping with every field at its example."""
    return "".join(f"{field.key}: {other.get(field.key, field.example or {'list': '[]', 'keys': '{}'}[field.kind])}\n" for field in table.fields)


@pytest.mark.parametrize("name", TABLES)
def test_a_table_takes_its_own_examples(name):
    table = TABLES[name]
    found, wrong = told(table, full(table))
    assert not wrong and list(found) == list(table.by_key) and schema.whole(table, found)


@pytest.mark.parametrize(("name", "key"), FIELDS)
def test_a_field_says_what_it_means_and_refuses_the_rest(name, key):
    field = TABLES[name].by_key[key]
    assert field.meaning.endswith(".") and field.kind in schema.KINDS and bool(field.words) == (field.kind == "word")
    assert field.key not in terms() and field.key not in lists_by_key() or name in ("VALUE", "HOURLY", "REQUIREMENT", "QUESTION")
    for text in WRONG[field.kind]:
        found, wrong = told(TABLES[name], full(TABLES[name], **{key: text}))
        assert len(wrong) == 1 and key not in found, (text, wrong)


@pytest.mark.parametrize("name", [name for name, table in TABLES.items() if table.required])
def test_what_must_stand_is_missed(name):
    table = TABLES[name]
    for key in table.required:
        found, wrong = told(table, "".join(line for line in full(table).splitlines(keepends=True) if not line.startswith(f"{key}:")) or "other: 1\n")
        assert not schema.whole(table, found) and any(f"without {key}" in what for what in wrong), (key, wrong)


def test_examples_are_yaml_that_means_itself():
    for table in TABLES.values():
        for field in table.fields:
            assert isinstance(yaml.safe_load(f"key: {field.example}")["key"], (str, list, bool, type(None))) or field.kind in ("day", "count", "value"), field
