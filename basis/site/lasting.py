"""What is made of a book and outlives the run: figures, which take a quarter of the time of a build.

A later run takes one as it was made, where the program is the same and everything that was read for it reads the same.
"""
from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from basis.language import user_cache
from basis.language.digests import digest
from basis.site.page_data import PageData
from basis.site.read_tracker import Answers, Readings, TrackedBook
from basis.solving.book import Book

NAME = "figures"
AT_HAND = " at 0x"  # in the words of what is known by its place in memory, and so not by a later run


@dataclass(frozen=True)
class Lasting:
    """Texts that an earlier run made of a book, by place: what was asked of the book for each, each with the digest of the answer, and the text."""

    book: Book
    answers: Answers
    before: dict[str, list]

    @classmethod
    def of(cls, book: Book) -> Lasting:
        """What is kept of a project of this name."""
        return cls(book, Answers(book), user_cache.recall(NAME, _key(book)) or {})

    def text(self, data: PageData, place: str, make: Callable[[Book], str]) -> str:
        """The text of a place: as it was made before, or made now of the book and of nothing else. The page takes it along."""
        known = self.before.get(place)
        if known and self._reads_the_same(known[0]):
            data.lasting[place] = known
            return known[1]
        readings: Readings = {}
        made = str(make(TrackedBook(self.book, self.answers, readings)))
        if (read := self._plain(readings)) is not None:
            data.lasting[place] = [read, made]
        return made

    def keep(self, pages: Iterable[PageData]) -> None:
        """For the next run."""
        found = {place: record for data in pages for place, record in data.lasting.items()}
        if found != self.before:
            user_cache.keep(NAME, _key(self.book), found)

    def _reads_the_same(self, read: list) -> bool:
        return all(self._told(self.answers.asked.number(_tuples(asked))) == before for asked, before in read)

    def _told(self, number: int) -> str | None:
        """Digest of what the book answers; none where only this run knows it again."""
        words = repr(self.answers.to(number)[1])
        return None if AT_HAND in words else digest(words)

    def _plain(self, readings: Readings) -> list | None:
        """What was read as plain data; none where that cannot be written down."""
        read = [[self.answers.asked[number], self._told(number)] for number in readings]
        return read if all(told and _is_plain(asked) for asked, told in read) else None


def _key(book: Book) -> str:
    return digest(user_cache.program(), book.project.slug)


def _is_plain(asked) -> bool:
    """Whether JSON hands it back, but for tuples, which it hands back as lists."""
    return all(map(_is_plain, asked)) if isinstance(asked, tuple) else asked is None or isinstance(asked, str | int | bool)


def _tuples(asked):
    return tuple(map(_tuples, asked)) if isinstance(asked, list) else asked
