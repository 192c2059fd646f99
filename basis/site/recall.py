"""What was made of a book the last time: its figures and the entries of its sheets, each with what it was made from. An entry is made again when
anything that it shows may have changed.
"""
from __future__ import annotations

from collections.abc import Callable, Iterable

import numpy as np
from markupsafe import Markup

from basis.site.atlas import Atlas
from basis.solving.book import Value, Verdict


def entry(atlas: Atlas, value: Value, verdicts: Iterable[Verdict], make: Callable[[], Markup]) -> Markup:
    """The entry as it was made before, if all that it shows is the same; else made now."""
    if not atlas.workshop.keep:
        return make()
    place, seen = (atlas.here, value.id), _seen(atlas, value, verdicts)
    before = atlas.workshop.before.entries.get(place)
    made = before if before is not None and before[0] == seen else (seen, make())
    atlas.workshop.now.entries[place] = made
    return made[1]


def _seen(atlas: Atlas, value: Value, verdicts: Iterable[Verdict]) -> tuple:
    """Everything that an entry shows, in a form that can be compared."""
    values, used = atlas.book.values, value.producer.parameters if value.producer else ()
    chosen = atlas.main.values.get(value.id)
    names = tuple(tuple(atlas.book.names.get(axis, {}).get(item, item) for item in along) for axis, along in zip(value.axes, value.items) if len(along) < 100)
    return (_number(value), chosen is not None and (_number(chosen), chosen.marks), value.origin, value.marks, value.inputs, value.used_by, value.warnings,
            value.items, names, value.currency, repr(value.residual),
            tuple((name, given) for name, given in value.givens.items()), tuple((one.word, one.margin_text) for one in verdicts),
            tuple((name, _number(values[name]), values[name].items, values[name].marks) for name in used if name in values),
            tuple(atlas.address(name) for name in (*value.inputs, *value.used_by) if name in values))


def _number(value: Value):
    if not isinstance(value.number, np.ndarray):
        return value.number
    return value.number.tobytes() if value.number.dtype != object else tuple(value.number.tolist())
