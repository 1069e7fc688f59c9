"""What the parts of marking cost, in this one process: the coach's analysis, and the share of each stage."""

from __future__ import annotations

import cProfile
import pstats
import time
from pathlib import Path

from boats import SCHEME, boat
from class_of import SOUND, logbook, played
from timing import median_s

from engine_sim.marking import feedback_html, mark_logbook, page_html
from engine_sim.marking.coach import analyse
from engine_sim.marking.marksheet import MarkSheet

Row = tuple[str, str, str]
FAULT, PART = "slack_joint", "separator_joint"
QUARTER_S = 900.0
# Each stage is one function, by its file and name; what it calls counts with it.
STAGES = (
    ("reading and playing the logbook", "replay.py", "replay"),
    ("what told, and the diagnosis", "mark.py", "tell_and_diagnose"),
    ("the coach", "analysis.py", "analyse"),
    ("the engine test, cure and housekeeping", "mark.py", "cure_and_housekeeping"),
    ("safety", "safety.py", "mark_safety"),
    ("method", "method.py", "mark_method"),
    ("the page over all", "feedback.py", "page_html"),
    ("the reasons", "feedback.py", "feedback_html"),
)


def coach_rows() -> list[Row]:
    """Time the coach's analysis of a quarter of an hour's work, for the first learner of a boat and for the next."""
    scenario = boat(FAULT, PART)
    steps = [step for step in played(scenario, SOUND) if step.clock_s <= QUARTER_S]
    began = time.process_time()
    analyse(scenario, steps)
    first = time.process_time() - began
    again = median_s(lambda: steps, lambda some: analyse(scenario, some), 3)
    what = f"{len(steps)} steps in {steps[-1].clock_s / 60.0:.0f} min"
    return [
        (f"analysis of {what}, the first of a boat", f"{first:.1f} s of processor", "wanted: under 10"),
        ("  the next on the same boat", f"{again:.2f} s", ""),
    ]


def mark(data: bytes, ticket: str) -> MarkSheet:
    """Mark a logbook and write all its pages."""
    sheet = mark_logbook(data, SCHEME.exercise, ticket, SCHEME)
    page_html(sheet)
    for name in sheet.marks:
        feedback_html(sheet, name)
    return sheet


def stages() -> list[Row]:
    """Return the share of each stage when a logbook is marked on a boat that was marked before."""
    scenario = boat(FAULT, PART)
    data = logbook(scenario, played(scenario, SOUND))
    taken = median_s(lambda: data, lambda one: mark(one, scenario.ticket), 3)
    profile = cProfile.Profile()
    profile.runcall(mark, data, scenario.ticket)
    found = pstats.Stats(profile)
    whole = found.total_tt  # type: ignore[attr-defined]
    rows = [("one logbook with its pages, without nbgrader", f"{taken:.2f} s", "the shares are with a profiler on")]
    return rows + [(f"  {name}", f"{share(found, file, function) / whole:.0%}", "") for name, file, function in STAGES]


def share(found: pstats.Stats, file: str, function: str) -> float:
    """Return the time [s] spent in a function and what it calls."""
    timed = found.stats.items()  # type: ignore[attr-defined]
    return max((row[3] for (path, _, name), row in timed if Path(path).name == file and name == function), default=0.0)
