"""The program as a team uses it: the wheel, in an empty folder with its own git, templates and tables inside, own templates on top."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from demos import demo_copy

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """A folder with nothing but what the wheel holds."""
    made, target = tmp_path_factory.mktemp("wheel"), tmp_path_factory.mktemp("installed")
    source = tmp_path_factory.mktemp("source") / "tree"
    shutil.copytree(ROOT, source, ignore=shutil.ignore_patterns(".git", ".venv", "site-packages", "__pycache__", "*.egg-info"))
    pip = [sys.executable, "-m", "pip", "-q"]
    subprocess.run([*pip, "wheel", "--no-deps", "--no-build-isolation", "-w", made, source], check=True)
    subprocess.run([*pip, "install", "--no-deps", "--target", target, next(made.glob("*.whl"))], check=True)
    return target


@pytest.fixture
def team(installed, tmp_path):
    """An empty folder with its own git, and a function that runs the installed program there."""
    subprocess.run(["git", "init", "-q", str(tmp_path)], check=True)
    env = {**os.environ, "PYTHONPATH": str(installed), "NO_COLOR": "1"}

    def run(*words):
        return subprocess.run([sys.executable, "-P", "-m", "basis", *words], cwd=tmp_path, env=env, capture_output=True, text=True)
    return tmp_path, run


def test_the_wheel_is_what_runs(installed, team):
    folder, _ = team
    told = subprocess.run([sys.executable, "-P", "-c", "import basis; print(basis.__file__)"], cwd=folder, env={**os.environ, "PYTHONPATH": str(installed)},
                          capture_output=True, text=True)
    assert told.stdout.startswith(str(installed))


def test_new_check_build_in_an_empty_folder(team):
    folder, run = team
    assert run("new", "bell-yard").returncode == 0
    assert run("check").returncode == 1
    shutil.rmtree(folder / "projects" / "bell-yard")
    demo_copy("cobble-key-exchange", folder / "projects" / "bell-yard")
    assert run("check", "--fail-on", "never").returncode == 0
    built = run("build")
    assert built.returncode == 0, built.stderr
    assert (folder / "site" / "bell-yard" / "ventilation-sheet.html").exists()
    assert sorted(path.name for path in folder.iterdir()) == [".git", ".gitignore", "equipment", "mkdocs.yml", "projects", "site"]


def test_a_teams_own_template_replaces_the_packaged_one(team):
    folder, run = team
    project = demo_copy("cobble-key-exchange", folder / "projects" / "bell-yard") / "project.yaml"
    project.write_text(re.sub(r"(?m)^chapters: .*$", "chapters: [plant, ventilation]", project.read_text("utf-8")), "utf-8")
    (folder / "templates").mkdir()
    (folder / "templates" / "ventilation.md.j2").write_text('Our own words on {{ value("outdoor_air_density") }}.\n\n{{ verdicts() }}\n')
    assert run("build").returncode == 0
    assert "Our own words on" in (folder / "site" / "bell-yard" / "ventilation.html").read_text("utf-8")


def test_a_fault_in_a_teams_template_names_its_line(team):
    folder, run = team
    demo_copy("cobble-key-exchange", folder / "projects" / "bell-yard")
    (folder / "templates").mkdir()
    (folder / "templates" / "ventilation.md.j2").write_text("Words.\n\n{{ value(\"outdoor_air_densty\") }} is 12 kW.\n")
    told = run("build")
    assert told.returncode == 1 and "ventilation.md.j2:3" in told.stderr and "Traceback" not in told.stderr, told.stderr
