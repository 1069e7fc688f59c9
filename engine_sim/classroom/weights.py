"""The weights of a marking scheme: chosen for an exercise, stated on its page, and the points of its places."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import nbformat

from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.course_root import ClassroomError, CourseRoot, write_file
from engine_sim.classroom.in_turn import in_turn
from engine_sim.classroom.pass_line import points_in_words, restated
from engine_sim.classroom.reweighing import reweighed
from engine_sim.marking import MARK_NAMES, load_marking_scheme
from engine_sim.marking.scheme import parse_marking_scheme


@dataclass(frozen=True, slots=True)
class Weighed:
    """The points of an exercise's marks in words, whether they were changed, and how many had handed in by then."""

    title: str
    points: str
    changed: bool
    handed_in: int

    @property
    def note(self) -> str:
        """What the change asks of the instructor."""
        if not self.changed:
            return "Nothing is changed."
        if self.handed_in:
            return f"{self.handed_in} handed in before the points were changed: tell them, and mark again."
        return "Pack the exercise and give it to your learners: what they have already states the earlier points."

    def __str__(self) -> str:
        return f"{self.title}: {self.points}. {self.note}"


def choose_weights(course: CourseRoot, exercise: str, weights: Mapping[str, float]) -> Weighed:
    """Give the marks of an exercise other weights [points].

    They stand in a scheme of its own (``marking/NAME.toml``) and on the exercise's page. Raises UnknownName for an
    exercise that the class has none of, ClassroomError for the sums, BadMarkingScheme for a weight that cannot be.
    """
    found = exercise_named(exercise, course.folder)
    if found.pool is None:
        raise ClassroomError(f"{found.title} has 2 points for each sum and no weights. Name an exercise at an engine.")
    with in_turn(course):
        before = load_marking_scheme(course.scheme(exercise))
        text = reweighed(course.scheme(exercise).read_text("utf-8"), exercise, weights)
        scheme = parse_marking_scheme(text)
        changed = scheme.weights != before.weights
        if changed:
            write_file(course.own_scheme(exercise), text.encode("utf-8"))
        follow_weights(course, exercise)
    return Weighed(found.title, points_in_words(scheme), changed, len(course.handed_in(exercise)))


def follow_weights(course: CourseRoot, exercise: str) -> bool:
    """Give each marked place the points that the scheme gives its mark, and the page its words; say whether it changed.

    The exercise must be made ready again by nbgrader after a change. A course root without its source is left alone.
    """
    place = course.source(exercise)
    if not place.is_file():
        return False
    notebook = nbformat.read(place, as_version=4)
    scheme = load_marking_scheme(course.scheme(exercise))
    changed = False
    for cell in notebook.cells:
        marking = cell.metadata.get("nbgrader", {})
        name = marking.get("grade_id")
        if name in MARK_NAMES and float(marking.get("points", 0.0)) != scheme.weights.of(name):
            marking["points"] = scheme.weights.of(name)
            changed = True
        if cell.cell_type == "markdown" and restated(cell.source, scheme) != cell.source:
            cell.source = restated(cell.source, scheme)
            changed = True
    if changed:
        write_file(place, nbformat.writes(notebook).encode("utf-8"))
    return changed
