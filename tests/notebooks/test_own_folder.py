"""The learner's own folder: pages come in, newer ones replace untouched ones, and work is never overwritten."""

from __future__ import annotations

import json
from pathlib import Path

import nbformat
import pytest
from nbformat.sign import NotebookNotary

from engine_sim.classroom.own_folder import KEEPING, FolderUnusable, Update, fill_own_folder
from engine_sim.classroom.shipped import shipped
from engine_sim.classroom.study import sign_our_pages

LESSON = "notebooks/lesson.ipynb"
EXERCISE = "exercises/one/one.ipynb"


def write_page(path: Path, *texts: str, shows: bool = False) -> None:
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(text) for text in texts])
    for n, cell in enumerate(notebook.cells):
        cell.id = f"c{n}"
        if shows:
            cell.outputs = [nbformat.v4.new_output("stream", text="shown")]
    path.parent.mkdir(parents=True, exist_ok=True)
    nbformat.write(notebook, path)


@pytest.fixture
def course(tmp_path: Path) -> Path:
    write_page(tmp_path / "course" / LESSON, "a", "b")
    write_page(tmp_path / "course" / EXERCISE, "question", "answer here")
    return tmp_path / "course"


def test_a_new_folder_gets_every_page(course: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    assert fill_own_folder(course, own) == Update((LESSON, EXERCISE), (), ())
    assert (own / LESSON).read_bytes() == (course / LESSON).read_bytes()
    assert fill_own_folder(course, own) == Update((), (), ())


def test_a_page_that_only_shows_more_is_brought_up_to_date(course: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    fill_own_folder(course, own)
    write_page(own / LESSON, "a", "b", shows=True)
    write_page(course / LESSON, "a", "b better")
    assert fill_own_folder(course, own) == Update((), (LESSON,), ())
    assert (own / LESSON).read_bytes() == (course / LESSON).read_bytes()


def test_a_page_with_work_in_it_is_kept_and_named_once_a_newer_one_exists(course: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    fill_own_folder(course, own)
    write_page(own / EXERCISE, "question", "I would change the element")
    work = (own / EXERCISE).read_bytes()
    assert fill_own_folder(course, own) == Update((), (), ())
    write_page(course / EXERCISE, "better question", "answer here")
    assert fill_own_folder(course, own) == Update((), (), (EXERCISE,))
    assert (own / EXERCISE).read_bytes() == work


def test_a_logbook_and_files_of_the_learners_own_are_left_alone(course: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    fill_own_folder(course, own)
    mine = own / "exercises/one/one.logbook.jsonl"
    mine.write_text("line\n", "utf-8")
    write_page(course / EXERCISE, "newer", "answer here")
    fill_own_folder(course, own)
    assert mine.read_text("utf-8") == "line\n"


def test_a_broken_record_or_a_half_written_page_loses_nothing(course: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    fill_own_folder(course, own)
    (own / KEEPING / "handed_out.json").write_text("{cut", "utf-8")
    (own / EXERCISE).write_text("not a page any more", "utf-8")
    assert fill_own_folder(course, own) == Update((), (), (EXERCISE,))
    assert (own / EXERCISE).read_text("utf-8") == "not a page any more"


def test_a_folder_that_is_a_file_is_refused_by_name(course: Path, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("x", "utf-8")
    with pytest.raises(FolderUnusable, match=r"taken: a file stands where.*--folder"):
        fill_own_folder(course, tmp_path / "taken")


def test_a_folder_below_a_file_is_refused_by_name(course: Path, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("x", "utf-8")
    with pytest.raises(FolderUnusable, match="below: a file stands where"):
        fill_own_folder(course, tmp_path / "taken" / "below")


def test_only_the_courses_own_pages_are_signed(tmp_path: Path) -> None:
    """A page that says something else, or shows something that JupyterLab never saved here, is not trusted."""
    own, course = tmp_path / "own", shipped("course")
    fill_own_folder(course, own)
    changed, showing = own / "notebooks/start_here.ipynb", own / "exercises/no_start_harbour/no_start_harbour.ipynb"
    changed.write_text(changed.read_text("utf-8").replace("Start here", "Start there"), "utf-8")
    page = json.loads(showing.read_bytes())
    next(cell for cell in page["cells"] if cell["cell_type"] == "code")["outputs"] = [
        {"output_type": "display_data", "data": {"text/html": "<script>1</script>"}, "metadata": {}}
    ]
    showing.write_text(json.dumps(page), "utf-8")
    sign_our_pages(course, own)
    notary = NotebookNotary(data_dir=str(own / KEEPING / "data"))
    trusted = {path: notary.check_signature(nbformat.read(path, 4)) for path in own.rglob("*.ipynb")}
    sound = {own / path.relative_to(course): True for path in course.rglob("*.ipynb")}
    assert trusted == sound | {changed: False, showing: False}
