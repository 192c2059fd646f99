"""A formula as a spreadsheet runs it, at one element of its value, from the same tree that the book runs.

What a spreadsheet cannot say raises Refused with the reason: procedures, values too long for rows, numbers that are not there.
"""

from __future__ import annotations

import ast
import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from string import ascii_uppercase

from basis.language.maths import COMPARISONS, PLAIN_FUNCTIONS, UNIT_NAMES
from basis.language.table import SAME_KEY, Table, table
from basis.language.units import unit
from basis.solving.book import Book
from basis.solving.value import Value

LOOSE, COMPARED, SUM, PRODUCT, POWER, ATOM = range(6)  # binding strength; a minus binds before a power here: both stand in brackets
SIGNS = {ast.Add: ("+", SUM), ast.Sub: ("-", SUM), ast.Mult: ("*", PRODUCT), ast.Div: ("/", PRODUCT), ast.Pow: ("^", POWER)}
COMPARED_BY = {**COMPARISONS, ast.Eq: "=", ast.NotEq: "<>"}
FUNCTIONS = {**{name: name.upper() for name in PLAIN_FUNCTIONS}, "log": "LN", "sqrt": "SQRT", "abs": "ABS", "floor": "INT"}
LONGEST, MOST_ARGUMENTS = 8000, 250  # characters of a formula, arguments of a function: what spreadsheets take, with room
LISTS, TABLES = "All lists", "All tables"  # the sheets with the items of every list, and the rows of the tables that formulas look into
FIRST_TABLE_ROW, HEAD_ROWS = 6, 4  # of the cells of the first table, and between the cells of two
ROUNDING = 1e-9  # of a key
COLUMN = "E"  # of the number in SI
NO_NAME = re.compile(r"[a-z]{1,3}\d+|[rc]|r\d*c\d*", re.IGNORECASE)  # what a spreadsheet reads as a cell
CUT = 31  # characters of the name of a sheet


class Refused(Exception):
    """Why a formula cannot run in a spreadsheet."""


@dataclass(frozen=True)
class Place:
    """Where a value stands: its sheet, and the row of its first element, counted from one."""

    sheet: str
    row: int


@dataclass
class Translator:
    """Formulas of a book, as cells of `places` refer to each other. `sheet`: the one on which the formula will stand."""

    book: Book
    places: dict[str, Place]
    sheet: str = ""
    tables: dict[str, int] = field(default_factory=dict)  # id of each table that a formula looks into -> its first row, counted from one
    unknown: bool = field(default=False, init=False)  # whether the formula at hand reads outside all conditions what has no finite number

    def formula(self, node: ast.expr, at: dict[str, str]) -> str:
        """The formula at an element (axis -> item), without the sign that begins it. Raises Refused."""
        self.unknown = False
        text = self._loose(node, at)
        if self.unknown:
            raise Refused("it rests on a number that is not there")
        if len(text) > LONGEST:
            raise Refused("the formula is longer than a spreadsheet takes")
        return text

    def cell(self, value: Value, ids: tuple[str, ...]) -> str:
        """The cell of one element: of a plain value its name."""
        if not ids and named(value.id):
            return value.id
        return self._at(value, _rank(value, ids))

    # -- nodes ------------------------------------------------------------------------------------------------------------

    def _loose(self, node: ast.expr, at: dict) -> str:
        return self._of(node, at)[0]

    def _of(self, node: ast.expr, at: dict) -> tuple[str, int]:
        """Text and binding strength."""
        match node:
            case ast.Constant(value=str() as word):
                return _quoted(word), ATOM
            case ast.Constant(value=number):
                return repr(number), ATOM
            case ast.Name(id="nothing" | "not_given"):
                return "NA()", ATOM
            case ast.Name(id=name) if name in self.book.values:
                return self._element(self.book.values[name], at), ATOM
            case ast.Name(id=name) if name in UNIT_NAMES:
                return repr(unit(UNIT_NAMES[name]).factor), ATOM
            case ast.Name(id=name):
                raise Refused(f"{name} is not there")
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return f"(-{self._bound(operand, at, ATOM)})", ATOM
            case ast.BinOp(left=left, op=op, right=right):
                sign, strength = SIGNS[type(op)]
                return f"{self._bound(left, at, strength)}{sign}{self._bound(right, at, strength + 1)}", strength
            case ast.IfExp(test=test, body=body, orelse=other):
                return f"IF({self._loose(test, at)},{self._arm(body, at)},{self._arm(other, at)})", ATOM
            case ast.Compare(left=left, ops=[op], comparators=[right]):
                return f"{self._bound(left, at, SUM)}{COMPARED_BY[type(op)]}{self._bound(right, at, SUM)}", COMPARED
            case ast.BoolOp(op=op, values=parts):
                return f"{'AND' if isinstance(op, ast.And) else 'OR'}({self._listed(self._loose(part, at) for part in parts)})", ATOM
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                return f"NOT({self._loose(operand, at)})", ATOM
            case ast.Call(func=ast.Name(id=function), args=args):
                return self._call(function, args, at)
        raise Refused(f"'{ast.unparse(node)}' has no counterpart")

    def _bound(self, node: ast.expr, at: dict, least: int) -> str:
        text, strength = self._of(node, at)
        return text if strength >= least else f"({text})"

    def _arm(self, node: ast.expr, at: dict) -> str:
        """One arm of a condition: what is not there counts only where it runs."""
        was = self.unknown
        text = self._loose(node, at)
        self.unknown = was
        return text

    def _listed(self, parts: Iterable[str]) -> str:
        found = list(parts)
        if len(found) > MOST_ARGUMENTS:
            raise Refused("it has more terms than a spreadsheet takes")
        return ",".join(found)

    def _call(self, function: str, args: list, at: dict) -> tuple[str, int]:
        if function == "lookup":
            return self._looked_up(*args, at), ATOM
        if function == "count_over":
            return str(len(self.book.items[args[0].value])), ATOM
        if function == "pick":
            return self._picked(self.book.values[args[0].id], args[1], at), ATOM
        if function.endswith("_over"):
            return self._reduced(function, args[0].value, args[1], at)
        if function in ("min", "max"):
            return f"{function.upper()}({self._listed(self._loose(one, at) for one in args)})", ATOM
        if function == "ceil":
            return f"(-INT(-{self._bound(args[0], at, ATOM)}))", ATOM
        return f"{FUNCTIONS[function]}({self._loose(args[0], at)})", ATOM

    # -- over items -------------------------------------------------------------------------------------------------------

    def _reduced(self, function: str, axis: str, inner: ast.expr, at: dict) -> tuple[str, int]:
        items = self.book.items[axis]
        if function == "cumulative_over":
            items = items[:items.index(at[axis]) + 1]
        if not items:
            if function in ("sum_over", "cumulative_over"):
                return "0", ATOM
            raise Refused("there is no item")
        if function in ("max_over", "min_over"):
            return f"{function[:3].upper()}({self._range(inner, axis, items, at) or self._terms(inner, axis, items, at)})", ATOM
        if function == "energy_sum_over":
            along = self._along(inner, axis, items, at)
            levels = f"SUMPRODUCT(10^(({along})/10))" if along else f"SUM({self._terms(inner, axis, items, at, '10^(({})/10)')})"
            return f"10*LOG10({levels})", PRODUCT
        if cells := self._range(inner, axis, items, at):
            return f"SUM({cells})", ATOM
        along = self._along(inner, axis, items, at)
        return (f"SUMPRODUCT({along})" if along else f"SUM({self._terms(inner, axis, items, at)})"), ATOM

    def _picked(self, reference: Value, inner: ast.expr, at: dict) -> str:
        """The value of the item that a cell names."""
        axis = reference.term.refers_to
        items = self.book.items[axis]
        if not items:
            raise Refused("there is no item")
        place = f"MATCH({self._element(reference, at)},{ids_name(axis)},0)"
        if cells := self._range(inner, axis, items, at):
            return f"INDEX({cells},{place})"
        was = self.unknown
        terms = self._terms(inner, axis, items, at)
        self.unknown = was  # of the others none is asked for
        return f"CHOOSE({place},{terms})"

    def _terms(self, inner: ast.expr, axis: str, items: tuple, at: dict, form: str = "{}") -> str:
        return self._listed(form.format(self._loose(inner, at | {axis: item})) for item in items)

    def _range(self, node: ast.expr, axis: str, items: tuple, at: dict) -> str:
        """The cells of a value along an axis, from its first item on, if they stand below each other; else nothing."""
        value = self.book.values.get(node.id) if isinstance(node, ast.Name) else None
        if value is None or axis not in value.axes or value.axes[-1] != axis:
            return ""
        before = tuple(at[other] for other in value.axes[:-1])
        self._read(value, [(*before, item) for item in items])
        if value.axes == (axis,) and items == value.items[0] and named(value.id):
            return value.id
        first, last = (_rank(value, (*before, item)) for item in (items[0], items[-1]))
        return f"{self._at(value, first)}:{COLUMN}{self.places[value.id].row + last}"

    def _along(self, node: ast.expr, axis: str, items: tuple, at: dict) -> str:
        """An expression of cells along an axis as a spreadsheet runs it at once; nothing where it has to be spelled out."""
        match node:
            case ast.Name(id=name) if name in self.book.values:
                return self._range(node, axis, items, at) if axis in self.book.values[name].axes else self._loose(node, at)
            case ast.Constant() | ast.Name():
                return self._loose(node, at)
            case ast.BinOp(left=left, op=op, right=right):
                sides = [self._along(side, axis, items, at) for side in (left, right)]
                return f"({sides[0]}){SIGNS[type(op)][0]}({sides[1]})" if all(sides) else ""
        return ""

    # -- tables -----------------------------------------------------------------------------------------------------------

    def _looked_up(self, where: ast.expr, column: ast.Constant, key: ast.expr, at: dict) -> str:
        """A cell of a table by its rule; which table it is, where a choice names it, is as the project has it."""
        table_id = where.value if isinstance(where, ast.Constant) else self._named_table(where.id, at)
        if not table_id:
            return "NA()"
        used = table(table_id)
        cells, keys, sought = self._column(used, column.value), self._column(used, used.key), self._bound(key, at, ATOM)
        if used.units[used.key] == "text":
            return f"INDEX({cells},MATCH({sought},{keys},0))"
        if used.rule == "exact":
            return f"INDEX({cells},MATCH(1,INDEX(--(ABS({keys}-{sought})<={SAME_KEY!r}*ABS({keys})),0),0))"
        below = f"SUMPRODUCT(--({keys}<{sought}*{1 - ROUNDING!r}))"
        if used.rule == "next_up":
            return f"INDEX({cells},{below}+1)"
        sides = [f"INDEX({one},MAX(1,{below})):INDEX({one},MAX(1,{below})+1)" for one in (cells, keys)]
        return f"IF({sought}<{used.keys[0] * (1 - ROUNDING)!r},NA(),FORECAST({sought},{sides[0]},{sides[1]}))"

    def _named_table(self, value_id: str, at: dict) -> str:
        """The table that a choice names at an element; none where it names none."""
        value = self.book.values.get(value_id)
        return str(self._number(value, at) or "") if value else ""

    def _column(self, used: Table, name: str) -> str:
        """The cells of a column of a table, for which there is room behind those that were asked for before."""
        if used.id not in self.tables:
            self.tables[used.id] = max([FIRST_TABLE_ROW, *(row + len(table(one).keys) + HEAD_ROWS for one, row in self.tables.items())])
        row, letter = self.tables[used.id], ascii_uppercase[list(used.columns).index(name)]
        return f"{_sheet(TABLES)}${letter}${row}:${letter}${row + len(used.keys) - 1}"

    # -- cells ------------------------------------------------------------------------------------------------------------

    def _number(self, value: Value, at: dict):
        ids = tuple(at[axis] for axis in value.axes)
        return value.number.ravel()[_rank(value, ids)] if ids else value.number

    def _element(self, value: Value, at: dict) -> str:
        ids = tuple(at[axis] for axis in value.axes)
        self._read(value, [ids])
        return self.cell(value, ids)

    def _read(self, value: Value, elements: list) -> None:
        if value.id not in self.places:
            raise Refused("it runs over too many items for rows, such as the hours of a year")
        if not value.term.is_text:
            numbers = (value.number.ravel()[_rank(value, ids)] if ids else value.number for ids in elements)
            self.unknown = self.unknown or not all(map(math.isfinite, numbers))

    def _at(self, value: Value, rank: int) -> str:
        place = self.places[value.id]
        return f"{'' if place.sheet == self.sheet else _sheet(place.sheet)}{COLUMN}{place.row + rank}"


def named(value_id: str) -> bool:
    """Whether the id of a value may be a name in a spreadsheet."""
    return not NO_NAME.fullmatch(value_id)


def ids_name(axis: str) -> str:
    """Name of the cells that hold the ids of a list."""
    return f"ids_of_{axis}"


def sheet_name(chapter_id: str) -> str:
    """The sheet of a chapter."""
    return chapter_id[:CUT]


def cells_of(value: Value, place: Place) -> str:
    """All cells of a value, for a name."""
    return f"={_sheet(place.sheet)}${COLUMN}${place.row}" + (f":${COLUMN}${place.row + value.number.size - 1}" if value.axes else "")


def _sheet(name: str) -> str:
    return f"'{name}'!"


def _rank(value: Value, ids: tuple[str, ...]) -> int:
    """The place of an element among all of its value, in order."""
    rank = 0
    for along, item in zip(value.items, ids):
        rank = rank * len(along) + along.index(item)
    return rank


def _quoted(word: str) -> str:
    doubled = word.replace('"', '""')
    return f'"{doubled}"'
