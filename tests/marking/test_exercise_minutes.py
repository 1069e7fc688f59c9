"""The minutes that an exercise states: its words, and its deeds as the sound simulated worker does them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import solving
from boats import places_of

from engine_sim.classroom.course_plan import Exercise, all_exercises

COURSE = Path(__file__).resolve().parents[2] / "course"
WORDS_A_MINUTE = 130.0
DEEDS_A_MINUTE = 3.0
ENGINES = [one for one in all_exercises() if one.pool is not None]


@pytest.mark.slow
@pytest.mark.parametrize("exercise", ENGINES, ids=lambda one: one.id)
def test_an_exercise_takes_about_the_minutes_that_it_says(exercise: Exercise) -> None:
    """The page at reading pace, and twenty seconds of thinking and pressing for each of the sound worker's deeds."""
    page = json.loads((COURSE / exercise.page).read_text("utf-8"))
    words = sum(len("".join(cell["source"]).split()) for cell in page["cells"] if cell["cell_type"] == "markdown")
    deeds = max(solving.played(solving.SOUND, exercise.id, *place).deeds for place in places_of(exercise.id))
    assert words / WORDS_A_MINUTE + deeds / DEEDS_A_MINUTE == pytest.approx(exercise.minutes, rel=0.25)
