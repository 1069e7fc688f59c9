"""The register of marks given by people: one line each with who, when and why; lines are added and never changed.

It lies in the class's folder as ``second_marks.jsonl``. A line that cannot be read is passed over; it stays there.
"""

from __future__ import annotations

import json
import math
import os
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Any

from engine_sim.classroom.course_root import PRIVATE_FILE, ClassroomError, CourseRoot, why_not_written
from engine_sim.classroom.hand_in import parse_json

CHANGED, SECOND, WEIGHT = "changed", "second", "weight"
"""The kinds of line: a mark that was changed, one of a second marker's, a changed mark that followed a new weight."""
KINDS = (CHANGED, SECOND, WEIGHT)


@dataclass(frozen=True, slots=True)
class MarkLine:
    """One mark given by a person: ``points`` of ``maximum``, in place of ``before`` [points], for one hand-in.

    ``hand_in`` is a digest of the logbook that was marked: a later hand-in is another piece of work. ``before`` is None
    where there was no mark. ``when`` is the moment in UTC.
    """

    kind: str
    learner_id: str
    exercise: str
    mark: str
    points: float
    maximum: float
    before: float | None
    reason: str
    who: str
    when: str
    hand_in: str


@dataclass(frozen=True, slots=True)
class Register:
    """All lines in the order in which they were added, and the numbers of the lines that cannot be read."""

    lines: tuple[MarkLine, ...]
    unreadable: tuple[int, ...] = ()

    def of(self, learner: str, exercise: str) -> tuple[MarkLine, ...]:
        """Return the lines on one learner's exercise."""
        return tuple(line for line in self.lines if (line.learner_id, line.exercise) == (learner, exercise))


def register_file(course: CourseRoot) -> Path:
    """Return where the register lies."""
    return course.folder / "second_marks.jsonl"


def read_register(course: CourseRoot) -> Register:
    """Return what is in the register; nothing where there is none yet."""
    place = register_file(course)
    if not place.is_file():
        return Register(())
    read = [(number, line_from(data)) for number, data in enumerate(place.read_bytes().splitlines(), 1) if data.strip()]
    found = tuple(line for _, line in read if line is not None)
    return Register(found, tuple(number for number, line in read if line is None))


def line_from(data: bytes) -> MarkLine | None:
    """Return a line of the register, or None where it cannot be read."""
    found = parse_json(data)
    names = {field.name for field in fields(MarkLine)}
    if not isinstance(found, dict) or set(found) != names or not _is_sound(found):
        return None
    return MarkLine(**found)


def _is_sound(found: dict[str, Any]) -> bool:
    numbers = [found["points"], found["maximum"], *([] if found["before"] is None else [found["before"]])]
    words = [value for name, value in found.items() if name not in ("points", "maximum", "before")]
    return (
        all(isinstance(one, int | float) and not isinstance(one, bool) and math.isfinite(one) for one in numbers)
        and all(isinstance(one, str) for one in words)
        and found["kind"] in KINDS
    )


def add_lines(course: CourseRoot, lines: tuple[MarkLine, ...]) -> None:
    """Add lines at the end, all of them or none; raises :class:`ClassroomError` where the disk does not take them."""
    place = register_file(course)
    data = b"".join(json.dumps(asdict(line), ensure_ascii=False).encode("utf-8") + b"\n" for line in lines)
    try:
        append(place, data)
    except OSError as problem:
        raise ClassroomError(
            f"The mark could not be written down in {place}: {why_not_written(problem)}. Nothing was changed, and what "
            "was there before is whole. Make room, or see that the folder may be written, and give the mark again."
        ) from problem


def append(place: Path, data: bytes) -> None:
    """Add bytes to a file, behind a whole line; where not all of them go in, the file is as it was."""
    descriptor = os.open(place, os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0), PRIVATE_FILE)
    with os.fdopen(descriptor, "r+b", buffering=0) as file:
        size = file.seek(0, os.SEEK_END)
        if size:
            file.seek(size - 1)
            data = data if file.read(1) == b"\n" else b"\n" + data
        try:
            write_all(file.fileno(), data)
        except OSError:
            os.ftruncate(file.fileno(), size)
            raise


def write_all(descriptor: int, data: bytes) -> None:
    """Write all bytes and bring them to disk."""
    while data:
        data = data[os.write(descriptor, data) :]
    os.fsync(descriptor)
