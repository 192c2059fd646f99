"""What has moved since a book was last issued, as plain data: what the marks on its pages and the line at their head tell."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple


@dataclass(frozen=True)
class Differing:
    """How much differs from the last issue in a book or in one of its chapters, what is new and what is gone counted too."""

    numbers: int = 0  # shown otherwise
    verdicts: int = 0  # with another word
    margins: int = 0  # shown otherwise, of verdicts with the same word

    def __add__(self, other: Differing) -> Differing:
        return Differing(self.numbers + other.numbers, self.verdicts + other.verdicts, self.margins + other.margins)

    @property
    def told(self) -> str:
        """Numbers and verdicts, or where none differs margins; nothing where nothing does."""
        return ", ".join(filter(None, [_counted(self.numbers, "number"), _counted(self.verdicts, "verdict")])) or _counted(self.margins, "margin")


class Was(NamedTuple):
    """A number or word as an issue shows it, with its unit, and the number in SI in full, where it is known."""

    shown: str
    number: str = ""


@dataclass(frozen=True)
class Since:
    """The last issue, how the book differs from it, and what is marked.

    `base`: the issue from which what is marked has moved. `numbers`: value id -> element, by the ids of its items or "" for a plain value -> the number as it
    was there. `verdicts`: check id -> the word and the margin as they were. What is new and what is gone is counted, but has no mark.
    """

    issue: str  # revision
    same: bool  # nothing differs, the text of the project and the program neither
    differing: dict[str, Differing] = field(default_factory=dict)  # chapter id -> what differs there; only chapters in which something does
    base: str = ""
    numbers: dict[str, dict[str, Was]] = field(default_factory=dict)
    verdicts: dict[str, tuple[str, str]] = field(default_factory=dict)

    @property
    def marked(self) -> bool:
        """Whether anything carries a mark."""
        return bool(self.numbers or self.verdicts)

    @property
    def told(self) -> str:
        """How the book as a whole stands to its last issue."""
        differing = sum(self.differing.values(), Differing())
        return self._as_issued or f"differs from issue {self.issue} in {differing.told}"

    @property
    def told_in_passing(self) -> str:
        """The same without a count, which moves with every number of the book."""
        return self._as_issued or f"the book differs from issue {self.issue}"

    def told_of(self, chapter_id: str) -> str:
        """How a chapter stands to the last issue."""
        if chapter_id in self.differing:
            return f"this chapter differs from issue {self.issue} in {self.differing[chapter_id].told}"
        return self._as_issued or f"numbers and verdicts of this chapter as issued {self.issue}"

    @property
    def _as_issued(self) -> str:
        """Nothing where a number or a verdict differs."""
        return f"as issued {self.issue}" if self.same else "" if self.differing else f"numbers and verdicts as issued {self.issue}"

    @property
    def legend(self) -> str:
        """What the marks stand for."""
        return f"△ marks what has moved since issue {self.base}" if self.marked else ""


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}" if count else ""
