"""The three rules of a table and what lies outside it, on the NEC code letters and on tables made here."""

import math

import numpy as np
import pytest

from basis.language import table as tables
from basis.language.faults import OutOfTable
from basis.language.table import Table, lookup

LADDER = Table("ladder", "physics", "", "size", "next_up", {"size": "mm^2", "amps": "A"}, {"size": (1e-6, 2e-6, 4e-6), "amps": (10.0, 18.0, 30.0)})
CURVE = Table("curve", "physics", "", "x", "interpolate", {"x": "1", "y": "1"}, {"x": (0.0, 1.0, 3.0), "y": (5.0, 7.0, 1.0)})
NAMED = Table("named", "physics", "", "size", "exact", {"size": "text", "amps": "A"}, {"size": ("4/0 AWG", "500 kcmil"), "amps": (230.0, 380.0)})


@pytest.mark.parametrize("key, amps", [(0.5e-6, 10), (1e-6, 10), (1.0001e-6, 18), (2e-6, 18), (4e-6, 30)])
def test_next_size_up(key, amps):
    assert LADDER.value("amps", key) == amps


@pytest.mark.parametrize("key, y", [(0, 5), (0.5, 6), (1, 7), (2, 4), (3, 1)])
def test_straight_line_between_rows(key, y):
    assert CURVE.value("y", key) == pytest.approx(y)


@pytest.mark.parametrize("table, key", [(LADDER, 4.1e-6), (CURVE, -0.1), (CURVE, 3.01), (NAMED, "600 kcmil")])
def test_outside_is_refused_never_the_end_value(table, key):
    with pytest.raises(OutOfTable) as refused:
        table.value(list(table.columns)[1], key)
    assert refused.value.expected


def test_exact_text_names_the_nearest():
    with pytest.raises(OutOfTable) as refused:
        NAMED.value("amps", "500 kcml")
    assert refused.value.nearest == "500 kcmil"


def test_lookup_of_arrays_in_real_tables():
    # NEC Table 430.7(B), letter G: 5.6 to 6.29 kVA a horsepower; H: to 7.09 (read in a reproduction)
    found = lookup("nec-code-letters", "apparent_power_per_horsepower", np.array(["G", "H"], dtype=object)) * 745.69987 / 1000
    assert found == pytest.approx([6.29, 7.09], rel=1e-3)


def test_every_table_loads_and_its_keys_rise():
    for path in tables.heads().values():
        used = tables.table(path.stem)
        assert used.keys and all(len(column) == len(used.keys) for column in used.columns.values()), path.stem
        assert not any(isinstance(key, float) and math.isnan(key) for key in used.keys), path.stem


def test_tables_of_a_family_have_the_same_columns():
    for family, ids in tables.families().items():
        if family:
            heads = {tuple(sorted(tables.table(table_id).units.items())) for table_id in ids}
            assert len({tuple(name for name, _ in head) for head in heads}) == 1, f"{family}: {heads}"


def test_a_head_that_does_not_fit_its_rows_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(tables, "heads", lambda: {"bad": tmp_path / "bad.yaml"})
    (tmp_path / "bad.csv").write_text("a,b\n2,1\n1,2\n")
    (tmp_path / "bad.yaml").write_text("source: physics\nkey: a\ncolumns: {a: '1', b: '1'}\nrule: next_up\n")
    with pytest.raises(ValueError, match="must rise"):
        tables.table.__wrapped__("bad")
    (tmp_path / "bad.yaml").write_text("source: physics\nkey: a\ncolumns: {a: '1', c: '1'}\nrule: next_up\n")
    with pytest.raises(ValueError, match="do not fit"):
        tables.table.__wrapped__("bad")
