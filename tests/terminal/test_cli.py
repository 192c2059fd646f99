"""The commands as a person runs them: exit codes, faults as lines, working in the terminal, plain data for programs."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from demos import demo_copy

from basis.solving.working import record
from basis.terminal.checks import Checked, check_record, told_of
from basis.terminal.cli import main

ROOT = Path(__file__).parents[2]


@pytest.fixture
def run(monkeypatch):
    monkeypatch.chdir(ROOT)
    return lambda *words: CliRunner().invoke(main, list(words))


@pytest.fixture
def here(tmp_path, monkeypatch):
    """A folder of a team: one demo project in projects/."""
    demo_copy("cobble-key-exchange", tmp_path / "projects" / "cobble-key-exchange")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_help_shows_examples(run):
    told = run("--help")
    assert told.exit_code == 0 and "basis try" in told.output and "Examples" in told.output
    for command in main.commands:
        assert "Example" in run(command, "--help").output, command
    assert "..." not in told.output.partition("Commands:")[2].partition("Examples")[0]  # each command is told whole


def test_try_prints_the_working(run):
    # NEC 430.7(B) style hand calculation: 180 kW / (1.14 kg/m³ x 1006 J/(kg K) x 11 K) = 14.27 m³/s
    told = run("try", "ventilation_airflow", "heat_to_room=[180 kW]", "outdoor_air_density=1.14 kg/m^3", "air_heat_capacity=1006 J/(kg*K)",
               "room_temperature_rise=11 K")
    assert told.exit_code == 0, told.output
    assert "14.3 m³/s" in told.output and "180\u00a0kW" in told.output and "source" in told.output


def test_try_takes_other_units_and_plain_data(run):
    told = run("try", "set_rated_current", "set_rated_apparent_power=2000 kVA", "generating_voltage=13.8 kV", "--json")
    facts = json.loads(told.output)[0]
    assert facts["value_si"] == pytest.approx(83.67, rel=5e-4)  # 2000 kVA at 13.8 kV: 83.67 A, hand calculation
    assert facts["formula"] and facts["sources"]
    assert {one["id"]: one["standing"] for one in facts["inputs"]} == {"set_rated_apparent_power": "given", "generating_voltage": "given"}  # not computed


def test_try_tells_faults_together(run):
    told = run("try", "set_rated_current", "set_rated_apparent_power=2000 kW", "voltage=1 kV")
    assert told.exit_code == 1 and told.stderr.count("try:") == 3
    assert "nearest: kVA" in told.stderr and "'voltage' is not an input" in told.stderr and "missing 'generating_voltage'" in told.stderr
    assert run("try", "set_rated_curent").exit_code == 1 and "nearest: set_rated_current" in run("try", "set_rated_curent").stderr


def test_try_lists_inputs(run):
    told = run("try", "set_rated_current", "--help-inputs").output
    assert "generating_voltage='NUMBER V': Generating voltage" in told


def test_show_follows_a_number(run):
    told = run("show", "larkmere-hospital", "ventilation_airflow")
    assert told.exit_code == 0 and "input heat_to_room" in told.output and "used by" in told.output
    given = run("show", "larkmere-hospital", "altitude")
    assert "projects/larkmere-hospital/plant.yaml:" in given.output and "given: 60 m" in given.output


def test_show_in_another_option(run):
    chosen, other = (json.loads(run("show", "larkmere-hospital", "set_rated_current", "--json", *more).output)["value_si"]
                     for more in ((), ("--option", "generating_voltage_choice.low_voltage")))
    assert other == pytest.approx(chosen * 11_000 / 400, rel=1e-6)  # same kVA: current goes as one over the voltage


def test_show_names_the_nearest(run):
    told = run("show", "larkmere-hospital", "ventilation_airflo")
    assert told.exit_code == 1 and "nearest: ventilation_airflow" in told.stderr
    assert "nearest: larkmere-hospital" in run("show", "larkmere-hospitl", "altitude").stderr
    assert "nearest: generating_voltage_choice.low_voltage" in run("show", "larkmere-hospital", "altitude", "--option",
        "generating_voltage_choice.low_volt").stderr


def test_check_exit_codes(run):
    told = run("check", "--json")
    facts = json.loads(told.stdout)
    words = {verdict["verdict"] for project in facts["projects"] for verdict in project["checks"]}
    assert {"holds", "tight", "fails"} <= words and told.exit_code == 3 and facts["faults"] == []
    assert run("check", "--fail-on", "never").exit_code == 0
    assert run("check", "--explained-ok").exit_code == 0  # every failing check of the demo carries its remark


def test_nothing_to_check_is_told_and_is_no_failure(here):
    facts = json.loads(CliRunner().invoke(main, ["check", "--json"]).stdout)
    checks = {one["check"]: one for one in facts["projects"][0]["checks"]}
    empty, open_ = checks["fuel_pipe_pressure"], checks["cold_fuel"]
    assert (empty["verdict"], empty["unlisted"], empty["missing"], empty["value"]) == ("nothing to check", ["fuel_pipe"], [], None)
    assert (open_["verdict"], open_["unlisted"], open_["missing"]) == ("undecided", [], ["fuel_cold_limit"])
    told = CliRunner().invoke(main, ["check", "--fail-on", "undecided", "--all"])
    assert "nothing to check Suction and back-pressure of fuel pipes: no fuel pipes listed" in told.output and told.exit_code == 3
    counted = json.loads(CliRunner().invoke(main, ["check", "--json", "--fail-on", "undecided"]).stdout)["counted_against"]
    assert counted == sum(one["verdict"] in ("fails", "tight", "undecided") for one in checks.values())


def test_check_tells_faults_of_all_projects(here):
    path = next(path for path in sorted((here / "projects" / "cobble-key-exchange").glob("*.yaml")) if "altitude:" in path.read_text())
    path.write_text(path.read_text().replace("altitude:", "altitud:"))
    told = CliRunner().invoke(main, ["check"])
    assert told.exit_code == 1 and "unknown key 'altitud'" in told.stderr and "nearest: altitude" in told.stderr and "Traceback" not in told.stderr
    assert told.stderr.endswith("\n1 fault.\n") and not told.stdout
    facts = json.loads(CliRunner().invoke(main, ["check", "--json"]).stdout)
    assert facts["faults"][0]["line"] > 0


def test_new_makes_a_folder_that_check_leads_through(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    told = CliRunner().invoke(main, ["new", "bell-yard"])
    assert told.exit_code == 0 and "projects/bell-yard/plant.yaml" in told.output
    text = (tmp_path / "projects" / "bell-yard" / "plant.yaml").read_text()
    assert "altitude:  # in m or ft" in text and "# Altitude: Height of the plant above mean sea level." in text
    missing = CliRunner().invoke(main, ["check", "bell-yard"])
    assert missing.exit_code == 1 and "plant.yaml" in missing.stderr and "'altitude' has no value; expected a number with a unit such as m" in missing.stderr
    assert not any(word in missing.stderr for word in ("unknown key", "YAML cannot be read", "Traceback"))
    again = CliRunner().invoke(main, ["new", "bell-yard"])
    assert again.exit_code == 1 and "is there already" in again.stderr
    assert "nearest: bell-yard-2" in CliRunner().invoke(main, ["new", "Bell Yard 2"]).stderr


def test_new_makes_a_folder_of_the_chapters_asked_for(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    told = CliRunner().invoke(main, ["new", "bell-yard", "--chapters", "plant, hearin"])
    assert told.exit_code == 1 and "no chapter 'hearin'" in told.stderr and "nearest: hearing" in told.stderr and not (tmp_path / "projects").exists()
    assert CliRunner().invoke(main, ["new", "bell-yard", "--chapters", "plant, hearing"]).exit_code == 0
    folder = tmp_path / "projects" / "bell-yard"
    assert sorted(path.stem for path in folder.iterdir()) == ["hearing", "plant", "project"]
    assert "\nchapters: [plant, hearing]\n" in (folder / "project.yaml").read_text("utf-8")


def test_no_projects_is_told(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    told = CliRunner().invoke(main, ["check"])
    assert told.exit_code == 1 and "no such folder" in told.stderr


def test_no_colour_is_respected():
    env = {**os.environ, "NO_COLOR": "1"}
    plain = subprocess.run([sys.executable, "-m", "basis", "check", "--fail-on", "never"], cwd=ROOT, env=env, capture_output=True, text=True)
    assert plain.returncode == 0 and "\x1b[" not in plain.stdout


def test_build_keeps_the_last_good_book(here):
    assert CliRunner().invoke(main, ["build"]).exit_code == 0
    index = (here / "site" / "index.html").read_bytes()
    path = here / "projects" / "cobble-key-exchange" / "plant.yaml"
    good = path.read_text()
    path.write_text(good.replace("altitude: ", "altitude: x"))
    told = CliRunner().invoke(main, ["build"])
    assert told.exit_code == 1 and "is not a number" in told.stderr and "Traceback" not in told.output
    assert (here / "site" / "index.html").read_bytes() == index
    assert sorted(entry.name for entry in here.iterdir()) == ["equipment", "projects", "site"]


def test_json_holds_neither_nan_nor_infinity(books):
    """Every value of every book and every verdict, undecided ones and elements that are not given among them, as other programs read JSON."""
    blank = 0
    for book in books.values():
        data = [record(book.values, value) for value in book.values.values()]
        json.dumps([*data, check_record(Checked([told_of(book)], []))], allow_nan=False)
        blank += sum("null" in json.dumps(one["value_si"]) for one in data)
    assert blank > 20


@pytest.mark.parametrize("change, told", [
    (lambda projects: shutil.copytree(projects / "trial", projects / ".hidden"), None),
    (lambda projects: (projects / "notes.txt").write_text("no project"), None),
    (lambda projects: (projects / "second").symlink_to("trial"), None),
    (lambda projects: (projects / "empty").mkdir(), "projects/empty: holds no *.yaml file"),
    (lambda projects: (projects / "gone").symlink_to("nowhere"), "projects/gone: no such project folder"),
    (lambda projects: (projects / "trial").rename(projects / "index.html"), "projects/index.html: a project cannot be called 'index.html'"),
    (lambda projects: (projects / "odd.html").symlink_to("trial"), "projects/odd.html: a project cannot be called 'odd.html'"),
    (lambda projects: shutil.rmtree(projects / "trial"), "projects: holds no project"),
    (lambda projects: shutil.rmtree(projects), "projects: no such folder"),
    (lambda projects: (projects / "trial/fuel.yaml").symlink_to("/proc/self/mem"), "projects/trial/fuel.yaml: is a link that leaves the project folder"),
    (lambda projects: (projects / "trial/sheet.pdf").symlink_to("/proc/self/mem"), None),  # not even root can read it, and nobody needs to
], ids=["hidden", "a file", "a link", "no text", "a dangling link", "the name of a page", "a link called like a page", "none", "no folder", "a link outside",
        "another file that cannot be read"])
def test_check_and_build_see_the_same_projects(tmp_path, monkeypatch, change, told):
    trial = tmp_path / "projects/trial"
    trial.mkdir(parents=True)
    shutil.copy(ROOT / "projects/cobble-key-exchange/plant.yaml", trial)
    (trial / "project.yaml").write_text("name: Trial\ninvented: true\nchapters: [plant]\n")
    monkeypatch.chdir(tmp_path)
    change(tmp_path / "projects")
    check, build = (CliRunner().invoke(main, list(words)) for words in (("check", "--fail-on", "never"), ("build",)))
    assert check.exit_code == build.exit_code == bool(told), build.output
    faults = [[line for line in run.stderr.splitlines() if line.startswith("projects")] for run in (check, build)]
    assert faults[0] == faults[1] and (not told or faults[0][0].startswith(told)), faults
    if not told:
        facts = json.loads(CliRunner().invoke(main, ["check", "--json", "--fail-on", "never"]).stdout)
        assert {project["project"] for project in facts["projects"]} == {path.parent.name for path in (tmp_path / "site").glob("*/index.html")}


def test_the_benchmark_says_where_it_can_run(tmp_path):
    done = subprocess.run([sys.executable, "-m", "basis.benchmark", "serve"], cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True,
                          text=True)
    assert done.returncode == 1 and done.stderr.startswith("no projects/larkmere-hospital") and len(done.stderr.splitlines()) == 1, done.stderr


def test_issue_writes_a_record_and_check_tells_of_its_edit(here):
    def run_here(*words):
        return CliRunner().invoke(main, list(words))

    told = run_here("issue", "cobble-key-exchange", "A", "--note", "for approval", "--date", "2026-11-20", "--role", "prepared=2026-11-18")
    path = here / "projects" / "cobble-key-exchange" / "issued" / "A.csv"
    assert told.exit_code == 0 and told.output.startswith("projects/cobble-key-exchange/issued/A.csv: to be committed")
    assert "role,prepared,2026-11-18\n" in path.read_text("utf-8")
    assert run_here("issue", "cobble-key-exchange", "A", "--note", "again").exit_code == 1
    assert "is not written as ROLE=DATE" in run_here("issue", "cobble-key-exchange", "B", "--note", "x", "--role", "checked").output
    assert run_here("check", "cobble-key-exchange").exit_code == 3  # checks that fail, no fault
    path.write_text(path.read_text("utf-8").replace(",holds,", ",tight,", 1), "utf-8")
    told = run_here("check", "cobble-key-exchange", "--json")
    assert told.exit_code == 1 and json.loads(told.stdout)["faults"][0]["what"].startswith("was changed after it was issued")


@pytest.mark.parametrize("change, helps", [
    (("altitude:", "altitud:"), "basis find altitud"), (("altitude:", "altitude: #"), "basis show altitude"),
    (("altitude: ", "altitude: 900000 m #"), "basis show altitude"), (("power_frequency:", "# power_frequency:"), "basis show power_frequency")])
def test_a_fault_ends_in_the_command_that_helps(here, change, helps):
    """The command runs, and tells of what was meant."""
    path = here / "projects" / "cobble-key-exchange" / "plant.yaml"
    path.write_text(path.read_text().replace(*change, 1))
    told = CliRunner().invoke(main, ["check"])
    (line,) = [line for line in told.stderr.splitlines() if line.endswith(f"; see: {helps}")]
    assert helps in {fault["see"] for fault in json.loads(CliRunner().invoke(main, ["check", "--json"]).stdout)["faults"]}
    shown = CliRunner().invoke(main, helps.split()[1:])
    assert shown.exit_code == 0 and helps.split()[-1] in shown.output


def test_a_row_that_a_table_does_not_hold_leads_to_the_table(here):
    path = next(path for path in (here / "projects" / "cobble-key-exchange").glob("*.yaml") if "conductor_size:" in path.read_text())
    path.write_text(re.sub(r"(?m)^( *(?:\w+_)?conductor_size:) .*$", r"\1 401 kcmil", path.read_text(), count=1))
    told = CliRunner().invoke(main, ["check"])
    found = re.search(r"has no row 401 kcmil.*; see: basis show (\S+)", told.stderr)
    assert found and "400 kcmil" in CliRunner().invoke(main, ["show", found[1]]).output, told.stderr
