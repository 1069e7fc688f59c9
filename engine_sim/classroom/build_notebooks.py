"""Builds the notebooks from the authored texts.

The texts are jupytext's MyST Markdown: a lesson is nearly all prose, so it should read, compare and show as prose, with
the few benches as code blocks between (py:percent would bury that prose in comments).

A cell's short metadata is written out here, so that an author cannot get it wrong: ``marked: method``, ``points: 10``
for a cell whose mark comes from the logbook; ``answer: ashore``, ``points: 5`` for a text that a person marks.

The exercises share one text, ``page.md``: what differs stands in their pools. Lists of pages and objectives are filled
in from the plan of the course.
"""

from __future__ import annotations

import hashlib
import tempfile
from collections.abc import Sequence
from pathlib import Path
from string import Template
from typing import Any

import nbformat
from nbformat import NotebookNode

from engine_sim.classroom import course_plan as plan
from engine_sim.classroom import sheets
from engine_sim.classroom.course_plan import Exercise, Lesson
from engine_sim.classroom.pass_line import pass_line_in_words, points_in_words, sums_pass_points
from engine_sim.classroom.shipped import shipped
from engine_sim.errors import EngineSimError
from engine_sim.marking import default_scheme
from engine_sim.marking.sums import POINTS_EACH

KERNEL = {"display_name": "Python 3", "language": "python", "name": "python3"}
NBGRADER_SCHEMA = 3
SETTINGS = "nbgrader_config.py"
EXERCISE_PAGE, SUMS_PAGE = "page.md", "sums.md"
PLAYED = "engine_sim/classroom/sheets"
OBJECTIVES, PAGES = "OBJECTIVES", "PAGES"
"""Lines that stand in a text for what is filled in."""


class BuildTrouble(EngineSimError):
    """A text cannot be built into a notebook."""


def project_folder() -> Path:
    """Return the project folder that the texts are kept in; raises BuildTrouble where only the package is installed."""
    root = shipped("course").parent
    if not (root / "pyproject.toml").is_file():
        raise BuildTrouble(
            f"Notebooks are built in the project's own folder, and this course is installed without it ({root}). "
            "In that folder: pip install --editable '.[tests]', then fuelcourse build"
        )
    return root


def build_all(root: Path) -> tuple[str, ...]:
    """Build every notebook under the project folder ``root``; return their names relative to it.

    Where what the fault finder goes by no longer speaks of this simulator, it is played anew; that takes minutes.
    """
    renew_played(root)
    built = build_texts(root)
    for name, text in built.items():
        target = root / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8", newline="\n")
    return tuple(built)


def renew_played(root: Path) -> None:
    """Play anew, and keep as data, what each fault shows on those boats of which the data no longer speaks."""
    text = sheets.as_text(sheets.brought_up_to_date(sheets.played()))
    (root / PLAYED / sheets.DATA_FILE).write_text(text, encoding="utf-8", newline="\n")
    sheets.played.cache_clear()


def differing(root: Path) -> tuple[str, ...]:
    """Return the names of the notebooks under ``root`` that do not say what their texts say, or are missing."""
    return tuple(name for name, text in build_texts(root).items() if _read(root / name) != text)


def build_texts(root: Path) -> dict[str, str]:
    """Return what each notebook file under ``root`` should contain, by its name relative to ``root``."""
    built = {}
    texts = {page.stem: page.read_text("utf-8") for page in sorted((root / "course" / "lessons").glob("*.md"))}
    lessons = plan.in_order(lesson_in(name, text) for name, text in texts.items())
    for name, text in texts.items():
        built[f"course/notebooks/{name}.ipynb"] = notebook_text(filled(name, text, lessons), f"{name}.md")
    instructor = (root / "instructors" / "pages" / "instructor.md").read_text("utf-8")
    built["instructors/instructor.ipynb"] = notebook_text(instructor, "instructor.md")
    for exercise in plan.all_exercises():
        name, page = exercise.id, SUMS_PAGE if exercise.pool is None else EXERCISE_PAGE
        authored = (root / "instructors" / "exercises" / page).read_text("utf-8")
        source = notebook_text(exercise_text(authored, exercise, lessons), page)
        built[f"instructors/source/{name}/{name}.ipynb"] = source
        built[f"course/exercises/{name}/{name}.ipynb"] = released(name, source, root / "instructors" / SETTINGS)
    for sheet in sheets.SHEETS:
        text = sheets.page_text(sheet.make())
        built[f"course/{sheets.FOLDER}/{sheet.name}.ipynb"] = notebook_text(text, sheet.name)
    return built


def lesson_in(name: str, text: str) -> Lesson | None:
    """Return the lesson that a text is, or None where it is another page."""
    notebook = read_text(text)
    return plan.lesson_of(name, notebook.metadata.get(plan.ABOUT, {}), notebook.cells[0].source)


def filled(name: str, text: str, lessons: Sequence[Lesson]) -> str:
    """Return a page's text with its lists filled in, and where to go on from a lesson."""
    exercises = plan.all_exercises()
    lesson = next((one for one in lessons if one.id == name), None)
    if lesson is not None:
        text = text.replace(f"\n{OBJECTIVES}\n", f"\n{plan.objectives_text(lesson)}\n")
        text = f"{text.rstrip()}\n\n+++\n\n{plan.onward_text(lesson, lessons, exercises)}\n"
    return text.replace(f"\n{PAGES}\n", f"\n{plan.pages_text(lessons, exercises)}\n")


def exercise_text(page: str, exercise: Exercise, lessons: Sequence[Lesson]) -> str:
    """Return the text of an exercise's page."""
    scheme = default_scheme()
    return Template(page).substitute(
        id=exercise.id,
        title=exercise.title,
        story=exercise.pool.story if exercise.pool is not None else "",
        minutes=exercise.minutes,
        objectives=plan.exercise_objectives_text(exercise, lessons),
        points=points_in_words(scheme),
        pass_line=pass_line_in_words(scheme),
        sums=f"{len(exercise.places)}",
        sums_points=f"{plan.sums_points():g}",
        sums_pass=f"{sums_pass_points(scheme):g}",
        marked_places=marked_places_text(exercise),
    )


def marked_places_text(exercise: Exercise) -> str:
    """Return the marked places of the sums as they are written in a text."""
    lines = []
    for name, title in exercise.places.items():
        metadata = f"---\nmarked: {name}\npoints: {POINTS_EACH:g}\n---"
        call = f'from engine_sim.classroom.marked_cell import marked_by_instructor; marked_by_instructor("{title}")'
        lines.append(f"```{{code-cell}} ipython3\n{metadata}\n{call}\n```")
    return "\n\n".join(lines)


def read_text(text: str) -> NotebookNode:
    """Return an authored text as a notebook."""
    try:
        import jupytext
    except ImportError as problem:
        raise BuildTrouble(
            "Building notebooks needs jupytext, which comes with the test tools: pip install --editable '.[tests]'"
        ) from problem
    return NotebookNode(jupytext.reads(text, fmt="md:myst"))


def notebook_text(text: str, where: str) -> str:
    """Return the notebook file built from one authored text; ``where`` names it in errors."""
    notebook = read_text(text)
    notebook.metadata = _notebook_metadata(notebook.metadata)
    seen: set[str] = set()
    for cell in notebook.cells:
        cell.metadata = cell_metadata(cell, where)
        cell.id = _cell_id(cell, seen)
        if cell.cell_type == "code":
            cell.execution_count, cell.outputs = None, []
    return _as_file(notebook)


def cell_metadata(cell: NotebookNode, where: str) -> dict[str, Any]:
    """Return the full metadata of a cell from the author's short form; raises BuildTrouble naming ``where``."""
    given = dict(cell.metadata)
    marked, answer, points = given.pop("marked", None), given.pop("answer", None), given.pop("points", None)
    if (marked or answer) and not (isinstance(points, int) and points > 0):
        needed = "needs 'points', a whole number above 0"
        raise BuildTrouble(f"{where}: the cell {marked or answer!r} {needed}; found {points!r}.")
    if (marked and cell.cell_type != "code") or (answer and cell.cell_type != "markdown"):
        rule = "'marked' belongs on a code cell and 'answer' on a text cell"
        raise BuildTrouble(f"{where}: {rule}; {marked or answer!r} is on a {cell.cell_type} cell.")
    if marked:
        given["nbgrader"] = _nbgrader(marked, points, grade=True, solution=False, locked=True)
        given.setdefault("tags", []).append("nbval-skip")
    if answer:
        given["nbgrader"] = _nbgrader(answer, points, grade=True, solution=True, locked=False)
    writable = bool(given.get("nbgrader", {}).get("solution"))
    given.update(editable=writable, deletable=False)
    if cell.cell_type == "code":
        given["jupyter"] = {"source_hidden": True}
    return given


def _nbgrader(grade_id: str, points: int, *, grade: bool, solution: bool, locked: bool) -> dict[str, Any]:
    return {
        "grade": grade,
        "grade_id": grade_id,
        "locked": locked,
        "points": points,
        "schema_version": NBGRADER_SCHEMA,
        "solution": solution,
        "task": False,
    }


def _notebook_metadata(given: NotebookNode) -> dict[str, Any]:
    course = {"open_benches": True, **given.get("fuelcourse", {})}
    return {"fuelcourse": course, "kernelspec": KERNEL, "language_info": {"name": "python"}}


def _cell_id(cell: NotebookNode, seen: set[str]) -> str:
    """Return an id that stays the same until the cell's own text changes: the mark's name, or a digest of the text."""
    mark = cell.metadata.get("nbgrader", {}).get("grade_id")
    base = f"mark-{mark}" if mark else hashlib.sha256(f"{cell.cell_type}\n{cell.source}".encode()).hexdigest()[:12]
    name = next(name for name in (base, *(f"{base}-{n}" for n in range(2, 1000))) if name not in seen)
    seen.add(name)
    return name


def released(name: str, source: str, settings_file: Path) -> str:
    """Return the notebook that learners get of the exercise ``name``: nbgrader's own release, by a class's settings.

    No gradebook is made for it: a new one takes seconds, and changes nothing in what is released.
    """
    from nbgrader.apps import NbGraderAPI
    from nbgrader.converters import GenerateAssignment
    from nbgrader.preprocessors import SaveCells
    from traitlets.config.loader import PyFileConfigLoader

    with tempfile.TemporaryDirectory(prefix="fuelcourse-release-") as folder:
        root = Path(folder)
        written = root / "source" / name / f"{name}.ipynb"
        written.parent.mkdir(parents=True)
        written.write_text(source, encoding="utf-8", newline="\n")
        settings = PyFileConfigLoader(settings_file.name, path=str(settings_file.parent)).load_config()
        settings.CourseDirectory.root = str(root)
        steps = GenerateAssignment.class_traits()["preprocessors"].default()
        settings.GenerateAssignment.preprocessors = [step for step in steps if step is not SaveCells]
        settings.GenerateAssignment.no_database = True
        outcome = NbGraderAPI(config=settings).generate_assignment(name, create=True)
        if not outcome["success"]:
            raise BuildTrouble(f"nbgrader could not release {name}: {outcome.get('error') or outcome.get('log')}")
        return _as_file(_read_notebook(root / "release" / name / f"{name}.ipynb"))


def _read_notebook(path: Path) -> NotebookNode:
    return NotebookNode(nbformat.read(path, as_version=4))


def _as_file(notebook: NotebookNode) -> str:
    notebook.nbformat, notebook.nbformat_minor = 4, 5
    nbformat.validate(notebook)
    return str(nbformat.writes(notebook, version=nbformat.NO_CONVERT)) + "\n"


def _read(path: Path) -> str | None:
    return path.read_text("utf-8") if path.is_file() else None
