"""Two programs at one class's folder, a locked gradebook, a full disk: nothing is lost and a sentence says why."""

from __future__ import annotations

import csv
import errno
import io
import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import threading
from contextlib import contextmanager

import pytest
from class_kit import (
    CURE,
    EXERCISE,
    LOGBOOK,
    LOOKS,
    class_that_handed_in,
    environment,
    stored_marks,
    tickets_with_a_shut_valve,
    work,
)

from engine_sim.classroom import course_root, gradebook, register_of_marks
from engine_sim.classroom.course_root import CannotWrite, ClassroomError, at, write_file
from engine_sim.classroom.gradebook import GradebookTrouble, enter_learners, in_plain_words, read_marks
from engine_sim.classroom.in_turn import FolderBusy, in_turn
from engine_sim.classroom.mark_submissions import failure_of, mark_course
from engine_sim.classroom.register_of_marks import read_register, register_file
from engine_sim.classroom.roster import read_roster
from engine_sim.classroom.second_marks import change_mark
from engine_sim.classroom.teaching.arrivals import take_in
from engine_sim.classroom.teaching.marks_export import export_marks

NAMES = tuple(f"learner{n}" for n in range(5))
MARKING = """
import sys
from engine_sim.classroom.mark_submissions import mark_course
print("ready", flush=True)
sys.stdin.readline()
run = mark_course(sys.argv[1], sys.argv[2], lambda done, of, who: print("marking", who, flush=True))
print("rows", [(row.learner_id, sorted(row.marks.items()), row.findings) for row in run.rows], flush=True)
"""
HOLDING = """
import sqlite3, sys
opened = sqlite3.connect(sys.argv[1], isolation_level=None)
opened.execute("BEGIN EXCLUSIVE")
print("held", flush=True)
sys.stdin.readline()
opened.execute("ROLLBACK")
"""
IN_TURN = """
import sys
from engine_sim.classroom.course_root import at
from engine_sim.classroom.in_turn import in_turn
with in_turn(at(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.readline()
"""


@pytest.fixture(scope="module")
def handed_in(tmp_path_factory):
    """A class of five who handed in, not marked yet, and what the first has more for later."""
    home = tmp_path_factory.mktemp("shared")
    tickets = dict(zip(NAMES, tickets_with_a_shut_valve(len(NAMES)), strict=True))
    course = class_that_handed_in(home, tickets, dict.fromkeys(tickets, LOOKS))
    later = home / "later"
    work(later, tickets[NAMES[0]], LOOKS + CURE)
    return course, later, home


@pytest.fixture
def course(handed_in, tmp_path):
    """An own copy of that class."""
    shutil.copytree(handed_in[0].folder, tmp_path / "course")
    return at(tmp_path / "course")


@pytest.fixture(scope="module")
def marked(handed_in, tmp_path_factory):
    """That class marked once, by one program alone."""
    folder = tmp_path_factory.mktemp("marked") / "course"
    shutil.copytree(handed_in[0].folder, folder)
    mark_course(folder, EXERCISE)
    return at(folder)


@pytest.fixture
def marked_course(marked, tmp_path):
    """An own copy of the marked class."""
    shutil.copytree(marked.folder, tmp_path / "course")
    return at(tmp_path / "course")


@contextmanager
def beside(script, home, *words):
    """Another program at work; it has said its first word when the block begins, and is ended with it."""
    command = [sys.executable, "-u", "-c", script, *map(str, words)]
    with subprocess.Popen(
        command, env=environment(home), stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as other:
        try:
            other.stdout.readline()
            yield other
        finally:
            other.kill()


def say(other):
    """Let another program go on."""
    other.stdin.write("\n")
    other.stdin.flush()


@pytest.mark.slow
def test_two_marking_runs_at_once_give_the_same_marks_as_one(course, marked, tmp_path):
    with (
        beside(MARKING, tmp_path, course.folder, EXERCISE) as one,
        beside(MARKING, tmp_path, course.folder, EXERCISE) as other,
    ):
        say(one)
        say(other)
        ends = [program.stdout.read().splitlines()[-1] for program in (one, other)]
    assert ends[0] == ends[1] and ends[0].startswith("rows")
    assert all(name in ends[0] for name in NAMES) and "could not be marked" not in ends[0]
    assert {name: stored_marks(course, name) for name in NAMES} == {name: stored_marks(marked, name) for name in NAMES}
    assert all(course.feedback_page(name, EXERCISE).is_file() for name in NAMES)


@pytest.mark.slow
def test_marks_changed_and_exported_while_marking_goes_on_are_all_kept(marked_course, tmp_path):
    course = marked_course
    with beside(MARKING, tmp_path, course.folder, EXERCISE) as other:
        say(other)
        for number, name in enumerate(NAMES):
            change_mark(course, name, EXERCISE, "method", number + 1, f"said aloud {number}", "Otto Quist")
            table = csv.DictReader(io.StringIO(export_marks(course).read_text("utf-8-sig"), newline=""))
            assert [row["learner_id"] for row in table] == list(NAMES)
        last = other.stdout.read().splitlines()[-1]
    assert last.startswith("rows") and "could not be marked" not in last
    for number, name in enumerate(NAMES):
        stored = read_marks(course, name, EXERCISE)
        assert stored.marks["method"] == number + 1 and stored.waiting == 1
    assert [line.learner_id for line in read_register(course).lines] == list(NAMES)
    run = mark_course(course.folder, EXERCISE)
    assert [row.marks["method"] for row in run.rows] == [1, 2, 3, 4, 5]


def test_a_locked_gradebook_is_waited_for_and_then_used(marked_course, tmp_path):
    before = read_marks(marked_course, NAMES[0], EXERCISE)
    with beside(HOLDING, tmp_path, marked_course.gradebook) as other:
        soon = threading.Timer(0.5, say, (other,))
        soon.start()
        assert read_marks(marked_course, NAMES[0], EXERCISE) == before
        soon.join()


@pytest.mark.slow
def test_a_gradebook_that_stays_locked_is_said_in_a_sentence_and_loses_nothing(marked_course, tmp_path, monkeypatch):
    course = marked_course
    before = {name: read_marks(course, name, EXERCISE) for name in NAMES}
    monkeypatch.setattr(gradebook, "gradebook_address", lambda one: f"sqlite:///{one.gradebook}?timeout=0.3")
    with beside(HOLDING, tmp_path, course.gradebook):
        for attempt in (
            lambda: mark_course(course.folder, EXERCISE),
            lambda: change_mark(course, NAMES[0], EXERCISE, "method", 1, "said aloud", "Otto Quist"),
            lambda: export_marks(course),
        ):
            with pytest.raises(GradebookTrouble, match=r"another program has been writing in it all the time"):
                attempt()
    assert {name: read_marks(course, name, EXERCISE) for name in NAMES} == before
    assert not register_file(course).exists()
    assert change_mark(course, NAMES[0], EXERCISE, "method", 1, "said aloud", "Otto Quist").points == 1


def test_a_folder_in_use_is_waited_for_and_then_said(course, tmp_path):
    with beside(IN_TURN, tmp_path, course.folder) as other:
        with pytest.raises(FolderBusy, match="Another program is at work"), in_turn(course, 0.2):
            pass
        other.send_signal(signal.SIGKILL)
        other.wait()
        with in_turn(course, 5.0):
            assert (course.folder / ".in_turn.lock").is_file()


# ---- the disk -------------------------------------------------------------------------------------------------------


def refusing(number, words):
    """Return a writer that the disk refuses: half of it is written first."""

    def write(place, data):
        place.write_bytes(data[: len(data) // 2])
        raise OSError(number, os.strerror(number))

    return pytest.param(write, words, id=words)


@pytest.mark.parametrize(
    ("writer", "words"),
    [
        refusing(errno.ENOSPC, "the disk is full"),
        refusing(errno.EACCES, "you may not write there"),
        refusing(errno.EROFS, "the disk can only be read"),
    ],
)
def test_a_file_that_the_disk_refuses_is_said_and_the_old_one_stays_whole(tmp_path, monkeypatch, writer, words):
    place = tmp_path / "marks.csv"
    write_file(place, b"old")
    monkeypatch.setattr(course_root, "write_new", writer)
    with pytest.raises(CannotWrite, match=f"marks.csv could not be written: {words}"):
        write_file(place, b"new and longer")
    assert [(one.name, one.read_bytes()) for one in tmp_path.iterdir()] == [("marks.csv", b"old")]


def test_a_full_disk_while_taking_in_leaves_what_was_handed_in_before(marked_course, handed_in, monkeypatch):
    course, later = marked_course, handed_in[1]
    folder = course.submitted(NAMES[0], EXERCISE)
    before = {one.name: one.read_bytes() for one in folder.iterdir()}
    writer, _ = refusing(errno.ENOSPC, "full").values
    with monkeypatch.context() as full:
        full.setattr(course_root, "write_new", writer)
        with pytest.raises(CannotWrite, match="the disk is full"):
            take_in(course, later)
    assert {one.name: one.read_bytes() for one in folder.iterdir()} == before
    assert [one.name for one in folder.parent.iterdir() if one.is_dir() and not one.name.startswith(".")] == [EXERCISE]
    (taken,) = take_in(course, later).taken
    assert taken.replaced and (folder / LOGBOOK).read_bytes() == (later / LOGBOOK).read_bytes()


@pytest.mark.slow
def test_a_full_disk_while_marking_is_said_and_marking_again_goes_on(marked_course, monkeypatch):
    course = marked_course
    before = {name: stored_marks(course, name) for name in NAMES}
    writer, _ = refusing(errno.ENOSPC, "full").values
    with monkeypatch.context() as full:
        full.setattr(course_root, "write_new", writer)
        with pytest.raises(CannotWrite, match="the disk is full"):
            mark_course(course.folder, EXERCISE)
    assert {name: stored_marks(course, name) for name in NAMES} == before
    run = mark_course(course.folder, EXERCISE)
    assert [row.findings for row in run.rows] == [()] * len(NAMES)


def test_a_full_disk_keeps_a_changed_mark_out_of_everything(marked_course, monkeypatch):
    course = marked_course
    change_mark(course, NAMES[0], EXERCISE, "method", 1, "first", "Otto Quist")
    whole = register_file(course).read_bytes()

    def half(descriptor, data):
        os.write(descriptor, data[: len(data) // 2])
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as full:
        full.setattr(register_of_marks, "write_all", half)
        with pytest.raises(ClassroomError, match="the disk is full"):
            change_mark(course, NAMES[0], EXERCISE, "method", 2, "second", "Otto Quist")
    assert register_file(course).read_bytes() == whole
    assert read_marks(course, NAMES[0], EXERCISE).marks["method"] == 1


def test_a_gradebook_that_may_only_be_read_is_said_in_a_sentence(marked_course, monkeypatch):
    course = marked_course
    before = course.gradebook.read_bytes()
    address = f"sqlite:///file:{course.gradebook}?mode=ro&uri=true"
    roster = read_roster(course.roster)
    learner = next(iter(roster.rows))
    learner["last_name"] = "Changed"
    with monkeypatch.context() as closed:
        closed.setattr(gradebook, "gradebook_address", lambda one: address)
        with pytest.raises(GradebookTrouble, match="it may not be written"):
            enter_learners(course, roster)
    assert course.gradebook.read_bytes() == before


def test_a_damaged_gradebook_is_said_in_a_sentence(course):
    course.gradebook.write_bytes(b"this is no gradebook " * 500)
    with pytest.raises(GradebookTrouble, match="it is damaged"):
        read_marks(course, NAMES[0], EXERCISE)


def test_a_full_disk_under_the_gradebook_is_told_from_other_faults(course, tmp_path):
    """The message is SQLite's own, asked for by letting a small database grow no further."""
    opened = sqlite3.connect(tmp_path / "small.db")
    opened.execute("CREATE TABLE one (text)")
    opened.execute("PRAGMA max_page_count = 3")
    with pytest.raises(sqlite3.Error) as full:
        opened.executemany("INSERT INTO one VALUES (?)", [("x" * 5_000,)] * 100)
    assert "the disk is full. Make room" in str(in_plain_words(course, full.value))
    with pytest.raises(sqlite3.Error) as other:
        opened.execute("SELECT nothing FROM nowhere")
    opened.close()
    assert in_plain_words(course, other.value) is None


@pytest.mark.parametrize(
    ("log", "words"),
    [
        ("OSError: [Errno 28] No space left on device", "the disk is full"),
        ("sqlalchemy.exc.OperationalError: (sqlite3.OperationalError) database is locked", "another program"),
        ("ValueError: full_by_the_gauge", "ValueError: full_by_the_gauge"),
    ],
)
def test_what_nbgrader_could_not_do_is_said_in_plain_words(log, words):
    assert failure_of({"success": False, "log": f"[INFO] Autograding\n{log}\n", "error": ""}).startswith(words)
