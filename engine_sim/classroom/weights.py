"""The weights of a marking scheme as the points of the exercise's marked places: nbgrader keeps those."""

from __future__ import annotations

import nbformat

from engine_sim.classroom.course_root import CourseRoot, write_file
from engine_sim.marking import MARK_NAMES, load_marking_scheme


def follow_weights(course: CourseRoot, exercise: str) -> bool:
    """Give each marked place of the exercise the points that the scheme gives its mark; say whether any changed.

    The exercise must be made ready again by nbgrader after a change. A course root without its source is left alone.
    """
    place = course.source(exercise)
    if not place.is_file():
        return False
    notebook = nbformat.read(place, as_version=4)
    weights = load_marking_scheme(course.scheme(exercise)).weights
    changed = False
    for cell in notebook.cells:
        marking = cell.metadata.get("nbgrader", {})
        name = marking.get("grade_id")
        if name in MARK_NAMES and float(marking.get("points", 0.0)) != weights.of(name):
            marking["points"] = weights.of(name)
            changed = True
    if changed:
        write_file(place, nbformat.writes(notebook).encode("utf-8"))
    return changed
