"""Every graded exercise worked by the model learner: full marks for it, none untouched, and nbval runs its page.

The model is the simulated learner that works from the tank to the pump; it knows no more than what it notices. What
it hands in is marked as a class's hand-ins are, coach and engine test and all.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from boats import POOLS, places_of, ticket_for

from engine_sim.attempt import open_exercise
from engine_sim.classroom.course_plan import exercise_named, sums_points
from engine_sim.classroom.hand_in import logbook_name
from engine_sim.learners import KINDS, MODEL
from engine_sim.marking import default_scheme, mark_logbook
from engine_sim.marking.sums import SUMS, SUMS_EXERCISE, answer_line, figures_of, last_answers, mark_answers

COURSE = Path(__file__).resolve().parents[2] / "course"
TICKET = ticket_for(*places_of(POOLS[0])[0])
ALL = (*POOLS, SUMS_EXERCISE)

SHOWN_ON = {"dies_in_the_channel": "collapsed_hose", "bad_fuel_aboard": "dirt_in_tank"}
"""The draw that is worked, where it is not the pool's first; on every draw the model earns nine tenths of each mark."""
Solved = Callable[[str], Path]
pytestmark = pytest.mark.slow


def ticket_of(exercise: str) -> str:
    """Return a ticket for the draw of an exercise on which the model is shown."""
    places = places_of(exercise)
    shown = next((place for place in places if place[0] == SHOWN_ON.get(exercise)), places[0])
    return ticket_for(*shown, exercise)


@pytest.fixture(scope="module")
def solved(tmp_path_factory: pytest.TempPathFactory) -> Solved:
    """What gives a learner's folder in which an exercise was solved, worked once."""
    root = tmp_path_factory.mktemp("learner")
    return cache(lambda exercise: solve(exercise, root / exercise))


def solve(exercise: str, folder: Path) -> Path:
    """Solve an exercise in a new folder: its page, and the logbook beside it."""
    folder.mkdir()
    shutil.copy(COURSE / exercise_named(exercise).page, folder)
    if exercise == SUMS_EXERCISE:
        right = {one.id: f"{one.right(figures_of(one, TICKET)):.4g}" for one in SUMS}
        (folder / logbook_name(exercise)).write_bytes(answer_line(TICKET, right))
        (folder / f"{exercise}.ticket").write_text(TICKET, "utf-8")
        return folder
    with open_exercise(exercise, ticket_of(exercise), folder) as opened:
        KINDS[MODEL](opened.attempt)
    return folder


def handed_in(folder: Path) -> bytes:
    """Return the logbook of a solved exercise, whose folder has its name."""
    return (folder / logbook_name(folder.name)).read_bytes()


@pytest.mark.parametrize("exercise", POOLS)
def test_the_model_earns_full_marks(exercise: str, solved: Solved) -> None:
    sheet = mark_logbook(handed_in(solved(exercise)), exercise, ticket_of(exercise), default_scheme())
    lost = {
        name: [reason.text for reason in mark.reasons if not reason.good]
        for name, mark in sheet.marks.items()
        if mark.score < mark.maximum
    }
    assert lost == {}
    assert sheet.analysis is not None, "the coach was asked"
    assert sheet.passed and not sheet.findings


@pytest.mark.parametrize("exercise", POOLS)
def test_untouched_it_earns_nothing(exercise: str, tmp_path: Path) -> None:
    with open_exercise(exercise, ticket_of(exercise), tmp_path) as opened:
        opened.attempt.hand_in()
    data = (tmp_path / logbook_name(exercise)).read_bytes()
    for found in (data, None):
        sheet = mark_logbook(found, exercise, ticket_of(exercise), default_scheme())
        assert [mark.score for mark in sheet.marks.values()] == [0.0] * 5
        assert not sheet.passed


def test_the_sums_worked_right_earn_full_marks_and_untouched_none(solved: Solved) -> None:
    answers = last_answers(handed_in(solved(SUMS_EXERCISE)), TICKET)
    assert answers is not None
    assert sum(one.points for one in mark_answers(answers, TICKET)) == sums_points()
    assert sum(one.points for one in mark_answers({}, TICKET)) == 0.0


@pytest.fixture(scope="module")
def said(solved: Solved, tmp_path_factory: pytest.TempPathFactory) -> str:
    """What nbval says about all the solved pages; a run changes nothing that was handed in."""
    root = tmp_path_factory.mktemp("solved")
    for exercise in ALL:
        shutil.copytree(solved(exercise), root / exercise)
    options = ["--nbval-lax", "-p", "no:cacheprovider", "-rA", "-c", os.devnull]
    pages = [f"{exercise}/{exercise}.ipynb" for exercise in ALL]
    command = [sys.executable, "-m", "pytest", *options, *pages]
    done = subprocess.run(command, cwd=root, capture_output=True, text=True, timeout=900, check=False)
    for exercise in ALL:
        kept = (root / exercise / logbook_name(exercise)).read_bytes()
        assert kept == handed_in(solved(exercise))
    return done.stdout


@pytest.mark.parametrize("exercise", ALL)
def test_nbval_passes_on_the_solved_page(exercise: str, said: str) -> None:
    lines = {
        outcome: re.findall(rf"^{outcome} (?:\S*/)?{exercise}\.ipynb::.*$", said, flags=re.MULTILINE)
        for outcome in ("PASSED", "FAILED", "ERROR")
    }
    assert lines["FAILED"] == lines["ERROR"] == []
    assert lines["PASSED"]
