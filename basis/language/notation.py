"""A formula as a reader sees it: one walk over the tree that runs, written as MathML or as plain text.

What stands for a name is decided by the caller: its symbol, or its number with unit. Two writers, one precedence table,
no stored LaTeX.
"""

from __future__ import annotations

import ast
import math
import re
from functools import lru_cache, partial
from html import escape

from basis.language.maths import UNIT_NAMES
from basis.language.parted import PART, fits, is_wide, narrowed, width
from basis.language.signs import symbol_written
from basis.language.table import table as table_of
from basis.language.terms import Term, lists_by_axis, terms
from basis.language.units import pretty, superscript
from basis.language.words import in_sentence, item_words

LOOSE, SIGN, SUM, PRODUCT, POWER, ATOM = range(6)  # binding strength
_COMPARE = {ast.Eq: "=", ast.NotEq: "≠", ast.Lt: "<", ast.LtE: "≤", ast.Gt: ">", ast.GtE: "≥"}
_PI_TIMES, _PI_PARTS, _PI_DIGITS = range(1, 9), (1, 2, 3, 4, 6, 8, 12, 180), 1e-9  # a fraction of π stands in a formula with ten figures at least
_ADD = {ast.Add: "+", ast.Sub: "−", ast.BitXor: "⊕"}  # the last one adds levels that are spelled out
OF_ITEM = "of_item"  # what stands for a call in a tree that is spelled out: what the item of a term of a sum is called, and the term
_TALL = re.compile("<m(frac|table|under><mo|sqrt|sup)")  # the names of items leave the line as it is
_ONE = re.compile("<(m[ino]|mtext)>[^<]*</\\1>")
_OPENING, _CLOSING = ("<mo stretchy='false'>" + bracket + "</mo>" for bracket in "()")  # of brackets that a line may be broken within
_REDUCE_SIGN = {"sum_over": "Σ", "max_over": "max", "min_over": "min", "energy_sum_over": "⊕", "cumulative_over": "Σ≤"}
_FUNCTION_SIGN = {"log10": "lg", "log": "ln", "exp": "exp", "asin": "arcsin", "acos": "arccos", "atan": "arctan", "ceil": "ceil", "floor": "floor"}


class MathML:
    """Writes parts as MathML."""

    cases_bind = SUM  # a brace holds them together

    def symbol(self, text: str) -> str:
        return symbol_written(text)

    def number(self, text: str, unit: str = "") -> str:
        return f"<mn>{escape(text)}</mn>" + (f"<mspace width='0.2em'/><mtext>{escape(unit)}</mtext>" if unit else "")

    def figures(self, shown: str) -> str:
        """The figures of a number without unit, else an empty text."""
        return shown.removeprefix("<mn>").removesuffix("</mn>") if shown.startswith("<mn>") and shown.count("<") == 2 else ""

    def word(self, text: str) -> str:
        return f"<mtext>{escape(text)}</mtext>"

    def row(self, *parts: str) -> str:
        return "".join(parts)  # what needs one child, such as a fraction, puts a row round it

    def minus(self) -> str:
        return '<mo form="prefix">−</mo>'

    def sign(self, text: str) -> str:
        return f"<mo>{escape(text)}</mo>"

    def bracket(self, inner: str) -> str:
        return f"<mrow><mo>(</mo>{inner}<mo>)</mo></mrow>"

    def fraction(self, over: str, under: str) -> str:
        return f"<mfrac><mrow>{over}</mrow><mrow>{under}</mrow></mfrac>"

    def power(self, base: str, exponent: str) -> str:
        return f"<msup><mrow>{base}</mrow><mrow>{exponent}</mrow></msup>"

    def root(self, inner: str) -> str:
        return f"<msqrt>{inner}</msqrt>"

    def reduce(self, sign: str, axis: str, inner: str) -> str:
        return f"<mrow><munder><mo>{escape(sign)}</mo><mtext>{escape(axis)}</mtext></munder>{inner}</mrow>"

    def of_item(self, term: str, name: str) -> str:
        """A term of a sum over what its item is called."""
        return f"<munder>{term if _ONE.fullmatch(term) else f'<mrow>{term}</mrow>'}<mtext>{escape(name)}</mtext></munder>"

    def conditions(self, found: list[str]) -> str:
        """One beside the other, of long ones one below the other."""
        lines = "".join([f"<mtr><mtd>{one}</mtd></mtr>" for one in found])
        return f"<mtable>{lines}</mtable>" if sum(map(width, found)) > PART else self.row(*found)

    def cases(self, arms: list[tuple[str, str]]) -> str:
        rows = "".join(f"<mtr><mtd>{value}</mtd><mtd>{test}</mtd></mtr>" for value, test in arms)
        return f"<mrow><mo>{{</mo><mtable columnalign='left left'>{rows}</mtable></mrow>"


class Text:
    """Writes parts as plain text, for terminals and for readers who listen."""

    cases_bind = LOOSE  # words run on into what follows

    def symbol(self, text: str) -> str:
        return text

    def number(self, text: str, unit: str = "") -> str:
        return f"{text}\u00a0{unit}" if unit else text

    def figures(self, shown: str) -> str:
        """The figures of a number without unit, else an empty text."""
        return shown if shown.removeprefix("−")[:1].isdigit() and "\u00a0" not in shown else ""

    def word(self, text: str) -> str:
        return text

    def row(self, *parts: str) -> str:
        return "".join(parts)

    def minus(self) -> str:
        return "−"

    def sign(self, text: str) -> str:
        return f" {text} "

    def bracket(self, inner: str) -> str:
        return f"({inner})"

    def fraction(self, over: str, under: str) -> str:
        under = _grouped(under)
        return f"{_grouped(over)} / {f'({under})' if '/' in under and ' ' not in under else under}"  # a unit such as m/s under the line

    def power(self, base: str, exponent: str) -> str:
        return f"{base}^{_grouped(exponent)}"

    def root(self, inner: str) -> str:
        return f"√({inner})"

    def reduce(self, sign: str, axis: str, inner: str) -> str:
        return f"{sign}[{axis}] {inner}"

    def of_item(self, term: str, name: str) -> str:
        return f"{term} for {name}"

    def conditions(self, found: list[str]) -> str:
        return self.row(*found)

    def cases(self, arms: list[tuple[str, str]]) -> str:
        return "; ".join(f"{value} {test}" for value, test in arms)


def _grouped(text: str) -> str:
    one_part = not any(f" {sign} " in text for sign in "+−/·=<>≤≥") and not text.startswith("−")
    return text if one_part else f"({text})"


def _written(number: float) -> str:
    mantissa, _, exponent = f"{number:.10g}".partition("e")
    return (f"{mantissa} × 10{superscript(int(exponent))}" if exponent else mantissa).replace("-", "−")


@lru_cache(maxsize=1 << 12)
def _of_pi(number: float) -> tuple[str, str] | None:
    """A number that is a simple fraction of π: what stands over the line with π, and under it."""
    for part in _PI_PARTS:
        times = number * part / math.pi
        if round(times) in _PI_TIMES and abs(times - round(times)) < _PI_DIGITS:
            return f"{'' if round(times) == 1 else round(times)}π", "" if part == 1 else str(part)
    return None


def _unit_text(powers: dict[str, int]) -> str:
    """The unit as a reader sees it: kg/m³ for one kilogram and minus three metres."""
    over = "*".join(name if power == 1 else f"{name}^{power}" for name, power in powers.items() if power > 0)
    under = "".join(f"/{name}" if power == -1 else f"/{name}^{-power}" for name, power in powers.items() if power < 0)
    return pretty((over or "1") + under) if over or under else ""


def sign_of(term: Term, writer) -> str:
    """What stands for a quantity: its symbol, or in words its name where it has none."""
    return writer.symbol(term.symbol) if term.symbol else writer.word(term.name)


def symbol_shown(term: Term) -> str:
    """The symbol of a Term, or its name where it has none."""
    return term.symbol or term.name


def shown(expression: ast.expr, writer, stands_for=None) -> str:
    """The expression in the writer's notation. `stands_for(name, writer)` gives what stands for a Term; its symbol if left out."""
    return _Walk(writer, stands_for or (lambda name, writer: sign_of(terms()[name], writer)))(expression)[0]


def mathml(term_id: str, expression: ast.expr, stands_for=None, left: bool = True) -> str:
    """`symbol = expression` as one <math> element; of a long one as several, between which a line may be broken: within one no browser breaks. What is too wide
    for that has parts in rows of their own: behind the symbols, and before the row with numbers, which ends with the result."""
    walk = _Walk(MathML(), stands_for or (lambda name, writer: sign_of(terms()[name], writer)))
    whole = _equated(sign_of(terms()[term_id], walk.writer) if left else "", walk.stretches(expression))
    own = len(walk.parts)
    rows = [f'<span class="part">{_equated(walk.writer.word(word), walk.stretches(part))}</span>' for word, part in walk.parts]  # which may have parts, too
    return "".join([*rows[own:][::-1], *rows[:own], whole] if stands_for else [whole, *rows])


def _equated(start: str, stretches: list[str]) -> str:
    first, *rest = stretches
    together = f"{start}<mo>=</mo>{first}"
    found = [together, *rest] if not start or fits(together) else [start, f"<mo>=</mo>{first}", *rest]
    return " ".join([f"<math>{stretch}</math>" for stretch in found])


def text(term_id: str, expression: ast.expr, stands_for=None) -> str:
    """`symbol = expression` as one line of plain text."""
    return f"{symbol_shown(terms()[term_id])} = {shown(expression, Text(), stands_for)}"


def is_quantity(expression: ast.expr) -> bool:
    """Whether an expression is nothing but one number with its unit, or what does not exist."""
    match expression:
        case ast.Constant() | ast.UnaryOp(operand=ast.Constant()) | ast.Name(id="nothing" | "not_given"):
            return True
    return _Walk(Text(), lambda name, writer: "")._quantity(expression) is not None


def _led(sign: str, found: list[str]) -> list[str]:
    return [sign + found[0], *found[1:]]


class _Walk:
    """One visitor for both writers; returns (text, binding strength)."""

    def __init__(self, writer, stands_for):
        self.writer, self.stands_for = writer, stands_for
        self.parts: list[tuple[str, ast.expr]] = []  # what is too wide where it stands, with the word for its place

    def __call__(self, node: ast.expr) -> tuple[str, int]:
        w = self.writer
        if (found := self._quantity(node)) is not None:
            figures, powers = found
            return w.number(figures or "1", _unit_text(powers)), SIGN if figures.startswith("−") else PRODUCT
        match node:
            case ast.Name(id="nothing"):
                return w.word("does not exist"), ATOM
            case ast.Name(id="not_given"):
                return w.word("not given"), ATOM
            case ast.Name(id=name):
                return self._name(self.stands_for(name, w))
            case ast.Constant(value=str() as word):
                return w.word(word.replace("_", " ")), ATOM
            case ast.Constant(value=float() as number) if found := _of_pi(number):
                times, part = found
                return (w.fraction(w.number(times), w.number(part)), PRODUCT) if part else (w.number(times), ATOM)
            case ast.Constant(value=number):
                return w.number(_written(number)), ATOM if number >= 0 else SIGN
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return w.row(w.minus(), self._bound(operand, PRODUCT)), SIGN
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                return w.row(w.word("not "), self._bound(operand, ATOM)), SIGN
            case ast.BinOp(left=left, op=ast.Div(), right=right):
                return w.fraction(self(left)[0], self(right)[0]), PRODUCT
            case ast.BinOp(left=left, op=ast.Pow(), right=right):
                return w.power(self._bound(left, ATOM), self(right)[0]), POWER
            case ast.BinOp(left=ast.BinOp(left=left, op=ast.Mult(), right=last), op=ast.Mult(), right=unit) if self._counts(last, unit):
                return self(ast.BinOp(left, ast.Mult(), ast.BinOp(last, ast.Mult(), unit)))
            case ast.BinOp(left=left, op=ast.Mult(), right=right):
                return w.row(self._bound(left, PRODUCT), w.sign("·"), self._bound(right, PRODUCT)), PRODUCT
            case ast.BinOp(left=left, op=op, right=right):
                sign = _ADD[type(op)]
                return w.row(self._bound(left, SIGN), w.sign(sign), self._bound(right, PRODUCT if sign == "−" else SUM)), SUM
            case ast.IfExp():
                return w.cases(self._arms(node)), w.cases_bind
            case ast.Compare(left=left, ops=[op], comparators=[right]):
                return w.row(self(left)[0], w.sign(_COMPARE[type(op)]), self(right)[0]), SUM
            case ast.BoolOp(op=op, values=values):
                first, *others = [self(value)[0] for value in values]
                return w.conditions([first, *[w.word(" and " if isinstance(op, ast.And) else " or ") + other for other in others]]), SUM
            case ast.Call(func=ast.Name(id=name), args=[ast.Constant(value=item), term]) if name == OF_ITEM:
                written, strength = self(term)
                return w.of_item(written, item), strength
            case ast.Call(func=ast.Name(id=function), args=args):
                return self._call(function, args), ATOM
        raise TypeError(f"no notation for {ast.dump(node)}")

    def _quantity(self, node: ast.expr) -> tuple[str, dict[str, int]] | None:
        """Figures and units with their powers of a product that holds nothing but one number and units, or units alone."""
        match node:
            case ast.Name(id=name) if name in UNIT_NAMES:
                return "", {UNIT_NAMES[name]: 1}
            case ast.BinOp(left=ast.Name(id=name), op=ast.Pow(), right=ast.Constant(value=int() as power)) if name in UNIT_NAMES:
                return "", {UNIT_NAMES[name]: power}
            case ast.BinOp(left=left, op=ast.Mult() | ast.Div() as op, right=right):
                unit = self._quantity(right)
                if unit is None or unit[0]:
                    return None
                start = (self._figures(left), {}) if isinstance(op, ast.Mult) and self._figures(left) else self._quantity(left)
                sign = 1 if isinstance(op, ast.Mult) else -1
                return start and (start[0], {name: start[1].get(name, 0) + sign * unit[1].get(name, 0) for name in start[1] | unit[1]})
        return None

    def _counts(self, last: ast.expr, unit: ast.expr) -> bool:
        """Whether the last factor before a unit is a number that it belongs to, or a further unit."""
        found, before = self._quantity(unit), self._quantity(last)
        return found is not None and not found[0] and bool(self._figures(last) or before and not before[0])

    def _figures(self, node: ast.expr) -> str:
        """The figures of what stands for a plain number, else an empty text."""
        match node:
            case ast.Constant(value=int() | float() as number):
                return _written(number)
            case ast.UnaryOp(op=ast.USub(), operand=ast.Constant(value=number)):
                return _written(-number)
            case ast.Name(id=name) if name not in UNIT_NAMES:
                return self.writer.figures(self.stands_for(name, self.writer))
        return ""

    def stretches(self, node: ast.expr, needed: int = LOOSE) -> list[str]:
        """The same as MathML, in stretches: broken before + and −, and where a product is long before · (ISO 80000-2, from memory)."""
        if isinstance(node, ast.Call) and node.func.id == OF_ITEM:
            item, term = node.args
            first, *rest = self.stretches(term, needed)
            return [self.writer.of_item(first, item.value), *rest]
        whole, strength = self(node)
        bound = self.writer.bracket(whole) if strength < needed else whole
        members = [] if fits(bound) else self._members(node)
        if len(members) < 2 or strength < needed and _TALL.search(whole) and not is_wide(bound):  # brackets round what is tall stretch together
            return self._narrowed(node, bound, needed)
        found = [stretch for sign, part, binding in members for stretch in _led(sign, self.stretches(part, binding))]
        return [_OPENING + found[0], *found[1:-1], found[-1] + _CLOSING] if strength < needed else found

    def _narrowed(self, node: ast.expr, bound: str, needed: int) -> list[str]:
        """What no line is broken within, with words for parts that would make it too wide."""
        node, bound = narrowed(node, bound, partial(self._bound, needed=needed), self._falls_apart, self.parts)
        match node:
            case ast.Call(func=ast.Name(id="min" | "max" as function), args=[first, *others]) if is_wide(bound):
                found = self.stretches(first) + [stretch for one in others for stretch in _led(self.writer.sign(","), self.stretches(one))]
                return [self.writer.word(function) + _OPENING + found[0], *found[1:-1], found[-1] + _CLOSING]
        return [bound]

    def _falls_apart(self, node: ast.expr) -> bool:
        """Whether a formula can be broken between parts of which none is too wide."""
        members = self._members(node)
        return len(members) > 1 and not any(is_wide(self(part)[0]) for _, part, _ in members)

    def _members(self, node: ast.expr) -> list[tuple[str, ast.expr, int]]:
        """Terms of a sum or factors of a product: the sign before each, what it is, and how strongly it has to bind."""
        match node:
            case ast.BinOp(left=left, op=ast.Add() | ast.Sub() | ast.BitXor() as op, right=right):
                before = self._members(left) if isinstance(left, ast.BinOp) and type(left.op) in _ADD else [("", left, SIGN)]
                return [*before, (self.writer.sign(_ADD[type(op)]), right, PRODUCT if isinstance(op, ast.Sub) else SUM)]
            case ast.BinOp(left=ast.BinOp(left=left, op=ast.Mult(), right=last), op=ast.Mult(), right=unit) if self._counts(last, unit):
                return self._members(ast.BinOp(left, ast.Mult(), ast.BinOp(last, ast.Mult(), unit)))
            case ast.BinOp(left=left, op=ast.Mult(), right=right) if self._quantity(node) is None:
                before = self._members(left) if isinstance(left, ast.BinOp) and isinstance(left.op, ast.Mult) else [("", left, PRODUCT)]
                return [*before, (self.writer.sign("·"), right, PRODUCT)]
        return [("", node, LOOSE)]

    @staticmethod
    def _name(stands: str) -> tuple[str, int]:
        """A symbol binds like an atom, a number with its unit like a product, a negative number like a sign."""
        if stands.startswith(("−", "<mn>−")):
            return stands, SIGN
        return stands, PRODUCT if "\u00a0" in stands or "<mspace" in stands else ATOM

    def _bound(self, node: ast.expr, needed: int) -> str:
        inner, strength = self(node)
        return self.writer.bracket(inner) if strength < needed else inner

    def _arms(self, node: ast.IfExp) -> list[tuple[str, str]]:
        arms, word = [], self.writer.word
        while isinstance(node, ast.IfExp):
            arms.append((self(node.body)[0], self.writer.row(word("if "), self(node.test)[0])))
            node = node.orelse
        return [*arms, (self(node)[0], word("otherwise"))]

    def _call(self, function: str, args: list) -> str:
        w = self.writer
        if function in _REDUCE_SIGN:
            along = args[0].value  # an axis, or the name of the item that governs
            return w.reduce(_REDUCE_SIGN[function], item_words(along) if along in lists_by_axis() else along, self._bound(args[1], PRODUCT))
        if function == "count_over":
            return w.word(f"number of items along {item_words(args[0].value)}")
        if function == "pick":
            return self(args[1])[0]
        if function == "sqrt":
            return w.root(self(args[0])[0])
        if function == "lookup":
            return self._lookup(args)
        inner = [self(args[0])[0]]
        for arg in args[1:]:
            inner += [w.sign(",") if isinstance(w, MathML) else ", ", self(arg)[0]]
        if function == "abs":
            return w.row(w.word("|"), *inner, w.word("|"))
        return w.row(w.word(_FUNCTION_SIGN.get(function, function)), w.bracket(w.row(*inner)))

    def _lookup(self, args: list) -> str:
        w = self.writer
        named = isinstance(args[0], ast.Constant)
        table = w.word(f"table {in_sentence(table_of(args[0].value).title)}") if named else w.row(w.word("table "), self(args[0])[0])
        return w.row(table, w.word(f", {item_words(args[1].value)}, at "), self(args[2])[0])


@lru_cache(maxsize=1 << 12)  # a tree is known by itself; each option asks again for the same ones
def lookups_in(expression: ast.expr) -> tuple[tuple[ast.expr, str, ast.expr], ...]:
    """(table, column, key) of each table look-up in an expression."""
    calls = [node for node in ast.walk(expression) if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "lookup"]
    return tuple((call.args[0], call.args[1].value, call.args[2]) for call in calls)
