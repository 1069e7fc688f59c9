"""One invented class in which everything happens at once; the tests read what came of it."""

from __future__ import annotations

import copy
import json
import shutil
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from arrivals_kit import Prepared, prepare
from class_kit import (
    CURE,
    EXERCISE,
    LOGBOOK,
    LOOKS,
    NOTEBOOK,
    POOR,
    Commands,
    Marks,
    answered,
    enter_due_date,
    make_class,
    marks_of,
    put_in_exchange,
    stored_marks,
    tickets_with_a_shut_valve,
    work,
)
from hostile_hand_ins import HOSTILE, Desk

from engine_sim.classroom.course_root import COURSE_ID, CourseRoot, at
from engine_sim.classroom.mark_submissions import MarkingRun, mark_course
from engine_sim.scenarios import own_pools

# Who is marked once more by nbgrader's own command after our run: control, late, what is done to logbooks and marks.
AGAIN = "[clm]*"
# Of those, whose results are not kept: an honest one, spoilt ones, and one with nothing to mark.
FORGOTTEN = (
    "control",
    "marked_places_edited__marked_from_logbook",
    "logbook_cut_in_a_line__marked_up_to_there",
    "logbook_line_edited__marked_up_to_there",
    "logbook_is_a_link__nothing_marked",
)
HONEST = ("control", "twice", "late", "back_dated", "victim", "absent")


@dataclass
class TheClass:
    """The class, what was said while it was marked, and everybody's marks after each marking."""

    course: CourseRoot
    home: Path
    tickets: dict[str, str]
    nbgrader: Commands
    logbooks: dict[str, bytes] = field(default_factory=dict)
    handed_in: dict[str, bytes | None] = field(default_factory=dict)
    said: dict[str, str] = field(default_factory=dict)
    codes: dict[str, int] = field(default_factory=dict)
    control_alone: Marks | None = None
    runs: list[MarkingRun] = field(default_factory=list)
    marks: dict[str, dict[str, Marks | None]] = field(default_factory=dict)
    _earned: dict[tuple[str, bytes | None], Marks] = field(default_factory=dict)

    @property
    def traces(self) -> Path:
        """Where code from a hand-in would leave a trace if it were run."""
        return self.home / "traces"

    @property
    def learner_folder(self) -> Path:
        """Where the control learner works."""
        return self.home / "learner" / EXERCISE

    def commands(self, *lines: str) -> None:
        """Give nbgrader's commands as the instructor, or as the control learner after ``learner:``."""
        orders = []
        for line in lines:
            words = (*line.removeprefix("learner:").split(), EXERCISE)
            if line.startswith("learner:"):
                own = (*words, f"--course={COURSE_ID}", f"--Exchange.root={self.course.exchange}")
                orders.append((self.learner_folder.parent, own))
            else:
                orders.append((self.course.folder, words))
        for done in self.nbgrader.give(*orders):
            self.said[done["command"]], self.codes[done["command"]] = done["said"], done["code"]

    def note_marks(self, when: str) -> None:
        """Keep everybody's marks as they stand in the gradebook."""
        self.marks[when] = {name: stored_marks(self.course, name) for name in self.tickets}

    def earned(self, learner: str, data: bytes | None) -> Marks:
        """Return what a logbook earns when it is marked directly."""
        known = (learner, data)
        if known not in self._earned:
            self._earned[known] = marks_of(data, self.tickets[learner], self.course)
        return self._earned[known]

    def findings(self, learner: str) -> str:
        """Return what the last run said about a learner, as one text."""
        return "\n".join(next(row for row in self.runs[-1].rows if row.learner_id == learner).findings)


@pytest.fixture(autouse=True)
def nothing_announced(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each test begins as a program that has heard of no own exercise."""
    monkeypatch.setattr(own_pools, "_announced", [])


@pytest.fixture(scope="module")
def prepared(tmp_path_factory: pytest.TempPathFactory) -> Prepared:
    """A class with the exercise handed out and everybody's logbooks, made once."""
    return prepare(tmp_path_factory.mktemp("hand"))


@pytest.fixture
def course(prepared: Prepared, tmp_path: Path) -> CourseRoot:
    """An own copy of that class, nothing handed in."""
    shutil.copytree(prepared.course.folder, tmp_path / "course")
    return at(tmp_path / "course")


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    """An empty folder in which hand-ins come."""
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick"


@pytest.fixture(scope="session")
def the_class(tmp_path_factory: pytest.TempPathFactory) -> TheClass:
    """The class after all its marking: nbgrader's own commands, our run, and nbgrader's own marking again."""
    home = tmp_path_factory.mktemp("class")
    names = (*HONEST, *HOSTILE)
    with Commands(home) as nbgrader:
        tickets = dict(zip(names, tickets_with_a_shut_valve(len(names)), strict=True))
        made = TheClass(make_class(home / "course", tickets), home, tickets, nbgrader)
        made.traces.mkdir()
        control_alone(made)
        enter_due_date(made.course, datetime.now(UTC) + timedelta(days=1))
        everybody_hands_in(made)
        made.runs.append(mark_course(made.course.folder, EXERCISE))
        made.note_marks("first")
        forget_what_was_worked_out(made)
        made.commands(f"autograde --force --student={AGAIN}")
        made.note_marks("nbgrader alone")
    return made


def forget_what_was_worked_out(made: TheClass) -> None:
    """Leave nbgrader's own command to work some out by itself; for the others it finds what our run has kept."""
    for name in FORGOTTEN:
        made.course.worked_out(EXERCISE, name).unlink()


def control_alone(made: TheClass) -> None:
    """One good learner goes all the way with nbgrader's own commands while nobody else has handed in."""
    made.learner_folder.parent.mkdir()
    made.commands("generate_assignment", "release_assignment", "learner:fetch_assignment")
    made.logbooks["control"] = work(made.learner_folder, made.tickets["control"], LOOKS + CURE)
    (made.learner_folder / NOTEBOOK).write_text(json.dumps(answered(made.learner_folder / NOTEBOOK)), encoding="utf-8")
    made.commands(
        "learner:submit --student=control",
        "collect",
        "autograde",
        "generate_feedback",
        "release_feedback",
        "learner:fetch_feedback",
    )
    made.control_alone = stored_marks(made.course, "control")


def everybody_hands_in(made: TheClass) -> None:
    """Everybody else hands in through the exchange, honest or not."""
    released = answered(made.course.release(EXERCISE))
    page = json.dumps(released).encode()
    for name in (*HONEST[1:-1], *HOSTILE):
        made.logbooks[name] = work(made.home / "work" / name, made.tickets[name])
    poor = work(made.home / "work" / "twice before", made.tickets["twice"], POOR)
    now = datetime.now(UTC)
    forged = {NOTEBOOK: page, LOGBOOK: poor}
    put_in_exchange(made.course, "twice", forged, now - timedelta(minutes=5), "first")
    for name in ("twice", "victim"):
        put_in_exchange(made.course, name, {NOTEBOOK: page, LOGBOOK: made.logbooks[name]}, now)
    for name, moment in (("late", now + timedelta(days=3)), ("back_dated", now - timedelta(days=3))):
        put_in_exchange(made.course, name, {NOTEBOOK: page, LOGBOOK: made.logbooks[name]}, moment)
    put_in_exchange(made.course, "victim", forged, now + timedelta(minutes=5), "forged")
    put_in_exchange(made.course, "nobody", forged)
    put_in_exchange(made.course, "victim", forged, "not a moment", "bad")
    for name, maker in HOSTILE.items():
        desk = Desk(copy.deepcopy(released), made.logbooks[name], made.course, made.traces)
        files = maker(desk)
        folder = put_in_exchange(made.course, name, files)
        for link, target in desk.links.items():
            (folder / link).symlink_to(target)
        made.handed_in[name] = files.get(LOGBOOK)
