"""Three learners with the same slack joint, marked through nbgrader with the whole engine test.

One works from tank to pump, one as soundly and in a hurry, one bleeds and never cures the leak.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from boats import tickets_for
from class_kit import EXERCISE, LOGBOOK, NOTEBOOK, Marks, answered, make_class, put_in_exchange, stored_marks

from engine_sim.attempt import open_exercise
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.mark_submissions import mark_course
from engine_sim.classroom.settings import open_nbgrader
from engine_sim.learners import KINDS
from engine_sim.marking import TITLES, load_marking_scheme

pytestmark = pytest.mark.slow
LEARNERS = {"sound_order": "tank to pump", "in_a_hurry": "hurried", "bleeds_and_never_cures": "bleeds only"}


@pytest.fixture(scope="module")
def course(tmp_path_factory: pytest.TempPathFactory) -> CourseRoot:
    """The class after marking."""
    home = tmp_path_factory.mktemp("kinds")
    tickets = dict(zip(LEARNERS, tickets_for("slack_joint", "pump_joint"), strict=False))
    made = make_class(home / "course", tickets, whole_test=True)
    nbgrader = open_nbgrader(made)
    assert nbgrader.generate_assignment(EXERCISE)["success"]
    assert nbgrader.release_assignment(EXERCISE)["success"]
    page = json.dumps(answered(made.release(EXERCISE))).encode()
    for name, kind in LEARNERS.items():
        put_in_exchange(made, name, {NOTEBOOK: page, LOGBOOK: logbook_of(kind, tickets[name], home / name)})
    mark_course(made.folder, EXERCISE)
    return made


def logbook_of(kind: str, ticket: str, folder: Path) -> bytes:
    """Let a kind of learner work the exercise, and return the logbook."""
    folder.mkdir()
    with open_exercise(EXERCISE, ticket, folder) as opened:
        KINDS[kind](opened.attempt)
        return opened.logbook_bytes()


def marks(course: CourseRoot, learner: str) -> Marks:
    found = stored_marks(course, learner)
    assert found is not None
    return found


def words(course: CourseRoot, learner: str) -> str:
    page = course.feedback_page(learner, EXERCISE).read_text("utf-8")
    return re.sub(r"\s+", " ", page)


def test_sound_order_earns_all(course):
    assert marks(course, "sound_order") == Marks(5.0, 10.0, 5.0, 10.0, 5.0)


def test_haste_costs_housekeeping_and_not_the_cure(course):
    hurried, sound = marks(course, "in_a_hurry"), marks(course, "sound_order")
    assert hurried.housekeeping < 0.7 * sound.housekeeping
    assert (hurried.diagnosis, hurried.cure) == (sound.diagnosis, sound.cure)
    assert "What cost marks" in words(course, "in_a_hurry")


def test_bleeding_over_the_leak_fails_the_cure(course):
    scheme = load_marking_scheme(course.scheme(EXERCISE))
    cure = marks(course, "bleeds_and_never_cures").cure
    assert cure < scheme.pass_line.cure_share * scheme.weights.cure
    assert "still showed something" in words(course, "bleeds_and_never_cures")


@pytest.mark.parametrize("learner", LEARNERS)
def test_each_feedback_page_says_why_and_shows_pictures(course, learner):
    page = words(course, learner)
    assert "<svg" in page and "Why:" in page
    for heading in (*TITLES.values(), "Written answer"):
        assert heading in page
