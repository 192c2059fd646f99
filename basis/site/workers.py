"""Independent pieces of work on all processors of the machine, where the system can copy a process cheaply.

Imports nothing of ours. Without that ability the work is done here, one piece after another.
"""
from __future__ import annotations

import contextlib
import os
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from typing import TypeVar

Item = TypeVar("Item")
Result = TypeVar("Result")


def each(work: Callable[[Item], Result], items: Sequence[Item]) -> Iterator[tuple[Item, Result]]:
    """`work` of every item, in the order in which they get ready. They are begun at once and in the given order: put the longest first."""
    count = min(_processors(), len(items))
    if count < 2 or sys.platform != "linux" or threading.active_count() > 1:  # a copy knows nothing of threads
        return ((item, work(item)) for item in items)
    waiting, busy = list(reversed(items)), {}
    started = [_begin(work, waiting, busy) for _ in range(count)]
    return _results(work, waiting, busy, started)


def shares(items: Sequence[Item]) -> list[Sequence[Item]]:
    """The items in one share for each processor: for work that is to go on while this process does something else."""
    count = _processors()
    return [items[number::count] for number in range(count)]


def _processors() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 1


def _results(work: Callable, waiting: list, busy: dict, started: Sequence[BaseProcess]) -> Iterator[tuple]:
    """Results as copies of this process get them ready; what a copy fails at is done here, so that its trouble shows here."""
    while busy:
        for here in wait(list(busy)):
            item = busy.pop(here)
            try:
                result = here.recv()
            except EOFError:
                yield item, work(item)
                continue
            _hand(here, waiting, busy)
            yield item, result
    yield from ((item, work(item)) for item in reversed(waiting))  # when no copy is left
    for worker in started:
        worker.join()


def _begin(work: Callable, waiting: list, busy: dict) -> BaseProcess:
    """Start a copy of this process and give it its first item."""
    context = get_context("fork")
    here, there = context.Pipe()
    worker = context.Process(target=_serve, args=(work, here, there), daemon=True)
    worker.start()
    there.close()
    _hand(here, waiting, busy)
    return worker


def _hand(here: Connection, waiting: list, busy: dict) -> None:
    """Give a copy the next item, or let it end."""
    if waiting:
        busy[here] = waiting.pop()
        here.send(busy[here])
    else:
        here.close()


def _serve(work: Callable, far: Connection, own: Connection) -> None:
    far.close()
    with contextlib.suppress(EOFError):
        while True:
            own.send(work(own.recv()))
