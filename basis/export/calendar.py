"""Days of a book as a calendar file (ICS, RFC 5545) that any calendar program takes: one entry a day that a value or an item of a list has.

The stamp of each entry is the day to which the book counts and its UID is made of ids, so that the same book gives the same bytes and a later
file moves the entries of an earlier one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, timedelta

from basis.language.days import LAST_DAY, date_of
from basis.language.words import item_words
from basis.solving.book import Book
from basis.solving.value import Value

PRODUCT = "-//Design basis book//EN"
STAMP = "status_date"


def calendar(book: Book, values: Iterable[Value]) -> str:
    """The file that holds every day of these values; an empty text where there is no day, or no status date."""
    entries = [(value, *entry) for value in values for entry in days_of(value)]
    stamp = book.values.get(STAMP)
    return _written(book, date_of(float(stamp.number)), entries) if entries and stamp is not None else ""


def book_calendar(book: Book) -> str:
    """The calendar of a whole book: every day that it has, but that to which it counts."""
    return calendar(book, _dated(book))


def has_days(book: Book) -> bool:
    """Whether a book has a calendar."""
    return STAMP in book.values and any(map(days_of, _dated(book)))


def _dated(book: Book) -> list[Value]:
    return [value for chapter in book.chapters for value in book.of_chapter(chapter.id) if value.term.kind == "date" and value.id != STAMP]


def days_of(value: Value) -> list[tuple[tuple[str, ...], float]]:
    """Ids of the items of each element that has a day, with the day; what is not given, does not exist, or never comes has none."""
    days = [(ids, float(value.element(*ids).number)) for ids in value.elements()]
    return [(ids, day) for ids, day in days if day < LAST_DAY]  # not so what is not given


def _written(book: Book, stamp: date, entries: Sequence[tuple]) -> str:
    from icalendar import Calendar, Event  # here, since loading it takes a tenth of a second and most pages have no days

    whole = Calendar()
    whole.add("prodid", PRODUCT)
    whole.add("version", "2.0")
    whole.add("x-wr-calname", book.project.name)
    for value, ids, seconds in entries:
        event = Event()
        event.add("uid", f"{'.'.join((value.id, *ids))}@{book.project.slug}")
        event.add("dtstamp", datetime(stamp.year, stamp.month, stamp.day, tzinfo=UTC))
        event.add("dtstart", date_of(seconds))
        event.add("dtend", date_of(seconds) + timedelta(1))
        named = [book.names.get(axis, {}).get(item) or item_words(item) for axis, item in zip(value.axes, ids)]
        event.add("summary", ": ".join(filter(None, (", ".join(named), value.term.name))))
        event.add("description", value.term.meaning)
        event.add("transp", "TRANSPARENT")  # the day is not taken up
        whole.add_component(event)
    return whole.to_ical().decode("utf-8")
