"""Making a handed-in folder safe to copy from and complete, and keeping what was found while doing so."""

from __future__ import annotations

import os
import secrets
import stat
from datetime import UTC, datetime
from pathlib import Path

from engine_sim.classroom.course_root import CourseRoot, make_folder, write_file
from engine_sim.classroom.hand_in import (
    LOGBOOK_LIMIT_BYTES,
    NOTEBOOK_LIMIT_BYTES,
    is_plain_folder,
    logbook_name,
    read_plain_file,
)
from engine_sim.classroom.moments import is_timestamp

OTHER_LIMIT_BYTES = 1_000_000
TIMESTAMP = "timestamp.txt"
SECRET = "submission_secret.txt"
TIMESTAMP_FORM = "%Y-%m-%d %H:%M:%S.%f UTC"
LEFT_ALONE = (".ipynb_checkpoints", "feedback")
WHY = "why.txt"


def tidy(course: CourseRoot, learner: str, exercise: str) -> None:
    """Move what must not be copied or followed out of a handed-in folder, and complete it.

    Nothing is deleted: links, folders and the oversized go to ``set_aside/``, with the reason beside them.
    A missing notebook is replaced by a blank one, so that nbgrader can carry the marks of the logbook.
    """
    folder = course.submitted(learner, exercise)
    if not is_plain_folder(folder):
        return
    aside = course.set_aside(exercise, learner)
    for entry in sorted(folder.iterdir()):
        reason = why_not_kept(entry, limit_of(entry.name, exercise))
        if reason:
            move_aside(entry, aside)
            add_reason(aside, f"{entry.name} {reason}; it was set aside and not read")
    notebook = folder / f"{exercise}.ipynb"
    if not os.path.lexists(notebook) and course.release(exercise).is_file():
        write_file(notebook, course.release(exercise).read_bytes())
        add_reason(aside, "no notebook was there to read; a blank one stands in for it, and the logbook was marked")
    add_small_files(folder)


def limit_of(name: str, exercise: str) -> int:
    """Return the most that a file of this name may hold [bytes]."""
    limits = {logbook_name(exercise): LOGBOOK_LIMIT_BYTES, f"{exercise}.ipynb": NOTEBOOK_LIMIT_BYTES}
    return limits.get(name, OTHER_LIMIT_BYTES)


def why_not_kept(entry: Path, limit_bytes: int) -> str:
    """Return the reason why something cannot stay in a handed-in folder, or an empty text."""
    found = os.lstat(entry)
    if stat.S_ISDIR(found.st_mode):
        return "" if entry.name in LEFT_ALONE else "is a folder"
    if not stat.S_ISREG(found.st_mode):
        return "is a link or something else than a file"
    return f"is larger than {limit_bytes / 1e6:g} MB" if found.st_size > limit_bytes else ""


def move_aside(entry: Path, aside: Path) -> None:
    """Move something to ``aside`` under a name that is free there."""
    make_folder(aside)
    target, number = aside / entry.name, 1
    while os.path.lexists(target):
        number += 1
        target = aside / f"{entry.name}.{number}"
    os.rename(entry, target)


def add_small_files(folder: Path) -> None:
    """Give a hand-in the two small files that nbgrader wants beside it, where they are missing or not sound."""
    if not is_timestamp(read_plain_file(folder / TIMESTAMP, 200)):
        write_file(folder / TIMESTAMP, datetime.now(UTC).strftime(TIMESTAMP_FORM).encode())
    secret = read_plain_file(folder / SECRET, 1_000)
    if isinstance(secret, str) or len(secret) < 16 or not secret.isalnum():
        write_file(folder / SECRET, secrets.token_hex(64).encode())


def add_reason(aside: Path, reason: str) -> None:
    """Keep a reason beside what was set aside, once."""
    kept = read_reasons(aside)
    if reason not in kept:
        write_file(aside / WHY, "".join(f"{line}\n" for line in (*kept, reason)).encode("utf-8"))


def read_reasons(aside: Path) -> tuple[str, ...]:
    """Return the reasons kept since the hand-in came."""
    place = aside / WHY
    return tuple(place.read_text(encoding="utf-8").splitlines()) if place.is_file() else ()


def forget_reasons(aside: Path) -> None:
    """Begin anew when another hand-in takes the place of the one before; what was set aside stays."""
    (aside / WHY).unlink(missing_ok=True)
