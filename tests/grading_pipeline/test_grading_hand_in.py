"""Reading and tidying one hand-in: nothing is followed, run or lost."""

from __future__ import annotations

import json
import os

import pytest
from class_kit import (
    EXERCISE,
    LOGBOOK,
    NOTEBOOK,
)

from engine_sim.classroom.course_root import at
from engine_sim.classroom.hand_in import logbook_ticket, read_notebook, read_plain_file
from engine_sim.classroom.marking_steps import as_harmless_text, score_in_points
from engine_sim.classroom.tidying import read_reasons, tidy


@pytest.fixture
def desk(tmp_path):
    """A course root and a handed-in folder in it with an honest notebook, without nbgrader."""
    course = at(tmp_path)
    folder = course.submitted("ada", EXERCISE)
    folder.mkdir(parents=True)
    (folder / NOTEBOOK).write_text('{"cells": []}', encoding="utf-8")
    return course, folder


def test_links_and_folders_are_set_aside_and_not_followed(desk):
    course, folder = desk
    (folder / LOGBOOK).symlink_to("/dev/zero")
    (folder / "more").mkdir()
    os.mkfifo(folder / "pipe")
    tidy(course, "ada", EXERCISE)
    assert sorted(place.name for place in folder.iterdir()) == [NOTEBOOK, "submission_secret.txt", "timestamp.txt"]
    aside = course.set_aside(EXERCISE, "ada")
    assert (aside / LOGBOOK).is_symlink()
    assert len(read_reasons(aside)) == 3


def test_the_oversized_is_set_aside_whole(desk):
    course, folder = desk
    (folder / LOGBOOK).write_bytes(b"x" * 5_000_001)
    tidy(course, "ada", EXERCISE)
    assert (course.set_aside(EXERCISE, "ada") / LOGBOOK).stat().st_size == 5_000_001
    assert "larger than 5 MB" in read_reasons(course.set_aside(EXERCISE, "ada"))[0]


def test_tidying_twice_changes_nothing_more(desk):
    course, folder = desk
    (folder / LOGBOOK).symlink_to("/dev/zero")
    tidy(course, "ada", EXERCISE)
    before = {place.name: place.read_bytes() for place in folder.iterdir()}
    tidy(course, "ada", EXERCISE)
    assert {place.name: place.read_bytes() for place in folder.iterdir()} == before
    assert len(read_reasons(course.set_aside(EXERCISE, "ada"))) == 1


def test_a_handed_in_folder_that_is_a_link_is_left_alone(desk, tmp_path):
    course, folder = desk
    other = course.submitted("bram", EXERCISE)
    other.parent.mkdir()
    other.symlink_to(folder)
    tidy(course, "bram", EXERCISE)
    assert [place.name for place in folder.iterdir()] == [NOTEBOOK]


def test_a_link_is_not_read(tmp_path):
    (tmp_path / "secret").write_text("secret", encoding="utf-8")
    (tmp_path / "link").symlink_to(tmp_path / "secret")
    assert read_plain_file(tmp_path / "link", 100) == "is a link or something else than a file"


@pytest.mark.parametrize("data", [b"", b"[1", b'"text"', b"\xff\xfe", b'{"ticket": 5}', b"[" * 50_000])
def test_a_first_line_without_a_ticket_is_no_ticket(data):
    assert logbook_ticket(data) == ""


@pytest.mark.parametrize(
    "cells", [None, 5, [1, None, {}], [{"metadata": 1}], [{"metadata": {"nbgrader": {"grade_id": 5}}, "source": "x"}]]
)
def test_a_notebook_of_odd_parts_is_read_without_harm(tmp_path, cells):
    (tmp_path / NOTEBOOK).write_text(json.dumps({"cells": cells}), encoding="utf-8")
    assert read_notebook(tmp_path / NOTEBOOK).answers == {}


def test_an_answer_cannot_act_as_markup_link_formula_or_script():
    text = as_harmless_text("<b> [a](javascript:b) $x$ \\(y\\) <!-- & `z`")
    assert not set(text) & set("<>[]$\\")


@pytest.mark.parametrize(
    ("score", "maximum", "points", "mark"),
    [
        (7.5, 10, 10, 7.5),
        (5, 5, 10, 10.0),
        (-3, 10, 10, 0.0),
        (99, 10, 10, 10.0),
        (float("nan"), 10, 10, 0.0),
        (float("inf"), 10, 10, 0.0),
        (1, 0, 10, 0.0),
    ],
)
def test_a_mark_is_always_a_number_within_its_points(score, maximum, points, mark):
    assert score_in_points(score, maximum, points) == mark
