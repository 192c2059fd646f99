"""The schema for editors: a public checker of JSON Schema (check-jsonschema) takes all project text that the program takes, and refuses what a slip makes."""

import json
import random
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from damage import wounds
from demos import demo_copy

import basis
from basis.chapters import catalogue
from basis.language.faults import Faults
from basis.terminal.cli import main
from basis.terminal.json_schema import json_schema

ROOT = Path(__file__).parents[2]
DEMOS = sorted((ROOT / "projects").glob("*/*.yaml"))
TARN = ROOT / "projects" / "high-tarn-waterworks"
WOUNDS = 60
SLIPS = {  # what people write by mistake -> words of the message
    "altitud: 60 m\n": "altitud",
    "altitude: 60 metres\n": "60 metres",
    "altitude: 60\n": "60",
    "outdoor_temperature_max: 12 kW\n": "12 kW",
    "altitude: {value: 60 m, nota: x}\n": "nota",
    "altitude: {value: 60 m, standing: assume}\n": "assume",
    "altitude: {note: x}\n": "note",
    "rating_class: EPS\n": "EPS",
    "standard_gravity: 9.8 m/s^2\n": "standard_gravity",
    "spare_sets: -1\n": "-1",
    "installed_sets: three\n": "three",
    "loads:\n  - note: x\n": "id",
    "loads:\n  - {id: North-1}\n": "North-1",
    "openings:\n  - {id: north, gros_area: 2 m^2}\n": "gros_area",
    "gross_area: 3 m^2\n": "gross_area",
    "machines:\n  - {id: a, machine_spectrum: [90, 91]}\n": "[90, 91]",
    "chapters: [plants]\n": "plants",
    "remarks: {no_such_check: x}\n": "no_such_check",
    "questions:\n  - {id: Q-1, date: 2026-05-11, role: inspector, about: altitude, text: Why?, state: opn}\n": "opn",
    "decisions:\n  - {id: a, chosen: b, reason: c, options: [{id: b, wiht: {}}]}\n": "wiht",
}


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """Checks files with the public checker, and returns by file what it says; the text of the schema comes from the command line."""
    folder = tmp_path_factory.mktemp("schema")

    def run(files, of: str = "project") -> dict[str, list[str]]:
        place = folder / f"{of}.schema.json"
        place.write_text(CliRunner().invoke(main, ["schema", of]).stdout, "utf-8")
        done = subprocess.run([sys.executable, "-m", "check_jsonschema", "--schemafile", str(place), "--output-format", "json", *map(str, files)],
                              capture_output=True, text=True)
        found = json.loads(done.stdout)
        said: dict[str, list[str]] = {}
        for error in found.get("errors", ()):
            best = error.get("best_match") or {}
            said.setdefault(error["filename"], []).append(" ".join([error["message"], best.get("message", "")]))
        for error in found.get("parse_errors", ()):
            said.setdefault(error["filename"], [])
        return said
    return run


def test_the_same_text_each_time():
    assert CliRunner().invoke(main, ["schema"]).stdout == json.dumps(json_schema(catalogue()), ensure_ascii=False, indent=1) + "\n"


def test_an_editor_names_the_unit_in_which_the_quantity_is_shown():
    """Metres for a height above the sea and millimetres for a bore, although both are lengths."""
    made = json_schema(catalogue())

    def said(key, properties):
        return json.dumps(_unfolded(made, properties[key]))

    bores = made["$defs"]["item_of_fuel_pipes"]["properties"]
    assert "such as m." in said("altitude", made["properties"]) and "such as mm." not in said("altitude", made["properties"])
    assert "such as mm." in said("fuel_pipe_bore", bores) and "such as m." not in said("fuel_pipe_bore", bores)


def _unfolded(made, shape):
    """A shape with all that it refers to."""
    if isinstance(shape, list):
        return [_unfolded(made, one) for one in shape]
    if isinstance(shape, dict):
        whole = made["$defs"][shape["$ref"].rpartition("/")[2]] if "$ref" in shape else shape
        return {key: _unfolded(made, one) for key, one in whole.items()}
    return shape


def test_the_demo_projects_are_taken(told):
    assert told(DEMOS) == {}


def test_data_sheets_are_taken_and_their_slips_refused(told, tmp_path):
    odd = tmp_path / "odd.yaml"
    odd.write_text("receiver_volume: 500 kg\nelement_loss_coefficent: 3\n")
    said = told([*sorted((ROOT / "equipment").glob("*.yaml")), odd], "equipment")
    assert list(said) == [str(odd)] and any("element_loss_coefficent" in one for one in said[str(odd)]) and any("500 kg" in one for one in said[str(odd)])


def test_slips_are_refused_by_both(told, tmp_path):
    folders = {}
    for number, text in enumerate(SLIPS):
        folder = tmp_path / f"trial_{number}"
        folder.mkdir()
        (folder / "air.yaml").write_text(text)
        folders[str(folder / "air.yaml")] = (folder, text)
    said = told(folders)
    for path, (folder, text) in folders.items():
        assert any(SLIPS[text] in one for one in said.get(path, ())), (text, said.get(path))
        with pytest.raises(Faults):
            basis.load(folder)


def test_what_it_refuses_the_program_refuses_too(told, tmp_path):
    """Of text damaged at random: the program may know more, the schema never."""
    files = {path.name: path.read_text("utf-8") for path in TARN.glob("*.yaml")}
    damaged = {}
    for number in range(WOUNDS):
        ((name, text),) = wounds(files, random.Random(number)).items()
        if text is not None:
            path = tmp_path / f"wound_{number}.yaml"
            path.write_bytes(text.encode("utf-8", "surrogateescape"))
            damaged[str(path)] = (name, path.read_bytes())
    said, tree = told(damaged), demo_copy("high-tarn-waterworks", tmp_path / "projects" / "tree")
    assert len(said) > WOUNDS / 4
    for path, reasons in said.items():
        if reasons:  # else it is no YAML to the public reader
            assert _refused(tree, files, *damaged[path]), (path, reasons)


def _refused(folder, files, name, text) -> bool:
    for other, whole in files.items():
        (folder / other).write_text(whole, "utf-8")
    (folder / name).write_bytes(text)
    try:
        basis.load(folder)
    except Faults:
        return True
    return False
