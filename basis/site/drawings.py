"""A figure on a page: drawn from the book, with its title, its meaning in words, and the table of the same numbers."""
from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np
from markupsafe import Markup

from basis.language.faults import nearest_name
from basis.language.terms import listed, terms
from basis.language.words import item_words
from basis.site import html, tables
from basis.site.addresses import Addresses
from basis.site.figures import figures_of
from basis.site.kept import kept
from basis.site.numbering import figure_title
from basis.site.render import Refused
from basis.solving.book import Book
from basis.solving.lacking import told_shortly

if TYPE_CHECKING:
    from basis.site.figure import Drawing

TO_VALUE = re.compile(r'xlink:href="value:([^"]+)" target="_blank"')  # as a figure writes where a text leads


def figure(addresses: Addresses, chapter_id: str, figure_id: str) -> Markup:
    """The figure of a chapter, ready for the page."""
    known = figures_of(chapter_id)
    if figure_id not in known:
        raise Refused(f"unknown figure '{figure_id}'", f"a figure of chapter '{chapter_id}'", nearest_name(figure_id, known))
    return shown(addresses, known[figure_id])


def picture_of(addresses: Addresses, chapter_id: str, figure_id: str) -> Markup:
    """A figure alone, without words, for a page that leads to it; nothing where it is not drawn. Its ids are other than those of the figure itself."""
    if not is_drawn(addresses.book, chapter_id, figure_id):
        return html.EMPTY
    return html.made(_linked(addresses, _picture(addresses, figures_of(chapter_id)[figure_id])).replace(f"figure-{figure_id}-", f"picture-{figure_id}-"))


def is_drawn(book: Book, chapter_id: str, figure_id: str) -> bool:
    """Whether a figure is drawn: its chapter is in the book, and all that it shows is known."""
    return chapter_id in [one.id for one in book.chapters] and not _missing(book, figures_of(chapter_id)[figure_id])


def shown(addresses: Addresses, drawing: Drawing) -> Markup:
    """A figure, ready for the page, or why it is not drawn."""
    if missing := _missing(addresses.book, drawing):
        waits = dict.fromkeys(root for name in missing for root in addresses.book.undecided.get(name, ()))
        empty = [listed(axis).key for axis in terms()[drawing.terms[0]].own_axes if not addresses.book.items[axis]]
        why = f"no {item_words(empty[0])} listed" if empty else told_shortly(addresses.book, waits) if waits else "it shows what this design does not have"
        return html.paragraph(f"{drawing.title}: not drawn; {why}.", class_="mark")
    return framed(addresses, drawing, _linked(addresses, _picture(addresses, drawing)))


def framed(addresses: Addresses, drawing: Drawing, picture: Markup) -> Markup:
    """A drawn figure with its caption and its numbers."""
    picture = html.scroll_box(picture, drawing.title)
    name = f"figure-{drawing.id}"
    title = figure_title(addresses, drawing.title, drawing.id, name)
    told = html.tag("figcaption", title, ". " if not drawing.title.endswith((".", "?")) else " ", drawing.meaning)
    return html.tag("figure", picture, told, _numbers(addresses, drawing), class_="drawing", id=addresses.data.place(name))


def _missing(book: Book, drawing: Drawing) -> list[str]:
    """What a figure shows and the book does not have: its first Term when that holds no number; all that runs over lists, where none has an item."""
    absent = [name for name in drawing.terms if name not in book.values or (name == drawing.terms[0] and _is_blank(book.values[name].number))]
    over_lists = [name for name in drawing.terms if name in book.values and book.values[name].axes]
    return absent or (over_lists if all(not all(book.values[name].items) for name in over_lists) else [])


def _is_blank(number) -> bool:
    if not isinstance(number, np.ndarray):
        return False
    return number.size == 0 or (number.dtype.kind == "f" and bool(np.isnan(number).all()))


def _picture(addresses: Addresses, drawing: Drawing) -> Markup:
    """The drawing, taken from the last time when nothing that it shows has changed."""
    lasting = addresses.workshop.lasting
    if lasting and addresses.book is lasting.book:
        return Markup(lasting.text(addresses.data, drawing.id, drawing.svg))
    return kept(addresses, ("figure", drawing.id), lambda addresses: Markup(drawing.svg(addresses.book)))


def _linked(addresses: Addresses, picture: Markup) -> Markup:
    """The drawing with the address of each value to which a text of it leads."""
    return html.made(TO_VALUE.sub(lambda found: f'href="{addresses.address(found[1])}" class="n"', picture))


def _numbers(addresses: Addresses, drawing: Drawing) -> Markup:
    """The numbers of a figure: plain values together, those of one axis together, the rest one table each."""
    values = [addresses.book.values[name] for name in (*drawing.terms, *drawing.also) if name in addresses.book.values]
    plain = [value for value in values if not value.axes]
    axes = list(dict.fromkeys(value.axes[0] for value in values if len(value.axes) == 1 and value.axes != ("band",)))
    shown = [tables.rows(addresses, plain, count=False)] if plain else []
    shown += [tables.of_items(addresses, axis, [value for value in values if value.axes == (axis,)], count=False) for axis in axes]
    shown.append(tables.of_several(addresses, [value for value in values if len(value.axes) > 1 or value.axes == ("band",)], count=False))
    return html.tag("details", html.tag("summary", "The numbers of this figure"), *shown) if any(shown) else html.EMPTY
