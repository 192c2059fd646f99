"""What has been issued of a project over time: its records in order, what changed from each to the next and since the last, and how margins went."""

from __future__ import annotations

from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

from basis.record.compare import WORSE, Comparison, compare
from basis.record.issued import ENDING, FOLDER, Head, Record, Role, records_of
from basis.record.issuing import record_of
from basis.solving.book import Book

NOT_MADE = "not made"  # beside the words of a Verdict: where a state has not the check
MOST_STATES, MOST_CHECKS = 8, 6  # in a course of margins: the last issues, and the checks that matter most


@dataclass(frozen=True)
class History:
    """All issues of a project. `now` and `since` are the book as it stands and what it has moved since the last issue; None where nothing is issued."""

    stamp: str = ""  # of the files of the records
    records: tuple[Record, ...] = field(default=(), compare=False)
    steps: tuple[Comparison, ...] = field(default=(), compare=False)  # from each record to the next
    now: Record | None = field(default=None, compare=False)
    since: Comparison | None = None

    @property
    def differs(self) -> bool:
        """Whether the book as it stands is another than the last issue."""
        return self.since is not None and not self.since.nothing

    @property
    def issue(self) -> Issue | None:
        """The last issue; None where nothing is issued."""
        return Issue(self.records[-1].head, self.records[-1].roles) if self.records else None


@dataclass(frozen=True)
class Issue:
    """What an issue says of itself, and who had a part in it."""

    head: Head
    roles: tuple[Role, ...]


@dataclass(frozen=True)
class Stand:
    """How a check stood at one state. `margin` is None where there was none."""

    state: str  # revision, "" as it stands now
    verdict: str
    margin: float | None = None
    shown: str = ""


@dataclass(frozen=True)
class Course:
    """One check over the states of a project."""

    check: str
    stands: tuple[Stand, ...]

    @property
    def turned(self) -> bool:
        """Whether its verdict has ever been another, in the states that make it."""
        return len({stand.verdict for stand in self._made}) > 1

    @property
    def moved(self) -> bool:
        """Whether its margin has ever been shown as another, in the states that make it."""
        return len({stand.shown for stand in self._made}) > 1

    @property
    def _made(self) -> list[Stand]:
        return [stand for stand in self.stands if stand.verdict != NOT_MADE]


def history_of(book: Book, before: History | None = None) -> History:
    """The issues of a book's project beside the book. What is known of `before` is taken over where no record has changed. Raises Faults: a broken record."""
    folder = Path(book.project.folder)
    stamp = _stamp(folder)
    if before is None or before.stamp != stamp:
        records = records_of(folder)
        before = History(stamp, records, tuple(compare(old, new) for old, new in zip(records, records[1:])))
    if not before.records:
        return before
    now = record_of(book, before=before.now)
    return History(stamp, before.records, before.steps, now, compare(before.records[-1], now))


def _stamp(folder: Path) -> str:
    found = sorted((folder / FOLDER).glob(f"*{ENDING}"))
    return sha256(b"\0".join(part for path in found for part in (path.name.encode(), path.read_bytes()))).hexdigest() if found else ""


def courses(history: History) -> tuple[Course, ...]:
    """How the checks that matter most stood at the last issues and stand now: those that turned, then those that fail or are tight and moved; of each
    those first that stood worst at any time, then by what is left to the limit.
    """
    states = [(record.head.revision, record) for record in history.records[-MOST_STATES:]]
    states += [("", history.now)] if history.differs else []
    if len(states) < 2:
        return ()
    found = [Course(check_id, tuple(_stand(state, record, check_id) for state, record in states)) for check_id in states[-1][1].checks]
    asked = [course for course in found if course.turned or (course.moved and course.stands[-1].verdict in ("fails", "tight"))]
    return tuple(sorted(asked, key=_urgency)[:MOST_CHECKS])


def _stand(state: str, record: Record, check_id: str) -> Stand:
    check = record.checks.get(check_id)
    if check is None:
        return Stand(state, NOT_MADE)
    return Stand(state, check.verdict, float(check.margin) if check.margin else None, check.margin_shown)


def _urgency(course: Course) -> tuple:
    worst = max((WORSE.index(stand.verdict) for stand in course.stands if stand.verdict in WORSE), default=-1)
    margin = course.stands[-1].margin
    return not course.turned, -worst, margin if margin is not None else 0.0
