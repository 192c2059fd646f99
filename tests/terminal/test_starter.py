"""What `basis new` and `basis add` write: a book of any chapters that is whole once the needed keys are filled, and samples that all read.

Nothing here knows a chapter: keys, choices, lists and decisions are those of the Terms.
"""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import basis
from basis.chapters import catalogue
from basis.guessing.draft import Draft
from basis.guessing.facts import read_facts
from basis.guessing.first import first_guess
from basis.language.faults import Faults
from basis.language.terms import terms, usual_decisions
from basis.reading.project import read
from basis.reading.schema import USE
from basis.solving.asked import asked_in
from basis.solving.hanging import hanging_in, lists_needed, words_of
from basis.solving.solve import solve
from basis.terminal import starter
from basis.terminal.samples import FILE, Samples
from basis.terminal.starter import add_chapter, starter_files, write_starter
from basis.terminal.yaml_text import WIDTH, in_force

ROOT = Path(__file__).parent.parent.parent
ALL = tuple(chapter.id for chapter in catalogue().chapters)
BOOKS = [(chapter,) for chapter in ALL] + [("plant", "loads"), ()]
BLANK = re.compile(r"(?m)^( *)(\w+):(?=  #|$(?!\n\1  \w))")


def filled(text: str) -> str:
    """The text with a sample behind each key that waits for a value."""
    return BLANK.sub(lambda found: f"{found[0]} {Samples().of(terms()[found[2]])}" if found[2] in terms() else found[0], text)


def put(folder: Path, files: dict[str, str]) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    sheets = folder.parent.parent / "equipment"
    sheets.mkdir(exist_ok=True)
    (sheets / f"{USE.example.strip('[]')}.yaml").write_text("# a data sheet that says nothing yet\n", "utf-8")
    for name, text in files.items():
        (folder / name).write_text(text, "utf-8")
    shutil.copy(next(ROOT.glob("projects/*/*.epw")), folder / FILE)
    return folder


def faults_of(act, *given) -> list[str]:
    try:
        act(*given)
    except Faults as found:
        return [str(fault) for fault in found.faults]
    return []


def solved(folder: Path, files: dict[str, str]) -> list[str]:
    """Faults of the files. A key that a choice asks for, which stands behind a #, is taken in force."""
    found = faults_of(basis.load, put(folder, files))
    for fault in found:
        name, key = re.match(r".*/(\w+\.yaml).*?missing '(\w+)'", fault).groups() if "missing '" in fault else ("", "")
        if f"\n#{key}:" not in files.get(name, ""):
            return found
        files[name] = files[name].replace(f"\n#{key}:", f"\n{key}:")
    return solved(folder, files) if found else []


@pytest.mark.parametrize("chapters", BOOKS, ids=lambda chapters: "+".join(chapters) or "all")
def test_a_book_of_any_chapters_is_whole_with_the_needed_keys_alone(tmp_path, chapters):
    files = starter_files("bell-yard", chapters)
    as_it_comes = faults_of(read, put(tmp_path / "projects" / "as-it-comes", files))
    assert as_it_comes and [fault for fault in as_it_comes if "has no value" not in fault] == []
    assert solved(tmp_path / "projects" / "bell-yard", {name: filled(text) for name, text in files.items()}) == []


@pytest.mark.parametrize("chapters", BOOKS, ids=lambda chapters: "+".join(chapters) or "all")
def test_every_sample_reads_once_it_is_in_force(tmp_path, chapters):
    once = {name: in_force(filled(text)) for name, text in starter_files("bell-yard", chapters).items()}
    assert faults_of(read, put(tmp_path / "projects" / "once", once)) == []
    project = read(put(tmp_path / "projects" / "twice", {name: in_force(text) for name, text in once.items()}))
    given = {name for name, _ in project.givens} | {name for one in project.decisions for option in one.options for name, _ in option.givens}
    assert set(asked_in(chapters)) <= given
    assert all(len(project.items[term.own_axes[0]]) == 2 for term in map(terms().get, asked_in(chapters)) if term.own_axes)


def test_every_word_of_every_choice_reads(tmp_path):
    for term in [term for term in map(terms().get, asked_in()) if term.unit == "choice" and not term.own_axes]:
        for word in words_of(term):
            assert faults_of(read, put(tmp_path / "projects" / "words", {"plant.yaml": f"{term.id}: {word}\n"})) == [], (term.id, word)


@pytest.mark.parametrize("chapters", BOOKS, ids=lambda chapters: "+".join(chapters) or "all")
def test_every_input_stands_once_and_no_line_is_wider_than_a_page(chapters):
    files = starter_files("bell-yard", chapters)
    stand = {(key, name) for name, text in files.items() for key in re.findall(r"(?m)^#? *#?(\w+): ?", text) if key in asked_in(chapters)}
    expected = {(name, f"{chapter}.yaml") for name, chapter in asked_in(chapters).items()}
    decided = {(key, f"{chapter}.yaml") for chapter, found in usual_decisions().items() for one in found for option in one.options for key in option.sets}
    assert expected <= stand and stand - expected <= decided  # what a decision sets may stand with the chapter that decides too
    assert [line for text in files.values() for line in text.splitlines() if len(line) > WIDTH] == []


def test_a_key_that_hangs_on_a_choice_stands_under_its_words():
    text = starter_files("bell-yard", ("loads",))["loads.yaml"]
    _, below = text.split("#    # -- With motor_start_method autotransformer or reactor:\n")
    assert re.findall(r"(?m)^#    #(\w+):", below)[0] == "motor_start_voltage_ratio"  # steps.py: only these two run at a part of the voltage
    hanging = hanging_in()
    assert hanging["motor_start_current_limit"] == {"motor_start_method": ("soft_starter",)}
    assert hanging["snubber_capacity"]["set_restraint"] == ("snubbers",)  # by what its check says of itself
    assert "motor_shaft_power" not in hanging and terms()["motor_shaft_power"].required


def test_lists_without_which_there_is_no_book_are_needed(tmp_path):
    assert lists_needed(("loads",)) == {"load", "load_step"}  # every load names its step
    assert lists_needed(("noise",)) == set()
    files = {name: filled(text) for name, text in starter_files("bell-yard", ("loads",)).items()}
    bare = re.sub(r"(?ms)^loads:.*?(?=^#  - )", "", files["loads.yaml"])
    (told,) = faults_of(basis.load, put(tmp_path / "projects" / "bell-yard", {**files, "loads.yaml": bare}))
    assert "loads.yaml: no loads are listed; expected at least one entry under `loads:`" in told


def test_what_a_chapter_needs_of_one_that_is_left_out_is_asked_for_in_its_file(tmp_path):
    files = starter_files("bell-yard", ("fuel",))
    assert set(files) == {"project.yaml", "fuel.yaml"} and "\nset_rated_power:" in files["fuel.yaml"]
    assert "the chapter 'Loads and sets', which was not in this book when this file was begun" in " ".join(files["fuel.yaml"].replace("\n# ", " ").split())
    (told,) = [fault for fault in faults_of(basis.load, put(tmp_path / "projects" / "bell-yard", {
        name: re.sub(r"(?m)^rating_class:.*\n|^set_rated_power:.*\n", "", filled(text)) for name, text in files.items()})) if "set_rated_power" in fault]
    assert "fuel.yaml: missing 'set_rated_power'" in told  # not loads.yaml, which this book does not have


@pytest.mark.parametrize("chapter, other, key", [
    ("cost", "warmth", "block_emissivity"), ("cost", "upkeep", "task_interval_hours"), ("testing", "noise", "barrier_height"),
    ("commissioning", "hearing", "surface_absorption"), ("commissioning", "cables", "cable_ampacity_table"), ("modes", "reliability", "start_failure")])
def test_nothing_is_asked_for_that_only_a_chapter_needs_which_is_left_out(chapter, other, key):
    assert key not in asked_in((chapter,)) and key in asked_in((chapter, other))
    text = starter_files("bell-yard", (chapter,))[f"{chapter}.yaml"]
    assert f"{key}:" not in text


def test_the_values_and_items_of_a_draft_are_written_with_what_is_said_of_them(tmp_path):
    draft = Draft()
    draft.say("name", "Cold yard")
    draft.write("altitude", "1450 m", note="survey, at the gate")
    draft.guess("set_wet_mass", 12000.0, "Mass by rating: " + "so many kilograms for each kilowatt, " * 4)
    draft.add("load", "pumps", "Pumps, of the wells")
    draft.add("load", "lights", "Lights")
    draft.write("load_connected_power", "400 kW", item="pumps")
    draft.write("load_connected_power", "60 kW", item="lights")
    files = starter_files("cold-yard", ("plant", "loads", "foundation"), draft)
    assert 'altitude: {value: 1450 m, note: "survey, at the gate"}' in files["plant.yaml"] and "name: Cold yard" in files["project.yaml"]
    project = read(put(tmp_path / "projects" / "cold-yard", {name: filled(text) for name, text in files.items()}))
    given = project.givens["set_wet_mass", ""]
    assert (given.data, given.standing) == (12000.0, "assumed – confirm") and given.note.startswith("Mass by rating: so many")
    assert project.items["load"] == ("pumps", "lights") and project.names["load"] == {"pumps": "Pumps, of the wells", "lights": "Lights"}
    assert project.givens["load_connected_power", "lights"].data == 60e3


LAYOUTS = ["name: Bell yard   # as on the plan\n\nchapters: [plant,   # always\n  loads]  # the rest later\n",
           "chapters:\n  - plant\n  - loads   # both\ninvented: yes\n",
           "chapters: [plant, loads]"]


@pytest.mark.parametrize("text", LAYOUTS)
def test_a_chapter_is_added_without_a_change_to_what_somebody_wrote(tmp_path, text):
    files = {name: filled(text) for name, text in starter_files("bell-yard", ("plant", "loads")).items()}
    folder = put(tmp_path / "projects" / "bell-yard", {**files, "project.yaml": text})
    assert add_chapter(folder, "ventilation")[-1] == "Fill in the keys, then: basis check bell-yard"
    assert tuple(read_chapters(folder)) == ("plant", "loads", "ventilation")
    now = (folder / "project.yaml").read_text("utf-8")
    assert re.sub(r", ventilation|\n  - ventilation", "", now) == text
    assert all((folder / name).read_text("utf-8") == text for name, text in files.items() if name != "project.yaml")
    added = (folder / "ventilation.yaml").read_text("utf-8")
    whole = {path.name: filled(path.read_text("utf-8")) for path in folder.glob("*.yaml")}
    assert solved(tmp_path / "projects" / "whole", whole) == []
    assert "set_rated_power:" not in added  # it is given
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert "already" in add_chapter(folder, "ventilation")[0] and before == {path.name: path.read_bytes() for path in folder.iterdir()}


def read_chapters(folder: Path) -> tuple:
    return read(put(folder.parent / "alone", {"project.yaml": (folder / "project.yaml").read_text("utf-8")})).chapters


def test_what_an_added_chapter_may_be_given_is_priced_in_the_currency_of_the_project(tmp_path):
    """Once in force, a sample in another currency is a fault."""
    folder = put(tmp_path / "projects" / "bell-yard", {"project.yaml": "chapters: [plant]\ncurrency: USD\n"})
    add_chapter(folder, "upkeep")
    assert re.findall(r"#overhaul_stage_cost: \[\d+ (\w+),", (folder / "upkeep.yaml").read_text("utf-8")) == ["USD"]


def test_a_chapter_whose_file_cannot_be_written_is_not_listed(tmp_path, monkeypatch):
    folder = put(tmp_path / "projects" / "bell-yard", {"project.yaml": "chapters: [plant]\n"})
    monkeypatch.setattr(starter, "_written", lambda path, text: (_ for _ in ()).throw(PermissionError(path)))
    with pytest.raises(PermissionError):
        add_chapter(folder, "hearing")
    assert (folder / "project.yaml").read_text("utf-8") == "chapters: [plant]\n"


def test_a_file_that_is_there_is_left_as_it_is_when_its_chapter_is_added(tmp_path):
    folder = put(tmp_path / "projects" / "bell-yard", {"project.yaml": "chapters: [plant]\n", "hearing.yaml": "# ours\n"})
    told = add_chapter(folder, "hearing")
    assert "is there already" in told[-1] and (folder / "hearing.yaml").read_text("utf-8") == "# ours\n"
    (fault,) = faults_of(add_chapter, folder, "hearin")
    assert "no chapter 'hearin'" in fault and fault.endswith("nearest: hearing")


@pytest.mark.parametrize("chapter", [chapter for chapter in ALL if chapter not in ("plant", "loads")])
def test_any_chapter_added_to_a_small_book_gives_a_whole_one(tmp_path, chapter):
    folder = put(tmp_path / "projects" / "bell-yard", {name: filled(text) for name, text in starter_files("bell-yard", ("plant", "loads")).items()})
    add_chapter(folder, chapter)
    assert solved(tmp_path / "projects" / "whole", {path.name: filled(path.read_text("utf-8")) for path in folder.glob("*.yaml")}) == []


@pytest.mark.parametrize("order", [ALL, ALL[::-1], ("plant", *ALL[:0:-2], *ALL[-2:0:-2])], ids=["as_read", "backwards", "mixed"])
def test_chapters_added_one_after_another_give_a_whole_book(tmp_path, order):
    """What a chapter writes of an item that another file has listed and named stands beside it without a fault, whichever of the two came first."""
    first, *others = order
    folder = put(tmp_path / "projects" / "bell-yard", starter_files("bell-yard", (first,)))
    for chapter in others:
        add_chapter(folder, chapter)
        assert [fault for fault in faults_of(read, folder) if "has no value" not in fault] == []
    assert set(read_chapters(folder)) == set(ALL)
    assert solved(tmp_path / "projects" / "whole", {path.name: filled(path.read_text("utf-8")) for path in folder.glob("*.yaml")}) == []


def test_what_stands_beside_the_projects_is_written_once(tmp_path):
    paths = write_starter(tmp_path / "projects", "bell-yard", ("plant",))
    assert {path.name for path in paths} >= {".gitignore", "mkdocs.yml", "plant.yaml", "project.yaml"}
    settings = (tmp_path / "mkdocs.yml").read_text("utf-8")
    assert settings.partition("\n")[2] == (ROOT / "mkdocs.yml").read_text("utf-8")
    (tmp_path / "mkdocs.yml").write_text("# ours\n", "utf-8")
    assert (tmp_path / "projects" / "project.schema.json").is_file()
    assert {path.name for path in write_starter(tmp_path / "projects", "other-yard", ("plant",))} == {"plant.yaml", "project.yaml", "project.schema.json"}
    assert (tmp_path / "mkdocs.yml").read_text("utf-8") == "# ours\n"
    assert solve(read(put(tmp_path / "projects" / "bell-yard", {"plant.yaml": filled((tmp_path / "projects/bell-yard/plant.yaml").read_text())}))).checks


@pytest.mark.parametrize("chapter", [chapter for chapter, decisions in usual_decisions().items() if decisions])
def test_the_usual_decisions_of_a_chapter_can_be_solved_with_all_their_options(tmp_path, chapter):
    files = {name: filled(text) for name, text in starter_files("bell-yard", () if chapter == ALL[-1] else (chapter,)).items()}
    before, block = files[f"{chapter}.yaml"].split("#decisions:\n")
    block, after = re.split(r"\n\n|\Z", block, maxsplit=1) if "\n\n" in block else (block, "")
    files[f"{chapter}.yaml"] = before + in_force(f"#decisions:\n{block}") + "\n\n" + after
    assert solved(tmp_path / "projects" / "bell-yard", files) == []
    (decision, *_) = read(tmp_path / "projects" / "bell-yard").decisions
    assert [option.id for option in decision.options] == [option.id for option in usual_decisions()[chapter][0].options] and len(decision.options) > 1
    assert all(option.gives_up.endswith(".") for option in decision.options)


def test_plain_mkdocs_builds_what_was_begun(tmp_path):
    write_starter(tmp_path / "projects", "bell-yard", ("plant",))
    plant = tmp_path / "projects" / "bell-yard" / "plant.yaml"
    plant.write_text(filled(plant.read_text("utf-8")), "utf-8")
    told = subprocess.run([sys.executable, "-m", "mkdocs", "build", "--strict"], cwd=tmp_path, capture_output=True, text=True)
    assert told.returncode == 0, told.stderr
    assert (tmp_path / "site" / "bell-yard" / "plant.html").is_file() and "Bell yard" in (tmp_path / "site" / "index.html").read_text("utf-8")
    assert not list((tmp_path / "site").rglob("*.yaml")) and not list((tmp_path / "site").rglob("project.schema.json"))


def test_every_sample_beside_a_first_guess_reads_too(tmp_path):
    draft = first_guess(read_facts({}), "Cold yard")
    files = starter_files("cold-yard", (), draft)
    folder = put(tmp_path / "projects" / "cold-yard", {name: in_force(in_force(text)) if name.endswith(".yaml") else text for name, text in files.items()})
    project = read(folder)
    assert set(asked_in()) <= {name for name, _ in project.givens}
    assert {axis: list(items) for axis, items in draft.items.items() if items}.items() <= {axis: list(items) for axis, items in project.items.items()}.items()
    assert [line for text in files.values() for line in text.splitlines() if line.startswith(("#", " ")) and len(line) > WIDTH] == []
