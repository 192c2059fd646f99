"""Independent pieces of work on all processors of the machine, where the system can copy a process cheaply.

A copy of this process does the work and sends the result back. Without that ability the work is done here, one piece after
another; what a copy fails at is done here too, so that its trouble shows here.
"""
from __future__ import annotations

import contextlib
import gc
import os
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from multiprocessing import Pipe
from multiprocessing.connection import Connection, wait
from typing import TypeVar

Item = TypeVar("Item")
Result = TypeVar("Result")


def each(work: Callable[[Item], Result], items: Sequence[Item], beside: bool = False) -> Iterator[tuple[Item, Result]]:
    """`work` of every item, in the order in which they get ready. They are begun at once and in the given order: put the longest first.

    `beside`: this process goes on with something else meanwhile, so that even a single item is worth a copy.
    """
    count = min(processors() + 1, len(items))  # one more than processors: while the last pieces are at work, few stand idle
    if processors() < 2 or count < (1 if beside else 2) or not _can_copy():
        return ((item, work(item)) for item in items)
    waiting, busy = list(reversed(range(len(items)))), {}
    copies = []
    for _ in range(count):
        here, process = _copy(lambda place: work(items[place]))  # only its place goes to the copy, which has the items already
        copies.append(process)
        _hand(here, waiting, busy)
    return _results(work, items, waiting, busy, copies)


def processors() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 1


def _can_copy() -> bool:
    return sys.platform == "linux" and threading.active_count() == 1  # a copy knows nothing of threads


def _results(work: Callable, items: Sequence, waiting: list, busy: dict, copies: Sequence[int]) -> Iterator[tuple]:
    """Results as they come; each copy gets its next item when it has sent one."""
    while busy:
        for here in wait(list(busy)):
            item = items[busy.pop(here)]
            try:
                result = here.recv()
            except EOFError:
                here.close()
                yield item, work(item)
                continue
            _hand(here, waiting, busy)
            yield item, result
    yield from ((items[place], work(items[place])) for place in reversed(waiting))  # when no copy is left
    for process in copies:
        os.waitpid(process, 0)


def _copy(work: Callable) -> tuple[Connection, int]:
    """A copy of this process that waits for items: the way to it and its number."""
    here, there = Pipe()
    process = os.fork()
    if process == 0:
        here.close()
        _serve(work, there)
    there.close()
    return here, process


def _serve(work: Callable, there: Connection) -> None:
    """The life of a copy: it ends without a word when the other side has closed, or when its work fails, to be done again there."""
    gc.freeze()  # looking for garbage among what came with the copy would make the system copy all of it
    gc.disable()
    try:
        with contextlib.suppress(EOFError):
            while True:
                place = there.recv()
                gc.collect(0)  # what the piece before has left; after the last one the system clears up sooner
                there.send(work(place))
    finally:
        os._exit(0)


def _hand(here: Connection, waiting: list, busy: dict) -> None:
    """Give a copy the place of the next item, or let it end."""
    if waiting:
        busy[here] = waiting.pop()
        here.send(busy[here])
    else:
        here.close()
