"""Prints how fast the simulator is, in one table with versions. Run it by hand: it is no test and is never collected.

    python tests/benchmarks/speed.py

It takes about two minutes on one core. All times are process times, medians of several rounds.
"""

from __future__ import annotations

import importlib
import platform
import resource
import sys
import time
from collections.abc import Iterator
from importlib.metadata import version
from pathlib import Path

TESTS = Path(__file__).parents[1]
KILOBYTE_MB = 1.0 / 1024.0
Row = tuple[str, str, str]


def rows() -> Iterator[tuple[str, list[Row]]]:
    """Yield each part of the table as it is measured."""
    rig, beside = importlib.import_module("whole_rig"), importlib.import_module("beside")
    yield "The whole rig", rig.simulated_per_second()
    yield "An exercise played again", rig.replay_rows()
    yield "Beside solve_ivp (SciPy)", [*beside.beside_solve_ivp(float("inf")), *beside.beside_solve_ivp(0.1)]
    yield "Beside EPANET 2.2 (through wntr)", beside.beside_epanet()
    yield "Cost against parts", beside.cost_against_parts()


def replay_only(logbook: str) -> None:
    """Play one logbook again and print the time [s] and the greatest memory of the process [MB]."""
    rig = importlib.import_module("whole_rig")
    began = time.process_time()
    rig.replayed(Path(logbook).read_bytes())
    taken = time.process_time() - began
    print(f"{taken:.2f}", greatest_memory_mb())


def greatest_memory_mb() -> float:
    """Return the greatest memory that this process has held [MB].

    Where Linux tells it, that of the program alone; the general count begins with what its parent held.
    """
    status = Path("/proc/self/status")
    if status.exists():
        return next(int(row.split()[1]) for row in status.read_text().splitlines() if "VmHWM" in row) * KILOBYTE_MB
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * KILOBYTE_MB


def main() -> None:
    """Print the table."""
    sys.path[:0] = [str(TESTS / "benchmarks"), str(TESTS / "physics"), str(TESTS / "marking")]
    if sys.argv[1:2] == ["--replay-only"]:
        replay_only(sys.argv[2])
        return
    versions = ", ".join(f"{name} {version(name)}" for name in ("fuelcourse", "numpy", "scipy", "wntr"))
    print(f"Python {platform.python_version()} on {platform.machine()}, {versions}")
    for title, measured in rows():
        print(f"\n{title}")
        for name, found, remark in measured:
            print(f"  {name:<48} {found:<42} {remark}")


if __name__ == "__main__":
    main()
