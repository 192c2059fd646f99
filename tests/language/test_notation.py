"""The maths a reader sees, from the tree that runs."""

import ast
import re
from xml.etree import ElementTree

import pytest
from trial_terms import KNOWN, patch

from basis.chapters import catalogue
from basis.language.formula import Formula
from basis.language.notation import MathML, Text, mathml, shown, text
from basis.language.parted import COLUMN, width
from basis.site.quantities import symbol


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
    parsed = ElementTree.fromstring(f"<p>{mathml('trial_result', tree(expression))}</p>")
    assert {part.tag for part in parsed} == {"math"} and parsed.find(".//mo") is not None


def test_a_long_row_can_be_broken_at_its_signs():
    # ISO 80000-2 (from memory): a line is broken before = + − and, if it has to be, before ·. No browser breaks within <math>, so each stretch is one.
    long = mathml("trial_result", tree("trial_time * (trial_area + 1234567 + 2345678 + 3456789 + 4567891) - trial_factor"))
    stretches = re.findall("<math>(.*?)</math>", long)
    assert len(stretches) == 7 and all(stretch.startswith("<mo>") for stretch in stretches[1:])
    assert "stretchy='false'>(" in stretches[1] and "stretchy='false'>)" in stretches[5]  # its brackets stand apart
    assert re.sub("<[^>]*>", "", "".join(stretches)).replace("lr", "l_r") == text("trial_result", tree(
        "trial_time * (trial_area + 1234567 + 2345678 + 3456789 + 4567891) - trial_factor")).replace(" ", "")


WIDE = " + ".join(f"trial_area * 1.{place}" for place in range(1, 13))  # well over a hundred characters


def rows(written):
    """The rows of a formula with parts as text, and what is in each."""
    return [re.sub("<[^>]*>| ", "", row) for row in re.split('<span class="part">|</span>', written) if row]


def test_what_is_too_wide_within_a_fraction_or_brackets_stands_in_a_row_of_its_own():
    whole, part = rows(mathml("trial_result", tree(f"trial_time * exp(({WIDE}) / trial_factor)")))
    assert whole == "lr=t·exp(numeratorη)" and part.startswith("numerator=A·1.1") and part.count("+") == 11
    # With numbers the parts come first: the row that ends with the result follows them
    first, second, last = rows(mathml("trial_result", tree(f"({WIDE}) / trial_factor + trial_time / ({WIDE})"), lambda name, writer: writer.number("7")))
    assert first.startswith("numerator=7·1") and second.startswith("denominator=7·1") and last == "lr=numerator7+7denominator"
    twice = rows(mathml("trial_result", tree(f"({WIDE}) / trial_factor + ({WIDE}) / trial_time")))
    assert [row.partition("=")[0] for row in twice] == ["lr", "numerator", "numerator2"] and twice[0].endswith("+numerator2t")


def test_a_part_comes_before_what_it_is_a_part_of():
    inner = f"exp(exp({WIDE}) + trial_length + {' + '.join(['trial_length * 1.5'] * 9)})"
    for stands_for, words in ((None, ["lr", "argument", "argument2"]), (lambda name, writer: writer.number("7"), ["argument", "argument2", "lr"])):
        assert [row.partition("=")[0] for row in rows(mathml("trial_result", tree(inner), stands_for))] == words


def test_no_row_of_a_formula_is_wider_than_its_column():
    formulas = {name: one.expression for name, one in catalogue().producers.items() if isinstance(one, Formula)}
    widest = {name: max(map(width, re.findall("<math>(.*?)</math>", mathml(name, expression)))) for name, expression in formulas.items()}
    assert not {name: wide for name, wide in widest.items() if wide > 1.05 * COLUMN}  # the sign before the = comes on top


def test_brackets_round_what_is_tall_are_not_broken():
    tall = mathml("trial_result", tree("trial_time * (trial_area / 1234567 + 12345678901 + 34567890123 + 4567891)"))
    assert "stretchy" not in tall and tall.count("<math>") == 2


def test_a_short_row_is_one_piece():
    assert mathml("trial_result", tree("trial_length + trial_time")).count("<math>") == 1


def test_symbols_with_marks_are_escaped():
    assert MathML().symbol("Δ<T_a&b") == "<msub><mrow><mtext>Δ&lt;</mtext><mi>T</mi></mrow><mtext>a&amp;b</mtext></msub>"


@pytest.mark.parametrize("written, html, mathml", [
    # IEC 60909-0 and ISO 80000-4, -6, -8 print these so: signs of quantities slanted, in a subscript too; words, numbers, primes, Δ and cos upright
    ("I″_k", "<i>I</i>″<sub>k</sub>", "<msub><mrow><mi>I</mi><mtext>″</mtext></mrow><mtext>k</mtext></msub>"),
    ("ΔU_n,max", "Δ<i>U</i><sub>n,max</sub>", "<msub><mrow><mtext>Δ</mtext><mi>U</mi></mrow><mtext>n,max</mtext></msub>"),
    ("q_V", "<i>q</i><sub><i>V</i></sub>", "<msub><mi>q</mi><mi>V</mi></msub>"),
    ("L_W,cas", "<i>L</i><sub><i>W</i>,cas</sub>", "<msub><mi>L</mi><mrow><mi>W</mi><mtext>,cas</mtext></mrow></msub>"),
    ("cos φ", "cos <i>φ</i>", "<mrow><mtext>cos </mtext><mi>φ</mi></mrow>"),
    ("Re", "<i>Re</i>", "<mi>𝑅𝑒</mi>"),
    ("THD", "THD", "<mtext>THD</mtext>"),
    ("P_l,Σ", "<i>P</i><sub>l,Σ</sub>", "<msub><mi>P</mi><mtext>l,Σ</mtext></msub>"),
    ("T_0", "<i>T</i><sub>0</sub>", "<msub><mi>T</mi><mtext>0</mtext></msub>"),
])
def test_slanted_and_upright_are_alike_in_text_and_formula(written, html, mathml):
    assert symbol(written) == html
    assert MathML().symbol(written) == mathml


@pytest.mark.parametrize("expression, expected", [
    ("trial_length / 0.7853981634", "l / (π / 4)"),  # 45 degrees in radians
    ("4.1887902047863905 * trial_length", "4π / 3 · l"),
    ("3.1416 * trial_length", "3.1416 · l"),         # five figures are no π
    ("6 * trial_length", "6 · l"),
])
def test_fractions_of_pi_are_written_with_it(expression, expected):
    assert shown(tree(expression), Text()) == expected


def test_pi_stands_upright():
    # ISO 80000-2: mathematical constants are upright; a single letter in <mi> would slant
    assert shown(tree("3.141592653589793 * trial_length"), MathML()) == "<mn>π</mn><mo>·</mo><mi>l</mi>"


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
