"""How far a learner is: read from what lies in the learner's own folder, and nothing else is kept.

A lesson counts as worked through when something was done at each of its benches; an exercise's practice log says what
its attempts came to.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from engine_sim.attempt.practice_log import Practised, practised
from engine_sim.bench import ProgressPage, Seen
from engine_sim.classroom.course_plan import Exercise, Lesson, all_exercises, course_order, lessons_in

NOT_BEGUN, BEGUN, WORKED_THROUGH, HANDED_IN = "not begun", "begun", "worked through", "handed in"
LOGBOOK = ".logbook.jsonl"
_BENCHES = re.compile(r'\bbench\("(\w+)"\)')
_DONE, _HANDED_IN = '"kind":"action"', '"kind":"hand_in"'


@dataclass(frozen=True, slots=True)
class PageState:
    """One page of the course and how far it is; ``when`` is the last change of its files [s since 1970], 0 for none."""

    title: str
    page: str
    minutes: int
    state: str
    when: float
    practised: tuple[Practised, ...] = ()
    number: int = 0


@dataclass(frozen=True, slots=True)
class Progress:
    """All pages in the order of the course, and where to go on."""

    pages: tuple[PageState, ...]
    on: PageState | None

    @property
    def sentence(self) -> str:
        """Where to go on, in one sentence."""
        if self.on is None:
            return "You have worked through every page. Practise with fresh tickets, and on your own engine."
        again = "Go on where you stopped" if self.on.state == BEGUN else "Next"
        return f"{again}: {self.on.title}, about {self.on.minutes} minutes."


def progress_in(folder: Path) -> Progress:
    """Return how far the learner is whose copy of the course lies in ``folder``."""
    pages: list[PageState] = []
    for lesson, after in course_order(lessons_in(folder / "notebooks"), all_exercises()):
        pages.append(_lesson_state(folder, lesson))
        pages += [_exercise_state(folder, exercise) for exercise in after]
    return Progress(tuple(pages), _go_on(pages))


def _go_on(pages: list[PageState]) -> PageState | None:
    """Return the page that was worked at last and is not done, or else the first that is not begun."""
    begun = [page for page in pages if page.state == BEGUN]
    if begun:
        return max(begun, key=lambda page: page.when)
    return next((page for page in pages if page.state == NOT_BEGUN), None)


def _lesson_state(folder: Path, lesson: Lesson) -> PageState:
    benches = _benches_of(folder / lesson.page)
    logs = [folder / "notebooks" / f"{name}{LOGBOOK}" for name in benches]
    worked = [log for log in logs if _has(log, _DONE)]
    state = WORKED_THROUGH if worked and len(worked) == len(logs) else BEGUN if worked else NOT_BEGUN
    when = max((log.stat().st_mtime for log in worked), default=0.0)
    return PageState(lesson.title, lesson.page, lesson.minutes, state, when, number=lesson.number)


def _benches_of(page: Path) -> tuple[str, ...]:
    try:
        found: Mapping[str, list[Mapping[str, object]]] = json.loads(page.read_text("utf-8"))
        sources = ["".join(map(str, _lines(cell))) for cell in found["cells"] if cell.get("cell_type") == "code"]
    except (OSError, ValueError, KeyError, TypeError):
        return ()
    return tuple(dict.fromkeys(name for source in sources for name in _BENCHES.findall(source)))


def _lines(cell: Mapping[str, object]) -> list[object]:
    source = cell.get("source")
    return source if isinstance(source, list) else [source]


def _exercise_state(folder: Path, exercise: Exercise) -> PageState:
    place = folder / "exercises" / exercise.id
    log = place / f"{exercise.id}{LOGBOOK}"
    marks = practised(place, exercise.id)
    handed_in = bool(marks) or _has(log, _HANDED_IN)
    begun = _has(log, _DONE) or (exercise.pool is None and log.is_file())
    state = HANDED_IN if handed_in else BEGUN if begun else NOT_BEGUN
    when = log.stat().st_mtime if log.is_file() else 0.0
    return PageState(exercise.title, exercise.page, exercise.minutes, state, when, marks)


def _has(log: Path, what: str) -> bool:
    try:
        return what in log.read_text("utf-8", "replace")
    except OSError:
        return False


def as_rows(progress: Progress) -> list[dict[str, object]]:
    """Return the pages as the start page shows them."""
    return [
        {
            "title": f"{page.number}  {page.title}" if page.number else page.title,
            "lesson": bool(page.number),
            "page": page.page,
            "minutes": page.minutes,
            "state": page.state,
            "marks": [_mark_text(one) for one in page.practised],
        }
        for page in progress.pages
    ]


def _mark_text(one: Practised) -> str:
    return f"{one.at[:10]}: {one.points:g} of {one.most_points:g}{', passed' if one.passed else ''}"


def overview(folder: str | Path = "..") -> ProgressPage:
    """Return the overview for a page in the folder ``notebooks`` of a learner's copy; it looks anew when it is seen."""
    place = Path(folder).resolve()

    def look() -> Seen:
        found = progress_in(place)
        return found.sentence, found.on.page if found.on else "", as_rows(found)

    return ProgressPage(look)
