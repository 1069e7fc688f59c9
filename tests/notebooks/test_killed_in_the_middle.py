"""A process that works an exercise is killed without warning: every step whose result was shown is still there."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from engine_sim.attempt import open_exercise
from engine_sim.scenarios import new_ticket

WORK_FOR_EVER = """
import itertools, sys
from engine_sim.attempt import open_exercise
with open_exercise("no_start_harbour", sys.argv[1], sys.argv[2]) as opened:
    for part, action in itertools.cycle([("tank", "dip"), ("separator", "look"), ("lift_pump", "lever_10")]):
        step = opened.attempt.act(part, action)
        seen = (f"{one.key}={one.text}" for one in step.observations)
        print(step.number, step.clock_s, *seen, sep="|", flush=True)
"""
SHOWN_BEFORE_THE_KILL = 8


def test_nothing_shown_is_lost_when_the_process_is_killed(tmp_path: Path) -> None:
    ticket = new_ticket()
    worker = subprocess.Popen(
        [sys.executable, "-c", WORK_FOR_EVER, ticket, str(tmp_path)], stdout=subprocess.PIPE, text=True
    )
    assert worker.stdout is not None
    shown = [worker.stdout.readline().rstrip("\n") for _ in range(SHOWN_BEFORE_THE_KILL)]
    worker.kill()
    shown += [line.rstrip("\n") for line in worker.stdout if line.endswith("\n")]
    worker.wait()
    with open_exercise("no_start_harbour", ticket, tmp_path) as opened:
        steps = opened.attempt.steps
        again = [
            "|".join([str(step.number), str(step.clock_s), *(f"{seen.key}={seen.text}" for seen in step.observations)])
            for step in steps
        ]
        assert again[: len(shown)] == shown
        assert len(steps) - len(shown) <= 1
        assert opened.attempt.act("tank", "look").number == len(steps) + 1
