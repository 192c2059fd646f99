"""Digests of what a number may rest on: an expression, a function with all that it calls, a table. The same on every machine and version of Python."""

from __future__ import annotations

import ast
import inspect
import linecache
import textwrap
from collections.abc import Iterator
from functools import cache, lru_cache
from hashlib import blake2b
from types import CodeType, FunctionType

import numpy as np

from basis.language import maths
from basis.language.table import table

SIZE = 12  # bytes: two of a million Values agree by chance once in 10¹⁷ books
OURS = "basis."


def digest(*parts: str) -> str:
    """One digest of texts in order."""
    return blake2b("\0".join(parts).encode("utf-8", "surrogatepass"), digest_size=SIZE).hexdigest()


def text_of(data) -> str:
    """A number in full, a word, or numbers or words along axes, as a text that no other data have."""
    if isinstance(data, np.ndarray):
        return f"{data.shape}{data.tolist()!r}"
    return repr(data)


@lru_cache(maxsize=8192)  # the live expressions of several books
def of_expression(node: ast.expr) -> str:
    """Of an expression as written, and of the functions of formulas that it calls."""
    names = {one.func.id for one in ast.walk(node) if isinstance(one, ast.Call)}
    called = [getattr(maths, name) for name in sorted(names) if isinstance(getattr(maths, name, None), FunctionType)]
    return digest(ast.unparse(node), *map(of_function, called))


@cache
def of_function(function: FunctionType) -> str:
    """Of a function without its comments and docstrings, and of all functions and constants of this program that it names, directly or by others."""
    parts: dict[str, str] = {}
    waiting = [function]
    while waiting:
        one = waiting.pop()
        name = f"{one.__module__}.{one.__qualname__}"
        if name not in parts:
            parts[name] = _written(one)
            for used in _names_in(one.__code__):
                thing = one.__globals__.get(used)
                thing = getattr(thing, "__wrapped__", thing)  # behind a memory of earlier calls
                if isinstance(thing, FunctionType):
                    waiting += [thing] if thing.__module__.startswith(OURS) else []
                elif inspect.isclass(thing):
                    waiting += _methods(thing) if thing.__module__.startswith(OURS) else []
                elif not inspect.ismodule(thing) and _is_data(thing):
                    parts[f"{one.__module__}.{used}"] = text_of(thing)
    return digest(*(f"{name} {text}" for name, text in sorted(parts.items())))


@cache
def of_table(table_id: str) -> str:
    """Of the rows and the rule of one table."""
    one = table(table_id)
    return digest(one.id, one.key, one.rule, repr(one.units), repr(one.columns))


@cache
def _written(function: FunctionType) -> str:
    """The text of a function as Python itself writes it: no comments, no docstring, one way of spacing."""
    code = function.__code__
    lines = linecache.getlines(code.co_filename)[code.co_firstlineno - 1:_last_line(code)]
    tree = ast.parse(textwrap.dedent("".join(lines))).body[0]
    if isinstance(tree, ast.FunctionDef):
        tree.decorator_list = []
        tree.body = tree.body[ast.get_docstring(tree) is not None:]
    return ast.unparse(tree)


def _last_line(code: CodeType) -> int:
    """Line on which the code, and the code within it, ends."""
    return max([last or 0 for _, last, _, _ in code.co_positions()] + [_last_line(inner) for inner in code.co_consts if isinstance(inner, CodeType)])


def _names_in(code: CodeType) -> Iterator[str]:
    """Names that code asks for, also the code within it."""
    yield from code.co_names
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            yield from _names_in(inner)


def _methods(found: type) -> list[FunctionType]:
    return [thing for thing in (getattr(one, "__wrapped__", getattr(one, "fget", one)) for one in vars(found).values())
            if isinstance(thing, FunctionType) and thing.__code__.co_filename == inspect.getfile(found)]  # not what dataclass has made


def _is_data(thing) -> bool:
    return isinstance(thing, (str, int, float, tuple, frozenset, np.ndarray)) or (isinstance(thing, (dict, list)) and not callable(thing))
