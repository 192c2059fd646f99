"""The maths a reader sees, from the tree that runs."""

import ast
import re
from xml.etree import ElementTree

import pytest
from trial_terms import KNOWN, patch

from basis.chapters import catalogue
from basis.language.formula import Formula
from basis.language.notation import MathML, Text, mathml, shown, text


@pytest.fixture(autouse=True)
def trial(monkeypatch):
    patch(monkeypatch)


def tree(expression):
    return ast.parse(expression, mode="eval").body


@pytest.mark.parametrize("expression, expected", [
    ("trial_length + trial_time * trial_factor", "l + t · η"),
    ("(trial_length + trial_time) * trial_factor", "(l + t) · η"),
    ("trial_length - (trial_time - trial_factor)", "l − (t − η)"),
    ("trial_length - trial_time - trial_factor", "l − t − η"),
    ("(trial_length + trial_time) / trial_factor", "(l + t) / η"),
    ("trial_length / (trial_time * trial_factor)", "l / (t · η)"),
    ("(trial_length * trial_time) ** 2", "(l · t)^2"),
    ("-trial_length", "−l"),
    ("trial_length * -1.5", "l · (−1.5)"),
    ("trial_length * (-trial_time)", "l · (−t)"),
    ("10 * log10(trial_active / kW)", "10 · lg(P / 1\u00a0kW)"),
    ("4000 * Hz", "4000\u00a0Hz"),
    ("trial_time * 8760 * h", "t · 8760\u00a0h"),
    ("8760 * h * trial_time", "8760\u00a0h · t"),
    ("trial_length / (60 * K)", "l / 60\u00a0K"),
    ("-2239.1 * K / trial_time", "(−2239.1\u00a0K) / t"),
    ("trial_length - -5 * m", "l − (−5\u00a0m)"),
    ("(2 * m) ** 2", "(2\u00a0m)^2"),
    ("1.5 * Pa * s", "1.5\u00a0Pa·s"),
    ("trial_factor * 1.5 * Pa * s", "η · 1.5\u00a0Pa·s"),
    ("trial_flow / (L / s)", "q / (1\u00a0L/s)"),
    ("trial_length / (2 * m / s)", "l / (2\u00a0m/s)"),
    ("trial_length / (lb / ft ** 3)", "l / (1\u00a0lb/ft³)"),
    ("trial_length / (mm * mm / s)", "l / (1\u00a0mm²/s)"),
    ("0.161 * s / m * trial_area", "0.161\u00a0s/m · A"),
    ("8.686 / m", "8.686 / 1\u00a0m"),
    ("Pa * exp(trial_factor)", "1\u00a0Pa · exp(η)"),
    ("trial_active / kW", "P / 1\u00a0kW"),
    ("(trial_factor + 1) * kW", "(η + 1) · 1\u00a0kW"),
    ("max(trial_length, 0.1 * m)", "max(l, 0.1\u00a0m)"),
    ("sqrt(trial_length)", "√(l)"),
    ('sum_over("opening", trial_area)', "Σ[opening] A"),
    ("max(0, trial_length)", "max(0, l)"),
    ('trial_length if trial_mode == "short" else trial_time', "l if Mode = short; t otherwise"),
    ("trial_length if trial_length > 2 and not trial_time <= 3 else 0", "l if l > 2 and not (t ≤ 3); 0 otherwise"),
    ('trial_factor + (1 if trial_mode == "short" else 2)', "η + (1 if Mode = short; 2 otherwise)"),  # or else the whole sum would read as the first arm
    ('(1 if trial_mode == "short" else 2) + trial_factor', "(1 if Mode = short; 2 otherwise) + η"),
])
def test_plain_text(expression, expected):
    assert shown(tree(expression), Text()) == expected


@pytest.mark.parametrize("expression", ["trial_flow / trial_area", "sqrt(trial_length ** 2 + 3)", 'max_over("opening", trial_area)',
                                        'trial_length if trial_mode == "short" else -trial_time', "min(trial_length, 3)", "abs(trial_length)"])
def test_mathml_is_well_formed(expression):
    parsed = ElementTree.fromstring(mathml("trial_result", tree(expression)))
    assert parsed.tag == "math" and parsed.find(".//mo") is not None


def test_symbols_with_marks_are_escaped():
    assert MathML().symbol("Δ<T_a&b") == "<msub><mi>Δ&lt;T</mi><mtext>a&amp;b</mtext></msub>"


def test_numbers_put_in_keep_precedence():
    numbers = {"trial_length": "3\u00a0m", "trial_time": "4\u00a0s"}
    assert text("trial_result", tree("trial_length * trial_time"), lambda name, writer: numbers[name]) == "l_r = 3\u00a0m · 4\u00a0s"


@pytest.mark.parametrize("expression, expected", [
    ("trial_factor * kW", "12\u00a0kW"),
    ("trial_length * trial_factor * kW", "3\u00a0m · 12\u00a0kW"),
    ("trial_length * kW", "3\u00a0m · 1\u00a0kW"),
    ("trial_length * 4000 * Hz", "3\u00a0m · 4000\u00a0Hz"),
    ("trial_length / (2 * m)", "3\u00a0m / 2\u00a0m"),
    ("trial_length / m", "3\u00a0m / 1\u00a0m"),
])
def test_number_and_unit_with_numbers_put_in(expression, expected):
    numbers = {"trial_length": ("3", "m"), "trial_factor": ("12", "")}
    assert shown(tree(expression), Text(), lambda name, writer: writer.number(*numbers[name])) == expected


def test_number_and_unit_in_mathml():
    assert shown(tree("4000 * Hz"), MathML()) == "<mn>4000</mn><mspace width='0.2em'/><mtext>Hz</mtext>"
    put_in = shown(tree("trial_factor * kW"), MathML(), lambda name, writer: writer.number("12"))
    assert put_in == "<mn>12</mn><mspace width='0.2em'/><mtext>kW</mtext>"
    assert "<mo>·</mo><mn>1</mn>" in shown(tree("trial_factor * kW"), MathML())  # a symbol keeps its sign


def test_no_formula_of_the_book_multiplies_a_number_by_one_of_a_unit(monkeypatch):
    monkeypatch.undo()
    written = {name: text(name, one.expression) for name, one in catalogue().producers.items() if isinstance(one, Formula)}
    assert not {name: line for name, line in written.items() if re.search(r"\d · 1\u00a0", line)}
    assert "4000\u00a0Hz" in written["element_insertion_loss"]


def test_every_trial_symbol_is_there():
    assert all(KNOWN[name].symbol or KNOWN[name].is_text for name in KNOWN)


def test_a_small_constant_is_written_with_a_power_of_ten():
    # ASHRAE Fundamentals 2017, chapter 1, equation 6 prints 4.1764768 E-05 and -5.8002206 E+03 (from memory).
    written = text("saturation_pressure", catalogue().producers["saturation_pressure"].expression)
    assert "4.1764768 × 10⁻⁵" in written and "−5800.2206" in written and "e-" not in written and "e−" not in written
