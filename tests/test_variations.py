"""A part of the variations of the demo projects, another one whenever the program or a project changes; the whole is run by hand."""

import copy

import pytest
from conftest import ROOT, SLUGS
from variations import ODD_TEXT, Trial, Variation, chance_of_tree, defaults_under, page_texts, text_of, variations

TRIED = {"cobble-key-exchange": 12, "high-tarn-waterworks": 6, "larkmere-hospital": 5}
ON_PAGES = 1  # of those of each project


@pytest.fixture(scope="module")
def pages():
    """From a book to the running text of its pages."""
    return page_texts()


def drawn(slug: str) -> list:
    """Variations of a project: the same for the same tree, others for another."""
    return chance_of_tree(slug).sample(list(variations(text_of(ROOT / "projects" / slug))), TRIED[slug])


@pytest.mark.parametrize("slug", SLUGS)
def test_a_project_with_one_thing_changed_gives_faults_or_a_sound_book(slug, pages, tmp_path):
    trial, wrong = Trial(ROOT / "projects" / slug, tmp_path), {}
    for place, variation in enumerate(drawn(slug)):
        if found := trial.wrong_with(variation, pages if place < ON_PAGES else None):
            wrong[variation.name] = found
    assert not wrong


def test_what_a_variation_does():
    text = {"plant.yaml": {"altitude": "60 m", "installed_sets": "3"}, "loads.yaml": {"loads": [{"id": "lift", "load_power": "20 kW"}], "load_steps": [
        {"id": "first", "step_of": "x"}]}}
    found = {variation.name: variation for variation in variations(text)}
    assert found["without loads.yaml"].takes and found["loads.yaml: loads empty"].takes and not found["loads.yaml: loads[lift] left out"].takes
    for name, left in (("plant.yaml: without altitude", {"installed_sets": "3"}),
                       ("plant.yaml: installed_sets = 1", {"altitude": "60 m", "installed_sets": "1"})):
        tree = {file: dict(data) for file, data in text.items()}
        found[name].change(tree)
        assert tree["plant.yaml"] == left
    found["loads: lift renamed"].change(text)
    assert text["loads.yaml"]["loads"][0]["id"] == "lift_x"


OPTIONS = [{"id": "diesel", "with": {"loads": [{"id": "lift"}]}}, {"id": "gas"}]
DECIDED = {"project.yaml": {"decisions": [{"id": "fuel", "chosen": "diesel", "options": OPTIONS}]}}


@pytest.mark.parametrize("name, holds", [
    ("decision fuel renamed", lambda decision: decision["id"] == "another_choice"),
    ("decision fuel, options renamed", lambda decision: [decision["chosen"], *(one["id"] for one in decision["options"])] == ["diesel_x", "diesel_x", "gas_x"]),
    ("decision fuel, gas chosen", lambda decision: decision["chosen"] == "gas"),
    ("decision fuel, chosen without loads", lambda decision: decision["options"][0]["with"] == {}),
    ("decision fuel, chosen with loads empty", lambda decision: decision["options"][0]["with"] == {"loads": []})])
def test_what_is_done_to_a_decision(name, holds):
    text = copy.deepcopy(DECIDED)
    next(one for one in variations(DECIDED) if one.name == f"project.yaml: {name}").change(text)
    assert holds(text["project.yaml"]["decisions"][0])


def test_what_is_done_to_items_and_notes():
    text = {"loads.yaml": {"loads": [{"id": "lift", "name": "Lift", "load_power": {"value": "20 kW", "note": "Plate."}}, {"id": "pump"}]}}
    found = {variation.name: variation for variation in variations(text)}
    for name, left in (("loads.yaml: loads, the first alone", text["loads.yaml"]["loads"][:1]),
                       ("loads.yaml: loads, the last twice", [*text["loads.yaml"]["loads"], {"id": "one_more", "name": "One more"}]),
                       ("loads.yaml: without notes", [{"id": "lift", "name": "Lift", "load_power": {"value": "20 kW"}}, {"id": "pump"}]),
                       ("loads.yaml: without names of items", [{"id": "lift", "load_power": {"value": "20 kW", "note": "Plate."}}, {"id": "pump"}])):
        tree = copy.deepcopy(text)
        found[name].change(tree)
        assert tree["loads.yaml"]["loads"] == left, name


def test_a_number_that_moves_under_another_name_is_seen(tmp_path):
    trial = Trial(ROOT / "projects" / "cobble-key-exchange", tmp_path)
    renamed = next(one for one in variations(trial.text) if one.back and one.name.startswith("cables:"))
    assert trial.wrong_with(renamed) == []
    moved = Variation("altitude", lambda tree: tree["plant.yaml"].update({"altitude": "900 m"}), False, back={})
    assert any(line.startswith("altitude was 3.0, ") and "now 900.0, " in line for line in trial.wrong_with(moved))


FORGOTTEN = [  # file, list, place of the item, what is written of it, the key that is forgotten, a check that cannot then be decided
    ("noise.yaml", "machines", 1, {}, "machine_airflow", "noise_limit"), ("noise.yaml", "machines", 1, {}, "machine_pressure", "noise_limit"),
    ("noise.yaml", "sound_sources", 4, {}, "source_dimension", "source_is_far"),
    ("isolation.yaml", "connections", 0, {}, "connection_height", "connection_travel"),
    ("ventilation.yaml", "air_elements", 0, {"element_rated_drop": "45 Pa"}, "element_rated_airflow", "restriction")]


@pytest.mark.parametrize("file, key, place, written, forgotten, check", FORGOTTEN)
def test_what_a_verdict_rests_on_and_nobody_gave_leaves_it_undecided(tmp_path, file, key, place, written, forgotten, check):
    def change(tree):
        tree[file][key][place].update(written)
        tree[file][key][place].pop(forgotten, None)
    trial = Trial(ROOT / "projects" / "cobble-key-exchange", tmp_path)
    verdict = trial.book_of(Variation("forgotten", change, True)).check(check)
    assert trial.book.check(check).decided
    assert (verdict.word, verdict.missing) == ("undecided", (f"{forgotten}.{trial.text[file][key][place]['id']}",))


@pytest.mark.parametrize("stands_in", [False, True])
def test_a_default_excuses_only_a_verdict_that_newly_rests_on_it(tmp_path, stands_in):
    def change(tree):
        tree["hearing.yaml"]["day_exposure_max"] = "100 dBA"
        if stands_in:
            tree["loads.yaml"]["loads"][0].pop("load_demand_factor")
    trial = Trial(ROOT / "projects" / "cobble-key-exchange", tmp_path)
    variation = Variation("more is allowed", change, True, default=True)
    exposure = trial.book.check("noise_exposure")
    assert "default" in exposure.marks  # of other defaults, which excuse nothing
    new = defaults_under(trial.book_of(variation), exposure.check) - defaults_under(trial.book, exposure.check)
    assert new == ({("load_demand_factor", "rectifiers")} if stands_in else set())
    assert trial.wrong_with(variation) == ([] if stands_in else ["noise_exposure fails before, holds now"])


@pytest.mark.parametrize("told, odd", [("It holds for 3 h.", False), ("It holds for , and so on.", True), ("The limit is ( ).", True),
                                       ("They take nan kW.", True)])
def test_sentences_with_a_part_missing_are_seen(told, odd):
    assert bool(ODD_TEXT.search(told)) == odd
