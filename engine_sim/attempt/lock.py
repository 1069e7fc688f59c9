"""A lock on a file that the system lets go of when the process that holds it ends, however it ends."""

from __future__ import annotations

import os
from pathlib import Path


class FileLock:
    """Held by at most one process. Where the system has no such locks (a browser), there is only one process anyway."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._file: int | None = None

    def acquire(self) -> bool:
        """Take the lock; return False if another process holds it."""
        file = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o600)
        if not _lock(file):
            os.close(file)
            return False
        self._file = file
        return True

    def release(self) -> None:
        """Let the lock go."""
        if self._file is not None:
            os.close(self._file)
            self._file = None


def _lock(file: int) -> bool:
    """Lock an open file without waiting; return False if it is held elsewhere."""
    try:
        import fcntl
    except ImportError:
        return _lock_elsewhere(file)
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _lock_elsewhere(file: int) -> bool:
    """Do the same where the first kind of lock does not exist."""
    try:
        import msvcrt
    except ImportError:
        return True
    try:
        msvcrt.locking(file, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
    except OSError:
        return False
    return True
