"""The course as a whole: its lessons with what each teaches, its exercises, and what leads from one to the other.

A lesson says of itself, at the head of its text, its number, its minutes and its objectives; an exercise's pool names
the objectives that it exercises, as ``lesson.objective``. Everything that lists pages is made from that.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from engine_sim.errors import EngineSimError, UnknownName
from engine_sim.marking import TITLES
from engine_sim.marking.sums import POINTS_EACH, SUMS, SUMS_EXERCISE
from engine_sim.scenarios import Pool, also_from, graded_exercises, pool
from engine_sim.scenarios.own_pools import names_in
from engine_sim.scenarios.own_pools import own_names as all_own_names

ABOUT = "fuelcourse"
"""The name under which a page says of itself what it is."""
OWN_FOLDER = "scenarios"
"""Where the folder of a class keeps its instructor's own exercises."""
FIRST_OWN_NUMBER = 101
"""An own exercise stands after the course's, unless its pool gives it a number."""


LAST_WORDS = (
    "You have been through the whole course. Go back to **[all pages](start_here.ipynb)**: practise with fresh tickets "
    "until the order comes by itself. Then go aboard with your card."
)
"""Where the last lesson leads."""


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


@dataclass(frozen=True, slots=True)
class Exercise:
    """One graded exercise: at an engine (``pool``), or the sums; ``places`` are its marked places, by name to title."""

    id: str
    number: int
    title: str
    minutes: int
    objectives: tuple[str, ...]
    places: Mapping[str, str]
    pool: Pool | None = None

    @property
    def page(self) -> str:
        """Where its page lies in a learner's folder."""
        return f"exercises/{self.id}/{self.id}.ipynb"


SUMS_TITLE, SUMS_NUMBER, SUMS_MINUTES = "Sums for sailors", 17, 25


def at_an_engine(one: Pool) -> Exercise:
    """Return the exercise that a pool is."""
    return Exercise(one.id, one.number, one.title, one.minutes, one.objectives, TITLES, one)


def the_sums() -> Exercise:
    """Return the exercise with the sums."""
    objectives = tuple(dict.fromkeys(item.objective for item in SUMS))
    places = {item.id: item.title for item in SUMS}
    return Exercise(SUMS_EXERCISE, SUMS_NUMBER, SUMS_TITLE, SUMS_MINUTES, objectives, places)


def sums_points() -> float:
    """Return what the sums are worth together [points]."""
    return POINTS_EACH * len(SUMS)


def all_exercises(folder: Path | None = None) -> tuple[Exercise, ...]:
    """Return the graded exercises in the order in which a learner should take them.

    With ``folder``, that of a class, its instructor's own are among them; one whose file is damaged is left out.
    """
    engines = (at_an_engine(pool(name)) for name in graded_exercises())
    own = () if folder is None else own_exercises(folder)
    return tuple(sorted((*engines, the_sums(), *own), key=lambda one: one.number))


def own_exercises(folder: Path) -> tuple[Exercise, ...]:
    """Return the instructor's own exercises in the folder of a class; one whose file is damaged is left out."""
    found = [one for name in own_names(folder) if isinstance(one := _own_exercise(name), Exercise)]
    return tuple(
        one if one.number else replace(one, number=FIRST_OWN_NUMBER + place) for place, one in enumerate(found)
    )


def damaged_own(folder: Path) -> dict[str, str]:
    """Return the own exercises in the folder of a class whose files cannot be used, each with a sentence why."""
    return {name: str(said) for name in own_names(folder) if isinstance(said := _own_exercise(name), EngineSimError)}


def own_names(folder: Path) -> tuple[str, ...]:
    """Return the names of the own exercises in the folder of a class, and let them be found by their names."""
    announce_own(folder)
    return tuple(name for name in names_in(folder / OWN_FOLDER) if name not in graded_exercises())


def _own_exercise(name: str) -> Exercise | EngineSimError:
    try:
        return at_an_engine(pool(name))
    except EngineSimError as wrong:
        return wrong


def announce_own(folder: Path) -> None:
    """Let the own exercises in the folder of a class be found by their names, wherever an exercise is named."""
    also_from(folder / OWN_FOLDER)


def exercise_named(name: str, folder: Path | None = None) -> Exercise:
    """Return a graded exercise, also one of an instructor's own where its class was announced.

    With ``folder``, that of a class, it is announced first. Raises UnknownName for an exercise that there is none of,
    BadScenario for an own one whose file is damaged.
    """
    found = {one.id: one for one in all_exercises(folder)}
    if name in found:
        return found[name]
    own = pool(name) if name in all_own_names() else None
    if own is None or not own.needs_ticket:
        raise UnknownName("exercise", name, found)
    return at_an_engine(own)


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
    """Return the lessons among the pages of a folder, in their order; a page that cannot be read is passed over."""
    return in_order(_lesson_on(page) for page in sorted(notebooks.glob("*.ipynb")))


def _lesson_on(page: Path) -> Lesson | None:
    try:
        data = json.loads(page.read_text("utf-8"))
        first = "".join(data["cells"][0]["source"])
        return lesson_of(page.stem, data["metadata"].get(ABOUT, {}), first)
    except (OSError, ValueError, LookupError, TypeError, AttributeError, PlanTrouble):
        return None


def in_order(found: Iterable[Lesson | None]) -> tuple[Lesson, ...]:
    """Return lessons by their numbers."""
    return tuple(sorted((one for one in found if one is not None), key=lambda lesson: lesson.number))


def exercises_of(lesson: Lesson, exercises: Sequence[Exercise]) -> tuple[Exercise, ...]:
    """Return the exercises that exercise something of a lesson."""
    return tuple(one for one in exercises if any(name.startswith(f"{lesson.id}.") for name in one.objectives))


def course_order(
    lessons: Sequence[Lesson], exercises: Sequence[Exercise]
) -> tuple[tuple[Lesson, tuple[Exercise, ...]], ...]:
    """Return each lesson with the exercises that follow it: they ask something of it and of no later lesson."""
    after: dict[str, list[Exercise]] = {lesson.id: [] for lesson in lessons}
    for one in exercises:
        asked = {name.partition(".")[0] for name in one.objectives}
        for lesson in [lesson for lesson in lessons if lesson.id in asked][-1:]:
            after[lesson.id].append(one)
    return tuple((lesson, tuple(after[lesson.id])) for lesson in lessons)


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


def exercise_objectives_text(exercise: Exercise, lessons: Sequence[Lesson]) -> str:
    """Return what an exercise's page says that it exercises."""
    return ";\n".join(f"- {sentence_of(name, lessons)}" for name in exercise.objectives) + "."


def onward_text(lesson: Lesson, lessons: Sequence[Lesson], exercises: Sequence[Exercise]) -> str:
    """Return the last words of a lesson's page: what to practise, and which lesson comes next."""
    found = [
        f"{_practise_words(one)} [{one.title}](../{one.page}), about {one.minutes} minutes."
        for one in exercises_of(lesson, exercises)
    ]
    later = [one for one in lessons if one.number > lesson.number]
    found.append(f"**Next lesson:** [{later[0].title}]({later[0].id}.ipynb)." if later else LAST_WORDS)
    return "## Where to go on\n\n" + "\n\n".join(found)


def _practise_words(exercise: Exercise) -> str:
    if exercise.pool is None:
        return "**Practise**, with fresh figures each time:"
    if not exercise.pool.help_most:
        return "**When you are ready**, without any help:"
    return "**Practise**, with a fresh fault each time:"


def pages_text(lessons: Sequence[Lesson], exercises: Sequence[Exercise]) -> str:
    """Return the list of all pages for the start page: each lesson, and under it what to practise."""
    lines: list[str] = []
    for lesson, after in course_order(lessons, exercises):
        lines.append(f"{lesson.number}. **[{lesson.title}]({lesson.id}.ipynb)**, about {lesson.minutes} minutes")
        lines += [f"    - Practise: [{one.title}](../{one.page}), about {one.minutes} minutes" for one in after]
    return "\n".join(lines)
