"""Independent pieces of work on all processors of the machine, where the system can copy a process cheaply.

Imports nothing of ours. Without that ability, or with little to do, the work is done here, one piece after another.
"""
from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from typing import TypeVar

Item = TypeVar("Item")
Result = TypeVar("Result")
FEWEST = 4  # pieces from which a second process pays for itself


def each(work: Callable[[Item], Result], items: Sequence[Item]) -> Iterator[tuple[Item, Result]]:
    """`work` of every item, in the order in which they get ready."""
    count = min(_processors(), len(items) // 2)
    if count < 2 or len(items) < FEWEST or sys.platform != "linux" or threading.active_count() > 1:  # a copy knows nothing of threads
        yield from ((item, work(item)) for item in items)
        return
    yield from _shared(work, items, count)


def _processors() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 1


def _shared(work: Callable, items: Sequence, count: int) -> Iterator[tuple]:
    """Deal the items to copies of this process; what a copy leaves undone is done here, so that its trouble shows here."""
    context, waiting, started = get_context("fork"), {}, []
    for number in range(count):
        share = list(items[number::count])
        here, there = context.Pipe(duplex=False)
        worker = context.Process(target=_serve, args=(work, share, there), daemon=True)
        worker.start()
        there.close()
        waiting[here] = share
        started.append(worker)
    while waiting:
        for here in wait(list(waiting)):
            share = waiting[here]
            try:
                result = here.recv()
            except EOFError:
                del waiting[here]
                yield from ((item, work(item)) for item in share)
                continue
            yield share.pop(0), result
            if not share:
                del waiting[here]
    for worker in started:
        worker.join()


def _serve(work: Callable, share: list, there: Connection) -> None:
    for item in share:
        there.send(work(item))
    there.close()
