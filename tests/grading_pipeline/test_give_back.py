"""Pages given back through nbgrader's exchange go to who handed in through it, named as nbgrader looks for them."""

from __future__ import annotations

import json

import pytest
from class_kit import (
    EXERCISE,
    LOGBOOK,
    NOTEBOOK,
    answered,
    class_that_handed_in,
    put_in_exchange,
    tickets_with_a_shut_valve,
    work,
)
from nbgrader.utils import notebook_hash

from engine_sim.classroom.course_root import COURSE_ID, ClassroomError
from engine_sim.classroom.mark_submissions import mark_course
from engine_sim.classroom.teaching.forget import forget
from engine_sim.classroom.teaching.give_back import give_back


def test_pages_go_out_to_who_handed_in_by_the_exchange_and_the_others_are_named(tmp_path):
    tickets = dict(zip(("ada", "bram", "cleo"), tickets_with_a_shut_valve(3), strict=True))
    course = class_that_handed_in(tmp_path, tickets, {"bram": ()})
    with pytest.raises(ClassroomError, match="Nothing was marked yet"):
        give_back(course)
    page = json.dumps(answered(course.release(EXERCISE))).encode()
    came = put_in_exchange(course, "ada", {NOTEBOOK: page, LOGBOOK: work(tmp_path / "ada", tickets["ada"])})
    secret = (came / "submission_secret.txt").read_text("utf-8")
    mark_course(course.folder, EXERCISE)
    for _ in range(2):
        done = give_back(course)
        assert (done.released, done.by_hand) == ([("ada", EXERCISE)], [("bram", EXERCISE)])
    assert str(done).endswith("by hand, from the folder feedback.\n  no_start_harbour: bram")
    (laid,) = (course.exchange / COURSE_ID / "feedback").iterdir()
    assert laid.name == f"{notebook_hash(secret=secret, notebook_id=EXERCISE)}.html"
    assert laid.read_bytes() == course.feedback_page("ada", EXERCISE).read_bytes()
    forget(course, "bram")
    assert laid.exists()
    forget(course, "ada")
    assert not laid.exists()
