"""How a value is known: tables that a procedure reads, rows from memory in a table that was read, elements of what is given."""

from dataclasses import replace
from pathlib import Path

import pytest

from basis.chapters import catalogue
from basis.language.compiled import remembered
from basis.language.formula import FormulaError, Procedure, procedure
from basis.language.sources import sources
from basis.language.table import Table, heads, table
from basis.reading.project import read
from basis.solving import case
from basis.solving import solve as solving

PROJECTS = Path(__file__).parents[2] / "projects"
SLUGS = ("larkmere-hospital", "high-tarn-waterworks", "cobble-key-exchange")


@pytest.fixture(scope="module")
def read_while_running():
    """Books of the demo projects, and ids of the tables that each procedure looked at while it ran."""
    seen: dict[str, set] = {}
    running: list[str] = []

    def watched(self, name):
        if running and name in ("columns", "value"):
            seen.setdefault(running[-1], set()).add(object.__getattribute__(self, "id"))
        return object.__getattribute__(self, name)

    def recorded(one, memory):
        run = remembered(one, memory)

        def wrapped(*arguments):
            running.append(one.id)
            try:
                return run(*arguments)
            finally:
                running.pop()
        return wrapped

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Table, "__getattribute__", watched)
        patch.setattr(case, "remembered", recorded)
        books = {slug: solving.solve(read(PROJECTS / slug)) for slug in SLUGS}
    return books, seen


def test_a_procedure_declares_every_table_that_it_reads(read_while_running):
    books, seen = read_while_running
    declared = {one.id: one for one in catalogue().producers.values() if isinstance(one, Procedure)}
    named = {name: {where for where, _ in declared[name].tables} for name in seen}
    assert {name: left for name, tables in seen.items() if (left := tables - named[name] - _chosen(books, named[name]))} == {}
    assert {name for name, one in declared.items() if one.tables} == set(seen)


def _chosen(books, named):
    """Tables that the Terms of these ids name in any option of any book."""
    every = [option for book in books.values() for option in (book, *book.options.values())]
    values = [book[name] for book in every for name in named if name in book]
    return {str(one) for value in values for one in (value.number.tolist() if value.axes else [value.number])}


def test_values_of_a_procedure_cite_the_tables_that_it_read(read_while_running):
    book = read_while_running[0]["larkmere-hospital"]
    value = book["cable_tabulated_ampacity"]
    assert {table(one).source for one in book["cable_ampacity_table"].number if one} <= set(value.source_ids)
    assert "from memory" in value.own_marks  # method E of IEC 60364-5-52 was not read by anybody here


def rating_of_nothing(band_frequency):
    """Nothing."""


def test_a_procedure_cannot_declare_what_is_no_table():
    with pytest.raises(FormulaError, match="no tables"):
        procedure(source="definition", equation="x", yields=("nc_rating",), tables={"nc-curves-2020": ""})(rating_of_nothing)


# ---- rows from memory ----

def test_only_the_row_that_was_not_read_is_from_memory():
    # the note of NEC Table 310.16: rows 14 to 8 AWG from memory
    ampacity = table("nec-310-16-copper-75")
    assert ampacity.is_unread("ampacity", "8 AWG") and not ampacity.is_unread("ampacity", "6 AWG")
    assert ampacity.is_unread("ampacity") and not table("nec-310-60-c75-35kv").is_unread("ampacity")
    assert [table("iso-8528-5-transient").is_unread(column, "G1") for column in ("voltage_rise", "voltage_dip")] == [True, False]
    assert [table("cable-assembly").is_unread("coefficient", cores) for cores in (5.0, 6.0, 25.0, 28.0)] == [False, True, False, True]  # next row: 7, 27, 30


def test_between_two_rows_one_from_memory_is_enough():
    freeze = Table("trial", "ieee-485", "", "temperature", "interpolate", {"temperature": "K", "factor": "1"},
                   {"temperature": (270.0, 280.0, 290.0), "factor": (1.4, 1.3, 1.1)}, unread=frozenset({("factor", 0)}))
    assert [freeze.is_unread("factor", key) for key in (270.0, 275.0, 280.0, 285.0, 250.0)] == [True, True, False, False, False]
    assert freeze.value("factor", 275.0) == pytest.approx(1.35)


@pytest.mark.parametrize("table_id", heads())
def test_what_a_note_tells_as_from_memory_its_cells_carry(table_id):
    one = table(table_id)
    told = "from memory" in one.note.lower() or "from memory" in sources()[one.source].note.lower()
    assert bool(one.unread) or not told or sources()[one.source].mark == "from memory" or table_id in NOTE_OF_ANOTHER


NOTE_OF_ANOTHER = ("ieee-1547-sync-window",)  # its source remembers that an older edition prints the same


def test_the_mark_of_a_row_follows_into_the_book(tmp_path):
    project = read(PROJECTS / "high-tarn-waterworks")
    marks = {}
    for size in ("6 AWG", "8 AWG"):
        given = replace(project.givens[("altitude", "")], term="starter_cable_size", data=size)
        chosen = replace(given, term="starter_cable_table", data="nec-ch9-table-8-copper")
        extra = {("starter_cable_size", ""): given, ("starter_cable_table", ""): chosen}
        book = solving.solve(replace(project, chapters=("plant", "loads", "starting"), remarks={}, givens=project.givens | extra))
        marks[size] = book["starter_cable_resistance_per_length"].own_marks
    assert marks == {"6 AWG": frozenset(), "8 AWG": {"from memory"}}


# ---- elements ----

def test_an_element_keeps_the_word_of_the_giver(read_while_running):
    books = read_while_running[0]
    over_a_fixed_list = [value for book in books.values() for value in book.values.values() if value.axes and not value.term.own_axes and value.givens]
    assert over_a_fixed_list
    for value in over_a_fixed_list:
        assert value.element(*value.elements()[1]).standing == value.givens[""].standing


def test_an_element_that_nobody_gave_is_a_default(read_while_running):
    value = read_while_running[0]["larkmere-hospital"]["load_demand_factor"]
    left_out = next(item for item, in value.elements() if item not in value.givens)
    assert value.element(left_out).standing == "default" and value.element(next(iter(value.givens))).standing == "stated"
