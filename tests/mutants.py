"""Changes each operator and constant of each formula and lists the changes that no test of its chapter notices.

Slow, so it is run by hand: `python tests/mutants.py [chapter ...]`. A survivor is a formula whose tests quote too little.
"""

import ast
import contextlib
import copy
import inspect
import io
import sys
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from basis.chapters import catalogue  # noqa: E402
from basis.formula import Formula  # noqa: E402

SWAPS = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
         ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.Gt, ast.GtE: ast.Lt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq}
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
    if isinstance(node, ast.BinOp):
        yield type(node.op).__name__, lambda n: setattr(n, "op", SWAPS[type(n.op)]())
    elif isinstance(node, ast.Compare):
        yield type(node.ops[0]).__name__, lambda n: setattr(n, "ops", [SWAPS[type(n.ops[0])]()])
    elif isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
        yield f"constant {node.value}", lambda n: setattr(n, "value", n.value * 1.03 if n.value else 1e-3)
    elif isinstance(node, ast.Call) and node.func.id in CALLS:
        yield node.func.id, lambda n: setattr(n.func, "id", CALLS[n.func.id])
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        yield "sign", lambda n: setattr(n, "op", ast.UAdd())


def function_of(formula: Formula, expression):
    """The formula's function with another expression."""
    import basis.maths

    arguments = ast.arguments(posonlyargs=[], args=[ast.arg(arg=name) for name in formula.parameters], kwonlyargs=[], kw_defaults=[], defaults=[])
    made = ast.FunctionDef(name=formula.id, args=arguments, body=[ast.Return(expression)], decorator_list=[])
    space = {**vars(basis.maths), **formula.run.__globals__}
    for name, other in CALLS.items():
        if other in vars(basis.maths):
            space[other] = vars(basis.maths)[other]
    exec(compile(ast.fix_missing_locations(ast.Module(body=[made], type_ignores=[])), "<mutant>", "exec"), space)
    return space[formula.id]


def noticed(items) -> bool:
    """Whether a test fails."""
    for item in items:
        parameters = item.callspec.params if hasattr(item, "callspec") else {}
        try:
            with np.errstate(all="ignore"):
                item.obj(**parameters)
        except Exception:  # any failure of a test is what is looked for
            return True
    return False


def without_fixtures(items):
    """Tests that can be called as they are."""
    return [item for item in items if not set(item.fixturenames) - set(item.callspec.params if hasattr(item, "callspec") else ()) - {"request"}]


def named_first(items, formula: Formula):
    """The tests, those first that name the formula in their text or parameters."""
    return sorted(items, key=lambda item: formula.id not in inspect.getsource(item.obj) and formula.id not in repr(getattr(item, "callspec", "")))


def main(chapters) -> int:
    """Print survivors and count them."""
    survivors = total = 0
    for chapter in catalogue().chapters:
        if chapters and chapter.id not in chapters:
            continue
        collected = Collected()
        files = [str(path) for path in sorted((ROOT / "tests").glob(f"test_{chapter.id}*.py"))]
        with contextlib.redirect_stdout(io.StringIO()):
            pytest.main(["--collect-only", "-q", *files], plugins=[collected])
        for formula in catalogue().formulas[chapter.id]:
            if not isinstance(formula, Formula):
                continue
            tests, run, tree = named_first(without_fixtures(collected.items), formula), formula.run, formula.expression
            for what, expression in changes(tree):
                total += 1
                object.__setattr__(formula, "run", function_of(formula, expression))
                object.__setattr__(formula, "expression", expression)
                if not noticed(tests):
                    survivors += 1
                    print(f"{chapter.id}: {formula.id}: {what}", flush=True)
            object.__setattr__(formula, "run", run)
            object.__setattr__(formula, "expression", tree)
    print(f"{survivors} of {total} changes were not noticed")
    return 1 if survivors else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
