"""What a formula may be and hold; everything else is refused when it is defined."""

import ast
import importlib.util
import math

import numpy as np
import pytest
from trial_terms import KNOWN, patch

from basis.language.compiled import Step, chain
from basis.language.formula import SOME, caution, check, formula, procedure
from basis.language.maths import FormulaError, kW, log10, sum_over  # noqa: F401
from basis.language.terms import Term, _validate
from basis.language.units import named, unit


@pytest.fixture(autouse=True)
def trial(monkeypatch):
    patch(monkeypatch)


def define(tmp_path, text, **facts):
    """Define a formula from text in a file of its own, as a chapter would."""
    path = tmp_path / f"chapter_{abs(hash(text))}.py"
    path.write_text("from basis.language.formula import formula\nfrom basis.language.maths import *\n" + text)
    spec = importlib.util.spec_from_file_location(path.stem, path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return next(value for value in vars(module).values() if getattr(value, "module", "") == path.stem)


def body(expression, parameters, name="trial_result"):
    return f'@formula(source="physics")\ndef {name}({", ".join(parameters)}):\n    """Doc."""\n    return {expression}\n'


REFUSED = {
    "metres to seconds": ("trial_length + trial_time", "adds or subtracts different dimensions"),
    "wrong result": ("trial_length * trial_time", "yields m.s, its Term has m"),
    "the arm that does not run": ('trial_length if trial_mode == "short" else trial_time', "compares or joins different dimensions"),
    "a choice that is none": ('trial_length if trial_mode == "shrot" else trial_long_only', "is not a choice"),
    "logarithm of a dimension": ("trial_length * log10(trial_length)", "which has a dimension"),
    "dimension to a variable power": ("trial_length ** trial_factor", "needs a constant exponent"),
    "length and a bare number": ("trial_length + 3", "different dimensions"),
    "a comparison of dimensions": ("trial_length if trial_length > trial_time else trial_length", "compares or joins"),
    "a call": ("abs(open(trial_length))", "neither a parameter nor a unit"),
    "an attribute": ("trial_length.real", "not allowed"),
    "an index": ("trial_length[0]", "not allowed"),
    "a lambda": ("(lambda: trial_length)()", "not allowed"),
    "floor division": ("trial_length // 2", "not allowed"),
    "a comprehension": ("sum([trial_length for _ in (1, 2)])", "neither a parameter nor a unit"),
    "axis that is not there": ('sum_over("opening", trial_length)', "nothing here runs over"),
    "an item for each pair": ("pick(trial_place, trial_room_area * trial_area) / trial_length", "runs over 'opening' twice"),
    "two arguments for one": ("sqrt(trial_length ** 2, trial_length)", "sqrt.. takes 1, not 2"),
    "one argument for two": ("max(trial_length)", "max.. takes 2 or more, not 1"),
    "no argument": ("log10() * trial_length", "log10.. takes 1, not 0"),
    "a look-up without key": ('lookup("cable-ampacity", "x") * trial_length', "lookup.. takes 3, not 2"),
    "a star": ("max(*trial_length, *trial_length)", "not allowed"),
    "a keyword": ("max(trial_length, trial_length, key=trial_factor)", "not allowed"),
    "true": ("trial_length * True", "not allowed"),
    "none": ("trial_length + None", "not allowed"),
    "infinity": ("trial_length * 1e999", "not allowed"),
    "imaginary": ("trial_length * 2j", "not allowed"),
    "a bare nought": ("0 * trial_length", "yields a number as written, its Term has m"),
    "a literal in place of a reference": ("pick(0, trial_length)", "goes by a Term that is a reference, not by '0'"),
    "a number in place of a reference": ("pick(trial_factor, trial_length)", "goes by a Term that is a reference"),
    "a literal in place of an axis": ("sum_over(1, trial_length)", "1 is not the name of an axis"),
    "an axis misspelt": ('count_over("opning") * trial_length', "'opning' is not the name of an axis; nearest: opening"),
    "a choice as a number": ("trial_length * trial_mode", "'trial_mode' is a choice, not a number"),
    "a word for a number": ('trial_length if trial_length == "short" else trial_long_only', "neither a choice nor a text"),
    "a choice that is near": ('trial_length if trial_mode == "shrt" else trial_long_only', "nearest: short"),
    "a name that is near": ("trial_length + trial_lenght_", "neither a parameter nor a unit.*nearest: trial_length"),
    "a function that is near": ("trial_length * sqr(trial_factor)", "nearest: sqrt"),
    "a function of Python": ("trial_length * round(trial_factor)", "'round' is neither"),
    "no such table": ('lookup("no-such-table", "x", trial_length)', "neither a table nor a Term that names one"),
    "a literal in place of a column": ('lookup("engine-noise-bands", 1, trial_time)', "1 is not a column"),
    "a column misspelt": ('trial_length * lookup("engine-noise-bands", "exhuast", trial_time)', "is not a column of the table; nearest: exhaust"),
    "a key of another dimension": ('trial_length * lookup("iso-9613-2-ground", "decay", trial_time)', "as key of table 'iso-9613-2-ground'.*s and Hz"),
    "a bare number as key": ('trial_length * lookup("iso-9613-2-ground", "decay", 63)', "as key of table"),
    "words as key of numbers": ('trial_length * lookup("iso-9613-2-ground", "decay", trial_mode)', "is words, the keys of table"),
    "a number as key of words": ('trial_length * lookup("control-conductors-metric", "area", trial_factor)', "is a number, the keys of table"),
    "an exponent that cannot be": ("trial_length ** (1 / 0)", "needs a constant exponent"),
    "units are named in a sum": ("trial_length + trial_active", "m and W"),
    "what may not exist, and nobody says when": ("trial_length if trial_length > 0 else nothing", "its Term does not say when"),
    "what is left to a project that may not give it": ("trial_length if trial_length > 0 else not_given", "leaves its value to the project"),
    "two temperatures": ("trial_length * ((trial_hot + trial_cold) / trial_hot)", "adds two temperatures"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_refused_at_definition(tmp_path, case):
    expression, told = REFUSED[case]
    parameters = [name for name in KNOWN if name in expression]
    with pytest.raises(FormulaError, match=told):
        define(tmp_path, body(expression, parameters))


@pytest.mark.parametrize("parameters", ["*trial_length", "**trial_length", "trial_length, /", "*, trial_length", "trial_length=1"])
def test_parameters_of_one_sort(tmp_path, parameters):
    with pytest.raises(FormulaError, match="no star, no slash, no default"):
        define(tmp_path, body("trial_length", [parameters]))


def test_a_unit_or_function_of_the_module_itself_is_refused(tmp_path):
    for own, expression in (("kW = 1.0", "trial_length * (trial_active / kW)"), ("def sqrt(x):\n    return x", "sqrt(trial_length ** 2)"),
                            ("def max(*x):\n    return 1", "max(trial_length, trial_length)")):
        with pytest.raises(FormulaError, match="is not that of basis.language.maths"):
            define(tmp_path, own + "\n" + body(expression, [name for name in KNOWN if name in expression]))


def test_kinds_of_terms_are_a_closed_list():
    with pytest.raises(ValueError, match="unknown kind 'aparent power'.*nearest: apparent power"):
        _validate(Term("x", "x", "W", "X", "", kind="aparent power"), {})


def test_a_dimension_is_told_as_a_unit():
    # SI brochure, table 4: 1 N = 1 kg·m/s², 1 Pa = 1 kg/(m·s²), 1 V = 1 W/A
    told = {"kN": "N", "bar": "Pa", "kV": "V", "km/h": "m/s", "%": "a plain number", "kg/(m^2*s^2)": "kg/(m²·s²)", "1/m": "1/m", "m^3": "m³"}
    assert {text: named(unit(text).dimension) for text in told} == told


@pytest.mark.parametrize("text, told", [
    (body("trial_length * stray", ["trial_length"]), "neither a parameter nor a unit"),
    (body("trial_length", ["trial_length", "trial_time"]), "are not used"),
    (body("trial_length", ["trial_lenght"]), "is not a Term; nearest: trial_length"),
    (body("trial_length", ["trial_length"], name="no_such_term"), "is not a Term"),
    ('@formula(source="no-such-source")\ndef trial_result(trial_length):\n    """Doc."""\n    return trial_length\n', "unknown sources"),
    ('@formula(source="physics")\ndef trial_result(trial_length):\n    return trial_length\n', "no docstring"),
    ('@formula(source="physics")\ndef trial_result(trial_length):\n    """Doc."""\n    x = trial_length\n    return x\n', "one return of one expression"),
    ('@formula(source="physics", valid={"trial_time": (0, 1)})\ndef trial_result(trial_length):\n    """Doc."""\n    return trial_length\n',
     "neither takes nor yields"),
    (body("trial_velocity * trial_length / trial_length", ["trial_velocity", "trial_length"], name="trial_limit"), "runs over"),
    (body("trial_active + trial_apparent", ["trial_active", "trial_apparent"], name="trial_active"), "active power and apparent power"),
    (body("trial_apparent", ["trial_apparent"], name="trial_active"), "yields apparent power"),
])
def test_refused_for_other_reasons(tmp_path, text, told):
    with pytest.raises(FormulaError, match=told):
        define(tmp_path, text)


@pytest.mark.parametrize("expression, parameters, name", [
    ("trial_apparent * trial_ratio", ["trial_apparent", "trial_ratio"], "trial_active"),  # a ratio may turn kVA into kW
    ("trial_hot - trial_cold", ["trial_hot", "trial_cold"], "trial_rise"),
    ("trial_cold + trial_rise", ["trial_cold", "trial_rise"], "trial_hot"),
    ("10 * log10(trial_active / kW)", ["trial_active"], "trial_all"),
    ("max(0, trial_length)", ["trial_length"], "trial_result"),
    ("(trial_length ** 2 + trial_long_only ** 2) ** 0.5", ["trial_length", "trial_long_only"], "trial_result"),
])
def test_accepted(tmp_path, expression, parameters, name):
    assert define(tmp_path, body(expression, parameters, name)).id == name


def test_a_wrapped_function_is_refused():
    import functools

    def plain(trial_length):
        """Doc."""
        return trial_length
    plain.__name__ = "trial_result"

    @functools.wraps(plain)
    def wrapper(trial_length):
        return 2 * plain(trial_length)
    with pytest.raises(FormulaError, match="wrapped"):
        formula(source="physics")(wrapper)


def test_a_stale_source_text_is_refused(tmp_path):
    path = tmp_path / "stale.py"
    path.write_text('def trial_result(trial_length, trial_factor):\n    """Doc."""\n    return trial_length * trial_factor\n')
    space = {}
    exec(compile(path.read_text(), str(path), "exec"), space)
    path.write_text('def trial_result(trial_length, trial_factor):\n    """Doc."""\n    return trial_length / trial_factor\n')
    with pytest.raises(FormulaError, match="not the text in its file"):
        formula(source="physics")(space["trial_result"])


def test_checks_and_procedures_name_terms():
    with pytest.raises(FormulaError):
        check("x", "trial_length", limit="trial_time", safe="below", source="physics", title="X")
    with pytest.raises(FormulaError):
        check("x", "trial_length", limit="trial_long_only", safe="beside", source="physics", title="X")
    with pytest.raises(FormulaError):
        procedure(source="physics", equation="a = b", yields=("no_term",))(lambda trial_length: None)


def test_the_condition_of_a_caution_can_hold():
    """A choice with its words or a number of the plant, never one word of a choice for each item, which would say nothing of the whole."""
    assert caution("Air.", starting_method=("air", "both")).applies == (("starting_method", ("air", "both")),)
    for wrong in ({"no_term": SOME}, {"starting_method": ("steam",)}, {"starting_method": "air"}, {"barrier_role": ("screen",)}):
        with pytest.raises(FormulaError):
            caution("Beware.", **wrong)


# -- compiled for floats and arrays -----------------------------------------------------------------------------------

def steps_of(tmp_path, *definitions):
    made = [define(tmp_path, body(*definition)) for definition in definitions]
    return tuple(Step((each.id,), each.expression) for each in made)


def test_axes_line_up_by_name(tmp_path):
    steps = steps_of(tmp_path,
                     ("trial_flow / trial_area", ["trial_flow", "trial_area"], "trial_velocity"),
                     ('sum_over("opening", trial_area)', ["trial_area"], "trial_total"),
                     ('cumulative_over("opening", trial_area)', ["trial_area"], "trial_running_total"),
                     ('max_over("opening", trial_area)', ["trial_area"], "trial_largest"),
                     ('sum_over("opening", trial_area) / count_over("opening")', ["trial_area"], "trial_mean"),
                     ("pick(trial_place, trial_room_area)", ["trial_place", "trial_room_area"], "trial_picked"),
                     ('energy_sum_over("band", trial_level + trial_weight)', ["trial_level", "trial_weight"], "trial_sum"),
                     ('energy_sum_over("opening", trial_sum)', ["trial_sum"], "trial_all"))
    area, room = np.array([2.0, 3.0, 5.0]), np.array([10.0, 20.0])
    level = np.array([[95, 98, 100, 97, 95, 93, 90, 86, 80]] * 3, dtype=float)
    weight = np.array([-39.4, -26.2, -16.1, -8.6, -3.2, 0, 1.2, 1.0, -1.1])
    inputs = {"trial_flow": 30.0, "trial_area": area, "trial_room_area": room, "trial_place": np.array([1, 0, 1]), "trial_level": level, "trial_weight": weight,
                  "number_of_opening": 3.0}
    velocity, total, running, largest, mean, picked, summed, everything = chain(steps, tuple(inputs), KNOWN)(*inputs.values())
    assert velocity.tolist() == [15.0, 10.0, 6.0] and total == 10.0 and running.tolist() == [2.0, 5.0, 10.0]
    assert largest == 5.0 and mean == pytest.approx(10 / 3) and picked.tolist() == [20.0, 10.0, 20.0]
    assert isinstance(total, float)
    assert summed == pytest.approx([98.03] * 3, abs=0.005)  # 98.03 dBA: A-weights of IEC 61672-1 on this spectrum, summed by hand
    assert everything == pytest.approx(98.03 + 10 * math.log10(3), abs=0.005)


def test_samples_are_one_more_leading_axis(tmp_path):
    steps = steps_of(tmp_path,
                     ("trial_flow / trial_area", ["trial_flow", "trial_area"], "trial_velocity"),
                     ('energy_sum_over("band", trial_level + trial_weight)', ["trial_level", "trial_weight"], "trial_sum"))
    area, flows = np.array([2.0, 4.0]), np.array([10.0, 20.0, 40.0])
    level = np.random.default_rng(1).uniform(60, 90, (3, 2, 9))
    inputs = {"trial_flow": flows, "trial_area": area, "trial_level": level, "trial_weight": np.zeros(9)}
    velocity, summed = chain(steps, tuple(inputs), KNOWN, sampled=True)(*inputs.values())
    assert velocity.tolist() == [[5, 2.5], [10, 5], [20, 10]]
    single = [chain(steps, tuple(inputs), KNOWN)(flow, area, one, np.zeros(9)) for flow, one in zip(flows, level)]
    assert np.allclose(velocity, [each[0] for each in single], rtol=1e-12) and np.allclose(summed, [each[1] for each in single], rtol=1e-12)


def test_conditionals_by_item_and_by_sample(tmp_path):
    steps = steps_of(tmp_path, ('trial_area / 2 if trial_kind == "grille" else trial_area', ["trial_area", "trial_kind"], "trial_running_total"),
                     ("trial_length if trial_length > trial_long_only else trial_long_only", ["trial_length", "trial_long_only"], "trial_result"))
    inputs = {"trial_area": np.array([2.0, 4.0]), "trial_kind": np.array(["grille", "door"], dtype=object), "trial_length": 1.0, "trial_long_only": 3.0}
    by_item, by_test = chain(steps, tuple(inputs), KNOWN)(*inputs.values())
    assert by_item.tolist() == [1.0, 4.0] and by_test == 3.0
    inputs["trial_length"] = np.array([1.0, 5.0])
    assert chain(steps, tuple(inputs), KNOWN, sampled=True)(*inputs.values())[1].tolist() == [3.0, 5.0]


def test_a_plain_number_stands_among_samples(tmp_path):
    arm = Step(("trial_length",), ast.parse("3 * m", mode="eval").body)  # what a choice leaves of a formula
    steps = steps_of(tmp_path, ("trial_area * trial_length / (2 * m)", ["trial_area", "trial_length"], "trial_running_total"))
    _, total = chain((arm, *steps), ("trial_area",), KNOWN, sampled=True)(np.array([[2.0, 4.0], [1.0, 2.0]]))
    assert total.tolist() == [[3.0, 6.0], [1.5, 3.0]]  # hand calculation


def test_an_item_that_refers_to_nothing_picks_nothing(tmp_path):
    steps = steps_of(tmp_path, ("pick(trial_place, trial_room_area)", ["trial_place", "trial_room_area"], "trial_picked"))
    inputs = {"trial_place": np.array([1, -1, 0]), "trial_room_area": np.array([10.0, 20.0])}
    found = chain(steps, tuple(inputs), KNOWN)(*inputs.values())[0]
    assert found[0] == 20.0 and math.isnan(found[1]) and found[2] == 10.0


@pytest.mark.parametrize("expression", ["max(trial_length, trial_long_only)", "max(trial_long_only, trial_length)", "min(trial_length, 2 * trial_long_only)",
                                        "trial_length if trial_long_only > trial_length else 2 * trial_length",
                                        "trial_length if trial_length > 0 * trial_length and not trial_long_only < trial_length else 2 * trial_length"])
def test_what_is_not_given_decides_nothing(tmp_path, expression):
    names = ["trial_length", "trial_long_only"]
    made = define(tmp_path, body(expression, names))
    step = Step(("trial_result",), made.expression)
    (plain,) = chain((step,), tuple(names), KNOWN)(1.0, math.nan)
    (sampled,) = chain((step,), tuple(names), KNOWN, sampled=True)(np.array([1.0, 1.0]), np.array([math.nan, 3.0]))
    assert math.isnan(plain) and math.isnan(sampled[0]) and sampled[1] > 0  # where all is given there is a result
