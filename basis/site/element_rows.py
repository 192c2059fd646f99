"""The rows with numbers of all elements of the values of a sheet, as a script that the page loads when a reader asks for the first of them.

Elements of a value read alike but for their numbers, so a form stands once, with a mark where each number goes, and of each element which form and which
numbers. The page puts them together; it computes nothing.
"""
from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import repeat

import numpy as np
from markupsafe import Markup

from basis.language import notation
from basis.language.maths import REDUCTIONS, names_in
from basis.site.addresses import Addresses, is_long
from basis.site.html import made, safe
from basis.site.quantities import unit_name
from basis.site.tables import axis_title
from basis.site.working import STACKED, because, compact
from basis.solving.spelled import Spelling
from basis.solving.value import Value
from basis.solving.working import in_formula, live_expression, numbers_put_in, shown_in_formula, why_constant

PLACE = "\ue000"  # in a form a place for a number
NAMED = re.compile(f"{PLACE}(.)\\1*")  # while it is made, followed by the letter that stands for a name, as often as the number has figures
FIRST_LETTER = 0xE001


@dataclass(frozen=True)
class Rows:
    """The rows of the elements of a value. Of each the number of its form and what stands in it, or nothing where it is given. `first` that is computed: its
    items, what stands on the page, and the same in words where it is not said as it is written."""

    axes: tuple[str, ...]
    forms: tuple[str, ...]
    rows: tuple[tuple, ...]
    first: tuple[tuple[str, ...], Markup, str] | None


def has_rows(value: Value) -> bool:
    """Whether the elements of a value have workings of their own."""
    return value.origin == "formula" and bool(value.axes) and not is_long(value.axes) and bool(value.elements())


def script(addresses: Addresses, found: dict[str, Rows]) -> str:
    """The file of a sheet: of its values the rows with the unit, and what the axes and their items are called."""
    book = addresses.book
    values = {name: {"axes": rows.axes, "forms": rows.forms, "rows": rows.rows, "unit": unit_name(book[name])} for name, rows in found.items()}
    axes = {axis: [axis_title(axis), {item: addresses.item_name(axis, item) for item in book.items[axis]}]
            for axis in dict.fromkeys(axis for rows in found.values() for axis in rows.axes)}
    return f"basisRows({json.dumps([values, axes], ensure_ascii=False, separators=(',', ':'))});\n"


class Shown:
    """Numbers and words as they stand in a formula, each found once."""

    def __init__(self):
        self._found: dict[tuple, str] = {}
        self._columns: dict[tuple, list[str]] = {}

    def __call__(self, value: Value, ids: Sequence[str]) -> str:
        key = (value.id, value.digest, *ids)
        if (text := self._found.get(key)) is None:
            text = self._found[key] = shown_in_formula(value, ids)
        return text

    def column(self, value: Value) -> list[str]:
        """All elements of a value in their order."""
        key = (value.id, value.digest)
        if (texts := self._columns.get(key)) is None:
            texts = self._columns[key] = [in_formula(value, number) for number in np.ravel(value.number).tolist()]
        return texts


def of_value(addresses: Addresses, value: Value, shown: Shown) -> Rows:
    """The rows of all elements of a value."""
    writing, elements = Writing(addresses, value, shown), value.elements()
    rows = tuple([() if ids[0] in value.givens else row for ids, row in zip(elements, writing.rows())])
    forms = tuple(writing.forms)
    first = next((place for place, row in enumerate(rows) if row), None)
    if first is None:
        return Rows(value.axes, forms, rows, None)
    written = put_together(forms, rows[first])
    return Rows(value.axes, forms, rows, (elements[first], written, writing.in_words(elements[first]) if STACKED.search(written) else ""))


def put_together(forms: Sequence[str], row: tuple) -> Markup:
    """The row of an element, as the page puts it together."""
    form, *texts = row
    first, *rest = forms[form].split(PLACE)
    return made(first + "".join([text + part for text, part in zip(texts, rest)]))


class Writing:
    """The rows of one value; `forms` are those that were met, in order."""

    def __init__(self, addresses: Addresses, value: Value, shown: Shown):
        self.value, self.shown, self.values = value, shown, addresses.book.values
        self.expression = live_expression(self.values, value)
        self.spelling = Spelling(self.values, addresses.book.names)
        self.forms: dict[str, int] = {}
        self._like: dict[tuple, tuple[int, list]] = {}  # what decides on the form of a row -> its form, and what stands in it

    def in_words(self, ids: tuple[str, ...]) -> str:
        """The row of one element as plain text."""
        return notation.text(self.value.id, self.spelling.of(self.expression, dict(zip(self.value.axes, ids))), numbers_put_in(self.values, self.shown))

    def rows(self) -> Iterator[tuple]:
        """The row of each element. Where no other items come in, elements of the same arms and with numbers of the same signs have the same form."""
        nodes = tuple(ast.walk(self.expression))
        if any(isinstance(node, ast.Call) and node.func.id in (*REDUCTIONS, "pick") for node in nodes):
            return map(self._by_itself, self.value.elements())
        return self._alike([node.test for node in nodes if isinstance(node, ast.IfExp)])

    def _by_itself(self, ids: tuple[str, ...]) -> tuple:
        """The row of an element whose sums, governing items and references may be others than those of its neighbours."""
        expression = self.spelling.of(self.expression, dict(zip(self.value.axes, ids)))
        key, names = self._pattern(expression)
        if key not in self._like:
            form, placed = self._written(ids, expression)
            self._like[key] = form, [names.index(name) for name in placed]
        form, found = self._like[key]
        return (form, *[_inside(self._text(names[place])) for place in found])

    def _pattern(self, expression: ast.expr) -> tuple[tuple, list[str]]:
        """What decides on the form of an expression at an element, and the names in it."""
        key, names, first, todo = [], [], {}, [expression]
        while todo:
            node = todo.pop()
            if isinstance(node, ast.Name):
                names.append(node.id)
                key += (node.id.partition(".")[0], first.setdefault(node.id, len(first)), "." in node.id and _manner(self._text(node.id)))
            elif isinstance(node, ast.BinOp):
                key.append(type(node.op))
                todo += (node.left, node.right)
            elif isinstance(node, ast.Constant):
                key.append(node.value)
            else:
                key.append(type(node))
                todo += ast.iter_child_nodes(node)
        return tuple(key), names

    def _alike(self, tests: list[ast.expr]) -> Iterator[tuple]:
        columns, arms = self._columns(), [self._arms(test) for test in tests]
        signs = zip(*[map(_manner, column) for column in columns.values()]) if columns else repeat(())
        bare = {term: [_inside(text) for text in column] for term, column in columns.items()}
        for place, (ids, signed) in enumerate(zip(self.value.elements(), signs)):
            key = (*[verdicts[place] for verdicts in arms], *signed)
            if key not in self._like:
                form, names = self._written(ids, self.spelling.of(self.expression, dict(zip(self.value.axes, ids))))
                self._like[key] = form, [bare[name.partition(".")[0]] for name in names]
            form, found = self._like[key]
            yield (form, *[column[place] for column in found])

    def _columns(self) -> dict[str, list[str]]:
        """Of each input what stands for it in the row of every element."""
        found = {}
        for one in [self.values[name] for name in names_in(self.expression) if name in self.values]:
            if set(one.axes) <= set(self.value.axes):
                texts = self.shown.column(one)
                found[one.id] = [texts[place] for place in self._spread(np.arange(len(texts)).reshape(np.shape(one.number)), one.axes)]
        return found

    def _arms(self, test: ast.expr) -> list:
        """What a condition comes to at every element."""
        found, axes = self.spelling.whole(test)
        return self._spread(np.asarray(found), axes) if found is not None and set(axes) <= set(self.value.axes) else [None] * len(self.value.elements())

    def _spread(self, numbers: np.ndarray, axes: tuple[str, ...]) -> list:
        """Numbers over some of the axes of the value, for each of its elements."""
        shape = np.shape(self.value.number)
        ordered = numbers.transpose([axes.index(axis) for axis in self.value.axes if axis in axes])
        along = ordered.reshape([length if axis in axes else 1 for axis, length in zip(self.value.axes, shape)])
        return np.broadcast_to(along, shape).ravel().tolist()

    def _written(self, ids: tuple[str, ...], expression: ast.expr) -> tuple[int, list[str]]:
        """Which form the row of an element has, and the names of what stands in it, as in "load_demand_power.pump"."""
        if notation.is_quantity(expression):
            return self._form(because(why_constant(self.values, self.value, dict(zip(self.value.axes, ids)), self.spelling))), []
        letters: dict[str, str] = {}

        def named(value: Value, ids: Sequence[str]) -> str:
            """A place of the length of its number, with its sign, which decides on brackets."""
            text = self.shown(value, ids)
            letter = letters.setdefault(".".join((value.id, *ids)), chr(FIRST_LETTER + len(letters)))
            return f"{'−' if text[:1] == '−' else ''}{PLACE}{letter * max(1, len(text.removeprefix('−')) - 1)}"

        maths = compact(notation.mathml(self.value.id, expression, numbers_put_in(self.values, named)))
        names = {letter: name for name, letter in letters.items()}
        return self._form(NAMED.sub(PLACE, maths)), [names[letter] for letter in NAMED.findall(maths)]

    def _form(self, written: str) -> int:
        return self.forms.setdefault(written, len(self.forms))

    def _text(self, name: str) -> str:
        term_id, *ids = name.split(".")
        return self.shown(self.values[term_id], ids)


def _manner(text: str) -> str:
    """What of a number's text decides on the form of its row: a sign asks for brackets, words have no unit."""
    return text[:1] if text[:1] in "−nd" else ""  # "not given", "does not exist"


def _inside(text: str) -> str:
    return safe(text.removeprefix("−"))

