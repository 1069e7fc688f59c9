"""Forgetting a learner: nothing of them is left in the class's folder, and nothing of anybody else is lost."""

from __future__ import annotations

import json
import os
import re
import shutil
from pathlib import Path

import pytest
from class_kit import (
    CURE,
    EXERCISE,
    LOGBOOK,
    LOOKS,
    NOTEBOOK,
    answered,
    make_class,
    put_in_exchange,
    stored_marks,
    tickets_with_a_shut_valve,
    work,
)

from engine_sim.classroom.course_root import at
from engine_sim.classroom.gradebook import open_gradebook
from engine_sim.classroom.mark_submissions import mark_course
from engine_sim.classroom.register_of_marks import read_register
from engine_sim.classroom.roster import Learner, Roster, read_roster, write_roster
from engine_sim.classroom.second_marks import change_mark
from engine_sim.classroom.teaching.arrivals import take_in
from engine_sim.classroom.teaching.forget import forget
from engine_sim.classroom.teaching.hand_out import hand_out
from engine_sim.classroom.teaching.marks_export import export_marks
from engine_sim.classroom.teaching.slips import write_slips
from engine_sim.classroom.teaching.traces import Traces
from engine_sim.errors import UnknownName

ID, FIRST, LAST = "quillon7", "Zoë-Ánna", "Brúnsdøttir"
OTHERS = ("bram", "water")
slow = pytest.mark.slow


@pytest.fixture(scope="module")
def full_class(tmp_path_factory):
    """A class of three in which the first left traces in every place that there is; another's id is a common word."""
    home = tmp_path_factory.mktemp("forget")
    names = (ID, *OTHERS)
    tickets = dict(zip(names, tickets_with_a_shut_valve(3), strict=True))
    course = make_class(home / "course", tickets)
    name_them(course)
    hand_out(course, [EXERCISE])
    page = json.dumps(answered(course.release(EXERCISE), f"I am {FIRST} {LAST}.")).encode()
    fill_stick(home, tickets, page)
    take_in(course, home / "stick" / "1")
    take_in(course, home / "stick" / "2")
    put_in_exchange(course, ID, {NOTEBOOK: page, LOGBOOK: work(home / "late", tickets[ID], LOOKS + CURE)}, "no moment")
    (course.submitted(ID, EXERCISE) / "more").mkdir()
    mark_course(course.folder, EXERCISE)
    change_mark(course, ID, EXERCISE, "safety", 1, f"{FIRST} said so", "Otto Quist")
    change_mark(course, "bram", EXERCISE, "safety", 2, f"as {FIRST} {LAST} saw", "Otto Quist")
    write_more(course, tickets[ID])
    return course, tickets


def name_them(course):
    """Give the learners their names; the third is called by common words."""
    named = {ID: (FIRST, LAST), "bram": ("Bram", "Oakley"), "water": ("Page", "Lesson")}
    roster = read_roster(course.roster)
    rows = (
        row | {"first_name": named[row["learner_id"]][0], "last_name": named[row["learner_id"]][1]}
        for row in roster.rows
    )
    write_roster(course.roster, Roster(roster.columns, tuple(rows)))


def fill_stick(home, tickets, page):
    """Lay hand-ins on a stick: everybody's, and the first one's a second and third time."""
    for folder, actions in (("1", LOOKS), ("2", LOOKS + CURE)):
        for name in tickets if folder == "1" else (ID,):
            place = home / "stick" / folder / f"{FIRST} {LAST}" / name
            place.mkdir(parents=True)
            (place / LOGBOOK).write_bytes(work(home / folder / name, tickets[name], actions))
            (place / NOTEBOOK).write_bytes(page if name == ID else b"{}")
    alone = home / "stick" / "2" / f"from {LAST}"
    alone.mkdir()
    (alone / NOTEBOOK).write_bytes(page)
    shutil.copytree(home / "stick" / "1" / f"{FIRST} {LAST}" / ID, home / "stick" / "2" / "again")


def write_more(course, ticket):
    """Write what names many: slips, tables, a class report, a page given back, and a note of the instructor's."""
    write_slips(course)
    export_marks(course)
    places = {
        "report/class_report.html": f"<p>{FIRST} {LAST}</p>",
        f"exchange/fuelcourse/feedback/{EXERCISE}/0af3.html": f"<p>For: {FIRST} {LAST}</p>",
        "notes.txt": f"{ID}: came late\nbram: spoke with {FIRST} {LAST}, {ticket}\nwater: in the bowl\n",
    }
    for name, text in places.items():
        place = course.folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(text, encoding="utf-8")


def traces_left(course, ticket):
    """Return the files that hold id, a name or the ticket in any way of writing them, in their names or bytes."""
    words = [ID, FIRST, LAST, ticket, ticket.replace("-", "")]
    forms = {form for word in words for form in (word, word.upper(), json.dumps(word)[1:-1])}
    wanted = {form.encode(code) for form in forms for code in ("utf-8", "utf-16-le", "latin-1")}
    found = []
    for top, folders, files in os.walk(course.folder):
        for name in (*folders, *files):
            place = os.path.join(top, name)
            data = name.encode() + (Path(place).read_bytes() if os.path.isfile(place) else b"")
            found += [os.path.relpath(place, course.folder) for word in wanted if word in data]
    return sorted(set(found))


@slow
def test_nothing_is_left_of_the_one_and_nothing_is_lost_of_the_others(full_class):
    course, tickets = full_class
    before = traces_left(course, tickets[ID])
    for place in ("gradebook.db", "roster.csv", "second_marks.jsonl", f"submitted/{ID}", f"worked_out/{EXERCISE}"):
        assert any(name.startswith(place) for name in before), place
    for folder in ("arrivals", "set_aside", "exchange", "feedback", "autograded", "findings", "report", "notes.txt"):
        assert any(name.startswith(folder) for name in before), folder
    theirs = {name: (course.submitted(name, EXERCISE) / LOGBOOK).read_bytes() for name in OTHERS}
    marks = {name: stored_marks(course, name) for name in OTHERS}
    done = forget(course, ID)
    assert traces_left(course, tickets[ID]) == []
    assert done.still_named_in == ()
    assert (
        any("gradebook.db" in name for name in done.removed)
        and "report/class_report.html (write it again)" in done.removed
    )
    assert {name: (course.submitted(name, EXERCISE) / LOGBOOK).read_bytes() for name in OTHERS} == theirs
    assert {name: stored_marks(course, name) for name in OTHERS} == marks
    assert list(read_roster(course.roster).learners) == list(OTHERS)
    assert [(line.learner_id, line.who, line.reason) for line in read_register(course).lines] == [
        ("bram", "Otto Quist", "as (forgotten) saw")
    ]
    notes = (course.folder / "notes.txt").read_text("utf-8")
    assert notes == "bram: spoke with (forgotten), (forgotten)\nwater: in the bowl\n"
    run = mark_course(course.folder, EXERCISE)
    assert [row.learner_id for row in run.rows] == list(OTHERS)


@slow
def test_somebody_called_by_common_words_takes_nothing_of_others_away(full_class, tmp_path):
    """The third learner's id is "water", the name "Page Lesson": words of exercises, receipts and findings."""
    shutil.copytree(full_class[0].folder, tmp_path / "course")
    course = at(tmp_path / "course")
    other = {one: one.read_bytes() for one in course.submitted("bram", EXERCISE).iterdir()}
    receipts = [one.read_text("utf-8") for one in sorted((course.folder / "arrivals").iterdir())]
    forget(course, "water")
    assert {one: one.read_bytes() for one in course.submitted("bram", EXERCISE).iterdir()} == other
    assert course.source("water_tank_below").is_file()
    assert not course.submitted("water", EXERCISE).exists() and "water" not in read_roster(course.roster).learners
    after = [one.read_text("utf-8") for one in sorted((course.folder / "arrivals").iterdir())]
    lost = [
        line for old, new in zip(receipts, after, strict=True) for line in set(old.splitlines()) - set(new.splitlines())
    ]
    assert lost and all(re.search(r"water \(Page Lesson\)|Page Lesson: ", line) for line in lost)
    with open_gradebook(course) as gradebook:
        assert "water" not in [student.id for student in gradebook.students]


@slow
def test_somebody_of_whom_nothing_is_here_is_said_and_a_second_time_too(full_class, tmp_path):
    shutil.copytree(full_class[0].folder, tmp_path / "course")
    course = at(tmp_path / "course")
    with pytest.raises(UnknownName, match="bram"):
        forget(course, "bran")
    forget(course, "bram")
    with pytest.raises(UnknownName, match="water"):
        forget(course, "bram")


def test_a_name_shared_with_another_learner_is_not_hidden_alone(tmp_path):
    one, other = Learner("ada", "Maud", "Ankerberg", "AAAA-BBBB"), Learner("bo", "Maud", "Sandoy", "CCCC-DDDD")
    traces = Traces.of(at(tmp_path), one, (other,))
    assert traces.hidden("Maud Sandoy asked Maud Ankerberg (AAAABBBB)") == (
        "Maud Sandoy asked (forgotten) ((forgotten))"
    )
    assert traces.in_text("ankerberg_no_start.ipynb") and not traces.in_text("canada, Ankerberger, Maud")
