"""Table: rows of a published table, looked up by exact key, next size up, or interpolation; never outside its range.

Each table is two files in `tables` of its chapter, or of the room of physics where several read it: a YAML head (source, key, columns with units,
rule, family) and the rows as CSV in the units in which they were printed.
"""

from __future__ import annotations

import csv
import re
from bisect import bisect_left
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

import numpy as np
import yaml

from basis.language import units
from basis.language.faults import OutOfTable, nearest_name

ROOMS = Path(__file__).parent.parent
RULES = {"exact": "the row of that key", "next_up": "the first row that is not smaller", "interpolate": "straight line between two rows"}
FIRST_CLAUSE = re.compile(r"; |\. ")
SAME_KEY = 1e-3  # relative: 253.4 mm² is 500 kcmil


@dataclass(frozen=True)
class Table:
    """A table in SI. `columns` holds a tuple of numbers or texts a column; `keys` is the column searched."""

    id: str
    source: str
    family: str
    key: str
    rule: str
    units: dict
    columns: dict
    note: str = ""
    heading: str = ""  # of the head of the table, where its note does not begin with what it is
    unread: frozenset = frozenset()  # (column, place of the row) of cells from memory in a table that was read otherwise

    @property
    def title(self) -> str:
        """What the table is, for readers: its heading, the beginning of its note, or its id in words."""
        begun = FIRST_CLAUSE.split(self.note)[0].rstrip(".")
        return self.heading or (begun[:1].upper() + begun[1:] if begun else self.id.replace("-", " ").capitalize())

    @property
    def keys(self) -> tuple:
        """The key column."""
        return self.columns[self.key]

    def value(self, column: str, key):
        """One cell by the table's rule, in SI. Raises OutOfTable when the key is not covered."""
        cells, (low, *high) = self.columns[column], self.rows_used(key)
        if not high:
            return cells[low]
        return cells[low] + (cells[high[0]] - cells[low]) * (float(key) - self.keys[low]) / (self.keys[high[0]] - self.keys[low])

    def rows_used(self, key) -> tuple[int, ...]:
        """Places of the row, or of the two rows, to which a key leads. Raises OutOfTable when the key is not covered."""
        if self.units[self.key] == "text" or self.rule == "exact":
            return (self._exact(key),)
        index = bisect_left(self.keys, float(key) * (1 - 1e-9))
        if index == len(self.keys) or (self.rule == "interpolate" and float(key) < self.keys[0] * (1 - 1e-9)):
            raise OutOfTable(self.id, key, f"{self._shown(key)} is outside table '{self.id}'", f"{self._shown(self.keys[0])} to {self._shown(self.keys[-1])}")
        return (index,) if self.rule == "next_up" or index == 0 or self.keys[index] == key else (index - 1, index)

    def is_unread(self, column: str, key=None) -> bool:
        """Whether a cell to which the key leads is from memory, or without a key any cell of the column."""
        unread = {row for name, row in self.unread if name == column}
        try:
            return bool(unread) if key is None or not unread else not unread.isdisjoint(self.rows_used(key))
        except OutOfTable:
            return False

    def _exact(self, key) -> int:
        for index, have in enumerate(self.keys):
            if have == key or (not isinstance(have, str) and abs(have - float(key)) <= SAME_KEY * abs(have)):
                return index
        shown = [self._shown(have) for have in self.keys]
        raise OutOfTable(self.id, key, f"table '{self.id}' has no row {self._shown(key)}", ", ".join(shown[:20]), self._nearest(key))

    def _nearest(self, key) -> str:
        """The row whose number is nearest, or whose name is; sizes such as 16 mm² are names."""
        named = {self._shown(have): _number_and_rest(self._shown(have)) for have in self.keys}
        number, rest = _number_and_rest(self._shown(key))
        alike = {name: abs(have - number) for name, (have, unit) in named.items() if unit == rest and have == have}
        return min(alike, key=alike.get, default="") or nearest_name(self._shown(key), named)

    def _shown(self, key) -> str:
        unit = self.units[self.key]
        return str(key) if unit == "text" else f"{units.from_si(float(key), unit):.6g} {'' if unit == '1' else unit}".strip()

    def row_text(self, key) -> str:
        """The key as the reader sees it, with its unit."""
        return self._shown(key)


def _number_and_rest(text: str) -> tuple[float, str]:
    try:
        return units.split_number(text)
    except units.UnitError:
        return float("nan"), text


@lru_cache(maxsize=1)
def heads() -> dict[str, Path]:
    """Table id -> its head, in sorted order. Raises ValueError when two tables have one id."""
    paths = [*ROOMS.glob("physics/tables/*.yaml"), *ROOMS.glob("chapters/*/tables/*.yaml")]
    found = {path.stem: path for path in sorted(paths, key=lambda path: path.stem)}
    if len(found) < len(paths):
        raise ValueError(f"two tables have one id: {sorted(path.stem for path in paths if found[path.stem] != path)}")
    return found



@cache
def table(table_id: str) -> Table:
    """The table `table_id`. Raises ValueError for a head that does not fit its rows."""
    head_of = heads()
    head = yaml.load(head_of[table_id].read_text("utf-8"), Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    with head_of[table_id].with_suffix(".csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    if head["rule"] not in RULES or set(head["columns"]) != set(rows[0]) or head["key"] not in head["columns"]:
        raise ValueError(f"table '{table_id}': rule, key or columns of the head do not fit the rows {sorted(rows[0])}")
    columns = {name: tuple(_cell(row[name], unit) for row in rows) for name, unit in head["columns"].items()}
    if head["rule"] != "exact" and list(columns[head["key"]]) != sorted(columns[head["key"]]):
        raise ValueError(f"table '{table_id}': keys must rise")
    return Table(table_id, head["source"], head.get("family", ""), head["key"], head["rule"], head["columns"], columns, head.get("note", ""),
                 head.get("heading", ""), frozenset(_unread(table_id, head, [row[head["key"]] for row in rows])))


def _unread(table_id: str, head: dict, keys: list[str]):
    """Cells that the head tells as from memory, by column or `all` of them, and by the key of the row as printed or `all` of them."""
    for column, told in head.get("from_memory", {}).items():
        told = keys if told == "all" else list(map(str, told))
        if column not in (*head["columns"], "all") or not set(told) <= set(keys):
            raise ValueError(f"table '{table_id}': from_memory names a column or a row that is not there")
        columns = head["columns"] if column == "all" else [column]
        yield from ((name, keys.index(key)) for name in columns if name != head["key"] for key in told)


def _cell(text: str, unit: str):
    if unit == "text":
        return text.strip()
    have = units.unit(unit)
    return float(text) * have.factor + have.offset if text.strip() else float("nan")


@lru_cache(maxsize=1)
def families() -> dict[str, tuple[str, ...]]:
    """Ids of the tables of each family, in sorted order."""
    found: dict[str, list[str]] = {}
    for table_id in heads():
        found.setdefault(table(table_id).family, []).append(table_id)
    return {family: tuple(ids) for family, ids in found.items()}


def tables_of(table_or_family: str) -> tuple[Table, ...]:
    """The table of that id, or all tables of the family; none when there is no such thing."""
    found = (table_or_family,) if table_or_family in heads() else families().get(table_or_family, ())
    return tuple(table(table_id) for table_id in found)


def lookup(table_id, column: str, key, blank: bool = False):
    """Cell or, for arrays of keys or of table ids, array of cells, in SI. Raises OutOfTable; with `blank`, for samples, such a cell is NaN."""
    if isinstance(table_id, str) and not isinstance(key, np.ndarray):
        return _cell_of(table_id, column, key, blank)
    ids, keys = np.broadcast_arrays(np.asarray(table_id, dtype=object), np.asarray(key))
    return np.array([_cell_of(str(one or ""), column, each, blank) for one, each in zip(ids.ravel(), keys.ravel())]).reshape(keys.shape)


def _cell_of(table_id: str, column: str, key, blank: bool):
    if not table_id or key == "" or key != key:
        return float("nan")  # an item without a table or a key has no cell
    try:
        return table(table_id).value(column, key)
    except OutOfTable:
        if blank:
            return float("nan")
        raise
