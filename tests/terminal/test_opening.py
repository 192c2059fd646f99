"""What `show` opens: values, checks, chapters, lists, tables and sources, with the numbers of a book or as the program has them."""

import json

import pytest
from click.testing import CliRunner
from conftest import ROOT

from basis.language.faults import Faults
from basis.language.table import heads
from basis.solving import solve as solve_module
from basis.terminal.cli import main
from basis.terminal.opening import book_to_open, opened, opened_project, shown_record

PROJECTS = ROOT / "projects"
HOSPITAL, EXCHANGE, WATERWORKS = "larkmere-hospital", "cobble-key-exchange", "high-tarn-waterworks"


def text(name, book=None, **more):
    return "\n".join(line for one in opened(name, book, **more) for line in one.lines)


def test_a_failing_check_has_value_limit_margin_remark_and_both_workings(books):
    book = books[WATERWORKS]
    verdict = next(one for one in book.checks if one.word == "fails" and one.remark and one.limit.producer)
    told = text(verdict.check.id, book)
    assert f"  fails at {verdict.element.replace('_', ' ')}: {verdict.value.text()} " in told and verdict.limit.text() in told
    assert f"{verdict.margin_words}" in told and f"  remark: {verdict.remark}" in told
    assert f"\n{verdict.value.id}: {verdict.value.term.name}\n" in told and f"\n{verdict.limit.id}: {verdict.limit.term.name}\n" in told
    assert told.count("\n  standing ") == 2 and f"  rests on what is {', '.join(verdict.marks)}" in told


def test_every_check_and_chapter_of_every_book_opens(books):
    for book in books.values():
        for verdict in (*book.checks, *book.self_tests):
            (first, *_) = opened(verdict.check.id, book)
            assert first.kind == "check" and first.record["verdict"] == verdict.word and verdict.check.title in first.lines[0]
            json.dumps(first.record, allow_nan=False)
        for chapter in book.chapters:
            json.dumps(shown_record(opened(chapter.id, book)), allow_nan=False)


def test_an_undecided_check_says_which_key_to_write_and_where(books):
    told, folder = text("autonomy_at_full_load", books[EXCHANGE]), books[EXCHANGE].project.folder
    assert "undecided: not given: autonomy required at full load (full_load_autonomy_min) in fuel.yaml" in told
    assert f"  write full_load_autonomy_min: a number with a unit such as h, in {folder}/fuel.yaml" in told
    assert f"  write day_periods: a list of items, each with an id, in {folder}/loads.yaml" in text("day_average", books[EXCHANGE])


def test_a_check_with_nothing_to_check_says_why(books):
    verdict = next(one for one in books[EXCHANGE].checks if one.word == "nothing to check")
    assert f"  nothing to check: {verdict.nothing_text}" in text(verdict.check.id, books[EXCHANGE])


def test_a_chapter_tells_its_verdicts_and_what_it_reads_from_others(books):
    book = books[HOSPITAL]
    (one,) = opened("ventilation", book)
    checks = book.checks_of("ventilation")
    assert [record["check"] for record in one.record["checks"]] == [verdict.check.id for verdict in checks]
    assert f"{sum(verdict.word == 'tight' for verdict in checks)} tight" in one.lines[1]
    assert "outdoor_temperature_max" in one.record["reads_from"]["plant"] and "ventilation" not in one.record["reads_from"]
    (other,) = opened("exhaust", book)
    assert other.record["read_by"]["ventilation"] == one.record["reads_from"]["exhaust"]


def test_a_value_names_its_checks_and_takes_digits(books):
    told = text("set_rated_current", books[HOSPITAL], digits=9)
    value = books[HOSPITAL]["set_rated_current"]
    assert f"{value.number:.9g}"[:8] in told.replace("\u202f", "")
    assert "  checked by opening_face: " in text("face_velocity", books[HOSPITAL])


def test_what_is_not_in_the_book_says_why(books):
    told = text("day_average_ratio", books[EXCHANGE])
    assert "undecided in cobble-key-exchange: not given: day_periods" in told and "x_pp = P_pp / P_r" in told and "checked by day_average" in told
    told = text("altitude")
    assert "key altitude in plant.yaml: a number with a unit such as m" in told and "range −430 m to 6\u202f000 m" in told and "used by" in told


def test_a_table_shows_its_rows_and_who_reads_it(books):
    book = books[WATERWORKS]
    # NEC Table 310.16, copper, 75 °C: 500 kcmil 380 A (NFPA 70-2020, read in a reproduction)
    (one,) = opened("nec-310-16-copper-75", book)
    assert any(line.split() == ["500", "kcmil", "380", "75", "30"] for line in one.lines) and "cable_tabulated_ampacity" in one.record["read_by"]
    for table_id in heads():
        json.dumps(shown_record(opened(table_id)), allow_nan=False)


def test_a_key_of_the_project_tells_the_fields_under_it():
    told = text("requirements")
    assert all(field in told for field in ("  id (must stand): ", "  clause: The clause.", "  check: The check that answers it."))
    assert "one of stated, assumed, measured" in text("standing") and "in a value, word" in text("standing")


def test_one_id_of_two_things_opens_both(books):
    record = shown_record(opened("recirculation", books[HOSPITAL]))
    assert (record["kind"], [one["kind"] for one in record["also"]]) == ("check", ["source"])
    assert "margin_shown" in record and record["also"][0]["how_known"]


def test_a_project_alone_tells_how_its_chapters_stand(books):
    one = opened_project(books[HOSPITAL])
    assert list(one.record["chapters"]) == [chapter.id for chapter in books[HOSPITAL].chapters] and books[HOSPITAL].still_open in one.lines[0]


def test_an_unknown_name_has_the_nearest_and_the_way_to_find_it(books):
    with pytest.raises(Faults) as found:
        opened("opening_fac", books[HOSPITAL])
    assert "nearest: opening_face" in str(found.value) and "see: basis find opening_fac" in str(found.value)
    with pytest.raises(Faults) as found:
        book_to_open(PROJECTS / HOSPITAL, option="generating_voltage_choice.low_volt")
    assert "nearest: generating_voltage_choice.low_voltage" in str(found.value)


@pytest.fixture
def run(monkeypatch):
    monkeypatch.chdir(ROOT)
    return lambda *words: CliRunner().invoke(main, ["show", *words])


def test_the_command_opens_with_and_without_a_project(run):
    assert "12  AWG" not in run("nec-310-16-copper-75").output and "12 AWG" in run("nec-310-16-copper-75").output
    assert run("altitude").exit_code == 0 and run("altitude", "--option", "a.b").exit_code == 2
    assert run(EXCHANGE).output.startswith("Cobble Key") and "  ventilation " in run(EXCHANGE).output
    facts = json.loads(run(EXCHANGE, "ventilation", "--json").output)
    assert facts["kind"] == "chapter" and {one["check"] for one in facts["checks"]} >= {"opening_face"}


@pytest.mark.parametrize("opened_id, option, attempts", [("ventilation_airflow", "", 1), ("set_rated_current", "generating_voltage_choice.low_voltage", 2)])
def test_no_option_is_solved_that_is_not_shown(monkeypatch, opened_id, option, attempts):
    solved, solve_one = [], solve_module._attempt
    monkeypatch.setattr(solve_module, "_attempt", lambda *given: solved.append(given[0]) or solve_one(*given))
    book = book_to_open(PROJECTS / HOSPITAL, opened_id, option)
    assert len(solved) == attempts
    whole = solve_module.load(PROJECTS / HOSPITAL)
    whole = whole.options[tuple(option.split("."))] if option else whole
    assert book[opened_id].digest == whole[opened_id].digest


def test_a_chapter_opens_in_an_option_too():
    done = CliRunner().invoke(main, ["show", HOSPITAL, "ventilation", "--option", "generating_voltage_choice.low_voltage", "--projects", str(PROJECTS)])
    assert done.exit_code == 0 and done.output.startswith("ventilation: ")
