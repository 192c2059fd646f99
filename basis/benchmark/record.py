"""The record of the largest demo against solving it: made and written, read again, compared with another."""

from __future__ import annotations

from basis.benchmark.measure import processor_time, row
from basis.benchmark.turning import LARGEST
from basis.reading.project import read
from basis.record.compare import compare
from basis.record.issued import records_of, text_of
from basis.record.issuing import record_of
from basis.solving.solve import solve

RUNS = 3  # of which the least counts, since others use the machine


def bench_record() -> None:
    """Seconds of the processor, one after the other in this process."""
    project = read(LARGEST)
    book, _ = processor_time(lambda: solve(project))
    solving = min(processor_time(lambda: solve(project))[1] for _ in range(RUNS))
    written = min(processor_time(lambda: text_of(record_of(book)))[1] for _ in range(RUNS))
    issues, reading = processor_time(lambda: records_of(LARGEST))
    comparing = min(processor_time(lambda: compare(issues[0], issues[-1]))[1] for _ in range(RUNS))
    against = f"solving with all options ({solving:.1f} s), processor time"
    row("record, made and written", f"{written / solving:.2f} of its solving", against)
    row("record, read", f"{reading / len(issues) / solving:.2f} of its solving", against)
    row("two records compared", f"{comparing / solving:.2f} of its solving", against)
