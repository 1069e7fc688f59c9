"""The notebooks say what their texts say, show no programmer's lines, and keep the rules that marking stands on."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import nbformat
import pytest

from engine_sim.classroom import build_notebooks
from engine_sim.classroom.build_notebooks import BuildTrouble, build_texts, cell_metadata, notebook_text
from engine_sim.classroom.course_plan import all_exercises, lessons_in
from engine_sim.classroom.pass_line import pass_line_in_words, points_in_words
from engine_sim.cli import main
from engine_sim.marking import MARK_NAMES, TITLES, default_scheme
from engine_sim.marking.sums import POINTS_EACH, SUMS

ROOT = Path(__file__).resolve().parents[2]
LESSONS = lessons_in(ROOT / "course/notebooks")
REFERENCE = sorted((ROOT / "course/reference").glob("*.ipynb"))
RELEASED = sorted(
    [*(ROOT / "course/notebooks").glob("*.ipynb"), *(ROOT / "course/exercises").rglob("*.ipynb"), *REFERENCE]
)
GRADED = sorted([*(ROOT / "course/exercises").rglob("*.ipynb"), *(ROOT / "instructors/source").rglob("*.ipynb")])
EVERY = sorted({*RELEASED, *GRADED, ROOT / "instructors/instructor.ipynb"})


def cells(path: Path) -> list[Any]:
    return list(json.loads(path.read_bytes())["cells"])


def name(path: Path) -> str:
    return str(path.relative_to(ROOT))


ENGINES = [path for path in GRADED if path.stem != "sums"]


def test_the_course_has_its_pages() -> None:
    pages = {path.stem for path in (ROOT / "course/notebooks").glob("*.ipynb")}
    assert pages == {"start_here", "at_the_wall", *(lesson.id for lesson in LESSONS)}
    exercises = {path.stem for path in (ROOT / "course/exercises").rglob("*.ipynb")}
    assert exercises == {exercise.id for exercise in all_exercises()}
    sheets = {path.stem for path in REFERENCE}
    assert sheets == {"fault_finder", "glossary", "procedure_cards", "sources", "symbols"}


def test_built_notebooks_agree_with_their_texts() -> None:
    built = build_texts(ROOT)
    assert {name(path) for path in EVERY} == set(built)
    for file, text in built.items():
        assert (ROOT / file).read_text("utf-8") == text, f"{file} differs from its text; run: fuelcourse build"


@pytest.mark.parametrize("path", EVERY, ids=name)
def test_a_notebook_is_valid_and_holds_no_outputs(path: Path) -> None:
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    assert not [cell.id for cell in notebook.cells if cell.get("outputs") or cell.get("execution_count")]
    assert len({cell.id for cell in notebook.cells}) == len(notebook.cells)


@pytest.mark.parametrize("path", EVERY, ids=name)
def test_no_code_is_visible_and_nothing_but_answers_can_be_changed(path: Path) -> None:
    for cell in cells(path):
        answer = cell["metadata"].get("nbgrader", {}).get("solution", False)
        assert cell["metadata"]["editable"] is answer
        assert cell["metadata"]["deletable"] is False
        if cell["cell_type"] == "code":
            assert cell["metadata"]["jupyter"]["source_hidden"] is True
            assert len("".join(cell["source"]).splitlines()) == 1


@pytest.mark.parametrize("path", RELEASED, ids=name)
def test_a_page_asks_for_its_benches_to_be_opened(path: Path) -> None:
    assert json.loads(path.read_bytes())["metadata"]["fuelcourse"]["open_benches"] is True


@pytest.mark.parametrize("path", ENGINES, ids=name)
def test_each_marked_cell_follows_a_marked_or_an_answer_cell(path: Path) -> None:
    """Otherwise nbgrader, which knows only the cells with a name, cannot put back a marked cell that was deleted."""
    rows = [cell["metadata"]["nbgrader"] for cell in cells(path) if "nbgrader" in cell["metadata"]]
    marked = [n for n, row in enumerate(rows) if row["grade"] and row["locked"]]
    assert [rows[n]["grade_id"] for n in marked] == list(MARK_NAMES)
    assert all(n > 0 and (rows[n - 1]["grade"] or rows[n - 1]["solution"]) for n in marked)


def test_the_sums_have_a_marked_place_each_after_a_marked_or_an_answer_cell() -> None:
    page = ROOT / "course/exercises/sums/sums.ipynb"
    rows = [cell["metadata"]["nbgrader"] for cell in cells(page) if "nbgrader" in cell["metadata"]]
    assert {row["grade_id"]: row["points"] for row in rows if row["locked"]} == {item.id: POINTS_EACH for item in SUMS}
    assert [row["grade_id"] for row in rows if not row["locked"]] == ["own_boat"] and rows[0]["grade_id"] == "own_boat"


@pytest.mark.parametrize("path", ENGINES, ids=name)
def test_the_points_are_those_of_the_marking_scheme(path: Path) -> None:
    rows = [cell["metadata"]["nbgrader"] for cell in cells(path) if "nbgrader" in cell["metadata"]]
    scheme = default_scheme()
    weights = {name: scheme.weights.of(name) for name in MARK_NAMES}
    assert {row["grade_id"]: row["points"] for row in rows} == {"ashore": 5, **weights}
    marked = [cell for cell in cells(path) if cell["metadata"].get("nbgrader", {}).get("locked")]
    assert len(marked) == len(MARK_NAMES)
    assert all("nbval-skip" in cell["metadata"]["tags"] for cell in marked)


@pytest.mark.parametrize("path", ENGINES, ids=name)
def test_an_exercise_says_what_the_marking_scheme_asks(path: Path) -> None:
    scheme = default_scheme()
    text = "".join(cells(path)[0]["source"])
    assert points_in_words(scheme) == "safety 5 points, method 10, diagnosis 5, cure 10, housekeeping 5"
    assert points_in_words(scheme) in text
    assert pass_line_in_words(scheme) in text
    assert [title for title in TITLES.values() if f"- *{title}*: " not in text] == []


@pytest.mark.parametrize("path", GRADED, ids=name)
def test_the_rubric_of_the_written_answer_is_shown_above_it_and_makes_its_points(path: Path) -> None:
    """nbgrader's marking pages show the notebook as learners see it, so the instructor reads the same rubric."""
    page = cells(path)
    (place,) = [n for n, cell in enumerate(page) if cell["metadata"].get("nbgrader", {}).get("solution")]
    above = "".join(page[place - 1]["source"])
    rubric = re.findall(r"^(\d)\. .+\.$", above, flags=re.MULTILINE)
    assert rubric == [str(n + 1) for n in range(page[place]["metadata"]["nbgrader"]["points"])]


def test_no_logbook_lies_where_exercises_are_made_or_handed_out() -> None:
    """A logbook in the source folder would be handed to every learner and overwrite everybody's own."""
    assert not [path for part in ("course", "instructors") for path in (ROOT / part).rglob("*.logbook.jsonl*")]


@pytest.mark.parametrize("path", [path for path in RELEASED if "exercises" in path.parts], ids=name)
def test_a_released_answer_cell_says_where_to_write(path: Path) -> None:
    (answer,) = [cell for cell in cells(path) if cell["metadata"].get("nbgrader", {}).get("solution")]
    assert "write your answer" in "".join(answer["source"])


def test_a_cell_keeps_its_id_when_another_cell_changes() -> None:
    text = "# One\n\n+++\n\nTwo\n\n+++\n\nThree\n"
    before = [cell["id"] for cell in json.loads(notebook_text(text, "page.md"))["cells"]]
    longer = text.replace("Two", "Two and a half")
    after = [cell["id"] for cell in json.loads(notebook_text(longer, "page.md"))["cells"]]
    assert (before[0], before[2]) == (after[0], after[2])
    assert before[1] != after[1]


@pytest.mark.parametrize(
    ("kind", "metadata", "says"),
    [
        ("code", {"marked": "method"}, "page.md: the cell 'method' needs 'points'"),
        ("code", {"marked": "method", "points": 0}, "found 0"),
        ("markdown", {"marked": "method", "points": 5}, "'marked' belongs on a code cell"),
        ("code", {"answer": "ashore", "points": 5}, "'answer' on a text cell"),
    ],
)
def test_a_wrong_mark_in_a_text_is_refused_by_name(kind: str, metadata: dict[str, Any], says: str) -> None:
    make = nbformat.v4.new_code_cell if kind == "code" else nbformat.v4.new_markdown_cell
    with pytest.raises(BuildTrouble, match=says):
        cell_metadata(make("x", metadata=metadata), "page.md")


def test_build_without_the_projects_folder_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(build_notebooks, "shipped", lambda name: tmp_path / name)
    assert main(["build"]) == 1
    assert "Notebooks are built in the project's own folder" in capsys.readouterr().err
