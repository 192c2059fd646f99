"""The search for turning points of the largest demo against solving it with all options."""

from __future__ import annotations

import statistics
from pathlib import Path

from basis.benchmark.measure import processor_time, row
from basis.reading.project import read
from basis.solving.solve import solve
from basis.solving.turning import turnings

LARGEST = Path("projects/larkmere-hospital")
RUNS = 5  # after one more that is not counted, in which code is compiled that later runs share


def bench_turning() -> None:
    """Seconds of the processor, so that other work on the machine does not count: one after the other, the median of the ratios."""
    project = read(LARGEST)
    runs = []
    for _ in range(RUNS + 1):
        book, solving = processor_time(lambda: solve(project))
        found, searching = processor_time(lambda book=book: turnings(book))
        runs.append((searching / solving, searching, solving, len(found)))
    ratio, searching, solving, count = map(statistics.median, zip(*runs[1:]))
    row("turning points, largest demo", f"{ratio:.1f} times its solving; {count} numbers moved in {searching:.1f} s",
        f"solving with all options ({solving:.1f} s), processor time")
