"""The course as a whole: objectives and exercises belong together, lessons are built alike, minutes are counted."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from engine_sim.classroom import course_plan as plan
from engine_sim.classroom.build_notebooks import lesson_in
from engine_sim.classroom.course_plan import Exercise, Lesson, PlanTrouble
from engine_sim.scenarios import exercises, graded_exercises, pool

ROOT = Path(__file__).resolve().parents[2]
NOTEBOOKS = ROOT / "course/notebooks"
LESSONS = plan.lessons_in(NOTEBOOKS)
EXERCISES = plan.all_exercises()
WORDS_A_MINUTE = 130.0
SHORTEST, LONGEST = 15, 35
WITHOUT_CHOICES = ("first_look", "your_own_engine")
"""The lesson in which everything is asked at the bench, and the one about the learner's own boat."""
OPTION = re.compile(r"<details><summary>([A-E]) (.+?)</summary>\n\n(.+?)\n\n</details>", re.DOTALL)
BENCH = re.compile(r'bench\("(\w+)"\)')


def text_of(lesson: Lesson) -> str:
    return (ROOT / f"course/lessons/{lesson.id}.md").read_text("utf-8").split("---\n", 2)[2]


def lesson_id(lesson: Lesson) -> str:
    return lesson.id


def test_lessons_are_numbered_from_one_on() -> None:
    assert [lesson.number for lesson in LESSONS] == list(range(1, len(LESSONS) + 1))
    assert len(LESSONS) >= 11


def test_every_objective_has_an_exercise_and_every_exercise_an_objective() -> None:
    taught = {f"{lesson.id}.{name}" for lesson in LESSONS for name in lesson.objectives}
    exercised = {name for exercise in EXERCISES for name in exercise.objectives}
    exercised |= {name for name in taught if name.startswith("your_own_engine.")}
    assert taught - exercised == set(), "taught, and in no exercise"
    assert exercised - taught == set(), "exercised, and in no lesson"
    assert [exercise.id for exercise in EXERCISES if not exercise.objectives] == []


@pytest.mark.parametrize("lesson", LESSONS, ids=lesson_id)
def test_an_objective_is_something_that_a_person_does(lesson: Lesson) -> None:
    assert 3 <= len(lesson.objectives) <= 5
    assert [text for text in lesson.objectives.values() if not re.match(r"\*\*[a-z ]+\*\* ", text)] == []


@pytest.mark.parametrize("lesson", LESSONS, ids=lesson_id)
def test_a_lesson_takes_about_the_minutes_that_it_says(lesson: Lesson) -> None:
    """Words at reading pace are a part of it; what is done at the bench takes the rest, and never the greater one."""
    page = json.loads((NOTEBOOKS / f"{lesson.id}.ipynb").read_text("utf-8"))
    words = sum(len("".join(cell["source"]).split()) for cell in page["cells"] if cell["cell_type"] == "markdown")
    reading = words / WORDS_A_MINUTE
    assert SHORTEST <= lesson.minutes <= LONGEST
    assert 0.5 * lesson.minutes <= reading <= lesson.minutes


@pytest.mark.parametrize(
    "lesson", [one for one in LESSONS if one.id not in ("first_look", "your_own_engine")], ids=lesson_id
)
def test_questions_have_one_right_answer_and_say_why_the_others_tempt(lesson: Lesson) -> None:
    text = text_of(lesson)
    parts = text.split("**Question.**")[1:]
    assert len(parts) >= 3
    for part in parts:
        options = OPTION.findall(part.split("\n## ")[0].split("\n+++")[0])
        assert 3 <= len(options) <= 5, part[:80]
        assert [letter for letter, _, _ in options] == list("ABCDE"[: len(options)])
        right = [said for _, _, said in options if said.startswith("*Yes.*")]
        wrong = [said for _, _, said in options if said.startswith("*No.*")]
        assert len(right) == 1 and len(wrong) == len(options) - 1, part[:80]
        assert [said[:60] for said in wrong if "tempt" not in said.lower()] == []


@pytest.mark.parametrize("lesson", LESSONS, ids=lesson_id)
def test_a_lesson_ends_with_key_points_and_defers_to_manual_rules_and_engineer(lesson: Lesson) -> None:
    last = text_of(lesson).split("## Key points")[1]
    assert len(re.findall(r"^- ", last, flags=re.MULTILINE)) >= 4
    assert "the engine's manual, the local rules and a qualified marine engineer come before anything" in last


@pytest.mark.parametrize("lesson", LESSONS, ids=lesson_id)
def test_a_lessons_benches_are_its_own_and_the_same_for_everybody(lesson: Lesson) -> None:
    names = set(BENCH.findall(text_of(lesson)))
    assert names <= set(exercises()) - set(graded_exercises())
    assert {name for name in names if not name.startswith(lesson.id)} == set()
    for name in names:
        assert len(pool(name).draws) <= 1
        assert all(len(one.parts) == 1 and len(one.possible_severity) == 1 for one in pool(name).draws)


def test_every_lesson_pool_is_shown_somewhere() -> None:
    shown = {name for lesson in LESSONS for name in BENCH.findall(text_of(lesson))}
    assert set(exercises()) - set(graded_exercises()) - shown == set()


def test_there_are_enough_exercises_on_enough_boats_and_one_last_one() -> None:
    engines = [exercise for exercise in EXERCISES if exercise.pool is not None]
    assert len(engines) >= 12
    assert len({exercise.pool.layout for exercise in engines}) >= 4
    last = [exercise for exercise in engines if not exercise.pool.help_most]
    assert [exercise.id for exercise in last] == ["assessment"]
    assert [draw.also for draw in last[0].pool.draws if not draw.also] == [], "two faults each"
    clocked = [exercise.pool for exercise in engines if exercise.pool.lee_shore_min is not None]
    assert clocked and all(one.weather.seaway > 0.0 and all(draw.also for draw in one.draws) for one in clocked)


def test_the_start_page_names_every_lesson_and_every_exercise_once() -> None:
    said = plan.pages_text(LESSONS, EXERCISES)
    for one in (*LESSONS, *EXERCISES):
        assert said.count(f"[{one.title}](") == 1, one.title


def test_a_lesson_that_leaves_something_out_is_refused_by_name() -> None:
    with pytest.raises(PlanTrouble, match="water: a lesson needs minutes, objectives"):
        lesson_in("water", "---\nfuelcourse:\n  number: 5\n---\n\n# Water\n")


def test_an_objective_that_no_lesson_has_is_refused_with_those_that_there_are() -> None:
    wrong = Exercise("x", 1, "X", 10, ("water.walk_on_it",), {})
    with pytest.raises(PlanTrouble, match=r"No lesson has the objective 'water.walk_on_it'. Name one of: first_look"):
        plan.exercise_objectives_text(wrong, LESSONS)
