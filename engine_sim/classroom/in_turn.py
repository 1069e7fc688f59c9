"""One hand at a time in a class's folder: two programs that mark, change or collect take turns and lose nothing."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager

from engine_sim.attempt.lock import FileLock
from engine_sim.classroom.course_root import ClassroomError, CourseRoot, why_not_written

LOCK = ".in_turn.lock"
WAIT_S = 90.0
"""How long another program is waited for: it holds the folder for one learner's marks at a time, mostly far below."""
LOOK_EVERY_S, MAKE_ROOM_S = 0.002, 0.005


class FolderBusy(ClassroomError):
    """Another program was at work in the class's folder all the time that was waited."""


@contextmanager
def in_turn(course: CourseRoot, wait_s: float | None = None) -> Iterator[None]:
    """Have the class's folder for this program alone while the block lasts.

    Waits up to ``wait_s`` [s] (None: the usual time) for another program, then raises :class:`FolderBusy`. A program
    that was killed holds nothing. After the block others who wait come first.
    """
    lock = FileLock(course.folder / LOCK)
    longest_s = WAIT_S if wait_s is None else wait_s
    until_s = time.monotonic() + longest_s
    while not _taken(course, lock):
        if time.monotonic() > until_s:
            raise FolderBusy(
                f"Another program is at work in {course.folder}, and was still after {longest_s:g} seconds. "
                "Nothing was changed. Wait until it has finished, or stop it, and do this again."
            )
        time.sleep(LOOK_EVERY_S)
    try:
        yield
    finally:
        lock.release()
        time.sleep(MAKE_ROOM_S)


def _taken(course: CourseRoot, lock: FileLock) -> bool:
    try:
        return lock.acquire()
    except OSError as problem:
        raise ClassroomError(
            f"Nothing can be written in {course.folder}: {why_not_written(problem)}. Nothing was changed. "
            "See that the folder may be written, and do this again."
        ) from problem
