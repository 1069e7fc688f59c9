"""The feedback page and the same as a PDF: every word, every letter of a name, every picture with its words."""

from __future__ import annotations

from io import BytesIO
from types import SimpleNamespace

import nbformat
import pypdf
import pypdfium2
import pytest
from feedback_sheets import BOATS, sheet
from nbconvert.writers import FilesWriter

from engine_sim.classroom.feedback_page import FeedbackExporter, make_page
from engine_sim.classroom.feedback_pdf import feedback_pdf, read_picture
from engine_sim.classroom.marking_steps import OURS
from engine_sim.classroom.page_tree import read_page
from engine_sim.marking import default_scheme, feedback_html, page_html, usual_scheme_file
from engine_sim.marking.marksheet import Reason

NAME = "Éloïse Ågård-Łoś, Řehoř Ğ. Ñandú"
ANSWER = "Label the lever.\nKeep rags & waste <ashore>, at 5 °C."
FLOODED = "The engine was flooded."


def cell(name: str, points: float, score: float, **more: object) -> nbformat.NotebookNode:
    marking = {"grade": True, "solution": False, "grade_id": name, "points": points, "score": score, **more}
    made = nbformat.v4.new_code_cell("", metadata={"nbgrader": marking})
    made.metadata["nbgrader"]["schema_version"] = 3
    return made


def marked_copy(layout: str, hard_fails: tuple[Reason, ...] = ()) -> nbformat.NotebookNode:
    """Return what marking leaves of a hand-in: a cell for each mark with its reasons, and the written answer."""
    whole = sheet(layout, hard_fails=hard_fails)
    cells = [nbformat.v4.new_markdown_cell("# No start in the harbour")]
    for name, mark in whole.marks.items():
        page = feedback_html(whole, name)
        one = cell(name, mark.maximum, mark.score)
        about = {OURS: {"hard_fails": [reason.text for reason in hard_fails]}} if name == "safety" else {}
        page = page_html(whole) + page if name == "safety" else page
        data = {"text/plain": repr(float(mark.score)), "text/html": page}
        one.outputs = [nbformat.v4.new_output("execute_result", data=data, metadata=about, execution_count=None)]
        cells.append(one)
    answer = nbformat.v4.new_markdown_cell(ANSWER)
    answer.metadata["nbgrader"] = {"grade": True, "solution": True, "grade_id": "ashore", "points": 5, "score": 4}
    answer.metadata["nbgrader"] |= {"comment": "Good: “tight lid” too.", "schema_version": 3}
    return nbformat.v4.new_notebook(cells=[*cells, answer])


def page_of(layout: str = "tank_below", hard_fails: tuple[Reason, ...] = ()) -> str:
    return make_page(marked_copy(layout, hard_fails), NAME, default_scheme())


def words_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(BytesIO(pdf)).pages)


def told_of_pictures(pdf: bytes) -> list[str]:
    """Return the alternative texts in the document's structure."""
    root = pypdf.PdfReader(BytesIO(pdf)).trailer["/Root"]["/StructTreeRoot"]
    found: list[str] = []

    def walk(node: pypdf.generic.PdfObject) -> None:
        node = node.get_object()
        if isinstance(node, pypdf.generic.ArrayObject):
            for child in node:
                walk(child)
        elif isinstance(node, pypdf.generic.DictionaryObject):
            if "/Alt" in node:
                found.append(str(node["/Alt"]))
            if "/K" in node:
                walk(node["/K"])

    walk(root["/K"])
    return found


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return feedback_pdf(page_of())


def test_every_word_of_the_page_stands_in_the_pdf(pdf):
    words, page = words_of(pdf), read_page(page_of())
    paragraphs = [" ".join(node.text().split()) for node in elements(page, "li", "h1", "h3", "h4", "figcaption")]
    letters = words.replace(" ", "")
    missing = [text for text in paragraphs if text.replace(" ", "") not in letters]
    assert len(paragraphs) > 30
    assert missing == []


def test_no_word_is_broken_at_the_end_of_a_line():
    """Lines of many lengths, with words in another type after them: somewhere these come to the margin."""
    lines = [" ".join(["lllllll"] * (length // 7)) + "a" * (length % 7) for length in range(50, 130)]
    tail = "<small>(at 0:12:30)</small> <small>(cost 0.5)</small>"
    items = "".join(f"<li><strong>{line}</strong> {tail}</li>" for line in lines)
    pages = feedback_pdf(f"<h1>Lines</h1><ul>{items}</ul>")
    assert words_of(pages).count("(cost 0.5)") == len(lines)


def elements(node, *tags):
    """Yield the innermost elements of some kinds."""
    for child in node.children:
        if not isinstance(child, str):
            if child.tag in tags:
                yield child
            elif child.tag != "svg":
                yield from elements(child, *tags)


def test_letters_of_any_latin_name_are_kept(pdf):
    assert f"For: {NAME}" in words_of(pdf)
    assert "rags & waste <ashore>, at 5 °C" in words_of(pdf)


def test_every_picture_has_its_words_in_the_structure(pdf):
    told = told_of_pictures(pdf)
    assert len(told) == 3
    assert told[0].startswith("The circuit at 0:00:36, just before you opened the bleed screw (fine filter). Tank:")
    assert told[1].startswith("Your work and a good run")
    assert "At the start 7 things were possible" in told[2]


def test_the_document_says_its_language_and_title(pdf):
    reader = pypdf.PdfReader(BytesIO(pdf))
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert reader.metadata.title == "No start in the harbour: your marks"


@pytest.mark.parametrize("layout", sorted(BOATS))
def test_the_pictures_of_every_boat_are_drawn(layout):
    document = pypdfium2.PdfDocument(feedback_pdf(page_of(layout)))
    ink = [sum(page.render(scale=0.3, grayscale=True).to_pil().histogram()[:200]) for page in document]
    assert len(ink) >= 3
    assert min(ink) > 0
    assert sum(amount > 1000 for amount in ink) >= 3


def test_a_picture_keeps_its_shape_and_gives_up_its_words():
    picture = read_picture(page_of()[page_of().index("<svg") : page_of().index("</svg>") + 6])
    assert 0.3 < picture.ratio < 1.2
    assert picture.title.startswith("The circuit at")
    assert b"<title" not in picture.svg


def test_a_hard_fail_is_told_in_the_verdict():
    page = page_of(hard_fails=(Reason(FLOODED, 700.0, False, 0.0, "", 12),))
    assert "Not yet passed." in page
    assert f"This alone fails, whatever the points: {FLOODED}" in page


def test_the_page_reads_on_light_and_dark_and_holds_no_script():
    page = page_of()
    assert "prefers-color-scheme: dark" in page
    assert "<script" not in page.lower()


@pytest.mark.parametrize(
    ("roster", "name"),
    [("learner_id,first_name,last_name,ticket\nana,Ana,Exämple,\n", "Ana Exämple"), ("nothing like a roster", "ana")],
)
def test_nbgraders_own_writer_lays_both_side_by_side_for_who_it_is(monkeypatch, tmp_path, roster, name):
    (tmp_path / "roster.csv").write_text(roster, encoding="utf-8")
    place = SimpleNamespace(scheme=lambda exercise: usual_scheme_file(), roster=tmp_path / "roster.csv")
    monkeypatch.setattr("engine_sim.classroom.feedback_page.course_of_exporter", lambda exporter: place)
    names = {"student": "ana", "assignment": "no_start_harbour", "notebook": "no_start_harbour"}
    page, resources = FeedbackExporter().from_notebook_node(marked_copy("tank_below"), {"nbgrader": names})
    made = tmp_path / "made"
    FilesWriter(build_directory=str(made)).write(page, resources, notebook_name="no_start_harbour")
    assert sorted(file.name for file in made.iterdir()) == ["no_start_harbour.html", "no_start_harbour.pdf"]
    assert (made / "no_start_harbour.pdf").read_bytes().startswith(b"%PDF-")
    assert f"For: {name}<" in page
