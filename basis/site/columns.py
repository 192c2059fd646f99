"""How the numbers of one column stand under one another: in line at the decimal sign, and no table wider than its page."""
from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from basis.site.addresses import Addresses
from basis.site.html import made, safe
from basis.site.quantities import amount, both
from basis.solving.value import Value

MOST = 12  # columns of a table: of more, rows become columns, or the table is split
POINT, POWER = ".", "×"


def amounts(addresses: Addresses, value: Value, numbers: Sequence) -> list[Markup]:
    """The numbers of one column without unit, each followed by the room of the decimals that others have and it has not."""
    if value.term.is_text or value.term.kind == "date":
        return [amount(addresses, value, number, unit=False) for number in numbers]
    si = in_line([value.shown(number, "si", False) for number in numbers])
    if not value.two_systems:
        return [made(safe(text)) for text in si]
    return [both(one, other) for one, other in zip(si, in_line([value.shown(number, "us", False) for number in numbers]))]


def in_line(texts: Sequence[str]) -> list[str]:
    """Numbers with an empty element behind each that has fewer decimals than the longest; the style sheet gives it their width."""
    if any(POWER in text for text in texts):
        return list(texts)
    decimals = [len(text.partition(POINT)[2]) for text in texts]
    most = max(decimals, default=0)
    return [made(f"{safe(text)}{_room(most - own, own)}") if own < most and text[-1:].isdigit() else text for text, own in zip(texts, decimals)]


def _room(lacking: int, own: int) -> str:
    name = f"u-d{lacking}" if own else f"u-p{lacking}"  # digits alone, or the point and digits
    return f"<{name}></{name}>"


def parted(items: Sequence) -> list[Sequence]:
    """Items in as many parts as their table needs to have its head and at most so many columns; parts of about one length."""
    parts = -(-len(items) // (MOST - 1))
    return [items[part * len(items) // parts:(part + 1) * len(items) // parts] for part in range(parts)]
