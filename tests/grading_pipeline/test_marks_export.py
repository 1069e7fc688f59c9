"""The table of marks for a spreadsheet, and nbgrader's own, agree with the gradebook and hold no formula."""

from __future__ import annotations

import csv
import io
import json
import shutil

import pytest
from class_kit import (
    CURE,
    EXERCISE,
    LOGBOOK,
    LOOKS,
    NOTEBOOK,
    POOR,
    Commands,
    class_that_handed_in,
    tickets_with_a_shut_valve,
)

from engine_sim.attempt import read_logbook
from engine_sim.classroom.course_root import at
from engine_sim.classroom.gradebook import read_marks
from engine_sim.classroom.mark_submissions import mark_course
from engine_sim.classroom.roster import Roster, read_roster, write_roster
from engine_sim.classroom.second_marks import change_mark, second_mark
from engine_sim.classroom.teaching.marks_export import export_marks, harmless
from engine_sim.errors import UnknownName
from engine_sim.marking import MARK_NAMES
from engine_sim.version import SIMULATOR_VERSION

pytestmark = pytest.mark.slow
NAMES = ("ada", "bram", "cleo")
FORMULA = '=HYPERLINK("http://x.invalid","ärger")'


@pytest.fixture(scope="module")
def marked(tmp_path_factory):
    """A class of three: a sound hand-in, a poor one, nothing from the third, whose names are odd."""
    home = tmp_path_factory.mktemp("export")
    tickets = dict(zip(NAMES, tickets_with_a_shut_valve(3), strict=True))
    course = class_that_handed_in(home, tickets, {"ada": LOOKS + CURE, "bram": POOR})
    mark_course(course.folder, EXERCISE)
    return course


@pytest.fixture
def course(marked, tmp_path):
    """An own copy of the marked class."""
    shutil.copytree(marked.folder, tmp_path / "course")
    return at(tmp_path / "course")


def rows_of(course) -> dict[str, dict[str, str]]:
    """Return the table's lines by learner, read as a spreadsheet reads them."""
    data = export_marks(course).read_bytes()
    assert data.startswith(b"\xef\xbb\xbf"), "by this sign a spreadsheet knows UTF-8"
    rows = list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert all(None not in row and None not in row.values() for row in rows), "every line has every column"
    return {row["learner_id"]: row for row in rows}


def test_every_learner_has_a_line_with_the_gradebooks_marks_and_what_they_hang_on(course):
    rows = rows_of(course)
    assert list(rows) == list(NAMES)
    for name in NAMES[:2]:
        row, stored = rows[name], read_marks(course, name, EXERCISE)
        titles = {mark: mark.capitalize() for mark in MARK_NAMES}
        assert {mark: float(row[title]) for mark, title in titles.items()} == {m: stored.marks[m] for m in MARK_NAMES}
        assert [float(row[f"{titles[mark]} of"]) for mark in MARK_NAMES] == [5, 10, 5, 10, 5]
        assert (row["Written answer"], row["Written answer of"], row["still to be marked by hand"]) == ("", "5", "1")
        assert float(row["total"]) == pytest.approx(sum(stored.marks[mark] for mark in MARK_NAMES))
        assert (row["total of"], row["title"]) == ("40", "It will not keep running")
        header = read_logbook((course.submitted(name, EXERCISE) / LOGBOOK).read_bytes()).header
        assert row["exercise version"] == str(header["scenario_version"])
        assert row["simulator version"] == str(SIMULATOR_VERSION)
        assert len(row["scheme digest"]) == 16 and row["scheme version"] == "2"
        stamp = (course.submitted(name, EXERCISE) / "timestamp.txt").read_text("utf-8")
        assert stamp.startswith(row["taken in at (UTC)"]) and len(row["taken in at (UTC)"]) == 19
    assert (rows["bram"]["passed"], rows["cleo"]["handed in"], rows["cleo"]["total"]) == ("no", "no", "")


def test_passed_and_changed_marks_are_said_with_the_reason(course):
    assert rows_of(course)["bram"]["passed"] == "no"
    for mark, points in zip(MARK_NAMES, (5, 10, 5, 10, 5), strict=True):
        change_mark(course, "bram", EXERCISE, mark, points, f"shown aloud, {mark}", "Otto Quist")
    change_mark(course, "bram", EXERCISE, "ashore", 4, "all but the label", "Otto Quist")
    second_mark(course, "ada", EXERCISE, {"ashore": 2}, "Una Berg", "short")
    rows = rows_of(course)
    assert (rows["bram"]["passed"], rows["bram"]["total"], rows["bram"]["points by hand"]) == ("yes", "39", "4")
    assert "Method changed from " in rows["bram"]["changed marks"]
    assert "to 10 of 10 by Otto Quist: shown aloud, method" in rows["bram"]["changed marks"]
    assert (
        rows["ada"]["changed marks"] == "" and rows["ada"]["second marks"] == "Written answer 2 of 5 by Una Berg: short"
    )


def test_a_hard_fail_is_named_and_never_passed(course):
    place = course.autograded("ada", EXERCISE) / NOTEBOOK
    notebook = json.loads(place.read_text("utf-8"))
    for part in notebook["cells"]:
        for output in part.get("outputs", ()):
            if "hard_fails" in output["metadata"].get("fuelcourse", {}):
                output["metadata"]["fuelcourse"]["hard_fails"] = ["Water came into the engine."]
    place.write_text(json.dumps(notebook), encoding="utf-8")
    row = rows_of(course)["ada"]
    assert row["hard fail"] == "Water came into the engine." and row["passed"] == "no"


def test_nothing_in_the_table_is_a_formula_and_odd_names_keep_their_letters(course):
    roster = read_roster(course.roster)
    named = {"ada": (FORMULA, "@SUM(1)"), "bram": ("Inês", 'O\'Brien, the "Elder"'), "cleo": ("+1", "\u202eדוד")}
    rows = tuple(
        {**row, "first_name": named[row["learner_id"]][0], "last_name": named[row["learner_id"]][1]}
        for row in roster.rows
    )
    write_roster(course.roster, Roster(roster.columns, rows))
    change_mark(course, "ada", EXERCISE, "safety", 1, "-2+3", "=cmd")
    found = rows_of(course)
    assert found["ada"]["first name"] == f"'{FORMULA}" and found["ada"]["last name"] == "'@SUM(1)"
    assert (found["bram"]["first name"], found["bram"]["last name"]) == named["bram"]
    every = [value for row in found.values() for value in row.values()]
    assert [value for value in every if value.startswith(("=", "+", "-", "@", "\t", "\r"))] == []


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@x", "\t=1", "\r=1", " =1", "\u00a0=1", "\uff1d1", "\n=1"])
def test_each_beginning_of_a_formula_is_guarded(text):
    assert harmless(text) == f"'{text}"


@pytest.mark.parametrize(("value", "shown"), [("a=b", "a=b"), (2.50, "2.5"), (True, "yes"), (0.0, "0"), ("", "")])
def test_plain_values_stay_as_they_are(value, shown):
    assert harmless(value) == shown


def test_an_exercise_that_there_is_none_of_is_named(course):
    with pytest.raises(UnknownName, match="no_start_harbour"):
        export_marks(course, ["nowhere"])


def test_nbgraders_own_export_gives_the_same_totals(course, tmp_path):
    change_mark(course, "bram", EXERCISE, "safety", 5, "shown aloud", "Otto Quist")
    with Commands(tmp_path) as nbgrader:
        (done,) = nbgrader.give((course.folder, ("export", f"--to={tmp_path / 'grades.csv'}")))
    assert done["code"] == 0, done["said"]
    lines = list(csv.DictReader((tmp_path / "grades.csv").read_text("utf-8").splitlines()))
    theirs = {row["student_id"]: float(row["score"]) for row in lines if row["assignment"] == EXERCISE}
    ours = {name: float(row["total"] or 0) for name, row in rows_of(course).items()}
    assert theirs == pytest.approx(ours)
