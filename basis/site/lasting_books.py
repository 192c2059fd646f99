"""Whole books that outlive the run: a later build takes one as it was made, where program, templates and the text of its project are the same."""
from __future__ import annotations

from dataclasses import asdict, fields

from basis.language import user_cache
from basis.language.digests import digest
from basis.site.frame import Page
from basis.site.overview import Summary
from basis.site.pages import BookPages

NAME = "books"
WRITTEN = tuple(one.name for one in fields(Page) if one.compare)  # all that reaches the disk


def recall(slug: str, rests_on: str) -> BookPages | None:
    """What an earlier run made of a project of this name from what has this digest, without the notes of its pages; None where there is no such thing."""
    found = user_cache.recall(NAME, _key(slug))
    if not found or found["rests_on"] != rests_on:
        return None
    pages = (Page(**dict(zip(WRITTEN, one))) for one in found["pages"])
    summary = {name: tuple(told) if isinstance(told, list) else told for name, told in found["summary"].items()}
    return BookPages({page.address: page for page in pages}, found["files"], Summary(**summary))


def keep(made: BookPages, rests_on: str) -> None:
    """For later runs; a book with files that are no text is not kept."""
    if any(isinstance(content, bytes) for content in made.files.values()):
        return
    pages = [[getattr(page, name) for name in WRITTEN] for page in made.pages.values()]
    user_cache.keep(NAME, _key(made.summary.slug), {"rests_on": rests_on, "pages": pages, "files": made.files, "summary": asdict(made.summary)})


def _key(slug: str) -> str:
    return digest(user_cache.program(), slug)
