"""What the grading tests share: an invented class, its logbooks, hand-ins, and nbgrader's own commands."""

from __future__ import annotations

import atexit
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import Self

from nbgrader.api import MissingEntry

import engine_sim
from engine_sim.attempt import Diagnosis, open_exercise
from engine_sim.classroom.course_root import CourseRoot, at
from engine_sim.classroom.gradebook import open_gradebook
from engine_sim.classroom.hand_in import logbook_name
from engine_sim.classroom.open_course import make_course_root
from engine_sim.classroom.roster import COLUMNS, Roster, write_roster
from engine_sim.classroom.teaching.hand_out import hand_out
from engine_sim.classroom.tidying import TIMESTAMP_FORM
from engine_sim.marking import MARK_NAMES, load_marking_scheme, mark_logbook
from engine_sim.scenarios import draw_scenario, new_ticket

Actions = tuple[tuple[str, str], ...]
"""What is done at the bench, in order: part and action of each."""

EXERCISE = "no_start_harbour"
NOTEBOOK = f"{EXERCISE}.ipynb"
LOGBOOK = logbook_name(EXERCISE)
ANSWER = (
    "Fit a label to the shut-off lever, because a hand can knock it. Rags & water < bowl go ashore in a closed tin."
)
# Work on a boat whose shut-off is shut: cheap looks that find it. It is quick to play again, as the engine never runs.
LOOKS = (("bench", "look_around"), ("stop_control", "look"), ("tank", "dip"), ("shut_off", "look"))
CURE = (("shut_off", "open"), ("starter", "crank_10"))
QUICK_SCHEME = {
    "start_tries": 1,
    "idle_minutes": 1,
    "cruise_minutes": 0,
    "standing_minutes": 0,
    "restart_idle_minutes": 1,
    "coach_share": 0,
}
POOR = (("starter", "crank_5"),)


@dataclass(frozen=True)
class Marks:
    """The marks that come from a logbook."""

    safety: float
    method: float
    diagnosis: float
    cure: float
    housekeeping: float

    @property
    def all(self) -> tuple[float, ...]:
        return tuple(getattr(self, name) for name in MARK_NAMES)

    @property
    def total(self) -> float:
        return sum(self.all)


NOTHING = Marks(*(0.0 for _ in MARK_NAMES))


def tickets_with_a_shut_valve(count: int) -> list[str]:
    """Return different tickets that all draw the shut shut-off and nothing else."""
    found: dict[str, None] = {}
    while len(found) < count:
        ticket = new_ticket()
        faults = draw_scenario(EXERCISE, ticket).faults
        if [fault.fault for fault in faults] == ["shut_valve"]:
            found[ticket] = None
    return list(found)


def work(folder: Path, ticket: str, actions: Actions = LOOKS) -> bytes:
    """Work an exercise as the bench does, in ``folder``, and return the logbook's bytes."""
    folder.mkdir(parents=True, exist_ok=True)
    with open_exercise(EXERCISE, ticket, folder) as opened:
        attempt = opened.attempt
        for part, action in actions:
            attempt.act(part, action)
        seen = [one.number for one in attempt.observations if one.part == "shut_off"]
        attempt.note("The shut-off stood across the pipe.")
        attempt.diagnose(Diagnosis("shut_off", "shut_valve", tuple(seen[:1])))
        attempt.hand_in()
    return (folder / LOGBOOK).read_bytes()


def marks_of(data: bytes | None, ticket: str, course: CourseRoot) -> Marks:
    """Return what a logbook earns, marked directly, beside nbgrader."""
    sheet = mark_logbook(data, EXERCISE, ticket, load_marking_scheme(course.scheme(EXERCISE)))
    return Marks(*(sheet.marks[name].score for name in MARK_NAMES))


@lru_cache(maxsize=1)
def bare_course_root() -> Path:
    """Return a course root made once by this process, to be copied: a new gradebook takes seconds."""
    folder = Path(tempfile.mkdtemp(prefix="course-root-")) / "course"
    atexit.register(shutil.rmtree, folder.parent)
    write_roster(at(folder).roster, Roster(COLUMNS, ()))
    return make_course_root(folder).course.folder


def make_class(folder: Path, tickets: dict[str, str], whole_test: bool = False) -> CourseRoot:
    """Make a course root whose roster gives each learner a ticket; ``whole_test`` keeps the engine test as shipped."""
    shutil.copytree(bare_course_root(), folder)
    rows = tuple(dict(zip(COLUMNS, (name, name.title(), "Invented", tickets[name]), strict=True)) for name in tickets)
    write_roster(at(folder).roster, Roster(COLUMNS, rows))
    course = make_course_root(folder).course
    if not whole_test:
        ask_less(course)
    return course


def class_that_handed_in(home: Path, tickets: dict[str, str], done: dict[str, Actions]) -> CourseRoot:
    """Make a class in ``home`` whose exercise is handed out, and handed in by each who has ``done`` something in it."""
    course = make_class(home / "course", tickets)
    hand_out(course, [EXERCISE])
    page = json.dumps(answered(course.release(EXERCISE))).encode()
    for name, actions in done.items():
        folder = course.submitted(name, EXERCISE)
        folder.mkdir(parents=True)
        (folder / LOGBOOK).write_bytes(work(home / name, tickets[name], actions))
        (folder / NOTEBOOK).write_bytes(page)
    return course


def ask_less(course: CourseRoot) -> None:
    """Ask less of the engine after hand-in, and not the coach, as an instructor may: these tests follow a mark."""
    scheme = course.scheme(EXERCISE)
    text = scheme.read_text("utf-8")
    for name, number in QUICK_SCHEME.items():
        text, changed = re.subn(rf"^{name} = [\d.]+", f"{name} = {number}", text, flags=re.MULTILINE)
        assert changed == 1, name
    scheme.write_text(text, encoding="utf-8")


class Commands:
    """A process that gives nbgrader's own commands for a person with an own home folder.

    It is kept for all the commands of a class, because starting one takes longer than most commands do.
    """

    def __init__(self, home: Path) -> None:
        self._process = subprocess.Popen(
            [sys.executable, str(Path(__file__).with_name("nbgrader_commands.py"))],
            env=environment(home),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def give(self, *commands: tuple[Path, tuple[str, ...]]) -> list[dict]:
        """Give commands one after the other, each in a folder; return what each said and its exit code."""
        self._process.stdin.write(json.dumps([[str(folder), words] for folder, words in commands]) + "\n")
        self._process.stdin.flush()
        return json.loads(self._process.stdout.readline())

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.communicate(timeout=60)


def environment(home: Path) -> dict[str, str]:
    """Return the environment for a process that stands for a person with an own home folder."""
    package = str(Path(engine_sim.__file__).resolve().parent.parent)
    kept = {name: value for name, value in os.environ.items() if not name.startswith("JUPYTER")}
    return {
        **kept,
        "HOME": str(home),
        "JUPYTER_CONFIG_DIR": str(home / "jupyter"),
        "JUPYTER_DATA_DIR": str(home / "data"),
        "JUPYTER_PREFER_ENV_PATH": "1",
        "TRAITLETS_APPLICATION_RAISE_CONFIG_FILE_ERROR": "1",
        "PYTHONPATH": os.pathsep.join(filter(None, (package, os.environ.get("PYTHONPATH", "")))),
    }


def answered(released: Path, answer: str = ANSWER) -> dict[str, object]:
    """Return the released notebook with a written answer in it."""
    notebook: dict[str, object] = json.loads(released.read_text("utf-8"))
    box(notebook, "ashore")["source"] = answer
    return notebook


def box(notebook: dict, name: str) -> dict:
    """Return the part of a notebook that carries a name for marking."""
    return next(cell for cell in notebook["cells"] if cell["metadata"].get("nbgrader", {}).get("grade_id") == name)


def put_in_exchange(
    course: CourseRoot,
    learner: str,
    files: dict[str, bytes],
    moment: datetime | str | None = None,
    mark: str = "aa",
) -> Path:
    """Hand in through the exchange as nbgrader's submit does, with any files at all."""
    stamp = moment if isinstance(moment, str) else (moment or datetime.now(UTC)).strftime(TIMESTAMP_FORM)
    folder = course.inbound / f"{learner}+{EXERCISE}+{stamp}+{mark}"
    folder.mkdir(parents=True)
    for name, data in {
        "timestamp.txt": stamp.encode(),
        "submission_secret.txt": os.urandom(32).hex().encode(),
        **files,
    }.items():
        (folder / name).write_bytes(data)
    return folder


def stored_marks(course: CourseRoot, learner: str) -> Marks | None:
    """Return a learner's marks as the gradebook holds them, or None where it holds none."""
    with open_gradebook(course) as gradebook:
        try:
            scores = {name: gradebook.find_grade(name, EXERCISE, EXERCISE, learner).score for name in MARK_NAMES}
        except MissingEntry:
            return None
    return Marks(**scores)


def enter_due_date(course: CourseRoot, moment: datetime) -> None:
    """Enter when the exercise is due, as the formgrader does."""
    with open_gradebook(course) as gradebook:
        gradebook.update_or_create_assignment(EXERCISE, duedate=moment.strftime(TIMESTAMP_FORM))
