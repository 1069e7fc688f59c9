"""Panels about marks: marking everything, changing a mark with its reason, giving marks out."""

from __future__ import annotations

import time
from collections.abc import Mapping

from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.course_root import ClassroomError, CourseRoot
from engine_sim.classroom.gradebook import read_marks
from engine_sim.classroom.mark_submissions import handed_in_exercises, mark_course, time_left
from engine_sim.classroom.marks_table import MarkingRun
from engine_sim.classroom.roster import read_roster
from engine_sim.classroom.second_marks import change_mark, mark_title, second_mark
from engine_sim.classroom.teaching.desk.panel import (
    Action,
    Asked,
    Panel,
    Shown,
    button,
    choice,
    link,
    table,
    words,
)
from engine_sim.classroom.teaching.give_back import give_back
from engine_sim.classroom.teaching.hand_out import exchange_is_usable
from engine_sim.classroom.teaching.marks_export import export_marks, marks_file

WAITS = "waits for you"


class MarkPanel(Panel):
    """Marking everything that came."""

    id, title = "mark", "5  Mark"

    def __init__(self, course: CourseRoot) -> None:
        super().__init__(course)
        self._runs: list[MarkingRun] = []

    @property
    def actions(self) -> Mapping[str, Action]:
        """Mark, write the marks out, give pages back."""
        return {"mark": self._mark, "export": self._export, "give_back": self._give_back}

    def inside(self) -> Shown:
        """Return the last tables and findings."""
        release = [button("give_back", "Release the learners' pages through nbgrader's exchange")]
        tables = [one for run in self._runs for one in tables_of(run)]
        links = [link("Give points for the written answers (nbgrader's own pages)", "/formgrader/gradebook")]
        if marks_file(self.course).is_file():
            links.append(link("All marks as a table (CSV)", marks_file(self.course).name))
        return {
            "about": [
                "Marks come from each learner's logbook, played again here. Stopping loses nothing; pressing it again "
                "goes on from there. The written answers under “Ashore” are yours to mark: then press it once more, "
                "and the pages for the learners carry your points.",
            ],
            "buttons": [
                button("mark", "Mark all that came in", strong=True),
                button("export", "Write all marks as a table for a spreadsheet"),
                *(release if exchange_is_usable(self.course) else []),
            ],
            "tables": tables,
            "links": links,
        }

    def _mark(self, asked: Asked) -> str:
        exercises = handed_in_exercises(self.course)
        if not exercises:
            raise ClassroomError("Nothing has been handed in yet. Take in hand-ins under “Collect” first.")
        self._runs = [self._run(name, asked) for name in exercises]
        marked, look = sum(len(run.rows) for run in self._runs), sum(run.needs_a_look for run in self._runs)
        more = " Below stands what needs a look of yours." if look else ""
        return f"Marked: {marked} hand-ins of {len(self._runs)} exercises.{more}"

    def _run(self, exercise: str, asked: Asked) -> MarkingRun:
        began_s, title = time.monotonic(), exercise_named(exercise, self.course.folder).title

        def tell(done: int, of: int, learner: str) -> None:
            left = time_left(done, of, time.monotonic() - began_s)
            asked.tell(f"{title}: marking {done + 1} of {of}, {learner}{left}")

        return mark_course(self.course.folder, exercise, tell)

    def _give_back(self, _asked: Asked) -> str:
        return str(give_back(self.course))

    def _export(self, asked: Asked) -> str:
        export_marks(self.course)
        return "The table is written: open it below."


def tables_of(run: MarkingRun) -> list[Shown]:
    """Return the marks of one exercise, what needs a look, and who handed nothing in."""
    exercise = exercise_named(run.exercise, run.course.folder)
    names = [*exercise.places, *(name for name in _others(run) if name not in exercise.places)]
    head = ("learner", *(mark_title(run.exercise, name) for name in names), "passed", "page for the learner")
    rows = [_row(run, one.learner_id, names) for one in run.rows]
    found = [table(f"{exercise.title}: marks", head, rows)] if rows else []
    findings = [(one.learner_id, text) for one in run.rows for text in one.findings]
    findings += [(one.learner_id or "-", one.text) for one in run.others]
    if findings:
        found.append(table(f"{exercise.title}: look at these", ("learner", "finding"), findings))
    if run.not_handed_in:
        found.append(
            table(f"{exercise.title}: nothing came from", ("learner",), [(name,) for name in run.not_handed_in])
        )
    return found


def _others(run: MarkingRun) -> list[str]:
    return list(dict.fromkeys(name for row in run.rows for name in row.marks))


def _row(run: MarkingRun, learner: str, names: list[str]) -> tuple[object, ...]:
    row = next(one for one in run.rows if one.learner_id == learner)
    marks = [WAITS if name in row.marks and row.marks[name] is None else _points(row.marks.get(name)) for name in names]
    page = run.course.feedback_page(learner, run.exercise)
    shown = link("open", str(page.relative_to(run.course.folder))) if page.is_file() else "none yet"
    return (learner, *marks, "hard fail" if row.hard_fails else "yes" if row.passed else "no", shown)


def _points(mark: float | None) -> str:
    return "-" if mark is None else f"{mark:g}"


class ChangePanel(Panel):
    """A mark that is changed, or given a second time."""

    id, title = "change", "6  Change a mark, or mark a second time"

    def __init__(self, course: CourseRoot) -> None:
        super().__init__(course)
        self._learner, self._exercise, self._changed = "", "", 0

    @property
    def actions(self) -> Mapping[str, Action]:
        """Change a mark, or keep a second one."""
        return {"choose": self._choose, "change": self._change, "second": self._second}

    def inside(self) -> Shown:
        """Return the fields."""
        learners = [("", "choose a learner")]
        learners += [
            (one.learner_id, f"{one.first_name} {one.last_name} ({one.learner_id})")
            for one in read_roster(self.course.roster).learners.values()
        ]
        exercises = [("", "choose an exercise")]
        exercises += [
            (name, exercise_named(name, self.course.folder).title) for name in handed_in_exercises(self.course)
        ]
        return {
            "about": [
                "A changed mark keeps its reason, and who changed it; the page for the learner shows the new one. A "
                "second marker's mark changes nothing: it is kept beside the first, for you to compare.",
            ],
            "fields": [
                choice("learner", "Learner", self._learner, learners, asks=True),
                choice("exercise", "Exercise", self._exercise, exercises, asks=True),
                choice("mark", "Mark", "", self._marks()),
                words("points", "Points", fresh=self._changed),
                words("who", "Your name"),
                words("reason", "Reason", kind="long", rows=2, fresh=self._changed),
            ],
            "buttons": [
                button("change", "Change the mark", strong=True),
                button("second", "Keep it as a second mark"),
            ],
        }

    def _marks(self) -> list[tuple[str, str]]:
        if not (self._learner and self._exercise):
            return [("", "choose learner and exercise first")]
        stored = read_marks(self.course, self._learner, self._exercise)
        if not stored.marks:
            return [("", "not marked yet")]
        return [
            (name, f"{mark_title(self._exercise, name)}: {WAITS if mark is None else f'{mark:g}'} "
             f"of {stored.maxima[name]:g}")
            for name, mark in stored.marks.items()
        ]  # fmt: skip

    def _choose(self, asked: Asked) -> str:
        self._learner, self._exercise = asked.text("learner"), asked.text("exercise")
        return ""

    def _change(self, asked: Asked) -> str:
        points = self._asked_points(asked)
        what = (self._learner, self._exercise, asked.text("mark"), points, asked.text("reason"), asked.text("who"))
        line = change_mark(self.course, *what)
        self._changed += 1
        whose = f"{self._learner}, {mark_title(self._exercise, line.mark)}"
        before = "not marked" if line.before is None else f"{line.before:g}"
        return (
            f"{whose}: changed from {before} to {line.points:g} of {line.maximum:g}. "
            "Press “Mark all that came in” for a new page."
        )

    def _second(self, asked: Asked) -> str:
        given = {asked.text("mark"): self._asked_points(asked)}
        second_mark(self.course, self._learner, self._exercise, given, asked.text("who"), asked.text("reason"))
        self._changed += 1
        return "Kept beside the first mark; the table of all marks shows both."

    def _asked_points(self, asked: Asked) -> float:
        self._choose(asked)
        points = asked.number("points", "Points")
        if not (self._learner and self._exercise and asked.text("mark")) or points is None:
            raise ClassroomError("Choose learner, exercise and mark, and give the points; nothing was changed.")
        return points
