"""The page that tells a learner, for each mark, why, and the same as a PDF: nothing that a sailor need not see."""

from __future__ import annotations

from html import escape, unescape
from typing import Any

from nbconvert.exporters import Exporter
from nbformat import NotebookNode
from nbgrader.api import Gradebook
from nbgrader.preprocessors import NbGraderPreprocessor
from nbgrader.utils import is_grade, is_solution

from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.feedback_pdf import feedback_pdf
from engine_sim.classroom.marking_steps import OURS, course_of, course_of_exporter
from engine_sim.classroom.page_style import HEAD
from engine_sim.classroom.pass_line import verdict
from engine_sim.classroom.roster import RosterError, read_roster
from engine_sim.classroom.second_marks import reason_to_show
from engine_sim.marking import TITLES, Mark, MarkingScheme, load_marking_scheme
from engine_sim.marking.sums import SUMS

PAGE = (
    HEAD
    + """body {{ font: 1.05rem/1.55 system-ui, sans-serif; color: var(--ink); background: var(--paper); margin: 0; }}
main {{ max-width: 52rem; margin: 0 auto; padding: 1.5rem 1.25rem 3rem; }}
h1 {{ font-size: 1.7rem; line-height: 1.25; }}
h2, section h3 {{ font-size: 1.3rem; margin: 0 0 .5rem; }}
h4 {{ margin: 1.4rem 0 .4rem; }}
li {{ margin: .25rem 0; }}
summary {{ cursor: pointer; min-height: 44px; line-height: 44px; }}
details table {{ font-size: .85rem; display: block; overflow-x: auto; }}
section section {{ margin-top: 1.5rem; }}
table {{ border-collapse: collapse; margin: 1rem 0 2rem; }}
th, td {{ text-align: left; padding: .35rem 1.5rem .35rem 0; border-bottom: 1px solid var(--line); }}
td.number {{ text-align: right; font-variant-numeric: tabular-nums; }}
main > section {{ border-top: 3px solid var(--strong); padding-top: 1rem; margin-top: 2rem; overflow-wrap: anywhere; }}
figure {{ margin: 1rem 0; }}
svg {{ max-width: 100%; height: auto; }}
blockquote {{ margin: 1rem 0; padding: .5rem 1rem; border-left: 4px solid var(--line); white-space: pre-wrap; }}
@media print {{ figure, li {{ break-inside: avoid; }} h3, h4 {{ break-after: avoid; }} }}
</style>
</head>
<body><main>
<h1>{title}: your marks</h1>
<p>For: {learner}</p>
{summary}
{parts}
</main></body>
</html>
"""
)
ANSWER_TITLE = "Written answer"
SUM_TITLES = {item.id: item.title for item in SUMS}
NO_ANSWER = "No response."  # nbgrader's own comment on an answer that was left as it came


class ShowPending(NbGraderPreprocessor):  # type: ignore[misc]
    """Notes which answers an instructor has still to mark by hand, and why a mark was changed."""

    def preprocess(self, nb: NotebookNode, resources: dict[str, Any]) -> tuple[NotebookNode, dict[str, Any]]:
        """Return the notebook with a note on each answer that waits for its mark, and each changed mark's reason."""
        names = resources["nbgrader"]
        with Gradebook(names["db_url"]) as gradebook:
            for cell in (cell for cell in nb.cells if is_grade(cell)):
                marking = cell.metadata["nbgrader"]
                grade = gradebook.find_grade(
                    marking["grade_id"], names["notebook"], names["assignment"], names["student"]
                )
                marking["pending"] = bool(grade.needs_manual_grade)
                if not is_solution(cell) and grade.manual_score is not None:
                    given = (names["student"], names["assignment"], grade.name, grade.manual_score)
                    marking["comment"] = reason_to_show(course_of(self), *given)
        return nb, resources


class FeedbackExporter(Exporter):
    """Writes the feedback page, which needs no network and holds no script, and lays the same as a PDF beside it."""

    file_extension = ".html"
    output_mimetype = "text/html"

    def from_notebook_node(  # type: ignore[override]
        self,
        nb: NotebookNode,
        resources: dict[str, Any] | None = None,
        **kw: Any,  # noqa: ANN401
    ) -> tuple[str, dict[str, Any]]:
        """Return the page for a marked copy."""
        marked, found = super().from_notebook_node(nb, resources=resources, **kw)
        names = found.get("nbgrader", {})
        course = course_of_exporter(self)
        scheme = load_marking_scheme(course.scheme(str(names["assignment"])))
        page = make_page(marked, full_name(course, str(names.get("student", ""))), scheme)
        beside = found.get("outputs") or {}
        found["outputs"] = {**beside, f"{names.get('notebook', 'feedback')}.pdf": feedback_pdf(page)}
        return page, found


def full_name(course: CourseRoot, learner: str) -> str:
    """Return a learner's name as the roster has it, or the id where it has none or cannot be read."""
    try:
        known = read_roster(course.roster).learners.get(learner)
    except RosterError:
        known = None
    name = f"{known.first_name} {known.last_name}".strip() if known else ""
    return name or learner


def make_page(nb: NotebookNode, learner: str, scheme: MarkingScheme) -> str:
    """Return the page of a marked copy whose parts carry their scores; written answers come last."""
    graded = sorted((cell for cell in nb.cells if is_grade(cell)), key=is_solution)
    title, parts = escape(first_heading(nb)), "\n".join(map(one_part, graded))
    summary = summary_table(graded) + pass_sentence(graded, scheme)
    return PAGE.format(
        page_title=f"{title}: your marks", title=title, learner=escape(learner), summary=summary, parts=parts
    )


def pass_sentence(graded: list[NotebookNode], scheme: MarkingScheme) -> str:
    """Return the sentence that says whether the marks from the logbook, or of the sums, reach the pass line."""
    markings = [cell.metadata["nbgrader"] for cell in graded if not is_solution(cell)]
    marks = {one["grade_id"]: Mark(float(one.get("score") or 0.0), float(one["points"])) for one in markings}
    return f"<p><strong>{escape(verdict(marks, scheme, hard_fails(graded)))}</strong></p>"


def hard_fails(graded: list[NotebookNode]) -> list[str]:
    """Return what failed the exercise by itself, in the sentences that marking wrote beside the first mark."""
    outputs = [output for cell in graded for output in cell.get("outputs", ())]
    found = [output.get("metadata", {}).get(OURS, {}).get("hard_fails", ()) for output in outputs]
    return [str(text) for texts in found for text in texts]


def first_heading(nb: NotebookNode) -> str:
    """Return the text of the notebook's first heading."""
    for cell in nb.cells:
        for line in cell.source.splitlines() if cell.cell_type == "markdown" else ():
            if line.startswith("#"):
                return str(line.lstrip("#").strip())
    return "Exercise"


def title_of(cell: NotebookNode) -> str:
    """Return the heading for one mark."""
    name = cell.metadata["nbgrader"]["grade_id"]
    return escape({**TITLES, **SUM_TITLES}.get(name, ANSWER_TITLE if is_solution(cell) else name))


def points_of(cell: NotebookNode) -> str:
    """Return a mark as words, such as ``7.5 of 10``."""
    marking = cell.metadata["nbgrader"]
    if marking.get("pending"):
        return f"not marked yet (of {float(marking['points']):g})"
    return f"{float(marking.get('score') or 0.0):g} of {float(marking['points']):g}"


def summary_table(graded: list[NotebookNode]) -> str:
    """Return the table of marks at the top of the page."""
    rows = "".join(f'<tr><th scope="row">{title_of(c)}</th><td class="number">{points_of(c)}</td></tr>' for c in graded)
    done = [cell.metadata["nbgrader"] for cell in graded if not cell.metadata["nbgrader"].get("pending")]
    score = sum(float(marking.get("score") or 0.0) for marking in done)
    total = f"{score:g} of {sum(float(marking['points']) for marking in done):g}"
    label = "Together" if len(done) == len(graded) else "Together so far"
    return f'<table>{rows}<tr><th scope="row">{label}</th><td class="number">{total}</td></tr></table>'


def one_part(cell: NotebookNode) -> str:
    """Return the section of the page for one mark: its reasons, or the learner's own words and the reply."""
    marking = cell.metadata["nbgrader"]
    body = written_answer(cell) if is_solution(cell) else reasons(cell)
    if marking.get("comment") and marking["comment"] != NO_ANSWER:
        body += f"<p>From your instructor:</p><blockquote>{escape(marking['comment'])}</blockquote>"
    return f"<section>{body}</section>"


def written_answer(cell: NotebookNode) -> str:
    """Return the learner's own words, as plain text."""
    heading = f"<h2>{title_of(cell)}: {points_of(cell)}</h2>"
    if cell.metadata["nbgrader"].get("comment") == NO_ANSWER:
        return f"{heading}<p>You wrote nothing here.</p>"
    return f"{heading}<p>What you wrote:</p><blockquote>{escape(unescape(cell.source))}</blockquote>"


def reasons(cell: NotebookNode) -> str:
    """Return the reasons that marking wrote for one mark, and whether an instructor set another mark."""
    data: dict[str, Any] = next((output.data for output in cell.outputs if "data" in output), {})
    page = str(data.get("text/html", "")) or f"<h2>{title_of(cell)}: {points_of(cell)}</h2>"
    score = cell.metadata["nbgrader"].get("score")
    if score is not None and repr(float(score)) != data.get("text/plain"):
        page += f"<p><strong>Your instructor set this mark: {points_of(cell)}.</strong></p>"
    return page
