"""The whole rig at work: simulated seconds a second, the time to play an exercise again, and the memory it takes."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from boats import EXERCISE, boat, ticket_for
from timing import median_s

from engine_sim.attempt import open_exercise, read_logbook, replay
from engine_sim.circuit.rig import Rig
from engine_sim.learners import KINDS

Row = tuple[str, str, str]
CRUISE_RPM = 2000.0
FAULT, PART = "slack_joint", "separator_joint"
HOUR_S = 3600.0


def running_rig() -> Rig:
    """Return the standard layout, its engine started and warm."""
    rig = Rig("tank_below")
    assert rig.crank(10.0)[1]
    rig.run(120.0, CRUISE_RPM, in_gear=True)
    return rig


def stirred_rig() -> Rig:
    """Return the same with air drawn in at a slack joint, and water stirred up in the tank by a seaway."""
    rig = running_rig()
    rig.set_open("suction_hose.joint", 1e-3)
    rig.circuit.fill("tank", 0.45, 0.03)
    rig.set_sea(0.6)
    rig.run(60.0, CRUISE_RPM, in_gear=True)
    return rig


def _run(rig: Rig, time_s: float) -> None:
    ran = rig.run(time_s, CRUISE_RPM, in_gear=True)
    assert ran >= 0.999 * time_s, f"the engine died after {ran:.0f} s"


def simulated_per_second() -> list[Row]:
    """Time cruising with air and water on the move, quiet running, and standing."""
    stirred = stirred_rig()
    _run(stirred, 60.0)
    bowl = stirred.shares("separator.bowl")
    jobs = (
        ("cruise, air and water moving", stirred_rig, lambda rig: _run(rig, 600.0), 600.0, "wanted: 5,000"),
        ("quiet running", running_rig, lambda rig: _run(rig, 4 * HOUR_S), 4 * HOUR_S, "wanted: 50,000"),
        ("standing", stopped_rig, lambda rig: rig.play(24 * HOUR_S), 24 * HOUR_S, "wanted: 50,000"),
    )
    rows = []
    for name, prepare, work, time_s, wanted in jobs:
        taken = median_s(prepare, work)
        rows.append((f"{name}, {time_s / HOUR_S:.2g} h", f"{time_s / taken:,.0f} s a second", wanted))
    return [*rows, ("  in the bowl while it cruises", f"water {bowl[1]:.2%}, air {bowl[2]:.2%}", "both on the move")]


def stopped_rig() -> Rig:
    """Return the standard layout after a run, its engine stopped."""
    rig = running_rig()
    rig.stop_engine()
    return rig


def learners_logbook() -> tuple[bytes, float, int]:
    """Return the logbook of a good learner on a boat with a slack joint, its clock [s] and its steps."""
    with (
        tempfile.TemporaryDirectory() as folder,
        open_exercise(EXERCISE, ticket_for(FAULT, PART), folder) as opened,
    ):
        KINDS["tank to pump"](opened.attempt)
        return opened.logbook_bytes(), opened.attempt.clock_s, len(opened.attempt.steps)


def replayed(data: bytes) -> None:
    """Play a logbook again and see that it agrees to its end."""
    done = replay(read_logbook(data), boat(FAULT, PART))
    assert not done.findings, done.findings


def replay_rows() -> list[Row]:
    """Time the replay of a learner's logbook, and look at the memory of a process that does nothing else."""
    data, clock_s, steps = learners_logbook()
    taken = median_s(lambda: data, replayed)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "played.jsonl"
        path.write_bytes(data)
        alone = [sys.executable, str(Path(__file__).with_name("speed.py")), "--replay-only", str(path)]
        said = subprocess.run(alone, capture_output=True, text=True, check=True).stdout.split()
    return [
        (f"replay of an exercise of {clock_s / 60:.0f} min, {steps} steps", f"{taken:.2f} s", ""),
        ("  the same for ten minutes of it", f"{taken * 600.0 / clock_s:.2f} s", "wanted: under 0.3"),
        ("  first time in a fresh process", f"{said[0]} s", "with preparing the boat"),
        ("  greatest memory of that process", f"{float(said[1]):.0f} MB", "wanted: under 120"),
    ]
