"""Putting one hand-in where marking finds it; what lies there is replaced by something better only, and kept aside."""

from __future__ import annotations

import os
import shutil
from datetime import datetime
from pathlib import Path

from engine_sim.attempt import read_logbook
from engine_sim.classroom.course_root import CannotWrite, CourseRoot, make_folder, write_file
from engine_sim.classroom.hand_in import (
    LOGBOOK_LIMIT_BYTES,
    NOTEBOOK_LIMIT_BYTES,
    is_plain_folder,
    logbook_name,
    logbook_ticket,
    read_plain_file,
)
from engine_sim.classroom.intake import has_ticket_of
from engine_sim.classroom.moments import parse_timestamp
from engine_sim.classroom.teaching.receipts import Taken
from engine_sim.classroom.teaching.work_that_came import Came
from engine_sim.classroom.tidying import TIMESTAMP, TIMESTAMP_FORM, add_reason, forget_reasons, tidy


def put_in(course: CourseRoot, work: Came, moment: datetime, aside: Path) -> Taken | str:
    """Put a hand-in in its place, dated ``moment`` [UTC]; return what was done, or why what lies there is better.

    What it replaces is kept under ``aside``. Raises :class:`CannotWrite` where the disk refuses; what was there before
    is there still.
    """
    here = course.submitted(work.learner.learner_id, work.exercise)
    bring_back(here)
    if not os.path.lexists(here):
        _place(course, work, moment)
        return _taken(work, new=True, replaced=False)
    reason = why_not_better(course, work, here)
    if reason is None:
        tidy(course, work.learner.learner_id, work.exercise)
        return _taken(work, new=False, replaced=False)
    if reason:
        return reason
    keep_aside(here, aside, work)
    _place(course, work, moment)
    return _taken(work, new=True, replaced=True)


def _taken(work: Came, new: bool, replaced: bool) -> Taken:
    page, place = work.page is not None, work.logbook.place
    whose = (work.learner.learner_id, work.name, work.exercise)
    return Taken(*whose, work.deeds, work.handed_in, page, place, new, replaced, work.remarks())


def why_not_better(course: CourseRoot, work: Came, here: Path) -> str | None:
    """Return why a hand-in stays behind what lies here: empty where it is better, None where it is the same."""
    if not is_plain_folder(here):
        return ""
    name, page_name = logbook_name(work.exercise), f"{work.exercise}.ipynb"
    before = read_plain_file(here / name, LOGBOOK_LIMIT_BYTES)
    if isinstance(before, str) or not has_ticket_of(logbook_ticket(before), work.learner):
        return ""
    page = read_plain_file(here / page_name, NOTEBOOK_LIMIT_BYTES)
    if before == work.logbook.data:
        if work.page_data is None or work.page_data == page:
            return None
        if is_blank(course, work.exercise, page) or is_newer(work, here):
            return ""
        return "has the same logbook as what is here already, and an older page"
    lines_here, lines_now = len(read_logbook(before).records), len(work.reading.records)
    if lines_now != lines_here:
        shorter = f"has a shorter logbook ({lines_now} lines) than what is here already ({lines_here})"
        return "" if lines_now > lines_here else shorter
    return "" if is_newer(work, here) else "is as long as what is here already, and older"


def is_newer(work: Came, here: Path) -> bool:
    """Say whether the work's files are dated after the moment at which what lies here was taken in."""
    stamp = read_plain_file(here / TIMESTAMP, 200)
    before = None if isinstance(stamp, str) else parse_timestamp(stamp.decode("utf-8", "replace"))
    return before is None or work.moment > before


def is_blank(course: CourseRoot, exercise: str, page: bytes | str) -> bool:
    """Say whether a page in a hand-in is missing, or the blank one that stood in for a missing one."""
    if isinstance(page, str):
        return True
    return read_plain_file(course.release(exercise), NOTEBOOK_LIMIT_BYTES) == page


def bring_back(here: Path) -> None:
    """Put back what a program that was killed in the middle of a replacement had moved out of the way."""
    old = here.with_name(f".{here.name}.old")
    if old.is_dir() and not os.path.lexists(here):
        os.rename(old, here)


def keep_aside(here: Path, aside: Path, work: Came) -> None:
    """Keep a copy of what is about to be replaced; links in it stay unread."""
    label = f"before-{work.learner.learner_id}-{work.exercise}"
    files = sorted(here.iterdir()) if is_plain_folder(here) else []
    for entry in files:
        data = read_plain_file(entry, NOTEBOOK_LIMIT_BYTES)
        if isinstance(data, bytes):
            write_file(aside / f"{label}-{entry.name}", data)
    why = "what was here before a better hand-in took its place"
    add_reason(aside, f"{label}: {work.learner.learner_id}: {why}")


def _place(course: CourseRoot, work: Came, moment: datetime) -> None:
    """Write the hand-in beside its place, whole, and then put it there."""
    here = course.submitted(work.learner.learner_id, work.exercise)
    new, old = here.with_name(f".{here.name}.new"), here.with_name(f".{here.name}.old")
    try:
        make_folder(here.parent)
        for left_over in (new, old):
            shutil.rmtree(left_over, ignore_errors=True)
        make_folder(new)
        write_file(new / logbook_name(work.exercise), work.logbook.data or b"")
        if work.page_data is not None:
            write_file(new / f"{work.exercise}.ipynb", work.page_data)
        write_file(new / TIMESTAMP, moment.strftime(TIMESTAMP_FORM).encode())
        if os.path.lexists(here):
            os.rename(here, old)
        os.rename(new, here)
        _clear(old)
    except OSError as problem:
        bring_back(here)
        raise CannotWrite(here, problem) from problem
    forget_reasons(course.set_aside(work.exercise, work.learner.learner_id))
    tidy(course, work.learner.learner_id, work.exercise)


def _clear(old: Path) -> None:
    """Remove what was replaced, of which a copy is kept; a link alone is removed as a link."""
    if old.is_symlink():
        old.unlink()
    else:
        shutil.rmtree(old, ignore_errors=True)
