"""What the tests of handing out and taking in share: a class that has handed nothing in yet, and ways of packing."""

from __future__ import annotations

import io
import json
import zipfile
from dataclasses import dataclass, field
from pathlib import Path

from class_kit import CURE, EXERCISE, LOGBOOK, LOOKS, answered, make_class, tickets_with_a_shut_valve, work

from engine_sim.classroom.course_root import CourseRoot, at
from engine_sim.classroom.teaching.hand_out import hand_out

NAMES = ("ada", "bram", "cleo")


@dataclass
class Prepared:
    """A class with the exercise handed out, everybody's logbooks (a short one and a long one), and an answered page."""

    course: CourseRoot
    tickets: dict[str, str]
    short: dict[str, bytes] = field(default_factory=dict)
    long: dict[str, bytes] = field(default_factory=dict)
    page: bytes = b""


def prepare(home: Path) -> Prepared:
    """Make the class with the exercise handed out, and play everybody's logbooks."""
    made = Prepared(at(home), dict(zip(NAMES, tickets_with_a_shut_valve(len(NAMES)), strict=True)))
    made.course = make_class(home / "course", made.tickets)
    for name, ticket in made.tickets.items():
        made.short[name] = work(home / "short" / name, ticket)
        made.long[name] = work(home / "long" / name, ticket, LOOKS + CURE)
    hand_out(made.course, [EXERCISE])
    made.page = json.dumps(answered(made.course.release(EXERCISE))).encode()
    return made


def lay(folder: Path, files: dict[str, bytes]) -> None:
    """Lay files into a folder, with the folders that their names want."""
    for name, data in files.items():
        place = folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(data)


def zipped(files: dict[str, bytes]) -> bytes:
    """Return a zip of files under exactly these names."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as made:
        for name, data in files.items():
            made.writestr(name, data)
    return held.getvalue()


def logbook_here(course: CourseRoot, learner: str) -> bytes:
    """Return the logbook that lies handed in."""
    return (course.submitted(learner, EXERCISE) / LOGBOOK).read_bytes()


def reasons(receipt) -> str:
    """Return all that was set aside, with the reasons, as one text."""
    return "\n".join(one.line() for one in receipt.set_aside)


def kept_aside(course: CourseRoot) -> list[bytes]:
    """Return the content of every file that taking in set aside."""
    folder = course.folder / "set_aside" / "arrivals"
    return [one.read_bytes() for one in folder.rglob("*") if one.is_file() and one.name != "why.txt"]
