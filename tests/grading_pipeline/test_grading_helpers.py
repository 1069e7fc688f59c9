"""The dear part of marking, shared out over helpers: what dies or hangs is a finding, and touches no other."""

from __future__ import annotations

import json
import sys
from functools import partial

import pytest
from class_kit import (
    CURE,
    EXERCISE,
    LOGBOOK,
    LOOKS,
    NOTEBOOK,
    answered,
    make_class,
    stored_marks,
    tickets_with_a_shut_valve,
    work,
)

from engine_sim.classroom import mark_submissions as marking
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.helpers import Helper, Helpers
from engine_sim.classroom.mark_submissions import mark_course, time_left
from engine_sim.classroom.marks_table import table_line
from engine_sim.classroom.worked_out import WorkedOut, kept, look_at, worked_out

NAMES = ("ada", "bram", "cleo", "dirk")
# Dirk finds and cures it like the others, and then tips what he drained into the harbour.
OVERBOARD = (
    *CURE,
    ("engine", "stop"),
    ("separator", "open_vent"),
    ("separator", "open_drain"),
    ("bench", "wait_10s"),
    ("separator", "close_drain"),
    ("separator", "close_vent"),
    ("bench", "tip_overboard"),
)
# A helper that is hurt: for bram it ends; the others it serves as the real one does.
HURT = """
import os, sys
from engine_sim.classroom import helper
real = helper.work_out
def hurt(course, handed_in):
    if handed_in.learner == "bram":
        print("no room left", file=sys.stderr, flush=True)
        os._exit(9)
    return real(course, handed_in)
helper.work_out = hurt
helper.main()
"""
HANGS = "import sys\nfor line in sys.stdin: pass"
USELESS = "raise SystemExit('asked for what was there already')"


def stand_in(script: str):
    """Return a way to start a helper that runs another script."""
    return lambda course: [sys.executable, "-c", script, str(course.folder)]


@pytest.fixture(scope="module")
def course(tmp_path_factory) -> CourseRoot:
    """A class in which three learners handed in the same looks at the same boat, and one worked on and did harm."""
    home = tmp_path_factory.mktemp("helped")
    tickets = dict(zip(NAMES, tickets_with_a_shut_valve(len(NAMES)), strict=True))
    made = make_class(home / "course", tickets)
    page = json.dumps(answered(made.source(EXERCISE))).encode()
    for name in NAMES:
        folder = made.submitted(name, EXERCISE)
        folder.mkdir(parents=True)
        (folder / NOTEBOOK).write_bytes(page)
        done = (*LOOKS, *OVERBOARD) if name == "dirk" else LOOKS
        (folder / LOGBOOK).write_bytes(work(home / name, tickets[name], done))
    return made


def result_of(course: CourseRoot, learner: str) -> WorkedOut | None:
    return kept(course, look_at(course, learner, EXERCISE))


def mark_with(monkeypatch: pytest.MonkeyPatch, course: CourseRoot, script: str):
    """Mark the class with helpers that run a script; return the lines of the table by learner."""
    with monkeypatch.context() as patch:
        patch.setattr(marking, "Helpers", partial(Helpers, command=stand_in(script)))
        return {row.learner_id: row for row in mark_course(course.folder, EXERCISE).rows}


@pytest.fixture(scope="module")
def hurt_run(course):
    """The class marked with helpers that are hurt, and what nbgrader's gradebook then holds."""
    with pytest.MonkeyPatch.context() as patch:
        rows = mark_with(patch, course, HURT)
    return rows, {name: stored_marks(course, name) for name in NAMES}


def test_a_hand_in_that_ends_its_helper_is_a_finding_with_noughts(hurt_run):
    rows, marks = hurt_run
    assert "the process that marked it ended by itself (9, saying: no room left)" in rows["bram"].findings[0]
    assert marks["bram"].total == 0


def test_the_others_are_marked_as_if_nothing_had_happened(hurt_run):
    rows, marks = hurt_run
    assert marks["ada"] == marks["cleo"]
    assert marks["ada"].total > 0
    assert not [finding for name in ("ada", "cleo") for finding in rows[name].findings if "helper" in finding]


def test_a_hard_fail_is_named_in_the_table_the_findings_and_the_page_and_is_never_passed(hurt_run, course):
    rows, marks = hurt_run
    row = rows["dirk"]
    assert marks["dirk"].method > 0 and marks["dirk"].cure > 0, "the points are shown all the same"
    assert not row.passed and table_line(row)[-2] == "hard fail"
    (finding,) = [finding for finding in row.findings if finding.startswith("hard fail: ")]
    assert "over the side" in finding and finding.endswith(" min.")
    page = course.feedback_page("dirk", EXERCISE).read_text("utf-8")
    assert "Not yet passed. This alone fails, whatever the points: " in page


def test_the_page_of_one_that_was_given_up_says_that_somebody_will_look(hurt_run, course):
    assert "could not be marked by itself" in course.feedback_page("bram", EXERCISE).read_text("utf-8")


def test_nbgraders_own_step_does_not_try_again_what_was_given_up(hurt_run, course):
    assert result_of(course, "bram").given_up
    assert worked_out(course, "bram", EXERCISE) == result_of(course, "bram")


def test_the_next_run_tries_again_and_all_have_their_marks(hurt_run, course, monkeypatch):
    _, before = hurt_run
    rows = {row.learner_id: row for row in mark_course(course.folder, EXERCISE).rows}
    marks = {name: stored_marks(course, name) for name in NAMES}
    assert marks["bram"] == marks["cleo"] == marks["ada"] == before["ada"]
    again = mark_with(monkeypatch, course, USELESS)
    assert again == rows, "all results are kept, so no helper was asked"


def test_a_result_is_used_for_nothing_but_what_it_was_worked_out_from(course):
    """Another logbook, another ticket, another scheme: each is worked out anew."""
    assert worked_out(course, "cleo", EXERCISE).given_up == ""
    scheme, logbook = course.scheme(EXERCISE), course.submitted("cleo", EXERCISE) / LOGBOOK
    for place in (scheme, logbook, course.roster):
        before = place.read_bytes()
        place.write_bytes(before.replace(b"cleo,Cleo", b"cleo,Cleopatra").replace(b"0.60", b"0.61") + b"\n")
        same = place == course.roster
        assert (result_of(course, "cleo") is not None) is same, "a name on the roster decides no mark"
        place.write_bytes(before)
        assert result_of(course, "cleo") is not None


def test_a_kept_result_that_was_damaged_is_worked_out_again(course):
    sound = worked_out(course, "ada", EXERCISE)
    place = course.worked_out(EXERCISE, "ada")
    place.write_bytes(place.read_bytes()[:-40])
    assert result_of(course, "ada") is None
    assert worked_out(course, "ada", EXERCISE) == sound


def test_a_hand_in_that_takes_too_long_is_given_up_and_the_next_one_is_asked_of_a_new_helper(course):
    helper = Helper(course, stand_in(HANGS), longest_s=0.5)
    assert [helper.ask(name, EXERCISE) for name in NAMES[:2]] == ["it took longer than 0.5 s"] * 2
    helper.kill()
    helper.close()


def test_leaving_early_ends_the_helpers_and_gives_nobody_up(course):
    course.worked_out(EXERCISE, "ada").unlink(missing_ok=True)
    with Helpers(course, stand_in(HANGS)) as helpers:
        results = [helpers.start(look_at(course, "ada", EXERCISE)) for _ in range(5)]
    assert all(one.done() for one in results)
    assert result_of(course, "ada") is None


@pytest.mark.parametrize(
    ("done", "of", "taken_s", "says"),
    [(0, 30, 1.0, ""), (10, 30, 5.0, " (about 10 s left)"), (1, 301, 1.0, " (about 5 min left)")],
)
def test_how_long_it_will_take_is_told_as_soon_as_one_is_done(done, of, taken_s, says):
    assert time_left(done, of, taken_s) == says
