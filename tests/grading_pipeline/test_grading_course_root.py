"""Making a course root, its roster and its settings."""

from __future__ import annotations

import csv
import json
import re
import shutil

import pytest
from class_kit import EXERCISE

from engine_sim.classroom.course_plan import all_exercises
from engine_sim.classroom.course_root import ClassroomError, at
from engine_sim.classroom.gradebook import open_gradebook
from engine_sim.classroom.hand_in import logbook_name
from engine_sim.classroom.mark_submissions import mark_course, mark_submissions
from engine_sim.classroom.open_course import make_course_root
from engine_sim.classroom.roster import RosterError, fill_tickets, parse_roster
from engine_sim.classroom.settings import NEEDED_STEPS, load_settings
from engine_sim.classroom.shipped import shipped
from engine_sim.marking import MARK_NAMES
from engine_sim.scenarios import check_ticket, new_ticket

HEAD = "learner_id,first_name,last_name,ticket\n"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A course root made once."""
    return make_course_root(tmp_path_factory.mktemp("made") / "evening course")


@pytest.fixture
def course(made, tmp_path):
    """An own copy of that course root."""
    shutil.copytree(made.course.folder, tmp_path / "course")
    return at(tmp_path / "course")


def test_a_course_root_has_all_that_is_needed(made):
    course = made.course
    needed = (course.config, course.roster, course.gradebook, course.source(EXERCISE), course.scheme(EXERCISE))
    assert [place.is_file() for place in needed] == [True] * 5
    assert (course.folder / "README.md").is_file()
    assert course.inbound.parent.is_dir()


def test_every_folder_and_file_is_closed_to_others(made):
    open_to_others = [place for place in made.course.folder.rglob("*") if place.stat().st_mode & 0o077]
    assert open_to_others == []
    assert made.course.folder.stat().st_mode & 0o077 == 0


def test_everyone_on_the_first_roster_has_a_sound_ticket_and_is_in_the_gradebook(made):
    rows = list(csv.DictReader(made.course.roster.read_text("utf-8").splitlines()))
    assert [check_ticket(row["ticket"]) for row in rows] == [row["ticket"] for row in rows]
    with open_gradebook(made.course) as gradebook:
        assert sorted(student.id for student in gradebook.students) == sorted(row["learner_id"] for row in rows)


def test_making_it_again_keeps_everything_and_adds_what_is_missing(course):
    course.config.write_text("# my own\n" + course.config.read_text("utf-8"), encoding="utf-8")
    course.scheme(EXERCISE).unlink()
    before = course.roster.read_bytes()
    again = make_course_root(course.folder)
    assert course.config.read_text("utf-8").startswith("# my own\n")
    assert course.roster.read_bytes() == before
    assert again.added == ("marking/usual.toml",)
    assert again.new_tickets == ()
    assert "Every learner on the roster has a ticket." in str(again) and "Put your learners" not in str(again)


def test_a_new_learner_gets_a_ticket_and_the_others_keep_theirs(course):
    before = course.roster.read_text("utf-8")
    course.roster.write_text(before + "ondine,Ondine,Marrik,\n", encoding="utf-8")
    again = make_course_root(course.folder)
    assert again.new_tickets == ("ondine",)
    assert "kept as it is: roster.csv" not in str(again) and "New tickets in roster.csv for: ondine" in str(again)
    assert course.roster.read_text("utf-8").startswith(before + "ondine,Ondine,Marrik,")


def test_an_instructors_own_columns_stay(course):
    course.roster.write_text(HEAD.replace("\n", ",boat\n") + "ondine,Ondine,Marrik,,Tern\n", encoding="utf-8")
    make_course_root(course.folder)
    assert re.search(r"^ondine,Ondine,Marrik,\S+,Tern$", course.roster.read_text("utf-8"), re.MULTILINE)


def test_no_ticket_is_given_twice():
    first, second = new_ticket(), new_ticket()
    draws = iter((first, first, second))
    roster = parse_roster(f"{HEAD}a,A,A,\nb,B,B,\n", "roster")
    assert [row["ticket"] for row in fill_tickets(roster, lambda: next(draws)).rows] == [first, second]


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ("a/../b,A,B,\n", "line 2: learner_id 'a/../b' cannot be used"),
        (".hidden,A,B,\n", "line 2: learner_id '.hidden' cannot be used"),
        ("a*,A,B,\n", "cannot be used"),
        (",A,B,\n", "cannot be used"),
        ("x" * 65 + ",A,B,\n", "up to 64"),
        ("a,A,B,\nA,C,D,\n", "line 3: learner_id 'A' is already on line 2"),
        ("a,A,B,NOT-A-TICKET\n", "line 2: 'NOT-A-TICKET' does not read as a ticket"),
    ],
)
def test_a_bad_line_of_the_roster_is_named(lines, says):
    with pytest.raises(RosterError, match=re.escape(says)):
        parse_roster(HEAD + lines, "roster")


def test_one_ticket_for_two_is_refused():
    ticket = new_ticket()
    with pytest.raises(RosterError, match="is already on line 2"):
        parse_roster(f"{HEAD}a,A,B,{ticket}\nb,C,D,{ticket.lower()}\n", "roster")


def test_a_roster_without_its_columns_is_refused():
    with pytest.raises(RosterError, match="missing: ticket"):
        parse_roster("learner_id,first_name,last_name\n", "roster")


def test_a_bad_roster_changes_nothing(course):
    course.roster.write_text(f"{HEAD}a,A,B,\na,A,B,\n", encoding="utf-8")
    with pytest.raises(RosterError):
        make_course_root(course.folder)
    assert course.roster.read_text("utf-8") == f"{HEAD}a,A,B,\na,A,B,\n"


def test_a_file_is_no_course_root(tmp_path):
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(ClassroomError, match="is a file"):
        make_course_root(tmp_path / "file")


def test_marking_where_there_is_no_course_root_says_how_to_make_one(tmp_path):
    with pytest.raises(ClassroomError, match="fuelcourse teach"):
        mark_course(tmp_path, EXERCISE)


def test_the_shipped_settings_hold_every_step_that_keeps_marking_safe(made):
    settings = load_settings(made.course)
    assert {place: settings[place[0]][place[1]] for place in NEEDED_STEPS} == NEEDED_STEPS


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("engine_sim.classroom.marking_steps.MarkFromLogbook", "nbgrader.preprocessors.Execute"),
        ("c.SanitizeHTML.enabled = True", "c.SanitizeHTML.enabled = False"),
        ("c.Autograde.pre_convert_hook", "c.Autograde.other"),
    ],
)
def test_marking_is_refused_when_a_safe_step_is_gone(course, old, new):
    course.config.write_text(course.config.read_text("utf-8").replace(old, new), encoding="utf-8")
    with pytest.raises(ClassroomError, match="marking is safe only with"):
        mark_course(course.folder, EXERCISE)


def test_settings_that_cannot_be_read_are_refused(course):
    course.config.write_text("c = get_config(\n", encoding="utf-8")
    with pytest.raises(ClassroomError, match="cannot be read"):
        mark_course(course.folder, EXERCISE)


def test_with_nothing_handed_in_there_is_nothing_to_look_at(course, capsys):
    assert mark_submissions(course.folder) == 0
    assert "Nothing has been handed in yet." in capsys.readouterr().out


def test_every_marked_place_follows_a_marked_one_or_an_answer(made):
    """nbgrader puts a deleted marked place back only behind one of these; a locked unmarked one before it stops it."""
    notebook = json.loads(made.course.source(EXERCISE).read_text("utf-8"))
    named = [cell["metadata"]["nbgrader"] for cell in notebook["cells"] if "nbgrader" in cell["metadata"]]
    assert [marking["grade_id"] for marking in named] == ["ashore", *MARK_NAMES]
    assert all(marking["grade"] for marking in named)
    assert [marking["points"] for marking in named] == [5, 5, 10, 5, 10, 5]


def test_the_question_is_not_in_the_answer_box(made):
    notebook = json.loads(made.course.source(EXERCISE).read_text("utf-8"))
    answer = next(c for c in notebook["cells"] if c["metadata"].get("nbgrader", {}).get("grade_id") == "ashore")
    assert answer["source"] == ["YOUR ANSWER HERE"]


def test_nothing_that_marks_is_handed_out():
    """A logbook in source/ would replace every learner's own; hidden tests would stand in the gradebook."""
    source = shipped("instructors") / "source"
    names = {place.name for place in source.rglob("*") if place.is_file()}
    assert names == {f"{exercise.id}.ipynb" for exercise in all_exercises()}
    for exercise in all_exercises():
        text = (source / exercise.id / f"{exercise.id}.ipynb").read_text("utf-8")
        assert logbook_name(exercise.id) not in text
        assert not re.search(r"BEGIN (HIDDEN|SOLUTION|MARK)", text)


def test_what_a_marked_place_holds_can_never_be_a_full_mark(made):
    """Where nbgrader ran it after all, the result would be a number, and nothing."""
    notebook = json.loads(made.course.source(EXERCISE).read_text("utf-8"))
    marked = [c for c in notebook["cells"] if c["metadata"].get("nbgrader", {}).get("locked")]
    assert len(marked) == len(MARK_NAMES)
    for cell in marked:
        first, second = "".join(cell["source"]).split("; ")
        names: dict[str, object] = {}
        exec(first, names)
        assert repr(eval(second, names)) == "0.0"
