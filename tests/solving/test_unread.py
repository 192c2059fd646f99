"""What is given and never read because a choice says otherwise is told at its line; what is read in any option is not."""

import json

import pytest
from click.testing import CliRunner
from conftest import ROOT
from variations import Trial, Variation

from basis.reading.project import read
from basis.site.addresses import of_book
from basis.site.overview import OverviewFunctions
from basis.solving.solve import solve
from basis.solving.unread import unread
from basis.terminal.cli import main

SPECTRUM = ["100 dB"] * 9


@pytest.fixture(scope="module")
def trial(tmp_path_factory):
    """The exchange, to be changed."""
    return Trial(ROOT / "projects" / "cobble-key-exchange", tmp_path_factory.mktemp("unread"))


def told(trial, change) -> dict:
    found = unread(trial.book_of(Variation("unread", change, False)))
    return {f"{one.given.term}.{one.given.element}".rstrip("."): one for one in found}


def _engine(tree: dict) -> dict:
    return next(item for item in tree["noise.yaml"]["machines"] if item["machine_kind"] == "engine_casing")


def test_a_spectrum_beside_an_estimate_is_told_at_its_line(trial):
    """A procedure completes the spectrum, and the arm of the formula behind it takes the estimate."""
    def spectrum(tree):
        _engine(tree).update(machine_spectrum=SPECTRUM, machine_data="estimated")
    (name, one), = told(trial, spectrum).items()
    assert name.startswith("machine_spectrum.") and one.reason.endswith("sound power from: estimated (machine_data)")
    line = (trial.aside / "projects" / "cobble-key-exchange" / "noise.yaml").read_text("utf-8").splitlines()[one.given.line - 1]
    assert "machine_spectrum" in line and one.told.startswith(f"{one.given.file}:{one.given.line}: 'machine_spectrum' of ")
    assert not told(trial, lambda tree: _engine(tree).update(machine_spectrum=SPECTRUM, machine_data="measured"))


def test_a_plain_choice_leaves_an_input_unread(trial):
    found = told(trial, lambda tree: tree["ventilation.yaml"].update(radiator_fan_load="rectifiers"))
    assert found["radiator_fan_load"].reason == "radiator placement: mounted (radiator_placement)"


def test_what_an_option_reads_is_read():
    """The waterworks gives the drop of a transformer for one voltage only, and the hospital's decisions read what the chosen option does not."""
    for slug in ("high-tarn-waterworks", "larkmere-hospital"):
        project = read(ROOT / "projects" / slug)
        alone = {(one.given.term, one.given.element) for one in unread(solve(project))}
        set_by_options = {key for decision in project.decisions for option in decision.options for key in option.givens}
        assert not alone & set_by_options


def test_terminal_json_and_book_tell_it(books, monkeypatch):
    monkeypatch.chdir(ROOT)
    told = CliRunner().invoke(main, ["check", "high-tarn-waterworks", "--fail-on", "never", "--all"]).output
    assert "'load_growth_rate' of 'high_lift_2' is given and no formula reads it, as service: deferrable (load_service)" in told
    facts = json.loads(CliRunner().invoke(main, ["check", "high-tarn-waterworks", "--json", "--fail-on", "never"]).stdout)
    assert {(one["term"], one["element"]) for one in facts["projects"][0]["not_read"]} == {
        ("load_growth_rate", "raw_water_2"), ("load_growth_rate", "high_lift_2")}
    page = str(OverviewFunctions(of_book(books["high-tarn-waterworks"])).not_read())
    assert page.count("<tr") == 3 and "service: deferrable (load_service)" in page and "loads.yaml:" in page


def test_demos_give_nothing_in_vain_but_what_is_true(books):
    found = {(one.given.term, *dict.fromkeys(choice.term.id for choice in one.beside)) for book in books.values() for one in unread(book)}
    assert found == {("load_growth_rate", "load_service", "firm_demand"),  # of loads that are cut first, where firm is what is essential
                     ("set_breaker_closing_time", "closing_lead"),  # a synchroniser that allows for it
                     ("sharing_no_load_frequency", "sharing_mode"),  # isochronous sets hold one frequency
                     ("measurement_load", "measured_kind")}  # the load of a test stands on record also where nothing is corrected by it
