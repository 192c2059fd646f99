"""Chapter pages of a book without MkDocs and, since drawing takes most of the time, without its drawings."""

from functools import lru_cache
from pathlib import Path
from unittest.mock import patch

from markupsafe import Markup
from page_tree import read

from basis.site import addresses as addressing
from basis.site import frame, pages, render

ROOT = Path(__file__).parent.parent


MADE: dict = {}  # the book is kept too, so that no other takes its id


@lru_cache(maxsize=1)
def layouts() -> dict:
    """The templates of this repository, compiled."""
    return pages.layouts(render.template_folders(ROOT / "projects"))


def chapter_page(book, chapter_id: str):
    """The tree of the page of one chapter; made once for each book."""
    if (id(book), chapter_id) not in MADE:
        MADE[id(book), chapter_id] = book, _chapter_page(book, chapter_id)
    return MADE[id(book), chapter_id][1]


def _chapter_page(book, chapter_id: str):
    chapter = next(one for one in book.chapters if one.id == chapter_id)
    sketch = pages.chapter_sketch(addressing.of_book(book, f"{chapter_id}.html"), chapter, layouts()[chapter_id])
    with patch("basis.site.drawings._picture", lambda addresses, drawing: Markup("<svg></svg>")):
        return read(pages.page(frame.of_book(book), sketch)[0].body)
