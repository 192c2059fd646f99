"""`check` recalls what it told of a text that stands as it did, and solves anew what has changed."""

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

import basis
from basis.language import user_cache
from basis.terminal.checks import check_lines, checked
from basis.terminal.cli import main

ROOT = Path(__file__).parent.parent.parent
SLUG = "cobble-key-exchange"


@pytest.fixture
def projects(tmp_path, monkeypatch):
    """A copy of one demo and of the data sheets, with an empty cache folder."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    shutil.copytree(ROOT / "projects" / SLUG, tmp_path / "projects" / SLUG)
    shutil.copytree(ROOT / "equipment", tmp_path / "equipment")
    return tmp_path / "projects"


@pytest.fixture
def solved(monkeypatch):
    """The folders that were solved, in order."""
    found, load = [], basis.load
    monkeypatch.setattr(basis, "load", lambda folder: found.append(folder.name) or load(folder))
    return found


def test_the_same_text_is_told_the_same_and_is_not_solved_again(projects, solved):
    runs = [CliRunner().invoke(main, ["check", *more, "--projects", str(projects)]) for more in (["--all"], ["--all"], ["--json"], ["--json"])]
    assert solved == [SLUG]
    assert runs[0].output == runs[1].output and runs[2].output == runs[3].output and {run.exit_code for run in runs} == {runs[0].exit_code}


def test_what_the_text_rests_on_moves_the_digest(projects, solved):
    def told():
        return list(check_lines(checked(projects, [SLUG]), everything=True))
    first = told()
    weather = next(path for path in (projects / SLUG).iterdir() if path.suffix != ".yaml" and path.is_file())
    sheet = next((projects.parent / "equipment").glob("*.yaml"))
    for path in (projects / SLUG / "project.yaml", weather, sheet):
        with path.open("a", encoding="utf-8") as file:
            file.write("\n")
        told()
    assert solved == [SLUG] * 4
    name = basis.load(projects / SLUG).project.name
    text = (projects / SLUG / "project.yaml").read_text("utf-8")
    (projects / SLUG / "project.yaml").write_text(text.replace(name, "Renamed by a save"), encoding="utf-8")
    assert "Renamed by a save" in told()[0] and name in first[0]


def test_a_damaged_issue_is_told_although_the_text_is_sound(projects, solved):
    assert not checked(projects, [SLUG]).faults
    (projects / SLUG / "issued").mkdir(exist_ok=True)
    (projects / SLUG / "issued" / "Z.csv").write_text("half", encoding="utf-8")
    found = checked(projects, [SLUG])
    assert found.faults and "issued/Z.csv" in found.faults[0].file and found.projects


def test_faults_are_never_kept(projects, solved):
    (projects / SLUG / "project.yaml").write_text("name: [", encoding="utf-8")
    runs = [CliRunner().invoke(main, ["check", "--projects", str(projects)]) for _ in range(2)]
    assert solved == [SLUG] * 2 and runs[0].output == runs[1].output and runs[0].exit_code == 1


def test_another_program_solves_anew(projects, solved, monkeypatch):
    checked(projects, [SLUG])
    monkeypatch.setattr(user_cache, "program", lambda: "of another version")
    checked(projects, [SLUG])
    assert solved == [SLUG] * 2
