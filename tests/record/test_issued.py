"""The text of a record: read back as written, and refused where somebody or something has touched it."""

import dataclasses
from hashlib import sha256
from math import inf, isnan, nan

import numpy as np
import pytest
from small_project import issued, record, written

from basis.language.faults import Faults
from basis.record.issued import Head, Part, in_full, is_day, read_record, records_of, text_of
from basis.record.issuing import record_of


def sealed_again(path, old: str, new: str) -> None:
    """Change a line and forge the seal, as somebody might who knows how."""
    lines = path.read_text("utf-8").rpartition("seal,")[0].replace(old, new, 1)
    path.write_text(f"{lines}seal,{sha256(lines.encode()).hexdigest()}\n", "utf-8")


def told(path) -> str:
    with pytest.raises(Faults) as found:
        read_record(path)
    (fault,) = found.value.faults
    assert fault.file == path.as_posix() and fault.expected
    return str(fault).removeprefix(path.as_posix())


def test_reads_back_what_was_written(tmp_path):
    path = issued(written(tmp_path))
    have = read_record(path)
    assert text_of(have) == path.read_text("utf-8")
    assert have.head == Head("pump-house", "Pump house", have.head.program, have.head.text, "A", "1", "2026-03-02", "for approval")
    assert have == dataclasses.replace(record(tmp_path), head=have.head)


def test_every_demo_reads_back_as_it_was_made(books, tmp_path):
    for slug, book in books.items():
        have = record_of(book, "A", "1", "2026-03-02", "for approval")
        path = tmp_path / slug / "issued" / "A.csv"
        path.parent.mkdir(parents=True)
        path.write_text(text_of(have), "utf-8")
        assert read_record(path) == have


def test_numbers_are_the_shortest_text_of_the_same_float():
    # NumPy's Dragon4 finds the shortest digits that tell a float from its neighbours; 2^53 + 2 and the least and largest float are of IEEE 754.
    known = {0.1 + 0.2: "0.30000000000000004", -0.0: "0", 3.0: "3", -1.5: "-1.5", 2.0**53 + 2: "9007199254740994", 1e-5: "1e-05", inf: "inf"}
    assert {number: in_full(number) for number in known} == known and isnan(float(in_full(nan)))
    drawn = np.random.default_rng(3).integers(0, 2**64, 2000, dtype=np.uint64).view(float)
    for number in [*drawn[np.isfinite(drawn)], 5e-324, 1.7976931348623157e308, 294.84999999999997]:
        text = in_full(number)
        assert float(text) == number
        assert len(digits_of(text)) == len(digits_of(np.format_float_scientific(number, unique=True, trim="-"))), text


def digits_of(number: str) -> str:
    return number.lstrip("-").partition("e")[0].replace(".", "").strip("0")


@pytest.mark.parametrize("shown, number, left", [
    ("−1.50", "-1.5", ""), ("13\u202f800", "13800", ""), ("0", "0", ""), ("2018", "2018", ""), ("quoted", "quoted", ""),
    ("0.30", "0.30000000000000004", "0.30000000000000004"), ("50.0", "0.5", "0.5"), ("from memory", "from_memory", "from_memory"), ("not given", "nan", "nan"),
    ("2.09 × 10⁻⁵", "2.09e-05", "2.09e-05"), ("0 | −2.0", "0 -2", ""), ("0 | −2.0", "0 -2.0000000000000004", "0 -2.0000000000000004"),
    ("a | b", "a | b", "a | b"),
])
def test_a_number_is_left_out_where_the_shown_one_is_all_of_it(tmp_path, shown, number, left):
    have = record(tmp_path)
    pressure = have.values["air_pressure"]._replace(over="case", shown="", number="")
    have = dataclasses.replace(have, head=Head("pump-house", "Pump house", "1", "x", "A", "1", "2026-03-02", "for approval"),
                               values={**have.values, "air_pressure": pressure}, parts={"air_pressure": (Part("one", shown, number, note="as read"),)})
    path = issued(tmp_path / "pump-house")
    path.write_text(text_of(have), "utf-8")
    assert f"\n,one,{shown},{left},,,as read\n" in path.read_text("utf-8") and read_record(path) == have


def test_every_line_is_sealed(tmp_path):
    # The seal is the plain SHA-256 of everything above it: any tool for it, such as sha256sum, comes to the same.
    text = issued(written(tmp_path)).read_text("utf-8")
    lines, _, seal = text.rpartition("seal,")
    assert seal == sha256(lines.encode("utf-8")).hexdigest() + "\n"


def test_a_changed_number_breaks_the_seal(tmp_path):
    path = issued(written(tmp_path))
    path.write_text(path.read_text("utf-8").replace("70.0 h", "60.0 h").replace("for approval", "for construction"), "utf-8")
    assert told(path).startswith(": was changed after it was issued: the seal does not fit")


def test_line_ends_of_another_system_do_not_break_it(tmp_path):
    path = issued(written(tmp_path))
    have = read_record(path)
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert read_record(path) == have


@pytest.mark.parametrize("share", [0.3, 0.7, 0.999])
def test_half_written(tmp_path, share):
    path = issued(written(tmp_path))
    data = path.read_bytes()
    path.write_bytes(data[:int(len(data) * share)].decode("utf-8", "ignore").encode())
    assert "is half-written: the last line is no seal" in told(path)


def test_what_is_no_record(tmp_path):
    path = issued(written(tmp_path))
    for data, words in ((b"", "is no issued record"), (b"value,1\n", "is no issued record"), (b"\xff\xfe\x00", "is not text in UTF-8")):
        path.write_bytes(data)
        assert words in told(path)
    path.unlink()
    assert ": is not there" in told(path)


def test_record_of_another_project(tmp_path):
    path = issued(written(tmp_path))
    other = written(tmp_path, name="boiler-house") / "issued" / "A.csv"
    other.parent.mkdir()
    path.rename(other)
    assert told(other) == ": is a record of project 'pump-house'; expected one of 'boiler-house'"


@pytest.mark.parametrize("old, new, words", [
    ("date,2026-03-02", "date,2026-02-30", ": its date '2026-02-30' is none; expected a day such as 2026-11-20"),
    ("date,2026-03-02", "date,", ": does not say its date"),
    ("number,1", "number,one", ": its number 'one' is none"),
    ("record,3", "record,1", ": was written in form 1 by another version of the program; expected form 2 or 3"),
    ("record,3", "record,4", ": was written in form 4 by another version of the program; expected form 2 or 3"),
    ("given,altitude,", "value,altitude,", ": is no line of a record: value,altitude"),  # as the form before began it
    ("given,altitude,0 m,", "given,altitude,0 m,0,m,1,2,3,4,5,6,7,8,9,10,", ": is no line of a record: given,altitude,0 m"),
    ("chapter,plant", "chaptre,plant", ": is no line of a record: chaptre,plant"),
    ("chapter,plant,", "chapter,plant,1,2,", ": is no line of a record: chapter,plant,1,2"),
])
def test_forged_lines(tmp_path, old, new, words):
    path = issued(written(tmp_path))
    sealed_again(path, old, new)
    assert words in told(path)


def test_records_of_a_folder_stand_in_order_of_issue(tmp_path):
    place = written(tmp_path)
    assert records_of(place) == ()
    for revision in ("B", "A", "0"):  # an index says nothing about the order
        issued(place, revision)
    assert [have.head.revision for have in records_of(place)] == ["B", "A", "0"]


def test_same_revision_twice(tmp_path):
    place = written(tmp_path)
    path = issued(place)
    path.with_name("A copy.csv").write_bytes(path.read_bytes())
    with pytest.raises(Faults, match=r"A copy.csv: holds revision A; expected one record a revision, in A.csv"):
        records_of(place)


def test_two_issued_side_by_side(tmp_path):
    here, there = written(tmp_path / "here"), written(tmp_path / "there")
    issued(here)
    issued(there, "B").rename(here / "issued" / "B.csv")
    with pytest.raises(Faults, match="B.csv: is issue 1 of the project, and so is A.csv"):
        records_of(here)


def test_an_issue_that_is_gone_from_among_the_others_is_told(tmp_path):
    """What changed from A to C would else be told as one step, and nobody would miss what was given out in between."""
    place = written(tmp_path)
    lost = [issued(place, revision) for revision in "ABC"][1]
    lost.unlink()
    with pytest.raises(Faults, match=r"issued: issue 2 is gone, though issue 3 is there \(C.csv\); expected every record that was issued"):
        records_of(place)


def test_all_faults_at_once(tmp_path):
    place = written(tmp_path)
    paths = [issued(place, revision) for revision in "AB"]
    for path in paths:
        path.write_text(path.read_text("utf-8")[:400], "utf-8")
    with pytest.raises(Faults) as found:
        records_of(place)
    assert [fault.file for fault in found.value.faults] == [path.as_posix() for path in paths]


@pytest.mark.parametrize("text, word", [("2024-02-29", True), ("2026-02-29", False), ("2026-13-01", False), ("2026-00-10", False), ("0000-01-01", False),
                                        ("2026-1-1", False), ("20.11.2026", False), ("", False)])
def test_days(text, word):
    assert is_day(text) is word
