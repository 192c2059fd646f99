"""A small project on a small catalogue of its own, for tests of the core that must not lean on a chapter."""

import importlib.util

from trial_terms import patch

from basis.chapters import collect
from basis.reading.project import read
from basis.solving.solve import solve

CHAPTER = '''
from basis.language.formula import chapter, check, formula, procedure
from basis.language.maths import *
CHAPTER = chapter("plant", "Trial", order=1)
@formula(source="physics", valid={"trial_flow": (0, 100)})
def trial_velocity(trial_flow, trial_area):
    """Velocity."""
    return trial_flow / trial_area
@formula(source="from-memory")
def trial_total(trial_area):
    """Total."""
    return sum_over("opening", trial_area)
@formula(source="physics")
def trial_result(trial_mode, trial_length, trial_long_only, trial_factor):
    """Result."""
    return trial_length * trial_factor if trial_mode == "short" else trial_long_only
@procedure(source="physics", equation="A_m = A_t / 2", yields=("trial_mean",))
def half(trial_total):
    """Half."""
    return (trial_total / 2,), trial_total / 2 - trial_total * 0.5, "residual of area, m²"
velocity = check("velocity", "trial_velocity", limit="trial_limit", safe="below", source="project", title="Velocity")
'''
PROJECT = """name: Trial
trial_flow: 12 m^3/s
trial_mode: short
trial_length: {value: 10 ft, standing: assumed, note: paced out}
openings:
  - {id: north, trial_area: 4 m^2}
  - {id: south, trial_area: 6 m^2}
trial_limit: 2.9 m/s
remarks: {velocity: larger louvre on order}
"""


def solver(monkeypatch, folder):
    """A function that solves project text with a chapter of given text, in this folder."""
    patch(monkeypatch)
    monkeypatch.chdir(folder)

    def run(project=PROJECT, chapter=CHAPTER):
        path = folder / "trial_chapter.py"
        path.write_text(chapter)
        spec = importlib.util.spec_from_file_location("trial_chapter", path)
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        place = folder / "projects" / "trial"
        place.mkdir(parents=True, exist_ok=True)
        (place / "project.yaml").write_text(project)
        return solve(read("projects/trial"), collect([module]))
    return run
