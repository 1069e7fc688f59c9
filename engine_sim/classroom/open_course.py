"""Making a course root: everything an instructor needs to hand out, collect, mark and give back an exercise."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from engine_sim.classroom.course_plan import all_exercises
from engine_sim.classroom.course_root import (
    COURSE_ID,
    PRIVATE_FILE,
    PRIVATE_FOLDER,
    ClassroomError,
    CourseRoot,
    at,
    make_folder,
    write_file,
)
from engine_sim.classroom.gradebook import enter_learners
from engine_sim.classroom.roster import Roster, example_roster, fill_tickets, read_roster, write_roster
from engine_sim.classroom.shipped import shipped
from engine_sim.marking import usual_scheme_file

INSTRUCTOR_PAGE = "instructor.ipynb"
UNUSABLE_IN_PATH = "?#%\n"
SUBFOLDERS = ("submitted", "autograded", "feedback", "set_aside", "findings")


@dataclass(frozen=True, slots=True)
class MadeCourse:
    """What ``make_course_root`` did: the places, what was added, what was there already, who got a ticket."""

    course: CourseRoot
    added: tuple[str, ...]
    kept: tuple[str, ...]
    new_tickets: tuple[str, ...]

    def __str__(self) -> str:
        lines = [f"The class folder is {self.course.folder}"]
        lines += [f"  added {name}" for name in self.added]
        kept = [name for name in self.kept if not (name == self.course.roster.name and self.new_tickets)]
        lines += [f"  kept as it is: {name}" for name in kept]
        if self.new_tickets:
            lines.append(f"New tickets in {self.course.roster.name} for: {', '.join(self.new_tickets)}")
        if self.course.roster.name in self.added:
            lines.append("Put your learners into roster.csv and run this again for their tickets.")
        else:
            lines.append("Every learner on the roster has a ticket.")
        lines.append("What to do next stands in README.md there.")
        return "\n".join(lines)


def make_course_root(directory: str | Path) -> MadeCourse:
    """Make a course root, or add what is missing to one; nothing that is there is changed, except empty tickets filled.

    Raises :class:`ClassroomError` when the folder cannot be one, :class:`RosterError` when its roster needs a change.
    """
    course = at(directory)
    check_place(course.folder)
    roster = read_roster(course.roster) if course.roster.exists() else example_roster()
    added, kept = [], []
    make_private(course.folder)
    for original, place in shipped_files(course):
        if place.exists():
            kept.append(str(place.relative_to(course.folder)))
        else:
            write_file(place, original.read_bytes())
            added.append(str(place.relative_to(course.folder)))
    for name in (*SUBFOLDERS, os.path.join("exchange", COURSE_ID)):
        make_folder(course.folder / name)
    (kept if course.roster.exists() else added).append(course.roster.name)
    new_tickets = keep_roster(course, roster)
    enter_learners(course, read_roster(course.roster))
    return MadeCourse(course, tuple(added), tuple(kept), new_tickets)


def check_place(folder: Path) -> None:
    """Refuse a folder that is a file, or whose path the gradebook's address cannot hold."""
    bad = sorted({letter for letter in UNUSABLE_IN_PATH if letter in str(folder)})
    if bad:
        raise ClassroomError(
            f"{str(folder)!r} holds {' '.join(map(repr, bad))}, which the path of a class folder cannot. Name another."
        )
    if folder.exists() and not folder.is_dir():
        raise ClassroomError(f"{folder} is a file. Name a folder, new or empty, for the class.")


def make_private(folder: Path) -> None:
    """Make the course root, or close one that stands open, for its owner only."""
    folder.mkdir(mode=PRIVATE_FOLDER, parents=True, exist_ok=True)
    if folder.stat().st_mode & 0o077:
        folder.chmod(PRIVATE_FOLDER)


def shipped_files(course: CourseRoot) -> Iterator[tuple[Path, Path]]:
    """Yield each file that a course root starts with, and where it goes."""
    folder = shipped("instructors")
    yield folder / "nbgrader_config.py", course.config
    yield folder / "README.md", course.folder / "README.md"
    yield folder / INSTRUCTOR_PAGE, course.folder / INSTRUCTOR_PAGE
    for exercise in all_exercises():
        name = exercise.id
        yield folder / "source" / name / f"{name}.ipynb", course.source(name)
    yield usual_scheme_file(), course.usual_scheme


def keep_roster(course: CourseRoot, roster: Roster) -> tuple[str, ...]:
    """Write the roster when it is new or a ticket was missing; return who got one."""
    filled = fill_tickets(roster)
    without = tuple(row["learner_id"] for row in roster.rows if not row["ticket"])
    if without or not course.roster.exists():
        write_roster(course.roster, filled)
    course.roster.chmod(PRIVATE_FILE)
    return without
