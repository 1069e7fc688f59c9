"""Sharing the dear part of marking out over the cores, so that one bad hand-in stops or changes no other.

Each helper is a process of its own, with one thread here that asks it for one hand-in after the other. A helper that
ends while it works, or takes too long, is ended and replaced; what it was working on becomes a finding.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from types import TracebackType
from typing import Self

import engine_sim
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.worked_out import HandedIn, give_up

MOST_HELPERS = 2  # the course counts on two cores; the one who writes the gradebook mostly waits for them
LONGEST_S = 600.0  # an evening's logbook takes seconds, the first one of a boat on a busy machine a minute or two
LAST_WORDS_LETTERS = 200
Command = Callable[[CourseRoot], Sequence[str]]


def helper_command(course: CourseRoot) -> Sequence[str]:
    """Return how a helper for a course root is started; ``-P``: nothing in the working folder is taken for ours."""
    return [sys.executable, "-P", "-m", "engine_sim.classroom.helper", str(course.folder)]


class Helper:
    """One helping process, started when it is first asked, and again after it ended."""

    def __init__(self, course: CourseRoot, command: Command = helper_command, longest_s: float = LONGEST_S) -> None:
        self._course, self._command, self._longest_s = course, command, longest_s
        self._process: subprocess.Popen[str] | None = None
        self._said = tempfile.TemporaryFile("w+", encoding="utf-8", errors="replace")  # noqa: SIM115 - closed in end()
        self._guard, self._ending = threading.Lock(), False

    def ask(self, learner: str, exercise: str) -> str:
        """Have a hand-in worked out; return why it could not be, or an empty text."""
        process = self._running()
        if process is None:
            return "the marking was stopped"
        line, late = json.dumps([learner, exercise]) + "\n", threading.Event()
        watch = threading.Timer(self._longest_s, _too_long, (process, late))
        watch.start()
        answer = _answer(process, line)
        watch.cancel()
        if answer == line:
            return ""
        self._process = None
        _reap(process)
        return f"it took longer than {self._longest_s:g} s" if late.is_set() else self._last_words(process)

    def kill(self) -> None:
        """End the process at once; it is not started again."""
        with self._guard:
            self._ending = True
            if self._process is not None:
                self._process.kill()

    def close(self) -> None:
        """Clear up after the process was killed and nobody asks it any more."""
        if self._process is not None:
            _reap(self._process)
        self._said.close()

    def _running(self) -> subprocess.Popen[str] | None:
        with self._guard:
            if self._process is None and not self._ending:
                self._process = self._start()
            return None if self._ending else self._process

    def _start(self) -> subprocess.Popen[str]:
        package = str(Path(engine_sim.__file__).resolve().parent.parent)
        path = os.pathsep.join(filter(None, (package, os.environ.get("PYTHONPATH", ""))))
        return subprocess.Popen(
            self._command(self._course),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=self._said,
            text=True,
            encoding="utf-8",
            env={**os.environ, "PYTHONPATH": path},
        )

    def _last_words(self, process: subprocess.Popen[str]) -> str:
        self._said.seek(0)
        lines = [line.strip() for line in self._said if line.strip()]
        self._said.seek(0)
        self._said.truncate()
        said = f", saying: {lines[-1][:LAST_WORDS_LETTERS]}" if lines else ""
        return f"the process that marked it ended by itself ({process.returncode}{said})"


def _answer(process: subprocess.Popen[str], line: str) -> str:
    """Return what a helper answers to a line; nothing where it ended."""
    assert process.stdin is not None and process.stdout is not None
    try:
        process.stdin.write(line)
        process.stdin.flush()
    except OSError:
        return ""
    return process.stdout.readline()


def _too_long(process: subprocess.Popen[str], late: threading.Event) -> None:
    late.set()
    process.kill()


def _reap(process: subprocess.Popen[str]) -> None:
    process.kill()
    process.communicate()


class Helpers:
    """All helpers of one marking run; leave the ``with`` block and they are gone."""

    def __init__(self, course: CourseRoot, command: Command = helper_command, longest_s: float = LONGEST_S) -> None:
        count = max(1, min(MOST_HELPERS, os.cpu_count() or 1))
        self._course, self._leaving = course, False
        self._all = [Helper(course, command, longest_s) for _ in range(count)]
        self._free = list(self._all)
        self._threads = ThreadPoolExecutor(count, "fuelcourse-helper")

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._leaving = True
        for helper in self._all:
            helper.kill()
        self._threads.shutdown(wait=True, cancel_futures=True)
        for helper in self._all:
            helper.close()

    def start(self, handed_in: HandedIn) -> Future[None]:
        """Begin to work a hand-in out as soon as a helper is free; done when its result is kept in the course root."""
        return self._threads.submit(self._work_out, handed_in)

    def _work_out(self, handed_in: HandedIn) -> None:
        helper = self._free.pop()
        trouble = helper.ask(handed_in.learner, handed_in.exercise)
        self._free.append(helper)
        if trouble and not self._leaving:
            give_up(self._course, handed_in, trouble)
