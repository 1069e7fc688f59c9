"""Marks that an instructor set by hand: they stay settled through another marking run while the answer is the same.

nbgrader asks for another look at every hand mark after each run, whether or not anything changed.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import nbformat
from nbgrader.api import MissingEntry
from nbgrader.utils import is_solution

from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.gradebook import open_gradebook


@contextmanager
def hand_marks_kept(course: CourseRoot, learner: str, exercise: str) -> Iterator[None]:
    """Keep the settled hand marks of a learner settled over what is done inside, where the answer stays the same."""
    settled, before = _settled(course, learner, exercise), _answers(course, learner, exercise)
    yield
    after = _answers(course, learner, exercise)
    same = {name for name in settled if before.get(name) == after.get(name)}
    if not same:
        return
    with open_gradebook(course) as gradebook:
        submission = gradebook.find_submission(exercise, learner)
        for grade in (grade for notebook in submission.notebooks for grade in notebook.grades):
            if grade.name in same:
                grade.needs_manual_grade = False
        gradebook.db.commit()


def _settled(course: CourseRoot, learner: str, exercise: str) -> set[str]:
    """Return the names of the marks that were set by hand and need no other look."""
    with open_gradebook(course) as gradebook:
        try:
            submission = gradebook.find_submission(exercise, learner)
        except MissingEntry:
            return set()
        grades = [grade for notebook in submission.notebooks for grade in notebook.grades]
        return {grade.name for grade in grades if grade.manual_score is not None and not grade.needs_manual_grade}


def _answers(course: CourseRoot, learner: str, exercise: str) -> dict[str, str]:
    """Return the written answers of the marked copy by their names."""
    place = course.autograded(learner, exercise) / f"{exercise}.ipynb"
    if not place.is_file():
        return {}
    cells = nbformat.read(place, as_version=4).cells
    return {cell.metadata["nbgrader"]["grade_id"]: cell.source for cell in cells if is_solution(cell)}
