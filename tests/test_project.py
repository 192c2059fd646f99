"""Faults in project text: each told with file, line, what was expected and the nearest name, all of them at once."""

import os

import pytest

import basis
from basis.faults import Fault, Faults
from basis.project import read

GOOD = "name: Trial\nchapters: [plant]\n"


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    made = tmp_path / "projects" / "trial"
    made.mkdir(parents=True)
    return made


def faults_of(folder, text, name="air.yaml"):
    """Faults of a project whose one file holds `text` (or bytes)."""
    path = folder / name
    path.write_bytes(text) if isinstance(text, bytes) else path.write_text(text, "utf-8")
    with pytest.raises(Faults) as found:
        read("projects/trial")
    return found.value.faults


def only(faults) -> Fault:
    assert len(faults) == 1, faults
    return faults[0]


CASES = {
    "syntax": ("altitude: 60 m\nnote: [a, b\n", 2, "YAML cannot be read", ""),
    "duplicate key": ("altitude: 60 m\n\naltitude: 61 m\n", 3, "key 'altitude' stands twice", "line 1"),
    "unknown key": ("altitud: 60 m\n", 1, "unknown key 'altitud'", "altitude"),
    "wrong dimension": ("a: 1\n", 1, "unknown key 'a'", ""),
    "flow in kW": ("outdoor_temperature_max: 12 kW\n", 1, "wrong dimension", ""),
    "unknown unit": ("altitude: 60 metres\n", 1, "unknown unit 'metres'", ""),
    "near unit": ("altitude: 60 mm2m\n", 1, "unknown unit", ""),
    "missing unit": ("altitude: 60\n", 1, "has no unit", ""),
    "not a number": ("altitude: high\n", 1, "is not a number", ""),
    "inf": ("altitude: .inf m\n", 1, "is not a number", ""),
    "nan": ("altitude: nan m\n", 1, "is not a number", ""),
    "too large": ("altitude: 1e999 m\n", 1, "is not finite", ""),
    "out of range": ("outdoor_relative_humidity: 140 %\n", 1, "outside its physical range", ""),
    "no value": ("altitude:\n", 1, "has no value", ""),
    "difference for a temperature": ("outdoor_temperature_max: 34 delta_degF\n", 1, "temperature difference unit", "degC"),
    "choice": ("currency: EURO\n", 1, "'currency' is 'EURO'", "EUR"),
    "item without id": ("loads:\n  - note: x\n", 2, "an item of loads without id", ""),
    "repeated id": ("loads:\n  - id: lift\n  - id: pump\n  - id: lift\n", 4, "stands twice", "line 2"),
    "bad id": ("loads:\n  - id: North-1\n", 2, "id 'North-1'", "north_1"),
    "unknown key of an item": ("openings:\n  - id: north\n    gros_area: 2 m^2\n", 3, "unknown key 'gros_area'", ""),
    "empty": ("", 1, "the file is empty", ""),
    "only comments": ("# nothing\n", 1, "the file is empty", ""),
    "a list": ("- a\n- b\n", 1, "the file is not a mapping", ""),
    "tab": ("openings:\n\t- id: north\n", 2, "a tab in the indentation", ""),
    "not UTF-8": (b"altitude: 60 m\nplace: K\xf6ln\n", 2, "is not UTF-8 text", ""),
    "control character": ("altitude: 60 m\nplace: a\x07b\n", 2, "a character that YAML does not allow", ""),
    "alias bomb": ("a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b, *b]\n", 1, "anchor or alias 'a'", ""),
    "tag": ("altitude: !!python/object/apply:os.system ['true']\n", 1, "tag 'tag:yaml.org,2002:python/object/apply:os.system'", ""),
    "deep nesting": ("a: " + "[" * 500 + "]" * 500 + "\n", 1, "nesting deeper than 12", ""),
    "second document": ("altitude: 60 m\n---\naltitude: 61 m\n", 2, "a second document", ""),
    "mapping for a value": ("altitude: {value: [1, 2]}\n", 1, "a sequence stands here", ""),
    "unknown key of a given": ("altitude: {value: 60 m, nota: x}\n", 1, "unknown key 'nota' of a given", "note"),
    "unknown standing": ("altitude: {value: 60 m, standing: assume}\n", 1, "unknown standing 'assume'", "assumed"),
    "given without value": ("altitude: {note: x}\n", 1, "'altitude' has no value", ""),
    "constant": ("standard_gravity: 9.8 m/s^2\n", 1, "'standard_gravity' is a constant of the book", ""),
}


@pytest.mark.parametrize("case", CASES)
def test_each_fault_names_its_line(folder, case):
    text, line, what, nearest = CASES[case]
    fault = only(faults_of(folder, text))
    assert (fault.file, fault.line) == ("projects/trial/air.yaml", line)
    assert what in fault.what, fault
    if nearest:
        assert fault.nearest == nearest


def test_all_faults_at_once_and_sorted(folder):
    (folder / "b.yaml").write_text("altitud: 3 m\n")
    faults = faults_of(folder, "outdoor_temperature_max: 12 kW\noutdoor_temperature_min: -8\nunknown_thing: 4\n", "a.yaml")
    assert [(fault.file[-6:], fault.line) for fault in faults] == [("a.yaml", 1), ("a.yaml", 2), ("a.yaml", 3), ("b.yaml", 1)]


def test_the_same_key_in_two_files_names_both(folder):
    (folder / "a.yaml").write_text("altitude: 60 m\n")
    fault = only(faults_of(folder, "\naltitude: 61 m\n", "b.yaml"))
    assert (fault.line, fault.nearest) == (2, "projects/trial/a.yaml:1")


def test_a_large_file_is_not_parsed(folder):
    fault = only(faults_of(folder, "note: x\n" * 700_000))
    assert "5.6 MB" in fault.what and "2 MB" in fault.expected


def test_a_link_that_leaves_the_folder(folder, tmp_path):
    (tmp_path / "secret.yaml").write_text("altitude: 1 m\n")
    os.symlink(tmp_path / "secret.yaml", folder / "air.yaml")
    with pytest.raises(Faults) as found:
        read("projects/trial")
    assert "leaves the project folder" in only(found.value.faults).what


def test_another_ending_is_told(folder):
    fault = only(faults_of(folder, "altitude: 1 m\n", "air.yml"))
    assert fault.nearest == "air.yaml"


def test_no_folder_and_no_file(folder):
    for place in ("projects/nowhere", "projects/trial"):
        with pytest.raises(Faults):
            read(place)


def test_missing_required_input_says_what_needs_it(folder):
    (folder / "project.yaml").write_text(GOOD)
    with pytest.raises(Faults) as found:
        basis.load("projects/trial")
    fault = next(fault for fault in found.value.faults if "'altitude'" in fault.what)
    assert "needed by air_pressure" in fault.what and "m" in fault.expected


def test_a_value_that_the_book_computes_is_refused(folder):
    (folder / "project.yaml").write_text(GOOD + "altitude: 60 m\nair_pressure_ratio: 0.9\n")
    with pytest.raises(Faults) as found:
        basis.load("projects/trial")
    assert any(fault.line == 4 and "is computed by the book" in fault.what for fault in found.value.faults)


def test_unknown_chapter_and_remark(folder):
    (folder / "project.yaml").write_text("chapters: [plants]\nremarks: {nothing_ok: why}\n")
    with pytest.raises(Faults) as found:
        basis.load("projects/trial")
    told = {fault.what: fault.nearest for fault in found.value.faults}
    assert told["unknown chapter 'plants'"] == "plant" and "remark on unknown check 'nothing_ok'" in told


def test_reference_to_nothing(folder, monkeypatch):
    from basis import project
    from basis.terms import Term, terms

    door = Term("door_opening", "", "reference", "Opening of the door", "", axes=("heat_source",), refers_to="opening")
    monkeypatch.setattr(project, "terms", lambda: {**terms(), "door_opening": door})
    fault = only(faults_of(folder, "openings:\n  - id: north\nheat_sources:\n  - id: pipe\n    door_opening: nort\n"))
    assert (fault.line, fault.nearest) == (5, "north") and "refers to 'nort'" in fault.what


def test_decisions_are_checked(folder):
    text = """decisions:
  - id: radiator
    name: Radiator
    chosen: mountd
    reason: because
    options:
      - {id: mounted, with: {altitude: 60 kW}}
      - {id: remote, wiht: {}}
  - {id: second}
"""
    told = [(fault.line, fault.what) for fault in faults_of(folder, text)]
    assert (4, "chosen option 'mountd' is not among the options") in told
    assert any(line == 7 and "wrong dimension" in what for line, what in told)
    assert (8, "an option without id or with") in told
    assert any(line == 9 and "a decision without" in what for line, what in told)


def test_a_given_keeps_what_was_written(folder):
    (folder / "air.yaml").write_text("altitude: {value: 200 ft, note: survey, standing: assumed}\noutdoor_temperature_max: 93.2 degF\n")
    givens = read("projects/trial").givens
    altitude = givens[("altitude", "")]
    assert altitude.data == pytest.approx(60.96) and altitude.written == "200 ft" and altitude.note == "survey"
    assert altitude.standing == "assumed – confirm" and (altitude.file, altitude.line) == ("projects/trial/air.yaml", 1)
    assert givens[("outdoor_temperature_max", "")].data == pytest.approx(307.15)


def test_yaml_words_keep_their_letters(folder):  # a plain loader would read no, 12:30 and 010 as false, 750 and 8
    (folder / "air.yaml").write_text("name: no\n")
    assert read("projects/trial").name == "no"


def test_an_item_may_be_described_in_two_files(folder):
    (folder / "a.yaml").write_text("openings:\n  - {id: north}\n")
    (folder / "b.yaml").write_text("openings:\n  - {id: north, name: North}\n  - {id: south}\n")
    project = read("projects/trial")
    assert project.items["opening"] == ("north", "south") and project.names["opening"]["north"] == "North"


def test_items_stand_in_the_order_of_the_file_that_lists_most(folder):
    (folder / "a.yaml").write_text("openings:\n  - {id: west}\n  - {id: south}\n")
    (folder / "b.yaml").write_text("openings:\n  - {id: north}\n  - {id: east}\n  - {id: south}\n")
    assert read("projects/trial").items["opening"] == ("north", "east", "south", "west")


def test_two_currencies_are_a_fault(folder):
    fault = only(faults_of(folder, "currency: EUR\nenergy_price: 0.3 USD/kWh\n"))
    assert fault.line == 2 and "EUR" in fault.expected
