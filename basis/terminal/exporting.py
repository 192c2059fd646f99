"""Writing the data files of a book into a folder."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from basis.export.files import KINDS, data_files
from basis.language.formula import Check
from basis.site import addresses as addressing
from basis.site.addresses import Addresses
from basis.solving.book import Book


@dataclass(frozen=True)
class Elsewhere:
    """The pages of a book as seen from another place. `root`: the address of the folder in which they stand, with what joins it to a page."""

    addresses: Addresses
    root: str

    def address(self, value_id: str) -> str:
        """Page and anchor of the working of a value."""
        return self.root + self.addresses.address(value_id)

    def chapter_address(self, chapter_id: str) -> str:
        """The page of a chapter."""
        return self.root + self.addresses.chapter_address(chapter_id)

    def check_address(self, check: Check) -> str:
        """Page and anchor of a check."""
        return self.root + self.addresses.check_address(check)


def exported(book: Book, kinds: Collection[str], folder: Path, pages: str) -> list[Path]:
    """Write the data files of these kinds, all without any, into a folder, and return their paths. `pages`: where the pages of the book stand; beside the
    files without it. Raises OSError.
    """
    root = f"{pages.rstrip('/')}/" if pages else ""
    made = data_files(book, Elsewhere(addressing.of_book(book), root), kinds or KINDS)
    for name, content in made.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return [folder / name for name in made]
