"""The maths a reader sees, from the tree that runs."""

import ast
from xml.etree import ElementTree

import pytest

from basis.notation import MathML, Text, mathml, shown, text
from trial_terms import KNOWN, patch


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
    ("sqrt(trial_length)", "√(l)"),
    ('sum_over("opening", trial_area)', "Σ[opening] A"),
    ("max(0, trial_length)", "max(0, l)"),
    ('trial_length if trial_mode == "short" else trial_time', "l if Mode = short; t otherwise"),
    ("trial_length if trial_length > 2 and not trial_time <= 3 else 0", "l if l > 2 and not (t ≤ 3); 0 otherwise"),
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


def test_every_trial_symbol_is_there():
    assert all(KNOWN[name].symbol or KNOWN[name].is_text for name in KNOWN)
