"""What a learner receives tells no answer: no fault that an exercise draws, no scheme, nothing of the instructors'."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from engine_sim.classroom.course_plan import Exercise, all_exercises
from engine_sim.classroom.own_folder import fill_own_folder
from engine_sim.classroom.shipped import shipped
from engine_sim.faults import fault
from engine_sim.marking.sums import SUMS
from engine_sim.wording import FAULTS

ENGINES = [one for one in all_exercises() if one.pool is not None]


def drawn_by(exercise: Exercise) -> set[str]:
    assert exercise.pool is not None
    return {one.fault for draw in exercise.pool.draws for one in (draw, *draw.also)}


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("own") / "fuel-course"
    fill_own_folder(shipped("course"), folder)
    return folder


def test_the_folder_holds_pages_and_nothing_of_the_instructors(own: Path) -> None:
    kinds = {path.suffix for path in own.rglob("*") if path.is_file()}
    assert kinds <= {".ipynb", ".json", ".pdf"}
    names = {path.name for path in own.rglob("*")}
    assert not {"usual.toml", "nbgrader_config.py", "page.md", "roster.csv", "gradebook.db"} & names
    assert len(list(own.rglob("exercises/*/*.ipynb"))) == len(all_exercises())


@pytest.mark.parametrize("exercise", ENGINES, ids=lambda one: one.id)
def test_an_exercises_page_names_no_fault_that_it_draws(own: Path, exercise: Exercise) -> None:
    page = (own / exercise.page).read_text("utf-8").lower()
    for name in drawn_by(exercise):
        assert "_" not in name or name not in page
        label = FAULTS[fault(name).diagnosis].lower()
        assert " " not in label or label not in page, name


@pytest.mark.parametrize("exercise", all_exercises(), ids=lambda one: one.id)
def test_an_exercises_page_is_handed_out_unmarked(own: Path, exercise: Exercise) -> None:
    cells = json.loads((own / exercise.page).read_text("utf-8"))["cells"]
    assert not [cell for cell in cells if cell.get("outputs")]
    answers = [cell for cell in cells if cell["metadata"].get("nbgrader", {}).get("solution")]
    assert ["write your answer" in "".join(cell["source"]) for cell in answers] == [True]


def test_the_page_of_the_sums_tells_no_figure_and_no_answer(own: Path) -> None:
    page = (own / "exercises/sums/sums.ipynb").read_text("utf-8")
    for item in SUMS:
        assert item.working.split("{")[0].strip() not in page or not item.working.split("{")[0].strip()
        assert item.text.split("{")[0] not in page
