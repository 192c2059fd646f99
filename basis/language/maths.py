"""The maths of a formula, read from its syntax tree: what is allowed, its dimension and kind, its axes, its Python code.

A node that is not in the tables here is refused when the formula is defined. How the tree is shown is in notation.py.
"""

from __future__ import annotations

import ast
import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from basis.language import units
from basis.language.faults import nearest_name
from basis.language.table import Table, tables_of  # formulas import lookup from here with the other functions
from basis.language.table import lookup as lookup
from basis.language.terms import Term, lists_by_axis
from basis.language.units import SCALES

# Units that a formula may divide by openly, as in 10 * log10(rated_power / kW). Numbers are SI; a test compares them with units.py.
W, kW, MW, kVA, MVA, hp = 1.0, 1e3, 1e6, 1e3, 1e6, 745.69987158227022
Pa, kPa, bar, m, mm, s, h, minute, K, A, kA, V, kV = 1.0, 1e3, 1e5, 1.0, 1e-3, 1.0, 3600.0, 60.0, 1.0, 1.0, 1e3, 1.0, 1e3
kg, L, ohm, Hz, rpm, J, kWh, m2, m3, N, ft, lb, inch = 1.0, 1e-3, 1.0, 1.0, 1 / 60, 1.0, 3.6e6, 1.0, 1.0, 1.0, 0.3048, 0.45359237, 0.0254
UNIT_NAMES = {"W": "W", "kW": "kW", "MW": "MW", "kVA": "kVA", "MVA": "MVA", "hp": "hp", "Pa": "Pa", "kPa": "kPa", "bar": "bar", "m": "m",
              "mm": "mm", "s": "s", "h": "h", "minute": "min", "K": "K", "A": "A", "kA": "kA", "V": "V", "kV": "kV", "kg": "kg", "L": "L",
              "ohm": "ohm", "Hz": "Hz", "rpm": "rpm", "J": "J", "kWh": "kWh", "m2": "m^2", "m3": "m^3", "N": "N", "ft": "ft", "lb": "lb", "inch": "in"}

# Functions of dimensionless numbers -> (scalar code, array code). What is not given has no whole number in math; in NumPy it stays not given.
PLAIN_FUNCTIONS = {**{name: (f"math.{name}", f"np.{array}") for name, array in
                      [("log10", "log10"), ("log", "log"), ("exp", "exp"), ("sin", "sin"), ("cos", "cos"), ("tan", "tan"),
                       ("asin", "arcsin"), ("acos", "arccos"), ("atan", "arctan")]},
                   **{name: (f"np.{name}", f"np.{name}") for name in ("ceil", "floor")}}
REDUCTIONS = ("sum_over", "max_over", "min_over", "energy_sum_over", "cumulative_over")
COMPARISONS = {ast.Eq: "==", ast.NotEq: "!=", ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}
OPERATORS = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**"}
ARGUMENTS = {**dict.fromkeys([*PLAIN_FUNCTIONS, "sqrt", "abs", "count_over"], (1, 1)), **dict.fromkeys([*REDUCTIONS, "pick"], (2, 2)),
             "lookup": (3, 3), "min": (2, math.inf), "max": (2, math.inf)}  # function -> least and most arguments
NO_NUMBERS = ("nothing", "not_given")
NO_TERMS = {*UNIT_NAMES, *ARGUMENTS, *NO_NUMBERS}  # names of something else
ANY = "any"  # dimension of a plain zero, which fits everything
nothing = math.nan  # what a formula yields for a value that does not exist; its Term says in words when that is
not_given = math.nan  # what a formula yields where the project must give the value itself; its Term is `either`

sqrt, log10, log, exp, sin, cos, tan = np.sqrt, np.log10, np.log, np.exp, np.sin, np.cos, np.tan
asin, acos, atan, ceil, floor = np.arcsin, np.arccos, np.arctan, np.ceil, np.floor


def sum_over(axis: str, values):
    """Sum along a named axis; as plain Python, along the last one."""
    return np.sum(values, axis=-1)


def max_over(axis: str, values):
    """Largest along a named axis; as plain Python, along the last one. NaN when there is no item."""
    return np.max(values, axis=-1) if np.shape(values)[-1] else math.nan


def min_over(axis: str, values):
    """Smallest along a named axis; as plain Python, along the last one. NaN when there is no item."""
    return np.min(values, axis=-1) if np.shape(values)[-1] else math.nan


def energy_sum_over(axis: str, levels):
    """Sum of levels in energy, 10 lg Σ 10^(L/10), along a named axis; as plain Python, along the last one."""
    return 10 * np.log10(np.sum(10 ** (np.asarray(levels) / 10), axis=-1))


def cumulative_over(axis: str, values):
    """Running sum along a named axis, which stays; as plain Python, along the last one."""
    return np.cumsum(values, axis=-1)


def count_over(axis: str):
    """Number of items along a named axis, which only a solved or tried formula knows: plain Python raises TypeError."""
    raise TypeError(f"how many items '{axis}' has is not known here")


def pick(reference, values):
    """Value of the item that the reference names (its index along the axis referred to)."""
    return np.take(values, reference, axis=-1)


class FormulaError(TypeError):
    """A formula that cannot be accepted: a mistake of the programmer, with the formula's name in the text."""


@dataclass(frozen=True)
class Meaning:
    """Dimension (exponents, or ANY for zero), kind, and whether it is a plain number, of a part of an expression."""

    dimension: tuple | str
    kind: str = ""
    number: bool = False


def dimension_of(node: ast.expr, known: dict[str, Term]) -> Meaning:
    """Dimension and kind of an expression; every arm of a conditional is visited. Raises FormulaError for what a formula may not hold."""
    match node:
        case ast.Name(id=name) if name in known and not known[name].is_text:
            return Meaning(known[name].dimension, known[name].kind)
        case ast.Name(id=name) if name in known:
            raise FormulaError(f"'{name}' is a {known[name].unit}, not a number")
        case ast.Name(id=name) if name in UNIT_NAMES:
            return Meaning(units.unit(UNIT_NAMES[name]).dimension)
        case ast.Name(id="nothing" | "not_given"):
            return Meaning(ANY)
        case ast.Constant() if _is_number(node):
            return Meaning(ANY if node.value == 0 else units.DIMENSIONLESS, number=True)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return dimension_of(operand, known)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in OPERATORS:
            return _binary(type(op), node, dimension_of(left, known), dimension_of(right, known))
        case ast.IfExp(test=test, body=body, orelse=other):
            _check_test(test, known)
            return _same(node, dimension_of(body, known), dimension_of(other, known))
        case ast.Call(func=ast.Name(id=function), args=args, keywords=[]):
            return _call_dimension(function, args, node, known)
    raise FormulaError(f"'{ast.unparse(node)}' is not allowed in a formula")


def _is_number(node: ast.expr) -> bool:
    """Whether a node is a number as written: not True, and not so large that Python reads it as infinite."""
    return isinstance(node, ast.Constant) and type(node.value) in (int, float) and math.isfinite(node.value)


def _call_dimension(function: str, args: list, node: ast.Call, known: dict) -> Meaning:
    least, most = ARGUMENTS.get(function, (0, 0))
    if not most:
        raise FormulaError(f"function '{function}' is not allowed in a formula{_near(function, ARGUMENTS)}")
    if not least <= len(args) <= most:
        raise FormulaError(f"'{ast.unparse(node)}': {function}() takes {least}{' or more' if most > least else ''}, not {len(args)}")
    if function == "lookup":
        return _lookup_dimension(args, node, known)
    if function in REDUCTIONS or function == "count_over":
        _check_axis(args[0], node)
        return dimension_of(args[1], known) if function in REDUCTIONS else Meaning(units.DIMENSIONLESS)
    if function == "pick":
        if not isinstance(args[0], ast.Name) or args[0].id not in known or known[args[0].id].unit != "reference":
            raise FormulaError(f"'{ast.unparse(node)}': pick() goes by a Term that is a reference, not by '{ast.unparse(args[0])}'")
        return dimension_of(args[1], known)
    found = [dimension_of(arg, known) for arg in args]
    if function in ("min", "max"):
        return _all_same(node, found)
    if function == "abs":
        return found[0]
    if function == "sqrt":
        return Meaning(_scaled(found[0].dimension, 0.5))
    if found[0].dimension not in (units.DIMENSIONLESS, ANY):
        raise FormulaError(f"{function}() of '{ast.unparse(args[0])}', which has a dimension: {units.named(found[0].dimension)}")
    return Meaning(units.DIMENSIONLESS)


def _check_axis(arg: ast.expr, node: ast.Call) -> None:
    axis = arg.value if isinstance(arg, ast.Constant) else None
    if axis not in lists_by_axis():
        raise FormulaError(f"'{ast.unparse(node)}': {ast.unparse(arg)} is not the name of an axis{_near(axis, lists_by_axis())}")


def _lookup_dimension(args: list, node: ast.Call, known: dict) -> Meaning:
    where, column, key = args
    tables = _tables(where, known)
    if not tables:
        raise FormulaError(f"'{ast.unparse(node)}': '{ast.unparse(where)}' is neither a table nor a Term that names one")
    if not isinstance(column, ast.Constant) or any(column.value not in table.units for table in tables):
        shared = set.intersection(*(set(table.units) for table in tables))
        raise FormulaError(f"'{ast.unparse(node)}': {ast.unparse(column)} is not a column of the table{_near(getattr(column, 'value', ''), shared)}")
    for table in tables:
        _check_key(key, table, node, known)
    found = units.unit(tables[0].units[column.value])
    return Meaning(found.dimension, found.kind)


def _tables(where: ast.expr, known: dict) -> tuple[Table, ...]:
    """The tables that a look-up may go to: the named one, or those of the family from which a Term chooses."""
    match where:
        case ast.Constant(value=str() as name):
            return tables_of(name)
        case ast.Name(id=name) if name in known and known[name].table:
            return tables_of(known[name].table)
    return ()


def _check_key(key: ast.expr, table: Table, node: ast.Call, known: dict) -> None:
    """A key must be what the key column holds: words, or numbers of its dimension and kind."""
    wanted = table.units[table.key]
    if wanted == "text" or _is_text(key, known):
        if not (wanted == "text" and _is_text(key, known)):
            raise FormulaError(f"'{ast.unparse(node)}': '{ast.unparse(key)}' is {'words' if _is_text(key, known) else 'a number'}, "
                               f"the keys of table '{table.id}' are {'words' if wanted == 'text' else units.pretty(wanted) or 'plain numbers'}")
        return
    try:
        _same(node, dimension_of(key, known), Meaning(units.unit(wanted).dimension, units.unit(wanted).kind))
    except FormulaError as trouble:
        raise FormulaError(f"'{ast.unparse(key)}' as key of table '{table.id}': {trouble}") from trouble


def _is_text(node: ast.expr, known: dict) -> bool:
    return isinstance(node, ast.Name) and node.id in known and known[node.id].is_text


def _near(word, names) -> str:
    """`; nearest: name`, or nothing when none is near."""
    found = nearest_name(word, names)
    return f"; nearest: {found}" if found else ""


def _scaled(dimension, power: float):
    return dimension if dimension == ANY else tuple(exponent * power for exponent in dimension)


def _binary(op, node, left: Meaning, right: Meaning) -> Meaning:
    if op in (ast.Add, ast.Sub):
        return _sum(op, node, left, right)
    if op is ast.Pow:
        return _power(node, left, right)
    sign = 1 if op is ast.Mult else -1
    first, second = (_scaled(part.dimension, 1) if part.dimension != ANY else units.DIMENSIONLESS for part in (left, right))
    kind = left.kind if right.number and left.kind not in SCALES else ""
    if op is ast.Mult and left.number and right.kind not in SCALES:
        kind = right.kind
    if op is ast.Mult and ANY in (left.dimension, right.dimension):
        return Meaning(ANY)
    return Meaning(tuple(a + sign * b for a, b in zip(first, second)), kind, left.number and right.number)


def _power(node, left: Meaning, right: Meaning) -> Meaning:
    if left.dimension in (units.DIMENSIONLESS, ANY) and right.dimension in (units.DIMENSIONLESS, ANY):
        return Meaning(units.DIMENSIONLESS, number=left.number and right.number)
    return Meaning(_scaled(left.dimension, _exponent(node.right, node)))


def _exponent(written: ast.expr, node: ast.expr) -> float:
    """An exponent as written: a number, a fraction of two, either with a minus."""
    match written:
        case ast.Constant() if _is_number(written):
            return written.value
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_exponent(operand, node)
        case ast.BinOp(left=left, op=ast.Div(), right=ast.Constant() as right) if _is_number(right) and right.value:
            return _exponent(left, node) / right.value
    raise FormulaError(f"'{ast.unparse(node)}': a quantity with a dimension needs a constant exponent")


def _sum(op, node, left: Meaning, right: Meaning) -> Meaning:
    if left.dimension == ANY or right.dimension == ANY:
        return right if left.dimension == ANY else left
    if left.dimension != right.dimension:
        raise FormulaError(f"'{ast.unparse(node)}' adds or subtracts different dimensions: {_both(left, right)}")
    kinds = (left.kind, right.kind)
    if scale := next((kind for kind in kinds if kind in SCALES), ""):
        return Meaning(left.dimension, _sum_on_scale(op, node, scale, *kinds))
    if all(kinds) and kinds[0] != kinds[1]:
        raise FormulaError(f"'{ast.unparse(node)}' adds or subtracts {kinds[0]} and {kinds[1]}")
    return Meaning(left.dimension, kinds[0] or kinds[1], left.number and right.number)


def _both(left: Meaning, right: Meaning) -> str:
    return f"{units.named(left.dimension)} and {units.named(right.dimension)}"


def _sum_on_scale(op, node, scale: str, left: str, right: str) -> str:
    """The kind of a sum of which a part lies on a scale without a true nought, such as a temperature: what lies between two of them is another kind."""
    between = SCALES[scale]
    if {left, right} - {scale, between, ""}:
        raise FormulaError(f"'{ast.unparse(node)}' adds or subtracts {left or 'a plain quantity'} and {right or 'a plain quantity'}")
    if left == right:
        if op is ast.Add:
            raise FormulaError(f"'{ast.unparse(node)}' adds two {scale}s")
        return between
    if right == scale and op is ast.Sub:
        raise FormulaError(f"'{ast.unparse(node)}' takes a {scale} from a difference")
    return scale


def _same(node, left: Meaning, right: Meaning) -> Meaning:
    if left.dimension == ANY or right.dimension == ANY:
        return right if left.dimension == ANY else left
    if left.dimension != right.dimension:
        raise FormulaError(f"'{ast.unparse(node)}' compares or joins different dimensions: {_both(left, right)}")
    if left.kind and right.kind and left.kind != right.kind:
        raise FormulaError(f"'{ast.unparse(node)}' compares or joins {left.kind} and {right.kind}")
    return Meaning(left.dimension, left.kind or right.kind)


def _all_same(node, found: list[Meaning]) -> Meaning:
    result = found[0]
    for other in found[1:]:
        result = _same(node, result, other)
    return result


def _check_test(test: ast.expr, known: dict) -> None:
    match test:
        case ast.BoolOp(values=values):
            for value in values:
                _check_test(value, known)
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            _check_test(operand, known)
        case ast.Compare(left=ast.Name(id=name), ops=[ast.Eq() | ast.NotEq()], comparators=[ast.Constant(value=str() as word)]):
            _check_word(test, name, word, known)
        case ast.Compare(left=ast.Name(id=one), ops=[ast.Eq() | ast.NotEq()], comparators=[ast.Name(id=other)]) if _alike(one, other, known):
            pass
        case ast.Compare(left=left, ops=[op], comparators=[right]) if type(op) in COMPARISONS:
            _same(test, dimension_of(left, known), dimension_of(right, known))
        case _:
            raise FormulaError(f"'{ast.unparse(test)}' is not a comparison that a formula may make")


def _alike(one: str, other: str, known: dict) -> bool:
    """Whether two names are references to items of one list."""
    axes = {known[name].refers_to for name in (one, other) if name in known and known[name].unit == "reference"}
    return len(axes) == 1 and {one, other} <= known.keys()


def _check_word(test: ast.expr, name: str, word: str, known: dict) -> None:
    term = known.get(name)
    if term is None or term.unit not in ("choice", "text"):
        raise FormulaError(f"'{ast.unparse(test)}': '{name}' is neither a choice nor a text")
    choices = tuple(table.id for table in tables_of(term.table)) if term.table else term.choices
    if word and choices and word not in choices:
        raise FormulaError(f"'{ast.unparse(test)}': '{word}' is not a choice of '{name}'{_near(word, choices)}")


def axes_of(node: ast.expr, known: dict[str, Term]) -> tuple[str, ...]:
    """Named axes over which the expression runs, in the order in which arrays hold them. Raises FormulaError when a reduction has nothing to take away."""
    match node:
        case ast.Name(id=name):
            return known[name].axes if name in known else ()
        case ast.Call(func=ast.Name(id="count_over")):
            return ()
        case ast.Call(func=ast.Name(id="cumulative_over"), args=[_, values]):
            return axes_of(values, known)
        case ast.Call(func=ast.Name(id=function), args=[ast.Constant(value=axis), values]) if function in REDUCTIONS:
            inner = axes_of(values, known)
            if axis not in inner:
                raise FormulaError(f"'{ast.unparse(node)}': nothing here runs over '{axis}'")
            return tuple(have for have in inner if have != axis)
        case ast.Call(func=ast.Name(id="pick"), args=[ast.Name(id=reference), values]):
            inner, own, taken = axes_of(values, known), known[reference].axes, known[reference].refers_to
            if taken not in inner or {*own} & {*inner} - {taken}:
                raise FormulaError(f"'{ast.unparse(node)}': " + (f"runs over '{own[0]}' twice" if taken in inner else f"nothing here runs over '{taken}'"))
            return ordered({*inner, *own} - {taken})
    return ordered({axis for child in ast.iter_child_nodes(node) if isinstance(child, ast.expr) for axis in axes_of(child, known)})


def ordered(axes) -> tuple[str, ...]:
    """Axes in the order in which arrays hold them."""
    return tuple(axis for axis in lists_by_axis() if axis in axes) if len(axes) > 1 else tuple(axes)


@lru_cache(maxsize=16384)
def names_in(node: ast.expr) -> tuple[str, ...]:
    """Names of Terms in an expression, in order of appearance, once each."""
    return tuple(dict.fromkeys(child.id for child in ast.walk(node) if isinstance(child, ast.Name) and child.id not in NO_TERMS))


def decided(node: ast.expr, words: dict[str, str | frozenset], counts: dict[str, int] | None = None) -> ast.expr:
    """The expression with every conditional removed whose test only asks for choices already known in `words`, or for numbers of items in `counts`.

    Of a choice that each item makes, all words that some item says; an arm for which none asks goes. The same object for the same words and numbers.
    """
    return _decided(node, tuple(words.items()), tuple((counts or {}).items()))


@lru_cache(maxsize=4096)
def _decided(node: ast.expr, known: tuple, counted: tuple) -> ast.expr:
    words, counts = dict(known), dict(counted)

    class Decide(ast.NodeTransformer):
        def visit_IfExp(self, node):
            verdict = _verdict(node.test, words, counts)
            if verdict is None:
                return self.generic_visit(node)
            return self.visit(node.body if verdict else node.orelse)

    if not any(isinstance(child, ast.IfExp) for child in ast.walk(node)):
        return node
    return Decide().visit(ast.parse(ast.unparse(node), mode="eval").body)


def _verdict(test: ast.expr, words: dict, counts: dict) -> bool | None:
    match test:
        case ast.Compare(left=ast.Call(func=ast.Name(id="count_over"), args=[ast.Constant(value=axis)]), ops=[ast.Gt()],
                         comparators=[ast.Constant(value=int() | float() as number)]) if axis in counts:
            return counts[axis] > number
        case ast.Compare(left=ast.Name(id=name), ops=[op], comparators=[ast.Constant(value=str() as word)]) if name in words:
            said = words[name] if isinstance(words[name], frozenset) else {words[name]}
            return None if word in said and len(said) > 1 else (word in said) == isinstance(op, ast.Eq)
        case ast.BoolOp(op=op, values=values):
            found = [_verdict(value, words, counts) for value in values]
            decisive = isinstance(op, ast.Or)
            if decisive in found:
                return decisive
            return None if None in found else not decisive
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            verdict = _verdict(operand, words, counts)
            return None if verdict is None else not verdict
    return None
