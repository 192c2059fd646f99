"""Days of a plan as a calendar file (ICS, RFC 5545) that any calendar program takes: one entry a day that an item of a list has.

The stamp of each entry is the day to which the book counts and its UID is made of ids, so that the same book gives the same bytes and a later
file moves the entries of an earlier one.
"""
from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import PurePosixPath

from markupsafe import Markup

from basis.language.days import LAST_DAY, date_of
from basis.site import html
from basis.site.addresses import Addresses
from basis.solving.value import Value

PRODUCT = "-//Design basis book//EN"
STAMP = "status_date"


def calendar(addresses: Addresses, values: Sequence[Value]) -> Markup:
    """A link to the file that holds every day of these values, which is asked for in the addresses; nothing where there is no day or no status date."""
    entries = [(value, *entry) for value in values for entry in _days(value)]
    stamp = addresses.book.values.get(STAMP)
    if not entries or stamp is None or addresses.option:
        return html.EMPTY
    name = f"{PurePosixPath(addresses.here).stem}.ics"
    addresses.exports[name] = _written(addresses, date_of(float(stamp.number)), entries)
    return html.paragraph(html.link(name, "These days as a calendar file", download=True), class_="export")


def _days(value: Value) -> list[tuple[str, float]]:
    """Ids of the items that have a day, with the day; what is not given, does not exist, or never comes has none."""
    days = [(ids[-1], float(value.element(*ids).number)) for ids in value.elements()]
    return [(item, day) for item, day in days if day < LAST_DAY]  # not so what is not given


def _written(addresses: Addresses, stamp: date, entries: Sequence[tuple]) -> str:
    from icalendar import Calendar, Event  # here, since loading it takes a tenth of a second and most pages have no days

    project, whole = addresses.main.project, Calendar()
    whole.add("prodid", PRODUCT)
    whole.add("version", "2.0")
    whole.add("x-wr-calname", project.name)
    for value, item, seconds in entries:
        event = Event()
        event.add("uid", f"{value.id}.{item}@{project.slug}")
        event.add("dtstamp", datetime(stamp.year, stamp.month, stamp.day, tzinfo=UTC))
        event.add("dtstart", date_of(seconds))
        event.add("dtend", date_of(seconds) + timedelta(1))
        event.add("summary", f"{addresses.item_name(value.axes[-1], item)}: {value.term.name}")
        event.add("description", value.term.meaning)
        event.add("transp", "TRANSPARENT")  # the day is not taken up
        whole.add_component(event)
    return whole.to_ical().decode("utf-8")
