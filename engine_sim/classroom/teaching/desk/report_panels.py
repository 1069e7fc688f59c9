"""Panels about what the marks tell: the class report, records of assessment, and going through a logbook together."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.course_root import ClassroomError, CourseRoot
from engine_sim.classroom.hand_in import read_logbook_file
from engine_sim.classroom.mark_submissions import handed_in_exercises
from engine_sim.classroom.roster import read_roster
from engine_sim.classroom.teaching.desk.panel import Action, Asked, Panel, Shown, button, choice, link, words
from engine_sim.classroom.teaching.report.record import write_records
from engine_sim.classroom.teaching.report.report_page import write_report

Show = Callable[[bytes], str]
"""Shows a logbook at the wall; returns what is to be said, empty where all is well."""


class ReportPanel(Panel):
    """Where the class goes wrong, and a record for each learner."""

    id, title = "report", "7  Report on the class, and records"

    @property
    def actions(self) -> Mapping[str, Action]:
        """Write report and records."""
        return {"report": self._report, "records": self._records}

    def inside(self) -> Shown:
        """Return what can be written, and what was."""
        exercises = [
            (name, exercise_named(name, self.course.folder).title) for name in handed_in_exercises(self.course)
        ]
        files = sorted((self.course.folder / "report").glob("*.html")) + sorted(
            (self.course.folder / "report").rglob("*.pdf")
        )
        return {
            "about": [
                "Who can do what, where the order broke, which checks told nothing, what misled, and what to teach "
                "next. Without names it can be shown to anybody. A record is one page for each learner, with lines "
                "to sign.",
            ],
            "fields": [
                words("anonymous", "Without names", False, kind="tick"),
                choice("exercise", "Records of", exercises[0][0] if exercises else "", exercises or [("", "none yet")]),
                words("school", "Your school, as it heads the records"),
            ],
            "buttons": [
                button("report", "Write the report", strong=True),
                button("records", "Write the records"),
            ],
            "links": [self._link(one) for one in files],
        }

    def _link(self, place: Path) -> Shown:
        called = f"{place.stem.replace('_', ' ')} ({place.suffix[1:].upper()})"
        return link(called, str(place.relative_to(self.course.folder)))

    def _report(self, asked: Asked) -> str:
        write_report(self.course, asked.ticked("anonymous"))
        return "The report is written, to look at and to print: open it below."

    def _records(self, asked: Asked) -> str:
        if not asked.text("exercise"):
            raise ClassroomError("Nothing was handed in yet, so there is nothing to record.")
        done = write_records(self.course, asked.text("exercise"), asked.text("school"))
        return f"{len(done)} records are written: open them below, print and sign."


class ReplayPanel(Panel):
    """A logbook gone through step by step, with its learner."""

    id, title = "replay", "9  Go through a logbook with its learner"

    def __init__(self, course: CourseRoot, show: Show) -> None:
        super().__init__(course)
        self._show_at_the_wall = show

    @property
    def actions(self) -> Mapping[str, Action]:
        """Show a logbook."""
        return {"show": self._show}

    def inside(self) -> Shown:
        """Return whose logbooks there are."""
        names = {
            one.learner_id: f"{one.first_name} {one.last_name}".strip()
            for one in read_roster(self.course.roster).learners.values()
        }
        found = [
            (f"{learner}/{name}", f"{called}: {exercise_named(name, self.course.folder).title}")
            for name in handed_in_exercises(self.course)
            if exercise_named(name, self.course.folder).pool is not None
            for learner, called in names.items()
            if self.course.submitted(learner, name).is_dir()
        ]
        return {
            "about": ["It opens at the wall, below this page, large enough for a room: step by step, with what could "
                      "be known at each."],
            "fields": [choice("which", "Logbook", "", [("", "choose one"), *found])],
            "buttons": [button("show", "Show it at the wall", strong=True)],
        }  # fmt: skip

    def _show(self, asked: Asked) -> str:
        learner, _, exercise = asked.text("which").partition("/")
        if not exercise:
            raise ClassroomError("No logbook was chosen. Choose whose work you want to go through.")
        data, findings = read_logbook_file(self.course.submitted(learner, exercise), exercise)
        if data is None:
            raise ClassroomError(f"{'; '.join(findings)}. Choose another.")
        asked.tell("Playing the logbook; this takes some seconds")
        trouble = self._show_at_the_wall(data)
        if trouble:
            raise ClassroomError(trouble)
        title = exercise_named(exercise, self.course.folder).title
        return f"{learner}'s work on “{title}” stands at the wall, at the foot of this page. No name is shown there."
