"""Marking everything that was handed in: one learner at a time, so that one bad hand-in stops or changes no other."""

from __future__ import annotations

import csv
import io
import logging
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

from nbgrader.apps import NbGraderAPI
from traitlets.config import Config
from traitlets.config.loader import PyFileConfigLoader

from engine_sim.classroom.course_root import (
    COURSE_ID,
    EXERCISE,
    ClassroomError,
    CourseRoot,
    find_course_root,
    write_file,
)
from engine_sim.classroom.gradebook import enter_learners, is_in_gradebook, read_marks, read_maxima, tools_at_hand
from engine_sim.classroom.hand_in import is_plain_folder
from engine_sim.classroom.hand_marks import hand_marks_kept
from engine_sim.classroom.intake import Noticed, read_noticed
from engine_sim.classroom.marked_cell import TITLES
from engine_sim.classroom.marking_steps import FINDINGS_FILE
from engine_sim.classroom.pass_line import has_passed
from engine_sim.classroom.roster import Roster, read_roster
from engine_sim.classroom.tidying import tidy
from engine_sim.marking import Mark, load_marking_scheme

NEEDED_STEPS = {
    ("Autograde", "exporter_class"): "engine_sim.classroom.marking_steps.HandInExporter",
    ("Autograde", "pre_convert_hook"): "engine_sim.classroom.intake.before_marking",
    ("Autograde", "sanitize_preprocessors"): [
        "engine_sim.classroom.marking_steps.ReleasedNotebook",
        "nbgrader.preprocessors.ClearOutput",
        "nbgrader.preprocessors.DeduplicateIds",
        "nbgrader.preprocessors.OverwriteKernelspec",
        "nbgrader.preprocessors.OverwriteCells",
        "nbgrader.preprocessors.CheckCellMetadata",
    ],
    ("Autograde", "autograde_preprocessors"): [
        "nbconvert.preprocessors.sanitize.SanitizeHTML",
        "engine_sim.classroom.marking_steps.MarkFromLogbook",
        "nbgrader.preprocessors.IgnorePattern",
        "nbconvert.preprocessors.ClearMetadataPreprocessor",
        "nbgrader.preprocessors.LimitOutput",
        "nbgrader.preprocessors.SaveAutoGrades",
        "nbgrader.preprocessors.AssignLatePenalties",
        "nbgrader.preprocessors.CheckCellMetadata",
    ],
    ("SanitizeHTML", "enabled"): True,
    ("ExchangeFactory", "collect"): "engine_sim.classroom.intake.SafeCollect",
}


TOTAL_MEANS = (
    "total: order + diagnosis + outcome + written (once marked). "
    "passed: by the pass line in marking/, which asks of order, diagnosis and outcome only."
)


@dataclass(frozen=True, slots=True)
class Row:
    """One learner's marks by grade id (None where there is none), and the findings."""

    learner_id: str
    marks: dict[str, float | None]
    waiting: int
    findings: tuple[str, ...]
    passed: bool = False

    @property
    def is_marked(self) -> bool:
        """Say whether every mark that comes from the logbook is there."""
        return all(self.marks.get(name) is not None for name in TITLES)

    @property
    def total(self) -> float:
        """The marks together, the written answer's too once it has one [points]."""
        return sum(mark for mark in self.marks.values() if mark is not None)


@dataclass(frozen=True, slots=True)
class MarkingRun:
    """What a marking run came to."""

    course: CourseRoot
    exercise: str
    rows: tuple[Row, ...]
    others: tuple[Noticed, ...]
    not_handed_in: tuple[str, ...]

    @property
    def needs_a_look(self) -> bool:
        """Say whether an instructor should look at a finding."""
        return bool(self.others) or any(row.findings or not row.is_marked for row in self.rows)


def load_settings(course: CourseRoot) -> Config:
    """Read the course root's nbgrader settings; refuse to mark when a step that keeps marking safe is not set."""
    try:
        settings = PyFileConfigLoader(course.config.name, path=str(course.folder)).load_config()
    except (SyntaxError, NameError, ImportError, AttributeError) as error:
        raise ClassroomError(
            f"{course.config} cannot be read: {error}. Mend it, or move it away and run teach again."
        ) from error
    for (section, name), needed in NEEDED_STEPS.items():
        given = settings[section].get(name) if section in settings else None
        if given != needed:
            raise ClassroomError(
                f"{course.config}: c.{section}.{name} was given as {given!r}; marking is safe only with {needed!r}. "
                f"Move the file away and run: fuelcourse teach {course.folder}"
            )
    return settings


def open_nbgrader(course: CourseRoot) -> NbGraderAPI:
    """Return nbgrader, set up as the course root says and silent on the screen."""
    settings = load_settings(course)
    log = logging.getLogger("fuelcourse.nbgrader")
    log.propagate = False
    if not log.handlers:
        log.addHandler(logging.NullHandler())
    return NbGraderAPI(config=settings, log=log)


def mark_course(
    directory: str | Path, exercise: str = EXERCISE, progress: Callable[[int, int, str], None] | None = None
) -> MarkingRun:
    """Collect and mark everything handed in for an exercise, write feedback pages and findings.

    ``progress`` is told how many are done, of how many, and whose turn it is. Running again gives the same marks.
    Raises :class:`ClassroomError` when the course root cannot be marked at all.
    """
    course = find_course_root(directory)
    roster = read_roster(course.roster)
    enter_learners(course, roster)
    with tools_at_hand():
        run = mark_everyone(course, roster, exercise, progress)
    write_findings(run)
    return run


def mark_everyone(
    course: CourseRoot, roster: Roster, exercise: str, progress: Callable[[int, int, str], None] | None
) -> MarkingRun:
    """Collect, then mark one learner after the other."""
    nbgrader = open_nbgrader(course)
    noticed = gather(nbgrader, course, exercise)
    known = [name for name in handed_in(course, exercise) if name in roster.learners]
    noticed += strangers(course, exercise, roster)
    rows = []
    for number, learner in enumerate(known):
        if progress:
            progress(number, len(known), learner)
        own = tuple(item.text for item in noticed if item.learner_id == learner)
        rows.append(mark_one(nbgrader, course, learner, exercise, own))
    others = tuple(item for item in noticed if item.learner_id not in known)
    absent = tuple(name for name in roster.learners if name not in known)
    return MarkingRun(course, exercise, tuple(rows), others, absent)


def gather(nbgrader: NbGraderAPI, course: CourseRoot, exercise: str) -> list[Noticed]:
    """Make sure the exercise is in the gradebook, and collect what lies in the exchange."""
    if not course.release(exercise).is_file() or not is_in_gradebook(course, exercise):
        refuse_failure(nbgrader.generate_assignment(exercise), f"{exercise} could not be made ready to hand out")
    if not nbgrader.exchange_is_functional or not course_inbound(nbgrader).is_dir():
        return []
    refuse_failure(nbgrader.collect(exercise, update=True), "hand-ins could not be collected from the exchange")
    return read_noticed(course, exercise)


def course_inbound(nbgrader: NbGraderAPI) -> Path:
    """Return the folder of the exchange in which hand-ins arrive."""
    return Path(nbgrader.exchange_root, COURSE_ID, "inbound")


def refuse_failure(result: dict[str, object], what: str) -> None:
    """Raise :class:`ClassroomError` with nbgrader's last word when a step for the whole class failed."""
    if not result["success"]:
        raise ClassroomError(f"{what}: {last_word(result)}")


def last_word(result: dict[str, object]) -> str:
    """Return the last line of what nbgrader said about a failure."""
    lines = [line.strip() for line in str(result.get("error", "")).splitlines() if line.strip()]
    return lines[-1] if lines else "no reason was given"


def handed_in(course: CourseRoot, exercise: str) -> list[str]:
    """Return the names under which something was handed in."""
    return sorted(place.parent.name for place in (course.folder / "submitted").glob(f"[!.]*/{exercise}"))


def strangers(course: CourseRoot, exercise: str, roster: Roster) -> list[Noticed]:
    """Return a finding for each hand-in in a name that is not on the roster."""
    text = "is not on the roster; the hand-in was not marked. Add a line to roster.csv, run teach, then mark again"
    return [Noticed(name, f"{name} {text}") for name in handed_in(course, exercise) if name not in roster.learners]


def mark_one(nbgrader: NbGraderAPI, course: CourseRoot, learner: str, exercise: str, noticed: Iterable[str]) -> Row:
    """Mark one learner's hand-in and write the feedback page."""
    findings = list(noticed)
    if not is_plain_folder(course.submitted(learner, exercise)):
        findings.append("the handed-in folder is a link; it was not marked")
        return Row(learner, {}, 0, tuple(findings))
    tidy(course, learner, exercise)
    with hand_marks_kept(course, learner, exercise):
        result = nbgrader.autograde(exercise, learner, force=True, create=False)
    if not result["success"]:
        return Row(learner, {}, 0, (*findings, f"could not be marked: {failure_of(result)}"))
    place = course.autograded(learner, exercise) / FINDINGS_FILE
    findings += place.read_text(encoding="utf-8").splitlines()
    feedback = nbgrader.generate_feedback(exercise, learner, force=True)
    if not feedback["success"]:
        findings.append(f"no feedback page could be written: {failure_of(feedback)}")
    marks, waiting, seconds_late = read_marks(course, learner, exercise)
    if seconds_late > 0:
        findings.append(f"handed in {seconds_late / 3600:.1f} hours late")
    passed = reaches_pass_line(course, exercise, marks)
    return Row(learner, marks, waiting, tuple(dict.fromkeys(findings)), passed)


def reaches_pass_line(course: CourseRoot, exercise: str, marks: dict[str, float | None]) -> bool:
    """Say whether the marks from the logbook reach the pass line of the class's marking scheme."""
    maxima = read_maxima(course, exercise)
    return has_passed(
        {name: Mark(marks.get(name) or 0.0, maxima[name]) for name in TITLES},
        load_marking_scheme(course.scheme(exercise)),
    )


def failure_of(result: dict[str, object]) -> str:
    """Return the line of nbgrader's log that names what went wrong."""
    lines = [line.strip() for line in str(result.get("log", "")).splitlines() if line.strip()]
    errors = [line for line in lines if not line.startswith("[") and "Error" in line.split(":", 1)[0]]
    return errors[-1] if errors else last_word(result)


def write_findings(run: MarkingRun) -> None:
    """Keep the findings of a run in the course root."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(("learner_id", "finding"))
    writer.writerows((row.learner_id, finding) for row in run.rows for finding in row.findings)
    writer.writerows((item.learner_id, item.text) for item in run.others)
    write_file(run.course.findings(run.exercise), text.getvalue().encode("utf-8"))


def table(run: MarkingRun) -> str:
    """Return the marks of a run as a table in plain text, with the findings beneath it."""
    heads = ("learner", *TITLES, "total", "written", "passed", "findings")
    lines = [heads, *(table_line(row) for row in run.rows)]
    widths = [max(len(line[column]) for line in lines) for column in range(len(heads))]
    text = [
        "  ".join(
            value.ljust(width) if n in (0, len(heads) - 1) else value.rjust(width)
            for n, (value, width) in enumerate(zip(line, widths, strict=True))
        ).rstrip()
        for line in lines
    ]
    text.insert(1, "  ".join("-" * width for width in widths))
    text += ["", TOTAL_MEANS] if run.rows else []
    notes = [f"{row.learner_id}: {finding}" for row in run.rows for finding in row.findings]
    notes += [
        item.text if item.text.startswith(item.learner_id) else f"{item.learner_id}: {item.text}" for item in run.others
    ]
    if notes:
        text += [
            "",
            "To look at:",
            *(f"  {note}" for note in notes),
            f"  (kept in {run.course.findings(run.exercise)})",
        ]
    waiting = sum(row.waiting for row in run.rows)
    if waiting:
        text += ["", f"{waiting} written answer(s) wait for you to mark: fuelcourse teach {run.course.folder} --open"]
    if run.not_handed_in:
        text += ["", f"Nothing handed in: {', '.join(run.not_handed_in)}"]
    return "\n".join(text)


def table_line(row: Row) -> tuple[str, ...]:
    """Return one learner's line of the table."""
    marks = [row.marks.get(name) for name in TITLES]
    numbers = ["-" if mark is None else f"{mark:g}" for mark in marks]
    total = f"{row.total:g}" if row.is_marked else "not marked"
    written = [mark for name, mark in row.marks.items() if name not in TITLES]
    answer = "-" if not written else "waits" if None in written else f"{sum(m for m in written if m is not None):g}"
    passed = "-" if not row.is_marked else "yes" if row.passed else "no"
    return (
        row.learner_id,
        *numbers,
        total,
        answer,
        passed,
        f"{len(row.findings)} to look at" if row.findings else "none",
    )


def mark_submissions(directory: str | Path, exercise: str = EXERCISE, out: TextIO | None = None) -> int:
    """Mark a course root, showing progress and the table; return 0, or 1 when something needs a look."""
    screen = out or sys.stdout

    def show(done: int, of: int, learner: str) -> None:
        print(f"marking {done + 1} of {of}: {learner}", file=screen, flush=True)

    run = mark_course(directory, exercise, show)
    print(table(run) if run.rows or run.others else "Nothing has been handed in yet.", file=screen)
    return 1 if run.needs_a_look else 0
