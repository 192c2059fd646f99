"""Faults in project text: each told with file, line, what was expected and the nearest name, all of them at once."""

import ast
import os

import pytest

import basis
from basis.chapters import catalogue
from basis.language.faults import Fault, Faults
from basis.language.formula import Formula
from basis.language.terms import terms
from basis.reading.folder import Folder
from basis.reading.project import read
from basis.solving.asked import asked_in
from basis.solving.solve import load

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
    "syntax": ("altitude: 60 m\nname: Trial: two\n", 2, "YAML cannot be read", ""),
    "open bracket": ("altitude: 60 m\nnote: [a, b\n", 2, "a bracket or a quote that begins here is not closed: the file ends first", ""),
    "open quote": ('openings:\n  - {id: north, name: "North}\n  - {id: south, name: "South"}\n', 2, "not closed: line 3 does not fit in", ""),
    "open quote at the end": ('altitude: 60 m\nname: "North\n', 2, "not closed: the file ends first", ""),
    "no colon": ("altitude 60 m\n\n# the year\noutdoor_temperature_max: 30 degC\n", 1, "no colon with a space behind it after 'altitude'", ""),
    "no colon in an item": ("openings:\n  - id: north\n    gross_area 4 m^2\n    free_area_ratio: 50 %\n", 3,
                            "no colon with a space behind it after 'gross_area'", ""),
    "no space": ("altitude:60 m\npower_frequency: 50 Hz\n", 1, "no colon with a space behind it after 'altitude'", ""),
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
    "a list": ("- a\n- b\n", 1, "the file does not hold keys with values", ""),
    "tab": ("openings:\n\t- id: north\n", 2, "a tab in the indentation", ""),
    "not UTF-8": (b"altitude: 60 m\nplace: K\xf6ln\n", 2, "is not UTF-8 text", ""),
    "control character": ("altitude: 60 m\nplace: a\x07b\n", 2, "a character that YAML does not allow", ""),
    "alias bomb": ("a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b, *b]\n", 1, "anchor or alias 'a'", ""),
    "tag": ("altitude: !!python/object/apply:os.system ['true']\n", 1, "tag 'tag:yaml.org,2002:python/object/apply:os.system'", ""),
    "deep nesting": ("a: " + "[" * 500 + "]" * 500 + "\n", 1, "nesting deeper than 12", ""),
    "second document": ("altitude: 60 m\n---\naltitude: 61 m\n", 2, "a second document", ""),
    "mapping for a value": ("altitude: {value: [1, 2]}\n", 1, "a list stands here", ""),
    "unknown key of a given": ("altitude: {value: 60 m, nota: x}\n", 1, "unknown key 'nota' of 'altitude'", "note"),
    "unknown standing": ("altitude: {value: 60 m, standing: assume}\n", 1, "standing 'assume' of 'altitude'", "assumed"),
    "given without value": ("altitude: {note: x}\n", 1, "'altitude' without value", ""),
    "constant": ("standard_gravity: 9.8 m/s^2\n", 1, "'standard_gravity' is a constant of the book", ""),
    "id that is a list": ("loads:\n  - id: [a, b]\n", 2, "a list stands here", ""),
    "id that is a mapping": ("loads:\n  - id: {a: b}\n", 2, "keys with values stand here", ""),
    "id in other letters": ("loads:\n  - id: caf\u00e9\n", 2, "id 'caf\u00e9' of an item of loads", "caf"),
    "empty id": ("loads:\n  - id: ''\n", 2, "'id' of an item of loads is empty", ""),
    "long id": (f"loads:\n  - id: {'a' * 5000}\n", 2, "of loads", ""),
    "item that is a word": ("loads:\n  - lift\n", 2, "one value stands here", ""),
    "key that is a list": ("[altitude, b]: 3 m\n", 1, "a list or keys stand where a key is expected", ""),
    "NUL in a text": ('place: "a\\0b"\n', 1, "the character number 0", ""),
    "half a character": ('place: "\\ud800"\n', 1, "invalid Unicode character", ""),
    "two units": ("altitude: {value: 60 m, unit: ft}\n", 1, "'altitude' has two units, m and ft", ""),
    "unit of a word": ("currency: {value: EUR, unit: kW}\n", 1, "is a word and has the unit kW", ""),
    "unit without end": ("altitude: 3 m^\n", 1, "cannot be read at '^'", ""),
    "power of 400": ("altitude: 3 km^400\n", 1, "holds the power 400", ""),
    "5000 brackets": (f"altitude: 3 {'(' * 5000}\n", 1, "has 5000 characters", ""),
    "decimal comma": ("altitude: 1,5 m\n", 1, "holds a comma", "1.5"),
    "plus_minus of a word": ("currency: {value: EUR, plus_minus: 3 %}\n", 1, "'currency' has a plus_minus", ""),
    "plus_minus of a count": ("installed_sets: {value: 3, plus_minus: 1}\n", 1, "'installed_sets' has a plus_minus", ""),
    "plus_minus of a temperature in per cent": ("outdoor_temperature_max: {value: 34 degC, plus_minus: 5 %}\n", 1, "wrong dimension", ""),
    "plus_minus beyond the range": ("outdoor_relative_humidity: {value: 40 %, plus_minus: 300 %}\n", 1, "wider than its physical range", ""),
    "half a set": ("installed_sets: 2.5\n", 1, "'installed_sets' is 2.5, outside its physical range", ""),
    "invented by doubt": ("invented: maybe\n", 1, "'invented' is 'maybe'", ""),
    "chapter twice": ("chapters: [plant, plant]\n", 1, "chapter 'plant' stands twice", ""),
    "no chapters": ("chapters: []\n", 1, "no chapter is listed", ""),
    "empty remark": ("remarks:\n  a_check: ''\n", 2, "'remark' of 'a_check' is empty", ""),
    "price without a currency": ("energy_price: 0.3 USD/kWh\n", 1, "'energy_price' is a price, and the project names no currency", ""),
    "key of an item at the top": ("gross_area: 3 m^2\n", 1, "'gross_area' cannot stand in the project as a whole", ""),
    "key of the project in an item": ("openings:\n  - {id: north, altitude: 3 m}\n", 2, "'altitude' cannot stand in an item of openings", ""),
    "remarks in an item": ("openings:\n  - {id: north, remarks: x}\n", 2, "'remarks' cannot stand in an item of openings", ""),
    "list in an item": ("openings:\n  - {id: north, loads: []}\n", 2, "'loads' cannot stand in an item of openings", ""),
    "lists of the book": ("bands: []\n", 1, "unknown key 'bands'", ""),
    "empty list of numbers": ("machines:\n  - {id: a, machine_spectrum: []}\n", 2, "'machine_spectrum' has no numbers", ""),
    "one number for a list": ("machines:\n  - {id: a, machine_spectrum: 90 dB}\n", 2, "one value stands here", ""),
    "level in per cent": ("machines:\n  - {id: a, machine_spectrum: [50 %, 1, 1, 1, 1, 1, 1, 1, 1]}\n", 2, "50 % is no level", ""),
    "weather file of 5000 characters": (f"outdoor_temperature_hourly: {'a' * 5000}\n", 1, "is no name of a file", ""),
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
    from basis.language.terms import Term, terms
    from basis.reading import project

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
    assert (8, "unknown key 'wiht' of option 'remote'") in told and not any("without with" in what for _, what in told)
    assert any(line == 9 and "decision 'second' without" in what for line, what in told)


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


def test_a_difference_may_be_uncertain_by_a_share_of_it(folder):
    (folder / "air.yaml").write_text("room_temperature_rise: {value: 11 K, plus_minus: 10 %}\n")
    assert read("projects/trial").givens[("room_temperature_rise", "")].spread == pytest.approx(1.1)


def test_the_same_sentence_is_not_too_long(folder):
    fault = only(faults_of(folder, f"currency: {'x' * 5000}\n"))
    assert len(str(fault)) < 600


TWICE = """decisions:
  - id: side
    chosen: north
    reason: wind
    options:
      - {id: north, with: {altitude: 60 m}}
      - {id: north, with: {altitude: 70 m}}
  - id: side
    chosen: one
    reason: wind
    options: [{id: one, with: {}}]
  - id: height
    chosen: low
    reason: wind
    options:
      - {id: low, with: {}}
      - {id: high, with: {altitude: 90 m}}
"""


def test_ids_of_decisions_and_options_stand_once_and_no_key_is_set_twice(folder):
    told = {fault.line: fault for fault in faults_of(folder, TWICE)}
    assert told[7].what == "option 'north' is given twice" and told[7].nearest == "projects/trial/air.yaml:6"
    assert told[8].what == "decision 'side' is given twice" and told[8].nearest == "projects/trial/air.yaml:2"
    assert told[17].what == "'altitude' is set by decision 'height' and by what is chosen in 'side'" and told[17].nearest == "projects/trial/air.yaml:6"
    assert len(told) == 3


@pytest.mark.parametrize("text, key", [("name: Trial\n", "'name'"), ("invented: no\n", "'invented'"), ("chapters: [plant]\n", "'chapters'"),
                                       ("remarks: {some_check: because}\n", "a remark on 'some_check'"),
                                       ("loads: [{id: lift, name: Lift}]\n", "the name of 'lift'")])
def test_what_stands_once_is_not_taken_from_a_second_file(folder, text, key):
    (folder / "a.yaml").write_text(text)
    fault = only(faults_of(folder, text, "b.yaml"))
    assert (fault.line, fault.what, fault.nearest) == (1, f"{key} is given twice", "projects/trial/a.yaml:1")


@pytest.mark.parametrize("word, invented", [("yes", True), ("True", True), ("TRUE", True), ("No", False), ("false", False)])
def test_invented_in_any_case(folder, word, invented):
    (folder / "air.yaml").write_text(f"invented: {word}\n")
    assert read("projects/trial").invented is invented


def test_a_price_of_another_currency_in_an_option(folder):
    options = "[{id: a, with: {}}, {id: b, with: {energy_price: 0.3 USD/kWh}}]"
    fault = only(faults_of(folder, f"currency: EUR\ndecisions:\n  - {{id: d, chosen: a, reason: r, options: {options}}}\n"))
    assert (fault.line, fault.what) == (3, "'energy_price' is in USD") and "EUR" in fault.expected


def test_a_missing_currency_is_told_once_at_the_first_price(folder):
    (folder / "b.yaml").write_text("control_core_price: 1.2 GBP/m\n")
    fault = only(faults_of(folder, "altitude: 3 m\nenergy_price: 0.3 USD/kWh\ndiscount_rate: 5 %\n", "a.yaml"))
    assert (fault.file, fault.line, fault.expected) == ("projects/trial/a.yaml", 2, "the key currency, such as `currency: USD`")
    assert fault.what == "'energy_price' is a price, and the project names no currency"


@pytest.mark.parametrize("price", ["0.16 cur/kWh", "{value: 0.16, unit: cur/kWh}"])
def test_the_name_that_formulas_have_for_a_currency_is_no_currency(folder, price):
    fault = only(faults_of(folder, f"currency: USD\nenergy_price: {price}\n"))
    assert (fault.line, fault.what, fault.expected) == (2, "'energy_price' is 0.16 cur/kWh, which names no currency", "write 0.16 USD/kWh")


def test_a_plus_minus_is_in_the_currency_of_its_price(folder):
    (folder / "good.yaml").write_text("currency: USD\n")
    fault = only(faults_of(folder, "energy_price: {value: 0.16 USD/kWh, plus_minus: 0.02 EUR/kWh}\n"))
    assert (fault.what, fault.expected) == ("plus_minus of 'energy_price' is in EUR", "a plus or minus of 0.16 USD/kWh")


def test_a_broken_file_is_not_blamed_on_others(folder):
    (folder / "a.yaml").write_text("feeders:\n  - {id: link, feeder_from_bus: ring, feeder_to_bus: board}\nenergy_price: 0.3 EUR/kWh\n")
    fault = only(faults_of(folder, "buses:\n  - {id: ring\ncurrency: EUR\n", "z.yaml"))
    assert fault.file == "projects/trial/z.yaml"


def test_an_item_with_a_bad_id_is_not_blamed_on_who_refers_to_it(folder):
    text = "feeders:\n  - {id: link, feeder_from_bus: Ring, feeder_to_bus: board}\nbuses:\n  - id: Ring\n  - id: board\n"
    assert only(faults_of(folder, text)).line == 4


def test_an_option_names_its_own_items_only(folder):
    text = "loads: [{id: lift, name: Lift}]\ndecisions:\n  - id: d\n    chosen: a\n    reason: r\n    options:\n"
    (folder / "air.yaml").write_text(text + "      - {id: a, with: {loads: [{id: lift, name: Hoist}, {id: pump, name: Pump}]}}\n")
    assert read("projects/trial").names["load"] == {"lift": "Lift", "pump": "Pump"}


def made(folder, kind):
    """Something in the folder that is no readable project text."""
    path = folder / "air.yaml"
    match kind:
        case "loop of links":
            (folder / "b.yaml").symlink_to(path)
            path.symlink_to(folder / "b.yaml")
        case "dangling link":
            path.symlink_to(folder / "nowhere")
        case "capitals":
            (folder / "AIR.YAML").write_text("altitude: 3 m\n")
        case "text editor":
            (folder / "air.yaml.txt").write_text("altitude: 3 m\n")
        case "copy of an editor":
            (folder / "air.yml~").write_text("altitude: 3 m\n")
        case "folder within":
            (folder / "more" / "inner").mkdir(parents=True)
            (folder / "more" / "inner" / "air.yaml").write_text("altitude: 3 m\n")
        case "folder with the ending":
            path.mkdir()
            (path / "air.yaml").write_text("altitude: 3 m\n")
        case "pipe":
            os.mkfifo(path)
        case "name that is not UTF-8":
            (folder / os.fsdecode(b"\xff.yaml")).write_text("altitude: 3 m\n")


@pytest.mark.parametrize("kind, what", [("loop of links", "is a link to nothing"), ("dangling link", "is a link to nothing"), ("capitals", "is not read"),
                                        ("text editor", "nearest: air.yaml"), ("copy of an editor", "nearest: air.yaml"),
                                        ("folder within", "'inner/air.yaml' in it is not read"), ("folder with the ending", "is a folder"),
                                        ("pipe", "is not a plain file"), ("name that is not UTF-8", "has a name that is not text")])
def test_what_would_be_passed_over_is_told(folder, kind, what):
    (folder / "project.yaml").write_text("name: Trial\n")
    made(folder, kind)
    with pytest.raises(Faults) as found:
        read("projects/trial")
    assert what in str(found.value).encode("utf-8").decode() and len(found.value.faults) == (2 if kind == "loop of links" else 1)


@pytest.mark.parametrize("refused", ["iterdir", "read_bytes", "stat"])
def test_what_the_system_refuses_is_one_line(folder, monkeypatch, refused):
    from pathlib import Path

    (folder / "project.yaml").write_text("name: Trial\n")
    own = getattr(Path, refused)

    def deny(path, *arguments, **more):
        if path.suffix == ".yaml" or refused == "iterdir":
            raise PermissionError(13, "Permission denied")
        return own(path, *arguments, **more)

    monkeypatch.setattr(Path, refused, deny)
    with pytest.raises(Faults, match="permission denied"):
        read("projects/trial")


def test_pictures_and_hidden_files_beside_the_text_are_left_alone(folder):
    for name in ("drawings", ".git"):
        (folder / name).mkdir()
    (folder / "drawings" / "plan.svg").write_text("")
    (folder / ".git" / "old.yaml").write_text("altitude: 3 m\n")
    (folder / ".#air.yaml").symlink_to("somebody@somewhere:123")  # an editor's lock
    (folder / "project.yaml").write_text("name: Trial\n")
    assert read("projects/trial").files == ("project.yaml",)


def test_the_name_of_a_project_is_a_word(tmp_path):
    (tmp_path / "my plant").mkdir()
    (tmp_path / "my plant" / "project.yaml").write_text("name: Trial\n")
    with pytest.raises(Faults, match="a project cannot be called 'my plant'"):
        read(tmp_path / "my plant")


def test_a_project_is_read_from_within(folder, monkeypatch):
    (folder / "project.yaml").write_text("name: Trial\n")
    monkeypatch.chdir(folder)
    assert read(".").slug == "trial"


@pytest.mark.parametrize("name, why", [("a\0b", "is no name of a file"), ("a" * 5000, "is no name of a file"),
                                       ("../secret.epw", "lies outside the project folder"),
                                       ("nowhere.epw", "is not there"), ("", "is not there"), ("loop.epw", "is no name of a file")])
def test_the_name_of_a_weather_file_may_be_anything(folder, name, why):
    (folder / "loop.epw").symlink_to(folder / "loop.epw")
    assert Folder(folder, "projects/trial").file(name) == (None, why)


def test_whatever_counts_is_whole():
    """Terms that count by their words, and those whose formula yields whole numbers of whole numbers."""
    named = {term.id for term in map(terms().get, asked_in()) if term.meaning.startswith("Number of") or term.id.endswith(("_count", "_sets")) or
             term.id.startswith("sets_")}
    derived = {producer.id for producer in catalogue().producers.values() if isinstance(producer, Formula) and terms()[producer.id].unit == "1"
               and is_whole(producer.expression)}
    halves = {"exhaust_bends", "reference_bus_sets", "cable_bend_multiple", "turns_per_cycle", "sets_per_exhaust_pipe_max",
              "load_bank_room_share", "permit_inside"}  # half a bend, eight and a half, shares
    assert len(named) > 20 and len(derived) > 30
    assert {term_id for term_id in named | derived if not terms()[term_id].whole} <= halves


def is_whole(node):
    """Whether an expression yields whole numbers, its counts being whole."""
    match node:
        case ast.Name(id=name):
            return name in terms() and terms()[name].whole
        case ast.Constant(value=value):
            return not isinstance(value, str) and float(value).is_integer()
        case ast.Call(func=ast.Name(id=function), args=args):
            return function in ("ceil", "floor", "count_over") or (function in ("min", "max") and all(map(is_whole, args))) or (
                function in ("sum_over", "max_over", "min_over", "pick") and is_whole(args[1]))
        case ast.BinOp(op=ast.Add() | ast.Sub() | ast.Mult(), left=left, right=right) | ast.IfExp(body=left, orelse=right):
            return is_whole(left) and is_whole(right)
    return False


@pytest.mark.parametrize("written, wanted", [("radiator_placement:\n", "one of mounted, remote"), ("power_frequency:\n", "a number with a unit such as Hz"),
                                             ("spare_sets:\n", "a plain number"), ("exhaust_size_chosen:\n", "the id of one of exhaust_sizes"),
                                             ("status_date:\n", "a day such as 2026-11-20: year, month, day; where the plant has none, leave the key out"),
                                             ("bank_hire:\n", "a number with a unit such as EUR; where the plant has none, leave the key out"),
                                             ("growth_horizon:\n", "a number with a unit such as year; where the plant has none, leave the key out"),
                                             ("test_hours_max:\n", "a number with a unit such as h; where the plant has none, leave the key out")])
def test_a_key_without_value_is_told_what_may_stand_there(tmp_path, written, wanted):
    """That it may be left out is said only of one that may: without the others there is no book."""
    (tmp_path / "project.yaml").write_text("name: Plain\nchapters: [plant]\n" + written, "utf-8")
    with pytest.raises(Faults, match=f"has no value; expected {wanted}; see: basis show {written[:-2]}$"):
        read(tmp_path)


def test_a_missing_number_is_told_without_the_unit_one(tmp_path):
    (tmp_path / "project.yaml").write_text("name: Plain\nchapters: [loads]\n", "utf-8")
    with pytest.raises(Faults) as told:
        load(tmp_path)
    assert "a unit such as 1" not in str(told.value)
    assert "missing 'rating_class'" in str(told.value) and "one of ESP, PRP, LTP, COP, DCP" in str(told.value)


def test_a_book_of_unknown_chapters_only_is_told_as_such(folder):  # it ended in a trace
    (folder / "project.yaml").write_text("chapters: [plants, lods]\n")
    with pytest.raises(Faults) as found:
        load("projects/trial")
    assert [(fault.what, fault.nearest) for fault in found.value.faults] == [("unknown chapter 'lods'", "loads"), ("unknown chapter 'plants'", "plant")]


@pytest.mark.parametrize("line, told", [
    ("fuel_transfer_pump_flow: 3 gph", "unknown unit 'gph'; expected a unit such as L/min or gpm"),  # not nearest: gpm, sixty times as much
    ("outdoor_temperature_max: 97 F", "97 F is of the wrong dimension; expected a unit such as degC or degF"),
    ("hours_per_year_tests: 12 hours", "unknown unit 'hours'; expected a unit such as h"),
    ("set_rated_power: 400 kw", "unknown unit 'kw'; expected a unit such as kW; nearest: kW"),
    ("altitude: 1800", "1800 has no unit; expected a unit such as m or ft"),
    ("restriction_allowed: 0.5 in wg", "unit 'in wg' cannot be read at 'wg'; expected a unit such as Pa or inH2O"),
    ("commissioning_date: 03/01/2027", "'03/01/2027' is no day; expected a day such as 2026-11-20: year, month, day"),
])
def test_what_people_type_is_told_with_the_units_of_the_quantity(tmp_path, line, told):
    (tmp_path / "project.yaml").write_text("name: Typed\n", "utf-8")
    (tmp_path / "plant.yaml").write_text(f"{line}\n", "utf-8")
    with pytest.raises(Faults) as found:
        read(tmp_path)
    assert str(found.value).endswith(told)
