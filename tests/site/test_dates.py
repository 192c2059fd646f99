"""Days of a plan as a calendar file, read back by a general library; the rules of RFC 5545 for its lines."""

from datetime import UTC, date, datetime

import pytest
from demos import demo_copy
from icalendar import Calendar
from page_tree import read

import basis
from basis.export.calendar import days_of
from basis.language.days import day_text
from basis.site import addresses as addressing
from basis.site import dates, exports
from basis.site.functions import ChapterFunctions
from basis.site.render import Refused

BOOK = "larkmere-hospital"
DAYS = ("task_due", "task_latest_start", "part_order_by", "overhaul_stage_date")


def written(book, *names):
    """The link on the page and the files that it asked for."""
    addresses = addressing.of_book(book, "upkeep.html", addressing.Workshop())
    return str(dates.calendar(addresses, [book[name] for name in names])), exports.files(addresses)


@pytest.fixture(scope="module")
def file(books):
    markup, files = written(books[BOOK], *DAYS)
    assert read(markup).all("a")[0].attributes["href"] == "upkeep.ics"
    return files[f"{BOOK}/upkeep.ics"]


def test_a_general_library_reads_every_day_of_the_book(books, file):
    book = books[BOOK]
    events = {str(event["UID"]): event for event in Calendar.from_ical(file).walk("VEVENT")}
    expected = {f"{name}.{item}@{BOOK}": number for name in DAYS for item, number in zip(book[name].items[0], book[name].number) if number == number}
    assert {uid: event.decoded("DTSTART").isoformat() for uid, event in events.items()} == {uid: day_text(number) for uid, number in expected.items()}
    sample = events[f"task_due.fuel_sample@{BOOK}"]
    assert sample.decoded("DTSTART") == date(2028, 10, 18) and sample.decoded("DTEND") == date(2028, 10, 19)  # six months from 18 April
    assert str(sample["SUMMARY"]) == "Fuel samples of both tanks: Next due"


def test_the_stamp_is_the_status_date_and_nothing_asks_the_clock(books, file):
    stamps = {event.decoded("DTSTAMP") for event in Calendar.from_ical(file).walk("VEVENT")}
    assert stamps == {datetime(2028, 11, 20, tzinfo=UTC)}
    assert written(basis.load(books[BOOK].project.folder), *DAYS)[1][f"{BOOK}/upkeep.ics"] == file  # the same text gives the same bytes


def test_lines_are_those_of_the_standard(file):
    # RFC 5545, 3.1: lines end with CR LF and hold 75 octets at most; 3.6: a product and version 2.0
    lines = file.split("\r\n")
    assert lines[-1] == "" and not any("\n" in line or "\r" in line for line in lines)
    assert max(len(line.encode("utf-8")) for line in lines) <= 75 and lines[1] == "VERSION:2.0" and lines[2].startswith("PRODID:")


def test_names_of_a_project_stay_text(tmp_path):
    place = tmp_path / "projects" / BOOK
    demo_copy(BOOK, place)
    text = (place / "upkeep.yaml").read_text("utf-8")
    (place / "upkeep.yaml").write_text(text.replace("name: Coolant\n", 'name: "Coolant; ends, BEGIN:VEVENT\\nUID:x"\n'), "utf-8")
    _, files = written(basis.load(place), "task_due")
    events = Calendar.from_ical(files[f"{BOOK}/upkeep.ics"]).walk("VEVENT")
    assert len(events) == 9 and "UID:x" in next(str(event["SUMMARY"]) for event in events if "Coolant" in event["SUMMARY"])


def test_a_day_that_never_comes_and_a_book_without_a_status_date_have_no_entry(books, tmp_path):
    assert len(days_of(books[BOOK]["overhaul_stage_by_hours"])) == 0  # 2199-12-31 stands for later
    place = tmp_path / "projects" / BOOK
    demo_copy(BOOK, place)
    plant = (place / "plant.yaml").read_text("utf-8")
    (place / "plant.yaml").write_text(plant.replace("status_date: 2028-11-20\n", ""), "utf-8")
    assert written(basis.load(place), "task_last_date") == ("", {})


def test_only_days_may_stand_in_a_calendar(books):
    addresses = addressing.of_book(books[BOOK], "upkeep.html", addressing.Workshop())
    chapter = next(one for one in books[BOOK].chapters if one.id == "upkeep")
    with pytest.raises(Refused, match="task_cost"):
        ChapterFunctions(addresses, chapter).calendar("task_cost")
