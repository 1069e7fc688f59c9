"""Prints what marking costs, in one table with versions. Run it by hand: it is no test and is never collected.

    python tests/benchmarks/marking.py [--sizes 30 100 300]

Ours is ``fuelcourse mark`` (all five marks, the coach, feedback pages as HTML and PDF); beside it stands plain
``nbgrader autograde`` of a notebook with two empty cells, measured in the same run. Times are wall times of whole
commands on this machine, with the processor time of the command and all its helpers beside them.
"""

from __future__ import annotations

import argparse
import importlib
import math
import os
import platform
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

import numpy as np
import psutil

TESTS = Path(__file__).parents[1]
SIZES = (30, 100)
WHOLE_CLASS = 300
FEW = 10
SHORT_MINUTES = 15
MEGABYTE = 1e6
Row = tuple[str, str, str]


@dataclass(frozen=True)
class Cost:
    """What a command took: wall and processor time [s], and the most memory of it and its helpers together [MB]."""

    wall_s: float
    cpu_s: float
    memory_mb: float


def measure(command: Sequence[str], folder: Path) -> Cost:
    """Run a command in a folder; raises CalledProcessError with what it said when it fails."""
    before, began = os.times(), time.perf_counter()
    environment = {**os.environ, "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"}
    with subprocess.Popen(
        command, cwd=folder, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as running:
        watch = Watch(running.pid)
        watch.start()
        said, _ = running.communicate()
        watch.ended.set()
        watch.join()
    taken, after = time.perf_counter() - began, os.times()
    if running.returncode not in (0, 1):
        raise subprocess.CalledProcessError(running.returncode, command, said)
    cpu = (after.children_user - before.children_user) + (after.children_system - before.children_system)
    return Cost(taken, cpu, watch.most_mb)


class Watch(threading.Thread):
    """Looks twenty times a second how much memory a process and its children hold together; keeps the most [MB]."""

    def __init__(self, pid: int) -> None:
        super().__init__(daemon=True)
        self.process, self.most_mb, self.ended = psutil.Process(pid), 0.0, threading.Event()

    def run(self) -> None:
        while not self.ended.wait(0.05):
            self.most_mb = max(self.most_mb, memory_mb(self.process))


def memory_mb(process: psutil.Process) -> float:
    """Return the memory that a process and its children hold [MB]; what they share is counted for each."""
    held = 0
    try:
        family = [process, *process.children(recursive=True)]
    except psutil.NoSuchProcess:
        return 0.0
    for one in family:
        try:
            held += one.memory_info().rss
        except psutil.NoSuchProcess:
            continue
    return held / MEGABYTE


def ours(folder: Path, count: int, minutes: float = math.inf) -> Cost:
    """Mark a class of ours of so many, each of whom worked for ``minutes`` at most."""
    made = importlib.import_module("class_of").our_class(folder / f"ours{count}_{minutes:g}", count, minutes)
    return measure([sys.executable, "-m", "engine_sim.cli", "mark", str(made.folder)], folder)


def plain(folder: Path, count: int) -> Cost:
    """Autograde a plain class of so many by nbgrader's own command."""
    of = importlib.import_module("class_of")
    root = folder / f"plain{count}"
    of.plain_class(root, count)
    nbgrader = [sys.executable, "-m", "nbgrader"]
    measure([*nbgrader, "generate_assignment", of.PLAIN, "--create"], root)
    return measure([*nbgrader, "autograde", of.PLAIN, "--create"], root)


def beside_nbgrader(folder: Path) -> list[Row]:
    """Compare one hand-in as a command of its own, and each further one in a run."""
    one, few = ours(folder, 1), ours(folder, FEW)
    short, shorts = ours(folder, 1, SHORT_MINUTES), ours(folder, FEW, SHORT_MINUTES)
    other, others = plain(folder, 1), plain(folder, FEW)
    rows = [("one hand-in, a command of its own", one, other, 1)]
    rows += [(f"each further one of {FEW} (second helper starts)", _less(few, one), _less(others, other), FEW - 1)]
    rows += [(f"the same, of {SHORT_MINUTES} minutes' work", _less(shorts, short), _less(others, other), FEW - 1)]
    shown = []
    for name, us, them, count in rows:
        shown.append((name, f"{us.wall_s / count:.2f} s ({us.cpu_s / count:.2f} s of processor)", "with feedback"))
        shown.append(
            (
                "  plain nbgrader autograde",
                f"{them.wall_s / count:.2f} s ({them.cpu_s / count:.2f} s of processor)",
                f"ratio {us.wall_s / them.wall_s:.2f}, processor {us.cpu_s / them.cpu_s:.2f} (wanted: under 0.33)",
            )
        )
    return shown


def _less(more: Cost, one: Cost) -> Cost:
    return Cost(more.wall_s - one.wall_s, more.cpu_s - one.cpu_s, more.memory_mb)


def growth(folder: Path, sizes: Sequence[int]) -> list[Row]:
    """Mark classes of several sizes and fit the power with which the time grows."""
    costs = [ours(folder / "whole", size) for size in sizes]
    rows = [
        (
            f"{size} hand-ins",
            f"{cost.wall_s:.1f} s, {cost.wall_s / size:.2f} s each ({cost.cpu_s / size:.2f} s of processor)",
            f"{cost.memory_mb:.0f} MB together (wanted: under 500)",
        )
        for size, cost in zip(sizes, costs, strict=True)
    ]
    if len(sizes) > 1:
        power, _ = np.polyfit(np.log(sizes), np.log([cost.wall_s for cost in costs]), 1)
        rows.append(("  time grows with the hand-ins to the power", f"{power:.2f}", "wanted: no more than 1"))
    if len(sizes) > 1 and max(sizes) < WHOLE_CLASS:
        each = (costs[-1].wall_s - costs[0].wall_s) / (sizes[-1] - sizes[0])
        whole = costs[-1].wall_s + each * (WHOLE_CLASS - sizes[-1])
        rows.append((f"  {WHOLE_CLASS} hand-ins, extrapolated, not measured", f"{whole / 60.0:.1f} min", ""))
    return rows


def rows(folder: Path, sizes: Sequence[int]) -> Iterator[tuple[str, list[Row]]]:
    """Yield each part of the table as it is measured."""
    costs = importlib.import_module("marking_costs")
    yield "The coach", costs.coach_rows()
    yield "Where the time goes", costs.stages()
    yield "Beside nbgrader", beside_nbgrader(folder)
    yield "A whole class", growth(folder, sizes)


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--sizes", type=int, nargs="+", default=SIZES, help="how many hand-ins are marked at once")
    sys.path[:0] = [str(TESTS / "benchmarks"), str(TESTS / "marking")]
    versions = ", ".join(f"{name} {version(name)}" for name in ("fuelcourse", "nbgrader", "nbconvert", "sqlalchemy"))
    print(f"Python {platform.python_version()} on {platform.machine()}, {os.cpu_count()} cores, {versions}")
    with tempfile.TemporaryDirectory() as folder:
        for title, measured in rows(Path(folder), asked.parse_args().sizes):
            print(f"\n{title}")
            for name, found, remark in measured:
                print(f"  {name:<48} {found:<42} {remark}", flush=True)


if __name__ == "__main__":
    main()
