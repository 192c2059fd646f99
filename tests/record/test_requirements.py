"""What answers each requirement: verdicts and numbers as they stand, and in words what is not answered."""

from dataclasses import replace

import pytest
from small_project import written

import basis
from basis.record.requirements import NO_VERDICT, UNANSWERED, answers, tallies

ONE = "requirements:\n  - {id: R-1, code: Brief, text: It is so., %s}\n"


def book_of(folder, text, *edits):
    place = written(folder, *edits)
    (place / "asked.yaml").write_text(text, "utf-8")
    return basis.load(place)


def answer_of(folder, how, *edits):
    (one,) = answers(book_of(folder, ONE % how if how else ONE.replace(", %s", ""), *edits))
    return one


def test_a_check_gives_its_verdict_and_margin(tmp_path):
    # 40 h of tests against 50 h allowed leave 10 h, a fifth of the limit
    one = answer_of(tmp_path, "check: test_hours")
    assert (one.word, one.verdict.margin_text, one.chapter.id, one.answered) == ("holds", "+20 %", "plant", True)


def test_a_failing_check_says_so_and_is_an_answer(tmp_path):
    one = answer_of(tmp_path, "check: test_hours", ("tests: {value: 40 h", "tests: {value: 60 h"))  # a fifth of 50 h too many
    assert (one.word, one.verdict.margin_text, one.answered) == ("fails", "−20 %", True)


def test_what_is_not_given_leaves_it_unanswered_and_is_named(tmp_path):
    one = answer_of(tmp_path, "check: test_hours", ("test_hours_max: 50 h\n", ""))
    assert one.word == "undecided" and not one.answered and "test_hours_max" in one.why
    one = answer_of(tmp_path, "value: test_hours_max", ("test_hours_max: 50 h\n", ""))
    assert one.word == UNANSWERED and not one.answered


@pytest.mark.parametrize("how, words", [
    ("value: altitude", "a number is shown"), ("chapter: plant", "the chapter describes it"), ("statement: It is so.", "stated by the project")])
def test_what_is_no_check_is_no_verdict(tmp_path, how, words):
    one = answer_of(tmp_path, how)
    assert one.word == NO_VERDICT and one.why.startswith(words) and one.answered


@pytest.mark.parametrize("how, words", [
    ("", "nobody has said yet"), ("check: noise_limit", "this book has no chapter on noise"), ("chapter: fuel", "this book has no chapter on fuel"),
    ("value: daily_fuel", "this book has no chapter on fuel"), ("value: code_title", "not part of this design")])
def test_what_nothing_answers_says_so(tmp_path, how, words):
    one = answer_of(tmp_path, how)
    assert one.word == UNANSWERED and one.why.startswith(words) and not one.answered, one


def test_a_code_of_the_list_lends_title_and_edition(tmp_path):
    codes = "codes:\n  - {id: brief, code_title: Estates brief, code_edition: second}\n"
    text = codes + (ONE % "chapter: plant").replace("Brief", "brief") + "  - {id: R-2, code: brief, edition: first, text: And so., chapter: plant}\n"
    assert [(one.code, one.edition) for one in answers(book_of(tmp_path, text))] == [("Estates brief", "second"), ("Estates brief", "first")]


def test_they_stand_by_chapter_and_code_and_are_counted(tmp_path):
    text = ("requirements:\n  - {id: R-1, code: Z, text: A., statement: B.}\n  - {id: R-2, code: B, text: A., check: test_hours}\n"
            "  - {id: R-3, code: A, text: A.}\n  - {id: R-4, code: A, text: A., chapter: plant}\n"
            "questions:\n  - {id: Q-1, date: 2026-01-02, role: inspector, about: test_hours, text: A., state: open}\n"
            "  - {id: Q-2, date: 2026-01-02, role: inspector, about: altitude, text: A., answer: B., state: answered}\n")
    book = book_of(tmp_path, text)
    assert [one.requirement.id for one in answers(book)] == ["R-4", "R-2", "R-3", "R-1"]
    assert tallies(book) == {"requirements": {"listed": 4, "open": ["R-3"]}, "questions": {"listed": 2, "open": ["Q-1"]}}
    assert [one.id for one in book.open_questions_of("plant")] == ["Q-1"]
    assert [one.id for one in book.asked_of("test_hours")] == ["Q-1", "R-2"] and book.asked_of("altitude") == ()


def test_a_number_over_an_empty_list_is_no_answer(books):
    book = books["cobble-key-exchange"]
    assert book["heat_source_length"].items == ((),)  # no other source of heat stands in that room
    asked = replace(book.project.requirements[0], check="", value="heat_source_length")
    (one,) = answers(replace(book, project=replace(book.project, requirements=(asked,))))
    assert (one.word, one.why) == (UNANSWERED, "the project lists nothing that has it")
