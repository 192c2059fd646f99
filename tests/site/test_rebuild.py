"""A rebuild after a save is as a whole build, byte by byte: numbers, names, notes, choices, orders, currencies, remarks, decisions, lines, templates."""

import random
import sys

import pytest
from rebuilds import Desk, edits, run
from small_project import written
from variations import chance_of_tree

from basis.site import worker_processes
from basis.site.build_cache import BuildCache
from basis.site.render import OWN

EDITS = 5


CHAPTERS = {"larkmere-hospital": ("plant", "loads", "voltage", "fuel"), "high-tarn-waterworks": ("starting", "fuel", "warmth")}


@pytest.mark.parametrize("slug, accompanied", [("larkmere-hospital", True), ("high-tarn-waterworks", False)])
def test_a_rebuild_after_a_save_is_as_a_whole_build(slug, accompanied, tmp_path):
    """With a companion that makes half of the pages, and without, as where a process cannot be copied."""
    assert run(Desk(slug, tmp_path, CHAPTERS[slug], accompanied), EDITS, chance_of_tree(slug)) == []


def test_an_input_that_is_confirmed_takes_its_mark_from_all_that_rests_on_it(tmp_path):
    place, cache = written(tmp_path / "projects"), BuildCache(keep=True)
    assumed = cache.make(place.parent, (OWN,)).pages["pump-house/plant-sheet.html"].body
    text = (place / "plant.yaml").read_text("utf-8")
    assert "Rests on</dt><dd>assumed" in assumed and text.count("standing: assumed") == 1
    (place / "plant.yaml").write_text(text.replace("standing: assumed", "standing: measured"), "utf-8")
    confirmed = cache.make(place.parent, (OWN,)).pages
    assert "Rests on</dt><dd>assumed" not in confirmed["pump-house/plant-sheet.html"].body
    assert confirmed == BuildCache().make(place.parent, (OWN,)).pages


@pytest.fixture
def accompanied(monkeypatch):
    """A cache as `serve` has it, where there is a processor for a companion."""
    monkeypatch.setattr(worker_processes, "processors", lambda: 2)
    cache = BuildCache(keep=True, accompanied=True)
    yield cache
    cache.end()


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere a process is not copied")
def test_what_a_companion_has_made_is_taken_until_it_ends_or_reads_something_else(accompanied, tmp_path, monkeypatch):
    place = written(tmp_path / "projects")

    def saved(altitude: str) -> bool:
        """Whether the site after a save is as a new build makes it."""
        (place / "plant.yaml").write_text(text.replace("altitude: {value: 0 m", f"altitude: {{value: {altitude}"), "utf-8")
        return accompanied.make(place.parent, (OWN,)) == BuildCache().make(place.parent, (OWN,))

    def from_companion() -> set[str]:
        pages = accompanied.kept["pump-house"].made.pages
        return {name for name, ((page, _), _) in accompanied.beside.get("pump-house", {}).items() if pages[page.address] is page}

    text = (place / "plant.yaml").read_text("utf-8")
    assert saved("60 m") and {"plant-sheet.html", "checks.html"} <= from_companion()
    before = accompanied.beside["pump-house"]["options.html"]
    assert saved("61 m") and "plant-inputs.html" in from_companion()
    assert accompanied.beside["pump-house"]["options.html"] is before  # what is the same is not sent
    saved("62 kg")
    assert accompanied.kept["pump-house"].faults
    assert saved("62 m") and "plant-inputs.html" in from_companion()
    plain = accompanied._digest
    monkeypatch.setattr(accompanied, "_digest", lambda *about: plain(*about) + " as another saw it")
    assert saved("63 m") and from_companion() == set()
    monkeypatch.undo()
    assert saved("64 m") and "plant-inputs.html" in from_companion()
    accompanied.companion.end()
    monkeypatch.setattr(accompanied.companion, "end", lambda: None)
    assert saved("65 m") and from_companion() == set()


def test_every_sort_of_edit_is_tried(tmp_path):
    desk = Desk("cobble-key-exchange", tmp_path, ("fuel",), accompanied=False)
    names = {edit.name.rsplit(" ", 1)[0] for edit in edits(desk.text, random.Random(1))}
    assert {"a number", "note", "name", "standing", "text", "order"} <= names
