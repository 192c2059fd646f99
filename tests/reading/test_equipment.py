"""Makers' data sheets: their values stand where a project, an option or an item uses them and gives none itself."""

import shutil
import subprocess
from pathlib import Path

import pytest
from demos import ROOT

import basis
from basis.language.faults import Faults
from basis.reading.equipment import sheet_files
from basis.reading.project import read
from basis.record.issuing import text_digest
from basis.record.sides import side

SHEET = """name: Set of 1600 kW
source: D-104 rev. B
set_rated_power: {value: 1600 kW, note: at the terminals}
engine_speed: {value: 1500 rpm, source: plate}
fan_points:
  - {id: rated, name: Rated, fan_point_airflow: 34 m^3/s, fan_point_pressure: 125 Pa}
"""
LOUVRE = "name: Louvre\nfree_area_ratio: 45 %\nelement_loss_coefficient: 3.5\n"


@pytest.fixture
def place(tmp_path, monkeypatch):
    """A folder of a team, with two data sheets, and a function that writes the one project's text."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "equipment").mkdir()
    (tmp_path / "equipment" / "set-1600.yaml").write_text(SHEET)
    (tmp_path / "equipment" / "louvre-45.yaml").write_text(LOUVRE)
    (tmp_path / "projects" / "yard").mkdir(parents=True)

    def write(text):
        (tmp_path / "projects" / "yard" / "plant.yaml").write_text(text)
        return Path("projects/yard")
    return write


def told(folder):
    with pytest.raises(Faults) as found:
        read(folder)
    return [(fault.file, fault.line, fault.what, fault.nearest) for fault in found.value.faults]


def test_a_sheet_gives_what_the_project_does_not(place):
    project = read(place("use: [set-1600]\n"))
    power = project.givens[("set_rated_power", "")]
    assert (power.data, power.file, power.line, power.over) == (1.6e6, "equipment/set-1600.yaml", 3, None)
    assert (power.note, power.source) == ("at the terminals", "D-104 rev. B")
    assert project.givens[("engine_speed", "")].source == "plate"
    assert project.items["fan_point"] == ("rated",) and project.names["fan_point"]["rated"] == "Rated"
    assert project.givens[("fan_point_pressure", "rated")].data == 125 and [sheet.name for sheet in project.sheets] == ["set-1600.yaml"]


def test_the_projects_own_value_stands_and_says_what_it_replaces(place):
    project = read(place("set_rated_power: 1500 kW\nuse: [set-1600]\nfan_points:\n  - {id: rated, name: Ours, fan_point_pressure: 100 Pa}\n"))
    power = project.givens[("set_rated_power", "")]
    assert power.data == 1.5e6 and power.instead == "in place of 1600 kW of equipment/set-1600.yaml:3"
    assert project.givens[("fan_point_pressure", "rated")].data == 100 and project.givens[("fan_point_airflow", "rated")].data == 34
    assert project.names["fan_point"]["rated"] == "Ours"


def test_items_take_what_is_theirs_of_a_sheet(place):
    project = read(place("openings:\n  - {id: north, gross_area: 3 m^2, use: [louvre-45]}\n"
                         "air_elements:\n  - {id: louvre, element_opening: north, use: [louvre-45]}\n"))
    assert project.givens[("free_area_ratio", "north")].data == 0.45 and project.givens[("element_loss_coefficient", "louvre")].line == 3
    assert ("element_loss_coefficient", "north") not in project.givens


def test_an_option_may_use_another_sheet(place):
    (Path("equipment") / "set-2000.yaml").write_text("set_rated_power: 2000 kW\n")
    project = read(place("use: [set-1600]\ndecisions:\n  - id: size\n    chosen: small\n    reason: it is enough\n    options:\n"
                         "      - {id: small, with: {}}\n      - {id: large, with: {use: [set-2000]}}\n"))
    assert project.givens[("set_rated_power", "")].data == 1.6e6
    assert project.decisions[0].options[1].givens[("set_rated_power", "")].data == 2e6


WRONG = {
    "no such sheet": ("use: [set-160]\n", "", ("projects/yard/plant.yaml", 1, "no data sheet 'set-160'", "set-1600")),
    "a sheet elsewhere": ("use: [../secret]\n", "", ("projects/yard/plant.yaml", 1, "no data sheet '../secret'", "")),
    "no list": ("use: set-1600\n", "", ("projects/yard/plant.yaml", 1, "one value stands here", "")),
    "an unknown key": ("use: [odd]\n", "name: Odd\nset_rated_powr: 3 kW\n", ("equipment/odd.yaml", 2, "unknown key 'set_rated_powr'", "set_rated_power")),
    "a wrong unit": ("use: [odd]\n", "set_rated_power: 3 m\n", ("equipment/odd.yaml", 1, "'set_rated_power': 3 m is of the wrong dimension", "")),
    "a sheet that uses one": ("use: [odd]\n", "fan_points:\n  - {id: a, use: [set-1600]}\n", ("equipment/odd.yaml", 2, "'use' in a data sheet", "")),
    "two sheets that say the same": ("use: [set-1600, odd]\n", "engine_speed: 1800 rpm\n",
                                     ("equipment/odd.yaml", 1, "'engine_speed' is given twice", "equipment/set-1600.yaml:4")),
    "a wrong value behind the project's own": ("engine_speed: 1500 rpm\nuse: [odd]\n", "engine_speed: fast\n",
                                               ("equipment/odd.yaml", 1, "'engine_speed': 'fast' is not a number with a unit", "")),
    "an empty sheet": ("use: [odd]\n", "", ("equipment/odd.yaml", 1, "the file is empty", "")),
}


@pytest.mark.parametrize("case", WRONG)
def test_what_is_wrong_is_told_where_it_stands(place, case):
    text, sheet, expected = WRONG[case]
    if "odd" in text:
        (Path("equipment") / "odd.yaml").write_text(sheet)
    assert expected in told(place(text))


def test_the_digest_of_the_text_moves_with_a_sheet(tmp_path, monkeypatch):
    shutil.copytree(ROOT / "equipment", tmp_path / "equipment")
    shutil.copytree(ROOT / "projects" / "cobble-key-exchange", tmp_path / "projects" / "key")
    monkeypatch.chdir(tmp_path)
    before = text_digest(basis.load("projects/key"))
    path = tmp_path / "equipment" / "air-receiver-500.yaml"
    path.write_text(path.read_text("utf-8").replace("500 L\nreceiver_pressure", "600 L\nreceiver_pressure"), "utf-8")
    book = basis.load("projects/key")
    assert book["receiver_volume"].number == pytest.approx(0.6) and text_digest(book) != before


def test_the_page_says_what_a_given_replaces(books):
    from basis.site.tables import given_line
    from basis.solving.working import lines

    book = books["cobble-key-exchange"]
    pressure = book["receiver_pressure_max"]
    assert "in place of 30 bar of air-receiver-500.yaml:6" in given_line(pressure.given)
    assert "in place of 30 bar" in " ".join(lines(book.values, pressure, book.project.names))


def test_a_commit_is_read_with_its_sheets(place, tmp_path):
    folder = place("chapters: [plant]\n" + "".join(f"{line}\n" for line in (
        "place: Yard", "purpose: A trial", "altitude: 60 m", "outdoor_temperature_max: 34 degC", "outdoor_temperature_min: -10 degC",
        "outdoor_relative_humidity: 40 %", "currency: EUR", "use: [mains]")))
    sheet = tmp_path / "equipment" / "mains.yaml"
    sheet.write_text("power_frequency: 50 Hz\n")
    git = ["git", "-c", "user.name=t", "-c", "user.email=t@example.org"]
    for words in (["init", "-q"], ["add", "."], ["commit", "-qm", "first"]):
        subprocess.run([*git, *words], check=True)
    sheet.write_text("power_frequency: 60 Hz\n")
    record = side(folder, "HEAD", ())
    assert float(record.values["power_frequency"].number) == 50 and basis.load(folder)["power_frequency"].number == 60


def test_a_project_that_is_a_link_uses_the_sheets_beside_the_link(place, tmp_path):
    elsewhere = tmp_path / "store" / "deep" / "yard"
    elsewhere.mkdir(parents=True)
    (elsewhere / "plant.yaml").write_text("use: [set-1600]\n")
    (tmp_path / "projects" / "link").symlink_to(elsewhere)
    assert read(Path("projects/link")).givens[("set_rated_power", "")].file == "equipment/set-1600.yaml"
    assert [path.name for path in sheet_files(Path("projects/link"))] == ["louvre-45.yaml", "set-1600.yaml"]
