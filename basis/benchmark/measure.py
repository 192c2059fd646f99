"""How the parts of the benchmark measure and tell."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable


def row(what: str, result: str, against: str) -> None:
    """One line of the table."""
    print(f"| {what} | {result} | {against} |", flush=True)


def best(function, repeats: int = 7, number: int = 1) -> float:
    """Shortest time of one call, in seconds."""
    found = []
    gc.disable()
    for _ in range(repeats):
        start = time.perf_counter()
        for _ in range(number):
            function()
        found.append((time.perf_counter() - start) / number)
    gc.enable()
    return min(found)


def processor_time(work: Callable) -> tuple:
    """What a piece of work yields, and seconds of the processor, so that other work on the machine does not count."""
    start = time.process_time()
    return work(), time.process_time() - start
