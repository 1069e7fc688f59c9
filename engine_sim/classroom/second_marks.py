"""Marks that people give: a mark changed by the instructor, a second marker's marks, and how the two differ.

A changed mark goes into the register with its reason, and from there into nbgrader's gradebook as a mark set by hand,
so that the marking pages, the learner's page and every table show it. Each marking run puts it there again where it is
missing, as after an older gradebook was put back. A second marker's marks change nothing by themselves.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from nbgrader.api import Grade, Gradebook, MissingEntry

from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.course_root import ClassroomError, CourseRoot
from engine_sim.classroom.gradebook import Stored, open_gradebook, read_marks
from engine_sim.classroom.hand_in import read_logbook_file
from engine_sim.classroom.in_turn import in_turn
from engine_sim.classroom.register_of_marks import (
    CHANGED,
    SECOND,
    WEIGHT,
    MarkLine,
    add_lines,
    read_register,
)
from engine_sim.classroom.roster import read_roster
from engine_sim.classroom.worked_out import digest_of
from engine_sim.errors import OutOfRange, UnknownName

LONGEST_WORDS = 2_000
WRITTEN = "Written answer"


@dataclass(frozen=True, slots=True)
class Difference:
    """One mark by both markers [points]: ``first`` is the gradebook's, None while it waits."""

    learner_id: str
    exercise: str
    mark: str
    first: float | None
    second: float
    maximum: float
    second_marker: str
    reason: str
    of_this_hand_in: bool

    @property
    def points(self) -> float | None:
        """By how much the second marker gave more [points]."""
        return None if self.first is None else round(self.second - self.first, 2)

    def __str__(self) -> str:
        first = "not marked yet" if self.first is None else f"{self.first:g}"
        more = "" if not self.points else f" ({self.points:+g})"
        of = "" if self.of_this_hand_in else "; for an earlier hand-in"
        title = mark_title(self.exercise, self.mark)
        said = f"first {first}, second {self.second:g} of {self.maximum:g}{more}"
        return f"{self.learner_id}, {title}: {said}, by {self.second_marker}{of}"


def mark_title(exercise: str, mark: str) -> str:
    """Return what a mark of an exercise is called on paper."""
    return exercise_named(exercise).places.get(mark, WRITTEN)


def change_mark(
    course: CourseRoot, learner: str, exercise: str, mark: str, points: float, reason: str, who: str
) -> MarkLine:
    """Change one mark, with the reason and by whom; return the line of the register.

    Raises :class:`ClassroomError` without a reason or a name, or where nothing was marked yet; UnknownName and
    OutOfRange for a learner, exercise or mark that there is none of and for points that the mark cannot have.
    """
    why, by = _words(reason, "reason"), _words(who, "name of who changes it")
    with in_turn(course):
        stored = _marked(course, learner, exercise)
        line = _line(course, CHANGED, learner, exercise, mark, points, stored, why, by)
        add_lines(course, (line,))
        _into_gradebook(course, (line,))
    return line


def second_mark(
    course: CourseRoot, learner: str, exercise: str, points: Mapping[str, float], who: str, reason: str = ""
) -> tuple[MarkLine, ...]:
    """Keep a second marker's marks by name [points]; they change no mark. A reason is asked where one differs.

    Raises as :func:`change_mark` does.
    """
    by = _words(who, "name of the second marker")
    with in_turn(course):
        stored = _marked(course, learner, exercise)
        differs = any(stored.marks.get(mark) != given for mark, given in points.items())
        why = _words(reason, "reason for the difference") if differs else reason.strip()
        lines = tuple(
            _line(course, SECOND, learner, exercise, mark, given, stored, why, by) for mark, given in points.items()
        )
        add_lines(course, lines)
    return lines


def _words(text: str, what: str) -> str:
    plain = " ".join(text.split())
    if not plain:
        raise ClassroomError(
            f"No {what} was given. Give it in a few words, then give the mark again; none was changed."
        )
    if len(plain) > LONGEST_WORDS:
        raise ClassroomError(f"The {what} has {len(plain)} letters; at most {LONGEST_WORDS} are kept. Shorten it.")
    return plain


def _marked(course: CourseRoot, learner: str, exercise: str) -> Stored:
    """Return a learner's marks, or say in a sentence that there are none to change."""
    title = exercise_named(exercise, course.folder).title
    known = read_roster(course.roster).learners
    if learner not in known:
        raise UnknownName("learner", learner, known)
    stored = read_marks(course, learner, exercise)
    if not stored.marks:
        raise ClassroomError(
            f"Nothing of {learner} was marked in {title!r} yet, so there is no mark to give "
            "beside it. Mark the exercise first."
        )
    return stored


def _line(
    course: CourseRoot,
    kind: str,
    learner: str,
    exercise: str,
    mark: str,
    points: float,
    stored: Stored,
    reason: str,
    who: str,
) -> MarkLine:
    if mark not in stored.maxima:
        raise UnknownName("mark", mark, stored.maxima)
    highest = stored.maxima[mark]
    is_number = isinstance(points, int | float) and not isinstance(points, bool) and math.isfinite(points)
    if not is_number or not 0.0 <= points <= highest:
        raise OutOfRange(f"{mark_title(exercise, mark)} of {learner}", points, 0.0, highest, "points")
    when = datetime.now(UTC).isoformat(timespec="seconds")
    digest = hand_in_digest(course, learner, exercise)
    given = float(points)
    return MarkLine(kind, learner, exercise, mark, given, highest, stored.marks[mark], reason, who, when, digest)


def hand_in_digest(course: CourseRoot, learner: str, exercise: str) -> str:
    """Return a digest of the logbook that lies handed in; empty where none can be read."""
    data, _ = read_logbook_file(course.submitted(learner, exercise), exercise)
    return "" if data is None else digest_of(data)


# ---- the gradebook --------------------------------------------------------------------------------------------------


def latest_changes(course: CourseRoot, learner: str, exercise: str) -> dict[str, MarkLine]:
    """Return, by mark, the line that holds: the latest change, with the weight it followed since."""
    lines = read_register(course).of(learner, exercise)
    return {line.mark: line for line in lines if line.kind in (CHANGED, WEIGHT)}


def apply_changes(course: CourseRoot, learner: str, exercise: str) -> tuple[str, ...]:
    """Put a learner's changed marks into the gradebook again after marking; return findings for the instructor.

    A mark that somebody gave in the marking pages since is left as it is. One that was changed for an earlier hand-in
    no longer counts: its line stays in the register, and a finding says so.
    """
    held = tuple(latest_changes(course, learner, exercise).values())
    if not held:
        return ()
    now = hand_in_digest(course, learner, exercise)
    with open_gradebook(course) as gradebook:
        findings = [_apply(course, gradebook, line, line.hand_in == now) for line in held]
        gradebook.db.commit()
    return tuple(finding for finding in findings if finding)


def _apply(course: CourseRoot, gradebook: Gradebook, line: MarkLine, of_this_hand_in: bool) -> str:
    """Bring one changed mark into the gradebook; return what an instructor should know, or an empty text."""
    grade = _grade(gradebook, line)
    title = mark_title(line.exercise, line.mark)
    if grade is None:
        return f"the mark {title} that {line.who} changed is not in the gradebook any more"
    if not of_this_hand_in:
        if grade.manual_score == line.points:
            grade.manual_score, grade.needs_manual_grade = None, grade.auto_score is None
        given = f"{line.points:g} of {line.maximum:g}"
        return (
            f"{title} was changed to {given} by {line.who} for an earlier hand-in; it counts no more. Look at it again"
        )
    if grade.manual_score not in (None, line.points):
        return ""
    highest = float(grade.max_score)
    if highest != line.maximum and line.maximum > 0:
        line = _with_weight(course, line, highest)
    if grade.manual_score != line.points:
        _set(gradebook, grade, line)
    elif grade.auto_score is not None:
        grade.needs_manual_grade = False
    return ""


def _with_weight(course: CourseRoot, line: MarkLine, highest: float) -> MarkLine:
    """Return a changed mark as the same share of a new weight [points]; the register says that it followed."""
    when = datetime.now(UTC).isoformat(timespec="seconds")
    scaled = round(line.points * highest / line.maximum, 2)
    kept = (line.learner_id, line.exercise, line.mark)
    new = MarkLine(WEIGHT, *kept, scaled, highest, line.points, line.reason, line.who, when, line.hand_in)
    add_lines(course, (new,))
    return new


def _into_gradebook(course: CourseRoot, lines: tuple[MarkLine, ...]) -> None:
    """Set marks by hand in the gradebook."""
    with open_gradebook(course) as gradebook:
        for line in lines:
            grade = _grade(gradebook, line)
            if grade is not None:
                _set(gradebook, grade, line)
        gradebook.db.commit()


def _grade(gradebook: Gradebook, line: MarkLine) -> Grade | None:
    try:
        return gradebook.find_grade(line.mark, line.exercise, line.exercise, line.learner_id)
    except MissingEntry:
        return None


def _set(gradebook: Gradebook, grade: Grade, line: MarkLine) -> None:
    """Set one mark by hand; a written answer's reason goes with it as the comment, which is its place in nbgrader."""
    grade.manual_score, grade.needs_manual_grade = line.points, False
    try:
        comment = gradebook.find_comment(line.mark, line.exercise, line.exercise, line.learner_id)
    except MissingEntry:
        return
    said = comment.manual_comment or ""
    if line.reason not in said:
        comment.manual_comment = f"{said}\n{line.reason}".strip()


def reason_to_show(course: CourseRoot, learner: str, exercise: str, mark: str, points: float) -> str:
    """Return the reason that the learner's page gives for a changed mark that holds [points], or an empty text."""
    line = latest_changes(course, learner, exercise).get(mark)
    return line.reason if line is not None and math.isclose(line.points, points, abs_tol=0.005) else ""


# ---- two markers ----------------------------------------------------------------------------------------------------


def differences(course: CourseRoot, exercise: str) -> tuple[Difference, ...]:
    """Return every second mark of an exercise beside the first, the latest of each second marker."""
    exercise_named(exercise, course.folder)
    latest: dict[tuple[str, str, str], MarkLine] = {}
    for line in read_register(course).lines:
        if line.kind == SECOND and line.exercise == exercise:
            latest[line.learner_id, line.mark, line.who] = line
    stored = {name: read_marks(course, name, exercise) for name in dict.fromkeys(key[0] for key in latest)}
    digests = {name: hand_in_digest(course, name, exercise) for name in stored}
    return tuple(
        Difference(
            line.learner_id,
            exercise,
            line.mark,
            stored[line.learner_id].marks.get(line.mark),
            line.points,
            stored[line.learner_id].maxima.get(line.mark, line.maximum),
            line.who,
            line.reason,
            digests[line.learner_id] == line.hand_in,
        )
        for line in latest.values()
    )
