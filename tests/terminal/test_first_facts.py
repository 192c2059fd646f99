"""`basis new` with facts: a project that builds at once; what is left out is asked at a terminal, else it is usual."""

import pytest
from click.testing import CliRunner

import basis
from basis.guessing.facts import FACTS
from basis.terminal import first_facts
from basis.terminal.cli import main

COLD_YARD = ["new", "cold-yard", "--sets", "3", "--set-power", "1600 kW", "--frequency", "60 Hz", "--voltage", "480 V", "--altitude", "1450 m",
             "--coldest", "-31 degC", "--hottest", "35 degC", "--load", "2600 kW", "--receiver", "85 m", "--limit", "45 dBA"]


@pytest.fixture
def run(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return lambda *arguments, answers=None: CliRunner().invoke(main, arguments, input=answers)


@pytest.fixture
def at_a_terminal(monkeypatch):
    monkeypatch.setattr(first_facts, "_terminal", lambda: True)


def test_ten_facts_make_a_project_of_all_chapters(run, tmp_path):
    told = run(*COLD_YARD)
    assert told.exit_code == 0 and "projects/cold-yard/fuel.yaml" in told.output and "projects/cold-yard/weather-guessed.epw" in told.output
    book = basis.load(tmp_path / "projects" / "cold-yard")
    assert book.project.name == "Cold yard" and book["set_rated_power"].text() == "1\u202f600 kW" and len(book.chapters) > 20
    assert run("check", "cold-yard", "--fail-on", "never").exit_code == 0


def test_one_fact_is_enough_and_the_others_are_usual(run, tmp_path):
    assert run("new", "cold-yard", "--set-power", "800 kW").exit_code == 0
    givens = basis.load(tmp_path / "projects" / "cold-yard").project.givens
    assert givens["set_rated_power", ""].standing == "stated" and givens["generating_voltage", ""].standing == "assumed – confirm"


def test_a_wrong_fact_is_told_and_nothing_is_written(run, tmp_path):
    told = run("new", "cold-yard", "--set-power", "1600", "--frequency", "55 Hz")
    assert told.exit_code == 1 and "new: --set-power '1600': 1600 has no unit; expected a unit such as kW" in told.stderr
    assert "--frequency '55 Hz'" in told.stderr and not (tmp_path / "projects").exists()


def test_facts_left_out_are_asked_for_with_what_is_usual(run, tmp_path, at_a_terminal):
    told = run("new", "cold-yard", "--sets", "2", answers="loud\n900 kW\n" + "\n" * 8)  # loud is asked again
    assert told.exit_code == 0 and "Electrical power of a set [500 kW]" in told.output and "'loud' is not a number" in told.output
    assert "Number of sets" not in told.output and "Load to be carried [630 kW]" in told.output
    givens = basis.load(tmp_path / "projects" / "cold-yard").project.givens
    assert givens["set_rated_power", ""].written == "900 kW" and givens["power_frequency", ""].standing == "assumed – confirm"


def test_an_answer_that_does_not_fit_those_before_it_is_asked_again(run, tmp_path, at_a_terminal):
    """Nobody types ten answers twice; nor is an option named that nobody typed."""
    told = run("new", "cold-yard", "--sets", "2", answers="\n60 hz\n60 Hz\n\n\n25 degC\n30 degC\n36 degC\n9 MW\n" + "\n" * 3)
    assert told.exit_code == 0 and "'60 hz': unknown unit 'hz'" in told.output and "--" not in told.output.partition("Then:")[0]
    assert "'30 degC': is not 10 K above the coldest, 25 degC" in told.output and "'9 MW': is more than twice what all sets give" in told.output
    givens = basis.load(tmp_path / "projects" / "cold-yard").project.givens
    assert givens["outdoor_temperature_max", ""].written == "36 degC"


def test_an_answer_that_is_the_usual_one_is_given_all_the_same(run, tmp_path, at_a_terminal):
    assert run("new", "cold-yard", "--sets", "2", answers="500 kW\n50 Hz\n" + "\n" * 7).exit_code == 0
    givens = basis.load(tmp_path / "projects" / "cold-yard").project.givens
    assert [givens[key, ""].standing for key in ("set_rated_power", "power_frequency", "generating_voltage")] == ["stated", "stated", "assumed – confirm"]
    assert givens["set_rated_power", ""].note == "given"


def test_check_does_not_tell_of_a_self_test_that_has_nothing_to_test(run):
    """Of a plant without ways to compare there is nothing to add up twice; that is no news to a reader of what fails."""
    assert run(*COLD_YARD).exit_code == 0
    told = run("check", "cold-yard").output
    assert "fails" in told and not [line for line in told.splitlines() if line.startswith("  nothing to check")]


def test_what_was_written_is_told_as_seen_from_here(run, tmp_path):
    told = run(*COLD_YARD).output.splitlines()
    assert {".gitignore", "mkdocs.yml", "projects/project.schema.json"} <= set(told) and not any(line.startswith("/") for line in told)
    assert all((tmp_path / line).is_file() for line in told[:-1])


def test_a_folder_that_is_there_is_told_before_anything_is_asked(run, tmp_path, at_a_terminal):
    (tmp_path / "projects" / "cold-yard").mkdir(parents=True)
    told = run("new", "cold-yard")
    assert told.exit_code == 1 and "is there already" in told.stderr and "first project" not in told.output


def test_a_book_of_some_chapters_has_guesses_for_these_only(run, tmp_path):
    assert run("new", "cold-yard", "--sets", "2", "--chapters", "plant,fuel").exit_code == 0
    folder = tmp_path / "projects" / "cold-yard"
    assert sorted(path.name for path in folder.iterdir()) == ["fuel.yaml", "plant.yaml", "project.yaml"] and basis.load(folder).checks


def test_without_facts_the_files_are_forms(run, tmp_path, at_a_terminal):
    assert run("new", "cold-yard", answers="n\n").exit_code == 0
    assert not list((tmp_path / "projects" / "cold-yard").glob("*.epw"))


def test_help_tells_each_fact_with_its_range(run):
    told = " ".join(run("new", "--help").output.split())
    assert all(fact.option in told and fact.question in told for fact in FACTS) and "100 kW to 3000 kW" in told
