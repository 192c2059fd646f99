"""Helps the tests of data files: the schema made strict, and a copy of a demo with some words exchanged."""

from copy import deepcopy
from pathlib import Path

from demos import demo_copy

import basis
from basis.site import addresses as addressing


def strict(schema):
    """The schema with every key refused that it does not describe."""
    if isinstance(schema, list):
        return [strict(one) for one in schema]
    if not isinstance(schema, dict):
        return deepcopy(schema)
    closed = {"additionalProperties": False} if "properties" in schema and "type" in schema and isinstance(schema["type"], str) else {}
    return closed | {key: strict(one) for key, one in schema.items()}


def changed(folder: Path, slug: str, file: str, old: str, new: str):
    """The book of a demo in which some words of a file are others."""
    place = demo_copy(slug, folder / "projects" / slug)
    text = (place / file).read_text("utf-8")
    assert text.count(old) == 1, old
    (place / file).write_text(text.replace(old, new), "utf-8")
    return basis.load(place)


def pages(book):
    """The addresses of the pages of a book, as seen from beside them."""
    return addressing.of_book(book)
