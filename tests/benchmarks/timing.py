"""Timing for the benchmarks: process time of one core, the median of several rounds, each with a fresh start."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from typing import TypeVar

Thing = TypeVar("Thing")


def median_s(prepare: Callable[[], Thing], work: Callable[[Thing], object], rounds: int = 5) -> float:
    """Return the median process time [s] of ``work`` on what ``prepare`` makes; the making is not counted."""
    taken = []
    for _ in range(rounds):
        thing = prepare()
        began = time.process_time()
        work(thing)
        taken.append(time.process_time() - began)
    return statistics.median(taken)
