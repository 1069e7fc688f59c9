"""The whole way with the real nbgrader, and a class in which nearly everybody hands in something hostile."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from class_kit import ANSWER, EXERCISE, NOTHING, Marks
from hostile_hand_ins import HOSTILE

from engine_sim.classroom.marking_steps import EMPTY_ANSWER
from engine_sim.classroom.marks_table import table
from engine_sim.marking import load_marking_scheme, mark_logbook

if TYPE_CHECKING:
    from conftest import TheClass

COMMANDS = (
    "generate_assignment",
    "release_assignment",
    "fetch_assignment",
    "submit",
    "collect",
    "autograde",
    "generate_feedback",
    "release_feedback",
    "fetch_feedback",
)
MARKINGS = ("first", "nbgrader alone")


def honest_marks(the_class: TheClass) -> Marks:
    """Return what the work earns that everybody but the control learner did: the same steps on the same fault."""
    return the_class.earned("late", the_class.logbooks["late"])


def expected(the_class: TheClass, name: str) -> Marks:
    """Return the marks that the name of a hostile hand-in states."""
    outcome = name.rsplit("__", 1)[1]
    if outcome == "nothing_marked":
        return NOTHING
    return (
        honest_marks(the_class)
        if outcome == "marked_from_logbook"
        else the_class.earned(name, the_class.handed_in[name])
    )


@pytest.mark.parametrize("command", COMMANDS)
def test_nbgraders_own_command_succeeds(the_class, command):
    assert the_class.codes[command] == 0, the_class.said[command]


def test_a_good_learner_earns_marks_in_all_five(the_class):
    marks = the_class.control_alone
    assert marks == the_class.earned("control", the_class.logbooks["control"])
    assert min(marks.all) > 0


def test_the_good_learners_marks_never_move(the_class):
    assert [the_class.marks[when]["control"] for when in MARKINGS] == [the_class.control_alone] * len(MARKINGS)


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_hand_in_has_its_stated_result(the_class, name):
    assert [the_class.marks[when][name] for when in MARKINGS] == [expected(the_class, name)] * len(MARKINGS)


@pytest.mark.parametrize("name", [name for name in HOSTILE if not name.endswith("marked_from_logbook")])
def test_a_spoilt_logbook_is_a_finding(the_class, name):
    assert "logbook" in the_class.findings(name).lower()


@pytest.mark.parametrize("name", [name for name in HOSTILE if name.endswith("marked_up_to_there")])
def test_a_spoilt_logbook_gains_nothing(the_class, name):
    assert expected(the_class, name).total < honest_marks(the_class).total


def test_nothing_that_was_handed_in_was_run(the_class):
    assert list(the_class.traces.iterdir()) == []
    assert not (the_class.home / "touched").exists()


def test_of_two_hand_ins_the_newest_counts(the_class):
    assert the_class.marks["nbgrader alone"]["twice"] == honest_marks(the_class)
    assert "handed in 2 times" in the_class.findings("twice")


def test_a_late_hand_in_is_marked_and_named(the_class):
    assert the_class.marks["nbgrader alone"]["late"] == honest_marks(the_class)
    assert "48.0 hours late" in the_class.findings("late")


def test_a_folder_forged_in_anothers_name_changes_nothing(the_class):
    assert the_class.marks["nbgrader alone"]["victim"] == honest_marks(the_class)
    assert "without this learner's ticket" in the_class.findings("victim")


def test_a_stranger_is_named_and_not_marked(the_class):
    assert "nobody" not in [row.learner_id for row in the_class.runs[-1].rows]
    assert "nobody is not on the roster" in "\n".join(item.text for item in the_class.runs[-1].others)


def test_who_handed_nothing_in_is_named(the_class):
    assert the_class.runs[-1].not_handed_in == ("absent",)


def test_a_back_dated_hand_in_is_marked_and_named(the_class):
    assert the_class.marks["nbgrader alone"]["back_dated"] == honest_marks(the_class)
    assert "dated earlier than it arrived" in the_class.findings("back_dated")


def test_a_folder_with_no_sound_name_stops_no_collecting(the_class):
    assert "is no sound hand-in" in the_class.findings("victim")


def test_the_table_names_everyone_with_marks_and_findings(the_class):
    shown = table(the_class.runs[-1])
    lines = {line.split()[0]: line.split()[1:7] for line in shown.splitlines()[2 : 2 + len(the_class.runs[-1].rows)]}
    marks = {name: the_class.marks["first"][name] for name in lines}
    assert lines == {name: [f"{number:g}" for number in (*own.all, own.total)] for name, own in marks.items()}
    assert "no_notebook__marked_from_logbook: no notebook was there to read" in shown
    assert "Nothing handed in: absent" in shown
    assert the_class.runs[-1].needs_a_look


def test_the_table_says_who_passed_and_whose_answer_waits(the_class):
    shown = table(the_class.runs[-1])
    heads = shown.splitlines()[0].split()
    lines = {line.split()[0]: dict(zip(heads, line.split(), strict=False)) for line in shown.splitlines()[2:] if line}
    scheme = load_marking_scheme(the_class.course.scheme(EXERCISE))
    for name in ("control", "late", "twice"):
        sheet = mark_logbook(the_class.logbooks[name], EXERCISE, the_class.tickets[name], scheme)
        assert lines[name]["passed"] == ("yes" if sheet.passed else "no")
    assert lines["logbook_of_fifty_megabytes__nothing_marked"]["passed"] == "no"
    assert lines["control"]["written"] == "waits"
    assert f"fuelcourse teach {the_class.course.folder} --open" in shown


def test_the_feedback_page_says_whether_the_pass_line_is_reached(the_class):
    for row in the_class.runs[-1].rows:
        page = the_class.course.feedback_page(row.learner_id, EXERCISE).read_text("utf-8")
        assert ("<strong>Passed:" in page) is row.passed
        assert ("<strong>Not yet passed. Missed: " in page) is not row.passed


def test_an_answer_left_as_it_came_is_a_finding(the_class):
    assert EMPTY_ANSWER in the_class.findings("no_notebook__marked_from_logbook")
    assert EMPTY_ANSWER not in the_class.findings("control")


def test_the_findings_are_kept_in_the_course_root(the_class):
    kept = the_class.course.findings(EXERCISE).read_text("utf-8")
    assert "logbook_of_fifty_megabytes__nothing_marked" in kept
    assert "control" not in re.findall(r"^([^,]*),", kept, re.MULTILINE)


def test_only_the_graders_remarks_are_missing_from_good_marks(the_class):
    row = next(row for row in the_class.runs[-1].rows if row.learner_id == "control")
    assert row.marks["ashore"] is None
    assert row.waiting == 1


@pytest.mark.parametrize("name", ["control", *HOSTILE])
def test_the_feedback_page_shows_reasons_and_no_code_and_pictures_of_what_was_done(the_class, name):
    page = the_class.course.feedback_page(name, EXERCISE).read_text("utf-8")
    assert (page.count("<svg") > 0) is not name.endswith("nothing_marked")
    assert page.count("<svg") == page.count("<title>") - 1 == page.count("<desc>"), "each has its text alternative"
    assert "<li>" in page
    assert not re.search(r"import |marked_by_instructor|bench\(|In&nbsp;|Traceback|findings", page)


@pytest.mark.parametrize("name", ["control", *HOSTILE])
def test_a_pdf_lies_beside_the_feedback_page(the_class, name):
    assert the_class.course.feedback_page(name, EXERCISE).with_suffix(".pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize("name", HOSTILE)
def test_nothing_in_a_feedback_page_can_act(the_class, name):
    page = the_class.course.feedback_page(name, EXERCISE).read_text("utf-8")
    assert not re.search(r"<script|<img|<iframe|<a |<[a-z]+[^>]*\son\w+=", page, re.IGNORECASE)
    assert "script-src" not in page and "default-src 'none'" in page


def test_what_a_learner_wrote_stands_on_the_page_as_it_was_written(the_class):
    page = the_class.course.feedback_page("control", EXERCISE).read_text("utf-8")
    assert ANSWER.replace("&", "&amp;").replace("<", "&lt;") in page


def test_nothing_in_a_marked_copy_can_act_in_the_formgrader(the_class):
    copy = (
        the_class.course.autograded("script_in_output_and_answer__marked_from_logbook", EXERCISE) / f"{EXERCISE}.ipynb"
    )
    text = copy.read_text("utf-8")
    assert not re.search(r"<script|<img|\]\(|\$|\\\\href", text)


def test_the_learner_can_fetch_the_page(the_class):
    pages = list(the_class.learner_folder.glob(f"feedback/*/{EXERCISE}.html"))
    assert ["<svg" in page.read_text("utf-8") for page in pages] == [True]


def test_marks_and_course_root_are_closed_to_others(the_class):
    course = the_class.course
    assert course.folder.stat().st_mode & 0o077 == 0
    assert course.gradebook.stat().st_mode & 0o177 == 0
    assert course.roster.stat().st_mode & 0o177 == 0
