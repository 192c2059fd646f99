"""The text of a record: read back as written, and refused where somebody or something has touched it."""

import dataclasses
from hashlib import sha256

import pytest
from small_project import issued, record, written

from basis.language.faults import Faults
from basis.record.issued import Head, is_day, read_record, records_of, text_of


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
    ("record,2", "record,1", ": was written in form 1 by another version of the program; expected form 2"),
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
