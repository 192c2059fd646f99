"""From a book to its record: all that was issued, and never over what is there."""

from pathlib import Path

import numpy as np
import pytest
from small_project import issued, record, written

import basis
from basis.language.faults import Faults
from basis.record.issued import Role, read_record
from basis.record.issuing import issue, record_of, values_that_prove

ROOT = Path(__file__).parents[2]


def test_numbers_stand_in_full_with_unit_and_words(tmp_path):
    have = record(tmp_path, ("value: 0 m", "value: 1000 m"))
    # ISO 2533 / ICAO Doc 7488, table at 1000 m of geopotential: 898.746 hPa.
    pressure = have.values["air_pressure"]
    assert float(pressure.number) == pytest.approx(89_874.6, abs=0.06) and pressure.unit == "Pa" and pressure.shown == "89.87 kPa"
    solved = basis.load(written(tmp_path, ("value: 0 m", "value: 1000 m")))["air_pressure"].number
    assert float(pressure.number) == solved
    assert pressure.origin == "formula" and pressure.standing.startswith("assumed") and "altitude" in pressure.inputs.split()
    assert have.values["altitude"].note == "harbour wall" and have.values["altitude"].standing == "assumed – confirm"
    # By hand: 40 h of tests and 30 h of outages.
    assert float(have.values["running_hours_per_year"].number) == 70 * 3600
    assert [(check.verdict, check.value) for check in have.checks.values()] == [("holds", "40.0 h")]


def test_what_proves_the_program_is_no_part_of_the_plant(books):
    book = books["larkmere-hospital"]
    have = record_of(book)
    proving = {verdict.check.value for verdict in book.self_tests} - set(have.values)
    assert "fan_balance_error" in proving and "fan_balance_error" not in have.values  # in Pa, some 1e-11: it moves with every number
    asked = {name for value in have.values.values() for name in value.inputs.split()} | {name for check in have.checks.values() for name in check.sides.split()}
    assert not proving & asked and all(not book.values[name].givens for name in proving)  # what somebody gave is never left out


def test_nought_has_no_sign_and_a_number_all_its_digits(tmp_path):
    have = record(tmp_path, ("hours_per_year_tests: {value: 40 h", "hours_per_year_tests: {value: 50 h"), ("34 degC", "21.7 degC"))
    # 21.7 and 273.15 have no exact float; the sum of the nearest ones rounds to 294.84999999999997 (IEEE 754, to nearest).
    assert have.checks["test_hours"].margin == "0" and have.values["outdoor_temperature_max"].number == "294.84999999999997"


def test_the_same_book_gives_the_same_bytes(tmp_path):
    texts = [issued(written(tmp_path / name)).read_bytes() for name in ("one", "two")]
    assert texts[0] == texts[1]


def test_what_has_not_moved_is_taken_from_the_record_before(tmp_path):
    before = record(tmp_path)
    book = basis.load(written(tmp_path, ("hours_per_year_outages: 30 h", "hours_per_year_outages: 37 h")))
    now = record_of(book, before=before)
    assert now == record_of(book)
    assert now.values["running_hours_per_year"].number == "277200"  # s: 40 h of tests and 37 h
    assert {value_id for value_id in now.values if now.values[value_id] is not before.values[value_id]} == {"hours_per_year_outages", "running_hours_per_year"}


def test_every_value_and_element_stands_in_it(books):
    for book in books.values():
        have = record_of(book)
        proving = values_that_prove(book)
        assert set(have.values) == set(book.values) - proving and set(have.checks) == {verdict.check.id for verdict in book.checks}
        for value in book.values.values():
            if value.id in proving or "hour" in value.axes or value.term.is_text:
                continue
            numbers = [float(number) for part in have.parts[value.id] for number in part.number.split()] if have.parts.get(value.id) else []
            issued_numbers = numbers if value.axes else [float(have.values[value.id].number)]
            np.testing.assert_array_equal(issued_numbers, np.ravel(value.number), err_msg=value.id)
            assert sum(len(part.shown.split(" | ")) for part in have.parts.get(value.id, ())) == (np.size(value.number) if value.axes else 0)


def test_a_note_stays_one_line_and_runs_nothing(tmp_path):
    path = issued(written(tmp_path, ('note: "harbour wall"', 'note: "=1+1\\n, \\"two\\" lines"')), note="first\nsecond")
    have = read_record(path)
    assert have.values["altitude"].note == "'=1+1 , \"two\" lines" and have.head.note == "first second"


@pytest.mark.parametrize("words, told", [
    ({"revision": "A"}, "revision A is issued already"),
    ({"revision": "a"}, "revision A is issued already"),
    ({"revision": "../B"}, "'../B' is no revision"),
    ({"revision": ""}, "'' is no revision"),
    ({"date": "2026-02-30"}, "the date '2026-02-30' is none"),
    ({"date": "2026-03-01"}, "the date 2026-03-01 lies before that of revision A, 2026-03-02"),
    ({"note": "  "}, "the note is empty"),
    ({"roles": (Role("prepard", "2026-03-02"),)}, "no role 'prepard'; expected prepared, checked, verified, approved; nearest: prepared"),
    ({"roles": (Role("checked", "tomorrow"),)}, "the date 'tomorrow' of 'checked' is none"),
    ({"roles": (Role("checked", "2026-03-04"),)}, "checked on 2026-03-04, after the issue of 2026-03-03"),
    ({"roles": (Role("approved", "2026-03-02"), Role("prepared", "2026-03-03"))}, "approved on 2026-03-02, before it was prepared on 2026-03-03"),
    ({"roles": (Role("prepared", "2026-03-02"), Role("prepared", "2026-03-02"))}, "prepared on 2026-03-02 stands twice"),
])
def test_what_cannot_be_issued(tmp_path, words, told):
    place = written(tmp_path)
    before = issued(place, date="2026-03-02").read_bytes()
    with pytest.raises(Faults) as found:
        issue(basis.load(place), **{"revision": "B", "date": "2026-03-03", "note": "for construction"} | words)
    assert told in str(found.value)
    assert [path.name for path in (place / "issued").iterdir()] == ["A.csv"] and (place / "issued" / "A.csv").read_bytes() == before


def test_a_book_bears_the_revision_as_which_it_is_issued(tmp_path):
    """Every page shows the revision of the text; where the text says none there is nothing to disagree with."""
    place = written(tmp_path, ("name: Pump house", 'name: Pump house\nrevision: "0"'))
    with pytest.raises(Faults, match="the text says that this book is revision 0; expected 'revision: 1' in the text, or revision 0 issued"):
        issued(place, revision="1")
    assert issued(place, revision="0").name == "0.csv"


def test_a_broken_record_is_told_before_the_next_issue(tmp_path):
    place = written(tmp_path)
    path = issued(place)
    path.write_text(path.read_text("utf-8").replace("holds", "tight"), "utf-8")
    with pytest.raises(Faults, match="was changed after it was issued"):
        issued(place, "B")


def test_nothing_half_written_is_left(tmp_path, monkeypatch):
    place = written(tmp_path)
    monkeypatch.setattr("basis.record.issuing.os.link", lambda *names: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    with pytest.raises(OSError):
        issued(place)
    assert list((place / "issued").iterdir()) == []


def test_the_folder_is_no_part_of_the_project(tmp_path):
    place = written(tmp_path)
    before = basis.load(place)
    issued(place)
    after = basis.load(place)
    assert after.project == before.project and record_of(after) == record_of(before)
