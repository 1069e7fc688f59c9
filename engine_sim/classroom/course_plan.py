"""The course as a whole: its lessons with what each teaches, its exercises, and what leads from one to the other.

A lesson says of itself, at the head of its text, its number, its minutes and its objectives; an exercise's pool names
the objectives that it exercises, as ``lesson.objective``. Everything that lists pages is made from that.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from engine_sim.errors import EngineSimError
from engine_sim.scenarios import Pool, graded_exercises, pool

ABOUT = "fuelcourse"
"""The name under which a page says of itself what it is."""


class PlanTrouble(EngineSimError):
    """Lessons and exercises do not fit together."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """One lesson; ``objectives`` are sentences that begin with a verb, by their ids."""

    id: str
    number: int
    title: str
    minutes: int
    objectives: Mapping[str, str]

    @property
    def page(self) -> str:
        """Where its page lies in a learner's folder."""
        return f"notebooks/{self.id}.ipynb"


def lesson_of(name: str, about: Mapping[str, Any], first_text: str) -> Lesson | None:
    """Return the lesson on a page, or None where the page is none; ``about`` is what the page says of itself.

    Raises PlanTrouble for a lesson that leaves something out.
    """
    if "number" not in about:
        return None
    missing = [key for key in ("minutes", "objectives") if not about.get(key)]
    title = next((line[2:].strip() for line in first_text.splitlines() if line.startswith("# ")), "")
    if missing or not title:
        raise PlanTrouble(f"{name}: a lesson needs {', '.join(missing) or 'a title'}. Add it at the head of its text.")
    return Lesson(name, int(about["number"]), title, int(about["minutes"]), dict(about["objectives"]))


def lessons_in(notebooks: Path) -> tuple[Lesson, ...]:
    """Return the lessons among the pages of a folder, in their order."""
    found = []
    for page in sorted(notebooks.glob("*.ipynb")):
        data = json.loads(page.read_text("utf-8"))
        first = "".join(data["cells"][0]["source"]) if data["cells"] else ""
        found.append(lesson_of(page.stem, data["metadata"].get(ABOUT, {}), first))
    return in_order(found)


def in_order(found: Iterable[Lesson | None]) -> tuple[Lesson, ...]:
    """Return lessons by their numbers."""
    return tuple(sorted((one for one in found if one is not None), key=lambda lesson: lesson.number))


def graded_pools() -> tuple[Pool, ...]:
    """Return the graded exercises in the order in which a learner should take them."""
    return tuple(sorted((pool(name) for name in graded_exercises()), key=lambda one: one.number))


def exercise_page(exercise: Pool) -> str:
    """Return where the page of an exercise lies in a learner's folder."""
    return f"exercises/{exercise.id}/{exercise.id}.ipynb"


def exercises_of(lesson: Lesson, pools: Sequence[Pool]) -> tuple[Pool, ...]:
    """Return the exercises that exercise something of a lesson."""
    return tuple(one for one in pools if any(name.startswith(f"{lesson.id}.") for name in one.objectives))


def sentence_of(objective: str, lessons: Sequence[Lesson]) -> str:
    """Return the sentence of an objective named ``lesson.objective``; raises PlanTrouble where there is none."""
    lesson_id, _, name = objective.partition(".")
    for lesson in lessons:
        if lesson.id == lesson_id and name in lesson.objectives:
            return lesson.objectives[name]
    known = ", ".join(f"{lesson.id}.{name}" for lesson in lessons for name in lesson.objectives)
    raise PlanTrouble(f"No lesson has the objective {objective!r}. Name one of: {known}")


# ---- texts that list pages ------------------------------------------------------------------------------------------


def objectives_text(lesson: Lesson) -> str:
    """Return what a lesson's page says at its head."""
    lines = ";\n".join(f"- {sentence}" for sentence in lesson.objectives.values())
    return f"**About {lesson.minutes} minutes.** When you have finished you can\n\n{lines}."


def exercise_objectives_text(exercise: Pool, lessons: Sequence[Lesson]) -> str:
    """Return what an exercise's page says that it exercises."""
    return ";\n".join(f"- {sentence_of(name, lessons)}" for name in exercise.objectives) + "."


def onward_text(lesson: Lesson, lessons: Sequence[Lesson], pools: Sequence[Pool]) -> str:
    """Return the last words of a lesson's page: what to practise, and which lesson comes next."""
    fresh = "**Practise**, with a fresh fault each time:"
    found = [
        f"{fresh} [{one.title}](../{exercise_page(one)}), about {one.minutes} minutes."
        for one in exercises_of(lesson, pools)
    ]
    later = [one for one in lessons if one.number > lesson.number]
    found += [f"**Next lesson:** [{later[0].title}]({later[0].id}.ipynb)."] if later else []
    return "## Where to go on\n\n" + "\n\n".join(found)


def pages_text(lessons: Sequence[Lesson], pools: Sequence[Pool]) -> str:
    """Return the list of all pages for the start page: each lesson, and under it what to practise."""
    lines: list[str] = []
    told: set[str] = set()
    for lesson in lessons:
        lines.append(f"{lesson.number}. **[{lesson.title}]({lesson.id}.ipynb)**, about {lesson.minutes} minutes")
        for one in exercises_of(lesson, pools):
            if one.id not in told and _last_lesson(one, lessons) == lesson.id:
                told.add(one.id)
                lines.append(f"   - Practise: [{one.title}](../{exercise_page(one)}), about {one.minutes} minutes")
    return "\n".join(lines)


def _last_lesson(exercise: Pool, lessons: Sequence[Lesson]) -> str:
    """Return the lesson after which an exercise can be done: the last one of which it asks something."""
    asked = {name.partition(".")[0] for name in exercise.objectives}
    return next((lesson.id for lesson in reversed(lessons) if lesson.id in asked), "")
