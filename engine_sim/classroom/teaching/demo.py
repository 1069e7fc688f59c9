"""``fuelcourse demo DIR``: an invented class to look at, with hand-ins of simulated learners, marks and a report.

Everybody in it is invented. Their work is played on this machine, each by a kind of simulated learner, and marked as a
real class is.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

from engine_sim.attempt import open_exercise
from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.course_root import ClassroomError, CourseRoot, at, make_folder, write_file
from engine_sim.classroom.hand_in import logbook_name
from engine_sim.classroom.mark_submissions import mark_course
from engine_sim.classroom.open_course import make_course_root
from engine_sim.classroom.roster import COLUMNS, Roster, fill_tickets, read_roster, write_roster
from engine_sim.classroom.shipped import shipped
from engine_sim.classroom.teaching.report.record import write_records
from engine_sim.classroom.teaching.report.report_page import write_report
from engine_sim.classroom.teaching.slips import write_slips
from engine_sim.learners import KINDS
from engine_sim.marking.sums import SUMS, SUMS_EXERCISE, answer_line, figures_of

Say = Callable[[str], None]
SCHOOL = "Sailing School at Grey Heron Quay (invented)"
EXERCISES = ("no_start_harbour", "after_the_winter", SUMS_EXERCISE)
COPIES = "copies"
"""Hands in a neighbour's logbook."""


@dataclass(frozen=True, slots=True)
class Invented:
    """An invented learner, the kind of simulated learner that works for them, and the sums that they get wrong."""

    learner_id: str
    first_name: str
    last_name: str
    kind: str
    wrong_sums: int
    ashore: str


_CAREFUL = "I would renew the seal that let go, buy the same spares again and look at the bowl before the next trip."
_SHORT = "Look at it all again."
LEARNERS: tuple[Invented, ...] = (
    Invented("aino", "Aino", "Brightwater", "tank to pump", 0, _CAREFUL),
    Invented("bartel", "Bartel", "O'Hollow", "tank to pump", 1, _CAREFUL),
    Invented("celine", "Céline", "Marrow-Quay", "best policy", 0, _CAREFUL),
    Invented("dario", "Dario", "Tallmast", "best policy", 1, "Write it into the log and buy a new element."),
    Invented("elif", "Elif", "Şenbahar", "tank to pump", 2, _CAREFUL),
    Invented("fintan", "Fintan", "Lowtide", "hurried", 2, _SHORT),
    Invented("gunnel", "Gunnel", "Åsvik", "hurried", 1, "Clean up and check the cap."),
    Invented("hakim", "Hakim", "Saltmarsh", "hurried", 3, _SHORT),
    Invented("ingrid", "Ingrid", "Foxwell", "bleeds only", 4, "Bleed it more often."),
    Invented("jorun", "Jorun", "Kettleness", "bleeds only", 3, ""),
    Invented("kasimir", "Kasimir", "Zdrój", "swaps parts", 5, "Buy more filters."),
    Invented("lotta", "Lotta", "Reedbank", "swaps parts", 4, _SHORT),
    Invented("mirko", "Mirko", "Stonepier", "cranks flat", 6, ""),
    Invented("nuala", "Nuala", "Drift", "only looks", 2, "I would ask somebody."),
    Invented("oskar", "Oskar", "Gale", COPIES, 0, _CAREFUL),
)
HANDS_IN_NOTHING = {("mirko", SUMS_EXERCISE), ("nuala", "after_the_winter")}


def make_demo(folder: str | Path, say: Say) -> str:
    """Make the invented class in a new or empty folder; ``say`` is told what is done. Return what to do next.

    Raises :class:`ClassroomError` where the folder holds something already.
    """
    course = at(folder)
    if course.folder.exists() and any(course.folder.iterdir()):
        raise ClassroomError(f"{course.folder} is not empty. Name a new folder for the invented class.")
    say("Making the class")
    rows = tuple(
        dict(zip(COLUMNS, (one.learner_id, one.first_name, one.last_name, ""), strict=True)) for one in LEARNERS
    )
    make_folder(course.folder)
    write_roster(course.roster, fill_tickets(Roster(COLUMNS, rows)))
    make_course_root(course.folder)
    play_everybody(course, say)
    for name in EXERCISES:
        mark_course(course.folder, name, _marking(name, say))
    say("Writing slips, report and records")
    write_slips(course)
    write_report(course)
    write_records(course, EXERCISES[0], SCHOOL)
    return f"{SCHOOL} is in {course.folder}. Look at it with: fuelcourse teach {course.folder}"


def _marking(exercise: str, say: Say) -> Callable[[int, int, str], None]:
    title = exercise_named(exercise).title
    return lambda done, of, who: say(f"Marking “{title}”: {done + 1} of {of}, {who}")


def play_everybody(course: CourseRoot, say: Say) -> None:
    """Let everybody work and hand in, on two cores."""
    tickets = {one.learner_id: one.ticket for one in read_roster(course.roster).learners.values()}
    jobs = [
        (str(course.folder), one.learner_id, one.kind, name, tickets[one.learner_id])
        for name in EXERCISES[:2]
        for one in LEARNERS
        if one.kind != COPIES and (one.learner_id, name) not in HANDS_IN_NOTHING
    ]
    with ProcessPoolExecutor(min(2, os.cpu_count() or 1), get_context("spawn")) as workers:
        for number, learner in enumerate(workers.map(_play, jobs)):
            say(f"Working: {number + 1} of {len(jobs)}, {learner}")
    for one in LEARNERS:
        for name in EXERCISES:
            if (one.learner_id, name) not in HANDS_IN_NOTHING:
                _hand_in(course, one, name, tickets[one.learner_id])


def _play(job: tuple[str, str, str, str, str]) -> str:
    """Let one learner work one exercise in the hand-in's own folder; return who it was."""
    folder, learner, kind, exercise, ticket = job
    place = at(folder).submitted(learner, exercise)
    make_folder(place)
    with open_exercise(exercise, ticket, place) as opened:
        KINDS[kind](opened.attempt)
    return learner


def _hand_in(course: CourseRoot, one: Invented, exercise: str, ticket: str) -> None:
    """Lay the page with the written answer beside the logbook; the one who copies takes a neighbour's."""
    place = course.submitted(one.learner_id, exercise)
    logbook = place / logbook_name(exercise)
    if exercise == SUMS_EXERCISE:
        write_file(logbook, answer_line(ticket, _sums_of(one, ticket)))
    elif one.kind == COPIES:
        write_file(logbook, (course.submitted(LEARNERS[0].learner_id, exercise) / logbook.name).read_bytes())
    page = shipped("course") / exercise_named(exercise).page
    write_file(place / page.name, _page_with(page.read_text("utf-8"), one.ashore).encode("utf-8"))
    for file in place.iterdir():
        file.chmod(0o600)


def _sums_of(one: Invented, ticket: str) -> dict[str, str]:
    """Return the answers to the sums: the last ones wrong, by the slip that tempts."""
    answers = {}
    for number, item in enumerate(SUMS):
        figures = figures_of(item, ticket)
        wrong = number >= len(SUMS) - one.wrong_sums
        answers[item.id] = f"{(item.slips[0].wrong if wrong else item.right)(figures):.4g}"
    return answers


def _page_with(page: str, answer: str) -> str:
    """Return a page with a written answer in its place."""
    data = json.loads(page)
    for cell in data["cells"]:
        if cell["metadata"].get("nbgrader", {}).get("grade_id") == "ashore" and answer:
            cell["source"] = [answer]
    return json.dumps(data, ensure_ascii=False, indent=1)
