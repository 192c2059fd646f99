"""A stranger adds a chapter with a list, a table, a formula, a check, a figure and a template of its own: by new files alone."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
CHAPTER = "basis/chapters/lifting"
WRITTEN = {
    f"{CHAPTER}/__init__.py": '"""Lifting."""\n',
    f"{CHAPTER}/terms.py": '''"""Terms of lifting: the lifts of a plant and the ropes that carry them."""

from basis.language.terms import Listed, Term

LISTS = (Listed("lift", "lifts"), Listed("rope_leg", "rope_legs", fixed=("left", "right")))

TERMS = (
    Term("lift_mass", "m", "kg", "Mass lifted", "With hooks and beams.", axes=("lift",)),
    Term("lift_rope_diameter", "d", "m", "Diameter of the rope", "As ordered.", shown=("mm",), axes=("lift",)),
    Term("lift_leg_share", "x_l", "1", "Share of a leg", "Part of the mass on each leg.", shown=("1",), axes=("lift", "rope_leg")),
    Term("lift_leg_use", "u", "1", "Use of a leg", "Mass on a leg over the mass that its rope may carry.", shown=("%",), axes=("lift", "rope_leg")),
    Term("lift_leg_use_max", "u_max", "1", "Use allowed", "Of a rope that is inspected.", shown=("%",), default="90 %", source="lift-inspected"),
)
''',
    f"{CHAPTER}/sources.yaml": '''lift-inspected: {kind: common practice, title: "common practice, no source", how_known: not applicable}
lift-share: {kind: physics, title: "A mass is carried by its ropes", how_known: derived}
lift-ropes: {kind: manual, title: "Invented table of ropes", how_known: from memory}
''',
    f"{CHAPTER}/tables/lift-ropes.yaml":
        'source: lift-ropes\nkey: diameter\ncolumns: {diameter: mm, mass: kg}\nrule: next_up\nnote: Mass that a rope may carry\n',
    f"{CHAPTER}/tables/lift-ropes.csv": "diameter,mass\n10,1000\n16,2500\n",
    f"{CHAPTER}/chapter.py": '''"""Lifting: what the ropes carry while a set is brought in. Left out: the crane."""

from basis.language.formula import chapter, check, formula
from basis.language.maths import lookup

CHAPTER = chapter("lifting", "Lifting", order=220, cautions=("Nobody stands under a load.",))


@formula(source="lift-share")
def lift_leg_use(lift_mass, lift_leg_share, lift_rope_diameter):
    """Mass on each leg over what its rope may carry."""
    return lift_mass * lift_leg_share / lookup("lift-ropes", "mass", lift_rope_diameter)


leg_check = check("lift_leg", "lift_leg_use", limit="lift_leg_use_max", safe="below", source="lift-inspected", title="Legs of the ropes")
''',
    "basis/site/figures/lifting.py": '''"""Figure of lifting: how far each leg is used."""
from __future__ import annotations

from basis.site import figure as tools
from basis.site.figure import figure


@figure("legs", title="Use of the legs", terms=("lift_leg_use",))
def legs(book):
    """How much of what its rope may carry hangs on each leg of each lift."""
    drawn, axes = tools.new_axes(4.0, 2.0)
    axes.plot(tools.numbers(book["lift_leg_use"]).ravel(), **tools.series(0))
    tools.name_axes(axes, x="Legs", y="Use")
    return drawn
''',
    "templates/lifting.md.j2": '''The legs of the ropes: {{ check("lift_leg") }}.

{{ verdicts() }}

## Why

A rope that fails gives no warning.

{{ items("lift", "lift_mass", "lift_rope_diameter") }}

{{ bands("lift_leg_use") }}

{{ figure("legs") }}
''',
}
GIVEN = '''lifts:
  - id: set_in
    name: Set, brought in
    lift_mass: 2 t
    lift_rope_diameter: 16 mm
    lift_leg_share: [0.5, 0.625]
  - id: tank_in
    lift_mass: 500 kg
    lift_rope_diameter: 10 mm
    lift_leg_share: [0.5, 0.5]
'''


@pytest.fixture(scope="module")
def program(tmp_path_factory):
    """A copy of the program with the new files, and a function that runs it there."""
    folder = tmp_path_factory.mktemp("program")
    for name in ("basis", "templates"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "mkdocs.yml", folder)
    for name, text in WRITTEN.items():
        assert not (folder / name).exists(), "only new files"
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    env = {**os.environ, "PYTHONPATH": str(folder), "NO_COLOR": "1"}

    def run(*words):
        return subprocess.run([sys.executable, "-P", "-m", "basis", *words], cwd=folder, env=env, capture_output=True, text=True)
    return folder, run


def test_a_chapter_is_added_by_new_files_alone(program):
    folder, run = program
    told = run("new", "bell-yard", "--chapters", "lifting")
    assert told.returncode == 0, told.stderr
    starter = (folder / "projects" / "bell-yard" / "lifting.yaml").read_text("utf-8")
    assert "#lifts:\n#  - id: lift_1\n#    name: Lift 1\n" in starter and "lift_leg_share:" in starter and "rope_legs" not in starter

    told = run("check", "bell-yard", "--all")  # as it comes: nothing is listed, so nothing holds
    assert told.returncode == 0 and re.search(r"nothing to check +Legs of the ropes: no lifts listed", told.stdout), told.stdout + told.stderr

    (folder / "projects" / "bell-yard" / "lifting.yaml").write_text(GIVEN, "utf-8")
    told = run("check", "bell-yard", "--all")  # by hand: 2000 kg x 0.625 / 2500 kg = 50 %, below 90 %
    assert told.returncode == 0 and re.search(r"holds +Legs of the ropes at set in, right: 50\.0 % ≤ 90\.0 %", told.stdout), told.stdout + told.stderr

    told = run("build")
    assert told.returncode == 0, told.stderr
    pages = {page: (folder / "site" / "bell-yard" / f"{page}.html").read_text("utf-8") for page in ("lifting", "lifting-sheet", "lifting-inputs")}
    assert "<svg" in pages["lifting"] and "Set, brought in" in pages["lifting"]
    assert "Use of a leg" in pages["lifting-sheet"] and "Diameter of the rope" in pages["lifting-inputs"]
