"""From formulas to one function: the lines of code of a chain of formulas, for plain floats and for NumPy arrays.

A formula is written for one element. Axes are known when formulas are put in order, so the code of each is plain
broadcasting: an operand is given the missing axes by an index, a reduction names its axis from the end. Samples, if
any, are one more leading axis, which no index touches.
"""

from __future__ import annotations

import ast
import builtins
import math
from dataclasses import dataclass, field
from functools import lru_cache, reduce
from types import CodeType

import numpy as np

from basis.language.maths import COMPARISONS, OPERATORS, PLAIN_FUNCTIONS, REDUCTIONS, UNIT_NAMES, ordered
from basis.language.table import lookup
from basis.language.terms import Term
from basis.language.units import unit


@dataclass(frozen=True)
class Step:
    """One line of a chain: what it yields and from which expression, or by which procedure.

    `merged`: the Term's value where the project gives it for some items; the expression fills the others. `needs`: ids that it reads.
    """

    yields: tuple
    expression: ast.expr | None = None
    procedure: object = None
    merged: bool = False
    needs: tuple = ()


GIVEN_PREFIX = "given_"


def given_name(term_id: str) -> str:
    """Name of the chain's input that holds the given part of a Term which is otherwise computed."""
    return f"{GIVEN_PREFIX}{term_id}"


@dataclass(frozen=True)
class Memory:
    """What runs of the same formulas share: the options of a project, and one save of its text after the other."""

    lines: dict[tuple, CodeType] = field(default_factory=dict)  # what a step yields, its expression, whether merged and sampled -> its line, compiled
    yielded: dict[tuple, tuple] = field(default_factory=dict)  # id of a procedure and what it was given -> what it yielded
    earlier: dict[tuple, tuple] = field(default_factory=dict)  # the same of the save before, of which only what is asked for again is kept

    def of_next_save(self) -> Memory:
        """What the runs after the next save may use."""
        return Memory(self.lines, {}, self.yielded)


def chain(steps, inputs: tuple[str, ...], known: dict[str, Term], sampled: bool = False, memory: Memory | None = None):
    """One function of `inputs` that runs `steps` in order; it returns a tuple of results, see `result_names`. A line of code that `memory` holds is not
    compiled again.

    Plain: floats in, floats out where no axis is involved, else arrays. With `sampled`, every input is an array whose
    leading axis may be the samples.
    """
    memory = memory or Memory()
    lines, names = [_remembered_line(step, known, sampled, memory) for step in steps], result_names(steps)

    def run(*given):
        have = FUNCTIONS | dict(zip(inputs, given))
        for line in lines:
            exec(line, have)
        return tuple([have[name] for name in names])
    return run


def run_alone(step: Step, have: dict, known: dict[str, Term], memory: Memory) -> dict:
    """Results of one step by name, from what it needs of `have`: a function of its own, of as few names as it uses."""
    used = sorted(have.keys() & set(names_in_line(step, known, False, memory)))
    found = chain((step,), tuple(used), known, memory=memory)(*(have[name] for name in used))
    return dict(zip(result_names((step,)), found))


def result_names(steps) -> tuple[str, ...]:
    """Names of a chain's results in order; a procedure adds its residual and what the residual is."""
    names = []
    for step in steps:
        names += step.yields
        if step.procedure:
            names += [f"residual_of_{step.procedure.id}", f"note_of_{step.procedure.id}"]
    return tuple(names)


def names_in_line(step: Step, known: dict[str, Term], sampled: bool, memory: Memory) -> tuple[str, ...]:
    """Every name in the code of a step."""
    return _remembered_line(step, known, sampled, memory).co_names


def _remembered_line(step: Step, known: dict[str, Term], sampled: bool, memory: Memory) -> CodeType:
    key = (step.yields, step.expression, step.merged, sampled)  # an expression is known by the object that it is
    if key not in memory.lines:
        memory.lines[key] = compiled(_line(step, known, sampled))
    return memory.lines[key]


def _line(step: Step, known: dict[str, Term], sampled: bool) -> str:
    if step.procedure:
        name = step.procedure.id
        return f"({', '.join(step.yields)},), residual_of_{name}, note_of_{name} = run_{name}({', '.join(step.procedure.parameters)})"
    code, axes, samples = Code(known, sampled).of(step.expression)
    (name,) = step.yields
    if axes != known[name].axes:  # the arm that a choice left runs over fewer axes than its Term
        lengths = "".join(f"int({count_name(axis)}), " for axis in known[name].axes)
        code = f"({_align(f'np.asarray({code})', axes, known[name].axes, True)} + np.zeros(({lengths})))"
    elif sampled and not samples and not known[name].is_text:  # a plain number takes no index
        code = f"np.asarray({code})"
    if step.merged:
        code = f"np.where(np.isnan({given_name(name)}), {code}, {given_name(name)})"
    return f"{name} = {code}"


@lru_cache(maxsize=1 << 13)
def compiled(text: str, mode: str = "exec") -> CodeType:
    """The code of a line, or as "eval" of an expression. The text is made here from checked syntax trees, never from project text."""
    return compile(text, "<chain of formulas>", mode)


def known_min(*numbers: float) -> float:
    """The smallest, not given where any is not: Python's own would pass over it."""
    return min(numbers) if all(number == number for number in numbers) else math.nan


def known_max(*numbers: float) -> float:
    """The largest, not given where any is not: Python's own would pass over it."""
    return max(numbers) if all(number == number for number in numbers) else math.nan


def extreme(function, values, axis: int):
    """Largest or smallest along an axis; not given when there is no item."""
    shape = list(np.shape(values))
    return function(values, axis=axis) if shape[axis] else np.full(shape[:axis] + shape[axis:][1:], np.nan)


def taken(values, places, axis: int):
    """Values of the items that a reference names, along an axis; not given where the project named none, which is place -1."""
    if np.min(places, initial=0) < 0:
        shape = list(np.shape(values))
        shape[axis] = 1
        values = np.concatenate([values, np.full(shape, np.nan)], axis=axis)  # place -1 is the last
    return np.take(values, places, axis=axis)


FUNCTIONS = {"__builtins__": vars(builtins), "math": math, "np": np, "lookup": lookup, "reduce": reduce, "taken": taken, "extreme": extreme,
             "known_min": known_min, "known_max": known_max}  # that lines of code call


def remembered(procedure, memory: Memory):
    """The procedure's function, which looks into `memory` for what it yielded from the same inputs: options share most of them."""
    def run(*arguments):
        key = (procedure.id, *(_key(argument) for argument in arguments))
        if key not in memory.yielded:
            memory.yielded[key] = memory.earlier[key] if key in memory.earlier else procedure.run(*arguments)
        return memory.yielded[key]
    return run


def _key(argument):
    if not isinstance(argument, np.ndarray):
        return argument
    return tuple(argument.ravel()) if argument.dtype == object else (argument.shape, argument.tobytes())


def count_name(axis: str) -> str:
    """Name of the chain's input that holds the number of items along an axis."""
    return f"number_of_{axis}"


class Code:
    """Writes the code of one expression; `of` returns it with the axes of its value and whether it may hold samples."""

    def __init__(self, known: dict[str, Term], sampled: bool):
        self.known, self.sampled = known, sampled

    def of(self, node: ast.expr) -> tuple[str, tuple, bool]:
        """(code, axes, may hold samples)"""
        match node:
            case ast.Name(id=name) if name in self.known:
                return name, self.known[name].axes, self.sampled and not self.known[name].is_text
            case ast.Name(id="nothing" | "not_given"):
                return "math.nan", (), False
            case ast.Name(id=name):
                return repr(unit(UNIT_NAMES[name]).factor), (), False
            case ast.Constant(value=value):
                return repr(value), (), False
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                code, axes, samples = self.of(operand)
                return f"(-{code})", axes, samples
            case ast.BinOp(left=left, op=op, right=right):
                (a, b), axes, samples = self._aligned(left, right)
                if isinstance(op, ast.Pow) and not axes and not samples and not _is_whole(right):
                    return f"math.pow({a}, {b})", axes, samples  # a root of a negative number is an error, not a complex number
                return f"({a} {OPERATORS[type(op)]} {b})", axes, samples
            case ast.IfExp(test=test, body=body, orelse=other):
                return self._where(test, body, other)
            case ast.Compare(left=left, ops=[op], comparators=[right]):
                (a, b), axes, samples = self._aligned(left, right)
                return f"({a} {COMPARISONS[type(op)]} {b})", axes, samples
            case ast.BoolOp(op=op, values=values):
                parts, axes, samples = self._aligned(*values)
                if not axes and not samples:
                    return "(" + (" and " if isinstance(op, ast.And) else " or ").join(parts) + ")", (), False
                array = "np.logical_and" if isinstance(op, ast.And) else "np.logical_or"
                return f"reduce({array}, ({', '.join(parts)}))", axes, samples
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                code, axes, samples = self.of(operand)
                return (f"np.logical_not({code})" if axes or samples else f"(not {code})"), axes, samples
            case ast.Call(func=ast.Name(id=function), args=args):
                return self._call(function, args)
        raise TypeError(f"no code for {ast.dump(node)}")

    def _aligned(self, *nodes) -> tuple[list[str], tuple, bool]:
        parts = [self.of(node) for node in nodes]
        axes = ordered({axis for _, have, _ in parts for axis in have})
        return [_align(code, have, axes, samples) for code, have, samples in parts], axes, any(samples for *_, samples in parts)

    def _where(self, test, body, other):
        (a, b, c, *numbers), axes, samples = self._aligned(test, body, other, *self._asked(test))
        unknown = " + ".join(numbers)
        if not axes and not samples:
            return f"(math.nan if ({unknown}) != ({unknown}) else {b} if {a} else {c})" if numbers else f"({b} if {a} else {c})", axes, False
        chosen = f"np.where({a}, {b}, {c})"
        return f"np.where(np.isnan({unknown}), np.nan, {chosen})" if numbers else chosen, axes, samples

    def _asked(self, test: ast.expr) -> list[ast.expr]:
        """The numbers that a test compares: where one is not given it decides nothing. None where it asks for words too, which may decide it alone."""
        sides = _compared(test)
        words = any(isinstance(side, ast.Name) and side.id in self.known and self.known[side.id].is_text for side in sides)
        return [] if words else [side for side in sides if not isinstance(side, ast.Constant)]

    def _call(self, function: str, args: list) -> tuple[str, tuple, bool]:
        if function == "count_over":
            return count_name(args[0].value), (), False
        if function in REDUCTIONS:
            return self._reduce(function, args[0].value, args[1])
        if function == "pick":
            return self._pick(args[0].id, args[1])
        if function == "lookup":
            table = repr(args[0].value) if isinstance(args[0], ast.Constant) else args[0].id
            table_axes = self.known[args[0].id].axes if isinstance(args[0], ast.Name) else ()
            code, axes, samples = self.of(args[2])
            every = ordered({*axes, *table_axes})
            parts = [_align(table, table_axes, every, False), repr(args[1].value), _align(code, axes, every, samples)]
            return f"lookup({', '.join(parts + ['blank=True'] * self.sampled)})", every, samples
        parts, axes, samples = self._aligned(*args)
        array = axes or samples
        if function in ("min", "max"):
            return (f"reduce(np.{function}imum, ({', '.join(parts)}))" if array else f"known_{function}({', '.join(parts)})"), axes, samples
        if function == "sqrt":
            return f"{'np' if array else 'math'}.sqrt({parts[0]})", axes, samples
        if function == "abs":
            return f"abs({parts[0]})", axes, samples
        scalar_code, array_code = PLAIN_FUNCTIONS[function]
        return f"{array_code if array else scalar_code}({parts[0]})", axes, samples

    def _reduce(self, function: str, axis: str, values: ast.expr) -> tuple[str, tuple, bool]:
        code, axes, samples = self.of(values)
        place = axes.index(axis) - len(axes)
        rest = tuple(have for have in axes if have != axis)
        if function == "cumulative_over":
            return f"np.cumsum({code}, axis={place})", axes, samples
        made = {"sum_over": f"np.sum({code}, axis={place})", "max_over": f"extreme(np.max, {code}, {place})",
                "min_over": f"extreme(np.min, {code}, {place})",
                "energy_sum_over": f"(10 * np.log10(np.sum(10 ** ({code} / 10), axis={place})))"}[function]
        return (f"float({made})" if not rest and not samples else made), rest, samples

    def _pick(self, reference: str, values: ast.expr) -> tuple[str, tuple, bool]:
        term, (code, axes, samples) = self.known[reference], self.of(values)
        place = axes.index(term.refers_to)
        if not term.axes:
            rest = tuple(have for have in axes if have != term.refers_to)
            made = f"taken({code}, {reference}, {place - len(axes)})"
            return (f"float({made})" if not rest and not samples else made), rest, samples
        (axis,) = term.axes
        taken = (*axes[:place], axis, *axes[place + 1:])
        wanted = ordered(taken)
        made = f"taken({code}, {reference}, {place - len(axes)})"
        if wanted != taken:
            made = f"np.moveaxis({made}, {taken.index(axis) - len(taken)}, {wanted.index(axis) - len(taken)})"
        return made, wanted, samples


def _compared(test: ast.expr) -> list[ast.expr]:
    """The two sides of every comparison in a test."""
    return [side for node in ast.walk(test) if isinstance(node, ast.Compare) for side in (node.left, *node.comparators)]


def _is_whole(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and float(node.value).is_integer()


def _align(code: str, have: tuple, want: tuple, samples: bool) -> str:
    """Code whose value has the axes `want`: missing ones come in as length one."""
    if have == want or (not have and not samples):
        return code
    index = ", ".join(":" if axis in have else "None" for axis in want)
    return f"{code}[..., {index}]"
