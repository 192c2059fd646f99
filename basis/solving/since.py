"""What has moved since a book was last issued, as plain data: what the marks on its pages and the line at their head tell."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Since:
    """The last issue, how the book differs from it, and what is marked.

    `base`: the issue from which what is marked has moved. `numbers`: value id -> element, by the ids of its items or "" for a plain value -> the number as it
    was shown there, with its unit. `verdicts`: check id -> the word and the margin as they were. What is new and what is gone is counted, but has no mark.
    """

    issue: str  # revision
    same: bool  # nothing differs, the text of the project and the program neither
    moved: int = 0  # numbers that are shown otherwise
    turned: int = 0  # verdicts with another word
    base: str = ""
    numbers: dict[str, dict[str, str]] = field(default_factory=dict)
    verdicts: dict[str, tuple[str, str]] = field(default_factory=dict)

    @property
    def marked(self) -> bool:
        """Whether anything carries a mark."""
        return bool(self.numbers or self.verdicts)

    @property
    def told(self) -> str:
        """How the book stands to its last issue."""
        if self.same:
            return f"as issued {self.issue}"
        counts = [_counted(self.moved, "number"), _counted(self.turned, "verdict")]
        if told := ", ".join(filter(None, counts)) or _counted(len(self.verdicts) if self.base == self.issue else 0, "margin"):
            return f"differs from issue {self.issue} in {told}"
        return f"numbers and verdicts as issued {self.issue}"

    @property
    def legend(self) -> str:
        """What the marks stand for."""
        return f"△ marks what has moved since issue {self.base}" if self.marked else ""


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}" if count else ""
