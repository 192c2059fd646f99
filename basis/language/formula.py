"""Formula, Procedure, Check and Chapter: plain objects made by decorators that register nothing.

A formula is a small function whose name is the Term it yields and whose parameters are the Terms it needs. What the
reader sees is made from its syntax tree, so the tree must be that of the code which runs: a function whose code and
source text differ is refused.
"""

from __future__ import annotations

import ast
import builtins
import inspect
import linecache
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from hashlib import blake2b
from types import CodeType, FunctionType

from basis.language import maths, units, user_cache
from basis.language.faults import nearest_name
from basis.language.maths import ANY, NO_TERMS, FormulaError, axes_of, dimension_of, names_in
from basis.language.sources import sources
from basis.language.table import tables_of
from basis.language.terms import terms


@dataclass(frozen=True)
class Caution:
    """A danger of the subject, in words. `applies`: pairs of a choice and its words, or of a number and SOME, as of a Check: elsewhere it is not told."""

    text: str
    applies: tuple = ()


@dataclass(frozen=True)
class Chapter:
    """A chapter of the book: id, title, place in the order, the cautions of its subject, and in one sentence what it settles."""

    id: str
    title: str
    order: int
    cautions: tuple = ()
    settles: str = ""


@dataclass(frozen=True)
class Formula:
    """One expression. `run` is the function as written; `written` its expression, as a tree or as text; `parameters` and `id` are ids of Terms."""

    id: str
    run: FunctionType = field(compare=False)
    written: ast.expr | str = field(compare=False, repr=False)
    parameters: tuple
    sources: tuple
    valid: dict = field(compare=False)
    module: str = ""
    tested: tuple = ()  # scalar choices that its conditionals ask for
    looks_up: bool = False  # whether it reads a table
    counts: tuple = ()  # axes whose items it counts

    @cached_property
    def doc(self) -> str:
        """What its author says of it."""
        return inspect.cleandoc(self.run.__doc__)

    @cached_property
    def expression(self) -> ast.expr:
        """The tree of its expression."""
        return ast.parse(self.written, mode="eval").body if isinstance(self.written, str) else self.written

    @property
    def conditional(self) -> bool:
        """Whether which arm runs may be known before running."""
        return bool(self.tested or self.counts)

    @property
    def leaves_open(self) -> bool:
        """Whether an arm leaves its value to the project."""
        return "not_given" in self.run.__code__.co_names

    @property
    def yields(self) -> tuple:
        """Ids of the Terms that it yields."""
        return (self.id,)


@dataclass(frozen=True)
class Procedure:
    """Where one expression is not enough: a function that states its equation and reports a residual.

    `run` takes SI numbers or arrays in the Terms' axes and returns (results in the order of `yields`, residual, what the residual is). A residual that costs
    as much as the results is a function of nothing, called where it is told.
    """

    id: str
    run: FunctionType = field(compare=False)
    parameters: tuple
    yields: tuple
    equation: str
    sources: tuple
    valid: dict = field(compare=False)
    module: str = ""
    sampled: bool = False  # whether its inputs may have one more leading axis, of samples; if not, it runs once a sample
    tables: tuple = ()  # (id of a table or of the parameter that names it, id of the parameter with which it is entered or "") of each that it reads

    @cached_property
    def doc(self) -> str:
        """What its author says of it."""
        return inspect.cleandoc(self.run.__doc__)

    @property
    def looks_up(self) -> bool:
        """Whether it reads a table."""
        return bool(self.tables)


SOME = ("some",)  # in place of the words of a choice: the check means anything where this number is not nought
GIVEN = ("given",)  # the same, where the project gives this Term: the book else computes it so that the check holds, and no pass comes of that


@dataclass(frozen=True)
class Check:
    """A computed value against a limit. Holds no arithmetic. `safe` says on which side of the limit the value must be.

    `fault`: what was expected, for a check that no sound text fails; it is then a Fault at the item's line, not a verdict.
    `applies`: pairs of a choice and the words with which the check means anything, or of a number and SOME: with nought there is nothing to check;
    or of a Term that is computed unless given and GIVEN: where what is checked rests on it and it is not given, only a fail counts.
    `exact`: whole numbers, settings or sizes of a series are compared: the limit is met or not, and nothing is tight.
    `self_test`: it proves the program, not the plant (a residual): told apart from the design's checks; with `fault` it proves the text and is not told.
    `order`: both sides are inputs, compared before anything is run.
    """

    id: str
    value: str
    limit: str
    safe: str
    sources: tuple
    title: str
    exact: bool
    module: str = ""
    fault: str = ""
    applies: tuple = ()
    self_test: bool = False
    order: bool = False

    @property
    def sides(self) -> tuple[str, ...]:
        """Ids of all that decides it: the value, the limit, and what says whether it means anything."""
        return self.value, self.limit, *dict(self.applies)


def chapter(chapter_id: str, title: str, order: int, settles: str = "", cautions: tuple = ()) -> Chapter:
    """Describe a chapter; its formulas and checks are those of its module. A caution that is plain text is told of any plant."""
    return Chapter(chapter_id, title, order, tuple(one if isinstance(one, Caution) else Caution(one) for one in cautions), settles)


def caution(text: str, **applies) -> Caution:
    """A caution for plants in which a choice has one of these words, or a number is not nought (SOME). Raises FormulaError for a condition that cannot hold."""
    return Caution(text, _conditions("caution", applies))


def formula(source, valid: dict | None = None):
    """Make a Formula of the decorated function. Raises FormulaError for anything that a formula may not be or hold."""
    def make(function):
        _check_doc(function)
        known = known_formulas().get(f"{function.__module__}.{function.__name__}")
        if known is None or known["code"] != _digest_of_code(function.__code__):
            known = _examined(function)
        parameters = function.__code__.co_varnames[:function.__code__.co_argcount]
        return Formula(function.__name__, function, known["written"], parameters, _sources(function.__name__, source),
                       _range(function.__name__, valid, parameters), function.__module__, tuple(known["tested"]),
                       "lookup" in function.__code__.co_names, tuple(known["counts"]))
    return make


def _examined(function) -> dict:
    """What its tree says: its expression, the choices that it tests, the axes that it counts. Raises FormulaError."""
    tree = _tree_of(function)
    body = [node for node in tree.body if not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant))]
    if len(body) != 1 or not isinstance(body[0], ast.Return):
        raise FormulaError(f"{function.__name__}: a formula is one return of one expression")
    parameters, expression = _parameters(tree), body[0].value
    _check_names(function, expression, parameters)
    counts = _counted(function, expression)
    _check_expression(function.__name__, expression, parameters, counts)
    return {"written": expression, "tested": _tested(expression), "counts": counts}


@lru_cache(maxsize=1)
def known_formulas() -> dict[str, dict]:
    """What an earlier run of this program found when it examined its formulas, by module and name; none when nothing is kept."""
    return user_cache.recall_of_program("formulas") or {}


def keep_formulas(formulas: Iterable[Formula]) -> None:
    """Keep what was found in all formulas of the program, so that the next run need not examine them."""
    if not known_formulas():
        user_cache.keep_of_program("formulas", {f"{one.module}.{one.id}": {
            "code": _digest_of_code(one.run.__code__), "written": ast.unparse(one.expression), "tested": one.tested, "counts": one.counts} for one in formulas})


def _digest_of_code(code: CodeType) -> str:
    """Of what a function does with which names and constants: it differs where the code that runs is not that of the text as it was kept."""
    return blake2b(repr((code.co_code, code.co_names, code.co_varnames, code.co_consts)).encode("utf-8", "surrogatepass"), digest_size=12).hexdigest()


def procedure(source, equation: str, yields: tuple, valid: dict | None = None, sampled: bool = False, tables: dict | None = None):
    """Make a Procedure of the decorated function. `tables`: each that it reads, by id or by the parameter that names it -> the parameter with which it is
    entered, "" for the whole of it. Raises FormulaError for unknown Terms, tables or sources.
    """
    def make(function):
        _check_doc(function)
        parameters = function.__code__.co_varnames[:function.__code__.co_argcount]
        for name in (*parameters, *yields):
            _term(function.__name__, name)
        if wrong := [name for name, key in (tables or {}).items() if not (name in parameters and terms()[name].table or name not in terms() and tables_of(name))
                     or key not in ("", *parameters)]:
            raise FormulaError(f"{function.__name__}: {wrong} are no tables, or entered with what it does not take")
        return Procedure(function.__name__, function, parameters, tuple(yields), equation, _sources(function.__name__, source),
                         _range(function.__name__, valid, parameters), function.__module__, sampled, tuple((tables or {}).items()))
    return make


def check(check_id: str, value: str, limit: str, safe: str, source, title: str, exact: bool = False, fault: str = "",
          applies: dict | None = None, self_test: bool = False) -> Check:
    """Describe a design check. Raises FormulaError for unknown Terms, two dimensions, a direction that is none, or a condition that cannot hold."""
    value_term, limit_term = _term(check_id, value), _term(check_id, limit)
    if safe not in ("below", "above") or value_term.dimension != limit_term.dimension:
        raise FormulaError(f"check {check_id}: safe must be below or above, and value and limit of one dimension")
    if not set(limit_term.axes) <= set(value_term.axes):
        raise FormulaError(f"check {check_id}: the limit runs over axes that the value does not have")
    caller = inspect.currentframe().f_back.f_globals["__name__"]
    return Check(check_id, value, limit, safe, _sources(check_id, source), title, exact, caller, fault,
                 _conditions(check_id, applies or {}, value_term.axes), self_test)


def order(low: str, high: str) -> Check:
    """Two inputs that must order themselves: where `low` is given above `high`, the text is at fault. It asks for neither. Raises FormulaError."""
    made = check(f"{low}_not_above_{high}", low, limit=high, safe="below", source="definition", title=f"'{low}' is not above '{high}'", exact=True,
                 fault="a sound order", self_test=True)
    return replace(made, order=True, module=inspect.currentframe().f_back.f_globals["__name__"])


def _conditions(name_of_it: str, applies: dict, axes: tuple = ()) -> tuple:
    """Pairs (id of a choice, words with which a check or caution means anything; or id of a number, SOME or GIVEN), each over these axes."""
    for name, words in applies.items():
        term = _term(name_of_it, name)
        words_of_it = term.unit == "choice" and isinstance(words, tuple) and set(words) <= set(term.choices or words)
        fit = words_of_it if term.is_text else words == SOME or words == GIVEN and term.either
        if not fit or not set(term.axes) <= set(axes):
            raise FormulaError(f"{name_of_it}: '{name}' with {words} is not a choice with a tuple of its words, a number with SOME, "
                               f"or one that may be given with GIVEN, over axes {axes}")
    return tuple(applies.items())


def _tree_of(function) -> ast.FunctionDef:
    """The function's tree; an error if its text is not the text of the code that runs (a stale file, a wrapper)."""
    if not isinstance(function, FunctionType) or hasattr(function, "__wrapped__"):
        raise FormulaError(f"{getattr(function, '__name__', function)!r}: wrapped; a formula is the plain function as written")
    file, place = function.__code__.co_filename, (function.__code__.co_firstlineno, function.__name__)
    linecache.checkcache(file)
    try:
        tree, code = _functions_in("".join(linecache.getlines(file)))[place]
    except (KeyError, SyntaxError) as trouble:
        raise FormulaError(f"{function.__name__}: its source text cannot be read") from trouble
    if not same_code(code, function.__code__):
        raise FormulaError(f"{function.__name__}: the code that runs is not the text in its file")
    return tree


@lru_cache(maxsize=4)  # the formulas of one file are defined one after another
def _functions_in(text: str) -> dict[tuple[int, str], tuple[ast.FunctionDef, CodeType]]:
    """(first line, name) of each function in a file -> its tree, and its code compiled from that text."""
    tree = ast.parse(text)
    trees = {(min((node.lineno, *(one.lineno for one in node.decorator_list))), node.name): node for node in _statements(tree)
             if isinstance(node, ast.FunctionDef)}
    return {place: (trees[place], code) for code in _codes_in(compile(tree, "<text>", "exec")) if (place := (code.co_firstlineno, code.co_name)) in trees}


def _statements(node: ast.AST) -> Iterator[ast.AST]:
    """All statements in a tree, those inside others too, and no expression: of most files a tenth of all nodes."""
    for part in ("body", "orelse", "finalbody", "handlers", "cases"):
        for inner in getattr(node, part, ()):
            yield inner
            yield from _statements(inner)


def _codes_in(code: CodeType) -> Iterator[CodeType]:
    """A code object and all that stand in it."""
    yield code
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            yield from _codes_in(inner)


def same_code(new: CodeType, have: CodeType) -> bool:
    """Whether two code objects do the same with the same names and constants."""
    alike = all(getattr(new, part) == getattr(have, part) for part in ("co_name", "co_code", "co_names", "co_varnames"))
    return alike and _constants(new) == _constants(have)


def _constants(code) -> tuple:
    return tuple(inspect.cleandoc(value) if isinstance(value, str) else (type(value), value) for value in code.co_consts if not isinstance(value, CodeType))


def _parameters(tree: ast.FunctionDef) -> tuple:
    """Names of the parameters, all of one plain sort."""
    if tree.args.posonlyargs or tree.args.kwonlyargs or tree.args.vararg or tree.args.kwarg or tree.args.defaults:
        raise FormulaError(f"{tree.name}: parameters are names of Terms; no star, no slash, no default")
    names = tuple(argument.arg for argument in tree.args.args)
    if shadowed := [name for name in names if name in NO_TERMS]:
        raise FormulaError(f"{tree.name}: parameter {shadowed[0]} has the name of a unit or function")
    return names


def _check_names(function, expression: ast.expr, parameters: tuple) -> None:
    """Every name is a parameter, or a unit or function that means what maths.py says."""
    for name in (*parameters, function.__name__):
        _term(function.__name__, name)
    used = {node.id for node in ast.walk(expression) if isinstance(node, ast.Name)}
    for name in sorted(used - set(parameters)):
        if name not in NO_TERMS:
            near = nearest_name(name, (*parameters, *NO_TERMS))
            raise FormulaError(f"{function.__name__}: '{name}' is neither a parameter nor a unit nor a function of formulas"
                               + (f"; nearest: {near}" if near else ""))
        if function.__globals__.get(name, getattr(builtins, name, None)) is not getattr(maths, name, getattr(builtins, name, None)):
            raise FormulaError(f"{function.__name__}: '{name}' is not that of basis.language.maths")


def _check_expression(name: str, expression: ast.expr, parameters: tuple, counts: tuple) -> None:
    known = {parameter: _term(name, parameter) for parameter in parameters}
    term = _term(name, name)
    used = names_in(expression)
    if (unused := [parameter for parameter in parameters if parameter not in used]) and not counts:
        raise FormulaError(f"{name}: parameters {unused} are not used")
    try:
        meaning = dimension_of(expression, known)
        axes = axes_of(expression, known)
    except FormulaError as trouble:
        raise FormulaError(f"{name}: {trouble}") from trouble
    if not used and not counts or meaning.dimension != term.dimension:
        yields = "a number as written" if meaning.dimension == ANY or not used else units.named(meaning.dimension)
        raise FormulaError(f"{name}: yields {yields}, its Term has {units.named(term.dimension)}")
    if meaning.kind and term.kind and meaning.kind != term.kind:
        raise FormulaError(f"{name}: yields {meaning.kind}, its Term is {term.kind}")
    fleeting = [node.id for node in ast.walk(expression) if isinstance(node, ast.Name) and (node.id == "nothing" or node.id in known and known[node.id].absent)]
    if fleeting and not term.absent:
        raise FormulaError(f"{name}: rests on {fleeting}, which may not exist, and its Term does not say when")
    if "not_given" in {node.id for node in ast.walk(expression) if isinstance(node, ast.Name)} and not term.either:
        raise FormulaError(f"{name}: leaves its value to the project, which may not give it")
    if axes != term.axes and not (term.either and set(axes) < set(term.axes)):  # one rule for all items, from which any of them may depart
        raise FormulaError(f"{name}: runs over {axes}, its Term over {term.axes}")


def _tested(expression: ast.expr) -> tuple:
    tests = [node.test for node in ast.walk(expression) if isinstance(node, ast.IfExp)]
    return tuple(dict.fromkeys(name for test in tests for name in names_in(test) if terms()[name].unit == "choice" and not terms()[name].axes))


def _counted(function, expression: ast.expr) -> tuple:
    """Axes whose items the expression counts."""
    if "count_over" not in function.__code__.co_names:
        return ()
    return tuple(node.args[0].value for node in ast.walk(expression) if isinstance(node, ast.Call) and node.func.id == "count_over")


def _term(owner: str, name: str):
    if name not in terms():
        near = nearest_name(name, terms())
        raise FormulaError(f"{owner}: '{name}' is not a Term" + (f"; nearest: {near}" if near else ""))
    return terms()[name]


def _sources(owner: str, source) -> tuple:
    ids = (source,) if isinstance(source, str) else tuple(source)
    if missing := [source_id for source_id in ids if source_id not in sources()]:
        near = nearest_name(missing[0], sources())
        raise FormulaError(f"{owner}: unknown sources {missing}" + (f"; nearest: {near}" if near else ""))
    return ids


def _range(owner: str, valid: dict | None, parameters: tuple) -> dict:
    for name in valid or {}:
        if name not in parameters and name != owner:
            raise FormulaError(f"{owner}: range of '{name}', which it neither takes nor yields")
    return dict(valid or {})


def _check_doc(function) -> None:
    if not function.__doc__:
        raise FormulaError(f"{function.__name__}: has no docstring")
