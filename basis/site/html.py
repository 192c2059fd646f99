"""HTML, one function an element: text is escaped, markup is only what these functions made. What goes in as str comes out escaped; only Markup passes as
it is.
"""
from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache, partial

from markupsafe import Markup, escape

UNSAFE = re.compile("[&<>\"']")
made = partial(str.__new__, Markup)  # what Markup(…) does, without asking what it was given
EMPTY = Markup("")


def safe(part) -> str:
    """Text for the page: Markup as it is, everything else escaped."""
    if type(part) is Markup:
        return part
    text = part if type(part) is str else str(part)
    return text if UNSAFE.search(text) is None else escape(text)


def tag(name: str, *content, **attributes) -> Markup:
    """An element. `class_` and `for_` stand for words of Python; `aria_label` gives `aria-label`; None and False leave out."""
    inner = "".join([safe(part) for part in content if part is not None])
    return made(f"<{name}{_attributes(attributes) if attributes else ''}>{inner}</{name}>")


def void(name: str, **attributes) -> Markup:
    """An element without content, such as `<input>`."""
    return made(f"<{name}{_attributes(attributes)}>")


def _attributes(attributes: dict) -> str:
    parts = []
    for name, value in attributes.items():
        if value is None or value is False:
            continue
        parts.append(f" {_written(name)}" if value is True else f' {_written(name)}="{safe(value)}"')
    return "".join(parts)


@lru_cache(maxsize=128)
def _written(name: str) -> str:
    return name.rstrip("_").replace("_", "-")


def join(parts: Iterable, separator: str | Markup = "") -> Markup:
    """Parts one after another, escaped where they are plain text."""
    return made(safe(separator).join([safe(part) for part in parts]))


def link(href: str, *content, **attributes) -> Markup:
    """A link."""
    return tag("a", *content, href=href, **attributes)


def paragraph(*content, **attributes) -> Markup:
    """A paragraph."""
    return tag("p", *content, **attributes)


def span(class_: str, *content, **attributes) -> Markup:
    """A stretch of text with a class."""
    return tag("span", *content, class_=class_, **attributes)


def small(*content, **attributes) -> Markup:
    """A side remark."""
    return tag("small", *content, **attributes)


def heading(level: int, *content, **attributes) -> Markup:
    """A heading of the level 1 to 6."""
    return tag(f"h{level}", *content, **attributes)


def bullets(items: Iterable, **attributes) -> Markup:
    """An unordered list; nothing when there is no item."""
    inner = join([tag("li", item) for item in items])
    return tag("ul", inner, **attributes) if inner else EMPTY


def definitions(pairs: Iterable[tuple], **attributes) -> Markup:
    """A list of names and what they stand for."""
    inner = join([tag("dt", name) + tag("dd", meaning) for name, meaning in pairs])
    return tag("dl", inner, **attributes) if inner else EMPTY


@dataclass(frozen=True)
class Caption:
    """A caption with a place of its own, to which links lead."""

    anchor: str
    words: Markup


def scroll_box(content: Markup, label: str, class_: str = "wide", by: str = "") -> Markup:
    """A box of its own for what may be wider than a phone; where it scrolls the script lets it take the focus. `by`: the id of what names it, in place of a
    label."""
    named = f'aria-labelledby="{by}"' if by else f'aria-label="{safe(label)}"'
    return made(f'<div class="{class_}" role="group" {named}>{safe(content)}</div>')


def table(caption, heads: Iterable, rows: Iterable[Iterable], class_: str = "values", label: str = "") -> Markup:
    """A table: one head row, a row head first in each row (heads of such a table need no scope); in its own scroll box when it has more than two columns.

    A cell is content or a whole `<td>`, a head content or a whole `<th>`, a row its cells or what `row` makes.
    """
    heads = list(heads)
    head = "".join([name if _is_cell(name, "<th") else f"<th>{safe(name)}</th>" for name in heads])
    body = "".join([cells if isinstance(cells, Markup) else row(cells) for cells in rows])
    place, words = (caption.anchor, caption.words) if isinstance(caption, Caption) else ("", caption)
    named = f'<caption id="{place}">{words}</caption>' if place else f"<caption>{safe(words)}</caption>" if words else ""
    whole = made(f'<table class="{class_}">{named}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>')
    return scroll_box(whole, label or Markup(words).striptags(), by=place) if len(heads) > 2 else made(f'<div class="wide">{whole}</div>')


def row(cells: Iterable, **attributes) -> Markup:
    """A row of a table, its first cell the head of the row."""
    first, *rest = cells
    cells = "".join([cell if _is_cell(cell) else f"<td>{safe(cell)}</td>" for cell in rest])
    return made(f"<tr{_attributes(attributes)}><th>{safe(first)}</th>{cells}</tr>")


def _is_cell(content, opening: str = "<td") -> bool:
    return isinstance(content, Markup) and content.startswith(opening)


def cell(content, **attributes) -> Markup:
    """A cell with attributes of its own, such as an anchor."""
    return tag("td", content, **attributes)
