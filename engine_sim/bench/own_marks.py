"""Marks at once for who practises: the learner's own attempt, marked at the bench by the usual scheme.

Never for an instructor's ticket: those marks come from the instructor, after the hand-in.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from engine_sim.attempt import Attempt
from engine_sim.attempt.practice_log import Practised, keep_practised
from engine_sim.bench import marking_words as words
from engine_sim.bench.shelf import KnownTicket
from engine_sim.errors import SolverFailed
from engine_sim.marking import TITLES, MarkSheet, default_scheme, feedback_html, mark_attempt, page_html
from engine_sim.marking.coach import analyse
from engine_sim.marking.coach.keeping import own_cache_folder

Progress = Callable[[str], None]
"""Told in words what is being done now."""


def may_be_marked(attempt: Attempt, ticket: KnownTicket) -> bool:
    """Say whether the bench may mark: only practice, only what is handed in, only where something was wrong."""
    return ticket.practice and attempt.handed_in and bool(attempt.scenario.faults)


def marked(attempt: Attempt, folder: Path, progress: Progress) -> dict[str, object]:
    """Return the marks of an attempt as data for the page, and keep them in the practice log in ``folder``.

    It says in words how far it is.

    The same data always comes from the same attempt. What cannot be played to its end is said in words.
    """
    scenario = attempt.scenario
    try:
        progress(words.TELLS["thinking"])
        analyse(scenario, (), own_cache_folder())
        progress(words.TELLS["playing"])
        sheet = mark_attempt(scenario, attempt.steps, attempt.diagnosis, default_scheme(), keep_in=own_cache_folder())
    except SolverFailed:
        return {"verdict": words.TELLS["not_marked"], "rows": [], "pages": []}
    progress(words.TELLS["writing"])
    result = Practised(now_text(), scenario.ticket, sheet.score, sheet.maximum, sheet.passed)
    keep_practised(folder, scenario.exercise, result)
    return as_data(sheet)


def now_text() -> str:
    """Return the date and the time of this computer, for the practice log."""
    return datetime.now().astimezone().isoformat(timespec="minutes")


def as_data(sheet: MarkSheet) -> dict[str, object]:
    """Return a sheet as the page shows it: whether passed, a row for each mark, and the pages with the reasons."""
    rows = [[TITLES[name], words.points(mark.score, mark.maximum)] for name, mark in sheet.marks.items()]
    rows.append([words.TELLS["together"], words.points(sheet.score, sheet.maximum)])
    return {
        "verdict": words.TELLS["passed" if sheet.passed else "not_passed"],
        "rows": rows,
        "pages": [page_html(sheet), *(feedback_html(sheet, name) for name in sheet.marks)],
    }
