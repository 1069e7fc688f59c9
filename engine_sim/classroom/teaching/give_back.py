"""The learners' pages given back through nbgrader's exchange, to those who handed in through it."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from engine_sim.classroom.course_root import ClassroomError, CourseRoot
from engine_sim.classroom.mark_submissions import course_inbound, handed_in_exercises, refuse_failure
from engine_sim.classroom.settings import open_nbgrader
from engine_sim.classroom.tidying import SECRET


@dataclass(slots=True)
class GivenBack:
    """Which pages went out, each as learner and exercise, and which are to be given by hand."""

    released: list[tuple[str, str]] = field(default_factory=list)
    by_hand: list[tuple[str, str]] = field(default_factory=list)

    def __str__(self) -> str:
        said = f"Released: {len(self.released)} pages; learners fetch them with nbgrader."
        if not self.by_hand:
            return said
        came: dict[str, list[str]] = {}
        for learner, exercise in self.by_hand:
            came.setdefault(exercise, []).append(learner)
        left = "\n".join(f"  {exercise}: {', '.join(learners)}" for exercise, learners in came.items())
        return f"{said} These came by file: give them theirs by hand, from the folder feedback.\n{left}"


def give_back(course: CourseRoot) -> GivenBack:
    """Release every learner's page that was marked, in place of one released before.

    Raises :class:`ClassroomError` where this machine has no exchange, where nothing was marked yet, and where nbgrader
    could not release a page.
    """
    nbgrader = open_nbgrader(course)
    if not nbgrader.exchange_is_functional:
        raise ClassroomError(
            "This machine has no folder through which accounts can exchange exercises. Give each learner the page "
            "from the folder feedback by hand."
        )
    done, secrets = GivenBack(), _secrets_in(course_inbound(nbgrader))
    for exercise in handed_in_exercises(course):
        for learner in course.handed_in(exercise):
            page = course.feedback_page(learner, exercise)
            if not page.is_file():
                continue
            if _secret(page.parent) not in secrets:
                done.by_hand.append((learner, exercise))
                continue
            refuse_failure(nbgrader.release_feedback(exercise, learner), f"{learner}'s page could not be released")
            done.released.append((learner, exercise))
    if not (done.released or done.by_hand):
        raise ClassroomError("Nothing was marked yet, so there is no page to give back. Mark first.")
    return done


def _secrets_in(inbound: Path) -> frozenset[str]:
    """Return the secrets of all hand-ins in the exchange: by its secret nbgrader finds a learner's page again."""
    return frozenset(filter(None, map(_secret, inbound.glob("*")))) if inbound.is_dir() else frozenset()


def _secret(folder: Path) -> str:
    try:
        return (folder / SECRET).read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return ""
