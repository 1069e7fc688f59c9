"""The practice log: what each attempt that was marked for practice came to, line by line beside the exercise.

A line that cannot be read is passed over; a disk that is full keeps nobody from reading the marks.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from pathlib import Path

PRACTICE_SUFFIX = ".practice.jsonl"


@dataclass(frozen=True, slots=True)
class Practised:
    """One attempt marked for practice: when, under which ticket, what it earned of how much [points]."""

    at: str
    ticket: str
    points: float
    most_points: float
    passed: bool


def practice_file(folder: Path, exercise: str) -> Path:
    """Return where an exercise's practice log lies."""
    return folder / f"{exercise}{PRACTICE_SUFFIX}"


def keep_practised(folder: Path, exercise: str, result: Practised) -> None:
    """Write down what an attempt came to; the same ticket with the same points is written down once."""
    path = practice_file(folder, exercise)
    if any((one.ticket, one.points) == (result.ticket, result.points) for one in practised(folder, exercise)):
        return
    try:
        with path.open("a", encoding="utf-8") as file:
            file.write(json.dumps(asdict(result)) + "\n")
    except OSError:
        return


def practised(folder: Path, exercise: str) -> tuple[Practised, ...]:
    """Return what was practised, oldest first."""
    path = practice_file(folder, exercise)
    if not path.is_file():
        return ()
    found = (_read(line) for line in path.read_text("utf-8", "replace").splitlines())
    return tuple(one for one in found if one is not None)


def _read(line: str) -> Practised | None:
    try:
        data = json.loads(line)
        return Practised(
            str(data["at"]),
            str(data["ticket"]),
            float(data["points"]),
            float(data["most_points"]),
            data["passed"] is True,
        )
    except (ValueError, KeyError, TypeError):
        return None
