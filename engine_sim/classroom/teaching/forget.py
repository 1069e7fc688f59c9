"""Forgetting one learner: whatever a class's folder holds of them is taken out, and what is left is looked through.

Whole files go where they are the learner's own; from tables, registers and receipts go the learner's lines; reports
that counted them go whole, because they can be written again. Nothing is asked here; who calls has asked.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from nbgrader.api import MissingEntry
from nbgrader.utils import notebook_hash

from engine_sim.classroom.course_plan import all_exercises
from engine_sim.classroom.course_root import COURSE_ID, ClassroomError, CourseRoot, why_not_written, write_file
from engine_sim.classroom.gradebook import in_plain_words, open_gradebook
from engine_sim.classroom.in_turn import in_turn
from engine_sim.classroom.roster import Learner, Roster, read_roster, write_roster
from engine_sim.classroom.teaching.traces import Traces, without_lines
from engine_sim.classroom.tidying import SECRET
from engine_sim.errors import UnknownName

OWN_FOLDERS = ("submitted", "autograded", "feedback")
MADE_AGAIN = ("report", "slips.pdf", "marks.csv")
"""What names many learners and is written again when it is next wanted."""
GRADEBOOK_WAIT_S = 60.0
TABLES, TABLE_FOLDERS = (".csv", ".txt", ".jsonl", ".log"), ("findings", "arrivals")
LEFT_ALONE = ("source", "release", "marking", "scenarios")
"""What is made for everybody and can hold nothing of a learner."""


@dataclass(frozen=True, slots=True)
class Forgotten:
    """What was removed, which files lost lines, and which files still name the learner and want a look."""

    learner_id: str
    removed: tuple[str, ...]
    shortened: tuple[str, ...]
    still_named_in: tuple[str, ...]

    def __str__(self) -> str:
        lines = [f"{self.learner_id} is forgotten."]
        lines += [f"  removed {name}" for name in self.removed]
        lines += [f"  lines taken out of {name}" for name in self.shortened]
        if self.still_named_in:
            lines.append("These could not be changed and still hold the name, the id or the ticket. Look at them:")
            lines += [f"  {name}" for name in self.still_named_in]
        lines.append("Copies elsewhere are yours to destroy: on paper, in your mail, in a shared exchange.")
        return "\n".join(lines)


def forget(course: CourseRoot, learner_id: str) -> Forgotten:
    """Remove one learner everywhere in the class's folder, from the roster last; return what was removed.

    Stopped half-way it can be begun again. Raises UnknownName for somebody of whom nothing is here,
    :class:`ClassroomError` where gradebook or folder cannot be written.
    """
    with in_turn(course):
        roster = read_roster(course.roster)
        learner = roster.learners.get(learner_id)
        if learner is None and not _is_known(course, learner_id):
            raise UnknownName("learner", learner_id, roster.learners)
        traces = Traces.of(course, learner or Learner(learner_id, "", "", ""), _others(roster, learner_id))
        removed = list(_remove_own(course, learner_id))
        removed += _out_of_gradebook(course, learner_id)
        removed += list(_remove_made_again(course))
        found_removed, shortened = _sweep(course, traces)
        removed += found_removed
        _out_of_roster(course, roster, learner_id)
        compact(course)
        left = [_shown(course, place) for place in files_of(course) if traces.in_file(place)]
    return Forgotten(learner_id, tuple(removed), tuple(shortened), tuple(left))


def _others(roster: Roster, learner_id: str) -> tuple[Learner, ...]:
    return tuple(one for name, one in roster.learners.items() if name != learner_id)


def _is_known(course: CourseRoot, learner_id: str) -> bool:
    """Say whether anything of a learner who is not on the roster is here."""
    if any(os.path.lexists(course.folder / name / learner_id) for name in OWN_FOLDERS):
        return True
    with open_gradebook(course) as gradebook:
        return any(student.id == learner_id for student in gradebook.students)


def _shown(course: CourseRoot, place: Path) -> str:
    return place.relative_to(course.folder).as_posix()


# ---- what is the learner's own --------------------------------------------------------------------------------------


def _remove_own(course: CourseRoot, learner_id: str) -> Iterator[str]:
    """Remove folders and files that are the learner's alone; yield what went."""
    places = [course.folder / name / learner_id for name in OWN_FOLDERS]
    places += sorted((course.folder / "set_aside").glob(f"*/{_plain(learner_id)}"))
    places += sorted((course.folder / "worked_out").glob(f"*/{_plain(learner_id)}.json"))
    places += sorted(course.inbound.glob(f"{_plain(learner_id)}+*"))
    places += [page for folder in places for page in _given_back(course, folder)]
    for place in places:
        if os.path.lexists(place):
            _remove(place)
            yield _shown(course, place)


def _given_back(course: CourseRoot, folder: Path) -> Iterator[Path]:
    """Yield the pages that were released for the hand-ins in a folder; nbgrader names them by each hand-in's secret."""
    for file in sorted(folder.rglob(SECRET)):
        secret = file.read_text("utf-8", errors="replace")
        for exercise in all_exercises(course.folder):
            page = released_folder(course) / f"{notebook_hash(secret=secret, notebook_id=exercise.id)}.html"
            if page.is_file():
                yield page


def _plain(text: str) -> str:
    """Return a text in which no letter is a sign for others when files are looked for."""
    return "".join(f"[{letter}]" if letter in "*?[" else letter for letter in text)


def _remove(place: Path) -> None:
    try:
        if place.is_dir() and not place.is_symlink():
            shutil.rmtree(place)
        else:
            place.unlink()
    except OSError as problem:
        raise ClassroomError(
            f"{place} could not be removed: {why_not_written(problem)}. See that the folder may be written, and "
            "do this again: what is removed already stays so."
        ) from problem


def _remove_made_again(course: CourseRoot) -> Iterator[str]:
    for name in MADE_AGAIN:
        place = course.folder / name
        files = sorted(one for one in place.rglob("*") if one.is_file()) if place.is_dir() else [place]
        for one in files:
            if one.is_file() and one.name != "school.txt":
                _remove(one)
                yield f"{_shown(course, one)} (write it again)"


def _out_of_roster(course: CourseRoot, roster: Roster, learner_id: str) -> None:
    rows = tuple(row for row in roster.rows if row["learner_id"] != learner_id)
    if len(rows) != len(roster.rows):
        write_roster(course.roster, Roster(roster.columns, rows))


# ---- the gradebook --------------------------------------------------------------------------------------------------


def _out_of_gradebook(course: CourseRoot, learner_id: str) -> list[str]:
    """Remove the learner with all marks and comments."""
    with open_gradebook(course) as gradebook:
        try:
            gradebook.remove_student(learner_id)
        except MissingEntry:
            return []
    return [f"everything of {learner_id} in {course.gradebook.name}"]


def compact(course: CourseRoot) -> None:
    """Write the gradebook's file anew, so that nothing of what was removed is left between what is in it."""
    try:
        with closing(sqlite3.connect(course.gradebook, timeout=GRADEBOOK_WAIT_S)) as opened:
            opened.execute("PRAGMA secure_delete = ON")
            opened.execute("VACUUM")
    except sqlite3.Error as problem:
        trouble = in_plain_words(course, problem)
        if trouble is None:
            raise
        raise trouble from problem


# ---- everything else ------------------------------------------------------------------------------------------------


def files_of(course: CourseRoot) -> Iterator[Path]:
    """Yield every ordinary file of the class's folder that may hold something of a learner."""
    for top, folders, names in os.walk(course.folder):
        if Path(top) == course.folder:
            folders[:] = [name for name in folders if name not in LEFT_ALONE]
        folders.sort()
        for name in sorted(names):
            place = Path(top) / name
            if place.is_file() and not place.is_symlink():
                yield place


def _sweep(course: CourseRoot, traces: Traces) -> tuple[list[str], list[str]]:
    """Look through what is not one learner's own; return which files were removed and which lost lines.

    What lies in other learners' folders is never touched.
    """
    removed, shortened = list(_out_of_arrivals(course, traces)), []
    for place in _released_feedback(course):
        if traces.in_file(place):
            _remove(place)
            removed.append(_shown(course, place))
    for place in _tables(course):
        data, kept = place.read_bytes(), without_lines(place, traces)
        if kept != data:
            write_file(place, kept)
            shortened.append(_shown(course, place))
    return removed, shortened


def _tables(course: CourseRoot) -> list[Path]:
    """Return the tables, registers and receipts that have lines of many learners."""
    top = [one for one in course.folder.glob("*") if one.suffix in TABLES and one != course.roster]
    deeper = [one for name in TABLE_FOLDERS for one in (course.folder / name).glob("*")]
    why = (course.folder / "set_aside").glob("arrivals/*/why.txt")
    return sorted(one for one in (*top, *deeper, *why) if one.is_file() and not one.is_symlink())


def released_folder(course: CourseRoot) -> Path:
    """Return where nbgrader lays the pages that are given back."""
    return course.exchange / COURSE_ID / "feedback"


def _released_feedback(course: CourseRoot) -> list[Path]:
    """Return the pages that were given back through the exchange; each is one learner's."""
    return sorted(one for one in released_folder(course).rglob("*") if one.is_file() and not one.is_symlink())


def _out_of_arrivals(course: CourseRoot, traces: Traces) -> Iterator[str]:
    """Remove what was set aside of the learner's while taking in; ``why.txt`` beside it says whose each file is."""
    for why in sorted((course.folder / "set_aside").glob("arrivals/*/why.txt")):
        for line in why.read_text("utf-8").splitlines():
            name, _, reason = line.partition(": ")
            place = why.with_name(Path(name).name)
            is_own = reason.startswith(f"{traces.learner_id}: ") or traces.in_text(line)
            files = [place] if place.is_file() else sorted(why.parent.glob(f"{_plain(place.name)}-*"))
            for one in files if is_own else [one for one in files if traces.is_own_logbook(one)]:
                if one.is_file() and one != why:
                    _remove(one)
                    yield traces.hidden(_shown(course, one))
