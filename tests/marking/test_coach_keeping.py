"""What the coach worked out for a boat serves the next program, is exactly the same, and is left alone when unsound."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from engine_sim.marking.coach.boats import Boats
from engine_sim.marking.coach.causes import sound_boat
from engine_sim.marking.coach.keeping import lay_down, take_up
from engine_sim.scenarios import SetFault, compose_scenario

BOAT = "single_cylinder"
PROGRAM = """
import sys
from pathlib import Path
from engine_sim.attempt import Attempt
from engine_sim.marking.coach import analyse
from engine_sim.marking.coach import boats
from engine_sim.scenarios import SetFault, compose_scenario

made = []
follower = boats.Follower
boats.Follower = lambda scenario: made.append(scenario) or follower(scenario)
attempt = Attempt(compose_scenario("single_cylinder", [SetFault("shut_valve", "shut_off")]))
for part, name in (("hand_start", "swing_10"), ("tank", "dip"), ("shut_off", "look")):
    attempt.act(part, name)
print(analyse(attempt.scenario, attempt.steps, Path(sys.argv[1])))
print(len(made), file=sys.stderr)
"""


def worked(folder: Path) -> tuple[str, int]:
    """A program of its own: what the coach says, and how many boats it had to prepare."""
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(folder)], capture_output=True, text=True, check=False, timeout=300
    )
    assert done.returncode == 0, done.stderr
    return done.stdout, int(done.stderr)


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str, int]:
    folder = tmp_path_factory.mktemp("own") / "cache"
    said, made = worked(folder)
    return folder, said, made


@pytest.mark.slow
def test_the_next_program_says_the_same_and_prepares_nothing(first):
    folder, said, made = first
    assert made > 30
    assert worked(folder) == (said, 0)
    assert len(list(folder.iterdir())) == 1


def kept_in(folder: Path) -> tuple[Boats, Path]:
    """A few boats kept in a folder, and the file that they are in."""
    boats = Boats(sound_boat(compose_scenario(BOAT)))
    boats.shows(compose_scenario(BOAT, [SetFault("shut_valve", "shut_off")]), (("shut_off", "look"),))
    lay_down(boats, folder)
    (kept,) = folder.iterdir()
    return boats, kept


def test_a_whole_file_is_taken_up_and_nothing_new_is_not_written_again(tmp_path):
    boats, kept = kept_in(tmp_path / "cache")
    fresh = Boats(boats.sound)
    assert take_up(fresh, kept.parent)
    assert fresh.worked_out()[1] == boats.worked_out()[1] != {}
    kept.unlink()
    lay_down(fresh, kept.parent)
    assert list(kept.parent.iterdir()) == []


@pytest.mark.parametrize(
    "damage", [lambda data: data[:-40], lambda data: b"", lambda data: data[:40] + b"x" + data[41:]]
)
def test_a_damaged_file_is_not_taken_up(tmp_path, damage):
    boats, kept = kept_in(tmp_path)
    kept.write_bytes(damage(kept.read_bytes()))
    fresh = Boats(boats.sound)
    assert not take_up(fresh, tmp_path)
    assert fresh.worked_out() == ({}, {})


def test_a_folder_that_cannot_be_written_does_no_harm(tmp_path):
    boats, kept = kept_in(tmp_path / "cache")
    boats.has_grown = True
    lay_down(boats, kept / "no folder")
    assert kept.exists()


def test_what_is_kept_is_for_the_user_alone(tmp_path):
    _, kept = kept_in(tmp_path / "cache")
    assert kept.stat().st_mode & 0o077 == 0
