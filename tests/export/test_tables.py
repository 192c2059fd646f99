"""Tables of a book as CSV, as a spreadsheet reads them, held against the text of the demo projects; and the calendar of a whole book."""

import csv
import io
from datetime import date

import pytest
from conftest import SLUGS
from icalendar import Calendar
from pytest import approx
from stranger import changed, pages

from basis.export.calendar import book_calendar
from basis.export.files import data_files
from basis.export.tables import tables

HOSPITAL = "larkmere-hospital"


def read(text: str) -> list[dict]:
    assert text.startswith("\ufeff")  # else spreadsheets misread m³
    rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline="")))
    assert len(set(rows[0])) == len(rows[0]) and all(len(row) == len(rows[0]) for row in rows)
    return [dict(zip(rows[0], row)) for row in rows[1:]]


@pytest.fixture(scope="module")
def told(books):
    return {slug: {name: read(text) for name, text in tables(books[slug], pages(books[slug])).items()} for slug in SLUGS}


def test_numbers_of_the_text_stand_in_the_units_shown(told):
    # figures of projects/larkmere-hospital as typed
    openings = {row["opening"]: row for row in told[HOSPITAL]["list-openings.csv"]}
    north = openings["intake_north"]
    assert north["name of opening"] == "North intake louvre" and north["gross_area [m²]"] == "45" and north["free_area_ratio [%]"] == "48"
    values = {row["id"]: row for row in told[HOSPITAL]["values.csv"]}
    hottest = values["outdoor_temperature_max"]
    assert (float(hottest["value"]), hottest["unit"]) == (approx(34), "°C")
    assert (float(hottest["US value"]), hottest["US unit"]) == (approx(34 * 1.8 + 32), "°F")
    assert values["status_date"]["value"] == "2028-11-20"


@pytest.mark.parametrize("slug", SLUGS)
def test_every_value_stands_once_with_every_item(books, told, slug):
    book = books[slug]
    listed = {row["id"]: row for row in told[slug]["columns.csv"]}
    plain = {row["id"] for row in told[slug]["values.csv"]}
    assert plain | set(listed) == set(book.values) and not plain & set(listed)
    for name, rows in told[slug].items():
        if name.startswith("list-"):
            ids = [head.split(" [")[0] for head in rows[0] if head.split(" [")[0] in listed] if rows else []
            for value_id in ids:
                assert listed[value_id]["table"] == name and len(rows) == book[value_id].number.size
    checks = {row["check"]: row["verdict"] for row in told[slug]["checks.csv"]}
    assert checks == {one.check.id: one.word for one in book.checks}
    inputs = [(row["id"], row["element"]) for row in told[slug]["inputs.csv"]]
    assert len(inputs) == sum(len(value.givens) for value in book.values.values()) and all(row["line"] for row in told[slug]["inputs.csv"])


def test_no_text_of_a_project_runs_as_a_formula(tmp_path):
    book = changed(tmp_path, HOSPITAL, "ventilation.yaml", "name: North intake louvre", "name: '=HYPERLINK(\"http://x\")'")
    rows = read(tables(book, pages(book))["list-openings.csv"])
    assert rows[0]["name of opening"] == "'=HYPERLINK(\"http://x\")"


def test_the_calendar_has_the_days_of_the_book_and_not_the_day_it_counts_to(books):
    text = book_calendar(books[HOSPITAL])
    events = {str(event["UID"]): event.decoded("DTSTART") for event in Calendar.from_ical(text).walk("VEVENT")}
    assert events[f"task_due.fuel_sample@{HOSPITAL}"] == date(2028, 10, 18)  # six months from 18 April
    assert f"status_date@{HOSPITAL}" not in events and len(events) > 40


def test_the_same_book_gives_the_same_bytes(books):
    book = books["cobble-key-exchange"]
    assert data_files(book, pages(book)) == data_files(book, pages(book))
