"""Classes for the marking benchmark: one of ours with as many hand-ins as wanted, and a plain one of nbgrader's."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import cycle, islice
from pathlib import Path

import nbformat
from boats import all_tickets

from engine_sim.attempt import Attempt, Step
from engine_sim.classroom.course_root import CourseRoot, at
from engine_sim.classroom.hand_in import logbook_name
from engine_sim.classroom.open_course import make_course_root
from engine_sim.classroom.roster import COLUMNS, Roster, write_roster
from engine_sim.learners import KINDS
from engine_sim.learners.forging import logbook_of
from engine_sim.scenarios import Scenario, draw_scenario
from engine_sim.units import MINUTE_S

EXERCISE = "no_start_harbour"
SOUND, HURRIED = "tank to pump", "hurried"
PLAIN, PLAIN_SETTINGS = "plain", "c = get_config()\nc.CourseDirectory.course_id = 'plain'\n"


def played(scenario: Scenario, kind: str) -> tuple[Step, ...]:
    """Return the steps of a kind of learner on a boat."""
    attempt = Attempt(scenario)
    KINDS[kind](attempt)
    return tuple(attempt.steps)


def hand_ins(count: int, minutes: float = math.inf) -> Iterator[tuple[str, bytes]]:
    """Yield a ticket and its logbook for each learner, every other one a hurried one; only its first ``minutes``.

    Each drawn boat is played once for each kind; learners whose tickets draw the same boat hand in the same work.
    """
    known: dict[tuple[object, str], tuple[Step, ...]] = {}
    for ticket, kind in zip(islice(all_tickets(), count), cycle((SOUND, HURRIED)), strict=False):
        scenario = draw_scenario(EXERCISE, ticket)
        key = (scenario.faults, kind)
        known[key] = known.get(key) or played(scenario, kind)
        yield ticket, logbook_of(scenario, tuple(step for step in known[key] if step.clock_s <= minutes * MINUTE_S))


def our_class(folder: Path, count: int, minutes: float = math.inf) -> CourseRoot:
    """Make a class of ours in which so many learners handed in, each having worked for ``minutes`` at most."""
    work = list(hand_ins(count, minutes))
    names = [f"learner{number:03d}" for number in range(count)]
    rows = [(name, name, "Invented", ticket) for name, (ticket, _) in zip(names, work, strict=True)]
    write_roster(at(folder).roster, Roster(COLUMNS, tuple(dict(zip(COLUMNS, row, strict=True)) for row in rows)))
    course = make_course_root(folder).course
    page = course.source(EXERCISE).read_bytes()
    for name, (_, data) in zip(names, work, strict=True):
        place = course.submitted(name, EXERCISE)
        place.mkdir(parents=True)
        (place / f"{EXERCISE}.ipynb").write_bytes(page)
        (place / logbook_name(EXERCISE)).write_bytes(data)
    return course


def plain_class(folder: Path, count: int) -> None:
    """Lay out a plain class of nbgrader's: a notebook with two empty cells, handed in by so many."""
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(""), nbformat.v4.new_code_cell("")])
    notebook.metadata = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}}
    learners = [folder / "submitted" / f"learner{number:03d}" / PLAIN for number in range(count)]
    for place in (folder / "source" / PLAIN, *learners):
        place.mkdir(parents=True)
        nbformat.write(notebook, place / f"{PLAIN}.ipynb")
    (folder / "nbgrader_config.py").write_text(PLAIN_SETTINGS, encoding="utf-8")
