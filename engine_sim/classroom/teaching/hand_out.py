"""Handing out: each exercise as one file to give by stick, by mail or by the exchange; nothing of the instructor's."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from traitlets.config import Config

from engine_sim.classroom.course_plan import Exercise, all_exercises
from engine_sim.classroom.course_root import COURSE_ID, ClassroomError, CourseRoot, write_file
from engine_sim.classroom.gradebook import is_in_gradebook, one_engine_for_all, tools_at_hand
from engine_sim.classroom.in_turn import in_turn
from engine_sim.classroom.mark_submissions import refuse_failure
from engine_sim.classroom.settings import open_nbgrader
from engine_sim.classroom.study import USUAL_FOLDER
from engine_sim.classroom.weights import follow_weights
from engine_sim.errors import UnknownName

READ_ME = "READ ME.txt"
SEALED = ".exercise"
"""The ending of the file that an instructor's own exercise has beside its page."""
ALWAYS_THE_SAME = (1980, 1, 1, 0, 0, 0)
"""The date of the files in a zip: the same exercise gives the same zip."""
READABLE, UNIX = 0o644 << 16, 3
Progress = Callable[[int, int, str], None]
WORDS = """{title}

How to open this exercise:
1. Unpack this zip. You get a folder named {name}.
2. Put that folder into the folder "exercises" of your course folder (usually {folder}, in your home folder).
   If a folder {name} is there already, put the files into it. Keep what else is in it: that is your work.
3. Open the course as always: fuelcourse study
4. Open the exercise, type the ticket from your own slip, and work.

When you have pressed "hand in" at the bench and saved the page, give your instructor these two files:
{name}.ipynb
{name}.logbook.jsonl

Do not change their names. The logbook says what you did; without it there is nothing to mark.
"""


@dataclass(frozen=True, slots=True)
class HandedOut:
    """What was made to hand out: one file for each exercise, and which exercises were made ready anew."""

    files: tuple[Path, ...]
    made_ready: tuple[str, ...]

    def __str__(self) -> str:
        return "\n".join([f"Ready to hand out: {len(self.files)}", *(f"  {place}" for place in self.files)])


def hand_out(course: CourseRoot, exercises: Iterable[str], progress: Progress | None = None) -> HandedOut:
    """Make each exercise ready and write ``hand_out/NAME.zip`` with what a learner needs, and nothing else.

    ``progress`` is told how many are done, of how many, and which is next. Raises UnknownName for an exercise that the
    class has none of, :class:`ClassroomError` where one cannot be made ready or written.
    """
    wanted = [_exercise_of(course, name) for name in dict.fromkeys(exercises)]
    files, made_ready = [], []
    with tools_at_hand(), one_engine_for_all():
        for number, exercise in enumerate(wanted):
            if progress:
                progress(number, len(wanted), exercise.title)
            if make_ready(course, exercise.id):
                made_ready.append(exercise.id)
            place = course.packed(exercise.id)
            write_file(place, zip_of(course, exercise))
            files.append(place)
    return HandedOut(tuple(files), tuple(made_ready))


def _exercise_of(course: CourseRoot, name: str) -> Exercise:
    """Return an exercise of the class: one that there is, and whose page lies in the class's folder."""
    here = {one.id: one for one in all_exercises(course.folder) if course.source(one.id).is_file()}
    if name not in here:
        raise UnknownName("exercise", name, here)
    return here[name]


def make_ready(course: CourseRoot, exercise: str) -> bool:
    """Make the page that learners get, where it is missing or older than what it is made from; say whether it was."""
    with in_turn(course):
        reweighed = follow_weights(course, exercise)
        if not (reweighed or is_older(course, exercise) or not is_in_gradebook(course, exercise)):
            return False
        result = open_nbgrader(course).generate_assignment(exercise)
        refuse_failure(result, f"{exercise} could not be made ready to hand out")
        return True


def is_older(course: CourseRoot, exercise: str) -> bool:
    """Say whether what learners get is missing, or older than the file it is made from."""
    source = course.source(exercise)
    pairs = [(source, course.release(exercise))]
    sealed = source.with_suffix(SEALED)
    if sealed.is_file():
        pairs.append((sealed, course.release(exercise).with_suffix(SEALED)))
    return any(not new.is_file() or new.stat().st_mtime < old.stat().st_mtime for old, new in pairs)


def zip_of(course: CourseRoot, exercise: Exercise) -> bytes:
    """Return the zip of an exercise: its page, what belongs to an own exercise, and how to open it."""
    page = course.release(exercise.id)
    files = {page.name: page.read_bytes()}
    sealed = page.with_suffix(SEALED)
    if sealed.is_file():
        files[sealed.name] = sealed.read_bytes()
    words = WORDS.format(title=exercise.title, name=exercise.id, folder=USUAL_FOLDER)
    files[READ_ME] = words.replace("\n", "\r\n").encode("utf-8-sig")
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as made:
        for name, data in files.items():
            about = zipfile.ZipInfo(f"{exercise.id}/{name}", ALWAYS_THE_SAME)
            about.external_attr, about.create_system = READABLE, UNIX
            about.compress_type = zipfile.ZIP_DEFLATED
            made.writestr(about, data)
    return held.getvalue()


def exchange_is_usable(course: CourseRoot) -> bool:
    """Say whether exercises can go out through a folder that all accounts of this machine share.

    As the class's folder is made the exchange lies inside it, where nobody else can reach it.
    """
    nbgrader = open_nbgrader(course)
    shared = not Path(nbgrader.exchange_root).resolve().is_relative_to(course.folder.resolve())
    return shared and bool(nbgrader.exchange_is_functional)


def release_by_exchange(course: CourseRoot, exercise: str) -> Path:
    """Make an exercise ready and lay it in the exchange, in place of one laid there before; return where.

    Raises as :func:`hand_out` does, and :class:`ClassroomError` where this machine has no exchange.
    """
    name = _exercise_of(course, exercise).id
    with tools_at_hand(), one_engine_for_all():
        make_ready(course, name)
        nbgrader = open_nbgrader(course)
        if not nbgrader.exchange_is_functional:
            raise ClassroomError(
                "This machine has no folder through which accounts can exchange exercises. "
                f"Give {course.packed(name)} by stick or mail instead."
            )
        nbgrader.update_config(Config(ExchangeReleaseAssignment=Config(force=True)))
        refuse_failure(nbgrader.release_assignment(name), f"{name} could not be laid in the exchange")
        return Path(nbgrader.exchange_root, COURSE_ID, "outbound", name)
