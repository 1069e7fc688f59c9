"""Marking everything that was handed in, so that one bad hand-in stops or changes no other.

The logbooks are worked out on all cores by helpers; nbgrader's own steps, which take the results from there, and the
gradebook are this process's alone, one learner at a time.
"""

from __future__ import annotations

import csv
import io
import sys
import time
from collections.abc import Callable, Iterable
from concurrent.futures import Future
from pathlib import Path
from typing import TextIO

from nbgrader.apps import NbGraderAPI

from engine_sim.classroom.course_plan import all_exercises, announce_own, damaged_own, exercise_named
from engine_sim.classroom.course_root import (
    COURSE_ID,
    ClassroomError,
    CourseRoot,
    find_course_root,
    write_file,
)
from engine_sim.classroom.gradebook import (
    enter_learners,
    is_in_gradebook,
    one_engine_for_all,
    read_marks,
    tools_at_hand,
)
from engine_sim.classroom.hand_in import is_plain_folder
from engine_sim.classroom.hand_marks import hand_marks_kept
from engine_sim.classroom.helpers import Helpers
from engine_sim.classroom.in_turn import in_turn
from engine_sim.classroom.intake import Noticed, read_noticed
from engine_sim.classroom.marking_steps import FINDINGS_FILE
from engine_sim.classroom.marks_table import HARD_FAIL, MarkingRun, Row, table
from engine_sim.classroom.pass_line import has_passed
from engine_sim.classroom.roster import Roster, read_roster
from engine_sim.classroom.second_marks import apply_changes
from engine_sim.classroom.settings import open_nbgrader
from engine_sim.classroom.tidying import tidy
from engine_sim.classroom.weights import follow_weights
from engine_sim.classroom.worked_out import kept, look_at
from engine_sim.marking import Mark, load_marking_scheme
from engine_sim.units import HOUR_S, duration_text

FAILURES = {
    "No space left on device": "the disk is full. Make room, then mark again",
    "disk is full": "the disk is full. Make room, then mark again",
    "database is locked": "another program has been writing in the gradebook all the time. Stop it, then mark again",
}
"""What nbgrader says when the disk or the gradebook refuses, and what that means."""
Progress = Callable[[int, int, str], None]


def mark_course(directory: str | Path, exercise: str, progress: Progress | None = None) -> MarkingRun:
    """Collect and mark everything handed in for an exercise, write feedback pages and findings.

    ``progress`` is told how many are done, of how many, and whose turn it is. Running again gives the same marks.
    Raises :class:`ClassroomError` or :class:`BadMarkingScheme` when the course root cannot be marked at all.
    """
    course = find_course_root(directory)
    announce_own(course.folder)
    load_marking_scheme(course.scheme(exercise))
    roster = read_roster(course.roster)
    with tools_at_hand(), one_engine_for_all():
        with in_turn(course):
            enter_learners(course, roster)
        run = mark_everyone(course, roster, exercise, progress)
    write_findings(run)
    return run


def mark_everyone(course: CourseRoot, roster: Roster, exercise: str, progress: Progress | None) -> MarkingRun:
    """Collect, have the logbooks worked out, and mark one learner after the other."""
    nbgrader = open_nbgrader(course)
    with in_turn(course):
        noticed = gather(nbgrader, course, exercise)
    known = [name for name in course.handed_in(exercise) if name in roster.learners]
    noticed += strangers(course, exercise, roster)
    rows = []
    with Helpers(course) as helpers:
        with in_turn(course):
            results = {learner: worked_out_by(helpers, course, learner, exercise) for learner in known}
        for number, learner in enumerate(known):
            if progress:
                progress(number, len(known), learner)
            result = results.pop(learner)
            if result is not None:
                result.result()
            own = tuple(item.text for item in noticed if item.learner_id == learner)
            with in_turn(course):
                rows.append(mark_one(nbgrader, course, learner, exercise, own))
    others = tuple(item for item in noticed if item.learner_id not in known)
    absent = tuple(name for name in roster.learners if name not in known)
    return MarkingRun(course, exercise, tuple(rows), others, absent)


def worked_out_by(helpers: Helpers, course: CourseRoot, learner: str, exercise: str) -> Future[None] | None:
    """Have a hand-in worked out, unless a sound result of exactly this hand-in is kept from a run before."""
    if not is_plain_folder(course.submitted(learner, exercise)):
        return None
    tidy(course, learner, exercise)
    looked_at = look_at(course, learner, exercise)
    before = kept(course, looked_at)
    return None if before is not None and not before.given_up else helpers.start(looked_at)


def gather(nbgrader: NbGraderAPI, course: CourseRoot, exercise: str) -> list[Noticed]:
    """Make sure the exercise is in the gradebook, with the scheme's weights, and collect what lies in the exchange."""
    reweighed = follow_weights(course, exercise)
    if reweighed or not course.release(exercise).is_file() or not is_in_gradebook(course, exercise):
        refuse_failure(nbgrader.generate_assignment(exercise), f"{exercise} could not be made ready to hand out")
    if not nbgrader.exchange_is_functional or not course_inbound(nbgrader).is_dir():
        return []
    refuse_failure(nbgrader.collect(exercise, update=True), "hand-ins could not be collected from the exchange")
    return read_noticed(course, exercise)


def course_inbound(nbgrader: NbGraderAPI) -> Path:
    """Return the folder of the exchange in which hand-ins arrive."""
    return Path(nbgrader.exchange_root, COURSE_ID, "inbound")


def refuse_failure(result: dict[str, object], what: str) -> None:
    """Raise :class:`ClassroomError` with nbgrader's last word when a step for the whole class failed."""
    if not result["success"]:
        raise ClassroomError(f"{what}: {last_word(result)}")


def last_word(result: dict[str, object]) -> str:
    """Return the last line of what nbgrader said about a failure."""
    lines = [line.strip() for line in str(result.get("error", "")).splitlines() if line.strip()]
    return lines[-1] if lines else "no reason was given"


def strangers(course: CourseRoot, exercise: str, roster: Roster) -> list[Noticed]:
    """Return a finding for each hand-in in a name that is not on the roster."""
    text = "is not on the roster; the hand-in was not marked. Add a line to roster.csv, run teach, then mark again"
    return [Noticed(name, f"{name} {text}") for name in course.handed_in(exercise) if name not in roster.learners]


def mark_one(nbgrader: NbGraderAPI, course: CourseRoot, learner: str, exercise: str, noticed: Iterable[str]) -> Row:
    """Mark one learner's hand-in and write the feedback page."""
    findings = list(noticed)
    if not is_plain_folder(course.submitted(learner, exercise)):
        findings.append("the handed-in folder is a link; it was not marked")
        return Row(learner, {}, 0, tuple(findings))
    with hand_marks_kept(course, learner, exercise):
        result = nbgrader.autograde(exercise, learner, force=True, create=False)
    if not result["success"]:
        return Row(learner, {}, 0, (*findings, f"could not be marked: {failure_of(result)}"))
    place = course.autograded(learner, exercise) / FINDINGS_FILE
    findings += place.read_text(encoding="utf-8").splitlines()
    findings += apply_changes(course, learner, exercise)
    feedback = nbgrader.generate_feedback(exercise, learner, force=True)
    if not feedback["success"]:
        findings.append(f"no feedback page could be written: {failure_of(feedback)}")
    return row_of(course, learner, exercise, findings)


def row_of(course: CourseRoot, learner: str, exercise: str, findings: list[str]) -> Row:
    """Return a learner's line of the table from the gradebook, with what fails by itself."""
    stored = read_marks(course, learner, exercise)
    if stored.late_s > 0:
        findings.append(f"handed in {stored.late_s / HOUR_S:.1f} hours late")
    result = kept(course, look_at(course, learner, exercise))
    fails = result.hard_fails if result else ()
    findings += [f"{HARD_FAIL}: {text}" for text in fails]
    places = exercise_named(exercise, course.folder).places
    scores = {name: Mark(stored.marks.get(name) or 0.0, stored.maxima[name]) for name in places}
    scheme = load_marking_scheme(course.scheme(exercise))
    passed = has_passed(scores, scheme, fails)
    return Row(learner, stored.marks, stored.waiting, tuple(dict.fromkeys(findings)), passed, fails, tuple(places))


def failure_of(result: dict[str, object]) -> str:
    """Return the line of nbgrader's log that names what went wrong."""
    lines = [line.strip() for line in str(result.get("log", "")).splitlines() if line.strip()]
    errors = [line for line in lines if not line.startswith("[") and "Error" in line.split(":", 1)[0]]
    last = errors[-1] if errors else last_word(result)
    return next((words for sign, words in FAILURES.items() if sign in last), last)


def write_findings(run: MarkingRun) -> None:
    """Keep the findings of a run in the course root."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(("learner_id", "finding"))
    writer.writerows((row.learner_id, finding) for row in run.rows for finding in row.findings)
    writer.writerows((item.learner_id, item.text) for item in run.others)
    write_file(run.course.findings(run.exercise), text.getvalue().encode("utf-8"))


def mark_submissions(directory: str | Path, exercise: str = "", out: TextIO | None = None) -> int:
    """Mark one exercise, or every one that was handed in, showing progress and a table each.

    Returns 0, or 1 when something needs a look. Raises UnknownName for an exercise that there is none of.
    """
    screen = out or sys.stdout
    if exercise:
        exercise_named(exercise, find_course_root(directory).folder)
    course = find_course_root(directory)
    exercises = (exercise,) if exercise else handed_in_exercises(course)
    runs = [mark_showing(directory, name, screen) for name in exercises]
    damaged = {} if exercise else damaged_own(course.folder)
    for name, why in damaged.items():
        print(f"{name}: nothing was marked, since the exercise's own file cannot be used. {why}", file=screen)
    if not damaged and not any(run.rows or run.others for run in runs):
        print("Nothing has been handed in yet.", file=screen)
    return 1 if damaged or any(run.needs_a_look for run in runs) else 0


def handed_in_exercises(course: CourseRoot) -> tuple[str, ...]:
    """Return the exercises of which something was handed in, or lies in the exchange, in their order."""
    names = {place.name for place in (course.folder / "submitted").glob("[!.]*/*")}
    names |= {place.name.split("+")[1] for place in course.inbound.glob("*+*+*")}
    return tuple(one.id for one in all_exercises(course.folder) if one.id in names)


def mark_showing(directory: str | Path, exercise: str, screen: TextIO) -> MarkingRun:
    """Mark one exercise, showing progress and its table."""
    began_s = time.monotonic()

    def show(done: int, of: int, learner: str) -> None:
        left = time_left(done, of, time.monotonic() - began_s)
        print(f"marking {done + 1} of {of}: {learner}{left}", file=screen, flush=True)

    run = mark_course(directory, exercise, show)
    if run.rows or run.others:
        print(f"{exercise_named(exercise, run.course.folder).title} ({exercise})\n{table(run)}\n", file=screen)
    return run


def time_left(done: int, of: int, taken_s: float) -> str:
    """Return how long the rest will take, as words, from the time [s] that ``done`` of them took; or nothing yet."""
    return f" (about {duration_text(taken_s / done * (of - done))} left)" if done else ""
