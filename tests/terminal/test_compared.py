"""`basis compare` as a person, a program and a pull request read it."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from small_project import PLANT, issued, written

from basis.terminal.cli import main


@pytest.fixture
def place(tmp_path, monkeypatch):
    """The small project, issued once, with more tests in a year since: 60 h where 50 h are allowed."""
    monkeypatch.chdir(tmp_path)
    folder = written(Path("projects"))
    issued(folder, "A", "2026-03-02")
    (folder / "plant.yaml").write_text(PLANT.replace("value: 40 h", "value: 60 h"), "utf-8")
    return folder


def run(*words: str):
    return CliRunner().invoke(main, ["compare", "pump-house", *words])


def test_lines(place):
    told = run()
    assert told.exit_code == 3 and told.output == """Pump house: revision A of 2026-03-02 → the text as it stands: 2 numbers, 1 verdict

Verdicts that turned
  Running for tests in a year: holds (+20 %) → fails (−20 %); because of hours_per_year_tests

Inputs
  hours_per_year_tests: 40.0 h → 60.0 h (+50 %); note: one hour a week in season

Results: Plant and cautions
  running_hours_per_year: 70.0 h → 90.0 h (+28.6 %); because of hours_per_year_tests
"""


def test_markdown(place):
    told = run("--markdown")
    assert told.exit_code == 3
    assert "| Running for tests in a year | holds (+20 %) → fails (−20 %) | hours\\_per\\_year\\_tests |" in told.output.splitlines()
    assert told.output.startswith("**Pump house: revision A of 2026-03-02 → the text as it stands: 2 numbers, 1 verdict**\n")


def test_text_of_a_project_is_only_text_in_markdown(place):
    (place / "plant.yaml").write_text(PLANT.replace("one hour a week in season", "<b>|`x`</b> [a](b)").replace("value: 40 h", "value: 41 h"), "utf-8")
    told = run("--markdown")
    assert "\\<b\\>\\|\\`x\\`\\</b\\> \\[a\\](b)" in told.output


def test_plain_data(place):
    facts = json.loads(run("--json").stdout)
    assert facts["numbers_moved"] == 2 and facts["verdicts_worse"] == ["test_hours"] and facts["titles"][0] == "revision A of 2026-03-02"
    assert facts["results"]["plant"][0]["numbers"][0] == {"id": "running_hours_per_year", "old": "70.0 h", "new": "90.0 h", "change": "+28.6 %", "number": True,
                                                          "note": "", "old_standing": "", "new_standing": "",
                                                          "in_si": ["252000", "324000"], "old_note": ""}  # 70 h and 90 h of 3600 s
    assert facts["results"]["plant"][0]["because"] == [{"kind": "input", "id": "hours_per_year_tests", "old": "40.0 h", "new": "60.0 h"}]


def test_a_verdict_that_got_better_is_no_failure(place):
    issued(place, "B", "2026-03-09")
    (place / "plant.yaml").write_text(PLANT, "utf-8")
    told = run()
    assert told.exit_code == 0 and "fails (−20 %) → holds (+20 %)" in told.output


def test_nothing_differs(place):
    told = run("A", "A")
    assert told.exit_code == 0 and told.output == "Pump house: revision A of 2026-03-02 → revision A of 2026-03-02: nothing differs\n"


def test_calls_that_are_wrong(place):
    told = run("B")
    assert told.exit_code == 1 and told.stderr.startswith("compare pump-house: 'B' is no") and "Traceback" not in told.stderr
    assert run("A", "B", "C").exit_code == 2
    assert CliRunner().invoke(main, ["compare", "pump-hous"]).exit_code == 1


def test_a_long_comment_is_cut_between_tables(place, monkeypatch):
    monkeypatch.setattr("basis.terminal.compared.LONGEST_COMMENT", 400)
    told = run("--markdown").output
    assert "| Running for tests in a year |" in told and "Results: Plant and cautions: 1 row, too many for a comment; `basis compare` prints them" in told
