"""An instructor's own exercises: kept in the class's folder, made into pages, and found by marking like any other.

``scenarios/NAME.toml`` is the exercise as it was chosen, for the instructor alone. ``source/NAME/`` gets the page and
``NAME.exercise``, the same exercise sealed: these two are what learners need.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from engine_sim.classroom.build_notebooks import EXERCISE_PAGE, exercise_text
from engine_sim.classroom.course_plan import (
    OWN_FOLDER,
    Exercise,
    all_exercises,
    at_an_engine,
    damaged_own,
    exercise_named,
    lessons_in,
    own_exercises,
    own_names,
    sentence_of,
)
from engine_sim.classroom.course_root import ClassroomError, CourseRoot, write_file
from engine_sim.classroom.gradebook import open_gradebook
from engine_sim.classroom.in_turn import in_turn
from engine_sim.classroom.shipped import shipped
from engine_sim.classroom.weights import follow_weights
from engine_sim.errors import EngineSimError
from engine_sim.scenarios import Pool, graded_exercises, read_pool, write_pool_text
from engine_sim.scenarios.own_pools import OPEN_SUFFIX, read_own
from engine_sim.scenarios.sealed import SEALED_SUFFIX, seal

EARLIER = "earlier"
"""Where an exercise goes that another of the same name takes the place of."""
USUAL_OBJECTIVES = ("first_look.check_tank", "before_you_touch.look_around", "air.prove_cure")
"""What an own exercise asks for where nothing was chosen."""
_CELL_BREAK = "\n+++\n"


@dataclass(frozen=True, slots=True)
class MadeExercise:
    """An own exercise that is ready to be handed out: its page, and the sealed file beside it."""

    name: str
    title: str
    page: Path
    sealed: Path

    def __str__(self) -> str:
        return f"{self.title} ({self.name}) is ready. Learners need {self.page.name} and {self.sealed.name}."


def own_file(course: CourseRoot, name: str) -> Path:
    """Return where an own exercise is kept as it was chosen."""
    return course.folder / OWN_FOLDER / f"{name}{OPEN_SUFFIX}"


def list_own(course: CourseRoot) -> tuple[tuple[Exercise, ...], dict[str, str]]:
    """Return the own exercises of a class, and those whose files cannot be used with a sentence why, by name."""
    return own_exercises(course.folder), damaged_own(course.folder)


def read_own_exercise(course: CourseRoot, name: str) -> Pool:
    """Return an own exercise; raises UnknownName where there is none, BadScenario where its file is damaged."""
    found = exercise_named(name, course.folder)
    assert found.pool is not None or name in graded_exercises()
    if found.pool is None or name not in own_names(course.folder):
        raise ClassroomError(f"{found.title} is an exercise of the course and cannot be changed. Name one of your own.")
    return found.pool


def save_exercise(course: CourseRoot, choices: Mapping[str, object], replaces: bool = False) -> Path:
    """Keep an exercise as it was chosen, and return where; ``choices`` as :func:`write_pool_text` takes them.

    With ``replaces`` it may take the place of one of the same name that nobody has handed in; the one before is kept
    beside it, and the version is raised. Raises EngineSimError with a sentence for what cannot be; nothing is lost.
    """
    text = write_pool_text(dict(choices) | {"objectives": checked_objectives(choices.get("objectives")), "version": 1})
    name = read_pool(text).id
    if name in {one.id for one in all_exercises()}:
        raise ClassroomError(f"The course has an exercise called {name!r} itself. Choose another short name for yours.")
    place = own_file(course, name)
    with in_turn(course):
        text = _in_place_of(course, name, text, replaces) if place.exists() else _with_version(text, _kept(place) + 1)
        write_file(place, text.encode("utf-8"))
    own_names(course.folder)
    return place


def checked_objectives(given: object) -> list[str]:
    """Return the objectives chosen, or the usual ones; raises PlanTrouble for one that no lesson has."""
    chosen = [str(name) for name in given] if isinstance(given, list | tuple) else []
    lessons = lessons_in(shipped("course") / "notebooks")
    for name in chosen:
        sentence_of(name, lessons)
    return chosen or list(USUAL_OBJECTIVES)


def _in_place_of(course: CourseRoot, name: str, text: str, replaces: bool) -> str:
    """Put by the exercise of the same name; return the text of the new one with its version."""
    if not replaces:
        raise ClassroomError(
            f"You have an exercise called {name!r} already. Choose another short name, or say that this one takes "
            "its place."
        )
    before = own_file(course, name)
    version = _version_of(before)
    if version and replace(read_pool(text), version=version) == read_pool(read_own(before)):
        return read_own(before)
    _refuse_if_handed_in(course, name, "To change it", "Save the changed exercise under another short name.")
    _put_by(before)
    return _with_version(text, max(version, _kept(before)) + 1)


def _with_version(text: str, version: int) -> str:
    return text.replace("\nversion = 1\n", f"\nversion = {version}\n", 1)


def _kept(file: Path) -> int:
    """Return how many earlier exercises of the same name are kept."""
    return len(list((file.parent / EARLIER).glob(f"{file.stem}.*{OPEN_SUFFIX}")))


def _refuse_if_handed_in(course: CourseRoot, name: str, doing: str, instead: str) -> None:
    if handed_in := course.handed_in(name):
        raise ClassroomError(
            f"{name!r} was handed in by {', '.join(handed_in)}. {doing} now would take their marks away. {instead}"
        )


def _put_by(file: Path) -> Path:
    """Keep an exercise beside the others as an earlier one; return where."""
    place = file.parent / EARLIER / f"{file.stem}.{_kept(file) + 1}{OPEN_SUFFIX}"
    write_file(place, file.read_bytes())
    return place


def take_out(course: CourseRoot, name: str) -> Path:
    """Take an own exercise out of the class, and return where it is kept as it was written.

    Its page, its sheets and its packed file go with it; its points stay in its marking scheme. Raises ClassroomError
    where it was handed in or is none of the instructor's own.
    """
    file = own_file(course, name)
    if name not in own_names(course.folder):
        raise ClassroomError(f"You have no exercise called {name!r}. Choose one of your own.")
    with in_turn(course):
        _refuse_if_handed_in(course, name, "To take it out", "Leave it, and do not hand it out any more.")
        kept = _put_by(file)
        with open_gradebook(course) as gradebook:
            if any(one.name == name for one in gradebook.assignments):
                gradebook.remove_assignment(name)
        for folder in (course.source(name).parent, course.release(name).parent, course.folder / "paper" / name):
            shutil.rmtree(folder, ignore_errors=True)
        for place in (course.packed(name), file):
            place.unlink(missing_ok=True)
    return kept


def _version_of(place: Path) -> int:
    """Return the version of an exercise that is kept, 0 where its file is damaged."""
    try:
        return read_pool(read_own(place)).version
    except EngineSimError:
        return 0


def make_exercise(course: CourseRoot, name: str) -> MadeExercise:
    """Make the page of an own exercise and seal it, ready for handing out and marking as any other.

    Raises UnknownName where there is none of that name, BadScenario where its file is damaged.
    """
    pool = read_own_exercise(course, name)
    page = course.source(name)
    sealed = page.with_suffix(SEALED_SUFFIX)
    with in_turn(course):
        write_file(page, page_of(at_an_engine(pool)).encode("utf-8"))
        write_file(sealed, seal(read_own(own_file(course, name))))
        follow_weights(course, name)
        shutil.rmtree(course.release(name).parent, ignore_errors=True)  # made anew out of the page when it is needed
    return MadeExercise(name, pool.title, page, sealed)


def page_of(exercise: Exercise) -> str:
    """Return the page of an own exercise as a file: a page of the course with its own head and its own bench."""
    folder = shipped("instructors")
    model = graded_exercises()[0]
    data = json.loads((folder / "source" / model / f"{model}.ipynb").read_text("utf-8"))
    page = (folder / "exercises" / EXERCISE_PAGE).read_text("utf-8")
    head = exercise_text(page, exercise, lessons_in(shipped("course") / "notebooks")).split(_CELL_BREAK, 1)[0]
    data["cells"][0]["source"] = head.strip().splitlines(keepends=True)
    for cell in data["cells"]:
        cell["source"] = [line.replace(f'bench("{model}")', f'bench("{exercise.id}")') for line in cell["source"]]
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"
