"""nbgrader's gradebook of a course root: opened so that it works from any window, and closed to others."""

from __future__ import annotations

import os
import warnings
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from nbgrader import api
from nbgrader.api import Gradebook, InvalidEntry, MissingEntry
from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError, SAWarning

from engine_sim.classroom.course_root import COURSE_ID, PRIVATE_FILE, ClassroomError, CourseRoot
from engine_sim.classroom.own_folder import plain_reason
from engine_sim.classroom.own_programs import path_with_own_programs
from engine_sim.classroom.roster import Roster

TROUBLES = {
    "database is locked": "another program has been writing in it all the time. Wait until it has finished, or stop it",
    "disk is full": "the disk is full. Make room",
    "readonly database": "it may not be written. See that you may write the file and its folder",
    "unable to open": "it cannot be opened. See that you may write the file and its folder",
    "disk I/O": "the disk does not answer as it should. Look after the disk",
    "malformed": "it is damaged. Put back a copy of it",
    "not a database": "it is damaged. Put back a copy of it",
}
"""What the gradebook says when it cannot be used, and what that means."""


class GradebookTrouble(ClassroomError):
    """The gradebook cannot be read or written now; what was in it is there still."""


def in_plain_words(course: CourseRoot, problem: Exception) -> GradebookTrouble | None:
    """Return in a sentence why the gradebook could not be used, or None where it was not its file's fault."""
    said = str(problem)
    for sign, meaning in TROUBLES.items():
        if sign in said:
            return GradebookTrouble(
                f"The gradebook {course.gradebook} cannot be used: {meaning}, then do this again. "
                "No mark that was in it is lost."
            )
    return None


def gradebook_address(course: CourseRoot) -> str:
    """Return the gradebook's address as nbgrader wants it: it waits up to a minute for another writer."""
    return f"sqlite:///{course.gradebook}?timeout=60"


@contextmanager
def tools_at_hand() -> Iterator[None]:
    """Let nbgrader find the tool it starts for a new gradebook, also where the environment was not activated.

    It is also kept from warning about its own use of the database.
    """
    before = os.environ.get("PATH")
    os.environ["PATH"] = path_with_own_programs()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", SAWarning)
            yield
    finally:
        if before is None:
            del os.environ["PATH"]
        else:
            os.environ["PATH"] = before


@contextmanager
def one_engine_for_all() -> Iterator[None]:
    """Let nbgrader open a gradebook again and again without building each of its queries anew.

    It opens one some fifteen times a hand-in, each time with an engine of its own that knows no query yet; here they
    share one, which takes the time that nbgrader needs down to a half.
    """
    make = api.create_engine
    made: dict[str, Engine] = {}

    def kept_engine(address: str, **options: object) -> Engine:
        if address not in made:
            made[address] = make(address, **options)
        return made[address]

    api.create_engine = kept_engine
    try:
        yield
    finally:
        api.create_engine = make
        for engine in made.values():
            engine.dispose()


@contextmanager
def open_gradebook(course: CourseRoot) -> Iterator[Gradebook]:
    """Open the gradebook of a course root; it is made when missing, for its owner only.

    Raises :class:`GradebookTrouble` where its file cannot be used, after waiting for another program that writes in it.
    """
    try:
        os.close(os.open(course.gradebook, os.O_RDWR | os.O_CREAT, PRIVATE_FILE))
        course.gradebook.chmod(PRIVATE_FILE)
    except OSError as problem:
        raise GradebookTrouble(
            f"The gradebook {course.gradebook} cannot be opened: {plain_reason(problem)}. Nothing was changed."
        ) from problem
    try:
        with tools_at_hand(), Gradebook(gradebook_address(course), COURSE_ID) as gradebook:
            yield gradebook
    except (DBAPIError, InvalidEntry) as problem:
        trouble = in_plain_words(course, problem)
        if trouble is None:
            raise
        raise trouble from problem


def enter_learners(course: CourseRoot, roster: Roster) -> None:
    """Enter everyone on the roster in the gradebook."""
    with open_gradebook(course) as gradebook:
        for learner in roster.learners.values():
            gradebook.update_or_create_student(
                learner.learner_id, first_name=learner.first_name, last_name=learner.last_name
            )


def is_in_gradebook(course: CourseRoot, exercise: str) -> bool:
    """Say whether the gradebook knows the exercise."""
    with open_gradebook(course) as gradebook:
        return any(assignment.name == exercise for assignment in gradebook.assignments)


@dataclass(frozen=True, slots=True)
class Stored:
    """What the gradebook holds of a hand-in: marks by name (None: waits for an instructor) and their maxima [points].

    ``late_s`` is how late it was handed in [s].
    """

    marks: dict[str, float | None] = field(default_factory=dict)
    maxima: dict[str, float] = field(default_factory=dict)
    late_s: float = 0.0

    @property
    def waiting(self) -> int:
        """How many marks wait for an instructor."""
        return sum(mark is None for mark in self.marks.values())


def read_marks(course: CourseRoot, learner: str, exercise: str) -> Stored:
    """Return what the gradebook holds of a learner's hand-in."""
    return read_all_marks(course, (learner,), exercise)[learner]


def read_all_marks(course: CourseRoot, learners: Iterable[str], exercise: str) -> dict[str, Stored]:
    """Return what the gradebook holds of some learners' hand-ins of an exercise, by learner, read at one moment."""
    with open_gradebook(course) as gradebook:
        return {learner: _stored(gradebook, learner, exercise) for learner in learners}


def _stored(gradebook: Gradebook, learner: str, exercise: str) -> Stored:
    try:
        submission = gradebook.find_submission(exercise, learner)
    except MissingEntry:
        return Stored()
    grades = [grade for notebook in submission.notebooks for grade in notebook.grades]
    marks = {grade.name: None if grade.needs_manual_grade else float(grade.score) for grade in grades}
    maxima = {grade.name: float(grade.max_score) for grade in grades}
    return Stored(marks, maxima, float(submission.total_seconds_late))
