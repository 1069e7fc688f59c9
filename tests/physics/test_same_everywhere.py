"""The same scenario, ticket and actions give the same logbook, byte for byte, and the same truth to the last bit.

Played in processes of their own with different hash seeds, so that nothing hangs on the order in which Python keeps
sets, and a second time in one process, so that nothing hangs on what was played before.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

EXERCISE = "no_start_harbour"
TICKETS = ("PCFT-M63D", "WQR6-E5ED")
HASH_SEEDS = ("0", "1", "20202")

PLAYER = Path(__file__).with_name("play_by_lot.py")


def played(hash_seed: str, steps: int) -> list[list[str]]:
    """What a process of its own says: ticket, digest of the logbook, its lines, digest of the truth; all twice."""
    done = subprocess.run(
        [sys.executable, str(PLAYER), EXERCISE, ",".join(TICKETS), str(steps)],
        env=os.environ | {"PYTHONHASHSEED": hash_seed},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return [line.split() for line in done.stdout.splitlines()]


def assert_all_the_same(steps: int) -> None:
    runs = [played(seed, steps) for seed in HASH_SEEDS]
    assert all(run == runs[0] for run in runs[1:])
    first, again = runs[0][: len(TICKETS)], runs[0][len(TICKETS) :]
    assert first == again, "what was played before changes nothing"
    assert {int(row[2]) for row in first} == {1 + steps + len(range(3, steps, 7))}, "each step is one line"
    assert first[0][1] != first[1][1] and first[0][3] != first[1][3], "two tickets are two boats"


def test_logbook_and_truth_are_the_same_in_any_process():
    assert_all_the_same(25)


@pytest.mark.slow
def test_logbook_and_truth_are_the_same_in_any_process_over_an_evening():
    assert_all_the_same(250)
