"""Independent pieces of work on all processors of the machine, where the system can copy a process cheaply.

A copy of this process does the work and sends the result back. Without that ability the work is done here, one piece after
another; what a copy fails at is done here too, so that its trouble shows here.
"""
from __future__ import annotations

import contextlib
import gc
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from multiprocessing import Pipe
from multiprocessing.connection import Connection, wait
from typing import TypeVar

ASKED = True  # tells a copy that its results are waited for
WIDTH = 4  # bytes of a place in the queue
ROOM = 16_000  # places that a queue has room for
BESIDE = 8  # steps of niceness behind a process that goes on with something else, which leave it nearly a whole processor
IDLE = 2  # seconds after its work in which a copy that stays leaves its garbage where it is: the next piece may follow at once

Item = TypeVar("Item")
Result = TypeVar("Result")


class Companion:
    """A copy of this process that stays: it is given one piece of work after another, does it beside this process, and remembers what it did before."""

    def __init__(self, work: Callable):
        self._way, self._process = _forked(lambda way: _stay(work, way))
        self._at_work = False

    def begin(self, item) -> None:
        """Give it a piece of work. The result of the one before, if nobody has asked for it, is lost."""
        self.result()
        with contextlib.suppress(OSError):
            self._way.send(item)
            self._at_work = True

    def result(self):
        """What came of the last piece, once; None where there is nothing more to come, because the copy has ended too."""
        if not self._at_work:
            return None
        self._at_work = False
        try:
            return self._way.recv()
        except (EOFError, OSError):
            return None

    def end(self) -> None:
        """Let it go, whatever it is at."""
        self._way.close()
        os.kill(self._process, signal.SIGTERM)
        os.waitpid(self._process, 0)


def companion(work: Callable) -> Companion | None:
    """A copy of this process that does this work as often as it is asked; None where there is no processor for it, or no way to copy a process."""
    return Companion(work) if processors() > 1 and _can_copy() else None


def each(work: Callable[[Item], Result], items: Sequence[Item], beside: bool = False) -> Iterator[tuple[Item, Result]]:
    """`work` of every item, in the order in which they get ready. They are begun at once and in the given order: put the longest first. In the
    end all wait for it, so that each copy gets a little more of the processors than the next one, and this process more than all.

    `beside`: this process goes on with something else until it asks for the first result, so that even a single item is worth a copy.
    """
    count = min(processors() + (not beside), len(items))  # with this process one more than processors: while the last pieces are at work, few stand idle
    if processors() < 2 or count < (1 if beside else 2) or len(items) > ROOM or not _can_copy():
        return ((item, work(item)) for item in items)
    places = _queue(len(items))
    copies = [_copy(lambda place: work(items[place]), places, BESIDE * beside + number) for number in range(count)]
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
    return _forked(lambda way: _serve(work, places, way, behind))


def _forked(life: Callable[[Connection], None]) -> tuple[Connection, int]:
    """A copy of this process that leads this life: the way to it and its number. It ends without a word when the other side has closed, or when its work
    fails, to be done again there.
    """
    here, there = Pipe()
    process = os.fork()
    if process == 0:
        try:
            here.close()
            gc.freeze()  # looking for garbage among what came with the copy would make the system copy all of it
            gc.disable()
            life(there)
        finally:
            os._exit(0)
    there.close()
    return here, process


def _serve(work: Callable, places: int, way: Connection, behind: int) -> None:
    """Results wait here until they are asked for: sent sooner, they would fill the way and stop the work."""
    os.nice(behind)
    done, asked = [], False
    while taken := os.read(places, WIDTH):
        gc.collect(0)  # what the piece before has left; after the last one the system clears up sooner
        place = int.from_bytes(taken, "big")
        done.append((place, work(place)))
        if asked := asked or way.poll():
            way.send(done)
            done.clear()
    way.send(done)


def _stay(work: Callable, way: Connection) -> None:
    while True:
        way.send(work(way.recv()))
        if not way.poll(IDLE):
            gc.collect()
