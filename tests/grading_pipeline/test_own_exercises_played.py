"""What a learner gets of an own exercise says nothing of the fault, plays alone, and is marked as any other."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import nbformat
import pytest
from class_kit import make_class
from own_exercise_kit import AIR, CHOICES, NAME, SHUT, forget_what_was_announced, small_course

from engine_sim.attempt import Diagnosis
from engine_sim.bench.desk import Desk
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.mark_submissions import mark_course, mark_submissions
from engine_sim.classroom.pages_handed_out import pages_handed_out
from engine_sim.classroom.shipped import shipped
from engine_sim.classroom.teaching.own_exercises import make_exercise, own_file, save_exercise
from engine_sim.classroom.worked_out import look_at
from engine_sim.errors import UnknownName
from engine_sim.faults import faults
from engine_sim.marking import load_marking_scheme, mark_logbook
from engine_sim.scenarios import (
    also_sealed_in,
    new_ticket,
    pool,
    read_pool,
    write_pool_text,
)
from engine_sim.scenarios.sealed import seal, unseal
from engine_sim.wording import FAULTS


@pytest.fixture
def course(tmp_path) -> CourseRoot:
    """A class's folder with nothing in it but the marking scheme."""
    return small_course(tmp_path / "course")


# ---- what a learner gets --------------------------------------------------------------------------------------------


def test_nothing_that_a_learner_gets_says_what_may_be_wrong(course):
    save_exercise(course, CHOICES)
    made = make_exercise(course, NAME)
    sealed, page = made.sealed.read_text("ascii"), made.page.read_text("utf-8")
    words = {word for said in FAULTS.values() for word in said.replace(",", "").split() if len(word) > 4}
    told = [word for word in (*faults(), *words, *AIR["parts"], "separator", "draw", "sever") if word in sealed.lower()]
    assert told == []
    assert [name for name in (*faults(), *AIR["parts"]) if name in page] == []
    assert read_pool(unseal(made.sealed.read_bytes(), "x")) == pool(NAME)


def test_the_page_is_a_page_of_the_course_with_its_own_head_and_bench(course):
    save_exercise(course, CHOICES)
    page = nbformat.read(make_exercise(course, NAME).page, as_version=4)
    nbformat.validate(page)
    head = page.cells[0].source
    assert head.startswith("# A quiet morning") and "**About 25 minutes.**" in head and "slack joint" in head
    assert str(CHOICES["story"]) in head and "$" not in head
    assert [cell.source for cell in page.cells if "bench(" in cell.source] == [
        f'from engine_sim.bench import bench; bench("{NAME}")'
    ]
    marked = [cell.metadata.nbgrader for cell in page.cells if "nbgrader" in cell.metadata]
    points = {one.grade_id: one.points for one in marked}
    assert points == {"ashore": 5, "safety": 5, "method": 10, "diagnosis": 5, "cure": 10, "housekeeping": 5}


HARMED = {
    "cut": lambda data: data[:-60],
    "a letter changed": lambda data: data[:-20] + (b"A" if data[-20:-19] != b"A" else b"B") + data[-19:],
    "digest changed": lambda data: data.replace(data.splitlines()[1], b"0" * 64),
    "empty": lambda data: b"",
    "no text": lambda data: b"\xff\x00" * 50,
    "another file": lambda data: b"{}",
}


@pytest.mark.parametrize("how", HARMED)
def test_a_damaged_file_says_so_on_the_bench_and_a_sound_copy_mends_it(tmp_path, how):
    sound = seal(write_pool_text(CHOICES))
    place = tmp_path / f"{NAME}.exercise"
    place.write_bytes(HARMED[how](sound))
    also_sealed_in(tmp_path)
    desk = Desk(NAME, tmp_path)
    assert desk.mode == "trouble" and "is damaged" in desk.message and "instructor" in desk.message
    place.write_bytes(sound)
    desk.handle("page", "retry", {})
    assert desk.mode == "ticket"


def test_a_missing_file_says_so_on_the_bench(tmp_path):
    from engine_sim.bench import bench

    (tmp_path / f"{NAME}.ipynb").write_text("{}", encoding="utf-8")
    desk = bench(NAME, tmp_path).desk
    assert desk.mode == "trouble" and f"{NAME}.exercise is missing" in desk.message
    with pytest.raises(UnknownName, match="No exercise is called"):
        bench("quiet_evening", tmp_path)


# ---- which pages open by themselves ---------------------------------------------------------------------------------


def code_changed(page: dict) -> None:
    next(one for one in page["cells"] if one["cell_type"] == "code")["source"] = ["print(1)"]


def other_bench(page: dict) -> None:
    next(one for one in page["cells"] if one["cell_type"] == "code")["source"] = [
        'from engine_sim.bench import bench; bench("soft_lever")'
    ]


def script_in_a_text(page: dict) -> None:
    page["cells"][0]["source"] += ["<img src=x onerror=alert(1)>"]


def shows_something(page: dict) -> None:
    next(one for one in page["cells"] if one["cell_type"] == "code")["outputs"] = [{"output_type": "stream"}]


def no_cells(page: dict) -> None:
    del page["cells"]


@pytest.mark.parametrize("harm", [None, code_changed, other_bench, script_in_a_text, shows_something, no_cells])
def test_only_a_page_that_does_nothing_but_open_its_own_bench_opens_it_by_itself(course, tmp_path, harm):
    save_exercise(course, CHOICES)
    made = make_exercise(course, NAME)
    here = tmp_path / "exercises" / NAME
    here.mkdir(parents=True)
    shutil.copy(made.sealed, here)
    page = json.loads(made.page.read_text("utf-8"))
    if harm is not None:
        harm(page)
    (here / made.page.name).write_text(json.dumps(page), encoding="utf-8")
    found = list(pages_handed_out(shipped("course"), tmp_path))
    assert found == ([here / made.page.name] if harm is None else [])


# ---- marked ---------------------------------------------------------------------------------------------------------


def plays_and_hands_in(made, ticket: str, folder: Path) -> bytes:
    """Work the exercise in a learner's folder that has its page, the sealed file and a ticket; return the logbook."""
    forget_what_was_announced()
    folder.mkdir()
    for file in (made.page, made.sealed):
        shutil.copy(file, folder)
    also_sealed_in(folder)
    desk = Desk(NAME, folder)
    assert desk.mode == "ticket"
    desk.handle("page", "ticket", {"text": ticket})
    attempt = desk.attempt
    for part, action in (("stop_control", "look"), ("shut_off", "look"), ("shut_off", "open"), ("starter", "crank_10")):
        attempt.act(part, action)
    attempt.note("The shut-off stood across the pipe.")
    attempt.diagnose(Diagnosis("shut_off", "shut_valve", (2,)))
    attempt.hand_in()
    desk.close()
    forget_what_was_announced()
    return (folder / f"{NAME}.logbook.jsonl").read_bytes()


@pytest.mark.slow
def test_what_a_learner_did_with_page_file_and_ticket_alone_is_marked_in_the_class(tmp_path, capsys):
    tickets = {"ann": new_ticket(), "bob": new_ticket()}
    course = make_class(tmp_path / "course", tickets)
    save_exercise(course, CHOICES | {"draw": [SHUT]})
    made = make_exercise(course, NAME)
    logbook = plays_and_hands_in(made, tickets["ann"], tmp_path / "ann")
    here = course.submitted("ann", NAME)
    shutil.copytree(tmp_path / "ann", here, ignore=shutil.ignore_patterns("*.ticket", ".*"))

    (row,) = mark_course(course.folder, NAME).rows
    sheet = mark_logbook(logbook, NAME, tickets["ann"], load_marking_scheme(course.scheme(NAME)))
    assert {name: row.marks[name] for name in sheet.marks} == {name: mark.score for name, mark in sheet.marks.items()}
    assert row.marks["diagnosis"] == 5.0 and row.marks["cure"] > 0.0 and row.findings == ()
    released = sorted(place.name for place in course.release(NAME).parent.iterdir())
    assert released == [f"{NAME}.exercise", f"{NAME}.ipynb"]
    assert (course.autograded("ann", NAME) / f"{NAME}.logbook.jsonl").read_bytes() == logbook

    before = look_at(course, "ann", NAME).digest
    own_file(course, NAME).write_text(own_file(course, NAME).read_text("utf-8") + "# a word\n", encoding="utf-8")
    assert look_at(course, "ann", NAME).digest != before
    forget_what_was_announced()
    assert mark_submissions(course.folder) == 0
    assert f"A quiet morning ({NAME})" in capsys.readouterr().out

    own_file(course, NAME).write_text("layout = ", encoding="utf-8")
    forget_what_was_announced()
    assert mark_submissions(course.folder) == 1
    assert f"{NAME}: nothing was marked" in capsys.readouterr().out
    assert json.loads(course.worked_out(NAME, "ann").read_text("utf-8"))["places"]["cure"]["score"] > 0.0
