"""Requirements and questions in project text: what is read, and each fault at its line with what was expected and the nearest name."""

import pytest

import basis
from basis.language.faults import Faults
from basis.reading.project import read

ASK = "questions:\n  - {id: Q-1, date: 2026-05-11, role: inspector, about: altitude, text: Why?, state: open}\n"
NEED = "requirements:\n  - {id: R-1, code: Brief, text: It runs., statement: It does.}\n"
CODE = "codes:\n  - {id: brief, code_title: Estates brief, code_edition: second}\n"


def folder_of(tmp_path, text):
    folder = tmp_path / "trial"
    folder.mkdir()
    (folder / "project.yaml").write_text("chapters: [plant]\n", "utf-8")
    (folder / "asked.yaml").write_text(text, "utf-8")
    return folder


def faults_of(call, folder):
    with pytest.raises(Faults) as found:
        call(folder)
    return found.value.faults


def test_entries_are_texts_with_their_place(tmp_path):
    folder = folder_of(tmp_path, NEED + ASK)
    (folder / "more.yaml").write_text(NEED.replace("R-1", "R-2").replace("It runs.", '"It runs\n      on."'), "utf-8")
    project = read(folder)
    assert [(one.id, one.text, one.statement, one.line) for one in project.requirements] == [("R-1", "It runs.", "It does.", 2),
                                                                                            ("R-2", "It runs on.", "It does.", 2)]
    (one,) = project.questions
    assert (one.id, one.date, one.role, one.about, one.state, one.answer) == ("Q-1", "2026-05-11", "inspector", "altitude", "open", "")
    assert one.file.endswith("asked.yaml") and one.line == 4


def test_a_project_without_either_has_none(tmp_path):
    project = read(folder_of(tmp_path, "altitude: 3 m\n"))
    assert project.requirements == () and project.questions == ()


def _by(how):
    return NEED.replace("statement: It does.", how)


CASES = {
    "no list": ("requirements: {}\n", 1, "keys with values stand here", ""),
    "an entry that is a word": ("questions:\n  - why\n", 2, "one value stands here", ""),
    "a key misspelt": (NEED.replace("statement", "statment"), 2, "unknown key 'statment' of requirement 'R-1'", "statement"),
    "without code": (NEED.replace("code: Brief, ", ""), 2, "requirement 'R-1' without code", ""),
    "without state": (ASK.replace(", state: open", ""), 2, "question 'Q-1' without state", ""),
    "an empty text": (NEED.replace("It runs.", "''"), 2, "'text' of requirement 'R-1' is empty", ""),
    "empty evidence": (_by("evidence: ''"), 2, "'evidence' of requirement 'R-1' is empty", ""),
    "an id of other signs": (NEED.replace("R-1", "R 1.2"), 2, "id 'R 1.2' of a requirement", "R_1_2"),
    "two answers": (NEED.replace("statement", "chapter: plant, statement"), 2, "requirement 'R-1' is answered by chapter and statement", ""),
    "one requirement twice": (NEED + NEED.split("\n")[1] + "\n", 3, "a requirement 'R-1' is given twice", "asked.yaml:2"),
    "one question twice": (ASK + ASK.split("\n")[1] + "\n", 3, "a question 'Q-1' is given twice", "asked.yaml:2"),
    "a date that is none": (ASK.replace("2026-05-11", "2026-02-30"), 2, "the date '2026-02-30' of question 'Q-1' is none", ""),
    "a date in another form": (ASK.replace("2026-05-11", "11 May 2026"), 2, "the date '11 May 2026' of question 'Q-1' is none", ""),
    "an unknown state": (ASK.replace("open", "opn"), 2, "state 'opn' of question 'Q-1'", "open"),
    "answered without an answer": (ASK.replace("open", "answered"), 2, "question 'Q-1' is answered and has no answer", ""),
    "open with an answer": (ASK.replace("state", "answer: So., state"), 2, "question 'Q-1' is open and has an answer", ""),
    "in an item": ("openings:\n  - {id: north, questions: []}\n", 2, "'questions' cannot stand in an item of openings", ""),
}


@pytest.mark.parametrize("case", CASES)
def test_what_is_wrong_in_an_entry_is_told(case, tmp_path):
    text, line, what, nearest = CASES[case]
    (fault,) = faults_of(read, folder_of(tmp_path, text))
    assert fault.line == line and fault.file.endswith("asked.yaml") and fault.what.startswith(what) and fault.nearest.endswith(nearest), fault


def test_all_faults_are_told_at_once(tmp_path):
    assert len(faults_of(read, folder_of(tmp_path, NEED.replace("R-1", "R 1") + ASK.replace("2026-05-11", "soon").replace("open", "opn")))) == 3


def test_a_fault_stands_at_the_line_of_its_key(tmp_path):
    text = "questions:\n  - id: Q-1\n    date: soon\n    role: inspector\n    about: altitud\n    text: Why?\n    state: open\n"
    assert [fault.line for fault in faults_of(read, folder_of(tmp_path, text))] == [3]


UNKNOWN = {
    "a check": (_by("check: test_hour"), "requirement 'R-1' is answered by unknown check 'test_hour'", "test_hours"),
    "a value": (_by("value: altitud"), "requirement 'R-1' is answered by unknown value 'altitud'", "altitude"),
    "a chapter": (_by("chapter: plants"), "requirement 'R-1' is answered by unknown chapter 'plants'", "plant"),
    "a check for a value": (_by("value: test_hours"), "requirement 'R-1' is answered by unknown value 'test_hours'", "test_hours_max"),
    "an item": (_by("value: code_title.brif") + CODE, "requirement 'R-1' is answered by 'code_title.brif', and 'brif' is not there", "brief"),
    "a part of a number": (_by("value: altitude.brief") + CODE, "requirement 'R-1' is answered by unknown element 'altitude.brief'", "altitude"),
    "a code": (NEED.replace("Brief", "brif") + CODE, "requirement 'R-1' is of unknown code 'brif'", "brief"),
    "what a question is about": (ASK.replace("altitude", "altitud"), "question 'Q-1' is about unknown value or check 'altitud'", "altitude"),
    "the check of a question": (ASK.replace("altitude", "test_hour"), "question 'Q-1' is about unknown value or check 'test_hour'", "test_hours"),
}


@pytest.mark.parametrize("case", UNKNOWN)
def test_what_is_not_there_is_told_with_the_nearest(case, tmp_path):
    text, what, nearest = UNKNOWN[case]
    folder = folder_of(tmp_path, "altitude: 3 m\n" + text)
    (fault,) = [fault for fault in faults_of(basis.load, folder) if fault.file.endswith("asked.yaml")]
    assert fault.line == 3 and fault.what == what and fault.nearest == nearest and fault.expected, fault


def test_a_self_test_answers_no_requirement(tmp_path):
    folder = folder_of(tmp_path, _by("check: supplied_sets_not_above_installed_sets"))
    (fault,) = [fault for fault in faults_of(basis.load, folder) if fault.file.endswith("asked.yaml")]
    assert "unknown check" in fault.what
