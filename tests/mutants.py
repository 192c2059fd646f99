"""Changes each operator and constant of each formula and procedure and lists the changes that no test of its chapter notices.

Slow, so it is run by hand: `python tests/mutants.py [chapter, formula, procedure or function ...]`. A survivor is a formula whose tests quote too little.
With a procedure all functions, methods and constants of `basis/chapters` and `basis/physics` are changed that it uses, each once a chapter; those of
`basis/physics` stand under the tests of that folder too. Constants whose name ends in one of CARE are left alone: they say how finely a procedure
iterates, and nothing of the plant; whether they are fine enough is told by the residual.
"""

import ast
import contextlib
import copy
import inspect
import io
import signal
import sys
import tempfile
import time
from functools import lru_cache
from pathlib import Path
from types import CodeType, FunctionType, ModuleType

import numpy as np
import pytest

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from basis.chapters import catalogue  # noqa: E402
from basis.language.formula import Formula, Procedure  # noqa: E402

CARE = ("TOLERANCE", "ROUNDS", "STEPS", "START")
SWAPS = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
         ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.Gt, ast.GtE: ast.Lt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
         ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd, ast.And: ast.Or, ast.Or: ast.And}
SLOW = 3  # processor seconds; a test that takes longer is left out, and so is one that runs a benchmark, which fails for other reasons too
PATIENCE = 20  # seconds for the tests of one change: one that runs for ever is noticed
CALLS = {"min": "max", "max": "min", "sum_over": "max_over", "max_over": "min_over", "min_over": "max_over", "sin": "cos", "cos": "sin", "ceil": "floor",
         "minimum": "maximum", "maximum": "minimum", "fmin": "fmax", "fmax": "fmin", "any": "all", "all": "any"}


class Collected:
    """Keeps the tests that pytest finds."""

    def __init__(self):
        self.items = []

    def pytest_collection_modifyitems(self, items):
        self.items = list(items)


# ---- changes of a tree ----

def changes(expression):
    """(what was changed, changed expression) for every place where one thing can be changed."""
    places = list(ast.walk(expression))
    for index, node in enumerate(places):
        for name, change in _changes_of(node):
            changed = copy.deepcopy(expression)
            change(list(ast.walk(changed))[index])
            yield f"{name} in {ast.unparse(node)[:60]}", changed


def _changes_of(node):
    if isinstance(node, ast.BinOp | ast.AugAssign | ast.BoolOp) and type(node.op) in SWAPS:
        yield type(node.op).__name__, lambda n: setattr(n, "op", SWAPS[type(n.op)]())
    elif isinstance(node, ast.Compare) and type(node.ops[0]) in SWAPS:
        yield type(node.ops[0]).__name__, lambda n: setattr(n, "ops", [SWAPS[type(n.ops[0])](), *n.ops[1:]])
    elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
        yield f"constant {node.value}", lambda n: setattr(n, "value", n.value * 1.03 if n.value else 1e-3)
    elif isinstance(node, ast.Call) and getattr(node.func, "id", "") in CALLS:
        yield node.func.id, lambda n: setattr(n.func, "id", CALLS[n.func.id])
    elif isinstance(node, ast.Call) and getattr(node.func, "attr", "") in CALLS:
        yield node.func.attr, lambda n: setattr(n.func, "attr", CALLS[n.func.attr])
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        yield "sign", lambda n: setattr(n, "op", ast.UAdd())


# ---- what is changed: (what, [(object, name of its part, changed part)]) ----

def mutants_of_formula(formula: Formula):
    """Every change of a formula's expression."""
    for what, expression in changes(formula.expression):
        yield what, [(formula, "run", function_of(formula, expression)), (formula, "expression", expression)]


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


def mutants_of_function(function: FunctionType):
    """Every change of a function's body. Its code is exchanged, so that whoever holds the function runs the change."""
    tree = copy.deepcopy(_functions_in(sys.modules[function.__module__])[function.__code__.co_firstlineno, function.__name__])
    tree.decorator_list = []
    for what, changed in changes(ast.Module(body=tree.body, type_ignores=[])):
        tree.body = changed.body
        whole = compile(ast.fix_missing_locations(ast.Module(body=[tree], type_ignores=[])), "<mutant>", "exec")
        yield what, [(function, "__code__", next(code for code in whole.co_consts if isinstance(code, CodeType)))]


def mutants_of_constant(home: ModuleType, name: str):
    """Every change of a module's constant, in each module that has it."""
    assignment = _constants_in(home)[name]
    holders = [module for module in _modules() if vars(module).get(name) is vars(home)[name]]
    for what, changed in changes(assignment.value):
        space = dict(vars(home))
        again = ast.Module(body=[ast.Assign(assignment.targets, changed)], type_ignores=[])
        try:
            exec(compile(ast.fix_missing_locations(again), "<mutant>", "exec"), space)
        except Exception:  # noticed when the module is loaded
            continue
        yield what, [(module, name, space[name]) for module in holders]


# ---- what a procedure uses ----

def used_by(procedure: Procedure) -> tuple[list, list]:
    """Functions that a procedure runs, itself first, and (module, name) of the constants that these read."""
    functions, constants, left = [], [], [procedure.run]
    while left:
        function = left.pop(0)
        if function in functions:
            continue
        functions.append(function)
        for name in _names(function.__code__):
            value = function.__globals__.get(name)
            left += _functions_of(value)
            home = next((module for module in _modules() if name in _constants_in(module) and vars(module).get(name) is value), None)
            if home and not name.endswith(CARE) and (home, name) not in constants:
                constants.append((home, name))
    return functions, constants


def _functions_of(value) -> list:
    """The function itself, or the methods and properties of a class, if their text stands in a module of ours."""
    parts = [getattr(part, "fget", part) for part in vars(value).values()] if isinstance(value, type) else [value]
    return [part for part in parts if isinstance(part, FunctionType) and sys.modules[part.__module__] in _modules()
            and (part.__code__.co_firstlineno, part.__name__) in _functions_in(sys.modules[part.__module__])]


def _names(code) -> list:
    return [*code.co_names, *(name for inner in code.co_consts if isinstance(inner, CodeType) for name in _names(inner))]


@lru_cache
def _modules() -> tuple:
    return tuple(module for name, module in sorted(sys.modules.items()) if name.startswith(("basis.chapters.", "basis.physics.")))


@lru_cache
def _tree_of(module: ModuleType) -> ast.Module:
    return ast.parse(Path(module.__file__).read_text(encoding="utf-8"))


@lru_cache
def _functions_in(module: ModuleType) -> dict:
    """(first line, name) -> tree of each function of a module."""
    return {(min(node.lineno, *(one.lineno for one in node.decorator_list), node.lineno), node.name): node for node in ast.walk(_tree_of(module))
            if isinstance(node, ast.FunctionDef)}


@lru_cache
def _constants_in(module: ModuleType) -> dict:
    """Name -> assignment of what a module writes in capitals."""
    return {name.id: node for node in _tree_of(module).body if isinstance(node, ast.Assign) for name in ast.walk(node.targets[0])
            if isinstance(name, ast.Name) and name.id.isupper()}


# ---- the tests ----

def noticed(items) -> bool:
    """Whether a test fails, or does not end."""
    signal.signal(signal.SIGALRM, _stop)
    for item in items:
        signal.alarm(PATIENCE)
        try:
            with np.errstate(all="ignore"), tempfile.TemporaryDirectory() as folder:
                given = {"tmp_path": Path(folder)} if "tmp_path" in item.fixturenames else {}
                item.obj(**given, **_parameters(item))
        except (Exception, pytest.fail.Exception):  # any failure of a test is what is looked for
            return True
        finally:
            signal.alarm(0)
    return False


def tried(item) -> tuple[bool, float]:
    """Whether a test fails, and the processor seconds that it takes."""
    begin = time.process_time()  # what others do on the machine does not count
    return noticed([item]), time.process_time() - begin


def _stop(number, frame):
    raise TimeoutError


def _parameters(item) -> dict:
    return item.callspec.params if hasattr(item, "callspec") else {}


def tests_in(*places) -> list:
    """Tests of the files or folders, quickest first, that ask for nothing but parameters and a folder, are no benchmark, not slow, and hold unchanged."""
    if not places:  # pytest would take every test that there is
        return []
    collected = Collected()
    with contextlib.redirect_stdout(io.StringIO()):
        pytest.main(["--collect-only", "-q", *map(str, places)], plugins=[collected])
    found = [item for item in collected.items if not set(item.fixturenames) - set(_parameters(item)) - {"request", "tmp_path", "tmp_path_factory"}
             and "bench" not in inspect.getsource(item.obj)]
    kept = []
    for item in found:
        fails, took = tried(item)
        if took > SLOW:  # the first time what it needs is loaded
            fails, took = tried(item)
        if fails or took > SLOW:
            print(f"{item.nodeid} is left out: " + ("it fails by itself" if fails else f"it takes {took:.0f} s"), flush=True)
        else:
            kept.append((took, item))
    return [item for _, item in sorted(kept, key=lambda pair: pair[0])]


def named_first(items, *names):
    """The tests, those first that name one of these in their text or parameters, and those last that build something in a folder."""
    texts = {item: inspect.getsource(item.obj) + repr(_parameters(item)) for item in items}
    return sorted(items, key=lambda item: ("tmp_path" in item.fixturenames, not any(name in texts[item] for name in names)))


def changed_parts(things, names):
    """(name of the thing, its part, changes of the part, its module); each part once, named or of a named thing."""
    seen = []
    for thing in things:
        if isinstance(thing, Formula):
            if thing.id in names:
                yield thing.id, thing.id, mutants_of_formula(thing), thing.module
            continue
        functions, constants = used_by(thing)
        parts = [(function, function.__name__, function.__module__, mutants_of_function(function)) for function in functions]
        parts += [((home, name), name, home.__name__, mutants_of_constant(home, name)) for home, name in constants]
        for part, name, module, mutants in parts:
            if part not in seen and {thing.id, name} & names:
                seen.append(part)
                yield thing.id, name, mutants, module


@contextlib.contextmanager
def changed(places):
    """Parts of objects exchanged for a while."""
    before = [getattr(place, part) for place, part, _ in places]
    for place, part, value in places:
        object.__setattr__(place, part, value)
    try:
        yield
    finally:
        for (place, part, _), value in zip(places, before):
            object.__setattr__(place, part, value)


def main(names) -> int:
    """Print survivors and count them."""
    survivors = total = 0
    for chapter in catalogue().chapters:
        things = catalogue().formulas[chapter.id]
        wanted = {thing.id for thing in things} if not names or chapter.id in names else set(names)
        parts = list(changed_parts(things, wanted))
        if not parts:
            continue
        own = tests_in(ROOT / "tests" / "chapters" / chapter.id)
        shared = {module: tests_in(*(ROOT / "tests" / "physics").glob(f"test_{module.rpartition('.')[2]}.py"))
                  for module in dict.fromkeys(module for *_, module in parts) if module.startswith("basis.physics.")}
        for thing, name, mutants, module in parts:
            tests = named_first([*own, *shared.get(module, ())], thing, name)
            missed = count = 0
            for what, places in mutants:
                count += 1
                with changed(places):
                    found = noticed(tests)
                if not found:
                    missed += 1
                    print(f"{chapter.id}: {thing}: {name}: {what}", flush=True)
            if count:
                print(f"{chapter.id}: {thing}: {name}: {missed} of {count} changes were not noticed", flush=True)
            survivors, total = survivors + missed, total + count
    print(f"{survivors} of {total} changes were not noticed")
    return 1 if survivors else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
