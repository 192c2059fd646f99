"""A rebuild after a save is as a whole build, byte by byte: numbers, names, notes, choices, orders, currencies, remarks, decisions, lines, templates."""

import random

import pytest
from rebuilds import Desk, edits, run
from small_project import written
from variations import chance_of_tree

from basis.site.build_cache import BuildCache
from basis.site.render import OWN

EDITS = 6


CHAPTERS = {"larkmere-hospital": ("plant", "loads", "voltage", "fuel"), "high-tarn-waterworks": ("starting", "fuel", "warmth")}


@pytest.mark.parametrize("slug", CHAPTERS)
def test_a_rebuild_after_a_save_is_as_a_whole_build(slug, tmp_path):
    assert run(Desk(slug, tmp_path, CHAPTERS[slug]), EDITS, chance_of_tree(slug)) == []


def test_an_input_that_is_confirmed_takes_its_mark_from_all_that_rests_on_it(tmp_path):
    place, cache = written(tmp_path / "projects"), BuildCache(keep=True)
    assumed = cache.make(place.parent, (OWN,)).pages["pump-house/plant-sheet.html"].body
    text = (place / "plant.yaml").read_text("utf-8")
    assert "Rests on</dt><dd>assumed" in assumed and text.count("standing: assumed") == 1
    (place / "plant.yaml").write_text(text.replace("standing: assumed", "standing: measured"), "utf-8")
    confirmed = cache.make(place.parent, (OWN,)).pages
    assert "Rests on</dt><dd>assumed" not in confirmed["pump-house/plant-sheet.html"].body
    assert confirmed == BuildCache().make(place.parent, (OWN,)).pages


def test_every_sort_of_edit_is_tried(tmp_path):
    desk = Desk("cobble-key-exchange", tmp_path, ("fuel",))
    names = {edit.name.rsplit(" ", 1)[0] for edit in edits(desk.text, random.Random(1))}
    assert {"a number", "note", "name", "standing", "text", "order"} <= names
