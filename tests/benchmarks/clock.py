"""Medians of times, in milliseconds of processor time or of the wall clock."""

from __future__ import annotations

import gc
import resource
import statistics
import time
from collections.abc import Callable


def processor(act: Callable[[], object], rounds: int) -> float:
    """Median processor time of one call, warm, ms."""
    return _median(act, rounds, time.process_time)


def children(act: Callable[[], object], rounds: int) -> float:
    """Median processor time of the processes a call starts and waits for, ms."""
    return _median(act, rounds, _spent)


def _spent() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _median(
    act: Callable[[], object], rounds: int, clock: Callable[[], float]
) -> float:
    act()
    found = []
    for _ in range(rounds):
        gc.collect()
        begun = clock()
        act()
        found.append(clock() - begun)
    return statistics.median(found) * 1000
