"""A formula at one element of its value: the arms that run there, the terms of its sums and whose they are, the item that governs a largest or smallest.

This is what a row with numbers shows. Names in the tree carry their items, as in "load_demand_power.pump".
"""

from __future__ import annotations

import ast
import sys
from functools import cache, reduce

import numpy as np

from basis.language.compiled import FUNCTIONS, Code, compiled, count_name
from basis.language.faults import OutOfTable
from basis.language.maths import REDUCTIONS, names_in
from basis.language.notation import OF_ITEM
from basis.language.terms import listed, terms
from basis.language.words import item_words
from basis.solving.value import Value

MOST_TERMS, FIRST_TERMS = 6, 3  # of a longer sum the first ones and the last stand
NAME_LENGTH = 24  # of a longer name the words of its key stand under a term, if they are shorter
DOTS = "…"


def spelled(values: dict[str, Value], expression: ast.expr, element: dict[str, str], names: dict | None = None) -> ast.expr:
    """The expression at `element` (axis -> item). What the values at hand do not decide stays as it is. `names`: axis -> item -> what it is called."""
    return Spelling(values, names or {}).of(expression, element)


def deciding(values: dict[str, Value], expression: ast.expr, element: dict[str, str], spelling: Spelling | None = None) -> tuple[Value, ...]:
    """What the conditions ask for by which the arm that runs at `element` is chosen. `spelling`: one that has been at other elements."""
    spelling, found = spelling or Spelling(values, {}), []
    while isinstance(expression, ast.IfExp) and (verdict := spelling.comes_to(expression.test, element)) is not None:
        found += [node.id for node in ast.walk(spelling.of(expression.test, element)) if isinstance(node, ast.Name)]
        expression = expression.body if verdict else expression.orelse
    named = [name.split(".") for name in dict.fromkeys(found)]
    return tuple(values[term_id].element(*ids) for term_id, *ids in named if term_id in values and len(ids) == len(values[term_id].axes))


class Spelling:
    """Expressions at elements of the values at hand. `names`: axis -> item -> what it is called."""

    def __init__(self, values: dict[str, Value], names: dict):
        self.values, self.names = values, names
        self._found: dict[int, tuple] = {}  # of parts of formulas: the part, what it comes to, over which axes

    def of(self, node: ast.expr, at: dict[str, str]) -> ast.expr:
        match node:
            case ast.Name(id=name):
                value = self.values.get(name)
                if value is None or not value.axes or any(axis not in at for axis in value.axes):
                    return node
                return ast.Name(".".join([name, *[at[axis] for axis in value.axes]]))
            case ast.BinOp(left=left, op=op, right=right):
                return ast.BinOp(self.of(left, at), op, self.of(right, at))
            case ast.Constant():
                return node
            case ast.IfExp(test=test, body=body, orelse=other) if (verdict := self.comes_to(test, at)) is not None:
                return self.of(body if verdict else other, at)
            case ast.Call(func=ast.Name(id="count_over"), args=[ast.Constant(value=axis)]):
                return ast.Constant(len(self._items(axis)))
            case ast.Call(func=ast.Name(id="pick"), args=[ast.Name(id=reference), inner]) if item := self._referred(reference, at):
                return self.of(inner, at | {self.values[reference].term.refers_to: item})
            case ast.Call(func=ast.Name(id="max_over" | "min_over" as function), args=[ast.Constant(value=axis), inner]):
                item = self._governing(function, axis, inner, at)
                return ast.Call(node.func, [ast.Constant(self._called(axis, item)), self.of(inner, at | {axis: item})], []) if item else node
            case ast.Call(func=ast.Name(id=function), args=[ast.Constant(value=axis), inner]) if function in REDUCTIONS:
                return self._sum(function, axis, inner, at)
        return self._inside(node, at)

    def _inside(self, node: ast.expr, at: dict[str, str]) -> ast.expr:
        """The same node over what it holds."""
        def shown(part):
            return self.of(part, at) if isinstance(part, ast.expr) else [shown(one) for one in part] if isinstance(part, list) else part

        return type(node)(**{name: shown(part) for name, part in ast.iter_fields(node)})

    def _sum(self, function: str, axis: str, inner: ast.expr, at: dict[str, str]) -> ast.expr:
        items = self._items(axis)
        if function == "cumulative_over":
            items = items[:items.index(at[axis]) + 1]
        found = self._terms(axis, items, inner, at, MOST_TERMS + 1)
        if len(found) > MOST_TERMS:
            terms = [*[*found.values()][:FIRST_TERMS], ast.Name(DOTS), *self._terms(axis, items[::-1], inner, at, 1).values()]
        else:
            terms = self._named(axis, found) if len(items) > 1 else [*found.values()]
        sign = ast.BitXor() if function == "energy_sum_over" else ast.Add()  # BitXor stands for the sum of levels, which no formula writes so
        return reduce(lambda left, right: ast.BinOp(left, sign, right), terms) if terms else ast.Constant(0)

    def _terms(self, axis: str, items, inner: ast.expr, at: dict[str, str], most: int) -> dict[str, ast.expr]:
        """The first terms of a sum with their items; those that are nought by an arm are left out."""
        found = {}
        for item in items:
            term = self.of(inner, at | {axis: item})
            if not (isinstance(term, ast.Constant) and term.value == 0):
                found[item] = term
            if len(found) == most:
                break
        return found

    def _named(self, axis: str, terms: dict[str, ast.expr]) -> list[ast.expr]:
        """The few terms of a sum with what their items are called; bare where all read alike."""
        if len(terms) > 1 and len({self._read(term) for term in terms.values()}) == 1:
            return [*terms.values()]
        return [ast.Call(ast.Name(OF_ITEM), [ast.Constant(self._called(axis, item, NAME_LENGTH)), term], []) for item, term in terms.items()]

    def _read(self, term: ast.expr) -> tuple:
        """All that is read in a term, in order, by what it comes to there."""
        found = [node.id.split(".") for node in ast.walk(term) if isinstance(node, ast.Name)]
        return tuple(str(self.values[name].number_at(*ids)) if ids else name for name, *ids in found)

    def _called(self, axis: str, item: str, most: int = sys.maxsize) -> str:
        name = self.names.get(axis, {}).get(item) or item_words(item)
        return name if len(name) <= most else min(name, item_words(item), key=len)

    def _governing(self, function: str, axis: str, inner: ast.expr, at: dict[str, str]) -> str | None:
        items, numbers = self._items(axis), self.comes_to(inner, at, along=axis)
        if numbers is None or not items:
            return None
        numbers = np.broadcast_to(np.asarray(numbers, dtype=float), len(items))
        if np.all(np.isnan(numbers)):
            return None
        return items[int(np.nanargmax(numbers) if function == "max_over" else np.nanargmin(numbers))]

    def comes_to(self, node: ast.expr, at: dict[str, str], along: str = ""):
        """What a part of the formula comes to at an element, or along one axis there; None when the values at hand do not tell."""
        found, axes = self.whole(node)
        if found is None or not set(axes) - {along} <= set(at):
            return None
        return np.asarray(found)[tuple(slice(None) if axis == along else self._items(axis).index(at[axis]) for axis in axes)] if axes else found

    def whole(self, node: ast.expr) -> tuple:
        """What a part comes to at all elements, and over which axes, found once; None when the values at hand do not tell."""
        if (known := self._found.get(id(node))) is None:
            known = self._found[id(node)] = node, *self._computed(node)
        return known[1:]

    def _computed(self, node: ast.expr) -> tuple:
        names = names_in(node)
        if any(name not in self.values for name in names):
            return None, ()
        code, axes, _ = Code({name: self.values[name].term for name in names}, False).of(node)
        counted = [call.args[0].value for call in ast.walk(node) if isinstance(call, ast.Call) and call.func.id == "count_over"]
        counts = {count_name(axis): float(len(self._items(axis))) for axis in counted}
        inputs = {name: self._data(name) for name in names} | counts
        try:
            with np.errstate(all="ignore"):
                return eval(compiled(code, "eval"), FUNCTIONS | inputs), axes
        except (ArithmeticError, ValueError, OutOfTable):
            return None, ()

    def _data(self, name: str):
        """A value as formulas take it: an item referred to by its place."""
        value = self.values[name]
        if value.term.unit != "reference":
            return value.number
        items = self._items(value.term.refers_to)
        places = [items.index(item) if item in items else -1 for item in np.ravel(value.number)]
        return np.array(places).reshape(np.shape(value.number)) if value.axes else places[0]

    def _referred(self, reference: str, at: dict[str, str]) -> str:
        value = self.values.get(reference)
        if value is None or not set(value.axes) <= set(at):
            return ""
        return str(value.element(*(at[axis] for axis in value.axes)).number)

    def _items(self, axis: str) -> tuple[str, ...]:
        along = next((name for name in _over(axis) if name in self.values), "")
        return self.values[along].items[terms()[along].axes.index(axis)] if along else listed(axis).fixed


@cache  # as many as there are lists
def _over(axis: str) -> tuple[str, ...]:
    """Ids of the Terms whose values run over an axis."""
    return tuple(name for name, term in terms().items() if axis in term.axes)
