"""Where things lie in a course root: the folder that an instructor keeps one class in."""

from __future__ import annotations

import contextlib
import errno
import os
from dataclasses import dataclass
from pathlib import Path

from engine_sim.errors import EngineSimError

COURSE_ID = "fuelcourse"
PRIVATE_FOLDER = 0o700
PRIVATE_FILE = 0o600
WHY_NOT_WRITTEN = {
    errno.ENOSPC: "the disk is full",
    errno.EROFS: "the disk can only be read",
    errno.EACCES: "you may not write there",
    errno.EPERM: "you may not write there",
    errno.EEXIST: "a file stands where a folder should be",
    errno.ENOTDIR: "a file stands where a folder should be",
}


class ClassroomError(EngineSimError):
    """Something in a course root is missing or cannot be used."""


@dataclass(frozen=True, slots=True)
class CourseRoot:
    """The places in one course root; ``folder`` is absolute."""

    folder: Path

    @property
    def config(self) -> Path:
        """The nbgrader configuration."""
        return self.folder / "nbgrader_config.py"

    @property
    def roster(self) -> Path:
        """Who is in the class, and who has which ticket."""
        return self.folder / "roster.csv"

    @property
    def gradebook(self) -> Path:
        """The database with the marks."""
        return self.folder / "gradebook.db"

    @property
    def exchange(self) -> Path:
        """The folder through which exercises go out and hand-ins come back."""
        return self.folder / "exchange"

    @property
    def inbound(self) -> Path:
        """Where hand-ins arrive in the exchange."""
        return self.exchange / COURSE_ID / "inbound"

    def source(self, exercise: str) -> Path:
        """The notebook of an exercise as its author wrote it."""
        return self.folder / "source" / exercise / f"{exercise}.ipynb"

    def release(self, exercise: str) -> Path:
        """The notebook of an exercise as learners get it."""
        return self.folder / "release" / exercise / f"{exercise}.ipynb"

    def submitted(self, learner: str, exercise: str) -> Path:
        """The folder that a learner handed in."""
        return self.folder / "submitted" / learner / exercise

    def handed_in(self, exercise: str) -> list[str]:
        """The names under which something was handed in of an exercise."""
        return sorted(place.parent.name for place in (self.folder / "submitted").glob(f"[!.]*/{exercise}"))

    def autograded(self, learner: str, exercise: str) -> Path:
        """The folder with a learner's marked copy."""
        return self.folder / "autograded" / learner / exercise

    def feedback_page(self, learner: str, exercise: str) -> Path:
        """The page that tells a learner why."""
        return self.folder / "feedback" / learner / exercise / f"{exercise}.html"

    def scheme(self, exercise: str) -> Path:
        """The marking scheme of an exercise: its own where there is one, else the usual one."""
        own = self.own_scheme(exercise)
        return own if own.is_file() else self.usual_scheme

    def own_scheme(self, exercise: str) -> Path:
        """Where the marking scheme of one exercise alone is kept, where it has one."""
        return self.folder / "marking" / f"{exercise}.toml"

    @property
    def usual_scheme(self) -> Path:
        """The marking scheme of every exercise that has none of its own."""
        return self.folder / "marking" / "usual.toml"

    def packed(self, exercise: str) -> Path:
        """An exercise packed for learners, to be sent or put on a stick."""
        return self.folder / "hand_out" / f"{exercise}.zip"

    def set_aside(self, exercise: str, learner: str) -> Path:
        """Where parts of a hand-in go that must not be opened; nothing is deleted."""
        return self.folder / "set_aside" / exercise / learner

    def worked_out(self, exercise: str, learner: str) -> Path:
        """What the logbook of a hand-in came to, kept so that a marking run that was stopped goes on from there."""
        return self.folder / "worked_out" / exercise / f"{learner}.json"

    def intake_findings(self, exercise: str) -> Path:
        """What was noticed while collecting."""
        return self.folder / "findings" / f"{exercise}.collected.json"

    def findings(self, exercise: str) -> Path:
        """What an instructor should look at after marking."""
        return self.folder / "findings" / f"{exercise}.csv"


def at(folder: str | Path) -> CourseRoot:
    """Return the places of the course root at ``folder``, whether it exists or not."""
    return CourseRoot(Path(os.path.abspath(Path(folder).expanduser())))


def find_course_root(folder: str | Path) -> CourseRoot:
    """Return the course root at ``folder``, or raise :class:`ClassroomError` when none is there."""
    root = at(folder)
    missing = [place.name for place in (root.config, root.roster) if not place.is_file()]
    if missing:
        raise ClassroomError(
            f"{root.folder} is not the folder of a class: {' and '.join(missing)} missing. "
            f"Make one, or add what is missing, with: fuelcourse teach {root.folder}"
        )
    return root


def make_folder(folder: Path) -> None:
    """Make a folder, and those above it that are missing, for its owner only."""
    if folder.is_dir():
        return
    make_folder(folder.parent)
    folder.mkdir(mode=PRIVATE_FOLDER, exist_ok=True)


def why_not_written(problem: OSError) -> str:
    """Return in plain words why the disk did not take something."""
    return WHY_NOT_WRITTEN.get(problem.errno or 0, problem.strerror or str(problem))


class CannotWrite(ClassroomError):
    """The disk did not take a file; what was there before is whole."""

    def __init__(self, place: Path, problem: OSError) -> None:
        super().__init__(
            f"{place} could not be written: {why_not_written(problem)}. What was there before is unchanged. "
            "Mend that, then do this again: nothing that was done is lost."
        )


def write_file(place: Path, data: bytes) -> None:
    """Write a file for its owner only, whole or not at all; raises :class:`CannotWrite` where the disk refuses."""
    new = place.with_name(f".{place.name}.{os.getpid()}.new")
    try:
        make_folder(place.parent)
        write_new(new, data)
        os.replace(new, place)
    except OSError as problem:
        with contextlib.suppress(OSError):
            new.unlink(missing_ok=True)
        raise CannotWrite(place, problem) from problem


def write_new(new: Path, data: bytes) -> None:
    """Write a draft of a file and bring it to disk."""
    descriptor = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, PRIVATE_FILE)
    with os.fdopen(descriptor, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
