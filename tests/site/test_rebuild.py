"""A rebuild after a save is as a whole build, byte by byte: numbers, names, notes, choices, orders, currencies, remarks, decisions, lines, templates."""

import random

import pytest
from rebuilds import Desk, edits, run
from variations import chance_of_tree

EDITS = 12


CHAPTERS = {"larkmere-hospital": ("plant", "loads", "voltage", "fuel"), "high-tarn-waterworks": ("starting", "fuel", "warmth")}


@pytest.mark.parametrize("slug", CHAPTERS)
def test_a_rebuild_after_a_save_is_as_a_whole_build(slug, tmp_path):
    assert run(Desk(slug, tmp_path, CHAPTERS[slug]), EDITS, chance_of_tree(slug)) == []


def test_every_sort_of_edit_is_tried(tmp_path):
    desk = Desk("cobble-key-exchange", tmp_path, ("fuel",))
    names = {edit.name.rsplit(" ", 1)[0] for edit in edits(desk.text, random.Random(1))}
    assert {"a number", "note", "name", "standing", "text", "order"} <= names
