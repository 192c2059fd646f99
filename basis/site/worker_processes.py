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

ASKED = True  # tells a copy that its results are waited for
WIDTH = 4  # bytes of a place in the queue
ROOM = 16_000  # places that a queue has room for

Item = TypeVar("Item")
Result = TypeVar("Result")


def each(work: Callable[[Item], Result], items: Sequence[Item], beside: bool = False) -> Iterator[tuple[Item, Result]]:
    """`work` of every item, in the order in which they get ready. They are begun at once and in the given order: put the longest first. In the
    end all wait for it, so that each copy gets a little more of the processors than the next one, and this process more than all.

    `beside`: this process goes on with something else until it asks for the first result, so that even a single item is worth a copy.
    """
    count = min(processors() + (not beside), len(items))  # with this process one more than processors: while the last pieces are at work, few stand idle
    if processors() < 2 or count < (1 if beside else 2) or len(items) > ROOM or not _can_copy():
        return ((item, work(item)) for item in items)
    places = _queue(len(items))
    copies = [_copy(lambda place: work(items[place]), places, beside + number) for number in range(count)]
    os.close(places)
    return _results(work, items, copies)


def processors() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 1


def _can_copy() -> bool:
    return sys.platform == "linux" and threading.active_count() == 1  # a copy knows nothing of threads


def _queue(count: int) -> int:
    """A pipe full of places, from which every copy takes its next one itself, whatever this process does meanwhile."""
    places, end = os.pipe()
    os.write(end, b"".join(place.to_bytes(WIDTH, "big") for place in range(count)))
    os.close(end)
    return places


def _results(work: Callable, items: Sequence, copies: Sequence[tuple[Connection, int]]) -> Iterator[tuple]:
    """Results as they come; what no copy has sent is done here."""
    missing, busy = dict.fromkeys(range(len(items))), [here for here, _ in copies]
    for here in busy:
        with contextlib.suppress(BrokenPipeError):
            here.send(ASKED)
    while busy:
        for here in wait(busy):
            try:
                done = here.recv()
            except (EOFError, ConnectionResetError):
                here.close()
                busy.remove(here)
                continue
            for place, result in done:
                del missing[place]
                yield items[place], result
    yield from ((items[place], work(items[place])) for place in missing)
    for _, process in copies:
        os.waitpid(process, 0)


def _copy(work: Callable, places: int, behind: int) -> tuple[Connection, int]:
    """A copy of this process that is at work on these places: the way to it and its number. `behind`: so many steps of niceness."""
    here, there = Pipe()
    process = os.fork()
    if process == 0:
        here.close()
        os.nice(behind)
        _serve(work, places, there)
    there.close()
    return here, process


def _serve(work: Callable, places: int, there: Connection) -> None:
    """The life of a copy: it ends without a word when the other side has closed, or when its work fails, to be done again there. Results wait here until
    they are asked for: sent sooner, they would fill the way and stop the work.
    """
    gc.freeze()  # looking for garbage among what came with the copy would make the system copy all of it
    gc.disable()
    try:
        done, asked = [], False
        while taken := os.read(places, WIDTH):
            gc.collect(0)  # what the piece before has left; after the last one the system clears up sooner
            place = int.from_bytes(taken, "big")
            done.append((place, work(place)))
            if asked := asked or there.poll():
                there.send(done)
                done.clear()
        there.send(done)
    finally:
        os._exit(0)
