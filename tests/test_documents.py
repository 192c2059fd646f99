"""README and DEVELOPERS say what is there: paths exist, commands are the ones that run."""

import re
from pathlib import Path

from click.testing import CliRunner

from basis.terminal.cli import main

ROOT = Path(__file__).parent.parent


def test_paths_named_in_developers_exist():
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    assert len(text.splitlines()) <= 150
    for path in re.findall(r"`((?:basis|tests|templates|projects)/[A-Za-z0-9_/.-]+)`", text):
        assert (ROOT / path).exists(), path


def test_commands_of_the_readme_run(monkeypatch):
    monkeypatch.chdir(ROOT)
    for line in re.findall(r"`basis ((?:show|try) [^`]*)`", (ROOT / "README.md").read_text("utf-8")):
        words = [word.strip("'") for word in re.findall(r"[^\s']*'[^']*'|\S+", line)]
        words = [word.replace("'", "") for word in words]
        told = CliRunner().invoke(main, words)
        assert told.exit_code == 0, told.output


def test_ci_runs_the_readmes_test_command():
    readme = (ROOT / "README.md").read_text("utf-8")
    command = next(line for line in readme.splitlines() if "pytest" in line and line.startswith("python3"))
    assert command in (ROOT / ".ci" / "run").read_text("utf-8")


def test_the_top_level_is_as_agreed():
    allowed = {"README.md", "DEVELOPERS.md", "mkdocs.yml", "pyproject.toml", "basis", "templates", "projects", "equipment", "tests"}
    import subprocess

    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True).stdout.split()
    assert {path.split("/")[0] for path in tracked if not path.startswith(".")} <= allowed
