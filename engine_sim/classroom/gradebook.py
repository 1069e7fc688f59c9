"""nbgrader's gradebook of a course root: opened so that it works from any window, and closed to others."""

from __future__ import annotations

import os
import warnings
from collections.abc import Iterator
from contextlib import contextmanager

from nbgrader.api import Gradebook, MissingEntry
from sqlalchemy.exc import SAWarning

from engine_sim.classroom.course_root import COURSE_ID, PRIVATE_FILE, CourseRoot
from engine_sim.classroom.own_programs import path_with_own_programs
from engine_sim.classroom.roster import Roster


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
def open_gradebook(course: CourseRoot) -> Iterator[Gradebook]:
    """Open the gradebook of a course root; it is made when missing, for its owner only."""
    os.close(os.open(course.gradebook, os.O_RDWR | os.O_CREAT, PRIVATE_FILE))
    course.gradebook.chmod(PRIVATE_FILE)
    with tools_at_hand(), Gradebook(gradebook_address(course), COURSE_ID) as gradebook:
        yield gradebook


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


def read_maxima(course: CourseRoot, exercise: str) -> dict[str, float]:
    """Return the most that each mark of an exercise can be [points], by grade id."""
    with open_gradebook(course) as gradebook:
        cells = [cell for notebook in gradebook.find_assignment(exercise).notebooks for cell in notebook.grade_cells]
        return {cell.name: float(cell.max_score) for cell in cells}


def read_marks(course: CourseRoot, learner: str, exercise: str) -> tuple[dict[str, float | None], int, float]:
    """Return a learner's marks by grade id, how many wait for an instructor, and the lateness [s]."""
    with open_gradebook(course) as gradebook:
        try:
            submission = gradebook.find_submission(exercise, learner)
        except MissingEntry:
            return {}, 0, 0.0
        grades = [grade for notebook in submission.notebooks for grade in notebook.grades]
        marks = {grade.name: None if grade.needs_manual_grade else float(grade.score) for grade in grades}
        return marks, sum(grade.needs_manual_grade for grade in grades), float(submission.total_seconds_late)
