"""Which results rest on empty lists only: a sum, a largest or a product over no item. Such a number is none of the plant's, so nothing passes by it.

Found from the expressions that run, not from the numbers: nought may be a sound result.
"""

from __future__ import annotations

import ast

from basis.language.compiled import Step
from basis.language.maths import NO_NUMBERS, REDUCTIONS, UNIT_NAMES
from basis.language.terms import Term, listed, terms

NEITHER = None  # a plain number, a unit or a constant: says nothing about whether there is anything
SOMETHING = frozenset()


def what_rests(inputs, constants, steps: tuple[Step, ...], items: dict, known: dict) -> dict[str, frozenset | None]:
    """Term id -> the axes without items on which alone it rests, SOMETHING or NEITHER, for every input and result.

    `constants`: ids of the book's own inputs; `known`: what is taken over from another run, with what it rests on there.
    """
    found = {name: known[name] if name in known else _unlisted(terms()[name], items) for name in inputs if name in terms()}
    found |= {name: NEITHER for name in constants if not found.get(name)}
    for step in steps:
        if step.yields[0] in known:
            found |= {name: known[name] for name in step.yields}
        elif step.merged:
            found[step.yields[0]] = _unlisted(terms()[step.yields[0]], items)
        elif step.procedure:
            rests = _all_of([found.get(name, SOMETHING) for name in step.needs if terms()[name].own_axes])
            found |= {name: _unlisted(terms()[name], items) or rests or SOMETHING for name in step.yields}
        else:
            found[step.yields[0]] = _unlisted(terms()[step.yields[0]], items) or _of(step.expression, found, items)
    return found


def _unlisted(term: Term, items: dict) -> frozenset:
    return frozenset(axis for axis in term.axes if _empty(axis, items))


def _empty(axis: str, items: dict) -> bool:
    """Whether a project could list items and lists none. Without a limit something is missing, which is not the same."""
    return not items[axis] and not listed(axis).limits


def _of(node: ast.expr, found: dict, items: dict):
    """What an expression rests on: axes without items, SOMETHING, or NEITHER."""
    match node:
        case ast.Constant():
            return NEITHER
        case ast.Name(id=name):
            return NEITHER if name in UNIT_NAMES or name in NO_NUMBERS else found.get(name, SOMETHING)
        case ast.BinOp(left=left, op=ast.Add() | ast.Sub(), right=right):
            return _all_of([_of(left, found, items), _of(right, found, items)])
        case ast.BinOp(left=left, right=right):
            return _any_of([_of(left, found, items), _of(right, found, items)])
        case ast.UnaryOp(operand=operand):
            return _of(operand, found, items)
        case ast.IfExp(body=body, orelse=other):
            return _all_of([_of(body, found, items), _of(other, found, items)])
        case ast.Call(func=ast.Name(id="count_over"), args=[ast.Constant(value=axis)]):
            return frozenset({axis}) if _empty(axis, items) else SOMETHING
        case ast.Call(func=ast.Name(id=function), args=[_, values]) if function in REDUCTIONS:
            return _of(values, found, items)
        case ast.Call(func=ast.Name(id="min" | "max"), args=args):
            return _all_of([_of(arg, found, items) for arg in args])
        case ast.Call(func=ast.Name(id="lookup"), args=[*_, key]):
            return _of(key, found, items) or SOMETHING
        case ast.Call(args=args):
            return _any_of([_of(arg, found, items) for arg in args])
    return SOMETHING


def _all_of(parts: list):
    """Of parts that are added or chosen from: empty only if nothing else adds to it."""
    told = [part for part in parts if part is not NEITHER]
    if not told:
        return NEITHER
    return SOMETHING if SOMETHING in told else frozenset().union(*told)


def _any_of(parts: list):
    """Of parts that are multiplied or divided: empty as soon as one is."""
    told = [part for part in parts if part is not NEITHER]
    return frozenset().union(*told) if told else NEITHER
