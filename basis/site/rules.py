"""What a template may not do, found by walking its parsed tree: compute, compare, filter, glue or type a number. Every breach is a Fault with the
template's own line.
"""
from __future__ import annotations

import re

from jinja2 import Environment, TemplateSyntaxError, nodes

from basis.language.faults import Fault, Faults

COMPUTING = {
    nodes.Add: "adds", nodes.Sub: "subtracts", nodes.Mul: "multiplies", nodes.Div: "divides", nodes.FloorDiv: "divides",
    nodes.Mod: "divides", nodes.Pow: "raises to a power", nodes.Neg: "negates", nodes.Pos: "signs a number",
    nodes.Concat: "glues parts with ~", nodes.Compare: "compares", nodes.Filter: "filters", nodes.FilterBlock: "filters",
    nodes.Getattr: "reads an attribute", nodes.Getitem: "reads an item", nodes.Slice: "slices", nodes.Test: "tests",
    nodes.ScopedEvalContextModifier: "switches escaping on or off",
}
ALLOWED_NODES = (nodes.Template, nodes.Output, nodes.TemplateData, nodes.If, nodes.And, nodes.Or, nodes.Not, nodes.Call, nodes.Name, nodes.Const)
PLACES_A_VALUE = 'only value("…"), table("…") and the like, placed as they are'
ASKS_A_VERDICT = 'holds("…"), tight("…"), fails("…"), choice("…", "…"), has("…"), given("…"), listed("…"), several("…") or has_chapter("…")'
DIGIT = re.compile(r"\S*\d\S*")
# What may hold a digit in prose: names of standards, clause numbers, dates, classes such as G3, N+1, and numbered lists.
DIGITS_ALLOWED = re.compile(r"""
      \b(?:ISO|IEC|IEEE|NFPA|NEC|NEMA|EN|BS|DIN|UFC|ASME|ASTM|UL|ASHRAE|API|TM|VDI|ANSI|CIBSE|MIL-[A-Z]+|FM|EPA)(?:/[A-Z]+)?[ -]?[A-Z]{0,2}[ -]?\d[\d.:/A-Z–-]*
    | \b(?:[Cc]lause|[Aa]rticle|[Ss]ection|[Pp]aragraph|[Tt]able|[Aa]nnex|[Cc]hapter|[Pp]art|§)s?\ [A-Z]?\d[\w.–()-]*(?:\(\w\))*
    | \b\d{4}-\d{2}-\d{2}\b
    | \b[A-Z]{1,3}\d{1,2}\b | \bN\+\d\b
    | ^\s*\d+\.\s
    """, re.VERBOSE | re.MULTILINE)


def parsed(environment: Environment, source: str, file: str) -> nodes.Template:
    """The tree of a template's text. Raises Faults when it cannot be read."""
    try:
        return environment.parse(source)
    except TemplateSyntaxError as wrong:
        raise Faults([Fault(file, wrong.lineno, f"template cannot be read: {wrong.message}", "Jinja as in the other templates")]) from wrong


def breaches(tree: nodes.Template, file: str) -> list[Fault]:
    """Everything in the template that breaks the rules, each with its line."""
    return [*_computing(tree, file), *_names(tree, file), *_constants(tree, file), *_numerals(tree, file)]


def _computing(tree: nodes.Template, file: str) -> list[Fault]:
    """Everything but text, `if` and calls of functions."""
    found = [node for node in tree.find_all((nodes.Stmt, nodes.Expr)) if not isinstance(node, ALLOWED_NODES)]
    return [Fault(file, node.lineno, f"template {COMPUTING.get(type(node), f'uses {type(node).__name__.lower()}')}",
                  ASKS_A_VERDICT if isinstance(node, (nodes.Compare, nodes.Test)) else PLACES_A_VALUE) for node in found]


def _names(tree: nodes.Template, file: str) -> list[Fault]:
    """Names are there to be called, with words in quotes; what is named in the call may be true or false too."""
    calls = list(tree.find_all(nodes.Call))
    called = {id(call.node) for call in calls}
    inside = {id(name) for call in calls for argument in (*call.args, *call.kwargs) for name in (argument, *argument.find_all(nodes.Name))}
    found = [Fault(file, name.lineno, f"template names '{name.name}' without calling it", PLACES_A_VALUE)
             for name in tree.find_all(nodes.Name) if id(name) not in called | inside]
    return found + [Fault(file, call.lineno, f"{call.node.name}(…) is not given words in quotes alone", f'{call.node.name}("…")') for call in calls
                    if isinstance(call.node, nodes.Name) and not _in_quotes(call)]


def _in_quotes(call: nodes.Call) -> bool:
    plain = all(isinstance(argument, nodes.Const) and isinstance(argument.value, str) for argument in call.args)
    named = all(isinstance(keyword.value, nodes.Const) and isinstance(keyword.value.value, (str, bool)) for keyword in call.kwargs)
    return plain and named and not (call.dyn_args or call.dyn_kwargs)


def _constants(tree: nodes.Template, file: str) -> list[Fault]:
    numbers = [node for node in tree.find_all(nodes.Const) if isinstance(node.value, (int, float)) and not isinstance(node.value, bool)]
    return [Fault(file, node.lineno, f"template holds the number {node.value}", PLACES_A_VALUE) for node in numbers]


def _numerals(tree: nodes.Template, file: str) -> list[Fault]:
    found = []
    for data in tree.find_all(nodes.TemplateData):
        for number, line in enumerate(data.data.split("\n")):
            found += [Fault(file, data.lineno + number, f"number '{word}' typed in prose", 'a value("…"), or the count as a word')
                      for word in DIGIT.findall(DIGITS_ALLOWED.sub("", line))]
    return found


def calls(tree: nodes.Template) -> list[tuple[str, tuple, dict, int]]:
    """Calls of functions in a template: name, arguments, arguments by name (None where not constant), line."""
    return [(call.node.name, tuple(getattr(arg, "value", None) for arg in call.args), {one.key: getattr(one.value, "value", None) for one in call.kwargs},
             call.lineno) for call in tree.find_all(nodes.Call) if isinstance(call.node, nodes.Name)]
