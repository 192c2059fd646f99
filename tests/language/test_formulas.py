"""Every formula of every chapter: dimensions by pint on both arms, both compiled forms alike, its own code, a test that quotes the outside."""

import ast
import math
import re
from operator import attrgetter
from pathlib import Path

import numpy as np
import pint
import pytest
from each import chapter_of, of_each

from basis.chapters import catalogue
from basis.language import units
from basis.language.compiled import Step, chain, count_name
from basis.language.faults import OutOfTable
from basis.language.formula import Formula, same_code
from basis.language.maths import UNIT_NAMES, axes_of, decided
from basis.language.sources import sources
from basis.language.table import families, heads, table, tables_of
from basis.language.terms import listed, lists_by_axis, terms

FORMULAS = [thing for thing in dict.fromkeys(catalogue().producers.values()) if isinstance(thing, Formula)]
PROCEDURES = [thing for thing in dict.fromkeys(catalogue().producers.values()) if not isinstance(thing, Formula)]
TESTS = "\n".join(path.read_text("utf-8") for path in Path(__file__).parents[1].rglob("test_*.py"))


class PintWalk:
    """Evaluates a formula's tree in pint quantities, both arms of every conditional: an outside judge of its dimension."""

    def __call__(self, node):
        match node:
            case ast.Name(id=name) if name in UNIT_NAMES:
                return units.quantity(1.0, UNIT_NAMES[name])
            case ast.Name(id="nothing" | "not_given"):
                return 0
            case ast.Name(id=name):
                return units.quantity(1.7, terms()[name].unit) if not terms()[name].is_text else name
            case ast.Constant(value=value):
                return value
            case ast.UnaryOp(operand=operand):
                return -self(operand)
            case ast.BinOp(left=left, op=ast.Pow(), right=right):
                power = self(right)
                return self(left) ** (power if isinstance(power, (int, float)) else float(power.to("").magnitude))
            case ast.BinOp(left=left, op=op, right=right):
                a, b = self(left), self(right)
                if isinstance(op, (ast.Add, ast.Sub)):
                    if 0 in (left_zero := [side for side in (a, b) if isinstance(side, (int, float))]) and left_zero:
                        return b if a == 0 else a
                    return a + b
                return a * b if isinstance(op, ast.Mult) else a / (b if not isinstance(b, (int, float)) or b else 1)
            case ast.IfExp(test=test, body=body, orelse=other):
                self.test(test)
                return self.same(self(body), self(other))
            case ast.Call(func=ast.Name(id=function), args=args):
                return self.call(function, args)
        raise AssertionError(ast.dump(node))

    def call(self, function, args):
        if function == "count_over":
            return 3.0
        if function == "lookup":
            name = args[0].value if isinstance(args[0], ast.Constant) else terms()[args[0].id].table
            unit_text = tables_of(name)[0].units[args[1].value]
            return units.quantity(1.3, unit_text) if unit_text not in ("text",) else 1.0
        if function in ("sum_over", "max_over", "min_over", "cumulative_over", "pick"):
            return self(args[1])
        found = [self(arg) for arg in args if not (isinstance(arg, ast.Constant) and isinstance(arg.value, str))]
        if function in ("min", "max"):
            result = found[0]
            for other in found[1:]:
                result = self.same(result, other)
            return result
        if function == "sqrt":
            return found[0] ** 0.5
        if function == "abs":
            return found[0]
        assert getattr(found[0], "dimensionless", True), f"{function} of {found[0]}"
        return 0.5

    def same(self, a, b):
        if isinstance(a, (int, float)) and a == 0:
            return b
        if isinstance(b, (int, float)) and b == 0:
            return a
        a + b  # pint refuses unlike dimensions
        return a

    def test(self, node):
        match node:
            case ast.BoolOp(values=values):
                for value in values:
                    self.test(value)
            case ast.UnaryOp(operand=operand):
                self.test(operand)
            case ast.Compare(left=left, comparators=[right]):
                if not (isinstance(right, ast.Constant) and isinstance(right.value, str)) and not isinstance(self(left), str):
                    self.same(self(left), self(right))


@of_each(FORMULAS, attrgetter("id"), chapter_of)
def test_dimension_by_pint(formula):
    found, term = PintWalk()(formula.expression), terms()[formula.id]
    if isinstance(found, (int, float)):
        assert term.dimension == units.DIMENSIONLESS or found == 0
    else:
        assert found.dimensionality == units.quantity(1.0, term.unit).dimensionality if term.dimension != units.DIMENSIONLESS else found.dimensionless


def test_pint_refuses_what_our_rule_refuses():
    with pytest.raises(pint.DimensionalityError):
        units.quantity(1, "m") + units.quantity(1, "s")


@of_each(FORMULAS, attrgetter("id"), chapter_of)
def test_the_kept_tree_is_the_code_that_runs(formula):
    arguments = ast.arguments(posonlyargs=[], args=[ast.arg(arg=name) for name in formula.parameters], kwonlyargs=[], kw_defaults=[], defaults=[])
    body = [ast.Expr(ast.Constant(formula.run.__doc__)), ast.Return(formula.expression)]
    kept = ast.FunctionDef(name=formula.id, args=arguments, body=body, decorator_list=[])
    space = {}
    exec(compile(ast.fix_missing_locations(ast.Module(body=[kept], type_ignores=[])), "<kept>", "exec"), space)
    assert same_code(space[formula.id].__code__, formula.run.__code__)


def inputs_of(formula, draw, size):
    """Random inputs inside the ranges of the Terms; item axes get `size` items."""
    found = {}
    for name in formula.parameters:
        term = terms()[name]
        shape = tuple(len(listed(axis).fixed) if listed(axis).fixed else size for axis in term.axes)
        found[name] = _drawn(term, shape, draw, formula.valid.get(name))
    return found | {count_name(axis): float(size) for axis in lists_by_axis()}


def _drawn(term, shape, draw, valid):
    if term.unit == "reference":
        return draw.integers(0, 2, shape) if shape else int(draw.integers(0, 2))
    if term.is_text:
        words = families()[term.table] if term.table else term.choices
        keys = words or _keys_of_tables(term)
        picked = draw.choice(np.array(keys, dtype=object), shape) if shape else str(draw.choice(keys))
        return picked
    low, high = valid or _usual_range(term)
    number = draw.uniform(low, high, shape)
    number = np.ceil(number) if term.whole else number
    return number if shape else float(number)


def _usual_range(term):
    """Numbers such as a plant has: round the default, or inside the physical range, on the scale of the unit shown."""
    if term.constant:
        return term.default_data(), term.default_data()
    if term.kind == "temperature":
        return max(term.low or 0, 250.0), min(term.high or 1e9, 420.0)
    if term.default is not None and np.size(term.default_data()) == 1 and term.default_data() > 0:
        middle = term.default_data()
        return max(term.low or 0, 0.5 * middle), min(term.high or 1e30, 1.5 * middle)
    scale = units.unit(term.si_unit).factor
    low = term.low if term.low else 0.1 * scale
    return low, term.high if term.high is not None else low + 10 * scale


def _keys_of_tables(term):
    """Texts that a look-up by this Term could find: keys of any table with a text key."""
    return sorted({key for used in map(table, heads()) if used.units[used.key] == "text" for key in used.keys})


@of_each(FORMULAS, attrgetter("id"), chapter_of)
def test_plain_and_sampled_forms_agree(formula):
    """The same inputs one by one as floats and all at once as samples, within 1e-9 relative."""
    draw, cases = np.random.default_rng(7), []
    texts = [name for name in formula.parameters if terms()[name].is_text]
    words: dict = {}
    for _ in range(6000):
        inputs = inputs_of(formula, draw, 2) | words
        live = decided(formula.expression, {name: inputs[name] for name in texts if isinstance(inputs[name], str)})
        with np.errstate(all="ignore"):
            try:
                result = chain((Step((formula.id,), live),), tuple(inputs), terms())(*inputs.values())[0]
            except (ArithmeticError, ValueError, OutOfTable):
                continue
        if np.all(np.isfinite(result)):
            cases.append((inputs, result))
            words = {name: inputs[name] for name in texts}  # texts are not sampled: the further cases keep them
        if len(cases) == 4:
            break
    assert cases, "no input in the ranges of its Terms gives a result"
    alone = [result for _, result in cases]
    stacked = {name: words[name] if name in texts else np.array([inputs[name] for inputs, _ in cases]) for name in formula.parameters}
    stacked |= {name: number for name, number in cases[0][0].items() if name.startswith("number_of_")}
    with np.errstate(all="ignore"):
        together = chain((Step((formula.id,), live),), tuple(stacked), terms(), sampled=True)(*stacked.values())[0]
    assert np.allclose(np.broadcast_to(together, np.shape(alone)), alone, rtol=1e-9, atol=1e-300)  # powers of floats and of arrays differ in the last digits
    axes, term = axes_of(formula.expression, terms()), terms()[formula.id]
    assert axes == term.axes or (term.either and set(axes) < set(term.axes))


def test_some_test_runs_it():
    """Each formula is run by a test of its chapter, beside a figure from outside the project."""
    run = {*re.findall(r"\b(\w+)(?=\.run|,|\))", TESTS), *re.findall(r"run\((\w+)\b", TESTS), *re.findall(r"\"(\w+)(?=\")", TESTS)}
    assert {one.id for one in (*FORMULAS, *PROCEDURES)} - run == set()


def test_every_source_and_table_is_known():
    used = {source for thing in catalogue().producers.values() for source in thing.sources}
    used |= {term.source for term in terms().values() if term.source}
    used |= {table(table_id).source for table_id in heads()}
    assert used <= set(sources()), used - set(sources())


def test_defaults_fit_their_terms_and_ranges():
    for term in terms().values():
        if term.default is not None:
            data = term.default_data()
            if term.is_text:
                assert not term.choices or data in term.choices, term.id
                continue
            assert term.low is None or np.all(np.asarray(data) >= term.low - 1e-12), term.id
            assert term.high is None or np.all(np.asarray(data) <= term.high + 1e-12), term.id


def test_symbols_are_unique_on_a_sheet():
    from basis.language.terms import homes

    for chapter in catalogue().chapters:
        seen = {}
        for term in terms().values():
            if homes()[term.id] == chapter.id and term.symbol:
                assert term.symbol not in seen, f"{chapter.id}: {term.symbol} stands for {seen[term.symbol]} and {term.id}"
                seen[term.symbol] = term.id


def test_numbers_of_the_solver_are_floats(books):
    for book in books.values():
        for value in book.values.values():
            if not value.axes and not value.term.is_text:
                assert isinstance(value.number, float) and not math.isinf(value.number), value.id
