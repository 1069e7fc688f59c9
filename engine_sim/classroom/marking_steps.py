"""The steps that nbgrader runs in place of a learner's notebook: the hand-in is data, marked from its logbook.

nbgrader's own way is to run what was handed in with the instructor's rights.
Here the marked copy is the released notebook itself with only the learner's written answer put in,
and every mark comes from the logbook, played again by a program that saw nothing of the hand-in but its records.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import nbformat
from nbconvert.exporters import NotebookExporter
from nbformat import NotebookNode
from nbgrader.preprocessors import NbGraderPreprocessor
from nbgrader.utils import is_grade, is_solution

from engine_sim.classroom.course_root import ClassroomError, CourseRoot, at, write_file
from engine_sim.classroom.hand_in import ANSWER_LIMIT_LETTERS, HandInText, read_notebook
from engine_sim.classroom.tidying import read_reasons
from engine_sim.classroom.worked_out import WorkedOut, worked_out
from engine_sim.marking import MARK_NAMES

FINDINGS_FILE = "findings.txt"
OURS = "fuelcourse"
EMPTY_ANSWER = "the written answer is empty"
HARMLESS = str.maketrans(
    {"&": "&amp;", "<": "&lt;", ">": "&gt;", "[": "&#91;", "]": "&#93;", "$": "\uff04", "\\": "\uff3c", "\x00": ""}
)


class HandInExporter(NotebookExporter):
    """Opens a handed-in notebook as data, whatever it holds; the marked copies are opened as usual."""

    def from_filename(
        self,
        filename: str,
        resources: dict[str, Any] | None = None,
        **kw: Any,  # noqa: ANN401
    ) -> tuple[NotebookNode, dict[str, Any]]:
        """Return the notebook after all steps; a handed-in one is left shut, for :class:`ReleasedNotebook`."""
        coursedir = converter_of(self).coursedir
        place = Path(filename)
        handed_in = Path(coursedir.root, coursedir.submitted_directory)
        if handed_in not in place.parents:
            converted: tuple[NotebookNode, dict[str, Any]] = super().from_filename(filename, resources=resources, **kw)
            return converted
        resources = resources if resources is not None else {}
        resources["metadata"] = {"name": place.stem, "path": str(place.parent)}
        convert: Callable[..., tuple[NotebookNode, dict[str, Any]]] = self.from_notebook_node
        return convert(nbformat.v4.new_notebook(), resources=resources, **kw)


class ReleasedNotebook(NbGraderPreprocessor):  # type: ignore[misc]
    """Puts the released notebook in place of the handed-in one, with the learner's written answer in it."""

    def preprocess(self, nb: NotebookNode, resources: dict[str, Any]) -> tuple[NotebookNode, dict[str, Any]]:
        """Return the released notebook with the answer; see the class."""
        course = course_of(self)
        learner, exercise = resources["nbgrader"]["student"], resources["nbgrader"]["assignment"]
        released = read_released(course, exercise)
        text = read_notebook(course.submitted(learner, exercise) / f"{exercise}.ipynb")
        findings = [*text.findings, *put_in_answers(released, text)]
        released.metadata[OURS] = {"findings": findings}
        return released, resources


class MarkFromLogbook(NbGraderPreprocessor):  # type: ignore[misc]
    """Writes each mark that the logbook came to, with its reasons, where nbgrader reads it."""

    def preprocess(self, nb: NotebookNode, resources: dict[str, Any]) -> tuple[NotebookNode, dict[str, Any]]:
        """Return the notebook with a number in every marked place; see the class."""
        course = course_of(self)
        learner, exercise = resources["nbgrader"]["student"], resources["nbgrader"]["assignment"]
        result = worked_out(course, learner, exercise)
        earlier = nb.metadata.pop(OURS, {}).get("findings", ())
        marked = [cell for cell in nb.cells if cell.cell_type == "code" and is_grade(cell) and not is_solution(cell)]
        for cell in marked:
            write_mark(cell, result)
        kept = read_reasons(course.set_aside(exercise, learner))
        lines = "".join(f"{finding}\n" for finding in dict.fromkeys((*kept, *earlier, *result.findings)))
        write_file(course.autograded(learner, exercise) / FINDINGS_FILE, lines.encode("utf-8"))
        return nb, resources


def converter_of(exporter: Any) -> Any:  # noqa: ANN401
    """Return nbgrader's converter, which stands above an exporter of ours."""
    return exporter.parent


def course_of(step: NbGraderPreprocessor) -> CourseRoot:
    """Return the course root that nbgrader is working in."""
    return at(converter_of(step.parent).coursedir.root)


def course_of_exporter(exporter: Any) -> CourseRoot:  # noqa: ANN401
    """Return the course root whose pages an exporter of ours is writing."""
    return at(converter_of(exporter).coursedir.root)


def read_released(course: CourseRoot, exercise: str) -> NotebookNode:
    """Return the released notebook, or raise :class:`ClassroomError` saying how to make it."""
    place = course.release(exercise)
    if not place.is_file():
        raise ClassroomError(f"{place} is missing. Make it with: nbgrader generate_assignment {exercise}")
    notebook: NotebookNode = nbformat.read(place, as_version=4)
    return notebook


def put_in_answers(released: NotebookNode, text: HandInText) -> list[str]:
    """Write the learner's answers into the released notebook and return what an instructor should know."""
    findings = []
    for cell in released.cells:
        name = cell.metadata.get("nbgrader", {}).get("grade_id")
        if name is None or text.findings:
            continue
        given = text.answers.get(name, [])
        if is_solution(cell):
            own = [answer for answer in given if answer.strip() != cell.source.strip() and answer.strip()]
            if own:
                cell.source = as_harmless_text(own[0])
            else:
                findings.append(EMPTY_ANSWER)
            if len(own) > 1:
                findings.append(f"the answer {name!r} was handed in {len(own)} times; the first one is shown")
        elif is_grade(cell) and given != [cell.source]:
            change = "was missing" if not given else "was changed" if len(given) == 1 else "was there more than once"
            findings.append(f"the marked place {name!r} {change}; the original was used, so this changed no mark")
    return findings


def as_harmless_text(answer: str) -> str:
    """Return a written answer in which nothing can act as markup, link, formula or script."""
    return answer[:ANSWER_LIMIT_LETTERS].translate(HARMLESS)


def write_mark(cell: NotebookNode, result: WorkedOut) -> None:
    """Put the number and its reasons where nbgrader looks for them; what fails by itself goes with the safety mark."""
    name, points = cell.metadata["nbgrader"]["grade_id"], float(cell.metadata["nbgrader"]["points"])
    place = result.place(name)
    shown = {"text/plain": repr(score_in_points(place.score, place.maximum, points)), "text/html": place.page}
    about = {OURS: {"hard_fails": list(result.hard_fails)}} if name == MARK_NAMES[0] else {}
    cell.execution_count = None
    cell.outputs = [nbformat.v4.new_output("execute_result", data=shown, metadata=about, execution_count=None)]


def score_in_points(score: float, maximum: float, points: float) -> float:
    """Return a score as a share of the points of its place, from 0 to ``points``; what is no number is 0."""
    if not (math.isfinite(score) and maximum > 0):
        return 0.0
    return round(min(max(score * points / maximum, 0.0), points), 2)
