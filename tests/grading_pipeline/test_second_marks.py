"""Marks that people give: changed with a reason, by a second marker, kept through every marking run."""

from __future__ import annotations

import shutil

import pytest
from class_kit import (
    CURE,
    EXERCISE,
    LOGBOOK,
    LOOKS,
    class_that_handed_in,
    tickets_with_a_shut_valve,
    work,
)

from engine_sim.classroom.course_root import ClassroomError, at
from engine_sim.classroom.gradebook import open_gradebook, read_marks
from engine_sim.classroom.mark_submissions import mark_course
from engine_sim.classroom.register_of_marks import read_register, register_file
from engine_sim.classroom.second_marks import change_mark, differences, second_mark
from engine_sim.errors import OutOfRange, UnknownName

pytestmark = pytest.mark.slow
REASON = "The lamp was out of sight; said so aloud <at once>."
WHO = "Ingrid Marsh"


@pytest.fixture(scope="module")
def marked(tmp_path_factory):
    """A class of two, marked once: a poor hand-in and a longer one by the first for later."""
    home = tmp_path_factory.mktemp("second")
    tickets = dict(zip(("ada", "bram"), tickets_with_a_shut_valve(2), strict=True))
    course = class_that_handed_in(home, tickets, dict.fromkeys(tickets, LOOKS))
    mark_course(course.folder, EXERCISE)
    return course, work(home / "later", tickets["ada"], LOOKS + CURE)


@pytest.fixture
def course(marked, tmp_path):
    """An own copy of the marked class."""
    shutil.copytree(marked[0].folder, tmp_path / "course")
    return at(tmp_path / "course")


def grade(course, learner, mark):
    """Return a mark as the gradebook holds it: score, by hand, waiting."""
    with open_gradebook(course) as gradebook:
        found = gradebook.find_grade(mark, EXERCISE, EXERCISE, learner)
        return found.score, found.manual_score, bool(found.needs_manual_grade)


def test_a_changed_mark_is_in_gradebook_table_and_page_with_its_reason_and_stays(course):
    before = read_marks(course, "ada", EXERCISE).marks["safety"]
    line = change_mark(course, "ada", EXERCISE, "safety", 4.5, REASON, WHO)
    assert (line.before, line.points, line.maximum, line.who) == (before, 4.5, 5.0, WHO)
    assert grade(course, "ada", "safety") == (4.5, 4.5, False)
    for _ in range(2):
        run = mark_course(course.folder, EXERCISE)
        assert [row.marks["safety"] for row in run.rows] == [4.5, before]
        assert grade(course, "ada", "safety") == (4.5, 4.5, False)
        assert [row.findings for row in run.rows] == [()] * 2
        page = course.feedback_page("ada", EXERCISE).read_text("utf-8")
        assert "Your instructor set this mark: 4.5 of 5." in page
        assert "The lamp was out of sight; said so aloud &lt;at once&gt;." in page
    assert "The lamp" not in course.feedback_page("bram", EXERCISE).read_text("utf-8")
    assert len(read_register(course).lines) == 1


def test_the_marking_pages_get_a_written_answers_points_with_the_reason_as_its_comment(course):
    with open_gradebook(course) as gradebook:
        gradebook.find_comment("ashore", EXERCISE, EXERCISE, "ada").manual_comment = "Good on the tin."
        gradebook.db.commit()
    change_mark(course, "ada", EXERCISE, "ashore", 3, "No word on the cause.", WHO)
    mark_course(course.folder, EXERCISE)
    with open_gradebook(course) as gradebook:
        comment = gradebook.find_comment("ashore", EXERCISE, EXERCISE, "ada").comment
    assert comment == "Good on the tin.\nNo word on the cause."
    assert grade(course, "ada", "ashore") == (3.0, 3.0, False)
    page = course.feedback_page("ada", EXERCISE).read_text("utf-8")
    assert "3 of 5" in page and "No word on the cause." in page


@pytest.mark.parametrize(("reason", "who", "said"), [(" \n ", WHO, "No reason"), (REASON, "", "No name of who")])
def test_without_a_reason_or_a_name_nothing_is_changed(course, reason, who, said):
    before = grade(course, "ada", "method")
    with pytest.raises(ClassroomError, match=said):
        change_mark(course, "ada", EXERCISE, "method", 9, reason, who)
    assert grade(course, "ada", "method") == before and not register_file(course).exists()


@pytest.mark.parametrize("points", [5.5, -0.1, float("nan"), float("inf"), True])
def test_points_that_the_mark_cannot_have_are_refused(course, points):
    with pytest.raises(OutOfRange, match="allowed is 0 to 5 points"):
        change_mark(course, "ada", EXERCISE, "safety", points, REASON, WHO)
    assert not register_file(course).exists()


def test_what_there_is_none_of_is_named_with_what_there_is(course):
    with pytest.raises(UnknownName, match="ada, bram"):
        change_mark(course, "eda", EXERCISE, "safety", 1, REASON, WHO)
    with pytest.raises(UnknownName, match="safety"):
        change_mark(course, "ada", EXERCISE, "safty", 1, REASON, WHO)
    with pytest.raises(ClassroomError, match="Mark the exercise first"):
        change_mark(course, "ada", "dead_at_the_key", "safety", 1, REASON, WHO)


def test_lines_are_added_and_old_ones_stay_readable_whatever_lies_between(course):
    change_mark(course, "ada", EXERCISE, "safety", 2, "first", WHO)
    first = register_file(course).read_bytes()
    with register_file(course).open("ab") as file:
        file.write(b'{"kind": "changed", "learner_id": "ad')
    change_mark(course, "ada", EXERCISE, "safety", 3, "second", WHO)
    found = read_register(course)
    assert [line.reason for line in found.lines] == ["first", "second"] and found.unreadable == (2,)
    assert register_file(course).read_bytes().startswith(first)
    assert found.lines[1].before == 2.0 and grade(course, "ada", "safety")[0] == 3.0


def test_an_older_gradebook_put_back_gets_the_changed_marks_again(course):
    kept = course.gradebook.read_bytes()
    change_mark(course, "ada", EXERCISE, "method", 9, REASON, WHO)
    course.gradebook.write_bytes(kept)
    assert grade(course, "ada", "method")[1] is None
    mark_course(course.folder, EXERCISE)
    assert grade(course, "ada", "method") == (9.0, 9.0, False)


def test_a_mark_given_in_the_marking_pages_since_is_left_as_it_is(course):
    change_mark(course, "ada", EXERCISE, "method", 9, REASON, WHO)
    with open_gradebook(course) as gradebook:
        gradebook.find_grade("method", EXERCISE, EXERCISE, "ada").manual_score = 7
        gradebook.db.commit()
    mark_course(course.folder, EXERCISE)
    assert grade(course, "ada", "method")[:2] == (7.0, 7.0)
    assert REASON[:8] not in course.feedback_page("ada", EXERCISE).read_text("utf-8")


def test_a_changed_mark_does_not_count_for_a_later_hand_in_and_that_is_said(course, marked):
    change_mark(course, "ada", EXERCISE, "cure", 4, REASON, WHO)
    (course.submitted("ada", EXERCISE) / LOGBOOK).write_bytes(marked[1])
    run = mark_course(course.folder, EXERCISE)
    assert any("for an earlier hand-in; it counts no more" in finding for finding in run.rows[0].findings)
    score, by_hand, waits = grade(course, "ada", "cure")
    assert by_hand is None and not waits and score != 4
    assert [line.reason for line in read_register(course).lines] == [REASON]


def test_a_changed_mark_follows_a_changed_weight_and_the_register_says_so(course):
    change_mark(course, "ada", EXERCISE, "safety", 4, REASON, WHO)
    scheme = course.scheme(EXERCISE)
    scheme.write_text(scheme.read_text("utf-8").replace("\nsafety = 5.0", "\nsafety = 10.0"), encoding="utf-8")
    for _ in range(2):
        mark_course(course.folder, EXERCISE)
        assert grade(course, "ada", "safety") == (8.0, 8.0, False)
    assert [(line.kind, line.points, line.maximum) for line in read_register(course).lines] == [
        ("changed", 4.0, 5.0),
        ("weight", 8.0, 10.0),
    ]


def test_a_second_markers_marks_change_nothing_and_show_the_difference(course):
    first = read_marks(course, "ada", EXERCISE).marks
    with pytest.raises(ClassroomError, match="No reason for the difference"):
        second_mark(course, "ada", EXERCISE, {"diagnosis": first["diagnosis"] - 1}, "Otto Quist")
    second_mark(course, "ada", EXERCISE, {"method": first["method"]}, "Otto Quist")
    given = {"diagnosis": first["diagnosis"] - 1, "ashore": 3}
    second_mark(course, "ada", EXERCISE, given, "Otto Quist", "No rag laid.")
    assert read_marks(course, "ada", EXERCISE).marks == first
    found = {one.mark: one for one in differences(course, EXERCISE)}
    assert {name: one.points for name, one in found.items()} == {"method": 0.0, "diagnosis": -1.0, "ashore": None}
    said = f"ada, Diagnosis: first {first['diagnosis']:g}, second {first['diagnosis'] - 1:g} of 5 (-1), by Otto Quist"
    assert str(found["diagnosis"]) == said
    assert "first not marked yet, second 3 of 5" in str(found["ashore"])
    second_mark(course, "ada", EXERCISE, {"diagnosis": first["diagnosis"]}, "Otto Quist")
    assert {one.mark: one.points for one in differences(course, EXERCISE)}["diagnosis"] == 0.0
