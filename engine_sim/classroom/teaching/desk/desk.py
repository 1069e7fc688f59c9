"""The desk behind the instructor's page: all its panels, and what is said when something cannot be done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from engine_sim.bench import at_the_wall
from engine_sim.bench.panels_page import PanelsPage, Tell
from engine_sim.classroom.course_root import CourseRoot, find_course_root, why_not_written
from engine_sim.classroom.own_programs import let_own_programs_be_found
from engine_sim.classroom.teaching.desk.class_panels import ClassPanel, PrivacyPanel
from engine_sim.classroom.teaching.desk.fault_panel import FaultPanel
from engine_sim.classroom.teaching.desk.handing_panels import CollectPanel, HandOutPanel
from engine_sim.classroom.teaching.desk.marking_panels import ChangePanel, MarkPanel
from engine_sim.classroom.teaching.desk.panel import Asked, Panel
from engine_sim.classroom.teaching.desk.report_panels import ReplayPanel, ReportPanel, Show
from engine_sim.errors import EngineSimError

NOT_UNDERSTOOD = "The page asked for something that is not here. Load it again."


class InstructorDesk:
    """What the instructor's page shows of one class, and does there."""

    def __init__(self, course: CourseRoot, show: Show) -> None:
        self.panels: tuple[Panel, ...] = (
            ClassPanel(course),
            FaultPanel(course),
            HandOutPanel(course),
            CollectPanel(course),
            MarkPanel(course),
            ChangePanel(course),
            ReportPanel(course),
            PrivacyPanel(course),
            ReplayPanel(course, show),
        )
        self.notice, self.warning = "", False

    def shown(self) -> dict[str, object]:
        """Return the panels; one whose files cannot be read says so, and hides no other."""
        return {"notice": self.notice, "warning": self.warning, "panels": [_shown(panel) for panel in self.panels]}

    def handle(self, message: Mapping[str, object], files: Sequence[bytes], tell: Tell) -> None:
        """Do what a button asks."""
        panel = next((one for one in self.panels if one.id == message.get("panel")), None)
        action = panel.actions.get(str(message.get("action"))) if panel is not None else None
        if action is None:
            self.notice, self.warning = NOT_UNDERSTOOD, True
            return
        try:
            self.notice, self.warning = action(_asked(message, files, tell)), False
        except EngineSimError as problem:
            self.notice, self.warning = str(problem), True
        except OSError as problem:
            self.notice, self.warning = trouble_in_words(problem), True


def _asked(message: Mapping[str, object], files: Sequence[bytes], tell: Tell) -> Asked:
    values, names = message.get("values"), message.get("files")
    given = [str(name) for name in names] if isinstance(names, list) else []
    return Asked(values if isinstance(values, dict) else {}, tuple(zip(given, files, strict=False)), tell)


def _shown(panel: Panel) -> dict[str, object]:
    try:
        return panel.shown()
    except (EngineSimError, OSError) as problem:
        said = str(problem) if isinstance(problem, EngineSimError) else trouble_in_words(problem)
        return {"id": panel.id, "title": panel.title, "lines": [("warn", said)]}


def trouble_in_words(problem: OSError) -> str:
    """Return what an instructor should know of a file that could not be read or written."""
    what = f"{problem.filename}: " if problem.filename else ""
    return f"{what}{why_not_written(problem)}. Nothing that was here before is lost. Mend that, then press again."


def instructor(folder: str | Path = ".") -> PanelsPage:
    """Return the instructor's page of the class whose folder the page lies in."""
    let_own_programs_be_found()
    return PanelsPage(InstructorDesk(find_course_root(folder), at_the_wall().show_logbook))
