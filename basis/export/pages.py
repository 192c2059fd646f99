"""Where the pages of a book stand, as data files that lie beside them link to them. The site knows; this room is told."""

from __future__ import annotations

from typing import Protocol

from basis.language.formula import Check


class Pages(Protocol):
    """Addresses of the pages of one book, from the folder in which they stand."""

    def address(self, value_id: str) -> str:
        """Page and anchor of the working of a value."""

    def chapter_address(self, chapter_id: str) -> str:
        """The page of a chapter."""

    def check_address(self, check: Check) -> str:
        """Page and anchor of a check."""
