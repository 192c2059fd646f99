"""Where everything of a book stands: the address of each value, check and source, and the names of items. Addresses are flat and stable, the same from a
server and a folder: `<chapter>-sheet.html#<id>` for what is computed, `<chapter>-inputs.html#<id>` for what is given, a default or a constant.
"""
from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from basis.language.formula import Check
from basis.language.terms import listed, terms
from basis.language.words import item_words
from basis.reading.project import Decision, Option
from basis.site.page_data import PageData
from basis.site.read_tracker import Asked
from basis.solving.book import Book
from basis.solving.value import Value

if TYPE_CHECKING:
    from basis.site.lasting import Lasting

WORKINGS = {"inputs": "Inputs", "sheet": "Calculation sheet"}  # the pages with the working of a chapter: ending of the address -> title
MANY = 100  # items of the book's own axes beyond which an element has no address


@dataclass(frozen=True)
class Workshop:
    """What is made once and used again: what is the same in every book, and what was made of this book the last time."""

    notes: dict = field(default_factory=dict)  # the same in every book: formulas as MathML
    kept: dict = field(default_factory=dict)  # by place: what was made there and what it was made from; see kept.py
    asked: Asked = field(default_factory=Asked)  # what was asked of this book for that
    keep: bool = False  # whether there will be a next time
    helped: bool = False  # whether copies of this process may make its pages
    beside: Callable[[], dict] = dict  # waits for those pages by name that a companion of this process makes meanwhile
    turning: bool = False  # whether turning points are searched
    data: bool = False  # whether the book as data stands beside its pages
    turned: dict = field(default_factory=dict)  # what was found of them, by what it rests on
    searched: Callable[[int, int], None] = lambda done, count: None  # hears how far the search is
    lasting: Lasting | None = None  # what earlier runs made of this book
    in_words: bool = False  # whether each formula stands in words, too, for where there is no room for its symbols
    page_data: Callable[[str], PageData] = lambda here: PageData()  # notes what stands on a page of this name


@dataclass(frozen=True)
class Addresses:
    """A book with the place of each of its values. `option` is set for a book that is not the chosen one."""

    book: Book
    main: Book
    option: tuple[Decision, Option] | None = None
    here: str = ""  # the page that is being made: links within it are anchors only
    workshop: Workshop = field(default_factory=Workshop, repr=False, compare=False)
    data: PageData = field(default_factory=PageData, repr=False, compare=False)  # of the page that is being made
    still: dict = field(default_factory=dict, repr=False, compare=False)  # parts of the page that no trial moves, once made

    def unmoved(self, name: str, make: Callable[[Addresses], str]) -> str:
        """A part of the page as it is in the issued book, at every step of a trial too."""
        if name not in self.still:
            counted, told = self.data.counted.copy(), set(self.data.told)
            self.still[name] = make(replace(self, book=self.main)), self.data.counted - counted, self.data.told - told
            return self.still[name][0]
        made, counted, told = self.still[name]
        self.data.counted.update(counted)  # so that what follows has its number, and nothing is said twice
        self.data.told |= told
        return made

    @property
    def moved(self) -> frozenset[str]:
        """Ids of values of the option that are not shown as in the chosen book."""
        return self.main.moved(*(one.id for one in self.option)) if self.option else frozenset()

    @property
    def page(self) -> str:
        """The page that holds the working of an option that is not chosen."""
        decision, option = self.option
        return option_page(decision.id, option.id)

    def address(self, value_id: str) -> str:
        """Page and anchor of a value or of one element of it, from any page of the same book; noted as a link of this page, like all addresses here."""
        term_id, page = value_id.partition(".")[0], self.page_of(value_id)
        anchor = value_id if term_id == value_id else _row_of(value_id, terms()[term_id].axes)
        return self.data.lead(f"#{anchor}" if page == self.here else f"{page}#{anchor}")

    def page_of(self, value_id: str) -> str:
        """The page on which the working of a value stands."""
        term_id = value_id.partition(".")[0]
        return self.page if self.option and term_id in self.moved else home_page(self.main, term_id)

    def chapter_address(self, chapter_id: str) -> str:
        """The page of a chapter."""
        return f"{chapter_id}.html"

    def check_address(self, check: Check) -> str:
        """Page and anchor of a check."""
        return self.data.lead(f"{'self-tests' if check.self_test else 'checks'}.html#{check_anchor(check)}")

    def source_address(self, source_id: str) -> str:
        """Page and anchor of a source, which is thereby cited."""
        self.data.cited.add(source_id)
        return self.data.lead(f"sources.html#{source_anchor(source_id)}")

    def with_option(self, decision: Decision, option: Option) -> Addresses:
        """The same page with the numbers of an option of the book."""
        chosen = option.id == decision.chosen
        return replace(self, book=self.main if chosen else self.main.options[(decision.id, option.id)], option=None if chosen else (decision, option))

    def item_name(self, axis: str, item: str) -> str:
        """What readers call an item."""
        return self.book.names.get(axis, {}).get(item) or item_words(item)

    def element_name(self, value: Value, ids: tuple[str, ...]) -> str:
        """What readers call an element: the names of its items."""
        return ", ".join(self.item_name(axis, item) for axis, item in zip(value.axes, ids))


def _row_of(element_id: str, axes: tuple[str, ...]) -> str:
    """Anchor of the row in which an element stands; of the whole value where it has one row, or too many."""
    if is_long(axes):
        return element_id.partition(".")[0]
    return element_id.rpartition(".")[0] if len(axes) > 1 or axes == ("band",) else element_id


def is_long(axes: tuple[str, ...]) -> bool:
    """Whether a value over these axes has too many elements to give each an address."""
    return any(len(listed(axis).fixed) > MANY for axis in axes)


def of_book(book: Book, here: str = "", workshop: Workshop | None = None) -> Addresses:
    """The addresses of the chosen book, for one page."""
    workshop = workshop or Workshop()
    return Addresses(book, book, here=here, workshop=workshop, data=workshop.page_data(here))


def of_option(main: Book, decision: Decision, option: Option, here: str = "", workshop: Workshop | None = None) -> Addresses:
    """The addresses of one option, for one page; that of the main book when it is the chosen one."""
    book = main.options[(decision.id, option.id)]
    if option.id == decision.chosen:
        return of_book(main, here, workshop)
    return Addresses(book, main, (decision, option), here, workshop or Workshop())


def working_page(chapter_id: str, kind: str) -> str:
    """A page with the working of a chapter; `kind` is one of WORKINGS."""
    return f"{chapter_id}-{kind}.html"


def home_page(book: Book, value_id: str) -> str:
    """The page that holds the working of a value of the chosen book."""
    chapter_id, computed = book.shown_in(value_id)
    return working_page(chapter_id, _kind(computed))


def kind_of(book: Book, value_id: str) -> str:
    """On which of WORKINGS a value stands."""
    return _kind(book.computed(value_id))


def _kind(computed: bool) -> str:
    return "sheet" if computed else "inputs"


def workings(book: Book, chapter_id: str) -> dict[str, tuple[str, ...]]:
    """Ids of the values of a chapter by the kind of page on which their working stands; a page without values is not made."""
    return {_kind(computed): some for computed, some in book.parted_ids(chapter_id).items() if some}


def option_page(decision_id: str, option_id: str) -> str:
    """The working of an option that is not chosen; between the two ids stands what no id can hold."""
    return f"option-{decision_id}.{option_id}.html"


def check_anchor(check: Check) -> str:
    """Anchor of a check: ids of checks and of Terms may be the same word."""
    return f"check-{check.id}"


def source_anchor(source_id: str) -> str:
    """Anchor of a source."""
    return f"source-{source_id}"
