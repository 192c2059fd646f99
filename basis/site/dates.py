"""The link on a page to the calendar file of the days that it shows."""
from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePosixPath

from markupsafe import Markup

from basis.export import calendar as calendars
from basis.site import html
from basis.site.addresses import Addresses
from basis.solving.value import Value


def calendar(addresses: Addresses, values: Sequence[Value]) -> Markup:
    """A link to the file that holds every day of these values, which is asked for; nothing where there is no day or no status date."""
    text = "" if addresses.option else calendars.calendar(addresses.book, values)
    if not text:
        return html.EMPTY
    name = f"{PurePosixPath(addresses.here).stem}.ics"
    addresses.data.files[name] = text
    return html.paragraph(addresses.data.link(name, "These days as a calendar file", download=True), class_="export")
