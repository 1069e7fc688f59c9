"""What a class handed in, as a report reads it: the kept facts, with the marks that the gradebook holds by now."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from nbgrader.api import Assignment, BaseCell, Grade, GradeCell, Student, SubmittedAssignment, SubmittedNotebook

from engine_sim.classroom.course_plan import Exercise, all_exercises
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.gradebook import open_gradebook
from engine_sim.classroom.hand_in import parse_json
from engine_sim.classroom.pass_line import has_passed
from engine_sim.classroom.roster import Learner, read_roster
from engine_sim.marking import TITLES, Mark, MarkingScheme, load_marking_scheme
from engine_sim.marking.facts import Facts, facts_from

LAST = 10_000
"""The number of an exercise that the course does not know: behind all others."""
Marks = dict[tuple[str, str], dict[str, Mark | None]]
"""Marks by (learner, exercise) and name; None waits for an instructor."""


@dataclass(frozen=True)
class HandIn:
    """One hand-in: whose, of which exercise, its facts, its marks by name [points], and how many are still to come."""

    learner: str
    exercise: str
    facts: Facts
    marks: Mapping[str, Mark]
    waiting: int = 0
    passed: bool = False

    @cached_property
    def score(self) -> float:
        """All the marks together [points]."""
        return sum(mark.score for mark in self.marks.values())

    @cached_property
    def maximum(self) -> float:
        """The most that they can be together [points]."""
        return sum(mark.maximum for mark in self.marks.values())

    @property
    def share(self) -> float:
        """The marks as a share of what they can be [0..1]."""
        return self.score / self.maximum if self.maximum > 0.0 else 0.0

    def share_without(self, names: Iterable[str]) -> float | None:
        """Return the share that the other marks have together [0..1], or None where there is no other."""
        left_out = set(names)
        rest = [mark for name, mark in self.marks.items() if name not in left_out]
        most = sum(mark.maximum for mark in rest)
        return sum(mark.score for mark in rest) / most if most > 0.0 else None


@dataclass(frozen=True)
class ClassWork:
    """All that a class handed in: learners by id in the roster's order, exercises in the course's, hand-ins.

    ``absent`` are those of whom nothing came, ``unmarked`` those whose hand-in is not marked yet, by exercise.
    """

    learners: Mapping[str, Learner]
    exercises: tuple[Exercise, ...]
    hand_ins: tuple[HandIn, ...]
    absent: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    unmarked: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    schemes: Mapping[str, MarkingScheme] = field(default_factory=dict)

    def of(self, exercise: str) -> list[HandIn]:
        """Return the hand-ins of an exercise, in the roster's order."""
        return [one for one in self.hand_ins if one.exercise == exercise]


def read_class(course: CourseRoot, exercises: Sequence[str] | None = None) -> ClassWork:
    """Return what the class handed in of some exercises, or of all of which anything was marked or handed in.

    Raises RosterError for a roster, BadMarkingScheme for a scheme that cannot be used.
    """
    learners = read_roster(course.roster).learners
    names = handed_in_names(course) if exercises is None else tuple(exercises)
    chosen = tuple(sorted((exercise_or_unknown(name, course.folder) for name in names), key=lambda one: one.number))
    marks = all_marks(course)
    found: list[HandIn] = []
    absent: dict[str, tuple[str, ...]] = {}
    unmarked: dict[str, tuple[str, ...]] = {}
    schemes = {one.id: load_marking_scheme(course.scheme(one.id)) for one in chosen}
    for one in chosen:
        facts = {name: kept_facts(course.worked_out(one.id, name)) for name in learners}
        for name, fact in facts.items():
            if fact is not None:
                found.append(hand_in_of(name, fact, one.id, marks.get((name, one.id)), schemes[one.id]))
        missing = [name for name, fact in facts.items() if fact is None]
        unmarked[one.id] = tuple(name for name in missing if course.submitted(name, one.id).is_dir())
        absent[one.id] = tuple(name for name in missing if name not in unmarked[one.id])
    return ClassWork(learners, chosen, tuple(found), absent, unmarked, schemes)


def handed_in_names(course: CourseRoot) -> tuple[str, ...]:
    """Return the exercises of which anything was handed in or is marked."""
    places = [*course.folder.glob("worked_out/[!.]*/"), *course.folder.glob("submitted/[!.]*/[!.]*/")]
    return tuple(sorted({place.name for place in places if place.is_dir()}))


def exercise_or_unknown(name: str, folder: Path) -> Exercise:
    """Return an exercise of the course or of the class in ``folder``, or one that is no longer known: no objectives."""
    known = {one.id: one for one in all_exercises(folder)}
    return known.get(name) or Exercise(name, LAST, name.replace("_", " "), 0, (), TITLES)


def kept_facts(place: Path) -> Facts | None:
    """Return the facts of a hand-in that was worked out, or None where there are none that can be read."""
    found = parse_json(place.read_bytes()) if place.is_file() else None
    if not isinstance(found, dict) or not isinstance(found.get("facts"), dict):
        return None
    try:
        return facts_from(found["facts"])
    except (TypeError, LookupError):
        return None


def hand_in_of(
    learner: str, facts: Facts, exercise: str, stored: Mapping[str, Mark | None] | None, scheme: MarkingScheme
) -> HandIn:
    """Return a hand-in with the marks of the gradebook, or, where that holds none, with those of the logbook."""
    own = {one.name: Mark(one.score, one.maximum) for one in facts.marks}
    marks = {name: mark for name, mark in (stored or {}).items() if mark is not None}
    if not set(own) <= set(marks):
        marks = own | marks
    waiting = sum(mark is None for mark in (stored or {}).values())
    counted = {name: marks[name] for name in own}
    passed = bool(counted) and has_passed(counted, scheme, tuple(one.text for one in facts.hard_fails))
    return HandIn(learner, exercise, facts, marks, waiting, passed)


def all_marks(course: CourseRoot) -> Marks:
    """Return every mark that the gradebook holds, asked for at once; nothing where there is no gradebook."""
    found: Marks = {}
    if not course.gradebook.is_file():
        return found
    cells, graded = BaseCell.__table__, GradeCell.__table__
    with open_gradebook(course) as gradebook:
        asked = gradebook.db.query(
            Student.id, Assignment.name, cells.c.name, Grade.score, graded.c.max_score, Grade.needs_manual_grade
        ).select_from(Grade)
        asked = asked.join(SubmittedNotebook, Grade.notebook_id == SubmittedNotebook.id)
        asked = asked.join(SubmittedAssignment, SubmittedNotebook.assignment_id == SubmittedAssignment.id)
        asked = asked.join(Student, SubmittedAssignment.student_id == Student.id)
        asked = asked.join(Assignment, SubmittedAssignment.assignment_id == Assignment.id)
        asked = asked.join(cells, Grade.cell_id == cells.c.id).join(graded, graded.c.id == cells.c.id)
        for learner, exercise, name, score, most, waits in asked.all():
            mark = None if waits else Mark(float(score), float(most))
            found.setdefault((learner, exercise), {})[name] = mark
    return found
