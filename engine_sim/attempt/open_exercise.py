"""Opens an exercise in a folder: replays its logbook, holds it, and writes each step to disk before it is shown."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from types import TracebackType

from engine_sim.attempt.attempt import Attempt
from engine_sim.attempt.lock import FileLock
from engine_sim.attempt.logbook import header_record, line_of, read_logbook, step_record
from engine_sim.attempt.records import Step
from engine_sim.attempt.replay import replay
from engine_sim.errors import LogbookError, LogbookInUse
from engine_sim.scenarios import draw_scenario

SUFFIX = ".logbook.jsonl"

_open: dict[Path, OpenExercise] = {}


class OpenExercise:
    """An attempt that is kept in a logbook. Use it as a context, or call :meth:`close`."""

    def __init__(self, exercise: str, ticket: str, folder: Path, lock: FileLock | None) -> None:
        self.logbook_path = folder / f"{exercise}{SUFFIX}"
        self._lock = lock
        self._notices: list[str] = []
        scenario = draw_scenario(exercise, ticket)
        data = self.logbook_path.read_bytes() if self.logbook_path.exists() else b""
        if not data:
            self.attempt = Attempt(scenario)
            self._digest = str(header_record(scenario)["digest"])
            self._size = 0
            self._append(header_record(scenario))
        else:
            self._resume(exercise, ticket, data)
        if lock is not None:
            self.attempt.keep_with(self._keep)

    def _resume(self, exercise: str, ticket: str, data: bytes) -> None:
        """Stand where the learner left off; what cannot be followed is set aside, never thrown away."""
        scenario = draw_scenario(exercise, ticket)
        reading = read_logbook(data)
        done = replay(reading, scenario)
        self.attempt, self._digest = done.attempt, done.last_digest
        sound = b"".join(data.splitlines(keepends=True)[: done.marked_up_to_line])
        self._size = len(data)
        if len(sound) != len(data):
            kept = self._set_aside(data)
            self._notices += [*done.findings, f"Your work up to there stands. The whole old logbook is kept as {kept}."]
            self._rewrite(sound)
        if done.marked_up_to_line == 0:
            self._digest = str(header_record(scenario)["digest"])
            self._append(header_record(scenario))

    @property
    def notices(self) -> tuple[str, ...]:
        """What the learner should be told about the logbook, if anything."""
        return tuple(self._notices)

    @property
    def writes(self) -> bool:
        """Tell whether steps are written to disk."""
        return self._lock is not None

    def logbook_bytes(self) -> bytes:
        """Return the logbook as it stands on disk."""
        return self.logbook_path.read_bytes() if self.logbook_path.exists() else b""

    def close(self) -> None:
        """Let go of the logbook."""
        self.attempt.keep_with(None)
        _open.pop(self.logbook_path, None)
        if self._lock is not None:
            self._lock.release()
            self._lock = None

    def __enter__(self) -> OpenExercise:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _keep(self, step: Step) -> None:
        record = step_record(step, self._digest)
        self._append(record)
        self._digest = str(record["digest"])

    def _append(self, record: Mapping[str, object]) -> None:
        """Write a record and bring it to disk; refuse if another hand has changed the file meanwhile."""
        if self._lock is None:
            return
        size = self.logbook_path.stat().st_size if self.logbook_path.exists() else 0
        if size != self._size:
            raise LogbookInUse(
                f"{self.logbook_path.name} was changed by another window (it has {size} bytes, not {self._size}). "
                "Close the other window and open this exercise again."
            )
        line = line_of(record)
        with self.logbook_path.open("ab") as file:
            file.write(line)
            file.flush()
            os.fsync(file.fileno())
        self._size += len(line)

    def _set_aside(self, data: bytes) -> str:
        for number in range(1, 1000):
            path = self.logbook_path.with_name(f"{self.logbook_path.name}.set-aside-{number}")
            if self._lock is None:
                return path.name
            if not path.exists():
                path.write_bytes(data)
                return path.name
        raise LogbookError(f"There are too many set-aside logbooks beside {self.logbook_path.name}; move some away.")

    def _rewrite(self, data: bytes) -> None:
        if self._lock is None:
            return
        draft = self.logbook_path.with_name(f"{self.logbook_path.name}.new")
        draft.write_bytes(data)
        os.replace(draft, self.logbook_path)
        self._size = len(data)


def open_exercise(exercise: str, ticket: str, folder: str | Path = ".") -> OpenExercise:
    """Open an exercise in a folder and hold its logbook.

    The same process asking again gets the same one. Raises LogbookInUse when another process holds it, UnknownName or
    BadTicket for what does not exist. While work is being marked nothing is written.
    """
    draw_scenario(exercise, ticket)
    path = Path(folder).resolve() / f"{exercise}{SUFFIX}"
    if path in _open:
        return _open[path]
    if os.environ.get("NBGRADER_EXECUTION") == "autograde":
        return OpenExercise(exercise, ticket, path.parent, None)
    lock = FileLock(path.with_name(f".{path.name}.lock"))
    if not lock.acquire():
        raise LogbookInUse(f"{path.name} is open in another window. Close that window, then try again here.")
    try:
        opened = OpenExercise(exercise, ticket, path.parent, lock)
    except BaseException:
        lock.release()
        raise
    _open[path] = opened
    return opened
