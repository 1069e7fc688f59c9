"""Several exercises of one class: every one that was handed in is marked, the sums by their answers."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest
from class_kit import EXERCISE, answered, make_class, tickets_with_a_shut_valve, work

from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.gradebook import read_marks
from engine_sim.classroom.mark_submissions import handed_in_exercises, mark_submissions
from engine_sim.cli import main
from engine_sim.errors import UnknownName
from engine_sim.marking import default_scheme
from engine_sim.marking.sums import POINTS_EACH, SUMS, SUMS_EXERCISE, answer_line, figures_of
from engine_sim.marking.sums.marking import rounded

SUMS_DATA = f"{SUMS_EXERCISE}.logbook.jsonl"


@pytest.fixture(scope="module")
def handed_in(tmp_path_factory: pytest.TempPathFactory) -> tuple[CourseRoot, str, int]:
    """A class of three: ada does the engine and the sums, ben gets one sum wrong, cleo hands in another's answers."""
    home = tmp_path_factory.mktemp("several")
    tickets = dict(zip(("ada", "ben", "cleo"), tickets_with_a_shut_valve(3), strict=True))
    course = make_class(home / "course", tickets)
    engine = course.submitted("ada", EXERCISE)
    work(engine, tickets["ada"])
    (engine / f"{EXERCISE}.ipynb").write_text(json.dumps(answered(course.source(EXERCISE))), "utf-8")
    for learner, ticket in (("ada", tickets["ada"]), ("ben", tickets["ben"]), ("cleo", tickets["ada"])):
        answers = {item.id: rounded(item.right(figures_of(item, ticket))) for item in SUMS}
        if learner == "ben":
            answers["water_sinks"] = "999"
        folder = course.submitted(learner, SUMS_EXERCISE)
        folder.mkdir(parents=True)
        (folder / SUMS_DATA).write_bytes(answer_line(ticket, answers))
        page = course.source(SUMS_EXERCISE).read_text("utf-8")
        (folder / f"{SUMS_EXERCISE}.ipynb").write_text(page.replace("YOUR ANSWER HERE", "I will measure it."), "utf-8")
    screen = io.StringIO()
    code = mark_submissions(course.folder, out=screen)
    return course, screen.getvalue(), code


def test_every_exercise_that_was_handed_in_is_found_and_marked(handed_in: tuple[CourseRoot, str, int]) -> None:
    course, said, _ = handed_in
    assert handed_in_exercises(course) == (EXERCISE, SUMS_EXERCISE)
    assert "It will not keep running (no_start_harbour)" in said and "Sums for sailors (sums)" in said
    assert "Nothing handed in: ben, cleo" in said


def test_the_sums_are_in_the_gradebook_with_their_points(handed_in: tuple[CourseRoot, str, int]) -> None:
    course, _, code = handed_in
    ada, ben, cleo = (read_marks(course, name, SUMS_EXERCISE).marks for name in ("ada", "ben", "cleo"))
    assert [ada[item.id] for item in SUMS] == [POINTS_EACH] * len(SUMS)
    assert [item.id for item in SUMS if ben[item.id] == 0.0] == ["water_sinks"]
    assert sum(cleo[item.id] for item in SUMS) == 0.0
    assert code == 1, "cleo's answers want a look"


def test_answers_under_anothers_ticket_earn_nothing_and_are_a_finding(handed_in: tuple[CourseRoot, str, int]) -> None:
    _, said, _ = handed_in
    assert "cleo: the answers were not given under this learner's ticket" in said


def test_the_page_of_the_sums_says_how_each_is_worked(handed_in: tuple[CourseRoot, str, int]) -> None:
    course, _, _ = handed_in
    page = course.feedback_page("ben", SUMS_EXERCISE).read_text("utf-8")
    assert all(item.title in page for item in SUMS)
    assert "You answered 999 min" in page and page.count("Right: ") == len(SUMS) - 1
    assert course.feedback_page("ben", SUMS_EXERCISE).with_suffix(".pdf").read_bytes().startswith(b"%PDF-")


def test_the_page_of_the_sums_says_whether_they_are_passed(handed_in: tuple[CourseRoot, str, int]) -> None:
    course, _, _ = handed_in
    ben, cleo = (course.feedback_page(name, SUMS_EXERCISE).read_text("utf-8") for name in ("ben", "cleo"))
    most = POINTS_EACH * len(SUMS)
    least = default_scheme().pass_line.total_share * most
    assert "<strong>Passed: the marks for your sums reach the pass line.</strong>" in ben
    assert f"Not yet passed. Missed: these marks together 0 of {most:g} (at least {least:g})." in cleo


def test_the_table_of_the_sums_says_who_passes(handed_in: tuple[CourseRoot, str, int]) -> None:
    _, said, _ = handed_in
    table = said.split("Sums for sailors (sums)")[1]
    assert re.findall(r"^(ada|ben|cleo) .* waits +(\w+)", table, flags=re.MULTILINE) == [
        ("ada", "yes"),
        ("ben", "yes"),
        ("cleo", "no"),
    ]


def test_one_exercise_alone_can_be_marked_and_a_wrong_name_is_refused(
    handed_in: tuple[CourseRoot, str, int], capsys: pytest.CaptureFixture[str]
) -> None:
    course, _, _ = handed_in
    assert main(["mark", str(course.folder), "--exercise", EXERCISE]) == 0
    assert "Sums for sailors" not in capsys.readouterr().out
    with pytest.raises(UnknownName, match="sumz"):
        mark_submissions(course.folder, "sumz", io.StringIO())


def test_a_class_without_hand_ins_says_so(tmp_path: Path) -> None:
    course = make_class(tmp_path / "course", {"ada": tickets_with_a_shut_valve(1)[0]})
    screen = io.StringIO()
    assert mark_submissions(course.folder, out=screen) == 0
    assert screen.getvalue() == "Nothing has been handed in yet.\n"
