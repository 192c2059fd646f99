"""Changes each operator and constant of each formula and procedure and lists the changes that no test of its chapter notices.

Slow, so it is run by hand: `python tests/mutants.py [chapter or formula ...]`. A survivor is a formula whose tests quote too little.
Of a procedure the functions of its module that it calls are changed with it.
"""

import ast
import contextlib
import copy
import inspect
import io
import signal
import sys
import textwrap
from pathlib import Path
from types import FunctionType

import numpy as np
import pytest

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from basis.chapters import catalogue  # noqa: E402
from basis.language.formula import Formula, Procedure  # noqa: E402

SWAPS = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
         ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.Gt, ast.GtE: ast.Lt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq}
PATIENCE = 20  # seconds for the tests of one change: one that runs for ever is noticed
CALLS = {"min": "max", "max": "min", "sum_over": "max_over", "max_over": "min_over", "min_over": "max_over", "sin": "cos", "cos": "sin", "ceil": "floor"}


class Collected:
    """Keeps the tests that pytest finds."""

    def __init__(self):
        self.items = []

    def pytest_collection_modifyitems(self, items):
        self.items = list(items)


def changes(expression):
    """(what was changed, changed expression) for every place where one thing can be changed."""
    places = list(ast.walk(expression))
    for index, node in enumerate(places):
        for name, change in _changes_of(node):
            changed = copy.deepcopy(expression)
            change(list(ast.walk(changed))[index])
            yield f"{name} in {ast.unparse(node)[:60]}", changed


def _changes_of(node):
    if isinstance(node, ast.BinOp) and type(node.op) in SWAPS:
        yield type(node.op).__name__, lambda n: setattr(n, "op", SWAPS[type(n.op)]())
    elif isinstance(node, ast.Compare) and type(node.ops[0]) in SWAPS:
        yield type(node.ops[0]).__name__, lambda n: setattr(n, "ops", [SWAPS[type(n.ops[0])](), *n.ops[1:]])
    elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
        yield f"constant {node.value}", lambda n: setattr(n, "value", n.value * 1.03 if n.value else 1e-3)
    elif isinstance(node, ast.Call) and getattr(node.func, "id", "") in CALLS:
        yield node.func.id, lambda n: setattr(n.func, "id", CALLS[n.func.id])
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        yield "sign", lambda n: setattr(n, "op", ast.UAdd())


def function_of(formula: Formula, expression):
    """The formula's function with another expression."""
    import basis.language.maths

    arguments = ast.arguments(posonlyargs=[], args=[ast.arg(arg=name) for name in formula.parameters], kwonlyargs=[], kw_defaults=[], defaults=[])
    made = ast.FunctionDef(name=formula.id, args=arguments, body=[ast.Return(expression)], decorator_list=[])
    space = {**vars(basis.language.maths), **formula.run.__globals__}
    for name, other in CALLS.items():
        if other in vars(basis.language.maths):
            space[other] = vars(basis.language.maths)[other]
    exec(compile(ast.fix_missing_locations(ast.Module(body=[made], type_ignores=[])), "<mutant>", "exec"), space)
    return space[formula.id]


def mutants_of(thing):
    """(what was changed, what the changed thing has in place of its own) for every change of a formula or procedure."""
    if isinstance(thing, Formula):
        for what, expression in changes(thing.expression):
            yield what, {"run": function_of(thing, expression), "expression": expression}
        return
    functions = functions_of(thing)
    for function in functions:
        tree = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
        tree.decorator_list = []
        for what, changed in changes(ast.Module(body=tree.body, type_ignores=[])):
            body = ast.FunctionDef(name=tree.name, args=tree.args, body=changed.body, decorator_list=[])
            yield f"{function.__name__}: {what}", {"run": procedure_with(thing, functions, body)}


def functions_of(procedure: Procedure) -> list:
    """The function of a procedure and those of its module that it calls, directly or by others."""
    found, left = [], [procedure.run]
    while left:
        function = left.pop()
        if function not in found:
            found.append(function)
            named = [function.__globals__.get(name) for name in _names(function.__code__)]
            left += [one for one in named if isinstance(one, FunctionType) and one.__module__ == procedure.module and not one.__closure__]
    return found


def _names(code) -> list:
    return [*code.co_names, *(name for inner in code.co_consts if hasattr(inner, "co_names") for name in _names(inner))]


def procedure_with(procedure: Procedure, functions: list, changed: ast.FunctionDef):
    """The procedure's function, in a space of its own in which one function is the changed one."""
    space = dict(procedure.run.__globals__)
    for function in functions:
        space[function.__name__] = FunctionType(function.__code__, space, function.__name__, function.__defaults__)
        space[function.__name__].__kwdefaults__ = function.__kwdefaults__
    exec(compile(ast.fix_missing_locations(ast.Module(body=[changed], type_ignores=[])), "<mutant>", "exec"), space)
    return space[procedure.run.__name__]


def noticed(items) -> bool:
    """Whether a test fails, or does not end."""
    signal.signal(signal.SIGALRM, _stop)
    for item in items:
        parameters = item.callspec.params if hasattr(item, "callspec") else {}
        signal.alarm(PATIENCE)
        try:
            with np.errstate(all="ignore"):
                item.obj(**parameters)
        except (Exception, pytest.fail.Exception):  # any failure of a test is what is looked for
            return True
        finally:
            signal.alarm(0)
    return False


def _stop(number, frame):
    raise TimeoutError


def without_fixtures(items):
    """Tests that can be called as they are."""
    return [item for item in items if not set(item.fixturenames) - set(item.callspec.params if hasattr(item, "callspec") else ()) - {"request"}]


def named_first(items, thing):
    """The tests, those first that name the formula in their text or parameters."""
    return sorted(items, key=lambda item: thing.id not in inspect.getsource(item.obj) and thing.id not in repr(getattr(item, "callspec", "")))


def main(names) -> int:
    """Print survivors and count them."""
    survivors = total = 0
    for chapter in catalogue().chapters:
        things = [thing for thing in catalogue().formulas[chapter.id] if not names or chapter.id in names or thing.id in names]
        if not things:
            continue
        collected = Collected()
        files = [str(path) for path in sorted((ROOT / "tests" / "chapters" / chapter.id).glob("test_*.py"))]
        with contextlib.redirect_stdout(io.StringIO()):
            pytest.main(["--collect-only", "-q", *files], plugins=[collected])
        for thing in things:
            tests, own = named_first(without_fixtures(collected.items), thing), dict(vars(thing))
            for what, parts in mutants_of(thing):
                total += 1
                for name, part in parts.items():
                    object.__setattr__(thing, name, part)
                if not noticed(tests):
                    survivors += 1
                    print(f"{chapter.id}: {thing.id}: {what}", flush=True)
                for name in parts:
                    object.__setattr__(thing, name, own[name])
    print(f"{survivors} of {total} changes were not noticed")
    return 1 if survivors else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
