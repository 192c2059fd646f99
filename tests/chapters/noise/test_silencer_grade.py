"""The grade of the exhaust silencer, as a project's file is begun with it."""

from basis.guessing.facts import read_facts
from basis.guessing.first import first_guess
from basis.language.table import table
from basis.language.terms import usual_decisions
from basis.reading.project import read
from basis.solving.solve import solve
from basis.terminal.starter import starter_files
from basis.terminal.yaml_text import in_force


def test_the_grade_of_the_silencer_is_a_usual_decision_whose_options_differ(tmp_path):
    """A quieter one costs pressure: less noise at the neighbour and more back-pressure, also where a first guess gives the loss of the silencer."""
    files = starter_files("cold-yard", ("plant", "loads", "exhaust", "noise", "ventilation"), first_guess(read_facts({}), "Cold yard"))
    before, block = files["noise.yaml"].split("#decisions:\n")
    block, after = block.split("\n\n", 1)
    files["noise.yaml"] = before + in_force(f"#decisions:\n{block}") + "\n\n" + after
    for name, text in files.items():
        (tmp_path / name).write_text(text, "utf-8")
    book = solve(read(tmp_path))
    (decision,) = book.project.decisions
    assert decision.id == "silencer_grade_choice"
    sides = [book.options[decision.id, option].values for option in ("residential", "critical")]
    residential, critical = ({name: side[name] for name in ("rating_level", "exhaust_chosen_back_pressure")} for side in sides)
    assert critical["rating_level"].number.max() < residential["rating_level"].number.max()
    assert critical["exhaust_chosen_back_pressure"].number > residential["exhaust_chosen_back_pressure"].number
    for option in usual_decisions()["noise"][0].options:  # what stands written out is what the table of the class has, from 63 Hz on
        losses = table(option.sets["silencer_class"]).columns["loss"]
        assert option.sets["silencer_insertion_loss"]["value"] == f"[not given, {', '.join(f'{loss:g} dB' for loss in losses)}]"
