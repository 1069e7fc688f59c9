"""Marking that is stopped half-way, begun again, corrected by hand and handed in again: nothing is lost."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import urllib.request
from urllib.parse import parse_qs, urlsplit

import psutil
import pytest
from class_kit import (
    EXERCISE,
    LOGBOOK,
    NOTEBOOK,
    Commands,
    answered,
    box,
    environment,
    make_class,
    put_in_exchange,
    stored_marks,
    tickets_with_a_shut_valve,
    work,
)

from engine_sim.classroom.gradebook import open_gradebook
from engine_sim.classroom.lab_server import LabServer
from engine_sim.classroom.mark_submissions import mark_course, mark_submissions
from engine_sim.classroom.teach import teach_plan
from engine_sim.marking import MARK_NAMES

pytestmark = pytest.mark.slow
NAMES = ("ada", "bram", "cleo")


@pytest.fixture(scope="module")
def small_class(tmp_path_factory):
    """Three learners, of whom the first two handed in folders by hand, and the third through the exchange."""
    home = tmp_path_factory.mktemp("small")
    tickets = dict(zip(NAMES, tickets_with_a_shut_valve(3), strict=True))
    course = make_class(home / "course", tickets)
    with Commands(home) as nbgrader:
        for command in ("generate_assignment", "release_assignment"):
            (done,) = nbgrader.give((course.folder, (command, EXERCISE)))
            assert done["code"] == 0, done["said"]
    page = json.dumps(answered(course.release(EXERCISE))).encode()
    logbooks = {name: work(home / "work" / name, tickets[name]) for name in NAMES}
    for name in NAMES[:2]:
        folder = course.submitted(name, EXERCISE)
        folder.mkdir(parents=True)
        (folder / LOGBOOK).write_bytes(logbooks[name])
    (course.submitted("ada", EXERCISE) / NOTEBOOK).write_bytes(page)
    put_in_exchange(course, "cleo", {NOTEBOOK: page, LOGBOOK: logbooks["cleo"]})
    return course, home


def kill_while_marking(course, home, number):
    """Start marking as a person would, and kill it without warning when it comes to the learner of that number."""
    script = (
        f"from engine_sim.classroom.mark_submissions import mark_submissions; mark_submissions({str(course.folder)!r})"
    )
    command = [sys.executable, "-u", "-c", script]
    with subprocess.Popen(command, env=environment(home), stdout=subprocess.PIPE, text=True) as run:
        for line in run.stdout:
            if line.startswith(f"marking {number} of 3"):
                helpers = psutil.Process(run.pid).children(recursive=True)
                run.send_signal(signal.SIGKILL)
    assert run.returncode == -signal.SIGKILL
    _, left = psutil.wait_procs(helpers, timeout=60)
    assert left == [], "a helper outlives the run that asked it"


def test_marking_killed_at_any_point_loses_nothing_and_running_again_gives_the_same(small_class):
    course, home = small_class
    given = {}
    for number in (1, 2, 3):
        kill_while_marking(course, home, number)
        done = {name: stored_marks(course, name) for name in NAMES[: number - 1]}
        assert all(marks.total > 0 for marks in done.values())
        assert {name: done[name] for name in given} == given
        given = done
    first = mark_course(course.folder, EXERCISE)
    assert {name: stored_marks(course, name) for name in given} == given
    second = mark_course(course.folder, EXERCISE)
    assert first.rows == second.rows
    assert [row.learner_id for row in second.rows] == list(NAMES)
    assert len({tuple(row.marks[name] for name in MARK_NAMES) for row in second.rows}) == 1
    bram = second.rows[1]
    assert any("no notebook was there" in finding for finding in bram.findings)


def test_the_table_names_everyone_and_the_exit_code_asks_for_a_look(small_class, capsys):
    course, _ = small_class
    assert mark_submissions(course.folder) == 1
    said = capsys.readouterr().out
    assert [line.split()[0] for line in said.splitlines() if line.startswith(NAMES)] == list(NAMES)
    assert "marking 3 of 3: cleo" in said
    assert "bram: no notebook was there to read" in said


def test_a_mark_set_by_hand_stays_and_is_shown(small_class):
    course, _ = small_class
    with open_gradebook(course) as gradebook:
        grade = gradebook.find_grade("ashore", EXERCISE, EXERCISE, "cleo")
        grade.manual_score, grade.needs_manual_grade = 4, False
        gradebook.find_comment("ashore", EXERCISE, EXERCISE, "cleo").manual_comment = "Good: <the tin>."
        gradebook.db.commit()
    run = mark_course(course.folder, EXERCISE)
    page = course.feedback_page("cleo", EXERCISE).read_text("utf-8")
    assert "Good: &lt;the tin&gt;." in page
    assert "4 of 5" in page and "not marked yet" not in page
    assert {row.learner_id: row.waiting for row in run.rows}["cleo"] == 0
    with open_gradebook(course) as gradebook:
        assert gradebook.find_grade("ashore", EXERCISE, EXERCISE, "cleo").manual_score == 4


def test_a_later_hand_in_replaces_the_one_before(small_class):
    course, _ = small_class
    folder = course.submitted("cleo", EXERCISE)
    before = (folder / NOTEBOOK).read_bytes()
    notebook = json.loads(before)
    box(notebook, "ashore")["source"] = "Second thoughts."
    put_in_exchange(
        course, "cleo", {NOTEBOOK: json.dumps(notebook).encode(), LOGBOOK: (folder / LOGBOOK).read_bytes()}, mark="b"
    )
    mark_course(course.folder, EXERCISE)
    assert "Second thoughts." in course.feedback_page("cleo", EXERCISE).read_text("utf-8")
    with open_gradebook(course) as gradebook:
        assert gradebook.find_grade("ashore", EXERCISE, EXERCISE, "cleo").needs_manual_grade, "a new answer: look again"


def test_the_formgraders_button_gives_the_same_marks(small_class):
    course, _ = small_class
    mark_course(course.folder, EXERCISE)
    before = {name: stored_marks(course, name) for name in NAMES}
    forget_marks(course)
    course.worked_out(EXERCISE, "ada").unlink()
    assert stored_marks(course, "ada").total == 0
    with LabServer(teach_plan(course.folder)) as server:
        key = parse_qs(urlsplit(server.address).query)["token"][0]
        said = [press(server.port, key, f"submission/{EXERCISE}/{name}/autograde") for name in NAMES]
    assert [answer["success"] for answer in said] == [True] * 3
    assert {name: stored_marks(course, name) for name in NAMES} == before


def forget_marks(course):
    """Set every mark that came from a logbook to nothing."""
    with open_gradebook(course) as gradebook:
        for name in NAMES:
            for mark in MARK_NAMES:
                gradebook.find_grade(mark, EXERCISE, EXERCISE, name).auto_score = 0
        gradebook.db.commit()


def press(port, key, button):
    """Press a button of the formgrader, as its page does, and return what it answers."""
    address = f"http://127.0.0.1:{port}/formgrader/api/{button}"
    request = urllib.request.Request(address, data=b"", method="POST", headers={"Authorization": f"token {key}"})
    with urllib.request.urlopen(request, timeout=120) as answer:
        return json.load(answer)


def test_a_weight_that_is_changed_is_the_weight_everywhere(small_class):
    """Safety counts double from now on: in gradebook, table and page, for who was marked before too."""
    course, _ = small_class
    before = mark_course(course.folder, EXERCISE)
    scheme = course.scheme(EXERCISE)
    text = scheme.read_text(encoding="utf-8")
    assert "\nsafety = 5.0" in text
    scheme.write_text(text.replace("\nsafety = 5.0", "\nsafety = 10.0"), encoding="utf-8")
    after = mark_course(course.folder, EXERCISE)
    for old, new in zip(before.rows, after.rows, strict=True):
        assert new.marks["safety"] == pytest.approx(2.0 * old.marks["safety"], abs=0.02)
        assert {name: new.marks[name] for name in MARK_NAMES[1:]} == {name: old.marks[name] for name in MARK_NAMES[1:]}
    page = (course.folder / "feedback" / NAMES[2] / EXERCISE / f"{EXERCISE}.html").read_text(encoding="utf-8")
    assert " of 10" in page.split("Safety", 1)[1][:80]
