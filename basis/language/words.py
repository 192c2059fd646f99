"""Words for people: a name inside a sentence, what an item is called, a span of numbers."""

from __future__ import annotations

import re

MONTHS = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december")

BAND = re.compile(r"^(\d+)(?:_(\d+))?_hz$")


def in_sentence(name: str) -> str:
    """A name as it stands inside a sentence: `Exhaust pipe` -> `exhaust pipe`; `480 V`, `NR rating`, `C-weighted level` stay as they are."""
    first = name.split(" ")[0]
    return name[:1].lower() + name[1:] if first[1:] == first[1:].lower() and first[1:2].isalpha() or first == "A" else name


def as_sentence(note: str) -> str:
    """A note as a sentence of its own: `tested reduction wins` -> `Tested reduction wins.`"""
    note = note.strip()
    return f"{note[:1].upper()}{note[1:]}{'' if note.endswith(('.', '!', '?')) else '.'}" if note else ""


def item_words(item: str) -> str:
    """What an item without a name is called: `31_5_hz` -> `31.5 Hz`, `1000_hz` -> `1 kHz`, `after_30_min` -> `after 30 min`, `may` -> `May`."""
    if item in MONTHS:
        return item.capitalize()
    found = BAND.match(item)
    if not found:
        return item.replace("_", " ")
    hertz = float(f"{found[1]}.{found[2] or 0}")
    return f"{hertz / 1000:g} kHz" if hertz >= 1000 else f"{hertz:g} Hz"


def span(low: str, high: str) -> str:
    """Two numbers as shown, or one where they are shown alike: `24.3 to 25.1`, `24.3`."""
    return low if low == high else f"{low} to {high}"
