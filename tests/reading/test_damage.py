"""Project text damaged as people and editors do it: faults with file and line, or a book, and never anything else.

`python tests/damage.py` damages as many trees as one likes; those that once gave something else, or were thought of, stand here.
"""

import random
import re
from pathlib import Path

import pytest
from damage import ROOT, outcome, wounds
from demos import demo_copy

import basis
from basis.language.faults import Faults

TARN = ROOT / "projects" / "high-tarn-waterworks"
CHAPTERS = "chapters: [plant, loads, ventilation, cooling, cables, short_circuit, starting, fuel]"
# File, the words that are there, what stands in their place: each is a fault of that line.
CORPUS = [
    ("ventilation.yaml", "recirculation_fraction: {value: 4 %", "recirculation_fraction: {value: -4 %"),
    ("ventilation.yaml", "recirculation_fraction: {value: 4 %", "recirculation_fraction: {value: [4 %]"),
    ("ventilation.yaml", "recirculation_fraction: {value: 4 %", "recirculation_fraction: {value: {of: 4 %}"),
    ("plant.yaml", "outdoor_temperature_min: {value: -29 degC", "outdoor_temperature_min: {value: -29 K"),
    ("plant.yaml", "outdoor_temperature_min: {value: -29 degC", "outdoor_temperature_min: {value: -29 degC/h"),
    ("plant.yaml", "outdoor_temperature_min: {value: -29 degC", "outdoor_temperature_min: {value: -29 degC, unit: degF"),
    ("plant.yaml", "outdoor_temperature_min: {value: -29 degC", "outdoor_temperature_min: {file: -29 degC"),
    ("loads.yaml", "spare_sets: 1", "spare_sets: one"),
    ("loads.yaml", "spare_sets: 1", "spare_sets: 0.5"),
    ("loads.yaml", "spare_sets: 1", "spare_sets: 1 kW"),
    ("loads.yaml", "spare_sets: 1", "spare_sets: [1, 1]"),
    ("loads.yaml", "spare_sets: 1", "spare_sets: {1: 1}"),
    ("loads.yaml", "spare_sets: 1", "spare_sets: 8"),
    ("loads.yaml", "sets_out: 0", "sets_out: -1"),
    ("loads.yaml", "sets_out: 0", "sets_out: 3"),
    ("loads.yaml", "id: one_set", "id: [one_set]"),
    ("loads.yaml", "id: one_set", "id: both"),
    ("loads.yaml", "id: one_set", "id: One set"),
    ("loads.yaml", "running_case_load: essential", "running_case_load: essentials"),
    ("starting.yaml", "receiver_pressure_min: {value: 110 psi", "receiver_pressure_min: {value: 11000 psi"),
    ("fuel.yaml", "fuel_temperature_min: {value: 10 degF", "fuel_temperature_min: {value: 10 delta_degF"),
    ("fuel.yaml", "fuel_temperature_min: {value: 10 degF", "fuel_temperature_min: {value: 10 degF, plus_minus: 5 %"),
    ("fuel.yaml", "fuel_temperature_min: {value: 10 degF", "fuel_temperature_min: {value: 10 degF, plus_minus: 3 degF"),
    ("fuel.yaml", "fuel_temperature_min: {value: 10 degF", "fuel_temperature_min: {value: 10 degF, standing: perhaps"),
    ("fuel.yaml", "fuel_temperature_min: {value: 10 degF", "fuel_temperature_min: {value: 10 degF, value: 11 degF"),
]


@pytest.fixture
def tarn(tmp_path):
    """A copy of a demo project with some of its chapters."""
    folder = demo_copy("high-tarn-waterworks", tmp_path / "tarn")
    text = (folder / "project.yaml").read_text("utf-8")
    (folder / "project.yaml").write_text(re.sub(r"(?m)^chapters: .*", CHAPTERS, text), "utf-8")
    return folder


@pytest.mark.parametrize("name, there, damaged", CORPUS, ids=lambda one: one)
def test_each_wound_is_told_at_its_line(tarn, name, there, damaged):
    text = (tarn / name).read_text("utf-8")
    (tarn / name).write_text(text.replace(there, damaged, 1), "utf-8")
    with pytest.raises(Faults) as found:
        basis.load(tarn)
    line = text[:text.index(there)].count("\n") + 1
    told = {(Path(fault.file).name, fault.line) for fault in found.value.faults}
    assert told == {(name, line)}, found.value


@pytest.mark.parametrize("number", range(24))
def test_any_wound_ends_in_faults_or_a_book(tarn, number):
    files = {path.name: path.read_text("utf-8") for path in tarn.glob("*.yaml")}
    for name, text in wounds(files, random.Random(number)).items():
        (tarn / name).unlink() if text is None else (tarn / name).write_bytes(text.encode("utf-8", "surrogateescape"))
    assert outcome(tarn) == ""
