"""A project of one chapter, small enough for its effects to be worked out by hand, and edits of its text."""

import dataclasses
from pathlib import Path

from demos import demo_copy

import basis
from basis.record.compare import compare
from basis.record.issuing import issue, record_of

ROOT = Path(__file__).parent.parent

PROJECT = "name: Pump house\nchapters: [plant]\n"
PLANT = """altitude: {value: 0 m, note: "harbour wall", standing: assumed}
outdoor_temperature_max: 34 degC
outdoor_temperature_min: -10 degC
outdoor_relative_humidity: 60 %
hours_per_year_tests: {value: 40 h, note: "one hour a week in season"}
hours_per_year_outages: 30 h
test_hours_max: 50 h
"""


def written(folder: Path, *edits: tuple[str, str], name: str = "pump-house") -> Path:
    """The folder of the small project, its text with some words exchanged."""
    place = folder / name
    place.mkdir(parents=True, exist_ok=True)
    plant, project = PLANT, PROJECT
    for old, new in edits:
        assert old in plant + project, old
        plant, project = plant.replace(old, new), project.replace(old, new)
    (place / "project.yaml").write_text(project, "utf-8")
    (place / "plant.yaml").write_text(plant, "utf-8")
    return place


def issued(place: Path, revision: str = "A", date: str = "2026-03-02", note: str = "for approval") -> Path:
    """The record of the folder as it stands."""
    return issue(basis.load(place), revision, date, note)


def record(folder: Path, *edits: tuple[str, str]):
    """The record of the small project with some words exchanged, without a file."""
    return record_of(basis.load(written(folder, *edits)))


def compared(folder: Path, *edits: tuple[str, str]):
    """The small project compared with itself with some words exchanged."""
    return compare(record(folder), record(folder, *edits))


def by_id(found) -> dict:
    """Results that moved, by id."""
    return {value.id: value for values in found.results.values() for value in values}


def with_number(have, value_id: str, number: str):
    """A record in which one number is another."""
    return dataclasses.replace(have, values={**have.values, value_id: have.values[value_id]._replace(number=number)})


def exchange(folder: Path, chapters: str = "") -> Path:
    """A copy of the smallest demo without its issues, with some of its chapters."""
    place = folder / "cobble-key-exchange"
    demo_copy("cobble-key-exchange", place)
    if chapters:
        lines = (place / "project.yaml").read_text("utf-8").splitlines()
        (place / "project.yaml").write_text("\n".join(f"chapters: [{chapters}]" if line.startswith("chapters") else line for line in lines), "utf-8")
    return place
