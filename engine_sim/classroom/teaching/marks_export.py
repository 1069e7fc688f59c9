"""The marks as a table for a spreadsheet: one line for each learner and exercise, with all that they hang on."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import nbformat

from engine_sim.attempt import read_logbook
from engine_sim.classroom.course_plan import Exercise, all_exercises
from engine_sim.classroom.course_root import CourseRoot, write_file
from engine_sim.classroom.feedback_page import hard_fails
from engine_sim.classroom.gradebook import Stored, one_engine_for_all, read_all_marks, tools_at_hand
from engine_sim.classroom.hand_in import read_logbook_file, read_plain_file
from engine_sim.classroom.in_turn import in_turn
from engine_sim.classroom.pass_line import has_passed
from engine_sim.classroom.register_of_marks import CHANGED, SECOND, MarkLine, read_register
from engine_sim.classroom.roster import Learner, read_roster
from engine_sim.classroom.tidying import TIMESTAMP
from engine_sim.classroom.worked_out import digest_of
from engine_sim.errors import UnknownName
from engine_sim.marking import Mark, MarkingScheme, load_marking_scheme
from engine_sim.units import HOUR_S

Progress = Callable[[int, int, str], None]
FIRST = ("learner_id", "last name", "first name", "exercise", "title", "handed in", "taken in at (UTC)")
LAST = (
    "total",
    "total of",
    "passed",
    "hard fail",
    "points by hand",
    "still to be marked by hand",
    "changed marks",
    "second marks",
    "hours late",
    "exercise version",
    "simulator version",
    "scheme version",
    "scheme digest",
    "look at",
)
FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What a spreadsheet takes for the beginning of a formula, in both widths of type."""
DIGEST_LETTERS = 16


@dataclass(frozen=True, slots=True)
class Scheme:
    """A marking scheme with the digest of its file."""

    scheme: MarkingScheme
    digest: str

    @classmethod
    def of(cls, course: CourseRoot, exercise: Exercise) -> Scheme:
        """Return the scheme of an exercise; raises BadMarkingScheme where it cannot be read."""
        place = course.scheme(exercise.id)
        return cls(load_marking_scheme(place), digest_of(place.read_bytes())[:DIGEST_LETTERS])


@dataclass(frozen=True, slots=True)
class OneLine:
    """All that a line of the table is made from."""

    course: CourseRoot
    learner: Learner
    exercise: Exercise
    stored: Stored
    given: tuple[MarkLine, ...]
    scheme: Scheme


def marks_file(course: CourseRoot) -> Path:
    """Return where the table lies."""
    return course.folder / "marks.csv"


def export_marks(course: CourseRoot, exercises: Iterable[str] = (), progress: Progress | None = None) -> Path:
    """Write ``marks.csv`` with everybody's marks of some exercises (none named: of all that were handed in).

    A spreadsheet opens it with its letters right, and takes nothing in it for a formula. Raises UnknownName for an
    exercise that there is none of, :class:`ClassroomError` where roster or gradebook cannot be read.
    """
    chosen = exercises_to_export(course, tuple(exercises))
    learners = tuple(read_roster(course.roster).learners.values())
    places = tuple(dict.fromkeys(name for one in chosen for name in names_of_marks(one)))
    lines: list[dict[str, object]] = []
    register = read_register(course)
    with tools_at_hand(), one_engine_for_all():
        for number, exercise in enumerate(chosen):
            if progress:
                progress(number, len(chosen), exercise.title)
            with in_turn(course):
                stored = read_all_marks(course, (one.learner_id for one in learners), exercise.id)
                scheme = Scheme.of(course, exercise)
                for learner in learners:
                    given = register.of(learner.learner_id, exercise.id)
                    lines.append(line_of(OneLine(course, learner, exercise, stored[learner.learner_id], given, scheme)))
    write_file(marks_file(course), as_csv(heads(places, chosen), lines))
    return marks_file(course)


def exercises_to_export(course: CourseRoot, names: tuple[str, ...]) -> tuple[Exercise, ...]:
    """Return the exercises that are asked for, or those of which something was handed in."""
    known = {one.id: one for one in all_exercises(course.folder)}
    for name in names:
        if name not in known:
            raise UnknownName("exercise", name, known)
    handed_in = {place.name for place in (course.folder / "submitted").glob("[!.]*/[!.]*")}
    return tuple(one for one in known.values() if one.id in (names or handed_in))


WRITTEN = "ashore"


def names_of_marks(exercise: Exercise) -> tuple[str, ...]:
    """Return the marks of an exercise by name; at an engine the written answer is one of them."""
    return (*exercise.places, WRITTEN) if exercise.pool is not None else tuple(exercise.places)


def title_of(name: str, exercises: Iterable[Exercise]) -> str:
    """Return the heading of a mark's column."""
    titles = {place: title for one in exercises for place, title in one.places.items()}
    return titles.get(name, "Written answer")


def heads(places: Iterable[str], exercises: tuple[Exercise, ...]) -> dict[str, str]:
    """Return the columns by name, each with its heading."""
    marks: dict[str, str] = {}
    for name in places:
        title = title_of(name, exercises)
        marks |= {name: title, f"{name} of": f"{title} of"}
    return {name: name for name in FIRST} | marks | {name: name for name in LAST}


def as_csv(columns: dict[str, str], lines: Iterable[dict[str, object]]) -> bytes:
    """Return the table as CSV in UTF-8 with the sign by which spreadsheets know it."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(columns.values())
    writer.writerows([harmless(line.get(name, "")) for name in columns] for line in lines)
    return text.getvalue().encode("utf-8-sig")


def harmless(value: object) -> str:
    """Return a value as text that no spreadsheet takes for a formula; numbers stay numbers."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:g}"
    text = str(value)
    return f"'{text}" if text.lstrip(" \u00a0\u200b\ufeff").startswith(FORMULA_SIGNS) else text


# ---- one line -------------------------------------------------------------------------------------------------------


def line_of(one: OneLine) -> dict[str, object]:
    """Return one learner's line of one exercise."""
    learner, exercise = one.learner, one.exercise
    here = one.course.submitted(learner.learner_id, exercise.id)
    data, findings = read_logbook_file(here, exercise.id)
    about = (learner.learner_id, learner.last_name, learner.first_name, exercise.id, exercise.title)
    stamp = read_plain_file(here / TIMESTAMP, 200)
    line: dict[str, object] = dict(zip(FIRST, about, strict=False))
    line |= {"handed in": here.is_dir(), "taken in at (UTC)": "" if isinstance(stamp, str) else short_moment(stamp)}
    if not here.is_dir():
        return line
    line |= versions(one.scheme, data)
    look_at = list(findings)
    line |= marks_of(one) if one.stored.marks else {}
    look_at += [] if one.stored.marks else ["not marked yet"]
    return line | {"look at": "; ".join(look_at)}


def short_moment(stamp: bytes) -> str:
    """Return the moment at which something was taken in, to the second."""
    return stamp.decode("utf-8", "replace").strip().removesuffix("UTC").strip().split(".")[0]


def versions(scheme: Scheme, data: bytes | None) -> dict[str, object]:
    """Return which versions of exercise, simulator and scheme the marks hang on."""
    header: Any = read_logbook(data).header if data else None
    return {
        "exercise version": header.get("scenario_version", "") if header else "",
        "simulator version": header.get("simulator_version", "") if header else "",
        "scheme version": scheme.scheme.scheme_version,
        "scheme digest": scheme.digest,
    }


def marks_of(one: OneLine) -> dict[str, object]:
    """Return every mark, what they come to, and what people changed in them."""
    stored, exercise = one.stored, one.exercise
    line: dict[str, object] = {}
    for name, mark in stored.marks.items():
        line |= {name: "" if mark is None else mark, f"{name} of": stored.maxima[name]}
    fails = hard_fails_of(one.course, one.learner.learner_id, exercise.id)
    scores = {name: Mark(stored.marks.get(name) or 0.0, stored.maxima.get(name, 0.0)) for name in exercise.places}
    by_hand = [mark for name, mark in stored.marks.items() if name not in exercise.places and mark is not None]
    changed = {given.mark: given for given in one.given if given.kind != SECOND}
    return line | {
        "total": sum(mark for mark in stored.marks.values() if mark is not None),
        "total of": sum(stored.maxima.values()),
        "passed": has_passed(scores, one.scheme.scheme, fails),
        "hard fail": " ".join(fails),
        "points by hand": sum(by_hand) if by_hand else "",
        "still to be marked by hand": stored.waiting,
        "changed marks": "; ".join(in_words(given, exercise) for given in changed.values()),
        "second marks": "; ".join(in_words(given, exercise) for given in one.given if given.kind == SECOND),
        "hours late": round(stored.late_s / HOUR_S, 1),
    }


def hard_fails_of(course: CourseRoot, learner: str, exercise: str) -> tuple[str, ...]:
    """Return what failed by itself, as the marked copy says; nothing where there is none or it cannot be read."""
    place = course.autograded(learner, exercise) / f"{exercise}.ipynb"
    if not place.is_file():
        return ()
    try:
        return tuple(hard_fails(list(nbformat.read(place, as_version=4).cells)))
    except (ValueError, AttributeError, KeyError):
        return ()


def in_words(given: MarkLine, exercise: Exercise) -> str:
    """Return a mark that a person gave as words."""
    title = exercise.places.get(given.mark, "Written answer")
    before = "" if given.before is None or given.kind == SECOND else f"{given.before:g} to "
    why = f": {given.reason}" if given.reason else ""
    verb = "changed from " if given.kind == CHANGED and before else ""
    return f"{title} {verb}{before}{given.points:g} of {given.maximum:g} by {given.who}{why}"
