"""The row with numbers: the arms that run at the element shown, the terms of its sums, the item that governs. No arm that is dead, no formula twice."""

import ast
import re

import numpy as np
import pytest
from trial_terms import KNOWN, patch

from basis.language import notation
from basis.site.addresses import of_book
from basis.site.working import of_value
from basis.solving.spelled import deciding, spelled
from basis.solving.value import Value
from basis.solving.working import numbers_put_in, record

ITEMS = {"opening": ("north", "south", "roof"), "heat_source": ("set", "pipe"), "band": tuple(f"band_{place}" for place in range(9))}


@pytest.fixture(autouse=True)
def trial(monkeypatch):
    patch(monkeypatch)


def value(name, number):
    term = KNOWN[name]
    data = np.array(number, dtype=object if term.is_text else float) if term.axes else number
    return Value(name, term, data, "given", term.axes, tuple(ITEMS[axis] for axis in term.axes))


GIVEN = {name: value(name, number) for name, number in {
    "trial_area": [2.0, 3.0, 5.0], "trial_kind": ["grille", "door", "grille"], "trial_flow": 30.0, "trial_length": 2.0, "trial_long_only": 7.0,
    "trial_mode": "long", "trial_room_area": [10.0, 20.0], "trial_place": ["pipe", "set", ""], "trial_level": np.full((3, 9), 60.0)}.items()}


@pytest.mark.parametrize("expression, element, shown", [
    ("trial_flow / trial_area", {"opening": "south"}, "30.0\u00a0m³/s / 3.00\u00a0m²"),
    ('sum_over("opening", trial_area)', {}, "2.00\u00a0m² for north + 3.00\u00a0m² for south + 5.00\u00a0m² for roof"),
    ('sum_over("opening", trial_area if trial_kind == "grille" else 0)', {}, "2.00\u00a0m² for north + 5.00\u00a0m² for roof"),
    ('sum_over("opening", trial_area if trial_kind == "door" else 0)', {}, "3.00\u00a0m² for south"),
    ('sum_over("opening", trial_length)', {}, "2.00\u00a0m + 2.00\u00a0m + 2.00\u00a0m"),  # all alike: no names
    ('sum_over("opening", 0 if trial_area < 9 else trial_area)', {}, "0"),
    ('cumulative_over("opening", trial_area)', {"opening": "south"}, "2.00\u00a0m² for north + 3.00\u00a0m² for south"),
    ('max_over("opening", trial_area * 2)', {}, "max[roof] 5.00\u00a0m² · 2"),
    ('min_over("opening", trial_area)', {}, "min[north] 2.00\u00a0m²"),
    ('max_over("opening", trial_area if trial_kind == "door" else 0)', {}, "max[south] 3.00\u00a0m²"),
    ('trial_flow / count_over("opening")', {}, "30.0\u00a0m³/s / 3"),
    ('trial_area / 2 if trial_kind == "grille" else trial_area', {"opening": "south"}, "3.00\u00a0m²"),
    ('trial_area / 2 if trial_kind == "grille" else trial_area', {"opening": "roof"}, "5.00\u00a0m² / 2"),
    ("trial_length if trial_length > trial_long_only else trial_long_only", {}, "7.00\u00a0m"),
    ("pick(trial_place, trial_room_area)", {"opening": "north"}, "20.0\u00a0m²"),
    ('energy_sum_over("opening", energy_sum_over("band", trial_level))', {},
     "60.0\u00a0dB ⊕ 60.0\u00a0dB ⊕ 60.0\u00a0dB ⊕ … ⊕ 60.0\u00a0dB" + " ⊕ 60.0\u00a0dB ⊕ 60.0\u00a0dB ⊕ 60.0\u00a0dB ⊕ … ⊕ 60.0\u00a0dB" * 2),
    ("trial_length if trial_length > trial_time else trial_long_only", {}, "2.00\u00a0m if 2.00\u00a0m > trial_time; 7.00\u00a0m otherwise"),  # not at hand
    ("trial_length * 3.141592653589793 / 6.283185307179586", {}, "(2.00\u00a0m · π) / 2π"),
])
def test_an_expression_at_an_element(expression, element, shown):
    tree = spelled(GIVEN, ast.parse(expression, mode="eval").body, element)
    assert notation.shown(tree, notation.Text(), numbers_put_in(GIVEN)) == shown


def test_the_item_that_governs_is_called_by_its_name():
    tree = ast.parse('max_over("opening", trial_area)', mode="eval").body
    named = spelled(GIVEN, tree, {}, {"opening": {"roof": "Roof_2 cowl"}})
    assert notation.shown(named, notation.Text(), numbers_put_in(GIVEN)) == "max[Roof_2 cowl] 5.00\u00a0m²"
    assert ">Roof_2 cowl<" in notation.mathml("trial_total", named, numbers_put_in(GIVEN))


def test_terms_of_a_sum_stand_over_the_names_of_their_items():
    tree = ast.parse('trial_length * sum_over("opening", trial_area * trial_area)', mode="eval").body
    names = {"opening": {"south": "South wall", "roof": "Cowl on the roof of the engine room"}}
    written = notation.mathml("trial_total", spelled(GIVEN, tree, {}, names), numbers_put_in(GIVEN))
    assert re.findall("<mtext>([^<]*)</mtext></munder>", written) == ["north", "South wall", "roof"]  # of a long name the words of the key
    assert written.count("<munder><mrow>") == 3 and "<mo stretchy='false'>(" in written and written.count("<math>") > 3  # the line may be broken between them


def test_a_term_too_long_for_a_line_is_broken_behind_what_stands_over_its_name():
    factors = " * ".join(["trial_area"] * 4)
    written = notation.mathml("trial_total", spelled(GIVEN, ast.parse(f'sum_over("opening", {factors})', mode="eval").body, {}), numbers_put_in(GIVEN))
    assert written.count("<munder>") == 3 and written.count("<math>") > 3
    assert all(stretch.count("<munder>") == stretch.count("</munder>") for stretch in written.split("<math>"))


@pytest.mark.parametrize("expression, element, asked", [
    ('trial_area if trial_kind == "grille" else 0 * m**2', {"opening": "south"}, ["trial_kind.south"]),
    ('0 if trial_mode == "long" else 1 if trial_length > trial_long_only else 2', {}, ["trial_mode"]),
    ('0 if trial_mode == "short" else 1 if trial_length > trial_long_only else 2', {}, ["trial_mode", "trial_length", "trial_long_only"]),
    ("0 if trial_time > trial_length else 1", {}, []), ("trial_length", {}, [])])
def test_what_chose_the_arm_that_runs(expression, element, asked):
    assert [value.id for value in deciding(GIVEN, ast.parse(expression, mode="eval").body, element)] == asked


@pytest.mark.parametrize("expression, alone", [("0", True), ("-1", True), ("12 * mm", True), ("nothing", True), ("not_given", True), ("3 * m / s**2", True),
                                               ("1 + 1", False),
                                               ("trial_length", False), ("2 * trial_length", False), ("sqrt(4)", False)])
def test_a_number_alone_is_told_from_an_expression(expression, alone):
    assert notation.is_quantity(ast.parse(expression, mode="eval").body) == alone


def test_a_number_of_the_formula_itself_is_shown_once_with_its_reason(books, monkeypatch):
    monkeypatch.undo()
    book = books["larkmere-hospital"]
    facts = record(book.values, book["loop_pipe_velocity"])
    assert facts["numbers_put_in"] == "" and facts["because"] == "radiator placement is mounted"
    told = str(of_value(of_book(book), book["loop_pipe_velocity"]))
    assert "as radiator placement is mounted" in told and re.sub("<[^>]*>", "", told).count("=\u00a00") == 1 and "<mn>0</mn></math>" not in told
    plain = str(of_value(of_book(book), book["transformer_cost"]))
    assert "as need of transformers is none" in plain and re.sub("<[^>]*>", "", plain).count("=\u00a00") == 1


def test_no_row_keeps_a_dead_arm_or_repeats_the_formula(books, monkeypatch):
    monkeypatch.undo()
    rows = 0
    for book in books.values():
        for one in book.values.values():
            facts = record(book.values, one) if one.origin == "formula" and one.elements() else {"numbers_put_in": ""}
            row = facts["numbers_put_in"].partition(" = ")[2]
            rows += bool(row)
            assert not row or row != facts["formula"].partition(" = ")[2], f"{book.project.slug}: {one.id} repeats {row}"
            assert " otherwise" not in row and " if " not in row, f"{book.project.slug}: {one.id} keeps a dead arm: {row}"
            assert "3.14159" not in row and "6.28318" not in facts.get("formula", "") and "3.14159" not in facts.get("formula", "")
    assert rows > 2500
