"""How far a learner is: read from the learner's own folder, whatever lies there, and told where to go on."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from engine_sim.attempt import open_exercise
from engine_sim.attempt.practice_log import Practised, keep_practised, practice_file, practised
from engine_sim.classroom.own_folder import fill_own_folder
from engine_sim.classroom.progress import BEGUN, HANDED_IN, NOT_BEGUN, WORKED_THROUGH, overview, progress_in
from engine_sim.classroom.shipped import shipped
from engine_sim.scenarios import new_ticket


@pytest.fixture
def own(tmp_path: Path) -> Path:
    folder = tmp_path / "fuel-course"
    fill_own_folder(shipped("course"), folder)
    return folder


def state(own: Path, title: str) -> str:
    return next(page.state for page in progress_in(own).pages if page.title == title)


def worked(own: Path, part: str, exercise: str, ticket: str = "", hand_in: bool = False) -> None:
    with open_exercise(exercise, ticket, own / part) as opened:
        opened.attempt.act("bench", "look_around")
        if hand_in:
            opened.attempt.hand_in()


def test_a_new_folder_begins_with_the_first_lesson(own: Path) -> None:
    found = progress_in(own)
    assert {page.state for page in found.pages} == {NOT_BEGUN}
    assert found.sentence == "Next: The path from tank to injector, about 20 minutes."
    assert sum(bool(page.number) for page in found.pages) >= 11


def test_what_was_begun_last_is_where_to_go_on(own: Path) -> None:
    worked(own, "notebooks", "water")
    worked(own, "exercises/soft_lever", "soft_lever", new_ticket())
    older = own / "exercises/soft_lever/soft_lever.logbook.jsonl"
    os.utime(older, (1.0, 1.0))
    assert (state(own, "Water"), state(own, "A soft lever")) == (BEGUN, BEGUN)
    assert progress_in(own).sentence == "Go on where you stopped: Water, about 33 minutes."


def test_a_lesson_is_worked_through_when_something_was_done_at_each_of_its_benches(own: Path) -> None:
    worked(own, "notebooks", "first_look")
    assert state(own, "The path from tank to injector") == WORKED_THROUGH
    assert progress_in(own).on is not None and progress_in(own).on.title == "It will not keep running"


def test_an_exercise_that_was_handed_in_is_done_and_its_practice_is_listed(own: Path) -> None:
    place = own / "exercises/no_start_harbour"
    worked(own, "exercises/no_start_harbour", "no_start_harbour", new_ticket(), hand_in=True)
    for points, passed in ((12.5, False), (31.0, True), (31.0, True)):
        keep_practised(place, "no_start_harbour", Practised("2026-11-28T10:00+00:00", "AAAA", points, 35.0, passed))
    assert state(own, "It will not keep running") == HANDED_IN
    row = next(one for one in overview(own).rows if one["title"] == "It will not keep running")
    assert row["marks"] == ["2026-11-28: 12.5 of 35", "2026-11-28: 31 of 35, passed"]


def test_damaged_files_are_passed_over(own: Path) -> None:
    (own / "notebooks/water.logbook.jsonl").write_bytes(b"\xff\xfe not a logbook")
    practice_file(own / "exercises/sums", "sums").write_text('{"at": 3}\n[]\nno line\n{"points": "x"}\n', "utf-8")
    (own / "notebooks/air.ipynb").write_text('{"cells": [], "metadata": {}}', "utf-8")
    assert practised(own / "exercises/sums", "sums") == ()
    assert state(own, "Water") == NOT_BEGUN
    assert progress_in(own).pages


def test_a_page_that_a_learner_broke_hides_only_itself(own: Path) -> None:
    (own / "notebooks/air.ipynb").write_text("no page any more", "utf-8")
    titles = [page.title for page in progress_in(own).pages]
    assert "Air" not in titles and "Water" in titles
