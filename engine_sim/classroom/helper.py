"""The helper: another process that works out one hand-in after the other, as it is asked line by line.

A line in names a learner and an exercise; the line out, when the result is kept, repeats it. The helper ends with its
asker, and leaves Ctrl+C to it.
"""

from __future__ import annotations

import contextlib
import json
import signal
import sys
from typing import TextIO

from engine_sim.classroom.course_root import at
from engine_sim.classroom.worked_out import look_at, work_out


def help_out(folder: str, asked: TextIO, answers: TextIO) -> None:
    """Work out what is asked for in the course root ``folder`` until the asking ends."""
    course = at(folder)
    for line in asked:
        learner, exercise = json.loads(line)
        work_out(course, look_at(course, learner, exercise))
        answers.write(line)
        answers.flush()


def main() -> None:
    """Do what is asked on standard input; nothing but answers goes to standard output."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    answers = sys.stdout
    with contextlib.redirect_stdout(sys.stderr):
        help_out(sys.argv[1], sys.stdin, answers)


if __name__ == "__main__":
    main()
